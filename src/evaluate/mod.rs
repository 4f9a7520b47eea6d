//! A resolved band to its figures: weights, dimensions, limits, cautions.
//!
//! Input: a [`crate::model::Band`]. Output: an [`Evaluation`]. The kernel is pure and takes plain floats, so that
//! what-ifs, deviations and `why` re-run it at will. Arrows point one way: the evaluation as data (`evaluation`), its
//! two ends (`ends`), money and fineness handed their parts (`accounted`, `judged`), results read (`results`, `spread`,
//! `read`), limits judged (`whole`), reasons (`why`).

mod accounted;
mod causes;
mod cautions;
mod deviations;
mod drawn;
mod drawn_results;
mod ends;
mod evaluation;
mod join_input;
mod judged;
mod of_band;
mod read;
mod rests;
mod results;
mod serving;
mod shortfall;
mod spread;
mod verdict;
mod whole;
mod why;
mod workpiece;

pub use accounted::read_each_other;
pub use causes::{Cause, causes};
pub use cautions::{CAUTIONS, Caution, OLD_METAL, WHO_DECIDES, cautions};
pub use drawn::patterns_worked;
pub use drawn_results::{NoTime, minutes};
pub(crate) use evaluation::possible;
pub use evaluation::{Evaluation, metal};
pub use of_band::{input_of, shape_of};
pub use rests::{Rest, rests};
pub use results::{metal_result, number};
pub use serving::Serving;
pub use shortfall::{Barred, Shortfall};
pub use spread::{Spread, least_together, shares, shares_of, spread, spread_of};
pub use verdict::{Comparison, Verdict, compared, short};
pub use whole::{Results, evaluate};
pub use why::{
    Why, WhyPlace, explain, explain_alloy, explain_let, explain_setting, explain_value, locate,
};
