"""Boards along their sticks as the plan has them, with the numbers of the cuts at their ends."""

from dataclasses import dataclass

from ...geometry.plan.cutting import STEP
from ...geometry.plan.cutting.saw_list import End, SawCut
from .planned import Stock


@dataclass(frozen=True, slots=True)
class Row:
    """A piece on its stick: where its long points lie, mm, and its cuts, from the stick's left."""

    piece: int
    turned: bool
    start: float
    end: float
    cuts: tuple[SawCut, SawCut]


def rows_of(stock: Stock, stick: int) -> list[Row]:
    """Return what lies on a stick of the plan, from its left end on."""
    rows: list[Row] = []
    for placed in stock.plan.cuts[stick].pieces:
        ends = (End(placed.piece, "left"), End(placed.piece, "right"))
        one, two = (stock.saw.of_end(end) for end in (ends[::-1] if placed.turned else ends))
        long = stock.asked.job.pieces[placed.piece].length
        start, end = placed.start * STEP, (placed.start + long) * STEP
        rows.append(Row(placed.piece, placed.turned, start, end, (one, two)))
    return rows
