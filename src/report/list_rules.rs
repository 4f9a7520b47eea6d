//! The rulebooks of fineness as tables, every value with its text, clause and how it is known.

use crate::catalogue::{self, Cite, Rulebook};

use super::table::{fitted, row};

/// Rulebooks: word, what they are, official mark, gold, text read; the header first.
pub(super) fn rows() -> Vec<Vec<String>> {
    let mut rows = vec![row([
        "rules",
        "what they are",
        "official mark",
        "gold",
        "text read",
    ])];
    for book in catalogue::rulebook_words().filter_map(catalogue::rulebook) {
        let system = book.system.as_ref().map_or("not found", |word| &word.value);
        let dates: Vec<&str> = book.texts.iter().map(|text| text.date.as_str()).collect();
        let gold = match (
            book.standards.get("gold"),
            book.any.contains_key("gold"),
            &book.silent,
        ) {
            (_, _, Some(_)) => "no verdict".to_owned(),
            (Some(row), _, _) => {
                let figures: Vec<String> = row.value.iter().map(ToString::to_string).collect();
                format!(
                    "{}{}",
                    figures.join(" "),
                    if row.status == "read" {
                        ""
                    } else {
                        " (from memory)"
                    }
                )
            }
            (None, true, _) => "any figure".to_owned(),
            (None, false, _) => "none".to_owned(),
        };
        let first = dates.first().copied().unwrap_or("none found");
        rows.push(row([&book.word, &book.title, system, &gold, first]));
    }
    rows
}

/// All rulebooks, one a line.
pub(super) fn all(width: usize) -> String {
    format!(
        "{}\n`annulet list rules WORD` shows one with every value, clause and date; stored copies of the texts were read on 2026-11-25 and 2026-11-26\na recipe adds or shadows one: `rules house {{ like UK, standards gold [585, 750] }}`\n{}\n",
        fitted(&rows(), 0, width),
        crate::words::fineness::CLOSING
    )
}

/// One rulebook whole.
pub(super) fn one(word: &str) -> Option<String> {
    let book = catalogue::rulebook(word)?;
    let mut text = format!("{}: {}\n", book.word, book.title);
    if let Some(silent) = &book.silent {
        text.push_str(&format!("no verdict: {silent}\n"));
    }
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut add = |what: &str, value: String, cite: Cite<'_>| {
        rows.push(vec![what.to_owned(), value, book.cited(cite)]);
    };
    let with = |word: &catalogue::Word| {
        let says = word
            .says
            .as_ref()
            .map(|says| format!(": {says}"))
            .unwrap_or_default();
        format!("{}{says}", word.value)
    };
    if let Some(system) = &book.system {
        add("official mark", with(system), system.cite());
    }
    if let Some(one) = &book.voluntary {
        add(
            "official mark",
            format!("voluntary on {}", one.value.join(", ")),
            one.cite(),
        );
    }
    for (metal, one) in &book.standards {
        let mut figures: Vec<String> = one.value.iter().map(ToString::to_string).collect();
        if one.above {
            figures.push("and any figure above".to_owned());
        }
        if !one.with.is_empty() {
            let most = one.with_most.map(|most| format!(" up to {most}"));
            let with = one.with.join(", ");
            figures.push(format!("({with} counted{})", most.unwrap_or_default()));
        }
        add(
            &format!("standards of {metal}"),
            figures.join(" "),
            one.cite(),
        );
    }
    for (metal, one) in &book.any {
        add(&format!("figures of {metal}"), "any".to_owned(), one.cite());
    }
    for one in &book.words {
        add(
            &one.word,
            format!("{} {}", one.metal, one.figure),
            one.cite(),
        );
    }
    if let Some(karats) = &book.karats {
        let all: Vec<String> = karats
            .value
            .iter()
            .map(|(karat, parts)| format!("{karat} is {parts}"))
            .collect();
        add("karats", all.join(", "), karats.cite());
    }
    let shortfall = |one: &catalogue::Parts| {
        let soldered = one
            .soldered
            .map(|soldered| format!(", {soldered} if soldered"))
            .unwrap_or_default();
        let white = one.white.zip(one.white_from);
        let white = white
            .map(|(white, from)| format!(", {white} if soldered and white, from {from}"))
            .unwrap_or_default();
        format!("{}{soldered}{white}", one.value)
    };
    for (metal, one) in &book.part {
        add(
            &format!("shortfall of a part, {metal}"),
            shortfall(one),
            one.cite(),
        );
    }
    for (metal, one) in &book.whole {
        add(
            &format!("shortfall of the whole, {metal}"),
            shortfall(one),
            one.cite(),
        );
    }
    if let Some(one) = &book.whole_soldered {
        add(
            "shortfall of the whole",
            format!("{} with authorised lower solder", one.value),
            one.cite(),
        );
    }
    if book.assayed.as_ref().is_some_and(|one| one.value)
        && let Some(one) = &book.assayed
    {
        let what = "only of what an assay finds, of metal mixed to the figure".to_owned();
        add("shortfalls count", what, one.cite());
    }
    for (metal, one) in &book.among {
        add(
            &format!("{metal} under its least standard"),
            format!(
                "from {}, where {} make {} or more",
                one.value,
                one.group.join(", "),
                one.sum
            ),
            one.cite(),
        );
    }
    if let Some(one) = &book.plating {
        add(
            "plated with",
            format!("only {}", one.value.join(", ")),
            one.cite(),
        );
    }
    for one in &book.plated {
        let named = one.has.first().map(|word| format!(", called {word}"));
        add(
            &format!("plated with {}{}", one.with, named.unwrap_or_default()),
            format!("{} mm or more", one.least),
            one.cite(),
        );
    }
    for (metal, one) in &book.exempt {
        let lost = if one.lost_beside.is_empty() {
            String::new()
        } else {
            format!(", not beside {}", one.lost_beside.join(", "))
        };
        add(
            &format!("exempt, {metal}"),
            format!(
                "{} {} g of {}{lost}",
                if one.through { "up to" } else { "under" },
                one.below,
                match one.of.as_deref() {
                    Some("fine") => format!("fine {metal}"),
                    Some("parts") => format!("parts of {metal}"),
                    _ => "metal".to_owned(),
                }
            ),
            one.cite(),
        );
    }
    if let Some(one) = &book.exempt_solder {
        add("exempt", "not with unlawful solder".to_owned(), one.cite());
    }
    for (what, one) in [
        ("two finenesses", &book.finenesses),
        ("two precious metals", &book.metals),
        ("base metal", &book.base),
    ] {
        if let Some(one) = one {
            add(what, with(one), one.cite());
        }
    }
    if let Some(one) = &book.least_thickness {
        add(
            "each of two metals",
            format!("at least {} mm thick", one.value),
            one.cite(),
        );
    }
    if let Some(one) = &book.white_alike {
        add(
            "platinum and white gold",
            "not told apart".to_owned(),
            one.cite(),
        );
    }
    for one in &book.harmful {
        let most = format!("at most {} in each part", one.most);
        add(&one.element, most, one.cite());
    }
    for one in &book.solder {
        let metal = one.metal.as_deref().unwrap_or("any metal");
        let white = if one.white { "white " } else { "" };
        let range = match (one.from, one.to) {
            (None, None) => String::new(),
            (Some(from), None) => format!(" from {from}"),
            (None, Some(to)) => format!(" to {to}"),
            (Some(from), Some(to)) => format!(" {from} to {to}"),
        };
        let least = one.least.map_or_else(
            || "the article's fineness".to_owned(),
            |least| least.to_string(),
        );
        let sum = if one.sum {
            ", precious metals together"
        } else {
            ""
        };
        add(
            &format!("solder, {white}{metal}{range}"),
            format!("at least {least}{sum}"),
            one.cite(),
        );
    }
    for one in &book.tag {
        add(
            "words",
            format!(
                "`{}` needs `{}`; never `{}`",
                one.has.join(", "),
                one.needs.join(", "),
                one.never.join(", ")
            ),
            one.cite(),
        );
    }
    for one in &book.say {
        let when = if one.when.is_empty() {
            "always".to_owned()
        } else {
            one.when.join(", ")
        };
        add(
            &format!("{} ({when})", one.kind),
            one.says.clone(),
            one.cite(),
        );
    }
    text.push_str(&sheet(&rows));
    text.push_str(&texts(book));
    text.push_str(crate::words::fineness::CLOSING);
    text.push('\n');
    Some(text)
}

/// Rows of three: what, its value, and its clause on a line of its own.
fn sheet(rows: &[Vec<String>]) -> String {
    let mut text = String::new();
    for row in rows {
        if let [what, value, cite] = row.as_slice() {
            text.push_str(&format!("\n{what}\n"));
            for line in super::page::wrapped(value, 76) {
                text.push_str(&format!("    {line}\n"));
            }
            text.push_str(&format!("    [{cite}]\n"));
        }
    }
    text
}

fn texts(book: &Rulebook) -> String {
    let mut text = String::from("\ntexts\n");
    for one in &book.texts {
        text.push_str(&format!(
            "    {}: {}\n    dated: {}\n",
            one.short, one.title, one.date
        ));
        if !one.read_at.is_empty() {
            text.push_str(&format!("    read at: {}\n", one.read_at));
        }
    }
    if book.texts.is_empty() {
        text.push_str("    none found\n");
    }
    text.push('\n');
    text
}
