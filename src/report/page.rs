//! Lines of a report: labels in a column, numbers rounded and marked.

use crate::evaluate::{Evaluation, Spread, spread_of};
use crate::quantity::Number;
use crate::schema::ResultId;
use crate::source::cells;

use super::number::{Digits, places, shown, shown_in};

/// Lines of a report, in columns.
pub(super) struct Page {
    pub text: String,
    pub digits: Digits,
    /// Some number was shortened.
    pub rounded: bool,
}

/// Width of the column of labels.
pub(super) const LABEL: usize = 18;

impl Page {
    pub fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    pub fn heading(&mut self, text: &str) {
        self.text.push('\n');
        self.line(&format!("  {text}"));
    }

    pub fn row(&mut self, label: &str, text: &str) {
        let pad = LABEL.saturating_sub(cells(label));
        self.line(&format!("    {label}{:pad$}{text}", ""));
    }

    pub fn number(&mut self, number: Number, unit: &str) -> String {
        let shown = shown_in(number, unit, self.digits);
        self.rounded |= shown.rounded;
        let unit = if unit.is_empty() {
            String::new()
        } else {
            format!(" {unit}")
        };
        format!("{}{unit}", shown.marked())
    }

    /// A length in mm, rounded for reading.
    pub fn mm(&mut self, value: f64) -> String {
        self.number(Number::Computed((value * 1e12).round() / 1e12), "mm")
    }

    /// Text under a label, wrapped.
    pub fn words(&mut self, label: &str, text: &str) {
        for (place, line) in wrapped(text, 76 - LABEL).into_iter().enumerate() {
            self.row(if place == 0 { label } else { "" }, &line);
        }
    }

    /// A result, with how far it may be off.
    pub fn result(&mut self, evaluation: &Evaluation, id: ResultId) -> String {
        let entry = id.row();
        let Some(number) = evaluation.number(id) else {
            return "none".to_owned();
        };
        let unit = evaluation.unit(entry);
        let value = self.number(number, &unit);
        match spread_of(evaluation, entry) {
            Some(spread) if spread != Spread::default() => {
                let worst = shown(
                    Number::Computed(spread.high.max(-spread.low)),
                    places(&unit),
                    Digits::Useful,
                );
                format!("{value} \u{B1} {} {} at worst", worst.text, unit)
            }
            _ => value,
        }
    }
}

/// Text in lines of at most `width` cells.
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        if !line.is_empty() && cells(&line) + 1 + cells(word) > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines
}
