//! An outcome as cases for the runners of tests: that it is sound, the limits of each band, every requirement.

use crate::finding::{Finding, Weight};
use crate::report::{Case, Ended, severity};
use crate::source::Sources;

use super::Outcome;

impl Outcome {
    /// What must hold of the recipe, and the notes beside it.
    #[must_use]
    pub fn cases(&self, sources: &Sources) -> (Vec<Case>, Vec<String>) {
        let line = |one: &Finding| {
            let span = one.span()?;
            Some(sources.holding(span)?.place(span).line)
        };
        let say = |one: &&Finding| {
            let place = one.span().map(|span| sources.locate(span) + ": ");
            format!(
                "{}{} {}: {}",
                place.unwrap_or_default(),
                severity(one.weight()),
                one.code(),
                one.message()
            )
        };
        let case = |name: String, at: Option<usize>, short: Ended, found: &[&Finding]| Case {
            name,
            line: found.first().and_then(|one| line(one)).or(at),
            ended: if found.is_empty() { Ended::Well } else { short },
            said: found.iter().map(say).collect(),
        };
        let all = |weight: Weight| {
            let findings = self.findings.iter();
            findings.filter(move |one| one.weight() == weight)
        };
        let mut cases = Vec::new();
        let wrong: Vec<&Finding> = all(Weight::Wrong).collect();
        cases.push(case("is sound".to_owned(), None, Ended::Wrong, &wrong));
        let is_required = |one: &&Finding| {
            let at = one.span();
            self.verdicts.iter().any(|verdict| Some(verdict.at) == at)
        };
        let mut left: Vec<&Finding> = all(Weight::Short).filter(|one| !is_required(one)).collect();
        for named in &self.recipe.names {
            if self
                .chosen
                .as_ref()
                .is_some_and(|chosen| *chosen != named.name)
            {
                continue;
            }
            let is_its = |one: &&Finding| {
                let band = one.identity().and_then(|of| of.band.as_deref());
                band == Some(named.name.as_str())
            };
            let (its, others) = left.into_iter().partition(is_its);
            left = others;
            let its: Vec<&Finding> = its;
            let at = sources.holding(named.at);
            let at = at.map(|source| source.place(named.at).line);
            let evaluated = self
                .evaluations
                .iter()
                .any(|one| one.band.name == named.name);
            let mut found = case(
                format!("{} keeps its limits", named.name),
                at,
                Ended::Short,
                &its,
            );
            if !evaluated {
                found.ended = Ended::Wrong;
                found
                    .said
                    .push(format!("{} could not be evaluated", named.name));
            }
            cases.push(found);
        }
        cases.push(case(
            "nothing else falls short".to_owned(),
            None,
            Ended::Short,
            &left,
        ));
        for verdict in &self.verdicts {
            let at = sources.holding(verdict.at);
            let margin = match verdict.margin.as_str() {
                "" => String::new(),
                margin => format!(", {margin}"),
            };
            let ended = match verdict.holds {
                Some(true) => Ended::Well,
                Some(false) => Ended::Short,
                None => Ended::Wrong,
            };
            cases.push(Case {
                name: format!("requires {}", verdict.what),
                line: at.map(|source| source.place(verdict.at).line),
                ended,
                said: vec![format!("{}{margin}", verdict.found)],
            });
        }
        let notes = all(Weight::Note);
        (cases, notes.map(|one| say(&one)).collect())
    }
}
