//! `annulet list`: what the program knows.

use crate::report;

use super::arguments::List;
use super::output::Output;
use super::status::Status;

pub(super) fn run(list: &List, output: &mut Output) -> Status {
    let what = list.what.as_deref().unwrap_or("");
    // A document is laid out by its reader.
    let width = if output.is_machine() {
        400
    } else {
        output.table()
    };
    let name = list.name.join(" ");
    let name = Some(name.as_str()).filter(|name| !name.is_empty());
    match report::list(what, name, width) {
        Ok(text) if output.is_machine() => {
            output.list(report::list_json(what, name, &text));
            Status::Well
        }
        Ok(text) => {
            output.result(&text);
            Status::Well
        }
        Err(message) => {
            output.complain(&message);
            Status::Wrong
        }
    }
}
