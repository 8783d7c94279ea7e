"""The one slow question: do all vessels stand in the well together, and do the lines clear them?

It is asked once, not in loops. The packing counts parts of its search, not seconds, so that the
same build file has the same answer everywhere.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from ...params.project import Project
from ..shape.layout import Layout
from ..shape.taps import Tap
from ..shape.vessel import Vessel
from .checks.vessels import TAIL_ROOM, VESSELS
from .design import WELL_KEYS, Design, at
from .evaluate import Evaluation
from .finding import Finding, Where, judge
from .inputs import inputs
from .places_said import places_said
from .standing import Packer, Standing, gap_wanted, spots_of

if TYPE_CHECKING:
    from .standing import Spots

NODES, NODES_TO_PROVE, NODES_TO_TRY = 2_000, 20_000, 1
"""Parts of the search that are looked at: by default, with ``--prove``, and for a change that is
only tried. The first two are the packing core's; a change has to fit at the first go."""


class Question:
    """Asks about the vessels; what was asked is remembered by the packing problem.

    A change that touches neither the well nor the vessels nor what hangs into it leaves the
    problem as it was and costs nothing.
    """

    def __init__(self, *, prove: bool = False) -> None:
        """Prepare; ``prove`` goes on ten times longer where neither answer was found."""
        self._packer = Packer(NODES_TO_PROVE if prove else NODES)
        self._trier = Packer(NODES_TO_TRY, glance=True)
        self._near: Spots | None = None

    def __call__(self, project: Project, evaluation: Evaluation) -> tuple[Finding, ...]:
        """Return the findings of ``vessels`` and ``tail-room``."""
        design = Design(project, evaluation.layout)
        standing = _asked(self._packer, design)
        if standing is not None and self._near is None:
            self._near = spots_of(design, standing)
        return tuple(_findings(design, standing))

    def quick(self, project: Project, evaluation: Evaluation) -> tuple[Finding, ...]:
        """Return them for a change that is tried: what is not found at once is not found.

        It is looked for about the places of the design that was asked about first.
        """
        design = Design(project, evaluation.layout)
        return tuple(_findings(design, _asked(self._trier, design, self._near)))

    def standing(self, project: Project, layout: Layout) -> Standing | None:
        """Return places, order and problem, for drawings; None where there is nothing to pack."""
        return _asked(self._packer, Design(project, layout))


def _missing(design: Design) -> tuple[str, ...]:
    inside = design.layout.inside
    if not inside.vessels:
        return ("vessel",)
    return (
        *design.lacking(*WELL_KEYS),
        *(f"vessel[{v.row + 1}].fitting" for v in inside.vessels if v.fitting is None),
        *(design.tap_key(tap, "shank") for tap in design.layout.taps if tap.shank is None),
    )


def _asked(packer: Packer, design: Design, near: "Spots | None" = None) -> Standing | None:
    return None if _missing(design) else packer.standing(design, near)


def _findings(design: Design, standing: Standing | None) -> Iterable[Finding]:
    missing = _missing(design)
    for tap in design.layout.taps:
        if standing is None:
            yield TAIL_ROOM.not_checked(at(tap), missing, "the vessels' places")
        else:
            yield _tail(design, standing, tap.number)
    if standing is None:
        yield VESSELS.not_checked(Where(), missing, "where the vessels are to stand")
    else:
        yield _vessels(design, standing)


def _vessels(design: Design, standing: Standing) -> Finding:
    packing, required, where = standing.packing, gap_wanted(design), Where()
    lid = "" if standing.problem.head_room else " (without the lid: add lid.plug)"
    said = packing.say(design.text)
    if packing.verdict == "not found":
        return VESSELS.not_checked(where, (), f"{said}{lid}")
    if packing.verdict != "fits" and not standing.proved:
        return VESSELS.not_checked(where, (), f"{_UNPROVED}: {said}{lid}")
    if packing.verdict != "fits" or standing.gap is None:
        why = f"proved: {said}{lid}"
        if standing.gap is None:
            return VESSELS.ruled_out(where, why)
        return _known_to(design, VESSELS.at_least(where, standing.gap, required, why))
    why = f"{said}{lid}; {places_said(design, standing)}"
    if standing.order is not None and not standing.order.found:
        return VESSELS.not_checked(where, (), why)
    return _known_to(design, VESSELS.at_least(where, standing.gap, required, why))


_UNPROVED = (
    "no placement found, and none is ruled out: with the opening of a collar out of square taken by"
    " the upright rectangle within it, and each nut with its tailpiece by the box about it"
)
"""What is said where only what is taken larger than it is leaves the vessels no place."""


def _known_to(design: Design, finding: Finding) -> Finding:
    """Return the finding with how far readings and catalogue figures can move its gap.

    In closed form, since packing again for each is too slow: a vessel wider by d takes at most d
    off the gap (its own placement keeps that), a well longer or shorter by d moves two walls by
    d/2 each, a step, a foam panel or a board one thing by d. So each is at most that, and they
    are combined as everywhere, as a root sum of squares. Heights are left to ``head-room``.
    """
    losses: list[tuple[float, str]] = []
    for each in inputs(design.project):
        key = each.key
        if each.part is not None:
            wide = each.part[0] == "vessels" and each.figure == "diameter"
            if wide and not _counts(design, each.part[1]):
                continue
            if wide or (each.part[0] == "foam" and each.figure == "thickness"):
                losses.append((each.high - each.value, each.says))
        elif key.startswith("vessel[") and key.endswith(".diameter"):
            losses.append((each.high - each.value, each.says))
        elif key in ("well.length", "well.width", "well.mouth_length", "well.mouth_width"):
            losses.append(((each.value - each.low) / 2, each.says))
        elif key in ("well.step.length", "well.left", "well.front", "foam.thickness"):
            losses.append((each.high - each.value, each.says))
    return _within(finding, losses)


def _within(finding: Finding, losses: list[tuple[float, str]]) -> Finding:
    """Return the finding with what may be lost of its margin, each with what to measure."""
    tolerance = math.sqrt(sum(loss**2 for loss, _ in losses))
    decided = max(losses, default=(0.0, ""))
    assert finding.margin is not None
    return replace(
        finding,
        tolerance=tolerance,
        decided_by=decided[1] or None,
        verdict=judge(finding.margin, tolerance),
    )


def _counts(design: Design, kind: str) -> bool:
    """Tell whether a kind's diameter is used, and not one that was read."""
    return any(row.kind == kind and row.diameter is None for row in design.project.vessel)


def _tail(design: Design, standing: Standing, number: int) -> Finding:
    """Judge one tap: from its shank's end to the nearest vessel that stands so high."""
    tap = design.layout.taps[number - 1]
    run = next(each for each in design.layout.inside.runs if each.tap == number)
    required = design.required(TAIL_ROOM.id, run.reach)
    tall = [v for v in design.layout.inside.vessels if _highest(standing, v.tall) > run.bottom]
    if not tall:
        return TAIL_ROOM.nothing_near(at(tap), "no vessel stands as high as its line")
    if not standing.places:
        return TAIL_ROOM.not_checked(at(tap), (), "no places were found for the vessels")
    discs = {vessel.name: vessel.discs for vessel in standing.problem.vessels}
    near = [
        (math.hypot(place.x - run.x, place.y - run.y) - disc.radius, place.vessel)
        for place in standing.places
        for disc in discs[place.vessel]
        if place.z + disc.top > run.bottom
    ]
    if not near:
        return TAIL_ROOM.nothing_near(at(tap), "no vessel stands as high as its line")
    measured, name = min(near)
    vessel = next(each for each in design.layout.inside.vessels if each.name == name)
    why = f"from the shank's inner end to {name}, vessels at their best places"
    if measured < required and not standing.with_lines and not standing.lines_ruled_out:
        said = f"{design.text(measured)} {why}; that no placement leaves more is not proved"
        return TAIL_ROOM.not_checked(at(tap), (), said)
    found = TAIL_ROOM.at_least(at(tap), measured, required, why)
    return _within(found, list(_tail_losses(design, tap, vessel)))


def _tail_losses(design: Design, tap: Tap, vessel: Vessel) -> Iterator[tuple[float, str]]:
    """Yield how much nearer shank and vessel may come, or how much more the tailpiece may want.

    In closed form, about the places that were found: what lengthens the shank comes off whole, a
    wider vessel by half of it. A cover that is thinner lets the shank in. The well moves with
    what says where its walls are, a vessel with them. Heights are left out, and so is where the
    bore is along its board: the line is in the way straight behind it.
    """
    shank, asked = tap.shank, TAIL_ROOM.id in design.project.limits.required
    row = design.project.vessel[vessel.row]
    kind = row.kind if row.diameter is None else None
    for each in inputs(design.project):
        more, less = each.high - each.value, each.value - each.low
        if each.part is not None:
            if shank is not None and (*each.part, each.figure) in (
                # A thread that was read goes before the length, a limit before the tailpiece.
                ("shanks", design.project.taps[tap.row].shank, "length"),
                ("shanks", None if asked else shank.id, "tailpiece_length"),
            ):
                yield more, each.says
            elif (*each.part, each.figure) == ("vessels", kind, "diameter"):
                yield more / 2, each.says
        elif each.key == design.tap_key(tap, "shank"):
            yield more, each.says
        elif each.key == "cover.thickness" and tap.cover:
            yield less, each.says
        elif each.key == f"vessel[{vessel.row + 1}].diameter":
            yield more / 2, each.says
        elif each.key in ("well.length", "well.width", "well.mouth_length", "well.mouth_width"):
            yield less / 2, each.says
        elif each.key in ("well.left", "well.front"):
            yield more, each.says


def _highest(standing: Standing, tall: float) -> float:
    return standing.problem.well.step_top + tall
