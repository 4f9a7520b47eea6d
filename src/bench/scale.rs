//! What may be off, and rings on the scale: how sure figures are, a number settled, a batch, a ring in the hand.

use crate::finding::Weight;
use crate::quantity::unit;
use crate::report;
use crate::schema::ResultId;
use crate::session::{Library, Prepared, Readings};
use crate::source::printable;

use super::{Bench, Reply};

/// Words behind the file of a batch, each with what it takes.
const OF_A_BATCH: [&str; 3] = ["column", "least", "most"];

impl Bench {
    /// `settle PATH`, `settle PATH by READING`: tries what a reading of the scale asks for.
    pub(super) fn settle(&mut self, what: &str) -> Reply {
        if what.is_empty() {
            return Reply::complaint("settle what? as in `settle width`");
        }
        let (path, by) = match what.rsplit_once(" by ") {
            Some((path, by)) => (path, Some(by.trim())),
            None => (what, None),
        };
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        match outcome.settle(path, by) {
            Ok(found) => {
                let line = format!("{}  # {}", found.line, found.remark);
                let mut reply = self.try_line(&line).or_not_taken();
                let said = report::settled(&found.settled, &found.line, &found.remark);
                reply.text = said + &reply.text;
                reply
            }
            Err(message) => Reply::complaint(message),
        }
    }

    /// `sure`: of the band that bare names mean.
    pub(super) fn sure(&mut self) -> Reply {
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let found = outcome.sure(&self.session.sources);
        let unit = |band: &str, id: ResultId| outcome.unit(band, id);
        Reply {
            text: report::sure(&found, &unit, self.layout()),
            findings: outcome.findings,
            ..Reply::default()
        }
    }

    /// `gauge READINGS`: what fits readings of a ring, in the metals of this recipe and those built in.
    pub(super) fn gauge(&mut self, readings: &str) -> Reply {
        if readings.is_empty() {
            return Reply::complaint(
                "gauge what? as in `gauge weight 5.86 g, width 5 mm, inside 16 mm, outside 20 mm`",
            );
        }
        let name = self.file.clone().unwrap_or_default();
        let mut library = self.files.library(&name);
        let (context, told) = self.beside(library.as_mut());
        let read = [Readings {
            name: "readings",
            text: readings,
        }];
        let (found, findings) = self.session.gauge(&read, &context, None, library.as_mut());
        let wrong = findings.iter().any(|one| one.weight() == Weight::Wrong);
        match found.filter(|_| !wrong) {
            Some(found) => Reply {
                // What stands in a recipe needs no edition of its own.
                text: told + &found.recipe.replacen("annulet 1\n\n", "", 1),
                findings,
                ..Reply::default()
            },
            None => Reply::refused(findings),
        }
    }

    /// What of the recipe stands beside a ring in the hand, with what is tried of it written in, and remarks that say
    /// what was, and what cannot be since it is of a used file.
    fn beside(&mut self, library: &mut dyn Library) -> (String, String) {
        let mut told = String::new();
        let mut laid: Option<Prepared> = None;
        for tried in &self.state.tries {
            let prepared = laid.as_ref().unwrap_or(&self.prepared);
            let names = self.session.targets(prepared, tried);
            let names = names.map(|targets| targets.names).unwrap_or_default();
            // Bands stand beside no other ring.
            let is_band = |name: &String| self.outcome.recipe.is_band(name);
            if !names.is_empty() && names.iter().all(is_band) {
                continue;
            }
            let written = self.session.written(prepared, &self.outcome, tried, &[]);
            let line = printable(&tried.line);
            match written {
                Ok(text) => {
                    told.push_str(&format!("# With what is tried: {line}\n"));
                    laid = Some(self.session.prepare("what is tried", &text, library));
                }
                Err(_) => {
                    told.push_str(&format!("# Without what is tried of a used file: {line}\n"))
                }
            }
        }
        let prepared = laid.as_ref().unwrap_or(&self.prepared);
        (prepared.beside(&self.session.sources), told)
    }

    /// `tally FILE [column NAME] [least WEIGHT] [most WEIGHT]`.
    pub(super) fn tally(&mut self, what: &str) -> Reply {
        let mut words = what.split_whitespace().peekable();
        let Some(file) = words.next() else {
            return Reply::complaint(
                "tally which file? as in `tally weighings.csv least 4.2 g most 4.5 g`",
            );
        };
        let mut said: Vec<(&str, String)> = Vec::new();
        while let Some(word) = words.next() {
            let plain = word.trim_start_matches("--");
            if !OF_A_BATCH.contains(&plain) {
                return Reply::complaint(format!(
                    "`tally` knows no `{}`; behind the file stand `column NAME`, `least WEIGHT`, `most WEIGHT`",
                    printable(word)
                ));
            }
            if said.iter().any(|(known, _)| *known == plain) {
                return Reply::complaint(format!("`{plain}` is given twice"));
            }
            let Some(value) = words.next() else {
                return Reply::complaint(format!(
                    "`{plain}` what? as in `{plain} {}`",
                    if plain == "column" { "grams" } else { "4.2 g" }
                ));
            };
            let mut value = value.to_owned();
            if let Some(unit) = words.next_if(|word| is_unit(word)) {
                value.push_str(&format!(" {unit}"));
            }
            said.push((plain, value));
        }
        let get = |word: &str| {
            let found = said.iter().find(|(known, _)| *known == word);
            found.map(|(_, value)| value.as_str())
        };
        let batch = match self.files.weighings(file, get("column")) {
            Ok(batch) => batch,
            Err(wrong) => return Reply::complaint(wrong.join("\n")),
        };
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        match outcome.tally(batch, get("least"), get("most")) {
            Ok(found) => Reply::of(report::tally(
                &found.band,
                &found.lines,
                &found.tallied,
                &found.wanted,
                self.layout(),
            )),
            Err(message) => {
                let message = message.replace("`--", "`").replace("band NAME", "on NAME");
                // No quotes hold a value together here.
                Reply::complaint(message.replace("\"4.27 g\"", "4.27 g"))
            }
        }
    }
}

/// Whether a word is a unit, or one of two that it could be.
fn is_unit(word: &str) -> bool {
    match unit::scale(word) {
        Ok(_) => true,
        Err((refused, ..)) => refused != unit::Refused::Unknown,
    }
}
