//! An assay belongs to the metal that it was made of.
//!
//! A layer (a variant, `--set`, `try`) that gives a band or a part another alloy, and states no assay, takes away what
//! was found of the alloy before; a note says so. So does one that mixes an alloy anew.

use rust_decimal::{Decimal, dec};

use crate::catalogue;
use crate::finding::Finding;
use crate::schema::FieldId;
use crate::source::Span;

use super::alloy::Alloy;
use super::band::Band;
use super::error::ModelError;
use super::marking::Marking;
use super::merge::{Node, node};
use super::note::ModelNote;

/// What a band's assays are of: the word that decides, by what it is of.
struct Assayable<'t> {
    band: Option<&'t str>,
    shell: Option<&'t str>,
    sleeve: Option<&'t str>,
    solder: Option<&'t str>,
}

impl<'t> Assayable<'t> {
    fn of(nodes: &[Node<'t>]) -> Self {
        let word = |id: FieldId| node(nodes, id.path()).and_then(Node::word);
        let band = word(FieldId::Alloy);
        Self {
            band,
            shell: word(FieldId::HollowShellAlloy).or(band),
            sleeve: word(FieldId::HollowSleeveAlloy).or(band),
            solder: word(FieldId::Solder),
        }
    }
}

/// Every assay of a band; that of the band's own metal holds the one of the whole.
const ASSAYS: [FieldId; 4] = [
    FieldId::Assay,
    FieldId::AssayWhole,
    FieldId::HollowShellAssay,
    FieldId::HollowSleeveAssay,
];

/// How often a field was stated so far.
fn said(nodes: &[Node<'_>], id: FieldId) -> usize {
    node(nodes, id.path()).map_or(0, |node| node.places.len())
}

/// Lays something over a band, and takes away the assays of metal that it replaces.
pub(super) fn kept<'t>(
    nodes: &mut Vec<Node<'t>>,
    findings: &mut Vec<Finding>,
    lay: impl FnOnce(&mut Vec<Node<'t>>, &mut Vec<Finding>),
) {
    let before = Assayable::of(nodes);
    let counts = ASSAYS.map(|id| (id, said(nodes, id)));
    lay(nodes, findings);
    if counts.iter().all(|(_, count)| *count == 0) {
        return;
    }
    let after = Assayable::of(nodes);
    let anything = [
        (before.band, after.band),
        (before.shell, after.shell),
        (before.sleeve, after.sleeve),
        (before.solder, after.solder),
    ];
    let other = anything.into_iter().find(|(was, is)| was != is);
    for (id, count) in counts {
        let (was, is) = match id {
            FieldId::HollowShellAssay => (before.shell, after.shell),
            FieldId::HollowSleeveAssay => (before.sleeve, after.sleeve),
            FieldId::AssayWhole => other.unwrap_or_default(),
            _ => (before.band, after.band),
        };
        if count == 0 || was == is || said(nodes, id) != count {
            continue;
        }
        let own = match id {
            FieldId::HollowShellAssay => node(nodes, FieldId::HollowShellAlloy.path()),
            FieldId::HollowSleeveAssay => node(nodes, FieldId::HollowSleeveAlloy.path()),
            _ => None,
        };
        let at = own
            .or_else(|| node(nodes, FieldId::Alloy.path()))
            .map(|node| node.at);
        // A whole that is stated anew wants its parts stated too, which is said where the band is put together.
        let whole_anew = id == FieldId::Assay
            && counts
                .iter()
                .any(|(id, count)| *id == FieldId::AssayWhole && said(nodes, *id) != *count);
        let Some(written) = (if whole_anew {
            cleared(nodes, id.path())
        } else {
            taken(nodes, id.path())
        }) else {
            continue;
        };
        let name = |word: Option<&str>| word.map_or("none".to_owned(), |word| format!("`{word}`"));
        findings.push(
            ModelNote::AssayLeft {
                at: at.unwrap_or(written),
                written,
                was: name(was),
                is: name(is),
            }
            .into(),
        );
    }
}

/// Takes the figure of an assay away; where it was written.
fn cleared(nodes: &mut [Node<'_>], path: &str) -> Option<Span> {
    let node = nodes.iter_mut().find(|node| node.head == path)?;
    let written = node.winner().map(|place| place.at);
    node.places.clear();
    written
}

/// Takes an assay away with all that its block holds; where it was written.
fn taken(nodes: &mut Vec<Node<'_>>, path: &str) -> Option<Span> {
    match path.split_once('.') {
        Some((head, rest)) => {
            let holder = nodes.iter_mut().find(|node| node.head == head)?;
            taken(&mut holder.children, rest)
        }
        None => {
            let place = nodes.iter().position(|node| node.head == path)?;
            nodes.remove(place).winner().map(|place| place.at)
        }
    }
}

/// Lays something over an alloy's block, and takes its assay away where it is mixed anew.
pub(super) fn kept_of_alloy<'t>(
    nodes: &mut Vec<Node<'t>>,
    findings: &mut Vec<Finding>,
    lay: impl FnOnce(&mut Vec<Node<'t>>, &mut Vec<Finding>),
) {
    let mixed = |nodes: &[Node<'_>]| -> usize {
        let parts = nodes
            .iter()
            .filter(|node| catalogue::element(node.head).is_some());
        parts.map(|node| node.places.len()).sum()
    };
    let (before, count) = (mixed(nodes), said(nodes, FieldId::Assay));
    lay(nodes, findings);
    if count == 0 || mixed(nodes) == before || said(nodes, FieldId::Assay) != count {
        return;
    }
    let Some(written) = taken(nodes, FieldId::Assay.path()) else {
        return;
    };
    let mut parts = nodes
        .iter()
        .filter(|node| catalogue::element(node.head).is_some());
    let at = parts.next_back().map_or(written, |node| node.at);
    findings.push(
        ModelNote::AssayLeft {
            at,
            written,
            was: "another mix".to_owned(),
            is: "this one".to_owned(),
        }
        .into(),
    );
}

/// How far an assay may lie from what its alloy is mixed to hold, in parts per thousand: common practice, no source.
const FAR: Decimal = dec!(20);

/// The finding for an assay that is far from all that its alloy is mixed to hold; none where it is near.
pub(super) fn far(alloy: &Alloy, figure: Decimal, at: Span) -> Option<ModelError> {
    let precious = |(name, _): &&(String, Decimal)| {
        ["platinum", "gold", "palladium", "silver"].contains(&name.as_str())
    };
    let held = alloy.parts.iter().filter(precious);
    let (metal, nearest) = held.min_by_key(|(_, held)| (*held - figure).abs())?;
    ((*nearest - figure).abs() > FAR).then(|| ModelError::AssayFar {
        at,
        figure: figure.normalize().to_string(),
        alloy: alloy.name.clone(),
        metal: metal.clone(),
        held: nearest.normalize().to_string(),
    })
}

impl Band {
    /// Whether an assay of the band's own metal is of a part's: parts in another alloy do not take it over.
    #[must_use]
    pub fn is_of_its_metal(&self, alloy: &Alloy) -> bool {
        alloy.name == self.alloy.name
    }
}

/// What is to be said of a band's assays: those that are of no part, and those that cannot be of their metal.
pub(super) fn review(band: &Band, marking: &Marking) -> Vec<Finding> {
    let place = |id: FieldId| {
        let at = band.fields.get(id).and_then(|value| value.at);
        at.unwrap_or(band.at)
    };
    let whole = || marking.assay.iter().map(|assay| assay.figure);
    let mut found: Vec<Finding> = Vec::new();
    let mut judge = |alloy: &Alloy, figure: Decimal, id: FieldId| {
        found.extend(far(alloy, figure, place(id)).map(Finding::from));
    };
    match &band.hollow {
        None => whole().for_each(|figure| judge(&band.alloy, figure, FieldId::Assay)),
        Some(hollow) => {
            let parts = [
                (
                    &hollow.shell.alloy,
                    &marking.shell,
                    FieldId::HollowShellAssay,
                ),
                (
                    &hollow.sleeve.alloy,
                    &marking.sleeve,
                    FieldId::HollowSleeveAssay,
                ),
            ];
            let mut taken = false;
            for (alloy, own, id) in parts {
                match own {
                    Some(own) => judge(alloy, own.figure, id),
                    None => taken |= band.is_of_its_metal(alloy),
                }
            }
            if taken {
                whole().for_each(|figure| judge(&band.alloy, figure, FieldId::Assay));
            } else if marking.assay.is_some() {
                found.push(
                    ModelNote::WithoutEffect {
                        at: place(FieldId::Assay),
                        message: "this assay belongs to no part: each is of another alloy, or has an assay of its own",
                        help: "state `assay` in the block of `shell` or `sleeve`",
                    }
                    .into(),
                );
            }
        }
    }
    found
}
