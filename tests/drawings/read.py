"""Reads drawings of the program with an independent library, and integrates what it finds. See README.md."""

import io
import json
import math
import subprocess
import sys
from collections import Counter
from pathlib import Path

import ezdxf
from ezdxf import edgeminer, edgesmith

ROOT = Path(__file__).resolve().parents[2]
DRAWINGS = [
    ("examples/ferrule.annulet", "ferrule"),
    ("examples/latch.annulet", "latch"),
    ("examples/harvest.annulet", "harvest"),
]

STRIPS = [
    ("examples/wicker.annulet", "wicker"),
    ("examples/millpond.annulet", "millpond"),
    ("examples/trellis.annulet", "trellis"),
    ("examples/haystack.annulet", "haystack"),
    ("examples/reedbed.annulet", "reedbed"),
]


def outline(entities):
    """Corners of the one closed loop of lines and arcs, arcs flattened to a nanometre."""
    edges = list(edgesmith.edges_from_entities_2d(entities))
    deposit = edgeminer.Deposit(edges, gap_tol=1e-6)
    loop = edgeminer.find_loop(deposit)
    assert len(loop) == len(edges), (len(loop), len(edges))
    corners = []
    for edge in loop:
        entity = edge.payload
        if entity.dxftype() == "LINE":
            places = [entity.dxf.start, entity.dxf.end]
        else:
            places = list(entity.flattening(1e-9))
        # Joined by where the edge begins; an arc is written one way round only.
        if places[0].distance(edge.start) > places[-1].distance(edge.start):
            places.reverse()
        corners.extend(places[:-1])
    return corners


def swept(corners):
    """Volume of the ring about y = 0, by frustums of cones."""
    volume = 0.0
    for one, two in zip(corners, corners[1:] + corners[:1]):
        volume += math.pi * (two.x - one.x) * (one.y**2 + one.y * two.y + two.y**2) / 3
    return abs(volume)


def read(program, example, band):
    """What the library finds in the drawing of a band."""
    call = [program, "section", band, "--dxf", "--view", "finished", "--in", example]
    text = subprocess.run(call, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    document = ezdxf.read(io.StringIO(text))
    space = document.modelspace()
    layers = Counter(entity.dxf.layer for entity in space)
    volumes = {}
    shell = swept(outline(space.query('*[layer=="SECTION"]')))
    if layers["SLEEVE"]:
        volumes["shell.volume"] = shell
        volumes["sleeve.volume"] = swept(outline(space.query('*[layer=="SLEEVE"]')))
    else:
        volumes["volume.uncut"] = shell
    return {
        "example": example,
        "band": band,
        "release": document.dxfversion,
        "faults": len(document.audit().errors),
        "entities": dict(sorted(Counter(entity.dxftype() for entity in space).items())),
        "volumes": volumes,
    }


def length(entity):
    """How long a line, an arc, a circle or a polyline is."""
    kind = entity.dxftype()
    if kind == "POINT":
        return 0.0
    if kind == "LINE":
        return entity.dxf.start.distance(entity.dxf.end)
    if kind == "CIRCLE":
        return 2 * math.pi * entity.dxf.radius
    if kind == "ARC":
        turn = (entity.dxf.end_angle - entity.dxf.start_angle) % 360 or 360
        return math.radians(turn) * entity.dxf.radius
    corners = list(entity.points())
    if entity.is_closed:
        corners.append(corners[0])
    return sum(one.distance(two) for one, two in zip(corners, corners[1:]))


def strip(program, example, band):
    """What the library finds in the strip of a band: layer by layer what there is of each kind, and how long it is."""
    call = [program, "strip", band, "--dxf", "--in", example]
    text = subprocess.run(call, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    document = ezdxf.read(io.StringIO(text))
    layers = {}
    for entity in document.modelspace():
        known = layers.setdefault(entity.dxf.layer, {})
        count, so_far = known.get(entity.dxftype(), (0, 0.0))
        known[entity.dxftype()] = (count + 1, so_far + length(entity))
    edges = [(line.dxf.start, line.dxf.end) for line in document.query('LINE[layer=="STRIP"]')]
    places = [place for edge in edges for place in edge]
    repeats = sorted(line.dxf.start.x for line in document.query('LINE[layer=="REPEATS"]'))
    return {
        "example": example,
        "band": band,
        "release": document.dxfversion,
        "faults": len(document.audit().errors),
        "left": min(place.x for place in places),
        "right": max(place.x for place in places),
        "low": min(place.y for place in places),
        "high": max(place.y for place in places),
        "repeats": repeats,
        "layers": layers,
    }


def main():
    program = str(Path(sys.argv[1]).resolve())
    drawings = [read(program, example, band) for example, band in DRAWINGS]
    strips = [strip(program, example, band) for example, band in STRIPS]
    record = {"ezdxf": ezdxf.__version__, "drawings": drawings, "strips": strips}
    json.dump(record, sys.stdout, indent=1)
    print()


main()
