"""A drawing on its way: views to one scale, and what is written on them once all lines stand.

Dimensions and texts are only noted down while a drawing is made. ``finish`` sets them when every
line is there, so that no text stands over one.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import dist, hypot
from typing import Literal

from ...params.units import Show, length_text
from ..paper.dims import (
    ARROW,
    FARTHER,
    RUN_ON,
    SMALL,
    THIN,
    VISIBLE,
    Way,
    center_line,
    dimension,
    font_size,
    hatching,
    line_ends,
)
from ..paper.marks import Anchor, Mark, Path, Pen, Point, Ring, Window, Words
from ..paper.overlap import free, on_a_part, quad, runs_over
from ..paper.pdf import clean, fitted, text_width, wrapped
from .beside import AT_TIP, ON_A_PART, OVER_A_LINE, Leader, Tag, leader_places, tag_places

Side = Literal["below", "above", "left", "right"]

FIRST, STEP = 9.0, 6.5
"""From a view's edge to its first dimension line, and from one to the next, mm (common practice:
ISO 129-1 asks for room, not for a figure)."""

TURNS = 3
"""How often texts are set that others' lines have run into."""

LEAST = 0.05
"""What is shorter is no dimension, mm: it would print as 0."""

LONGEST = 56.0
"""What a name may take beside a hole or in a table, mm; longer ones are shortened."""

WHITE = 1.0
"""A surface that covers what lies behind it."""

Box = tuple[float, float, float, float]
"""Left, bottom, right, top, mm."""


@dataclass(frozen=True, slots=True)
class _Dim:
    a: Point
    b: Point
    text: str
    at: float
    way: Way


class Draft:
    """One drawing: marks in mm of the page, its origin wherever it is convenient."""

    def __init__(self, scale: float, show: Show) -> None:
        """Begin a drawing; ``scale`` is mm on the page for each mm."""
        self.scale = scale
        self.show: Show = show
        self.marks: list[Mark] = []
        self._dims: list[_Dim] = []
        self._leaders: list[Leader] = []
        self._tags: list[Tag] = []
        self._under: list[Callable[[], None]] = []
        self._boxes: dict[int, tuple[Mark, Box]] = {}

    def view(self, x: float = 0.0, y: float = 0.0) -> "View":
        """Return a view whose zero lies at a place of the page, mm."""
        return View(self, x, y)

    def add(self, *marks: Mark) -> None:
        """Add marks in mm of the page."""
        self.marks += marks

    def words(
        self,
        x: float,
        y: float,
        text: str,
        height: float = SMALL,
        anchor: Anchor = "start",
        turn: float = 0,
    ) -> None:
        """Add a text on its baseline, if there is one; ``height`` of a capital, mm."""
        if text.strip():
            self.add(Words(x, y, font_size(height), clean(text), anchor, turn))

    def box(self) -> Box:
        """Return what everything takes that was drawn or noted down."""
        boxes = [self._box(mark) for mark in self.marks]
        for dim in self._dims:
            (x0, y0), (x1, y1) = line_ends(dim.a, dim.b, dim.at, dim.way)
            boxes.append((min(x0, x1) - 2, min(y0, y1) - 2, max(x0, x1) + 2, max(y0, y1) + 4))
        return _around(boxes)

    def finish(self) -> None:
        """Set dimensions, tags, leaders, each clear of all there is; then what stands under it."""
        self._set_dims()
        for tag in self._tags:
            self._set_tag(tag)
        for one in self._leaders:
            self._set_leader(one)
        for under in self._under:
            under()
        self._tags, self._leaders, self._under = [], [], []

    def _set_dims(self) -> None:
        """Set all dimensions. A line may run on to its text and meet another one's: then again."""
        placed = [dimension(dim.a, dim.b, "", at=dim.at, way=dim.way) for dim in self._dims]
        for turn in range(TURNS):
            for i, dim in enumerate(self._dims):
                reach = text_width(dim.text, font_size(SMALL)) + 2 * (ARROW + RUN_ON) + FARTHER[-1]
                around = _grown(_around([self._box(mark) for mark in placed[i]]), reach)
                rest = (mark for j, marks in enumerate(placed) if j != i for mark in marks)
                others = [m for m in (*self.marks, *rest) if meet(self._box(m), around)]
                said = [mark for mark in placed[i] if isinstance(mark, Words)]
                if turn and all(free(quad(words), others) for words in said):
                    continue
                placed[i] = dimension(
                    dim.a, dim.b, dim.text, at=dim.at, way=dim.way, clear_of=others
                )
        for marks in placed:
            self.add(*marks)
        self._dims = []

    def dim(self, a: Point, b: Point, length: float, at: float, way: Way) -> None:
        """Note a dimension; the points in mm of the page, the length in mm of the thing."""
        if length >= LEAST:
            self._dims.append(_Dim(a, b, length_text(length, self.show), at, way))

    def leader(
        self,
        tip: Point,
        text: str,
        toward: Sequence[float] = (45, 135, -45, -135),
        end: Literal["arrow", "dot", "none"] = "arrow",
    ) -> None:
        """Note a text with a line to ``tip``; ``toward`` are directions to try, degrees."""
        text = fitted(text, font_size(SMALL), LONGEST)
        self._leaders.append(Leader(tip, text, end, tuple(toward)))

    def tag(self, tag: Tag) -> None:
        """Note a text that stands beside a place, at least ``away`` from it.

        Where there is room it stands ``within`` so far of it, as in a circle that it numbers; one
        that is ``optional`` stands nowhere else. It is nearer to its own place than to ``others``.
        """
        text = fitted(tag.text, font_size(tag.height), LONGEST)
        apart = tuple(each for each in tag.others if dist(each, tag.at) > LEAST)
        self._tags.append(replace(tag, text=text, others=apart))

    def table(self, head: Sequence[str], rows: Sequence[Sequence[str]], room: float) -> None:
        """Note a table that stands under all else, in as many blocks as fit side by side."""
        if rows:
            size = font_size(2.0)
            cells = [[fitted(cell, size, LONGEST) for cell in row] for row in rows]
            self._under.append(lambda: self._set_table(head, cells, room))

    def notes(self, texts: Iterable[str], room: float) -> None:
        """Note lines of text that stand under all else, broken where they are too wide."""
        said = tuple(texts)
        self._under.append(lambda: self._set_notes(said, room))

    def _set_table(self, head: Sequence[str], rows: Sequence[Sequence[str]], room: float) -> None:
        size, pitch = font_size(2.0), 4.2
        wide = [
            max(text_width(clean(row[i]), size) for row in (head, *rows)) + 4
            for i in range(len(head))
        ]
        whole = sum(wide) + 6
        blocks = min(max(1, int(room // whole)), -(-len(rows) // 4))
        tall = -(-len(rows) // blocks)
        x0, y0, x1, _ = self.box()
        left = (x0 + x1 - blocks * whole) / 2
        for block in range(0, len(rows), tall):
            x, y = left + block // tall * whole, y0 - 9.0
            for cells in (head, *rows[block : block + tall]):
                across = x
                for cell, width in zip(cells, wide, strict=True):
                    self.words(across + 2, y, cell, 2.0)
                    across += width
                if cells is head:
                    self.add(_line((x, y - 1.5), (across, y - 1.5), THIN))
                    y -= 0.8
                y -= pitch

    def _set_notes(self, texts: Sequence[str], room: float) -> None:
        size = font_size(2.0)
        x0, y, x1, _ = self.box()
        y -= 4.0
        rows = [row for text in texts for row in wrapped(text, size, room - 2, 6)]
        left = (x0 + x1) / 2 - max((text_width(row, size) for row in rows), default=0.0) / 2
        for row in rows:
            y -= 3.9
            self.add(Words(left, y, size, row))

    def title(self, box: Box, text: str) -> None:
        """Write a view's name over the middle of a box."""
        self.words((box[0] + box[2]) / 2, box[3] + 3.0, text, 3.0, "middle")

    # --- places for texts -------------------------------------------------------------------------

    def _near(self, box: Box) -> list[Mark]:
        return [mark for mark in self.marks if meet(self._box(mark), box)]

    def _free(self, words: Words, near: Iterable[Mark]) -> bool:
        """Whether a text stands clear of all marks; only those whose boxes meet it are asked."""
        box = box_of(words)
        return free(quad(words, 0.3), [mark for mark in near if meet(self._box(mark), box)])

    def _set_tag(self, tag: Tag) -> None:
        (x, y), wide = tag.at, text_width(tag.text, font_size(tag.height))
        near = self._near(_grown((x, y, x, y), tag.away + wide + 40))
        for words in tag_places(tag):
            if self._free(words, near):
                self.add(words)
                return
        if not tag.optional:
            edge = tag.away * 0.7071
            self._set_leader(
                Leader((x + edge, y + edge), tag.text, "arrow", (60, 45, 30, 75), tag.height)
            )

    def _set_leader(self, one: Leader) -> None:
        """Set a leader whose text is free: a short one, over few lines, its text on no part."""
        wide = text_width(one.text, font_size(SMALL))
        near = self._near(_grown((*one.tip, *one.tip), 125 + wide))
        texts = [mark for mark in near if isinstance(mark, Words)]
        best: tuple[float, tuple[Mark, ...]] | None = None
        first: tuple[Mark, ...] = ()
        for cost, marks in leader_places(one):
            if best and cost >= best[0]:
                break
            first = first or marks
            line, words = marks[0], marks[-1]
            assert isinstance(line, Path)
            assert isinstance(words, Words)
            if not self._free(words, near):
                continue
            about = box_of(line)  # what is far from the line is not asked whether they meet
            if not all(
                free(quad(each, 0.2), [line]) for each in texts if meet(self._box(each), about)
            ):
                continue
            crossed = [
                mark for mark in near if isinstance(mark, Window) or meet(self._box(mark), about)
            ]
            cost += OVER_A_LINE * runs_over(line, crossed, AT_TIP)
            cost += ON_A_PART * on_a_part(words, near)
            if best is None or cost < best[0]:
                best = cost, marks
        self.add(*(best[1] if best else first))

    def _box(self, mark: Mark) -> Box:
        found = self._boxes.get(id(mark))
        if found is None:
            # the mark is kept too: the number of one that is gone may be given to another
            found = self._boxes[id(mark)] = mark, box_of(mark)
        return found[1]


class View:
    """A part of a drawing: points of the thing, mm, to places of the page."""

    def __init__(self, draft: Draft, x: float, y: float) -> None:
        """Begin a view whose zero is at (x, y) of the page."""
        self.draft, self.x, self.y = draft, x, y
        self._next: dict[tuple[Side, float], float] = {}

    def at(self, point: Point) -> Point:
        """Return the place of a point on the page."""
        s = self.draft.scale
        return self.x + point[0] * s, self.y + point[1] * s

    def line(self, a: Point, b: Point, pen: Pen = VISIBLE) -> None:
        """Draw a straight line."""
        self.draft.add(_line(self.at(a), self.at(b), pen))

    def outline(
        self, points: Sequence[Point], pen: Pen | None = VISIBLE, fill: float | None = None
    ) -> None:
        """Draw a closed line of straight edges."""
        first, *rest = (self.at(point) for point in points)
        self.draft.add(Path(first, tuple((each,) for each in rest), pen, closed=True, fill=fill))

    def box(
        self, x0: float, y0: float, x1: float, y1: float, pen: Pen | None = VISIBLE,
        fill: float | None = None,
    ) -> None:  # fmt: skip
        """Draw an upright rectangle; none where it has no size."""
        if x1 > x0 and y1 > y0:
            self.outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), pen, fill)

    def ring(
        self, center: Point, diameter: float, pen: Pen | None = VISIBLE, fill: float | None = None
    ) -> None:
        """Draw a circle."""
        x, y = self.at(center)
        self.draft.add(Ring(x, y, diameter * self.draft.scale, pen, fill))

    def cross(self, center: Point, diameter: float, past: float = 2.5) -> None:
        """Draw the center lines of a circle."""
        half = diameter / 2 * self.draft.scale + past
        x, y = self.at(center)
        self.draft.add(_axis((x - half, y), (x + half, y)), _axis((x, y - half), (x, y + half)))

    def axis(self, a: Point, b: Point, past: float = 3.0) -> None:
        """Draw a center line past both points."""
        self.draft.add(center_line(self.at(a), self.at(b), past))

    def cut(
        self, x0: float, y0: float, x1: float, y1: float, angle_deg: float = 45.0,
        pitch: float = 2.0, pen: Pen = VISIBLE,
    ) -> None:  # fmt: skip
        """Draw a rectangle that is cut through: hatched, with a white ground."""
        if x1 <= x0 or y1 <= y0:
            return
        self.outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), None, WHITE)
        corners = [self.at(each) for each in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        self.draft.add(*hatching([corners], pitch, angle_deg, Pen(0.18)))
        self.box(x0, y0, x1, y1, pen)

    def dim(self, a: Point, b: Point, at: float, way: Way) -> None:
        """Note a dimension at a place of the page; its text is the length between the points."""
        dx, dy = abs(b[0] - a[0]), abs(b[1] - a[1])
        length = {"level": dx, "upright": dy, "aligned": hypot(dx, dy)}[way]
        self.draft.dim(self.at(a), self.at(b), length, at, way)

    def stacked(self, side: Side, edge: float, a: Point, b: Point) -> None:
        """Note a dimension on the next free line beside a view.

        Args:
            side: of the view.
            edge: where the view ends there, mm of the thing.
            a: one point.
            b: the other.
        """
        level = side in ("below", "above")
        if (abs(b[0] - a[0]) if level else abs(b[1] - a[1])) < LEAST:
            return
        out = self._next.get((side, edge), FIRST)
        self._next[side, edge] = out + STEP
        place = self.at((edge, edge))[1 if level else 0]
        place += -out if side in ("below", "left") else out
        self.dim(a, b, place, "level" if level else "upright")

    def fits(self, a: Point, b: Point) -> bool:
        """Whether a level dimension is long enough for its text to stand on it."""
        text = length_text(abs(b[0] - a[0]), self.draft.show)
        room = abs(b[0] - a[0]) * self.draft.scale - 2 * ARROW - 2
        return text_width(text, font_size(SMALL)) < room

    def skip(self, side: Side, edge: float, lines: float = 1.0) -> None:
        """Leave room between a view's edge and its next dimension there."""
        self._next[side, edge] = self._next.get((side, edge), FIRST) + lines * STEP

    def leader(
        self,
        tip: Point,
        text: str,
        toward: Sequence[float] = (45, 135, -45, -135),
        end: Literal["arrow", "dot", "none"] = "arrow",
    ) -> None:
        """Note a text with a line to a point."""
        self.draft.leader(self.at(tip), text, toward, end)

    def tag(
        self,
        point: Point,
        away: float,
        text: str,
        height: float = SMALL,
        within: float = 0.0,
        others: Sequence[Point] = (),
        optional: bool = False,
    ) -> None:
        """Note a text beside a point; all but ``height`` in mm of the thing."""
        s = self.draft.scale
        apart = tuple(self.at(each) for each in others)
        tag = Tag(self.at(point), away * s, text, height, within * s, apart, optional)
        self.draft.tag(tag)


def stations(values: Iterable[float], apart: float = LEAST) -> list[float]:
    """Return values in order, those left out that are another one once more."""
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] >= apart:
            found.append(value)
    return found


def box_of(mark: Mark) -> Box:
    """Return what a mark takes on the page."""
    if isinstance(mark, Window):
        return mark.x, mark.y, mark.x + mark.width, mark.y + mark.height
    if isinstance(mark, Ring):
        half = mark.diameter / 2
        return mark.x - half, mark.y - half, mark.x + half, mark.y + half
    if isinstance(mark, Words):
        points: Sequence[Point] = quad(mark)
    else:
        points = [mark.start, *(point for step in mark.steps for point in step)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _around(boxes: Sequence[Box]) -> Box:
    if not boxes:
        return 0.0, 0.0, 0.0, 0.0
    lows = [min(box[i] for box in boxes) for i in (0, 1)]
    highs = [max(box[i] for box in boxes) for i in (2, 3)]
    return lows[0], lows[1], highs[0], highs[1]


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def meet(one: Box, other: Box) -> bool:
    """Whether two boxes meet, or are no more than 1 mm apart."""
    return (
        one[0] <= other[2] + 1
        and other[0] <= one[2] + 1
        and one[1] <= other[3] + 1
        and other[1] <= one[3] + 1
    )


def _line(a: Point, b: Point, pen: Pen) -> Path:
    return Path(a, ((b,),), pen)


def _axis(a: Point, b: Point) -> Path:
    return center_line(a, b, 0.0)
