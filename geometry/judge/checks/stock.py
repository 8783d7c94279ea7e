"""Can the boards be cut from the sticks that there are?

A board that is longer than every stick is a joint that nobody planned, found out at the yard.
"""

from collections.abc import Iterator

from ....params.project import Stock
from ...shape.frame import Board
from ...shape.stick import clear_wood, section
from ..design import Design
from ..finding import Check, Finding, Where

STOCK = Check(
    id="stock",
    weight="must",
    unit="mm",
    question="can the boards be cut from lengths on sale?",
    source="lengths on sale and owned sticks against the boards' long points",
)
LONGEST, ALL = Where(text="longest board"), Where(text="all boards")


def find(design: Design) -> Iterator[Finding]:
    """Yield what the longest clear wood has over the longest board; without a shop, all wood."""
    stock = design.project.stock
    if design.project.as_built:
        yield STOCK.nothing_near(LONGEST, "the boards are cut already")
        return
    if stock is None or not (stock.length or stock.owned):
        why = "which lengths the shop sells is not told"
        yield STOCK.not_checked(LONGEST, ("stock.length",), why)
        return
    layout = design.layout
    size = section(layout.boards[0])
    boards = [each for each in (*layout.boards, *layout.covers) if section(each) == size]
    longest = max(boards, key=lambda each: each.long_point)
    clear, said = _longest(design, stock, longest)
    required = design.required(STOCK.id, 0.0)
    why = f"{said}, and {longest.name} is {design.text(longest.long_point)} long"
    yield STOCK.at_least(LONGEST, clear - longest.long_point, required, why)
    if not stock.length:
        yield _all(design, stock, boards, required)


def _longest(design: Design, stock: Stock, board: Board) -> tuple[float, str]:
    """Return the longest clear wood there is, mm, and where it is."""
    trim = stock.trim or 0.0
    found = [
        (each.length - 2 * trim, f"a stick of {design.text(each.length)}") for each in stock.length
    ]
    for number, each in enumerate(stock.owned, 1):
        stretches = clear_wood(each.length, trim, each.defects, board.width)
        found += [(clear, f"owned stick {number}") for clear in stretches]
    if not found:
        return 0.0, "the owned sticks have no clear wood"
    clear, where = max(found, key=lambda each: each[0])
    return clear, f"{where} has {design.text(clear)} of clear wood"


def _all(design: Design, stock: Stock, boards: list[Board], required: float) -> Finding:
    """Judge whether owned sticks have wood for all boards, where none are on sale."""
    trim, width = stock.trim or 0.0, boards[0].width
    clear = sum(sum(clear_wood(each.length, trim, each.defects, width)) for each in stock.owned)
    needed = sum(each.long_point for each in boards)
    why = (
        f"the owned sticks have {design.text(clear)} of clear wood in all, and nothing is on sale;"
        " whether the boards come out of it one by one, the cut plan tells"
    )
    return STOCK.at_least(ALL, clear - needed, required, why)
