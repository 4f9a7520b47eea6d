//! `annulet eval`: the full report of each band, as text, JSON or CSV.

use crate::report;

use super::arguments::{Common, Eval};
use super::batch::Evaluated;
use super::check::{Batch, day, request};
use super::input;
use super::output::Output;
use super::status::Status;

pub(super) fn run(eval: &Eval, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(&common.laid, output) else {
        return Status::Wrong;
    };
    let machine = [(eval.json, "--json"), (eval.csv, "--csv")];
    if let Err(message) = eval.digits.beside(&machine) {
        output.complain(&message);
        return Status::Wrong;
    }
    let files = input::expanded(&eval.files);
    let several = files.len() > 1;
    let mut first = true;
    let mut said = Vec::new();
    let mut print = |done: &Evaluated, output: &mut Output| {
        let text = if eval.json {
            let mut json = done.outcome.json(&done.session.sources, on.as_deref());
            if several && let Some(object) = json.as_object_mut() {
                object.insert("source".to_owned(), done.name.as_str().into());
            }
            let text = report::json_text(&json);
            match (several, first) {
                (false, _) => text,
                (true, true) => format!("[\n{}", text.trim_end()),
                (true, false) => format!(",\n{}", text.trim_end()),
            }
        } else if eval.csv {
            report::csv(done.outcome.shown(), first)
        } else {
            let mut reports: Vec<String> = done
                .outcome
                .shown()
                .map(|evaluation| report::report_after(evaluation, eval.digits.into(), &mut said))
                .collect();
            reports.extend(report::orders(&done.outcome.orders, eval.digits.into()));
            reports.extend(report::requirements(&done.outcome.verdicts));
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
    let batch = Batch {
        files: &files,
        request: request(&common.laid),
        jobs: common.many.jobs,
        stop: common.many.stop,
    };
    let status = batch.run(output, &mut print);
    if eval.json && several {
        output.result(if first { "[]\n" } else { "\n]\n" });
    } else if eval.csv && first {
        output.result(&report::csv(std::iter::empty(), true));
    }
    status
}
