//! Sections, and the outside unrolled, at the bench.

use crate::report::strip::{Drawing, strip};
use crate::report::{self, SectionKinds, SectionOf};

use super::{Bench, Reply};

impl Bench {
    /// `section [BAND…] [solid]`.
    pub(super) fn section(&mut self, names: &str) -> Reply {
        let words: Vec<&str> = names
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|word| !word.is_empty())
            .collect();
        let sides = match self.outcome.drawn(&words, self.band.as_deref()) {
            Ok(sides) => sides,
            Err(message) => return Reply::complaint(message),
        };
        let request = self.request();
        let mut found = Vec::new();
        for side in &sides {
            let part = self
                .session
                .side(side, &self.prepared, &request, &self.outcome);
            match part {
                Ok(part) => found.push((side.title(), part)),
                Err(findings) => return Reply::refused(findings),
            }
        }
        let of: Vec<SectionOf<'_>> = found
            .iter()
            .filter_map(|(title, part)| {
                let evaluation = part.evaluations.first()?;
                let title = title.clone();
                Some(SectionOf { title, evaluation })
            })
            .collect();
        let whole = of.len() <= 1;
        let kinds = SectionKinds {
            finished: true,
            machined: whole,
            stages: whole,
        };
        Reply::of(report::section_text(&of, kinds, self.width))
    }

    /// `strip [BAND] [finished]`.
    pub(super) fn strip(&mut self, words: &str) -> Reply {
        let (finished, named): (Vec<&str>, Vec<&str>) = words
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|word| !word.is_empty())
            .partition(|word| *word == "finished");
        let name = match self.named_band(&named.join(" ")) {
            Ok(name) => name,
            Err(message) => return Reply::complaint(message),
        };
        let request = self.request();
        let outcome = self.session.outcome(&self.prepared, &request);
        let mut of = outcome.evaluations.iter();
        let Some(evaluation) = of.find(|one| one.band.name == name) else {
            return Reply::complaint(self.why_no_answer());
        };
        let columns = u32::try_from(self.width).unwrap_or(80);
        match strip(evaluation, Drawing::Text, !finished.is_empty(), columns) {
            Some(text) => Reply::of(text),
            None => Reply::complaint("this band has no outside to be unrolled"),
        }
    }
}
