//! Questions about a recipe: expressions over the fields and results of its bands.

use crate::evaluate::Evaluation;
use crate::finding::{Finding, Weight, is_full};
use crate::fineness::FinenessRead;
use crate::model::{
    Evaluator, LetValue, ModelError, NO_VALUE, Scope, Value, Written, alloy_field, of_field,
};
use crate::schema::find_subject as find;
use crate::schema::{self, RestsOn, ResultId, Subject};
use crate::source::Span;
use crate::suggest::{nearest, of_bands};
use crate::syntax::{self, ast};
use crate::words::{self, fineness};

use super::error::SessionError;
use super::names::WORDS;
use super::{Outcome, Session};

impl Session {
    /// The value of a question: an expression over fields and results of an outcome.
    ///
    /// # Errors
    /// `None`, with findings that say why.
    pub fn ask(&mut self, question: &str, outcome: &Outcome) -> (Option<Value>, Vec<Finding>) {
        let id = self.sources.add("question", question);
        let Some(source) = self.sources.get(id) else {
            return (None, Vec::new());
        };
        let parsed = syntax::parse_query(source);
        let mut findings = parsed.findings;
        let wrong = !findings.is_empty();
        let value = match parsed.value {
            Some(expr) if !wrong => {
                let mut scope = Results { outcome };
                Evaluator {
                    scope: &mut scope,
                    findings: &mut findings,
                }
                .value(&expr, None)
            }
            _ => None,
        };
        outcome.tell_unread(&mut findings);
        (value, findings)
    }
}

pub(super) fn ambiguous<'a>(
    name: &str,
    at: Span,
    choices: impl Iterator<Item = &'a str>,
) -> ModelError {
    let choices: Vec<String> = choices.map(|path| format!("`{path}`")).collect();
    ModelError::AmbiguousName {
        at,
        name: name.to_owned(),
        choices: crate::suggest::listed(choices.iter().map(String::as_str)),
    }
}

/// Refuses the name of a `let` that is a path of the one band meant too; a word of the band, such as `cut`, is no
/// value that a `let` could be taken for.
pub(super) fn two_meanings(
    name: &str,
    bands: &[String],
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<()> {
    let [band] = bands else { return Some(()) };
    let found = find(name);
    // An end that several paths have is no path, and so is none of a result that few ask for.
    let only = match found.as_slice() {
        [only] => Some(only),
        several => several.iter().find(|one| one.path() == name),
    };
    let measured = |subject: &&Subject| match subject {
        Subject::Field(id) => id.row().takes.is_measured(),
        Subject::Result(id) => id.path() == name,
    };
    let Some(subject) = only.filter(measured) else {
        return Some(());
    };
    let path = subject.path();
    findings.push(
        ModelError::TwoMeanings {
            at,
            other: None,
            name: name.to_owned(),
            meanings: format!("`{path}` of the band `{band}`, and a `let`"),
            help: format!("write `{band}.{path}`, or `let.{name}` for the `let`"),
        }
        .into(),
    );
    None
}

/// The band that an unqualified path means.
pub(super) fn choose(
    bands: &[String],
    wanted: Option<&str>,
    path: &str,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<String> {
    match (wanted, bands) {
        (Some(wanted), _) => return Some(wanted.to_owned()),
        (None, [only]) => return Some(only.clone()),
        (None, []) => {
            let help = "the recipe defines no band".to_owned();
            let name = path.to_owned();
            findings.push(
                ModelError::UnknownName {
                    at,
                    name,
                    kind: "the path",
                    help,
                    nearest: None,
                }
                .into(),
            );
        }
        (None, _) => {
            let choices: Vec<String> = bands.iter().map(|band| format!("{band}.{path}")).collect();
            findings.push(ambiguous(path, at, choices.iter().map(String::as_str)).into());
        }
    }
    None
}

/// Names in a question: results and fields of bands.
pub(super) struct Results<'a> {
    pub outcome: &'a Outcome,
}

/// What a path of a question means.
pub(super) enum Meant<'a> {
    /// A `let`.
    Let(&'a LetValue),
    /// A path behind a band's name.
    Of(String, &'a str),
}

impl Scope for Results<'_> {
    fn name(&mut self, path: &ast::Path, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        if let Some(setting) = self.setting(&path.0) {
            return Some(setting.value.value.clone());
        }
        if let Some((alloy, path)) = self.alloy(&path.0) {
            return alloy.value(path);
        }
        if let Some(found) = self.ordered(&path.0, at, findings) {
            return found;
        }
        if let Some((_, value)) = self.of_cutter(&path.0) {
            return Some(value.value.clone());
        }
        match self.meant(&path.0, at, findings)? {
            Meant::Let(one) => Some(one.value.clone()),
            Meant::Of(band, rest) => self.of_band(&band, rest, at, findings),
        }
    }

    fn word(
        &mut self,
        field: &ast::Path,
        word: &ast::Path,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Option<Value>> {
        self.compared_word(&field.0, word.single()?, at, findings)
    }

    fn written(&self, path: &ast::Path) -> Written {
        self.shares(&path.0)
    }
}

impl Results<'_> {
    /// What a path means by how it is written: a share, a bare number, or neither.
    fn shares(&self, path: &str) -> Written {
        if let Some(setting) = self.setting(path) {
            return of_field(setting.value.field.takes);
        }
        if let Some((_, path)) = self.alloy(path) {
            return of_field(alloy_field(path).takes);
        }
        if let Some((_, value)) = self.of_cutter(path) {
            return of_field(value.field.takes);
        }
        let at = Span::default();
        match self.meant(path, at, &mut Vec::new()) {
            Some(Meant::Let(one)) => one.written,
            Some(Meant::Of(_, rest)) => match find(rest).as_slice() {
                [Subject::Field(id)] => of_field(id.row().takes),
                [one] if one.is_share() => Written::Share,
                _ => Written::Other,
            },
            None => Written::Other,
        }
    }

    /// What a path means: behind a band's name; a full path of the one band that can be meant; a `let`; a
    /// short path of that band. `None` after saying why it means nothing.
    pub fn meant<'a>(
        &'a self,
        name: &'a str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Meant<'a>> {
        let recipe = &self.outcome.recipe;
        let qualified = name
            .split_once('.')
            .filter(|(band, _)| recipe.is_band(band));
        if let Some((band, rest)) = qualified {
            return Some(Meant::Of(band.to_owned(), rest));
        }
        let bands: Vec<String> = recipe
            .names
            .iter()
            .map(|named| named.name.clone())
            .collect();
        let of_lets = name.strip_prefix("let.");
        let sought = of_lets.unwrap_or(name);
        if let Some(found) = recipe.lets.iter().find(|known| known.name == sought) {
            let chosen = self.outcome.chosen.clone();
            let meant = chosen.map_or_else(|| bands.clone(), |band| vec![band]);
            if of_lets.is_none() {
                two_meanings(sought, &meant, at, findings)?;
            }
            return Some(Meant::Let(found));
        }
        let of_money = |path: &str| {
            ["prices.", "shop."]
                .iter()
                .any(|word| path.starts_with(word))
        };
        if recipe.faulty_lets.iter().any(|known| known == sought)
            || recipe.money_is_faulty && of_money(name)
        {
            findings.push(ModelError::Unread { at }.into());
            return None;
        }
        // What is no path of a band, and is one behind its first word, was to begin with a band's name.
        let of_cut = |name: &str| {
            let mut all = self.outcome.evaluations.iter();
            all.any(|one| one.band.cut_value(name).is_some())
        };
        if find(name).is_empty()
            && let Some((band, rest)) = name.split_once('.')
            && !find(rest).is_empty()
            && !(bands.is_empty() || band == "fineness" || WORDS.contains(&band) || of_cut(name))
        {
            let near = nearest(band, bands.iter().map(String::as_str));
            let help = of_bands(near, bands.iter().map(String::as_str));
            let at = Span {
                end: at.start + u32::try_from(band.len()).unwrap_or(0),
                ..at
            };
            findings.push(
                ModelError::UnknownName {
                    at,
                    name: band.to_owned(),
                    kind: "the band",
                    help,
                    nearest: near.map(str::to_owned),
                }
                .into(),
            );
            return None;
        }
        let chosen = self.outcome.chosen.as_deref();
        choose(&bands, chosen, name, at, findings).map(|band| Meant::Of(band, name))
    }

    fn of_band(
        &self,
        band: &str,
        path: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Value> {
        let Some(evaluation) = self.outcome.evaluation(band) else {
            // A path that no band has is a slip of its own, whatever else is wrong with the band.
            let faulty = self.outcome.recipe.is_band(band);
            if faulty && find(path).is_empty() && !path.starts_with("fineness") {
                findings.push(unknown_path(path, std::iter::empty(), at).into());
                return None;
            }
            return self.missing_band(band, at, findings);
        };
        let targets = find(path);
        match targets.as_slice() {
            [subject] => {
                let before = findings.len();
                let value = value_of(*subject, evaluation, at, findings);
                if value.is_none() && self.rests_on_mistake(*subject, evaluation) {
                    // What is wrong is in the list already.
                    findings.truncate(before);
                    findings.push(ModelError::Unread { at }.into());
                }
                value
            }
            [] => {
                if let Some(value) = evaluation.band.cut_value(path) {
                    return Some(value.value.clone());
                }
                if let Some(value) = fineness::asked(evaluation, path) {
                    return Some(value);
                }
                if let Some(open) = no_figure(path, evaluation, at) {
                    findings.push(open.into());
                    return None;
                }
                let rulebooks = evaluation.band.marking.words();
                let fineness: Vec<String> = fineness::paths(rulebooks).collect();
                let fineness = fineness.iter().map(String::as_str);
                findings.push(unknown_path(path, fineness, at).into());
                None
            }
            several => {
                findings.push(ambiguous(path, at, several.iter().map(|one| one.path())).into());
                None
            }
        }
    }

    /// Whether a result has no value because of a mistake that was reported.
    fn rests_on_mistake(&self, subject: Subject, evaluation: &Evaluation) -> bool {
        let wrong = |finding: &Finding| finding.weight() == Weight::Wrong;
        of_money(subject)
            && (self.outcome.recipe.money_is_faulty
                || words::findings(evaluation).iter().any(wrong))
    }

    /// A band that is not there, or could not be evaluated.
    fn missing_band(&self, band: &str, at: Span, findings: &mut Vec<Finding>) -> Option<Value> {
        let recipe = &self.outcome.recipe;
        if recipe.is_band(band) {
            findings.push(ModelError::Unread { at }.into());
            return None;
        }
        let names = || recipe.names.iter().map(|named| named.name.as_str());
        let near = match is_full(findings) {
            true => None,
            false => nearest(band, names()).map(str::to_owned),
        };
        let help = of_bands(near.as_deref(), names());
        findings.push(
            ModelError::UnknownName {
                at,
                name: band.to_owned(),
                kind: "the band",
                help,
                nearest: near,
            }
            .into(),
        );
        None
    }
}

/// A path that neither a field nor a result has, with the nearest.
fn unknown_path<'a>(path: &str, more: impl Iterator<Item = &'a str>, at: Span) -> ModelError {
    let known = schema::RESULTS.iter().map(|result| -> &str { result.path });
    let fields = schema::of_band().iter();
    let known = known
        .chain(fields.clone().map(|field| -> &str { field.path }))
        .chain(fields.map(|field| -> &str { field.word() }));
    let near = nearest(path, known.chain(more)).map(str::to_owned);
    let help = near.as_ref().map_or_else(
        || "`annulet list results` and `annulet list fields` show all paths".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    ModelError::UnknownName {
        at,
        name: path.to_owned(),
        kind: "the path",
        help,
        nearest: near,
    }
}

/// Whether a result is one of metal, cost and price.
fn of_money(subject: Subject) -> bool {
    matches!(subject, Subject::Result(id) if id.row().room == schema::Room::Money)
}

/// Why a rulebook gives no figure; none for other paths.
fn no_figure(path: &str, evaluation: &Evaluation, at: Span) -> Option<SessionError> {
    let (book, _) = FinenessRead::of(path)?;
    let judged = fineness::Judged::of(evaluation, book)?;
    Some(SessionError::NoFigure {
        at,
        name: format!("{}.{path}", evaluation.band.name),
        book: book.to_owned(),
        verdict: judged.verdict_line(),
    })
}

fn value_of(
    subject: Subject,
    evaluation: &Evaluation,
    at: Span,
    findings: &mut Vec<Finding>,
) -> Option<Value> {
    let value = match evaluation.meant(subject) {
        Subject::Result(id) => evaluation.value(id.row()),
        Subject::Field(id) => {
            let field = evaluation.band.field(id);
            field.map(|field| evaluation.band.with_tolerance(field))
        }
    };
    if value.is_none() {
        let path = subject.path();
        if let Some(open) = no_figure(path, evaluation, at) {
            findings.push(open.into());
            return None;
        }
        let name = format!("{}.{path}", evaluation.band.name);
        // Weights are known without any price.
        let priced = |id: ResultId| {
            let row = id.row();
            row.dimension.money != 0 || row.needs.contains(&RestsOn::R(ResultId::Cost))
        };
        let missing = match subject {
            Subject::Result(id) if priced(id) => words::money::all_missing(evaluation),
            _ => Vec::new(),
        };
        if !missing.is_empty() {
            findings.extend(missing.into_iter().map(|one| {
                let (name, what, help) = (name.clone(), one.what, one.help);
                Finding::from(SessionError::NotGiven {
                    at,
                    name,
                    what,
                    help,
                })
            }));
            return None;
        }
        let help = match subject {
            Subject::Result(id) if priced(id) && evaluation.account().is_none() => {
                format!(
                    "{}; `help prices` at the bench shows one",
                    words::money::NO_PRICES
                )
            }
            Subject::Field(id) => format!("the recipe does not state `{}`", id.path()),
            Subject::Result(id) => {
                format!(
                    "nothing in the recipe gives it; it would be: {}",
                    id.row().meaning
                )
            }
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name,
                kind: NO_VALUE,
                help,
                nearest: None,
            }
            .into(),
        );
    }
    value
}
