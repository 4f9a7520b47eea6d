//! Whether a band can be at all, judged on the written decimals before anything is computed.

use rust_decimal::Decimal;

use crate::finding::Finding;
use crate::model::{Band, Profile};

use super::error::GeometryError;

/// Reports what makes a band impossible; nothing may be computed when it reports anything.
///
/// # Source
/// Bounds of a section: the comfort opening is at most half the width, a dome is at most a half circle,
/// the outside lies outside the bore everywhere, and the cut leaves metal.
#[must_use]
pub fn check(band: &Band) -> Vec<Finding> {
    let mut findings = Vec::new();
    let width = band.width.value();
    let thickness = band.thickness.value();
    let comfort = band.comfort.value();
    let half = width / Decimal::TWO;
    if comfort > half {
        findings.push(no_fit(
            band,
            "comfort",
            format!("the bore opens by {comfort} mm, more than half the width of {width} mm"),
            format!("at most {half} mm"),
            half,
        ));
    }
    let edge = edge(band);
    match band.profile {
        Profile::Flat if edge <= Decimal::ZERO => {
            findings.push(no_fit(
                band,
                "comfort",
                format!("the bore opens by {comfort} mm, and the band is {thickness} mm thick: nothing is left at the edge"),
                format!("less than {thickness} mm"),
                (thickness - band.least_wall.value()).max(Decimal::ZERO),
            ));
        }
        Profile::Domed { edge } => {
            domed(band, edge.value(), thickness, comfort, half, &mut findings)
        }
        Profile::Flat => {}
    }
    if findings.is_empty() {
        cut(band, edge.min(thickness), &mut findings);
    }
    findings
}

/// Radial thickness at the side faces.
fn edge(band: &Band) -> Decimal {
    match band.profile {
        Profile::Flat => band.thickness.value() - band.comfort.value(),
        Profile::Domed { edge } => edge.value(),
    }
}

/// The thinnest wall of a solid band, under the cut where there is one, exact, in mm.
#[must_use]
pub fn solid_wall(band: &Band) -> Option<Decimal> {
    let depth = band
        .pattern
        .map_or(Decimal::ZERO, |pattern| pattern.depth.value());
    Some((edge(band).min(band.thickness.value()) - depth).normalize())
}

fn domed(
    band: &Band,
    edge: Decimal,
    thickness: Decimal,
    comfort: Decimal,
    half: Decimal,
    findings: &mut Vec<Finding>,
) {
    let rise = thickness - edge - comfort;
    if rise < Decimal::ZERO {
        let fits = thickness - comfort;
        let message = if comfort.is_zero() {
            format!("the edge of {edge} mm is more than the thickness of {thickness} mm")
        } else {
            format!(
                "the edge of {edge} mm and the bore's opening of {comfort} mm are more than the thickness of {thickness} mm"
            )
        };
        findings.push(no_fit(
            band,
            "profile.edge",
            message,
            format!("at most {fits} mm"),
            fits,
        ));
    } else if rise > half {
        let fits = thickness - comfort - half;
        let message = format!(
            "the outside rises {rise} mm from edge to crown, more than half the width of {half} mm"
        );
        findings.push(no_fit(
            band,
            "profile.edge",
            message,
            format!("at least {fits} mm"),
            fits,
        ));
    }
}

fn cut(band: &Band, wall: Decimal, findings: &mut Vec<Finding>) {
    let Some(pattern) = &band.pattern else { return };
    let (depth, mean) = (pattern.depth.value(), pattern.mean_depth.value());
    if mean > depth {
        let message =
            format!("the mean depth of {mean} mm is more than the greatest depth of {depth} mm");
        findings.push(no_fit(
            band,
            "pattern.mean-depth",
            message,
            format!("at most {depth} mm"),
            depth,
        ));
    }
    if depth >= wall {
        let fits = wall - band.least_wall.value();
        let fitting = (fits > Decimal::ZERO).then(|| format!("{} mm", fits.normalize()));
        findings.push(
            GeometryError::CutThrough {
                at: band.place("pattern.depth"),
                depth: depth.normalize().to_string(),
                wall: wall.normalize().to_string(),
                help: match &fitting {
                    Some(fits) => format!(
                        "cut {fits} deep to leave the least wall of {} mm",
                        band.least_wall.value().normalize()
                    ),
                    None => format!(
                        "the band is too thin for any cut: make it thicker than {} mm at the edge",
                        band.least_wall.value().normalize()
                    ),
                },
                fits: fitting,
            }
            .into(),
        );
    }
}

fn no_fit(band: &Band, path: &str, message: String, label: String, fits: Decimal) -> Finding {
    let fits = fits.normalize();
    let word = path.rsplit('.').next().unwrap_or(path);
    let usable = fits > Decimal::ZERO || path == "comfort";
    GeometryError::DoesNotFit {
        at: band.place(path),
        message,
        label,
        help: if usable {
            format!("`{word} {fits} mm` would just fit")
        } else {
            "change the other lengths".to_owned()
        },
        fits: usable.then(|| format!("{fits} mm")),
    }
    .into()
}
