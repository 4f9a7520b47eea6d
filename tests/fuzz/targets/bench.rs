//! What must hold stands in `holds/bench.rs`.
#![no_main]

#[path = "../holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|text: &str| holds::bench::holds(text));
