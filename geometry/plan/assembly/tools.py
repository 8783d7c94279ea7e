"""The room that a tool takes at each kind of fastener, and how far it has to turn there.

Each way to turn a fastener is straight pieces (a socket, a driver that may lean a little) and
swings (a wrench's arm about the fastener's axis). A swing needs one free arc, a bite, not a whole
turn: the wrench is taken off and set on again. Sizes of tools are ordinary ones; where a
catalogue gives the room that a nut wants (``nut_wrench_circle``, ``tail_wrench_circle``), that is
taken. Hands are as wide as their tool.
"""

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from ...shape.envelope import leaning
from ...shape.plane import Point, over_corners
from ...shape.taps import Tap
from .bodies import Rod, Room
from .driver import DRIVERS, SLICE, Driver

SEAT = 5.0
"""What a wrench needs beyond its bite to be set on again, deg (common practice; the same as
wrench-swing's)."""

BITE = 30.0
"""Least swing of an open-ended wrench that is turned over after each swing, its jaws standing at
15 deg, and of a box wrench with 12 points, deg (published: a US Navy training course on aviation
hand tools; a shop handbook of 1887 works out the same for the open end)."""

HEAD_SHARE, HEAD_MORE = 1.05, 3.5
"""Half the width of an open-ended wrench's head: share of the width across flats, and mm more
(from memory: twice the width across flats and a little)."""

RING_SHARE, RING_MORE = 0.75, 2.0
"""Radius of a box wrench's ring: share of the width across flats, and mm more (from memory)."""

ARM = 180.0
"""Reach of a wrench or ratchet, from the nut's axis to the end of the hand, mm (from memory)."""

ARM_HALF = 10.0
"""Half the width of a box wrench's or ratchet's arm, mm (from memory)."""

HANDLE_BEYOND, HANDLE_DEEP = 10.0, 30.0
"""How far behind the shank's end a socket's handle turns, and how deep its arm is, mm (from
memory)."""


@dataclass(frozen=True, slots=True)
class Arm:
    """A wrench as ``shape.turning`` turns it, mm."""

    reach: float
    half_width: float


@dataclass(frozen=True, slots=True)
class Swing:
    """An arm that turns about (u, v) in the layer from ``near`` to ``far``, mm.

    ``hub`` is the radius of the ring about the axis, which has to be free whichever way the arm
    points; ``bite`` is the least free arc, deg.
    """

    u: float
    v: float
    near: float
    far: float
    arm: Arm
    hub: float
    bite: float


Piece = Rod | Room | Swing | Driver


@dataclass(frozen=True, slots=True)
class Way:
    """One way to turn a fastener: the tool in words, and its pieces, all of which need room.

    Without a tool it is the room that a thing itself takes.
    """

    tool: str
    pieces: tuple[Piece, ...] = ()


def drivers(screws: tuple[Point, ...], head: float, inward: bool) -> tuple[Way, ...]:
    """Return the ways to drive screws whose heads lie at depth ``head``, one driver for all.

    ``inward`` tells whether they are driven from inside the collar.
    """
    return tuple(
        Way(tool, tuple(Driver(u, v, head, inward, _spans(pieces)) for u, v in screws))
        for tool, pieces in DRIVERS
    )


def _spans(pieces: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float, float], ...]:
    return tuple((start, *piece) for (start, _), piece in pairwise(((0.0, 0.0), *pieces)))


def straight_in(tap: Tap) -> tuple[Way, ...]:
    """Return the room before a bore from which its shank is pushed in, and that it takes inside."""
    shank = tap.shank
    assert shank is not None
    reach = shank.length + shank.flange_thickness + shank.collar_projection
    before = Rod(tap.u, tap.v, shank.flange_diameter / 2, -tap.cover - reach, -tap.cover)
    end = shank.length - tap.cover
    inside = Rod(tap.u, tap.v, shank.thread_diameter / 2, -tap.cover, end)
    return (Way("by hand, straight in", (before, inside)),)


def shank_nut(tap: Tap, near: float) -> tuple[Way, ...]:
    """Return the ways to turn a shank nut whose inner face starts its layer at depth ``near``.

    A socket over the shank takes the catalogue's circle; its arm turns behind the shank's end. In
    the open an open-ended wrench does it too.
    """
    shank = tap.shank
    assert shank is not None
    end = shank.length - tap.cover
    layer = near + shank.nut_thickness
    behind = max(end, layer) + HANDLE_BEYOND
    radius = shank.nut_wrench_circle / 2
    arm = Arm(ARM, ARM_HALF)
    handle = Swing(tap.u, tap.v, behind, behind + HANDLE_DEEP, arm, ARM_HALF, BITE + SEAT)
    head = open_end(shank.nut_across_flats)
    jaw = Swing(tap.u, tap.v, near, layer, Arm(ARM, head), 0.0, BITE + SEAT)
    return (
        Way("deep socket or tube wrench", (Rod(tap.u, tap.v, radius, near, behind), handle)),
        Way("open-ended wrench", (jaw,)),
    )


def tail_nut(tap: Tap, flats: float) -> tuple[Way, ...]:
    """Return the ways to turn a tail nut that is ``flats`` across flats.

    With the catalogue's whole circle free, or a bite at a time within it; a box wrench needs less
    beside the nut, but cannot pass the line.
    """
    shank = tap.shank
    assert shank is not None
    far = shank.length - tap.cover
    near = far - shank.tail_nut_length
    circle = shank.tail_wrench_circle / 2
    head = min(open_end(flats), circle)
    within = Swing(tap.u, tap.v, near, far, Arm(circle - head, head), 0.0, BITE + SEAT)
    ring = RING_SHARE * flats + RING_MORE
    box = Swing(tap.u, tap.v, near, far, Arm(ARM, ARM_HALF), ring, BITE + SEAT)
    # The nut over its corners and the tailpiece behind it need their own room whatever turns them.
    itself = Rod(tap.u, tap.v, over_corners(flats) / 2, near, far + shank.tailpiece_length)
    return (
        Way("open-ended wrench", (itself, Rod(tap.u, tap.v, circle, near, far))),
        Way("open-ended wrench, a bite at a time", (itself, within)),
        Way("box wrench, before the line is on", (itself, box)),
    )


def open_end(flats: float) -> float:
    """Return half the width of an open-ended wrench's head, mm."""
    return HEAD_SHARE * flats + HEAD_MORE


def coupling_ring(tap: Tap) -> tuple[Way, ...]:
    """Return the faucet wrench on a coupling ring; none where the wrench is not known.

    The layer is the ring's. The bite is wrench-swing's: one hole of the ring to the next.
    """
    shank, wrench = tap.shank, tap.wrench
    if shank is None or wrench is None:
        return ()
    face = tap.cover + shank.flange_thickness
    swing = Swing(
        tap.u,
        tap.v,
        -face - max(shank.ring_length, shank.collar_projection),
        -face,
        Arm(wrench.reach, wrench.half_width),
        0.0,
        360.0 / shank.ring_holes + SEAT,
    )
    return (Way("faucet wrench", (swing,)),)


def handle_turned(tap: Tap) -> tuple[Way, ...]:
    """Return how a handle is screwed on its lever: in place, or before its faucet is on.

    In place its corners go round about the lever's axis, which leans as the handle does: boxes
    one on the other hold what they sweep.
    """
    faucet, handle, shank = tap.faucet, tap.handle, tap.shank
    if faucet is None or handle is None or shank is None:
        return ()
    count = math.ceil(handle.length / SLICE)
    around = replace(
        handle, depth=math.hypot(handle.width, handle.depth), length=handle.length / count
    )
    out = tap.cover + shank.flange_thickness + faucet.lever_axis_forward
    up, lean, half = tap.v + faucet.lever_top, math.radians(handle.closed_angle), around.depth / 2
    rooms: list[Room] = []
    for i in range(count):
        foot = (
            out - i * around.length * math.sin(lean),
            up + i * around.length * math.cos(lean),
        )
        outs, ups = zip(*leaning(foot, around), strict=True)
        # The lowest corners dip below the lever's top by their lean; nothing there is turned.
        low = max(up, min(ups))
        rooms.append(Room(tap.u - half, tap.u + half, low, max(ups), -max(outs), -min(outs)))
    return (Way("by hand", tuple(rooms)), Way("by hand, on its faucet before that goes on"))


def bolt_nut(bolts: tuple[Point, ...], bolt: float, inside: float, outside: float) -> Way:
    """Return sockets on through bolts from both faces: one holds, the other turns.

    Args:
        bolts: where they are.
        bolt: their diameter, mm.
        inside: depth of the board's inner face.
        outside: depth of the leaf's outer face, negative outside the board.
    """
    radius, long = SOCKET_OVER_BOLT * bolt, SOCKET_LONG
    arm = Arm(ARM, ARM_HALF)
    pieces: list[Piece] = []
    for u, v in bolts:
        pieces += [
            Rod(u, v, radius, inside, inside + long),
            Swing(u, v, inside + long, inside + long + HANDLE_DEEP, arm, ARM_HALF, BITE + SEAT),
            Rod(u, v, radius, outside - long, outside),
        ]
    return Way("two sockets, one inside and one outside", tuple(pieces))


SOCKET_OVER_BOLT = 1.25
"""Radius of a socket over its bolt's diameter (from memory: a nut is 1.6 to 1.8 times the bolt
across flats, and a socket's wall comes on top)."""

SOCKET_LONG = 70.0
"""A deep socket with what it sits on, mm (from memory)."""
