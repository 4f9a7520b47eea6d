//! What is looked at before the grammar reads a text: size, depth of brackets, control characters.
//!
//! The grammar's rules for brackets call themselves, so their depth is bounded here, once, for any
//! input; braces are counted on the way, to know whether one is missing or too many.

use crate::finding::{Finding, add};
use crate::source::{Source, is_safe};

use super::characters::character;
use super::error::SyntaxError;

/// Words that begin a block or a statement at the top level; in column 1 they end what was left open.
pub const TOP_WORDS: &[&str] = &[
    "annulet", "use", "let", "alloy", "profile", "cutter", "band", "variant", "require", "rules",
    "prices", "shop", "stock", "order", "weighed", "made",
];

/// The largest source that is read, in bytes. A recipe of 5,000 lines holds about 150 kB; junk of this size is
/// still answered within seconds.
pub const LARGEST: usize = 1024 * 1024;

/// The greatest depth of brackets, and of blocks.
pub const DEEPEST: usize = 48;

/// The most operators that one expression joins, and the depth of operands in each other that later
/// layers, which go down into them, can rely on.
pub const LONGEST: usize = 64;

/// What the first look found.
pub struct Look {
    /// The grammar may read the text.
    pub readable: bool,
    /// Stretches from one top-level word in column 1 to the next, in a text whose braces do not pair up;
    /// empty where they do.
    pub stretches: Vec<Stretch>,
    /// Starts of lines before which the text can be cut: nothing reaches from the lines before into those behind.
    pub cuts: Vec<usize>,
}

/// Bytes that the grammar reads in one go, at least: what it notes of them is a hundred times as large.
const AT_ONCE: usize = 4096;

/// A stretch of the top level, and how its braces fail.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stretch {
    /// Where it starts.
    pub start: usize,
    /// Opening braces.
    pub opened: usize,
    /// Closing braces.
    pub closed: usize,
    /// Every block's first line stands deeper than the line of its header.
    pub indented: bool,
}

/// Takes a first look at a text.
pub fn look(source: &Source, findings: &mut Vec<Finding>) -> Look {
    if source.text.len() > LARGEST {
        let at = source.span(0..0);
        add(
            findings,
            SyntaxError::TooLarge {
                at,
                bytes: source.text.len(),
                limit: LARGEST,
            },
        );
        return Look {
            readable: false,
            stretches: Vec::new(),
            cuts: Vec::new(),
        };
    }
    let mut scan = Scan::default();
    let mut stretches = vec![Stretch {
        indented: true,
        ..Stretch::default()
    }];
    let mut outer = None;
    let mut cuts: Vec<usize> = Vec::new();
    let mut start = 0;
    let mut lines = source.text.split_inclusive(['\n', '\r']).peekable();
    while let Some(line) = lines.next() {
        let holds = lines
            .peek()
            .is_some_and(|next| next.starts_with([' ', '\t']) && !next.trim().is_empty());
        if start > 0 && begins_stretch(line, holds) {
            stretches.push(Stretch {
                start,
                indented: true,
                ..Stretch::default()
            });
            outer = None;
        }
        let (opened, closed) = scan.line(line, start);
        if let Some(stretch) = stretches.last_mut() {
            stretch.opened += opened;
            stretch.closed += closed;
            let inner = line.trim_start();
            let indent = line.len() - inner.len();
            if !inner.is_empty() {
                stretch.indented &=
                    outer.is_none_or(|outer| indent > outer || inner.starts_with('}'));
                outer = (opened > closed && inner.trim_end().ends_with('{')).then_some(indent);
            }
        }
        start += line.len();
        // Only a list in square brackets runs over lines; and a mark of byte order counts at the start alone.
        let since = start - cuts.last().copied().unwrap_or(0);
        let mut marked = || {
            lines
                .peek()
                .is_some_and(|next| next.starts_with('\u{FEFF}'))
        };
        if since >= AT_ONCE && line.ends_with('\n') && scan.square == 0 && !marked() {
            cuts.push(start);
        }
    }
    let suspect = if source.text == source.shown {
        ""
    } else {
        &source.text
    };
    for (place, c) in suspect.char_indices() {
        if !is_safe(c) && c != '\n' && c != '\r' && (place, c) != (0, '\u{FEFF}') {
            add(
                findings,
                character(source.span(place..place + c.len_utf8()), c),
            );
        }
    }
    if let Some(place) = scan.deep {
        add(
            findings,
            SyntaxError::TooDeep {
                at: source.span(place..place + 1),
                limit: DEEPEST,
            },
        );
    }
    if scan.braces == 0 && !scan.early {
        stretches.clear();
    }
    Look {
        readable: scan.deep.is_none(),
        stretches,
        cuts,
    }
}

/// Whether a line begins something new at the top level: a word of the top level in column 1, with its
/// block or with what it says (an unindented `alloy sterling` is a field of the band above). Where the next
/// line is indented it is a header whose brace was forgotten; a band's word is one anyhow.
fn begins_stretch(line: &str, holds: bool) -> bool {
    let word = line
        .split(|c: char| !c.is_alphanumeric())
        .next()
        .unwrap_or("");
    let says = matches!(
        word,
        "let" | "use" | "require" | "annulet" | "band" | "variant"
    );
    TOP_WORDS.contains(&word) && (says || holds || line.contains('{'))
}

/// How many braces a text leaves open; those between quotes and in comments count for nothing.
pub fn braces(text: &str) -> isize {
    let mut scan = Scan::default();
    for line in text.split_inclusive(['\n', '\r']) {
        scan.line(line, 0);
    }
    scan.braces
}

/// Depths while going through the lines.
#[derive(Default)]
struct Scan {
    round: usize,
    square: usize,
    braces: isize,
    early: bool,
    deep: Option<usize>,
}

impl Scan {
    /// One line; how many braces it opens and closes. Text between quotes and comments count for nothing; behind an unpaired quote everything counts.
    fn line(&mut self, line: &str, start: usize) -> (usize, usize) {
        let (mut opened, mut closed) = (0, 0);
        self.round = 0;
        let (mut behind, mut paired) = (0, true);
        for (place, c) in line.char_indices() {
            if place < behind {
                continue;
            }
            match c {
                '#' => break,
                '"' if paired => match line.get(place + 1..).and_then(closing_quote) {
                    Some(length) => behind = place + 1 + length + 1,
                    None => paired = false,
                },
                '(' => self.round += 1,
                ')' => self.round = self.round.saturating_sub(1),
                '[' => self.square += 1,
                ']' => self.square = self.square.saturating_sub(1),
                '{' => {
                    self.braces += 1;
                    opened += 1;
                    self.square = 0;
                }
                '}' => {
                    self.braces -= 1;
                    closed += 1;
                    self.early |= self.braces < 0;
                    self.square = 0;
                }
                _ => {}
            }
            let deep = self.round + self.square > DEEPEST || self.braces > DEEPEST as isize;
            if deep && self.deep.is_none() {
                self.deep = Some(start + place);
            }
        }
        (opened, closed)
    }
}

/// Where the text that starts behind an opening quote ends, if it does on this line.
pub(super) fn closing_quote(text: &str) -> Option<usize> {
    let mut escaped = false;
    for (place, c) in text.char_indices() {
        match c {
            '"' if !escaped => return Some(place),
            '\n' | '\r' => return None,
            '\\' => escaped = !escaped,
            _ => escaped = false,
        }
    }
    None
}
