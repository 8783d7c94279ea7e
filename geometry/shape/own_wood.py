"""Wood of its own: how deep one hole in a face runs into another, or under a tap's flange."""

import math
from collections.abc import Iterable, Mapping

from .hole import Hole
from .taps import Tap

SLACK = 1e-9
"""What may touch may touch: far below any reading, mm."""


def flanges(taps: Iterable[Tap]) -> dict[str, float]:
    """Return the diameter of the flange over each bore that has one, by the bore's name, mm."""
    return {tap.hole.name: tap.shank.flange_diameter for tap in taps if tap.shank}


def taken(hole: Hole, flanged: Mapping[str, float]) -> float:
    """Return the radius of what a hole takes of its board's outer face, mm."""
    return max(hole.half_length, flanged.get(hole.name, 0.0) / 2)


def into(hole: Hole, other: Hole, flanged: Mapping[str, float]) -> float:
    """Return how deep a hole runs into another one, mm; 0 or less where each has its own wood.

    Both are round and in one board's flat view. A flange, see ``flanges``, takes wood from what
    is seen outside; two bores, whose flanges are ``tap-gap``'s matter, and a hole that is drilled
    from inside, know nothing of it.
    """
    bores = hole.purpose == other.purpose == "bore"
    if bores or "inner" in (hole.face, other.face):
        flanged = {}
    apart = math.hypot(hole.u - other.u, hole.v - other.v)
    return taken(hole, flanged) + taken(other, flanged) - apart
