//! `annulet list`: what the program knows.

use crate::catalogue;
use crate::report::{Listing, listing};
use crate::source::printable;
use crate::suggest::{listed, nearest};

use super::Status;
use super::arguments::List;
use super::output::Output;

pub(super) fn run(list: &List, output: &mut Output) -> Status {
    let words = || Listing::ALL.iter().map(|(word, _)| *word);
    let Some((_, what)) = Listing::ALL.iter().find(|(word, _)| *word == list.what) else {
        let asked = printable(&list.what);
        output.complain(&match nearest(&asked, words()) {
            Some(near) => format!("there is no list of `{asked}`; did you mean `{near}`?"),
            None => format!(
                "there is no list of `{asked}`; lists are {}",
                listed(words())
            ),
        });
        return Status::Wrong;
    };
    match listing(*what, list.name.as_deref()) {
        Some(text) => {
            output.result(&text);
            Status::Well
        }
        None => {
            let name = printable(list.name.as_deref().unwrap_or(""));
            if let Some(undefined) = catalogue::undefined()
                .iter()
                .find(|one| *what == Listing::Sizes && one.word == name)
            {
                output.complain(&format!(
                    "`{name}` is not a defined size system: {}",
                    undefined.reason
                ));
                return Status::Wrong;
            }
            let known = names(*what);
            output.complain(&match nearest(&name, known.iter().map(String::as_str)) {
                Some(near) => format!("`{}` has no `{name}`; did you mean `{near}`?", list.what),
                None => format!(
                    "`{}` has no `{name}`; `annulet list {}` shows all",
                    list.what, list.what
                ),
            });
            Status::Wrong
        }
    }
}

fn names(what: Listing) -> Vec<String> {
    match what {
        Listing::Alloys => catalogue::alloy_names().map(str::to_owned).collect(),
        Listing::Sizes => catalogue::system_words().map(str::to_owned).collect(),
        Listing::Profiles => crate::model::fields::PROFILES
            .iter()
            .map(|kind| (*kind).to_owned())
            .collect(),
        Listing::Units | Listing::Results | Listing::Fields | Listing::Schema => Vec::new(),
    }
}
