"""Radii of the outlines of parts by a solid modeller, recorded in `contours.toml` for the tests to compare with.

In: `cases.toml`. Out: per case and part, at even axial places, the radii at which a radial line enters and leaves the
section of `volumes.py` (the modeller's own booleans and offsets), in mm. Places within 0.02 mm of a corner are left out.

Run with `--check` (compares with the record, status 1 where it differs) or `--write` (records).
"""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path

from OCP.TopoDS import TopoDS_Shape

import volumes
from bands import read_bands

RECORD = Path(__file__).parent / "contours.toml"
STEP, CLEAR = 0.25, 0.02


def radii(section: TopoDS_Shape, x: float) -> list[float]:
    """Where a radial line enters and leaves a section."""
    crossed = volumes.common(volumes.line((x, 0.0), (x, 60.0)), section)
    return sorted({round(y, 10) for _, y in volumes.corners(crossed)})


def places(section: TopoDS_Shape, half: float) -> list[float]:
    corners = [x for x, _ in volumes.corners(section)]
    count = int(half / STEP)
    even = [STEP * place for place in range(-count, count + 1)]
    return [x for x in even if all(abs(x - corner) > CLEAR for corner in corners)]


def main() -> int:
    lines = ["# Written by `contours.py --write`. Axial place, then radii in mm from the axis outwards."]
    for band in read_bands(volumes.CASES.read_text()):
        section = volumes.whole_section(band)
        sections = {"band": section}
        if band.hollow is not None:
            made = volumes.build(band, band.hollow, section)
            sections = {"shell": made.shell, "sleeve": made.sleeve}
        for part, shape in sections.items():
            lines += ["", f'[["{band.name}"]]', f'part = "{part}"', "at = ["]
            for x in places(shape, band.width / 2):
                # Beside a sleeve between lips there is none.
                if found := radii(shape, x):
                    lines.append(f"  [{x:g}, {', '.join(f'{y:.10g}' for y in found)}],")
            lines.append("]")
    text = "\n".join(lines) + "\n"
    if "--write" in sys.argv:
        RECORD.write_text(text)
        return 0
    was, now = tomllib.loads(RECORD.read_text()), tomllib.loads(text)
    off = 0
    for name, parts in now.items():
        for part, old in zip(parts, was[name], strict=True):
            for row, known in zip(part["at"], old["at"], strict=True):
                off += len(row) != len(known) or any(abs(a - b) > 1e-8 for a, b in zip(row, known))
    print(f"{off} rows differ")
    return int(off > 0)


if __name__ == "__main__":
    sys.exit(main())
