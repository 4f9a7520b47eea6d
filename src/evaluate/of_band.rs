//! A band's written values as the plain numbers that the kernel takes.

use std::sync::Arc;

use crate::kernel::section::curve::{Piece, Point};
use crate::kernel::section::{Catch, Cut, Hollow, Outside, Shape};
use crate::kernel::{Input, Marks};
use crate::model::{self, AlloyDensity, Band, Caught, FieldValue};
use crate::quantity::{Deviation, Length};
use crate::schema::FieldId;

use super::deviations::density_deviations;
use super::join_input::join_input;

/// The nominal figures of a band.
#[must_use]
pub fn input_of(band: &Band) -> Input {
    read(band, &|_, nominal| nominal, &|density, _| density)
}

/// The figures of a band, each as `read` gives it from its field, each figure of an alloy (density in g/mm3,
/// strength in Pa) as `dense` gives it from its deviations.
#[must_use]
pub fn read(
    band: &Band,
    read: &dyn Fn(&FieldValue, f64) -> f64,
    dense: &dyn Fn(f64, &[Deviation]) -> f64,
) -> Input {
    let density = |of: &AlloyDensity| dense(of.grams_per_cm3() / 1000.0, density_deviations(of));
    let part = |metal: Option<&model::Metal>| {
        density(&metal.map_or(&band.alloy, |metal| &metal.alloy).density)
    };
    Input {
        shape: shape_of(band, read),
        density: density(&band.alloy.density),
        shell_density: part(band.hollow.as_ref().map(|hollow| &hollow.shell)),
        sleeve_density: part(band.hollow.as_ref().map(|hollow| &hollow.sleeve)),
        solder: solder(band, read),
        repeats: band
            .fields
            .count(FieldId::PatternRepeats)
            .filter(|_| band.is_cut()),
        stretch: join_input(band, read, dense),
        marks: marks(band, read),
    }
}

/// Weight of the solder, in g.
fn solder(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64) -> f64 {
    let stated = band.marking.solder.is_some();
    let amount = band.field(FieldId::SolderAmount).filter(|_| stated);
    let nominal = |field: &FieldValue| Some(field.value.quantity()?.number.to_f64());
    let amount = amount.and_then(|field| Some((field, nominal(field)?)));
    amount.map_or(0.0, |(field, nominal)| read(field, nominal))
}

/// Depths of the marks; where the part is not stated, either may carry it. What is not said to be lasered is struck.
fn marks(band: &Band, read: &dyn Fn(&FieldValue, f64) -> f64) -> Marks {
    let deep = band
        .field(FieldId::MarkDeep)
        .zip(band.length(FieldId::MarkDeep));
    let deep = deep.map_or(0.0, |(field, nominal)| read(field, nominal));
    let mark = band.marking.mark.as_ref();
    let on = mark.and_then(|mark| mark.on.as_deref());
    let carried = |part: &str| match on {
        Some(on) if on != part && on != "both" => None,
        _ => mark.map(|_| deep),
    };
    Marks {
        shell: carried("shell"),
        sleeve: carried("sleeve"),
        punched: mark.is_some_and(|mark| !mark.lasered),
    }
}

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
    let point = |(x, y): (f64, f64)| Point { x, y };
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
