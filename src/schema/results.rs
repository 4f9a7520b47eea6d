//! The catalogue of results: every one, its unit, what it means, how it is computed and from what.
//!
//! A result is known by its [`ResultId`]; its path is spelt here and nowhere else. What computes it stands in
//! the room that it belongs to.

use crate::quantity::Dimension;

use super::block::BlockId;
use super::fields::FieldId;
use super::room::Room;

use RestsOn::{B, F, R};

/// What a result is computed from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestsOn {
    /// A field.
    F(FieldId),
    /// Another result.
    R(ResultId),
    /// All that a block of the top level states.
    B(BlockId),
}

/// One result.
#[derive(Clone, Copy, Debug)]
pub struct ResultRow {
    /// How the program knows it.
    pub id: ResultId,
    /// What computes it.
    pub room: Room,
    /// Path behind the band's name.
    pub path: &'static str,
    /// The unit of the bare number; empty for a fraction of one and for a count.
    pub unit: &'static str,
    /// It counts things: a bare number that is no share.
    pub counts: bool,
    /// Its dimension.
    pub dimension: Dimension,
    /// What it means.
    pub meaning: &'static str,
    /// How it is computed.
    pub formula: &'static str,
    /// The results that its formula goes through, what is chosen, and the fields that it cannot do without. What moves
    /// it is observed, not listed.
    pub needs: &'static [RestsOn],
    /// Formula and needs for a hollow band, where they differ.
    pub hollow: Option<(&'static str, &'static [RestsOn])>,
}

const fn entry(
    path: &'static str,
    unit: &'static str,
    dimension: Dimension,
    meaning: &'static str,
    formula: &'static str,
) -> ResultRow {
    ResultRow {
        id: ResultId::Weight,
        room: Room::Metal,
        path,
        unit,
        counts: false,
        dimension,
        meaning,
        formula,
        needs: &[],
        hollow: None,
    }
}

const fn from(entry: ResultRow, needs: &'static [RestsOn]) -> ResultRow {
    ResultRow { needs, ..entry }
}

const fn count(entry: ResultRow) -> ResultRow {
    ResultRow {
        counts: true,
        ..entry
    }
}

const fn hollow(entry: ResultRow, formula: &'static str, needs: &'static [RestsOn]) -> ResultRow {
    ResultRow {
        hollow: Some((formula, needs)),
        ..entry
    }
}

/// Money, of the currency of each band.
const MONEY: &str = "money";
const BREAK_EVEN: &str =
    "(a of the other - a) / (b - b of the other), each cost being a + b * price";
const MARK: &str = "highest fineness that it may carry by these rules, parts per thousand; 0: none; with `.verdict` after it in words";
const MARKED: &str = "highest standard, or where any figure may be stated the true one rounded down, that every part, or the whole where the rules want it, reaches; what may be found short on control never counts";
const MARGIN: &str =
    "what the test that decides has to spare at that figure, parts per thousand; negative: missing";
const SPARE: &str = "found - figure, of the test that comes nearest to what the rules allow";

/// What the section of a solid band is drawn from.
const SECTION: &[RestsOn] = &[
    F(FieldId::Size),
    F(FieldId::Width),
    F(FieldId::Thickness),
    R(ResultId::Outside),
    F(FieldId::Profile),
    F(FieldId::ProfileEdge),
    F(FieldId::ProfileAcross),
    F(FieldId::ProfileDown),
    F(FieldId::ProfileCrown),
    F(FieldId::ProfileDip),
    F(FieldId::Comfort),
    F(FieldId::EaseOuter),
    F(FieldId::EaseBore),
];

/// What the channel of a shell is drawn from.
const CHANNEL: &[RestsOn] = &[
    F(FieldId::Size),
    F(FieldId::Width),
    F(FieldId::Thickness),
    F(FieldId::Profile),
    F(FieldId::ProfileEdge),
    F(FieldId::Comfort),
    F(FieldId::HollowShell),
    F(FieldId::HollowShellRoof),
    F(FieldId::HollowSleeve),
];

/// What parts as made come to.
const MADE: &[RestsOn] = &[
    F(FieldId::MadeShellBore),
    F(FieldId::MadeShellLipBore),
    F(FieldId::MadeShellChannel),
    F(FieldId::MadeShellChannelWidth),
    F(FieldId::MadeShellOutside),
    F(FieldId::MadeShellWidth),
    F(FieldId::MadeSleeveBore),
    F(FieldId::MadeSleeveFloor),
    F(FieldId::MadeSleeveRidgeTop),
    F(FieldId::MadeSleeveRidgeFromFace),
    F(FieldId::MadeSleeveWidth),
    F(FieldId::MadeSleeveEdgeBore),
    F(FieldId::MadeBlankBore),
    F(FieldId::MadeBlankOutside),
    F(FieldId::MadeBlankThickness),
    F(FieldId::MadeBlankWidth),
];

/// What drawn cuts come to follows from.
const DRAWN: &[RestsOn] = &[
    R(ResultId::StripLength),
    R(ResultId::StripHeight),
    F(FieldId::Profile),
    F(FieldId::PatternRepeats),
    F(FieldId::PatternMotif),
    F(FieldId::PatternDepth),
    F(FieldId::PatternMinutes),
    B(BlockId::Cutter),
];

/// What strength follows from.
const BEARS: &[RestsOn] = &[
    F(FieldId::Size),
    F(FieldId::Width),
    F(FieldId::Thickness),
    F(FieldId::Profile),
    F(FieldId::PatternDepth),
    F(FieldId::HollowShell),
    F(FieldId::HollowSleeve),
    F(FieldId::Temper),
    F(FieldId::HollowShellTemper),
    F(FieldId::HollowSleeveTemper),
];

/// What the parts as machined follow from.
const PARTS: &[RestsOn] = &[
    F(FieldId::Size),
    F(FieldId::Width),
    F(FieldId::Thickness),
    F(FieldId::Comfort),
    F(FieldId::HollowShell),
    F(FieldId::HollowSleeve),
    F(FieldId::HollowRidge),
    F(FieldId::HollowLip),
    F(FieldId::HollowEntry),
    F(FieldId::HollowStagePast),
    F(FieldId::HollowKinematics),
    F(FieldId::FinishBore),
    F(FieldId::FinishOutside),
    F(FieldId::FinishFaces),
    F(FieldId::FinishBoreWhen),
    F(FieldId::FinishOutsideWhen),
    F(FieldId::FinishFacesWhen),
];

/// What a solid band as machined follows from.
const SMALL: &[RestsOn] = &[
    F(FieldId::Size),
    F(FieldId::Start),
    F(FieldId::Width),
    F(FieldId::Thickness),
    F(FieldId::Kinematics),
    F(FieldId::FinishBore),
    F(FieldId::FinishOutside),
    F(FieldId::FinishFaces),
    F(FieldId::FinishBoreWhen),
    F(FieldId::FinishOutsideWhen),
    F(FieldId::FinishFacesWhen),
];

/// What both have in common.
const BOTH: &[RestsOn] = &[
    F(FieldId::Size),
    F(FieldId::Start),
    R(ResultId::MachinedSleeveBore),
    R(ResultId::MachinedBore),
];

/// What the stages follow from.
const STAGE: &[RestsOn] = &[
    R(ResultId::MachinedShellBore),
    R(ResultId::MachinedSleeveFloor),
    R(ResultId::MachinedSleeveRidgeTop),
    R(ResultId::MachinedSleeveBore),
    F(FieldId::HollowHold),
    F(FieldId::HollowKinematics),
];

/// What grip follows from.
const GRIP: &[RestsOn] = &[
    R(ResultId::MachinedShellBore),
    R(ResultId::MachinedSleeveFloor),
    F(FieldId::HollowStagePast),
    F(FieldId::HollowShellTemper),
    F(FieldId::HollowSleeveTemper),
    F(FieldId::HollowShellAlloy),
    F(FieldId::HollowSleeveAlloy),
];

/// What fineness rests on.
const FINENESS: &[RestsOn] = &[
    F(FieldId::Alloy),
    F(FieldId::HollowShellAlloy),
    F(FieldId::HollowSleeveAlloy),
    F(FieldId::Assay),
    F(FieldId::Solder),
    F(FieldId::HollowApart),
];

/// Rows of one room behind each other: an id for each, and the table in the order of the ids.
macro_rules! catalogue {
    ($($room:ident { $($id:ident = $row:expr;)* })*) => {
        /// How the program knows a result; what it means stands in its row ([`ResultId::row`]).
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[allow(missing_docs, reason = "the meaning stands in the row")]
        #[repr(u16)]
        pub enum ResultId {
            $($($id,)*)*
        }

        /// Every result in the order of its id: those of a subject behind each other.
        pub static RESULTS: &[ResultRow] = &[
            $($(ResultRow { id: ResultId::$id, room: Room::$room, ..$row },)*)*
        ];
    };
}

#[rustfmt::skip]
catalogue! {
    Metal {
        Weight = hollow(from(entry("weight", "g", Dimension::MASS, "finished weight", "volume * density + solder"), &[R(ResultId::Volume), R(ResultId::Density), F(FieldId::SolderAmount)]), "shell.weight + sleeve.weight + solder - weight.cut", &[R(ResultId::ShellWeight), R(ResultId::SleeveWeight), F(FieldId::SolderAmount), R(ResultId::WeightCut)]);
        WeightUncut = hollow(from(entry("weight.uncut", "g", Dimension::MASS, "weight before the pattern is cut", "volume.uncut * density + solder"), &[R(ResultId::VolumeUncut), R(ResultId::Density), F(FieldId::SolderAmount)]), "shell.weight + sleeve.weight + solder", &[R(ResultId::ShellWeight), R(ResultId::SleeveWeight), F(FieldId::SolderAmount)]);
        WeightCut = from(entry("weight.cut", "g", Dimension::MASS, "weight that the pattern takes off", "(volume.uncut - volume) * density, in a hollow band the shell's"), &[R(ResultId::VolumeUncut), R(ResultId::Volume), R(ResultId::Density)]);
        Volume = from(entry("volume", "mm3", Dimension::VOLUME, "finished volume of the metal", "volume.uncut - cover * 2 pi * integral of (r^2 - (r - mean-depth)^2) / 2 dx along the outside as it is when cut"), &[R(ResultId::VolumeUncut), F(FieldId::PatternMeanDepth), F(FieldId::PatternDepth), F(FieldId::PatternCover)]);
        VolumeUncut = hollow(from(entry("volume.uncut", "mm3", Dimension::VOLUME, "volume of the metal before the pattern is cut", "2 pi * integral of r dA over the section (Pappus and Guldinus)"), SECTION), "shell.volume + sleeve.volume", &[R(ResultId::ShellVolume), R(ResultId::SleeveVolume)]);
        ShellVolume = from(entry("shell.volume", "mm3", Dimension::VOLUME, "volume of the shell before cutting", "solid beyond the sleeve's floor, less the cavity"), &[F(FieldId::Size), F(FieldId::Width), F(FieldId::Thickness), R(ResultId::Outside), F(FieldId::Profile), F(FieldId::ProfileEdge), F(FieldId::HollowShell), F(FieldId::HollowShellRoof), F(FieldId::HollowShellNose), F(FieldId::HollowSleeve), F(FieldId::EaseOuter)]);
        ShellWeight = from(entry("shell.weight", "g", Dimension::MASS, "weight of the shell before cutting", "shell.volume * density of its alloy"), &[R(ResultId::ShellVolume), F(FieldId::HollowShellAlloy), F(FieldId::Alloy)]);
        SleeveVolume = from(entry("sleeve.volume", "mm3", Dimension::VOLUME, "volume of the sleeve, ridges included", "from the inside curve to the floor, less relief, plus ridges"), &[F(FieldId::Size), F(FieldId::Width), F(FieldId::Comfort), F(FieldId::HollowSleeve), F(FieldId::HollowSleeveRelief), R(ResultId::RidgeVolume), F(FieldId::EaseBore)]);
        SleeveWeight = from(entry("sleeve.weight", "g", Dimension::MASS, "weight of the sleeve, ridges included", "sleeve.volume * density of its alloy"), &[R(ResultId::SleeveVolume), F(FieldId::HollowSleeveAlloy), F(FieldId::Alloy)]);
        RidgeVolume = from(entry("ridge.volume", "mm3", Dimension::VOLUME, "volume of all ridges", "pi * wide * ((floor + height)^2 - floor^2) each, floor = size / 2 + sleeve"), &[F(FieldId::Size), F(FieldId::HollowSleeve), F(FieldId::HollowRidge), F(FieldId::HollowRidgeWide), F(FieldId::HollowRidgeCount)]);
        CavityVolume = from(entry("cavity.volume", "mm3", Dimension::VOLUME, "enclosed empty space, ridges taken off", "pi * integral of (roof^2 - floor^2) dx - ridges + relief"), &[F(FieldId::Size), F(FieldId::Width), F(FieldId::Thickness), F(FieldId::Profile), F(FieldId::HollowShell), F(FieldId::HollowSleeve), R(ResultId::RidgeVolume)]);
        SolidWeight = from(entry("solid.weight", "g", Dimension::MASS, "finished weight of the solid band of the same look", "(solid volume - cut) * density"), &[F(FieldId::Size), F(FieldId::Width), F(FieldId::Thickness), F(FieldId::Profile), F(FieldId::ProfileEdge), F(FieldId::Comfort), R(ResultId::WeightCut), R(ResultId::Density)]);
        Saving = from(entry("saving", "", Dimension::NONE, "part of the solid band's weight that the hollow one saves", "1 - weight / solid.weight"), &[R(ResultId::Weight), R(ResultId::SolidWeight)]);
        FootLeft = from(entry("foot.left", "mm", Dimension::LENGTH, "axial width of the left foot, on which the shell stands", "from the side face to where roof or wall meets the sleeve"), &[F(FieldId::HollowShell), F(FieldId::HollowSleeve), F(FieldId::Profile)]);
        FootRight = from(entry("foot.right", "mm", Dimension::LENGTH, "axial width of the right foot", "as foot.left"), &[F(FieldId::HollowShell), F(FieldId::HollowSleeve), F(FieldId::Profile)]);
        RidgeFromFace = from(entry("ridge.from-face", "mm", Dimension::LENGTH, "from the side face to the outer face of the outermost ridge", "as far out as the roof allows, plus play"), &[F(FieldId::HollowRidge), F(FieldId::HollowRidgeWide), F(FieldId::HollowRidgeCount), F(FieldId::HollowRidgePlay), F(FieldId::HollowShell)]);
        SectionArea = from(entry("section.area", "mm2", Dimension::AREA, "area of the solid section before the pattern is cut", "integral of (outside - inside) dx"), SECTION);
        WallLeast = hollow(from(entry("wall.least", "mm", Dimension::LENGTH, "thinnest wall that remains anywhere", "least of all walls, under the cut and under a mark"), &[R(ResultId::WallUnderCut), F(FieldId::MarkDeep)]), "least of all walls, under the cut and under a mark", &[R(ResultId::WallUnderCut), F(FieldId::HollowShell), R(ResultId::WallSideFace), R(ResultId::WallSleeveEdge), F(FieldId::HollowSleeveRelief), F(FieldId::MarkDeep)]);
        WallUnderCut = from(entry("wall.under-cut", "mm", Dimension::LENGTH, "thinnest metal under the cut", "least distance from the cut surface to cavity, sleeve or bore"), &[F(FieldId::Thickness), F(FieldId::Profile), F(FieldId::ProfileEdge), F(FieldId::Comfort), F(FieldId::HollowShell), F(FieldId::HollowSleeve), F(FieldId::PatternDepth)]);
        WallSideFace = from(entry("wall.side-face", "mm", Dimension::LENGTH, "shell at the thinner side face, radial", "edge + comfort - sleeve"), &[F(FieldId::ProfileEdge), F(FieldId::Thickness), F(FieldId::Comfort), F(FieldId::HollowSleeve)]);
        WallSleeveEdge = from(entry("wall.sleeve-edge", "mm", Dimension::LENGTH, "sleeve at its edge, radial", "sleeve - comfort"), &[F(FieldId::HollowSleeve), F(FieldId::Comfort)]);
        WallRoof = from(entry("wall.roof", "mm", Dimension::LENGTH, "wall of the shell's roof before it is cut, normal to the outside; `limit.roof` judges it", "shell"), &[F(FieldId::HollowShell)]);
        WallSide = from(entry("wall.side", "mm", Dimension::LENGTH, "thinner of the shell's side walls and side faces; `limit.side` judges it", "least of shell and wall.side-face"), &[F(FieldId::HollowShell), R(ResultId::WallSideFace)]);
        WallSleeve = from(entry("wall.sleeve", "mm", Dimension::LENGTH, "thinnest wall of the sleeve; `limit.sleeve` judges it", "least of wall.sleeve-edge and relief"), &[R(ResultId::WallSleeveEdge), F(FieldId::HollowSleeveRelief)]);
        WallMark = from(entry("wall.mark", "mm", Dimension::LENGTH, "thinnest wall that a mark leaves under it; `limit.mark` judges it", "least wall where it may stand - mark.deep"), &[R(ResultId::WallUnderCut), F(FieldId::MarkDeep), F(FieldId::MarkOn)]);
        Bore = from(entry("bore", "mm", Dimension::LENGTH, "smallest inside diameter", "size"), &[F(FieldId::Size)]);
        Outside = from(entry("outside", "mm", Dimension::LENGTH, "largest outside diameter", "bore + 2 * thickness"), &[R(ResultId::Bore), F(FieldId::Thickness)]);
        SizeCircumference = from(entry("size.circumference", "mm", Dimension::LENGTH, "inside circumference", "by the size system, or pi * bore"), &[F(FieldId::Size)]);
        StripLength = from(entry("strip.length", "mm", Dimension::LENGTH, "length of the pattern strip", "pi * outside; of a pattern cut before the stretch the outside before it"), &[R(ResultId::Outside), F(FieldId::PatternCut), F(FieldId::Start), F(FieldId::HollowStagePast)]);
        StripHeight = from(entry("strip.height", "mm", Dimension::LENGTH, "height of the pattern strip", "width; of a pattern cut before the stretch the width before it"), &[F(FieldId::Width), F(FieldId::PatternCut), F(FieldId::Start)]);
        StripPitch = from(entry("strip.pitch", "mm", Dimension::LENGTH, "length of one repeat along the strip", "strip.length / repeats"), &[R(ResultId::StripLength), F(FieldId::PatternRepeats)]);
        PatternCover = from(entry("pattern.cover", "", Dimension::NONE, "part of the strip that drawn cuts cover; as stated where none are drawn", "cut area / (strip.length * strip.height)"), DRAWN);
        PatternMeanDepth = from(entry("pattern.mean-depth", "mm", Dimension::LENGTH, "even depth that takes the same metal off the same cover as the drawn cuts; as stated where none are drawn", "d in integral of (r d - d^2 / 2) over the cover = volume cut"), DRAWN);
        PatternDeepest = from(entry("pattern.deepest", "mm", Dimension::LENGTH, "greatest radial depth of drawn cuts under the outside", "on a slope a rigid tool cuts deeper uphill than at its tip"), DRAWN);
        PatternGrooveLength = from(entry("pattern.groove-length", "mm", Dimension::LENGTH, "length of all drawn grooves round the band, one pass, clipped at the side faces", "sum of the tools' paths on the unrolled strip"), DRAWN);
        PatternPlunges = from(count(entry("pattern.plunges", "", Dimension::NONE, "how often a tool goes in, round the band", "one for each continuous line; of rings, closed lines and waves one a band")), DRAWN);
        PatternTime = from(entry("pattern.time", "min", Dimension::TIME, "time that the pattern takes on one band: as stated, or computed", "minutes, or pattern.time.computed"), DRAWN);
        PatternTimeComputed = from(entry("pattern.time.computed", "min", Dimension::TIME, "time of drawn cuts by the speeds of their cutters", "sum of passes * length / feed + plunges * (depth + lift) / plunge"), DRAWN);
        PatternPitch = from(entry("pattern.pitch", "mm", Dimension::LENGTH, "length of one repeat of drawn cuts along the strip", "strip.length / repeats"), DRAWN);
        PatternAngle = from(entry("pattern.angle", "deg", Dimension::ANGLE, "from one repeat of drawn cuts to the next", "360 / repeats"), DRAWN);
        PatternStretch = from(entry("pattern.stretch", "", Dimension::NONE, "how much longer the pitch is than the motif asked for", "pattern.pitch / motif - 1"), DRAWN);
        PatternError = from(entry("pattern.error", "", Dimension::NONE, "numerical error of the volume that drawn cuts take off, as a share of it", "difference to a grid half as fine"), DRAWN);
        SectionCutLeast = from(entry("section.cut.least", "mm2", Dimension::AREA, "thinnest section of the part that drawn cuts are in, round the ring, as cut", "section less what is cut of it"), DRAWN);
        SectionCutHarmonic = from(entry("section.cut.harmonic", "mm2", Dimension::AREA, "harmonic mean round the ring of the section of the part that drawn cuts are in, as cut", "1 / mean of (1 / section)"), DRAWN);
        WallUnderCutU = from(entry("wall.under-cut.u", "mm", Dimension::LENGTH, "where along the repeat the metal under drawn cuts is thinnest, as cut", "place of the least wall"), DRAWN);
        WallUnderCutV = from(entry("wall.under-cut.v", "mm", Dimension::LENGTH, "where on the axis the metal under drawn cuts is thinnest, as cut, from mid width", "place of the least wall"), DRAWN);
        Density = from(entry("density", "g/cm3", Dimension::DENSITY, "density of the band's alloy", "stated, or 1 / sum of (part / density of the element)"), &[F(FieldId::Alloy)]);
    }
    Money {
        WeightIssued = from(entry("weight.issued", "g", Dimension::MASS, "metal issued for one ring of a batch", "finished + turnings + offcuts + polishings"), &[F(FieldId::Stock), F(FieldId::HollowShellStock), F(FieldId::HollowSleeveStock), R(ResultId::Weight), R(ResultId::WeightCut), F(FieldId::ShopBatch), F(FieldId::ShopScrap)]);
        WeightTurnings = from(entry("weight.turnings", "g", Dimension::MASS, "what turning, parting and the pattern take off", "issued stock - uncut - polishings + cut"), &[R(ResultId::WeightIssued), R(ResultId::WeightCut)]);
        WeightOffcuts = from(entry("weight.offcuts", "g", Dimension::MASS, "clean offcuts: what stays in the chuck, sprues", "offcut of the batch / batch"), &[F(FieldId::Stock), F(FieldId::ShopBatch)]);
        WeightPolishings = from(entry("weight.polishings", "g", Dimension::MASS, "what is filed and polished off", "uncut * part"), &[R(ResultId::WeightUncut), F(FieldId::ShopScrap)]);
        WeightRecovered = from(entry("weight.recovered", "g", Dimension::MASS, "metal that the refiner pays for", "sum of turnings, offcuts, polishings * collected * paid"), &[R(ResultId::WeightTurnings), R(ResultId::WeightOffcuts), R(ResultId::WeightPolishings), F(FieldId::ShopScrap)]);
        WeightLost = from(entry("weight.lost", "g", Dimension::MASS, "metal that is neither in the ring nor paid for", "issued - finished - recovered"), &[R(ResultId::WeightIssued), R(ResultId::Weight), R(ResultId::WeightRecovered)]);
        WeightCharged = from(entry("weight.charged", "g", Dimension::MASS, "weight that a price by weight counts; not a loss of metal", "finished * (1 + add)"), &[R(ResultId::Weight), F(FieldId::SaleAdd)]);
        TimeLabour = from(entry("time.labour", "min", Dimension::TIME, "labour for one ring of a batch", "run + set-up / batch, over the operations"), &[F(FieldId::ShopOperation), F(FieldId::ShopBatch)]);
        TimeMachine = from(entry("time.machine", "min", Dimension::TIME, "machine time for one ring of a batch", "run + set-up / batch, over the operations"), &[F(FieldId::ShopOperation), F(FieldId::ShopBatch)]);
        Cost = from(entry("cost", MONEY, Dimension::MONEY, "what one ring of a batch costs", "metal + labour + machine + overhead + rejects + fees"), &[R(ResultId::CostMetal), R(ResultId::CostLabour), R(ResultId::CostMachine), R(ResultId::CostOverhead), R(ResultId::CostRejects), R(ResultId::CostFees)]);
        CostMetal = from(entry("cost.metal", MONEY, Dimension::MONEY, "metal, less what comes back", "bought - returned + refining"), &[R(ResultId::CostMetalBought), R(ResultId::CostMetalReturned), R(ResultId::CostMetalRefining)]);
        CostMetalBought = from(entry("cost.metal.bought", MONEY, Dimension::MONEY, "metal as bought", "issued * (worth of a gram with premium + fabrication)"), &[R(ResultId::WeightIssued), B(BlockId::Prices)]);
        CostMetalReturned = from(entry("cost.metal.returned", MONEY, Dimension::MONEY, "what the refiner pays", "recovered * worth of a gram"), &[R(ResultId::WeightRecovered), B(BlockId::Prices)]);
        CostMetalRefining = from(entry("cost.metal.refining", MONEY, Dimension::MONEY, "what the refiner charges", "max(charge * collected * batch, minimum) / batch"), &[R(ResultId::WeightTurnings), R(ResultId::WeightOffcuts), R(ResultId::WeightPolishings), F(FieldId::ShopScrap), F(FieldId::ShopBatch)]);
        CostLabour = from(entry("cost.labour", MONEY, Dimension::MONEY, "labour", "rate * (run + set-up / batch)"), &[R(ResultId::TimeLabour), F(FieldId::ShopLabour)]);
        CostMachine = from(entry("cost.machine", MONEY, Dimension::MONEY, "machine", "rate * (run + set-up / batch)"), &[R(ResultId::TimeMachine), F(FieldId::ShopMachine)]);
        CostOverhead = from(entry("cost.overhead", MONEY, Dimension::MONEY, "overhead", "share * (labour + machine), or of metal bought less returned too"), &[R(ResultId::CostLabour), R(ResultId::CostMachine), F(FieldId::ShopOverhead)]);
        CostRejects = from(entry("cost.rejects", MONEY, Dimension::MONEY, "what rejects waste", "share / (1 - share) * what one reject wastes: its metal less what comes back, and the work on it"), &[R(ResultId::CostMetal), F(FieldId::ShopRejects)]);
        CostFees = from(entry("cost.fees", MONEY, Dimension::MONEY, "fees", "max(article * batch + consignment, minimum) / batch"), &[F(FieldId::ShopFee), F(FieldId::ShopBatch)]);
        CostTiedUp = from(entry("cost.tied-up", MONEY, Dimension::MONEY, "cash tied up in metal until the refiner pays, after `shop.scrap.wait`", "what is recovered, rejects with it, less refining; 0 where refining is more"), &[R(ResultId::CostMetalReturned), R(ResultId::CostMetalRefining), F(FieldId::ShopScrapWait)]);
        CostOnePerCent = from(entry("cost.one-per-cent", MONEY, Dimension::MONEY, "what one per cent more on all prices of metal adds to the cost", "cost at 1.01 * prices - cost"), &[R(ResultId::Cost), B(BlockId::Prices)]);
        Price = from(entry("price", MONEY, Dimension::MONEY, "what one ring is sold for, before tax", "cost * (1 + markup), cost / (1 - margin), as stated, or charged * worth of a gram + making"), &[R(ResultId::Cost), F(FieldId::Sale), F(FieldId::SaleMarkup), F(FieldId::SaleMargin), F(FieldId::SaleAt), F(FieldId::SaleMaking), R(ResultId::WeightCharged)]);
        PriceMaking = from(entry("price.making", MONEY, Dimension::MONEY, "making charge in a price by weight", "making * charged, or a share of the worth of the metal charged"), &[F(FieldId::SaleMaking), R(ResultId::WeightCharged)]);
        PriceTax = from(entry("price.tax", MONEY, Dimension::MONEY, "tax on the price", "price.total - price"), &[R(ResultId::Price), F(FieldId::ShopTax)]);
        PriceTotal = from(entry("price.total", MONEY, Dimension::MONEY, "what one ring is sold for, with tax", "price as shown * (1 + tax)"), &[R(ResultId::Price), F(FieldId::ShopTax)]);
        Earning = from(entry("earning", MONEY, Dimension::MONEY, "what one ring earns", "price - cost"), &[R(ResultId::Price), R(ResultId::Cost)]);
        BreakEvenGold = from(entry("break-even.gold", "money/g", Dimension::MONEY_BY_MASS, "price of fine gold at which this band costs what the other does", BREAK_EVEN), &[R(ResultId::Cost), F(FieldId::Against)]);
        BreakEvenSilver = from(entry("break-even.silver", "money/g", Dimension::MONEY_BY_MASS, "price of fine silver at which this band costs what the other does", BREAK_EVEN), &[R(ResultId::Cost), F(FieldId::Against)]);
        BreakEvenPlatinum = from(entry("break-even.platinum", "money/g", Dimension::MONEY_BY_MASS, "price of fine platinum at which this band costs what the other does", BREAK_EVEN), &[R(ResultId::Cost), F(FieldId::Against)]);
        BreakEvenPalladium = from(entry("break-even.palladium", "money/g", Dimension::MONEY_BY_MASS, "price of fine palladium at which this band costs what the other does", BREAK_EVEN), &[R(ResultId::Cost), F(FieldId::Against)]);
        BreakEvenMaking = from(entry("break-even.making", "money/g", Dimension::MONEY_BY_MASS, "making charge at which this band earns what the other does", "(what the other earns + cost - worth of the metal charged) / charged"), &[R(ResultId::Cost), R(ResultId::WeightCharged), F(FieldId::Against)]);
        BreakEvenRejects = from(entry("break-even.rejects", "", Dimension::NONE, "share of rejects at which this band costs what the other does", "k / (1 + k), k = (cost of the other - cost without rejects) / what one reject wastes"), &[R(ResultId::Cost), F(FieldId::Against)]);
    }
    Stretch {
        MachinedShellBore = from(entry("machined.shell.bore", "mm", Dimension::LENGTH, "bore of the shell's feet as machined, a diameter", "finished foot bore less what the shell grows by when both are opened"), PARTS);
        MachinedShellLipBore = from(entry("machined.shell.lip-bore", "mm", Dimension::LENGTH, "bore of the shell's lips as machined, a diameter", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch"), PARTS);
        MachinedShellChannel = from(entry("machined.shell.channel", "mm", Dimension::LENGTH, "diameter of the channel's roof at mid width, as machined", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch"), PARTS);
        MachinedShellChannelWidth = from(entry("machined.shell.channel-width", "mm", Dimension::LENGTH, "axial width of the channel between the feet, as machined", "(width - foot.left - foot.right) * lambda_z"), PARTS);
        MachinedShellOutside = from(entry("machined.shell.outside", "mm", Dimension::LENGTH, "largest outside of the shell as machined, a diameter", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch, finish.outside on it"), PARTS);
        MachinedShellWidth = from(entry("machined.shell.width", "mm", Dimension::LENGTH, "width of the shell as machined", "(width + 2 finish.faces) * lambda_z; what comes off before the stretch is added after"), PARTS);
        MachinedSleeveBore = from(entry("machined.sleeve.bore", "mm", Dimension::LENGTH, "bore of the sleeve as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), the sleeve's own stretch, so that the ridge passes the foot; finish.bore in it"), PARTS);
        MachinedSleeveFloor = from(entry("machined.sleeve.floor", "mm", Dimension::LENGTH, "outside of the sleeve beside the ridges as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), the sleeve's own stretch, so that the ridge passes the foot"), PARTS);
        MachinedSleeveRidgeTop = from(entry("machined.sleeve.ridge-top", "mm", Dimension::LENGTH, "outside of the ridges as machined, a diameter", "machined.shell.bore - entry"), PARTS);
        MachinedSleeveRidgeFromFace = from(entry("machined.sleeve.ridge-from-face", "mm", Dimension::LENGTH, "from the sleeve's side face to the outer face of the outermost ridge, as machined", "(ridge.from-face + finish.faces) * lambda_z; what comes off before the stretch is added after"), PARTS);
        MachinedSleeveWidth = from(entry("machined.sleeve.width", "mm", Dimension::LENGTH, "width of the sleeve as machined", "(width + 2 finish.faces) * lambda_z; what comes off before the stretch is added after"), PARTS);
        MachinedSleeveEdgeBore = from(entry("machined.sleeve.edge-bore", "mm", Dimension::LENGTH, "bore of the sleeve at its side faces as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), the sleeve's own stretch, so that the ridge passes the foot; finish.bore in it"), PARTS);
        MachinedBore = from(entry("machined.bore", "mm", Dimension::LENGTH, "bore of the solid band as machined, a diameter", "start: metal for finishing is in it"), SMALL);
        MachinedOutside = from(entry("machined.outside", "mm", Dimension::LENGTH, "largest outside of the solid band as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), finish.outside on it"), SMALL);
        MachinedThickness = from(entry("machined.thickness", "mm", Dimension::LENGTH, "thickness of the solid band as machined, radial", "(machined.outside - machined.bore) / 2"), SMALL);
        MachinedWidth = from(entry("machined.width", "mm", Dimension::LENGTH, "width of the solid band as machined", "(width + 2 finish.faces) * lambda_z; what comes off before the stretch is added after"), SMALL);
        StretchStrain = from(entry("stretch.strain", "", Dimension::NONE, "stretch of the bore: finished over machined, less one", "size / bore before the stretch - 1"), BOTH);
        StretchCatchingBore = from(entry("stretch.catching.bore", "mm", Dimension::LENGTH, "bore after release from which the ridge catches", "the bore at which the ridge top (between lips the floor) has grown to the foot bore (lip bore)"), STAGE);
        StretchCatchingMandrel = from(entry("stretch.catching.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load from which the ridge catches", "stretch.catching.bore * (1 + flow stress / modulus); from touch on 2 (contact radius under load - sleeve)"), &[R(ResultId::StretchCatchingBore), F(FieldId::HollowSleeveAlloy), F(FieldId::HollowSleeveTemper)]);
        StretchTurningBore = from(entry("stretch.turning.bore", "mm", Dimension::LENGTH, "bore after release from which it turns and cannot come off by hand", "the bore at which the ridge top has grown to the foot bore + stretch.overlap-needed"), STAGE);
        StretchTurningMandrel = from(entry("stretch.turning.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load from which it turns and cannot come off by hand", "stretch.turning.bore * (1 + flow stress / modulus); from touch on 2 (contact radius under load - sleeve)"), &[R(ResultId::StretchTurningBore), F(FieldId::HollowSleeveAlloy), F(FieldId::HollowSleeveTemper)]);
        StretchSeatedBore = from(entry("stretch.seated.bore", "mm", Dimension::LENGTH, "bore after release from which no play is left", "the bore at which the floor has grown to the foot bore"), STAGE);
        StretchSeatedMandrel = from(entry("stretch.seated.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load from which no play is left", "stretch.touch.mandrel + grip.from"), &[R(ResultId::StretchSeatedBore), F(FieldId::HollowSleeveAlloy), F(FieldId::HollowSleeveTemper)]);
        StretchTouchMandrel = from(entry("stretch.touch.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load at which the sleeve's floor reaches the feet as machined", "machined.shell.bore - 2 (sleeve + finish.bore that is still on)"), GRIP);
        StretchFinishedBore = from(entry("stretch.finished.bore", "mm", Dimension::LENGTH, "bore when all metal for finishing is off", "size"), &[F(FieldId::Size)]);
        StretchFloat = from(entry("stretch.float", "mm", Dimension::LENGTH, "how far a turning ring may wander along the finger, in all", "channel - ridge; the plays of two ridges or of lips"), &[F(FieldId::HollowRidge), F(FieldId::HollowRidgeWide), F(FieldId::HollowRidgeCount), F(FieldId::HollowRidgePlay), F(FieldId::HollowLipPlay), F(FieldId::HollowShell)]);
        FootBore = from(entry("foot.bore", "mm", Dimension::LENGTH, "bore of the shell's feet when the ring is done, a diameter", "2 (R + sleeve + gap): where they spring free of each other the gap is the shell's"), PARTS);
        StretchFixedBore = from(entry("stretch.fixed.bore", "mm", Dimension::LENGTH, "bore after release when opened past touch, as stated or as aimed at", "the bore at which the floor has come to contact radius under load - C (q - p), or - A p_b + G q where they spring free"), GRIP);
        StretchFixedMandrel = from(entry("stretch.fixed.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load when opened past touch, as stated or as aimed at", "2 (contact radius under load - sleeve), metal in the bore that is still on counted"), GRIP);
        StretchMandrel = from(entry("stretch.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load for the finished ring", "size * (1 + flow stress / modulus), or stretch.fixed.mandrel"), BOTH);
        StretchWindow = from(entry("stretch.window", "mm", Dimension::LENGTH, "how much the bore may open from turning to seated; 0 or less: it never turns without coming off", "stretch.seated.bore - stretch.turning.bore"), &[R(ResultId::StretchSeatedBore), R(ResultId::StretchTurningBore)]);
        StretchOverlap = from(entry("stretch.overlap", "mm", Dimension::LENGTH, "overlap that catches the finished ring, on the diameter", "ridge top - foot bore"), STAGE);
        StretchOverlapNeeded = from(entry("stretch.overlap-needed", "mm", Dimension::LENGTH, "overlap that keeps the ring together, on the diameter", "hold, or the larger of 0.10 mm and 2 foot bore yield / modulus"), STAGE);
        GripPressure = from(entry("grip.pressure", "MPa", Dimension::STRESS, "pressure that stays between sleeve and shell in the finished ring, per width of the sleeve; 0 or less: no grip", "grip.pressure.on-release (G + C) / (G' + C') of the parts when all metal is taken off"), GRIP);
        GripPressureOnRelease = from(entry("grip.pressure.on-release", "MPa", Dimension::STRESS, "pressure between sleeve and shell before metal is taken off after release", "least of (q - y) and (Y_s t_s / (r_c - t_s/4)); y = p_b A / (G + C)"), GRIP);
        GripGap = from(entry("grip.gap", "mm", Dimension::LENGTH, "radial gap that is left where sleeve and shell spring free of each other", "-(G + C) p where p is below 0"), GRIP);
        GripForce = from(entry("grip.force", "N", Dimension::FORCE, "hoop force that stays in either part", "grip.pressure * contact radius * width"), &[R(ResultId::GripPressure), F(FieldId::Width)]);
        GripTorque = from(entry("grip.torque", "Nmm", Dimension::TORQUE, "torque against turning by friction: an estimate, not reliable", "2 pi * friction * grip.force * contact radius"), &[R(ResultId::GripForce), F(FieldId::HollowFriction)]);
        GripFrom = from(entry("grip.from", "mm", Dimension::LENGTH, "opening past touch from which it grips, on the diameter: there it is seated", "the opening at which grip.pressure rises to 0"), GRIP);
        GripTo = from(entry("grip.to", "mm", Dimension::LENGTH, "opening past touch at which the shell yields, on the diameter", "u where kappa' E_h (u/r_c) (r_o^2 - r_c^2) / (r_o^2 + r_c^2 + nu (r_o^2 - r_c^2)) = kappa_min Y_h t_h / (r_c + t_h/4), r_c = foot + u; twice, for the diameter"), GRIP);
        GripAim = from(entry("grip.aim", "mm", Dimension::LENGTH, "opening past touch to aim at, on the diameter; none where the enlarger cannot keep within the window", "hollow.stage.past where stated, else (grip.from + grip.to) / 2, or less where the shell bears less"), &[F(FieldId::HollowStagePast), R(ResultId::GripFrom), R(ResultId::GripTo)]);
        StrengthStiffness = from(entry("strength.stiffness", "N/mm", Dimension::STIFFNESS, "force between two opposed points for each mm that the diameter shortens; hollow: a bound from below", "E A e / (R^2 (pi k1 / 4 - 2 k2^2 / pi)); hollow: sleeve with ridges + shell, of whose roof the share counts that carries"), BEARS);
        StrengthLoad = from(entry("strength.load", "N", Dimension::FORCE, "force between two opposed points at which the metal first yields; a bound from below, no safety rating", "yield / greatest curved-beam stress of 1 N; hollow: where the first part yields"), BEARS);
        StrengthStiffnessRatio = from(entry("strength.stiffness-ratio", "", Dimension::NONE, "stiffness over that of the solid band of the same look", "strength.stiffness / that of the solid"), &[R(ResultId::StrengthStiffness)]);
        StrengthLoadRatio = from(entry("strength.load-ratio", "", Dimension::NONE, "load at first yield over that of the solid band of the same look", "strength.load / that of the solid"), &[R(ResultId::StrengthLoad)]);
        MadeBore = from(entry("made.bore", "mm", Dimension::LENGTH, "bore of the ring that the parts as made give, a diameter; of a blank the ordered one", "floor opened to the feet as measured, and what the shell grows by"), MADE);
        MadeStrain = from(entry("made.strain", "", Dimension::NONE, "stretch of the bore of sleeve or blank from as made to finished", "made.bore / bore as made - 1"), MADE);
        MadeClearance = from(entry("made.clearance", "mm", Dimension::LENGTH, "clearance on the diameter at which the parts as made go together", "foot or lip bore - ridge top"), MADE);
        MadeCatchingBore = from(entry("made.catching.bore", "mm", Dimension::LENGTH, "bore after release from which the ridge as made catches", "ridge top = foot bore"), MADE);
        MadeCatchingMandrel = from(entry("made.catching.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load from which the ridge as made catches", "made.catching.bore * (1 + flow stress / modulus)"), &[R(ResultId::MadeCatchingBore), F(FieldId::HollowSleeveAlloy), F(FieldId::HollowSleeveTemper)]);
        MadeTurningBore = from(entry("made.turning.bore", "mm", Dimension::LENGTH, "bore after release from which the parts as made turn and cannot come off", "ridge top = foot bore + hold"), MADE);
        MadeTurningMandrel = from(entry("made.turning.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load from which the parts as made turn and cannot come off", "made.turning.bore * (1 + flow stress / modulus)"), &[R(ResultId::MadeTurningBore), F(FieldId::HollowSleeveAlloy), F(FieldId::HollowSleeveTemper)]);
        MadeSeatedBore = from(entry("made.seated.bore", "mm", Dimension::LENGTH, "bore after release from which the parts as made have no play left", "floor = foot bore"), MADE);
        MadeSeatedMandrel = from(entry("made.seated.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load from which the parts as made have no play left", "made.seated.bore * (1 + flow stress / modulus)"), &[R(ResultId::MadeSeatedBore), F(FieldId::HollowSleeveAlloy), F(FieldId::HollowSleeveTemper)]);
        MadeFixedBore = from(entry("made.fixed.bore", "mm", Dimension::LENGTH, "bore after release when the parts as made are opened past touch, as stated or as aimed at", "floor opened to the feet as made and what the shell grows by, as in stretch.fixed.bore"), &[R(ResultId::MadeSeatedBore), R(ResultId::GripAim)]);
        MadeFixedMandrel = from(entry("made.fixed.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load when the parts as made are opened past touch, as stated or as aimed at", "feet as made + grip.aim, less twice the sleeve's thickness when done"), &[R(ResultId::MadeFixedBore), R(ResultId::GripAim)]);
        MadeOutside = from(entry("made.outside", "mm", Dimension::LENGTH, "largest outside of the band that the blank as made gives, a diameter", "r^2 = r_bore^2 + (r0^2 - r_bore0^2) / lambda_z"), MADE);
        MadeMandrel = from(entry("made.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load that takes the blank as made to its size", "size * (1 + flow stress / modulus)"), MADE);
        MadeWidth = from(entry("made.width", "mm", Dimension::LENGTH, "width of the ring that the parts as made give: of its shell", "width as made * lambda_z"), MADE);
        MadeProud = from(entry("made.proud", "mm", Dimension::LENGTH, "how much wider the sleeve as made ends than the shell, or than what lips and play leave; negative: narrower", "sleeve's width as made * lambda_z - made.width"), MADE);
        MadeFloat = from(entry("made.float", "mm", Dimension::LENGTH, "how far a turning ring of the parts as made may wander along the finger, in all", "stretch.float + what the channel is wider by - what the ridges stand further apart by, each as when done; the plays less made.proud of lips"), &[R(ResultId::StretchFloat), F(FieldId::MadeShellChannelWidth), F(FieldId::MadeSleeveRidgeFromFace), F(FieldId::MadeSleeveWidth), F(FieldId::MadeShellWidth)]);
        MadeWallUnderCut = from(entry("made.wall.under-cut", "mm", Dimension::LENGTH, "thinnest metal under the cut as ordered, on the shell as made", "wall.under-cut, over channel and feet as measured; negative where the cut comes through"), MADE);
        MadeWeight = from(entry("made.weight", "g", Dimension::MASS, "weight of the ring that the parts as made give", "weight + what the parts as made differ by: pi/4 (w (outside^2 - bore^2) - channel-width (channel^2 - bore^2)) of the shell, pi/4 (w (floor^2 - bore^2) + ridges) of the sleeve, each at its density, less the cut on them"), MADE);
        MadeDeepestCut = from(entry("made.deepest-cut", "mm", Dimension::LENGTH, "deepest cut that leaves the least wall on the shell as made", "the depth at which the metal over channel and feet as measured comes to limit.wall"), MADE);
        MadeTurnBore = from(entry("made.turn.bore", "mm", Dimension::LENGTH, "bore of the sleeve to turn for the shell as made", "as machined.sleeve.bore, for this shell's feet"), MADE);
        MadeTurnFloor = from(entry("made.turn.floor", "mm", Dimension::LENGTH, "outside of the sleeve to turn for the shell as made", "as machined.sleeve.floor, for this shell's feet"), MADE);
        MadeTurnRidgeTop = from(entry("made.turn.ridge-top", "mm", Dimension::LENGTH, "outside of the ridges to turn for the shell as made", "feet as made - entry"), MADE);
        MadeTurnRidgeFromFace = from(entry("made.turn.ridge-from-face", "mm", Dimension::LENGTH, "from the side face to the outer face of the outermost ridge, of the sleeve to turn for the shell as made", "as machined.sleeve.ridge-from-face, for this shell's channel and width"), MADE);
        MadeTurnWidth = from(entry("made.turn.width", "mm", Dimension::LENGTH, "width of the sleeve to turn for the shell as made", "as machined.sleeve.width, for this shell's width"), MADE);
        MadeTurnEdgeBore = from(entry("made.turn.edge-bore", "mm", Dimension::LENGTH, "bore at the side faces of the sleeve to turn for the shell as made", "as machined.sleeve.edge-bore, for this shell's feet"), MADE);
    }
    Lathe {
        CurveDomeRadius = from(entry("curve.dome.radius", "mm", Dimension::LENGTH, "radius of the arc of the outside at mid width, finished", "(chord^2 / 4 + rise^2) / (2 rise) of the arc through the edges and the crown; as drawn where the profile says so"), SECTION);
        CurveDomeCentre = from(entry("curve.dome.centre", "mm", Dimension::LENGTH, "distance of the centre of the arc of the outside at mid width from the finger's axis, finished; negative beyond it", "radius of the curve at mid width less curve.dome.radius; plus, where it bulges inwards"), SECTION);
        CurveRoofRadius = from(entry("curve.roof.radius", "mm", Dimension::LENGTH, "radius of the arc of the channel's roof at mid width, finished", "curve.dome.radius less the wall; more where the outside dips"), CHANNEL);
        CurveRoofCentre = from(entry("curve.roof.centre", "mm", Dimension::LENGTH, "distance of the centre of the arc of the channel's roof at mid width from the finger's axis, finished; negative beyond it", "radius of the curve at mid width less curve.roof.radius; plus, where it bulges inwards"), CHANNEL);
        CurveComfortRadius = from(entry("curve.comfort.radius", "mm", Dimension::LENGTH, "radius of the arc of the comfort bore, finished", "(width^2 / 4 + comfort^2) / (2 comfort)"), SECTION);
        CurveComfortCentre = from(entry("curve.comfort.centre", "mm", Dimension::LENGTH, "distance of the centre of the arc of the comfort bore from the finger's axis, finished; negative beyond it", "radius of the curve at mid width less curve.comfort.radius; plus, where it bulges inwards"), SECTION);
        ChannelAtMid = from(entry("channel.at-mid", "mm", Dimension::LENGTH, "diameter of the channel's roof at mid width, finished", "bore + 2 roof at mid width"), CHANNEL);
        ChannelAtWalls = from(entry("channel.at-walls", "mm", Dimension::LENGTH, "diameter of the channel's roof at its side walls, the smaller of both, before its corners are rounded, finished", "bore + 2 roof at (width / 2 - shell); the feet's where it comes down to them before"), CHANNEL);
        EdgeOutside = from(entry("edge.outside", "mm", Dimension::LENGTH, "outside diameter at the thinner side face, before the edges are broken, finished", "bore + 2 outside curve at the face"), SECTION);
        EdgeBore = from(entry("edge.bore", "mm", Dimension::LENGTH, "bore at the side faces, before the edges are broken, finished; a diameter", "bore + 2 comfort"), SECTION);
        EdgeThickness = from(entry("edge.thickness", "mm", Dimension::LENGTH, "radial thickness at the thinner side face, finished", "(edge.outside - edge.bore) / 2"), &[R(ResultId::EdgeOutside), R(ResultId::EdgeBore)]);
        MachinedCurveDomeRadius = from(entry("machined.curve.dome.radius", "mm", Dimension::LENGTH, "radius of the arc closest to the outside at mid width as machined", "r0^2 = r_i0^2 + lambda_z (r^2 - r_i^2) of the part, and metal for finishing; the arc about mid width with the least greatest departure"), &[R(ResultId::CurveDomeRadius), R(ResultId::MachinedBore), R(ResultId::MachinedShellBore), R(ResultId::MachinedSleeveBore)]);
        MachinedCurveDomeCentre = from(entry("machined.curve.dome.centre", "mm", Dimension::LENGTH, "distance of that arc's centre from the finger's axis; negative beyond it", "as its radius"), &[R(ResultId::MachinedCurveDomeRadius)]);
        MachinedCurveDomeDeparture = from(entry("machined.curve.dome.departure", "mm", Dimension::LENGTH, "how far the outside at mid width as machined departs from that arc at most: a stretched arc is no longer quite one", "greatest distance from the arc"), &[R(ResultId::MachinedCurveDomeRadius)]);
        MachinedCurveRoofRadius = from(entry("machined.curve.roof.radius", "mm", Dimension::LENGTH, "radius of the arc closest to the channel's roof at mid width as machined", "r0^2 = r_i0^2 + lambda_z (r^2 - r_i^2) of the part, and metal for finishing; the arc about mid width with the least greatest departure"), &[R(ResultId::CurveRoofRadius), R(ResultId::MachinedBore), R(ResultId::MachinedShellBore), R(ResultId::MachinedSleeveBore)]);
        MachinedCurveRoofCentre = from(entry("machined.curve.roof.centre", "mm", Dimension::LENGTH, "distance of that arc's centre from the finger's axis; negative beyond it", "as its radius"), &[R(ResultId::MachinedCurveRoofRadius)]);
        MachinedCurveRoofDeparture = from(entry("machined.curve.roof.departure", "mm", Dimension::LENGTH, "how far the channel's roof at mid width as machined departs from that arc at most: a stretched arc is no longer quite one", "greatest distance from the arc"), &[R(ResultId::MachinedCurveRoofRadius)]);
        MachinedCurveComfortRadius = from(entry("machined.curve.comfort.radius", "mm", Dimension::LENGTH, "radius of the arc closest to the comfort bore as machined", "r0^2 = r_i0^2 + lambda_z (r^2 - r_i^2) of the part, and metal for finishing; the arc about mid width with the least greatest departure"), &[R(ResultId::CurveComfortRadius), R(ResultId::MachinedBore), R(ResultId::MachinedShellBore), R(ResultId::MachinedSleeveBore)]);
        MachinedCurveComfortCentre = from(entry("machined.curve.comfort.centre", "mm", Dimension::LENGTH, "distance of that arc's centre from the finger's axis; negative beyond it", "as its radius"), &[R(ResultId::MachinedCurveComfortRadius)]);
        MachinedCurveComfortDeparture = from(entry("machined.curve.comfort.departure", "mm", Dimension::LENGTH, "how far the comfort bore as machined departs from that arc at most: a stretched arc is no longer quite one", "greatest distance from the arc"), &[R(ResultId::MachinedCurveComfortRadius)]);
        MachinedShellChannelAtWalls = from(entry("machined.shell.channel-at-walls", "mm", Dimension::LENGTH, "diameter of the channel's roof at its side walls, as machined", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch"), &[R(ResultId::ChannelAtWalls), R(ResultId::MachinedShellBore)]);
        MachinedShellEdgeOutside = from(entry("machined.shell.edge-outside", "mm", Dimension::LENGTH, "outside of the shell at its thinner side face as machined, a diameter", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch, and 2 finish.outside"), &[R(ResultId::EdgeOutside), R(ResultId::MachinedShellBore)]);
        MachinedEdgeOutside = from(entry("machined.edge-outside", "mm", Dimension::LENGTH, "outside of the solid band at its thinner side face as machined, a diameter", "r0^2 = r_i0^2 + lambda_z (r^2 - r_i^2) of the part, and metal for finishing"), &[R(ResultId::EdgeOutside), R(ResultId::EdgeBore), R(ResultId::MachinedBore)]);
        MachinedEdgeBore = from(entry("machined.edge-bore", "mm", Dimension::LENGTH, "bore of the solid band at its side faces as machined, a diameter", "r0^2 = r_i0^2 + lambda_z (r^2 - r_i^2) of the part, and metal for finishing"), &[R(ResultId::EdgeOutside), R(ResultId::EdgeBore), R(ResultId::MachinedBore)]);
        MachinedEdgeThickness = from(entry("machined.edge-thickness", "mm", Dimension::LENGTH, "radial thickness of the solid band at its thinner side face as machined", "(machined.edge-outside - machined.edge-bore) / 2"), &[R(ResultId::MachinedEdgeOutside), R(ResultId::MachinedEdgeBore)]);
        MachinedComfort = from(entry("machined.comfort", "mm", Dimension::LENGTH, "radial opening of the bore of the solid band to its side faces as machined", "(machined.edge-bore - machined.bore) / 2"), &[R(ResultId::MachinedEdgeBore), R(ResultId::MachinedBore)]);
    }
    Fineness {
        FinenessUK = from(entry("fineness.UK", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessUKMargin = from(entry("fineness.UK.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessVC = from(entry("fineness.VC", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessVCMargin = from(entry("fineness.VC.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessUS = from(entry("fineness.US", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessUSMargin = from(entry("fineness.US.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessIN = from(entry("fineness.IN", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessINMargin = from(entry("fineness.IN.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessCH = from(entry("fineness.CH", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessCHMargin = from(entry("fineness.CH.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessDE = from(entry("fineness.DE", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessDEMargin = from(entry("fineness.DE.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessFR = from(entry("fineness.FR", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessFRMargin = from(entry("fineness.FR.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessIT = from(entry("fineness.IT", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessITMargin = from(entry("fineness.IT.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessJP = from(entry("fineness.JP", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessJPMargin = from(entry("fineness.JP.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessCN = from(entry("fineness.CN", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessCNMargin = from(entry("fineness.CN.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessAT = from(entry("fineness.AT", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessATMargin = from(entry("fineness.AT.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessNL = from(entry("fineness.NL", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessNLMargin = from(entry("fineness.NL.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessIE = from(entry("fineness.IE", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessIEMargin = from(entry("fineness.IE.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessES = from(entry("fineness.ES", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessESMargin = from(entry("fineness.ES.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessPT = from(entry("fineness.PT", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessPTMargin = from(entry("fineness.PT.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessPL = from(entry("fineness.PL", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessPLMargin = from(entry("fineness.PL.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessCA = from(entry("fineness.CA", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessCAMargin = from(entry("fineness.CA.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessSG = from(entry("fineness.SG", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessSGMargin = from(entry("fineness.SG.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
        FinenessISO = from(entry("fineness.ISO", "", Dimension::FINENESS, MARK, MARKED), FINENESS);
        FinenessISOMargin = from(entry("fineness.ISO.margin", "", Dimension::FINENESS, MARGIN, SPARE), FINENESS);
    }
}
