//! What do cuts drawn on the strip take off a band, what do they leave, and how long does it take?
//!
//! `cuts` (what is cut) and `outside` go into `layout` (where), that into `relief` and `sweep` (how deep, on a grid; `part`
//! is the heart of it),
//! those into `results` (figures). `under` finds the least wall and the greatest depth without a grid, `time` the
//! minutes. All lengths in mm, all angles in radians unless named degrees; pure functions.

pub mod cuts;
pub mod cutter;
pub mod laid;
pub mod layout;
pub mod outside;
mod part;
pub mod pocket;
pub mod relief;
pub mod repeats;
pub mod results;
mod search;
pub mod stroke;
pub mod sums;
pub mod sweep;
pub mod time;
pub mod under;

pub use cuts::{CutShape, PathPoint, RingPlace, ToolCut};
pub use cutter::CutterForm;
pub use laid::{Facet, Layout, Told};
pub use layout::lay;
pub use outside::{StripOutside, StripPiece};
pub use pocket::Pocket;
pub use relief::Relief;
pub use repeats::{degrees, pitch, repeats, stretch};
pub use results::{Accuracy, PatternFigures, Way, Worked, cut, work};
pub use stroke::{Stop, StripPlace, Stroke, StrokeRun};
pub use sums::{CutSection, Sums};
pub use time::{SpeedMissing, Speeds, WrittenLength, minutes, passes, travel};
pub use under::{Least, deepest, least_wall};
