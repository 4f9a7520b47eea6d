//! Which entry of a recipe a path of an override means: a band's field, a `let`, or a value in another block.
//!
//! A path begins with the name of a band, an alloy, a profile or a stock (`rose-585.density`); with the word of a
//! block and its name where that is needed to tell it apart (`alloy.rose-585.density`, `order.fair.dated`); or
//! with the word alone where the block has no name (`prices.gold`). A band's own fields come first.

use crate::schema::{self, BlockId, CutKind, Field, FieldId};
use std::collections::BTreeSet;

use crate::catalogue;
use crate::finding::Finding;
use crate::model::{Holder, ModelError};
use crate::source::Span;
use crate::suggest::nearest;
use crate::syntax::ast;

use super::error::SessionError;
use super::names::{Block, Names, WORDS, single_name};
use super::question::{ambiguous, choose, two_meanings};
use super::unplaced::unknown;

/// Where an override belongs: what it lays over, and the path in there; an empty one is the whole block.
pub(super) type Target = (Holder, String);

impl Names {
    /// Where an override belongs.
    pub fn place(
        &self,
        entry: &ast::Entry,
        chosen: Option<&str>,
        findings: &mut Vec<Finding>,
    ) -> Option<Target> {
        let Some(head) = entry.head.as_ref() else {
            let at = entry.header_span();
            findings.push(ModelError::NoWord { at }.into());
            return None;
        };
        let whole = head.value.0.as_str();
        let path = self.without_word(whole);
        let of_ring = path
            .split_once('.')
            .and_then(|(word, rest)| Some((BlockId::of_ring(word)?, rest)));
        let (path, measured) = match of_ring {
            // `made.harvest.shell-bore`, as the block is written.
            Some((word, rest)) if self.begins_with_band(rest) => (rest, format!("{word}.")),
            _ => (path, String::new()),
        };
        if path == "without" {
            let band = choose(&self.own, chosen, path, head.span, findings)?;
            return Some((Holder::Band(band), path.to_owned()));
        }
        let (first, rest) = path
            .split_once('.')
            .map_or((path, None), |(first, rest)| (first, Some(rest)));
        let is_band = self.bands.iter().any(|name| name == first);
        if let Some(rest) = rest.filter(|_| is_band) {
            let at = part(head.span, whole, rest);
            let rest = format!("{measured}{rest}");
            if let Some(rest) = self.of_named_cut(first, &rest) {
                return Some((Holder::Band(first.to_owned()), rest));
            }
            let field = self.field_named(&rest, at, entry, first, findings)?;
            return Some(in_band(first.to_owned(), field));
        }
        if let Some((block, rest)) = self.block(path, head.span, entry, findings)? {
            return Some((block.holder(), self.inside(block, rest, entry, findings)?));
        }
        let of_lets = path.strip_prefix("let.");
        let name = of_lets.unwrap_or(path);
        if self.lets.iter().any(|known| known == name) {
            let bands = chosen.map_or_else(|| self.own.clone(), |band| vec![band.to_owned()]);
            if of_lets.is_none() {
                two_meanings(name, &bands, head.span, findings)?;
            }
            one_value(entry, findings)?;
            return Some((Holder::Lets, name.to_owned()));
        }
        if is_band {
            return field_due(entry, path, &format!("{path}.width 4.5 mm"), findings);
        }
        let alone = match self.own.as_slice() {
            [only] => Some(only.as_str()),
            _ => chosen,
        };
        if let Some((band, rest)) =
            alone.and_then(|band| Some((band, self.of_named_cut(band, path)?)))
        {
            return Some((Holder::Band(band.to_owned()), rest));
        }
        let current = chosen.unwrap_or_default();
        let field = self.field_named(path, head.span, entry, current, findings)?;
        let band = choose(&self.own, chosen, path, head.span, findings)?;
        Some(in_band(band, field))
    }

    /// The full path of a field of a cut with a name, as `pattern.ring.border.depth`, which `pattern.border.depth` means
    /// too where one kind alone has the name; none where a path is no such one.
    fn of_named_cut(&self, band: &str, path: &str) -> Option<String> {
        let inner = path
            .strip_prefix(FieldId::Pattern.word())
            .and_then(|rest| rest.strip_prefix('.'));
        let mut words = inner.unwrap_or(path).rsplit('.');
        let (field, name, kind) = (words.next()?, words.next()?, words.next());
        let short = inner.is_some() && kind.is_none();
        if words.next().is_some() || !short && kind.is_none() {
            return None;
        }
        let named = |one: &&(String, String, String)| {
            one.2 == name && kind.is_none_or(|kind| one.1 == kind)
        };
        // A variant has the cuts of what it is made of.
        let own = self.cuts.iter().filter(|one| one.0 == band).filter(named);
        let mut kinds: Vec<&str> = own.map(|one| one.1.as_str()).collect();
        if kinds.is_empty() {
            let all = self.cuts.iter().filter(named);
            kinds.extend(all.map(|one| one.1.as_str()));
        }
        kinds.dedup();
        let [kind] = kinds.as_slice() else {
            return None;
        };
        let path = format!("{}.{name}.{field}", CutKind::of_word(kind)?.block.path());
        schema::named_cut(&path).map(|_| path)
    }

    /// A path without the word `band` or `variant` before a band's name, as the block is written.
    fn without_word<'p>(&self, path: &'p str) -> &'p str {
        let rest = path.strip_prefix("band.").or(path.strip_prefix("variant."));
        rest.filter(|rest| self.begins_with_band(rest))
            .unwrap_or(path)
    }

    fn begins_with_band(&self, path: &str) -> bool {
        let first = path.split_once('.').map(|(first, _)| first);
        first.is_some_and(|first| self.bands.iter().any(|name| name == first))
    }

    /// The block that a path leads into, and the path in there; `None` after saying what is wrong.
    #[allow(
        clippy::type_complexity,
        reason = "an option of nothing found in one of something wrong"
    )]
    fn block<'a>(
        &self,
        path: &'a str,
        at: Span,
        entry: &ast::Entry,
        findings: &mut Vec<Finding>,
    ) -> Option<Option<(&Block, &'a str)>> {
        let (first, rest) = path.split_once('.').unwrap_or((path, ""));
        let of_word = || self.blocks.iter().filter(move |block| block.word == first);
        if let Some(word) = WORDS.iter().find(|word| **word == first) {
            let (name, inner) = rest.split_once('.').unwrap_or((rest, ""));
            if let Some(found) = of_word().find(|block| block.name.as_deref() == Some(name)) {
                return Some(Some((found, inner)));
            }
            let alone = entry.values.is_empty() && entry.block.is_some();
            if let Some(found) = of_word().find(|block| block.name.is_none())
                && (!rest.is_empty() || alone)
            {
                return Some(Some((found, rest)));
            }
            if rest.is_empty() || !schema::matching(path).is_empty() {
                return Some(None);
            }
            self.no_such_block(word, name, part(at, path, rest), findings);
            return None;
        }
        if !schema::matching(path).is_empty() {
            return Some(None);
        }
        // The first of a name is that of the recipe itself, which stands before one of a used file.
        let mut named: Vec<&Block> = Vec::new();
        for block in &self.blocks {
            let is_named =
                block.name.as_deref() == Some(first) && !matches!(block.word, "order" | "rules");
            if is_named && named.iter().all(|known| known.word != block.word) {
                named.push(block);
            }
        }
        match named.as_slice() {
            [] => {
                let is_let = self.lets.iter().any(|name| name == first);
                if !rest.is_empty() && !is_let && catalogue::is_alloy(first) {
                    self.no_such_block("alloy", first, at, findings);
                    return None;
                }
                Some(None)
            }
            [block] => Some(Some((block, rest))),
            several => {
                let paths: Vec<String> = several
                    .iter()
                    .map(|block| format!("{}.{path}", block.word))
                    .collect();
                findings.push(ambiguous(path, at, paths.iter().map(String::as_str)).into());
                None
            }
        }
    }

    /// The word of a metal as a block writes it, where it does so by another of its names, as `Ag` for `silver`.
    fn as_written<'w>(&'w self, block: &Block, word: &'w str) -> &'w str {
        if !matches!(
            BlockId::of_word(block.word),
            Some(BlockId::Prices | BlockId::Alloy)
        ) {
            return word;
        }
        let is_own = |word: &str| {
            let mut blocks = self
                .blocks
                .iter()
                .filter(|one| one.word == BlockId::Alloy.word());
            blocks.any(|one| one.name.as_deref() == Some(word))
        };
        let meant = |word: &str| catalogue::metal_name(word).filter(|_| !is_own(word));
        let heads = self
            .blocks
            .iter()
            .filter(|one| one.holder() == block.holder());
        let heads = || heads.clone().flat_map(|one| &one.heads).map(String::as_str);
        let Some(name) = meant(word).filter(|_| heads().all(|head| head != word)) else {
            return word;
        };
        heads()
            .find(|head| meant(head) == Some(name))
            .unwrap_or(word)
    }

    /// The path inside a block, its names looked up; `None` after saying what is wrong.
    fn inside(
        &self,
        block: &Block,
        path: &str,
        entry: &ast::Entry,
        findings: &mut Vec<Finding>,
    ) -> Option<String> {
        let holder = block.holder().path();
        if path.is_empty() {
            if entry.values.is_empty() && entry.block.is_some() {
                return Some(String::new());
            }
            let example = match block.word {
                "alloy" => "density 13.3 g/cm3",
                "profile" => "edge 1.2 mm",
                "stock" => "outside 22 mm",
                "order" => "dated 2026-11-25",
                "shop" => "batch 20",
                "rules" => "system voluntary",
                _ => "gold 98 EUR/g",
            };
            return field_due(entry, &holder, &format!("{holder}.{example}"), findings);
        }
        let (word, rest) = path.split_once('.').unwrap_or((path, ""));
        if rest.is_empty() || !crate::model::tells_apart(block.word, word) {
            let behind = path.strip_prefix(word).unwrap_or("");
            return Some(self.as_written(block, word).to_owned() + behind);
        }
        // A name that is not there opens an entry, unless it is a slip.
        let (name, _) = rest.split_once('.').unwrap_or((rest, ""));
        let of_block = self
            .blocks
            .iter()
            .filter(|known| known.holder() == block.holder());
        let names: BTreeSet<&str> = of_block
            .flat_map(|known| &known.inner)
            .filter(|(known, _)| known == word)
            .map(|(_, name)| name.as_str())
            .collect();
        if names.contains(name) {
            return Some(path.to_owned());
        }
        let near = nearest(name, names.iter().copied()).map(str::to_owned);
        let help = match &near {
            Some(near) => {
                format!("did you mean `{near}`? `{holder}.{word} {name} {{ \u{2026} }}` adds one")
            }
            None if word != "rate" => return Some(path.to_owned()),
            None => "add one as in `prices.rate 1 USD = 0.92 EUR`".to_owned(),
        };
        let head = entry.head.as_ref()?;
        let behind = part(head.span, &head.value.0, rest);
        let at = Span {
            end: behind.start + u32::try_from(name.len()).unwrap_or(0),
            ..behind
        };
        let kind = match word {
            "operation" => "the operation",
            "fee" => "the fee",
            "temper" => "the temper",
            _ => "the rate",
        };
        findings.push(unknown(at, name, kind, help, near));
        None
    }

    /// The field of a full or short path.
    fn field_named(
        &self,
        path: &str,
        at: Span,
        entry: &ast::Entry,
        band: &str,
        findings: &mut Vec<Finding>,
    ) -> Option<&'static Field> {
        let found = schema::matching(path);
        match found.as_slice() {
            [field] => return Some(field),
            [] => self.no_such_field(path, at, entry, band, findings),
            several => {
                findings.push(ambiguous(path, at, several.iter().map(|field| field.path)).into());
            }
        }
        None
    }
}

/// A field of a band; those of what was measured of it are written in a block of their own.
fn in_band(band: String, field: &Field) -> Target {
    let (word, rest) = field.path.split_once('.').unwrap_or_default();
    match BlockId::of_ring(word) {
        Some(word) => (Holder::Block(word, Some(band)), rest.to_owned()),
        None => (Holder::Band(band), field.path.to_owned()),
    }
}

/// The span of the end of a path.
fn part(at: Span, path: &str, end: &str) -> Span {
    let skipped = path.len().saturating_sub(end.len());
    Span {
        start: at.start + u32::try_from(skipped).unwrap_or(0),
        ..at
    }
}

/// A block is named where one of its fields is due.
fn field_due<T>(
    entry: &ast::Entry,
    name: &str,
    example: &str,
    findings: &mut Vec<Finding>,
) -> Option<T> {
    findings.push(
        SessionError::FieldDue {
            at: entry.head_span(),
            name: name.to_owned(),
            example: example.to_owned(),
        }
        .into(),
    );
    None
}

/// The names of the bands among some items.
#[must_use]
pub fn band_names(items: &[ast::Item]) -> Vec<String> {
    ast::entries(items)
        .filter(|entry| matches!(entry.head_name(), Some("band" | "variant")))
        .filter_map(|entry| entry.values.first().and_then(single_name))
        .collect()
}

/// A `let` takes one value, and nothing else.
fn one_value(entry: &ast::Entry, findings: &mut Vec<Finding>) -> Option<()> {
    let (at, label) = match (entry.values.as_slice(), &entry.block) {
        ([_], None) => return Some(()),
        ([], None) => (entry.head_span().after(), "a value is missing"),
        ([_, second, ..], _) => (second.span, "one too many"),
        (_, Some(block)) => (block.open, "no block stands here"),
    };
    findings.push(
        ModelError::ValueCount {
            at,
            field: entry.head_name().unwrap_or_default().to_owned(),
            wanted: "one value".to_owned(),
            label,
            help: "as in `--set \"cut=0.30 mm\"`".to_owned(),
        }
        .into(),
    );
    None
}
