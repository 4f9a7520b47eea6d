//! What must hold stands in `holds/drawing.rs`.
#![no_main]

#[path = "../holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|text: &str| holds::drawing::holds(text));
