//! Words beside fields that take one, in a comparison: `require b.temper = hard`.

use crate::catalogue;
use crate::finding::Finding;
use crate::model::{ModelError, Value};
use crate::schema::{PROFILES, Subject, Takes, find_subject};
use crate::source::Span;
use crate::suggest::{listed, nearest};

use super::question::{Meant, Results};

impl Results<'_> {
    /// The word as a value; none where the path is no field that takes a word, or the word is a name of the recipe.
    /// The value is none after saying that no such word is known.
    pub(super) fn compared_word(
        &self,
        path: &str,
        word: &str,
        at: Span,
        findings: &mut Vec<Finding>,
    ) -> Option<Option<Value>> {
        let recipe = &self.outcome.recipe;
        if recipe.lets.iter().any(|one| one.name == word) {
            return None;
        }
        let Some(Meant::Of(band, rest)) = self.meant(path, at, &mut Vec::new()) else {
            return None;
        };
        let [Subject::Field(id)] = find_subject(rest)[..] else {
            return None;
        };
        let own = |names: &mut dyn Iterator<Item = &str>| -> Vec<String> {
            names.map(str::to_owned).collect()
        };
        let band = self.outcome.evaluation(&band).map(|one| &one.band);
        let known: Vec<String> = match id.row().takes {
            Takes::Word(choices) => own(&mut choices.iter().copied()),
            Takes::LengthOr(only) => own(&mut std::iter::once(only)),
            Takes::Profile => own(&mut PROFILES.iter().copied()),
            Takes::Alloy => {
                let written = recipe.alloys.iter().map(|alloy| alloy.name.as_str());
                let built = catalogue::alloy_names().map(|name| -> &str { name });
                own(&mut written.chain(built).chain(std::iter::once("none")))
            }
            Takes::Temper => {
                let metals = band.iter().flat_map(|band| band.metals());
                let tempers = metals.flat_map(|alloy| &alloy.tempers);
                own(&mut tempers.map(|temper| temper.name.as_str()))
            }
            _ => return None,
        };
        if known.iter().any(|known| known == word) {
            return Some(Some(Value::Word(word.to_owned())));
        }
        let near = nearest(word, known.iter().map(String::as_str)).map(str::to_owned);
        let help = match &near {
            Some(near) => format!("did you mean `{near}`?"),
            None if known.len() > 12 => "`annulet list alloys` shows the built-in ones".to_owned(),
            None => format!("it is one of {}", listed(known.iter().map(String::as_str))),
        };
        findings.push(
            ModelError::UnknownName {
                at,
                name: word.to_owned(),
                kind: "the word",
                help,
                nearest: near,
            }
            .into(),
        );
        Some(None)
    }
}
