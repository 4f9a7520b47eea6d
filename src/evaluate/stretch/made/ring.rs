//! The ring that parts as made come to against the one ordered: its bore, its outside, its width, the order of its stages.

use crate::kernel::section::Catch;
use crate::model::Band;
use crate::schema::FieldId;

use super::super::super::error::{LimitError, ROUNDING};
use super::super::findings::places;
use super::super::hollow::Joined;
use super::clash::{CATCHING, Clash, clash};
use super::findings::{clash_of, mended};
use super::{Made, Measured, Opened, Parts, made_of};
use crate::kernel::Figures;
use crate::kernel::Input;

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

/// One figure of a ring as made against the one ordered, mm.
pub(super) struct Off {
    /// What of the ring.
    pub what: &'static str,
    /// What it comes to.
    pub is: f64,
    /// What is ordered.
    pub ordered: f64,
    /// The fields that could mend it, in the order that they are looked for.
    pub fields: &'static [FieldId],
}

impl Off {
    fn by(&self) -> f64 {
        self.is - self.ordered
    }

    /// Whether it misses by more than it may.
    pub fn misses(&self, input: &Input) -> bool {
        self.by().abs() > input.stretch.off_size + ROUNDING
    }

    /// The finding for a figure that misses; `takes`: what the ring of other measured figures comes to, none where
    /// they clash.
    pub fn finding(
        &self,
        band: &Band,
        input: &Input,
        takes: &dyn Fn(&Measured) -> Option<Vec<Off>>,
    ) -> Option<LimitError> {
        let accepts = |measured: &Measured| {
            let all = takes(measured);
            let own = all.and_then(|all| all.into_iter().find(|one| one.what == self.what));
            own.is_some_and(|own| !own.misses(input))
        };
        let (path, value) = mended(input, self.fields, &accepts);
        let path = path?;
        let wide = self.by() > 0.0;
        let sign = if self.what == "a width" {
            ""
        } else {
            "\u{D8} "
        };
        let shown = |value: f64| format!("{sign}{}", places(value));
        let first = match (self.what, wide) {
            ("a width", true) => "face it down",
            ("a width", false) => "a width that is gone does not come back: make it anew",
            ("an outside", true) => "turn it down",
            ("an outside", false) => "metal that is gone does not come back: make it anew",
            _ => "turn a sleeve for this shell",
        };
        Some(LimitError::MadeOff {
            at: band.place(path),
            band: band.name.clone(),
            what: self.what,
            is: shown(self.is),
            ordered: shown(self.ordered),
            off: places(self.by().abs()),
            than: match (self.what, wide) {
                ("a width", true) => "wider",
                ("a width", false) => "narrower",
                (_, true) => "larger",
                (_, false) => "smaller",
            },
            limit: places(input.stretch.off_size),
            help: match value {
                Some(value) => format!(
                    "{first}; `{} {} mm` would just do",
                    path.word(),
                    places(value)
                ),
                None => first.to_owned(),
            },
        })
    }
}

/// A width against the one ordered.
pub(super) fn width(input: &Input, is: f64, fields: &'static [FieldId]) -> Off {
    Off {
        what: "a width",
        is,
        ordered: input.shape.width,
        fields,
    }
}

/// A largest outside against the one ordered.
pub(super) fn outside(is: f64, ordered: f64, fields: &'static [FieldId]) -> Off {
    Off {
        what: "an outside",
        is,
        ordered,
        fields,
    }
}

/// What of a ring is judged.
fn figures_of(input: &Input, joined: &Joined, made: &Made) -> Vec<Off> {
    let lips = matches!(
        input.shape.hollow.map(|hollow| hollow.catch),
        Some(Catch::Lip { .. })
    );
    // Faces are made flush: the narrower part decides, but for a shell that is to be faced down.
    let flush = if lips { 0.0 } else { made.proud.min(0.0) };
    let (wide, narrow) = (made.width, made.width + flush);
    let ordered = input.shape.width;
    let further = if wide - ordered > ordered - narrow {
        wide
    } else {
        narrow
    };
    vec![
        bore(input, made.bore),
        outside(made.outside, 2.0 * joined.shell_back.0.outer, OUTSIDE),
        width(input, further, WIDTH),
    ]
}

fn bore(input: &Input, is: f64) -> Off {
    Off {
        what: "a bore",
        is,
        ordered: 2.0 * input.shape.radius,
        fields: BORE,
    }
}

/// What of a ring misses the order.
pub(super) fn off(
    band: &Band,
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    made: &Made,
) -> Vec<LimitError> {
    let takes = |measured: &Measured| {
        clash_of(input, joined, measured)
            .is_none()
            .then(|| made_of(input, figures, joined, measured))
            .flatten()
            .map(|made| figures_of(input, joined, &made))
    };
    let all = figures_of(input, joined, made).into_iter();
    all.filter(|one| one.misses(input))
        .filter_map(|one| one.finding(band, input, &takes))
        .collect()
}

/// Why a sleeve does not suit its shell: they clash, or come to another size than ordered.
pub(super) fn misfit(input: &Input, joined: &Joined, parts: &Parts) -> Option<Clash> {
    let clashes = clash(input, joined, parts, true);
    clashes.or_else(|| {
        let opened = Opened::of(input, joined, *parts)?;
        let size = bore(input, 2.0 * opened.sleeve.1.pair.inner);
        size.misses(input).then(|| Clash {
            what: format!(
                "it comes to a bore of \u{D8} {} mm, and \u{D8} {} mm are ordered",
                places(size.is),
                places(size.ordered)
            ),
            label: "another size",
            fields: &[FieldId::MadeShellBore, FieldId::MadeShellLipBore],
        })
    })
}

/// Parts that seat before they are caught well, or at all, where those ordered do not.
pub(super) fn out_of_order(
    band: &Band,
    input: &Input,
    figures: &Figures,
    joined: &Joined,
    made: &Made,
) -> Option<LimitError> {
    // One that is built to turn is never seated; how it is caught is judged as it is.
    let overlap = made.overlap_seated.filter(|_| !input.stretch.turning)?;
    let wanted = [joined.hold, 0.0]
        .into_iter()
        .find(|wanted| joined.overlap >= wanted - ROUNDING)?;
    if overlap >= wanted - ROUNDING {
        return None;
    }
    let in_order = |measured: &Measured| {
        clash_of(input, joined, measured).is_none()
            && made_of(input, figures, joined, measured)
                .and_then(|made| made.overlap_seated)
                .is_some_and(|overlap| overlap >= wanted - ROUNDING)
    };
    let (path, value) = mended(input, CATCHING, &in_order);
    let path = path?;
    Some(LimitError::NoTurningWindow {
        at: band.place(path),
        band: band.name.clone(),
        what: "has no turning window with its parts as made: seated, it is caught",
        overlap: places(overlap),
        hold: places(joined.hold),
        label: "it is seated before it turns".to_owned(),
        help: match value {
            Some(value) => format!(
                "turn a sleeve for this shell; `{} {} mm` would just do",
                path.word(),
                places(value)
            ),
            None => "turn a sleeve for this shell".to_owned(),
        },
    })
}
