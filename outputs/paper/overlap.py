"""Whether a text stands over something: where a text is, and what lines and texts it meets.

A text's box goes from the lowest tail of its letters to the top of its capitals. What was drawn
before a filled white shape that the text stands in is covered, and does not count.
"""

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, pi, radians, sin

from .marks import Mark, Path, Point, Ring, Window, Words
from .pdf import clean, text_width

TOP, LOW = 0.76, 0.24
"""Height of a text's box above its baseline and depth below, in em (DejaVu Sans, capitals and
digits reach 0.73, tails 0.24)."""

CLEAR = 0.25
"""Least gap between a text and a line's middle, mm."""

COVERS = 0.9
"""The gray from which a filled shape covers what is under it and lets a text be read."""

HATCHING = 0.2
"""What is drawn thinner than this is hatching, mm."""

Quad = tuple[Point, Point, Point, Point]
"""A text's box: lower left, lower right, upper right, upper left as it is read."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """A text, and what it stands over: another text, or a line from one point to another."""

    words: Words
    other: Words | tuple[Point, Point]


def quad(words: Words, grow: float = 0.0) -> Quad:
    """Return a text's box, ``grow`` mm larger on every side."""
    width = text_width(clean(words.text), words.size)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[words.anchor]
    low, high = -LOW * words.size - grow, TOP * words.size + grow
    turn = radians(words.turn)
    c, s = cos(turn), sin(turn)

    def at(x: float, y: float) -> Point:
        return words.x + x * c - y * s, words.y + x * s + y * c

    left, right = start - grow, start + width + grow
    return at(left, low), at(right, low), at(right, high), at(left, high)


def free(box: Quad, marks: Iterable[Mark], clear: float = CLEAR) -> bool:
    """Whether a text's box meets no line and no text."""
    return not any(_meets(box, each, clear) for mark in marks for each in _pieces(mark))


def meetings(marks: Sequence[Mark]) -> list[Meeting]:
    """Return every text that stands over a line or over another text."""
    drawn = [piece for mark in marks for piece in _pieces(mark)]
    found: list[Meeting] = []
    for i, piece in enumerate(drawn):
        if not isinstance(piece, Words) or not clean(piece.text):
            continue
        box = quad(piece)
        covered = max((j for j in range(i) if _covers(drawn[j], box)), default=-1)
        for j, other in enumerate(drawn):
            if j <= covered or j == i or (isinstance(other, Words) and j > i):
                continue
            if isinstance(other, Words):
                if clean(other.text) and _quads_meet(box, quad(other)):
                    found.append(Meeting(piece, other))
            else:
                found += [Meeting(piece, each) for each in _over(box, other, CLEAR)][:1]
    return found


def on_a_part(words: Words, marks: Iterable[Mark]) -> bool:
    """Whether a text stands wholly on a shape that is filled with white, as a part is drawn."""
    box = quad(words)
    return any(_covers(piece, box) for mark in marks for piece in _pieces(mark))


def runs_over(path: Path, marks: Iterable[Mark], start: float) -> int:
    """Return how many lines a path of straight edges crosses; hatching is none.

    Args:
        path: a leader's line, from its tip.
        marks: what else is drawn.
        start: how much of its first edge is left out, mm: there it meets what it points at.
    """
    (x, y), knee = path.start, path.steps[0][-1]
    ux, uy = _unit(path.start, knee)
    points = [(x + ux * start, y + uy * start), *(step[-1] for step in path.steps)]
    found = 0
    for piece in (piece for mark in marks for piece in _pieces(mark)):
        if isinstance(piece, Words) or piece.pen is None or piece.pen.width < HATCHING:
            continue
        for c, d in itertools.pairwise(_chain(piece)):
            found += sum(_cross(a, b, c, d) for a, b in itertools.pairwise(points))
    return found


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two lines cross within both."""

    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def _pieces(mark: Mark) -> Iterator[Path | Ring | Words]:
    if isinstance(mark, Window):
        for each in mark.marks:
            yield from _pieces(each)
    else:
        yield mark


def _meets(box: Quad, piece: Path | Ring | Words, clear: float) -> bool:
    if isinstance(piece, Words):
        return bool(clean(piece.text)) and _quads_meet(box, quad(piece, clear))
    return next(_over(box, piece, clear), None) is not None


def _over(box: Quad, piece: Path | Ring, clear: float) -> Iterator[tuple[Point, Point]]:
    """Yield the lines of a path that a box meets."""
    dark = piece.fill is not None and piece.fill < COVERS
    if piece.pen is None and not dark:
        return
    room = clear + (piece.pen.width / 2 if piece.pen else 0.0)
    if _far(box, piece, room):
        return
    chain = list(_chain(piece))
    for a, b in itertools.pairwise(chain):
        if _segment_meets(a, b, box, room):
            yield a, b
    if dark and _inside(box[0], chain):
        yield chain[0], chain[0]


def _far(box: Quad, piece: Path | Ring, room: float) -> bool:
    """Whether upright rectangles about a box and a path are apart: then the two are too."""
    if isinstance(piece, Ring):
        half = piece.diameter / 2
        xs: Sequence[float] = (piece.x - half, piece.x + half)
        ys: Sequence[float] = (piece.y - half, piece.y + half)
    else:  # a curve lies inside its handles
        points = [piece.start, *(point for step in piece.steps for point in step)]
        xs, ys = [x for x, _ in points], [y for _, y in points]
    across, up = [x for x, _ in box], [y for _, y in box]
    return (
        min(xs) > max(across) + room
        or max(xs) < min(across) - room
        or min(ys) > max(up) + room
        or max(ys) < min(up) - room
    )


def _chain(piece: Path | Ring) -> Iterator[Point]:
    """Yield points along a path, curves in short straight steps."""
    if isinstance(piece, Ring):
        for i in range(49):
            turn = 2 * pi * i / 48
            r = piece.diameter / 2
            yield piece.x + r * cos(turn), piece.y + r * sin(turn)
        return
    yield piece.start
    last = piece.start
    for step in piece.steps:
        if len(step) == 1:
            yield step[0]
        else:
            p, q, end = step
            for i in range(1, 9):
                t = i / 8
                w = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
                four = (last, p, q, end)
                yield (
                    sum(k * point[0] for k, point in zip(w, four, strict=True)),
                    sum(k * point[1] for k, point in zip(w, four, strict=True)),
                )
        last = step[-1]
    if piece.closed or piece.fill is not None:
        yield piece.start


def _covers(piece: Path | Ring | Words, box: Quad) -> bool:
    if isinstance(piece, Words) or piece.fill is None or piece.fill < COVERS:
        return False
    chain = list(_chain(piece))
    return all(_inside(corner, chain) for corner in box)


def _inside(point: Point, chain: Sequence[Point]) -> bool:
    x, y = point
    odd = False
    for (x0, y0), (x1, y1) in itertools.pairwise(chain):
        if (y0 <= y) != (y1 <= y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            odd = not odd
    return odd


def _segment_meets(a: Point, b: Point, box: Quad, room: float) -> bool:
    """Whether a line comes nearer than ``room`` to a box: clipped against its four sides."""
    ux, uy = _unit(box[0], box[1])
    vx, vy = -uy, ux
    ox, oy = box[0]
    wide = (box[1][0] - ox) * ux + (box[1][1] - oy) * uy
    high = (box[3][0] - ox) * vx + (box[3][1] - oy) * vy
    low_t, high_t = 0.0, 1.0
    for nx, ny, far in ((ux, uy, wide), (vx, vy, high)):
        p = (a[0] - ox) * nx + (a[1] - oy) * ny
        q = (b[0] - ox) * nx + (b[1] - oy) * ny
        low, top = -room, far + room
        if abs(q - p) < 1e-12:
            if not low < p < top:
                return False
            continue
        t0, t1 = sorted(((low - p) / (q - p), (top - p) / (q - p)))
        low_t, high_t = max(low_t, t0), min(high_t, t1)
    return high_t - low_t > 1e-9


def _unit(a: Point, b: Point) -> Point:
    long = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    return ((b[0] - a[0]) / long, (b[1] - a[1]) / long) if long > 1e-9 else (1.0, 0.0)


def _quads_meet(one: Quad, other: Quad) -> bool:
    """Whether two boxes overlap: no side of either has the other wholly beyond it."""
    for box in (one, other):
        for a, b in ((box[0], box[1]), (box[1], box[2])):
            nx, ny = _unit(a, b)
            p = [x * nx + y * ny for x, y in one]
            q = [x * nx + y * ny for x, y in other]
            if min(max(p), max(q)) - max(min(p), min(q)) <= 1e-6:
                return False
    return True
