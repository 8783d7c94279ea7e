"""What the layout tells of every part, worked out apart from the solids; and saying a difference.

Boxes, volumes and names come from the layout's figures alone, so that a model that was made wrong
is not measured by itself.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...geometry.shape.contour import Loop, Vertex, outlines
from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Panel
from ...geometry.shape.plane import Point, along, area
from ...geometry.shape.seat import Strip
from ...geometry.shape.six_lengths import CORNERS
from ...geometry.shape.taps import Tap
from ...params.project import SIDES

CLOSE = 1e-3
"""What a written coordinate may differ from the layout's, mm."""

Corner = tuple[float, ...]
Reach = tuple[Corner, Corner]
"""The lowest and the highest corner of a box, mm."""


def differ(what: str, found: Corner, wanted: Corner, close: float = CLOSE) -> Iterator[str]:
    """Say where a point is if that is not where the layout has it, mm."""
    if any(not abs(a - b) <= close for a, b in zip(found, wanted, strict=True)):
        said = ", ".join(f"{each:.3f}" for each in found)
        yield f"{what} is at {said} mm, not {', '.join(f'{each:.3f}' for each in wanted)} mm"


def colored(name: str, found: Corner | None, close: float) -> Iterator[str]:
    """Say where a part or product has no color, or another one than all of its group (sRGB)."""
    from ...geometry.solids.palette import PALETTE, group_of

    group = group_of(name)
    if found is None:
        yield f"{name} has no color"
    elif group is None:
        yield f"{name} is of no group that has a color"
    elif any(not abs(a - b) <= close for a, b in zip(found, PALETTE[group], strict=True)):
        said, want = (" ".join(f"{c:.3f}" for c in rgb) for rgb in (found, PALETTE[group]))
        yield f"{name} has the color {said}, not {want} as every {group} has"


@dataclass(frozen=True, slots=True)
class Span:
    """How far a round part reaches along its tap's axis, outward from the flange's seat, mm."""

    low: float
    high: float


def spans(tap: Tap) -> dict[str, Span]:
    """Return where a tap's shank and all that is screwed on it must be, by the parts' names.

    A ring without a wall or a length is no part; faucet and handle are not round about the axis.
    """
    shank, n = tap.shank, tap.number
    if shank is None:
        return {}
    thread, face, inside = shank.thread_diameter, shank.flange_thickness, -(tap.wall + tap.washers)
    end = -shank.length
    found = {f"shank-{n}": Span(end, face + shank.collar_projection)}
    rings = {
        "ring": (shank.ring_diameter, Span(face, face + shank.ring_length)),
        "washer": (tap.washer_diameter or 0.0, Span(inside, -tap.wall)),
        "nut": (shank.nut_across_flats, Span(inside - shank.nut_thickness, inside)),
        "tail-nut": (math.inf, Span(end, end + shank.tail_nut_length)),
        "tailpiece": (math.inf, Span(end - shank.tailpiece_length, end)),
    }
    return found | {
        f"{word}-{n}": span
        for word, (outer, span) in rings.items()
        if outer > thread and span.high > span.low
    }


def names(layout: Layout) -> set[str]:
    """Return the name of every part that the model must have, and no other."""
    found = {board.name for board in (*layout.boards, *layout.covers)}
    found |= {each.name for each in (*layout.strips, *layout.joints)}
    found |= {
        f"foam-{panel.side}"
        for panel in layout.panels
        if outlines(panel.length, panel.width, panel.holes).outer
    }
    for tap in layout.taps:
        found |= set(spans(tap))
        if tap.shank is not None and tap.faucet is not None:
            found.add(f"faucet-{tap.number}")
            if tap.handle is not None:
                found.add(f"handle-{tap.number}")
    for leg in layout.brackets:
        corner = SIDES.index(leg.side)
        # Where both legs are as thick as they are long there is no angle.
        if leg.at == "left" and leg.thickness < leg.leg * math.tan(
            layout.frame.corners[corner].half_rad
        ):
            found.add(f"bracket-{CORNERS[corner]}")
    about = layout.reference
    found |= {f"hinge-{leaf.number}" for leaf in about.leaves}
    single = {
        "manifold": layout.manifold,
        "lid": about.lid,
        "lip": about.lip,
        "well": about.well,
    }
    return found | {name for name, thing in single.items() if thing is not None}


def flat_box(part: Board | Panel | Strip) -> Reach | None:
    """Return the box of a made part as it lies flat; None where nothing is left of a panel."""
    if not isinstance(part, Panel):
        return (0.0, 0.0, 0.0), (part.long_point, part.width, part.thickness)
    rings = outlines(part.length, part.width, part.holes).outer
    points = [point for ring in rings for point in extremes(ring.vertices)]
    if not points:
        return None
    (x0, y0), (x1, y1) = (tuple(map(pick, zip(*points, strict=True))) for pick in (min, max))
    return (x0, y0, 0.0), (x1, y1, part.thickness)


def extremes(loop: Loop) -> Iterator[tuple[float, float]]:
    """Yield a closed line's corners, and where its arcs reach farthest left, right, up and down.

    An arc's sagitta is bulge times half of its chord (DXF reference, LWPOLYLINE group 42).
    """
    for start, end in zip(loop, loop[1:] + loop[:1], strict=True):
        yield start.x, start.y
        if start.bulge:
            yield from _farthest(start, end)


def _farthest(start: Vertex, end: Vertex) -> Iterator[tuple[float, float]]:
    bulge = start.bulge
    dx, dy = end.x - start.x, end.y - start.y
    # From the chord's middle the center lies to the left by (1/bulge - bulge) quarter chords.
    off = (1 / bulge - bulge) / 4
    x, y = (start.x + end.x) / 2 - off * dy, (start.y + end.y) / 2 + off * dx
    radius = math.hypot(start.x - x, start.y - y)
    sweep, begin = 4 * math.atan(bulge), math.atan2(start.y - y, start.x - x)
    for quarter in range(4):
        way = math.remainder(quarter * math.pi / 2 - begin, math.tau)
        if 0 < way * math.copysign(1, sweep) % math.tau < abs(sweep):
            turn = begin + way
            yield x + radius * math.cos(turn), y + radius * math.sin(turn)


@dataclass(frozen=True, slots=True)
class Box:
    """The box that a part fills: along a line in plan, up, and to its left; or along x, y, z.

    Of a board the line is its outer face from left to right, so what is left of it is inward.
    """

    low: Corner
    high: Corner
    line: tuple[Point, Point] | None = None

    def own(self, point: Corner) -> Corner:
        """Return a point of the collar in the coordinates that the box is told in, mm."""
        if self.line is None:
            return point
        x, y, z = point
        (x0, y0), (ux, uy) = self.line[0], along(*self.line)
        return (x - x0) * ux + (y - y0) * uy, z, (y - y0) * ux - (x - x0) * uy


def boxes(layout: Layout) -> dict[str, Box]:
    """Return the box of every part that fills one told by the layout, by the part's name."""
    found = {
        board.name: Box(
            (0.0, board.bottom, 0.0),
            (board.long_point, board.bottom + board.width, board.thickness),
            board.outer,
        )
        for board in (*layout.boards, *layout.covers)
    }
    for strip in layout.strips:
        low, high = strip.bottom, strip.bottom + strip.thickness
        found[strip.name] = Box((0.0, low, 0.0), (strip.long_point, high, strip.width), strip.outer)
    for joint in layout.joints:
        half = joint.wide / 2, joint.long / 2, joint.thick / 2
        (x, y), (way_x, way_y) = joint.middle, joint.way
        low = -half[0], joint.v - half[1], -half[2]
        high = half[0], joint.v + half[1], half[2]
        found[joint.name] = Box(low, high, ((x, y), (x + way_x, y + way_y)))
    for panel in layout.panels:
        flat, board = flat_box(panel), layout.board(panel.side)
        if flat is not None:
            (u0, v0, _), (u1, v1, _) = flat
            start, face = board.inner_left + panel.start, board.thickness
            low, high = (start + u0, v0, face), (start + u1, v1, face + panel.thickness)
            found[f"foam-{panel.side}"] = Box(low, high, board.outer)
    manifold = layout.manifold
    if manifold is not None:
        board, (half, tall) = (
            layout.board(manifold.side),
            (manifold.length / 2, manifold.height / 2),
        )
        face, u, v = board.thickness, manifold.u, manifold.v
        low, high = (u - half, v - tall, face), (u + half, v + tall, face + manifold.depth)
        found["manifold"] = Box(low, high, board.outer)
    about = layout.reference
    if about.lid is not None:
        found["lid"] = Box(about.lid.extent.low, about.lid.extent.high)
    if about.well is not None:
        found["well"] = Box(about.well.outside.low, about.well.outside.high)
    if about.lip is not None:
        (xs, ys), top = zip(*about.lip.outer, strict=True), about.lip.top
        low, high = (min(xs), min(ys), top - about.lip.depth), (max(xs), max(ys), top)
        found["lip"] = Box(low, high)
    for leaf in about.leaves:
        half = leaf.width / 2
        low = (leaf.u - half, leaf.top - leaf.height, -leaf.out - leaf.thickness)
        high = (leaf.u + half, leaf.top, -leaf.out)
        found[f"hinge-{leaf.number}"] = Box(low, high, layout.board("back").outer)
    return found


def volumes(layout: Layout) -> dict[str, float]:
    """Return the volume of every part that has one told in closed form, by name, mm3."""
    plates = (*layout.boards, *layout.covers, *layout.strips, *layout.joints)
    found = {each.name: each.volume for each in plates}
    found |= {f"foam-{panel.side}": panel.volume for panel in layout.panels}
    manifold, about = layout.manifold, layout.reference
    if manifold is not None:
        found["manifold"] = manifold.length * manifold.height * manifold.depth
    if about.lid is not None:
        found["lid"] = about.lid.volume
    if about.lip is not None:
        found["lip"] = (area(about.lip.outer) - area(about.lip.inner)) * about.lip.depth
    if about.well is not None:
        found["well"] = about.well.outside.volume - about.well.inside.volume
    for leaf in about.leaves:
        found[f"hinge-{leaf.number}"] = leaf.width * leaf.height * leaf.thickness
    return found
