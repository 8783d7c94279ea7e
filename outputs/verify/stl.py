"""Holding an STL file, read back, against the layout."""

import math
from collections.abc import Iterator, Sequence
from pathlib import Path

from ...geometry.shape.contour import outlines
from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole
from ...geometry.shape.lining import Panel
from ...geometry.shape.seat import Strip
from ...geometry.shape.slot import CUTTER, Slot
from .told import CLOSE, differ, flat_box

FACET_RAD = 0.2
"""Greatest turn from facet to facet of a round hole in an STL file, as ``model`` meshes it."""

FACET_SHARE = {"spline": 0.0, "dowel": FACET_RAD**2 / 6, "biscuit": 0.03}
"""Share of a joint's cut that facets may keep. A biscuit's arc turns by b = 1.45 rad in facets of
f: they keep b f^2 / 6 of (b - sin b), which is 0.021."""

Point = tuple[float, float, float]


def part(path: Path, made: Board | Panel | Strip) -> Iterator[str]:
    """Hold the mesh of one made part, lying flat, against the layout."""
    from ..readback import stl

    mesh = stl.read(path)
    if mesh.header != f"{path.stem}, millimeters":
        yield f"says {mesh.header!r} of itself, not {path.stem}, millimeters"
    if not mesh.watertight:
        yield "is not closed"
    if not mesh.normals_agree:
        yield "has triangles that face inward"
    pieces = 1
    if isinstance(made, Panel):
        pieces = len(outlines(made.length, made.width, made.holes).outer)
    if mesh.bodies != pieces:
        yield f"has {mesh.bodies} bodies, not {pieces}"
    # Facets of a rad keep up to a^2/6 of what a round hole takes out (1 - sin a / a).
    holes, slots = _cuts(made)
    round_holes = sum(math.pi * (hole.diameter or 0.0) ** 2 / 4 for hole in holes)
    allowed = FACET_RAD**2 / 6 * round_holes * made.thickness + 1e-6 * made.volume
    # A biscuit's slot is less than half of its cutter's circle: what facets keep is a share of it.
    allowed += sum(FACET_SHARE[slot.kind] * slot.volume for slot in slots)
    if abs(mesh.volume - made.volume) > allowed:
        yield f"encloses {mesh.volume:.0f} mm3, not {made.volume:.0f} mm3"
    box = flat_box(made)
    if box is not None:
        # A round notch is hollow, so its facets reach no less far than its ends.
        yield from differ("its lowest corner", mesh.box[0], box[0])
        yield from differ("its highest corner", mesh.box[1], box[1])
    yield from _rims([(x, y, z) for x, y, z in mesh.vertices.tolist()], made)


def _rims(vertices: Sequence[Point], made: Board | Panel | Strip) -> Iterator[str]:
    """Hold each corner of the mesh against the blank's corners and the walls of the holes.

    A volume tells a bore of another size, and not one in another place.
    """
    blank, (holes, slots) = _blank(made), _cuts(made)
    left_over = [v for v in vertices if not any(math.dist(v, c) <= 2 * CLOSE for c in blank)]
    strange = [
        v
        for v in left_over
        if not any(_on_wall(v, hole) for hole in holes)
        and not any(_on_slot(v, slot, made) for slot in slots)
    ]
    if strange:
        x, y, z = min(strange)
        more = f" and {len(strange) - 1} more" if len(strange) > 1 else ""
        yield f"has a corner at {x:.3f}, {y:.3f}, {z:.3f} mm{more}, on no hole's wall and no edge"
    for hole in holes:
        if isinstance(made, Strip):
            break
        if _alone(hole, made) and not any(_on_wall(vertex, hole) for vertex in left_over):
            size = f"{hole.diameter:.3f} mm" if hole.diameter else "a rectangle"
            yield f"lacks {hole.name}, {size} at {hole.u:.3f}, {hole.v:.3f} mm"
    for slot in slots:
        if not any(_on_slot(vertex, slot, made) for vertex in left_over):
            yield f"lacks the cut for {slot.joint} in its miter"


def _cuts(made: Board | Panel | Strip) -> tuple[tuple[Hole, ...], tuple[Slot, ...]]:
    if isinstance(made, Strip):
        return (), ()
    return made.holes, made.slots if isinstance(made, Board) else ()


def _blank(made: Board | Panel | Strip) -> set[Point]:
    """Return the corners of a part before anything is cut out of it."""
    if isinstance(made, Strip):
        return {(x, y, z) for x, y in made.flat for z in (0.0, made.thickness)}
    if isinstance(made, Board):
        length, left, right = made.long_point, made.inner_left, made.inner_right
    else:
        length, left, right = made.length, 0.0, 0.0
    ends = (
        (0.0, made.thickness), (length, made.thickness), (left, 0.0), (length - right, 0.0)
    )  # fmt: skip
    return {(x, y, z) for y in (0.0, made.width) for x, z in ends}


def _on_slot(vertex: Point, slot: Slot, made: Board | Panel | Strip) -> bool:
    """Whether a corner is one of a slot's, or lies on its round wall; told from its mouth."""
    across, deep = (
        (vertex[0] - slot.mouth[0]) * u + (made.thickness - vertex[2] - slot.mouth[1]) * inward
        for u, inward in (slot.across, slot.way)
    )
    up, close = vertex[1] - slot.v, 2 * CLOSE
    at_end = min(abs(deep), abs(deep - slot.depth)) <= close
    if slot.kind == "dowel":
        return at_end and abs(math.hypot(across, up) - slot.thick / 2) <= close
    if abs(abs(across) - slot.thick / 2) > close:
        return False
    if slot.kind == "biscuit":
        return abs(math.hypot(up, deep - slot.depth + CUTTER) - CUTTER) <= close
    return at_end and abs(abs(up) - slot.tall / 2) <= close


def _on_wall(vertex: Point, hole: Hole) -> bool:
    x, y = abs(vertex[0] - hole.u), abs(vertex[1] - hole.v)
    if hole.diameter is not None:
        return abs(math.hypot(x, y) - hole.diameter / 2) <= 2 * CLOSE
    beyond_x, beyond_y = x - hole.half_length, y - hole.half_height
    return abs(max(beyond_x, beyond_y)) <= 2 * CLOSE


def _alone(hole: Hole, made: Board | Panel) -> bool:
    """Whether a hole's whole wall is there: it meets the part and no other hole."""
    length = made.long_point if isinstance(made, Board) else made.length
    a, b = hole.half_length, hole.half_height
    if not (a < hole.u < length - a and b < hole.v < made.width - b):
        return False
    return not any(
        other is not hole
        and abs(other.u - hole.u) < a + other.half_length + 1.0
        and abs(other.v - hole.v) < b + other.half_height + 1.0
        for other in made.holes
    )
