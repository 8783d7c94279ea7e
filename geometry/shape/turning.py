"""Where an arm that turns about an axis is free: arcs that discs, edges and rectangles block.

The arm is a capsule: of half width w, from the axis to a rounded tip at the reach l. All closed
forms are plane geometry: a disc of radius r at distance s blocks asin(R/s) to each side of its
direction, R = r + w, as long as the arm is longer than the tangent; a shorter one blocks
acos((s^2 + l^2 - R^2)/(2 s l)), and none at all below s - R.
"""

import math
from dataclasses import dataclass
from typing import Protocol


class Arm(Protocol):
    """What turns: reach and half width, mm. A faucet wrench is one, any other wrench too."""

    @property
    def reach(self) -> float:
        """From the axis to the middle of the rounded tip."""
        ...

    @property
    def half_width(self) -> float:
        """Half of its width, the tip's radius."""
        ...


Arc = tuple[float, float]
"""Blocked from, blocked to: degrees counterclockwise from the board's right, from < to."""


def disc_arc(x: float, y: float, radius: float, arm: Arm) -> Arc | None:
    """Return the arc in which the arm meets a disc at (x, y) from the ring's axis, degrees.

    None where it never does; a full turn where the ring itself is inside the disc's reach.
    """
    away, reach = math.hypot(x, y), arm.reach
    grown = radius + arm.half_width
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


def edge_arc(height: float, arm: Arm) -> Arc | None:
    """Return the arc in which the arm meets a level edge ``height`` above the axis, degrees.

    A full turn where the edge is so low that it lies on the arm's root, whichever way it points.
    """
    lift = height - arm.half_width
    if lift >= arm.reach:
        return None
    if lift <= 0.0:
        return 0.0, 360.0
    psi = math.degrees(math.asin(lift / arm.reach))
    return psi, 180.0 - psi


def box_arc(left: float, right: float, low: float, high: float, arm: Arm) -> Arc | None:
    """Return the arc in which the arm meets a rectangle, given from the ring's axis, degrees.

    The rectangle grown by the arm's half width is convex, so what the arm's axis meets is
    bounded by tangents to its rounded corners and by where its border crosses the tip's circle.
    """
    w, reach = arm.half_width, arm.reach
    nearest = min(max(0.0, left), right), min(max(0.0, low), high)
    away = math.hypot(*nearest)
    if away <= w:
        return 0.0, 360.0
    if away >= reach + w:
        return None
    toward = math.atan2(nearest[1], nearest[0])
    found: list[float] = []
    for x, y in ((left, low), (right, low), (right, high), (left, high)):
        arc = disc_arc(x, y, 0.0, arm)
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
