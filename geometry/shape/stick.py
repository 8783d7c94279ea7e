"""Sticks that boards are cut from: which share one, and where one is clear of flaws."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from .frame import Board

Long = TypeVar("Long", int, float)
"""A length, mm, or a whole number of steps."""

CLOSE = 0.01
"""What comes closer to an edge comes to it, mm: floats differ by less, and no tape shows it."""


def section(board: Board) -> tuple[int, int]:
    """Return thickness and width in steps of 0.01 mm: boards that share them share sticks."""
    return round(100 * board.thickness), round(100 * board.width)


def goes_through(defect: Sequence[float], width: float) -> bool:
    """Tell whether no board may hold a flaw: it takes the whole width, or comes to an edge.

    The lid's gasket closes on the boards' top edge and the seal lies under the bottom one; which
    edge of a stick becomes which is open as long as a board may be turned end for end.

    Args:
        defect: from and to along the stick, and perhaps from and to up its width, mm.
        width: of the stick and its boards, mm.
    """
    return len(defect) == 2 or defect[2] < CLOSE or defect[3] > width - CLOSE


def clear_wood(
    length: float, trim: float, defects: Iterable[Sequence[float]], width: float
) -> list[float]:
    """Return how long the stretches are between trims and flaws that no board may hold, mm."""
    ends = ((each[0], each[1]) for each in defects if goes_through(each, width))
    return [end - begin for begin, end in stretches(length, trim, ends)]


def stretches(
    length: Long, trim: Long, ends: Iterable[tuple[Long, Long]], cut: Long | None = None
) -> Iterator[tuple[Long, Long]]:
    """Yield from where to where a stick is clear between its trims and what ends the clear wood.

    Args:
        length: of the stick, in mm or in steps.
        trim: what is lost at each of its ends.
        ends: from and to of each flaw that ends the clear wood.
        cut: how far behind a clear stretch the next begins at the least; 0 where none is given.
    """
    begin = trim
    for low, high in [*sorted(ends), (length - trim, length)]:
        end = min(low, length - trim)
        if end > begin:
            yield begin, end
            begin = end + cut if cut else end
        begin = max(begin, high)
