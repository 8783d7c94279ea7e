"""The cut plan and the saw list as text."""

from collections.abc import Iterator

from ...geometry.plan.cutting import STEP, owned_rooms
from ...geometry.plan.cutting.spaced import MATCHED_ROOM, ROOM
from ...params.units import both_text, length_text
from ..lists.saw import CAUTIONS, FACE_UP, ORDER, STOP, cut_cells, setting_texts, stick_text
from ..terminal import columns, fitted
from .laid import rows_of
from .planned import Stock, size_text


def stock_text(stock: Stock) -> str:
    """Return the plan stick by stick, what it comes to, and what is proved of it."""
    show, plan = stock.project.show, stock.plan
    sticks = len(plan.cuts)
    count = len(stock.asked.boards)
    lines = fitted(
        f"Cut plan: {count} boards of {size_text(stock.asked.boards[0][1], stock.project)}"
        f" from {sticks} stick{'' if sticks == 1 else 's'}"
    )
    if stock.asked.assumed:
        lines += fitted(
            "Lengths usually on sale, assumed: enter what your shop sells as [[stock.length]],"
            " with prices if you want the least cost."
        )
    for name in stock.passed_over:
        lines += fitted(
            f"{name} has another [stock], which does not count: that of {stock.names[0]} does."
        )
    for place in range(sticks):
        lines += ["", *fitted(stick_text(stock, place))]
        table = [("board", "from", "to", "long point", "tilts", "cuts")]
        for row in rows_of(stock, place):
            board = stock.asked.boards[row.piece][1]
            left, right = row.cuts
            table.append(
                (
                    stock.name(row.piece) + (" (turned end for end)" if row.turned else ""),
                    length_text(row.start, show),
                    length_text(row.end, show),
                    length_text(board.long_point, show),
                    f"{left.tilt_deg:.1f}, {right.tilt_deg:.1f} deg",
                    f"{left.number}, {right.number}",
                )
            )
        lines += columns(table)
    lines += ["", *(line for said in _sums(stock) for line in fitted(said))]
    lines += ["", *_saw_list(stock)]
    return "\n".join(lines) + "\n"


def _saw_list(stock: Stock) -> Iterator[str]:
    """Yield the cuts in their order, one setting after the other, and what to mind."""
    yield "Saw list"
    yield from fitted(FACE_UP)
    yield from fitted(ORDER)
    if stock.saw.stops:
        yield from fitted(STOP)
    for heading, setting in setting_texts(stock):
        yield ""
        yield from fitted(heading, "   ")
        table = [("cut", "stick", "what", "mark", "side", "leads")]
        table += [(str(cut.number), *cut_cells(stock, cut)) for cut in setting.cuts]
        yield from columns(table)
    yield ""
    yield "Cautions"
    for caution in CAUTIONS:
        yield from fitted(f"* {caution}")


def _sums(stock: Stock) -> Iterator[str]:
    plan, job, show = stock.plan, stock.asked.job, stock.project.show
    bought = sum(cut.owned is None for cut in plan.cuts)
    total = f", {plan.price / 100:.2f}" if stock.priced else ""
    sticks = f"{bought} stick{'' if bought == 1 else 's'}"
    yield (
        f"To buy: {sticks}, {both_text(plan.bought * STEP, show)} in all{total}."
        if bought
        else ("Nothing to buy: the sticks that are there suffice.")
    )
    yield from unused(stock)
    yield from proof(stock)
    room = MATCHED_ROOM if job.matched else ROOM
    if job.matched:
        yield (
            f"Matched grain: {plan.runs} run{'' if plan.runs == 1 else 's'} of boards in order;"
            " the grain does not run on where one ends."
        )
    yield (
        f"Counted with: kerf {both_text(stock.asked.kerf, show)} (kerf / cos of the tilt along the"
        f" stick), trim {both_text(job.trim * STEP, show)} at each end of a stick, lengths in"
        f" 0.01 mm. Where there is wood for it, boards lie up to {both_text(room, show)} farther"
        " apart than that."
    )
    if stock.asked.left_out:
        names = ", ".join(
            f"{stock.names[k]} {board.name}" if len(stock.names) > 1 else board.name
            for k, board in stock.asked.left_out
        )
        yield f"Not in this plan, as their section is another: {names}."


def unused(stock: Stock) -> Iterator[str]:
    """Yield a line for each owned stick that nothing is cut from, and why."""
    job, show = stock.asked.job, stock.project.show
    used = {cut.owned for cut in stock.plan.cuts}
    shortest = min(piece.length for piece in job.pieces)
    clear: dict[int | None, int] = {}
    for room in owned_rooms(job, 0):
        clear[room.owned] = max(clear.get(room.owned, 0), room.length)
    for number, stick in enumerate(job.owned):
        if number in used:
            continue
        if clear.get(number, 0) < shortest:
            why = f"no board fits its clear wood, {both_text(clear.get(number, 0) * STEP, show)}"
        elif job.matched:
            why = (
                "the grain would run on round fewer corners, or nothing would be saved;"
                " without match_grain it may be used"
            )
        else:
            why = "no plan was found in which it saves anything"
        length = both_text(stick.length * STEP, show)
        yield f"Your stick [[stock.owned]] {number + 1}, {length}, is not used: {why}."


def proof(stock: Stock) -> Iterator[str]:
    """Yield what is proved, in words."""
    plan, show = stock.plan, stock.project.show
    given = " with the grain matched round as many corners" if stock.asked.job.matched else ""
    if not plan.runs_proved:
        yield "Not proved: whether the grain could run on round more corners."
    first = plan.price if stock.priced else plan.bought
    least = f"{plan.least / 100:.2f}" if stock.priced else both_text(plan.least * STEP, show)
    less = "costs less" if stock.priced else "buys less length"
    if plan.first_proved:
        yield f"Proved: no plan{given} {less}."
    else:
        share = 100 * (first - plan.least) / max(first, 1)
        yield (
            f"Not proved to be the best: no plan {less} than {least}, which is"
            f" {share:.1f} % below this one at most."
        )
    if plan.proved:
        then = "buys less length at that cost, or " if stock.priced else ""
        yield f"Proved: none {then}takes fewer sticks for it."
