"""Pilot holes in the boards: for the screws of corner brackets and hinge leaves, or their bolts.

The hole of a bolt goes right through, wider than the bolt; it is set out, cut and read back as
the pilot of a screw is.
"""

from dataclasses import replace

from ...params.catalogue import Row
from ...params.project import Hinge, Project
from .frame import Board
from .hole import HINGE_SET_OUT, Hole
from .lining import Bracket

PILOT_DEPTH_SHARE = 2 / 3
"""Depth of a pilot hole over the board's thickness where no screw length says otherwise
(common practice, no source): deep enough to lead the screw, not through the face."""

BOLT_HOLE_OVER = 25.4 / 32
"""How much wider than the bolt its hole is bored, mm: 1/32 in, the least of the 1/32 to 1/16 in
of the National Design Specification for Wood Construction, 12.1.3.2 (as a public handbook
repeats it)."""

BOLT_POCKET_OVER = 10.0
"""How much wider than a bolt's washer its pocket in the foam is, mm (common practice, no source):
room to set the washer and to turn the nut's socket."""

HARDWOOD_FROM = 0.5
"""Specific gravity from which the larger pilot is taken (common practice, no source)."""


def pilot_diameter(project: Project, screw: Row) -> float:
    """Return the pilot hole of a screw in the boards' wood, mm; the softwood's without species."""
    species = project.part("species", project.board.species)
    hard = species is not None and (species.get("specific_gravity") or 0.0) >= HARDWOOD_FROM
    return screw.value("pilot_hardwood" if hard else "pilot_softwood")


def bracket_pilots(project: Project, board: Board, legs: tuple[Bracket, ...]) -> tuple[Hole, ...]:
    """Return the pilots of one board's bracket legs, drilled from the inner face.

    Where the holes of a bracket are is the catalogue's estimate: lay the bracket on first.
    """
    row = project.part("brackets", project.board.bracket if legs else None)
    if row is None:
        return ()
    screw = project.part("screws", row.text("screw") or None)
    diameter = pilot_diameter(project, screw) if screw else row.value("hole_diameter") / 2
    first, pitch = row.value("hole_from_corner"), row.get("hole_pitch") or 0.0
    found: list[Hole] = []
    for leg in legs:
        for place in range(round(row.value("holes_per_leg"))):
            off = first + place * pitch
            left = leg.at == "left"
            found.append(
                Hole(
                    name=f"bracket-{leg.at}-{place + 1}",
                    purpose="pilot",
                    u=board.inner_left + off
                    if left
                    else board.long_point - board.inner_right - off,
                    v=leg.v,
                    diameter=diameter,
                    face="inner",
                    depth=board.thickness * PILOT_DEPTH_SHARE,
                )
            )
    return tuple(found)


def hinge_pilots(project: Project, board: Board, cover: float = 0.0) -> tuple[Hole, ...]:
    """Return the holes of the hinge leaves in the back board, drilled from the outer face.

    The leaf hangs from the board's top edge and its screws or bolts stand evenly on its center
    line: a set-out to be held against the real leaf, whose own holes decide. None until
    ``positions``, ``leaf_height``, ``screws`` and ``screw`` or ``bolt`` are given. ``cover`` is
    the thickness of a cover between leaf and board, mm: what of the pilot is in the board behind.
    Cover, board and the block behind it are drilled as one piece of wood.
    """
    hinge = project.hinge
    if hinge is None or board.side != "back":
        return ()
    diameter = hole_diameter(project, hinge)
    if hinge.positions is None or not hinge.leaf_height or not hinge.screws or diameter is None:
        return ()
    depth = pilot_depth(project, cover + board.thickness + (hinge.backing or 0.0)) - cover
    if depth <= 0:
        return ()
    pitch = hinge.leaf_height / hinge.screws
    return tuple(
        Hole(
            name=f"hinge-{number}-{place + 1}",
            purpose="pilot",
            u=board.long_point / 2 + position,
            v=board.width - pitch * (place + 0.5),
            diameter=diameter,
            depth=None if depth >= board.thickness else depth,
            into_block=depth - board.thickness if depth > board.thickness else None,
        )
        for number, position in enumerate(hinge.positions, 1)
        for place in range(hinge.screws)
    )


def hole_diameter(project: Project, hinge: Hinge) -> float | None:
    """Return the hole of a leaf's screw or bolt, mm; None without ``screw``, or ``bolt``."""
    if hinge.fix == "bolt":
        return None if hinge.bolt is None else hinge.bolt + BOLT_HOLE_OVER
    screw = project.part("screws", hinge.screw)
    return None if screw is None else pilot_diameter(project, screw)


def bolt_pockets(project: Project, board: Board) -> tuple[Hole, ...]:
    """Return what the foam leaves free about the washers of the hinge's bolts, in a board's view.

    None without ``bolt_washer``, and about bolts that are not drilled.
    """
    hinge = project.hinge
    if hinge is None or hinge.fix != "bolt" or hinge.bolt_washer is None:
        return ()
    diameter = hinge.bolt_washer + BOLT_POCKET_OVER
    return tuple(
        Hole(name=hole.name, purpose="pocket", u=hole.u, v=hole.v, diameter=diameter)
        for hole in board.holes
        if hole.assumed and hole.name.startswith(HINGE_SET_OUT)
    )


def pilot_depth(project: Project, wood: float) -> float:
    """Return how deep the hinge's screws or bolts are drilled into wood of a thickness, mm."""
    hinge = project.hinge
    if hinge is not None and hinge.fix == "bolt":
        return wood
    if hinge is None or hinge.screw_length is None:
        return wood * PILOT_DEPTH_SHARE
    return min(wood, hinge.screw_length - (hinge.leaf_thickness or 0.0))


def cover_pilots(project: Project, cover: Board, board: Board) -> tuple[Hole, ...]:
    """Return the pilots of hinge leaves that lie on a cover, in the cover's own flat view."""
    wood = board.thickness + cover.thickness
    backing = (project.hinge.backing if project.hinge else None) or 0.0
    depth = min(pilot_depth(project, wood + backing), cover.thickness)
    return tuple(
        replace(
            hole,
            u=hole.u + cover.inner_left,
            v=hole.v - cover.bottom,
            depth=None if depth >= cover.thickness else depth,
            into_block=None,
        )
        for hole in hinge_pilots(project, replace(board, thickness=wood))
    )


def inside(board: Board, hole: Hole) -> bool:
    """Tell whether a hole lies wholly between the board's short points and edges."""
    radius = hole.half_length
    return (
        board.inner_left + radius <= hole.u <= board.long_point - board.inner_right - radius
        and radius <= hole.v <= board.width - radius
    )


def pilots(
    project: Project, board: Board, legs: tuple[Bracket, ...], cover: float = 0.0
) -> tuple[tuple[Hole, ...], tuple[str, ...]]:
    """Return the pilots of a board that can be drilled, and the names of those beyond the wood.

    ``cover`` is the thickness of a cover between the hinge leaves and the back board, mm.
    """
    kept: list[Hole] = []
    lost: list[str] = []
    for hole in bracket_pilots(project, board, legs) + hinge_pilots(project, board, cover):
        if inside(board, hole):
            kept.append(hole)
        else:
            lost.append(hole.name)
    return tuple(kept), tuple(lost)
