//! Opening and saving at the bench.

use std::sync::Arc;

use crate::session::{Batch, Library, NoLibrary};
use crate::source::printable;

use super::state::State;
use super::{Asks, Bench, Reply};

/// Reads and writes recipe files for the bench.
pub trait Files {
    /// The text of a file.
    ///
    /// # Errors
    /// Why it cannot be read.
    fn read(&mut self, name: &str) -> Result<String, String>;

    /// Writes a file whole or not at all.
    ///
    /// # Errors
    /// Why it cannot be written; the old file is then as it was.
    fn write(&mut self, name: &str, text: &str) -> Result<(), String>;

    /// Why nothing can be written under that name, whatever is there already; none where nothing stands against it.
    fn unwritable(&mut self, _name: &str) -> Option<String> {
        None
    }

    /// Whether there is a file of that name.
    fn exists(&mut self, name: &str) -> bool;

    /// Opens the files that a recipe uses.
    fn library(&mut self, name: &str) -> Box<dyn Library>;

    /// The weighings of a batch in a file, by the name of their column where it is not that of the weight.
    ///
    /// # Errors
    /// Everything that is wrong with the file.
    fn weighings(&mut self, name: &str, _column: Option<&str>) -> Result<Batch, Vec<String>> {
        Err(vec![format!("cannot read `{}` here", printable(name))])
    }

    /// Names of recipes and folders that begin so, for completion.
    fn beginning(&mut self, start: &str) -> Vec<String>;
}

/// No files at all: for benches that only live in memory.
pub struct NoFiles;

impl Files for NoFiles {
    fn read(&mut self, name: &str) -> Result<String, String> {
        Err(format!("cannot read `{name}` here"))
    }

    fn write(&mut self, name: &str, _text: &str) -> Result<(), String> {
        Err(format!("cannot write `{name}` here"))
    }

    fn exists(&mut self, _name: &str) -> bool {
        false
    }

    fn library(&mut self, _name: &str) -> Box<dyn Library> {
        Box::new(NoLibrary)
    }

    fn beginning(&mut self, _start: &str) -> Vec<String> {
        Vec::new()
    }
}

impl Bench {
    /// `open FILE`.
    pub(super) fn open(&mut self, name: &str) -> Reply {
        if name.is_empty() {
            return Reply::complaint("open what? as in `open harvest.annulet`");
        }
        if self.unsaved() {
            return Reply {
                asks: Some(Asks::BeforeOpen(name.to_owned())),
                ..Reply::default()
            };
        }
        self.opened(name)
    }

    /// Opens a recipe, whatever becomes of the one before it.
    pub fn opened(&mut self, name: &str) -> Reply {
        self.forget();
        let text = match self.files.read(name) {
            Ok(text) => text,
            Err(message) => return Reply::complaint(message),
        };
        let first = self.file.is_none() && self.state.text.is_empty();
        let state = State {
            text: text.into(),
            tries: Vec::new(),
        };
        self.disk.insert(name.to_owned(), state.text.clone());
        let file = self.file.replace(name.to_owned());
        let before = self.attempt(state, None);
        if !first {
            let what = format!("open {}", printable(name));
            self.past.note_open(&before.state, &self.state, &what, file);
        }
        Reply {
            text: self.welcome(),
            findings: self.outcome.findings.clone(),
            ..Reply::default()
        }
    }

    /// A recipe that is still to be written, under its file's name.
    pub fn begin(&mut self, name: &str) -> Reply {
        self.file = Some(name.to_owned());
        self.disk.insert(name.to_owned(), "".into());
        Reply::of(format!(
            "{}: a new recipe; `help recipe` shows how one begins\n",
            printable(name)
        ))
    }

    /// `save [FILE] [over]`.
    pub(super) fn save(&mut self, rest: &str) -> Reply {
        let (name, over) = match rest.strip_suffix("over") {
            Some(name) if name.is_empty() || name.ends_with(char::is_whitespace) => {
                (name.trim(), true)
            }
            _ => (rest, false),
        };
        let name = match (name, &self.file) {
            ("", Some(file)) => file.clone(),
            ("", None) => {
                return Reply::complaint("save under which name? as in `save harvest.annulet`");
            }
            (name, _) if name.ends_with(".annulet") => name.to_owned(),
            (name, _) => {
                let name = printable(name);
                return Reply::complaint(format!(
                    "a recipe's file ends in .annulet; `save {name}.annulet`"
                ));
            }
        };
        if let Some(refusal) = self.files.unwritable(&name) {
            return Reply::complaint(refusal);
        }
        if !over && let Some(refusal) = self.not_ours(&name) {
            return Reply::complaint(refusal);
        }
        if let Err(message) = self.files.write(&name, &self.state.text) {
            return Reply::complaint(message);
        }
        self.disk.insert(name.clone(), self.state.text.clone());
        let shown = printable(&name);
        if self.file.as_ref() != Some(&name) {
            if let Some(before) = self.file.replace(name) {
                self.past.saved_as(before);
            }
            self.run();
        }
        let tried = match self.state.tries.len() {
            0 => "",
            _ => "; what is tried is not in it (`keep` writes it in)",
        };
        Reply {
            stopped: self.is_stopped(),
            ..Reply::of(format!("saved {shown}{tried}\n"))
        }
    }

    /// Files that were changed on disk since they were read, told once; the recipe's own and those that it uses.
    pub(super) fn changed_on_disk(&mut self) -> String {
        let mut text = String::new();
        for (name, known) in self.known_files() {
            let now = self.files.read(&name).ok();
            if now.as_deref() == Some(&*known) || self.told.get(&name) == Some(&now) {
                continue;
            }
            let shown = printable(&name);
            text.push_str(&match now {
                Some(_) => format!("{shown} was changed on disk; `reload` takes it in\n"),
                None => format!("{shown} is gone from the disk\n"),
            });
            self.told.insert(name, now);
        }
        text
    }

    /// The files that the recipe rests on, with what each held when it was read.
    fn known_files(&self) -> Vec<(String, Arc<str>)> {
        let own = self.file.iter().filter_map(|file| {
            let known = self.disk.get(file)?;
            // A recipe that is still to be written is no file yet.
            (!known.is_empty()).then(|| (file.clone(), known.clone()))
        });
        let sources = &self.session.sources;
        let used = self.prepared.files().iter().skip(1);
        let used = used.filter_map(|name| Some((name.clone(), sources.named(name)?.text.clone())));
        own.chain(used).collect()
    }

    /// `reload [over]`: reads the recipe's file and those that it uses anew.
    pub(super) fn reload(&mut self, rest: &str) -> Reply {
        let over = match rest {
            "" => false,
            "over" => true,
            _ => return Reply::complaint("`reload` takes nothing, or `over`"),
        };
        let mut state = self.state.clone();
        if let Some(file) = self.file.clone() {
            let text = match self.files.read(&file) {
                Ok(text) => text,
                Err(message) => return Reply::complaint(message),
            };
            let is_other = self.disk.get(&file).is_none_or(|known| **known != *text);
            if is_other && self.unsaved() && !over {
                return Reply::complaint(
                    "the recipe has changes that are not saved; `reload over` forgets them, `save FILE` keeps them elsewhere",
                );
            }
            if is_other || over {
                state.text = text.into();
                self.disk.insert(file, state.text.clone());
            }
        }
        let before = self.attempt(state, self.band.clone());
        self.told.clear();
        self.past.note(&before.state, &self.state, "reload");
        self.before = before.outcome;
        self.say_moved("read again", None)
    }

    /// Why a file is not written over: it holds something that this session did not put there or read.
    fn not_ours(&mut self, name: &str) -> Option<String> {
        let shown = printable(name);
        let known = self.disk.get(name).cloned();
        if !self.files.exists(name) {
            let was = known.is_some_and(|known| !known.is_empty());
            return was.then(|| {
                format!(
                    "`{shown}` is gone since it was opened; `save {shown} over` writes it again"
                )
            });
        }
        match (self.files.read(name), known) {
            (Ok(found), Some(known)) if *found == *known => None,
            (Ok(_), Some(_)) => Some(format!(
                "`{shown}` was changed since it was opened; `save {shown} over` writes over that, `open {shown}` reads it"
            )),
            (Ok(found), None) if *found == *self.state.text => None,
            (Ok(_), None) => Some(format!(
                "there is a file `{shown}` already; `save {shown} over` writes over it"
            )),
            (Err(message), _) => Some(message),
        }
    }
}
