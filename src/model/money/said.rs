//! What the blocks `prices`, `shop` and `stock` say, by field and, where a row of the table has one, by name.

use std::sync::Arc;

use crate::model::values::{FieldValue, Values};
use crate::schema::{BlockId, Field, FieldId};
use crate::source::Span;

/// All that is said.
#[derive(Clone, Debug, Default)]
pub struct Said {
    /// What stands in `prices` itself.
    pub prices: Values,
    /// What stands in `shop` itself.
    pub shop: Values,
    /// Whether anything is said of the shop, so that its defaults are worth telling.
    pub shop_is_written: bool,
    /// Operations and fees, then metals, then stocks, each in the order written.
    pub rows: Vec<Row>,
}

/// What is said under a name.
#[derive(Clone, Debug)]
pub struct Row {
    /// Of what.
    pub of: RowOf,
    /// The name.
    pub name: Arc<str>,
    /// The word that it is written as: a metal has several names.
    pub word: Arc<str>,
    /// Where it is written.
    pub at: Span,
    /// Its values.
    pub values: Values,
}

/// What a name is given to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowOf {
    /// An operation of the shop.
    Operation,
    /// A fee of the shop.
    Fee,
    /// A metal of the prices.
    Metal,
    /// A stock of some form.
    Stock(Form),
}

impl RowOf {
    /// The path in the table of what is said of it.
    pub(super) fn path(self) -> &'static str {
        match self {
            Self::Operation => FieldId::ShopOperation.path(),
            Self::Fee => FieldId::ShopFee.path(),
            Self::Metal => FieldId::PricesMetal.path(),
            Self::Stock(_) => BlockId::Stock.word(),
        }
    }

    /// What stands before the name in a recipe's own path.
    fn head(self) -> &'static str {
        match self {
            Self::Metal => BlockId::Prices.word(),
            _ => self.path(),
        }
    }
}

impl Row {
    /// What stands behind the name in the path of a field, with its point.
    fn behind(&self, field: &'static Field) -> &'static str {
        field.path.strip_prefix(self.of.path()).unwrap_or_default()
    }
}

/// The form of a stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Tube, parted off.
    Tube,
    /// Rod, parted off and bored.
    Rod,
    /// A ring-shaped blank, one a ring.
    Ring,
    /// A cast blank, one a ring, with its sprue.
    Cast,
}

impl Form {
    /// The word that a recipe uses.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tube => "tube",
            Self::Rod => "rod",
            Self::Ring => "ring",
            Self::Cast => "cast",
        }
    }

    /// Whether it comes in lengths that are parted off.
    #[must_use]
    pub fn is_parted(self) -> bool {
        matches!(self, Self::Tube | Self::Rod)
    }
}

/// One value that is said.
#[derive(Clone, Copy, Debug)]
pub struct Setting<'a> {
    /// Its row, where it stands under a name.
    pub row: Option<&'a Row>,
    /// The value and its place.
    pub value: &'a FieldValue,
}

impl Setting<'_> {
    /// Its path, as in `prices.gold` or `shop.operation.turning.run`.
    #[must_use]
    pub fn path(&self) -> String {
        let field = self.value.field;
        match self.row {
            Some(row) => format!("{}.{}{}", row.of.head(), row.name, row.behind(field)),
            None => field.path.to_owned(),
        }
    }
}

impl Said {
    /// Every value, operations and fees before what stands in the shop itself, metals before the rest of the prices.
    pub fn settings(&self) -> impl Iterator<Item = Setting<'_>> {
        let shop = self.shop_is_written.then_some(&self.shop);
        self.named(|of| matches!(of, RowOf::Operation | RowOf::Fee))
            .chain(shop.into_iter().flat_map(plain))
            .chain(self.named(|of| of == RowOf::Metal))
            .chain(plain(&self.prices))
            .chain(self.named(|of| matches!(of, RowOf::Stock(_))))
    }

    fn named(&self, wanted: fn(RowOf) -> bool) -> impl Iterator<Item = Setting<'_>> {
        let rows = self.rows.iter().filter(move |row| wanted(row.of));
        rows.flat_map(|row| {
            let row_of = Some(row);
            let values = row.values.iter();
            values.map(move |value| Setting { row: row_of, value })
        })
    }

    /// The value of a path, such as `prices.gold`: its field, and the place of its row where it stands in one.
    #[must_use]
    pub fn find(&self, path: &str) -> Option<(FieldId, Option<usize>)> {
        let shop = self.shop_is_written.then_some(&self.shop);
        let shop = shop.into_iter().flat_map(Values::iter);
        let plain = self.prices.iter().chain(shop);
        let mut plain = plain.map(|value| value.field);
        if let Some(field) = plain.find(|field| field.path == path) {
            return Some((field.id, None));
        }
        self.rows.iter().enumerate().find_map(|(place, row)| {
            let rest = path.strip_prefix(row.of.head())?.strip_prefix('.')?;
            // `prices.Ag` too, where `silver` is written so.
            let field = [&row.name, &row.word].into_iter().find_map(|name| {
                let rest = rest.strip_prefix(&**name)?;
                let mut fields = row.values.iter().map(|value| value.field);
                fields.find(|field| row.behind(field) == rest)
            })?;
            Some((field.id, Some(place)))
        })
    }

    /// What is said under a path, such as `prices.gold`.
    #[must_use]
    pub fn setting(&self, path: &str) -> Option<Setting<'_>> {
        let (field, row) = self.find(path)?;
        let value = self.get(field, row)?;
        let row = row.and_then(|row| self.rows.get(row));
        Some(Setting { row, value })
    }

    /// The value of a field, in a row where it stands in one.
    #[must_use]
    pub fn get(&self, field: FieldId, row: Option<usize>) -> Option<&FieldValue> {
        match row {
            Some(row) => self.rows.get(row)?.values.get(field),
            None if field.row().block == BlockId::Prices => self.prices.get(field),
            None => self.shop.get(field),
        }
    }

    /// Puts a value in its place.
    pub(crate) fn put(&mut self, value: FieldValue, row: Option<usize>) {
        let values = match row {
            Some(row) => self.rows.get_mut(row).map(|row| &mut row.values),
            None if value.field.block == BlockId::Prices => Some(&mut self.prices),
            None => Some(&mut self.shop),
        };
        if let Some(values) = values {
            values.put(value);
        }
    }
}

/// What stands in a block itself.
fn plain(values: &Values) -> impl Iterator<Item = Setting<'_>> {
    values.iter().map(|value| Setting { row: None, value })
}
