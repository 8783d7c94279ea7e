"""The collar as it was really cut and dry-fitted: ``[built]`` in place of the drawing.

A dry frame hangs together by its long points and is racked by hand; its diagonals say how. The
miters keep the tilt that they were sawn at, so where a real corner differs from the drawn one
the joint opens. What was not measured stays as it was drawn; a board that was not measured keeps
the drawn length, and a bore its drawn place from the middle of the real board.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from ...params.project import Built, BuiltBore, Project, Show
from ...params.units import INCH
from ...params.values import is_tap
from .lip import quadrilateral
from .lip_slips import refuse_slips
from .plane import Point, along, distance, interior_deg
from .six_lengths import CORNERS, EDGES, KEYS, Figure, Readings, closing_change, place

Said = Callable[[float], str]
"""Writes a length in the units of the build file."""

MADE = 0.5
"""Limit of error of what is measured on made parts, mm (common practice, no source)."""

OFF_SQUARE = INCH / 16
"""How far a dry frame's diagonal may be from its figure, mm (1/16 in; common practice, no source):
on a collar of 940 by 530 mm a miter of 20 mm then stands open by 0.1 mm."""

PLATE_THICKNESS = 2.0
"""Thickness of a plate that covers a bore on a face, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DryFrame:
    """The four boards held together without glue, in plan, mm and degrees.

    ``read`` are the four long points and the two diagonals, the lengths that were not measured
    as drawn and the diagonals that were not measured None. ``closing`` holds, for each of the
    six in the order of ``KEYS``, the change that alone would close the figure; it is empty
    unless all six were measured. ``cut_deg`` are the corners that the miters were sawn for.
    """

    figure: Figure
    drawn: Figure
    read: Readings
    missing: tuple[str, ...]
    diagonals: tuple[float, float]
    known_by: Literal["sides", "one diagonal", "two diagonals"]
    closing: tuple[float | None, ...]
    angles_deg: tuple[float, float, float, float]
    cut_deg: tuple[float, float, float, float]

    @property
    def lengths(self) -> tuple[float, float, float, float]:
        """The long points of front, right, back and left, mm."""
        return self.read[:4]

    @property
    def lean(self) -> float:
        """By how much the drawn frame's first diagonal is longer than its second, mm."""
        return distance(self.drawn[0], self.drawn[2]) - distance(self.drawn[1], self.drawn[3])

    @property
    def racked(self) -> float:
        """How far its diagonals are from what they would read racked as drawn, mm.

        One of them is so much too long, the other about as much too short.
        """
        square = squared(self.lengths, self.lean)
        if square is None:  # the boards do not close as drawn: half of what the two differ by
            return abs(self.diagonals[0] - self.diagonals[1] - self.lean) / 2
        return abs(self.diagonals[0] - square)

    def opening(self, corner: int, thickness: float) -> float:
        """Return how far the miter of a corner stands open, mm; + on the inside, - outside.

        The faces of the miter are ``t / sin(theta/2)`` deep and stand at the angle between the
        real corner and the one that they were sawn for: gap = t / sin(theta/2) * eps, which is
        ``sqrt(2) t eps`` at a square corner (plane geometry of the joint).
        """
        cut = math.radians(self.cut_deg[corner])
        off = math.radians(self.angles_deg[corner]) - cut
        return thickness / math.sin(cut / 2) * off


def dry_frame(built: Built, drawn: Figure, show: Show = "mm") -> DryFrame:
    """Return the frame that was really put together, over the place of the drawn one.

    Its middle (the mean of its corners) comes over the drawn one's, and the line from the
    middle of its left side to the middle of its right side parallel to the drawn one's.

    Args:
        built: what was measured.
        drawn: the outer corners of the collar as it was drawn, in plan.
        show: the unit of the examples in messages.

    Raises:
        BuildFileError: the boards and diagonals cannot meet, or a corner is a slip.
    """
    return _dry_frame(tuple(getattr(built, key) for key in KEYS), drawn, show)


@lru_cache(maxsize=256)
def _dry_frame(given: tuple[float | None, ...], drawn: Figure, show: Show) -> DryFrame:
    drawn_lengths = [distance(drawn[i], drawn[j]) for i, j in EDGES]
    known = [given[k] if given[k] is not None or k >= 4 else drawn_lengths[k] for k in range(6)]
    read: Readings = tuple(known)  # type: ignore[assignment]
    missing = tuple(f"built.{key}" for key, each in zip(KEYS, given, strict=True) if each is None)
    closing: tuple[float | None, ...] = ()
    if read[4] is None and read[5] is None:
        known_by = "sides"
        lean = drawn_lengths[4] - drawn_lengths[5]
        first = squared(read[:4], lean)
        figure = quadrilateral((*read[:4], first or drawn_lengths[4], None), "built", show)
    else:
        known_by = "one diagonal" if read[4] is None or read[5] is None else "two diagonals"
        figure = quadrilateral(read, "built", show)
        if not missing:
            closing = tuple(closing_change(read, k) for k in range(6))
    refuse_slips(figure, read, "built", show)
    figure = _over(figure, drawn)
    return DryFrame(
        figure=figure,
        drawn=drawn,
        read=read,
        missing=missing,
        diagonals=(distance(figure[0], figure[2]), distance(figure[1], figure[3])),
        known_by=known_by,
        closing=closing,
        angles_deg=tuple(interior_deg(figure, i) for i in range(4)),  # type: ignore[arg-type]
        cut_deg=tuple(interior_deg(drawn, i) for i in range(4)),  # type: ignore[arg-type]
    )


def second_diagonal(lengths: tuple[float, float, float, float], first: float) -> float | None:
    """Return the diagonal front-right to back-left of a frame racked until the other is ``first``.

    None where the boards cannot be racked so far.
    """
    figure = place((*lengths, first, None))
    return None if figure is None else distance(figure[1], figure[3])


def squared(lengths: tuple[float, float, float, float], lean: float = 0.0) -> float | None:
    """Return the first diagonal of a frame racked until the diagonals differ by ``lean``, mm.

    With 0 both are equal, which makes boards of equal opposite lengths a rectangle. None where
    the boards do not meet. The difference grows by about 2 mm for each mm of the first one, so
    a few steps of Newton's method do.
    """
    first = (math.hypot(lengths[0], lengths[1]) + math.hypot(lengths[2], lengths[3])) / 2
    first += lean / 2
    for _ in range(50):
        second = second_diagonal(lengths, first)
        if second is None:
            return None
        off = first - second - lean
        if abs(off) < 1e-10:
            break
        first -= off / 2
    return first


def _over(figure: Figure, drawn: Figure) -> Figure:
    """Lay a figure over the drawn one: mean corner on mean corner, mid lines parallel."""
    ux, uy = _mid_line(figure)
    vx, vy = _mid_line(drawn)
    cos, sin = ux * vx + uy * vy, ux * vy - uy * vx
    (mx, my), (nx, ny) = _mean(figure), _mean(drawn)
    front_left, front_right, back_right, back_left = (
        (nx + cos * (x - mx) - sin * (y - my), ny + sin * (x - mx) + cos * (y - my))
        for x, y in figure
    )
    return front_left, front_right, back_right, back_left


def _mid_line(c: Figure) -> Point:
    left = (c[0][0] + c[3][0]) / 2, (c[0][1] + c[3][1]) / 2
    right = (c[1][0] + c[2][0]) / 2, (c[1][1] + c[2][1]) / 2
    return along(left, right)


def _mean(c: Figure) -> Point:
    return sum(p[0] for p in c) / 4, sum(p[1] for p in c) / 4


def size(project: Project, name: Literal["thickness", "width", "foam"]) -> float | None:
    """Return what ``[built]`` says of a size, mm; None where it does not count."""
    if not project.as_built or project.built is None:
        return None
    return getattr(project.built, name)


def bores(project: Project, names: tuple[str, ...]) -> dict[int, tuple[int, BuiltBore]]:
    """Return each bore that was measured by its tap's number, with its place in ``[built]``.

    Args:
        project: for ``[[built.bore]]``; nothing counts unless it is laid out as built.
        names: of the taps in the order of their numbers.
    """
    if not project.as_built or project.built is None:
        return {}
    found: dict[int, tuple[int, BuiltBore]] = {}
    for index, bore in enumerate(project.built.bore):
        number = next(n for n, name in enumerate(names, 1) if is_tap(bore.tap, n, name))
        found[number] = index, bore
    return found


def remarks(dry: DryFrame, thickness: float, said: Said) -> tuple[str, ...]:
    """Say how far each miter of a dry frame stands open, from 0.1 mm on.

    No check is held to it: a clamp closes some tenths, and what glue may fill is the builder's.
    """
    found: list[str] = []
    for corner, name in enumerate(CORNERS):
        gap = dry.opening(corner, thickness)
        if abs(gap) >= 0.1:
            where = "inside" if gap > 0 else "outside"
            off = dry.angles_deg[corner] - dry.cut_deg[corner]
            found.append(
                f"the {name} miter stands open by {said(abs(gap))} at its {where}: the corner is"
                f" {abs(off):.2f} deg {'wider' if off > 0 else 'narrower'} than it was sawn for"
            )
    return tuple(found)
