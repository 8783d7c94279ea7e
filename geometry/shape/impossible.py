"""What cannot be laid out, told by the key of the build file that asks for it."""

import math
from collections.abc import Iterator

from ...params.problem import BuildFileError, Problem
from ...params.project import SIDES, Project
from ...params.units import both_text
from .frame import Board
from .lining import Manifold, Panel
from .own_wood import SLACK, flanges, taken
from .taps import Tap


def refuse_frame(project: Project, boards: tuple[Board, ...]) -> None:
    """Raise ``BuildFileError`` where boards or foam leave no opening."""

    def found() -> Iterator[Problem]:
        for board in boards:
            if board.short_point <= 0:
                yield Problem(
                    key=f"lip.{board.side}",
                    keys=("board.thickness",),
                    read=both_text(board.long_point, project.show),
                    wanted="a side longer than its two miters, so that the collar has an opening",
                )
        if project.foam and project.foam.below_top >= boards[0].width:
            yield Problem(
                key="foam.below_top",
                read=both_text(project.foam.below_top, project.show),
                wanted=f"less than the board's width ({both_text(boards[0].width, project.show)})",
            )

    _raise(found())


def refuse_foam(project: Project, boards: tuple[Board, ...], panels: tuple[Panel, ...]) -> None:
    """Raise ``BuildFileError`` where opposite panels meet or a panel has no length."""
    for board, panel in zip(boards, panels, strict=False):
        if panel.length <= 0 or board.short_point <= 2 * panel.thickness:
            _raise(
                iter(
                    [
                        Problem(
                            key="foam.thickness",
                            read=both_text(panel.thickness, project.show),
                            wanted="foam on both sides of a clear length of"
                            f" {both_text(board.short_point, project.show)} that leaves an opening",
                        )
                    ]
                )
            )


def refuse_outside(
    project: Project,
    boards: tuple[Board, ...],
    taps: tuple[Tap, ...],
    manifold: Manifold | None,
) -> None:
    """Raise ``BuildFileError`` for all that would stand outside its board or in another hole."""
    _raise(
        problem
        for each in (
            _passages(project, boards, taps),
            _manifold(project, boards, manifold),
            _bracket(project, boards),
            _hinges(project, boards),
            _plug(project),
        )
        for problem in each
    )


def _raise(problems: Iterator[Problem]) -> None:
    found = list(problems)
    if found:
        raise BuildFileError(found)


def _within(
    board: Board, u: float, v: float, half_length: float, half_height: float
) -> tuple[bool, bool]:
    """Tell whether a shape lies between the short points, and between the edges."""
    left, right = board.inner_left, board.long_point - board.inner_right
    return (
        left + half_length - SLACK <= u <= right - half_length + SLACK,
        half_height - SLACK <= v <= board.width - half_height + SLACK,
    )


def _room(project: Project, board: Board) -> str:
    return (
        f"inside the {board.side} board, between its short points"
        f" ({both_text(board.short_point, project.show)} apart) and its edges"
        f" ({both_text(board.width, project.show)} apart)"
    )


def _passages(
    project: Project, boards: tuple[Board, ...], taps: tuple[Tap, ...]
) -> Iterator[Problem]:
    holes = [(tap.side, tap.u, tap.v, *_taken(tap)) for tap in taps]
    for number, asked in enumerate(project.hole, 1):
        board = boards[SIDES.index(asked.side)]
        u, v, radius = board.long_point / 2 + asked.offset, asked.height, asked.diameter / 2
        along, across = _within(board, u, v, radius, radius)
        if not (along and across):
            key = "offset" if across else "height"
            yield Problem(
                key=f"hole[{number}].{key}",
                keys=(f"hole[{number}].diameter",),
                read=both_text(getattr(asked, key), project.show),
                wanted=f"a passage wholly {_room(project, board)}",
            )
        for side, other_u, other_v, other_radius, what in holes:
            gap = math.hypot(u - other_u, v - other_v) - radius - other_radius
            if side == asked.side and gap < -SLACK:
                yield Problem(
                    key=f"hole[{number}].offset",
                    keys=(f"hole[{number}].height", f"hole[{number}].diameter"),
                    read=f"a passage {both_text(-gap, project.show)} into {what}",
                    wanted="a passage in wood of its own",
                )
        holes.append((asked.side, u, v, radius, f"hole[{number}]"))


def _taken(tap: Tap) -> tuple[float, str]:
    """Return the radius of what a tap takes of its board's face, mm, and what that is.

    A passage under the flange would be half closed by it, and an open way into the wood and foam.
    """
    radius = taken(tap.hole, flanges([tap]))
    if radius > tap.bore / 2:
        return radius, f"the flange of tap {tap.number}"
    return radius, f"tap {tap.number}'s bore"


def _manifold(
    project: Project, boards: tuple[Board, ...], manifold: Manifold | None
) -> Iterator[Problem]:
    if manifold is None:
        return
    board = boards[SIDES.index(manifold.side)]
    half, tall = manifold.length / 2, manifold.height / 2
    along, across = _within(board, manifold.u, manifold.v, half, tall)
    size = (
        f"{both_text(manifold.length, project.show)} x {both_text(manifold.height, project.show)}"
    )
    if not along:
        yield Problem(
            key="manifold.offset",
            keys=("manifold.length", "manifold.kind"),
            read=f"a manifold of {size} beyond the {manifold.side} board's inner face",
            wanted=f"a manifold {_room(project, board)}",
        )
    if not across:
        yield Problem(
            key="manifold.centre",
            keys=("manifold.height", "manifold.kind"),
            read=f"a manifold of {size} beyond the {manifold.side} board's edges",
            wanted=f"a manifold {_room(project, board)}",
        )


def _bracket(project: Project, boards: tuple[Board, ...]) -> Iterator[Problem]:
    asked = project.board.bracket
    row = project.part("brackets", None if asked == "none" else asked)
    if row is None:
        return
    shortest = min(board.short_point for board in boards)
    if row.value("width") > boards[0].width + SLACK or 2 * row.value("leg") > shortest + SLACK:
        yield Problem(
            key="board.bracket",
            keys=("board.width",),
            read=f"a bracket {both_text(row.value('width'), project.show)} wide with legs of"
            f" {both_text(row.value('leg'), project.show)}",
            wanted=f"one no wider than the board ({both_text(boards[0].width, project.show)}), two"
            f" of whose legs fit into {both_text(shortest, project.show)}",
        )


def _hinges(project: Project, boards: tuple[Board, ...]) -> Iterator[Problem]:
    hinge, board = project.hinge, boards[2]
    if hinge is None:
        return
    half = (hinge.leaf_width or 0.0) / 2
    for number, position in enumerate(hinge.positions or (), 1):
        if not _within(board, board.long_point / 2 + position, 0.0, half, 0.0)[0]:
            yield Problem(
                key=f"hinge.positions[{number}]",
                keys=("hinge.leaf_width",),
                read=both_text(position, project.show),
                wanted=f"a leaf {_room(project, board)}, measured from the board's middle",
            )
    leaf = hinge.leaf_thickness or 0.0
    if hinge.screw_length is not None and hinge.screw_length <= leaf:
        yield Problem(
            key="hinge.screw_length",
            keys=("hinge.leaf_thickness",),
            read=both_text(hinge.screw_length, project.show),
            wanted=f"a screw longer than the leaf is thick ({both_text(leaf, project.show)})",
        )


def _plug(project: Project) -> Iterator[Problem]:
    """Refuse a plug of which the insets leave nothing."""
    lid = project.lid
    if lid is None or lid.plug_inset is None or lid.overhang is None or not lid.plug:
        return
    for one, other, side in (("front", "back", "right"), ("left", "right", "front")):
        insets = [lid.plug_inset.on(each) for each in (one, other)]  # type: ignore[arg-type]
        overs = [lid.overhang.on(each) for each in (one, other)]  # type: ignore[arg-type]
        if None in insets or None in overs:
            continue
        readings = getattr(project.lip, side)
        across = sum(readings) / len(readings) + sum(over or 0.0 for over in overs)
        if sum(inset or 0.0 for inset in insets) >= across:
            yield Problem(
                key="lid.plug_inset",
                read=both_text(insets[0] or 0.0, project.show),
                wanted=f"insets from {one} and {other} that leave a plug: the lid is"
                f" {both_text(across, project.show)} across",
            )
            return
