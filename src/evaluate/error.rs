//! Limits that fall short: the band can be made, but not as its maker wants it.

use crate::schema::FieldId;
use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::fineness::{self, Shortfall};
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
            help: format!("take an alloy with less; {}, {}", limit.text, limit.clause),
        })
    })
}
