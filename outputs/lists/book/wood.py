"""The book's chapters about the collar as a whole and about cutting its boards."""

from collections.abc import Iterator

from ..collected import Collected
from .blocks import Block, Heading, Tables, Text, listed
from .pictures import Pictures


def collar(got: Collected, tables: Tables, pictures: Pictures) -> Iterator[Block]:
    """Yield the collar drawn, its boards and their holes in tables, then each board drawn."""
    yield Heading("The collar and its boards", 1)
    yield from pictures.take("general-arrangement")
    yield from listed(tables, "boards", "holes")
    for board in (*got.layout.boards, *got.layout.covers):
        yield from pictures.take(board.name)


def cutting(got: Collected, tables: Tables, pictures: Pictures) -> Iterator[Block]:
    """Yield how the boards come out of their sticks."""
    yield Heading("Cutting the boards", 1)
    if got.stock is None:
        yield Text(f"There is no cut plan: {got.no_stock}")
        return
    yield from pictures.take(*pictures.of("board-plan"))
    yield from listed(tables, "sticks", "saw-list")
