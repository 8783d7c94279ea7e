"""The opening lid: does it hit the wall behind, or what hangs above?

On a collar the lid turns a board's width higher, and its corners reach farthest somewhere
along the way, not at the stop.
"""

from collections.abc import Iterator

from ...shape.lid import farthest_back, first_reach, highest
from ...shape.plane import Point
from ..design import Design
from ..finding import Check, Finding, Where

LID_WALL = Check(
    id="lid-wall",
    weight="must",
    unit="mm",
    question="does the opening lid hit the wall?",
    source="plane kinematics of the lid's corners over the whole sweep",
    levers=("hinge.open_to", "hinge.axis_behind"),
)
LID_CEILING = Check(
    id="lid-ceiling",
    weight="must",
    unit="mm",
    question="does the opening lid hit what is above?",
    source="plane kinematics of the lid's corners over the whole sweep",
    levers=("hinge.open_to", "board.stock"),
)

KEYS = (
    "lid.overhang.front", "lid.overhang.back", "lid.thickness", "lid.skirt.front",
    "lid.skirt.right", "lid.skirt.back", "lid.skirt.left", "hinge.axis_behind",
    "hinge.axis_above", "hinge.open_to",
)  # fmt: skip
"""What the sweep needs."""


def find_wall(design: Design) -> Iterator[Finding]:
    """Yield how far behind the lip's back edge the lid reaches in the whole sweep."""
    project, layout = design.project, design.layout
    where = Where(side="back")
    missing = design.lacking(*KEYS, "room.behind")
    if missing or not (layout.lid and layout.hinge and project.hinge and project.room):
        yield LID_WALL.not_checked(where, missing, "the lid's section, its hinge and the wall")
        return
    assert project.hinge.open_to is not None and project.room.behind is not None
    corners, open_to = layout.lid.corners(), project.hinge.open_to
    far = farthest_back(corners, layout.hinge, open_to)
    measured = far.reach - layout.lip.depth
    why = f"the lid reaches farthest back at {far.angle_deg:.1f} deg of its swing"
    if measured > project.room.behind:
        wall = layout.lip.depth + project.room.behind
        why += _first(first_reach(corners, layout.hinge, open_to, wall, 0.0), "wall")
    yield LID_WALL.at_most(where, measured, project.room.behind, why)


def find_ceiling(design: Design) -> Iterator[Finding]:
    """Yield how high above the lip's plane the lid reaches in the whole sweep."""
    project, layout = design.project, design.layout
    where = Where(text="ceiling")
    missing = design.lacking(*KEYS, "room.above")
    if missing or not (layout.lid and layout.hinge and project.hinge and project.room):
        yield LID_CEILING.not_checked(where, missing, "the lid's section, its hinge, the ceiling")
        return
    assert project.hinge.open_to is not None and project.room.above is not None
    corners, open_to = layout.lid.corners(), project.hinge.open_to
    top = highest(corners, layout.hinge, open_to)
    why = f"the lid reaches highest at {top.angle_deg:.1f} deg of its swing"
    if top.reach + layout.seal > project.room.above:
        ceiling = project.room.above - layout.seal
        why += _first(first_reach(corners, layout.hinge, open_to, None, ceiling), "ceiling")
    yield LID_CEILING.at_most(where, top.reach + layout.seal, project.room.above, why)


def _first(met: tuple[float, Point] | None, what: str) -> str:
    """Say at which angle a corner of the lid first comes to the wall or the ceiling."""
    return "" if met is None else f"; it meets the {what} first at {met[0]:.1f} deg"
