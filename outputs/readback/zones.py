"""Reads back where holes and the hinge's pin may lie: gray zones, and the hinge map's border."""

import math
from collections.abc import Iterator, Sequence
from pathlib import Path

from ...geometry.judge.halo import RAYS, Halo
from ...geometry.judge.hinge_map import HingeMap
from ...geometry.shape.frame import Board
from .pdf import FAILING, Document, Size, mark_faults, paper_faults, read
from .pdf_page import Line, Page, Point
from .pdf_parts import TOLERANCE, assemble, zero
from .printer import Printer

SMALLEST = 0.05
"""A zone that is nowhere wider than this may be left out, mm."""

PIN = 2.0
"""Diameter of the ring about the pin, mm."""

ON_THE_MAP = (
    "hinge map",
    "up: lid",
    "print at actual size, 100 %",
    "measure this before marking: 100 mm and 4 in",
)


def compare_halos(
    path: Path, board: Board, halos: Sequence[Halo], printer: Printer | None = None
) -> list[str]:
    """Read a template of an outer face and say which zones on it are not those of its holes."""
    found = [
        polygon
        for page in read(path, printer).pages
        for polygon in _filled(page)
        if len(polygon) == RAYS  # arrows and boxes have fewer corners
    ]
    faults: list[str] = []
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
                faults.append(f"{path.name}: the zone of {hole.name} is not as it was worked out")
    faults += [
        f"{path.name}: a zone about {_middle(polygon)} mm that no hole has" for polygon in found
    ]
    return faults


def compare_map(
    path: Path,
    pin: HingeMap,
    *,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    failures: int = 0,
    printer: Printer | None = None,
) -> list[str]:
    """Read the hinge map and say what on it is not as it was worked out; see ``pdf.compare``."""
    document = read(path, printer)
    wanted = [*ON_THE_MAP, *([f"build file {sha256[:12]}"] if sha256 else [])]
    wanted += [FAILING] if failures else []
    faults = [*paper_faults(document, wanted, (0.0, 0.0), paper), *_map_faults(document, pin)]
    return [f"{path.name}: {fault}" for fault in faults]


def _map_faults(document: Document, pin: HingeMap) -> Iterator[str]:
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
    if here is not None and not any(math.dist(ring, here) <= TOLERANCE for ring in rings):
        yield f"the pin is not at {_said(here)} mm"


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
