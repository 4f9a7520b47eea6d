"""Reads `cases.toml` into bands: what is written there, with the defaults of the language filled in.

In: the text of `cases.toml`. Out: a list of `Band`, all lengths in mm. Nothing here knows a modeller. The recipe of
each case is only compared with the numbers beside it, so that the two cannot drift apart; the project's own parser
reads it.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

Point = tuple[float, float]
"""Axial place and height above the smallest bore."""


@dataclass(frozen=True)
class Run:
    """One run of a custom outline to `end`: straight, or the arc through `via`."""

    end: Point
    via: Point | None = None


@dataclass(frozen=True)
class Profile:
    """An outside curve: its kind and the fields of that kind."""

    kind: str
    edge: float = 0.0
    across: float = 0.0
    down: float = 0.0
    crown: float = 0.0
    dip: float = 0.0
    start: Point = (0.0, 0.0)
    runs: tuple[Run, ...] = ()


@dataclass(frozen=True)
class Ridge:
    """Raised rings on the sleeve, or, for a lip, the inward steps of the shell (`count` unused)."""

    high: float
    wide: float
    count: int = 2
    play: float = 0.05


@dataclass(frozen=True)
class Hollow:
    """The two-part build. `shell` is None where the shell is full."""

    shell: float | None
    sleeve: float
    roof: str = "uniform"
    nose: float = 0.0
    relief: float | None = None
    ridge: Ridge | None = None
    lip: Ridge | None = None
    turning: float = 0.0
    """Play of a band built to the turning stage, on the diameter; 0 for any other stage."""


@dataclass(frozen=True)
class Ease:
    """Legs of the broken edges."""

    outer: float = 0.0
    bore: float = 0.0


@dataclass(frozen=True)
class Band:
    """One case."""

    name: str
    size: float
    width: float
    thickness: float
    profile: Profile
    recipe: str
    comfort: float = 0.0
    ease: Ease = field(default_factory=Ease)
    hollow: Hollow | None = None

    @property
    def bore(self) -> float:
        """Smallest bore radius, `R` of the model."""
        return self.size / 2

    @property
    def floor(self) -> float:
        """Radius of the sleeve's outside, `R + s`."""
        assert self.hollow is not None
        return self.bore + self.hollow.sleeve

    @property
    def foot_bore(self) -> float:
        """Radius on which the shell's feet end: the floor, or half the play above it while turning."""
        assert self.hollow is not None
        return self.floor + self.hollow.turning / 2

    @property
    def edge_heights(self) -> Point:
        """Height of the outside above the smallest bore at the left and the right side face."""
        profile = self.profile
        match profile.kind:
            case "custom":
                return profile.start[1], profile.runs[-1].end[1]
            case "domed" | "knife-edge":
                height = profile.edge + self.comfort
            case "bevelled":
                height = self.thickness - profile.down
            case _:
                height = self.thickness
        return height, height


def read_bands(text: str) -> list[Band]:
    """All cases of `text`; an unknown key, a name used twice or a recipe that says something else is an error."""
    bands = [_band(case) for case in tomllib.loads(text)["case"]]
    names = [band.name for band in bands]
    if doubles := {name for name in names if names.count(name) > 1}:
        raise ValueError(f"names used twice: {sorted(doubles)}")
    return bands


def _band(case: dict[str, Any]) -> Band:
    _compare_with_recipe(case)
    values = dict(case)
    values["profile"] = _profile(dict(values["profile"]))
    values["ease"] = Ease(**values.get("ease", {}))
    if "hollow" in values:
        values["hollow"] = _hollow(dict(values["hollow"]))
    return Band(**values)


def _profile(values: dict[str, Any]) -> Profile:
    outline = values.pop("outline", None)
    if outline is None:
        return Profile(**values)
    (x, height), *rest = outline
    runs = [Run((r[0], r[1])) if len(r) == 2 else Run((r[2], r[3]), via=(r[0], r[1])) for r in rest]
    return Profile(**values, start=(x, height), runs=tuple(runs))


def _hollow(values: dict[str, Any]) -> Hollow:
    if values["shell"] == "full":
        values["shell"] = None
    for name in ("ridge", "lip"):
        if name in values:
            values[name] = Ridge(**values[name])
    return Hollow(**values)


def _compare_with_recipe(case: dict[str, Any]) -> None:
    """The lengths of the recipe are those of the case, and its words (kind, roof, name) stand in the recipe."""
    values = {key: value for key, value in case.items() if key != "recipe"}
    lengths, words = _leaves(values)
    written = [float(number) for number in re.findall(r"(-?\d+(?:\.\d+)?) mm\b", case["recipe"])]
    said = set(re.findall(r"[\w-]+", case["recipe"]))
    if sorted(lengths) != sorted(written) or not words <= said:
        lists = f"{sorted(lengths)} and {sorted(written)}, missing words {sorted(words - said)}"
        raise ValueError(f"{case['name']}: numbers and recipe differ: {lists}")


def _leaves(value: Any) -> tuple[list[float], set[str]]:
    """All lengths (floats) and all words of a case. A count is an integer and carries no unit."""
    if isinstance(value, float):
        return [value], set()
    if isinstance(value, str):
        return [], {value}
    children = value.values() if isinstance(value, dict) else value if isinstance(value, list) else []
    lengths: list[float] = []
    words: set[str] = set()
    for child in children:
        more_lengths, more_words = _leaves(child)
        lengths += more_lengths
        words |= more_words
    return lengths, words
