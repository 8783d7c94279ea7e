"""The vessels' places: the layout as a problem of the packing core, and what came of it.

The library under the core is loaded on the first problem, so that a build file without vessels
does not pay for it.
"""

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from ..shape.inner import Inner, Rect, inlet
from ..shape.vessel import Vessel
from .design import Design

if TYPE_CHECKING:
    from ..plan.packing import Box, Disc, EntryOrder, Packing, Place, Problem

    Spots = dict[tuple[int, int], Place]

ABOVE = 5.0
"""Least room over a vessel's fitting, mm (common practice, no source); ``head-room`` moves it."""

STRAIGHT = 1e-6
"""How far a board's ends may lie aside though it is parallel to the lip's sides, mm: rounding."""


@dataclass(frozen=True, slots=True)
class Standing:
    """What came of packing the vessels.

    ``gap`` is the largest gap that was found; where a cheap proof rules out the one that is wanted,
    it is asked for without any, and is None if there is no placement even so. ``proved`` tells
    whether it is proved that they do not fit, by what is surely there alone (``sure``).
    ``with_lines``: the places leave every tap's tailpiece and line the room that they need; if
    not, ``lines_ruled_out`` tells whether it is proved that no placement leaves it. ``order`` is
    None where there are no places.
    """

    problem: "Problem"
    packing: "Packing"
    gap: float | None
    proved: bool
    with_lines: bool
    lines_ruled_out: bool
    order: "EntryOrder | None"

    @property
    def places(self) -> "tuple[Place, ...]":
        """Where each stands, by name; empty unless they all fit."""
        return self.packing.places if self.packing.verdict == "fits" else ()


def spots_of(design: Design, standing: Standing) -> "Spots":
    """Return the best try's places by row and number: names change with a vessel's kind."""
    places = {place.vessel: place for place in standing.packing.places}
    return {
        vessel.spot: places[vessel.name]
        for vessel in design.layout.inside.vessels
        if vessel.name in places
    }


@dataclass(slots=True)
class Packer:
    """Packs wells, each problem once.

    ``glance``: for a change that is only tried. What does not fit at a glance does not fit, and
    is not asked about again without lines or gaps.
    """

    nodes: int
    glance: bool = False
    _packed: "dict[Problem, Packing]" = field(default_factory=dict["Problem", "Packing"])
    _orders: "dict[tuple[Problem, tuple[Place, ...]], EntryOrder]" = field(
        default_factory=dict["tuple[Problem, tuple[Place, ...]]", "EntryOrder"]
    )

    def standing(self, design: Design, near: "Spots | None" = None) -> Standing | None:
        """Return what comes of packing a design's vessels; None where there is nothing to pack.

        ``near`` are places of a design like this one: where to look first.

        Lines count as obstacles; where that leaves no placement, it is asked without them.
        """
        problem = problem_of(design)
        if problem is None:
            return None
        lines = line_boxes(design, problem.gap)
        first = tuple(
            replace(near[vessel.spot], vessel=vessel.name)
            for vessel in design.layout.inside.vessels
            if near and vessel.spot in near
        )
        asked = replace(problem, obstacles=(*problem.obstacles, *lines))
        least = sure(design, problem)
        packing = self._pack(asked, first)
        with_lines = packing.verdict == "fits"
        ruled_out = self._ruled_out(asked, replace(least, obstacles=(*least.obstacles, *lines)))
        proved = ruled_out
        if lines and not with_lines and not self.glance:
            packing = self._pack(problem)
            proved = self._ruled_out(problem, least)
        order = None
        if packing.verdict == "fits":
            order = self._order(problem, packing.places)
        gap = packing.gap
        if gap is None and not self.glance:
            gap = self._at_most(problem)
        return Standing(problem, packing, gap, proved, with_lines, ruled_out, order)

    def _ruled_out(self, problem: "Problem", least: "Problem") -> bool:
        """Tell whether no placement is proved, for the problem and for the least of it too."""
        return all(self._pack(each).verdict.startswith("does not") for each in (problem, least))

    def _at_most(self, problem: "Problem") -> float | None:
        """Return the gap that can be kept where the one that is wanted is ruled out."""
        loose = self._pack(replace(problem, gap=0.0))
        below = loose.verdict == "fits" and loose.gap is not None and loose.gap < problem.gap
        return loose.gap if below else None

    def _pack(self, problem: "Problem", near: "tuple[Place, ...]" = ()) -> "Packing":
        if problem not in self._packed:
            from ..plan.packing import pack

            self._packed[problem] = pack(problem, self.nodes, glance=self.glance, near=near)
        return self._packed[problem]

    def _order(self, problem: "Problem", places: "tuple[Place, ...]") -> "EntryOrder":
        """Return the order of entry; lines are put on when the vessels stand."""
        if (problem, places) not in self._orders:
            from ..plan.packing import entry_order

            self._orders[problem, places] = entry_order(problem, places)
        return self._orders[problem, places]


def gap_wanted(design: Design) -> float:
    """Return the least gap between vessels, and between them and all else, mm."""
    well = design.layout.inside.well
    return design.required("vessels", well.gap if well else 5.0)


def problem_of(design: Design) -> "Problem | None":
    """Return a design's vessels as a problem; None without a well, or a vessel.

    Lines are left out. A lid of which nobody knows how far its plug hangs down is left out too.
    """
    from ..plan import packing as core

    layout = design.layout
    inside, well = layout.inside, layout.inside.well
    if well is None or not inside.vessels:
        return None

    def rect(r: Rect) -> core.Rect:
        return core.Rect(r.x0, r.y0, r.x1, r.y1)

    lid, room = design.project.lid, None
    if lid is not None and lid.plug is not None:
        low = layout.sealing_z - lid.plug
        room = core.HeadRoom(low if inside.plug is None else layout.sealing_z)
        if inside.plug is not None and lid.plug:
            room = core.HeadRoom(layout.sealing_z, rect(inside.plug), low)
    step = well.step
    return core.Problem(
        well=core.Well(
            floor=rect(well.floor),
            mouth=rect(well.mouth),
            bottom=well.bottom,
            top=well.top,
            corner_radius=well.corner_radius,
            step=core.Step(step.side, step.length, step.height) if step else None,
        ),
        vessels=tuple(core.Vessel(vessel.name, _discs(vessel)) for vessel in inside.vessels),
        openings=tuple(core.Opening(rect(o.rect), o.bottom, o.top) for o in inside.openings),
        obstacles=tuple(
            core.Box(f"{each.owner}'s {each.reason}" if each.reason == "shank" else each.owner,
                     rect(each.rect), each.bottom, each.top)
            for each in inside.inner
        ),
        head_room=room,
        gap=gap_wanted(design),
        above=design.required("head-room", ABOVE),
    )  # fmt: skip


def sure(design: Design, problem: "Problem") -> "Problem":
    """Return a problem with no more in the vessels' way than what is really there.

    Out of square, the opening is taken by the rectangle within it, what is on a leaning board by
    the one about it; nut and tailpiece are one box, and a manifold's inlet counts at both ends.
    All that is safe for places that are found; that there are none is not proved with it.
    """
    from ..plan import packing as core

    inside = design.layout.inside
    # Both lists are in the layout's order, since problem_of goes through them one by one.
    return replace(
        problem,
        openings=tuple(
            replace(each, rect=core.Rect(o.around.x0, o.around.y0, o.around.x1, o.around.y1))
            for each, o in zip(problem.openings, inside.openings, strict=True)
        ),
        obstacles=tuple(
            box
            for box, each in zip(problem.obstacles, inside.inner, strict=True)
            if _exact(design, each)
        ),
    )


def _exact(design: Design, inner: Inner) -> bool:
    """Tell whether the rectangle about a thing inside the collar is the thing itself."""
    if inner.reason == "shank" or (inner.reason == "manifold" and inlet(design.project)):
        return False
    (x0, y0), (x1, y1) = design.layout.board(inner.side).outer
    return min(abs(x1 - x0), abs(y1 - y0)) < STRAIGHT


def _discs(vessel: Vessel) -> "tuple[Disc, ...]":
    from ..plan.packing import Disc

    body = Disc(0.0, vessel.height, vessel.diameter / 2)
    if not vessel.fitting:
        return (body,)
    return body, Disc(vessel.height, vessel.tall, vessel.fitting_radius)


def line_boxes(design: Design, gap: float) -> "tuple[Box, ...]":
    """Return each tap's tailpiece and line as round things that vessels stay clear of.

    What a tap needs about its shank's end is exact: no further gap goes with it, neither level
    nor above, and so the core's own is taken off again.
    """
    from ..plan.packing import Box, Rect

    top = design.layout.sealing_z
    return tuple(
        Box(
            f"tap {run.tap}'s line",
            Rect(run.x, run.y, run.x, run.y),
            run.bottom + gap,
            max(top, run.bottom + gap + 1.0),
            max(run.reach - gap, 0.0),
        )
        for run in design.layout.inside.runs
    )
