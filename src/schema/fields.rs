//! The vocabulary of fields: every one, what it takes, its default and basis, what it means.
//!
//! One table serves reading, merging, overrides, suggestions, lists and completion. A field is known by its
//! [`FieldId`]; its path is spelt here and nowhere else. `METAL`, `NAME` and `BAND` in a path stand for a word
//! of the recipe's own.

use super::block::BlockId;
use super::takes::Takes;

/// One field.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// How the program knows it.
    pub id: FieldId,
    /// Where it stands.
    pub block: BlockId,
    /// Full path: within the band, or from the word of its block.
    pub path: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Default as a recipe would write it, and its basis.
    pub default: Option<(&'static str, &'static str)>,
    /// The words of the field around it with which alone it makes sense; empty: always.
    pub only: &'static [&'static str],
    /// Entries of its word are told apart by what stands behind it, as in `temper hard { … }`.
    pub apart: bool,
    /// What it means.
    pub meaning: &'static str,
}

/// A default that follows from the definition of the field.
const DEFINED: &str = "definition";
/// A default that is habit, not rule.
const PRACTICE: &str = "common practice, no source";
/// Basis of a default that nobody looked up.
const MEMORY: &str = "from memory";

const fn field(path: &'static str, takes: Takes, meaning: &'static str) -> Field {
    Field {
        id: FieldId::Title,
        block: BlockId::Band,
        path,
        takes,
        default: None,
        only: &[],
        apart: false,
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
        default: Some(default),
        ..field(path, takes, meaning)
    }
}

const fn of(field: Field, only: &'static [&'static str]) -> Field {
    Field { only, ..field }
}

const fn apart(field: Field) -> Field {
    Field {
        apart: true,
        ..field
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

/// The kinds of cutter.
pub const CUTTERS: &[&str] = &["vee", "ball", "flat", "facet"];

/// Forms of stock.
pub const FORMS: &[&str] = &["tube", "rod", "ring", "cast"];

const PARTED: &[&str] = &["tube", "rod"];
const BORED: &[&str] = &["tube", "ring", "cast"];

/// Rows of one block behind each other: an id for each, and the table in the order of the ids.
macro_rules! vocabulary {
    ($($block:ident { $($id:ident = $row:expr;)* })*) => {
        /// How the program knows a field; what it means stands in its row ([`FieldId::row`]).
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[allow(missing_docs, reason = "the meaning stands in the row")]
        #[repr(u16)]
        pub enum FieldId {
            $($($id,)*)*
        }

        /// Every field in the order of its id: those of a block behind each other, what a field holds right behind it.
        pub static FIELDS: &[Field] = &[
            $($(Field { id: FieldId::$id, block: BlockId::$block, ..$row },)*)*
        ];
    };
}

#[rustfmt::skip]
vocabulary! {
    Band {
        Title = field("title", Takes::Text, "what the maker calls the band");
        Size = field("size", Takes::Size, "ring size or smallest inside diameter of the finished ring");
        Bangle = field("bangle", Takes::Word(&["yes", "no"]), "whether it is worn on the wrist, not on a finger");
        Allow = field("allow", Takes::Block, "steps of the finished size added for a good fit, each shown apart");
        AllowWide = field("allow.wide", Takes::Steps, "steps of the finished size added for a wide band");
        AllowComfort = field("allow.comfort", Takes::Steps, "steps of the finished size added for a comfort bore");
        Width = field("width", Takes::Length, "axial width");
        Thickness = field("thickness", Takes::Length, "half the difference of the largest outside diameter and the size");
        Outside = field("outside", Takes::Length, "largest outside diameter, instead of thickness");
        Profile = field("profile", Takes::Profile, "outside curve, or the name of a profile block");
        ProfileEdge = field("profile.edge", Takes::Length, "radial thickness at the side faces; follows for all but domed and knife-edge");
        ProfileCrown = of(default("profile.crown", Takes::LengthOrZero, ("0 mm", DEFINED), "radius of the rounded crown"), &["knife-edge"]);
        ProfileAcross = of(field("profile.across", Takes::Length, "axial leg of the chamfer"), &["bevelled"]);
        ProfileDown = of(field("profile.down", Takes::Length, "radial leg of the chamfer"), &["bevelled"]);
        ProfileDip = of(field("profile.dip", Takes::Length, "how far the outside dips at mid width"), &["concave"]);
        Comfort = default("comfort", Takes::LengthOrZero, ("0 mm", DEFINED), "radial opening of the bore at its edges; 0 is a cylinder");
        Ease = field("ease", Takes::Block, "broken edges: chamfers with equal axial and radial legs");
        EaseOuter = default("ease.outer", Takes::LengthOrZero, ("0 mm", DEFINED), "leg of the chamfer on the outer edges");
        EaseBore = default("ease.bore", Takes::LengthOrZero, ("0 mm", DEFINED), "leg of the chamfer on the bore's edges");
        Alloy = field("alloy", Takes::Alloy, "the metal");
        Temper = default("temper", Takes::Temper, ("annealed", PRACTICE), "state of the metal");
        Stock = field("stock", Takes::Stock, "what the solid band is made of; default: its own metal and nothing to take off");
        Pattern = field("pattern", Takes::Block, "the cut pattern");
        PatternRepeats = field("pattern.repeats", Takes::Count, "repeats of the motif round the band");
        PatternDepth = field("pattern.depth", Takes::Length, "greatest depth, radial, to the tool tip");
        PatternMeanDepth = field("pattern.mean-depth", Takes::Length, "mean radial depth over the covered part; default: the depth");
        PatternCover = field("pattern.cover", Takes::Share, "part of the outside that is cut");
        PatternCut = field("pattern.cut", Takes::Word(&["before", "after"]), "cut before or after the stretch; default: a hollow band before, a solid one after");
        PatternKeep = field("pattern.keep", Takes::Word(&["repeats", "motif", "outside"]), "what stays the same in another size: the repeats, the length of one, or the outside, so that the sleeve or the thickness takes the size up; default: what the pattern states");
        PatternMotif = field("pattern.motif", Takes::Length, "length of a repeat to aim at, from which whole repeats follow");
        PatternMultiple = field("pattern.multiple", Takes::Count, "repeats come in multiples of this; default: 1");
        PatternCutter = field("pattern.cutter", Takes::Cutter, "cutter of every drawn cut that names none");
        PatternMinutes = field("pattern.minutes", Takes::Time, "measured time that the pattern takes, used in place of the computed one");
        PatternFlutes = field("pattern.flutes", Takes::Block, "grooves straight across, over both faces");
        PatternFlutesCount = default("pattern.flutes.count", Takes::Count, ("1", DEFINED), "how many in a repeat");
        PatternFlutesCutter = field("pattern.flutes.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternFlutesDepth = field("pattern.flutes.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternLines = field("pattern.lines", Takes::Block, "straight grooves at a slant, over both faces");
        PatternLinesCount = default("pattern.lines.count", Takes::Count, ("1", DEFINED), "how many in a repeat");
        PatternLinesSlant = default("pattern.lines.slant", Takes::Angle, ("0 deg", DEFINED), "from straight across, positive along the band as the axial place grows");
        PatternLinesBothWays = default("pattern.lines.both-ways", Takes::Word(&["yes", "no"]), ("no", DEFINED), "whether they cross with their mirror images");
        PatternLinesCutter = field("pattern.lines.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternLinesDepth = field("pattern.lines.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternWave = field("pattern.wave", Takes::Block, "a groove to and fro right round");
        PatternWaveRise = field("pattern.wave.rise", Takes::Length, "axial, from its lowest to its highest");
        PatternWaveAt = default("pattern.wave.at", Takes::Place, ("0 mm", DEFINED), "axial place of its middle, from mid width");
        PatternWavePeriods = default("pattern.wave.periods", Takes::Number, ("1", DEFINED), "how many in a repeat");
        PatternWaveCutter = field("pattern.wave.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternWaveDepth = field("pattern.wave.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternRing = field("pattern.ring", Takes::Block, "a groove right round, outside the repeat");
        PatternRingAt = field("pattern.ring.at", Takes::Place, "axial place of the tool's axis, from mid width; default: mid width");
        PatternRingFromEdge = field("pattern.ring.from-edge", Takes::LengthOrZero, "from the side face to the tool's axis, instead of a place");
        PatternRingBoth = default("pattern.ring.both", Takes::Word(&["yes", "no"]), ("no", DEFINED), "whether its mirror image is cut as well");
        PatternRingCutter = field("pattern.ring.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternRingDepth = field("pattern.ring.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternDots = field("pattern.dots", Takes::Block, "the cutter plunged and lifted again");
        PatternDotsRow = default("pattern.dots.row", Takes::Place, ("0 mm", DEFINED), "axial place, from mid width");
        PatternDotsCount = default("pattern.dots.count", Takes::Count, ("1", DEFINED), "how many in a repeat");
        PatternDotsCutter = field("pattern.dots.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternDotsDepth = field("pattern.dots.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternFacets = field("pattern.facets", Takes::Block, "planes");
        PatternFacetsRow = default("pattern.facets.row", Takes::Place, ("0 mm", DEFINED), "axial place, from mid width");
        PatternFacetsTilt = default("pattern.facets.tilt", Takes::Angle, ("0 deg", DEFINED), "how far the plane falls towards the nearer side face");
        PatternFacetsCount = default("pattern.facets.count", Takes::Count, ("1", DEFINED), "how many in a repeat");
        PatternFacetsCutter = field("pattern.facets.cutter", Takes::Cutter, "with what: a facet cutter; default: none, and no time");
        PatternFacetsDepth = field("pattern.facets.depth", Takes::Length, "of the plane under the largest outside at its place; default: the depth of the pattern");
        PatternPath = field("pattern.path", Takes::Block, "a groove along points and arcs: `from`, `to`, `arc … to …`, each a place along the repeat and an axial one");
        PatternPathCutter = field("pattern.path.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternPathDepth = field("pattern.path.depth", Takes::LengthOrZero, "radial, to the tool tip; `depth 0 mm to 0.3 mm` is a ramp; default: the depth of the pattern");
        PatternPathRamp = field("pattern.path.ramp", Takes::LengthOrZero, "depth at its end, where it is another; `depth 0 mm to 0.3 mm` says both");
        PatternPocket = field("pattern.pocket", Takes::Block, "all inside an outline of points and arcs, as far as the cutter gets");
        PatternPocketCutter = field("pattern.pocket.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternPocketDepth = field("pattern.pocket.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternPocketStepOver = field("pattern.pocket.step-over", Takes::Length, "from one pass of the clearing to the next; without one no time is computed");
        PatternDrawing = field("pattern.drawing", Takes::Block, "a drawing in SVG: its strokes are grooves, its fills pockets");
        PatternDrawingFile = field("pattern.drawing.file", Takes::Text, "the drawing, counted from the recipe's folder");
        PatternDrawingPart = field("pattern.drawing.part", Takes::Text, "the `id` of the element or group that is cut; default: all of it");
        PatternDrawingFit = default("pattern.drawing.fit", Takes::Word(&["repeat", "strip", "none"]), ("repeat", DEFINED), "what its width is stretched to along the band; its height is never stretched");
        PatternDrawingCutter = field("pattern.drawing.cutter", Takes::Cutter, "with what; default: the cutter of the pattern");
        PatternDrawingDepth = field("pattern.drawing.depth", Takes::Length, "radial, to the tool tip; default: the depth of the pattern");
        PatternDrawingStepOver = field("pattern.drawing.step-over", Takes::Length, "from one pass of the clearing of its pockets to the next; without one they give no time");
        Start = field("start", Takes::Start, "size or diameter that the solid band is made to before it is stretched, or `stretch` and per cent");
        Kinematics = default("kinematics", Takes::Word(&["free", "held"]), ("free", DEFINED), "how the width behaves under stretch: a free ring gets narrower, or the width is held");
        Hollow = field("hollow", Takes::Block, "the two-part build: shell and sleeve");
        HollowShell = field("hollow.shell", Takes::LengthOr("full"), "wall of the shell, normal to its surface; full: no cavity");
        HollowShellAlloy = field("hollow.shell.alloy", Takes::Alloy, "the shell's metal; default: the band's");
        HollowShellAssay = field("hollow.shell.assay", Takes::Fineness, "fineness of the shell found by assay");
        HollowShellAssayDated = field("hollow.shell.assay.dated", Takes::Day, "day of that assay");
        HollowShellAssayLot = field("hollow.shell.assay.lot", Takes::Text, "its lot, or the number of the assay");
        HollowShellTemper = field("hollow.shell.temper", Takes::Temper, "the shell's state; default: the band's");
        HollowShellStock = field("hollow.shell.stock", Takes::Stock, "what the shell is made of");
        HollowShellRoof = default("hollow.shell.roof", Takes::Word(&["uniform", "straight"]), ("uniform", DEFINED), "cavity follows the outside, or is a straight channel");
        HollowShellNose = default("hollow.shell.nose", Takes::LengthOrZero, ("0 mm", DEFINED), "radius of the cavity's inner corners");
        HollowSleeve = field("hollow.sleeve", Takes::Length, "thickness of the sleeve at mid width");
        HollowSleeveAlloy = field("hollow.sleeve.alloy", Takes::Alloy, "the sleeve's metal; default: the band's");
        HollowSleeveAssay = field("hollow.sleeve.assay", Takes::Fineness, "fineness of the sleeve found by assay");
        HollowSleeveAssayDated = field("hollow.sleeve.assay.dated", Takes::Day, "day of that assay");
        HollowSleeveAssayLot = field("hollow.sleeve.assay.lot", Takes::Text, "its lot, or the number of the assay");
        HollowSleeveTemper = field("hollow.sleeve.temper", Takes::Temper, "the sleeve's state; default: the band's");
        HollowSleeveStock = field("hollow.sleeve.stock", Takes::Stock, "what the sleeve is made of");
        HollowSleeveRelief = field("hollow.sleeve.relief", Takes::Length, "wall that the sleeve is turned down to between the feet");
        HollowRidge = field("hollow.ridge", Takes::Length, "height of the ridges on the sleeve");
        HollowRidgeWide = field("hollow.ridge.wide", Takes::Length, "axial width of a ridge");
        HollowRidgeCount = default("hollow.ridge.count", Takes::Count, ("2", DEFINED), "one at mid width, or two as far out as the roof allows");
        HollowRidgePlay = default("hollow.ridge.play", Takes::LengthOrZero, ("0.05 mm", PRACTICE), "axial clearance of each of two ridges");
        HollowLip = field("hollow.lip", Takes::Length, "how far the shell's lips reach inwards");
        HollowLipWide = field("hollow.lip.wide", Takes::Length, "axial width of a lip");
        HollowLipPlay = default("hollow.lip.play", Takes::LengthOrZero, ("0.05 mm", PRACTICE), "axial clearance of the sleeve between the lips, in all");
        HollowApart = field("hollow.apart", Takes::Word(&["yes", "no"]), "whether the eye tells shell and sleeve apart");
        HollowEntry = default("hollow.entry", Takes::LengthOrZero, ("0.04 mm", PRACTICE), "clearance on the diameter at which the parts go together, as machined");
        HollowHold = field("hollow.hold", Takes::Length, "overlap on the diameter that keeps the ring together; default: the larger of 0.10 mm (common practice) and twice what the foot springs open");
        HollowStage = default("hollow.stage", Takes::Word(&["fixed", "turning"]), ("fixed", DEFINED), "the stage that the ring is built to");
        HollowStagePast = of(field("hollow.stage.past", Takes::LengthOrZero, "opening past touch under load, on the diameter"), &["fixed"]);
        HollowStageKey = of(field("hollow.stage.key", Takes::Length, "depth of a knurl or notches in the foot, radial"), &["fixed"]);
        HollowStagePlay = of(field("hollow.stage.play", Takes::Length, "running clearance on the diameter"), &["turning"]);
        HollowLock = field("hollow.lock", Takes::Word(&["key", "tack", "stake"]), "what holds the finished ring besides friction: a knurl or notches in the foot, spots welded in the seam with the ring's own metal, the sleeve pricked up beside the foot");
        HollowLockDeep = of(field("hollow.lock.deep", Takes::Length, "depth of the key, radial"), &["key"]);
        HollowLockCount = field("hollow.lock.count", Takes::Count, "how many of them");
        HollowKinematics = field("hollow.kinematics", Takes::Word(&["free", "held"]), "how the width behaves under stretch; default: as the band's `kinematics`");
        HollowFriction = default("hollow.friction", Takes::Number, ("0.15", PRACTICE), "coefficient of friction");
        HollowEnlarger = default("hollow.enlarger", Takes::LengthOrZero, ("0.03 mm", PRACTICE), "how closely the enlarger repeats: plus or minus this much on the diameter");
        Finish = field("finish", Takes::Block, "metal left on for finishing, per side");
        FinishBore = default("finish.bore", Takes::LengthOrZero, ("0 mm", DEFINED), "left on the bore, radial");
        FinishBoreWhen = default("finish.bore.when", Takes::Word(&["before", "after"]), ("after", PRACTICE), "taken off before or after the stretch");
        FinishOutside = default("finish.outside", Takes::LengthOrZero, ("0 mm", DEFINED), "left on the outside, radial");
        FinishOutsideWhen = field("finish.outside.when", Takes::Word(&["before", "after"]), "taken off before or after the stretch; default: before where a pattern is cut before the stretch, else after");
        FinishFaces = default("finish.faces", Takes::LengthOrZero, ("0 mm", DEFINED), "left on each side face");
        FinishFacesWhen = default("finish.faces.when", Takes::Word(&["before", "after"]), ("after", PRACTICE), "taken off before or after the stretch");
        Mark = field("mark", Takes::Block, "a mark that tells the fineness");
        MarkDeep = field("mark.deep", Takes::Length, "depth of the mark; counts in the walls");
        MarkOn = field("mark.on", Takes::Word(&["sleeve", "shell", "both"]), "the part that carries it; both: each its own");
        MarkBy = default("mark.by", Takes::Word(&["punch", "laser"]), ("punch", DEFINED), "struck with a punch, or cut by a laser, which takes its own depth only");
        MarkStruck = default("mark.struck", Takes::Word(&["before", "after"]), ("before", PRACTICE), "struck, or lasered, before or after the parts are joined");
        Tag = field("tag", Takes::Text, "the words that the band is sold under");
        Plating = field("plating", Takes::AnyWord, "what the band is plated with, a metal or another word, or `none`; disclosed, never counted as fineness");
        PlatingThickness = field("plating.thickness", Takes::Length, "how thick the plating is at its thinnest; some rulebooks ask for a least thickness");
        Solder = field("solder", Takes::Alloy, "the solder that joins it, or `none`");
        SolderAmount = field("solder.amount", Takes::Mass, "weight of the solder in the band");
        SolderAuthorised = field("solder.authorised", Takes::Word(&["yes", "no"]), "whether the office allows solder of a lower fineness");
        Assay = field("assay", Takes::Fineness, "fineness found by assay, of every part that states none of its own");
        AssayWhole = field("assay.whole", Takes::Fineness, "fineness found of the whole, melted with its solder");
        AssayDated = field("assay.dated", Takes::Day, "day of the assay");
        AssayLot = field("assay.lot", Takes::Text, "the lot, or the number of the assay");
        Sale = field("sale", Takes::Word(&["piece", "weight"]), "how the band is sold: at a price by the piece, or by weight");
        SaleMarkup = of(field("sale.markup", Takes::ShareOrMore, "added to the cost"), &["piece"]);
        SaleMargin = of(field("sale.margin", Takes::ShareBelow, "what is earned, as a part of the price"), &["piece"]);
        SaleAt = of(field("sale.at", Takes::Money, "the price itself, before tax"), &["piece"]);
        SaleMaking = of(field("sale.making", Takes::MoneyByWeightOrShare, "making charge on the charged weight, or a share of its metal's worth"), &["weight"]);
        SaleAdd = of(default("sale.add", Takes::ShareOrMore, ("0 %", DEFINED), "charged on top of the finished weight; a selling charge, not metal lost"), &["weight"]);
        Against = field("against", Takes::Band, "the band that break-even figures compare with; default: the solid of the same look");
        Made = field("made", Takes::Block, "the parts of a hollow band, or the blank of a solid one, as they came off the machine; written as `made BAND { \u{2026} }` beside the band");
        MadeShellBore = field("made.shell-bore", Takes::Length, "measured bore of the shell's feet, a diameter");
        MadeShellLipBore = field("made.shell-lip-bore", Takes::Length, "measured bore of the shell's lips, a diameter");
        MadeShellChannel = field("made.shell-channel", Takes::Length, "measured roof of the shell's channel at mid width, a diameter");
        MadeShellChannelWidth = field("made.shell-channel-width", Takes::Length, "measured axial width of the shell's channel between the feet");
        MadeShellOutside = field("made.shell-outside", Takes::Length, "measured largest outside of the shell, a diameter");
        MadeShellWidth = field("made.shell-width", Takes::Length, "measured width of the shell");
        MadeSleeveBore = field("made.sleeve-bore", Takes::Length, "measured bore of the sleeve, a diameter");
        MadeSleeveFloor = field("made.sleeve-floor", Takes::Length, "measured outside of the sleeve beside the ridges, a diameter");
        MadeSleeveRidgeTop = field("made.sleeve-ridge-top", Takes::Length, "measured outside of the ridges, a diameter");
        MadeSleeveRidgeFromFace = field("made.sleeve-ridge-from-face", Takes::LengthOrZero, "measured from the sleeve's side face to the outer face of the outermost ridge");
        MadeSleeveWidth = field("made.sleeve-width", Takes::Length, "measured width of the sleeve");
        MadeSleeveEdgeBore = field("made.sleeve-edge-bore", Takes::Length, "measured bore of the sleeve at its side faces, a diameter");
        MadeBlankBore = field("made.blank-bore", Takes::Length, "measured bore of a solid blank, a diameter");
        MadeBlankOutside = field("made.blank-outside", Takes::Length, "measured largest outside of a solid blank, a diameter");
        MadeBlankThickness = field("made.blank-thickness", Takes::Length, "measured thickness of a solid blank, radial");
        MadeBlankWidth = field("made.blank-width", Takes::Length, "measured width of a solid blank");
        Weighed = field("weighed", Takes::Block, "the metal of this very ring on the scale, stage by stage; written as `weighed BAND { \u{2026} }` beside the band");
        WeighedScale = field("weighed.scale", Takes::MassAboveZero, "what the scale tells apart, so that a reading is off by half of it at most; default: the shop's `tolerance scale`, else 0.01 g (from memory)");
        WeighedDated = field("weighed.dated", Takes::Day, "the day of readings that state none of their own");
        WeighedIssued = field("weighed.issued", Takes::Mass, "reading: stock issued for the ring, all parts together");
        WeighedIssuedDated = field("weighed.issued.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedTurned = field("weighed.turned", Takes::Mass, "reading: a solid blank as turned, before its pattern is cut");
        WeighedTurnedDated = field("weighed.turned.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedCut = field("weighed.cut", Takes::Mass, "reading: a solid band with its pattern cut");
        WeighedCutDated = field("weighed.cut.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedShellIssued = field("weighed.shell-issued", Takes::Mass, "reading: stock issued for the shell");
        WeighedShellIssuedDated = field("weighed.shell-issued.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedShellTurned = field("weighed.shell-turned", Takes::Mass, "reading: the shell as turned, before the pattern is cut");
        WeighedShellTurnedDated = field("weighed.shell-turned.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedShellCut = field("weighed.shell-cut", Takes::Mass, "reading: the shell with its pattern cut");
        WeighedShellCutDated = field("weighed.shell-cut.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedSleeveIssued = field("weighed.sleeve-issued", Takes::Mass, "reading: stock issued for the sleeve");
        WeighedSleeveIssuedDated = field("weighed.sleeve-issued.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedSleeveTurned = field("weighed.sleeve-turned", Takes::Mass, "reading: the sleeve as turned");
        WeighedSleeveTurnedDated = field("weighed.sleeve-turned.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedJoined = field("weighed.joined", Takes::Mass, "reading: shell and sleeve joined, before finishing");
        WeighedJoinedDated = field("weighed.joined.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedFinished = field("weighed.finished", Takes::Mass, "reading: the finished ring");
        WeighedFinishedDated = field("weighed.finished.dated", Takes::Day, "the day of that reading; default: that of the block");
        WeighedReturned = field("weighed.returned", Takes::Mass, "reading: turnings, offcuts and polishings of this ring that were collected");
        WeighedReturnedDated = field("weighed.returned.dated", Takes::Day, "the day of that reading; default: that of the block");
        Limit = field("limit", Takes::Block, "limits that the band is judged by");
        LimitWall = default("limit.wall", Takes::LengthOrZero, ("0.20 mm", PRACTICE), "least wall that may remain anywhere");
        LimitSize = default("limit.size", Takes::LengthOrZero, ("0.05 mm", PRACTICE), "how far a ring of parts as made may be off the ordered bore and outside, on the diameter, and off the width");
        LimitUnderCut = field("limit.under-cut", Takes::LengthOrZero, "least wall under the cut; default: that of `wall`");
        LimitRoof = field("limit.roof", Takes::LengthOrZero, "least wall of the roof; default: that of `wall`");
        LimitSide = field("limit.side", Takes::LengthOrZero, "least wall of the shell's side walls and side faces; default: that of `wall`");
        LimitSleeve = field("limit.sleeve", Takes::LengthOrZero, "least wall of the sleeve; default: that of `wall`");
        LimitStruck = default("limit.struck", Takes::LengthOrZero, ("0.8 mm", MEMORY), "wall that a mark struck with a punch needs, its depth counted in it");
        LimitMark = field("limit.mark", Takes::LengthOrZero, "least wall that stays under a mark; default: that of `wall`");
        LimitStrain = default("limit.strain", Takes::Share, ("5 %", PRACTICE), "greatest true strain in one pull");
        LimitWorking = default("limit.working", Takes::Share, ("1/3", PRACTICE), "part of the elongation that is used before annealing");
        LimitFloat = default("limit.float", Takes::LengthOrZero, ("0.15 mm", PRACTICE), "how far a turning ring may wander along the finger, in all");
    }
    Prices {
        PricesDated = field("prices.dated", Takes::Date, "day of the prices");
        PricesSource = field("prices.source", Takes::Text, "where they are from");
        PricesMetal = field("prices.METAL", Takes::MoneyByWeight, "price of an element when fine, or of an alloy as such");
        PricesMetalDated = field("prices.METAL.dated", Takes::Date, "the day of this price; default: that of the block");
        PricesMetalSource = field("prices.METAL.source", Takes::Text, "where it is from; default: that of the block");
        PricesMetalPremium = field("prices.METAL.premium", Takes::ShareOrMore, "paid on top when buying; default: that of the block");
        PricesPremium = default("prices.premium", Takes::ShareOrMore, ("0 %", DEFINED), "paid on top when buying");
        PricesFabrication = field("prices.fabrication", Takes::MoneyByWeight, "charge for the form that metal is bought in, by weight issued; default: none");
        PricesOldest = field("prices.oldest", Takes::Time, "age past which a price is stale; default: no limit");
        PricesRate = apart(field("prices.rate", Takes::Anything, "what one unit of a currency is in another, as in `rate 1 USD = 0.92 EUR`"));
        PricesRateDated = field("prices.rate.dated", Takes::Date, "the day of this rate; default: that of the block");
        PricesRateSource = field("prices.rate.source", Takes::Text, "where it is from; default: that of the block");
    }
    Shop {
        ShopCurrency = field("shop.currency", Takes::Currency, "the currency that all is counted in; default: that of the shop's first amount");
        ShopLabour = field("shop.labour", Takes::MoneyByTime, "rate for labour; without one no time of it can be paid");
        ShopMachine = field("shop.machine", Takes::MoneyByTime, "rate for the machine; without one no time of it can be paid");
        ShopBatch = default("shop.batch", Takes::Count, ("1", DEFINED), "rings made together, which share set-up and consignments");
        ShopOperation = apart(field("shop.operation", Takes::Block, "one operation, as in `operation turning { run 6 min }`"));
        ShopOperationSetUp = default("shop.operation.set-up", Takes::Time, ("0 min", DEFINED), "once a batch");
        ShopOperationRun = default("shop.operation.run", Takes::Time, ("0 min", DEFINED), "for each ring");
        ShopOperationAt = default("shop.operation.at", Takes::Word(&["labour", "machine", "both"]), ("labour", DEFINED), "the rate that its time is paid at");
        ShopOperationFor = default("shop.operation.for", Takes::Word(&["every", "solid", "hollow"]), ("every", DEFINED), "the bands that it is done on");
        ShopOverhead = default("shop.overhead", Takes::ShareOrMore, ("0 %", DEFINED), "overhead, as a share");
        ShopOverheadOn = default("shop.overhead.on", Takes::Word(&["work", "cost"]), ("work", DEFINED), "a share of labour and machine, or of metal too");
        ShopRejects = field("shop.rejects", Takes::Block, "share of the bands begun that is rejected when finished");
        ShopRejectsSolid = default("shop.rejects.solid", Takes::ShareBelow, ("0 %", DEFINED), "of solid bands");
        ShopRejectsHollow = default("shop.rejects.hollow", Takes::ShareBelow, ("0 %", DEFINED), "of hollow bands");
        ShopScrap = field("shop.scrap", Takes::Block, "what comes back of metal taken off; what is not stated does not come back");
        ShopScrapOffcuts = field("shop.scrap.offcuts", Takes::Block, "clean offcuts, sprues, and rejects");
        ShopScrapOffcutsCollected = default("shop.scrap.offcuts.collected", Takes::Share, ("100 %", DEFINED), "share that is collected");
        ShopScrapOffcutsPaid = field("shop.scrap.offcuts.paid", Takes::Share, "share of it that the refiner pays for");
        ShopScrapTurnings = field("shop.scrap.turnings", Takes::Block, "turnings, what the pattern takes off included");
        ShopScrapTurningsCollected = default("shop.scrap.turnings.collected", Takes::Share, ("100 %", DEFINED), "share that is collected");
        ShopScrapTurningsPaid = field("shop.scrap.turnings.paid", Takes::Share, "share of it that the refiner pays for");
        ShopScrapPolishings = field("shop.scrap.polishings", Takes::Block, "filings and polishings");
        ShopScrapPolishingsPart = field("shop.scrap.polishings.part", Takes::ShareBelow, "part of the uncut weight that is filed and polished off on top of it");
        ShopScrapPolishingsCollected = default("shop.scrap.polishings.collected", Takes::Share, ("100 %", DEFINED), "share that is collected");
        ShopScrapPolishingsPaid = field("shop.scrap.polishings.paid", Takes::Share, "share of it that the refiner pays for");
        ShopScrapCharge = field("shop.scrap.charge", Takes::MoneyByWeight, "the refiner's charge, by weight sent in; default: none");
        ShopScrapMinimum = field("shop.scrap.minimum", Takes::Money, "the least that the refiner charges for a consignment; default: none");
        ShopScrapConsignment = field("shop.scrap.consignment", Takes::Mass, "scrap that goes to the refiner together, which bears the minimum by weight; default: what a batch or an order sends in");
        ShopScrapWait = field("shop.scrap.wait", Takes::Time, "from sending scrap in until the refiner pays; default: not said");
        ShopFee = apart(field("shop.fee", Takes::Block, "a fee, as in `fee hallmark { article 1 EUR }`"));
        ShopFeeArticle = field("shop.fee.article", Takes::Money, "for each article; default: none");
        ShopFeeConsignment = field("shop.fee.consignment", Takes::Money, "for each consignment, a batch or an order; default: none");
        ShopFeeMinimum = field("shop.fee.minimum", Takes::Money, "the least for a consignment; default: none");
        ShopTax = default("shop.tax", Takes::ShareOrMore, ("0 %", DEFINED), "tax on the price");
        ShopTolerance = field("shop.tolerance", Takes::Block, "how far what the shop makes may be off, wherever a recipe writes a length and no `\u{B1}` behind it");
        ShopToleranceTurning = field("shop.tolerance.turning", Takes::LengthOrZero, "plus and minus of each turned length and diameter that is written");
        ShopToleranceCut = field("shop.tolerance.cut", Takes::LengthOrZero, "plus and minus of the depth that the pattern is cut to, greatest and mean alike");
        ShopToleranceRunOut = field("shop.tolerance.run-out", Takes::LengthOrZero, "how far the axes of outside and bore lie apart at most: every wall is so much thinner on one side, no weight changes");
        ShopToleranceScale = field("shop.tolerance.scale", Takes::MassAboveZero, "what the scale tells apart; a reading is off by half of it at most");
    }
    Stock {
        StockOutside = field("stock.outside", Takes::Length, "outside diameter");
        StockBore = of(field("stock.bore", Takes::Length, "bore"), BORED);
        StockLength = field("stock.length", Takes::Length, "length as bought (tube, rod), or of one blank (ring, cast)");
        StockKerf = of(default("stock.kerf", Takes::LengthOrZero, ("0 mm", DEFINED), "width of the parting cut"), PARTED);
        StockFacing = default("stock.facing", Takes::LengthOrZero, ("0 mm", DEFINED), "taken off each face");
        StockCleanUp = default("stock.clean-up", Takes::LengthOrZero, ("0.2 mm", MEMORY), "metal to clean up on each turned diameter, at least");
        StockRest = of(default("stock.rest", Takes::LengthOrZero, ("0 mm", DEFINED), "what stays in the chuck of each length"), PARTED);
        StockSprue = of(field("stock.sprue", Takes::Mass, "sprue of each casting; default: none"), &["cast"]);
        StockFabrication = field("stock.fabrication", Takes::MoneyByWeight, "charge for this form, by weight issued; default: that of the prices");
    }
    Order {
        OrderDated = field("order.dated", Takes::Date, "the day of the order, to which ages count");
        OrderFor = field("order.for", Takes::Text, "whom it is for");
        OrderBand = field("order.BAND", Takes::Block, "what is wanted of a band, as in `harvest { 3 of ISO 52, 8 of ISO 54 }`");
        OrderExchange = field("order.exchange", Takes::Block, "old metal that the customer brings");
        OrderExchangeWeight = field("order.exchange.weight", Takes::Mass, "its weight");
        OrderExchangeAlloy = field("order.exchange.alloy", Takes::Alloy, "its metal, as tested");
        OrderExchangePaid = default("order.exchange.paid", Takes::Share, ("100 %", DEFINED), "share of its fine metal that is credited");
        OrderExchangeAs = default("order.exchange.as", Takes::Word(&["credit", "supplied"]), ("credit", DEFINED), "credited at the price of the day, or taken for this very job in place of bought metal");
        OrderQuote = field("order.quote", Takes::Block, "the offer made for it");
        OrderQuoteDated = field("order.quote.dated", Takes::Date, "the day of the offer; default: that of the order");
        OrderQuoteValid = field("order.quote.valid", Takes::Time, "how long it stands; default: no end");
        OrderQuoteDeposit = default("order.quote.deposit", Takes::Share, ("0 %", DEFINED), "part of the total to be paid beforehand");
        OrderQuoteTrigger = field("order.quote.trigger", Takes::Share, "move of the metal price, to either side, at which a new offer is made; default: none");
        OrderReturned = field("order.returned", Takes::Block, "what came back of the work, weighed");
        OrderReturnedTurnings = field("order.returned.turnings", Takes::Mass, "turnings, what the pattern takes off included");
        OrderReturnedOffcuts = field("order.returned.offcuts", Takes::Mass, "clean offcuts, sprues and rejects");
        OrderReturnedPolishings = field("order.returned.polishings", Takes::Mass, "filings and polishings");
    }
    Alloy {
        AlloyTitle = field("alloy.title", Takes::Text, "what the trade calls it");
        AlloyMetal = field("alloy.METAL", Takes::Fineness, "parts per thousand of an element; all of them add up to 1000");
        AlloyDensity = field("alloy.density", Takes::Density, "its density; default: by ideal mixing of its elements");
        AlloyAssay = field("alloy.assay", Takes::Fineness, "fineness of this lot found by assay");
        AlloyAssayDated = field("alloy.assay.dated", Takes::Day, "day of that assay");
        AlloyAssayLot = field("alloy.assay.lot", Takes::Text, "the lot, or the number of the assay");
        AlloyColour = field("alloy.colour", Takes::AnyWord, "its colour; default: white where its name begins with `white-`");
        AlloyTemper = apart(field("alloy.temper", Takes::Block, "a state of it, as in `temper hard { yield 520 MPa }`"));
        AlloyTemperYield = field("alloy.temper.yield", Takes::Stress, "stress at which it yields");
        AlloyTemperTensile = field("alloy.temper.tensile", Takes::Stress, "tensile strength");
        AlloyTemperElongation = field("alloy.temper.elongation", Takes::ShareOrMore, "elongation at break");
        AlloyTemperModulus = field("alloy.temper.modulus", Takes::Stress, "modulus of elasticity");
        AlloyTemperHardening = field("alloy.temper.hardening", Takes::Stress, "how much the flow stress rises for each unit of strain");
        AlloyTemperPoisson = field("alloy.temper.poisson", Takes::Poisson, "Poisson's ratio");
        AlloyTemperHardness = field("alloy.temper.hardness", Takes::Number, "Vickers hardness, from which a yield that is not stated is estimated");
    }
    Cutter {
        CutterAngle = of(field("cutter.angle", Takes::Angle, "included angle"), &["vee"]);
        CutterTip = of(default("cutter.tip", Takes::LengthOrZero, ("0 mm", DEFINED), "width of the flat tip"), &["vee"]);
        CutterRadius = of(field("cutter.radius", Takes::Length, "radius of the ball"), &["ball"]);
        CutterWidth = of(field("cutter.width", Takes::Length, "width of the flat end"), &["flat"]);
        CutterFeed = field("cutter.feed", Takes::Speed, "along a groove; without one no time is computed");
        CutterPlunge = field("cutter.plunge", Takes::Speed, "into the metal; without one no time is computed");
        CutterPass = field("cutter.pass", Takes::Length, "greatest depth taken at once; default: all of it");
        CutterLift = default("cutter.lift", Takes::LengthOrZero, ("0.5 mm", PRACTICE), "how far it is lifted over the outside between cuts");
        CutterRapid = field("cutter.rapid", Takes::Speed, "between cuts; default: moves between cuts are not counted");
    }
    Rules {
        RulesTitle = field("rules.title", Takes::Text, "what the rulebook is called");
        RulesLike = field("rules.like", Takes::Rulebook, "the built-in rulebook that it starts from");
        RulesStandards = field("rules.standards", Takes::MetalStandards, "the finenesses that it knows of a metal, as in `standards gold [585, 750]`");
        RulesShortfall = field("rules.shortfall", Takes::MetalParts, "what a part may be under its standard");
        RulesWhole = field("rules.whole", Takes::MetalParts, "what the whole, melted, may be under its standard");
        RulesExempt = field("rules.exempt", Takes::MetalMass, "weight of a metal below which no mark is needed");
        RulesSystem = field("rules.system", Takes::Word(&["compulsory", "own-mark", "voluntary", "recommended"]), "whether and by whom it is marked");
        RulesFinenesses = field("rules.finenesses", Takes::Word(&["lowest", "each-own", "whole", "refused-inside"]), "how parts of several finenesses are marked");
        RulesMetals = field("rules.metals", Takes::Word(&["full-on-least", "each-if-apart", "each-own", "apart-by-colour", "platinum-gold"]), "how parts of several precious metals are marked");
        RulesBase = field("rules.base", Takes::Word(&["apart-or-named", "left-out-if-cold", "multi-metal", "refused", "ask"]), "how a part without precious metal is taken");
        RulesSay = field("rules.say", Takes::Text, "something to be said of every band that is judged by it");
    }
}
