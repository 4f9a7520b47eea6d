//! Paths of blocks that are no band, for completion: what begins so, and the dimension that is due behind one.

use crate::model::{Alloy, Value};
use crate::quantity::Dimension;
use crate::schema::{self, BlockId};

use super::Bench;
use super::due::{Candidate, dimension};

/// What a word that begins with the name of an alloy, a profile, `prices` or `shop` can become; without a point
/// the names themselves, each with the point that goes on.
pub(super) fn block_paths(bench: &Bench, word: &str) -> Vec<Candidate> {
    let Some((first, _)) = word.split_once('.') else {
        let money = bench.outcome.recipe.money.as_ref();
        let money = money.iter().flat_map(|money| money.said.settings());
        let blocks = money.map(|setting| setting.value.field.block);
        let words = blocks
            .filter(|block| *block != BlockId::Stock)
            .map(BlockId::word);
        let named = ["alloy", "profile", "stock"].map(|kind| bench.prepared.named(kind));
        let named = named.into_iter().flatten();
        let all = named.chain(words.map(str::to_owned));
        return all.map(|name| format!("{name}.")).collect();
    };
    if let Some(alloy) = own_alloy(bench, first) {
        let written = alloy.places.iter().map(|(path, _)| path);
        return written.map(|path| format!("{first}.{path}")).collect();
    }
    if bench
        .prepared
        .named("profile")
        .iter()
        .any(|name| name == first)
    {
        let words = schema::held_by("profile").map(schema::Field::word);
        return words.map(|word| format!("{first}.{word}")).collect();
    }
    let money = bench.outcome.recipe.money.as_ref();
    let settings = money.iter().flat_map(|money| money.said.settings());
    let of_stock = |path: String| path.strip_prefix("stock.").map(str::to_owned);
    let paths = settings.map(|setting| setting.path());
    paths
        .map(|path| of_stock(path.clone()).unwrap_or(path))
        .collect()
}

/// The dimension of the value at such a path.
pub(super) fn due(bench: &Bench, path: &str) -> Option<Dimension> {
    let of = |value: &Value| match value {
        Value::Quantity { quantity, .. } => Some(quantity.dimension),
        _ => None,
    };
    let money = bench.outcome.recipe.money.as_ref();
    let said = |path: &str| money?.said.setting(path);
    if let Some(setting) = said(path).or_else(|| said(&format!("stock.{path}"))) {
        return of(&setting.value.value);
    }
    let (first, rest) = path.split_once('.')?;
    if let Some(alloy) = own_alloy(bench, first) {
        return of(&alloy.value(rest)?);
    }
    let is_profile = bench
        .prepared
        .named("profile")
        .iter()
        .any(|name| name == first);
    let field = schema::find(&format!("profile.{rest}")).filter(|_| is_profile);
    field.and_then(dimension)
}

fn own_alloy<'b>(bench: &'b Bench, name: &str) -> Option<&'b Alloy> {
    let mut alloys = bench.outcome.recipe.alloys.iter();
    alloys.find(|alloy| alloy.name == name).map(AsRef::as_ref)
}
