//! The bench on a terminal: keys, history, completion, colour. The only file that names rustyline.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::HashSet;
use std::io::ErrorKind;
use std::path::PathBuf;
use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use rustyline::completion::{Completer, Pair};
use rustyline::error::ReadlineError;
use rustyline::highlight::{CmdKind, Highlighter};
use rustyline::hint::{Hint, Hinter};
use rustyline::history::FileHistory;
use rustyline::validate::Validator;
use rustyline::{
    Cmd, ColorMode, CompletionType, ConditionalEventHandler, Config, Context, Editor, Event,
    EventContext, EventHandler, Helper, KeyCode, KeyEvent, Modifiers, RepeatCount,
};

use crate::source::{cells, is_safe, printable, safe_lines};
use crate::syntax;

use super::PASTE;
use super::lines::statements;
use super::look::{Kind, look};
use super::{Asks, Bench, Reply, complete};

/// Where replies are shown.
pub trait Screen {
    /// Shows a reply; its findings point into the bench's sources.
    fn show(&mut self, bench: &Bench, reply: &Reply);

    /// Says something about the session itself.
    fn note(&mut self, message: &str);
}

/// How the conversation is held.
#[derive(Clone, Debug, Default)]
pub struct Conversation {
    /// Colour is wanted.
    pub color: bool,
    /// Where earlier lines are kept.
    pub history: Option<PathBuf>,
}

/// Lines before a block is closed carry this.
const CONTINUES: &str = "  \u{2026} ";

/// How many earlier lines are kept.
const MOST: usize = 10_000;

/// Talks until the session ends.
///
/// # Errors
/// The terminal cannot be used.
pub fn converse(
    bench: Bench,
    screen: &mut dyn Screen,
    manner: &Conversation,
) -> Result<(), ReadlineError> {
    let config = Config::builder()
        .max_history_size(MOST)?
        .history_ignore_dups(true)?
        .history_ignore_space(true)
        .auto_add_history(false)
        .completion_type(CompletionType::List)
        // The line passes through the highlighter in any case, which makes it safe; colour is for it to give.
        .color_mode(ColorMode::Forced)
        .build();
    let bench = Rc::new(RefCell::new(bench));
    let pending = Rc::new(RefCell::new(String::new()));
    let mut editor: Editor<AtTheBench, FileHistory> = Editor::with_config(config)?;
    editor.set_helper(Some(AtTheBench {
        bench: Rc::clone(&bench),
        pending: Rc::clone(&pending),
        color: manner.color,
    }));
    let cancelled = Arc::new(AtomicBool::new(false));
    editor.bind_sequence(
        KeyEvent::ctrl('C'),
        EventHandler::Conditional(Box::new(Cancel(Arc::clone(&cancelled)))),
    );
    if let Some(path) = &manner.history
        && path.exists()
        && let Err(error) = editor.load_history(path)
    {
        screen.note(&format!("earlier lines cannot be read: {error}"));
    }
    let known = Arc::new(Mutex::new(HashSet::new()));
    if let Ok(mut known) = known.lock() {
        known.extend(editor.history().iter().cloned());
    }
    for (key, way) in [(KeyCode::Up, Way::Back), (KeyCode::Down, Way::Forth)] {
        let known = Arc::clone(&known);
        editor.bind_sequence(
            KeyEvent(key, Modifiers::NONE),
            EventHandler::Conditional(Box::new(Earlier { known, way })),
        );
    }
    let mut keeps = true;
    loop {
        measure(&mut editor, &bench);
        let prompt = if pending.borrow().is_empty() {
            printable(&bench.borrow().prompt())
        } else {
            CONTINUES.to_owned()
        };
        let mut typed = true;
        let line = match editor.readline(&prompt) {
            Ok(line) => line,
            Err(ReadlineError::Interrupted) => {
                pending.borrow_mut().clear();
                continue;
            }
            Err(ReadlineError::Eof) if !pending.borrow().is_empty() => {
                pending.borrow_mut().clear();
                continue;
            }
            Err(ReadlineError::Eof) => {
                typed = false;
                "quit".to_owned()
            }
            Err(ReadlineError::Signal(_)) => continue,
            // A slip of the keyboard or of a paste: it takes the line with it, and nothing else.
            Err(error) if is_no_text(&error) => {
                pending.borrow_mut().clear();
                screen.note(NO_TEXT);
                continue;
            }
            Err(error) => {
                if bench.borrow().unsaved() {
                    screen.note("the changes are not saved");
                }
                return Err(error);
            }
        };
        // Nothing of a half block is glued to what is typed next.
        if cancelled.swap(false, Ordering::Relaxed) {
            pending.borrow_mut().clear();
            continue;
        }
        let text = {
            let mut pending = pending.borrow_mut();
            if !pending.is_empty() {
                pending.push('\n');
            }
            pending.push_str(&line);
            if syntax::open_braces(&pending) > 0 {
                continue;
            }
            std::mem::take(&mut *pending)
        };
        // The window may have another size than when the line was begun.
        measure(&mut editor, &bench);
        if typed && !text.trim().is_empty() {
            if let Ok(mut known) = known.lock() {
                known.insert(text.clone());
            }
            editor.add_history_entry(text.as_str())?;
            // Line by line, so that they outlive whatever ends the session.
            if let Some(path) = &manner.history
                && keeps
                && let Err(error) = editor.append_history(path)
            {
                keeps = false;
                screen.note(&format!("lines cannot be kept for later: {error}"));
            }
        }
        let reply = taken(&text, &bench, screen);
        if reply.ends {
            return Ok(());
        }
        if let Some(asks) = reply.asks
            && settle(&asks, &mut editor, &bench, screen)?
        {
            return Ok(());
        }
        // Ctrl-C at the question answered it.
        cancelled.store(false, Ordering::Relaxed);
    }
}

/// Takes what was typed or pasted, each statement with a reply of its own; gives the last one. What is wrong in a
/// paste says which line of it.
fn taken(text: &str, bench: &RefCell<Bench>, screen: &mut dyn Screen) -> Reply {
    let all = statements(text);
    let several = all.len() > 1;
    let (mut last, mut line) = (Reply::default(), 1);
    for statement in all {
        bench
            .borrow_mut()
            .typed_at(if several { PASTE } else { "line" }, line);
        last = bench.borrow_mut().step(statement);
        if several && let Some(complaint) = &mut last.complaint {
            *complaint = format!("line {line}: {complaint}");
        }
        screen.show(&bench.borrow(), &last);
        line += statement.matches('\n').count() + 1;
        if last.ends || last.asks.is_some() || last.stopped {
            break;
        }
    }
    bench.borrow_mut().typed_at("line", 1);
    last
}

/// Tells the bench how large the screen is.
fn measure(editor: &mut Editor<AtTheBench, FileHistory>, bench: &RefCell<Bench>) {
    if let Some((columns, lines)) = editor.dimensions() {
        let mut bench = bench.borrow_mut();
        bench.set_width(usize::from(columns));
        bench.set_height(usize::from(lines));
    }
}

/// Up or Down.
#[derive(Clone, Copy)]
enum Way {
    Back,
    Forth,
}

/// Up and Down: within a block its lines; behind the beginning of a line the earlier ones that begin so; else all
/// earlier lines.
struct Earlier {
    /// Lines that were typed before.
    known: Arc<Mutex<HashSet<String>>>,
    way: Way,
}

impl ConditionalEventHandler for Earlier {
    fn handle(&self, _: &Event, count: RepeatCount, _: bool, at: &EventContext) -> Option<Cmd> {
        let (line, place) = (at.line(), at.pos());
        let known = || self.known.lock().is_ok_and(|known| known.contains(line));
        let browses = place == 0 || line.contains('\n') || (place == line.len() && known());
        Some(match (self.way, browses) {
            (Way::Back, true) => Cmd::LineUpOrPreviousHistory(count),
            (Way::Back, false) => Cmd::HistorySearchBackward,
            (Way::Forth, true) => Cmd::LineDownOrNextHistory(count),
            (Way::Forth, false) => Cmd::HistorySearchForward,
        })
    }
}

/// Said where what was typed is not UTF-8.
const NO_TEXT: &str = "a byte came in that is not text; the line is forgotten, the recipe is as it was (text is UTF-8 here)";

/// Whether reading a line ended at a byte that is not UTF-8, the terminal being as well as before.
fn is_no_text(error: &ReadlineError) -> bool {
    matches!(error, ReadlineError::Io(error) if error.kind() == ErrorKind::InvalidData)
}

/// Asks what the bench must know; whether the session ends.
fn settle(
    asks: &Asks,
    editor: &mut Editor<AtTheBench, FileHistory>,
    bench: &RefCell<Bench>,
    screen: &mut dyn Screen,
) -> Result<bool, ReadlineError> {
    let answer = match editor.readline(&asks.question()) {
        Ok(answer) => answer,
        Err(ReadlineError::Eof | ReadlineError::Interrupted) => return Ok(false),
        Err(error) if is_no_text(&error) => {
            screen.note(NO_TEXT);
            return Ok(false);
        }
        Err(error) => return Err(error),
    };
    let step = |line: &str, screen: &mut dyn Screen| {
        let reply = bench.borrow_mut().step(line);
        screen.show(&bench.borrow(), &reply);
        !reply.refused
    };
    let answer = answer.trim().to_lowercase();
    if let Asks::BeforeUndo { before, now } = asks {
        match answer.as_str() {
            "n" | "new" => step(&format!("undo {now}"), screen),
            "o" | "old" => step(&format!("undo {before}"), screen),
            _ => false,
        };
        return Ok(false);
    }
    match answer.as_str() {
        "y" | "yes" if !step("save", screen) => return Ok(false),
        "y" | "yes" | "n" | "no" => {}
        _ => return Ok(false),
    }
    match asks {
        Asks::BeforeOpen(name) => {
            let reply = bench.borrow_mut().opened(name);
            screen.show(&bench.borrow(), &reply);
            Ok(false)
        }
        Asks::BeforeQuit | Asks::BeforeUndo { .. } => Ok(true),
    }
}

/// Ctrl-C: the line is handed over to be forgotten. (An error would take with it what was typed ahead.)
struct Cancel(Arc<AtomicBool>);

impl ConditionalEventHandler for Cancel {
    fn handle(&self, _: &Event, _: RepeatCount, _: bool, _: &EventContext) -> Option<Cmd> {
        self.0.store(true, Ordering::Relaxed);
        Some(Cmd::AcceptLine)
    }
}

/// What rustyline asks while a line is typed.
struct AtTheBench {
    bench: Rc<RefCell<Bench>>,
    /// Lines of a block that is not closed yet.
    pending: Rc<RefCell<String>>,
    color: bool,
}

impl Helper for AtTheBench {}

/// A block ends by its own brace, not by a rule of the editor.
impl Validator for AtTheBench {}

impl Completer for AtTheBench {
    type Candidate = Pair;

    fn complete(
        &self,
        line: &str,
        cursor: usize,
        _: &Context<'_>,
    ) -> Result<(usize, Vec<Pair>), ReadlineError> {
        let before = match self.pending.borrow().as_str() {
            "" => String::new(),
            pending => format!("{pending}\n"),
        };
        let text = format!("{before}{line}");
        let cursor = before.len() + cursor;
        let (start, words) = complete(&mut self.bench.borrow_mut(), &text, cursor);
        let pairs = words.into_iter().map(|word| Pair {
            // What is whole is left behind; a folder, or a name with a point, is gone into.
            replacement: if word.ends_with(['/', '.']) {
                word.clone()
            } else {
                format!("{word} ")
            },
            display: printable(&word),
        });
        Ok((start.saturating_sub(before.len()), pairs.collect()))
    }
}

/// A hint that is only shown: no key takes it over.
struct Shown(String);

impl Hint for Shown {
    fn display(&self) -> &str {
        &self.0
    }

    fn completion(&self) -> Option<&str> {
        None
    }
}

impl Hinter for AtTheBench {
    type Hint = Shown;

    fn hint(&self, line: &str, cursor: usize, _: &Context<'_>) -> Option<Shown> {
        if cursor < line.len() || !self.pending.borrow().is_empty() {
            return None;
        }
        let mut bench = self.bench.borrow_mut();
        // It must not break the line.
        let taken = cells(&bench.prompt()) + cells(line) + 4;
        let room = bench.width.checked_sub(taken)?;
        let hint = bench.hint(line, room)?;
        Some(Shown(format!("   {}", printable(&hint))))
    }
}

impl Highlighter for AtTheBench {
    fn highlight<'l>(&self, line: &'l str, _: usize) -> Cow<'l, str> {
        if !self.color {
            // What is pasted is no more to be trusted than what a recipe says.
            return safe_lines(line);
        }
        let mut text = String::new();
        let mut at = 0;
        for (range, kind) in look(line) {
            text.push_str(&safe_lines(line.get(at..range.start).unwrap_or("")));
            let part = safe_lines(line.get(range.clone()).unwrap_or(""));
            text.push_str(&format!("\u{1b}[{}m{part}\u{1b}[0m", style(kind)));
            at = range.end;
        }
        text.push_str(&safe_lines(line.get(at..).unwrap_or("")));
        Cow::Owned(text)
    }

    fn highlight_hint<'h>(&self, hint: &'h str) -> Cow<'h, str> {
        if self.color {
            Cow::Owned(format!("\u{1b}[2m{hint}\u{1b}[0m"))
        } else {
            Cow::Borrowed(hint)
        }
    }

    fn highlight_char(&self, line: &str, _: usize, _: CmdKind) -> bool {
        self.color || !line.chars().all(is_safe)
    }
}

/// How a part of a line is drawn (ECMA-48, select graphic rendition).
fn style(kind: Kind) -> &'static str {
    match kind {
        Kind::Command => "1",
        Kind::Field => "36",
        Kind::Number => "33",
        Kind::Unit => "2;33",
        Kind::Text => "32",
        Kind::Comment => "2",
    }
}
