//! What the skin meets: nickel, cadmium and lead of each part, against the limits that are known.

use rust_decimal::Decimal;

use crate::catalogue::{SkinLimit, is_limited, skin_limits};
use crate::model::{Alloy, Band};

use super::judgement::Judgement;
use super::precious::Portion;
use super::reason::Reason;
use super::shortfall::FinenessShortfall;

/// An element in a part, under one limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The part.
    pub part: Portion,
    /// Parts per thousand held.
    pub held: Decimal,
    /// The limit.
    pub limit: &'static SkinLimit,
    /// Whether it is broken; none where composition does not tell.
    pub broken: Option<bool>,
}

/// Every restricted element of every part, in the order of the parts; what touches the finger longest is the
/// sleeve.
///
/// A limit is broken where more than it names is held, or as much where the text says so. Exact.
pub fn contacts(band: &Band) -> impl Iterator<Item = Contact> {
    metals(band).flat_map(|(part, alloy)| {
        let held = alloy.parts.iter().filter(|(_, held)| !held.is_zero());
        let held = held.filter(|(element, _)| is_limited(element));
        held.flat_map(move |(element, held)| {
            let limits = skin_limits().iter();
            let limits = limits.filter(move |limit| limit.element == *element);
            limits.map(move |limit| Contact {
                part,
                held: *held,
                limit,
                broken: limit
                    .limit
                    .map(|most| *held > most || (!limit.above && *held == most)),
            })
        })
    })
}

/// Every limit that is law, and that a part of a band breaks.
pub fn restricted(band: &Band) -> impl Iterator<Item = FinenessShortfall> {
    let binding = contacts(band).filter(|one| one.limit.binding && one.broken == Some(true));
    binding.filter_map(|one| {
        Some(FinenessShortfall::Restricted {
            part: one.part,
            held: one.held,
            most: one.limit.limit?,
            limit: one.limit,
        })
    })
}

/// A tag that claims more than is there, where no rulebook is asked that would say so.
///
/// `judged` is what ISO 9202 says of it, which knows no shortfall, and no law of its own.
pub fn overstated<'a>(
    band: &Band,
    judged: impl FnOnce() -> Option<&'a Judgement>,
) -> Option<FinenessShortfall> {
    if band.marking.tag.is_none() || !band.marking.asked.is_empty() {
        return None;
    }
    let mut reasons = judged()?.reasons.iter();
    let of_tag = |reason: &&Reason| {
        matches!(
            reason,
            Reason::TagOver { .. } | Reason::TagMetal(_) | Reason::TagSolid
        )
    };
    let reason = *reasons.find(of_tag)?;
    Some(FinenessShortfall::Tag { reason })
}

/// The metals of a band, each with the part that it makes.
fn metals(band: &Band) -> impl Iterator<Item = (Portion, &Alloy)> {
    let (first, second) = match &band.hollow {
        Some(hollow) => (
            (Portion::Sleeve, &*hollow.sleeve.alloy),
            Some((Portion::Shell, &*hollow.shell.alloy)),
        ),
        None => ((Portion::Band, &*band.alloy), None),
    };
    let solder = band.marking.solder.as_ref();
    let solder = solder.map(|solder| (Portion::Solder, &*solder.alloy));
    [Some(first), second, solder].into_iter().flatten()
}
