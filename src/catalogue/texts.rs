//! The built-in tables as they are embedded.

use super::{alloys, elements, rules, sizes, skin, sources};

/// Every built-in table as it is embedded, in a fixed order: what a fingerprint of the program covers.
pub fn texts() -> impl Iterator<Item = &'static str> {
    let tables = [
        alloys::TABLE,
        elements::TABLE,
        sizes::TABLE,
        skin::TABLE,
        sources::TABLE,
    ];
    tables.into_iter().chain(rules::texts())
}
