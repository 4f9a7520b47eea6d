//! Values inside what they may be off by, taken so that the weight comes out as it was read; or that none are found.

use std::ops::Range as Places;

use rust_decimal::Decimal;

use crate::evaluate::{Evaluation, range};
use crate::model::Ranged;
use crate::quantity::{Number, to_f64, unit};
use crate::source::{Sources, Span};
use crate::syntax::ast::{Entry, Expr, ExprKind, Numeral};
use crate::syntax::{self, ast};
use crate::words::{grams, shown_amount};

use super::fit::Gauging;
use super::hand::{Hand, InHand, trimmed};
use super::text::{Composed, Draft, gram_range, up};

/// Halvings of a way; more tell nothing that a double holds.
const STEPS: usize = 50;

/// Where a variable is written in the text of a band.
enum Written {
    Measured(&'static str),
    /// A line of the band by its number, and the bytes of its text.
    Line(usize, Places<usize>),
}

impl Gauging<'_> {
    /// Adds a band that weighs otherwise than was read, all as read: with what may be off of it taken so that the weight
    /// comes out, where its text can say so; else as read, and told.
    pub fn reaching(
        &mut self,
        hand: &Hand,
        draft: &Draft<'_>,
        (evaluation, composed): (&Evaluation, &Composed),
        weight: &InHand,
        mut remarks: Vec<String>,
    ) {
        let inputs = evaluation.inputs();
        let places: Vec<Option<Written>> = inputs
            .iter()
            .map(|one| written(&self.session.sources, composed, one.variable))
            .collect();
        let can = |place: usize| matches!(places.get(place), Some(Some(_)));
        let own = standing(evaluation, &inputs, weight, &can);
        let before = self.findings.len();
        if let Some(own) = own
            && let Some(taken) = taken(hand, draft, &places, &own)
            && let Some((there, text)) = self.evaluated(hand, &taken)
            && is_read(there.figures.weight, weight)
        {
            return self.fit(&taken, &text, &there, None, remarks);
        }
        self.findings.truncate(before);
        let weighs = grams(evaluation.figures.weight);
        let all = standing(evaluation, &inputs, weight, &|_| true);
        remarks.push(match all {
            Some(all) => {
                let moved = inputs.iter().zip(&all).filter(|(_, t)| **t != 0.0);
                let moved = moved.map(|(one, t)| {
                    let value = one.nominal + t * one.amount;
                    let value = shown_amount(value, one.dimension, one.unit.as_deref());
                    format!("`{}` about {value}", one.path)
                });
                let moved: Vec<String> = moved.collect();
                format!(
                    "as written it weighs {weighs}; the weight read comes out inside what is off of it, as with {}",
                    moved.join(", ")
                )
            }
            None => {
                let over = range(evaluation, &|of| Some(of.figures.weight));
                let over = over.map(|over| gram_range(over.low, over.high));
                format!(
                    "as written it weighs {weighs}, {} over all that may be off; which values together come to the weight read was not found",
                    over.unwrap_or_default()
                )
            }
        });
        self.fit(draft, composed, evaluation, None, remarks);
    }
}

/// Whether a weight is the one read, so far as the scale tells.
fn is_read(found: f64, weight: &InHand) -> bool {
    (found - weight.value).abs() <= weight.off + 1e-9
}

/// Where each of what may be off stands, -1 to 1, on the straight way from what was read to where the weight is
/// nearest, where it is the one read; none where that way does not lead to it.
fn standing(
    evaluation: &Evaluation,
    inputs: &[Ranged],
    weight: &InHand,
    moves: &dyn Fn(usize) -> bool,
) -> Option<Vec<f64>> {
    let over = range(evaluation, &|of| Some(of.figures.weight))?;
    let heavier = weight.value > evaluation.figures.weight;
    let end = if heavier { over.highest } else { over.lowest };
    let ends = inputs.iter().enumerate().map(|(place, one)| {
        let found = end.iter().find(|(variable, _)| *variable == one.variable);
        found.filter(|_| moves(place)).map_or(0.0, |(_, t)| *t)
    });
    let ends: Vec<f64> = ends.collect();
    let at = |part: f64| -> Option<f64> {
        let point = inputs.iter().zip(&ends);
        let point: Vec<(Span, f64)> = point.map(|(one, t)| (one.variable, t * part)).collect();
        Some(evaluation.standing(&point)?.figures.weight)
    };
    let (mut from, mut to) = (0.0, 1.0);
    for _ in 0..STEPS {
        let middle = (from + to) / 2.0;
        match (at(middle)? < weight.value) == heavier {
            true => from = middle,
            false => to = middle,
        }
    }
    is_read(at(to)?, weight).then(|| ends.iter().map(|t| t * to).collect())
}

/// Where in the text of the band a variable is written.
fn written(sources: &Sources, composed: &Composed, variable: Span) -> Option<Written> {
    let source = sources.holding(variable)?;
    let at = source.text.len().checked_sub(composed.text.len())?;
    let range = source.range(variable);
    if !source.text.ends_with(&composed.text) || range.start < at {
        return None;
    }
    let range = range.start - at..range.end - at;
    let holds = |part: &Places<usize>| part.contains(&range.start);
    let measured = composed.measured.iter().find(|(part, _)| holds(part));
    let line = || composed.lines.iter().find(|(part, _)| holds(part));
    match (measured, line()) {
        (Some((_, word)), _) => Some(Written::Measured(word)),
        (None, Some((part, line))) => {
            let own = range.start - part.start..range.end - part.start;
            Some(Written::Line(*line, own))
        }
        (None, None) => None,
    }
}

/// A draft with values where they stand; none where a line of the band cannot say its own.
fn taken<'h>(
    hand: &Hand,
    draft: &Draft<'h>,
    places: &[Option<Written>],
    standing: &[f64],
) -> Option<Draft<'h>> {
    let mut draft = draft.clone();
    let mut edits: Vec<(usize, Places<usize>, String)> = Vec::new();
    for (place, t) in places.iter().zip(standing) {
        match place {
            Some(Written::Measured(word)) => {
                let one = hand.get(word)?;
                draft.moved.push((*word, one.value + t * one.off));
            }
            Some(Written::Line(line, by)) if *t != 0.0 => {
                let text = &hand.lines.get(*line)?.text;
                let (range, value) = stands(text, by, *t)?;
                edits.push((*line, range, value));
            }
            _ => {}
        }
    }
    // From the end of each line on, so that what is before stays in its place.
    edits.sort_by_key(|(line, range, _)| (*line, std::cmp::Reverse(range.start)));
    for (line, range, value) in edits {
        let known = draft.taken.iter_mut().find(|(known, _)| *known == line);
        match known {
            Some((_, text)) => text.replace_range(range, &value),
            None => {
                let mut text = hand.lines.get(line)?.text.clone();
                text.replace_range(range, &value);
                draft.taken.push((line, text));
            }
        }
    }
    Some(draft)
}

/// The place of a value in a line whose `±` is written there, and the value where it stands in its range; none where it
/// is no plain number with a unit.
fn stands(text: &str, by: &Places<usize>, t: f64) -> Option<(Places<usize>, String)> {
    let mut scratch = Sources::default();
    let id = scratch.add("line", text);
    let source = scratch.get(id)?;
    let tree = syntax::parse(source).value;
    let found = ast::entries(&tree.items)
        .find_map(|entry| deviating(entry, &|of: &Expr| source.range(of.span) == *by));
    let (value, deviation) = found?;
    let ((number, word), (amount, other)) = (literal(value)?, literal(deviation)?);
    let (own, its) = (unit::scale(word).ok()?, unit::scale(other).ok()?);
    let amount = match own.dimension == its.dimension {
        true => {
            let one = its.to_base(Decimal::ONE).map(Number::Exact)?;
            amount * own.of_base(one)?.to_f64()
        }
        // In per cent of the value.
        false => number * amount * its.to_base(Decimal::ONE).map(to_f64)?,
    };
    let moved = number + t * amount;
    let off = up(amount.abs() * (1.0 + t.abs()), 5);
    let range = source.range(value.span).start..source.range(deviation.span).end;
    Some((
        range,
        format!(
            "{} {word} \u{B1} {} {word}",
            trimmed(moved, 5),
            trimmed(off, 5)
        ),
    ))
}

/// A value and what is written behind it of what it may be off by, in an entry or its block.
fn deviating<'e>(entry: &'e Entry, is_it: &dyn Fn(&Expr) -> bool) -> Option<(&'e Expr, &'e Expr)> {
    let own = entry.values.iter().find_map(|value| match &value.kind {
        ExprKind::Tolerance { value, deviation } if is_it(deviation) => {
            Some((&**value, &**deviation))
        }
        _ => None,
    });
    let mut inner = entry.block.iter().flat_map(ast::Block::entries);
    own.or_else(|| inner.find_map(|entry| deviating(entry, is_it)))
}

/// A number with a unit as it is written.
fn literal(expr: &Expr) -> Option<(f64, &str)> {
    match &expr.kind {
        ExprKind::Quantity {
            number: Numeral::Decimal(number),
            unit: Some(unit),
        } => Some((to_f64(*number), unit.value.as_str())),
        _ => None,
    }
}
