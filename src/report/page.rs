//! Lines of a report: labels in a column, numbers rounded and marked, nothing wider than the page.

use crate::evaluate::{Evaluation, Range, RangeBy, Spread, range_of};
use crate::quantity::Number;
use crate::schema::ResultId;
use crate::source::cells;

use super::number::{Digits, places, shown, shown_in};
use super::part::ReportPart;

/// How a text is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TextLayout {
    /// How many digits are shown.
    pub digits: Digits,
    /// Cells of a line.
    pub width: usize,
}

impl Default for TextLayout {
    fn default() -> Self {
        Self {
            digits: Digits::Useful,
            width: 80,
        }
    }
}

/// Lines of a report, in columns.
pub(super) struct Page {
    pub text: String,
    pub digits: Digits,
    /// Cells of a line; longer ones are wrapped.
    pub width: usize,
    /// Where each part begins in the text.
    parts: Vec<(ReportPart, usize)>,
}

/// Width of the column of labels.
pub(super) const LABEL: usize = 18;

/// Lines are no shorter than this, whatever the terminal; and no longer, since nobody reads longer ones.
const WIDTHS: (usize, usize) = (30, 100);

/// Beside a label there must be room for so much; else the text stands under it.
const BESIDE: usize = 28;

impl Page {
    pub fn new(layout: TextLayout) -> Self {
        Self {
            text: String::new(),
            digits: layout.digits,
            width: layout.width.clamp(WIDTHS.0, WIDTHS.1),
            parts: Vec::new(),
        }
    }

    /// From here on the text is of a part.
    pub fn part(&mut self, part: ReportPart) {
        self.parts.push((part, self.text.len()));
    }

    /// The text of a part.
    pub fn text_of(&self, wanted: ReportPart) -> String {
        let ends = self.parts.iter().skip(1).map(|(_, start)| *start);
        let ends = ends.chain(std::iter::once(self.text.len()));
        let of_it = self.parts.iter().zip(ends);
        of_it
            .filter(|((part, _), _)| *part == wanted)
            .filter_map(|((_, start), end)| self.text.get(*start..end))
            .collect()
    }

    pub fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    pub fn heading(&mut self, text: &str) {
        self.text.push('\n');
        for line in flowed(text, self.width - 2) {
            self.line(&format!("  {line}"));
        }
    }

    /// Text beside a label.
    pub fn row(&mut self, label: &str, text: &str) {
        self.hang((4, LABEL), label, text);
    }

    /// Text beside a label, on a card.
    pub fn card_row(&mut self, label: &str, text: &str) {
        self.hang((2, 9), label, text);
    }

    /// Text beside a label in a column, both indented: in one line where it fits, else wrapped beside the label, or
    /// under it where the page is narrow.
    pub fn hang(&mut self, (indent, column): (usize, usize), label: &str, text: &str) {
        let pad = column
            .saturating_sub(cells(label))
            .max(usize::from(!label.is_empty()));
        let whole = format!("{:indent$}{label}{:pad$}{text}", "", "");
        if cells(whole.trim_end()) <= self.width {
            return self.line(&whole);
        }
        let left = indent + column.max(cells(label) + usize::from(!label.is_empty()));
        let room = self.width.saturating_sub(left);
        if room < BESIDE {
            if !label.is_empty() {
                self.line(&format!("{:indent$}{label}", ""));
            }
            for line in flowed(text, self.width - indent - 2) {
                self.line(&format!("{:indent$}  {line}", ""));
            }
            return;
        }
        for (place, line) in flowed(text, room).into_iter().enumerate() {
            let label = if place == 0 { label } else { "" };
            let pad = (left - indent).saturating_sub(cells(label));
            self.line(&format!("{:indent$}{label}{:pad$}{line}", "", ""));
        }
    }

    /// Text under a label, wrapped.
    pub fn words(&mut self, label: &str, text: &str) {
        self.row(label, text);
    }

    /// A line as it is, wrapped where it is too long.
    pub fn indented_if_long(&mut self, text: &str) {
        self.hang((0, 0), "", text);
    }

    /// A paragraph, indented as rows are.
    pub fn prose(&mut self, text: &str) {
        self.indented(4, text);
    }

    /// A paragraph with an indent.
    pub fn indented(&mut self, indent: usize, text: &str) {
        for line in flowed(text, self.width - indent) {
            self.line(&format!("{:indent$}{line}", ""));
        }
    }

    pub fn number(&mut self, number: Number, unit: &str) -> String {
        let shown = shown_in(number, unit, self.digits);
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

    /// A result, with how far it may be off.
    pub fn result(&mut self, evaluation: &Evaluation, id: ResultId) -> String {
        let entry = id.row();
        let Some(number) = evaluation.number(id) else {
            return "none".to_owned();
        };
        let unit = evaluation.unit(entry);
        let value = self.number(number, &unit);
        let off = self.off(range_of(evaluation, entry).as_ref(), &unit);
        format!("{value}{off}")
    }

    /// How far a figure may be off, behind it; nothing where it may not.
    pub fn off(&mut self, range: Option<&Range>, unit: &str) -> String {
        match range.map(|range| (range.spread(), range.way)) {
            Some((spread, way)) if spread != Spread::default() => {
                // Where not all of the ranges was seen, it is the worst that was found.
                let found = match way {
                    RangeBy::Search => " found",
                    RangeBy::Sum | RangeBy::Corners => "",
                };
                let worst = shown(
                    Number::Computed(spread.high.max(-spread.low)),
                    places(unit),
                    Digits::Useful,
                );
                format!(" \u{B1} {} {unit} at worst{found}", worst.text)
            }
            _ => String::new(),
        }
    }
}

/// What is said under a text that holds a shortened number.
pub(super) const ROUNDED: &str = "\u{2248} rounded for reading; `--digits all` shows every digit";

/// A text with its long lines wrapped, each going on under its own beginning.
#[must_use]
pub fn lines_fitted(text: &str, width: usize) -> String {
    let mut whole = String::new();
    for line in text.lines() {
        if cells(line) <= width {
            whole.push_str(line);
            whole.push('\n');
            continue;
        }
        let start = line.trim_start();
        let indent = line.len() - start.len();
        for (place, part) in wrapped(start, width.saturating_sub(indent + 2).max(20))
            .iter()
            .enumerate()
        {
            let deeper = if place == 0 { indent } else { indent + 2 };
            whole.push_str(&format!("{:deeper$}{part}\n", ""));
        }
    }
    whole
}

/// Text in lines of at most `width` cells.
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    filled(text.split_whitespace().map(str::to_owned), width)
}

/// Text in lines of at most `width` cells, each figure with its mark and its unit on one line.
#[must_use]
pub fn flowed(text: &str, width: usize) -> Vec<String> {
    let mut together: Vec<String> = Vec::new();
    let mut holds = false;
    for word in text.split_whitespace() {
        let last = together.last_mut();
        match last.filter(|last| holds || is_figure(last) && UNITS.contains(&bare(word))) {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => together.push(word.to_owned()),
        }
        holds = matches!(bare(word), "\u{2248}" | "\u{D8}" | "\u{B1}");
    }
    filled(together.into_iter(), width)
}

/// Units that stay with their figure.
const UNITS: &[&str] = &[
    "mm", "g", "%", "um", "MPa", "GPa", "N", "N/mm", "Nmm", "g/cm3", "min", "EUR", "mm3", "steps",
];

fn bare(word: &str) -> &str {
    word.trim_matches(|c: char| matches!(c, ',' | ';' | ':' | '.' | '(' | ')'))
}

fn is_figure(text: &str) -> bool {
    text.ends_with(|c: char| c.is_ascii_digit())
}

fn filled(words: impl Iterator<Item = String>, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words {
        if !line.is_empty() && cells(&line) + 1 + cells(&word) > width {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&word);
    }
    lines.push(line);
    lines
}
