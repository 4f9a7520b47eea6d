//! Questions that begin with a minus, which the parser of arguments would take for options.

use std::ffi::OsString;

use super::arguments::Command;

/// What marks such a question while the arguments are read.
const MARK: char = '\u{1}';

/// Options of `ask` and `why` that no value follows.
const FLAGS: &[&str] = &[
    "--json",
    "--plain",
    "--lines",
    "--quiet",
    "--lenient",
    "--help",
];

/// The arguments, questions that begin with a minus marked: `ask -b.width` is one, `ask -q` is none.
pub(super) fn marked(mut arguments: Vec<OsString>) -> Vec<OsString> {
    let Some(place) = arguments
        .iter()
        .position(|word| word == "ask" || word == "why")
    else {
        return arguments;
    };
    let mut is_value = false;
    for word in arguments.iter_mut().skip(place + 1) {
        let Some(text) = word.to_str() else { continue };
        if text == "--" {
            break;
        }
        let is_short = |letter: char| matches!(letter, 'q' | 'h' | 'V');
        let behind = text.strip_prefix('-').filter(|rest| !rest.starts_with('-'));
        let is_question = behind.is_some_and(|rest| !rest.chars().all(is_short));
        let takes = text.starts_with("--") && !text.contains('=') && !FLAGS.contains(&text);
        if is_question && !is_value {
            *word = format!("{MARK}{text}").into();
        }
        is_value = takes;
    }
    arguments
}

/// Takes the marks off again.
pub(super) fn unmark(command: &mut Command) {
    let unmark = |text: &mut String| {
        if text.starts_with(MARK) {
            text.remove(0);
        }
    };
    match command {
        Command::Ask(of) => of.call.questions.iter_mut().for_each(unmark),
        Command::Why(of) => unmark(&mut of.call.path),
        _ => {}
    }
}
