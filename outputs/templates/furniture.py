"""What stands around the drawing on every template page: bars to measure, texts, arrow, map.

The page from its lower left corner: an upright column with two bars and the arrow, to the right
of it a strip along the bottom with two bars, texts and the map of sheets, at the top the failures
where there are any. What is left is the window for the board.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ...geometry.judge.zones import NO_ZONES, Zones
from ...params.units import Show
from ..paper.marks import Mark, Path, Pen, Words, line, rectangle
from ..paper.pdf import fitted, text_width, wrapped
from ..paper.printed import Printed
from ..paper.sizes import Paper
from .tiles import Cuts, Tile, Tiling

MARGIN = 12.0
"""Clear edge of every page, mm; printers reach to 4.2 or 6.4 mm (common practice)."""

COLUMN = 16.0
STRIP = 27.5
MAP_ROW = 21.0
WIDE = 215.0
"""Width of the strip from which bars, texts and map stand side by side, mm."""

BARS = (("check 100 mm", 100.0), ("check 4 in", 4 * 25.4))
"""The bars, with what is printed at them, mm."""

BAR_BLOCK = 108.0
SCALED = 2.2
"""Size of what is said of a printer that is not true, mm."""

HEADING = 7.5
WARNING_PITCH = 4.4
MOST_WARNINGS, FEW_WARNINGS = 8, 4
"""Lines for failures: so many where they cost no sheet of paper, and so many in any case."""

MAP_LEAST = 16.0
"""From this height of what a map has over its notes another note may go there, mm."""

BOX = 2.5
"""The narrowest box on the map of sheets, mm, so that its number can be read."""

MAP_SAYS = "all sheets, {} (this one gray)"

BAR_PEN = Pen(0.25)
FRAME_PEN = Pen(0.9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is the same on every page of a build.

    ``sha256`` is the build file's; ``warnings`` are the failures to be printed large; ``zones``
    are where holes and the hinge's pin may lie.
    """

    title: str
    sha256: str
    show: Show
    warnings: tuple[str, ...] = ()
    zones: Zones = NO_ZONES
    printed: Printed | None = None
    """What the printer makes of 100 mm; None for a true one."""


def design_text(job: Job) -> str:
    """Say which design a page is of."""
    return f"design: {job.title}" if job.title else "design without a title"


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What one page says about itself; ``zero`` is where the board's 0, 0 lies on it, mm.

    ``below`` and ``above`` say what the lower and the upper edge are at; ``remark`` stands large
    beside the arrow. ``work`` is what is done with the part, ``how`` says in what steps.
    ``from_`` is where the part is seen from.
    """

    name: str
    face: str
    seen: str
    length: float
    width: float
    zero: tuple[float, float]
    notes: tuple[str, ...]
    below: str = "lip"
    above: str = "lid"
    remark: str = ""
    from_: str = "outside"
    foot: str = "bottom"
    work: str = "drilling"
    how: str = "fold at the edges, tape it down, punch at the dots"


@dataclass(frozen=True, slots=True)
class Frame:
    """A page of a size, and what is left of it for the drawing, mm.

    ``lines`` is how many lines it has for failures, ``scale`` see ``marks.Page``.
    """

    width: float
    height: float
    lines: int
    scale: tuple[float, float] = (1.0, 1.0)

    @property
    def wide(self) -> bool:
        """Whether bars, texts and map stand side by side."""
        return self.width - 2 * MARGIN - COLUMN >= WIDE

    @property
    def bottom(self) -> float:
        """Height of the strip along the bottom."""
        return STRIP + (0.0 if self.wide else MAP_ROW)

    @property
    def top(self) -> float:
        """Height of the failures along the top."""
        return warnings_height(self.lines)

    @property
    def window(self) -> tuple[float, float, float, float]:
        """Lower left corner, width and height of what is left."""
        x, y = MARGIN + COLUMN, MARGIN + self.bottom
        return x, y, self.width - MARGIN - x, self.height - MARGIN - self.top - y


def warnings_height(lines: int) -> float:
    """Return the height that lines for failures take at the top of a page, mm."""
    return HEADING + 5 + WARNING_PITCH * lines if lines else 0.0


def page_around(width: float, height: float, lines: int) -> Paper:
    """Return a page as large as a drawing of a size needs, mm."""
    across = max(width, BAR_BLOCK + 80.0) + 2 * MARGIN + COLUMN
    up = height + 2 * MARGIN + Frame(across, 0.0, lines).bottom + warnings_height(lines)
    return Paper("sheet", across, max(up, 2 * MARGIN + warnings_height(lines) + 150.0), "")


def furniture(frame: Frame, tiling: Tiling, tile: Tile, facts: Facts, job: Job) -> Iterator[Mark]:
    """Yield everything on a page but the board, in the page's mm."""
    left = MARGIN + COLUMN + 2
    yield from _upright_bars()
    low, high = MARGIN + 3 + BARS[1][1] + 6, frame.height - MARGIN - frame.top
    if facts.remark and remark_in_notes(high - low, facts.remark):
        facts = replace(facts, notes=(f"{facts.remark}.", *facts.notes), remark="")
    yield from _arrow(low, high, facts)
    strip = MARGIN + frame.bottom - STRIP
    yield from _level_bars(left, strip, facts.work)
    if job.printed:
        said = job.printed.says
        size = min(SCALED, (BAR_BLOCK - 3) / text_width(said, 1.0))
        yield Words(left, strip + 16.6, size, said)
    texts = left + BAR_BLOCK
    right = frame.width - MARGIN
    if frame.wide:
        split = texts + max(76.0, min(110.0, (right - texts) / 2))
        yield from _texts(texts, strip, split - texts - 4, tile, tiling, facts, job)
        yield from _map_and_notes(split, strip, right - split, STRIP - 2, tiling, tile, facts, 3)
    else:
        yield from _texts(texts, strip, right - texts, tile, tiling, facts, job)
        room = right - left
        yield from _map_and_notes(left, MARGIN, room, MAP_ROW - 2, tiling, tile, facts, 2)
    if job.warnings:
        yield from _warnings(frame, job.warnings)


def _level_bars(x: float, y: float, work: str) -> Iterator[Mark]:
    yield Words(x, y + 20.0, 3.0, f"measure this before {work}: 100 mm and 4 in, both ways")
    for (text, length), up in zip(BARS, (11.0, 3.0), strict=True):
        yield line(x, y + up, x + length, y + up, BAR_PEN)
        for end in (x, x + length):
            yield line(end, y + up - 2, end, y + up + 2, BAR_PEN)
        yield Words(x + length / 2, y + up + 1.2, 2.8, text, "middle")


def _upright_bars() -> Iterator[Mark]:
    y = MARGIN + 3
    for (text, length), x in zip(BARS, (MARGIN + 5.5, MARGIN + 13.0), strict=True):
        yield line(x, y, x, y + length, BAR_PEN)
        for end in (y, y + length):
            yield line(x - 2, end, x + 2, end, BAR_PEN)
        yield Words(x - 1.2, y + length / 2, 2.8, text, "middle", 90)


def _arrow(low: float, high: float, facts: Facts) -> Iterator[Mark]:
    """Draw the arrow that says which way is up, as tall as there is room for."""
    x = MARGIN + COLUMN / 2
    if facts.remark:
        yield from _remark(low, high, facts)
        return
    yield Words(x, low + 3.2, 2.4, facts.foot, "middle")
    yield Words(x, low, 2.4, f"edge: {facts.below}", "middle")
    foot, tip = low + 7.5, min(high - 6.0, low + 62.0)
    shaft, head = 1.8, 5.5
    neck = max(foot, tip - 13.0)
    corners = (
        (x + shaft, foot), (x + shaft, neck), (x + head, neck), (x, tip),
        (x - head, neck), (x - shaft, neck),
    )  # fmt: skip
    steps = tuple((corner,) for corner in corners)
    yield Path((x - shaft, foot), steps, Pen(0.2), closed=True, fill=0.0)
    yield Words(x, tip + 1.8, 3.6, f"up: {facts.above}", "middle")


REMARK = ((5.0, 2), (3.6, 3))
"""Size of what stands beside the arrow, mm, and in how many rows; the first that will do."""


def _remark_rows(room: float, remark: str) -> tuple[float, list[str]]:
    """Return the size and the rows of a remark; it is cut short where there is no room for it."""
    size, rows = REMARK[-1][0], list[str]()
    for size, most in REMARK:
        rows = wrapped(remark, size, room, most)
        if " ".join(rows) == remark:
            break
    return size, rows


def remark_in_notes(tall: float, remark: str) -> bool:
    """Tell whether there is no room for a remark in the column, and the notes have to say it."""
    return " ".join(_remark_rows(max(tall - 10.0, 1.0), remark)[1]) != remark


def _remark(low: float, high: float, facts: Facts) -> Iterator[Mark]:
    """Write the remark up the column in large letters, and a narrow arrow to the right of it."""
    size, rows = _remark_rows(high - low - 10.0, facts.remark)
    yield Words(MARGIN + COLUMN / 2, low + 3.2, 2.4, facts.foot, "middle")
    yield Words(MARGIN + COLUMN / 2, low, 2.4, f"edge: {facts.below}", "middle")
    low += 7.5
    for i, row in enumerate(rows):
        yield Words(MARGIN + size * (0.75 + 1.15 * i), low, size, row, "start", 90)
    x = MARGIN + COLUMN - 1.6
    shaft, head, tip = 0.7, 1.5, min(high - 12.0, low + 62.0)
    corners = (
        (x + shaft, low), (x + shaft, tip - 6.0), (x + head, tip - 6.0), (x, tip),
        (x - head, tip - 6.0), (x - shaft, tip - 6.0),
    )  # fmt: skip
    steps = tuple((corner,) for corner in corners)
    yield Path((x - shaft, low), steps, Pen(0.2), closed=True, fill=0.0)
    yield Words(x + 1.2, tip + 1.5, 3.0, f"up: {facts.above}", "start", 90)


def _texts(
    x: float, y: float, room: float, tile: Tile, tiling: Tiling, facts: Facts, job: Job
) -> Iterator[Mark]:
    sheet = f"sheet {tile.number} of {tiling.total}"
    place = f"row {tile.row} of {tiling.rows.count}, column {tile.column} of {tiling.columns.count}"
    zero = f"board zero at {facts.zero[0]:.3f} {facts.zero[1]:.3f} mm"
    name_size = 5.0
    yield Words(x, y + 21.5, name_size, facts.name)
    if facts.face:
        after = x + text_width(facts.name, name_size) + 3
        yield Words(after, y + 21.5, 4.0, fitted(facts.face, 4.0, x + room - after))
    lines = (
        (17.8, 2.6, facts.seen),
        (14.5, 2.8, design_text(job)),
        (11.0, 2.8, f"build file {job.sha256[:12]}"),
        (7.2, 3.1, "print at actual size, 100 %"),
        (3.2, 3.1, sheet),
    )
    for up, size, text in lines:
        yield Words(x, y + up, size, fitted(text, size, room))
    after = x + text_width(sheet, 3.1) + 2.5
    yield Words(after, y + 3.2, 2.4, fitted(place, 2.4, x + room - after))
    yield Words(x, y + 0.2, 1.9, zero)


def _map_and_notes(
    x: float,
    y: float,
    room: float,
    height: float,
    tiling: Tiling,
    tile: Tile,
    facts: Facts,
    most: int,
) -> Iterator[Mark]:
    """Draw how the sheets lie on the board, and under it what has to be said about this one."""
    size = 2.4
    join = "cut and join the sheets cross on cross, " if tiling.count > 1 else ""
    how = f"How: {join}{facts.how}."
    said = [row for note in facts.notes for row in wrapped(note, size, room, most)]
    lines = max(most, min(len(said), 4))
    more = len(said) + len(wrapped(how, size, room, 3)) > lines
    lines += more and height - lines * size * 1.3 > MAP_LEAST
    rows: list[str] = []
    for each in (how, f"How: {facts.how}.") if lines > len(said) else ():
        rows = wrapped(each, size, room, min(lines - len(said), 3))
        if " ".join(rows) == each:
            break
        rows = []  # rather nothing than half a sentence
    notes = (said + rows)[:lines]
    low = y + len(notes) * size * 1.3
    for i, note in enumerate(notes):
        yield Words(x, low - (i + 0.8) * size * 1.3, size, note)
    if tiling.count == 1:
        return
    from_ = f"seen from {facts.from_}"
    if text_width(MAP_SAYS.format(from_), size) > room:
        from_ = from_.rpartition(": ")[2]
    yield Words(x, y + height - 1.6, size, MAP_SAYS.format(from_))
    yield from _map(x, low + 1, room, y + height - 3.5 - low - 1, tiling, tile, facts)


def _map(
    x: float, y: float, room: float, height: float, tiling: Tiling, this: Tile, facts: Facts
) -> Iterator[Mark]:
    columns, rows = tiling.columns, tiling.rows
    scale = min(room / (columns.high - columns.low), height / (rows.high - rows.low))
    across, up = _stops(columns, scale, room), _stops(rows, scale, height)
    while across[-1] > room + 1e-6 or up[-1] > height + 1e-6:
        scale *= 0.95
        across, up = _stops(columns, scale, room), _stops(rows, scale, height)
    y += (height - up[-1]) / 2
    for tile in tiling.tiles():
        column, row = tile.column - 1, rows.count - tile.row
        u0, u1, v0, v1 = across[column], across[column + 1], up[row], up[row + 1]
        fill = 0.8 if tile == this else None
        yield rectangle(x + u0, y + v0, u1 - u0, v1 - v0, Pen(0.12), fill)
        number = str(tile.number)
        size = min(3.0, (v1 - v0) * 0.6, 0.9 * (u1 - u0) / text_width(number, 1.0))
        yield Words(x + (u0 + u1) / 2, y + (v0 + v1) / 2 - size * 0.36, size, number, "middle")
    left, right = max(-columns.low, 0.0), max(columns.high - facts.length, 0.0)
    edge_x, edge_y = left * scale, -rows.low * scale
    wide, high = across[-1] - edge_x - right * scale, up[-1] - 2 * edge_y
    yield rectangle(x + edge_x, y + edge_y, wide, high, Pen(0.3))


def _stops(cuts: Cuts, scale: float, room: float) -> list[float]:
    """Return where the boxes of one direction begin and end on the map, mm; no box is a sliver."""
    least = min(BOX, room / cuts.count)
    stops = [0.0]
    for i in range(cuts.count):
        low, high = cuts.own(i)
        stops.append(stops[-1] + max((high - low) * scale, least))
    return stops


def _warnings(frame: Frame, warnings: Sequence[str]) -> Iterator[Mark]:
    """Draw the failures in a heavy frame along the top."""
    x, height = MARGIN, frame.top - 2
    y = frame.height - MARGIN - height
    room = frame.width - 2 * MARGIN
    yield rectangle(x + 0.5, y, room - 1, height, FRAME_PEN)
    count = len(warnings)
    heading = f"THIS DESIGN FAILS {count} {'CHECK' if count == 1 else 'CHECKS'}"
    after = x + 4 + text_width(heading, 5.6) + 4
    yield Words(x + 4, y + height - 7.0, 5.6, heading)
    hint = "written because it was asked for"
    yield Words(after, y + height - 7.0, 3.0, fitted(hint, 3.0, x + room - 4 - after))
    shown = list(warnings[: frame.lines])
    if count > frame.lines:
        rest = count - frame.lines + 1
        shown[-1] = f"and {rest} more: run the command check on the build file to see them"
    for i, text in enumerate(shown):
        up = y + height - HEADING - WARNING_PITCH * (i + 1) + 0.6
        yield Words(x + 4, up, 3.2, fitted(text, 3.2, room - 8))
