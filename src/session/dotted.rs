//! Dotted lines of a recipe's text: what they say already is said anew in place, and goes where its block goes.
//!
//! A field may be written in its block or as a dotted line, there or at the top level. An edit must find it either
//! way, or the recipe would say it twice.

use crate::model::{Holder, TopNames};
use crate::source::{Source, Sources};
use crate::syntax;
use crate::syntax::ast::{Item, Tree};
use crate::syntax::edit::{self, DottedLine, Manner, SaidEntry};

use super::holders::find_holder;

/// The dotted lines that lead into one block of the top level.
pub(super) struct Dotted<'a> {
    pub holder: &'a Holder,
    pub manner: &'a dyn Manner,
}

impl Dotted<'_> {
    /// A text without what dotted lines say of some paths.
    pub fn without(&self, text: &str, gone: &dyn Fn(&str) -> bool) -> String {
        self.changed(text, &mut |source, line| {
            gone(&line.path).then(|| edit::remove(source, line.entry))
        })
    }

    /// A text with dotted lines saying what they are to say, which is taken out of what is wanted; what that makes
    /// void is taken out of the text.
    pub fn say(&self, text: &str, wanted: &mut Vec<SaidEntry>) -> String {
        let void = self.void(wanted, "");
        let text = self.without(text, &|path| void.iter().any(|void| void.covers(path)));
        self.changed(&text, &mut |source, line| {
            let said = self.take(wanted, line)?;
            Some(line.say(source, &said, self.manner))
        })
    }

    /// A text with a dotted line's end replaced, where there is such a line.
    pub fn replace(&self, text: &str, path: &str, end: &str) -> Option<String> {
        let mut done = false;
        let changed = self.changed(text, &mut |source, line| {
            if done || line.path != path {
                return None;
            }
            done = true;
            let mut span = line.entry.span;
            span.start = line.entry.head_span().end;
            Some(edit::replace(source, span, &format!(" {}", end.trim())))
        });
        done.then_some(changed)
    }

    /// A text after one change of a line after the other. Each change moves what stands behind it, so the text is
    /// read again for the next.
    fn changed(
        &self,
        text: &str,
        change: &mut dyn FnMut(&Source, &DottedLine<'_>) -> Option<String>,
    ) -> String {
        let mut text = text.to_owned();
        loop {
            let mut sources = Sources::default();
            let id = sources.add("recipe", &text);
            let Some(source) = sources.get(id) else {
                return text;
            };
            let tree = syntax::parse(source).value;
            let lines = self.lines(&tree);
            let next = lines.iter().find_map(|line| change(source, line));
            match next {
                Some(next) if next != text => text = next,
                Some(_) => {}
                None => return text,
            }
        }
    }

    fn lines<'t>(&self, tree: &'t Tree) -> Vec<DottedLine<'t>> {
        let names = TopNames::of(&tree.items);
        let mut found = Vec::new();
        for (place, item) in tree.items.iter().enumerate() {
            let Item::Entry(entry) = item else { continue };
            let lead = names
                .leads(entry)
                .filter(|lead| lead.holder == *self.holder);
            if let (Some(lead), Some(head)) = (lead, &entry.head) {
                let path = lead.inside(&head.value);
                found.extend(edit::dotted_line(&tree.items, place, path, self.manner));
            }
        }
        let block = find_holder(tree, self.holder).and_then(|entry| entry.block.as_ref());
        if let Some(block) = block {
            found.extend(edit::dotted_lines(
                &block.items,
                block.inline,
                "",
                self.manner,
            ));
        }
        found
    }

    /// What a line is to say, taken out of what is wanted.
    fn take(&self, wanted: &mut Vec<SaidEntry>, line: &DottedLine<'_>) -> Option<SaidEntry> {
        let found = self.take_at(wanted, "", line);
        if found.is_some() {
            prune(wanted);
        }
        found
    }

    fn take_at(
        &self,
        wanted: &mut [SaidEntry],
        path: &str,
        line: &DottedLine<'_>,
    ) -> Option<SaidEntry> {
        for said in wanted {
            let own = self.path(path, said);
            if own == line.path && line.says && self.says(said) {
                let inner = match said.anew {
                    true => std::mem::take(&mut said.inner),
                    false => Vec::new(),
                };
                let rest = std::mem::take(&mut said.inner);
                let taken = std::mem::take(said);
                *said = SaidEntry {
                    head: taken.head.clone(),
                    name: taken.name.clone(),
                    inner: rest,
                    tall: taken.tall,
                    ..SaidEntry::default()
                };
                return Some(SaidEntry { inner, ..taken });
            }
            if line.path.starts_with(&format!("{own}."))
                && let Some(found) = self.take_at(&mut said.inner, &own, line)
            {
                return Some(found);
            }
        }
        None
    }

    fn path(&self, path: &str, said: &SaidEntry) -> String {
        let name = said
            .name
            .as_ref()
            .filter(|_| self.manner.tells_apart(&said.head));
        let words = [Some(path).filter(|path| !path.is_empty()), Some(&said.head)];
        let words = words.into_iter().flatten();
        words
            .chain(name.map(String::as_str))
            .collect::<Vec<_>>()
            .join(".")
    }

    /// Whether it says a value, and not only a name.
    fn says(&self, said: &SaidEntry) -> bool {
        let apart = self.manner.tells_apart(&said.head);
        let is_name = apart && said.name.as_deref() == Some(&*said.values);
        !said.values.is_empty() && !is_name
    }

    /// What some sayings make void.
    fn void(&self, wanted: &[SaidEntry], path: &str) -> Vec<Void> {
        let mut found = Vec::new();
        for said in wanted {
            let own = self.path(path, said);
            if let Some(other) = self.manner.instead(&own) {
                let path = match path {
                    "" => other.to_owned(),
                    path => format!("{path}.{other}"),
                };
                found.push(Void { path, whole: true });
            }
            if said.anew {
                found.push(Void {
                    path: own,
                    whole: false,
                });
            } else {
                found.extend(self.void(&said.inner, &own));
            }
        }
        found
    }
}

/// A path that says nothing any more: with all in it, or only what is in it.
struct Void {
    path: String,
    whole: bool,
}

impl Void {
    fn covers(&self, path: &str) -> bool {
        let rest = path.strip_prefix(&self.path);
        rest.is_some_and(|rest| rest.starts_with('.') || self.whole && rest.is_empty())
    }
}

/// Drops sayings that say nothing any more.
fn prune(wanted: &mut Vec<SaidEntry>) {
    wanted.retain_mut(|said| {
        prune(&mut said.inner);
        let comments = !said.above.is_empty() || said.comment.is_some() || !said.tail.is_empty();
        let is_name = said.name.as_ref() == Some(&said.values);
        !(said.values.is_empty() || is_name) || !said.inner.is_empty() || comments
    });
}
