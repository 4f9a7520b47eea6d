//! Sections that grip is estimated from: of both parts when they are opened, and when all metal is taken off.

use crate::kernel::Input;
use crate::kernel::section::{
    Body, Catch, Curves, Hollow, Slice, Slices, area, area_of, slices_into,
};

use super::grip::{Filled, Finally, Fit};
use super::metal::End;
use super::thinned::Thinned;

/// Sections of both parts; mm, mm2.
pub(super) struct Sections<'s> {
    /// The sleeve, all metal taken off.
    pub sleeve: f64,
    /// How wide it is then.
    pub sleeve_width: f64,
    /// The shell, uncut, all metal taken off.
    pub shell: &'s Slices,
}

/// How wide the sleeve of a finished band is.
pub(super) fn sleeve_width(width: f64, hollow: &Hollow) -> f64 {
    match hollow.catch {
        Catch::Lip { wide, play, .. } => width - 2.0 * wide - play,
        _ => width,
    }
}

/// The sleeve in the shell of a finished band; `None` where a metal is not known well enough.
pub(super) fn fit_of(input: &Input, curves: &Curves<'_>, hollow: &Hollow) -> Option<Fit> {
    let mut shell = Slices::new();
    slices_into(curves, Body::Shell, 0.0, &mut shell);
    Sections::of(curves, hollow, &shell).fit(input, hollow)
}

impl<'s> Sections<'s> {
    /// Those of a finished band, with the slices of its shell.
    pub fn of(curves: &Curves<'_>, hollow: &Hollow, shell: &'s Slices) -> Self {
        Self {
            sleeve: area_of(curves, Body::Sleeve),
            sleeve_width: sleeve_width(curves.shape.width, hollow),
            shell,
        }
    }

    /// What a pattern leaves of a shell of the area `whole`, as areas: the thinnest, the harmonic mean round the
    /// ring, and that which the strain at first yield is reckoned with.
    ///
    /// # Formula
    /// Drawn cuts: both as they come to round the ring, and `A_eff` for the yield too. Else
    /// `A_min = A - depth w`; `1 / A_eff = cover / A_min + (1 - cover) / A`; for the yield `A - cover mean-depth w`, no
    /// less than `A_eff`.
    fn cut(&self, input: &Input, whole: f64) -> [f64; 3] {
        let Some(cut) = input.shape.cut else {
            return [whole; 3];
        };
        if let Some((least, harmonic)) = input.drawn_shares() {
            // What is still on the part is as long round it as the metal under the cuts; the mean errs low by it.
            let taken = |share: f64| whole - (1.0 - share) * area(self.shell);
            let even = taken(harmonic);
            return [taken(least), even, even];
        }
        let depth = Thinned {
            radius: input.shape.radius,
            depth: cut.depth,
            cut: None,
            share: None,
        };
        let least = whole - (area(self.shell) - depth.area(self.shell));
        let even = 1.0 / (cut.cover / least + (1.0 - cut.cover) / whole);
        let taken = cut.cover * cut.mean_depth * input.shape.width;
        [least, even, (whole - taken).max(even)]
    }

    /// Sleeve in shell; `None` where a metal is not known well enough.
    pub fn fit(&self, input: &Input, hollow: &Hollow) -> Option<Fit> {
        let given = &input.stretch;
        let shape = &input.shape;
        let [bore, outside, faces] = given.layers.on();
        let thick = shape.thickness - hollow.foot();
        let whole = area(self.shell);
        // What is left on the faces is as high as the part is there.
        let (width, shell) = (shape.width + 2.0 * faces, thick + outside);
        let on = whole + outside * width + faces * ends(self.shell);
        let sleeve_width = self.sleeve_width + 2.0 * faces;
        let edge = 2.0 * (hollow.sleeve - shape.comfort).max(0.0);
        let sleeve = self.sleeve + bore * sleeve_width + faces * edge;
        let early = given.cut_before;
        let [least, even, yielding] = if early { self.cut(input, on) } else { [on; 3] };
        let [_, last, _] = self.cut(input, whole);
        let over = |area: f64| area / (width * shell);
        Some(Fit {
            sleeve: sleeve / sleeve_width,
            shell,
            filled: Filled {
                least: over(least),
                even: over(even),
                yielding: over(yielding),
            },
            finished: Finally {
                sleeve: self.sleeve / self.sleeve_width,
                shell: thick,
                even: last / (shape.width * thick),
            },
            width: self.sleeve_width,
            sleeve_flow: given.sleeve.flow(End::High)?,
            shell_flow: given.shell.flow(End::Low)?,
            sleeve_modulus: given.sleeve.modulus?,
            shell_modulus: given.shell.modulus?,
            sleeve_contraction: given.sleeve.contraction(),
            shell_contraction: given.shell.contraction(),
            friction: given.friction,
        })
    }
}

/// Height of a body at its left end and at its right one, together.
fn ends(slices: &[Slice]) -> f64 {
    let high = |slice: &Slice| slice.to - slice.from;
    let left = slices.iter().min_by(|one, other| one.x.total_cmp(&other.x));
    let right = slices.iter().max_by(|one, other| one.x.total_cmp(&other.x));
    left.map_or(0.0, high) + right.map_or(0.0, high)
}
