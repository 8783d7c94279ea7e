"""The border of where something passes in a plane, traced through a grid of places.

The border is where the worst margin is 0: found on the lines of the grid (marching squares,
Lorensen and Cline's idea in the plane, from memory), then drawn finer until no piece of it is off
by more than ``CLOSE``.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product

from .border import narrowed

GRID = 5.0
"""Distance of the places where all is asked first, mm; an area narrower than that can be missed,
but for one that the place lies in which ``Grid`` is given."""

CLOSE = 0.05
"""How far a piece of the border may be off, mm."""

DEPTH = 8
"""How often a piece is divided: 256 parts of a cell's side, which is less than ``CLOSE``."""

WINDOW = "window"
"""Stands for a check's id where an area goes on beyond the window."""

Place = tuple[float, float]
"""A place in the plane, to the right and up, mm; of a pin: behind the face that carries the leaf,
above the sealing plane."""

Worst = Callable[[Place], tuple[float, str]]
"""The least margin at a place, negative where something fails, and of which check."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """One closed line of the border: counterclockwise about an area, clockwise about a gap in it.

    ``bounds`` says for the piece from each corner to the next which check fails beyond, or
    ``WINDOW``.
    """

    corners: tuple[Place, ...]
    bounds: tuple[str, ...]

    @property
    def signed(self) -> float:
        """Its surface, mm2; negative about a gap."""
        following = (*self.corners[1:], self.corners[0])
        pairs = zip(self.corners, following, strict=True)
        return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


@dataclass(frozen=True, slots=True)
class _Cross:
    """Where the border crosses a line of the grid: the place, and what fails beyond it."""

    place: Place
    bound: str


class Grid:
    """A grid over the window with a row of failing places about it, and the border through it."""

    def __init__(self, window: tuple[float, float, float, float], worst: Worst, one: Place) -> None:
        """Ask at every place; ``one`` is among them, so that a narrow area about it is found."""
        self.worst = worst
        self.xs, self.ys = _stops(*window[:2], one[0]), _stops(*window[2:], one[1])
        self.nodes = [[worst((x, y)) for y in self.ys] for x in self.xs]

    def places(self) -> Iterator[Place]:
        """Yield every place that was asked first."""
        yield from product(self.xs, self.ys)

    def worst_checks(self) -> Iterator[str]:
        """Yield what fails worst at each place where anything does."""
        yield from (bound for column in self.nodes for margin, bound in column if margin < 0)

    def areas(self) -> Iterator[Area]:
        """Yield the closed lines of the border, an area on the left of each."""
        crossed: dict[object, _Cross] = {}
        cells = product(range(-1, len(self.xs)), range(-1, len(self.ys)))
        follows = dict(piece for i, j in cells for piece in self._cell(i, j, crossed))
        while follows:
            first, key = follows.popitem()
            ring = [first]
            while key != first:
                ring.append(key)
                key = follows.pop(key)
            yield self._area([crossed[each] for each in ring])

    def _passes(self, i: int, j: int) -> bool:
        inside = 0 <= i < len(self.xs) and 0 <= j < len(self.ys)
        return inside and self.nodes[i][j][0] >= 0

    def _cell(
        self, i: int, j: int, crossed: dict[object, _Cross]
    ) -> Iterator[tuple[object, object]]:
        """Yield the pieces of border in one cell, from crossing to crossing, an area at their left.

        Its corners run counterclockwise. Going round, the border leaves the cell where a failing
        corner follows a passing one, and comes in where a passing one follows.
        """
        corners = ((i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1))
        state = [self._passes(*corner) for corner in corners]
        into: list[int] = []
        out: list[int] = []
        for n in range(4):
            if state[n] != state[(n + 1) % 4]:
                (out if state[n] else into).append(n)
        if not out:
            return
        keys: dict[int, object] = {}
        for n in (*into, *out):
            a, b = corners[n], corners[(n + 1) % 4]
            keys[n] = min(a, b), max(a, b)
            if keys[n] not in crossed:
                passing, failing = (a, b) if state[n] else (b, a)
                crossed[keys[n]] = self._cross(passing, failing)
        if len(out) == 1:
            yield keys[out[0]], keys[into[0]]
            return
        # Two corners across pass: in the middle it shows whether they hang together.
        middle = (
            (self._at(corners[0])[0] + self._at(corners[1])[0]) / 2,
            (self._at(corners[0])[1] + self._at(corners[3])[1]) / 2,
        )
        together = self.worst(middle)[0] >= 0
        for n in out:
            yield keys[n], keys[(n + 1) % 4 if together else (n - 1) % 4]

    def _at(self, corner: tuple[int, int]) -> Place:
        """Return a corner's place; those about the window lie on its rim."""
        i, j = corner
        return self.xs[min(max(i, 0), len(self.xs) - 1)], self.ys[min(max(j, 0), len(self.ys) - 1)]

    def _cross(self, passing: tuple[int, int], failing: tuple[int, int]) -> _Cross:
        a, b = self._at(passing), self._at(failing)
        if a == b:
            return _Cross(a, WINDOW)
        good = self.nodes[passing[0]][passing[1]]
        bad = self.nodes[failing[0]][failing[1]]
        return self._narrowed(a, good[0], b, bad)

    def _narrowed(self, a: Place, good: float, b: Place, bad: tuple[float, str]) -> _Cross:
        """Return the border between a passing and a failing place, within a fifth of ``CLOSE``."""
        end, bound = narrowed(
            lambda share: self.worst(_between(a, b, share)),
            (0.0, good),
            (1.0, *bad),
            CLOSE / 5 / math.dist(a, b),
        )
        return _Cross(_between(a, b, end), bound)

    def _area(self, ring: list[_Cross]) -> Area:
        """Return a closed line, its pieces drawn finer, the window's rim of as few as it takes."""
        found: list[tuple[Place, str]] = []
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            for place, bound in self._finer(a, b, 0):
                if found and math.dist(place, found[-1][0]) < 1e-9:
                    found.pop()
                found.append((place, bound))
        kept = [
            found[i]
            for i, (place, bound) in enumerate(found)
            if bound != WINDOW
            or not self._on_rim(found[i - 1][0], place, found[i + 1 - len(found)][0])
        ]
        return Area(
            corners=tuple(place for place, _ in kept), bounds=tuple(bound for _, bound in kept)
        )

    def _finer(self, a: _Cross, b: _Cross, depth: int) -> Iterator[tuple[Place, str]]:
        """Yield the corners from ``a`` to before ``b``, each with what bounds the piece after it.

        Beside the middle of a piece, to the right of it nothing may pass and to the left
        everything has to: else the border is sought there, square to the piece.
        """
        (x, y), (x1, y1) = a.place, b.place
        long = math.dist(a.place, b.place)
        if self._on_rim(a.place, b.place):
            yield a.place, WINDOW
            return
        if long < CLOSE or depth > DEPTH:
            yield a.place, a.bound if a.bound != WINDOW else b.bound
            return
        nx, ny = (y1 - y) / long, (x - x1) / long
        middle = (x + x1) / 2, (y + y1) / 2

        def off(by: float) -> Place:
            return self._kept((middle[0] + by * nx, middle[1] + by * ny))

        inner, outer = self.worst(off(-CLOSE)), self.worst(off(CLOSE))
        if inner[0] >= 0 > outer[0]:
            yield a.place, outer[1]
            return
        step = CLOSE if inner[0] >= 0 else -CLOSE
        known, here = (inner if step < 0 else outer), step
        while abs(here) < long:
            there = here * 2 if abs(here * 2) < long else math.copysign(long, here)
            found = self.worst(off(there))
            if (found[0] < 0) != (known[0] < 0):
                good, bad = (found, known) if found[0] >= 0 else (known, found)
                places = (off(there), off(here)) if found[0] >= 0 else (off(here), off(there))
                if places[0] == places[1]:
                    break
                new = self._narrowed(places[0], good[0], places[1], bad)
                yield from self._finer(a, new, depth + 1)
                yield from self._finer(new, b, depth + 1)
                return
            known, here = found, there
        yield a.place, outer[1] or a.bound

    def _on_rim(self, *places: Place) -> bool:
        """Tell whether places lie on one side of the window's rim."""
        rims = ((0, self.xs[0]), (0, self.xs[-1]), (1, self.ys[0]), (1, self.ys[-1]))
        return any(all(place[axis] == rim for place in places) for axis, rim in rims)

    def _kept(self, place: Place) -> Place:
        """Return a place, or the one on the window's rim that is nearest to it."""
        return (
            min(max(place[0], self.xs[0]), self.xs[-1]),
            min(max(place[1], self.ys[0]), self.ys[-1]),
        )


def _between(a: Place, b: Place, share: float) -> Place:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _stops(low: float, high: float, one: float) -> list[float]:
    """Return places from one end to the other, no farther apart than ``GRID``, ``one`` too."""
    count = math.ceil((high - low) / GRID - 1e-9)
    even = [low + (high - low) * i / count for i in range(count + 1)]
    new = low < one < high and min(abs(one - each) for each in even) > 1e-6
    return sorted([*even, one]) if new else even


def middle(window: tuple[float, float, float, float]) -> Place:
    """Return the middle of a window."""
    return (window[0] + window[1]) / 2, (window[2] + window[3]) / 2
