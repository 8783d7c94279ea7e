"""A picture with numbers on it: arrows where the tape is held, a ringed number at each.

Numbers are drawn last and cover what lies under them, so that each can be read.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import atan2, cos, degrees, hypot, pi, sin
from typing import Literal

from ..paper.dims import (
    ARROW,
    CAPITAL,
    RUN_ON,
    THIN,
    TIGHT,
    Way,
    arrow,
    dimension,
    line_ends,
)
from ..paper.marks import Anchor, Mark, Path, Pen, Point, Ring, Words, arc, line, moved

SIZE = 2.9
"""Font size of everything small on the sheet, mm: 8.2 points."""

BALLOON = 5.4
"""Diameter of the ring about a number, mm."""

CAPTION = -5.0
"""Where the names of pictures stand, mm from their lower edge."""

BODY, WALL = 0.92, 0.8
"""Grays of what is cut through, and of walls and floor."""

Place = float | Literal["before", "after"]


@dataclass(slots=True)
class Picture:
    """What is drawn so far, from the picture's own lower left corner, mm."""

    numbers: Mapping[str, int]
    drawn: list[Mark] = field(default_factory=list[Mark])
    balloons: list[Mark] = field(default_factory=list[Mark])

    def add(self, *marks: Mark) -> None:
        """Draw something."""
        self.drawn += marks

    def say(self, x: float, y: float, text: str, anchor: Anchor = "start", turn: float = 0) -> None:
        """Write a name on the picture."""
        self.drawn.append(Words(x, y, SIZE, text, anchor, turn))

    def hold(
        self,
        key: str,
        a: Point,
        b: Point,
        *,
        at: float,
        way: Way = "level",
        place: Place = 0.5,
    ) -> None:
        """Show a reading from one point to another, and put its number on or beside the line.

        Args:
            key: of the build file.
            a: where the tape begins.
            b: where it is read.
            at: where the line runs, as for ``dims.dimension``.
            way: along the points, level, or upright.
            place: how far along the line the number is, 0 to 1, or beyond which end.
        """
        self.drawn += dimension(a, b, "", at=at, way=way)
        start, end = line_ends(a, b, at, way)
        long = hypot(end[0] - start[0], end[1] - start[1])
        ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
        reach = ARROW + RUN_ON if long < TIGHT else ARROW
        if place == "after":
            along = long + reach + BALLOON / 2
        elif place == "before":
            along = -reach - BALLOON / 2
        else:
            along = long * place
        x, y = start[0] + ux * along, start[1] + uy * along
        if not 0 <= along <= long:
            near = end if along > 0 else start
            self.drawn.append(line(*near, x, y, THIN))
        self.number(key, (x, y))

    def point(self, key: str, tip: Point, at: Point) -> None:
        """Point at a place from a number."""
        self.drawn += [line(*at, *tip, THIN)]
        self.drawn.append(arrow(tip, degrees(atan2(tip[1] - at[1], tip[0] - at[0]))))
        self.number(key, at)

    def number(self, key: str, at: Point) -> None:
        """Put a reading's number somewhere."""
        self.balloons += balloon(at, self.numbers[key])

    def marks(self, x: float, y: float) -> list[Mark]:
        """Return the picture with its lower left corner at a place."""
        return [moved(mark, x, y) for mark in (*self.drawn, *self.balloons)]


def balloon(at: Point, number: int) -> tuple[Mark, Mark]:
    """Return a ringed number."""
    low = at[1] - SIZE * CAPITAL / 2
    ring = Ring(at[0], at[1], BALLOON, Pen(0.35), 1.0)
    return ring, Words(at[0], low, SIZE, str(number), "middle")


def rounded(
    x: float,
    y: float,
    width: float,
    height: float,
    radius: float,
    pen: Pen | None = None,
    fill: float | None = None,
) -> Path:
    """Return a rectangle with round corners from its lower left corner."""
    bulge = 2**0.5 - 1  # of a quarter circle: tan(90 deg / 4)
    right, top, r = x + width, y + height, radius
    steps: list[tuple[Point, ...]] = [((right - r, y),)]
    for start, end, then in (
        ((right - r, y), (right, y + r), (right, top - r)),
        ((right, top - r), (right - r, top), (x + r, top)),
        ((x + r, top), (x, top - r), (x, y + r)),
        ((x, y + r), (x + r, y), (x + r, y)),
    ):
        steps += arc(*start, *end, bulge)
        steps.append((then,))
    return Path((x + r, y), tuple(steps), pen, closed=True, fill=fill)


def part(points: Sequence[Point], pen: Pen | None, fill: float | None = BODY) -> Path:
    """Return a closed outline, filled."""
    return Path(points[0], tuple((each,) for each in points[1:]), pen, closed=True, fill=fill)


def sweep(center: Point, radius: float, from_deg: float, to_deg: float, pen: Pen) -> Path:
    """Return an arc about a point, counterclockwise."""
    count = max(2, round(abs(to_deg - from_deg) / 4))
    turns = [(from_deg + (to_deg - from_deg) * i / count) * pi / 180 for i in range(count + 1)]
    points = [(center[0] + radius * cos(t), center[1] + radius * sin(t)) for t in turns]
    return Path(points[0], tuple((each,) for each in points[1:]), pen)
