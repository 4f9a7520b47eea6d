//! The job sheet: what is pinned beside the lathe, one page a ring, as HTML to print and as PDF.
//!
//! Input: an evaluation, and what the call says of the job. Output: text or bytes, the same on every machine: the only
//! date on it is one that was given. Both forms say the same, from one list of blocks.

mod blocks;
mod facts;
mod html;
mod metal;
mod of;
mod pages;
mod work;

use crate::drawing;

use super::section::{SectionKinds, SectionOf, section_on_page};

use blocks::blocks;
use of::SheetLaid;

pub use of::{SheetOf, SheetPaper};

/// Scales that a drawing on a sheet may have; the largest that fits.
const SCALES: [f64; 8] = [10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0];

/// How much of a page's height a drawing may take.
const SHARE: f64 = 0.36;

fn laid(of: &SheetOf<'_>, paper: SheetPaper) -> SheetLaid {
    let (width, height) = paper.size();
    let room = (width - 2.0 * pages::MARGIN, SHARE * height);
    let kinds = SectionKinds {
        finished: true,
        machined: true,
        stages: false,
    };
    let drawn = |scale: f64| {
        let one = SectionOf {
            title: of.title.clone(),
            evaluation: of.evaluation,
        };
        section_on_page(one, kinds, scale, room.0)
    };
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
    SheetLaid {
        head,
        line: day,
        foot: format!("fingerprint {}", of.fingerprint),
        picture,
        blocks: blocks(of),
    }
}

/// Sheets as one page of HTML that needs nothing else.
#[must_use]
pub fn sheets_html(of: &[SheetOf<'_>], paper: SheetPaper) -> String {
    let laid: Vec<SheetLaid> = of.iter().map(|one| laid(one, paper)).collect();
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
