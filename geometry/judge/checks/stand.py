"""How the collar stands on the lip: on the hard land all along, and at the rounded corners.

A board that leaves the land stands on soft plastic or on air; it tips, and the seal under it
opens where the lip's corner is rounder than the collar's.
"""

import math
from collections.abc import Iterator

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


def find_stand(design: Design) -> Iterator[Finding]:
    """Yield, for each side, the least overlap of board and land at its two lip corners."""
    lip = design.project.lip
    missing = design.lacking("lip.land")
    for board in design.layout.boards:
        where = Where(side=board.side)
        if lip.land is None:
            yield STAND.not_checked(where, missing, "how wide the hard part of the lip is")
            continue
        start, end = lip.land_starts, lip.land_starts + lip.land
        measured = min(
            min(board.thickness - over, end) - max(-over, start)
            for over in (board.over_left, board.over_right)
        )
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
