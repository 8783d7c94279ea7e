"""Areas that glue and finish go on, from the layout, in mm2."""

import math

from ...shape.frame import Board
from ...shape.joints import Joint
from ...shape.layout import Layout
from ...shape.seat import Strip


def miter(board: Board) -> float:
    """Return the glue line at a board's right end: ``w t / cos m``; 0 where it ends square.

    The blade leans by ``m`` from a square cut, so the cut is ``t / cos m`` long through the
    board's thickness.
    """
    if not board.miter_right_deg:
        return 0.0
    return board.width * board.thickness / math.cos(math.radians(board.miter_right_deg))


def miters(layout: Layout) -> float:
    """Return the glue lines of all corners, of boards, covers and a wooden cap: each once."""
    boards = sum(miter(board) for board in (*layout.boards, *layout.covers))
    strips = (strip for strip in layout.strips if not strip.steel)
    return boards + sum(
        strip.width * strip.thickness / math.cos(math.radians(strip.miter_right_deg))
        for strip in strips
    )


def bores(board: Board) -> float:
    """Return what bores and passages take out of one face of a board; pilots are left out."""
    return sum(
        math.pi / 4 * (hole.diameter or 0.0) ** 2
        for hole in board.holes
        if hole.purpose in ("bore", "passage")
    )


def covered(layout: Layout, cover: Board) -> float:
    """Return where a cover lies on its board, less the holes through it."""
    board = layout.board(cover.side)
    tall = max(0.0, min(cover.top, board.top) - max(cover.bottom, board.bottom))
    return board.long_point * tall - bores(cover)


def joint(found: Joint) -> float:
    """Return what of a spline, biscuit or dowel is glued: both faces, or a dowel's mantle."""
    if found.kind == "dowel":
        return math.pi * found.thick * found.wide
    return 2 * found.volume / found.thick


def face(strip: Strip) -> float:
    """Return a cap strip's face, a trapezoid."""
    return (strip.long_point + strip.short_point) / 2 * strip.width


def under(layout: Layout, strip: Strip) -> float:
    """Return what of a cap strip's face lies on its board; one that is wider hangs over the foam.

    Ends of the strip's part on the board are mitered as the strip is.
    """
    inset = layout.cap.inset if layout.cap is not None else 0.0
    lies = min(strip.width, max(0.0, layout.board(strip.side).thickness - inset))
    shorter = (strip.inner_left + strip.inner_right) * lies / strip.width
    return (strip.long_point - shorter / 2) * lies


def surface(board: Board) -> float:
    """Return both faces, both edges, square ends and the walls of bores and passages.

    Miters are left out: they are glued.
    """
    both = (board.long_point + board.short_point) * board.width
    edges = (board.long_point + board.short_point) * board.thickness
    ends = sum(
        board.width * board.thickness
        for tilt in (board.miter_left_deg, board.miter_right_deg)
        if not tilt
    )
    walls = sum(
        math.pi * (hole.diameter or 0.0) * board.thickness
        for hole in board.holes
        if hole.purpose in ("bore", "passage")
    )
    return both + edges + ends + walls - 2 * bores(board)


def finished(layout: Layout) -> float:
    """Return all the wood that finish goes on: every surface that is not glued to another.

    A wooden cap strip hides as much of the top edges as its own top adds where it lies on them;
    its two edges remain, and both faces of what hangs over.
    """
    whole = sum(surface(board) for board in (*layout.boards, *layout.covers))
    whole -= 2 * sum(covered(layout, cover) for cover in layout.covers)
    if layout.cap is not None and not layout.cap.steel:
        whole += sum((s.long_point + s.short_point) * s.thickness for s in layout.strips)
        whole += 2 * sum(face(strip) - under(layout, strip) for strip in layout.strips)
    return whole
