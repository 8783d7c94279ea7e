"""Flat views: each board and panel as it lies on the bench, worked out once.

DXF files and templates only draw these. A board is seen from outside: x from its left long
point, y from its bottom edge; a foam panel from the same side, x from its left end. The lower
left corner of the blank is at 0, 0 and all sizes are nominal: nobody has added a kerf.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from ...params.project import Side
from ...params.units import Show
from .captions import board_captions, panel_captions
from .contour import Vertex, outlines
from .hole import Hole, Purpose
from .layout import Layout

Layer = Literal["OUTLINE", "BORE", "POCKET", "PILOT", "INNER-EDGE", "NOTE", "CHECK-MARK"]


@dataclass(frozen=True, slots=True)
class Contour:
    """A closed line; the first vertex is not repeated."""

    layer: Layer
    vertices: tuple[Vertex, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A round hole in the flat view."""

    layer: Layer
    name: str
    purpose: Purpose
    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight mark."""

    layer: Layer
    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Note:
    """A line of text, its lower left corner at (x, y); ``height`` of a capital letter, mm."""

    layer: Layer
    x: float
    y: float
    height: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One part's flat view, mm. ``name`` is the file's stem: ``board-front``, ``foam-left``."""

    name: str
    kind: Literal["board", "foam"]
    side: Side
    length: float
    width: float
    thickness: float
    contours: tuple[Contour, ...]
    circles: tuple[Circle, ...]
    lines: tuple[Line, ...]
    notes: tuple[Note, ...]


LAYER_OF: Mapping[Purpose, Layer] = {
    "bore": "BORE",
    "passage": "BORE",
    "pocket": "POCKET",
    "opening": "POCKET",
    "pilot": "PILOT",
}
"""The layer that a hole of each purpose is drawn on."""

TEXT = 5.0
"""Height of a capital letter in a note, mm."""

GAP, PITCH = 12.0, 9.0
"""From the part to what stands above it, and from one line of that to the next, mm."""

REFERENCES = ((100.0, "100 mm"), (101.6, "4 in"))
"""Lines of known length to be measured before anything is cut: mm, and what they are called."""

DRAWN = 5e-4
"""What is closer than this is drawn as touching, mm: far below what a router can tell apart, and
a file in inches with six decimals still tells it apart."""

SAME = 1e-6
"""Holes whose places and sizes differ by less are one, mm (files carry six decimals)."""


def sheets(layout: Layout, show: Show) -> tuple[Sheet, ...]:
    """Return the flat views of the four boards, then of the foam panels where there are any."""
    boards = tuple(board_sheet(layout, board.side, show) for board in layout.boards)
    return boards + tuple(panel_sheet(layout, panel.side, show) for panel in layout.panels)


def board_sheet(layout: Layout, side: Side, show: Show) -> Sheet:
    """Return a board's flat view: long point by width, seen from outside.

    Args:
        layout: what is where.
        side: which board.
        show: the unit that comes first in the notes.
    """
    board = layout.board(side)
    long, wide = board.long_point, board.width
    corners = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    marks, labels, top = _references(wide)
    return Sheet(
        name=f"board-{side}",
        kind="board",
        side=side,
        length=long,
        width=wide,
        thickness=board.thickness,
        contours=(Contour("OUTLINE", tuple(Vertex(*corner) for corner in corners)),),
        circles=tuple(_circle(hole) for hole in _once(board.holes) if hole.face == "outer"),
        lines=(
            *(
                Line("INNER-EDGE", x, 0.0, x, wide)
                for x in (board.inner_left, long - board.inner_right)
            ),
            *marks,
        ),
        notes=(*_stacked(board_captions(board, layout.taps_on(side), show), top), *labels),
    )


def panel_sheet(layout: Layout, side: Side, show: Show) -> Sheet:
    """Return a foam panel's flat view, seen from outside: the face on the board is up.

    What overlaps, touches or runs over the edge is one line. A panel may fall into several
    pieces, and where nothing of it is left there is no outline.

    Args:
        layout: what is where.
        side: which panel.
        show: the unit that comes first in the notes.

    Raises:
        ValueError: the design has no foam.
    """
    panel = layout.panel(side)
    if panel is None:
        raise ValueError("the design has no foam panels")
    cut = outlines(panel.length, panel.width, panel.holes, DRAWN)
    circles = tuple(_circle(ring.circle) for ring in cut.inner if ring.circle)
    contours = [Contour("OUTLINE", ring.vertices) for ring in cut.outer]
    for ring in cut.inner:
        if ring.circle is None:
            layers = {LAYER_OF[hole.purpose] for hole in ring.holes}
            contours.append(Contour("POCKET" if "POCKET" in layers else "BORE", ring.vertices))
    marks, labels, top = _references(panel.width)
    texts = panel_captions(panel, layout.board(side), layout.taps_on(side), len(cut.outer), show)
    return Sheet(
        name=f"foam-{side}",
        kind="foam",
        side=side,
        length=panel.length,
        width=panel.width,
        thickness=panel.thickness,
        contours=tuple(contours),
        circles=circles,
        lines=marks,
        notes=(*_stacked(texts, top), *labels),
    )


def _once(holes: Sequence[Hole]) -> list[Hole]:
    """Leave out a hole that is another one once more: it would be cut twice."""
    found: list[Hole] = []
    for hole in holes:
        place = hole.u, hole.v, hole.diameter or 0.0
        for other in found:
            there = other.u, other.v, other.diameter or 0.0
            if all(abs(a - b) < SAME for a, b in zip(place, there, strict=True)):
                break
        else:
            found.append(hole)
    return found


def _circle(hole: Hole) -> Circle:
    return Circle(
        layer=LAYER_OF[hole.purpose],
        name=hole.name,
        purpose=hole.purpose,
        x=hole.u,
        y=hole.v,
        diameter=hole.diameter or 0.0,
    )


def _references(width: float) -> tuple[tuple[Line, ...], tuple[Note, ...], float]:
    """Return lines of known length with their labels, and the height above them.

    They stand above the part, as all notes do: the lower left corner of everything that is
    drawn is then the part's own, for programs that put their zero there.
    """
    lines: list[Line] = []
    labels: list[Note] = []
    y = width + GAP
    for length, name in REFERENCES:
        tick = TEXT / 2
        ends = ((0.0, y, length, y), *((x, y - tick, x, y + tick) for x in (0.0, length)))
        lines += [Line("CHECK-MARK", *each) for each in ends]
        text = f"{name} between the ticks: measure it before cutting"
        labels.append(Note("NOTE", length + TEXT, y - tick, TEXT, text))
        y += PITCH
    return tuple(lines), tuple(labels), y


def _stacked(texts: Sequence[str], low: float) -> tuple[Note, ...]:
    """Return lines of text one above the other, the first one on top, the last one at ``low``."""
    count = len(texts)
    return tuple(
        Note("NOTE", 0.0, low + (count - 1 - i) * PITCH, TEXT, text) for i, text in enumerate(texts)
    )
