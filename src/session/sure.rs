//! How sure a recipe's figures are, and what it requires at its worst: bands, `let`s, alloys and prices moved together.

use crate::evaluate::{
    DRAWS, Draws, Evaluation, Keeping, Range, Reckoning, Single, Sure, SureRequirement, by_name,
    range_of, range_over,
};
use crate::model::{Ranged, Requirement, Value};
use crate::schema::{ResultId, Subject, find_subject};
use crate::source::{Sources, Span};
use crate::syntax::ast::{Expr, ExprKind, Operator};
use crate::words;

use super::Outcome;
use super::question::{Meant, Results};

/// The worst of a requirement.
pub(super) struct WorstOf {
    /// How much less there is to spare than as written, in base units.
    pub less: f64,
    /// Where it lies, in words.
    pub inputs: Vec<String>,
}

/// A recipe anywhere in the ranges of what may be off.
struct Anywhere<'a> {
    outcome: &'a Outcome,
    /// What is read of it.
    moved: Outcome,
    inputs: Vec<Ranged>,
    variables: Vec<Span>,
}

impl<'a> Anywhere<'a> {
    /// Of the bands, and of the rings of orders too where those matter.
    fn of(outcome: &'a Outcome, of_orders: bool) -> Self {
        let mut inputs: Vec<Ranged> = Vec::new();
        let orders = outcome.orders.iter().filter(|_| of_orders);
        let rings = orders.clone().flat_map(|order| order.rings());
        let rings = outcome.evaluations.iter().chain(rings);
        for one in rings.flat_map(Evaluation::inputs) {
            if inputs.iter().all(|known| known.variable != one.variable) {
                inputs.push(one);
            }
        }
        let of_inputs = inputs.iter().map(|one| (one.path.clone(), one.variable));
        let mut named: Vec<(String, Span)> = of_inputs.collect();
        for one in &outcome.recipe.lets {
            let off = one
                .value
                .measured()
                .map(|(quantity, _)| &quantity.deviations);
            let off = off.into_iter().flatten();
            named.extend(off.map(|off| (one.name.clone(), off.variable)));
        }
        let moved = Outcome {
            recipe: outcome.recipe.clone(),
            evaluations: outcome.evaluations.clone(),
            orders: orders.cloned().collect(),
            chosen: outcome.chosen.clone(),
            ..Outcome::default()
        };
        Self {
            outcome,
            moved,
            inputs,
            variables: by_name(named),
        }
    }

    /// The recipe at a place, which is `kept` to be come back to; none where a band cannot be worked out there.
    fn at(&mut self, place: &[f64], kept: bool) -> Option<&Outcome> {
        let point: Vec<(Span, f64)> = self
            .variables
            .iter()
            .copied()
            .zip(place.iter().copied())
            .collect();
        let stands = |variable: Span| {
            let found = point.iter().find(|(known, _)| *known == variable);
            found.map_or(0.0, |(_, t)| *t)
        };
        let recipe = &self.outcome.recipe;
        let (moved, bands) = (&mut self.moved, &self.outcome.evaluations);
        for (old, new) in bands.iter().zip(&mut moved.evaluations) {
            *new = match kept {
                true => Evaluation::clone(&*old.standing(&point)?),
                false => old.drawn(&point)?,
            };
        }
        for (old, new) in self.outcome.orders.iter().zip(&mut moved.orders) {
            *new = old.standing(&point)?;
        }
        for (old, new) in recipe.lets.iter().zip(&mut moved.recipe.lets) {
            new.value = settled(old.value.at(&stands).unwrap_or_else(|| old.value.clone()));
        }
        for (old, new) in recipe.alloys.iter().zip(&mut moved.recipe.alloys) {
            *new = match old.at(&stands) {
                Some(alloy) => alloy.into(),
                None => old.clone(),
            };
        }
        if let Some(money) = &recipe.money {
            let money = money.at(&stands).map_or_else(|| money.clone(), Into::into);
            moved.recipe.money = Some(money);
        }
        Some(&self.moved)
    }

    /// Where what may be off stands, in words: `b.width 4.98 mm`.
    fn told(&self, point: &[(Span, f64)]) -> Vec<String> {
        let told = |(variable, t): &(Span, f64)| {
            let input = self.inputs.iter().find(|one| one.variable == *variable)?;
            Some(match self.outcome.called(*variable) {
                Some(name) => format!("`{name}` is {}", end(*t)),
                None => words::stands(input, *t),
            })
        };
        let mut point = point.to_vec();
        point.sort_by_key(|(variable, _)| *variable);
        point.iter().filter_map(told).collect()
    }
}

/// A value of which nothing may be off.
fn settled(mut value: Value) -> Value {
    match &mut value {
        Value::Quantity { quantity, .. } | Value::Circumference { quantity, .. } => {
            quantity.deviations.clear();
        }
        Value::Size { deviations, .. } => deviations.clear(),
        _ => {}
    }
    value
}

/// Whether a condition speaks of an order.
fn is_of_order(condition: &Expr) -> bool {
    let mut found = false;
    crate::model::paths(condition, &mut |path, _| {
        found |= path.0.starts_with("order.")
    });
    found
}

fn end(t: f64) -> &'static str {
    match t {
        t if t <= -1.0 => "at its lower end",
        t if t >= 1.0 => "at its upper end",
        _ => "inside its range",
    }
}

impl Outcome {
    /// The unit that a result of a band is read in.
    #[must_use]
    pub fn unit(&self, band: &str, id: ResultId) -> String {
        let mut bands = self.evaluations.iter();
        let found = bands.find(|of| of.band.name == band);
        found.map_or_else(String::new, |of| of.unit(id.row()).into_owned())
    }

    /// The name of the `let` that a `±` is written in.
    pub(crate) fn called(&self, variable: Span) -> Option<&str> {
        let holds = |at: &Span| at.start <= variable.start && variable.end <= at.end;
        let mut lets = self.recipe.lets.iter();
        let found = lets.find(|one| one.places.last().is_some_and(holds));
        found.map(|one| one.name.as_str())
    }

    /// What there is to spare of a comparison, in base units.
    fn spare(&self, requirement: &Requirement) -> Option<f64> {
        let condition = requirement.condition.as_ref()?;
        let (operator, left, right) = self.both_sides(condition, &mut Vec::new())?;
        let (left, right) = (left.measured()?.0, right.measured()?.0);
        // Written numbers leave no last bits.
        let by = left.number.minus(right.number)?.to_f64();
        match operator {
            Operator::Less | Operator::AtMost => Some(-by),
            Operator::More | Operator::AtLeast => Some(by),
            _ => None,
        }
    }

    /// The worst of a requirement over all that may be off; none where nothing may be, or it compares no sizes.
    pub(super) fn worst_of(&self, requirement: &Requirement) -> Option<WorstOf> {
        let (anywhere, range) = self.range_of(requirement)?;
        let inputs = anywhere.told(&range.lowest);
        Some(WorstOf {
            less: range.nominal - range.low,
            inputs,
        })
    }

    fn range_of(&self, requirement: &Requirement) -> Option<(Anywhere<'_>, Range)> {
        let condition = requirement.condition.as_ref()?;
        let (_, left, right) = self.both_sides(condition, &mut Vec::new())?;
        let off = |side: &Value| {
            let found = side.measured();
            found.is_some_and(|(quantity, _)| !quantity.deviations.is_empty())
        };
        if !off(&left) && !off(&right) {
            return None;
        }
        let nominal = self.spare(requirement)?;
        if let Some(range) = self.as_of_result(requirement, nominal) {
            return Some((Anywhere::of(self, false), range));
        }
        let mut anywhere = Anywhere::of(self, is_of_order(condition));
        let variables = anywhere.variables.clone();
        let fine = !self.evaluations.iter().any(|of| of.band.is_drawn());
        let mut at = |place: &[f64]| anywhere.at(place, true)?.spare(requirement);
        let range = range_over(&variables, nominal, fine, &mut at);
        Some((anywhere, range))
    }

    /// What there is to spare of one result beside a number of which nothing may be off: the range of the result, which
    /// was looked for already.
    fn as_of_result(&self, requirement: &Requirement, nominal: f64) -> Option<Range> {
        let condition = requirement.condition.as_ref()?;
        let ExprKind::Binary { left, right, .. } = &condition.kind else {
            return None;
        };
        let (operator, left_value, right_value) = self.both_sides(condition, &mut Vec::new())?;
        let (path, value, first) = match (&left.kind, &right.kind) {
            (ExprKind::Path(path), ExprKind::Quantity { .. }) => (path, &left_value, true),
            (ExprKind::Quantity { .. }, ExprKind::Path(path)) => (path, &right_value, false),
            _ => return None,
        };
        let results = Results { outcome: self };
        let Meant::Of(band, rest) = results.meant(&path.0, condition.span, &mut Vec::new())? else {
            return None;
        };
        let subjects = find_subject(rest);
        let [Subject::Result(id)] = subjects.as_slice() else {
            return None;
        };
        let range = range_of(self.evaluation(&band)?, id.row())?;
        let read = value.measured()?.0.number.to_f64();
        if (read - range.nominal).abs() > 1e-12 * read.abs() {
            // It is read in another unit than its base one.
            return None;
        }
        let rises = match operator {
            Operator::More | Operator::AtLeast => first,
            Operator::Less | Operator::AtMost => !first,
            _ => return None,
        };
        let (low, high) = (range.low - range.nominal, range.high - range.nominal);
        Some(match rises {
            true => Range {
                nominal,
                low: nominal + low,
                high: nominal + high,
                ..range
            },
            false => {
                let turned = range.singles.iter().map(|one| Single {
                    low: -one.low,
                    high: -one.high,
                    ..*one
                });
                Range {
                    nominal,
                    low: nominal - high,
                    high: nominal - low,
                    singles: turned.collect(),
                    lowest: range.highest,
                    highest: range.lowest,
                    ..range
                }
            }
        })
    }

    /// How sure everything is: ranges of all results, and what drawn rings come to.
    #[must_use]
    pub fn sure(&self, sources: &Sources) -> Sure {
        let conditions = self.recipe.requirements.iter();
        let mut conditions = conditions.filter_map(|one| one.condition.as_ref());
        let mut anywhere = Anywhere::of(self, conditions.any(is_of_order));
        let variables = anywhere.variables.clone();
        let requirements = self.recipe.requirements.iter();
        let requirements = requirements.filter(|one| one.condition.is_some());
        let mut requirements: Vec<(&Requirement, SureRequirement)> = requirements
            .map(|one| {
                let (spare, at_worst) = match self.range_of(one) {
                    Some((of, range)) => {
                        let told = of.told(&range.lowest);
                        (Some(range), told)
                    }
                    None => (None, Vec::new()),
                };
                let verdict = self.judged(one, sources, &mut Vec::new());
                let sure = SureRequirement {
                    what: verdict.what,
                    spare,
                    holds: verdict.holds,
                    kept: Keeping::default(),
                    at_worst,
                };
                (one, sure)
            })
            .collect();
        let mut draws = Draws::new();
        let mut bands: Vec<Option<Reckoning>> =
            self.evaluations.iter().map(Evaluation::reckoning).collect();
        let drawn = match variables.is_empty() {
            true => 0,
            // What drawn cuts come to takes a thousand times as long as all else.
            false if self.evaluations.iter().any(|of| of.band.is_drawn()) => DRAWS / 10,
            false => DRAWS,
        };
        for _ in 0..drawn {
            let place: Vec<f64> = variables.iter().map(|_| draws.draw()).collect();
            let Some(moved) = anywhere.at(&place, false) else {
                continue;
            };
            for (one, sure) in &mut requirements {
                if let Some(spare) = sure.spare.as_ref().and_then(|_| moved.spare(one)) {
                    sure.kept.count(spare >= -1e-9);
                }
            }
            for (ring, band) in moved.evaluations.iter().zip(&mut bands) {
                if let Some(band) = band {
                    band.count(ring);
                }
            }
        }
        let shown: Vec<&str> = self.shown().map(|of| of.band.name.as_str()).collect();
        let bands = bands.into_iter().flatten().map(Reckoning::done);
        Sure {
            bands: bands
                .filter(|one| shown.contains(&one.band.as_str()))
                .collect(),
            requirements: requirements.into_iter().map(|(_, sure)| sure).collect(),
            draws: drawn,
        }
    }
}
