//! What an edited text can have moved: names whose entries differ, and all that depends on them.

use std::collections::{BTreeSet, HashSet};

use crate::model::{Mentions, given_name};
use crate::source::Sources;
use crate::syntax::ast;

use super::Prepared;

/// The names that what differs between two readings of a recipe can reach; none where it can reach all of them.
pub(crate) fn touched(
    before: (&Prepared, &Sources),
    after: (&Prepared, &Sources),
) -> Option<BTreeSet<String>> {
    let (old, new) = (texts(before), texts(after));
    let changed = old.symmetric_difference(&new);
    let names: BTreeSet<String> = changed.map(|(name, _)| (*name).to_owned()).collect();
    let mut reach = before.0.mentions().dependents(names.iter().cloned());
    reach.extend(after.0.mentions().dependents(names));
    (!reach.is_empty() && !Mentions::reach_common(&reach)).then_some(reach)
}

/// Every entry of the top level as it is written, with the name that it gives; empty where what it says has none.
fn texts<'t>((prepared, sources): (&'t Prepared, &'t Sources)) -> HashSet<(&'t str, &'t str)> {
    let entries = prepared
        .every_tree()
        .flat_map(|tree| ast::entries(&tree.items));
    let named = |entry: &'t ast::Entry| {
        (
            given_name(entry).unwrap_or_default(),
            sources.slice(entry.span),
        )
    };
    entries.map(named).collect()
}
