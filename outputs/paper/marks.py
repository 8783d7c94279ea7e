"""What can be drawn on a page: a few kinds of marks, in mm from the page's lower left corner.

Whoever lays out a page makes marks; a back end (``pdf``, ``svg``) draws them and knows nothing
else.
"""

from dataclasses import dataclass, replace
from math import atan, ceil, cos, pi, sin, tan
from typing import Literal

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Pen:
    """A line: width and dashes in mm; ``gray`` from 0 (black) to 1."""

    width: float = 0.25
    dash: tuple[float, ...] = ()
    gray: float = 0.0


@dataclass(frozen=True, slots=True)
class Path:
    """A line from ``start`` on; each step is one point (straight) or three (a Bezier curve)."""

    start: Point
    steps: tuple[tuple[Point, ...], ...]
    pen: Pen | None = Pen()
    closed: bool = False
    fill: float | None = None


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle; with ``fill`` a disc of that gray."""

    x: float
    y: float
    diameter: float
    pen: Pen | None = Pen()
    fill: float | None = None


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text on its baseline; ``size`` is the font's size in mm, ``turn`` in degrees."""

    x: float
    y: float
    size: float
    text: str
    anchor: Anchor = "start"
    turn: float = 0
    gray: float = 0.0


@dataclass(frozen=True, slots=True)
class Window:
    """Marks of which only what lies in a rectangle of the page is drawn."""

    x: float
    y: float
    width: float
    height: float
    marks: tuple["Mark", ...]


Mark = Path | Ring | Words | Window


@dataclass(frozen=True, slots=True)
class Page:
    """One page, mm; ``scale`` is how much larger than that a file draws it, across and up."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    scale: tuple[float, float] = (1.0, 1.0)


def line(x1: float, y1: float, x2: float, y2: float, pen: Pen | None = None) -> Path:
    """Return a straight line."""
    return Path((x1, y1), (((x2, y2),),), pen or Pen())


def rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    pen: Pen | None = None,
    fill: float | None = None,
) -> Path:
    """Return a rectangle from its lower left corner; without a pen only its ``fill`` is drawn."""
    others = ((x + width, y), (x + width, y + height), (x, y + height))
    return Path((x, y), tuple((each,) for each in others), pen, closed=True, fill=fill)


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """Return a mark moved by (dx, dy), mm."""
    if isinstance(mark, Window):
        inside = tuple(moved(each, dx, dy) for each in mark.marks)
        return replace(mark, x=mark.x + dx, y=mark.y + dy, marks=inside)
    if isinstance(mark, Path):
        steps = tuple(tuple((x + dx, y + dy) for x, y in step) for step in mark.steps)
        return replace(mark, start=(mark.start[0] + dx, mark.start[1] + dy), steps=steps)
    return replace(mark, x=mark.x + dx, y=mark.y + dy)


def arc(x1: float, y1: float, x2: float, y2: float, bulge: float) -> tuple[tuple[Point, ...], ...]:
    """Return an arc, given by its bulge, as Bezier curves of at most 45 degrees each.

    A curve's handles are ``4/3 tan(angle/4)`` of the radius long; at 45 degrees it leaves the
    circle by 4e-6 of the radius (textbook approximation).
    """
    angle = 4 * atan(bulge)
    mx, my = (x1 + x2) / 2, (y1 + y2) / 2
    off = (1 / bulge - bulge) / 4  # from the chord's middle to the center, in chords
    cx, cy = mx - (y2 - y1) * off, my + (x2 - x1) * off
    count = ceil(abs(angle) / (pi / 4))
    step = angle / count
    handle = 4 / 3 * tan(step / 4)
    steps: list[tuple[Point, ...]] = []
    dx, dy = x1 - cx, y1 - cy
    for i in range(count):
        ex, ey = dx * cos(step) - dy * sin(step), dx * sin(step) + dy * cos(step)
        end = (x2, y2) if i == count - 1 else (cx + ex, cy + ey)
        steps.append(
            (
                (cx + dx - dy * handle, cy + dy + dx * handle),
                (cx + ex + ey * handle, cy + ey - ex * handle),
                end,
            )
        )
        dx, dy = ex, ey
    return tuple(steps)
