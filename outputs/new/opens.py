"""Which checks wait for which key: asked of the checks themselves, with an example that has all."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from ...geometry.judge.evaluate import evaluate
from ...params.problem import BuildFileError
from ...params.project import SIDES, Project, Table
from ...params.reading import draft
from ...params.starter import QUESTIONS, build_text
from .doubts import DIAGONALS

_HANGING = {"lid.skirt": "1/2 in", "lid.skirt_thickness": "1/8 in", "lid.overhang": "3/4 in"}
"""In place of the examples: a rim that hangs, so that what it opens is seen."""

_MEASURED = "taps.thread"
"""Left out of the examples: a thread that was measured answers for the shank's."""


@cache
def opens() -> Mapping[str, tuple[str, ...]]:
    """Return, for each key that is asked for, the ids of the checks that stay open without it."""
    answers = {each.key: each.example for each in QUESTIONS if each.key != _MEASURED} | _HANGING
    project = draft(Path("example.toml"), build_text(answers).encode()).project
    if project is None:  # the examples are tested: this does not happen
        return {}
    return {each.key: _waiting(project, each.key) for each in QUESTIONS if not each.needed}


def _waiting(project: Project, key: str) -> tuple[str, ...]:
    """Return the checks that name a key when it alone is taken out of a project.

    The first diagonal is taken out with the second one: whoever skips it has none yet.
    """
    table, _, name = key.rpartition(".")
    here: Any = getattr(project, table, None) if table else None
    if table == "taps":
        here = here[0]
    if not isinstance(here, Table):
        return ()
    names = [each.rpartition(".")[2] for each in DIAGONALS] if key == DIAGONALS[0] else [name]
    fields = type(here).model_fields
    less = here.model_copy(update={each: fields[each].get_default() for each in names})
    change: Any = {table: (less,) if table == "taps" else less}
    try:
        findings = evaluate(replace(project, **change)).findings
    except (BuildFileError, ArithmeticError, TypeError, AssertionError):
        return ()
    sided = {key, *(f"{key}.{side}" for side in SIDES)}
    waiting = [each for each in findings if each.verdict == "not-checked"]
    return tuple(dict.fromkeys(each.check for each in waiting if sided & set(each.missing)))
