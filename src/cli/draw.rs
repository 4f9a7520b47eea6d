//! Findings drawn for people, by miette: source line, caret, help.

use std::fmt;

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError,
    MietteSpanContents, Severity, SourceCode, SourceSpan, SpanContents,
};

use crate::finding::Finding;
use crate::source::{Sources, Span, printable};

/// Draws one finding.
pub(super) fn draw(finding: &Finding, sources: &Sources, color: bool, width: usize) -> String {
    let theme = if color {
        GraphicalTheme::unicode()
    } else {
        GraphicalTheme::unicode_nocolor()
    };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(width)
        .with_links(false)
        .with_context_lines(0);
    let mut text = String::new();
    let located = Located { finding, sources };
    match handler.render_report(&mut text, &located) {
        Ok(()) => text,
        Err(_) => format!("{}: {}\n", finding.code(), finding.message()),
    }
}

/// A finding with the texts that its spans lie in.
struct Located<'a> {
    finding: &'a Finding,
    sources: &'a Sources,
}

impl fmt::Debug for Located<'_> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.finding, formatter)
    }
}

impl fmt::Display for Located<'_> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&clipped(self.finding.message()))
    }
}

impl std::error::Error for Located<'_> {}

impl Diagnostic for Located<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.finding.problem().code()
    }

    fn severity(&self) -> Option<Severity> {
        self.finding.problem().severity()
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let help = clipped(self.finding.help()?);
        Some(Box::new(help))
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let labels = self.finding.problem().labels()?;
        Some(Box::new(labels.map(|label| self.clipped_label(label))))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(self)
    }
}

impl Located<'_> {
    /// A label under no more text than a person looks at.
    fn clipped_label(&self, label: LabeledSpan) -> LabeledSpan {
        let clamp = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
        let span = Span {
            start: clamp(label.offset()),
            end: clamp(label.offset() + label.len()),
        };
        let length = match self.sources.slice(span).char_indices().nth(LONGEST) {
            Some((place, _)) => place,
            None => label.len(),
        };
        LabeledSpan::new(label.label().map(printable), label.offset(), length)
    }
}

/// How many characters of a line are drawn before and under a label; who wrote a megabyte into one line knows
/// what it says.
const LONGEST: usize = 300;

/// How many characters of a message or a help are drawn: more than any has that repeats no such line.
const LONGEST_TEXT: usize = 2000;

/// A text with its end cut off where it is longer than anyone reads.
fn clipped(text: String) -> String {
    match text.char_indices().nth(LONGEST_TEXT) {
        Some((place, _)) => format!("{}…", text.get(..place).unwrap_or("")),
        None => text,
    }
}

impl SourceCode for Located<'_> {
    /// The lines around a span, from the source that holds it, without what could upset a terminal.
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let clamp = |place: usize| u32::try_from(place).unwrap_or(u32::MAX);
        let wanted = Span {
            start: clamp(span.offset()),
            end: clamp(span.offset() + span.len()),
        };
        let source = self
            .sources
            .holding(wanted)
            .ok_or(MietteError::OutOfBounds)?;
        let text: &'a str = &source.shown;
        let range = source.range(wanted);
        // Two labels in two files have no lines in common.
        if range.end > text.len() {
            return Err(MietteError::OutOfBounds);
        }
        // Whole lines, and no more of them than the span touches; of very long lines the part around it.
        let start = text
            .get(..range.start)
            .and_then(|before| before.rfind('\n'))
            .map_or(0, |place| place + 1);
        let end = text
            .get(range.end..)
            .and_then(|after| after.find('\n'))
            .map_or(text.len(), |length| range.end + length);
        let border = |place: &usize| text.is_char_boundary(*place);
        let start = (start.max(range.start.saturating_sub(LONGEST))..=range.start)
            .find(border)
            .unwrap_or(start);
        let end = (range.end..=end.min(range.end + LONGEST))
            .rfind(border)
            .unwrap_or(end);
        let local = SourceSpan::new(start.into(), end.saturating_sub(start));
        let contents = text.read_span(&local, before, after)?;
        let column = source.place(wanted).column.saturating_sub(1);
        let moved = SourceSpan::new(
            (contents.span().offset() + source.base as usize).into(),
            contents.span().len(),
        );
        Ok(Box::new(MietteSpanContents::new_named(
            source.name.to_string(),
            contents.data(),
            moved,
            contents.line(),
            column,
            contents.line_count(),
        )))
    }
}
