"""What the checks said, as tables: what fails or is tight, and what was not checked."""

from collections.abc import Sequence

from ...geometry.judge.evaluate import Evaluation
from ...geometry.judge.finding import Finding
from ...params.project import Project
from ..text import QUESTIONS, alike, figures, places, ways_out
from .table import Table

SAID = {"fail": "fails", "tight": "tight"}


def checked(project: Project, evaluation: Evaluation) -> list[Table]:
    """Return the tables that there is something for."""
    tables: list[Table] = []
    rows = tuple(
        _row(same, project)
        for verdict in ("fail", "tight")
        for same in alike([each for each in evaluation.findings if each.verdict == verdict])
    )
    if rows:
        tables.append(
            Table(
                name="findings",
                title="What fails or is tight",
                header=(
                    "Verdict",
                    "Check",
                    "Where",
                    "Measured, and what it must be",
                    "Why",
                    "Measure first, or change",
                ),
                rows=rows,
                notes=(
                    "Tight: it passes, but a reading or a bought part may be off by as much as"
                    " would make it fail. Measure that again before you cut.",
                ),
            )
        )
    open_rows = tuple(_open(check, same) for check, same in _by_check(evaluation))
    if open_rows:
        tables.append(
            Table(
                name="not-checked",
                title="What was not checked",
                header=("Check", "Question", "Add to the build file"),
                rows=open_rows,
                notes=("What was not checked can fail. Nobody has looked at it but you.",),
            )
        )
    return tables


def _row(same: Sequence[Finding], project: Project) -> tuple[str, ...]:
    first = same[0]
    weight = " (advice)" if first.weight == "advice" else ""
    return (
        SAID[first.verdict] + weight,
        first.check,
        places(same),
        figures(first, project.show),
        first.why,
        "; ".join(ways_out(first, project.as_built)),
    )


def _by_check(evaluation: Evaluation) -> list[tuple[str, list[Finding]]]:
    found: dict[str, list[Finding]] = {}
    for each in evaluation.findings:
        if each.verdict == "not-checked":
            found.setdefault(each.check, []).append(each)
    return list(found.items())


def _open(check: str, same: Sequence[Finding]) -> tuple[str, ...]:
    keys = dict.fromkeys(key for each in same for key in each.missing)
    why = dict.fromkeys(each.why for each in same)
    return check, QUESTIONS.get(check, ""), ", ".join(keys) or "; ".join(why)
