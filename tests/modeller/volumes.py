"""Volumes of ring bands by a solid modeller, recorded in `volumes.toml` for the tests to compare with.

In: `cases.toml`. Out: per case the volume of the solid band and, of a hollow one, of shell, sleeve, ridges and cavity,
in mm3. Sections are built of exact lines and arcs in the plane (axial place, radius), combined by the kernel's own
booleans and offsets, revolved about the axis, and measured as solids. No formula of the project is used: the cavity is
the inward offset of the section, not a list of hand-made curves. `integral.py` integrates the same bands numerically,
from closed formulas, to catch slips made here. How the model was read where it leaves a choice stands in `README.md`.

Run with `--check` (compares with the record, status 1 where it differs) or `--write` (records).
"""

from __future__ import annotations

import argparse
import hashlib
import sys
import tomllib
from dataclasses import dataclass
from importlib.metadata import version
from itertools import pairwise
from math import isclose, pi
from pathlib import Path

from OCP.BRep import BRep_Tool
from OCP.BRepAlgoAPI import BRepAlgoAPI_BooleanOperation, BRepAlgoAPI_Common, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepGProp import BRepGProp
from OCP.BRepOffsetAPI import BRepOffsetAPI_MakeOffset
from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.GccAna import GccAna_Lin2d2Tan
from OCP.GccEnt import GccEnt
from OCP.GeomAbs import GeomAbs_Arc
from OCP.gp import gp_Ax1, gp_Ax2d, gp_Circ2d, gp_Dir, gp_Dir2d, gp_Pnt, gp_Pnt2d
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_ShapeEnum, TopAbs_VERTEX, TopAbs_WIRE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Edge, TopoDS_Face, TopoDS_Shape

import integral
from bands import Band, Hollow, Point, Ridge, read_bands

SCRIPT_VERSION = "1"
PACKAGES = ("cadquery-ocp", "numpy")

HERE = Path(__file__).parent
CASES, RECORD = HERE / "cases.toml", HERE / "volumes.toml"
SCRIPTS = (HERE / "volumes.py", HERE / "bands.py", HERE / "integral.py")

DEEP = 5.0
"""How far below the floor the section is continued so that the offset of its bottom never meets the cavity."""
NEAR = 1e-7
"""Two places closer than this are one: the modeller's own tolerance."""
LEAST_WALL, MARGIN = 0.20, 0.01
"""Default least wall of the model, and what every case keeps beyond it and beyond any other bound."""
INTEGRAL_AGREES = 3e-6
"""How closely, relative to the solid band, the numeric integral must agree: it is the coarser of the two."""
SAME = 1e-9
"""Relative difference up to which a figure is the recorded one."""

Figures = dict[str, float]
"""Volumes in mm3 and places in mm, by name."""


# --- plane geometry in the kernel: x axial, y radius ----------------------------------------------


def point(place: Point) -> gp_Pnt:
    return gp_Pnt(place[0], place[1], 0.0)


def line(start: Point, end: Point) -> TopoDS_Edge:
    return BRepBuilderAPI_MakeEdge(point(start), point(end)).Edge()


def chain(*places: Point) -> list[TopoDS_Edge]:
    """Straight edges from place to place."""
    return [line(a, b) for a, b in pairwise(places)]


def arc(start: Point, via: Point, end: Point) -> TopoDS_Edge:
    return BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(point(start), point(via), point(end)).Value()).Edge()


def face(*edges: TopoDS_Edge) -> TopoDS_Face:
    """The plane face inside a closed chain of edges."""
    wire = BRepBuilderAPI_MakeWire()
    for edge in edges:
        wire.Add(edge)
    return BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()


def polygon(*corners: Point) -> TopoDS_Face:
    return face(*chain(*corners, corners[0]))


def box(left: float, right: float, low: float, high: float) -> TopoDS_Face:
    return polygon((left, low), (right, low), (right, high), (left, high))


def result(operation: BRepAlgoAPI_BooleanOperation) -> TopoDS_Shape:
    if not operation.IsDone():
        raise ArithmeticError("a boolean failed")
    return operation.Shape()


def common(a: TopoDS_Shape, b: TopoDS_Shape) -> TopoDS_Shape:
    return result(BRepAlgoAPI_Common(a, b))


def cut(a: TopoDS_Shape, *tools: TopoDS_Shape) -> TopoDS_Shape:
    for tool in tools:
        a = result(BRepAlgoAPI_Cut(a, tool))
    return a


def fuse(a: TopoDS_Shape, *others: TopoDS_Shape) -> TopoDS_Shape:
    for other in others:
        a = result(BRepAlgoAPI_Fuse(a, other))
    return a


def parts(shape: TopoDS_Shape, kind: TopAbs_ShapeEnum) -> list[TopoDS_Shape]:
    found: list[TopoDS_Shape] = []
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def corners(shape: TopoDS_Shape) -> list[Point]:
    places = [BRep_Tool.Pnt_s(TopoDS.Vertex(vertex)) for vertex in parts(shape, TopAbs_VERTEX)]
    return [(place.X(), place.Y()) for place in places]


def offset(region: TopoDS_Face, distance: float) -> TopoDS_Face:
    """The region grown (or, below 0, shrunk) by `distance`: arcs at the corners that open, sharp at those that close.

    Shrunk, that is the corner rule of the model: convex corners of the cavity sharp, reflex ones arcs of radius `t`.
    The kernel manages this for every case, also where an arc of the outside is smaller than the wall and its parallel
    vanishes; nothing had to be built by hand.
    """
    maker = BRepOffsetAPI_MakeOffset(region, GeomAbs_Arc, False)
    maker.Perform(distance)
    if not maker.IsDone():
        raise ArithmeticError(f"no offset by {distance}")
    (wire,) = parts(maker.Shape(), TopAbs_WIRE)
    return BRepBuilderAPI_MakeFace(TopoDS.Wire(wire), True).Face()


def distance_between(a: TopoDS_Shape, b: TopoDS_Shape) -> float:
    return float(BRepExtrema_DistShapeShape(a, b).Value())


def volume(section: TopoDS_Shape) -> float:
    """Volume of the section revolved once, measured on the solid."""
    total = area_moment = 0.0
    for part in parts(section, TopAbs_FACE):
        solid = BRepPrimAPI_MakeRevol(part, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0))).Shape()
        properties = GProp_GProps()
        BRepGProp.VolumeProperties_s(solid, properties)
        total += abs(properties.Mass())
        flat = GProp_GProps()
        BRepGProp.SurfaceProperties_s(part, flat)
        area_moment += abs(flat.Mass()) * flat.CentreOfMass().Y()
    # The kernel's plane properties (Pappus) must agree with its solid: a face turned inside out would show here. Where
    # an offset closes a corner over an arc that vanished, its ends meet within some 1e-9 mm only.
    if not isclose(total, 2 * pi * area_moment, rel_tol=1e-8, abs_tol=1e-8):
        raise ArithmeticError(f"solid {total} and section {2 * pi * area_moment} differ")
    return total


# --- sections of a band ---------------------------------------------------------------------------


def outside_edges(band: Band) -> list[TopoDS_Edge]:
    """The outside curve from left to right, before easing."""
    half, top = band.width / 2, band.thickness
    profile = band.profile
    edge_left, edge_right = band.edge_heights

    def at(x: float, height: float) -> Point:
        return x, band.bore + height

    left, right = at(-half, edge_left), at(half, edge_right)
    match profile.kind:
        case "flat":
            return [line(left, right)]
        case "domed":
            return [arc(left, at(0, top), right)]
        case "concave":
            return [arc(left, at(0, top - profile.dip), right)]
        case "bevelled":
            inner = half - profile.across
            return chain(left, at(-inner, top), at(inner, top), right)
        case "knife-edge" if profile.crown == 0:
            return chain(left, at(0, top), right)
        case "knife-edge":
            touch_x, touch_r = tangent_point(right, at(0, top - profile.crown), profile.crown)
            crown = arc((-touch_x, touch_r), at(0, top), (touch_x, touch_r))
            return [line(left, (-touch_x, touch_r)), crown, line((touch_x, touch_r), right)]
        case "custom":
            edges: list[TopoDS_Edge] = []
            here = at(*profile.start)
            for run in profile.runs:
                end = at(*run.end)
                edges.append(line(here, end) if run.via is None else arc(here, at(*run.via), end))
                here = end
            return edges
        case kind:
            raise ValueError(f"unknown profile {kind}")


def tangent_point(start: Point, centre: Point, radius: float) -> Point:
    """Where the upper tangent from `start` touches a circle, by the kernel's own construction."""
    circle = gp_Circ2d(gp_Ax2d(gp_Pnt2d(*centre), gp_Dir2d(1, 0)), radius)
    tangents = GccAna_Lin2d2Tan(GccEnt.Unqualified_s(circle), gp_Pnt2d(*start), NEAR)
    places: list[Point] = []
    for number in range(1, tangents.NbSolutions() + 1):
        touch = gp_Pnt2d()
        tangents.Tangency1(number, touch)
        places.append((touch.X(), touch.Y()))
    return max(places, key=lambda place: place[1])


def bore_edges(band: Band, raised: float = 0.0) -> list[TopoDS_Edge]:
    """The inside curve from left to right, before easing, or the same curve `raised` radially."""
    half, low = band.width / 2, band.bore + raised
    edge = low + band.comfort
    if band.comfort == 0:
        return [line((-half, low), (half, low))]
    return [arc((-half, edge), (0, low), (half, edge))]


def whole_section(band: Band) -> TopoDS_Shape:
    """The section of the solid band, eased."""
    half = band.width / 2
    bore_edge = band.bore + band.comfort
    left, right = (band.bore + height for height in band.edge_heights)
    section = face(
        *bore_edges(band),
        line((half, bore_edge), (half, right)),
        *reversed(outside_edges(band)),
        line((-half, left), (-half, bore_edge)),
    )
    eased: TopoDS_Shape = section
    for side, edge in ((-1, left), (1, right)):
        if leg := band.ease.outer:
            eased = cut(eased, chamfer(section, (side * half, edge), leg, outward=1))
        if leg := band.ease.bore:
            eased = cut(eased, chamfer(section, (side * half, bore_edge), leg, outward=-1))
    return eased


def chamfer(section: TopoDS_Face, edge: Point, leg: float, outward: int) -> TopoDS_Face:
    """What easing one edge takes away: all beyond the line between the ends of the two legs.

    The radial leg lies on the side face; the axial leg is counted along x and ends on the outside (or on the bore).
    """
    place, radius = edge
    inward = place - leg if place > 0 else place + leg
    across = corners(common(line((inward, NEAR), (inward, 2 * radius)), section))
    surface = max(y for _, y in across) if outward > 0 else min(y for _, y in across)
    low = (place, radius - outward * leg)
    # Continued outward along its own line so that nothing is left beyond either end, and closed well outside the metal.
    beyond = (2 * place - inward, 2 * low[1] - surface)
    far = radius + outward * DEEP / 2
    return polygon((inward, surface), beyond, (beyond[0], far), (inward, far))


def channel(band: Band, hollow: Hollow) -> TopoDS_Face:
    """The cavity, continued downward far below the floor: where no wall reaches, whatever stands below."""
    assert hollow.shell is not None
    half, wall = band.width / 2, hollow.shell
    bottom = band.floor - DEEP
    left, right = (band.bore + height for height in band.edge_heights)
    outside = outside_edges(band)
    region = face(
        line((-half, bottom), (-half, left)),
        *outside,
        line((half, right), (half, bottom)),
        line((half, bottom), (-half, bottom)),
    )
    within = offset(region, -wall)
    if hollow.roof == "straight":
        roof = lowest_roof(within, half - wall, bottom)
        within = box(wall - half, half - wall, bottom + wall, roof)
        ceiling = line((wall - half, roof), (half - wall, roof))
        distance = min(distance_between(ceiling, edge) for edge in outside)
        if abs(distance - wall) > 1e-9:
            raise ArithmeticError(f"straight roof at {distance} from the outside, not {wall}")
    if hollow.nose:
        # What a round tool of this radius can reach: shrunk and grown again, which rounds the convex corners only.
        within = offset(offset(within, -hollow.nose), hollow.nose)
    return within


def lowest_roof(within: TopoDS_Face, wall_place: float, bottom: float) -> float:
    """Least radius of the roof of a channel: how far its edges, walls and bottom left out, keep from a line below."""
    below = line((-wall_place, bottom), (wall_place, bottom))
    roofs: list[TopoDS_Shape] = []
    for edge in parts(within, TopAbs_EDGE):
        ends = corners(edge)
        on_wall = any(all(abs(x - wall) < NEAR for x, _ in ends) for wall in (-wall_place, wall_place))
        at_bottom = all(y < bottom + DEEP / 2 for _, y in ends)
        if not on_wall and not at_bottom:
            roofs.append(edge)
    return bottom + min(distance_between(below, edge) for edge in roofs)


@dataclass(frozen=True)
class Build:
    """Sections of a hollow band, and where its feet and ridges stand."""

    shell: TopoDS_Shape
    sleeve: TopoDS_Shape
    ridges: list[TopoDS_Face]
    opening: TopoDS_Shape | None
    """The cavity as if no ridge stood in it."""
    relief: TopoDS_Shape | None
    gap: TopoDS_Shape | None
    """What the play of the turning stage leaves open between floor and foot bore."""
    floor_span: Point
    """Axial places of the inner ends of the two feet; both 0 for a full shell."""
    ridge_spans: list[Point]


def build(band: Band, hollow: Hollow, solid: TopoDS_Shape) -> Build:
    """Takes the solid section apart into shell and sleeve, and adds ridges or lips."""
    half, floor, foot = band.width / 2, band.floor, band.foot_bore
    above = box(-half, half, foot, foot + 2 * DEEP)
    below = box(-half, half, floor - DEEP, floor)
    shell, sleeve = common(solid, above), common(solid, below)
    opening: TopoDS_Shape | None = None
    floor_span = (0.0, 0.0)
    if hollow.shell is not None:
        hole = channel(band, hollow)
        shell, opening = cut(shell, hole), common(hole, above)
        on_foot = [x for x, y in corners(opening) if abs(y - foot) < NEAR]
        floor_span = (min(on_foot), max(on_foot))

    ridge_spans: list[Point] = []
    if hollow.ridge:
        assert opening is not None
        ridge_spans = ridge_places(opening, hollow.ridge, floor + hollow.ridge.high)
    ridges = [box(left, right, floor, floor + hollow.ridge.high) for left, right in ridge_spans if hollow.ridge]

    relief: TopoDS_Shape | None = None
    if hollow.relief is not None:
        relief = common(above_bore(band, hollow.relief), box(*floor_span, floor - DEEP, floor))
        # A ridge keeps the metal it stands on: only what lies beside it is turned down.
        relief = cut(relief, *(box(left, right, floor - DEEP, floor) for left, right in ridge_spans))
        sleeve = cut(sleeve, relief)
    if lip := hollow.lip:
        plain = half - lip.wide - lip.play / 2
        sleeve = common(sleeve, box(-plain, plain, floor - DEEP, floor))
        shell = fuse(shell, *(box(left, left + lip.wide, floor - lip.high, floor) for left in (-half, half - lip.wide)))
    gap = cut(box(-half, half, floor, foot), *ridges) if hollow.turning else None
    return Build(shell, fuse(sleeve, *ridges), ridges, opening, relief, gap, floor_span, ridge_spans)


def above_bore(band: Band, raised: float) -> TopoDS_Face:
    """All metal and space above the inside curve raised radially by `raised`."""
    half, top = band.width / 2, band.bore + 2 * DEEP
    edge = band.bore + band.comfort + raised
    return face(
        *bore_edges(band, raised),
        line((half, edge), (half, top)),
        line((half, top), (-half, top)),
        line((-half, top), (-half, edge)),
    )


def ridge_places(opening: TopoDS_Shape, ridge: Ridge, top: float) -> list[Point]:
    """Axial spans of the ridges: one at mid width, or two as far out as the roof stands at or above their tops."""
    if ridge.count == 1:
        return [(-ridge.wide / 2, ridge.wide / 2)]
    # Below its roof the opening has no holes: where the line at the ridge tops lies inside, the roof is above it.
    free = [x for x, _ in corners(common(line((-2 * DEEP, top), (2 * DEEP, top)), opening))]
    left, right = min(free) + ridge.play, max(free) - ridge.play
    return [(left, left + ridge.wide), (right - ridge.wide, right)]


# --- what is recorded -----------------------------------------------------------------------------


def figures(band: Band) -> Figures:
    """All figures of one band, cross-checked; a band that the model would refuse is an error."""
    check_limits(band)
    section = whole_section(band)
    found: Figures = {"solid": volume(section)}
    integrated = {"solid": integral.solid_volume(band)}
    if hollow := band.hollow:
        made = build(band, hollow, section)
        check_build(made, band.foot_bore)
        found["shell"] = volume(made.shell)
        found["sleeve"] = volume(made.sleeve)
        found["ridge"] = sum(volume(ridge) for ridge in made.ridges)
        found["cavity"] = volume(cut(made.opening, *made.ridges)) if made.opening else 0.0
        if made.relief:
            found["relief"] = volume(made.relief)
            found["cavity"] += found["relief"]
        if made.gap:
            found["gap"] = volume(made.gap)
        if hollow.lip is None:
            check_filled(found)
        integrated |= integral.hollow_volumes(band, made.floor_span, made.ridge_spans)
        if made.opening:
            found["foot_left"] = made.floor_span[0] + band.width / 2
            found["foot_right"] = band.width / 2 - made.floor_span[1]
        if made.ridge_spans:
            found["ridge_left"] = made.ridge_spans[0][0]
            found["ridge_right"] = made.ridge_spans[-1][1]
    for name, value in integrated.items():
        if abs(found[name] - value) > INTEGRAL_AGREES * found["solid"]:
            raise ArithmeticError(f"{name}: modelled {found[name]}, integrated {value}")
    return found


def check_filled(found: Figures) -> None:
    """Parts, cavity and gap fill the solid band of the same look, with nothing twice."""
    total = found["shell"] + found["sleeve"] + found["cavity"] + found.get("gap", 0.0)
    if not isclose(total, found["solid"], rel_tol=1e-9):
        raise ArithmeticError(f"the parts make {total}, the solid is {found['solid']}")


def check_limits(band: Band) -> None:
    """The written figures keep the bounds and least walls of the model, with a margin."""
    rooms = {"comfort": band.width / 2 - band.comfort}
    walls: dict[str, float] = {}
    edge = min(band.edge_heights)
    if band.profile.kind == "domed":
        rooms |= {"edge below crown": band.thickness - edge, "dome": band.width / 2 - (band.thickness - edge)}
    if hollow := band.hollow:
        walls["sleeve at its edge"] = hollow.sleeve - band.comfort - band.ease.bore
        walls["shell at its side face"] = edge - hollow.sleeve - hollow.turning / 2 - band.ease.outer
        if hollow.shell is not None:
            walls["wall"] = hollow.shell
        if hollow.relief is not None:
            walls["under the relief"] = hollow.relief
            rooms["relief"] = hollow.sleeve - hollow.relief
        if hollow.lip and hollow.shell is not None:
            rooms["lip on the foot"] = hollow.shell - hollow.lip.wide - hollow.lip.play / 2
            walls["sleeve below the lip"] = hollow.sleeve - hollow.lip.high - band.comfort
    short = [name for name, wall in walls.items() if wall < LEAST_WALL + MARGIN - 1e-12]
    short += [name for name, room in rooms.items() if room < MARGIN - 1e-12]
    if short:
        raise ValueError(f"against the limits of the model: {', '.join(short)}")


def check_build(made: Build, foot: float) -> None:
    """The cavity is not split, and the ridges stand in it, clear of the shell and of each other."""
    if made.opening is None:
        return
    if len(parts(made.opening, TopAbs_FACE)) != 1:
        raise ValueError("the cavity is split")
    places = [place for span in made.ridge_spans for place in span]
    if places != sorted(places):
        raise ValueError("the ridges overlap")
    for ridge in made.ridges:
        if any(y > foot + NEAR for _, y in corners(cut(ridge, made.opening))):
            raise ValueError("a ridge stands in the shell")


def sha256(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def header() -> dict[str, str]:
    """What the record was made from and with."""
    made = {"script": SCRIPT_VERSION}
    made |= {f"{path.stem}_sha256": sha256(path) for path in (CASES, *SCRIPTS)}
    return made | {package: version(package) for package in PACKAGES}


def render(record: dict[str, Figures]) -> str:
    """The text of `volumes.toml`."""
    lines = ["# Written by `volumes.py --write`. Volumes in mm3, feet and ridges in mm.", "", "[made]"]
    lines += [f'{key} = "{value}"' for key, value in header().items()]
    for name, found in record.items():
        lines += ["", "[[band]]", f'name = "{name}"']
        lines += [f"{key} = {value:#.12g}" for key, value in found.items()]
    return "\n".join(lines) + "\n"


def differences(recorded: str, record: dict[str, Figures]) -> list[str]:
    """Where the text of a record is not what was computed now."""
    old = tomllib.loads(recorded)
    was = old["made"]
    found = [f"made: {key} is {now}, recorded {was.get(key)}" for key, now in header().items() if now != was.get(key)]
    bands = {band.pop("name"): band for band in old["band"]}
    for name in bands.keys() | record.keys():
        before, now = bands.get(name, {}), record.get(name, {})
        for key in before.keys() | now.keys():
            if key not in before or key not in now:
                found.append(f"{name}.{key}: only on one side")
            elif not isclose(before[key], now[key], rel_tol=SAME, abs_tol=SAME):
                found.append(f"{name}.{key}: {now[key]:.12g}, recorded {before[key]:.12g}")
    return sorted(found)


def main() -> int:
    parser = argparse.ArgumentParser(description="Volumes of ring bands by a solid modeller.")
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--check", action="store_true", help="compute again and compare with the record")
    what.add_argument("--write", action="store_true", help="compute and record")
    arguments = parser.parse_args()

    record: dict[str, Figures] = {}
    faults: list[str] = []
    for band in read_bands(CASES.read_text(encoding="utf-8")):
        try:
            record[band.name] = figures(band)
        except (ArithmeticError, ValueError) as fault:
            faults.append(f"{band.name}: {fault}")
    if not faults and arguments.write:
        RECORD.write_text(render(record), encoding="utf-8")
    if arguments.check:
        faults += differences(RECORD.read_text(encoding="utf-8"), record)
    for message in faults:
        print(message, file=sys.stderr)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
