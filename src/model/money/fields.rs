//! The vocabulary of `prices`, `shop`, `stock` and `order`, in the manner of a band's.
//!
//! `METAL`, `NAME` and `BAND` in a path stand for a word of the recipe's own.

use crate::model::fields::{DEFINED, Field, Takes, default, field, of};

/// Forms of stock.
pub const FORMS: &[&str] = &["tube", "rod", "ring", "cast"];

const PARTED: &[&str] = &["tube", "rod"];
const BORED: &[&str] = &["tube", "ring", "cast"];

/// All fields, those of a block right behind it.
#[rustfmt::skip]
pub const MONEY_FIELDS: &[Field] = &[
    field("prices.dated", Takes::Date, "the day that the prices are of"),
    field("prices.source", Takes::Text, "where they are from"),
    field("prices.METAL", Takes::MoneyByWeight, "price of an element when fine, or of an alloy as such"),
    field("prices.METAL.dated", Takes::Date, "the day of this price; default: that of the block"),
    field("prices.METAL.source", Takes::Text, "where it is from; default: that of the block"),
    field("prices.METAL.premium", Takes::ShareOrMore, "paid on top when buying; default: that of the block"),
    default("prices.premium", Takes::ShareOrMore, ("0 %", DEFINED), "paid on top when buying"),
    field("prices.fabrication", Takes::MoneyByWeight, "charge for the form that metal is bought in, by weight issued; default: none"),
    field("prices.oldest", Takes::Time, "age past which a price is stale; default: no limit"),
    field("prices.rate", Takes::Anything, "what one unit of a currency is in another, as in `rate 1 USD = 0.92 EUR`"),
    field("prices.rate.dated", Takes::Date, "the day of this rate; default: that of the block"),
    field("prices.rate.source", Takes::Text, "where it is from; default: that of the block"),
    field("shop.currency", Takes::Currency, "the currency that all is counted in; default: that of the shop's first amount"),
    field("shop.labour", Takes::MoneyByTime, "rate for labour; without one no time of it can be paid"),
    field("shop.machine", Takes::MoneyByTime, "rate for the machine; without one no time of it can be paid"),
    default("shop.batch", Takes::Count, ("1", DEFINED), "rings made together, which share set-up and consignments"),
    field("shop.operation", Takes::Block, "one operation, as in `operation turning { run 6 min }`"),
    default("shop.operation.set-up", Takes::Time, ("0 min", DEFINED), "once a batch"),
    default("shop.operation.run", Takes::Time, ("0 min", DEFINED), "for each ring"),
    default("shop.operation.at", Takes::Word(&["labour", "machine", "both"]), ("labour", DEFINED), "the rate that its time is paid at"),
    default("shop.operation.for", Takes::Word(&["every", "solid", "hollow"]), ("every", DEFINED), "the bands that it is done on"),
    default("shop.overhead", Takes::ShareOrMore, ("0 %", DEFINED), "overhead, as a share"),
    default("shop.overhead.on", Takes::Word(&["work", "cost"]), ("work", DEFINED), "a share of labour and machine, or of metal too"),
    field("shop.rejects", Takes::Block, "share of the bands begun that is rejected when finished"),
    default("shop.rejects.solid", Takes::ShareBelow, ("0 %", DEFINED), "of solid bands"),
    default("shop.rejects.hollow", Takes::ShareBelow, ("0 %", DEFINED), "of hollow bands"),
    field("shop.scrap", Takes::Block, "what comes back of metal taken off; what is not stated does not come back"),
    field("shop.scrap.offcuts", Takes::Block, "clean offcuts, sprues, and rejects"),
    default("shop.scrap.offcuts.collected", Takes::Share, ("100 %", DEFINED), "share that is collected"),
    field("shop.scrap.offcuts.paid", Takes::Share, "share of it that the refiner pays for"),
    field("shop.scrap.turnings", Takes::Block, "turnings, what the pattern takes off included"),
    default("shop.scrap.turnings.collected", Takes::Share, ("100 %", DEFINED), "share that is collected"),
    field("shop.scrap.turnings.paid", Takes::Share, "share of it that the refiner pays for"),
    field("shop.scrap.polishings", Takes::Block, "filings and polishings"),
    field("shop.scrap.polishings.part", Takes::ShareBelow, "part of the uncut weight that is filed and polished off on top of it"),
    default("shop.scrap.polishings.collected", Takes::Share, ("100 %", DEFINED), "share that is collected"),
    field("shop.scrap.polishings.paid", Takes::Share, "share of it that the refiner pays for"),
    field("shop.scrap.charge", Takes::MoneyByWeight, "the refiner's charge, by weight sent in; default: none"),
    field("shop.scrap.minimum", Takes::Money, "the least that the refiner charges for a batch; default: none"),
    field("shop.fee", Takes::Block, "a fee, as in `fee hallmark { article 1 EUR }`"),
    field("shop.fee.article", Takes::Money, "for each article; default: none"),
    field("shop.fee.consignment", Takes::Money, "for each consignment; default: none"),
    field("shop.fee.minimum", Takes::Money, "the least for a consignment; default: none"),
    default("shop.tax", Takes::ShareOrMore, ("0 %", DEFINED), "tax on the price"),
    field("stock.outside", Takes::Length, "outside diameter"),
    of(field("stock.bore", Takes::Length, "bore"), BORED),
    field("stock.length", Takes::Length, "length as bought (tube, rod), or of one blank (ring, cast)"),
    of(default("stock.kerf", Takes::LengthOrZero, ("0 mm", DEFINED), "width of the parting cut"), PARTED),
    default("stock.facing", Takes::LengthOrZero, ("0 mm", DEFINED), "taken off each face"),
    of(default("stock.rest", Takes::LengthOrZero, ("0 mm", DEFINED), "what stays in the chuck of each length"), PARTED),
    of(field("stock.sprue", Takes::Mass, "sprue of each casting; default: none"), &["cast"]),
    field("stock.fabrication", Takes::MoneyByWeight, "charge for this form, by weight issued; default: that of the prices"),
    field("order.dated", Takes::Date, "the day of the order, to which ages count"),
    field("order.for", Takes::Text, "whom it is for"),
    field("order.BAND", Takes::Block, "what is wanted of a band, as in `harvest { 3 of ISO 52, 8 of ISO 54 }`"),
    field("order.exchange", Takes::Block, "old metal that the customer brings"),
    field("order.exchange.weight", Takes::Mass, "its weight"),
    field("order.exchange.alloy", Takes::Alloy, "its metal, as tested"),
    default("order.exchange.paid", Takes::Share, ("100 %", DEFINED), "share of its fine metal that is credited"),
    default("order.exchange.as", Takes::Word(&["credit", "supplied"]), ("credit", DEFINED), "credited at the price of the day, or taken for this very job in place of bought metal"),
    field("order.quote", Takes::Block, "the offer made for it"),
    field("order.quote.dated", Takes::Date, "the day of the offer; default: that of the order"),
    field("order.quote.valid", Takes::Time, "how long it stands; default: no end"),
    default("order.quote.deposit", Takes::Share, ("0 %", DEFINED), "part of the total to be paid beforehand"),
    field("order.quote.trigger", Takes::Share, "move of the metal price, to either side, at which a new offer is made; default: none"),
];

/// The field of a full path.
#[must_use]
pub fn find(path: &str) -> Option<&'static Field> {
    MONEY_FIELDS.iter().find(|field| field.path == path)
}

/// The fields that stand directly in a block.
pub fn held_by(holder: &str) -> impl Iterator<Item = &'static Field> {
    MONEY_FIELDS
        .iter()
        .filter(move |field| field.holder() == holder)
}
