"""Brackets, screws by size and count, bolts: none so long that it comes out of the wood."""

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ....params.catalogue import load
from ....params.units import INCH
from ...shape.frame import Board
from ...shape.hole import BRACKET_SET_OUT, Hole
from ...shape.joints import LEAST_WOOD
from ...shape.screws import PILOT_DEPTH_SHARE, pilot_depth
from ...shape.tray import screws as tray_screws
from ...shape.tray import side_of, under
from ..shown import PRACTICE, Shown
from .item import COUNTED, Item, Job

GROUP = "fixings"

SPARES = 10.0
"""Added to screws, percent (common practice): one drops into the well."""

POINT = 3.0
"""How far a wood screw's point makes its own way beyond the pilot, mm (common practice)."""

INCHES = (3 / 8, 1 / 2, 5 / 8, 3 / 4, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 3)
"""Lengths that wood screws are sold in, in (from memory)."""

MILLIMETERS = (10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80)
"""The same, mm (from memory)."""

SOLD = "lengths on sale: from memory"

MANIFOLD_SCREWS = 2
"""Screws of a gas bar, one at each end (common practice)."""

CLEATS_A_SIDE = 2
"""Cleats on each side (common practice, no source)."""

HOOK = 20.0
"""How thick a cleat is where it hangs down inside the lip, mm (common practice, no source)."""

CLEAT_SCREW, CLEAT_SCREWS = "wood-screw-no-8", 2
"""What holds a cleat, and how many: with two it does not turn (common practice, no source)."""

NUT = 1.2
"""What a bolt needs beyond what it holds, over its diameter: nut and a thread or two (ISO 4032,
from memory: a nut is 0.8 to 0.9 of the diameter)."""

WASHER = 2.0
"""Thickness of the washer under a bolt's nut, mm (common practice)."""


def fixings(job: Job) -> Iterator[Item]:
    """Yield brackets, screws and bolts."""
    yield from _brackets(job)
    yield from _cleats(job)
    yield from _hinge(job)
    yield from _manifold(job)
    yield from _tray(job)


def longest(job: Job, limit: float) -> float:
    """Return the longest screw on sale that is no longer than a limit, mm; 0 where none is."""
    sold = [each * INCH for each in INCHES] if job.show == "in" else [float(x) for x in MILLIMETERS]
    return max((each for each in sold if each <= limit + 1e-9), default=0.0)


def _screws(job: Job, screw: str, name: str, count: int, limit: float, why: str) -> Item:
    """Return screws of the longest length that ends in its pilot, 3 mm before the other face.

    In wood so thin that none on sale does, that is said in place of a length.
    """
    length = longest(job, limit)
    none = f"none is as short as {job.length(limit)}: take bolts, or put a block behind the wood"
    return Item(
        id=f"{screw}-{job.slug(length)}" if length else f"{screw}-too-long",
        group=GROUP,
        name=f"{name}, {job.length(length)}" if length else f"{name}: {none}",
        net=count,
        allowance=SPARES,
        source=f"counted in the layout; at least {job.length(LEAST_WOOD)} of wood beyond the tip,"
        f" the pilot as deep as the screw but for its point; {SOLD}; spares {PRACTICE}",
        why=f"{why}; no longer than {job.length(limit)} from under the head",
    )


def _brackets(job: Job) -> Iterator[Item]:
    row = job.project.part("brackets", job.project.board.bracket if job.layout.brackets else None)
    if row is None:
        return
    yield Item(
        id=row.id,
        group=GROUP,
        name=row.name,
        net=len(job.layout.brackets) / 2,  # two legs each
        why="one in each inner corner",
    )
    pilots = [
        hole
        for board in job.layout.boards
        for hole in board.holes
        if hole.name.startswith(BRACKET_SET_OUT)
    ]
    screw = job.project.part("screws", row.text("screw") or None)
    if pilots and screw is not None:
        limit = row.value("thickness") + _deep(pilots, job.layout.boards[0].thickness)
        yield _screws(job, screw.id, screw.name, len(pilots), limit, "brackets to boards")


def _deep(pilots: Sequence[Hole], wood: float) -> float:
    """Return how deep a screw may go, mm: its point to the pilot's end, and never through.

    Beyond its pilot it splits hard wood, or breaks.
    """
    ends = (hole.depth for hole in pilots if hole.depth is not None)
    return _to_the_end(min(ends, default=wood), wood)


def _to_the_end(pilot: float, wood: float) -> float:
    """Return how deep a screw may go into a pilot of a depth, in wood of a thickness, mm."""
    return min(wood - LEAST_WOOD, pilot + POINT)


def cleat_pilot(board: Board) -> float:
    """Return how deep the pilot of a cleat's screw goes into a board, mm."""
    return PILOT_DEPTH_SHARE * board.thickness


def cleat_thickness(job: Shown) -> float:
    """Return how thick cleats are, mm: as the boards, and past the lip where it reaches farther in.

    What is known of the lip is its hard land; without ``lip.land`` they are as the boards.
    """
    lip, boards = job.project.lip, job.layout.boards
    if lip.land is None:
        return boards[0].thickness
    overs = (over for board in boards for over in (board.over_left, board.over_right))
    beyond = lip.land_starts + lip.land + max(overs) - boards[0].thickness
    return max(boards[0].thickness, beyond + HOOK)


def cleat_screw(job: Shown) -> float:
    """Return the most that a cleat's screw may measure from under its head, mm.

    It goes through the cleat and ends in its pilot, before the board's outer face.
    """
    board = job.layout.boards[0]
    return cleat_thickness(job) + _to_the_end(cleat_pilot(board), board.thickness)


def cleat_screws(job: Job) -> int:
    """Return how many screws hold the cleats; none where there are no cleats."""
    seat = job.project.seat
    cleats = seat is not None and seat.hold == "cleats"
    return CLEATS_A_SIDE * CLEAT_SCREWS * len(job.layout.boards) if cleats else 0


def _cleats(job: Job) -> Iterator[Item]:
    count = cleat_screws(job)
    if count:
        screw, limit = load("screws")[CLEAT_SCREW], cleat_screw(job)
        item = _screws(job, screw.id, screw.name, count, limit, "cleats to boards")
        yield replace(
            item,
            basis="common practice",
            source=item.source.replace(COUNTED, f"{CLEAT_SCREWS} a cleat: {PRACTICE}"),
        )


def _hinge(job: Job) -> Iterator[Item]:
    hinge = job.project.hinge
    if hinge is None or not hinge.positions or not hinge.screws:
        return
    count = len(hinge.positions) * hinge.screws
    back = job.layout.board("back")
    wood = job.layout.leaf_out + back.thickness + (hinge.backing or 0.0)
    leaf = hinge.leaf_thickness or 0.0
    screw = job.project.part("screws", hinge.screw)
    if hinge.fix == "bolt":
        if hinge.bolt is not None:
            yield from _bolts(job, hinge.bolt, hinge.bolt_washer, leaf + wood, count)
    elif screw is not None and hinge.screw_length is not None:
        yield Item(
            id=f"{screw.id}-{job.slug(hinge.screw_length)}",
            group=GROUP,
            name=f"{screw.name}, {job.length(hinge.screw_length)}",
            net=count,
            allowance=SPARES,
            source=f"counted in the layout, as long as hinge.screw_length; spares {PRACTICE}",
            why="the hinge's leaves to the back board",
        )
    elif screw is not None:
        limit = leaf + _to_the_end(pilot_depth(job.project, wood), wood)
        yield _screws(
            job, screw.id, screw.name, count, limit, "the hinge's leaves to the back board"
        )


def _bolts(
    job: Job, across: float, washer: float | None, grip: float, count: int
) -> Iterator[Item]:
    step = INCH / 4 if job.show == "in" else 5.0
    length = math.ceil((grip + WASHER + NUT * across) / step - 1e-9) * step
    yield Item(
        id=f"bolt-{job.slug(across)}-{job.slug(length)}",
        group=GROUP,
        name=f"bolt {job.length(across)} x {job.length(length)} with nut, stainless",
        net=count,
        source=f"counted in the layout; {job.length(grip)} of leaf and wood, washer, nut and a"
        " thread or two: from memory",
        why="the hinge's leaves through the back board",
    )
    size = f", {job.length(washer)} across" if washer else ""
    yield Item(
        id="bolt-washer",
        group=GROUP,
        name=f"washer or stiff plate for a bolt of {job.length(across)}{size}",
        net=count,
        why="under each bolt's nut, on the wood inside",
    )


def _manifold(job: Job) -> Iterator[Item]:
    manifold, asked = job.layout.manifold, job.project.manifold
    if manifold is None:
        return
    row = job.project.part("manifolds", asked.kind if asked else None)
    suits = row.text("mount_screw") if row else ""
    gauge = re.match(r"no\. \d+", suits)
    kind = f"{gauge[0]} pan-head screw" if gauge else "screw that suits the manifold's holes"
    limit = job.layout.board(manifold.side).thickness - LEAST_WOOD
    item = _screws(job, "manifold-screw", kind, MANIFOLD_SCREWS, limit, "the manifold to its board")
    yield replace(
        item,
        basis="common practice",
        source=item.source.replace(COUNTED, f"{MANIFOLD_SCREWS} a gas bar: {PRACTICE}"),
    )


def _tray(job: Job) -> Iterator[Item]:
    tray, side = job.project.tray, side_of(job.project)
    if tray is None or side is None:
        return
    board = job.layout.board(side)
    cover = under(board, job.layout.covers, job.project)
    pilots = tray_screws(job.project, board, cover)
    wood = board.thickness + (cover.thickness if cover else 0.0)
    name = f"round-head screw for a pilot of {job.bit(tray.pilot)}"
    limit = _deep(pilots, wood)
    yield _screws(job, "tray-screw", name, len(pilots), limit, "the drip tray to the collar")
