//! One entry for files, standard input, overrides and questions: text in, evaluations and findings out.
//!
//! A [`Session`] keeps the sources, so that findings can point into any of them. It does no input or
//! output: whoever owns it reads the files and prints what comes back.

mod anew;
mod binds;
mod broken;
mod cases;
mod choosing;
mod clauses;
mod compared_word;
mod concern;
mod contour;
mod difference;
mod digest;
mod dotted;
mod drawings;
mod edit;
mod error;
mod exploring;
mod fingerprint;
mod gauge;
mod grown;
mod holders;
mod in_rows;
mod limit;
mod lines;
mod machine;
mod many;
mod meets;
mod misspelt;
mod names;
mod numbers;
mod of_blocks;
mod order_difference;
mod order_line;
mod order_results;
mod ordered;
mod other_size;
mod overrides;
mod patch;
mod placed;
mod prepared;
mod question;
mod readings;
mod relative;
mod requirement;
mod rests_of;
mod settle;
mod shortened;
mod sides;
mod size_run;
mod solving;
mod stepped;
mod stepped_axis;
mod sure;
mod sweeping;
mod tallied;
mod touched;
mod unplaced;
mod unused;
mod used;
mod why;

pub use anew::Resolver;
pub use choosing::CHOOSE_WORDS;
pub use clauses::{Clauses, clauses, listed_parts};
pub use concern::Asked;
pub use contour::ContourAsked;
pub use difference::{State, difference};
pub(crate) use edit::put_block;
pub use edit::with_block;
pub use error::SessionError;
pub use gauge::{
    Gauged, GaugedClash, GaugedFit, GaugedOpen, InHand, OffBy, Readings, SoughtNumber,
};
pub use lines::LaidLines;
pub use misspelt::is_misspelt;
pub use overrides::Targets;
pub use placed::band_names;
pub use prepared::{Elsewhere, Prepared};
pub use relative::is_relative;
pub use settle::Calibrated;
pub use sides::{SOLID, Side};
pub use solving::SOLVE_WORDS;
pub use sweeping::{MANY_ROWS, MOST_ROWS, SWEEP_WORDS, Sweep};
pub use tallied::{Batch, TalliedBatch, written_grams};
pub(crate) use touched::touched;
pub use used::{Library, NoLibrary, Opened};

use std::sync::{Arc, OnceLock};

use rustc_hash::FxHashMap;

use crate::evaluate::{Evaluation, Ordered, Verdict};
use crate::finding::{Finding, Weight};
use crate::model::{Day, Recipe};
use crate::source::Sources;

use order_line::Line;

/// What is asked of a recipe beside its text.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// Overrides as `PATH=VALUE`; their order does not matter.
    pub sets: Vec<String>,
    /// What is tried, each laid over those before it.
    pub tries: Vec<Tried>,
    /// The band that unqualified paths mean.
    pub band: Option<String>,
    /// The day that ages count to.
    pub on: Option<Day>,
}

impl Request {
    /// What lies over the recipe, each as it was written.
    #[must_use]
    pub fn over(&self) -> Vec<String> {
        let tries = self.tries.iter().map(|tried| match &tried.band {
            Some(band) => format!("{band}: {}", tried.line),
            None => tried.line.clone(),
        });
        self.sets.iter().cloned().chain(tries).collect()
    }
}

/// A recipe line laid over a recipe, not yet written into it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tried {
    /// The line.
    pub line: String,
    /// The band that its unqualified paths mean.
    pub band: Option<String>,
    /// Where it was typed, as long as it is new.
    pub typed: Option<Typed>,
}

impl Tried {
    /// How many bytes stand before it where it was typed, all of them line ends.
    pub(crate) fn before(&self) -> usize {
        self.typed.as_ref().map_or(0, Typed::before)
    }
}

/// Where a line was typed, so that what is wrong with it is found there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// What findings call the place.
    pub name: String,
    /// The number of its first line there.
    pub line: usize,
}

impl Typed {
    /// The text at its place: behind as many empty lines as stand before it.
    pub(crate) fn placed(&self, text: &str) -> String {
        "\n".repeat(self.before()) + text
    }

    /// How many bytes stand before it there, all of them line ends, which need not be read.
    pub(crate) fn before(&self) -> usize {
        self.line.saturating_sub(1)
    }
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
    /// Its orders, added up.
    pub orders: Vec<Ordered>,
    /// All findings, in the order of the text.
    pub findings: Vec<Finding>,
    /// The band that unqualified paths mean, when the request names one.
    pub chosen: Option<String>,
    /// Why bands of used files are impossible, which matters where something rests on them.
    aside: Vec<Finding>,
    /// The lines of its orders.
    lines: Vec<Vec<Line>>,
    /// The day that ages count to, where one is asked for.
    on: Option<Day>,
    /// What was found while each band was evaluated, by the band's name, and of what has none; it is among the
    /// findings too.
    of_bands: Vec<(String, Finding)>,
    /// Something was found while it was resolved.
    noted: bool,
    /// Some of it was resolved by itself and put in, so that its program does not say all that follows from what.
    patched: bool,
    /// An override was refused, so that nothing was computed.
    pub refused: bool,
    /// Where the evaluation of each band stands, from the first time on that one is sought.
    places: OnceLock<Arc<FxHashMap<String, usize>>>,
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
        let prepared = self.prepare(name, text, library);
        self.outcome(&prepared, request)
    }
}

impl Outcome {
    /// The heaviest finding.
    #[must_use]
    pub fn weight(&self) -> Option<Weight> {
        self.findings.iter().map(Finding::weight).max()
    }

    /// The evaluation of a band.
    #[must_use]
    pub fn evaluation(&self, name: &str) -> Option<&Evaluation> {
        let is_it = |one: &&Evaluation| one.band.name == name;
        let places = self.places.get_or_init(|| {
            let all = self.evaluations.iter().enumerate();
            Arc::new(
                all.map(|(place, one)| (one.band.name.clone(), place))
                    .collect(),
            )
        });
        let place = places.get(name).copied();
        // What was put in since then may have moved it.
        let known = place
            .and_then(|place| self.evaluations.get(place))
            .filter(is_it);
        known.or_else(|| self.evaluations.iter().find(is_it))
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

    /// Whether a finding is one of those of a band that could be resolved: impossible, or short of a limit.
    pub(crate) fn is_of_a_band(&self, finding: &Finding) -> bool {
        self.of_bands
            .iter()
            .any(|(_, known)| known.says_as(finding))
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
