"""A board's volume in closed form, to hold against what the kernel made.

A foam panel's is its own ``volume``: everything is cut right through it.
"""

from itertools import pairwise

from ..shape.contour import outlines
from ..shape.frame import Board
from ..shape.hole import Hole
from . import kernel


def board_volume(board: Board) -> float:
    """Return a board's volume after boring, mm3: w t (long + short)/2 less what is cut."""
    long_and_short = board.long_point + board.short_point
    solid = board.width * board.thickness * long_and_short / 2
    return solid - removed(board.holes, board.long_point, board.width, board.thickness)


def removed(holes: tuple[Hole, ...], length: float, width: float, thickness: float) -> float:
    """Return the volume that holes of any depth take out of a flat part, mm3.

    Between two depths at which a hole begins or ends the cut is the same all through: its
    volume there is the area of the holes' union times the height of that slice.
    """
    spans = [(*kernel.span(hole, thickness), hole) for hole in holes]
    heights = sorted({z for low, high, _ in spans for z in (low, high)})
    total = 0.0
    for low, high in pairwise(heights):
        there = tuple(hole for a, b, hole in spans if a <= low and high <= b)
        cut = length * width - outlines(length, width, there).area
        total += (high - low) * cut
    return total
