//! Prices, the workshop, stock and sale as arithmetic needs them: exact, in one currency, in base units.
//!
//! All of it follows from what the blocks say ([`Said`]); it is worked out in `derive` alone.

use std::sync::Arc;

use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::model::calendar::Day;
use crate::model::values::Values;
use crate::quantity::{Currency, Length};
use crate::source::Span;

use super::exchange::Rate;
use super::said::{Form, Said};

/// Prices and the workshop, all in one currency.
#[derive(Clone, Debug)]
pub struct Money {
    /// The currency that everything is counted in; none where neither a block nor the band in question states an amount.
    pub currency: Option<Currency>,
    /// What metal costs.
    pub prices: Prices,
    /// The workshop.
    pub shop: Shop,
    /// Rates between currencies that were used.
    pub rates: Vec<Rate>,
    /// What metal is issued as.
    pub stocks: Vec<Arc<Stock>>,
    /// All that the blocks say, from which the rest follows.
    pub said: Said,
}

/// What metal costs.
#[derive(Clone, Debug, Default)]
pub struct Prices {
    /// One a metal: an element, or an alloy as such.
    pub metals: Vec<Price>,
    /// Charge for the form it is bought in, by gram issued.
    pub fabrication: Decimal,
    /// Age in days past which a price is stale.
    pub oldest: Option<Decimal>,
}

/// The price of one metal.
#[derive(Clone, Debug)]
pub struct Price {
    /// The element, or the alloy.
    pub metal: Arc<str>,
    /// Money by gram.
    pub by_gram: Decimal,
    /// What is paid on top when buying, as a share.
    pub premium: Decimal,
    /// The day that it is of.
    pub dated: Day,
    /// Where it is from.
    pub source: Option<String>,
    /// Where it is written.
    pub at: Span,
}

/// The workshop.
#[derive(Clone, Debug, Default)]
pub struct Shop {
    /// Labour, money by second; none where it is not stated.
    pub labour: Option<Decimal>,
    /// Machine, money by second; none where it is not stated.
    pub machine: Option<Decimal>,
    /// Rings made together.
    pub batch: u32,
    /// The operations, in the order written.
    pub operations: Vec<Operation>,
    /// Overhead as a share.
    pub overhead: Decimal,
    /// Overhead counts on the whole cost so far, not on work alone.
    pub overhead_on_cost: bool,
    /// Share of solid bands that are rejected.
    pub rejects_solid: Decimal,
    /// Share of hollow bands that are rejected.
    pub rejects_hollow: Decimal,
    /// What comes back of each stream.
    pub scrap: Scrap,
    /// Fees, in the order written.
    pub fees: Vec<Fee>,
    /// Tax on the price, as a share.
    pub tax: Decimal,
}

/// One operation.
#[derive(Clone, Debug)]
pub struct Operation {
    /// Its name.
    pub name: String,
    /// Seconds once a batch.
    pub set_up: Decimal,
    /// Seconds a ring.
    pub run: Decimal,
    /// Its time is paid at the rate for labour.
    pub labour: bool,
    /// Its time is paid at the rate for the machine.
    pub machine: bool,
    /// Done on solid bands.
    pub solid: bool,
    /// Done on hollow bands.
    pub hollow: bool,
    /// Where it is written.
    pub place: Span,
}

/// Scrap and what the refiner makes of it.
#[derive(Clone, Debug, Default)]
pub struct Scrap {
    /// Clean offcuts.
    pub offcuts: Stream,
    /// Turnings, what the pattern takes off included.
    pub turnings: Stream,
    /// Filings and polishings.
    pub polishings: Stream,
    /// Part of the uncut weight that goes as polishings.
    pub polished: Decimal,
    /// The refiner's charge by gram of scrap sent in.
    pub charge: Decimal,
    /// The least that the refiner charges for a consignment.
    pub minimum: Decimal,
    /// Grams that make a consignment; none: what a batch or an order sends in.
    pub consignment: Option<Decimal>,
    /// Days until the refiner pays.
    pub wait: Option<Decimal>,
}

/// What comes back of one kind of scrap.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stream {
    /// Share that is collected.
    pub collected: Decimal,
    /// Share of what is collected that the refiner pays for.
    pub paid: Decimal,
}

/// A fee, such as that of an assay office.
#[derive(Clone, Debug)]
pub struct Fee {
    /// Its name.
    pub name: String,
    /// For each article.
    pub article: Decimal,
    /// For each consignment.
    pub consignment: Decimal,
    /// The least for a consignment.
    pub minimum: Decimal,
}

/// What metal is issued as.
#[derive(Clone, Debug)]
pub struct Stock {
    /// Its name.
    pub name: String,
    /// Its form.
    pub form: Form,
    /// Outside diameter.
    pub outside: Length,
    /// Bore; 0 for rod.
    pub bore: Length,
    /// Length as bought (tube, rod), or of one blank.
    pub length: Option<Length>,
    /// Width of the parting cut.
    pub kerf: Length,
    /// Taken off each face.
    pub facing: Length,
    /// What each turned diameter needs to clean up.
    pub clean_up: Length,
    /// What stays in the chuck of each length.
    pub rest: Length,
    /// Sprue of a casting, in g.
    pub sprue: Decimal,
    /// Charge for this form, by gram issued, in place of that of the prices.
    pub fabrication: Option<Decimal>,
    /// Its name in the recipe.
    pub at: Span,
    /// Its values.
    pub fields: Values,
}

/// Stocks that a part may be made of, in the order written.
pub type Stocks = SmallVec<[Arc<Stock>; 1]>;

/// Everything about money that concerns one band.
#[derive(Clone, Debug)]
pub struct Terms {
    /// Prices and the workshop.
    pub money: Arc<Money>,
    /// What the solid band is made of: the first that it comes out of.
    pub solid: Stocks,
    /// What the shell is made of.
    pub shell: Stocks,
    /// What the sleeve is made of.
    pub sleeve: Stocks,
    /// How it is sold.
    pub sale: Option<Sale>,
}

/// How a band is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sale {
    /// Cost and a share of the cost.
    Markup(Decimal),
    /// A share of the price is earned.
    Margin(Decimal),
    /// A price by the piece.
    At(Decimal),
    /// By weight.
    Weight {
        /// The making charge.
        making: Making,
        /// Charged on top of the finished weight, as a share.
        add: Decimal,
    },
}

/// A making charge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Making {
    /// Money by gram of the charged weight.
    ByGram(Decimal),
    /// A share of the worth of the metal in it.
    Share(Decimal),
}
