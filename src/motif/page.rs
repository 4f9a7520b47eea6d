//! How large a drawing is on paper, and how its units become millimetres.

use kurbo::Affine;
use roxmltree::Node;
use svgtypes::{Align, AspectRatio, ViewBox};

use super::error::MotifError;
use super::shape::length;

/// A CSS pixel in mm.
const PIXEL: f64 = 25.4 / 96.0;
/// The longest side of a drawing, mm.
const LONGEST: f64 = 1000.0;

/// A drawing's page.
pub(super) struct Page {
    /// Its width, mm.
    pub wide: f64,
    /// Its height, mm.
    pub high: f64,
    /// From its units to millimetres from the left edge, and upwards from mid height.
    pub to_mm: Affine,
}

impl Page {
    /// The page that the first element states.
    pub fn of(root: Node<'_, '_>) -> Result<Self, MotifError> {
        let sized = |name: &str| length(root, name).filter(|size| *size > 0.0 && size.is_finite());
        let (Some(wide), Some(high)) = (sized("width"), sized("height")) else {
            return Err(MotifError::new(
                "it does not say how large it is",
                "write its size on the first element, as in `width=\"3.5mm\" height=\"6mm\"`",
            ));
        };
        let (wide, high) = (wide * PIXEL, high * PIXEL);
        if wide > LONGEST || high > LONGEST {
            return Err(MotifError::new(
                format!("it is {wide:.1} mm wide and {high:.1} mm high"),
                "a drawing of a strip is a metre at most; are its units those of its size?",
            ));
        }
        let unread = |name: &str, help: &str| {
            Err(MotifError::new(
                format!("its `{name}` cannot be read"),
                help,
            ))
        };
        let (x, y, w, h) = match root.attribute("viewBox").map(str::parse::<ViewBox>) {
            None => (0.0, 0.0, wide / PIXEL, high / PIXEL),
            Some(Ok(found)) if found.w > 0.0 && found.h > 0.0 => {
                (found.x, found.y, found.w, found.h)
            }
            Some(_) => {
                return unread(
                    "viewBox",
                    "write four numbers, as in `viewBox=\"0 0 3.5 6\"`",
                );
            }
        };
        let stated = root
            .attribute("preserveAspectRatio")
            .map(str::parse::<AspectRatio>);
        let ratio = match stated {
            None => AspectRatio::default(),
            Some(Ok(ratio)) => ratio,
            Some(Err(_)) => {
                return unread("preserveAspectRatio", "leave it out, or write `none`");
            }
        };
        let (sx, sy) = (wide / w, high / h);
        let (sx, sy) = match (ratio.align, ratio.slice) {
            (Align::None, _) => (sx, sy),
            (_, false) => (sx.min(sy), sx.min(sy)),
            (_, true) => (sx.max(sy), sx.max(sy)),
        };
        // Which share of the room that is left stands before it.
        let (left, above) = match ratio.align {
            Align::None | Align::XMidYMid => (0.5, 0.5),
            Align::XMinYMin => (0.0, 0.0),
            Align::XMidYMin => (0.5, 0.0),
            Align::XMaxYMin => (1.0, 0.0),
            Align::XMinYMid => (0.0, 0.5),
            Align::XMaxYMid => (1.0, 0.5),
            Align::XMinYMax => (0.0, 1.0),
            Align::XMidYMax => (0.5, 1.0),
            Align::XMaxYMax => (1.0, 1.0),
        };
        let start = ((wide - w * sx) * left, high / 2.0 - (high - h * sy) * above);
        let to_mm = Affine::translate(start)
            * Affine::scale_non_uniform(sx, -sy)
            * Affine::translate((-x, -y));
        Ok(Self { wide, high, to_mm })
    }
}
