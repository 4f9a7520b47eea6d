//! Readings that cannot hold together, and what each would have to be if all others hold.

use crate::evaluate::{Evaluation, Range};
use crate::finding::Weight;
use crate::schema::FieldId;
use crate::source::Span;
use crate::words::{Spoken, grams};

use super::fit::Gauging;
use super::found::GaugedClash;
use super::hand::{Hand, InHand, trimmed};
use super::metals::{OfMetal, under_mark};
use super::text::{gram_range, mm_range, way};
use super::unknown::{Unknown, across};

/// What of a length is no difference, mm.
const ROUNDING: f64 = 1e-9;

/// A weight to reach over all readings: of which metal, and from which side.
struct Aim<'a> {
    metal: &'a OfMetal,
    /// The ring is heavier than it can be; else lighter.
    heavy: bool,
}

impl Gauging<'_> {
    /// Whether the measures across contradict each other, which is then told.
    pub fn contradicts_by_itself(&mut self) -> bool {
        let get = |word: &str| self.hand.get(word).cloned();
        let (inside, outside, thick) = (get("inside"), get("outside"), get("thickness"));
        if let (Some(inside), Some(outside)) = (&inside, &outside)
            && outside.high() <= inside.low()
        {
            let message = format!(
                "the outside ({} mm) is not more than the inside ({} mm)",
                trimmed(outside.value, 3),
                trimmed(inside.value, 3)
            );
            let each = vec![
                (
                    "outside".to_owned(),
                    format!("more than {} mm", trimmed(inside.low(), 3)),
                ),
                (
                    "inside".to_owned(),
                    format!("less than {} mm", trimmed(outside.high(), 3)),
                ),
            ];
            self.clash(message, each, &[inside, outside]);
            return true;
        }
        let (Some(inside), Some(outside), Some(thick)) = (inside, outside, thick) else {
            return false;
        };
        let apart = outside.value - inside.value - 2.0 * thick.value;
        let off = outside.off + inside.off + 2.0 * thick.off;
        if apart.abs() <= off + ROUNDING {
            return false;
        }
        let would = |middle: f64, off: f64| {
            let range = mm_range(middle - off, middle + off);
            format!("{} mm, {range}", trimmed(middle, 3))
        };
        let each = vec![
            (
                "inside".to_owned(),
                would(
                    outside.value - 2.0 * thick.value,
                    outside.off + 2.0 * thick.off,
                ),
            ),
            (
                "outside".to_owned(),
                would(
                    inside.value + 2.0 * thick.value,
                    inside.off + 2.0 * thick.off,
                ),
            ),
            (
                "thickness".to_owned(),
                would(
                    (outside.value - inside.value) / 2.0,
                    (outside.off + inside.off) / 2.0,
                ),
            ),
        ];
        let message = format!(
            "inside and twice the thickness are {} mm, and the outside is {} mm: {} mm apart, where the readings may be off by {} mm together",
            trimmed(inside.value + 2.0 * thick.value, 3),
            trimmed(outside.value, 3),
            trimmed(apart.abs(), 3),
            trimmed(off, 3)
        );
        self.clash(message, each, &[&inside, &outside, &thick]);
        true
    }

    /// Heavier than a band of these sizes in the densest metal that it may be of.
    pub fn too_heavy(
        &mut self,
        hand: &Hand,
        evaluation: &Evaluation,
        volume: &Range,
        weight: &InHand,
    ) {
        let densest = self
            .metals
            .iter()
            .max_by(|one, other| one.high.total_cmp(&other.high));
        let Some(metal) = densest.cloned() else {
            return;
        };
        let most = metal.high * volume.high / 1000.0;
        let which = match (self.metals.len(), hand.mark) {
            (1, _) => metal.name.clone(),
            (_, Some(mark)) => {
                format!("{}, the densest known alloy of mark {mark}", metal.name)
            }
            (_, None) => format!("{}, the densest known alloy", metal.name),
        };
        let message = format!(
            "it weighs {}, and {} it would be {} at most in {which}",
            grams(weight.value),
            self.build(),
            grams(most)
        );
        let mut each = vec![("weight".to_owned(), format!("at most {}", grams(most)))];
        let aim = Aim {
            metal: &metal,
            heavy: true,
        };
        each.extend(self.each(hand, evaluation, volume, weight, &aim));
        each.push(needed_density(volume, weight, true));
        self.told(hand, message, each, weight);
    }

    /// Lighter than a band of these sizes in a metal that it may be of, with nothing left that could be missing.
    pub fn too_light(
        &mut self,
        hand: &Hand,
        metal: &OfMetal,
        evaluation: &Evaluation,
        volume: &Range,
        weight: &InHand,
    ) {
        let least = metal.low * volume.low / 1000.0;
        let of_mark = hand.mark.map(|mark| format!(" of mark {mark}"));
        let known = format!("known alloy{}", of_mark.unwrap_or_default());
        // The densest of those that would be lighter still.
        let under = |one: &&OfMetal| one.high < metal.low;
        let under = self.metals.iter().filter(under);
        let under = under.max_by(|one, other| one.high.total_cmp(&other.high));
        let most = under.map(|one| (grams(one.high * volume.high / 1000.0), &one.name));
        let which = match &most {
            _ if self.metals.len() == 1 => metal.name.clone(),
            None => format!("{}, the lightest {known}", metal.name),
            Some((most, name)) => format!(
                "{}, and {most} at most in {name}, the next lighter {known}",
                metal.name
            ),
        };
        let message = format!(
            "it weighs {}, and {} it would be {} at least in {which}",
            grams(weight.value),
            self.build(),
            grams(least)
        );
        let or = most.map(|(most, _)| format!(", or at most {most}"));
        let would = format!("at least {}{}", grams(least), or.unwrap_or_default());
        let mut each = vec![("weight".to_owned(), would)];
        let aim = Aim {
            metal,
            heavy: false,
        };
        each.extend(self.each(hand, evaluation, volume, weight, &aim));
        each.push(needed_density(volume, weight, false));
        self.told(hand, message, each, weight);
    }

    fn told(&mut self, hand: &Hand, message: String, each: Vec<(String, String)>, weight: &InHand) {
        let all =
            std::iter::once(weight).chain(hand.measured.iter().filter(|one| one.word != "weight"));
        let all: Vec<InHand> = all.cloned().collect();
        let places: Vec<&InHand> = all.iter().collect();
        self.clash(message, each, &places);
    }

    /// What each size would have to be for the weight to come out, all else as favourable as the readings allow.
    fn each(
        &self,
        hand: &Hand,
        evaluation: &Evaluation,
        volume: &Range,
        weight: &InHand,
        aim: &Aim<'_>,
    ) -> Vec<(String, String)> {
        // The band as worked out may be of another of the metals: weights go with the density.
        let own = evaluation.band.alloy.density.grams_per_cm3();
        let (density, grams, point) = match aim.heavy {
            true => (aim.metal.high, weight.low(), &volume.highest),
            false => (aim.metal.low, weight.high(), &volume.lowest),
        };
        let wanted = grams * own / density;
        let sizes = [
            ("width", FieldId::Width, (0.3, 60.0)),
            ("inside", FieldId::Size, (4.0, 100.0)),
            ("outside", FieldId::Outside, (4.0, 100.0)),
            ("thickness", FieldId::Thickness, (0.1, 20.0)),
        ];
        let written = across(hand);
        let is_written = |word: &str| word == "width" || written.iter().any(|one| one.word == word);
        let found = sizes.into_iter().filter_map(|(word, id, bounds)| {
            let one = hand.get(word).filter(|_| is_written(word))?;
            // The bore may follow from outside and thickness.
            let follows = word == "thickness" && written.iter().any(|one| one.word == "outside");
            if follows || word == "outside" && written.iter().any(|one| one.word == "thickness") {
                return None;
            }
            let bounds = match word {
                "inside" => (
                    bounds.0,
                    hand.get("outside").map_or(bounds.1, |one| one.value - 0.05),
                ),
                "outside" => (
                    hand.get("inside").map_or(bounds.0, |one| one.value + 0.05),
                    bounds.1,
                ),
                _ => bounds,
            };
            let value = evaluation.sought_at(id, bounds, wanted, point)?;
            let side = if value > one.value {
                "at least"
            } else {
                "at most"
            };
            Some((word.to_owned(), format!("{side} {} mm", trimmed(value, 3))))
        });
        found.collect()
    }

    /// Parts of several metals that weigh otherwise.
    pub fn apart(&mut self, hand: &Hand, range: &Range, weight: &InHand) {
        let message = format!(
            "it weighs {}, and of the metals said it would be {}{}",
            grams(weight.value),
            gram_range(range.low, range.high),
            way(range.way)
        );
        let each = vec![("weight".to_owned(), gram_range(range.low, range.high))];
        self.told(hand, message, each, weight);
    }

    /// An alloy that is named, and is under the mark that was read.
    pub fn under_its_mark(&mut self) {
        let found = under_mark(&self.hand, &self.metals);
        let (Some(parts), Some(mark), Some((alloy, named))) =
            (found, self.hand.mark, self.hand.alloy.clone())
        else {
            return;
        };
        let holds = match (mark.karat, trimmed(parts, 1)) {
            (true, _) if parts == 0.0 => "holds no gold".to_owned(),
            (true, parts) => format!("holds {parts} parts of gold"),
            (false, parts) => format!("is of {parts} parts"),
        };
        let message = format!("the mark says {mark}, and {alloy} {holds}");
        let finer = if mark.karat { "" } else { " parts" };
        let mut each = vec![("alloy".to_owned(), format!("one of {mark}{finer} or more"))];
        if parts > 0.0 {
            let less = format!("{} or less", mark.like(parts));
            each.insert(0, ("mark".to_owned(), less));
        }
        let labels = vec![(mark.at, "the mark"), (named, "under it")];
        self.say(message, each, labels);
    }

    /// No value of the one unknown gives the weight.
    pub fn no_value(&mut self, hand: &Hand, metal: &OfMetal, unknown: Unknown, weight: &InHand) {
        let Some((evaluation, _)) = self.somewhere(hand, &metal.name, unknown, "flat") else {
            return;
        };
        let (low, high) = unknown.bounds;
        let looks = (0..=24).filter_map(|look| {
            let value = low + (high - low) * f64::from(look) / 24.0;
            Some((value, evaluation.grams_with(unknown.id, value)?))
        });
        let looks: Vec<(f64, f64)> = looks.collect();
        let by = |one: &&(f64, f64), other: &&(f64, f64)| one.1.total_cmp(&other.1);
        let (Some(least), Some(most)) = (looks.iter().min_by(by), looks.iter().max_by(by)) else {
            return;
        };
        let message = format!(
            "no `{}` gives {} of {}: it would be {} with {} and {} with {}",
            unknown.path(),
            grams(weight.value),
            metal.name,
            grams(least.1),
            unknown.written(least.0),
            grams(most.1),
            unknown.written(most.0)
        );
        let each = vec![(
            "weight".to_owned(),
            format!("{} to {}", grams(least.1), grams(most.1)),
        )];
        self.told(hand, message, each, weight);
    }

    fn clash(&mut self, message: String, each: Vec<(String, String)>, of: &[&InHand]) {
        let labels = of.iter().map(|one| {
            let would = each.iter().find(|(word, _)| word == one.word);
            (
                one.at,
                would.map_or_else(String::new, |(_, would)| would.clone()),
            )
        });
        let labels: Vec<(Span, String)> = labels.collect();
        let labels = labels.iter().map(|(at, label)| (*at, label.as_str()));
        let labels = labels.collect();
        self.say(message, each.clone(), labels);
    }

    fn say(&mut self, message: String, each: Vec<(String, String)>, labels: Vec<(Span, &str)>) {
        let places: Vec<Span> = labels.iter().map(|(at, _)| *at).collect();
        let would: Vec<String> = each
            .iter()
            .map(|(word, would)| format!("`{word}` {would}"))
            .collect();
        let labels = labels.into_iter().map(|(at, label)| (at, label.to_owned()));
        let spoken = Spoken {
            code: "gauge::contradicts",
            weight: Weight::Short,
            message: format!("these readings cannot hold together: {message}"),
            labels: labels.collect(),
            help: format!(
                "measure again; where all others hold, one of these would have to be: {}",
                would.join("; ")
            ),
        };
        self.findings.push(spoken.into());
        self.found.clashes.push(GaugedClash {
            message,
            each,
            places,
        });
    }
}

/// The density that a metal would need.
fn needed_density(volume: &Range, weight: &InHand, heavy: bool) -> (String, String) {
    let would = match heavy {
        true => format!(
            "at least {} g/cm3",
            trimmed(weight.low() * 1000.0 / volume.high, 2)
        ),
        false => format!(
            "at most {} g/cm3",
            trimmed(weight.high() * 1000.0 / volume.low, 2)
        ),
    };
    ("density".to_owned(), format!("{would}{}", way(volume.way)))
}
