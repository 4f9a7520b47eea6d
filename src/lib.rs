//! Finger-ring bands before the metal is cut: a small recipe language and what it evaluates to.
//!
//! ```text
//!  text ── syntax ──> Tree ── model ──> Recipe, Band ── evaluate ──> Evaluation ── words ──> Finding
//!            │                  │                          │   ^
//!            │ shapes           │ meaning           numbers │   │ figures, shortfalls, by id
//!            v                  v                          v   │
//!         Finding            Finding                      kernel         (findings are collected, never thrown)
//!
//!  Evaluation ── explore ──> Change, Comparison ── report ──> text, JSON, CSV
//!      ^            ^                                ^
//!      └────────────┴────────────────── session ─────┘
//!                                                                ^
//!               plan: for programs that embed it  ───────────────┤
//!                assist: places to values and names  ─────────┤
//!                              bench: lines to replies  ─────────┤
//!                              cli: files, streams, exit status ─┘
//! ```
//!
//! Arrows point one way only: `source`, `suggest`, `finding`, `quantity` ← `schema` ← `kernel` ← `catalogue`, `syntax`
//! ← `model` ← `fineness`, `money` ← `evaluate` ← `words` ← `explore` ← `report` ← `session` ← `plan` ← `assist` ← `bench` ← `cli`
//! ← `main`; inside a layer no file leads back to itself. Tests hold both. What each layer must *not* know: `schema` is
//! tables alone; `kernel` knows numbers and ids: no recipe, no text; `syntax` knows no field and no unit; `model` draws
//! nothing; `fineness` and `money` speak no sentence; `evaluate` rounds nothing; `words` computes nothing; nothing but
//! `cli` opens a file, a stream or the environment, and nothing at all reads a clock.
//!
//! # Example
//! A [`Plan`] is a recipe read once, from text or from values. Its numbers are moved and its results read as often as
//! one likes; what is wrong is a finding to match on.
//! ```
//! use annulet::Plan;
//! use annulet::finding::Weight;
//! use annulet::schema::{FieldId, ResultId};
//! use rust_decimal::dec;
//!
//! let mut plan = Plan::draft("harvest")
//!     .with(FieldId::Size, "ISO 54")
//!     .with(FieldId::Width, dec!(4.5))
//!     .with(FieldId::Thickness, dec!(1.5))
//!     .with(FieldId::Profile, "domed")
//!     .with(FieldId::ProfileEdge, dec!(1.2))
//!     .with(FieldId::Alloy, "silver-925")
//!     .build()
//!     .unwrap();
//! let weight = |plan: &Plan| {
//!     let found = plan.evaluate(&[ResultId::Weight]).unwrap();
//!     found.number(ResultId::Weight).unwrap().to_f64()
//! };
//! assert!((weight(&plan) - 3.814).abs() < 0.001);
//!
//! // The widest of some bands that weighs no more than 4 g; each takes microseconds.
//! let mut width = dec!(4.5);
//! while weight(&plan) <= 4.0 {
//!     width += dec!(0.01);
//!     plan.set(FieldId::Width, width).unwrap();
//! }
//! assert_eq!(width, dec!(4.72));
//!
//! // Edges as high as the crown make no dome.
//! plan.set("profile.edge", dec!(1.6)).unwrap();
//! let impossible = plan.evaluate(&[ResultId::Weight]).unwrap_err();
//! assert_eq!(impossible[0].weight(), Weight::Wrong);
//! assert_eq!(plan.field_of(&impossible[0]), Some(FieldId::ProfileEdge));
//! ```
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod assist;
pub mod bench;
pub mod catalogue;
#[cfg(feature = "cli")]
pub mod cli;
pub mod drawing;
pub mod evaluate;
pub mod explore;
pub mod finding;
pub mod fineness;
pub mod kernel;
pub mod model;
pub mod money;
pub mod motif;
pub mod plan;
pub mod quantity;
pub mod report;
pub mod schema;
pub mod session;
pub mod source;
pub mod suggest;
pub mod syntax;
pub mod words;

pub use plan::Plan;
