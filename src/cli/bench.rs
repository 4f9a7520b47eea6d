//! `annulet bench`: the bench on a terminal, or fed through a pipe.

use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::bench::{Asks, Bench, Files, Manner, Reply, Screen, converse};
use crate::session::Library;
use crate::source::printable;
use crate::syntax;

use super::Status;
use super::arguments::{Bench as Arguments, Common};
use super::check::day;
use super::color;
use super::input;
use super::library::Folder;
use super::output::Output;

pub(super) fn run(arguments: &Arguments, common: &Common, output: &mut Output) -> Status {
    let Some(on) = day(common, output) else {
        return Status::Wrong;
    };
    let mut bench = Bench::new(Box::new(Disk), on);
    let talks = io::stdin().is_terminal() && io::stdout().is_terminal();
    if let Some(file) = &arguments.file {
        let is_new = !Path::new(file).exists() && file.ends_with(".annulet") && talks;
        let reply = if is_new {
            bench.begin(file)
        } else {
            bench.opened(file)
        };
        if talks || reply.refused {
            show(&bench, &reply, output);
        }
        if reply.refused {
            return Status::Wrong;
        }
    } else if talks {
        output.result(&bench.welcome());
    }
    if let Some(band) = &common.band {
        let reply = bench.step(&format!("on {band}"));
        if reply.refused {
            show(&bench, &reply, output);
            return Status::Wrong;
        }
    }
    if talks {
        talk(bench, common, output)
    } else {
        piped(bench, output)
    }
}

/// On a terminal.
fn talk(bench: Bench, common: &Common, output: &mut Output) -> Status {
    // Between lines an interrupt would end the program; at the prompt it is a key like others.
    let interrupted = Arc::new(AtomicBool::new(false));
    if let Err(error) = signal_hook::flag::register(signal_hook::consts::SIGINT, interrupted) {
        output.note(&format!("Ctrl-C cannot be caught: {error}"));
    }
    let manner = Manner {
        color: color::wanted(common.color, &io::stdout()),
        history: history(),
    };
    match converse(bench, &mut OnTerminal { output }, &manner) {
        Ok(()) => Status::Well,
        Err(error) => {
            output.complain(&format!("the terminal cannot be used: {error}"));
            Status::Wrong
        }
    }
}

/// Where earlier lines are kept: `ANNULET_HISTORY` names a file, or `off`; else below the folder for the state
/// of programs (XDG Base Directory Specification).
fn history() -> Option<PathBuf> {
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
fn piped(mut bench: Bench, output: &mut Output) -> Status {
    let mut block = String::new();
    let mut number = 0;
    let mut first = 1;
    for line in io::stdin().lock().lines() {
        number += 1;
        let line = match line {
            Ok(line) => line,
            Err(error) => {
                output.complain(&format!("<stdin>:{number}: {error}"));
                return Status::Wrong;
            }
        };
        if block.len() + line.len() > syntax::LARGEST {
            output.complain(&format!(
                "<stdin>:{number}: this block is longer than anything that is read"
            ));
            return Status::Wrong;
        }
        if block.is_empty() {
            first = number;
        } else {
            block.push('\n');
        }
        block.push_str(line.trim_start_matches('\u{FEFF}'));
        if syntax::open_braces(&block) > 0 {
            continue;
        }
        let statement = std::mem::take(&mut block);
        bench.typed_at("<stdin>", first);
        let reply = bench.step(&statement);
        show(&bench, &reply, output);
        if reply.refused || reply.asks.is_some() {
            if let Some(Asks::BeforeQuit) = reply.asks {
                break;
            }
            if reply.asks.is_some() {
                output.complain(
                    "the recipe has changes that are not saved; `save` or `undo` them first",
                );
            }
            output.complain(&format!("<stdin>:{number}: stopped at this line"));
            return Status::Wrong;
        }
        if reply.ends || output.is_broken() {
            break;
        }
    }
    if !block.trim().is_empty() {
        let reply = bench.step(&block);
        show(&bench, &reply, output);
        output.complain(&format!("<stdin>:{number}: the input ends inside a block"));
        return Status::Wrong;
    }
    if bench.unsaved() {
        output.note("the changes are not saved; `save` writes them");
    }
    bench.weight().into()
}

fn show(bench: &Bench, reply: &Reply, output: &mut Output) {
    output.result(&reply.text);
    output.findings(&reply.findings, bench.sources());
    if let Some(complaint) = &reply.complaint {
        output.complain(complaint);
    }
}

struct OnTerminal<'a> {
    output: &'a mut Output,
}

impl Screen for OnTerminal<'_> {
    fn show(&mut self, bench: &Bench, reply: &Reply) {
        self.output.set_width(bench.width());
        show(bench, reply, self.output);
    }

    fn note(&mut self, message: &str) {
        self.output.note(message);
    }
}

/// Recipe files on disk.
struct Disk;

impl Files for Disk {
    fn read(&mut self, name: &str) -> Result<String, String> {
        input::read_named(Path::new(name), name)
    }

    /// The text goes into a new file beside the old one, which then takes its place in one step: whatever
    /// happens meanwhile, there is the old file or the new one, whole.
    fn write(&mut self, name: &str, text: &str) -> Result<(), String> {
        // The kind of an error names no file of ours.
        let refuse =
            |error: io::Error| format!("cannot save `{}`: {}", printable(name), error.kind());
        // A link stays a link: what it points to is replaced.
        let path = Path::new(name);
        let target = path.canonicalize().unwrap_or_else(|_| path.to_path_buf());
        let folder = target
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty())
            .unwrap_or(Path::new("."));
        if !folder.is_dir() {
            return Err(format!(
                "cannot save `{}`: there is no folder `{}`",
                printable(name),
                printable(&folder.to_string_lossy())
            ));
        }
        let mut builder = tempfile::Builder::new();
        builder.prefix(".annulet-");
        let old = std::fs::metadata(&target).ok();
        if let Some(old) = &old
            && old.permissions().readonly()
        {
            return Err(format!(
                "cannot save `{}`: the file is read-only",
                printable(name)
            ));
        }
        let permissions = old.map_or_else(new_file, |old| old.permissions());
        builder.permissions(permissions.clone());
        let mut file = builder.tempfile_in(folder).map_err(refuse)?;
        file.write_all(text.as_bytes()).map_err(refuse)?;
        // The mask of the process must not take away what the old file allowed.
        if target.exists() {
            file.as_file()
                .set_permissions(permissions)
                .map_err(refuse)?;
        }
        file.as_file().sync_all().map_err(refuse)?;
        file.persist(&target).map_err(|error| refuse(error.error))?;
        Ok(())
    }

    fn exists(&mut self, name: &str) -> bool {
        Path::new(name).exists()
    }

    fn library(&mut self, name: &str) -> Box<dyn Library> {
        Box::new(Folder::of(name))
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

/// What a new file allows, before the mask of the process.
#[cfg(unix)]
fn new_file() -> std::fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    std::fs::Permissions::from_mode(0o666)
}
