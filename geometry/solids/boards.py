"""The collar's boards as solids, mitered exactly for every quadrilateral."""

import cadquery as cq

from ..shape.frame import Board
from . import kernel
from .part import Part


def name(board: Board) -> str:
    """Return the part's name."""
    return f"board-{board.side}"


def sizes(board: Board) -> str:
    """Return the board's sizes for a message."""
    return (
        f"{board.long_point:.2f} x {board.width:.2f} x {board.thickness:.2f} mm,"
        f" {board.short_point:.2f} mm between short points, {len(board.holes)} holes"
    )


def blank(board: Board) -> cq.Solid:
    """Return the board before boring, lying flat: inner face on z = 0, outer face up.

    Its outline seen from above (long points outside, short points inside) is pushed along its
    width, so both miters come out exact without a cut.
    """
    corners = (
        (0.0, 0.0, board.thickness),
        (board.long_point, 0.0, board.thickness),
        (board.long_point - board.inner_right, 0.0, 0.0),
        (board.inner_left, 0.0, 0.0),
    )
    return kernel.prism(corners, (0.0, board.width, 0.0))


def part(board: Board) -> Part:
    """Return a board with all its holes.

    Raises:
        SolidError: the kernel failed, or the solid is not what the closed form says.
    """
    called, size = name(board), sizes(board)
    with kernel.guarded(called, "extruding the mitered board", size):
        solid = blank(board)
    with kernel.guarded(called, "cutting the holes", size):
        tools = [kernel.tool(hole, board.thickness) for hole in board.holes]
        bodies = kernel.cut(solid, tools)
        shape = kernel.joined(bodies)
        volume = board.volume
        kernel.checked(shape, volume, called, "cutting the holes", size)
    return Part(
        name=called,
        group="board",
        product=called,
        made=True,
        flat=shape,
        location=kernel.frame(board, 0.0, 0.0, board.thickness),
        sizes=size,
        volume=volume,
        pieces=len(bodies),
    )
