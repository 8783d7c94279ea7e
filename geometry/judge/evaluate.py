"""``evaluate(project)``: the layout and every finding, pure and about a millisecond.

Tolerance, remedies and search are loops over this function, so no check handles uncertainty
by itself.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from ...params.project import Project
from ...params.units import both_text
from ..plan.assembly import remarks as blocked
from ..shape.built import remarks as gaps
from ..shape.compared import remarks as made_otherwise
from ..shape.contour import outlines
from ..shape.cover import body_in_the_way
from ..shape.layout import Layout, lay_out
from ..shape.set_outs import remarks as set_outs
from ..shape.thin_wood import remarks as thin_wood
from .checks import CHECKS
from .design import Design
from .finding import Finding, Verdict, worst
from .ring import remarks as of_ring


@dataclass(frozen=True, slots=True)
class Evaluation:
    """A layout with what the checks say about it; ``verdict`` is the worst *must*.

    ``measure_again`` names the reading or part that is most worth measuring again; None where
    nothing hangs by one, or nobody asked (``tolerance``). ``notes`` say what was too much work
    to be worked out.
    """

    layout: Layout
    findings: tuple[Finding, ...]
    verdict: Verdict
    measure_again: str | None = None
    notes: tuple[str, ...] = ()


def evaluate(project: Project) -> Evaluation:
    """Lay the project out and ask every check about it.

    Raises:
        BuildFileError: the readings cannot be laid out at all.
    """
    layout = lay_out(project)
    design = Design(project, layout)
    findings: list[Finding] = []
    for _, find in CHECKS:
        findings += find(design)
    return Evaluation(layout, tuple(findings), worst(findings))


EVERY = frozenset(check.id for check, _ in CHECKS)
"""Every check that is asked in a loop; findings of any other are the slow question's."""


def load(evaluation: Evaluation) -> int:
    """Return how much work it is to judge a design once, in findings of a usual one.

    Taps are compared with each other, so that a long row costs more for each finding.
    """
    return round(len(evaluation.findings) * max(1.0, len(evaluation.layout.taps) / 12))


def laid_out(project: Project) -> Design:
    """Return what the checks look at, for loops that ask a few of them first.

    Raises:
        BuildFileError: the readings cannot be laid out at all.
    """
    return Design(project, lay_out(project))


def asked(design: Design, checks: Collection[str]) -> Iterator[Finding]:
    """Yield what some checks say, in the order of the report."""
    for check, find in CHECKS:
        if check.id in checks:
            yield from find(design)


def remarks(project: Project, layout: Layout) -> tuple[str, ...]:
    """Name what is cut in a way nobody may expect, and what is not judged yet."""
    notes = [
        f"foam-{panel.side} falls into {pieces} pieces"
        if pieces
        else f"nothing is left of foam-{panel.side}: no cut file is made"
        for panel in layout.panels
        if (pieces := len(outlines(panel.length, panel.width, panel.holes).outer)) != 1
    ]
    if layout.frame.dry is not None:
        thickness = layout.boards[0].thickness
        notes += gaps(layout.frame.dry, thickness, lambda mm: both_text(mm, project.show))
    notes += set_outs(project, layout.boards)
    notes += thin_wood(project, layout.boards)
    if layout.undrilled:
        notes.append(f"not drilled, beyond the wood: {', '.join(layout.undrilled)}")
    notes += made_otherwise(project, layout)
    notes += body_in_the_way(project, layout.covers)
    notes += of_ring(project, layout)
    notes += blocked(project, layout)
    return tuple(notes)
