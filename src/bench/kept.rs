//! What becomes of what is tried: written into the recipe, all or some of it; kept as a variant; or forgotten.

use crate::explore;
use crate::finding::{Finding, Weight};
use crate::report;
use crate::session::Tried;
use crate::source::printable;

use super::fresh::fresh;
use super::moved::MOST;
use super::stand::Stand;
use super::state::State;
use super::tries::{lost_comments, not_here};
use super::{Bench, Reply};

impl Bench {
    /// `keep`, `keep N…`, `keep as NAME`.
    pub(super) fn keep(&mut self, rest: &str) -> Reply {
        if self.state.tries.is_empty() {
            return Reply::complaint("nothing is tried, so there is nothing to keep");
        }
        if let Some(name) = rest
            .strip_prefix("as")
            .filter(|name| name.is_empty() || name.starts_with(char::is_whitespace))
        {
            return self.keep_as(name.trim());
        }
        let wanted = match self.numbered(rest) {
            Ok(wanted) => wanted,
            Err(message) => return Reply::complaint(message),
        };
        let tries = self.state.tries.clone();
        let (mut kept, mut stays) = (0, Vec::new());
        let mut refused: Vec<Finding> = Vec::new();
        let mut first: Option<Stand> = None;
        for (place, tried) in tries.iter().enumerate() {
            if self.is_stopped() {
                break;
            }
            if !wanted.is_empty() && !wanted.contains(&place) {
                stays.push(tried.clone());
                continue;
            }
            let written = self
                .session
                .written(&self.prepared, &self.outcome, tried, &[]);
            match written {
                Ok(text) => {
                    let rest = tries.get(place + 1..).unwrap_or(&[]);
                    let state = State {
                        text: text.into(),
                        tries: stays.iter().chain(rest).cloned().collect(),
                    };
                    let before = self.attempt(state, self.band.clone());
                    first.get_or_insert(before);
                    kept += 1;
                }
                Err(findings) => {
                    // What lies in a used file stays tried, and keeps nothing else from being written.
                    let elsewhere = |one: &Finding| one.code() == "session::written_elsewhere";
                    if !findings.iter().all(elsewhere) {
                        if let Some(before) = first {
                            self.go_back(before);
                        }
                        return Reply::refused(findings);
                    }
                    refused.extend(findings);
                    stays.push(tried.clone());
                }
            }
        }
        if self.is_stopped()
            && let Some(before) = first.take()
        {
            self.go_back(before);
        }
        let Some(Stand { state, outcome, .. }) = first else {
            return Reply::refused(refused);
        };
        self.before = outcome;
        let before = state.text.clone();
        let count = state.tries.len();
        self.past.note(&state, &self.state, "keep");
        let lines = if kept == 1 { "it is" } else { "they are" };
        let of = if kept < count {
            format!(" {kept} of {count}")
        } else {
            String::new()
        };
        let gone = lost_comments(&before, &self.state.text);
        let mut reply = self.say_moved(&format!("kept{of}; {lines} in the recipe now"), None);
        for tried in stays {
            let found = self.session.targets(&self.prepared, &tried);
            for one in found.into_iter().flat_map(|targets| targets.elsewhere) {
                reply.text.push_str(&format!(
                    "  still tried: {}; {}\n",
                    tried.line,
                    not_here(&one)
                ));
            }
        }
        reply.text.push_str(&gone);
        reply
    }

    /// `keep as NAME`: what is tried of the current band, as a variant of it; the rest stays tried.
    fn keep_as(&mut self, name: &str) -> Reply {
        let Some(band) = self.band.clone() else {
            return Reply::complaint("there is no band yet; `help recipe`");
        };
        if name.is_empty() {
            return Reply::complaint(format!("keep it as what? as in `keep as {band}-light`"));
        }
        if self.outcome.recipe.is_band(name) {
            return Reply::complaint(format!(
                "`{name}` is a band already; give the variant another name"
            ));
        }
        let (mut own, mut stays) = (Vec::new(), Vec::new());
        for tried in self.state.tries.clone() {
            let targets = self.session.targets(&self.prepared, &tried);
            let of_it = targets
                .is_ok_and(|targets| targets.names.len() == 1 && targets.names.contains(&band));
            if of_it {
                own.push(tried)
            } else {
                stays.push(tried)
            }
        }
        if own.is_empty() {
            return Reply::complaint(format!(
                "nothing is tried on `{band}` itself; `keep` writes what is tried on other things"
            ));
        }
        let known = self.outcome.findings.clone();
        let block = format!("variant {name} of {band} {{\n}}");
        let with = |text: String, stays: &[Tried]| State {
            text: text.into(),
            tries: stays.to_vec(),
        };
        let text = self.text_with(&block);
        let before = self.attempt(with(text, &stays), Some(name.to_owned()));
        for tried in &own {
            let tried = Tried {
                line: of_variant(&tried.line, &band),
                band: Some(name.to_owned()),
                typed: None,
            };
            let written = self
                .session
                .written(&self.prepared, &self.outcome, &tried, &[]);
            match written {
                Ok(text) => drop(self.attempt(with(text, &stays), Some(name.to_owned()))),
                Err(findings) => {
                    self.go_back(before);
                    return Reply::refused(findings);
                }
            }
        }
        let wrong = fresh(&self.outcome.findings, &known, |weight| {
            weight == Weight::Wrong
        });
        if !wrong.is_empty() || self.is_stopped() {
            self.go_back(before);
            return Reply::refused(wrong);
        }
        let what = format!("keep as {name}");
        self.past.note(&before.state, &self.state, &what);
        let mut reply = Reply::of(format!(
            "kept as {name}, a variant of {band}; {band} is as it was\n"
        ));
        let find = |name: &str| {
            let mut all = self.outcome.evaluations.iter();
            all.find(|one| one.band.name == *name)
        };
        if let Some((parent, variant)) = find(&band).zip(find(name)) {
            let change = explore::change(parent, variant);
            let text = report::change(&change, MOST, self.digits, self.width);
            reply.text.push_str(&text);
            self.behind = Some(change).filter(|change| change.left(MOST) > 0);
        }
        reply.findings = fresh(&self.outcome.findings, &known, |_| true);
        if !stays.is_empty() {
            let lines: Vec<&str> = stays.iter().map(|one| one.line.as_str()).collect();
            reply.text.push_str(&format!(
                "  still tried, since it is not about {band} alone: {}\n",
                printable(&lines.join("; "))
            ));
        }
        reply.text.push_str(&format!(
            "  `compare {band} {name}` sets them side by side\n"
        ));
        reply
    }

    /// `drop`, `drop N…`.
    pub(super) fn drop_tries(&mut self, rest: &str) -> Reply {
        if self.state.tries.is_empty() {
            return Reply::complaint("nothing is tried, so there is nothing to drop");
        }
        let wanted = match self.numbered(rest) {
            Ok(wanted) => wanted,
            Err(message) => return Reply::complaint(message),
        };
        let state = self.state.clone();
        let tries = state.tries.iter().enumerate();
        let left: Vec<Tried> = tries
            .filter(|(place, _)| !wanted.is_empty() && !wanted.contains(place))
            .map(|(_, tried)| tried.clone())
            .collect();
        let heading = match left.len() {
            0 => "dropped".to_owned(),
            left => format!("dropped; {left} still tried"),
        };
        self.state.tries = left;
        let before = self.evaluate();
        // What is left may rest on what is dropped.
        let wrong = fresh(&self.outcome.findings, &before.findings, |weight| {
            weight == Weight::Wrong
        });
        if !wrong.is_empty() || self.is_stopped() {
            let sources = self.session.sources.clone();
            self.state = state;
            self.evaluate();
            self.shown = Some(sources);
            return Reply::refused(wrong);
        }
        self.past.note(&state, &self.state, "drop");
        self.before = before;
        self.say_moved(&heading, None)
    }

    /// The places of tries by their numbers, from 1; none where no number is said.
    fn numbered(&self, rest: &str) -> Result<Vec<usize>, String> {
        let count = self.state.tries.len();
        let words = rest.split(|c: char| c.is_whitespace() || c == ',');
        let words = words.filter(|word| !word.is_empty());
        words
            .map(|word| match word.parse::<usize>() {
                Ok(number) if (1..=count).contains(&number) => Ok(number - 1),
                _ => Err(format!(
                    "there is no try `{}`; `try` alone lists {}",
                    printable(word),
                    if count == 1 {
                        "the one there is".to_owned()
                    } else {
                        format!("the {count} there are")
                    }
                )),
            })
            .collect()
    }
}

/// A line that was tried of a band, without the band's name before its paths.
fn of_variant(line: &str, band: &str) -> String {
    let prefix = format!("{band}.");
    let parts = line.split(", ").map(|part| {
        let start = part.trim_start();
        match start.strip_prefix(&prefix) {
            Some(rest) => rest.to_owned(),
            None => part.to_owned(),
        }
    });
    parts.collect::<Vec<_>>().join(", ")
}
