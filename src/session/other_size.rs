//! A band in another size: what of its pattern stays the same then.
//!
//! Three ways: the repeats stay as many and each gets longer or shorter; the length of one stays and whole repeats are
//! counted anew; or the outside stays, the pattern with it, and the sleeve or the thickness takes the size up.

use std::collections::BTreeSet;

use crate::evaluate::Evaluation;
use crate::explore::Keep;
use crate::finding::Finding;
use crate::kernel::pattern::repeats;
use crate::model::{Evaluator, Holder, inside_of};
use crate::quantity::{Dimension, Number};
use crate::schema::{FieldId, ResultId};
use crate::syntax;

use super::holders::find_holder;
use super::question::Results;
use super::{Outcome, Prepared, Request, Session, Tried};

impl Session {
    /// A band in another size, as if that stood in its recipe, with what then falls short or is wrong. The outcome is
    /// that of the request; where nothing is asked to stay, it is what the pattern says.
    pub fn in_size(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        (band, size): (&str, &str),
        keep: Option<Keep>,
    ) -> (Option<Evaluation>, Vec<Finding>) {
        let own = outcome.evaluation(band);
        let said = || own.and_then(|own| Keep::of_band(&own.band));
        let Some((own, keep)) = own.zip(keep.or_else(said)) else {
            return self.sized(prepared, request, outcome, (band, size), "");
        };
        let more = match keep {
            Keep::Repeats => as_many(own),
            Keep::Motif => return self.same_motif(prepared, request, outcome, (own, size)),
            Keep::Outside => {
                let bore = self.diameter(outcome, size);
                bore.map_or_else(String::new, |bore| same_outside(own, bore))
            }
        };
        self.sized(prepared, request, outcome, (band, size), &more)
    }

    /// With repeats of about the length that they have in the band's own size.
    fn same_motif(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        (own, size): (&Evaluation, &str),
    ) -> (Option<Evaluation>, Vec<Finding>) {
        let band = &own.band.name;
        let first = self.sized(prepared, request, outcome, (band, size), "");
        // A wished length is stated already.
        if own.band.fields.count(FieldId::PatternRepeats).is_none() {
            return first;
        }
        let number = |of: &Evaluation, id: ResultId| Some(of.number(id)?.to_f64());
        let long = first
            .0
            .as_ref()
            .and_then(|one| number(one, ResultId::StripLength));
        let Some((pitch, long)) = number(own, ResultId::StripPitch).zip(long) else {
            return first;
        };
        let more = format!(", pattern.repeats {}", repeats(long, pitch, 1));
        self.sized(prepared, request, outcome, (band, size), &more)
    }

    /// A band with a size laid over it, and whatever else a line says.
    fn sized(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
        (band, size): (&str, &str),
        more: &str,
    ) -> (Option<Evaluation>, Vec<Finding>) {
        // A size laid over it from outside stands against the one that is asked for here.
        let mut tried = Tried {
            line: format!("size {size}{more}"),
            band: Some(band.to_owned()),
            typed: None,
        };
        if let Some(found) = self.size_by_numbers(prepared, outcome, band, &tried) {
            return found;
        }
        // What was measured is so of one ring.
        for word in ["made", "weighed"] {
            let holder = Holder::Block(word, Some(band.to_owned()));
            let tree = prepared.tree();
            if tree.is_some_and(|tree| find_holder(tree, &holder).is_some()) {
                tried.line.push_str(&format!(", without {word}"));
            }
        }
        let mut request = request.clone();
        request.tries.push(tried);
        let names = BTreeSet::from([band.to_owned()]);
        let mut part = self.part(prepared, &request, &names);
        let place = part
            .evaluations
            .iter()
            .position(|one| one.band.name == band);
        let evaluation = place.map(|place| part.evaluations.swap_remove(place));
        (evaluation, part.findings)
    }

    /// The inside diameter of a size as a recipe writes it, mm.
    fn diameter(&mut self, outcome: &Outcome, size: &str) -> Option<Number> {
        let id = self.sources.add("a size", size);
        let parsed = syntax::parse_query(self.sources.get(id)?);
        let mut findings = Vec::new();
        let mut scope = Results { outcome };
        let mut evaluator = Evaluator {
            scope: &mut scope,
            findings: &mut findings,
        };
        let value = evaluator.value(&parsed.value?, Some(Dimension::LENGTH))?;
        Some(inside_of(Some(&value)).diameter)
    }
}

/// As many repeats as in the band's own size; nothing where the recipe says how many.
fn as_many(own: &Evaluation) -> String {
    let stated = own.band.fields.count(FieldId::PatternRepeats).is_some();
    match own.repeats().filter(|_| !stated) {
        Some(count) => format!(", pattern.repeats {count}"),
        None => String::new(),
    }
}

/// The outside of the band's own size; in a hollow band the sleeve takes up what the bore is wider or narrower.
fn same_outside(own: &Evaluation, bore: Number) -> String {
    let Some(outside) = own.number(ResultId::Outside) else {
        return String::new();
    };
    let mut line = format!(", outside {} mm", written(outside));
    let sleeve = own.band.fields.quantity(FieldId::HollowSleeve);
    if let Some(sleeve) = sleeve.filter(|_| own.band.hollow.is_some()) {
        let wider = bore.minus(own.band.inside().diameter);
        let half = wider.and_then(|wider| wider.over(Number::Exact(2.into())));
        let left = half.and_then(|half| sleeve.number.minus(half));
        if let Some(left) = left {
            line.push_str(&format!(", hollow.sleeve {} mm", written(left)));
        }
    }
    line
}

/// A number of mm as a recipe writes it.
fn written(number: Number) -> String {
    match number {
        Number::Exact(exact) => exact.normalize().to_string(),
        Number::Computed(computed) => format!("{computed:.9}"),
    }
}
