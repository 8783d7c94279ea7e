"""Where a single vessel can stand, before anyone asks what stands beside it.

Floor or step, under the lid's plug or beside it: each kind of place leaves its own room.
"""

from dataclasses import dataclass

from ...params.project import Project
from .inner import Rect
from .layout import Layout
from .vessel import Vessel
from .well import Well


@dataclass(frozen=True, slots=True)
class Spot:
    """A kind of place for one vessel: room left over its fitting there, mm, and in words.

    ``wide`` tells whether the vessel has room there from wall to wall with nothing beside it.
    """

    on: str
    room: float
    wide: bool


def spots(project: Project, layout: Layout, vessel: Vessel, above: float) -> tuple[Spot, ...]:
    """Return the kinds of place for a vessel: floor and step, under the lid's plug and beside it.

    Args:
        project: for the lid's plug.
        layout: the collar with its well.
        vessel: the one that is to stand.
        above: the room that it needs over its fitting, mm.
    """
    well = layout.inside.well
    assert well is not None
    found: list[Spot] = []
    for on, z in (("floor", well.bottom), ("step", well.bottom)):
        if on == "step":
            if well.step is None:
                continue
            z += well.step.height
        area = _area(layout, well, vessel, z, on_step=on == "step")
        wide = area.x0 <= area.x1 and area.y0 <= area.y1
        clear = layout.sealing_z - z - vessel.tall
        plug = (project.lid.plug if project.lid else None) or 0.0
        under, beside = _at_plug(layout, vessel, area, z, plug, above)
        if plug and beside:
            found.append(Spot(f"{on}, beside the lid's plug", clear, wide))
        if plug and under:
            found.append(Spot(f"{on}, under the lid's plug", clear - plug, wide))
        if not plug:
            found.append(Spot(on, clear, wide))
    return tuple(found)


def _area(layout: Layout, well: Well, vessel: Vessel, z: float, *, on_step: bool) -> Rect:
    """Return where the axis may be: clear of the walls and of the collar at its heights."""
    r = vessel.diameter / 2
    rects = [(at(well, z), r), (at(well, z + vessel.height), r)]
    for opening in layout.inside.openings:
        for top, radius in ((vessel.height, r), (vessel.tall, vessel.fitting_radius)):
            if z + top > opening.bottom:
                rects.append((opening.rect, radius))
    x0 = max(rect.x0 + by for rect, by in rects)
    y0 = max(rect.y0 + by for rect, by in rects)
    x1 = min(rect.x1 - by for rect, by in rects)
    y1 = min(rect.y1 - by for rect, by in rects)
    step, floor = well.step, well.floor
    if step is None:
        return Rect(x0, y0, x1, y1)
    by = step.length - r if on_step else step.length + r
    match step.side, on_step:
        case ("left", True):
            x1 = min(x1, floor.x0 + by)
        case ("left", False):
            x0 = max(x0, floor.x0 + by)
        case ("right", True):
            x0 = max(x0, floor.x1 - by)
        case ("right", False):
            x1 = min(x1, floor.x1 - by)
        case ("front", True):
            y1 = min(y1, floor.y0 + by)
        case ("front", False):
            y0 = max(y0, floor.y0 + by)
        case ("back", True):
            y0 = max(y0, floor.y1 - by)
        case _:
            y1 = min(y1, floor.y1 - by)
    return Rect(x0, y0, x1, y1)


def at(well: Well, z: float) -> Rect:
    """Return the rectangle between the walls at a height; above the mouth as at the mouth."""
    part = min(max((z - well.bottom) / (well.top - well.bottom), 0.0), 1.0)
    f, m = well.floor, well.mouth
    return Rect(
        f.x0 + part * (m.x0 - f.x0),
        f.y0 + part * (m.y0 - f.y0),
        f.x1 + part * (m.x1 - f.x1),
        f.y1 + part * (m.y1 - f.y1),
    )


def _at_plug(
    layout: Layout, vessel: Vessel, area: Rect, z: float, plug: float, above: float
) -> tuple[bool, bool]:
    """Tell whether a vessel can stand under the plug, and wholly beside it.

    Beside it: some place where nothing that reaches the plug's height comes under it. The
    distance to a rectangle is greatest in a corner of the area. A plug that nobody knows the
    edges of is everywhere.
    """
    rect = layout.inside.plug
    if not plug:
        return False, True
    if rect is None:
        return True, False
    low = layout.sealing_z - plug - above
    radius = vessel.diameter / 2 if z + vessel.height > low else vessel.fitting_radius
    if area.x0 > area.x1 or area.y0 > area.y1:
        return True, False
    away = max(
        max(rect.x0 - x, x - rect.x1, 0.0) ** 2 + max(rect.y0 - y, y - rect.y1, 0.0) ** 2
        for x in (area.x0, area.x1)
        for y in (area.y0, area.y1)
    )
    return True, away >= radius**2


def best(found: tuple[Spot, ...]) -> Spot:
    """Return the place that leaves most room, of those that are wide enough if there are any."""
    wide = [spot for spot in found if spot.wide]
    return max(wide or found, key=lambda spot: spot.room)
