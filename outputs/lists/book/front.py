"""The book's first pages: what it is for, the design in figures, what the checks said."""

from collections.abc import Iterator

from ....geometry.plan.work.cautions import FIRST, LABELS, UNPLUG, WALLS
from ....params.units import both_text
from ...drawings.frame import checked as checked_text
from ..collected import Collected
from ..table import Table
from .blocks import Block, Caution, Contents, Heading, Listing, Tables, Text, Title, listed

FRAMED = (
    "Cautions stand in frames like this one, at the step where they bite. No list of them is"
    " complete."
)

HOW = (
    "Chapters follow the order of the work. A small square stands for something to do: tick it when"
    " it is done. Sizes are nominal: cut to the line, measure what you have made, and when it"
    " differs write it under [built] in the build file and run check --built before you go on.",
    "Boards are named by the side on which they stand, seen from where you pour: front, right,"
    " back, left. Left and right on a board are as seen from outside. Templates at full size,"
    " drawings on sheets of their own and these lists as CSV files lie beside this book.",
)


def front(got: Collected) -> Iterator[Block]:
    """Yield the first page, and the contents."""
    project = got.project
    yield Title("Workshop book", project.title or "A collar without a title")
    yield Text(
        "From boards to a glued collar with taps on a chest freezer: what to buy, how to cut it,"
        " and what to do in which order. It was made from the build file whose hash stands below; a"
        " changed build file makes another book."
    )
    yield Listing(_figures(got))
    yield Text(f"Checked: {checked_text(got.evaluation)}")
    yield Caution("CAUTION", (FIRST, UNPLUG, WALLS, LABELS, FRAMED))
    yield Heading("How to read this book")
    for text in HOW:
        yield Text(text)
    yield Heading("Contents")
    yield Contents()


def _figures(got: Collected) -> Table:
    layout, show = got.layout, got.project.show
    frame, board = layout.frame, layout.boards[0]
    rows: list[tuple[str, str]] = []
    if frame.width is not None and frame.depth is not None:
        outside = f"{both_text(frame.width, show)} x {both_text(frame.depth, show)}"
        rows.append(("Collar, outside", outside))
    rows.append(("Collar, height", both_text(frame.height, show)))
    section = f"{both_text(board.thickness, show)} x {both_text(board.width, show)}"
    species = f", {got.project.board.species}" if got.project.board.species else ""
    rows.append(("Boards", f"{len(layout.boards)} of {section}{species}"))
    if layout.covers:
        rows.append(("Boards of the cover", str(len(layout.covers))))
    rows.append(("Taps", ", ".join(_taps(got)) or "none"))
    if layout.panels:
        thick = both_text(layout.panels[0].thickness, show)
        rows.append(("Foam", f"{len(layout.panels)} panels, {thick} thick"))
    rows.append(("Units", "inches, mm in brackets" if show == "in" else "mm"))
    return Table(
        name="design",
        title="The design in figures",
        header=("What", "Figure"),
        rows=tuple(rows),
    )


def _taps(got: Collected) -> Iterator[str]:
    for tap in got.layout.taps:
        yield f"{tap.number} {tap.name}".strip()


def checks(got: Collected, tables: Tables) -> Iterator[Block]:
    """Yield what fails, is tight or was not checked."""
    yield Heading("What the checks said", 1)
    yield Text(checked_text(got.evaluation))
    yield Text(
        "A check that passes says that figures fit each other, as they were read and as the"
        " catalogue has them. It does not say that a thing is safe."
    )
    yield from listed(tables, "findings", "not-checked")


def buying(tables: Tables) -> Iterator[Block]:
    """Yield what to buy, and the tools for it."""
    yield Heading("Materials and tools", 1)
    yield from listed(tables, "materials", "tools")
