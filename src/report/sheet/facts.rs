//! What a sheet says, thing by thing.

use crate::evaluate::Evaluation;
use crate::quantity::Number;
use crate::report::drawn_cuts::at_the_lathe;
use crate::report::page::{Page, TextLayout};
use crate::schema::ResultId;

/// One thing said, with its label.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fact {
    pub label: String,
    pub text: String,
    /// An empty box stands beside it, for what is found.
    pub boxed: bool,
}

/// A block of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum SheetBlock {
    Facts(String, Vec<Fact>),
    Table(String, Vec<&'static str>, Vec<Vec<String>>),
    Words(String, Vec<String>),
}

/// Facts that grow one by one.
pub(super) struct Facts<'a> {
    pub evaluation: &'a Evaluation,
    page: Page,
    all: Vec<Fact>,
}

impl<'a> Facts<'a> {
    pub fn of(evaluation: &'a Evaluation) -> Self {
        Self {
            evaluation,
            page: Page::new(TextLayout::default()),
            all: Vec::new(),
        }
    }

    pub fn say(&mut self, label: &str, text: impl Into<String>) {
        self.put(label, text.into(), false);
    }

    pub fn boxed(&mut self, label: &str, text: impl Into<String>) {
        self.put(label, text.into(), true);
    }

    fn put(&mut self, label: &str, text: String, boxed: bool) {
        self.all.push(Fact {
            label: label.to_owned(),
            text,
            boxed,
        });
    }

    /// A result, where the band has it.
    pub fn text(&mut self, id: ResultId) -> Option<String> {
        self.evaluation.number(id)?;
        Some(self.page.result(self.evaluation, id))
    }

    pub fn result(&mut self, label: &str, id: ResultId) {
        if let Some(text) = self.text(id) {
            self.say(label, text);
        }
    }

    pub fn diameter(&mut self, label: &str, id: ResultId) {
        if let Some(text) = self.text(id) {
            self.say(label, format!("\u{D8} {text}"));
        }
    }

    pub fn number(&mut self, value: f64, unit: &str) -> String {
        self.page.number(Number::Computed(value), unit)
    }

    /// Drawn cuts with their cutters.
    pub fn cuts(&mut self) {
        for (label, text) in at_the_lathe(&mut self.page, self.evaluation) {
            self.say(&label, text);
        }
    }

    pub fn done(self, heading: &str) -> Option<SheetBlock> {
        (!self.all.is_empty()).then(|| SheetBlock::Facts(heading.to_owned(), self.all))
    }
}
