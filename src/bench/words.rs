//! The words of the bench: what each does, how it is typed, an example that runs.
//!
//! One table serves reading, completion, hints, help and their tests.

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
    /// The name of a band.
    Band,
    /// The name of an order.
    Order,
    /// A path or an expression.
    Path,
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
    word("try", "FIELD VALUE", "lay a what-if over the band and show what it moves",
        "The recipe stays as it is. A field's path may be short where it means one field. `+`, `-`, `*` and `/` with spaces round them step from the present value; a size steps in its own system, and `+ 5 %` adds points to a share, a part of itself to anything else. Tries stack: each is laid over those before it.",
        &["try width 5 mm", "try thickness + 0.05 mm", "try size + 1", "try millstone-light.shell 0.6 mm, cut 0.28 mm"], Then::Field),
    word("keep", "", "write all that is tried into the recipe",
        "The text is edited in place: comments and layout stay as they are. `save` then writes the file.",
        &["try width 5 mm", "keep"], Then::Nothing),
    word("drop", "", "forget all that is tried",
        "`undo` forgets only the last.",
        &["try width 5 mm", "drop"], Then::Nothing),
    word("undo", "[FILE]", "take back the last change: an edit, a try, a keep, a drop or an open",
        "It goes back as far as the session does; `redo` goes forth again until something new is changed. Where it leads back behind a `save` under another name, it asks which of the two files `save` writes from there; `undo FILE` names it at once.",
        &["width 5 mm", "undo"], Then::File),
    word("redo", "", "do again what was taken back", "",
        &["width 5 mm", "undo", "redo"], Then::Nothing),
    word("on", "BAND", "choose the band that bare names mean",
        "Without a name: which bands there are.",
        &["on millstone-light", "weight"], Then::Band),
    word("show", "[BAND]", "the recipe text of a band, and what it inherits", "",
        &["show millstone-light"], Then::Band),
    word("compare", "[BAND…] [solid]", "bands side by side, differences first",
        "`solid` stands for the solid band of the same look. Without a name: the band as it is written beside what is tried or, with nothing tried, a hollow band beside its solid.",
        &["compare millstone millstone-light", "compare millstone-light solid"], Then::Band),
    word("contour", "[BAND] [PART] [nose LENGTH]", "points of each part for the turning program: x and diameter",
        "Of each part, or of `shell` or `sleeve` alone. As machined, metal for finishing included, unless `finished` is said; `step 0.1 mm` is the step along the axis, `csv` the points as a table. With `nose` the way of the centre of the tool's round nose stands beside the points; the channel's corners take the recipe's `nose`.",
        &["contour millstone-light shell step 1 mm nose 0.2 mm"], Then::Band),
    word("why", "PATH", "where a value comes from: formula and inputs, or every place that set it", "",
        &["why width", "why weight.cut"], Then::Path),
    word("eval", "[BAND | json | csv]", "the full report of the band, or the machine output of the recipe", "",
        &["eval", "eval json"], Then::Words(&["json", "csv"])),
    word("offer", "[ORDER]", "an order of the recipe as it is handed to the customer", "",
        &[], Then::Order),
    word("check", "", "mistakes, limits and requirements of the whole recipe", "",
        &["check"], Then::Nothing),
    word("list", "WHAT [NAME]", "what the program knows, with sources", "",
        &["list alloys sterling", "list units"], Then::Listing),
    word("open", "FILE", "work on another recipe", "",
        &["open examples/harvest.annulet"], Then::File),
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

/// Words of the language that this version does nothing with yet.
const LATER: &[&str] = &[
    "sweep", "solve", "diff", "tidy", "strip", "section", "sheet", "serve",
];

/// The word that a line begins with, where it is one that this version does nothing with yet.
#[must_use]
pub fn later(line: &str) -> Option<&'static str> {
    let word = line.split_whitespace().next()?;
    LATER.iter().copied().find(|known| *known == word)
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
