//! Both sides of every border that parts as made are judged by: just inside nothing is said of it, just outside it is.
//!
//! Each border is a closed form of section 3 of the physical model, worked out beside its row: a flat ring, Ø 17.3 by
//! 6 by 1.8 mm, over a shell of 0.5 and a sleeve of 0.4 mm, its width held, so that `r^2 - r_i^2` of every surface
//! stays. Bore 8.65, floor and foot 9.05, roof 9.95, crown 10.45; the shell is not stretched, the sleeve goes in with
//! 0.04 mm on the diameter.

use crate::support::findings;

/// How far a figure is put to either side of its border, mm; twenty times what solved states may be off by.
const STEP: f64 = 2e-6;

/// A border.
struct Border {
    /// What stands in the band behind its frame; `X` is the figure that is put to either side, here or in `made`.
    build: &'static str,
    /// What is measured.
    made: String,
    /// The last figure that passes, or the first that does not.
    at: f64,
    /// Whether what is larger lies outside.
    above: bool,
    /// The code of what is found outside, and a part of its message.
    finds: (&'static str, &'static str),
}

const CLASH: &str = "evaluate::made_contradicts";
const THIN: &str = "evaluate::made_thin";
const TURN: &str = "evaluate::made_turn";

/// Two ridges of 0.15 mm, 0.3 mm wide, 0.05 mm off the walls of the channel.
const RIDGES: &str = "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.15 mm { wide 0.3 mm } }";
const ONE_RIDGE: &str =
    "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.15 mm { wide 0.3 mm, count 1 } }";
const LIPS: &str = "hollow { shell 0.5 mm, sleeve 0.4 mm, lip 0.15 mm { wide 0.3 mm } }";
const PLAIN: &str = "hollow { shell 0.5 mm, sleeve 0.4 mm }";
const FULL: &str = "hollow { shell full, sleeve 0.4 mm }";
const CUT: &str = "pattern { cover 40 %, depth 0.2 mm }\nhollow { shell 0.5 mm, sleeve 0.4 mm }";
const FULL_CUT: &str = "pattern { cover 40 %, depth 0.2 mm }\nhollow { shell full, sleeve 0.4 mm }";
const THICK: &str = "limit { wall 0.35 mm }\npattern { cover 40 %, depth 0.2 mm }\nhollow { shell 0.5 mm, sleeve 0.4 mm }";
const FACED: &str = "finish { faces 0.05 mm }\nhollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.15 mm { wide 0.3 mm } }";
const TURNING: &str = "hollow { shell 0.5 mm, sleeve 0.4 mm, hold 0.1 mm, ridge 0.2 mm { wide 0.3 mm, count 1 }, stage turning { play 0.08 mm } }";
/// The same, with the hold that is put to either side.
const TURNING_HELD: &str = "hollow { shell 0.5 mm, sleeve 0.4 mm, hold X, ridge 0.2 mm { wide 0.3 mm, count 1 }, stage turning { play 0.08 mm } }";
const SMALL: &str = "start stretch 3 %";
const SMALL_CUT: &str = "start stretch 3 %\npattern { cover 40 %, depth 0.3 mm, cut after }";
/// Short as ordered: 1.5 mm are left of 1.6.
const SMALL_THICK: &str =
    "limit { wall 1.6 mm }\nstart stretch 3 %\npattern { cover 40 %, depth 0.3 mm, cut after }";
const SMALL_CUT_BEFORE: &str =
    "start stretch 3 %\npattern { cover 40 %, depth 0.3 mm, cut before }";

fn recipe(build: &str) -> String {
    format!(
        "alloy a {{ silver 1000, temper annealed {{ elongation 12 % }} }}\nband b {{ size 17.3 mm, width 6 mm, thickness 1.8 mm, profile flat, alloy a, kinematics held\n{build} }}\n"
    )
}

fn row(
    build: &'static str,
    made: &str,
    at: f64,
    above: bool,
    finds: (&'static str, &'static str),
) -> Border {
    Border {
        build,
        made: made.to_owned(),
        at,
        above,
        finds,
    }
}

/// What clashes in either part alone, or between the two.
fn clashes() -> Vec<Border> {
    let (below, above) = (false, true);
    let feet = (CLASH, "leaves no feet");
    let faces = (CLASH, "more than 0.1 mm apart");
    let beyond = (CLASH, "beyond the end of a channel");
    let gone = (CLASH, "is no larger than its bore");
    let nothing = (CLASH, "is no smaller than its outside");
    let ridges = (CLASH, "do not fit on a sleeve");
    let roof = (CLASH, "meets the roof");
    let seated = |top: f64| (9.05_f64.powi(2) + (top * top - 17.7 * 17.7) / 4.0).sqrt();
    vec![
        // Metal between bore and outside of a shell, over its channel, and a channel at all.
        row(FULL, "shell-bore X", 20.9, above, nothing),
        row(FULL, "shell-outside X", 18.1, below, nothing),
        row(
            PLAIN,
            "shell-channel X",
            20.9,
            above,
            (CLASH, "than the shell's outside"),
        ),
        row(
            PLAIN,
            "shell-outside X",
            19.9,
            below,
            (CLASH, "than the shell's outside"),
        ),
        row(
            PLAIN,
            "shell-channel X",
            18.1,
            below,
            (CLASH, "than the bore of the feet"),
        ),
        row(
            PLAIN,
            "shell-bore X",
            19.9,
            above,
            (CLASH, "than the bore of the feet"),
        ),
        row(PLAIN, "shell-channel-width X", 6.0, above, feet),
        row(PLAIN, "shell-width X", 5.0, below, feet),
        row(
            LIPS,
            "shell-lip-bore X",
            18.1,
            above,
            (CLASH, "larger than the bore of the seat"),
        ),
        // A bore opens towards its faces; metal between it and the sleeve's outside; ridges stand on that.
        row(
            PLAIN,
            "sleeve-edge-bore X, sleeve-bore 16.9 mm",
            16.9,
            below,
            (CLASH, "at its faces is smaller"),
        ),
        row(
            PLAIN,
            "sleeve-floor X, sleeve-bore 17 mm",
            17.0,
            below,
            gone,
        ),
        row(
            PLAIN,
            "sleeve-floor 17.8 mm, sleeve-bore 17 mm, sleeve-edge-bore X",
            17.8,
            above,
            gone,
        ),
        row(
            ONE_RIDGE,
            "sleeve-ridge-top X, sleeve-floor 17.7 mm, sleeve-bore 16.9 mm",
            17.7,
            below,
            (CLASH, "that they stand on"),
        ),
        // Ridges of 0.3 mm: one up to the far face, two up to each other, none outside its own face.
        row(
            ONE_RIDGE,
            "sleeve-ridge-from-face X",
            6.0 - 0.3,
            above,
            ridges,
        ),
        row(
            RIDGES,
            "sleeve-ridge-from-face X",
            (6.0 - 2.0 * 0.3) / 2.0,
            above,
            ridges,
        ),
        row(FACED, "sleeve-ridge-from-face X", 0.05, below, ridges),
        // Ridges through feet, a plain sleeve through feet, between lips.
        row(
            RIDGES,
            "sleeve-ridge-top X, sleeve-floor 17.7 mm, sleeve-bore 16.9 mm",
            18.1,
            above,
            (CLASH, "go through the feet's"),
        ),
        row(
            RIDGES,
            "shell-bore X, sleeve-ridge-top 18.06 mm",
            18.06,
            below,
            (CLASH, "go through the feet's"),
        ),
        row(
            PLAIN,
            "sleeve-floor X, sleeve-bore 17 mm",
            18.1,
            above,
            (CLASH, "the sleeve's Ø"),
        ),
        row(
            LIPS,
            "sleeve-floor X, sleeve-bore 16.9 mm",
            17.8,
            above,
            (CLASH, "go through the lips'"),
        ),
        // Stretched fourfold in the mean, which is as far as any state is sought: sum 4 (a + b), thickness a quarter;
        // `(4 (a + b) + (b - a) / 4) / 2 = 9.05` with `b = 2.73125`.
        row(
            PLAIN,
            "sleeve-bore X, sleeve-floor 5.4625 mm",
            3.4625,
            below,
            (CLASH, "no stretch takes this sleeve"),
        ),
        // Two ridges, outer faces 2.45 of a channel of 2.5 from mid width, may go out by 0.05; held, they pass as wide.
        // Parts that touch by no more than 0.001 mm are let pass.
        row(RIDGES, "sleeve-ridge-from-face X", 0.499, below, beyond),
        row(
            RIDGES,
            "shell-channel-width X, sleeve-ridge-from-face 0.55 mm",
            4.898,
            below,
            beyond,
        ),
        // Ridges under the roof: `top^2 = 9.05^2 + ridge^2 - floor^2` when seated.
        row(
            RIDGES,
            "sleeve-ridge-top 18.06 mm, sleeve-floor 17.7 mm, sleeve-bore 16.9 mm, shell-channel X",
            2.0 * seated(18.06) - 0.001,
            below,
            roof,
        ),
        row(
            ONE_RIDGE,
            "sleeve-ridge-top 18.06 mm, sleeve-floor 17.7 mm, sleeve-bore 16.9 mm, shell-channel X",
            2.0 * seated(18.06) - 0.001,
            below,
            roof,
        ),
        // Widths are faced flush up to 0.1 mm; between lips of 0.3 mm a sleeve must fit.
        row(PLAIN, "shell-width 6 mm, sleeve-width X", 6.1, above, faces),
        row(PLAIN, "shell-width 6 mm, sleeve-width X", 5.9, below, faces),
        row(PLAIN, "shell-width X, sleeve-width 6 mm", 5.9, below, faces),
        row(
            LIPS,
            "shell-width 6 mm, sleeve-width X",
            5.4,
            above,
            (CLASH, "the lips leave"),
        ),
        // A sleeve that is not there yet, worked back to go through Ø 18.1 with 0.04 mm: from 18.06 on it goes in.
        row(
            RIDGES,
            "shell-bore X",
            18.06,
            below,
            (TURN, "go through the feet's"),
        ),
        row(
            LIPS,
            "shell-lip-bore X",
            17.76,
            below,
            (TURN, "go through the lips'"),
        ),
    ]
}

/// What is thin, stretched too far, or caught too little.
fn limits() -> Vec<Border> {
    let (below, above) = (false, true);
    let (cut, feet) = ((THIN, "under the cut"), (THIN, "at the shell's feet"));
    let edge = (THIN, "at the sleeve's edge");
    let far = ("evaluate::stretch_limit", "the sleeve of `b`");
    let caught = ("evaluate::no_turning_window", "parts as made are caught");
    let half = |diameter: f64| diameter / 2.0;
    // The sleeve's floor done is 9.05; its edge 0.2 mm under it: `floor^2 - edge^2` as machined.
    let square = 9.05_f64.powi(2) - 8.85_f64.powi(2);
    // A third of 12 % elongation is 4 %: `done^2 = 9.05^2 - floor^2 + bore^2 = (1.04 bore)^2`.
    let pulled = 9.05_f64.powi(2) - (1.04_f64.powi(2) - 1.0) * half(17.0).powi(2);
    // Caught by 0.1 mm on the diameter over a foot of 9.09 where the floor is 9.05: `top^2 - floor^2` stays.
    let top = half(17.8).powi(2) + 9.14_f64.powi(2) - 9.05_f64.powi(2);
    vec![
        // Roof less a cut of 0.2 mm: `(20.9 - X) / 2 - 0.2 = 0.2`, and from outside `(X - 19.9) / 2 - 0.2 = 0.2`.
        row(CUT, "shell-channel X", 20.1, above, cut),
        row(CUT, "shell-outside X", 20.7, below, cut),
        row(FULL_CUT, "shell-bore X", 20.1, above, cut),
        // Short as ordered (0.3 of 0.35 mm): told of the parts where they are thinner still.
        row(THICK, "shell-channel X", 19.9, above, cut),
        row(PLAIN, "shell-channel-width X", 5.6, above, feet),
        row(PLAIN, "shell-width X", 5.4, below, feet),
        row(PLAIN, "sleeve-width X", 5.4, below, feet),
        row(
            PLAIN,
            "sleeve-floor X, sleeve-bore 16.9 mm",
            2.0 * (half(16.9).powi(2) + square).sqrt(),
            below,
            edge,
        ),
        row(
            PLAIN,
            "sleeve-floor 17.6 mm, sleeve-bore 17 mm, sleeve-edge-bore X",
            2.0 * (half(17.6).powi(2) - square).sqrt(),
            above,
            edge,
        ),
        row(
            PLAIN,
            "sleeve-floor X, sleeve-bore 17 mm",
            2.0 * pulled.sqrt(),
            below,
            far,
        ),
        row(
            TURNING,
            "sleeve-ridge-top X, sleeve-floor 17.8 mm, sleeve-bore 17 mm",
            2.0 * top.sqrt(),
            below,
            caught,
        ),
        // A hold that the ring as ordered does not reach either (9.25 over 9.09 is 0.32 mm) is told of the band.
        row(
            TURNING_HELD,
            "sleeve-ridge-top 17.98 mm, sleeve-floor 17.8 mm, sleeve-bore 17 mm",
            0.32,
            below,
            caught,
        ),
    ]
}

/// Blanks of solid bands.
fn blanks() -> Vec<Border> {
    let (below, above) = (false, true);
    let apart = (CLASH, "are measured");
    let half = |diameter: f64| diameter / 2.0;
    let cut = (THIN, "under the cut");
    // The outside done, `top^2 = 8.65^2 + outside^2 - bore^2`, less a cut of 0.3 and a wall of 0.2 mm; cut before, the
    // cut's floor is carried instead.
    let bores = half(16.7).powi(2) - 8.65_f64.powi(2);
    let after = (9.15_f64.powi(2) + bores).sqrt();
    let before = (8.85_f64.powi(2) + bores).sqrt() + 0.3;
    vec![
        row(
            SMALL,
            "blank-bore 16.7 mm, blank-outside 20.3 mm, blank-thickness X",
            1.82,
            above,
            apart,
        ),
        row(
            SMALL,
            "blank-bore 16.7 mm, blank-outside 20.3 mm, blank-thickness X",
            1.78,
            below,
            apart,
        ),
        row(
            SMALL,
            "blank-bore 16.7 mm, blank-outside X",
            16.7,
            below,
            (CLASH, "metal is gone"),
        ),
        row(
            SMALL,
            "blank-bore X, blank-outside 20.3 mm",
            17.3,
            above,
            (CLASH, "larger than its finished size"),
        ),
        // Fourfold: `(4 (a + b) - (b - a) / 4) / 2 = 8.65` with `b = 3.225`.
        row(
            SMALL,
            "blank-bore X, blank-outside 6.45 mm",
            2.45,
            below,
            (CLASH, "no stretch takes this blank"),
        ),
        row(
            SMALL_CUT,
            "blank-bore 16.7 mm, blank-outside X",
            2.0 * after,
            below,
            cut,
        ),
        row(
            SMALL_CUT_BEFORE,
            "blank-bore 16.7 mm, blank-outside X",
            2.0 * before,
            below,
            cut,
        ),
        // Short as ordered, and told of the blank where that is thinner still: `10.45^2 - 8.65^2` stays.
        row(
            SMALL_THICK,
            "blank-outside X",
            2.0 * (10.45_f64.powi(2) - 8.65_f64.powi(2) + (8.65_f64 / 1.03).powi(2)).sqrt(),
            below,
            cut,
        ),
        row(
            SMALL,
            "blank-bore X, blank-outside 20.3 mm",
            17.3 / 1.04,
            below,
            ("evaluate::stretch_limit", "the band of `b`"),
        ),
    ]
}

impl Border {
    /// The recipe with a figure on one side of the border.
    fn text(&self, figure: f64) -> String {
        let whole = format!("{}made b {{ {} }}", recipe(self.build), self.made);
        whole.replace('X', &format!("{figure:.9} mm"))
    }

    fn is_found(&self, figure: f64) -> bool {
        let (code, part) = self.finds;
        let found = findings(&self.text(figure));
        found
            .iter()
            .any(|one| one.code == code && one.message.contains(part))
    }
}

#[test]
fn parts_pass_just_inside_a_border_and_are_found_just_outside() {
    let mut wrong = Vec::new();
    for border in [clashes(), limits(), blanks()].iter().flatten() {
        let out = if border.above { STEP } else { -STEP };
        for (side, figure) in [(false, border.at - out), (true, border.at + out)] {
            if border.is_found(figure) != side {
                let text = border.text(figure);
                let said: Vec<String> =
                    findings(&text).into_iter().map(|one| one.message).collect();
                wrong.push(format!(
                    "{:?} outside alone, but {said:?}\n{text}",
                    border.finds
                ));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn nothing_clashes_just_inside() {
    // The other clash that is bound to be there: a bore as wide as the outside is wider than the channel, and ridges
    // out at the very face meet the feet.
    let expected = ["than the bore of the feet", "beyond the end of a channel"];
    for border in clashes().iter().chain(&blanks()) {
        let text = border.text(border.at + if border.above { -STEP } else { STEP });
        let clash = findings(&text).into_iter().find(|one| one.code == CLASH);
        if let Some(clash) = clash {
            assert!(
                expected.iter().any(|part| clash.message.contains(part)),
                "{}\n{text}",
                clash.message
            );
        }
    }
}

#[test]
fn a_limit_offers_the_last_micrometre_that_passes() {
    let mut offered = 0;
    // Where the band is short as ordered, an offer mends that too; what mends a clash leaves the least wall as well.
    let own = |border: &&Border| !border.build.contains("limit {") && border.finds.0 != CLASH;
    for border in limits().iter().chain(&blanks()).filter(own) {
        let (code, part) = border.finds;
        let far = if border.above { 0.05 } else { -0.05 };
        let found = findings(&border.text(border.at + far));
        let one = found
            .iter()
            .find(|one| one.code == code && one.message.contains(part));
        let Some(one) = one.filter(|_| border.made.contains('X')) else {
            continue;
        };
        // Another of the measured fields may be what is offered: that is another border.
        let word = border
            .made
            .split(" X")
            .next()
            .unwrap()
            .rsplit(' ')
            .next()
            .unwrap();
        let offer = one
            .help
            .split('`')
            .find_map(|part| part.strip_prefix(&format!("{word} ")));
        let Some(offer) = offer else { continue };
        let offer: f64 = offer.trim_end_matches(" mm").parse().unwrap();
        assert!(
            !border.is_found(offer),
            "{}\n{}",
            one.help,
            border.text(offer)
        );
        let back = offer + if border.above { 0.001 } else { -0.001 };
        assert!(border.is_found(back), "{}\n{}", one.help, border.text(back));
        offered += 1;
    }
    assert!(offered >= 12, "{offered}");
}

/// A word of `made`, a figure for it, and the builds that have such a thing.
const WORDS: &[(&str, f64, &[&str])] = &[
    ("shell-bore", 18.1, &[RIDGES, LIPS, PLAIN, FULL]),
    ("shell-lip-bore", 17.8, &[LIPS]),
    ("shell-channel", 19.9, &[RIDGES, LIPS, PLAIN]),
    ("shell-channel-width", 5.0, &[RIDGES, LIPS, PLAIN]),
    ("shell-outside", 20.9, &[RIDGES, LIPS, PLAIN, FULL]),
    ("shell-width", 6.0, &[RIDGES, LIPS, PLAIN, FULL]),
    ("sleeve-bore", 16.94, &[RIDGES, LIPS, PLAIN, FULL]),
    ("sleeve-floor", 17.75, &[RIDGES, LIPS, PLAIN, FULL]),
    ("sleeve-ridge-top", 18.06, &[RIDGES]),
    ("sleeve-ridge-from-face", 0.55, &[RIDGES]),
    ("sleeve-width", 5.35, &[RIDGES, LIPS, PLAIN, FULL]),
    ("sleeve-edge-bore", 16.94, &[RIDGES, LIPS, PLAIN, FULL]),
    ("blank-bore", 16.8, &[SMALL]),
    ("blank-outside", 20.5, &[SMALL]),
    ("blank-thickness", 1.81, &[SMALL]),
    ("blank-width", 6.0, &[SMALL]),
];

#[test]
fn what_is_measured_of_nothing_is_told_and_what_is_there_is_not() {
    for (word, figure, builds) in WORDS {
        for build in [RIDGES, LIPS, PLAIN, FULL, SMALL] {
            let text = format!("{}made b {{ {word} {figure} mm }}", recipe(build));
            let found = findings(&text);
            let unused = found.iter().any(|one| one.code == "evaluate::made_unused");
            assert_eq!(
                unused,
                !builds.contains(&build),
                "{word} {build}\n{found:?}"
            );
        }
    }
}
