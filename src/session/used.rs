//! Files that a recipe uses: each read once, circles named, nothing outside the first file's folder.
//!
//! This layer reads no files: a [`Library`] does, which the outermost layer provides.

use crate::finding::Finding;
use crate::model::Nested;
use crate::source::Spanned;
use crate::syntax;

use super::Session;
use super::error::SessionError;

/// Opens used files.
pub trait Library {
    /// The [`Opened::id`] and the name of the recipe itself, when it is a file that others could use.
    fn first(&self) -> Option<(String, String)> {
        None
    }

    /// Opens the file that `from` (the [`Opened::id`] of another, or nothing for the recipe itself) calls
    /// `path`.
    ///
    /// # Errors
    /// Why it cannot be used, and what to do about it.
    fn open(&mut self, from: Option<&str>, path: &str) -> Result<Opened, (String, String)>;
}

/// A used file.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The same for the same file, by whatever way it is reached.
    pub id: String,
    /// How findings name it.
    pub name: String,
    /// Its text; none when only its id is wanted again.
    pub text: String,
}

/// For recipes that stand alone: every `use` is refused.
pub struct NoLibrary;

impl Library for NoLibrary {
    fn open(&mut self, _from: Option<&str>, path: &str) -> Result<Opened, (String, String)> {
        Err((
            format!("`{path}` cannot be used here"),
            "a recipe that does not come from a file uses no other".to_owned(),
        ))
    }
}

/// How many files a recipe may use, and how deep.
const MOST: usize = 64;

/// A file on the way down.
struct Open {
    id: Option<String>,
    name: String,
    uses: std::vec::IntoIter<Spanned<String>>,
}

impl Session {
    /// The trees of all used files, each once, with what the library knows each by.
    pub(super) fn used(
        &mut self,
        tree: Option<&Nested>,
        library: &mut dyn Library,
        findings: &mut Vec<Finding>,
    ) -> Vec<(Nested, String)> {
        let Some(tree) = tree else { return Vec::new() };
        let mut trees = Vec::new();
        let mut known: Vec<String> = Vec::new();
        let uses = crate::model::uses(&tree.items, findings);
        if uses.is_empty() {
            return trees;
        }
        let (id, name) = library
            .first()
            .map_or((None, "this recipe".to_owned()), |(id, name)| {
                (Some(id), name)
            });
        let mut stack = vec![Open {
            id,
            name,
            uses: uses.into_iter(),
        }];
        while let Some(top) = stack.last_mut() {
            let Some(path) = top.uses.next() else {
                stack.pop();
                continue;
            };
            let opened = match library.open(top.id.as_deref(), &path.value) {
                Ok(opened) => opened,
                Err((message, help)) => {
                    findings.push(
                        SessionError::UnreadFile {
                            at: path.span,
                            message,
                            help,
                        }
                        .into(),
                    );
                    continue;
                }
            };
            if let Some(from) = stack
                .iter()
                .position(|open| open.id.as_ref() == Some(&opened.id))
            {
                let mut names: Vec<&str> = stack
                    .iter()
                    .skip(from)
                    .map(|open| open.name.as_str())
                    .collect();
                names.push(&opened.name);
                findings.push(
                    SessionError::Circle {
                        at: path.span,
                        chain: names.join(" uses "),
                    }
                    .into(),
                );
                continue;
            }
            if known.contains(&opened.id) {
                continue;
            }
            if known.len() >= MOST {
                findings.push(
                    SessionError::TooManyFiles {
                        at: path.span,
                        limit: MOST,
                    }
                    .into(),
                );
                continue;
            }
            known.push(opened.id.clone());
            let id = self.sources.add(&opened.name, &opened.text);
            let Some(source) = self.sources.get(id) else {
                continue;
            };
            let parsed = syntax::parse(source);
            findings.extend(parsed.findings);
            let uses = crate::model::uses(&parsed.value.items, findings);
            trees.push((Nested::of(parsed.value), opened.id.clone()));
            stack.push(Open {
                id: Some(opened.id),
                name: opened.name,
                uses: uses.into_iter(),
            });
        }
        trees
    }
}
