"""Holding ``summary.json``, read back, against its schema, the layout, and the files beside it."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from ...geometry.shape.layout import Layout
from ..schema import SCHEMA
from .told import CLOSE

BOARD = {
    "long_point_mm": "long_point",
    "short_point_mm": "short_point",
    "width_mm": "width",
    "thickness_mm": "thickness",
    "miter_left_deg": "miter_left_deg",
    "miter_right_deg": "miter_right_deg",
    "volume_mm3": "volume",
}
PANEL = {
    "length_mm": "length",
    "width_mm": "width",
    "thickness_mm": "thickness",
    "volume_mm3": "volume",
}
HOLE = {
    "name": "name",
    "purpose": "purpose",
    "u_mm": "u",
    "v_mm": "v",
    "diameter_mm": "diameter",
    "length_mm": "length",
    "height_mm": "height",
    "depth_mm": "depth",
    "into_block_mm": "into_block",
}
STRIP = BOARD | {"bottom_mm": "bottom"}
SLOT = {
    "joint": "joint",
    "kind": "kind",
    "end": "end",
    "v_mm": "v",
    "thick_mm": "thick",
    "tall_mm": "tall",
    "depth_mm": "depth",
}
JOINT = {
    "name": "name",
    "kind": "kind",
    "corner": "corner",
    "v_mm": "v",
    "long_mm": "long",
    "wide_mm": "wide",
    "thick_mm": "thick",
    "from_outer_mm": "from_outer",
    "wood_mm": "wood",
    "volume_mm3": "volume",
}
CORNER = {
    "name": "name",
    "x_mm": "x",
    "y_mm": "y",
    "interior_deg": "interior_deg",
    "miter_deg": "miter_deg",
}
"""Keys of the summary, and the figures of the layout that stand under them."""


def compare(path: Path, root: Path, layout: Layout, data: Mapping[str, Any]) -> Iterator[str]:
    """Say what in the written summary is not as it must be.

    Args:
        path: the file.
        root: the folder whose files it lists.
        layout: what its sizes are held against.
        data: what was to be written.
    """
    from ..readback import summary

    found = summary.read(path)
    faults = list(summary.misfits(found, SCHEMA))
    yield from faults
    if faults:
        return  # what does not fit its schema cannot be gone through by its keys
    yield from summary.unlike(found, json.loads(json.dumps(data)))
    yield from _sizes("corner", found["frame"]["corners"], layout.frame.corners, CORNER)
    yield from _parts("board", found["boards"], layout.boards, BOARD)
    yield from _parts("foam", found["foam"], layout.panels, PANEL)
    cover = BOARD | {"bottom_mm": "bottom"}
    yield from _parts("cover", found["covers"], layout.covers, cover)
    yield from _sizes("cap strip", found["cap"], layout.strips, {"side": "side", **STRIP})
    yield from _sizes("joint", found["joints"], layout.joints, JOINT)
    for entry, board in zip(found["boards"], layout.boards, strict=False):
        yield from _sizes(f"{board.name}'s slot", entry.get("slots", []), board.slots, SLOT)
    yield from summary.listing(root, path, found)


def _parts(word: str, entries: Any, parts: Any, keys: Mapping[str, str]) -> Iterator[str]:
    yield from _sizes(word, entries, parts, {"side": "side", **keys})
    for entry, part in zip(entries, parts, strict=False):
        yield from _sizes(f"{word}-{part.side}'s hole", entry["holes"], part.holes, HOLE)


def _sizes(what: str, entries: Any, things: Any, keys: Mapping[str, str]) -> Iterator[str]:
    if len(entries) != len(things):
        yield f"{what}: {len(entries)} are listed, not {len(things)}"
        return
    for number, (entry, thing) in enumerate(zip(entries, things, strict=True), 1):
        for key, name in keys.items():
            found, wanted = entry.get(key), getattr(thing, name)
            numbers = isinstance(found, float | int) and isinstance(wanted, float | int)
            if not (abs(found - wanted) <= CLOSE if numbers else found == wanted):
                yield f"{what} {number}: {key} is {found}, not {wanted} as laid out"
