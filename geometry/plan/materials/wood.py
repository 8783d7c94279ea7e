"""Wood: boards by the cut plan, covers, what holds the miters, cap strip, backing blocks."""

from collections.abc import Iterator

from ...shape.frame import Board
from ...shape.saw_ring import SCRAP, SCRAP_TEXT, SCRAPS
from ..cutting import STEP, OnSale, up
from ..cutting.boards import asked, section
from ..shown import PRACTICE
from .item import Item, Job

GROUP = "wood"

WASTE = 15.0
"""Added to boards without a cut plan, percent (common practice: 10 to 20 % for kerfs and ends)."""

STRIP_WASTE = 10.0
"""Added to strips that are mitered, percent (common practice)."""

SPOILT = 10.0
"""Added to biscuits and dowels, percent (common practice): one swells, one drops."""


def wood(job: Job) -> Iterator[Item]:
    """Yield what is sawn."""
    boards = job.layout.boards
    planned = job.boards is not None
    if planned:
        yield from _sticks(job)
    else:
        yield _running(job, "boards", boards)
    apart = [
        each for each in job.layout.covers if not planned or section(each) != section(boards[0])
    ]
    if apart:
        yield _running(job, "cover-boards", tuple(apart))
    yield from _ring(job)
    yield from _joints(job)
    yield from _cap(job)
    yield from _backing(job)


def _size(job: Job, board: Board) -> str:
    return f"{job.length(board.thickness)} x {job.length(board.width)}"


def _species(job: Job) -> str:
    """Say which wood, and that its sizes are those of the planed board."""
    row = job.project.part("species", job.project.board.species)
    named = row.name if row else "wood not chosen yet: give board.species"
    return f"planed to that size; {named}"


def _sticks(job: Job) -> Iterator[Item]:
    """Yield the sticks to buy by length; those that lie in the shop are not bought."""
    assert job.boards is not None
    counts: dict[OnSale, int] = {}
    owned = 0
    for cut in job.boards.cuts:
        if isinstance(cut.stick, OnSale):
            counts[cut.stick] = counts.get(cut.stick, 0) + 1
        else:
            owned += 1
    stock = job.project.board.stock or "boards"
    enough = job.layout.ring.off_deg is None and ring_scraps_left(job) >= SCRAPS
    ring = "; their right ends, sawn off first, give the test ring's scraps" if enough else ""
    for stick, count in sorted(counts.items(), key=lambda pair: -pair[0].length):
        length = stick.length * STEP
        yield Item(
            id=f"{stock}-{job.slug(length)}",
            group=GROUP,
            name=f"board {_size(job, job.layout.boards[0])}, {job.length(length)} long,"
            f" {_species(job)}{ring}",
            net=count,
            why="the collar's boards, as the cut plan has them"
            + (f"; {owned} more lie in the shop" if owned else ""),
            source="the cut plan, kerfs and trims counted",
            price=stick.price / 100 if job.stick_prices else None,
        )


def ring_scraps_left(job: Job) -> int:
    """Count the test ring's scraps that come out of the right ends of the planned sticks.

    They are sawn off before the boards, from what lies behind the last board with its cut and
    behind the last flaw, up to the trim.
    """
    if job.boards is None:
        return 0
    what = asked(job.project, [job.layout]).job
    stock = job.project.stock
    kerf = up(stock.kerf) if stock else 0
    found = 0
    for cut in job.boards.cuts:
        placed = cut.pieces[-1]
        piece = what.pieces[placed.piece]
        behind = placed.start + piece.length + piece.cut_behind(placed.turned)
        begin = max([behind, *(each.end for each in getattr(cut.stick, "flaws", ()))])
        # the cut that frees the last scrap from the trimmed end is the trim's own
        found += max(0, cut.stick.length - what.trim - begin + kerf) // (up(SCRAP) + kerf)
    return found


def _ring(job: Job) -> Iterator[Item]:
    """Yield the test ring's scraps where no ring was cut and the sticks do not leave them."""
    left = ring_scraps_left(job)
    lacking = SCRAPS - left
    if job.layout.ring.off_deg is not None or lacking <= 0:
        return
    yield Item(
        id="ring-scrap",
        group=GROUP,
        name=f"scrap of the same board, {_size(job, job.layout.boards[0])}, {SCRAP_TEXT} long or"
        " longer" + (f"; {left} more from the sticks' right ends, sawn off first" if left else ""),
        net=lacking,
        basis="common practice",
        source=f"{SCRAPS} scraps of {SCRAP_TEXT}: {PRACTICE}; less what the sticks leave at"
        " their right ends, by the cut plan",
        why="the saw's test ring, cut before the boards; only its thickness matters",
    )


def _running(job: Job, part_id: str, boards: tuple[Board, ...]) -> Item:
    return Item(
        id=part_id,
        group=GROUP,
        name=f"board {_size(job, boards[0])}, running length, {_species(job)}",
        unit="mm",
        net=sum(each.long_point for each in boards),
        allowance=WASTE,
        pack=None,
        basis="common practice",
        source=f"sum of the long points; waste {PRACTICE}",
        why=" ".join(each.name for each in boards) + ": no cut plan for them",
    )


def _joints(job: Job) -> Iterator[Item]:
    found = job.layout.joints
    if not found:
        return
    one = found[0]
    if one.kind == "spline":
        part_id, allowance = "spline", 0.0
        size = " x ".join(job.length(mm) for mm in (one.long, one.wide, one.thick))
        name = f"spline {size}, grain across the joint, or plywood"
    elif one.kind == "biscuit":
        part_id, allowance, name = "biscuit-no-20", SPOILT, "biscuit no. 20"
    else:
        part_id, allowance = f"dowel-{job.slug(one.thick)}", SPOILT
        name = (
            f"dowel {job.length(one.thick)} across, cut to {job.length(one.wide)} from rod or from"
            " longer ones, fluted"
        )
    yield Item(
        id=part_id,
        group=GROUP,
        name=name,
        net=len(found),
        allowance=allowance,
        why="beside the glue in the miters",
        source="counted in the layout" + (f"; spares {PRACTICE}" if allowance else ""),
    )


def _cap(job: Job) -> Iterator[Item]:
    strips, cap = job.layout.strips, job.layout.cap
    if cap is None:
        return
    material = "steel" if cap.steel else "wood"
    yield Item(
        id=f"cap-strip-{material}",
        group=GROUP,
        name=f"{material} strip {job.length(cap.thickness)} x {job.length(cap.width)}",
        unit="mm",
        net=sum(each.long_point for each in strips),
        allowance=STRIP_WASTE,
        pack=None,
        basis="common practice",
        source=f"sum of the long points; waste {PRACTICE}",
        why="on the boards' top edges, for the lid's gasket",
    )


def _backing(job: Job) -> Iterator[Item]:
    hinge = job.project.hinge
    if hinge is None or not hinge.backing or not hinge.positions:
        return
    sizes = [hinge.leaf_width, hinge.leaf_height, hinge.backing]
    size = " x ".join(job.length(each) for each in sizes if each)
    yield Item(
        id="backing-block",
        group=GROUP,
        name=f"block of hardwood or plywood, {size}",
        net=len(hinge.positions),
        why="behind the back board, for the hinge's screws",
    )
