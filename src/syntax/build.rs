//! Pest's flat pieces to the tree: pairs up braces, attaches comments, recovers from a missing brace.
//!
//! Recovery, only in a text whose braces do not pair up: a word of the top level in column 1 ends all open
//! blocks. Between two such words, as many blocks are ended as braces are missing: one that began on its
//! header's line, at the end of that line; else, where the text is indented, the one that a line no deeper
//! than its header cannot belong to. Where there are more `}` than `{`, a line that the next one stands deeper
//! than opens a block all the same; any other `}` too many is dropped. Each is one finding, and the block
//! is marked damaged, so that later layers do not complain of entries that stand in the wrong place.

use std::ops::Range;

use pest::Parser;
use pest::iterators::Pair;

use crate::finding::{Finding, add};
use crate::source::{Source, Span, Spanned};

use super::ast::{Block, Comment, Entry, Item, Path, Tree, holds_tall, on_one_line};
use super::error::SyntaxError;
use super::expression::Reader;
use super::grammar::{Grammar, Rule};
use super::guard::{Look, Stretch};
use super::mistakes;
use super::names;
use super::unread::{heads, unread};

/// Builds the tree of a source whose brackets are not too deep.
pub(super) fn tree(source: &Source, look: Look, findings: &mut Vec<Finding>) -> Tree {
    let mut builder = Builder {
        source,
        findings,
        from: 0,
        next_stretch: 0,
        stretches: look.stretches,
        missing: 0,
        extra: 0,
        closings: 0,
        damaged: false,
        open: Vec::new(),
        items: Vec::new(),
        lines: 1,
        comma: false,
        line_start: 0,
    };
    let end = source.text.len();
    for to in look.cuts.into_iter().chain([end]) {
        builder.read(to);
    }
    let end = source.span(end..end);
    while !builder.open.is_empty() {
        builder.leave_open(end);
    }
    Tree {
        items: builder.items,
    }
}

/// A block that is open, and what its level held before.
struct Open {
    /// The entry that opened it; none for a brace without a header.
    header: Option<Entry>,
    /// Items of the level outside.
    outside: Vec<Item>,
    comment: Option<Comment>,
    brace: Span,
    inline: bool,
    /// Spaces before the line of its header.
    indent: usize,
}

struct Builder<'a> {
    source: &'a Source,
    findings: &'a mut Vec<Finding>,
    /// Where the text that the grammar is reading begins in the source.
    from: usize,
    /// Empty where all braces pair up.
    stretches: Vec<Stretch>,
    next_stretch: usize,
    /// Closing braces that are missing in this stretch, too many, and still to come.
    missing: usize,
    extra: usize,
    closings: usize,
    /// A brace was mended in the top-level block at hand.
    damaged: bool,
    open: Vec<Open>,
    items: Vec<Item>,
    /// Line ends since the last piece.
    lines: usize,
    /// A comma since the last entry.
    comma: bool,
    /// Where the current line starts.
    line_start: usize,
}

impl Builder<'_> {
    /// Reads on, to a place where the text can be cut.
    fn read(&mut self, to: usize) {
        let text = self.source.text.get(self.from..to).unwrap_or("");
        // The grammar takes any text; were it ever not to, the whole of it is one broken piece.
        match Grammar::parse(Rule::file, text) {
            Ok(pairs) => {
                for piece in pairs.flat_map(Pair::into_inner) {
                    self.piece(piece);
                }
            }
            Err(_) => {
                mistakes::explain(
                    self.source,
                    self.from,
                    text,
                    Rule::lone,
                    None,
                    self.findings,
                );
            }
        }
        self.from = to;
    }

    /// Where a pair stands in the source.
    fn range(&self, pair: &Pair<'_, Rule>) -> Range<usize> {
        let span = pair.as_span();
        self.from + span.start()..self.from + span.end()
    }

    fn piece(&mut self, pair: Pair<'_, Rule>) {
        let Range { start, end } = self.range(&pair);
        match pair.as_rule() {
            Rule::newline => {
                self.end_line(start);
                self.lines += 1;
                self.comma = false;
                self.line_start = end;
                if let Some(open) = self.open.last_mut() {
                    open.inline = false;
                }
            }
            Rule::comma => self.comma = true,
            Rule::comment => self.comment(pair.as_str(), start),
            Rule::close => self.close(start),
            Rule::entry => self.entry(pair, start),
            Rule::broken => self.broken(pair, start),
            _ => {}
        }
    }

    fn comment(&mut self, text: &str, start: usize) {
        let text = text.trim_end().to_owned();
        let span = self.source.span(start..start + text.len());
        let comment = Comment {
            text,
            spaced: self.lines > 1 && !self.items.is_empty(),
            span,
        };
        if self.lines == 0 {
            let slot = match (self.items.last_mut(), self.open.last_mut()) {
                (Some(Item::Entry(entry)), _) => Some(&mut entry.comment),
                (None, Some(open)) => Some(&mut open.comment),
                _ => None,
            };
            if let Some(slot @ None) = slot {
                *slot = Some(comment);
                return;
            }
        }
        self.items.push(Item::Comment(comment));
        self.lines = 0;
    }

    fn entry(&mut self, pair: Pair<'_, Rule>, start: usize) {
        let mut head = None;
        let mut values = Vec::new();
        let mut brace = None;
        let mut end = start;
        for part in pair.into_inner() {
            let range = self.range(&part);
            match part.as_rule() {
                Rule::head => {
                    end = range.end;
                    let place = self.source.span(range);
                    let name = names::name(part.as_str(), place, self.findings);
                    head = Some(Spanned::new(Path(name), place));
                }
                Rule::value => {
                    end = range.end;
                    let mut reader = Reader::new(self.source, self.from, self.findings);
                    values.extend(reader.value(part));
                }
                Rule::open => brace = Some(self.source.span(range)),
                _ => {}
            }
        }
        let word = head
            .as_ref()
            .and_then(|head: &Spanned<Path>| head.value.single())
            .unwrap_or("");
        self.recover(start, word);
        let entry = Entry {
            head,
            values,
            block: None,
            comment: None,
            joined: self.comma && self.lines == 0 && !self.items.is_empty(),
            spaced: self.lines > 1 && !self.items.is_empty(),
            span: self.source.span(start..end),
        };
        match brace {
            Some(brace) => self.enter(Some(entry), brace, start),
            None if self.lacks_brace(&entry, start, end) => {
                let at = entry.span.after();
                let header = self.source.slice(entry.span).to_owned();
                add(self.findings, SyntaxError::MissingBrace { at, header });
                self.extra = self.extra.saturating_sub(1);
                self.damaged = true;
                self.enter(Some(entry), at, start);
            }
            None => self.items.push(Item::Entry(entry)),
        }
        self.lines = 0;
        self.comma = false;
    }

    /// Whether an entry must have opened a block: a brace is too many behind it, and what follows stands deeper.
    fn lacks_brace(&self, entry: &Entry, start: usize, end: usize) -> bool {
        if self.extra == 0 || entry.head.is_none() || !self.starts_line(start) {
            return false;
        }
        let mut lines = self.source.text.get(end..).unwrap_or("").lines();
        let rest = lines.next().unwrap_or("").trim_start();
        if !(rest.is_empty() || rest.starts_with('#')) {
            return false;
        }
        let next = lines.find(|line| !line.trim().is_empty()).unwrap_or("");
        let deeper = next.len() - next.trim_start().len() > self.indent(start);
        let header = matches!(entry.head_name(), Some("band" | "variant"));
        deeper || self.open.is_empty() && header
    }

    /// Gives up the entries of a line that a stray brace ends, where they look like a block's on one line
    /// whose opening brace was forgotten (`profile domed edge 1.2 mm }`): nobody knows how they divide.
    fn give_up_line(&mut self) {
        let mut from = None;
        let mut several = false;
        for (place, item) in self.items.iter().enumerate().rev() {
            let Item::Entry(entry) = item else { break };
            if entry.block.is_some() {
                break;
            }
            several |= entry.values.len() > 1;
            from = Some(place);
            if !entry.joined {
                break;
            }
        }
        let Some(from) = from.filter(|_| several) else {
            return;
        };
        for item in self.items.iter_mut().skip(from) {
            if let Item::Entry(entry) = item {
                let text = self.source.slice(entry.span).to_owned();
                *item = Item::Broken(Spanned::new(text, entry.span));
            }
        }
    }

    /// Opens a block; what the level held so far is set aside.
    fn enter(&mut self, header: Option<Entry>, brace: Span, start: usize) {
        let indent = self.indent(start);
        let outside = std::mem::take(&mut self.items);
        self.open.push(Open {
            header,
            outside,
            comment: None,
            brace,
            inline: true,
            indent,
        });
        self.lines = 0;
    }

    fn close(&mut self, start: usize) {
        self.stretch(start);
        let at = self.source.span(start..start + 1);
        self.closings = self.closings.saturating_sub(1);
        if self.starts_line(start) {
            let indent = self.indent(start);
            while self.missing > 0
                && let [.., outer, inner] = &*self.open
                && indent < inner.indent
                && indent <= outer.indent
            {
                self.leave_open(at);
            }
        }
        let too_many = self.extra > 0 && self.open.len() == 1 && self.closings > 0;
        if self.open.is_empty() || too_many {
            self.extra = self.extra.saturating_sub(1);
            self.damaged = true;
            if self.lines == 0 {
                self.give_up_line();
            }
            add(self.findings, SyntaxError::StrayBrace { at });
        } else {
            self.leave(at);
        }
        self.lines = 0;
        self.comma = false;
    }

    /// Enters the stretch that a place lies in; what is still open cannot reach into it.
    fn stretch(&mut self, start: usize) {
        while let Some(stretch) = self.stretches.get(self.next_stretch).copied()
            && stretch.start <= start
        {
            let at = self.source.span(stretch.start..stretch.start + 1);
            while !self.open.is_empty() {
                self.leave_open(at);
            }
            self.missing = stretch.opened.saturating_sub(stretch.closed);
            self.extra = stretch.closed.saturating_sub(stretch.opened);
            self.closings = stretch.closed;
            self.next_stretch += 1;
        }
    }

    /// Ends a block that began on this line, where a brace is missing.
    fn end_line(&mut self, start: usize) {
        let began_here = self.open.last().is_some_and(|open| open.inline) && !self.items.is_empty();
        if self.missing > 0 && began_here {
            self.leave_open(self.source.span(start..start));
        }
    }

    /// Ends the innermost block and puts its entry where it belongs.
    fn leave(&mut self, end: Span) {
        let Some(open) = self.open.pop() else { return };
        let items = std::mem::replace(&mut self.items, open.outside);
        let damaged = self.damaged && self.open.is_empty();
        self.damaged &= !self.open.is_empty();
        let inline = open.inline && !holds_tall(&items);
        let block = Block {
            items: on_one_line(items, inline),
            comment: open.comment,
            inline,
            open: open.brace,
            damaged,
        };
        match open.header {
            Some(header) => {
                let span = header.span.to(end);
                self.items.push(Item::Entry(Entry {
                    block: Some(block),
                    span,
                    ..header
                }));
            }
            // A brace without a header was reported; its entries belong to the block around it.
            None => self.items.extend(block.items),
        }
    }

    /// Ends the innermost block although its brace is missing, and says so.
    fn leave_open(&mut self, ended: Span) {
        if let Some(open) = self.open.last() {
            let header = open.header.as_ref().map_or(open.brace, Entry::header_span);
            let header = self.source.slice(header).to_owned();
            add(
                self.findings,
                SyntaxError::OpenBlock {
                    open: open.brace,
                    ended,
                    header,
                },
            );
        }
        self.missing = self.missing.saturating_sub(1);
        self.damaged = true;
        self.leave(ended.before());
    }

    /// Ends the blocks that the entry at `start` cannot belong to.
    fn recover(&mut self, start: usize, word: &str) {
        self.stretch(start);
        let indented = self
            .next_stretch
            .checked_sub(1)
            .and_then(|place| self.stretches.get(place))
            .is_some_and(|stretch| stretch.indented);
        if self.missing == 0 || !indented || !self.starts_line(start) {
            return;
        }
        let indent = self.indent(start);
        let at = self.source.span(start..start + word.len().max(1));
        while self.missing > 0
            && let Some(open) = self.open.last()
            && open.indent > 0
            && indent <= open.indent
        {
            self.leave_open(at);
        }
    }

    fn broken(&mut self, pair: Pair<'_, Rule>, start: usize) {
        let mut junk = "";
        let mut brace = None;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::junk => {
                    junk = part
                        .as_str()
                        .trim_end_matches([' ', '\t', '\u{A0}', '\u{202F}']);
                }
                Rule::open => brace = Some(self.range(&part).start),
                _ => {}
            }
        }
        self.recover(start, junk.split_whitespace().next().unwrap_or(""));
        let span = self.source.span(start..start + junk.len());
        if !junk.is_empty() {
            let heads = heads(self.open.iter().filter_map(|open| open.header.as_ref()));
            let slip = mistakes::explain(
                self.source,
                start,
                junk,
                Rule::lone,
                Some(&heads),
                self.findings,
            );
            let entry = (slip && brace.is_none())
                .then(|| unread(self.source, junk, start, self.open.is_empty()))
                .flatten()
                .map(|entry| Entry {
                    joined: self.comma && self.lines == 0 && !self.items.is_empty(),
                    spaced: self.lines > 1 && !self.items.is_empty(),
                    ..entry
                });
            self.items.push(match entry {
                Some(entry) => Item::Entry(entry),
                None => Item::Broken(Spanned::new(junk.to_owned(), span)),
            });
        }
        if let Some(place) = brace {
            let brace = self.source.span(place..place + 1);
            let doubled = self.missing > 0 && self.lines == 0 && self.items.is_empty();
            if junk.is_empty() && doubled && !self.open.is_empty() {
                let help = "remove one of the two";
                self.missing -= 1;
                self.damaged = true;
                add(self.findings, SyntaxError::LoneBrace { at: brace, help });
            } else if junk.is_empty() {
                let help = "put it at the end of the line above";
                add(self.findings, SyntaxError::LoneBrace { at: brace, help });
                self.adopt(brace, start);
            } else {
                // Its entries go with the broken header: nobody knows what they would have meant.
                let header = Entry {
                    head: None,
                    values: Vec::new(),
                    block: None,
                    comment: None,
                    joined: false,
                    spaced: false,
                    span,
                };
                self.enter(Some(header), brace, start);
            }
        }
        self.lines = 0;
        self.comma = false;
    }

    /// Opens the block of a brace on its own line, for the entry above when that has none.
    fn adopt(&mut self, brace: Span, start: usize) {
        let header = match self.items.pop() {
            Some(Item::Entry(entry)) if entry.block.is_none() => Some(entry),
            other => {
                self.items.extend(other);
                None
            }
        };
        self.enter(header, brace, start);
    }

    /// Whether only spaces stand before a place on its line.
    fn starts_line(&self, start: usize) -> bool {
        self.source
            .text
            .get(self.line_start..start)
            .is_some_and(|before| before.trim_start_matches('\u{FEFF}').trim().is_empty())
    }

    /// Spaces at the start of the current line.
    fn indent(&self, start: usize) -> usize {
        let line = self.source.text.get(self.line_start..start).unwrap_or("");
        line.trim_start_matches('\u{FEFF}')
            .chars()
            .take_while(|c| c.is_whitespace())
            .count()
    }
}
