//! Sheets as pages of true size: the drawing over two columns, in the largest letters with which one page holds all.

use crate::drawing::{Anchor, Ink, Lettering, Panel, Picture, Sign, Spot, Trace, fits, measured};

use super::facts::{Fact, SheetBlock};
use super::of::{SheetLaid, SheetPaper};

/// Margin of a page, mm.
pub(super) const MARGIN: f64 = 8.0;

/// Heights of letters that are tried, mm; smaller ones nobody reads beside a lathe.
const LETTERS: [f64; 5] = [2.8, 2.6, 2.4, 2.2, 2.0];

/// Room between columns, and height of head and foot, mm.
const GAP: f64 = 6.0;
const HEAD: f64 = 9.0;
const FOOT: f64 = 6.0;

/// Part of a column that labels have.
const LABEL: f64 = 0.33;

/// Width of a box for what is found, mm.
const BOX: f64 = 16.0;

/// A line of a column: what is drawn in it, from its left upper corner, and how high it is.
struct Strip {
    signs: Vec<Sign>,
    high: f64,
    /// It stays with the next one.
    sticks: bool,
}

/// The size of letters with which a page holds a sheet; the smallest where none does.
pub(super) fn letters(one: &SheetLaid, paper: SheetPaper) -> f64 {
    let sizes = LETTERS.iter().copied();
    let mut fitting = sizes.filter(|size| columns(one, paper, *size).len() <= 2);
    fitting.next().unwrap_or(2.2)
}

/// The pages of a sheet, as few as its letters allow.
pub(super) fn pages(one: &SheetLaid, paper: SheetPaper) -> Vec<Picture> {
    let size = letters(one, paper);
    let (width, height) = paper.size();
    let all = columns(one, paper, size);
    let count = all.len().div_ceil(2);
    let wide = column_width(paper);
    let mut pages = Vec::new();
    for (place, pair) in all.chunks(2).enumerate() {
        let mut panel = Panel {
            id: "words".to_owned(),
            title: one.head.clone(),
            ..Panel::default()
        };
        let mut panels = Vec::new();
        let mut top = height - MARGIN;
        let mut say = |at: Spot, text: &str, size: f64, anchor: Anchor, bold: bool| {
            panel.signs.push(Sign::Text(Lettering {
                at,
                text: text.to_owned(),
                size,
                anchor,
                bold,
            }));
        };
        say(
            Spot::at(MARGIN, top - 4.0),
            &one.head,
            4.5,
            Anchor::Start,
            true,
        );
        say(
            Spot::at(width - MARGIN, top - 4.0),
            &one.line,
            2.8,
            Anchor::End,
            false,
        );
        say(
            Spot::at(MARGIN, MARGIN),
            &one.foot,
            2.4,
            Anchor::Start,
            false,
        );
        let told = format!(
            "\u{2248} rounded for reading; page {} of {count}",
            place + 1
        );
        say(
            Spot::at(width - MARGIN, MARGIN),
            &told,
            2.4,
            Anchor::End,
            false,
        );
        for y in [top - 6.0, MARGIN + 3.6] {
            let line = Trace::straight(&[Spot::at(MARGIN, y), Spot::at(width - MARGIN, y)]);
            panel.signs.push(Sign::Line(line, Ink::Narrow));
        }
        top -= HEAD;
        if place == 0 {
            let picture = &one.picture;
            let drawn = picture.panels.iter().cloned();
            panels.extend(drawn.map(|panel| panel.moved(MARGIN, top - picture.height)));
            top -= picture.height;
        }
        for (column, strips) in pair.iter().enumerate() {
            let left = MARGIN + column as f64 * (wide + GAP);
            let mut y = top;
            for strip in strips {
                let part = Panel {
                    signs: strip.signs.clone(),
                    ..Panel::default()
                };
                panel.signs.extend(part.moved(left, y).signs);
                y -= strip.high;
            }
        }
        panels.push(panel);
        pages.push(Picture {
            title: format!("Job sheet: {}", one.head),
            description: one.picture.description.clone(),
            width,
            height,
            panels,
        });
    }
    pages
}

fn column_width(paper: SheetPaper) -> f64 {
    (paper.size().0 - 2.0 * MARGIN - GAP) / 2.0
}

/// The strips of all columns, two to a page; the first two are under the drawing.
fn columns(one: &SheetLaid, paper: SheetPaper, size: f64) -> Vec<Vec<Strip>> {
    let room = paper.size().1 - 2.0 * MARGIN - HEAD - FOOT;
    let wide = column_width(paper);
    let strips = one
        .blocks
        .iter()
        .flat_map(|block| strips(block, size, wide));
    let mut all: Vec<Vec<Strip>> = vec![Vec::new()];
    let mut used = 0.0;
    let mut held: Vec<Strip> = Vec::new();
    for strip in strips {
        let sticks = strip.sticks;
        held.push(strip);
        if sticks {
            continue;
        }
        let high: f64 = held.iter().map(|strip| strip.high).sum();
        let most = if all.len() <= 2 {
            room - one.picture.height
        } else {
            room
        };
        if used + high > most && used > 0.0 {
            all.push(Vec::new());
            used = 0.0;
        }
        used += high;
        if let Some(column) = all.last_mut() {
            column.append(&mut held);
        }
    }
    if let Some(column) = all.last_mut() {
        column.append(&mut held);
    }
    all
}

fn letter(x: f64, y: f64, text: &str, size: f64, anchor: Anchor, bold: bool) -> Sign {
    Sign::Text(Lettering {
        at: Spot::at(x, y),
        text: text.to_owned(),
        size,
        anchor,
        bold,
    })
}

/// Height of a line of text.
fn line(size: f64) -> f64 {
    1.28 * size
}

fn strips(block: &SheetBlock, size: f64, wide: f64) -> Vec<Strip> {
    let mut all = Vec::new();
    let heading = |text: &str| {
        let lines = fits(text, 1.1 * size, wide);
        let count = lines.len() as f64;
        let signs = lines.iter().enumerate().map(|(place, text)| {
            let y = -line(size) * (place as f64 + 1.0);
            letter(0.0, y, text, size, Anchor::Start, true)
        });
        Strip {
            signs: signs.collect(),
            high: line(size) * count + 0.5,
            sticks: true,
        }
    };
    match block {
        SheetBlock::Facts(text, facts) => {
            all.push(heading(text));
            all.extend(facts.iter().map(|fact| self::fact(fact, size, wide)));
        }
        SheetBlock::Table(text, head, rows) => {
            all.push(heading(text));
            let head: Vec<String> = head.iter().map(|cell| (*cell).to_owned()).collect();
            all.push(Strip {
                sticks: true,
                ..row(&head, size, wide, false)
            });
            all.extend(rows.iter().map(|cells| row(cells, size, wide, true)));
        }
        SheetBlock::Words(text, texts) => {
            all.push(heading(text));
            for text in texts {
                for text in fits(text, size, wide) {
                    all.push(Strip {
                        signs: vec![letter(0.0, -size, &text, size, Anchor::Start, false)],
                        high: line(size),
                        sticks: false,
                    });
                }
            }
        }
    }
    if let Some(last) = all.last_mut() {
        last.high += 0.5 * size;
    }
    all
}

fn fact(fact: &Fact, size: f64, wide: f64) -> Strip {
    let boxed = if fact.boxed { BOX + 1.0 } else { 0.0 };
    let labels = fits(&fact.label, size, LABEL * wide - 1.0);
    let texts = fits(&fact.text, size, wide * (1.0 - LABEL) - boxed);
    let lines = labels.len().max(texts.len()) as f64;
    let mut signs = Vec::new();
    for (x, lines) in [(0.0, &labels), (LABEL * wide, &texts)] {
        for (place, text) in lines.iter().enumerate() {
            let y = -size - line(size) * place as f64;
            signs.push(letter(x, y, text, size, Anchor::Start, false));
        }
    }
    let high = line(size) * lines;
    if fact.boxed {
        signs.push(Sign::Line(frame(wide - BOX, 0.0, BOX, high), Ink::Narrow));
    }
    Strip {
        signs,
        high: if fact.boxed { high + 0.4 } else { high },
        sticks: false,
    }
}

/// A box from its left upper corner.
fn frame(x: f64, y: f64, wide: f64, high: f64) -> Trace {
    Trace::straight(&[
        Spot::at(x, y),
        Spot::at(x + wide, y),
        Spot::at(x + wide, y - high),
        Spot::at(x, y - high),
        Spot::at(x, y),
    ])
}

/// Cells of a table, each at the right end of its share; what is empty below the head is a box.
fn row(cells: &[String], size: f64, wide: f64, boxes: bool) -> Strip {
    let each = (wide / cells.len().max(1) as f64).min(24.0);
    // Names stand at the left, numbers at the right.
    let named = cells
        .first()
        .is_some_and(|cell| cell.starts_with(char::is_alphabetic) && cell.len() > 1);
    let mut signs = Vec::new();
    for (place, cell) in cells.iter().enumerate() {
        let right = each * (place as f64 + 1.0);
        if cell.is_empty() && boxes {
            let box_wide = (each - 2.0).min(BOX);
            signs.push(Sign::Line(
                frame(right - box_wide, 0.0, box_wide, line(size)),
                Ink::Narrow,
            ));
            continue;
        }
        // What is too long for its share begins at its left.
        let (x, anchor) = match measured(cell, size, false) > each - 1.0 || (named && place == 0) {
            true => (right - each, Anchor::Start),
            false => (right - 1.0, Anchor::End),
        };
        signs.push(letter(x, -size, cell, size, anchor, false));
    }
    Strip {
        signs,
        high: line(size),
        sticks: false,
    }
}
