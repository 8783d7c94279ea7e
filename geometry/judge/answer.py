"""Every finding with its uncertainty and its remedies: what a person is told.

``evaluate`` is the pure and quick question; this asks it many times over, and asks once what is
too slow for a loop.
"""

from dataclasses import replace

from ...params import catalogue
from ...params.project import Project
from .change import Rows
from .evaluate import Evaluation, evaluate
from .finding import worst
from .passes_if import with_passes_if
from .remedy import with_remedies
from .rescue import with_rescues
from .tolerance import with_tolerance
from .trials import Slow, Trials


def answer(project: Project, rows: Rows = catalogue.load, slow: Slow | None = None) -> Evaluation:
    """Return the evaluation with tolerances, passes-if and remedies.

    Where the project is laid out as built, what fails also has what can be done about it in the
    shop.

    Args:
        project: the design.
        rows: the catalogues that remedies may take bought parts from.
        slow: the question that is asked once; its findings come last.

    Raises:
        BuildFileError: the readings cannot be laid out at all.
    """
    found = with_tolerance(project, evaluate(project))
    if slow is not None:
        findings = (*found.findings, *slow(project, found))
        found = replace(found, findings=findings, verdict=worst(findings))
    found = with_passes_if(project, found)
    trials = Trials(project, found, rows, slow)
    found = with_remedies(trials)
    if trials.given_up:
        said = "the search for changes stopped at its limit: there may be others"
        found = replace(found, notes=(*found.notes, said))
    return with_rescues(trials, found) if project.as_built else found
