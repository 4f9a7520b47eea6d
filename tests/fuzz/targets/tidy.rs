//! What must hold stands in `holds/tidy.rs`.
#![no_main]

#[path = "../holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|text: &str| holds::tidy::holds(text));
