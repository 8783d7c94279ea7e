"""The workshop book: one PDF to print and to carry into the shop, from list to first pour.

``front``, ``wood`` and their like say what stands in it, block by block; ``typeset`` sets blocks
on pages.
"""

from pathlib import Path

from ....params.units import Show
from ...drawings import drawings
from ...paper.sizes import PAPERS
from ...summary import program_version
from ..collected import Collected
from .blocks import Block, Job, Tables
from .front import buying, checks, front
from .furniture import text_room
from .pictures import Pictures
from .steps import assembly, order_of_work, sources, taking_off, time_plan
from .typeset import typeset
from .wood import collar, cutting, foam

NAME = "workshop-book"

BOOK_PAPERS = ("letter", "a4")
"""What a home printer takes."""


def book_paper(paper: str, show: Show) -> str:
    """Return the sheet that the book is on: letter or A4, or else what goes with ``show``."""
    return paper if paper in BOOK_PAPERS else "letter" if show == "in" else "a4"


def blocks(got: Collected, tables: Tables, job: Job) -> list[Block]:
    """Return all that stands in the book."""
    _, _, wide, high = text_room(job)
    shown = drawings(got.project, got.layout, got.standing, got.stock, got.foam)
    pictures = Pictures(shown, got.project.show, wide, high)
    return [
        *front(got),
        *checks(got, tables),
        *buying(tables),
        *collar(got, tables, pictures),
        *cutting(got, tables, pictures),
        *foam(tables, pictures),
        *order_of_work(got, pictures),
        *time_plan(tables),
        *assembly(tables),
        *taking_off(got, tables, pictures),
        *sources(got),
        *pictures.rest(),
    ]


def write(
    got: Collected,
    tables: Tables,
    path: Path,
    *,
    paper: str,
    sha256: str,
    warnings: tuple[str, ...],
) -> int:
    """Write the book and return how many pages it has."""
    sheet = PAPERS[paper]
    job = Job(
        title=got.project.title,
        sha256=sha256,
        version=program_version(),
        warnings=warnings,
        width=sheet.width,
        height=sheet.height,
    )
    return typeset(blocks(got, tables, job), job, path)
