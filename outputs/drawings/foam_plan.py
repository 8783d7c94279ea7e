"""The foam plan: each sheet to scale with its panels, and the cuts in their order."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import product
from string import ascii_uppercase

from ...geometry.plan.sheets import STEP, Cut, Placed, Rect
from ...geometry.plan.sheets.panels import Piece
from ...geometry.shape.hole import Hole
from ...params.units import length_text
from ..foam_plan.planned import Foam, Laid, size_text
from ..foam_plan.words import SEAMED, heading, proof, seam_text
from ..paper.dims import HIDDEN, SMALL, THIN, VISIBLE, font_size
from ..paper.marks import Mark, Path, Pen, Point, Ring, Window, Words
from ..paper.overlap import Quad, free, quad
from ..paper.pdf import clean, text_width
from .draft import WHITE, Draft, View, box_of, meet, stations
from .frame import Drawing

REST = 0.92
"""Gray of what is left over: a text can be read on it."""

BUBBLE = 4.4
"""Across the ring about a cut's number, mm."""

MOST = 4
"""So many distances along a side of the sheet are shown one beyond the other; the table has all."""

HEIGHTS = (SMALL, 2.0, 1.6)
"""Of a name's capitals, mm: the first that fits."""

APART = 1.7
"""From one line of a name to the next, of its capitals' height."""

SEAM = Pen(1.0)
LATER = Pen(HIDDEN.width, (1.0, 0.5))
"""Edges that are cut later, in dashes short enough for small circles, mm."""

SLIDES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.06, 0.94)
"""Where along a line, or across a piece, something may stand: the first that is free."""


def foam_plans(foam: Foam) -> list[Drawing]:
    """Return a drawing for each sheet of foam."""
    sheets = list(foam.sheets())
    return [
        Drawing(
            "foam-plan" if laid.number == 1 else f"foam-plan-{laid.number}",
            "Cut plan of the foam"
            + (f", sheet {laid.number} of {len(sheets)}" if len(sheets) > 1 else ""),
            partial(foam_plan, foam, laid),
        )
        for laid in sheets
    ]


def foam_plan(foam: Foam, laid: Laid, draft: Draft, room: float) -> None:
    """Draw a sheet with its pieces, number the cuts, and list them."""
    drawn = _Sheet(foam, laid, draft.view(), [])
    drawn.draw()
    rows = [
        (
            str(each.number),
            each.of.replace(" piece of cut ", " of "),
            f"{each.cut.way}, {length_text(each.cut.at * STEP, draft.show)}",
            *each.gives,
        )
        for each in laid.cuts
    ]
    head = ("cut", "what", "how", "left or lower", "right or upper")
    draft.table(head, rows, room)
    told = [f"Not written in the piece: {'; '.join(drawn.told)}."] if drawn.told else []
    draft.notes([*told, *_texts(foam, laid)], room)


def _texts(foam: Foam, laid: Laid) -> Iterator[str]:
    usual = " The usual sheet, assumed: enter yours, [foam.sheet]." if laid.lot.usual else ""
    yield f"{heading(foam, laid.lot)}.{usual}"
    here = [laid.piece(placed) for placed in laid.plan.parts]
    said = (
        "As seen from outside. Gray is left over. Rings: the cuts in their order, each from edge to"
        " edge of its piece: along, so far from its lower edge; across, from its left edge. 'Upper"
        " of 3' is the upper piece of cut 3."
    )
    if any(True for piece in here for _ in piece.holes()):
        said += " Dashed: pockets and openings, cut last, by template or drawing of the panel."
    yield said
    if any(placed.turned for placed in laid.plan.parts):
        yield "A panel whose name reads from the right stands on its left end."
    seams = [
        seam
        for seam in laid.lot.seams
        if any((p.collar, p.panel.side) == (seam.collar, seam.side) for p in here)
    ]
    if seams:
        told = " ".join(seam_text(foam, seam) for seam in seams)
        yield f"Heavy ends: seams. Pieces count from the left, rows from below. {SEAMED} {told}"
    late = [each.name for each in foam.openings(laid.lot) if each.later and each.piece in here]
    if late:
        names = ", ".join(dict.fromkeys(late))
        yield f"Not drawn, as they run over a seam, and cut when the pieces are joined: {names}."
    if laid.plan is laid.lot.plan.sheets[0]:
        yield " ".join(proof(foam, laid.lot))


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet on its view; ``told`` are sentences for what found no room in its piece."""

    foam: Foam
    laid: Laid
    view: View
    told: list[str]

    def draw(self) -> None:
        """Draw the sheet, what is left over, pieces, cuts and names, and note its dimensions."""
        view, laid = self.view, self.laid
        sheet = laid.lot.job.sheet
        long, wide = sheet.length * STEP, sheet.width * STEP
        for rect in laid.plan.left:
            self._shade(rect)
        for placed in laid.plan.parts:
            self._holes(placed)
        view.box(0.0, 0.0, long, wide, VISIBLE)
        for each in laid.cuts:
            a, b = _line(each.cut)
            view.line(a, b, VISIBLE)
        for placed in laid.plan.parts:
            self._seams(placed)
        for each in laid.cuts:
            self._bubble(each.cut, each.number)
        self._names()
        for rect in laid.plan.left:
            self._rest(rect)
        self._dims(long, wide)

    def _shade(self, rect: Rect) -> None:
        """Fill what is left over; its edges are cuts, or the sheet's own."""
        x, y = rect.x * STEP, rect.y * STEP
        self.view.box(x, y, x + rect.length * STEP, y + rect.width * STEP, None, REST)

    def _holes(self, placed: Placed) -> None:
        """Draw what is cut out of a piece later, dashed, as far as it lies in the piece."""
        piece = self.laid.piece(placed)
        long, wide = piece.length * STEP, piece.width * STEP
        for hole, whole in piece.holes():
            if not whole:
                continue
            if hole.diameter is not None:
                x, y = self.view.at(_at(placed, piece, (hole.u, hole.v)))
                ring = Ring(x, y, hole.diameter * self.view.draft.scale, LATER)
                self.view.draft.add(
                    ring if _within(hole, long, wide) else self._window(placed, ring)
                )
                continue
            low = max(0.0, hole.u - hole.half_length), max(0.0, hole.v - hole.half_height)
            high = min(long, hole.u + hole.half_length), min(wide, hole.v + hole.half_height)
            (x0, y0), (x1, y1) = _at(placed, piece, low), _at(placed, piece, high)
            self.view.box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1), LATER)

    def _window(self, placed: Placed, ring: Ring) -> Window:
        """Return what lies in its piece of a hole that runs over the panel's edge."""
        rect, scale = placed.rect, self.view.draft.scale * STEP
        x, y = self.view.at((rect.x * STEP, rect.y * STEP))
        return Window(x, y, rect.length * scale, rect.width * scale, (ring,))

    def _seams(self, placed: Placed) -> None:
        """Draw the ends that are butted against another piece as heavy lines."""
        piece = self.laid.piece(placed)
        long, wide = piece.length * STEP, piece.width * STEP
        ends = (
            (piece.column > 1, (0.0, 0.0), (0.0, wide)),
            (piece.column < piece.columns, (long, 0.0), (long, wide)),
            (piece.row > 1, (0.0, 0.0), (long, 0.0)),
            (piece.row < piece.rows, (0.0, wide), (long, wide)),
        )
        for seam, a, b in ends:
            if seam:
                self.view.line(_at(placed, piece, a), _at(placed, piece, b), SEAM)

    # --- what is written --------------------------------------------------------------------------

    def _bubble(self, cut: Cut, number: int) -> None:
        """Set a cut's number on its line, clear of other rings, lines that cross, and pockets."""
        (ax, ay), (bx, by) = (self.view.at(point) for point in _line(cut))
        half = BUBBLE / 2
        draft = self.view.draft
        places = [(ax + (bx - ax) * k, ay + (by - ay) * k) for k in SLIDES]

        others = [mark for mark in draft.marks if not _along(mark, (ax, ay), (bx, by))]
        best = next((at for at in places if free(_square(at, half + 0.3), others)), None)
        if best is None:
            rings = [mark for mark in draft.marks if isinstance(mark, Ring | Words)]
            best = next((at for at in places if free(_square(at, half), rings)), places[0])
        x, y = best
        size = font_size(1.8)
        draft.add(Ring(x, y, BUBBLE, THIN, WHITE), Words(x, y - 0.9, size, str(number), "middle"))

    def _names(self) -> None:
        """Write each piece's name and size in it, all in letters of one height if they can be."""
        parts = self.laid.plan.parts
        largest = [
            next((each for each in HEIGHTS if self._named(placed, (each,))), None)
            for placed in parts
        ]
        least = min((each for each in largest if each), default=HEIGHTS[-1])
        heights = [each for each in HEIGHTS if each <= least]
        for placed in parts:
            words = self._named(placed, heights)
            self.view.draft.add(*words)
            if not words:
                self._short(placed, heights)

    def _named(self, placed: Placed, heights: Sequence[float]) -> list[Words]:
        """Return a piece's name and size in it; upright where it stands on its left end."""
        name, size = self._says(placed)
        long, wide = size.split(" x ")
        choices = (f"{name}, {size}",), (name, size), (name, f"{long} x", wide)
        for height in heights:
            if words := self._inside(placed.rect, choices, _turns(placed), (height,)):
                return words
        return []

    def _short(self, placed: Placed, heights: Sequence[float]) -> None:
        """Write a piece's name in it, or a letter, and tell the rest under the drawing."""
        name, size = self._says(placed)
        words = self._inside(placed.rect, ((name,),), _turns(placed), heights)
        if words:
            self.told.append(f"{name} is {size}")
        else:
            letter = ascii_uppercase[len(self.told) % len(ascii_uppercase)]
            self.told.append(f"{letter} is {name}, {size}")
            words = self._inside(placed.rect, ((letter,),), _turns(placed), heights)
            if not words:
                self.view.leader(self._tip(placed.rect), letter, (75, 105, 60, 120), "dot")
        self.view.draft.add(*words)

    def _says(self, placed: Placed) -> tuple[str, str]:
        piece = self.laid.piece(placed)
        return clean(self.foam.name(piece)), size_text(piece.length, piece.width, self.foam.show)

    def _tip(self, rect: Rect) -> Point:
        """Return a place in a piece that no number stands on."""
        rings = [mark for mark in self.view.draft.marks if isinstance(mark, Ring | Words)]
        places = [
            ((rect.x + rect.length * k) * STEP, (rect.y + rect.width / 2) * STEP) for k in SLIDES
        ]
        return next((at for at in places if free(_square(self.view.at(at), 0.5), rings)), places[0])

    def _rest(self, rect: Rect) -> None:
        size = size_text(rect.length, rect.width, self.foam.show)
        turns = (90, 0) if rect.width > rect.length else (0, 90)
        choices = (f"left over {size}",), ("left over", size), (size,)
        self.view.draft.add(*self._inside(rect, choices, turns, HEIGHTS))

    def _inside(
        self,
        rect: Rect,
        choices: Sequence[Sequence[str]],
        turns: Sequence[int],
        heights: Sequence[float],
    ) -> list[Words]:
        """Return the first lines that find room within a rectangle, clear of all; none if none."""
        x0, y0 = self.view.at((rect.x * STEP, rect.y * STEP))
        x1, y1 = self.view.at(((rect.x + rect.length) * STEP, (rect.y + rect.width) * STEP))
        boxes = [(mark, box_of(mark)) for mark in self.view.draft.marks if not _fills(mark)]
        boxes = [each for each in boxes if meet(each[1], (x0, y0, x1, y1))]

        def clear(words: Words) -> bool:
            about = box_of(words)
            return free(quad(words), [mark for mark, box in boxes if meet(box, about)])

        for turn, lines, height in product(turns, choices, heights):
            along = max(text_width(each, font_size(height)) for each in lines) / 2 + 0.8
            up = (height + (len(lines) - 1) * APART * height) / 2 + 0.9
            wide, high = (along, up) if turn == 0 else (up, along)
            if 2 * wide > x1 - x0 or 2 * high > y1 - y0:
                continue
            for over, under in product(SLIDES, SLIDES):
                at = (
                    x0 + wide + (x1 - x0 - 2 * wide) * under,
                    (y0 + high + (y1 - y0 - 2 * high) * over),
                )
                words = _lines(lines, at, height, turn)
                if all(map(clear, words)):
                    return words
        return []

    def _dims(self, long: float, wide: float) -> None:
        """Note the places of all cuts from the sheet's left and lower edge, and its size."""
        cuts = [each.cut for each in self.laid.cuts]
        across = stations(_line(cut)[0][0] for cut in cuts if cut.way == "across")
        along = stations(_line(cut)[0][1] for cut in cuts if cut.way == "along")
        for x in (*(across if len(across) <= MOST else ()), long):
            self.view.stacked("below", 0.0, (0.0, 0.0), (x, 0.0))
        for y in (*(along if len(along) <= MOST else ()), wide):
            self.view.stacked("left", 0.0, (0.0, 0.0), (0.0, y))


def _turns(placed: Placed) -> tuple[int]:
    return (90,) if placed.turned else (0,)


def _square(at: Point, half: float) -> Quad:
    x, y = at
    return (
        (x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)
    )  # fmt: skip


def _lines(lines: Sequence[str], at: Point, height: float, turn: int) -> list[Words]:
    """Return lines of text about a place, one below the other, or beside it where turned."""
    found: list[Words] = []
    for k, text in enumerate(lines):
        down = height / 2 + (k - (len(lines) - 1) / 2) * APART * height
        x, y = (at[0], at[1] - down) if turn == 0 else (at[0] + down, at[1])
        found.append(Words(x, y, font_size(height), text, "middle", turn))
    return found


def _line(cut: Cut) -> tuple[Point, Point]:
    """Return where a cut runs on the sheet, mm."""
    rect = cut.after[1]
    x, y = rect.x * STEP, rect.y * STEP
    return (x, y), ((x, y + rect.width * STEP) if cut.way == "across" else
                    (x + rect.length * STEP, y))  # fmt: skip


def _at(placed: Placed, piece: Piece, point: Point) -> Point:
    """Return the place on the sheet of a point of a piece, mm; turned is counterclockwise."""
    x, y = placed.rect.x * STEP, placed.rect.y * STEP
    u, v = point
    return (x + piece.width * STEP - v, y + u) if placed.turned else (x + u, y + v)


def _within(hole: Hole, long: float, wide: float) -> bool:
    reach = hole.half_length
    return reach <= min(hole.u, hole.v, long - hole.u, wide - hole.v)


def _fills(mark: Mark) -> bool:
    return isinstance(mark, Path) and mark.pen is None


def _along(mark: Mark, a: Point, b: Point) -> bool:
    """Tell whether a mark is the outline of something that the line from a to b borders."""
    if not isinstance(mark, Path):
        return False
    points = [mark.start, *(step[-1] for step in mark.steps)]
    k = 0 if abs(a[0] - b[0]) < 1e-6 else 1
    return sum(abs(point[k] - a[k]) < 1e-3 for point in points) >= 2
