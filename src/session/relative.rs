//! Relative overrides (`shell + 0.05 mm`) to the absolute line that they stand for.
//!
//! Input: a line and what the recipe comes to without it. Output: the line that a person would have written
//! instead. A written number is added up exactly and keeps its unit and its `±`; an expression is kept, with
//! the step behind it, so that it goes on following what it refers to.

use crate::finding::Finding;
use crate::model::{FieldValue, Value, check};
use crate::quantity::{Number, Quantity};
use crate::source::Span;
use crate::syntax;
use crate::syntax::ast::{self, ExprKind};

use super::edit::find_holder;
use super::error::SessionError;
use super::question::Results;
use super::{Outcome, Prepared, Session};

/// What stands between a path and its step.
struct Step<'a> {
    path: &'a str,
    sign: char,
    amount: &'a str,
}

/// Whether a line holds a relative override.
#[must_use]
pub fn is_relative(line: &str) -> bool {
    pieces(line).iter().any(|piece| step(piece).is_some())
}

impl Session {
    /// The absolute line that a relative one stands for.
    ///
    /// # Errors
    /// What is wrong with it: a path that nobody knows, a value that is not there, a step of another kind.
    pub fn absolute(
        &mut self,
        line: &str,
        band: Option<&str>,
        prepared: &Prepared,
        outcome: &Outcome,
    ) -> Result<String, Vec<Finding>> {
        let mut pieces_out = Vec::new();
        for piece in pieces(line) {
            pieces_out.push(match step(piece) {
                Some(step) => self.stepped(piece, &step, band, prepared, outcome)?,
                None => piece.trim().to_owned(),
            });
        }
        Ok(pieces_out.join(", "))
    }

    fn stepped(
        &mut self,
        piece: &str,
        step: &Step<'_>,
        band: Option<&str>,
        prepared: &Prepared,
        outcome: &Outcome,
    ) -> Result<String, Vec<Finding>> {
        let mut findings = Vec::new();
        // The sign is left out, so that the rest reads as a field with a value, each in its own place.
        let bare = piece.replacen(step.sign, " ", 1);
        let id = self.sources.add("try", &bare);
        let Some(source) = self.sources.get(id) else {
            return Err(findings);
        };
        let parsed = syntax::parse(source);
        if !parsed.findings.is_empty() {
            return Err(parsed.findings);
        }
        let Some(entry) = ast::entries(&parsed.value.items).next() else {
            return Err(findings);
        };
        let names = prepared.names();
        let Some((of, path)) = names.place(entry, band, &mut findings) else {
            return Err(findings);
        };
        let current = self
            .current(of.as_deref(), &path, outcome)
            .or_else(|| self.in_block(of.as_deref()?, &path, prepared));
        let Some(current) = current else {
            let name = match &of {
                Some(of) => format!("{of}.{path}"),
                None => path,
            };
            let problem = SessionError::NothingToStepFrom {
                at: entry.head_span(),
                name,
                path: step.path.to_owned(),
            };
            return Err(vec![problem.into()]);
        };
        let text = self.sum(&current, step, of.as_deref(), outcome)?;
        Ok(format!("{} {text}", step.path))
    }

    /// The text of a value as it is written, or as a recipe would write it.
    fn current(&self, band: Option<&str>, path: &str, outcome: &Outcome) -> Option<String> {
        let written = |place: Option<&Span>| {
            let text = self.sources.slice(*place?).trim();
            let (_, rest) = text.split_once(char::is_whitespace)?;
            Some(rest.trim().to_owned())
        };
        let Some(band) = band else {
            let one = outcome.recipe.lets.iter().find(|one| one.name == path)?;
            // `let cut = 0.30 mm`, or `cut 0.25 mm` where it was laid over.
            let text = written(one.places.last())?;
            return Some(match text.split_once(" = ") {
                Some((name, value)) if name.trim() == path => value.trim().to_owned(),
                _ => text,
            });
        };
        if let ("prices" | "shop", Some(money)) = (band, &outcome.recipe.money) {
            let path = format!("{band}.{path}");
            let setting = money.fields.iter().find(|setting| setting.path == path)?;
            return written(setting.value.places.last());
        }
        let band = outcome
            .recipe
            .bands
            .iter()
            .find(|known| known.name == band)?;
        let Some(field) = band.field(path) else {
            // Where `outside` is written, the thickness follows from it.
            let thickness = (path == "thickness").then(|| band.thickness.value());
            return thickness.map(|mm| format!("{} mm", mm.normalize()));
        };
        let FieldValue { places, value, .. } = field;
        written(places.last()).or_else(|| Some(check::shown(value)))
    }

    /// The text of a value of a block that is no band.
    fn in_block(&self, block: &str, path: &str, prepared: &Prepared) -> Option<String> {
        let mut trees = prepared.trees().iter();
        let mut entry = trees.find_map(|tree| find_holder(tree, block))?;
        for word in path.split('.') {
            let mut inner = entry.block.as_ref()?.entries();
            entry = inner.find(|inner| inner.head_name() == Some(word))?;
        }
        let (first, last) = (entry.values.first()?, entry.values.last()?);
        Some(self.sources.slice(first.span.to(last.span)).to_owned())
    }

    /// A written value with a step behind it, added up where both are plain numbers.
    fn sum(
        &mut self,
        current: &str,
        step: &Step<'_>,
        band: Option<&str>,
        outcome: &Outcome,
    ) -> Result<String, Vec<Finding>> {
        let (base, deviation) = match current.split_once('\u{B1}').or(current.split_once("+/-")) {
            Some((base, deviation)) => (base.trim(), format!(" \u{B1} {}", deviation.trim())),
            None => (current, String::new()),
        };
        let whole = format!("{base} {} {}", step.sign, step.amount);
        let id = self.sources.add("try", &whole);
        let Some(source) = self.sources.get(id) else {
            return Ok(whole);
        };
        let parsed = syntax::parse_query(source);
        let mut findings = parsed.findings;
        let Some(expr) = parsed.value.filter(|_| findings.is_empty()) else {
            return Err(findings);
        };
        let chosen = Outcome {
            chosen: band.map(str::to_owned),
            recipe: outcome.recipe.clone(),
            evaluations: Vec::new(),
            ..Outcome::default()
        };
        let plain = match &expr.kind {
            ExprKind::Binary { left, right, .. } => is_plain(left) && is_plain(right),
            _ => false,
        };
        if !plain {
            return Ok(whole + &deviation);
        }
        let value = crate::model::Evaluator {
            scope: &mut Results { outcome: &chosen },
            findings: &mut findings,
        }
        .value(&expr, None);
        match value {
            Some(value) => Ok(match exactly(&value) {
                Some(text) => text + &deviation,
                None => whole + &deviation,
            }),
            None => Err(findings),
        }
    }
}

/// A value as a recipe would write it, when it is exact.
fn exactly(value: &Value) -> Option<String> {
    match value {
        Value::Quantity {
            quantity:
                Quantity {
                    number: Number::Exact(_),
                    ..
                },
            ..
        }
        | Value::Size { .. } => Some(check::shown(value)),
        _ => None,
    }
}

/// Whether a value is a number or a size as written.
fn is_plain(expr: &ast::Expr) -> bool {
    match &expr.kind {
        ExprKind::Quantity { .. } | ExprKind::Size { .. } => true,
        ExprKind::Group(inner) | ExprKind::Negate(inner) => is_plain(inner),
        _ => false,
    }
}

/// The step in an entry's text, if it is one.
fn step(piece: &str) -> Option<Step<'_>> {
    let (path, rest) = piece.trim_start().split_once(char::is_whitespace)?;
    let rest = rest.trim_start();
    let sign = rest.chars().next().filter(|c| matches!(c, '+' | '-'))?;
    let amount = rest.get(1..)?;
    let spaced = amount.starts_with(char::is_whitespace);
    let named = path.starts_with(char::is_alphabetic);
    (spaced && named).then_some(Step {
        path,
        sign,
        amount: amount.trim(),
    })
}

/// The entries of a line, where some of them are steps; commas in brackets and between quotes part nothing.
fn pieces(line: &str) -> Vec<&str> {
    let (mut depth, mut quoted, mut start) = (0_usize, false, 0);
    let mut found = Vec::new();
    for (place, c) in line.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '{' | '[' | '(' if !quoted => depth += 1,
            '}' | ']' | ')' if !quoted => depth = depth.saturating_sub(1),
            ',' | '\n' if !quoted && depth == 0 => {
                found.push(line.get(start..place).unwrap_or(""));
                start = place + 1;
            }
            _ => {}
        }
    }
    found.push(line.get(start..).unwrap_or(""));
    found
}
