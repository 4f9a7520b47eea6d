//! The way of a tool's nose along a contour, and the command that prints contours.
//!
//! How a nose fits is tried by distances to points of the surface, with no parallel curve.

use annulet::kernel::lathe::{Contour, LatheState, Part, SurfaceId};
use serde_json::Value;

use crate::contours::{at, evaluated, hollow, of, solid, surface};
use crate::support::run;

use annulet::explore::contours;

/// The least distance of a nose's centre from a surface given by points close together, steps filled in.
fn distance(surface: &Contour, x: f64, radius: f64) -> f64 {
    let distance = |two: &[annulet::kernel::lathe::ContourPoint]| {
        let (ax, ay) = (two[0].x, two[0].diameter / 2.0);
        let (dx, dy) = (two[1].x - ax, two[1].diameter / 2.0 - ay);
        let along = ((x - ax) * dx + (radius - ay) * dy) / (dx * dx + dy * dy);
        let along = along.clamp(0.0, 1.0);
        let (px, py) = (ax + along * dx - x, ay + along * dy - radius);
        (px * px + py * py).sqrt()
    };
    surface
        .rows
        .windows(2)
        .map(distance)
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn a_nose_touches_its_surface_and_cuts_nowhere_into_it() {
    for (recipe, nose) in [
        (
            hollow(
                "domed { edge 1.4 mm }",
                "ease { outer 0.1 mm, bore 0.1 mm }",
                "",
            ),
            0.2,
        ),
        (
            hollow("bevelled { across 1 mm, down 0.4 mm }", "", ""),
            0.15,
        ),
        (
            hollow("knife-edge { edge 1.4 mm }", "comfort 0.2 mm", ""),
            0.2,
        ),
        (solid("start 17.2 mm"), 0.4),
    ] {
        let evaluation = evaluated(&recipe);
        for state in [LatheState::Machined, LatheState::Finished] {
            let fine = contours(&evaluation, of(state, None, 0.002));
            let found = contours(&evaluation, of(state, Some(nose), 0.05));
            for ((_, fine), (_, found)) in fine.parts.iter().zip(&found.parts) {
                for way in found.iter().filter(|path| path.nose.is_some()) {
                    let surface = surface(fine, way.surface);
                    let side = if way.surface == SurfaceId::Outside {
                        1.0
                    } else {
                        -1.0
                    };
                    for row in &way.rows {
                        let off = distance(surface, row.x, row.diameter / 2.0);
                        assert!(
                            (off - nose).abs() < 2e-4,
                            "{:?} {state:?} at {}: {off}",
                            way.surface,
                            row.x
                        );
                        // On the tool's side.
                        if let Some(there) = at(surface, row.x).first() {
                            let step = at(surface, row.x).len() > 1;
                            assert!(step || side * (row.diameter - there) > 0.0);
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn the_channel_is_cut_with_the_nose_that_the_recipe_states() {
    let evaluation = evaluated(&hollow("domed { edge 1.4 mm }", "", ", nose 0.15 mm"));
    let of_channel = |nose| {
        let found = contours(&evaluation, of(LatheState::Finished, nose, 0.05));
        let shell = found
            .parts
            .into_iter()
            .find(|(part, _)| *part == Part::Shell)
            .unwrap()
            .1;
        shell
            .into_iter()
            .find(|path| path.surface == SurfaceId::Channel && path.nose.is_some())
            .unwrap()
    };
    for nose in [None, Some(0.4)] {
        let way = of_channel(nose);
        assert_eq!(way.nose, Some(0.15));
        assert!(way.leaves < 1e-4, "{}", way.leaves);
    }
    // Without it the sharp corner keeps metal: nearly the whole nose at the wall.
    let evaluation = evaluated(&hollow("flat", "", ""));
    let found = contours(&evaluation, of(LatheState::Finished, Some(0.2), 0.05));
    let shell = &found.parts[0].1;
    let way = shell
        .iter()
        .find(|path| path.surface == SurfaceId::Channel && path.nose.is_some())
        .unwrap();
    assert!(way.leaves > 0.19 && way.leaves <= 0.2, "{}", way.leaves);
}

#[test]
fn text_csv_and_json_say_the_same() {
    let recipe = hollow("domed { edge 1.4 mm }", "", "");
    let call = |more: &[&str]| {
        let mut arguments = vec![
            "contour", "--in", "-", "--step", "0.5 mm", "--nose", "0.2 mm",
        ];
        arguments.extend(more);
        run(&arguments, &recipe)
    };
    let json: Value = serde_json::from_str(&call(&["--json"]).stdout).unwrap();
    let paths = json["recipes"][0]["contours"][0]["paths"]
        .as_array()
        .unwrap();
    assert_eq!(paths.len(), 8);
    let points: Vec<(f64, f64)> = paths
        .iter()
        .flat_map(|path| path["points"].as_array().unwrap())
        .map(|point| (point[0].as_f64().unwrap(), point[1].as_f64().unwrap()))
        .collect();
    let csv = call(&["--csv"]).stdout;
    let rows: Vec<(f64, f64)> = csv
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            assert_eq!(cells.len(), csv.lines().next().unwrap().split(',').count());
            (cells[8].parse().unwrap(), cells[9].parse().unwrap())
        })
        .collect();
    assert_eq!(points.len(), rows.len());
    for (one, other) in points.iter().zip(&rows) {
        assert!((one.0 - other.0).abs() < 1e-12 && (one.1 - other.1).abs() < 1e-12);
    }
    let text = call(&["--digits", "all"]).stdout;
    for (x, diameter) in rows {
        assert!(text.contains(&format!("{x}")) && text.contains(&format!("{diameter}")));
    }
    let shell = call(&["--json", "--part", "shell", "--state", "finished"]).stdout;
    let shell: Value = serde_json::from_str(&shell).unwrap();
    let shell = &shell["recipes"][0]["contours"][0];
    assert_eq!(shell["paths"].as_array().unwrap().len(), 4);
    assert_eq!(shell["state"], "finished");
}

#[test]
fn what_cannot_be_asked_is_refused() {
    let recipe = hollow("domed { edge 1.4 mm }", "", "");
    for (more, word) in [
        (vec!["--part", "band"], "two parts"),
        (vec!["--step", "0.0001 mm"], "a step is"),
        (vec!["--step", "7 mm"], "a step is"),
        (vec!["--step", "3 g"], "no length"),
        (vec!["--nose", "0 mm"], "nose radius"),
        (vec!["nobody"], "no band `nobody`"),
    ] {
        let mut arguments = vec!["contour", "--in", "-"];
        arguments.extend(more);
        let ran = run(&arguments, &recipe);
        assert_eq!(ran.status, 2);
        assert!(ran.stderr.contains(word), "{arguments:?}: {}", ran.stderr);
    }
    let ran = run(&["contour", "--in", "-", "--part", "shell"], &solid(""));
    assert!(ran.status == 2 && ran.stderr.contains("of one part"));
}
