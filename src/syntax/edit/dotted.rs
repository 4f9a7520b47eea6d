//! Lines with a dotted head: found wherever they stand, and said anew in place.

use crate::source::Source;

use super::super::ast::{Entry, Item, entry_name};
use super::editor::Editor;
use super::manner::Manner;
use super::said::SaidEntry;

/// A line with a dotted head, or one in its block.
#[derive(Clone, Debug)]
pub struct DottedLine<'t> {
    /// Its whole path in the block that it leads into.
    pub path: String,
    /// The line.
    pub entry: &'t Entry,
    /// It says something itself, and not only by its block.
    pub says: bool,
    /// What it stands among.
    items: &'t [Item],
    place: usize,
    inline: bool,
}

impl DottedLine<'_> {
    /// A text with the line saying something else.
    #[must_use]
    pub fn say(&self, source: &Source, said: &SaidEntry, manner: &dyn Manner) -> String {
        let mut editor = Editor::new(source, manner);
        editor.entry_says(self.items, self.inline, self.place, said, &self.path);
        editor.finish()
    }
}

/// The dotted lines in a block, and all lines inside them. `path` is that of the block.
#[must_use]
pub fn dotted_lines<'t>(
    items: &'t [Item],
    inline: bool,
    path: &str,
    manner: &dyn Manner,
) -> Vec<DottedLine<'t>> {
    let mut found = Vec::new();
    let mut level = Level {
        items,
        inline,
        through: false,
    };
    lines(&mut level, path, manner, &mut found);
    found
}

/// One dotted line that stands somewhere else, with the path that it has in the block it leads into, and all lines
/// inside it.
#[must_use]
pub fn dotted_line<'t>(
    items: &'t [Item],
    place: usize,
    path: &str,
    manner: &dyn Manner,
) -> Vec<DottedLine<'t>> {
    let mut found = Vec::new();
    if let Some(Item::Entry(entry)) = items.get(place) {
        let level = Level {
            items,
            inline: false,
            through: true,
        };
        line(&level, place, entry, path.to_owned(), manner, &mut found);
    }
    found
}

/// A level of the text.
struct Level<'t> {
    items: &'t [Item],
    inline: bool,
    /// A dotted head leads here.
    through: bool,
}

fn lines<'t>(
    level: &mut Level<'t>,
    path: &str,
    manner: &dyn Manner,
    found: &mut Vec<DottedLine<'t>>,
) {
    for (place, item) in level.items.iter().enumerate() {
        let Item::Entry(entry) = item else { continue };
        let Some(head) = &entry.head else { continue };
        let head = head.value.0.as_str();
        let own = match path {
            "" => head.to_owned(),
            path => format!("{path}.{head}"),
        };
        let inner = Level {
            through: level.through || head.contains('.'),
            ..*level
        };
        line(&inner, place, entry, own, manner, found);
    }
}

fn line<'t>(
    level: &Level<'t>,
    place: usize,
    entry: &'t Entry,
    mut path: String,
    manner: &dyn Manner,
    found: &mut Vec<DottedLine<'t>>,
) {
    let mut name = 0;
    let last = path.rsplit('.').next().unwrap_or(&path);
    if manner.tells_apart(last)
        && let Some(own) = entry_name(&entry.values)
    {
        path = format!("{path}.{own}");
        // An exchange is its name and its value.
        name = usize::from(entry.block.is_some());
    }
    if level.through {
        found.push(DottedLine {
            path: path.clone(),
            entry,
            says: entry.values.len() > name,
            items: level.items,
            place,
            inline: level.inline,
        });
    }
    if let Some(block) = &entry.block {
        let mut inner = Level {
            items: &block.items,
            inline: block.inline,
            through: level.through,
        };
        lines(&mut inner, &path, manner, found);
    }
}
