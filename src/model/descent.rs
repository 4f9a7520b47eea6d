//! What each variant is made of: its line of bands, parents before children.
//!
//! Input: the bands as written. Output: the parent of each, and an order in which parents come first. A name
//! that no band has, a loop and a line longer than anyone needs are one finding each; the variant they belong
//! to, and all that are made of it, then stand without a parent.

use std::collections::HashMap;

use crate::finding::{Finding, is_full};
use crate::suggest::{nearest, of_bands};

use super::error::ModelError;
use super::top::BandEntry;

/// How many bands may be made of each other in a row: every one repeats all that it is made of, so a line
/// without end would multiply the recipe.
const LONGEST_LINE: usize = 64;

/// The lines of all bands.
pub(super) struct Descent {
    /// Places of all bands, parents before what is made of them.
    pub order: Vec<usize>,
    /// The parent of each band.
    pub parents: Vec<Option<usize>>,
    /// Whether a band, or what it is made of, lacks its parent.
    pub orphans: Vec<bool>,
}

impl Descent {
    pub fn of(bands: &[BandEntry<'_>], findings: &mut Vec<Finding>) -> Self {
        let places: HashMap<&str, usize> = bands
            .iter()
            .enumerate()
            .map(|(place, band)| (band.name.as_str(), place))
            .collect();
        let mut parents: Vec<Option<usize>> = Vec::new();
        for band in bands {
            let parent = band.parent.as_ref();
            let found = parent.and_then(|name| places.get(name.value.as_str()).copied());
            if found.is_none() && parent.is_some() {
                let unknown = unknown(bands, band, !is_full(findings));
                findings.extend(unknown.map(Finding::from));
            }
            parents.push(found);
        }
        let depths = depths(bands, &mut parents, findings);
        let mut order: Vec<usize> = (0..bands.len()).collect();
        order.sort_by_key(|place| depths.get(*place).copied());
        let mut orphans = vec![false; bands.len()];
        for place in &order {
            let parent = parents.get(*place).copied().flatten();
            let lost = match parent {
                Some(parent) => orphans.get(parent) == Some(&true),
                None => bands.get(*place).is_some_and(|band| band.parent.is_some()),
            };
            if let Some(orphan) = orphans.get_mut(*place) {
                *orphan = lost;
            }
        }
        Self {
            order,
            parents,
            orphans,
        }
    }
}

/// How many bands each is made of; cuts the parents that close a loop or make a line too long.
fn depths(
    bands: &[BandEntry<'_>],
    parents: &mut [Option<usize>],
    findings: &mut Vec<Finding>,
) -> Vec<usize> {
    let mut depths: Vec<Option<usize>> = vec![None; bands.len()];
    let mut way: Vec<usize> = Vec::new();
    let mut stands: Vec<bool> = vec![false; bands.len()];
    for start in 0..bands.len() {
        let mut next = Some(start);
        let mut base = 0;
        while let Some(place) = next {
            if let Some(depth) = depths.get(place).copied().flatten() {
                base = depth + 1;
                break;
            }
            if stands.get(place) == Some(&true) {
                let from = way.iter().position(|known| *known == place).unwrap_or(0);
                let members = way.get(from..).unwrap_or(&[]);
                findings.extend(circle(bands, members).map(Finding::from));
                for member in members {
                    if let Some(parent) = parents.get_mut(*member) {
                        *parent = None;
                    }
                }
                break;
            }
            if let Some(stands) = stands.get_mut(place) {
                *stands = true;
            }
            way.push(place);
            next = parents.get(place).copied().flatten();
        }
        while let Some(place) = way.pop() {
            if parents.get(place).copied().flatten().is_none() {
                base = 0;
            }
            if base > LONGEST_LINE {
                findings.extend(too_long(bands, place).map(Finding::from));
                if let Some(parent) = parents.get_mut(place) {
                    *parent = None;
                }
                base = 0;
            }
            if let Some(depth) = depths.get_mut(place) {
                *depth = Some(base);
            }
            base += 1;
        }
    }
    depths.into_iter().map(Option::unwrap_or_default).collect()
}

/// The finding for a parent that is not there; the one that was meant is looked for where it is `sought`.
fn unknown(bands: &[BandEntry<'_>], band: &BandEntry<'_>, sought: bool) -> Option<ModelError> {
    let parent = band.parent.as_ref()?;
    let names = bands
        .iter()
        .map(|known| known.name.as_str())
        .filter(|name| *name != band.name);
    let near = sought
        .then(|| nearest(&parent.value, names.clone()))
        .flatten();
    let near = near.map(str::to_owned);
    let help = of_bands(near.as_deref(), names);
    Some(ModelError::UnknownName {
        at: parent.span,
        name: parent.value.clone(),
        kind: "the band",
        help,
        nearest: near,
    })
}

/// One finding for one loop: at the first of its bands in the text, with the way round.
fn circle(bands: &[BandEntry<'_>], members: &[usize]) -> Option<ModelError> {
    let first = members.iter().min()?;
    let from = members.iter().position(|member| member == first)?;
    let (before, behind) = members.split_at(from);
    let round = behind.iter().chain(before).chain([first]);
    let words: Vec<&str> = round
        .filter_map(|place| bands.get(*place))
        .map(|band| band.name.as_str())
        .collect();
    let band = bands.get(*first)?;
    Some(ModelError::Circle {
        help: "give one of them a value of its own".to_owned(),
        at: band.parent.as_ref()?.span,
        name: band.name.clone(),
        chain: words.join(" needs "),
    })
}

fn too_long(bands: &[BandEntry<'_>], place: usize) -> Option<ModelError> {
    Some(ModelError::NoResult {
        at: bands.get(place)?.parent.as_ref()?.span,
        message: "too many bands are made of each other in a row to get here",
        help: "make this one of a band further up the line",
    })
}
