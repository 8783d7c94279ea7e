"""Reads back where holes and the hinge's pin may lie: gray zones, and the hinge map's border."""

import math
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from pathlib import Path

from ...geometry.judge.halo import RAYS, Halo
from ...geometry.judge.hinge_map import HingeMap
from ...geometry.judge.zones import Zones
from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...geometry.shape.rear import closed_back
from .pdf import NO_ROOM, Document, Size, mark_faults, paper_faults, read, words
from .pdf_page import Line, Page, Point
from .pdf_parts import TOLERANCE, assemble, first_gap, zero
from .printer import Printer

SMALLEST = 0.05
"""A zone that is nowhere wider than this may be left out, mm."""

PIN = 2.0
"""Diameter of the ring about the pin, mm."""

NEAR = 80.0
"""How far from its hole a figure may stand, mm."""

WITHIN = re.compile(
    r"center within (?:(?P<whole>\d+(?:\.\d+)?) )?(?:(?P<part>\d+/\d+) )?(?P<unit>in|mm)"
)
NO_FARTHER = re.compile(r"hinge pin no (lower|higher) than this")

ON_THE_MAP = (
    "hinge map",
    "up: lid",
    "print at actual size, 100 %",
    "measure this before marking: 100 mm and 4 in",
)


def compare_zones(
    path: Path, board: Board, zones: Zones, printer: Printer | None = None
) -> list[str]:
    """Read a template of an outer face and say what of its zones and of the pin is not right.

    That is the gray about its holes, the words beside them, and how low and high the pin may be.
    """
    document = read(path, printer)
    faults = [*_halo_faults(document, board, zones.halos), *_told_faults(document, board, zones)]
    return [f"{path.name}: {fault}" for fault in faults]


def _halo_faults(document: Document, board: Board, halos: Sequence[Halo]) -> Iterator[str]:
    found = [
        polygon
        for page in document.pages
        for polygon in _filled(page)
        if len(polygon) == RAYS  # arrows and boxes have fewer corners
    ]
    for halo in halos:
        for hole in board.holes:
            if halo.side != board.side or halo.name != hole.name:
                continue
            if max(halo.radii, default=0.0) <= SMALLEST:
                continue
            want = [(hole.u + dx, hole.v + dy) for dx, dy in halo.outline()]
            same = [polygon for polygon in found if _alike(polygon, want)]
            found = [polygon for polygon in found if polygon not in same]
            if not same:
                yield f"the zone of {hole.name} is not as it was worked out"
    yield from (f"a zone about {_middle(polygon)} mm that no hole has" for polygon in found)


def compare_map(
    path: Path,
    pin: HingeMap,
    layout: Layout,
    *,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    failures: int = 0,
    printer: Printer | None = None,
) -> list[str]:
    """Read the hinge map and say what on it is not as it was worked out; see ``pdf.compare``."""
    document = read(path, printer)
    wanted = words(ON_THE_MAP, sha256, failures)
    faults = [
        *paper_faults(document, wanted, (0.0, 0.0), paper),
        *_map_faults(document, pin, layout),
    ]
    return [f"{path.name}: {fault}" for fault in faults]


def _map_faults(document: Document, pin: HingeMap, layout: Layout) -> Iterator[str]:
    together = assemble(document.pages)
    yield from together.problems
    yield from mark_faults(together, len(document.pages))
    gray = [polygon for page in document.pages for polygon in _filled(page)]
    for area in pin.areas:
        for a, b in zip(area.corners, (*area.corners[1:], area.corners[0]), strict=True):
            if not _drawn(together.lines, a, b):
                yield f"the border is not drawn from {_said(a)} to {_said(b)} mm"
        if area.signed > 0 and not any(_alike(polygon, area.corners) for polygon in gray):
            yield f"the area about {_middle(area.corners)} mm is not filled as it was worked out"
    yield from _section_faults(together.lines, pin, layout)
    rings = [
        (views[0].x, views[0].y)
        for views in together.circles
        if abs(views[0].diameter - PIN) <= TOLERANCE
    ]
    here = pin.inside
    yield from (
        f"a pin at {_said(ring)} mm that is not known"
        for ring in rings
        if here is None or math.dist(ring, here) > TOLERANCE
    )
    if here is not None and not rings:
        yield f"the pin is not at {_said(here)} mm"


def _section_faults(lines: Sequence[Line], pin: HingeMap, layout: Layout) -> Iterator[str]:
    """Look for the back's section and the two lines that the map is held by, about the window."""
    left, right, low, high = pin.window
    left = min(left, -layout.board("back").thickness - layout.leaf_out)
    wanted = [
        ("face that carries the leaf", (0.0, low), (0.0, high)),
        ("plane that the lid closes on", (left, 0.0), (right, 0.0)),
    ]
    for name, ((x0, y0), _, (x1, y1), _) in closed_back(layout):
        level = max(x0, left), min(x1, right)
        upright = max(y0, low), min(y1, high)
        if upright[0] < upright[1]:
            sides = [x for x in (x0, x1) if left <= x <= right]
            wanted += [(name, (x, upright[0]), (x, upright[1])) for x in sides]
        if level[0] < level[1]:
            sides = [y for y in (y0, y1) if low <= y <= high]
            wanted += [(name, (level[0], y), (level[1], y)) for y in sides]
    for name, a, b in wanted:
        if math.dist(a, b) > TOLERANCE and first_gap(lines, a, b) is not None:
            yield f"the {name} is not drawn from {_said(a)} to {_said(b)} mm"


def _told_faults(document: Document, board: Board, zones: Zones) -> Iterator[str]:
    """Say which words about zones, and which lines of the pin, are wrong.

    A figure after ``center within`` may never be above the least of a zone; on a page that says
    it has no room for figures it may be missing.
    """
    together = assemble(document.pages)
    said = [
        (text.text, (text.x - origin[0], text.y - origin[1]))
        for page in document.pages
        if (origin := zero(page)) is not None
        for text in page.texts
    ]
    confessed = any(text.startswith(NO_ROOM) for text, _ in said)
    yield from _within_faults(board, zones, said, confessed)
    if zones.pin is not None and (board.side, board.kind) == ("back", zones.pin.on):
        yield from _pin_faults(board, zones.pin, said, together.lines)


Said = tuple[str, Point]


def _within_faults(
    board: Board, zones: Zones, said: Sequence[Said], confessed: bool
) -> Iterator[str]:
    least = [
        (hole, zone.least)
        for hole in board.holes
        if hole.face == "outer"
        and (zone := zones.of(board.side, hole.name)) is not None
        and zone.radii
        and not zone.capped
    ]
    figures = [(float(_mm(found)), at) for text, at in said if (found := WITHIN.match(text))]
    for hole, most in least:
        near = [mm for mm, at in figures if math.dist(at, (hole.u, hole.v)) < NEAR]
        if most >= 0.1 + TOLERANCE and not confessed and not any(_tells(mm, most) for mm in near):
            yield f"{hole.name}: how far its center may be off, {most:.2f} mm, is not said"
    for mm, at in figures:
        near = [most for hole, most in least if math.dist(at, (hole.u, hole.v)) < NEAR]
        if not any(_tells(mm, most) for most in near):
            yield f"a center within {mm:.2f} mm at {_said(at)} mm, which no hole there has"


def _mm(found: re.Match[str]) -> Fraction:
    whole, part, unit = found["whole"], found["part"], found["unit"]
    size = Fraction(whole or 0) + Fraction(part or 0)
    return size * Fraction("25.4") if unit == "in" else size


def _tells(mm: float, most: float) -> bool:
    """Whether a figure is one for a zone: no larger, and less by no more than 1/32 in."""
    return mm <= most + 1e-4 and most - mm <= 25.4 / 32 + 1e-4


def _pin_faults(
    board: Board, pin: HingeMap, said: Sequence[Said], lines: Sequence[Line]
) -> Iterator[str]:
    wanted: list[tuple[str, float]] = []
    if pin.inside is not None:
        behind, above = pin.inside
        for low, high in pin.heights(behind):
            if low <= above <= high:
                wanted += [("lower", low)] if low > pin.window[2] + TOLERANCE else []
                wanted += [("higher", high)] if high < pin.window[3] - TOLERANCE else []
    heights = [(word, pin.plane + at) for word, at in wanted]
    for word, y in heights:
        on_it = TOLERANCE < y < board.width - TOLERANCE
        if on_it and first_gap(lines, (0.0, y), (board.long_point, y)) is not None:
            yield f"no line {y:.2f} mm up, than which the hinge's pin may be no {word}"
    for text, (_, y) in said:
        found = NO_FARTHER.fullmatch(text)
        if found and not any(word == found[1] and abs(at - y) < 4 for word, at in heights):
            yield f"{text!r} {y:.2f} mm up, where that is not so"


def _drawn(lines: Sequence[Line], a: Point, b: Point) -> bool:
    """Whether all of a piece of border lies on lines: its ends, and every fifth of it."""
    shares = (i / 5 for i in range(6))
    places = [(a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])) for s in shares]
    return all(any(_off(place, line) <= TOLERANCE for line in lines) for place in places)


def _off(place: Point, line: Line) -> float:
    """Return how far a place is from a line's nearest point, mm."""
    dx, dy, long = line.x2 - line.x1, line.y2 - line.y1, line.length
    along = ((place[0] - line.x1) * dx + (place[1] - line.y1) * dy) / long**2
    share = min(max(along, 0.0), 1.0)
    return math.dist(place, (line.x1 + share * dx, line.y1 + share * dy))


def _filled(page: Page) -> Iterator[tuple[Point, ...]]:
    """Yield what is filled on a page, in the drawing's mm."""
    origin = zero(page)
    if origin is not None:
        for polygon in page.filled:
            yield tuple((x - origin[0], y - origin[1]) for x, y in polygon)


def _alike(polygon: Sequence[Point], want: Sequence[Point]) -> bool:
    return len(polygon) == len(want) and all(
        math.dist(a, b) <= TOLERANCE for a, b in zip(polygon, want, strict=True)
    )


def _middle(polygon: Sequence[Point]) -> str:
    return _said(
        (sum(p[0] for p in polygon) / len(polygon), sum(p[1] for p in polygon) / len(polygon))
    )


def _said(place: Point) -> str:
    return f"{place[0]:.2f}, {place[1]:.2f}"
