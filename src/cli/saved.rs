//! A recipe or a drawing written to disk, whole or not at all.

use std::fs::{self, Metadata};
use std::io::{self, Write};
use std::os::unix::fs::{MetadataExt, fchown};
use std::path::Path;

use crate::source::printable;

use super::input;

/// The text goes into a new file beside the old one, which then takes its place in one step: whatever
/// happens meanwhile, there is the old file or the new one, whole.
///
/// # Errors
/// Why it cannot be written; the old file is then as it was.
pub(super) fn write(name: &str, text: impl AsRef<[u8]>) -> Result<(), String> {
    // The kind of an error names no file of ours.
    let refuse = |error: io::Error| format!("cannot save `{}`: {}", printable(name), error.kind());
    if let Some(what) = unwritable(name) {
        return Err(what);
    }
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
    builder.prefix(BEGINS).suffix(ENDS);
    let old = fs::metadata(path).ok();
    if let Some(old) = &old
        && old.permissions().readonly()
    {
        return Err(format!(
            "cannot save `{}`: the file is read-only",
            printable(name)
        ));
    }
    let permissions = old.as_ref().map_or_else(new_file, Metadata::permissions);
    builder.permissions(permissions.clone());
    let mut file = builder.tempfile_in(folder).map_err(refuse)?;
    file.write_all(text.as_ref()).map_err(refuse)?;
    if let Some(old) = &old {
        keep_owner(file.as_file(), old, name)?;
        // The mask of the process must not take away what the old file allowed.
        file.as_file()
            .set_permissions(permissions)
            .map_err(refuse)?;
    }
    file.as_file().sync_all().map_err(refuse)?;
    let saved = file.persist(&target);
    let saved = saved.map_err(|error| refuse(error.error))?;
    // Where a folder cannot be synced, the system keeps it in its own time.
    let _ = fs::File::open(folder).and_then(|folder| folder.sync_all());
    clear(folder, &saved);
    Ok(())
}

/// What the name of a file begins and ends with that is still being written.
const BEGINS: &str = ".annulet-";
const ENDS: &str = ".saving";

/// How much older a file that was never finished must be than the last one saved to be cleared, in seconds: an hour, in which any
/// other program that saves into the same folder is done.
const OLDER: i64 = 3600;

/// The new file belongs to whom the old one did.
fn keep_owner(file: &fs::File, old: &Metadata, name: &str) -> Result<(), String> {
    let is_alike = |new: Metadata| (new.uid(), new.gid()) == (old.uid(), old.gid());
    if file.metadata().is_ok_and(is_alike) {
        return Ok(());
    }
    fchown(file, Some(old.uid()), Some(old.gid())).map_err(|_| {
        format!(
            "cannot save `{}`: the file would no longer belong to its owner and group; save under another name",
            printable(name)
        )
    })
}

/// Clears away what an earlier save left that was killed: files of our own naming, older than any save takes.
fn clear(folder: &Path, saved: &fs::File) {
    let Ok(now) = saved.metadata().map(|saved| saved.mtime()) else {
        return;
    };
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        let is_left = name.starts_with(BEGINS) && name.ends_with(ENDS);
        // Of a link it is the link itself that is looked at.
        let found = entry.metadata().ok().filter(|_| is_left);
        let found = found.filter(Metadata::is_file);
        if found.is_some_and(|found| now.saturating_sub(found.mtime()) > OLDER) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Why nothing can be written under a name, whatever is there already; none where nothing stands against it.
pub(super) fn unwritable(name: &str) -> Option<String> {
    let path = Path::new(name);
    // Through a link too: what it leads to is looked at, and never put away for a file where it is none.
    let what = match fs::metadata(path) {
        Ok(old) => format!(
            "it is {}, and only files are written",
            input::unlike_a_file(&old)?
        ),
        Err(error) => format!(
            "it is {}; save under another name, or mend the link",
            input::leads_nowhere(path, &error)?
        ),
    };
    Some(format!("cannot save `{}`: {what}", printable(name)))
}

/// What a new file allows, before the mask of the process.
#[cfg(unix)]
fn new_file() -> fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    fs::Permissions::from_mode(0o666)
}
