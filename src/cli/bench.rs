//! `annulet bench`: the bench on a terminal, or fed through a pipe.

use std::collections::HashSet;
use std::io::{self, BufRead, IsTerminal, Read};
use std::path::{Path, PathBuf};
use std::sync::PoisonError;

use crate::bench::{Asks, Bench, Conversation, Files, Reply, Screen, converse};
use crate::finding::{Finding, Weight};
use crate::report::{lines_fitted, wrapped};
use crate::session::{Batch, Library};
use crate::source::{cells, printable};
use crate::syntax;

use super::arguments::Bench as Arguments;
use super::color;
use super::common::Common;
use super::input;
use super::library::Folder;
use super::output::{self, Output};
use super::recipes::day;
use super::rescued::{self, Work};
use super::saved;
use super::status::Status;
use super::weighings::weighings;

pub(super) fn run(arguments: &Arguments, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(&common.laid, output) else {
        return Status::Wrong;
    };
    if common.laid.name.is_some() {
        output.complain(
            "`bench` takes no `--name`: its lines come from standard input, a recipe from its file",
        );
        return Status::Wrong;
    }
    let root = common.laid.root.as_ref().map(PathBuf::from);
    let file = arguments.file.as_deref().unwrap_or("new recipe");
    if let Some(message) = Folder::of(file, root.as_deref()).refusal(file) {
        output.complain(&message);
        return Status::Wrong;
    }
    let mut bench = Bench::new(Box::new(Disk { root }), on);
    if !output.is_quiet() {
        bench.tell_progress(output::progress);
    }
    bench.set_width(output.page());
    let talks = io::stdin().is_terminal() && io::stdout().is_terminal();
    let mut told = Told::default();
    if let Some(file) = &arguments.file {
        let is_new =
            Path::new(file).symlink_metadata().is_err() && file.ends_with(".annulet") && talks;
        let mut reply = if is_new {
            bench.begin(file)
        } else {
            bench.opened(file)
        };
        reply.text = match talks {
            true => lines_fitted(&reply.text, output.page()),
            false => String::new(),
        };
        told.show(&bench, &reply, output);
        if reply.refused {
            return Status::Wrong;
        }
    } else if talks {
        output.result(&bench.welcome());
    }
    if let Some(band) = &common.laid.band {
        let reply = bench.choose(band);
        told.show(&bench, &reply, output);
        if reply.refused {
            return Status::Wrong;
        }
    }
    let mut reply = bench.lay_over(&common.laid.sets);
    if !talks {
        reply.text.clear();
    }
    told.show(&bench, &reply, output);
    if reply.refused {
        return Status::Wrong;
    }
    if talks {
        if let Some(left) = rescued::left(arguments.file.as_deref()) {
            output.note(&left);
        }
        talk(bench, common, output)
    } else {
        piped(bench, told, output)
    }
}

/// On a terminal.
fn talk(bench: Bench, common: &Common, output: &mut Output) -> Status {
    // Between lines an interrupt would end the program; at the prompt it is a key like others.
    let interrupted = bench.interrupts();
    if let Err(error) = signal_hook::flag::register(signal_hook::consts::SIGINT, interrupted) {
        output.note(&format!("Ctrl-C cannot be caught: {error}"));
    }
    let work = Work::default();
    if let Err(error) = rescued::watch(&work) {
        output.note(&format!(
            "nothing is rescued when the program is ended by a signal: {error}"
        ));
    }
    let manner = Conversation {
        color: color::wanted(common.look.color, &io::stdout()),
        history: history(output),
    };
    match converse(bench, &mut OnTerminal { output, work }, &manner) {
        Ok(()) => Status::Well,
        Err(error) => {
            output.complain(&format!("the terminal cannot be used: {error}"));
            Status::Wrong
        }
    }
}

/// Where earlier lines are kept: `ANNULET_HISTORY` names a file, or `off`; else below the folder for the state
/// of programs (XDG Base Directory Specification).
fn history(output: &Output) -> Option<PathBuf> {
    let place = history_place()?;
    // A pipe would be waited for, and a device is no place to keep lines in.
    match std::fs::metadata(&place)
        .ok()
        .as_ref()
        .and_then(input::unlike_a_file)
    {
        Some(what) => {
            let place = printable(&place.to_string_lossy());
            output.note(&format!(
                "lines are not kept for later: `{place}` is {what}"
            ));
            None
        }
        None if holds_else(&place) => {
            let place = printable(&place.to_string_lossy());
            output.note(&format!(
                "lines are not kept for later: `{place}` holds something else, and is left as it is"
            ));
            None
        }
        None => Some(place),
    }
}

/// How a file of earlier lines begins.
const HISTORY: &[u8] = b"#V2\n";

/// Whether a file holds something, and no earlier lines: it would be written over.
fn holds_else(place: &Path) -> bool {
    let mut start = Vec::new();
    let read = std::fs::File::open(place)
        .and_then(|file| file.take(HISTORY.len() as u64).read_to_end(&mut start));
    read.is_ok() && !start.is_empty() && start != HISTORY
}

fn history_place() -> Option<PathBuf> {
    if let Some(place) = std::env::var_os("ANNULET_HISTORY") {
        let off = place.is_empty() || place == "off";
        return (!off).then(|| PathBuf::from(place));
    }
    let state = std::env::var_os("XDG_STATE_HOME")
        .map(PathBuf::from)
        .filter(|path| path.is_absolute());
    let state = state.or_else(|| {
        let home = std::env::var_os("HOME").filter(|home| !home.is_empty())?;
        Some(PathBuf::from(home).join(".local/state"))
    })?;
    let folder = state.join("annulet");
    std::fs::create_dir_all(&folder).ok()?;
    Some(folder.join("history"))
}

/// Through a pipe: line by line, ending at the first mistake.
fn piped(mut bench: Bench, mut told: Told, output: &mut Output) -> Status {
    let mut block = String::new();
    let mut open = 0;
    let mut number = 0;
    let mut first = 1;
    let mut unmet = false;
    let stop = |bench: &Bench, message: &str, number: usize, output: &Output| {
        output.complain(&format!("<stdin>:{number}: {message}"));
        if bench.unsaved() {
            output.note("the changes before it are not saved");
        }
        Status::Wrong
    };
    loop {
        let line = match read_line(&mut io::stdin().lock()) {
            Ok(Some(line)) => line,
            Ok(None) => break,
            Err(message) => return stop(&bench, &message, number + 1, output),
        };
        number += 1;
        if block.len() + line.len() > syntax::LARGEST {
            let message = "this block is longer than anything that is read";
            return stop(&bench, message, number, output);
        }
        if block.is_empty() {
            first = number;
        } else {
            block.push('\n');
        }
        let line = line.trim_start_matches('\u{FEFF}');
        block.push_str(line);
        open += syntax::open_braces(line);
        if open > 0 {
            continue;
        }
        open = 0;
        let statement = std::mem::take(&mut block);
        bench.typed_at("<stdin>", first);
        let reply = bench.step(&statement);
        told.show(&bench, &reply, output);
        unmet |= reply.unmet;
        if let Some(asks) = &reply.asks {
            if *asks == Asks::BeforeQuit {
                break;
            }
            output.complain(&asks.instead());
        }
        if reply.refused || reply.asks.is_some() {
            return stop(&bench, "stopped at this line", number, output);
        }
        if reply.ends || output.is_broken() {
            break;
        }
    }
    if !block.trim().is_empty() {
        let reply = bench.step(&block);
        told.show(&bench, &reply, output);
        return stop(&bench, "the input ends inside a block", number, output);
    }
    match bench.tries() {
        0 => {}
        1 => output.note("what is tried is not kept; `keep` writes it into the recipe"),
        tries => output.note(&format!(
            "{tries} tries are not kept; `keep` writes them into the recipe"
        )),
    }
    if bench.unsaved() {
        output.note("the changes are not saved; `save` writes them");
    }
    // The status is never without a reason.
    let findings = bench.findings();
    let status = match findings.iter().map(Finding::weight).max().into() {
        Status::Well | Status::Short if unmet => Status::Unmet,
        status => status,
    };
    told.show_rest(&bench, findings, output);
    status
}

/// One line of the input without its end; none behind the last.
fn read_line(input: &mut impl BufRead) -> Result<Option<String>, String> {
    let mut bytes = Vec::new();
    let most = syntax::LARGEST as u64 + 1;
    input
        .take(most)
        .read_until(b'\n', &mut bytes)
        .map_err(|error| error.to_string())?;
    if bytes.is_empty() {
        return Ok(None);
    }
    if bytes.last() == Some(&b'\n') {
        bytes.pop();
        if bytes.last() == Some(&b'\r') {
            bytes.pop();
        }
    }
    let line = String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        let byte = error.as_bytes().get(place).copied().unwrap_or(0);
        format!("byte 0x{byte:02X} is not text; lines are UTF-8")
    });
    line.map(Some)
}

/// What was told of a recipe so far: code and message of each finding.
#[derive(Default)]
struct Told(HashSet<(String, String)>);

impl Told {
    /// Shows a reply.
    fn show(&mut self, bench: &Bench, reply: &Reply, output: &mut Output) {
        let told = reply.findings.iter().map(said);
        self.0.extend(told);
        show(bench, reply, output);
    }

    /// Shows what falls short or is wrong and was not told yet.
    fn show_rest(&mut self, bench: &Bench, mut findings: Vec<Finding>, output: &Output) {
        findings.retain(|one| one.weight() > Weight::Note && !self.0.contains(&said(one)));
        output.findings(&findings, bench.sources());
    }
}

fn said(finding: &Finding) -> (String, String) {
    (finding.code(), finding.message())
}

fn show(bench: &Bench, reply: &Reply, output: &mut Output) {
    output.result(&reply.text);
    output.findings(&reply.findings, bench.sources());
    if let Some(complaint) = &reply.complaint {
        output.complain(complaint);
    }
}

/// Most slips of a line that are told under it.
const SLIPS: usize = 3;

/// What is wrong with the one line that was typed, under it: carets with the message, then what to do. None where
/// there is more to show, or another line than that.
fn slips(bench: &Bench, reply: &Reply) -> Option<String> {
    let (before, typed) = bench.last_typed()?;
    if !reply.refused || reply.findings.is_empty() || reply.findings.len() > SLIPS {
        return None;
    }
    if typed.contains('\n') || before + cells(typed) >= bench.width() {
        return None;
    }
    let mut text = String::new();
    for finding in &reply.findings {
        let span = finding.span()?;
        let source = bench.sources().holding(span)?;
        let range = source.range(span);
        let own = source.text.trim_start_matches('\n');
        let start = typed.find(own.trim())? + range.start;
        let start = start
            .checked_sub(source.text.len() - own.len() + (own.len() - own.trim_start().len()))?;
        let marked = typed.get(start..start + range.len())?;
        let left = before + cells(typed.get(..start)?);
        let carets = "^".repeat(cells(marked).max(1));
        let message = finding.message();
        let room = bench.width().saturating_sub(left + carets.len() + 1);
        let beside = cells(&message) <= room;
        let mut under: Vec<String> = Vec::new();
        if beside {
            text.push_str(&format!("{:left$}{carets} {message}\n", ""));
        } else {
            text.push_str(&format!("{:left$}{carets}\n", ""));
            under.push(message);
        }
        under.extend(finding.help());
        let width = bench.width().saturating_sub(2).max(20);
        for line in under.iter().flat_map(|text| wrapped(text, width)) {
            text.push_str(&format!("  {line}\n"));
        }
    }
    Some(text)
}

struct OnTerminal<'a> {
    output: &'a mut Output,
    /// What is to be rescued, as it stands behind each reply.
    work: Work,
}

impl Screen for OnTerminal<'_> {
    fn show(&mut self, bench: &Bench, reply: &Reply) {
        let mut work = self.work.lock().unwrap_or_else(PoisonError::into_inner);
        *work = bench.unsaved_work();
        drop(work);
        self.output.set_width(bench.width());
        match slips(bench, reply) {
            Some(text) => {
                self.output.result(&reply.text);
                self.output.slip(&text);
            }
            None => show(bench, reply, self.output),
        }
    }

    fn note(&mut self, message: &str) {
        self.output.note(message);
    }
}

/// Recipe files on disk, with the folder that `use` may reach all of.
struct Disk {
    root: Option<PathBuf>,
}

impl Files for Disk {
    fn read(&mut self, name: &str) -> Result<String, String> {
        input::read_named(Path::new(name), name)
    }

    fn write(&mut self, name: &str, text: &str) -> Result<(), String> {
        saved::write(name, text)
    }

    fn unwritable(&mut self, name: &str) -> Option<String> {
        saved::unwritable(name)
    }

    fn exists(&mut self, name: &str) -> bool {
        Path::new(name).exists()
    }

    fn library(&mut self, name: &str) -> Box<dyn Library> {
        Box::new(Folder::of(name, self.root.as_deref()))
    }

    fn weighings(&mut self, name: &str, column: Option<&str>) -> Result<Batch, Vec<String>> {
        // Standard input is what is typed.
        match name {
            "-" => Err(vec!["name a file of weighings".to_owned()]),
            name => weighings(name, column),
        }
    }

    fn beginning(&mut self, start: &str) -> Vec<String> {
        let (folder, _) = start
            .rsplit_once('/')
            .map_or(("", start), |(folder, rest)| {
                (start.get(..=folder.len()).unwrap_or(folder), rest)
            });
        let place = if folder.is_empty() { "." } else { folder };
        let entries = std::fs::read_dir(place).into_iter().flatten().flatten();
        let mut names: Vec<String> = entries
            .filter_map(|entry| {
                let name = entry.file_name().into_string().ok()?;
                let is_folder = entry.path().is_dir();
                let fits = !name.starts_with('.') && (is_folder || name.ends_with(".annulet"));
                fits.then(|| format!("{folder}{name}{}", if is_folder { "/" } else { "" }))
            })
            .collect();
        names.sort();
        names
    }
}
