//! What is read of each row, and what must hold of it, from text.

use std::collections::BTreeMap;

use crate::explore::{Compared, Condition, Meant, Readout, RowExpression, What};
use crate::model::{Scope, Value, check, paths};
use crate::quantity::unit;
use crate::schema::{self, ResultId, Subject};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, Operator};

use super::exploring::Asking;
use super::question::{Meant as Named, Results};

impl Asking<'_> {
    /// What a name means; none after a finding.
    fn name(&mut self, path: &str, at: Span) -> Option<Meant> {
        let outcome = self.outcome.clone();
        let results = Results { outcome: &outcome };
        // What no band has may follow from whatever is moved outside of bands.
        let moves = self.axes.iter().any(|axis| axis.band.is_none());
        if let Some(setting) = results.setting(path) {
            return Some(match moves {
                true => Meant::Setting(results.setting_path(path)),
                false => Meant::Fixed(setting.value.value.clone()),
            });
        }
        if let Some((alloy, path)) = results.alloy(path) {
            let value = alloy.value(path)?;
            let is_own = outcome
                .recipe
                .alloys
                .iter()
                .any(|own| own.name == alloy.name);
            return Some(match moves && is_own {
                true => Meant::Alloy(alloy.name.clone(), path.to_owned()),
                false => Meant::Fixed(value),
            });
        }
        if results.ordered(path, at, &mut Vec::new()).is_some() {
            let help = "`ask` tells them, with `--set` for other values; rows show results and fields of bands";
            return self.refuse(
                at,
                "the totals of an order are not worked out in rows",
                help,
            );
        }
        match results.meant(path, at, &mut self.findings)? {
            Named::Let(one) => Some(Meant::Let(one.name.clone())),
            Named::Of(band, rest) => {
                if !outcome.recipe.is_band(&band) {
                    return None;
                }
                let evaluation = outcome.evaluation(&band);
                // What is a result of drawn cuts alone is a field where none are drawn.
                let meant = |subject: &Subject| match evaluation {
                    Some(evaluation) => evaluation.meant(*subject),
                    None => *subject,
                };
                let subjects: Vec<Subject> = schema::find_subject(rest).iter().map(meant).collect();
                match subjects.as_slice() {
                    [Subject::Result(id)] => Some(Meant::Result(self.read(&band), *id)),
                    [Subject::Field(id)] => Some(Meant::Field(self.read(&band), *id)),
                    _ => {
                        // It says what is wrong with the path.
                        let mut scope = Results { outcome: &outcome };
                        let asked = crate::syntax::ast::Path(path.to_owned());
                        let before = self.findings.len();
                        let found = scope.name(&asked, at, &mut self.findings);
                        if found.is_some() || self.findings.len() == before {
                            let help =
                                "rows show results and fields; `annulet list results` lists them";
                            return self.refuse(at, "rows cannot show this", help);
                        }
                        None
                    }
                }
            }
        }
    }

    pub fn worked(&mut self, expr: Expr) -> Option<RowExpression> {
        let mut found = Vec::new();
        paths(&expr, &mut |path, at| found.push((path.0.clone(), at)));
        let mut names = BTreeMap::new();
        if let Some((path, word)) = self.word_beside(&expr) {
            names.insert(path, Meant::Fixed(word?));
        }
        for (path, at) in found {
            if names.contains_key(&path) {
                continue;
            }
            let meant = self.name(&path, at)?;
            names.insert(path, meant);
        }
        Some(RowExpression { expr, names })
    }

    /// A word beside a field that takes one, in a comparison (`alloy = silver-925`); its value is none after a finding.
    pub fn word_beside(&mut self, expr: &Expr) -> Option<(String, Option<Value>)> {
        let ExprKind::Binary {
            operator,
            left,
            right,
        } = &expr.kind
        else {
            return None;
        };
        let (ExprKind::Path(one), ExprKind::Path(other)) = (&left.kind, &right.kind) else {
            return None;
        };
        if !operator.value.compares() {
            return None;
        }
        let outcome = self.outcome.clone();
        let mut results = Results { outcome: &outcome };
        let findings = &mut self.findings;
        let mut beside = |field, word, at| results.word(field, word, at, findings);
        match beside(one, other, right.span) {
            Some(word) => Some((other.0.clone(), word)),
            None => Some((one.0.clone(), beside(other, one, left.span)?)),
        }
    }

    /// What is aimed at, or kept to a limit: a column of numbers, of sizes by their diameters. `None` after a finding.
    pub fn numbers(&mut self, text: &str) -> Option<Readout> {
        let reading = self.reading(text)?;
        let value = match &reading.what {
            What::Result(..) => return Some(reading),
            What::Holds(_) => None,
            What::Field(_, id) if !reading.unit.is_empty() && id.row().takes.is_measured() => {
                return Some(reading);
            }
            _ => {
                let expr = self.expr(text)?;
                self.now(&expr)
            }
        };
        match value {
            Some(Value::Size { .. }) => Some(Readout {
                unit: "mm".to_owned(),
                ..reading
            }),
            Some(Value::Quantity { .. } | Value::Circumference { .. } | Value::Steps(_)) => {
                Some(reading)
            }
            _ => {
                let help = "as in `weight`, `size` or `wall.least`; what words are kept to stands behind `where`";
                self.lacks(
                    text,
                    "this is no number, of which there is a least or a most",
                    help,
                )
            }
        }
    }

    /// A column.
    pub fn reading(&mut self, text: &str) -> Option<Readout> {
        if let Some(band) = self.holds(text) {
            return Some(Readout {
                name: text.to_owned(),
                unit: String::new(),
                what: What::Holds(band),
            });
        }
        let expr = self.expr(text)?;
        let (of, unit) = match &expr.kind {
            ExprKind::Convert { value, unit } => (&**value, Some(unit.value.clone())),
            _ => (&expr, None),
        };
        if let (ExprKind::Path(path), None) = (&of.kind, &unit) {
            let name = path.0.clone();
            return match self.name(&name, of.span)? {
                Meant::Result(band, id) => Some(self.result(name, band, id)),
                Meant::Field(band, id) => {
                    let unit = self.unit_of(band, id);
                    Some(Readout {
                        name,
                        unit,
                        what: What::Field(band, id),
                    })
                }
                _ => self.worked_reading(text, expr),
            };
        }
        self.worked_reading(text, expr)
    }

    fn worked_reading(&mut self, text: &str, expr: Expr) -> Option<Readout> {
        let worked = self.worked(expr.clone())?;
        let unit = match self.now(&expr)? {
            Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
                check::in_unit(&quantity, unit.as_deref()).1
            }
            _ => String::new(),
        };
        Some(Readout {
            name: text.to_owned(),
            unit,
            what: What::Worked(worked),
        })
    }

    /// A result as a column.
    pub fn result(&mut self, name: String, band: usize, id: ResultId) -> Readout {
        Readout {
            name,
            unit: self.unit(id),
            what: What::Result(band, id),
        }
    }

    /// The unit of a result: of money the currency of the recipe.
    fn unit(&self, id: ResultId) -> String {
        let money = self.outcome.recipe.money.as_ref();
        match money.and_then(|money| money.currency) {
            Some(currency) => id.row().unit.replacen("money", currency.code(), 1),
            None => id.row().unit.to_owned(),
        }
    }

    /// The unit that a field of a band is written in.
    fn unit_of(&self, band: usize, id: schema::FieldId) -> String {
        let name = self.bands.get(band);
        let mut bands = self.outcome.recipe.bands.iter();
        let band = bands.find(|band| Some(&band.name) == name);
        match band
            .and_then(|band| band.field(id))
            .map(|field| &field.value)
        {
            Some(Value::Quantity { quantity, unit }) => check::in_unit(quantity, unit.as_deref()).1,
            Some(Value::Size { .. }) => String::new(),
            // What is not stated, or is a word, is told in the first unit of its kind.
            _ => {
                let due = check::due(id.row().takes).1;
                due.and_then(unit::shown)
                    .map_or_else(String::new, |(word, _)| word)
            }
        }
    }

    /// The band of `holds`, or of `harvest.holds`.
    fn holds(&mut self, text: &str) -> Option<usize> {
        let band = match text.strip_suffix("holds")? {
            "" => self
                .band
                .clone()
                .or_else(|| match self.outcome.recipe.names.as_slice() {
                    [only] => Some(only.name.clone()),
                    _ => None,
                })?,
            rest => rest.strip_suffix('.')?.to_owned(),
        };
        self.outcome.recipe.is_band(&band).then(|| self.read(&band))
    }

    /// A condition.
    pub fn condition(&mut self, text: &str) -> Option<Condition> {
        let text_said = text.to_owned();
        if let Some(band) = self.holds(text) {
            return Some(Condition {
                text: text_said,
                what: Compared::Holds(band),
            });
        }
        let expr = self.expr(text)?;
        let ExprKind::Binary {
            operator,
            left,
            right,
        } = &expr.kind
        else {
            let help = match &expr.kind {
                ExprKind::Path(path) if path.0 == "and" => {
                    "write conditions with a comma between them, as in `wall.least >= 0.25 mm, holds`"
                }
                _ => "compare two values, as in `wall.least >= 0.25 mm`",
            };
            return self.refuse(expr.span, "this is not a condition", help);
        };
        if !operator.value.compares() {
            let help = "compare two values, as in `wall.least >= 0.25 mm`";
            return self.refuse(expr.span, "this is not a condition", help);
        }
        let worked = self.worked(expr.clone())?;
        self.comparable(&expr)?;
        let what = self.threshold(&worked, operator.value, left, right);
        Some(Condition {
            text: text_said,
            what: what.unwrap_or(Compared::Worked(worked)),
        })
    }

    /// A result beside a number, as most conditions are.
    fn threshold(
        &mut self,
        worked: &RowExpression,
        operator: Operator,
        left: &Expr,
        right: &Expr,
    ) -> Option<Compared> {
        let (ExprKind::Path(path), ExprKind::Quantity { .. }) = (&left.kind, &right.kind) else {
            return None;
        };
        let Some(Meant::Result(band, id)) = worked.names.get(&path.0) else {
            return None;
        };
        let Value::Quantity { quantity, .. } = self.now(right)? else {
            return None;
        };
        if quantity.dimension.without_currency() != id.row().dimension.without_currency() {
            return None;
        }
        let unit = self.unit(*id);
        let number = match unit.as_str() {
            "" => quantity.number,
            word => unit::scale_in(word, quantity.dimension)
                .ok()?
                .of_base(quantity.number)?,
        };
        Some(Compared::Result {
            band: *band,
            id: *id,
            operator,
            number,
        })
    }
}
