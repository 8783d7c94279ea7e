"""Pieces along their sticks, with the numbers of their cuts."""

from dataclasses import dataclass

from ...geometry.plan.cutting import STEP, Cut
from .planned import Stock


@dataclass(frozen=True, slots=True)
class Row:
    """A piece on its stick: where its long points lie, mm, and the numbers of its two cuts.

    ``miters`` are those of its ends as they lie, from the stick's left, deg.
    """

    piece: int
    turned: bool
    miters: tuple[float, float]
    start: float
    end: float
    cuts: tuple[int, int]


def rows_of(stock: Stock, cut: Cut, number: int) -> list[Row]:
    """Number a stick's cuts from ``number`` on; two square ends that meet share one."""
    rows: list[Row] = []
    pieces = stock.asked.job.pieces
    for placed in cut.pieces:
        board, piece = stock.asked.boards[placed.piece][1], pieces[placed.piece]
        left_deg, right_deg = board.miter_left_deg, board.miter_right_deg
        miters = (right_deg, left_deg) if placed.turned else (left_deg, right_deg)
        start, end = placed.start * STEP, (placed.start + piece.length) * STEP
        shared = False
        if rows and rows[-1].miters[1] == 0 == miters[0]:
            cut_between = pieces[rows[-1].piece].cut_behind(rows[-1].turned) * STEP
            shared = abs(rows[-1].end + cut_between - start) < STEP / 2
        left = number - 1 if shared else number
        cuts = (left, left + 1)
        rows.append(Row(placed.piece, placed.turned, miters, start, end, cuts))
        number = left + 2
    return rows


def offcut(stock: Stock, cut: Cut) -> float:
    """Return what is left at the right end of a stick behind its last cut, mm, trim included."""
    placed = cut.pieces[-1]
    last = stock.asked.job.pieces[placed.piece]
    behind = placed.start + last.length + last.cut_behind(placed.turned)
    return max(0, cut.stick.length - behind) * STEP
