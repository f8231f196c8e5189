#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::pack_names(bytes, readers::scratch()));
