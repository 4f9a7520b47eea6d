//! A resolved band to its figures: weights, dimensions, limits, cautions.
//!
//! Input: a [`crate::model::Band`]. Output: an [`Evaluation`]. The kernel is pure and takes plain floats, so that
//! what-ifs, ranges and `why` re-run it at will. Arrows point one way: the evaluation as data (`evaluation`), places of its
//! ranges (`points`), money and fineness handed their parts (`accounted`, `judged`), results read (`results`, `spread`,
//! `read`), limits judged (`whole`, `worst`), readings of the scale (`weighed`, `settled`), reasons (`why`).

mod accounted;
mod causes;
mod cautions;
mod drawn;
mod drawn_results;
mod draws;
mod evaluation;
mod gauged;
mod join_input;
mod judged;
mod of_band;
mod ordered;
mod points;
mod range;
mod read;
mod rests;
mod results;
mod seating;
mod serving;
mod settled;
mod shortfall;
mod spread;
mod standing;
mod stop;
mod sure;
mod tally;
mod verdict;
mod weighed;
mod weighed_short;
mod whole;
mod why;
mod workpiece;
mod worst;

pub use accounted::read_each_other;
pub use causes::{Cause, causes};
pub use cautions::{CAUTIONS, Caution, OLD_METAL, WHO_DECIDES, cautions};
pub use drawn::patterns_worked;
pub use drawn_results::{NoTime, minutes};
pub use draws::Draws;
pub(crate) use evaluation::possible;
pub use evaluation::{Evaluation, metal, sound, sound_with, stated_of};
pub use gauged::Grams;
pub use of_band::{input_of, shape_of};
pub use ordered::Ordered;
pub use points::{by_name, places_worked};
pub use range::{Range, RangeBy, Single, Spread};
pub use rests::{Rest, rests};
pub use results::{metal_result, number, rests_on_dimensions, rests_on_walls};
pub use seating::{Seating, seating};
pub use serving::Serving;
pub use settled::{Explained, Settled};
pub use shortfall::{Barred, Shortfall, Worst, is_stretched};
pub use spread::{range, range_of, range_over, shares_of, spread, spread_of};
pub use standing::Standing;
pub use stop::{stopped, until};
pub use sure::{DRAWS, Keeping, Reckoning, Sure, SureBand, SureFigure, SureRequirement, SureWall};
pub use tally::{D2, Tallied};
pub use verdict::{Comparison, Verdict, compared, short};
pub use weighed::{Expected, OffBefore, OnScale, Step, Weighings};
pub use weighed_short::WeighedShort;
pub use whole::{Results, bands_judged, evaluate};
pub use why::{
    Why, WhyPlace, explain, explain_alloy, explain_let, explain_setting, explain_value, locate,
};
