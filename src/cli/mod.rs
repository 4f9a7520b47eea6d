//! The command line: arguments, files, standard streams, exit statuses. One small file a command.
//!
//! Results go to standard output, findings to standard error. This is the outermost layer: only here are
//! files opened, streams written and the environment read.

mod arguments;
mod ask;
mod batch;
mod bench;
mod check;
mod color;
mod compare;
mod draw;
mod eval;
mod input;
mod library;
mod list;
mod offer;
mod output;
mod run;
mod why;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};
use output::Output;

/// Exit statuses, in rising order of how much is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// All well.
    Well = 0,
    /// The recipe is sound, but something falls short.
    Short = 1,
    /// The recipe, a file or the call is wrong.
    Wrong = 2,
}

impl From<Option<crate::finding::Weight>> for Status {
    fn from(weight: Option<crate::finding::Weight>) -> Self {
        match weight {
            Some(crate::finding::Weight::Wrong) => Self::Wrong,
            Some(crate::finding::Weight::Short) => Self::Short,
            Some(crate::finding::Weight::Note) | None => Self::Well,
        }
    }
}

/// Runs the program with its arguments; the first is its own name.
#[must_use]
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return arguments::refuse(&error),
    };
    let mut output = Output::new(&arguments.common);
    let bench = Command::Bench(arguments::Bench::default());
    let status = match arguments.command.as_ref().unwrap_or(&bench) {
        Command::Bench(bench) => bench::run(bench, &arguments.common, &mut output),
        Command::Eval(eval) => eval::run(eval, &arguments.common, &mut output),
        Command::Check(check) => check::run(check, &arguments.common, &mut output),
        Command::Ask(ask) => ask::run(ask, &arguments.common, &mut output),
        Command::Compare(compare) => compare::run(compare, &arguments.common, &mut output),
        Command::List(list) => list::run(list, &mut output),
        Command::Offer(offer) => offer::run(offer, &arguments.common, &mut output),
        Command::Run(sizes) => run::run(sizes, &arguments.common, &mut output),
        Command::Why(why) => why::run(why, &arguments.common, &mut output),
    };
    output.finish(status)
}
