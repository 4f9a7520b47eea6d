//! A band's written values as the plain numbers that the kernel takes.

use std::sync::Arc;

use crate::kernel::section::curve::{Piece, Point};
use crate::kernel::section::{Catch, Cut, Hollow, Outside, Shape};
use crate::kernel::{Input, Marks};
use crate::model::{self, AlloyDensity, Band, Caught};
use crate::quantity::Length;
use crate::schema::FieldId;

use super::drawn::{drawn, worked_out};
use super::join_input::join_input;

/// The figures of a band as the kernel takes them.
#[must_use]
pub fn input_of(band: &Band) -> Input {
    let density = |of: &AlloyDensity| of.grams_per_cm3() / 1000.0;
    let part = |metal: Option<&model::Metal>| {
        density(&metal.map_or(&band.alloy, |metal| &metal.alloy).density)
    };
    let input = Input {
        shape: shape_of(band),
        density: density(&band.alloy.density),
        shell_density: part(band.hollow.as_ref().map(|hollow| &hollow.shell)),
        sleeve_density: part(band.hollow.as_ref().map(|hollow| &hollow.sleeve)),
        solder: solder(band),
        repeats: band
            .fields
            .count(FieldId::PatternRepeats)
            .filter(|_| band.is_cut()),
        stretch: join_input(band),
        marks: marks(band),
        drawn: drawn(band),
    };
    worked_out(input)
}

/// Weight of the solder, in g.
fn solder(band: &Band) -> f64 {
    let stated = band.marking.solder.is_some();
    let amount = band.fields.number(FieldId::SolderAmount);
    amount.filter(|_| stated).unwrap_or(0.0)
}

/// Depths of the marks; where the part is not stated, either may carry it. What is not said to be lasered is struck.
fn marks(band: &Band) -> Marks {
    let deep = band.length(FieldId::MarkDeep).unwrap_or(0.0);
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

/// The shape of a band.
#[must_use]
pub fn shape_of(band: &Band) -> Shape {
    let of = |id: FieldId| band.fields.number(id);
    let bore = band.inside().diameter.to_f64();
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
        // What drawn cuts come to is worked out on the shape.
        cut: (band.is_cut() && !band.is_drawn()).then(|| {
            let depth = mm(FieldId::PatternDepth);
            Cut {
                depth,
                mean_depth: of(FieldId::PatternMeanDepth).unwrap_or(depth),
                even: band.field(FieldId::PatternMeanDepth).is_none(),
                cover: mm(FieldId::PatternCover),
                drawn: false,
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
