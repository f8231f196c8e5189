#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::page_requests(bytes, readers::scratch()));
