//! Exact written quantities: numbers, dimensions, units, deviations, ring sizes.
//!
//! What a recipe states is kept in exact decimals; what geometry and mechanics compute is a float, and
//! says so ([`Number`]). A [`Quantity`] joins a number to its [`Dimension`], in base units: millimetre,
//! gram, second, degree, part per thousand of fineness, unit of a currency. Words of units are looked up
//! in [`unit`]; what a field wants is the business of `model`.

mod decimal;
mod dimension;
mod exact;
pub mod foreign;
mod number;
mod quantity_value;
mod ring_size;
mod typed;
pub mod unit;
mod units;

pub use decimal::{from_f64, to_f64, to_places};
pub use dimension::{Currency, Dimension};
pub use number::{ALIKE, Number};
pub use quantity_value::{Arithmetic, Deviation, Quantity};
pub use ring_size::{
    Circumference, Law, Measure, RingSize, SizeError, Steps, System, designated, fraction, mixed,
};
pub use typed::{Density, Length, Ratio};
