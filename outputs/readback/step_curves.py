"""Edges of a STEP file that are circles or ellipses: where they run, and how far they reach."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from .step_records import Records, Reference, Triple, cross


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle or an ellipse: center, both half axes as vectors, mm.

    It begins at ``begin`` and turns by ``turn`` from the first half axis to the second, radians.
    """

    center: Triple
    wide: Triple
    high: Triple
    begin: float
    turn: float

    def at(self, angle: float) -> Triple:
        """Return the point at an angle."""
        cos, sin = math.cos(angle), math.sin(angle)
        x, y, z = (
            c + cos * a + sin * b for c, a, b in zip(self.center, self.wide, self.high, strict=True)
        )
        return x, y, z

    def farthest(self) -> Iterator[Triple]:
        """Yield the points of it that reach farthest along x, y and z, the ends aside."""
        for a, b in zip(self.wide, self.high, strict=True):
            for angle in (math.atan2(b, a), math.atan2(b, a) + math.pi):
                way = (angle - self.begin) * math.copysign(1.0, self.turn) % math.tau
                if way < abs(self.turn):
                    yield self.at(angle)


def ends(records: Records, edge: Reference) -> tuple[Triple, Triple]:
    """Return where an edge starts and ends."""
    _, first, last, *_ = records.get(edge)[1]
    start, end = (records.point(records.get(vertex)[1][1]) for vertex in (first, last))
    return start, end


def arc(records: Records, edge: Reference) -> Arc | None:
    """Return an edge that is an arc; None where it is any other line."""
    _, first, last, curve, same = records.get(edge)[1]
    if records.kind(curve) not in ("CIRCLE", "ELLIPSE"):
        return None
    _, placement, *radii = records.get(curve)[1]
    center, across, axis = records.placement(placement)
    up = cross(axis, across)
    sizes = float(radii[0]), float(radii[-1])

    def angle(point: Triple) -> float:
        off = [p - q for p, q in zip(point, center, strict=True)]
        x, y = (
            sum(p * q for p, q in zip(off, way, strict=True)) / size
            for way, size in zip((across, up), sizes, strict=True)
        )
        return math.atan2(y, x)

    start, end = ends(records, edge)
    begin = angle(start)
    turn = math.tau if first == last else (angle(end) - begin) % math.tau
    if same != "T":
        turn = -turn if first == last else turn - math.tau
    wide, high = (
        (size * way[0], size * way[1], size * way[2])
        for way, size in zip((across, up), sizes, strict=True)
    )
    return Arc(center, wide, high, begin, turn)
