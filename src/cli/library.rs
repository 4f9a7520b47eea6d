//! Files that a recipe uses: opened below the first file's folder only, symbolic links resolved.

use std::path::{Path, PathBuf};

use crate::session::{Library, Opened};

use super::input;

/// Opens used files below one folder.
pub(super) struct Folder {
    /// The folder of the first file, links resolved; none where it cannot be found.
    root: Option<PathBuf>,
    /// The first file itself, so that a circle through it is seen.
    first: Option<PathBuf>,
}

impl Folder {
    /// The library of a recipe by its file name; standard input stands in the current folder.
    pub fn of(name: &str) -> Self {
        let first = Path::new(name)
            .canonicalize()
            .ok()
            .filter(|path| path.is_file());
        let root = match &first {
            Some(path) => path.parent().map(Path::to_path_buf),
            None => std::env::current_dir()
                .ok()
                .and_then(|folder| folder.canonicalize().ok()),
        };
        Self { root, first }
    }
}

impl Library for Folder {
    fn first(&self) -> Option<(String, String)> {
        let first = self.first.as_ref()?;
        let name = first.file_name()?.to_string_lossy().into_owned();
        Some((first.to_string_lossy().into_owned(), name))
    }

    fn open(&mut self, from: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        let outside = || {
            let help =
                "a recipe uses files of its own folder and of folders below it only".to_owned();
            (
                format!(
                    "`{}` lies outside the recipe's folder",
                    crate::source::printable(path)
                ),
                help,
            )
        };
        let root = self.root.as_ref().ok_or_else(outside)?;
        let folder = from
            .map_or(Some(root.as_path()), |from| Path::new(from).parent())
            .ok_or_else(outside)?;
        if Path::new(path).is_absolute() {
            return Err(outside());
        }
        let wanted = folder.join(path);
        let found = wanted.canonicalize().map_err(|error| {
            let given = wanted
                .strip_prefix(root)
                .unwrap_or(&wanted)
                .display()
                .to_string();
            (
                input::missing(&wanted, &crate::source::printable(&given), &error),
                "the path counts from the file that uses it".to_owned(),
            )
        })?;
        let inner = found.strip_prefix(root).map_err(|_| outside())?;
        let name = inner.display().to_string();
        let id = found.to_string_lossy().into_owned();
        let text = input::read_file(&found).map_err(|message| {
            (
                message,
                "name a recipe, as in `house/alloys.annulet`".to_owned(),
            )
        })?;
        Ok(Opened { id, name, text })
    }
}
