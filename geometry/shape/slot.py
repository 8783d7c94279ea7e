"""What a joint takes out of a board's miter: half of a spline's or a biscuit's slot, or a hole.

All of it is cut square to the miter. Places are told in the board's own plan: ``u`` along the
board from its left long point, ``inward`` from its outer face.
"""

import math
from dataclasses import dataclass
from typing import Literal

from .plane import Point

JointKind = Literal["spline", "biscuit", "dowel"]

CUTTER = 50.0
"""Radius of the disc that cuts a biscuit's slot, mm: joiners take one of 100 mm (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One board's half of a joint, mm.

    Attributes:
        joint: the joint's name.
        kind: what goes in.
        end: the board's end, seen from outside.
        mouth: the middle of its opening on the miter: (u, inward).
        way: the unit vector into the wood, square to the miter: (u, inward).
        v: the middle of its opening above the board's bottom edge.
        thick: its size across the miter, from outer to inner face; a dowel's diameter.
        tall: its size up the miter.
        depth: how deep it goes, square to the miter.
    """

    joint: str
    kind: JointKind
    end: Literal["left", "right"]
    mouth: Point
    way: Point
    v: float
    thick: float
    tall: float
    depth: float

    @property
    def across(self) -> Point:
        """The unit vector along the miter in plan, from outer face to inner: (u, inward)."""
        turn = 1.0 if self.end == "left" else -1.0
        return -turn * self.way[1], turn * self.way[0]

    @property
    def volume(self) -> float:
        """What it takes out, mm3: a box, a cylinder, or a segment of the cutter's disc.

        The segment: R^2 acos((R - d)/R) - (R - d) sqrt(2 R d - d^2) (textbook formula).
        """
        if self.kind == "dowel":
            return math.pi / 4 * self.thick**2 * self.depth
        if self.kind == "biscuit":
            rest = CUTTER - self.depth
            wedge = CUTTER**2 * math.acos(rest / CUTTER)
            return (wedge - rest * math.sqrt(CUTTER**2 - rest**2)) * self.thick
        return self.thick * self.tall * self.depth

    @property
    def reach(self) -> float:
        """The farthest u that it comes to from its end: its inner corner or its tip's, mm."""
        side = self.thick / 2 * abs(self.across[0])
        deep = self.depth * abs(self.way[0])
        return self.mouth[0] + (deep + side if self.end == "left" else -deep - side)

    def beyond(self, u: float) -> float:
        """Return how far a line at ``u`` lies beyond its reach, mm; negative within."""
        return u - self.reach if self.end == "left" else self.reach - u
