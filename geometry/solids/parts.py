"""From the layout to every part of the model."""

from collections.abc import Callable
from dataclasses import dataclass

from ...params.project import SIDES
from ..shape.layout import Layout
from . import about, boards, cap, foam
from .bought import Bought, add_bracket, add_manifold, add_tap
from .joints import add_joint
from .part import Part


@dataclass(frozen=True, slots=True)
class Model:
    """Every part: made ones, bought ones, reference bodies; and what is worth a word about them."""

    parts: tuple[Part, ...]
    remarks: tuple[str, ...]

    @property
    def made(self) -> tuple[Part, ...]:
        """Boards, foam panels, covers and cap strips: what is cut here."""
        return tuple(part for part in self.parts if part.made)


def parts(layout: Layout) -> tuple[Part, ...]:
    """Return every part of a layout; see ``model``."""
    return model(layout).parts


def model(layout: Layout, between: Callable[[], None] = lambda: None) -> Model:
    """Make every part of a layout and compare what is made with its closed form.

    Lid, hinge leaves, lip and well are drawn where the build file gives enough; vessels
    are not. A foam panel of which nothing is left and a bought part without a wall are left
    out, and a panel that falls apart is one part of several pieces; each of these is a remark.
    ``between`` is called between the kinds of parts; what it raises ends the work there.

    Raises:
        SolidError: the kernel failed, or a solid is not what its closed form says.
    """
    made = [boards.part(board) for board in layout.boards]
    between()
    for board, panel in zip(layout.boards, layout.panels, strict=False):
        part = foam.part(panel, board)
        if part is not None:
            made.append(part)
    made += [boards.part(cover) for cover in layout.covers]
    made += [cap.part(strip) for strip in layout.strips]
    between()
    found = Bought()
    for joint in layout.joints:
        add_joint(found, joint)
    for tap in layout.taps:
        add_tap(found, tap, layout.board(tap.side))
    between()
    if layout.manifold is not None:
        add_manifold(found, layout.manifold, layout.board(layout.manifold.side))
    for leg in layout.brackets:
        if leg.at == "left":
            corner = layout.frame.corners[SIDES.index(leg.side)]
            add_bracket(found, leg, layout.board(leg.side), corner.half_rad)
    between()
    return Model((*made, *found.parts, *about.parts(layout)), tuple(found.remarks))
