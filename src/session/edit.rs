//! Recipe lines written into a recipe's text, in place.
//!
//! Input: a prepared recipe and a line that could be laid over it, or a block of the top level. Output: the
//! text as a person would have edited it. Whether the result is sound is for the next evaluation to say.

use std::ops::Range;

use crate::finding::Finding;
use crate::model::{Holder, Nested, alloy_field, alternative, nest, says_kind, tells_apart};
use crate::schema::{self, BlockId, Field, FieldId};
use crate::source::{Source, Sources, Span};
use crate::syntax::ast::{self, Entry, ExprKind, Tree};
use crate::syntax::edit::{self, Manner, SaidEntry};
use crate::syntax::{self, TOP_WORDS};

use super::dotted::Dotted;
use super::error::SessionError;
use super::holders::{find_band, find_holder};
use super::names::{single_name, single_word};
use super::{Outcome, Prepared, Session, Tried};

/// The order of fields in a band, and of blocks in a recipe.
struct AsInTheVocabulary;

impl Manner for AsInTheVocabulary {
    fn rank(&self, path: &str) -> usize {
        let is_it = |field: &Field| field.path == path;
        if path == "without" {
            return 0;
        }
        schema::of_band()
            .iter()
            .position(is_it)
            .unwrap_or(schema::of_band().len())
    }

    fn instead(&self, path: &str) -> Option<&'static str> {
        alternative(path)
    }

    fn tells_apart(&self, word: &str) -> bool {
        tells_apart("band", word)
    }
}

/// The order of blocks at the top level.
struct AsInARecipe;

impl Manner for AsInARecipe {
    fn rank(&self, word: &str) -> usize {
        // Variants stand among the bands.
        let word = if word == "variant" { "band" } else { word };
        let last = ["require", "order", "weighed", "made"];
        match last.iter().position(|known| *known == word) {
            Some(place) => TOP_WORDS.len() + place,
            None if word == "band" => TOP_WORDS.len(),
            None => TOP_WORDS
                .iter()
                .position(|known| *known == word)
                .unwrap_or(TOP_WORDS.len()),
        }
    }

    fn instead(&self, _path: &str) -> Option<&'static str> {
        None
    }
}

/// The order of what stands in a block of the top level that is no band, by its word.
struct InABlock(&'static str);

impl Manner for InABlock {
    fn rank(&self, path: &str) -> usize {
        let whole = match self.0 {
            "alloy" => {
                let first = path.split('.').next().unwrap_or(path);
                return alloy_field(first).id as usize;
            }
            word if word == "profile" || BlockId::of_ring(word).is_some() => {
                format!("{word}.{path}")
            }
            word => {
                let whole = format!("{word}.{path}");
                let place = |path: &str| {
                    schema::of_blocks()
                        .iter()
                        .position(|field| field.path == path)
                };
                // Names of metals and bands stand in the table under one word for all of them.
                let named = place(if word == "order" {
                    FieldId::OrderBand.path()
                } else {
                    FieldId::PricesMetal.path()
                });
                return place(&whole).or(named).unwrap_or(schema::of_blocks().len());
            }
        };
        AsInTheVocabulary.rank(&whole)
    }

    fn instead(&self, _path: &str) -> Option<&'static str> {
        None
    }

    fn tells_apart(&self, word: &str) -> bool {
        tells_apart(self.0, word)
    }
}

impl Session {
    /// The recipe's text with what was tried written into it, and comments that were typed above it.
    ///
    /// # Errors
    /// What the line means cannot be found, or is written in a file that the recipe uses.
    pub fn written(
        &mut self,
        prepared: &Prepared,
        outcome: &Outcome,
        tried: &Tried,
        comments: &[String],
    ) -> Result<String, Vec<Finding>> {
        let mut findings = Vec::new();
        let Some(own) = self.sources.get(prepared.id).cloned() else {
            return Err(findings);
        };
        let id = self.add_tried(tried);
        let Some(line) = self.sources.get(id).cloned() else {
            return Err(findings);
        };
        let parsed = syntax::parse(&line.behind(tried.before()));
        if !parsed.findings.is_empty() {
            return Err(parsed.findings);
        }
        let names = prepared.names();
        let lines = lines_of_one(prepared, &own, &parsed.value, tried);
        let lines = lines.unwrap_or(0..own.text.len());
        let part = |range| own.text.get(range).unwrap_or_default();
        let (before, behind) = (part(0..lines.start), part(lines.end..own.text.len()));
        let mut text = part(lines).to_owned();
        let mut above = comments;
        for entry in ast::entries(&parsed.value.items) {
            let place = names.place(entry, tried.band.as_deref(), &mut findings);
            let Some((holder, path)) = place else {
                return Err(findings);
            };
            let mut nested = entry.clone();
            if let Some(block) = &mut nested.block {
                nest(&mut block.items, &|word| holder.tells_apart(word));
            }
            let said = SaidEntry {
                above: std::mem::take(&mut above).to_vec(),
                ..SaidEntry::of(&nested, &line)
            };
            let mut wanted = wanted(said.clone(), &path, &holder);
            if dotted_say(&mut text, &holder, &path, &mut wanted) {
                continue;
            }
            // Each edit moves what stands behind it, so the text is read again for the next.
            let mut scratch = Sources::default();
            let id = scratch.add("recipe", &text);
            let Some(source) = scratch.get(id) else {
                return Err(findings);
            };
            let tree = syntax::parse(source).value;
            let edited = match (&holder, find_holder(&tree, &holder)) {
                (Holder::Band(name), _)
                    if path == "without" && BlockId::of_ring(&said.values).is_some() =>
                {
                    let word = BlockId::of_ring(&said.values).unwrap_or_default();
                    let holder = Holder::Block(word, Some(name.clone()));
                    find_holder(&tree, &holder).map(|block| edit::remove(source, block))
                }
                (Holder::Lets, _) => Some(let_says(source, &tree, &path, &said.values)),
                (Holder::Band(_), Some(found)) if path == "without" => {
                    Some(leave_out(source, found, &said.values, outcome))
                }
                (Holder::Band(_), Some(found)) => {
                    Some(edit::put(source, found, &wanted, &AsInTheVocabulary))
                }
                (Holder::Block("order", _), Some(found)) if is_line(&path) => Some(order_says(
                    source,
                    found,
                    &path,
                    line.slice(behind_head(entry)),
                )),
                (Holder::Block(word, _), Some(found)) => {
                    Some(edit::put(source, found, &wanted, &InABlock(word)))
                }
                (Holder::Band(name), None) => opened_here(prepared, &holder)
                    .then(|| new_block(source, &tree, "band", Some(name), &wanted)),
                (Holder::Block(word, name), None) => {
                    let is_open =
                        matches!(*word, "prices" | "shop") || BlockId::of_ring(word).is_some();
                    (is_open || opened_here(prepared, &holder))
                        .then(|| new_block(source, &tree, word, name.as_deref(), &wanted))
                }
            };
            text = match edited {
                Some(edited) => edited,
                None => {
                    let at = entry.head_span();
                    let found = prepared.elsewhere(&holder, &self.sources);
                    let help = match found {
                        Some(found) => format!("change it in {}, or {}", found.file, found.help),
                        None => "change it there".to_owned(),
                    };
                    let name = holder.path();
                    let problem = SessionError::WrittenElsewhere { at, name, help };
                    return Err(vec![problem.into()]);
                }
            };
        }
        Ok([before, &text, behind].concat())
    }
}

/// The lines of a recipe that hold the one band that a line speaks of, in bytes; none where it speaks of more, or what
/// it says may stand elsewhere too.
fn lines_of_one(
    prepared: &Prepared,
    own: &Source,
    line: &Tree,
    tried: &Tried,
) -> Option<Range<usize>> {
    let mut entries = ast::entries(&line.items).map(|entry| {
        let place = prepared
            .names()
            .place(entry, tried.band.as_deref(), &mut Vec::new())?;
        match place {
            (Holder::Band(name), path) if path != "without" => Some(name),
            _ => None,
        }
    });
    let name = entries.next()??;
    if entries.any(|other| other.as_ref() != Some(&name)) || own.text.contains('\r') {
        return None;
    }
    let band = find_band(prepared.alone()?, &name)?;
    let comment = band.comment.as_ref().map(|comment| comment.span);
    let range = own.range(comment.map_or(band.span, |comment| band.span.to(comment)));
    let start = own.text.get(..range.start)?.rfind('\n');
    let end = own.text.get(range.end..)?.find('\n');
    let start = start.map_or(0, |start| start + 1);
    Some(start..end.map_or(own.text.len(), |end| range.end + end + 1))
}

/// Says in the dotted lines of a text what stands in them; whether nothing is left to say.
fn dotted_say(text: &mut String, holder: &Holder, path: &str, wanted: &mut Vec<SaidEntry>) -> bool {
    let manner: &dyn Manner = match holder {
        Holder::Lets => return false,
        Holder::Band(_) => &AsInTheVocabulary,
        Holder::Block(word, _) => &InABlock(word),
    };
    let dotted = Dotted { holder, manner };
    match (holder, path) {
        (Holder::Band(name), "without") => {
            for said in wanted.drain(..) {
                let gone = said.values;
                if let Some(word) = BlockId::of_ring(&gone) {
                    let holder = &Holder::Block(word, Some(name.clone()));
                    *text = Dotted { holder, manner }.without(text, &|_| true);
                }
                *text = dotted.without(text, &|path| {
                    let rest = path.strip_prefix(gone.as_str());
                    rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
                });
            }
            false
        }
        (Holder::Block("order", _), path) if is_line(path) => {
            let counts = edit::one_line(wanted);
            let counts = counts.strip_prefix(path).unwrap_or("");
            let replaced = dotted.replace(text, path, counts);
            let done = replaced.is_some();
            if let Some(replaced) = replaced {
                *text = replaced;
            }
            done
        }
        _ => {
            if matches!(holder, Holder::Band(_)) {
                mark_all_kinds(text, holder, wanted);
            }
            *text = dotted.say(text, wanted);
            wanted.is_empty()
        }
    }
}

/// Marks what changes its kind, whichever way the text says it.
fn mark_all_kinds(text: &str, holder: &Holder, wanted: &mut [SaidEntry]) {
    let mut sources = Sources::default();
    let id = sources.add("recipe", text);
    let Some(source) = sources.get(id) else {
        return;
    };
    let tree = Nested::of(syntax::parse(source).value);
    if let Some(band) = find_holder(&tree, holder) {
        for said in wanted {
            mark_kinds(said, band, "");
        }
    }
}

/// What is to be said in a block, as its entries.
fn wanted(said: SaidEntry, path: &str, holder: &Holder) -> Vec<SaidEntry> {
    match path {
        "" => said.inner,
        path => vec![said.at(path, &|word| holder.tells_apart(word))],
    }
}

/// Whether dotted lines of the recipe itself open a block.
fn opened_here(prepared: &Prepared, holder: &Holder) -> bool {
    prepared
        .tree()
        .is_some_and(|tree| find_holder(tree, holder).is_some())
}

/// The recipe's text with an entry of the top level in it, in place of the one that it gives anew.
///
/// # Example
/// ```
/// use annulet::session::with_block;
/// let text = "band b {\n  width 5 mm\n}\n";
/// assert_eq!(with_block(text, "let cut = 0.3 mm"), "let cut = 0.3 mm\n\nband b {\n  width 5 mm\n}\n");
/// assert_eq!(with_block(text, "band b { width 6 mm }"), "band b { width 6 mm }\n");
/// ```
#[must_use]
pub fn with_block(text: &str, block: &str) -> String {
    let mut sources = Sources::default();
    let id = sources.add("recipe", text);
    match sources.get(id) {
        Some(own) => put_block(own, &syntax::parse(own).value, block),
        None => text.to_owned(),
    }
}

/// The same of a recipe that is read already.
#[must_use]
pub(crate) fn put_block(own: &Source, tree: &Tree, block: &str) -> String {
    let mut sources = Sources::default();
    let id = sources.add("line", block);
    let added = sources.get(id).map(|new| syntax::parse(new).value);
    let mut entries = added.iter().flat_map(|added| ast::entries(&added.items));
    let Some(entry) = entries.next() else {
        return own.text.to_string();
    };
    let known = ast::entries(&tree.items).find(|known| is_same(known, entry));
    edit::put_top(own, tree, known, block.trim_end(), &AsInARecipe)
}

/// Whether two entries of the top level give the same thing.
fn is_same(known: &Entry, new: &Entry) -> bool {
    fn first(entry: &Entry) -> Option<&str> {
        entry.values.first().and_then(single_word)
    }
    match (known.head_name(), new.head_name()) {
        (Some("band" | "variant"), Some("band" | "variant")) => first(known) == first(new),
        (Some("let"), Some("let")) => let_name(known) == let_name(new),
        (Some("require" | "use"), Some("require" | "use")) => {
            known.head == new.head && known.values == new.values
        }
        (Some("annulet"), Some("annulet")) => true,
        (known_head, new_head) => known_head == new_head && first(known) == first(new),
    }
}

/// A block that the recipe does not have yet, or has only in a file that it uses.
fn new_block(
    source: &Source,
    tree: &Tree,
    word: &str,
    name: Option<&str>,
    said: &[SaidEntry],
) -> String {
    let name = name.map_or_else(String::new, |name| format!(" {name}"));
    let block = format!("{word}{name} {{ {} }}", edit::one_line(said));
    edit::put_top(source, tree, None, &block, &AsInARecipe)
}

/// Whether a path in an order is that of a band's line.
fn is_line(path: &str) -> bool {
    let field = path.split('.').next().unwrap_or(path);
    !path.is_empty() && schema::find_in_blocks(&format!("order.{field}")).is_none()
}

/// What an entry says behind its head.
fn behind_head(entry: &Entry) -> Span {
    Span {
        start: entry.head_span().end,
        end: entry.span.end,
    }
}

/// The line of a band in an order is another, whole.
fn order_says(source: &Source, order: &Entry, band: &str, counts: &str) -> String {
    let text = format!("{band} {}", counts.trim());
    let mut lines = order.block.iter().flat_map(ast::Block::entries);
    match lines.find(|line| line.head_name() == Some(band)) {
        Some(line) => edit::replace(source, line.span, &text),
        None => {
            let said = SaidEntry {
                head: text,
                ..SaidEntry::default()
            };
            edit::put(source, order, &[said], &InABlock("order"))
        }
    }
}

/// Marks what changes its kind, so that what its block said goes with it.
fn mark_kinds(said: &mut SaidEntry, holder: &Entry, path: &str) {
    let path = if path.is_empty() {
        said.head.clone()
    } else {
        format!("{path}.{}", said.head)
    };
    let known = holder.block.as_ref().and_then(|block| {
        let mut entries = block.entries();
        entries.find(|known| known.head_name() == Some(&said.head))
    });
    let Some(known) = known else { return };
    if says_kind(&path) && !said.values.is_empty() {
        let before = ast::first_word(&known.values);
        let after = said.values.split_whitespace().next();
        // An outline replaces another whole.
        said.anew = before != after || after == Some("custom");
    }
    for inner in &mut said.inner {
        mark_kinds(inner, known, &path);
    }
}

/// `without hollow`: the block goes where it is written, and is said where it would come from a parent.
fn leave_out(source: &Source, band: &Entry, what: &str, outcome: &Outcome) -> String {
    let gone = edit::take_out(source, band, what).unwrap_or_else(|| source.text.to_string());
    let parent = band.values.get(2).and_then(single_name);
    let inherits = parent.is_some_and(|parent| {
        let mut bands = outcome.recipe.bands.iter();
        let found = bands.find(|known| known.name == parent);
        found.is_some_and(|parent| {
            let inside = format!("{what}.");
            let mut fields = parent.fields.iter();
            fields.any(|field| field.field.path == what || field.field.path.starts_with(&inside))
        })
    });
    if !inherits {
        return gone;
    }
    let mut scratch = Sources::default();
    let id = scratch.add("recipe", &gone);
    let Some(source) = scratch.get(id) else {
        return gone;
    };
    let tree = syntax::parse(source).value;
    let name = band
        .values
        .first()
        .and_then(single_name)
        .unwrap_or_default();
    let Some(band) = find_band(&tree, &name) else {
        return gone.clone();
    };
    let said = SaidEntry {
        head: "without".to_owned(),
        values: what.to_owned(),
        ..SaidEntry::default()
    };
    edit::put(source, band, &[said], &AsInTheVocabulary)
}

/// A `let` gets another value; one of a used file gets one of its name in front of it.
fn let_says(source: &Source, tree: &Tree, name: &str, value: &str) -> String {
    let known = ast::entries(&tree.items).find(|entry| let_name(entry).as_deref() == Some(name));
    let right = known.and_then(|entry| match &entry.values.first()?.kind {
        ExprKind::Binary { right, .. } => Some(right.span),
        _ => None,
    });
    match right {
        Some(span) => edit::replace(source, span, value),
        None => edit::put_top(
            source,
            tree,
            None,
            &format!("let {name} = {value}"),
            &AsInARecipe,
        ),
    }
}

fn let_name(entry: &Entry) -> Option<String> {
    if entry.head_name() != Some("let") {
        return None;
    }
    match &entry.values.first()?.kind {
        ExprKind::Binary { left, .. } => single_name(left),
        _ => None,
    }
}
