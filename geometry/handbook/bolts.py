"""What a bolt right through a board holds, and how far it stays from edges and ends.

N and mm throughout. Out of the wood it is held by its washer on the far face, until the wood
under the washer is crushed; across, by bearing in the wood and in the steel leaf, by the yield
modes of the Wood Handbook (Forest Products Laboratory, FPL-GTR-190, 2010, chapter 8) and of the
National Design Specification for Wood Construction (NDS 2018, 12.3). The loads here are those at
which wood or bolt yields; what the NDS allows is smaller by its reduction term, 3.2 to 5. Its
specific gravity is oven-dry mass over oven-dry volume; the one at 12 %, which is smaller, is on
the safe side.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

_PSI = 4.4482216 / 25.4**2
_INCH = 25.4

SMALL_BELOW = 0.25 * _INCH
"""Diameter below which wood bears a dowel alike in each direction, mm (NDS table 12.3.3)."""

BOLT_YIELD = 45_000 * _PSI
"""Bending yield strength of a common bolt, N/mm2 (NDS appendix I, as public texts repeat it)."""

LEAF_BEARING = 1.375 * 45_000 * _PSI
"""What the steel of a leaf bears under a bolt, N/mm2: 1.375 times its tensile strength for
plates thinner than 1/4 in (NDS appendix I, as a public text repeats it); 45,000 lb/in2 is the
softest sheet steel of the NDS tables, from memory."""

BOLT_TENSION = 45_000 * _PSI
"""Tensile strength of the softest common bolt over its full section, N/mm2 (from memory: steel
construction handbooks for ASTM A307)."""


def bearing_across(gravity: float, diameter: float) -> float:
    """Return what wood bears under a bolt that is loaded across the grain, N/mm2.

    ``6100 G^1.45 / sqrt(D)`` lb/in2 with D in inches; ``16600 G^1.84`` below 1/4 in.
    NDS 2018 table 12.3.3, as public texts repeat it.

    Args:
        gravity: specific gravity of the wood.
        diameter: of the bolt, mm.
    """
    if diameter < SMALL_BELOW - 1e-9:
        return 16_600 * gravity**1.84 * _PSI
    return 6_100 * gravity**1.45 / math.sqrt(diameter / _INCH) * _PSI


def bearing_along(gravity: float) -> float:
    """Return what wood bears under a bolt of 1/4 in or more that is loaded along the grain, N/mm2.

    ``11200 G`` lb/in2. NDS 2018 table 12.3.3, as public texts repeat it.
    """
    return 11_200 * gravity * _PSI


def yield_modes(
    diameter: float, main: float, side: float, bears_main: float, bears_side: float
) -> Mapping[str, float]:
    """Return the load at which a bolt through two members yields, N, by each of its six modes.

    The least of them holds. ``I`` crushes a member under the bolt, ``II`` turns the straight
    bolt in both, ``III`` bends it once and ``IV`` twice; m is the main member and s the side
    member. Equations 12.3-1 to 12.3-6 of NDS 2018 without their reduction terms (Johansen 1949),
    written so that a side member of no thickness needs no division.

    Args:
        diameter: of the bolt, mm.
        main: thickness of the main member, mm.
        side: thickness of the side member, mm.
        bears_main: what the main member bears under the bolt, N/mm2.
        bears_side: the same of the side member.
    """
    re = bears_main / bears_side
    bend = 2 * BOLT_YIELD * diameter**2 / (3 * bears_main)
    two = (
        math.sqrt(re * side**2 + 2 * re**2 * (side**2 + side * main + main**2) + main**2 * re**3)
        - re * (side + main)
    ) / (1 + re)
    three_m = math.sqrt(2 * (1 + re) * main**2 + bend * (1 + 2 * re)) - main
    three_s = math.sqrt(2 * (1 + re) / re * side**2 + bend * (2 + re)) - side
    return {
        "Im": diameter * main * bears_main,
        "Is": diameter * side * bears_side,
        "II": diameter * two * bears_side,
        "IIIm": diameter * three_m * bears_main / (1 + 2 * re),
        "IIIs": diameter * three_s * bears_main / (2 + re),
        "IV": diameter**2 * math.sqrt(2 * bears_main * BOLT_YIELD / (3 * (1 + re))),
    }


def pull_through(compression: float, washer: float, hole: float, diameter: float) -> float:
    """Return the pull at which the wood under a bolt's washer reaches its limit, N.

    The stress at the proportional limit over the ring between the washer's edge and the hole.
    The washer is taken for stiff: a thin wide one bends and bears less. Never more than the bolt
    holds. Plain statics on a property of the Wood Handbook (table 5-3).

    Args:
        compression: across the grain, at the proportional limit, N/mm2.
        washer: outside diameter of the washer or round plate, mm.
        hole: its bore in the wood, mm.
        diameter: of the bolt, mm.
    """
    ring = math.pi / 4 * max(0.0, washer**2 - hole**2)
    return min(compression * ring, BOLT_TENSION * math.pi / 4 * diameter**2)


def held_times(pull: float, across: float, out: float, lateral: float) -> float:
    """Return how many times a bolt holds a pull and a load across it at once.

    ``1 / (pull / out + across / lateral)``: both shares add up. No standard was found for a bolt
    that is pulled through wood and loaded across; adding the shares is on the safe side of
    the NDS's rule for screws (12.4.1). All in N; 0 where a load has nothing that holds it.
    """
    used = 0.0
    for load, holds in ((pull, out), (across, lateral)):
        if load > 0 and holds <= 0:
            return 0.0
        used += load / holds if load > 0 else 0.0
    return 1 / used if used else math.inf


@dataclass(frozen=True, slots=True)
class BoltDistances:
    """How far bolts that are loaded across the grain keep from edges, ends and each other, mm."""

    edge: float
    loaded_edge: float
    end: float
    apart: float


def bolt_distances(diameter: float) -> BoltDistances:
    """Return the distances at which a bolt that presses across the grain has its full value, mm.

    4 diameters to the edge that it presses toward, 1.5 to the other, 4 to an end, 3 from bolt to
    bolt. NDS 2018 tables 12.5.1A to C: the end as public code repeats it, the rest from memory.
    """
    return BoltDistances(
        edge=1.5 * diameter,
        loaded_edge=4 * diameter,
        end=4 * diameter,
        apart=3 * diameter,
    )
