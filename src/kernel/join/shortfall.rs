//! What about stretch and join cannot be, or falls short.

use crate::kernel::section::Body;
use crate::schema::FieldId;

use super::grip::Grip;
use super::limits::Allowed;
use super::metal::Unstated;

/// One thing about stretch and join that cannot be, or falls short; lengths in mm, strains true ones.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum JoinShortfall {
    /// A band would have to shrink.
    StartAboveSize {
        /// The bore that it starts from.
        start: f64,
        /// Its finished bore.
        size: f64,
        /// The start that would be no stretch at all.
        fits: f64,
    },
    /// The sleeve would have to be turned to nothing.
    NeverEnters {
        /// It must pass lips; else feet.
        lips: bool,
        /// The clearance on the diameter that it must pass them with.
        entry: f64,
        /// Where.
        field: FieldId,
        /// The value of that field that would just do.
        fits: Option<f64>,
    },
    /// A part is stretched past what its metal bears in one pull.
    StretchLimit {
        /// The part.
        part: Body,
        /// True strain of its bore.
        strain: f64,
        /// What it bears.
        allowed: Allowed,
        /// The pulls that it takes; none where no number of them will do.
        pulls: Option<u32>,
        /// Where.
        field: FieldId,
        /// The field that would mend it alone, and its value.
        fits: Option<(FieldId, f64)>,
    },
    /// The ring is caught by less than keeps it together.
    NoTurningWindow {
        /// Done, of a ring that is built to turn; else seated.
        turning: bool,
        /// What catches it, on the diameter.
        overlap: f64,
        /// What should.
        hold: f64,
        /// Where.
        field: FieldId,
        /// The overlap to ask for that would just do, where one would.
        keeps: Option<f64>,
        /// What catches, and the height of it that would just do; none where nothing catches.
        raised: Option<(FieldId, f64)>,
    },
    /// Whether the ring is caught by enough cannot be told.
    CatchUnknown {
        /// What catches it, on the diameter.
        overlap: f64,
        /// What the shell's metal does not state.
        shell: Unstated,
    },
    /// A turning ring wanders along the finger by more than it may.
    Float {
        /// By how much, in all.
        float: f64,
        /// By how much it may.
        most: f64,
        /// Where.
        field: FieldId,
        /// The value of that field that would just do, where one would.
        fits: Option<f64>,
    },
    /// Two ridges meet the feet, since a sleeve that is still small is wider.
    RidgeTooFarOut {
        /// How far they stand further out as they pass the feet, axial.
        needed: f64,
        /// What is free beside them.
        there: f64,
        /// Where.
        field: FieldId,
        /// The play that would just let them pass.
        fits: f64,
    },
    /// A ring that is opened past touch does not grip over the enlarger's whole window.
    NoGrip {
        /// What it does instead.
        grip: Grip,
        /// The opening on the diameter.
        past: f64,
        /// How exactly the enlarger repeats, on the diameter.
        enlarger: f64,
        /// The openings on the diameter between which it grips.
        window: Option<(f64, f64)>,
        /// Both metals are known well enough to promise a grip within the estimate.
        known: bool,
        /// The opening that would just grip over the enlarger's whole window.
        fits: Option<f64>,
        /// Where no opening grips: the least yield of the shell with which one would, in whole MPa.
        shell_yield: Option<f64>,
    },
    /// Whether the ring grips cannot be told.
    StrengthUnknown {
        /// What the shell's metal does not state.
        shell: Unstated,
        /// What the sleeve's does not.
        sleeve: Unstated,
    },
    /// The ring is opened further than its shell bears before it yields.
    ShellYields {
        /// The opening on the diameter.
        past: f64,
        /// How exactly the enlarger repeats, on the diameter.
        enlarger: f64,
        /// Where the shell yields.
        yields: f64,
        /// The opening that would just leave it elastic.
        fits: Option<f64>,
    },
    /// The shell yields before the play is gone after release: the ring is never seated.
    NeverSeated,
    /// A start that a hollow band has no use for.
    StartUnused,
    /// A key of the stage beside a lock that says what holds.
    KeyUnused,
    /// A key whose depth is not stated.
    KeyDepthUnknown,
    /// The opening does not reach the key.
    KeyNotReached {
        /// How deep the key is, radial.
        key: f64,
        /// How far it is opened past seated, radial.
        reached: f64,
        /// Where.
        field: FieldId,
        /// The opening past touch on the diameter that would just reach it; none where it is never seated.
        fits: Option<f64>,
    },
}

impl JoinShortfall {
    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::StartAboveSize { .. } => "evaluate::start_above_size",
            Self::NeverEnters { .. } => "evaluate::never_enters",
            Self::StretchLimit { .. } => "evaluate::stretch_limit",
            Self::NoTurningWindow { .. } => "evaluate::no_turning_window",
            Self::CatchUnknown { .. } => "evaluate::catch_unknown",
            Self::Float { .. } => "evaluate::float",
            Self::RidgeTooFarOut { .. } => "evaluate::ridge_too_far_out",
            Self::NoGrip { .. } => "evaluate::no_grip",
            Self::StrengthUnknown { .. } => "evaluate::strength_unknown",
            Self::ShellYields { .. } => "evaluate::shell_yields",
            Self::NeverSeated => "evaluate::never_seated",
            Self::StartUnused => "evaluate::start_unused",
            Self::KeyUnused => "evaluate::key_unused",
            Self::KeyDepthUnknown => "evaluate::key_depth_unknown",
            Self::KeyNotReached { .. } => "evaluate::key_not_reached",
        }
    }

    /// The field that it is told at.
    #[must_use]
    pub fn field(&self) -> FieldId {
        match *self {
            Self::NeverEnters { field, .. }
            | Self::StretchLimit { field, .. }
            | Self::NoTurningWindow { field, .. }
            | Self::Float { field, .. }
            | Self::RidgeTooFarOut { field, .. } => field,
            Self::StartAboveSize { .. } | Self::StartUnused => FieldId::Start,
            Self::NoGrip { .. } | Self::StrengthUnknown { .. } | Self::ShellYields { .. } => {
                FieldId::HollowStagePast
            }
            // What yields first, whether or not a stage is written.
            Self::NeverSeated => FieldId::HollowShell,
            Self::KeyUnused => FieldId::HollowStageKey,
            Self::KeyDepthUnknown => FieldId::HollowLock,
            Self::KeyNotReached { field, .. } => field,
            Self::CatchUnknown { .. } => FieldId::HollowHold,
        }
    }

    /// What is found, where one figure says it.
    #[must_use]
    pub fn found(&self) -> Option<f64> {
        match *self {
            Self::StartAboveSize { start, .. } => Some(start),
            Self::NeverEnters { entry, .. } => Some(entry),
            Self::StretchLimit { strain, .. } => Some(strain),
            Self::NoTurningWindow { overlap, .. } => Some(overlap),
            Self::RidgeTooFarOut { there, .. } => Some(there),
            Self::CatchUnknown { overlap, .. } => Some(overlap),
            Self::Float { float, .. } => Some(float),
            Self::NoGrip { past, .. } | Self::ShellYields { past, .. } => Some(past),
            Self::KeyNotReached { reached, .. } => Some(reached),
            Self::StrengthUnknown { .. }
            | Self::NeverSeated
            | Self::KeyUnused
            | Self::KeyDepthUnknown
            | Self::StartUnused => None,
        }
    }

    /// What it should be, where one figure says it.
    #[must_use]
    pub fn wanted(&self) -> Option<f64> {
        match *self {
            Self::StartAboveSize { size, .. } => Some(size),
            Self::StretchLimit { allowed, .. } => Some(allowed.strain),
            Self::NoTurningWindow { hold, .. } => Some(hold),
            Self::RidgeTooFarOut { needed, .. } => Some(needed),
            Self::Float { most, .. } => Some(most),
            Self::NoGrip { fits, .. } => fits,
            Self::ShellYields { yields, .. } => Some(yields),
            Self::KeyNotReached { key, .. } => Some(key),
            Self::NeverEnters { .. }
            | Self::CatchUnknown { .. }
            | Self::StrengthUnknown { .. }
            | Self::NeverSeated
            | Self::KeyUnused
            | Self::KeyDepthUnknown
            | Self::StartUnused => None,
        }
    }

    /// The field that would mend it alone, and its value: a length in mm.
    #[must_use]
    pub fn fits(&self) -> Option<(FieldId, f64)> {
        match *self {
            Self::StartAboveSize { fits, .. } => Some((FieldId::Start, fits)),
            Self::NeverEnters { field, fits, .. } => fits.map(|value| (field, value)),
            Self::StretchLimit { fits, .. } => fits,
            Self::NoTurningWindow { keeps, raised, .. } => {
                keeps.map(|value| (FieldId::HollowHold, value)).or(raised)
            }
            Self::RidgeTooFarOut { fits, .. } => Some((FieldId::HollowRidgePlay, fits)),
            Self::NoGrip { fits, .. } | Self::ShellYields { fits, .. } => {
                fits.map(|value| (FieldId::HollowStagePast, value))
            }
            Self::KeyNotReached { fits, .. } => fits.map(|past| (FieldId::HollowStagePast, past)),
            Self::Float { field, fits, .. } => fits.map(|value| (field, value)),
            Self::CatchUnknown { .. }
            | Self::StrengthUnknown { .. }
            | Self::NeverSeated
            | Self::KeyUnused
            | Self::KeyDepthUnknown
            | Self::StartUnused => None,
        }
    }
}
