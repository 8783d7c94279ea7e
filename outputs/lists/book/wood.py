"""The book's chapters about the collar as a whole, and about cutting its boards and its foam."""

from collections.abc import Iterator

from ..collected import Collected
from .blocks import Block, Heading, Tables, Text, listed
from .pictures import Pictures


def collar(got: Collected, tables: Tables, pictures: Pictures) -> Iterator[Block]:
    """Yield the boards and their holes in tables, the collar drawn, then each board."""
    yield Heading("The collar and its boards", 1)
    yield from listed(tables, "boards", "holes", "set-outs")
    yield from pictures.take("general-arrangement", large=True)
    every = (*got.layout.boards, *got.layout.covers)
    for board in sorted(every, key=lambda each: -each.long_point):  # the turned ones first
        yield from pictures.take(board.name, large=True)


def cutting(got: Collected, tables: Tables, pictures: Pictures) -> Iterator[Block]:
    """Yield how the boards come out of their sticks."""
    yield Heading("Cutting the boards", 1)
    if got.stock is None:
        yield Text(f"There is no cut plan: {got.no_stock}")
        return
    yield from listed(tables, "sticks", "saw-list")
    yield from pictures.take(*pictures.of("board-plan"), large=True)


def foam(tables: Tables, pictures: Pictures) -> Iterator[Block]:
    """Yield how the foam's panels come out of their sheets, where there is foam."""
    lists = list(listed(tables, "foam", "foam-cuts", "foam-openings"))
    figures = list(pictures.take(*pictures.of("foam-plan"), large=True))
    if lists or figures:
        yield Heading("Cutting the foam", 1)
        yield from lists
        yield from figures
