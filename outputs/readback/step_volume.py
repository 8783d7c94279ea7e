"""What a solid of a STEP file encloses, from its faces and edges alone; no CAD library is loaded.

By the divergence theorem the volume is the sum over the faces of height times plan area. A face
along z adds nothing, and on a plane z = a + b x + c y the sum is a line integral over the face's
edges (Green's theorem); so it is on a cylinder that runs another way, in its angle and its length.
Edges are lines, circles and ellipses, whose integrals are exact.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from .step_curves import arc, ends
from .step_records import Records, Reference, Triple, cross

ALONG = 1e-9
"""Sine of the angle below which a surface runs along z."""

ENDS = (0.5 - math.sqrt(1 / 12), 0.5 + math.sqrt(1 / 12))
"""Two points on the way from 0 to 1 whose mean is exact up to the third power (Gauss)."""

_nodes, _weights = np.polynomial.legendre.leggauss(12)
NODES, WEIGHTS = _nodes.tolist(), _weights.tolist()
"""Gauss-Legendre rule on -1 to 1: right to the last digits for a quarter turn."""


def volume(records: Records, solid: Reference) -> float | None:
    """Return a solid's volume, mm3; None where it has surfaces or edges of another kind.

    Negative where its faces are turned inward.
    """
    if records.kind(solid) != "MANIFOLD_SOLID_BREP":
        return None
    (faces,) = records.get(records.get(solid)[1][1])[1][1:]
    total = 0.0
    for face in faces:
        _, bounds, surface, _ = records.get(face)[1]
        kind = records.kind(surface)
        if kind not in ("PLANE", "CYLINDRICAL_SURFACE"):
            return None
        origin, _, (nx, ny, nz) = records.placement(records.get(surface)[1][1])
        if kind == "CYLINDRICAL_SURFACE":
            if math.hypot(nx, ny) <= ALONG:
                continue
            cylinder = _Cylinder(origin, (nx, ny, nz), float(records.get(surface)[1][2]))
            for bound in bounds:
                for edge, forward in _edges(records, bound):
                    found = _round(records, edge, cylinder)
                    if found is None:
                        return None
                    total -= found if forward else -found
            continue
        if abs(nz) <= ALONG:
            continue
        slope_x, slope_y = -nx / nz, -ny / nz
        height = origin[2] - slope_x * origin[0] - slope_y * origin[1]
        for bound in bounds:
            for edge, forward in _edges(records, bound):
                found = _along(records, edge, (height, slope_x, slope_y))
                if found is None:
                    return None
                total += found if forward else -found
    return total


@dataclass(frozen=True, slots=True)
class _Cylinder:
    """A round surface: a point on its axis, the axis as a unit vector, its radius; mm."""

    point: Triple
    axis: Triple
    radius: float


def _round(records: Records, edge: Reference, surface: _Cylinder) -> float | None:
    """Return what an edge of a cylinder's face takes away, from its start to its end.

    With the angle t about the axis and the length h along it, a piece of the surface adds
    z n_z R dt dh, and z = z0 + h a_z + R n_z. By Green's theorem the sum over the face is minus
    the line integral of R n_z ((z0 + R n_z) h + a_z h^2/2) dt, whichever way the face looks: its
    edges are gone round with it. A line along the axis has no dt.
    """
    axis, radius = surface.axis, surface.radius
    if records.kind(records.get(edge)[1][3]) == "LINE":
        start, end = ends(records, edge)
        way = end[0] - start[0], end[1] - start[1], end[2] - start[2]
        return 0.0 if math.hypot(*cross(axis, way)) <= 1e-6 * math.hypot(*way) else None
    bent = arc(records, edge)
    if bent is None:
        return None
    pieces = max(1, math.ceil(abs(bent.turn) / (math.pi / 2)))
    half = bent.turn / pieces / 2
    total = 0.0
    for piece in range(pieces):
        middle = bent.begin + (2 * piece + 1) * half
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            angle = middle + node * half
            off = [p - o for p, o in zip(bent.at(angle), surface.point, strict=True)]
            h = sum(a * b for a, b in zip(off, axis, strict=True))
            nx, ny, nz = ((o - h * a) / radius for o, a in zip(off, axis, strict=True))
            step = (
                math.cos(angle) * b - math.sin(angle) * a
                for a, b in zip(bent.wide, bent.high, strict=True)
            )
            turn = sum(a * b for a, b in zip(cross(axis, (nx, ny, nz)), step, strict=True)) / radius
            up = surface.point[2] + radius * nz
            total += weight * half * turn * radius * nz * (up * h + axis[2] * h * h / 2)
    return total


def _edges(records: Records, bound: Reference) -> Iterator[tuple[Reference, bool]]:
    """Yield the edges of a face's bound, and whether each is gone from its start to its end."""
    _, loop, kept = records.get(bound)[1]
    for oriented in records.get(loop)[1][1]:
        *_, edge, forward = records.get(oriented)[1]
        yield edge, (forward == "T") == (kept == "T")


def _along(records: Records, edge: Reference, plane: Triple) -> float | None:
    """Return the line integral of an edge, from its start to its end.

    Of (a x + b x^2/2 + c x y) dy, whose curl is a + b x + c y.
    """
    a, b, c = plane
    if records.kind(records.get(edge)[1][3]) == "LINE":
        start, end = ends(records, edge)
        dx, dy = end[0] - start[0], end[1] - start[1]
        total = 0.0
        for t in ENDS:
            x, y = start[0] + t * dx, start[1] + t * dy
            total += dy / 2 * (a * x + b * x * x / 2 + c * x * y)
        return total
    bent = arc(records, edge)
    if bent is None:
        return None
    pieces = max(1, math.ceil(abs(bent.turn) / (math.pi / 2)))
    half = bent.turn / pieces / 2
    total = 0.0
    for piece in range(pieces):
        middle = bent.begin + (2 * piece + 1) * half
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            angle = middle + node * half
            x, y, _ = bent.at(angle)
            dy = math.cos(angle) * bent.high[1] - math.sin(angle) * bent.wide[1]
            total += weight * half * dy * (a * x + b * x * x / 2 + c * x * y)
    return total
