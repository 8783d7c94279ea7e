"""What one key of a build file asks of another.

Only what makes the input unusable is judged here: keys that need each other or exclude each
other, names and numbers of taps, sizes that cannot be inside one another. Whether a design is
any good is for the checks.
"""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from .. import project as p
from ..catalogue import Row
from ..project import SIDES
from ..units import Show, length_text, mm_text
from .notes import Notes
from .paths import row_keys, shown

MOST_TAPS = 60
"""Taps in all; 2.4 m of boards carry 24 at the closest."""

MOST_VESSELS = 40
"""Kegs and cylinders in all; the largest chest freezers hold about a dozen kegs."""

MOST_STICKS = 60
"""Sticks on sale, and sticks owned: cuts are tried on each of them."""

OURS = re.compile(r"(tap|tray|passage|bracket|hinge|manifold|foam|board)(-.*)?", re.IGNORECASE)
"""Names that the program gives: a hole of somebody's own must not be taken for one of them."""

Parts = Mapping[tuple[str, str], Row]


def cross_check(found: Mapping[str, object], parts: Parts, notes: Notes) -> None:
    """Note what does not go together.

    Args:
        found: the tables by name; those that could not be used are not there.
        parts: the catalogue rows of their ids.
        notes: takes the problems; keys that were dropped are not complained about again.
    """
    tables: dict[str, Any] = dict(found)
    if "board" in tables:
        _board(tables["board"], parts, notes)
    if "lip" in tables:
        _lip(tables["lip"], notes)
    taps: Sequence[p.Taps] = tables.get("taps", ())
    keys = row_keys("taps", len(taps))
    for key, row in zip(keys, taps, strict=True):
        _taps(key, row, notes)
    if taps:
        _tap_names(keys, taps, tables.get("board"), parts, tables, notes)
    if "foam" in tables:
        _foam(tables["foam"], parts, notes)
    if "manifold" in tables:
        _sizes("manifold", tables["manifold"], ("length", "height", "depth"), notes)
    vessels: Sequence[p.Vessel] = tables.get("vessel", ())
    for key, vessel in zip(row_keys("vessel", len(vessels)), vessels, strict=True):
        _sizes(key, vessel, ("diameter", "height"), notes)
    total = sum(vessel.count for vessel in vessels)
    if total > MOST_VESSELS:
        wanted = f"at most {MOST_VESSELS} in all: no chest freezer holds more"
        notes.add("vessel", f"{total} vessels", wanted)
    if "cover" in tables and len(set(tables["cover"].sides)) < len(tables["cover"].sides):
        notes.add("cover.sides", shown(tables["cover"].sides), "each side once")
    _hole_names(tables.get("hole", ()), notes)
    if "tray" in tables:
        _row("tray", tables["tray"], "screws", notes)
    if "stock" in tables:
        show = tables.get("show", "mm")
        _stock(tables["stock"], board_width(tables.get("board"), parts), show, notes)
    if "shop" in tables:
        _ring(tables["shop"], notes)
    if "well" in tables:
        _well(tables["well"], tables.get("lip"), notes)


def _hole_names(holes: Sequence[p.Passage], notes: Notes) -> None:
    """Judge the names of passages: each once, and none that the program gives itself."""
    first: dict[str, str] = {}
    for key, hole in zip(row_keys("hole", len(holes)), holes, strict=True):
        if hole.name is None:
            continue
        if OURS.fullmatch(hole.name.strip()):
            wanted = "a name of its own, such as probe cable: the program calls other holes so"
            notes.add(f"{key}.name", shown(hole.name), wanted)
        elif hole.name.casefold() in first:
            wanted = f"a name of its own; {first[hole.name.casefold()]} is the same"
            notes.add(f"{key}.name", shown(hole.name), wanted)
        first.setdefault(hole.name.casefold(), f"{key}.name")


def board_width(board: p.Board | None, parts: Parts) -> float | None:
    """Return the boards' width, mm, where it is known; a sheet's width is not a board's."""
    if board is None:
        return None
    if board.width is not None:
        return board.width
    row = parts.get(("lumber", board.stock or ""))
    return None if row is None or row.get("length") is not None else row.get("width")


def _board(board: p.Board, parts: Parts, notes: Notes) -> None:
    if board.stock is None and not notes.doubtful("board.stock"):
        for name, example in (("thickness", '"3/4 in"'), ("width", '"5 1/2 in"')):
            if getattr(board, name) is None and not notes.doubtful(f"board.{name}"):
                wanted = "stock, or thickness and width: the boards' size is not known without"
                notes.add(f"board.{name}", "nothing", wanted, f"{name} = {example}")
                notes.drop(f"board.{name}")
        return
    row = parts.get(("lumber", board.stock or ""))
    if row is None or board_width(board, parts) is not None or notes.doubtful("board.width"):
        return
    why = "a sheet" if row.get("length") is not None else "sold without a width"
    wanted = f"the width that the boards are ripped to: {row.id} is {why}"
    notes.add("board.width", "nothing", wanted, 'width = "5 1/2 in"', ["board.stock"])
    notes.drop("board.width")


def _lip(lip: p.Lip, notes: Notes) -> None:
    shortest = min(min(getattr(lip, side)) for side in SIDES)
    land = lip.land_starts + (lip.land or 0.0)
    if 2 * land > shortest and not notes.doubtful("lip.land", "lip.land_starts"):
        key = "lip.land_starts" if lip.land is None else "lip.land"
        wanted = (
            f"less than half of the shortest side ({mm_text(shortest)}) from edge to land's end"
        )
        notes.add(key, mm_text(land), wanted, keys=["lip.land_starts"])
    if 2 * lip.corner_radius > shortest:
        wanted = f"at most half of the shortest side ({mm_text(shortest)})"
        notes.add("lip.corner_radius", mm_text(lip.corner_radius), wanted)


def tap_count(row: p.Taps) -> int:
    """Return how many taps a row has."""
    return len(row.positions) if row.positions is not None else row.count or 1


def _taps(key: str, row: p.Taps, notes: Notes) -> None:
    """Judge one row of taps: how many, how far apart, what they are called."""
    if not _row(key, row, "taps", notes):
        return
    if len(row.names) > tap_count(row) and not notes.doubtful(f"{key}.names"):
        taps = "tap" if tap_count(row) == 1 else "taps"
        wanted = f"at most {tap_count(row)}: there are no more {taps} in this row"
        notes.add(f"{key}.names", f"{len(row.names)} names", wanted, keys=[f"{key}.count"])


def _row(key: str, row: p.Taps | p.Tray, what: str, notes: Notes) -> bool:
    """Judge how many are in a row and how far apart; False where it is not known how many."""
    count, positions = f"{key}.count", f"{key}.positions"
    if notes.doubtful(count, positions):
        return False
    if row.count is None and row.positions is None:
        wanted = "count, with spacing if it is more than one, or positions"
        notes.add(count, "nothing", wanted, f"count = {3 if what == 'taps' else 2}")
        notes.drop(count)
        return False
    if row.count is not None and row.positions is not None:
        wanted = f"count or positions, not both: there are {row.count} by count"
        notes.add(positions, f"{len(row.positions)} positions", wanted, keys=[count])
        notes.drop(positions)
    spacing = f"{key}.spacing"
    if row.spacing is not None and row.positions is not None and row.count is None:
        wanted = f"spacing with count only: positions say where each {what[:-1]} is"
        notes.add(spacing, mm_text(row.spacing), wanted, keys=[positions])
    if (row.count or 1) > 1 and row.positions is None and row.spacing is None:
        if not notes.doubtful(spacing):
            wanted = f"the distance between neighbors: there are {row.count} {what}"
            notes.add(spacing, "nothing", wanted, 'spacing = "4 in"', [count])
        notes.drop(spacing)
    return True


def numbered(taps: Sequence[p.Taps], width: float | None) -> dict[int, str]:
    """Return the name of each tap by its number; empty where it has none.

    Taps are numbered front, right, back, left; on a board row by row, the lowest first, each
    row from left to right seen from outside.
    """
    places: list[tuple[int, float, int, float, str]] = []
    for index, row in enumerate(taps):
        height = row.height if row.height is not None else (width or 0.0) / 2
        along = row.positions or tuple(float(i) for i in range(row.count or 1))
        for place, each in enumerate(along):
            name = row.names[place] if place < len(row.names) else ""
            places.append((SIDES.index(row.side), height, index, each, name))
    places.sort(key=lambda each: each[:4])
    return {number: each[-1] for number, each in enumerate(places, 1)}


def _tap_names(
    keys: Sequence[str],
    taps: Sequence[p.Taps],
    board: p.Board | None,
    parts: Parts,
    tables: Mapping[str, Any],
    notes: Notes,
) -> None:
    """Judge names over all rows, and the keys that name a tap."""
    total = sum(tap_count(row) for row in taps)
    if total > MOST_TAPS:
        wanted = f"at most {MOST_TAPS} in all: a collar of 4 m sides has no room for more"
        notes.add(f"{keys[0]}.count", f"{total} taps", wanted, keys=["taps"])
        notes.drop("taps")
        return
    first: dict[str, str] = {}
    for key, row in zip(keys, taps, strict=True):
        for place, name in enumerate(row.names, 1):
            here = f"{key}.names[{place}]"
            if name.casefold() in first:
                wanted = f"a name of its own for each tap; {first[name.casefold()]} is the same"
                notes.add(here, shown(name), wanted)
            first.setdefault(name.casefold(), here)
    rows: dict[str, Sequence[Any]] = {
        "vessel": tables.get("vessel", ()),
        "pour": tables.get("pour", ()),
        "built.bore": tables["built"].bore if "built" in tables else (),
    }
    if any(notes.doubtful(f"{key}.{part}") for key in keys for part in ("count", "positions")):
        return
    by_number = numbered(taps, board_width(board, parts))
    names = {name.casefold(): number for number, name in by_number.items() if name}
    unsure = any(notes.doubtful(f"{key}.names") for key in keys)
    for table, some in rows.items():
        used: Counter[int] = Counter()
        for key, row in zip(row_keys(table, len(some)), some, strict=True):
            if row.tap is None:
                continue
            number = names.get(row.tap.casefold()) if isinstance(row.tap, str) else row.tap
            if number not in by_number:
                if not (unsure and isinstance(row.tap, str)):
                    _no_such_tap(f"{key}.tap", row.tap, by_number, notes)
                continue
            used[number] += 1
            if table != "vessel" and used[number] == 2:
                wanted = f"each tap once in [[{table}]]: tap {number} has one already"
                notes.add(f"{key}.tap", shown(row.tap), wanted)


def _no_such_tap(key: str, tap: str | int, by_number: Mapping[int, str], notes: Notes) -> None:
    from difflib import get_close_matches  # only a mistake pays for it

    names = [name for name in by_number.values() if name]
    close = get_close_matches(str(tap)[:60], names, n=1, cutoff=0.6)
    said = f"the name of a tap or a number from 1 to {len(by_number)}"
    if close:
        said += f"; the nearest name is {shown(close[0])}"
    elif names:
        said += f"; the names are {', '.join(shown(name) for name in names[:12])}"
    notes.add(key, shown(tap), said, f"tap = {shown(close[0])}" if close else "tap = 1")


def _foam(foam: p.Foam, parts: Parts, notes: Notes) -> None:
    if foam.thickness is not None or notes.doubtful("foam.thickness", "foam.kind"):
        return
    row = parts.get(("foam", foam.kind or ""))
    if row is None:
        wanted = "thickness, or kind: the foam's thickness is not known without"
        notes.add("foam.thickness", "nothing", wanted, 'thickness = "1 in"')
    elif row.get("thickness") is None:
        wanted = f"the foam's thickness: {row.id} is a kind of foam that is sold in several"
        notes.add("foam.thickness", "nothing", wanted, 'thickness = "1 in"', ["foam.kind"])
    else:
        return
    notes.drop("foam.thickness")


def _sizes(key: str, table: Any, names: Sequence[str], notes: Notes) -> None:
    """Ask for an id, or for every size that stands in for it."""
    if table.kind is not None or notes.doubtful(f"{key}.kind"):
        return
    for name in names:
        if getattr(table, name) is None and not notes.doubtful(f"{key}.{name}"):
            sizes = f"{', '.join(names[:-1])} and {names[-1]}"
            notes.add(f"{key}.{name}", "nothing", f"kind, or {sizes}", f'{name} = "4 in"')


def _stock(stock: p.Stock, width: float | None, show: Show, notes: Notes) -> None:
    for name, sticks in (("length", stock.length), ("owned", stock.owned)):
        if len(sticks) > MOST_STICKS:
            wanted = f"at most {MOST_STICKS}: cuts are tried on each of them"
            notes.add(f"stock.{name}", f"{len(sticks)} tables [[stock.{name}]]", wanted)
    for number, stick in enumerate(stock.length, 1):
        if stock.trim is not None and 2 * stock.trim >= stick.length:
            long, lost = length_text(stick.length, show), length_text(stock.trim, show)
            wanted = f"less than half of the stick ({long}), as both ends lose it"
            notes.add("stock.trim", lost, wanted, keys=[f"stock.length[{number}]"])
    for number, stick in enumerate(stock.owned, 1):
        for place, (begins, ends, *up) in enumerate(stick.defects, 1):
            key = f"stock.owned[{number}].defects[{place}]"
            read = f"{length_text(begins, show)} to {length_text(ends, show)}"
            if begins >= ends:
                notes.add(key, read, "a flaw that begins before it ends")
            elif ends > stick.length:
                notes.add(key, read, f"a flaw within the stick's {length_text(stick.length, show)}")
            if not up:
                continue
            low, high = up
            read = f"{length_text(low, show)} to {length_text(high, show)} up from the edge"
            if low >= high:
                notes.add(key, read, "a flaw that begins before it ends")
            elif width is not None and high > width:
                wide = length_text(width, show)
                notes.add(key, read, f"a flaw within the boards' width of {wide}")


def _ring(shop: p.Shop, notes: Notes) -> None:
    """Judge whether the saw's test ring is told whole, and can have been cut near 45 deg."""
    gap = shop.ring_gap
    if gap is None:
        names = ("ring_open", "ring_thickness", "ring_tilt")
        told = [f"shop.{name}" for name in names if name in shop.model_fields_set]
        if told and not notes.doubtful("shop.ring_gap"):
            wanted = "the gap of the test ring: without it the rest says nothing"
            notes.add("shop.ring_gap", "nothing", wanted, 'ring_gap = "0.8 mm"', told)
        return
    if gap and shop.ring_open is None and not notes.doubtful("shop.ring_open"):
        wanted = "where the ring's joints stand open: inside or outside"
        notes.add("shop.ring_open", "nothing", wanted, 'ring_open = "inside"', ["shop.ring_gap"])
    if gap and shop.ring_thickness is None and not notes.doubtful("shop.ring_thickness"):
        # never the board's: another board, and the ring that was cut would tell another tilt
        wanted = "how thick the ring's scraps were"
        example = 'ring_thickness = "3/4 in"'
        notes.add("shop.ring_thickness", "nothing", wanted, example, ["shop.ring_gap"])
    thickness = shop.ring_thickness
    if thickness is not None and gap > thickness / 2:
        wanted = (
            f"at most half of the scraps' thickness ({mm_text(thickness / 2)}): with more the saw"
            " was not set near 45 deg"
        )
        notes.add("shop.ring_gap", mm_text(gap), wanted)


def _well(well: p.Well, lip: p.Lip | None, notes: Notes) -> None:
    """Judge whether mouth and floor are inside the lip, and the step inside the well."""
    outside = {"length": ("front", "back"), "width": ("right", "left")}
    for name, sides in outside.items():
        for key in (name, f"mouth_{name}"):
            size = getattr(well, key)
            if lip is None or size is None:
                continue
            longest = max(max(getattr(lip, side)) for side in sides)
            start = (well.left if name == "length" else well.front) if "mouth" in key else None
            if size + (start or 0.0) >= longest:
                also = "" if start is None else f", {mm_text(start)} from its edge"
                wanted = f"a size inside the lip ({mm_text(longest)} outside){also}"
                notes.add(f"well.{key}", mm_text(size), wanted, keys=[f"lip.{sides[0]}"])
    known = [size for size in (well.length, well.width) if size is not None]
    if known and 2 * well.corner_radius > min(known):
        wanted = f"at most half of the well's shorter side ({mm_text(min(known))})"
        notes.add("well.corner_radius", mm_text(well.corner_radius), wanted)
    step = well.step
    if step is None:
        return
    across, name = (
        (well.length, "length") if step.side in {"left", "right"} else (well.width, "width")
    )
    if across is not None and step.length >= across:
        wanted = f"a step inside the well, less than its {name} ({mm_text(across)})"
        notes.add("well.step.length", mm_text(step.length), wanted, keys=[f"well.{name}"])
    if well.height is not None and step.height >= well.height:
        wanted = f"a step inside the well, less than its height ({mm_text(well.height)})"
        notes.add("well.step.height", mm_text(step.height), wanted, keys=["well.height"])
