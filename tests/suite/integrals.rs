//! Volumes, walls and weights of solid bands against direct integration.
//!
//! Sources: the definitions of the curves alone, by the model's section 1. Integrals are taken here by Gauss and
//! Legendre's rule of five points (any handbook's nodes and weights) on many short stretches; walls by
//! trying many places on both surfaces.

use std::f64::consts::PI;

use crate::support::{agree, band_with, number, results};

/// What volumes must agree to (the project's own promise for closed forms).
const CLOSE: f64 = 1e-9;

type Results = serde_json::Map<String, serde_json::Value>;

/// Integral over the width, by the rule of five points on 400 stretches of an angle whose sine runs over
/// the width: a half circle's vertical ends are then as smooth as its middle.
fn integral(width: f64, of: impl Fn(f64) -> f64) -> f64 {
    const RULE: [(f64, f64); 5] = [
        (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
        (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    ];
    let half = PI / 800.0;
    let at = |angle: f64| of(width / 2.0 * angle.sin()) * width / 2.0 * angle.cos();
    (0..400)
        .map(|place| {
            let middle = -PI / 2.0 + half * f64::from(2 * place + 1);
            let sum: f64 = RULE
                .iter()
                .map(|(node, weight)| weight * at(middle + half * node))
                .sum();
            sum * half
        })
        .sum()
}

/// Height of a circular arc over its chord, `rise` at the middle of the width.
fn arc(x: f64, width: f64, rise: f64) -> f64 {
    if rise == 0.0 {
        return 0.0;
    }
    let radius = (width * width / 4.0 + rise * rise) / (2.0 * rise);
    rise - x * x / (radius + (radius * radius - x * x).sqrt())
}

/// A domed or flat band, in mm, straight from the definitions of the curves.
#[derive(Clone, Copy)]
struct Shape {
    bore: f64,
    width: f64,
    thickness: f64,
    comfort: f64,
    /// Radial thickness at the faces; none for a flat outside.
    edge: Option<f64>,
}

const fn shape(bore: f64, width: f64, thickness: f64, comfort: f64, edge: Option<f64>) -> Shape {
    Shape {
        bore,
        width,
        thickness,
        comfort,
        edge,
    }
}

impl Shape {
    fn outside(&self, x: f64) -> f64 {
        match self.edge {
            Some(edge) => {
                let foot = edge + self.comfort;
                self.bore / 2.0 + foot + arc(x, self.width, self.thickness - foot)
            }
            None => self.bore / 2.0 + self.thickness,
        }
    }

    fn inside(&self, x: f64) -> f64 {
        self.bore / 2.0 + self.comfort - arc(x, self.width, self.comfort)
    }

    fn volume(&self) -> f64 {
        let square = |r: f64| r * r;
        PI * integral(self.width, |x| {
            square(self.outside(x)) - square(self.inside(x))
        })
    }

    fn cut(&self, mean_depth: f64, cover: f64) -> f64 {
        let ring = |r: f64| (r * r - (r - mean_depth) * (r - mean_depth)) / 2.0;
        cover * 2.0 * PI * integral(self.width, |x| ring(self.outside(x)))
    }

    /// Shortest distance from the cut surface to the bore, by trying many places on both.
    fn wall(&self, depth: f64) -> f64 {
        let places = 400;
        let x = |place: i32| self.width * (f64::from(place) / f64::from(places) - 0.5);
        let mut least = f64::INFINITY;
        for above in 0..=places {
            for below in 0..=places {
                let (a, b) = (x(above), x(below));
                let rise = self.outside(a) - depth - self.inside(b);
                least = least.min((rise * rise + (a - b) * (a - b)).sqrt());
            }
        }
        least
    }

    fn lines(&self) -> Vec<String> {
        let profile = match self.edge {
            Some(edge) => format!("profile domed {{ edge {edge} mm }}"),
            None => "profile flat".to_owned(),
        };
        vec![
            format!("size {} mm", self.bore),
            format!("width {} mm", self.width),
            format!("thickness {} mm", self.thickness),
            format!("comfort {} mm", self.comfort),
            profile,
        ]
    }

    fn results(&self, more: &[&str]) -> Results {
        let lines = self.lines();
        let mut all: Vec<&str> = lines.iter().map(String::as_str).collect();
        all.extend(more);
        results(&band_with(&all))
    }
}

/// Shapes from all corners of what can be (bore, width, thickness, comfort, edge): flat and domed, both bores,
/// shallow and half round.
const SHAPES: &[Shape] = &[
    shape(17.0, 5.0, 2.0, 0.0, None),
    shape(17.0, 5.0, 2.0, 0.35, None),
    shape(17.0, 3.0, 1.75, 1.5, None),
    shape(17.0, 5.0, 2.0, 0.0, Some(1.2)),
    shape(19.5, 8.0, 2.4, 0.4, Some(1.1)),
    shape(15.25, 4.0, 2.5, 0.0, Some(0.5)),
    shape(15.25, 4.0, 2.0, 0.0, Some(1.999999)),
    shape(22.0, 12.0, 1.5, 0.000001, Some(1.3)),
    shape(17.0, 0.8, 9.0, 0.0, Some(8.7)),
];

#[test]
fn volumes_agree_with_direct_integration() {
    for shape in SHAPES {
        let found = number(&shape.results(&[]), "b.volume.uncut");
        assert!(
            agree(found, shape.volume(), CLOSE),
            "{:?}: {found}",
            shape.lines()
        );
        let area = number(&shape.results(&[]), "b.section.area");
        let wanted = integral(shape.width, |x| shape.outside(x) - shape.inside(x));
        assert!(agree(area, wanted, CLOSE), "{:?}: {area}", shape.lines());
    }
}

#[test]
fn cut_volumes_agree_with_direct_integration() {
    let cuts = [
        (0.2, 0.2, 100.0),
        (0.25, 0.125, 40.0),
        (0.3, 0.3, 90.0),
        (0.01, 0.01, 0.1),
    ];
    for shape in SHAPES.iter().filter(|shape| shape.comfort < 1.0) {
        for (depth, mean, cover) in cuts {
            let pattern =
                format!("pattern {{ depth {depth} mm, mean-depth {mean} mm, cover {cover} % }}");
            let found = shape.results(&[&pattern]);
            let volume = number(&found, "b.volume.uncut") - number(&found, "b.volume");
            let wanted = shape.cut(mean, cover / 100.0);
            // The difference of two volumes has lost digits to the larger ones.
            let allowed = CLOSE * wanted + 1e-13 * shape.volume();
            assert!(
                (volume - wanted).abs() < allowed,
                "{:?} {pattern}: {volume}",
                shape.lines()
            );
        }
    }
}

#[test]
fn walls_agree_with_the_shortest_distance_tried() {
    for shape in SHAPES {
        for depth in [0.0, 0.05, 0.2] {
            let wall = shape.edge.unwrap_or(shape.thickness - shape.comfort);
            if depth >= wall {
                continue;
            }
            let pattern = format!("pattern {{ depth {depth} mm, cover 50 % }}");
            let more: &[&str] = if depth > 0.0 { &[&pattern] } else { &[] };
            let found = number(&shape.results(more), "b.wall.least");
            let wanted = shape.wall(depth);
            assert!(
                (found - wanted).abs() < 1e-6,
                "{:?} {depth}: {found}",
                shape.lines()
            );
        }
    }
}

#[test]
fn weights_are_volumes_times_density() {
    for shape in SHAPES.iter().filter(|shape| shape.comfort < 1.0) {
        let found = shape.results(&["pattern { depth 0.2 mm, mean-depth 0.1 mm, cover 90 % }"]);
        let density = number(&found, "b.density") / 1000.0;
        let (uncut, cut) = (shape.volume(), shape.cut(0.1, 0.9));
        assert!(agree(
            number(&found, "b.weight.uncut"),
            uncut * density,
            CLOSE
        ));
        assert!(agree(number(&found, "b.weight.cut"), cut * density, CLOSE));
        assert!(agree(
            number(&found, "b.weight"),
            (uncut - cut) * density,
            CLOSE
        ));
    }
}
