//! The curves of a shape, drawn once for all that is read from them.

use std::cell::OnceCell;

use super::cavity::Cavity;
use super::curve::Pieces;
use super::shape::{Roof, Shape};

/// A shape with its curves before easing, and the empty space in it.
pub struct Curves<'a> {
    /// The shape.
    pub shape: &'a Shape,
    /// Its outside.
    pub outside: Pieces,
    /// Its bore.
    pub inside: Pieces,
    cavity: OnceCell<Option<Cavity>>,
}

impl<'a> Curves<'a> {
    /// Those of a shape.
    ///
    /// # Range
    /// Shapes without anything impossible; others give curves that mean nothing.
    #[must_use]
    pub fn of(shape: &'a Shape) -> Self {
        Self {
            shape,
            outside: shape.outside_curve(),
            inside: shape.inside_curve(),
            cavity: OnceCell::new(),
        }
    }

    /// The empty space between shell and sleeve; none in a solid band, under a full shell, and where the roof is nowhere
    /// above the sleeve.
    #[must_use]
    pub fn cavity(&self) -> Option<&Cavity> {
        let draw = || {
            let hollow = self.shape.hollow.as_ref()?;
            (hollow.roof != Roof::Full)
                .then(|| Cavity::of(self.shape, hollow, &self.outside))
                .flatten()
        };
        self.cavity.get_or_init(draw).as_ref()
    }
}
