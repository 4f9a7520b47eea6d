//! The words of the bench: what each does, how it is typed, an example that runs.
//!
//! One table serves reading, completion, hints, help and their tests.

use crate::session::{CHOOSE_WORDS, SOLVE_WORDS, SWEEP_WORDS};

/// A command of the bench.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// The word.
    pub word: &'static str,
    /// What is typed behind it.
    pub takes: &'static str,
    /// What it does, in one line.
    pub does: &'static str,
    /// More of it, for its own help.
    pub more: &'static str,
    /// Lines that run over the example recipe `workshop-pair.annulet`, one after the other.
    pub examples: &'static [&'static str],
    /// What can be completed behind it.
    pub then: Then,
}

/// What kind of word stands behind a command.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Then {
    /// Nothing.
    Nothing,
    /// A field with its value.
    Field,
    /// Fields with many values each, and what is said of them behind one of some words.
    Varied(&'static [&'static str]),
    /// The name of a band.
    Band,
    /// The name of an order.
    Order,
    /// A path or an expression.
    Path,
    /// Ring sizes.
    Sizes,
    /// The name of a recipe file.
    File,
    /// A listing.
    Listing,
    /// A topic of the help.
    Topic,
    /// One of some words.
    Words(&'static [&'static str]),
}

const fn word(
    word: &'static str,
    takes: &'static str,
    does: &'static str,
    more: &'static str,
    examples: &'static [&'static str],
    then: Then,
) -> Word {
    Word {
        word,
        takes,
        does,
        more,
        examples,
        then,
    }
}

/// All commands, in the order that the help shows them.
#[rustfmt::skip]
pub const WORDS: &[Word] = &[
    word("try", "[FIELD VALUE]", "lay a what-if over the band and show what it moves",
        "Alone: what is tried, and what each does. A range or a list in the place of the value makes a table, a row for each, and lays nothing over. The recipe stays as it is. A field's path may be short where it means one field. `+`, `-`, `*` and `/` with spaces round them step from the present value; a size steps in its own system, and `+ 5 %` adds points to a share, a part of itself to anything else. Tries stack: each is laid over those before it.",
        &["try width 5 mm", "try thickness + 0.05 mm", "try size + 1", "try width 4 mm .. 6 mm by 0.5 mm", "try millstone-light.shell 0.6 mm, cut 0.28 mm", "try"], Then::Field),
    word("keep", "[N… | as NAME]", "write what is tried into the recipe, or make it a variant",
        "The text is edited in place: comments and layout stay as they are. `save` then writes the file. `keep 2` writes the second try alone. `keep as NAME` writes what is tried of the band as a variant of it, and leaves the band as it was.",
        &["try width 5 mm", "keep", "try thickness 1.7 mm", "keep as thicker"], Then::Words(&["as"])),
    word("drop", "[N…]", "forget what is tried, or one try",
        "`undo` forgets only the last; `try` alone shows the numbers.",
        &["try width 5 mm", "try thickness 1.7 mm", "drop 1", "drop"], Then::Words(&[])),
    word("undo", "[FILE]", "take back the last change: an edit, a try, a keep, a drop or an open",
        "It goes back as far as the session does; `redo` goes forward again until something new is changed. Where it goes back past a `save` under another name, it asks which of the two files `save` writes from there; `undo FILE` names it at once.",
        &["width 5 mm", "undo"], Then::File),
    word("redo", "", "do again what was taken back", "",
        &["width 5 mm", "undo", "redo"], Then::Nothing),
    word("on", "BAND", "choose the band that is meant where none is named",
        "Without a name: which bands there are.",
        &["on millstone-light", "weight"], Then::Band),
    word("watch", "[PATH… | off]", "keep results in view: they are shown after every reply", "",
        &["watch weight wall.least", "try width 5 mm", "watch off"], Then::Path),
    word("more", "", "the rest of the last reply", "A reply fits the screen; of what moved it shows the main results first.",
        &["try width 5 mm", "more"], Then::Nothing),
    word("show", "[BAND]", "the recipe text of a band, and what it takes from the band it is made of", "",
        &["show millstone-light"], Then::Band),
    word("run", "SIZES [keep WHAT]", "the band in many sizes, a row each",
        "Sizes are a range, a list, or inside diameters. `keep repeats`, `keep motif` or `keep outside` after them says what of the pattern stays the same; several of them give a row for each.",
        &["run ISO 50 .. ISO 56 by 2", "run [US 6, US 7 1/2] keep repeats, outside"], Then::Sizes),
    word("compare", "[all] [BAND…] [solid]", "bands side by side, by what differs",
        "With `all` what is the same too. `solid` stands for the solid band of the same look. Without a name: the band as it is written beside what is tried or, with nothing tried, a hollow band beside its solid.",
        &["compare millstone millstone-light", "compare millstone-light solid"], Then::Band),
    word("sweep", "FIELD VALUES, \u{2026} [CLAUSES]", "many what-ifs at once, as rows",
        "Values are a range with its step or a list; several fields go through every combination of their values. Clauses: `show` names the columns, `where` what must hold (`holds`: all limits), `least` or `most` keeps the best rows, `best` says how many, `plot` draws a column over one field or two. Ctrl-C ends it with the rows that are finished.",
        &["sweep width 4 mm .. 5 mm by 0.5 mm", "sweep millstone-light.shell [0.5 mm, 0.6 mm], cut [0.2 mm, 0.3 mm] show millstone-light.weight, millstone-light.wall.least", "sweep width 4 mm .. 6 mm by 0.1 mm plot weight"], Then::Varied(SWEEP_WORDS)),
    word("solve", "FIELD [RANGE] for PATH = VALUE", "the values that give a target, or the nearest",
        "Without bounds it is sought from a quarter of the present value to four times as much. Where nothing gives the target, the nearest is shown, and what stops it.",
        &["solve width for weight = 5 g", "solve millstone-light.shell 0.4 mm .. 1 mm for millstone-light.weight = 4.3 g"], Then::Varied(SOLVE_WORDS)),
    word("choose", "FIELD [RANGE], \u{2026} least PATH", "several fields at once for an aim under limits",
        "A range without a step stands for all numbers in it. Clauses: `least` or `most` is the aim, `where` the limits, `against` a second aim. Limits that bind are named, with what each unit of them is worth; where nothing keeps to all of them, which would have to give.",
        &["choose width 3 mm .. 6 mm, thickness 1.4 mm .. 2 mm least weight where wall.least >= 1.1 mm, width * thickness >= 8 mm2"], Then::Varied(CHOOSE_WORDS)),
    word("contour", "[BAND] [PART] [nose LENGTH]", "points of each part for the turning program: x and diameter",
        "Of each part, or of `shell` or `sleeve` alone. As machined, metal for finishing included, unless `finished` is said; `step 0.1 mm` is the step along the axis, `csv` the points as a table. With `nose` the path of the tool nose's centre stands beside the points; the channel's corners take the recipe's `nose`.",
        &["contour millstone-light shell step 1 mm nose 0.2 mm"], Then::Band),
    word("section", "[BAND…] [solid]", "sections sketched, with their figures: finished, as machined, at the enlarger",
        "`solid` stands for the solid band of the same look; several bands are shown finished. `annulet section` on the command line draws them as SVG, DXF or PDF.",
        &["section millstone-light", "section millstone-light solid"], Then::Band),
    word("strip", "[BAND] [finished]", "the outside unrolled, its drawn cuts shaded by their depth",
        "As it is when it is cut, unless `finished` is said. `annulet strip` on the command line writes it as SVG or DXF in true scale.",
        &["strip millstone"], Then::Band),
    word("why", "[all] PATH", "where a value comes from: formula and inputs, or every place that set it",
        "It shows two levels; with `all` every one.",
        &["why width", "why weight.cut", "why all weight"], Then::Path),
    word("sure", "", "how far figures may be off, from what, and limits at their worst",
        "What may be off is what carries a `\u{B1}`, and what the shop's `tolerance` says of written lengths.",
        &["try width 5 \u{B1} 0.02 mm", "sure"], Then::Nothing),
    word("settle", "PATH [by READING]", "try the value of a number that a reading of the scale asks for",
        "One reading settles one number. `keep` then writes it as a line of the recipe, remarked with the reading.",
        &["weighed.finished 4.2 g", "settle width"], Then::Path),
    word("gauge", "READINGS", "what a ring in the hand is, by what was read of it",
        "Words are `weight`, `width`, `thickness`, `inside` or `size`, `outside`; `alloy` or `mark` where known; `profile domed`, `hollow no`, `pattern no` or a block of what is known of them. Alloys of the recipe count too. What comes out can be pasted into the recipe; nothing is laid over it.",
        &["gauge weight 5.86 g, width 5 mm, inside 16 mm, outside 20 mm, alloy silver-925"], Then::Words(&["weight", "width", "thickness", "inside", "outside", "size", "alloy", "mark", "profile", "hollow", "pattern", "scale", "caliper"])),
    word("tally", "FILE [column NAME] [least WEIGHT] [most WEIGHT]", "a batch of weighings from a file, with a control chart",
        "The file is CSV, one ring a line, its weight in grams in the column `weight`. Without `least` and `most` readings are held against the range that the recipe gives.",
        &[], Then::File),
    word("eval", "[BAND] [full | PART | json | csv]", "the band on one screen, in full or one part of it; the recipe for machines",
        "Parts are made, size, dimensions, parts, weights, money, limits, fineness, machining, curves, enlarger, grip, stretch, allowances, strength, care, orders, requirements.",
        &["eval", "eval full", "eval millstone-light machining", "eval json"], Then::Words(EXTENTS)),
    word("offer", "[ORDER]", "an order of the recipe as it is handed to the customer", "",
        &[], Then::Order),
    word("check", "", "mistakes, limits and requirements of the whole recipe", "",
        &["check"], Then::Nothing),
    word("list", "[WHAT [NAME]]", "what the program knows, with sources",
        "Alone: what can be listed. A name may be a beginning: `list fields shell` shows every field with a word that begins so.",
        &["list", "list alloys sterling", "list fields shell", "list results machined", "list units"], Then::Listing),
    word("open", "FILE", "work on another recipe", "",
        &["open examples/harvest.annulet"], Then::File),
    word("reload", "[over]", "take in what was changed on disk",
        "Files that were changed since they were read are named before the next reply. Where the recipe has changes that are not saved, `reload over` forgets them; `undo` brings them back.",
        &[], Then::Words(&["over"])),
    word("save", "[FILE] [over]", "write the recipe to its file",
        "The old file stays whole until the new one is. A file that was changed by someone else since it was opened is not written over, unless `over` is added.",
        &[], Then::File),
    word("digits", "useful | all", "how many digits are shown",
        "A number shown with fewer digits than it has carries \u{2248}.",
        &["digits all", "weight"], Then::Words(&["useful", "all"])),
    word("help", "[TOPIC]", "this list, or more of one word or topic", "",
        &["help try", "help recipe"], Then::Topic),
    word("quit", "", "end; Ctrl-D does the same", "", &[], Then::Nothing),
];

/// How much `eval` shows.
const EXTENTS: &[&str] = &[
    "full",
    "json",
    "csv",
    "made",
    "size",
    "dimensions",
    "parts",
    "weights",
    "money",
    "limits",
    "fineness",
    "machining",
    "curves",
    "enlarger",
    "grip",
    "stretch",
    "allowances",
    "strength",
    "care",
    "orders",
    "requirements",
];

/// Words of the command line that are none of the bench, and what is typed instead.
const ELSEWHERE: &[(&str, &str)] = &[
    ("ask", "a path alone asks here: `weight`"),
    (
        "diff",
        "`annulet diff OLD NEW` on the command line sets two recipes side by side; here `compare` sets bands",
    ),
    (
        "sheet",
        "`annulet sheet` on the command line prints the page for the lathe; here `eval machining` shows its figures",
    ),
    (
        "tidy",
        "`annulet tidy FILE` on the command line lays a recipe out; `keep` and `save` leave its layout as it is",
    ),
    (
        "bench",
        "this is the bench; `open FILE` works on another recipe",
    ),
    (
        "serve",
        "`annulet serve` on the command line talks to an editor; here the recipe is typed",
    ),
    (
        "completions",
        "`annulet completions SHELL` on the command line; here Tab completes",
    ),
    ("man", "`annulet man` on the command line; here `help`"),
];

/// What to say of a line that begins with a word which is none of the bench.
#[must_use]
pub fn elsewhere(line: &str) -> Option<(&'static str, &'static str)> {
    let word = line.split_whitespace().next()?;
    ELSEWHERE.iter().copied().find(|(known, _)| *known == word)
}

/// The command of a word.
#[must_use]
pub fn find(word: &str) -> Option<&'static Word> {
    let word = if word == "exit" { "quit" } else { word };
    WORDS.iter().find(|known| known.word == word)
}

/// A line's command and what stands behind it: the first word, unless a point follows it.
///
/// # Example
/// ```
/// use annulet::bench::command;
/// assert_eq!(command("try width 5 mm").map(|(word, rest)| (word.word, rest)), Some(("try", "width 5 mm")));
/// assert!(command("try.weight").is_none());
/// ```
#[must_use]
pub fn command(line: &str) -> Option<(&'static Word, &str)> {
    let line = line.trim();
    let end = line
        .find(|c: char| c.is_whitespace() || c == '.')
        .unwrap_or(line.len());
    let (word, rest) = line.split_at(end);
    if rest.starts_with('.') {
        return None;
    }
    find(word).map(|word| (word, rest.trim()))
}
