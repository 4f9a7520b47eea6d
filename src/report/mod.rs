//! Evaluations to text, JSON and CSV; the only layer that rounds.
//!
//! Input: evaluations and findings. Output: strings, the same on every machine: no clock, no path, no
//! locale. A number shown with fewer digits than it has carries `≈`; [`Digits::All`] shows every digit.
//! Colour is the business of the outermost layer.

mod card;
mod cases;
mod change;
mod compare;
mod contour;
mod csv;
mod difference;
pub mod document;
mod drawn_cuts;
mod drawn_section;
mod fineness;
mod json;
mod list;
mod list_asked;
mod list_profiles;
mod list_rules;
mod list_size;
mod list_vocabulary;
mod many;
mod money;
mod number;
mod offer;
mod offer_ring;
mod orders;
mod page;
mod part;
mod plot;
mod section;
mod settled;
mod sheet;
mod size_run;
mod size_stock;
mod sketch;
mod sought;
mod stretch;
mod stretch_curves;
mod stretch_grip;
mod stretch_limits;
mod stretch_machined;
mod stretch_made;
mod stretch_steps;
pub mod strip;
mod sure;
mod sweep;
mod table;
mod take_care;
mod tally;
mod text;
mod told;
mod weighed;
mod why;

pub use cases::{Case, CasesOf, Ended, JUNIT_HEAD, JUNIT_TAIL, TAP_HEAD, junit, tap, tap_plan};
pub use change::{after, answer, change, difference, value};
pub use compare::{compare, compare_csv, compare_json};
pub use contour::{contours, contours_csv, contours_json};
pub use csv::{csv, csv_header};
pub use difference::{DifferenceSide, difference as differences, difference_json};
pub use json::{
    NO_ANSWER, answers, band as band_json, finding, severity, told, verdict, why as why_json,
};
pub use list::{Listing, listing};
pub use list_asked::{list, list_json, rows};
pub use many::{TriedValue, tried_values};
pub use number::{Digits, Shown, places, shown, shown_in, shown_quantity};
pub use offer::{offers, offers_json};
pub use orders::orders_json;
pub use page::{TextLayout, flowed, lines_fitted, wrapped};
pub use part::{ReportExtent, ReportPart};
pub use plot::{plot, plot_svg, sizes_svg, traded_svg};
pub use section::{SectionKinds, SectionOf, section, section_text};
pub use settled::settled;
pub use sheet::{SheetOf, SheetPaper, sheets_html, sheets_pdf};
pub use size_run::{size_run, size_run_csv, size_run_json};
pub use sought::{chosen, chosen_json, solution, solution_json};
pub use sure::{sure, sure_json};
pub use sweep::{RowWriter, cell_places, grouped, of_rows, push_fixed};
pub use take_care::Due;
pub use tally::{HeldAgainst, tally, tally_json};
pub use text::requirements;
pub use told::{ReportWays, beside, closing, over_told, report};
pub use why::why;
