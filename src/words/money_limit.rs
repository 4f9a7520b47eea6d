//! Sentences of what falls short in money, with their codes and labels.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

/// What is said of a shortfall of money.
#[derive(Debug, Error, Diagnostic)]
pub enum MoneyLimit {
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
    /// A drawn cut whose time nothing tells.
    #[error(
        "how long `{what}` takes is not known for want of `{word}`, and the cost holds no time of the pattern"
    )]
    #[diagnostic(code(evaluate::untimed_cut), severity(advice), help("{help}"))]
    Untimed {
        /// The cut.
        #[label("its time is not counted")]
        at: Span,
        /// What it is called.
        what: String,
        /// The field that is missing.
        word: &'static str,
        /// The line to write.
        help: String,
    },
    /// A metal whose worth no price gives, so that a stated price is held against no cost.
    #[error("no {what} is stated, so {needs} is not given, nor judged whether it is sold under it")]
    #[diagnostic(code(evaluate::no_price), severity(warning), help("{help}"))]
    UnjudgedPrice {
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
    /// Time paid at no rate, so that a stated price is held against no cost.
    #[error(
        "no {what} is stated, so no cost is given that counts its time, nor judged what is sold under it"
    )]
    #[diagnostic(code(evaluate::unpaid_time), severity(warning), help("{help}"))]
    UnjudgedTime {
        /// The operation.
        #[label("its time is paid at that rate")]
        at: Span,
        /// The rate.
        what: String,
        /// The line to write.
        help: String,
    },
    /// A price that is no more than the cost.
    #[error("{what} for {price}, and costs {cost}: {lost}")]
    #[diagnostic(code(evaluate::under_cost), severity(warning), help("{help}"))]
    UnderCost {
        /// The price.
        #[label("before tax")]
        at: Span,
        /// What is sold.
        what: String,
        /// Its price.
        price: String,
        /// Its cost.
        cost: String,
        /// What is lost.
        lost: String,
        /// What would earn something.
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
    /// Scrap of an order that weighs less than should have been collected, or more than was taken off.
    #[error("{what} of {order} weigh {found}, {off}")]
    #[diagnostic(code(evaluate::returned), severity(warning), help("{help}"))]
    Returned {
        /// The weight.
        #[label("as weighed")]
        at: Span,
        /// The stream.
        what: &'static str,
        /// The order.
        order: String,
        /// Its weight.
        found: String,
        /// How far it is off.
        off: String,
        /// What may be.
        help: &'static str,
    },
    /// Ages that cannot be judged, since no day is stated.
    #[error("{what} cannot be judged: no day is stated")]
    #[diagnostic(code(evaluate::no_day), severity(warning), help("{help}"))]
    NoDay {
        /// What is limited.
        #[label("counted from or to no day")]
        at: Span,
        /// What it is.
        what: String,
        /// The line to write.
        help: &'static str,
    },
    /// A price that looks like a slip of a unit.
    #[error("{message}")]
    #[diagnostic(
        code(evaluate::unlikely_price),
        severity(advice),
        help(
            "look at the figures and their units: one may be by the kilogram and not by the gram"
        )
    )]
    UnlikelyPrice {
        /// The price.
        #[label("as meant?")]
        at: Span,
        /// The other.
        #[label("beside this")]
        beside: Option<Span>,
        /// What does not go together.
        message: String,
    },
    /// A term of the workshop that looks like a slip of a unit.
    #[error("{message}")]
    #[diagnostic(
        code(evaluate::unlikely_term),
        severity(advice),
        help("look at the figure and its unit")
    )]
    UnlikelyTerm {
        /// It.
        #[label("as meant?")]
        at: Span,
        /// What is far from what.
        message: String,
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

impl Problem for MoneyLimit {}
