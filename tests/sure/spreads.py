"""How far weight, wall and cost of random flat pipes may be off, by a general package for uncertainties and by brute force.

Draws rings with a cut, each number with a half width, and records of weight, least wall and cost: the lowest and highest
value at all corners and at 20,000 places inside (a dense sample), the standard deviation to first order as the package
`uncertainties` (3.2.3) propagates it from half widths over the root of 3, and that of 400,000 rings drawn with numpy. It
shares nothing with the program; the closed form of a cut pipe is written out below.

    pip install uncertainties==3.2.3 numpy
    python3 tests/sure/spreads.py > tests/sure/spreads.json
"""
import itertools
import json
import math
import random

import numpy
from uncertainties import ufloat

draw = random.Random(20261127)
chance = numpy.random.default_rng(20261127)
NAMES = ["bore", "width", "thick", "mean", "deep", "cover", "density", "gold", "run", "labour"]


def weight(v):
    """A pipe less what is cut off its outside to a mean depth, over a part of it; mm and g/cm3 to g."""
    inner, outer = v["bore"] / 2, v["bore"] / 2 + v["thick"]
    whole = math.pi * (outer * outer - inner * inner) * v["width"]
    floor = outer - v["mean"]
    cut = v["cover"] * math.pi * (outer * outer - floor * floor) * v["width"]
    return (whole - cut) * v["density"] / 1000, cut * v["density"] / 1000


def figures(v):
    finished, cut = weight(v)
    # What the pattern takes off is issued and does not come back; 3/4 of the metal is gold, the rest costs nothing.
    cost = (finished + cut) * 0.75 * v["gold"] + v["run"] / 60 * v["labour"]
    return {"weight": finished, "wall": v["thick"] - v["deep"], "cost": cost}


def dec(low, high, places):
    return round(draw.uniform(low, high), places)


cases = []
for _ in range(12):
    nominal = {
        "bore": dec(15, 21, 2), "width": dec(3, 8, 2), "thick": dec(1.2, 2.4, 2), "mean": dec(0.05, 0.2, 2),
        "deep": dec(0.25, 0.5, 2), "cover": dec(0.3, 0.9, 2), "density": dec(11, 18, 2), "gold": dec(60, 120, 2),
        "run": dec(5, 40, 0), "labour": dec(20, 60, 0),
    }
    half = {
        "bore": dec(0.01, 0.2, 3), "width": dec(0.01, 0.2, 3), "thick": dec(0.01, 0.1, 3), "mean": dec(0.005, 0.03, 3),
        "deep": dec(0.01, 0.05, 3), "cover": dec(0.01, 0.05, 3), "density": dec(0.05, 0.5, 2), "gold": dec(1, 10, 2),
        "run": dec(1, 4, 0), "labour": dec(1, 5, 0),
    }
    if draw.random() < 0.5:
        for name in draw.sample(NAMES, 6):
            half[name] = 0.0
    moving = [name for name in NAMES if half[name]]
    found = {name: [value, value] for name, value in figures(nominal).items()}

    def look(place):
        v = dict(nominal)
        for name, t in zip(moving, place):
            v[name] = nominal[name] + t * half[name]
        for name, value in figures(v).items():
            found[name] = [min(found[name][0], value), max(found[name][1], value)]

    for place in itertools.product([-1, 1], repeat=len(moving)):
        look(place)
    for _ in range(20000):
        look([draw.uniform(-1, 1) for _ in moving])
    given = {n: ufloat(nominal[n], half[n] / math.sqrt(3)) if half[n] else nominal[n] for n in NAMES}
    first = {n: getattr(value, "s", 0.0) for n, value in figures(given).items()}
    rings = {n: nominal[n] + half[n] * chance.uniform(-1, 1, 400_000) for n in NAMES}
    drawn = {n: float(numpy.std(value)) for n, value in figures(rings).items()}
    cases.append({"nominal": nominal, "half": half, "range": found, "first": first, "drawn": drawn})
print(json.dumps(cases, indent=1))
