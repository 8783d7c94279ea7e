"""A thousand build files that nobody wrote: findings for each, never an exception.

Each file is text that goes through the whole door. Every table and nearly every key may be there
or not; sizes are drawn about what is usual, some of them well beyond it. How often each check gave
each verdict is printed with ``-s``; a verdict that a check could give and never gave fails the
test, since the checks would not have been tried.
"""

import json
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import Any

import pytest
from collarwright.geometry.judge.checks import CHECKS
from collarwright.geometry.judge.evaluate import Evaluation, asked, evaluate, laid_out
from collarwright.geometry.judge.inputs import Input, inputs
from collarwright.geometry.judge.tolerance import Place, places, with_tolerance
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Project
from collarwright.params.reading import draft
from collarwright.params.reading.keys import TABLES
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

FILES = 1000
EACH_WITH_TOLERANCE = 40
"""Every so many files the tolerances are worked out as well: a hundred times the work."""

NEAR = {
    "lid-wall": 12.0, "lid-ceiling": 12.0, "manifold": 8.0, "opening": 4.0, "foam-land": 3.0,
    "bore-end": 3.0, "collar-hold": 0.5, "foam-crush": 0.5, "wrench-swing": 5.0,
}  # fmt: skip
"""Margins so small that tolerances are worked out where a check was never seen tight yet."""

Table = dict[str, Any]

VERDICTS = ("fail", "tight", "not-checked", "pass")


class Tables:
    """Draws the tables of one build file."""

    def __init__(self, chance: Random) -> None:
        self.chance = chance

    def one(self, *values: Any) -> Any:
        return self.chance.choice(values)

    def maybe(self, likely: int = 8) -> bool:
        """True ``likely`` times out of ten."""
        return self.chance.randint(1, 10) <= likely

    def mm(self, low: float, high: float) -> str:
        return f"{self.chance.randint(round(low * 2), round(high * 2)) / 2:g} mm"

    def some(self, keys: Table, likely: int = 8) -> Table:
        """Leave some keys out; in half of the tables none."""
        whole = self.maybe(5)
        return {key: value for key, value in keys.items() if whole or self.maybe(likely)}

    def by_side(self, low: float, high: float) -> Any:
        if self.maybe(7):
            return self.mm(low, high)
        sides = [s for s in ("front", "right", "back", "left") if self.maybe(8)]
        return {side: self.mm(low, high) for side in sides or ["front"]}

    def corner(self) -> str:
        """An offset that puts a single tap near the corner of the front board."""
        return f"{self.width / 2 - self.chance.randint(34, 70):g} mm"

    def lip(self) -> Table:
        width, depth = self.chance.randint(700, 1500), self.chance.randint(480, 700)
        self.width = width
        lean = self.one(0, 0, 0, 1, 2, 4)
        table: Table = {
            "front": f"{width} mm", "back": f"{width} mm",
            "right": f"{depth} mm", "left": f"{depth} mm",
        }  # fmt: skip
        if self.maybe(2):
            table["front"] = [f"{width} mm", f"{width + self.one(0, 1, 2, 5)} mm"]
            table["back"] = table["front"]
        square = (width**2 + depth**2) ** 0.5
        if self.maybe(6):
            table["front_left_to_back_right"] = f"{square + lean:.2f} mm"
            if self.maybe(8):
                other = square - lean + self.one(0, 0, 0.5, 2, 3.5, 8)
                table["front_right_to_back_left"] = f"{other:.2f} mm"
        more = {
            "land": self.mm(8, 70), "land_starts": self.mm(0, 12),
            "corner_radius": self.one(self.mm(0, 45), self.mm(15, 35)),
            "gaps": self.by_side(0, 3), "tape": self.one("1 mm", "1/32 in", "2 mm"),
        }  # fmt: skip
        return table | self.some(more, 7)

    def board(self) -> Table:
        table: Table = {"stock": self.one("board-1x6", "dimension-2x6", "dimension-2x8")}
        if self.maybe(3):
            thickness = self.one("5 mm", self.mm(8, 20), self.mm(15, 45))
            table = {"thickness": thickness, "width": self.mm(120, 240)}
        more = {
            "species": self.one("eastern-white-pine", "white-oak", "western-redcedar"),
            "overhang": self.by_side(-8, 8),
            "follow": self.one("square", "square", "lip"),
            "corner": self.one("glue", "spline", "biscuit", "dowel"),
            "bracket": self.one("none", "bracket-2x2-in"),
            "grain": self.one("flat", "quarter"),
        }
        return table | self.some(more, 6)

    def taps(self) -> list[Table]:
        rows: list[Table] = []
        for side in ["front", *(["left"] if self.maybe(2) else []), *(["back"] if self.maybe(2) else [])]:  # fmt: skip  # noqa: E501
            row: Table = {"side": side, "bore": self.one("1 in", "24 mm", "7/8 in", "22.5 mm", "29 mm", "32.5 mm", "34 mm")}  # fmt: skip  # noqa: E501
            if side == "front" and self.maybe(8):
                row |= {"count": self.one(1, 2, 3, 4), "spacing": self.mm(45, 140)}
            else:
                row |= {"count": 1}
            more = {
                "offset": self.one(self.mm(-150, 150), self.mm(-460, 460), self.corner()),
                "height": self.one(self.mm(45, 80), self.mm(24, 32)),
                "shank": self.one("shank-4-1-8-in", "shank-3-1-8-in", "shank-2-1-8-in",
                                  "shank-5-1-8-in", "98 mm", "60 mm"),
                "thread": self.one("22.2 mm", "22.4 mm", "23 mm"),
                "faucet": self.one("faucet-forward-sealing", "faucet-rear-sealing",
                                   "faucet-stout-nitrogen"),
                "handle": self.one("handle-short-knob", "handle-tall-display"),
                "wrench": "wrench-hook-pin",
                "washers": self.one("0 mm", self.mm(0, 6)),
                "washer_diameter": self.one(self.mm(28, 60), self.mm(62, 74)),
                "glass": self.one(self.mm(120, 260), self.mm(500, 900)),
            }  # fmt: skip
            rows.append(row | self.some(more, 8))
        return rows

    def lid(self) -> Table:
        return self.some({
            "overhang": self.by_side(0, 25), "thickness": self.mm(40, 90),
            "skirt": self.by_side(0, 25) if self.maybe(6) else "0 mm",
            "skirt_thickness": self.by_side(1, 6),
            "gasket": self.one("bulb", "magnetic"), "gasket_inset": self.by_side(8, 40),
            "gasket_width": self.mm(12, 35), "plug": self.one("0 mm", "10 mm", "25 mm", "40 mm"),
            "plug_inset": self.by_side(30, 110), "mass": f"{self.one(4, 7, 12, 18)} kg",
        }, 9)  # fmt: skip

    def hinge(self) -> Table:
        places = self.one(["-250 mm", "250 mm"], ["-200 mm", "0 mm", "200 mm"], ["-30 mm", "30 mm"])
        table: Table = self.some({
            "axis_behind": self.mm(-5, 40), "axis_above": self.mm(-30, 10),
            "open_to": f"{self.one(60, 75, 85, 90, 95, 105)} deg", "positions": places,
            "leaf_height": self.mm(40, 130), "leaf_width": self.mm(30, 90),
            "leaf_thickness": self.mm(1.5, 4), "fix": self.one("screw", "screw", "bolt"),
            "backing": self.mm(0, 30), "screw": self.one("wood-screw-no-8", "wood-screw-no-10"),
            "screw_length": self.mm(16, 50), "screws": self.one(2, 3, 4),
            "spring": self.one(True, False),
        }, 9)  # fmt: skip
        if table.get("fix") == "bolt":
            bolts = {2: ("6 mm", "20 mm"), 3: ("8 mm", "50 mm"), 4: ("5 mm", "10 mm")}
            bolt, washer = bolts.get(table.get("screws", 2), bolts[2])
            table |= {"bolt": bolt, "bolt_washer": washer}
        return table

    def tray(self) -> Table:
        row: Table = {"count": self.one(1, 2, 3), "spacing": self.mm(30, 250)}
        if self.maybe(3):
            row = {"positions": self.one(["0 mm"], ["-150 mm", "160 mm"], ["-90 mm", "90 mm"])}
        return row | {"height": self.mm(4, 22), "pilot": self.mm(2, 6)} | self.some({
            "side": self.one("front", "front", "right", "back"), "offset": self.mm(-90, 90),
            "depth": self.mm(5, 50),
        }, 4)  # fmt: skip

    def others(self, found: dict[str, Any]) -> None:
        if self.maybe(7):
            found["seat"] = self.some({
                "hold": self.one("adhesive", "sealant", "tape", "cleats"),
                "seal": self.one("foam-tape-closed-cell", "epdm-d-profile", "butyl-tape"),
                "hold_strength": f"{self.chance.randint(2, 300)} kPa",
            }, 9)  # fmt: skip
        if self.maybe(7):
            kind: Table = {"thickness": self.mm(12, 55)}
            if self.maybe(6):
                kind = {"kind": self.one("xps-type-iv-1-in", "xps-type-iv-2-in")}
            found["foam"] = kind | self.some({
                "order": self.one("front-back", "sides"), "below_top": self.mm(0, 30),
                "pocket": self.one("none", "none", "60 mm", "76 mm", "48 mm", "53 mm", "95 mm"),
            }, 6)  # fmt: skip
        if self.maybe(4):
            found["manifold"] = {
                "kind": self.one("manifold-2-outlet-compact", "manifold-2-outlet"),
                **self.some({
                    "side": self.one("back", "left", "front"), "offset": self.mm(-130, 130),
                    "centre": self.mm(55, 75),
                }, 6),
            }  # fmt: skip
        if self.maybe(2):
            found["cap"] = {
                "material": self.one("wood", "steel"), "thickness": self.mm(1, 10),
                "width": self.mm(10, 25), "inset": self.mm(0, 6),
            }  # fmt: skip
        if self.maybe(2):
            sides = self.one(["front"], ["front", "left"], ["front", "right", "back", "left"])
            found["cover"] = {"thickness": self.mm(12, 25), "sides": sides}
            found["cover"] |= self.some({"width": self.mm(120, 240), "below_lip": self.mm(0, 60)})
        if self.maybe(7):
            found["room"] = self.some({
                "behind": self.mm(20, 400), "above": self.mm(600, 940),
                "lip_height": self.mm(700, 900), "left": self.mm(0, 500), "right": self.mm(0, 500),
                "temperature": "22 degC", "humidity": f"{self.one(40, 60, 80)} %",
            }, 9)  # fmt: skip
        if self.maybe(6):
            found["shop"] = self.some({
                "tilt_max": f"{self.one(45, 46, 48, 52)} deg", "cross_cut": self.mm(130, 320),
                "cut_depth_tilted": self.mm(15, 60), "router_bit": self.mm(3, 8),
            }, 8)  # fmt: skip
        if self.maybe(7):
            length, width = self.chance.randint(500, 1000), self.chance.randint(380, 560)
            found["well"] = {"length": f"{length} mm", "width": f"{width} mm"} | self.some({
                "height": self.one(self.mm(640, 780), self.mm(420, 600)),
                "corner_radius": self.mm(0, 60),
                "mouth_length": f"{length + 15} mm", "mouth_width": f"{width + 15} mm",
            }, 9)  # fmt: skip
            if self.maybe(4):
                found["well"]["step"] = {
                    "side": "right", "length": self.mm(180, 280), "height": self.mm(180, 290),
                }  # fmt: skip
        if self.maybe(7):
            kinds = ("keg-sixth-barrel", "soda-keg-ball-lock-5gal", "co2-5lb-aluminium",
                     "soda-keg-ball-lock-2-5gal-tall", "keg-half-barrel")  # fmt: skip
            found["vessel"] = [
                {"kind": self.one(*kinds), "count": self.one(1, 1, 2)}
                for _ in range(self.one(1, 2, 3))
            ]
        if self.maybe(2):
            found["pour"] = [{"tap": 1, "drink": "carbonated", "carbonation": "2.5 vol"}]
        if self.maybe(3):
            found["hole"] = [
                {"side": self.one("back", "right"), "height": "30 mm", "diameter": "16 mm",
                 "offset": self.mm(-200, 200), "name": "probe cable"}
            ]  # fmt: skip
        if self.maybe(3):
            found["keep_out"] = [
                {"side": "front", "height": self.mm(-60, 200), "width": self.mm(20, 120),
                 "tall": self.mm(20, 60), "offset": self.mm(-300, 300)}
            ]  # fmt: skip
        if self.maybe(2):
            found["stock"] = {"kerf": "3 mm", "length": [{"length": "2440 mm"}]}
            if self.maybe(6):
                found["stock"]["length"] = [{"length": self.mm(self.width - 20, self.width + 60)}]
            if self.maybe(3):
                knots = [["300 mm", "320 mm"], ["500 mm", "520 mm", "20 mm", "40 mm"]]
                owned = {"length": self.mm(800, 2000), "defects": knots}
                found["stock"]["owned"] = [owned, owned]
                if self.maybe(5):
                    del found["stock"]["length"]
        if self.maybe(2):
            found["limits"] = {"handle-gap": "25 mm", "lid.gasket_inset": "1 mm"}
        if self.maybe(1):
            found["built"] = {"thickness": "19 mm"}
        if self.maybe(3):
            found["tray"] = self.tray()
        if self.maybe(2):
            found["finish"] = self.some({"kind": self.one("oil", "spar-varnish"), "coats": 2})

    def every(self) -> dict[str, Any]:
        found: dict[str, Any] = {"lip": self.lip(), "board": self.board(), "taps": self.taps()}
        if self.maybe(9):
            found["lid"] = self.lid()
        if self.maybe(9):
            found["hinge"] = self.hinge()
        self.others(found)
        return {name: table for name, table in found.items() if table}


def toml(value: Any) -> str:
    """Write one value; tables inline."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value)


def files() -> st.SearchStrategy[str]:
    """Build files, many of which can be laid out.

    One number is drawn and all of a file follows from it: what is drawn one by one comes out
    alike too often.
    """

    def file(seed: int) -> str:
        tables = Tables(Random(seed)).every()
        return "".join(f"{name} = {toml(value)}\n" for name, value in tables.items())

    return st.integers(0, 2**64 - 1).map(file)


def project_of(text: str) -> Project | None:
    """The project of a file; None where the door, rightly or not, refuses it."""
    found = draft(Path("random.toml"), text.encode())
    if found.problems or found.project is None:
        return None
    try:
        lay_out(found.project)
    except BuildFileError:
        return None
    return found.project


NEVER: dict[str, tuple[str, ...]] = {
    "gasket-pull": ("tight",),  # yes or no
    "lift": ("tight",),  # masses are sold by, and no reading moves them
    "corner": ("not-checked",),  # needs nothing but the lip and the boards
    "bore-web": ("not-checked",),
    "bore-edge": (),
    "frame-square": ("fail", "tight", "not-checked", "pass"),  # asked of what was made
}
"""Verdicts that a check cannot give."""


@pytest.mark.slow
def test_a_thousand_random_build_files() -> None:
    counts: Counter[tuple[str, str]] = Counter()
    seen: Counter[str] = Counter()
    refused = Counter[str]()

    @settings(
        max_examples=FILES * 3,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(files())
    def look(text: str) -> None:
        if seen["file"] >= FILES:
            return
        project = project_of(text)
        if project is None:
            refused["file"] += 1
            return
        seen["file"] += 1
        seen.update(name for name in TABLES if getattr(project, name))
        evaluation: Evaluation = evaluate(project)
        near = any(
            each.margin is not None
            and 0 <= each.margin < NEAR.get(each.check, 1.2)
            and not counts[each.check, "tight"]
            for each in evaluation.findings
        )
        if near or seen["file"] % EACH_WITH_TOLERANCE == 0:
            evaluation = with_tolerance(project, evaluation)
        for each in evaluation.findings:
            counts[each.check, each.verdict] += 1
            assert each.why and each.source and each.unit
            assert not each.missing or each.verdict == "not-checked", each
            if each.verdict == "not-checked" and not each.missing:
                assert "not modeled" in each.why, each

    look()
    lines = [f"{seen['file']} files, {refused['file']} refused"]
    for check, _ in CHECKS:
        told = ", ".join(f"{verdict} {counts[check.id, verdict]}" for verdict in VERDICTS)
        lines.append(f"{check.id}: {told}")
    sys.stdout.write("\n" + "\n".join(lines) + "\n")
    assert seen["file"] >= FILES, refused
    assert not [name for name in TABLES if not seen[name]], "a table was never there"
    never = [
        (check.id, verdict)
        for check, _ in CHECKS
        for verdict in VERDICTS
        if not counts[check.id, verdict] and verdict not in NEVER.get(check.id, ())
    ]
    assert never == []


SWEPT = 40
"""Designs in which readings are swept. What is left of a step may be 0.02 mm: the largest circle of
``opening`` is found to 0.005 mm."""


def jumps(
    project: Project, moved: Input, check: str, place: Place, low: float, high: float
) -> float:
    """Follow the largest change of a margin between two values of an input down to its size."""

    def margin(value: float) -> float | None:
        try:
            design = laid_out(moved.moved(project, value))
        except BuildFileError:
            return None
        found = places(asked(design, {check})).get(place)
        return None if found is None else found.margin

    a, b = margin(low), margin(high)
    for _ in range(40):
        middle = (low + high) / 2
        m = margin(middle)
        if a is None or b is None or m is None:
            return 0.0  # comes into the way, or cannot be laid out: no margin on one side
        if abs(m - a) > abs(b - m):
            high, b = middle, m
        else:
            low, a = middle, m
    return 0.0 if a is None or b is None else abs(b - a)


@pytest.mark.slow
def test_margins_move_continuously() -> None:
    """Readings are swept through five times their limit of error; the largest step of each margin
    is followed down to nothing."""
    continuous = {check.id for check, _ in CHECKS if check.continuous}
    seen = 0
    found: set[str] = set()

    @settings(
        max_examples=SWEPT * 3,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(files())
    def look(text: str) -> None:
        nonlocal seen
        project = project_of(text)
        if project is None or seen >= SWEPT:
            return
        seen += 1
        chance = Random(text)
        several = [each for each in inputs(project) if each.part is None]
        for _ in range(3):
            moved = chance.choice(several)
            reach = 5 * (moved.high - moved.value)
            values = [moved.value + reach * (i / 10 - 1) for i in range(21)]
            margins: list[dict[Place, float]] = []
            for value in values:
                try:
                    findings = places(asked(laid_out(moved.moved(project, value)), continuous))
                except BuildFileError:
                    margins.append({})
                    continue
                margins.append({p: f.margin for p, f in findings.items() if f.margin is not None})
            for place in {p for each in margins for p in each}:
                steps = [
                    (abs(b[place] - a[place]), i)
                    for i, (a, b) in enumerate(pairwise(margins))
                    if place in a and place in b
                ]
                if not steps:
                    continue
                change, i = max(steps)
                if (
                    change > reach / 10
                    and jumps(project, moved, place[0], place, values[i], values[i + 1]) > 0.02
                ):
                    found.add(f"{place[0]} jumps as {moved.key} moves near {values[i]:.3f}")

    look()
    assert seen >= SWEPT
    assert sorted(found) == []
