//! Values of fields, `let`s and outlines, each worked out once, whatever their order.

use std::sync::Arc;

use crate::finding::Finding;
use crate::quantity::Length;
use crate::schema::{Field, FieldId, Takes};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind};

use super::check;
use super::error::ModelError;
use super::expression::{Evaluator, Scope};
use super::field_value::default;
use super::field_value::{choose, single, word, words};
use super::mentions::paths;
use super::merge::{Statement, node};
use super::names::At;
use super::outline::Outline;
use super::program;
use super::resolve::{LONGEST_CHAIN, Progress, Resolver, Sought, refused, too_long};
use super::share;
use super::value::Value;
use super::values::FieldValue;
use super::written_outline;

impl Resolver<'_> {
    /// Names as seen from the top level.
    pub fn top_scope(&mut self) -> impl Scope {
        At {
            resolver: self,
            band: None,
            holder: "",
            own: None,
        }
    }

    /// The value of a field: written, or its default; none when it has neither, or is faulty.
    pub fn field(
        &mut self,
        band: usize,
        field: &'static Field,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<FieldValue>> {
        let key = Sought::Field(band, field.id);
        match self.states.get(&key) {
            Some(Progress::Done(value)) => return value.clone(),
            Some(Progress::Refused) => return refused(at, findings),
            Some(Progress::Working) => return self.circle(key, at, findings),
            Some(Progress::DoneLet(_) | Progress::DoneBand(_)) | None => {}
        }
        if let Some(Progress::DoneBand(Some(band))) = self.states.get(&Sought::Band(band))
            && let Some(value) = band.fields.shared(field.id)
        {
            return Some(value.clone());
        }
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, Progress::Working);
        self.chain.push(key);
        let before = findings.len();
        let value = self.written(band, field, findings);
        self.chain.pop();
        let state = if value.is_none() && findings.len() > before {
            Progress::Refused
        } else {
            Progress::Done(value.clone())
        };
        self.states.insert(key, state);
        value
    }

    /// The custom outline of a band, when it has one.
    pub fn outline(
        &mut self,
        band: usize,
        width: Option<Length>,
        findings: &mut Vec<Finding>,
    ) -> Option<Outline> {
        let node = self
            .bands
            .get(band)
            .and_then(|settings| node(&settings.nodes, "profile"))?;
        let (items, at) = (node.outline?, node.at);
        // It must span the width.
        self.notes.fix(program::Key::Field(band, FieldId::Width));
        let mut scope = At {
            resolver: self,
            band: Some(band),
            holder: "profile",
            own: None,
        };
        written_outline::outline(items, at, width, &mut scope, findings)
    }

    /// Works out the `let`s that mention nothing but `let`s, each behind those that it needs, so that in whatever order
    /// they are written none waits for many others in a row.
    pub fn settle_lets(&mut self, wanted: &dyn Fn(&str) -> bool, findings: &mut Vec<Finding>) {
        let count = self.lets.len();
        let mut waits: Vec<usize> = vec![0; count];
        let mut needed_by: Vec<Vec<usize>> = vec![Vec::new(); count];
        let mut ready: Vec<usize> = Vec::new();
        for (place, one) in self.lets.iter().enumerate() {
            let (mut needs, mut alone) = (Vec::new(), true);
            paths(one.value, &mut |path, _| match self.let_named(path) {
                Some(other) => needs.push(other),
                None => alone = false,
            });
            if !alone || !wanted(one.name) {
                continue;
            }
            if needs.is_empty() {
                ready.push(place);
            }
            if let Some(waits) = waits.get_mut(place) {
                *waits = needs.len();
            }
            for other in needs {
                if let Some(of) = needed_by.get_mut(other) {
                    of.push(place);
                }
            }
        }
        while let Some(place) = ready.pop() {
            let Some(at) = self.lets.get(place).map(|one| one.at) else {
                continue;
            };
            self.let_value(place, at, findings);
            for other in needed_by.get(place).into_iter().flatten() {
                if let Some(waits) = waits.get_mut(*other) {
                    *waits -= 1;
                    if *waits == 0 {
                        ready.push(*other);
                    }
                }
            }
        }
    }

    /// The value of a `let`.
    pub fn let_value(
        &mut self,
        place: usize,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        let key = Sought::Let(place);
        let expr = self.lets.get(place).map(|one| one.value)?;
        match self.states.get(&key) {
            Some(Progress::DoneLet(value)) => return Some(value.clone()),
            Some(Progress::Refused) => return refused(at, findings),
            Some(Progress::Working) => return self.circle(key, at, findings),
            Some(Progress::Done(_) | Progress::DoneBand(_)) | None => {}
        }
        if let ExprKind::Path(word) = &expr.kind
            && self.let_named(word).is_none()
            && self
                .lets
                .get(place)
                .is_some_and(|one| self.words.contains(one.name))
        {
            return Some(Value::Word(word.0.clone()));
        }
        if self.chain.len() >= LONGEST_CHAIN {
            return too_long(at, findings);
        }
        self.states.insert(key, Progress::Working);
        self.chain.push(key);
        let mut scope = At {
            resolver: self,
            band: None,
            holder: "",
            own: None,
        };
        let value = Evaluator {
            scope: &mut scope,
            findings,
        }
        .value(expr, None);
        let written = share::written(expr, &scope);
        self.written.insert(place, written);
        self.chain.pop();
        self.notes.worked_out(program::Key::Let(place), expr);
        let state = value.clone().map_or(Progress::Refused, Progress::DoneLet);
        self.states.insert(key, state);
        value
    }

    /// `title Winter barley`: a text without its quotation marks, which is no name of a `let`.
    fn unquoted(&self, field: &Field, values: &[Expr]) -> Option<ModelError> {
        if field.takes != Takes::Text {
            return None;
        }
        let is_word =
            |value: &Expr| matches!(value.kind, ExprKind::Path(_) | ExprKind::Quantity { .. });
        let (first, last) = (values.first()?, values.last()?);
        let named = |value: &Expr| match &value.kind {
            ExprKind::Path(path) => self.let_named(path).is_some(),
            _ => false,
        };
        let is_name = values.len() == 1 && named(first);
        if is_name || !values.iter().all(is_word) {
            return None;
        }
        let words: Vec<String> = values.iter().map(crate::syntax::print_expression).collect();
        Some(ModelError::WrongKind {
            at: first.span.to(last.span),
            field: field.word().to_owned(),
            due: "a text between quotation marks".to_owned(),
            found: "bare words".to_owned(),
            help: format!("write `{} \"{}\"`", field.word(), words.join(" ")),
        })
    }

    fn written(
        &mut self,
        band: usize,
        field: &'static Field,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<FieldValue>> {
        let Some(node) = self
            .bands
            .get(band)
            .and_then(|settings| node(&settings.nodes, field.path))
        else {
            return self
                .defaults
                .entry(field.path)
                .or_insert_with(|| default(field).map(Arc::new))
                .clone();
        };
        // A node of its own, so that the band's settings are free while its value is read.
        let (winner, places) = (node.winner().copied(), node.places.clone());
        self.value_of(Some(band), field, winner, &places, true, findings)
    }

    /// What is said of a field, read as it stands in its block: of a band's own, of a named cut or of a cutter. `noted`:
    /// whether it is the band's own, so that it can be moved.
    pub fn value_of(
        &mut self,
        band: Option<usize>,
        field: &'static Field,
        winner: Option<Statement<'_>>,
        places: &[Statement<'_>],
        noted: bool,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<FieldValue>> {
        // A block without values of its own, such as `pattern { … }`, has none.
        let place = winner?;
        let places = places.iter().map(|place| place.at).collect();
        if let Some(problem) = self.unquoted(field, place.values) {
            findings.push(problem.into());
            return None;
        }
        // `alloy 14k`: a name begins with a letter, and this is one of the trade.
        if field.takes == Takes::Alloy
            && let [value] = place.values
            && matches!(value.kind, ExprKind::Quantity { .. })
        {
            let name = crate::syntax::print_expression(value).replace(' ', "");
            findings.push(self.unknown_alloy(&name, value.span, true).into());
            return None;
        }
        // What a block's word says alone was refused where the block was looked at.
        if field.takes == Takes::Block {
            return None;
        }
        let value = single(
            field,
            without_stretch(field, place.values),
            place.at,
            findings,
        )?;
        let expr = value;
        let at = expr.span;
        let holder = field.holder();
        let stretched = place.values.len() > 1;
        let value = match (word(field, expr), words(field, expr, findings)) {
            (Some(word), _) => choose(field, word, &self.profiles, at, findings)?,
            (None, Some(words)) => words,
            (None, None) => {
                let (_, dimension) = check::due(field.takes);
                let mut scope = At {
                    resolver: self,
                    band,
                    holder,
                    own: Some(field.id),
                };
                let mut evaluator = Evaluator {
                    scope: &mut scope,
                    findings,
                };
                let found = evaluator.value(expr, dimension)?;
                let found = evaluator.due(field, expr, found, stretched)?;
                if let Some(band) = band.filter(|_| noted) {
                    let key = program::Key::Field(band, field.id);
                    self.notes.worked_out(key, expr);
                }
                check::take(field, found, at, findings)?
            }
        };
        Some(Arc::new(FieldValue {
            field,
            value,
            at: Some(at),
            places,
        }))
    }
}

/// The values of a field without the word `stretch`, which says of a start that a part of the bore follows.
fn without_stretch<'e>(field: &Field, values: &'e [Expr]) -> &'e [Expr] {
    match values {
        [first, rest @ ..] if field.takes == Takes::Start && !rest.is_empty() => {
            match &first.kind {
                ExprKind::Path(path) if path.single() == Some("stretch") => rest,
                _ => values,
            }
        }
        _ => values,
    }
}
