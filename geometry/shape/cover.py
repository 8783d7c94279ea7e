"""The cover: a second layer of boards on the collar's outer faces that hangs over the body.

A cover's inner face lies on its board's outer face. Where two covered sides meet, both covers
are mitered as the boards are, in the same upright plane; beside a side without a cover it ends
square, level with the collar's outer corner. Flanges sit on it and shanks go through both.
"""

import math
from collections.abc import Iterator
from dataclasses import replace

from ...params.problem import BuildFileError, Problem
from ...params.project import SIDES, Project, Side
from ...params.units import both_text
from .frame import Board, Frame
from .hole import Hole
from .plane import along

SLACK = 1e-9
"""What may touch may touch: far below any reading, mm."""


def covers(
    project: Project, frame: Frame, boards: tuple[Board, ...], seal: float
) -> tuple[Board, ...]:
    """Lay out the cover's boards without their holes, in the order of ``SIDES``.

    Args:
        project: for ``[cover]``.
        frame: the collar's corners.
        boards: the collar's boards.
        seal: squeezed height of the seal, mm: the lip's plane lies that far below the boards.
    """
    cover = project.cover
    if cover is None:
        return ()
    bottom = -seal - (cover.below_lip or 0.0)
    width = cover.width if cover.width is not None else frame.height - bottom
    found: list[Board] = []
    for i, board in enumerate(boards):
        if board.side not in cover.sides:
            continue
        left, right = frame.corners[i], frame.corners[(i + 1) % 4]
        over_left, over_right = (
            cover.thickness / math.tan(corner.half_rad) if neighbor in cover.sides else 0.0
            for corner, neighbor in ((left, SIDES[i - 1]), (right, SIDES[(i + 1) % 4]))
        )
        (x0, y0), (x1, y1) = board.outer
        ux, uy = along(*board.outer)
        out_x, out_y = uy * cover.thickness, -ux * cover.thickness
        found.append(
            replace(
                board,
                kind="cover",
                long_point=board.long_point + over_left + over_right,
                short_point=board.long_point,
                width=width,
                thickness=cover.thickness,
                miter_left_deg=left.miter_deg if over_left else 0.0,
                miter_right_deg=right.miter_deg if over_right else 0.0,
                inner_left=over_left,
                inner_right=over_right,
                outer=(
                    (x0 + out_x - ux * over_left, y0 + out_y - uy * over_left),
                    (x1 + out_x + ux * over_right, y1 + out_y + uy * over_right),
                ),
                inner=board.outer,
                over_left=board.over_left + cover.thickness,
                over_right=board.over_right + cover.thickness,
                bottom=bottom,
                holes=(),
                slots=(),
            )
        )
    return tuple(found)


def of_side(found: tuple[Board, ...], side: Side) -> Board | None:
    """Return the cover of a side, None without one."""
    return next((cover for cover in found if cover.side == side), None)


def goes_through(cover: Board | None, v: float, diameter: float) -> bool:
    """Tell whether a hole at ``v`` above the boards' bottom edge lies wholly in the cover."""
    if cover is None:
        return False
    return cover.bottom - SLACK <= v - diameter / 2 and v + diameter / 2 <= cover.top + SLACK


def moved(cover: Board, hole: Hole) -> Hole:
    """Return a hole of the board in the cover's own flat view."""
    return replace(hole, u=hole.u + cover.inner_left, v=hole.v - cover.bottom)


def with_holes(cover: Board, board: Board) -> Board:
    """Return the cover with what goes through it: its board's bores and passages."""
    through = tuple(
        moved(cover, hole)
        for hole in board.holes
        if hole.purpose in ("bore", "passage") and goes_through(cover, hole.v, hole.diameter or 0.0)
    )
    return replace(cover, holes=through)


def under_leaf(project: Project, back: Board, found: tuple[Board, ...]) -> Board | None:
    """Return the cover that carries the hinge leaves; None where the back board itself does.

    It is the back board's cover where that reaches up to the board's top edge, which the leaf
    hangs from. A cover that ends lower down leaves the leaf on the board.
    """
    cover = of_side(found, "back")
    if project.hinge is None or cover is None or cover.top < back.width - SLACK:
        return None
    return cover


def refuse(
    project: Project,
    boards: tuple[Board, ...],
    found: tuple[Board, ...],
    sealing_z: float,
) -> None:
    """Raise ``BuildFileError`` for a cover that cannot be put on, or whose edge cuts a hole.

    ``boards`` have their bores and passages; ``sealing_z`` is the plane that the lid closes on.
    """
    problems = list(_sizes(project, found, sealing_z))
    problems += [
        problem
        for cover in found
        for problem in _cut(project, boards[SIDES.index(cover.side)], cover)
    ]
    if problems:
        raise BuildFileError(problems)


def _sizes(project: Project, found: tuple[Board, ...], sealing_z: float) -> Iterator[Problem]:
    asked = project.cover
    if asked is None or not found:
        return

    def shown(mm: float) -> str:
        return both_text(mm, project.show)

    top, bottom = found[0].top, found[0].bottom
    if top <= SLACK:
        yield Problem(
            key="cover.width",
            keys=("cover.below_lip",),
            read=shown(found[0].width),
            wanted=f"more than {shown(-bottom)}, so that the cover reaches up to the boards",
        )
    if top > sealing_z + SLACK:
        yield Problem(
            key="cover.width",
            keys=("cover.below_lip",),
            read=shown(found[0].width),
            wanted=f"at most {shown(sealing_z - bottom)}, so that the cover ends no higher than"
            " the plane that the lid closes on",
        )
    if asked.below_lip:
        for cover in found:
            over = project.board.overhang.on(cover.side) or 0.0
            if over < -SLACK:
                yield Problem(
                    key=f"board.overhang.{cover.side}",
                    keys=("cover.below_lip", "cover.sides"),
                    read=shown(over),
                    wanted="0 or more: the cover hangs over the body on this side, and the body"
                    " stands in its way where the collar's face lies inside the lip's edge",
                )


def _cut(project: Project, board: Board, cover: Board) -> Iterator[Problem]:
    """Say so where the cover's edge runs through a bore, a passage or a screw of the tray."""
    for hole in board.holes:
        half = hole.half_height
        if hole.assumed or goes_through(cover, hole.v, 2 * half):
            continue
        if hole.v - half >= cover.top - SLACK or hole.v + half <= cover.bottom + SLACK:
            continue
        what = {"bore": "tap's bore", "pilot": "tray's screw"}.get(hole.purpose, "passage")
        yield Problem(
            key="cover.width",
            keys=("cover.below_lip",),
            read=f"a cover whose edge cuts {hole.name} in the {board.side} board",
            wanted=f"a cover that ends clear of the {what}: it reaches from"
            f" {both_text(hole.v - half, project.show)} to"
            f" {both_text(hole.v + half, project.show)} above the board's bottom edge",
        )


def tight_ends(found: tuple[Board, ...], below_lip: float | None) -> dict[Side, float]:
    """Return the sides whose hanging cover meets the body at an end, and by how much, mm.

    The collar's face lies inside the lip's own corner there, as on a lip out of square.
    """
    if not below_lip:
        return {}
    inside: dict[Side, float] = {
        cover.side: cover.thickness - min(cover.over_left, cover.over_right) for cover in found
    }
    return {side: by for side, by in inside.items() if by > 1e-6}


def body_in_the_way(project: Project, found: tuple[Board, ...]) -> Iterator[str]:
    """Tell which hanging covers meet the body by more than a tape can be wrong, and the way out."""
    tight = tight_ends(found, project.cover.below_lip if project.cover else None)
    for side, by in tight.items():
        if by <= project.lip.tape:
            continue
        much = both_text(by, project.show)
        larger = "" if project.as_built else f"make board.overhang.{side} larger by {much}, or "
        yield (
            f"cover-{side} hangs over the body, but the collar's face lies {much} inside the lip's"
            f" edge at one end: the body is in its way; {larger}put a shim of {much} between board"
            " and cover"
        )
