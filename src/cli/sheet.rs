//! `annulet sheet`: what is pinned beside the lathe, a page for each ring.

use std::collections::BTreeSet;

use crate::finding::{Finding, Weight};
use crate::model::money::Order;
use crate::report::{self, SheetOf, SheetPaper};
use crate::session::{Asked, Outcome, Side, Tried};
use crate::source::printable;

use super::batch::Evaluated;
use super::common::Laid;
use super::drawing::{Paper, Sheet, Written};
use super::output::Output;
use super::recipes::{asked, day, one};
use super::section::NOT_PLAIN;
use super::status::Status;

/// A ring that a sheet is wanted of.
struct Ring {
    side: Side,
    /// The size of a line of an order, where it is not the band's own.
    size: Option<String>,
    /// What stands on top of its sheet.
    job: Vec<(String, String)>,
    /// The order's day.
    on: Option<String>,
}

pub(super) fn run(call: &Sheet, laid: &Laid, output: &mut Output) -> Status {
    let form = match form(call, output) {
        Ok(form) => form,
        Err(message) => {
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let Some(on) = day(laid, output) else {
        return Status::Wrong;
    };
    let Some(done) = one(call.file.as_deref(), &call.names, laid, output) else {
        return Status::Wrong;
    };
    let Evaluated {
        mut session,
        prepared,
        outcome,
    } = done;
    let rings = match rings(&call.names, &outcome) {
        Ok(rings) => rings,
        Err(message) => {
            output.findings(&outcome.findings, &session.sources);
            output.complain(&message);
            return Status::Wrong;
        }
    };
    let names: BTreeSet<String> = rings
        .iter()
        .map(|ring| ring.side.band().to_owned())
        .collect();
    let about = Asked { names, order: None };
    let findings = outcome.about(&prepared, &about);
    output.findings(&findings, &session.sources);
    if findings.iter().any(|one| one.weight() == Weight::Wrong) {
        return Status::Wrong;
    }
    let mut found = Vec::new();
    for ring in &rings {
        let mut request = asked(laid).request;
        request.tries.extend(ring.size.as_ref().map(|size| Tried {
            line: format!("size {size}"),
            band: Some(ring.side.band().to_owned()),
            typed: None,
        }));
        match session.side(&ring.side, &prepared, &request, &outcome) {
            Ok(part) => found.push((ring, part, prepared.fingerprint(&request))),
            Err(wrong) => {
                output.findings(&wrong, &session.sources);
                output.complain(&format!("`{}` cannot be worked out", ring.side.title()));
                return Status::Wrong;
            }
        }
    }
    let over = asked(laid).request.over();
    let over: Vec<String> = over.iter().map(|line| printable(line)).collect();
    let of = found.iter().filter_map(|(ring, part, print)| {
        let evaluation = part.evaluations.first()?;
        let short = part
            .findings
            .iter()
            .filter(|one| one.weight() >= Weight::Short);
        let mut job = ring.job.clone();
        job.extend((!over.is_empty()).then(|| ("laid over".to_owned(), over.join("; "))));
        Some(SheetOf {
            title: ring.side.title(),
            evaluation,
            job,
            short: short.map(|one| printable(&told(one))).collect(),
            on: on.clone().or_else(|| ring.on.clone()),
            fingerprint: print.clone(),
            price: call.price,
        })
    });
    let of: Vec<SheetOf<'_>> = of.collect();
    let paper = match call.paper {
        Paper::A4 => SheetPaper::A4,
        Paper::Letter => SheetPaper::Letter,
    };
    let written = match form {
        SheetForm::Html => Written::to(&call.out).write(&report::sheets_html(&of, paper), output),
        SheetForm::Pdf => {
            let (bytes, plain) = report::sheets_pdf(&of, paper);
            if !plain {
                output.note(NOT_PLAIN);
            }
            Written::to(&call.out).write_bytes(&bytes, output)
        }
    };
    if let Err(message) = written {
        output.complain(&message);
        return Status::Wrong;
    }
    let all = found.iter().flat_map(|(_, part, _)| &part.findings);
    all.chain(&findings).map(Finding::weight).max().into()
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum SheetForm {
    Html,
    Pdf,
}

/// The form: as said, or by the ending of the file.
fn form(call: &Sheet, output: &Output) -> Result<SheetForm, String> {
    let said = match (call.html, call.pdf) {
        (true, _) => Some(SheetForm::Html),
        (_, true) => Some(SheetForm::Pdf),
        _ => None,
    };
    if call.out.is_none() && output.is_terminal() {
        return Err(
            "a sheet is for printing; write it with `--out NAME.pdf` or `--out NAME.html`"
                .to_owned(),
        );
    }
    let endings = [
        (".html", SheetForm::Html),
        (".htm", SheetForm::Html),
        (".pdf", SheetForm::Pdf),
    ];
    Written::to(&call.out).form(said, &endings, SheetForm::Html)
}

/// The rings that names mean: bands, the lines of orders; all bands without a name.
fn rings(names: &[String], outcome: &Outcome) -> Result<Vec<Ring>, String> {
    let ring = |name: &str| Ring {
        side: Side::Whole(name.to_owned()),
        size: None,
        job: Vec::new(),
        on: None,
    };
    if names.is_empty() {
        let all: Vec<Ring> = outcome.shown().map(|one| ring(&one.band.name)).collect();
        return match all.is_empty() {
            true => Err("the recipe has no band".to_owned()),
            false => Ok(all),
        };
    }
    let mut all = Vec::new();
    for name in names {
        let mut orders = outcome.recipe.orders.iter();
        let order = orders.find(|order| order.name.as_deref() == Some(name));
        match order {
            Some(order) => all.extend(lines(order)),
            None => all.push(ring(&outcome.known(name)?)),
        }
    }
    Ok(all)
}

/// The rings of an order.
fn lines(order: &Order) -> impl Iterator<Item = Ring> + '_ {
    let name = order.name.as_deref().map(printable).unwrap_or_default();
    let day = order.dated.map(|day| day.to_string());
    let said = |label: &str, text: String| (label.to_owned(), text);
    order.items.iter().map(move |item| {
        let mut job = vec![said("order", name.clone())];
        job.extend(
            order
                .customer
                .as_deref()
                .map(|of| said("for", printable(of))),
        );
        job.push(said("wanted", item.count.to_string()));
        Ring {
            side: Side::Whole(item.band.clone()),
            size: item.size.clone(),
            job,
            on: day.clone(),
        }
    })
}

/// What falls short, in a sentence; where it does so only where something is off, with what that is.
fn told(finding: &Finding) -> String {
    let message = finding.message();
    match finding
        .help()
        .filter(|help| help.contains("it holds as written"))
    {
        Some(help) => format!("{message}; {help}"),
        None => message,
    }
}
