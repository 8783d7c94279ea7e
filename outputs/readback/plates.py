"""Reads the templates of a board's inner face and of its ends alone; the outer face's is ``pdf``.

Where things lie on the inner face is worked out here again from the board: seen from inside its
right end is at the left.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole
from ...geometry.shape.six_lengths import CORNERS
from ...params.project import SIDES
from ...params.units import Show
from .pdf import (
    Size,
    all_figure_faults,
    different,
    hole_faults,
    mark_faults,
    outline_faults,
    paper_faults,
    read,
    whole_faults,
    words,
)
from .pdf_miters import Mitered, miter_faults, mitered, said_faults, shows, upright_faults
from .pdf_page import Page
from .pdf_parts import Assembly, assemble, first_gap, zero
from .printer import Printer

ALWAYS = ("up: lid", "print at actual size, 100 %")
MIRRORED = "inner face, seen from inside: mirrored"
END_SEEN = 30.0
"""So much of the board is shown at least beyond the end of its inner face, mm."""


def compare_inner(
    path: Path,
    board: Board,
    *,
    show: Show,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    failures: int = 0,
    printer: Printer | None = None,
) -> list[str]:
    """Read the template of a board's inner face and say what is not as it should be.

    See ``pdf.compare``; the page has to be the mirror image, and to say so.
    """
    document = read(path, printer)
    own = MIRRORED, "measure this before drilling: 100 mm and 4 in", f"{board.side} {board.kind}"
    wanted, part = words((*ALWAYS, *own), sha256, failures), (board.long_point, board.width)
    faults = [*paper_faults(document, wanted, part, paper)]
    if len(document.pages) > 1:
        faults += [
            f"page {page.number}: the map of sheets does not say 'mirrored'"
            for page in document.pages
            if not any(
                text.text.startswith("all sheets, ") and "mirrored" in text.text
                for text in page.texts
            )
        ]
    together = assemble(document.pages)
    faults += together.problems
    faults += mark_faults(together, len(document.pages))
    length = board.long_point - board.inner_left - board.inner_right
    names = ("left short point", "right short point")
    faults += outline_faults(together, (length, board.width), names)
    ends = (
        Mitered("left short point", 0.0, -1, board.miter_right_deg),
        Mitered("right short point", length, 1, board.miter_left_deg),
    )
    faults += miter_faults(together, [end for end in ends if end.tilt_deg], board)
    blank = (
        ("left end of the blank", -board.inner_right),
        (
            "right end of the blank",
            length + board.inner_left,
        ),
    )
    faults += upright_faults(together, blank, board.width)
    right, left = _corners(board)[::-1]
    said = (f"left short point, {right} corner", 0.0), (f"right short point, {left} corner", length)
    faults += said_faults(document.pages, said, length)
    holes = different(
        [
            replace(hole, u=length + board.inner_left - hole.u)
            for hole in board.holes
            if hole.face == "inner" or hole.depth is None
        ]
    )
    faults += hole_faults(together, holes)
    faults += all_figure_faults(document.pages, holes, show)
    faults += whole_faults(document.pages, length, show)
    faults += _order_faults(document.pages, holes, length)
    return [f"{path.name}: {fault}" for fault in faults]


def _corners(board: Board) -> tuple[str, str]:
    """Return the collar's corners at a board's ends, left and right seen from outside."""
    i = SIDES.index(board.side)
    return CORNERS[i], CORNERS[(i + 1) % 4]


def _order_faults(pages: Sequence[Page], holes: Sequence[Hole], length: float) -> Iterator[str]:
    """Tell whether the taps' names stand at their own bores and not at the mirrored ones.

    On a board whose bores lie alike from both ends nothing but their names would be wrong.
    """
    own = other = 0.0
    for hole in holes:
        name = hole.name.replace("-", " ")
        for page in pages:
            x0, y0 = zero(page) or (0.0, 0.0)
            for text in page.texts:
                if text.text == name or text.text.startswith(f"{name},"):
                    place = text.x + text.width / 2 - x0, text.y - y0
                    own += math.dist(place, (hole.u, hole.v))
                    other += math.dist(place, (length - hole.u, hole.v))
    if own > other + 1.0:
        yield "the taps' names stand in the order in which they are seen from outside"


def compare_ends(
    path: Path,
    board: Board,
    *,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    failures: int = 0,
    printer: Printer | None = None,
) -> list[str]:
    """Read the template of a board's ends alone and say what is not as it should be.

    See ``pdf.compare``. Each mitered end has pages of its own, which no mark joins to the others.
    """
    document = read(path, printer)
    ends = mitered(board)
    own = "outer face", "measure this before sawing: 100 mm and 4 in", f"{board.side} {board.kind}"
    wanted = words((*ALWAYS, *own), sha256, failures)
    part = (min(END_SEEN, board.long_point), board.width)
    faults = [*paper_faults(document, wanted, part, paper)]
    together = assemble(document.pages)
    faults += together.problems
    firsts = [
        next((page.number for page in document.pages if shows(page, end.at)), 1) for end in ends
    ]
    faults += mark_faults(together, len(document.pages), firsts)
    faults += miter_faults(together, ends, board)
    for end in ends:
        far = end.at + end.way * end.inner
        lines = (end.name, end.at), (f"inner face's end at the {end.name}", far)
        faults += upright_faults(together, lines, board.width)
        faults += _fold_faults(together, end, far + end.way * END_SEEN, board.width)
    left, right = _corners(board)
    said = [(end.said, end.at) for end in ends]
    said += [
        (
            f"left end, {left} corner" if end.way > 0 else f"right end, {right} corner",
            end.at,
        )
        for end in ends
    ]
    faults += said_faults(document.pages, said, board.long_point)
    faults += [
        f"a circle of {views[0].diameter:.2f} mm on a board without holes"
        for views in together.circles
    ]
    return [f"{path.name}: {fault}" for fault in faults]


def _fold_faults(together: Assembly, end: Mitered, far: float, width: float) -> Iterator[str]:
    for name, y in (("bottom", 0.0), ("top", width)):
        gap = first_gap(together.lines, (end.at, y), (far, y))
        if gap is not None:
            yield f"the {name} edge is not drawn from {gap:.2f} mm beside the {end.name} on"
