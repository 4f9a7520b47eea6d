//! Volumes and lengths of solid bands against closed forms of revolution.
//!
//! Sources: pipe, sphere zone and cylinder of any handbook; Pappus and Guldinus, `V = 2 pi r A` with the
//! handbook's centroids of the half circle (`4 r / 3 pi` from its chord) and of the circular segment;
//! the worked segment of the project's materials reference, section 5a (388.625 mm3), computed there
//! in another language.

use std::f64::consts::PI;

use crate::support::{agree, band_with, number, results};

/// What volumes must agree to (the project's own promise for closed forms).
const CLOSE: f64 = 1e-9;

type Results = serde_json::Map<String, serde_json::Value>;

fn band(lines: &[&str]) -> Results {
    results(&band_with(lines))
}

/// A body between two cylinders.
fn pipe(inner: f64, outer: f64, width: f64) -> f64 {
    PI * width * (outer * outer - inner * inner)
}

/// A circular segment of this chord and height: its area, and how far its centroid is from the chord.
///
/// Handbook: with the circle's radius `p` and half the angle `a`, area `p^2 (a - sin a cos a)`, centroid
/// `2 p sin^3 a / (3 (a - sin a cos a))` from the circle's centre.
fn segment(chord: f64, height: f64) -> (f64, f64) {
    let radius = (chord * chord / 4.0 + height * height) / (2.0 * height);
    let angle = 2.0 * (2.0 * height / chord).atan();
    let bare = angle - angle.sin() * angle.cos();
    let centroid = 2.0 * radius * angle.sin().powi(3) / (3.0 * bare);
    (radius * radius * bare, centroid - radius * angle.cos())
}

#[test]
fn a_flat_band_is_a_pipe() {
    for (bore, width, thickness) in [(16.0, 5.0, 2.0), (17.25, 0.5, 0.05), (22.5, 14.0, 4.0)] {
        let lines = [
            format!("size {bore} mm"),
            format!("width {width} mm"),
            format!("thickness {thickness} mm"),
        ];
        let found = number(&band(&lines.each_ref().map(String::as_str)), "b.volume");
        let wanted = pipe(bore / 2.0, bore / 2.0 + thickness, width);
        assert!(agree(found, wanted, CLOSE), "{bore} {width} {thickness}");
    }
}

#[test]
fn a_comfort_bore_is_a_pipe_and_a_turned_segment() {
    // The metal between the cylinder through the bore's edges and the arc towards the finger.
    for (comfort, width) in [(0.35, 5.0), (1.5, 3.0), (0.02, 9.0)] {
        let lines = [format!("width {width} mm"), format!("comfort {comfort} mm")];
        let (area, centroid) = segment(width, comfort);
        let foot = 8.5 + comfort;
        let wanted = pipe(foot, 10.5, width) + 2.0 * PI * (foot - centroid) * area;
        let found = number(&band(&lines.each_ref().map(String::as_str)), "b.volume");
        assert!(
            agree(found, wanted, CLOSE),
            "{comfort} {width}: {found} {wanted}"
        );
    }
}

#[test]
fn chamfers_of_a_comfort_bore_are_cones_and_a_turned_arc() {
    // 6 mm wide and opening by 1 mm: an arc of radius 5 mm, 0.2 mm high where a chamfer of 1.6 mm leaves it, since
    // 1.4, 4.8 and 5 are a right triangle. The edge is 2.6 mm, so the outer chamfer has less than 1 mm.
    let (leg, bore, outside) = (0.999, 8.5, 12.1);
    let found = band(&[
        "width 6 mm",
        "thickness 3.6 mm",
        "comfort 1 mm",
        "ease { outer 0.999 mm, bore 1.6 mm }",
    ]);
    let cone =
        |from: f64, to: f64, wide: f64| PI * wide * (from * from + from * to + to * to) / 3.0;
    let outer = pipe(0.0, outside, 6.0 - 2.0 * leg) + 2.0 * cone(outside - leg, outside, leg);
    // The integral of (c - sqrt(25 - x^2))^2 from -1.4 to 1.4, c the height of the arc's centre.
    let (half, centre) = (1.4_f64, bore + 5.0);
    let root = half * 4.8 + 25.0 * (half / 5.0).asin();
    let arc =
        2.0 * half * centre * centre - 2.0 * centre * root + 50.0 * half - 2.0 * half.powi(3) / 3.0;
    let inner = PI * arc + 2.0 * cone(bore + 0.2, bore + 2.6, 1.6);
    let volume = number(&found, "b.volume.uncut");
    assert!(agree(volume, outer - inner, CLOSE), "{volume}");
    let area = 6.0 * 3.6 - leg * leg - (2.0 * half * 5.0 - root) - 1.6 * (0.2 + 2.6);
    assert!(agree(number(&found, "b.section.area"), area, CLOSE));
}

#[test]
fn a_half_round_band_is_a_pipe_and_a_turned_half_circle() {
    // A half circle's centroid lies 4 r / 3 pi over its chord.
    for (radius, edge) in [(2.0, 0.5), (1.25, 1.0), (3.0, 0.001)] {
        let lines = [
            "size 17 mm".to_owned(),
            format!("width {} mm", 2.0 * radius),
            format!("thickness {} mm", edge + radius),
            format!("profile domed {{ edge {edge} mm }}"),
        ];
        let found = band(&lines.each_ref().map(String::as_str));
        let foot = 8.5 + edge;
        let half_circle = PI * radius * radius / 2.0;
        let centroid = foot + 4.0 * radius / (3.0 * PI);
        let wanted = pipe(8.5, foot, 2.0 * radius) + 2.0 * PI * centroid * half_circle;
        assert!(
            agree(number(&found, "b.volume"), wanted, CLOSE),
            "{lines:?}"
        );
    }
}

#[test]
fn a_flat_dome_nears_a_pipe() {
    // With a rise of `a`, the pipe to the crown is too much by about a third of `a` on the surface.
    for rise in [1e-3, 1e-6, 1e-9, 1e-12] {
        let edge = format!("profile domed {{ edge {:.12} mm }}", 2.0 - rise);
        let found = number(&band(&[&edge]), "b.volume");
        let missing = pipe(8.5, 10.5, 5.0) - found;
        let wanted = 2.0 * PI * 10.5 * 5.0 * rise / 3.0;
        assert!(
            (missing - wanted).abs() < 2e-3 * wanted + 1e-11,
            "{rise}: {missing} {wanted}"
        );
    }
}

#[test]
fn a_dome_about_the_axis_is_a_zone_of_a_sphere() {
    // Sphere of radius 10 cut 6 mm on either side, where its radius is 8; bored out to 7.5.
    let found = band(&[
        "size 15 mm",
        "width 12 mm",
        "thickness 2.5 mm",
        "profile domed { edge 0.5 mm }",
    ]);
    let zone = PI * (100.0 * 12.0 - 12.0_f64.powi(3) / 12.0);
    let wanted = zone - PI * 7.5 * 7.5 * 12.0;
    assert!(agree(number(&found, "b.volume"), wanted, CLOSE));
}

#[test]
fn the_worked_segment_of_the_reference() {
    // Flat inside, circular arc outside, no thickness at the edge: r 8.65, w 5, t 1.8.
    const VOLUME: f64 = 388.624_840_767_502_75;
    let whole = |edge: f64| {
        let (area, centroid) = segment(5.0, 1.8 - edge);
        let foot = 8.65 + edge;
        pipe(8.65, foot, 5.0) + 2.0 * PI * (foot + centroid) * area
    };
    let (area, centroid) = segment(5.0, 1.8);
    assert!(agree(area, 6.582_496_690_338_272, 1e-12));
    assert!(agree(centroid, 0.746_368_479_339_143_9, 1e-12));
    assert!(agree(whole(0.0), VOLUME, 1e-12));
    // A band keeps some metal at its edge, so it nears the figure as the edge thins.
    for (edge, close) in [("0.000001", 1e-6), ("0.0001", 1e-4)] {
        let profile = format!("profile domed {{ edge {edge} mm }}");
        let found = band(&["size 17.3 mm", "width 5 mm", "thickness 1.8 mm", &profile]);
        let volume = number(&found, "b.volume");
        assert!(agree(volume, whole(edge.parse().unwrap()), CLOSE), "{edge}");
        assert!(agree(volume, VOLUME, close), "{edge}: {volume}");
    }
}

#[test]
fn the_worked_rectangle_of_the_reference() {
    let found = band(&["size 17.3 mm", "width 5 mm", "thickness 1.8 mm"]);
    assert!((number(&found, "b.volume") - 540.040).abs() < 5e-4);
}

#[test]
fn lengths_follow_from_the_fields() {
    let found = band(&[
        "size ISO 54",
        "thickness 1.5 mm",
        "pattern { repeats 18, depth 0.3 mm, cover 50 % }",
    ]);
    let bore = 54.0 / PI;
    for (path, wanted) in [
        ("b.bore", bore),
        ("b.outside", bore + 3.0),
        ("b.size.circumference", 54.0),
        ("b.strip.length", PI * (bore + 3.0)),
        ("b.strip.height", 5.0),
        ("b.strip.pitch", PI * (bore + 3.0) / 18.0),
        ("b.wall.least", 1.2),
    ] {
        assert!(agree(number(&found, path), wanted, 1e-12), "{path}");
    }
    let exact = band(&["size 17.25 mm"]);
    for (path, wanted) in [
        ("bore", "17.25"),
        ("outside", "21.25"),
        ("strip.height", "5"),
    ] {
        assert_eq!(exact[&format!("b.{path}")]["value"], wanted, "{path}");
    }
}
