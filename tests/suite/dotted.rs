//! Dotted lines: every shipped recipe written without a single inner block, in its blocks and at the top level, comes
//! to the same; and what is written into a recipe finds them.
//!
//! The flat texts are written by this test from the trees of the recipes, heads joined by points. Held against the
//! language's one rule for dotted heads, and the acceptance list's point 42.

use annulet::model::tells_apart;
use annulet::session::{Request, Session};
use annulet::source::{Source, Sources};
use annulet::syntax::ast::{Entry, Item, entries};
use annulet::syntax::parse;
use serde_json::Value;

use crate::support::{lone_examples, read, run_in};

/// Where the dotted lines of a block stand.
#[derive(Clone, Copy, PartialEq)]
enum Where {
    /// In the block of the top level that they belong to.
    Inside,
    /// At the top level.
    Outside,
}

/// A recipe without inner blocks.
fn flat(text: &str, place: Where) -> String {
    let mut sources = Sources::default();
    let id = sources.add("r", text);
    let source = sources.get(id).unwrap();
    let tree = parse(source).value;
    let mut lines = String::new();
    for entry in entries(&tree.items) {
        let word = entry.head_name().unwrap();
        let slice = |span| source.slice(span);
        let Some(block) = &entry.block else {
            lines += &format!("{}\n", slice(entry.span));
            continue;
        };
        let name = entry.values.first().map(|value| slice(value.span));
        let header = slice(entry.header_span());
        // What follows the name stands nowhere but in the header.
        let bare = matches!(word, "variant" | "stock" | "profile" | "rules" | "cutter")
            || place == Where::Inside;
        let prefix = match (place, name) {
            (Where::Inside, _) => String::new(),
            (Where::Outside, Some(name)) => format!("{word}.{name}."),
            (Where::Outside, None) => format!("{word}."),
        };
        let mut inner = String::new();
        for entry in block.entries() {
            dotted(source, word, &prefix, entry, &mut inner);
        }
        lines += &match (place, bare) {
            (Where::Inside, _) => format!("{header} {{\n{inner}}}\n"),
            (Where::Outside, true) => format!("{inner}{header} {{ }}\n"),
            (Where::Outside, false) => inner,
        };
    }
    lines
}

/// One entry of a block as lines, each with its whole path.
fn dotted(source: &Source, block: &str, path: &str, entry: &Entry, lines: &mut String) {
    let Some(head) = entry.head_name() else {
        panic!("an entry without a word in {block}");
    };
    let values: Vec<&str> = entry
        .values
        .iter()
        .map(|value| source.slice(value.span))
        .collect();
    let mut path = format!("{path}{head}");
    let mut values = values.join(" ");
    let inner = entry.block.as_ref();
    // An order's counts and the points of an outline or a path have no words, or one word many times.
    let has_words = inner.is_some_and(|block| {
        let mut all = entries(&block.items);
        all.all(|entry| entry.head.is_some() && entry.head_name() != Some("from"))
    });
    if inner.is_some() && !has_words {
        *lines += &format!(
            "{path} {}\n",
            source.slice(entry.span).strip_prefix(head).unwrap()
        );
        return;
    }
    // A drawn cut may stand without a name.
    if tells_apart(block, head) && inner.is_some() && !values.is_empty() {
        match values.split_once(" = ") {
            Some((one, other)) => {
                *lines += &format!("{path} {values}\n");
                let unit = |amount: &str| amount.rsplit(' ').next().unwrap().to_owned();
                path += &format!(".{}-{}", unit(one), unit(other));
            }
            None => path += &format!(".{values}"),
        }
        values.clear();
    }
    if !values.is_empty() {
        *lines += &format!("{path} {values}\n");
    }
    for item in inner.iter().flat_map(|block| &block.items) {
        if let Item::Entry(entry) = item {
            dotted(source, block, &format!("{path}."), entry, lines);
        }
    }
}

/// What a recipe comes to: results, requirements, orders, and what is found, without places.
fn comes_to(text: &str) -> (Value, Vec<(String, String)>) {
    let mut session = Session::default();
    let outcome = session.run("r.annulet", text, &Request::default());
    let mut json = outcome.json(&session.sources);
    let object = json.as_object_mut().unwrap();
    let requirements = object["requirements"].as_array_mut().unwrap();
    for row in requirements {
        row["line"] = Value::Null;
        row["column"] = Value::Null;
    }
    let found = outcome
        .findings
        .iter()
        .map(|one| (one.code(), one.message()));
    let mut found: Vec<(String, String)> = found.collect();
    found.sort();
    (json, found)
}

#[test]
fn a_recipe_without_inner_blocks_comes_to_the_same() {
    let mut most = 0;
    for file in lone_examples() {
        let text = read(&file);
        let (json, found) = comes_to(&text);
        for place in [Where::Inside, Where::Outside] {
            let flat = flat(&text, place);
            most = most.max(flat.matches('.').count());
            let (flat_json, flat_found) = comes_to(&flat);
            assert_eq!(found, flat_found, "{file}\n{flat}");
            let keys = |json: &Value| json["results"].as_object().unwrap().len();
            assert_eq!(keys(&json), keys(&flat_json), "{file}\n{flat}");
            assert_eq!(json["results"], flat_json["results"], "{file}\n{flat}");
            assert_eq!(json["orders"], flat_json["orders"], "{file}\n{flat}");
        }
    }
    assert!(most > 100, "{most}");
}

/// A recipe in which every field stands in a dotted line, each behind its comment.
const FLAT: &str = "annulet 1
prices.gold 98 EUR/g # the day
prices.silver 1 EUR/g
prices.dated 2026-11-20
shop.labour 60 EUR/h
shop.operation.lathe.run 7 min # measured
alloy.mine.gold 750
alloy.mine.silver 250
alloy.mine.temper.hard.yield 500 MPa
alloy.mine.temper.hard.modulus 90 GPa
alloy.mine.temper.soft.yield 200 MPa
band b {
  size ISO 54
  width 4.5 mm
  thickness 1.5 mm
  profile domed
  profile.edge 1.0 mm # measured
  alloy mine
  temper soft
  hollow.shell 0.55 mm { temper hard }
  hollow.sleeve 0.3 mm
  hollow.ridge 0.12 mm
  hollow.ridge.wide 0.3 mm
  sale piece
  sale.markup 90 %
}
b.comfort 0.05 mm # soft
order.fair.b 3
order.fair.dated 2026-11-21
";

/// The recipe after some lines at the bench.
fn after(lines: &str) -> String {
    let folder = tempfile::TempDir::new().unwrap();
    std::fs::write(folder.path().join("r.annulet"), FLAT).unwrap();
    let ran = run_in(
        folder.path(),
        &["bench", "r.annulet"],
        format!("{lines}\nsave\n").as_bytes(),
    );
    assert!(ran.status < 2, "{lines}\n{}\n{}", ran.stdout, ran.stderr);
    std::fs::read_to_string(folder.path().join("r.annulet")).unwrap()
}

#[test]
fn what_is_written_finds_the_dotted_line() {
    for (line, from, to) in [
        ("profile.edge 1.1 mm", "edge 1.0 mm", "edge 1.1 mm"),
        ("edge 1.1 mm", "edge 1.0 mm", "edge 1.1 mm"),
        (
            "profile domed { edge 1.1 mm }",
            "edge 1.0 mm",
            "edge 1.1 mm",
        ),
        ("comfort 0.06 mm", "0.05 mm", "0.06 mm"),
        ("b.comfort 0.06 mm", "0.05 mm", "0.06 mm"),
        ("band.b.comfort 0.06 mm", "0.05 mm", "0.06 mm"),
        ("shell 0.5 mm", "shell 0.55 mm", "shell 0.5 mm"),
        ("hollow.shell.temper soft", "temper hard }", "temper soft }"),
        (
            "hollow { shell.temper soft, sleeve 0.31 mm }",
            "{ temper hard }\n  hollow.sleeve 0.3 mm",
            "{ temper soft }\n  hollow.sleeve 0.31 mm",
        ),
        ("prices.gold 99 EUR/g", "98 EUR/g", "99 EUR/g"),
        ("shop.operation.lathe.run 8 min", "7 min", "8 min"),
        ("shop { operation.lathe.run 8 min }", "7 min", "8 min"),
        ("mine.temper.hard.yield 510 MPa", "500 MPa", "510 MPa"),
        ("sale.markup 100 %", "markup 90 %", "markup 100 %"),
        ("order.fair.dated 2026-11-22", "2026-11-21", "2026-11-22"),
        ("order.fair.b 4", "order.fair.b 3", "order.fair.b 4"),
    ] {
        assert_eq!(FLAT.matches(from).count(), 1, "{from}");
        let wanted = FLAT.replace(from, to);
        for way in [format!("try {line}\nkeep"), line.to_owned()] {
            // A block typed as such is one of the top level.
            if line.starts_with("profile domed") || line.starts_with("shop {") && way == line {
                continue;
            }
            assert_eq!(after(&way), wanted, "{way}");
        }
    }
    let wanted = FLAT.replace("edge 1.0 mm", "edge 1.2 mm");
    assert_eq!(after("try profile.edge + 0.2 mm\nkeep"), wanted);
}

#[test]
fn what_is_new_stands_beside_dotted_lines_and_what_goes_takes_them_along() {
    let flat = FLAT.replace("  profile.edge 1.0 mm # measured\n", "  # measured\n");
    let flat = flat.replace("  profile domed", "  profile flat");
    assert_eq!(after("try profile flat\nkeep"), flat);
    let solid: String = FLAT
        .lines()
        .filter(|line| !line.starts_with("  hollow."))
        .map(|line| format!("{line}\n"))
        .collect();
    assert_eq!(after("without hollow"), solid);
    let lip = FLAT
        .replace("  hollow.ridge 0.12 mm\n  hollow.ridge.wide 0.3 mm\n", "")
        .replace(
            "  hollow.sleeve 0.3 mm\n",
            "  hollow.sleeve 0.3 mm\n  hollow { lip 0.12 mm { wide 0.3 mm } }\n",
        );
    assert_eq!(after("try hollow.lip 0.12 mm { wide 0.3 mm }\nkeep"), lip);
    let margin = FLAT
        .replace("  sale.markup 90 %\n", "")
        .replace("  sale piece\n", "  sale piece { margin 40 % }\n");
    assert_eq!(after("try sale.margin 40 %\nkeep"), margin);
    // Whatever is added, the recipe stays one that can be read.
    for line in [
        "hollow.ridge.count 1",
        "prices.premium 2 %",
        "shop.machine 12 EUR/h",
        "shop.operation.finishing.run 3 min",
        "mine.temper.soft.modulus 80 GPa",
        "order.fair.for \"the fair\"",
    ] {
        let text = after(line);
        assert_ne!(text, FLAT, "{line}");
        let (_, found) = comes_to(&text);
        let (_, before) = comes_to(FLAT);
        let twice = |found: &[(String, String)]| {
            found
                .iter()
                .filter(|one| one.0 == "model::given_twice")
                .count()
        };
        assert_eq!(twice(&found), 0, "{text}");
        assert!(found.len() <= before.len(), "{text}\n{found:?}");
    }
}
