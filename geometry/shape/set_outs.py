"""What is said of holes that are only set out, and of what fastens hinge and tray inside."""

from collections.abc import Iterable, Iterator

from ...params.project import Project
from .frame import Board
from .hole import BRACKET_SET_OUT, HINGE_SET_OUT, TRAY


def remarks(project: Project, boards: Iterable[Board]) -> Iterator[str]:
    """Name holes that are assumed, and what of the fastening is not cut out of the foam."""
    names = [hole.name for board in boards for hole in board.holes if hole.assumed]
    hinged = any(name.startswith(HINGE_SET_OUT) for name in names)
    if hinged:
        yield (
            "hinge holes are assumed, set out evenly along the leaf: mark through the real leaf"
            " before drilling"
        )
    if any(name.startswith(BRACKET_SET_OUT) for name in names):
        yield (
            "bracket holes are assumed, set out by the catalog: mark through the real bracket"
            " before drilling"
        )
    if project.foam is not None:
        through = [
            board.side
            for board in boards
            for hole in board.holes
            if hole.name.startswith(TRAY) and hole.depth is None
        ]
        if through:
            yield (
                f"the tray's holes go right through the {through[0]} board and end at its foam,"
                " which has no holes for them"
            )
    hinge = project.hinge
    if hinge is None or project.foam is None:
        return
    if hinged and hinge.fix == "bolt" and hinge.bolt_washer is None:
        yield (
            "the back foam has no pockets about the hinge's bolts, as hinge.bolt_washer is not"
            " given: cut them by your own marks"
        )
    if hinge.backing:
        yield (
            "the hinge's block behind the board (hinge.backing) has no sizes here but its"
            " thickness: cut the back foam around it by your own marks"
        )
