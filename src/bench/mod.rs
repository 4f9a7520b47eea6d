//! The interactive bench: a line in, a reply out.
//!
//! A [`Bench`] holds a recipe's text in memory, what is tried over it, and the way back through all changes.
//! [`Bench::step`] takes one line (or a block) and gives a [`Reply`]; it prints nothing and reads nothing but
//! through [`Files`], so that prompt, pipe and tests drive the same code. `terminal` alone knows rustyline.

mod ask;
mod block_paths;
mod complete;
mod contour;
mod due;
mod edit;
mod files;
mod fresh;
mod grown;
mod help;
mod hint;
mod kept;
mod lines;
mod look;
mod many;
mod moved;
mod offered;
mod past;
mod reply;
mod scale;
mod section;
mod several;
mod show;
mod stand;
mod state;
mod stop;
#[cfg(feature = "cli")]
mod terminal;
mod tries;
mod undo;
mod watch;
mod words;

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::explore::Change;
use crate::finding::Finding;
use crate::model::Day;
use crate::report::{self, Digits};
use crate::session::{NoLibrary, Outcome, Prepared, Request, Session, Typed};
use crate::source::{Sources, cells};
use crate::suggest::nearest;
use lines::{is_for_machines, without_comment};
use state::State;

pub use complete::complete;
pub use due::Candidate;
pub use files::{Files, NoFiles};
pub use lines::statements;
pub use look::{Kind, look};
pub use reply::{Asks, Reply};
pub use stop::Unsaved;
#[cfg(feature = "cli")]
pub use terminal::{Conversation, Screen, converse};
pub use words::{Then, WORDS, Word, command, find};

/// The bench.
pub struct Bench {
    session: Session,
    prepared: Prepared,
    /// What the recipe comes to, with all that is tried.
    outcome: Outcome,
    state: State,
    /// The file that `save` writes, once there is one.
    file: Option<String>,
    /// The band that bare names mean.
    band: Option<String>,
    past: past::Past,
    /// What each file held when it was last read or written here.
    disk: BTreeMap<String, Arc<str>>,
    files: Box<dyn Files>,
    /// The day that ages count to.
    on: Option<String>,
    digits: Digits,
    /// Cells of a line.
    width: usize,
    /// Sources that the present state points into; those behind are forgotten with the next line.
    kept: usize,
    /// What the recipe came to before the last change.
    before: Outcome,
    /// Texts that the findings of a refused line point into.
    shown: Option<Sources>,
    /// Where the present line is typed.
    typed: Typed,
    /// Comment lines before what is still to be said of the recipe.
    comments: Vec<String>,
    /// Lines of the screen, where there is one.
    height: Option<usize>,
    /// What of the last reply is still to be shown.
    rest: String,
    /// What the last reply told the first figures of.
    behind: Option<Change>,
    /// Paths whose values are shown behind every reply.
    watched: Vec<String>,
    /// The last value asked for, as it is written.
    last: Option<String>,
    /// Cells of the prompt that the last text was typed behind, and the text.
    under: (usize, String),
    /// Files changed on disk that this was told of, as they are there.
    told: BTreeMap<String, Option<String>>,
    /// How many of the tries were looked at for names that they mention, and whether some do.
    tied: (usize, bool),
    /// Tells how far a long line has come.
    progress: Option<fn(&str)>,
    /// A line is to end.
    stop: Arc<AtomicBool>,
    /// A line was told to end, so that what the recipe comes to is to be worked out again.
    stale: bool,
    /// Its last bands were put behind the others by themselves.
    grown: bool,
}

/// Where the lines of a paste are typed.
const PASTE: &str = "paste";

/// What a recipe without a file is called.
const UNNAMED: &str = "recipe";

impl Bench {
    /// An empty bench.
    #[must_use]
    pub fn new(files: Box<dyn Files>, on: Option<String>) -> Self {
        let mut session = Session::default();
        let prepared = session.prepare(UNNAMED, "", &mut NoLibrary);
        let kept = session.sources.count();
        Self {
            session,
            prepared,
            outcome: Outcome::default(),
            state: State::default(),
            file: None,
            band: None,
            past: past::Past::default(),
            disk: BTreeMap::new(),
            files,
            on,
            digits: Digits::Useful,
            width: 80,
            kept,
            before: Outcome::default(),
            shown: None,
            typed: Typed {
                name: "line".to_owned(),
                line: 1,
            },
            comments: Vec::new(),
            height: None,
            rest: String::new(),
            behind: None,
            watched: Vec::new(),
            last: None,
            progress: None,
            under: (0, String::new()),
            told: BTreeMap::new(),
            tied: (0, false),
            stop: Arc::default(),
            stale: false,
            grown: false,
        }
    }

    /// The texts that findings point into.
    #[must_use]
    pub fn sources(&self) -> &Sources {
        self.shown.as_ref().unwrap_or(&self.session.sources)
    }

    /// The recipe's text as it is in memory.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.state.text
    }

    /// How many tries are laid over it.
    #[must_use]
    pub fn tries(&self) -> usize {
        self.state.tries.len()
    }

    /// What the recipe comes to, with what is tried.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// All that is found in the recipe as it is, with what is tried; until the next line.
    #[must_use]
    pub fn findings(&mut self) -> Vec<Finding> {
        self.forget();
        if self.state.text.trim().is_empty() {
            return Vec::new();
        }
        let request = self.request();
        self.session.outcome(&self.prepared, &request).findings
    }

    /// Whether the text differs from its file.
    #[must_use]
    pub fn unsaved(&self) -> bool {
        match &self.file {
            Some(file) => self.disk.get(file) != Some(&self.state.text),
            None => !self.state.text.trim().is_empty(),
        }
    }

    /// What is shown before a line: the file that `save` writes, and the band that bare names mean.
    #[must_use]
    pub fn prompt(&self) -> String {
        let name = match (self.file_in_short(), self.band.as_deref()) {
            (Some(file), Some(band)) => format!("{file}:{band}"),
            (Some(file), None) => file,
            (None, band) => band.unwrap_or("annulet").to_owned(),
        };
        let tried = match self.state.tries.len() {
            0 => String::new(),
            count => format!(" +{count}"),
        };
        let mark = if self.unsaved() { "*" } else { "" };
        format!("{name}{mark}{tried}> ")
    }

    /// What a newcomer sees first, or what is open.
    #[must_use]
    pub fn welcome(&self) -> String {
        let Some(name) = self.file.as_deref() else {
            return help::WELCOME.to_owned();
        };
        let bands: Vec<&str> = self.band_names();
        format!(
            "{}: {}. `help` lists what can be typed.\n",
            crate::source::printable(name),
            if bands.is_empty() {
                "no band yet".to_owned()
            } else {
                bands.join(", ")
            }
        )
    }

    /// How many cells a line has.
    #[must_use]
    pub fn width(&self) -> usize {
        self.width
    }

    /// Sets how many cells a line has.
    pub fn set_width(&mut self, width: usize) {
        self.width = width.clamp(20, 200);
    }

    /// How many cells of the prompt stood before the last text, and the text; none where it was one of a paste.
    #[must_use]
    pub fn last_typed(&self) -> Option<(usize, &str)> {
        let alone = self.typed.name != PASTE;
        alone.then_some((self.under.0, &self.under.1))
    }

    /// Says where the next line comes from: the name of the input, and the number of its line.
    pub fn typed_at(&mut self, name: &str, line: usize) {
        self.typed = Typed {
            name: name.to_owned(),
            line,
        };
    }

    /// Takes a line, a block, or several of them one after the other.
    pub fn step(&mut self, text: &str) -> Reply {
        self.under = (cells(&self.prompt()), text.to_owned());
        let mut whole = Reply::of(self.changed_on_disk());
        let first = self.typed.line;
        let all = statements(text);
        let mut behind = 0;
        for statement in all {
            // What is pasted is found by its line.
            let line = behind;
            behind += statement.matches('\n').count() + 1;
            self.typed.line = first + line;
            let mut reply = self.until_stopped(statement);
            // What it rests on was told when the recipe was read, which may be long ago.
            if reply.refused && reply.findings.is_empty() && reply.complaint.is_none() {
                reply.complaint = Some(self.why_no_answer());
            }
            whole.text.push_str(&reply.text);
            whole.findings.extend(reply.findings);
            if let Some(complaint) = reply.complaint {
                let known = whole
                    .complaint
                    .take()
                    .map_or(String::new(), |one| one + "\n");
                whole.complaint = Some(known + &complaint);
            }
            whole.refused |= reply.refused;
            whole.unmet |= reply.unmet;
            whole.ends = reply.ends;
            whole.asks = reply.asks;
            whole.stopped = reply.stopped;
            if whole.ends || whole.asks.is_some() || whole.stopped {
                break;
            }
        }
        self.typed.line = first;
        if !is_for_machines(text) {
            whole.text = self.fitted(whole.text);
        }
        if !whole.ends && whole.asks.is_none() && !is_for_machines(text) {
            let in_view = self.in_view();
            whole.text.push_str(&in_view);
        }
        whole
    }

    /// Why a question has no answer, where nothing is found in its own line.
    fn why_no_answer(&self) -> String {
        let lacks = |one: &&Finding| one.code() == "model::missing_field";
        let mut found = self.outcome.findings.iter().filter(lacks);
        match found.next() {
            Some(lack) => format!("still to be given: {}", lack.message()),
            None => "a mistake in the recipe stands in its way; `check` shows it".to_owned(),
        }
    }

    /// One statement.
    fn one(&mut self, line: &str) -> Reply {
        self.forget();
        let trimmed = line.trim();
        if trimmed.is_empty() {
            return Reply::default();
        }
        if trimmed.starts_with('#') {
            // It belongs to the recipe line that follows it, as in a file.
            self.comments.push(trimmed.to_owned());
            return Reply::default();
        }
        let with_it = self.with_it(line);
        let line = with_it.as_deref().unwrap_or(line);
        let trimmed = line.trim();
        let Some((word, rest)) = command(trimmed) else {
            return self.recipe_line(line);
        };
        if word.word != "more" {
            self.rest.clear();
            self.behind = None;
        }
        self.grown_before(word.word);
        // What is tried may be kept, comment and all; other commands have nothing to do with one.
        let rest = if word.word == "try" && !rest.starts_with('#') {
            rest
        } else {
            without_comment(rest)
        };
        if word.then == Then::Nothing && !rest.is_empty() {
            return self.too_much(word, rest);
        }
        match word.word {
            "try" => self.try_line(rest).or_not_taken(),
            "keep" => self.keep(rest),
            "drop" => self.drop_tries(rest),
            "watch" => self.watch(rest),
            "more" => self.more(),
            "run" => self.run_sizes(rest),
            "reload" => self.reload(rest),
            "undo" => self.undo(rest),
            "redo" => self.redo(),
            "on" => self.on_band(rest),
            "show" => self.show(rest),
            "compare" => self.compare(rest),
            "section" => self.section(rest),
            "strip" => self.strip(rest),
            "contour" => self.contour(rest),
            "why" => self.why(rest),
            "sure" => self.sure(),
            "settle" => self.settle(rest),
            "gauge" => self.gauge(rest),
            "tally" => self.tally(rest),
            "eval" => self.eval(rest),
            "offer" => self.offer(rest),
            "check" => self.check(),
            "sweep" => self.sweep(rest),
            "solve" => self.solve(rest),
            "choose" => self.choose_best(rest),
            "list" => list(rest, self.width),
            "open" => self.open(rest),
            "save" => self.save(rest),
            "digits" => self.set_digits(rest),
            "help" => help_on(rest, self.width),
            _ => self.quit(),
        }
    }

    /// A command that takes nothing, with something behind it: a field of that name was meant.
    fn too_much(&self, word: &Word, rest: &str) -> Reply {
        let fields = crate::schema::matching(word.word);
        let hint = match fields.as_slice() {
            [field, ..] => format!("; for the field write `{} {rest}`", field.path),
            [] => String::new(),
        };
        Reply::complaint(format!("nothing goes after `{}`{hint}", word.word))
    }

    /// What is asked of the recipe.
    fn request(&self) -> Request {
        Request {
            sets: Vec::new(),
            tries: self.state.tries.clone(),
            band: self.band.clone(),
            on: self.on.as_deref().and_then(Day::read),
        }
    }

    /// Forgets the texts of earlier lines, which nothing points into any more.
    fn forget(&mut self) {
        self.shown = None;
        self.session.sources.forget_behind(self.kept);
    }

    /// The names of the recipe's own bands as read.
    fn prepared_names(&self) -> Vec<String> {
        let items = self.prepared.tree().map_or(&[][..], |tree| &tree.items);
        crate::session::band_names(items)
    }

    fn band_names(&self) -> Vec<&str> {
        let names = self.outcome.recipe.names.iter();
        names.map(|named| named.name.as_str()).collect()
    }

    /// The band of a name or, where none is given, the one that bare names mean.
    fn named_band(&self, name: &str) -> Result<String, String> {
        match (name, &self.band) {
            ("", Some(band)) => Ok(band.clone()),
            ("", None) => Err("there is no band yet; `help recipe`".to_owned()),
            (name, _) => self.outcome.known(name),
        }
    }

    /// Chooses the band that bare names mean.
    pub fn choose(&mut self, name: &str) -> Reply {
        match self.outcome.known(name) {
            Ok(name) => {
                self.outcome.chosen = Some(name.clone());
                self.band = Some(name);
                Reply::default()
            }
            Err(message) => Reply::complaint(message),
        }
    }

    fn on_band(&mut self, name: &str) -> Reply {
        if !name.is_empty() {
            return self.choose(name);
        }
        let names = self.band_names();
        let current = self.band.as_deref();
        let rows = names.iter().map(|name| {
            let mark = if Some(*name) == current { "> " } else { "  " };
            format!("{mark}{name}\n")
        });
        Reply::of(rows.collect::<String>())
    }

    fn set_digits(&mut self, how: &str) -> Reply {
        match how {
            "all" => self.digits = Digits::All,
            "useful" => self.digits = Digits::Useful,
            _ => return Reply::complaint("write `digits all` or `digits useful`"),
        }
        Reply::default()
    }
}

fn list(rest: &str, width: usize) -> Reply {
    let (what, name) = rest
        .split_once(char::is_whitespace)
        .map_or((rest, None), |(what, name)| (what, Some(name.trim())));
    match report::list(what, name, width) {
        Ok(text) => Reply::of(text),
        Err(message) => Reply::complaint(message),
    }
}

fn help_on(topic: &str, width: usize) -> Reply {
    match help::help(topic, width) {
        Some(text) => Reply::of(text),
        None => {
            let topic = crate::source::printable(topic);
            Reply::complaint(match nearest(&topic, help::topics()) {
                Some(near) => format!("there is no help on `{topic}`; did you mean `{near}`?"),
                None => format!("there is no help on `{topic}`; `help` lists what there is"),
            })
        }
    }
}
