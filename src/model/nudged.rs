//! A resolved band with one of its numbers another, whatever that number follows from.
//!
//! Nothing else is worked out anew: a field that is written as a part of another stays what it is. So what a number
//! does by itself can be seen.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::catalogue;
use crate::quantity::{Dimension, Number, Quantity, from_f64, to_f64};
use crate::schema::FieldId;

use super::alloy::{Alloy, AlloyDensity};
use super::band::Band;
use super::cuts::Cutter;
use super::expression::diameter_of;
use super::money::{Money, moved, termed};
use super::value::Value;
use super::values::FieldValue;

impl Band {
    /// The band with another value of a field; none where nothing can be sold for that.
    #[must_use]
    pub fn nudged(&self, id: FieldId, value: Value) -> Option<Self> {
        let mut band = self.clone();
        let old = self.field(id)?.clone();
        band.fields.put(FieldValue { value, ..old });
        band.marking.put_numbers(&band.fields);
        if let Some(terms) = &self.terms {
            let terms = termed(terms, &band.fields, &terms.money).ok()?;
            band.terms = Some(Arc::new(terms));
        }
        Some(band)
    }

    /// The band with another value of a drawn cut with a name, by its place among them.
    #[must_use]
    pub fn nudged_cut(&self, cut: usize, id: FieldId, value: Value) -> Option<Self> {
        let mut band = self.clone();
        let values = Arc::make_mut(&mut band.cuts).get_mut(cut)?.own.as_mut()?;
        let old = values.get(id)?.clone();
        values.put(FieldValue { value, ..old });
        Some(band)
    }

    /// The band with another value of one of its cutters, in every cut that is made with it.
    #[must_use]
    pub fn nudged_cutter(&self, name: &str, id: FieldId, value: &Value) -> Option<Self> {
        let mut band = self.clone();
        let cuts = Arc::make_mut(&mut band.cuts).iter_mut();
        let cutters = cuts.filter_map(|cut| cut.cutter.as_mut());
        for cutter in cutters.filter(|cutter| cutter.name == name) {
            let mut nudged = Cutter::clone(cutter);
            let old = nudged.values.get(id)?.clone();
            let value = value.clone();
            nudged.values.put(FieldValue { value, ..old });
            *cutter = Arc::new(nudged);
        }
        if let Some(other) = &self.against {
            band.against = other.nudged_cutter(name, id, value).map(Arc::new);
        }
        Some(band)
    }

    /// The band with another value of what prices, workshop or stock say; none where that is out of range.
    #[must_use]
    pub fn nudged_setting(&self, id: FieldId, row: Option<usize>, value: Value) -> Option<Self> {
        let terms = self.terms.as_ref()?;
        let mut said = terms.money.said.clone();
        let old = said.get(id, row)?.clone();
        said.put(FieldValue { value, ..old }, row);
        let money = Arc::new(moved(&terms.money, said).ok()?);
        let mut band = self.with_money(&money)?;
        if let Some(other) = &self.against {
            let nudged = other.nudged_setting(id, row, other_value(other, id, row, &money)?)?;
            band.against = Some(Arc::new(nudged));
        }
        Some(band)
    }

    /// The band with a rate of exchange so many times what it is, by its place; none where an amount is out of range.
    #[must_use]
    pub fn nudged_rate(&self, place: usize, times: f64) -> Option<Self> {
        let terms = self.terms.as_ref()?;
        let mut money = Money::clone(&terms.money);
        let rate = money.rates.get_mut(place)?;
        rate.is = from_f64(to_f64(rate.is) * times)?;
        let money = Arc::new(moved(&money, money.said.clone()).ok()?);
        let mut band = self.with_money(&money)?;
        if let Some(other) = &self.against {
            band.against = Some(Arc::new(other.nudged_rate(place, times)?));
        }
        Some(band)
    }

    fn with_money(&self, money: &Arc<Money>) -> Option<Self> {
        let terms = termed(self.terms.as_ref()?, &self.fields, money).ok()?;
        Some(Self {
            terms: Some(Arc::new(terms)),
            ..self.clone()
        })
    }

    /// The band with an alloy in place of the one of that name, in every part that is made of it.
    #[must_use]
    pub fn nudged_alloy(&self, alloy: &Arc<Alloy>) -> Self {
        let mut band = self.clone();
        for known in band.metals_mut().filter(|known| known.name == alloy.name) {
            *known = Arc::clone(alloy);
        }
        band
    }
}

/// What another band is told of the same setting.
fn other_value(other: &Band, id: FieldId, row: Option<usize>, money: &Money) -> Option<Value> {
    other.terms.as_ref()?;
    Some(money.said.get(id, row)?.value.clone())
}

impl Alloy {
    /// The alloy with a number of it so many times as large, by its path; none where it has no such number.
    #[must_use]
    pub fn nudged(&self, path: &str, times: f64) -> Option<Self> {
        let mut alloy = self.clone();
        let (id, word) = self.meant(path)?;
        match id {
            FieldId::AlloyDensity => {
                alloy.density = AlloyDensity::Derived(self.density.grams_per_cm3() * times);
            }
            FieldId::AlloyMetal => {
                let element = catalogue::element_names().nth(word)?;
                let mut parts = alloy.parts.iter_mut();
                let part = &mut parts.find(|(known, _)| known == element)?.1;
                *part *= from_f64(times)?;
                if let AlloyDensity::Derived(_) = alloy.density {
                    alloy.settle(None)?;
                }
            }
            id => {
                let mut figures = alloy.tempers.get_mut(word)?.figures.iter_mut();
                let value = &mut figures.find(|(known, ..)| *known == id)?.1;
                *value = times_as_large(value, times, times, false)?;
            }
        }
        Some(alloy)
    }
}

/// A value so many times as large, or `instead` of nothing; none of what is no number. A size becomes an inside
/// diameter, a count stays whole, and nothing keeps its `±`.
#[must_use]
pub fn times_as_large(value: &Value, times: f64, instead: f64, whole: bool) -> Option<Value> {
    let (number, dimension, unit) = match value {
        Value::Quantity { quantity, unit } => (quantity.number, quantity.dimension, unit.clone()),
        Value::Size { size, .. } => (diameter_of(size), Dimension::LENGTH, None),
        _ => return None,
    };
    let moved = match number {
        number if number.to_f64() == 0.0 => Number::Exact(from_f64(instead)?),
        Number::Exact(value) => Number::Exact(value.checked_mul(from_f64(times)?)?),
        Number::Computed(value) => Number::Computed(value * times),
    };
    let moved = match (whole, moved, number) {
        (true, Number::Exact(moved), Number::Exact(value)) if moved > value => {
            Number::Exact(value + Decimal::ONE)
        }
        (true, Number::Exact(_), Number::Exact(value)) => Number::Exact(value - Decimal::ONE),
        (_, moved, _) => moved,
    };
    let quantity = Quantity::new(moved, dimension);
    Some(Value::Quantity { quantity, unit })
}
