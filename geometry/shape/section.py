"""Convex sections as they are seen from an axis: corners and edges in polar terms, and boxes.

Section plane: y to the back, z up. A corner at the polar angle a (from y toward z) goes to a - th
when the section turns from front over top to back.
"""

import math
from dataclasses import dataclass

from .plane import Point

Section = tuple[Point, ...]
"""A convex polygon in section, counterclockwise with y to the right and z up, mm."""

Named = tuple[str, Section]
"""A section with what it is called."""


def box(y0: float, y1: float, z0: float, z1: float) -> Section:
    """Return an upright rectangle as a section, mm."""
    return (y0, z0), (y1, z0), (y1, z1), (y0, z1)


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge as seen from the axis: outward normal's angle, offset, span along it, radii, mm."""

    toward: float
    offset: float
    start: float
    end: float
    near: float
    far: float


@dataclass(frozen=True, slots=True)
class Turned:
    """A section as seen from the axis: corners, also as (radius, angle), edges, how far away."""

    corners: Section
    polar: tuple[tuple[float, float], ...]
    edges: tuple[Edge, ...]
    nearest: float
    farthest: float


def seen(section: Section, axis: Point) -> Turned:
    """Return a section as seen from the axis."""
    ay, az = axis
    points = tuple((y - ay, z - az) for y, z in section)
    polar = tuple((math.hypot(y, z), math.atan2(z, y)) for y, z in points)
    edges: list[Edge] = []
    around = True
    for i, (y0, z0) in enumerate(points):
        following = (i + 1) % len(points)
        y1, z1 = points[following]
        length = math.hypot(y1 - y0, z1 - z0)
        if length == 0.0:
            continue  # a piece without thickness, or a corner given twice
        uy, uz = (y1 - y0) / length, (z1 - z0) / length
        offset, start, end = uz * y0 - uy * z0, uy * y0 + uz * z0, uy * y1 + uz * z1
        ends = polar[i][0], polar[following][0]
        near = abs(offset) if start < 0.0 < end else min(ends)
        edges.append(Edge(math.atan2(-uy, uz), offset, start, end, near, max(ends)))
        around = around and offset >= 0.0
    nearest = 0.0 if around else min(edge.near for edge in edges)
    return Turned(points, polar, tuple(edges), nearest, max(edge.far for edge in edges))


Extent = tuple[float, float, float, float]
"""The upright box round a section: least and greatest y, least and greatest z, mm."""


def swept(moving: Turned, open_to_deg: float) -> Extent:
    """Return the upright box round all that a section sweeps, seen from the axis.

    r cos(a - th - d) is how far a corner comes in the direction d: r where it points there on
    its way, else the more of both ends.
    """
    sweep = math.radians(open_to_deg)
    found: list[float] = []
    for toward in (math.pi, 0.0, -math.pi / 2, math.pi / 2):
        far = -math.inf
        for radius, angle in moving.polar:
            turn = (angle - toward) % math.tau
            if turn > sweep and radius > far:
                radius *= max(math.cos(turn), math.cos(turn - sweep))
            far = max(far, radius)
        found.append(far)
    return -found[0], found[1], -found[2], found[3]


def extent(corners: Section) -> Extent:
    """Return the upright box round a section."""
    y0 = y1 = corners[0][0]
    z0 = z1 = corners[0][1]
    for y, z in corners:
        y0, y1 = (y if y < y0 else y0), (y if y > y1 else y1)
        z0, z1 = (z if z < z0 else z0), (z if z > z1 else z1)
    return y0, y1, z0, z1


def between(one: Extent, other: Extent) -> float:
    """Return the distance of two upright boxes, 0 where they overlap."""
    y = max(one[0] - other[1], other[0] - one[1], 0.0)
    z = max(one[2] - other[3], other[2] - one[3], 0.0)
    return math.hypot(y, z)
