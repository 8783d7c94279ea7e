"""Full-size templates: one PDF for each part that is bored or cut, on one sheet or many.

A template shows the board's outer face as it lies on the bench. Its edges are fold lines, so the
paper wraps over the edges and finds its own place. Everything is drawn from the board's flat
view; nothing is worked out again. A foam panel's template shows the face that lies on the board,
and is pinned to the panel and cut along.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from math import ceil
from pathlib import Path

from ...geometry.judge.zones import NO_ZONES, Zones
from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...geometry.shape.sheet import Sheet, inner_sheet, panel_sheet, plate_sheet
from ...params.units import Show, both_text
from ..paper.marks import Page, Window, moved
from ..paper.pdf import write_pdf
from ..paper.printed import Printed, ways
from ..paper.sizes import Paper
from . import foam, hinge, saw_ring, test_page
from .drilling import FLAP, draw
from .furniture import (
    FEW_WARNINGS,
    MOST_WARNINGS,
    Facts,
    Frame,
    Job,
    furniture,
    page_around,
)
from .labels import hole_box
from .miters import ends_of
from .tiles import Cuts, Tile, Tiling, cut

FOLDER = "templates"


@dataclass(frozen=True, slots=True)
class Plan:
    """The page that a template is printed on, and how it is cut into sheets."""

    frame: Frame
    tiling: Tiling


@dataclass(frozen=True, slots=True)
class Reach:
    """What of a flat view goes on paper, from ``left`` to ``right``, mm.

    ``flap`` is how much paper is folded over the lower and over the upper edge.
    """

    left: float
    right: float
    flap: float = FLAP


@dataclass(frozen=True, slots=True)
class Template:
    """One file: its name without the ending, its title, and how its pages are laid out."""

    name: str
    title: str
    pages: Callable[[], list[Page]]


def write(
    layout: Layout,
    root: Path,
    *,
    show: Show,
    paper: str,
    title: str,
    sha256: str,
    warnings: tuple[str, ...] = (),
    zones: Zones = NO_ZONES,
    printed: Printed | None = None,
) -> list[str]:
    """Write a template for each part with holes, or with joints in its miters, and two test pages.

    Args:
        layout: the design.
        root: the folder that ``templates/`` goes in.
        show: the unit that comes first on paper.
        paper: one of ``paper.PAPER_NAMES``.
        title: the build file's.
        sha256: the build file's hash.
        warnings: one line for each *must* that fails, printed large on every page.
        zones: where holes and the hinge's pin may lie.
        printed: what the printer makes of 100 mm; None for a true one.

    Returns:
        The files written, relative to ``root``.

    Raises:
        ValueError: no such paper.
    """
    job = Job(
        title=title, sha256=sha256, show=show, warnings=warnings, zones=zones, printed=printed
    )
    written: list[str] = []
    for each in templates(layout, paper, job):
        path = root / FOLDER / f"{each.name}.pdf"
        path.parent.mkdir(parents=True, exist_ok=True)
        write_pdf(each.pages(), path, f"{each.title}: {title}", f"build file {sha256}")
        written.append(path.relative_to(root).as_posix())
    return written


def templates(layout: Layout, paper: str, job: Job) -> Iterator[Template]:
    """Yield every template that a build writes, kind by kind.

    What is written is read back by the file's name: a new kind needs a line in ``verify`` too.
    """
    yield from outer_faces(layout, paper, job)
    yield from inner_faces(layout, paper, job)
    yield from board_ends(layout, paper, job)
    yield from foam_panels(layout, paper, job)
    yield from hinge_maps(layout, paper, job)
    yield Template(test_page.NAME, test_page.TITLE, lambda: [test_page.page(paper, job)])
    yield Template(saw_ring.NAME, saw_ring.TITLE, lambda: [saw_ring.page(layout, paper, job)])


def _plates(layout: Layout, show: Show) -> Iterator[tuple[Board, Sheet]]:
    """Yield the boards and covers with their outer faces."""
    for board in (*layout.boards, *layout.covers):
        yield board, plate_sheet(layout, board, show)


def outer_faces(layout: Layout, paper: str, job: Job) -> Iterator[Template]:
    """Yield the outer face of each board or cover with holes, or with joints in its miters."""
    names = hole_names(layout)
    for board, sheet in _plates(layout, job.show):
        if sheet.circles or board.slots:
            yield Template(sheet.name, _title(sheet), partial(template, sheet, paper, job, names))


def inner_faces(layout: Layout, paper: str, job: Job) -> Iterator[Template]:
    """Yield the inner face of each board with anything bored through it or drilled from inside.

    A cover's inner face lies on its board; it has one only where it is drilled from that face.
    """
    names = hole_names(layout)
    for board in (*layout.boards, *layout.covers):
        drilled = any(hole.face != "outer" for hole in board.holes)
        if not drilled and board.kind == "cover":
            continue
        sheet = inner_sheet(board)
        if sheet.circles:
            title = f"{_title(sheet)}, inner face"
            yield Template(sheet.name, title, partial(template, sheet, paper, job, names))


def board_ends(layout: Layout, paper: str, job: Job) -> Iterator[Template]:
    """Yield both ends of each mitered board that has no template of its whole outer face."""
    for board, sheet in _plates(layout, job.show):
        if ends_of(sheet) and not (sheet.circles or board.slots):
            title = f"{_title(sheet)}, ends"
            yield Template(f"{sheet.name}-ends", title, partial(ends_template, sheet, paper, job))


def foam_panels(layout: Layout, paper: str, job: Job) -> Iterator[Template]:
    """Yield each foam panel that something is cut into, where anything of it is left."""
    names = hole_names(layout)
    for panel in layout.panels:
        sheet = panel_sheet(layout, panel.side, job.show)
        if sheet.holes and any(contour.layer == "OUTLINE" for contour in sheet.contours):
            yield Template(sheet.name, _title(sheet), partial(template, sheet, paper, job, names))


def hinge_maps(layout: Layout, paper: str, job: Job) -> Iterator[Template]:
    """Yield the map of where the hinge's pin may lie, where there is one."""
    pin = job.zones.pin
    if pin is not None:
        yield Template(hinge.NAME, hinge.TITLE, partial(hinge.pages, layout, pin, paper, job))


def hole_names(layout: Layout) -> dict[str, str]:
    """Return what the taps' bores are called in print: ``tap 1``, ``tap 2, cold coffee``."""
    names: dict[str, str] = {}
    for tap in layout.taps:
        plain = f"tap {tap.number}"
        names[tap.hole.name] = plain if tap.name in ("", plain) else f"{plain}, {tap.name}"
    return names


def write_sheet(
    sheet: Sheet, path: Path, paper: str, job: Job, names: Mapping[str, str] | None = None
) -> None:
    """Write the template of one flat view."""
    pages = template(sheet, paper, job, names or {})
    write_pdf(pages, path, f"{_title(sheet)}: {job.title}", f"build file {job.sha256}")


def template(sheet: Sheet, paper: str, job: Job, names: Mapping[str, str]) -> list[Page]:
    """Lay out the pages of one template."""
    plan = plan_pages(sheet, paper, len(job.warnings), printed=job.printed)
    return [_page(sheet, plan, tile, job, names) for tile in plan.tiling.tiles()]


END = 90.0
"""How much of a board stands on the template of its ends, mm: room for the saw's lines, for what
is said of them, and for tape (common practice, no source)."""

END_PAST = 45.0
"""At least so much of it beyond the end of the inner face, mm."""


END_FLAP = 5.0
"""How far the paper of an end goes on from the board's edge over the other face, mm."""


def ends_template(sheet: Sheet, paper: str, job: Job) -> list[Page]:
    """Lay out the mitered ends of a board, each by itself.

    As much of the edges is folded over as the paper has room for, all of them where it has.
    """
    ends = ends_of(sheet)
    far = max((end.run * sheet.thickness + END_PAST for _, _, end in ends), default=0.0)
    long = min(max(END, far), sheet.length)
    plans: list[Plan] = []
    for less in range(ceil(sheet.thickness / END_FLAP) + 1):
        flap = max(sheet.thickness - (less - 1) * END_FLAP, FLAP)
        reaches = (
            (-FLAP, long) if left else (sheet.length - long, sheet.length + FLAP)
            for left, _, _ in ends
        )
        plans = [
            plan_pages(sheet, paper, len(job.warnings), Reach(*reach, flap), job.printed)
            for reach in reaches
        ]
        if all(plan.tiling.count == 1 for plan in plans):
            break
    counts = [plan.tiling.count for plan in plans]
    pages: list[Page] = []
    letters = 0
    for i, plan in enumerate(plans):
        tiling = replace(
            plan.tiling, before=sum(counts[:i]), after=sum(counts[i + 1 :]), letters=letters
        )
        letters += len(tiling.columns.seams) + len(tiling.rows.seams)
        there = replace(plan, tiling=tiling)
        left, _, end = ends[i]
        of = f"{'left' if left else 'right'} end, {end.corner} corner"
        pages += [_page(sheet, there, tile, job, {}, of) for tile in tiling.tiles()]
    return pages


def whole(sheet: Sheet) -> Reach:
    """Return all of a part, with the blank's ends beyond an inner face."""
    left, right = sheet.beyond
    return Reach(-left - FLAP, sheet.length + right + FLAP)


def plan_pages(
    sheet: Sheet,
    paper: str,
    warnings: int = 0,
    reach: Reach | None = None,
    printed: Printed | None = None,
) -> Plan:
    """Choose which way round the paper lies, and cut the template into sheets.

    Without ``reach`` all of the part goes on paper.

    First that no hole is cut, then that no sheet holds a sliver, then the fewest sheets, then the
    fewest rows of them, then the most lines for failures, then the least paper.

    Raises:
        ValueError: no such paper.
    """
    seen = reach or whole(sheet)
    plans = [
        plan
        for each in _ways(sheet, seen, paper, warnings, printed)
        for plan in _cut(sheet, seen, each, warnings)
    ]
    return min(plans, key=lambda plan: (*_rank(plan.tiling), -plan.frame.lines, _area(plan.frame)))


def _ways(
    sheet: Sheet, seen: Reach, paper: str, warnings: int, printed: Printed | None
) -> tuple[Paper, ...]:
    """Return the pages that a template may be printed on: both ways round, or as long as it is."""
    most = min(warnings, MOST_WARNINGS)
    page = page_around(seen.right - seen.left, sheet.width + 2 * seen.flap, most)
    return ways(paper, page.width, page.height, printed)


def _area(frame: Frame) -> float:
    return frame.width * frame.height


def _rank(tiling: Tiling) -> tuple[int, float, int, int]:
    return tiling.split, round(tiling.thin, 3), tiling.count, tiling.rows.count


def _cut(sheet: Sheet, seen: Reach, paper: Paper, warnings: int) -> Iterator[Plan]:
    """Cut a template for paper that lies one way, with more and with fewer lines for failures."""
    boxes = [hole_box(circle) for circle in sheet.circles]
    if sheet.kind == "foam":
        boxes = foam.kept(sheet)
    across, up = [(box.x0, box.x1) for box in boxes], [(box.y0, box.y1) for box in boxes]
    columns: Cuts | None = None
    for lines in range(min(warnings, MOST_WARNINGS), min(warnings, FEW_WARNINGS) - 1, -1):
        frame = Frame(paper.width, paper.height, lines, paper.scale)
        _, _, wide, high = frame.window
        columns = columns or cut(seen.left, seen.right, wide, across, FLAP)
        rows = cut(-seen.flap, sheet.width + seen.flap, high, up, seen.flap)
        yield Plan(frame, Tiling(columns, rows))


def lower(sheet: Sheet, show: Show) -> str:
    """Say how far a cover's bottom edge lies below its board's; empty where it does not."""
    if sheet.low < 0.05:
        return ""
    return (
        f"the cover's bottom edge lies {both_text(sheet.low, show)} below the board's bottom edge"
    )


def _title(sheet: Sheet) -> str:
    return f"{sheet.side} {'foam panel' if sheet.kind == 'foam' else sheet.kind}"


def _page(
    sheet: Sheet, plan: Plan, tile: Tile, job: Job, names: Mapping[str, str], end: str = ""
) -> Page:
    frame, tiling = plan.frame, plan.tiling
    x, y, wide, high = frame.window
    (x0, x1), (y0, y1) = tile.shown_x, tile.shown_y
    spare_x = (wide - (x1 - x0)) / 2 if tiling.columns.count == 1 else 0.0
    spare_y = (high - (y1 - y0)) / 2
    zero = round(x + spare_x - x0, 3), round(y + spare_y - y0, 3)
    drawing = foam.draw if sheet.kind == "foam" else partial(draw, zones=job.zones)
    drawn, notes = drawing(sheet, tiling, tile, job.show, names)
    inside = tuple(moved(mark, *zero) for mark in drawn)
    window = Window(x0 + zero[0], y0 + zero[1], x1 - x0, y1 - y0, inside)
    facts = Facts(
        name=f"{_title(sheet)}".capitalize(),
        face="outer face",
        seen="outer face up, seen from outside",
        length=sheet.length,
        width=sheet.width,
        zero=zero,
        notes=notes,
        below="body" if sheet.kind == "cover" else "lip",
        remark=lower(sheet, job.show),
    )
    if sheet.face == "inner":
        facts = _of_inner_face(facts)
    if end:
        facts = _of_end(facts, end, job.show)
    if sheet.kind == "foam":
        facts = _of_foam(facts, sheet, job.show)
    marks = (window, *furniture(frame, tiling, tile, facts, job))
    return Page(frame.width, frame.height, marks, frame.scale)


def _of_inner_face(facts: Facts) -> Facts:
    """Return what the page of an inner face says: it cannot be taken for the outer one."""
    said = "inner face, seen from inside: mirrored"
    return replace(
        facts, face="inner face", seen=said, from_="inside: mirrored",
        remark=f"{said}. {facts.remark}" if facts.remark else said,
    )  # fmt: skip


def _of_end(facts: Facts, end: str, show: Show) -> Facts:
    """Return what the page of an end alone says."""
    return replace(
        facts,
        seen=f"outer face up; the board: {both_text(facts.length, show)}",
        remark=f"{end}. {facts.remark}" if facts.remark else end,
        work="sawing",
        how="fold at the edges, tape it down, saw along the miter lines; outer face up, the blade's"
        " top leans over the waste",
    )


def _of_foam(facts: Facts, sheet: Sheet, show: Show) -> Facts:
    """Return what a foam panel's page says instead of a board's."""
    return replace(
        facts,
        face="",
        seen="face on the board up, seen from outside",
        remark=f"left end {both_text(sheet.start, show)} from the board's left long point",
        foot="lower",
        work="cutting",
        how="pin to the foam, cut with an upright knife; crosses are centers",
    )
