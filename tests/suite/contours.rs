//! Curves for the lathe: arcs, edges and contour points.
//!
//! Finished radii are held against an independent solid modeller (`tests/modeller/contours.py`) and closed forms.
//! Arcs as machined are held against figures of a solver written from the model page alone (quadrature and fixed
//! points in Python, the least greatest departure sought over sampled points; they are written beside the check).

use annulet::evaluate::Evaluation;
use annulet::explore::{ContourOf, contours};
use annulet::kernel::lathe::{Contour, LatheState, Part, SurfaceId, bored_straight};
use annulet::kernel::section::Outside;
use annulet::session::{Request, Session};

use crate::support::{lone_examples, read, run};

const METALS: &str = "alloy outer { silver 1000, temper annealed { yield 520 MPa, modulus 90000 MPa, elongation 6 % } }
alloy inner { silver 1000, temper annealed { yield 300 MPa, modulus 90000 MPa, hardening 1100 MPa, elongation 40 % } }
";

/// A hollow domed band, or with another profile and other lines.
pub fn hollow(profile: &str, more: &str, shell: &str) -> String {
    format!(
        "{METALS}band b {{
  size 18 mm
  width 6 mm
  thickness 2 mm
  profile {profile}
  alloy inner
  {more}
  hollow {{
    shell 0.5 mm {{ alloy outer{shell} }}
    sleeve 0.45 mm {{ alloy inner }}
    ridge 0.14 mm {{ wide 0.4 mm, count 2, play 0.06 mm }}
    stage fixed {{ past 0.09 mm }}
  }}
}}"
    )
}

pub fn solid(more: &str) -> String {
    format!(
        "{METALS}band b {{
  size 18 mm
  width 6 mm
  thickness 2 mm
  profile domed {{ edge 1.2 mm }}
  comfort 0.2 mm
  alloy inner
  {more}
}}"
    )
}

pub fn evaluated(recipe: &str) -> Evaluation {
    let outcome = Session::default().run("r", recipe, &Request::default());
    assert!(
        !outcome.evaluations.is_empty(),
        "{recipe}\n{:?}",
        outcome.findings
    );
    outcome.evaluations.into_iter().next().unwrap()
}

fn result(evaluation: &Evaluation, path: &str) -> Option<f64> {
    let entry = annulet::schema::find_result(path).unwrap();
    evaluation.number(entry.id).map(|number| number.to_f64())
}

fn near(recipe: &str, wanted: &[(&str, f64, f64)]) {
    let evaluation = evaluated(recipe);
    for (path, value, within) in wanted {
        let found = result(&evaluation, path).unwrap();
        assert!(
            (found - value).abs() <= *within,
            "{path}: {found} for {value}"
        );
    }
}

// A radius is not sharp where the departure is least: some micrometres of it move the arc by some nanometres.
#[test]
fn arcs_are_those_of_a_solver_written_from_the_model_page() {
    near(
        &hollow("domed { edge 1.4 mm }", "", ""),
        &[
            // (3^2 + 0.6^2) / 1.2, and the wall less.
            ("curve.dome.radius", 7.8, 1e-9),
            ("curve.dome.centre", 3.2, 1e-9),
            ("curve.roof.radius", 7.3, 1e-9),
            ("curve.roof.centre", 3.2, 1e-9),
            ("machined.curve.dome.radius", 7.802_511_5, 2e-6),
            ("machined.curve.dome.departure", 1.8e-6, 1e-7),
            ("machined.curve.roof.radius", 7.302_132_3, 2e-6),
            // 3.2 + sqrt(7.3^2 - 2.5^2), twice.
            ("channel.at-walls", 20.117_142_559_586_5, 1e-9),
            ("machined.shell.channel-at-walls", 20.105_419_768_6, 1e-6),
        ],
    );
    near(
        &hollow("domed { edge 1.4 mm }", "comfort 0.2 mm", ""),
        &[
            ("curve.comfort.radius", 22.6, 1e-9),
            ("curve.comfort.centre", 31.6, 1e-9),
            ("machined.curve.comfort.radius", 22.800_776_9, 3e-5),
            ("machined.curve.comfort.departure", 8.05e-6, 1e-7),
            ("machined.shell.channel-at-walls", 20.411_330_447_6, 1e-6),
        ],
    );
    near(
        &hollow("concave { dip 0.3 mm }", "", ""),
        &[
            ("curve.dome.radius", 15.15, 1e-9),
            ("curve.dome.centre", 25.85, 1e-9),
            ("curve.roof.radius", 15.65, 1e-9),
            ("machined.curve.dome.radius", 15.154_794_2, 1e-6),
            ("machined.shell.channel-at-walls", 20.791_040_845_98, 1e-6),
        ],
    );
    near(
        &solid("start 17.2 mm"),
        &[
            ("machined.curve.dome.radius", 7.982_514_6, 2e-4),
            ("machined.curve.dome.departure", 1.29e-4, 6e-6),
            ("machined.curve.comfort.radius", 22.908_783_9, 6e-5),
            ("edge.outside", 20.8, 1e-9),
            ("edge.bore", 18.4, 1e-9),
            ("edge.thickness", 1.2, 1e-9),
        ],
    );
    near(
        &solid("start 17.2 mm, kinematics held"),
        &[
            ("machined.curve.dome.radius", 7.575_176_7, 1e-4),
            ("machined.curve.comfort.radius", 21.626_727_7, 1e-4),
        ],
    );
}

#[test]
fn what_is_straight_has_no_arc() {
    let evaluation = evaluated(&hollow("flat", "", ""));
    for path in [
        "curve.dome.radius",
        "machined.curve.dome.radius",
        "curve.roof.radius",
        "curve.comfort.radius",
    ] {
        assert_eq!(result(&evaluation, path), None, "{path}");
    }
    let evaluation = evaluated(&hollow("domed { edge 1.4 mm }", "", ", roof straight"));
    assert_eq!(result(&evaluation, "curve.roof.radius"), None);
    assert_eq!(
        result(&evaluation, "channel.at-walls"),
        result(&evaluation, "channel.at-mid")
    );
}

pub fn of(state: LatheState, nose: Option<f64>, step: f64) -> ContourOf {
    ContourOf {
        part: None,
        state,
        step,
        nose,
    }
}

/// Diameters of a path at a place: one, or two at a step.
pub fn at(path: &Contour, x: f64) -> Vec<f64> {
    let there = path.rows.iter().filter(|row| (row.x - x).abs() < 1e-9);
    there.map(|row| row.diameter).collect()
}

pub fn surface(paths: &[Contour], id: SurfaceId) -> &Contour {
    let mut own = paths.iter().filter(|path| path.surface == id);
    own.find(|path| path.nose.is_none()).unwrap()
}

#[test]
fn contour_points_lie_on_the_sections_of_a_solid_modeller() {
    let record: toml::Table = read("tests/modeller/contours.toml").parse().unwrap();
    let cases: toml::Table = read("tests/modeller/cases.toml").parse().unwrap();
    let mut compared = 0;
    for case in cases["case"].as_array().unwrap() {
        let name = case["name"].as_str().unwrap();
        let evaluation = evaluated(case["recipe"].as_str().unwrap());
        let found = contours(&evaluation, of(LatheState::Finished, None, 0.25));
        for part in record[name].as_array().unwrap() {
            let (wanted, inner) = match part["part"].as_str().unwrap() {
                "band" => (Part::Band, SurfaceId::Bore),
                "shell" => (Part::Shell, SurfaceId::Channel),
                _ => (Part::Sleeve, SurfaceId::Bore),
            };
            let (_, paths) = found
                .parts
                .iter()
                .find(|(part, _)| *part == wanted)
                .unwrap();
            for row in part["at"].as_array().unwrap() {
                let numbers: Vec<f64> = row
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|one| {
                        one.as_float()
                            .or(one.as_integer().map(|one| one as f64))
                            .unwrap()
                    })
                    .collect();
                let (x, radii) = (numbers[0], &numbers[1..]);
                for (id, radius) in [
                    (inner, radii[0]),
                    (SurfaceId::Outside, *radii.last().unwrap()),
                ] {
                    let there = at(surface(paths, id), x);
                    assert_eq!(there.len(), 1, "{name} {id:?} at {x}: {there:?}");
                    let off = (there[0] / 2.0 - radius).abs();
                    assert!(
                        off < 1e-6,
                        "{name} {id:?} at {x}: {} for {radius}",
                        there[0] / 2.0
                    );
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 5000);
}

/// Every example, and bands with metal left for finishing.
fn recipes() -> Vec<String> {
    let mut recipes: Vec<String> = lone_examples().iter().map(|file| read(file)).collect();
    let finish = "finish { bore 0.05 mm, outside 0.03 mm, faces 0.04 mm }";
    recipes.push(hollow("domed { edge 1.4 mm }", finish, ""));
    recipes.push(solid(&format!("start 17.2 mm, {finish}")));
    recipes
}

#[test]
fn a_contour_ends_and_peaks_where_the_bench_figures_say() {
    for recipe in recipes() {
        let outcome = Session::default().run("r", &recipe, &Request::default());
        for evaluation in outcome.evaluations {
            for (part, paths) in contours(&evaluation, of(LatheState::Machined, None, 0.05)).parts {
                let inner = if part == Part::Shell {
                    SurfaceId::Channel
                } else {
                    SurfaceId::Bore
                };
                let (outside, inner) =
                    (surface(&paths, SurfaceId::Outside), surface(&paths, inner));
                let largest = outside
                    .rows
                    .iter()
                    .map(|row| row.diameter)
                    .fold(0.0, f64::max);
                let smallest = inner
                    .rows
                    .iter()
                    .map(|row| row.diameter)
                    .fold(f64::INFINITY, f64::min);
                let wide = outside.rows.last().unwrap().x - outside.rows[0].x;
                let deepest = inner
                    .rows
                    .iter()
                    .map(|row| row.diameter)
                    .fold(0.0, f64::max);
                let mut wanted = match part {
                    Part::Band => vec![
                        ("machined.outside", largest),
                        ("machined.bore", smallest),
                        ("machined.width", wide),
                    ],
                    Part::Shell => vec![
                        ("machined.shell.outside", largest),
                        ("machined.shell.width", wide),
                    ],
                    Part::Sleeve => vec![
                        ("machined.sleeve.bore", smallest),
                        ("machined.sleeve.width", wide),
                    ],
                };
                if part == Part::Shell {
                    let foot = match result(&evaluation, "machined.shell.lip-bore") {
                        Some(_) => "machined.shell.lip-bore",
                        None => "machined.shell.bore",
                    };
                    wanted.push((foot, smallest));
                    if let Some(channel) = result(&evaluation, "machined.shell.channel") {
                        assert!(deepest >= channel - 1e-9);
                    }
                }
                if part == Part::Sleeve {
                    let top = match result(&evaluation, "machined.sleeve.ridge-top") {
                        Some(_) => "machined.sleeve.ridge-top",
                        None => "machined.sleeve.floor",
                    };
                    wanted.push((top, largest));
                }
                for (path, found) in wanted {
                    // Broken edges take the highest places of a dip.
                    let shape = &evaluation.input.shape;
                    let dips = matches!(shape.outside, Outside::Concave { .. });
                    if dips && shape.ease_outer > 0.0 && path.ends_with("outside") {
                        continue;
                    }
                    let is = result(&evaluation, path).unwrap();
                    assert!(
                        (found - is).abs() < 1e-8,
                        "{} {path}: {found} for {is}",
                        evaluation.band.name
                    );
                }
            }
        }
    }
}

#[test]
fn the_way_between_points_is_as_close_as_it_says() {
    let evaluation = evaluated(&hollow("domed { edge 1.4 mm }", "", ""));
    let coarse = contours(&evaluation, of(LatheState::Machined, None, 0.5));
    let fine = contours(&evaluation, of(LatheState::Machined, None, 0.005));
    for ((_, coarse), (_, fine)) in coarse.parts.iter().zip(&fine.parts) {
        for (coarse, fine) in coarse.iter().zip(fine) {
            assert!(coarse.chord <= 0.001);
            let mut most: f64 = 0.0;
            for row in &fine.rows {
                let between = coarse
                    .rows
                    .windows(2)
                    .filter(|two| two[0].x <= row.x && row.x <= two[1].x && two[1].x > two[0].x);
                let off = between.map(|two| {
                    let share = (row.x - two[0].x) / (two[1].x - two[0].x);
                    let chord = two[0].diameter + share * (two[1].diameter - two[0].diameter);
                    (chord - row.diameter).abs() / 2.0
                });
                most = most.max(off.fold(f64::INFINITY, f64::min));
            }
            // Heights over a slope are a little larger than distances.
            assert!(
                most <= coarse.chord * 1.12 + 1e-7,
                "{most} for {}",
                coarse.chord
            );
            assert!(
                most >= coarse.chord * 0.8 - 1e-7,
                "{most} for {}",
                coarse.chord
            );
        }
    }
}

#[test]
fn a_channel_bored_straight_is_warned_of_with_what_it_leaves() {
    // Above the roof's height at mid width, 2 r = 21, the dome of radius 7.8 about 3.2 is nearest at the walls, x 2.5.
    let recipe = hollow("domed { edge 1.4 mm }", "", "");
    let evaluation = evaluated(&recipe);
    let straight = bored_straight(&evaluation.input, evaluation.stretch()).unwrap();
    let left = 7.8 - (2.5_f64.powi(2) + (10.5 - 3.2_f64).powi(2)).sqrt();
    assert!(
        (straight.wall - left).abs() < 1e-9,
        "{} for {left}",
        straight.wall
    );
    // A quarter of the wall, or less.
    assert!(straight.wall < 0.5 / 4.0 && straight.at_mid);
    let report = run(&["eval", "--full", "-"], &recipe).stdout;
    let report = report.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        report.contains("bored straight to the \u{D8} \u{2248} 20.989 mm of mid width, only"),
        "{report}"
    );
    for level in [
        hollow("flat", "", ""),
        hollow("domed { edge 1.4 mm }", "", ", roof straight"),
    ] {
        let evaluation = evaluated(&level);
        assert_eq!(
            bored_straight(&evaluation.input, evaluation.stretch()),
            None
        );
    }
}

#[test]
fn the_bench_prints_the_points_of_the_command_line() {
    let file = "examples/ferrule.annulet";
    for (line, options) in [
        ("contour ferrule", vec![]),
        (
            "contour ferrule shell step 0.5 mm nose 0.2 mm",
            vec!["--part", "shell", "--step", "0.5 mm", "--nose", "0.2 mm"],
        ),
        (
            "contour finished sleeve step 1 mm",
            vec!["--part", "sleeve", "--state", "finished", "--step", "1 mm"],
        ),
        (
            "contour csv step 0.5 mm * 2 shell",
            vec!["--part", "shell", "--step", "1 mm", "--csv"],
        ),
    ] {
        let mut call = vec!["contour", "ferrule", "--in", file];
        call.extend(options);
        let wanted = run(&call, "");
        assert_eq!(wanted.status, 0, "{}", wanted.stderr);
        let found = run(&["bench", file], &format!("{line}\n"));
        assert_eq!(found.stdout, wanted.stdout, "{line}");
    }
    for (line, said) in [
        ("contour nobody", "there is no band `nobody`"),
        ("contour ferrule step", "step of what?"),
        ("contour ferrule step 5", "`step 5` is no length"),
        ("contour ferrule nose 20 mm", "a nose radius lies above 0"),
        (
            "contour ferrule band",
            "is turned in two parts: `shell` or `sleeve`",
        ),
        ("contour ferrule-solid sleeve", "is a solid band"),
        ("contour ferrule ferrule-solid", "behind the band stand"),
    ] {
        let found = run(&["bench", file], &format!("{line}\n"));
        assert!(
            found.status == 2 && found.stderr.contains(said),
            "{line}: {}",
            found.stderr
        );
    }
    // A channel of corners that nothing cuts is told once a listing; one with a nose is not.
    let sharp = "no tool cuts";
    assert_eq!(
        run(&["contour", "ferrule", "--in", file], "")
            .stdout
            .matches(sharp)
            .count(),
        1
    );
    let nosed = run(
        &["contour", "ferrule", "--nose", "0.2 mm", "--in", file],
        "",
    )
    .stdout;
    assert!(!nosed.contains(sharp));
    let report = run(&["eval", "--full", file], "").stdout;
    assert_eq!(report.matches(sharp).count(), 1, "{report}");
}
