//! A number that a reading of the scale settles, as text.

use crate::evaluate::Settled;
use crate::words::shown_amount;

use super::page::wrapped;

/// What it would have to be, how far that may be off, and the line that says so.
#[must_use]
pub fn settled(one: &Settled, line: &str, remark: &str) -> String {
    let of = &one.number;
    let amount = |value: f64| shown_amount(value, of.dimension, of.unit.as_deref());
    let by = of.wanted - of.written;
    let more = if by < 0.0 { "less" } else { "more" };
    let said = format!(
        "`{}` would be {}, {} {more} than the {} written: \u{B1} {} by the scale alone, \u{B1} {} at worst with all else that may be off.",
        of.path,
        amount(of.wanted),
        amount(by.abs()),
        amount(of.written),
        amount(one.by_scale),
        amount(one.at_worst)
    );
    let mut text = wrapped(&said, 78).join("\n");
    text.push_str(&format!("\n\n  {line}  # {remark}\n"));
    text
}
