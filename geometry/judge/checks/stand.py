"""How the collar stands on the lip: on the hard land, at its rounded corners, and without a gap.

A board that leaves the land stands on soft plastic or on air; it tips, and the seal under it
opens where the lip's corner is rounder than the collar's. Lips are seldom flat: where the seal
does not fill the gap, room air comes in under the board and freezes on the wall of the well.
"""

import math
from collections.abc import Iterator

from ...shape.seat import standing
from ..design import Design
from ..finding import Check, Finding, Where

STAND = Check(
    id="stand",
    weight="must",
    unit="mm",
    question="does the board stand on the hard, flat part of the lip?",
    source="overlap of board and land; at least 12 mm or half the board is common practice",
    levers=("board.overhang", "board.follow", "board.stock"),
)
CORNER = Check(
    id="corner",
    weight="must",
    unit="mm",
    question="is there wood on the lip at its rounded corner?",
    source="contact along the corner's diagonal; at least 12 mm is common practice",
    levers=("board.overhang", "board.stock"),
)
LIP_FLAT = Check(
    id="lip-flat",
    weight="must",
    unit="mm",
    question="does the seal fill the gap under the board?",
    source="free height times working compression, less the gap; 0.5 mm is common practice",
    levers=("seat.seal",),
)


def find_stand(design: Design) -> Iterator[Finding]:
    """Yield, for each side, the least overlap of board and land at its two lip corners."""
    lip = design.project.lip
    missing = design.lacking("lip.land")
    for board in design.layout.boards:
        where = Where(side=board.side)
        if lip.land is None:
            yield STAND.not_checked(where, missing, "how wide the hard part of the lip is")
            continue
        measured = standing(design.project, board)
        required = design.required(STAND.id, max(12.0, board.thickness / 2))
        yield STAND.at_least(where, measured, required, "board and hard land overlap this much")


def find_corner(design: Design) -> Iterator[Finding]:
    """Yield, for each corner, the contact of board and lip along the corner's diagonal."""
    radius = design.project.lip.corner_radius
    boards = design.layout.boards
    for i, corner in enumerate(design.layout.frame.corners):
        over = max(boards[i].over_left, boards[i - 1].over_right)
        q = 1 / math.sin(corner.half_rad)
        off_the_lip = max(0.0, (radius + over) * q - radius)
        measured = boards[i].thickness * q - off_the_lip
        yield CORNER.at_least(
            Where(corner=corner.name),
            measured,
            design.required(CORNER.id, 12.0),
            "this much of the mitered corner stands on the lip",
        )


def find_flat(design: Design) -> Iterator[Finding]:
    """Yield, for each side, what the seal can give beyond the widest gap under the board."""
    project = design.project
    row = project.part("seals", project.seat.seal if project.seat else None)
    for board in design.layout.boards:
        where = Where(side=board.side)
        gap = project.lip.gaps.on(board.side) if project.lip.gaps else None
        if row is None or gap is None:
            missing = design.lacking(f"lip.gaps.{board.side}", "seat.seal")
            yield LIP_FLAT.not_checked(where, missing, "the gap under the board and its seal")
            continue
        takes = row.value("free_height") * row.value("working_compression") / 100
        why = f"the seal takes {design.text(takes)}, the widest gap is {design.text(gap)}"
        yield LIP_FLAT.at_least(where, takes - gap, design.required(LIP_FLAT.id, 0.5), why)
