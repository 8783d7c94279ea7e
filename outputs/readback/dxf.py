"""Says what in a DXF file is not as the layout wants it; knows nothing of how it was written.

What is wanted comes as plain data: the entry in ``summary.json`` of a board, a foam panel, a
cover's board or a cap strip.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from .dxf_file import Circle, Drawing, DxfError, Line, Point, Polyline, Text, read
from .dxf_rules import Units, doubles, order, tags, texts
from .region import OFF, Cut, Edge, Region, box_edges

__all__ = ["Circle", "Drawing", "DxfError", "Line", "Polyline", "Text", "audit", "compare", "read"]

MM: Mapping[Units, float] = {"mm": 1.0, "in": 25.4}
TICK = 4.0
"""Half of the short line through the middle of a joint's mouth, mm."""

Point2 = tuple[float, float]
Line2 = tuple[Point2, Point2]

LAYER_OF = {
    "bore": "BORE",
    "passage": "BORE",
    "pocket": "POCKET",
    "opening": "POCKET",
    "pilot": "PILOT",
}
REFERENCES = (100.0, 101.6)
"""Lengths of the lines that are measured before anything is cut, mm: 100 mm and 4 in."""


def compare(
    drawing: Drawing | Path,
    expected: Mapping[str, Any],
    *,
    units: Units = "mm",
    warnings: Sequence[str] = (),
) -> list[str]:
    """Say what in a cut file is not as it should be.

    Args:
        drawing: the file, or what was read of it.
        expected: the part's entry under ``boards`` or ``foam`` in ``summary.json``, mm.
        units: the unit that was asked for.
        warnings: what has to stand first and larger than the rest.

    Returns:
        One sentence for each fault; none when all is well.

    Raises:
        DxfError: the file is not whole.
    """
    if isinstance(drawing, Path):
        drawing = read(drawing)
    found = [*tags(drawing, units), *order(drawing), *doubles(drawing)]
    found += texts(drawing, units, warnings)
    seen = _Seen(drawing, MM[units])
    # What is drilled from the other face is not in a file of this one.
    holes = expected.get("holes", ())
    cuts = tuple(_cut(hole) for hole in holes if hole.get("face") != "inner")
    width = float(expected["width_mm"])
    if "long_point_mm" in expected and "holes" not in expected:
        length = float(expected["long_point_mm"])
        found += _strip(seen, expected, length, width)
    elif "long_point_mm" in expected:
        length = float(expected["long_point_mm"])
        found += _board(seen, expected, cuts, length, width)
    else:
        length = float(expected["length_mm"])
        found += _panel(seen, Region(length, width, cuts))
    found += _size(seen, length, width)
    return found + list(_references(seen, width))


def audit(path: Path) -> Iterator[str]:
    """Say what the auditor of ezdxf finds; beside this reader, which knows cut files alone."""
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFError as LibraryError

    try:
        found = readfile(path).audit()
    except (LibraryError, ValueError) as error:
        yield f"is refused by ezdxf: {error}"
        return
    yield from (f"the audit finds: {each.message}" for each in found.errors)
    yield from (f"the audit would mend: {each.message}" for each in found.fixes)


class _Seen:
    """A drawing's geometry in mm."""

    def __init__(self, drawing: Drawing, mm: float) -> None:
        def at(point: Point) -> tuple[float, float]:
            return point[0] * mm, point[1] * mm

        self.loops: list[tuple[str, list[Edge]]] = []
        for line in drawing.polylines:
            ends = [at(point) for point in line.points]
            after = ends[1:] + ends[:1]
            edges = [Edge(*each) for each in zip(ends, after, line.bulges, strict=True)]
            self.loops.append((line.layer, edges if line.closed else edges[:-1]))
        self.circles = [
            Cut("", circle.layer, *at(circle.center), circle.diameter * mm)
            for circle in drawing.circles
        ]
        self.lines = [(line.layer, at(line.start), at(line.end)) for line in drawing.lines]
        self.low = None if drawing.low is None else at(drawing.low)
        self.high = None if drawing.high is None else at(drawing.high)


def _cut(hole: Mapping[str, Any]) -> Cut:
    sizes = hole.get("length_mm") or 0.0, hole.get("height_mm") or 0.0
    return Cut(
        hole["name"], hole["purpose"], hole["u_mm"], hole["v_mm"], hole.get("diameter_mm"), *sizes
    )


def _board(
    seen: _Seen, expected: Mapping[str, Any], cuts: Sequence[Cut], length: float, width: float
) -> Iterator[str]:
    outlines = [edges for layer, edges in seen.loops if layer == "OUTLINE"]
    yield from (f"a closed line on {layer}" for layer, _ in seen.loops if layer != "OUTLINE")
    if len(outlines) != 1:
        yield f"{len(outlines)} outlines, not one"
    for edges in outlines:
        wanted = {edge.start for edge in box_edges(0.0, 0.0, length, width)}
        found = [edge.start for edge in edges]
        if len(found) != 4 or any(edge.bulge for edge in edges):
            yield "the outline is no plain rectangle"
        elif not all(any(math.dist(a, b) <= OFF for b in found) for a in wanted):
            x, y = max(p[0] for p in found), max(p[1] for p in found)
            yield f"the outline is {x:.3f} x {y:.3f} mm from 0, 0, not {length:.3f} x {width:.3f}"
    yield from _circles(seen.circles, _each_once(cuts), (), length)
    # The miter goes through the thickness at the tilt of the blade.
    reach = [
        expected["thickness_mm"] * math.tan(math.radians(expected[f"miter_{end}_deg"]))
        for end in ("left", "right")
    ]
    edges = [(start, end) for layer, start, end in seen.lines if layer == "INNER-EDGE"]
    wanted = [("left", reach[0])] if reach[0] else []  # a square end has none
    wanted += [("right", length - reach[1])] if reach[1] else []
    for end, x in wanted:
        if not _drawn(edges, (x, 0.0), (x, width)):
            yield f"no INNER-EDGE line at {x:.3f} mm, where the inner face ends on the {end}"
    if len(edges) != len(wanted):
        yield f"{len(edges)} INNER-EDGE lines, not {('none', 'one', 'two')[len(wanted)]}"
    yield from _slots(seen, expected, length, width, reach)


def _drawn(lines: Sequence[Line2], start: Point2, end: Point2) -> bool:
    return any(
        all(min(math.dist(a, b) for b in line) <= OFF for a in (start, end)) for line in lines
    )


def _slots(
    seen: _Seen, expected: Mapping[str, Any], length: float, width: float, reach: Sequence[float]
) -> Iterator[str]:
    """Check the marks of what is cut into the miters, and that there are no others on the part."""
    marks = [(start, end) for layer, start, end in seen.lines if layer == "CHECK-MARK"]
    wanted: list[Line2] = []
    for slot in expected.get("slots", ()):
        x, v = slot["u_mm"], slot["v_mm"]
        if slot["kind"] == "spline":
            found = [((x, 0.0), (x, width))]
        else:
            low, high = (0.0, reach[0]) if slot["end"] == "left" else (length - reach[1], length)
            found = [((low, v), (high, v)), ((x, v - TICK), (x, v + TICK))]
        if not all(_drawn(marks, *line) for line in found):
            yield f"{slot['joint']} is not marked at the {slot['end']} end"
        wanted += found
    for start, end in marks:
        if max(start[1], end[1]) <= width and not _drawn(wanted, start, end):
            yield f"a CHECK-MARK line at {start[0]:.3f}, {start[1]:.3f} that marks nothing"


def _strip(seen: _Seen, expected: Mapping[str, Any], length: float, width: float) -> Iterator[str]:
    """Check a strip: its miters run across its width, so they are in the outline."""
    left, right = (
        width * math.tan(math.radians(expected[f"miter_{end}_deg"])) for end in ("left", "right")
    )
    corners = [(0.0, 0.0), (length, 0.0), (length - right, width), (left, width)]
    outlines = [edges for layer, edges in seen.loops if layer == "OUTLINE"]
    if len(seen.loops) != 1 or len(outlines) != 1 or seen.circles:
        yield "more or less is drawn than one outline"
    for edges in outlines:
        found = [edge.start for edge in edges]
        near = all(any(math.dist(a, b) <= OFF for b in found) for a in corners)
        if len(found) != 4 or any(edge.bulge for edge in edges) or not near:
            yield f"the outline is no trapezoid with corners at {_said(corners)}"
    yield from _slots(seen, {}, length, width, (0.0, 0.0))


def _said(points: Sequence[Point2]) -> str:
    return "; ".join(f"{x:.3f}, {y:.3f}" for x, y in points)


def _each_once(cuts: Sequence[Cut]) -> list[Cut]:
    found: list[Cut] = []
    for cut in cuts:
        if not any(cut.same(other) for other in found):
            found.append(cut)
    return found


def _circles(
    found: Sequence[Cut], wanted: Sequence[Cut], allowed: Sequence[Cut], length: float
) -> Iterator[str]:
    """Match circles (their layer is in ``purpose``) with the holes that should be there."""
    left = list(found)
    missed: list[Cut] = []
    for hole in wanted:
        match = next((c for c in left if c.same(hole)), None)
        if match is None:
            missed.append(hole)
            continue
        left.remove(match)
        if match.purpose != LAYER_OF[hole.purpose]:
            yield f"{hole.name} is on {match.purpose}, not on {LAYER_OF[hole.purpose]}"
    left = [circle for circle in left if not any(circle.same(hole) for hole in allowed)]
    mirrored = [Cut(h.name, h.purpose, length - h.x, h.y, h.diameter) for h in missed]
    if missed and all(any(hole.same(circle) for circle in left) for hole in mirrored):
        yield f"mirrored left to right: {', '.join(hole.name for hole in missed)}"
        return
    for hole in missed:
        on = LAYER_OF[hole.purpose]
        near = min(left, key=lambda c, h=hole: math.hypot(c.x - h.x, c.y - h.y), default=None)
        if near is None:
            yield f"{hole.name}: no circle for it on {on}"
            continue
        left.remove(near)
        off = math.hypot(near.x - hole.x, near.y - hole.y)
        yield (
            f"{hole.name} is {off:.3f} mm off: drawn about {near.x:.3f}, {near.y:.3f},"
            f" {near.diameter:.3f} mm across; wanted about {hole.x:.3f}, {hole.y:.3f},"
            f" {hole.diameter:.3f} mm across"
        )
    for circle in left:
        yield f"a circle on {circle.purpose} about {circle.x:.3f}, {circle.y:.3f} that is no hole"


def _panel(seen: _Seen, region: Region) -> Iterator[str]:
    surely, perhaps = region.lone()
    yield from _circles(seen.circles, surely, perhaps, region.length)
    drawn = [edge for _, edges in seen.loops for edge in edges]
    yield from _some("nothing is to be cut at", region.strays(drawn))
    round_ones = [edge for circle in seen.circles for edge in circle.edges()]
    yield from _some("nothing is drawn at", region.missing([*drawn, *round_ones]))
    for layer, edges in seen.loops:
        if layer != "OUTLINE":
            layers = {LAYER_OF[purpose] for purpose in region.followed(edges)}
            wanted = "POCKET" if "POCKET" in layers else "BORE"
            if layer != wanted:
                yield f"a closed line is on {layer}, not on {wanted}"
        elif not any(_on_edge(edge, region) for edge in edges) and not _counterclockwise(edges):
            yield "a hole is on OUTLINE"


def _on_edge(edge: Edge, region: Region) -> bool:
    return all(abs(region.plate.beyond(*point)) <= OFF for point in edge.points(3))


def _counterclockwise(edges: Sequence[Edge]) -> bool:
    points = [point for edge in edges for point in list(edge.points(9))[:-1]]
    after = points[1:] + points[:1]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, after, strict=True)) > 0


def _some(what: str, points: Sequence[tuple[float, float]]) -> Iterator[str]:
    if points:
        x, y = points[0]
        more = f" and {len(points) - 1} more places" if len(points) > 1 else ""
        yield f"{what} {x:.3f}, {y:.3f}{more}"


def _size(seen: _Seen, length: float, width: float) -> Iterator[str]:
    """Check the part's corner, and that the stated extents hold all that is drawn."""
    outline = [
        point
        for layer, edges in seen.loops
        if layer == "OUTLINE"
        for edge in edges
        for point in edge.points(9)
    ]
    others = [point for _, start, end in seen.lines for point in (start, end)]
    others += [
        (c.x + way * (c.diameter or 0.0) / 2, c.y + way * (c.diameter or 0.0) / 2)
        for c in seen.circles
        for way in (-1, 1)
    ]
    if any(x < -OFF or y < -OFF for x, y in (*outline, *others)):
        yield "something is drawn left of or below the blank's corner at 0, 0"
    if any(x > length + OFF or y > width + OFF for x, y in outline):
        yield f"the outline is larger than {length:.3f} x {width:.3f} mm"
    if seen.low is None or seen.high is None:
        yield "the extents are not stated"
    elif math.dist(seen.low, (0.0, 0.0)) > OFF:
        yield f"the extents begin at {seen.low[0]:g}, {seen.low[1]:g}, not at 0, 0"
    elif any(x > seen.high[0] + OFF or y > seen.high[1] + OFF for x, y in (*outline, *others)):
        yield f"the extents end at {seen.high[0]:g}, {seen.high[1]:g}, before what is drawn"


def _references(seen: _Seen, width: float) -> Iterator[str]:
    """Check the lines of known length: level, as long as they say, and clear of the part."""
    lines = [(start, end) for layer, start, end in seen.lines if layer == "CHECK-MARK"]
    for wanted in REFERENCES:
        if not any(
            abs(abs(end[0] - start[0]) - wanted) <= OFF and start[1] == end[1] > width
            for start, end in lines
        ):
            yield f"no reference line of {wanted:g} mm above the part"
