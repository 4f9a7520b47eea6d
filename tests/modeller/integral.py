"""The same volumes by plain numeric integration, to catch slips of modelling in `volumes.py`.

In: a `Band`, and for a hollow one the places of its feet and ridges. Out: volumes in mm3, good to some 1e-6. Shares no
code with the modeller: named outsides come from their closed formulas, the roof from the shortest distance to points
sampled along the outside, a nose from a disc moved over all its places.
"""

from __future__ import annotations

from math import atan2, pi

import numpy as np
from numpy.typing import NDArray

from bands import Band, Hollow, Point

Curve = NDArray[np.float64]

SAMPLES = 1501
"""Points along one run of an outside, and stations across the width."""


def solid_volume(band: Band) -> float:
    """Volume of the solid band, eased."""
    x = _stations(band)
    return _ring(x, _inside(band, x), _outside(band, x))


def hollow_volumes(band: Band, floor_span: Point, ridges: list[Point]) -> dict[str, float]:
    """Shell, sleeve, ridges and cavity of a hollow band; feet and ridges stand where the modeller found them."""
    hollow = band.hollow
    assert hollow is not None
    x = np.union1d(_stations(band), [*floor_span, *(place for ridge in ridges for place in ridge)])
    floor, foot_bore = np.full_like(x, band.floor), np.full_like(x, band.foot_bore)

    sleeve = _ring(x, _inside(band, x), floor)
    cavity = ridge = relief = 0.0
    if hollow.shell is not None:
        within, roof = _roof(band, hollow, hollow.shell)
        foot_within = np.full_like(within, band.foot_bore)
        cavity = _ring(within, foot_within, np.maximum(roof, foot_within))
    shell = _ring(x, foot_bore, _outside(band, x)) - cavity
    if hollow.ridge:
        top = band.floor + hollow.ridge.high
        ridge = len(ridges) * hollow.ridge.wide * pi * (top**2 - band.floor**2)
        cavity -= len(ridges) * hollow.ridge.wide * pi * (top**2 - band.foot_bore**2)
    if hollow.relief is not None:
        # Without the chamfer of the bore: the turned surface lies at `relief` from the inside curve itself.
        turned = np.minimum(floor, band.bore + _inside_height(band, x) + hollow.relief)
        for left, right in _between(floor_span, ridges):
            here = (x >= left) & (x <= right)
            relief += _ring(x[here], turned[here], floor[here])
    if hollow.lip:
        half = band.width / 2 - hollow.lip.wide - hollow.lip.play / 2
        plain = np.union1d(x[np.abs(x) < half], [-half, half])
        sleeve = _ring(plain, _inside(band, plain), np.full_like(plain, band.floor))
        shell += 2 * hollow.lip.wide * pi * (band.floor**2 - (band.floor - hollow.lip.high) ** 2)
    return {"shell": shell, "sleeve": sleeve - relief + ridge, "ridge": ridge, "cavity": cavity + relief}


def _ring(x: Curve, lower: Curve, upper: Curve) -> float:
    """Volume between two polylines over the same stations, revolved: exact for each straight piece."""

    def squares(r: Curve) -> Curve:
        return r[:-1] ** 2 + r[:-1] * r[1:] + r[1:] ** 2

    return float(pi / 3 * np.sum(np.diff(x) * (squares(upper) - squares(lower))))


def _between(span: Point, ridges: list[Point]) -> list[Point]:
    """What `ridges` leave of `span`."""
    places = [span[0], *(place for ridge in sorted(ridges) for place in ridge), span[1]]
    return list(zip(places[::2], places[1::2], strict=True))


def _stations(band: Band) -> Curve:
    half = band.width / 2
    legs = [half - band.ease.outer, half - band.ease.bore]
    even = np.linspace(-half, half, SAMPLES)
    return np.unique(np.concatenate([even, legs, np.negative(legs), _samples(band)[0]]))


def _arc_height(x: Curve, half: float, rise: float) -> Curve:
    """Height above its lowest point of the arc that is 0 at mid width and `rise` at `half`."""
    if rise == 0:
        return np.zeros_like(x)
    radius = (half**2 + rise**2) / (2 * rise)
    return radius - np.sqrt(radius**2 - np.minimum(np.abs(x), half) ** 2)


def _inside_height(band: Band, x: Curve) -> Curve:
    return _arc_height(x, band.width / 2, band.comfort)


def _inside(band: Band, x: Curve) -> Curve:
    """Radius of the bore, its edges broken by a straight chamfer."""
    half, leg = band.width / 2, band.ease.bore
    height = _inside_height(band, x)
    if leg:
        start = _inside_height(band, np.array([half - leg]))[0]
        height = np.maximum(height, start + (np.abs(x) - (half - leg)) * (band.comfort + leg - start) / leg)
    return band.bore + height


def _outside(band: Band, x: Curve) -> Curve:
    """Radius of the outside, its edges broken by a straight chamfer."""
    half, leg = band.width / 2, band.ease.outer
    places, radii = _samples(band)
    radius = np.interp(x, places, radii)
    if leg:
        for side, edge in zip((-1, 1), band.edge_heights, strict=True):
            start = np.interp(side * (half - leg), places, radii)
            slope = (band.bore + edge - leg - start) / leg
            chamfer = start + (side * x - (half - leg)) * slope
            radius = np.where(side * x > half - leg, np.minimum(radius, chamfer), radius)
    return radius


def _samples(band: Band) -> tuple[Curve, Curve]:
    """Points along the outside before easing, left to right: axial places and radii."""
    half, top = band.width / 2, band.thickness
    profile = band.profile
    edge = band.edge_heights[1]
    x = np.linspace(-half, half, 2 * SAMPLES - 1)
    match profile.kind:
        case "flat":
            height = np.full_like(x, top)
        case "domed":
            height = top - _arc_height(x, half, top - edge)
        case "bevelled":
            height = np.minimum(top, edge + (half - np.abs(x)) * profile.down / profile.across)
        case "knife-edge" if profile.crown == 0:
            height = top - (top - edge) * np.abs(x) / half
        case "knife-edge":
            # The flank is the steepest line from the edge point that still touches the crown circle from outside:
            # the one that sees it highest.
            turn = np.linspace(0, pi / 2, 200_001)
            circle_x, circle_height = profile.crown * np.cos(turn), top - profile.crown * (1 - np.sin(turn))
            touch = int(np.argmin((edge - circle_height) / (half - circle_x)))
            x = np.union1d(x, [-circle_x[touch], circle_x[touch]])
            slope = (edge - circle_height[touch]) / (half - circle_x[touch])
            flank = edge + slope * (np.abs(x) - half)
            within = np.abs(x) <= circle_x[touch]
            crown = top - profile.crown + np.sqrt(profile.crown**2 - np.where(within, x, 0) ** 2)
            height = np.where(within, crown, flank)
        case "concave":
            height = top - profile.dip + _arc_height(x, half, profile.dip)
        case "custom":
            x, height = _custom_samples(band)
        case kind:
            raise ValueError(f"unknown profile {kind}")
    return x, band.bore + height


def _custom_samples(band: Band) -> tuple[Curve, Curve]:
    points = [np.array([band.profile.start])]
    here = band.profile.start
    for run in band.profile.runs:
        if run.via is None:
            points.append(np.linspace(here, run.end, SAMPLES))
        else:
            points.append(_arc_samples(here, run.via, run.end))
        here = run.end
    x, height = np.concatenate(points).T
    return np.maximum.accumulate(x), height


def _arc_samples(start: Point, via: Point, end: Point) -> Curve:
    """Points along the arc through three points; its centre from the two perpendicular bisectors."""
    ends = np.array([via, end]) - np.array(start)
    centre = np.array(start) + np.linalg.solve(2 * ends, np.sum(ends**2, axis=1))
    first, middle, last = (atan2(y - centre[1], x - centre[0]) for x, y in (start, via, end))
    # All angles counted from the first, in the direction in which `via` comes before the end.
    middle, last = (middle - first) % (2 * pi), (last - first) % (2 * pi)
    if middle > last:
        last -= 2 * pi
    angles = first + np.linspace(0, last, SAMPLES)
    radius = np.hypot(*(np.array(start) - centre))
    samples: Curve = centre + radius * np.column_stack([np.cos(angles), np.sin(angles)])
    return samples


def _roof(band: Band, hollow: Hollow, wall: float) -> tuple[Curve, Curve]:
    """The cavity's roof from wall to wall: axial places and radii."""
    inner = band.width / 2 - wall
    # Closer together towards the walls, where a nose is steep.
    x = inner * np.sin(np.linspace(-pi / 2, pi / 2, 2 * SAMPLES))
    roof = _parallel(band, wall, x)
    if hollow.roof == "straight":
        roof = np.full_like(x, roof.min())
    if hollow.nose:
        centres = np.linspace(-inner + hollow.nose, inner - hollow.nose, 2 * SAMPLES)
        if hollow.roof == "straight":
            lifted = np.full_like(centres, roof[0] - hollow.nose)
        else:
            lifted = _parallel(band, wall + hollow.nose, centres)
        roof = _highest_disc(x, centres, lifted, hollow.nose)
    return x, roof


def _parallel(band: Band, distance: float, x: Curve) -> Curve:
    """Greatest radius at each `x` that keeps `distance` from every sampled point of the outside."""
    places, radii = _samples(band)
    parallel = np.empty_like(x)
    for start in range(0, len(x), 256):
        part = slice(start, start + 256)
        across = places[None, :] - x[part, None]
        lowered = radii - np.sqrt(np.maximum(distance**2 - across**2, 0))
        parallel[part] = np.where(np.abs(across) <= distance, lowered, np.inf).min(axis=1)
    return parallel


def _highest_disc(x: Curve, centres: Curve, heights: Curve, radius: float) -> Curve:
    """Highest point at each `x` of any disc with its centre on the curve given."""
    highest = np.empty_like(x)
    for start in range(0, len(x), 256):
        part = slice(start, start + 256)
        across = centres[None, :] - x[part, None]
        raised = heights + np.sqrt(np.maximum(radius**2 - across**2, 0))
        highest[part] = np.where(np.abs(across) <= radius + 1e-12, raised, 0).max(axis=1)
    return highest
