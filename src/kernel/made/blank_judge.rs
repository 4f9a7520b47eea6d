//! What is wrong with a solid blank as made: figures that contradict each other, a wall, a size or a stretch.

use crate::kernel::join::{ROUNDING, Strain, allowed, pulls};
use crate::kernel::section::Body;
use crate::kernel::{Figures, Input};
use crate::schema::FieldId;

use super::blank::{Blank, blank_of, clash};
use super::measured::Measured;
use super::mended::{mended, refused};
use super::off::Off;
use super::shortfall::{MadeShortfall, OffSize, Thin};

/// Fields that the width of its band follows from.
const WIDTH: &[FieldId] = &[
    FieldId::MadeBlankWidth,
    FieldId::MadeBlankBore,
    FieldId::MadeBlankThickness,
    FieldId::MadeBlankOutside,
];

/// Fields that its outside follows from.
const OUTSIDE: &[FieldId] = &[
    FieldId::MadeBlankOutside,
    FieldId::MadeBlankThickness,
    FieldId::MadeBlankBore,
];

/// Fields that its stretch follows from.
const STRETCHED: &[FieldId] = &[
    FieldId::MadeBlankBore,
    FieldId::MadeBlankThickness,
    FieldId::MadeBlankOutside,
];

fn sound(input: &Input, measured: &Measured) -> bool {
    clash(input, measured).is_none()
}

/// The band of other measured figures, where they do not clash.
fn with(input: &Input, figures: &Figures, measured: &Measured) -> Option<Blank> {
    sound(input, measured)
        .then(|| blank_of(input, figures, measured))
        .flatten()
}

/// A measured blank that cannot come to its band.
#[must_use]
pub fn contradiction(input: &Input, figures: &Figures) -> Option<MadeShortfall> {
    let measured = &input.stretch.made;
    if !measured.has_blank() {
        return None;
    }
    let least = input.stretch.walls.anywhere;
    let thick = |measured: &Measured| {
        with(input, figures, measured).is_some_and(|blank| blank.under.wall >= least)
    };
    let sound = |measured: &Measured| sound(input, measured);
    refused(input, clash(input, measured)?, &thick, &sound)
}

/// What falls short of a blank as made; `ordered`: the strain of the one worked back, where it is stretched.
pub fn judge(
    input: &Input,
    figures: &Figures,
    blank: &Blank,
    ordered: Option<&Strain>,
    found: &mut impl Extend<MadeShortfall>,
) {
    found.extend(thin(input, figures, blank));
    let takes = |measured: &Measured| {
        let blank = with(input, figures, measured)?;
        Some(sizes(input, &blank))
    };
    let off = sizes(input, blank).into_iter();
    let off = off.filter(|one| one.misses(input));
    found.extend(off.filter_map(|one| one.shortfall(input, &takes)));
    found.extend(past_limit(input, figures, blank, ordered));
}

fn thin(input: &Input, figures: &Figures, blank: &Blank) -> Option<MadeShortfall> {
    let least = input.stretch.walls.anywhere;
    let ordered = figures.bodies.solid_wall.thickness;
    let wall = blank.under.wall;
    let short = wall < least - ROUNDING && wall < ordered - ROUNDING;
    if !short {
        return None;
    }
    let thick = |measured: &Measured| {
        with(input, figures, measured).is_some_and(|blank| blank.under.wall >= least - ROUNDING)
    };
    let (field, fits) = mended(input, OUTSIDE, &thick);
    Some(MadeShortfall::Thin {
        place: Thin::UnderCut,
        wall,
        least,
        deepest: blank.under.in_micrometres(),
        field: field?,
        fits,
    })
}

/// What of a band is judged against the order.
fn sizes(input: &Input, blank: &Blank) -> [Off; 2] {
    let shape = &input.shape;
    [
        Off {
            what: OffSize::Outside,
            is: blank.outside,
            ordered: 2.0 * (shape.radius + shape.thickness),
            fields: OUTSIDE,
        },
        Off {
            what: OffSize::Width,
            is: blank.width,
            ordered: shape.width,
            fields: WIDTH,
        },
    ]
}

/// A blank that is stretched past what it bears, where the one worked back is not.
fn past_limit(
    input: &Input,
    figures: &Figures,
    blank: &Blank,
    ordered: Option<&Strain>,
) -> Option<MadeShortfall> {
    let allowed = ordered.map_or_else(
        || allowed(&input.stretch.whole, 1.0, &input.stretch.pull),
        |ordered| ordered.allowed,
    );
    let bears = |blank: &Blank| allowed.bears(libm::log(1.0 + blank.strain));
    if bears(blank) || !ordered.is_none_or(Strain::holds) {
        return None;
    }
    let holds =
        |measured: &Measured| with(input, figures, measured).is_some_and(|blank| bears(&blank));
    let (field, fits) = mended(input, STRETCHED, &holds);
    let strain = libm::log(1.0 + blank.strain);
    Some(MadeShortfall::StretchLimit {
        part: Body::Solid,
        strain,
        allowed,
        pulls: pulls(strain, &allowed),
        field: field?,
        fits,
    })
}
