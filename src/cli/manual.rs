//! The manual, from the one definition of the command line.

use clap::{Command, CommandFactory};
use clap_mangen::Man;

use crate::source::printable;
use crate::suggest::{listed, nearest};

use super::arguments::Arguments;
use super::output::Output;
use super::status::Status;

/// Prints the page of the program, or of one of its commands, in the form that `man` reads.
pub(super) fn run(command: Option<&str>, output: &mut Output) -> Status {
    let mut whole = Arguments::command();
    whole.build();
    let page = match command {
        None => Some(whole.clone()),
        Some(word) => whole
            .find_subcommand(word)
            .cloned()
            .map(|page| page.display_name(format!("annulet-{word}"))),
    };
    let Some(page) = page else {
        let word = printable(command.unwrap_or_default());
        let words = || whole.get_subcommands().map(Command::get_name);
        output.complain(&match nearest(&word, words()) {
            Some(near) => format!("there is no command `{word}`; did you mean `{near}`?"),
            None => format!(
                "there is no command `{word}`; commands are {}",
                listed(words())
            ),
        });
        return Status::Wrong;
    };
    let mut text = Vec::new();
    match Man::new(page)
        .render(&mut text)
        .map(|()| String::from_utf8(text))
    {
        Ok(Ok(text)) => {
            output.result(&text);
            Status::Well
        }
        _ => {
            output.complain("the page cannot be written");
            Status::Wrong
        }
    }
}
