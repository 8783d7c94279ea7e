"""Measures a placement again, from the discs themselves: ``hypot``, no solver, no short cuts.

Nothing here is shared with the search. Whatever the search finds is told only with the gap that
comes out here.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot, inf

from .answer import Place
from .problem import Disc, Problem, Rect, Vessel, Well

STANDS = 1e-6
"""How far a foot may hang over the step's edge and still stand on it: rounding, mm."""


@dataclass(frozen=True, slots=True)
class Tightest:
    """The smallest of all gaps, mm, and the two things that it is between."""

    gap: float
    between: tuple[str, str]


def _near_corner(
    well: Well, z: float, x: float, y: float, radius: float
) -> Iterator[tuple[float, str]]:
    """Yield the gap to a rounded corner at a height, if the axis stands in the corner's square."""
    rect, rc = well.at(z), well.corner_radius
    for x_at, sx in ((rect.x0, -1), (rect.x1, 1)):
        for y_at, sy in ((rect.y0, -1), (rect.y1, 1)):
            dx, dy = sx * (x - x_at) + rc, sy * (y - y_at) + rc
            if dx > 0 and dy > 0:
                yield rc - hypot(dx, dy) - radius, "a corner"


def _inside(rect: Rect, x: float, y: float, radius: float) -> Iterator[tuple[float, str]]:
    yield x - rect.x0 - radius, "left"
    yield rect.x1 - x - radius, "right"
    yield y - rect.y0 - radius, "front"
    yield rect.y1 - y - radius, "back"


def _from_rect(rect: Rect, x: float, y: float) -> float:
    """Return the distance to a rectangle; inside, minus the way out."""
    dx, dy = max(rect.x0 - x, x - rect.x1), max(rect.y0 - y, y - rect.y1)
    return hypot(max(dx, 0.0), max(dy, 0.0)) if max(dx, dy) > 0 else max(dx, dy)


def _of_disc(problem: Problem, disc: Disc, place: Place) -> Iterator[tuple[float, str]]:
    well, x, y, r = problem.well, place.x, place.y, disc.radius
    low, high = place.z + disc.bottom, place.z + disc.top
    if low < well.top + problem.gap:
        for z in (low, high):
            for gap, side in _inside(well.at(z), x, y, r):
                yield gap, f"the well's {side} wall"
            if well.corner_radius > 0:
                yield from _near_corner(well, z, x, y, r)
    for opening in problem.openings:
        if problem.meet((low, high), (opening.bottom, opening.top)):
            for gap, side in _inside(opening.rect, x, y, r):
                yield gap, f"the collar's {side}"
    for box in problem.obstacles:
        if problem.meet((low, high), (box.bottom, box.top)):
            yield _from_rect(box.rect, x, y) - box.reach - r, box.name
    step = well.step_rect
    if step and not place.on_step and low < well.step_top + problem.gap:
        yield _from_rect(step, x, y) - r, "the step"
    room = problem.head_room
    if room and room.plug and high + problem.above > room.plug_bottom:
        yield _from_rect(room.plug, x, y) - r, "the lid's plug"


def _stands(problem: Problem, vessel: Vessel, place: Place) -> bool:
    """Say whether the foot is wholly on what it stands on, and the top is below the lid."""
    well, room = problem.well, problem.head_room
    z, step = (well.step_top, well.step_rect) if place.on_step else (well.bottom, None)
    if place.z != z or (place.on_step and step is None):
        return False
    if room and place.z + vessel.height + problem.above > room.lid + STANDS:
        return False
    if step is None or well.step is None:
        return True
    edge = {"left": 1, "right": 0, "front": 3, "back": 2}[well.step.side]
    return [g for g, _ in _inside(step, place.x, place.y, vessel.foot)][edge] >= -STANDS


def _gaps(problem: Problem, places: dict[str, Place]) -> Iterator[tuple[float, tuple[str, str]]]:
    vessels = problem.vessels
    for i, a in enumerate(vessels):
        at = places[a.name]
        if not _stands(problem, a, at):
            yield -inf, (a.name, "what it stands on or under")
        for disc in a.discs:
            for gap, thing in _of_disc(problem, disc, at):
                yield gap, (a.name, thing)
        for b in vessels[i + 1 :]:
            to = places[b.name]
            apart = hypot(to.x - at.x, to.y - at.y)
            for d in a.discs:
                for e in b.discs:
                    here = (at.z + d.bottom, at.z + d.top)
                    if problem.meet(here, (to.z + e.bottom, to.z + e.top)):
                        yield apart - d.radius - e.radius, (a.name, b.name)


def measure(problem: Problem, places: Iterable[Place]) -> Tightest:
    """Return the gap that a placement keeps, and between what it is the smallest.

    Minus infinity where a vessel does not stand wholly on floor or step, or not under the lid.

    Raises:
        KeyError: A vessel has no place.
    """
    by_name = {place.vessel: place for place in places}
    gaps = _gaps(problem, by_name)
    gap, between = min(gaps, key=lambda each: each[0], default=(inf, ("", "")))
    return Tightest(gap, between)
