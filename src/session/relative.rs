//! Relative overrides (`shell + 0.05 mm`) to the absolute line that they stand for.
//!
//! Input: a line and what the recipe comes to without it. Output: the line that a person would have written
//! instead; what it comes to is worked out in `stepped`.

use crate::finding::{Finding, Weight};
use crate::model::{FieldValue, Holder, ModelError, alloy_field, check};
use crate::quantity::Length;
use crate::schema::{self, BlockId, FieldId, Takes};
use crate::source::{SourceId, Span};
use crate::syntax;
use crate::syntax::ast;

use super::error::SessionError;
use super::holders::find_holder;
use super::stepped::{From, Sum};
use super::{Outcome, Prepared, Request, Session, Typed};

/// A path and its step, as they stand in the text of an entry.
struct Step<'a> {
    path: &'a str,
    sign: char,
    /// Where the sign stands.
    at: usize,
}

/// The signs of a step.
pub(super) const SIGNS: [char; 5] = ['+', '-', '*', '/', '\u{D7}'];

/// A step as a text of its own, and where its sign stands in there.
struct Placed {
    source: SourceId,
    sign: std::ops::Range<usize>,
}

/// Whether a line holds a relative override.
#[must_use]
pub fn is_relative(line: &str) -> bool {
    pieces(line).iter().any(|piece| step(piece).is_some())
}

impl Session {
    /// The absolute line that a relative one stands for; what is wrong is found where it was `typed`.
    ///
    /// # Errors
    /// What is wrong with it: a path that nobody knows, a value that is not there, a step of another kind.
    pub fn absolute(
        &mut self,
        line: &str,
        typed: &Typed,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
    ) -> Result<String, Vec<Finding>> {
        let mut pieces_out = Vec::new();
        let mut start = 0;
        for piece in pieces(line) {
            pieces_out.push(match step(piece) {
                Some(step) => {
                    let placed = self.placed(line, start, piece, &step, typed);
                    self.stepped(&placed, &step, prepared, request, outcome)?
                }
                None => piece.trim().to_owned(),
            });
            // The comma or the line end that parts it from the next.
            start += piece.len() + 1;
        }
        Ok(pieces_out.join(", "))
    }

    /// One step of a line as a text of its own, in which all stands where it stands in the line. The sign is
    /// left out, so that the rest reads as a field with a value.
    fn placed(
        &mut self,
        line: &str,
        start: usize,
        piece: &str,
        step: &Step<'_>,
        typed: &Typed,
    ) -> Placed {
        let blank = |text: &str| -> String {
            let space = |c: char| {
                if c == '\n' {
                    "\n".to_owned()
                } else {
                    " ".repeat(c.len_utf8())
                }
            };
            text.chars().map(space).collect()
        };
        let sign = blank(&step.sign.to_string());
        let behind = step.at + step.sign.len_utf8();
        let unsigned = [
            piece.get(..step.at).unwrap_or(""),
            &sign,
            piece.get(behind..).unwrap_or(""),
        ];
        let before = blank(line.get(..start).unwrap_or(""));
        let after = blank(line.get(start + piece.len()..).unwrap_or(""));
        let text = before + &unsigned.concat() + &after;
        let shown = typed.placed(line);
        let id = self
            .sources
            .add_shown(&typed.name, &typed.placed(&text), &shown);
        let sign = start + step.at + (shown.len() - line.len());
        Placed {
            source: id,
            sign: sign..sign + step.sign.len_utf8(),
        }
    }

    fn stepped(
        &mut self,
        placed: &Placed,
        step: &Step<'_>,
        prepared: &Prepared,
        request: &Request,
        outcome: &Outcome,
    ) -> Result<String, Vec<Finding>> {
        let mut findings = Vec::new();
        let Some(source) = self.sources.get(placed.source) else {
            return Err(findings);
        };
        let sign = source.span(placed.sign.clone());
        let parsed = syntax::parse(source);
        if !parsed.findings.is_empty() {
            return Err(parsed.findings);
        }
        let Some(entry) = ast::entries(&parsed.value.items).next() else {
            return Err(findings);
        };
        let names = prepared.names();
        let chosen = request.band.as_deref();
        let Some((holder, path)) = names.place(entry, chosen, &mut findings) else {
            return Err(findings);
        };
        let current = match &holder {
            Holder::Block(..) => self
                .in_block(&holder, &path, prepared, request)
                .or_else(|| self.measured(&holder, &path, outcome))
                .or_else(|| setting(&holder, &path, outcome)),
            _ => self.current(&holder, &path, outcome),
        };
        let Some(current) = current else {
            let name = match holder.path() {
                of if of.is_empty() => path.clone(),
                of => format!("{of}.{path}"),
            };
            let field = schema::find(&path);
            let example = field.map_or_else(|| format!("{} 0.1 mm", step.path), schema::example);
            let wrong = |finding: &Finding| finding.weight() == Weight::Wrong;
            let problem = SessionError::NothingToStepFrom {
                at: entry.head_span(),
                name,
                label: if outcome.findings.iter().any(wrong) {
                    "not known while the recipe has mistakes"
                } else {
                    "the recipe does not state it"
                },
                example,
            };
            return Err(vec![problem.into()]);
        };
        let [amount] = entry.values.as_slice() else {
            return Err(vec![one_amount(entry, sign, step).into()]);
        };
        let band = match &holder {
            Holder::Band(band) => Some(band.clone()),
            Holder::Block(word, Some(band)) if BlockId::of_ring(word).is_some() => {
                Some(band.clone())
            }
            _ => None,
        };
        let of = takes(&holder, &path);
        if matches!(
            of,
            Takes::Word(_) | Takes::Profile | Takes::Alloy | Takes::Temper | Takes::Text
        ) {
            let at = entry.head_span().to(amount.span);
            let problem = ModelError::NoResult {
                at,
                message: "a word has no steps",
                help: "write the word that is to stand there, as in `temper hard`",
            };
            return Err(vec![problem.into()]);
        }
        let from = From {
            text: &current,
            takes: takes(&holder, &path),
            path: step.path,
            band,
        };
        let written = |at: Span| self.sources.slice(at).to_owned();
        let sum = Sum {
            head: entry.head_span(),
            sign: step.sign,
            sign_at: sign,
            amount,
            text: written(amount.span),
        };
        let block = entry.block.as_ref().map_or_else(String::new, |block| {
            let start = block.open.start;
            format!(
                " {}",
                written(Span {
                    start,
                    ..entry.span
                })
            )
        });
        let text = self.sum(&from, &sum, outcome)?;
        Ok(format!("{} {text}{block}", step.path))
    }

    /// The text of a band's value or of a `let` as it is written, or as a recipe would write it.
    fn current(&self, holder: &Holder, path: &str, outcome: &Outcome) -> Option<String> {
        let written = |place: Option<&Span>| {
            let text = self.sources.slice(*place?).trim();
            let (_, rest) = text.split_once(char::is_whitespace)?;
            Some(rest.trim().to_owned())
        };
        let Holder::Band(band) = holder else {
            let one = outcome.recipe.lets.iter().find(|one| one.name == path)?;
            // `let cut = 0.30 mm`, or `cut 0.25 mm` where it was laid over.
            let text = written(one.places.last())?;
            return Some(match text.split_once('=') {
                Some((name, value)) if name.trim() == path => value.trim().to_owned(),
                _ => text,
            });
        };
        let mut bands = outcome.recipe.bands.iter();
        let band = bands.find(|known| known.name == *band)?;
        let stated = schema::find(path).and_then(|field| band.field(field.id));
        let Some(field) = stated.or_else(|| band.cut_value(path)) else {
            // Where `outside` is written, the thickness follows from it.
            let thickness = (path == FieldId::Thickness.path())
                .then(|| band.thickness())
                .flatten()
                .map(Length::value);
            if schema::find(path).is_some_and(|field| field.takes == Takes::Steps) {
                return Some("0".to_owned());
            }
            return thickness.map(|mm| format!("{} mm", mm.normalize()));
        };
        let FieldValue { places, value, .. } = field;
        written(places.last()).or_else(|| Some(check::shown(value)))
    }

    /// The text of what was measured of a ring that the band itself states.
    fn measured(&self, holder: &Holder, path: &str, outcome: &Outcome) -> Option<String> {
        let Holder::Block(word, Some(band)) = holder else {
            return None;
        };
        let word = BlockId::of_ring(word)?;
        let holder = Holder::Band(band.clone());
        self.current(&holder, &format!("{word}.{path}"), outcome)
    }

    /// The text of a value of a block that is no band: as it is laid over last, or as it is written.
    fn in_block(
        &mut self,
        holder: &Holder,
        path: &str,
        prepared: &Prepared,
        request: &Request,
    ) -> Option<String> {
        // What is wrong with earlier overrides was said when they were laid.
        let layers = self.overrides(prepared, request, &mut Vec::new());
        let laid = layers.iter().rev().filter(|layer| layer.holder == *holder);
        let trees = prepared.trees().iter();
        let written = trees.filter_map(|tree| find_holder(tree, holder)?.block.as_ref());
        let mut all = laid
            .map(|layer| &layer.items)
            .chain(written.map(|block| &block.items));
        let span = all.find_map(|items| said_at(items, path, holder))?;
        Some(self.sources.slice(span).to_owned())
    }
}

/// Where the values of an entry stand, by its path in some items.
fn said_at(items: &[ast::Item], path: &str, holder: &Holder) -> Option<Span> {
    let (first, mut rest) = path
        .split_once('.')
        .map_or((path, None), |(first, rest)| (first, Some(rest)));
    let mut name = None;
    if let Some(named) = rest.filter(|_| holder.tells_apart(path)) {
        let (own, behind) = named.split_once('.')?;
        (name, rest) = (Some(own), Some(behind));
    }
    let mut entries: Vec<&ast::Entry> = ast::entries(items).collect();
    entries.reverse();
    let mut found = entries.into_iter().filter(|entry| {
        let of_name = || ast::entry_name(&entry.values).as_deref() == name;
        // A drawn cut may stand without a name.
        let any = name.is_none() && (rest.is_none() || !holder.tells_apart(first));
        entry.head_name() == Some(first) && (any || of_name())
    });
    match rest {
        Some(rest) => found.find_map(|entry| said_at(&entry.block.as_ref()?.items, rest, holder)),
        None => {
            found.find_map(|entry| Some(entry.values.first()?.span.to(entry.values.last()?.span)))
        }
    }
}

/// A value of `prices` or `shop` that only its default gives.
fn setting(holder: &Holder, path: &str, outcome: &Outcome) -> Option<String> {
    let path = format!("{}.{path}", holder.path());
    let said = &outcome.recipe.money.as_ref()?.said;
    Some(check::shown(&said.setting(&path)?.value.value))
}

/// A step has one amount.
fn one_amount(entry: &ast::Entry, sign: Span, step: &Step<'_>) -> ModelError {
    let (at, label) = match entry.values.get(1) {
        Some(second) => (second.span, "one too many"),
        None => (sign, "an amount is missing"),
    };
    ModelError::ValueCount {
        at,
        field: step.path.to_owned(),
        wanted: "one amount after the sign of a step".to_owned(),
        label,
        help: format!("as in `{} {} 0.1 mm`", step.path, step.sign),
    }
}

/// What the value that is stepped from takes; nothing where no table knows.
fn takes(holder: &Holder, path: &str) -> Takes {
    let field = match holder {
        Holder::Lets => None,
        Holder::Band(_) => schema::find(path).or_else(|| schema::named_cut(path)),
        Holder::Block("alloy", _) => Some(alloy_field(path)),
        Holder::Block(word, _) => {
            schema::BlockId::of_word(word).and_then(|block| block.named(path))
        }
    };
    field.map_or(Takes::Anything, |field| field.takes)
}

/// The step in an entry's text, if it is one.
fn step(piece: &str) -> Option<Step<'_>> {
    let start = piece.len() - piece.trim_start().len();
    let (path, _) = piece.get(start..)?.split_once(char::is_whitespace)?;
    let behind = start + path.len();
    let rest = piece.get(behind..)?;
    let at = behind + (rest.len() - rest.trim_start().len());
    let sign = piece
        .get(at..)?
        .chars()
        .next()
        .filter(|c| SIGNS.contains(c))?;
    let amount = piece.get(at + sign.len_utf8()..)?;
    let spaced = amount.is_empty() || amount.starts_with(char::is_whitespace);
    let named = path.starts_with(char::is_alphabetic);
    (spaced && named).then_some(Step { path, sign, at })
}

/// The entries of a line, where some of them are steps; commas in brackets and between quotes part nothing.
pub(super) fn pieces(line: &str) -> Vec<&str> {
    let (mut depth, mut quoted, mut escaped, mut start) = (0_usize, false, false, 0);
    let mut found = Vec::new();
    for (place, c) in line.char_indices() {
        let is_escaped = std::mem::take(&mut escaped);
        match c {
            '\\' if quoted => escaped = !is_escaped,
            '"' => quoted = !quoted || is_escaped,
            '{' | '[' | '(' if !quoted => depth += 1,
            '}' | ']' | ')' if !quoted => depth = depth.saturating_sub(1),
            ',' | '\n' if !quoted && depth == 0 => {
                found.push(line.get(start..place).unwrap_or(""));
                start = place + 1;
            }
            _ => {}
        }
    }
    found.push(line.get(start..).unwrap_or(""));
    found
}
