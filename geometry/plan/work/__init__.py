"""The order of work, from the build file: what is done after what, with which numbers and waits.

``planned`` has the steps in the order in which they are printed and numbered; steps that do not
apply are not among them. ``schedule`` lays them over days.
"""

from dataclasses import replace

from ....params.project import Project
from ...shape.layout import Layout
from . import before, bore, electric, frame, gas, later, lining, lip, liquid, saw, surface, taps
from .cautions import FIRST
from .job import Job
from .later import taking_off
from .step import After, Step

__all__ = ["FIRST", "After", "Step", "planned", "take_off"]

PHASES = (before, saw, bore, frame, surface, lining, lip, taps, gas, electric, liquid, later)
"""The phases in the order in which they are told."""


def planned(project: Project, layout: Layout) -> tuple[Step, ...]:
    """Return the steps in order: each stands behind all that have to be done before it.

    Told in the order of ``PHASES``; where a step needs one of a later phase it waits for it.
    """
    job = Job(project, layout)
    told = [step for phase in PHASES for step in phase.steps(job)]
    there = {step.id for step in told}
    found = [
        replace(step, after=tuple(each for each in step.after if each.step in there))
        for step in told
    ]
    ordered: list[Step] = []
    done: set[str] = set()
    while found:
        step = next(each for each in found if done.issuperset(a.step for a in each.after))
        found.remove(step)
        ordered.append(step)
        done.add(step.id)
    return tuple(ordered)


def take_off(project: Project, layout: Layout) -> Step:
    """Return how the collar comes off again; it has no number and no day."""
    return taking_off(Job(project, layout))
