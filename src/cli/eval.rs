//! `annulet eval`: the full report of each band, as text, JSON or CSV.

use crate::report;

use super::arguments::Eval;
use super::batch::Evaluated;
use super::common::Common;
use super::lines;
use super::output::Output;
use super::recipes::{self, Batch};
use super::status::Status;

pub(super) fn run(eval: &Eval, common: &Common, output: &mut Output) -> Status {
    if eval.lines {
        return lines::eval(eval, &common.laid, output);
    }
    let machine = [
        (eval.json, "--json"),
        (eval.csv, "--csv"),
        (eval.read, "--files"),
    ];
    if let Err(message) = eval.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    let mut first = true;
    let mut said = Vec::new();
    if eval.csv {
        output.result(&report::csv_header());
    }
    let request = recipes::asked(&common.laid).request;
    let mut print = |done: &Evaluated, output: &mut Output| {
        let Evaluated {
            session,
            prepared,
            outcome,
        } = done;
        if output.is_machine() {
            output.recipe(|| {
                let mut part = outcome.part(prepared.files(), &session.sources, true);
                part.fingerprints = Some(prepared.fingerprints(&request));
                part
            });
            return;
        }
        let text = if eval.csv {
            let file = prepared.files().first().map_or("", |file| file);
            report::csv(file, outcome.shown())
        } else {
            let mut reports: Vec<String> = outcome
                .shown()
                .map(|evaluation| report::report_after(evaluation, eval.digits.into(), &mut said))
                .collect();
            reports.extend(report::orders(&outcome.orders, eval.digits.into()));
            reports.extend(report::requirements(&outcome.verdicts));
            let gap = if first || reports.is_empty() {
                ""
            } else {
                "\n"
            };
            format!("{gap}{}", reports.join("\n"))
        };
        if !text.is_empty() {
            first = false;
        }
        output.result(&text);
    };
    Batch::of(&eval.files, common, eval.read).run(output, &mut print)
}
