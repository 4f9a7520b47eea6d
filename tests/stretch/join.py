"""Parts as machined and stages of opening, solved with a general-purpose scientific library (scipy).

Writes `join.json` beside it: the script's checksum, and for each case what was given and what was found.

    pip install scipy
    python3 tests/stretch/join.py

Nothing of the project's code is used, and none of its ways to solve: every state is one system of equations in all
its unknown radii and stretches at once (volume between neighbouring surfaces, the definition of the stretch, the one
condition of the state), handed to a solver of nonlinear systems. Sections are flat over cylindrical bores, so that
areas are rectangles.
"""

from __future__ import annotations

import hashlib
import json
from itertools import product
from math import log, sqrt
from pathlib import Path

from scipy.optimize import brentq, root

HERE = Path(__file__).parent
NU = 0.38


def across(stretch: float, kinematics: str) -> float:
    """What the width is multiplied by."""
    return 1.0 if kinematics == "held" else stretch**-0.5


def state(known: list[float], pair: tuple[int, int], kinematics: str, which: int, value: float) -> tuple[list[float], float]:
    """Radii in the state where radius `which` is `value`, and the stretch from `known`; `pair` carries the stretch."""

    def misses(unknown):
        *radii, stretch = unknown
        width = across(stretch, kinematics)
        rows = [radii[which] - value]
        for (a, b), (a0, b0) in zip(zip(radii, radii[1:]), zip(known, known[1:])):
            rows.append((b * b - a * a) * width - (b0 * b0 - a0 * a0))
        mean = sum(radii[i] for i in pair)
        rows.append(mean - stretch * sum(known[i] for i in pair))
        return rows

    factor = value / known[which]
    solved = root(misses, [r * factor for r in known] + [factor], method="hybr", tol=1e-14)
    assert max(abs(row) for row in misses(solved.x)) < 1e-11, solved
    *radii, stretch = solved.x
    return list(radii), float(stretch)


def solid(case: dict) -> dict:
    done = [case["size"] / 2, case["size"] / 2 + case["thickness"]]
    radii, stretch = state(done, (0, 1), case["kinematics"], 0, case["start"] / 2)
    return {
        "machined.bore": 2 * radii[0],
        "machined.outside": 2 * radii[1],
        "machined.thickness": radii[1] - radii[0],
        "machined.width": case["width"] * across(stretch, case["kinematics"]),
        "stretch.strain": case["size"] / case["start"] - 1,
    }


def opened(case: dict, foot: float, past: float, strain: float, shell_strain: float) -> dict:
    """Both parts opened together past seated and released: the estimate of the physical model, section 3."""
    sleeve, shell = case["sleeve_metal"], case["shell_metal"]
    flow_s = sleeve["yield"] + sleeve["hardening"] * strain
    flow_h = shell["yield"] + shell["hardening"] * shell_strain
    e_s, e_h = sleeve["modulus"], shell["modulus"]
    t_s, t_h = case["sleeve"], case["thickness"] - case["sleeve"]
    w, wall = case["width"], case["shell"]
    room = case["thickness"] - wall - case["sleeve"]
    full = w * t_h
    kappa = (full - (w - 2 * wall) * room) / full
    c = foot + past
    b, o = c - t_s, c + t_h
    plastic = flow_h * t_h / (c + t_h / 4)
    elastic = e_h * past / c * (o**2 - c**2) / (o**2 + c**2 + NU * (o**2 - c**2))
    p_c = min(plastic, elastic)
    p_b = (flow_s * t_s + kappa * p_c * (c - t_s / 4)) / (b + t_s / 4)
    a = 2 * b**2 * c / (e_s * (c**2 - b**2))
    g = c / e_s * ((c**2 + b**2) / (c**2 - b**2) - NU)
    cc = c / (kappa * e_h) * ((o**2 + c**2) / (o**2 - c**2) + NU)
    p = min(kappa * p_c - p_b * a / (g + cc), flow_s * t_s / (c - t_s / 4))
    return {"p": p, "c": c, "b": b, "released": c - cc * (kappa * p_c - p), "over": elastic - plastic}


def hollow(case: dict) -> dict:
    radius, kinematics = case["size"] / 2, case["kinematics"]
    floor, top = radius + case["sleeve"], radius + case["sleeve"] + case["ridge"]
    seat, crown = floor + case.get("play", 0.0) / 2, radius + case["thickness"]
    lip = floor - case["lip"]
    past = case.get("past", 0.0) / 2

    def back(foot: float):
        # Surfaces of the shell: lip (or foot twice), foot, crown; of the sleeve: bore, floor, ridge top.
        if case["lip"]:
            shell, grown = state([lip, seat, crown], (1, 2), kinematics, 1, foot)
            passes = shell[0]
        else:
            shell, grown = state([seat, crown], (0, 1), kinematics, 0, foot)
            passes = foot
        if case["ridge"]:
            sleeve, shrunk = state([radius, floor, top], (0, 1), kinematics, 2, passes - case["entry"] / 2)
        else:
            sleeve, shrunk = state([radius, floor], (0, 1), kinematics, 1, passes - case["entry"] / 2)
        return shell, grown, sleeve, shrunk, passes

    def press(foot: float, by: float):
        _, grown, _, shrunk, _ = back(foot)
        return opened(case, foot, by, -log(shrunk), max(-log(grown), 0.0))

    foot = seat
    if past:
        foot = brentq(lambda f: max(press(f, past)["released"], f) - seat, seat - 1.2 * past, seat, xtol=1e-14)
    shell, grown, sleeve, shrunk, passes = back(foot)
    width = across(shrunk, kinematics)
    sleeve_width = case["width"] - (2 * case["wide"] + 0.05 if case["lip"] else 0.0)
    found = {
        "machined.shell.bore": 2 * foot,
        "machined.shell.outside": 2 * shell[-1],
        "machined.shell.width": case["width"] * across(grown, kinematics),
        "machined.sleeve.bore": 2 * sleeve[0],
        "machined.sleeve.floor": 2 * sleeve[1],
        "machined.sleeve.width": sleeve_width * width,
        "stretch.strain": radius / sleeve[0] - 1,
    }
    if case["ridge"]:
        found["machined.sleeve.ridge-top"] = 2 * sleeve[2]
    if case["lip"]:
        found["machined.shell.lip-bore"] = 2 * shell[0]
    metal = case["sleeve_metal"]

    def boundary(name: str, which: int, value: float) -> float:
        radii, stretch = state(sleeve, (0, 1), kinematics, which, value)
        found[f"stretch.{name}.bore"] = 2 * radii[0]
        flow = metal["yield"] + metal["hardening"] * log(stretch)
        found[f"stretch.{name}.mandrel"] = 2 * radii[0] * (1 + flow / metal["modulus"])
        return 2 * radii[0]

    hold = max(0.10, 2 * 2 * foot * case["shell_metal"]["yield"] / case["shell_metal"]["modulus"])
    hold = case.get("hold", hold)
    catch = 2 if case["ridge"] else 1
    seated = boundary("seated", 1, foot)
    if case["ridge"] or case["lip"]:
        boundary("loose-ends", catch, passes)
        turning = boundary("turning", catch, passes + hold / 2)
        found["stretch.window"] = seated - turning
        found["stretch.overlap-needed"] = hold
    if past:
        now = press(foot, past)
        found["grip.pressure"] = now["p"]
        found["grip.force"] = max(now["p"], 0.0) * now["c"] * case["width"]
        found["stretch.fixed.mandrel"] = 2 * now["b"]
        to = brentq(lambda by: press(foot, by)["over"], 0.0, 1.0, xtol=1e-14)
        if press(foot, to * (1 - 1e-12))["p"] > 0:
            found["grip.to"] = 2 * to
            found["grip.from"] = 2 * brentq(lambda by: press(foot, by)["p"], 0.0, to, xtol=1e-14)
    return found


SOFT = {"yield": 300.0, "modulus": 90000.0, "hardening": 1100.0}
HARD = {"yield": 520.0, "modulus": 90000.0, "hardening": 0.0}
STIFF = {"yield": 200.0, "modulus": 168000.0, "hardening": 1500.0}


def cases() -> list[dict]:
    made = []
    for kinematics, (size, start), thickness in product(("free", "held"), ((17.3, 16.5), (21.0, 20.9), (15.0, 13.5)), (0.9, 1.8, 3.0)):
        made.append({"build": "solid", "kinematics": kinematics, "size": size, "start": start, "width": 5.0, "thickness": thickness})
    look = {"build": "hollow", "width": 6.0, "thickness": 1.8, "shell": 0.5, "sleeve": 0.4, "entry": 0.04, "ridge": 0.0, "lip": 0.0, "wide": 0.3}
    metals = ((SOFT, HARD), (SOFT, SOFT), (STIFF, HARD))
    for kinematics, size, (sleeve, shell) in product(("free", "held"), (15.5, 18.0, 22.0), metals):
        base = {**look, "kinematics": kinematics, "size": size, "sleeve_metal": sleeve, "shell_metal": shell}
        made.append({**base, "ridge": 0.15})
        made.append({**base, "ridge": 0.15, "past": 0.09})
        made.append({**base, "ridge": 0.2, "play": 0.08, "hold": 0.12, "entry": 0.1})
        made.append({**base, "lip": 0.12})
        made.append({**base, "lip": 0.15, "play": 0.06})
        made.append({**base, "past": 0.12})
    return made


def main() -> None:
    answered = [{"given": case, "found": (solid if case["build"] == "solid" else hollow)(case)} for case in cases()]
    record = {
        "script_sha256": hashlib.sha256(Path(__file__).read_bytes()).hexdigest(),
        "cases": answered,
    }
    (HERE / "join.json").write_text(json.dumps(record, indent=1) + "\n")


if __name__ == "__main__":
    main()
