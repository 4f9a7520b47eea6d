//! What the skin meets: nickel, cadmium and lead of each part, against the limits that are known.

use rust_decimal::Decimal;

use crate::catalogue::{SkinLimit, is_limited, skin_limits};
use crate::model::{Alloy, Band};

/// An element in a part, under one limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// `band`, `shell`, `sleeve` or `solder`.
    pub part: &'static str,
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
/// A limit is broken where as much as it names, or more, is held. Exact.
#[must_use]
pub fn contacts(band: &Band) -> Vec<Contact> {
    let mut all = Vec::new();
    for (part, alloy) in metals(band) {
        let held = alloy.parts.iter().filter(|(_, held)| !held.is_zero());
        for (element, held) in held.filter(|(element, _)| is_limited(element)) {
            let limits = skin_limits().iter();
            for limit in limits.filter(|limit| limit.element == *element) {
                all.push(Contact {
                    part,
                    held: *held,
                    limit,
                    broken: limit.limit.map(|most| *held >= most),
                });
            }
        }
    }
    all
}

/// The metals of a band, each with the part that it makes.
fn metals(band: &Band) -> Vec<(&'static str, &Alloy)> {
    let mut metals: Vec<(&'static str, &Alloy)> = match &band.hollow {
        Some(hollow) => vec![
            ("sleeve", &*hollow.sleeve.alloy),
            ("shell", &*hollow.shell.alloy),
        ],
        None => vec![("band", &*band.alloy)],
    };
    let solder = band.marking.solder.as_ref();
    metals.extend(solder.map(|solder| ("solder", &*solder.alloy)));
    metals
}
