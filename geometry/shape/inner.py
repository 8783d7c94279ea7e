"""What hangs into the well from the collar's inside: shanks with their tails, manifold, brackets.

The inside counterpart of the envelopes. What is on a board that is not parallel to the lip's
front is taken by the rectangle about it: on the safe side.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ...params.project import SIDES, Project, Side
from .frame import Board
from .lining import Bracket, Manifold
from .plane import over_corners
from .taps import Tap

LINE = 11.1
"""Outside diameter of a 3/16 in vinyl line, mm (common practice: sold as 7/16 in)."""

LINE_BEND = 50.0
"""Radius that a cold vinyl line bends to, at its center line, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A rectangle in plan, its sides along x and y, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def there(self) -> bool:
        """Whether it has any area."""
        return self.x0 < self.x1 and self.y0 < self.y1


@dataclass(frozen=True, slots=True, kw_only=True)
class Inner:
    """Something on the collar's inside that a vessel has to pass, mm: a box with its owner.

    ``reason`` is shank (nut, shank, tail nut and tailpiece as one box), manifold or bracket.
    """

    owner: str
    reason: str
    side: Side
    rect: Rect
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Where a tap's tailpiece and line need to be free: ``reach`` about the shank's inner end.

    It concerns what stands higher than ``bottom``: the axis less bend radius and line.
    """

    tap: int
    x: float
    y: float
    reach: float
    bottom: float


def inner_envelopes(
    project: Project,
    boards: tuple[Board, ...],
    taps: tuple[Tap, ...],
    manifold: Manifold | None,
    brackets: tuple[Bracket, ...],
) -> tuple[Inner, ...]:
    """Return what hangs into the well: each tap's shank, the manifold, the corner brackets."""
    return (
        *_shanks(boards, taps),
        *_manifold(project, boards, manifold),
        *_brackets(boards, brackets),
    )


def _shanks(boards: tuple[Board, ...], taps: Iterable[Tap]) -> Iterator[Inner]:
    for tap in taps:
        shank = tap.shank
        if shank is None:
            continue
        board = boards[SIDES.index(tap.side)]
        half = over_corners(shank.nut_across_flats) / 2
        end = shank.length - tap.cover + shank.tailpiece_length
        z = board.place(tap.u, tap.v)[2]
        yield Inner(
            owner=f"tap {tap.number}",
            reason="shank",
            side=tap.side,
            rect=_about(board, tap.u - half, tap.u + half, board.thickness, end),
            bottom=z - half,
            top=z + half,
        )


def _manifold(
    project: Project, boards: tuple[Board, ...], manifold: Manifold | None
) -> Iterator[Inner]:
    """Yield the manifold with its inlet, which may be at either end."""
    if manifold is None:
        return
    board = boards[SIDES.index(manifold.side)]
    half = manifold.length / 2 + inlet(project)
    z = board.place(manifold.u, manifold.v)[2]
    yield Inner(
        owner="manifold",
        reason="manifold",
        side=manifold.side,
        rect=_about(
            board,
            manifold.u - half,
            manifold.u + half,
            board.thickness,
            board.thickness + manifold.depth,
        ),
        bottom=z - manifold.height / 2,
        top=z + manifold.height / 2,
    )


def inlet(project: Project) -> float:
    """Return how far the manifold's inlet stands beyond its end, mm; 0 where nobody knows."""
    asked = project.manifold
    row = project.part("manifolds", asked.kind) if asked else None
    return (row.get("inlet_projection") or 0.0) if row else 0.0


def _brackets(boards: tuple[Board, ...], brackets: Iterable[Bracket]) -> Iterator[Inner]:
    for leg in brackets:
        board = boards[SIDES.index(leg.side)]
        left, right = (
            (board.inner_left, board.inner_left + leg.leg)
            if leg.at == "left"
            else (
                board.long_point - board.inner_right - leg.leg,
                board.long_point - board.inner_right,
            )
        )
        near, z = board.thickness, board.place(left, leg.v)[2]
        yield Inner(
            owner=f"bracket on the {leg.side} board",
            reason="bracket",
            side=leg.side,
            rect=_about(board, left, right, near, near + leg.thickness),
            bottom=z - leg.width / 2,
            top=z + leg.width / 2,
        )


def _about(board: Board, left: float, right: float, near: float, far: float) -> Rect:
    """Return the rectangle in plan about a box on a board, ``near`` to ``far`` behind its face."""
    points = [board.place(u, 0.0, inward) for u in (left, right) for inward in (near, far)]
    xs, ys = [x for x, _, _ in points], [y for _, y, _ in points]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def runs(boards: tuple[Board, ...], taps: Iterable[Tap]) -> tuple[Run, ...]:
    """Return what each tap's tailpiece and line need: the line turns down behind the tailpiece."""
    found: list[Run] = []
    for tap in taps:
        if tap.shank is None:
            continue
        board = boards[SIDES.index(tap.side)]
        x, y, z = board.place(tap.u, tap.v, tap.shank.length - tap.cover)
        reach = tap.shank.tailpiece_length + LINE_BEND
        found.append(Run(tap=tap.number, x=x, y=y, reach=reach, bottom=z - LINE_BEND - LINE))
    return tuple(found)
