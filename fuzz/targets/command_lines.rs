#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::command_lines(bytes, readers::scratch()));
