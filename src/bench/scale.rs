//! What may be off, and rings on the scale: how sure figures are, a number settled, a batch, a ring in the hand.

use crate::finding::Weight;
use crate::report;
use crate::schema::ResultId;
use crate::session::Readings;
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
        let context = self.prepared.beside(&self.session.sources);
        let name = self.file.clone().unwrap_or_default();
        let mut library = self.files.library(&name);
        let read = [Readings {
            name: "readings",
            text: readings,
        }];
        let (found, findings) = self.session.gauge(&read, &context, None, library.as_mut());
        let wrong = findings.iter().any(|one| one.weight() == Weight::Wrong);
        match found.filter(|_| !wrong) {
            Some(found) => Reply {
                // What stands in a recipe needs no edition of its own.
                text: found.recipe.replacen("annulet 1\n\n", "", 1),
                findings,
                ..Reply::default()
            },
            None => Reply::refused(findings),
        }
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
            if words.peek() == Some(&"g") {
                value.push_str(" g");
                words.next();
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
                Reply::complaint(message.replace("`--", "`").replace("band NAME", "on NAME"))
            }
        }
    }
}
