//! The cuts of a pattern as written: those with a name and those without, their points and arcs, their cutters.

use std::sync::Arc;

use crate::finding::Finding;
use crate::quantity::{Dimension, Length};
use crate::schema::{self, CutKind, DRAWS, FieldId};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::ast::{Entry, Expr, ExprKind, Item, entries};

use super::cut_error::CutError;
use super::cuts::{BandCut, Cutter, CutterKind, PathNode};
use super::error::ModelError;
use super::expression::Evaluator;
use super::field_value::default;
use super::merge::{Node, node};
use super::names::At;
use super::resolve::Resolver;
use super::review::{held, named_block, no_block, review};
use super::values::Values;
use super::written_drawing::part;

/// Takes the cuts that bear a name out of a band's pattern.
pub(super) fn named<'t>(nodes: &mut [Node<'t>]) -> Vec<Node<'t>> {
    let word = FieldId::Pattern.word();
    let Some(pattern) = nodes.iter_mut().find(|node| node.head == word) else {
        return Vec::new();
    };
    let is_named = |node: &Node<'_>| CutKind::of_word(node.head).is_some() && node.name().is_some();
    let all = std::mem::take(&mut pattern.children);
    let (named, rest) = all.into_iter().partition(is_named);
    pattern.children = rest;
    named
}

/// Reports what is no field in cuts that bear a name.
pub(super) fn review_named(cuts: &[Node<'_>], findings: &mut Vec<Finding>) {
    for cut in cuts {
        let Some(kind) = CutKind::of_word(cut.head) else {
            continue;
        };
        let row = kind.block.row();
        let fields: Vec<_> = schema::held_by(row.path).map(held).collect();
        let example = format!("{} border {{ }}", cut.head);
        named_block(cut, &example, &fields, findings);
        review(&cut.children, row.path, None, findings);
    }
}

impl Resolver<'_> {
    /// The drawn cuts of a band, and what is wrong with them.
    pub(super) fn cuts(
        &mut self,
        band: usize,
        values: &Values,
        written: &dyn Fn(FieldId) -> bool,
        findings: &mut Vec<Finding>,
    ) -> Vec<BandCut> {
        let Some(settings) = self.bands.get(band) else {
            return Vec::new();
        };
        let named = settings.named_cuts.clone();
        let mut cuts = Vec::new();
        for kind in CutKind::ALL {
            if !written(kind.block) {
                continue;
            }
            let node = self
                .bands
                .get(band)
                .and_then(|settings| node(&settings.nodes, kind.block.path()).cloned());
            if let Some(node) = node {
                cuts.extend(self.cut(band, kind, &node, values, findings));
            }
        }
        for node in &named {
            if let Some(kind) = CutKind::of_word(node.head) {
                cuts.extend(self.cut(band, kind, node, values, findings));
            }
        }
        whole(&cuts, values, findings);
        cuts
    }

    fn cut(
        &mut self,
        band: usize,
        kind: CutKind,
        node: &Node<'_>,
        values: &Values,
        findings: &mut Vec<Finding>,
    ) -> Option<BandCut> {
        let before = findings.len();
        let name = node.word().map(str::to_owned);
        let own = name
            .as_ref()
            .map(|_| self.own_values(band, kind, node, findings));
        let stated = own.as_ref().unwrap_or(values);
        let mut cut = BandCut {
            kind,
            name,
            at: node.at,
            own: None,
            nodes: Vec::new(),
            drawing: None,
            cutter: None,
        };
        let called = cut.called();
        let word = stated.get(kind.cutter).or_else(|| {
            // The cutter of the pattern cuts along lines; a plane is left by one of its own.
            let general = kind.block != FieldId::PatternFacets;
            values.get(FieldId::PatternCutter).filter(|_| general)
        });
        let cutter = word.map(|value| (value.value.clone(), value.at.unwrap_or(node.at)));
        let lacks = |id: FieldId, more: &str| ModelError::Lacks {
            at: node.at,
            what: format!("the cut `{called}`"),
            fields: format!("`{}`", id.word()),
            help: format!("add `{}`{more}", schema::example(id.row())),
        };
        match cutter {
            Some((super::value::Value::Word(word), at)) => {
                cut.cutter = self.cutter(&word, at, kind, findings);
            }
            _ if kind.block == FieldId::PatternFacets || findings.len() > before => {}
            _ => {
                let more = ", or write it in the pattern for every cut that names none";
                findings.push(lacks(kind.cutter, more).into());
            }
        }
        let depth = stated.get(kind.depth).or(values.get(FieldId::PatternDepth));
        if depth.is_none() && findings.len() == before {
            let more = ", or write it in the pattern for every cut that states none";
            findings.push(lacks(kind.depth, more).into());
        }
        let mm = |id: FieldId| stated.length(id).map(Length::to_mm);
        match kind.block {
            FieldId::PatternWave if stated.get(FieldId::PatternWaveRise).is_none() => {
                findings.push(lacks(FieldId::PatternWaveRise, "").into());
            }
            FieldId::PatternRing => {
                let (at, edge) = (FieldId::PatternRingAt, FieldId::PatternRingFromEdge);
                if let (Some(first), Some(second)) = (stated.get(at), stated.get(edge)) {
                    let problem = ModelError::Conflict {
                        second: second.at.unwrap_or(node.at),
                        first: first.at.unwrap_or(node.at),
                        message: "the place of a ring is stated in two ways",
                        help: "keep one of the two",
                    };
                    findings.push(problem.into());
                }
            }
            FieldId::PatternPath => {
                let deep = [FieldId::PatternPathDepth, FieldId::PatternPathRamp];
                let deepest = deep.into_iter().filter_map(mm).fold(0.0, f64::max);
                if deep.iter().any(|id| stated.get(*id).is_some()) && deepest <= 0.0 {
                    let problem = CutError {
                        at: node.at,
                        message: format!("the cut `{called}` goes nowhere below the outside"),
                        help: "state a depth greater than 0 mm at one of its ends".to_owned(),
                    };
                    findings.push(problem.into());
                }
            }
            FieldId::PatternDrawing => {
                let drawings = self.drawings;
                cut.drawing = part(drawings, &called, node.at, stated, findings);
            }
            _ => {}
        }
        if kind.is_drawn() {
            let holder = kind.block.path();
            let items = node.outline.unwrap_or(&[]);
            cut.nodes = self.points(band, holder, items, findings);
            let (least, what) = match kind.block {
                FieldId::PatternPocket => (3, "three points"),
                _ => (2, "two points"),
            };
            if cut.nodes.len() < least && findings.len() == before {
                let problem = CutError {
                    at: node.at,
                    message: format!("the cut `{called}` has fewer than {what}"),
                    help: "draw it with `from 0 mm -1 mm`, then `to 1 mm 0 mm` or `arc 0.8 mm 0 mm to 0 mm 1 mm`"
                        .to_owned(),
                };
                findings.push(problem.into());
            }
        }
        cut.own = own;
        (findings.len() == before).then_some(cut)
    }

    /// What a cut with a name states, with the defaults of its kind.
    fn own_values(
        &mut self,
        band: usize,
        kind: CutKind,
        node: &Node<'_>,
        findings: &mut Vec<Finding>,
    ) -> Values {
        let mut values = Values::default();
        for field in schema::held_by(kind.block.path()) {
            let written = node
                .children
                .iter()
                .find(|child| child.head == field.word());
            let value = match written {
                Some(child) => {
                    let winner = child.winner().copied();
                    self.value_of(Some(band), field, winner, &child.places, false, findings)
                }
                None => default(field).map(Arc::new),
            };
            if let Some(value) = value {
                values.put(value);
            }
        }
        values
    }

    /// The cutter of a name, for a kind of cut; `None` after saying what is wrong, here or where it is defined.
    fn cutter(
        &self,
        name: &str,
        at: Span,
        kind: CutKind,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<Cutter>> {
        let known = self.cutters.iter().rev().find(|(known, _)| known == name);
        let Some((_, cutter)) = known else {
            let names = self.cutters.iter().map(|(name, _)| name.as_str());
            let near = nearest(name, names.clone()).map(str::to_owned);
            let help = match &near {
                Some(near) => format!("did you mean `{near}`?"),
                None if self.cutters.is_empty() => format!(
                    "define it at the top level, as in `cutter {name} vee {{ angle 90 deg }}`"
                ),
                None => format!("cutters are {}", listed(names)),
            };
            let problem = ModelError::UnknownName {
                at,
                name: name.to_owned(),
                kind: "the cutter",
                help,
                nearest: near,
            };
            findings.push(problem.into());
            return None;
        };
        let Some(cutter) = cutter.clone() else {
            findings.push(ModelError::Unread { at }.into());
            return None;
        };
        let facets = kind.block == FieldId::PatternFacets;
        if facets != (cutter.kind == CutterKind::Facet) {
            let problem = match facets {
                true => CutError {
                    at,
                    message: format!("the cutter `{name}` cannot cut a plane"),
                    help: "facets take a cutter of the kind `facet`, as in `cutter face facet`, or none".to_owned(),
                },
                false => CutError {
                    at,
                    message: format!("the cutter `{name}` cuts planes, and follows no line"),
                    help: "take a `vee`, a `ball` or a `flat`, or cut `facets` with it".to_owned(),
                },
            };
            findings.push(problem.into());
            return None;
        }
        Some(cutter)
    }

    /// The points and arcs of a path or a pocket.
    fn points(
        &mut self,
        band: usize,
        holder: &'static str,
        items: &[Item],
        findings: &mut Vec<Finding>,
    ) -> Vec<PathNode> {
        let mut nodes: Vec<PathNode> = Vec::new();
        let drawn = |entry: &&Entry| entry.head_name().is_some_and(|head| DRAWS.contains(&head));
        for entry in entries(items).filter(drawn) {
            let head = entry.head_name().unwrap_or_default();
            let refuse = |message: &str, help: &str| CutError {
                at: entry.header_span(),
                message: message.to_owned(),
                help: help.to_owned(),
            };
            if let Some(block) = &entry.block {
                findings.push(no_block(block.open, head, "to 1.2 mm 0.4 mm").into());
                continue;
            }
            if (head == "from") != nodes.is_empty() {
                findings.push(
                    match head {
                        "from" => refuse("a path begins only once", "go on with `to` or `arc`"),
                        _ => refuse("a path begins with `from`", "write `from 0 mm -1 mm` first"),
                    }
                    .into(),
                );
                return nodes;
            }
            let (by, at) = match (head, entry.values.as_slice()) {
                ("from" | "to", [u, v]) => (None, [u, v]),
                ("arc", [by_u, by_v, word, u, v]) if is_to(word) => (Some([by_u, by_v]), [u, v]),
                ("arc", _) => {
                    let help = "as in `arc 0.8 mm 0 mm to 0 mm 1 mm`";
                    findings.push(refuse("an arc goes through one point to another", help).into());
                    continue;
                }
                _ => {
                    let message = "a point has a place along the repeat and an axial one";
                    findings.push(refuse(message, "as in `to 1.2 mm 0.4 mm`").into());
                    continue;
                }
            };
            let mut place = |pair: [&Expr; 2]| {
                let [u, v] = pair.map(|expr| self.place(band, holder, expr, findings));
                Some((u?, v?))
            };
            let by = by.map(&mut place);
            if let (Some(at), true) = (place(at), by.is_none_or(|by| by.is_some())) {
                nodes.push(PathNode {
                    at,
                    by: by.flatten(),
                });
            }
        }
        nodes
    }

    /// A length of either sign, in mm.
    fn place(
        &mut self,
        band: usize,
        holder: &'static str,
        expr: &Expr,
        findings: &mut Vec<Finding>,
    ) -> Option<f64> {
        let mut scope = At {
            resolver: self,
            band: Some(band),
            holder,
            own: None,
        };
        let mut evaluator = Evaluator {
            scope: &mut scope,
            findings,
        };
        let value = evaluator.value(expr, Some(Dimension::LENGTH))?;
        let row = FieldId::PatternRingAt.row();
        let found = super::check::take(row, value, expr.span, findings)?;
        Some(found.quantity()?.number.to_f64())
    }
}

fn is_to(word: &Expr) -> bool {
    matches!(&word.kind, ExprKind::Path(path) if path.0 == "to")
}

/// What all cuts of a pattern want together, and what goes with none.
fn whole(cuts: &[BandCut], values: &Values, findings: &mut Vec<Finding>) {
    let stated = |id: FieldId| values.get(id).and_then(|value| value.at);
    let Some(first) = cuts.first() else {
        for id in [
            FieldId::PatternMotif,
            FieldId::PatternMultiple,
            FieldId::PatternCutter,
        ] {
            if let Some(at) = stated(id).filter(|_| findings.is_empty()) {
                let problem = CutError {
                    at,
                    message: format!(
                        "`{}` belongs to drawn cuts, and this pattern has none",
                        id.word()
                    ),
                    help: "draw one, as in `flutes { count 3 }`, or leave it out".to_owned(),
                };
                findings.push(problem.into());
            }
        }
        return;
    };
    for id in [FieldId::PatternCover, FieldId::PatternMeanDepth] {
        if let Some(second) = stated(id) {
            let problem = ModelError::Conflict {
                second,
                first: first.at,
                message: "what drawn cuts cover, and how deep they are on average, is computed",
                help: "keep the cuts, or state cover and mean depth and leave the cuts out",
            };
            findings.push(problem.into());
        }
    }
    match (
        stated(FieldId::PatternRepeats),
        stated(FieldId::PatternMotif),
    ) {
        (Some(first), Some(second)) => {
            let problem = ModelError::Conflict {
                second,
                first,
                message: "how often the motif repeats is stated in two ways",
                help: "keep one of the two",
            };
            findings.push(problem.into());
        }
        (None, None)
            if cuts
                .iter()
                .any(|cut| cut.kind.block != FieldId::PatternRing) =>
        {
            let problem = ModelError::Lacks {
                at: first.at,
                what: "a pattern with drawn cuts".to_owned(),
                fields: "`repeats`".to_owned(),
                help: "add `repeats 18`, or the length of one to aim at: `motif 3.5 mm`".to_owned(),
            };
            findings.push(problem.into());
        }
        _ => {}
    }
    if let (Some(second), None) = (
        stated(FieldId::PatternMultiple),
        stated(FieldId::PatternMotif),
    ) {
        let problem = CutError {
            at: second,
            message: "`multiple` goes with `motif`, from which the repeats follow".to_owned(),
            help: "state `motif 3.5 mm`, or leave it out".to_owned(),
        };
        findings.push(problem.into());
    }
}
