//! Bands side by side: which ones a call means, and each evaluated alone.

use std::collections::BTreeSet;

use crate::explore::{Column, SideBySide, compare};
use crate::finding::Finding;
use crate::source::printable;
use crate::suggest::{listed, nearest};

use super::{Outcome, Prepared, Request, Session, Tried};

/// One side of a comparison, by the name of its band.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Side {
    /// As it is in the text, without what is tried.
    Written(String),
    /// With all that is laid over it.
    Whole(String),
    /// The solid band of the same look.
    Solid(String),
}

impl Side {
    /// The band's name.
    #[must_use]
    pub fn band(&self) -> &str {
        match self {
            Self::Written(name) | Self::Whole(name) | Self::Solid(name) => name,
        }
    }

    /// What its column is called.
    #[must_use]
    pub fn title(&self) -> String {
        match self {
            Self::Written(name) => format!("{name} as written"),
            Self::Whole(name) => name.clone(),
            Self::Solid(name) => format!("{name} as solid"),
        }
    }
}

/// The word that stands for the solid band of the same look.
pub const SOLID: &str = "solid";

impl Outcome {
    /// What is to stand side by side: bands by their names, and `solid` for the solid of the first. Without a
    /// name: the chosen band as written beside what is tried or, with nothing tried, beside its solid.
    ///
    /// # Errors
    /// What to say where that makes no two sides.
    pub fn sides(&self, words: &[&str], tries: bool) -> Result<Vec<Side>, String> {
        let mut sides = Vec::new();
        for word in words.iter().filter(|word| **word != SOLID) {
            let side = Side::Whole(self.known(word)?);
            if sides.contains(&side) {
                return Err(format!("`{word}` is named twice"));
            }
            sides.push(side);
        }
        let solid = words.contains(&SOLID);
        if solid && self.recipe.is_band(SOLID) {
            return Err(format!(
                "`{SOLID}` means two things: the band of that name, and the solid band of the same look; give the band another name"
            ));
        }
        let names = || self.recipe.names.iter().map(|named| named.name.as_str());
        let only = || names().next().filter(|_| names().count() == 1);
        let current = self.chosen.as_deref().or_else(only).map(str::to_owned);
        let first = sides.first().map(|side: &Side| side.band().to_owned());
        let Some(of) = first.or_else(|| current.clone()) else {
            return Err(match names().next() {
                None => "there is no band to compare".to_owned(),
                Some(_) => format!("compare which? bands are {}", listed(names())),
            });
        };
        match (sides.as_slice(), solid) {
            ([], false) if tries => {
                return Ok(vec![Side::Written(of.clone()), Side::Whole(of)]);
            }
            ([], false) if !self.is_hollow(&of) => {
                return Err(format!("`{of}` is solid; beside what?"));
            }
            ([], _) => sides = vec![Side::Whole(of.clone()), Side::Solid(of)],
            ([_], false) => match current.filter(|current| *current != of) {
                Some(current) => sides.insert(0, Side::Whole(current)),
                None => return Err(format!("beside what? as in `compare {of} {SOLID}`")),
            },
            (_, true) => sides.push(Side::Solid(of)),
            _ => {}
        }
        Ok(sides)
    }

    /// What is to be drawn: bands by their names, and `solid` for the solid of the first; `current` without a name.
    ///
    /// # Errors
    /// What to say where there is no such band.
    pub fn drawn(&self, words: &[&str], current: Option<&str>) -> Result<Vec<Side>, String> {
        let mut sides = Vec::new();
        for word in words.iter().filter(|word| **word != SOLID) {
            let side = Side::Whole(self.known(word)?);
            if sides.contains(&side) {
                return Err(format!("`{word}` is named twice"));
            }
            sides.push(side);
        }
        if let (true, Some(current)) = (sides.is_empty(), current) {
            sides.push(Side::Whole(current.to_owned()));
        }
        let first = sides.first().map(|side| side.band().to_owned());
        match first {
            Some(first) if words.contains(&SOLID) => sides.push(Side::Solid(first)),
            Some(_) => {}
            None => return Err("there is no band to draw".to_owned()),
        }
        Ok(sides)
    }

    fn is_hollow(&self, name: &str) -> bool {
        let mut bands = self.recipe.bands.iter();
        bands.any(|band| band.name == name && band.hollow.is_some())
    }

    /// A band's name, or what to say where there is none of that name.
    ///
    /// # Errors
    /// The message.
    pub fn known(&self, name: &str) -> Result<String, String> {
        if self.recipe.is_band(name) {
            return Ok(name.to_owned());
        }
        let name = printable(name);
        let names = || self.recipe.names.iter().map(|named| named.name.as_str());
        Err(match nearest(&name, names()) {
            Some(near) => format!("there is no band `{name}`; did you mean `{near}`?"),
            None if names().next().is_none() => format!("there is no band `{name}`, nor any other"),
            None => format!("there is no band `{name}`; bands are {}", listed(names())),
        })
    }
}

impl Session {
    /// Sides laid beside each other.
    ///
    /// # Errors
    /// The title of one that cannot be made, and why.
    pub fn side_by_side(
        &mut self,
        sides: &[Side],
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
    ) -> Result<SideBySide, (String, Vec<Finding>)> {
        let mut found = Vec::new();
        for side in sides {
            match self.side(side, prepared, request, outcome) {
                Ok(part) => found.push((side.title(), part)),
                Err(findings) => return Err((side.title(), findings)),
            }
        }
        let columns: Vec<Column<'_>> = found
            .iter()
            .filter_map(|(name, outcome)| {
                let evaluation = outcome.evaluations.first()?;
                Some(Column { name, evaluation })
            })
            .collect();
        Ok(compare(&columns))
    }

    /// One side, evaluated alone: the outcome has its band first.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn side(
        &mut self,
        side: &Side,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
    ) -> Result<Outcome, Vec<Finding>> {
        let name = side.band().to_owned();
        let mut request = request.clone();
        match side {
            Side::Written(_) => request.tries.clear(),
            Side::Whole(_) => {}
            Side::Solid(_) => {
                if outcome.is_hollow(&name) {
                    request.tries.push(Tried {
                        line: "without hollow".to_owned(),
                        band: Some(name.clone()),
                        typed: None,
                    });
                }
            }
        }
        let part = self.part(prepared, &request, &BTreeSet::from([name]));
        if part.evaluations.is_empty() {
            return Err(part.findings);
        }
        Ok(part)
    }
}
