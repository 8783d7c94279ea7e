"""``evaluate(project)``: the layout and every finding, pure and about a millisecond.

Tolerance, remedies and search are loops over this function, so no check handles uncertainty
by itself.
"""

from dataclasses import dataclass

from ...params.project import Project
from ..shape.layout import Layout, lay_out
from .checks import CHECKS
from .design import Design
from .finding import Finding, Verdict, worst


@dataclass(frozen=True, slots=True)
class Evaluation:
    """A layout with what the checks say about it; ``verdict`` is the worst *must*."""

    layout: Layout
    findings: tuple[Finding, ...]
    verdict: Verdict


def evaluate(project: Project) -> Evaluation:
    """Lay the project out and ask every check about it.

    Raises:
        BuildFileError: the readings cannot be laid out at all.
    """
    layout = lay_out(project)
    design = Design(project, layout)
    findings = tuple(finding for _, find in CHECKS for finding in find(design))
    return Evaluation(layout, findings, worst(findings))


def not_drawn(project: Project) -> tuple[str, ...]:
    """Name what the build file asks for and the model, cut files and templates do not show yet."""
    notes: list[str] = []
    if project.cover is not None:
        notes.append("[cover]: counted as wall behind the flange; its own boards are not drawn yet")
    if project.board.corner != "glue":
        notes.append(
            f'board.corner = "{project.board.corner}": the boards are drawn for glue alone;'
            " cut the corner's slots by your own marks"
        )
    if project.keep_out:
        notes.append("[[keep_out]]: only the faucet wrench is kept out of these places yet")
    return tuple(notes)
