//! A recipe read once and evaluated many times, whole or in part.
//!
//! Reading is by far the longest part of an evaluation. A [`Prepared`] recipe keeps its trees, so that a
//! what-if costs only what it moves.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::evaluate;
use crate::finding::{Finding, Weight, settle};
use crate::model::{
    Band, Drawings, Holder, Mentions, ModelError, Nested, Override, Recipe, Wanted,
};
use crate::schema::BlockId;
use crate::source::{SourceId, Sources, Span};
use crate::syntax::{self, ast};
use crate::words;

use super::broken::Broken;
use super::drawings::{DrawnFile, drawings};
use super::names::Names;
use super::{Library, Outcome, Request, Session};

/// A recipe and the files that it uses, read.
#[derive(Debug)]
pub struct Prepared {
    /// The recipe's own source.
    pub id: SourceId,
    /// Its tree, and those of the files that it uses.
    trees: Vec<Nested>,
    /// Their names: of the recipe as it was given, of the others as findings call them.
    files: Vec<String>,
    findings: Vec<Finding>,
    mentions: Mentions,
    broken: Broken,
    names: Names,
    /// The drawings that cuts name.
    drawings: Drawings,
    /// The files that they were read from.
    drawn_files: Vec<DrawnFile>,
}

/// A block that lies in a used file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elsewhere {
    /// The band, or the block.
    pub name: String,
    /// The file.
    pub file: String,
    /// What can be done beside changing it there.
    pub help: String,
}

impl Prepared {
    /// The recipe's own tree.
    #[must_use]
    pub fn tree(&self) -> Option<&ast::Tree> {
        self.trees.first().map(|tree| &**tree)
    }

    /// The entry of a band, here or in a used file.
    #[must_use]
    pub fn band(&self, name: &str) -> Option<&ast::Entry> {
        let mut trees = self.trees.iter();
        trees.find_map(|tree| super::holders::find_band(tree, name))
    }

    /// The names that blocks of a kind give: `alloy`, `profile`.
    #[must_use]
    pub fn named(&self, kind: &str) -> Vec<String> {
        let entries = self.trees.iter().flat_map(|tree| ast::entries(&tree.items));
        entries
            .filter(|entry| entry.head_name() == Some(kind))
            .filter_map(|entry| entry.values.first().and_then(super::names::single_name))
            .collect()
    }

    /// The recipe, the files that it uses and the drawings that it names, by the names that findings call them.
    #[must_use]
    pub fn files(&self) -> &[String] {
        &self.files
    }

    /// What mentions what at the top level.
    #[must_use]
    pub fn mentions(&self) -> &Mentions {
        &self.mentions
    }

    /// The names of its top level.
    pub(super) fn names(&self) -> &Names {
        &self.names
    }

    /// Where what an override belongs to lies in a used file, so that it cannot be written into this one. A `let`,
    /// and a block without a name, can be: the recipe's own is laid over that of a used file.
    pub(super) fn elsewhere(&self, holder: &Holder, sources: &Sources) -> Option<Elsewhere> {
        let name = match holder {
            Holder::Lets | Holder::Block(_, None) => return None,
            Holder::Block(word, _) if BlockId::of_ring(word).is_some() => return None,
            Holder::Band(name) | Holder::Block(_, Some(name)) => name,
        };
        let mut trees = self.trees.iter();
        let own = trees.next()?;
        if super::holders::find_holder(own, holder).is_some() {
            return None;
        }
        let entry = trees.find_map(|tree| super::holders::find_holder(tree, holder))?;
        let file = sources.holding(entry.span)?.name.to_string();
        let help = match holder {
            Holder::Band(_) => {
                format!("make a variant of it: `variant mine of {name} {{ \u{2026} }}`")
            }
            Holder::Block(word, _) => {
                format!("copy it here: `{word} {name}` of this file stands before that one")
            }
            Holder::Lets => return None,
        };
        Some(Elsewhere {
            name: name.clone(),
            file,
            help,
        })
    }

    /// Its tree, where all of it could be read, each item stands for itself, and it rests on no other file.
    pub(super) fn alone(&self) -> Option<&Nested> {
        let [tree] = self.trees.as_slice() else {
            return None;
        };
        let is_alone = self.is_sound() && self.drawn_files.is_empty() && tree.is_in_order();
        is_alone.then_some(tree)
    }

    /// The drawings that cuts name.
    pub(super) fn drawings(&self) -> &Drawings {
        &self.drawings
    }

    /// Puts its last bands in the place of others.
    pub(super) fn put_last(&mut self, kept: usize, gone: &BTreeSet<String>, last: Nested) {
        self.mentions.put(gone, &last);
        self.names.put(gone, &last);
        if let Some(tree) = self.trees.first_mut() {
            tree.put_last(kept, last);
        }
    }

    /// Whether all of its text could be read.
    pub(super) fn is_sound(&self) -> bool {
        self.findings.is_empty()
    }

    /// Whether some of a band's text could not be read, so that what it comes to is not known.
    pub(super) fn is_broken(&self, band: &Band) -> bool {
        self.broken.holds(band)
    }

    /// Takes out names that nobody knows where a file that may define them could not be read.
    fn without_lost(&self, findings: &mut Vec<Finding>) {
        let lost = |finding: &Finding| finding.code() == "session::unread_file";
        if self.findings.iter().any(lost) {
            findings.retain(|one| one.code() != "model::unknown_name");
        }
    }

    /// The drawings that could be read.
    pub(super) fn drawn_files(&self) -> &[DrawnFile] {
        &self.drawn_files
    }

    /// The recipe's tree, and those of the files that it uses behind it.
    pub fn every_tree(&self) -> impl Iterator<Item = &ast::Tree> {
        self.trees.iter().map(|tree| &**tree)
    }

    /// The recipe resolved with what is laid over it, and what is wrong with it; none where nothing was read.
    pub(super) fn resolved(
        &self,
        overrides: &[Override],
        wanted: Wanted<'_>,
    ) -> Option<(Recipe, Vec<Finding>)> {
        let (tree, used) = self.trees.split_first()?;
        let drawings = &self.drawings;
        Some(crate::model::resolve(
            tree,
            used,
            overrides,
            &evaluate::Results,
            drawings,
            wanted,
        ))
    }

    /// The recipe's tree and those of the files that it uses.
    pub(super) fn trees(&self) -> &[Nested] {
        &self.trees
    }
}

impl Session {
    /// Reads a recipe and the files that it uses.
    pub fn prepare(&mut self, name: &str, text: &str, library: &mut dyn Library) -> Prepared {
        let id = self.sources.add(name, text);
        let mut findings = Vec::new();
        let mut trees = Vec::new();
        if let Some(source) = self.sources.get(id).cloned() {
            let parsed = syntax::parse(&source);
            findings.extend(parsed.findings);
            trees.push(Nested::of(parsed.value));
        }
        let used = self.used(trees.first(), library, &mut findings);
        let own = trees.iter().map(|tree| (tree, None));
        let others = used.iter().map(|(tree, id)| (tree, Some(id.as_str())));
        let (drawings, drawn_files) = drawings(own.chain(others), library);
        trees.extend(used.into_iter().map(|(tree, _)| tree));
        let last = u32::try_from(self.sources.count()).unwrap_or(u32::MAX);
        let read = (id.0 + 1..last).filter_map(|place| self.sources.get(SourceId(place)));
        let mut files = vec![name.to_owned()];
        files.extend(read.map(|source| source.name.to_string()));
        for file in &drawn_files {
            if !files.contains(&file.name) {
                files.push(file.name.clone());
            }
        }
        Prepared {
            id,
            files,
            mentions: Mentions::of(&trees),
            names: Names::of(&trees),
            broken: Broken::of(&trees, &findings),
            drawings,
            drawn_files,
            trees,
            findings,
        }
    }

    /// Resolves and evaluates all of a recipe.
    pub fn outcome(&mut self, prepared: &Prepared, request: &Request) -> Outcome {
        let mut outcome = self.evaluated(prepared, request, None);
        self.order(prepared, request, &mut outcome);
        outcome.on = request.on;
        let stale = outcome.stale(&outcome.recipe);
        outcome.find_in_common(stale);
        let mut findings = prepared.findings.clone();
        findings.append(&mut outcome.findings);
        self.nothing_to_do(prepared, &mut findings);
        outcome.findings = findings;
        outcome.judge(&self.sources);
        let mut findings = std::mem::take(&mut outcome.findings);
        prepared.without_lost(&mut findings);
        outcome.tell_unread(&mut findings);
        outcome.findings = findings;
        settle(&mut outcome.findings);
        outcome.identify(&prepared.trees);
        outcome
    }

    /// Resolves and evaluates some bands of a recipe, by name. The outcome has those only; its requirements
    /// are not judged.
    pub fn part(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        names: &BTreeSet<String>,
    ) -> Outcome {
        self.evaluated(prepared, request, Some(names))
    }

    fn evaluated(
        &mut self,
        prepared: &Prepared,
        request: &Request,
        names: Option<&BTreeSet<String>>,
    ) -> Outcome {
        let mut findings = Vec::new();
        let by_numbers = match names {
            None => self.set_by_numbers(prepared, request),
            Some(_) => None,
        };
        let overrides = match by_numbers {
            None => self.overrides(prepared, request, &mut findings),
            Some(_) => Vec::new(),
        };
        // Results as if an override had not been given would be taken for those with it.
        let refused = !findings.is_empty();
        let needed = names.map(|names| prepared.mentions.needs(names.iter().cloned()));
        let wanted = match (names, &needed) {
            (Some(names), Some(needed)) => Wanted::Only { names, needed },
            _ => Wanted::All,
        };
        let resolved = match by_numbers {
            None => prepared.resolved(&overrides, wanted),
            Some(recipe) => Some((recipe, Vec::new())),
        };
        let Some((recipe, problems)) = resolved else {
            return Outcome::default();
        };
        // What is wrong in a line from outside keeps it from being taken, as if it could not be read.
        let laid: Vec<Span> = overrides
            .iter()
            .flat_map(|layer| ast::entries(&layer.items))
            .map(|entry| entry.span)
            .collect();
        let in_laid = |finding: &Finding| {
            let labels = finding.labels();
            let at = labels.first().map(|(span, _)| *span);
            finding.weight() == Weight::Wrong
                && at.is_some_and(|at| {
                    laid.iter()
                        .any(|one| one.start <= at.start && at.end <= one.end)
                })
        };
        let refused = refused || problems.iter().any(in_laid);
        findings.extend(problems);
        prepared.without_lost(&mut findings);
        let noted = !findings.is_empty() || !prepared.is_sound();
        let mut outcome = match refused {
            true => Outcome {
                recipe,
                ..Outcome::default()
            },
            false => Outcome::of_bands(prepared, recipe),
        };
        let of_bands = outcome.of_bands.iter();
        findings.extend(of_bands.map(|(_, one)| one.clone()));
        outcome.findings = findings;
        outcome.chosen.clone_from(&request.band);
        outcome.noted = noted;
        outcome.patched = names.is_some();
        outcome.refused = refused;
        outcome
    }

    /// A recipe that says nothing, and has no mistake that would explain it.
    fn nothing_to_do(&self, prepared: &Prepared, findings: &mut Vec<Finding>) {
        let wrong = findings
            .iter()
            .any(|finding| finding.weight() == Weight::Wrong);
        let items = prepared.tree().map_or(&[][..], |tree| &tree.items);
        let says = ast::entries(items).any(|entry| entry.head_name() != Some("annulet"));
        if let Some(source) = self.sources.get(prepared.id)
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
    /// The bands of a recipe evaluated, with what is found while they are; nothing else of it.
    pub(super) fn of_bands(prepared: &Prepared, recipe: Recipe) -> Self {
        let mut outcome = Self::default();
        let sound = |band: &&Arc<Band>| !prepared.is_broken(band);
        for band in recipe.bands.iter().filter(sound) {
            let found = match evaluate::evaluate(band) {
                Ok(evaluation) => {
                    let limits = words::findings(&evaluation);
                    outcome.evaluations.push(evaluation);
                    limits
                }
                Err(why) if !band.used => words::barred(band, why),
                Err(why) => {
                    outcome.aside.extend(words::barred(band, why));
                    continue;
                }
            };
            if !band.used {
                let found = found.into_iter().map(|one| (band.name.clone(), one));
                outcome.of_bands.extend(found);
            }
        }
        evaluate::read_each_other(&outcome.evaluations);
        outcome.recipe = recipe;
        outcome
    }
}
