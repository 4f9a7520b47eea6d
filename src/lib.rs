//! Finger-ring bands before the metal is cut: a small recipe language and what it evaluates to.
//!
//! ```text
//!  text ── syntax ──> Tree ── model ──> Recipe, Band ── geometry ──> Shape, Bodies
//!            │                  │                          │
//!            │ shapes           │ meaning                  │ volumes, walls
//!            v                  v                          v
//!         Finding            Finding                    Finding          (collected, never thrown)
//!
//!  Band, Shape ── evaluate ──> Evaluation ── explore ──> Change, Comparison ── report ──> text, JSON, CSV
//!                    ^                          ^                                ^
//!                    └──────────────────────────┴──────────── session ───────────┘
//!                                                                ^
//!                              bench: lines to replies  ─────────┤
//!                              cli: files, streams, exit status ─┘
//! ```
//!
//! Arrows point one way only: `source`, `suggest`, `finding`, `quantity` ← `schema` ← `catalogue`, `syntax` ← `model`
//! ← `geometry`, `money` ← `evaluate` ← `words` ← `explore` ← `report` ← `session` ← `bench` ← `cli` ← `main`. A test holds them. What each layer
//! must *not* know: `schema` is tables alone; `syntax` knows no field and no unit; `model` draws nothing; `geometry` knows no metal;
//! `evaluate` rounds nothing; nothing but `cli` opens a file, a stream or the environment, and nothing at all
//! reads a clock.
//!
//! # Example
//! ```
//! use annulet::session::{Request, Session};
//!
//! let recipe = "
//! band harvest {
//!   size ISO 54, width 4.5 mm, thickness 1.5 mm
//!   profile domed { edge 1.2 mm }
//!   alloy silver-925
//! }";
//! let mut session = Session::default();
//! let outcome = session.run("harvest.annulet", recipe, &Request::default());
//! assert!(outcome.findings.is_empty());
//! let (weight, problems) = session.ask("weight in g", &outcome);
//! assert!(problems.is_empty());
//! let weight = weight.unwrap().quantity().unwrap().number.to_f64();
//! assert!((weight - 3.814).abs() < 0.001);
//! ```
#![deny(missing_docs)]

pub mod bench;
pub mod catalogue;
#[cfg(feature = "cli")]
pub mod cli;
pub mod evaluate;
pub mod explore;
pub mod finding;
pub mod geometry;
pub mod model;
pub mod money;
pub mod quantity;
pub mod report;
pub mod schema;
pub mod session;
pub mod source;
pub mod suggest;
pub mod syntax;
pub mod words;
