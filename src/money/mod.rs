//! What metal a band takes and gives back, what it costs, and what is earned: exact decimals throughout.
//!
//! Input: a [`Workpiece`], which is the masses of its parts as numbers and its [`crate::model::money::Terms`]. Output: an
//! [`Account`], and [`MoneyShortfall`]s. A computed mass becomes a decimal once, in [`grams`]; from there on sums are exact,
//! and quotients are carried to 28 digits. Money is rounded once, when it is a total, in [`round`]; the parts of a
//! total are made to add up to it. Nothing here knows how a band is evaluated, or what is said of it in words.

mod account;
mod balance;
mod begun;
mod book;
mod break_even;
mod cost;
mod exact;
mod made;
mod missing;
mod need;
mod order;
mod order_results;
mod price;
mod quote;
mod results;
mod returned;
mod shortfall;
mod slips;
mod to_buy;
mod under_cost;
mod workpiece;

pub use account::{Account, Against, account, against, one_per_cent};
pub use balance::{Balance, PartBalance, Weights};
pub use begun::SetUps;
pub use book::Book;
pub use break_even::{Pays, Stand, break_even_metal, pays, same_earning, stand};
pub use cost::{Cost, Job, Lines, cost};
pub use exact::{Exact, apportioned, grams, round, seconds};
pub use missing::{missing, uncredited};
pub use need::{Need, chosen, need, serves, unfit};
pub use order::{OrderLine, OrderTotals, order_totals};
pub use price::{Sold, sold};
pub use quote::stale;
pub use results::{exact, level};
pub use returned::Returned;
pub use shortfall::{Dated, Dayless, MoneyShortfall, Unpriced, tidy};
pub use slips::slips;
pub use to_buy::ToBuy;
pub use under_cost::{order_may_lose, order_under_cost, under_cost};
pub use workpiece::{Cutting, Extent, PartOf, WorkPart, Workpiece};
