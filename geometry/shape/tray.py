"""The drip tray's screws: pilots in the board below the taps, and in the cover that lies on it.

A tray hangs on the collar, whose wood takes its screws; the freezer's own wall is never drilled,
as refrigerant lines run in it. The tray itself, what stands under the spouts, is a keep-out.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from ...params.problem import BuildFileError, Problem
from ...params.project import SIDES, Project, Side
from ...params.units import both_text
from . import cover as cover_
from .frame import Board
from .hole import TRAY, Hole
from .own_wood import SLACK, flanges, into
from .screws import PILOT_DEPTH_SHARE
from .taps import Tap, positions

LEAST = 0.01
"""What would be drilled less deep than this is no hole, mm: below what any drill is set to."""


def side_of(project: Project) -> Side | None:
    """Return the side that the tray hangs on: as asked, else that of the first row of taps."""
    if project.tray is None:
        return None
    return project.tray.side or project.taps[0].side


def taps_middle(project: Project) -> float:
    """Return how far the middle of the taps above the tray lies right of their board's, mm.

    As they were drawn: a bore that came out elsewhere does not move the tray. 0 without taps there.
    """
    side = side_of(project)
    places = [each for row in project.taps if row.side == side for each in positions(row)]
    return (min(places) + max(places)) / 2 if places else 0.0


def under(board: Board, covers: tuple[Board, ...], project: Project) -> Board | None:
    """Return the cover that the tray's screws go through on a board, None where they do not."""
    tray, cover = project.tray, cover_.of_side(covers, board.side)
    if tray is None or cover is None or not cover_.goes_through(cover, tray.height, tray.pilot):
        return None
    return cover


def screws(project: Project, board: Board, cover: Board | None) -> tuple[Hole, ...]:
    """Return the tray's pilots as holes in a board and the cover on it, taken as one piece.

    They are in the board's flat view, from the left; ``depth`` goes from the outermost face: two
    thirds of all the wood without ``tray.depth``. What is to be as deep as the wood is thick, or
    deeper, goes right through.

    Args:
        project: for ``[tray]``.
        board: any board; one that has no tray gets no pilots.
        cover: the cover that they go through, see ``under``.
    """
    tray = project.tray
    if tray is None or board.side != side_of(project):
        return ()
    wood = board.thickness + (cover.thickness if cover else 0.0)
    depth = wood * PILOT_DEPTH_SHARE if tray.depth is None else tray.depth
    start = board.long_point / 2 + (taps_middle(project) if tray.offset is None else 0.0)
    return tuple(
        Hole(
            name=f"{TRAY}{number}",
            purpose="pilot",
            u=start + place,
            v=tray.height,
            diameter=tray.pilot,
            depth=None if depth >= wood - SLACK else depth,
        )
        for number, place in enumerate(sorted(positions(tray)), 1)
    )


def in_board(found: Iterable[Hole], cover: Board | None) -> tuple[Hole, ...]:
    """Return what of the pilots is in the board itself, behind the cover that they go through."""
    outer = cover.thickness if cover else 0.0
    return tuple(
        hole if hole.depth is None else replace(hole, depth=hole.depth - outer)
        for hole in found
        if hole.depth is None or hole.depth - outer > LEAST
    )


def in_cover(found: Iterable[Hole], cover: Board | None) -> tuple[Hole, ...]:
    """Return what of the pilots is in the cover that they go through, in its own flat view."""
    if cover is None:
        return ()
    return tuple(
        cover_.moved(
            cover,
            replace(hole, depth=None)
            if hole.depth is None or hole.depth > cover.thickness - LEAST
            else hole,
        )
        for hole in found
    )


def refuse(
    project: Project,
    boards: tuple[Board, ...],
    covers: tuple[Board, ...],
    taps: tuple[Tap, ...],
) -> None:
    """Raise ``BuildFileError`` for screws beyond the board, or where something else is.

    ``boards`` have all that is cut into them.
    """
    side = side_of(project)
    if side is None:
        return
    board = boards[SIDES.index(side)]
    found = screws(project, board, under(board, covers, project))
    problems = [
        *_beyond(project, board, found),
        *_in_the_way(project, board, found, flanges(taps)),
    ]
    if problems:
        raise BuildFileError(problems)


def _key(project: Project) -> str:
    """Return the key that says where along the board the screws are."""
    tray = project.tray
    if tray is not None and tray.positions is not None:
        return "tray.positions"
    return "tray.spacing" if tray is not None and (tray.count or 1) > 1 else "tray.offset"


def _beyond(project: Project, board: Board, found: tuple[Hole, ...]) -> Iterator[Problem]:
    """Say so where pilots leave the rectangle between the board's short points and edges."""
    left, right = board.inner_left, board.long_point - board.inner_right

    def shown(mm: float) -> str:
        return both_text(mm, project.show)

    radius = found[0].half_length
    if not radius - SLACK <= found[0].v <= board.width - radius + SLACK:
        yield Problem(
            key="tray.height",
            keys=("tray.pilot",),
            read=shown(found[0].v),
            wanted=f"screws in the {board.side} board's wood: from {shown(radius)} to"
            f" {shown(board.width - radius)} above its bottom edge"
            + ("; the freezer's own wall is never drilled" if found[0].v < board.width / 2 else ""),
        )
    over = max(
        max(left - (hole.u - radius), hole.u + radius - right) for hole in found
    )  # fmt: skip
    if over > SLACK:
        yield Problem(
            key=_key(project),
            keys=("tray.offset", "tray.pilot"),
            read=f"a screw {shown(over)} beyond the {board.side} board's inner face",
            wanted=f"every screw between the board's short points ({shown(right - left)} apart)",
        )


def _in_the_way(
    project: Project, board: Board, found: tuple[Hole, ...], flanged: dict[str, float]
) -> Iterator[Problem]:
    """Say so where a screw stands in another hole, under a tap's flange, or in another screw."""
    others = [hole for hole in board.holes if not hole.name.startswith(TRAY)]
    for number, hole in enumerate(found):
        for other in (*others, *found[:number]):
            deep = into(hole, other, flanged)
            if deep <= SLACK:
                continue
            what = _what(other, flanged.get(other.name, 0.0))
            yield Problem(
                key=_key(project) if other in found else "tray.height",
                keys=(_key(project), "tray.offset", "tray.pilot"),
                read=f"{hole.name} {both_text(deep, project.show)} into {what}",
                wanted="screws in wood of their own",
            )
            break


def _what(hole: Hole, flange: float) -> str:
    """Return what a screw runs into, in words: what is wider of a bore and the flange over it."""
    name = hole.name.replace("-", " ") if hole.purpose == "bore" else hole.name
    if flange > 2 * hole.half_length:
        return f"the flange of {name}"
    return f"{name}'s bore" if hole.purpose == "bore" else name
