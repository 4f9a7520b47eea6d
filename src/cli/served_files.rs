//! Files as an editor sees them: what is open there stands before what is on disk.

use crate::bench::Files;
use crate::session::{Library, Opened};

use super::library::Folder;

/// The files that a recipe uses.
pub(super) struct OpenFiles<'a> {
    pub folder: Folder,
    /// The text of a file that is open.
    pub texts: &'a dyn Fn(&str) -> Option<String>,
}

impl Library for OpenFiles<'_> {
    fn first(&self) -> Option<(String, String)> {
        self.folder.first()
    }

    fn open(&mut self, from: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        let opened = self.folder.open(from, path)?;
        Ok(match (self.texts)(&opened.id) {
            Some(text) => Opened { text, ..opened },
            None => opened,
        })
    }
}

/// One recipe as it is being written, for what the prompt knows of it; nothing is written.
pub(super) struct OneText {
    pub text: String,
}

impl Files for OneText {
    fn read(&mut self, _: &str) -> Result<String, String> {
        Ok(self.text.clone())
    }

    fn write(&mut self, name: &str, _: &str) -> Result<(), String> {
        Err(format!("`{name}` is written by the editor"))
    }

    fn exists(&mut self, _: &str) -> bool {
        true
    }

    fn library(&mut self, name: &str) -> Box<dyn Library> {
        Box::new(Folder::of(name, None))
    }

    fn beginning(&mut self, _: &str) -> Vec<String> {
        Vec::new()
    }
}
