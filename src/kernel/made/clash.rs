//! Two figures of parts as made that cannot both be, and the fields that could mend it.

use crate::schema::FieldId;

/// Fields that decide how far the sleeve reaches behind the feet or the lips.
pub(super) const CATCHING: &[FieldId] = &[
    FieldId::MadeSleeveRidgeTop,
    FieldId::MadeSleeveFloor,
    FieldId::MadeSleeveBore,
    FieldId::MadeSleeveEdgeBore,
    FieldId::MadeShellLipBore,
    FieldId::MadeShellBore,
];

/// What clashes with what; diameters and widths, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Clash {
    /// The shell's bore is no smaller than its outside.
    ShellGone {
        /// The bore of its feet.
        bore: f64,
        /// Its largest outside.
        outside: f64,
    },
    /// The channel reaches the shell's outside.
    ChannelThrough {
        /// The channel's roof.
        channel: f64,
        /// The shell's largest outside.
        outside: f64,
    },
    /// The channel lies under the feet.
    ChannelUnderFeet {
        /// The channel's roof.
        channel: f64,
        /// The bore of the feet.
        bore: f64,
    },
    /// The channel is as wide as the shell.
    NoFeet {
        /// Width of the channel.
        channel: f64,
        /// Width of the shell.
        shell: f64,
    },
    /// The lips lie outside the seat between them.
    LipOverSeat {
        /// The bore of the lips.
        lip: f64,
        /// The bore of the feet.
        bore: f64,
    },
    /// The sleeve's bore narrows towards its faces.
    SleeveNarrows {
        /// The bore at its faces.
        edge: f64,
        /// The bore at mid width.
        bore: f64,
    },
    /// The sleeve's outside is no larger than its bore.
    SleeveGone {
        /// Its outside beside the ridges.
        floor: f64,
        /// The bore at its faces.
        edge: f64,
    },
    /// The ridges lie under what they stand on.
    RidgeUnderFloor {
        /// The outside of the ridges.
        top: f64,
        /// The sleeve's outside beside them.
        floor: f64,
    },
    /// The ridges do not fit on the sleeve's width.
    RidgesOff {
        /// From the side face to the outermost ridge.
        from_face: f64,
        /// Width of the sleeve.
        width: f64,
    },
    /// The sleeve does not go into the shell.
    NotThrough {
        /// The sleeve's largest outside is that of ridges.
        ridges: bool,
        /// It must pass lips.
        lips: bool,
        /// The sleeve's largest outside.
        catches: f64,
        /// What it must pass.
        passes: f64,
    },
    /// No stretch takes the sleeve to the shell.
    NoStretch,
    /// The ridges meet the feet as they pass them.
    MeetFeet {
        /// How far they reach beyond the channel's end.
        short: f64,
        /// Width of the channel.
        channel: f64,
    },
    /// The ridges meet the roof of the channel.
    MeetRoof {
        /// When the ring is done, which is built to turn; else when it is seated.
        turning: bool,
        /// The outside of the ridges then.
        top: f64,
        /// The roof over them.
        roof: f64,
    },
    /// The sleeve does not go between the lips, or is too narrow there.
    BetweenLips {
        /// Whether it is too wide.
        wide: bool,
        /// The width that the sleeve ends at.
        sleeve: f64,
        /// What the lips leave.
        room: f64,
    },
    /// The widths are further apart than [`Self::FLUSH`].
    NotFlush {
        /// The width that the sleeve ends at.
        sleeve: f64,
        /// The width that the shell ends at.
        shell: f64,
    },
    /// The sleeve takes the shell to another size.
    OtherSize {
        /// The bore that it comes to.
        is: f64,
        /// The bore that is ordered.
        ordered: f64,
    },
    /// A blank's thickness is not what lies between its bore and its outside.
    BlankThickness {
        /// Its bore.
        bore: f64,
        /// Its largest outside.
        outside: f64,
        /// Its thickness.
        thickness: f64,
    },
    /// No stretch takes a blank to its size.
    BlankNoStretch,
    /// Metal is gone somewhere between a blank's bore and its outside.
    BlankGone {
        /// Its bore.
        bore: f64,
        /// Its largest outside.
        outside: f64,
    },
    /// A blank is larger than its finished size.
    BlankLarger {
        /// Its bore.
        bore: f64,
        /// The finished bore.
        size: f64,
    },
}

impl Clash {
    /// What two widths may differ by and still be faced flush, mm (common practice, no source).
    pub const FLUSH: f64 = 0.10;

    /// The fields that could mend it, in the order that they are looked for.
    #[must_use]
    pub fn fields(&self) -> &'static [FieldId] {
        use FieldId as F;
        match self {
            Self::ShellGone { .. } => &[F::MadeShellBore, F::MadeShellOutside],
            Self::ChannelThrough { .. } => &[F::MadeShellChannel, F::MadeShellOutside],
            Self::ChannelUnderFeet { .. } => &[F::MadeShellChannel, F::MadeShellBore],
            Self::NoFeet { .. } => &[
                F::MadeShellChannelWidth,
                F::MadeShellWidth,
                F::MadeSleeveWidth,
            ],
            Self::LipOverSeat { .. } => &[F::MadeShellLipBore, F::MadeShellBore],
            Self::OtherSize { .. } => &[F::MadeShellBore, F::MadeShellLipBore],
            Self::SleeveNarrows { .. } => &[F::MadeSleeveEdgeBore, F::MadeSleeveBore],
            Self::SleeveGone { .. } => &[
                F::MadeSleeveFloor,
                F::MadeSleeveBore,
                F::MadeSleeveEdgeBore,
                F::MadeSleeveRidgeTop,
            ],
            Self::RidgeUnderFloor { .. } => {
                &[F::MadeSleeveRidgeTop, F::MadeSleeveFloor, F::MadeSleeveBore]
            }
            Self::RidgesOff { .. } => &[
                F::MadeSleeveRidgeFromFace,
                F::MadeSleeveWidth,
                F::MadeShellWidth,
            ],
            Self::NotThrough { .. } => CATCHING,
            Self::NoStretch => &[
                F::MadeSleeveBore,
                F::MadeSleeveFloor,
                F::MadeSleeveRidgeTop,
                F::MadeShellBore,
                F::MadeShellOutside,
            ],
            Self::MeetFeet { .. } => &[
                F::MadeSleeveRidgeFromFace,
                F::MadeShellChannelWidth,
                F::MadeSleeveWidth,
                F::MadeShellWidth,
                F::MadeSleeveRidgeTop,
            ],
            Self::MeetRoof { .. } => &[
                F::MadeSleeveRidgeTop,
                F::MadeShellChannel,
                F::MadeSleeveFloor,
                F::MadeShellBore,
                F::MadeSleeveBore,
            ],
            Self::BetweenLips { .. } | Self::NotFlush { .. } => {
                &[F::MadeSleeveWidth, F::MadeShellWidth]
            }
            Self::BlankThickness { .. } => &[F::MadeBlankThickness],
            Self::BlankNoStretch | Self::BlankLarger { .. } => {
                &[F::MadeBlankBore, F::MadeBlankThickness, F::MadeBlankOutside]
            }
            Self::BlankGone { .. } => {
                &[F::MadeBlankOutside, F::MadeBlankThickness, F::MadeBlankBore]
            }
        }
    }

    /// The figure that is found, and the one that it clashes with, where two figures say it.
    #[must_use]
    pub fn figures(&self) -> Option<(f64, f64)> {
        Some(match *self {
            Self::ShellGone { bore, outside } | Self::BlankGone { bore, outside } => {
                (bore, outside)
            }
            Self::ChannelThrough { channel, outside } => (channel, outside),
            Self::ChannelUnderFeet { channel, bore } => (channel, bore),
            Self::NoFeet { channel, shell } => (channel, shell),
            Self::LipOverSeat { lip, bore } => (lip, bore),
            Self::SleeveNarrows { edge, bore } => (edge, bore),
            Self::SleeveGone { floor, edge } => (floor, edge),
            Self::RidgeUnderFloor { top, floor } => (top, floor),
            Self::RidgesOff { from_face, width } => (from_face, width),
            Self::NotThrough {
                catches, passes, ..
            } => (catches, passes),
            Self::MeetFeet { short, .. } => (short, 0.0),
            Self::MeetRoof { top, roof, .. } => (top, roof),
            Self::BetweenLips { sleeve, room, .. } => (sleeve, room),
            Self::NotFlush { sleeve, shell } => (sleeve, shell),
            Self::OtherSize { is, ordered } => (is, ordered),
            Self::BlankThickness {
                bore,
                outside,
                thickness,
            } => (thickness, (outside - bore) / 2.0),
            Self::BlankLarger { bore, size } => (bore, size),
            Self::NoStretch | Self::BlankNoStretch => return None,
        })
    }
}
