//! The metals that a ring in the hand may be of: the one that is named, those of its mark, or all that are known.

use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::Finding;
use crate::model::{AlloyDensity, MIXING_ERROR, ModelError, mixed_density};
use crate::quantity::to_f64;
use crate::suggest::metal;

use super::super::Outcome;
use super::hand::{Hand, Mark, trimmed};

/// How much finer than its mark an alloy may be and still be looked at, in parts per thousand: common practice, no
/// source; metal is mixed a little over its mark, and the next standard is farther.
const FINER: f64 = 10.0;

/// Metals that are marked.
const MARKED: [&str; 4] = ["gold", "platinum", "palladium", "silver"];

/// What a karat speaks of.
const OF_KARAT: [&str; 1] = ["gold"];

/// A metal with its density, g/cm3.
#[derive(Clone, Debug)]
pub(super) struct OfMetal {
    pub name: String,
    pub density: f64,
    /// The least and the most that the density may be.
    pub low: f64,
    pub high: f64,
    /// Its density is derived by ideal mixing.
    pub derived: bool,
    pub parts: Vec<(String, Decimal)>,
}

impl OfMetal {
    fn new(name: &str, parts: &[(String, Decimal)], stated: Option<(f64, f64)>) -> Option<Self> {
        let derived = stated.is_none();
        let (density, off) = match stated {
            Some(known) => known,
            None => {
                let density = mixed_density(parts)?;
                (density, density * MIXING_ERROR)
            }
        };
        Some(Self {
            name: name.to_owned(),
            density,
            low: density - off,
            high: density + off,
            derived,
            parts: parts.to_vec(),
        })
    }

    /// The fineness of what a mark speaks of, in parts per thousand.
    fn fineness(&self, mark: Mark) -> f64 {
        let of = if mark.karat {
            &OF_KARAT[..]
        } else {
            &MARKED[..]
        };
        let marked = self
            .parts
            .iter()
            .filter(|(name, _)| of.contains(&name.as_str()));
        marked.map(|(_, part)| to_f64(*part)).fold(0.0, f64::max)
    }

    /// Its composition and another density as a block of a recipe.
    pub fn block(&self, name: &str, density: &str) -> String {
        let parts = self
            .parts
            .iter()
            .map(|(element, part)| format!("{element} {}", part.normalize()));
        let parts: Vec<String> = parts.collect();
        format!(
            "alloy {name} {{  # {} by its composition; the density is the reading's\n  {}\n  density {density}\n}}\n",
            self.name,
            parts.join(", ")
        )
    }
}

/// All metals: of the recipe, and built in ones that it does not shadow; lightest first.
fn all(outcome: &Outcome) -> Vec<OfMetal> {
    let own = outcome.recipe.alloys.iter().filter_map(|alloy| {
        let stated = match &alloy.density {
            AlloyDensity::Stated {
                value, quantity, ..
            } => Some((value.to_grams_per_cm3(), quantity.worst() * 1000.0)),
            AlloyDensity::Derived(_) => None,
        };
        OfMetal::new(&alloy.name, &alloy.parts, stated)
    });
    let mut found: Vec<OfMetal> = own.collect();
    for row in catalogue::alloys() {
        if found.iter().any(|known| known.name == row.name) {
            continue;
        }
        let parts: Vec<(String, Decimal)> = row.parts.clone().into_iter().collect();
        let stated = row
            .density
            .as_ref()
            .map(|figure| (to_f64(figure.value), 0.0));
        found.extend(OfMetal::new(&row.name, &parts, stated));
    }
    found.sort_by(|one, other| {
        one.density
            .total_cmp(&other.density)
            .then_with(|| one.name.cmp(&other.name))
    });
    found
}

/// Those that the ring may be of; none after a finding.
pub(super) fn metals(
    hand: &Hand,
    outcome: &Outcome,
    findings: &mut Vec<Finding>,
) -> Option<Vec<OfMetal>> {
    let mut all = all(outcome);
    if let Some((name, at)) = &hand.alloy {
        let built_in = catalogue::alloy(name).map(|row| row.name.as_str());
        let own = all.iter().any(|one| one.name == *name);
        let wanted = if own {
            name.as_str()
        } else {
            built_in.unwrap_or(name)
        };
        let found = all.iter().find(|one| one.name == wanted).cloned();
        let Some(mut found) = found else {
            let known = all.iter().map(|one| one.name.as_str());
            let near = metal(name, known);
            let help = match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`annulet list alloys` shows those built in; define your own beside the readings: `alloy mine { gold 585, \u{2026} }`".to_owned(),
            };
            let problem = ModelError::UnknownName {
                at: *at,
                name: name.clone(),
                kind: "the alloy",
                help,
                nearest: None,
            };
            findings.push(problem.into());
            return None;
        };
        found.name.clone_from(name);
        return Some(vec![found]);
    }
    let Some(mark) = hand.mark else {
        return Some(all);
    };
    let every = all.clone();
    all.retain(|one| (mark.least()..=mark.parts + FINER).contains(&one.fineness(mark)));
    if all.is_empty() {
        let mut marks: Vec<f64> = every
            .iter()
            .map(|one| one.fineness(mark))
            .filter(|one| *one > 0.0)
            .collect();
        let off = |parts: f64| (parts - mark.parts).abs();
        marks.sort_by(|one, other| off(*one).total_cmp(&off(*other)));
        marks.dedup();
        let near: Vec<String> = marks.iter().take(3).map(|one| trimmed(*one, 1)).collect();
        let problem = ModelError::UnknownName {
            at: mark.at,
            name: mark.to_string(),
            kind: "an alloy of the mark",
            help: format!(
                "alloys that are known are of {} parts and others; define your own beside the readings: `alloy mine {{ gold 585, \u{2026} }}`",
                near.join(", ")
            ),
            nearest: None,
        };
        findings.push(problem.into());
        return None;
    }
    Some(all)
}

/// The fineness of a metal that is under the mark, where it is.
pub(super) fn under_mark(hand: &Hand, metals: &[OfMetal]) -> Option<f64> {
    let mark = hand.mark?;
    let [only] = metals else { return None };
    let parts = only.fineness(mark);
    (parts < mark.least() - 1e-9).then_some(parts)
}
