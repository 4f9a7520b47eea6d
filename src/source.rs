//! Where text came from: named sources and the spans that point into them.
//!
//! Every node, value and finding carries a [`Span`], so that any later layer can show the very
//! characters it speaks of. Input: text and its name. Output: line, column and the text itself.
//! This module does no input or output of its own; `cli` reads files and hands the text over.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::{Arc, OnceLock};

use unicode_width::UnicodeWidthChar;

/// Number of a source within one [`Sources`] table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SourceId(pub u32);

/// A stretch of text, in bytes, end excluded.
///
/// Positions count through all sources of a run one after the other, so that a span alone says which
/// source it lies in ([`Sources::holding`]).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// From the start of `self` to the end of `other`.
    #[must_use]
    pub fn to(self, other: Span) -> Self {
        Self {
            start: self.start,
            end: other.end.max(self.end),
        }
    }

    /// The empty span just before this one.
    #[must_use]
    pub fn before(self) -> Self {
        Self {
            start: self.start,
            end: self.start,
        }
    }

    /// The empty span just behind this one.
    #[must_use]
    pub fn after(self) -> Self {
        Self {
            start: self.end,
            end: self.end,
        }
    }
}

impl From<Span> for miette::SourceSpan {
    fn from(span: Span) -> Self {
        (
            span.start as usize,
            span.end.saturating_sub(span.start) as usize,
        )
            .into()
    }
}

/// A value and the text it was read from.
#[derive(Clone, Debug)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Its text.
    pub span: Span,
}

impl<T: PartialEq> PartialEq for Spanned<T> {
    /// Two spanned values are equal when their values are: layout does not count.
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T> Spanned<T> {
    /// Joins a value to its span.
    #[must_use]
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }
}

/// One text with its name.
#[derive(Clone, Debug)]
pub struct Source {
    /// How a finding names it: a file name as it was given, `<stdin>`, `--set`.
    pub name: Arc<str>,
    /// The whole text.
    pub text: Arc<str>,
    /// The same text as it may be shown: each unsafe character replaced by one of as many bytes, and a
    /// line end of old (a carriage return alone) by one of today.
    pub shown: Arc<str>,
    /// Where its first byte stands in the count through all sources.
    pub base: u32,
    /// The place of every so many bytes, counted when first asked for.
    marks: Arc<OnceLock<Vec<Mark>>>,
}

/// A byte and the place it stands at.
#[derive(Clone, Copy, Debug)]
struct Mark {
    byte: usize,
    place: Place,
}

/// Bytes between two marks.
const STRIDE: usize = 1024;

/// A place in a source as a person counts it, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Line.
    pub line: usize,
    /// Column in characters; a tab is one character.
    pub column: usize,
}

impl Source {
    /// The span of a stretch of this text.
    #[must_use]
    pub fn span(&self, range: Range<usize>) -> Span {
        let clamp = |place: usize| {
            self.base
                .saturating_add(u32::try_from(place).unwrap_or(u32::MAX))
        };
        Span {
            start: clamp(range.start),
            end: clamp(range.end),
        }
    }

    /// The stretch of this text that a span covers, in bytes from its own start.
    #[must_use]
    pub fn range(&self, span: Span) -> Range<usize> {
        span.start.saturating_sub(self.base) as usize..span.end.saturating_sub(self.base) as usize
    }

    /// What stands behind a byte as a source of its own, whose spans are those of the whole.
    #[must_use]
    pub fn behind(&self, byte: usize) -> Self {
        let of = |text: &str| Arc::from(text.get(byte..).unwrap_or_default());
        let text: Arc<str> = of(&self.text);
        Self {
            name: Arc::clone(&self.name),
            shown: match Arc::ptr_eq(&self.text, &self.shown) {
                true => Arc::clone(&text),
                false => of(&self.shown),
            },
            text,
            base: self.span(byte..byte).start,
            marks: Arc::default(),
        }
    }

    /// The text of a span, or nothing when the span does not lie on character borders.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(self.range(span)).unwrap_or("")
    }

    /// Line and column of the start of a span.
    ///
    /// # Example
    /// ```
    /// use annulet::source::Sources;
    /// let mut sources = Sources::default();
    /// let id = sources.add("r", "width\n\tß 5 mm");
    /// let source = sources.get(id).unwrap();
    /// let place = source.place(source.span(10..11));
    /// assert_eq!((place.line, place.column), (2, 4));
    /// ```
    #[must_use]
    pub fn place(&self, span: Span) -> Place {
        let wanted = self.range(span).start;
        let marks = self.marks.get_or_init(|| self.count());
        let before = marks.partition_point(|mark| mark.byte <= wanted);
        let mark = before.checked_sub(1).and_then(|index| marks.get(index));
        let Mark { byte, mut place } = mark.copied().unwrap_or(START);
        for (offset, c) in self.text.get(byte..).unwrap_or("").char_indices() {
            if byte + offset >= wanted {
                break;
            }
            place = place.behind(c, self.text.as_bytes().get(byte + offset + 1));
        }
        place
    }

    /// Counts places through the whole text.
    fn count(&self) -> Vec<Mark> {
        let (mut marks, mut place, mut next) = (vec![START], START.place, STRIDE);
        for (byte, c) in self.text.char_indices() {
            if byte >= next {
                marks.push(Mark { byte, place });
                next = byte + STRIDE;
            }
            place = place.behind(c, self.text.as_bytes().get(byte + 1));
        }
        marks
    }
}

/// The first byte.
const START: Mark = Mark {
    byte: 0,
    place: Place { line: 1, column: 1 },
};

impl Place {
    /// The place behind a character; the byte that follows it tells whether a carriage return ends a line.
    fn behind(self, c: char, follows: Option<&u8>) -> Self {
        match c {
            '\n' => Self {
                line: self.line + 1,
                column: 1,
            },
            '\r' if follows != Some(&b'\n') => Self {
                line: self.line + 1,
                column: 1,
            },
            BOM => self,
            _ => Self {
                column: self.column + 1,
                ..self
            },
        }
    }
}

/// The byte order mark, which some editors put before the first character; it fills no column.
const BOM: char = '\u{FEFF}';

/// All sources of one run.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    all: Vec<Source>,
}

impl Sources {
    /// Takes in one more text and gives its number.
    pub fn add(&mut self, name: &str, text: &str) -> SourceId {
        let id = SourceId(u32::try_from(self.all.len()).unwrap_or(u32::MAX));
        let base = self.all.last().map_or(0, |last| {
            last.span(0..last.text.len()).end.saturating_add(1)
        });
        let text: Arc<str> = text.into();
        let shown = replaced(&text).map_or_else(|| Arc::clone(&text), Into::into);
        self.all.push(Source {
            name: printable(name).into(),
            text,
            shown,
            base,
            marks: Arc::default(),
        });
        id
    }

    /// A source with another text in its place, the same up to a byte, at which a line begins; none where what stands
    /// before it is not shown as it is.
    #[must_use]
    pub fn changed_behind(&self, id: SourceId, text: &Arc<str>, byte: usize) -> Option<Source> {
        let known = self.get(id)?;
        let is_plain = Arc::ptr_eq(&known.text, &known.shown) && known.text.is_char_boundary(byte);
        let behind = text.get(byte..).filter(|_| is_plain)?;
        replaced(behind).is_none().then(|| Source {
            name: Arc::clone(&known.name),
            text: Arc::clone(text),
            shown: Arc::clone(text),
            base: known.base,
            marks: Arc::default(),
        })
    }

    /// Puts a source in the place of the one of that number, which nothing behind it points past.
    pub fn put(&mut self, id: SourceId, source: Source) {
        self.all.truncate(id.0 as usize);
        self.all.push(source);
    }

    /// Takes in a text that is shown as another of as many bytes, from which it was made.
    pub fn add_shown(&mut self, name: &str, text: &str, shown: &str) -> SourceId {
        let id = self.add(name, text);
        if let Some(source) = self.all.last_mut()
            && shown.len() == text.len()
        {
            source.shown = replaced(shown).unwrap_or_else(|| shown.to_owned()).into();
        }
        id
    }

    /// Takes in a text that may have been taken in before: the one before, so that what is found in it is found at
    /// one place; `nth` of those that read the same, from 0, where they are texts of their own.
    pub fn again(&mut self, name: &str, text: &str, nth: usize) -> SourceId {
        let printed = printable(name);
        let mut places = (0_u32..).zip(&self.all);
        let same = |source: &Source| *source.name == *printed && *source.text == *text;
        let known = places.by_ref().filter(|(_, source)| same(source)).nth(nth);
        match known {
            Some((place, _)) => SourceId(place),
            None => self.add(name, text),
        }
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.all.len()
    }

    /// Forgets all sources behind the first `count`: texts that nothing points into any more.
    pub fn forget_behind(&mut self, count: usize) {
        self.all.truncate(count);
    }

    /// The source of that number.
    #[must_use]
    pub fn get(&self, id: SourceId) -> Option<&Source> {
        self.all.get(id.0 as usize)
    }

    /// The first source of a name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Source> {
        self.all.iter().find(|source| *source.name == *name)
    }

    /// The source that a span lies in.
    #[must_use]
    pub fn holding(&self, span: Span) -> Option<&Source> {
        let behind = self.all.partition_point(|source| source.base <= span.start);
        self.all.get(behind.checked_sub(1)?)
    }

    /// The text of a span.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.holding(span).map_or("", |source| source.slice(span))
    }

    /// `name:line:column` of the start of a span.
    #[must_use]
    pub fn locate(&self, span: Span) -> String {
        self.holding(span).map_or_else(String::new, |source| {
            let place = source.place(span);
            format!("{}:{}:{}", source.name, place.line, place.column)
        })
    }
}

/// Text made safe for a terminal: control characters are shown as their code point.
///
/// # Example
/// ```
/// assert_eq!(annulet::source::printable("a\u{1b}[2J"), "a\u{FFFD}[2J");
/// ```
#[must_use]
pub fn printable(text: &str) -> String {
    text.chars()
        .map(|c| if is_safe(c) { c } else { '\u{FFFD}' })
        .collect()
}

/// The same for a text of several lines: its line ends stay.
///
/// # Example
/// ```
/// assert_eq!(annulet::source::safe_lines("a\u{9b}2J\nb\rc\r\n"), "a\u{FFFD}2J\nb\u{FFFD}c\r\n");
/// ```
#[must_use]
pub fn safe_lines(text: &str) -> Cow<'_, str> {
    let ends_line = |place: usize, c: char| {
        c == '\n' || (c == '\r' && text.as_bytes().get(place + 1) == Some(&b'\n'))
    };
    let mut all = text.char_indices();
    if all.all(|(place, c)| is_safe(c) || ends_line(place, c)) {
        return Cow::Borrowed(text);
    }
    let kept = |(place, c): (usize, char)| {
        if is_safe(c) || ends_line(place, c) {
            c
        } else {
            '\u{FFFD}'
        }
    };
    Cow::Owned(text.char_indices().map(kept).collect())
}

/// Whether a character takes no place of its own, or ends a line unseen: two texts that look alike may differ by it.
/// What joins letters or chooses how one is drawn (U+200C, U+200D, variation selectors) is writing, and none of these.
#[must_use]
pub fn is_unseen(c: char) -> bool {
    matches!(c,
        '\u{AD}' | '\u{34F}' | '\u{115F}' | '\u{1160}' | '\u{180E}' | '\u{200B}' | '\u{2028}' | '\u{2029}'
        | '\u{2060}'..='\u{2065}' | '\u{206A}'..='\u{206F}' | '\u{3164}' | '\u{FEFF}' | '\u{FFA0}'
        | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E007F}')
}

/// Whether a character may reach a terminal: no control, no bidirectional mark or override, nothing unseen.
#[must_use]
pub fn is_safe(c: char) -> bool {
    let overrides = matches!(c,
        '\u{61C}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}');
    (!c.is_control() || c == '\t') && !overrides && !is_unseen(c)
}

/// A text with every unsafe character replaced by one of the same length in bytes; none when all are safe.
fn replaced(text: &str) -> Option<String> {
    let is_plain = |byte: u8| matches!(byte, b' '..=b'~' | b'\n' | b'\t');
    if text.bytes().all(is_plain) {
        return None;
    }
    let safe =
        |place: usize, c: char| is_safe(c) || c == '\n' || c == '\r' || (c == BOM && place == 0);
    let lone = |place: usize| text.as_bytes().get(place + 1) != Some(&b'\n');
    if text
        .char_indices()
        .all(|(place, c)| safe(place, c) && (c != '\r' || !lone(place)))
    {
        return None;
    }
    let replace = |(place, c): (usize, char)| match (safe(place, c), c.len_utf8()) {
        (true, _) if c == '\r' && lone(place) => '\n',
        (true, _) => c,
        (false, 1) => '?',
        (false, 2) => '\u{BF}',
        (false, 3) => '\u{FFFD}',
        (false, _) => '\u{1F78E}',
    };
    Some(text.char_indices().map(replace).collect())
}

/// How many bytes at the start of two texts are the same.
///
/// # Example
/// ```
/// assert_eq!(annulet::source::alike_ahead("band a", "band b"), 5);
/// ```
#[must_use]
pub fn alike_ahead(one: &str, other: &str) -> usize {
    // Whole stretches are compared far quicker than bytes.
    const STRETCH: usize = 256;
    let stretches = one
        .as_bytes()
        .chunks(STRETCH)
        .zip(other.as_bytes().chunks(STRETCH));
    let mut ahead = 0;
    for (one, other) in stretches {
        if one == other {
            ahead += one.len();
            continue;
        }
        let same = one
            .iter()
            .zip(other)
            .take_while(|(one, other)| one == other);
        return ahead + same.count();
    }
    ahead
}

/// Width of a text on a terminal, in cells.
#[must_use]
pub fn cells(text: &str) -> usize {
    text.chars().map(|c| c.width().unwrap_or(0)).sum()
}
