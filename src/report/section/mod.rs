//! Sections of bands drawn with their figures, to a stated scale: as a picture, and as text.
//!
//! Input: evaluations. Output: a [`Picture`], or text for a terminal. A part's outline is the one that is evaluated, in
//! true millimetres; figures are shown to a micrometre, which the drawing says.

mod figures;
mod machined;
mod place;

use crate::drawing::{Anchor, Panel, Picture, Spot, measured};
use crate::evaluate::Evaluation;
use crate::explore::{Looked, SectionView, section_views};
use crate::kernel::lathe::Part;

use figures::{Along, Dimensions, number};
use place::{Placed, Setting, WIDER, part_word, placed, words};

use super::sketch::sketch;

/// A band whose section is drawn, and what it is called there.
pub struct SectionOf<'a> {
    /// Its name.
    pub title: String,
    /// It.
    pub evaluation: &'a Evaluation,
}

/// What of a band's section is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SectionKinds {
    /// The finished ring.
    pub finished: bool,
    /// Its parts as machined.
    pub machined: bool,
    /// The stages at the enlarger.
    pub stages: bool,
}

impl SectionKinds {
    fn has(self, looked: Looked) -> bool {
        match looked {
            Looked::Finished => self.finished,
            Looked::Machined => self.machined,
            _ => self.stages,
        }
    }
}

/// Margin round a picture, and room between views, mm.
const MARGIN: f64 = 6.0;
const BETWEEN: f64 = 8.0;

/// Width of a row that is not broken, and height of letters, mm.
const ROW: f64 = 270.0;
const LETTERS: f64 = 2.8;

/// Sections drawn, `scale` to 1.
#[must_use]
pub fn section(of: &[SectionOf<'_>], kinds: SectionKinds, scale: f64) -> Picture {
    let set = Setting {
        scale,
        letters: LETTERS,
        notes: true,
        row: ROW,
    };
    let names: Vec<String> = match of {
        [only] => vec![named(only)],
        several => several.iter().map(|one| one.title.clone()).collect(),
    };
    let title = names.join(" beside ");
    let told = [
        format!("{}:1. {}", number(scale), ABOUT[0]),
        ABOUT[1].to_owned(),
    ];
    framed(viewed(of, kinds, set), Some(&title), &told, set)
}

/// The same to stand on a page of a width, beside text that says what it does not: no heading, small letters.
pub(super) fn section_on_page(
    of: SectionOf<'_>,
    kinds: SectionKinds,
    scale: f64,
    row: f64,
) -> Picture {
    let set = Setting {
        scale,
        letters: 2.0,
        notes: false,
        row,
    };
    let told = [format!("{}:1. {} {}", number(scale), ABOUT[0], ABOUT[1])];
    framed(viewed(&[of], kinds, set), None, &told, set)
}

/// What holds of all figures.
const ABOUT: [&str; 2] = [
    "Lengths in mm, to a micrometre. \u{D8} are diameters about the finger's axis, which lies level below.",
    "Dash and dot: mid width. Dashed: the depth of the cut. Sections are without the pattern.",
];

/// The views of bands in rows.
fn viewed(of: &[SectionOf<'_>], kinds: SectionKinds, set: Setting) -> Picture {
    let mut rows: Vec<Vec<Placed>> = Vec::new();
    let mut told = Vec::new();
    let mut main = Vec::new();
    for (place, one) in of.iter().enumerate() {
        let id = format!("b{}", place + 1);
        let several = (of.len() > 1).then_some(one.title.as_str());
        let mut stages = Vec::new();
        let mut parts: Vec<Placed> = Vec::new();
        for view in section_views(one.evaluation) {
            if !kinds.has(view.looked) {
                continue;
            }
            let found = dimensions(one.evaluation, &view);
            let title = titled(several, &view);
            told.push(described(&title, &found, &view));
            let id = format!("{id}-{}", identity(&view));
            let placed = placed(&id, &title, &view, &found, &opened(&view), set);
            match view.looked {
                Looked::Finished => main.push(placed),
                Looked::Machined => parts.push(placed),
                _ => stages.push(placed),
            }
        }
        main.extend(parts.into_iter().reduce(over));
        if !stages.is_empty() {
            rows.push(stages);
        }
    }
    rows.insert(0, main);
    let names: Vec<&str> = of.iter().map(|one| one.title.as_str()).collect();
    Picture {
        title: format!("Section of {}, {}:1", names.join(", "), number(set.scale)),
        description: told.join(" "),
        ..arranged(rows, set.row)
    }
}

fn named(of: &SectionOf<'_>) -> String {
    match of.evaluation.band.title() {
        Some(title) => format!("{}: {title}", of.title),
        None => of.title.clone(),
    }
}

/// The figures of a view; none for a stage.
fn dimensions(evaluation: &Evaluation, view: &SectionView) -> Dimensions {
    let part = view.outlines.first().map(|outline| outline.part);
    let mut found = match (view.looked, part) {
        (Looked::Finished, _) => figures::finished(evaluation),
        (Looked::Machined, Some(Part::Shell)) => machined::shell(evaluation),
        (Looked::Machined, Some(Part::Sleeve)) => machined::sleeve(evaluation),
        (Looked::Machined, Some(Part::Band)) => machined::band(evaluation),
        _ => Dimensions::default(),
    };
    let wide = |along: &Along| along.to - along.from;
    found
        .along
        .sort_by(|one, other| wide(one).total_cmp(&wide(other)));
    found
}

/// What a view is called.
fn titled(band: Option<&str>, view: &SectionView) -> String {
    let part = view.outlines.first().map(|outline| part_word(outline.part));
    let what = match (view.looked, part) {
        (Looked::Machined, Some(part)) => format!("{part} as machined"),
        (looked, _) => word(looked).to_owned(),
    };
    match band {
        Some(band) => format!("{band}, {what}"),
        None => what,
    }
}

fn word(looked: Looked) -> &'static str {
    match looked {
        Looked::Finished => "finished",
        Looked::Machined => "machined",
        Looked::Loose => "loose",
        Looked::Catching => "catching from here",
        Looked::Turning => "turning from here",
        Looked::Seated => "seated",
        Looked::Fixed => "opened past touch",
        Looked::Done => "opened to size",
    }
}

/// A word for an id.
fn identity(view: &SectionView) -> String {
    let part = view.outlines.first().map(|outline| part_word(outline.part));
    let what = match view.looked {
        Looked::Machined => return format!("machined-{}", part.unwrap_or("part")),
        Looked::Finished => "finished",
        Looked::Loose => "loose",
        Looked::Catching => "catching",
        Looked::Turning => "turning",
        Looked::Seated => "seated",
        Looked::Fixed => "fixed",
        Looked::Done => "done",
    };
    what.to_owned()
}

/// Bore and mandrel of a stage.
fn opened(view: &SectionView) -> Vec<String> {
    let Some(at) = &view.opened else {
        return Vec::new();
    };
    let mandrel = at.mandrel.map_or_else(
        || "mandrel not known".to_owned(),
        |mandrel| format!("mandrel \u{D8} {}", number(mandrel)),
    );
    vec![format!("released \u{D8} {}", number(at.bore)), mandrel]
}

/// A view in words.
fn described(title: &str, found: &Dimensions, view: &SectionView) -> String {
    let pointed = found.across.iter().chain(&found.walls);
    let figures = pointed.map(|one| one.text.clone());
    let along = found.along.iter().map(|one| one.text.clone());
    let rest = found.notes.iter().cloned().chain(opened(view));
    let all: Vec<String> = figures.chain(along).chain(rest).collect();
    match all.is_empty() {
        true => format!("{title}."),
        false => format!("{title}: {}.", all.join(", ")),
    }
}

/// One view over another.
fn over(upper: Placed, lower: Placed) -> Placed {
    let (width, height) = (
        upper.width.max(lower.width),
        upper.height + BETWEEN + lower.height,
    );
    let mut panels = upper.moved(0.0, lower.height + BETWEEN).panels;
    panels.extend(lower.panels);
    Placed {
        panels,
        width,
        height,
    }
}

/// Views side by side in rows, broken where one gets too long.
fn arranged(rows: Vec<Vec<Placed>>, row: f64) -> Picture {
    let mut lines: Vec<(Vec<Placed>, f64)> = Vec::new();
    for views in rows.into_iter().filter(|views| !views.is_empty()) {
        let mut line: (Vec<Placed>, f64) = (Vec::new(), 0.0);
        for view in views {
            let longer = line.1 + BETWEEN + view.width;
            if !line.0.is_empty() && longer > row {
                lines.push(std::mem::take(&mut line));
            }
            line.1 += view.width + if line.0.is_empty() { 0.0 } else { BETWEEN };
            line.0.push(view);
        }
        lines.push(line);
    }
    let tall = |line: &[Placed]| line.iter().map(|view| view.height).fold(0.0, f64::max);
    let width = lines.iter().map(|line| line.1).fold(0.0, f64::max);
    let height: f64 = lines.iter().map(|(line, _)| tall(line) + BETWEEN).sum();
    let mut panels = Vec::new();
    let mut top = height;
    for (line, _) in lines {
        let mut x = 0.0;
        let high = tall(&line);
        for view in line {
            let (wide, y) = (view.width, top - view.height);
            panels.extend(view.moved(x, y).panels);
            x += wide + BETWEEN;
        }
        top -= high + BETWEEN;
    }
    Picture {
        width,
        height,
        panels,
        ..Picture::default()
    }
}

/// The picture with its name above and what holds of all figures below; one with a name stands alone, with a margin.
fn framed(picture: Picture, title: Option<&str>, told: &[String], set: Setting) -> Picture {
    let (size, each) = (set.letters, 1.8 * set.letters);
    let margin = if title.is_some() { MARGIN } else { 0.0 };
    let large = 1.6 * size;
    let widest = told.iter().map(|line| measured(line, size, false));
    let widest = widest.chain(title.map(|title| measured(title, large, true)));
    let width = widest.map(|wide| WIDER * wide).fold(0.0, f64::max);
    let width = match title {
        Some(_) => width.max(picture.width),
        None => picture.width,
    };
    let bottom = margin + each * told.len() as f64;
    let height = bottom + picture.height;
    let mut frame = Panel {
        id: "frame".to_owned(),
        title: "name and scale".to_owned(),
        ..Panel::default()
    };
    let mut say = |y: f64, text: &str, size: f64, bold: bool| {
        let at = Spot::at(margin, y);
        frame.signs.push(words(at, text, size, Anchor::Start, bold));
    };
    if let Some(title) = title {
        say(height + 4.0, title, large, true);
    }
    for (place, line) in told.iter().enumerate() {
        say(
            bottom - each * (place as f64 + 1.0) + 1.0,
            line,
            size,
            false,
        );
    }
    let mut panels: Vec<Panel> = picture
        .panels
        .into_iter()
        .map(|panel| panel.moved(margin, bottom))
        .collect();
    panels.push(frame);
    let head = if title.is_some() { 4.0 + large } else { 0.0 };
    Picture {
        width: width + 2.0 * margin,
        height: height + head + margin,
        panels,
        ..picture
    }
}

/// Sections as text, so many columns wide: a sketch of each band, and the figures of its views.
#[must_use]
pub fn section_text(of: &[SectionOf<'_>], kinds: SectionKinds, columns: usize) -> String {
    let mut text = String::new();
    for one in of {
        if !text.is_empty() {
            text.push('\n');
        }
        text.push_str(&format!("{}; lengths in mm, to a micrometre\n", named(one)));
        for view in section_views(one.evaluation) {
            if !kinds.has(view.looked) {
                continue;
            }
            text.push_str(&format!("\n  {}\n", titled(None, &view)));
            if view.looked == Looked::Finished {
                let shape = &one.evaluation.input.shape;
                let drawn = sketch(shape, columns.saturating_sub(8).clamp(24, 64), 24);
                for line in &drawn.lines {
                    text.push_str(format!("    {line}").trim_end());
                    text.push('\n');
                }
                let legend = drawn.legend();
                if !legend.is_empty() {
                    text.push_str(&format!("    {legend}\n"));
                }
                if drawn.stretched > 1.0 {
                    let times = number((drawn.stretched * 10.0).round() / 10.0);
                    text.push_str(&format!("    heights drawn {times} times\n"));
                }
                text.push('\n');
            }
            let found = dimensions(one.evaluation, &view);
            let pointed = found.across.iter().chain(&found.walls);
            let figures = pointed.map(|one| one.text.clone());
            let along = found.along.iter().map(|one| one.text.clone());
            for line in figures.chain(along).chain(found.notes.iter().cloned()) {
                text.push_str(&format!("    {line}\n"));
            }
            for line in opened(&view) {
                text.push_str(&format!("    {line}\n"));
            }
        }
    }
    text
}
