//! The comments of an entry that is written anew: each stays with what it was about, where that is still said.

use crate::source::{Source, Sources, Span};

use super::super::ast::{self, Block, Entry, Item};
use super::editor::Editor;
use super::manner::AsWritten;
use super::said::{key, with_key};

/// What an entry that takes the place of another replaces, and its text with the comments of the other: behind
/// the same field, above the same field, or above the whole where there is no such line any more.
pub(super) fn replaced(old: &Entry, source: &Source, text: &str) -> (Span, String) {
    let plain = || (old.span, text.to_owned());
    let mut sources = Sources::default();
    let id = sources.add("line", text);
    let Some(new_source) = sources.get(id) else {
        return plain();
    };
    let tree = super::super::parse(new_source).value;
    let Some(new) = ast::entries(&tree.items).next() else {
        return plain();
    };
    let known = ast::comments(&tree.items);
    let mut carrier = Carrier {
        known: known.iter().map(|comment| comment.text.as_str()).collect(),
        source,
        editor: Editor::new(new_source, &AsWritten),
        homeless: Vec::new(),
    };
    if let Some(block) = &old.block {
        carrier.carry(block, new.block.as_ref());
    }
    let mut span = old.span;
    if let (Some(behind), Some(_)) = (&old.comment, &new.comment) {
        // There is room for one behind it.
        span = span.to(behind.span);
        let mut homeless = Vec::new();
        carrier.take(&mut homeless, Some(behind));
        carrier.homeless.append(&mut homeless);
    }
    let above: String = carrier
        .homeless
        .iter()
        .map(|comment| format!("{comment}{}", carrier.editor.line_end))
        .collect();
    (span, format!("{above}{}", carrier.editor.finish()))
}

struct Carrier<'a> {
    /// Comments that the new text has itself.
    known: Vec<&'a str>,
    source: &'a Source,
    editor: Editor<'a>,
    /// Comments that no line of the new text takes.
    homeless: Vec<&'a str>,
}

impl<'a> Carrier<'a> {
    fn carry(&mut self, old: &'a Block, new: Option<&Block>) {
        let mut above: Vec<&str> = Vec::new();
        let mut behind_brace = Vec::new();
        self.take(&mut behind_brace, old.comment.as_ref());
        match new.filter(|new| !new.inline && new.comment.is_none()) {
            Some(new) => {
                for comment in behind_brace {
                    let at = self.editor.source.range(new.open).end;
                    self.editor.insert(at, format!(" {comment}"));
                }
            }
            None => self.homeless.extend(behind_brace),
        }
        for item in &old.items {
            match item {
                Item::Comment(comment) => self.take(&mut above, Some(comment)),
                Item::Broken(_) => {}
                Item::Entry(entry) => {
                    let twin = with_key(new, key(entry));
                    self.put_above(std::mem::take(&mut above), twin, new);
                    if let Some(block) = &entry.block {
                        self.carry(block, twin.and_then(|twin| twin.block.as_ref()));
                    }
                    let mut behind = Vec::new();
                    self.take(&mut behind, entry.comment.as_ref());
                    if let Some(comment) = behind.first() {
                        self.put_behind(comment, entry, twin, new);
                    }
                }
            }
        }
        self.homeless.extend(above);
    }

    /// A comment, unless the new text has it itself.
    fn take(&mut self, into: &mut Vec<&'a str>, comment: Option<&'a ast::Comment>) {
        let Some(comment) = comment else { return };
        match self.known.iter().position(|known| *known == comment.text) {
            Some(place) => drop(self.known.swap_remove(place)),
            None => into.push(&comment.text),
        }
    }

    fn put_above(&mut self, comments: Vec<&'a str>, twin: Option<&Entry>, holder: Option<&Block>) {
        let lines = holder.is_some_and(|block| !block.inline);
        match twin {
            Some(twin) if lines && self.editor.alone_before(twin) => {
                let layout = self.editor.layout_at(twin);
                let at = self.editor.line_start(self.editor.start(twin));
                self.editor.insert(at, layout.lines(comments));
            }
            _ => self.homeless.extend(comments),
        }
    }

    fn put_behind(
        &mut self,
        comment: &'a str,
        old: &Entry,
        twin: Option<&Entry>,
        holder: Option<&Block>,
    ) {
        let lines = holder.is_some_and(|block| !block.inline);
        match twin {
            Some(twin) if lines && self.editor.ends_line(twin) => {
                let behind = self.source.range(old.span).end;
                let text = self.source.text.get(behind..).unwrap_or("");
                let gap: String = text
                    .chars()
                    .take_while(|c| matches!(c, ' ' | '\t'))
                    .collect();
                let at = self.editor.end(twin);
                self.editor.insert(at, format!("{gap}{comment}"));
            }
            _ => self.homeless.push(comment),
        }
    }
}
