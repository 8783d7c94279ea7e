"""What stands beside a flat view: how the part lies, its sizes, how it is cut, and its holes."""

from collections.abc import Iterable

from ...params.units import Show, fraction_text, mm_text
from .frame import Board
from .hole import Hole
from .lining import Panel
from .taps import Tap

NOMINAL = "Sizes are nominal: no kerf or bit offset added."


def board_captions(board: Board, taps: Iterable[Tap], show: Show) -> list[str]:
    """Return the lines of text for a board.

    Args:
        board: the board with its holes.
        taps: the taps on it, for what the builder calls them.
        show: the unit that comes first.
    """
    texts = [
        f"{board.side.capitalize()} board, seen from outside: outer face up, lower edge (y = 0)"
        " down on the lip.",
        f"Overall {_size(board.long_point, show)} from long point to long point,"
        f" {_size(board.width, show)} wide, {_size(board.thickness, show)} thick.",
        NOMINAL,
        f"Miters: tilt the blade {board.miter_left_deg:.1f} deg at the left end,"
        f" {board.miter_right_deg:.1f} deg at the right end; board flat, outer face up.",
        "OUTLINE is a square-ended blank, long point by width: the miter is sawn, not routed.",
        "INNER-EDGE is where the miter comes out on the inner face.",
    ]
    if any(hole.face == "inner" and hole.depth is not None for hole in board.holes):
        texts.append(
            "Holes drilled from the inner face are told here and not drawn: a machine would"
            " drill them from this side."
        )
    names = _names(taps)
    return texts + [
        f"{_hole(hole, names, show)}, center {_size(hole.u, show)} from the left long point,"
        f" {_size(hole.v, show)} from the bottom edge{_deep(hole, show)}."
        for hole in board.holes
    ]


def panel_captions(
    panel: Panel, board: Board, taps: Iterable[Tap], pieces: int, show: Show
) -> list[str]:
    """Return the lines of text for a foam panel.

    Args:
        panel: the panel with its holes.
        board: the board that it lies on.
        taps: the taps on that board.
        pieces: how many pieces are left of the panel.
        show: the unit that comes first.
    """
    texts = [
        f"{panel.side.capitalize()} foam panel, seen from outside: the face that lies on the board"
        " is up.",
        "Its lower edge (y = 0) is level with the board's bottom edge, its left end is"
        f" {_size(board.inner_left + panel.start, show)} from the board's left long point.",
        f"Overall {_size(panel.length, show)} long, {_size(panel.width, show)} wide,"
        f" {_size(panel.thickness, show)} thick. Ends are square.",
        NOMINAL,
        "Holes that meet one another or the edge are one line.",
    ]
    if pieces != 1:
        texts.append(
            f"Falls into {pieces} pieces." if pieces else "The holes leave nothing of this panel."
        )
    names = _names(taps)
    return texts + [
        f"{_hole(hole, names, show)}, center {_size(hole.u, show)} from the left end,"
        f" {_size(hole.v, show)} from the lower edge{_deep(hole, show)}."
        for hole in panel.holes
    ]


def _size(mm: float, show: Show) -> str:
    """Write a size with its unit: ``37 in (939.8 mm)``, or ``939.8 mm``."""
    exact = mm_text(mm, 2)
    return f"{fraction_text(mm)} ({exact})" if show == "in" else exact


def _names(taps: Iterable[Tap]) -> dict[str, str]:
    """Return what the builder calls a tap, by its hole's name, where that says more."""
    return {
        f"tap-{tap.number}": tap.name for tap in taps if tap.name not in ("", f"tap {tap.number}")
    }


def _hole(hole: Hole, names: dict[str, str], show: Show) -> str:
    called = f"{hole.name} ({names[hole.name]})" if hole.name in names else hole.name
    size = (
        _size(hole.diameter, show)
        if hole.diameter is not None
        else f"{_size(hole.length or 0.0, show)} x {_size(hole.height or 0.0, show)}"
    )
    return f"{called}: {hole.purpose} {size}"


def _deep(hole: Hole, show: Show) -> str:
    """Say how deep a hole goes and from where; nothing where it goes right through."""
    return f"; {_size(hole.depth, show)} deep from the {hole.face} face" if hole.depth else ""
