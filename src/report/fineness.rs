//! The report's section on fineness: what each rulebook lets the band carry, and what must be said with it.

use rust_decimal::Decimal;

use crate::catalogue::Own;
use crate::evaluate::Evaluation;
use crate::fineness::{Precious, ReasonKind, Ruling, contacts};
use crate::model::{Mark, Value};
use crate::quantity::Length;
use crate::schema::FieldId;
use crate::source::printable;
use crate::words::fineness::{CLOSING, Judged, label};

use super::page::Page;

/// Writes the section.
pub(super) fn section(page: &mut Page, evaluation: &Evaluation) {
    let marking = &evaluation.band.marking;
    page.heading("fineness");
    for part in &evaluation.article().parts {
        let known = match &part.assay {
            Some(assay) if assay.note.is_empty() => format!("assayed {}", assay.figure.normalize()),
            Some(assay) => format!(
                "assayed {}, {}",
                assay.figure.normalize(),
                printable(&assay.note)
            ),
            None => "nominal, not assayed".to_owned(),
        };
        let held = precious(&part.contents);
        page.row(part.portion.word(), &format!("{held}; {known}"));
    }
    let solder = match (&marking.solder, marking.solder_stated) {
        (Some(solder), _) => format!("{}, as stated", solder.alloy.name),
        (None, true) => "none, as stated".to_owned(),
        (None, false) => "none stated; none counted".to_owned(),
    };
    page.row("solder", &solder);
    if let Some(plating) = &marking.plating {
        let thick = marking.plating_thick.map(micrometres);
        let thick = thick.unwrap_or_default();
        page.row(
            "plating",
            &format!("{}{thick}, not counted", printable(plating)),
        );
    }
    if let Some(mark) = &marking.mark {
        mark_row(page, evaluation, mark);
    }
    // Only rulebooks that the recipe names, or gives, are judged here: nobody sells under all of them.
    let is_asked = |word: &str| marking.asked.iter().any(|asked| asked == word);
    let is_own = |word: &str| marking.own.iter().any(|book| book.word == word);
    let named: Vec<&str> = marking
        .words()
        .filter(|word| is_asked(word) || is_own(word))
        .collect();
    for word in &named {
        let Some(judged) = Judged::of(evaluation, word) else {
            continue;
        };
        let own = marking.own.iter().find(|book| book.word == *word);
        let shadows = own.is_some_and(|book| book.own == Some(Own::Shadows));
        let mut line = line_of(&judged, is_asked(word));
        if shadows {
            line.push_str("; the recipe's own rulebook, in place of the built-in one");
        }
        rows(page, &printable(word), &printable(&line));
        if is_asked(word) {
            details(page, &judged);
        }
    }
    skin(page, evaluation);
    let name = &evaluation.band.name;
    let how = match named.first() {
        Some(word) => format!(
            "`annulet why {name}.fineness.{word}` gives clauses, conditions and what must be said. {CLOSING}"
        ),
        None => format!(
            "Not judged: `require {name} meets {}` asks for a mark, `annulet list rules` shows the rulebooks. {CLOSING}",
            example(evaluation)
        ),
    };
    page.prose(&how);
}

/// What is known of the fineness, in a line: the verdicts asked for, or what could be asked.
pub(super) fn in_short(evaluation: &Evaluation) -> String {
    let marking = &evaluation.band.marking;
    let asked = marking.words().filter(|word| {
        let own = || marking.own.iter().any(|book| book.word == *word);
        marking.asked.iter().any(|asked| asked == *word) || own()
    });
    let verdicts: Vec<String> = asked
        .filter_map(|word| {
            let judged = Judged::of(evaluation, word)?;
            let line = line_of(&judged, true);
            Some(printable(&format!("{word} {line}")))
        })
        .collect();
    if !verdicts.is_empty() {
        return verdicts.join("; ");
    }
    let article = evaluation.article();
    let known = article.parts.iter().map(|part| match &part.assay {
        Some(assay) => format!("assayed {}", assay.figure.normalize()),
        None => "not assayed".to_owned(),
    });
    let known: Vec<String> = known.collect();
    let held: Vec<String> = article
        .parts
        .iter()
        .map(|part| precious(&part.contents))
        .collect();
    // What is the same of all parts is said once.
    let one = |all: &[String]| all.windows(2).all(|pair| pair.first() == pair.last());
    let said = match (one(&held), one(&known)) {
        (true, true) => held.first().cloned().unwrap_or_default(),
        (_, is_one) => {
            let parts = article.parts.iter().zip(held.iter().zip(&known));
            let parts = parts.map(|(part, (held, known))| match is_one {
                true => format!("{} {held}", part.portion.word()),
                false => format!("{} {held}, {known}", part.portion.word()),
            });
            parts.collect::<Vec<_>>().join("; ")
        }
    };
    match known.first().filter(|_| one(&known)) {
        Some(known) if known == "not assayed" => format!("{said}, not assayed or judged"),
        Some(known) => format!("{said}, {known}, not judged"),
        None => format!("{said}, not judged"),
    }
}

/// The precious metals of a part with what it holds of each.
fn precious(contents: &[(String, Decimal)]) -> String {
    let held = contents
        .iter()
        .filter(|(element, _)| Precious::of(element).is_some());
    let held: Vec<String> = held
        .map(|(element, held)| format!("{element} {}", held.normalize()))
        .collect();
    match held.is_empty() {
        true => "base metal".to_owned(),
        false => held.join(", "),
    }
}

/// A claim that the band's own metal bears out, as an example.
fn example(evaluation: &Evaluation) -> String {
    let judged = evaluation.fineness("UK");
    let best = judged.and_then(|judged| judged.best());
    best.map_or_else(
        || "UK".to_owned(),
        |best| format!("UK {}", best.normalize()),
    )
}

/// A verdict in a line; why there is none is told where it was asked for.
fn line_of(judged: &Judged<'_>, asked: bool) -> String {
    let judgement = judged.judgement;
    if judgement.ruling == Ruling::Open && !asked {
        return "no verdict from the texts read".to_owned();
    }
    let margin = judgement
        .margin()
        .filter(|margin| !margin.is_sign_negative() && !margin.is_zero())
        .filter(|_| judgement.ruling == Ruling::Passes)
        .map(|margin| format!(", {} to spare", margin.normalize()))
        .unwrap_or_default();
    let line = judged.verdict_line();
    match line.split_once("; ") {
        Some((marks, rest)) => format!("{marks}{margin}; {rest}"),
        None => format!("{line}{margin}"),
    }
}

/// What is stated of a mark.
fn mark_row(page: &mut Page, evaluation: &Evaluation, mark: &Mark) {
    let deep = mark
        .deep
        .map(|deep| format!("{} mm deep", deep.value().normalize()));
    let hollow = evaluation.band.hollow.is_some();
    let on = mark.on.as_deref().filter(|_| hollow).map(|on| match on {
        "both" => "on shell and sleeve".to_owned(),
        part => format!("on the {part}"),
    });
    let struck = evaluation.band.field(FieldId::MarkStruck);
    let after = struck.is_some_and(|field| field.value == Value::Word("after".to_owned()));
    let made = if mark.lasered { "lasered" } else { "struck" };
    let how = match (hollow, after) {
        (false, _) if mark.lasered => "cut by laser".to_owned(),
        (false, _) => "struck with a punch".to_owned(),
        (true, true) => format!(
            "{made} after joining, when nothing holds the wall from behind: ask the office first"
        ),
        (true, false) => {
            format!("{made} before joining: ask the office first, it may want to see all parts")
        }
    };
    let all: Vec<String> = [deep, on, Some(how)].into_iter().flatten().collect();
    rows(page, "mark", &all.join(", "));
}

/// What the skin meets: nickel, cadmium and lead, where a part holds any.
fn skin(page: &mut Page, evaluation: &Evaluation) {
    for (place, one) in contacts(&evaluation.band).enumerate() {
        if place == 0 {
            page.heading("skin contact");
        }
        let verdict = match one.broken {
            Some(true) => "; broken",
            Some(false) => "; holds",
            None => "",
        };
        let text = format!(
            "{} {} per thousand ({} %); {}: {}{verdict} ({}, {})",
            one.limit.element,
            one.held.normalize(),
            (one.held / Decimal::TEN).normalize(),
            one.limit.market,
            one.limit.says,
            one.limit.text,
            one.limit.clause
        );
        rows(page, one.part.word(), &text);
    }
}

/// A row over as many lines as it takes.
fn rows(page: &mut Page, name: &str, text: &str) {
    page.row(name, text);
}

/// What goes with the verdict of a rulebook that the recipe asks for.
fn details(page: &mut Page, judged: &Judged<'_>) {
    // Why there is no verdict stands in the verdict itself.
    let open = judged.judgement.ruling == Ruling::Open;
    let told = |kind| kind == ReasonKind::Undecided && open;
    for said in judged.statements().filter(|said| !told(said.kind)) {
        let cite = if said.cite.is_empty() {
            String::new()
        } else {
            format!(" ({})", said.cite)
        };
        rows(
            page,
            "",
            &printable(&format!("{}: {}{cite}", label(said.kind), said.text)),
        );
    }
    for value in judged.memory() {
        rows(
            page,
            "",
            &format!("from memory, not read: {}", printable(&value)),
        );
    }
}

/// How thick a plating is, behind what it is of.
pub(super) fn micrometres(thick: Length) -> String {
    let thick = thick.value() * Decimal::ONE_THOUSAND;
    format!(" {} \u{00B5}m", thick.normalize())
}
