//! Results that moved from one version of the program to the next: which, when and why.

use serde::Deserialize;

pub(super) const TABLE: &str = include_str!("moved.toml");

/// Results that moved for one reason.
#[derive(Clone, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct MovedResults {
    /// The first version with the new figures.
    pub version: String,
    /// Paths behind the band's name; `grip.*` is every path below `grip`.
    pub results: Vec<String>,
    /// Those that are not given any more where they once were.
    #[serde(default)]
    pub lost: Vec<String>,
    /// Why.
    pub why: String,
}

impl MovedResults {
    /// Whether it speaks of a result: that it moved, or that it is `lost`.
    ///
    /// # Example
    /// ```
    /// use annulet::catalogue::moved;
    /// let grip = moved().find(|one| one.tells("grip.force", false)).unwrap();
    /// assert!(!grip.tells("griping", false) && grip.version == "0.2.0");
    /// ```
    #[must_use]
    pub fn tells(&self, path: &str, lost: bool) -> bool {
        let of = if lost { &self.lost } else { &self.results };
        of.iter().any(|known| match known.strip_suffix('*') {
            Some(begin) => path.starts_with(begin),
            None => known == path,
        })
    }
}

/// Every row, the oldest version first.
pub fn moved() -> impl Iterator<Item = MovedResults> {
    super::rows(TABLE, "[[moved]]").filter_map(super::read)
}
