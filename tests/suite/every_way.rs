//! Every field of the vocabulary by every way to say it: in its block, as a dotted line, laid over by an option,
//! typed and tried at the bench, in a variant, and by each kind of step.
//!
//! Held against the acceptance list's point 42: the same figures and the same text, or the same refusal. The recipes
//! are written by this file from a list of paths and values; what a step comes to is reckoned here, in decimals.

use std::collections::BTreeSet;

use annulet::finding::{Finding, Weight};
use annulet::schema::{self, BlockId, Field, FieldId, Takes};
use annulet::session::{Request, Session};
use rust_decimal::Decimal;

use crate::bench::bench_on;

/// What is written: a path and its value, in the order of the text.
type Lines = Vec<(String, String)>;

/// A solid band, all that it needs.
const SOLID: &[(&str, &str)] = &[
    ("size", "ISO 54"),
    ("width", "4.5 mm"),
    ("thickness", "1.9 mm"),
    ("profile", "domed"),
    ("profile.edge", "1.6 mm"),
    ("alloy", "yellow-750"),
    ("stock", "tube-22"),
    ("pattern.repeats", "18"),
    ("pattern.depth", "0.2 mm"),
    ("pattern.cover", "50 %"),
];

/// What a hollow one has on top.
const HOLLOW: &[(&str, &str)] = &[
    ("hollow.shell", "0.6 mm"),
    ("hollow.sleeve", "0.4 mm"),
    ("hollow.ridge", "0.12 mm"),
    ("hollow.ridge.wide", "0.4 mm"),
];

/// What a band with drawn cuts says of its pattern beside the cut in question.
const DRAWN: &[(&str, &str)] = &[("pattern.cutter", "vee-90"), ("pattern.flutes.count", "3")];

/// Blocks of the top level around the band.
const AROUND: &[(&str, &[(&str, &str)])] = &[
    (
        "prices",
        &[
            ("dated", "2026-11-20"),
            ("gold", "98 EUR/g"),
            ("silver", "1.1 EUR/g"),
            ("copper", "0.01 EUR/g"),
            ("zinc", "0.01 EUR/g"),
        ],
    ),
    (
        "shop",
        &[
            ("labour", "42 EUR/h"),
            ("machine", "18 EUR/h"),
            ("operation turning.run", "7 min"),
            ("fee hallmark.article", "1 EUR"),
        ],
    ),
    (
        "stock tube-22 tube",
        &[
            ("outside", "22 mm"),
            ("bore", "15 mm"),
            ("length", "300 mm"),
        ],
    ),
    (
        "cutter vee-90 vee",
        &[
            ("angle", "90 deg"),
            ("feed", "600 mm/min"),
            ("plunge", "120 mm/min"),
        ],
    ),
    ("cutter round ball", &[("radius", "0.3 mm")]),
    ("cutter end flat", &[("width", "0.4 mm")]),
    (
        "alloy own",
        &[
            ("gold", "750"),
            ("silver", "250"),
            ("temper hard.yield", "400 MPa"),
        ],
    ),
    (
        "order",
        &[
            ("dated", "2026-11-25"),
            ("exchange.weight", "3 g"),
            ("exchange.alloy", "yellow-750"),
            ("quote.valid", "14 day"),
        ],
    ),
];

/// What else a band says where it says a field that does not stand alone.
fn beside(field: &Field) -> &'static [(&'static str, &'static str)] {
    match field.id {
        FieldId::ProfileCrown => &[("profile.edge", "1.2 mm")],
        FieldId::ProfileAcross => &[("profile.down", "0.2 mm")],
        FieldId::ProfileDown => &[("profile.across", "0.5 mm")],
        FieldId::HollowShellAssayDated | FieldId::HollowShellAssayLot => {
            &[("hollow.shell.assay", "750.2")]
        }
        FieldId::HollowSleeveAssayDated | FieldId::HollowSleeveAssayLot => {
            &[("hollow.sleeve.assay", "750.2")]
        }
        FieldId::HollowLip => &[("hollow.lip.wide", "0.4 mm")],
        FieldId::HollowLipWide => &[("hollow.lip", "0.1 mm")],
        FieldId::HollowLipPlay | FieldId::MadeShellLipBore => {
            &[("hollow.lip", "0.1 mm"), ("hollow.lip.wide", "0.4 mm")]
        }
        FieldId::SaleMaking => &[("sale", "weight")],
        FieldId::SaleAdd => &[("sale", "weight"), ("sale.making", "25 EUR/g")],
        FieldId::HollowStagePlay => &[("hollow.stage", "turning")],
        FieldId::PatternMultiple => &[("pattern.motif", "3.5 mm")],
        _ => match field
            .path
            .strip_prefix("pattern.")
            .and_then(|path| path.split_once('.'))
        {
            Some(("wave", _)) => &[("pattern.wave.rise", "1.5 mm")],
            Some(("path", _)) => &[
                ("pattern.path.from", "0.5 mm -1 mm"),
                ("pattern.path.to", "2 mm 1 mm"),
            ],
            Some(("pocket", _)) => &[
                ("pattern.pocket.from", "0.5 mm -1 mm"),
                (
                    "pattern.pocket.to",
                    "2.5 mm -1 mm, to 1.5 mm 1 mm, to 0.5 mm -1 mm",
                ),
                ("pattern.pocket.cutter", "end"),
            ],
            _ => &[],
        },
    }
}

/// A part as made that comes to what is planned, to the next hundredth; none of other fields.
fn measured(field: &Field, own: &Lines) -> Option<String> {
    let word = field.path.strip_prefix("made.")?;
    let path = match word.strip_prefix("blank-") {
        Some(rest) => format!("machined.{rest}"),
        None => format!("machined.{}", word.replacen('-', ".", 1)),
    };
    let text = around(None) + &block("band b", own);
    let came = came(&text, &[], "b");
    let planned = came.figures.get(&path)?;
    let planned = planned["value"]
        .as_f64()
        .or_else(|| planned["value"].as_str()?.parse().ok())?;
    Some(format!("{:.2} mm", planned + 0.004))
}

/// A value that a field takes, other than its default where it has one.
fn value(field: &Field) -> String {
    let word = match field.id {
        FieldId::Title | FieldId::Tag => "\"Harvest\"",
        FieldId::Size => "ISO 55",
        FieldId::Width => "5 mm",
        FieldId::Thickness => "2 mm",
        FieldId::Outside => "21 mm",
        FieldId::Profile => "flat",
        FieldId::Stock | FieldId::HollowShellStock | FieldId::HollowSleeveStock => "tube-22",
        FieldId::Against => "plain",
        FieldId::Temper => "hard",
        FieldId::Plating => "rhodium",
        FieldId::PlatingThickness => "0.003 mm",
        FieldId::Solder => "none",
        FieldId::Start => "stretch 2 %",
        FieldId::HollowShell => "0.65 mm",
        FieldId::HollowSleeve => "0.45 mm",
        FieldId::HollowStage => "fixed",
        FieldId::HollowRidgeCount | FieldId::HollowLockCount => "1",
        FieldId::HollowLip => "0.1 mm",
        FieldId::AlloyTemperPoisson => "0.38",
        FieldId::AlloyDensity => "15.4 g/cm3",
        FieldId::PricesMetal => "99 EUR/g",
        _ => match field.takes {
            Takes::Text => "\"Harvest\"",
            Takes::Size => "ISO 54",
            Takes::Start => "stretch 2 %",
            Takes::Length | Takes::LengthOr(_) | Takes::LengthOrZero => "0.15 mm",
            Takes::Share | Takes::ShareBelow | Takes::ShareOrMore => "40 %",
            Takes::Time => "12 min",
            Takes::Mass | Takes::MassAboveZero => "4 g",
            Takes::Money => "12 EUR",
            Takes::MoneyByWeight | Takes::MoneyByWeightOrShare => "2 EUR/g",
            Takes::MoneyByTime => "40 EUR/h",
            Takes::Date | Takes::Day => "2026-11-24",
            Takes::Currency => "EUR",
            Takes::Count => "12",
            Takes::Number => "0.2",
            Takes::Steps => "1/2",
            Takes::Word(words) => words.last().copied().unwrap(),
            Takes::Alloy => "yellow-585",
            Takes::Temper => "annealed",
            Takes::Fineness => "750",
            Takes::Density => "15.4 g/cm3",
            Takes::Stress => "410 MPa",
            Takes::AnyWord => "rose",
            Takes::Cutter => "end",
            Takes::Angle => "12 deg",
            Takes::Place => "-0.3 mm",
            Takes::Speed => "480 mm/min",
            _ => panic!("no value of `{}`", field.path),
        },
    };
    word.to_owned()
}

/// Writes lines as blocks in each other.
fn nested(lines: &Lines, indent: usize) -> String {
    let pad = "  ".repeat(indent);
    let mut text = String::new();
    let mut done: BTreeSet<&str> = BTreeSet::new();
    for (path, _) in lines {
        let (head, _) = path.split_once('.').unwrap_or((path, ""));
        if !done.insert(head) {
            continue;
        }
        let own = lines.iter().find(|(path, _)| path == head);
        let inner: Lines = lines
            .iter()
            .filter_map(|(path, value)| {
                let rest = path.strip_prefix(head)?.strip_prefix('.')?;
                Some((rest.to_owned(), value.clone()))
            })
            .collect();
        text.push_str(&format!("{pad}{head}"));
        if let Some((_, value)) = own {
            text.push_str(&format!(" {value}"));
        }
        if !inner.is_empty() {
            text.push_str(&format!(" {{\n{}{pad}}}", nested(&inner, indent + 1)));
        }
        text.push('\n');
    }
    text
}

/// Whether a field speaks of drawn cuts.
fn is_of_drawn(field: &Field) -> bool {
    let of_cut = field.path.strip_prefix("pattern.");
    let of_cut = of_cut.is_some_and(|path| path.contains('.'));
    let of_all = [
        FieldId::PatternCutter,
        FieldId::PatternMotif,
        FieldId::PatternMultiple,
        FieldId::PatternMinutes,
    ];
    of_cut || of_all.contains(&field.id)
}

fn block(header: &str, lines: &Lines) -> String {
    format!("{header} {{\n{}}}\n", nested(lines, 1))
}

fn lines(of: &[(&str, &str)]) -> Lines {
    let owned = |(path, value): &(&str, &str)| ((*path).to_owned(), (*value).to_owned());
    of.iter().map(owned).collect()
}

/// The blocks around the bands, one of them with other lines.
fn around(changed: Option<(&str, &Lines)>) -> String {
    let mut text = String::new();
    for (header, known) in AROUND {
        let own = lines(known);
        let lines = match changed {
            Some((of, lines)) if of == *header => lines,
            _ => &own,
        };
        let order = if *header == "order" { "  b 2\n" } else { "" };
        text.push_str(&format!("{header} {{\n{order}{}}}\n", nested(lines, 1)));
    }
    text + &block("band plain", &lines(SOLID))
}

/// The lines with one more, or with another value of it.
fn with(mut lines: Lines, path: &str, value: &str) -> Lines {
    match lines.iter_mut().find(|(known, _)| known == path) {
        Some((_, known)) => *known = value.to_owned(),
        None => lines.push((path.to_owned(), value.to_owned())),
    }
    lines
}

fn without(lines: &Lines, path: &str) -> Lines {
    let kept = lines.iter().filter(|(known, _)| known != path);
    kept.cloned().collect()
}

/// What a recipe comes to: its figures, or why it has none; what is only worth knowing is left out.
#[derive(Debug, PartialEq)]
struct Came {
    figures: serde_json::Map<String, serde_json::Value>,
    codes: BTreeSet<String>,
}

/// Evaluates; only the figures of one band, without its name, and of orders.
fn came(text: &str, sets: &[String], band: &str) -> Came {
    let mut session = Session::default();
    let request = Request {
        sets: sets.to_vec(),
        ..Request::default()
    };
    let outcome = session.run("r", text, &request);
    let heavy = |one: &&Finding| one.weight() > Weight::Note;
    let wrong = outcome.weight() == Some(Weight::Wrong);
    let of_weight = |one: &&Finding| !wrong || one.weight() == Weight::Wrong;
    let found = outcome.findings.iter().filter(heavy).filter(of_weight);
    let codes = found.map(Finding::code).collect();
    let mut figures = serde_json::Map::new();
    let json = outcome.json(&session.sources);
    for (path, value) in json["results"].as_object().unwrap() {
        let own = path
            .strip_prefix(band)
            .and_then(|rest| rest.strip_prefix('.'));
        if let Some(rest) = own.filter(|_| !wrong) {
            figures.insert(rest.to_owned(), value.clone());
        }
    }
    if band == "b" && !wrong {
        figures.insert("orders".to_owned(), json["orders"].clone());
    }
    Came { figures, codes }
}

/// A number with its unit, changed.
fn changed(value: &str, by: impl Fn(Decimal) -> Decimal) -> String {
    let (number, unit) = value.split_once(' ').unwrap_or((value, ""));
    let number: Decimal = number.parse().unwrap();
    format!("{} {unit}", by(number).normalize())
        .trim_end()
        .to_owned()
}

/// A step of a field in its own unit, and the values that it leads to: the step as it is written, and the value as a
/// text states it.
fn steps(field: &Field, value: &str) -> Vec<(String, String)> {
    let (number, unit) = value.split_once(' ').unwrap_or((value, ""));
    if !field.takes.is_measured() || number.parse::<Decimal>().is_err() {
        return Vec::new();
    }
    let amount: Decimal = match field.takes {
        Takes::Count | Takes::Share | Takes::ShareBelow | Takes::ShareOrMore => Decimal::ONE,
        Takes::Number | Takes::Poisson => "0.01".parse().unwrap(),
        _ => "0.02".parse().unwrap(),
    };
    let step = |sign: char| format!("{sign} {amount} {unit}").trim_end().to_owned();
    let two = Decimal::TWO;
    vec![
        (step('+'), changed(value, |number| number + amount)),
        (step('-'), changed(value, |number| number - amount)),
        ("* 2".to_owned(), changed(value, |number| number * two)),
        ("/ 2".to_owned(), changed(value, |number| number / two)),
    ]
}

/// The text after some lines at the bench, or why one was refused.
fn at_the_bench(text: &str, lines: &[String]) -> Result<String, String> {
    let (mut bench, _) = bench_on(text);
    for line in lines {
        let reply = bench.step(line);
        if reply.refused {
            return Err(format!("{line}: {}", reply.text));
        }
    }
    Ok(bench.text().to_owned())
}

/// Every way of saying one line, beside the text that says it in its block.
struct Ways<'a> {
    field: &'a Field,
    /// The text without the line, and with it in its block.
    bare: String,
    said: String,
    /// The text with it as a dotted line.
    dotted: String,
    /// The path by which it is reached from outside.
    path: String,
    value: String,
    wrong: &'a mut Vec<String>,
    told: &'a mut Told,
}

/// How much was compared, so that a test that compares nothing fails.
#[derive(Debug, Default)]
struct Told {
    fields: usize,
    sound: usize,
    steps: usize,
}

impl Ways<'_> {
    fn compare(&mut self, way: &str, found: &Came, wanted: &Came) {
        if found == wanted {
            return;
        }
        let keys = wanted
            .figures
            .iter()
            .filter(|(key, value)| found.figures.get(*key) != Some(value));
        let differ: Vec<String> = keys
            .take(2)
            .map(|(key, value)| format!("{key}: {:?} not {value}", found.figures.get(key)))
            .collect();
        self.wrong.push(format!(
            "{} {way}: {:?} beside {:?}; {differ:?}",
            self.field.path, found.codes, wanted.codes
        ));
    }

    fn run(&mut self) {
        let wanted = came(&self.said, &[], "b");
        self.told.fields += 1;
        self.told.sound += usize::from(!wanted.figures.is_empty());
        let dotted = came(&self.dotted, &[], "b");
        self.compare("dotted", &dotted, &wanted);
        let set = format!("{}={}", self.path, self.value);
        self.compare("--set", &came(&self.bare, &[set], "b"), &wanted);
        // Typed, and tried and kept: the same text, which comes to the same; or both are refused.
        let line = format!("{} {}", self.path, self.value);
        let typed = at_the_bench(&self.bare, std::slice::from_ref(&line));
        let kept = at_the_bench(&self.bare, &[format!("try {line}"), "keep".to_owned()]);
        let refused = wanted.figures.is_empty() && !wanted.codes.is_empty();
        match (typed, kept) {
            (Ok(typed), Ok(kept)) => {
                if typed != kept {
                    self.wrong.push(format!(
                        "{} kept: another text than typed\n{typed}\n{kept}",
                        self.field.path
                    ));
                }
                self.compare("typed", &came(&typed, &[], "b"), &wanted);
            }
            (Err(_), Err(_)) if refused => {}
            (typed, kept) => {
                let shown = |text: Result<String, String>| {
                    text.map_or_else(|why| why, |_| "taken".to_owned())
                };
                let (typed, kept) = (shown(typed), shown(kept));
                self.wrong.push(format!(
                    "{} typed: {typed}\n  kept: {kept}",
                    self.field.path
                ));
            }
        }
        for (step, reached) in steps(self.field, &self.value) {
            let edited = self.said.replacen(
                &format!(" {}\n", self.value),
                &format!(" {reached}\n"),
                usize::from(self.said.matches(&format!(" {}\n", self.value)).count() == 1),
            );
            if edited == self.said {
                continue;
            }
            self.told.steps += 1;
            let wanted = came(&edited, &[], "b");
            let laid = came(&self.said, &[format!("{} {step}", self.path)], "b");
            self.compare(&format!("--set {step}"), &laid, &wanted);
            let line = format!("try {} {step}", self.path);
            if let Ok(kept) = at_the_bench(&self.said, &[line, "keep".to_owned()]) {
                self.compare(&format!("try {step}"), &came(&kept, &[], "b"), &wanted);
            }
        }
    }
}

#[test]
fn every_field_of_a_band_by_every_way() {
    let (mut wrong, mut told) = (Vec::new(), Told::default());
    let fields = schema::of_band().iter();
    let fields = fields.filter(|field| !matches!(field.takes, Takes::Block | Takes::Anything));
    // A drawing lies in a file of its own: its fields are tried where the drawings are.
    for field in fields.filter(|field| !field.path.starts_with("pattern.drawing.")) {
        let mut own = lines(SOLID);
        if field.path.starts_with("hollow.") || field.path.starts_with("made.s") {
            own.extend(lines(HOLLOW));
        }
        // What a cut of whole cover says and what drawn cuts say never go together.
        if is_of_drawn(field) {
            own = without(&own, "pattern.cover");
            own.extend(lines(DRAWN));
        }
        // Of fields that say one thing in two ways only one is written.
        let other = match field.id {
            FieldId::Outside => "thickness",
            FieldId::Profile => "profile.edge",
            FieldId::PatternMotif | FieldId::PatternMultiple => "pattern.repeats",
            FieldId::HollowLip
            | FieldId::HollowLipWide
            | FieldId::HollowLipPlay
            | FieldId::MadeShellLipBore => "hollow.ridge",
            _ => "",
        };
        own.retain(|(path, _)| {
            path != other && !(other == "hollow.ridge" && path.starts_with(other))
        });
        // What stands in the block of a kind needs that kind.
        if let (Some(kind), Some((holder, _))) = (field.only.first(), field.path.rsplit_once('.')) {
            own = with(own, holder, kind);
            if holder == "profile" && *kind != "domed" {
                own = without(&own, "profile.edge");
            }
        } else if let Some((
            holder @ ("solder" | "sale" | "plating" | "hollow.lock" | "assay"),
            _,
        )) = field.path.rsplit_once('.')
        {
            let word = match holder {
                "sale" => "piece",
                "hollow.lock" => "tack",
                "assay" => "750.2",
                _ => "yellow-750",
            };
            own = with(own, holder, word);
        }
        for (path, value) in beside(field) {
            own = with(own, path, value);
        }
        // The day of a reading is one of a reading.
        let reading = field.path.strip_suffix(".dated");
        if let Some(reading) = reading.filter(|path| path.starts_with("weighed.")) {
            own = with(own, reading, "10 g");
        }
        let value = measured(field, &own).unwrap_or_else(|| value(field));
        let bare = without(&own, field.path);
        let said = with(bare.clone(), field.path, &value);
        let text = |lines: &Lines, rest: &str| {
            around(None) + &format!("band b {{\n{}{rest}}}\n", nested(lines, 1))
        };
        Ways {
            field,
            bare: text(&bare, ""),
            said: text(&said, ""),
            dotted: text(&bare, &format!("  {} {value}\n", field.path)),
            path: format!("b.{}", field.path),
            value: value.clone(),
            wrong: &mut wrong,
            told: &mut told,
        }
        .run();
        // In a variant of the band without it.
        let line: Lines = vec![(field.path.to_owned(), value.clone())];
        let variant = text(&bare, "") + &block("variant v of b", &line);
        let (found, wanted) = (came(&variant, &[], "v"), came(&text(&said, ""), &[], "b"));
        let mut wanted = wanted;
        wanted.figures.remove("orders");
        // What the parent lacks is said of the parent.
        let lacks = came(&text(&bare, ""), &[], "b").codes;
        if lacks.iter().all(|code| code.starts_with("evaluate::"))
            && found.figures != wanted.figures
        {
            let key = wanted
                .figures
                .iter()
                .find(|(key, value)| found.figures.get(*key) != Some(value));
            wrong.push(format!(
                "{} in a variant: {key:?} {:?}",
                field.path, found.codes
            ));
        }
    }
    eprintln!("{told:?}");
    assert!(
        wrong.is_empty(),
        "{} ways differ\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn every_field_of_another_block_by_every_way() {
    let (mut wrong, mut told) = (Vec::new(), Told::default());
    for field in schema::of_blocks() {
        let plain = !matches!(field.takes, Takes::Block | Takes::Anything);
        // Rulebooks are stated, not laid over; a rate has two sides, and a band of an order is no field with a value.
        let fixed = field.block == BlockId::Rules
            || field.path.starts_with("prices.rate")
            || field.id == FieldId::OrderBand;
        if !plain || fixed {
            continue;
        }
        let word = field.block.word();
        let (header, known) = AROUND
            .iter()
            .find(|(header, _)| {
                let mut words = header.split(' ');
                let kind = field.only.first().filter(|_| word == "cutter");
                words.next() == Some(word)
                    && kind.is_none_or(|kind| words.next_back() == Some(*kind))
            })
            .unwrap();
        let name = header.split(' ').nth(1);
        // The path in the text, where a name tells entries apart, and from outside.
        let inside = field
            .path
            .strip_prefix(word)
            .unwrap()
            .trim_start_matches('.');
        let inside = inside.replace("METAL", if word == "alloy" { "silver" } else { "gold" });
        let in_text = inside
            .replace("operation.", "operation turning.")
            .replace("fee.", "fee hallmark.")
            .replace("temper.", "temper hard.");
        let outside = in_text.replace(' ', ".");
        let path = match name {
            Some(name) => format!("{name}.{outside}"),
            None => format!("{word}.{outside}"),
        };
        let value = match field.id {
            FieldId::AlloyMetal => "250".to_owned(),
            FieldId::StockOutside => "22.5 mm".to_owned(),
            FieldId::StockBore => "14.5 mm".to_owned(),
            FieldId::StockLength => "200 mm".to_owned(),
            FieldId::PricesOldest | FieldId::OrderQuoteValid => "30 day".to_owned(),
            _ => self::value(field),
        };
        let own = lines(known);
        let bare = without(&own, &in_text);
        let said = with(bare.clone(), &in_text, &value);
        let mut solid = lines(SOLID);
        if let Some(cutter) = name.filter(|_| word == "cutter") {
            solid = without(&solid, "pattern.cover");
            solid.extend(lines(DRAWN));
            solid = with(solid, "pattern.cutter", cutter);
        }
        let band = block("band b", &solid).replace("yellow-750", "own");
        let text = |lines: &Lines, rest: &str| around(Some((header, lines))) + &band + rest;
        Ways {
            field,
            bare: text(&bare, ""),
            said: text(&said, ""),
            dotted: text(&bare, &format!("{path} {value}\n")),
            path: path.clone(),
            value,
            wrong: &mut wrong,
            told: &mut told,
        }
        .run();
    }
    eprintln!("{told:?}");
    assert!(
        wrong.is_empty(),
        "{} ways differ\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
