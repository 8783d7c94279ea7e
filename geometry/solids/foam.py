"""The foam panels as solids: square-ended boards with pockets, passages and openings cut."""

from ..shape.frame import Board
from ..shape.lining import Panel
from . import kernel
from .part import Part


def name(panel: Panel) -> str:
    """Return the part's name."""
    return f"foam-{panel.side}"


def sizes(panel: Panel) -> str:
    """Return the panel's sizes for a message."""
    return (
        f"{panel.length:.2f} x {panel.width:.2f} x {panel.thickness:.2f} mm,"
        f" {len(panel.holes)} cut out"
    )


def part(panel: Panel, board: Board) -> Part | None:
    """Return a panel with everything cut out of it; None where nothing is left of it.

    It lies flat with the well's face on z = 0 and the face that lies on the board up. Cuts may
    overlap and run over the edge; a panel that falls apart is one part of several pieces.

    Raises:
        SolidError: the kernel failed, or the solid is not what the closed form says.
    """
    called, size = name(panel), sizes(panel)
    length, width, thickness = panel.length, panel.width, panel.thickness
    with kernel.guarded(called, "cutting pockets and openings", size):
        solid = kernel.box((0.0, 0.0, 0.0), (length, width, thickness))
        tools = [kernel.tool(hole, thickness) for hole in panel.holes]
        bodies = kernel.cut(solid, tools)
        volume = panel.volume
        if not bodies and volume <= kernel.CLOSE * length * width * thickness:
            return None
        shape = kernel.joined(bodies)
        kernel.checked(shape, volume, called, "cutting pockets and openings", size)
    return Part(
        name=called,
        group="foam",
        product=called,
        made=True,
        flat=shape,
        location=kernel.frame(
            board, board.inner_left + panel.start, 0.0, board.thickness + thickness
        ),
        sizes=size,
        volume=volume,
        pieces=len(bodies),
    )
