//! What is said of words that a band is sold under and that its metal does not bear out.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::fineness::Reason;
use crate::model::Band;
use crate::schema::FieldId;
use crate::source::Span;

/// Words that a band is sold under, and that its metal does not bear out.
#[derive(Debug, Error, Diagnostic)]
#[error("the tag of `{band}` {what}")]
#[diagnostic(
    code(evaluate::tag),
    severity(warning),
    help("sell it as what it is: whoever sells answers for these words in every country")
)]
pub struct FalseTag {
    /// The tag.
    #[label("not so")]
    at: Span,
    /// The band.
    band: String,
    /// What it says wrongly.
    what: String,
}

impl Problem for FalseTag {}

impl FalseTag {
    /// What is said of a reason that speaks of the tag; none for another.
    pub(crate) fn of(band: &Band, reason: &Reason) -> Option<Self> {
        let what = match reason {
            Reason::TagOver {
                metal,
                figure,
                found,
            } => format!(
                "claims {} {}, and there are {}",
                metal.word(),
                figure.normalize(),
                found.normalize()
            ),
            Reason::TagMetal(metal) => format!("names {}, which no part holds", metal.word()),
            Reason::TagSolid => "calls a hollow article solid".to_owned(),
            _ => return None,
        };
        Some(Self {
            at: band.place(FieldId::Tag),
            band: band.name.clone(),
            what,
        })
    }
}
