"""The drawing on a foam panel's template: what is cut along, and where each single hole is.

Pockets that meet one another or the edge are one line, drawn as it will be cut; yet each has a
cross at its own center, with its size and place beside it. A line about a part whose place is only
set out is dashed: it is cut when that part is on.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from ...geometry.shape.contour import Vertex
from ...geometry.shape.hole import HINGE_SET_OUT, Hole, about_assumed
from ...geometry.shape.sheet import DRAWN, Circle, Sheet
from ...params.units import Show
from ..paper.marks import Mark, Path, Pen, Point, Ring, arc, line
from .drilling import CROSS_PEN, FLAP, HOLE_PEN, edge_texts, own_region, spoken
from .labels import Box, Form, Lines, cross_reach, figure_lines, figures, free, hole_box
from .seams import seam_marks
from .tiles import Tile, Tiling

ASSUMED_PEN = Pen(HOLE_PEN.width, (2.5, 1.5))
ARM = 6.0
"""How far a cross reaches from its center at most, mm."""

CLEAR = 8.0
"""From a cross to a seam with its own crosses, mm, so that nobody takes one for the other."""

CHORD = 6.0
"""An arc is kept clear of texts in pieces of about this length, mm."""

NEAR = 4 * DRAWN
"""How near the edge of a hole a line is that was drawn for it, mm."""

EDGES = "left end", "lower edge"
WORDS = (
    (
        "upper edge, to the lid. Foam panel: the face that lies on the board is up,"
        " seen from outside",
        "upper edge, to the lid. The face on the board is up",
        "upper edge, to the lid",
    ),
    ("lower edge, to the lip: level with the board's bottom edge", "lower edge, to the lip"),
    ("left end",),
    ("right end",),
)

Step = tuple[Vertex, Vertex]


def kept(sheet: Sheet) -> list[Box]:
    """Return what no seam should go through: round pockets, and the crosses of all the others.

    An opening may be longer than any sheet of paper.
    """
    return [
        Box(hole.u - half, hole.v - half, hole.u + half, hole.v + half)
        for hole in sheet.holes
        for half in (max((hole.diameter or 0.0) / 2, ARM + CLEAR),)
    ]


def draw(
    sheet: Sheet, tiling: Tiling, tile: Tile, show: Show, names: Mapping[str, str]
) -> tuple[list[Mark], tuple[str, ...]]:
    """Draw a foam panel as it is seen on one sheet; see ``drilling.draw``."""
    region = own_region(sheet, tiling, tile)
    spots = {hole.name: _spot(sheet, hole) for hole in sheet.holes if _on(sheet, hole)}
    crosses = [hole_box(spot) for spot in spots.values()]
    lines = list(_cut_boxes(sheet))
    seams, bands = seam_marks(tiling, tile, (sheet.length, sheet.width), [*crosses, *lines])
    marks: list[Mark] = [*_cut_lines(sheet)]
    for text, box in edge_texts(sheet, tile, region, WORDS):
        marks += [text] if free(box, box, [*bands, *crosses]) else []
    marks += seams
    for spot in spots.values():
        x, y, reach = spot.x, spot.y, min(ARM, cross_reach(spot))
        marks.append(line(x - reach, y, x + reach, y, CROSS_PEN))
        marks.append(line(x, y - reach, x, y + reach, CROSS_PEN))
    holes = {hole.name: hole for hole in sheet.holes}

    def figured(spot: Circle, form: Form) -> Lines:
        hole = holes[spot.name]
        sizes = (hole.diameter,) if hole.diameter else (hole.length or 0.0, hole.height or 0.0)
        when = f"cut when {_after(spot)}" if about_assumed(spot.name, spot.purpose) else ""
        name = spot.name if when else spoken(spot, names)
        return figure_lines(name, sizes, (hole.u, hole.v), EDGES, show, form, when)

    here = [spot for spot in spots.values() if tile.holds(spot.x, spot.y)]
    written, left = figures(here, figured, region, [*bands, *lines], crosses, [])
    return [*marks, *written], _notes(sheet, tile, [spoken(spot, names) for spot in left], names)


def _on(sheet: Sheet, hole: Hole) -> bool:
    """Whether a hole's center lies on the panel."""
    return 0 <= hole.u <= sheet.length and 0 <= hole.v <= sheet.width


def _spot(sheet: Sheet, hole: Hole) -> Circle:
    """Return what a text stands beside: a round hole that is alone, or the cross in another."""
    alone = any(
        math.dist((each.x, each.y), (hole.u, hole.v)) < NEAR
        and abs(each.diameter - (hole.diameter or 0.0)) < NEAR
        for each in sheet.circles
    )
    return Circle(
        layer="POCKET",
        name=hole.name,
        purpose=hole.purpose,
        x=hole.u,
        y=hole.v,
        diameter=(hole.diameter or 0.0) if alone else ARM,
    )


def _after(hole: Circle | Hole) -> str:
    """Return what comes before a hole about a part whose place is only set out."""
    bolt = hole.name.startswith(HINGE_SET_OUT)
    return "the bolts are in" if bolt else "the brackets are on"


def _cut_lines(sheet: Sheet) -> Iterator[Mark]:
    """Draw the contours, each run of one pen as one line."""
    for contour in sheet.contours:
        vertices = contour.vertices
        steps = list(zip(vertices, vertices[1:] + vertices[:1], strict=True))
        pens = [_pen(sheet, step) for step in steps]
        starts = [i for i in range(len(steps)) if pens[i] != pens[i - 1]] or [0]
        for start, end in zip(starts, [*starts[1:], starts[0] + len(steps)], strict=True):
            run = [steps[i % len(steps)] for i in range(start, end)]
            yield Path((run[0][0].x, run[0][0].y), tuple(_drawn(run)), pens[start])
    for circle in sheet.circles:
        pen = ASSUMED_PEN if about_assumed(circle.name, circle.purpose) else HOLE_PEN
        yield Ring(circle.x, circle.y, circle.diameter, pen)


def _drawn(run: Sequence[Step]) -> Iterator[tuple[Point, ...]]:
    for a, b in run:
        if a.bulge:
            yield from arc(a.x, a.y, b.x, b.y, a.bulge)
        else:
            yield ((b.x, b.y),)


def _pen(sheet: Sheet, step: Step) -> Pen:
    """Return the pen for a part of a contour: dashed where only assumed holes have it."""
    (x, y) = _middle(step)
    followed = [hole for hole in sheet.holes if abs(_beyond(hole, x, y)) < NEAR]
    assumed = bool(followed) and all(about_assumed(each.name, each.purpose) for each in followed)
    return ASSUMED_PEN if assumed and not _at_edge(sheet, x, y) else HOLE_PEN


def _at_edge(sheet: Sheet, x: float, y: float) -> bool:
    return min(abs(x), abs(y), abs(sheet.length - x), abs(sheet.width - y)) < NEAR


def _middle(step: Step) -> Point:
    """Return the point half way along an edge: an arc's is half its bulge of a chord aside."""
    a, b = step
    dx, dy = b.x - a.x, b.y - a.y
    return (a.x + b.x) / 2 + dy * a.bulge / 2, (a.y + b.y) / 2 - dx * a.bulge / 2


def _beyond(hole: Hole, x: float, y: float) -> float:
    """Return how far a point is from a hole's edge, negative inside, mm."""
    if hole.diameter is not None:
        return math.hypot(x - hole.u, y - hole.v) - hole.diameter / 2
    dx, dy = abs(x - hole.u) - hole.half_length, abs(y - hole.v) - hole.half_height
    return math.hypot(max(dx, 0.0), max(dy, 0.0)) + min(max(dx, dy), 0.0)


def _cut_boxes(sheet: Sheet) -> Iterator[Box]:
    """Return what the contours take, for texts to keep clear of."""
    for contour in sheet.contours:
        vertices = contour.vertices
        for a, b in zip(vertices, vertices[1:] + vertices[:1], strict=True):
            points = list(_along((a, b)))
            for (x0, y0), (x1, y1) in pairwise(points):
                yield Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)).grown(1.0)


def _along(step: Step) -> Iterator[Point]:
    """Yield points along an edge, the ends among them."""
    a, b = step
    yield a.x, a.y
    if a.bulge:
        turned = 4 * math.atan(a.bulge)
        off = (1 / a.bulge - a.bulge) / 4  # from the chord's middle to the center, in chords
        cx = (a.x + b.x) / 2 - (b.y - a.y) * off
        cy = (a.y + b.y) / 2 + (b.x - a.x) * off
        radius, first = math.hypot(a.x - cx, a.y - cy), math.atan2(a.y - cy, a.x - cx)
        count = math.ceil(abs(turned) * max(radius / CHORD, 1.0))
        for i in range(1, count):
            turn = first + turned * i / count
            yield cx + radius * math.cos(turn), cy + radius * math.sin(turn)
    yield b.x, b.y


def _notes(
    sheet: Sheet, tile: Tile, unplaced: Sequence[str], names: Mapping[str, str]
) -> tuple[str, ...]:
    notes: list[str] = []
    later = [hole for hole in sheet.holes if about_assumed(hole.name, hole.purpose)]
    if later:
        first = " and ".join(sorted({_after(hole) for hole in later}))
        notes.append(f"Dashed: cut when {first}.")
    pieces = sum(contour.layer == "OUTLINE" for contour in sheet.contours)
    if pieces > 1:
        notes.append(f"Falls into {pieces} pieces.")
    off = [spoken(hole, names) for hole in sheet.holes if not _on(sheet, hole)]
    if off:
        notes.append(f"no cross, the center is off the panel: {', '.join(off)}.")
    shown = Box(tile.shown_x[0], tile.shown_y[0], tile.shown_x[1], tile.shown_y[1])
    panel = Box(-FLAP, -FLAP, sheet.length + FLAP, sheet.width + FLAP)
    split: list[str] = []
    for hole in sheet.holes:
        box = Box(
            max(hole.u - hole.half_length, panel.x0), max(hole.v - hole.half_height, panel.y0),
            min(hole.u + hole.half_length, panel.x1), min(hole.v + hole.half_height, panel.y1),
        )  # fmt: skip
        if box.meets(shown) and not box.inside(shown):
            split.append(spoken(hole, names))
    if split:
        notes.append(f"cut by a seam: {', '.join(split)}.")
    if unplaced:
        notes.append(f"no room for the figures of {', '.join(unplaced)}: see summary.json.")
    return tuple(notes)
