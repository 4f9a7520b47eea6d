//! The machine document of a call, as far as it is written: recipes go out as they come, findings wait for the end.

use serde_json::Value as Json;

use crate::report::document::{self, RecipePart};

/// What of a document is still to be written.
#[derive(Debug)]
pub(super) struct Machine {
    command: &'static str,
    on: Option<String>,
    begun: bool,
    recipes: usize,
    lists: Vec<Json>,
    findings: Vec<String>,
}

impl Machine {
    pub fn new(command: &'static str, on: Option<&str>) -> Self {
        Self {
            command,
            on: on.map(str::to_owned),
            begun: false,
            recipes: 0,
            lists: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// The beginning of the document, where it is not written yet.
    fn head(&mut self) -> String {
        if std::mem::replace(&mut self.begun, true) {
            return String::new();
        }
        document::head(self.command, self.on.as_deref())
    }

    /// One more recipe, as text in pieces.
    pub fn recipe(&mut self, part: RecipePart, put: &mut dyn FnMut(&str)) {
        put(&self.head());
        document::recipe(part, self.recipes == 0, put);
        self.recipes += 1;
    }

    pub fn list(&mut self, list: Json) {
        self.lists.push(list);
    }

    pub fn finding(&mut self, finding: &Json) {
        self.findings.push(document::inline(finding));
    }

    /// What is left of the document.
    pub fn tail(&mut self, status: u8) -> String {
        self.head() + &document::tail(self.recipes, &self.lists, &self.findings, status)
    }
}
