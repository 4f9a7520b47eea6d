//! `annulet settle`: what a reading of the scale says of one number.

use serde_json::json;

use crate::finding::Finding;
use crate::report::{self, document};

use super::common::Laid;
use super::output::Output;
use super::recipes::one;
use super::scale_calls::Settle;
use super::status::Status;

pub(super) fn run(settle: &Settle, laid: &Laid, output: &mut Output) -> Status {
    let Some(done) = one(settle.file.as_deref(), &settle.path, laid, output) else {
        return Status::Wrong;
    };
    // That a reading is off the recipe is what is settled here.
    let findings = done.mistakes();
    output.findings(&findings, &done.session.sources);
    match done
        .outcome
        .settle(&settle.path.join(","), settle.by.as_deref())
    {
        Ok(found) if output.is_machine() => {
            let settled = json!({
                "band": found.band,
                "path": found.settled.number.path,
                "reading": found.reading.field.row().word(),
                "grams": found.reading.grams,
                "written": found.settled.number.written,
                "value": found.settled.number.wanted,
                "by-scale": found.settled.by_scale,
                "at-worst": found.settled.at_worst,
                "line": found.line,
                "remark": found.remark,
            });
            output.recipe(|| document::RecipePart {
                settled: vec![settled],
                ..document::RecipePart::of(done.prepared.files())
            });
        }
        Ok(found) => output.result(&report::settled(&found.settled, &found.line, &found.remark)),
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    }
    findings.iter().map(Finding::weight).max().into()
}
