//! Cautions: the usual words of care, said where their trigger is in the recipe.

use crate::model::{Alloy, Band, Value};
use crate::schema::FieldId;

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
pub const CAUTIONS: &[Caution] = &[
    Caution {
        name: "spindle",
        text: "At the spindle: no gloves, loose sleeves, loose hair or jewellery; eye protection; dust extraction.",
        basis: "workshop safety rules for grinding and milling spindles, read in quotation; local rules decide",
        trigger: |band| band.is_cut(),
    },
    Caution {
        name: "closed-hollow",
        text: "Once closed, keep a hollow ring from torch, solder, annealing, pickle and later resizing: trapped liquid or air can burst it, and acid stays inside. Tell the repairer.",
        basis: "workshop reports of burst hollow work, read; resizing and pickle are common practice",
        trigger: |band| band.hollow.is_some(),
    },
    Caution {
        name: "enlarger",
        text: "At the ring enlarger: eye protection, fingers clear; a band may snap.",
        basis: "common practice, no source",
        trigger: |band| band.hollow.is_some() || band.field(FieldId::Start).is_some(),
    },
    Caution {
        name: "twist-test",
        text: "Whether a cold join holds is an estimate: pull and twist each ring by hand before it is sold. Friction alone is not promised.",
        basis: "common practice, no source",
        trigger: |band| band.hollow.is_some(),
    },
    Caution {
        name: "strength",
        text: "Strength figures are no safety rating: a ring on a finger meets other forces than two opposed ones, and denting of a thin roof is not covered.",
        basis: "common practice, no source",
        trigger: |band| band.hollow.is_some(),
    },
    Caution {
        name: "coolant",
        text: "A pattern cut after joining can leave coolant in the cavity: cut before, or dry the parts before closing.",
        basis: "common practice, no source",
        trigger: |band| {
            band.hollow.is_some()
                && band
                    .field(FieldId::PatternCut)
                    .is_some_and(|cut| cut.value == Value::Word("after".to_owned()))
        },
    },
    Caution {
        name: "sold-as-hollow",
        text: "Sell it as hollow, never as solid; ask the assay office before closing it, and strike no mark on a thin wall. Local codes, the assay office and licensed practice decide.",
        basis: "16 CFR Part 23, note to 23.3(c)(1), read; the advice to ask first is common practice",
        trigger: |band| band.hollow.is_some(),
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
    let parts = band
        .hollow
        .iter()
        .flat_map(|hollow| [&hollow.shell.alloy, &hollow.sleeve.alloy]);
    let has = |alloy: &Alloy| {
        alloy
            .parts
            .iter()
            .any(|(name, part)| name == element && !part.is_zero())
    };
    has(&band.alloy) || parts.into_iter().any(|alloy| has(alloy))
}

/// The cautions that a band calls for.
#[must_use]
pub fn cautions(band: &Band) -> Vec<&'static Caution> {
    CAUTIONS
        .iter()
        .filter(|caution| (caution.trigger)(band))
        .collect()
}
