//! A bench on a terminal that is ended by a signal: the terminal is left as it was, and unsaved work in a file that is
//! named.

use std::io::{self, Write as _};
use std::os::unix::fs::MetadataExt as _;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use rustix::process::geteuid;
use rustix::termios::{OptionalActions, tcgetattr, tcsetattr};
use signal_hook::consts::{SIGHUP, SIGTERM};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

use crate::bench::Unsaved;
use crate::source::printable;

use super::saved;

/// What would be lost if the program ended now.
pub(super) type Work = Arc<Mutex<Option<Unsaved>>>;

/// How the name of a file ends that unsaved work was put into.
const ENDING: &str = ".unsaved";

/// What such a file of a recipe without a file is called before that ending.
const UNNAMED: &str = "recipe.annulet";

/// The most of them beside one recipe.
const MOST: usize = 100;

/// Ends a bracketed paste and a synchronised update, which the prompt begins.
const PLAIN: &[u8] = b"\x1b[?2004l\x1b[?2026l\r\n";

/// Waits for a signal that ends the program, with what there is to be rescued then.
///
/// # Errors
/// Why it cannot be waited for.
pub(super) fn watch(work: &Work) -> io::Result<()> {
    let before = tcgetattr(io::stdin()).ok();
    let mut signals = Signals::new([SIGTERM, SIGHUP])?;
    let work = Arc::clone(work);
    let wait = move || {
        for signal in signals.forever() {
            if let Some(before) = &before {
                let _ = tcsetattr(io::stdin(), OptionalActions::Now, before);
            }
            let _ = io::stdout().write_all(PLAIN);
            let _ = io::stdout().flush();
            let work = work.lock().unwrap_or_else(PoisonError::into_inner).take();
            if let Some(work) = work {
                let told = match put(&work) {
                    Ok(place) => format!("what was not saved is in `{}`", shown(&place)),
                    Err(message) => format!("what was not saved is lost: {message}"),
                };
                let _ = writeln!(io::stderr(), "annulet: ended by a signal; {told}");
            }
            let _ = emulate_default_handler(signal);
        }
    };
    std::thread::Builder::new().spawn(wait)?;
    Ok(())
}

fn shown(place: &Path) -> String {
    printable(&place.to_string_lossy())
}

/// Writes unsaved work beside its recipe or, where that cannot be, into the folder for files that pass; never over
/// anything.
fn put(work: &Unsaved) -> Result<PathBuf, String> {
    let beside = Path::new(work.file.as_deref().unwrap_or(UNNAMED));
    let mut why = Vec::new();
    for recipe in [Some(beside.to_path_buf()), apart(beside)]
        .into_iter()
        .flatten()
    {
        let free = places(&recipe).find(|place| place.symlink_metadata().is_err());
        let Some(place) = free else {
            why.push(format!(
                "{MOST} files of what was not saved lie beside `{}` already, and no more are kept",
                shown(&recipe)
            ));
            continue;
        };
        match saved::write(&place.to_string_lossy(), &work.text) {
            Ok(()) => return Ok(place),
            Err(message) => why.push(message),
        }
    }
    Err(why.join("; "))
}

/// Beside what unsaved work of a recipe goes where its own folder does not take it.
fn apart(recipe: &Path) -> Option<PathBuf> {
    let name = recipe.file_name()?;
    Some(std::env::temp_dir().join(name))
}

/// The names under which unsaved work of a recipe may lie.
fn places(recipe: &Path) -> impl Iterator<Item = PathBuf> {
    let named = |ending: &str| {
        let mut name = recipe.as_os_str().to_os_string();
        name.push(ending);
        PathBuf::from(name)
    };
    let first = named(ENDING);
    let rest: Vec<PathBuf> = (2..=MOST)
        .map(|one| named(&format!("{ENDING}-{one}")))
        .collect();
    std::iter::once(first).chain(rest)
}

/// What to say of unsaved work that an earlier session left beside a recipe or in the folder for files that pass.
pub(super) fn left(recipe: Option<&str>) -> Option<String> {
    let recipe = Path::new(recipe.unwrap_or(UNNAMED));
    if let Some(found) = places(recipe).find(|place| place.is_file()) {
        let found = shown(&found);
        return Some(format!(
            "`{found}` holds what an earlier session had not saved; `open {found}` shows it, delete it when it is done with"
        ));
    }
    // Others may write there too, and recipes of another folder have the same name.
    let mine = |place: &PathBuf| {
        let of = place.symlink_metadata();
        of.is_ok_and(|of| of.is_file() && of.uid() == geteuid().as_raw())
    };
    let found = places(&apart(recipe)?).find(mine)?;
    let found = shown(&found);
    Some(format!(
        "`{found}` holds what an earlier session of this recipe, or of another of its name, had not saved; `open {found}` shows it, delete it when it is done with"
    ))
}
