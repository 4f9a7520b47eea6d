//! What is varied and what is read, from text: the axes, readings and conditions of many what-ifs over one recipe.

use std::borrow::Cow;

use rust_decimal::Decimal;

use crate::explore::{Axis, axis};
use crate::finding::Finding;
use crate::model::{Evaluator, Holder, Key, ModelError, Value, check};
use crate::quantity::{Number, Quantity};
use crate::schema::{self, Takes};
use crate::source::Span;
use crate::syntax;
use crate::syntax::ast::{Entry, Expr, ExprKind, Path};

use super::in_rows::InRows;
use super::question::Results;
use super::{Outcome, Prepared, Request, Session};

/// Reads what is said of rows; bands are numbered as they are met.
pub(super) struct Asking<'a> {
    pub session: &'a mut Session,
    pub prepared: &'a Prepared,
    pub request: Request,
    pub outcome: Outcome,
    /// The band that unqualified paths mean.
    pub band: Option<String>,
    /// The bands that are read.
    pub bands: Vec<String>,
    pub axes: Vec<Axis>,
    pub findings: Vec<Finding>,
}

/// What text stands for in findings.
pub(super) const SOURCE: &str = "question";

impl<'a> Asking<'a> {
    pub fn new(
        session: &'a mut Session,
        prepared: &'a Prepared,
        request: &Request,
        outcome: &Outcome,
    ) -> Self {
        Self {
            session,
            prepared,
            request: request.clone(),
            outcome: outcome.clone(),
            band: request.band.clone(),
            bands: Vec::new(),
            axes: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// Whether the recipe is sound enough to move its numbers, and each word that is put into it is known.
    pub fn is_sound(&mut self) -> bool {
        let bands = match self.bands.is_empty() {
            true => self.band.iter().cloned().collect(),
            false => self.bands.clone(),
        };
        let wrong = self.outcome.mistakes_of(self.prepared, &bands);
        if wrong.is_empty() {
            let before = self.findings.len();
            self.tell_misspelt();
            return self.findings.len() == before;
        }
        self.findings.extend(wrong.iter().cloned());
        false
    }

    pub fn refuse<T>(&mut self, at: Span, message: &'static str, help: &'static str) -> Option<T> {
        let problem = ModelError::NoResult { at, message, help };
        self.findings.push(problem.into());
        None
    }

    /// An axis: a field, a `let` or what else an override reaches, and its values. Without values, what it is now.
    ///
    /// Where it is `free`, a range without a step stands for all numbers in it, and a field without values for those
    /// from a quarter of its present value to four times as much.
    pub fn axis(&mut self, text: &str, free: bool) -> Option<()> {
        let text = self.without_steps(text, free)?;
        let is_stepped = matches!(text, Cow::Owned(_));
        let id = self.session.sources.add(SOURCE, &text);
        let source = self.session.sources.get(id)?.clone();
        let whole = source.span(0..source.text.len());
        let parsed = syntax::parse(&source);
        if !parsed.findings.is_empty() {
            self.findings.extend(parsed.findings);
            return None;
        }
        let entries: Vec<_> = syntax::ast::entries(&parsed.value.items).collect();
        let [entry] = entries.as_slice() else {
            let help = "as in `shell 0.30 mm .. 0.60 mm by 0.05 mm`";
            return self.refuse(whole, "this is not a field with its values", help);
        };
        if let Some(block) = &entry.block {
            let help = "give its fields one by one, by their paths";
            return self.refuse(
                block.open,
                "a block is not a value that can be varied",
                help,
            );
        }
        // Without values it stands for what it is now, so that none is asked for where its name is looked up.
        let mut named = (*entry).clone();
        if named.values.is_empty() {
            let kind = ExprKind::Path(Path(String::new()));
            let span = entry.head_span();
            named.values.push(Expr { kind, span });
        }
        let (holder, path) =
            self.prepared
                .names()
                .place(&named, self.band.as_deref(), &mut self.findings)?;
        if !entry.values.is_empty() && !is_stepped {
            self.is_set(entry, &(holder.clone(), path.clone()))?;
        }
        let (key, takes, name) = self.meant(&holder, &path);
        let band = match &holder {
            Holder::Band(name) => Some(name.clone()),
            _ => None,
        };
        if self.axes.iter().any(|axis| axis.path == name) {
            let help = "give it all its values in one list";
            return self.refuse(entry.head_span(), "it is varied twice", help);
        }
        let named = (name.clone(), band.clone());
        if entry.values.is_empty() && free {
            let axis = self.around(named, key, takes, entry.header_span())?;
            return self.vary(axis);
        }
        let [value] = entry.values.as_slice() else {
            let help = "write a range or a list, as in `shell 0.30 mm .. 0.60 mm by 0.05 mm` or `alloy [silver-925, yellow-750]`";
            return self.refuse(entry.header_span(), "no values are stated for it", help);
        };
        let mut scope = Results {
            outcome: &self.outcome,
        };
        let found = axis(
            named,
            key,
            takes,
            value,
            free,
            &mut scope,
            &mut self.findings,
        )?;
        self.vary(found)
    }

    /// Refuses values for what an option gives another one, which would mean nothing.
    fn is_set(&mut self, entry: &Entry, of: &(Holder, String)) -> Option<()> {
        for set in self.request.sets.clone() {
            let mut findings = Vec::new();
            let placed = self.session.entry(&set, 0, &mut findings);
            let names = self.prepared.names();
            let placed = placed
                .and_then(|set| names.place(&set, self.request.band.as_deref(), &mut findings));
            if placed.as_ref() == Some(of) {
                let help = "leave out the one, or the other";
                let message = "it is varied here, and `--set` gives it a value";
                return self.refuse(entry.head_span(), message, help);
            }
        }
        Some(())
    }

    fn vary(&mut self, axis: Axis) -> Option<()> {
        if self.band.is_none() {
            self.band.clone_from(&axis.band);
            self.outcome.chosen.clone_from(&self.band);
        }
        self.axes.push(axis);
        Some(())
    }

    /// An axis round the present value of what it moves.
    fn around(
        &mut self,
        named: (String, Option<String>),
        key: Option<Key>,
        takes: Takes,
        at: Span,
    ) -> Option<Axis> {
        const HELP: &str = "say between which, as in `shell 0.3 mm .. 1 mm`";
        let recipe = &self.outcome.recipe;
        let value = match key {
            Some(key @ (Key::Field(..) | Key::Let(_))) => recipe.value_of(key),
            Some(_) => {
                let results = Results {
                    outcome: &self.outcome,
                };
                let setting = results.setting(&named.0).map(|one| one.value.value.clone());
                setting.or_else(|| {
                    let (alloy, path) = results.alloy(&named.0)?;
                    alloy.value(path)
                })
            }
            None => None,
        };
        let Some(Value::Quantity { quantity, unit }) = value.filter(|_| takes != Takes::Count)
        else {
            return self.refuse(at, "no range is stated to search in", HELP);
        };
        let (Some(number), word) = (
            quantity.number.exact(),
            check::in_unit(&quantity, unit.as_deref()).1,
        ) else {
            return self.refuse(at, "no range is stated to search in", HELP);
        };
        if number <= Decimal::ZERO {
            return self.refuse(at, "no range is stated to search in", HELP);
        }
        let mut most = number * Decimal::from(4);
        if matches!(takes, Takes::Share | Takes::ShareBelow) {
            most = most.min(Decimal::new(99, 2));
        }
        let of = |number: Decimal| Value::Quantity {
            quantity: Quantity::new(Number::Exact(number), quantity.dimension),
            unit: unit.clone(),
        };
        let ends = [of(number / Decimal::from(4)), of(most)];
        Some(Axis::over(named, key, at, word, ends))
    }

    /// The text of an expression as it was typed.
    pub fn text_of(&self, expr: &Expr) -> String {
        let source = self.session.sources.holding(expr.span);
        source.map_or_else(String::new, |source| source.slice(expr.span).to_owned())
    }

    /// Whether both sides of a comparison are of one kind, as far as they are known now; none after a finding.
    pub fn comparable(&mut self, expr: &Expr) -> Option<()> {
        let before = self.findings.len();
        if self.now(expr).is_some() {
            return Some(());
        }
        let unread =
            |one: &Finding| matches!(one.code().as_str(), "model::unread" | "session::no_value");
        let missing = self.findings.iter().skip(before).all(unread);
        missing.then(|| self.findings.truncate(before))
    }

    /// Whether what an expression comes to may be off in the recipe as it stands.
    pub fn is_off(&mut self, expr: &Expr) -> bool {
        let before = self.findings.len();
        let value = self.now(expr);
        self.findings.truncate(before);
        let found = value.as_ref().and_then(Value::measured);
        found.is_some_and(|(quantity, _)| !quantity.deviations.is_empty())
    }

    /// What is moved, what it takes, and how it is called.
    fn meant(&self, holder: &Holder, path: &str) -> (Option<Key>, Takes, String) {
        let recipe = &self.outcome.recipe;
        let key = recipe.key_of(holder, path);
        let field = match holder {
            Holder::Band(_) => schema::find(path),
            _ => key.and_then(Key::field).map(schema::FieldId::row),
        };
        let takes = field.map_or(Takes::Anything, |field| field.takes);
        let name = match holder {
            Holder::Band(name) if recipe.names.len() > 1 => format!("{name}.{path}"),
            Holder::Band(_) => path.to_owned(),
            Holder::Lets => path.to_owned(),
            Holder::Block(word, Some(name)) => format!("{word}.{name}.{path}"),
            Holder::Block(word, None) => format!("{word}.{path}"),
        };
        // Words choose, and make another recipe.
        let is_number = matches!(takes, Takes::Anything) || takes.is_measured();
        (key.filter(|_| is_number), takes, name)
    }

    /// The number of a band among those that are read.
    pub fn read(&mut self, band: &str) -> usize {
        match self.bands.iter().position(|known| known == band) {
            Some(place) => place,
            None => {
                self.bands.push(band.to_owned());
                self.bands.len() - 1
            }
        }
    }

    pub fn expr(&mut self, text: &str) -> Option<Expr> {
        let id = self.session.sources.add(SOURCE, text);
        let parsed = syntax::parse_query(self.session.sources.get(id)?);
        let sound = parsed.findings.is_empty();
        let mut findings = parsed.findings;
        // What else is wrong may only seem so behind it.
        let is_comma = |one: &Finding| one.code() == "syntax::decimal_comma";
        if findings.iter().any(is_comma) {
            findings.retain(is_comma);
        }
        self.findings.extend(findings);
        parsed.value.filter(|_| sound)
    }

    /// What an expression comes to in the recipe as it stands; what has no value there stands in by its kind.
    pub fn now(&mut self, expr: &Expr) -> Option<Value> {
        let mut scope = InRows {
            results: Results {
                outcome: &self.outcome,
            },
        };
        Evaluator {
            scope: &mut scope,
            findings: &mut self.findings,
        }
        .value(expr, None)
    }
}
