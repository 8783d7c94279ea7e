"""Flat views: each board, cover, cap strip and panel as it lies on the bench, worked out once.

DXF files and templates only draw these. A board is seen from outside: x from its left long
point, y from its bottom edge; a foam panel from the same side, x from its left end; a cap strip
from above, x from its left long point along its outer edge. The lower left corner of the blank
is at 0, 0 and all sizes are nominal: nobody has added a kerf. Templates have a board's inner face
too, seen from inside: x from its left short point.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ...params.project import SIDES, Side
from ...params.units import Show
from .captions import board_captions, panel_captions, strip_captions
from .contour import Vertex, outlines
from .frame import Board
from .hole import BRACKET_SET_OUT, Hole, Purpose
from .layout import Layout
from .lining import Panel
from .six_lengths import CORNERS
from .slot import Slot

Layer = Literal["OUTLINE", "BORE", "POCKET", "PILOT", "INNER-EDGE", "NOTE", "CHECK-MARK"]


@dataclass(frozen=True, slots=True)
class Contour:
    """A closed line; the first vertex is not repeated."""

    layer: Layer
    vertices: tuple[Vertex, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A round hole in the flat view; ``depth`` is None where it goes right through, mm."""

    layer: Layer
    name: str
    purpose: Purpose
    x: float
    y: float
    diameter: float
    depth: float | None = None


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


@dataclass(frozen=True, slots=True)
class End:
    """How one end of a board is sawn, with the board flat and its outer face up.

    ``corner`` is the collar's there, ``tilt_deg`` the blade's tilt, 0 for a square end,
    ``scale_deg`` what the saw's scale has to say for it, None where no test ring told, and
    ``prove`` whether there is a ring, but too far from that tilt. ``run`` is
    how far the cut runs toward the board's middle for each mm from the face that is seen into the
    wood: negative on the inner face, from where it runs outward.
    """

    corner: str
    tilt_deg: float
    run: float
    scale_deg: float | None = None
    prove: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One part's flat view, mm. ``name`` is the file's stem: ``board-front``, ``foam-left``.

    ``bracketed``: it has bracket holes on its inner face, which are told and not drawn.
    """

    name: str
    kind: Literal["board", "foam", "cover", "cap"]
    side: Side
    length: float
    width: float
    thickness: float
    bracketed: bool = False
    contours: tuple[Contour, ...]
    circles: tuple[Circle, ...]
    lines: tuple[Line, ...]
    notes: tuple[Note, ...]
    face: Literal["outer", "inner"] = "outer"
    ends: tuple[End, End] | None = None
    """How a board's left and right end, as seen, are sawn."""
    beyond: tuple[float, float] = (0.0, 0.0)
    """How far the square-ended blank goes on beyond the left and the right end, mm."""
    low: float = 0.0
    """How far the lower edge of a cover's board lies below the collar board's, mm."""
    start: float = 0.0
    """How far a foam panel's left end lies from its board's left long point, mm."""
    holes: tuple[Hole, ...] = ()
    """What is cut into a foam panel, each single hole once, where contours join several."""


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

TICK = 4.0
"""Half of the short line that crosses a joint's, mm."""

REFERENCES = ((100.0, "100 mm"), (101.6, "4 in"))
"""Lines of known length to be measured before anything is cut: mm, and what they are called."""

DRAWN = 5e-4
"""What is closer than this is drawn as touching, mm: far below what a router can tell apart, and
a file in inches with six decimals still tells it apart."""

SAME = 1e-6
"""Holes whose places and sizes differ by less are one, mm (files carry six decimals)."""


def sheets(layout: Layout, show: Show) -> tuple[Sheet, ...]:
    """Return the flat views of the boards, then of foam panels, covers and cap strips, if any."""
    boards = tuple(board_sheet(layout, board.side, show) for board in layout.boards)
    panels = tuple(panel_sheet(layout, panel.side, show) for panel in layout.panels)
    covers = tuple(plate_sheet(layout, cover, show) for cover in layout.covers)
    strips = tuple(strip_sheet(layout, strip.side, show) for strip in layout.strips)
    return boards + panels + covers + strips


def board_sheet(layout: Layout, side: Side, show: Show) -> Sheet:
    """Return a board's flat view: long point by width, seen from outside.

    Args:
        layout: what is where.
        side: which board.
        show: the unit that comes first in the notes.
    """
    return plate_sheet(layout, layout.board(side), show)


def plate_sheet(layout: Layout, board: Board, show: Show) -> Sheet:
    """Return the flat view of a board or of a cover's board; see ``board_sheet``."""
    long, wide = board.long_point, board.width
    corners = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    marks, labels, top = _references(wide)
    inner = ((board.inner_left, board.inner_left), (board.inner_right, long - board.inner_right))
    texts = board_captions(board, layout.taps_on(board.side), show, layout.over(board))
    return Sheet(
        name=board.name,
        kind=board.kind,
        side=board.side,
        length=long,
        width=wide,
        thickness=board.thickness,
        bracketed=any(
            hole.assumed and hole.name.startswith(BRACKET_SET_OUT) for hole in board.holes
        ),
        contours=(Contour("OUTLINE", tuple(Vertex(*corner) for corner in corners)),),
        circles=tuple(_circle(hole) for hole in _once(board.holes) if hole.face == "outer"),
        lines=(
            *(Line("INNER-EDGE", x, 0.0, x, wide) for far, x in inner if far > 0),
            *(mark for slot in board.slots for mark in joint_marks(board, slot)),
            *marks,
        ),
        notes=(*_stacked(texts, top), *labels),
        ends=_ends(board),
        low=-board.bottom if board.kind == "cover" else 0.0,
    )


def _ends(board: Board) -> tuple[End, End]:
    """Return how a board's ends are sawn, left and right as seen from outside."""
    i = SIDES.index(board.side)
    left, right = board.inner_left / board.thickness, board.inner_right / board.thickness
    return (
        End(CORNERS[i], board.miter_left_deg, left, board.scale_left_deg, board.prove_left),
        End(
            CORNERS[(i + 1) % 4],
            board.miter_right_deg,
            right,
            board.scale_right_deg,
            board.prove_right,
        ),
    )


def inner_sheet(board: Board) -> Sheet:
    """Return the inner face of a board as it is seen from inside, for its template.

    The right end seen from outside is the left one here: x runs from there, from the short point,
    and y from the bottom edge as ever. It has what is drilled from this face and what goes right
    through; a blind hole of the outer face is not on it. A cut file is made from the outer face
    alone, so there are no notes.

    Args:
        board: the collar's board or a cover's; nothing is drilled into a cover from inside.
    """
    long, wide = board.short_point, board.width
    corners = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    left, right = (replace(end, run=-end.run) for end in reversed(_ends(board)))
    seen = [hole for hole in board.holes if hole.face == "inner" or hole.depth is None]
    return Sheet(
        name=f"{board.name}-inner",
        kind=board.kind,
        side=board.side,
        length=long,
        width=wide,
        thickness=board.thickness,
        bracketed=False,
        contours=(Contour("OUTLINE", tuple(Vertex(*corner) for corner in corners)),),
        circles=tuple(
            _circle(replace(hole, u=board.long_point - board.inner_right - hole.u))
            for hole in _once(seen)
        ),
        lines=(),
        notes=(),
        face="inner",
        ends=(left, right),
        beyond=(board.inner_right, board.inner_left),
    )


Stroke = tuple[float, float, float, float]
"""A straight line: x and y of its ends, mm."""


def miter_lines(sheet: Sheet, flap: float) -> tuple[Stroke, ...]:
    """Return where the saw's cuts run over the edges of a board, with the edges laid flat.

    Paper that is folded over the lower edge shows that edge at y < 0, over the upper one above the
    width. The cut starts at the end of the face that is seen and runs into the wood at the miter's
    true angle.

    Args:
        sheet: the flat view of a board's face.
        flap: how much of the edges is seen, mm; a line is no longer than the board is thick.
    """
    deep, found = min(flap, sheet.thickness), list[Stroke]()
    for x, turn, end in zip((0.0, sheet.length), (1, -1), sheet.ends or (), strict=False):
        if end.tilt_deg:
            reached = x + turn * end.run * deep
            found.append((x, 0.0, reached, -deep))
            found.append((x, sheet.width, reached, sheet.width + deep))
    return tuple(found)


def joint_marks(board: Board, slot: Slot) -> tuple[Line, ...]:
    """Return where a joint lies in a board's miter, as lines on the outer face.

    A line along the board is at the height of its middle, from the end to where the inner face
    ends; a line up the board is where the middle of its mouth lies between the two. A spline runs
    all the way up, so it has the second line alone.
    """
    x = slot.mouth[0]
    if slot.kind == "spline":
        return (Line("CHECK-MARK", x, 0.0, x, board.width),)
    start, end = (
        (0.0, board.inner_left)
        if slot.end == "left"
        else (board.long_point - board.inner_right, board.long_point)
    )
    return (
        Line("CHECK-MARK", start, slot.v, end, slot.v),
        Line("CHECK-MARK", x, slot.v - TICK, x, slot.v + TICK),
    )


def strip_sheet(layout: Layout, side: Side, show: Show) -> Sheet:
    """Return a cap strip's flat view from above: its outer edge down, miters and all.

    Raises:
        ValueError: the design has no cap.
    """
    strip = next((each for each in layout.strips if each.side == side), None)
    if strip is None:
        raise ValueError("the design has no cap")
    marks, labels, top = _references(strip.width)
    return Sheet(
        name=strip.name,
        kind="cap",
        side=side,
        length=strip.long_point,
        width=strip.width,
        thickness=strip.thickness,
        contours=(Contour("OUTLINE", tuple(Vertex(*corner) for corner in strip.flat)),),
        circles=(),
        lines=marks,
        notes=(*_stacked(strip_captions(strip, show), top), *labels),
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
    board = layout.board(side)
    texts = panel_captions(panel, board, layout.taps_on(side), len(cut.outer), show)
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
        start=board.inner_left + panel.start,
        holes=tuple(hole for hole in _once(panel.holes) if _meets(panel, hole)),
    )


def _once(holes: Sequence[Hole]) -> list[Hole]:
    """Leave out a hole that is another one once more: it would be cut twice."""
    found: list[Hole] = []
    for hole in holes:
        place = _place(hole)
        for other in found:
            if all(abs(a - b) < SAME for a, b in zip(place, _place(other), strict=True)):
                break
        else:
            found.append(hole)
    return found


def _meets(panel: Panel, hole: Hole) -> bool:
    """Whether a hole takes anything of a panel."""
    away_u = max(-hole.u, 0.0, hole.u - panel.length)
    away_v = max(-hole.v, 0.0, hole.v - panel.width)
    if hole.diameter is not None:
        return math.hypot(away_u, away_v) < hole.diameter / 2
    return away_u < hole.half_length and away_v < hole.half_height


def _place(hole: Hole) -> tuple[float, ...]:
    return hole.u, hole.v, hole.diameter or 0.0, hole.length or 0.0, hole.height or 0.0


def _circle(hole: Hole) -> Circle:
    return Circle(
        layer=LAYER_OF[hole.purpose],
        name=hole.name,
        purpose=hole.purpose,
        x=hole.u,
        y=hole.v,
        diameter=hole.diameter or 0.0,
        depth=hole.depth,
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
