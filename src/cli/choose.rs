//! `annulet choose`: several fields at once for an aim under limits; what would have to give where nothing keeps them.

use crate::report::{self, document};
use crate::session::CHOOSE_WORDS;

use super::batch::Evaluated;
use super::common::Laid;
use super::output::Output;
use super::recipes::{asked, one};
use super::sought_calls::Seek;
use super::status::Status;
use super::sweep::statement;

pub(super) fn run(choose: &Seek, laid: &Laid, output: &mut Output) -> Status {
    if let Err(message) = choose.digits.beside(&[(choose.json, "--json")]) {
        output.complain(&message);
        return Status::Wrong;
    }
    let Some(done) = one(choose.file.as_deref(), &choose.words, laid, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let request = asked(laid).request;
    let text = statement(&choose.words, CHOOSE_WORDS);
    let (found, findings) = session.choose(&prepared, &request, &outcome, &text);
    output.findings(&findings, &session.sources);
    let Some(found) = found else {
        return Status::Wrong;
    };
    if output.is_machine() {
        output.recipe(|| document::RecipePart {
            choices: vec![report::chosen_json(&found)],
            ..document::RecipePart::of(prepared.files())
        });
    } else {
        output.result(&report::chosen(
            &found,
            choose.digits.into(),
            output.table(),
        ));
    }
    match found.best {
        None => Status::Unmet,
        Some(_) => Status::Well,
    }
}
