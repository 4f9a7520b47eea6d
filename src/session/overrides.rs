//! Overrides from outside (`--set PATH=VALUE`) to entries laid over a band, or over a `let`.
//!
//! An override is an edit not yet written: its text is read as the recipe's own line would be, and its
//! result is that of the edited text.

use crate::finding::Finding;
use crate::model::fields::{self, Field};
use crate::model::{ModelError, Override};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::{self, ast};

use super::question::{ambiguous, choose};
use super::{Request, Session};

/// What an override lays over: a band's field, or a `let`.
type Target = (Option<String>, String);

impl Session {
    /// Overrides as entries laid over the tree.
    pub(super) fn overrides(
        &mut self,
        trees: &[ast::Tree],
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> Vec<Override> {
        let mut overrides: Vec<Override> = Vec::new();
        let mut seen: Vec<(Target, Span)> = Vec::new();
        let names = Names::of(trees);
        for set in &request.sets {
            let id = self.sources.add("--set", &set.replacen('=', " ", 1));
            let Some(source) = self.sources.get(id) else {
                continue;
            };
            let parsed = syntax::parse(source);
            let broken = !parsed.findings.is_empty();
            findings.extend(parsed.findings);
            let entry = match parsed.value.items.as_slice() {
                [ast::Item::Entry(entry)] if entry.head.is_some() && set.contains('=') => {
                    entry.clone()
                }
                _ if broken => continue,
                _ => {
                    let at = source.span(0..source.text.len());
                    findings.push(
                        ModelError::ValueCount {
                            at,
                            field: "--set".to_owned(),
                            wanted: "one field and its value, joined by `=`".to_owned(),
                            label: "not `PATH=VALUE`",
                            help: "as in `--set \"width=4.5 mm\"`".to_owned(),
                        }
                        .into(),
                    );
                    continue;
                }
            };
            let at = entry.head_span();
            let Some((target, over)) = names.place(entry, request, findings) else {
                continue;
            };
            // The order of options must not decide, so one field is laid over once.
            match seen.iter().find(|(known, _)| *known == target) {
                Some((_, first)) => {
                    let name = target.1;
                    findings.push(
                        ModelError::GivenTwice {
                            again: at,
                            first: *first,
                            name,
                        }
                        .into(),
                    );
                }
                None => {
                    seen.push((target, at));
                    overrides.push(over);
                }
            }
        }
        overrides
    }
}

/// Names at the top level of a tree.
struct Names {
    bands: Vec<String>,
    lets: Vec<String>,
}

impl Names {
    fn of(trees: &[ast::Tree]) -> Self {
        let (mut bands, mut lets) = (Vec::new(), Vec::new());
        for entry in trees.iter().flat_map(|tree| ast::entries(&tree.items)) {
            match (entry.head_name(), entry.values.as_slice()) {
                (Some("band" | "variant"), [first, ..]) => bands.extend(single_name(first)),
                (Some("let"), [first]) => {
                    if let ast::ExprKind::Binary { left, .. } = &first.kind {
                        lets.extend(single_name(left));
                    }
                }
                _ => {}
            }
        }
        Self { bands, lets }
    }

    /// Where an override belongs.
    fn place(
        &self,
        mut entry: ast::Entry,
        request: &Request,
        findings: &mut Vec<Finding>,
    ) -> Option<(Target, Override)> {
        let head = entry.head.clone()?;
        let path = head.value.0.as_str();
        let qualified = path
            .split_once('.')
            .filter(|(band, _)| self.bands.iter().any(|name| name == band));
        let (band, path) = match qualified {
            Some((band, rest)) => (Some(band.to_owned()), rest),
            None => (None, path),
        };
        if band.is_none()
            && fields::find(path).is_none()
            && self.lets.iter().any(|name| name == path)
        {
            let over = Override {
                band: None,
                items: vec![ast::Item::Entry(entry)],
            };
            return Some(((None, path.to_owned()), over));
        }
        let field = field_named(path, head.span, &self.lets, findings)?;
        let band = match band {
            Some(band) => band,
            None => choose(
                &self.bands,
                request.band.as_deref(),
                path,
                head.span,
                findings,
            )?,
        };
        for (depth, word) in field.path.rsplit('.').enumerate() {
            let name = crate::source::Spanned::new(ast::Path(word.to_owned()), head.span);
            entry = if depth == 0 {
                ast::Entry {
                    head: Some(name),
                    ..entry
                }
            } else {
                around(name, entry)
            };
        }
        let target = (Some(band.clone()), field.path.to_owned());
        Some((
            target,
            Override {
                band: Some(band),
                items: vec![ast::Item::Entry(entry)],
            },
        ))
    }
}

/// An entry whose block holds only another.
fn around(head: crate::source::Spanned<ast::Path>, inner: ast::Entry) -> ast::Entry {
    let span = inner.span;
    let block = ast::Block {
        items: vec![ast::Item::Entry(inner)],
        comment: None,
        inline: true,
        open: span,
        damaged: false,
    };
    ast::Entry {
        head: Some(head),
        values: Vec::new(),
        block: Some(block),
        comment: None,
        joined: false,
        spaced: false,
        span,
    }
}

pub(super) fn single_name(expr: &ast::Expr) -> Option<String> {
    match &expr.kind {
        ast::ExprKind::Path(path) => path.single().map(str::to_owned),
        _ => None,
    }
}

/// The field of a full or short path.
fn field_named(
    path: &str,
    at: Span,
    lets: &[String],
    findings: &mut Vec<Finding>,
) -> Option<&'static Field> {
    let found = fields::matching(path);
    match found.as_slice() {
        [field] => Some(field),
        [] => {
            let known: Vec<&str> = fields::FIELDS
                .iter()
                .flat_map(|field| [field.path, field.word()])
                .collect();
            let lets = lets.iter().map(String::as_str);
            let near = nearest(path, known.into_iter().chain(lets)).map(str::to_owned);
            let help = near.as_ref().map_or_else(
                || "`annulet list fields` shows all of them".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: path.to_owned(),
                    kind: "the field",
                    help,
                    nearest: near,
                }
                .into(),
            );
            None
        }
        several => {
            findings.push(ambiguous(path, at, several.iter().map(|field| field.path)).into());
            None
        }
    }
}
