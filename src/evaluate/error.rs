//! Limits that fall short: the band can be made, but not as its maker wants it.

use crate::schema::FieldId;
use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::fineness::{self, Judgement, Reason, Shortfall};
use crate::source::Span;

use crate::model::Band;

/// A limit that is not kept.
#[derive(Debug, Error, Diagnostic)]
pub enum LimitError {
    /// A stock that cannot make the part it is for.
    #[error("`{stock}` cannot make the {part}: its {what} is {found}, and must be {due}")]
    #[diagnostic(code(evaluate::stock), help("{help}"))]
    Stock {
        /// The dimension.
        #[label("{what} of the stock")]
        at: Span,
        /// Where the stock is used.
        #[label("used here")]
        used: Span,
        /// The stock.
        stock: String,
        /// The part.
        part: String,
        /// Which dimension.
        what: &'static str,
        /// It.
        found: String,
        /// What it must be.
        due: String,
        /// What would just do.
        help: String,
    },
    /// A metal whose worth no price gives.
    #[error("no {what} is stated, so {needs} is not given")]
    #[diagnostic(code(evaluate::no_price), severity(advice), help("{help}"))]
    NoPrice {
        /// The alloy.
        #[label("no price")]
        at: Span,
        /// What cannot be given.
        needs: String,
        /// The metals.
        what: String,
        /// The line to write.
        help: String,
    },
    /// Time that is spent and paid at no rate.
    #[error("no {what} is stated, so no cost is given that counts its time")]
    #[diagnostic(code(evaluate::unpaid_time), severity(advice), help("{help}"))]
    UnpaidTime {
        /// The operation.
        #[label("its time is paid at that rate")]
        at: Span,
        /// The rate.
        what: String,
        /// The line to write.
        help: String,
    },
    /// More of an element than the skin may meet.
    #[error(
        "the {part} of `{band}` holds {element} {held} per thousand, and {market} bans {most} or more"
    )]
    #[diagnostic(code(evaluate::restricted), severity(warning), help("{help}"))]
    Restricted {
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
    },
    /// Words that a band is sold under, and that its metal does not bear out.
    #[error("the tag of `{band}` {what}")]
    #[diagnostic(
        code(evaluate::tag),
        severity(warning),
        help("sell it as what it is: whoever sells answers for these words in every country")
    )]
    Tag {
        /// The tag.
        #[label("not so")]
        at: Span,
        /// The band.
        band: String,
        /// What it says wrongly.
        what: String,
    },
    /// A price older than it may be.
    #[error("the {what} is {age} old on {day}, past the limit of {oldest}")]
    #[diagnostic(
        code(evaluate::stale_price),
        severity(warning),
        help("write the price of the day with its `dated`, or a longer `oldest`")
    )]
    Stale {
        /// The price.
        #[label("{age} old")]
        at: Span,
        /// What it is.
        what: String,
        /// Its age.
        age: String,
        /// The day that it counts to.
        day: String,
        /// The limit.
        oldest: String,
    },
    /// A price of a day still to come.
    #[error("the {what} is of {dated}, which is after {day}")]
    #[diagnostic(
        code(evaluate::early_price),
        severity(warning),
        help("check both days; nobody knows a price before its day")
    )]
    Early {
        /// The price.
        #[label("of {dated}")]
        at: Span,
        /// What it is.
        what: String,
        /// Its day.
        dated: String,
        /// The day that ages count to.
        day: String,
    },
    /// An offer that no longer stands.
    #[error("the offer of {dated} stood for {valid}, which was over on {day} by {over}")]
    #[diagnostic(
        code(evaluate::expired_offer),
        severity(warning),
        help("make a new offer, with the prices and the `dated` of the day")
    )]
    Expired {
        /// The offer.
        #[label("no longer stands")]
        at: Span,
        /// Its day.
        dated: String,
        /// How long it stood.
        valid: String,
        /// The day that it is judged on.
        day: String,
        /// By how much it is over.
        over: String,
    },
}

impl Problem for LimitError {}

/// A finding for every part that holds more of an element than the law lets the skin meet.
pub(super) fn restricted(band: &Band) -> impl Iterator<Item = LimitError> {
    let all = fineness::restricted(band);
    all.filter_map(|one| {
        let Shortfall::Restricted {
            part,
            held,
            most,
            limit,
        } = one
        else {
            return None;
        };
        let own = one.field().filter(|id| band.field(*id).is_some());
        Some(LimitError::Restricted {
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
        })
    })
}

/// A finding for a tag that claims more than is there, where no rulebook is asked that would say so.
///
/// `judged` is what ISO 9202 says of it, which knows no shortfall, and no law of its own.
pub(super) fn overstated<'a>(
    band: &Band,
    judged: impl FnOnce() -> Option<&'a Judgement>,
) -> Option<LimitError> {
    if band.marking.tag.is_none() || !band.marking.asked.is_empty() {
        return None;
    }
    let reasons = judged()?.reasons.iter();
    let mut said = reasons.filter_map(|reason| match reason {
        Reason::TagOver {
            metal,
            figure,
            found,
        } => Some(format!(
            "claims {} {}, and there are {}",
            metal.word(),
            figure.normalize(),
            found.normalize()
        )),
        Reason::TagMetal(metal) => Some(format!("names {}, which no part holds", metal.word())),
        Reason::TagSolid => Some("calls a hollow article solid".to_owned()),
        _ => None,
    });
    Some(LimitError::Tag {
        at: band.place(FieldId::Tag),
        band: band.name.clone(),
        what: said.next()?,
    })
}
