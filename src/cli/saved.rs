//! A recipe or a drawing written to disk, whole or not at all.

use std::io::{self, Write};
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
    builder.prefix(".annulet-");
    let old = std::fs::metadata(path).ok();
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
    file.write_all(text.as_ref()).map_err(refuse)?;
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

/// Why nothing can be written under a name, whatever is there already; none where nothing stands against it.
pub(super) fn unwritable(name: &str) -> Option<String> {
    let path = Path::new(name);
    // Through a link too: what it leads to is looked at, and never put away for a file where it is none.
    let what = match std::fs::metadata(path) {
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
fn new_file() -> std::fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    std::fs::Permissions::from_mode(0o666)
}
