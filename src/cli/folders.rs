//! The recipes that a call means by the name of a folder: all below it, and what of it is left out.

use std::fs;
use std::path::Path;

use super::input::ENDING;
use super::output::Output;

/// How many entries of a hidden folder are looked through for recipes.
const MOST_HIDDEN: usize = 10_000;

/// How many names of what was left out are said.
const MOST_SAID: usize = 5;

/// The files that a call means, in its order: a folder stands for the recipes in it, by name. What of a folder is
/// not read is said.
pub(super) fn expanded(files: &[String], output: &Output) -> Vec<String> {
    let mut all = Vec::new();
    for file in files {
        if file == "-" || !Path::new(file).is_dir() {
            all.push(file.clone());
            continue;
        }
        let mut walk = Walk::default();
        walk.folder(Path::new(file));
        walk.say(file, output);
        if walk.found.is_empty() {
            // Reading it says what is wrong.
            walk.found.push(file.clone());
        }
        all.extend(walk.found);
    }
    all
}

/// What was found on the way.
#[derive(Default)]
struct Walk {
    found: Vec<String>,
    hidden: Vec<String>,
    links: Vec<String>,
}

impl Walk {
    fn folder(&mut self, folder: &Path) {
        let Ok(entries) = fs::read_dir(folder) else {
            // Recipes that cannot be seen are not passed over: reading the folder says why.
            self.found.push(folder.display().to_string());
            return;
        };
        let mut entries: Vec<_> = entries
            .flatten()
            .filter_map(|entry| Some((entry.path(), entry.file_type().ok()?)))
            .collect();
        entries.sort_by(|(one, _), (other, _)| one.cmp(other));
        for (path, kind) in entries {
            let Some(name) = path
                .file_name()
                .map(|name| name.to_string_lossy().into_owned())
            else {
                continue;
            };
            let is_recipe = name.ends_with(ENDING);
            let shown = path.display().to_string();
            if name.starts_with('.') {
                let holds = kind.is_dir() && holds_recipes(&path, &mut MOST_HIDDEN.clone());
                if holds || is_recipe && !kind.is_dir() {
                    self.hidden.push(shown);
                }
            } else if kind.is_dir() {
                self.folder(&path);
            } else if kind.is_symlink() && (path.is_dir() || is_recipe && leads_out(folder, &path))
            {
                self.links.push(shown);
            } else if is_recipe {
                // A name that is not UTF-8 names no file when it is read, and that is said.
                self.found.push(shown);
            }
        }
    }

    fn say(&self, folder: &str, output: &Output) {
        for (what, all) in [
            ("hidden", &self.hidden),
            ("links are not followed", &self.links),
        ] {
            if all.is_empty() {
                continue;
            }
            let names: Vec<String> = all
                .iter()
                .take(MOST_SAID)
                .map(|name| format!("`{}`", crate::source::printable(name)))
                .collect();
            let more = match all.len().saturating_sub(MOST_SAID) {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            output.left_out(
                folder,
                &format!("left out: {}{more} ({what})", names.join(", ")),
            );
        }
    }
}

/// Whether a link leads to something that does not lie beside or below it.
fn leads_out(folder: &Path, link: &Path) -> bool {
    match (folder.canonicalize(), link.canonicalize()) {
        (Ok(folder), Ok(target)) => !target.starts_with(folder),
        // A link to nothing is read, which says so.
        _ => false,
    }
}

/// Whether recipes lie in a folder, at any depth; so many entries are looked at, and beyond that it may be.
fn holds_recipes(folder: &Path, left: &mut usize) -> bool {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if *left == 0 {
            return true;
        }
        *left -= 1;
        let is_recipe = entry.file_name().to_string_lossy().ends_with(ENDING);
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if is_recipe && !is_folder || is_folder && holds_recipes(&entry.path(), left) {
            return true;
        }
    }
    false
}
