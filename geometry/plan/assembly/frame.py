"""The ring and what is fixed to it before the taps: brackets, covers, cap, foam; then the lip."""

from collections.abc import Iterator
from dataclasses import replace

from ....params.project import SIDES, Project
from ...shape import lining
from ...shape.frame import Board
from ...shape.layout import Layout
from ...shape.lining import Bracket, Panel
from ...shape.plane import Point
from ...shape.six_lengths import CORNERS
from . import tools
from .bodies import Body, Lining, Prism, box
from .let_in import under_the_frame, ways_in
from .part import Operation, Placed, Turn


def frame_operations(project: Project, layout: Layout) -> Iterator[Operation]:
    """Yield what is put together before the collar is on the lip, and setting it there."""
    yield _ring(layout)
    yield from _brackets(layout)
    yield from _covers(layout)
    yield from _cap(layout)
    yield from _foam(project, layout)
    yield Operation(
        id="lip",
        thing="the collar on the lip",
        does="set the collar on the lip; let what holds it there cure",
        face="above",
        after=("ring",),
        bodies=(under_the_frame(layout.board("front")),),
    )


def _ring(layout: Layout) -> Operation:
    bodies = tuple(
        Placed("ring", board.side, Prism(_plan(board), 0.0, board.width)) for board in layout.boards
    )
    return Operation(
        id="ring", thing="the ring of boards", does="glue the boards to a ring", bodies=bodies
    )


def _plan(board: Board) -> tuple[Point, ...]:
    """Return a board's outline in its own view, miters and all."""
    inner = board.long_point - board.inner_right
    far = board.thickness
    return (0.0, 0.0), (0.0, board.long_point), (far, inner), (far, board.inner_left)


def _brackets(layout: Layout) -> Iterator[Operation]:
    """Yield one bracket a corner: its two legs, each with its screws, driven from inside."""
    if not layout.brackets:
        return
    for i, corner in enumerate(CORNERS):
        name = f"bracket-{corner}"
        legs = [
            next(leg for leg in layout.brackets if leg.side == side and leg.at == at)
            for side, at in ((SIDES[i], "left"), (SIDES[i - 1], "right"))
        ]
        turns = tuple(turn for leg in legs for turn in _leg(layout, leg))
        yield Operation(
            id=name,
            thing=f"the bracket in the {corner} corner",
            does=f"screw the bracket into the {corner} corner",
            face="inside",
            after=("ring",),
            bodies=tuple(Placed(name, leg.side, _leg_body(layout, leg)) for leg in legs),
            turns=turns,
            unknown=() if turns else ("board.bracket",),
            keys=("board.bracket",),
        )


def _leg_body(layout: Layout, leg: Bracket) -> Body:
    board = layout.board(leg.side)
    left = board.inner_left
    if leg.at == "right":
        left = board.long_point - board.inner_right - leg.leg
    near, half = board.thickness, leg.width / 2
    return box((left, left + leg.leg), (leg.v - half, leg.v + half), (near, near + leg.thickness))


def _leg(layout: Layout, leg: Bracket) -> Iterator[Turn]:
    board = layout.board(leg.side)
    found = tuple(
        (hole.u, hole.v) for hole in board.holes if hole.name.startswith(f"bracket-{leg.at}-")
    )
    if found:
        yield Turn(leg.side, tools.drivers(found, board.thickness + leg.thickness, inward=True))


def _covers(layout: Layout) -> Iterator[Operation]:
    for cover in layout.covers:
        name = f"cover-{cover.side}"
        # In the board's own view: a cover may start left of the board's long point.
        beyond = cover.inner_left
        body = box(
            (-beyond, cover.long_point - beyond),
            (cover.bottom, cover.top),
            (-cover.thickness, 0.0),
        )
        yield Operation(
            id=name,
            thing=f"the cover on the {cover.side}",
            does=f"fix the cover on the {cover.side} board",
            face="outside",
            after=("ring",),
            bodies=(Placed(name, cover.side, body),),
            keys=("cover.width", "cover.below_lip"),
        )


def _cap(layout: Layout) -> Iterator[Operation]:
    if not layout.strips:
        return
    bodies = tuple(
        Placed(
            "cap",
            strip.side,
            box(
                (0.0, strip.long_point),
                (strip.bottom, strip.bottom + strip.thickness),
                (layout.cap.inset, layout.cap.inset + strip.width),
            ),
        )
        for strip in layout.strips
        if layout.cap is not None
    )
    yield Operation(
        id="cap",
        thing="the cap's strips",
        does="fix the cap's strips on the top edges",
        face="above",
        after=("ring",),
        bodies=bodies,
        keys=("cap.width",),
    )


def _foam(project: Project, layout: Layout) -> Iterator[Operation]:
    """Yield the panels, those that run the whole length first: the others stand between them."""
    fitted = frozenset(("ring", *(f"foam-{panel.side}" for panel in layout.panels)))
    for panel in sorted(layout.panels, key=lambda each: lining.between(project, each.side)):
        name = f"foam-{panel.side}"
        body = _panel(layout, panel)
        beside = SIDES[SIDES.index(panel.side) - 1]
        ways = ways_in(body, layout.board(panel.side).width, layout.board(beside).long_point)
        yield Operation(
            id=name,
            thing=f"the foam on the {panel.side}",
            does=f"set the {panel.side} foam panel",
            face="inside",
            after=("ring",),
            bodies=(Placed(name, panel.side, body),),
            turns=(Turn(panel.side, ways),),
            passes=fitted,
            keys=("foam.pocket", "foam.order"),
        )


def _panel(layout: Layout, panel: Panel) -> Lining:
    board = layout.board(panel.side)
    left = board.inner_left + panel.start
    near = board.thickness
    holes = tuple(replace(hole, u=hole.u + left) for hole in panel.holes)
    return Lining(left, left + panel.length, panel.width, near, near + panel.thickness, holes)
