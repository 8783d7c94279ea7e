"""Failures as they stand on every sheet that is written despite them."""

from collections.abc import Iterable

from ..geometry.judge.finding import Finding
from ..params.project import Project
from .text import alike, figures, places


def in_print(project: Project, failures: Iterable[Finding]) -> tuple[str, ...]:
    """Return one line for each check that fails, to stand on every sheet.

    So many lines are so many checks, which is what the sheets' heading counts; places with other
    figures follow one another in their check's line.
    """
    lines: dict[str, list[str]] = {}
    for same in alike(failures):
        where, said = places(same), figures(same[0], project.show)
        lines.setdefault(same[0].check, []).append(
            ": ".join(each for each in (where, said) if each)
        )
    return tuple(f"FAILS {check}, {'; '.join(said)}" for check, said in lines.items())
