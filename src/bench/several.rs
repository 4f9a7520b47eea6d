//! Several what-ifs: the values of a range one beside the other, and the tries that lie over the recipe.

use crate::evaluate::Evaluation;
use crate::explore::{self, Change};
use crate::finding::{Finding, Weight};
use crate::report::{self, TriedValue};
use crate::session::{Outcome, Request, Tried, is_misspelt};

use super::{Bench, Reply};

/// How many figures tell what a try does.
const FIGURES: usize = 3;

/// Of more tries than these it is not told what each does.
const TOLD: usize = 100;

/// More values than these are no table to look at.
const MOST: usize = 200;

impl Bench {
    /// `try PATH RANGE`, `try PATH [LIST]`: a row for each value, nothing laid over the recipe; none where the line
    /// says one value.
    pub(super) fn try_values(&mut self, line: &str) -> Option<Reply> {
        let (path, text) = line.split_once(char::is_whitespace)?;
        let text = text.trim();
        if !text.starts_with('[') && !text.contains("..") {
            return None;
        }
        let (values, findings) = self.session.values(text, &self.outcome);
        let values = match values {
            Some(values) => values,
            None if findings.is_empty() => return None,
            None => return Some(Reply::refused(findings)),
        };
        if values.len() > MOST {
            return Some(Reply::complaint(format!(
                "{} values are too many to show; take a longer step",
                values.len()
            )));
        }
        let mut rows = Vec::new();
        for value in values {
            if self.is_stopped() {
                break;
            }
            match self.tried_value(path, &value) {
                Ok(row) => rows.push(row),
                Err(findings) => return Some(Reply::refused(findings)),
            }
        }
        let mut text = report::tried_values(path, &rows, self.layout());
        text.push_str(&format!(
            "  nothing is laid over the recipe; `try {path} VALUE` lays one over\n"
        ));
        Some(Reply {
            text,
            findings,
            ..Reply::default()
        })
    }

    /// The current band with one value; refused where the path itself is wrong, or the value a word that nothing bears.
    fn tried_value(&mut self, path: &str, value: &str) -> Result<TriedValue, Vec<Finding>> {
        let tried = Tried {
            line: format!("{path} {value}"),
            band: self.band.clone(),
            typed: None,
        };
        self.session.targets(&self.prepared, &tried)?;
        let mut request = self.request();
        request.tries.push(tried);
        let outcome = self.session.outcome(&self.prepared, &request);
        let known = &self.outcome.findings;
        let wrong = super::fresh::fresh(&outcome.findings, known, |weight| weight == Weight::Wrong);
        let mut misspelt = wrong.clone();
        misspelt.retain(|finding| is_misspelt(finding, value, &self.session.sources));
        if !misspelt.is_empty() {
            return Err(misspelt);
        }
        let mut said: Vec<String> = wrong.iter().map(Finding::message).collect();
        let evaluation = self
            .of_current(&outcome)
            .filter(|_| said.is_empty())
            .cloned();
        if let Some(one) = &evaluation {
            let short = crate::words::findings(one);
            said.extend(short.iter().map(Finding::message));
        }
        Ok(TriedValue {
            value: value.to_owned(),
            evaluation,
            said,
        })
    }

    fn of_current<'o>(&self, outcome: &'o Outcome) -> Option<&'o Evaluation> {
        let band = self.band.as_ref()?;
        outcome
            .evaluations
            .iter()
            .find(|one| one.band.name == *band)
    }

    /// `try` alone: what is tried, what each does to the current band, and all of it together.
    pub(super) fn tried_so_far(&mut self) -> Reply {
        let tries = self.state.tries.clone();
        if tries.is_empty() {
            return Reply::complaint("nothing is tried; as in `try width 5 mm`");
        }
        let several = self.band_names().len() > 1;
        let mut rows = Vec::new();
        let mut stands = Vec::new();
        // Each is laid anew over those before it; of many only all together are.
        let many = tries.len() > TOLD;
        let all = [0, tries.len()];
        let counts = (0..=tries.len()).filter(|count| !many || all.contains(count));
        for count in counts {
            if self.is_stopped() {
                break;
            }
            let request = Request {
                tries: tries.get(..count).unwrap_or(&[]).to_vec(),
                ..self.request()
            };
            let outcome = self.session.outcome(&self.prepared, &request);
            stands.push(self.of_current(&outcome).cloned());
        }
        for (place, tried) in tries.iter().enumerate() {
            let on = match &tried.band {
                Some(band) if several => format!("  (on {band})"),
                _ => String::new(),
            };
            let effect = match many {
                true => String::new(),
                false => self.effect(stands.get(place), stands.get(place + 1)),
            };
            rows.push((
                format!("{}", place + 1),
                format!("{}{on}", tried.line),
                effect,
            ));
        }
        if tries.len() > 1 {
            let effect = self.effect(stands.first(), stands.last());
            rows.push((String::new(), "all together".to_owned(), effect));
        }
        let mut text = String::new();
        for (number, line, effect) in rows {
            text.push_str(&format!("  {number:<3}{line}\n"));
            for line in report::flowed(&effect, self.width.saturating_sub(7).max(20)) {
                text.push_str(&format!("       {line}\n"));
            }
        }
        text.push_str(
            "  `keep` writes all, `keep 1` one, `keep as NAME` a variant; `drop 1` forgets one\n",
        );
        Reply::of(text)
    }

    /// What moved first from one evaluation of the current band to another, in a line.
    fn effect(
        &self,
        before: Option<&Option<Evaluation>>,
        after: Option<&Option<Evaluation>>,
    ) -> String {
        let (Some(Some(before)), Some(Some(after))) = (before, after) else {
            return "no result".to_owned();
        };
        let change = explore::change(before, after);
        let figures = self.figures(&change);
        match figures.is_empty() {
            true => "no figure of this band moves".to_owned(),
            false => figures,
        }
    }

    /// The first figures of a change with their differences, and what it breaks.
    fn figures(&self, change: &Change) -> String {
        let results = || change.moved.iter().filter(|one| one.of.is_result());
        let first = results().filter(|one| one.is_headline());
        let rest = results().filter(|one| !one.is_headline());
        let mut said: Vec<String> = first
            .chain(rest)
            .take(FIGURES)
            .map(|one| format!("{} {}", one.of.path(), report::difference(one, self.digits)))
            .collect();
        let broken = change
            .broken
            .iter()
            .map(|one| format!("falls short: {}", one.message()));
        said.extend(broken);
        said.join("; ")
    }
}
