//! What moved between two evaluations of a band: fields, results, limits, cautions.

use crate::evaluate::{Caution, Evaluation};
use crate::finding::Finding;
use crate::model::Value;
use crate::quantity::{Deviation, Number, Quantity};
use crate::schema::{self, ResultId, Subject};
use crate::words;

/// Results that a maker looks at first.
pub const HEADLINES: &[ResultId] = &[
    ResultId::Weight,
    ResultId::Saving,
    ResultId::WallLeast,
    ResultId::PatternTime,
    ResultId::Cost,
    ResultId::Price,
    ResultId::WeightIssued,
    ResultId::Outside,
    ResultId::Bore,
    ResultId::GripPressure,
];

/// A field, a result or a total before and after.
#[derive(Clone, Debug)]
pub struct MovedFigure<S = Subject> {
    /// What moved.
    pub of: S,
    /// Its value before, where it had one.
    pub before: Option<Value>,
    /// Its value after, where it has one.
    pub after: Option<Value>,
}

impl<S> MovedFigure<S> {
    /// How far it moved, when both are quantities of one kind.
    #[must_use]
    pub fn difference(&self) -> Option<Quantity> {
        let (before, after) = (self.before.as_ref()?, self.after.as_ref()?);
        let plain = |value: &Value| {
            let found = value.quantity()?;
            Some(Quantity::new(found.number, found.dimension))
        };
        plain(after)?.minus(&plain(before)?).ok()
    }

    /// How far it moved as a part of what it was.
    #[must_use]
    pub fn share(&self) -> Option<f64> {
        let before = self.before.as_ref()?.quantity()?.number.to_f64();
        let difference = self.difference()?.number.to_f64();
        (before != 0.0).then_some(difference / before)
    }
}

impl MovedFigure {
    /// Whether it is one of those that a maker looks at first.
    #[must_use]
    pub fn is_headline(&self) -> bool {
        matches!(self.of, Subject::Result(id) if HEADLINES.contains(&id))
    }
}

/// Everything that moved.
#[derive(Clone, Debug, Default)]
pub struct Change {
    /// The band's name.
    pub band: String,
    /// Fields and results that moved, in the order of the vocabulary, fields first.
    pub moved: Vec<MovedFigure>,
    /// Limits that fall short now and did not before.
    pub broken: Vec<Finding>,
    /// Limits that fell short before and do not now.
    pub met: Vec<Finding>,
    /// Cautions that were not due before.
    pub cautions: Vec<&'static Caution>,
}

impl Change {
    /// Whether nothing moved at all.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.moved.is_empty()
            && self.broken.is_empty()
            && self.met.is_empty()
            && self.cautions.is_empty()
    }

    /// How many results are left where no more than so many are told beside those that are looked at first.
    #[must_use]
    pub fn left(&self, most: usize) -> usize {
        let moved = self.moved.iter();
        let rest = moved.filter(|one| one.of.is_result() && !one.is_headline());
        rest.count().saturating_sub(most)
    }
}

/// Everything that moved from one evaluation of a band to another.
///
/// # Example
/// ```
/// use annulet::explore::change;
/// use annulet::session::{Request, Session};
/// let band = |width: &str| format!(
///     "band b {{ size 16 mm, width {width}, thickness 2 mm, profile flat, alloy sterling }}");
/// let evaluated = |text: &str| {
///     Session::default().run("r", text, &Request::default()).evaluations.remove(0)
/// };
/// let change = change(&evaluated(&band("5 mm")), &evaluated(&band("6 mm")));
/// let moved: Vec<&str> = change.moved.iter().map(|one| one.of.path()).collect();
/// assert_eq!(moved[..2], ["width", "weight"]);
/// assert!((change.moved[1].share().unwrap() - 0.2).abs() < 1e-12);
/// ```
#[must_use]
pub fn change(before: &Evaluation, after: &Evaluation) -> Change {
    let mut moved = Vec::new();
    for field in schema::of_band() {
        let value = |of: &Evaluation| of.band.field(field.id).map(|field| field.value.clone());
        // What comes or goes with its block and is written nowhere is no news.
        let written = |of: &Evaluation| of.band.field(field.id).is_some_and(|one| one.at.is_some());
        let news = written(before) || written(after);
        let both = before.band.field(field.id).is_some() && after.band.field(field.id).is_some();
        let (before, after) = (value(before), value(after));
        if (news || both) && !same(before.as_ref(), after.as_ref()) {
            moved.push(MovedFigure {
                of: Subject::Field(field.id),
                before,
                after,
            });
        }
    }
    // How far a result may be off moves with it; looked at alone only where a `±` was changed.
    let amounts = |of: &Evaluation| -> Vec<(String, f64)> {
        let all = of.band.ranged().into_iter();
        all.map(|one| (one.path, one.amount)).collect()
    };
    let off = amounts(before) != amounts(after);
    for entry in schema::RESULTS.iter() {
        let (old, new) = (before.number(entry.id), after.number(entry.id));
        let value = |of: &Evaluation| of.value(entry);
        let worst = |of: &Evaluation| Some(Number::Computed(of.result(entry)?.worst()));
        if differ(old, new) || (off && differ(worst(before), worst(after))) {
            moved.push(MovedFigure {
                of: Subject::Result(entry.id),
                before: value(before),
                after: value(after),
            });
        }
    }
    let (broken, met) = crossed(&words::findings(before), &words::findings(after));
    let cautions = after
        .cautions
        .iter()
        .filter(|new| !before.cautions.iter().any(|old| old.name == new.name))
        .copied()
        .collect();
    Change {
        band: after.band.name.clone(),
        moved,
        broken,
        met,
        cautions,
    }
}

/// Whether a field says the same, wherever its `±` is written.
fn same(before: Option<&Value>, after: Option<&Value>) -> bool {
    let amounts = |of: &[Deviation]| -> Vec<Number> { of.iter().map(|one| one.amount).collect() };
    match (before, after) {
        (
            Some(Value::Quantity { quantity, unit }),
            Some(Value::Quantity {
                quantity: other,
                unit: other_unit,
            }),
        ) => {
            let plain = |of: &Quantity| (of.number, of.dimension, amounts(&of.deviations));
            plain(quantity) == plain(other) && unit == other_unit
        }
        (
            Some(Value::Size {
                size, deviations, ..
            }),
            Some(Value::Size {
                size: other,
                deviations: others,
                ..
            }),
        ) => size == other && amounts(deviations) == amounts(others),
        (before, after) => before == after,
    }
}

/// Whether a result moved: the last digits of a float are no move.
fn differ(old: Option<Number>, new: Option<Number>) -> bool {
    match (old, new) {
        (Some(Number::Computed(old)), Some(Number::Computed(new))) => {
            (old - new).abs() > 1e-12 * old.abs().max(new.abs()).max(1.0)
        }
        (old, new) => old != new,
    }
}

/// Whether two results are the same but for the last digits of a float.
pub(super) fn alike(one: Option<&Value>, other: Option<&Value>) -> bool {
    let parts = |value: &Value| match value {
        Value::Quantity { quantity, unit } => Some((
            quantity.number,
            Number::Computed(quantity.worst()),
            quantity.dimension,
            unit.clone(),
        )),
        _ => None,
    };
    match (one.and_then(parts), other.and_then(parts)) {
        (Some(one), Some(other)) => {
            !differ(Some(one.0), Some(other.0))
                && !differ(Some(one.1), Some(other.1))
                && (one.2, one.3) == (other.2, other.3)
        }
        _ => one == other,
    }
}

/// Limits that are broken only after, and only before.
fn crossed(before: &[Finding], after: &[Finding]) -> (Vec<Finding>, Vec<Finding>) {
    let only = |of: &[Finding], not: &[Finding]| {
        let known: Vec<String> = not.iter().map(subject).collect();
        let new = of.iter().filter(|one| !known.contains(&subject(one)));
        new.cloned().collect()
    };
    (only(after, before), only(before, after))
}

/// What a finding is about: its code and its message without figures.
fn subject(finding: &Finding) -> String {
    let message = finding.message();
    let words = message
        .split_whitespace()
        .filter(|word| !word.contains(|c: char| c.is_ascii_digit()));
    words.fold(finding.code(), |text, word| text + " " + word)
}
