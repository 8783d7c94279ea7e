"""How a foam panel gets to its place, past what stands out over it or in front of it.

It is let in standing: straight down on its place, or before it and then pressed outward over what
its pockets and cut-outs leave room for. A frame that lies free can be turned upside down, and the
panel let in from the bottom edge. That it fits between the boards, and between the panels that are
there, is nobody's question here.
"""

from ...shape.frame import Board
from .bodies import FAR, Lining, Room, box
from .part import Placed
from .tools import Way

UPSIDE_DOWN = "from the bottom edge, the frame upside down"
"""How the list names it."""

UNDER = (-2 * FAR, -FAR)
"""Where the freezer is under the frame, up: below all that a tool reaches."""


def ways_in(panel: Lining, height: float, across: float) -> tuple[Way, ...]:
    """Return the ways to let a panel in; from above first.

    Args:
        panel: where it is to stand, in its board's view.
        height: of its board, mm.
        across: from its board's outer face to the opposite board's, mm.
    """
    thick = panel.far - panel.near
    starts = (panel.near, panel.far, (across - thick) / 2)
    return tuple(
        Way(tool, (Room(panel.left, panel.right, *span, near, near + thick), *more))
        for tool, span, more in (
            ("", (0.0, height + panel.top), ()),
            (UPSIDE_DOWN, (-panel.top, panel.top), (_turned(panel),)),
        )
        for near in starts
    )


def _turned(panel: Lining) -> Room:
    """Return what has to be free to turn the frame upside down: the place of the freezer."""
    return Room(panel.left, panel.right, *UNDER, panel.near, panel.far)


def under_the_frame(board: Board) -> Placed:
    """Return what keeps a frame from being turned once it is on the lip: the freezer under it."""
    span = (-FAR, board.long_point + FAR)
    return Placed("lip", board.side, box(span, UNDER, (-FAR, FAR)))
