"""A table's columns: how wide each is, and how its words are broken into lines."""

from collections.abc import Sequence

from ...paper.pdf import clean, text_width, wrapped
from ..table import Table

MOST_LINES = 12
"""Lines that a cell may take; what is longer ends in an ellipsis."""

NARROWEST = 9.0
"""No column is narrower, mm."""


def widths(table: Table, size: float, pad: float, room: float) -> list[float]:
    """Return each column's width, mm, padding included, all together at most ``room``.

    A column is as wide as its longest text, where all fit so. Else those that can be broken give
    way, the widest first, but none below its longest word while there is another way.
    """
    rows = [[clean(cell) for cell in row] for row in (table.header, *table.rows)]
    whole = [
        max(text_width(cell, size) for cell in column) + pad for column in zip(*rows, strict=True)
    ]
    words = [
        max((text_width(word, size) for cell in column for word in cell.split()), default=0.0) + pad
        for column in zip(*rows, strict=True)
    ]
    if sum(whole) <= room:
        return whole
    least = [max(NARROWEST, each) for each in words]
    if sum(least) > room:  # words as long as that are broken: only a hostile name has them
        return _level(whole, [NARROWEST] * len(whole), room)
    return _level(whole, least, room)


def _level(whole: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    """Cap all widths at one height, so high that they fill the room; ``least`` stays."""
    low, high = 0.0, max(whole)
    for _ in range(40):
        cap = (low + high) / 2
        if sum(max(min(w, cap), n) for w, n in zip(whole, least, strict=True)) > room:
            high = cap
        else:
            low = cap
    return [max(min(w, low), n) for w, n in zip(whole, least, strict=True)]


def lines(cell: str, size: float, room: float) -> list[str]:
    """Return a cell's words in lines that fit; an over-long word ends in an ellipsis."""
    return wrapped(cell, size, room + 0.01, MOST_LINES) or [""]
