//! The drawings that cuts name: each read once with its recipe, below the recipe's folder, nothing fetched.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::model::{Drawings, NamedDrawing, Nested};
use crate::motif::{self, Motif, MotifError};
use crate::schema::FieldId;
use crate::source::Span;
use crate::syntax::ast::{Entry, ExprKind, entries};

use super::Library;
use super::digest::of_lines;

/// How many drawings a recipe may name.
const MOST: usize = 64;

/// A file that was read.
#[derive(Debug)]
pub(super) struct DrawnFile {
    /// How the recipe writes it.
    pub written: String,
    /// How findings call it.
    pub name: String,
    /// The digest of its text.
    pub digest: String,
}

/// What a file holds, how findings call it, and why it cannot be taken.
type Read = (String, Result<Arc<Motif>, MotifError>);

/// Reads the drawings that some trees name; `from` is what the library knows each tree's file by. The files are in the
/// order of the trees, each once for each way that it is written in.
pub(super) fn drawings<'t>(
    trees: impl Iterator<Item = (&'t Nested, Option<&'t str>)>,
    library: &mut dyn Library,
) -> (Drawings, Vec<DrawnFile>) {
    let mut known: FxHashMap<(Option<&str>, String), Read> = FxHashMap::default();
    let mut all = Vec::new();
    let mut read = Vec::new();
    for (tree, from) in trees {
        let mut named = Vec::new();
        for entry in entries(&tree.items) {
            files(entry, &mut named);
        }
        for (at, path) in named {
            let key = (from, path);
            if !known.contains_key(&key) {
                let found = match known.len() < MOST {
                    true => opened(from, &key.1, library, &mut read),
                    false => too_many(&key.1),
                };
                known.insert(key.clone(), found);
            }
            if let Some((name, motif)) = known.get(&key) {
                all.push(NamedDrawing {
                    at,
                    name: name.clone(),
                    motif: motif.clone(),
                });
            }
        }
    }
    (Drawings(all), read)
}

fn opened(
    from: Option<&str>,
    path: &str,
    library: &mut dyn Library,
    read: &mut Vec<DrawnFile>,
) -> Read {
    match library.open(from, path) {
        Ok(opened) => {
            read.push(DrawnFile {
                written: path.to_owned(),
                name: opened.name.clone(),
                digest: of_lines(std::iter::once(opened.text.as_str())),
            });
            (opened.name, motif::read(&opened.text).map(Arc::new))
        }
        Err((message, _)) => {
            let help = "a drawing is plain SVG in the recipe's folder or below; its path counts from the file that names it";
            let help = help.to_owned();
            (path.to_owned(), Err(MotifError { message, help }))
        }
    }
}

fn too_many(path: &str) -> Read {
    let error = MotifError {
        message: format!("a recipe names {MOST} drawings at most"),
        help: "put several parts into one drawing, and name each by `part`".to_owned(),
    };
    (path.to_owned(), Err(error))
}

/// The files that the drawings in an entry name, and where.
fn files(entry: &Entry, into: &mut Vec<(Span, String)>) {
    let is_drawing = entry.head_name() == Some(FieldId::PatternDrawing.word());
    for inner in entry.block.iter().flat_map(|block| block.entries()) {
        if is_drawing
            && inner.head_name() == Some(FieldId::PatternDrawingFile.word())
            && let [value] = inner.values.as_slice()
            && let ExprKind::Text(path) = &value.kind
        {
            into.push((value.span, path.clone()));
        }
        files(inner, into);
    }
}
