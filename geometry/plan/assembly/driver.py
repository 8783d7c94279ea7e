"""Drivers on screws: straight, or leaning a little past what stands beside the screw."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from .bodies import Rod, Room

LEAN = 10.0
"""How far a driver may lean from the screw's axis, deg (common practice, no source)."""

WAYS_TO_LEAN = 8
"""In how many directions leaning is tried."""


DRIVERS: tuple[tuple[str, tuple[tuple[float, float], ...]], ...] = (
    ("screwdriver", ((100.0, 4.0), (210.0, 35.0))),
    ("driver with a long bit", ((150.0, 4.0), (350.0, 32.0))),
    ("stubby screwdriver", ((25.0, 4.0), (85.0, 32.0))),
)
"""Tools for screws: from the screw's head outward, (up to, radius) of blade and handle with the
hand about it, mm (from memory: ordinary sizes)."""

SLICE = 30.0
"""A leaning driver is taken as upright slices of at most this length, each as wide as it needs to
be to hold the slanted piece, mm."""


@dataclass(frozen=True, slots=True)
class Driver:
    """A screwdriver or a driver with its bit, on a screw: straight or leaning one way.

    ``head`` is the depth of the screw's head; ``inward`` tells whether it is driven from inside.
    ``spans`` are its parts from the head outward: (from, to, radius).
    """

    u: float
    v: float
    head: float
    inward: bool
    spans: tuple[tuple[float, float, float], ...]

    def straight(self) -> tuple[Rod, ...]:
        """Return it held square to the board."""
        return tuple(self._rod(*span, self.u, self.v) for span in self.spans)

    def leaning(self) -> Iterator[Iterator[Rod]]:
        """Yield it leaning each way, as slices that hold the slanted piece, from the head on."""
        return (self._slices(math.tau * way / WAYS_TO_LEAN) for way in range(WAYS_TO_LEAN))

    def _slices(self, turn: float) -> Iterator[Rod]:
        """Yield its slices, made as they are asked for: the first that is blocked is the last."""
        lean = math.radians(LEAN)
        slope = math.tan(lean)
        cos, sin = slope * math.cos(turn), slope * math.sin(turn)
        for start, end, radius in self.spans:
            count = math.ceil((end - start) / SLICE)
            long = (end - start) / count
            wide = radius / math.cos(lean) + slope * long / 2
            for i in range(count):
                near = start + i * long
                off = near + long / 2
                yield self._rod(near, near + long, wide, self.u + off * cos, self.v + off * sin)

    def around(self) -> Room:
        """Return the box about all ways to hold it."""
        reach = self.spans[-1][1]
        wide = max(radius for _, _, radius in self.spans) * 1.1 + reach * math.tan(
            math.radians(LEAN)
        )
        ends = self.head, self.head + (reach if self.inward else -reach)
        return Room(
            self.u - wide, self.u + wide, self.v - wide, self.v + wide, min(ends), max(ends)
        )

    def _rod(self, start: float, end: float, radius: float, u: float, v: float) -> Rod:
        sign = 1.0 if self.inward else -1.0
        one, other = self.head + sign * start, self.head + sign * end
        return Rod(u, v, radius, min(one, other), max(one, other))
