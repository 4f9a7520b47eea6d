//! Limits that fall short: the band can be made, but not as its maker wants it.

use miette::Diagnostic;
use thiserror::Error;

use crate::finding::Problem;
use crate::source::Span;

use crate::geometry::{bodies, fitting, impossible};

use super::evaluation::Evaluation;
use super::input::least_wall;

/// A limit that is not kept.
#[derive(Debug, Error, Diagnostic)]
pub enum LimitError {
    /// A wall that exists, but is thinner than it may be.
    #[error("{what} of `{band}` is {wall} mm thick, under the least wall of {limit} mm")]
    #[diagnostic(code(evaluate::thin_wall), severity(warning), help("{help}"))]
    ThinWall {
        /// What makes it thin.
        #[label("{label}")]
        at: Span,
        /// The band.
        band: String,
        /// Which wall.
        what: &'static str,
        /// The wall.
        wall: String,
        /// The limit.
        limit: String,
        /// Where it is thin.
        label: String,
        /// What would keep the limit.
        help: String,
    },
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
    #[error("no price gives `{alloy}` a worth, so the cost of `{band}` is not computed")]
    #[diagnostic(code(evaluate::no_price), severity(advice), help("{help}"))]
    NoPrice {
        /// The alloy.
        #[label("no price")]
        at: Span,
        /// The alloy.
        alloy: String,
        /// The band.
        band: String,
        /// What to state.
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

/// Computed lengths are compared within this, in mm.
const ROUNDING: f64 = 1e-9;

/// A finding for every wall that is thinner than wanted, judged at its worst case.
pub(super) fn thin_walls(evaluation: &Evaluation) -> Vec<LimitError> {
    let Evaluation { band, input, .. } = evaluation;
    let limit = least_wall(band);
    let places = |value: f64| format!("{}", (value * 1e6).round() / 1e6);
    let mut findings = Vec::new();
    for (wall, worst) in evaluation.walls() {
        let short = limit - (wall.thickness - worst);
        if short <= ROUNDING {
            continue;
        }
        let path = match (wall.path, band.pattern.is_some()) {
            ("thickness", true) => "pattern.depth",
            ("pattern.depth", false) => "hollow.shell",
            (path, _) => path,
        };
        let label = match wall.x {
            Some(x) => format!(
                "{} is {} mm at x = {} mm",
                wall.name,
                places(wall.thickness),
                places(x)
            ),
            None => format!("{} is {} mm", wall.name, places(wall.thickness)),
        };
        let shape = &input.shape;
        let enough = |value: f64| {
            let changed = shape.with(path, value);
            impossible(&changed).is_empty()
                && bodies(&changed).least_wall() - worst >= limit - ROUNDING
        };
        let fits = shape.field(path).and_then(|now| {
            let less = path == "pattern.depth"
                || path == "hollow.sleeve" && wall.name.starts_with("shell");
            fitting(less, now, enough)
        });
        let word = path.rsplit('.').next().unwrap_or(path);
        let help = match fits {
            Some(value) => format!("`{word} {} mm` would keep it everywhere", places(value)),
            None => format!(
                "{} mm are missing; no other `{word}` alone would keep it everywhere",
                places(short)
            ),
        };
        findings.push(LimitError::ThinWall {
            at: band.place(path),
            band: band.name.clone(),
            wall: places(wall.thickness - worst),
            limit: places(limit),
            what: wall.name,
            label,
            help,
        });
    }
    findings
}
