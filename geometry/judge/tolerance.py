"""How far each margin can move because of what is not exactly known, and what decides it.

The evaluation is repeated with each input moved down and up; what takes away from a margin is
combined as a root sum of squares, which is what independent errors do (JCGM 100:2008, Guide to
the expression of uncertainty in measurement, eq. 10, with limits of error in place of standard
uncertainties). An input that cannot move both ways without breaking the design moves one way.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ...params.problem import BuildFileError
from ...params.project import Project
from .change import changed
from .evaluate import Evaluation, evaluate
from .finding import Finding, judge, worst
from .inputs import Input, inputs

Place = tuple[str, object, int]
"""A finding's identity in any evaluation of one design: check, where, and which of several."""


def places(findings: Iterable[Finding]) -> dict[Place, Finding]:
    """Return findings by their identity, in their order."""
    found: dict[Place, Finding] = {}
    for each in findings:
        number = 0
        while (each.check, each.where, number) in found:
            number += 1
        found[each.check, each.where, number] = each
    return found


@dataclass(frozen=True, slots=True)
class Effect:
    """What one input can take away from one margin, in the margin's unit."""

    input: Input
    loss: float


def _as_cut(project: Project, base: Evaluation) -> Project:
    """Return the project with what the program chose written out.

    The pocket is cut at the size that the layout took, whatever nut is in the parcel; a default
    that moved with the uncertain figure would hide the uncertainty.
    """
    foam = project.foam
    pocket = next((tap.pocket for tap in base.layout.taps if tap.pocket), None)
    if foam is None or foam.pocket is not None or pocket is None:
        return project
    circles = {tap.pocket for tap in base.layout.taps if tap.pocket is not None}
    if len(circles) > 1:  # rows with different nuts: the file has one key for all of them
        return project
    return changed(project, {"foam.pocket": pocket})


def effects(project: Project, base: Evaluation) -> dict[Place, list[Effect]]:
    """Return, for each finding with a margin, what each input can take away from it."""
    known = places(base.findings)
    project_as_cut = _as_cut(project, base)
    found: dict[Place, list[Effect]] = {
        place: [] for place, each in known.items() if each.margin is not None
    }
    for each in inputs(project):
        lowest: dict[Place, float] = {}
        for value in (each.low, each.high):
            if value == each.value:
                continue
            try:
                moved = evaluate(each.moved(project_as_cut, value))
            except BuildFileError:
                continue
            for place, finding in places(moved.findings).items():
                if finding.margin is not None:
                    lowest[place] = min(lowest.get(place, math.inf), finding.margin)
        for place, low in lowest.items():
            margin = known[place].margin if place in known else None
            if margin is not None and low < margin:
                found[place].append(Effect(each, margin - low))
    return found


MOST_WORK = 200_000
"""Findings that are judged anew for tolerances: two or three seconds. A cabinet of 24 taps with
everything measured needs half of it; what needs more is a file that tries how much is accepted."""


def with_tolerance(project: Project, base: Evaluation) -> Evaluation:
    """Return the evaluation with each margin's tolerance, what decides it, and new verdicts.

    A design with so many readings, parts and findings that the loop would take long gets none,
    and a note that says so.
    """
    work = 2 * len(inputs(project)) * len(base.findings)
    if work > MOST_WORK:
        said = (
            "tolerances were not worked out: the file has too many readings and parts for"
            f" {len(base.findings)} findings"
        )
        return replace(base, notes=(*base.notes, said))
    found = effects(project, base)
    findings: list[Finding] = []
    for place, finding in places(base.findings).items():
        if finding.margin is None:
            findings.append(finding)
            continue
        losses = found[place]
        tolerance = math.sqrt(sum(each.loss**2 for each in losses))
        largest = max(losses, key=lambda each: each.loss, default=None)
        findings.append(
            replace(
                finding,
                tolerance=tolerance,
                decided_by=largest.input.says if largest else None,
                verdict=judge(finding.margin, tolerance),
            )
        )
    return replace(
        base,
        findings=tuple(findings),
        verdict=worst(findings),
        measure_again=_measure_again(findings, found),
    )


def _measure_again(findings: list[Finding], found: dict[Place, list[Effect]]) -> str | None:
    """Name the one input that is most worth knowing better.

    It is asked of the *must* findings that hang by it: those that are tight, and those that
    fail by less than their tolerance.
    """
    shares: dict[str, float] = {}
    for place, finding in places(findings).items():
        if finding.weight != "must" or finding.margin is None or not finding.tolerance:
            continue
        if abs(finding.margin) >= finding.tolerance:
            continue
        for each in found[place]:
            says = each.input.says
            shares[says] = shares.get(says, 0.0) + (each.loss / finding.tolerance) ** 2
    return max(shares, key=lambda says: shares[says], default=None)
