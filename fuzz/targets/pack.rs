#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::pack(bytes, readers::scratch()));
