"""Can the faucet wrench turn each coupling ring? The free arc about it, for one bite at least.

The wrench is a capsule: an arm of half width w with a rounded tip at the reach l from the
ring's axis. Neighbouring rings and bodies are discs, keep-outs are rectangles, the lid (only if
``limits.tighten_with_lid`` says closed) is a level edge. Only what stands out past the flange
reaches into the slab that the arm sweeps; the tap's own faucet, and all levers, spouts and
handles, begin farther out. So fitting the last faucet and taking any one off to clean it find
the same things in the way, with all others on, and one arc answers both.

All closed forms are plane geometry: a disc of radius r at distance s blocks asin(R/s) to each
side of its direction, R = r + w, as long as the arm is longer than the tangent; a shorter one
blocks acos((s^2 + l^2 - R^2)/(2 s l)), and none at all below s - R.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...shape.keep_out import Place, places
from ...shape.taps import Shank, Tap, Wrench
from ..design import Design, at
from ..finding import Check, Finding

WRENCH_SWING = Check(
    id="wrench-swing",
    weight="must",
    unit="deg",
    question="can the faucet wrench turn each coupling ring?",
    source="plane geometry of the arm; a bite of 360 deg / holes in the ring, and 5 deg to seat"
    " it, is common practice",
    levers=("taps.spacing", "taps.wrench"),
    continuous=False,
)

Arc = tuple[float, float]
"""Blocked from, blocked to: degrees counterclockwise from the board's right, from < to."""


def disc_arc(x: float, y: float, radius: float, wrench: Wrench) -> Arc | None:
    """Return the arc in which the arm meets a disc at (x, y) from the ring's axis, degrees.

    None where it never does; a full turn where the ring itself is inside the disc's reach.
    """
    away, reach = math.hypot(x, y), wrench.reach
    grown = radius + wrench.half_width
    if away <= grown:
        return 0.0, 360.0
    if reach + grown <= away:
        return None
    if reach * reach >= away * away - grown * grown:
        half = math.asin(grown / away)
    else:
        half = math.acos((away**2 + reach**2 - grown**2) / (2 * away * reach))
    toward, half_deg = math.degrees(math.atan2(y, x)), math.degrees(half)
    return toward - half_deg, toward + half_deg


def edge_arc(height: float, wrench: Wrench) -> Arc | None:
    """Return the arc in which the arm meets a level edge ``height`` above the axis, degrees.

    A full turn where the edge is so low that it lies on the arm's root, whichever way it points.
    """
    lift = height - wrench.half_width
    if lift >= wrench.reach:
        return None
    if lift <= 0.0:
        return 0.0, 360.0
    psi = math.degrees(math.asin(lift / wrench.reach))
    return psi, 180.0 - psi


def box_arc(left: float, right: float, low: float, high: float, wrench: Wrench) -> Arc | None:
    """Return the arc in which the arm meets a rectangle, given from the ring's axis, degrees.

    The rectangle grown by the arm's half width is convex, so what the arm's axis meets is
    bounded by tangents to its rounded corners and by where its border crosses the tip's circle.
    """
    w, reach = wrench.half_width, wrench.reach
    nearest = min(max(0.0, left), right), min(max(0.0, low), high)
    away = math.hypot(*nearest)
    if away <= w:
        return 0.0, 360.0
    if away >= reach + w:
        return None
    toward = math.atan2(nearest[1], nearest[0])
    found: list[float] = []
    for x, y in ((left, low), (right, low), (right, high), (left, high)):
        arc = disc_arc(x, y, 0.0, wrench)
        found += [math.radians(each) for each in arc] if arc else []
    for x in (left - w, right + w):
        if abs(x) < reach:
            y = math.sqrt(reach * reach - x * x)
            found += [math.atan2(s, x) for s in (y, -y) if low <= s <= high]
    for y in (low - w, high + w):
        if abs(y) < reach:
            x = math.sqrt(reach * reach - y * y)
            found += [math.atan2(y, s) for s in (x, -x) if left <= s <= right]
    turns = [math.remainder(each - toward, math.tau) for each in found]
    middle = math.degrees(toward)
    return middle + math.degrees(min(turns)), middle + math.degrees(max(turns))


@dataclass(frozen=True, slots=True)
class FreeArc:
    """A piece of the circle that the arm can sweep, for a drawing too, degrees.

    Counted counterclockwise from the board's right as seen from outside; ``start`` lies from 0 to
    360 and ``size`` is 360 where nothing is in the way.
    """

    start: float
    size: float

    @property
    def text(self) -> str:
        """The limits in words."""
        if self.size >= 360.0:
            return "free all round"
        end = (self.start + self.size) % 360.0
        return (
            f"from {self.start:.0f} to {end:.0f} deg, counterclockwise from the board's right as"
            " seen from outside"
        )


def largest_free(blocked: list[Arc]) -> FreeArc:
    """Return the largest unbroken free arc between blocked ones; the first of equal ones."""
    if not blocked:
        return FreeArc(0.0, 360.0)
    if any(end - start >= 360.0 for start, end in blocked):
        return FreeArc(0.0, 0.0)
    turned = sorted((start % 360.0, start % 360.0 + end - start) for start, end in blocked)
    # The arc that reaches farthest past the full turn blocks the next turn's beginning.
    reached, best = max(end for _, end in turned) - 360.0, FreeArc(0.0, 0.0)
    for start, end in turned:
        # Mirrored arcs come out equal but for the last digits, and the first is told.
        if start - reached > best.size + 1e-9:
            best = FreeArc(reached % 360.0, start - reached)
        reached = max(reached, end)
    return best


def free_arc(design: Design, tap: Tap) -> FreeArc | None:
    """Return the largest free arc about a tap's ring, for a drawing; None where it is not known.

    What the lid or a neighbour lacks is taken as not in the way: the finding says what is missing.
    """
    if tap.shank is None or tap.wrench is None:
        return None
    if any(other.shank is None for other in design.neighbours(tap)):
        return None
    lid_closed = design.project.limits.tighten_with_lid == "closed"
    return largest_free(list(_blocked(design, tap, tap.shank, tap.wrench, lid_closed)))


def find(design: Design) -> Iterator[Finding]:
    """Yield, for each tap, the largest free arc of the wrench about its coupling ring."""
    lid_closed = design.project.limits.tighten_with_lid == "closed"
    for tap in design.taps:
        shank, wrench = tap.shank, tap.wrench
        missing = [
            design.tap_key(tap, key)
            for key, part in (("shank", shank), ("wrench", wrench))
            if part is None
        ]
        missing += [
            design.tap_key(other, "shank")
            for other in design.neighbours(tap)
            if other.shank is None
        ]
        if lid_closed:
            missing += design.lacking(f"lid.overhang.{tap.side}", f"lid.skirt.{tap.side}")
        if missing or shank is None or wrench is None:
            yield WRENCH_SWING.not_checked(at(tap), missing, "the wrench's reach, the ring's size")
            continue
        free = largest_free(list(_blocked(design, tap, shank, wrench, lid_closed)))
        holes = shank.ring_holes
        required = design.required(WRENCH_SWING.id, 360.0 / holes + 5.0)
        where = free.text if free.size > 0.0 else "none"
        why = (
            f"largest free arc, {where}; the same to fit the last faucet and to take this one off"
            f" to clean; one bite of a ring with {holes:g} holes is {360 / holes:.0f} deg"
            " (rings have 2 to 8: count yours)"
        )
        yield WRENCH_SWING.at_least(at(tap), free.size, required, why)


def _blocked(
    design: Design, tap: Tap, shank: Shank, wrench: Wrench, lid_closed: bool
) -> Iterator[Arc]:
    """Yield what stands in the arm's way about one tap, seen from outside."""
    for other in design.neighbours(tap):
        assert other.shank is not None
        body = other.faucet.body_width if other.faucet else 0.0
        radius = max(other.shank.ring_diameter, body) / 2
        arc = disc_arc(other.u - tap.u, other.v - tap.v, radius, wrench)
        if arc:
            yield arc
    if design.project.keep_out:
        for place in places(design.project, design.layout.board(tap.side)):
            # What ends behind the flange's face stays behind the slab that the arm sweeps.
            if place.stands_before(tap.cover + shank.flange_thickness):
                arc = box_arc(*_box(place, tap), wrench)
                if arc:
                    yield arc
    if lid_closed:
        arc = _lid_arc(design, tap, shank, wrench)
        if arc:
            yield arc


def _box(place: Place, tap: Tap) -> tuple[float, float, float, float]:
    """Return a keep-out's left, right, low and high from the ring's axis, mm."""
    return place.left - tap.u, place.right - tap.u, place.low - tap.v, place.high - tap.v


def _lid_arc(design: Design, tap: Tap, shank: Shank, wrench: Wrench) -> Arc | None:
    """Return what the closed lid blocks, if it stands further out than the flange's face."""
    lid = design.project.lid
    overhang = lid.overhang.on(tap.side) if lid and lid.overhang else None
    skirt = lid.skirt.on(tap.side) if lid and lid.skirt else None
    if overhang is None or skirt is None:
        return None
    board = design.layout.board(tap.side)
    face = max(board.over_left, board.over_right) + tap.cover + shank.flange_thickness
    return None if overhang <= face else edge_arc(design.layout.sealing_z - skirt - tap.v, wrench)
