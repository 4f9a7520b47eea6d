//! What must hold stands in `holds/shapes.rs`.
#![no_main]

#[path = "../holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|text: &str| holds::shapes::holds(text));
