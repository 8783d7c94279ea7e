"""The freezer's lip in plan, fitted to what the tape said.

Corners: front-left at (0, 0), front-right on the X axis, then back-right and back-left. Four
sides alone do not determine a quadrilateral; a diagonal does (two triangles by the cosine
rule), and a second diagonal is a surplus reading that tells whether a reading is wrong.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from ...params.problem import BuildFileError, Problem
from ...params.project import Lip as LipReadings
from ...params.units import both_text, mm_text
from .plane import Point, apex, distance, interior_deg

Readings = tuple[float, float, float, float, float | None, float | None]
Figure = tuple[Point, Point, Point, Point]

CORNERS = ("front-left", "front-right", "back-right", "back-left")
KEYS = (
    "front", "right", "back", "left", "front_left_to_back_right", "front_right_to_back_left",
)  # fmt: skip
EDGES = ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))
"""The corners that each reading joins, in the order of ``KEYS``."""

NARROWEST_DEG, WIDEST_DEG = 60.0, 120.0
"""Corners beyond these are a slip of the tape, not a freezer (common practice, no source)."""


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


def fit(readings: LipReadings) -> Lip:
    """Fit the lip to the readings; the mean of a repeated reading counts.

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
    return _fit(means, readings.tape, spreads)  # type: ignore[arg-type]


@lru_cache(maxsize=64)
def _fit(read: Readings, tape: float, spreads: tuple[tuple[str, float], ...]) -> Lip:
    """Fit once for each set of readings: what-if loops rarely touch the lip."""
    first, second = read[4], read[5]
    closing: tuple[float | None, ...] = ()
    if first is None and second is None:
        known_by = "sides"
        figure = _rectangle(read, tape)
    elif first is None or second is None:
        known_by = "one diagonal"
        figure = quadrilateral(read)
    else:
        known_by = "two diagonals"
        figure = quadrilateral(read)
        closing = tuple(closing_change(read, k) for k in range(6))
    lengths = tuple(distance(figure[i], figure[j]) for i, j in EDGES)
    angles = tuple(interior_deg(figure, i) for i in range(4))
    refuse_slips(figure, read)
    return Lip(
        corners=figure,
        sides=lengths[:4],  # type: ignore[arg-type]
        diagonals=lengths[4:],  # type: ignore[arg-type]
        angles_deg=angles,  # type: ignore[arg-type]
        known_by=known_by,
        closing=closing,
        spreads=spreads,
    )


def quadrilateral(read: Readings, table: str = "lip") -> Figure:
    """Return the corners of four sides and a diagonal, or of least squares with both diagonals.

    Args:
        read: the six readings, one diagonal at least.
        table: the build file's table that they stand in, for messages.

    Raises:
        BuildFileError: the readings cannot close.
    """
    both = read[4] is not None and read[5] is not None
    figure = _least_squares(read) if both else place(read)
    if figure is None:
        raise BuildFileError([_cannot_close(read, table)])
    return figure


def place(read: Readings) -> Figure | None:
    """Place the corners from four sides and a diagonal (the first one where both are given).

    None where a triangle does not close.
    """
    front, right, back, left, first, second = read
    front_left, front_right = (0.0, 0.0), (front, 0.0)
    if first is not None:
        back_right = apex(front_left, front_right, first, right)
        back_left = back_right and apex(front_left, back_right, left, back)
    else:
        assert second is not None
        back_left = apex(front_left, front_right, left, second)
        back_right = back_left and apex(back_left, front_right, back, right)
    if back_right is None or back_left is None:
        return None
    return front_left, front_right, back_right, back_left


def closing_change(read: Readings, k: int) -> float | None:
    """Return by how much reading ``k`` alone would have to change for the figure to close, mm.

    Worked out exactly from the other five: they are two triangles on a common side, and the
    distance of the two free corners is what reading ``k`` should have been.
    """
    front, right, back, left, first, second = read
    assert first is not None and second is not None
    sides, diagonals = (front, right, back, left), (first, second)
    if k >= 4:
        rest = (*sides, None, second) if k == 4 else (*sides, first, None)
        figure = place(rest)
        return (
            None if figure is None else distance(*(figure[c] for c in EDGES[k])) - diagonals[k - 4]
        )
    # Side k joins corners k and k + 1; they stand on the opposite side, from k + 3 to k + 2.
    base = sides[(k + 2) % 4]
    one = apex((0.0, 0.0), (base, 0.0), sides[(k + 3) % 4], diagonals[k % 2])
    two = apex((0.0, 0.0), (base, 0.0), diagonals[(k + 1) % 2], sides[(k + 1) % 4])
    return None if one is None or two is None else distance(one, two) - sides[k]


def _said(mm: float) -> str:
    """Write a length in both units: the lip does not know how the builder counts."""
    return both_text(mm, "in")


def _rectangle(read: Readings, tape: float) -> Figure:
    front, right, back, left = read[:4]
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
                    read=f"{a} and {b} {_said(gap)} apart",
                    wanted=f"opposite sides within {_said(2 * tape)} (twice the tape's error), or"
                    " a diagonal: four sides alone do not determine the shape",
                    example='front_left_to_back_right = "43 1/2 in"',
                )
                for a, b, gap in apart
            ]
        )
    width, depth = (front + back) / 2, (right + left) / 2
    return (0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)


def _least_squares(read: Readings) -> Figure | None:
    """Return the quadrilateral whose six lengths are nearest to the six readings, None for none.

    The six lengths of a plane figure satisfy one equation. Its normal at a figure is the
    self-stress of the four points, each times the length it belongs to, so the nearest
    figure is found by going down that normal and placing again until nothing moves.
    """
    figure = place(read) or place((*read[:4], None, read[5]))
    if figure is None:
        return None
    for _ in range(60):
        lengths = [distance(figure[i], figure[j]) for i, j in EDGES]
        normal = [_stress(figure, i, j) * n for (i, j), n in zip(EDGES, lengths, strict=True)]
        off = [(r or 0.0) - n for r, n in zip(read, lengths, strict=True)]
        scale = sum(n * o for n, o in zip(normal, off, strict=True)) / sum(n * n for n in normal)
        target = [(r or 0.0) - scale * n for r, n in zip(read, normal, strict=True)]
        nearer = place((*target[:5], None))  # type: ignore[arg-type]
        if nearer is None:
            return None
        moved = max(distance(a, b) for a, b in zip(figure, nearer, strict=True))
        figure = nearer
        if moved < 1e-10:
            break
    return figure


def _stress(figure: Figure, i: int, j: int) -> float:
    """Return the self-stress of edge i-j of four points in the plane, up to a common factor."""
    k, m = (c for c in range(4) if c not in (i, j))
    return 1 / (_doubled(figure, i, j, k) * _doubled(figure, i, j, m))


def _doubled(figure: Figure, i: int, j: int, k: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = figure[i], figure[j], figure[k]
    return ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 1e4


def _cannot_close(read: Readings, table: str) -> Problem:
    """Say which readings cannot meet, and which change of each one would let them."""
    front, right, back, left, first, second = read
    triangles = [
        (("front", front), ("right", right), ("front_left_to_back_right", first)),
        (("back", back), ("left", left), ("front_left_to_back_right", first)),
        (("front", front), ("left", left), ("front_right_to_back_left", second)),
        (("right", right), ("back", back), ("front_right_to_back_left", second)),
    ]
    for triangle in triangles:
        if triangle[2][1] is None:
            continue
        names = [name for name, _ in triangle]
        sizes = [size or 0.0 for _, size in triangle]
        longest = max(range(3), key=lambda n: sizes[n])
        over = sizes[longest] - (sum(sizes) - sizes[longest])
        if over >= 0:
            rest = [n for n in range(3) if n != longest]
            changes = f"{names[longest]} shorter by more than {_said(over)}" + "".join(
                f", or {names[n]} longer by more than {_said(over)}" for n in rest
            )
            return Problem(
                key=f"{table}.{names[longest]}",
                keys=tuple(f"{table}.{names[n]}" for n in rest),
                read=_said(sizes[longest]),
                wanted=f"a length that meets {names[rest[0]]} ({_said(sizes[rest[0]])}) and"
                f" {names[rest[1]]} ({_said(sizes[rest[1]])}) in a triangle: {changes}",
                example=f'{names[longest]} = "{mm_text(math.hypot(*(sizes[n] for n in rest)))}"'
                if longest == 2
                else "",
            )
    return Problem(
        key=table,
        read="readings that do not meet in four corners",
        wanted="four sides and diagonals of one figure: measure each diagonal again",
    )


def refuse_slips(figure: Figure, read: Readings, table: str = "lip") -> None:
    """Raise ``BuildFileError`` where a corner is so far from square that a reading is a slip."""
    angles = [interior_deg(figure, i) for i in range(4)]
    odd = [i for i, angle in enumerate(angles) if not NARROWEST_DEG <= angle <= WIDEST_DEG]
    if not odd:
        return
    given = [key for key, value in zip(KEYS, read, strict=True) if value is not None]
    worst = max(odd, key=lambda i: abs(angles[i] - 90))
    diagonals = [key for key in given if key in KEYS[4:]]
    squared = math.hypot((read[0] + read[2]) / 2, (read[1] + read[3]) / 2)
    closings = ""
    if read[4] is not None and read[5] is not None:
        changes = [
            f"{key} {'longer' if change > 0 else 'shorter'} by {_said(abs(change))}"
            for k, key in enumerate(KEYS)
            if (change := closing_change(read, k)) is not None and abs(change) > 0.05
        ]
        closings = "; it would close with " + ", or ".join(changes) if changes else ""
    raise BuildFileError(
        [
            Problem(
                key=f"{table}.{diagonals[0] if diagonals else given[0]}",
                keys=tuple(f"{table}.{key}" for key in given),
                read=f"a {CORNERS[worst]} corner of {angles[worst]:.1f} deg",
                wanted=f"corners between {NARROWEST_DEG:g} and {WIDEST_DEG:g} deg: one of"
                f" {', '.join(given)} is a slip (for square corners the diagonals would be"
                f" {_said(squared)}){closings}",
            )
        ]
    )
