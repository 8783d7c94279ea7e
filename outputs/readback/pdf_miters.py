"""What a template says of mitered ends: the saw's lines over the edges, the tilt in print."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...geometry.shape.frame import Board
from .pdf_page import Page, Point
from .pdf_parts import TOLERANCE, Assembly, first_gap, zero

ANGLE = 0.1
"""How far a line's angle may be from the miter's, degrees: it is printed with one digit."""

SEEN = 5.0
"""So much of a thicker board's edge is shown at least with the line on it, mm."""


@dataclass(frozen=True, slots=True)
class Mitered:
    """One mitered end as it is seen: its name, where the face ends, and how the cut goes on.

    ``way`` is 1 where the cut runs to the right from the fold on, -1 where it runs to the left;
    ``inner`` is how far from there the inner face ends, mm. ``scale_deg`` is what the saw's
    scale has to say, where a test ring told; ``prove`` is whether it was too far from that tilt.
    """

    name: str
    at: float
    way: int
    tilt_deg: float
    inner: float = 0.0
    scale_deg: float | None = None
    prove: bool = False

    @property
    def said(self) -> str:
        """What is printed near it."""
        said = f"tilt the blade {self.tilt_deg:.1f} deg, board flat, outer face up"
        if self.prove:
            said += "; prove this tilt on scraps"
        if self.scale_deg is None:
            return said
        return f"{said}; set the scale to {self.scale_deg:.1f} deg"


def mitered(board: Board) -> list[Mitered]:
    """Return the mitered ends of a board's outer face."""
    ends = (
        Mitered(
            "left long point", 0.0, 1,
            board.miter_left_deg, board.inner_left, board.scale_left_deg, board.prove_left,
        ),
        Mitered(
            "right long point", board.long_point, -1,
            board.miter_right_deg, board.inner_right, board.scale_right_deg, board.prove_right,
        ),
    )  # fmt: skip
    return [end for end in ends if end.tilt_deg]


def miter_faults(together: Assembly, ends: Sequence[Mitered], board: Board) -> Iterator[str]:
    """Look at the saw's lines over the lower and the upper edge, laid flat beyond their folds."""
    seen = min(SEEN, board.thickness) - TOLERANCE  # a thin board's line ends at its other face
    for end in ends:
        for edge, start, out in (("bottom", 0.0, -1), ("top", board.width, 1)):
            where = f"the saw's line over the {edge} edge at the {end.name}"
            found = list(_from(together, (end.at, start), out, seen))
            if not found:
                yield f"{where} is not there"
            for x, y in found:
                angle = math.degrees(math.atan2(end.way * (x - end.at), out * (y - start)))
                if abs(angle - end.tilt_deg) > ANGLE:
                    yield f"{where} stands at {angle:.1f} deg, not at {end.tilt_deg:.1f} deg"


def _from(together: Assembly, start: Point, out: int, seen: float) -> Iterator[Point]:
    """Yield the far ends of the lines that go from a place over the edge, at least ``seen`` mm."""
    for line in together.lines:
        for near, far in (
            ((line.x1, line.y1), (line.x2, line.y2)),
            ((line.x2, line.y2), (line.x1, line.y1)),
        ):
            if math.dist(near, start) <= TOLERANCE and out * (far[1] - start[1]) >= seen:
                yield far


def upright_faults(
    together: Assembly, lines: Sequence[tuple[str, float]], width: float
) -> Iterator[str]:
    """Look for lines that run up the board from edge to edge, by what they are and where."""
    for name, x in lines:
        gap = first_gap(together.lines, (x, 0.0), (x, width))
        if gap is not None:
            yield f"the {name} is not drawn from {gap:.2f} mm on"


def said_faults(
    pages: Sequence[Page], wanted: Sequence[tuple[str, float]], length: float
) -> Iterator[str]:
    """Look for what has to be said of an end on each page on which the end can be seen.

    Args:
        pages: the template's.
        wanted: texts, and where along the board the end is that they are about, mm.
        length: of the board, mm.
    """
    for text, at in wanted:
        there = [page for page in pages if shows(page, at)]
        if not there:
            yield f"no page shows the end at {at:.1f} of {length:.1f} mm"
        for page in there:
            if text not in " ".join(each.text for each in page.texts):
                yield f"page {page.number}: does not say {text!r}"


def shows(page: Page, at: float) -> bool:
    """Whether an upright line can be seen on a page where a board's end is, mm along the board."""
    origin = zero(page)
    return origin is not None and any(
        abs(line.x1 - origin[0] - at) <= TOLERANCE and abs(line.x2 - origin[0] - at) <= TOLERANCE
        for line in page.lines
        if line.length > SEEN
    )
