//! Cautions: the usual words of care, said where their trigger is in the recipe.
//!
//! Where no basis is named they are common practice or general workshop safety guidance, of no single source.

use crate::kernel::section::Roof;
use crate::kernel::{join, made};
use crate::model::{Alloy, Band, Value};
use crate::schema::FieldId;

use super::shortfall::Shortfall;

/// One caution.
#[derive(Debug)]
pub struct Caution {
    /// A short stable word.
    pub name: &'static str,
    /// What it is about, in a few words.
    pub title: &'static str,
    /// What to take care of.
    pub text: &'static str,
    /// Where it comes from.
    pub basis: &'static str,
    /// Whether a band calls for it, with what falls short of it.
    trigger: fn(&Band, &[Shortfall]) -> bool,
}

/// What every block of cautions ends with.
pub const WHO_DECIDES: Caution = Caution {
    name: "who-decides",
    title: "who decides",
    text: "Local codes, the assay office and licensed practice decide.",
    basis: PRACTICE,
    trigger: |_, _| true,
};

/// Said of an order that takes old metal in.
pub const OLD_METAL: Caution = Caution {
    name: "old-metal",
    title: "old metal taken in",
    text: "Old rings may hide solder, lead, liquid or air: do not melt a closed one.",
    basis: PRACTICE,
    trigger: |_, _| false,
};

const PRACTICE: &str = "common practice, no source";
const WORKSHOP: &str = "general workshop safety guidance, no single source";

/// Width from which a ring is wide on a finger, mm (common practice, no source).
const WIDE: f64 = 6.0;

/// All cautions, in the order of the work.
pub const CAUTIONS: &[Caution] = &[
    Caution {
        name: "spindle",
        title: "spindle",
        text: "At the spindle: guard closed, chuck key out before it starts; no gloves, loose sleeves, hair or jewellery; eye protection; swarf never by hand; never hold emery in the hand against turning work. Polishing dust: extraction and a mask.",
        basis: "workshop safety rules for lathes, grinding and milling spindles, read in quotation; local rules decide",
        trigger: |_, _| true,
    },
    Caution {
        name: "precious-dust",
        title: "precious dust",
        text: "Sweep and extract the dust of precious metal; do not blow it off with air.",
        basis: PRACTICE,
        trigger: |band, _| {
            ["silver", "gold", "platinum"]
                .iter()
                .any(|metal| holds(band, metal))
        },
    },
    Caution {
        name: "enlarger",
        title: "enlarger",
        text: "At the ring enlarger: eye protection, fingers clear; a band may snap. An old solder seam opens first.",
        basis: PRACTICE,
        trigger: |band, _| band.hollow.is_some() || band.field(FieldId::Start).is_some(),
    },
    Caution {
        name: "heat",
        title: "heat and pickle",
        text: "Annealing and soldering: ventilation, goggles, nothing that burns nearby. Pickle: acid into water, covered, gloves and goggles; never quench hot work in it. Red gold and copper-rich alloys: quench from above about 430 °C, or they harden and may crack.",
        basis: WORKSHOP,
        trigger: |band, shortfalls| {
            band.marking.solder.is_some()
                || locked(band, &["tack"])
                || shortfalls.iter().any(anneals)
        },
    },
    Caution {
        name: "coolant",
        title: "coolant in the cavity",
        text: "A pattern cut after joining can leave coolant in the cavity: cut it before joining.",
        basis: PRACTICE,
        trigger: |band, _| {
            band.hollow.is_some()
                && band
                    .field(FieldId::PatternCut)
                    .is_some_and(|cut| cut.value == Value::Word("after".to_owned()))
        },
    },
    Caution {
        name: "closed-hollow",
        title: "no heat or acid once closed",
        text: "Once closed, keep a hollow ring from torch, furnace, solder, annealing, pickle, ultrasonic and steam: trapped liquid or air can burst it, and acid stays inside. Washing water and sweat creep in: dry it warm, not hot. It is not to be resized: tell the repairer. A thin roof can be crushed onto the finger.",
        basis: "workshop reports of burst hollow work, read; resizing, pickle and drying are common practice",
        trigger: |band, _| is_hollow(band),
    },
    Caution {
        name: "vent",
        title: "a vent before heat",
        text: "Heat on a ring that is closed, as for a tack or beside a key: leave a vent before any heat; close it cold or not at all.",
        basis: PRACTICE,
        trigger: |band, _| {
            is_hollow(band)
                && (band.field(FieldId::HollowStageKey).is_some()
                    || locked(band, &["tack", "key"])
                    || band.marking.solder.is_some())
        },
    },
    Caution {
        name: "turning",
        title: "pinching",
        text: "A ring that turns can pinch skin and hair; pull-test and twist-test each one before it is sold.",
        basis: PRACTICE,
        trigger: |band, _| band.hollow.as_ref().is_some_and(|hollow| hollow.turning),
    },
    Caution {
        name: "twist-test",
        title: "twist test",
        text: "Whether a cold join holds is an estimate: pull and twist each ring by hand before it is sold. Friction alone is not reliable.",
        basis: PRACTICE,
        trigger: |band, _| band.hollow.as_ref().is_some_and(|hollow| !hollow.turning),
    },
    Caution {
        name: "wearer",
        title: "tell the wearer",
        text: "Tell the wearer: take it off before machinery, climbing and sport, since a caught ring can tear a finger off. A clinician takes it off a swollen finger with a guarded ring cutter.",
        basis: PRACTICE,
        trigger: |band, _| {
            let wide = band
                .length(FieldId::Width)
                .is_some_and(|width| width >= WIDE);
            wide || is_hollow(band) || band.temper.contains("hard")
        },
    },
    Caution {
        name: "strength",
        title: "no strength rating",
        text: "Strength figures are no safety rating: a ring on a finger meets more than two opposed forces, and denting of a thin roof is not covered.",
        basis: PRACTICE,
        trigger: |band, _| band.hollow.is_some() || has_strength(band),
    },
    Caution {
        name: "sold-as-hollow",
        title: "sold as hollow",
        text: "Sell it as hollow, never as solid; ask the assay office before closing it, and strike no mark on a thin wall.",
        basis: "16 CFR Part 23, note to 23.3(c)(1), read; the advice to ask first is common practice",
        trigger: |band, _| is_hollow(band),
    },
    Caution {
        name: "nickel",
        title: "nickel on the skin",
        text: "It holds nickel, in metal, solder or plating: its release on the skin cannot be computed and needs a test (EN 1811); 0.5 µg/cm2 a week, 0.2 in pierced parts. Its dust sensitises: mask. The law of the country decides.",
        basis: "Regulation (EC) 1907/2006, Annex XVII, entry 27, read as reproduced; the test standard is from memory",
        trigger: |band, _| holds(band, "nickel"),
    },
    Caution {
        name: "cadmium",
        title: "cadmium: its fume can kill",
        text: "It holds cadmium, in metal, solder or plating: do not heat it, its fume can kill. 0.01 % or more is banned in jewellery in the EU.",
        basis: "Regulation (EC) 1907/2006, Annex XVII, entry 23, paragraph 10, read; the fume is from memory",
        trigger: |band, _| holds(band, "cadmium"),
    },
    Caution {
        name: "lead",
        title: "lead",
        text: "It holds lead: no food or drink at the bench, wash hands, keep crucibles apart. 0.05 % or more is restricted in jewellery in the EU.",
        basis: "Regulation (EC) 1907/2006, Annex XVII, entry 63 (Regulation (EU) 836/2012, read); the rest is common practice",
        trigger: |band, _| holds(band, "lead"),
    },
    Caution {
        name: "cobalt",
        title: "cobalt dust",
        text: "It holds cobalt: its dust sensitises and harms the lungs, so extraction and mask; tell wearers with a metal allergy.",
        basis: WORKSHOP,
        trigger: |band, _| holds(band, "cobalt"),
    },
    Caution {
        name: "beryllium",
        title: "beryllium: refuse it",
        text: "It holds beryllium: refuse it. Its dust and fume cause a fatal lung disease; no workshop without licensed controls turns it.",
        basis: WORKSHOP,
        trigger: |band, _| holds(band, "beryllium"),
    },
    WHO_DECIDES,
];

/// Whether what falls short is mended by annealing.
fn anneals(short: &Shortfall) -> bool {
    matches!(
        short,
        Shortfall::Join(join::JoinShortfall::StretchLimit { .. })
            | Shortfall::Made(made::MadeShortfall::StretchLimit { .. })
    )
}

/// Whether a lock of one of some kinds holds a band.
fn locked(band: &Band, kinds: &[&str]) -> bool {
    let lock = band.field(FieldId::HollowLock);
    lock.is_some_and(
        |lock| matches!(&lock.value, Value::Word(kind) if kinds.contains(&kind.as_str())),
    )
}

/// Whether there is an empty space in a band; a full shell leaves none.
fn is_hollow(band: &Band) -> bool {
    let hollow = band.hollow.as_ref();
    hollow.is_some_and(|hollow| hollow.roof != Roof::Full)
}

/// Whether strength figures are printed of it: its metal states a yield or a modulus.
fn has_strength(band: &Band) -> bool {
    let temper = band
        .alloy
        .tempers
        .iter()
        .find(|one| one.name == band.temper);
    let states = |field| temper.is_some_and(|temper| temper.figure(field).is_some());
    states(FieldId::AlloyTemperYield) || states(FieldId::AlloyTemperModulus)
}

/// Whether any metal of it, solder too, holds an element.
fn holds(band: &Band, element: &str) -> bool {
    let has = |alloy: &Alloy| {
        let mut parts = alloy.parts.iter();
        parts.any(|(name, part)| name == element && !part.is_zero())
    };
    let plated = band.marking.plating.as_deref() == Some(element);
    plated || band.metals().any(|alloy| has(alloy))
}

/// The cautions that a band with what falls short of it calls for.
#[must_use]
pub fn cautions(band: &Band, shortfalls: &[Shortfall]) -> Vec<&'static Caution> {
    CAUTIONS
        .iter()
        .filter(|caution| (caution.trigger)(band, shortfalls))
        .collect()
}
