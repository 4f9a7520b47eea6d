//! What fits readings: the metal, one unknown that the weight settles, or other builds where metal is missing.

use crate::evaluate::{Evaluation, Grams, Range, RangeBy, range};
use crate::finding::Finding;
use crate::schema::FieldId;
use crate::source::Span;
use crate::words::grams;

use super::super::{Library, Session};
use super::found::{Fit, Gauged, SoughtNumber};
use super::metals::OfMetal;
use super::read::{Hand, Has, InHand, trimmed};
use super::text::{Composed, Draft, compose, gram_range, mm_range, up};
use super::worked::worked;

/// Bands that come out at most; more metals are counted.
const MOST: usize = 8;

/// What readings are gauged with.
pub(super) struct Gauging<'a> {
    pub session: &'a mut Session,
    pub library: &'a mut dyn Library,
    /// A recipe that stands beside the ring and is not written again.
    pub context: String,
    /// What the band is called.
    pub name: String,
    /// All of the readings.
    pub whole: Span,
    pub hand: Hand,
    pub metals: Vec<OfMetal>,
    pub found: Gauged,
    pub findings: Vec<Finding>,
}

/// A field that readings leave open, and between what it is looked for, mm or as a part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unknown {
    pub id: FieldId,
    pub path: &'static str,
    pub bounds: (f64, f64),
}

impl Unknown {
    /// A value as it is written.
    pub fn written(&self, value: f64) -> String {
        match self.id {
            FieldId::PatternCover => format!("{} %", trimmed(value * 100.0, 3)),
            _ => format!("{} mm", trimmed(value, 4)),
        }
    }

    /// The same with what it may be off by.
    fn written_off(&self, value: f64, off: f64) -> String {
        let off = match self.id {
            FieldId::PatternCover => format!("{} %", trimmed(up(off * 100.0, 2), 2)),
            _ => format!("{} mm", trimmed(up(off, 4), 4)),
        };
        format!("{} \u{B1} {off}", self.written(value))
    }

    fn range(&self, low: f64, high: f64) -> String {
        match self.id {
            FieldId::PatternCover => {
                format!(
                    "{} to {} %",
                    trimmed(low * 100.0, 1),
                    trimmed(high * 100.0, 1)
                )
            }
            _ => mm_range(low, high),
        }
    }
}

impl Gauging<'_> {
    pub fn run(&mut self) {
        self.found.measured.clone_from(&self.hand.measured);
        if self.contradicts_by_itself() {
            return self.write();
        }
        self.under_its_mark();
        let hand = self.hand.clone();
        let unknowns = self.unknowns(&hand);
        self.says_across();
        match (unknowns.as_slice(), hand.get("weight")) {
            ([], None) => self.without_weight(),
            ([], Some(weight)) => self.of_known_sizes(&weight.clone()),
            ([one], Some(weight)) => self.of_one(*one, &weight.clone()),
            (several, _) => self.of_several(&hand, several),
        }
        self.write();
    }

    /// Which two of the measures across are written: those that leave the least open.
    pub fn across(hand: &Hand) -> Vec<&InHand> {
        let all = ["inside", "outside", "thickness"].map(|word| hand.get(word));
        match all {
            [Some(inside), Some(outside), Some(thick)] => {
                // The bore by outside and thickness is off by twice the thickness too.
                match inside.off > outside.off + 2.0 * thick.off {
                    true => vec![outside, thick],
                    false => vec![inside, outside],
                }
            }
            all => all.into_iter().flatten().collect(),
        }
    }

    /// About how thick the ring is, mm.
    fn thick(hand: &Hand) -> f64 {
        let value = |word| hand.get(word).map(|one: &InHand| one.value);
        let across = value("outside").zip(value("inside"));
        value("thickness")
            .or(across.map(|(outside, inside)| (outside - inside) / 2.0))
            .unwrap_or(1.5)
            .max(0.2)
    }

    /// What readings leave open, in the order that it is asked for.
    pub fn unknowns(&self, hand: &Hand) -> Vec<Unknown> {
        let mut all = Vec::new();
        let mut add = |id, path, bounds| all.push(Unknown { id, path, bounds });
        let across = ["inside", "outside", "thickness"].map(|word| hand.get(word));
        match across {
            [Some(_), Some(_), _] | [Some(_), _, Some(_)] | [_, Some(_), Some(_)] => {}
            [Some(_), None, None] => add(FieldId::Thickness, "thickness", (0.2, 8.0)),
            [None, Some(outside), None] => {
                let bounds = (outside.value * 0.4, outside.value - 0.4);
                add(FieldId::Size, "size", bounds);
            }
            [None, None, Some(_)] => add(FieldId::Size, "size", (8.0, 60.0)),
            [None, None, None] => {
                add(FieldId::Size, "size", (8.0, 60.0));
                add(FieldId::Thickness, "thickness", (0.2, 8.0));
            }
        }
        if hand.get("width").is_none() {
            add(FieldId::Width, "width", (0.5, 40.0));
        }
        let thick = Self::thick(hand);
        let profile = hand.profile.as_deref().unwrap_or("flat");
        let fields: &[(FieldId, &'static str)] = match profile {
            "domed" | "knife-edge" => &[(FieldId::ProfileEdge, "profile.edge")],
            "concave" => &[(FieldId::ProfileDip, "profile.dip")],
            "bevelled" => &[
                (FieldId::ProfileAcross, "profile.across"),
                (FieldId::ProfileDown, "profile.down"),
            ],
            _ => &[],
        };
        for (id, path) in fields {
            if !hand.states(path) {
                add(*id, path, (0.02 * thick, thick * 0.999));
            }
        }
        if hand.hollow == Has::Yes {
            if !hand.states("hollow.shell") {
                add(FieldId::HollowShell, "hollow.shell", (0.05, thick));
            }
            if !hand.states("hollow.sleeve") {
                add(FieldId::HollowSleeve, "hollow.sleeve", (0.05, thick));
            }
        }
        let drawn = hand.stated.iter().any(|path| {
            let of_cut = path
                .strip_prefix("pattern.")
                .is_some_and(|rest| rest.contains('.'));
            of_cut || path == "pattern.cutter"
        });
        if hand.pattern == Has::Yes && !drawn {
            if !hand.states("pattern.depth") {
                add(
                    FieldId::PatternDepth,
                    "pattern.depth",
                    (0.002, thick * 0.98),
                );
            }
            if !hand.states("pattern.cover") {
                add(FieldId::PatternCover, "pattern.cover", (0.001, 1.0));
            }
        }
        all
    }

    /// The text of a band in a metal, with some fields at values that are to be found.
    pub fn draft<'h>(&self, hand: &'h Hand, metal: &str, at: &[(Unknown, f64)]) -> Draft<'h> {
        Draft {
            name: self.name.clone(),
            alloy: metal.to_owned(),
            profile: "flat",
            more: at
                .iter()
                .map(|(one, value)| (one.path, one.written(*value), String::new()))
                .collect(),
            across: Self::across(hand),
            ..Draft::default()
        }
    }

    /// What a draft comes to; none after a finding.
    pub fn evaluated(
        &mut self,
        hand: &Hand,
        draft: &Draft<'_>,
    ) -> Option<(Box<Evaluation>, Composed)> {
        let composed = compose(hand, draft);
        let mut before = self.context.clone();
        for line in &hand.beside {
            before.push_str(&line.text);
            before.push('\n');
        }
        let of = (draft.name.as_str(), self.whole);
        match worked(self.session, self.library, &before, &composed, of) {
            Ok(found) => Some((found, composed)),
            Err(told) => {
                self.findings.extend(told);
                None
            }
        }
    }

    /// Sizes alone, in a metal that is named.
    fn without_weight(&mut self) {
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
    fn of_known_sizes(&mut self, weight: &InHand) {
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
            self.in_metal(&hand, metal, fits.len(), (least, most), weight);
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
            (_, _, denser) => self.denser(denser, fits.is_empty()),
        }
    }

    /// All sizes are known, and parts are of metals of their own: the weight is held against what they come to.
    fn of_two_metals(&mut self, hand: &Hand, metal: &str, weight: &InHand) {
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
    fn in_metal(
        &mut self,
        hand: &Hand,
        metal: &OfMetal,
        of: usize,
        needed: (f64, f64),
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
        if own && metal.derived {
            // It fits by how far the mixing rule may be off: the density is the reading's.
            let name = format!("{}-as-weighed", metal.name);
            let middle = (needed.0 + needed.1) / 2.0;
            let off = up((needed.1 - needed.0) / 2.0 + 0.005, 2);
            let density = format!(
                "{} g/cm3 \u{B1} {} g/cm3",
                trimmed(middle, 2),
                trimmed(off, 2)
            );
            let block = metal.block(&name, &density);
            remarks.push(format!(
                "the density of {} is derived by mixing ({} g/cm3, which may be off by 2.5 %); the readings need {} to {}",
                metal.name,
                trimmed(metal.density, 2),
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
        // So far inside what the readings may be off by that the weight comes out.
        draft.moved = self.moved(&evaluation, &composed, hand, weight);
        match self.evaluated(hand, &draft) {
            Some((evaluation, composed)) => self.fit(&draft, &composed, &evaluation, None, remarks),
            None => self.fit(&draft, &composed, &evaluation, None, remarks),
        }
    }

    /// Measured values on the straight way from what was read to where the weight is nearest, where it is the one read.
    fn moved(
        &mut self,
        evaluation: &Evaluation,
        composed: &Composed,
        hand: &Hand,
        weight: &InHand,
    ) -> Vec<(&'static str, f64)> {
        let volume = evaluation.volume_range();
        let heavier = weight.value > evaluation.figures.weight;
        let end = if heavier {
            &volume.highest
        } else {
            &volume.lowest
        };
        let inputs = evaluation.inputs();
        let lasting = composed.measured.iter().filter_map(|(range, word)| {
            let own = inputs.iter().find(|one| {
                let holding = self.session.sources.holding(one.variable);
                holding.is_some_and(|source| {
                    let place = source.range(one.variable).start;
                    let at = source.text.len().saturating_sub(composed.text.len());
                    (range.start + at..range.end + at).contains(&place)
                })
            })?;
            let (variable, t) = end.iter().find(|(variable, _)| *variable == own.variable)?;
            Some((*word, *variable, *t))
        });
        let own: Vec<(&'static str, Span, f64)> = lasting.collect();
        let at = |t: f64| -> Option<f64> {
            let point: Vec<(Span, f64)> = own
                .iter()
                .map(|(_, variable, end)| (*variable, end * t))
                .collect();
            Some(evaluation.standing(&point)?.figures.weight)
        };
        let (mut from, mut to) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = (from + to) / 2.0;
            let Some(found) = at(middle) else { break };
            match (found < weight.value) == heavier {
                true => from = middle,
                false => to = middle,
            }
        }
        let read = own.iter().filter_map(|(word, _, end)| {
            let one = hand.get(word)?;
            Some((*word, one.value + end * to * one.off))
        });
        read.collect()
    }

    /// One number is open, and the weight says what it is.
    fn of_one(&mut self, unknown: Unknown, weight: &InHand) {
        let hand = self.hand.clone();
        let metals = self.metals.clone();
        let [metal] = metals.as_slice() else {
            return self.of_one_and_the_metal(&hand, unknown, weight);
        };
        if !self.settle(&hand, metal, unknown, weight, "", "flat") {
            self.no_value(&hand, metal, unknown, weight);
        }
    }

    /// A value between the bounds of an unknown at which the band can be made.
    pub fn somewhere(
        &mut self,
        hand: &Hand,
        metal: &str,
        unknown: Unknown,
        profile: &'static str,
    ) -> Option<(Box<Evaluation>, f64)> {
        let (low, high) = unknown.bounds;
        let before = self.findings.len();
        for part in [0.4, 0.2, 0.7, 0.08, 0.9] {
            let value = low + part * (high - low);
            let mut draft = self.draft(hand, metal, &[(unknown, value)]);
            draft.profile = profile;
            if let Some((found, _)) = self.evaluated(hand, &draft) {
                self.findings.truncate(before);
                return Some((found, value));
            }
        }
        // What is wrong with the first of them is told.
        self.findings.truncate(before + 1);
        None
    }

    /// Settles the one unknown of a band by the weight; whether some value does.
    pub fn settle(
        &mut self,
        hand: &Hand,
        metal: &OfMetal,
        unknown: Unknown,
        weight: &InHand,
        suffix: &str,
        profile: &'static str,
    ) -> bool {
        let Some((evaluation, _)) = self.somewhere(hand, &metal.name, unknown, profile) else {
            return true;
        };
        let on_scale = Grams {
            grams: weight.value,
            off: weight.off,
            at: weight.at,
        };
        let Some(range) = evaluation.sought(unknown.id, unknown.bounds, on_scale) else {
            return false;
        };
        let off = (range.high - range.nominal).max(range.nominal - range.low);
        let mut draft = self.draft(hand, &metal.name, &[]);
        draft.profile = profile;
        draft.name = format!("{}{suffix}", self.name);
        draft.alloy_remark = self.why_alloy();
        let over = unknown.range(range.low, range.high);
        draft.more = vec![(
            unknown.path,
            unknown.written_off(range.nominal, off),
            format!("derived from the weight: {over}{}", way(range.way)),
        )];
        let Some((evaluation, composed)) = self.evaluated(hand, &draft) else {
            return true;
        };
        let mut remarks = self.assumed();
        remarks.push(format!(
            "`{}` is {over} over all that the readings may be off by{}{}",
            unknown.path,
            way(range.way),
            if range.gaps {
                "; in part of that range no value does"
            } else {
                ""
            }
        ));
        if metal.derived && hand.alloy.is_some() {
            remarks.push(format!(
                "the density of {} is derived by mixing and may be off by 2.5 %, which is not counted here: state a measured one",
                metal.name
            ));
        }
        if unknown.id == FieldId::PatternDepth {
            remarks.push("the depth is the mean over what is cut; a sharp vee is twice as deep in its middle".to_owned());
        }
        let sought = SoughtNumber {
            path: unknown.path,
            value: range.nominal,
            low: range.low,
            high: range.high,
            way: range.way,
        };
        self.fit(&draft, &composed, &evaluation, Some(sought), remarks);
        true
    }

    /// Why the one metal that the ring can be of is taken.
    fn why_alloy(&self) -> String {
        match (&self.hand.alloy, self.hand.mark) {
            (Some(_), _) => "as said",
            (None, Some(_)) => "the only known alloy of its mark",
            (None, None) => "the only known alloy",
        }
        .to_owned()
    }

    /// What is taken for granted, where nothing is said of it.
    pub fn assumed(&self) -> Vec<String> {
        let hollow = self.hand.hollow == Has::Yes;
        let mut unsaid = Vec::new();
        if self.hand.hollow == Has::Unsaid {
            unsaid.push("solid");
        }
        if self.hand.pattern == Has::Unsaid {
            unsaid.push("not cut");
        }
        if self.hand.profile.is_none() {
            unsaid.push("flat outside");
        }
        let mut all = Vec::new();
        if !unsaid.is_empty() {
            all.push(format!(
                "assumed, since nothing is said of it: {}",
                unsaid.join(", ")
            ));
        }
        if hollow
            && !["hollow.ridge", "hollow.lip"]
                .iter()
                .any(|path| self.hand.states(path))
        {
            all.push("nothing that catches the shell is counted: state `hollow { ridge 0.1 mm { wide 0.3 mm } }` where it has ridges".to_owned());
        }
        all
    }

    /// What is looked at, as a beginning of a sentence.
    pub fn build(&self) -> &'static str {
        match (self.hand.hollow == Has::Yes, self.hand.pattern == Has::Yes) {
            (true, true) => "hollow and cut as said,",
            (true, false) => "hollow as said,",
            (false, true) => "solid and cut as said,",
            (false, false) => "solid and not cut,",
        }
    }

    /// What follows of the measures across.
    fn says_across(&mut self) {
        let get = |word| self.hand.get(word);
        let said = match (get("inside"), get("outside"), get("thickness")) {
            (Some(inside), Some(outside), thick) => {
                let (middle, off) = (
                    (outside.value - inside.value) / 2.0,
                    (outside.off + inside.off) / 2.0,
                );
                let range = mm_range(middle - off, middle + off);
                match thick {
                    None => format!(
                        "thickness {} mm, {range}: half of outside less inside",
                        trimmed(middle, 3)
                    ),
                    Some(thick) => format!(
                        "half of outside less inside is {} mm, {range}: it agrees with the thickness measured, {}",
                        trimmed(middle, 3),
                        mm_range(thick.low(), thick.high())
                    ),
                }
            }
            (None, Some(outside), Some(thick)) => {
                let (middle, off) = (
                    outside.value - 2.0 * thick.value,
                    outside.off + 2.0 * thick.off,
                );
                format!(
                    "inside {} mm, {}: outside less twice the thickness",
                    trimmed(middle, 3),
                    mm_range(middle - off, middle + off)
                )
            }
            (Some(inside), None, Some(thick)) => {
                let (middle, off) = (
                    inside.value + 2.0 * thick.value,
                    inside.off + 2.0 * thick.off,
                );
                format!(
                    "outside {} mm, {}: inside and twice the thickness",
                    trimmed(middle, 3),
                    mm_range(middle - off, middle + off)
                )
            }
            _ => return,
        };
        self.found.says.push(said);
    }

    /// Adds a band that fits.
    fn fit(
        &mut self,
        draft: &Draft<'_>,
        composed: &Composed,
        evaluation: &Evaluation,
        sought: Option<SoughtNumber>,
        remarks: Vec<String>,
    ) {
        self.found.fits.push(Fit {
            band: draft.name.clone(),
            alloy: draft.alloy.clone(),
            sought,
            remarks,
            text: composed.text.clone(),
            grams: evaluation.figures.weight,
        });
    }

    /// What is missing in a ring lighter than filled, in words.
    pub fn missing(volume: &Range, metal: &OfMetal, weight: &InHand) -> String {
        let full = |volume: f64, density: f64| volume * density / 1000.0;
        let nominal = full(volume.nominal, metal.density) - weight.value;
        let low = full(volume.low, metal.low) - weight.high();
        let high = full(volume.high, metal.high) - weight.low();
        format!(
            "{} of {} are missing ({})",
            grams(nominal),
            metal.name,
            gram_range(low, high)
        )
    }
}

/// How a range is known, where it is only found.
pub(super) fn way(way: RangeBy) -> &'static str {
    match way {
        RangeBy::Search => ", the widest found",
        RangeBy::Sum | RangeBy::Corners => "",
    }
}
