//! Drawings in SVG to lines and outlines in millimetres, and what of them is not understood.
//!
//! Input: the text of one file. Output: strokes as centre lines and fills as closed outlines, each with the names that it
//! bears and stands in. Nothing is fetched, and a text of any kind is read in bounded time and space.

mod error;
mod look;
mod page;
mod read;
mod runs;
mod shape;

pub use error::MotifError;
pub use read::read;

/// A drawing in millimetres: `x` from its left edge, `y` upwards from its middle.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Motif {
    /// How wide it is.
    pub wide: f64,
    /// How high it is.
    pub high: f64,
    /// What is drawn.
    pub marks: Vec<MotifMark>,
    /// What is not understood, the first of each kind and part.
    pub unread: Vec<Unread>,
}

/// One line or outline.
#[derive(Clone, Debug, PartialEq)]
pub struct MotifMark {
    /// Its own `id` and those of the groups that it stands in.
    pub names: Vec<String>,
    /// Whether all inside it is meant, and not a line along it.
    pub filled: bool,
    /// Its points; of a closed line the first stands at the end again, of an outline it does not.
    pub points: Vec<(f64, f64)>,
}

/// Something that draws no line and no outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// What, as `<text>` or `stroke-dasharray`.
    pub what: String,
    /// The names that it stands in.
    pub names: Vec<String>,
    /// The line of the file that it stands in first.
    pub line: u32,
    /// How many there are.
    pub count: u32,
}

impl Motif {
    /// The names that marks bear or stand in, each once.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        for name in self.marks.iter().flat_map(|mark| &mark.names) {
            if !all.contains(&name.as_str()) {
                all.push(name);
            }
        }
        all
    }
}
