"""Reduces vessels to points: where may each axis be, and how far must two axes stay apart.

A vessel on one kind of place (floor or step) has a ``Home``: bounds that shrink with the gap
asked for, bounds that do not (the step's edge under a foot), rounded corners that matter, and
rectangles to stay clear of. All of it is linear in x, y and the gap, or splits into such parts.
"""

from dataclasses import dataclass
from math import cos, inf, pi, sin

from .answer import Reason
from .problem import Box, Problem, Rect, Vessel

TANGENTS = 16
"""Straight lines that stand for a rounded corner: they cut off all but 1 - cos(pi/68) = 0.1 % of
its radius."""

PROOF = 0.001
"""What a proof has to show beyond the limit, mm: the solver holds its rows to 1e-7."""


@dataclass(frozen=True, slots=True, order=True)
class Block:
    """A rectangle that a disc of ``radius`` stays clear of."""

    rect: Rect
    radius: float


@dataclass(frozen=True, slots=True)
class Home:
    """Where the axis of one vessel may be.

    ``gapped`` bounds hold with the gap taken off on every side, ``hard`` ones as they are.
    ``tangents`` are (ux, uy, c): ``ux x + uy y + gap <= c``.
    """

    vessel: Vessel
    z: float
    on_step: bool
    gapped: Rect
    hard: Rect
    tangents: tuple[tuple[float, float, float], ...]
    blocks: tuple[Block, ...]

    def box(self, gap: float) -> Rect:
        """Return the bounds at a gap; turned inside out where there is no room."""
        g, h = self.gapped, self.hard
        return Rect(
            max(g.x0 + gap, h.x0),
            max(g.y0 + gap, h.y0),
            min(g.x1 - gap, h.x1),
            min(g.y1 - gap, h.y1),
        )


def _meet(a: Rect, b: Rect) -> Rect:
    return Rect(max(a.x0, b.x0), max(a.y0, b.y0), min(a.x1, b.x1), min(a.y1, b.y1))


def _shrink(rect: Rect, by: float) -> Rect:
    return Rect(rect.x0 + by, rect.y0 + by, rect.x1 - by, rect.y1 - by)


ANYWHERE = Rect(-inf, -inf, inf, inf)


def _bounds(problem: Problem, vessel: Vessel, z: float, on_step: bool) -> tuple[Rect, Rect]:
    """Return the gapped and the hard bounds of the axis."""
    well, gapped = problem.well, ANYWHERE
    for disc in vessel.discs:
        low, high = z + disc.bottom, z + disc.top
        if low < well.top + problem.gap:
            for at in (low, high):
                gapped = _meet(gapped, _shrink(well.at(at), disc.radius))
        for opening in problem.openings:
            if problem.meet((low, high), (opening.bottom, opening.top)):
                gapped = _meet(gapped, _shrink(opening.rect, disc.radius))
        if well.step and not on_step and low < well.step_top + problem.gap:
            gapped = _meet(gapped, _beside_step(problem, disc.radius))
    return gapped, _on_step(problem, vessel.foot) if on_step else ANYWHERE


def _beside_step(problem: Problem, radius: float) -> Rect:
    step, side = problem.well.step_rect, problem.well.step
    assert step is not None and side is not None
    return {
        "left": Rect(step.x1 + radius, -inf, inf, inf),
        "right": Rect(-inf, -inf, step.x0 - radius, inf),
        "front": Rect(-inf, step.y1 + radius, inf, inf),
        "back": Rect(-inf, -inf, inf, step.y0 - radius),
    }[side.side]


def _on_step(problem: Problem, radius: float) -> Rect:
    step, side = problem.well.step_rect, problem.well.step
    assert step is not None and side is not None
    return {
        "left": Rect(-inf, -inf, step.x1 - radius, inf),
        "right": Rect(step.x0 + radius, -inf, inf, inf),
        "front": Rect(-inf, -inf, inf, step.y1 - radius),
        "back": Rect(-inf, step.y0 + radius, inf, inf),
    }[side.side]


def _tangents(problem: Problem, vessel: Vessel, z: float) -> tuple[tuple[float, float, float], ...]:
    """Return lines that touch the rounded corners, for discs that can reach into them."""
    well, lines = problem.well, list[tuple[float, float, float]]()
    rc = well.corner_radius
    for disc in vessel.discs:
        # a disc as wide as the corner's radius is stopped by the two walls before the corner
        if disc.radius >= rc or z + disc.bottom >= well.top + problem.gap:
            continue
        for at in {z + disc.bottom, z + disc.top}:
            rect = _shrink(well.at(at), rc)
            for cx, sx in ((rect.x0, -1), (rect.x1, 1)):
                for cy, sy in ((rect.y0, -1), (rect.y1, 1)):
                    for k in range(1, TANGENTS + 1):
                        angle = k * pi / 2 / (TANGENTS + 1)
                        u, v = sx * cos(angle), sy * sin(angle)
                        lines.append((u, v, u * cx + v * cy + rc - disc.radius))
    return tuple(sorted(lines))


def _blocks(problem: Problem, vessel: Vessel, z: float, reach: Rect) -> tuple[Block, ...]:
    """Return the rectangles within reach, each with the widest disc that meets its heights."""
    boxes = list(problem.obstacles)
    room = problem.head_room
    if room and room.plug:
        boxes.append(Box("the lid's plug", room.plug, room.plug_bottom - problem.above, inf))
    found: list[Block] = []
    for box in boxes:
        is_plug = box.top == inf
        meets = [
            disc.radius
            for disc in vessel.discs
            if (
                z + disc.top > box.bottom
                if is_plug
                else problem.meet((z + disc.bottom, z + disc.top), (box.bottom, box.top))
            )
        ]
        radius = max(meets, default=0.0) + box.reach
        if meets and not _out_of_reach(box.rect, radius, reach):
            found.append(Block(box.rect, radius))
    one_each = sorted(set(found))
    return tuple(
        b
        for b in one_each
        if not any(o != b and o.rect.holds(b.rect) and o.radius >= b.radius for o in one_each)
    )


def _out_of_reach(rect: Rect, radius: float, reach: Rect) -> bool:
    """Say whether no axis in ``reach`` comes nearer than any gap that the bounds let it keep."""
    most = min(reach.x1 - reach.x0, reach.y1 - reach.y0)
    dx = max(rect.x0 - reach.x1, reach.x0 - rect.x1)
    dy = max(rect.y0 - reach.y1, reach.y0 - rect.y1)
    return max(dx, dy) >= radius + max(most, 0.0)


def _refusals(problem: Problem, home: Home) -> list[Reason]:
    """Return why the vessel cannot stand there at the gap asked for: the cheapest proof."""
    found: list[Reason] = []
    vessel, room = home.vessel, problem.head_room
    names = (vessel.name,)
    if room and home.z + vessel.height + problem.above > room.lid + PROOF:
        needed, there = vessel.height + problem.above, room.lid - home.z
        found.append(Reason("too tall", names, home.on_step, needed, there))
    box = home.box(problem.gap)
    for across, short in (
        ("left to right", box.x0 - box.x1),
        ("front to back", box.y0 - box.y1),
    ):
        if short > PROOF:
            wide = 2 * vessel.radius
            found.append(Reason("no room", names, home.on_step, wide, wide - short, across))
    return found


def home_of(problem: Problem, vessel: Vessel, on_step: bool) -> tuple[Home, list[Reason]]:
    """Return a vessel's home on floor or step, and why it cannot be there if it cannot."""
    z = problem.well.step_top if on_step else problem.well.bottom
    gapped, hard = _bounds(problem, vessel, z, on_step)
    tangents = _tangents(problem, vessel, z)
    home = Home(
        vessel, z, on_step, gapped, hard, tangents, _blocks(problem, vessel, z, _meet(gapped, hard))
    )
    return home, _refusals(problem, home)


def apart(problem: Problem, a: Home, b: Home) -> float | None:
    """Return how far two axes are apart at gap 0, mm; None where nothing is at one height."""
    sums = [
        d.radius + e.radius
        for d in a.vessel.discs
        for e in b.vessel.discs
        if problem.meet((a.z + d.bottom, a.z + d.top), (b.z + e.bottom, b.z + e.top))
    ]
    return max(sums, default=None)
