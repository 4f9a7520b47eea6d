//! Bands that cannot be made, and bands that fall short: found where they are written, and put right as offered.
//!
//! Source: the bounds and limits of sections 1, 2 and 5 of the physical model, each worked out here by hand from
//! the figures of its case. No outside source: whatever value is offered is put back into the recipe and must pass.

use annulet::evaluate::{Barred, Shortfall};
use annulet::kernel;
use annulet::session::{Request, Session};
use proptest::prelude::*;
use serde_json::Value as Json;

use crate::hollow::{Caught, Drawn, chance, drawn};
use crate::support::{Ran, agree, band_with, files_under, read, run};

/// A band that cannot be made.
struct Impossible {
    /// What differs from a flat band of Ø 17 mm, 5 mm wide and 2 mm thick.
    lines: &'static [&'static str],
    code: &'static str,
    /// A part of the message.
    says: &'static str,
    /// What it points at.
    at: &'static str,
    /// Whether some value of that field alone would do.
    offers: bool,
}

const fn fit(lines: &'static [&'static str], says: &'static str, at: &'static str) -> Impossible {
    Impossible {
        lines,
        code: "geometry::does_not_fit",
        says,
        at,
        offers: true,
    }
}

/// Such that no other value of the field alone would do.
const fn no_way(
    lines: &'static [&'static str],
    says: &'static str,
    at: &'static str,
) -> Impossible {
    Impossible {
        offers: false,
        ..fit(lines, says, at)
    }
}

const fn coded(code: &'static str, case: Impossible) -> Impossible {
    Impossible { code, ..case }
}

const IMPOSSIBLE: &[Impossible] = &[
    // The section: bounds of section 1.
    fit(
        &["comfort 2.6 mm", "thickness 4 mm"],
        "more than half the width",
        "2.6 mm",
    ),
    fit(
        &["comfort 0.4 mm", "thickness 0.4 mm"],
        "nothing is left at the edge",
        "0.4 mm",
    ),
    fit(
        &["profile domed { edge 2.1 mm }"],
        "more than the thickness of 2 mm",
        "2.1 mm",
    ),
    fit(
        &["profile domed { edge 1.8 mm }", "comfort 0.3 mm"],
        "the bore's opening of 0.3 mm",
        "1.8 mm",
    ),
    fit(
        &["profile domed { edge 0.5 mm }", "width 2 mm"],
        "more than half the width",
        "0.5 mm",
    ),
    fit(
        &["profile bevelled { across 2.6 mm, down 0.5 mm }"],
        "more than half the width",
        "2.6 mm",
    ),
    fit(
        &["profile bevelled { across 1 mm, down 2 mm }"],
        "the edge has only 2 mm",
        "2 mm",
    ),
    fit(
        &["profile knife-edge { edge 2.2 mm }"],
        "more than the thickness",
        "2.2 mm",
    ),
    fit(
        &["profile knife-edge { edge 1.2 mm, crown 4.4 mm }"],
        "leaves no flank",
        "4.4 mm",
    ),
    fit(
        &["profile concave { dip 1.1 mm }", "width 2 mm"],
        "more than half the width",
        "1.1 mm",
    ),
    fit(
        &["profile concave { dip 2 mm }"],
        "dips down to the bore",
        "2 mm",
    ),
    no_way(
        &[
            "profile custom { from -2.5 mm 1 mm, arc 0 mm -0.1 mm to 2.5 mm 1 mm }",
            "thickness 1 mm",
        ],
        "crosses the bore at x = 0 mm",
        "arc 0 mm -0.1 mm to 2.5 mm 1 mm",
    ),
    no_way(
        &[
            "profile custom { from -2.5 mm 0.2 mm, to 0 mm 1 mm, to 2.5 mm 1 mm }",
            "thickness 1 mm",
            "comfort 0.3 mm",
        ],
        "crosses the bore at x = -2.5 mm",
        "to 0 mm 1 mm",
    ),
    fit(
        &["ease { outer 0.5 mm }", "width 1 mm"],
        "meets the other one",
        "0.5 mm",
    ),
    fit(
        &["ease { outer 0.3 mm, bore 0.2 mm }", "thickness 0.5 mm"],
        "the whole edge of the band",
        "0.3 mm",
    ),
    fit(
        &["pattern { depth 0.2 mm, mean-depth 0.3 mm, cover 50 % }"],
        "more than the full depth",
        "0.3 mm",
    ),
    fit(
        &["pattern { depth 2.2 mm, cover 50 % }"],
        "2 mm at its thinnest",
        "2.2 mm",
    ),
    fit(
        &[
            "pattern { depth 0.9 mm, cover 50 % }",
            "profile domed { edge 0.8 mm }",
            "thickness 1.4 mm",
        ],
        "0.8 mm at its thinnest",
        "0.9 mm",
    ),
    // The parts: section 2.
    fit(
        &["comfort 0.3 mm", "hollow { shell 0.5 mm, sleeve 0.3 mm }"],
        "nothing is left of the sleeve of 0.3 mm at its edge",
        "0.3 mm",
    ),
    fit(
        &["hollow { shell 0.3 mm, sleeve 2 mm }"],
        "leaves no shell at the side faces",
        "2 mm",
    ),
    fit(
        &[
            "profile domed { edge 0.4 mm }",
            "hollow { shell 0.3 mm, sleeve 0.4 mm }",
        ],
        "leaves no shell at the side faces",
        "0.4 mm",
    ),
    fit(
        &[
            "profile domed { edge 0.4 mm }",
            "hollow { shell 0.3 mm, sleeve 0.38 mm, stage turning { play 0.06 mm } }",
        ],
        "leaves no shell at the side faces",
        "0.38 mm",
    ),
    fit(
        &["hollow { shell full, sleeve 2.1 mm }"],
        "leaves no shell at the side faces",
        "2.1 mm",
    ),
    fit(
        &["hollow { shell 0.5 mm, sleeve 0.4 mm { relief 0.4 mm } }"],
        "the sleeve is 0.4 mm there already",
        "0.4 mm",
    ),
    fit(
        &["hollow { shell 0.5 mm, sleeve 0.4 mm, lip 0.4 mm { wide 0.2 mm } }"],
        "reaches through the sleeve",
        "0.4 mm",
    ),
    fit(
        &[
            "comfort 0.2 mm",
            "hollow { shell 0.5 mm, sleeve 0.5 mm, lip 0.3 mm { wide 0.2 mm } }",
        ],
        "which is 0.3 mm at its edge",
        "0.3 mm",
    ),
    fit(
        &["hollow { shell 0.5 mm, sleeve 0.4 mm, lip 0.1 mm { wide 0.48 mm } }"],
        "nothing to stand on",
        "0.48 mm",
    ),
    fit(
        &["width 1.2 mm", "hollow { shell 0.6 mm, sleeve 0.4 mm }"],
        "fill the width of 1.2 mm",
        "0.6 mm",
    ),
    fit(
        &["hollow { shell 1.6 mm, sleeve 0.4 mm }"],
        "no cavity is left",
        "1.6 mm",
    ),
    fit(
        &["hollow { shell 1.57 mm, sleeve 0.4 mm, stage turning { play 0.08 mm } }"],
        "no cavity is left",
        "1.57 mm",
    ),
    fit(
        &[
            "profile concave { dip 1.2 mm }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm }",
        ],
        "splits the cavity",
        "0.5 mm",
    ),
    fit(
        &[
            "width 6 mm",
            "profile custom { from -3 mm 1.5 mm, arc -2 mm 2 mm to -1 mm 1.5 mm, arc 0 mm 0.8 mm to 1 mm 1.5 mm, arc 2 mm 2 mm to 3 mm 1.5 mm }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm }",
        ],
        "splits the cavity",
        "0.5 mm",
    ),
    fit(
        &[
            "hollow { shell 0.5 mm { nose 2 mm }, sleeve 0.4 mm }",
            "thickness 4 mm",
        ],
        "do not fit into a cavity 4 mm wide",
        "2 mm",
    ),
    fit(
        &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 1.2 mm { wide 0.3 mm } }"],
        "stands higher than the roof",
        "1.2 mm",
    ),
    fit(
        &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.1 mm { wide 2 mm } }"],
        "run into each other",
        "2 mm",
    ),
    fit(
        &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.1 mm { wide 4.1 mm, count 1 } }"],
        "does not fit between the feet, 4 mm apart",
        "4.1 mm",
    ),
    fit(
        &[
            "profile knife-edge { edge 0.8 mm }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.6 mm { wide 2.4 mm, count 1 } }",
        ],
        "meets the roof",
        "0.6 mm",
    ),
    fit(
        &[
            "profile concave { dip 0.6 mm }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.7 mm { wide 1 mm, count 1 } }",
        ],
        "meets the roof",
        "0.7 mm",
    ),
    fit(
        &[
            "ease { outer 1 mm }",
            "hollow { shell 0.4 mm, sleeve 0.4 mm }",
        ],
        "opens the cavity",
        "1 mm",
    ),
    fit(
        &[
            "ease { outer 0.9 mm }",
            "profile domed { edge 1.3 mm }",
            "hollow { shell 0.3 mm, sleeve 0.4 mm }",
        ],
        "the chamfer of 0.9 mm takes off the whole edge of the shell",
        "0.9 mm",
    ),
    fit(
        &[
            "ease { bore 0.4 mm }",
            "hollow { shell 0.4 mm, sleeve 0.4 mm }",
        ],
        "the whole edge of the sleeve",
        "0.4 mm",
    ),
    fit(
        &[
            "pattern { depth 0.5 mm, cover 50 % }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm }",
        ],
        "the wall is 0.5 mm",
        "0.5 mm",
    ),
    fit(
        &[
            "pattern { depth 0.3 mm, cover 50 % }",
            "profile domed { edge 0.7 mm }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm }",
        ],
        "the shell over the sleeve is 0.3 mm",
        "0.3 mm",
    ),
    fit(
        &[
            "pattern { depth 1.2 mm, cover 50 % }",
            "profile concave { dip 0.4 mm }",
            "hollow { shell full, sleeve 0.4 mm }",
        ],
        "the shell over the sleeve is 1.2 mm",
        "1.2 mm",
    ),
    // A groove in the outline over the foot, lower than the edge.
    fit(
        &[
            "pattern { depth 0.3 mm, cover 50 % }",
            "profile custom { from -2.5 mm 1.2 mm, to -2.3 mm 0.7 mm, to -2.1 mm 2 mm, to 2.5 mm 2 mm }",
            "hollow { shell 0.5 mm, sleeve 0.4 mm }",
        ],
        "the shell over the sleeve is 0.3 mm",
        "0.3 mm",
    ),
    // Lengths that follow, and are stated all the same.
    coded(
        "geometry::over_stated",
        fit(&["profile flat { edge 1.9 mm }"], "2 mm follows", "1.9 mm"),
    ),
    coded(
        "geometry::over_stated",
        fit(
            &["profile flat { edge 2 mm }", "comfort 0.2 mm"],
            "1.8 mm follows",
            "2 mm",
        ),
    ),
    coded(
        "geometry::over_stated",
        fit(
            &["profile bevelled { across 1 mm, down 0.5 mm, edge 1.4 mm }"],
            "1.5 mm follows",
            "1.4 mm",
        ),
    ),
    coded(
        "geometry::over_stated",
        fit(
            &["profile concave { dip 0.5 mm, edge 1.5 mm }"],
            "2 mm follows",
            "1.5 mm",
        ),
    ),
    coded(
        "geometry::over_stated",
        fit(&["outside 21.1 mm"], "21 mm follows", "21.1 mm"),
    ),
    coded(
        "geometry::over_stated",
        fit(
            &["profile custom { from -2.5 mm 1.6 mm, arc 0 mm 1.9 mm to 2.5 mm 1.6 mm }"],
            "1.9 mm follows",
            "2 mm",
        ),
    ),
    // What excludes each other, and outlines that cannot be drawn.
    coded(
        "model::conflict",
        no_way(
            &[
                "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.1 mm { wide 0.3 mm }, lip 0.1 mm { wide 0.2 mm } }",
            ],
            "by ridges or by lips",
            "0.1 mm",
        ),
    ),
    coded(
        "model::conflict",
        no_way(
            &["hollow { shell full, sleeve 0.4 mm, ridge 0.1 mm { wide 0.3 mm } }"],
            "no cavity for a ridge",
            "0.1 mm",
        ),
    ),
    coded(
        "model::conflict",
        no_way(
            &["hollow { shell full, sleeve 0.4 mm { relief 0.3 mm } }"],
            "none of it can be turned down",
            "0.3 mm",
        ),
    ),
    coded(
        "model::conflict",
        no_way(
            &["hollow { shell full { nose 0.2 mm }, sleeve 0.4 mm }"],
            "no cavity with corners",
            "0.2 mm",
        ),
    ),
    coded(
        "model::outline",
        fit(
            &["profile custom { from -2.4 mm 1.6 mm, to 2.5 mm 2 mm }"],
            "starts at -2.4 mm, and the side face is at -2.5 mm",
            "-2.4 mm",
        ),
    ),
    coded(
        "model::outline",
        fit(
            &["profile custom { from -2.5 mm 1.6 mm, arc 0 mm 2 mm to 2.6 mm 1.6 mm }"],
            "ends at 2.6 mm, and the side face is at 2.5 mm",
            "2.6 mm",
        ),
    ),
    coded(
        "model::outline",
        no_way(
            &[
                "profile custom { from -2.5 mm 1.6 mm, to 0 mm 2 mm, to 0 mm 1.6 mm, to 2.5 mm 1.6 mm }",
            ],
            "not to the right of the one before",
            "0 mm 1.6 mm",
        ),
    ),
    coded(
        "model::outline",
        no_way(
            &["profile custom { from -2.5 mm 1 mm, arc -2.4 mm 4 mm to 2.5 mm 1 mm }"],
            "overhangs",
            "-2.4 mm 4 mm",
        ),
    ),
];

fn check(recipe: &str) -> (Ran, Vec<Json>) {
    let ran = run(&["check", "--json", "-"], recipe);
    let json: Json = serde_json::from_str(&ran.stdout)
        .unwrap_or_else(|error| panic!("{error}: {}{}\n{recipe}", ran.stdout, ran.stderr));
    let findings = json["findings"].as_array().unwrap().clone();
    (ran, findings)
}

/// The bytes that a place of the machine output covers.
fn bytes(place: &Json) -> std::ops::Range<usize> {
    let at = |end: usize| usize::try_from(place["span"][end].as_u64().unwrap()).unwrap();
    at(0)..at(1)
}

/// The first place of a finding.
fn place(finding: &Json) -> std::ops::Range<usize> {
    bytes(finding)
}

/// The recipe with what a finding offers: its repair, or else the value that its help names behind the field's
/// word, in the place that it points at.
fn mended(recipe: &str, finding: &Json) -> Option<String> {
    let (range, text) = match &finding["repair"] {
        Json::Null => {
            let help = finding["help"].as_str()?;
            let quoted = help.split('`').nth(1)?;
            let number = quoted.strip_suffix(" mm")?;
            // Behind the field's word, or alone.
            let number = number.rsplit_once(' ').map_or(number, |(_, number)| number);
            number.parse::<f64>().ok()?;
            (place(finding), format!("{number} mm"))
        }
        repair => (bytes(repair), repair["text"].as_str()?.to_owned()),
    };
    let mut mended = recipe.to_owned();
    mended.replace_range(range, &text);
    Some(mended)
}

#[test]
fn every_impossible_band_is_found_and_put_right() {
    let mut wrong = Vec::new();
    for case in IMPOSSIBLE {
        let recipe = band_with(case.lines);
        let (ran, findings) = check(&recipe);
        let mut tell = |what: String| wrong.push(format!("{what}\n{recipe}"));
        if ran.status != 2 || findings.len() != 1 {
            tell(format!("status {}, {findings:#?}", ran.status));
            continue;
        }
        let finding = &findings[0];
        let message = finding["message"].as_str().unwrap();
        if finding["code"] != case.code || !message.contains(case.says) {
            tell(format!("{} {message}", finding["code"]));
        }
        let under = &recipe[place(finding)];
        if under != case.at {
            tell(format!("points at `{under}`, not at `{}`", case.at));
        }
        match (mended(&recipe, finding), case.offers) {
            (None, false) => {}
            (None, true) => tell(format!("offers nothing: {}", finding["help"])),
            (Some(mended), offers) => {
                let (again, findings) = check(&mended);
                if again.status > 1 {
                    tell(format!(
                        "{} does not pass: {findings:#?}\n{mended}",
                        finding["help"]
                    ));
                }
                if !offers {
                    tell(format!("offers {}", finding["help"]));
                }
            }
        }
        // What cannot be made has no figures, and says so without any.
        let figures = run(&["eval", "--json", "-"], &recipe);
        let json: Json = serde_json::from_str(&figures.stdout).unwrap();
        if figures.status != 2
            || json["recipes"][0]["results"] != Json::Object(serde_json::Map::new())
        {
            tell(format!("has results {}", json["recipes"][0]["results"]));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A bound on one value, with all others as they are.
struct Bound {
    /// The recipe's lines, the value as `{}`.
    lines: &'static [&'static str],
    /// The bound in mm.
    at: f64,
    /// Whether the bound itself still fits.
    closed: bool,
    /// Whether greater values fit instead of smaller ones.
    least: bool,
}

const fn most(at: f64, lines: &'static [&'static str]) -> Bound {
    Bound {
        lines,
        at,
        closed: true,
        least: false,
    }
}

const fn under(at: f64, lines: &'static [&'static str]) -> Bound {
    Bound {
        closed: false,
        ..most(at, lines)
    }
}

const fn over(at: f64, lines: &'static [&'static str]) -> Bound {
    Bound {
        least: true,
        ..under(at, lines)
    }
}

impl Bound {
    /// The last micrometre that fits and the first that does not.
    fn sides(&self) -> (i64, i64) {
        let micrometres = self.at * 1000.0;
        let (down, up) = (micrometres.floor() as i64, micrometres.ceil() as i64);
        let whole = agree(micrometres, micrometres.round(), 1e-9);
        let exact = micrometres.round() as i64;
        match (whole, self.closed, self.least) {
            (false, _, false) => (down, up),
            (false, _, true) => (up, down),
            (true, true, false) => (exact, exact + 1),
            (true, true, true) => (exact, exact - 1),
            (true, false, false) => (exact - 1, exact),
            (true, false, true) => (exact + 1, exact),
        }
    }

    fn recipe(&self, micrometres: i64) -> String {
        let value = format!("{}.{:03} mm", micrometres / 1000, micrometres % 1000);
        let lines: Vec<String> = self
            .lines
            .iter()
            .map(|line| line.replace("{}", &value))
            .collect();
        band_with(&lines.iter().map(String::as_str).collect::<Vec<_>>())
    }
}

/// Bounds of sections 1 and 2.
fn bounds() -> Vec<Bound> {
    // A dome of rise 0.8 over 5 mm, from 1.2 to 2 mm: its parallel 0.5 mm further in, 1 mm off the middle.
    let radius = (2.5_f64 * 2.5 + 0.8 * 0.8) / 1.6;
    let roof_at = |x: f64| 2.0 - radius + ((radius - 0.5) * (radius - 0.5) - x * x).sqrt();
    // The two ridges stand as far out as the roof is as high as they are; where is it 0.9 high over the sleeve?
    let out =
        ((radius - 0.5) * (radius - 0.5) - (1.3 - 2.0 + radius) * (1.3 - 2.0 + radius)).sqrt();
    // A sharp ridge of two flanks that fall 1.2 on 2.5: the roof under it is lower by the wall along the flank.
    let along = f64::sqrt(1.0 + (1.2 / 2.5) * (1.2 / 2.5));
    vec![
        most(1.0, &["comfort {}", "width 2 mm", "thickness 3 mm"]),
        under(0.4, &["comfort {}", "thickness 0.4 mm"]),
        most(1.7, &["profile domed { edge {} }", "comfort 0.3 mm"]),
        Bound {
            least: true,
            ..most(
                0.7,
                &["profile domed { edge {} }", "width 2 mm", "comfort 0.3 mm"],
            )
        },
        most(2.5, &["profile bevelled { across {}, down 1 mm }"]),
        under(
            1.7,
            &[
                "profile bevelled { across 1 mm, down {} }",
                "comfort 0.3 mm",
            ],
        ),
        most(1.7, &["profile knife-edge { edge {} }", "comfort 0.3 mm"]),
        under(
            (6.25 + 0.64) / 1.6,
            &["profile knife-edge { edge 1.2 mm, crown {} }"],
        ),
        most(
            1.0,
            &["profile concave { dip {} }", "width 2 mm", "thickness 3 mm"],
        ),
        under(2.0, &["profile concave { dip {} }"]),
        most(
            0.25,
            &["pattern { depth 0.25 mm, mean-depth {}, cover 50 % }"],
        ),
        under(2.0, &["pattern { depth {}, cover 50 % }"]),
        under(
            1.5,
            &[
                "pattern { depth {}, cover 50 % }",
                "profile bevelled { across 1 mm, down 0.5 mm }",
            ],
        ),
        under(0.3, &["ease { outer {}, bore 0.2 mm }", "thickness 0.5 mm"]),
        under(0.5, &["ease { outer {} }", "width 1 mm"]),
        // Chamfers over a comfort bore: what the bore opens by, neither of them has.
        under(1.0, &["ease { outer {}, bore 0.5 mm }", "comfort 0.5 mm"]),
        under(0.9, &["ease { outer 0.6 mm, bore {} }", "comfort 0.5 mm"]),
        under(
            0.35,
            &[
                "profile domed { edge 0.6 mm }",
                "comfort 0.5 mm",
                "ease { outer {}, bore 0.25 mm }",
            ],
        ),
        under(0.5, &["ease { bore {} }", "width 1 mm", "comfort 0.2 mm"]),
        under(
            0.4,
            &[
                "comfort 0.5 mm",
                "ease { bore {} }",
                "hollow { shell 0.4 mm, sleeve 0.9 mm }",
            ],
        ),
        under(
            1.1,
            &[
                "comfort 0.5 mm",
                "ease { outer {} }",
                "hollow { shell full, sleeve 0.9 mm }",
            ],
        ),
        // The cavity's corner is 0.4 from either face: a chamfer through it has legs of 0.8.
        under(
            0.8,
            &[
                "ease { outer {} }",
                "hollow { shell 0.4 mm, sleeve 0.4 mm }",
            ],
        ),
        under(
            0.4,
            &["ease { bore {} }", "hollow { shell 0.4 mm, sleeve 0.4 mm }"],
        ),
        over(
            0.3,
            &["comfort 0.3 mm", "hollow { shell 0.5 mm, sleeve {} }"],
        ),
        under(2.0, &["hollow { shell full, sleeve {} }"]),
        under(
            1.2,
            &[
                "profile domed { edge 0.9 mm }",
                "comfort 0.3 mm",
                "hollow { shell full, sleeve {} }",
            ],
        ),
        under(
            0.96,
            &[
                "profile domed { edge 1 mm }",
                "hollow { shell 0.3 mm, sleeve {}, stage turning { play 0.08 mm } }",
            ],
        ),
        under(
            0.4,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm { relief {} } }"],
        ),
        under(
            0.3,
            &[
                "comfort 0.1 mm",
                "hollow { shell 0.5 mm, sleeve 0.4 mm, lip {} { wide 0.2 mm } }",
            ],
        ),
        under(
            0.475,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm, lip 0.1 mm { wide {} } }"],
        ),
        under(
            0.49,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm, lip 0.1 mm { wide {}, play 0.02 mm } }"],
        ),
        under(
            2.475,
            &["hollow { shell full, sleeve 0.4 mm, lip 0.1 mm { wide {} } }"],
        ),
        under(0.6, &["width 1.2 mm", "hollow { shell {}, sleeve 0.4 mm }"]),
        under(1.6, &["hollow { shell {}, sleeve 0.4 mm }"]),
        under(
            1.55,
            &["hollow { shell {}, sleeve 0.4 mm, stage turning { play 0.1 mm } }"],
        ),
        under(
            1.1,
            &[
                "width 8 mm",
                "profile concave { dip {} }",
                "hollow { shell 0.5 mm, sleeve 0.4 mm }",
            ],
        ),
        under(
            1.0,
            &[
                "width 3 mm",
                "thickness 4 mm",
                "hollow { shell 0.5 mm { nose {} }, sleeve 0.4 mm }",
            ],
        ),
        most(
            1.1,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge {} { wide 0.3 mm } }"],
        ),
        most(
            4.0,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.1 mm { wide {}, count 1 } }"],
        ),
        most(
            1.95,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.1 mm { wide {} } }"],
        ),
        most(
            1.0,
            &["hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.1 mm { wide 1 mm, play {} } }"],
        ),
        most(
            roof_at(1.0) - 0.4,
            &[
                "profile domed { edge 1.2 mm }",
                "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge {} { wide 2 mm, count 1 } }",
            ],
        ),
        most(
            out - 0.05,
            &[
                "profile domed { edge 1.2 mm }",
                "hollow { shell 0.5 mm, sleeve 0.4 mm, ridge 0.9 mm { wide {} } }",
            ],
        ),
        under(
            1.6 / along,
            &[
                "profile knife-edge { edge 0.8 mm }",
                "hollow { shell {}, sleeve 0.4 mm }",
            ],
        ),
        under(
            0.5,
            &[
                "pattern { depth {}, cover 50 % }",
                "hollow { shell 0.5 mm, sleeve 0.4 mm }",
            ],
        ),
        under(
            0.3,
            &[
                "pattern { depth {}, cover 50 % }",
                "profile domed { edge 0.7 mm }",
                "hollow { shell 0.5 mm, sleeve 0.4 mm }",
            ],
        ),
        under(
            1.6,
            &[
                "pattern { depth {}, cover 50 % }",
                "hollow { shell full, sleeve 0.4 mm }",
            ],
        ),
    ]
}

#[test]
fn a_micrometre_beyond_the_bound_is_too_much() {
    let mut wrong = Vec::new();
    for bound in bounds() {
        let (fits, breaks) = bound.sides();
        let (sound, broken) = (bound.recipe(fits), bound.recipe(breaks));
        let (ran, findings) = check(&sound);
        if ran.status > 1 {
            wrong.push(format!("does not fit: {findings:#?}\n{sound}"));
        }
        let (ran, findings) = check(&broken);
        if ran.status != 2 {
            wrong.push(format!("fits: {findings:#?}\n{broken}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A band one of whose walls is thinner than it may be, or just as thin: the value that is moved, as `{}`, where the
/// limit is, whether greater values keep it, and which wall it is.
struct Limit {
    bound: Bound,
    says: &'static str,
    /// Whether a value is offered.
    offers: bool,
}

const fn limit(says: &'static str, bound: Bound) -> Limit {
    Limit {
        bound,
        says,
        offers: true,
    }
}

const fn at_least(at: f64, lines: &'static [&'static str]) -> Bound {
    Bound {
        least: true,
        ..most(at, lines)
    }
}

/// Walls against the least wall of 0.20 mm, or that which the recipe states.
const LIMITS: &[Limit] = &[
    limit("band", most(1.8, &["pattern { depth {}, cover 50 % }"])),
    limit("band", at_least(0.2, &["thickness {}"])),
    limit(
        "band",
        at_least(0.35, &["thickness {}", "limit { wall 0.35 mm }"]),
    ),
    limit("band", at_least(0.2, &["profile domed { edge {} }"])),
    limit(
        "sleeve at its edge",
        at_least(
            0.5,
            &[
                "comfort 0.3 mm",
                "hollow { lock stake { count 3 }, shell 0.5 mm, sleeve {} }",
            ],
        ),
    ),
    limit(
        "shell at its side face",
        most(
            0.5,
            &[
                "profile domed { edge 0.7 mm }",
                "hollow { lock stake { count 3 }, shell 0.3 mm, sleeve {} }",
            ],
        ),
    ),
    limit(
        "shell at its side face",
        most(
            0.75,
            &[
                "profile domed { edge 1 mm }",
                "hollow { shell 0.3 mm, sleeve {}, stage turning { play 0.1 mm }, ridge 0.1 mm { wide 0.3 mm, count 1 } }, limit { float 20 mm }",
            ],
        ),
    ),
    limit(
        "shell at its side face",
        most(
            1.8,
            &["hollow { lock stake { count 3 }, shell full, sleeve {} }"],
        ),
    ),
    limit(
        "roof and side walls of the shell",
        at_least(
            0.2,
            &["hollow { lock stake { count 3 }, shell {}, sleeve 0.4 mm }"],
        ),
    ),
    limit(
        "roof and side walls of the shell",
        at_least(
            0.3,
            &[
                "hollow { lock stake { count 3 }, shell {}, sleeve 0.4 mm }",
                "limit { wall 0.3 mm }",
            ],
        ),
    ),
    limit(
        "shell under the cut",
        most(
            0.3,
            &[
                "pattern { depth {}, cover 50 % }",
                "hollow { lock stake { count 3 }, shell 0.5 mm, sleeve 0.4 mm }",
            ],
        ),
    ),
    limit(
        "shell under the cut",
        at_least(
            0.45,
            &[
                "pattern { depth 0.25 mm, cover 50 % }",
                "hollow { lock stake { count 3 }, shell {}, sleeve 0.4 mm }",
            ],
        ),
    ),
    limit(
        "shell under the cut",
        most(
            1.2,
            &[
                "pattern { depth {}, cover 50 % }",
                "profile concave { dip 0.2 mm }",
                "hollow { lock stake { count 3 }, shell full, sleeve 0.4 mm }",
            ],
        ),
    ),
    limit(
        "sleeve where it is turned down",
        at_least(
            0.2,
            &["hollow { lock stake { count 3 }, shell 0.5 mm, sleeve 0.4 mm { relief {} } }"],
        ),
    ),
];

#[test]
fn a_wall_that_falls_short_is_told_and_everything_is_computed() {
    let mut wrong = Vec::new();
    for limit in LIMITS {
        let (keeps, short) = limit.bound.sides();
        let (sound, thin) = (limit.bound.recipe(keeps), limit.bound.recipe(short));
        let mut tell = |what: String| wrong.push(format!("{what}\n{thin}"));
        let (ran, findings) = check(&sound);
        if ran.status != 0 || !findings.is_empty() {
            tell(format!("falls short already: {findings:#?}"));
        }
        let ran = run(&["eval", "--json", "-"], &thin);
        let json: Json = serde_json::from_str(&ran.stdout).unwrap();
        if ran.status != 1 {
            tell(format!("status {}", ran.status));
            continue;
        }
        for finding in json["findings"].as_array().unwrap() {
            if finding["code"] != "evaluate::thin_wall" || finding["severity"] != "warning" {
                tell(format!("{finding:#}"));
            }
        }
        let left = format!("is left of the {};", limit.says);
        let said = |finding: &&Json| finding["message"].as_str().unwrap().contains(&left);
        let Some(finding) = json["findings"].as_array().unwrap().iter().find(said) else {
            tell(format!(
                "no word of the {}: {:#}",
                limit.says, json["findings"]
            ));
            continue;
        };
        match mended(&thin, finding) {
            Some(mended) => {
                let (ran, findings) = check(&mended);
                if ran.status != 0 {
                    tell(format!(
                        "{} does not keep it: {findings:#?}\n{mended}",
                        finding["help"]
                    ));
                }
            }
            None if limit.offers => tell(format!("offers nothing: {}", finding["help"])),
            None => {}
        }
        // Sound all the same: every figure is there.
        let figure =
            |path: &str| json["recipes"][0]["results"][format!("b.{path}")]["value"].as_f64();
        for path in ["weight", "volume", "wall.least"] {
            if figure(path).is_none_or(|value| value <= 0.0) {
                tell(format!("no {path}"));
            }
        }
        if thin.contains("hollow") && figure("saving").is_none() {
            tell("no saving".to_owned());
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A band with one length far from where it was.
fn spoilt() -> impl Strategy<Value = Drawn> {
    (drawn(), 0..9_usize, 1..400_u32).prop_map(|(mut drawn, which, length)| {
        match (which, &mut drawn.catch) {
            (0, _) => drawn.shell = length,
            (1, _) => drawn.nose = length,
            (2, _) => drawn.sleeve = length,
            (3, _) => drawn.relief = Some(length),
            (4, _) => drawn.ease.0 = length,
            (5, _) => drawn.ease.1 = length,
            (6, _) => drawn.comfort = length,
            (7, Caught::Ridge { height, .. } | Caught::Lip { height, .. }) => *height = length,
            (_, Caught::Ridge { wide, .. } | Caught::Lip { wide, .. }) => *wide = length,
            _ => {}
        }
        drawn
    })
}

proptest! {
    #![proptest_config(chance(500))]

    #[test]
    fn whatever_is_offered_passes(drawn in spoilt()) {
        let recipe = drawn.recipe();
        let mut session = Session::default();
        let outcome = session.run("r.annulet", &recipe, &Request::default());
        // `shell 0.45 mm` would just fit; what would keep a wall is put back in `walls`.
        let impossible = outcome.findings.iter().filter(|one| one.code() == "geometry::does_not_fit");
        for finding in impossible {
            let (help, span) = (finding.help().unwrap_or_default(), finding.span().unwrap());
            let quoted = help.split('`').nth(1).and_then(|quoted| quoted.split_once(' '));
            let Some((_, value)) = quoted else { continue };
            let source = session.sources.holding(span).unwrap();
            let mut mended = recipe.clone();
            mended.replace_range(source.range(span), value);
            let again = Session::default().run("r.annulet", &mended, &Request::default());
            // An impossible band becomes one that can be made; a wall that falls short becomes one that holds.
            // How the parts are opened and held is another matter, judged once the walls are sound.
            let judged = |found: &&annulet::finding::Finding| {
                found.code().starts_with("geometry::") || found.code() == "evaluate::thin_wall"
            };
            let worst = again.findings.iter().filter(judged).map(|found| found.weight()).max();
            let passes = worst < Some(finding.weight());
            prop_assert!(passes, "{finding:?}\n{recipe}{mended}{:?}", again.findings);
        }
    }
}

/// What a shortfall holds as values is what its sentences say: its code, its place, and the figure that would just fit.
#[test]
fn values_and_sentences_say_the_same() {
    let mut fitting = 0;
    for path in files_under("tests/suite/cases/errors", ".annulet") {
        let mut session = Session::default();
        let outcome = session.run(&path, &read(&path), &Request::default());
        for band in &outcome.recipe.bands {
            let shortfalls = match annulet::evaluate::evaluate(band) {
                Ok(evaluation) => evaluation.shortfalls,
                Err(Barred::Parts(shortfall)) => vec![*shortfall],
                Err(Barred::Shape(_)) => continue,
            };
            // Readings of the scale are told with all that is known of the ring.
            let told_alone = |one: &Shortfall| !matches!(one, Shortfall::Weighed(_));
            for shortfall in shortfalls.into_iter().filter(told_alone) {
                let finding = annulet::words::finding(band, &shortfall).unwrap();
                assert_eq!(finding.code(), shortfall.code(), "{path}");
                // Money is told where the stock, the price or the operation stands, a drawn cut where it is written.
                let of_money = matches!(shortfall, Shortfall::Money(_));
                let place = match &shortfall {
                    Shortfall::Metal(kernel::KernelShortfall::Cut(told)) => band.cuts[told.cut].at,
                    other => band.place(other.field()),
                };
                if !of_money {
                    assert_eq!(finding.span(), Some(place), "{path}");
                }
                let said = |value: f64| (value * 1e6).round() / 1e6;
                if let Some((field, value)) = shortfall.fits().filter(|_| !of_money) {
                    let line = format!("`{} {} mm`", field.word(), said(value.to_f64()));
                    let help = finding.help().unwrap();
                    assert!(help.contains(&line), "{path}: {help} has no {line}");
                    fitting += 1;
                }
            }
        }
    }
    assert!(fitting >= 8, "{fitting}");
}
