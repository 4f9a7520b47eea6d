//! An alloy block to an [`Alloy`]: elements that add up, a density, tempers.

use rust_decimal::Decimal;

use crate::catalogue;
use crate::finding::Finding;
use crate::quantity::{Deviation, Dimension};
use crate::schema::{self, BlockId, Field, FieldId};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::ast::{Expr, ExprKind};

use super::alloy::{Alloy, AlloyDensity, Temper};
use super::alloy_values::{self, STATED, density, figure, wrong};
use super::assayed;
use super::check;
use super::error::ModelError;
use super::expression::Evaluator;
use super::fineness;
use super::merge::Node;
use super::program::Key;
use super::resolve::Resolver;
use super::review::{held, named_block};
use super::rows::{example, matched, unknown, words_under};
use super::unlikely::of_alloy;
use super::value::Value;

/// An alloy while it is read: by its place among those written.
pub(super) struct AlloyReader<'r, 't> {
    pub resolver: &'r mut Resolver<'t>,
    pub place: usize,
    pub findings: &'r mut Vec<Finding>,
}

impl AlloyReader<'_, '_> {
    /// The alloy of a name that stands at a place; what is laid over it last stands at another.
    pub fn read(
        &mut self,
        name: &str,
        (at, laid_at): (Span, Option<Span>),
        nodes: &[Node<'_>],
    ) -> Option<Alloy> {
        let before = self.findings.len();
        let name_at = at;
        let mut alloy = Alloy {
            name: name.to_owned(),
            title: None,
            parts: Vec::new(),
            off: Vec::new(),
            density: AlloyDensity::Derived(f64::NAN),
            tempers: Vec::new(),
            at: Some(at),
            shadows: catalogue::is_alloy(name),
            assay: None,
            colour: None,
            places: places(nodes),
        };
        // What is no other field's word is an element's.
        let row = |word: &str| {
            Some(
                BlockId::Alloy
                    .find(word)
                    .unwrap_or(FieldId::AlloyMetal.row()),
            )
        };
        let entries = matched(nodes, &row, &unknown_element, self.findings);
        let mut stated = None;
        // A metal has a name and a symbol.
        let mut seen: Vec<(Span, &str)> = Vec::new();
        for (field, node) in entries {
            match field.id {
                FieldId::AlloyTitle => alloy.title = self.title(field, node),
                FieldId::AlloyTemper => {
                    let temper = self.temper(field, node, alloy.tempers.len());
                    alloy.tempers.extend(temper);
                }
                FieldId::AlloyDensity => {
                    let due = check::due(field.takes);
                    let found = self.single(field, node, due.1, due.0, 0);
                    stated =
                        found.and_then(|(value, at)| density(field, &value, at, self.findings));
                }
                FieldId::AlloyAssay => alloy.assay = self.assay(field, node),
                FieldId::AlloyColour => alloy.colour = self.colour(field, node),
                _ => match catalogue::element(node.head) {
                    Some(row) => {
                        if let Some((first, _)) = seen.iter().find(|(_, name)| *name == row.name) {
                            self.findings.push(twice(node.at, *first, &row.name).into());
                            continue;
                        }
                        seen.push((node.at, row.name.as_str()));
                        if let Some((part, off)) = self.parts(field, node, false) {
                            alloy.parts.push((row.name.clone(), part));
                            if !off.is_empty() {
                                alloy.off.push((row.name.clone(), off));
                            }
                        }
                    }
                    None => self.findings.push(unknown_element(node).into()),
                },
            }
        }
        if self.findings.len() > before {
            return None;
        }
        if let Some(problem) = alloy.composition(laid_at.unwrap_or(at)) {
            self.findings.push(problem.into());
            return None;
        }
        alloy.settle(stated)?;
        if let Some((figure, _)) = &alloy.assay {
            let at = nodes.iter().find(|node| node.head == "assay");
            let at = at.map_or(laid_at.unwrap_or(name_at), |node| node.at);
            let problem = assayed::far(&alloy, *figure, at);
            self.findings.extend(problem.map(Finding::from));
        }
        let asked = of_alloy(&alloy).into_iter();
        self.findings.extend(asked.map(Finding::from));
        Some(alloy)
    }

    /// The value of an expression, which is said of the word at a place.
    fn evaluate(
        &mut self,
        field: &Field,
        word: usize,
        expr: &Expr,
        due: Option<Dimension>,
    ) -> Option<Value> {
        let key = Key::Alloy(self.place, field.id, word);
        let outer = self.resolver.reader.replace(key);
        let mut scope = self.resolver.top_scope();
        let mut evaluator = Evaluator {
            scope: &mut scope,
            findings: self.findings,
        };
        let value = evaluator.value(expr, due);
        let value = value.and_then(|value| evaluator.due(field, expr, value, false));
        drop(scope);
        self.resolver.notes.worked_out(key, expr);
        self.resolver.reader = outer;
        value
    }

    /// The one value of a node.
    fn single(
        &mut self,
        field: &Field,
        node: &Node<'_>,
        due: Option<Dimension>,
        wanted: &str,
        word: usize,
    ) -> Option<(Value, Span)> {
        let Some([value]) = node.winner().map(|place| place.values) else {
            self.findings.push(count(field, node, wanted).into());
            return None;
        };
        Some((self.evaluate(field, word, value, due)?, value.span))
    }

    fn title(&mut self, field: &Field, node: &Node<'_>) -> Option<String> {
        if let [value] = node.winner()?.values
            && let ExprKind::Text(text) = &value.kind
        {
            return Some(text.clone());
        }
        let wanted = check::due(field.takes).0;
        self.findings.push(count(field, node, wanted).into());
        None
    }

    fn colour(&mut self, field: &Field, node: &Node<'_>) -> Option<String> {
        if let (Some([_]), Some(word)) = (node.winner().map(|place| place.values), node.word()) {
            return Some(word.to_owned());
        }
        let wanted = check::due(field.takes).0;
        self.findings.push(count(field, node, wanted).into());
        None
    }

    /// Parts per thousand, and what they may be off by. Of a mix they may be few, of a whole not.
    fn parts(
        &mut self,
        field: &Field,
        node: &Node<'_>,
        whole: bool,
    ) -> Option<(Decimal, Vec<Deviation>)> {
        let due = check::due(field.takes);
        let element = catalogue::element_place(node.head).unwrap_or_default();
        let (value, at) = self.single(field, node, due.1, due.0, element)?;
        if value.quantity().is_some_and(|of| !of.deviations.is_empty()) {
            // The other parts make room for what one of them is off by: more than one number moves.
            let key = Key::Alloy(self.place, field.id, element);
            self.resolver.notes.fix(key);
        }
        if let Some(problem) = fineness::small(&value, at).filter(|_| whole) {
            self.findings.push(problem.into());
            return None;
        }
        let part = alloy_values::parts(node.head, &value, at, self.findings)?;
        let read = fineness::read(&value);
        let off = read.as_ref().and_then(Value::quantity);
        Some((part, off.map_or_else(Vec::new, |of| of.deviations.clone())))
    }

    /// `assay 749.8 { dated 2026-11-20, lot "A17" }`: what was found of a lot.
    fn assay(&mut self, field: &'static Field, node: &Node<'_>) -> Option<(Decimal, String)> {
        let (figure, off) = self.parts(field, node, true)?;
        if let Some(at) = node
            .winner()
            .map(|place| place.at)
            .filter(|_| !off.is_empty())
        {
            // A verdict rests on what was found; what the assayer may be off by is no part of it.
            self.findings.push(alloy_values::assay_off(at).into());
        }
        let row = |word: &str| schema::held_in_block(BlockId::Alloy, field.path, word);
        let words = words_under(field);
        let unknown = |node: &Node<'_>| ModelError::UnknownField {
            at: node.at,
            word: node.head.to_owned(),
            holder: field.word().to_owned(),
            help: "an assay holds `dated` and `lot`".to_owned(),
            nearest: nearest(node.head, words.iter().copied()).map(str::to_owned),
        };
        let mut notes = Vec::new();
        for (field, node) in matched(&node.children, &row, &unknown, self.findings) {
            match (field.id, self.single(field, node, None, "one value", 0)) {
                (FieldId::AlloyAssayDated, Some((value @ Value::Date(..), _))) => {
                    notes.push(check::shown(&value));
                }
                (FieldId::AlloyAssayLot, Some((Value::Text(lot), _))) => {
                    notes.push(format!("lot {lot}"));
                }
                (_, Some((value, at))) => {
                    let due = "a day, or a text in quotes";
                    self.findings.push(wrong(field, due, &value, at).into());
                }
                (_, None) => {}
            }
        }
        Some((figure, notes.join(", ")))
    }

    /// `temper hard { yield 520 MPa }`, which is one of the alloy's tempers by its place.
    fn temper(&mut self, field: &'static Field, node: &Node<'_>, place: usize) -> Option<Temper> {
        let fields: Vec<_> = schema::held_under(field).map(held).collect();
        let name = named_block(node, &schema::example(field), &fields, self.findings)?;
        let row = |word: &str| schema::held_in_block(BlockId::Alloy, field.path, word);
        let unknown = |node: &Node<'_>| unknown(node, "temper", "a temper", &words_under(field));
        let mut figures = Vec::new();
        for (field, node) in matched(&node.children, &row, &unknown, self.findings) {
            let due = check::due(field.takes).1;
            let found = self.single(field, node, due, "one value", place);
            let found = found.and_then(|(value, at)| figure(field, value, at, self.findings));
            figures.extend(found.map(|value| (field.id, value, STATED.to_owned())));
        }
        Some(Temper {
            name: name.to_owned(),
            figures,
        })
    }
}

/// Where each value is written, by its path.
fn places(nodes: &[Node<'_>]) -> Vec<(String, Vec<Span>)> {
    let of = |node: &Node<'_>| -> Vec<Span> { node.places.iter().map(|one| one.at).collect() };
    let mut found = Vec::new();
    for node in nodes {
        match node
            .word()
            .filter(|_| BlockId::Alloy.tells_apart(node.head))
        {
            Some(name) => found.extend(node.children.iter().map(|child| {
                let path = format!("{}.{name}.{}", node.head, child.head);
                (path, of(child))
            })),
            None => found.push((node.head.to_owned(), of(node))),
        }
    }
    found
}

fn unknown_element(node: &Node<'_>) -> ModelError {
    let words = schema::held_in_blocks(BlockId::Alloy.word()).filter(|field| field.has_word());
    let near = crate::suggest::metal(node.head, catalogue::element_names())
        .or_else(|| nearest(node.head, words.map(Field::word)))
        .map(str::to_owned);
    let help = near.as_ref().map_or_else(
        || {
            format!(
                "an alloy block holds metals with their parts per thousand ({}), `density`, and `temper` blocks",
                crate::suggest::listed(catalogue::element_names())
            )
        },
        |near| format!("did you mean `{near}`?"),
    );
    ModelError::UnknownField {
        at: node.at,
        word: node.head.to_owned(),
        holder: "alloy".to_owned(),
        help,
        nearest: near,
    }
}

/// The finding for a metal that is said by its name and by its symbol.
pub(super) fn twice(again: Span, first: Span, name: &str) -> ModelError {
    ModelError::GivenTwice {
        again,
        first,
        name: name.to_owned(),
    }
}

fn count(field: &Field, node: &Node<'_>, wanted: &str) -> ModelError {
    if let Some([value]) = node.winner().map(|place| place.values)
        && matches!(value.kind, ExprKind::Unread(_))
    {
        return ModelError::Unread { at: value.span };
    }
    ModelError::ValueCount {
        at: node.winner().map_or(node.at, |place| place.at),
        field: node.head.to_owned(),
        wanted: wanted.to_owned(),
        label: "here",
        help: format!("as in `{}`", example(field, node.head)),
    }
}
