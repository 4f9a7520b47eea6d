//! What metal a band takes and gives back, what it costs, and what is earned: exact decimals throughout.
//!
//! Input: an evaluated band and its [`crate::model::money::Terms`]. Output: an [`Account`]. A computed mass
//! becomes a decimal once, in [`grams`]; from there on sums are exact, and quotients are carried to 28 digits.
//! Money is rounded once, when it is a total, in [`round`]; the parts of a total are made to add up to it.

mod account;
mod balance;
mod break_even;
mod cost;
mod exact;
mod missing;
mod order;
mod price;
mod quote;
mod results;
mod stock;

pub use account::{Account, Against, account};
pub use balance::{Balance, PartBalance, Weights};
pub use break_even::{break_even_metal, break_even_rejects, same_earning};
pub use cost::{Book, Cost, Job, Lines, cost};
pub use exact::{Exact, apportioned, grams, round};
pub(super) use missing::unpriced;
pub use missing::{Missing, missing, uncredited};
pub use order::{OrderLine, OrderTotals, Ordered, StockNeed, order_totals};
pub use price::{Price, price};
pub use quote::stale;
pub(super) use results::exact;
pub(super) use stock::unfit_stock;
pub use stock::{Need, need};
