//! What must hold stands in `holds/editor.rs`.
#![no_main]

#[path = "../holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|text: &str| holds::editor::holds(text));
