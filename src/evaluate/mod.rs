//! A resolved band to its figures: weights, dimensions, limits, cautions.
//!
//! Input: a [`crate::model::Band`]. Output: an [`Evaluation`]. The kernel is pure and takes plain floats
//! ([`Input`] to [`Figures`]), so that what-ifs, deviations and `why` re-run it at will; the catalogue of
//! results ([`all`]) names every figure once for reports, questions and JSON alike.

mod cautions;
mod deviations;
mod error;
mod evaluation;
mod join_input;
mod judged;
pub mod money;
mod of_band;
mod rests;
mod results;
mod shortfall;
mod spread;
mod verdict;
mod why;

pub use cautions::{CAUTIONS, Caution, cautions};
pub use error::LimitError;
pub(crate) use evaluation::possible;
pub use evaluation::{Evaluation, Results, evaluate};
pub use of_band::{input_of, shape_of};
pub use rests::{Rest, rests};
pub use results::number;
pub use shortfall::{Barred, Shortfall};
pub use spread::{Spread, shares, shares_of, spread, spread_of};
pub use verdict::{Comparison, Verdict, compared, short};
pub use why::{Why, WhyPlace, explain, explain_alloy, explain_let, explain_setting, locate};
