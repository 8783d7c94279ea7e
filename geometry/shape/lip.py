"""The freezer's lip in plan, fitted to what the tape said.

Corners: front-left at (0, 0), front-right on the X axis, then back-right and back-left. Four
sides alone do not determine a quadrilateral; a diagonal does (two triangles by the cosine
rule), and a second diagonal is a surplus reading that tells whether a reading is wrong.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from ...params.problem import BuildFileError, Problem
from ...params.project import Lip as LipReadings
from ...params.units import Show
from .lip_slips import not_closing, refuse_slips, said
from .plane import distance, interior_deg
from .six_lengths import EDGES, KEYS, Figure, Readings, closing_change, nearest, place


@dataclass(frozen=True, slots=True)
class Lip:
    """The fitted lip, mm and degrees; the one truth about the rim from here on.

    ``sides`` are front, right, back, left. ``closing`` holds, for each of the six readings in
    the order of ``KEYS``, the change that alone would make the other five and it close
    (None where no change does); it is empty unless both diagonals were read. ``spreads``
    holds (key, greatest less least) of every reading that was repeated.
    """

    corners: Figure
    sides: tuple[float, float, float, float]
    diagonals: tuple[float, float]
    angles_deg: tuple[float, float, float, float]
    known_by: Literal["sides", "one diagonal", "two diagonals"]
    closing: tuple[float | None, ...]
    spreads: tuple[tuple[str, float], ...]

    @property
    def depth(self) -> float:
        """Mean of the fitted left and right sides, mm (``D_lip``)."""
        return (self.sides[1] + self.sides[3]) / 2

    @property
    def width(self) -> float:
        """Mean of the fitted front and back sides, mm."""
        return (self.sides[0] + self.sides[2]) / 2


def fit(readings: LipReadings, show: Show = "mm") -> Lip:
    """Fit the lip to the readings; the mean of a repeated reading counts.

    Args:
        readings: as they stand in the build file.
        show: the unit of the examples in messages.

    Raises:
        BuildFileError: the shape is not determined, the readings cannot close, or a corner is
            outside 60 to 120 degrees.
    """
    many = tuple(getattr(readings, key) for key in KEYS)
    means = tuple(None if each is None else sum(each) / len(each) for each in many)
    spreads = tuple(
        (key, max(each) - min(each))
        for key, each in zip(KEYS, many, strict=True)
        if each is not None and len(each) > 1
    )
    return _fit(means, readings.tape, spreads, show)  # type: ignore[arg-type]


@lru_cache(maxsize=64)
def _fit(read: Readings, tape: float, spreads: tuple[tuple[str, float], ...], show: Show) -> Lip:
    """Fit once for each set of readings: what-if loops rarely touch the lip."""
    first, second = read[4], read[5]
    closing: tuple[float | None, ...] = ()
    if first is None and second is None:
        known_by = "sides"
        figure = _rectangle(read, tape, show)
    elif first is None or second is None:
        known_by = "one diagonal"
        figure = quadrilateral(read, show=show)
    else:
        known_by = "two diagonals"
        figure = quadrilateral(read, show=show)
        closing = tuple(closing_change(read, k) for k in range(6))
    lengths = tuple(distance(figure[i], figure[j]) for i, j in EDGES)
    angles = tuple(interior_deg(figure, i) for i in range(4))
    refuse_slips(figure, read, show=show)
    return Lip(
        corners=figure,
        sides=lengths[:4],  # type: ignore[arg-type]
        diagonals=lengths[4:],  # type: ignore[arg-type]
        angles_deg=angles,  # type: ignore[arg-type]
        known_by=known_by,
        closing=closing,
        spreads=spreads,
    )


def quadrilateral(read: Readings, table: str = "lip", show: Show = "mm") -> Figure:
    """Return the corners of four sides and a diagonal, or of least squares with both diagonals.

    Args:
        read: the six readings, one diagonal at least.
        table: the build file's table that they stand in, for messages.
        show: the unit of the examples in messages.

    Raises:
        BuildFileError: the readings cannot close.
    """
    both = read[4] is not None and read[5] is not None
    figure = nearest(read) if both else place(read)
    if figure is None:
        raise BuildFileError([not_closing(read, table, show)])
    return figure


def _rectangle(read: Readings, tape: float, show: Show) -> Figure:
    front, right, back, left = read[:4]
    diagonal = "43 1/2 in" if show == "in" else "1105 mm"
    apart = [
        (a, b, abs(x - y))
        for a, b, x, y in (("front", "back", front, back), ("right", "left", right, left))
        if abs(x - y) > 2 * tape + 1e-9
    ]
    if apart:
        raise BuildFileError(
            [
                Problem(
                    key=f"lip.{a}",
                    keys=(f"lip.{b}",),
                    read=f"{a} and {b} {said(gap)} apart",
                    wanted=f"opposite sides within {said(2 * tape)} (twice the tape's error), or"
                    " a diagonal: four sides alone do not determine the shape",
                    example=f'front_left_to_back_right = "{diagonal}"',
                )
                for a, b, gap in apart
            ]
        )
    width, depth = (front + back) / 2, (right + left) / 2
    return (0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)
