//! Completion in the shell, from the one definition of the command line.
//!
//! `annulet completions SHELL` prints what the shell needs once; from then on it calls the program with
//! [`VARIABLE`] set and the words typed so far.

use std::ffi::OsString;

use clap::CommandFactory;
use clap_complete::CompleteEnv;
use clap_complete::env::Shells;

use super::arguments::{Arguments, ShellName};
use super::output::Output;
use super::status::Status;

/// What the shell sets when it asks for completions.
const VARIABLE: &str = "ANNULET_COMPLETE";

/// The name that the program is called by.
const PROGRAM: &str = "annulet";

/// Whether the call was a shell's that asks for completions; it is answered then.
pub(super) fn answered(words: &[OsString]) -> bool {
    if std::env::var_os(VARIABLE).is_none() {
        return false;
    }
    let folder = std::env::current_dir().ok();
    let completing = CompleteEnv::with_factory(Arguments::command)
        .var(VARIABLE)
        .bin(PROGRAM)
        .completer(PROGRAM);
    // What cannot be completed is not worth a word behind the cursor.
    completing
        .try_complete(words.to_vec(), folder.as_deref())
        .unwrap_or(true)
}

/// Prints what a shell reads once to complete calls of the program.
pub(super) fn run(shell: ShellName, output: &mut Output) -> Status {
    let shells = Shells::builtins();
    let mut script = Vec::new();
    let written = shells
        .completer(shell.word())
        .map(|shell| shell.write_registration(VARIABLE, PROGRAM, PROGRAM, PROGRAM, &mut script));
    match (written, String::from_utf8(script)) {
        (Some(Ok(())), Ok(script)) => {
            output.result(&script);
            Status::Well
        }
        _ => {
            output.complain("the script cannot be written");
            Status::Wrong
        }
    }
}
