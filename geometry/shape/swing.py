"""How near a turning section comes to a fixed one, over the whole sweep and in closed form.

Section plane: y to the back, z up, the axis at a point of it; the section turns from front over
top to back, so a point at the polar angle a (from y toward z) goes to a - th. Both sections are
convex. A corner seen from an edge with the outward unit normal n and the offset c (inside where
n . x <= c) lies at n . x = r cos(p + s th): s is -1 for a corner of the turning section; for a
corner of the fixed one, turned backward as the turning section sees it, s is +1. So contacts,
least distances and greatest depths are roots and extremes of sinusoids and nothing is sampled.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from .plane import Point
from .section import Named, Section, Turned, between, extent, seen, swept

TINY = 1e-9
"""Below any reading, mm and radians; a corner that just touches counts as touching."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """How near two sections come, mm and degrees.

    Attributes:
        gap: least distance over the sweep; where they overlap, the greatest distance by which a
            corner of one lies inside the other, from its nearest face, as a negative number
            (0 if they cross with no corner inside).
        angle_deg: angle of first contact, or of the least distance where there is none.
        place: where that is, a point (y, z) in section.
        deepest_deg: angle of the greatest overlap; the same as ``angle_deg`` without one.
    """

    gap: float
    angle_deg: float
    place: Point
    deepest_deg: float


def nearest(moving: Turned, fixed: Turned, axis: Point, open_to_deg: float) -> Nearest:
    """Return how near the moving section comes to the fixed one from 0 to ``open_to_deg``."""
    sweep = math.radians(open_to_deg)
    met = min(_contacts(moving, fixed, sweep), default=None, key=lambda each: each[0])
    start = _overlap_now(moving, fixed)
    if met is None and not start:
        gap, angle, place = _distance(moving, fixed, sweep)
        degrees = math.degrees(angle)
        return Nearest(gap, degrees, _at(place, axis), degrees)
    depth, deepest, inside = max(_depths(moving, fixed, sweep), key=lambda each: each[0])
    if start:
        met = 0.0, inside if depth > 0 else fixed.polar[0]
    assert met is not None
    first, place = met
    if depth <= 0.0:
        depth, deepest = 0.0, first
    return Nearest(-depth, math.degrees(first), _at(place, axis), math.degrees(deepest))


Polar = tuple[float, float]


def _at(place: Polar, axis: Point) -> Point:
    return axis[0] + place[0] * math.cos(place[1]), axis[1] + place[0] * math.sin(place[1])


def _pairs(moving: Turned, fixed: Turned) -> Iterator[tuple[Polar, Turned, int]]:
    """Yield every corner with the section whose edges it may meet, and the sign of its turn."""
    for corner in moving.polar:
        yield corner, fixed, -1
    for corner in fixed.polar:
        yield corner, moving, 1


def _contacts(moving: Turned, fixed: Turned, sweep: float) -> Iterator[tuple[float, Polar]]:
    """Yield the angles at which a corner of one lies on an edge of the other, and where."""
    for corner, other, sign in _pairs(moving, fixed):
        radius, angle = corner
        for edge in other.edges:
            if not edge.near - TINY <= radius <= edge.far + TINY:
                continue
            along = math.sqrt(max(0.0, radius * radius - edge.offset * edge.offset))
            for side in (along, -along):
                if edge.start - TINY <= side <= edge.end + TINY:
                    turn = math.atan2(side, edge.offset) + edge.toward - angle
                    th = _within(sign * turn, sweep)
                    if th is not None:
                        yield th, (radius, angle - th) if sign < 0 else corner


def _within(turn: float, sweep: float) -> float | None:
    """Return the same turn inside the sweep, radians; None where the sweep does not reach it."""
    th = turn % math.tau
    if math.tau - th < TINY:
        return 0.0
    return min(th, sweep) if th <= sweep + TINY else None


def _overlap_now(moving: Turned, fixed: Turned) -> bool:
    """Tell whether the sections overlap at the start: no edge has all of the other outside."""
    for one, other in ((moving, fixed), (fixed, moving)):
        for edge in one.edges:
            if all(r * math.cos(a - edge.toward) >= edge.offset - TINY for r, a in other.polar):
                return False
    return True


def _distance(moving: Turned, fixed: Turned, sweep: float) -> tuple[float, float, Polar]:
    """Return the least distance of sections that never meet: mm, rad, where.

    Two corners are nearest when they are in line with the axis; a corner and an edge when the
    corner stands on the perpendicular from the axis; or the sweep ends first.
    """
    best = math.inf, 0.0, (0.0, 0.0)
    for radius, angle in moving.polar:
        for corner in fixed.polar:
            gap = abs(radius - corner[0])
            if gap < best[0]:
                th = _within(angle - corner[1], sweep)
                if th is not None:
                    best = gap, th, corner
    for corner, other, sign in _pairs(moving, fixed):
        radius, angle = corner
        for edge in other.edges:
            # Only an edge that faces the axis has a corner come nearer and leave again.
            gap = -edge.offset - radius
            if 0.0 < gap < best[0] and edge.start < 0.0 < edge.end:
                th = _within(sign * (math.pi + edge.toward - angle), sweep)
                if th is not None:
                    foot = -edge.offset, edge.toward + math.pi
                    best = gap, th, foot if sign < 0 else corner
    there = extent(fixed.corners)
    for th in (0.0, sweep):
        cos, sin = math.cos(th), math.sin(th)
        turned = tuple((y * cos + z * sin, z * cos - y * sin) for y, z in moving.corners)
        if between(extent(turned), there) < best[0]:
            best = min(best, _apart(turned, fixed.corners, th))
    return best


def _apart(moving: Section, fixed: Section, th: float) -> tuple[float, float, Polar]:
    """Return the distance of two sections that stay apart: of a corner from an edge, mm."""
    best, y, z = math.inf, 0.0, 0.0
    for corners, others, to_edge in ((moving, fixed, True), (fixed, moving, False)):
        py, pz = others[-1]
        for qy, qz in others:
            ey, ez = qy - py, qz - pz
            squared = ey * ey + ez * ez
            for cy, cz in corners:
                share = ((cy - py) * ey + (cz - pz) * ez) / squared if squared else 0.0
                share = 0.0 if share < 0.0 else 1.0 if share > 1.0 else share
                fy, fz = py + share * ey, pz + share * ez
                away = (cy - fy) * (cy - fy) + (cz - fz) * (cz - fz)
                if away < best:
                    best = away
                    y, z = (fy, fz) if to_edge else (cy, cz)
            py, pz = qy, qz
    return math.sqrt(best), th, (math.hypot(y, z), math.atan2(z, y))


def _depths(moving: Turned, fixed: Turned, sweep: float) -> Iterator[tuple[float, float, Polar]]:
    """Yield, for each corner, its greatest depth inside the other section: mm, rad, where.

    The depth from an edge is c - r cos(p + s th). The least of several such sinusoids is
    greatest where one of them is, where two cross, or at an end of the sweep.
    """
    for corner, other, sign in _pairs(moving, fixed):
        radius, angle = corner
        waves = [(edge.offset, angle - edge.toward) for edge in other.edges]
        depth, th = max(
            (min(c - radius * math.cos(p + sign * th) for c, p in waves), th)
            for th in _turns(waves, radius, sign, sweep)
        )
        yield depth, th, (radius, angle - th) if sign < 0 else corner


def _turns(
    waves: list[tuple[float, float]], radius: float, sign: int, sweep: float
) -> Iterator[float]:
    """Yield the angles at which the least of the depths can be greatest."""
    yield 0.0
    yield sweep
    for i, (c, p) in enumerate(waves):
        found = [math.pi - p]
        for d, q in waves[:i]:
            # c - r cos(p + x) = d - r cos(q + x): a cosine of x once more
            y, z = math.cos(p) - math.cos(q), math.sin(p) - math.sin(q)
            reach = radius * math.hypot(y, z)
            if abs(c - d) < reach:
                half, middle = math.acos((c - d) / reach), math.atan2(z, y)
                found += [half - middle, -half - middle]
        for x in found:
            th = _within(sign * x, sweep)
            if th is not None:
                yield th


@dataclass(frozen=True, slots=True)
class Meeting:
    """The nearest of many pairs of sections: how near, and which of the turning and the fixed."""

    nearest: Nearest
    moving: str
    fixed: str


def nearest_of(
    moving: Iterable[Named], fixed: Iterable[Named], axis: Point, open_to_deg: float
) -> Meeting | None:
    """Return the nearest pair of a turning and a fixed section; None where one side is empty."""
    return _nearest_of(tuple(moving), tuple(fixed), axis, open_to_deg)


@lru_cache(maxsize=1024)
def _nearest_of(
    moving: tuple[Named, ...], fixed: tuple[Named, ...], axis: Point, open_to_deg: float
) -> Meeting | None:
    """Pairs that are known to stay farther apart than what was found are left out.

    Answers are kept: taps of one row stand alike before the lid, and loops over designs mostly
    move what neither lid nor taps know of.
    """
    ay, az = axis
    turning = [(name, seen(section, axis)) for name, section in moving]
    reach = [swept(turned, open_to_deg) for _, turned in turning]
    pairs: list[tuple[float, int, str, Section]] = []
    for name, section in fixed:
        y0, y1, z0, z1 = extent(section)
        there = y0 - ay, y1 - ay, z0 - az, z1 - az
        pairs += [(between(each, there), i, name, section) for i, each in enumerate(reach)]
    best: Meeting | None = None
    for bound, i, what, section in sorted(pairs):
        # Only what is known to stay clear is left out: an overlap has no such bound.
        least = max(0.0, best.nearest.gap) if best is not None else math.inf
        if bound > least:
            break
        name, turned = turning[i]
        other = seen(section, axis)
        rings = max(other.nearest - turned.farthest, turned.nearest - other.farthest)
        if rings > least:
            continue
        found = nearest(turned, other, axis, open_to_deg)
        if best is None or found.gap < best.nearest.gap:
            best = Meeting(found, name, what)
    return best
