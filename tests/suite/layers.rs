//! Whether the source keeps its layers apart, as the drawing in the contributor guide has them.
//!
//! Checks the text of `src` itself: every path from one layer into another points to a layer before it;
//! files, streams, environment and processes are touched at the outermost layer alone; no clock, and no
//! float function whose last digit differs between machines; every file says what it is for. The order
//! and the reasons are the project's own; there is no outside source.

use std::collections::{BTreeMap, BTreeSet};

use crate::support::{files_under, read};

/// The layers, each allowed to use any before its own row and none of its own row but itself.
const ORDER: &[&[&str]] = &[
    &["source"],
    &["suggest", "finding", "quantity", "drawing"],
    &["schema"],
    &["kernel"],
    &["catalogue", "syntax", "motif"],
    &["model"],
    &["fineness", "money"],
    &["evaluate"],
    &["words"],
    &["explore"],
    &["report"],
    &["session"],
    &["plan"],
    &["assist"],
    &["bench"],
    &["cli"],
    &["main"],
];

/// A source file with comments and the insides of texts blanked, so that only code is looked at.
struct File {
    path: String,
    code: String,
}

fn sources() -> Vec<File> {
    let files: Vec<File> = files_under("src", ".rs")
        .into_iter()
        .map(|path| File {
            code: code(&read(&path)),
            path,
        })
        .collect();
    assert!(files.len() > 40, "the source was not found");
    files
}

/// Blanks comments, and what stands between quotes.
fn code(text: &str) -> String {
    let mut code = String::new();
    let mut inside = false;
    for line in text.lines() {
        // A quote as a character would be taken for a text's end.
        let line = line
            .replace("'\"'", "' '")
            .replace("\\\\", "  ")
            .replace("\\\"", "  ");
        let mut characters = line.chars().peekable();
        while let Some(c) = characters.next() {
            match c {
                '"' => {
                    inside = !inside;
                    code.push(c);
                }
                '/' if !inside && characters.peek() == Some(&'/') => break,
                _ if inside => code.push(' '),
                _ => code.push(c),
            }
        }
        code.push('\n');
    }
    code
}

/// The layer that a file belongs to: the folder or the file under `src`.
fn layer_of(path: &str) -> &str {
    let inner = path.strip_prefix("src/").unwrap();
    inner.split(['/', '.']).next().unwrap()
}

fn row_of(layer: &str) -> Option<usize> {
    ORDER.iter().position(|row| row.contains(&layer))
}

/// Names that follow a prefix such as `crate::`, groups in braces taken apart.
fn names_after(code: &str, prefix: &str) -> Vec<String> {
    let mut names = Vec::new();
    for (place, _) in code.match_indices(prefix) {
        let before = code[..place].chars().next_back();
        if before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':' || c == '$') {
            continue;
        }
        let rest = &code[place + prefix.len()..];
        match rest.strip_prefix('{') {
            Some(group) => names.extend(first_names(group)),
            None => names.push(first_name(rest)),
        }
    }
    names
}

fn first_name(text: &str) -> String {
    let end = text.find(|c: char| !c.is_alphanumeric() && c != '_');
    text[..end.unwrap_or(text.len())].to_owned()
}

/// The first name of each path in a group, up to its closing brace.
fn first_names(group: &str) -> Vec<String> {
    let (mut depth, mut names, mut fresh) = (0, Vec::new(), true);
    for (place, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => fresh = true,
            c if fresh && (c.is_alphabetic() || c == '_') => {
                names.push(first_name(&group[place..]));
                fresh = false;
            }
            _ => {}
        }
    }
    names
}

/// The layers that a file names, by `crate::…`, by as many `super::` as lead out of its own, or by the
/// crate's name where the program itself speaks.
fn used_by(file: &File) -> Vec<String> {
    let mut used = names_after(&file.code, "crate::");
    used.extend(names_after(&file.code, "annulet::"));
    let inner = file.path.strip_prefix("src/").unwrap();
    let folders = inner.matches('/').count();
    let is_folder_itself = inner.ends_with("/mod.rs");
    let up = folders + usize::from(!is_folder_itself);
    if inner != "lib.rs" && inner != "main.rs" {
        used.extend(names_after(&file.code, &"super::".repeat(up)));
    }
    used.retain(|name| name != "super" && name != "self");
    used
}

#[test]
fn every_layer_uses_only_layers_before_it() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for file in sources() {
        let own = layer_of(&file.path).to_owned();
        if own == "lib" {
            continue;
        }
        let row = row_of(&own).unwrap_or_else(|| panic!("{}: no row for this layer", file.path));
        for used in used_by(&file) {
            seen += 1;
            match row_of(&used) {
                Some(other) if used == own || other < row => {}
                Some(_) => wrong.push(format!("{} uses {used}", file.path)),
                None => wrong.push(format!("{} uses {used}, which is no layer", file.path)),
            }
        }
    }
    assert!(seen > 100, "paths were not found: {seen}");
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn paths_are_spelt_in_the_schema_alone() {
    use annulet::schema::{RESULTS, of_band, of_blocks};
    let fields = of_band().iter().chain(of_blocks()).map(|field| field.path);
    let paths: BTreeSet<&str> = fields
        .chain(RESULTS.iter().map(|result| result.path))
        .filter(|path| path.contains('.'))
        .collect();
    let mut wrong = Vec::new();
    for path in files_under("src", ".rs") {
        if path.starts_with("src/schema/") {
            continue;
        }
        for (number, line) in read(&path).lines().enumerate() {
            let told = line.trim_start().starts_with("//");
            // What stands between any two quotes of a line: a text, or what is between two of them.
            let spelt = line.split('"').find(|part| paths.contains(part));
            if let Some(known) = spelt.filter(|_| !told) {
                wrong.push(format!("{path}:{} spells {known}", number + 1));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn a_type_name_means_one_thing() {
    let kinds = [
        "pub struct ",
        "pub enum ",
        "pub trait ",
        "pub type ",
        "pub union ",
    ];
    let mut declared: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for file in sources() {
        for line in file.code.lines() {
            let rest = kinds
                .iter()
                .find_map(|kind| line.trim_start().strip_prefix(kind));
            let name = rest.map(first_name).filter(|name| !name.is_empty());
            // What a trait is given is its own: `type Output = …` has no `pub`.
            if let Some(name) = name {
                declared.entry(name).or_default().insert(file.path.clone());
            }
        }
    }
    assert!(declared.len() > 150, "the declarations were not found");
    let several = |files: &BTreeSet<String>| files.len() > 1;
    let wrong: Vec<_> = declared
        .iter()
        .filter(|(_, files)| several(files))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_block_of_fields_has_its_rows_behind_each_other() {
    use annulet::schema::{BlockId, held_in_blocks, of_blocks};
    for block in BlockId::ALL.into_iter().filter(|block| !block.is_of_band()) {
        let rows = of_blocks().iter().filter(|field| field.block == block);
        assert_eq!(rows.count(), block.rows().len(), "{block:?}");
        let inside = format!("{}.", block.word());
        assert!(
            block
                .rows()
                .iter()
                .all(|field| field.path.starts_with(&inside))
        );
        // Words in capitals stand for those of the recipe's own, and are none themselves.
        for field in held_in_blocks(block.word()) {
            let word = field.path.rsplit('.').next().unwrap();
            let found = block.find(word).map(|found| found.id);
            assert_eq!(
                found,
                field.has_word().then_some(field.id),
                "{}",
                field.path
            );
        }
    }
}

#[test]
fn the_reader_of_paths_sees_what_it_should() {
    let cases: &[(&str, &str, &[&str])] = &[
        ("src/model/alloy.rs", "use crate::report::x;", &["report"]),
        (
            "src/model/alloy.rs",
            "use super::super::report;",
            &["report"],
        ),
        ("src/model/alloy.rs", "use super::error::E;", &[]),
        ("src/model/mod.rs", "use super::report::x;", &["report"]),
        ("src/session.rs", "use super::cli;", &["cli"]),
        ("src/suggest.rs", "fn f(x: crate::cli::Y) {}", &["cli"]),
        (
            "src/suggest.rs",
            "use crate::{model::{A, B}, report, source::Span};",
            &["model", "report", "source"],
        ),
        ("src/main.rs", "annulet::cli::run()", &["cli"]),
        (
            "src/suggest.rs",
            "// crate::cli\nlet x = \"crate::cli\";",
            &[],
        ),
    ];
    for (path, text, wanted) in cases {
        let file = File {
            path: (*path).to_owned(),
            code: code(text),
        };
        assert_eq!(used_by(&file), *wanted, "{path}: {text}");
    }
}

/// Reports every file that names one of some words outside the files where they are allowed.
fn only_in(allowed: &[&str], words: &[&str]) {
    let mut wrong = Vec::new();
    for file in sources() {
        if allowed.iter().any(|prefix| file.path.starts_with(prefix)) {
            continue;
        }
        for word in words {
            if file.code.contains(word) {
                wrong.push(format!("{} names {word}", file.path));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn only_the_syntax_layer_names_pest() {
    only_in(&["src/syntax/"], &["pest::", "pest_derive"]);
}

#[test]
fn only_the_outermost_layer_touches_the_outside() {
    let outside = [
        "std::fs",
        "fs::",
        "File::",
        "std::env",
        "env::",
        "std::process",
        "std::io",
        "io::std",
        "std::net",
        "std::thread",
        "print!(",
        "println!(",
        "eprint!(",
        "eprintln!(",
    ];
    only_in(
        &["src/cli/", "src/main.rs", "src/bench/terminal.rs"],
        &outside,
    );
}

#[test]
fn what_is_shown_passes_one_place() {
    // There it is made safe for a terminal.
    let ways_out = [
        "stdout().lock",
        "stderr().lock",
        "print!(",
        "println!(",
        "eprint!(",
        "eprintln!(",
    ];
    only_in(&["src/cli/output.rs"], &ways_out);
}

#[test]
fn nothing_reads_a_clock() {
    only_in(
        &[],
        &[
            "SystemTime",
            "Instant",
            "chrono",
            "std::time",
            "jiff",
            "UNIX_EPOCH",
        ],
    );
}

#[test]
fn float_functions_come_from_libm() {
    // The platform's own may differ in the last digit; `sqrt` is exact to rounding everywhere.
    let methods = [
        "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sin_cos", "sinh", "cosh", "tanh",
        "exp", "exp2", "exp_m1", "ln", "ln_1p", "log", "log2", "log10", "powf", "powi", "cbrt",
        "hypot", "mul_add",
    ];
    let calls: Vec<String> = methods
        .iter()
        .flat_map(|name| [format!(".{name}("), format!("f64::{name}")])
        .collect();
    let calls: Vec<&str> = calls.iter().map(String::as_str).collect();
    only_in(&[], &calls);
}

#[test]
fn every_file_says_what_it_is_for() {
    let bare: Vec<String> = ["src", "tests/suite"]
        .iter()
        .flat_map(|folder| files_under(folder, ".rs"))
        .filter(|path| !read(path).starts_with("//! "))
        .collect();
    assert_eq!(bare, Vec::<String>::new());
}

#[test]
fn no_file_is_too_long_to_read() {
    for file in sources() {
        let lines = file.code.lines().count();
        assert!(lines <= 500, "{} has {lines} lines", file.path);
    }
}
