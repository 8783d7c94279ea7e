"""Where the hinge's pin may lie: the area in which wall, ceiling, skirt, collar and taps all pass.

A hinge that was never meant for a collar is moved about until something is in its way. This is
all its places at once, in the section that the hinge's own readings are taken in: how far behind
the face that carries the leaf, how far above the plane that the lid closes on.

The border is where the worst margin of the *musts* that read the pin's place is 0: found on the
lines of a grid (marching squares, Lorensen and Cline's idea in the plane, from memory), then
drawn finer until no piece of it is off by more than ``CLOSE``.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

from ...params.project import Hinge, Project
from ..shape.layout import Layout
from ..shape.lid import HingeAxis
from ..shape.taps import Tap
from .design import Design
from .evaluate import asked
from .finding import Finding
from .levers import USEFUL

GRID = 5.0
"""Distance of the places where all is asked first, mm; an area narrower than that can be missed,
but for one that the drawn pin is in."""

WIDER = 40.0
"""How far beyond what is useful the window goes to have the drawn pin in it, mm: a reading that
slipped by a digit would make it meters wide, of which nobody has any use."""

CLOSE = 0.05
"""How far a piece of the border may be off, mm."""

DEPTH = 8
"""How often a piece is divided: 256 parts of a cell's side, which is less than ``CLOSE``."""

WINDOW = "window"
"""Stands for a check's id where an area goes on beyond the window."""

PIN = frozenset({
    "skirt", "collar-hold", "lid-wall", "lid-ceiling", "lid-back", "lid-front", "hinge-hold",
})  # fmt: skip
"""The *musts* that read where the pin is."""

Place = tuple[float, float]
"""A place of the pin: behind the face that carries the leaf, above the sealing plane, mm."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeMap:
    """Where the pin may lie, everything else as it is drawn.

    Attributes:
        window: least and greatest place behind, least and greatest above, mm.
        areas: the closed lines of the border; none where no place in the window passes.
        drawn: the pin's place in the build file, also if it is not in the window; None without.
        asks: the checks that it was asked of.
        unknown: those that lack readings and are not in it.
        never: checks that fail wherever the pin is within the window.
        between: where no check alone leaves no place, those that do it together.
        missing: the keys that ``unknown`` lack.
        on: what carries the leaf, the back board or its cover.
        plane: how high the sealing plane is above the bottom edge of that, mm.
    """

    window: tuple[float, float, float, float]
    areas: tuple[Area, ...]
    drawn: Place | None
    asks: tuple[str, ...]
    unknown: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    between: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    on: Literal["board", "cover"] = "board"
    plane: float = 0.0

    @property
    def inside(self) -> Place | None:
        """The drawn pin's place where it is in the window, which goes no farther than is useful."""
        left, right, low, high = self.window
        if self.drawn is None or not (
            left <= self.drawn[0] <= right and low <= self.drawn[1] <= high
        ):
            return None
        return self.drawn

    @property
    def bounded_by(self) -> tuple[str, ...]:
        """Every check that bounds an area, in the order of the border."""
        found = (bound for area in self.areas for bound in area.bounds)
        return tuple(dict.fromkeys(bound for bound in found if bound != WINDOW))

    def heights(self, behind: float) -> tuple[Place, ...]:
        """Return from where to where the pin may be high at one distance behind, mm; lowest first.

        Between the first of a pair and the second all passes.
        """
        met: list[float] = []
        for area in self.areas:
            for a, b in zip(area.corners, (*area.corners[1:], area.corners[0]), strict=True):
                if (a[0] <= behind) != (b[0] <= behind):
                    met.append(a[1] + (behind - a[0]) / (b[0] - a[0]) * (b[1] - a[1]))
        met.sort()
        return tuple(zip(met[::2], met[1::2], strict=True))


def hinge_map(project: Project, layout: Layout) -> HingeMap | None:
    """Return where the pin may lie; None where too little is known of lid, hinge and room.

    The pin's place need not be in the build file. What ``limits`` asks counts.
    """
    if project.hinge is None or project.lid is None:
        return None
    drawn = _drawn(project.hinge)
    window = _window(drawn)
    ask = _asker(project, layout)
    musts = [each for each in ask(drawn or _middle(window)) if each.weight == "must"]
    judged = {each.check for each in musts if each.verdict != "not-checked"}
    unknown = [each for each in musts if each.verdict == "not-checked"]
    if not judged & {"lid-wall", "lid-ceiling", "lid-back", "lid-front"}:
        return None
    grid = _Grid(window, _worst(ask), drawn)
    areas = tuple(grid.areas())
    together = set[str]() if areas else set(grid.worst_checks())
    fails = [_failing(ask(place)) for place in grid.places()] if together else []
    never = tuple(sorted(each for each in PIN if fails and all(each in some for some in fails)))
    cover = layout.cover("back") if layout.leaf_out else None
    return HingeMap(
        window=window,
        areas=areas,
        drawn=drawn,
        asks=tuple(dict.fromkeys(each.check for each in musts if each.verdict != "not-checked")),
        unknown=tuple(dict.fromkeys(each.check for each in unknown)),
        never=never,
        between=() if never else tuple(sorted(together)),
        missing=tuple(dict.fromkeys(key for each in unknown for key in each.missing)),
        on="cover" if cover else "board",
        plane=layout.sealing_z - (cover.bottom if cover else 0.0),
    )


def _drawn(hinge: Hinge) -> Place | None:
    if hinge.axis_behind is None or hinge.axis_above is None:
        return None
    return hinge.axis_behind, hinge.axis_above


def _window(drawn: Place | None) -> tuple[float, float, float, float]:
    """Return what is looked at: where a pin is of use, and about the drawn one if it is near."""
    useful = (*USEFUL["hinge.axis_behind"], *USEFUL["hinge.axis_above"])
    if drawn is None:
        return useful
    x, y = drawn
    left, right, low, high = useful
    wide = min(left, x - GRID), max(right, x + GRID), min(low, y - GRID), max(high, y + GRID)
    near = all(abs(a - b) <= WIDER for a, b in zip(wide, useful, strict=True))
    return wide if near else useful


def _middle(window: tuple[float, float, float, float]) -> Place:
    return (window[0] + window[1]) / 2, (window[2] + window[3]) / 2


def _asker(project: Project, layout: Layout) -> Callable[[Place], list[Finding]]:
    """Return what tells the findings with the pin at a place; the rest is laid out once."""
    hinge, only = project.hinge, _unlike(layout)
    assert hinge is not None
    face = layout.back_y + layout.leaf_out

    def ask(place: Place) -> list[Finding]:
        moved = hinge.model_copy(update={"axis_behind": place[0], "axis_above": place[1]})
        axis = HingeAxis(face + place[0], layout.sealing_z + place[1])
        design = Design(replace(project, hinge=moved), replace(layout, hinge=axis), only)
        return list(asked(design, PIN))

    return ask


def _unlike(layout: Layout) -> frozenset[int]:
    """Return one tap of each kind on the front: taps alike at one height meet the lid alike."""
    front = layout.board("front")
    even = abs(front.over_left - front.over_right) < 1e-9
    found: dict[object, int] = {}
    for tap in layout.taps:
        found.setdefault(_kind(tap) if even and tap.side == "front" else tap.number, tap.number)
    return frozenset(found.values())


def _kind(tap: Tap) -> Tap:
    return replace(tap, number=0, name="", row=0, u=0.0)


Worst = Callable[[Place], tuple[float, str]]
"""The least margin with the pin at a place, negative where something fails, and of which check."""


def _worst(ask: Callable[[Place], list[Finding]]) -> Worst:
    def worst(place: Place) -> tuple[float, str]:
        return min(_margins(ask(place)), default=(math.inf, ""))

    return worst


def _margins(findings: list[Finding]) -> Iterator[tuple[float, str]]:
    for each in findings:
        if each.weight == "must" and each.verdict == "fail":
            yield -math.inf if each.margin is None else each.margin, each.check
        elif each.weight == "must" and each.margin is not None:
            yield max(0.0, each.margin), each.check


def _failing(findings: list[Finding]) -> frozenset[str]:
    return frozenset(
        each.check for each in findings if each.weight == "must" and each.verdict == "fail"
    )


@dataclass(frozen=True, slots=True)
class _Cross:
    """Where the border crosses a line of the grid: the place, and what fails beyond it."""

    place: Place
    bound: str


class _Grid:
    """A grid over the window with a row of failing places about it, and the border through it."""

    def __init__(
        self, window: tuple[float, float, float, float], worst: Worst, drawn: Place | None
    ) -> None:
        """Ask at every place; the drawn pin is one, so that a narrow area about it is found."""
        self.worst = worst
        x, y = drawn or _middle(window)
        self.xs, self.ys = _stops(*window[:2], x), _stops(*window[2:], y)
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
        low, high, pointed = 0.0, 1.0, False
        long = math.dist(a, b)
        close = CLOSE / 5 / long
        while high - low > close:
            at = (low + high) / 2
            if not pointed and math.isfinite(good) and math.isfinite(bad[0]):
                zero = low + good / (good - bad[0]) * (high - low)
                at = zero + (close / 2 if zero - low < high - zero else -close / 2)
                at = min(max(at, low + close / 4), high - close / 4)
            pointed = not pointed
            found = self.worst(_between(a, b, at))
            if found[0] < 0:
                high, bad = at, found
            else:
                low, good = at, found[0]
        return _Cross(_between(a, b, low), bad[1])

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
