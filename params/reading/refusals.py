"""What is not modelled yet, refused by name with what to do instead."""

from collections.abc import Mapping
from typing import cast

from ..project import SIDES
from .notes import Notes
from .paths import shown

Raw = dict[str, object]

CORNERS: Mapping[str, str] = {
    **dict.fromkeys(("butt", "butted", "square"), "butt corners"),
    **dict.fromkeys(("rabbet", "rebate", "rabbeted", "dado", "lock"), "rabbet corners"),
    **dict.fromkeys(("box", "finger", "dovetail", "comb"), "box and dovetail corners"),
    **dict.fromkeys(("lap", "half-lap", "halflap"), "lapped corners"),
    **dict.fromkeys(("screw", "screws", "pocket", "pocket-screw", "nail"), "screwed corners"),
    **dict.fromkeys(("round", "rounded", "curved", "bent", "radius"), "round-cornered collars"),
}
"""Words for corners that a collar here does not have, and what each is called."""

_HOLDS = (
    'one of "glue", "spline", "biscuit", "dowel": every corner is a miter, this is what holds it'
)


def refuse(data: Raw, notes: Notes) -> None:
    """Note what is not modelled yet and take it out of the values, so nothing else trips on it."""
    if "fittings" in data:
        _out(
            data, "fittings", "fittings", notes,
            "a file without it: draw or buy such helpers yourself"
            " (not modelled yet: printed and routed helpers)",
        )  # fmt: skip
    for base, table in _rows(data, "board"):
        _board(base, table, notes)
    for base, table in _rows(data, "hinge"):
        on = table.get("on")
        if isinstance(on, str) and on.strip().lower() in _BODY:
            wanted = (
                '"board": the lid turns on the collar and goes up with it'
                " (not modelled yet: a hinge that stays on the body)"
            )
            _out(table, "on", f"{base}.on", notes, wanted, 'on = "board"')
    for base, table in _rows(data, "taps"):
        side = table.get("side")
        if isinstance(side, str) and side.strip().lower() in {"lid", "top"}:
            wanted = (
                'a side of the collar: "front", "right", "back" or "left"'
                " (not modelled yet: taps through the lid)"
            )
            _out(table, "side", f"{base}.side", notes, wanted, 'side = "front"')


_BODY = {"body", "freezer", "lip", "cabinet", "wall", "case"}


def _board(base: str, table: Raw, notes: Notes) -> None:
    corner = table.get("corner")
    if isinstance(corner, str):
        word = corner.strip().lower().removesuffix(" joint").removesuffix("-joint")
        if word in CORNERS:
            wanted = f"{_HOLDS} (not modelled yet: {CORNERS[word]})"
            _out(table, "corner", f"{base}.corner", notes, wanted, 'corner = "glue"')
        elif word in {"miter", "mitre", "mitered", "mitred"}:
            _out(table, "corner", f"{base}.corner", notes, _HOLDS, 'corner = "glue"')
    for key, words in (("thickness", "thickness"), ("width", "width"), ("stock", "stock")):
        if isinstance(table.get(key), dict):
            wanted = (
                f"one {words} for all four boards (not modelled yet: boards of different {words})"
            )
            _out(table, key, f"{base}.{key}", notes, wanted)
    for side in SIDES:
        if side in table:
            wanted = (
                "keys that hold for all four boards"
                " (not modelled yet: boards of different thickness or stock)"
            )
            _out(table, side, f"{base}.{side}", notes, wanted)
    for key in ("corner_radius", "corner_radii", "radius", "bend"):
        if key in table:
            wanted = (
                "a collar with mitered corners; the rounding of the freezer's lip goes under"
                " [lip] as corner_radius (not modelled yet: round-cornered collars)"
            )
            _out(table, key, f"{base}.{key}", notes, wanted)


def _rows(data: Raw, name: str) -> list[tuple[str, Raw]]:
    """Return the tables of a name with the keys under which they stand."""
    value = data.get(name)
    if isinstance(value, dict):
        return [(name, cast("Raw", value))]
    if not isinstance(value, tuple):
        return []
    rows = cast("tuple[object, ...]", value)
    one = name == "taps" and len(rows) == 1
    return [
        (name if one else f"{name}[{number}]", cast("Raw", row))
        for number, row in enumerate(rows, 1)
        if isinstance(row, dict)
    ]


def _out(table: Raw, name: str, key: str, notes: Notes, wanted: str, example: str = "") -> None:
    notes.add(key, shown(table.pop(name)), wanted, example)
    notes.drop(key)
