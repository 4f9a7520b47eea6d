//! The vocabulary of a band: every field, what it takes, its default and basis, what it means.
//!
//! One table serves reading, suggestions, `annulet list fields` and, later, completion. A field marked
//! `later` is known and read, but not evaluated by this version; writing it brings a located note.

use std::sync::LazyLock;

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// Text between quotes.
    Text,
    /// A ring size or an inside diameter.
    Size,
    /// A ring size, an inside diameter, or `stretch` and a part of the bore.
    Start,
    /// A length greater than zero.
    Length,
    /// A length of zero or more.
    LengthOrZero,
    /// A length greater than zero, or one word instead.
    LengthOr(&'static str),
    /// A part of the whole, from 0 to 1; per cent is usual.
    Share,
    /// A whole number from 1.
    Count,
    /// A part of the whole, from 0 to below 1.
    ShareBelow,
    /// A share of something, from 0; more than the whole may be meant.
    ShareOrMore,
    /// A plain number greater than zero.
    Number,
    /// Steps of the size system, from 0.
    Steps,
    /// One of some words.
    Word(&'static [&'static str]),
    /// The name of an alloy.
    Alloy,
    /// The name of a temper.
    Temper,
    /// Parts per thousand, per cent or karats.
    Fineness,
    /// A day.
    Day,
    /// The outside's kind, with a block of its own fields.
    Profile,
    /// A time of zero or more.
    Time,
    /// A mass of zero or more.
    Mass,
    /// Money, zero or more.
    Money,
    /// Money by weight, zero or more.
    MoneyByWeight,
    /// Money by weight, or a share of the metal's worth.
    MoneyByWeightOrShare,
    /// Money by time, zero or more.
    MoneyByTime,
    /// A day.
    Date,
    /// A currency by its ISO 4217 code.
    Currency,
    /// The name of a stock.
    Stock,
    /// The name of another band.
    Band,
    /// Nothing: it only holds a block.
    Block,
    /// Anything; not evaluated yet.
    Anything,
}

impl Takes {
    /// Whether its value is a quantity or a size, so that expressions can refer to it.
    #[must_use]
    pub fn is_measured(self) -> bool {
        match self {
            Self::Size | Self::Start | Self::Length => true,
            Self::LengthOrZero | Self::LengthOr(_) => true,
            Self::Share | Self::ShareBelow | Self::ShareOrMore => true,
            Self::Count | Self::Number | Self::Steps => true,
            Self::Time | Self::Mass | Self::Money => true,
            Self::MoneyByWeight | Self::MoneyByWeightOrShare | Self::MoneyByTime => true,
            Self::Fineness => true,
            Self::Text
            | Self::Day
            | Self::Word(_)
            | Self::Alloy
            | Self::Temper
            | Self::Profile
            | Self::Date
            | Self::Currency
            | Self::Stock
            | Self::Band
            | Self::Block
            | Self::Anything => false,
        }
    }
}

/// One field of a band.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Full path within the band.
    pub path: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Default as a recipe would write it, and its basis.
    pub default: Option<(&'static str, &'static str)>,
    /// The words of the field around it with which alone it makes sense; empty: always.
    pub only: &'static [&'static str],
    /// Not evaluated by this version.
    pub later: bool,
    /// What it means.
    pub meaning: &'static str,
}

/// A default that follows from the definition of the field.
pub(super) const DEFINED: &str = "definition";
/// A default that is habit, not rule.
const PRACTICE: &str = "common practice, no source";

pub(super) const fn field(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field {
        path,
        takes,
        default: None,
        only: &[],
        later: false,
        meaning,
    }
}

pub(super) const fn default(
    path: &'static str,
    takes: Takes,
    default: (&'static str, &'static str),
    meaning: &'static str,
) -> Field {
    Field {
        path,
        takes,
        default: Some(default),
        only: &[],
        later: false,
        meaning,
    }
}

pub(super) const fn of(field: Field, only: &'static [&'static str]) -> Field {
    Field { only, ..field }
}

const fn later(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field {
        path,
        takes,
        default: None,
        only: &[],
        later: true,
        meaning,
    }
}

/// The kinds of outside.
pub const PROFILES: &[&str] = &[
    "flat",
    "domed",
    "bevelled",
    "knife-edge",
    "concave",
    "custom",
];

/// All fields of a band, those of a block right behind it.
#[rustfmt::skip]
pub const FIELDS: &[Field] = &[
    field("title", Takes::Text, "what the maker calls the band"),
    field("size", Takes::Size, "ring size or smallest inside diameter of the finished ring"),
    field("bangle", Takes::Word(&["yes", "no"]), "whether it is worn on the wrist, so that its size is no finger's"),
    field("allow", Takes::Block, "steps that the finished size holds for wearing, each shown apart"),
    field("allow.wide", Takes::Steps, "steps of the finished size that are for a wide band"),
    field("allow.comfort", Takes::Steps, "steps of the finished size that are for a comfort bore"),
    field("width", Takes::Length, "axial width"),
    field("thickness", Takes::Length, "half the difference of the largest outside diameter and the size"),
    field("outside", Takes::Length, "largest outside diameter, instead of thickness"),
    field("profile", Takes::Profile, "outside curve, or the name of a profile block"),
    field("profile.edge", Takes::Length, "radial thickness at the side faces; follows for all but domed and knife-edge"),
    of(default("profile.crown", Takes::LengthOrZero, ("0 mm", DEFINED), "radius of the rounded crown"), &["knife-edge"]),
    of(field("profile.across", Takes::Length, "axial leg of the chamfer"), &["bevelled"]),
    of(field("profile.down", Takes::Length, "radial leg of the chamfer"), &["bevelled"]),
    of(field("profile.dip", Takes::Length, "how far the outside dips at mid width"), &["concave"]),
    default("comfort", Takes::LengthOrZero, ("0 mm", DEFINED), "radial opening of the bore at its edges; 0 is a cylinder"),
    field("ease", Takes::Block, "broken edges: chamfers with equal axial and radial legs"),
    default("ease.outer", Takes::LengthOrZero, ("0 mm", DEFINED), "leg of the chamfer on the outer edges"),
    default("ease.bore", Takes::LengthOrZero, ("0 mm", DEFINED), "leg of the chamfer on the bore's edges"),
    field("alloy", Takes::Alloy, "the metal"),
    default("temper", Takes::Temper, ("annealed", PRACTICE), "state of the metal"),
    field("stock", Takes::Stock, "what the solid band is made of; default: its own metal and nothing to take off"),
    field("pattern", Takes::Block, "the cut pattern"),
    field("pattern.repeats", Takes::Count, "repeats of the motif round the band"),
    field("pattern.depth", Takes::Length, "greatest depth, radial, to the tool tip"),
    field("pattern.mean-depth", Takes::Length, "mean radial depth over the covered part; default: the depth"),
    field("pattern.cover", Takes::Share, "part of the outside that is cut"),
    field("pattern.cut", Takes::Word(&["before", "after"]), "cut before or after the stretch; default: a hollow band before, a solid one after"),
    later("pattern.keep", Takes::Word(&["repeats", "motif", "outside"]), "what stays the same in another size"),
    field("start", Takes::Start, "size or diameter that the solid band is made to before it is stretched, or `stretch` and per cent"),
    default("kinematics", Takes::Word(&["free", "held"]), ("free", DEFINED), "how the width behaves under stretch: a free ring gets narrower, or the width is held"),
    field("hollow", Takes::Block, "the two-part build: shell and sleeve"),
    field("hollow.shell", Takes::LengthOr("full"), "wall of the shell, normal to its surface; full: no cavity"),
    field("hollow.shell.alloy", Takes::Alloy, "the shell's metal; default: the band's"),
    field("hollow.shell.assay", Takes::Fineness, "fineness of the shell found by assay"),
    field("hollow.shell.assay.dated", Takes::Day, "day of that assay"),
    field("hollow.shell.assay.lot", Takes::Text, "its lot, or the number of the assay"),
    field("hollow.shell.temper", Takes::Temper, "the shell's state; default: the band's"),
    field("hollow.shell.stock", Takes::Stock, "what the shell is made of"),
    default("hollow.shell.roof", Takes::Word(&["uniform", "straight"]), ("uniform", DEFINED), "cavity follows the outside, or is a straight channel"),
    default("hollow.shell.nose", Takes::LengthOrZero, ("0 mm", DEFINED), "radius of the cavity's inner corners"),
    field("hollow.sleeve", Takes::Length, "thickness of the sleeve at mid width"),
    field("hollow.sleeve.alloy", Takes::Alloy, "the sleeve's metal; default: the band's"),
    field("hollow.sleeve.assay", Takes::Fineness, "fineness of the sleeve found by assay"),
    field("hollow.sleeve.assay.dated", Takes::Day, "day of that assay"),
    field("hollow.sleeve.assay.lot", Takes::Text, "its lot, or the number of the assay"),
    field("hollow.sleeve.temper", Takes::Temper, "the sleeve's state; default: the band's"),
    field("hollow.sleeve.stock", Takes::Stock, "what the sleeve is made of"),
    field("hollow.sleeve.relief", Takes::Length, "wall that the sleeve is turned down to between the feet"),
    field("hollow.ridge", Takes::Length, "height of the ridges on the sleeve"),
    field("hollow.ridge.wide", Takes::Length, "axial width of a ridge"),
    default("hollow.ridge.count", Takes::Count, ("2", DEFINED), "one at mid width, or two as far out as the roof allows"),
    default("hollow.ridge.play", Takes::LengthOrZero, ("0.05 mm", PRACTICE), "axial clearance of each of two ridges"),
    field("hollow.lip", Takes::Length, "how far the shell's lips reach inwards"),
    field("hollow.lip.wide", Takes::Length, "axial width of a lip"),
    default("hollow.lip.play", Takes::LengthOrZero, ("0.05 mm", PRACTICE), "axial clearance of the sleeve between the lips, in all"),
    field("hollow.apart", Takes::Word(&["yes", "no"]), "whether the eye tells shell and sleeve apart"),
    default("hollow.entry", Takes::LengthOrZero, ("0.04 mm", PRACTICE), "clearance on the diameter at which the parts go together, as machined"),
    field("hollow.hold", Takes::Length, "overlap on the diameter that keeps the ring together; default: the larger of 0.10 mm (common practice) and twice what the foot springs open"),
    default("hollow.stage", Takes::Word(&["fixed", "turning"]), ("fixed", DEFINED), "the stage that the ring is built to"),
    of(field("hollow.stage.past", Takes::LengthOrZero, "opening past seated, on the diameter"), &["fixed"]),
    of(field("hollow.stage.key", Takes::Length, "depth of a knurl or notches in the foot, radial"), &["fixed"]),
    of(field("hollow.stage.play", Takes::Length, "running clearance on the diameter"), &["turning"]),
    field("hollow.kinematics", Takes::Word(&["free", "held"]), "how the width behaves under stretch; default: as the band's `kinematics`"),
    default("hollow.friction", Takes::Number, ("0.15", PRACTICE), "coefficient of friction"),
    default("hollow.enlarger", Takes::LengthOrZero, ("0.03 mm", PRACTICE), "repeatability of the enlarger: plus and minus so much on the diameter"),
    field("finish", Takes::Block, "metal left on for finishing, per side"),
    default("finish.bore", Takes::LengthOrZero, ("0 mm", DEFINED), "left on the bore, radial"),
    default("finish.outside", Takes::LengthOrZero, ("0 mm", DEFINED), "left on the outside, radial"),
    default("finish.faces", Takes::LengthOrZero, ("0 mm", DEFINED), "left on each side face"),
    field("mark", Takes::Block, "a struck mark"),
    field("mark.deep", Takes::Length, "depth of the mark; counts in the walls"),
    field("mark.on", Takes::Word(&["sleeve", "shell", "both"]), "the part that carries it; both: each its own"),
    default("mark.struck", Takes::Word(&["before", "after"]), ("before", PRACTICE), "struck before or after the parts are joined"),
    field("tag", Takes::Text, "the words that the band is sold under"),
    field("solder", Takes::Alloy, "the solder that joins it, or `none`"),
    field("solder.amount", Takes::Mass, "weight of the solder in the band"),
    field("solder.authorised", Takes::Word(&["yes", "no"]), "whether the office allows solder of a lower fineness"),
    field("assay", Takes::Fineness, "fineness found by assay, of every part that states none of its own"),
    field("assay.whole", Takes::Fineness, "fineness found of the whole, melted with its solder"),
    field("assay.dated", Takes::Day, "day of the assay"),
    field("assay.lot", Takes::Text, "the lot, or the number of the assay"),
    field("sale", Takes::Word(&["piece", "weight"]), "how the band is sold: at a price by the piece, or by weight"),
    of(field("sale.markup", Takes::ShareOrMore, "added to the cost"), &["piece"]),
    of(field("sale.margin", Takes::ShareBelow, "what is earned, as a part of the price"), &["piece"]),
    of(field("sale.at", Takes::Money, "the price itself, before tax"), &["piece"]),
    of(field("sale.making", Takes::MoneyByWeightOrShare, "making charge on the charged weight, or a share of its metal's worth"), &["weight"]),
    of(default("sale.add", Takes::ShareOrMore, ("0 %", DEFINED), "charged on top of the finished weight; a selling charge, not metal lost"), &["weight"]),
    field("against", Takes::Band, "the band that break-even figures compare with; default: the solid of the same look"),
    field("made", Takes::Block, "the parts of a hollow band, or the blank of a solid one, as they came off the machine; written as `made BAND { \u{2026} }` beside the band"),
    field("made.shell-bore", Takes::Length, "measured bore of the shell's feet, a diameter"),
    field("made.shell-lip-bore", Takes::Length, "measured bore of the shell's lips, a diameter"),
    field("made.shell-channel", Takes::Length, "measured roof of the shell's channel at mid width, a diameter"),
    field("made.shell-channel-width", Takes::Length, "measured axial width of the shell's channel between the feet"),
    field("made.shell-outside", Takes::Length, "measured largest outside of the shell, a diameter"),
    field("made.shell-width", Takes::Length, "measured width of the shell"),
    field("made.sleeve-bore", Takes::Length, "measured bore of the sleeve, a diameter"),
    field("made.sleeve-floor", Takes::Length, "measured outside of the sleeve beside the ridges, a diameter"),
    field("made.sleeve-ridge-top", Takes::Length, "measured outside of the ridges, a diameter"),
    field("made.sleeve-ridge-from-face", Takes::LengthOrZero, "measured from the sleeve's side face to the outer face of the outermost ridge"),
    field("made.sleeve-width", Takes::Length, "measured width of the sleeve"),
    field("made.sleeve-edge-bore", Takes::Length, "measured bore of the sleeve at its side faces, a diameter"),
    field("made.blank-bore", Takes::Length, "measured bore of a solid blank, a diameter"),
    field("made.blank-outside", Takes::Length, "measured largest outside of a solid blank, a diameter"),
    field("made.blank-thickness", Takes::Length, "measured thickness of a solid blank, radial"),
    field("made.blank-width", Takes::Length, "measured width of a solid blank"),
    field("limit", Takes::Block, "limits that the band is judged by"),
    default("limit.wall", Takes::LengthOrZero, ("0.20 mm", PRACTICE), "least wall that may remain anywhere"),
];

/// The field of a full path.
#[must_use]
pub fn find(path: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.path == path)
}

/// What a field stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holder {
    /// The band itself.
    Band,
    /// A block that needs not be written for its defaults to hold.
    Always,
    /// The block of a field, by its place in the vocabulary.
    Field(usize),
}

/// Each field with its word and what it stands in, worked out once; blocks stand before what they hold.
pub(super) static PLACED: LazyLock<Vec<(&Field, &str, Holder)>> = LazyLock::new(|| {
    let placed = |(place, field): (usize, &'static Field)| {
        let before = FIELDS.iter().take(place);
        let holder = match field.holder() {
            "" => Holder::Band,
            "limit" => Holder::Always,
            holder => before
                .rev()
                .position(|known| known.path == holder)
                .map_or(Holder::Always, |back| Holder::Field(place - 1 - back)),
        };
        (field, field.word(), holder)
    };
    FIELDS.iter().enumerate().map(placed).collect()
});

impl Field {
    /// The last word of its path, which is the word that a recipe writes.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self.path.rsplit('.').next() {
            // The table's stand-in for a word of the recipe's own.
            Some("METAL") => "price",
            Some(word) => word,
            None => self.path,
        }
    }

    /// The path of the block it stands in; empty for the band itself.
    #[must_use]
    pub fn holder(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(holder, _)| holder)
    }
}

/// The fields that stand directly in a block.
pub fn held_by(holder: &str) -> impl Iterator<Item = &'static Field> {
    FIELDS.iter().filter(move |field| field.holder() == holder)
}

/// Fields that a short path could mean: those that it ends, at a point.
#[must_use]
pub fn matching(short: &str) -> Vec<&'static Field> {
    if let Some(field) = find(short) {
        return vec![field];
    }
    let ends = |field: &&Field| {
        field
            .path
            .strip_suffix(short)
            .is_some_and(|rest| rest.ends_with('.'))
    };
    FIELDS.iter().filter(ends).collect()
}
