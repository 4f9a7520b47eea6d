//! What is wrong with parts as made: figures that contradict each other, walls too thin, a sleeve still to turn.

use crate::kernel::join::{Joined, ROUNDING, allowed, pulls};
use crate::kernel::section::{Body, Catch};
use crate::kernel::{Figures, Input};
use crate::schema::FieldId;

use super::clash::{CATCHING, Clash};
use super::clashes::{clash, misfit};
use super::measured::Measured;
use super::mended::{mended, refused};
use super::off::Off;
use super::parts::TwoParts;
use super::ring::{MadeRing, made_of, parts_or_turned};
use super::shortfall::{Lacks, MadeShortfall, OffSize, Thin};

/// Fields that the bore of the ring follows from.
const BORE: &[FieldId] = &[
    FieldId::MadeSleeveBore,
    FieldId::MadeSleeveFloor,
    FieldId::MadeSleeveRidgeTop,
    FieldId::MadeSleeveEdgeBore,
    FieldId::MadeShellBore,
];
/// Fields that its width follows from.
const WIDTH: &[FieldId] = &[
    FieldId::MadeShellWidth,
    FieldId::MadeSleeveWidth,
    FieldId::MadeShellBore,
    FieldId::MadeShellOutside,
];
/// Fields that its outside follows from.
const OUTSIDE: &[FieldId] = &[FieldId::MadeShellOutside, FieldId::MadeShellBore];
/// Fields that how far a finished ring is caught follows from.
const CAUGHT: &[FieldId] = &[
    FieldId::MadeSleeveRidgeTop,
    FieldId::MadeSleeveFloor,
    FieldId::MadeSleeveBore,
    FieldId::MadeShellLipBore,
    FieldId::MadeShellBore,
];
/// Fields that the axial float follows from.
const FLOATS: &[FieldId] = &[
    FieldId::MadeShellChannelWidth,
    FieldId::MadeSleeveRidgeFromFace,
    FieldId::MadeSleeveWidth,
    FieldId::MadeShellWidth,
];
/// Fields that the stretch of the sleeve follows from.
const STRETCHED: &[FieldId] = &[
    FieldId::MadeSleeveBore,
    FieldId::MadeSleeveFloor,
    FieldId::MadeSleeveRidgeTop,
    FieldId::MadeShellBore,
];

/// The first clash of parts as measured; not with a sleeve that is still to turn.
fn clash_of(input: &Input, joined: &Joined, measured: &Measured) -> Option<Clash> {
    let planned = TwoParts::planned(input, joined);
    let parts = match parts_or_turned(input, joined, measured) {
        Some((parts, _)) => parts,
        None => TwoParts::measured(input, &planned, measured),
    };
    clash(input, joined, &parts)
}

/// The ring of other measured figures, where they do not clash.
pub(super) fn made_if_sound(
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    measured: &Measured,
) -> Option<MadeRing> {
    clash_of(input, joined, measured)
        .is_none()
        .then(|| made_of(input, figures, joined, measured))
        .flatten()
}

/// The walls of the parts as made: which, how thick, and the fields that could mend it.
fn thin(made: &MadeRing) -> impl Iterator<Item = (Thin, f64, &'static [FieldId])> {
    const UNDER: &[FieldId] = &[
        FieldId::MadeShellChannel,
        FieldId::MadeShellOutside,
        FieldId::MadeShellBore,
    ];
    const FOOT: &[FieldId] = &[
        FieldId::MadeShellChannelWidth,
        FieldId::MadeShellWidth,
        FieldId::MadeSleeveWidth,
    ];
    const EDGE: &[FieldId] = &[
        FieldId::MadeSleeveEdgeBore,
        FieldId::MadeSleeveBore,
        FieldId::MadeSleeveFloor,
        FieldId::MadeSleeveRidgeTop,
    ];
    const SLEEVE: &[FieldId] = &[
        FieldId::MadeSleeveBore,
        FieldId::MadeSleeveFloor,
        FieldId::MadeSleeveRidgeTop,
        FieldId::MadeSleeveEdgeBore,
    ];
    let walls = [
        (Thin::UnderCut, made.under.wall, UNDER),
        (Thin::Foot, made.foot, FOOT),
        (Thin::SleeveEdge, made.sleeve_edge, EDGE),
    ];
    let relief = made.relief.map(|wall| (Thin::SleeveRelief, wall, SLEEVE));
    walls.into_iter().chain(relief)
}

/// What a wall of the parts as made must be.
fn least(input: &Input, place: Thin) -> f64 {
    let walls = &input.stretch.walls;
    match place {
        Thin::UnderCut => walls.under_cut,
        Thin::Foot => walls.side,
        Thin::SleeveEdge | Thin::SleeveRelief => walls.sleeve,
    }
}

/// Measured parts that cannot be of one ring.
#[must_use]
pub fn contradiction(input: &Input, figures: &Figures, joined: &Joined) -> Option<MadeShortfall> {
    let measured = &input.stretch.made;
    if measured.is_empty() {
        return None;
    }
    let clash = clash_of(input, joined, measured)?;
    let sound = |measured: &Measured| clash_of(input, joined, measured).is_none();
    let thick = |measured: &Measured| {
        let thick = |made: MadeRing| {
            thin(&made).all(|(place, wall, _)| wall >= least(input, place) - ROUNDING)
        };
        sound(measured) && made_of(input, figures, joined, measured).is_some_and(thick)
    };
    refused(input, clash, &thick, &sound)
}

/// Measured figures of what the band has not: ridges, lips, a channel, or parts at all.
pub fn unused(input: &Input, joined: Option<&Joined>) -> impl Iterator<Item = MadeShortfall> {
    let lacks = move |field: FieldId| match (joined, field) {
        (
            joined,
            FieldId::MadeBlankBore
            | FieldId::MadeBlankOutside
            | FieldId::MadeBlankThickness
            | FieldId::MadeBlankWidth,
        ) => joined.map(|_| Lacks::Blank),
        (None, _) => Some(Lacks::Parts),
        (Some(joined), FieldId::MadeShellLipBore) if joined.shell.lip.is_none() => {
            Some(Lacks::Lips)
        }
        (Some(joined), FieldId::MadeShellChannel | FieldId::MadeShellChannelWidth)
            if joined.shell.channel.is_none() =>
        {
            Some(Lacks::Channel)
        }
        (Some(joined), FieldId::MadeSleeveRidgeTop | FieldId::MadeSleeveRidgeFromFace)
            if joined.sleeve.ridge_top.is_none() =>
        {
            Some(Lacks::Ridges)
        }
        _ => None,
    };
    let stated = input.stretch.made.stated();
    stated.filter_map(move |field| lacks(field).map(|lacks| MadeShortfall::Unused { field, lacks }))
}

/// What falls short of parts as made.
pub fn judge(
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    made: &MadeRing,
    found: &mut impl Extend<MadeShortfall>,
) {
    let parts = AsMade {
        input,
        figures,
        joined,
        made,
    };
    found.extend(parts.thin());
    found.extend(parts.past_limit());
    found.extend(parts.still_to_turn());
    found.extend(parts.off());
    found.extend(parts.out_of_order());
    found.extend(parts.caught_too_little());
    found.extend(parts.wanders());
}

/// Parts as made, and the ring that they come to.
#[derive(Clone, Copy)]
struct AsMade<'a> {
    input: &'a Input,
    figures: &'a Figures,
    joined: &'a Joined,
    made: &'a MadeRing,
}

impl<'a> AsMade<'a> {
    /// The ring of other measured figures, where they do not clash.
    fn with(&self, measured: &Measured) -> Option<MadeRing> {
        made_if_sound(self.input, self.figures, self.joined, measured)
    }

    /// The measured field among some, and the nearest value of it with which the ring is as it should be.
    fn mended(
        &self,
        fields: &[FieldId],
        as_due: impl Fn(&MadeRing) -> bool,
    ) -> (Option<FieldId>, Option<f64>) {
        let accepts = |measured: &Measured| self.with(measured).is_some_and(|made| as_due(&made));
        mended(self.input, fields, &accepts)
    }

    fn thin(self) -> impl Iterator<Item = MadeShortfall> + 'a {
        thin(self.made).filter_map(move |(place, wall, fields)| {
            let least = least(self.input, place);
            let ordered = match place {
                Thin::UnderCut => self
                    .figures
                    .hollow
                    .map(|hollow| hollow.parts.walls.under_cut.thickness),
                _ => None,
            };
            // What is short as ordered is told of the band.
            let short =
                wall < least - ROUNDING && ordered.is_none_or(|ordered| wall < ordered - ROUNDING);
            if !short {
                return None;
            }
            let (field, fits) = self.mended(fields, |made| {
                thin(made).any(|(of, wall, _)| of == place && wall >= least - ROUNDING)
            });
            Some(MadeShortfall::Thin {
                place,
                wall,
                least,
                deepest: self
                    .made
                    .under
                    .in_micrometres()
                    .filter(|_| place == Thin::UnderCut),
                field: field?,
                fits,
            })
        })
    }

    /// A sleeve that is stretched past what it bears, where the one worked back is not.
    fn past_limit(&self) -> Option<MadeShortfall> {
        let allowed = allowed(&self.input.stretch.sleeve, 1.0, &self.input.stretch.pull);
        let bears = |strain: f64| allowed.bears(libm::log(1.0 + strain));
        if bears(self.made.strain) || !bears(self.joined.strain) {
            return None;
        }
        let (field, fits) = self.mended(STRETCHED, |made| bears(made.strain));
        let strain = libm::log(1.0 + self.made.strain);
        Some(MadeShortfall::StretchLimit {
            part: Body::Sleeve,
            strain,
            allowed,
            pulls: pulls(strain, &allowed),
            field: field?,
            fits,
        })
    }

    /// A sleeve as worked back that does not suit the shell as made, and none is measured.
    fn still_to_turn(&self) -> Option<MadeShortfall> {
        let Self {
            input,
            joined,
            made,
            ..
        } = self;
        if !made.turned {
            return None;
        }
        let planned = TwoParts::planned(input, joined);
        let misfit = |measured: &Measured| {
            misfit(
                input,
                joined,
                &TwoParts::measured(input, &planned, measured),
            )
        };
        let clash = misfit(&input.stretch.made)?;
        let goes = |measured: &Measured| misfit(measured).is_none();
        let (field, fits) = mended(input, clash.fields(), &goes);
        Some(MadeShortfall::Turn {
            clash,
            turn: made.turn,
            field: field?,
            fits,
        })
    }

    /// What of a ring is judged against the order.
    fn sizes(&self, made: &MadeRing) -> [Off; 3] {
        let shape = &self.input.shape;
        let lips = matches!(
            shape.hollow.map(|hollow| hollow.catch),
            Some(Catch::Lip { .. })
        );
        // Faces are made flush: the narrower part decides, but for a shell that is to be faced down.
        let flush = if lips { 0.0 } else { made.proud.min(0.0) };
        let (wide, narrow) = (made.width, made.width + flush);
        let ordered = shape.width;
        let further = if wide - ordered > ordered - narrow {
            wide
        } else {
            narrow
        };
        let off = |what, is, ordered, fields| Off {
            what,
            is,
            ordered,
            fields,
        };
        let outside = 2.0 * (shape.radius + shape.thickness);
        [
            off(OffSize::Bore, made.bore, 2.0 * shape.radius, BORE),
            off(OffSize::Outside, made.outside, outside, OUTSIDE),
            off(OffSize::Width, further, ordered, WIDTH),
        ]
    }

    /// What of a ring misses the order.
    fn off(self) -> impl Iterator<Item = MadeShortfall> + 'a {
        let off = self.sizes(self.made).into_iter();
        off.filter(move |one| one.misses(self.input))
            .filter_map(move |one| {
                let takes = |measured: &Measured| self.with(measured).map(|made| self.sizes(&made));
                one.shortfall(self.input, &takes)
            })
    }

    /// Parts that seat before they are caught well, or at all, where those ordered do not.
    fn out_of_order(&self) -> Option<MadeShortfall> {
        // One that is built to turn is never seated; how it is caught is judged as it is.
        let overlap = self.made.overlap_seated;
        let overlap = overlap.filter(|_| !self.input.stretch.turning)?;
        let hold = self.joined.hold?;
        let wanted = [hold, 0.0]
            .into_iter()
            .find(|wanted| self.joined.overlap >= wanted - ROUNDING)?;
        let keeps = |overlap: f64| overlap >= wanted - ROUNDING;
        if keeps(overlap) {
            return None;
        }
        let (field, fits) = self.mended(CATCHING, |made| made.overlap_seated.is_some_and(keeps));
        Some(MadeShortfall::NoTurningWindow {
            seated: true,
            overlap,
            hold,
            field: field?,
            fits,
        })
    }

    /// A ring that is built to turn and wanders along the finger, where the one ordered does not.
    fn wanders(&self) -> Option<MadeShortfall> {
        let float = self.made.float?;
        let most = self.input.stretch.most_float;
        let keeps = |float: f64| float <= most + ROUNDING;
        if keeps(float) || !self.joined.wanders().is_some_and(keeps) {
            return None;
        }
        let (field, fits) = self.mended(FLOATS, |made| made.float.is_some_and(keeps));
        Some(MadeShortfall::Float {
            float,
            most,
            field: field?,
            fits,
        })
    }

    /// A ring that is built to turn and can be forced off, where the one ordered cannot.
    fn caught_too_little(&self) -> Option<MadeShortfall> {
        let hold = self.joined.hold?;
        let overlap = self.made.overlap.filter(|_| self.input.stretch.turning)?;
        let keeps = |overlap: f64| overlap >= hold - ROUNDING;
        if keeps(overlap) || !keeps(self.joined.overlap_finished) {
            return None;
        }
        let (field, fits) = self.mended(CAUGHT, |made| made.overlap.is_some_and(keeps));
        Some(MadeShortfall::NoTurningWindow {
            seated: false,
            overlap,
            hold,
            field: field?,
            fits,
        })
    }
}
