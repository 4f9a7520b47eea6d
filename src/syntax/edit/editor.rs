//! Changes of a text collected, then made in one go: bytes, lines and indents, no meaning.

use std::ops::Range;

use crate::source::{Source, Span};

use super::super::ast::{Block, Entry};
use super::manner::Manner;
use super::said::Layout;

/// One change of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Change {
    range: Range<usize>,
    text: String,
}

pub(super) struct Editor<'a> {
    pub source: &'a Source,
    pub manner: &'a dyn Manner,
    pub line_end: &'static str,
    changes: Vec<Change>,
}

impl<'a> Editor<'a> {
    /// No changes yet.
    pub fn new(source: &'a Source, manner: &'a dyn Manner) -> Self {
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
    pub fn finish(mut self) -> String {
        let more: usize = self.changes.iter().map(|change| change.text.len()).sum();
        let mut text = String::with_capacity(self.source.text.len() + more);
        text.push_str(&self.source.text);
        self.changes
            .sort_by_key(|change| (change.range.start, change.range.end));
        for change in self.changes.iter().rev() {
            if text.get(change.range.clone()).is_some() {
                text.replace_range(change.range.clone(), &change.text);
            }
        }
        text
    }

    /// Another text in place of a span.
    pub fn change(&mut self, span: Span, text: String) {
        let range = self.source.range(span);
        self.changes.push(Change { range, text });
    }

    /// Another text in place of some bytes.
    pub fn change_bytes(&mut self, range: Range<usize>, text: String) {
        self.changes.push(Change { range, text });
    }

    /// Text put in at a byte; what was put there before stays in front of it.
    pub fn insert(&mut self, at: usize, text: String) {
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

    /// A text with the line ends of the source.
    pub fn in_its_lines(&self, text: &str) -> String {
        text.replace("\r\n", "\n").replace('\n', self.line_end)
    }

    /// Where an entry begins.
    pub fn start(&self, entry: &Entry) -> usize {
        self.source.range(entry.span).start
    }

    /// Where an entry ends.
    pub fn end(&self, entry: &Entry) -> usize {
        self.source.range(entry.span).end
    }

    /// How something is laid out in the place of an entry.
    pub fn layout_at(&self, entry: &Entry) -> Layout {
        self.layout(self.indent_at(self.start(entry)))
    }

    /// How something is laid out behind an indent.
    pub fn layout(&self, indent: String) -> Layout {
        Layout {
            step: if indent.contains('\t') { "\t" } else { "  " },
            indent,
            line_end: self.line_end,
        }
    }

    /// Whether nothing but spaces stands behind an entry on its line.
    pub fn ends_line(&self, entry: &Entry) -> bool {
        let behind = self.source.text.get(self.end(entry)..).unwrap_or("");
        let rest = behind.split(['\n', '\r']).next().unwrap_or("");
        rest.trim().is_empty()
    }

    /// Where an entry ends, a comment behind it included.
    pub fn end_with_comment(&self, entry: &Entry) -> usize {
        entry.comment.as_ref().map_or_else(
            || self.source.range(entry.span).end,
            |comment| self.source.range(comment.span).end,
        )
    }

    /// How entries of a block are indented.
    pub fn indent_in(&self, holder: &Entry, block: &Block) -> String {
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
    pub fn alone_before(&self, entry: &Entry) -> bool {
        let at = self.source.range(entry.span).start;
        let start = self.line_start(at);
        let before = self.source.text.get(start..at).unwrap_or("");
        before.trim().is_empty()
    }

    /// What the line of a place begins with.
    pub fn indent_at(&self, at: usize) -> String {
        let line = self.source.text.get(self.line_start(at)..at).unwrap_or("");
        line.chars()
            .take_while(|c| *c == ' ' || *c == '\t')
            .collect()
    }

    /// Where the line of a place begins.
    pub fn line_start(&self, at: usize) -> usize {
        let before = self.source.text.get(..at).unwrap_or("");
        before.rfind(['\n', '\r']).map_or(0, |place| place + 1)
    }

    /// The byte at a place.
    pub fn byte(&self, at: usize) -> Option<u8> {
        self.source.text.as_bytes().get(at).copied()
    }
}
