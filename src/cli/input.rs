//! Recipe input: named files, standard input, or the one recipe of the current folder.

use std::fs::{self, Metadata};
use std::io::{self, IsTerminal, Read};
use std::os::unix::fs::{FileTypeExt, OpenOptionsExt};
use std::path::Path;

use crate::source::printable;
use crate::suggest::nearest;
use crate::syntax::LARGEST;

/// One text to evaluate.
pub(super) struct Text {
    /// How findings name it.
    pub name: String,
    /// The text, or why it cannot be read.
    pub text: Result<String, String>,
}

/// How findings name standard input.
pub(super) const PIPED: &str = "<stdin>";

/// Ending of recipe files.
pub(super) const ENDING: &str = ".annulet";
/// Ending of drawings.
const DRAWING: &str = ".svg";

/// Why a recipe cannot be read.
#[derive(Debug)]
pub(super) struct Unread {
    /// How it was named, where it was.
    pub file: Option<String>,
    /// What is wrong.
    pub message: String,
}

/// The one text that a question is about.
pub(super) fn one(file: Option<&str>) -> Result<Text, Unread> {
    let of_none = |message| Unread {
        file: None,
        message,
    };
    match file {
        Some(file) => Ok(read(file)),
        None if !io::stdin().is_terminal() => {
            let text = read("-");
            match (&text.text, &sole_recipe()) {
                // An empty pipe is what a script or a scheduler gives when it gives nothing.
                (Ok(piped), Ok(sole)) if piped.is_empty() => Ok(read(sole)),
                (Ok(piped), Err(several)) if piped.is_empty() => Err(of_none(several.clone())),
                _ => Ok(text),
            }
        }
        None => sole_recipe().map(|file| read(&file)).map_err(of_none),
    }
}

/// The only recipe of the current folder.
pub(super) fn sole_recipe() -> Result<String, String> {
    let mut found = recipes_in(Path::new("."));
    match (found.pop(), found.is_empty()) {
        (Some(only), true) => Ok(only),
        (None, _) => Err(
            "which recipe? name a file, or pipe one in; this folder holds no *.annulet file"
                .to_owned(),
        ),
        (Some(last), false) => {
            found.push(last);
            Err(format!(
                "which recipe? this folder holds {}",
                crate::suggest::listed(found.iter().map(String::as_str))
            ))
        }
    }
}

/// Names of the recipes in a folder that are not hidden, sorted.
fn recipes_in(folder: &Path) -> Vec<String> {
    named_in(folder, ENDING)
}

/// Names of the files of an ending in a folder that are not hidden, sorted.
fn named_in(folder: &Path, ending: &str) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        // A name that is not UTF-8 names no file when it is read, and that is said.
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .filter(|name| name.ends_with(ending) && !name.starts_with('.'))
        .collect();
    names.sort();
    names
}

/// Reads a file, or standard input for `-`.
pub(super) fn read(file: &str) -> Text {
    if file == "-" {
        let mut bytes = Vec::new();
        let read = io::stdin()
            .lock()
            .take(LARGEST as u64 + 1)
            .read_to_end(&mut bytes);
        let text = read
            .map_err(|error| error.to_string())
            .and_then(|_| text(bytes, PIPED));
        return Text {
            name: PIPED.to_owned(),
            text,
        };
    }
    Text {
        name: file.to_owned(),
        text: read_file(Path::new(file)),
    }
}

/// Reads a file, within bounds.
fn read_file(path: &Path) -> Result<String, String> {
    read_named(path, &path.display().to_string())
}

/// Reads a file that is called by a name of its own, within bounds.
pub(super) fn read_named(path: &Path, name: &str) -> Result<String, String> {
    let shown = printable(name);
    let refuse = |found: &Metadata| {
        let what = unlike_a_file(found).filter(|_| !found.is_dir())?;
        Some(format!(
            "`{shown}` is {what}, and only files are read; `-` is standard input"
        ))
    };
    // To open some devices does something, so it is asked first; what was opened has the last word.
    if let Some(refusal) = fs::metadata(path).ok().as_ref().and_then(refuse) {
        return Err(refusal);
    }
    let opened = open(path).map_err(|error| missing(path, &shown, &error))?;
    let size = opened
        .metadata()
        .map_err(|error| format!("cannot read `{shown}`: {error}"))?;
    if let Some(refusal) = refuse(&size) {
        return Err(refusal);
    }
    if size.is_dir() {
        let what = if recipes_in(path).is_empty() {
            "a folder without recipes"
        } else {
            "a folder; name one of its recipes"
        };
        return Err(format!("`{shown}` is {what}"));
    }
    if size.len() > LARGEST as u64 {
        return Err(format!(
            "`{shown}` holds {} bytes; at most {LARGEST} are read.{}",
            size.len(),
            doubt(&shown)
        ));
    }
    // Room for all of it and for the end behind it, so that it is read at once.
    let mut bytes = Vec::with_capacity(usize::try_from(size.len()).unwrap_or(0) + 1);
    // It may grow while it is read, so the reading is bounded too.
    opened
        .take(LARGEST as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| format!("cannot read `{shown}`: {error}"))?;
    text(bytes, &shown)
}

/// What is asked of something large that is no drawing.
fn doubt(shown: &str) -> &'static str {
    match shown.ends_with(DRAWING) {
        true => "",
        false => " Is it a recipe?",
    }
}

/// Opens a file without waiting for anybody: a pipe would wait for its writer.
fn open(path: &Path) -> io::Result<fs::File> {
    fs::OpenOptions::new()
        .read(true)
        .custom_flags(libc::O_NONBLOCK | libc::O_NOCTTY)
        .open(path)
}

/// What something is that is there, and is no ordinary file.
pub(super) fn unlike_a_file(found: &Metadata) -> Option<&'static str> {
    let kind = found.file_type();
    Some(if kind.is_file() {
        return None;
    } else if kind.is_dir() {
        "a folder"
    } else if kind.is_fifo() {
        "a pipe"
    } else if kind.is_socket() {
        "a socket"
    } else {
        "a device"
    })
}

/// What to say of a file that cannot be opened, with the nearest that can.
fn missing(path: &Path, shown: &str, error: &io::Error) -> String {
    if let Some(what) = leads_nowhere(path, error) {
        return format!("`{shown}` is {what}");
    }
    if error.kind() != io::ErrorKind::NotFound {
        return format!("cannot read `{shown}`: {error}");
    }
    if path.to_string_lossy().contains(char::REPLACEMENT_CHARACTER) {
        return format!("the name of `{shown}` is not UTF-8, and it cannot be read: rename it");
    }
    match near(path) {
        Some(near) => format!(
            "there is no file `{shown}`; did you mean `{}`?",
            printable(&path.with_file_name(near).display().to_string()).trim_start_matches("./")
        ),
        None => format!("there is no file `{shown}`"),
    }
}

/// What a link is that leads to no file, by what came of following it; none for all else.
pub(super) fn leads_nowhere(path: &Path, error: &io::Error) -> Option<&'static str> {
    let is_link = path
        .symlink_metadata()
        .is_ok_and(|found| found.file_type().is_symlink());
    match error.kind() {
        io::ErrorKind::NotFound if is_link => Some("a link to a file that is not there"),
        _ if is_link && error.raw_os_error() == Some(libc::ELOOP) => {
            Some("a link that leads back to itself")
        }
        _ => None,
    }
}

/// The name of the recipe in the same folder that a missing one's comes nearest to; of the drawing to a drawing's.
pub(super) fn near(path: &Path) -> Option<String> {
    let folder = path
        .parent()
        .filter(|parent| !parent.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let name = path
        .file_name()
        .and_then(|name| name.to_str())
        .unwrap_or("");
    let ending = match name.ends_with(DRAWING) {
        true => DRAWING,
        false => ENDING,
    };
    let mut found = named_in(folder, ending);
    found.retain(|other| other != name);
    // Endings are alike in all of them, so only what stands before them is compared.
    let stem = |name: &str| name.strip_suffix(ending).unwrap_or(name).to_owned();
    let stems: Vec<String> = found.iter().map(|name| stem(name)).collect();
    let wanted = stem(name);
    nearest(&wanted, stems.iter().map(String::as_str)).map(|near| format!("{near}{ending}"))
}

/// Bytes as text; where they are not text, the place is named.
fn text(bytes: Vec<u8>, shown: &str) -> Result<String, String> {
    if bytes.len() > LARGEST {
        return Err(format!(
            "`{shown}` holds more than {LARGEST} bytes, which is the most that is read.{}",
            doubt(shown)
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let place = error.utf8_error().valid_up_to();
        let before = error.as_bytes().get(..place).unwrap_or(&[]);
        let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
        let byte = error.as_bytes().get(place).copied().unwrap_or(0);
        format!("{shown}:{line}: byte 0x{byte:02X} is not text; save it as UTF-8")
    })
}
