//! A band's written lengths to a [`Shape`], and what is impossible about it as findings in the recipe.

use crate::schema::FieldId;
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
    let of = |field: FieldId, nominal: f64| {
        band.field(field)
            .map_or(nominal, |field| read(field, nominal))
    };
    let comfort = of(FieldId::Comfort, band.comfort.to_mm());
    let nominal = band.inside.diameter.to_f64();
    let bore = of(FieldId::Size, nominal);
    let thickness = match band.field(FieldId::Outside) {
        Some(field) if band.field(FieldId::Thickness).is_none() => {
            // The outside stays where it is stated when the bore is off.
            (read(field, nominal + 2.0 * band.thickness.to_mm()) - bore) / 2.0
        }
        _ => of(FieldId::Thickness, band.thickness.to_mm()),
    };
    Shape {
        radius: bore / 2.0,
        width: of(FieldId::Width, band.width.to_mm()),
        thickness,
        comfort,
        outside: outside(band, &of),
        ease_outer: of(FieldId::EaseOuter, band.ease_outer.to_mm()),
        ease_bore: of(FieldId::EaseBore, band.ease_bore.to_mm()),
        cut: band.pattern.map(|pattern| {
            let depth = of(FieldId::PatternDepth, pattern.depth.to_mm());
            let mean_depth = match band.field(FieldId::PatternMeanDepth) {
                Some(field) => read(field, pattern.mean_depth.to_mm()),
                None => depth,
            };
            Cut {
                depth,
                mean_depth,
                cover: of(FieldId::PatternCover, pattern.cover.to_one()),
            }
        }),
        hollow: band.hollow.as_ref().map(|hollow| parts(hollow, &of)),
    }
}

fn outside(band: &Band, of: &dyn Fn(FieldId, f64) -> f64) -> Outside {
    match &band.profile {
        model::Profile::Flat => Outside::Flat,
        model::Profile::Domed { edge } => Outside::Domed {
            edge: of(FieldId::ProfileEdge, edge.to_mm()),
        },
        model::Profile::Bevelled { across, down } => Outside::Bevelled {
            across: of(FieldId::ProfileAcross, across.to_mm()),
            down: of(FieldId::ProfileDown, down.to_mm()),
        },
        model::Profile::KnifeEdge { edge, crown } => Outside::KnifeEdge {
            edge: of(FieldId::ProfileEdge, edge.to_mm()),
            crown: of(FieldId::ProfileCrown, crown.to_mm()),
        },
        model::Profile::Concave { dip } => Outside::Concave {
            dip: of(FieldId::ProfileDip, dip.to_mm()),
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

fn parts(hollow: &model::Hollow, of: &dyn Fn(FieldId, f64) -> f64) -> Hollow {
    let catch = match hollow.catch {
        model::Catch::None => Catch::None,
        model::Catch::Ridge {
            height,
            wide,
            count,
            play,
        } => Catch::Ridge {
            height: of(FieldId::HollowRidge, height.to_mm()),
            wide: of(FieldId::HollowRidgeWide, wide.to_mm()),
            two: count == 2,
            play: of(FieldId::HollowRidgePlay, play.to_mm()),
        },
        model::Catch::Lip { height, wide, play } => Catch::Lip {
            height: of(FieldId::HollowLip, height.to_mm()),
            wide: of(FieldId::HollowLipWide, wide.to_mm()),
            play: of(FieldId::HollowLipPlay, play.to_mm()),
        },
    };
    Hollow {
        wall: hollow
            .wall
            .map_or(0.0, |wall| of(FieldId::HollowShell, wall.to_mm())),
        roof: hollow.roof,
        nose: of(FieldId::HollowShellNose, hollow.nose.to_mm()),
        sleeve: of(FieldId::HollowSleeve, hollow.sleeve.to_mm()),
        relief: hollow
            .relief
            .map(|wall| of(FieldId::HollowSleeveRelief, wall.to_mm())),
        catch,
        play: hollow
            .running_play
            .map_or(0.0, |play| of(FieldId::HollowStagePlay, play.to_mm())),
    }
}

impl Shape {
    /// The shape with one field changed; the same shape where it has no such field.
    #[must_use]
    pub fn with(&self, field: FieldId, value: f64) -> Self {
        let mut shape = self.clone();
        match (field, &mut shape.outside) {
            (FieldId::ProfileEdge, Outside::Domed { edge } | Outside::KnifeEdge { edge, .. }) => {
                *edge = value
            }
            (FieldId::ProfileAcross, Outside::Bevelled { across, .. }) => *across = value,
            (FieldId::ProfileDown, Outside::Bevelled { down, .. }) => *down = value,
            (FieldId::ProfileCrown, Outside::KnifeEdge { crown, .. }) => *crown = value,
            (FieldId::ProfileDip, Outside::Concave { dip }) => *dip = value,
            _ => {}
        }
        match (field, &mut shape.cut) {
            (FieldId::PatternDepth, Some(cut)) => {
                // A mean depth that is not stated of its own follows the depth.
                if cut.mean_depth == cut.depth {
                    cut.mean_depth = value;
                }
                cut.depth = value;
            }
            (FieldId::PatternMeanDepth, Some(cut)) => cut.mean_depth = value,
            _ => {}
        }
        match field {
            FieldId::Thickness => shape.thickness = value,
            FieldId::Comfort => shape.comfort = value,
            FieldId::EaseOuter => shape.ease_outer = value,
            FieldId::EaseBore => shape.ease_bore = value,
            _ => {}
        }
        if let Some(hollow) = &mut shape.hollow {
            match (field, &mut hollow.catch) {
                (FieldId::HollowShell, _) => hollow.wall = value,
                (FieldId::HollowShellNose, _) => hollow.nose = value,
                (FieldId::HollowSleeve, _) => hollow.sleeve = value,
                (FieldId::HollowSleeveRelief, _) => hollow.relief = Some(value),
                (
                    FieldId::HollowRidge | FieldId::HollowLip,
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => *height = value,
                (
                    FieldId::HollowRidgeWide | FieldId::HollowLipWide,
                    Catch::Ridge { wide, .. } | Catch::Lip { wide, .. },
                ) => *wide = value,
                _ => {}
            }
        }
        shape
    }

    /// The present value of a field that [`Shape::with`] can change.
    #[must_use]
    pub fn field(&self, field: FieldId) -> Option<f64> {
        Some(self.value(field)).filter(|value| *value > 0.0)
    }

    /// The present value of a field; 0 where it has none.
    fn value(&self, field: FieldId) -> f64 {
        match (field, &self.outside, &self.cut, &self.hollow) {
            (
                FieldId::ProfileEdge,
                Outside::Domed { edge } | Outside::KnifeEdge { edge, .. },
                ..,
            ) => *edge,
            (FieldId::ProfileAcross, Outside::Bevelled { across, .. }, ..) => *across,
            (FieldId::ProfileDown, Outside::Bevelled { down, .. }, ..) => *down,
            (FieldId::ProfileCrown, Outside::KnifeEdge { crown, .. }, ..) => *crown,
            (FieldId::ProfileDip, Outside::Concave { dip }, ..) => *dip,
            (FieldId::PatternDepth, _, Some(cut), _) => cut.depth,
            (FieldId::PatternMeanDepth, _, Some(cut), _) => cut.mean_depth,
            // It follows from a custom outline, and cannot be changed alone.
            (FieldId::Thickness, Outside::Custom(_), ..) => 0.0,
            (FieldId::Thickness, ..) => self.thickness,
            (FieldId::Comfort, ..) => self.comfort,
            (FieldId::EaseOuter, ..) => self.ease_outer,
            (FieldId::EaseBore, ..) => self.ease_bore,
            (FieldId::HollowShell, .., Some(hollow)) => hollow.wall,
            (FieldId::HollowShellNose, .., Some(hollow)) => hollow.nose,
            (FieldId::HollowSleeve, .., Some(hollow)) => hollow.sleeve,
            (FieldId::HollowSleeveRelief, .., Some(hollow)) => hollow.relief.unwrap_or(0.0),
            (field, .., Some(hollow)) => match (field, hollow.catch) {
                (
                    FieldId::HollowRidge | FieldId::HollowLip,
                    Catch::Ridge { height, .. } | Catch::Lip { height, .. },
                ) => height,
                (
                    FieldId::HollowRidgeWide | FieldId::HollowLipWide,
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
    let field = problem.field;
    let limit = band.least_wall.to_mm();
    let current = shape.value(field);
    // Best is a value that leaves every wall as thick as wanted; else any that makes the band possible.
    let sound = |value: f64| {
        let changed = shape.with(field, value);
        impossible(&changed).is_empty()
            && super::bodies::bodies(&changed).least_wall() >= limit - 1e-9
    };
    let possible = |value: f64| impossible(&shape.with(field, value)).is_empty();
    let zero = field == FieldId::Comfort && possible(0.0);
    let fits = (current > 0.0)
        .then(|| {
            fitting(problem.less, current, sound)
                .or_else(|| fitting(problem.less, current, possible))
        })
        .flatten();
    let fits = fits.or(zero.then_some(0.0)).map(mm);
    let word = field.word();
    let help = match &fits {
        Some(fits) => format!("`{word} {fits}` would just fit"),
        None => {
            "no other value of this field alone would fit; change the lengths it is compared with"
                .to_owned()
        }
    };
    let label = problem.bound.clone();
    let at = match (&band.profile, problem.x) {
        (model::Profile::Custom(outline), Some(x)) if field == FieldId::Profile => {
            outline.place(x).unwrap_or_else(|| band.place(field))
        }
        _ => band.place(field),
    };
    GeometryError::DoesNotFit {
        at,
        message: problem.message.clone(),
        label,
        help,
        fits,
    }
    .into()
}

/// Lengths that follow from others, and are stated all the same.
fn over_stated(band: &Band, shape: &Shape) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut compare = |second: FieldId, first: FieldId, stated: f64, follows: f64| {
        if (stated - follows).abs() > 1e-9 {
            let name = |field: FieldId| field.word();
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
    if let (Some(outside), Some(_)) = (
        band.length(FieldId::Outside),
        band.field(FieldId::Thickness),
    ) {
        compare(
            FieldId::Outside,
            FieldId::Thickness,
            outside,
            2.0 * (shape.radius + shape.thickness),
        );
    }
    if let Some(edge) = band.length(FieldId::ProfileEdge) {
        let follows = match &shape.outside {
            Outside::Flat | Outside::Concave { .. } => Some(shape.thickness - shape.comfort),
            Outside::Bevelled { down, .. } => Some(shape.thickness - down - shape.comfort),
            Outside::Domed { .. } | Outside::KnifeEdge { .. } | Outside::Custom(_) => None,
        };
        if let Some(follows) = follows {
            compare(FieldId::ProfileEdge, FieldId::Thickness, edge, follows);
        }
    }
    if let Outside::Custom(pieces) = &shape.outside {
        let crown = pieces
            .iter()
            .map(|piece| piece.extreme(true).y)
            .fold(f64::NEG_INFINITY, f64::max);
        for stated in [FieldId::Thickness, FieldId::Outside] {
            if let Some(value) = band.length(stated) {
                let follows = if stated == FieldId::Outside {
                    2.0 * (shape.radius + crown)
                } else {
                    crown
                };
                compare(stated, FieldId::Profile, value, follows);
            }
        }
    }
    findings
}
