"""The lid's swing: closed, open and between, wall and ceiling, and where it comes nearest."""

import math
from collections.abc import Iterator

from ...geometry.shape.layout import Layout
from ...geometry.shape.lid import Extreme, HingeAxis, farthest_back, first_reach, highest
from ...geometry.shape.plane import Point
from ...params.project import Project
from ...params.units import length_text
from ..paper.dims import HEAVY, MIDDLE, MOVED, THIN, VISIBLE, dot, hatching
from ..paper.marks import Path, Pen, line
from .cuts import cut_x, from_front_to_back
from .draft import Draft, View
from .general import collar, lid_pieces

STEP_DEG = 15.0
"""From one place of the lid that is drawn to the next, degrees."""

NEAR = 250.0
"""How near a wall or ceiling must be to what is swept to be drawn where it is, mm."""

BODY = 40.0


def can_swing(project: Project, layout: Layout) -> bool:
    """Whether enough was measured to draw the lid's swing."""
    hinge = project.hinge
    return bool(layout.lid and layout.lid.corners() and layout.hinge and hinge and hinge.open_to)


def swing(project: Project, layout: Layout, draft: Draft, room: float) -> None:
    """Draw the lid's swing over the collar's section, seen from the right."""
    axis, lid, hinge = layout.hinge, layout.lid, project.hinge
    assert axis is not None and lid is not None and hinge is not None
    assert hinge.open_to is not None
    view, depth, open_to = draft.view(), layout.lip.depth, hinge.open_to
    lip_z = -layout.seal
    corners = lid.corners()
    back, top = farthest_back(corners, axis, open_to), highest(corners, axis, open_to)
    view.line((0.0, lip_z), (depth, lip_z), MIDDLE)
    for y in (0.0, depth):
        view.line((y, lip_z), (y, lip_z - BODY), MIDDLE)
    collar(view, tuple(from_front_to_back(layout, cut_x(layout)[0], bored=False)))
    _lids(layout, view, axis, open_to)
    for corner in dict.fromkeys((back.corner, top.corner)):
        _path(view, corner, axis, open_to)
    view.cross(axis.point, 0.0, 3.0)
    view.leader(axis.point, "hinge axis", (-30, -60, -15, -75, 15, -100, -120), "none")
    notes = [_reach(project, layout, back, top, open_to)]
    notes += _wall(project, layout, view, back, axis, open_to, top.reach)
    notes += _ceiling(project, layout, view, top, axis, open_to, back.reach)
    _figures(project, layout, view, axis, back, top)
    draft.notes(notes, room)


def turned(point: Point, axis: HingeAxis, angle_deg: float) -> Point:
    """Return where a point of the lid is when it stands open by an angle, degrees."""
    y, z = point[0] - axis.y, point[1] - axis.z
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return axis.y + y * c + z * s, axis.z + z * c - y * s


def _lids(layout: Layout, view: View, axis: HingeAxis, open_to: float) -> None:
    """Draw the lid open in steps, then open all the way, then closed."""
    pieces = lid_pieces(layout)
    steps = [STEP_DEG * i for i in range(1, math.ceil(open_to / STEP_DEG - 1e-9))]
    for angle in steps:
        for piece in pieces:
            view.outline([turned(point, axis, angle) for point in piece], Pen(0.13, gray=0.45))
    for piece in pieces:
        view.outline([turned(point, axis, open_to) for point in piece], MOVED)
        view.outline(piece, VISIBLE)


def _path(view: View, corner: Point, axis: HingeAxis, open_to: float) -> None:
    """Draw the way of the corner that reaches farthest."""
    count = max(2, math.ceil(open_to / 3))
    points = [view.at(turned(corner, axis, open_to * i / count)) for i in range(count + 1)]
    view.draft.add(Path(points[0], tuple((each,) for each in points[1:]), MIDDLE))


def _place(extreme: Extreme, axis: HingeAxis) -> Point:
    return turned(extreme.corner, axis, extreme.angle_deg)


def _reach(project: Project, layout: Layout, back: Extreme, top: Extreme, open_to: float) -> str:
    far = length_text(back.reach - layout.lip.depth, project.show)
    high = length_text(top.reach + layout.seal, project.show)
    return (
        f"Lid closed, open to {open_to:g} deg, and every {STEP_DEG:g} deg between. It reaches"
        f" {far} behind the lip's back edge at {back.angle_deg:.1f} deg and {high} above the lip"
        f" at {top.angle_deg:.1f} deg."
    )


def _wall(
    project: Project, layout: Layout, view: View, back: Extreme, axis: HingeAxis, open_to: float,
    top: float,
) -> Iterator[str]:  # fmt: skip
    behind = project.room.behind if project.room else None
    if behind is None:
        yield "The wall was not measured (room.behind)."
        return
    wall, place = layout.lip.depth + behind, _place(back, axis)
    first = first_reach(layout.lid.corners(), axis, open_to, wall, 0.0) if layout.lid else None
    text = _said(project, "wall", wall - back.reach, back, first)
    if wall - back.reach > NEAR:
        yield f"{text} It is too far to be drawn."
        return
    low, high = -layout.seal - BODY, top + 20.0
    view.line((wall, low), (wall, high), HEAVY)
    _ground(view, ((wall, low), (wall, high)), (2.5, 0.0))
    at = view.at((0.0, low))[1]
    view.dim((layout.lip.depth, low), (wall, low), at - 9.0, "level")
    _point(view, first, place, axis)
    x, y = view.at(place)
    view.draft.add(line(x, y - 1.5, x, y + 1.5, THIN))
    view.dim(place, (wall, place[1]), y, "level")
    yield text


def _ceiling(
    project: Project, layout: Layout, view: View, top: Extreme, axis: HingeAxis, open_to: float,
    back: float,
) -> Iterator[str]:  # fmt: skip
    above = project.room.above if project.room else None
    if above is None:
        yield "What is above was not measured (room.above)."
        return
    ceiling, place = above - layout.seal, _place(top, axis)
    first = first_reach(layout.lid.corners(), axis, open_to, None, ceiling) if layout.lid else None
    text = _said(project, "ceiling", ceiling - top.reach, top, first)
    _point(view, first, place, axis)
    if ceiling - top.reach > NEAR:
        yield f"{text} It is too far above to be drawn."
        return
    left, right = -20.0, back + 20.0
    view.line((left, ceiling), (right, ceiling), HEAVY)
    _ground(view, ((left, ceiling), (right, ceiling)), (0.0, 2.5))
    x, y = view.at(place)
    view.draft.add(line(x - 1.5, y, x + 1.5, y, THIN))
    view.dim(place, (place[0], ceiling), x, "upright")
    yield text


def _said(
    project: Project, what: str, gap: float, far: Extreme, first: tuple[float, Point] | None
) -> str:
    if gap < 0 and first is not None:
        over = length_text(-gap, project.show)
        return f"It meets the {what} first at {first[0]:.1f} deg, and wants {over} more."
    return f"To the {what} it leaves {length_text(gap, project.show)}, at {far.angle_deg:.1f} deg."


def _point(view: View, first: tuple[float, Point] | None, place: Point, axis: HingeAxis) -> None:
    """Mark where the lid comes nearest, and where it first meets what it meets."""
    view.draft.add(dot(view.at(place), 1.4))
    if first is not None:
        met = turned(first[1], axis, first[0])
        view.draft.add(dot(view.at(met), 2.0))
        view.leader(met, f"first contact, {first[0]:.1f} deg", (160, 200, 140, 220, 180), "none")


def _ground(view: View, edge: tuple[Point, Point], out: tuple[float, float]) -> None:
    """Hatch a strip behind a wall or ceiling; ``out`` in mm on the page."""
    a, b = view.at(edge[0]), view.at(edge[1])
    strip = [a, b, (b[0] + out[0], b[1] + out[1]), (a[0] + out[0], a[1] + out[1])]
    view.draft.add(*hatching([strip], 1.5, 45.0, Pen(0.18)))


def _figures(
    project: Project, layout: Layout, view: View, axis: HingeAxis, back: Extreme, top: Extreme
) -> None:
    """Note the sizes that set the swing: the axis, the lid, and how far it reaches."""
    lid = layout.lid
    assert lid is not None and lid.front_y is not None and lid.top_z is not None
    face = layout.back_y + layout.leaf_out
    low = -layout.seal - BODY
    floor = view.at((0.0, low))[1]
    if abs(axis.y - face) * view.draft.scale > 0.2:
        view.dim((face, 0.0), (axis.y, axis.z), floor - 9.0 - 13.0, "level")
    if back.reach > layout.lip.depth:
        place = _place(back, axis)
        view.dim((layout.lip.depth, low), place, floor - 9.0 - 6.5, "level")
    front = min(lid.front_y, layout.front_y, 0.0)
    edge = view.at((front, 0.0))[0]
    view.dim((front, 0.0), (lid.front_y, lid.under_z), edge - 9.0, "upright")
    view.dim((lid.front_y, lid.under_z), (lid.front_y, lid.top_z), edge - 15.5, "upright")
    place = _place(top, axis)
    view.dim((0.0, -layout.seal), place, edge - 22.0, "upright")
    if abs(axis.z - lid.under_z) * view.draft.scale > 0.2:
        right = max(back.reach, layout.back_y)
        behind = project.room.behind if project.room else None
        if behind is not None and layout.lip.depth + behind - back.reach <= NEAR:
            right = max(right, layout.lip.depth + behind)
        x = view.at((right, 0))[0] + 9.0
        view.dim((layout.back_y, lid.under_z), axis.point, x, "upright")
