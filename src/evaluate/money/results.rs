//! Results of metal, cost and price: path, unit, meaning, formula, and how to read each from an account.

use rust_decimal::Decimal;

use crate::evaluate::Evaluation;
use crate::evaluate::results::{ResultEntry, entry, exact, from};
use crate::quantity::Dimension;

use super::cost::Cost;

/// Money, of the currency of each band.
const MONEY: &str = "money";

const fn money(
    path: &'static str,
    meaning: &'static str,
    formula: &'static str,
    needs: &'static [&'static str],
    read: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    exact(
        from(
            entry(path, MONEY, Dimension::MONEY, meaning, formula, |_, _| None),
            needs,
        ),
        read,
    )
}

const fn metal(
    path: &'static str,
    meaning: &'static str,
    formula: &'static str,
    needs: &'static [&'static str],
    read: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    exact(
        from(
            entry(path, "g", Dimension::MASS, meaning, formula, |_, _| None),
            needs,
        ),
        read,
    )
}

const fn break_even(
    path: &'static str,
    meaning: &'static str,
    read: fn(&Evaluation) -> Option<Decimal>,
) -> ResultEntry {
    let formula = "(a of the other - a) / (b - b of the other), each cost being a + b * price";
    let row = entry(
        path,
        "money/g",
        Dimension::MONEY_BY_MASS,
        meaning,
        formula,
        |_, _| None,
    );
    exact(from(row, &["cost", "against"]), read)
}

fn cost(evaluation: &Evaluation, read: fn(&Cost) -> Decimal) -> Option<Decimal> {
    evaluation.account()?.cost.as_ref().map(read)
}

fn level(evaluation: &Evaluation, element: &str) -> Option<Decimal> {
    let metals = &evaluation.account()?.against.as_ref()?.metals;
    let found = metals.iter().find(|(metal, _)| metal == element);
    found.map(|(_, price)| price.round_dp(6).normalize())
}

/// All results of metal, cost and price.
#[rustfmt::skip]
pub const MONEY_RESULTS: &[ResultEntry] = &[
    metal("weight.issued", "metal issued for one ring of a batch", "finished + turnings + offcuts + polishings", &["stock", "hollow.shell.stock", "hollow.sleeve.stock", "weight", "weight.cut", "shop.batch", "shop.scrap"], |of| Some(of.account()?.weights.issued)),
    metal("weight.turnings", "what turning, parting and the pattern take off", "issued stock - uncut - polishings + cut", &["weight.issued", "weight.cut"], |of| Some(of.account()?.weights.turnings)),
    metal("weight.offcuts", "clean offcuts: what stays in the chuck, sprues", "offcut of the batch / batch", &["stock", "shop.batch"], |of| Some(of.account()?.weights.offcuts)),
    metal("weight.polishings", "what is filed and polished off", "uncut * part", &["weight.uncut", "shop.scrap"], |of| Some(of.account()?.weights.polishings)),
    metal("weight.recovered", "metal that the refiner pays for", "sum of turnings, offcuts, polishings * collected * paid", &["weight.turnings", "weight.offcuts", "weight.polishings", "shop.scrap"], |of| Some(of.account()?.weights.recovered)),
    metal("weight.lost", "metal that is neither in the ring nor paid for", "issued - finished - recovered", &["weight.issued", "weight", "weight.recovered"], |of| Some(of.account()?.weights.lost)),
    metal("weight.charged", "weight that a price by weight counts; not a loss of metal", "finished * (1 + add)", &["weight", "sale.add"], |of| of.account()?.charged),
    exact(from(entry("time.labour", "min", Dimension::TIME, "labour for one ring of a batch", "run + set-up / batch, over the operations", |_, _| None), &["shop.operation", "shop.batch"]), |of| of.account()?.labour_minutes),
    exact(from(entry("time.machine", "min", Dimension::TIME, "machine time for one ring of a batch", "run + set-up / batch, over the operations", |_, _| None), &["shop.operation", "shop.batch"]), |of| of.account()?.machine_minutes),
    money("cost", "what one ring of a batch costs", "metal + labour + machine + overhead + rejects + fees", &["cost.metal", "cost.labour", "cost.machine", "cost.overhead", "cost.rejects", "cost.fees"], |of| cost(of, |of| of.total)),
    money("cost.metal", "metal, less what comes back", "bought - returned + refining", &["cost.metal.bought", "cost.metal.returned", "cost.metal.refining"], |of| cost(of, |of| of.metal)),
    money("cost.metal.bought", "metal as bought", "issued * (worth of a gram with premium + fabrication)", &["weight.issued", "prices"], |of| cost(of, |of| of.bought)),
    money("cost.metal.returned", "what the refiner pays", "recovered * worth of a gram", &["weight.recovered", "prices"], |of| cost(of, |of| of.returned)),
    money("cost.metal.refining", "what the refiner charges", "max(charge * collected * batch, minimum) / batch", &["shop.scrap", "shop.batch"], |of| cost(of, |of| of.refining)),
    money("cost.labour", "labour", "rate * (run + set-up / batch)", &["time.labour", "shop.labour"], |of| cost(of, |of| of.labour)),
    money("cost.machine", "machine", "rate * (run + set-up / batch)", &["time.machine", "shop.machine"], |of| cost(of, |of| of.machine)),
    money("cost.overhead", "overhead", "share * (labour + machine), or of metal bought less returned too", &["cost.labour", "cost.machine", "shop.overhead"], |of| cost(of, |of| of.overhead)),
    money("cost.rejects", "what rejects waste", "share / (1 - share) * what one reject wastes: its metal less what comes back, and the work on it", &["cost.metal", "shop.rejects"], |of| cost(of, |of| of.rejects)),
    money("cost.fees", "fees", "max(article * batch + consignment, minimum) / batch", &["shop.fee", "shop.batch"], |of| cost(of, |of| of.fees)),
    money("cost.one-per-cent", "what one per cent more on all prices of metal adds to the cost", "cost at 1.01 * prices - cost", &["cost", "prices"], |of| of.account()?.one_per_cent),
    money("price", "what one ring is sold for, before tax", "cost * (1 + markup), cost / (1 - margin), as stated, or charged * worth of a gram + making", &["cost", "sale", "sale.markup", "sale.margin", "sale.at", "sale.making", "weight.charged"], |of| of.account()?.net),
    money("price.making", "making charge in a price by weight", "making * charged, or a share of the worth of the metal charged", &["sale.making", "weight.charged"], |of| of.account()?.making),
    money("price.tax", "tax on the price", "price.total - price", &["price", "shop.tax"], |of| { let of = of.account()?; of.gross?.checked_sub(of.net?) }),
    money("price.total", "what one ring is sold for, with tax", "price * (1 + tax)", &["price", "shop.tax"], |of| of.account()?.gross),
    money("earning", "what one ring earns", "price - cost", &["price", "cost"], |of| of.account()?.earning),
    break_even("break-even.gold", "price of fine gold at which this band costs what the other does", |of| level(of, "gold")),
    break_even("break-even.silver", "price of fine silver at which this band costs what the other does", |of| level(of, "silver")),
    break_even("break-even.platinum", "price of fine platinum at which this band costs what the other does", |of| level(of, "platinum")),
    break_even("break-even.palladium", "price of fine palladium at which this band costs what the other does", |of| level(of, "palladium")),
    exact(from(entry("break-even.making", "money/g", Dimension::MONEY_BY_MASS, "making charge at which this band earns what the other does", "(what the other earns + cost - worth of the metal charged) / charged", |_, _| None), &["cost", "weight.charged", "against"]), |of| of.account()?.against.as_ref()?.making.map(|making| making.round_dp(6).normalize())),
    exact(from(entry("break-even.rejects", "", Dimension::NONE, "share of rejects at which this band costs what the other does", "k / (1 + k), k = (cost of the other - cost without rejects) / what one reject wastes", |_, _| None), &["cost", "against"]), |of| of.account()?.against.as_ref()?.rejects.map(|share| share.round_dp(6).normalize())),
];
