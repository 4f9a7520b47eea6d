//! Files that a recipe uses: opened below the first file's folder or `--root` only, symbolic links resolved.

use std::cell::OnceCell;
use std::io;
use std::path::{Component, Path, PathBuf};

use crate::session::{Library, Opened};
use crate::source::printable;

use super::input;

/// Opens used files below one folder. Where that lies is asked of the file system when a recipe uses a file.
pub(super) struct Folder {
    /// The recipe as the call names it.
    recipe: PathBuf,
    /// `--root` as the call names it.
    stated: Option<PathBuf>,
    place: OnceCell<Place>,
}

/// Where a recipe lies.
struct Place {
    /// The folder that nothing is opened outside of, links resolved; none where it cannot be found.
    root: Option<PathBuf>,
    /// The folder of the first file, links resolved, and how the call names it.
    own: Option<PathBuf>,
    called: PathBuf,
    /// The first file itself, so that a circle through it is seen.
    first: Option<PathBuf>,
}

impl Place {
    fn of(recipe: &Path, root: Option<&Path>) -> Self {
        let first = recipe.canonicalize().ok().filter(|path| path.is_file());
        let named = recipe.parent().unwrap_or(Path::new(""));
        let folder = match named.as_os_str().is_empty() {
            true => Path::new("."),
            false => named,
        };
        let own = match &first {
            Some(path) => path.parent().map(Path::to_path_buf),
            None => folder.canonicalize().ok(),
        };
        // Through a link the folder that is named is another than the one that the recipe lies in.
        let same = folder.canonicalize().ok() == own;
        Self {
            root: match root {
                Some(root) => root.canonicalize().ok(),
                None => own.clone(),
            },
            called: if same {
                named.to_path_buf()
            } else {
                PathBuf::new()
            },
            own,
            first,
        }
    }
}

impl Folder {
    /// The library of a recipe by its file name; standard input stands in the current folder.
    pub fn of(name: &str, root: Option<&Path>) -> Self {
        Self {
            recipe: PathBuf::from(name),
            stated: root.map(Path::to_path_buf),
            place: OnceCell::new(),
        }
    }

    fn place(&self) -> &Place {
        self.place
            .get_or_init(|| Place::of(&self.recipe, self.stated.as_deref()))
    }

    /// Why the recipe itself may not be read: it lies outside of `--root`.
    pub fn refusal(&self, name: &str) -> Option<String> {
        let stated = self.stated.as_ref()?;
        let place = self.place();
        let shown = printable(&stated.to_string_lossy());
        let Some(root) = place.root.as_ref().filter(|root| root.is_dir()) else {
            return Some(format!("`--root {shown}` is not a folder"));
        };
        let own = place.own.as_ref().is_some_and(|own| own.starts_with(root));
        (!own).then(|| format!("`{}` lies outside `--root {shown}`", printable(name)))
    }

    /// How findings name a file: from where the call stands.
    fn name(&self, found: &Path, inner: &Path) -> String {
        let place = self.place();
        let own = place.own.as_ref();
        let below = own.and_then(|own| found.strip_prefix(own).ok());
        let name = match (below, &self.stated) {
            (Some(below), _) => place.called.join(below),
            (None, Some(stated)) => stated.join(inner),
            (None, None) => inner.to_path_buf(),
        };
        name.display().to_string()
    }
}

impl Library for Folder {
    fn first(&self) -> Option<(String, String)> {
        let place = self.place();
        let first = place.first.as_ref()?;
        let name = place.called.join(first.file_name()?).display().to_string();
        Some((first.to_string_lossy().into_owned(), name))
    }

    fn open(&mut self, from: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        if path.is_empty() {
            let help = "name a recipe, as in `house/alloys.annulet`";
            return Err(("a file's name goes here".to_owned(), help.to_owned()));
        }
        let shown = printable(path);
        let outside = || {
            let help = match self.stated {
                Some(_) => {
                    "a recipe uses files of the folder of `--root` and of folders below it only"
                }
                None => {
                    "a recipe uses files of its own folder and of folders below it only; `--root DIR` opens those below another"
                }
            };
            let message = format!("`{shown}` lies outside the recipe's folder");
            (message, help.to_owned())
        };
        let place = self.place();
        let root = place.root.as_ref().ok_or_else(outside)?;
        let folder = from
            .map_or(place.own.as_deref(), |from| Path::new(from).parent())
            .ok_or_else(outside)?;
        let below = folder.strip_prefix(root).map_err(|_| outside())?;
        // What is written to lead out is not even looked for: whether it is there is nobody's business.
        if !stays(below, Path::new(path)) {
            return Err(outside());
        }
        let wanted = folder.join(path);
        let found = wanted.canonicalize().map_err(|error| {
            let holder = wanted
                .parent()
                .and_then(|holder| holder.canonicalize().ok());
            if holder.is_some_and(|holder| !holder.starts_with(root)) {
                return outside();
            }
            (
                unread(&wanted, path, &error),
                "the path counts from the file that uses it".to_owned(),
            )
        })?;
        let inner = found.strip_prefix(root).map_err(|_| outside())?;
        let name = match inner.as_os_str().is_empty() {
            true => path.to_owned(),
            false => self.name(&found, inner),
        };
        let help = || "name a recipe, as in `house/alloys.annulet`".to_owned();
        let text = input::read_named(&found, &name).map_err(|message| (message, help()))?;
        Ok(Opened {
            id: found.to_string_lossy().into_owned(),
            name,
            text,
        })
    }
}

/// Whether a path as written stays at or below the root, counted from a folder so far below it.
fn stays(below: &Path, path: &Path) -> bool {
    let mut depth = below.components().count();
    for part in path.components() {
        match part {
            Component::Normal(_) => depth += 1,
            Component::CurDir => {}
            Component::ParentDir if depth > 0 => depth -= 1,
            Component::ParentDir | Component::RootDir | Component::Prefix(_) => return false,
        }
    }
    true
}

/// What to say of a used file that cannot be found, with the nearest that can, as the recipe would write it.
fn unread(wanted: &Path, written: &str, error: &io::Error) -> String {
    let shown = printable(written);
    if let Some(what) = input::leads_nowhere(wanted, error) {
        return format!("`{shown}` is {what}");
    }
    if error.kind() != io::ErrorKind::NotFound {
        return format!("cannot read `{shown}`: {error}");
    }
    match input::near(wanted) {
        Some(near) => {
            let near = Path::new(written).with_file_name(near);
            let near = printable(&near.display().to_string());
            format!("there is no file `{shown}`; did you mean `{near}`?")
        }
        None => format!("there is no file `{shown}`"),
    }
}
