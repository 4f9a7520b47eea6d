//! Fineness: whether a band will carry a mark under a rulebook, and what must be said with it.
//!
//! Input: an [`Article`] (parts with their contents as exact decimals, solder, what the eye sees), a
//! [`crate::catalogue::Rulebook`] and perhaps a [`Claim`]. Output: a [`Judgement`] with every test, its clause
//! and its margin. All figures are exact decimals; nothing is rounded before it is compared: what is found,
//! with the shortfall that the text allows, must reach the figure.

mod article;
mod asked;
mod claim;
mod error;
mod judge;
mod of_band;
mod results;
mod sayings;
mod skin;
mod solder;

pub use article::{Article, Assayed, PRECIOUS, Part, Soldered};
pub use asked::{all_said, asked, explain, label, paths, reasons};
pub use claim::{Claim, ClaimError};
pub use error::FinenessError;
pub use judge::{Judgement, Mark, Need, Test, judge};
pub use of_band::{CLOSING, margin, mark, verdict_line};
pub(super) use results::exact;
pub use sayings::{Kind, Said};
pub use skin::{Contact, contacts};
