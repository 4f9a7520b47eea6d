//! `annulet list`: what the program knows.

use crate::report;

use super::arguments::List;
use super::output::Output;
use super::status::Status;

pub(super) fn run(list: &List, output: &mut Output) -> Status {
    match report::list(&list.what, list.name.as_deref()) {
        Ok(text) if output.is_machine() => {
            output.list(report::list_json(&list.what, list.name.as_deref(), &text));
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
