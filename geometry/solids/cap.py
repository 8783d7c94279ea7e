"""The cap strips as solids: flat, mitered across their width."""

import cadquery as cq

from ..shape.plane import along
from ..shape.seat import Strip
from . import kernel
from .part import Part


def part(strip: Strip) -> Part:
    """Return one strip, lying flat: lower face on z = 0, x along its outer edge, y to the well.

    Raises:
        SolidError: the kernel failed, or the solid is not what the closed form says.
    """
    step = "extruding the mitered strip"
    size = (
        f"{strip.long_point:.2f} x {strip.width:.2f} x {strip.thickness:.2f} mm,"
        f" {strip.short_point:.2f} mm at the inner edge"
    )
    with kernel.guarded(strip.name, step, size):
        corners = [(x, y, 0.0) for x, y in strip.flat]
        shape = kernel.prism(corners, (0.0, 0.0, strip.thickness))
        kernel.checked(shape, strip.volume, strip.name, step, size)
        (x, y), (ux, uy) = strip.outer[0], along(*strip.outer)
        place = cq.Location(cq.Plane((x, y, strip.bottom), (ux, uy, 0.0), (0.0, 0.0, 1.0)))
    return Part(
        name=strip.name,
        group="cap",
        product=strip.name,
        made=True,
        flat=shape,
        location=place,
        sizes=size,
        volume=strip.volume,
    )
