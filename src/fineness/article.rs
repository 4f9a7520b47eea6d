//! What a rulebook judges: parts with their contents and weights, solder, and what the eye sees.

use rust_decimal::{Decimal, dec};

use crate::model::{Alloy, Assay, Band, Roof};
use crate::quantity::to_places;
use crate::schema::FieldId;

use super::precious::{Portion, Portions, Precious};
use super::thresholds::Thresholds;

/// Element and parts per thousand by mass.
pub type Contents = Vec<(String, Decimal)>;

/// An article as a rulebook sees it. Parts per thousand and grams, exact.
#[derive(Clone, Debug, Default)]
pub struct Article {
    /// The band, or its shell and sleeve.
    pub parts: Vec<ArticlePart>,
    /// Solder that joins it; none where it is joined cold or is of one piece.
    pub solder: Option<Soldered>,
    /// Whether the recipe says anything of solder.
    pub solder_stated: bool,
    /// Fineness of the whole melted with its solder, found by assay.
    pub whole: Option<Decimal>,
    /// Total weight of the metal in grams.
    pub weight: Decimal,
    /// There is an empty space inside.
    pub cavity: bool,
    /// Whether the eye tells its parts apart; none where nobody said.
    pub apart: Option<bool>,
    /// The parts that carry a struck mark, all where it is empty; none where nobody said.
    pub marked: Option<Portions>,
    /// The words that it is sold under.
    pub tag: Option<String>,
    /// What it is plated with, a metal or another word; disclosed, never counted.
    pub plating: Option<String>,
    /// How thick that is, in mm; none where nobody said.
    pub plating_thick: Option<Decimal>,
}

/// One part of an article.
#[derive(Clone, Debug, Default)]
pub struct ArticlePart {
    /// Band, shell or sleeve.
    pub portion: Portion,
    /// What it is made of.
    pub contents: Contents,
    /// Weight in grams.
    pub weight: Decimal,
    /// Its metal is white.
    pub white: bool,
    /// How thick it is at its thinnest as drawn, in mm; none where that is not one figure.
    pub thickness: Option<Decimal>,
    /// What an assay found of its metal; it decides over the contents.
    pub assay: Option<Assayed>,
}

/// What an assay found.
#[derive(Clone, Debug, PartialEq)]
pub struct Assayed {
    /// Parts per thousand of the part's metal.
    pub figure: Decimal,
    /// The day, and the lot, as the recipe gives them.
    pub note: String,
}

/// Solder.
#[derive(Clone, Debug, Default)]
pub struct Soldered {
    /// What it is made of.
    pub contents: Contents,
    /// Weight in grams, where it is stated.
    pub weight: Option<Decimal>,
    /// Whether solder of a lower fineness is authorised; none where nobody said.
    pub authorised: Option<bool>,
}

/// Parts per thousand of an element.
pub(super) fn content(contents: &[(String, Decimal)], element: &str) -> Decimal {
    let found = contents.iter().filter(|(name, _)| name == element);
    found.map(|(_, part)| *part).sum()
}

/// A part with what it holds of each precious metal.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fine<'a> {
    pub part: &'a ArticlePart,
    held: [Decimal; 4],
}

impl<'a> Fine<'a> {
    pub fn of(part: &'a ArticlePart) -> Self {
        let mut held = [Decimal::ZERO; 4];
        for (element, parts) in &part.contents {
            let metal = Precious::of(element);
            if let Some(held) = metal.and_then(|metal| held.get_mut(metal as usize)) {
                *held += parts;
            }
        }
        Self { part, held }
    }

    fn each(&self) -> impl Iterator<Item = (Precious, Decimal)> {
        Precious::ALL.into_iter().zip(self.held)
    }

    fn most(&self) -> Option<(Precious, Decimal)> {
        self.each().max_by_key(|(_, held)| *held)
    }

    /// Parts per thousand of a metal by composition, with what the rulebook counts as it. An assay decides
    /// where there is one, of the metal that it speaks of.
    pub fn fineness(&self, metal: Precious, rules: &Thresholds) -> Decimal {
        match &self.part.assay {
            Some(assay) if self.assayed_metal() == Some(metal) => assay.figure,
            _ => self.composed(metal, rules),
        }
    }

    /// Parts per thousand of a metal as it is mixed, whatever an assay finds.
    pub fn composed(&self, metal: Precious, rules: &Thresholds) -> Decimal {
        let own = self.each().find(|(known, _)| *known == metal);
        let own = own.map_or(Decimal::ZERO, |(_, held)| held);
        let of = rules.of(metal);
        let with = of.with.iter();
        let with: Decimal = with.map(|other| content(&self.part.contents, other)).sum();
        own + of.with_most.map_or(with, |most| with.min(most))
    }

    /// The precious metal that an assay line speaks of: the dearest that makes a third of the part, else the
    /// one of which it holds most.
    fn assayed_metal(&self) -> Option<Precious> {
        let dear = self.each().find(|(_, held)| *held >= dec!(330));
        dear.or_else(|| self.most()).map(|(metal, _)| metal)
    }

    /// The precious metal that it is sold as: the dearest that comes near its least standard, else the one of
    /// which it holds most; none for base metal.
    pub fn metal(&self, rules: &Thresholds) -> Option<Precious> {
        let near = |metal: &Precious| {
            let found = self.fineness(*metal, rules);
            !found.is_zero() && found >= rules.of(*metal).near
        };
        Precious::ALL.into_iter().find(near).or_else(|| {
            let most = self.most().filter(|(_, held)| !held.is_zero());
            most.map(|(metal, _)| metal)
        })
    }
}

impl ArticlePart {
    /// The precious metal that it is sold as, and its parts per thousand; none for base metal.
    #[must_use]
    pub fn sold_as(&self, rules: &Thresholds) -> Option<(Precious, Decimal)> {
        let fine = Fine::of(self);
        let metal = fine.metal(rules)?;
        Some((metal, fine.fineness(metal, rules)))
    }

    /// The precious metal that its assay speaks of, and what it found; none without one.
    #[must_use]
    pub fn assayed(&self) -> Option<(Precious, &Assayed)> {
        Fine::of(self).assayed_metal().zip(self.assay.as_ref())
    }

    fn of_alloy(portion: Portion, alloy: &Alloy, weight: f64, assay: Option<&Assay>) -> Self {
        let lot = || {
            let assay = alloy.assay.as_ref();
            assay.map(|(figure, note)| Assayed {
                figure: *figure,
                note: note.clone(),
            })
        };
        let own = assay.map(|assay| Assayed {
            figure: assay.figure,
            note: assay.note.clone(),
        });
        Self {
            portion,
            contents: alloy.parts.clone(),
            weight: to_places(weight, 6).unwrap_or_default(),
            white: alloy.is_white(),
            thickness: None,
            assay: own.or_else(lot),
        }
    }
}

impl Soldered {
    /// Parts per thousand of a metal; of all precious metals together where none is named.
    #[must_use]
    pub fn fineness(&self, metal: Option<Precious>) -> Decimal {
        let of = |metal: Precious| content(&self.contents, metal.word());
        match metal {
            Some(metal) => of(metal),
            None => Precious::ALL.into_iter().map(of).sum(),
        }
    }
}

impl Article {
    /// A band as a rulebook sees it. The finished weight of each part in grams is handed in; it counts to
    /// 1e-6 g, half to even.
    #[must_use]
    pub fn of(band: &Band, weight: impl Fn(Portion) -> f64) -> Self {
        let marking = &band.marking;
        let part = |portion, alloy: &Alloy, own: Option<&Assay>| {
            // The band's assay is one of its metal: a part in another alloy does not take it over.
            let whole = marking.assay.as_ref();
            let assay = own.or(whole.filter(|_| band.is_of_its_metal(alloy)));
            let thickness = match portion {
                Portion::Shell => band.fields.length(FieldId::HollowShell),
                Portion::Sleeve => band.fields.length(FieldId::HollowSleeve),
                _ => None,
            };
            ArticlePart {
                thickness: thickness.map(|length| length.value().normalize()),
                ..ArticlePart::of_alloy(portion, alloy, weight(portion), assay)
            }
        };
        let parts = match &band.hollow {
            Some(hollow) => vec![
                part(Portion::Shell, &hollow.shell.alloy, marking.shell.as_ref()),
                part(
                    Portion::Sleeve,
                    &hollow.sleeve.alloy,
                    marking.sleeve.as_ref(),
                ),
            ],
            None => vec![part(Portion::Band, &band.alloy, None)],
        };
        let marked = marking.mark.as_ref().and_then(|mark| mark.on.as_deref());
        Self {
            weight: parts.iter().map(|part| part.weight).sum(),
            // A full shell leaves no empty space.
            cavity: band
                .hollow
                .as_ref()
                .is_some_and(|hollow| hollow.roof != Roof::Full),
            parts,
            solder: marking.solder.as_ref().map(|solder| Soldered {
                contents: solder.alloy.parts.clone(),
                weight: solder.amount,
                authorised: solder.authorised,
            }),
            solder_stated: marking.solder_stated,
            whole: marking.whole,
            apart: marking.apart,
            marked: marked.map(|on| Portion::of(on).into_iter().collect()),
            tag: marking.tag.clone(),
            plating: marking.plating.clone(),
            plating_thick: marking.plating_thick.map(|thick| thick.value().normalize()),
        }
    }

    /// One part of it, judged by its own metal; none where it has no such part.
    #[must_use]
    pub fn alone(&self, portion: Portion) -> Option<Self> {
        let part = self.parts.iter().find(|part| part.portion == portion)?;
        Some(Self {
            parts: vec![part.clone()],
            weight: part.weight,
            marked: None,
            ..self.clone()
        })
    }

    /// Whether an assay speaks of a part, or of the whole by way of any of its parts.
    pub(super) fn is_assayed(&self, what: Portion) -> bool {
        let mut parts = self.parts.iter();
        match what {
            Portion::Whole => self.whole.is_some() || parts.any(|part| part.assay.is_some()),
            what => parts.any(|part| part.portion == what && part.assay.is_some()),
        }
    }

    /// Fineness of some parts melted with the solder: assayed, or by weights; none where the solder's weight
    /// is not known.
    ///
    /// # Formula
    /// `sum of (weight * fineness) / sum of weights`, exact decimals to 28 digits.
    pub(super) fn melted(&self, parts: &[(Fine<'_>, Decimal)], metal: Precious) -> Option<Decimal> {
        if let Some(whole) = self.whole {
            return Some(whole);
        }
        let solder = match &self.solder {
            Some(solder) => Some((solder.weight?, solder.fineness(Some(metal)))),
            None => None,
        };
        let parts = parts.iter().map(|(fine, found)| (fine.part.weight, *found));
        let mut all = parts.chain(solder).peekable();
        let (_, first) = *all.peek()?;
        let (mut weight, mut fine, mut alike) = (Decimal::ZERO, Decimal::ZERO, true);
        for (grams, found) in all {
            weight += grams;
            fine += grams.checked_mul(found)?;
            alike &= found == first;
        }
        // Of one fineness throughout the weights do not matter, and must not leave a digit behind.
        if alike {
            return Some(first);
        }
        fine.checked_div(weight)
    }
}
