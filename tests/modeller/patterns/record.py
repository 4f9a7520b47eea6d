"""Volumes of patterns by a solid modeller, recorded in `volumes.toml` for the tests to compare with.

In: `cases.toml`. Out: per case the volume (mm3) that the tools of one repeat take off the band. Tools are exact solids
(cones, balls with a shank, cylinders), their sweeps exact too: prisms, bodies of revolution, tori; their union is
intersected with the band. No formula of the project is used. Run with `--check` or `--write`; needs `cadquery-ocp`.
"""

from __future__ import annotations

import sys
import tomllib
from math import asin, cos, pi, radians, sin, sqrt, tan
from pathlib import Path

from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon, BRepBuilderAPI_MakeWire, BRepBuilderAPI_Transform
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCone, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol, BRepPrimAPI_MakeSphere, BRepPrimAPI_MakeTorus
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax1, gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps

HERE = Path(__file__).parent
WIDTH = 6.0
HIGH = 1.5
"""How far tools stand over their tips."""
DEEP = 1.6
"""How far the band goes down under its largest outside."""

# The axis of the band is X; a place at angle t and radius r lies at (x, r cos t, r sin t).


def volume(shape) -> float:
    props = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, props, 1e-9)
    return props.Mass()


def fuse(shapes):
    whole = shapes[0]
    for shape in shapes[1:]:
        whole = BRepAlgoAPI_Fuse(whole, shape).Shape()
    return whole


def polygon(points):
    wire = BRepBuilderAPI_MakePolygon()
    for point in points:
        wire.Add(gp_Pnt(*point))
    wire.Close()
    return BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()


class Frame:
    """A place of a tool: on a plate (x along the axis, y up from the plate, z along the strip) or on the band."""

    def __init__(self, case, u, v, depth):
        self.plane = case.get("plane", False)
        self.v = v
        if self.plane:
            self.up, self.side = gp_Dir(0, 1, 0), gp_Dir(0, 0, 1)
            self.tip = -depth
            self.at = lambda x, h, s: gp_Pnt(x, h, u + s)
        else:
            t = u / case["radius"]
            self.up, self.side = gp_Dir(0, cos(t), sin(t)), gp_Dir(0, -sin(t), cos(t))
            self.tip = outside(case, v) - depth
            self.at = lambda x, h, s: gp_Pnt(x, h * cos(t) - s * sin(t), h * sin(t) + s * cos(t))


def outside(case, x):
    arc = case.get("dome", 0.0)
    x = max(-WIDTH / 2, min(WIDTH / 2, x))
    return case["radius"] - arc + sqrt(arc * arc - x * x) if arc else case["radius"]


def reach(cutter, height):
    return cutter[2] / 2 + height * tan(radians(cutter[1]) / 2)


def tool(case, cutter, u, v, depth):
    """The cutter at one place."""
    frame = Frame(case, u, v, depth)
    axes = gp_Ax2(frame.at(v, frame.tip, 0), frame.up)
    match cutter[0]:
        case "vee":
            return BRepPrimAPI_MakeCone(axes, cutter[2] / 2, reach(cutter, HIGH), HIGH).Shape()
        case "flat":
            return BRepPrimAPI_MakeCylinder(axes, cutter[1] / 2, HIGH).Shape()
        case "ball":
            middle = frame.at(v, frame.tip + cutter[1], 0)
            shank = BRepPrimAPI_MakeCylinder(gp_Ax2(middle, frame.up), cutter[1], HIGH).Shape()
            return fuse([BRepPrimAPI_MakeSphere(middle, cutter[1]).Shape(), shank])


def profile(cutter, place):
    """The cutter's section: `place(s, h)` gives the point at s beside its axis, h above its tip."""
    if cutter[0] == "vee":
        tip, top = cutter[2] / 2, reach(cutter, HIGH)
        low = [(-tip, 0), (tip, 0)] if tip else [(0, 0)]
        return polygon([(lambda p: (p.X(), p.Y(), p.Z()))(place(s, h)) for s, h in [*low, (top, HIGH), (-top, HIGH)]])
    if cutter[0] == "flat":
        half = cutter[1] / 2
        return polygon([(lambda p: (p.X(), p.Y(), p.Z()))(place(s, h)) for s, h in [(-half, 0), (half, 0), (half, HIGH), (-half, HIGH)]])
    r = cutter[1]
    corners = [place(-r, r), place(0, 0), place(r, r), place(r, HIGH), place(-r, HIGH)]
    wire = BRepBuilderAPI_MakeWire()
    wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(*corners[:3]).Value()).Edge())
    for a, b in [(2, 3), (3, 4), (4, 0)]:
        wire.Add(BRepBuilderAPI_MakeEdge(corners[a], corners[b]).Edge())
    return BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()


def plate_line(case, cutter, a, b, depth):
    """A prism of the cutter's section from a to b on a plate."""
    (u, v), (du, dv) = a, (b[0] - a[0], b[1] - a[1])
    length = sqrt(du * du + dv * dv)
    nx, nz = -du / length, dv / length
    face = profile(cutter, lambda s, h: gp_Pnt(v + s * nx, h - depth, u + s * nz))
    return BRepPrimAPI_MakePrism(face, gp_Vec(dv, 0, du)).Shape()


def round_line(case, cutter, v, u0, u1, depth):
    """The cutter's section turned about the finger axis."""
    tip = outside(case, v) - depth
    t = u0 / case["radius"]
    face = profile(cutter, lambda s, h: gp_Pnt(v + s, (tip + h) * cos(t), (tip + h) * sin(t)))
    axis = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0))
    return BRepPrimAPI_MakeRevol(face, axis, (u1 - u0) / case["radius"]).Shape()


def axial_line(case, cutter, u, v0, v1, depth):
    """The cutter's section pushed along the axis."""
    frame = Frame(case, u, v0, depth)
    face = profile(cutter, lambda s, h: frame.at(v0, frame.tip + h, s))
    return BRepPrimAPI_MakePrism(face, gp_Vec(v1 - v0, 0, 0)).Shape()


def tools(case, cut, pitch):
    cutter, depth = cut["cutter"], cut["depth"]
    each = [(k + 0.5) * pitch / cut.get("count", 1) for k in range(cut.get("count", 1))]
    out = WIDTH / 2 + 1.0
    match cut["kind"]:
        case "lines":
            slants = [tan(radians(cut["slant"]))] * 1 + ([-tan(radians(cut["slant"]))] if cut["both"] else [])
            return [plate_line(case, cutter, (u - s * out, -out), (u + s * out, out), depth) for u in each for s in slants]
        case "flutes" if case.get("dome"):
            # A ball under a dome: the ball's middle goes along an arc, level beyond the faces.
            arc, r = case["dome"], cutter[1]
            assert cutter[0] == "ball"
            found = []
            for u in each:
                frame = Frame(case, u, 0.0, 0.0)
                middle = frame.at(0, case["radius"] - arc - depth + r, 0)
                turn, up = asin(WIDTH / 2 / arc), frame.up
                start = gp_Dir(sin(turn), up.Y() * cos(turn), up.Z() * cos(turn))
                whole = BRepPrimAPI_MakeTorus(gp_Ax2(middle, frame.side, start), arc, r, 2 * turn).Shape()
                found.append(whole)
                edge = outside(case, WIDTH) - depth
                for sign in (-1, 1):
                    end = frame.at(sign * WIDTH / 2, edge + r, 0)
                    found.append(BRepPrimAPI_MakeCylinder(gp_Ax2(end, gp_Dir(sign, 0, 0)), r, 1.0).Shape())
                    found.append(BRepPrimAPI_MakeSphere(end, r).Shape())
            return found
        case "flutes":
            return [axial_line(case, cutter, u, -out, out, depth) for u in each]
        case "ring":
            return [round_line(case, cutter, cut["at"], 0.0, pitch, depth)]
        case "dots":
            return [tool(case, cutter, u, cut["row"], depth) for u in each]
        case "path":
            nodes = cut["nodes"]
            found = [tool(case, cutter, u, v, depth) for u, v in nodes]
            for a, b in zip(nodes, nodes[1:]):
                if case.get("plane"):
                    found.append(plate_line(case, cutter, a, b, depth))
                elif a[0] == b[0]:
                    found.append(axial_line(case, cutter, a[0], a[1], b[1], depth))
                else:
                    found.append(round_line(case, cutter, a[1], a[0], b[0], depth))
            return found
        case "pocket":
            half = cutter[1] / 2
            u0, v0, u1, v1 = cut["rectangle"]
            scale = outside(case, 0) / case["radius"]
            u0, u1, v0, v1 = u0 + half / scale, u1 - half / scale, v0 + half, v1 - half
            found = [tool(case, cutter, u, v, depth) for u in (u0, u1) for v in (v0, v1)]
            if case.get("plane"):
                sides = [((u0, v0), (u0, v1)), ((u1, v0), (u1, v1)), ((u0, v0), (u1, v0)), ((u0, v1), (u1, v1))]
                found += [plate_line(case, cutter, a, b, depth) for a, b in sides]
                found.append(BRepPrimAPI_MakeBox(gp_Pnt(v0, -depth, u0), v1 - v0, HIGH, u1 - u0).Shape())
                return found
            found += [axial_line(case, cutter, u, v0, v1, depth) for u in (u0, u1)]
            tip, t = case["radius"] - depth, u0 / case["radius"]
            place = lambda x, r: (x, r * cos(t), r * sin(t))
            low, high = v0 - half, v1 + half
            face = polygon([place(low, tip), place(high, tip), place(high, tip + HIGH), place(low, tip + HIGH)])
            found.append(BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0)), (u1 - u0) / case["radius"]).Shape())
            return found
        case "facets":
            tilt = radians(cut["tilt"]) * (-1 if cut["row"] < 0 else 1)
            found = []
            for u in each:
                frame = Frame(case, u, cut["row"], 0.0)
                at = frame.at(cut["row"], case["radius"] - depth, 0)
                up = frame.up
                normal = gp_Dir(sin(tilt), up.Y() * cos(tilt), up.Z() * cos(tilt))
                along = gp_Dir(cos(tilt), -up.Y() * sin(tilt), -up.Z() * sin(tilt))
                box = BRepPrimAPI_MakeBox(20.0, 20.0, 3.0).Shape()
                move = gp_Trsf()
                move.SetTransformation(gp_Ax3(at, normal, along), gp_Ax3(gp_Pnt(10, 10, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0)))
                move.Invert()
                back = gp_Trsf()
                back.SetDisplacement(gp_Ax3(gp_Pnt(10, 10, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0)), gp_Ax3(at, normal, along))
                found.append(BRepBuilderAPI_Transform(box, back, True).Shape())
            return found
    raise ValueError(cut["kind"])


def body(case, pitch):
    half = WIDTH / 2
    if case.get("plane"):
        return BRepPrimAPI_MakeBox(gp_Pnt(-half, -DEEP, -10), WIDTH, DEEP, pitch + 20).Shape()
    radius, low = case["radius"], case["radius"] - DEEP
    rings = any(cut["kind"] == "ring" for cut in case["cuts"])
    # A whole repeat where a ring is cut; else more, so that nothing ends at the seam.
    start, turn = (0.0, pitch / radius) if rings else (-pitch / radius, 3 * pitch / radius)
    place = lambda x, r: gp_Pnt(x, r * cos(start), r * sin(start))
    edge = outside(case, half)
    wire = BRepBuilderAPI_MakeWire()
    if case.get("dome"):
        wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(place(-half, edge), place(0, radius), place(half, edge)).Value()).Edge())
    else:
        wire.Add(BRepBuilderAPI_MakeEdge(place(-half, edge), place(half, edge)).Edge())
    for a, b in [((half, edge), (half, low)), ((half, low), (-half, low)), ((-half, low), (-half, edge))]:
        wire.Add(BRepBuilderAPI_MakeEdge(place(*a), place(*b)).Edge())
    face = BRepBuilderAPI_MakeFace(wire.Wire(), True).Face()
    return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0)), turn).Shape()


def removed(case) -> float:
    pitch = 2 * pi * case["radius"] / case["repeats"]
    parts = [part for cut in case["cuts"] for part in tools(case, cut, pitch)]
    # Tools are intersected with the band first: fewer faces meet each other.
    band = body(case, pitch)
    return volume(fuse([BRepAlgoAPI_Common(band, part).Shape() for part in parts]))


def main() -> int:
    cases = tomllib.loads((HERE / "cases.toml").read_text())["case"]
    found = {case["name"]: removed(case) for case in cases}
    record = HERE / "volumes.toml"
    if "--write" in sys.argv:
        lines = ["# Written by `record.py --write`: volume taken off one repeat, mm3.", ""]
        record.write_text("\n".join([*lines, *(f"{name} = {value:.9f}" for name, value in found.items())]) + "\n")
        return 0
    known = tomllib.loads(record.read_text())
    wrong = [name for name, value in found.items() if abs(known.get(name, 0) / value - 1) > 1e-7]
    print("differs:", wrong) if wrong else print("as recorded")
    return 1 if wrong else 0


sys.exit(main())
