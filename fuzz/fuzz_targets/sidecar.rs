//! Sidecars: any bytes are read or refused.
#![no_main]

#[path = "../../tests/it/mangled/entries.rs"]
#[allow(dead_code)]
mod entries;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    entries::sidecar(bytes);
});
