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
mod look;
mod offer;
mod output;
mod run;
mod saved;
mod status;
mod strip;
mod tidy;
mod why;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};
use output::Output;

pub use status::Status;

/// Runs the program with its arguments; the first is its own name.
#[must_use]
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return arguments::refuse(&error),
    };
    let command = arguments.command.unwrap_or_default();
    let common = match arguments.common.with(&command) {
        Ok(common) => common,
        Err(message) => {
            let output = Output::new(&look::Look::default());
            output.complain(&message);
            return output.finish(Status::Wrong);
        }
    };
    let mut output = Output::new(&common.look);
    let status = match &command {
        Command::Bench(of) => bench::run(&of.call, &common, &mut output),
        Command::Eval(of) => eval::run(&of.call, &common, &mut output),
        Command::Check(of) => check::run(&of.call, &common, &mut output),
        Command::Ask(of) => ask::run(&of.call, &common.laid, &mut output),
        Command::Compare(of) => compare::run(&of.call, &common.laid, &mut output),
        Command::List(of) => list::run(&of.call, &mut output),
        Command::Offer(of) => offer::run(&of.call, &common.laid, &mut output),
        Command::Run(of) => run::run(&of.call, &common.laid, &mut output),
        Command::Strip(of) => strip::run(&of.call, &common.laid, &mut output),
        Command::Tidy(of) => tidy::run(&of.call, &mut output),
        Command::Why(of) => why::run(&of.call, &common.laid, &mut output),
    };
    output.finish(status)
}
