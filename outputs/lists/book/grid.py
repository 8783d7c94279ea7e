"""A table's columns: how wide each is, and how its words are broken into lines."""

import math
from collections.abc import Sequence

from ...paper.pdf import clean, text_width, wrapped
from ..table import Table

MOST_LINES = 12
"""Lines that a cell may take; what is longer ends in an ellipsis."""

BRIEF = 20.0
"""A column that is no wider is not broken while there is room, mm; nor is one of figures."""

NARROWEST = 9.0
"""No column is narrower, mm."""


def widths(table: Table, size: float, pad: float, room: float) -> list[float]:
    """Return each column's width, mm, padding included, all together at most ``room``.

    A column is as wide as its longest text, where all fit so. Else none is narrower than its
    longest word, and what is left goes to the columns that have much to say.
    """
    rows = [[clean(cell) for cell in row] for row in (table.header, *table.rows)]
    columns = list(zip(*rows, strict=True))
    cells = [[text_width(cell, size) + pad for cell in column] for column in columns]
    whole = [max(NARROWEST, *column) for column in cells]
    if sum(whole) <= room:
        return whole
    words = [
        max((text_width(word, size) for cell in column for word in cell.split()), default=0.0) + pad
        for column in columns
    ]
    least = [max(NARROWEST, each) for each in words]
    if sum(least) > room:  # words as long as that are broken: only a hostile name has them
        least = [NARROWEST] * len(whole)
    unbroken = [
        most if i in table.right or most <= BRIEF else low
        for i, (most, low) in enumerate(zip(whole, least, strict=True))
    ]
    if sum(unbroken) <= room:
        least = unbroken
    says = [
        math.sqrt(sum(max(0.0, cell - low) for cell in column)) + 1e-9
        for column, low in zip(cells, least, strict=True)
    ]
    return _shared(whole, least, says, room)


def _shared(
    whole: Sequence[float], least: Sequence[float], says: Sequence[float], room: float
) -> list[float]:
    """Share what is left over the least widths, by how much each has to say, none beyond whole."""
    found = list(least)
    for _ in whole:
        short = [i for i, wide in enumerate(found) if wide < whole[i] - 1e-9]
        left = room - sum(found)
        share = sum(says[i] for i in short)
        if not short or left < 1e-6:
            break
        for i in short:
            found[i] = min(whole[i], found[i] + left * says[i] / share)
    return found


def lines(cell: str, size: float, room: float) -> list[str]:
    """Return a cell's words in lines that fit; an over-long word ends in an ellipsis."""
    return wrapped(cell, size, room + 0.01, MOST_LINES) or [""]
