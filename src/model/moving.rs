//! Numbers of a resolved recipe moved: what follows from them is worked out anew, and nothing is read again.

use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::sync::Arc;

use crate::finding::Finding;
use crate::schema::{FieldId, ResultId, Room, Takes};
use crate::source::Span;
use crate::syntax::ast::Path;

use super::alloy::Alloy;
use super::band::Band;
use super::check;
use super::expression::{Evaluator, Scope};
use super::idle::idle;
use super::money::{self, Money, Order};
use super::movable::{SALE, alike, holds, is_of_sale, moves};
use super::moves::Move;
use super::moving_money::MovingMoney;
use super::program::{Key, Step};
use super::recipe::{LetValue, Recipe};
use super::resolve::BandResults;
use super::unlikely::{of_alloy, unlikely};
use super::value::Value;
use super::values::FieldValue;
use super::workshop::follows;

/// What moved numbers come to: the bands, `let`s and alloys that they reach, by their places in the recipe.
#[derive(Clone, Debug, Default)]
pub struct Moved {
    /// Bands.
    pub bands: BTreeMap<usize, Arc<Band>>,
    /// Those of them of which more moved than their money.
    pub shaped: BTreeSet<usize>,
    /// Prices, workshop and stock, where they moved.
    pub money: Option<Arc<Money>>,
    /// All orders, where something of one moved.
    pub orders: Option<Vec<Order>>,
    /// `let`s.
    pub lets: BTreeMap<usize, LetValue>,
    /// Alloys.
    pub alloys: BTreeMap<usize, Arc<Alloy>>,
    /// What is asked about the figures of these bands.
    pub findings: Vec<Finding>,
}

impl Moved {
    /// A band in another size with what moved of its money, given what it was in its own size; none where it must be
    /// resolved anew.
    #[must_use]
    pub fn in_size(&self, own: &Band, sized: &Arc<Band>) -> Option<Arc<Band>> {
        let Some(new) = self.bands.values().find(|band| band.name == own.name) else {
            return Some(Arc::clone(sized));
        };
        let mut band = (**sized).clone();
        for id in SALE {
            if let (Some(old), Some(new)) = (own.field(id), new.fields.shared(id))
                && old.value != new.value
            {
                // What follows from the size moves in its own way.
                let same = sized.field(id)?.value == old.value;
                same.then(|| band.fields.put(Arc::clone(new)))?;
            }
        }
        let (terms, money) = (sized.terms.as_ref()?, &new.terms.as_ref()?.money);
        band.terms = Some(Arc::new(money::termed(terms, &band.fields, money).ok()?));
        band.against = new.against.clone();
        Some(Arc::new(band))
    }
}

/// A recipe with some of its numbers moved.
pub(super) struct Moving<'r> {
    pub recipe: &'r Recipe,
    results: &'r dyn BandResults,
    pub moved: Moved,
    keys: HashSet<Key>,
    money: MovingMoney<'r>,
    /// The bands of which it moved how they are sold, by their places.
    sold: BTreeSet<usize>,
}

impl Recipe {
    /// The recipe's bands, `let`s and alloys that some moved numbers reach; none where one of the moves is more than a number,
    /// so that the recipe must be resolved anew.
    ///
    /// # Errors
    /// Findings, where a number or what follows from it is out of its field's range.
    pub fn moved<'m>(
        &self,
        moves: impl IntoIterator<Item = &'m Move>,
        results: &dyn BandResults,
    ) -> Result<Option<Moved>, Vec<Finding>> {
        let mut moving = Moving {
            recipe: self,
            results,
            moved: Moved::default(),
            keys: HashSet::new(),
            money: MovingMoney::new(self.money.as_ref(), &self.orders),
            sold: BTreeSet::new(),
        };
        let mut findings = Vec::new();
        for one in moves {
            if moving.put(one, &mut findings).is_none() {
                return if findings.is_empty() {
                    Ok(None)
                } else {
                    Err(findings)
                };
            }
        }
        let stated: HashSet<Key> = moving.keys.clone();
        for step in &self.program.steps {
            if stated.contains(&step.key) || !moving.reaches(step) {
                continue;
            }
            if moving.step(step, &mut findings).is_none() {
                return if findings.is_empty() {
                    Ok(None)
                } else {
                    Err(findings)
                };
            }
        }
        // A note may stand in place of another that was made while it was resolved.
        let mut keys = moving.keys.iter();
        if !findings.is_empty() || keys.any(|key| self.program.fixed.contains(key)) {
            return Ok(None);
        }
        if !moving.adds_up() {
            return Ok(None);
        }
        moving.settle()?;
        let Moving {
            mut moved, money, ..
        } = moving;
        (moved.money, moved.orders) = (money.money, money.orders);
        let shaped = || {
            let shaped = moved.shaped.iter();
            shaped.filter_map(|place| moved.bands.get(place))
        };
        let unworkable = shaped().filter_map(|band| follows(band));
        let unworkable: Vec<Finding> = unworkable.map(Finding::from).collect();
        if !unworkable.is_empty() {
            return Err(unworkable);
        }
        let asked = shaped().filter(|band| !band.used);
        let asked = asked.flat_map(|band| unlikely(band).into_iter().chain(idle(band)));
        let alloys = moved.alloys.values().flat_map(|alloy| of_alloy(alloy));
        moved.findings = asked.chain(alloys).map(Finding::from).collect();
        Ok(Some(moved))
    }
}

impl Recipe {
    /// Puts what moved in the place of what was there.
    pub fn take(&mut self, moved: Moved) {
        fn put<T>(all: &mut [T], moved: BTreeMap<usize, T>) {
            for (place, one) in moved {
                if let Some(known) = all.get_mut(place) {
                    *known = one;
                }
            }
        }
        put(&mut self.bands, moved.bands);
        put(&mut self.lets, moved.lets);
        put(&mut self.alloys, moved.alloys);
        self.money = moved.money.or(self.money.take());
        if let Some(orders) = moved.orders {
            self.orders = orders;
        }
    }
}

impl Moving<'_> {
    pub fn place(&self, written: usize) -> Option<usize> {
        self.recipe.program.bands.get(written).copied().flatten()
    }

    pub fn band(&self, written: usize) -> Option<&Arc<Band>> {
        self.band_at(self.place(written)?)
    }

    fn band_at(&self, place: usize) -> Option<&Arc<Band>> {
        let moved = self.moved.bands.get(&place);
        moved.or_else(|| self.recipe.bands.get(place))
    }

    /// A band of which more than its money moves.
    pub fn band_mut(&mut self, written: usize) -> Option<&mut Band> {
        let place = self.place(written)?;
        let known = self.recipe.bands.get(place)?;
        self.moved.shaped.insert(place);
        let bands = &mut self.moved.bands;
        let band = bands.entry(place).or_insert_with(|| Arc::clone(known));
        Some(Arc::make_mut(band))
    }

    /// Puts a value in its place in a band.
    fn put_field(&mut self, written: usize, value: FieldValue) -> Option<()> {
        let place = self.place(written)?;
        let known = self.recipe.bands.get(place)?;
        match is_of_sale(value.field.id) {
            true => self.sold.insert(place),
            false => self.moved.shaped.insert(place),
        };
        let bands = &mut self.moved.bands;
        let band = bands.entry(place).or_insert_with(|| Arc::clone(known));
        let band = Arc::make_mut(band);
        band.put(value);
        Some(())
    }

    /// Puts a number in its place, in the bands that take it over too.
    fn put(&mut self, one: &Move, findings: &mut Vec<Finding>) -> Option<()> {
        match one.key {
            Key::Let(written) => {
                let place = self.recipe.program.lets.get(written).copied().flatten()?;
                let known = self.recipe.lets.get(place)?;
                alike(&known.value, &one.value, Takes::Anything).then_some(())?;
                let mut known = known.clone();
                known.value = one.value.clone();
                known.places.push(one.said);
                self.moved.lets.insert(place, known);
            }
            Key::Field(written, id) => {
                let old = self.band(written)?.field(id)?;
                // Of a full shell the default says nothing, and a written radius is a mistake.
                let says_more =
                    old.at.is_none() && (id == FieldId::HollowShellNose || is_of_sale(id));
                let plain =
                    moves(id) && !says_more && alike(&old.value, &one.value, id.row().takes);
                plain.then_some(())?;
                let from = old.at;
                let value = check::take(id.row(), one.value.clone(), one.at, findings)?;
                let places = old.places.iter().copied().chain([one.said]).collect();
                let value = FieldValue {
                    field: id.row(),
                    value,
                    at: Some(one.at),
                    places,
                };
                let before = old.places.clone();
                self.put_field(written, value)?;
                for child in self.children(written) {
                    let Some(of) = self.band(child).and_then(|band| band.field(id)) else {
                        continue;
                    };
                    if of.at == from {
                        let key = Key::Field(child, id);
                        self.put(&Move { key, ..one.clone() }, findings)?;
                    } else {
                        self.say_before(child, id, &before, one.said)?;
                    }
                }
            }
            Key::Setting(id, row) => {
                let old = self.money.setting(id, row)?;
                // A default may be what something else is told by; a written number is no more than that.
                let plain = old.at.is_some() && alike(&old.value, &one.value, id.row().takes);
                plain.then_some(())?;
                let places = old.places.iter().copied().chain([one.said]).collect();
                let value = check::take(id.row(), one.value.clone(), one.at, findings)?;
                let value = FieldValue {
                    field: id.row(),
                    value,
                    at: Some(one.at),
                    places,
                };
                self.money.put(value, row)?;
            }
            Key::Alloy(written, id, word) => {
                self.put_alloy(written, (id, word), &one.value, one.at, findings)?;
                self.say_alloy(written, (id, word), one.said)?;
            }
            Key::Result(..) => return None,
        }
        self.keys.insert(one.key);
        Some(())
    }

    fn children(&self, written: usize) -> Vec<usize> {
        let parents = self.recipe.program.parents.iter().enumerate();
        let children = parents.filter(|(_, parent)| **parent == Some(written));
        children.map(|(child, _)| child).collect()
    }

    /// Notes in a band with a value of its own, and in those made of it, where the number moved that it stands over.
    fn say_before(
        &mut self,
        written: usize,
        id: FieldId,
        before: &[Span],
        said: Span,
    ) -> Option<()> {
        let mut value = self.band(written)?.field(id)?.clone();
        if !value.places.starts_with(before) {
            return None;
        }
        value.places.insert(before.len(), said);
        let place = self.place(written)?;
        let known = self.recipe.bands.get(place)?;
        let bands = &mut self.moved.bands;
        let band = bands.entry(place).or_insert_with(|| Arc::clone(known));
        Arc::make_mut(band).put(value);
        for child in self.children(written) {
            self.say_before(child, id, before, said)?;
        }
        Some(())
    }

    /// What follows for the money of every band.
    fn settle(&mut self) -> Result<(), Vec<Finding>> {
        self.money.settle()?;
        for place in 0..self.recipe.bands.len() {
            let (Some(band), Some(old)) = (self.settled(place)?, self.recipe.bands.get(place))
            else {
                continue;
            };
            if !Arc::ptr_eq(&band, old) {
                self.moved.bands.insert(place, band);
            }
        }
        Ok(())
    }

    /// A band with what moved of its terms, and of the band that it is compared with.
    fn settled(&self, place: usize) -> Result<Option<Arc<Band>>, Vec<Finding>> {
        let Some(band) = self.band_at(place) else {
            return Ok(None);
        };
        let against = match &band.against {
            Some(other) => {
                let mut bands = self.recipe.bands.iter();
                let other = bands.position(|one| one.name == other.name);
                other.map_or(Ok(None), |other| self.settled(other))?
            }
            None => None,
        };
        let is_same = match (&against, &band.against) {
            (Some(new), Some(old)) => Arc::ptr_eq(new, old),
            _ => true,
        };
        let moved = self.money.money.is_some() || self.sold.contains(&place);
        if is_same && !moved {
            return Ok(Some(Arc::clone(band)));
        }
        let mut new = (**band).clone();
        if let Some(terms) = band.terms.as_ref().filter(|_| moved) {
            let money = self.money.money.as_ref().unwrap_or(&terms.money);
            new.terms = Some(Arc::new(money::termed(terms, &band.fields, money)?));
        }
        new.against = against.or(new.against);
        Ok(Some(Arc::new(new)))
    }

    /// Whether what moved can move a result of a band.
    fn reaches_result(&self, place: usize, id: ResultId) -> bool {
        if self.moved.shaped.contains(&place) {
            return true;
        }
        let against = || {
            let other = &self.recipe.bands.get(place)?.against;
            let name = &other.as_ref()?.name;
            let other = self.recipe.bands.iter().position(|one| one.name == *name)?;
            Some(self.reaches_result(other, id))
        };
        id.row().room == Room::Money
            && (self.money.is_moved() || self.sold.contains(&place) || against() == Some(true))
    }

    /// Whether something that a step mentions has moved, and its value is still the one that is worked out.
    fn reaches(&self, step: &Step) -> bool {
        let holds = match step.key {
            Key::Let(written) => {
                let place = self.recipe.program.lets.get(written).copied().flatten();
                let one = place.and_then(|place| self.recipe.lets.get(place));
                let said = one.and_then(|one| one.places.last());
                said.is_some_and(|said| holds(*said, step.value.span))
            }
            Key::Field(written, id) => {
                let band = self.band(written);
                band.is_some_and(|band| band.fields.at(id) == Some(step.value.span))
            }
            Key::Setting(id, row) => {
                let value = self.money.setting(id, row);
                value.is_some_and(|value| value.at == Some(step.value.span))
            }
            Key::Alloy(written, id, word) => {
                let alloy = self.alloy(written);
                let said = alloy.and_then(|alloy| {
                    let (_, places) = alloy.places.get(alloy.placed(id, word)?)?;
                    places.last().copied()
                });
                said.is_some_and(|said| holds(said, step.value.span))
            }
            Key::Result(..) => false,
        };
        holds
            && step.reads.iter().any(|(_, key)| match key {
                Key::Result(band, id) => {
                    let place = self.place(*band);
                    place.is_some_and(|place| self.reaches_result(place, *id))
                }
                key => self.keys.contains(key),
            })
    }

    /// Works out a value anew.
    fn step(&mut self, step: &Step, findings: &mut Vec<Finding>) -> Option<()> {
        if let Err(wrong) = self.settle_money_for(step) {
            findings.extend(wrong);
            return None;
        }
        let due = step.key.field().and_then(|id| check::due(id.row().takes).1);
        let value = Evaluator {
            scope: &mut Bound { moving: self, step },
            findings,
        }
        .value(&step.value, due)?;
        match step.key {
            Key::Let(written) => {
                let place = self.recipe.program.lets.get(written).copied().flatten()?;
                let known = self.recipe.lets.get(place)?.clone();
                self.moved.lets.insert(place, LetValue { value, ..known });
            }
            Key::Field(written, id) => {
                moves(id).then_some(())?;
                let value = check::take(id.row(), value, step.value.span, findings)?;
                let old = self.band(written)?.field(id)?.clone();
                self.put_field(written, FieldValue { value, ..old })?;
            }
            Key::Setting(id, row) => {
                let value = check::take(id.row(), value, step.value.span, findings)?;
                let plain = value.quantity().is_some_and(|of| of.deviations.is_empty());
                plain.then_some(())?;
                let old = self.money.setting(id, row)?.clone();
                self.money.put(FieldValue { value, ..old }, row)?;
            }
            Key::Alloy(written, id, word) => {
                self.put_alloy(written, (id, word), &value, step.value.span, findings)?;
            }
            Key::Result(..) => return None,
        }
        self.keys.insert(step.key);
        Some(())
    }

    /// What a step reads of results rests on prices as they are by then.
    fn settle_money_for(&mut self, step: &Step) -> Result<(), Vec<Finding>> {
        let reads_result = |(_, key): &(String, Key)| matches!(key, Key::Result(..));
        match step.reads.iter().any(reads_result) {
            true => self.money.settle(),
            false => Ok(()),
        }
    }

    fn value(&self, key: Key) -> Option<Value> {
        match key {
            Key::Let(written) => {
                let place = self.recipe.program.lets.get(written).copied().flatten()?;
                let moved = self.moved.lets.get(&place);
                let one = moved.or_else(|| self.recipe.lets.get(place))?;
                Some(one.value.clone())
            }
            Key::Field(band, id) => Some(self.band(band)?.field(id)?.value.clone()),
            Key::Result(band, id) => {
                let band = self.settled(self.place(band)?).ok()??;
                self.results.value(&band, id)
            }
            Key::Setting(id, row) => Some(self.money.setting(id, row)?.value.clone()),
            Key::Alloy(..) => None,
        }
    }
}

/// The names of one step, as they were found to mean.
struct Bound<'a, 'r> {
    moving: &'a Moving<'r>,
    step: &'a Step,
}

impl Scope for Bound<'_, '_> {
    fn name(&mut self, path: &Path, _: Span, _: &mut Vec<Finding>) -> Option<Value> {
        let mut reads = self.step.reads.iter();
        let (_, key) = reads.find(|(name, _)| *name == path.0)?;
        self.moving.value(*key)
    }
}
