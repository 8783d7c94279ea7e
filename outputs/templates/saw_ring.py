"""The saw's test ring on paper: how it is cut, what to look for, and from gap to setting."""

from collections.abc import Iterator
from math import hypot

from ...geometry.shape.layout import Layout
from ...geometry.shape.saw_ring import (
    NEAR,
    SCRAP_TEXT,
    SQUARE,
    ring_gap,
    ring_spread_deg,
    ring_tilt_deg,
    two_ls,
)
from ...params.units import Show, gap_text, length_text, mm_text
from ..paper.marks import Mark, Page, Path, Pen, Words, line
from ..paper.pdf import text_width
from ..paper.printed import upright
from .furniture import Job
from .plain import heading, paragraphs
from .test_page import LEAST_PAGE

NAME = "saw-ring"
TITLE = "saw's test ring"

LEFT = 14.0
SIZE, ROW = 2.9, 4.0
WOOD_PEN, THIN = Pen(0.4), Pen(0.2)

GAPS: dict[Show, tuple[float, ...]] = {
    "mm": (0.1, 0.2, 0.3, 0.4, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0),
    "in": tuple(25.4 * i / 64 for i in (0.25, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 8)),
}
"""Gaps that the table tells, mm."""

PAPER = 0.1
"""Thickness of a strip of writing paper, mm (80 g/m2; common practice, no source)."""

HALF_MARK = 0.25
"""Half a mark of a rule in half millimeters, mm."""

SHOWN = 3.0
"""How far the blade of the pictures is off, degrees: drawn much too large to be seen."""

CAUTIONS = (
    "Do what your saw's manual says; it goes before this page.",
    "Unplug the saw to change or measure the blade's tilt. Guard and riving knife on.",
    f"No short pieces: cut scraps of {SCRAP_TEXT} or more, clamped or held by miter gauge or sled,"
    " hands out of line. A stop block must be clear of the fence when the cut ends.",
)

STEPS = (
    "1. Cut four scraps of the same board, opposite scraps alike to 0.2 mm (use one stop). Set the"
    " scale to {tilt} deg once and leave it. Every scrap lies flat, outer face up, turned end for"
    " end for its other end: eight cuts of one tilt. The blade's top leans over the waste; if yours"
    " leans over the piece you keep, lay outer faces down.",
    "2. Stand them on edge on a flat table, outer faces out. Press and tape two and two to L's: the"
    " joints A and C are tight.",
    "3. Push the two L's together until both joints B and D touch. Both are open on the same side:"
    " inside, the blade is tilted too far; outside, too little.",
    "4. Measure the open end of B and of D with feelers, strips of paper or a rule, and take the"
    " mean of both. Give it in the build file, with the lines:",
)

LINES = (
    "[shop]",
    "ring_gap = {gap}",
    'ring_open = "inside"  # or "outside"',
    'ring_thickness = "{thick}"  # of the scraps',
)
"""As they stand in a build file."""

LAST = ("Do not press three joints tight and measure the fourth: that tells nothing useful.",)


def page(layout: Layout, paper: str, job: Job) -> Page:
    """Lay out the page of the test ring, on paper that stands upright.

    Raises:
        ValueError: no such paper.
    """
    sheet = upright(paper, job.printed, LEAST_PAGE)
    ring = layout.ring
    room = min(sheet.width - 2 * LEFT, 260.0)
    marks: list[Mark] = []
    y = sheet.height - LEFT - 6.0
    marks += heading(LEFT, y, room, "Saw's test ring", job)
    if job.printed:
        marks.append(Words(LEFT + 55.0, y - 9.5, 2.4, job.printed.says))
    y -= 15.5
    marks.append(Words(LEFT, y, 3.4, "Before you saw"))
    texts, y = paragraphs((LEFT, y - 4.8), room, CAUTIONS, SIZE, ROW)
    marks += texts
    gap = '"1/64 in"' if job.show == "in" else '"0.5 mm"'
    thick = length_text(ring.thickness, job.show)
    steps = [text.format(tilt=f"{SQUARE:g}") for text in STEPS]
    texts, y = paragraphs((LEFT, y - 1.0), room, steps, SIZE, ROW)
    marks += texts
    for text in LINES:
        marks.append(Words(LEFT + 8.0, y, SIZE, text.format(gap=gap, thick=thick)))
        y -= ROW
    texts, y = paragraphs((LEFT, y - 1.0), room, LAST, SIZE, ROW)
    marks += texts
    half = room / 2
    for i, off in enumerate((SHOWN, -SHOWN)):
        marks += _picture(LEFT + half * i + half / 2, y - 33.0, off)
    y -= 72.0
    if ring.off_deg is not None:
        marks.append(Words(LEFT, y, 2.9, of_this_build(ring.off_deg)))
        y -= 6.0
    marks += _table(LEFT, y, room, ring.thickness, job.show)
    return Page(sheet.width, sheet.height, tuple(marks), sheet.scale)


def _picture(x: float, y: float, off: float) -> Iterator[Mark]:
    """Draw two L's about a place, of a blade that is much too far off, and name their joints."""
    scraps = two_ls(SQUARE + off, 7.0, 46.0)
    points = [point for scrap in scraps for point in scrap]
    mx = (max(p[0] for p in points) + min(p[0] for p in points)) / 2
    my = (max(p[1] for p in points) + min(p[1] for p in points)) / 2
    placed = [tuple((px - mx + x, py - my + y) for px, py in scrap) for scrap in scraps]
    for scrap in placed:
        yield Path(scrap[0], tuple((p,) for p in scrap[1:]), WOOD_PEN, closed=True, fill=0.9)
    for i, name in enumerate("ABCD"):
        said = "open" if i % 2 else "tight"
        cx, cy = placed[i][1]
        away = hypot(cx - x, cy - y)
        tx, ty = cx + (cx - x) / away * 5.0, cy + (cy - y) / away * 5.0
        anchor = "start" if cx > x else "end"
        yield Words(tx, ty - 1.0, 3.0, f"{name} {said}", anchor)
    side, much = ("inside", "too far") if off > 0 else ("outside", "too little")
    yield Words(x, y - 33.5, 3.2, f"open {side}: the blade is tilted {much}", "middle")
    yield Words(x, y - 1.0, 2.6, "seen from above,", "middle")
    yield Words(x, y - 4.4, 2.6, "drawn much too open", "middle")


def of_this_build(off_deg: float) -> str:
    """Say what the build file's own ring told."""
    off = f"{abs(off_deg):.2f} deg {'more' if off_deg > 0 else 'less'} than"
    if abs(off_deg) < 0.005:
        off = "as"
    return f"The ring of this build file: the blade is tilted {off} the scale says."


def _table(x: float, y: float, room: float, thickness: float, show: Show) -> Iterator[Mark]:
    """Write the table: for each gap how far the blade is off, and the setting for a true 45 deg."""
    thick = gap_text(thickness, show)
    yield Words(x, y, 3.4, f"Scraps {thick} thick, scale at {SQUARE:g} deg when the ring was cut")
    columns = (0.0, 42.0, 82.0, 122.0)
    heads = (
        ("mean gap", "of B and D"),
        ("the blade", "is off by"),
        ("open inside: for a true", "45 deg set the scale to"),
        ("open outside: for a true", "45 deg set the scale to"),
    )
    y -= 5.5
    for at, (first, second) in zip(columns, heads, strict=True):
        yield Words(x + at, y, 2.7, first)
        yield Words(x + at, y - 3.4, 2.7, second)
    y -= 4.8
    width = columns[-1] + text_width(heads[-1][0], 2.7)
    yield line(x, y, x + width, y, THIN)
    for gap in GAPS[show]:
        y -= 4.0
        inside = ring_tilt_deg(gap, thickness) - SQUARE
        outside = SQUARE - ring_tilt_deg(-gap, thickness)
        row = (
            gap_text(gap, show),
            f"{(inside + outside) / 2:.2f} deg",
            f"{SQUARE - inside:.2f} deg",
            f"{SQUARE + outside:.2f} deg",
        )
        for at, text in zip(columns, row, strict=True):
            yield Words(x + at, y, 2.9, text)
    known = ring_spread_deg(0.0, HALF_MARK, thickness)
    tight = ring_spread_deg(0.0, PAPER, thickness)
    texts = (
        f"A gap read to {mm_text(HALF_MARK, 2)}, half a mark of a rule, makes that good to"
        f" {known:.2f} deg; read to {mm_text(PAPER)}, a strip of paper, to {tight:.2f} deg."
        f" If no strip of paper goes in anywhere, the blade is off by less than {tight:.2f} deg."
        f" A miter within {NEAR:g} deg of the ring's tilt is set by the same difference: build"
        " again, and templates, cut files and drawings say what the scale has to say. One that is"
        " further off is proved on scraps. Cut a new ring with that setting to prove it."
        f" 1 deg off opens {gap_text(ring_gap(SQUARE + 1.0, thickness), show)}.",
    )
    rows, _ = paragraphs((x, y - 6.0), room, texts, SIZE, ROW)
    yield from rows
