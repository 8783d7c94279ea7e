"""``[limits]``: what the builder wants looser or tighter, by check and by reading."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, cast

from pydantic_core import PydanticCustomError

from ..project import SIDES, Limits
from ..units import EXAMPLES, WORDS, Kind
from ..values import SLIP, Reader
from .keys import TABLES, every, find
from .notes import Notes
from .paths import key_text, plain, shown

LimitKind = Kind | Literal["number"] | None

CHECKS: Mapping[str, LimitKind] = {
    # stand and seal
    "readings": "length",
    "lip-square": "length",
    "frame-square": "length",
    "stand": "length",
    "corner": "length",
    "lip-flat": "length",
    "gasket-seat": "length",
    "gasket-pull": None,
    "skirt": "length",
    "plug": "length",
    "collar-hold": "number",
    "saw": None,
    # bores, shanks, faucets
    "bore-entry": "length",
    "bore-cover": "length",
    "nut-cover": "length",
    "bore-web": "length",
    "bore-edge": "length",
    "bore-end": "length",
    "shank-grip": "length",
    "shank-run": "length",
    "shank-past-foam": "length",
    "nut-room": "length",
    "foam-crush": "number",
    "tap-gap": "length",
    "handle-gap": "length",
    "wrench-swing": "angle",
    "pour-room": "length",
    "tail-room": "length",
    # lid and hinge
    "lid-wall": None,
    "lid-ceiling": None,
    "lid-back": "length",
    "lid-front": "length",
    "hinge-fit": "length",
    "hinge-hold": "number",
    "screw-length": "length",
    # the well
    "head-room": "length",
    "opening": "length",
    "vessels": "length",
    "manifold": "length",
    "foam-land": "length",
    "lift": "mass",
    # cold, dry, moving
    "collar-heat": "power",
    "board-dew": "difference",
    "tap-dew": "difference",
    "movement": "length",
    "height-step": "length",
    # pour
    "carbonation": "pressure",
    "line-balance": "length",
    "gas": None,
    "gas-release": "percent",
    # stock
    "stock": "length",
}
"""Every check, also those that are still coming, with the kind of its required figure.

None: its answer is not one figure of one kind that could be moved.
"""

_NOT_MOVED: Mapping[str, str] = {
    "gasket-pull": "its answer is yes or no",
    "gas": "its answer is yes or no",
    "saw": "what the saw can do goes under [shop]",
    "lid-wall": "where the wall is goes under [room], as behind",
    "lid-ceiling": "what hangs above goes under [room], as above",
}

_REQUIRED: Mapping[Kind, tuple[float, float]] = {
    "length": (-1_000, 10_000),
    "angle": (-180, 360),
    "mass": (0, 500),
    "power": (0, 1_000),
    "percent": (0, 100),
    "difference": (-50, 50),
    "pressure": (0, 2_000),
}
"""Bounds of a required figure, in the unit of its kind; beyond them it is a slip."""

_ERROR: Mapping[Kind, tuple[float, float]] = {
    "length": (0, 200),
    "angle": (0, 45),
    "difference": (0, 20),
    "mass": (0, 100),
    "percent": (0, 50),
    "area": (0, 100),
    "volumes": (0, 5),
    "pressure": (0, 2_000),
}
"""Bounds of a reading's limit of error; a reading that is further off is none."""

_EXAMPLES: Mapping[str, str] = {**EXAMPLES, "length": '"10 mm"', "angle": '"5 deg"'}

MOST = 60
"""Faults that are told one by one; with more, the table is something else."""

_OPTIONS = ("tighten_with_lid", "heat")


def read_limits(raw: Mapping[str, object], notes: Notes) -> Limits:
    """Read the table; what is wrong with it is noted and left out.

    ``heat`` is what the check ``collar-heat`` is held to, and goes by both names.
    """
    required: dict[str, float] = {}
    readings: dict[str, float] = {}
    heat: float | None = None
    lid: Literal["open", "closed"] = "open"
    before = len(notes.problems)
    for name, value in raw.items():
        if len(notes.problems) - before >= MOST:
            notes.add("limits", f"{len(raw)} keys", "checks and readings, and no more of them")
            break
        key = f"limits.{key_text(name)}"
        if name == "tighten_with_lid":
            if value in ("open", "closed"):
                lid = value
            else:
                example = 'tighten_with_lid = "closed"'
                notes.add(key, shown(value), 'one of "open", "closed"', example)
        elif name == "heat":
            heat = _quantity(key, value, "power", _REQUIRED, '"15 W"', notes)
        elif isinstance(value, dict):
            inner = cast("dict[str, object]", value)
            _nested(key, name, inner, readings, notes)
        elif name in CHECKS:
            figure = _required(key, name, value, notes)
            if figure is not None:
                required[name] = figure
        else:
            _reading(key, name, value, readings, notes)
    if heat is not None and "collar-heat" in required:
        wanted = "one of the two: limits.collar-heat says the same"
        notes.add("limits.heat", shown(raw["heat"]), wanted, keys=("limits.collar-heat",))
    if heat is not None:
        required["collar-heat"] = heat
    return Limits(
        required=MappingProxyType(required),
        readings=MappingProxyType(readings),
        tighten_with_lid=lid,
        heat=required.get("collar-heat"),
    )


def _required(key: str, name: str, value: object, notes: Notes) -> float | None:
    """Read the figure that a check is held to."""
    kind = CHECKS[name]
    if kind is None:
        wanted = f"no limit for this check: {_NOT_MOVED[name]}"
        notes.add(key, shown(value), wanted)
        return None
    if kind != "number":
        return _quantity(key, value, kind, _REQUIRED, _EXAMPLES[kind], notes)
    if isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= 100:
        return float(value)
    notes.add(key, shown(value), "a plain number from 0 to 100", f"{name} = 2")
    return None


def _nested(
    key: str, name: str, inner: Mapping[str, object], readings: dict[str, float], notes: Notes
) -> None:
    """Read ``[limits.lid] gasket_inset = …``: a reading by its table and key."""
    if name not in TABLES:
        _unknown(key, name, "a check, or a reading by its table and key", list(TABLES), notes)
        return
    for part, value in inner.items():
        within = f"{key}.{key_text(part)}"
        if isinstance(value, dict):
            table = f"{name}.{part}"
            for last, each in cast("dict[str, object]", value).items():
                full = f"{table}.{last}"
                _reading(f"{within}.{key_text(last)}", full, each, readings, notes)
        else:
            _reading(within, f"{name}.{part}", value, readings, notes)


def _reading(key: str, path: str, value: object, readings: dict[str, float], notes: Notes) -> None:
    """Read the limit of error of one reading, named by its path."""
    known = every().get(path)
    if known is None or known.kind is None:
        meant = find(path)
        if meant is not None and meant.kind is not None:
            why = "one limit for all sides" if path.rpartition(".")[2] in SIDES else "no index"
            wanted = f'the reading by its key, {why}: "{meant.path}"'
            notes.add(key, "an unknown key", wanted, f'"{meant.path}" = "1 mm"')
            return
        if known is not None:
            notes.add(key, shown(value), "a key that holds a reading; this one does not")
            return
        names = [*CHECKS, *_OPTIONS, *(each.path for each in every().values() if each.kind)]
        _unknown(key, path, "a check, or a reading by its key", names, notes)
        return
    kind: Kind = "difference" if known.kind == "temperature" else known.kind
    example = '"1 mm"' if kind == "length" else _EXAMPLES[kind]
    found = _quantity(key, value, kind, _ERROR, example, notes)
    if found is not None:
        readings[path] = found


def _quantity(
    key: str,
    value: object,
    kind: Kind,
    bounds: Mapping[Kind, tuple[float, float]],
    example: str,
    notes: Notes,
) -> float | None:
    """Read a text with a unit; None with the problem noted where it is none."""
    low, high = bounds[kind]
    try:
        return float(Reader(kind, low, high, example, SLIP)(value))
    except PydanticCustomError as error:
        ctx = error.context or {}
        last = key.removeprefix("limits.")
        wanted = str(ctx.get("wanted", WORDS[kind]))
        notes.add(key, shown(value), wanted, f"{last} = {ctx.get('example', example)}")
        return None


def _unknown(key: str, name: str, what: str, names: list[str], notes: Notes) -> None:
    from difflib import get_close_matches  # only a mistake pays for it

    written = plain(name[:60]).lower().replace("_", "-")
    by_dash = {each.replace("_", "-"): each for each in names}
    close = get_close_matches(written, by_dash, n=1, cutoff=0.6)
    if close:
        nearest = by_dash[close[0]]
        kind = CHECKS.get(nearest)
        example = f"{nearest} = {_EXAMPLES[kind]}" if kind and kind != "number" else ""
        reading = every().get(nearest)
        if reading is not None and reading.kind == "length":
            example = f'{key_text(nearest)} = "1 mm"'
        wanted = f"{what}; the nearest is {key_text(nearest)}"
        notes.add(key, "an unknown key", wanted, example)
        return
    notes.add(key, "an unknown key", f'{what}, say handle-gap, or "lid.gasket_inset"')
