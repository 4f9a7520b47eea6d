//! Evaluations to text, JSON and CSV; the only layer that rounds.
//!
//! Input: evaluations and findings. Output: strings, the same on every machine: no clock, no path, no
//! locale. A number shown with fewer digits than it has carries `≈`; [`Digits::All`] shows every digit.
//! Colour is the business of the outermost layer.

mod cases;
mod change;
mod compare;
mod contour;
mod csv;
mod difference;
pub mod document;
mod fineness;
mod json;
mod list;
mod list_asked;
mod list_profiles;
mod list_rules;
mod list_vocabulary;
mod money;
mod number;
mod offer;
mod offer_ring;
mod orders;
mod page;
mod size_run;
mod sketch;
mod stretch;
mod stretch_curves;
mod stretch_grip;
mod stretch_limits;
mod stretch_machined;
mod stretch_made;
mod stretch_steps;
mod table;
mod take_care;
mod text;
mod why;

pub use cases::{Case, CasesOf, Ended, JUNIT_HEAD, JUNIT_TAIL, TAP_HEAD, junit, tap, tap_plan};
pub use change::{after, change, difference, value};
pub use compare::{compare, compare_csv, compare_json};
pub use contour::{contours, contours_csv, contours_json};
pub use csv::{csv, csv_header};
pub use difference::{DifferenceSide, difference as differences, difference_json};
pub use json::{
    NO_ANSWER, add as add_results, answers, band as band_json, finding, severity, told, verdict,
    why as why_json,
};
pub use list::{Listing, listing};
pub use list_asked::{list, list_json, rows};
pub use number::{Digits, Shown, places, shown, shown_in, shown_quantity};
pub use offer::{offers, offers_json};
pub use orders::{orders, orders_json};
pub use page::wrapped;
pub use size_run::{size_run, size_run_csv, size_run_json};
pub use text::{report, report_after, requirements};
pub use why::why;
