//! Fineness in words: verdicts, the reasons behind them with their clauses, and what is wrong with a claim.

mod claim;
mod error;
mod judged;
mod reasons;
mod verdict;

pub use claim::{claimed, found, margin, problem, subject};
pub use error::FinenessError;
pub use judged::Judged;
pub use reasons::{Statement, statement};
pub use verdict::{CLOSING, asked, explain, label, paths, with_reasons};
