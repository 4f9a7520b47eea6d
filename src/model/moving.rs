//! Numbers put in place of written ones, and what follows from them worked out anew, without reading anything again.

use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;

use crate::finding::Finding;
use crate::quantity::{Deviation, Dimension};
use crate::schema::{FieldId, Takes};
use crate::source::Span;
use crate::syntax::ast::{Entry, Path};

use super::alloy::Alloy;
use super::band::Band;
use super::check;
use super::expression::{Evaluator, NoNames, Scope};
use super::program::{Key, Step};
use super::recipe::{LetValue, Recipe};
use super::resolve::BandResults;
use super::unlikely::unlikely;
use super::value::Value;
use super::values::FieldValue;
use super::workshop::follows;

/// A number to put in place of a written one, and where it is written.
#[derive(Clone, Debug)]
pub struct Move {
    /// What is moved.
    pub key: Key,
    /// Where to.
    pub value: Value,
    /// Where the number stands.
    pub at: Span,
    /// Where it is said what it is the number of.
    pub said: Span,
}

impl Move {
    /// The plain number that an entry says of a `let` or a field; none where it says more than that.
    #[must_use]
    pub fn of(key: Key, entry: &Entry) -> Option<Self> {
        let [value] = entry.values.as_slice() else {
            return None;
        };
        let field = key.field().map(FieldId::row);
        let due = field.and_then(|field| check::due(field.takes).1);
        let mut findings = Vec::new();
        let mut evaluator = Evaluator {
            scope: &mut NoNames,
            findings: &mut findings,
        };
        let found = evaluator.value(value, due)?;
        // A bare number for a share is refused where the recipe is resolved.
        let found = match field {
            Some(field) => evaluator.due(field, value, found, false)?,
            None => found,
        };
        let plain = findings.is_empty() && entry.block.is_none();
        plain.then(|| Self {
            key,
            value: found,
            at: value.span,
            said: entry.header_span(),
        })
    }
}

/// What moved numbers come to: the bands, `let`s and alloys that they reach, by their places in the recipe.
#[derive(Clone, Debug, Default)]
pub struct Moved {
    /// Bands.
    pub bands: BTreeMap<usize, Arc<Band>>,
    /// `let`s.
    pub lets: BTreeMap<usize, LetValue>,
    /// Alloys.
    pub alloys: BTreeMap<usize, Arc<Alloy>>,
    /// What is asked about the figures of these bands.
    pub findings: Vec<Finding>,
}

/// A recipe with some of its numbers moved.
pub(super) struct Moving<'r> {
    pub recipe: &'r Recipe,
    results: &'r dyn BandResults,
    pub moved: Moved,
    keys: HashSet<Key>,
    /// The bands of which something moved, by their places as written.
    pub touched: HashSet<usize>,
}

impl Recipe {
    /// The place of a band as written, by its name.
    #[must_use]
    pub fn place_of(&self, name: &str) -> Option<usize> {
        let is_it = |place: &Option<usize>| {
            let band = place.and_then(|place| self.bands.get(place));
            band.is_some_and(|band| band.name == name)
        };
        self.program.bands.iter().position(is_it)
    }

    /// The place of a `let` as written, by its name.
    #[must_use]
    pub fn let_place(&self, name: &str) -> Option<usize> {
        let is_it = |place: &Option<usize>| {
            let one = place.and_then(|place| self.lets.get(place));
            one.is_some_and(|one| one.name == name)
        };
        self.program.lets.iter().position(is_it)
    }

    /// The key of a number that an alloy states, by the alloy's name and the path in it.
    #[must_use]
    pub fn alloy_key(&self, name: &str, path: &str) -> Option<Key> {
        let place = self.alloys.iter().position(|alloy| alloy.name == name)?;
        let mut written = self.program.alloys.iter();
        let written = written.position(|known| *known == Some(place))?;
        let alloy = self.alloys.get(place)?;
        alloy.places.iter().find(|(known, _)| known == path)?;
        let (field, word) = alloy.meant(path)?;
        Some(Key::Alloy(written, field, word))
    }

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
            touched: HashSet::new(),
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
        // What a band is compared with is part of it.
        let rests = |band: &Arc<Band>| {
            let against = band.terms.as_ref().and_then(|terms| terms.against.as_ref());
            against.is_some_and(|other| {
                let mut moved = moving.moved.bands.values();
                moved.any(|one| one.name == other.name)
            })
        };
        if self.bands.iter().any(rests) {
            return Ok(None);
        }
        let Moving { mut moved, .. } = moving;
        let unworkable = moved.bands.values().filter_map(|band| follows(band));
        let unworkable: Vec<Finding> = unworkable.map(Finding::from).collect();
        if !unworkable.is_empty() {
            return Err(unworkable);
        }
        for band in moved.bands.values().filter(|band| !band.used) {
            let asked = unlikely(band).into_iter();
            moved.findings.extend(asked.map(Finding::from));
        }
        Ok(Some(moved))
    }
}

impl Moving<'_> {
    pub fn band(&self, written: usize) -> Option<&Arc<Band>> {
        let place = self.recipe.program.bands.get(written).copied().flatten()?;
        let moved = self.moved.bands.get(&place);
        moved.or_else(|| self.recipe.bands.get(place))
    }

    pub fn band_mut(&mut self, written: usize) -> Option<&mut Band> {
        let place = self.recipe.program.bands.get(written).copied().flatten()?;
        let band = self.recipe.bands.get(place)?;
        let band = self
            .moved
            .bands
            .entry(place)
            .or_insert_with(|| Arc::clone(band));
        Some(Arc::make_mut(band))
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
                let says_more = id == FieldId::HollowShellNose && old.at.is_none();
                let plain =
                    moves(id) && !says_more && alike(&old.value, &one.value, id.row().takes);
                plain.then_some(())?;
                let from = old.at;
                let value = check::take(id.row(), one.value.clone(), one.at, findings)?;
                let places = old.places.iter().copied().chain([one.said]).collect();
                self.band_mut(written)?.fields.put(FieldValue {
                    field: id.row(),
                    value,
                    at: Some(one.at),
                    places,
                });
                self.touched.insert(written);
                let parents = &self.recipe.program.parents;
                let children =
                    (0..parents.len()).filter(|child| parents.get(*child) == Some(&Some(written)));
                for child in children.collect::<Vec<_>>() {
                    let takes_over = self
                        .band(child)
                        .and_then(|band| band.field(id))
                        .is_some_and(|value| value.at == from);
                    if takes_over {
                        let key = Key::Field(child, id);
                        self.put(&Move { key, ..one.clone() }, findings)?;
                    }
                }
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
                Key::Result(band, _) => self.touched.contains(band),
                key => self.keys.contains(key),
            })
    }

    /// Works out a value anew.
    fn step(&mut self, step: &Step, findings: &mut Vec<Finding>) -> Option<()> {
        let field = step.key.field().map(FieldId::row);
        let due = field.and_then(|field| check::due(field.takes).1);
        let mut bound = Bound { moving: self, step };
        let value = Evaluator {
            scope: &mut bound,
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
                let band = self.band_mut(written)?;
                let old = band.fields.get(id)?;
                let new = FieldValue {
                    value,
                    ..old.clone()
                };
                band.fields.put(new);
                self.touched.insert(written);
            }
            Key::Alloy(written, id, word) => {
                self.put_alloy(written, (id, word), &value, step.value.span, findings)?;
            }
            Key::Result(..) => return None,
        }
        self.keys.insert(step.key);
        Some(())
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
            Key::Alloy(..) => None,
            Key::Result(band, id) => self.results.value(self.band(band)?, id),
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

/// Whether a place holds another.
fn holds(outer: Span, inner: Span) -> bool {
    outer.start <= inner.start && inner.end <= outer.end
}

/// Whether a value can stand in place of another as a mere number: both quantities of a kind, or sizes, and no `±`
/// that would go. Where a field takes both, a size and an inside diameter stand for each other.
fn alike(old: &Value, new: &Value, takes: Takes) -> bool {
    let (Some((old, was)), Some((new, is))) = (measured(old), measured(new)) else {
        return false;
    };
    let same = match (old, new) {
        (Some(old), Some(new)) => old == new,
        (None, None) => true,
        (Some(length), None) | (None, Some(length)) => {
            takes == Takes::Size && length == Dimension::LENGTH
        }
    };
    same && was.is_empty() && is.is_empty()
}

/// The dimension of a quantity, none of a size, and the deviations of either.
fn measured(value: &Value) -> Option<(Option<Dimension>, &[Deviation])> {
    match value {
        Value::Quantity { quantity, .. } => Some((Some(quantity.dimension), &quantity.deviations)),
        Value::Size { deviations, .. } => Some((None, deviations)),
        _ => None,
    }
}

/// Whether a field is read as a number wherever it counts, so that moving it chooses nothing.
fn moves(id: FieldId) -> bool {
    let head = id.path().split('.').next().unwrap_or_default();
    let chooses = matches!(
        head,
        "sale" | "assay" | "solder" | "mark" | "allow" | "stock" | "order" | "prices" | "shop"
    );
    id.row().takes.is_measured() && !chooses && id != FieldId::HollowRidgeCount
}
