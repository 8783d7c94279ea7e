"""What is glued into the miters as solids: splines, biscuits and dowels in their places.

Each is made about its own middle: x across the joint, y up the miter, z along the miter.
"""

import cadquery as cq

from ..shape.joints import Joint
from . import kernel
from .bought import Bought


def add_joint(found: Bought, joint: Joint) -> None:
    """Add one spline, biscuit or dowel; equal ones share one solid.

    Args:
        found: takes the part.
        joint: what it is, and where.
    """
    place = joint.name.removeprefix(f"{joint.kind}-")
    figures = (joint.long, joint.wide, joint.thick)
    found.add(joint.kind, place, figures, lambda: solid(joint), _location(joint))


def solid(joint: Joint) -> cq.Solid:
    """Return a joint's solid about its own middle, mm."""
    half = joint.wide / 2
    if joint.kind == "dowel":
        return kernel.cylinder((-half, 0.0, 0.0), (1.0, 0.0, 0.0), joint.thick, joint.wide)
    up, out = joint.long / 2, joint.thick / 2
    if joint.kind == "spline":
        return kernel.box((-half, -up, -out), (half, up, out))
    top, low = cq.Vector(0.0, up, -out), cq.Vector(0.0, -up, -out)
    arcs = [
        cq.Edge.makeThreePointArc(start, cq.Vector(x, 0.0, -out), end)
        for start, x, end in ((low, half, top), (top, -half, low))
    ]
    lens = cq.Wire.assembleEdges(arcs)
    return cq.Solid.extrudeLinear(lens, [], cq.Vector(0.0, 0.0, joint.thick))


def _location(joint: Joint) -> cq.Location:
    """Return its place: x square to the miter, y up, z along the miter."""
    (x, y), (way_x, way_y) = joint.middle, joint.way
    normal = (way_y, -way_x, 0.0)  # x cross y, with y up
    return cq.Location(cq.Plane((x, y, joint.v), (way_x, way_y, 0.0), normal))
