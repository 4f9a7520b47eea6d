"""What hollow rings bear between two opposed forces, by numeric integration (scipy).

Writes `bears.json` beside it: the script's checksum, and for each case its recipe and what was found.

    pip install scipy
    python3 tests/stretch/bears.py

Nothing of the project's code is used. Sections are integrated over their own curves (arcs by their circles, parallels
by the normal); the ring is solved by Castigliano's theorem with the strain energy of a curved beam as textbooks of
strength of materials give it (Winkler and Bach: bending, tension, both together, shear with 6/5), the redundant
moment found by a root finder and every integral round the ring taken numerically; the greatest stress is sought over
the whole quarter, at the innermost and the outermost fibre.

Shell and sleeve stand side by side and shorten alike. A channel distorts and keeps 0.74 of the stiffness that its
section says, the lower end of what three-dimensional elasticity gave (0.74 to 0.87): the estimate of the project, and
stated here as a number of its own.
"""

from __future__ import annotations

import hashlib
import json
from math import cos, inf, pi, sin, sqrt
from pathlib import Path

from scipy.integrate import quad
from scipy.optimize import brentq

HERE = Path(__file__).parent
DISTORTION = 0.74
SHEAR = 6 / 5
NU = 0.38


def integral(f, places):
    """Over the stretches between places, where `f` is smooth."""
    ends = sorted(set(places))
    return sum(quad(f, a, b, epsabs=1e-13, epsrel=1e-13, limit=200)[0] for a, b in zip(ends, ends[1:]) if b - a > 1e-12)


def arc(chord: float, rise: float, edge: float):
    """Heights of an arc over a chord, whose ends stand at `edge`; a negative rise dips."""
    radius = (chord * chord / 4 + rise * rise) / (2 * abs(rise))
    centre = edge + rise - (radius if rise > 0 else -radius)
    sign = 1 if rise > 0 else -1
    return radius, centre, lambda x: centre + sign * sqrt(radius * radius - x * x)


class Case:
    """Lengths in mm, heights over the smallest bore; the shell's curves and the sleeve's."""

    def __init__(self, given: dict):
        self.given = given
        w, h, t = given["width"], given["thickness"], given.get("wall")
        self.radius, self.half, self.sleeve = given["size"] / 2, w / 2, given.get("sleeve")
        kind, room = given["profile"], w / 2 - (t or 0)
        self.knees = [-self.half, self.half]
        if kind == "flat":
            self.outside = lambda x: h
            roof = lambda x: h - t
        elif kind == "domed":
            edge = given["edge"] + given.get("comfort", 0.0)
            radius, centre, self.outside = arc(w, h - edge, edge)
            roof = lambda x: centre + sqrt((radius - t) ** 2 - x * x)
        elif kind == "concave":
            radius, centre, self.outside = arc(w, -given["dip"], h)
            roof = lambda x: centre - sqrt((radius + t) ** 2 - x * x)
        elif kind == "knife-edge":
            slope = (h - given["edge"] - given.get("comfort", 0.0)) / self.half
            self.outside = lambda x: h - abs(x) * slope
            roof = lambda x: h - abs(x) * slope - t * sqrt(1 + slope * slope)
        else:
            across, down = given["across"], given["down"]
            flat, slope = w / 2 - across, down / across
            self.outside = lambda x: h - max(abs(x) - flat, 0.0) * slope
            self.knees += [-flat, flat]
            if t is not None:
                lower = t * sqrt(1 + slope * slope)
                roof = lambda x: min(h - t, h - lower - (abs(x) - flat) * slope)
                knee = flat - (lower - t) / slope
                self.knees += [-knee, knee]
        if given.get("full") or t is None:
            roof = None
        elif given.get("straight"):
            level = min(roof(0.0), roof(room * (1 - 1e-15)))
            roof = lambda x: level
        self.roof, self.room = roof, room
        if roof:
            # Where a low roof meets the sleeve before the wall does, the foot begins.
            if roof(room * (1 - 1e-15)) < self.sleeve:
                self.room = brentq(lambda x: roof(x) - self.sleeve, 0.0, room * (1 - 1e-15), xtol=1e-14)
            self.knees += [-self.room, self.room]
        comfort = given.get("comfort", 0.0)
        self.inside = arc(w, -comfort, comfort)[2] if comfort else lambda x: 0.0

    def solid(self, x: float):
        return self.inside(x), self.outside(x) - self.given.get("depth", 0.0)

    def shell(self, x: float):
        top = self.outside(x) - self.given.get("depth", 0.0)
        within = self.roof and abs(x) < self.room
        return (self.roof(x) if within else self.sleeve), top

    def band(self, x: float):
        relief = self.given.get("relief")
        top = self.sleeve
        if relief and abs(x) < self.room:
            top = min(top, self.inside(x) + relief)
        return self.inside(x), top


def section(case: Case, heights) -> dict:
    radius = case.radius
    low = lambda x: radius + heights(x)[0]
    high = lambda x: radius + heights(x)[1]
    # Break the integral where the section is thickest or thinnest, too.
    knees = case.knees + [0.0]
    area = integral(lambda x: high(x) - low(x), knees)
    moment = integral(lambda x: (high(x) ** 2 - low(x) ** 2) / 2, knees)
    inverse = integral(lambda x: quad(lambda r: 1 / r, low(x), high(x), epsabs=1e-14, epsrel=1e-14)[0], knees)
    # Extreme fibres: at the ends, at the knees (from either side), at mid width.
    places = [x * (1 + off) for x in knees for off in (-1e-13, 0.0, 1e-13) if abs(x * (1 + off)) <= case.half]
    inner = min(low(x) for x in places)
    outer = max(high(x) for x in places)
    return {"area": area, "mean": moment / area, "neutral": area / inverse, "inner": inner, "outer": outer}


def ring(of: dict, modulus: float) -> tuple[float, float]:
    """Force for each mm of shortening, and the greatest stress under 1 N."""
    area, mean = of["area"], of["mean"]
    off = mean - of["neutral"]
    shear = modulus / (2 * (1 + NU))

    def state(redundant: float, angle: float):
        # From the section across the force to that under it; the force is 1.
        tension = -cos(angle) / 2
        transverse = sin(angle) / 2
        bending = redundant + mean * (1 - cos(angle)) / 2
        return bending, tension, transverse

    def turned(redundant: float) -> float:
        def rate(angle):
            bending, tension, _ = state(redundant, angle)
            return bending / (area * off * modulus) - tension / (area * modulus)

        return quad(rate, 0, pi / 2, epsabs=1e-18, epsrel=1e-13)[0]

    redundant = brentq(turned, -mean, mean, xtol=1e-15)

    def energy(angle):
        bending, tension, transverse = state(redundant, angle)
        return (
            bending**2 / (2 * area * off * modulus)
            + tension**2 * mean / (2 * area * modulus)
            - bending * tension / (area * modulus)
            + SHEAR * transverse**2 * mean / (2 * area * shear)
        )

    # All four quarters; the work of the force is half force times shortening.
    shortening = 2 * 4 * quad(energy, 0, pi / 2, epsabs=1e-18, epsrel=1e-13)[0]
    most = 0.0
    for step in range(2001):
        bending, tension, _ = state(redundant, pi / 2 * step / 2000)
        for fibre in (of["inner"], of["outer"]):
            most = max(most, abs(tension / area + bending * (of["neutral"] - fibre) / (area * off * fibre)))
    return 1 / shortening, most


def recipe(given: dict) -> str:
    kind = given["profile"]
    fields = {"flat": "", "domed": "edge", "concave": "dip", "bevelled": "across down", "knife-edge": "edge"}[kind].split()
    profile = kind + (" { " + ", ".join(f"{field} {given[field]} mm" for field in fields) + " }" if fields else "")
    metal = lambda name, of: f"alloy {name} {{ silver 1000, temper annealed {{ yield {of['yield']} MPa, modulus {of['modulus']} MPa }} }}\n"
    shell = "full" if given.get("full") else f"{given.get('wall')} mm"
    roof = ", roof straight" if given.get("straight") else ""
    relief = f", relief {given['relief']} mm" if "relief" in given else ""
    lines = [
        f"size {given['size']} mm, width {given['width']} mm, thickness {given['thickness']} mm, alloy inner",
        f"profile {profile}",
        f"comfort {given['comfort']} mm" if "comfort" in given else "",
        f"pattern {{ cover 50 %, depth {given['depth']} mm, cut after }}" if "depth" in given else "",
    ]
    if "sleeve" in given:
        lines.append(f"hollow {{ shell {shell} {{ alloy outer{roof} }}\nsleeve {given['sleeve']} mm {{ alloy inner{relief} }} }}")
    body = "\n".join(line for line in lines if line)
    return metal("outer", given["shell_metal"]) + metal("inner", given["sleeve_metal"]) + f"band b {{ {body} }}\n"


def solved(given: dict) -> dict:
    case = Case(given)
    found, parts = {}, {}
    if case.sleeve is None:
        metal = given["sleeve_metal"]
        stiffness, stress = ring(section(case, case.solid), metal["modulus"])
        found = {"strength.stiffness": stiffness, "strength.load": metal["yield"] / stress}
        return {"recipe": recipe(given), "first": "solid", "found": found}
    for part, heights in (("shell", case.shell), ("sleeve", case.band)):
        metal = given[f"{part}_metal"]
        stiffness, stress = ring(section(case, heights), metal["modulus"])
        parts[part] = (stiffness, metal["yield"] / stress / stiffness)
    together = DISTORTION * parts["shell"][0] + parts["sleeve"][0]
    first = min(parts, key=lambda part: parts[part][1])
    found["strength.stiffness"] = together
    found["strength.load"] = together * parts[first][1]
    return {"recipe": recipe(given), "first": first, "found": found}


SOFT = {"yield": 150.0, "modulus": 80000.0}
EVEN = {"yield": 300.0, "modulus": 90000.0}
HARD = {"yield": 520.0, "modulus": 90000.0}
STIFF = {"yield": 420.0, "modulus": 168000.0}

LOOKS = [
    {"profile": "flat", "size": 17.3, "width": 6.0, "thickness": 1.8, "wall": 0.5, "sleeve": 0.4},
    {"profile": "flat", "size": 21.0, "width": 4.0, "thickness": 2.4, "wall": 0.35, "sleeve": 0.6, "depth": 0.12},
    {"profile": "flat", "size": 17.3, "width": 6.0, "thickness": 1.8, "wall": 0.5, "sleeve": 0.5, "relief": 0.3},
    {"profile": "flat", "size": 15.5, "width": 5.0, "thickness": 1.6, "sleeve": 0.5, "full": True},
    {"profile": "flat", "size": 18.0, "width": 5.0, "thickness": 1.9, "wall": 0.45, "sleeve": 0.5, "comfort": 0.2},
    {"profile": "domed", "size": 17.3, "width": 6.0, "thickness": 2.0, "edge": 1.3, "wall": 0.5, "sleeve": 0.4},
    {"profile": "domed", "size": 19.0, "width": 7.0, "thickness": 2.2, "edge": 1.2, "wall": 0.45, "sleeve": 0.45, "comfort": 0.15, "depth": 0.1},
    {"profile": "domed", "size": 17.3, "width": 6.0, "thickness": 2.0, "edge": 0.9, "wall": 0.5, "sleeve": 0.5},
    {"profile": "domed", "size": 17.3, "width": 6.0, "thickness": 2.0, "edge": 1.5, "wall": 0.4, "sleeve": 0.4, "straight": True},
    {"profile": "concave", "size": 17.3, "width": 6.0, "thickness": 2.0, "dip": 0.3, "wall": 0.5, "sleeve": 0.4},
    {"profile": "knife-edge", "size": 17.3, "width": 6.0, "thickness": 2.4, "edge": 1.5, "wall": 0.5, "sleeve": 0.4},
    {"profile": "bevelled", "size": 20.0, "width": 6.0, "thickness": 2.1, "across": 1.2, "down": 0.5, "wall": 0.5, "sleeve": 0.45},
]


def cases() -> list[dict]:
    metals = [(EVEN, EVEN), (HARD, SOFT), (SOFT, HARD), (EVEN, STIFF), (STIFF, SOFT)]
    made = [{**look, "shell_metal": shell, "sleeve_metal": sleeve} for look in LOOKS for shell, sleeve in metals]
    # The solid bands of the same looks.
    for look in LOOKS:
        solid = {key: value for key, value in look.items() if key not in ("wall", "sleeve", "full", "straight", "relief")}
        made.append({**solid, "shell_metal": EVEN, "sleeve_metal": EVEN})
    return made


def main() -> None:
    record = {
        "script_sha256": hashlib.sha256(Path(__file__).read_bytes()).hexdigest(),
        "cases": [solved(case) for case in cases()],
    }
    (HERE / "bears.json").write_text(json.dumps(record, indent=1) + "\n")


if __name__ == "__main__":
    main()
