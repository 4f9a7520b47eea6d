//! What a drawing of a section says in figures: diameters, walls, lengths along the axis, arcs, each with its `±`.

use crate::evaluate::{Evaluation, spread};
use crate::kernel::section::curve::height;
use crate::kernel::section::{Catch, Cavity, Hollow, Roof};
use crate::quantity::Number;
use crate::report::number::{Digits, shown};
use crate::schema::ResultId;

/// A figure that points to a place of the section; lengths in mm, `x` along the axis, `y` the radius.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pointed {
    pub text: String,
    pub x: f64,
    pub y: f64,
}

/// A figure between two places along the axis, mm.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Along {
    pub text: String,
    pub from: f64,
    pub to: f64,
}

/// The figures of a view.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Dimensions {
    /// Diameters.
    pub across: Vec<Pointed>,
    /// Walls, heights and depths.
    pub walls: Vec<Pointed>,
    /// Lengths along the axis, the shortest first.
    pub along: Vec<Along>,
    /// What is said of the whole.
    pub notes: Vec<String>,
}

/// Diameters closer than this are one, mm.
const SAME: f64 = 1e-6;

/// Reads figures with their deviations.
pub(super) struct Reader<'a>(pub &'a Evaluation);

impl Reader<'_> {
    /// A figure, and it as text.
    fn read(&self, read: &dyn Fn(&Evaluation) -> Option<f64>) -> Option<(f64, String)> {
        let value = read(self.0)?;
        let text = number(value);
        let spread = spread(self.0, read);
        let worst = spread.map(|spread| spread.high.max(-spread.low));
        let text = match worst.filter(|worst| *worst > 0.0) {
            Some(worst) => format!("{text} \u{B1} {}", number(worst)),
            None => text,
        };
        Some((value, text))
    }

    pub fn result(&self, id: ResultId) -> Option<(f64, String)> {
        self.read(&|of| of.number(id).map(Number::to_f64))
    }

    /// A length of the finished hollow band.
    fn hollow(&self, read: fn(&Hollow) -> Option<f64>) -> Option<(f64, String)> {
        self.read(&|of| of.input.shape.hollow.as_ref().and_then(read))
    }
}

/// A length as a drawing shows it: to a micrometre.
pub(super) fn number(value: f64) -> String {
    let tidy = (value * 1e9).round() / 1e9;
    shown(Number::Computed(tidy), 3, Digits::Useful).text
}

impl Dimensions {
    pub fn diameter(&mut self, label: &str, x: f64, found: Option<(f64, String)>) {
        if let Some((value, text)) = found {
            self.across.push(Pointed {
                text: format!("{label} \u{D8} {text}"),
                x,
                y: value / 2.0,
            });
        }
    }

    fn wall(&mut self, x: f64, y: f64, text: String) {
        self.walls.push(Pointed { text, x, y });
    }

    pub fn along(&mut self, label: &str, from: f64, to: f64, found: Option<(f64, String)>) {
        if let Some((_, text)) = found {
            self.along.push(Along {
                text: format!("{label} {text}"),
                from,
                to,
            });
        }
    }

    pub fn arc(&mut self, reader: &Reader<'_>, label: &str, radius: ResultId, centre: ResultId) {
        let (radius, centre) = (reader.result(radius), reader.result(centre));
        if let (Some((_, radius)), Some((centre, _))) = (radius, centre) {
            let side = if centre < 0.0 { "beyond" } else { "before" };
            let centre = number(centre.abs());
            self.notes.push(format!(
                "{label} R {radius}, its centre {centre} {side} the finger's axis"
            ));
        }
    }
}

/// Where the outside is largest, the rightmost such place.
fn crown(evaluation: &Evaluation) -> f64 {
    let outside = evaluation.input.shape.outside_curve();
    let tops = outside
        .iter()
        .flat_map(|piece| [piece.extreme(true), piece.to]);
    let top = tops.fold(None, |best: Option<(f64, f64)>, at| match best {
        Some((_, y)) if y > at.y + 1e-9 => best,
        _ => Some((at.x, at.y)),
    });
    top.map_or(0.0, |(x, _)| x)
}

/// The side face at which the outside is lower: -1 the left one, 1 the right one or both.
fn thinner(evaluation: &Evaluation) -> f64 {
    let outside = evaluation.input.shape.outside_curve();
    let ends = outside.first().zip(outside.last());
    match ends.is_some_and(|(first, last)| first.from.y < last.to.y - 1e-9) {
        true => -1.0,
        false => 1.0,
    }
}

pub(super) fn outside(
    found: &mut Dimensions,
    evaluation: &Evaluation,
    half: f64,
    ids: [ResultId; 2],
) {
    let reader = Reader(evaluation);
    let [largest, edge] = ids.map(|id| reader.result(id));
    let scale = half / evaluation.input.shape.half();
    let apart = largest.as_ref().zip(edge.as_ref());
    let lower = apart.is_some_and(|(largest, edge)| largest.0 - edge.0 > SAME);
    found.diameter("outside", crown(evaluation) * scale, largest);
    if lower {
        found.diameter("at the faces", thinner(evaluation) * half, edge);
    }
}

pub(super) fn bore(found: &mut Dimensions, evaluation: &Evaluation, half: f64, ids: [ResultId; 2]) {
    let reader = Reader(evaluation);
    let [least, edge] = ids.map(|id| reader.result(id));
    found.diameter("bore", 0.0, least);
    if evaluation.input.shape.comfort > 0.0 {
        found.diameter("at the faces", half, edge);
    }
}

/// Channel and feet, at the half width and the foot of the state.
pub(super) fn channel(
    found: &mut Dimensions,
    reader: &Reader<'_>,
    half: f64,
    wall: f64,
    ids: [ResultId; 2],
) {
    let [mid, walls] = ids.map(|id| reader.result(id));
    let apart = mid.as_ref().zip(walls.as_ref());
    let curved = apart.is_some_and(|(mid, walls)| (mid.0 - walls.0).abs() > SAME);
    found.diameter(if curved { "channel at mid" } else { "channel" }, 0.0, mid);
    if curved {
        found.diameter("channel at its walls", half - wall, walls);
    }
}

pub(super) fn finished(evaluation: &Evaluation) -> Dimensions {
    let mut found = Dimensions::default();
    let reader = Reader(evaluation);
    let shape = &evaluation.input.shape;
    let (half, radius) = (shape.half(), shape.radius);
    outside(
        &mut found,
        evaluation,
        half,
        [ResultId::Outside, ResultId::EdgeOutside],
    );
    bore(
        &mut found,
        evaluation,
        half,
        [ResultId::Bore, ResultId::EdgeBore],
    );
    let curve = shape.outside_curve();
    let roof_at = |x: f64| radius + height(&curve, x);
    if let Some((depth, text)) = reader.read(&|of| of.input.shape.cut.map(|cut| cut.depth)) {
        let x = -0.75 * half;
        found.wall(x, roof_at(x) - depth, format!("cut {text} deep"));
    }
    if let Some((thick, text)) = reader.read(&|of| Some(of.input.shape.thickness)) {
        match shape.hollow {
            None => {
                let x = -0.1 * half;
                found.wall(x, radius + thick / 2.0, format!("thickness {text}"));
            }
            Some(_) => found
                .notes
                .push(format!("thickness {text}, radial, at the crown")),
        }
    }
    if let Some((thick, text)) = reader.result(ResultId::EdgeThickness) {
        let x = 0.98 * half * thinner(evaluation);
        match shape.hollow {
            None if thick < shape.thickness - SAME => {
                let y = radius + shape.comfort + thick / 2.0;
                found.wall(-x.abs(), y, format!("edge {text}"));
            }
            _ => {}
        }
    }
    found.along(
        "width",
        -half,
        half,
        reader.read(&|of| Some(of.input.shape.width)),
    );
    if let Some(hollow) = &shape.hollow {
        parts(&mut found, evaluation, hollow);
    }
    for (label, radius, centre) in [
        (
            "outside's arc",
            ResultId::CurveDomeRadius,
            ResultId::CurveDomeCentre,
        ),
        (
            "roof's arc",
            ResultId::CurveRoofRadius,
            ResultId::CurveRoofCentre,
        ),
        (
            "comfort bore's arc",
            ResultId::CurveComfortRadius,
            ResultId::CurveComfortCentre,
        ),
    ] {
        found.arc(&reader, label, radius, centre);
    }
    broken(&mut found, evaluation);
    found
}

fn broken(found: &mut Dimensions, evaluation: &Evaluation) {
    let shape = &evaluation.input.shape;
    if shape.ease_outer > 0.0 || shape.ease_bore > 0.0 {
        let (outer, bore) = (number(shape.ease_outer), number(shape.ease_bore));
        found.notes.push(format!(
            "edges broken: {outer} outside, {bore} in the bore, both legs"
        ));
    }
}

/// Shell, sleeve and what catches, in the finished ring.
fn parts(found: &mut Dimensions, evaluation: &Evaluation, hollow: &Hollow) {
    let reader = Reader(evaluation);
    let shape = &evaluation.input.shape;
    let (half, radius) = (shape.half(), shape.radius);
    let curve = shape.outside_curve();
    channel(
        found,
        &reader,
        half,
        hollow.wall,
        [ResultId::ChannelAtMid, ResultId::ChannelAtWalls],
    );
    let foot = |side: f64| side * (half - hollow.wall / 2.0);
    if hollow.play > 0.0 {
        found.diameter("feet", foot(1.0), reader.result(ResultId::FootBore));
        let floor = reader.read(&|of| {
            let shape = &of.input.shape;
            Some(2.0 * (shape.radius + shape.hollow?.sleeve))
        });
        found.diameter("sleeve", 0.0, floor);
    } else {
        found.diameter("feet on sleeve", half, reader.result(ResultId::FootBore));
    }
    let x = -0.45 * half;
    if hollow.roof == Roof::Full {
        found
            .notes
            .push("the shell is solid down to the sleeve".to_owned());
    } else if let Some((wall, text)) = reader.hollow(|hollow| Some(hollow.wall)) {
        let y = radius + height(&curve, x) - wall / 2.0;
        found.wall(x, y, format!("shell wall {text}"));
    }
    if let Some((thick, text)) = reader.hollow(|hollow| Some(hollow.sleeve)) {
        found.wall(-0.2 * half, radius + thick / 2.0, format!("sleeve {text}"));
    }
    if let Some((_, text)) = reader.hollow(|hollow| hollow.relief) {
        found
            .notes
            .push(format!("sleeve turned down to {text} between the feet"));
    }
    if hollow.nose > 0.0 {
        found
            .notes
            .push(format!("channel's corners R {}", number(hollow.nose)));
    }
    let cavity = (hollow.roof != Roof::Full)
        .then(|| Cavity::of(shape, hollow, &curve))
        .flatten();
    if let Some(cavity) = &cavity {
        let feet = reader
            .result(ResultId::FootLeft)
            .zip(reader.result(ResultId::FootRight));
        if let Some(((left, text), (right, other))) = feet {
            found.along("foot", -half, cavity.left, Some((left, text)));
            if (left - right).abs() > SAME {
                found.along("foot", cavity.right, half, Some((right, other)));
            }
        }
        let wide = reader.read(&|of| {
            let left = of.number(ResultId::FootLeft)?.to_f64();
            let right = of.number(ResultId::FootRight)?.to_f64();
            Some(of.input.shape.width - left - right)
        });
        found.along("channel", cavity.left, cavity.right, wide);
    }
    match hollow.catch {
        Catch::None => {}
        Catch::Ridge { height, wide, .. } => {
            let top = reader.read(&|of| {
                let shape = &of.input.shape;
                let hollow = shape.hollow?;
                let Catch::Ridge { height, .. } = hollow.catch else {
                    return None;
                };
                Some(2.0 * (shape.radius + hollow.sleeve + height))
            });
            let ridges = cavity
                .map(|cavity| cavity.ridges(hollow))
                .unwrap_or_default();
            let ends = ridges.first().zip(ridges.last());
            let Some(((left, to), (right, _))) = ends else {
                return;
            };
            found.diameter("ridge", right + wide / 2.0, top);
            let high = reader.hollow(|hollow| match hollow.catch {
                Catch::Ridge { height, .. } => Some(height),
                _ => None,
            });
            if let Some((_, text)) = high {
                let y = radius + hollow.sleeve + height / 2.0;
                found.wall(left + wide / 2.0, y, format!("ridge {text} high"));
            }
            let broad = reader.hollow(|hollow| match hollow.catch {
                Catch::Ridge { wide, .. } => Some(wide),
                _ => None,
            });
            found.along("ridge", *left, *to, broad);
            let from = reader.result(ResultId::RidgeFromFace);
            found.along("to the ridge", -half, *left, from);
        }
        Catch::Lip { height, wide, .. } => {
            let lip = reader.read(&|of| {
                let shape = &of.input.shape;
                let hollow = shape.hollow?;
                let Catch::Lip { height, .. } = hollow.catch else {
                    return None;
                };
                Some(2.0 * (shape.radius + hollow.sleeve - height))
            });
            found.diameter("lips", half - wide / 2.0, lip);
            let y = radius + hollow.sleeve - height / 2.0;
            found.wall(wide / 2.0 - half, y, format!("lip {} high", number(height)));
            found.along("lip", -half, wide - half, Some((wide, number(wide))));
        }
    }
}
