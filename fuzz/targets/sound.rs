#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::sound(bytes, readers::scratch()));
