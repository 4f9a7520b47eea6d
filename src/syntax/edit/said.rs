//! What an edit is to say, and how that is written.

use std::borrow::Cow;

use crate::source::Source;

use super::super::ast::{self, Block, Entry, Item, entry_name};

/// What an entry is to say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SaidEntry {
    /// The word that names it.
    pub head: String,
    /// The values as text; empty: they stay as they are.
    pub values: String,
    /// Its first value, where that is a name.
    pub name: Option<String>,
    /// It holds a block, be it an empty one.
    pub holds: bool,
    /// What its block says.
    pub inner: Vec<SaidEntry>,
    /// Another kind than before: what its block said does not apply to it.
    pub anew: bool,
    /// Comments on lines of their own above it.
    pub above: Vec<String>,
    /// The comment behind it.
    pub comment: Option<String>,
    /// Comments at the end of its block.
    pub tail: Vec<String>,
    /// Its block stands on several lines.
    pub tall: bool,
    /// It shares the line of what stands before it.
    pub joined: bool,
}

impl SaidEntry {
    /// What an entry says, its texts as the source has them.
    #[must_use]
    pub fn of(entry: &Entry, source: &Source) -> Self {
        let values = match (entry.values.first(), entry.values.last()) {
            (Some(first), Some(last)) => source.slice(first.span.to(last.span)).to_owned(),
            _ => String::new(),
        };
        let mut said = Self {
            head: entry
                .head
                .as_ref()
                .map_or_else(String::new, |head| head.value.0.clone()),
            values,
            name: entry_name(&entry.values).map(Cow::into_owned),
            comment: entry.comment.as_ref().map(|comment| comment.text.clone()),
            joined: entry.joined,
            holds: entry.block.is_some(),
            ..Self::default()
        };
        if let Some(block) = &entry.block {
            said.inside(block, source);
        }
        said
    }

    fn inside(&mut self, block: &Block, source: &Source) {
        self.tall = !block.inline;
        let behind_brace = block.comment.iter();
        let mut above: Vec<String> = behind_brace.map(|one| one.text.clone()).collect();
        for item in &block.items {
            match item {
                Item::Comment(comment) => above.push(comment.text.clone()),
                Item::Entry(entry) => self.inner.push(Self {
                    above: std::mem::take(&mut above),
                    ..Self::of(entry, source)
                }),
                Item::Broken(_) => {}
            }
        }
        self.tail = above;
    }

    /// The same, held by the blocks that a path leads through; behind a word that `tells_apart` knows stands a
    /// name (`operation.turning.run`).
    #[must_use]
    pub fn at(self, path: &str, tells_apart: &dyn Fn(&str) -> bool) -> Self {
        match split(path) {
            (first, Some(rest)) if tells_apart(path) => {
                let (name, rest) = split(rest);
                let named = Self {
                    head: first.to_owned(),
                    name: Some(name.to_owned()),
                    ..Self::default()
                };
                match rest {
                    Some(rest) => Self {
                        inner: vec![self.at(rest, tells_apart)],
                        ..named
                    },
                    None => Self {
                        head: named.head,
                        name: named.name,
                        values: String::new(),
                        ..self
                    },
                }
            }
            (first, Some(rest)) => Self {
                head: first.to_owned(),
                inner: vec![self.at(rest, tells_apart)],
                ..Self::default()
            },
            (last, None) => Self {
                head: last.to_owned(),
                ..self
            },
        }
    }

    /// The same with the comments of what a path alone put inside it on the outside, so that it can stand on
    /// one line.
    pub(super) fn lifted(mut self) -> Self {
        if self.tall {
            return self;
        }
        if let [inner] = self.inner.as_mut_slice() {
            *inner = std::mem::take(inner).lifted();
            self.above.append(&mut inner.above);
            self.comment = self.comment.or(inner.comment.take());
        }
        self
    }

    /// The same with each of what its block says lifted; what has comments stands on lines of its own.
    pub(super) fn lifted_inside(mut self) -> Self {
        self.inner = self.inner.into_iter().map(SaidEntry::lifted).collect();
        self
    }

    /// All comments in it and about it.
    pub(super) fn comments(&self) -> Vec<&str> {
        let mut found: Vec<&str> = self.above.iter().map(String::as_str).collect();
        found.extend(self.inner.iter().flat_map(SaidEntry::comments));
        found.extend(self.tail.iter().chain(&self.comment).map(String::as_str));
        found
    }

    /// Its text, without the comments about it: one line where it can be, else several.
    pub(super) fn text(&self, layout: &Layout) -> String {
        format!("{}{}", self.header(), block_text(self, layout))
    }

    /// Its word and what is said of it: its values or, where they stay as they are, its name.
    fn header(&self) -> String {
        let name = self.name.as_deref().unwrap_or_default();
        let values = Some(self.values.as_str()).filter(|values| !values.is_empty());
        let words = [self.head.as_str(), values.unwrap_or(name)];
        let words = words.iter().filter(|word| !word.is_empty());
        words.copied().collect::<Vec<_>>().join(" ")
    }
}

/// How lines are written where something new is put.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    /// What the line of the entry begins with.
    pub indent: String,
    /// What each level adds.
    pub step: &'static str,
    pub line_end: &'static str,
}

impl Layout {
    fn inside(&self) -> Self {
        Self {
            indent: format!("{}{}", self.indent, self.step),
            ..self.clone()
        }
    }

    /// Comments on lines of their own.
    pub fn lines<'c>(&self, comments: impl IntoIterator<Item = &'c str>) -> String {
        let comments = comments.into_iter();
        comments
            .map(|comment| format!("{}{comment}{}", self.indent, self.line_end))
            .collect()
    }
}

/// Entries on one line, whatever comments they have.
#[must_use]
pub fn one_line(said: &[SaidEntry]) -> String {
    let one = |said: &SaidEntry| {
        let inner = one_line(&said.inner);
        let block = match (inner.is_empty(), said.holds) {
            (true, false) => String::new(),
            (true, true) => EMPTY.to_owned(),
            (false, _) => format!(" {{ {inner} }}"),
        };
        format!("{}{block}", said.header())
    };
    said.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// A block that says nothing, as a cut that takes all from its pattern.
const EMPTY: &str = " { }";

/// The block of what is said, with the space before it; nothing where there is none.
pub(super) fn block_text(said: &SaidEntry, layout: &Layout) -> String {
    let comments = said.inner.iter().any(|inner| !inner.comments().is_empty());
    if said.inner.is_empty() && said.tail.is_empty() {
        return match said.holds {
            true => EMPTY.to_owned(),
            false => String::new(),
        };
    }
    if !said.tall && !comments && said.tail.is_empty() {
        return format!(" {{ {} }}", one_line(&said.inner));
    }
    let Layout {
        indent, line_end, ..
    } = layout;
    let inside = layout.inside();
    let mut text = format!(" {{{line_end}");
    let mut open = false;
    for inner in &said.inner {
        if inner.joined && open {
            text.push_str(", ");
        } else {
            if open {
                text.push_str(line_end);
            }
            text.push_str(&inside.lines(inner.above.iter().map(String::as_str)));
            text.push_str(&inside.indent);
        }
        text.push_str(&inner.text(&inside));
        match &inner.comment {
            Some(comment) => {
                text.push_str(&format!(" {comment}{line_end}"));
                open = false;
            }
            None => open = true,
        }
    }
    if open {
        text.push_str(line_end);
    }
    text.push_str(&inside.lines(said.tail.iter().map(String::as_str)));
    format!("{text}{indent}}}")
}

/// The first word of a path, and the rest.
pub(super) fn split(path: &str) -> (&str, Option<&str>) {
    path.split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)))
}

/// What tells an entry from others of its block: its word, and the name behind it where it holds a block.
pub(super) fn key(entry: &Entry) -> (Option<&str>, Option<Cow<'_, str>>) {
    let name = entry.block.as_ref().and_then(|_| entry_name(&entry.values));
    (entry.head_name(), name)
}

/// The entry of a block with a key.
pub(super) fn with_key<'b>(
    block: Option<&'b Block>,
    wanted: (Option<&str>, Option<Cow<'_, str>>),
) -> Option<&'b Entry> {
    let items = block.map_or(&[][..], |block| &block.items);
    ast::entries(items).find(|entry| key(entry) == wanted)
}
