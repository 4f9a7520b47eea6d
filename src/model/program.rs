//! The program of a recipe: what follows from what, so that a number can be moved without reading anything again.
//!
//! While a recipe is resolved, every name that a value mentions is noted with what it came to mean. `moving` runs the
//! program: it puts numbers in place of those written and works out anew what follows from them, in an order in which
//! each comes after what it needs. What is chosen (a kind, a word, a block that is there or not) is no number:
//! changing it makes another recipe.

use std::collections::{HashMap, HashSet};

use crate::schema::{FieldId, ResultId};
use crate::syntax::ast::{Expr, Path};

/// What can be read by a name, and what can be moved. Bands and `let`s are known by their places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Key {
    /// A `let`.
    Let(usize),
    /// A field of a band.
    Field(usize, FieldId),
    /// A result of a band.
    Result(usize, ResultId),
    /// A number that one of the recipe's own alloys states: the alloy as written, the field, and the place of the
    /// temper among its own or of the element among all, where the field is said of one.
    Alloy(usize, FieldId, usize),
    /// A field of prices, shop, a stock or an order, and the place of its row or order where it stands in one.
    Setting(FieldId, Option<usize>),
}

impl Key {
    /// The field that it is a value of.
    #[must_use]
    pub fn field(self) -> Option<FieldId> {
        match self {
            Self::Field(_, id) | Self::Alloy(_, id, _) | Self::Setting(id, _) => Some(id),
            Self::Let(_) | Self::Result(..) => None,
        }
    }
}

/// A value that mentions names.
#[derive(Clone, Debug)]
pub(super) struct Step {
    pub key: Key,
    pub value: Expr,
    /// Each name that it mentions, and what it means there.
    pub reads: Vec<(String, Key)>,
}

/// What follows from what.
#[derive(Clone, Debug, Default)]
pub struct Program {
    /// Each behind all that it needs.
    pub(super) steps: Vec<Step>,
    /// What something rests on that is no number: an outline.
    pub(super) fixed: HashSet<Key>,
    /// The place among the recipe's bands of each band as written; none for one with a mistake.
    pub(super) bands: Vec<Option<usize>>,
    /// The band that each is made of.
    pub(super) parents: Vec<Option<usize>>,
    /// The place among the recipe's `let`s of each as written.
    pub(super) lets: Vec<Option<usize>>,
    /// The place among the recipe's alloys of each as written.
    pub(super) alloys: Vec<Option<usize>>,
}

impl Program {
    /// The step that works a key out.
    pub(super) fn step(&self, key: Key) -> Option<&Step> {
        self.steps.iter().rfind(|step| step.key == key)
    }

    /// The place among the recipe's bands of one as written.
    #[must_use]
    pub fn band_place(&self, written: usize) -> Option<usize> {
        self.bands.get(written).copied().flatten()
    }

    /// The place among the recipe's `let`s of one as written.
    #[must_use]
    pub fn let_place(&self, written: usize) -> Option<usize> {
        self.lets.get(written).copied().flatten()
    }
}

/// What is noted while a recipe is resolved.
#[derive(Debug, Default)]
pub(super) struct Notes {
    reads: HashMap<Key, Vec<(String, Key)>>,
    steps: Vec<Step>,
    fixed: HashSet<Key>,
}

impl Notes {
    /// Notes that a value mentions a name; `reader` is none where what mentions it is no number.
    pub fn read(&mut self, reader: Option<Key>, name: &Path, means: Key) {
        match reader {
            Some(reader) => {
                let reads = self.reads.entry(reader).or_default();
                reads.push((name.0.clone(), means));
            }
            None => self.fix(means),
        }
    }

    /// Notes that something rests on a value that is no number.
    pub fn fix(&mut self, key: Key) {
        self.fixed.insert(key);
    }

    /// Notes that a value is worked out; all that it needs was worked out before.
    pub fn worked_out(&mut self, key: Key, value: &Expr) {
        if let Some(reads) = self.reads.remove(&key) {
            let value = value.clone();
            self.steps.push(Step { key, value, reads });
        }
    }

    /// The program, once everything is resolved.
    pub fn program(
        self,
        bands: Vec<Option<usize>>,
        parents: Vec<Option<usize>>,
        lets: Vec<Option<usize>>,
        alloys: Vec<Option<usize>>,
    ) -> Program {
        Program {
            steps: self.steps,
            fixed: self.fixed,
            bands,
            parents,
            lets,
            alloys,
        }
    }
}
