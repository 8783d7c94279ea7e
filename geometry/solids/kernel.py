"""The kernel's few operations that parts are made of, each guarded and measured.

Every part is made in its flat view: x along the part, y up the board, z toward the viewer
outside. ``frame`` carries such a view to its place on a board.
"""

# pyright: reportAttributeAccessIssue=false
# The kernel's own modules come without types.

from collections.abc import Generator, Iterable, Sequence
from contextlib import contextmanager

import cadquery as cq
from OCP.Message import Message, Message_PrinterOStream

from ..shape.frame import Board
from ..shape.hole import Hole
from ..shape.plane import along
from . import SolidError

OVERRUN = 1.0
"""How far a tool reaches beyond the face that it breaks through, mm."""

CLOSE = 1e-9
"""How far a volume may be off its closed form, as a share of it."""

# The kernel reports failures on the standard output, where a caller may be writing JSON.
Message.DefaultMessenger_s().RemovePrinters(Message_PrinterOStream.get_type_descriptor_s())


@contextmanager
def guarded(part: str, step: str, sizes: str) -> Generator[None]:
    """Turn whatever the kernel raises into a ``SolidError`` that names part, step and sizes."""
    try:
        yield
    except SolidError:
        raise
    except Exception as error:
        # The kernel's errors share no class: some derive from Exception alone.
        why = " ".join(str(error).split()) or type(error).__name__
        raise SolidError(part, step, sizes, why) from error


def frame(board: Board, u: float, v: float, inward: float) -> cq.Location:
    """Return the place of a flat view whose origin is at (u, v), ``inward`` of the outer face.

    Its x runs along the board to the right as seen from outside, its y up, its z outward.
    """
    ux, uy = along(*board.outer)
    plane = cq.Plane(board.place(u, v, inward), (ux, uy, 0.0), (uy, -ux, 0.0))
    return cq.Location(plane)


def prism(
    corners: Sequence[tuple[float, float, float]], way: tuple[float, float, float]
) -> cq.Solid:
    """Return a plane polygon pushed along ``way``, mm."""
    wire = cq.Wire.makePolygon([cq.Vector(*corner) for corner in corners], close=True)
    return cq.Solid.extrudeLinear(wire, [], cq.Vector(*way))


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> cq.Solid:
    """Return the box between two corners, mm."""
    length, width, height = (b - a for a, b in zip(low, high, strict=True))
    return cq.Solid.makeBox(length, width, height, cq.Vector(*low))


def cylinder(
    start: tuple[float, float, float],
    way: tuple[float, float, float],
    diameter: float,
    length: float,
) -> cq.Solid:
    """Return a cylinder from the center of one end along ``way``, mm."""
    return cq.Solid.makeCylinder(diameter / 2, length, cq.Vector(*start), cq.Vector(*way))


def tool(hole: Hole, thickness: float) -> cq.Solid:
    """Return what to cut away for a hole in a flat part of this thickness, mm."""
    low, high = hole.span(thickness)
    low -= OVERRUN if low <= 0 else 0.0
    high += OVERRUN if high >= thickness else 0.0
    if hole.diameter is not None:
        return cylinder((hole.u, hole.v, low), (0.0, 0.0, 1.0), hole.diameter, high - low)
    length, height = hole.half_length, hole.half_height
    return box((hole.u - length, hole.v - height, low), (hole.u + length, hole.v + height, high))


def cut(solid: cq.Solid, tools: Iterable[cq.Shape]) -> tuple[cq.Solid, ...]:
    """Return what is left of a solid: one body, several, or none.

    All tools go in one operation, and each by itself: the kernel cuts wrongly, and says
    nothing, where tools that overlap come as one compound.
    """
    tools = tuple(tools)
    return tuple(solid.cut(*tools).Solids()) if tools else (solid,)


def joined(bodies: Sequence[cq.Solid]) -> cq.Shape:
    """Return one body as it is, several as a compound."""
    return bodies[0] if len(bodies) == 1 else cq.Compound.makeCompound(bodies)


def checked(shape: cq.Shape, volume: float, part: str, step: str, sizes: str) -> cq.Shape:
    """Return the shape if it is sound and its volume is the closed form's (mm3).

    Raises:
        SolidError: it is not. Being sound proves nothing by itself: the kernel calls some
            shapes sound whose volume is a sixth too large.
    """
    if not shape.isValid():
        raise SolidError(part, step, sizes, "the kernel calls the result unsound")
    found = shape.Volume()
    if not abs(found - volume) <= CLOSE * volume:
        why = f"the solid has {found:.3f} mm3, the closed form {volume:.3f} mm3"
        raise SolidError(part, step, sizes, why)
    return shape
