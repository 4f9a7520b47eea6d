//! The vocabulary of a band: every field, what it takes, its default and basis, what it means.
//!
//! One table serves reading, suggestions, `annulet list fields` and, later, completion. A field marked
//! `later` is known and read, but not evaluated by this version; writing it brings a located note.

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// Text between quotes.
    Text,
    /// A ring size or an inside diameter.
    Size,
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
    /// The outside's kind, with a block of its own fields.
    Profile,
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
            Self::Size | Self::Length | Self::LengthOrZero | Self::LengthOr(_) => true,
            Self::Share | Self::Count | Self::Number | Self::Steps => true,
            Self::Text
            | Self::Word(_)
            | Self::Alloy
            | Self::Temper
            | Self::Profile
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
const DEFINED: &str = "definition";
/// A default that is habit, not rule.
const PRACTICE: &str = "common practice, no source";

const fn field(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field {
        path,
        takes,
        default: None,
        only: &[],
        later: false,
        meaning,
    }
}

const fn default(
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

const fn of(field: Field, only: &'static [&'static str]) -> Field {
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
pub const FIELDS: &[Field] = &[
    field("title", Takes::Text, "what the maker calls the band"),
    field(
        "size",
        Takes::Size,
        "ring size or smallest inside diameter of the finished ring",
    ),
    later("allow", Takes::Block, "size steps added for wearing"),
    later("allow.wide", Takes::Steps, "steps added for a wide band"),
    later(
        "allow.comfort",
        Takes::Steps,
        "steps added or taken for a comfort bore",
    ),
    field("width", Takes::Length, "axial width"),
    field(
        "thickness",
        Takes::Length,
        "half the difference of the largest outside diameter and the size",
    ),
    later(
        "outside",
        Takes::Length,
        "largest outside diameter, instead of thickness",
    ),
    field(
        "profile",
        Takes::Profile,
        "outside curve: flat, domed, bevelled, knife-edge, concave or custom",
    ),
    of(
        field(
            "profile.edge",
            Takes::Length,
            "radial thickness at the side faces",
        ),
        &["domed", "knife-edge"],
    ),
    of(
        later(
            "profile.crown",
            Takes::LengthOrZero,
            "radius of the rounded crown",
        ),
        &["knife-edge"],
    ),
    of(
        later("profile.across", Takes::Length, "axial leg of the chamfer"),
        &["bevelled"],
    ),
    of(
        later("profile.down", Takes::Length, "radial leg of the chamfer"),
        &["bevelled"],
    ),
    of(
        later(
            "profile.dip",
            Takes::Length,
            "how far the outside dips at mid width",
        ),
        &["concave"],
    ),
    default(
        "comfort",
        Takes::LengthOrZero,
        ("0 mm", DEFINED),
        "radial opening of the bore at its edges; 0 is a cylinder",
    ),
    later("ease", Takes::Block, "broken edges: equal-leg chamfers"),
    later(
        "ease.outer",
        Takes::LengthOrZero,
        "leg of the chamfer on the outer edges",
    ),
    later(
        "ease.bore",
        Takes::LengthOrZero,
        "leg of the chamfer on the bore's edges",
    ),
    field("alloy", Takes::Alloy, "the metal"),
    default(
        "temper",
        Takes::Temper,
        ("annealed", PRACTICE),
        "state of the metal",
    ),
    field("pattern", Takes::Block, "the cut pattern"),
    field(
        "pattern.repeats",
        Takes::Count,
        "repeats of the motif round the band",
    ),
    field(
        "pattern.depth",
        Takes::Length,
        "greatest depth, radial, to the tool tip",
    ),
    field(
        "pattern.mean-depth",
        Takes::Length,
        "mean radial depth over the covered part; default: the depth",
    ),
    field(
        "pattern.cover",
        Takes::Share,
        "part of the outside that is cut",
    ),
    of(
        field(
            "pattern.cut",
            Takes::Word(&["before", "after"]),
            "cut before or after the stretch; default: after for a solid band",
        ),
        &[],
    ),
    later(
        "pattern.keep",
        Takes::Word(&["repeats", "motif", "outside"]),
        "what stays the same in another size",
    ),
    later(
        "start",
        Takes::Anything,
        "size, diameter or stretch that the solid band is made to before it is stretched",
    ),
    later("hollow", Takes::Block, "the two-part build"),
    later(
        "hollow.shell",
        Takes::LengthOr("full"),
        "wall of the shell, normal to its surface",
    ),
    later("hollow.shell.alloy", Takes::Alloy, "the shell's metal"),
    later("hollow.shell.temper", Takes::Temper, "the shell's state"),
    later(
        "hollow.shell.roof",
        Takes::Word(&["uniform", "straight"]),
        "cavity follows the outside, or is a straight channel",
    ),
    later(
        "hollow.shell.nose",
        Takes::LengthOrZero,
        "radius of the cavity's inner corners",
    ),
    later(
        "hollow.sleeve",
        Takes::Length,
        "thickness of the sleeve at mid width",
    ),
    later("hollow.sleeve.alloy", Takes::Alloy, "the sleeve's metal"),
    later("hollow.sleeve.temper", Takes::Temper, "the sleeve's state"),
    later(
        "hollow.sleeve.relief",
        Takes::Length,
        "wall that the sleeve is turned down to between the feet",
    ),
    later(
        "hollow.ridge",
        Takes::Length,
        "height of the ridges on the sleeve",
    ),
    later("hollow.ridge.wide", Takes::Length, "axial width of a ridge"),
    later(
        "hollow.ridge.count",
        Takes::Count,
        "one at mid width, or two as far out as the roof allows",
    ),
    later(
        "hollow.ridge.play",
        Takes::LengthOrZero,
        "axial clearance of a ridge",
    ),
    later(
        "hollow.lip",
        Takes::Length,
        "how far the shell's lips reach inwards",
    ),
    later("hollow.lip.wide", Takes::Length, "axial width of a lip"),
    later(
        "hollow.lip.play",
        Takes::LengthOrZero,
        "axial clearance of the sleeve between the lips",
    ),
    later(
        "hollow.entry",
        Takes::LengthOrZero,
        "clearance on the diameter at which the parts go together",
    ),
    later(
        "hollow.hold",
        Takes::Length,
        "overlap on the diameter that keeps the ring together",
    ),
    later(
        "hollow.stage",
        Takes::Word(&["fixed", "turning"]),
        "the stage that the ring is built to",
    ),
    later(
        "hollow.stage.past",
        Takes::LengthOrZero,
        "opening past seated, on the diameter",
    ),
    later(
        "hollow.stage.key",
        Takes::Length,
        "depth of a knurl or notches in the foot",
    ),
    later(
        "hollow.stage.play",
        Takes::Length,
        "running clearance on the diameter",
    ),
    later(
        "hollow.kinematics",
        Takes::Word(&["free", "held"]),
        "how the width behaves under stretch",
    ),
    later("hollow.friction", Takes::Number, "coefficient of friction"),
    later(
        "hollow.enlarger",
        Takes::LengthOrZero,
        "repeatability of the enlarger, on the diameter",
    ),
    later(
        "finish",
        Takes::Block,
        "metal left on for finishing, per side",
    ),
    later("finish.bore", Takes::LengthOrZero, "left on the bore"),
    later("finish.outside", Takes::LengthOrZero, "left on the outside"),
    later(
        "finish.faces",
        Takes::LengthOrZero,
        "left on each side face",
    ),
    later("mark", Takes::Block, "a struck mark"),
    later("mark.deep", Takes::Length, "depth of the mark"),
    later(
        "mark.on",
        Takes::Word(&["sleeve", "shell"]),
        "the part that carries it",
    ),
    field("limit", Takes::Block, "limits that the band is judged by"),
    default(
        "limit.wall",
        Takes::LengthOrZero,
        ("0.20 mm", PRACTICE),
        "least wall that may remain anywhere",
    ),
];

/// The field of a full path.
#[must_use]
pub fn find(path: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.path == path)
}

impl Field {
    /// The last word of its path, which is the word that a recipe writes.
    #[must_use]
    pub fn word(&self) -> &'static str {
        self.path.rsplit('.').next().unwrap_or(self.path)
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
