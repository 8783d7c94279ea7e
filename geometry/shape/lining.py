"""What lies on the collar's inner face: foam panels with their pockets, manifold, brackets.

Panels are square-ended and lie on the boards' inner faces. In ``front-back`` order the front
and back panels run the whole clear length and the side panels stand between them; ``sides``
is the other way round. Where a corner is sharper than square a panel's end stays clear of the
next board; the wedge that is left is sealed.
"""

import math
from dataclasses import dataclass, replace

from ...params.project import SIDES, Project, Side
from . import built
from .contour import outlines
from .frame import Board, Frame
from .hole import Hole
from .taps import Tap


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One foam panel, mm. ``start`` is how far its left end stands from the board's inner corner.

    ``width`` is its height on the board, from the board's bottom edge up. ``holes`` are single
    shapes that may overlap or run over the panel's edge; ``sheet`` joins them to outlines.
    """

    side: Side
    length: float
    width: float
    thickness: float
    start: float
    holes: tuple[Hole, ...] = ()

    @property
    def volume(self) -> float:
        """Volume of what is left of the panel, mm3: every hole goes right through it."""
        return outlines(self.length, self.width, self.holes).area * self.thickness


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifold:
    """The gas distributor, fixed to a board's inner face, mm; ``u``, ``v`` its center there."""

    side: Side
    u: float
    v: float
    length: float
    height: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """One leg of a corner bracket on a board's inner face, mm.

    It runs from the board's inner corner ``at`` (left or right end) along the face by ``leg``,
    is ``width`` tall about the height ``v`` and stands ``thickness`` off the face.
    """

    side: Side
    at: str
    leg: float
    width: float
    thickness: float
    v: float


def foam_thickness(project: Project) -> float:
    """Return the panels' thickness, mm; 0 without foam. The build file goes before the row.

    What was measured on the foam that was bought goes first where the collar is laid out as built.
    """
    foam = project.foam
    if foam is None:
        return 0.0
    measured = built.size(project, "foam")
    if measured is not None:
        return measured
    if foam.thickness is not None:
        return foam.thickness
    row = project.part("foam", foam.kind)
    return row.value("thickness") if row else 0.0


def panels(project: Project, frame: Frame, boards: tuple[Board, ...]) -> tuple[Panel, ...]:
    """Lay out the foam panels without their holes; none where no foam is asked for."""
    thickness = foam_thickness(project)
    if project.foam is None or not thickness:
        return ()
    found: list[Panel] = []
    for board in boards:
        ends = [
            _end(corner.interior_deg, thickness, between(project, board.side))
            for corner in (frame.left_of(board.side), frame.right_of(board.side))
        ]
        found.append(
            Panel(
                side=board.side,
                length=board.short_point - sum(ends),
                width=board.width - project.foam.below_top,
                thickness=thickness,
                start=ends[0],
            )
        )
    return tuple(found)


def between(project: Project, side: Side) -> bool:
    """Tell whether a side's panel stands between two others, by the order of the panels."""
    order = project.foam.order if project.foam else "front-back"
    return side in (("right", "left") if order == "front-back" else ("front", "back"))


def _end(interior_deg: float, thickness: float, between: bool) -> float:
    """Return how far a panel's end stands from the inner corner, mm.

    At a corner sharper than square the next board's face comes in by f cot(theta) over the
    panel's thickness; a panel between two others also leaves them f / sin(theta).
    """
    theta = math.radians(interior_deg)
    sharp = thickness * max(0.0, math.cos(theta) / math.sin(theta))
    return sharp + (thickness / math.sin(theta) if between else 0.0)


def manifold(project: Project, boards: tuple[Board, ...]) -> Manifold | None:
    """Place the manifold; half way up the board unless the build file says where."""
    asked = project.manifold
    if asked is None:
        return None
    row = project.part("manifolds", asked.kind)

    def size(figure: str) -> float:
        own = getattr(asked, figure)
        if own is not None:
            return own
        assert row is not None
        return row.value(figure)

    board = boards[SIDES.index(asked.side)]
    return Manifold(
        side=asked.side,
        u=board.long_point / 2 + asked.offset,
        v=board.width / 2 if asked.centre is None else asked.centre,
        length=size("length"),
        height=size("height"),
        depth=size("depth"),
    )


def brackets(project: Project, boards: tuple[Board, ...]) -> tuple[Bracket, ...]:
    """Place one corner bracket half way up each inner corner: two legs, one on each board."""
    asked = project.board.bracket
    row = project.part("brackets", None if asked == "none" else asked)
    if row is None:
        return ()
    leg, width, thickness = (row.value(name) for name in ("leg", "width", "thickness"))
    return tuple(
        Bracket(
            side=board.side, at=at, leg=leg, width=width, thickness=thickness, v=board.width / 2
        )
        for board in boards
        for at in ("left", "right")
    )


def passages(project: Project, boards: tuple[Board, ...]) -> dict[Side, tuple[Hole, ...]]:
    """Return the passages of each side as holes in its board."""
    found: dict[Side, tuple[Hole, ...]] = {}
    for number, asked in enumerate(project.hole, 1):
        board = boards[SIDES.index(asked.side)]
        hole = Hole(
            name=asked.name or f"passage-{number}",
            purpose="passage",
            u=board.long_point / 2 + asked.offset,
            v=asked.height,
            diameter=asked.diameter,
        )
        found[asked.side] = (*found.get(asked.side, ()), hole)
    return found


def with_holes(
    panel: Panel,
    board: Board,
    taps: tuple[Tap, ...],
    through: tuple[Hole, ...],
    manifold_there: Manifold | None,
    brackets_there: tuple[Bracket, ...],
    bolts: tuple[Hole, ...] = (),
) -> Panel:
    """Return the panel with everything that is cut out of it, in the panel's own ``u``.

    Args:
        panel: the panel without holes.
        board: the board that it lies on.
        taps: the taps of this side: a pocket each, or the bore where the nut clamps the foam.
        through: passages of this side.
        manifold_there: the manifold if it is on this side.
        brackets_there: bracket legs on this side.
        bolts: pockets about the hinge's bolts on this side.
    """
    shift = board.inner_left + panel.start
    holes: list[Hole] = []
    for tap in taps:
        if tap.pocket:
            holes.append(
                Hole(
                    name=f"tap-{tap.number}",
                    purpose="pocket",
                    u=tap.u - shift,
                    v=tap.v,
                    diameter=tap.pocket,
                )
            )
        else:
            holes.append(replace(tap.hole, u=tap.u - shift))
    holes += [replace(hole, u=hole.u - shift) for hole in through]
    # A bolt may stand above the foam.
    holes += [
        replace(hole, u=hole.u - shift) for hole in bolts if hole.v - hole.half_height < panel.width
    ]
    if manifold_there is not None:
        holes.append(
            Hole(
                name="manifold",
                purpose="opening",
                u=manifold_there.u - shift,
                v=manifold_there.v,
                length=manifold_there.length,
                height=manifold_there.height,
            )
        )
    for leg in brackets_there:
        # The leg starts in the inner corner; only what lies under this panel is cut.
        left, right = (
            (board.inner_left, board.inner_left + leg.leg)
            if leg.at == "left"
            else (
                board.long_point - board.inner_right - leg.leg,
                board.long_point - board.inner_right,
            )
        )
        low, high = max(left - shift, 0.0), min(right - shift, panel.length)
        if high > low:
            holes.append(
                Hole(
                    name=f"bracket-{leg.at}",
                    purpose="pocket",
                    u=(low + high) / 2,
                    v=leg.v,
                    length=high - low,
                    height=leg.width,
                )
            )
    return replace(panel, holes=tuple(holes))
