//! Sections at the bench.

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
}
