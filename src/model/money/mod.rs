//! What a recipe says of money: prices, the workshop, stock, orders, and how a band is sold.
//!
//! Input: the blocks `prices`, `shop`, `stock` and `order`, and a band's own fields. Output: what they say by field
//! ([`Said`]), and what follows from it in one currency, exact, each in base units: money by gram, money by second,
//! millimetres. What metal is taken, what it costs and what is earned is computed in `money`.

mod around;
mod derive;
mod exchange;
mod order;
mod prices;
mod read;
mod said;
mod sale;
mod shop;
mod state;
mod stock;
mod terms;
mod view;

pub(super) use around::Around;
pub(super) use derive::{moved, termed};
pub use exchange::{Exchange, Rate};
pub use order::{Credit, Order, OrderItem, Quote};
pub(super) use order::{name as order_name, orders};
pub use said::{Form, Row, RowOf, Said, Setting};
pub(super) use state::MoneyState;
pub(super) use stock::name as stock_name;
pub(super) use terms::{against, money, terms};
pub use view::{
    Fee, Making, Money, Operation, Price, Prices, Sale, Scrap, Shop, Stock, Stream, Terms,
};
