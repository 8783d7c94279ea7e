"""Between collar and lip: seal, adhesive or sealant, tape, cleats."""

import math
from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import Row
from ....params.units import convert
from ...handbook.beads import bead_count
from ...shape.frame import Board
from ..shown import PRACTICE
from .fixings import CLEATS_A_SIDE, cleat_thickness
from .item import Item, Job

GROUP = "lip"

BUTTED = 5.0
"""Added to seals and tapes, percent (common practice): their ends are cut once more."""


def at_the_lip(job: Job) -> Iterator[Item]:
    """Yield what is asked for under the boards."""
    seat = job.project.seat
    if seat is None:
        return
    around = perimeter(job.layout.boards)
    if seat.hold in ("adhesive", "sealant", "tape"):
        yield Item(
            id="degreaser",
            group=GROUP,
            name="degreaser that the lip bears, and clean rags",
            net=1,
            basis="common practice",
            source=PRACTICE,
            why="nothing holds on a greasy lip; try it on a hidden spot",
        )
    seal = job.project.part("seals", seat.seal)
    if seal is not None:
        yield _tape(job, seal.id, seal.name, around, "under the boards, all round")
    row = supplies.lip_adhesive(job.project)
    width = job.layout.held_width
    if row is not None and width:
        beads = bead_count(width, row.value("bead"))
        yield cartridges(
            row,
            GROUP,
            beads * around,
            f"{beads} bead{'' if beads == 1 else 's'} all round, pressed to a width of"
            f" {job.length(width)}",
            f"holds the collar on the lip: {row.text('note')}; try it on a hidden spot first"
            if row.text("note")
            else "holds the collar on the lip; try it on a hidden spot first",
        )
    elif seat.hold == "tape" and width:
        name = f"double-sided mounting tape, {job.length(width)} wide"
        yield _tape(job, "mounting-tape", name, around, "holds the collar on the lip")
    elif seat.hold == "cleats":
        yield Item(
            id="cleat",
            group=GROUP,
            name=f"cleat, a block of hardwood {job.length(cleat_thickness(job))} thick",
            net=CLEATS_A_SIDE * len(job.layout.boards),
            basis="common practice",
            source=f"{CLEATS_A_SIDE} a side: {PRACTICE}",
            why="on the boards' inner faces, down into the well: keeps the collar from sliding and"
            " holds nothing down; never screwed to the freezer",
        )


def perimeter(boards: tuple[Board, ...]) -> float:
    """Return the way round along the middle of the boards' thickness, mm."""
    return sum((each.long_point + each.short_point) / 2 for each in boards)


def cartridges(row: Row, group: str, length: float, rule: str, why: str) -> Item:
    """Return what a bead of a length takes: round, of the row's diameter, and the hand's excess."""
    bead, over = row.figures["bead"], row.figures.get("over")
    return Item(
        id=row.id,
        group=group,
        name=f"{row.name}, {row.value('cartridge'):g} mL",
        unit="mL",
        net=math.pi / 4 * bead.value**2 * length / 1000,
        allowance=over.value if over else 0.0,
        pack=row.value("cartridge"),
        pack_name="cartridge",
        basis=bead.basis,
        source=f"{convert(length, 'mm', 'm'):.1f} m of a round bead of {bead.value:g} mm ({rule};"
        f" {bead.source})" + (f"; excess: {over.source}" if over else ""),
        why=why,
    )


def _tape(job: Job, part_id: str, name: str, length: float, why: str) -> Item:
    return Item(
        id=part_id,
        group=GROUP,
        name=name,
        unit="mm",
        net=length,
        allowance=BUTTED,
        pack=None,
        basis="common practice",
        source=f"along the middle of the boards, all round; allowance {PRACTICE}",
        why=why,
    )
