"""One hole elsewhere: the layout as it is when a bore or a hinge's screw hole misses its mark.

What goes through a bore goes with it: a tap with shank, flange, nut, faucet and wrench, and the
foam's pocket, which is cut where the bore is. Everything else stays where it was drawn, a hinge's
leaf too.
"""

import math
from dataclasses import replace
from typing import TypeVar

from ...params.problem import BuildFileError
from ...params.project import Project, Side
from . import cover as cover_
from . import envelope, inner, joints, screws, tray
from .frame import Board
from .hole import HINGE_SET_OUT
from .layout import Layout
from .lining import Panel
from .own_wood import SLACK, flanges, into
from .taps import Tap

P = TypeVar("P", Board, Panel)


def with_bore(project: Project, layout: Layout, number: int, du: float, dv: float) -> Layout | None:
    """Return the layout with one tap's bore ``du`` to the right and ``dv`` up of where it is, mm.

    Right is as seen from outside. None where no bore can be: in a miter, beyond an edge, in what
    holds a corner, in another hole (its flange counts, as where passages are refused), or cut by a
    cover's edge.
    """
    tap = next(each for each in layout.taps if each.number == number)
    tap = replace(tap, u=tap.u + du, v=tap.v + dv)
    there = _with_hole(layout, tap.side, tap.hole.name, du, dv)
    if there is None:
        return None
    there = _with_tap(project, there, tap)
    try:
        cover_.refuse(project, there.boards, there.covers, there.sealing_z)
        tray.refuse(project, there.boards, there.covers, there.taps)
    except BuildFileError:
        return None
    return there


def with_pilot(project: Project, layout: Layout, name: str, du: float, dv: float) -> Layout | None:
    """Return the layout with one hole of a hinge leaf ``du`` to the right and ``dv`` up, mm.

    The leaf stays. None where it would not be drilled: not wholly under its leaf, beyond the
    wood, in another hole, or in what holds a corner.
    """
    if not _under_leaf(project, layout, name, du, dv):
        return None
    return _with_hole(layout, "back", name, du, dv)


def _under_leaf(project: Project, layout: Layout, name: str, du: float, dv: float) -> bool:
    """Whether a hole that is so far off is under its leaf, as far as the leaf was measured.

    The leaf hangs from the back board's top edge with its middle at its position, so that the
    hole's own set-out tells where it is in the leaf.
    """
    hinge, back = project.hinge, layout.board("back")
    cover = layout.cover("back")
    holes = [(hole, hole.u, hole.v) for hole in back.holes]
    if cover is not None:
        holes += [(each, each.u - cover.inner_left, each.v + cover.bottom) for each in cover.holes]
    hole, u, v = next(each for each in holes if each[0].name == name)
    if hinge is None or hinge.positions is None:
        return True
    number = int(name.removeprefix(HINGE_SET_OUT).partition("-")[0])
    across = abs(u + du - back.long_point / 2 - hinge.positions[number - 1])
    down, radius = back.width - v - dv, hole.half_length
    wide, tall = hinge.leaf_width or math.inf, hinge.leaf_height or math.inf
    return across + radius <= wide / 2 and radius <= down <= tall - radius


def _with_hole(layout: Layout, side: Side, name: str, du: float, dv: float) -> Layout | None:
    """Return the layout with all holes of a name on a side moved; None where wood is lacking.

    What runs into another hole where it is drawn may stay there, but run no deeper.
    """
    flanged = flanges(layout.taps)
    boards = _moved(layout.boards, side, name, du, dv)
    covers = _moved(layout.covers, side, name, du, dv)
    for board in (*boards, *covers):
        for hole in board.holes if board.side == side else ():
            if hole.name == name:
                met = any(joints.meets(slot, hole) for slot in board.slots)
                if met or not screws.inside(board, hole):
                    return None
                here = replace(hole, u=hole.u - du, v=hole.v - dv)
                for other in board.holes:
                    if other.name == name:
                        continue
                    deep = into(hole, other, flanged) - SLACK
                    if deep > 0.0 and deep > into(here, other, flanged):
                        return None
    panels = _moved(layout.panels, side, name, du, dv)
    return replace(layout, boards=boards, covers=covers, panels=panels)


def _moved(parts: tuple[P, ...], side: Side, name: str, du: float, dv: float) -> tuple[P, ...]:
    return tuple(
        replace(
            part,
            holes=tuple(
                replace(hole, u=hole.u + du, v=hole.v + dv) if hole.name == name else hole
                for hole in part.holes
            ),
        )
        if part.side == side
        else part
        for part in parts
    )


def _with_tap(project: Project, layout: Layout, tap: Tap) -> Layout:
    """Return the layout with a tap in place of the one of its number, and what hangs on it."""
    inside, boards, number = layout.inside, layout.boards, tap.number
    if inside.inner:
        shanks = inner.inner_envelopes(project, boards, (tap,), None, ())
        new = {shank.owner: shank for shank in shanks}
        runs = {run.tap: run for run in inner.runs(boards, (tap,))}
        inside = replace(
            inside,
            inner=tuple(new.get(each.owner, each) for each in inside.inner),
            runs=tuple(runs.get(each.tap, each) for each in inside.runs),
        )
    hung = tuple(envelope.of_tap(tap))
    own = [i for i, each in enumerate(layout.envelopes) if each.tap == number]
    first = own[0] if own else 0
    rest = tuple(each for each in layout.envelopes if each.tap != number)
    return replace(
        layout,
        taps=tuple(tap if each.number == number else each for each in layout.taps),
        envelopes=(*rest[:first], *hung, *rest[first:]),
        inside=inside,
    )
