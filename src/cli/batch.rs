//! Many recipes: read and evaluated on all cores, handed on in the order given.
//!
//! Each recipe has a session of its own. What cannot be read is handed on like a result, so that a bad file
//! costs only itself.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Condvar, Mutex, PoisonError};

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

/// How many recipes are handed on together, and how long they are then: to lock and wake for one short recipe costs as
/// much as to work it out.
const TOGETHER: usize = 16;
const LONG: usize = 8192;

/// How many recipes wait for one before them that takes its time, until the others wait too.
const WAITING: usize = 64;

/// What is worked out and not handed on yet, by its place.
#[derive(Default)]
struct Waiting {
    done: BTreeMap<usize, Done>,
    due: usize,
    /// Somebody hands on.
    busy: bool,
}

impl Waiting {
    /// All that is due now, in order.
    fn take_due(&mut self) -> Vec<Done> {
        let mut due = Vec::new();
        while let Some(done) = self.done.remove(&self.due) {
            self.due += 1;
            due.push(done);
        }
        due
    }
}

/// What workers share. Each hands on what is due, so that no recipe leaves the thread that read it without need.
struct Work<'a> {
    files: &'a [String],
    asked: &'a Asked,
    next: AtomicUsize,
    enough: AtomicBool,
    waiting: Mutex<Waiting>,
    room: Condvar,
    each: Mutex<&'a mut (dyn FnMut(Done) -> bool + Send)>,
}

impl Work<'_> {
    /// Works until all files are read, or `each` wants no more; so many recipes are handed on together.
    fn run(&self, together: usize) {
        let _failing = Failing(self);
        let (mut some, mut length) = (Vec::new(), 0);
        // Recipes that stand side by side, so that who works them out mostly hands them on.
        while !self.enough.load(Ordering::Relaxed) {
            let from = self.next.fetch_add(together, Ordering::Relaxed);
            let Some(files) = self.files.get(from..) else {
                break;
            };
            for (place, file) in (from..).zip(files.iter().take(together)) {
                if self.enough.load(Ordering::Relaxed) {
                    break;
                }
                let text = input::read(file);
                length += text.text.as_ref().map_or(0, String::len);
                some.push((place, evaluate(text, self.asked)));
                if length >= LONG {
                    self.hand_on(std::mem::take(&mut some));
                    length = 0;
                }
            }
            self.hand_on(std::mem::take(&mut some));
            length = 0;
            self.wait_for_room();
        }
    }

    /// Waits until what comes before has been handed on, with nothing in hand that others could wait for.
    fn wait_for_room(&self) {
        let is_full = |waiting: &mut Waiting| {
            waiting.done.len() > WAITING && !self.enough.load(Ordering::Relaxed)
        };
        drop(self.room.wait_while(held(self.waiting.lock()), is_full));
    }

    fn hand_on(&self, some: Vec<(usize, Done)>) {
        let mut waiting = held(self.waiting.lock());
        waiting.done.extend(some);
        while !waiting.busy {
            let due = waiting.take_due();
            if due.is_empty() {
                break;
            }
            waiting.busy = true;
            drop(waiting);
            let mut each = held(self.each.lock());
            for done in due {
                if !self.enough.load(Ordering::Relaxed) && !each(done) {
                    self.enough.store(true, Ordering::Relaxed);
                }
            }
            drop(each);
            waiting = held(self.waiting.lock());
            waiting.busy = false;
            self.room.notify_all();
        }
    }
}

/// Nobody waits for what a worker that failed had taken on.
struct Failing<'w, 'a>(&'w Work<'a>);

impl Drop for Failing<'_, '_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.0.enough.store(true, Ordering::Relaxed);
            self.0.room.notify_all();
        }
    }
}

/// What a lock guards, also where somebody failed while holding it.
fn held<T>(locked: Result<T, PoisonError<T>>) -> T {
    locked.unwrap_or_else(PoisonError::into_inner)
}

/// Evaluates all files and hands each on in the order given, until `each` wants no more.
pub(super) fn for_all(
    files: &[String],
    asked: &Asked,
    jobs: usize,
    each: &mut (dyn FnMut(Done) -> bool + Send),
) {
    let jobs = jobs.clamp(1, files.len().max(1));
    // Few recipes, each of which may take long, are shared out one by one.
    let together = match jobs {
        1 => 1,
        _ => (files.len() / (4 * jobs)).clamp(1, TOGETHER),
    };
    let work = Work {
        files,
        asked,
        next: AtomicUsize::new(0),
        enough: AtomicBool::new(false),
        waiting: Mutex::default(),
        room: Condvar::new(),
        each: Mutex::new(each),
    };
    std::thread::scope(|scope| {
        for _ in 1..jobs {
            let run = || work.run(together);
            // Where no more can be started, those that are there do all of it.
            if std::thread::Builder::new()
                .spawn_scoped(scope, run)
                .is_err()
            {
                break;
            }
        }
        work.run(together);
    });
}

/// How many recipes are worked out at once, unless the call says otherwise.
pub(super) fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, std::num::NonZero::get)
}
