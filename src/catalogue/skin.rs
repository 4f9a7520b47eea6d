//! Elements that the skin should not meet: the limits, each with its text, clause and how it is known.

use std::sync::OnceLock;

use rust_decimal::Decimal;
use serde::Deserialize;

pub(super) const TABLE: &str = include_str!("rules/skin.toml");

/// One limit.
#[derive(Clone, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct SkinLimit {
    /// The element.
    pub element: String,
    /// Where it holds.
    pub market: String,
    /// Parts per thousand by mass at which it is broken; none where composition does not tell.
    #[serde(default)]
    pub limit: Option<Decimal>,
    /// It is broken by more than that alone.
    #[serde(default)]
    pub above: bool,
    /// What it says.
    pub says: String,
    /// It is law for finger rings, not a voluntary standard or a law of other wares.
    #[serde(default)]
    pub binding: bool,
    /// The text, with its date.
    pub text: String,
    /// Where in it.
    pub clause: String,
    /// How it is known.
    pub status: String,
}

/// All limits.
pub fn skin_limits() -> &'static [SkinLimit] {
    static READ: OnceLock<Vec<SkinLimit>> = OnceLock::new();
    READ.get_or_init(|| {
        super::rows(TABLE, "[[limit]]")
            .filter_map(super::read)
            .collect()
    })
}

/// Whether some limit is of an element; no row is read for that.
pub fn is_limited(element: &str) -> bool {
    static NAMED: OnceLock<Vec<&str>> = OnceLock::new();
    let named = NAMED.get_or_init(|| {
        super::rows(TABLE, "[[limit]]")
            .map(|row| super::quoted(row, "element = "))
            .collect()
    });
    named.contains(&element)
}
