//! Standard streams: results to one, findings to the other, and what a closed pipe or a full disk means.
//!
//! Every text passes here on its way to a person (but the prompt, see `bench::terminal`): nothing that could upset a
//! terminal gets further, whatever a recipe, a file's name or an argument holds.

use std::cell::Cell;
use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use crate::finding::{Finding, Weight};
use crate::report::wrapped;
use crate::source::{Sources, safe_lines};

use super::look::Look;
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
    width: usize,
    broken: Option<io::Error>,
    /// Findings were drawn already.
    drawn: Cell<bool>,
}

impl Output {
    pub fn new(look: &Look) -> Self {
        let stated = std::env::var("COLUMNS").ok();
        let stated = stated.and_then(|columns| columns.parse().ok());
        let width = stated.or_else(of_terminal).unwrap_or(100);
        Self {
            quiet: look.quiet,
            color: color::wanted(look.color, &io::stderr()),
            width: width.clamp(40, 120),
            broken: None,
            drawn: Cell::new(false),
        }
    }

    /// Whether results go to a terminal.
    pub fn is_terminal(&self) -> bool {
        io::stdout().is_terminal()
    }

    /// Cells of a line.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Sets how many cells a line has.
    pub fn set_width(&mut self, width: usize) {
        self.width = width.clamp(40, 120);
    }

    /// Writes results.
    pub fn result(&mut self, text: &str) {
        if self.broken.is_none() {
            let mut stream = io::stdout().lock();
            self.broken = stream
                .write_all(safe_lines(text).as_bytes())
                .and_then(|()| stream.flush())
                .err();
        }
    }

    /// Draws findings.
    pub fn findings(&self, findings: &[Finding], sources: &Sources) {
        let least = if self.quiet {
            Weight::Wrong
        } else {
            Weight::Note
        };
        let shown: Vec<&Finding> = findings
            .iter()
            .filter(|finding| finding.weight() >= least)
            .collect();
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
        match self.color {
            true => write_error(&styled(&text)),
            false => say(&text),
        }
    }

    /// Whether results can no longer be written.
    pub fn is_broken(&self) -> bool {
        self.broken.is_some()
    }

    /// Says something worth knowing, unless only mistakes are wanted.
    pub fn note(&self, message: &str) {
        if !self.quiet {
            self.complain(message);
        }
    }

    /// Says what is wrong with the call or a file.
    pub fn complain(&self, message: &str) {
        let whole = format!("annulet: {message}");
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
    pub fn finish(self, status: Status) -> ExitCode {
        match &self.broken {
            Some(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
            Some(error) => {
                self.complain(&format!("cannot write the results: {error}"));
                ExitCode::from(Status::Wrong as u8)
            }
            None => ExitCode::from(status as u8),
        }
    }
}

/// Writes to standard error what holds no colour.
pub(super) fn say(text: &str) {
    write_error(&safe_lines(text));
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
