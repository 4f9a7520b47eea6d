//! The recipe text of a band, and what it inherits.

use crate::model::{FieldValue, check};
use crate::source::printable;
use crate::syntax::ast;

use super::{Bench, Reply};

impl Bench {
    /// `show [BAND]`.
    pub(super) fn show(&mut self, name: &str) -> Reply {
        let name = match self.named_band(name) {
            Ok(name) => name,
            Err(message) => return Reply::complaint(message),
        };
        let sources = &self.session.sources;
        let own = self.prepared.band(&name);
        let mut text = String::new();
        if let Some(entry) = own {
            let written = sources.slice(entry.span);
            text.push_str(&safe_lines(written));
            text.push('\n');
        }
        let inside = |field: &FieldValue| {
            let place = field.places.last();
            let own = own.map(|entry: &ast::Entry| entry.span);
            own.zip(place.copied())
                .is_some_and(|(own, place)| own.start <= place.start && place.end <= own.end)
        };
        let mut bands = self.outcome.recipe.bands.iter();
        let Some(band) = bands.find(|band| band.name == name) else {
            text.push_str("# it has mistakes; `check` shows them\n");
            return Reply::of(text);
        };
        let fields = band.fields.iter();
        let written = fields.filter(|field| !field.places.is_empty());
        let others: Vec<&FieldValue> = written.filter(|field| !inside(field)).collect();
        if others.is_empty() {
            return Reply::of(text);
        }
        text.push_str("# from elsewhere:\n");
        for field in others {
            let Some(place) = field.places.last() else {
                continue;
            };
            let value = check::shown(&field.value);
            let from = crate::evaluate::locate(*place, sources);
            text.push_str(&format!(
                "#   {} {}  ({from})\n",
                field.field.path,
                printable(&value)
            ));
        }
        Reply::of(text)
    }
}

/// Text without what could upset a terminal, its lines kept.
fn safe_lines(text: &str) -> String {
    let lines: Vec<String> = text.lines().map(printable).collect();
    lines.join("\n")
}
