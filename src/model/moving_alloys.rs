//! Numbers of the recipe's own alloys put in place of written ones, in the alloy and in all bands made of it.

use std::sync::Arc;

use crate::catalogue;
use crate::finding::Finding;
use crate::schema::FieldId;
use crate::source::Span;

use super::alloy::{Alloy, AlloyDensity};
use super::alloy_values;
use super::moving::Moving;
use super::value::Value;

impl Moving<'_> {
    /// The alloy at a place as written, as it stands by now.
    pub fn alloy(&self, written: usize) -> Option<&Arc<Alloy>> {
        let place = self.recipe.program.alloys.get(written).copied().flatten()?;
        let moved = self.moved.alloys.get(&place);
        moved.or_else(|| self.recipe.alloys.get(place))
    }

    fn alloy_mut(&mut self, written: usize) -> Option<&mut Alloy> {
        let place = self.recipe.program.alloys.get(written).copied().flatten()?;
        let known = Arc::clone(self.alloy(written)?);
        let moved = self.moved.alloys.entry(place).or_insert(known);
        Some(Arc::make_mut(moved))
    }

    /// Puts a number of an alloy in its place, the field and the word that it is said of; none where it is no plain
    /// number, or after saying what is wrong with it.
    pub fn put_alloy(
        &mut self,
        written: usize,
        (id, word): (FieldId, usize),
        value: &Value,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<()> {
        let old = self.alloy(written)?.of(id, word)?;
        let plain = |value: &Value| value.quantity().is_some_and(|of| of.deviations.is_empty());
        (plain(&old) && plain(value)).then_some(())?;
        // An assay was made of the metal as it was mixed.
        if id == FieldId::AlloyMetal && self.is_assayed(written) {
            return None;
        }
        let alloy = self.alloy_mut(written)?;
        let (said, _) = alloy.places.get(alloy.placed(id, word)?)?;
        match id {
            FieldId::AlloyDensity => {
                alloy.density = alloy_values::density(id.row(), value, at, findings)?;
            }
            FieldId::AlloyMetal => {
                let part = alloy_values::parts(said, value, at, findings)?;
                let element = catalogue::element_names().nth(word)?;
                let mut parts = alloy.parts.iter_mut();
                parts.find(|(known, _)| known == element)?.1 = part;
            }
            id => {
                let value = alloy_values::figure(id.row(), value.clone(), at, findings)?;
                let mut figures = alloy.tempers.get_mut(word)?.figures.iter_mut();
                figures.find(|(known, ..)| *known == id)?.1 = value;
            }
        }
        let stated = match &alloy.density {
            AlloyDensity::Derived(_) => None,
            stated => Some(stated.clone()),
        };
        alloy.settle(stated)?;
        self.spread(written)
    }

    /// Whether something was found of an alloy, or of a band made of it.
    fn is_assayed(&self, written: usize) -> bool {
        let Some(alloy) = self.alloy(written) else {
            return false;
        };
        let of_band = |place: usize| {
            self.band(place).is_some_and(|band| {
                band.marking.is_assayed() && band.metals().any(|known| known.name == alloy.name)
            })
        };
        alloy.assay.is_some() || (0..self.recipe.program.bands.len()).any(of_band)
    }

    /// Notes where a number of an alloy is said now.
    pub fn say_alloy(
        &mut self,
        written: usize,
        (id, word): (FieldId, usize),
        said: Span,
    ) -> Option<()> {
        let alloy = self.alloy_mut(written)?;
        let place = alloy.placed(id, word)?;
        alloy.places.get_mut(place)?.1.push(said);
        self.spread(written)
    }

    /// Gives every band that is made of an alloy, and every order that takes it in, the alloy as it stands now.
    fn spread(&mut self, written: usize) -> Option<()> {
        let alloy = Arc::clone(self.alloy(written)?);
        for place in 0..self.recipe.program.bands.len() {
            let is_of_it = self.band(place).is_some_and(|band| {
                let mut metals = band.metals();
                metals.any(|known| known.name == alloy.name)
            });
            if is_of_it && let Some(band) = self.band_mut(place) {
                let of_it = band.metals_mut().filter(|known| known.name == alloy.name);
                of_it.for_each(|known| *known = Arc::clone(&alloy));
            }
        }
        self.money.put_alloy(&alloy);
        Some(())
    }

    /// Whether the parts of all alloys still make up a whole.
    pub fn adds_up(&self) -> bool {
        let mut alloys = self.moved.alloys.values();
        alloys.all(|alloy| alloy.composition(Span::default()).is_none())
    }
}
