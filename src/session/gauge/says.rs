//! What is said of a ring in the hand beside the bands: what follows, what is taken for granted, what is missing.

use crate::evaluate::Range;
use crate::schema::FieldId;
use crate::words::grams;

use super::fit::Gauging;
use super::hand::{Has, InHand, trimmed};
use super::metals::OfMetal;
use super::text::{gram_range, mm_range};

impl Gauging<'_> {
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
            && ![FieldId::HollowRidge, FieldId::HollowLip]
                .iter()
                .any(|id| self.hand.states(*id))
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
    pub fn says_across(&mut self) {
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
