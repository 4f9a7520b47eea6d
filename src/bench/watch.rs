//! What stays in view: results shown after every reply, and what of a reply is still to be shown.

use crate::model::{Value, check};
use crate::quantity::Number;
use crate::report;
use crate::source::printable;

use super::{Bench, Reply};

/// Lines of a screen that a reply leaves to the prompt and to what is watched.
const LEFT: usize = 3;

impl Bench {
    /// `watch PATH…`, `watch`, `watch off`.
    pub(super) fn watch(&mut self, rest: &str) -> Reply {
        let words = rest.split(|c: char| c.is_whitespace() || c == ',');
        let words: Vec<String> = words
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect();
        match words.as_slice() {
            [] if self.watched.is_empty() => {
                return Reply::complaint("nothing is watched; as in `watch weight price`");
            }
            [] => {}
            [off] if off == "off" => {
                self.watched.clear();
                return Reply::of("nothing is watched now\n");
            }
            words => {
                for word in words {
                    let (value, findings) = self.session.ask(word, &self.outcome);
                    if value.is_none() {
                        return Reply::refused(findings);
                    }
                }
                self.watched = words.to_vec();
            }
        }
        Reply::of(self.in_view())
    }

    /// What is watched, in a line; empty where nothing is.
    pub(super) fn in_view(&mut self) -> String {
        let mut said = Vec::new();
        for path in self.watched.clone() {
            let (value, _) = self.session.ask(&path, &self.outcome);
            let value = value.map_or("\u{2013}".to_owned(), |value| {
                report::answer(&path, &value, self.digits)
            });
            said.push(format!("{} {value}", printable(&path)));
        }
        if said.is_empty() {
            return String::new();
        }
        let lines = report::wrapped(&format!("watch: {}", said.join("; ")), self.width.max(20));
        lines.join("\n") + "\n"
    }

    /// Sets how many lines the screen has; replies then leave behind what does not fit.
    pub fn set_height(&mut self, lines: usize) {
        self.height = Some(lines.max(10));
    }

    /// `more`: the next lines of the last reply.
    pub(super) fn more(&mut self) -> Reply {
        let mut text = std::mem::take(&mut self.rest);
        if let Some(change) = self.behind.take() {
            text.push_str(&report::change(
                &change,
                usize::MAX,
                self.digits,
                self.width,
            ));
        }
        if text.is_empty() {
            return Reply::complaint("the last reply had no more");
        }
        Reply::of(text)
    }

    /// A text no longer than the screen; what is behind it waits for `more`.
    pub(super) fn fitted(&mut self, text: String) -> String {
        let Some(room) = self.height.map(|height| height.saturating_sub(LEFT)) else {
            return text;
        };
        let text = report::lines_fitted(&text, self.width);
        let lines: Vec<&str> = text.lines().collect();
        let Some((now, later)) = lines
            .split_at_checked(room)
            .filter(|_| lines.len() > room + 1)
        else {
            return text;
        };
        let behind = std::mem::take(&mut self.rest);
        self.rest = later.join("\n") + "\n" + &behind;
        format!(
            "{}\n\u{2026} {} more lines: `more`\n",
            now.join("\n"),
            later.len()
        )
    }

    /// A line with `it` in the place of the last value, where the recipe gives that name to nothing.
    pub(super) fn with_it(&self, line: &str) -> Option<String> {
        let last = self.last.as_deref()?;
        if self.gives("it") {
            return None;
        }
        let is_word = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
        let mut text = String::new();
        let (mut quoted, mut found) = (false, false);
        let mut rest = line;
        while let Some(c) = rest.chars().next() {
            if c == '#' && !quoted {
                break;
            }
            let length = rest.find(|c: char| !is_word(c)).unwrap_or(rest.len());
            if quoted || length == 0 {
                quoted ^= c == '"';
                text.push(c);
                rest = rest.get(c.len_utf8()..).unwrap_or("");
                continue;
            }
            let (word, behind) = rest.split_at(length);
            if word == "it" {
                text.push_str(last);
                found = true;
            } else {
                text.push_str(word);
            }
            rest = behind;
        }
        found.then(|| text + rest)
    }

    /// Keeps a value to be asked for as `it`.
    pub(super) fn keep_last(&mut self, value: &Value) {
        self.last = match value {
            Value::Quantity { quantity, unit } | Value::Circumference { quantity, unit } => {
                let (number, word) = check::in_unit(quantity, unit.as_deref());
                let number = match number {
                    // Words of the language are decimals.
                    Number::Computed(value) => crate::quantity::from_f64(value).map(Number::Exact),
                    exact => Some(exact),
                };
                number.map(|number| format!("{number} {word}").trim_end().to_owned())
            }
            Value::Size { .. } => Some(check::written(value)),
            _ => None,
        };
    }
}
