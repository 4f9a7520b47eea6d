//! Standard streams: results to one, findings to the other, and what a closed pipe or a full disk means.
//!
//! Every text passes here on its way to a person (but the prompt, see `bench::terminal`): nothing that could upset a
//! terminal gets further, whatever a recipe, a file's name or an argument holds.

use std::cell::{Cell, RefCell};
use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use annotate_snippets::{Group, Level};

use crate::finding::{Finding, Weight};
use crate::report::document::RecipePart;
use crate::report::{finding, severity, told, wrapped};
use crate::source::{Sources, printable, safe_lines};

use super::input::{PIPED, Unread};
use super::look::{Look, Told};
use super::machine::Machine;
use super::status::Status;
use super::{color, draw};

/// How many findings of one recipe are drawn; machine output has all.
const MOST: usize = 60;

/// The cells of a line of the terminal that findings are drawn on; none where they go elsewhere.
fn of_terminal() -> Option<usize> {
    let (width, _) = terminal_size::terminal_size_of(io::stderr())?;
    Some(usize::from(width.0))
}

/// Where results and findings go.
pub(super) struct Output {
    quiet: bool,
    color: bool,
    /// Findings are told a line each.
    lines: bool,
    /// Limits do not set the status.
    lenient: bool,
    width: usize,
    broken: Option<io::Error>,
    /// Findings were drawn already.
    drawn: Cell<bool>,
    /// The document that results and findings go into, where one is wanted.
    machine: Option<RefCell<Machine>>,
}

/// Rows in which nothing steers a terminal; made safe wherever they are written, since they are many.
#[derive(Debug, Default)]
pub(super) struct SafeRows(Vec<u8>);

impl SafeRows {
    /// Rows made safe. They hold little more than numbers, so that only those that could are looked at closer.
    pub fn of(rows: Vec<u8>) -> Self {
        let plain = |byte: u8| (b' '..=b'~').contains(&byte) | (byte == b'\n');
        match rows.iter().fold(true, |all, byte| all & plain(*byte)) {
            true => Self(rows),
            false => Self(
                safe_lines(&String::from_utf8_lossy(&rows))
                    .into_owned()
                    .into_bytes(),
            ),
        }
    }

    /// Room for as many, to write into again.
    pub fn room(mut self) -> Vec<u8> {
        self.0.clear();
        self.0
    }
}

impl Output {
    pub fn new(look: &Look, lenient: bool, machine: Option<Machine>) -> Self {
        let stated = std::env::var("COLUMNS").ok();
        let stated = stated.and_then(|columns| columns.parse().ok());
        let width = stated.or_else(of_terminal).unwrap_or(100);
        Self {
            quiet: look.quiet,
            color: color::wanted(look.color, &io::stderr()),
            lines: look.findings == Some(Told::Line),
            lenient,
            width: width.clamp(40, 120),
            broken: None,
            drawn: Cell::new(false),
            machine: machine.map(RefCell::new),
        }
    }

    /// Whether results go into a document.
    pub fn is_machine(&self) -> bool {
        self.machine.is_some()
    }

    /// Writes what a document says of one recipe; nothing where none is wanted.
    pub fn recipe(&mut self, part: impl FnOnce() -> RecipePart) {
        let Some(machine) = self.machine.take() else {
            return;
        };
        machine
            .borrow_mut()
            .recipe(part(), &mut |piece| self.result(piece));
        self.machine = Some(machine);
    }

    /// Puts a listing into the document.
    pub fn list(&self, list: serde_json::Value) {
        if let Some(machine) = &self.machine {
            machine.borrow_mut().list(list);
        }
    }

    fn note_down(&self, finding: impl FnOnce() -> serde_json::Value) {
        if let Some(machine) = &self.machine {
            machine.borrow_mut().finding(&finding());
        }
    }

    /// Cells of a line of results: what COLUMNS says, else the terminal's, else those of a plain page.
    pub fn page(&self) -> usize {
        self.of_results().unwrap_or(80)
    }

    /// Cells of a line of a table, which goes into a pipe as wide as it is.
    pub fn table(&self) -> usize {
        self.of_results().unwrap_or(400)
    }

    fn of_results(&self) -> Option<usize> {
        let stated = std::env::var("COLUMNS").ok();
        let stated = stated.and_then(|columns| columns.parse().ok());
        let of_terminal = || {
            let (width, _) = terminal_size::terminal_size_of(io::stdout())?;
            Some(usize::from(width.0))
        };
        stated.or_else(of_terminal)
    }

    /// Whether results go to a terminal.
    pub fn is_terminal(&self) -> bool {
        io::stdout().is_terminal()
    }

    /// Whether results and findings, both for people, go to the same screen.
    pub fn on_one_screen(&self) -> bool {
        !self.is_machine() && self.is_terminal() && of_terminal().is_some()
    }

    /// Whether findings stand above on the screen that results go to.
    pub fn has_drawn(&self) -> bool {
        self.drawn.get() && self.on_one_screen()
    }

    /// Sets how many cells a line has.
    pub fn set_width(&mut self, width: usize) {
        self.width = width.clamp(40, 120);
    }

    /// Writes results.
    pub fn result(&mut self, text: &str) {
        self.written(&safe_lines(text));
    }

    /// Writes results with colour.
    pub fn colored(&mut self, text: &str) {
        self.written(&styled(text));
    }

    /// Writes what is no text, or what another program reads as it is; it goes to no terminal.
    pub fn bytes(&mut self, bytes: &[u8]) {
        self.out(bytes);
    }

    /// Writes rows.
    pub fn rows(&mut self, rows: &SafeRows) {
        self.out(&rows.0);
    }

    fn out(&mut self, bytes: &[u8]) {
        if self.broken.is_none() {
            let mut stream = io::stdout().lock();
            self.broken = stream.write_all(bytes).and_then(|()| stream.flush()).err();
        }
    }

    /// Says how far a long call has come; nothing where only mistakes are wanted.
    pub fn progress(&self, message: &str) {
        if !self.quiet {
            progress(message);
        }
    }

    /// Whether only mistakes are wanted.
    pub fn is_quiet(&self) -> bool {
        self.quiet
    }

    fn written(&mut self, text: &str) {
        self.out(text.as_bytes());
    }

    /// Tells findings, and puts them into the document.
    pub fn findings(&self, findings: &[Finding], sources: &Sources) {
        for one in findings {
            self.note_down(|| finding(one, sources));
        }
        let least = if self.quiet {
            Weight::Wrong
        } else {
            Weight::Note
        };
        let shown: Vec<&Finding> = findings
            .iter()
            .filter(|finding| finding.weight() >= least)
            .collect();
        if self.lines {
            return shown.iter().for_each(|one| say(&line(one, sources)));
        }
        let mut text = String::new();
        for (place, finding) in shown.iter().take(MOST).enumerate() {
            if place > 0 || self.drawn.replace(true) {
                text.push('\n');
            }
            text.push_str(&draw::draw(finding, sources, self.color, self.width));
        }
        if shown.len() > MOST {
            text.push_str(&format!("… and {} more findings\n", shown.len() - MOST));
        }
        self.write(&text);
    }

    /// Whether results can no longer be written.
    pub fn is_broken(&self) -> bool {
        self.broken.is_some()
    }

    /// Says something worth knowing, unless only mistakes are wanted.
    pub fn note(&self, message: &str) {
        self.note_down(|| told("call::note", Weight::Note, None, message));
        self.said(message, Weight::Note, "call::note", None);
    }

    /// Says what is wrong with the call.
    pub fn complain(&self, message: &str) {
        self.note_down(|| told("call::refused", Weight::Wrong, None, message));
        self.said(message, Weight::Wrong, "call::refused", None);
    }

    /// Says what is wrong with a call that cannot be understood, and how the command is called.
    pub fn misused(&self, message: &str, usage: Option<&str>) {
        self.note_down(|| told("call::misused", Weight::Wrong, None, message));
        if self.lines {
            return self.said(message, Weight::Wrong, "call::misused", None);
        }
        let level = Level::ERROR.primary_title(message);
        let mut text = format!(
            "call::misused\n{}",
            draw::rendered(&[Group::with_title(level)], self.color, self.width)
        );
        if let Some(usage) = usage {
            text.push_str(&format!("\n{usage}\n"));
        }
        self.write(&text);
    }

    fn write(&self, text: &str) {
        match self.color {
            true => write_error(&styled(text)),
            false => say(text),
        }
    }

    /// Tells what is wrong with a line, right under it.
    pub fn slip(&self, text: &str) {
        self.write(text);
    }

    /// Says why a recipe cannot be read.
    pub fn unread(&self, unread: &Unread) {
        let Unread { file, message } = unread;
        let file = file.as_deref();
        let code = if file.is_some() {
            "call::unread"
        } else {
            "call::refused"
        };
        self.note_down(|| told(code, Weight::Wrong, file, message));
        self.said(message, Weight::Wrong, code, file);
    }

    /// Tells what is found of one line of standard input.
    pub fn of_line(&self, number: usize, weight: Weight, code: &str, message: &str) {
        if self.quiet && weight < Weight::Wrong {
            return;
        }
        let message = message.replace('\n', " ");
        say(&format!(
            "{PIPED}:{number}:1: {} {code}: {message}\n",
            severity(weight)
        ));
    }

    /// Says what of a folder is not read.
    pub fn left_out(&self, folder: &str, message: &str) {
        let code = "call::left_out";
        self.note_down(|| told(code, Weight::Note, Some(folder), message));
        self.said(message, Weight::Note, code, Some(folder));
    }

    fn said(&self, message: &str, weight: Weight, code: &str, file: Option<&str>) {
        if self.quiet && weight < Weight::Wrong {
            return;
        }
        let whole = match self.lines {
            true => {
                let file = printable(file.unwrap_or("<call>"));
                let message = message.replace('\n', " ");
                return say(&format!(
                    "{file}:1:1: {} {code}: {message}\n",
                    severity(weight)
                ));
            }
            false => format!("annulet: {message}"),
        };
        // A terminal would break the line anywhere.
        match of_terminal() {
            Some(_) => {
                let lines = whole.lines().flat_map(|line| wrapped(line, self.width));
                say(&(lines.collect::<Vec<_>>().join("\n") + "\n"));
            }
            None => say(&(whole + "\n")),
        }
    }

    /// The exit status; a closed pipe ends quietly, a full disk does not.
    pub fn finish(mut self, status: Status) -> ExitCode {
        let status = match status {
            Status::Short if self.lenient => Status::Well,
            status => status,
        };
        let tail = self
            .machine
            .as_ref()
            .map(|machine| machine.borrow_mut().tail(status as u8));
        if let Some(tail) = tail {
            self.result(&tail);
        }
        match &self.broken {
            Some(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
            Some(error) => {
                say(&format!("annulet: cannot write the results: {error}\n"));
                ExitCode::from(Status::Wrong as u8)
            }
            None => ExitCode::from(status as u8),
        }
    }
}

/// A finding as a line: `file:line:column: severity code: text`.
fn line(finding: &Finding, sources: &Sources) -> String {
    let place = finding.span().map(|span| sources.locate(span));
    let place = place.filter(|place| !place.is_empty());
    let place = place.unwrap_or_else(|| "<call>:1:1".to_owned());
    let help = finding
        .help()
        .map_or_else(String::new, |help| format!("; {help}"));
    let text = format!("{}{help}", finding.message()).replace('\n', " ");
    let severity = severity(finding.weight());
    format!("{place}: {severity} {}: {text}\n", finding.code())
}

/// Writes to standard error what holds no colour.
pub(super) fn say(text: &str) {
    write_error(&safe_lines(text));
}

/// Says how far something long has come, in the same line of the screen each time.
pub(super) fn progress(message: &str) {
    if of_terminal().is_some() {
        write_error(&format!("\r\u{1b}[K{}", printable(message)));
    }
}

fn write_error(text: &str) {
    // With standard error closed there is nobody to tell.
    let _ = io::stderr().lock().write_all(text.as_bytes());
}

/// A drawn text whose colours (ECMA-48, select graphic rendition) stay, and nothing else that steers a terminal.
/// What is drawn is safe before it is coloured, so that all of them are ours.
fn styled(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, behind)) = rest.split_once("\u{1b}[") {
        safe.push_str(&safe_lines(before));
        let codes = behind.find(|c: char| !(c.is_ascii_digit() || c == ';'));
        match codes.map(|end| behind.split_at(end)) {
            Some((codes, end)) if end.starts_with('m') => {
                safe.push_str(&format!("\u{1b}[{codes}"));
                rest = end;
            }
            _ => {
                safe.push('\u{FFFD}');
                rest = behind;
            }
        }
    }
    safe.push_str(&safe_lines(rest));
    safe
}
