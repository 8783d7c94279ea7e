"""What stands about the collar as solids, for the eye: lid, hinge leaves, lip and well.

Numbers come from the layout. Lid, lip and well are made where they stand.
"""

from collections.abc import Iterator

import cadquery as cq

from ..shape.frame import Board
from ..shape.layout import Layout
from ..shape.plane import area
from ..shape.reference import Box, Leaf, LidBody, LipRing, WellShell
from . import kernel
from .part import Part


def parts(layout: Layout) -> Iterator[Part]:
    """Yield every reference body of a layout.

    Raises:
        SolidError: the kernel failed, or a solid is not what its closed form says.
    """
    about = layout.reference
    if about.lid is not None:
        yield _lid(about.lid)
    for leaf in about.leaves:
        yield _leaf(leaf, layout.board("back"))
    if about.lip is not None:
        yield _lip(about.lip)
    if about.well is not None:
        yield _well(about.well)


def _said(box: Box) -> str:
    return " x ".join(f"{b - a:.2f}" for a, b in zip(box.low, box.high, strict=True)) + " mm"


def _reference(
    name: str, product: str, sizes: str, flat: cq.Shape, place: cq.Location | None = None
) -> Part:
    return Part(
        name=name,
        group=product,
        product=product,
        made=False,
        flat=flat,
        location=place or cq.Location(),
        sizes=sizes,
        reference=True,
    )


def _lid(lid: LidBody) -> Part:
    step, sizes = "joining slab, skirt and plug", _said(lid.extent)
    with kernel.guarded("lid", step, sizes):
        first, *rest = [kernel.box(box.low, box.high) for box in lid.boxes]
        shape = kernel.joined(first.fuse(*rest).Solids()) if rest else first
        kernel.checked(shape, lid.volume, "lid", step, sizes)
    return _reference("lid", "lid", sizes, shape)


def _leaf(leaf: Leaf, back: Board) -> Part:
    name = f"hinge-{leaf.number}"
    sizes = f"{leaf.width:.2f} x {leaf.height:.2f} x {leaf.thickness:.2f} mm"
    with kernel.guarded(name, "making the leaf", sizes):
        half = leaf.width / 2
        shape = kernel.box((-half, -leaf.height, 0.0), (half, 0.0, leaf.thickness))
        place = kernel.frame(back, leaf.u, leaf.top, -leaf.out)
    return _reference(name, "hinge", sizes, shape, place)


def _lip(lip: LipRing) -> Part:
    step, sizes = "making the ring of the land", f"{lip.depth:.2f} mm deep"
    with kernel.guarded("lip", step, sizes):
        outer, inner = (
            cq.Wire.makePolygon([cq.Vector(x, y, lip.top - lip.depth) for x, y in ring], close=True)
            for ring in (lip.outer, lip.inner)
        )
        shape = cq.Solid.extrudeLinear(outer, [inner], cq.Vector(0.0, 0.0, lip.depth))
        volume = (area(lip.outer) - area(lip.inner)) * lip.depth
        kernel.checked(shape, volume, "lip", step, sizes)
    return _reference("lip", "lip", sizes, shape)


def _well(well: WellShell) -> Part:
    step, sizes = "hollowing the well", _said(well.inside)
    with kernel.guarded("well", step, sizes):
        (x0, y0, z0), (x1, y1, z1) = well.inside.low, well.inside.high
        tool = kernel.box((x0, y0, z0), (x1, y1, z1 + kernel.OVERRUN))
        outside = well.outside
        shape = kernel.joined(kernel.cut(kernel.box(outside.low, outside.high), [tool]))
        kernel.checked(shape, outside.volume - well.inside.volume, "well", step, sizes)
    return _reference("well", "well", sizes, shape)
