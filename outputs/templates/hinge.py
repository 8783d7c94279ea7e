"""The hinge map: where the middle of the hinge's pin may lie, full size, on the back's own section.

It is held against the end of the back board. The picture's zero is where the face that carries
the leaf meets the plane that the lid closes on; places behind count to the right, above upward.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from ...geometry.judge.hinge_map import HingeMap
from ...geometry.judge.tracing import WINDOW, Area, Place
from ...geometry.shape.layout import Layout
from ...geometry.shape.rear import closed_back
from ...params.units import INCH, PRINTED, Show, length_text
from ..paper.marks import Mark, Page, Path, Pen, Ring, Window, Words, line, moved
from ..paper.pdf import text_width, wrapped
from ..paper.printed import Printed, ways
from .furniture import MOST_WARNINGS, Facts, Frame, Job, furniture, page_around
from .labels import Box, free
from .seams import seam_marks
from .tiles import Tile, Tiling, cut
from .zones import GRAY

NAME = "hinge-map"
TITLE = "hinge map"

AROUND = 14.0
"""What is drawn about the window, for its scales and names, mm."""

TEXT = 2.8
PITCH = 3.9
SMALL = 2.3
WOOD_PEN = Pen(0.35)
THIN_PEN = Pen(0.18, (4.0, 1.5))
BORDER_PEN = Pen(0.35)
RIM_PEN = Pen(0.15, (1.0, 1.2))
PIN = 2.0
"""Diameter of the ring about the drawn pin, mm."""

ARM = 3.5

SAYS = {
    "lid-wall": "the lid meets the wall",
    "lid-ceiling": "the lid meets what is above",
    "lid-back": "the lid's rear edge meets the collar",
    "lid-front": "the lid's edge meets a tap",
    "skirt": "the front skirt meets the wood",
    "collar-hold": "the open lid tips the collar",
    "hinge-hold": "the hinge's fasteners do not hold the lid",
}
"""What happens beyond a piece of border, by the check that fails there."""


@dataclass(frozen=True, slots=True)
class _Look:
    """What of the section goes on paper, mm, and the rows of text under it."""

    left: float
    right: float
    low: float
    high: float
    rows: tuple[str, ...]

    @property
    def box(self) -> Box:
        """All of it, the rows too."""
        return Box(self.left, self.low - PITCH * len(self.rows) - 3.0, self.right, self.high)


def pages(layout: Layout, pin: HingeMap, paper: str, job: Job) -> list[Page]:
    """Lay out the hinge map.

    Raises:
        ValueError: no such paper.
    """
    look = _look(layout, pin, job.show)
    frame, tiling = _plan(look.box, paper, len(job.warnings), job.printed)
    return [_page(layout, pin, look, frame, tiling, tile, job) for tile in tiling.tiles()]


def _look(layout: Layout, pin: HingeMap, show: Show) -> _Look:
    left, right, low, high = pin.window
    wood = layout.board("back").thickness + layout.leaf_out
    x0, x1 = min(left, -wood) - AROUND, right + AROUND
    said = [row for text in _told(pin, show) for row in wrapped(text, TEXT, x1 - x0 - 4.0, 4)]
    return _Look(x0, x1, low - AROUND, high + AROUND, tuple(said))


def _plan(box: Box, paper: str, warnings: int, printed: Printed | None) -> tuple[Frame, Tiling]:
    """Choose the way the paper lies on which it takes the fewest sheets, then the least paper."""
    plans: list[tuple[Frame, Tiling]] = []
    lines = min(warnings, MOST_WARNINGS)
    page = page_around(box.x1 - box.x0, box.y1 - box.y0, lines)
    for each in ways(paper, page.width, page.height, printed):
        frame = Frame(each.width, each.height, lines, each.scale)
        _, _, wide, high = frame.window
        plans.append((frame, Tiling(cut(box.x0, box.x1, wide, ()), cut(box.y0, box.y1, high, ()))))
    return min(plans, key=lambda plan: (plan[1].count, plan[0].width * plan[0].height))


def _page(
    layout: Layout,
    pin: HingeMap,
    look: _Look,
    frame: Frame,
    tiling: Tiling,
    tile: Tile,
    job: Job,
) -> Page:
    x, y, wide, high = frame.window
    (x0, x1), (y0, y1) = tile.shown_x, tile.shown_y
    zero = (
        round(x + (wide - (x1 - x0)) / 2 - x0, 3),
        round(y + (high - (y1 - y0)) / 2 - y0, 3),
    )
    box = look.box
    drawn = [*_drawing(layout, pin, look, job.show)]
    seams, _ = seam_marks(tiling, tile, (box.x1, box.y1), ())
    inside = tuple(moved(mark, *zero) for mark in (*drawn, *seams))
    window = Window(x0 + zero[0], y0 + zero[1], x1 - x0, y1 - y0, inside)
    facts = Facts(
        name="Hinge map",
        face="",
        seen="section, seen from the collar's right side",
        length=box.x1,
        width=box.y1,
        zero=zero,
        notes=(),
        work="marking",
        how="hold it against the end of the back board, its face and the lid's plane on the lines",
    )
    marks = (window, *furniture(frame, tiling, tile, facts, job))
    return Page(frame.width, frame.height, marks, frame.scale)


def _drawing(layout: Layout, pin: HingeMap, look: _Look, show: Show) -> Iterator[Mark]:
    for area in sorted(pin.areas, key=lambda each: -abs(each.signed)):
        first, *rest = area.corners
        fill = GRAY if area.signed > 0 else 1.0
        yield Path(first, tuple((each,) for each in rest), None, closed=True, fill=fill)
    taken: list[Box] = []
    for mark in _section(layout, look):
        yield mark
        taken += _boxes(mark)
    for area in pin.areas:
        for a, b, bound in _sides(area):
            yield line(*a, *b, RIM_PEN if bound == WINDOW else BORDER_PEN)
            taken.append(_about_line(a, b))
    yield from _scales(pin, show)
    left, right, low, high = pin.window
    taken.append(Box(left - 2.0, low - AROUND, right + 2.0, low - 2.0))
    taken.append(Box(right + 2.0, low - 4.0, right + AROUND, high + 4.0))
    if pin.inside is not None:
        px, py = pin.inside
        yield Ring(px, py, PIN, Pen(0.3))
        yield line(px - ARM, py, px + ARM, py, Pen(0.2))
        yield line(px, py - ARM, px, py + ARM, Pen(0.2))
        taken.append(Box(px - ARM, py - ARM, px + ARM, py + ARM))
    for mark, box in _texts(layout, pin, look, taken):
        yield mark
        taken.append(box)
    for i, row in enumerate(look.rows):
        yield Words(look.left + 2.0, look.low - 1.0 - PITCH * (i + 1), TEXT, row)


def _boxes(path: Path) -> Iterator[Box]:
    """Yield what the straight pieces of a path take, for texts to keep clear of."""
    points: list[Place] = [path.start, *(step[-1] for step in path.steps)]
    if path.closed:
        points.append(path.start)
    for a, b in pairwise(points):
        yield _about_line(a, b)


def _about_line(a: Place, b: Place) -> Box:
    return Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])).grown(0.5)


def _sides(area: Area) -> Iterator[tuple[Place, Place, str]]:
    following = (*area.corners[1:], area.corners[0])
    yield from zip(area.corners, following, area.bounds, strict=True)


def _section(layout: Layout, look: _Look) -> Iterator[Path]:
    """Draw the back in section, what of it is in the picture, and the two lines to hold it by."""
    top = look.high - AROUND + 6.0
    for name, ((x0, y0), _, (x1, y1), _) in closed_back(layout):
        pen = THIN_PEN if name in ("lid", "back skirt") else WOOD_PEN
        left, right = max(x0, look.left), min(x1, look.right)
        low, high = max(y0, look.low), min(y1, top)
        if low < high:
            yield from (line(x, low, x, high, pen) for x in (x0, x1) if left <= x <= right)
        if left < right:
            yield from (line(left, y, right, y, pen) for y in (y0, y1) if low <= y <= high)
    yield line(look.left, 0.0, look.right - AROUND + 1.0, 0.0, Pen(0.18))
    yield line(0.0, look.low, 0.0, top, Pen(0.18))


def _scales(pin: HingeMap, show: Show) -> Iterator[Mark]:
    """Draw a scale under the window and one to the right of it, a number at every other stroke."""
    left, right, low, high = pin.window
    step, unit = (INCH / 2, INCH) if show == "in" else (10.0, 1.0)
    for level, (start, end), at in (
        (True, (left, right), low - 2.5),
        (False, (low, high), right + 2.5),
    ):
        yield line(start, at, end, at) if level else line(at, start, at, end)
        for n in range(math.ceil(start / step - 1e-9), math.floor(end / step + 1e-9) + 1):
            place, long = n * step, 1.8 if n % 2 else 2.6
            text = "" if n % 2 else f"{place / unit:g}"
            if level:
                yield line(place, at, place, at - long)
                yield Words(place + 0.6, at - 2.6 - SMALL * 0.8, SMALL, text)
            else:
                yield line(at, place, at + long, place)
                yield Words(at + long + 0.8, place - SMALL * 0.36, SMALL, text)
    yield Words(right, low - 11.0, SMALL, f"behind the face, {show}", "end")
    yield Words(right + 12.0, (low + high) / 2, SMALL, f"above the plane, {show}", "middle", 90)


def _texts(
    layout: Layout, pin: HingeMap, look: _Look, taken: list[Box]
) -> Iterator[tuple[Mark, Box]]:
    """Name the pieces of border beside them, then the parts, where each has room."""
    region = Box(look.left, look.low, look.right, look.high)
    full = list(taken)

    def place(text: str, spots: Iterator[tuple[float, float]]) -> Iterator[tuple[Mark, Box]]:
        wide = text_width(text, SMALL) + 1.0
        for x, y in spots:
            box = Box(x, y, x + wide, y + SMALL)
            if free(box, region, full):
                full.append(box)
                yield Words(x + 0.5, y + SMALL * 0.2, SMALL, text), box
                return

    for area in pin.areas:
        for bound, a, b in _stretches(area):
            text = f"beyond: {bound}"
            yield from place(text, _about(a, b, text_width(text, SMALL) + 1.0))
    wood, out = layout.board("back").thickness, layout.leaf_out
    top = layout.frame.height - layout.sealing_z
    up = [look.low + 4.0 * i for i in range(1, 30)]
    parts = [("back board", -out - wood + 1.5), ("lid, closed", look.left + 1.5)]
    if out:
        parts.append(("cover", -out + 1.0))
    for text, x in parts:
        rows = (
            [y for y in up if y > 1.0]
            if text.startswith("lid")
            else [y for y in up if y < top - SMALL]
        )
        yield from place(text, ((x, y) for y in rows))
    if pin.inside is not None:
        px, py = pin.inside
        wide = text_width("pin as drawn", SMALL) + 1.0
        yield from place("pin as drawn", iter([
            (px + 2.0, py + 1.0), (px + 2.0, py - 1.0 - SMALL), (px - 2.0 - wide, py + 1.0),
            (px - 2.0 - wide, py - 1.0 - SMALL), (px + ARM + 1.0, py - SMALL / 2),
        ]))  # fmt: skip
    for text in ("plane that the lid closes on",):
        wide = text_width(text, SMALL) + 1.0
        xs = [look.right - wide - 14.0 - 6.0 * i for i in range(12)]
        yield from place(text, ((x, y) for x in xs for y in (0.7, -0.7 - SMALL)))
    face = "face that carries the leaf"
    yield Words(0.0, look.high - 4.0, SMALL, face, "middle"), Box(0.0, 0.0, 0.0, 0.0)


def _stretches(area: Area) -> Iterator[tuple[str, Place, Place]]:
    """Yield each run of border that one check bounds: its id, and the piece in its middle."""
    sides = list(_sides(area))
    start = next((i for i, side in enumerate(sides) if side[2] != sides[i - 1][2]), 0)
    turned = sides[start:] + sides[:start]
    run: list[tuple[Place, Place, str]] = []
    for side in (*turned, None):
        if run and (side is None or side[2] != run[0][2]):
            if run[0][2] != WINDOW:
                a, b, bound = _middle(run)
                yield bound, a, b
            run = []
        if side is not None:
            run.append(side)


def _middle(run: list[tuple[Place, Place, str]]) -> tuple[Place, Place, str]:
    """Return the piece in which half of a run's length is reached."""
    half, gone = sum(math.dist(a, b) for a, b, _ in run) / 2, 0.0
    for side in run:
        gone += math.dist(side[0], side[1])
        if gone >= half:
            return side
    return run[-1]


def _about(a: Place, b: Place, wide: float) -> Iterator[tuple[float, float]]:
    """Yield places for a text outside a piece of border, the nearest first."""
    long = math.dist(a, b)
    nx, ny = (b[1] - a[1]) / long, (a[0] - b[0]) / long
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    for off in (1.5, 4.0, 8.0, 12.0):
        for along in (0.0, 5.0, -5.0, 10.0, -10.0, 20.0, -20.0):
            px, py = x + off * nx - along * ny, y + off * ny + along * nx
            yield px - wide * (1 - nx) / 2, py - SMALL * (1 - ny) / 2


def _told(pin: HingeMap, show: Show) -> Iterator[str]:
    """Say in words what the picture shows, and what is not in it."""
    left, right, low, high = pin.window
    yield (
        "Gray: where the middle of the hinge's pin may lie, all else as it is drawn, with every"
        " must that asks for it passing. Errors of readings are not counted."
    )
    if pin.drawn is not None:
        behind, above = pin.drawn
        yield f"As drawn: {_behind(behind, show)}, {_above(above, show)}."
        if pin.inside is None:
            yield (
                "The pin as drawn is outside of what was looked at: check hinge.axis_behind and"
                " hinge.axis_above."
            )
        spans = pin.heights(behind)
        if spans:
            said = " and ".join(_span(*each, (low, high), show) for each in spans)
            yield f"So far behind the face it may lie {said}."
    elif pin.areas:
        yield "hinge.axis_behind and hinge.axis_above are not in the build file yet."
    if not pin.areas:
        yield "No place in this window passes everything."
    if pin.between:
        yield f"No one check does it alone: {' and '.join(pin.between)} leave no place together."
    for bound in pin.between:
        yield f"{bound}: {SAYS[bound]}."
    for bound in pin.never:
        yield f"{bound}, wherever the pin is: {SAYS[bound]}."
    for bound in pin.bounded_by:
        yield f"Beyond {bound}: {SAYS[bound]}."
    yield (
        f"Looked at: {_behind(left, show)} to {_behind(right, show)}, {_above(low, show)} to"
        f" {_above(high, show)}; the dotted rim is where looking ends, not a limit. Places are"
        " asked 5 mm apart: a narrower area can be missed."
    )
    if pin.unknown:
        asked = [f"{each} (in part)" if each in pin.asks else each for each in pin.unknown]
        yield f"Not asked, as the build file lacks readings: {', '.join(asked)}."


def _behind(mm: float, show: Show) -> str:
    side = "ahead of" if mm < 0 else "behind"
    return f"{length_text(abs(mm), show)} {side} the face"


def _above(mm: float, show: Show) -> str:
    return f"{length_text(abs(mm), show)} {'below' if mm < 0 else 'above'} the plane"


def _span(low: float, high: float, rim: tuple[float, float], show: Show) -> str:
    """Say from where to where the pin may be high, rounded inward; open where looking ends."""
    step = PRINTED[show]
    least, most = math.ceil(low / step - 1e-6) * step, math.floor(high / step + 1e-6) * step
    if abs(low - rim[0]) < 1e-6 and abs(high - rim[1]) < 1e-6:
        return "at any height that was looked at"
    if abs(low - rim[0]) < 1e-6:
        return f"no higher than {_above(most, show)}"
    if abs(high - rim[1]) < 1e-6:
        return f"no lower than {_above(least, show)}"
    return f"from {_above(least, show)} to {_above(most, show)}"
