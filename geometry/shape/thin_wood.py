"""Where a passage leaves little wood beside it: said, since no check asks for it."""

from collections.abc import Iterator

from ...params.project import Project
from ...params.units import both_text
from .frame import Board
from .hole import Hole
from .own_wood import into


def remarks(project: Project, boards: tuple[Board, ...]) -> tuple[str, ...]:
    """Return a sentence for each passage with less wood beside it than it is wide.

    To the board's edges, and to every other hole but set-outs, whose places the bought part
    decides. A hole's own width as the least wood is common practice, no source.
    """
    found: list[str] = []
    for board in boards:
        for passage in board.holes:
            if passage.purpose != "passage":
                continue
            wood, what = min(_beside(board, passage))
            if wood < 2 * passage.half_length:
                found.append(
                    f"{passage.name} in the {board.side} board leaves"
                    f" {both_text(max(wood, 0.0), project.show)} of wood to {what}, less than it"
                    " is wide; no check asks for that"
                )
    return tuple(found)


def _beside(board: Board, passage: Hole) -> Iterator[tuple[float, str]]:
    """Yield the wood that is left beside a passage, mm, and what it ends at."""
    radius = passage.half_length
    yield passage.v - radius, "the bottom edge"
    yield board.width - passage.v - radius, "the top edge"
    for other in board.holes:
        if other is not passage and not other.assumed:
            yield -into(passage, other, {}), other.name
