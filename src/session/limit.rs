//! A limit of a choice: what is kept, to what, and by how much.

use crate::explore::{Cell, Compared, Readout, What};
use crate::model::check;
use crate::source::Spanned;
use crate::syntax::ast::{Expr, ExprKind, Operator};

use super::exploring::Asking;

/// A limit of a choice.
#[derive(Clone, Debug)]
pub(super) struct Limit {
    /// As it was said.
    pub text: String,
    /// The place of what is kept among the readings; none of `holds`.
    pub left: usize,
    /// The place of what it is kept to; none of `holds`.
    pub right: Option<usize>,
    /// The place of what both sides together may be off, where they may.
    pub off: Option<usize>,
    pub operator: Operator,
}

pub(super) fn limit(
    asking: &mut Asking<'_>,
    text: &str,
    readings: &mut Vec<Readout>,
) -> Option<Limit> {
    let found = asking.condition(text)?;
    let left = readings.len();
    if let Compared::Holds(band) = found.what {
        readings.push(Readout {
            name: text.to_owned(),
            unit: String::new(),
            what: What::Missing(band),
        });
        return Some(Limit {
            text: text.to_owned(),
            left,
            right: None,
            off: None,
            operator: Operator::Equal,
        });
    }
    let expr = asking.expr(text)?;
    let ExprKind::Binary {
        operator,
        left: one,
        right: other,
    } = &expr.kind
    else {
        return None;
    };
    if operator.value == Operator::Unequal {
        let help = "say on which side, with `<=` or `>=`";
        return asking.refuse(
            operator.span,
            "what something must not be is not a limit",
            help,
        );
    }
    // What is true of a ring as written need not be of one that is off: a limit is kept at its worst.
    let is_off = [one, other].into_iter().any(|side| asking.is_off(side));
    let between = is_off.then(|| {
        let sides = (Box::new((**one).clone()), Box::new((**other).clone()));
        let minus = Spanned {
            value: Operator::Subtract,
            span: operator.span,
        };
        let kind = ExprKind::Binary {
            operator: minus,
            left: sides.0,
            right: sides.1,
        };
        asking.worked(Expr {
            kind,
            ..expr.clone()
        })
    });
    let name = |asking: &Asking<'_>, expr: &Expr| asking.text_of(expr);
    let (one, other) = match asking.word_beside(&expr) {
        Some((word, value)) => {
            let text = Cell::Text(check::written(&value?));
            let field = [one, other]
                .into_iter()
                .find(|side| name(asking, side) != word);
            let field = name(asking, field.unwrap_or(one));
            let word = Readout {
                name: word,
                unit: String::new(),
                what: What::Same(text),
            };
            (asking.reading(&field)?, word)
        }
        None => {
            let (left, right) = (name(asking, one), name(asking, other));
            let left = asking.numbers(&left)?;
            let worked = asking.worked((**other).clone())?;
            let what = What::of(worked, &left.unit);
            let unit = left.unit.clone();
            let right = Readout {
                name: right,
                unit,
                what,
            };
            (left, right)
        }
    };
    let unit = one.unit.clone();
    readings.extend([one, other]);
    let off = match between {
        Some(between) => {
            readings.push(Readout {
                name: text.to_owned(),
                unit,
                what: What::Off(between?),
            });
            Some(left + 2)
        }
        None => None,
    };
    Some(Limit {
        text: text.to_owned(),
        left,
        right: Some(left + 1),
        off,
        operator: operator.value,
    })
}

impl Limit {
    /// What it asks, in the unit of its left side.
    pub fn asked(&self, cells: &[Cell]) -> Option<f64> {
        Some(cells.get(self.right?)?.number()?.to_f64())
    }

    /// By how much it is kept, as a part of what it asks; `given` is how much of it is given away, or what a limit without a right side asks.
    pub fn spare(&self, cells: &[Cell], given: f64) -> Option<f64> {
        let left = cells.get(self.left)?;
        if let Cell::Text(said) = left {
            let Some(Cell::Text(word)) = cells.get(self.right?) else {
                return None;
            };
            return Some(if said == word { 0.0 } else { -1.0 });
        }
        let left = left.number()?.to_f64();
        let (asked, given) = match self.right {
            Some(_) => (self.asked(cells)?, given),
            None if self.operator == Operator::Equal => return Some(given - left),
            None => (given, 0.0),
        };
        let off = match self.off {
            Some(off) => cells.get(off)?.number()?.to_f64(),
            None => 0.0,
        };
        let scale = asked.abs().max(1e-3);
        Some(match self.operator {
            Operator::Less | Operator::AtMost => (asked + given - left - off) / scale,
            Operator::More | Operator::AtLeast => (left - asked + given - off) / scale,
            _ => (given - (left - asked).abs()) / scale,
        })
    }
}
