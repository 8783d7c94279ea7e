"""The values that a key could take instead, the nearest to what it has now first.

A bought part is exchanged for another row of its catalogue; a length that is free moves in
steps that a tape shows; a word or a count goes through what the build file takes.
"""

import math
from collections.abc import Iterator, Mapping
from typing import Any, cast

from ...params.catalogue import Row
from ...params.project import SIDES, BySide, Project
from ...params.reading.keys import IDS, Key, find
from ...params.reading.paths import plain
from ...params.units import Show, length_text
from ..shape.layout import Layout
from .change import NO_BRACKET, Rows, Value, value_of
from .finding import Where
from .wording import great

NEAREST_BY: dict[str, tuple[str, ...]] = {
    "lumber": ("thickness", "width"),
    "shanks": ("thread_length",),
    "foam": ("thickness",),
    "faucets": ("body_width",),
    "handles": ("width", "length"),
    "wrenches": ("half_width", "reach"),
    "brackets": ("leg",),
    "seals": ("free_height",),
    "screws": ("shank_diameter",),
    "manifolds": ("length", "height"),
    "vessels": ("volume", "height"),
    "species": ("specific_gravity",),
}
"""The figures by which one row of a catalogue is near another."""

STEPS = (1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 80, 96, 128, 160, 200, 256, 320)
"""How many steps away from the present value a length is tried, on both sides."""


SYSTEM: Mapping[Show, str] = {"in": "inch", "mm": "metric"}
"""How boards are sold where somebody counts so: one who buys 1x8 finds no 22 x 195 mm."""

USEFUL: dict[str, tuple[float, float]] = {
    "hinge.open_to": (60.0, 110.0),
    "hinge.axis_behind": (-10.0, 60.0),
    "hinge.axis_above": (-40.0, 30.0),
    "hinge.backing": (0.0, 45.0),
    "hinge.screw_length": (12.0, 80.0),
}
"""Bounds of what is of any use, where the build file takes more: under a lid that opens less
nobody lifts a vessel in; a hinge's pin is near its leaf; screws and blocks are sold no longer
(common practice, no source)."""


def keys_of(project: Project, levers: tuple[str, ...], where: Where, layout: Layout) -> list[str]:
    """Return a finding's levers as keys of this build file: its row of taps, its side.

    A lever that has no meaning here, such as the spacing of a row that is given by positions, is
    left out. What makes another design of it, such as other boards, comes last.
    """
    found = (key for lever in levers for key in _of_thing(project, lever, where, layout))
    known = [
        key
        for key in dict.fromkeys(found)
        if _means_something(project, key) and not (project.as_built and _is_cut(key))
    ]
    return sorted(known, key=lambda key: great([key]))


def _of_thing(project: Project, lever: str, where: Where, layout: Layout) -> Iterator[str]:
    """Yield the keys of this build file that a lever stands for at one thing."""
    table, _, name = lever.partition(".")
    key = find(lever)
    if table == "taps":
        only = layout.taps[where.tap - 1].row if where.tap is not None else None
        yield from _of_rows(table, name, len(project.taps), only, one_is_bare=True)
    elif table == "vessel":
        rows = {vessel.name: vessel.row for vessel in layout.inside.vessels}
        yield from _of_rows(table, name, len(project.vessel), rows.get(where.vessel or ""))
    elif table in ("hole", "keep_out"):
        yield from _of_rows(table, name, len(getattr(project, table)), None)
    elif lever == "hinge.positions":
        # One leaf is moved, the others stay.
        number = (where.text or "").removeprefix("leaf ").partition(",")[0]
        if number.isdecimal():
            yield f"{lever}[{number}]"
    elif key is not None and key.by_side and where.side is not None:
        # One value for all sides is first moved as one.
        if getattr(value_of(project, lever), "one", False):
            yield lever
        yield f"{lever}.{where.side}"
    else:
        yield lever
        if lever == "board.stock" and project.board.stock is None:
            yield from ("board.thickness", "board.width")


def _of_rows(
    table: str, name: str, count: int, only: int | None, *, one_is_bare: bool = False
) -> Iterator[str]:
    for row in range(count) if only is None else (only,):
        yield f"{table}.{name}" if count == 1 and one_is_bare else f"{table}[{row + 1}].{name}"


def with_it(project: Project, layout: Layout, key: str) -> dict[str, Value]:
    """Return what else has to be written where a key's table is new and needs more to be whole.

    A cap strip on boards that have none is one of wood, as wide as they are thick.
    """
    if key != "cap.thickness" or project.cap is not None:
        return {}
    step = 25.4 / 16 if project.show == "in" else 1.0
    wide = math.floor(layout.boards[0].thickness / step + 1e-9) * step
    return {"cap.material": "wood", "cap.width": wide}


def _is_cut(key: str) -> bool:
    """Tell whether a key's value is in the wood once the boards are cut and bored."""
    table, _, name = plain(key).partition(".")
    if table == "board":
        return name != "bracket"
    return table in ("hole", "tray", "cover") or plain(key) in _SET_OUT


_SET_OUT = tuple(
    f"taps.{name}" for name in ("count", "spacing", "offset", "positions", "side", "height", "bore")
)
"""Keys of a row of taps that the drill has settled."""


def _means_something(project: Project, key: str) -> bool:
    if plain(key) in ("taps.spacing", "taps.count"):
        row = value_of(project, key.rpartition(".")[0])
        return row.positions is None and (row.count or 1) > 1
    if key == "board.stock":
        return project.board.thickness is None or project.board.width is None
    if key in ("cover.thickness", "cover.width", "cover.below_lip") and project.cover is None:
        return False
    if key.startswith(("hinge.bolt", "hinge.screw")) and key != "hinge.screws":
        bolted = project.hinge is not None and project.hinge.fix == "bolt"
        return bolted == key.startswith("hinge.bolt")
    return not (
        key.startswith(("foam.", "manifold.")) and getattr(project, key.partition(".")[0]) is None
    )


def now(project: Project, layout: Layout, key: str) -> Any:
    """Return the value that a key has now, also where it stands by default."""
    value = value_of(project, key)
    if isinstance(value, BySide):
        sides = cast("BySide[Any]", value)
        default = 0.0 if key == "board.overhang" else None
        found = {default if (each := sides.on(side)) is None else each for side in SIDES}
        return found.pop() if len(found) == 1 else None
    if value is not None:
        return value
    short = plain(key)
    if short == "taps.height":
        index = _row_of(key)
        return next((tap.v for tap in layout.taps if tap.row == index), None)
    if short == "foam.pocket":
        return next((tap.pocket for tap in layout.taps if tap.pocket is not None), None)
    if short == "cover.width" and layout.covers:
        return layout.covers[0].width
    if short == "cover.below_lip" and layout.covers:
        return 0.0
    if short == "manifold.centre":
        return layout.manifold.v if layout.manifold else None
    if short.startswith("board.overhang"):
        return 0.0
    if short == "foam.thickness":
        return layout.foam or None
    if short in ("board.thickness", "board.width"):
        board = layout.boards[0]
        return board.thickness if short == "board.thickness" else board.width
    return None


def _row_of(key: str) -> int:
    digits = key.partition("[")[2].partition("]")[0]
    return int(digits) - 1 if digits else 0


def choices(project: Project, layout: Layout, key: str, rows: Rows) -> Iterator[Value]:
    """Yield what a key that is no quantity could be instead, the nearest first."""
    known = find(key)
    short = plain(key)
    if known is None:
        return
    value = now(project, layout, key)
    if short in IDS:
        yield from _ids(project, value, rows(IDS[short][0]), short)
    elif known.whole and isinstance(value, int):
        low, high = known.low or 1, known.high or value
        if short == "vessel.count":  # where they do not fit, more of them do not either
            high = value
        yield from sorted(
            (each for each in range(int(low), int(high) + 1) if each != value),
            key=lambda each: (abs(each - value), each),
        )
    elif known.choices:
        yield from (each for each in known.choices if each != value)


def _ids(project: Project, value: Any, there: Any, key: str) -> Iterator[Value]:
    figures = NEAREST_BY[IDS[key][0]]
    present: Row | None = there.get(value) if isinstance(value, str) else None
    length = value if isinstance(value, float) else None

    def away(row: Row) -> float:
        total = 0.0
        for figure in figures:
            mine = row.get(figure)
            other = length if length is not None else present.get(figure) if present else None
            if mine is None:
                return math.inf
            # Parts for which there is nothing to be near to: the smallest first.
            total += mine if other is None else abs(math.log(max(mine, 0.01) / max(other, 0.01)))
        return total

    ranked = sorted((away(row), each, row) for each, row in there.items() if each != value)
    for distance, each, row in ranked:
        if math.isinf(distance) or not _usable(project, row, present, key):
            continue
        yield each
    if key == NO_BRACKET[0] and value != "none":
        yield "none"


def _usable(project: Project, row: Row, present: Row | None, key: str) -> bool:
    if key == "board.stock":
        mine = present.text("system") if present else SYSTEM[project.show]
        if mine and row.text("system") not in (mine, ""):
            return False
        return project.board.width is not None or (
            row.get("width") is not None and row.get("length") is None
        )
    if key == "vessel.kind" and present is not None:
        # A keg for a keg: what holds gas holds no drink.
        return row.text("kind") == present.text("kind")
    if key == "taps.shank":
        return row.get("length") is not None and row.get("thread_length") is not None
    return True


def step_of(project: Project, key: Key, value: float) -> float:
    """Return the step in which a quantity moves: what a tape or a protractor shows."""
    if key.kind != "length":
        return 1.0
    if project.show == "in":
        return 25.4 / 16 if abs(value) < 25.4 else 25.4 / 8
    return 0.5 if abs(value) < 10 else 1.0


def steps(
    project: Project, layout: Layout, key: str
) -> tuple[Key, float, list[float], list[float]] | None:
    """Return how a quantity can move: its key, the step, and values upward and downward.

    None for a key that is no quantity, or of which nobody knows where it is now.
    """
    known = find(key)
    if known is None or known.kind is None or plain(key) in IDS:
        return None
    value = now(project, layout, key)
    low, high = USEFUL.get(known.path, (known.low, known.high))
    low = -10_000.0 if low is None else low
    high = 10_000.0 if high is None else high
    if not isinstance(value, float):
        value = low if value is None else 0.0
    step = step_of(project, known, value)
    start = round(value / step)
    up = [(start + each) * step for each in STEPS]
    down = [(start - each) * step for each in STEPS]
    if start * step > value + 1e-9:
        up.insert(0, start * step)
    elif start * step < value - 1e-9:
        down.insert(0, start * step)
    return (
        known,
        step,
        [each for each in up if low <= each <= high],
        [each for each in down if low <= each <= high],
    )


def written(project: Project, key: str, value: Value) -> str | int | bool:
    """Return a value as it would be written in the build file."""
    known = find(key)
    if isinstance(value, float) and known is not None:
        if known.kind == "length":
            return length_text(value, project.show)
        return f"{value:g} deg" if known.kind == "angle" else f"{value:g}"
    return value  # type: ignore[return-value]
