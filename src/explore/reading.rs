//! What is read in each row: results, fields, whatever is worked out from them, and whether conditions hold.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::{self, Evaluator, Scope, Value, check, is_counted};
use crate::quantity::{Number, Quantity};
use crate::schema::{FieldId, ResultId, Subject};
use crate::source::Span;
use crate::syntax::ast::{Expr, Operator, Path};

/// Something that a row has.
#[derive(Clone, Debug)]
pub struct Readout {
    /// How columns call it.
    pub name: String,
    /// The unit of its numbers; empty where they have none.
    pub unit: String,
    /// What it is.
    pub what: What,
}

impl Readout {
    /// A number of it with its unit as people read them: a share in per cent.
    #[must_use]
    pub fn read(&self, number: Number) -> (Number, &str) {
        match self.what {
            What::Result(_, id) if Subject::Result(id).is_share() => {
                let hundred = Number::Exact(Decimal::ONE_HUNDRED);
                (number.times(hundred).unwrap_or(number), "%")
            }
            _ => (number, &self.unit),
        }
    }
}

/// What is read.
#[derive(Clone, Debug)]
pub enum What {
    /// A result of a band.
    Result(usize, ResultId),
    /// A field of a band.
    Field(usize, FieldId),
    /// Whether a band keeps all its limits.
    Holds(usize),
    /// By how much a band falls short of its limits, all together: nothing where it keeps them.
    Missing(usize),
    /// An expression.
    Worked(RowExpression),
    /// How far an expression may be off at worst.
    Off(RowExpression),
    /// What is the same in every row.
    Same(Cell),
}

impl What {
    /// An expression in a unit; where no row moves anything of it, it is worked out now.
    #[must_use]
    pub fn of(worked: RowExpression, unit: &str) -> Self {
        let fixed = |meant: &Meant| match meant {
            Meant::Fixed(value) => Some(value.clone()),
            _ => None,
        };
        let mut names = worked.names.values();
        match names.all(|meant| fixed(meant).is_some()) {
            true => Self::Same(Cell::of(worked.value(&fixed), unit)),
            false => Self::Worked(worked),
        }
    }
}

/// What a name means, looked up once; bands by their places among those that are read.
#[derive(Clone, Debug)]
pub enum Meant {
    /// A `let`.
    Let(String),
    /// A field.
    Field(usize, FieldId),
    /// A result.
    Result(usize, ResultId),
    /// A value of prices, workshop or stock, by its full path.
    Setting(String),
    /// A value of an alloy of the recipe, by its name and path.
    Alloy(String, String),
    /// What no row moves.
    Fixed(Value),
}

/// An expression whose names are looked up.
#[derive(Clone, Debug)]
pub struct RowExpression {
    /// The expression.
    pub expr: Expr,
    /// What its names mean.
    pub names: BTreeMap<String, Meant>,
}

/// Something that must hold of a row.
#[derive(Clone, Debug)]
pub struct Condition {
    /// As it was said.
    pub text: String,
    /// Both sides and what must hold between them.
    pub what: Compared,
}

/// What a condition compares.
#[derive(Clone, Debug)]
pub enum Compared {
    /// A result with a number in the unit of its row.
    Result {
        /// The band.
        band: usize,
        /// The result.
        id: ResultId,
        /// How it must lie to the number.
        operator: Operator,
        /// The number.
        number: Number,
    },
    /// A band keeps all its limits.
    Holds(usize),
    /// Any other comparison.
    Worked(RowExpression),
}

/// Whether a number lies to another as an operator says; money and fineness to the last digit.
#[must_use]
pub fn lies(id: ResultId, number: Number, operator: Operator, other: Number) -> bool {
    let order = match is_counted(id.row().dimension) {
        true => number.compared(other),
        false => number.about(other),
    };
    model::holds(operator, order)
}

/// Where the values of names come from in one row.
pub(super) struct RowNames<'a> {
    pub names: &'a BTreeMap<String, Meant>,
    pub value: &'a dyn Fn(&Meant) -> Option<Value>,
}

impl Scope for RowNames<'_> {
    fn name(&mut self, path: &Path, _: Span, _: &mut Vec<Finding>) -> Option<Value> {
        (self.value)(self.names.get(&path.0)?)
    }
}

impl RowExpression {
    /// Whether what no band has is among its names.
    pub(super) fn reads_let(&self) -> bool {
        let mut names = self.names.values();
        names.any(|meant| matches!(meant, Meant::Let(_) | Meant::Setting(_) | Meant::Alloy(..)))
    }

    /// Its value in a row; none where something that it rests on is not there.
    pub(super) fn value(&self, value: &dyn Fn(&Meant) -> Option<Value>) -> Option<Value> {
        let mut scope = RowNames {
            names: &self.names,
            value,
        };
        let mut findings = Vec::new();
        Evaluator {
            scope: &mut scope,
            findings: &mut findings,
        }
        .value(&self.expr, None)
    }
}

/// What a row came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Came {
    /// It is there.
    Kept,
    /// A condition does not hold.
    Dropped,
    /// Something that a condition rests on is not there.
    Unknown,
    /// Its band cannot be made.
    Barred,
}

/// What stands in one place of a row.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// The row has no such value.
    Empty,
    /// A number in the unit of its column.
    Number(Number),
    /// A ring size, which is compared by its inside diameter in mm.
    Size {
        /// In mm.
        diameter: Number,
        /// As it is written.
        text: String,
    },
    /// What is no number.
    Text(String),
}

impl Cell {
    /// A value as a cell of a column with a unit: what is of no such unit is written with its own.
    #[must_use]
    pub fn of(value: Option<Value>, unit: &str) -> Self {
        let of = |quantity: &Quantity| {
            let asked = Some(unit).filter(|unit| !unit.is_empty());
            let (number, word) = check::in_unit(quantity, asked);
            (word == unit).then_some(Self::Number(number))
        };
        match value.map(Value::plain) {
            None => Self::Empty,
            Some(Value::Text(text)) => Self::Text(text),
            Some(value) => {
                let text = || check::written(&value);
                match &value {
                    Value::Size { size, .. } => Self::Size {
                        diameter: Number::Computed(size.diameter()),
                        text: text(),
                    },
                    Value::Quantity { quantity, .. } | Value::Circumference { quantity, .. } => {
                        of(quantity).unwrap_or_else(|| Self::Text(text()))
                    }
                    _ => Self::Text(text()),
                }
            }
        }
    }

    /// Its number; of a size its inside diameter in mm.
    #[must_use]
    #[inline]
    pub fn number(&self) -> Option<Number> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Size { diameter, .. } => Some(*diameter),
            Self::Empty | Self::Text(_) => None,
        }
    }
}
