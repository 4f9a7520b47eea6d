//! What readings leave open of a band: which fields, and between what they are looked for.

use crate::schema::FieldId;

use super::hand::{Hand, Has, InHand, trimmed};
use super::text::{mm_range, up};

/// A field that readings leave open, and between what it is looked for, mm or as a part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unknown {
    pub id: FieldId,
    pub bounds: (f64, f64),
}

impl Unknown {
    /// Its path.
    pub fn path(self) -> &'static str {
        self.id.path()
    }

    /// A value as it is written.
    pub fn written(&self, value: f64) -> String {
        match self.id {
            FieldId::PatternCover => format!("{} %", trimmed(value * 100.0, 3)),
            _ => format!("{} mm", trimmed(value, 4)),
        }
    }

    /// The same with what it may be off by.
    pub fn written_off(&self, value: f64, off: f64) -> String {
        let off = match self.id {
            FieldId::PatternCover => format!("{} %", trimmed(up(off * 100.0, 2), 2)),
            _ => format!("{} mm", trimmed(up(off, 4), 4)),
        };
        format!("{} \u{B1} {off}", self.written(value))
    }

    pub fn range(&self, low: f64, high: f64) -> String {
        match self.id {
            FieldId::PatternCover => {
                format!(
                    "{} to {} %",
                    trimmed(low * 100.0, 1),
                    trimmed(high * 100.0, 1)
                )
            }
            _ => mm_range(low, high),
        }
    }
}

/// Which two of the measures across are written: those that leave the least open.
pub(super) fn across(hand: &Hand) -> Vec<&InHand> {
    let all = ["inside", "outside", "thickness"].map(|word| hand.get(word));
    match all {
        [Some(inside), Some(outside), Some(thick)] => {
            // The bore by outside and thickness is off by twice the thickness too.
            match inside.off > outside.off + 2.0 * thick.off {
                true => vec![outside, thick],
                false => vec![inside, outside],
            }
        }
        all => all.into_iter().flatten().collect(),
    }
}

/// About how thick the ring is, mm.
fn thick(hand: &Hand) -> f64 {
    let value = |word| hand.get(word).map(|one: &InHand| one.value);
    let across = value("outside").zip(value("inside"));
    value("thickness")
        .or(across.map(|(outside, inside)| (outside - inside) / 2.0))
        .unwrap_or(1.5)
        .max(0.2)
}

/// What readings leave open, in the order that it is asked for.
pub(super) fn unknowns(hand: &Hand) -> Vec<Unknown> {
    let mut all = Vec::new();
    let mut add = |id, bounds| all.push(Unknown { id, bounds });
    let across = ["inside", "outside", "thickness"].map(|word| hand.get(word));
    match across {
        [Some(_), Some(_), _] | [Some(_), _, Some(_)] | [_, Some(_), Some(_)] => {}
        [Some(_), None, None] => add(FieldId::Thickness, (0.2, 8.0)),
        [None, Some(outside), None] => {
            let bounds = (outside.value * 0.4, outside.value - 0.4);
            add(FieldId::Size, bounds);
        }
        [None, None, Some(_)] => add(FieldId::Size, (8.0, 60.0)),
        [None, None, None] => {
            add(FieldId::Size, (8.0, 60.0));
            add(FieldId::Thickness, (0.2, 8.0));
        }
    }
    if hand.get("width").is_none() {
        add(FieldId::Width, (0.5, 40.0));
    }
    let thick = thick(hand);
    let profile = hand.profile.as_deref().unwrap_or("flat");
    let fields: &[FieldId] = match profile {
        "domed" | "knife-edge" => &[FieldId::ProfileEdge],
        "concave" => &[FieldId::ProfileDip],
        "bevelled" => &[FieldId::ProfileAcross, FieldId::ProfileDown],
        _ => &[],
    };
    for id in fields {
        if !hand.states(*id) {
            add(*id, (0.02 * thick, thick * 0.999));
        }
    }
    if hand.hollow == Has::Yes {
        if !hand.states(FieldId::HollowShell) {
            add(FieldId::HollowShell, (0.05, thick));
        }
        if !hand.states(FieldId::HollowSleeve) {
            add(FieldId::HollowSleeve, (0.05, thick));
        }
    }
    let drawn = hand.stated.iter().any(|path| {
        let of_cut = path
            .strip_prefix("pattern.")
            .is_some_and(|rest| rest.contains('.'));
        of_cut || path == FieldId::PatternCutter.path()
    });
    if hand.pattern == Has::Yes && !drawn {
        if !hand.states(FieldId::PatternDepth) {
            add(FieldId::PatternDepth, (0.002, thick * 0.98));
        }
        if !hand.states(FieldId::PatternCover) {
            add(FieldId::PatternCover, (0.001, 1.0));
        }
    }
    all
}
