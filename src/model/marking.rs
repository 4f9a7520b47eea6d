//! What a band states of its marks: assay lines, solder, a struck mark, and the words that it is sold under.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::catalogue::{self, Rulebook};
use crate::quantity::Length;
use crate::schema::FieldId;

use super::alloy::Alloy;
use super::fineness::per_thousand;
use super::values::Values;

/// Everything about marks that a band states, with the rulebooks that stand for it.
#[derive(Clone, Debug, Default)]
pub struct Marking {
    /// The recipe's own rulebooks, which stand before built-in ones of the same word.
    pub own: Arc<[Arc<Rulebook>]>,
    /// Words of the rulebooks that the recipe requires of this band.
    pub asked: Vec<String>,
    /// Fineness found of the whole band, and of its parts where they state none.
    pub assay: Option<Assay>,
    /// Fineness found of the shell.
    pub shell: Option<Assay>,
    /// Fineness found of the sleeve.
    pub sleeve: Option<Assay>,
    /// Fineness found of the whole, melted with its solder.
    pub whole: Option<Decimal>,
    /// Whether the recipe says anything of solder.
    pub solder_stated: bool,
    /// The solder; none for `solder none`, or where nothing is stated.
    pub solder: Option<BandSolder>,
    /// Whether the eye tells its parts apart, where the recipe says so.
    pub apart: Option<bool>,
    /// A mark.
    pub mark: Option<Mark>,
    /// The words that it is sold under.
    pub tag: Option<String>,
    /// What it is plated with, a metal or another word; none for `plating none`, or where nothing is said.
    pub plating: Option<String>,
    /// How thick that is.
    pub plating_thick: Option<Length>,
}

/// What an assay found of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Assay {
    /// Parts per thousand.
    pub figure: Decimal,
    /// Its day and number, as far as they are stated.
    pub note: String,
}

/// Solder in a band.
#[derive(Clone, Debug)]
pub struct BandSolder {
    /// What it is made of.
    pub alloy: Arc<Alloy>,
    /// Its weight in grams.
    pub amount: Option<Decimal>,
    /// Whether solder of a lower fineness is authorised.
    pub authorised: Option<bool>,
}

/// A mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// How deep.
    pub deep: Option<Length>,
    /// `sleeve`, `shell` or `both`.
    pub on: Option<String>,
    /// Cut by a laser rather than struck with a punch.
    pub lasered: bool,
}

impl Marking {
    /// Whether a number of it is said by a field.
    pub(super) fn says(id: FieldId) -> bool {
        matches!(
            id,
            FieldId::Assay
                | FieldId::HollowShellAssay
                | FieldId::HollowSleeveAssay
                | FieldId::AssayWhole
                | FieldId::PlatingThickness
                | FieldId::SolderAmount
                | FieldId::MarkDeep
        )
    }

    /// Puts in the numbers that some fields say, where something is said already.
    pub(super) fn put_numbers(&mut self, values: &Values) {
        let fineness = |id: FieldId| per_thousand(&values.get(id)?.value);
        let assays = [
            (&mut self.assay, FieldId::Assay),
            (&mut self.shell, FieldId::HollowShellAssay),
            (&mut self.sleeve, FieldId::HollowSleeveAssay),
        ];
        for (assay, id) in assays {
            if let (Some(assay), Some(figure)) = (assay, fineness(id)) {
                assay.figure = figure;
            }
        }
        self.whole = fineness(FieldId::AssayWhole);
        self.plating_thick = values.length(FieldId::PlatingThickness);
        if let Some(solder) = &mut self.solder {
            solder.amount = values.decimal(FieldId::SolderAmount);
        }
        if let Some(mark) = &mut self.mark {
            mark.deep = values.length(FieldId::MarkDeep);
        }
    }

    /// Whether anything was found of the band or of a part of it.
    #[must_use]
    pub fn is_assayed(&self) -> bool {
        let found = [&self.assay, &self.shell, &self.sleeve];
        found.into_iter().any(Option::is_some) || self.whole.is_some()
    }

    /// The rulebook of a word: the recipe's own, else the built-in one.
    #[must_use]
    pub fn rulebook(&self, word: &str) -> Option<&Arc<Rulebook>> {
        let own = self.own.iter().find(|book| book.word == word);
        own.or_else(|| catalogue::rulebook(word))
    }

    /// The words of all rulebooks: the built-in ones, then those that only the recipe has.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        let built_in = catalogue::rulebook_words().map(|word| -> &str { word });
        built_in.chain(self.own_words())
    }

    /// The words of rulebooks that only the recipe has.
    pub fn own_words(&self) -> impl Iterator<Item = &str> {
        let own = self.own.iter().map(|book| book.word.as_str());
        own.filter(|word| catalogue::rulebook_words().all(|known| known != *word))
    }
}
