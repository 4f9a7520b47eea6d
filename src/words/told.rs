//! One shortfall of a band as a finding, with what it is of.

use crate::evaluate::Shortfall;
use crate::finding::{Finding, Identity};
use crate::kernel;
use crate::model::Band;

use super::error::MetalError;
use super::{cut, fineness, impossible, join, made, money, thin};

/// What falls short, said of its band; none where nothing of the band can be pointed at.
#[must_use]
pub fn finding(band: &Band, shortfall: &Shortfall) -> Option<Finding> {
    let said: Finding = match shortfall {
        Shortfall::Metal(short) => metal(band, short).into(),
        Shortfall::Money(short) => money::of_band(*short, band)?,
        Shortfall::Fineness(short) => fineness::of_band(band, short)?,
        Shortfall::Join(shortfall) => join::told(band, shortfall).into(),
        Shortfall::Made(shortfall) => made::told(band, shortfall).into(),
        // Told with all that is known of the ring.
        Shortfall::Weighed(_) => return None,
    };
    let wall = match shortfall {
        Shortfall::Metal(kernel::KernelShortfall::ThinWall(thin)) => Some(thin::word(thin.wall.id)),
        _ => None,
    };
    Some(said.of(Identity {
        field: Some(shortfall.field().path()),
        wall,
        ..of_band(band)
    }))
}

/// What is of a band.
pub(super) fn of_band(band: &Band) -> Identity {
    Identity {
        band: Some(band.name.as_str().into()),
        ..Identity::default()
    }
}

fn metal(band: &Band, short: &kernel::KernelShortfall) -> MetalError {
    use kernel::KernelShortfall as Short;
    match *short {
        Short::DoesNotFit { misfit, fits } => impossible::does_not_fit(band, &misfit, fits),
        Short::OverStated {
            field,
            from,
            stated,
            follows,
        } => impossible::over_stated(band, field, from, stated, follows),
        Short::ThinWall(thin) => thin::thin_wall(band, &thin),
        Short::Cut(short) => cut::told(band, &short),
    }
}
