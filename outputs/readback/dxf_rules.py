"""What holds for every DXF cut file, whatever part it shows."""

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal

from .dxf_file import Drawing, Point

Units = Literal["mm", "in"]

TAGS: Mapping[Units, tuple[int, int]] = {"mm": (4, 1), "in": (1, 0)}
"""$INSUNITS and $MEASUREMENT of each unit (DXF reference, HEADER section)."""

WORDS: Mapping[Units, str] = {"mm": "millimeters", "in": "inches"}

R12, R2000 = "AC1009", "AC1015"
ALLOWED: Mapping[str, frozenset[str]] = {
    "polyline": frozenset({"OUTLINE", "POCKET", "BORE"}),
    "circle": frozenset({"BORE", "POCKET", "PILOT"}),
    "line": frozenset({"INNER-EDGE", "CHECK-MARK"}),
    "text": frozenset({"NOTE"}),
}
"""The layers that each kind of thing may stand on."""

LAYERS = frozenset[str]().union(*ALLOWED.values())


def tags(drawing: Drawing, units: Units) -> Iterator[str]:
    """Check what the file says of its unit; R12 has no place for it."""
    if drawing.version not in (R12, R2000):
        yield f"the file's version is {drawing.version}, not {R12} or {R2000}"
    wanted = (None, None) if drawing.version == R12 else TAGS[units]
    if drawing.units != wanted[0]:
        yield f"$INSUNITS is {drawing.units}, not {wanted[0]} ({units})"
    if drawing.measurement != wanted[1]:
        yield f"$MEASUREMENT is {drawing.measurement}, not {wanted[1]} ({units})"


def order(drawing: Drawing) -> Iterator[str]:
    """Check kinds, layers, closing, and that everything lies flat."""
    yield from (f"{kind} on layer {layer}: not for a cut file" for kind, layer in drawing.others)
    kinds = (
        ("polyline", drawing.polylines),
        ("circle", drawing.circles),
        ("line", drawing.lines),
        ("text", drawing.texts),
    )
    for kind, entities in kinds:
        for layer in sorted({each.layer for each in entities} - ALLOWED[kind]):
            yield f"a {kind} stands on layer {layer}"
    yield from (
        f"layer {layer} is not declared" for layer in sorted(LAYERS - drawing.layers.keys())
    )
    for line in drawing.polylines:
        if not line.closed:
            yield f"a polyline on {line.layer} is open"
        ends = zip(line.points, line.points[1:] + line.points[:1], strict=True)
        if any(math.dist(a, b) < 1e-6 for a, b in ends):
            yield f"a polyline on {line.layer} has a corner twice"
    heights = {
        *(point[2] for line in drawing.polylines for point in line.points),
        *(circle.center[2] for circle in drawing.circles),
        *(z for line in drawing.lines for z in (line.start[2], line.end[2])),
        *(text.at[2] for text in drawing.texts),
    }
    if heights - {0.0}:
        yield "something is drawn above or below z = 0"
    if any(each.up != 1.0 for each in (*drawing.polylines, *drawing.circles)):
        yield "something is extruded another way than up"


def doubles(drawing: Drawing) -> Iterator[str]:
    """Check that nothing is drawn twice, whatever layer it is on and whichever way it runs."""

    def key(*points: Point) -> tuple[tuple[float, ...], ...]:
        return tuple(tuple(round(value, 5) + 0.0 for value in point) for point in points)

    seen: set[Any] = set()
    for circle in drawing.circles:
        this = (key(circle.center), round(circle.diameter, 5))
        if this in seen:
            yield f"a circle on {circle.layer} is drawn twice"
        seen.add(this)
    ways = [(line.layer, line.start, line.end, 0.0) for line in drawing.lines]
    for line in drawing.polylines:
        ends = [*line.points[1:], *line.points[: 1 if line.closed else 0]]
        ways += [(line.layer, *each) for each in zip(line.points, ends, line.bulges, strict=False)]
    for layer, start, end, bulge in ways:
        there, back = (key(start, end), round(bulge, 5)), (key(end, start), round(-bulge, 5))
        if there in seen or back in seen:
            yield f"a line on {layer} is drawn twice"
        seen.add(there)


def texts(drawing: Drawing, units: Units, warnings: Sequence[str]) -> Iterator[str]:
    """Check what has to be in print; warnings first, and larger than everything else."""
    said = [text.text for text in drawing.texts]
    if not any(WORDS[units] in text for text in said):
        yield f"no note says that the coordinates are in {WORDS[units]}"
    if not any("nominal" in text for text in said):
        yield "no note says that the sizes are nominal"
    first, rest = drawing.texts[: len(warnings)], drawing.texts[len(warnings) :]
    large = max((text.height for text in rest), default=0.0)
    for warning, text in zip(warnings, first, strict=False):
        if _letters(text.text) != _letters(warning) or text.height <= large:
            yield f"not in large print before all else: {warning}"
    yield from (f"not in print: {warning}" for warning in warnings[len(first) :])


def _letters(text: str) -> str:
    """Return a text without spaces and without what means something to a DXF reader."""
    return re.sub(r"[\s%^\\/]", "", text)
