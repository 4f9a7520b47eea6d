//! A number to be moved, and the keys of a recipe's numbers by their names.

use std::collections::HashSet;

use crate::schema::{self, BlockId, FieldId};
use crate::source::Span;
use crate::syntax::ast::{Entry, ExprKind};

use super::check;
use super::expression::{Evaluator, NoNames};
use super::laid::Holder;
use super::movable::holds;
use super::program::{Key, Step};
use super::recipe::Recipe;
use super::value::Value;

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

    /// The present value of a field of a band or of a `let`; none of what else a key can mean.
    #[must_use]
    pub fn value_of(&self, key: Key) -> Option<Value> {
        match key {
            Key::Field(written, id) => {
                let band = self.bands.get(self.program.band_place(written)?)?;
                Some(band.field(id)?.value.clone())
            }
            Key::Let(written) => {
                let one = self.lets.get(self.program.let_place(written)?)?;
                Some(one.value.clone())
            }
            _ => None,
        }
    }

    /// What the value of a key mentions, each once; nothing where it is written as a plain number or word, or moved.
    pub fn mentions(&self, key: Key) -> impl Iterator<Item = Key> {
        let step = self
            .program
            .step(key)
            .filter(|step| self.is_worked_out(step));
        let reads = step.map_or(&[][..], |step| &step.reads);
        let once = reads.iter().enumerate().filter(|(place, (_, means))| {
            let mut before = reads.iter().take(*place);
            !before.any(|(_, known)| known == means)
        });
        once.map(|(_, (_, means))| *means)
    }

    /// Whether the value that holds is the one that a step works out, and no number that was moved since.
    fn is_worked_out(&self, step: &Step) -> bool {
        let at = step.value.span;
        let found = match step.key {
            Key::Let(written) => {
                let place = self.program.let_place(written);
                let one = place.and_then(|place| self.lets.get(place));
                one.and_then(|one| one.places.last())
                    .map(|said| holds(*said, at))
            }
            Key::Field(written, id) => {
                let place = self.program.band_place(written);
                let band = place.and_then(|place| self.bands.get(place));
                band.map(|band| band.fields.at(id) == Some(at))
            }
            Key::Setting(id, row) => {
                let money = self.money.as_ref();
                let value = money.and_then(|money| money.said.get(id, row));
                value.map(|value| value.at == Some(at))
            }
            Key::Alloy(..) | Key::Result(..) => None,
        };
        found.unwrap_or(true)
    }

    /// The key of what a path says in a band, among the `let`s or in a block of the top level; none of what is no
    /// number that can be moved.
    #[must_use]
    pub fn key_of(&self, holder: &Holder, path: &str) -> Option<Key> {
        match holder {
            Holder::Lets => Some(Key::Let(self.let_place(path)?)),
            Holder::Band(name) => {
                let field = schema::find(path)?;
                Some(Key::Field(self.place_of(name)?, field.id))
            }
            Holder::Block(word, Some(name)) if *word == BlockId::Alloy.word() => {
                self.alloy_key(name, path)
            }
            Holder::Block(block, name) => self.setting_key(block, name.as_deref(), path),
        }
    }

    /// Everything that a moved number can reach: what follows from it, and what takes it over. Rather too much than
    /// too little.
    #[must_use]
    pub fn reached(&self, key: Key) -> HashSet<Key> {
        let mut found = HashSet::new();
        self.taken_over(key, &mut found);
        let mut known = 0;
        while found.len() > known {
            known = found.len();
            for step in &self.program.steps {
                let moves = |(_, read): &(String, Key)| match read {
                    // A result of a band may rest on anything that is said of it, and on all that is common.
                    Key::Result(band, _) => found.iter().any(|key| match key {
                        Key::Field(of, _) => self.rests_on(*band, *of),
                        Key::Let(_) | Key::Result(..) => false,
                        Key::Alloy(..) | Key::Setting(..) => true,
                    }),
                    read => found.contains(read),
                };
                if !found.contains(&step.key) && step.reads.iter().any(moves) {
                    self.taken_over(step.key, &mut found);
                }
            }
        }
        found
    }

    /// Whether everything that a moved number reaches is that number again: it is named by itself, or taken over.
    #[must_use]
    pub fn is_copied(&self, key: Key) -> bool {
        let reached = self.reached(key);
        let mut steps = self.program.steps.iter();
        steps.all(|step| {
            let is_name = matches!(step.value.kind, ExprKind::Path(_)) && step.reads.len() == 1;
            step.key == key || is_name || !reached.contains(&step.key)
        })
    }

    /// Whether a result of one band may rest on another, both as written.
    fn rests_on(&self, band: usize, other: usize) -> bool {
        let against = || {
            let place = self.program.band_place(band)?;
            let against = self.bands.get(place)?.against.as_ref()?;
            self.place_of(&against.name)
        };
        band == other || against() == Some(other)
    }

    /// A key, and those of what is made of its band.
    fn taken_over(&self, key: Key, found: &mut HashSet<Key>) {
        if !found.insert(key) {
            return;
        }
        if let Key::Field(band, id) = key {
            let parents = self.program.parents.iter().enumerate();
            for (child, _) in parents.filter(|(_, parent)| **parent == Some(band)) {
                self.taken_over(Key::Field(child, id), found);
            }
        }
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

    /// The key of a value in a block of prices, shop, stock or order, by the path in there.
    #[must_use]
    pub fn setting_key(&self, block: &str, name: Option<&str>, path: &str) -> Option<Key> {
        if block == BlockId::Order.word() {
            let mut orders = self.orders.iter();
            let order = orders.find(|order| order.name.as_deref() == name)?;
            let field = schema::find_in_blocks(&format!("{block}.{path}"))?;
            order.values.get(field.id)?;
            return Some(Key::Setting(field.id, Some(order.place)));
        }
        let said = &self.money.as_ref()?.said;
        let path = match name {
            Some(name) => format!("{block}.{name}.{path}"),
            None => format!("{block}.{path}"),
        };
        let (field, row) = said.find(&path)?;
        Some(Key::Setting(field, row))
    }
}
