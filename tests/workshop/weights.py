"""Weights of a domed band, solid and in two parts, by numeric integration with the standard library alone.

In, on standard input: a JSON list of bands, each an object of lengths in mm, `density` in g/cm3 and `cover` from 0 to 1,
the keys being the fields of `Look`. Out, on standard output: a JSON list of objects in the same order: `solid_uncut`,
`solid_finished` and `hollow_finished` in g, `under_cut` (the thinnest metal of the shell under the cut) and `least_wall`
(of all walls of the two parts) in mm.

Nothing of the project's code or formulas is used. Volumes are Simpson sums of r squared over the width, from the
definitions of the curves. The roof of the cavity is found by trying: at each place it is as high as a disc of the wall's
radius about every point of the outside lets it be, and the point that presses lowest is sought by halving intervals. The
least wall is sought over pairs of places in the same way.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from dataclasses import dataclass
from math import pi, sqrt

Curve = Callable[[float], float]
"""A distance from the finger's axis for each axial place, both in mm."""

STRETCHES = 400
"""Simpson intervals over a width: an even number. A tenth of them gives the same weights to 1e-9."""
GOLDEN = (sqrt(5.0) - 1.0) / 2.0


@dataclass(frozen=True)
class Look:
    """A domed band over a cylindrical or comfort bore, and how it would be built in two parts."""

    size: float
    """Smallest inside diameter."""
    width: float
    thickness: float
    edge: float
    comfort: float
    density: float
    depth: float
    mean_depth: float
    cover: float
    shell: float
    """Wall of the shell, normal to its surface."""
    sleeve: float
    """Thickness of the sleeve at mid width."""
    ridge: float
    ridge_wide: float
    ridge_count: int

    @property
    def bore(self) -> float:
        return self.size / 2.0

    @property
    def half(self) -> float:
        return self.width / 2.0

    @property
    def floor(self) -> float:
        return self.bore + self.sleeve

    def outside(self, x: float) -> float:
        """The arc from edge to edge whose top stands at the thickness."""
        foot = self.bore + self.comfort + self.edge
        return foot + arc(x, self.width, self.thickness - self.comfort - self.edge)

    def inside(self, x: float) -> float:
        """The arc that touches the smallest bore at mid width and opens by `comfort` at the edges."""
        return self.bore + self.comfort - arc(x, self.width, self.comfort)

    def cut_bottom(self, x: float) -> float:
        return self.outside(x) - self.depth


def arc(x: float, chord: float, rise: float) -> float:
    """Height over its chord of a circular arc that rises `rise` in its middle."""
    if rise == 0.0:
        return 0.0
    radius = (chord * chord / 4.0 + rise * rise) / (2.0 * rise)
    return sqrt(radius * radius - x * x) - (radius - rise)


def simpson(function: Curve, low: float, high: float) -> float:
    step = (high - low) / STRETCHES
    total = function(low) + function(high)
    for place in range(1, STRETCHES):
        total += function(low + place * step) * (4.0 if place % 2 else 2.0)
    return total * step / 3.0


def turned(curve: Curve, low: float, high: float) -> float:
    """Volume between the axis and a curve, turned once."""
    return pi * simpson(lambda x: curve(x) ** 2, low, high)


def pipe(inner: float, outer: float, width: float) -> float:
    return pi * width * (outer * outer - inner * inner)


def least(function: Curve, low: float, high: float) -> float:
    """The least value between two places of a function that falls, then rises: by golden sections.

    Forty of them find the place to some 1e-9 of the stretch; the value, being level there, to the last digit.
    """
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = function(left), function(right)
    for _ in range(40):
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - GOLDEN * (high - low)
            at_left = function(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + GOLDEN * (high - low)
            at_right = function(right)
    return min(at_left, at_right)


def roof(look: Look, x: float) -> float:
    """The greatest radius at `x` that keeps the wall from every point of the outside."""
    wall = look.shell

    def pressed(place: float) -> float:
        off = place - x
        return look.outside(place) - sqrt(max(wall * wall - off * off, 0.0))

    return least(pressed, max(x - wall, -look.half), min(x + wall, look.half))


def distance(upper: Curve, lower: Curve, half: float, room: float) -> float:
    """The shortest distance between two curves, the upper over `half`, the lower over `room` to either side."""

    def from_place(place: float) -> float:
        return least(lambda other: (place - other) ** 2 + (upper(place) - lower(other)) ** 2, -room, room)

    # The curves are even: the nearest pair is sought on one side, first roughly, then about the best place.
    step = half / 16
    best = min((step * number for number in range(17)), key=from_place)
    near = least(from_place, max(best - step, 0.0), min(best + step, half))
    return sqrt(min(near, from_place(0.0), from_place(half)))


def weights(look: Look) -> dict[str, float]:
    grams = look.density / 1000.0
    half, inner = look.half, look.half - look.shell
    solid = turned(look.outside, -half, half) - turned(look.inside, -half, half)
    # Over the covered part, each place loses a ring `mean_depth` high below the outside.
    removed = look.cover * (
        turned(look.outside, -half, half) - turned(lambda x: look.outside(x) - look.mean_depth, -half, half)
    )
    if roof(look, inner) <= look.floor + look.ridge:
        raise ValueError("the roof comes down to the ridges: not a band that this script knows")
    ridges = look.ridge_count * pipe(look.floor, look.floor + look.ridge, look.ridge_wide)
    cavity = turned(lambda x: roof(look, x), -inner, inner) - pi * 2.0 * inner * look.floor**2 - ridges
    under_cut = min(
        distance(look.cut_bottom, lambda x: roof(look, x), half, inner),
        look.cut_bottom(half) - look.floor,
    )
    side_face = look.comfort + look.edge - look.sleeve
    sleeve_edge = look.sleeve - look.comfort
    return {
        "solid_uncut": solid * grams,
        "solid_finished": (solid - removed) * grams,
        "hollow_finished": (solid - cavity - removed) * grams,
        "under_cut": under_cut,
        "least_wall": min(under_cut, look.shell, side_face, sleeve_edge),
    }


def main() -> int:
    bands = [Look(**band) for band in json.load(sys.stdin)]
    json.dump([weights(look) for look in bands], sys.stdout)
    print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
