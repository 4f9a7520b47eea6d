//! A call that asks for help, or cannot be understood: what was meant, in the manner that the call itself wants.

use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::process::ExitCode;

use clap::Error;
use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::schema;
use crate::source::{printable, safe_lines};
use crate::suggest::{listed, nearest};

use super::color;
use super::input::ENDING;
use super::look::{Look, Told, When};
use super::machine::Machine;
use super::output::Output;
use super::status::Status;

/// Help and version go to standard output with status 0, a wrong call to standard error with status 2.
pub(super) fn refuse(error: &Error, arguments: &[OsString]) -> ExitCode {
    let words: Vec<String> = words(arguments);
    let look = look(&words);
    if !error.use_stderr() {
        return help(error, &look);
    }
    let json = words.iter().any(|word| word == "--json");
    let machine = json.then(|| Machine::new(command(&words), None));
    let output = Output::new(&look, false, machine);
    let (text, help) = match hint(error) {
        Some(hint) => (hint, None),
        None => said(error),
    };
    output.misused(&text, help.as_deref());
    output.finish(Status::Wrong)
}

fn words(arguments: &[OsString]) -> Vec<String> {
    let behind = arguments.iter().skip(1);
    let words = behind.map(|word| word.to_string_lossy().into_owned());
    words.take_while(|word| word != "--").collect()
}

/// How findings are to be told, as far as a call that cannot be understood says so.
fn look(words: &[String]) -> Look {
    let value = |option: &str| {
        let joined = words
            .iter()
            .find_map(|word| word.strip_prefix(&format!("{option}=")));
        let place = words.iter().position(|word| word == option);
        let behind = place
            .and_then(|place| words.get(place + 1))
            .map(String::as_str);
        joined.or(behind)
    };
    Look {
        quiet: false,
        color: match value("--color") {
            Some("always") => Some(When::Always),
            Some("never") => Some(When::Never),
            _ => None,
        },
        findings: (value("--findings") == Some("line")).then_some(Told::Line),
    }
}

fn command(words: &[String]) -> &'static str {
    let known = super::arguments::WORDS.iter();
    let found = known
        .copied()
        .find(|known| words.iter().any(|word| word == known));
    found.unwrap_or("none")
}

/// Help or the version, as a result that may not reach whoever wants it.
fn help(error: &Error, look: &Look) -> ExitCode {
    let text = error.render();
    let mut output = Output::new(look, false, None);
    match color::wanted(look.color, &io::stdout()) {
        true => output.colored(&text.ansi().to_string()),
        false => output.result(&text.to_string()),
    }
    output.finish(Status::Well)
}

/// What was meant by a word that is no command.
fn hint(error: &Error) -> Option<String> {
    let text = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        _ => None,
    };
    if error.kind() != ErrorKind::InvalidSubcommand {
        return None;
    }
    let word = text(ContextKind::InvalidSubcommand)?;
    let shown = printable(&word);
    let known = super::arguments::WORDS;
    let begins = known.iter().find(|known| {
        word.len() > known.len() && word.starts_with(**known) || known.starts_with(&word)
    });
    Some(if word.ends_with(ENDING) || Path::new(&word).exists() {
        format!(
            "`{shown}` is no command but a file; `annulet eval {shown}` reports what it comes to"
        )
    } else if let Some(near) = begins
        .copied()
        .or_else(|| nearest(&word, known.iter().copied()))
    {
        format!("there is no command `{shown}`; did you mean `{near}`?")
    } else if !schema::find_subject(word.rsplit_once(' ').map_or(&*word, |(_, last)| last))
        .is_empty()
        || word.contains(['.', ' '])
    {
        format!(
            "`{shown}` is no command; `annulet ask {}` answers it",
            quoted(&shown)
        )
    } else {
        format!(
            "there is no command `{shown}`; commands are {}, and `annulet help COMMAND` tells of each",
            listed(known.iter().copied())
        )
    })
}

/// A question as a shell takes it.
fn quoted(question: &str) -> String {
    match question.contains(' ') {
        true => format!("\"{question}\""),
        false => question.to_owned(),
    }
}

/// What the parser of arguments says, without its own heading, and how the command is called.
fn said(error: &Error) -> (String, Option<String>) {
    // It repeats what was given, which may be the name of a stranger's file.
    let text = safe_lines(&error.render().to_string()).into_owned();
    let text = text.strip_prefix("error: ").unwrap_or(&text).trim_end();
    match text.split_once("\n\n") {
        Some((first, rest)) => (first.to_owned(), Some(rest.to_owned())),
        None => (text.to_owned(), None),
    }
}
