//! A view of a section laid out on paper: the section, its figures round it, its name above it.

use crate::drawing::{
    Anchor, Bend, Hatching, Ink, Lettering, Panel, Region, Sign, Spot, Trace, measured,
};
use crate::explore::SectionView;
use crate::kernel::lathe::{OutlineSide, Part, SectionOutline};
use crate::kernel::section::curve::Point;

use super::figures::{Along, Dimensions, Pointed};

/// Panels with the room that they take, from 0, mm on paper.
pub(super) struct Placed {
    pub panels: Vec<Panel>,
    pub width: f64,
    pub height: f64,
}

impl Placed {
    /// The same elsewhere.
    pub fn moved(self, x: f64, y: f64) -> Self {
        let panels = self.panels.into_iter().map(|panel| panel.moved(x, y));
        Self {
            panels: panels.collect(),
            ..self
        }
    }
}

/// How views are set on paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    /// mm on paper for each mm.
    pub scale: f64,
    /// Height of letters, mm.
    pub letters: f64,
    /// Arcs and the like stand below each view.
    pub notes: bool,
    /// Width of a row that is not broken, mm.
    pub row: f64,
}

impl Setting {
    /// Distance of lines of text, mm.
    fn line(self) -> f64 {
        1.5 * self.letters
    }

    /// Distance of dimension lines, mm.
    fn stacked(self) -> f64 {
        2.1 * self.letters
    }
}

/// Readers that lack the font take a wider one.
pub(super) const WIDER: f64 = 1.18;

/// From the section to where labels begin, mm.
const LEADER: f64 = 9.0;

/// What a part is called.
pub(super) fn part_word(part: Part) -> &'static str {
    match part {
        Part::Band => "band",
        Part::Shell => "shell",
        Part::Sleeve => "sleeve",
    }
}

fn spot(at: Point) -> Spot {
    Spot::at(at.x, at.y)
}

fn bends(sides: &[OutlineSide]) -> Vec<Bend> {
    let bend = |side: &OutlineSide| Bend {
        to: spot(side.to),
        bulge: side.bulge,
    };
    sides.iter().map(bend).collect()
}

/// The outline of a part as what is drawn.
fn region(outline: &SectionOutline) -> Region {
    let word = part_word(outline.part);
    Region {
        id: word.to_owned(),
        title: word.to_owned(),
        trace: Trace {
            from: spot(outline.from),
            bends: bends(&outline.sides),
            closed: true,
        },
        hatching: match outline.part {
            Part::Sleeve => Hatching::Falling,
            Part::Band | Part::Shell => Hatching::Rising,
        },
    }
}

/// The least and the greatest places of outlines; arcs by their middles and quarters, which miss a bulge by less than
/// a line is wide.
fn extent(outlines: &[SectionOutline]) -> (Spot, Spot) {
    let mut low = Spot::at(f64::INFINITY, f64::INFINITY);
    let mut high = Spot::at(f64::NEG_INFINITY, f64::NEG_INFINITY);
    let mut see = |at: Spot| {
        low = Spot::at(low.x.min(at.x), low.y.min(at.y));
        high = Spot::at(high.x.max(at.x), high.y.max(at.y));
    };
    for outline in outlines {
        let mut from = spot(outline.from);
        see(from);
        for side in &outline.sides {
            let to = spot(side.to);
            see(to);
            // The middle of an arc lies off the chord's by half a chord times the bulge.
            see(Spot::at(
                (from.x + to.x) / 2.0 + side.bulge * (to.y - from.y) / 2.0,
                (from.y + to.y) / 2.0 - side.bulge * (to.x - from.x) / 2.0,
            ));
            from = to;
        }
    }
    (low, high)
}

/// A line of words.
pub(super) fn words(at: Spot, text: &str, size: f64, anchor: Anchor, bold: bool) -> Sign {
    Sign::Text(Lettering {
        at,
        text: text.to_owned(),
        size,
        anchor,
        bold,
    })
}

fn widest<'a>(texts: impl Iterator<Item = &'a str>, size: f64) -> f64 {
    let widths = texts.map(|text| WIDER * measured(text, size, false));
    widths.fold(0.0, f64::max)
}

/// Lays out a view; `lines` stand below it, beside what its figures have to say.
pub(super) fn placed(
    id: &str,
    title: &str,
    view: &SectionView,
    found: &Dimensions,
    lines: &[String],
    set: Setting,
) -> Placed {
    let (scale, letters) = (set.scale, set.letters);
    let (low, high) = extent(&view.outlines);
    let (wide, tall) = (scale * (high.x - low.x), scale * (high.y - low.y));
    let column = |all: &[Pointed]| match all.is_empty() {
        true => 2.0,
        false => LEADER + widest(all.iter().map(|one| one.text.as_str()), letters),
    };
    let (left, right) = (column(&found.walls), column(&found.across));
    let notes = found.notes.iter().filter(|_| set.notes);
    let texts: Vec<&String> = notes.chain(lines).collect();
    let below = widest(texts.iter().map(|text| text.as_str()), letters);
    let heading = WIDER * measured(title, 1.2 * letters, true);
    let width = (left + wide + right).max(below + 4.0).max(heading + 4.0);
    // What is narrower than its words stands over their middle.
    let slack = (width - left - wide - right) / 2.0;
    let noted = set.line() * texts.len() as f64;
    let stack = set.stacked() * found.along.len() as f64;
    let needed = set.line() * found.walls.len().max(found.across.len()) as f64;
    let spare = ((needed - tall) / 2.0).max(0.0);
    let base = noted + stack + spare + 3.0;
    let mut panel = Panel {
        id: id.to_owned(),
        title: title.to_owned(),
        origin: Spot::at(left + slack - scale * low.x, base - scale * low.y),
        scale,
        regions: view.outlines.iter().map(region).collect(),
        ..Panel::default()
    };
    if let Some((from, sides)) = &view.cut {
        let trace = Trace {
            from: spot(*from),
            bends: bends(sides),
            closed: false,
        };
        panel.lines.push((trace, Ink::Dashed));
    }
    let (foot, head) = (base - 2.0, base + tall + 2.0);
    let middle = panel.on_paper(0.0, 0.0).x;
    let centre = Trace::straight(&[Spot::at(middle, foot), Spot::at(middle, head)]);
    panel.signs.push(Sign::Line(centre, Ink::Centre));
    let edges = (left + slack, left + slack + wide);
    labels(&mut panel, &found.across, edges.1, 1.0, set);
    labels(&mut panel, &found.walls, edges.0, -1.0, set);
    for (place, along) in found.along.iter().enumerate() {
        dimension(
            &mut panel,
            along,
            base,
            base - 3.0 - spare - set.stacked() * (place as f64 + 0.6),
            letters,
        );
    }
    for (place, text) in texts.iter().enumerate() {
        let y = noted - set.line() * (place as f64 + 1.0) + 1.2;
        panel
            .signs
            .push(words(Spot::at(2.0, y), text, letters, Anchor::Start, false));
    }
    let top = base + tall + spare + 5.0;
    panel.signs.push(words(
        Spot::at(2.0, top),
        title,
        1.2 * letters,
        Anchor::Start,
        true,
    ));
    Placed {
        panels: vec![panel],
        width,
        height: top + 5.0,
    }
}

/// Figures in a column beside the section, each with a leader to its place.
fn labels(panel: &mut Panel, all: &[Pointed], edge: f64, side: f64, set: Setting) {
    let letters = set.letters;
    let mut all: Vec<(&Pointed, Spot)> = all
        .iter()
        .map(|one| (one, panel.on_paper(one.x, one.y)))
        .collect();
    all.sort_by(|(_, one), (_, other)| one.y.total_cmp(&other.y));
    let natural: Vec<f64> = all.iter().map(|(_, at)| at.y).collect();
    for ((one, at), y) in all.into_iter().zip(spread(&natural, set.line())) {
        let (bend, end) = (edge + side * 3.5, edge + side * (LEADER - 1.5));
        let mut places = vec![at];
        // Diameters run level to beyond the face first; walls go straight to their place.
        if side > 0.0 {
            places.push(Spot::at(edge + 1.0, at.y));
        }
        places.extend([Spot::at(bend, y), Spot::at(end, y)]);
        panel
            .signs
            .push(Sign::Line(Trace::straight(&places), Ink::Narrow));
        panel.signs.push(Sign::Dot(at));
        let anchor = if side > 0.0 {
            Anchor::Start
        } else {
            Anchor::End
        };
        let text = Spot::at(edge + side * (LEADER - 0.7), y - 0.35 * letters);
        panel
            .signs
            .push(words(text, &one.text, letters, anchor, false));
    }
}

/// Heights that keep apart, as near to those wanted as may be: what would overlap is set about its middle.
fn spread(natural: &[f64], line: f64) -> Vec<f64> {
    let mut groups: Vec<(f64, usize)> = Vec::new();
    for y in natural {
        groups.push((*y, 1));
        while let [.., (below, under), (above, over)] = groups.as_slice() {
            let (under, over) = (*under as f64, *over as f64);
            if above - below >= line * (under + over) / 2.0 {
                break;
            }
            let middle = (below * under + above * over) / (under + over);
            groups.truncate(groups.len() - 2);
            groups.push((middle, (under + over) as usize));
        }
    }
    let each = groups.iter().flat_map(|(middle, count)| {
        let first = middle - line * (*count as f64 - 1.0) / 2.0;
        (0..*count).map(move |place| first + line * place as f64)
    });
    each.collect()
}

/// A dimension along the axis, on its own line below the section.
fn dimension(panel: &mut Panel, along: &Along, base: f64, y: f64, letters: f64) {
    let (from, to) = (
        panel.on_paper(along.from, 0.0).x,
        panel.on_paper(along.to, 0.0).x,
    );
    for x in [from, to] {
        let extension = Trace::straight(&[Spot::at(x, base - 1.0), Spot::at(x, y - 1.0)]);
        panel.signs.push(Sign::Line(extension, Ink::Narrow));
    }
    let wide = WIDER * measured(&along.text, letters, false);
    let inside = to - from >= wide + 6.0;
    // Short ones have their arrows from outside.
    let (out, way) = if to - from < 6.0 {
        (4.0, -1.0)
    } else {
        (0.0, 1.0)
    };
    let line = Trace::straight(&[Spot::at(from - out, y), Spot::at(to + out, y)]);
    panel.signs.push(Sign::Line(line, Ink::Narrow));
    panel
        .signs
        .push(Sign::Arrow(Spot::at(from, y), Spot::at(-way, 0.0)));
    panel
        .signs
        .push(Sign::Arrow(Spot::at(to, y), Spot::at(way, 0.0)));
    let (x, y, anchor) = match inside {
        true => ((from + to) / 2.0, y + 0.8, Anchor::Middle),
        false => (to + out + 1.5, y - 0.35 * letters, Anchor::Start),
    };
    panel
        .signs
        .push(words(Spot::at(x, y), &along.text, letters, anchor, false));
}
