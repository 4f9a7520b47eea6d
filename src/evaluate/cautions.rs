//! Cautions: the usual words of care, said where their trigger is in the recipe.

use crate::model::Band;

/// One caution.
#[derive(Debug)]
pub struct Caution {
    /// A short stable word.
    pub name: &'static str,
    /// What to take care of.
    pub text: &'static str,
    /// Where it comes from.
    pub basis: &'static str,
    /// Whether a band calls for it.
    trigger: fn(&Band) -> bool,
}

/// All cautions, in the order of the work.
const CAUTIONS: &[Caution] = &[
    Caution {
        name: "spindle",
        text: "At the spindle: no gloves, loose sleeves, loose hair or jewellery; eye protection; dust extraction.",
        basis: "workshop safety rules for grinding and milling spindles, read in quotation; local rules decide",
        trigger: |band| band.pattern.is_some(),
    },
    Caution {
        name: "nickel",
        text: "The alloy holds nickel: its release on the skin cannot be computed and needs a test (EN 1811); the law of the country decides.",
        basis: "Regulation (EC) 1907/2006, Annex XVII, entry 27, read as reproduced; the test standard is from memory",
        trigger: |band| holds(band, "nickel"),
    },
    Caution {
        name: "cadmium",
        text: "The alloy holds cadmium: 0.01 % or more is banned in jewellery in the EU, and its fume is poisonous. Do not heat it.",
        basis: "Regulation (EC) 1907/2006, Annex XVII, entry 23, paragraph 10, read; the fume is from memory",
        trigger: |band| holds(band, "cadmium"),
    },
];

fn holds(band: &Band, element: &str) -> bool {
    band.alloy
        .parts
        .iter()
        .any(|(name, part)| name == element && !part.is_zero())
}

/// The cautions that a band calls for.
#[must_use]
pub fn cautions(band: &Band) -> Vec<&'static Caution> {
    CAUTIONS
        .iter()
        .filter(|caution| (caution.trigger)(band))
        .collect()
}
