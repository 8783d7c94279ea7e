"""The boards' cut plan: each stick to scale with its boards, and the cuts in their order."""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial

from ...params.units import length_text
from ..lists.saw import NO_STOP, blade_text, cut_cells
from ..stock.laid import rows_of
from ..stock.planned import Stock
from .draft import Draft
from .frame import Drawing
from .stick import EDGE, NAME, NEXT, Stick, runs

STICKS, CUTS = 2, 14
"""Most sticks on one sheet, and most cuts of several: so much fits on A4 and on letter with the
failures in print."""


def board_plans(stock: Stock) -> list[Drawing]:
    """Return the plan on as many sheets as it takes."""
    sheets = _sheets(stock)
    return [
        Drawing(
            "board-plan" if number == 1 else f"board-plan-{number}",
            "Cut plan of the boards" + (f", {number} of {len(sheets)}" if len(sheets) > 1 else ""),
            partial(board_plan, stock, sticks),
        )
        for number, sticks in enumerate(sheets, 1)
    ]


def _sheets(stock: Stock) -> list[list[int]]:
    """Return which sticks are on which sheet."""
    count = Counter(cut.stick for cut in stock.saw.cuts)
    found: list[list[int]] = []
    for stick in range(len(stock.plan.cuts)):
        here = sum(count[each] for each in found[-1]) if found else 0
        if found and len(found[-1]) < STICKS and here + count[stick] <= CUTS:
            found[-1].append(stick)
        else:
            found.append([stick])
    return found


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
            length_text(cut.stop, draft.show) if cut.stop is not None else NO_STOP,
            *(*cells[:3], cells[4]),
        )
        for cut in stock.saw.cuts
        if cut.stick in sticks
        for cells in (cut_cells(stock, cut),)  # but for the side, which the notes tell
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
        " order; marks are from the stick's left end. The blade runs beside them, away from the"
        " board; where blanks are parted, on their right."
    )
    if any(getattr(cut.stick, "flaws", ()) for cut in plan):
        yield "Dark and crossed out: flaws. Where one comes to an edge no board may lie."
    if any(len(run) > 1 for number in sticks for run in runs(stock, rows_of(stock, number))):
        yield "The long arrow: the grain runs on from board to board, round the corners."
    yield (
        "Leads: the end of the stick that points to where the blade leans, away from the board,"
        " which alone lies between stop and blade. Guards on; the saw's manual and the cautions"
        " of the saw list come first."
    )
