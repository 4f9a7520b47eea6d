//! Walls that are thinner than they may be, each with the fields that alone would keep all of them.

use crate::schema::FieldId;

use super::figures::{figures, walls};
use super::input::Input;
use super::section::{Stands, fitting_from, impossible, nearest};
use super::walls::NamedWall;

/// Fields that a wall can rest on, in the order that they are offered.
const MENDING: [FieldId; 9] = [
    FieldId::PatternDepth,
    FieldId::HollowShell,
    FieldId::HollowSleeveRelief,
    FieldId::HollowSleeve,
    FieldId::ProfileEdge,
    FieldId::ProfileDown,
    FieldId::ProfileDip,
    FieldId::Thickness,
    FieldId::Comfort,
];

/// Lengths are compared within this, in mm.
const ROUNDING: f64 = 1e-9;

/// A wall that is thinner than it may be; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThinWall {
    /// The wall, as stated.
    pub wall: NamedWall,
    /// How much thinner it may be at worst.
    pub worst: f64,
    /// What it must be.
    pub limit: f64,
    /// The field that is pointed at.
    pub field: FieldId,
    /// Fields and values each of which would alone keep every wall, the field that is pointed at first; of a wall
    /// under a mark the depth that would keep that wall.
    pub mends: [Option<(FieldId, f64)>; MENDING.len()],
}

impl ThinWall {
    /// What is left at worst, mm.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.wall.thickness - self.worst
    }

    /// How much is missing at worst, mm.
    #[must_use]
    pub fn missing(&self) -> f64 {
        self.limit - self.left()
    }
}

/// Whether any wall is thinner than it may be, judged at its worst case as [`thin_walls`] does.
#[must_use]
pub fn is_thin(input: &Input, judged: &[(NamedWall, f64)]) -> bool {
    let short = |(wall, worst): &(NamedWall, f64)| {
        input.stretch.walls.of(wall.id) - (wall.thickness - worst) > ROUNDING
    };
    judged.iter().any(short)
}

/// By how much each wall is thinner than it may be, as a part of that, judged as [`is_thin`] does.
pub fn thin_by(input: &Input, judged: &[(NamedWall, f64)]) -> impl Iterator<Item = f64> {
    judged.iter().filter_map(|(wall, worst)| {
        let limit = input.stretch.walls.of(wall.id);
        let short = limit - (wall.thickness - worst);
        (short > ROUNDING).then(|| short / limit)
    })
}

/// Every wall that is thinner than the least wall of a band, judged at its worst case.
///
/// `judged`: the walls, and how much thinner each may be at worst; `stated`: whether the recipe itself states a field.
pub fn thin_walls<'a>(
    input: &'a Input,
    judged: &'a [(NamedWall, f64)],
    stated: &'a dyn Fn(FieldId) -> bool,
) -> impl Iterator<Item = ThinWall> + 'a {
    judged.iter().filter_map(move |(wall, worst)| {
        let limit = input.stretch.walls.of(wall.id);
        let short = limit - (wall.thickness - worst);
        if short <= ROUNDING {
            return None;
        }
        let of_cut = |cut: u16| {
            let drawn = input.drawn.as_ref()?;
            drawn.depths.get(usize::from(cut)).copied().flatten()
        };
        let even = input.shape.cut.is_some_and(|cut| !cut.drawn);
        let field = match (wall.field, even) {
            (FieldId::PatternDepth, false) if wall.cut.is_some() => {
                wall.cut.and_then(of_cut).unwrap_or(FieldId::PatternDepth)
            }
            (FieldId::Thickness, true) => FieldId::PatternDepth,
            (FieldId::PatternDepth, false) => FieldId::HollowShell,
            (field, _) => field,
        };
        let of_band = Mending {
            input,
            judged,
            stated,
            pointed: field,
        };
        let mut deep = shallower(input.marks.deep() - short).into_iter();
        let mut lengths = of_band.mends();
        let found: &mut dyn Iterator<Item = _> = match field {
            FieldId::MarkDeep => &mut deep,
            // No length of a ring makes room for a punch.
            FieldId::Mark => &mut std::iter::empty(),
            _ => &mut lengths,
        };
        let mut mends = [None; MENDING.len()];
        for (place, mend) in mends.iter_mut().zip(found) {
            *place = Some(mend);
        }
        Some(ThinWall {
            wall: *wall,
            worst: *worst,
            limit,
            field,
            mends,
        })
    })
}

/// How deep a mark may be struck, in whole nanometres, so that the wall under it keeps the limit.
fn shallower(deep: f64) -> Option<(FieldId, f64)> {
    let deep = ((deep + ROUNDING) * 1e6).floor() / 1e6;
    (deep > ROUNDING).then_some((FieldId::MarkDeep, deep))
}

/// A band some wall of which is too thin.
struct Mending<'a> {
    input: &'a Input,
    judged: &'a [(NamedWall, f64)],
    stated: &'a dyn Fn(FieldId) -> bool,
    /// The field that is pointed at.
    pointed: FieldId,
}

impl<'a> Mending<'a> {
    /// The values of fields that would alone keep the least wall everywhere, the one that is pointed at first.
    fn mends(self) -> impl Iterator<Item = (FieldId, f64)> + 'a {
        // The depth of a drawn cut stands in a field of its own.
        let drawn = self.input.drawn.as_ref();
        let drawn = drawn.and_then(|drawn| drawn.depth(self.pointed));
        let known = MENDING.contains(&self.pointed) || drawn.is_some();
        let own = Some(self.pointed).into_iter().filter(move |_| known);
        let others = MENDING
            .into_iter()
            .filter(move |field| *field != self.pointed);
        own.chain(others).filter_map(move |field| {
            let value = self.kept_at(field)?;
            Some(match field {
                FieldId::Thickness if !(self.stated)(field) => {
                    let bore = 2.0 * self.input.shape.radius;
                    (FieldId::Outside, bore + 2.0 * value)
                }
                _ => (field, value),
            })
        })
    }

    /// Whether a field can be moved alone.
    fn free(&self, field: FieldId) -> bool {
        let stated = self.stated;
        // An edge that follows from the others, and is stated all the same, holds them where they are.
        let held =
            stated(FieldId::ProfileEdge) && self.input.shape.field(FieldId::ProfileEdge).is_none();
        match field {
            FieldId::Thickness => stated(field) != stated(FieldId::Outside) && !held,
            FieldId::Comfort | FieldId::ProfileDown => stated(field) && !held,
            _ => stated(field),
        }
    }

    fn is_short(&self, wall: &NamedWall, worst: f64) -> bool {
        self.input.stretch.walls.of(wall.id) - (wall.thickness - worst) > ROUNDING
    }

    /// How the band stands with a field changed.
    fn stands(&self, field: FieldId, value: f64) -> Stands {
        let drawn = self.input.drawn.as_ref();
        let drawn = drawn.filter(|drawn| drawn.depth(field).is_some());
        let changed = match drawn {
            Some(drawn) => Input {
                drawn: Some(drawn.with_depth(field, value)),
                ..self.input.clone()
            },
            None => Input {
                shape: self.input.shape.with(field, value),
                ..self.input.clone()
            },
        };
        if value <= 0.0 && field != FieldId::Comfort || !impossible(&changed.shape).is_empty() {
            return Stands::Beyond;
        }
        let mut stands = Stands::Fits;
        for wall in walls(&changed, &figures(&changed)) {
            let known = self.judged.iter().find(|(known, _)| known.id == wall.id);
            let worst = known.map_or(0.0, |(_, worst)| *worst);
            if self.is_short(&wall, worst) {
                // What was thick enough grows thinner on the way that the field is moved.
                if !known.is_some_and(|(known, worst)| self.is_short(known, *worst)) {
                    return Stands::Beyond;
                }
                stands = Stands::Short;
            }
        }
        stands
    }

    /// The nearest value of a field at which every wall keeps the limit, all other fields as they are.
    fn kept_at(&self, field: FieldId) -> Option<f64> {
        if !self.free(field) {
            return None;
        }
        let drawn = self.input.drawn.as_ref();
        let deep = drawn.and_then(|drawn| drawn.depth(field));
        let even = || self.input.shape.field(field);
        let now = match (deep, drawn.is_some() && field == FieldId::PatternDepth) {
            (Some(deep), _) => deep,
            // No cut has the depth of the pattern.
            (None, true) => return None,
            (None, false) => even()?,
        };
        let closest = |both: [Option<f64>; 2]| {
            let both = both.into_iter().flatten();
            both.min_by(|one, other| (one - now).abs().total_cmp(&(other - now).abs()))
        };
        let least = self.input.shape.least(field);
        // A wall is seldom thicker for less of what it is part of, but a straight roof comes down under a deeper
        // chamfer.
        let stands = |value: f64| self.stands(field, value);
        let found = closest([true, false].map(|less| nearest(less, now, least, stands)));
        // Beyond what cannot be made there may be bands again that can: sought for the field that is pointed at.
        found.or_else(|| {
            let fits = |value: f64| stands(value) == Stands::Fits;
            (field == self.pointed)
                .then(|| closest([true, false].map(|less| fitting_from(least, less, now, fits))))
                .flatten()
        })
    }
}
