"""What can be seen on a page of a PDF: lines, circles, texts, in mm from its lower left corner."""

import math
from dataclasses import dataclass, field

MM = 25.4 / 72
"""A point in mm (ISO 32000-1, 8.3.2.3)."""

Matrix = tuple[float, float, float, float, float, float]
Point = tuple[float, float]
Rect = tuple[float, float, float, float]

IDENTITY: Matrix = (1, 0, 0, 1, 0, 0)
ROUND = 0.02
"""How far from a true circle four curves may be and still be one, mm."""

QUARTER = 4 / 3 * (math.sqrt(2) - 1)
"""Handles of a quarter circle drawn as one curve, in radii."""


@dataclass(frozen=True, slots=True)
class Line:
    """The visible part of a straight line; ``pen`` is how thick it is, mm."""

    x1: float
    y1: float
    x2: float
    y2: float
    pen: float = 0.0
    dashed: bool = False

    @property
    def length(self) -> float:
        """Length, mm."""
        return math.hypot(self.x2 - self.x1, self.y2 - self.y1)


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; ``seen`` is the part of the page in which it could be seen."""

    x: float
    y: float
    diameter: float
    filled: bool
    seen: Rect
    pen: float = 0.0
    dashed: bool = False

    @property
    def whole(self) -> bool:
        """Whether nothing of it is clipped away."""
        x0, y0, x1, y1 = self.seen
        r = self.diameter / 2
        return x0 <= self.x - r and self.x + r <= x1 and y0 <= self.y - r and self.y + r <= y1


@dataclass(frozen=True, slots=True)
class Curve:
    """A Bezier curve with its two handles; ``seen`` as for a circle."""

    points: tuple[Point, Point, Point, Point]
    seen: Rect
    pen: float = 0.0
    dashed: bool = False

    def at(self, share: float) -> Point:
        """Return a point of the curve, from its start (0) to its end (1)."""
        a, b = 1 - share, share
        weights = a * a * a, 3 * a * a * b, 3 * a * b * b, b * b * b
        x, y = (
            sum(w * point[axis] for w, point in zip(weights, self.points, strict=True))
            for axis in (0, 1)
        )
        return x, y


@dataclass(frozen=True, slots=True)
class Text:
    """One shown string: where its baseline starts, its direction, size and width."""

    text: str
    x: float
    y: float
    turn_deg: float
    size: float
    width: float
    mirrored: bool


@dataclass(frozen=True, slots=True)
class Page:
    """What is seen on a page; ``rotate`` is the turn that a viewer gives it, degrees."""

    number: int
    width: float
    height: float
    rotate: int
    lines: tuple[Line, ...]
    circles: tuple[Circle, ...]
    texts: tuple[Text, ...]
    unread: tuple[str, ...]
    filled: tuple[tuple[Point, ...], ...] = ()
    """Dark surfaces with straight sides, by their corners."""
    curves: tuple[Curve, ...] = ()
    windows: tuple[Rect, ...] = ()
    """Parts of the page that something was clipped to."""
    sheet: Point | None = None
    """Width and height of the page in the file, mm, where all else is as a printer makes it."""


@dataclass(slots=True)
class Sub:
    """A subpath: its points on the page, and which of its steps are curves."""

    start: Point
    steps: list[tuple[Point, ...]] = field(default_factory=list)
    closed: bool = False


def times(a: Matrix, b: Matrix) -> Matrix:
    """Return the matrix that does ``a`` first, then ``b``."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def apply(m: Matrix, x: float, y: float) -> Point:
    """Return a point after a matrix."""
    return m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]


def as_circle(
    sub: Sub, filled: bool, clip: Rect, pen: float = 0.0, dashed: bool = False
) -> Circle | None:
    """Return a subpath of four curves as the circle that it is, None where it is something else."""
    curves = [step for step in sub.steps if len(step) == 3]
    ends = [step[-1] for step in curves]
    if len(ends) != 4 or math.dist(ends[-1], sub.start) > ROUND:
        return None
    x, y = sum(p[0] for p in ends) / 4, sum(p[1] for p in ends) / 4
    radii = [math.dist((x, y), p) for p in ends]
    radius = sum(radii) / 4
    handles = [
        math.dist(a, b)
        for before, (first, second, end) in zip([sub.start, *ends], curves, strict=False)
        for a, b in ((before, first), (second, end))
    ]
    if max(abs(r - radius) for r in radii) > ROUND:
        return None
    if max(abs(h - QUARTER * radius) for h in handles) > ROUND:
        return None
    return Circle(x, y, 2 * radius, filled, clip, pen, dashed)


def clipped(a: Point, b: Point, clip: Rect) -> Line | None:
    """Return the part of a segment inside a rectangle (Liang and Barsky's way), None if none."""
    t0, t1 = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for move, gap in (
        (-dx, a[0] - clip[0]), (dx, clip[2] - a[0]), (-dy, a[1] - clip[1]), (dy, clip[3] - a[1]),
    ):  # fmt: skip
        if move == 0:
            if gap < 0:
                return None
        elif move < 0:
            t0 = max(t0, gap / move)
        else:
            t1 = min(t1, gap / move)
    if t0 > t1:
        return None
    return Line(a[0] + dx * t0, a[1] + dy * t0, a[0] + dx * t1, a[1] + dy * t1)
