"""The sheet about a drawing: border, title block, projection symbol, scale, failures in print.

Border and title block by ISO 5457 and ISO 7200 (what it says, not its exact boxes), scales by
ISO 5455 with 1:2.5 of its extended row, symbol of third-angle projection by ISO 5456-2. From
memory.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ...geometry.judge.evaluate import Evaluation
from ...geometry.judge.finding import WORST_FIRST
from ...params.units import Show
from ..paper.dims import CENTER, HEAVY, MIDDLE, THIN, font_size
from ..paper.marks import Mark, Page, Path, Ring, Words, line, moved, rectangle
from ..paper.pdf import fitted, text_width, wrapped
from ..paper.sizes import PAPERS, Paper
from ..text import conclusion
from .draft import Box, Draft

SCALES = (1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0)
"""How many mm one mm of the page stands for."""

IN_TEXT = tuple(sorted({*SCALES, 12.5, 15.0, 25.0}))
"""The same for figures among text, whose room is narrow: with steps that the row does not have."""

SMALLEST = 10.0
"""A drawing to a smaller scale is made on a larger sheet, if any is allowed."""

AROUND = 200.0
"""More than dimensions and texts ever take around a thing, mm."""

MARGIN = 10.0
"""From the paper's edge to the border, mm; printers reach so far (common practice)."""

STRIP = 24.0
"""Height of the title block, mm."""

INNER = 4.0
"""Least gap from a drawing to border and title block, mm."""

BAND = 9.0
"""Height of the failures' frame without its lines, mm."""

MOST_FAILURES = 4
"""Lines that failures may take on a sheet."""

Make = Callable[[Draft, float], None]
"""Draws a drawing to its scale, with room for so many mm of text beside each other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What stands in every title block."""

    title: str
    sha256: str
    show: Show
    checked: str
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing on one sheet; ``name`` is the file's stem."""

    name: str
    says: str
    make: Make


def checked(*evaluations: Evaluation) -> str:
    """Say in a few words what the checks found, of one collar or of several."""
    findings = [each for evaluation in evaluations for each in evaluation.findings]
    counts = ", ".join(
        f"{sum(1 for each in findings if each.verdict == verdict)} {verdict.replace('-', ' ')}"
        for verdict in WORST_FIRST
    )
    musts = [each for each in findings if each.weight == "must"]
    return f"{counts}. {conclusion(musts)}"


def papers_for(paper: str | None, show: Show) -> tuple[Paper, ...]:
    """Return the sheets that a drawing may be made on, lying on their long sides, best first.

    Home printers have A4 or letter; whoever prints templates on more has A3 or tabloid too.
    """
    small, large = ("letter", "tabloid") if show == "in" else ("a4", "a3")
    if paper is None:
        return PAPERS[small].turned, PAPERS[large].turned
    known = {"a4": "a4", "a3": "a3", "letter": "letter", "tabloid": "tabloid", "legal": "letter",
             "a1": "a3", "a0": "a3"}  # fmt: skip
    return (PAPERS[known.get(paper, large)].turned,)


def scale_text(ratio: float) -> str:
    """Write a scale: ``1:2.5``."""
    return f"1:{ratio:g}"


def sheet(drawing: Drawing, papers: Sequence[Paper], job: Job, number: int, count: int) -> Page:
    """Make a drawing on the first paper on which it is not too small to read."""
    for paper in papers[:-1]:
        page, ratio = _sheet(drawing, paper, job, number, count, SMALLEST)
        if ratio <= SMALLEST:
            return page
    return _sheet(drawing, papers[-1], job, number, count)[0]


def _sheet(
    drawing: Drawing, paper: Paper, job: Job, number: int, count: int, smallest: float = SCALES[-1]
) -> tuple[Page, float]:
    """Make a drawing to the largest scale at which it fits, in its border.

    Past the smallest scale that will do nothing is finished: the ratio tells.
    """
    left, low, right, high = room(paper, job)
    draft, ratio = _drawn(drawing, job.show, right - left, high - low, smallest)
    x0, y0, x1, y1 = draft.box()
    dx = (left + right - x0 - x1) / 2
    dy = (low + high - y0 - y1) / 2
    marks = tuple(moved(mark, dx, dy) for mark in draft.marks)
    around = tuple(furniture(paper, job, drawing.says, scale_text(ratio), number, count))
    return Page(paper.width, paper.height, (*marks, *around)), ratio


def figure(
    drawing: Drawing, show: Show, wide: float, high: float, start: float = 0.0
) -> tuple[Page, float]:
    """Make a drawing as a figure among text: just as large as it is, without border and title.

    Letters are as high as on a sheet of its own. No scale larger than 1 : ``start`` is tried.

    Returns:
        The figure, at most ``wide`` by ``high`` mm unless the smallest scale is too large for
        that, and how many mm one mm of it stands for.
    """
    draft, ratio = _drawn(drawing, show, wide, high, start=start, scales=IN_TEXT)
    x0, y0, x1, y1 = draft.box()
    return Page(x1 - x0, y1 - y0, tuple(moved(mark, -x0, -y0) for mark in draft.marks)), ratio


def likely_ratios(drawing: Drawing, show: Show, *rooms: tuple[float, float]) -> list[float]:
    """Return the ratio in each room, mm, that a figure would have without texts under it."""
    boxes: dict[float, Box] = {}

    def likely(wide: float, high: float) -> float:
        for ratio in IN_TEXT:
            if ratio not in boxes:
                draft = Draft(1 / ratio, show)
                drawing.make(draft, wide)
                boxes[ratio] = draft.box()
            if _fits(boxes[ratio], wide, high):
                return ratio
        return IN_TEXT[-1]

    return [likely(*room) for room in rooms]


def _drafts(
    drawing: Drawing,
    show: Show,
    wide: float,
    high: float,
    least: float,
    scales: Sequence[float],
) -> Iterator[tuple[Draft, float]]:
    """Yield drafts that fit before their texts are set, the largest scale first.

    The last one may not fit. ``least`` is the first ratio that is tried; scales at which the thing
    alone would be too large are passed over: a draft takes long that is drawn for nothing.
    """
    for ratio in scales:
        if ratio < least and ratio != scales[-1]:
            continue
        draft = Draft(1 / ratio, show)
        drawing.make(draft, wide)
        box = draft.box()
        if ratio == scales[-1] or _fits(box, wide, high):
            yield draft, ratio
        sizes = (box[2] - box[0] - AROUND) / wide, (box[3] - box[1] - AROUND) / high
        least = max(least, ratio * max(sizes))


def _drawn(
    drawing: Drawing,
    show: Show,
    wide: float,
    high: float,
    smallest: float = SCALES[-1],
    start: float = 0.0,
    scales: Sequence[float] = SCALES,
) -> tuple[Draft, float]:
    """Make a drawing to the largest scale at which it fits; the smallest one takes everything."""
    for draft, ratio in _drafts(drawing, show, wide, high, start, scales):
        if ratio > smallest:
            return draft, ratio
        draft.finish()
        if ratio == scales[-1] or _fits(draft.box(), wide, high):
            return draft, ratio
    raise AssertionError("the smallest scale takes everything")


def room(paper: Paper, job: Job) -> Box:
    """Return where a drawing may be on the page."""
    low = MARGIN + STRIP + _band(job) + INNER
    edge = MARGIN + INNER
    return edge, low, paper.width - edge, paper.height - edge


def _fits(box: Box, wide: float, high: float) -> bool:
    return box[2] - box[0] <= wide and box[3] - box[1] <= high


def _band(job: Job) -> float:
    """Return the height of the failures' frame over the title block."""
    return BAND + 4.2 * min(len(job.warnings), MOST_FAILURES) if job.warnings else 0.0


def furniture(
    paper: Paper, job: Job, says: str, scale: str, number: int, count: int
) -> Iterator[Mark]:
    """Yield border, title block and failures."""
    wide, high = paper.width - 2 * MARGIN, paper.height - 2 * MARGIN
    yield rectangle(MARGIN, MARGIN, wide, high, HEAVY)
    y0, x3 = MARGIN, MARGIN + wide
    x2, x1 = x3 - 66.0, x3 - 66.0 - 76.0
    yield line(MARGIN, y0 + STRIP, x3, y0 + STRIP, HEAVY)
    for x in (x1, x2):
        yield line(x, y0, x, y0 + STRIP, MIDDLE)
    yield line(MARGIN, y0 + STRIP / 2, x1, y0 + STRIP / 2, THIN)
    room_left = x1 - MARGIN - 4
    yield from _cell(MARGIN, y0 + STRIP / 2, "design", job.title or "without a title", room_left)
    yield from _cell(MARGIN, y0, "drawing", says, room_left)
    yield _label(x1 + 2, y0 + STRIP - 3.0, "checked")
    for i, row in enumerate(wrapped(job.checked, font_size(2.0), 72.0, 4)):
        yield Words(x1 + 2, y0 + STRIP - 7.4 - i * 4.2, font_size(2.0), row)
    yield from _figures(x2, y0, job, scale, number, count)
    if job.warnings:
        yield from _failures(MARGIN, y0 + STRIP, wide, job.warnings)


def _cell(x: float, y: float, label: str, text: str, wide: float) -> Iterator[Mark]:
    """Yield a box's small label and its text, in letters as large as fit."""
    yield _label(x + 2, y + 9.0, label)
    size = font_size(3.5)
    if text_width(fitted(text, size, 1e9), size) > wide:
        size = font_size(2.5)
    yield Words(x + 2, y + 3.0, size, fitted(text, size, wide))


def _figures(x: float, y: float, job: Job, scale: str, number: int, count: int) -> Iterator[Mark]:
    third = STRIP / 3
    for i in (1, 2):
        yield line(x, y + i * third, x + 66, y + i * third, THIN)
    for i in (1, 2):
        yield line(x + 33, y + i * third, x + 33, y + (i + 1) * third, THIN)
    unit = "inches" if job.show == "in" else "millimeters"
    cells = (
        (x, 2, "scale", scale),
        (x, 1, "dimensions in", unit),
        (x + 33, 1, "sheet", f"{number} of {count}"),
        (x, 0, "build file", job.sha256[:12]),
    )
    for left, row, label, text in cells:
        yield _label(left + 2, y + (row + 1) * third - 2.8, label)
        yield Words(left + 2, y + row * third + 1.6, font_size(2.3), text)
    yield _label(x + 35, y + 3 * third - 2.8, "third angle")
    yield from _symbol(x + 46, y + 2 * third + 3.0)


def _symbol(x: float, y: float) -> Iterator[Mark]:
    """Yield the sign of third-angle projection: what is seen from the left stands at the left."""
    yield Ring(x + 6, y, 4.4, MIDDLE)
    yield Ring(x + 6, y, 2.2, MIDDLE)
    corners = (((x + 10.5, y + 1.1),), ((x + 15.5, y + 2.2),), ((x + 15.5, y - 2.2),))
    yield Path((x + 10.5, y - 1.1), corners, MIDDLE, closed=True)
    for a, b in (((x + 3, y), (x + 16.5, y)), ((x + 6, y - 2.6), (x + 6, y + 2.6))):
        yield line(*a, *b, CENTER)


def _failures(x: float, y: float, wide: float, warnings: Sequence[str]) -> Iterator[Mark]:
    shown = list(warnings[:MOST_FAILURES])
    if len(warnings) > MOST_FAILURES:
        rest = len(warnings) - MOST_FAILURES + 1
        shown[-1] = f"and {rest} more: run the command check on the build file to see them"
    high = BAND + 4.2 * len(shown)
    yield rectangle(x + 1, y + 1, wide - 2, high - 2, HEAVY)
    count = len(warnings)
    heading = f"THIS DESIGN FAILS {count} {'CHECK' if count == 1 else 'CHECKS'}"
    yield Words(x + 4, y + high - 6.2, font_size(3.5), heading)
    size = font_size(2.3)
    for i, text in enumerate(shown):
        yield Words(x + 4, y + high - 10.4 - 4.2 * i, size, fitted(text, size, wide - 8))


def _label(x: float, y: float, text: str) -> Words:
    return Words(x, y, font_size(1.6), text, gray=0.35)
