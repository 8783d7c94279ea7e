"""One stick of the cut plan: its face and its edge, the boards in it and the cuts at their ends."""

from collections.abc import Sequence
from dataclasses import dataclass

from ...geometry.plan.cutting import STEP, Flaw
from ...geometry.plan.cutting.saw_list import KEPT, SawCut
from ...geometry.shape.frame import Board
from ..lists.saw import stick_text
from ..paper.dims import HIDDEN, MIDDLE, SMALL, THIN, arrow, font_size
from ..paper.marks import Pen, Point, Ring, Words, line
from ..paper.pdf import clean, text_width
from ..stock.laid import Row, rows_of
from ..stock.planned import Stock
from .draft import STEP as STEP_DOWN
from .draft import WHITE, View

FALLS_OFF, FLAWED = 0.8, 0.55
"""Grays of the wood that falls off, and of a flaw."""

BUBBLE = 6.0
"""Across the ring about a cut's number, mm."""

EDGE, TILT, NAME, NEXT = 2.5, 1.5, 8.5, 16.0
"""Above the face: to the edge, from there to the tilts, and to the stick's name; below it, from
its lower long edge to the next stick's name; mm."""

ARROW_ROOM = 5.0
"""What the arrow to a board's top edge takes along the stick, mm."""

ACROSS = 0.9
"""Of a board's width: where the arrow of a run of grain lies."""


UNDER = 4.5
"""From a dimension line down to a name that has no room on its board, mm."""


@dataclass(frozen=True, slots=True)
class Stick:
    """A stick of the plan, drawn from where a view has its zero: its lower left corner."""

    stock: Stock
    number: int
    view: View

    @property
    def board(self) -> Board:
        """Any of its boards: all have one section."""
        return self.stock.asked.boards[0][1]

    @property
    def scale(self) -> float:
        """How many mm of the page a mm is."""
        return self.view.draft.scale

    def draw(self) -> float:
        """Draw face and edge, boards and offcuts, flaws, cuts, dimensions.

        Returns:
            How much more room the dimensions take than one line, mm.
        """
        stock, view = self.stock, self.view
        rows = rows_of(stock, self.number)
        cut_up = stock.plan.cuts[self.number]
        stick, owned = cut_up.stick, cut_up.owned
        long, wide, thick = stick.length * STEP, self.board.width, self.board.thickness
        edge = self.edge
        view.box(0.0, 0.0, long, wide, THIN, FALLS_OFF)
        edge.box(0.0, 0.0, long, thick, THIN, FALLS_OFF)
        for low, high in stock.saw.offcuts[self.number]:
            view.box(low, 0.0, high, wide, THIN, WHITE)
            edge.box(low, 0.0, high, thick, THIN, WHITE)
        for row in rows:
            self._board(row)
        flaws = () if owned is None else stock.asked.told[owned]
        for flaw in flaws:
            self._flaw(flaw, wide)
        for row in rows:
            self._cuts(row, flaws)
            self._name(row, flaws)
        for cut in stock.saw.cuts:
            if cut.stick == self.number and cut.kind == "apart":
                self._apart(cut)
        for run in runs(stock, rows):
            self._run(run)
        x, y = edge.at((0.0, thick))
        view.draft.words(x, y + NAME, stick_text(stock, self.number))
        return self._lengths(rows)

    @property
    def edge(self) -> View:
        """The view of the stick's edge, over its face."""
        x, y = self.view.at((0.0, self.board.width))
        return self.view.draft.view(x, y + EDGE)

    def _board(self, row: Row) -> None:
        """Draw a board's face and its edge: the outer face is up."""
        board = self.stock.asked.boards[row.piece][1]
        wide, thick = board.width, board.thickness
        left, right = self._inside(row)
        self.view.box(row.start, 0.0, row.end, wide, MIDDLE, WHITE)
        for x, back in ((row.start + left, left), (row.end - right, right)):
            if back:
                self.view.line((x, 0.0), (x, wide), HIDDEN)
        self.edge.outline(
            ((row.start, thick), (row.end, thick), (row.end - right, 0.0), (row.start + left, 0.0)),
            MIDDLE, WHITE,
        )  # fmt: skip

    def _inside(self, row: Row) -> tuple[float, float]:
        """Return how far the inner face ends short of the outer one at each end as it lies."""
        board = self.stock.asked.boards[row.piece][1]
        both = board.inner_left, board.inner_right
        return (both[1], both[0]) if row.turned else both

    def _flaw(self, flaw: Flaw, wide: float) -> None:
        low = 0.0 if flaw.low is None else max(0.0, flaw.low * STEP)
        high = wide if flaw.high is None else min(wide, flaw.high * STEP)
        x0, x1 = flaw.start * STEP, flaw.end * STEP
        if x1 <= x0 or high <= low:
            return
        self.view.box(x0, low, x1, high, THIN, FLAWED)
        self.view.line((x0, low), (x1, high), THIN)
        self.view.line((x0, high), (x1, low), THIN)

    def _bubble(self, x: float, y: float, cut: SawCut) -> None:
        size = font_size(2.0)
        self.view.draft.add(
            Ring(x, y, BUBBLE, THIN, WHITE), Words(x, y - 1.0, size, str(cut.number), "middle")
        )

    def _rings(self, row: Row, flaws: Sequence[Flaw]) -> tuple[Point, Point]:
        """Return where the rings at a board's ends stand on the page; none hides a flaw, mm."""
        left, right = self._inside(row)
        found: list[Point] = []
        for x, way in ((row.start + left, 1), (row.end - right, -1)):
            at = self.view.at((x, 0.0))[0] + way * (1.0 + BUBBLE / 2)
            places = [
                (at + way * more, self.view.at((0.0, self.board.width * share))[1])
                for more in (0.0, BUBBLE + 1.0, 2 * BUBBLE + 2.0)
                for share in (0.5, 0.25, 0.75)
            ]
            clear = (each for each in places if not any(self._meets(each, f) for f in flaws))
            found.append(next(clear, places[0]))
        return found[0], found[1]

    def _meets(self, ring: Point, flaw: Flaw) -> bool:
        x0, y0 = self.view.at((flaw.start * STEP, (flaw.low or 0) * STEP))
        high = self.board.width if flaw.high is None else flaw.high * STEP
        x1, y1 = self.view.at((flaw.end * STEP, high))
        (x, y), half = ring, BUBBLE / 2
        return x0 < x + half and x - half < x1 and y0 < y + half and y - half < y1

    def _cuts(self, row: Row, flaws: Sequence[Flaw]) -> None:
        """Set the cuts' numbers at a board's ends, and how far the blade tilts over them."""
        top = self.edge.at((0.0, self.board.thickness))[1] + TILT
        for ring, cut in zip(self._rings(row, flaws), row.cuts, strict=True):
            self._bubble(*ring, cut)
        one, two = (f"{cut.tilt_deg:.1f} deg" if cut.tilt_deg else "square" for cut in row.cuts)
        x0, x1 = (self.view.at((at, 0.0))[0] for at in (row.start, row.end))
        x0, x1 = x0 + BUBBLE / 2 + 0.6, x1 - BUBBLE / 2 - 0.6
        both = text_width(one, font_size(2.0)) + text_width(two, font_size(2.0)) + 1.0
        if one == two and both > x1 - x0:  # there is room for one, and it is said of both ends
            self.view.draft.words((x0 + x1) / 2, top, one, 2.0, "middle")
            return
        self.view.draft.words(x0, top, one, 2.0, "start")
        self.view.draft.words(x1, top, two, 2.0, "end")

    def _apart(self, cut: SawCut) -> None:
        x = self.edge.at((cut.at + cut.along / 2, 0.0))[0]
        y = self.edge.at((0.0, self.board.thickness))[1]
        self.view.draft.add(line(x, self.view.at((0.0, 0.0))[1], x, y + 0.5, Pen(0.18)))
        self._bubble(x, y + 0.5 + BUBBLE / 2, cut)

    def _name(self, row: Row, flaws: Sequence[Flaw]) -> None:
        """Write a board's name where no flaw lies, and draw an arrow to its top edge."""
        draft, wide = self.view.draft, self.board.width
        (begin, _), (end, _) = self._rings(row, flaws)
        begin, end = begin + BUBBLE / 2, end - BUBBLE / 2
        low, high = _widest(begin, end, self._across(flaws, 0.0, wide))
        middle, half = self.view.at((0.0, wide / 2))[1], min(0.3 * wide * self.scale, 5.0)
        if high - low > ARROW_ROOM:
            up = -half if row.turned else half
            x = low + ARROW_ROOM / 2
            draft.add(line(x, middle - up, x, middle + up, THIN))
            draft.add(arrow((x, middle + up), -90.0 if row.turned else 90.0))
            begin = x + 1.0 if low == begin else begin
        name = clean(self.stock.name(row.piece))
        for height in (SMALL, 2.0, 1.6):
            for share in (0.5, 0.2, 0.8):
                y = wide * share
                reach = (height / 2 + 0.8) / self.scale
                blocked = self._across(flaws, y - reach, y + reach)
                if low > begin:  # the arrow stands elsewhere
                    blocked.append((low, low + ARROW_ROOM))
                start, stop = _widest(begin, end, sorted(blocked))
                if text_width(name, font_size(height)) < stop - start - 2.0:
                    at = self.view.at((0.0, y))[1] - height / 2
                    draft.words((start + stop) / 2, at, name, height, "middle")
                    return
        x, y = self.view.at(((row.start + row.end) / 2, 0.0))  # under the board's own dimension
        short = not self.view.fits((row.start, 0.0), (row.end, 0.0))
        draft.words(x, y - 7.0 - STEP_DOWN * short - UNDER, name, 2.0, "middle")

    def _across(self, flaws: Sequence[Flaw], low: float, high: float) -> list[tuple[float, float]]:
        """Return from where to where flaws lie on the page that reach into a band, mm."""
        return sorted(
            (self.view.at((flaw.start * STEP, 0.0))[0], self.view.at((flaw.end * STEP, 0.0))[0])
            for flaw in flaws
            if flaw.low is None or flaw.high is None
            or (flaw.low * STEP < high and low < flaw.high * STEP)
        )  # fmt: skip

    def _run(self, run: Sequence[Row]) -> None:
        """Draw an arrow through boards round whose corners the grain runs on."""
        if len(run) < 2:
            return
        wide = self.board.width
        a = self.view.at((run[0].start + self._inside(run[0])[0], wide * ACROSS))
        b = self.view.at((run[-1].end - self._inside(run[-1])[1], wide * ACROSS))
        self.view.draft.add(line(a[0] + 1.0, a[1], b[0] - 1.0, b[1], THIN))
        self.view.draft.add(arrow((b[0] - 1.0, b[1]), 0.0))

    def _lengths(self, rows: Sequence[Row]) -> float:
        """Note the boards' long points and the offcuts' lengths; short ones on a second line."""
        at = self.view.at((0.0, 0.0))[1] - 7.0
        below = 0.0
        spans = [(row.start, row.end) for row in rows] + list(self.stock.saw.offcuts[self.number])
        for low, high in sorted(spans):
            short = not self.view.fits((low, 0.0), (high, 0.0))
            self.view.dim((low, 0.0), (high, 0.0), at - STEP_DOWN * short, "level")
            below = max(below, STEP_DOWN * short)
        return below


def runs(stock: Stock, rows: Sequence[Row]) -> list[list[Row]]:
    """Return boards in stretches in which the grain runs on, none where it is not matched."""
    pieces = stock.asked.job.pieces
    found: list[list[Row]] = []
    for row in rows if stock.asked.job.matched else ():
        before = found[-1][-1] if found else None
        if before is not None and before.turned == row.turned:
            one, two = (row, before) if row.turned else (before, row)
            if pieces[one.piece].followed_by(pieces[two.piece]) and row.start - before.end < KEPT:
                found[-1].append(row)
                continue
        found.append([row])
    return found


def _widest(
    begin: float, end: float, blocked: Sequence[tuple[float, float]]
) -> tuple[float, float]:
    """Return the widest stretch between two places that nothing blocks."""
    at, best = begin, (begin, begin)
    for low, high in [*blocked, (end, end)]:
        if min(low, end) - at > best[1] - best[0]:
            best = at, min(low, end)
        at = max(at, high)
    return best
