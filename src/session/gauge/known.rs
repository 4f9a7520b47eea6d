//! All sizes are known: the weight tells the metal, or what is missing of it.

use crate::evaluate::range;
use crate::words::grams;

use super::fit::Gauging;
use super::hand::{Hand, InHand, trimmed};
use super::metals::OfMetal;
use super::text::{up, way};

/// Bands that come out at most; more metals are counted.
const MOST: usize = 8;

impl Gauging<'_> {
    /// Sizes alone, in a metal that is named.
    pub fn without_weight(&mut self) {
        let hand = self.hand.clone();
        let [metal] = self.metals.as_slice() else {
            return self.leave(
                "the metal",
                &["alloy"],
                Vec::new(),
                "the weight, which tells the density; or name the alloy",
            );
        };
        let mut draft = self.draft(&hand, &metal.name.clone(), &[]);
        draft.alloy_remark = self.why_alloy();
        let Some((evaluation, composed)) = self.evaluated(&hand, &draft) else {
            return;
        };
        let mut remarks = vec![
            "it was not weighed, so that nothing tells whether it is what it looks like".to_owned(),
        ];
        remarks.extend(self.assumed());
        self.fit(&draft, &composed, &evaluation, None, remarks);
    }

    /// All sizes are known: the weight tells the metal, or what is missing.
    pub fn of_known_sizes(&mut self, weight: &InHand) {
        let hand = self.hand.clone();
        let Some(first) = self.metals.first().map(|one| one.name.clone()) else {
            return;
        };
        let draft = self.draft(&hand, &first, &[]);
        let Some((evaluation, _)) = self.evaluated(&hand, &draft) else {
            return;
        };
        let mut names: Vec<&str> = evaluation
            .band
            .metals()
            .map(|one| one.name.as_str())
            .collect();
        names.sort_unstable();
        names.dedup();
        if names.len() > 1 {
            return self.of_two_metals(&hand, &first, weight);
        }
        let volume = evaluation.volume_range();
        let density = |grams: f64, volume: f64| grams * 1000.0 / volume;
        let (least, most) = (
            density(weight.low(), volume.high),
            density(weight.high(), volume.low),
        );
        self.found.says.push(format!(
            "{} it holds {} mm3 of metal ({} to {}{}); {} of it are {} g/cm3 ({} to {})",
            self.build(),
            trimmed(volume.nominal, 1),
            trimmed(volume.low, 1),
            trimmed(volume.high, 1),
            way(volume.way),
            grams(weight.value),
            trimmed(density(weight.value, volume.nominal), 2),
            trimmed(least, 2),
            trimmed(most, 2)
        ));
        let fits: Vec<OfMetal> = self
            .metals
            .iter()
            .filter(|one| one.low <= most && one.high >= least)
            .cloned()
            .collect();
        let denser: Vec<OfMetal> = self
            .metals
            .iter()
            .filter(|one| one.low > most)
            .cloned()
            .collect();
        for metal in fits.iter().take(MOST) {
            let needed = (least, most);
            self.in_metal(&hand, metal, fits.len(), (volume.nominal, needed), weight);
        }
        if fits.len() > MOST {
            let names: Vec<&str> = fits
                .iter()
                .skip(MOST)
                .map(|one| one.name.as_str())
                .collect();
            let says = format!(
                "so would {}: name the mark, and fewer come out",
                names.join(", ")
            );
            self.found.says.push(says);
        }
        if fits.len() > 1 {
            let ends = fits.first().zip(fits.last());
            let (low, high) = ends.map_or((0.0, 0.0), |(one, other)| (one.density, other.density));
            let tell = format!(
                "the mark, the colour or an assay; a density by weighing in water tells them apart where they lie apart ({} to {} g/cm3)",
                trimmed(low, 2),
                trimmed(high, 2)
            );
            let names = fits
                .iter()
                .map(|one| format!("{}: {} g/cm3", one.name, trimmed(one.density, 2)));
            let rows = names.collect();
            self.leave("which of these metals it is", &["alloy"], rows, &tell);
        }
        match (fits.is_empty(), self.metals.len(), denser.as_slice()) {
            // The one metal that it can be of is denser: metal is missing.
            (true, 1, [only]) => self.lighter(&hand, only, &evaluation, &volume, weight),
            (_, _, []) if fits.is_empty() => self.too_heavy(&hand, &evaluation, &volume, weight),
            (_, 1, _) | (_, _, []) => {}
            (_, _, denser) => {
                let none = fits.is_empty();
                let fit = self.denser(&hand, denser, none);
                if let (false, true, [next, ..]) = (fit, none, denser) {
                    self.too_light(&hand, next, &evaluation, &volume, weight);
                }
            }
        }
    }

    /// All sizes are known, and parts are of metals of their own: the weight is held against what they come to.
    pub fn of_two_metals(&mut self, hand: &Hand, metal: &str, weight: &InHand) {
        if hand.alloy.is_none() {
            return self.leave(
                "the metal of the parts that state none of their own",
                &["alloy"],
                Vec::new(),
                "name the alloy",
            );
        }
        let mut draft = self.draft(hand, metal, &[]);
        draft.alloy_remark = self.why_alloy();
        let Some((evaluation, composed)) = self.evaluated(hand, &draft) else {
            return;
        };
        let Some(range) = range(&evaluation, &|of| Some(of.figures.weight)) else {
            return;
        };
        if weight.high() < range.low || weight.low() > range.high {
            return self.apart(hand, &range, weight);
        }
        let remarks = self.assumed();
        self.fit(&draft, &composed, &evaluation, None, remarks);
    }

    /// A band of known sizes in a metal that the weight allows.
    pub fn in_metal(
        &mut self,
        hand: &Hand,
        metal: &OfMetal,
        of: usize,
        (volume, needed): (f64, (f64, f64)),
        weight: &InHand,
    ) {
        let mut draft = self.draft(hand, &metal.name, &[]);
        if of > 1 {
            draft.name = format!("{}-{}", self.name, metal.name);
        }
        draft.alloy_remark = match &hand.alloy {
            Some(_) => "as said".to_owned(),
            None => format!("by its weight, {} g/cm3", trimmed(metal.density, 2)),
        };
        let mut remarks = self.assumed();
        let own = metal.density < needed.0 || metal.density > needed.1;
        if own {
            // It fits by how far the density may be off: that is the reading's, so far as the metal's own goes.
            let name = format!("{}-as-weighed", metal.name);
            let (low, high) = (needed.0.max(metal.low), needed.1.min(metal.high));
            let as_read = weight.value * 1000.0 / volume;
            let density = as_read.max(low).min(high);
            let off = up((high - density).max(density - low), 3);
            let density = format!(
                "{} g/cm3 \u{B1} {} g/cm3",
                trimmed(density, 3),
                trimmed(off.max(0.001), 3)
            );
            let block = metal.block(&name, &density);
            let known = match metal.derived {
                true => format!(
                    "derived by mixing ({} g/cm3, which may be off by 2.5 %)",
                    trimmed(metal.density, 2)
                ),
                false => format!(
                    "stated as {} g/cm3, {} to {}",
                    trimmed(metal.density, 2),
                    trimmed(metal.low, 2),
                    trimmed(metal.high, 2)
                ),
            };
            remarks.push(format!(
                "the density of {} is {known}; the readings need {} to {}",
                metal.name,
                trimmed(needed.0, 2),
                trimmed(needed.1, 2)
            ));
            "its density is the reading's".clone_into(&mut draft.alloy_remark);
            draft.alloy = name;
            draft.block = block;
        }
        let Some((evaluation, composed)) = self.evaluated(hand, &draft) else {
            return;
        };
        let over = weight.value - evaluation.figures.weight;
        if over.abs() <= weight.off {
            return self.fit(&draft, &composed, &evaluation, None, remarks);
        }
        self.reaching(hand, &draft, (&evaluation, &composed), weight, remarks);
    }
}
