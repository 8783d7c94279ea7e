"""What the workshop book is made of: blocks one under the other, whatever sets them on pages."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from ...paper.marks import Page
from ..table import Table


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading: 1 begins a chapter and stands in the contents, 2 and 3 are inside."""

    text: str
    level: Literal[1, 2, 3] = 2


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph; ``small`` belongs to something else; ``stay``: not parted from what follows."""

    text: str
    small: bool = False
    stay: bool = False


@dataclass(frozen=True, slots=True)
class Title:
    """The book's title on its first page, with what kind of paper this is over it."""

    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class Tick:
    """A sentence that says what to do, with a box to tick when it is done."""

    text: str


@dataclass(frozen=True, slots=True)
class Caution:
    """Sentences in a heavy frame, on one page with what follows."""

    heading: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with their values, to hold the work against."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """A table with its title over it and its notes under it."""

    table: Table


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing among the text at its own size, mm; ``turned``: it lies on its left side."""

    page: Page
    number: int
    caption: str
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Contents:
    """Where the list of chapters stands."""


Block = Heading | Text | Title | Tick | Caution | Facts | Listing | Figure | Contents


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What stands on every page, and the paper's size, mm; ``warnings`` are the failures."""

    title: str
    sha256: str
    version: str
    warnings: tuple[str, ...]
    width: float
    height: float


Tables = Mapping[str, Table]
"""Lists by name."""


def listed(tables: Tables, *names: str) -> Iterator[Block]:
    """Yield the lists of these names that there are."""
    for name in names:
        if name in tables:
            yield Listing(tables[name])


def chapters(blocks: Sequence[Block]) -> list[str]:
    """Return the headings that stand in the contents."""
    return [each.text for each in blocks if isinstance(each, Heading) and each.level == 1]
