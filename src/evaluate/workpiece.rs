//! What money is told of an evaluated band: the masses of its parts, and what their stock must hold.

use std::sync::Arc;

use smallvec::{SmallVec, smallvec};

use crate::kernel::section::{Catch, Hollow, Shape};
use crate::kernel::{Figures, Input};
use crate::model::{Alloy, Band};
use crate::money::{Extent, PartOf, WorkPart, Workpiece, chosen};
use crate::quantity::Number;
use crate::schema::ResultId;

use super::drawn_results::cutting;

/// What money is told of a ring; none where its recipe says nothing of prices, workshop or stock. `machined` gives the
/// results of the parts as machined, where they are computed.
pub(super) fn workpiece(
    band: &Band,
    input: &Input,
    figures: &Figures,
    machined: &dyn Fn(ResultId) -> Option<Number>,
) -> Option<Workpiece> {
    let shape = &input.shape;
    let terms = Arc::clone(band.terms.as_ref()?);
    let part = |of: PartOf, alloy: &Arc<Alloy>, uncut, cut| {
        let stocks = of.stocks(&terms);
        let extent = (!stocks.is_empty()).then(|| extent(of, shape, figures, machined));
        let stock = extent.as_ref().and_then(|due| chosen(stocks, of, due));
        WorkPart {
            of,
            alloy: Arc::clone(alloy),
            uncut,
            cut,
            stock: stock.cloned(),
            extent,
        }
    };
    let mut parts: SmallVec<[WorkPart; 2]> = match (&band.hollow, &figures.hollow) {
        (Some(hollow), Some(of)) => {
            let (shell, sleeve) = (&hollow.shell.alloy, &hollow.sleeve.alloy);
            smallvec![
                part(PartOf::Shell, shell, of.shell_weight, figures.weight_cut),
                part(PartOf::Sleeve, sleeve, of.sleeve_weight, 0.0),
            ]
        }
        _ => {
            let uncut = figures.weight_uncut - input.solder;
            let cut = figures.weight_cut;
            smallvec![part(PartOf::Band, &band.alloy, uncut, cut)]
        }
    };
    if let Some(solder) = band.marking.solder.as_ref().filter(|_| input.solder > 0.0) {
        parts.push(part(PartOf::Solder, &solder.alloy, input.solder, 0.0));
    }
    Some(Workpiece {
        parts,
        terms,
        cutting: cutting(band, input),
    })
}

/// The band that another is compared with: the one that it names, or the solid of the same look.
pub(super) fn compared_with(band: &Band) -> Option<Arc<Band>> {
    band.terms.as_ref()?;
    let solid = || {
        let mut solid = Band {
            hollow: None,
            ..band.clone()
        };
        // A solid has no two parts that solder would join.
        solid.marking.solder = None;
        band.hollow.is_some().then(|| Arc::new(solid))
    };
    band.against.clone().or_else(solid)
}

/// As machined, where that is computed; else as finished.
pub(super) fn extent(
    of: PartOf,
    shape: &Shape,
    figures: &Figures,
    machined: &dyn Fn(ResultId) -> Option<Number>,
) -> Extent {
    let known = |id: ResultId, finished: f64| machined(id).map_or(finished, Number::to_f64);
    let (width, hollow) = (shape.width, shape.hollow.as_ref());
    match of {
        PartOf::Band | PartOf::Solder => Extent {
            outside: known(ResultId::MachinedOutside, figures.outside),
            bore: known(ResultId::MachinedBore, figures.bore),
            width: known(ResultId::MachinedWidth, width),
        },
        PartOf::Shell => {
            let foot = hollow.map_or(figures.bore, |hollow| {
                let (_, inwards) = reach(hollow);
                figures.bore + 2.0 * hollow.sleeve + hollow.play - inwards
            });
            let foot = known(ResultId::MachinedShellBore, foot);
            Extent {
                outside: known(ResultId::MachinedShellOutside, figures.outside),
                bore: known(ResultId::MachinedShellLipBore, foot),
                width: known(ResultId::MachinedShellWidth, width),
            }
        }
        PartOf::Sleeve => {
            let top = hollow.map_or(figures.bore, |hollow| {
                let (out, _) = reach(hollow);
                figures.bore + 2.0 * hollow.sleeve + out
            });
            let top = known(ResultId::MachinedSleeveFloor, top);
            Extent {
                outside: known(ResultId::MachinedSleeveRidgeTop, top),
                bore: known(ResultId::MachinedSleeveBore, figures.bore),
                width: known(ResultId::MachinedSleeveWidth, width),
            }
        }
    }
}

/// How far what catches the shell stands out and inwards, on the diameter; mm.
fn reach(hollow: &Hollow) -> (f64, f64) {
    match hollow.catch {
        Catch::Ridge { height, .. } => (2.0 * height, 0.0),
        Catch::Lip { height, .. } => (0.0, 2.0 * height),
        Catch::None => (0.0, 0.0),
    }
}
