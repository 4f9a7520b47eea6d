//! The built-in rulebooks of fineness: one file each, every value with its text, clause and how it is known.
//!
//! A rulebook is read when it is first wanted. What it leaves out was not found in the text read; that is
//! never the same as "there is no rule". Source of the whole: the texts that each file names, read as
//! stored copies on 2026-11-25 and 2026-11-26.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use rust_decimal::Decimal;
use serde::Deserialize;

/// Defines a row of a rulebook: its own fields, and where it is read.
macro_rules! row {
    ($(#[$meaning:meta])* $name:ident { $($(#[$what:meta])* $field:ident: $kind:ty,)* }) => {
        $(#[$meaning])*
        #[derive(Clone, Debug, Deserialize, PartialEq)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            $($(#[$what])* pub $field: $kind,)*
            /// Id of the text, one of the rulebook's own.
            pub text: String,
            /// Where in the text.
            pub clause: String,
            /// `read`, `from memory` or `stated in the recipe`.
            pub status: String,
        }

        impl $name {
            /// Where it is read.
            #[must_use]
            pub fn cite(&self) -> Cite<'_> {
                Cite { text: &self.text, clause: &self.clause, status: &self.status }
            }
        }
    };
}

/// Where a value is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cite<'a> {
    /// Id of the text.
    pub text: &'a str,
    /// Where in the text.
    pub clause: &'a str,
    /// How it is known.
    pub status: &'a str,
}

/// A text that a rulebook cites.
#[derive(Clone, Debug, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct Text {
    /// Id within the rulebook.
    pub id: String,
    /// How a verdict names it.
    pub short: String,
    /// Full title, and what of it was not read.
    pub title: String,
    /// Date of the text read.
    pub date: String,
    /// Who publishes it, and where it was read; empty in a recipe's own rulebook.
    #[serde(default)]
    pub read_at: String,
}

row! {
    /// One word or switch.
    Word {
        /// The word.
        value: String,
        /// What else the text says of it.
        #[serde(default)]
        says: Option<String>,
        /// Of marks on parts of several metals: grams that a part must weigh more than to want one.
        #[serde(default)]
        over: Option<Decimal>,
    }
}
row! {
    /// Some words.
    WordList {
        /// The words.
        value: Vec<String>,
    }
}
row! {
    /// A switch.
    Switch {
        /// On or off.
        value: bool,
    }
}
row! {
    /// Standards of one metal, rising.
    Standards {
        /// Parts per thousand.
        value: Vec<Decimal>,
        /// Any figure above the highest is admitted too.
        #[serde(default)]
        above: bool,
        /// Elements that count as the metal.
        #[serde(default)]
        with: Vec<String>,
        /// How many parts per thousand of them count at most.
        #[serde(default)]
        with_most: Option<Decimal>,
    }
}
row! {
    /// A number of parts per thousand; `soldered` holds where the article is soldered.
    Parts {
        /// Parts per thousand.
        value: Decimal,
        /// The same for a soldered article, where it differs.
        #[serde(default)]
        soldered: Option<Decimal>,
        /// The same for a soldered article of white metal, where it differs.
        #[serde(default)]
        white: Option<Decimal>,
        /// From which fineness of its metal on that holds.
        #[serde(default)]
        white_from: Option<Decimal>,
    }
}
row! {
    /// Metal under the least standard that may be named by its figure, among metals of its group.
    Among {
        /// Parts per thousand of the metal, at least.
        value: Decimal,
        /// Parts per thousand of the group, at least.
        sum: Decimal,
        /// The group.
        group: Vec<String>,
    }
}
row! {
    /// A word that stands for a figure, such as sterling.
    Named {
        /// The word.
        word: String,
        /// The metal.
        metal: String,
        /// Parts per thousand.
        figure: Decimal,
    }
}
row! {
    /// What karats mean, where it is not 1000/24.
    Karats {
        /// Karat to parts per thousand.
        value: BTreeMap<String, Decimal>,
    }
}
row! {
    /// An exemption by weight.
    Exempt {
        /// Total weight of the metal in grams, strictly under which no official mark is needed.
        below: Decimal,
        /// Metals whose presence does away with it.
        lost_beside: Vec<String>,
        /// That weight itself is exempt too.
        #[serde(default)]
        through: bool,
        /// What is weighed: `fine` metal alone, or the `parts` of the metal; else all metal.
        #[serde(default)]
        of: Option<String>,
        /// The mark that falls away; else the one that the rulebook is of.
        #[serde(default)]
        mark: Option<String>,
    }
}
row! {
    /// An element of which no part may hold more.
    Harmful {
        /// The element.
        element: String,
        /// Parts per thousand.
        most: Decimal,
    }
}
row! {
    /// A length.
    Least {
        /// In mm.
        value: Decimal,
    }
}
row! {
    /// How thick a plating must be; the first row that fits counts.
    Plated {
        /// What is plated on.
        with: String,
        /// Where one of these words is on the tag; everywhere.
        #[serde(default)]
        has: Vec<String>,
        /// In mm.
        least: Decimal,
    }
}
row! {
    /// What solder must hold; the first row that fits an article counts.
    Solder {
        /// The article's metal; any.
        #[serde(default)]
        metal: Option<String>,
        /// From this fineness of the article on.
        #[serde(default)]
        from: Option<Decimal>,
        /// Up to this fineness.
        #[serde(default)]
        to: Option<Decimal>,
        /// For white metal only.
        #[serde(default)]
        white: bool,
        /// Least parts per thousand; that of the article.
        #[serde(default)]
        least: Option<Decimal>,
        /// All precious metals are counted together.
        #[serde(default)]
        sum: bool,
        /// Lower solder may be authorised.
        #[serde(default)]
        authorised: bool,
    }
}
row! {
    /// What must be said, asked or borne in mind, where all of `when` is so.
    Say {
        /// `cavity`, `two-part`, `cold`, `soldered`, `finenesses-differ`, `metals-differ`, `base`, or a metal.
        when: Vec<String>,
        /// The least part holds this or more.
        #[serde(default)]
        from: Option<Decimal>,
        /// The least part holds less than this.
        #[serde(default)]
        below: Option<Decimal>,
        /// `say`, `condition`, `ask` or `note`.
        kind: String,
        /// What.
        says: String,
    }
}
row! {
    /// What the words that an article is sold under must and must not hold.
    Tag {
        /// As in [`Say`].
        when: Vec<String>,
        /// It matters where one of these words is there.
        has: Vec<String>,
        /// Then each of these must be there.
        needs: Vec<String>,
        /// None of these may be there at all.
        never: Vec<String>,
        /// It holds only where the least part is under this.
        #[serde(default)]
        below: Option<Decimal>,
    }
}

/// A rulebook of fineness.
#[derive(Clone, Debug, Default, Deserialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct Rulebook {
    /// Its word in recipes.
    pub word: String,
    /// What it is.
    pub title: String,
    /// Why it gives no verdict, where it gives none.
    #[serde(default)]
    pub silent: Option<String>,
    /// Precious metals from the dearest to the least.
    #[serde(default)]
    pub rank: Vec<String>,
    /// What it cites.
    #[serde(default, rename = "text")]
    pub texts: Vec<Text>,
    /// `compulsory`, `own-mark`, `voluntary` or `recommended`.
    #[serde(default)]
    pub system: Option<Word>,
    /// Metals that need no mark, where the system asks for one of others.
    #[serde(default)]
    pub voluntary: Option<WordList>,
    /// Standards by metal.
    #[serde(default)]
    pub standards: BTreeMap<String, Standards>,
    /// Metals in which any figure may be stated, from a least one on.
    #[serde(default)]
    pub any: BTreeMap<String, Parts>,
    /// Metals that may be named under their least standard, among others of their group.
    #[serde(default)]
    pub among: BTreeMap<String, Among>,
    /// Words that stand for figures.
    #[serde(default, rename = "named")]
    pub words: Vec<Named>,
    /// What karats mean.
    #[serde(default)]
    pub karats: Option<Karats>,
    /// How far each part, without solder, may fall short.
    #[serde(default)]
    pub part: BTreeMap<String, Parts>,
    /// How far the whole, melted with its solder, may fall short.
    #[serde(default)]
    pub whole: BTreeMap<String, Parts>,
    /// The same, where lower solder is authorised, for any metal; without such solder nothing.
    #[serde(default)]
    pub whole_soldered: Option<Parts>,
    /// A shortfall helps only what an assay finds, of metal that is mixed to the figure.
    #[serde(default)]
    pub assayed: Option<Switch>,
    /// What alone may be plated on.
    #[serde(default)]
    pub plating: Option<WordList>,
    /// How thick a plating must be.
    #[serde(default)]
    pub plated: Vec<Plated>,
    /// Exemptions by weight, by metal.
    #[serde(default)]
    pub exempt: BTreeMap<String, Exempt>,
    /// Exemptions fall away with unlawful solder.
    #[serde(default)]
    pub exempt_solder: Option<Switch>,
    /// Parts of one metal that differ: `lowest`, `each-own`, `whole` or `refused-inside`.
    #[serde(default)]
    pub finenesses: Option<Word>,
    /// Parts of two metals: `full-on-least`, `each-if-apart`, `each-own`, `apart-by-colour` or `platinum-gold`.
    #[serde(default)]
    pub metals: Option<Word>,
    /// How thick each part must be where there are two metals.
    #[serde(default)]
    pub least_thickness: Option<Least>,
    /// Platinum and white gold count as not told apart.
    #[serde(default)]
    pub white_alike: Option<Switch>,
    /// Elements of which no part may hold more.
    #[serde(default)]
    pub harmful: Vec<Harmful>,
    /// A part of base metal: `apart-or-named`, `left-out-if-cold`, `multi-metal`, `refused` or `ask`.
    #[serde(default)]
    pub base: Option<Word>,
    /// What solder must hold.
    #[serde(default)]
    pub solder: Vec<Solder>,
    /// What the words that it is sold under must hold.
    #[serde(default)]
    pub tag: Vec<Tag>,
    /// What else must be said.
    #[serde(default)]
    pub say: Vec<Say>,
    /// It stands in the place of the built-in one of its word, or is the recipe's own.
    #[serde(skip)]
    pub own: Option<Own>,
}

/// How a recipe's own rulebook stands to the built-in ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Own {
    /// No built-in one has its word.
    New,
    /// It takes the place of the built-in one.
    Shadows,
}

impl Rulebook {
    /// The text of an id.
    #[must_use]
    pub fn text(&self, id: &str) -> Option<&Text> {
        self.texts.iter().find(|text| text.id == id)
    }

    /// `Hallmarking Act 1973 s.22(1)`, with how it is known where it was not read.
    #[must_use]
    pub fn cited(&self, cite: Cite<'_>) -> String {
        let short = self.text(cite.text).map_or(cite.text, |text| &text.short);
        let known = match cite.status {
            "read" => String::new(),
            status => format!(", {status}"),
        };
        format!("{short}, {}{known}", cite.clause)
    }
}

/// The words of the built-in rulebooks, each with its file.
#[rustfmt::skip]
const FILES: &[(&str, &str)] = &[
    ("UK", include_str!("rules/uk.toml")),
    ("VC", include_str!("rules/vc.toml")),
    ("US", include_str!("rules/us.toml")),
    ("IN", include_str!("rules/in.toml")),
    ("CH", include_str!("rules/ch.toml")),
    ("DE", include_str!("rules/de.toml")),
    ("FR", include_str!("rules/fr.toml")),
    ("IT", include_str!("rules/it.toml")),
    ("JP", include_str!("rules/jp.toml")),
    ("CN", include_str!("rules/cn.toml")),
    ("AT", include_str!("rules/at.toml")),
    ("NL", include_str!("rules/nl.toml")),
    ("IE", include_str!("rules/ie.toml")),
    ("ES", include_str!("rules/es.toml")),
    ("PT", include_str!("rules/pt.toml")),
    ("PL", include_str!("rules/pl.toml")),
    ("CA", include_str!("rules/ca.toml")),
    ("SG", include_str!("rules/sg.toml")),
    ("ISO", include_str!("rules/iso.toml")),
    ("TR", include_str!("rules/tr.toml")),
    ("AE", include_str!("rules/ae.toml")),
    ("HK", include_str!("rules/hk.toml")),
];

/// The texts of all built-in rulebooks.
pub(super) fn texts() -> impl Iterator<Item = &'static str> {
    FILES.iter().map(|(_, text)| *text)
}

/// How many rulebooks are built in.
pub const RULEBOOKS: usize = FILES.len();

/// The built-in rulebook of a word.
///
/// # Example
/// ```
/// let uk = annulet::catalogue::rulebook("UK").unwrap();
/// assert_eq!(uk.standards["gold"].value[2].to_string(), "750");
/// ```
#[must_use]
pub fn rulebook(word: &str) -> Option<&'static Arc<Rulebook>> {
    static READ: [OnceLock<Option<Arc<Rulebook>>>; FILES.len()] =
        [const { OnceLock::new() }; FILES.len()];
    let place = FILES.iter().position(|(known, _)| *known == word)?;
    let (_, file) = FILES.get(place)?;
    let read = || super::read(file).map(Arc::new);
    READ.get(place)?.get_or_init(read).as_ref()
}

/// The words of all built-in rulebooks.
pub fn rulebook_words() -> impl Iterator<Item = &'static str> {
    FILES.iter().map(|(word, _)| *word)
}
