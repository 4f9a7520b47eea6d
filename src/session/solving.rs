//! `solve FIELD [FROM .. TO] for PATH = VALUE`: one number sought for a target.

use std::ops::RangeInclusive;

use rust_decimal::{Decimal, RoundingStrategy};
use rustc_hash::FxHashMap;

use crate::explore::{
    Axis, Came, Cell, Engine, FoundRoot, Hindrance, Nearest, Readout, RowReader, Sides, Solution,
    What, solve,
};
use crate::finding::Finding;
use crate::model::Value;
use crate::quantity::{Number, from_f64, to_f64, to_places};
use crate::syntax::ast::{ExprKind, Operator};

use super::anew::Resolver;
use super::choosing::CHOOSE_WORDS;
use super::clauses::{clauses, listed_parts};
use super::exploring::Asking;
use super::sweeping::SWEEP_WORDS;
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
    let others = clauses(text, &[SWEEP_WORDS, CHOOSE_WORDS].concat());
    if let Some((word, _)) = others.rest.first() {
        let help = "`choose` keeps limits and has aims, `sweep` shows more; a solve has one field and its target";
        return asking.lacks(word, "a solve has no such clause", help);
    }
    let said = clauses(text, SOLVE_WORDS);
    let [(_, target)] = said.rest.as_slice() else {
        return asking.lacks(text, "no target is stated", HELP);
    };
    let only = "`choose` varies several fields, as in `choose shell, sleeve least weight`";
    if listed_parts(said.first).len() > 1 {
        return asking.lacks(said.first, "a solve seeks one field", only);
    }
    asking.axis(said.first, true)?;
    if let Some(axis) = asking.axes.first().filter(|axis| axis.count() == 1) {
        let at = axis.at;
        return asking.refuse(
            at,
            "this is one value, or a second field: a solve seeks the values of one",
            only,
        );
    }
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
        if found.meet(0.0) {
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
    let value = |number: Decimal| axis.measured(number.clamp(from, to).normalize(), dimension);
    // What is narrowed down comes to the same digits again and again.
    let mut known: FxHashMap<Decimal, Option<Sides>> = FxHashMap::default();
    let mut at = |number: f64| {
        let number = to_places(number, FINE)?.clamp(from, to).normalize();
        let of = || sides(&mut reader, &axis.measured(number, dimension)?);
        *known.entry(number).or_insert_with(of)
    };
    let finest = to_f64(Decimal::new(1, FINE));
    let solved = solve(to_f64(from), to_f64(to), finest, &mut at);
    let mut sought = Sought {
        look: &mut at,
        value: &value,
    };
    let roots = solved.roots.iter().filter_map(|root| {
        // As few digits as still do; where both sides are small, what they usually are says how exactly they must meet.
        let meets = |usual: f64| move |found: Sides| found.meet(usual);
        let strict = sought.shortest(root.at, 3..=SHOWN, meets(0.0));
        let (at, found) =
            strict.or_else(|| sought.shortest(root.at, SHOWN..=FINE, meets(solved.usual)))?;
        let flat = root.flat.and_then(|(low, high)| {
            let same = |one: Sides| one.gap() == 0.0;
            let low = sought.beside(low, RoundingStrategy::ToPositiveInfinity, same)?;
            let high = sought.beside(high, RoundingStrategy::ToNegativeInfinity, same)?;
            Some((low, high)).filter(|(low, high)| low.0 < high.0)
        });
        Some(FoundRoot {
            at,
            left: Number::Computed(found.left),
            flat: flat.map(|((_, low), (_, high))| (low, high)),
        })
    });
    let roots: Vec<FoundRoot> = roots.collect();
    let nearest = solved.nearest.and_then(|(number, exact, stop)| {
        // What it comes short of may grow by a ten-thousandth of the whole, for the sake of a shorter number.
        let alike = exact.gap().abs() + CLOSE * exact.size().max(solved.usual * CLOSE);
        let alike = |found: Sides| found.gap().abs() <= alike;
        let (at, sides) = sought.shortest(number, 3..=FINE, alike)?;
        Some(Nearest {
            at,
            left: Number::Computed(sides.left),
            right: Number::Computed(sides.right),
            why: why(engine, axis, stop, &mut sought),
        })
    });
    (roots, nearest)
}

/// Shorter numbers sought that serve as well as a long one.
struct Sought<'a> {
    look: &'a mut dyn FnMut(f64) -> Option<Sides>,
    value: &'a dyn Fn(Decimal) -> Option<Value>,
}

impl Sought<'_> {
    /// A number with as few digits as still serve, rounded to the nearer side first.
    fn shortest(
        &mut self,
        number: f64,
        places: RangeInclusive<u32>,
        serves: impl Fn(Sides) -> bool,
    ) -> Option<(Value, Sides)> {
        let exact = from_f64(number)?;
        for places in places {
            let near = exact.round_dp(places);
            let step = Decimal::new(1, places);
            let other = if near > exact {
                near - step
            } else {
                near + step
            };
            for number in [near, other] {
                if let Some(found) = (self.look)(to_f64(number)).filter(|found| serves(*found)) {
                    return Some(((self.value)(number)?, found));
                }
            }
        }
        None
    }

    /// A number with few digits next to one at which nothing is there, at which nothing is either.
    fn without(&mut self, number: f64) -> Option<Decimal> {
        let exact = from_f64(number)?;
        (3..=FINE).find_map(|places| {
            let (near, step) = (exact.round_dp(places), Decimal::new(1, places));
            let tried = [near, near - step, near + step];
            tried
                .into_iter()
                .find(|number| (self.look)(to_f64(*number)).is_none())
        })
    }

    /// The end of a range as it is shown, rounded to the side on which it still serves.
    fn beside(
        &mut self,
        end: f64,
        inward: RoundingStrategy,
        serves: impl Fn(Sides) -> bool,
    ) -> Option<(Decimal, Value)> {
        let exact = from_f64(end)?;
        (SHOWN..=FINE).find_map(|places| {
            // It is found a little inside of where it is.
            let tried = [
                exact.round_dp(places),
                exact.round_dp_with_strategy(places, inward),
            ];
            let mut tried = tried.into_iter();
            let number = tried.find(|number| (self.look)(to_f64(*number)).is_some_and(&serves))?;
            Some((number, (self.value)(number)?))
        })
    }
}

/// How many digits behind the point a number is shown with, unless it takes more, and is tried with at most.
const SHOWN: u32 = 6;
const FINE: u32 = 9;

/// What a nearest value may lose by being shown with fewer digits, as a part of what it comes to.
const CLOSE: f64 = 1e-4;

/// What stops a search, in words.
fn why(engine: &Engine<'_>, axis: &Axis, stop: Hindrance, sought: &mut Sought<'_>) -> String {
    let shown = |value: Option<Value>| {
        value.map_or_else(String::new, |one| crate::model::check::written(&one))
    };
    let exact = |number: f64| from_f64(number).unwrap_or_default();
    match stop {
        Hindrance::Least => format!("the bound {}", shown(axis.value(0))),
        Hindrance::Most => format!("the bound {}", shown(axis.value(1))),
        Hindrance::Edge(beyond) => {
            let number = sought.without(beyond).unwrap_or_else(|| exact(beyond));
            let beyond = (sought.value)(number);
            let why = beyond
                .as_ref()
                .and_then(|beyond| engine.why_not_with(std::slice::from_ref(beyond)));
            let why = why.unwrap_or_else(|| "it has no value there".to_owned());
            format!("at {}: {why}", shown(beyond))
        }
        Hindrance::Steps(at) => {
            format!(
                "it steps over the target at {}",
                shown((sought.value)(exact(at).round_dp(SHOWN)))
            )
        }
        Hindrance::Turns => "it turns back there".to_owned(),
        Hindrance::Still => format!("{} does not move it", axis.path),
    }
}
