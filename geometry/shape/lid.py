"""The lid in its closed place over the collar, in section, and the axis it turns about.

Section plane: y to the back from the lip's front edge, z up from the lip's plane. The lid
keeps its place over the lip, a collar's height higher; the hinge axis goes with the collar.
"""

import math
from dataclasses import dataclass

from ...params.project import Project, Side
from .frame import overhangs
from .lip import Lip
from .plane import Point
from .section import Named, Section, box


@dataclass(frozen=True, slots=True, kw_only=True)
class LidSection:
    """The closed lid cut from front to back, mm; each figure is None until it was measured.

    ``front_y`` and ``back_y`` are the lid's outer edges, ``under_z`` the plane that
    the lid closes on, ``top_z`` the lid's upper face. Depths hang below the sealing plane;
    ``skirt_sides`` is the deeper of the right and left skirt, which run from front to back.
    """

    front_y: float | None
    back_y: float | None
    under_z: float
    top_z: float | None
    skirt_front: float | None
    skirt_back: float | None
    plug: float | None
    plug_front_y: float | None
    plug_back_y: float | None
    skirt_sides: float | None = None
    skirt_back_thickness: float | None = None

    def corners(self) -> tuple[Point, ...]:
        """Return the corners (y, z) of the section's outline that can reach farthest.

        Skirts that were not measured are left out: ask for them before relying on this.
        """
        if self.front_y is None or self.back_y is None or self.top_z is None:
            return ()
        sides = self.skirt_sides or 0.0
        found = [
            (self.front_y, self.under_z - max(self.skirt_front or 0.0, sides)),
            (self.front_y, self.top_z),
            (self.back_y, self.top_z),
            (self.back_y, self.under_z - max(self.skirt_back or 0.0, sides)),
        ]
        if self.plug and self.plug_front_y is not None and self.plug_back_y is not None:
            found += [
                (self.plug_front_y, self.under_z - self.plug),
                (self.plug_back_y, self.under_z - self.plug),
            ]
        return tuple(found)

    def behind(self, axis: "HingeAxis") -> tuple[Named, ...]:
        """Return what of the lid can come at the collar's back, as convex pieces with names.

        That is what hangs below the sealing plane, and of the slab what lies behind the axis,
        which the opening lid turns below that plane. The rest of the slab, at or ahead of the
        axis, is the seat and lifts off. A back skirt behind the axis is one piece with the slab
        over it. The side skirts slide past the collar's ends, in planes of their own.
        """
        back, under, top = self.back_y, self.under_z, self.top_z
        if back is None or top is None:
            return ()
        found: list[Named] = []
        if back > axis.y and top > under:
            found.append(("lid's edge behind the hinge axis", box(axis.y, back, under, top)))
        if self.skirt_back and self.skirt_back_thickness:
            inner = back - self.skirt_back_thickness
            head = top if inner >= axis.y else under
            found.append(("back skirt", box(inner, back, under - self.skirt_back, head)))
        front, rear = self.plug_front_y, self.plug_back_y
        if self.plug and front is not None and rear is not None and rear > front:
            found.append(("plug", box(front, rear, under - self.plug, under)))
        return tuple(found)

    def front_edge(self, axis: "HingeAxis") -> Section | None:
        """Return the lid's front edge, skirt and slab, as one block back to the hinge axis.

        What stands ahead of the collar meets the same faces of it as of the lid: the room
        behind the skirt is the collar's. None until it was measured, or with the axis ahead.
        """
        if self.front_y is None or self.top_z is None or self.skirt_front is None:
            return None
        if self.front_y >= axis.y:
            return None
        return box(self.front_y, axis.y, self.under_z - self.skirt_front, self.top_z)


@dataclass(frozen=True, slots=True)
class HingeAxis:
    """The pin line in section, mm; it runs along X."""

    y: float
    z: float

    @property
    def point(self) -> Point:
        """Where it is, (y, z)."""
        return self.y, self.z


def section(project: Project, lip: Lip, height: float) -> LidSection | None:
    """Place the lid's section; None without ``[lid]``. ``height`` is the sealing plane's, mm."""
    lid = project.lid
    if lid is None:
        return None

    def on(name: str, side: Side) -> float | None:
        by_side = getattr(lid, name)
        return None if by_side is None else by_side.on(side)

    over_front, over_back = on("overhang", "front"), on("overhang", "back")
    front_y = None if over_front is None else -over_front
    back_y = None if over_back is None else lip.depth + over_back
    inset_front, inset_back = on("plug_inset", "front"), on("plug_inset", "back")
    right, left = on("skirt", "right"), on("skirt", "left")
    return LidSection(
        front_y=front_y,
        back_y=back_y,
        under_z=height,
        top_z=None if lid.thickness is None else height + lid.thickness,
        skirt_front=on("skirt", "front"),
        skirt_back=on("skirt", "back"),
        plug=lid.plug,
        plug_front_y=None if front_y is None or inset_front is None else front_y + inset_front,
        plug_back_y=None if back_y is None or inset_back is None else back_y - inset_back,
        skirt_sides=None if right is None or left is None else max(right, left),
        skirt_back_thickness=on("skirt_thickness", "back"),
    )


def collar_back_y(project: Project, lip: Lip) -> float:
    """Return where the back face of the collar as drawn stands in section, mm."""
    return lip.depth + overhangs(project)[2]


def collar_front_y(project: Project) -> float:
    """Return where the front face of the collar as drawn stands in section, mm."""
    return -overhangs(project)[0]


def hinge_axis(project: Project, back_y: float, height: float) -> HingeAxis | None:
    """Place the hinge axis; None until both of its readings are there.

    ``back_y`` is where the collar's back face stands, ``height`` that of the sealing plane, mm.
    """
    hinge = project.hinge
    if hinge is None or hinge.axis_behind is None or hinge.axis_above is None:
        return None
    return HingeAxis(back_y + hinge.axis_behind, height + hinge.axis_above)


@dataclass(frozen=True, slots=True)
class Extreme:
    """The farthest a swept point comes in one direction: how far, mm, and at which angle."""

    reach: float
    angle_deg: float
    corner: Point


def farthest_back(corners: tuple[Point, ...], axis: HingeAxis, open_to_deg: float) -> Extreme:
    """Return the greatest y that any corner reaches while the lid opens from 0 to ``open_to_deg``.

    A point (y, z) seen from the axis goes to r sin(th + p), r = hypot(y, z), p = atan2(y, z):
    greatest at th = 90 - p if that angle is passed, else at one end. Plane kinematics of a
    turning rigid body; the extreme often lies before the end of the swing.
    """
    return max(
        (_extreme(corner, axis, open_to_deg, 90.0) for corner in corners),
        key=lambda found: found.reach,
    )


def highest(corners: tuple[Point, ...], axis: HingeAxis, open_to_deg: float) -> Extreme:
    """Return the greatest z that any corner reaches: r cos(th + p), greatest at th = -p."""
    return max(
        (_extreme(corner, axis, open_to_deg, 0.0) for corner in corners),
        key=lambda found: found.reach,
    )


def _extreme(corner: Point, axis: HingeAxis, open_to_deg: float, best_deg: float) -> Extreme:
    """Return the extreme of one corner in the direction that it points to at ``best_deg``."""
    y, z = corner[0] - axis.y, corner[1] - axis.z
    radius, phase = math.hypot(y, z), math.degrees(math.atan2(y, z))
    peak = (best_deg - phase) % 360
    angle = peak if peak <= open_to_deg else None
    if angle is None:
        # cos falls off on both sides of the peak, so the nearer end of the swing counts.
        ends = (0.0, open_to_deg)
        angle = max(ends, key=lambda th: math.cos(math.radians(th + phase - best_deg)))
    reach = radius * math.cos(math.radians(angle + phase - best_deg))
    return Extreme(reach + (axis.y if best_deg else axis.z), angle, corner)


def first_reach(
    corners: tuple[Point, ...], axis: HingeAxis, open_to_deg: float, back: float | None, up: float
) -> tuple[float, Point] | None:
    """Return at which angle, degrees, a corner first comes to a wall or a ceiling, and which.

    Args:
        corners: of the closed lid, (y, z).
        axis: that it turns about.
        open_to_deg: the end of the swing.
        back: the wall's y, mm; None for a ceiling.
        up: the ceiling's z, mm, where ``back`` is None.

    Returns:
        None where nothing reaches it. r sin(th + p) = h at th = asin(h/r) - p, and the cosine
        the same way; a corner that is beyond it from the start is there at 0.
    """
    best_deg, far = (90.0, back - axis.y) if back is not None else (0.0, up - axis.z)
    found: list[tuple[float, Point]] = []
    for corner in corners:
        y, z = corner[0] - axis.y, corner[1] - axis.z
        radius, phase = math.hypot(y, z), math.degrees(math.atan2(y, z))
        if radius * math.cos(math.radians(phase - best_deg)) >= far:
            found.append((0.0, corner))
        elif radius > abs(far):
            angle = (best_deg - phase - math.degrees(math.acos(far / radius))) % 360
            if angle <= open_to_deg:
                found.append((angle, corner))
    return min(found, default=None)
