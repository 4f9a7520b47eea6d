//! The results of stretch and join: rows of the one catalogue, kept beside what computes them.

use crate::quantity::Dimension;

use super::super::figures::Figures;
use super::super::input::Input;
use super::super::results::{ResultEntry, entry, from};
use super::hollow::Joined;
use super::made::{Blank, Made};
use super::solid::Small;
use super::strength::Bears;

fn hollow(input: &Input, figures: &Figures, read: fn(&Joined) -> f64) -> Option<f64> {
    super::of(input, figures).hollow.as_ref().map(read)
}

fn maybe(input: &Input, figures: &Figures, read: fn(&Joined) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).hollow.as_ref().and_then(read)
}

fn solid(input: &Input, figures: &Figures, read: fn(&Small) -> f64) -> Option<f64> {
    super::of(input, figures).solid.as_ref().map(read)
}

fn strain(input: &Input, figures: &Figures) -> Option<f64> {
    hollow(input, figures, |hollow| hollow.strain)
        .or_else(|| solid(input, figures, |solid| solid.strain))
}

fn mandrel(input: &Input, figures: &Figures) -> Option<f64> {
    let stretch = super::of(input, figures);
    match (&stretch.hollow, &stretch.solid) {
        (Some(hollow), _) => hollow.finished.mandrel,
        (None, solid) => solid.as_ref().and_then(|solid| solid.mandrel),
    }
}

fn bears(input: &Input, figures: &Figures, read: fn(&Bears) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).bears.as_ref().and_then(read)
}

fn made(input: &Input, figures: &Figures, read: fn(&Made) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).made.as_ref().and_then(read)
}

/// Of the parts of a hollow band, or of the blank of a solid one.
fn either(
    input: &Input,
    figures: &Figures,
    parts: fn(&Made) -> f64,
    blank: fn(&Blank) -> f64,
) -> Option<f64> {
    let stretch = super::of(input, figures);
    let parts = stretch.made.as_ref().map(parts);
    parts.or_else(|| stretch.blank.as_ref().map(blank))
}

fn blank(input: &Input, figures: &Figures, read: fn(&Blank) -> Option<f64>) -> Option<f64> {
    super::of(input, figures).blank.as_ref().and_then(read)
}

/// What parts as made come to.
const MADE: &[&str] = &[
    "made.shell-bore",
    "made.shell-lip-bore",
    "made.shell-channel",
    "made.shell-channel-width",
    "made.shell-outside",
    "made.shell-width",
    "made.sleeve-bore",
    "made.sleeve-floor",
    "made.sleeve-ridge-top",
    "made.sleeve-ridge-from-face",
    "made.sleeve-width",
    "made.sleeve-edge-bore",
    "made.blank-bore",
    "made.blank-outside",
    "made.blank-thickness",
    "made.blank-width",
];

/// What strength follows from.
const BEARS: &[&str] = &[
    "size",
    "width",
    "thickness",
    "profile",
    "pattern.depth",
    "hollow.shell",
    "hollow.sleeve",
    "temper",
    "hollow.shell.temper",
    "hollow.sleeve.temper",
];

/// What the parts as machined follow from.
const PARTS: &[&str] = &[
    "size",
    "width",
    "thickness",
    "comfort",
    "hollow.shell",
    "hollow.sleeve",
    "hollow.ridge",
    "hollow.lip",
    "hollow.entry",
    "hollow.stage.past",
    "hollow.kinematics",
    "finish.bore",
    "finish.outside",
    "finish.faces",
];
/// What a solid band as machined follows from.
const SMALL: &[&str] = &[
    "size",
    "start",
    "width",
    "thickness",
    "kinematics",
    "finish.bore",
    "finish.outside",
    "finish.faces",
];
/// What both have in common.
const BOTH: &[&str] = &["size", "start", "machined.sleeve.bore", "machined.bore"];
/// What the stages follow from.
const STAGE: &[&str] = &[
    "machined.shell.bore",
    "machined.sleeve.floor",
    "machined.sleeve.ridge-top",
    "machined.sleeve.bore",
    "hollow.hold",
    "hollow.kinematics",
];
/// What grip follows from.
const GRIP: &[&str] = &[
    "machined.shell.bore",
    "machined.sleeve.floor",
    "hollow.stage.past",
    "hollow.shell.temper",
    "hollow.sleeve.temper",
    "hollow.shell.alloy",
    "hollow.sleeve.alloy",
];

/// All results of stretch and join, in the order of the work.
#[rustfmt::skip]
pub const STRETCH_RESULTS: &[ResultEntry] = &[
    from(
        entry("machined.shell.bore", "mm", Dimension::LENGTH, "bore of the shell's feet as machined, a diameter", "finished foot bore less what the shell grows by when both are opened", |i, f| hollow(i, f, |h| h.shell.bore)),
        PARTS,
    ),
    from(
        entry("machined.shell.lip-bore", "mm", Dimension::LENGTH, "bore of the shell's lips as machined, a diameter", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch", |i, f| maybe(i, f, |h| h.shell.lip)),
        PARTS,
    ),
    from(
        entry("machined.shell.channel", "mm", Dimension::LENGTH, "diameter of the channel's roof at mid width, as machined", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch", |i, f| maybe(i, f, |h| h.shell.channel)),
        PARTS,
    ),
    from(
        entry("machined.shell.channel-width", "mm", Dimension::LENGTH, "axial width of the channel between the feet, as machined", "(width - foot.left - foot.right) * lambda_z", |i, f| maybe(i, f, |h| h.shell.channel_width)),
        PARTS,
    ),
    from(
        entry("machined.shell.outside", "mm", Dimension::LENGTH, "largest outside of the shell as machined, a diameter", "r0^2 = r_foot0^2 + lambda_z (r^2 - r_foot^2), the shell's own stretch, and 2 finish.outside", |i, f| hollow(i, f, |h| h.shell.outside)),
        PARTS,
    ),
    from(
        entry("machined.shell.width", "mm", Dimension::LENGTH, "width of the shell as machined", "width * lambda_z + 2 finish.faces", |i, f| hollow(i, f, |h| h.shell.width)),
        PARTS,
    ),
    from(
        entry("machined.sleeve.bore", "mm", Dimension::LENGTH, "bore of the sleeve as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), the sleeve's own stretch, so that the ridge passes the foot; less 2 finish.bore", |i, f| hollow(i, f, |h| h.sleeve.bore)),
        PARTS,
    ),
    from(
        entry("machined.sleeve.floor", "mm", Dimension::LENGTH, "outside of the sleeve beside the ridges as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), the sleeve's own stretch, so that the ridge passes the foot", |i, f| hollow(i, f, |h| h.sleeve.floor)),
        PARTS,
    ),
    from(
        entry("machined.sleeve.ridge-top", "mm", Dimension::LENGTH, "outside of the ridges as machined, a diameter", "machined.shell.bore - entry", |i, f| maybe(i, f, |h| h.sleeve.ridge_top)),
        PARTS,
    ),
    from(
        entry("machined.sleeve.ridge-from-face", "mm", Dimension::LENGTH, "from the sleeve's side face to the outer face of the outermost ridge, as machined", "ridge.from-face * lambda_z + finish.faces", |i, f| maybe(i, f, |h| h.sleeve.ridge_from_face)),
        PARTS,
    ),
    from(
        entry("machined.sleeve.width", "mm", Dimension::LENGTH, "width of the sleeve as machined", "width * lambda_z + 2 finish.faces", |i, f| hollow(i, f, |h| h.sleeve.width)),
        PARTS,
    ),
    from(
        entry("machined.sleeve.edge-bore", "mm", Dimension::LENGTH, "bore of the sleeve at its side faces as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), the sleeve's own stretch, so that the ridge passes the foot; less 2 finish.bore", |i, f| hollow(i, f, |h| h.sleeve.edge_bore)),
        PARTS,
    ),
    from(
        entry("machined.bore", "mm", Dimension::LENGTH, "bore of the solid band as machined, a diameter", "start, less 2 finish.bore", |i, f| solid(i, f, |s| s.bore)),
        SMALL,
    ),
    from(
        entry("machined.outside", "mm", Dimension::LENGTH, "largest outside of the solid band as machined, a diameter", "r0^2 = r_bore0^2 + lambda_z (r^2 - r_bore^2), and 2 finish.outside", |i, f| solid(i, f, |s| s.outside)),
        SMALL,
    ),
    from(
        entry("machined.thickness", "mm", Dimension::LENGTH, "thickness of the solid band as machined, radial", "(machined.outside - machined.bore) / 2", |i, f| solid(i, f, |s| s.thickness)),
        SMALL,
    ),
    from(
        entry("machined.width", "mm", Dimension::LENGTH, "width of the solid band as machined", "width * lambda_z + 2 finish.faces", |i, f| solid(i, f, |s| s.width)),
        SMALL,
    ),
    from(
        entry("stretch.strain", "", Dimension::NONE, "stretch of the bore: finished over machined, less one", "size / bore before the stretch - 1", strain),
        BOTH,
    ),
    from(
        entry("stretch.loose-ends.bore", "mm", Dimension::LENGTH, "bore after release where the ridge is caught from here on", "the bore at which the ridge top (between lips the floor) has grown to the foot bore (lip bore)", |i, f| maybe(i, f, |h| h.loose_ends.map(|at| at.bore))),
        STAGE,
    ),
    from(
        entry("stretch.loose-ends.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where the ridge is caught from here on", "stretch.loose-ends.bore * (1 + flow stress / modulus)", |i, f| maybe(i, f, |h| h.loose_ends.and_then(|at| at.mandrel))),
        &["stretch.loose-ends.bore", "hollow.sleeve.alloy", "hollow.sleeve.temper"],
    ),
    from(
        entry("stretch.turning.bore", "mm", Dimension::LENGTH, "bore after release where it turns and cannot come off by hand from here on", "the bore at which the ridge top has grown to the foot bore + stretch.overlap-needed", |i, f| maybe(i, f, |h| h.turning.map(|at| at.bore))),
        STAGE,
    ),
    from(
        entry("stretch.turning.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where it turns and cannot come off by hand from here on", "stretch.turning.bore * (1 + flow stress / modulus)", |i, f| maybe(i, f, |h| h.turning.and_then(|at| at.mandrel))),
        &["stretch.turning.bore", "hollow.sleeve.alloy", "hollow.sleeve.temper"],
    ),
    from(
        entry("stretch.seated.bore", "mm", Dimension::LENGTH, "bore after release where no play is left from here on", "the bore at which the floor has grown to the foot bore", |i, f| hollow(i, f, |h| h.seated.bore)),
        STAGE,
    ),
    from(
        entry("stretch.seated.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where no play is left from here on", "stretch.seated.bore * (1 + flow stress / modulus)", |i, f| maybe(i, f, |h| h.seated.mandrel)),
        &["stretch.seated.bore", "hollow.sleeve.alloy", "hollow.sleeve.temper"],
    ),
    from(
        entry("stretch.fixed.bore", "mm", Dimension::LENGTH, "bore after release where opened past seated, as stated or as aimed at", "the bore at which the floor has grown to the foot bore as it is released: contact radius under load - C (kappa p_c - p)", |i, f| maybe(i, f, |h| h.fixed.map(|at| at.bore))),
        GRIP,
    ),
    from(
        entry("stretch.fixed.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where opened past seated, as stated or as aimed at", "2 (contact radius under load - sleeve)", |i, f| maybe(i, f, |h| h.fixed.and_then(|at| at.mandrel))),
        GRIP,
    ),
    from(
        entry("stretch.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load for the finished ring", "size * (1 + flow stress / modulus), or stretch.fixed.mandrel", mandrel),
        BOTH,
    ),
    from(
        entry("stretch.window", "mm", Dimension::LENGTH, "how much the bore may open from turning to seated; 0 or less: it never turns without coming off", "stretch.seated.bore - stretch.turning.bore", |i, f| maybe(i, f, |h| h.window)),
        &["stretch.seated.bore", "stretch.turning.bore"],
    ),
    from(
        entry("stretch.overlap", "mm", Dimension::LENGTH, "overlap that catches the finished ring, on the diameter", "ridge top - foot bore", |i, f| maybe(i, f, |h| h.loose_ends.map(|_| h.overlap_finished))),
        STAGE,
    ),
    from(
        entry("stretch.overlap-needed", "mm", Dimension::LENGTH, "overlap that keeps the ring together, on the diameter", "hold, or the larger of 0.10 mm and 2 foot bore yield / modulus", |i, f| maybe(i, f, |h| h.loose_ends.map(|_| h.hold))),
        STAGE,
    ),
    from(
        entry("grip.pressure", "MPa", Dimension::STRESS, "pressure that stays between sleeve and shell, per width of the sleeve; 0 or less: no grip", "least of (kappa p_c - y) and (Y_s t_s / (r_c - t_s/4)); y = p_b A / (G + C)", |i, f| maybe(i, f, |h| h.press.map(|p| p.pressure))),
        GRIP,
    ),
    from(
        entry("grip.force", "N", Dimension::FORCE, "hoop force that stays in either part", "grip.pressure * contact radius * width", |i, f| maybe(i, f, |h| h.fit.zip(h.press).map(|(fit, press)| fit.force(&press)))),
        &["grip.pressure", "width"],
    ),
    from(
        entry("grip.torque", "Nmm", Dimension::TORQUE, "torque against turning by friction: an estimate, never promised", "2 pi * friction * grip.force * contact radius", |i, f| maybe(i, f, |h| h.fit.zip(h.press).map(|(fit, press)| fit.torque(&press)))),
        &["grip.force", "hollow.friction"],
    ),
    from(
        entry("grip.from", "mm", Dimension::LENGTH, "opening past seated from which it grips, on the diameter", "the opening at which grip.pressure rises to 0", |i, f| maybe(i, f, |h| h.grip_window.map(|(from, _)| 2.0 * from))),
        GRIP,
    ),
    from(
        entry("grip.to", "mm", Dimension::LENGTH, "opening past seated at which the shell yields, on the diameter", "u where E_h (u/r_c) (r_o^2 - r_c^2) / (r_o^2 + r_c^2 + nu (r_o^2 - r_c^2)) = Y_h t_h / (r_c + t_h/4), r_c = foot + u; twice, for the diameter", |i, f| maybe(i, f, |h| h.grip_window.map(|(_, to)| 2.0 * to))),
        GRIP,
    ),
    from(
        entry("grip.aim", "mm", Dimension::LENGTH, "opening past seated to aim at, on the diameter", "hollow.stage.past where stated, else (grip.from + grip.to) / 2", |i, f| maybe(i, f, |h| h.aim.map(|aim| 2.0 * aim))),
        &["hollow.stage.past", "grip.from", "grip.to"],
    ),
    from(
        entry("strength.stiffness", "N/mm", Dimension::STIFFNESS, "force between two opposed points for each mm that the diameter shortens; hollow: a bound from below", "E A e / (R^2 (pi k1 / 4 - 2 k2^2 / pi)); hollow: sleeve + 0.74 shell", |i, f| bears(i, f, |b| b.stiffness)),
        BEARS,
    ),
    from(
        entry("strength.load", "N", Dimension::FORCE, "force between two opposed points at which the metal first yields; a bound from below, no safety rating", "yield / greatest curved-beam stress of 1 N; hollow: where the first part yields", |i, f| bears(i, f, |b| b.load)),
        BEARS,
    ),
    from(
        entry("strength.stiffness-ratio", "", Dimension::NONE, "stiffness over that of the solid band of the same look", "strength.stiffness / that of the solid", |i, f| bears(i, f, |b| b.stiffness_ratio)),
        &["strength.stiffness"],
    ),
    from(
        entry("strength.load-ratio", "", Dimension::NONE, "load at first yield over that of the solid band of the same look", "strength.load / that of the solid", |i, f| bears(i, f, |b| b.load_ratio)),
        &["strength.load"],
    ),
    from(
        entry("made.bore", "mm", Dimension::LENGTH, "bore that the parts as made come to, a diameter; of a blank the ordered one", "floor opened to the feet as measured, and what the shell grows by", |i, f| either(i, f, |m| m.bore, |b| b.bore)),
        MADE,
    ),
    from(
        entry("made.strain", "", Dimension::NONE, "stretch of the bore as made, of sleeve or blank, until then", "made.bore / bore as made - 1", |i, f| either(i, f, |m| m.strain, |b| b.strain)),
        MADE,
    ),
    from(
        entry("made.clearance", "mm", Dimension::LENGTH, "clearance on the diameter at which the parts as made go together", "foot or lip bore - ridge top", |i, f| made(i, f, |m| Some(m.entry))),
        MADE,
    ),
    from(
        entry("made.loose-ends.bore", "mm", Dimension::LENGTH, "bore after release where the ridge as made is caught", "ridge top = foot bore", |i, f| made(i, f, |m| m.loose_ends.map(|at| at.bore))),
        MADE,
    ),
    from(
        entry("made.loose-ends.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where the ridge as made is caught", "made.loose-ends.bore * (1 + flow stress / modulus)", |i, f| made(i, f, |m| m.loose_ends.and_then(|at| at.mandrel))),
        &["made.loose-ends.bore", "hollow.sleeve.alloy", "hollow.sleeve.temper"],
    ),
    from(
        entry("made.turning.bore", "mm", Dimension::LENGTH, "bore after release where the parts as made turn and cannot come off", "ridge top = foot bore + hold", |i, f| made(i, f, |m| m.turning.map(|at| at.bore))),
        MADE,
    ),
    from(
        entry("made.turning.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where the parts as made turn and cannot come off", "made.turning.bore * (1 + flow stress / modulus)", |i, f| made(i, f, |m| m.turning.and_then(|at| at.mandrel))),
        &["made.turning.bore", "hollow.sleeve.alloy", "hollow.sleeve.temper"],
    ),
    from(
        entry("made.seated.bore", "mm", Dimension::LENGTH, "bore after release where the parts as made have no play left", "floor = foot bore", |i, f| made(i, f, |m| Some(m.seated.bore))),
        MADE,
    ),
    from(
        entry("made.seated.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load where the parts as made have no play left", "made.seated.bore * (1 + flow stress / modulus)", |i, f| made(i, f, |m| m.seated.mandrel)),
        &["made.seated.bore", "hollow.sleeve.alloy", "hollow.sleeve.temper"],
    ),
    from(
        entry("made.outside", "mm", Dimension::LENGTH, "largest outside of the band that the blank as made comes to, a diameter", "r^2 = r_bore^2 + (r0^2 - r_bore0^2) / lambda_z", |i, f| blank(i, f, |b| Some(b.outside))),
        MADE,
    ),
    from(
        entry("made.mandrel", "mm", Dimension::LENGTH, "opening of the mandrel under load that takes the blank as made to its size", "size * (1 + flow stress / modulus)", |i, f| blank(i, f, |b| b.mandrel)),
        MADE,
    ),
    from(
        entry("made.width", "mm", Dimension::LENGTH, "width of the ring that the parts as made come to: of its shell", "width as made * lambda_z", |i, f| either(i, f, |m| m.width, |b| b.width)),
        MADE,
    ),
    from(
        entry("made.proud", "mm", Dimension::LENGTH, "how much wider the sleeve as made ends than the shell, or than what lips and play leave; negative: narrower", "sleeve's width as made * lambda_z - made.width", |i, f| made(i, f, |m| Some(m.proud))),
        MADE,
    ),
    from(
        entry("made.wall.under-cut", "mm", Dimension::LENGTH, "thinnest metal under the cut as ordered, on the shell as made", "wall.under-cut, over channel and feet as measured", |i, f| either(i, f, |m| m.under.wall, |b| b.under.wall)),
        MADE,
    ),
    from(
        entry("made.weight", "g", Dimension::MASS, "weight of the ring that the parts as made come to", "weight + what the parts as made differ by: pi/4 (w (outside^2 - bore^2) - channel-width (channel^2 - bore^2)) of the shell, pi/4 (w (floor^2 - bore^2) + ridges) of the sleeve, each at its density, less the cut on them", |i, f| either(i, f, |m| m.weight, |b| b.weight)),
        MADE,
    ),
    from(
        entry("made.deepest-cut", "mm", Dimension::LENGTH, "deepest cut that leaves the least wall on the shell as made", "the depth at which the metal over channel and feet as measured comes to limit.wall", |i, f| either(i, f, |m| m.under.deepest, |b| b.under.deepest)),
        MADE,
    ),
    from(
        entry("made.turn.bore", "mm", Dimension::LENGTH, "bore of the sleeve to turn for the shell as made", "as machined.sleeve.bore, for this shell's feet", |i, f| made(i, f, |m| Some(m.turn.bore))),
        MADE,
    ),
    from(
        entry("made.turn.floor", "mm", Dimension::LENGTH, "outside of the sleeve to turn for the shell as made", "as machined.sleeve.floor, for this shell's feet", |i, f| made(i, f, |m| Some(m.turn.floor))),
        MADE,
    ),
    from(
        entry("made.turn.ridge-top", "mm", Dimension::LENGTH, "outside of the ridges to turn for the shell as made", "feet as made - entry", |i, f| made(i, f, |m| m.turn.ridge_top)),
        MADE,
    ),
    from(
        entry("made.turn.ridge-from-face", "mm", Dimension::LENGTH, "from the side face to the outer face of the outermost ridge, of the sleeve to turn for the shell as made", "as machined.sleeve.ridge-from-face, for this shell's channel and width", |i, f| made(i, f, |m| m.turn.ridge_from_face)),
        MADE,
    ),
    from(
        entry("made.turn.width", "mm", Dimension::LENGTH, "width of the sleeve to turn for the shell as made", "as machined.sleeve.width, for this shell's width", |i, f| made(i, f, |m| Some(m.turn.width))),
        MADE,
    ),
    from(
        entry("made.turn.edge-bore", "mm", Dimension::LENGTH, "bore at the side faces of the sleeve to turn for the shell as made", "as machined.sleeve.edge-bore, for this shell's feet", |i, f| made(i, f, |m| Some(m.turn.edge_bore))),
        MADE,
    ),
];
