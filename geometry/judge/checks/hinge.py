"""Each hinge leaf on the back board: does it fit, do its screws split the wood or come through?

A leaf is set out on the board's outer face and hangs from its top edge; the screws stand evenly
on its center line, as the pilots are drawn. A screw too near an edge or an end splits the board
in the first winter; one that comes out inside scratches whoever lifts a keg. A bolt goes right
through; its washer has to lie on wood.
"""

import math
from collections.abc import Iterator
from itertools import combinations

from ....params.project import Hinge
from ...handbook.bolts import bolt_distances
from ...handbook.fasteners import distances
from ...shape.frame import Board
from ...shape.hole import Hole
from ...shape.own_wood import flanges, taken
from ...shape.screws import cover_pilots, hinge_pilots
from ..design import Design
from ..finding import Check, Finding, Where

HINGE_FIT = Check(
    id="hinge-fit",
    weight="must",
    unit="mm",
    question="does the leaf fit on the board, and its screws or bolts in the wood?",
    source="room on the back face; NDS commentary, screws with a lead hole: edge 2.5 D,"
    " end 5 D; from memory; bolts, NDS 12.5.1: 1.5 D to the upper edge, 4 D to the lower (from"
    " memory) and to an end (as public code repeats it)",
    levers=(
        "hinge.positions",
        "hinge.screws",
        "hinge.screw",
        "hinge.bolt",
        "hinge.bolt_washer",
        "hinge.leaf_height",
        "hinge.leaf_width",
        "board.stock",
    ),
)
SCREW_LENGTH = Check(
    id="screw-length",
    weight="must",
    unit="mm",
    question="do the hinge's screws stay inside the wood?",
    source="board and block less the screw beyond its leaf; 2 mm is common practice",
    levers=("hinge.screw_length", "hinge.backing", "board.stock"),
)

Room = tuple[float, str]


def find_fit(design: Design) -> Iterator[Finding]:
    """Yield for each leaf its room on the back face, and the distances of its screws."""
    hinge = design.project.hinge
    missing = design.lacking("hinge.positions")
    if missing or hinge is None or hinge.positions is None:
        where = Where(side="back", text="hinge")
        yield HINGE_FIT.not_checked(where, missing, "where the leaves are")
        return
    cover = design.layout.cover("back") if design.layout.leaf_out else None
    back = design.layout.board("back")
    pilots = _pilots(design, cover, back)
    for index in range(len(hinge.positions)):
        count = hinge.screws or 0
        yield _leaf_room(design, hinge, index)
        yield _leaf_screws(design, hinge, index, pilots[index * count : (index + 1) * count])


def _pilots(design: Design, cover: Board | None, back: Board) -> tuple[Hole, ...]:
    """Return the leaves' holes where the layout has them; those that are not drilled as set out."""
    project = design.project
    asked = cover_pilots(project, cover, back) if cover else hinge_pilots(project, back)
    drilled = {hole.name: hole for hole in (cover or back).holes if hole.assumed}
    return tuple(drilled.get(hole.name, hole) for hole in asked)


def _leaf_room(design: Design, hinge: Hinge, index: int) -> Finding:
    where = Where(side="back", text=f"leaf {index + 1}")
    missing = design.lacking("hinge.leaf_height", "hinge.leaf_width")
    if missing:
        return HINGE_FIT.not_checked(where, missing, "the leaf, and what else is on the back")
    measured, what = min(_rooms(design, hinge, index))
    why = f"room from the leaf to {what}"
    # the builder's limit means the leaf; what keeps wood from splitting goes by the fastener
    return HINGE_FIT.at_least(where, measured, design.required(HINGE_FIT.id, 0.0), why)


def _rooms(design: Design, hinge: Hinge, index: int) -> Iterator[Room]:
    """Yield the room about one leaf: to the board's edges, other leaves, holes and a cover."""
    layout, cover = design.layout, design.layout.cover("back")
    board = layout.board("back")
    positions, width = hinge.positions or (), hinge.leaf_width or 0.0
    bottom = board.width - (hinge.leaf_height or 0.0)
    u, half = board.long_point / 2 + positions[index], width / 2
    if not layout.leaf_out:
        yield bottom, "the board's bottom edge"
    yield u - half, "the board's left end"
    yield board.long_point - u - half, "the board's right end"
    for other, position in enumerate(positions):
        if other != index:
            yield abs(position - positions[index]) - width, f"leaf {other + 1}"
    flanged = flanges(layout.taps)
    for hole in board.holes:
        if not hole.assumed:
            radius = taken(hole, flanged)
            beside, below = abs(hole.u - u) - half, bottom - hole.v
            yield _apart(beside, below) - radius, hole.name
    if cover is not None and layout.leaf_out:
        yield bottom - cover.bottom, "the cover's bottom edge"
    elif cover is not None:
        yield bottom - cover.top, "the cover's top edge"


def _apart(beside: float, below: float) -> float:
    """Return how far a point is from a rectangle; inside it the nearest way out, negative."""
    if beside > 0 and below > 0:
        return (beside**2 + below**2) ** 0.5
    return max(beside, below)


def _leaf_screws(design: Design, hinge: Hinge, index: int, pilots: tuple[Hole, ...]) -> Finding:
    """Judge the screw distance of one leaf that has least to spare.

    Set out evenly, screws stand twice as far from each other as from the leaf's edge, so what is
    enough for the edge (2.5 D) is more than enough between them (3 D across the grain); between
    screws that are not, the half of that is asked of half their distance.
    """
    cover = design.layout.cover("back") if design.layout.leaf_out else None
    board = cover or design.layout.board("back")  # what the leaf lies on
    if hinge.fix == "bolt":
        return _leaf_bolts(design, hinge, index, pilots, board)
    where = Where(side="back", text=f"leaf {index + 1}, screws")
    screw = design.project.part("screws", hinge.screw)
    missing = design.lacking("hinge.leaf_height", "hinge.screw", "hinge.screws")
    if missing or screw is None or not pilots:
        return HINGE_FIT.not_checked(where, missing, "the leaf's screws and where they are")
    keep = distances(screw.value("shank_diameter"), lead_hole=True)
    # to an end square to the load, so as for one that the load does not press on
    edges = keep.edge, keep.edge, keep.end_away
    measured, required, to = _nearest(pilots, board, edges, keep.across)
    why = f"from a screw's center to {to}, with a lead hole"
    return HINGE_FIT.at_least(where, measured, required, why)


def _leaf_bolts(
    design: Design, hinge: Hinge, index: int, holes: tuple[Hole, ...], board: Board
) -> Finding:
    """Judge the bolt distance of one leaf that has least to spare, the washer's edge included.

    The lid's weight presses the bolts toward the lower edge. They stand twice as far from each
    other as from the upper one, so that 1.5 D, or half a washer, there is enough between them.
    """
    where = Where(side="back", text=f"leaf {index + 1}, bolts")
    missing = design.lacking("hinge.leaf_height", "hinge.screws", "hinge.bolt")
    if missing or not holes or hinge.bolt is None:
        return HINGE_FIT.not_checked(where, missing, "the leaf's bolts and where they are")
    keep, washer = bolt_distances(hinge.bolt), (hinge.bolt_washer or 0.0) / 2
    upper, lower, end = (max(least, washer) for least in (keep.edge, keep.loaded_edge, keep.end))
    apart = max(keep.apart, 2 * washer)
    measured, required, to = _nearest(holes, board, (upper, lower, end), apart)
    under = f", half of a washer of {design.text(2 * washer)}" if required == washer else ""
    why = f"from a bolt's center to {to}{under}"
    return HINGE_FIT.at_least(where, measured, required, why)


def _nearest(
    holes: tuple[Hole, ...], board: Board, edges: tuple[float, float, float], apart: float
) -> tuple[float, float, str]:
    """Return the distance of one leaf's holes that has least to spare, what it needs, to what.

    ``edges`` are what the upper edge, the lower edge and an end ask, ``apart`` from hole to hole.
    """
    upper, lower, end = edges
    left = min(hole.u - board.inner_left for hole in holes)
    right = min(board.long_point - board.inner_right - hole.u for hole in holes)
    heights = [hole.v for hole in holes]
    found = [
        (board.width - max(heights), upper, f"the {board.kind}'s top edge"),
        (min(heights), lower, f"the {board.kind}'s bottom edge"),
        (min(left, right), end, f"the {board.kind}'s end at its inner face"),
    ]
    if len(holes) > 1:
        between = min(math.dist((a.u, a.v), (b.u, b.v)) for a, b in combinations(holes, 2))
        found.append((between / 2, apart / 2, "half the way to the next one"))
    return min(found, key=lambda each: each[0] - each[1])


def find_length(design: Design) -> Iterator[Finding]:
    """Yield how much wood is left behind the tips of the hinge's screws."""
    hinge, where = design.project.hinge, Where(side="back", text="hinge screws")
    if hinge is not None and hinge.fix == "bolt":
        yield SCREW_LENGTH.nothing_near(where, "bolts go right through")
        return
    missing = design.lacking("hinge.screw_length", "hinge.leaf_thickness")
    if missing or hinge is None or hinge.screw_length is None or hinge.leaf_thickness is None:
        yield SCREW_LENGTH.not_checked(where, missing, "how far the screws go into the wood")
        return
    wood = design.layout.board("back").thickness + design.layout.leaf_out + (hinge.backing or 0.0)
    deep = hinge.screw_length - hinge.leaf_thickness
    cover = "cover and board" if design.layout.leaf_out else "board"
    block = " and block" if hinge.backing else ""
    why = f"the screws go {design.text(deep)} into {design.text(wood)} of {cover}{block}"
    yield SCREW_LENGTH.at_least(where, wood - deep, design.required(SCREW_LENGTH.id, 2.0), why)
