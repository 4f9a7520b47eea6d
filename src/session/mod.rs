//! One entry for files, standard input, overrides and questions: text in, evaluations and findings out.
//!
//! A [`Session`] keeps the sources, so that findings can point into any of them. It does no input or
//! output: whoever owns it reads the files and prints what comes back.

mod error;
mod overrides;
mod question;
mod requirement;
mod used;
mod why;

pub use error::SessionError;
pub use used::{Library, NoLibrary, Opened};

use std::sync::Arc;

use crate::evaluate::{self, Evaluation, Verdict};
use crate::finding::{Finding, Weight, settle};
use crate::model::fields::Takes;
use crate::model::{Band, FieldValue, ModelError, Recipe, Value};
use crate::source::{SourceId, Sources, Span};
use crate::syntax::{self, ast};

/// What is asked of a recipe beside its text.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// Overrides as `PATH=VALUE`, in order.
    pub sets: Vec<String>,
    /// The band that unqualified paths mean.
    pub band: Option<String>,
}

/// Sources of one run.
#[derive(Clone, Debug, Default)]
pub struct Session {
    /// All texts, for findings to point into.
    pub sources: Sources,
}

/// What a recipe came to.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// What it defines.
    pub recipe: Recipe,
    /// Its bands, evaluated, in the order written; impossible ones left out. Bands of used files stand
    /// behind the recipe's own, for references to them.
    pub evaluations: Vec<Evaluation>,
    /// What it requires, judged.
    pub verdicts: Vec<Verdict>,
    /// All findings, in the order of the text.
    pub findings: Vec<Finding>,
    /// The band that unqualified paths mean, when the request names one.
    pub chosen: Option<String>,
    /// Why bands of used files are impossible, which matters where something rests on them.
    aside: Vec<Finding>,
}

impl Session {
    /// Reads, resolves and evaluates a recipe.
    ///
    /// # Example
    /// ```
    /// use annulet::session::{Request, Session};
    /// let mut session = Session::default();
    /// let text = "band b {\n  size 16 mm, width 5 mm, thickness 2 mm\n  profile flat, alloy sterling\n}";
    /// let outcome = session.run("r", text, &Request::default());
    /// assert!(outcome.findings.is_empty());
    /// // A pipe: pi * 5 * (10^2 - 8^2) mm3 of 10.36 g/cm3.
    /// assert!((outcome.evaluations[0].figures.weight - 5.858_442).abs() < 1e-6);
    /// ```
    pub fn run(&mut self, name: &str, text: &str, request: &Request) -> Outcome {
        self.run_with(name, text, request, &mut NoLibrary)
    }

    /// Reads, resolves and evaluates a recipe whose `use`s a library answers.
    pub fn run_with(
        &mut self,
        name: &str,
        text: &str,
        request: &Request,
        library: &mut dyn Library,
    ) -> Outcome {
        let id = self.sources.add(name, text);
        let mut findings = Vec::new();
        let Some(source) = self.sources.get(id).cloned() else {
            return Outcome::default();
        };
        let parsed = syntax::parse(&source);
        findings.extend(parsed.findings);
        let mut trees = vec![parsed.value];
        trees.extend(self.used(trees.first(), library, &mut findings));
        let before = findings.len();
        let overrides = self.overrides(&trees, request, &mut findings);
        // Results as if an override had not been given would be taken for those with it.
        let refused = findings.len() > before;
        let Some((tree, used)) = trees.split_first() else {
            return Outcome::default();
        };
        let (recipe, problems) = crate::model::resolve(tree, used, &overrides, &evaluate::Results);
        findings.extend(problems);
        self.nothing_to_do(id, tree, &mut findings);
        let broken = Broken::of(&trees, &findings);
        let mut evaluations = Vec::new();
        let mut aside = Vec::new();
        let sound = |band: &&Arc<Band>| !refused && !broken.holds(band);
        for band in recipe.bands.iter().filter(sound) {
            match evaluate::evaluate(band) {
                Ok(evaluation) => {
                    if !band.used {
                        findings.extend(evaluation.limits.iter().cloned());
                    }
                    evaluations.push(evaluation);
                }
                Err(impossible) if !band.used => findings.extend(impossible),
                Err(impossible) => aside.extend(impossible),
            }
        }
        let mut outcome = Outcome {
            recipe,
            evaluations,
            verdicts: Vec::new(),
            findings,
            chosen: request.band.clone(),
            aside,
        };
        outcome.judge(&self.sources);
        let mut findings = std::mem::take(&mut outcome.findings);
        outcome.tell_unread(&mut findings);
        outcome.findings = findings;
        settle(&mut outcome.findings);
        outcome
    }

    /// A recipe that says nothing, and has no mistake that would explain it.
    fn nothing_to_do(&self, id: SourceId, tree: &ast::Tree, findings: &mut Vec<Finding>) {
        let wrong = findings
            .iter()
            .any(|finding| finding.weight() == Weight::Wrong);
        let says = ast::entries(&tree.items).any(|entry| entry.head_name() != Some("annulet"));
        if let Some(source) = self.sources.get(id)
            && !says
            && !wrong
        {
            let end = source.text.len();
            let problem = ModelError::NoBand {
                at: source.span(end..end),
                source_name: source.name.to_string(),
            };
            findings.push(problem.into());
        }
    }
}

impl Outcome {
    /// The heaviest finding.
    #[must_use]
    pub fn weight(&self) -> Option<Weight> {
        self.findings.iter().map(Finding::weight).max()
    }

    /// The evaluations that a report shows: all, or the chosen band.
    pub fn shown(&self) -> impl Iterator<Item = &Evaluation> {
        self.evaluations.iter().filter(|evaluation| {
            let chosen = self
                .chosen
                .as_ref()
                .is_none_or(|name| *name == evaluation.band.name);
            chosen && !evaluation.band.used
        })
    }

    /// What rests on a value that was refused is not computed, but is no mistake of its own: the one behind it
    /// is in the list, or stands aside because it is a used file's.
    fn tell_unread(&self, findings: &mut Vec<Finding>) {
        let is_unread = |finding: &Finding| finding.code() == "model::unread";
        let wrong = |finding: &Finding| finding.weight() == Weight::Wrong && !is_unread(finding);
        if !findings.iter().any(is_unread) {
            return;
        }
        if !self.findings.iter().chain(&*findings).any(wrong) {
            findings.extend(self.aside.iter().cloned());
        }
        if self.findings.iter().chain(&*findings).any(wrong) {
            findings.retain(|finding| !is_unread(finding));
        }
    }
}

/// The bands and alloys in whose text something could not be read: what they would come to is not known.
struct Broken {
    bands: Vec<String>,
    alloys: Vec<String>,
}

impl Broken {
    fn of(trees: &[ast::Tree], findings: &[Finding]) -> Self {
        let mut broken = Self {
            bands: Vec::new(),
            alloys: Vec::new(),
        };
        let mut places: Vec<Span> = findings
            .iter()
            .filter(|finding| finding.code().starts_with("syntax::"))
            .filter_map(Finding::span)
            .collect();
        places.sort_unstable();
        let entries = || trees.iter().flat_map(|tree| ast::entries(&tree.items));
        for entry in entries() {
            let behind = places.partition_point(|place| place.start < entry.span.start);
            let first = places.get(behind);
            if first.is_none_or(|place| place.start >= entry.span.end) {
                continue;
            }
            let name = entry.values.first().and_then(overrides::single_name);
            match entry.head_name() {
                Some("band" | "variant") => broken.bands.extend(name),
                Some("alloy") => broken.alloys.extend(name),
                _ => {}
            }
        }
        // What is made of a broken band is broken with it, however long the chain.
        let variants: Vec<(String, String)> = entries()
            .filter(|entry| entry.head_name() == Some("variant"))
            .filter_map(|entry| {
                let name = |place: usize| entry.values.get(place).and_then(overrides::single_name);
                name(0).zip(name(2))
            })
            .collect();
        for _ in 0..variants.len() {
            let before = broken.bands.len();
            for (name, parent) in &variants {
                if broken.bands.contains(parent) && !broken.bands.contains(name) {
                    broken.bands.push(name.clone());
                }
            }
            if broken.bands.len() == before {
                break;
            }
        }
        broken
    }

    fn holds(&self, band: &Band) -> bool {
        let of_alloy = |field: &FieldValue| {
            matches!(&field.value, Value::Word(name)
                if field.field.takes == Takes::Alloy && self.alloys.contains(name))
        };
        self.bands.contains(&band.name) || band.fields.iter().any(of_alloy)
    }
}
