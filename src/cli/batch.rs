//! Many recipes: read and evaluated on all cores, handed on in the order given.
//!
//! Each recipe has a session of its own. What cannot be read is handed on like a result, so that a bad file
//! costs only itself.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc;

use crate::finding::{Finding, Weight};
use crate::session::{Outcome, Prepared, Request, Session};

use super::input::{self, PIPED, Unread};
use super::library::Folder;

/// One recipe, evaluated.
pub(super) struct Evaluated {
    /// Its sources.
    pub session: Session,
    /// The recipe as read.
    pub prepared: Prepared,
    /// What it came to.
    pub outcome: Outcome,
}

impl Evaluated {
    /// What is wrong, without limits that fall short and notes.
    pub fn mistakes(&self) -> Vec<Finding> {
        let findings = self.outcome.findings.iter();
        let wrong = findings.filter(|one| one.weight() == Weight::Wrong);
        wrong.cloned().collect()
    }
}

/// One recipe, or why it cannot be read.
pub(super) type Done = Result<Evaluated, Unread>;

/// What a call asks of each recipe, and where it may be read.
#[derive(Clone, Debug, Default)]
pub(super) struct Asked {
    /// What is asked of it.
    pub request: Request,
    /// The folder that `use` may reach all of.
    pub root: Option<PathBuf>,
    /// What standard input is called.
    pub name: Option<String>,
}

/// Evaluates one text.
pub(super) fn evaluate(text: input::Text, asked: &Asked) -> Done {
    let name = match &asked.name {
        Some(name) if text.name == PIPED => name.clone(),
        _ => text.name,
    };
    let mut folder = Folder::of(&name, asked.root.as_deref());
    let refuse = |message| Unread {
        file: Some(name.clone()),
        message,
    };
    if let Some(message) = folder.refusal(&name) {
        return Err(refuse(message));
    }
    let content = text.text.map_err(refuse)?;
    let mut session = Session::default();
    let prepared = session.prepare(&name, &content, &mut folder);
    let mut outcome = session.outcome(&prepared, &asked.request);
    prepared.tell_unused(&asked.request, &mut outcome);
    Ok(Evaluated {
        session,
        prepared,
        outcome,
    })
}

/// Evaluates all files and hands each on in the order given, until `each` wants no more.
pub(super) fn for_all(
    files: &[String],
    asked: &Asked,
    jobs: usize,
    each: &mut dyn FnMut(Done) -> bool,
) {
    let jobs = jobs.clamp(1, files.len().max(1));
    if jobs == 1 {
        return one_by_one(files, asked, each);
    }
    let next = AtomicUsize::new(0);
    let enough = AtomicBool::new(false);
    let (sender, receiver) = mpsc::sync_channel::<(usize, Done)>(4 * jobs);
    let begun = std::thread::scope(|scope| {
        let mut begun = false;
        for _ in 0..jobs {
            let sender = sender.clone();
            let (next, enough) = (&next, &enough);
            let work = move || {
                while !enough.load(Ordering::Relaxed) {
                    let place = next.fetch_add(1, Ordering::Relaxed);
                    let Some(file) = files.get(place) else { return };
                    if sender
                        .send((place, evaluate(input::read(file), asked)))
                        .is_err()
                    {
                        return;
                    }
                }
            };
            // Where no more can be started, those that are there do all of it.
            match std::thread::Builder::new().spawn_scoped(scope, work) {
                Ok(_) => begun = true,
                Err(_) => break,
            }
        }
        drop(sender);
        let mut waiting: BTreeMap<usize, Done> = BTreeMap::new();
        let mut due = 0;
        for (place, done) in receiver {
            waiting.insert(place, done);
            while let Some(done) = waiting.remove(&due) {
                due += 1;
                if !enough.load(Ordering::Relaxed) && !each(done) {
                    enough.store(true, Ordering::Relaxed);
                }
            }
        }
        begun
    });
    if !begun {
        one_by_one(files, asked, each);
    }
}

fn one_by_one(files: &[String], asked: &Asked, each: &mut dyn FnMut(Done) -> bool) {
    for file in files {
        if !each(evaluate(input::read(file), asked)) {
            return;
        }
    }
}

/// How many recipes are worked out at once, unless the call says otherwise.
pub(super) fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, std::num::NonZero::get)
}
