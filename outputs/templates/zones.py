"""What a template of an outer face shows of how far holes and the hinge's pin may be off.

Gray about a center is where that center may lie; it is drawn before all else. What it is bounded
by was worked out in ``geometry``.
"""

from collections.abc import Iterator, Sequence

from ...geometry.judge.halo import REACH, Halo
from ...geometry.judge.hinge_map import HingeMap
from ...geometry.judge.zones import Zones
from ...geometry.shape.sheet import Circle, Sheet
from ...params.units import INCH, Show, length_text
from ..paper.marks import Mark, Path, Pen, Words, line
from ..paper.pdf import text_width, wrapped
from .labels import Box, free
from .tiles import Tile

GRAY = 0.9
PIN_PEN = Pen(0.18, (3.0, 2.0))
SIZE = 2.4
WIDEST = 110.0
"""How wide a line of the legend may be, mm; it takes three rows at most."""

LEAST = 0.02
"""A zone that is nowhere wider than this is no more than its center, mm."""

Placed = tuple[Mark, Box]


def shown(sheet: Sheet, zones: Zones) -> list[tuple[Circle, Halo]]:
    """Return the holes of an outer face that have a zone, with it."""
    if sheet.kind == "foam" or sheet.face != "outer":
        return []
    found = ((circle, zones.of(sheet.side, circle.name)) for circle in sheet.circles)
    return [(circle, zone) for circle, zone in found if zone is not None]


def halo_marks(sheet: Sheet, zones: Zones) -> Iterator[Mark]:
    """Draw the zone about each center."""
    for circle, zone in shown(sheet, zones):
        if max(zone.radii, default=0.0) > LEAST:
            (x, y), *rest = ((circle.x + dx, circle.y + dy) for dx, dy in zone.outline())
            yield Path((x, y), tuple((each,) for each in rest), None, closed=True, fill=GRAY)


def within(circle: Circle, zone: Halo | None, show: Show) -> str:
    """Say how far a center may be off, or what fails already; nothing where nothing is near."""
    if zone is None or zone.capped:
        return ""
    if zone.fails:
        return f"fails here: {', '.join(zone.fails)}"
    if not zone.radii:
        return ""  # the legend's lines say why there is no gray
    return f"center within {said}" if (said := _down(zone.least, show)) else "no room to wander"


def _down(mm: float, show: Show) -> str:
    """Write a length no larger than it is: to 1/32 in, or to 0.1 mm.

    In inches what is below 1/32 in is told to 0.001 in, with the mm beside it. Nothing is written
    for less than 0.1 mm.
    """
    parts = int(mm / INCH * 32 + 1e-6)
    if show == "in" and parts:
        return length_text(parts / 32 * INCH, "in")
    tenths = int(mm * 10 + 1e-6)
    said = length_text(tenths / 10, "mm") if tenths else ""
    if said and show == "in":
        return f"{int(mm / INCH * 1000 + 1e-6) / 1000:.3f} in ({said})"
    return said


def legend(sheet: Sheet, zones: Zones, tile: Tile, show: Show) -> tuple[str, ...]:
    """Return the lines that say what the gray is and what was not asked, in whole sentences.

    None where no zone is on a sheet, or missing on it.
    """
    (x0, x1), (y0, y1) = tile.shown_x, tile.shown_y
    here = [
        zone
        for circle, zone in shown(sheet, zones)
        if x0 - REACH < circle.x < x1 + REACH and y0 - REACH < circle.y < y1 + REACH
    ]
    gray = any(zone.radii for zone in here)
    bare = [zone.name.replace("-", " ") for zone in here if not zone.radii and not zone.fails]
    unasked = dict.fromkeys(each for zone in here if not zone.fails for each in zone.unknown)
    told = (
        f"gray about a center: where it may lie, up to {_down(REACH, show)} off, one hole at",
        "a time, with every must that was asked still passing; errors of readings are not counted.",
    )
    why = [f"no gray about {', '.join(bare)}: flange or nut not known."] if bare else []
    asked = [f"not asked: {', '.join(unasked)}."] if unasked and gray else []
    rows = (*(told if gray else ()), *why, *asked)
    return tuple(row for each in rows for row in wrapped(each, SIZE, WIDEST, 3))


def legend_marks(
    lines: Sequence[str], region: Box, taken: Sequence[Box], holes: Sequence[Box]
) -> Iterator[Placed]:
    """Place the legend away from every hole, low on the sheet; nothing where there is no room."""
    if not lines:
        return
    wide, tall = max(text_width(each, SIZE) for each in lines) + 2.0, SIZE * 1.3 * len(lines) + 1.0
    clear = [hole.grown(28.0) for hole in holes]
    y = region.y0 + 2.0
    while y + tall <= region.y1:
        x = region.x0 + 2.0
        while x + wide <= region.x1:
            box = Box(x, y, x + wide, y + tall)
            if free(box, region, [*taken, *clear]):
                for i, each in enumerate(lines):
                    at = y + tall - 0.5 - SIZE * (1.3 * i + 0.95)
                    yield Words(x + 1.0, at, SIZE, each), box
                return
            x += 8.0
        y += 4.0


def pin_marks(
    sheet: Sheet, pin: HingeMap | None, tile: Tile, flap: float, taken: Sequence[Box]
) -> Iterator[Placed]:
    """Draw how low and how high the hinge's pin may be at its drawn distance behind the face."""
    if pin is None or pin.drawn is None or (sheet.side, sheet.kind) != ("back", pin.on):
        return
    _, _, lowest, highest = pin.window
    for low, high in pin.heights(pin.drawn[0]):
        if low <= pin.drawn[1] <= high:
            for at, rim, word in ((low, lowest, "lower"), (high, highest, "higher")):
                y = pin.plane + at
                if abs(at - rim) > 1e-6 and -flap < y < sheet.width + flap:
                    yield from _pin_line(sheet, y, f"hinge pin no {word} than this", tile, taken)


def _pin_line(
    sheet: Sheet, y: float, text: str, tile: Tile, taken: Sequence[Box]
) -> Iterator[Placed]:
    yield line(0.0, y, sheet.length, y, PIN_PEN), Box(0.0, y, sheet.length, y).grown(0.4)
    (x0, x1), (y0, y1) = tile.own_x, tile.own_y
    region, wide = Box(max(x0, 0.0), y0, min(x1, sheet.length), y1), text_width(text, SIZE)
    x = region.x0 + 8.0
    while x + wide <= region.x1:
        for foot in (y + 0.8, y - 0.8 - SIZE * 0.75):
            box = Box(x, foot - SIZE * 0.2, x + wide, foot + SIZE * 0.75)
            if free(box, region, taken):
                yield Words(x, foot, SIZE, text), box
                return
        x += 6.0
