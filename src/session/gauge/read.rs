//! Readings of a ring in the hand, from text, each slip told at its place.

use std::sync::Arc;

use crate::finding::{Finding, Weight, add};
use crate::model::{Evaluator, ModelError, Value};
use crate::quantity::{Dimension, Quantity, unit};
use crate::source::{Source, Span};
use crate::suggest::nearest;
use crate::syntax::ast::{self, Entry, ExprKind};
use crate::words::Spoken;

use super::super::Outcome;
use super::super::question::Results;
use super::hand::{Hand, Has, InHand, Line, Mark, OffBy, WORDS, is_beside, trimmed, walk};

/// Blocks that say nothing of a ring in the hand.
pub(super) const NOT_HERE: [&str; 8] = [
    "band", "variant", "require", "prices", "shop", "stock", "order", "weighed",
];

/// What a scale at the bench tells apart, g, where nothing is said of it: from memory.
const SCALE: f64 = 0.01;

/// By how much what a caliper shows may be off, mm, where nothing is said of it: common practice, no source.
const CALIPER: f64 = 0.02;

/// Reads texts, each with its entries.
pub(super) struct Reader<'a> {
    /// Names of values: those that stand beside the ring.
    pub scope: &'a Outcome,
    pub findings: Vec<Finding>,
    pub hand: Hand,
    seen: Vec<(String, Span)>,
    scale: Option<f64>,
    caliper: Option<f64>,
}

impl<'a> Reader<'a> {
    pub fn new(scope: &'a Outcome) -> Self {
        Self {
            scope,
            findings: Vec::new(),
            hand: Hand::default(),
            seen: Vec::new(),
            scale: None,
            caliper: None,
        }
    }

    /// Reads what the scale and the caliper tell apart, which counts for every reading, whatever text it stands in.
    pub fn tools(&mut self, items: &[ast::Item]) {
        for entry in ast::entries(items) {
            match entry.head_name() {
                Some("scale") => self.scale = self.one(entry, Dimension::MASS),
                Some("caliper") => self.caliper = self.one(entry, Dimension::LENGTH),
                _ => {}
            }
        }
    }

    /// A tool's figure.
    fn one(&mut self, entry: &Entry, due: Dimension) -> Option<f64> {
        let quantity = self.quantity(entry, due)?;
        Some(quantity.number.to_f64())
    }

    /// Reads the entries of a text.
    pub fn read(&mut self, source: &Arc<Source>, items: &[ast::Item]) {
        for entry in ast::entries(items) {
            let Some(head) = &entry.head else {
                let at = entry.span;
                self.findings.push(ModelError::NoWord { at }.into());
                continue;
            };
            if is_beside(entry) {
                continue;
            }
            let word = head.value.0.clone();
            if NOT_HERE.contains(&word.as_str()) {
                let message = format!("readings of a ring hold no `{word}`");
                let help = "write what was measured: `weight 3.52 g`, `width 5 mm`; `weighed`, prices and orders go into the recipe that comes out";
                self.refuse(head.span, message, help.to_owned());
                continue;
            }
            if let Some((_, first)) = self.seen.iter().find(|(known, _)| *known == word) {
                let (again, first) = (head.span, *first);
                let name = word;
                self.findings
                    .push(ModelError::GivenTwice { again, first, name }.into());
                continue;
            }
            self.seen.push((word.clone(), head.span));
            self.entry(source, entry, &word);
        }
    }

    fn entry(&mut self, source: &Arc<Source>, entry: &Entry, word: &str) {
        match word {
            "scale" | "caliper" => {}
            "weight" => self.reading("weight", source, entry, Dimension::MASS),
            "width" => self.reading("width", source, entry, Dimension::LENGTH),
            "thickness" => self.reading("thickness", source, entry, Dimension::LENGTH),
            "outside" => self.reading("outside", source, entry, Dimension::LENGTH),
            "inside" | "size" => self.reading("inside", source, entry, Dimension::LENGTH),
            "mark" => self.mark(entry),
            "alloy" => match entry.values.as_slice() {
                [expr] => match &expr.kind {
                    ExprKind::Path(path) => {
                        self.hand.alloy = Some((path.0.clone(), expr.span));
                    }
                    _ => self.no_alloy(expr.span),
                },
                _ => self.no_alloy(entry.span),
            },
            "hollow" | "pattern" => {
                let has = match (entry.values.as_slice(), &entry.block) {
                    ([], Some(_)) => Has::Yes,
                    ([expr], None) => match &expr.kind {
                        ExprKind::Path(path) if path.0 == "yes" => Has::Yes,
                        ExprKind::Path(path) if path.0 == "no" => Has::No,
                        _ => return self.no_choice(word, expr.span),
                    },
                    _ => return self.no_choice(word, entry.span),
                };
                let inside = |known: &&(String, Span)| {
                    let rest = known.0.strip_prefix(word);
                    rest.is_some_and(|rest| rest.starts_with('.'))
                };
                if let (Has::No, Some((line, first))) = (has, self.seen.iter().find(inside)) {
                    let (line, first) = (line.clone(), *first);
                    return self.denied(word, entry.span, &line, first);
                }
                match word {
                    "hollow" => self.hand.hollow = has,
                    _ => self.hand.pattern = has,
                }
                if entry.block.is_some() {
                    self.line(source, entry);
                }
            }
            "profile" => {
                self.hand.profile = ast::first_word(&entry.values).map(str::to_owned);
                self.line(source, entry);
            }
            _ => {
                let first = word.split('.').next().unwrap_or(word);
                let has = match first {
                    "hollow" => Some(&mut self.hand.hollow),
                    "pattern" => Some(&mut self.hand.pattern),
                    _ => None,
                };
                if let Some(has) = has {
                    let denied = *has == Has::No;
                    *has = Has::Yes;
                    let no = self.seen.iter().find(|(known, _)| known == first);
                    if let (true, Some((_, no))) = (denied, no) {
                        let (no, at) = (*no, entry.head_span());
                        return self.denied(first, no, word, at);
                    }
                }
                // A slip of a word of our own is told as that; whether others are fields the band says.
                let meant = nearest(word, WORDS);
                if let (Some(meant), true) = (meant, crate::schema::matching(word).is_empty()) {
                    let at = entry.head_span();
                    let known = crate::suggest::certain(word, meant);
                    let nearest = known.then(|| meant.to_owned());
                    let problem = ModelError::UnknownField {
                        at,
                        word: word.to_owned(),
                        holder: "a ring in the hand".to_owned(),
                        help: format!("did you mean `{meant}`?"),
                        nearest,
                    };
                    self.findings.push(problem.into());
                    return;
                }
                self.line(source, entry);
            }
        }
    }

    fn refuse(&mut self, at: Span, message: String, help: String) {
        let spoken = Spoken {
            code: "gauge::reading",
            weight: Weight::Wrong,
            message,
            labels: vec![(at, "not a reading".to_owned())],
            help,
        };
        add(&mut self.findings, spoken);
    }

    /// A block is said not to be there, and a line of it stands beside that.
    fn denied(&mut self, block: &str, no: Span, line: &str, at: Span) {
        let spoken = Spoken {
            code: "gauge::reading",
            weight: Weight::Wrong,
            message: format!(
                "`{block} no` says that there is none, and `{line}` says something of it"
            ),
            labels: vec![(no, "there is none".to_owned()), (at, "of it".to_owned())],
            help: format!("leave out `{block} no`, or every line of `{block}`"),
        };
        add(&mut self.findings, spoken);
    }

    fn no_alloy(&mut self, at: Span) {
        let message = "`alloy` takes the name of an alloy".to_owned();
        let help = "as in `alloy silver-925`; leave the line out where the metal is not known, and write `mark 925` where the mark is";
        self.refuse(at, message, help.to_owned());
    }

    fn no_choice(&mut self, word: &str, at: Span) {
        let message = format!("`{word}` takes `yes`, `no`, or a block of what is known of it");
        let help = match word {
            "hollow" => {
                "as in `hollow no`, or `hollow { sleeve 0.3 mm }` where the sleeve was measured"
            }
            _ => "as in `pattern no`, or `pattern { cover 60 % }` where the cover is known",
        };
        self.refuse(at, message, help.to_owned());
    }

    /// The value of an entry that takes one.
    fn value(&mut self, entry: &Entry, due: Dimension) -> Option<(Value, Span)> {
        let word = entry.head_name().unwrap_or_default().to_owned();
        if let Some(block) = &entry.block {
            let message = format!("`{word}` takes a value, not a block");
            self.refuse(block.open, message, example(&word).to_owned());
            return None;
        }
        let [expr] = entry.values.as_slice() else {
            let message = match entry.values.is_empty() {
                true => format!("`{word}` says nothing"),
                false => format!("`{word}` takes one value"),
            };
            self.refuse(entry.span, message, example(&word).to_owned());
            return None;
        };
        let before = self.findings.len();
        let value = Evaluator {
            scope: &mut Results {
                outcome: self.scope,
            },
            findings: &mut self.findings,
        }
        .value(expr, Some(due));
        debug_assert!(value.is_some() || self.findings.len() > before);
        Some((value?, expr.span))
    }

    fn quantity(&mut self, entry: &Entry, due: Dimension) -> Option<Quantity> {
        let (value, at) = self.value(entry, due)?;
        self.checked(entry, &value, at, due)
    }

    /// A quantity of a dimension that is more than nothing.
    fn checked(
        &mut self,
        entry: &Entry,
        value: &Value,
        at: Span,
        due: Dimension,
    ) -> Option<Quantity> {
        let word = entry.head_name().unwrap_or_default().to_owned();
        let (kind, units) = match due {
            Dimension::MASS => ("a mass", "g or dwt"),
            _ => ("a length", "mm or in"),
        };
        match value {
            Value::Quantity { quantity, .. } if quantity.dimension == due => {
                if quantity.number.to_f64() > 0.0 {
                    return Some(quantity.clone());
                }
                let message = format!("`{word}` is more than nothing");
                self.refuse(at, message, example(&word).to_owned());
            }
            Value::Quantity { quantity, .. } if quantity.dimension == Dimension::NONE => {
                let problem = ModelError::UnitMissing {
                    at,
                    field: word,
                    due: kind.to_owned(),
                    units: units.to_owned(),
                };
                self.findings.push(problem.into());
            }
            other => {
                let problem = ModelError::WrongKind {
                    at,
                    due: kind.to_owned(),
                    found: other.named(),
                    help: example(&word).to_owned(),
                    field: word,
                };
                self.findings.push(problem.into());
            }
        }
        None
    }

    fn reading(&mut self, word: &'static str, source: &Arc<Source>, entry: &Entry, due: Dimension) {
        let head = entry.head_name().unwrap_or_default();
        let twice = (head == "size" || head == "inside") && self.hand.get("inside").is_some();
        if let (true, Some(first)) = (twice, self.hand.get("inside").map(|one| one.at)) {
            let (again, name) = (entry.span, "inside".to_owned());
            self.findings
                .push(ModelError::GivenTwice { again, first, name }.into());
            return;
        }
        let Some((value, at)) = self.value(entry, due) else {
            return;
        };
        let text = source.slice(at).to_owned();
        if let (
            Value::Size {
                size, deviations, ..
            },
            "size" | "inside",
        ) = (&value, head)
        {
            let step = size.stepped(size.system.grain).ok();
            let step = step.map_or(0.0, |next| next.diameter() - size.diameter());
            let written: f64 = deviations.iter().map(|one| one.amount.to_f64().abs()).sum();
            let (off, by) = match written > 0.0 {
                true => (written, OffBy::Written),
                false => (step / 2.0, OffBy::Step),
            };
            let value = size.diameter();
            self.hand.measured.push(InHand {
                word,
                value,
                off,
                by,
                text,
                at: entry.span,
            });
            return;
        }
        let Some(quantity) = self.checked(entry, &value, at, due) else {
            return;
        };
        let stated = match due {
            Dimension::MASS => self.scale,
            _ => self.caliper,
        };
        let (off, by) = match (quantity.worst(), stated) {
            (written, _) if written > 0.0 => (written, OffBy::Written),
            (_, Some(apart)) => (apart / 2.0, OffBy::Stated),
            (_, None) if due == Dimension::MASS => (SCALE / 2.0, OffBy::Usual),
            (_, None) => (CALIPER, OffBy::Usual),
        };
        self.hand.measured.push(InHand {
            word,
            value: quantity.number.to_f64(),
            off,
            by,
            text,
            at: entry.span,
        });
    }

    fn mark(&mut self, entry: &Entry) {
        let Some((value, at)) = self.value(entry, Dimension::FINENESS) else {
            return;
        };
        let mut karat = false;
        let parts = match &value {
            Value::Quantity { quantity, unit }
                if [Dimension::NONE, Dimension::FINENESS].contains(&quantity.dimension) =>
            {
                // Of units the karat alone is a fineness.
                let is_karat = |word| {
                    unit::scale(word).is_ok_and(|scale| scale.dimension == Dimension::FINENESS)
                };
                karat = unit.as_deref().is_some_and(is_karat);
                let number = quantity.number.to_f64();
                // A part of the whole.
                if number <= 1.0 {
                    number * 1000.0
                } else {
                    number
                }
            }
            _ => 0.0,
        };
        if !(100.0..=1000.0).contains(&parts) {
            let message = "`mark` is what is struck in parts per thousand, 100 to 1000".to_owned();
            let help = "as in `mark 585`, `mark 18 karat` or `mark 92.5 %`".to_owned();
            return self.refuse(at, message, help);
        }
        self.hand.mark = Some(Mark { parts, karat, at });
    }

    /// A line of the band; lengths of it that a caliper measures and that say no `±` get that of the caliper.
    fn line(&mut self, source: &Arc<Source>, entry: &Entry) {
        let off = self.caliper.map_or(CALIPER, |apart| apart / 2.0);
        let mut ends = Vec::new();
        let mut stated = Vec::new();
        walk(entry, "", &mut stated, &mut ends);
        self.hand.stated.extend(stated);
        let mut text = source.slice(entry.span).to_owned();
        for end in ends.into_iter().rev() {
            let at = end.saturating_sub(entry.span.start) as usize;
            if text.is_char_boundary(at) {
                text.insert_str(at, &format!(" \u{B1} {} mm", trimmed(off, 4)));
            }
        }
        self.hand.lines.push(Line {
            text,
            at: entry.span,
        });
    }
}

fn example(word: &str) -> &'static str {
    match word {
        "weight" => "as in `weight 3.52 g`",
        "width" => "as in `width 5 mm`",
        "thickness" => "as in `thickness 1.8 mm`",
        "outside" => "a diameter over the outside, as in `outside 20.9 mm`",
        "inside" | "size" => {
            "the smallest diameter of the bore or a size, as in `inside 17.2 mm` or `size ISO 54`"
        }
        "scale" => "what the scale tells apart, as in `scale 0.01 g`",
        "caliper" => "what the caliper tells apart, as in `caliper 0.01 mm`",
        "mark" => "as in `mark 585`",
        _ => "write a value behind it",
    }
}
