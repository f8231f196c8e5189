#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::kept_ranking(bytes, readers::scratch()));
