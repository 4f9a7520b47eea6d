//! A band's written lengths to a [`Shape`], and what is impossible about it as findings in the recipe.

use crate::schema::FieldId;
use std::sync::Arc;

use crate::finding::Finding;
use crate::model::{self, Band, Caught, FieldValue};
use crate::quantity::Length;

use super::curve::Piece;
use super::error::GeometryError;
use super::impossible::{Impossible, fitting_from, impossible, mm};
use super::shape::{Catch, Cut, Hollow, Outside, Shape};

/// The shape of a band, each length and ratio as `read` gives it from its field and nominal value.
#[must_use]
pub fn shape_of(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64) -> Shape {
    let of = |id: FieldId| {
        let field = band.field(id)?;
        let nominal = field.value.quantity()?.number.to_f64();
        Some(read(field, nominal))
    };
    let nominal = band.inside().diameter.to_f64();
    let bore = band
        .field(FieldId::Size)
        .map_or(nominal, |field| read(field, nominal));
    let thickness = of(FieldId::Thickness).or_else(|| {
        // The outside stays where it is stated when the bore is off.
        of(FieldId::Outside).map(|outside| (outside - bore) / 2.0)
    });
    let mm = |id: FieldId| of(id).unwrap_or(0.0);
    Shape {
        radius: bore / 2.0,
        width: mm(FieldId::Width),
        thickness: thickness.unwrap_or_else(|| band.thickness().map_or(0.0, Length::to_mm)),
        comfort: mm(FieldId::Comfort),
        outside: outside(band, &mm),
        ease_outer: mm(FieldId::EaseOuter),
        ease_bore: mm(FieldId::EaseBore),
        cut: band.is_cut().then(|| {
            let depth = mm(FieldId::PatternDepth);
            Cut {
                depth,
                mean_depth: of(FieldId::PatternMeanDepth).unwrap_or(depth),
                even: band.field(FieldId::PatternMeanDepth).is_none(),
                cover: mm(FieldId::PatternCover),
            }
        }),
        hollow: band.hollow.as_ref().map(|build| parts(build, &of)),
    }
}

fn outside(band: &Band, mm: &dyn Fn(FieldId) -> f64) -> Outside {
    match &band.profile {
        model::Profile::Flat => Outside::Flat,
        model::Profile::Domed => Outside::Domed {
            edge: mm(FieldId::ProfileEdge),
        },
        model::Profile::Bevelled => Outside::Bevelled {
            across: mm(FieldId::ProfileAcross),
            down: mm(FieldId::ProfileDown),
        },
        model::Profile::KnifeEdge => Outside::KnifeEdge {
            edge: mm(FieldId::ProfileEdge),
            crown: mm(FieldId::ProfileCrown),
        },
        model::Profile::Concave => Outside::Concave {
            dip: mm(FieldId::ProfileDip),
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

fn parts(build: &model::Build, of: &dyn Fn(FieldId) -> Option<f64>) -> Hollow {
    let mm = |id: FieldId| of(id).unwrap_or(0.0);
    let catch = match build.caught {
        Caught::Nowhere => Catch::None,
        Caught::ByRidges => Catch::Ridge {
            height: mm(FieldId::HollowRidge),
            wide: mm(FieldId::HollowRidgeWide),
            two: of(FieldId::HollowRidgeCount) != Some(1.0),
            play: mm(FieldId::HollowRidgePlay),
        },
        Caught::ByLips => Catch::Lip {
            height: mm(FieldId::HollowLip),
            wide: mm(FieldId::HollowLipWide),
            play: mm(FieldId::HollowLipPlay),
        },
    };
    Hollow {
        wall: mm(FieldId::HollowShell),
        roof: build.roof,
        nose: mm(FieldId::HollowShellNose),
        sleeve: mm(FieldId::HollowSleeve),
        relief: of(FieldId::HollowSleeveRelief),
        catch,
        play: match build.turning {
            true => mm(FieldId::HollowStagePlay),
            false => 0.0,
        },
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
                if cut.even {
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

    /// The least that a field can be beside the others as they are stated.
    #[must_use]
    pub fn least(&self, field: FieldId) -> f64 {
        match (field, &self.cut) {
            (FieldId::PatternDepth, Some(cut)) if !cut.even => cut.mean_depth,
            _ => 0.0,
        }
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
    let limit = band.length(FieldId::LimitWall).unwrap_or(0.0);
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
            let least = shape.least(field);
            fitting_from(least, problem.less, current, sound)
                .or_else(|| fitting_from(least, problem.less, current, possible))
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
