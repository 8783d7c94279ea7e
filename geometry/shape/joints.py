"""What holds the miters beside the glue: a spline, biscuits or dowels at each corner.

All are set square to the miter and so that the wood left at the outer face, over the tip, is as
thick as the wood left at the inner face, beside the mouth: that is the most there can be. With
``r`` the distance of the mouth's middle from the outer corner along the miter, ``d`` the depth in
each board, ``a`` the thickness, ``t`` the board's and ``h`` half of the corner's angle (plane
trigonometry): ``r = (t / sin h + d / tan h) / 2`` and ``left = (t - d cos h - a sin h) / 2``.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from ...params.problem import BuildFileError, Problem
from ...params.project import Project, Taps, Tray
from ...params.units import both_text
from .frame import Board, Corner, Frame
from .hole import Hole
from .plane import Point
from .slot import CUTTER, JointKind, Slot

LEAST_WOOD = 3.0
"""The least wood between a slot and a face, mm (common practice, no source)."""

GLUE = 1.0
"""How much deeper than half of what goes in each half of the joint is cut, mm (common practice, no
source): room for glue."""

DEPTH_SHARE = 1 / 2
"""Depth of a spline or a dowel in each board over the board's thickness (common practice, no
source)."""

SPLINES = ((25.0, 25.4 / 8), (math.inf, 25.4 / 4))
"""Thickness of a spline, mm, for boards up to a thickness: 1/8 in, the width of a saw cut, above
that 1/4 in (common practice, no source)."""

DOWEL_SHARE = 1 / 3
"""Diameter of a dowel over the board's thickness, at most (common practice, no source)."""

DOWELS = {"mm": (6.0, 8.0, 10.0, 12.0), "in": (25.4 / 4, 25.4 * 5 / 16, 25.4 * 3 / 8, 25.4 / 2)}
"""Diameters that dowels are commonly sold in, mm and in (from memory)."""

DOWEL_PITCH = 75.0
"""The most that dowels stand apart up a corner, mm (common practice, no source: 2 to 3 in)."""

BISCUIT = (56.0, 23.0, 4.0)
"""A no. 20 biscuit: length, width and thickness, mm (from memory; the size on the packet)."""

BISCUIT_EDGE = 6.0
"""The least wood between biscuits' slots, and to the board's edges, mm (common practice)."""

BISCUIT_PITCH = 100.0
"""What a biscuit is good for up a corner, mm (common practice: one every 4 to 6 in)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """What goes into a corner, mm: ``long`` up the miter, ``wide`` across the joint, ``thick``.

    Attributes:
        name: the part's name: kind, corner, and its number counted from below.
        kind: what it is.
        corner: the corner's name.
        middle: its middle in plan, on the miter.
        way: the unit vector in plan square to the miter, into the board to the right of the
            corner as seen from outside.
        v: its middle above the boards' bottom edge.
        long: its size up the miter; a dowel's diameter.
        wide: its size square to the miter, through both boards.
        thick: its size along the miter, from outer to inner corner.
        from_outer: from the outer corner to its middle, along the miter.
        wood: what is left of the wood at the outer face and at the inner one.
    """

    name: str
    kind: JointKind
    corner: str
    middle: Point
    way: Point
    v: float
    long: float
    wide: float
    thick: float
    from_outer: float
    wood: float

    @property
    def volume(self) -> float:
        """Its own volume, mm3: a box, a cylinder, or two segments of a circle back to back."""
        if self.kind == "dowel":
            return math.pi / 4 * self.thick**2 * self.wide
        if self.kind == "spline":
            return self.long * self.wide * self.thick
        radius, half = self.round, self.wide / 2
        rest = radius - half
        segment = radius**2 * math.acos(rest / radius) - rest * self.long / 2
        return 2 * segment * self.thick

    @property
    def round(self) -> float:
        """Radius of a biscuit's two arcs, mm: over a chord of its length, half its width high."""
        half = self.wide / 2
        return ((self.long / 2) ** 2 + half**2) / (2 * half)


@dataclass(frozen=True, slots=True)
class _Size:
    """What is cut into each board (``thick``, ``tall``, ``depth``) and what goes in (``wide``)."""

    thick: float
    tall: float
    depth: float
    long: float
    places: tuple[float, ...]


def from_inner(board: Board, slot: Slot) -> float:
    """Return how far a slot's middle is from the inner edge of its miter, along the miter, mm."""
    short = board.inner_left if slot.end == "left" else board.inner_right
    start = 0.0 if slot.end == "left" else board.long_point
    reach = math.hypot(short, board.thickness)
    return reach - math.hypot(slot.mouth[0] - start, slot.mouth[1])


def joints(project: Project, frame: Frame, boards: tuple[Board, ...]) -> tuple[Joint, ...]:
    """Return what goes into each corner, from below; none where glue alone holds it.

    Raises:
        BuildFileError: the boards are too thin or too narrow for it.
    """
    kind = project.board.corner
    if kind == "glue":
        return ()
    thickness, width = boards[0].thickness, boards[0].width
    size = _size(kind, thickness, width, project)
    found: list[Joint] = []
    for i, corner in enumerate(frame.corners):
        h = corner.half_rad
        wood = (thickness - size.depth * math.cos(h) - size.thick * math.sin(h)) / 2
        if wood < LEAST_WOOD:
            raise BuildFileError([_too_thin(project, corner, wood)])
        r = (thickness / math.sin(h) + size.depth / math.tan(h)) / 2
        ux, uy = _along(boards[i])
        # The miter runs from the outer corner inward at half of the corner's angle.
        inward = ux * math.cos(h) - uy * math.sin(h), uy * math.cos(h) + ux * math.sin(h)
        for n, v in enumerate(size.places, 1):
            found.append(
                Joint(
                    name=f"{kind}-{corner.name}" + ("" if kind == "spline" else f"-{n}"),
                    kind=kind,
                    corner=corner.name,
                    middle=(corner.x + r * inward[0], corner.y + r * inward[1]),
                    way=(inward[1], -inward[0]),
                    v=v,
                    long=size.long,
                    wide=BISCUIT[1] if kind == "biscuit" else 2 * (size.depth - GLUE),
                    thick=size.thick,
                    from_outer=r,
                    wood=wood,
                )
            )
    return tuple(found)


def _along(board: Board) -> Point:
    (x0, y0), (x1, y1) = board.outer
    return (x1 - x0) / board.long_point, (y1 - y0) / board.long_point


def _size(kind: JointKind, thickness: float, width: float, project: Project) -> _Size:
    """Return sizes and heights of what goes into a corner of boards of this section, mm."""
    depth = thickness * DEPTH_SHARE
    if kind == "spline":
        thick = next(each for most, each in SPLINES if thickness <= most)
        return _Size(thick, width, depth, width, (width / 2,))
    if kind == "dowel":
        sold = DOWELS[project.show]
        thick = max((d for d in sold if d <= thickness * DOWEL_SHARE), default=sold[0])
        return _Size(thick, thick, depth, thick, _places(width, math.ceil(width / DOWEL_PITCH), 2))
    depth = BISCUIT[1] / 2 + GLUE
    tall = 2 * math.sqrt(CUTTER**2 - (CUTTER - depth) ** 2)
    fit = int((width - BISCUIT_EDGE) // (tall + BISCUIT_EDGE))
    if fit < 1:
        least = both_text(tall + 2 * BISCUIT_EDGE, project.show)
        raise BuildFileError(
            [
                Problem(
                    key="board.corner",
                    keys=("board.width",),
                    read=f"biscuits in boards {both_text(width, project.show)} wide",
                    wanted=f"boards at least {least} wide for the slot of one no. 20 biscuit;"
                    " splines and dowels go into narrower ones",
                )
            ]
        )
    count = min(fit, math.ceil(width / BISCUIT_PITCH))
    return _Size(BISCUIT[2], tall, depth, BISCUIT[0], _places(width, count, 1))


def _places(width: float, count: int, least: int) -> tuple[float, ...]:
    """Return heights evenly up the board, half a step from its edges, mm."""
    count = max(count, least)
    return tuple(width * (i + 0.5) / count for i in range(count))


def _too_thin(project: Project, corner: Corner, wood: float) -> Problem:
    others = {
        "biscuit": "glue, a spline or dowels",
        "dowel": "glue or a spline",
        "spline": "glue",
    }[project.board.corner]
    left = f"only {both_text(wood, project.show)} of wood" if wood > 0 else "no wood"
    return Problem(
        key="board.corner",
        keys=("board.thickness", "board.stock"),
        read=f'"{project.board.corner}", with {left} beside it at {corner.name}',
        wanted=f"at least {both_text(LEAST_WOOD, project.show)} of wood to the boards' outer and"
        f" inner faces: boards that thin take {others}",
    )


def slots_of(board: Board, frame: Frame, found: Iterable[Joint]) -> tuple[Slot, ...]:
    """Return what the joints at both ends of a board take out of it."""
    return tuple(_slots(board, frame, tuple(found)))


def _slots(board: Board, frame: Frame, found: tuple[Joint, ...]) -> Iterator[Slot]:
    ends: tuple[tuple[Literal["left", "right"], Corner], ...] = (
        ("left", frame.left_of(board.side)),
        ("right", frame.right_of(board.side)),
    )
    for end, corner in ends:
        short = board.inner_left if end == "left" else board.inner_right
        h = math.atan2(board.thickness, short)  # as the board's own end is sawn
        turn, start = (1.0, 0.0) if end == "left" else (-1.0, board.long_point)
        for joint in found:
            if joint.corner != corner.name:
                continue
            r = joint.from_outer
            biscuit = joint.kind == "biscuit"
            depth = joint.wide / 2 + GLUE
            tall = 2 * math.sqrt(CUTTER**2 - (CUTTER - depth) ** 2) if biscuit else joint.long
            yield Slot(
                joint=joint.name,
                kind=joint.kind,
                end=end,
                mouth=(start + turn * r * math.cos(h), r * math.sin(h)),
                way=(turn * math.sin(h), -math.cos(h)),
                v=joint.v,
                thick=joint.thick,
                tall=tall,
                depth=depth,
            )


def meets(slot: Slot, hole: Hole, clear: float = 0.0) -> bool:
    """Tell whether a hole comes nearer to a slot than ``clear``, mm; on the safe side.

    Seen from outside: how far the slot reaches along the board and how tall it is.
    """
    along = slot.beyond(hole.u) - hole.half_length
    up = abs(hole.v - slot.v) - slot.tall / 2 - hole.half_height
    return max(along, up) < clear - 1e-9


def refuse_met(project: Project, boards: Iterable[Board]) -> None:
    """Raise ``BuildFileError`` where a bore, passage or tray's screw runs into a corner's joint."""
    problems: list[Problem] = []
    for board in boards:
        for hole in board.holes:
            if hole.assumed:
                continue
            slot = next((slot for slot in board.slots if meets(slot, hole)), None)
            if slot is not None:
                problems.append(_met(project, board, hole, slot))
    if problems:
        raise BuildFileError(problems)


def _met(project: Project, board: Board, hole: Hole, slot: Slot) -> Problem:
    into = both_text(hole.half_length - slot.beyond(hole.u), project.show)
    where = "offset"
    if hole.purpose == "bore":
        several = len(project.taps) > 1
        rows = [row for row, each in enumerate(project.taps, 1) if each.side == board.side]
        key = f"taps[{rows[0]}]" if several else "taps"
        where = _row_key(project.taps[rows[0] - 1])
    elif hole.purpose == "pilot":
        key = "tray"
        where = _row_key(project.tray)
    else:
        names = [each.name or f"passage-{n}" for n, each in enumerate(project.hole, 1)]
        key = f"hole[{names.index(hole.name) + 1}]"
    return Problem(
        key=f"{key}.{where}",
        keys=("board.corner",),
        read=f"{hole.name}, {into} into {slot.joint} in the {board.side} board",
        wanted=f'a {hole.purpose} clear of what holds the corner; with board.corner = "glue"'
        " nothing is in the wood there",
    )


def _row_key(row: Taps | Tray | None) -> str:
    """Return the key that puts a row of holes where it is along its board."""
    return "positions" if row is not None and row.positions is not None else "offset"


def undrilled(board: Board) -> tuple[Board, tuple[str, ...]]:
    """Return the board without set-outs that would run into a joint, and their names."""
    lost = tuple(
        hole.name
        for hole in board.holes
        if hole.assumed and any(meets(slot, hole) for slot in board.slots)
    )
    if not lost:
        return board, ()
    return replace(board, holes=tuple(h for h in board.holes if h.name not in lost)), lost
