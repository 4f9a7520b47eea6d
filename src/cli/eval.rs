//! `annulet eval`: the full report of each band, as text, JSON or CSV.

use crate::finding::Finding;
use crate::report;
use crate::session::{Outcome, Session};

use super::Status;
use super::arguments::{Common, Eval};
use super::check::{request, run_all};
use super::output::Output;

pub(super) fn run(eval: &Eval, common: &Common, output: &mut Output) -> Status {
    let mut session = Session::default();
    let (status, outcomes) = run_all(&eval.files, &request(common), &mut session, output);
    let Some(on) = super::check::day(common, output) else {
        return Status::Wrong;
    };
    let shown = outcomes.iter().flat_map(Outcome::shown);
    let findings: Vec<&Finding> = outcomes
        .iter()
        .flat_map(|outcome| &outcome.findings)
        .collect();
    if eval.json {
        let json = report::results(shown, findings.into_iter(), &session.sources, on.as_deref());
        output.result(&format!("{json:#}\n"));
    } else if eval.csv {
        output.result(&report::csv(shown));
    } else {
        let reports: Vec<String> = shown
            .map(|evaluation| report::report(evaluation, eval.digits.into()))
            .collect();
        output.result(&reports.join("\n"));
    }
    for outcome in &outcomes {
        output.findings(&outcome.findings, &session.sources);
    }
    status
}
