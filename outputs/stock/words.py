"""The cut plan as text."""

from collections.abc import Iterator

from ...geometry.plan.cutting import STEP, Cut
from ...params.units import both_text, length_text
from ..terminal import fitted
from .laid import offcut, rows_of
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
    lines += fitted(
        "Every board lies flat with its outer face up, left end first, and none is turned over;"
        " places are long points on the outer face, from the stick's left end. Each end is a cut"
        " of its own: between two mitered ends a wedge falls out. Measure each board from the"
        " fresh end, and set the saw on a scrap first. Guards on, hands clear of the blade: follow"
        " the saw's own manual."
    )
    number = 1
    for place, cut in enumerate(plan.cuts, 1):
        lines += ["", *fitted(_stick(stock, cut, place))]
        table = [("cuts", "board", "from", "to", "long point", "tilt left, right")]
        for row in rows_of(stock, cut, number):
            board = stock.asked.boards[row.piece][1]
            table.append(
                (
                    f"{row.cuts[0]}, {row.cuts[1]}",
                    stock.name(row.piece) + (" (turned end for end)" if row.turned else ""),
                    length_text(row.start, show),
                    length_text(row.end, show),
                    length_text(board.long_point, show),
                    f"{row.miters[0]:.1f}, {row.miters[1]:.1f} deg",
                )
            )
            number = row.cuts[1] + 1
        wide = [max(len(row[k]) for row in table) for k in range(len(table[0]))]
        lines += [
            "  " + "  ".join(word.ljust(w) for word, w in zip(row, wide, strict=True)).rstrip()
            for row in table
        ]
        lines.append(f"  left at the right end: {both_text(offcut(stock, cut), show)}")
    lines += ["", *(line for said in _sums(stock) for line in fitted(said))]
    return "\n".join(lines) + "\n"


def _stick(stock: Stock, cut: Cut, place: int) -> str:
    length = both_text(cut.stick.length * STEP, stock.project.show)
    if cut.owned is not None:
        return f"Stick {place}: owned, [[stock.owned]] {cut.owned + 1}, {length}"
    price = f", {cut.stick.price / 100:.2f}" if stock.priced else ""  # type: ignore[union-attr]
    return f"Stick {place}: to buy, {length}{price}"


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
    yield from proof(stock)
    if job.matched:
        yield (
            f"Matched grain: {plan.runs} run{'' if plan.runs == 1 else 's'} of boards in order;"
            " the grain does not run on where one ends."
        )
    yield (
        f"Counted with: kerf {both_text(stock.asked.kerf, show)} (kerf / cos of the tilt along the"
        f" stick), trim {both_text(job.trim * STEP, show)} at each end of a stick, lengths in"
        " 0.01 mm."
    )
    if stock.asked.left_out:
        names = ", ".join(
            f"{stock.names[k]} {board.name}" if len(stock.names) > 1 else board.name
            for k, board in stock.asked.left_out
        )
        yield f"Not in this plan, as their section is another: {names}."


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
        share = 100 * (first - plan.least) / max(plan.least, 1)
        yield (
            f"Not proved to be the best: no plan {less} than {least}, which is"
            f" {share:.1f} % below this one at most."
        )
    if plan.proved:
        then = "buys less length at that cost, or " if stock.priced else ""
        yield f"Proved: none {then}takes fewer sticks for it."
