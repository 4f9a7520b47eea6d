//! A sheet as it is asked for, and laid out.

use crate::drawing::Picture;
use crate::evaluate::Evaluation;

use super::facts::SheetBlock;

/// A ring whose sheet is wanted.
pub struct SheetOf<'a> {
    /// What it is called.
    pub title: String,
    /// It.
    pub evaluation: &'a Evaluation,
    /// What of the order it stands for, whom it is for.
    pub job: Vec<(String, String)>,
    /// What falls short of it, in sentences.
    pub short: Vec<String>,
    /// The day given; none is made up.
    pub on: Option<String>,
    /// What tells its recipe from another.
    pub fingerprint: String,
    /// Whether cost and price stand on it.
    pub price: bool,
}

/// The paper of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetPaper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl SheetPaper {
    /// Width and height, mm.
    #[must_use]
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    pub(super) fn word(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

/// One ring laid out: its head, its drawing, its blocks, and the size of letters with which a page holds it.
pub(super) struct SheetLaid {
    pub head: String,
    pub line: String,
    pub foot: String,
    pub picture: Picture,
    pub blocks: Vec<SheetBlock>,
}
