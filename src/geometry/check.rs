//! A band's written lengths to a [`Shape`], and what is impossible about it as findings in the recipe.

use std::sync::Arc;

use crate::finding::Finding;
use crate::model::{self, Band, FieldValue};

use super::curve::Piece;
use super::error::GeometryError;
use super::impossible::{Impossible, fitting, impossible, mm};
use super::shape::{Catch, Cut, Hollow, Outside, Shape};

/// The shape of a band, each length and ratio as `read` gives it from its field and nominal value.
#[must_use]
pub fn shape_of(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64) -> Shape {
    let of = |path: &str, nominal: f64| {
        band.field(path)
            .map_or(nominal, |field| read(field, nominal))
    };
    let comfort = of("comfort", band.comfort.to_mm());
    let bore = of("size", band.inside.diameter.to_f64());
    let thickness = match band.field("outside") {
        Some(field) if band.field("thickness").is_none() => {
            (read(field, bore + 2.0 * band.thickness.to_mm()) - bore) / 2.0
        }
        _ => of("thickness", band.thickness.to_mm()),
    };
    Shape {
        radius: bore / 2.0,
        width: of("width", band.width.to_mm()),
        thickness,
        comfort,
        outside: outside(band, &of),
        ease_outer: of("ease.outer", band.ease_outer.to_mm()),
        ease_bore: of("ease.bore", band.ease_bore.to_mm()),
        cut: band.pattern.map(|pattern| {
            let depth = of("pattern.depth", pattern.depth.to_mm());
            let mean_depth = match band.field("pattern.mean-depth") {
                Some(field) => read(field, pattern.mean_depth.to_mm()),
                None => depth,
            };
            Cut {
                depth,
                mean_depth,
                cover: of("pattern.cover", pattern.cover.to_one()),
            }
        }),
        hollow: band.hollow.as_ref().map(|hollow| parts(hollow, &of)),
    }
}

fn outside(band: &Band, of: &dyn Fn(&str, f64) -> f64) -> Outside {
    match &band.profile {
        model::Profile::Flat => Outside::Flat,
        model::Profile::Domed { edge } => Outside::Domed {
            edge: of("profile.edge", edge.to_mm()),
        },
        model::Profile::Bevelled { across, down } => Outside::Bevelled {
            across: of("profile.across", across.to_mm()),
            down: of("profile.down", down.to_mm()),
        },
        model::Profile::KnifeEdge { edge, crown } => Outside::KnifeEdge {
            edge: of("profile.edge", edge.to_mm()),
            crown: of("profile.crown", crown.to_mm()),
        },
        model::Profile::Concave { dip } => Outside::Concave {
            dip: of("profile.dip", dip.to_mm()),
        },
        model::Profile::Custom(outline) => {
            let pieces: Arc<[Piece]> = outline.runs.iter().map(piece).collect();
            Outside::Custom(pieces)
        }
    }
}

/// A run of an outline as a piece of a curve.
fn piece(run: &model::Run) -> Piece {
    let point = |(x, y): (f64, f64)| super::curve::Point { x, y };
    Piece {
        from: point(run.from),
        to: point(run.to),
        radius: run.radius,
    }
}

fn parts(hollow: &model::Hollow, of: &dyn Fn(&str, f64) -> f64) -> Hollow {
    let catch = match hollow.catch {
        model::Catch::None => Catch::None,
        model::Catch::Ridge {
            height,
            wide,
            count,
            play,
        } => Catch::Ridge {
            height: of("hollow.ridge", height.to_mm()),
            wide: of("hollow.ridge.wide", wide.to_mm()),
            two: count == 2,
            play: of("hollow.ridge.play", play.to_mm()),
        },
        model::Catch::Lip { height, wide, play } => Catch::Lip {
            height: of("hollow.lip", height.to_mm()),
            wide: of("hollow.lip.wide", wide.to_mm()),
            play: of("hollow.lip.play", play.to_mm()),
        },
    };
    Hollow {
        wall: hollow
            .wall
            .map_or(0.0, |wall| of("hollow.shell", wall.to_mm())),
        roof: hollow.roof,
        nose: of("hollow.shell.nose", hollow.nose.to_mm()),
        sleeve: of("hollow.sleeve", hollow.sleeve.to_mm()),
        relief: hollow
            .relief
            .map(|wall| of("hollow.sleeve.relief", wall.to_mm())),
        catch,
        play: hollow
            .running_play
            .map_or(0.0, |play| of("hollow.stage.play", play.to_mm())),
    }
}

impl Shape {
    /// The shape with one field changed; the same shape where it has no such field.
    #[must_use]
    pub fn with(&self, path: &str, value: f64) -> Self {
        let mut shape = self.clone();
        match (path, &mut shape.outside) {
            ("profile.edge", Outside::Domed { edge } | Outside::KnifeEdge { edge, .. }) => {
                *edge = value
            }
            ("profile.across", Outside::Bevelled { across, .. }) => *across = value,
            ("profile.down", Outside::Bevelled { down, .. }) => *down = value,
            ("profile.crown", Outside::KnifeEdge { crown, .. }) => *crown = value,
            ("profile.dip", Outside::Concave { dip }) => *dip = value,
            _ => {}
        }
        match (path, &mut shape.cut) {
            ("pattern.depth", Some(cut)) => {
                // A mean depth that is not stated of its own follows the depth.
                if cut.mean_depth == cut.depth {
                    cut.mean_depth = value;
                }
                cut.depth = value;
            }
            ("pattern.mean-depth", Some(cut)) => cut.mean_depth = value,
            _ => {}
        }
        match path {
            "thickness" => shape.thickness = value,
            "comfort" => shape.comfort = value,
            "ease.outer" => shape.ease_outer = value,
            "ease.bore" => shape.ease_bore = value,
            _ => {}
        }
        if let Some(hollow) = &mut shape.hollow {
            match (path, &mut hollow.catch) {
                ("hollow.shell", _) => hollow.wall = value,
                ("hollow.shell.nose", _) => hollow.nose = value,
                ("hollow.sleeve", _) => hollow.sleeve = value,
                ("hollow.sleeve.relief", _) => hollow.relief = Some(value),
                (
                    "hollow.ridge" | "hollow.lip",
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => *height = value,
                (
                    "hollow.ridge.wide" | "hollow.lip.wide",
                    Catch::Ridge { wide, .. } | Catch::Lip { wide, .. },
                ) => *wide = value,
                _ => {}
            }
        }
        shape
    }

    /// The present value of a field that [`Shape::with`] can change.
    #[must_use]
    pub fn field(&self, path: &str) -> Option<f64> {
        Some(self.value(path)).filter(|value| *value > 0.0)
    }

    /// The present value of a field; 0 where it has none.
    fn value(&self, path: &str) -> f64 {
        match (path, &self.outside, &self.cut, &self.hollow) {
            ("profile.edge", Outside::Domed { edge } | Outside::KnifeEdge { edge, .. }, ..) => {
                *edge
            }
            ("profile.across", Outside::Bevelled { across, .. }, ..) => *across,
            ("profile.down", Outside::Bevelled { down, .. }, ..) => *down,
            ("profile.crown", Outside::KnifeEdge { crown, .. }, ..) => *crown,
            ("profile.dip", Outside::Concave { dip }, ..) => *dip,
            ("pattern.depth", _, Some(cut), _) => cut.depth,
            ("pattern.mean-depth", _, Some(cut), _) => cut.mean_depth,
            // It follows from a custom outline, and cannot be changed alone.
            ("thickness", Outside::Custom(_), ..) => 0.0,
            ("thickness", ..) => self.thickness,
            ("comfort", ..) => self.comfort,
            ("ease.outer", ..) => self.ease_outer,
            ("ease.bore", ..) => self.ease_bore,
            ("hollow.shell", .., Some(hollow)) => hollow.wall,
            ("hollow.shell.nose", .., Some(hollow)) => hollow.nose,
            ("hollow.sleeve", .., Some(hollow)) => hollow.sleeve,
            ("hollow.sleeve.relief", .., Some(hollow)) => hollow.relief.unwrap_or(0.0),
            (path, .., Some(hollow)) => match (path, hollow.catch) {
                (
                    "hollow.ridge" | "hollow.lip",
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => height,
                (
                    "hollow.ridge.wide" | "hollow.lip.wide",
                    Catch::Ridge { wide, .. } | Catch::Lip { wide, .. },
                ) => wide,
                _ => 0.0,
            },
            _ => 0.0,
        }
    }
}

/// Reports what makes a band impossible; nothing may be computed when it reports anything.
#[must_use]
pub fn check(band: &Band) -> Vec<Finding> {
    let shape = shape_of(band, &|_, nominal| nominal);
    let mut findings = over_stated(band, &shape);
    if findings.is_empty() {
        findings.extend(
            impossible(&shape)
                .into_iter()
                .map(|problem| finding(band, &shape, &problem)),
        );
    }
    findings
}

/// The finding of one broken bound, with a value that would fit.
fn finding(band: &Band, shape: &Shape, problem: &Impossible) -> Finding {
    let path = problem.path;
    let limit = band.least_wall.to_mm();
    let current = shape.value(path);
    // Best is a value that leaves every wall as thick as wanted; else any that makes the band possible.
    let sound = |value: f64| {
        let changed = shape.with(path, value);
        impossible(&changed).is_empty()
            && super::bodies::bodies(&changed).least_wall() >= limit - 1e-9
    };
    let possible = |value: f64| impossible(&shape.with(path, value)).is_empty();
    let zero = path == "comfort" && possible(0.0);
    let fits = (current > 0.0)
        .then(|| {
            fitting(problem.less, current, sound)
                .or_else(|| fitting(problem.less, current, possible))
        })
        .flatten();
    let fits = fits.or(zero.then_some(0.0)).map(mm);
    let word = path.rsplit('.').next().unwrap_or(path);
    let help = match &fits {
        Some(fits) => format!("`{word} {fits}` would just fit"),
        None => {
            "no other value of this field alone would fit; change the lengths it is compared with"
                .to_owned()
        }
    };
    let label = problem.bound.clone();
    let at = match (&band.profile, problem.x) {
        (model::Profile::Custom(outline), Some(x)) if path == "profile" => {
            outline.place(x).unwrap_or_else(|| band.place(path))
        }
        _ => band.place(path),
    };
    GeometryError::DoesNotFit {
        at,
        message: problem.message.clone(),
        label,
        help,
    }
    .into()
}

/// Lengths that follow from others, and are stated all the same.
fn over_stated(band: &Band, shape: &Shape) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut compare = |second: &'static str, first: &'static str, stated: f64, follows: f64| {
        if (stated - follows).abs() > 1e-9 {
            let name = |path: &'static str| path.rsplit('.').next().unwrap_or(path);
            findings.push(
                GeometryError::OverStated {
                    second: band.place(second),
                    first: band.place(first),
                    first_name: name(first),
                    second_name: name(second),
                    message: format!("{} is stated, and {} follows", mm(stated), mm(follows)),
                    fits: format!("{} {}", name(second), mm(follows)),
                }
                .into(),
            );
        }
    };
    if let (Some(outside), Some(_)) = (band.length("outside"), band.field("thickness")) {
        compare(
            "outside",
            "thickness",
            outside,
            2.0 * (shape.radius + shape.thickness),
        );
    }
    if let Some(edge) = band.length("profile.edge") {
        let follows = match &shape.outside {
            Outside::Flat | Outside::Concave { .. } => Some(shape.thickness - shape.comfort),
            Outside::Bevelled { down, .. } => Some(shape.thickness - down - shape.comfort),
            Outside::Domed { .. } | Outside::KnifeEdge { .. } | Outside::Custom(_) => None,
        };
        if let Some(follows) = follows {
            compare("profile.edge", "thickness", edge, follows);
        }
    }
    if let Outside::Custom(pieces) = &shape.outside {
        let crown = pieces
            .iter()
            .map(|piece| piece.extreme(true).y)
            .fold(f64::NEG_INFINITY, f64::max);
        for stated in ["thickness", "outside"] {
            if let Some(value) = band.length(stated) {
                let follows = if stated == "outside" {
                    2.0 * (shape.radius + crown)
                } else {
                    crown
                };
                compare(stated, "profile", value, follows);
            }
        }
    }
    findings
}
