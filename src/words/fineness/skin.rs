//! What is said of metal that the law keeps from the skin.

use miette::Diagnostic;
use thiserror::Error;

use crate::catalogue::SkinLimit;
use crate::finding::Problem;
use crate::fineness::Portion;
use crate::model::Band;
use crate::schema::FieldId;
use crate::source::Span;

use rust_decimal::Decimal;

/// More of an element than the skin may meet.
#[derive(Debug, Error, Diagnostic)]
#[error(
    "the {part} of `{band}` holds {element} {held} per thousand, and {market} bans {most} or more"
)]
#[diagnostic(code(evaluate::restricted), severity(warning), help("{help}"))]
pub struct RestrictedMetal {
    /// The alloy.
    #[label("{element} in it")]
    at: Span,
    /// The band.
    band: String,
    /// The part.
    part: &'static str,
    /// The element.
    element: String,
    /// Parts per thousand.
    held: String,
    /// Where it is banned.
    market: String,
    /// From how much on.
    most: String,
    /// The text, and what to do.
    help: String,
}

impl Problem for RestrictedMetal {}

impl RestrictedMetal {
    /// What is said of a part of a band; `field` is the alloy's.
    pub(crate) fn of(
        band: &Band,
        (field, part): (FieldId, Portion),
        (held, most): (Decimal, Decimal),
        limit: &SkinLimit,
    ) -> Self {
        let own = Some(field).filter(|id| band.field(*id).is_some());
        Self {
            at: band.place(own.unwrap_or(FieldId::Alloy)),
            band: band.name.clone(),
            part: part.word(),
            element: limit.element.clone(),
            held: held.normalize().to_string(),
            market: format!("the {}", limit.market),
            most: most.normalize().to_string(),
            help: format!(
                "take an alloy with less{}; {}, {}",
                match limit.element.as_str() {
                    "cadmium" => ", and do not heat this one: its fume is poisonous",
                    _ => "",
                },
                limit.text,
                limit.clause
            ),
        }
    }
}
