"""What a drawing needs beside plain marks: dimensions, leaders, center lines, hatching.

Lines and letters follow the standards for technical drawings: widths of lines by ISO 128-2 (a
series of steps of sqrt 2, thick to thin as 2 to 1), kinds of dashes by the same (in line widths),
heights of letters by ISO 3098-1 (2.5, 3.5, 5 mm, the height of a capital), extension lines and
arrows by ISO 129-1. All from memory. Everything is in mm on the page; whoever draws to a scale
scales the points first.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, ceil, cos, degrees, floor, hypot, radians, sin
from typing import Literal

from .marks import Mark, Path, Pen, Point, Words, arc, line
from .overlap import LOW, free, quad
from .pdf import text_width

THIN = Pen(0.25)
"""Dimensions, leaders, hatching (ISO 128-2, type 01.1)."""
MIDDLE = Pen(0.35)
"""What is seen but is not the thing that the drawing is about."""
VISIBLE = Pen(0.5)
"""Edges that are seen (ISO 128-2, type 01.2)."""
HEAVY = Pen(0.7)
"""Edges of what is cut through, and frames."""


def _dashes(width: float, *widths: float) -> Pen:
    return Pen(width, tuple(each * width for each in widths))


HIDDEN = _dashes(0.35, 12, 3)
"""Edges that are not seen: dashes of 12 line widths, gaps of 3 (ISO 128-2, type 02)."""
CENTER = _dashes(0.25, 24, 3, 0.5, 3)
"""Center lines: long dash, gap, dot, gap (ISO 128-2, type 04)."""
MOVED = _dashes(0.25, 24, 3, 0.5, 3, 0.5, 3)
"""Where a part can be moved to, and neighbors (ISO 128-2, type 05)."""

SMALL, PLAIN, LARGE = 2.5, 3.5, 5.0
"""Heights of capital letters, mm (ISO 3098-1)."""

CAPITAL = 0.729
"""Height of a capital of the font, in em (1493 of 2048 units: DejaVu Sans, table OS/2)."""

ARROW = 3.0
ARROW_DEG = 15.0
"""Length of an arrow's head, mm, and its whole angle (ISO 129-1; the length by common practice)."""

GAP, PAST = 1.0, 2.0
"""An extension line begins so far from the edge and ends so far past the dimension line, mm
(ISO 129-1: 8 line widths past, a gap where it helps; common practice)."""

ACROSS = 1.5
"""An extension line at the point itself reaches so far to both sides, mm (common practice)."""

LIFT = 0.45
"""Between a dimension line and the lowest tail of the text on it, mm (common practice)."""

RUN_ON = 5.0
"""What is drawn of the dimension line behind an arrow that stands outside, mm."""

TIGHT = 2.5 * ARROW
"""On a line shorter than that arrows stand outside, mm (common practice)."""

FARTHER = (0.0, 4.0, 8.0, 13.0, 19.0, 26.0)
"""So much farther out than right beside the line's end a text may stand, the nearest first, mm."""

Way = Literal["aligned", "level", "upright"]


def font_size(height: float) -> float:
    """Return the font size, mm, whose capitals have a height, mm."""
    return height / CAPITAL


def arrow(tip: Point, toward_deg: float, length: float = ARROW, gray: float = 0.0) -> Path:
    """Return a filled arrow head; it points in a direction, degrees from the x axis."""
    half = radians(ARROW_DEG / 2)
    turns = (radians(toward_deg) + side * half for side in (1, -1))
    back = length / cos(half)
    corners = tuple(((tip[0] - back * cos(t), tip[1] - back * sin(t)),) for t in turns)
    return Path(tip, corners, None, closed=True, fill=gray)


@dataclass(frozen=True, slots=True)
class _Axis:
    """A dimension's line: from one end to the other, and how its text is turned to be read."""

    a: Point
    b: Point

    @property
    def length(self) -> float:
        return hypot(self.b[0] - self.a[0], self.b[1] - self.a[1])

    @property
    def turn_deg(self) -> float:
        """Direction, degrees, from below or from the right: over -90 up to 90."""
        turn = degrees(atan2(self.b[1] - self.a[1], self.b[0] - self.a[0]))
        turn = (turn + 180) % 180  # a line reads the same from both ends
        return turn - 180 if turn > 90 + 1e-9 else turn

    def at(self, along: float, up: float = 0.0) -> Point:
        """Return a place: mm from ``a`` along, mm to the side that letters' tops point to."""
        long = self.length
        ux, uy = (self.b[0] - self.a[0]) / long, (self.b[1] - self.a[1]) / long
        turn = radians(self.turn_deg)
        return (
            self.a[0] + ux * along - sin(turn) * up,
            self.a[1] + uy * along + cos(turn) * up,
        )


def dimension(
    a: Point,
    b: Point,
    text: str,
    *,
    at: float,
    way: Way = "aligned",
    height: float = SMALL,
    clear_of: Sequence[Mark] = (),
    extend: bool = True,
) -> tuple[Mark, ...]:
    """Return a dimension between two points with its text.

    Arrows stand inside, or outside where the line is too short for them. The text stands on the
    line's middle; where it does not fit there or meets ``clear_of``, farther along, then beside
    the line's end.

    Args:
        a: one point that is measured from, mm.
        b: the other.
        text: what is written; empty for a bare line.
        at: where the line runs: for ``aligned`` how far to the left of the way from ``a`` to
            ``b``, mm; for ``level`` its y, for ``upright`` its x.
        way: along the points, or only their distance across or up.
        height: of the text's capitals, mm.
        clear_of: what the text must not meet.
        extend: whether extension lines are drawn.

    Raises:
        ValueError: the points are not apart in that direction.
    """
    ends = line_ends(a, b, at, way)
    axis = _Axis(*ends)
    if axis.length < 1e-6:
        raise ValueError(f"nothing to measure between {a} and {b}")
    marks: list[Mark] = []
    if extend:
        for point, end in ((a, ends[0]), (b, ends[1])):
            marks += _extension(point, end, (ends[0], ends[1]))
    size = font_size(height)
    outside = axis.length < TIGHT
    heading = degrees(atan2(axis.b[1] - axis.a[1], axis.b[0] - axis.a[0]))
    marks += [
        arrow(axis.a, heading + (0 if outside else 180)),
        arrow(axis.b, heading + (180 if outside else 0)),
    ]
    reach = ARROW + RUN_ON if outside else 0.0
    low, high = -reach, axis.length + reach
    if text:
        words, low, high = _text_on(axis, text, size, outside, [*clear_of, *marks], low, high)
        marks.append(words)
    return (line(*axis.at(low), *axis.at(high), THIN), *marks)


def line_ends(a: Point, b: Point, at: float, way: Way) -> tuple[Point, Point]:
    """Return where a dimension's line begins and ends; arguments as for ``dimension``."""
    if way == "level":
        return (a[0], at), (b[0], at)
    if way == "upright":
        return (at, a[1]), (at, b[1])
    long = hypot(b[0] - a[0], b[1] - a[1])
    if long < 1e-6:
        return a, b
    nx, ny = -(b[1] - a[1]) / long * at, (b[0] - a[0]) / long * at
    return (a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny)


def _extension(point: Point, end: Point, ends: tuple[Point, Point]) -> Iterator[Mark]:
    """Yield the line from a point past the dimension line; across it where it is at the point."""
    long = hypot(end[0] - point[0], end[1] - point[1])
    if long > GAP:
        ux, uy = (end[0] - point[0]) / long, (end[1] - point[1]) / long
        start, past = (point[0] + ux * GAP, point[1] + uy * GAP), PAST
    else:  # no edge need be there, or it may run along the dimension's line
        whole = hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
        ux, uy = (ends[0][1] - ends[1][1]) / whole, (ends[1][0] - ends[0][0]) / whole
        start, past = (end[0] - ux * ACROSS, end[1] - uy * ACROSS), ACROSS
    yield line(*start, end[0] + ux * past, end[1] + uy * past, THIN)


def _text_on(
    axis: _Axis,
    text: str,
    size: float,
    outside: bool,
    taken: Sequence[Mark],
    low: float,
    high: float,
) -> tuple[Words, float, float]:
    """Place a dimension's text, and return from where to where its line has to run."""
    half = text_width(text, size) / 2
    long = axis.length
    inner = long - (0.0 if outside else 2 * ARROW)
    choices: list[tuple[float, float, float]] = []
    if 2 * half + 1 <= inner:
        slack = (inner - 2 * half - 1) / 2
        slides = (0.0, -0.3, 0.3, -0.6, 0.6, -0.9, 0.9)
        choices += [(long / 2 + slack * each, low, high) for each in slides]
    beside = half + 1.0 + (ARROW + 1.0 if outside else PAST)
    far = beside + half + 0.5
    for more in FARTHER:  # past what stands beside the line's ends
        choices += [
            (long + beside + more, low, long + far + more),
            (-beside - more, -far - more, high),
        ]
    for along, start, end in choices:
        words = _words(axis, along, text, size)
        if free(quad(words), taken):
            return words, start, end
    along, start, end = choices[0]
    return _words(axis, along, text, size), start, end


def _words(axis: _Axis, along: float, text: str, size: float) -> Words:
    x, y = axis.at(along, LIFT + LOW * size)
    return Words(x, y, size, text, "middle", axis.turn_deg)


def leader(
    tip: Point,
    knee: Point,
    text: str,
    *,
    height: float = SMALL,
    end: Literal["arrow", "dot", "none"] = "arrow",
) -> tuple[Mark, ...]:
    """Return a line from a thing to a text: to the thing's edge an arrow, onto its face a dot.

    From the knee it runs level, away from the tip, and the text stands behind its end.
    """
    out = 1.0 if knee[0] >= tip[0] else -1.0
    shelf = (knee[0] + 2.0 * out, knee[1])
    marks: list[Mark] = [Path(tip, ((knee,), (shelf,)), THIN)]
    if end == "arrow":
        marks.append(arrow(tip, degrees(atan2(tip[1] - knee[1], tip[0] - knee[0]))))
    elif end == "dot":
        marks.append(dot(tip))
    if text:
        size = font_size(height)
        anchor = "start" if out > 0 else "end"
        marks.append(Words(shelf[0] + out, shelf[1] - height / 2, size, text, anchor))
    return tuple(marks)


def dot(at: Point, diameter: float = 1.0) -> Path:
    """Return a filled dot; it is made of eight curves, so that no reader takes it for a bore."""
    half = diameter / 2
    left, right = (at[0] - half, at[1]), (at[0] + half, at[1])
    return Path(left, (*arc(*left, *right, 1.0), *arc(*right, *left, 1.0)), None, True, 0.0)


def center_line(a: Point, b: Point, past: float = 3.0) -> Path:
    """Return a center line that runs past both points and begins and ends with a long dash."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    if long < 1e-6:
        raise ValueError(f"nothing between {a} and {b}")
    ux, uy = (b[0] - a[0]) / long * past, (b[1] - a[1]) / long * past
    whole = long + 2 * past
    dash, *rest = CENTER.dash
    period = sum(CENTER.dash)
    times = max(0, round((whole - dash) / period))
    # a whole number of periods and one dash: all of them longer or shorter by the same share
    share = whole / (times * period + dash)
    pen = Pen(CENTER.width, tuple(each * share for each in (dash, *rest)))
    return line(a[0] - ux, a[1] - uy, b[0] + ux, b[1] + uy, pen)


def center_cross(at: Point, radius: float, past: float = 3.0) -> tuple[Path, Path]:
    """Return the two center lines of a circle."""
    x, y = at
    return (
        center_line((x - radius, y), (x + radius, y), past),
        center_line((x, y - radius), (x, y + radius), past),
    )


def hatching(
    outlines: Sequence[Sequence[Point]],
    pitch: float = 2.0,
    angle_deg: float = 45.0,
    pen: Pen = THIN,
) -> tuple[Path, ...]:
    """Return parallel lines over a cut face (ISO 128-3: thin, at 45 degrees by preference).

    Args:
        outlines: straight-sided closed outlines; what lies inside an odd number of them is cut.
        pitch: from line to line, mm.
        angle_deg: of the lines.
        pen: that draws them.
    """
    turn = radians(angle_deg)
    c, s = cos(turn), sin(turn)
    turned = [[(x * c + y * s, y * c - x * s) for x, y in outline] for outline in outlines]
    heights = [y for outline in turned for _, y in outline]
    if not heights:
        return ()
    found: list[Path] = []
    for row in range(ceil(min(heights) / pitch), floor(max(heights) / pitch) + 1):
        y = row * pitch + 1e-7  # never through a corner
        cuts = sorted(_crossings(turned, y))
        for x0, x1 in zip(cuts[::2], cuts[1::2], strict=True):
            if x1 - x0 > 0.05:
                found.append(
                    line(x0 * c - y * s, x0 * s + y * c, x1 * c - y * s, x1 * s + y * c, pen)
                )
    return tuple(found)


def _crossings(outlines: Sequence[Sequence[Point]], y: float) -> Iterator[float]:
    for outline in outlines:
        for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
            if (y0 <= y) != (y1 <= y):
                yield x0 + (y - y0) / (y1 - y0) * (x1 - x0)


def outlined(points: Sequence[Point], pen: Pen | None = VISIBLE, fill: float | None = None) -> Path:
    """Return a closed outline of straight edges."""
    return Path(points[0], tuple((each,) for each in points[1:]), pen, closed=True, fill=fill)
