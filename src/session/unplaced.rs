//! What to say of a path of an override that means nothing which can be set: a slip, a result, a block elsewhere.

use crate::catalogue;
use crate::finding::Finding;
use crate::model::ModelError;
use crate::schema::{self, RestsOn, ResultId};
use crate::source::Span;
use crate::suggest::{listed, nearest};
use crate::syntax::ast;

use super::error::SessionError;
use super::names::Names;

impl Names {
    /// Says that no block has a name, and what is near it.
    pub(super) fn no_such_block(
        &self,
        word: &str,
        name: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) {
        let at = Span {
            end: at.start + u32::try_from(name.len()).unwrap_or(0),
            ..at
        };
        let of_word = self.blocks.iter().filter(|block| block.word == word);
        let names: Vec<&str> = of_word.filter_map(|block| block.name.as_deref()).collect();
        if word == "alloy" && catalogue::is_alloy(name) {
            let name = name.to_owned();
            findings.push(SessionError::BuiltIn { at, name }.into());
            return;
        }
        let near = nearest(name, names.iter().copied()).map(str::to_owned);
        let help = match &near {
            Some(near) => format!("did you mean `{near}`?"),
            None if names.is_empty() => {
                format!("add one with `{word} {name} {{ \u{2026} }}`")
            }
            None => format!("the recipe has {}", listed(names)),
        };
        let kind = match word {
            "alloy" => "the alloy",
            "profile" => "the profile",
            "cutter" => "the cutter",
            "stock" => "the stock",
            "rules" => "the rulebook of the recipe",
            _ => "the order",
        };
        findings.push(unknown(at, name, kind, help, near));
    }

    /// Says that a path is no field's, and what was meant.
    pub(super) fn no_such_field(
        &self,
        path: &str,
        at: Span,
        entry: &ast::Entry,
        band: &str,
        findings: &mut Vec<Finding>,
    ) {
        let in_blocks = self.in_blocks(path, entry);
        if (schema::find_result(path).is_some() || in_blocks.is_empty())
            && let Some(problem) = self.worked_out(path, at, band)
        {
            findings.push(problem.into());
            return;
        }
        // `temper.annealed.yield`: a value of the alloy, whose name is missing.
        if path.starts_with("temper.") {
            let alloys = self.blocks.iter().filter(|block| block.word == "alloy");
            let paths: Vec<String> = alloys
                .map(|block| format!("`{}.{path}`", block.holder().path()))
                .collect();
            let help = match paths.as_slice() {
                [] => "tempers are those of an alloy: define it with `alloy NAME { \u{2026} }`"
                    .to_owned(),
                paths => format!("write {}", listed(paths.iter().map(String::as_str))),
            };
            findings.push(unknown(at, path, "the field", help, None));
            return;
        }
        // A field that lies deeper in the block.
        if let Some((first, last)) = path.split_once('.')
            && let inner = schema::of_band()
                .iter()
                .filter(|field| field.word() == last && field.path.split('.').next() == Some(first))
            && let paths = inner
                .map(|field| format!("`{}`", field.path))
                .collect::<Vec<_>>()
            && !paths.is_empty()
        {
            let help = format!("did you mean {}?", paths.join(" or "));
            findings.push(unknown(at, path, "the field", help, None));
            return;
        }
        // A block that is known by its word first: `rules.house.shortfall`.
        if let Some((first, rest)) = path.split_once('.')
            && let mut named = self.blocks.iter()
            && let Some(block) = named.find(|block| block.name.as_deref() == Some(first))
            && let near = format!("{}.{rest}", block.holder().path())
            && near != path
        {
            let help = format!("did you mean `{near}`?");
            findings.push(unknown(at, path, "the field", help, Some(near)));
            return;
        }
        // A name that is almost that of a band or a block.
        if let Some((first, rest)) = path.split_once('.')
            && let Some(name) = nearest(first, self.with_fields())
        {
            let mut named = self.blocks.iter();
            let block = named.find(|block| block.name.as_deref() == Some(name));
            let name = block.map_or_else(|| name.to_owned(), |block| block.holder().path());
            let near = format!("{name}.{rest}");
            let help = format!("did you mean `{near}`?");
            findings.push(unknown(at, path, "the field", help, Some(near)));
            return;
        }
        // A field of a band that nobody bears.
        if let Some((first, rest)) = path.split_once('.')
            && in_blocks.is_empty()
            && !schema::matching(rest).is_empty()
        {
            let bands = crate::suggest::listed(self.bands.iter().map(String::as_str));
            let help = format!("no band or block is named `{first}`; bands are {bands}");
            findings.push(unknown(at, path, "the field", help, None));
            return;
        }
        let known: Vec<&str> = schema::of_band()
            .iter()
            .flat_map(|field| [field.path, field.word()])
            .collect();
        let lets = self.lets.iter().map(String::as_str);
        let blocks = self.blocks.iter().filter_map(|block| block.name.as_deref());
        let near = match in_blocks.first() {
            Some(_) => None,
            None => nearest(path, known.into_iter().chain(lets).chain(blocks)).map(str::to_owned),
        };
        let help = match (&near, in_blocks.as_slice()) {
            (Some(near), _) => format!("did you mean `{near}`?"),
            (None, []) => "`annulet list fields` shows all of them".to_owned(),
            (None, paths) => {
                let paths: Vec<String> = paths.iter().map(|path| format!("`{path}`")).collect();
                format!("did you mean {}?", paths.join(" or "))
            }
        };
        let near = match in_blocks.as_slice() {
            [only] => Some(only.clone()),
            _ => near,
        };
        findings.push(unknown(at, path, "the field", help, near));
    }

    /// The names that a path can begin with.
    fn with_fields(&self) -> impl Iterator<Item = &str> {
        let blocks = self.blocks.iter().filter(|block| block.word != "order");
        let named = blocks.map(|block| block.name.as_deref().unwrap_or(block.word));
        self.bands.iter().map(String::as_str).chain(named)
    }

    /// Paths of blocks that end in a word: `gold` is `prices.gold` where money is said of it, else the part of an
    /// alloy.
    fn in_blocks(&self, word: &str, entry: &ast::Entry) -> Vec<String> {
        let is_money = entry.values.iter().any(|value| {
            let unit = match &value.kind {
                ast::ExprKind::Quantity { unit, .. } => unit.as_ref(),
                _ => None,
            };
            let code = unit.and_then(|unit| unit.value.split('/').next());
            code.is_some_and(|code| crate::quantity::Currency::new(code).is_some())
        });
        let mut found: Vec<String> = Vec::new();
        for block in &self.blocks {
            let path = format!("{}.{word}", block.word);
            let is_field = match block.word {
                "profile" => false,
                _ => schema::of_blocks().iter().any(|field| field.path == path),
            };
            let has = is_field || block.heads.iter().any(|head| head == word);
            let path = format!("{}.{word}", block.holder().path());
            if has && !(is_money && block.word == "alloy") && !found.contains(&path) {
                found.push(path);
            }
        }
        found.truncate(4);
        found
    }

    /// What to say of a result, which cannot be set.
    fn worked_out(&self, path: &str, at: Span, band: &str) -> Option<SessionError> {
        let found = schema::find_subject(path);
        let Some(schema::Subject::Result(id)) = found.first() else {
            return None;
        };
        let entry = id.row();
        let levers = levers(entry);
        let why = match band {
            "" => entry.path.to_owned(),
            band => format!("{band}.{}", entry.path),
        };
        let mut levers: Vec<String> = levers.into_iter().map(str::to_owned).collect();
        for block in self.blocks.iter().filter(|block| block.word == "alloy") {
            if entry.id == ResultId::Density {
                levers.push(format!("{}.density", block.holder().path()));
            }
        }
        let shown: Vec<String> = levers
            .iter()
            .take(4)
            .map(|path| format!("`{path}`"))
            .collect();
        let help = match shown.as_slice() {
            [] => format!("`why {why}` shows what it follows from"),
            shown => format!(
                "change what it follows from, such as {}; `why {why}` shows all of it",
                listed(shown.iter().map(String::as_str))
            ),
        };
        Some(SessionError::WorkedOut {
            at,
            name: entry.path.to_owned(),
            help,
        })
    }
}

/// What a result follows from, fields in the order of the vocabulary; the size, which is a finger's, last.
fn levers(entry: &'static schema::ResultRow) -> Vec<&'static str> {
    let (mut fields, mut seen, mut next) = (Vec::new(), vec![entry.id], vec![entry]);
    while let Some(entry) = next.pop() {
        for need in entry.needs {
            match need {
                RestsOn::F(id) => fields.push(id.path()),
                RestsOn::B(block) => fields.push(block.word()),
                RestsOn::R(id) if !seen.contains(id) => {
                    seen.push(*id);
                    next.insert(0, id.row());
                }
                RestsOn::R(_) => {}
            }
        }
    }
    if fields.contains(&"thickness") {
        fields.retain(|path| *path != "outside");
    }
    let place = |path: &&str| {
        let known = schema::of_band()
            .iter()
            .position(|field| field.path == *path);
        (*path == "size", known.unwrap_or(schema::of_band().len()))
    };
    fields.sort_by_key(place);
    fields.dedup();
    fields
}

/// A name that nothing has.
pub(super) fn unknown(
    at: Span,
    name: &str,
    kind: &'static str,
    help: String,
    nearest: Option<String>,
) -> Finding {
    ModelError::UnknownName {
        at,
        name: name.to_owned(),
        kind,
        help,
        nearest,
    }
    .into()
}
