//! Which stocks of the recipe the parts of a band come out of, whether or not the band names one.

use crate::kernel;
use crate::money::{Extent, PartOf, serves};
use crate::quantity::Number;
use crate::schema::ResultId;

use super::evaluation::Evaluation;
use super::workpiece::extent;

/// What a part must come out of, and the stocks that it does.
#[derive(Clone, Debug, PartialEq)]
pub struct Serving {
    /// The part.
    pub part: PartOf,
    /// What it must come out of, as machined where that is computed.
    pub extent: Extent,
    /// Names of the stocks, in the order written.
    pub stocks: Vec<String>,
}

impl Evaluation {
    /// What each part must come out of, and which stocks of the recipe serve; nothing where the recipe has no stock.
    #[must_use]
    pub fn serving(&self) -> Vec<Serving> {
        let stocks = match &self.band.terms {
            Some(terms) if !terms.money.stocks.is_empty() => &terms.money.stocks,
            _ => return Vec::new(),
        };
        let machined = |id: ResultId| {
            let found = kernel::stretch_result(id, self.stretch());
            found.map(Number::computed)
        };
        let parts: &[PartOf] = match self.band.hollow {
            Some(_) => &[PartOf::Shell, PartOf::Sleeve],
            None => &[PartOf::Band],
        };
        let of_part = |part: &PartOf| {
            let extent = extent(*part, &self.input.shape, &self.figures, &machined);
            let fit = stocks.iter().filter(|stock| serves(stock, *part, &extent));
            Serving {
                part: *part,
                extent,
                stocks: fit.map(|stock| stock.name.clone()).collect(),
            }
        };
        parts.iter().map(of_part).collect()
    }
}
