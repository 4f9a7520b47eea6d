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


def main():
    program = str(Path(sys.argv[1]).resolve())
    drawings = [read(program, example, band) for example, band in DRAWINGS]
    json.dump({"ezdxf": ezdxf.__version__, "drawings": drawings}, sys.stdout, indent=1)
    print()


main()
