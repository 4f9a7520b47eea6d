//! What `eval` prints of a recipe: the bands as cards, whole or in part; then orders, requirements, cautions.

use crate::evaluate::{Evaluation, Ordered, Verdict};
use crate::source::printable;

use super::card::card;
use super::orders::{orders, orders_in_short};
use super::page::{ROUNDED, TextLayout, flowed};
use super::part::{ReportExtent, ReportPart};
use super::take_care::{self, Due};
use super::text;

/// One band: its card, everything, or one part. Empty where it has nothing of that part.
#[must_use]
pub fn report(evaluation: &Evaluation, extent: ReportExtent, layout: TextLayout) -> String {
    match extent {
        ReportExtent::Card => card(evaluation, layout),
        ReportExtent::Full => text::report(evaluation, layout),
        ReportExtent::Part(ReportPart::Care | ReportPart::Orders | ReportPart::Requirements) => {
            String::new()
        }
        ReportExtent::Part(part) => text::part(evaluation, part, layout),
    }
}

/// What a recipe comes to beside its bands: orders and requirements.
#[must_use]
pub fn beside(
    ordered: &[Ordered],
    verdicts: &[Verdict],
    extent: ReportExtent,
    layout: TextLayout,
) -> Vec<String> {
    let order = match extent {
        ReportExtent::Card => orders_in_short(ordered, layout),
        _ if extent.shows(ReportPart::Orders) => orders(ordered, layout),
        _ => None,
    };
    let required = (extent == ReportExtent::Card || extent.shows(ReportPart::Requirements))
        .then(|| text::requirements(verdicts, layout));
    order.into_iter().chain(required.flatten()).collect()
}

/// That values lie over a recipe, and which: what is told of it is not what is saved. None where nothing does.
#[must_use]
pub fn laid_over(over: &[String]) -> Option<String> {
    let lines = over.iter().map(|line| format!("`{}`", printable(line)));
    let lines: Vec<String> = lines.collect();
    let (last, rest) = lines.split_last()?;
    let all = match rest {
        [] => last.clone(),
        rest => format!("{} and {last}", rest.join(", ")),
    };
    Some(format!("Worked out with {all} laid over the recipe."))
}

/// That values lie over a recipe, in lines of a page; none where nothing does.
#[must_use]
pub fn over_told(over: &[String], layout: TextLayout) -> Option<String> {
    let text = laid_over(over)?;
    Some(flowed(&text, layout.width.max(30)).join("\n") + "\n")
}

/// What is typed for all of a report, for a part of it, and for all digits.
#[derive(Clone, Copy, Debug)]
pub struct ReportWays {
    /// All of it.
    pub full: &'static str,
    /// One part, whose name stands behind it.
    pub part: &'static str,
    /// All digits.
    pub digits: &'static str,
}

impl ReportWays {
    /// On the command line.
    pub const CALL: Self = Self {
        full: "--full",
        part: "--part",
        digits: "--digits all",
    };
    /// At the bench.
    pub const BENCH: Self = Self {
        full: "eval full",
        part: "eval",
        digits: "digits all",
    };
}

/// What closes a run: what to take care of, what is rounded, where the rest is.
#[must_use]
pub fn closing(
    due: &Due,
    rounded: bool,
    extent: ReportExtent,
    ways: ReportWays,
    layout: TextLayout,
) -> String {
    let mut all = Vec::new();
    match extent {
        ReportExtent::Card => all.push(take_care::by_title(due, ways.part, layout)),
        _ if extent.shows(ReportPart::Care) => all.push(take_care::in_full(due, layout)),
        _ => {}
    }
    let ReportWays { full, part, digits } = ways;
    let more = format!("`{full}` shows everything, `{part} NAME` one part");
    let last = match (extent, rounded) {
        (ReportExtent::Card, true) => format!("\u{2248} rounded: `{digits}`; {more}"),
        (ReportExtent::Card, false) => more,
        (_, true) => ROUNDED.replace("--digits all", digits),
        (_, false) => String::new(),
    };
    if !last.is_empty() {
        let lines = flowed(&last, layout.width.max(30));
        all.push(lines.join("\n") + "\n");
    }
    all.retain(|text| !text.is_empty());
    // A card is to fit one screen; what is whole may breathe.
    all.join(if extent == ReportExtent::Card {
        ""
    } else {
        "\n"
    })
}
