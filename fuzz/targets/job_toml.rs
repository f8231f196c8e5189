#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| readers::job_toml(bytes, readers::scratch()));
