//! The live hint behind a line: what it would come to, or what is still to be typed.

use crate::explore::{self, HEADLINES};
use crate::report;
use crate::schema;
use crate::session::is_relative;
use crate::source::cells;
use crate::syntax::{self, TOP_WORDS};

use super::Bench;
use super::words::{Then, command};

/// Lines longer than this get no hint: whoever types them is pasting.
const LONGEST: usize = 400;

impl Bench {
    /// What a line would come to, in no more than so many cells; none where there is nothing to say yet.
    pub fn hint(&mut self, line: &str, room: usize) -> Option<String> {
        let trimmed = line.trim_end();
        if trimmed.is_empty() || trimmed.len() > LONGEST || line.contains('\n') {
            return None;
        }
        self.forget();
        let parts = self.hint_of(trimmed).unwrap_or_default();
        self.forget();
        let mut hint = String::new();
        for part in parts {
            let gap = if hint.is_empty() { "" } else { "; " };
            if cells(&hint) + gap.len() + cells(&part) > room {
                break;
            }
            hint.push_str(gap);
            hint.push_str(&part);
        }
        (!hint.is_empty()).then_some(hint)
    }

    fn hint_of(&mut self, line: &str) -> Option<Vec<String>> {
        if let Some((word, rest)) = command(line) {
            return match (word.then, rest) {
                (Then::Field | Then::Varied(_), "") => {
                    Some(vec![word.takes.to_owned(), word.does.to_owned()])
                }
                (Then::Field, rest) => self.moved_by(rest),
                (Then::Path, path) if !path.is_empty() => self.value_of(path),
                (_, "") => Some(vec![word.does.to_owned()]),
                _ => None,
            };
        }
        let word = line.split_whitespace().next().unwrap_or("");
        if TOP_WORDS.contains(&word) && word != "alloy" && word != "profile" {
            return None;
        }
        self.value_of(line).or_else(|| self.moved_by(line))
    }

    /// The value of an expression.
    fn value_of(&mut self, line: &str) -> Option<Vec<String>> {
        let id = self.session.sources.add("line", line.trim());
        let source = self.session.sources.get(id)?;
        let parsed = syntax::parse_query(source);
        if !parsed.findings.is_empty() {
            return None;
        }
        let (value, _) = self.session.ask(line.trim(), &self.outcome);
        let value = value?;
        Some(vec![format!(
            "= {}",
            report::answer(line, &value, self.digits)
        )])
    }

    /// What a field's line would move first.
    fn moved_by(&mut self, line: &str) -> Option<Vec<String>> {
        let band = self.band.clone()?;
        // A half-typed line has mistakes, which are no news.
        if line.contains('{') && syntax::open_braces(line) != 0 {
            return None;
        }
        let has_value = line.trim().contains(char::is_whitespace);
        if !has_value && !is_relative(line) {
            return None;
        }
        let tried = self.absolute(line).ok()?;
        let mut request = self.request();
        request.tries.push(tried);
        let names = std::collections::BTreeSet::from([band.clone()]);
        let part = self.session.part(&self.prepared, &request, &names);
        if part.refused {
            return None;
        }
        let after = part.evaluations.first()?;
        let mut known = self.outcome.evaluations.iter();
        let before = known.find(|one| one.band.name == band)?;
        let mut parts = Vec::new();
        for id in HEADLINES {
            let entry = id.row();
            let (old, new) = (before.number(entry.id), after.number(entry.id));
            if old == new {
                continue;
            }
            let moved = explore::MovedFigure {
                of: schema::Subject::Result(*id),
                before: before.value(entry),
                after: after.value(entry),
            };
            let after = moved.after.as_ref()?;
            let value = report::answer(entry.path, after, self.digits);
            let difference = report::difference(&moved, self.digits);
            parts.push(format!("{} {value} {difference}", entry.path));
        }
        if !after.holds() && before.holds() {
            parts.insert(0, "a limit falls short".to_owned());
        }
        Some(parts)
    }
}
