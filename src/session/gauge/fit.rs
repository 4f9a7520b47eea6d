//! What fits readings: the metal, one unknown that the weight settles, or other builds where metal is missing.

use crate::evaluate::{Evaluation, Grams};
use crate::finding::Finding;
use crate::schema::FieldId;
use crate::source::Span;

use super::super::{Library, Session};
use super::found::{Gauged, GaugedFit, SoughtNumber};
use super::hand::{Hand, InHand};
use super::metals::OfMetal;
use super::text::{Composed, Draft, compose, way};
use super::unknown::{Unknown, across, unknowns};
use super::worked::worked;

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

impl Gauging<'_> {
    pub fn run(&mut self) {
        self.found.measured.clone_from(&self.hand.measured);
        if self.contradicts_by_itself() {
            return self.write();
        }
        self.under_its_mark();
        let hand = self.hand.clone();
        let unknowns = unknowns(&hand);
        self.says_across();
        match (unknowns.as_slice(), hand.get("weight")) {
            ([], None) => self.without_weight(),
            ([], Some(weight)) => self.of_known_sizes(&weight.clone()),
            ([one], Some(weight)) => self.of_one(*one, &weight.clone()),
            (several, _) => self.of_several(&hand, several),
        }
        self.write();
    }

    /// The text of a band in a metal, with some fields at values that are to be found.
    pub fn draft<'h>(&self, hand: &'h Hand, metal: &str, at: &[(Unknown, f64)]) -> Draft<'h> {
        Draft {
            name: self.name.clone(),
            alloy: metal.to_owned(),
            profile: "flat",
            more: at
                .iter()
                .map(|(one, value)| (one.path(), one.written(*value), String::new()))
                .collect(),
            across: across(hand),
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

    /// One number is open, and the weight says what it is.
    pub fn of_one(&mut self, unknown: Unknown, weight: &InHand) {
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
            unknown.path(),
            unknown.written_off(range.nominal, off),
            format!("derived from the weight: {over}{}", way(range.way)),
        )];
        let Some((evaluation, composed)) = self.evaluated(hand, &draft) else {
            return true;
        };
        let mut remarks = self.assumed();
        remarks.push(format!(
            "`{}` is {over} over all that the readings may be off by{}{}",
            unknown.path(),
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
            path: unknown.path(),
            value: range.nominal,
            low: range.low,
            high: range.high,
            way: range.way,
        };
        self.fit(&draft, &composed, &evaluation, Some(sought), remarks);
        true
    }

    /// Why the one metal that the ring can be of is taken.
    pub fn why_alloy(&self) -> String {
        match (&self.hand.alloy, self.hand.mark) {
            (Some(_), _) => "as said",
            (None, Some(_)) => "the only known alloy of its mark",
            (None, None) => "the only known alloy",
        }
        .to_owned()
    }

    /// Adds a band that fits.
    pub fn fit(
        &mut self,
        draft: &Draft<'_>,
        composed: &Composed,
        evaluation: &Evaluation,
        sought: Option<SoughtNumber>,
        remarks: Vec<String>,
    ) {
        self.found.fits.push(GaugedFit {
            band: draft.name.clone(),
            alloy: draft.alloy.clone(),
            sought,
            remarks,
            text: composed.text.clone(),
            grams: evaluation.figures.weight,
        });
    }
}
