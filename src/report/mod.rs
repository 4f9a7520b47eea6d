//! Evaluations to text, JSON and CSV; the only layer that rounds.
//!
//! Input: evaluations and findings. Output: strings, the same on every machine: no clock, no path, no
//! locale. A number shown with fewer digits than it has carries `≈`; [`Digits::All`] shows every digit.
//! Colour is the business of the outermost layer.

mod change;
mod compare;
mod csv;
mod drawn_cuts;
mod fineness;
mod json;
mod list;
mod list_asked;
mod list_profiles;
mod list_rules;
mod money;
mod number;
mod offer;
mod orders;
mod page;
mod size_run;
mod sketch;
mod stretch;
mod stretch_limits;
mod stretch_made;
pub mod strip;
mod table;
mod text;
mod why;

pub use change::{after, change, difference, value};
pub use compare::{compare, compare_csv, compare_json};
pub use csv::csv;
pub use json::{
    NO_ANSWER, SCHEMA, answers, finding, findings as findings_json, results, text as json_text,
    verdict, why as why_json,
};
pub use list::{Listing, listing};
pub use list_asked::{list, rows};
pub use number::{Digits, Shown, places, shown, shown_in, shown_quantity};
pub use offer::offers;
pub use orders::{orders, orders_json};
pub use page::wrapped;
pub use size_run::{size_run, size_run_csv, size_run_json};
pub use text::{report, requirements};
pub use why::why;
