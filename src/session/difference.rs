//! What two states of a recipe differ in: each read and evaluated by itself, then laid side by side by meaning.

use std::collections::BTreeSet;

use serde_json::Value as Json;

use crate::evaluate::{Evaluation, Verdict};
use crate::explore::{
    BandDifference, Became, Difference, HEADLINES, MovedFigure, MovedText, MovedVerdict,
    by_meaning, change,
};
use crate::finding::Finding;
use crate::model::{Requirement, StatedPath, check, says_same, stated};
use crate::report;
use crate::schema::{ResultId, Subject};
use crate::source::Sources;
use crate::syntax::print_expression;
use crate::words::fineness;

use super::{Outcome, Prepared, order_difference};

/// One state of a recipe, read and evaluated.
#[derive(Clone, Copy, Debug)]
pub struct State<'a> {
    /// As read.
    pub prepared: &'a Prepared,
    /// What it came to.
    pub outcome: &'a Outcome,
    /// Its texts.
    pub sources: &'a Sources,
}

/// What one state of a recipe differs in from another.
///
/// What a used file states counts where it moves something: a shared alloy that no band of this recipe is made of is
/// none of its business.
///
/// # Example
/// ```
/// use annulet::session::{Request, Session, State, difference};
/// let text = |width: &str| format!(
///     "band b {{ size 16 mm, width {width}, thickness 2 mm, profile flat, alloy sterling }}");
/// let moved = |old: &str, new: &str| {
///     let mut sessions = [Session::default(), Session::default()];
///     let [old, new] = [(0, old), (1, new)].map(|(place, width)| {
///         let session = &mut sessions[place];
///         let prepared = session.prepare("r", &text(width), &mut annulet::session::NoLibrary);
///         (session.outcome(&prepared, &Request::default()), prepared)
///     });
///     difference(
///         State { prepared: &old.1, outcome: &old.0, sources: &sessions[0].sources },
///         State { prepared: &new.1, outcome: &new.0, sources: &sessions[1].sources },
///     )
/// };
/// assert!(moved("5 mm", "0.5 cm").is_none());
/// let wider = moved("5 mm", "6 mm");
/// assert_eq!(wider.bands[0].moved[0].of.path(), "width");
/// ```
#[must_use]
pub fn difference(old: State<'_>, new: State<'_>) -> Difference {
    let (own, shared) = outside_of_bands(old, new);
    let mut found = Difference {
        stated: own,
        bands: bands(old, new),
        orders: orders(old.outcome, new.outcome),
        ordered: order_difference::orders(&old.outcome.orders, &new.outcome.orders),
        requirements: requirements(old.outcome, new.outcome),
        came: only_in(&beside_requirements(new), &beside_requirements(old)),
        went: only_in(&beside_requirements(old), &beside_requirements(new)),
    };
    if !found.is_none() {
        found.stated.extend(shared);
    }
    found
}

/// What stands outside of bands: of the recipe itself, and of the files that it uses.
fn outside_of_bands(old: State<'_>, new: State<'_>) -> (Vec<MovedText>, Vec<MovedText>) {
    let of = |state: State<'_>, used: bool| -> Vec<StatedPath> {
        let trees = state.prepared.trees().iter().enumerate();
        let trees = trees.filter(|(place, _)| (*place > 0) == used);
        trees.flat_map(|(_, tree)| stated(tree)).collect()
    };
    let lets = |state: State<'_>, used: bool| -> Vec<(String, crate::model::Value)> {
        let lets = state.outcome.recipe.lets.iter();
        let lets = lets.filter(|one| {
            let own = one.places.last().and_then(|at| state.sources.holding(*at));
            let file = state.prepared.files().first();
            (own.map(|source| &*source.name) != file.map(String::as_str)) == used
        });
        lets.map(|one| (one.name.clone(), one.value.clone()))
            .collect()
    };
    let both = |used: bool| {
        let mut moved = Vec::new();
        let (before, after) = (lets(old, used), lets(new, used));
        let find = |all: &[(String, crate::model::Value)], name: &str| {
            let found = all.iter().find(|(known, _)| known == name);
            found.map(|(_, value)| value.clone())
        };
        for name in in_order(after.iter().chain(&before).map(|(name, _)| name.clone())) {
            let (one, other) = (find(&before, &name), find(&after, &name));
            let pair = one.as_ref().zip(other.as_ref());
            if !pair.is_some_and(|(one, other)| one.means_as(other)) {
                moved.push(MovedText {
                    path: format!("let {name}"),
                    before: one.as_ref().map(check::written),
                    after: other.as_ref().map(check::written),
                });
            }
        }
        let (before, after) = (of(old, used), of(new, used));
        moved.extend(texts(&before, &after, None, &|_| true));
        moved
    };
    (both(false), both(true))
}

/// What is stated otherwise in a band, or outside of all.
fn texts(
    before: &[StatedPath],
    after: &[StatedPath],
    band: Option<&str>,
    counts: &dyn Fn(&StatedPath) -> bool,
) -> Vec<MovedText> {
    let is_its = |one: &&StatedPath| one.band.as_deref() == band && counts(one);
    let find = |all: &[StatedPath], path: &str| {
        let found = all.iter().filter(is_its).find(|one| one.path == path);
        found.cloned()
    };
    let paths = after.iter().chain(before).filter(is_its);
    let mut moved = Vec::new();
    for path in in_order(paths.map(|one| one.path.clone())) {
        let (one, other) = (find(before, &path), find(after, &path));
        if !StatedPath::same(one.as_ref(), other.as_ref()) {
            moved.push(MovedText {
                path,
                before: one.as_ref().map(StatedPath::written),
                after: other.as_ref().map(StatedPath::written),
            });
        }
    }
    moved
}

/// Names in the order in which they first come.
fn in_order(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut known = BTreeSet::new();
    names.filter(|name| known.insert(name.clone())).collect()
}

fn bands(old: State<'_>, new: State<'_>) -> Vec<BandDifference> {
    let names = |state: State<'_>| -> Vec<String> {
        let names = state.outcome.recipe.names.iter();
        names.map(|named| named.name.clone()).collect()
    };
    let own = |state: State<'_>| {
        state
            .prepared
            .trees()
            .first()
            .map(stated)
            .unwrap_or_default()
    };
    let (before, after) = (own(old), own(new));
    let (had, has) = (names(old), names(new));
    let evaluated = |state: State<'_>, name: &str| {
        let mut all = state.outcome.evaluations.iter();
        all.find(|one| one.band.name == *name && !one.band.used)
            .cloned()
    };
    let mut found = Vec::new();
    for band in in_order(has.iter().chain(&had).cloned()) {
        let (one, other) = (evaluated(old, &band), evaluated(new, &band));
        let became = match (had.contains(&band), has.contains(&band)) {
            (false, _) => Became::New,
            (_, false) => Became::Gone,
            _ => match (&one, &other) {
                (Some(_), None) => Became::Impossible,
                (None, Some(_)) => Became::Possible,
                _ => Became::Other,
            },
        };
        let (moved, cautions) = match (&one, &other) {
            (Some(one), Some(other)) => {
                let all = change(one, other);
                let cautions = all.cautions.iter().map(|one| one.name).collect();
                (by_meaning(all), cautions)
            }
            (Some(one), None) => (headlines(one, true), Vec::new()),
            (None, Some(other)) => (headlines(other, false), Vec::new()),
            (None, None) => (Vec::new(), Vec::new()),
        };
        // What a band comes to by its fields is told by them, however it is written.
        let resolved = |stated: &StatedPath| {
            let is_known = |evaluation: &Evaluation| {
                let field = stated.field.map(|field| field.id);
                field.is_some_and(|id| evaluation.band.field(id).is_some())
            };
            one.as_ref().is_some_and(is_known) || other.as_ref().is_some_and(is_known)
        };
        let stated = match became {
            Became::New | Became::Gone => Vec::new(),
            _ => texts(&before, &after, Some(&band), &|one| !resolved(one)),
        };
        let difference = BandDifference {
            verdicts: verdicts(one.as_ref(), other.as_ref()),
            band,
            became,
            stated,
            moved,
            cautions,
        };
        let is_same = became == Became::Other
            && difference.stated.is_empty()
            && difference.moved.is_empty()
            && difference.verdicts.is_empty()
            && difference.cautions.is_empty();
        if !is_same {
            found.push(difference);
        }
    }
    found
}

/// The results of one side that a maker looks at first.
fn headlines(evaluation: &Evaluation, before: bool) -> Vec<MovedFigure> {
    let value = |id: &ResultId| Some((*id, evaluation.value(id.row())?));
    let all = HEADLINES.iter().filter_map(value);
    all.map(|(id, value)| MovedFigure {
        of: Subject::Result(id),
        before: before.then(|| value.clone()),
        after: (!before).then_some(value),
    })
    .collect()
}

/// What rulebooks say otherwise of a band.
fn verdicts(old: Option<&Evaluation>, new: Option<&Evaluation>) -> Vec<MovedText> {
    let (Some(old), Some(new)) = (old, new) else {
        return Vec::new();
    };
    let marking = |one: &'_ Evaluation| -> Vec<String> {
        let own = fineness::paths(one.band.marking.own_words());
        let asked = one.band.marking.asked.iter();
        own.chain(asked.map(|word| format!("fineness.{word}.verdict")))
            .collect()
    };
    let say = |of: &Evaluation, path: &str| {
        let found = fineness::asked(of, path);
        found.map(|value| report::value(&value, report::Digits::All))
    };
    let mut moved = Vec::new();
    for path in in_order(marking(new).into_iter().chain(marking(old))) {
        let (before, after) = (say(old, &path), say(new, &path));
        if before != after {
            moved.push(MovedText {
                path,
                before,
                after,
            });
        }
    }
    moved
}

/// Figures of orders that differ, each leaf of their machine output by itself.
fn orders(old: &Outcome, new: &Outcome) -> Vec<MovedText> {
    let leaves = |outcome: &Outcome| {
        let mut leaves = Vec::new();
        for order in report::orders_json(&outcome.orders) {
            let name = order.get("name").and_then(Json::as_str).map(str::to_owned);
            let name = name.map_or_else(|| "order".to_owned(), |name| format!("order {name}"));
            leaf(&order, &name, &mut leaves);
        }
        leaves
    };
    let (before, after) = (leaves(old), leaves(new));
    let find = |all: &[(String, String)], path: &str| {
        let found = all.iter().find(|(known, _)| known == path);
        found.map(|(_, text)| text.clone())
    };
    let paths = after.iter().chain(&before).map(|(path, _)| path.clone());
    in_order(paths)
        .into_iter()
        .map(|path| MovedText {
            before: find(&before, &path),
            after: find(&after, &path),
            path,
        })
        .filter(|one| one.before != one.after)
        .collect()
}

fn leaf(json: &Json, path: &str, leaves: &mut Vec<(String, String)>) {
    match json {
        Json::Object(map) => {
            for (key, value) in map.iter().filter(|(key, _)| *key != "name") {
                leaf(value, &format!("{path} {key}"), leaves);
            }
        }
        Json::Array(all) => {
            for (place, value) in all.iter().enumerate() {
                leaf(value, &format!("{path} {}", place + 1), leaves);
            }
        }
        Json::Null => {}
        Json::String(text) => leaves.push((path.to_owned(), text.clone())),
        other => leaves.push((path.to_owned(), other.to_string())),
    }
}

/// Requirements judged otherwise, with other figures, new or gone; one that is only written otherwise is the same.
fn requirements(old: &Outcome, new: &Outcome) -> Vec<MovedVerdict> {
    let judged = |of: &Outcome| -> Vec<(Requirement, Verdict)> {
        let pairs = of.recipe.requirements.iter().zip(&of.verdicts);
        pairs
            .map(|(one, verdict)| (one.clone(), verdict.clone()))
            .collect()
    };
    let same = |one: &(Requirement, Verdict), other: &(Requirement, Verdict)| {
        let said = match (&one.0.condition, &other.0.condition) {
            (Some(one), Some(other)) => says_same(one, other),
            // A rule to be met is said in words.
            _ => (one.1.what.split_whitespace()).eq(other.1.what.split_whitespace()),
        };
        one.0.title == other.0.title && said
    };
    let titled = |one: &(Requirement, Verdict), other: &(Requirement, Verdict)| {
        one.0.title.is_some() && one.0.title == other.0.title
    };
    let (mut before, after) = (judged(old), judged(new));
    let mut moved = Vec::new();
    for new in after {
        let place = before.iter().position(|old| same(old, &new));
        let place = place.or_else(|| before.iter().position(|old| titled(old, &new)));
        let old = place.map(|place| before.remove(place));
        let is_same = old.as_ref().is_some_and(|old| {
            let spelt = |of: &(Requirement, Verdict)| of.0.condition.as_ref().map(print_expression);
            // With other units figures read otherwise; what moved them is told of the band.
            let said = |of: &Verdict| (of.found.clone(), of.margin.clone());
            let figures = spelt(old) != spelt(&new) || said(&old.1) == said(&new.1);
            same(old, &new) && figures && old.1.holds == new.1.holds
        });
        if !is_same {
            moved.push(MovedVerdict {
                what: new.1.what.clone(),
                before: old.map(|(_, verdict)| verdict),
                after: Some(new.1),
            });
        }
    }
    moved.extend(before.into_iter().map(|(_, old)| MovedVerdict {
        what: old.what.clone(),
        before: Some(old),
        after: None,
    }));
    moved
}

/// Findings but those of requirements, which are told as such.
fn beside_requirements(state: State<'_>) -> Vec<Finding> {
    let verdicts = &state.outcome.verdicts;
    let is_told = |one: &Finding| {
        let at = one.span();
        let is_at = |verdict: &Verdict| verdict.holds == Some(false) && Some(verdict.at) == at;
        at.is_some() && verdicts.iter().any(is_at)
    };
    let findings = state.outcome.findings.iter();
    findings.filter(|one| !is_told(one)).cloned().collect()
}

/// Findings that the other side does not have, by what they are of and not by their figures.
fn only_in(of: &[Finding], not: &[Finding]) -> Vec<Finding> {
    let key = |one: &Finding| {
        let identity = one.identity().cloned().unwrap_or_default();
        // A message may say the file, and figures, in it.
        let words = one.message();
        let words = words.split_whitespace().filter(|word| {
            let figure = word.contains(|c: char| c.is_ascii_digit());
            !figure && !word.contains(['/', '\\'])
        });
        let what: String = match identity.band.is_some() || identity.wall.is_some() {
            true => String::new(),
            false => words.collect(),
        };
        (
            one.code(),
            identity.band.map(|band| band.to_string()),
            identity.field,
            identity.wall,
            what,
        )
    };
    let mut known: Vec<_> = not.iter().map(key).collect();
    let mut is_new = |one: &&Finding| {
        let key = key(one);
        match known.iter().position(|other| *other == key) {
            Some(place) => {
                known.swap_remove(place);
                false
            }
            None => true,
        }
    };
    of.iter().filter(|one| is_new(one)).cloned().collect()
}
