"""The barest build file that several tests of plans add their tables to: 940 by 530 mm, one tap."""

from pathlib import Path

from collarwright.geometry.plan.work import planned
from collarwright.geometry.plan.work.step import Step
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import Project
from collarwright.params.reading import draft

COLLAR = """show = "mm"
[lip]
front = "940 mm"
right = "530 mm"
back = "940 mm"
left = "530 mm"
[board]
thickness = "20 mm"
width = "140 mm"
[taps]
count = 1
bore = "25 mm"
"""


def project(text: str) -> Project:
    """The project of a build file that has to be read without a problem."""
    found = draft(Path("a.toml"), text.encode())
    assert found.project is not None, found.problems
    return found.project


def steps_of(text: str) -> dict[str, Step]:
    """The steps of a build file's work by their ids."""
    found = project(text)
    return {step.id: step for step in planned(found, lay_out(found))}
