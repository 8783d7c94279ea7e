"""The hand-worked designs A and B and their variations, for every test that needs a project.

Figures of bought parts are pinned here, so that a test's arithmetic can be followed on paper and
does not move when somebody measures a better shank for the catalogue.
"""

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import Evaluation, evaluate
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.params import catalogue
from collarwright.params import project as tables
from collarwright.params.catalogue import Row
from collarwright.params.project import Limits, Project
from hypothesis import settings

# The same examples in every run: what a random one finds becomes a test of its own.
settings.register_profile("repeatable", derandomize=True)
settings.load_profile("repeatable")

SHANK = {
    "length": 104.8,
    "thread_length": 101.8,
    "thread_diameter": 22.225,
    "unthreaded": 6.0,
    "flange_diameter": 48.0,
    "flange_thickness": 6.0,
    "nut_across_flats": 32.0,
    "nut_thickness": 9.0,
    "nut_wrench_circle": 50.0,
    "tail_nut_length": 14.0,
    "tail_wrench_circle": 80.0,
    "tail_engagement": 10.0,
    "ring_diameter": 38.5,
    "ring_length": 17.0,
    "collar_projection": 16.0,
    "ring_holes": 4.0,
}
PINNED: Mapping[tuple[str, str], Mapping[str, float]] = {
    ("lumber", "board-1x6"): {"thickness": 19.05, "width": 139.7},
    ("lumber", "dimension-2x8"): {"thickness": 38.1, "width": 184.15},
    ("shanks", "shank-4-1-8-in"): SHANK,
    ("shanks", "shank-measured"): {
        name: value for name, value in SHANK.items() if name not in ("length", "thread_length")
    },
    ("faucets", "faucet-forward-sealing"): {
        "body_width": 40.0,
        "lever_top": 58.0,
        "spout_below": 64.0,
        "spout_forward": 78.0,
        "body_forward": 110.0,
        "lever_axis_forward": 45.0,
    },
    ("faucets", "faucet-rear-sealing"): {"body_width": 41.0, "lever_top": 62.0},
    ("handles", "handle-short-knob"): {
        "width": 29.0,
        "depth": 29.0,
        "length": 76.0,
        "closed_angle": 8.0,
    },
    ("handles", "handle-tall-display"): {
        "width": 75.0,
        "depth": 40.0,
        "length": 300.0,
        "closed_angle": 8.0,
    },
    ("wrenches", "wrench-hook-pin"): {"reach": 190.0, "half_width": 8.0},
    ("brackets", "bracket-2x2-in"): {
        "leg": 50.8,
        "width": 50.8,
        "thickness": 3.2,
        "holes_per_leg": 2.0,
        "hole_from_corner": 18.0,
        "hole_pitch": 22.0,
    },
    ("seals", "foam-tape-closed-cell"): {"free_height": 6.4, "working_compression": 30.0},
    ("screws", "wood-screw-no-8"): {
        "shank_diameter": 4.17,
        "threaded_share": 0.667,
        "pilot_softwood": 2.24,
        "pilot_hardwood": 2.88,
    },
    ("species", "eastern-white-pine"): {"specific_gravity": 0.35, "density": 392.0},
    ("species", "red-oak"): {"specific_gravity": 0.63, "density": 706.0},
    ("foam", "xps-type-iv"): {"compressive_strength": 173.0},
}

DESIGN_A: Mapping[str, Mapping[str, Any]] = {
    "lip": {"front": "37 in", "right": "21 in", "back": "37 in", "left": "21 in", "land": "2 in"},
    "board": {"stock": "board-1x6"},
    "taps": {
        "count": 3,
        "spacing": "3 in",
        "bore": "1 in",
        "shank": "shank-4-1-8-in",
        "washers": "3 mm",
        "washer_diameter": "50 mm",
        "handle": "handle-short-knob",
    },
    "foam": {"thickness": "1 in", "pocket": "60 mm"},
    "lid": {"overhang": "5 mm", "skirt": "0 mm", "gasket_inset": "20 mm", "gasket_width": "25 mm"},
}
ONE_EACH = {
    "lip": tables.Lip,
    "board": tables.Board,
    "foam": tables.Foam,
    "lid": tables.Lid,
    "hinge": tables.Hinge,
    "room": tables.Room,
    "shop": tables.Shop,
    "cover": tables.Cover,
    "cap": tables.Cap,
    "finish": tables.Finish,
    "seat": tables.Seat,
    "well": tables.Well,
    "manifold": tables.Manifold,
    "stock": tables.Stock,
    "tray": tables.Tray,
    "built": tables.Built,
}
SEVERAL = {
    "taps": tables.Taps,
    "hole": tables.Passage,
    "keep_out": tables.KeepOut,
    "vessel": tables.Vessel,
    "pour": tables.Pour,
}

Make = Callable[..., Project]


def _design(
    figures: Mapping[str, Mapping[str, float]] | None = None,
    limits: Limits | None = None,
    **changes: Any,
) -> Project:
    """Return design A, changed.

    Args:
        figures: figures of bought parts by catalogue, in place of the pinned ones.
        limits: the ``[limits]`` table.
        changes: for each table the keys to change (None takes a key out), None to leave the
            table out; for ``taps``, ``hole`` and ``keep_out`` also a list of tables. A row of
            a list of taps starts from design A's.
    """
    built: dict[str, Any] = {}
    for name in {*DESIGN_A, *changes}:
        change = changes.get(name, {})
        if change is None:
            continue
        if name in SEVERAL:
            base = DESIGN_A.get(name, {})
            rows = change if isinstance(change, list) else [change]
            built[name] = tuple(SEVERAL[name](**_merged(base, row)) for row in rows)
        else:
            built[name] = ONE_EACH[name](**_merged(DESIGN_A.get(name, {}), change))
    parts = {key: _row(*key, (figures or {}).get(key[0], {})) for key in _named(built)}
    return Project(**built, parts=parts, limits=limits or Limits())


def _merged(base: Mapping[str, Any], change: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in {**base, **change}.items() if value is not None}


def _row(name: str, part_id: str, figures: Mapping[str, float]) -> Row:
    row = catalogue.load(name)[part_id]
    for figure, value in {**PINNED.get((name, part_id), {}), **figures}.items():
        row = row.with_figure(figure, value)
    return row


def _named(built: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Return every (catalogue, id) that the tables name."""
    board, foam, manifold = built["board"], built.get("foam"), built.get("manifold")
    named = [("lumber", board.stock), ("species", board.species)]
    if board.bracket != "none":
        named += [("brackets", board.bracket)]
    if board.bracket not in (None, "none"):
        named += [("screws", catalogue.load("brackets")[board.bracket].text("screw"))]
    named += [("foam", foam.kind if foam else None)]
    named += [("manifolds", manifold.kind if manifold else None)]
    named += [("screws", built["hinge"].screw if "hinge" in built else None)]
    named += [("seals", built["seat"].seal if "seat" in built else None)]
    named += [("vessels", vessel.kind) for vessel in built.get("vessel", ())]
    for row in built["taps"]:
        shank = "shank-measured" if isinstance(row.shank, float) else row.shank
        named += [("shanks", shank), ("faucets", row.faucet)]
        named += [("handles", row.handle), ("wrenches", row.wrench)]
    return [(name, part_id) for name, part_id in named if part_id]


@pytest.fixture(scope="session")
def design_a() -> Make:
    """Design A, 1x6 pine (19.05 x 139.7 mm); see ``_design`` for what can be changed."""
    return _design


@pytest.fixture(scope="session")
def design_b() -> Make:
    """Design B: the same in 2x8 (38.1 x 184.15 mm)."""

    def make(**changes: Any) -> Project:
        board = {"stock": "dimension-2x8", **changes.pop("board", {})}
        return _design(board=board, **changes)

    return make


@pytest.fixture(scope="session")
def lay() -> Callable[..., Layout]:
    """Design A, changed, laid out."""
    return lambda **changes: lay_out(_design(**changes))


@pytest.fixture(scope="session")
def judged() -> Callable[..., Evaluation]:
    """Design A, changed, with everything the checks say about it."""
    return lambda **changes: evaluate(_design(**changes))


@pytest.fixture(scope="session")
def findings(judged: Callable[..., Evaluation]) -> Callable[..., list[Finding]]:
    """The findings of one check about design A, changed: ``findings("stand", lip={...})``."""

    def find(check: str, **changes: Any) -> list[Finding]:
        return [found for found in judged(**changes).findings if found.check == check]

    return find
