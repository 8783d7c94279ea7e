"""What has to be found in ``lists/``, from the plans: lists cell by cell, the book's sentences."""

from collections.abc import Mapping
from dataclasses import dataclass

from ...geometry.plan.work import Step
from ..lists.collected import Collected
from ..lists.table import Table
from ..paper.sizes import PAPERS
from ..readback.lists import Book, List

LOCAL = "Local codes come first, and so do licensed trades for what the codes keep for them"
"""Stands on the book's first page."""

ONLY_CSV = frozenset({"work"})
"""Lists that the book tells in another way: step by step."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """The lists by name, and the book."""

    lists: Mapping[str, List]
    book: Book


def wanted(
    got: Collected,
    tables: Mapping[str, Table],
    *,
    paper: str,
    sha256: str,
    failures: int,
) -> Wanted:
    """Return what the readers of lists and book have to find."""
    steps = got.work.steps
    sheet = PAPERS[paper]
    said = [LOCAL, *(f"{number}. {step.title}" for number, step in enumerate(steps, 1))]
    said += [sentence for step in (*steps, got.work.off) for sentence in _sentences(step)]
    for table in tables.values():
        if table.name not in ONLY_CSV:
            said += [table.title, *table.notes]
    lists = {
        name: List(name, table.header, table.rows, _printed(table))
        for name, table in tables.items()
    }
    book = Book(
        title=got.project.title,
        sha256=sha256,
        said=tuple(said),
        ticks=sum(len(step.do) for step in (*steps, got.work.off)),
        failures=failures,
        width=sheet.width,
        height=sheet.height,
    )
    return Wanted(lists, book)


def _printed(table: Table) -> frozenset[int]:
    """Return the columns that stand in the book."""
    if table.name in ONLY_CSV:
        return frozenset()
    return frozenset(range(len(table.header))) - table.spare


def _sentences(step: Step) -> tuple[str, ...]:
    """Return what a step says: what is done, what to mind, and its figures."""
    return (*step.do, *step.cautions, *(f"{name}{value}" for name, value in step.figures))
