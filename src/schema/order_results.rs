//! What can be asked of an order, behind `order.NAME.`: the path, its unit, what it means.

use crate::quantity::Dimension;

/// One total of an order.
#[derive(Clone, Copy, Debug)]
pub struct OrderRow {
    /// How the program knows it.
    pub id: OrderResult,
    /// Path behind the order's name.
    pub path: &'static str,
    /// The unit of the bare number; `money`: that of the order; empty for a count.
    pub unit: &'static str,
    /// Its dimension.
    pub dimension: Dimension,
    /// What it means.
    pub meaning: &'static str,
    /// How it is computed.
    pub formula: &'static str,
}

macro_rules! totals {
    ($($id:ident = $path:literal, $unit:literal, $dimension:ident, $meaning:literal, $formula:literal;)*) => {
        /// How the program knows a total of an order; what it means stands in its row.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[allow(missing_docs, reason = "the meaning stands in the row")]
        pub enum OrderResult {
            $($id,)*
        }

        /// Every total of an order.
        pub static ORDER_RESULTS: &[OrderRow] = &[
            $(OrderRow {
                id: OrderResult::$id,
                path: $path,
                unit: $unit,
                dimension: Dimension::$dimension,
                meaning: $meaning,
                formula: $formula,
            },)*
        ];
    };
}

#[rustfmt::skip]
totals! {
    Count = "count", "", NONE, "rings ordered", "sum over its lines";
    Begun = "begun", "", NONE, "rings begun, rejects included", "count / (1 - rejects) of each band, up to whole rings";
    Issued = "weight.issued", "g", MASS, "metal issued for the rings begun", "sum over its lines of the rings begun";
    Finished = "weight.finished", "g", MASS, "weight of the rings ordered", "sum over its lines of the rings ordered";
    Turnings = "weight.turnings", "g", MASS, "what turning, parting and patterns take off", "sum over its lines of the rings begun";
    Offcuts = "weight.offcuts", "g", MASS, "clean offcuts, rejects among them", "sum over its lines of the rings begun, and the rejects";
    Polishings = "weight.polishings", "g", MASS, "what is filed and polished off", "sum over its lines of the rings begun";
    Recovered = "weight.recovered", "g", MASS, "metal that the refiner pays for", "sum over the streams of mass * collected * paid";
    Lost = "weight.lost", "g", MASS, "metal that is neither in the rings nor paid for", "issued - finished - recovered";
    Labour = "time.labour", "min", TIME, "labour", "run * rings begun + set-up * batches";
    Machine = "time.machine", "min", TIME, "machine time", "run * rings begun + set-up * batches";
    Cost = "cost", "money", MONEY, "what it costs", "metal + labour + machine + overhead + fees, of the rings begun";
    CostMetal = "cost.metal", "money", MONEY, "metal, less what comes back", "bought - returned + refining";
    CostBought = "cost.bought", "money", MONEY, "metal as bought", "issued * (worth of a gram with premium + fabrication)";
    CostReturned = "cost.returned", "money", MONEY, "what the refiner pays", "recovered * worth of a gram";
    CostRefining = "cost.refining", "money", MONEY, "what the refiner charges", "charge * collected, the minimum at least";
    CostLabour = "cost.labour", "money", MONEY, "labour", "rate * time.labour";
    CostMachine = "cost.machine", "money", MONEY, "machine", "rate * time.machine";
    CostOverhead = "cost.overhead", "money", MONEY, "overhead", "share * (labour + machine), or of metal bought less returned too";
    CostFees = "cost.fees", "money", MONEY, "fees", "of one consignment, of the rings ordered";
    CostSingly = "cost.one-by-one", "money", MONEY, "what the rings cost one by one, as that is shown", "sum of count * cost of one";
    CostRest = "cost.whole-rings", "money", MONEY, "difference that whole rejects, batches and consignments make", "cost - cost.one-by-one";
    CostTiedUp = "cost.tied-up", "money", MONEY, "cash tied up in metal until the refiner pays", "cost.returned - cost.refining, 0 at least";
    OnePerCent = "cost.one-per-cent", "money", MONEY, "what one per cent more on all prices of metal adds to the cost", "cost at 1.01 * prices - cost";
    Price = "price", "money", MONEY, "what its rings are sold for, before tax", "sum of count * price of one";
    Tax = "price.tax", "money", MONEY, "tax on the price", "price.total - price";
    Total = "price.total", "money", MONEY, "what its rings are sold for, with tax", "price as shown * (1 + tax)";
    Earning = "earning", "money", MONEY, "what it earns", "price - cost";
    Credit = "credit", "money", MONEY, "what old metal is credited with", "fine metal * paid * its price";
    Due = "due", "money", MONEY, "what is left to pay", "price.total - credit";
    Deposit = "deposit", "money", MONEY, "part of the total paid beforehand", "due * deposit";
}

impl OrderResult {
    /// Its row.
    #[must_use]
    #[allow(
        clippy::indexing_slicing,
        reason = "one macro makes the ids and the rows"
    )]
    pub fn row(self) -> &'static OrderRow {
        &ORDER_RESULTS[self as usize]
    }
}

/// The total of a path behind an order's name.
#[must_use]
pub fn find_of_order(path: &str) -> Option<&'static OrderRow> {
    ORDER_RESULTS.iter().find(|row| row.path == path)
}
