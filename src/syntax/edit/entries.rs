//! What an entry is to say, as changes of the text that says it now.

use crate::source::cells;

use super::super::ast::{self, Block, Entry, Item, Tree, entry_name};
use super::editor::Editor;
use super::said::{SaidEntry, block_text, one_line};

/// Cells that a line may grow to before its block is broken into lines.
const LONGEST: usize = 80;

impl Editor<'_> {
    /// The block of an entry says all this, beside what it says already.
    pub fn block_says(&mut self, entry: &Entry, said: &[SaidEntry], path: &str) {
        if said.is_empty() {
            return;
        }
        let Some(block) = &entry.block else {
            let at = self.source.range(entry.header_span()).end;
            let whole = SaidEntry {
                inner: said.to_vec(),
                ..SaidEntry::default()
            };
            let text = block_text(&whole.lifted_inside(), &self.layout_at(entry));
            self.insert(at, text);
            return;
        };
        for one in said {
            let path = joined(path, &one.head);
            let apart = self.manner.tells_apart(&one.head);
            let is_it = |entry: &Entry| {
                let of_name = || entry_name(&entry.values).as_deref() == one.name.as_deref();
                entry.head_name() == Some(&one.head) && (!apart || of_name())
            };
            let other = self.manner.instead(&path);
            let is_other = |entry: &Entry| other.is_some() && entry.head_name() == other;
            let (known, other) = (position(block, is_it), position(block, is_other));
            match (known, other) {
                (Some(place), _) => {
                    self.entry_says(&block.items, block.inline, place, one, &path);
                }
                (None, Some(place)) => self.stands_instead(block, place, one),
                (None, None) => self.add(entry, block, one, &path),
            }
        }
    }

    /// An entry that is there says something else.
    pub fn entry_says(
        &mut self,
        items: &[Item],
        inline: bool,
        place: usize,
        said: &SaidEntry,
        path: &str,
    ) {
        let Some(entry) = entry_at(items, place) else {
            return;
        };
        let said = &match entry.block {
            Some(_) => said.clone(),
            None => said.clone().lifted(),
        };
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
                let text = block_text(said, &self.layout_at(entry));
                self.change_bytes(from..self.end(entry), text);
            }
            _ => self.block_says(entry, &said.inner, path),
        }
        self.comments_say((items, inline), place, entry, said);
    }

    /// The comments about an entry that is there, and those at the end of what was said inside it.
    fn comments_say(
        &mut self,
        (items, inline): (&[Item], bool),
        place: usize,
        entry: &Entry,
        said: &SaidEntry,
    ) {
        let rewritten = said.anew && entry.block.is_some();
        let inside = said.tail.iter().filter(|_| !rewritten);
        let mut above: Vec<&str> = said
            .above
            .iter()
            .chain(inside)
            .map(String::as_str)
            .collect();
        if let Some(comment) = &said.comment {
            let last = !matches!(items.get(place + 1), Some(Item::Entry(next)) if next.joined);
            match &entry.comment {
                Some(old) => self.change(old.span, comment.clone()),
                None if last && !inline => {
                    self.insert(self.end(entry), format!(" {comment}"));
                }
                None => above.push(comment),
            }
        }
        let start = self.line_start(self.start(entry));
        let before = self.source.text.get(..start).unwrap_or("").trim_end();
        above.retain(|comment| !before.ends_with(comment));
        if !above.is_empty() {
            let lines = self.layout_at(entry).lines(above);
            self.insert(start, lines);
        }
    }

    /// Comments inside a block that goes, each on a line of its own above what takes its place.
    fn carry_comments(&mut self, entry: &Entry, block: &Block) {
        let start = self.line_start(self.start(entry));
        let text = self.carried(entry, block);
        if !text.is_empty() {
            self.insert(start, text);
        }
    }

    fn carried(&self, entry: &Entry, block: &Block) -> String {
        let comments = block.comments().into_iter();
        let comments = comments.map(|comment| comment.text.as_str());
        self.layout_at(entry).lines(comments)
    }

    /// An entry gives way to one that says the same thing in another way.
    fn stands_instead(&mut self, holder: &Block, place: usize, said: &SaidEntry) {
        let Some(entry) = entry_at(&holder.items, place) else {
            return;
        };
        if let Some(block) = &entry.block {
            self.carry_comments(entry, block);
        }
        let said = said.clone().lifted();
        let text = said.text(&self.layout_at(entry));
        self.change(entry.span, text);
        let about = SaidEntry {
            tail: Vec::new(),
            ..said
        };
        self.comments_say((&holder.items, holder.inline), place, entry, &about);
    }

    /// A new entry in a block.
    fn add(&mut self, holder: &Entry, block: &Block, said: &SaidEntry, path: &str) {
        let rank = self.manner.rank(path);
        let of = |entry: &Entry| {
            let holder = path.rsplit_once('.').map_or("", |(holder, _)| holder);
            let head = entry.head.as_ref();
            head.map_or(0, |head| self.manner.rank(&joined(holder, &head.value.0)))
        };
        // Dotted lines of the same word say more of it.
        let dotted = format!("{}.", said.head);
        let of_it = |entry: &Entry| {
            let head = entry.head.as_ref();
            head.is_some_and(|head| head.value.0.starts_with(&dotted))
        };
        let place = block.items.iter().rposition(
            |item| matches!(item, Item::Entry(entry) if of(entry) <= rank || of_it(entry)),
        );
        let anchor = place.and_then(|place| {
            if block.inline {
                entry_at(&block.items, place)
            } else {
                last_on_line(&block.items, place)
            }
        });
        let breaks = block.inline && !path.contains('.') && self.needs_lines(holder, said);
        if block.inline && !breaks {
            self.add_on_line(holder, block, anchor, said);
            return;
        }
        if breaks {
            self.break_line(holder, block);
        }
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
        let said = said.clone().lifted();
        let layout = self.layout(self.indent_in(holder, block));
        let mut text = layout.lines(said.above.iter().map(String::as_str));
        text.push_str(&layout.indent);
        text.push_str(&said.text(&layout));
        if let Some(comment) = &said.comment {
            text.push_str(&format!(" {comment}"));
        }
        self.insert(at, format!("{}{text}", self.line_end));
    }

    /// Whether a block on one line of the top level has no room for one more entry, or for its comments.
    fn needs_lines(&self, holder: &Entry, said: &SaidEntry) -> bool {
        let start = self.line_start(self.start(holder));
        let line = self.source.text.get(start..self.end(holder)).unwrap_or("");
        let more = one_line(std::slice::from_ref(said));
        let full = cells(line) + cells(&more) > LONGEST || !said.comments().is_empty();
        full && self.alone_before(holder) && !line.contains('\n')
    }

    /// Puts each entry of a block that stands on one line on a line of its own.
    fn break_line(&mut self, holder: &Entry, block: &Block) {
        let outer = self.indent_at(self.start(holder));
        let inner = self.indent_in(holder, block);
        let line_end = self.line_end;
        let mut at = self.source.range(block.open).end;
        for entry in block.entries() {
            self.change_bytes(at..self.start(entry), format!("{line_end}{inner}"));
            at = self.end(entry);
        }
        let close = self.end(holder).saturating_sub(1);
        self.change_bytes(at..close, format!("{line_end}{outer}"));
    }

    /// A new entry in a block that stands on one line; its comments stand above that line.
    fn add_on_line(
        &mut self,
        holder: &Entry,
        block: &Block,
        anchor: Option<&Entry>,
        said: &SaidEntry,
    ) {
        let comments = said.comments();
        if !comments.is_empty() {
            let start = self.line_start(self.start(holder));
            let lines = self.layout_at(holder).lines(comments);
            self.insert(start, lines);
        }
        let text = one_line(std::slice::from_ref(said));
        match anchor {
            Some(entry) => self.insert(self.end(entry), format!(", {text}")),
            None => {
                let at = self.source.range(block.open).end;
                let behind = if block.items.is_empty() { "" } else { "," };
                let gap = if self.byte(at) == Some(b'}') { " " } else { "" };
                self.insert(at, format!(" {text}{behind}{gap}"));
            }
        }
    }

    /// A new entry of the top level.
    pub fn add_top(&mut self, tree: &Tree, text: &str) {
        let line_end = self.line_end;
        let word = text
            .lines()
            .find(|line| !line.trim_start().starts_with('#'))
            .and_then(|line| line.split(|c: char| c.is_whitespace() || c == '{').next())
            .unwrap_or("");
        let rank = self.manner.rank(word);
        let of = |entry: &Entry| {
            let first = entry
                .head
                .as_ref()
                .and_then(|head| head.value.names().next());
            first.map_or(0, |word| self.manner.rank(word))
        };
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
                    Some(entry) => self.line_start(self.start(entry)),
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
    pub fn remove(&mut self, entry: &Entry) {
        let span = self.source.range(entry.span);
        let start = self.line_start(span.start);
        let text: &str = &self.source.text;
        let before = text.get(start..span.start).unwrap_or("");
        let behind = text.get(span.end..).unwrap_or("");
        let rest_of_line = behind.split(['\n', '\r']).next().unwrap_or("");
        let first = before.trim().is_empty();
        let alone = first && rest_of_line.trim().is_empty();
        let commented = first && rest_of_line.trim_start().starts_with('#');
        let range = if alone {
            let line_end = behind.get(rest_of_line.len()..).unwrap_or("");
            let width = if line_end.starts_with("\r\n") {
                2
            } else {
                usize::from(!line_end.is_empty())
            };
            start..span.end + rest_of_line.len() + width
        } else if commented {
            let gap = rest_of_line.len() - rest_of_line.trim_start().len();
            start..span.end + gap
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
        let carried = match &entry.block {
            Some(block) => self.carried(entry, block),
            None => String::new(),
        };
        if alone {
            self.change_bytes(range, carried);
        } else if commented {
            self.change_bytes(range, format!("{carried}{before}"));
        } else {
            self.insert(start, carried);
            self.change_bytes(range, String::new());
        }
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

/// Where an entry stands among the items of a block.
fn position(block: &Block, is_it: impl Fn(&Entry) -> bool) -> Option<usize> {
    let is_it = |item: &Item| matches!(item, Item::Entry(entry) if is_it(entry));
    block.items.iter().position(is_it)
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
