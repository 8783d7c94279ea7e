"""The boards' cut plan: each stick to scale with its boards, and the cuts in their order."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from ...geometry.plan.cutting import STEP, Flaw
from ...geometry.plan.cutting.saw_list import KEPT, SawCut
from ...params.units import length_text
from ..lists.saw import blade_text, cut_cells, stick_text
from ..paper.dims import HIDDEN, MIDDLE, SMALL, THIN, arrow, font_size, hatching
from ..paper.marks import Pen, Ring, Words, line
from ..paper.pdf import clean, text_width
from ..stock.laid import Row, rows_of
from ..stock.planned import Stock
from .draft import STEP as STEP_DOWN
from .draft import WHITE, Draft, View
from .frame import Drawing

A_SHEET = 3
"""Sticks on one sheet; with more the letters would not fit beside one another."""

FALLS_OFF = 0.8
"""Gray of the wood that falls off."""

BUBBLE = 6.0
"""Across the ring about a cut's number, mm."""

EDGE, TILT, NAME, NEXT = 2.5, 1.5, 8.5, 16.0
"""Above the face: to the edge, from there to the tilts, and to the stick's name; below it, from
its lower long edge to the next stick's name; mm."""

ACROSS = 0.8
"""Of a board's width: where the arrow of a run of grain lies."""


def board_plans(stock: Stock) -> list[Drawing]:
    """Return the plan on as many sheets as it takes."""
    count = len(stock.plan.cuts)
    sheets = -(-count // A_SHEET)
    each = -(-count // sheets)
    return [
        Drawing(
            "board-plan" if number == 1 else f"board-plan-{number}",
            "Cut plan of the boards" + (f", {number} of {sheets}" if sheets > 1 else ""),
            partial(board_plan, stock, range(start, min(start + each, count))),
        )
        for number, start in enumerate(range(0, count, each), 1)
    ]


def board_plan(stock: Stock, sticks: Sequence[int], draft: Draft, room: float) -> None:
    """Draw some sticks of a plan, seen from above, and list the cuts in them."""
    y = 0.0
    board = stock.asked.boards[0][1]
    tall = board.width * draft.scale + EDGE + board.thickness * draft.scale + NAME
    for number in sticks:
        below = _Stick(stock, number, draft.view(0.0, y)).draw()
        y -= tall + NEXT + below
    rows = [
        (
            str(cut.number),
            blade_text(cut),
            length_text(cut.stop, draft.show) if cut.stop is not None else "",
            *cut_cells(stock, cut),
        )
        for cut in stock.saw.cuts
        if cut.stick in sticks
    ]
    draft.table(("cut", "blade", "stop", "stick", "what", "mark", "leads"), rows, room)
    draft.notes(_texts(stock, sticks), room)


def _texts(stock: Stock, sticks: Sequence[int]) -> Iterator[str]:
    plan = [stock.plan.cuts[number] for number in sticks]
    if stock.asked.assumed:
        yield "The sticks' lengths are assumed: usual ones on sale."
    yield (
        "Outer face up, seen from above; over each stick its edge. Gray falls off. Dashed: where"
        " the inner face ends. Arrows on boards point to their top edges. Rings: the cuts in their"
        " order; marks are from the stick's left end."
    )
    if any(getattr(cut.stick, "flaws", ()) for cut in plan):
        yield "Hatched crosswise: flaws."
    if any(len(run) > 1 for number in sticks for run in runs(stock, rows_of(stock, number))):
        yield "The long arrow: the grain runs on from board to board, round the corners."
    yield (
        "Leads: the end of the stick that points to where the blade leans, away from the board,"
        " which alone lies between stop and blade. Guards on; the saw's manual and the cautions"
        " of the saw list come first."
    )


@dataclass(frozen=True, slots=True)
class _Stick:
    stock: Stock
    number: int
    view: View

    @property
    def scale(self) -> float:
        return self.view.draft.scale

    def draw(self) -> float:
        """Draw face and edge, boards and offcuts, flaws, cuts, dimensions.

        Returns:
            How much more room the dimensions take than one line, mm.
        """
        stock, view = self.stock, self.view
        rows = rows_of(stock, self.number)
        stick = stock.plan.cuts[self.number].stick
        long, board = stick.length * STEP, stock.asked.boards[0][1]
        wide, thick = board.width, board.thickness
        edge = self.edge
        view.box(0.0, 0.0, long, wide, THIN, FALLS_OFF)
        edge.box(0.0, 0.0, long, thick, THIN, FALLS_OFF)
        for low, high in stock.saw.offcuts[self.number]:
            view.box(low, 0.0, high, wide, THIN, WHITE)
            edge.box(low, 0.0, high, thick, THIN, WHITE)
        for row in rows:
            self._board(row)
        flaws: tuple[Flaw, ...] = getattr(stick, "flaws", ())
        for flaw in flaws:
            self._flaw(flaw, wide)
        for row in rows:
            self._cuts(row, flaws)
            self._name(row, flaws)
        for cut in stock.saw.cuts:
            if cut.stick == self.number and cut.kind == "apart":
                self._apart(cut, thick)
        for run in runs(stock, rows):
            self._run(run)
        x, y = edge.at((0.0, thick))
        view.draft.words(x, y + NAME, stick_text(stock, self.number))
        return self._lengths(rows)

    @property
    def edge(self) -> View:
        """The view of the stick's edge, over its face."""
        x, y = self.view.at((0.0, self.stock.asked.boards[0][1].width))
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
        corners = [self.view.at(each) for each in ((x0, low), (x1, low), (x1, high), (x0, high))]
        for angle in (45.0, 135.0):
            self.view.draft.add(*hatching([corners], 1.2, angle, Pen(0.18)))
        self.view.box(x0, low, x1, high, THIN)

    def _bubble(self, x: float, y: float, cut: SawCut) -> None:
        size = font_size(2.0)
        self.view.draft.add(
            Ring(x, y, BUBBLE, THIN, WHITE), Words(x, y - 1.0, size, str(cut.number), "middle")
        )

    def _beside(self, x: float, flaws: Sequence[Flaw], wide: float) -> float:
        """Return where across the stick a ring hides no flaw, if there is such a place, mm."""
        half = BUBBLE / 2
        heights = [self.view.at((0.0, wide * share))[1] for share in (0.5, 0.25, 0.75)]
        for y in heights:
            for flaw in flaws:
                x0, y0 = self.view.at((flaw.start * STEP, (flaw.low or 0) * STEP))
                high = wide if flaw.high is None else flaw.high * STEP
                x1, y1 = self.view.at((flaw.end * STEP, high))
                if x0 < x + half and x - half < x1 and y0 < y + half and y - half < y1:
                    break
            else:
                return y
        return heights[0]

    def _ends(self, row: Row) -> tuple[float, float]:
        """Return where the rings at a board's ends stand, mm across the page."""
        left, right = self._inside(row)
        x0, x1 = self.view.at((row.start + left, 0.0))[0], self.view.at((row.end - right, 0.0))[0]
        return x0 + 1.0 + BUBBLE / 2, x1 - 1.0 - BUBBLE / 2

    def _cuts(self, row: Row, flaws: Sequence[Flaw]) -> None:
        """Set the cuts' numbers at a board's ends, and how far the blade tilts over them."""
        board = self.stock.asked.boards[row.piece][1]
        top = self.edge.at((0.0, board.thickness))[1] + TILT
        for x, cut in zip(self._ends(row), row.cuts, strict=True):
            self._bubble(x, self._beside(x, flaws, board.width), cut)
        for at, cut, side in ((row.start, row.cuts[0], 1), (row.end, row.cuts[1], -1)):
            x = self.view.at((at, 0.0))[0] + side * (BUBBLE / 2 + 0.6)
            text = f"{cut.tilt_deg:.1f} deg" if cut.tilt_deg else "square"
            self.view.draft.words(x, top, text, 2.0, "start" if side > 0 else "end")

    def _apart(self, cut: SawCut, thick: float) -> None:
        x = self.edge.at((cut.at + cut.along / 2, 0.0))[0]
        y = self.edge.at((0.0, thick))[1]
        self.view.draft.add(line(x, self.view.at((0.0, 0.0))[1], x, y + 0.5, Pen(0.18)))
        self._bubble(x, y + 0.5 + BUBBLE / 2, cut)

    def _name(self, row: Row, flaws: Sequence[Flaw]) -> None:
        """Write a board's name where no flaw lies, with an arrow to its top edge."""
        board = self.stock.asked.boards[row.piece][1]
        wide = board.width
        begin, end = (
            x + side * BUBBLE / 2 for x, side in zip(self._ends(row), (1, -1), strict=True)
        )
        middle = self.view.at((0.0, wide / 2))[1]
        blocked = sorted(
            (self.view.at((flaw.start * STEP, 0.0))[0], self.view.at((flaw.end * STEP, 0.0))[0])
            for flaw in flaws
        )
        low, high = _widest(begin, end, blocked)
        up = -1.0 if row.turned else 1.0
        half = min(0.3 * wide * self.scale, 5.0)
        x = low + 2.5
        if high - low > 4.0:
            draft = self.view.draft
            draft.add(line(x, middle - up * half, x, middle + up * half, THIN))
            draft.add(arrow((x, middle + up * half), 90.0 * up))
        name = clean(self.stock.name(row.piece))
        for height in (SMALL, 2.0, 1.6):
            size = font_size(height)
            if text_width(name, size) < high - low - 6.0:
                self.view.draft.words((low + 4.0 + high) / 2, middle - height / 2, name, height,
                                      "middle")  # fmt: skip
                return
        tip = self.view.at(((row.start + row.end) / 2, wide * 0.1))
        self.view.draft.leader(tip, name, (-60, -120, -45, -135), "dot")

    def _run(self, run: Sequence[Row]) -> None:
        """Draw an arrow through boards round whose corners the grain runs on."""
        if len(run) < 2:
            return
        wide = self.stock.asked.boards[run[0].piece][1].width
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
