"""The boards' cut plan: each stick to scale with its boards, and the cuts in their order."""

from collections.abc import Iterator, Sequence
from functools import partial

from ...params.units import length_text
from ..lists.saw import blade_text, cut_cells
from ..stock.laid import rows_of
from ..stock.planned import Stock
from .draft import Draft
from .frame import Drawing
from .stick import EDGE, NAME, NEXT, Stick, runs

A_SHEET = 3
"""Sticks on one sheet; with more the letters would not fit beside one another."""


def board_plans(stock: Stock) -> list[Drawing]:
    """Return the plan on as many sheets as it takes."""
    count = len(stock.plan.cuts)
    sheets = -(-count // A_SHEET)
    each = -(-count // sheets)
    return [
        Drawing(
            "board-plan" if number == 1 else f"board-plan-{number}",
            "Cut plan of the boards" + (f", {number} of {sheets}" if sheets > 1 else ""),
            partial(board_plan, stock, range(start, min(start + each, count))),
        )
        for number, start in enumerate(range(0, count, each), 1)
    ]


def board_plan(stock: Stock, sticks: Sequence[int], draft: Draft, room: float) -> None:
    """Draw some sticks of a plan, seen from above, and list the cuts in them."""
    y = 0.0
    board = stock.asked.boards[0][1]
    tall = board.width * draft.scale + EDGE + board.thickness * draft.scale + NAME
    for number in sticks:
        below = Stick(stock, number, draft.view(0.0, y)).draw()
        y -= tall + NEXT + below
    rows = [
        (
            str(cut.number),
            blade_text(cut),
            length_text(cut.stop, draft.show) if cut.stop is not None else "",
            *cut_cells(stock, cut),
        )
        for cut in stock.saw.cuts
        if cut.stick in sticks
    ]
    draft.table(("cut", "blade", "stop", "stick", "what", "mark", "leads"), rows, room)
    draft.notes(_texts(stock, sticks), room)


def _texts(stock: Stock, sticks: Sequence[int]) -> Iterator[str]:
    plan = [stock.plan.cuts[number] for number in sticks]
    if stock.asked.assumed:
        yield "The sticks' lengths are assumed: usual ones on sale."
    yield (
        "Outer face up, seen from above; over each stick its edge. Gray falls off. Dashed: where"
        " the inner face ends. Arrows on boards point to their top edges. Rings: the cuts in their"
        " order; marks are from the stick's left end."
    )
    if any(getattr(cut.stick, "flaws", ()) for cut in plan):
        yield "Hatched crosswise: flaws."
    if any(len(run) > 1 for number in sticks for run in runs(stock, rows_of(stock, number))):
        yield "The long arrow: the grain runs on from board to board, round the corners."
    yield (
        "Leads: the end of the stick that points to where the blade leans, away from the board,"
        " which alone lies between stop and blade. Guards on; the saw's manual and the cautions"
        " of the saw list come first."
    )
