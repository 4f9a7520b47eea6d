//! How many rings are begun so that as many as are ordered are finished, and in how many batches.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::model::money::Order;

use super::cost::Job;
use super::workpiece::Workpiece;

/// How often an order pays the set-up for a band.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetUps {
    /// The band.
    pub band: String,
    /// Rings begun, in all sizes.
    pub begun: u32,
    /// Rings in a batch of the workshop.
    pub batch: u32,
    /// Batches that they are made in.
    pub times: u32,
}

/// Rings begun for each line of an order.
///
/// # Formula
/// All of a band: count / (1 - rejects), up to whole rings; what is begun beyond the count falls to its lines by their
/// counts, whole rings first, then one each to the largest rests, the first of equals.
pub(super) fn begun(order: &Order, rings: &[(Workpiece, String)]) -> Vec<u32> {
    let mut found = vec![0; order.items.len()];
    let mut by_band: FxHashMap<&str, Vec<(usize, u32)>> = FxHashMap::default();
    for (place, (item, _)) in order.items.iter().zip(rings).enumerate() {
        let mine = by_band.entry(&item.band).or_default();
        mine.push((place, item.count));
    }
    for mine in by_band.into_values() {
        let counts: Vec<u32> = mine.iter().map(|(_, count)| *count).collect();
        let Some((work, _)) = mine.first().and_then(|(place, _)| rings.get(*place)) else {
            continue;
        };
        let share = Job::of(work, 1).rejects();
        for ((place, _), begun) in mine.iter().zip(shared_out(&counts, share)) {
            if let Some(found) = found.get_mut(*place) {
                *found = begun;
            }
        }
    }
    found
}

fn shared_out(counts: &[u32], share: Decimal) -> Vec<u32> {
    let total: u64 = counts.iter().map(|count| u64::from(*count)).sum();
    let all = Decimal::from(total).checked_div(Decimal::ONE - share);
    // Of more rings than can be counted none is enough.
    let all = all.and_then(|all| all.ceil().to_u64()).unwrap_or(u64::MAX);
    let more = u128::from(all.saturating_sub(total));
    let of = |count: u32| more * u128::from(count);
    let by = u128::from(total.max(1));
    let mut begun: Vec<u128> = counts
        .iter()
        .map(|count| u128::from(*count) + of(*count) / by)
        .collect();
    let left = u128::from(all) - begun.iter().sum::<u128>().min(u128::from(all));
    let mut rests: Vec<usize> = (0..counts.len()).collect();
    // A stable sort: of equal rests the first is served first.
    rests.sort_by_key(|place| {
        std::cmp::Reverse(counts.get(*place).map_or(0, |count| of(*count) % by))
    });
    for place in rests.into_iter().take(left.to_usize().unwrap_or_default()) {
        if let Some(begun) = begun.get_mut(place) {
            *begun += 1;
        }
    }
    let begun = begun.into_iter();
    begun
        .map(|begun| u32::try_from(begun).unwrap_or(u32::MAX))
        .collect()
}

/// Batches of each band, in the order written.
///
/// # Formula
/// begun / batch, up to whole ones
pub(super) fn batches(order: &Order, of_band: &dyn Fn(&str) -> u32, batch: u32) -> Vec<SetUps> {
    let mut found: Vec<SetUps> = Vec::new();
    let mut done: FxHashSet<&str> = FxHashSet::default();
    for item in &order.items {
        if done.insert(&item.band) {
            let begun = of_band(&item.band);
            found.push(SetUps {
                band: item.band.clone(),
                begun,
                batch: batch.max(1),
                times: begun.div_ceil(batch.max(1)),
            });
        }
    }
    found
}
