//! What must hold of any text: the body of each fuzz target, which the suite runs over a few texts too.
#![allow(
    dead_code,
    reason = "each target is a program of its own and uses one of them"
)]

pub mod ask;
pub mod bench;
pub mod check;
pub mod diff;
pub mod drawing;
pub mod editor;
pub mod roundtrip;
pub mod run;
pub mod scale;
pub mod shapes;
pub mod sought;
pub mod spans;
pub mod tidy;

/// A target by its name.
pub type Target = (&'static str, fn(&str));

/// All of them.
pub const TARGETS: &[Target] = &[
    ("ask", ask::holds),
    ("bench", bench::holds),
    ("check", check::holds),
    ("diff", diff::holds),
    ("drawing", drawing::holds),
    ("editor", editor::holds),
    ("roundtrip", roundtrip::holds),
    ("scale", scale::holds),
    ("shapes", shapes::holds),
    ("sought", sought::holds),
    ("tidy", tidy::holds),
];
