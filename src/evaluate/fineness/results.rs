//! Results of fineness: for each built-in rulebook the highest figure, and what it has to spare.

use rust_decimal::Decimal;

use crate::evaluate::Evaluation;
use crate::evaluate::results::{ResultEntry, entry, exact, from};
use crate::quantity::Dimension;

use super::of_band as fineness;

/// The highest figure that a rulebook lets a band carry.
const fn mark(path: &'static str, read: fn(&Evaluation) -> Option<Decimal>) -> ResultEntry {
    let meaning = "highest fineness that it may carry by these rules, parts per thousand; 0: none; `.verdict` behind it says it in words";
    let formula = "highest standard for which every part, and the whole where the rules want it, reaches it with the shortfall allowed";
    exact(
        from(
            entry(path, "", Dimension::FINENESS, meaning, formula, |_, _| None),
            FINENESS,
        ),
        read,
    )
}

/// What is to spare at that figure.
const fn margin(path: &'static str, read: fn(&Evaluation) -> Option<Decimal>) -> ResultEntry {
    let meaning =
        "what the tightest test has to spare at that figure, parts per thousand; negative: missing";
    let formula = "least of found + allowed - figure over all tests";
    exact(
        from(
            entry(path, "", Dimension::FINENESS, meaning, formula, |_, _| None),
            FINENESS,
        ),
        read,
    )
}

/// What fineness rests on.
const FINENESS: &[&str] = &[
    "alloy",
    "hollow.shell.alloy",
    "hollow.sleeve.alloy",
    "assay",
    "solder",
    "hollow.apart",
];

/// All results of fineness, those of one rulebook together.
#[rustfmt::skip]
pub const FINENESS_RESULTS: &[ResultEntry] = &[
    mark("fineness.UK", |of| fineness::mark(of, "UK")),
    margin("fineness.UK.margin", |of| fineness::margin(of, "UK")),
    mark("fineness.VC", |of| fineness::mark(of, "VC")),
    margin("fineness.VC.margin", |of| fineness::margin(of, "VC")),
    mark("fineness.US", |of| fineness::mark(of, "US")),
    margin("fineness.US.margin", |of| fineness::margin(of, "US")),
    mark("fineness.IN", |of| fineness::mark(of, "IN")),
    margin("fineness.IN.margin", |of| fineness::margin(of, "IN")),
    mark("fineness.CH", |of| fineness::mark(of, "CH")),
    margin("fineness.CH.margin", |of| fineness::margin(of, "CH")),
    mark("fineness.DE", |of| fineness::mark(of, "DE")),
    margin("fineness.DE.margin", |of| fineness::margin(of, "DE")),
    mark("fineness.FR", |of| fineness::mark(of, "FR")),
    margin("fineness.FR.margin", |of| fineness::margin(of, "FR")),
    mark("fineness.IT", |of| fineness::mark(of, "IT")),
    margin("fineness.IT.margin", |of| fineness::margin(of, "IT")),
    mark("fineness.JP", |of| fineness::mark(of, "JP")),
    margin("fineness.JP.margin", |of| fineness::margin(of, "JP")),
    mark("fineness.CN", |of| fineness::mark(of, "CN")),
    margin("fineness.CN.margin", |of| fineness::margin(of, "CN")),
    mark("fineness.ISO", |of| fineness::mark(of, "ISO")),
    margin("fineness.ISO.margin", |of| fineness::margin(of, "ISO")),
];
