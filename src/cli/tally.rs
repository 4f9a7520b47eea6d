//! `annulet tally`: a batch of weighings from a CSV file beside the recipe.

use crate::finding::Finding;
use crate::report::{self, TextLayout, document};

use super::common::Laid;
use super::output::Output;
use super::recipes::one;
use super::scale_calls::Tally as Call;
use super::status::Status;
use super::weighings::weighings;

pub(super) fn run(call: &Call, laid: &Laid, output: &mut Output) -> Status {
    let batch = match weighings(&call.readings, call.column.as_deref()) {
        Ok(batch) => batch,
        Err(messages) => {
            for message in &messages {
                output.complain(message);
            }
            return Status::Wrong;
        }
    };
    let Some(done) = one(call.file.as_deref(), [&call.readings], laid, output) else {
        return Status::Wrong;
    };
    let findings = done.mistakes();
    output.findings(&findings, &done.session.sources);
    let (least, most) = (call.least.as_deref(), call.most.as_deref());
    let found = match done.outcome.tally(batch, least, most) {
        Ok(found) => found,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let (band, lines, of) = (&found.band, &found.lines, &found.tallied);
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            tallies: vec![report::tally_json(band, lines, of, &found.wanted)],
            ..document::RecipePart::of(done.prepared.files())
        });
    } else {
        let layout = TextLayout {
            width: output.page(),
            ..TextLayout::default()
        };
        output.result(&report::tally(band, lines, of, &found.wanted, layout));
    }
    match found.falls_short() {
        true => Status::Short,
        false => findings.iter().map(Finding::weight).max().into(),
    }
}
