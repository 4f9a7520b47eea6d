//! The job sheet: what is pinned beside the lathe, one page a ring, as HTML to print and as PDF.
//!
//! Input: an evaluation, and what the call says of the job. Output: text or bytes, the same on every machine: the only
//! date on it is one that was given. Both forms say the same, from one list of blocks.

mod blocks;
mod html;
mod metal;
mod pages;
mod work;

use sha2::{Digest, Sha256};

use crate::drawing;
use crate::evaluate::Evaluation;

use super::json;
use super::section::{SectionKinds, SectionOf, section};

use blocks::{SheetBlock, blocks};

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

    fn word(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

/// One ring laid out: its head, its drawing, its blocks, and the size of letters with which a page holds it.
struct Laid {
    head: String,
    line: String,
    foot: String,
    picture: drawing::Picture,
    blocks: Vec<SheetBlock>,
}

/// Scales that a drawing on a sheet may have; the largest that fits.
const SCALES: [f64; 8] = [10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0];

/// How much of a page's height a drawing may take.
const SHARE: f64 = 0.42;

fn laid(of: &SheetOf<'_>, paper: SheetPaper) -> Laid {
    let (width, height) = paper.size();
    let room = (width - 2.0 * pages::MARGIN, SHARE * height);
    let one = [SectionOf {
        title: of.title.clone(),
        evaluation: of.evaluation,
    }];
    let kinds = SectionKinds {
        finished: true,
        machined: true,
        stages: false,
    };
    let drawn = |scale: f64| section(&one, kinds, scale);
    let fits = |picture: &drawing::Picture| picture.width <= room.0 && picture.height <= room.1;
    let mut tried = SCALES.iter().map(|scale| drawn(*scale));
    let picture = tried.find(fits).unwrap_or_else(|| drawn(1.0));
    let band = &of.evaluation.band;
    let head = match band.title() {
        Some(title) => format!("{}: {title}", of.title),
        None => of.title.clone(),
    };
    let day = match &of.on {
        Some(day) => format!("as of {day}"),
        None => "no date given".to_owned(),
    };
    let print = fingerprint(of.evaluation);
    Laid {
        head,
        line: day,
        foot: format!("fingerprint {print}"),
        picture,
        blocks: blocks(of),
    }
}

/// What tells a sheet of other figures from this one: the first digits of a hash (FIPS 180-4, SHA-256) of every field and
/// result.
fn fingerprint(evaluation: &Evaluation) -> String {
    let mut values = serde_json::Map::new();
    json::add(&mut values, evaluation);
    let text = serde_json::Value::Object(values).to_string();
    let digest = Sha256::digest(text.as_bytes());
    let digits = digest.iter().take(6).map(|byte| format!("{byte:02x}"));
    let digits: Vec<String> = digits.collect();
    let pairs: Vec<String> = digits.chunks(2).map(|pair| pair.concat()).collect();
    pairs.join(" ")
}

/// Sheets as one page of HTML that needs nothing else.
#[must_use]
pub fn sheets_html(of: &[SheetOf<'_>], paper: SheetPaper) -> String {
    let laid: Vec<Laid> = of.iter().map(|one| laid(one, paper)).collect();
    html::html(&laid, paper)
}

/// Sheets as a PDF, and whether its standard fonts have all that is said.
#[must_use]
pub fn sheets_pdf(of: &[SheetOf<'_>], paper: SheetPaper) -> (Vec<u8>, bool) {
    let laid = of.iter().map(|one| laid(one, paper));
    let pages: Vec<drawing::Picture> = laid.flat_map(|one| pages::pages(&one, paper)).collect();
    let plain = pages.iter().all(drawing::Picture::is_plain);
    (drawing::pdf(&pages), plain)
}
