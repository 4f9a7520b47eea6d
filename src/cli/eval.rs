//! `annulet eval`: each band on a screen, whole or in one part; as text, JSON or CSV.

use crate::report::{self, Due, ReportExtent, ReportPart, ReportWays, TextLayout};

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
    let extent = match eval.part.as_deref().and_then(ReportPart::of) {
        Some(part) => ReportExtent::Part(part),
        None if eval.full => ReportExtent::Full,
        None => ReportExtent::Card,
    };
    let layout = TextLayout {
        digits: eval.digits.into(),
        width: output.page(),
    };
    let (mut first, mut rounded) = (true, false);
    let mut due = Due::default();
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
        if eval.csv {
            let file = prepared.files().first().map_or("", |file| file);
            return output.result(&report::csv(file, outcome.shown()));
        }
        let mut reports: Vec<String> = outcome
            .shown()
            .inspect(|evaluation| due.add(evaluation))
            .map(|evaluation| report::report(evaluation, extent, layout))
            .collect();
        reports.extend(report::beside(
            &outcome.orders,
            &outcome.verdicts,
            extent,
            layout,
        ));
        reports.retain(|text| !text.is_empty());
        if reports.is_empty() {
            return;
        }
        reports.extend(report::over_told(&request.over(), layout));
        let gap = if first && !output.has_drawn() {
            ""
        } else {
            "\n"
        };
        first = false;
        let text = format!("{gap}{}", reports.join("\n"));
        rounded |= text.contains('\u{2248}');
        output.result(&text);
    };
    // A card or a part fits the screen, and says itself what falls short; a whole report does not.
    let told_first = output.on_one_screen() && extent != ReportExtent::Full && !eval.csv;
    let batch = Batch::of(&eval.files, common, eval.read).told_first(told_first);
    let status = batch.run(output, &mut print);
    if output.is_machine() || eval.csv || eval.read {
        return status;
    }
    let closing = report::closing(&due, rounded, extent, ReportWays::CALL, layout);
    match extent {
        ReportExtent::Part(part) if first && closing.is_empty() && status < Status::Wrong => {
            output.note(&format!("no band has anything under `{}`", part.word()));
        }
        // Where no band came to anything there is nothing more of it.
        _ if first && extent == ReportExtent::Card => {}
        _ if closing.is_empty() => {}
        _ => output.result(&format!("{}{closing}", if first { "" } else { "\n" })),
    }
    status
}
