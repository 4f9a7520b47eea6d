//! A band of a ring in the hand as a recipe's text: each line remarked with how its value is known.

use std::ops::Range;

use crate::evaluate::RangeBy;
use crate::finding::Finding;
use crate::source::{Source, Span};
use crate::words::{Repointed, grams};

use super::hand::{Hand, InHand, Line, OffBy, trimmed};

/// Columns of a line before its remark.
const REMARK: usize = 40;

/// What is written of a band beside what was measured.
#[derive(Clone, Debug, Default)]
pub(super) struct Draft<'a> {
    pub name: String,
    pub alloy: String,
    /// The block that defines it, where it is one of the readings' own.
    pub block: String,
    /// Why this alloy.
    pub alloy_remark: String,
    /// The profile, where none is said.
    pub profile: &'static str,
    /// Further fields by their paths: value and remark.
    pub more: Vec<(&'static str, String, String)>,
    /// Measured values moved within what they may be off by: the word, and the value.
    pub moved: Vec<(&'static str, f64)>,
    /// Lines of the band with values moved so: the number of the line, and its text.
    pub taken: Vec<(usize, String)>,
    /// Which of the three measures across are written; the third follows.
    pub across: Vec<&'a InHand>,
}

/// A text, and what of it comes from where in the readings.
#[derive(Debug, Default)]
pub(super) struct Composed {
    pub text: String,
    /// Parts of the text with the reading that they come from; `true` where they are the same letters.
    from: Vec<(Range<usize>, Span, bool)>,
    /// Parts of the text that say a measured value.
    pub measured: Vec<(Range<usize>, &'static str)>,
    /// Parts of the text that are lines of the band, by their numbers.
    pub lines: Vec<(Range<usize>, usize)>,
}

impl Composed {
    /// Of a text that comes from elsewhere.
    pub fn of(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            ..Self::default()
        }
    }

    fn line(&mut self, said: &str, remark: &str, at: Option<(Span, bool)>) {
        let from = self.text.len();
        self.text.push_str("  ");
        let begin = self.text.len();
        self.text.push_str(said);
        if let Some((at, same)) = at {
            self.from.push((begin..self.text.len(), at, same));
        }
        let last = said.lines().last().unwrap_or(said).chars().count();
        if !remark.is_empty() {
            let gap = (REMARK - 2).saturating_sub(last).max(2);
            self.text.push_str(&" ".repeat(gap));
            self.text.push_str("# ");
            self.text.push_str(remark);
        }
        debug_assert!(self.text.len() > from);
        self.text.push('\n');
    }

    /// A line as it was written.
    pub fn copied(&mut self, line: &Line) {
        let begin = self.text.len();
        self.text.push_str(&line.text);
        self.from.push((begin..self.text.len(), line.at, true));
        self.text.push('\n');
    }

    /// Another text behind it.
    pub fn append(&mut self, other: &Self) {
        let by = self.text.len();
        self.text.push_str(&other.text);
        let moved = |range: &Range<usize>| range.start + by..range.end + by;
        let from = other.from.iter();
        self.from
            .extend(from.map(|(range, at, same)| (moved(range), *at, *same)));
        let measured = other.measured.iter();
        self.measured
            .extend(measured.map(|(range, word)| (moved(range), *word)));
        let lines = other.lines.iter();
        self.lines
            .extend(lines.map(|(range, line)| (moved(range), *line)));
    }

    /// A finding of this text as one of the readings.
    pub fn repointed(&self, finding: &Finding, own: &Source, otherwise: Span) -> Finding {
        let labels = finding.labels().into_iter().map(|(span, label)| {
            let place = own.range(span);
            let mut parts = self.from.iter();
            let holds =
                parts.find(|(part, ..)| part.start <= place.start && place.start <= part.end);
            let at = match holds {
                Some((part, at, true)) => {
                    let start = at.start + u32::try_from(place.start - part.start).unwrap_or(0);
                    let length = span.end.saturating_sub(span.start);
                    Span {
                        start: start.min(at.end),
                        end: (start + length).min(at.end),
                    }
                }
                Some((_, at, false)) => *at,
                None => otherwise,
            };
            (at, label)
        });
        Repointed::of(finding, labels.collect())
    }
}

fn measured(one: &InHand) -> String {
    let what = match one.by {
        OffBy::Written => String::new(),
        by => format!("; \u{B1} {}", by.word()),
    };
    format!("measured{what}")
}

/// A measured length as it is written, and its remark.
fn length(one: &InHand, moved: &[(&'static str, f64)]) -> (String, String) {
    match moved.iter().find(|(word, _)| *word == one.word) {
        Some((_, value)) => {
            let off = one.off + (value - one.value).abs();
            let said = format!(
                "{} mm \u{B1} {} mm",
                trimmed(*value, 5),
                trimmed(up(off, 5), 5)
            );
            let remark = format!(
                "measured {} mm \u{B1} {} mm; taken so that the weight comes out",
                trimmed(one.value, 4),
                trimmed(one.off, 4)
            );
            (said, remark)
        }
        None => {
            let value = match one.by {
                OffBy::Step => one.text.clone(),
                _ => format!("{} mm", trimmed(one.value, 5)),
            };
            let off = trimmed(up(one.off, 4), 4);
            (format!("{value} \u{B1} {off} mm"), measured(one))
        }
    }
}

/// Rounded up to so many places.
pub(super) fn up(value: f64, places: i32) -> f64 {
    let scale = libm::pow(10.0, f64::from(places));
    (value * scale - 1e-6).ceil() / scale
}

/// The text of a band; of its weight too, where it was weighed.
pub(super) fn compose(hand: &Hand, draft: &Draft<'_>) -> Composed {
    let mut all = Composed::default();
    all.text.push_str(&draft.block);
    all.text.push_str(&format!("band {} {{\n", draft.name));
    let moved = &draft.moved;
    let inside = draft.across.iter().find(|one| one.word == "inside");
    let outside = draft.across.iter().find(|one| one.word == "outside");
    let thick = draft.across.iter().find(|one| one.word == "thickness");
    let put = |head: &str, one: &InHand, behind: &str, all: &mut Composed| {
        let (value, remark) = length(one, moved);
        let said = format!("{head:<10}{value}{behind}");
        let begin = all.text.len() + 2;
        all.measured.push((begin..begin + said.len(), one.word));
        all.line(&said, &remark, Some((one.at, false)));
    };
    match (inside, outside, thick) {
        (Some(inside), _, _) => put("size", inside, "", &mut all),
        (None, Some(outside), Some(_)) => put("size", outside, " - thickness * 2", &mut all),
        _ => {}
    }
    if let Some(width) = hand.get("width") {
        put("width", width, "", &mut all);
    }
    match (outside, thick) {
        (_, Some(thick)) => put("thickness", thick, "", &mut all),
        (Some(outside), None) => put("outside", outside, "", &mut all),
        _ => {}
    }
    if hand.profile.is_none() {
        let said = format!("profile   {}", draft.profile);
        all.line(&said, "assumed: nothing is said of it", None);
    }
    for (number, line) in hand.lines.iter().enumerate() {
        let begin = all.text.len() + 2;
        match draft.taken.iter().find(|(known, _)| *known == number) {
            Some((_, text)) => {
                let remark = "as said, but taken so that the weight comes out";
                all.line(text, remark, Some((line.at, false)));
            }
            // What was put in for a caliper lies behind what the reader wrote.
            None => all.line(&line.text, "as said", Some((line.at, true))),
        }
        all.lines.push((begin..begin + line.text.len(), number));
    }
    let at = hand.alloy.as_ref().map(|(_, at)| (*at, false));
    all.line(
        &format!("alloy     {}", draft.alloy),
        &draft.alloy_remark,
        at,
    );
    for (path, value, remark) in &draft.more {
        all.line(&format!("{path} {value}"), remark, None);
    }
    all.text.push_str("}\n");
    if let Some(weight) = hand.get("weight") {
        let said = format!(
            "weighed {} {{ finished {} g \u{B1} {} g }}",
            draft.name,
            trimmed(weight.value, 6),
            trimmed(up(weight.off, 6), 6)
        );
        let begin = all.text.len();
        all.text.push_str(&said);
        all.from.push((begin..all.text.len(), weight.at, false));
        all.text.push_str(&format!("  # {}\n", measured(weight)));
    }
    all
}

/// A range of lengths in words.
pub(super) fn mm_range(low: f64, high: f64) -> String {
    format!("{} to {} mm", trimmed(low, 3), trimmed(high, 3))
}

/// A range of masses in words.
pub(super) fn gram_range(low: f64, high: f64) -> String {
    format!("{} to {}", grams(low), grams(high))
}

/// How a range is known, where it is only found.
pub(super) fn way(way: RangeBy) -> &'static str {
    match way {
        RangeBy::Search => ", the widest found",
        RangeBy::Sum | RangeBy::Corners => "",
    }
}
