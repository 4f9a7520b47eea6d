//! A resolved band to its figures: weights, dimensions, limits, cautions.
//!
//! Input: a [`crate::model::Band`]. Output: an [`Evaluation`]. The kernel is pure and takes plain floats
//! ([`Input`] to [`Figures`]), so that what-ifs, deviations and `why` re-run it at will; the catalogue of
//! results ([`all`]) names every figure once for reports, questions and JSON alike.

mod cautions;
mod error;
mod evaluation;
mod figures;
pub mod fineness;
mod input;
mod marks;
mod results;
mod spread;
pub mod stretch;
mod thin;
mod verdict;
mod why;
mod workpiece;

pub use cautions::{Caution, cautions};
pub use error::LimitError;
pub use evaluation::{Evaluation, Limit, Results, evaluate, read_each_other};
pub use figures::{Figures, HollowFigures, figures};
pub use input::Input;
pub use marks::{Marks, under_marks};
pub use results::number;
pub use spread::{Spread, shares, shares_of, spread, spread_of};
pub use verdict::{Comparison, Verdict, compared, short};
pub use why::{Why, WhyPlace, explain, explain_alloy, explain_let, explain_setting, locate};
