"""What a wood screw holds in side grain, and how far from ends and edges it has to stay.

N and mm throughout. Two handbooks are quoted: the Wood Handbook (Forest Products Laboratory,
FPL-GTR-190, 2010), whose loads are means at failure or at the proportional limit, and the
National Design Specification for Wood Construction (NDS), whose values are allowable ones.
Each has a specific gravity of its own: the Wood Handbook's is oven-dry mass over volume at 12 %
moisture content, the NDS's oven-dry mass over oven-dry volume, which is larger; the first used
in the second's formulas is on the safe side. End grain holds too little to be counted on: the
NDS allows no screw in withdrawal from it.
"""

import math
from dataclasses import dataclass
from typing import Literal

WITHDRAWAL_ULTIMATE = 108.25
"""N/mm2; 15,700 lb/in2 (Wood Handbook eq. 8-10, as repeated in public engineering texts)."""

WITHDRAWAL_ALLOWABLE = 19.65
"""N/mm2; 2850 lb/in2 (NDS 12.2, wood screws, as repeated in public engineering texts)."""

Group = Literal["I", "II", "III", "IV"]

LATERAL_ALLOWABLE = {"I": 33.1, "II": 27.3, "III": 22.3, "IV": 17.4}
"""C of ``p = C D^2`` by group of woods, N/mm2: 4800, 3960, 3240 and 2520 lb/in2 (a public
formula book that repeats the older NDS)."""

_LATERAL_SOFTWOOD = ((0.29, 23.17), (0.43, 29.79), (0.48, 36.40))
_LATERAL_HARDWOOD = ((0.33, 23.17), (0.48, 31.99), (0.57, 44.13))
# From these specific gravities on; N/mm2 for 3360, 4320, 5280 and 3360, 4640, 6400 lb/in2.

FULL_LATERAL = 7.0
"""Penetration over diameter that a full lateral value needs (NDS before 1991, from memory)."""

LEAST_LATERAL = 4.0
"""Penetration over diameter below which there is no lateral value (the same, from memory)."""


def withdrawal_ultimate(gravity: float, diameter: float, thread: float) -> float:
    """Return the mean load that pulls a wood screw out of side grain, N.

    ``P = 108.25 G^2 D L``. For seasoned wood that stays dry, a cut thread and a lead hole of
    70 % of the root in softwood, 90 % in hardwood. Wood Handbook (FPL-GTR-190, 2010) eq. 8-10.

    Args:
        gravity: specific gravity of the wood at 12 % moisture content.
        diameter: the screw's plain shank, mm.
        thread: length of full thread in the wood, mm.
    """
    return WITHDRAWAL_ULTIMATE * gravity**2 * diameter * thread


def withdrawal_allowable(gravity: float, diameter: float, thread: float) -> float:
    """Return the load in withdrawal that the NDS allows a wood screw in side grain, N.

    ``W = 19.65 G^2 D L``; about a fifth of the mean at failure. NDS 2018 eq. 12.2-2.

    Args:
        gravity: specific gravity, oven-dry mass over oven-dry volume.
        diameter: the screw's plain shank, mm.
        thread: length of full thread in the wood, mm; the NDS wants at least 6 diameters.
    """
    return WITHDRAWAL_ALLOWABLE * gravity**2 * diameter * thread


def lateral_allowable(group: Group, diameter: float) -> float:
    """Return the load across a wood screw that the older NDS allows in side grain, N.

    ``p = C D^2``, for a penetration of at least 7 diameters. ``diameter`` is the plain shank, mm;
    group I is dense hardwoods, II Douglas-fir and southern pine, III hemlock, red pine and
    redwood, IV spruce. The NDS has had yield equations in its place since 1991.
    """
    return LATERAL_ALLOWABLE[group] * diameter**2


def lateral_limit(gravity: float, hardwood: bool, diameter: float) -> float | None:
    """Return the load across a wood screw at its proportional limit in side grain, N.

    ``p = K D^2``, for a penetration of at least 7 diameters; the load at failure is higher. K
    goes by the wood's kind and specific gravity at 12 %: the table's gaps between two groups
    count to the lower one, what is denser than its last group to that one, and for lighter wood
    than its first there is none. Wood Handbook (FPL-GTR-190, 2010) chapter 8, the table of
    coefficients, from memory. ``diameter`` is the plain shank, mm.
    """
    table = _LATERAL_HARDWOOD if hardwood else _LATERAL_SOFTWOOD
    known = [k for least, k in table if gravity >= least - 1e-9]
    return known[-1] * diameter**2 if known else None


def lateral_share(penetration: float, diameter: float) -> float:
    """Return which share of its lateral value a screw has at this penetration, 0 to 1.

    In proportion below 7 diameters, none below 4 (NDS before 1991, from memory). Lengths in mm.
    """
    deep = penetration / diameter
    if deep < LEAST_LATERAL - 1e-9:
        return 0.0
    return min(1.0, deep / FULL_LATERAL)


def combined(withdrawal: float, lateral: float, angle_deg: float) -> float:
    """Return what a screw holds of a load at an angle to the wood's face, in the units given.

    ``W Z / (W cos2 a + Z sin2 a)``: the lateral value at 0 deg, the withdrawal value at 90 deg.
    NDS 12.4.1, from memory. 0 where the screw holds nothing in a direction that the load has.
    """
    a = math.radians(angle_deg)
    across, out = math.cos(a) ** 2, math.sin(a) ** 2
    under = withdrawal * across + lateral * out
    return withdrawal * lateral / under if under > 0 else 0.0


def thread_in_wood(
    length: float, share: float, through: float, wood: float, diameter: float
) -> float:
    """Return how much full thread of a screw sits in the wood, mm.

    The thread is the last ``share`` of the screw; its tapered tip, about one diameter, holds
    nothing, and what stands out on the far side holds nothing either.

    Args:
        length: of the screw from under its head, mm.
        share: of the length that is threaded.
        through: thickness of what the screw passes before the wood, mm.
        wood: thickness of the wood, mm.
        diameter: the screw's plain shank, mm.
    """
    start = max(0.0, length * (1 - share) - through)
    end = min(wood, length - through - diameter)
    return max(0.0, end - start)


@dataclass(frozen=True, slots=True)
class Distances:
    """How far screws or nails keep from edges, ends and each other, mm.

    ``edge`` and ``across`` are square to the grain, ``end_toward`` (a load toward the end),
    ``end_away`` and ``along`` go with it; ``staggered`` is ``across`` for rows that are.
    """

    edge: float
    end_toward: float
    end_away: float
    along: float
    across: float
    staggered: float


def distances(diameter: float, lead_hole: bool) -> Distances:
    """Return the distances that keep wood from splitting, mm, from the plain shank's diameter.

    For wood screws and nails in side grain; NDS commentary table, from memory.
    """
    toward, away, along, across = (10, 5, 10, 3) if lead_hole else (15, 10, 15, 5)
    return Distances(
        edge=2.5 * diameter,
        end_toward=toward * diameter,
        end_away=away * diameter,
        along=along * diameter,
        across=across * diameter,
        staggered=2.5 * diameter,
    )
