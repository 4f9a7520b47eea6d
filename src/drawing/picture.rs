//! What a picture is made of; x to the right, y upwards.

/// A place, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Upwards.
    pub y: f64,
}

impl Spot {
    /// A place.
    #[must_use]
    pub const fn at(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// A line or an arc to a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Where it ends.
    pub to: Spot,
    /// Tangent of a quarter of the arc's angle, positive where it turns left; 0 for a line. At most 1, a half circle.
    pub bulge: f64,
}

/// Lines and arcs, each from where the one before ends.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// Where it begins.
    pub from: Spot,
    /// Its lines and arcs.
    pub bends: Vec<Bend>,
    /// It ends where it begins.
    pub closed: bool,
}

impl Trace {
    /// Straight from place to place.
    #[must_use]
    pub fn straight(places: &[Spot]) -> Self {
        let mut places = places.iter().copied();
        Self {
            from: places.next().unwrap_or_default(),
            bends: places.map(|to| Bend { to, bulge: 0.0 }).collect(),
            closed: false,
        }
    }

    /// Its lines and arcs with where each begins.
    pub fn sides(&self) -> impl Iterator<Item = (Spot, Bend)> {
        let froms = std::iter::once(self.from).chain(self.bends.iter().map(|bend| bend.to));
        froms.zip(self.bends.iter().copied())
    }
}

/// How a line is drawn (widths as technical drawings have them, ISO 128: wide and narrow, two to one).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Edges: wide.
    Edge,
    /// Dimensions and leaders: narrow.
    Narrow,
    /// What is not in the section itself: narrow, dashed.
    Dashed,
    /// The axis of what is turned, mid width: narrow, dash and dot.
    Centre,
}

impl Ink {
    /// How wide, mm.
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            Self::Edge => 0.35,
            Self::Narrow | Self::Dashed | Self::Centre => 0.18,
        }
    }

    /// Dashes and gaps, mm; none where it is drawn through.
    #[must_use]
    pub fn dashes(self) -> &'static [f64] {
        match self {
            Self::Edge | Self::Narrow => &[],
            Self::Dashed => &[1.6, 0.8],
            Self::Centre => &[4.0, 0.8, 0.4, 0.8],
        }
    }
}

/// Narrow lines over the metal of a section, so that two parts are told apart without colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hatching {
    /// Rising to the right.
    Rising,
    /// Falling to the right, and closer.
    Falling,
}

impl Hatching {
    /// Distance of the lines, mm on paper.
    #[must_use]
    pub fn apart(self) -> f64 {
        match self {
            Self::Rising => 1.8,
            Self::Falling => 1.1,
        }
    }
}

/// A closed piece of a section in its panel's own lengths: true millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// What it is, in a word that an id may hold.
    pub id: String,
    /// What it is, for who cannot see it.
    pub title: String,
    /// Once round.
    pub trace: Trace,
    /// How its metal is told apart.
    pub hatching: Hatching,
}

/// Which end of a text its place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The left one.
    Start,
    /// The middle.
    Middle,
    /// The right one.
    End,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Lettering {
    /// Where it stands, on its base line.
    pub at: Spot,
    /// What it says.
    pub text: String,
    /// Height of its letters' body, mm.
    pub size: f64,
    /// Which end stands there.
    pub anchor: Anchor,
    /// Set heavier.
    pub bold: bool,
}

/// What is drawn beside sections, in mm on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Sign {
    /// Lines and arcs.
    Line(Trace, Ink),
    /// The head of a dimension's arrow: its tip, and the way that it points, a unit vector.
    Arrow(Spot, Spot),
    /// The end of a leader inside something.
    Dot(Spot),
    /// Words.
    Text(Lettering),
}

/// A part of a picture to a scale of its own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Panel {
    /// In a word that an id may hold.
    pub id: String,
    /// What it shows.
    pub title: String,
    /// Where its lengths begin, on paper, mm.
    pub origin: Spot,
    /// mm on paper for each mm of it.
    pub scale: f64,
    /// Sections, in its own lengths.
    pub regions: Vec<Region>,
    /// What is drawn beside them in its own lengths.
    pub lines: Vec<(Trace, Ink)>,
    /// What is drawn and written, in mm on paper.
    pub signs: Vec<Sign>,
}

impl Panel {
    /// Where a place of it lies on paper.
    #[must_use]
    pub fn on_paper(&self, x: f64, y: f64) -> Spot {
        Spot {
            x: self.origin.x + self.scale * x,
            y: self.origin.y + self.scale * y,
        }
    }

    /// The panel moved on paper.
    #[must_use]
    pub fn moved(mut self, x: f64, y: f64) -> Self {
        let moved = |spot: &mut Spot| {
            spot.x += x;
            spot.y += y;
        };
        moved(&mut self.origin);
        for sign in &mut self.signs {
            match sign {
                Sign::Line(trace, _) => {
                    moved(&mut trace.from);
                    trace.bends.iter_mut().for_each(|bend| moved(&mut bend.to));
                }
                Sign::Arrow(at, _) | Sign::Dot(at) => moved(at),
                Sign::Text(text) => moved(&mut text.at),
            }
        }
        self
    }
}

/// A picture on paper, its left lower corner at 0.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// What it is.
    pub title: String,
    /// What is to be seen, in words.
    pub description: String,
    /// mm.
    pub width: f64,
    /// mm.
    pub height: f64,
    /// What is on it.
    pub panels: Vec<Panel>,
}

impl Picture {
    /// Whether a PDF's standard fonts have all of its letters.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        let signs = self.panels.iter().flat_map(|panel| &panel.signs);
        let mut texts = signs.filter_map(|sign| match sign {
            Sign::Text(text) => Some(&text.text),
            _ => None,
        });
        texts.all(|text| super::letters::plain(text))
    }
}

/// The corners of an arrow's head, its tip first: 2 mm long and a third as wide.
pub(super) fn head(tip: Spot, way: Spot) -> [Spot; 3] {
    let back = Spot::at(tip.x - 2.0 * way.x, tip.y - 2.0 * way.y);
    let aside = |by: f64| Spot::at(back.x - by * way.y, back.y + by * way.x);
    [tip, aside(0.35), aside(-0.35)]
}
