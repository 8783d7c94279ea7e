"""Where the hinge's pin may lie: the area in which wall, ceiling, skirt, collar and taps all pass.

A hinge that was never meant for a collar is moved about until something is in its way. This is
all its places at once, in the section that the hinge's own readings are taken in: how far behind
the face that carries the leaf, how far above the plane that the lid closes on.

The border is where the worst margin of the *musts* that read the pin's place is 0; ``tracing``
finds it.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from ...params.project import Hinge, Project
from ..shape.layout import Layout
from ..shape.lid import HingeAxis
from ..shape.taps import Tap
from .border import margins
from .design import Design
from .evaluate import asked
from .finding import Finding
from .levers import USEFUL
from .tracing import GRID, WINDOW, Area, Grid, Place, middle

WIDER = 40.0
"""How far beyond what is useful the window goes to have the drawn pin in it, mm: a reading that
slipped by a digit would make it meters wide, of which nobody has any use."""

PIN = frozenset({
    "skirt", "collar-hold", "lid-wall", "lid-ceiling", "lid-back", "lid-front", "hinge-hold",
})  # fmt: skip
"""The *musts* that read where the pin is."""


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
    musts = [each for each in ask(drawn or middle(window)) if each.weight == "must"]
    judged = {each.check for each in musts if each.verdict != "not-checked"}
    unknown = [each for each in musts if each.verdict == "not-checked"]
    if not judged & {"lid-wall", "lid-ceiling", "lid-back", "lid-front"}:
        return None
    grid = Grid(window, _worst(ask), drawn or middle(window))
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


def _failing(findings: list[Finding]) -> frozenset[str]:
    return frozenset(
        each.check for each in findings if each.weight == "must" and each.verdict == "fail"
    )


def _worst(ask: Callable[[Place], list[Finding]]) -> Callable[[Place], tuple[float, str]]:
    def worst(place: Place) -> tuple[float, str]:
        return min(margins(ask(place)), default=(math.inf, ""))

    return worst
