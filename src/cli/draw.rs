//! Findings drawn for people: the lines of the recipe, carets under what is meant, help.

use annotate_snippets::{
    Annotation, AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet,
};

use crate::finding::{Finding, Weight};
use crate::report::wrapped;
use crate::source::{Source, Sources, Span};

/// How many characters of a line are drawn before and behind a label; who wrote a megabyte into one line knows
/// what it says.
const LONGEST: usize = 300;

/// How many characters of a message or a help are drawn: more than any has that repeats no such line.
const LONGEST_TEXT: usize = 2000;

/// How many characters of a recipe are drawn in one piece.
const LARGEST: usize = 20 * LONGEST;

/// Draws one finding.
pub(super) fn draw(finding: &Finding, sources: &Sources, color: bool, width: usize) -> String {
    let (level, word) = match finding.weight() {
        Weight::Wrong => (Level::ERROR, "error"),
        Weight::Short => (Level::WARNING, "warning"),
        Weight::Note => (Level::NOTE, "note"),
    };
    let message = fitted(&finding.message(), width, word.len() + ": ".len());
    let title = level.primary_title(message);
    let mut group = Group::with_title(title);
    let labels = finding.labels();
    for (source, own) in by_source(&labels, sources) {
        group = group.elements(shown(source, &own));
    }
    if let Some(help) = finding.help() {
        let help = fitted(&help, width, "   = help: ".len());
        group = group.element(Level::HELP.message(help));
    }
    format!("{}\n{}", finding.code(), rendered(&[group], color, width))
}

/// What is drawn of some groups.
pub(super) fn rendered(groups: &[Group<'_>], color: bool, width: usize) -> String {
    let renderer = if color {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let text = renderer.term_width(width).render(groups);
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    lines.join("\n") + "\n"
}

/// A label: where, what it says, and whether it is the one that the finding is of.
type Label<'l> = (Span, &'l str, bool);

/// The labels by the source that they lie in, in the order of the first of each.
fn by_source<'s, 'l>(
    labels: &'l [(Span, String)],
    sources: &'s Sources,
) -> Vec<(&'s Source, Vec<Label<'l>>)> {
    let mut found: Vec<(&Source, Vec<Label<'_>>)> = Vec::new();
    for (place, (span, text)) in labels.iter().enumerate() {
        let Some(source) = sources.holding(*span) else {
            continue;
        };
        let label = (*span, text.as_str(), place == 0);
        match found
            .iter_mut()
            .find(|(known, _)| known.base == source.base)
        {
            Some((_, own)) => own.push(label),
            None => found.push((source, vec![label])),
        }
    }
    found
}

/// The lines of one source under its labels.
fn shown<'s>(source: &'s Source, labels: &[Label<'s>]) -> Vec<Element<'s>> {
    let starts = labels.iter().map(|(span, ..)| line_of(source, *span).0);
    let ends = labels.iter().map(|(span, ..)| line_of(source, *span).1);
    let (from, to) = (starts.min().unwrap_or(0), ends.max().unwrap_or(0));
    if to - from <= LARGEST {
        let text = source.shown.get(from..to).unwrap_or("");
        let first = source.place(source.span(from..from)).line;
        let snippet = Snippet::source(text).line_start(first).path(&*source.name);
        let marks = labels
            .iter()
            .map(|label| mark(source, label, from, text.len()));
        return vec![snippet.annotations(marks).into()];
    }
    labels
        .iter()
        .flat_map(|label| {
            let place = source.place(label.0);
            let (from, to) = clipped_line(source, label.0);
            let text = source.shown.get(from..to).unwrap_or("");
            let origin = Origin::path(&*source.name)
                .line(place.line)
                .char_column(place.column);
            let snippet = Snippet::source(text).line_start(place.line);
            let snippet = snippet.annotation(mark(source, label, from, text.len()));
            [Element::from(origin), snippet.into()]
        })
        .collect()
}

fn mark<'s>(source: &Source, label: &Label<'s>, from: usize, length: usize) -> Annotation<'s> {
    let (span, text, is_main) = label;
    let range = source.range(*span);
    let place = |at: usize| at.saturating_sub(from).min(length);
    let kind = match is_main {
        true => AnnotationKind::Primary,
        false => AnnotationKind::Context,
    };
    let mark = kind.span(place(range.start)..place(range.end));
    match text.is_empty() {
        true => mark,
        false => mark.label(*text),
    }
}

/// Where the whole lines under a span begin and end.
fn line_of(source: &Source, span: Span) -> (usize, usize) {
    let text = &source.shown;
    let range = source.range(span);
    let start = text
        .get(..range.start)
        .and_then(|before| before.rfind('\n'));
    let end = text.get(range.end..).and_then(|behind| behind.find('\n'));
    (
        start.map_or(0, |place| place + 1),
        end.map_or(text.len(), |place| range.end + place),
    )
}

/// The part of a line round a span that a person looks at.
fn clipped_line(source: &Source, span: Span) -> (usize, usize) {
    let (start, end) = line_of(source, span);
    let range = source.range(span);
    let border = |place: &usize| source.shown.is_char_boundary(*place);
    let from = start.max(range.start.saturating_sub(LONGEST));
    let to = end.min(range.start + LONGEST);
    (
        (from..=range.start).find(border).unwrap_or(range.start),
        (range.start..=to).rfind(border).unwrap_or(range.start),
    )
}

/// A text between words no wider than what is left of a line, and no longer than anyone reads.
fn fitted(text: &str, width: usize, before: usize) -> String {
    let text = match text.char_indices().nth(LONGEST_TEXT) {
        Some((place, _)) => format!("{}\u{2026}", text.get(..place).unwrap_or("")),
        None => text.to_owned(),
    };
    wrapped(&text, width.saturating_sub(before).max(20)).join("\n")
}
