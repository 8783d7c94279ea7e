"""The pages of the measuring sheet: cautions, pictures, readings, and what stays open."""

from collections.abc import Callable, Mapping, Sequence

from ...params.units import Show
from ..paper.dims import CAPITAL, THIN
from ..paper.marks import Mark, Page, Pen, Words, line, rectangle
from ..paper.pdf import text_width
from ..paper.sizes import Paper
from .about import PARTS_HEIGHT, ROOM_SIZE, parts_picture, room_picture
from .callout import SIZE, Picture
from .inside import HEIGHT as WELL_HEIGHT
from .inside import well_picture
from .lid import HEIGHT as LID_HEIGHT
from .lid import lid_picture
from .readings import Part, Reading, numbers, parts, still_open
from .rim import HEIGHT as LIP_HEIGHT
from .rim import lip_picture
from .rows import FRAME, GAP, TICK, broken, row

MARGIN = 10.5
"""Clear edge, mm; printers reach to 4.2 or 6.4 mm (common practice)."""

WIDTH = 186.0
"""What is used of a page's width, mm: A4's less its margins; Letter is a little wider."""

COLUMNS, NARROW, BETWEEN = 2, 3, 6.0
"""Readings stand in two columns, in three where they need no picture; so far apart, mm."""

TITLE = 9.0
"""What the name of a part takes, mm."""

FOOT = 5.0
INWARD, CLOSE = 3.0, 3.35
"""Of the list of what stays open: how far its lines are set in, and from line to line, mm."""
NAMES_LOW = 6.0
"""What the names below a picture take, mm."""

CAUTIONS = (
    "Unplug the freezer before you reach into it, and let it get dry and warm.",
    "Never drill, screw or cut into its walls, floor or lip: lines with refrigerant run in them,"
    " and many refrigerants burn.",
    "Two people take the lid off. It is heavy, and its hinges may be sprung: a spring that is let"
    " go throws the hinge up. Leave the screws in until a second person holds the lid.",
    "Keep children away while the lid is open or off: a child that climbs in may not get out.",
    "This list is not complete. What the freezer's own booklet says goes before it.",
)
"""Before anybody touches the freezer (common practice, no source)."""

HOW = (
    "Measure to the nearest 1/16 in, or 1 mm. A number in a ring is found in the picture, where"
    " what is small is drawn large. Names are those of the build file; collarwright new FILE asks"
    " for all but flange and nut. Only what says \u201cNeeded\u201d is needed to cut the collar;"
    " the last page says what stays open otherwise."
)

TELL, TELL_PITCH = 3.3, 3.9
"""Font size of what is told in full sentences, and from line to line, mm."""


def pages(paper: Paper, show: Show) -> list[Page]:
    """Lay out the sheet."""
    known = numbers()
    lip, lid, inside, room, hand, also = parts(show)
    flow = _Flow(paper, show)
    flow.head()
    flow.cautions()
    flow.section(lip, lip_picture, LIP_HEIGHT, known)
    flow.section(lid, lid_picture, LID_HEIGHT, known)
    flow.section(inside, well_picture, WELL_HEIGHT, known)
    flow.beside(room, room_picture, ROOM_SIZE, known)
    flow.section(hand, parts_picture, PARTS_HEIGHT, known)
    flow.plain(also, known)
    flow.left_open(known)
    return flow.done()


class _Flow:
    """Fills pages from the top; what does not fit goes to the next one."""

    def __init__(self, paper: Paper, show: Show) -> None:
        self.paper, self.show = paper, show
        self.left = (paper.width - WIDTH) / 2
        self.filled: list[list[Mark]] = [[]]
        self.top = paper.height - MARGIN

    @property
    def room(self) -> float:
        return self.top - MARGIN - FOOT

    def turn(self) -> None:
        self.filled.append([])
        self.top = self.paper.height - MARGIN

    def put(self, *marks: Mark) -> None:
        self.filled[-1] += marks

    def text(self, x: float, size: float, text: str) -> None:
        """Write one line at the top of what is left."""
        self.top -= size * CAPITAL
        self.put(Words(x, self.top, size, text))

    def head(self) -> None:
        self.text(self.left, 6.0, "What to measure at the freezer")
        self.top -= 7.5
        y, size = self.top, 3.2
        at = self.left
        for word, room in (("freezer", 58.0), ("measured by", 40.0), ("date", 24.0)):
            self.put(Words(at, y, size, word))
            at += text_width(word, size) + 1.5
            self.put(line(at, y - 0.6, at + room - 4, y - 0.6, THIN))
            at += room - 1
        self.top -= 6.0
        at = self.left
        self.put(Words(at, self.top, size, "readings are in"))
        at += text_width("readings are in", size) + 3
        for unit, word in (("in", "inches"), ("mm", "millimeters")):
            self.put(rectangle(at, self.top - 0.5, TICK, TICK, FRAME))
            if unit == self.show:
                self.put(line(at + 0.6, self.top + 0.1, at + TICK - 0.6, self.top + TICK - 1.1))
                self.put(line(at + 0.6, self.top + TICK - 1.1, at + TICK - 0.6, self.top + 0.1))
            self.put(Words(at + TICK + 1.2, self.top, size, word))
            at += TICK + 1.2 + text_width(word, size) + 5
        self.put(Words(at, self.top, SIZE, "Write the unit beside any reading that is in another."))
        self.top -= 4.0

    def cautions(self) -> None:
        said = [broken(each, [WIDTH - 12], TELL) for each in CAUTIONS]
        high = 8.6 + sum(len(lines) for lines in said) * TELL_PITCH
        self.put(rectangle(self.left, self.top - high, WIDTH, high, Pen(0.7)))
        y = self.top - 5.4
        self.put(Words(self.left + 4, y, 4.0, "Before you touch the freezer"))
        y -= 1.0
        for lines in said:
            for i, text in enumerate(lines):
                y -= TELL_PITCH
                if not i:
                    self.put(Words(self.left + 4, y, TELL, "\u2022"))
                self.put(Words(self.left + 7, y, TELL, text))
        self.top -= high + 1.0
        for text in broken(HOW, [WIDTH], TELL):
            self.top -= TELL_PITCH
            self.put(Words(self.left, self.top, TELL, text))
        self.top -= 2.4

    def section(
        self,
        part: Part,
        draw: Callable[[Mapping[str, int]], Picture],
        high: float,
        known: Mapping[str, int],
    ) -> None:
        """Put a picture over the width of the page, and its readings below it."""
        rows = _height(part.readings, COLUMNS)
        self._begin(part, high + NAMES_LOW + 2.0 + rows - GAP)
        self.top -= high
        self.put(*draw(known).marks(self.left, self.top))
        self.top -= NAMES_LOW + 2.0
        self._rows(part.readings, known, COLUMNS)
        self.top -= rows + 1.0

    def beside(
        self,
        part: Part,
        draw: Callable[[Mapping[str, int]], Picture],
        size: tuple[float, float],
        known: Mapping[str, int],
    ) -> None:
        """Put a picture at the left, and its readings in one column at its right."""
        wide, high = size
        column = WIDTH - wide - BETWEEN
        rows = sum(row(each, 0, 0, 0, column)[1] for each in part.readings)
        taken = max(high + NAMES_LOW, rows)
        self._begin(part, taken - GAP)
        self.put(*draw(known).marks(self.left, self.top - high))
        y = self.top
        for each in part.readings:
            marks, used = row(each, known[each.key], self.left + wide + BETWEEN, y, column)
            self.put(*marks)
            y -= used
        self.top -= taken + 1.0

    def plain(self, part: Part, known: Mapping[str, int]) -> None:
        """Put readings without a picture side by side."""
        rows = _height(part.readings, NARROW)
        self._begin(part, rows - GAP)
        self._rows(part.readings, known, NARROW)
        self.top -= rows + 1.0

    def _begin(self, part: Part, high: float) -> None:
        if TITLE + high > self.room:
            self.turn()
        self._title(part.name, part.note)

    def _rows(self, readings: Sequence[Reading], known: Mapping[str, int], count: int) -> None:
        width = _column(count)
        for i, column in enumerate(balanced(readings, count)):
            y, x = self.top, self.left + i * (width + BETWEEN)
            for reading in column:
                marks, taken = row(reading, known[reading.key], x, y, width)
                self.put(*marks)
                y -= taken

    def _title(self, name: str, note: str) -> None:
        self.top -= 4.5
        self.put(Words(self.left, self.top, 4.5, name))
        at = self.left + text_width(name, 4.5) + 4
        self.put(Words(at, self.top, SIZE, note))
        self.top -= 1.8
        self.put(line(self.left, self.top, self.left + WIDTH, self.top, Pen(0.5)))
        self.top -= 2.7

    def left_open(self, known: Mapping[str, int]) -> None:
        """Say which checks stay open without which readings."""
        entries: list[list[str]] = []
        for each in still_open():
            figures = ", ".join(str(known[key]) for key in each.keys)
            entries.append(
                broken(
                    f"{figures}: {each.asks} ({each.check})",
                    [_column(COLUMNS), _column(COLUMNS) - INWARD],
                )
            )
        total = sum(map(len, entries))
        heights = [total]
        first: list[list[str]] = []
        while entries and 2 * sum(map(len, first)) < total:
            first.append(entries.pop(0))
        heights = [sum(map(len, first)), sum(map(len, entries))]
        if TITLE + max(heights) * CLOSE > self.room:
            self.turn()
        self._title("What stays open", "Without any one of these readings, this check is not made:")
        for i, column in enumerate((first, entries)):
            y, x = self.top + 1.0, self.left + i * (_column(COLUMNS) + BETWEEN)
            for lines in column:
                for k, text in enumerate(lines):
                    y -= CLOSE
                    self.put(Words(x + (INWARD if k else 0.0), y, SIZE, text))
        self.top -= max(heights) * CLOSE

    def done(self) -> list[Page]:
        count = len(self.filled)
        found: list[Page] = []
        for i, marks in enumerate(self.filled, 1):
            right = self.left + WIDTH
            foot = (
                Words(
                    self.left, MARGIN, SIZE, "collarwright: measuring sheet; pictures not to scale"
                ),
                Words(right, MARGIN, SIZE, f"page {i} of {count}", "end"),
            )
            found.append(Page(self.paper.width, self.paper.height, (*marks, *foot)))
        return found


def _column(count: int) -> float:
    return (WIDTH - (count - 1) * BETWEEN) / count


def _height(readings: Sequence[Reading], count: int) -> float:
    width = _column(count)
    return max(
        sum(row(each, 0, 0, 0, width)[1] for each in column) for column in balanced(readings, count)
    )


def balanced(readings: Sequence[Reading], count: int) -> list[Sequence[Reading]]:
    """Split readings into columns, in their order, the highest as low as can be."""
    width = _column(count)
    heights = [row(each, 0, 0, 0, width)[1] for each in readings]
    for most in sorted({sum(heights[i:j]) for j in range(len(heights) + 1) for i in range(j)}):
        columns: list[list[Reading]] = [[]]
        used = 0.0
        for reading, high in zip(readings, heights, strict=True):
            if used + high > most + 1e-9 and columns[-1]:
                columns.append([])
                used = 0.0
            columns[-1].append(reading)
            used += high
        if len(columns) <= count and max(heights) <= most + 1e-9:
            return list(columns)
    return [list(readings)]
