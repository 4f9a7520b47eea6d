//! What of a band's contours is asked for, as it is written: lengths read with the names of the recipe, and judged.

use crate::evaluate::Evaluation;
use crate::explore::ContourOf;
use crate::kernel::lathe::{FINEST, LatheState, Part};
use crate::model::Value;
use crate::quantity::Length;
use crate::source::printable;

use super::{Outcome, Session};

/// What is asked for, as written.
#[derive(Clone, Copy, Debug)]
pub struct ContourAsked<'a> {
    /// One part; every part that the band has, where none is named.
    pub part: Option<Part>,
    /// When.
    pub state: LatheState,
    /// Step along the axis; where none is written, [`STEP`].
    pub step: Option<&'a str>,
    /// Radius of the tool's nose.
    pub nose: Option<&'a str>,
    /// What stands before the words `part`, `step` and `nose` where they are asked.
    pub dashes: &'a str,
}

/// The step along the axis where none is written, as it would be.
const STEP: &str = "0.05 mm";

/// The largest nose, mm (turning inserts go to 2.4 mm and ball tools to a few more; common practice, no source).
const MOST_NOSE: f64 = 10.0;

impl Session {
    /// Reads and judges what of a band's contours is asked for.
    ///
    /// # Errors
    /// What of it cannot be meant, in a sentence.
    pub fn contour_of(
        &mut self,
        asked: &ContourAsked<'_>,
        evaluation: &Evaluation,
        outcome: &Outcome,
    ) -> Result<ContourOf, String> {
        let dashes = asked.dashes;
        let mut read = |option: &str, text: &str| {
            let (value, _) = self.ask(text, outcome);
            let length = match &value {
                Some(Value::Quantity { quantity, .. }) => Length::from_quantity(quantity),
                _ => None,
            };
            let example = match dashes {
                "" => "0.05 mm",
                _ => "\"0.05 mm\"",
            };
            length.map(Length::to_mm).ok_or_else(|| {
                format!(
                    "`{dashes}{option} {}` is no length; write it with its unit, as `{dashes}{option} {example}`",
                    printable(text)
                )
            })
        };
        let step = read("step", asked.step.unwrap_or(STEP))?;
        let width = evaluation.input.shape.width;
        if !(FINEST..=width).contains(&step) {
            return Err(format!(
                "a step is {FINEST} mm to the band's width of {width} mm"
            ));
        }
        let nose = asked.nose.map(|text| read("nose", text)).transpose()?;
        // Beyond, no tool for rings is meant.
        if nose.is_some_and(|nose| !(nose > 0.0 && nose <= MOST_NOSE)) {
            return Err(format!(
                "a nose radius lies above 0 and up to {MOST_NOSE} mm; without `{dashes}nose` the points are those of the surface"
            ));
        }
        let hollow = evaluation.band.hollow.is_some();
        let name = &evaluation.band.name;
        let part = match dashes {
            "" => "",
            _ => "--part ",
        };
        match (asked.part, hollow) {
            (Some(Part::Band), true) => {
                return Err(format!(
                    "`{name}` is turned in two parts: `{part}shell` or `{part}sleeve`"
                ));
            }
            (Some(Part::Shell | Part::Sleeve), false) => {
                return Err(format!("`{name}` is a solid band, of one part"));
            }
            _ => {}
        }
        Ok(ContourOf {
            part: asked.part,
            state: asked.state,
            step,
            nose,
        })
    }
}
