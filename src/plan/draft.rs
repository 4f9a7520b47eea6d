//! A band by values: what is given is written as a recipe and read once.

use crate::finding::Finding;
use crate::model::{Value, check};
use crate::schema::FieldId;

use super::{Given, Plan, Which};

/// A band not yet read.
///
/// # Example
/// ```
/// use annulet::Plan;
/// use annulet::schema::FieldId;
/// use rust_decimal::dec;
///
/// let plan = Plan::draft("harvest")
///     .with(FieldId::Size, "ISO 54")
///     .with(FieldId::Width, dec!(4.5))
///     .with(FieldId::Thickness, 1.5)
///     .with("profile", "domed")
///     .with("profile.edge", "1.2 mm")
///     .with(FieldId::Alloy, "silver-925")
///     .build();
/// assert!(plan.is_ok());
/// ```
#[derive(Clone, Debug)]
#[must_use]
pub struct Draft {
    band: String,
    values: Vec<(String, Option<FieldId>, Given)>,
}

impl Draft {
    pub(super) fn new(band: &str) -> Self {
        Self {
            band: band.to_owned(),
            values: Vec::new(),
        }
    }

    /// With a value of a field; a bare number is in the field's base unit, as for [`Plan::set`].
    pub fn with<'a>(
        mut self,
        which: impl Into<Which<'a, FieldId>>,
        value: impl Into<Given>,
    ) -> Self {
        let which = which.into();
        let path = which.path().to_owned();
        self.values.push((path, which.id(), value.into()));
        self
    }

    /// The recipe that says the same.
    ///
    /// # Errors
    /// What is wrong with a value, where it is not just a value.
    pub fn text(&self) -> Result<String, Vec<Finding>> {
        let mut text = format!("band {} {{\n", word(&self.band));
        let mut findings = Vec::new();
        for (path, id, given) in &self.values {
            match given.written(id.map(|id| id.row().takes)) {
                Ok(value) => text.push_str(&format!("  {} {value}\n", word(path))),
                Err(problems) => findings.extend(problems),
            }
        }
        text.push_str("}\n");
        if findings.is_empty() {
            Ok(text)
        } else {
            Err(findings)
        }
    }

    /// The plan.
    ///
    /// # Errors
    /// What is wrong with the values, as in a recipe that says them.
    pub fn build(&self) -> Result<Plan, Vec<Finding>> {
        Plan::read(&self.text()?)
    }
}

/// A word as it is; in quotes, which the reader refuses in its place, where it could be taken for more than a word.
fn word(text: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '.');
    if !text.is_empty() && text.chars().all(plain) {
        text.to_owned()
    } else {
        check::written(&Value::Text(text.to_owned()))
    }
}
