//! `annulet sure`: how far figures may be off, what that comes from, and limits at their worst.

use crate::finding::Finding;
use crate::report::{self, TextLayout, document};
use crate::schema::ResultId;

use super::common::Laid;
use super::output::Output;
use super::recipes::one;
use super::scale_calls::Sure;
use super::status::Status;

pub(super) fn run(sure: &Sure, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = sure.digits.beside(&[(sure.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(done) = one(
        sure.file.as_deref().or(sure.recipe.as_deref()),
        [],
        laid,
        output,
    ) else {
        return Status::Wrong;
    };
    let found = done.outcome.sure(&done.session.sources);
    let unit = |band: &str, id: ResultId| done.outcome.unit(band, id);
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            sure: vec![report::sure_json(&found, &unit, &done.session.sources)],
            ..document::RecipePart::of(done.prepared.files())
        });
    } else {
        let layout = TextLayout {
            digits: sure.digits.into(),
            width: output.page(),
        };
        output.result(&report::sure(&found, &unit, layout));
    }
    output.findings(&done.outcome.findings, &done.session.sources);
    done.outcome
        .findings
        .iter()
        .map(Finding::weight)
        .max()
        .into()
}
