"""The collar's boards and its cover's as solids, mitered exactly for every quadrilateral."""

import cadquery as cq

from ..shape.frame import Board
from ..shape.slot import CUTTER, Slot
from . import kernel
from .part import Part


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


def slot_tool(slot: Slot, thickness: float, width: float) -> cq.Solid:
    """Return what to cut away for a joint's half in a board that lies flat, mm.

    It begins outside the miter, where there is nothing of this board.
    """
    (u, inward), (way_u, way_in) = slot.mouth, slot.way
    mouth = cq.Vector(u, slot.v, thickness - inward)
    way = cq.Vector(way_u, 0.0, -way_in)
    if slot.kind == "dowel":
        start, long = mouth - way * kernel.OVERRUN, slot.depth + kernel.OVERRUN
        return cq.Solid.makeCylinder(slot.thick / 2, long, start, way)
    across = cq.Vector(slot.across[0], 0.0, -slot.across[1])
    if slot.kind == "biscuit":
        center = mouth + way * (slot.depth - CUTTER) - across * (slot.thick / 2)
        return cq.Solid.makeCylinder(CUTTER, slot.thick, center, across)
    low = cq.Vector(mouth.x, -kernel.OVERRUN, mouth.z)
    half, deep, out = across * (slot.thick / 2), way * slot.depth, way * kernel.OVERRUN
    corners = [low - half - out, low + half - out, low + half + deep, low - half + deep]
    up = width + 2 * kernel.OVERRUN
    return kernel.prism([each.toTuple() for each in corners], (0.0, up, 0.0))


def part(board: Board) -> Part:
    """Return a board with all its holes.

    Raises:
        SolidError: the kernel failed, or the solid is not what the closed form says.
    """
    called, size = board.name, sizes(board)
    with kernel.guarded(called, "extruding the mitered board", size):
        solid = blank(board)
    with kernel.guarded(called, "cutting the holes", size):
        tools = [kernel.tool(hole, board.thickness) for hole in board.holes]
        tools += [slot_tool(slot, board.thickness, board.width) for slot in board.slots]
        bodies = kernel.cut(solid, tools)
        shape = kernel.joined(bodies)
        volume = board.volume
        kernel.checked(shape, volume, called, "cutting the holes", size)
    return Part(
        name=called,
        group=board.kind,
        product=called,
        made=True,
        flat=shape,
        location=kernel.frame(board, 0.0, 0.0, board.thickness),
        sizes=size,
        volume=volume,
        pieces=len(bodies),
    )
