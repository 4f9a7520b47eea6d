//! The numbers of a resolved band that may be off, and the band with each of them somewhere in its range.
//!
//! What may be off is what a recipe writes with a `±`, and what the shop's tolerances say of lengths that are written
//! without one. Each written `±` is one variable, known by its place: a `let` that is used twice is off by the same in
//! both places. A tolerance of the shop is one variable for each length that it stands for, known by the length's
//! place; depth and mean depth of a pattern share theirs, since one tool cuts both, and of drawn cuts each depth that
//! is written has its own. A length that the parts as made tell is off by what is written behind their figures alone.

use std::borrow::Cow;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::quantity::{Density, Deviation, Dimension, Number, Quantity, from_f64};
use crate::schema::{CutKind, FieldId, Takes};
use crate::source::Span;

use super::alloy::{Alloy, AlloyDensity};
use super::band::Band;
use super::expression::diameter_of;
use super::money::{Money, Said, moved, termed};
use super::value::Value;
use super::values::FieldValue;

/// Lengths and diameters that are turned.
const TURNED: [FieldId; 19] = [
    FieldId::Size,
    FieldId::Width,
    FieldId::Thickness,
    FieldId::Outside,
    FieldId::ProfileEdge,
    FieldId::ProfileCrown,
    FieldId::ProfileAcross,
    FieldId::ProfileDown,
    FieldId::ProfileDip,
    FieldId::Comfort,
    FieldId::HollowShell,
    FieldId::HollowSleeve,
    FieldId::HollowSleeveRelief,
    FieldId::HollowRidge,
    FieldId::HollowRidgeWide,
    FieldId::HollowLip,
    FieldId::HollowLipWide,
    FieldId::HollowEntry,
    FieldId::HollowStagePlay,
];

/// Lengths that a part as made tells instead, each by all of one of some sets of bench figures: what was measured is off by
/// its reading, as that states, and by no tolerance of the lathe.
#[rustfmt::skip]
const MEASURED: [(FieldId, &[&[FieldId]]); 11] = {
    use FieldId::*;
    [
        (Size, &[&[MadeShellBore, MadeSleeveFloor, MadeSleeveBore], &[MadeBlankBore]]),
        (Width, &[&[MadeShellWidth], &[MadeSleeveWidth], &[MadeBlankWidth]]),
        (Thickness, &[&[MadeShellOutside], &[MadeBlankThickness], &[MadeBlankBore, MadeBlankOutside]]),
        (Outside, &[&[MadeShellOutside], &[MadeBlankThickness], &[MadeBlankOutside]]),
        (Comfort, &[&[MadeSleeveEdgeBore]]),
        (HollowShell, &[&[MadeShellChannel, MadeShellChannelWidth]]),
        (HollowSleeve, &[&[MadeSleeveBore, MadeSleeveFloor]]),
        (HollowRidge, &[&[MadeSleeveFloor, MadeSleeveRidgeTop]]),
        (HollowLip, &[&[MadeShellBore, MadeShellLipBore]]),
        (HollowEntry, &[&[MadeShellBore, MadeSleeveRidgeTop], &[MadeShellLipBore, MadeSleeveFloor]]),
        (HollowStagePlay, &[&[MadeShellBore, MadeSleeveFloor]]),
    ]
};

/// Whether it is a depth that the pattern's tool is set to.
fn is_cut(id: FieldId) -> bool {
    let of_pattern = [
        FieldId::PatternDepth,
        FieldId::PatternMeanDepth,
        FieldId::PatternPathRamp,
    ];
    of_pattern.contains(&id) || CutKind::ALL.iter().any(|kind| kind.depth == id)
}

/// A number that may be off.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranged {
    /// How it is known: the place of its `±`, or of the length that a tolerance of the shop stands for.
    pub variable: Span,
    /// The tolerance of the shop that says so; none where a `±` is written.
    pub tolerance: Option<FieldId>,
    /// What of the band it is off: the path of a field, or of a value behind the name of its block.
    pub path: String,
    /// The band's own field that it is, where it is one.
    pub field: Option<FieldId>,
    /// As written, in base units; of a size the inside diameter, mm.
    pub nominal: f64,
    /// By how much to either side, in the base unit of what it is of.
    pub amount: f64,
    /// What kind of quantity the amount is.
    pub dimension: Dimension,
    /// The unit that the number is written in.
    pub unit: Option<String>,
}

impl Band {
    /// What a field may be off by: what is written behind it, else what the shop's tolerances say.
    #[must_use]
    pub fn off<'a>(&self, field: &'a FieldValue) -> Cow<'a, [Deviation]> {
        if self.settled {
            return Cow::Borrowed(&[]);
        }
        let written = written(&field.value);
        if !written.is_empty() {
            return Cow::Borrowed(written);
        }
        match self.tolerance(field) {
            Some((_, one)) => Cow::Owned(vec![one]),
            None => Cow::Borrowed(&[]),
        }
    }

    /// A value of the band with what the shop's tolerances say of it.
    #[must_use]
    pub fn with_tolerance(&self, field: &FieldValue) -> Value {
        let mut value = field.value.clone();
        if let Some((_, one)) = self.tolerance(field) {
            match &mut value {
                Value::Quantity { quantity, .. } => quantity.deviations.push(one),
                Value::Size { deviations, .. } => deviations.push(one),
                _ => {}
            }
        }
        value
    }

    /// What the shop says of a length that is written without a `±`.
    fn tolerance(&self, field: &FieldValue) -> Option<(FieldId, Deviation)> {
        let at = field.at?;
        let id = field.field.id;
        let (tolerance, variable) = match id {
            id if TURNED.contains(&id) => (FieldId::ShopToleranceTurning, at),
            FieldId::PatternMeanDepth => {
                let depth = self.fields.at(FieldId::PatternDepth);
                (FieldId::ShopToleranceCut, depth.unwrap_or(at))
            }
            id if is_cut(id) => (FieldId::ShopToleranceCut, at),
            _ => return None,
        };
        let amount = self.of_shop(tolerance)?;
        if tolerance == FieldId::ShopToleranceTurning && self.is_measured(id) {
            return None;
        }
        let is_length = match &field.value {
            Value::Quantity { quantity, .. } => {
                quantity.dimension == Dimension::LENGTH && quantity.deviations.is_empty()
            }
            Value::Size { deviations, .. } => deviations.is_empty(),
            _ => false,
        };
        is_length.then_some((tolerance, Deviation { variable, amount }))
    }

    /// Whether the parts as made tell a length.
    fn is_measured(&self, id: FieldId) -> bool {
        let known = |id: &FieldId| self.field(*id).is_some();
        let mut rows = MEASURED.iter();
        let row = rows.find(|(length, _)| *length == id);
        row.is_some_and(|(_, sets)| sets.iter().any(|set| set.iter().all(known)))
    }

    /// A tolerance of the shop that is more than nothing.
    fn of_shop(&self, id: FieldId) -> Option<Number> {
        let said = &self.terms.as_ref()?.money.said;
        if self.settled {
            return None;
        }
        let number = said.shop.quantity(id)?.number;
        (number.to_f64() > 0.0).then_some(number)
    }

    /// How far the axes of outside and bore may lie apart: the place that says so, and mm.
    fn run_out(&self) -> Option<Deviation> {
        let said = &self.terms.as_ref()?.money.said;
        let variable = said.shop.at(FieldId::ShopToleranceRunOut)?;
        let amount = self.of_shop(FieldId::ShopToleranceRunOut)?;
        Some(Deviation { variable, amount })
    }

    /// How far the axes of outside and bore lie apart at a point of the ranges, mm.
    #[must_use]
    pub fn run_out_at(&self, point: &dyn Fn(Span) -> f64) -> f64 {
        self.run_out()
            .map_or(0.0, |one| (one.amount.to_f64() * point(one.variable)).abs())
    }

    /// Every number that may be off, in the order of the recipe, each variable with each value that it stands for.
    #[must_use]
    pub fn ranged(&self) -> Vec<Ranged> {
        if self.settled {
            return Vec::new();
        }
        let mut all = self.own_ranged();
        if let Some(other) = &self.against {
            let known: Vec<Span> = all.iter().map(|one| one.variable).collect();
            let others = other.own_ranged().into_iter();
            all.extend(others.filter(|one| !known.contains(&one.variable)));
        }
        all.sort_by_key(|one| one.variable);
        all
    }

    fn own_ranged(&self) -> Vec<Ranged> {
        let mut all = Vec::new();
        let mut add = |path: String, field, value: &Value, off: &[Deviation], tolerance| {
            let (nominal, dimension, unit) = match value {
                Value::Quantity { quantity, unit } => {
                    (quantity.number, quantity.dimension, unit.clone())
                }
                Value::Size { size, .. } => {
                    (diameter_of(size), Dimension::LENGTH, Some("mm".to_owned()))
                }
                _ => return,
            };
            all.extend(off.iter().map(|one| Ranged {
                variable: one.variable,
                tolerance,
                path: path.clone(),
                field,
                nominal: nominal.to_f64(),
                amount: one.amount.to_f64(),
                dimension,
                unit: unit.clone(),
            }));
        };
        for field in self.fields.iter() {
            let off = self.off(field);
            if off.is_empty() {
                continue;
            }
            let tolerance = self.tolerance(field).map(|(tolerance, _)| tolerance);
            let path = format!("{}.{}", self.name, field.field.path);
            let id = Some(field.field.id);
            add(path, id, &field.value, &off, tolerance);
        }
        for (path, field) in self.of_cuts() {
            let tolerance = self.tolerance(field).map(|(tolerance, _)| tolerance);
            add(path, None, &field.value, &self.off(field), tolerance);
        }
        let mut seen: Vec<&str> = Vec::new();
        for alloy in self.metals() {
            if seen.contains(&alloy.name.as_str()) {
                continue;
            }
            seen.push(&alloy.name);
            for (path, value) in alloy.values_off() {
                let path = format!("{}.{path}", alloy.name);
                add(path, None, &value, written(&value), None);
            }
        }
        if let Some(terms) = &self.terms {
            for one in terms.money.said.settings() {
                let value = &one.value.value;
                let off = written(value);
                if !off.is_empty() {
                    add(one.path(), None, value, off, None);
                }
            }
        }
        if let Some(one) = self.run_out() {
            let field = FieldId::ShopToleranceRunOut;
            let length = Value::of(Quantity::new(one.amount, Dimension::LENGTH));
            let path = field.path().to_owned();
            add(path, None, &length, &[one], Some(field));
        }
        all
    }

    /// The band at a point of the ranges: `point` tells where each variable stands, from -1, the lower end of its range,
    /// to 1. None where it cannot be sold so.
    #[must_use]
    pub fn at(&self, point: &dyn Fn(Span) -> f64) -> Option<Self> {
        let mut band = self.clone();
        band.settled = true;
        for field in self.fields.iter() {
            if let Some(value) = shifted(&field.value, &self.off(field), field.field.takes, point) {
                band.fields.put(FieldValue {
                    value,
                    ..field.clone()
                });
            }
        }
        band.marking.put_numbers(&band.fields);
        self.put_cuts_at(&mut band, point);
        for alloy in band.metals_mut() {
            if let Some(moved) = alloy.at(point) {
                *alloy = Arc::new(moved);
            }
        }
        if let Some(terms) = &self.terms {
            let money = match terms.money.at(point) {
                Some(money) => Arc::new(money),
                None => Arc::clone(&terms.money),
            };
            band.terms = Some(Arc::new(termed(terms, &band.fields, &money).ok()?));
        }
        band.against = match &self.against {
            Some(other) => Some(Arc::new(other.at(point)?)),
            None => None,
        };
        Some(band)
    }
}

impl Money {
    /// Prices, workshop and stock at a point of the ranges; none where nothing of them moves.
    #[must_use]
    pub fn at(&self, point: &dyn Fn(Span) -> f64) -> Option<Self> {
        let said = &self.said;
        let mut new: Option<Said> = None;
        for one in said.settings() {
            let off = written(&one.value.value);
            let takes = one.value.field.takes;
            let Some(value) = shifted(&one.value.value, off, takes, point) else {
                continue;
            };
            let row = one.row.and_then(|row| {
                let mut rows = said.rows.iter();
                rows.position(|known| std::ptr::eq(known, row))
            });
            let value = FieldValue {
                value,
                ..one.value.clone()
            };
            new.get_or_insert_with(|| said.clone()).put(value, row);
        }
        moved(self, new?).ok()
    }
}

impl Value {
    /// Whether it carries a `±`.
    #[must_use]
    pub fn is_off(&self) -> bool {
        !written(self).is_empty()
    }

    /// The value at a point of the ranges of its `±`; none where it stands as it is.
    #[must_use]
    pub fn at(&self, point: &dyn Fn(Span) -> f64) -> Option<Self> {
        shifted(self, written(self), Takes::Anything, point)
    }
}

impl Alloy {
    /// Its values that carry a `±`, by their paths.
    fn values_off(&self) -> Vec<(String, Value)> {
        let stated = match &self.density {
            AlloyDensity::Stated { quantity, .. } => !quantity.deviations.is_empty(),
            AlloyDensity::Derived(_) => false,
        };
        let mut figures = self.tempers.iter().flat_map(|temper| &temper.figures);
        if !stated && self.off.is_empty() && figures.all(|(_, value, _)| written(value).is_empty())
        {
            return Vec::new();
        }
        let density = FieldId::AlloyDensity.word();
        let parts = self.off.iter().map(|(element, _)| element.clone());
        let tempers = self.tempers.iter().flat_map(|temper| {
            let figures = temper.figures.iter();
            figures.map(|(field, ..)| format!("temper.{}.{}", temper.name, field.word()))
        });
        let paths = std::iter::once(density.to_owned());
        let paths = paths.chain(parts).chain(tempers);
        let found = paths.filter_map(|path| Some((path.clone(), self.value(&path)?)));
        found
            .filter(|(_, value)| !written(value).is_empty())
            .collect()
    }

    /// The alloy at a point of the ranges; none where nothing of it moves. Where parts move, those that carry no `±`
    /// make room in proportion, so that all still add up to 1000; where all carry one, all do.
    #[must_use]
    pub fn at(&self, point: &dyn Fn(Span) -> f64) -> Option<Self> {
        let mut alloy = self.clone();
        let mut moved = false;
        for temper in &mut alloy.tempers {
            for (field, value, _) in &mut temper.figures {
                if let Some(shifted) = shifted(value, written(value), field.row().takes, point) {
                    (*value, moved) = (shifted, true);
                }
            }
        }
        if let AlloyDensity::Stated {
            value, quantity, ..
        } = &mut alloy.density
        {
            let by = shift(&quantity.deviations, point);
            if by != 0.0 {
                quantity.number = plus(quantity.number, by)?;
                quantity.deviations.clear();
                *value = Density::from_quantity(quantity)?;
                moved = true;
            }
        }
        let shifts: Vec<(&str, f64)> = self
            .off
            .iter()
            .map(|(element, off)| (element.as_str(), shift(off, point)))
            .collect();
        if shifts.iter().any(|(_, by)| *by != 0.0) {
            alloy.make_room(&shifts)?;
            moved = true;
        }
        moved.then_some(alloy)
    }

    /// Moves some parts, the others in proportion, to a sum of 1000.
    fn make_room(&mut self, shifts: &[(&str, f64)]) -> Option<()> {
        let of = |element: &str| shifts.iter().find(|(known, _)| *known == element);
        let (mut held, mut free) = (Decimal::ZERO, Decimal::ZERO);
        for (element, part) in &mut self.parts {
            match of(element) {
                Some((_, by)) => {
                    *part = (*part + from_f64(*by)?).max(Decimal::ZERO);
                    held += *part;
                }
                None => free += *part,
            }
        }
        let left = (Decimal::ONE_THOUSAND - held).max(Decimal::ZERO);
        for (element, part) in &mut self.parts {
            *part = match (of(element), free.is_zero()) {
                (None, false) => part.checked_mul(left)?.checked_div(free)?,
                (Some(_), true) => part.checked_mul(Decimal::ONE_THOUSAND)?.checked_div(held)?,
                _ => *part,
            };
        }
        let stated = match &self.density {
            AlloyDensity::Derived(_) => None,
            stated => Some(stated.clone()),
        };
        self.settle(stated)
    }
}

/// The `±` written behind a value.
fn written(value: &Value) -> &[Deviation] {
    match value {
        Value::Quantity { quantity, .. } => &quantity.deviations,
        Value::Size { deviations, .. } => deviations,
        _ => &[],
    }
}

/// What some deviations come to at a point, in base units.
fn shift(off: &[Deviation], point: &dyn Fn(Span) -> f64) -> f64 {
    let amounts = off.iter();
    amounts
        .map(|one| one.amount.to_f64() * point(one.variable))
        .sum()
}

/// A value at a point; none where it stands as it is. Nothing that is measured is less than nothing, and no part more
/// than the whole; of a size the inside diameter moves.
pub(super) fn shifted(
    value: &Value,
    off: &[Deviation],
    takes: Takes,
    point: &dyn Fn(Span) -> f64,
) -> Option<Value> {
    let by = shift(off, point);
    if by == 0.0 {
        return None;
    }
    let (number, dimension, unit) = match value {
        Value::Quantity { quantity, unit } => (quantity.number, quantity.dimension, unit.clone()),
        Value::Size { size, .. } => (diameter_of(size), Dimension::LENGTH, None),
        _ => return None,
    };
    let mut moved = plus(number, by)?;
    if moved.is_negative() {
        moved = Number::ZERO;
    }
    let one = Number::Exact(Decimal::ONE);
    if matches!(takes, Takes::Share | Takes::ShareBelow) && moved.compared(one).is_gt() {
        moved = one;
    }
    let quantity = Quantity::new(moved, dimension);
    Some(Value::Quantity { quantity, unit })
}

/// A number and so much more.
fn plus(number: Number, by: f64) -> Option<Number> {
    match number {
        Number::Exact(value) => {
            let moved = from_f64(by).and_then(|by| value.checked_add(by));
            moved.map(Number::Exact)
        }
        Number::Computed(value) => Some(Number::Computed(value + by)),
    }
}
