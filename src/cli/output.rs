//! Standard streams: results to one, findings to the other, and what a closed pipe or a full disk means.

use std::cell::Cell;
use std::io::{self, Write};
use std::process::ExitCode;

use crate::finding::{Finding, Weight};
use crate::report::wrapped;
use crate::source::Sources;

use super::Status;
use super::arguments::Common;
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
    pub fn new(common: &Common) -> Self {
        let stated = std::env::var("COLUMNS").ok();
        let stated = stated.and_then(|columns| columns.parse().ok());
        let width = stated.or_else(of_terminal).unwrap_or(100);
        Self {
            quiet: common.quiet,
            color: color::wanted(common.color, &io::stderr()),
            width: width.clamp(40, 120),
            broken: None,
            drawn: Cell::new(false),
        }
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
                .write_all(text.as_bytes())
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
        self.error(&text);
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
                self.error(&(lines.collect::<Vec<_>>().join("\n") + "\n"));
            }
            None => self.error(&(whole + "\n")),
        }
    }

    fn error(&self, text: &str) {
        // With standard error closed there is nobody to tell.
        let _ = io::stderr().lock().write_all(text.as_bytes());
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
