//! Edits of a recipe's text in place: one entry put, joined or taken away, all else untouched.
//!
//! Input: a source, its tree, and what is to be said ([`SaidEntry`]). Output: the new text. Comments, spaces and
//! the order of what is there stay as they are; what is new is indented as its neighbours are. What a word
//! means, and which words stand in each other's place, is left to `model`: the caller says so by [`Manner`].

mod carry;
mod dotted;
mod editor;
mod entries;
mod manner;
mod said;

use crate::source::{Source, Span};

use super::ast::{Entry, Tree};
use editor::Editor;
use manner::AsWritten;
use said::split;

pub use dotted::{DottedLine, dotted_line, dotted_lines};
pub use manner::Manner;
pub use said::{SaidEntry, one_line};

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
/// let said = |head: &str, values: &str| edit::SaidEntry {
///     head: head.to_owned(), values: values.to_owned(), ..edit::SaidEntry::default()
/// };
/// let text = edit::put(source, band, &[said("width", "5 mm"), said("comfort", "0.1 mm")], &Plain);
/// assert_eq!(text, "band b {\n  width   5 mm # measured\n  comfort 0.1 mm\n}\n");
/// ```
#[must_use]
pub fn put(source: &Source, entry: &Entry, said: &[SaidEntry], manner: &dyn Manner) -> String {
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
        None => Some(remove(source, inner)),
    }
}

/// Gives an entry of the top level another text, its comments kept, or adds it behind those that come before it.
#[must_use]
pub fn put_top(
    source: &Source,
    tree: &Tree,
    known: Option<&Entry>,
    text: &str,
    manner: &dyn Manner,
) -> String {
    let mut editor = Editor::new(source, manner);
    let text = &*editor.in_its_lines(text);
    match known {
        Some(known) => {
            let (span, text) = carry::replaced(known, source, text);
            editor.change(span, text);
        }
        None => editor.add_top(tree, text),
    }
    editor.finish()
}

/// Takes an entry out, wherever it stands; its comment stays.
#[must_use]
pub fn remove(source: &Source, entry: &Entry) -> String {
    let mut editor = Editor::new(source, &AsWritten);
    editor.remove(entry);
    editor.finish()
}

/// Replaces the text of a span.
#[must_use]
pub fn replace(source: &Source, span: Span, text: &str) -> String {
    let mut editor = Editor::new(source, &AsWritten);
    editor.change(span, text.to_owned());
    editor.finish()
}
