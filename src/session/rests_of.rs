//! What an answer to a question rests on beside the recipe's own lengths.

use std::collections::BTreeSet;

use crate::evaluate::{Rest, rests};
use crate::schema::Subject;
use crate::schema::find_subject as find;
use crate::source::Sources;
use crate::syntax;

use super::Outcome;
use super::question::{Meant, Results};

impl Outcome {
    /// What an answer to a question rests on beside the recipe's own lengths, in words: that of every result in it.
    #[must_use]
    pub fn rests_of(&self, question: &str) -> Vec<&'static str> {
        let mut sources = Sources::default();
        let id = sources.add("question", question);
        let parsed = sources.get(id).map(syntax::parse_query);
        let Some(expr) = parsed.and_then(|parsed| parsed.value) else {
            return Vec::new();
        };
        let results = Results { outcome: self };
        let mut found = BTreeSet::new();
        crate::model::paths(&expr, &mut |path, _| {
            if let Some(rests) = results.rests_of_order(&path.0) {
                return found.extend(rests);
            }
            let meant = results.meant(&path.0, expr.span, &mut Vec::new());
            let Some(Meant::Of(band, rest)) = meant else {
                return;
            };
            if let ([Subject::Result(id)], Some(evaluation)) =
                (find(rest).as_slice(), self.evaluation(&band))
            {
                found.extend(rests(evaluation, id.row()));
            }
        });
        found.into_iter().map(Rest::word).collect()
    }
}
