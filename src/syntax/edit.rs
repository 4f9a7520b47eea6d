//! Edits of a recipe's text in place: one entry put, joined or taken away, all else untouched.
//!
//! Input: a source, its tree, and what is to be said ([`Said`]). Output: the new text. Comments, spaces and
//! the order of what is there stay as they are; what is new is indented as its neighbours are. What a word
//! means, and which words stand in each other's place, is left to `model`: the caller says so by [`Manner`].

use std::ops::Range;

use crate::source::{Source, Span};

use super::ast::{self, Block, Entry, Expr, ExprKind, Item, Tree};
use super::said::{block_text, one_line, split};

pub use super::said::Said;

/// What the caller knows of the words.
pub trait Manner {
    /// Where a word stands among those of its block (a path, joined by points); the lowest first.
    fn rank(&self, path: &str) -> usize;

    /// The word that says the same thing in another way, and gives way to this one.
    fn instead(&self, path: &str) -> Option<&'static str>;
}

/// One change of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Change {
    range: Range<usize>,
    text: String,
}

/// Puts what is said into the block of an entry of the top level, in place of what it said before.
///
/// # Example
/// ```
/// use annulet::source::Sources;
/// use annulet::syntax::{self, edit};
/// struct Plain;
/// impl edit::Manner for Plain {
///     fn rank(&self, _: &str) -> usize { 0 }
///     fn instead(&self, _: &str) -> Option<&'static str> { None }
/// }
/// let mut sources = Sources::default();
/// let id = sources.add("r", "band b {\n  width   4.5 mm # measured\n}\n");
/// let source = sources.get(id).unwrap();
/// let tree = syntax::parse(source).value;
/// let band = syntax::ast::entries(&tree.items).next().unwrap();
/// let said = |head: &str, values: &str| edit::Said {
///     head: head.to_owned(), values: values.to_owned(), ..edit::Said::default()
/// };
/// let text = edit::put(source, band, &[said("width", "5 mm"), said("comfort", "0.1 mm")], &Plain);
/// assert_eq!(text, "band b {\n  width   5 mm # measured\n  comfort 0.1 mm\n}\n");
/// ```
#[must_use]
pub fn put(source: &Source, entry: &Entry, said: &[Said], manner: &dyn Manner) -> String {
    let mut editor = Editor::new(source, manner);
    editor.block_says(entry, said, "");
    editor.finish()
}

/// Takes an entry out of the block of an entry of the top level.
#[must_use]
pub fn take_out(source: &Source, holder: &Entry, path: &str) -> Option<String> {
    let (first, rest) = split(path);
    let found = holder.block.as_ref()?;
    let inner = found
        .entries()
        .find(|entry| entry.head_name() == Some(first))?;
    match rest {
        Some(rest) => take_out(source, inner, rest),
        None => {
            let mut editor = Editor::new(source, &AsWritten);
            editor.remove(inner);
            Some(editor.finish())
        }
    }
}

/// Gives an entry of the top level another text, or adds it behind those that come before it.
#[must_use]
pub fn put_top(
    source: &Source,
    tree: &Tree,
    known: Option<&Entry>,
    text: &str,
    manner: &dyn Manner,
) -> String {
    let mut editor = Editor::new(source, manner);
    match known {
        Some(known) => editor.change(known.span, text.to_owned()),
        None => editor.add_top(tree, text),
    }
    editor.finish()
}

/// Replaces the text of a span.
#[must_use]
pub fn replace(source: &Source, span: Span, text: &str) -> String {
    let mut editor = Editor::new(source, &AsWritten);
    editor.change(span, text.to_owned());
    editor.finish()
}

/// No words known: for edits that add nothing.
struct AsWritten;

impl Manner for AsWritten {
    fn rank(&self, _path: &str) -> usize {
        0
    }

    fn instead(&self, _path: &str) -> Option<&'static str> {
        None
    }
}

struct Editor<'a> {
    source: &'a Source,
    manner: &'a dyn Manner,
    line_end: &'static str,
    changes: Vec<Change>,
}

impl<'a> Editor<'a> {
    fn new(source: &'a Source, manner: &'a dyn Manner) -> Self {
        let line_end = if source.text.contains("\r\n") {
            "\r\n"
        } else {
            "\n"
        };
        Self {
            source,
            manner,
            line_end,
            changes: Vec::new(),
        }
    }

    /// The text with all changes made.
    fn finish(mut self) -> String {
        let mut text = self.source.text.to_string();
        self.changes.sort_by_key(|change| change.range.start);
        for change in self.changes.iter().rev() {
            if text.get(change.range.clone()).is_some() {
                text.replace_range(change.range.clone(), &change.text);
            }
        }
        text
    }

    fn change(&mut self, span: Span, text: String) {
        let range = self.source.range(span);
        self.changes.push(Change { range, text });
    }

    /// Text put in at a byte; what was put there before stays in front of it.
    fn insert(&mut self, at: usize, text: String) {
        let known = self
            .changes
            .iter_mut()
            .find(|change| change.range == (at..at));
        match known {
            Some(known) => known.text.push_str(&text),
            None => self.changes.push(Change {
                range: at..at,
                text,
            }),
        }
    }

    /// The block of an entry says all this, beside what it says already.
    fn block_says(&mut self, entry: &Entry, said: &[Said], path: &str) {
        if said.is_empty() {
            return;
        }
        let Some(block) = &entry.block else {
            let inner = one_line(said);
            let at = self.source.range(entry.header_span()).end;
            self.insert(at, format!(" {{ {inner} }}"));
            return;
        };
        for one in said {
            let path = joined(path, &one.head);
            let known = block
                .entries()
                .find(|known| known.head_name() == Some(&one.head));
            let other = self.manner.instead(&path);
            let other = block
                .entries()
                .find(|known| known.head_name().is_some() && known.head_name() == other);
            match (known, other) {
                (Some(known), _) => self.entry_says(known, one, &path),
                (None, Some(other)) => self.stands_instead(other, one),
                (None, None) => self.add(entry, block, one, &path),
            }
        }
    }

    /// An entry that is there says something else.
    fn entry_says(&mut self, entry: &Entry, said: &Said, path: &str) {
        if !said.values.is_empty() {
            match (entry.values.first(), entry.values.last()) {
                (Some(first), Some(last)) => {
                    self.change(first.span.to(last.span), said.values.clone());
                }
                _ => {
                    let at = self.source.range(entry.head_span()).end;
                    self.insert(at, format!(" {}", said.values));
                }
            }
        }
        match &entry.block {
            Some(block) if said.anew => {
                self.carry_comments(entry, block);
                let from = self.source.range(entry.header_span()).end;
                let to = self.source.range(entry.span).end;
                let text = block_text(&said.inner);
                self.changes.push(Change {
                    range: from..to,
                    text,
                });
            }
            _ => self.block_says(entry, &said.inner, path),
        }
    }

    /// Comments inside a block that goes, each on a line of its own above what takes its place.
    fn carry_comments(&mut self, entry: &Entry, block: &Block) {
        let start = self.line_start(self.source.range(entry.span).start);
        let text = self.carried(entry, block);
        if !text.is_empty() {
            self.insert(start, text);
        }
    }

    fn carried(&self, entry: &Entry, block: &Block) -> String {
        let indent = self.indent_at(self.source.range(entry.span).start);
        let line_end = self.line_end;
        let comments = block.comments().into_iter();
        comments
            .map(|comment| format!("{indent}{}{line_end}", comment.text))
            .collect()
    }

    /// An entry gives way to one that says the same thing in another way.
    fn stands_instead(&mut self, entry: &Entry, said: &Said) {
        if let Some(block) = &entry.block {
            self.carry_comments(entry, block);
        }
        let text = format!("{} {}{}", said.head, said.values, block_text(&said.inner));
        self.change(entry.span, text);
    }

    /// A new entry in a block.
    fn add(&mut self, holder: &Entry, block: &Block, said: &Said, path: &str) {
        let rank = self.manner.rank(path);
        let of = |entry: &Entry| {
            let holder = path.rsplit_once('.').map_or("", |(holder, _)| holder);
            entry
                .head_name()
                .map_or(0, |head| self.manner.rank(&joined(holder, head)))
        };
        let place = block
            .items
            .iter()
            .rposition(|item| matches!(item, Item::Entry(entry) if of(entry) <= rank));
        let anchor = place.and_then(|place| {
            if block.inline {
                entry_at(&block.items, place)
            } else {
                last_on_line(&block.items, place)
            }
        });
        let text = one_line(std::slice::from_ref(said));
        if block.inline {
            match anchor {
                Some(entry) => {
                    let at = self.source.range(entry.span).end;
                    self.insert(at, format!(", {text}"));
                }
                None => {
                    let at = self.source.range(block.open).end;
                    let behind = if block.items.is_empty() { "" } else { "," };
                    let gap = if self.byte(at) == Some(b'}') { " " } else { "" };
                    self.insert(at, format!(" {text}{behind}{gap}"));
                }
            }
            return;
        }
        let indent = self.indent_in(holder, block);
        let at = match anchor {
            Some(entry) => self.end_with_comment(entry),
            None => {
                let open = self.source.range(block.open).end;
                block
                    .comment
                    .as_ref()
                    .map_or(open, |comment| self.source.range(comment.span).end)
            }
        };
        self.insert(at, format!("{}{indent}{text}", self.line_end));
    }

    /// A new entry of the top level.
    fn add_top(&mut self, tree: &Tree, text: &str) {
        let line_end = self.line_end;
        let word = text
            .split(|c: char| c.is_whitespace() || c == '{')
            .next()
            .unwrap_or("");
        let rank = self.manner.rank(word);
        let of = |entry: &Entry| entry.head_name().map_or(0, |head| self.manner.rank(head));
        let place = tree
            .items
            .iter()
            .rposition(|item| matches!(item, Item::Entry(entry) if of(entry) <= rank));
        match place.and_then(|place| last_on_line(&tree.items, place)) {
            Some(entry) => {
                let apart =
                    entry.block.is_some() || text.contains('{') || entry.head_name() != Some(word);
                let gap = if apart { line_end } else { "" };
                let at = self.end_with_comment(entry);
                // A file may end without a line end.
                let end = if at == self.source.text.len() {
                    line_end
                } else {
                    ""
                };
                self.insert(at, format!("{line_end}{gap}{text}{end}"));
            }
            None => {
                // Before everything else but comments at the top, which speak of the file.
                let first = ast::entries(&tree.items).next();
                let at = match first {
                    Some(entry) => self.line_start(self.source.range(entry.span).start),
                    None => self.source.text.len(),
                };
                let before = if first.is_none()
                    && !self.source.text.is_empty()
                    && !self.source.text.ends_with('\n')
                {
                    line_end
                } else {
                    ""
                };
                let gap = if first.is_some() { line_end } else { "" };
                self.insert(at, format!("{before}{text}{line_end}{gap}"));
            }
        }
    }

    /// Takes an entry out, with its line where nothing else stands on it; its comment stays.
    fn remove(&mut self, entry: &Entry) {
        let span = self.source.range(entry.span);
        let start = self.line_start(span.start);
        let text: &str = &self.source.text;
        let before = text.get(start..span.start).unwrap_or("");
        let behind = text.get(span.end..).unwrap_or("");
        let rest_of_line = behind.split(['\n', '\r']).next().unwrap_or("");
        let alone = before.trim().is_empty() && rest_of_line.trim().is_empty();
        let range = if alone {
            let line_end = behind.get(rest_of_line.len()..).unwrap_or("");
            let width = if line_end.starts_with("\r\n") {
                2
            } else {
                usize::from(!line_end.is_empty())
            };
            start..span.end + rest_of_line.len() + width
        } else if rest_of_line.trim_start().starts_with(',') {
            let comma = rest_of_line.find(',').map_or(0, |place| place + 1);
            let after = rest_of_line.get(comma..).unwrap_or("");
            let blank = after.len() - after.trim_start().len();
            span.start..span.end + comma + blank
        } else if let Some(comma) = before.trim_end().strip_suffix(',') {
            start + comma.len()..span.end
        } else {
            span
        };
        let text = match &entry.block {
            Some(block) if alone => self.carried(entry, block),
            _ => String::new(),
        };
        self.changes.push(Change { range, text });
    }

    /// Where an entry ends, a comment behind it included.
    fn end_with_comment(&self, entry: &Entry) -> usize {
        entry.comment.as_ref().map_or_else(
            || self.source.range(entry.span).end,
            |comment| self.source.range(comment.span).end,
        )
    }

    /// How entries of a block are indented.
    fn indent_in(&self, holder: &Entry, block: &Block) -> String {
        let own = |entry: &Entry| self.indent_at(self.source.range(entry.span).start);
        match block.entries().find(|entry| !entry.joined) {
            Some(first) if self.alone_before(first) => own(first),
            _ => {
                let outer = own(holder);
                let step = if outer.contains('\t') { "\t" } else { "  " };
                format!("{outer}{step}")
            }
        }
    }

    /// Whether nothing but spaces stands before an entry on its line.
    fn alone_before(&self, entry: &Entry) -> bool {
        let at = self.source.range(entry.span).start;
        let start = self.line_start(at);
        let before = self.source.text.get(start..at).unwrap_or("");
        before.trim().is_empty()
    }

    fn indent_at(&self, at: usize) -> String {
        let line = self.source.text.get(self.line_start(at)..at).unwrap_or("");
        line.chars()
            .take_while(|c| *c == ' ' || *c == '\t')
            .collect()
    }

    fn line_start(&self, at: usize) -> usize {
        let before = self.source.text.get(..at).unwrap_or("");
        before.rfind(['\n', '\r']).map_or(0, |place| place + 1)
    }

    fn byte(&self, at: usize) -> Option<u8> {
        self.source.text.as_bytes().get(at).copied()
    }
}

/// The last entry that shares the line of the one at a place.
fn last_on_line(items: &[Item], place: usize) -> Option<&Entry> {
    let mut last = place;
    while let Some(Item::Entry(next)) = items.get(last + 1)
        && next.joined
    {
        last += 1;
    }
    entry_at(items, last)
}

fn entry_at(items: &[Item], place: usize) -> Option<&Entry> {
    match items.get(place) {
        Some(Item::Entry(entry)) => Some(entry),
        _ => None,
    }
}

fn joined(path: &str, head: &str) -> String {
    if path.is_empty() {
        head.to_owned()
    } else {
        format!("{path}.{head}")
    }
}

/// The first value when it is a bare word.
#[must_use]
pub fn first_word(values: &[Expr]) -> Option<&str> {
    match values.first().map(|value| &value.kind) {
        Some(ExprKind::Path(path)) => path.single(),
        _ => None,
    }
}
