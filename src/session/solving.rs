//! `solve FIELD [FROM .. TO] for PATH = VALUE`: one number sought for a target.

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::explore::{
    Axis, Came, Cell, Engine, FoundRoot, Hindrance, Nearest, Readout, RowReader, Sides, Solution,
    What, solve,
};
use crate::finding::Finding;
use crate::model::Value;
use crate::quantity::{Number, to_f64, to_places};
use crate::syntax::ast::{ExprKind, Operator};

use super::anew::Resolver;
use super::clauses::clauses;
use super::exploring::Asking;
use super::{Outcome, Prepared, Request, Session};

/// The words of a solve.
pub const SOLVE_WORDS: &[&str] = &["for"];

/// The most values that are tried one by one.
const MOST: u64 = 100_000;

impl Session {
    /// Seeks the values of a field for which two sides come to the same.
    ///
    /// # Errors
    /// None, with findings that say why.
    pub fn solve(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        text: &str,
    ) -> (Option<Solution>, Vec<Finding>) {
        let mut asking = Asking::new(self, prepared, request, outcome);
        let asked = read(&mut asking, text);
        let (bands, findings) = (asking.bands.clone(), std::mem::take(&mut asking.findings));
        let Some((axis, left, right, target)) = asked else {
            return (None, findings);
        };
        let anew = Resolver::new(self, prepared, request, outcome, &bands);
        let engine = Engine::new(
            &anew,
            vec![axis.clone()],
            bands,
            vec![left.clone(), right],
            Vec::new(),
        );
        let (mut roots, mut nearest) = match axis.free() {
            true => between(&engine, &axis),
            false => one_by_one(&engine, &axis),
        };
        tell_exactly(&engine, &mut roots, nearest.as_mut());
        let solution = Solution {
            axis,
            left,
            target,
            roots,
            nearest,
        };
        (Some(solution), findings)
    }
}

fn read(asking: &mut Asking<'_>, text: &str) -> Option<(Axis, Readout, Readout, String)> {
    const HELP: &str = "as in `solve shell 0.3 mm .. 1 mm for weight = 2.9 g`";
    let said = clauses(text, SOLVE_WORDS);
    let [(_, target)] = said.rest.as_slice() else {
        return asking.lacks(text, "no target is stated", HELP);
    };
    asking.axis(said.first, true)?;
    let expr = asking.expr(target)?;
    let ExprKind::Binary {
        operator,
        left,
        right,
    } = &expr.kind
    else {
        return asking.refuse(expr.span, "a target is one value", HELP);
    };
    if operator.value != Operator::Equal {
        let help = "write `=`; `choose` keeps limits such as `>=`";
        return asking.refuse(operator.span, "a target is one value", help);
    }
    let name = asking.text_of(left);
    let left = asking.numbers(&name)?;
    let unit = left.unit.clone();
    let worked = asking.worked((**right).clone())?;
    let right = Readout {
        name: asking.text_of(right),
        what: What::of(worked, &unit),
        unit,
    };
    // Both must be of one kind, where they are known now.
    asking.comparable(&expr)?;
    asking.is_sound().then_some(())?;
    let axis = asking.axes.first()?.clone();
    if axis.count() > MOST {
        let help = "leave the step out, or take a longer one";
        return asking.refuse(axis.at, "there are too many values to try one by one", help);
    }
    Some((axis, left, right, (*target).to_owned()))
}

/// Both sides with one value; none where one of them is not there.
fn sides(reader: &mut RowReader<'_, '_>, value: &Value) -> Option<Sides> {
    let mut cells = Vec::new();
    let came = reader.read_values(std::slice::from_ref(value), &mut cells);
    let numbers = cells.iter().map(Cell::number);
    let numbers: Option<Vec<Number>> = numbers.collect();
    match (came, numbers.as_deref()) {
        (Came::Kept, Some([left, right])) => Some(Sides {
            left: left.to_f64(),
            right: right.to_f64(),
        }),
        _ => None,
    }
}

/// Puts what was found as rows have it: money is exact there, and computed where both sides are compared.
fn tell_exactly(engine: &Engine<'_>, roots: &mut [FoundRoot], nearest: Option<&mut Nearest>) {
    let mut reader = RowReader::new(engine);
    let mut read = |at: &Value| {
        let mut cells = Vec::new();
        reader.read_values(std::slice::from_ref(at), &mut cells);
        let mut numbers = cells.iter().map(Cell::number);
        (numbers.next().flatten(), numbers.next().flatten())
    };
    for root in roots {
        root.left = read(&root.at).0.unwrap_or(root.left);
    }
    if let Some(near) = nearest {
        let (left, right) = read(&near.at);
        near.left = left.unwrap_or(near.left);
        near.right = right.unwrap_or(near.right);
    }
}

/// All values of an axis, one after the other.
fn one_by_one(engine: &Engine<'_>, axis: &Axis) -> (Vec<FoundRoot>, Option<Nearest>) {
    let mut reader = RowReader::new(engine);
    let (mut roots, mut nearest) = (Vec::new(), None::<(Value, Sides)>);
    for value in (0..axis.count()).filter_map(|place| axis.value(place)) {
        let Some(found) = sides(&mut reader, &value) else {
            continue;
        };
        if found.meet() {
            roots.push(FoundRoot {
                at: value.clone(),
                left: Number::Computed(found.left),
                flat: None,
            });
        }
        if nearest
            .as_ref()
            .is_none_or(|(_, known)| found.gap().abs() < known.gap().abs())
        {
            nearest = Some((value, found));
        }
    }
    let nearest = nearest
        .filter(|_| roots.is_empty())
        .map(|(at, sides)| Nearest {
            at,
            left: Number::Computed(sides.left),
            right: Number::Computed(sides.right),
            why: "no other value that may be taken comes nearer".to_owned(),
        });
    (roots, nearest)
}

/// All numbers between two bounds.
fn between(engine: &Engine<'_>, axis: &Axis) -> (Vec<FoundRoot>, Option<Nearest>) {
    let Some(((from, to), dimension)) = axis.ends().zip(axis.dimension()) else {
        return (Vec::new(), None);
    };
    let mut reader = RowReader::new(engine);
    let rounded = |number: f64, places: u32| {
        let number = to_places(number, places)?.clamp(from, to);
        Some(number.normalize())
    };
    let value = |number: f64, places: u32| axis.measured(rounded(number, places)?, dimension);
    // What is narrowed down comes to the same digits again and again.
    let mut known: FxHashMap<Decimal, Option<Sides>> = FxHashMap::default();
    let mut at = |number: f64| {
        let number = rounded(number, FINE)?;
        let of = || sides(&mut reader, &axis.measured(number, dimension)?);
        *known.entry(number).or_insert_with(of)
    };
    let solved = solve(to_f64(from), to_f64(to), &mut at);
    let roots = solved.roots.iter().filter_map(|root| {
        // As few digits as still do.
        let mut short = |places: &u32| {
            let value = value(root.at, *places)?;
            let found = at(to_f64(number_of(&value, axis)?))?;
            found.meet().then_some((value, found))
        };
        let (value_at, found) = (3..=FINE).find_map(|places| short(&places))?;
        let end = |number: f64| value(number, 6);
        Some(FoundRoot {
            at: value_at,
            left: Number::Computed(found.left),
            flat: root
                .flat
                .and_then(|(low, high)| end(low).zip(end(high)))
                .filter(|(low, high)| low != high),
        })
    });
    let roots: Vec<FoundRoot> = roots.collect();
    let nearest = solved.nearest.and_then(|(number, sides, stop)| {
        Some(Nearest {
            at: value(number, 6)?,
            left: Number::Computed(sides.left),
            right: Number::Computed(sides.right),
            why: why(engine, axis, stop, &value),
        })
    });
    (roots, nearest)
}

/// How many digits behind the point a number is tried with at most.
const FINE: u32 = 9;

fn number_of(value: &Value, axis: &Axis) -> Option<Decimal> {
    Cell::of(Some(value.clone()), &axis.unit).number()?.exact()
}

/// What stops a search, in words.
fn why(
    engine: &Engine<'_>,
    axis: &Axis,
    stop: Hindrance,
    value: &dyn Fn(f64, u32) -> Option<Value>,
) -> String {
    let shown = |value: Option<Value>| {
        value.map_or_else(String::new, |one| crate::model::check::written(&one))
    };
    match stop {
        Hindrance::Least => format!("the bound {}", shown(axis.value(0))),
        Hindrance::Most => format!("the bound {}", shown(axis.value(1))),
        Hindrance::Edge(beyond) => {
            let beyond = value(beyond, 6);
            let why = beyond
                .as_ref()
                .and_then(|beyond| engine.why_not_with(std::slice::from_ref(beyond)));
            let why = why.unwrap_or_else(|| "it has no value beyond".to_owned());
            format!("at {}: {why}", shown(beyond))
        }
        Hindrance::Steps(at) => format!("it steps over the target at {}", shown(value(at, 6))),
        Hindrance::Turns => "it turns back there".to_owned(),
        Hindrance::Still => format!("{} does not move it", axis.path),
    }
}
