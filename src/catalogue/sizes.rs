//! Ring-size systems, and the words that look like one but are defined nowhere.

use std::sync::OnceLock;

use serde::Deserialize;

use crate::quantity::{Law, Measure, System, fraction};

pub(super) const TABLE: &str = include_str!("sizes.toml");

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct SystemRow {
    word: String,
    name: String,
    #[serde(default)]
    letters: bool,
    on: On,
    at: String,
    #[serde(default)]
    anchor: Option<String>,
    #[serde(default)]
    anchor_circumference: Option<String>,
    step: String,
    grain: String,
    lowest: String,
    highest: String,
    source: String,
    status: String,
    reading: String,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
enum On {
    Circumference,
    Diameter,
}

/// A word of a country whose sizes are defined nowhere.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Undefined {
    /// The word.
    pub word: String,
    /// What it would stand for.
    pub name: String,
    /// Why it is refused.
    pub reason: String,
}

/// What a system rests on: source, status, where the stick is read.
#[derive(Clone, Debug)]
pub struct SystemBasis {
    /// Title of the source.
    pub source: String,
    /// How it is known.
    pub status: String,
    /// Where on the ring the stick is read.
    pub reading: String,
}

/// A system of the table, read when it is first wanted.
struct Lazy {
    word: &'static str,
    text: &'static str,
    read: OnceLock<Option<(System, SystemBasis)>>,
}

/// The rows of systems, and behind them those of what is refused.
fn parts() -> (&'static str, &'static str) {
    let marked = TABLE.find("[[undefined]]").unwrap_or(TABLE.len());
    TABLE.split_at_checked(marked).unwrap_or((TABLE, ""))
}

fn table() -> &'static [Lazy] {
    static ROWS: OnceLock<Vec<Lazy>> = OnceLock::new();
    ROWS.get_or_init(|| {
        let row = |text| Lazy {
            word: super::quoted(text, "word = "),
            text,
            read: OnceLock::new(),
        };
        super::rows(parts().0, "[[system]]").map(row).collect()
    })
}

impl Lazy {
    fn get(&'static self) -> Option<&'static (System, SystemBasis)> {
        let read = || {
            let row: SystemRow = super::read(self.text)?;
            let system = to_system(&row)?;
            let basis = SystemBasis {
                source: row.source,
                status: row.status,
                reading: row.reading,
            };
            Some((system, basis))
        };
        self.read.get_or_init(read).as_ref()
    }
}

fn found(word: &str) -> Option<&'static (System, SystemBasis)> {
    table().iter().find(|row| row.word == word)?.get()
}

fn to_system(row: &SystemRow) -> Option<System> {
    let on = |text: &str| {
        fraction(text).map(|value| match row.on {
            On::Circumference => Measure::Circumference(value),
            On::Diameter => Measure::Diameter(value),
        })
    };
    let anchor = match (&row.anchor, &row.anchor_circumference) {
        (_, Some(text)) => fraction(text).map(Measure::Circumference),
        (Some(text), None) => on(text),
        (None, None) => None,
    };
    Some(System {
        word: row.word.clone(),
        name: row.name.clone(),
        law: Law {
            at: fraction(&row.at)?,
            anchor: anchor?,
            step: on(&row.step)?,
        },
        letters: row.letters,
        grain: fraction(&row.grain)?,
        lowest: fraction(&row.lowest)?,
        highest: fraction(&row.highest)?,
    })
}

/// All systems, the open standard first.
#[must_use]
pub fn systems() -> Vec<&'static System> {
    let all = table().iter().filter_map(Lazy::get);
    all.map(|(system, _)| system).collect()
}

/// The system of a word.
///
/// # Example
/// ```
/// use annulet::{catalogue, quantity::RingSize};
/// let size = RingSize::read(catalogue::system("US").unwrap(), "7").unwrap();
/// assert!((size.diameter() - 17.3228).abs() < 1e-12);
/// ```
#[must_use]
pub fn system(word: &str) -> Option<&'static System> {
    found(word).map(|(system, _)| system)
}

/// What a system rests on.
#[must_use]
pub fn system_basis(word: &str) -> Option<&'static SystemBasis> {
    found(word).map(|(_, basis)| basis)
}

/// The words of all systems.
pub fn system_words() -> impl Iterator<Item = &'static str> {
    table().iter().map(|row| row.word)
}

/// The words that are refused, with their reasons.
#[must_use]
pub fn undefined() -> &'static [Undefined] {
    static READ: OnceLock<Vec<Undefined>> = OnceLock::new();
    READ.get_or_init(|| {
        super::rows(parts().1, "[[undefined]]")
            .filter_map(super::read)
            .collect()
    })
}
