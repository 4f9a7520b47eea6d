//! The command line: arguments, files, standard streams, exit statuses. One small file a command.
//!
//! Results go to standard output, findings to standard error. This is the outermost layer: only here are
//! files opened, streams written and the environment read.

mod answer;
mod arguments;
mod ask;
mod batch;
mod bench;
mod check;
mod chosen;
mod color;
mod common;
mod compare;
mod completions;
mod contour;
mod diff;
mod digits;
mod draw;
mod drawing;
mod eval;
mod folders;
mod gauge;
mod input;
mod late;
mod lathe_calls;
mod library;
mod lines;
mod list;
mod look;
mod machine;
mod manual;
mod names;
mod offer;
mod output;
mod questions;
mod recipes;
mod refused;
mod rescued;
mod run;
mod saved;
mod scale_calls;
mod section;
mod serve;
mod served_files;
mod served_text;
mod settle;
mod sheet;
mod sought;
mod sought_calls;
mod status;
mod strip;
mod sure;
mod sweep;
mod taken;
mod tally;
mod tidy;
mod weighings;
mod why;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser;

use crate::model::Day;

use arguments::{Arguments, Command};
use machine::Machine;
use output::Output;

pub use status::Status;

/// Runs the program with its arguments; the first is its own name.
#[must_use]
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let words: Vec<OsString> = arguments.into_iter().collect();
    if completions::answered(&words) {
        return ExitCode::SUCCESS;
    }
    let words = questions::marked(words);
    let arguments = match Arguments::try_parse_from(&words) {
        Ok(arguments) => arguments,
        Err(error) => return refused::refuse(&error, &words),
    };
    let mut command = arguments.command.unwrap_or_default();
    questions::unmark(&mut command);
    let machine = |on: Option<&str>| {
        let machine = command.is_machine();
        machine.then(|| Machine::new(command.word(), on))
    };
    let common = match arguments.common.with(&command) {
        Ok(common) => common,
        Err(message) => {
            let output = Output::new(command.look(), false, machine(None));
            output.complain(&message);
            return output.finish(Status::Wrong);
        }
    };
    let laid = &common.laid;
    let on = laid.on.as_deref().filter(|on| Day::read(on).is_some());
    let mut output = Output::new(&common.look, laid.lenient, machine(on));
    let status = match &command {
        Command::Bench(of) => bench::run(&of.call, &common, &mut output),
        Command::Eval(of) => eval::run(&of.call, &common, &mut output),
        Command::Check(of) => check::run(&of.call, &common, &mut output),
        Command::Ask(of) => ask::run(&of.call, &common.laid, &mut output),
        Command::Compare(of) => compare::run(&of.call, &common.laid, &mut output),
        Command::Contour(of) => contour::run(&of.call, &common.laid, &mut output),
        Command::Completions(of) => completions::run(of.call.shell, &mut output),
        Command::Diff(of) => diff::run(&of.call, &common.laid, &mut output),
        Command::List(of) => list::run(&of.call, &mut output),
        Command::Man(of) => manual::run(of.call.command.as_deref(), &mut output),
        Command::Offer(of) => offer::run(&of.call, &common.laid, &mut output),
        Command::Run(of) => run::run(&of.call, &common.laid, &mut output),
        Command::Gauge(of) => gauge::run(&of.call, &common.laid, &mut output),
        Command::Settle(of) => settle::run(&of.call, &common.laid, &mut output),
        Command::Sure(of) => sure::run(&of.call, &common.laid, &mut output),
        Command::Tally(of) => tally::run(&of.call, &common.laid, &mut output),
        Command::Serve(_) => serve::run(&mut output),
        Command::Section(of) => section::run(&of.call, &common.laid, &mut output),
        Command::Sheet(of) => sheet::run(&of.call, &common.laid, &mut output),
        Command::Strip(of) => strip::run(&of.call, &common.laid, &mut output),
        Command::Choose(of) => sought::choose(&of.call, &common.laid, &mut output),
        Command::Solve(of) => sought::solve(&of.call, &common.laid, &mut output),
        Command::Sweep(of) => sweep::run(&of.call, &common.laid, &mut output),
        Command::Tidy(of) => tidy::run(&of.call, &mut output),
        Command::Why(of) => why::run(&of.call, &common.laid, &mut output),
    };
    output.finish(status)
}
