"""The order of work, from the build file: what is done after what, with which numbers and waits.

``planned`` has the steps in the order in which they are done, printed and numbered; steps that do
not apply are not among them. ``schedule`` lays them over days.
"""

from dataclasses import replace

from ....params.project import Project
from ...shape.layout import Layout
from ..assembly import order_of
from . import (
    before,
    bore,
    electric,
    fittings,
    frame,
    gas,
    glued,
    later,
    lid,
    lining,
    lip,
    liquid,
    saw,
    surface,
    taps,
)
from .cautions import FIRST
from .job import Job
from .later import taking_off
from .schedule import USUAL_HOURS, schedule
from .step import After, Hours, Step
from .turned import turned, upside_down

__all__ = ["FIRST", "READY", "After", "Step", "planned", "take_off"]

READY = "pour"
"""The step at which the work is done: what comes later is looking after it."""

PHASES = (
    before, saw, bore, frame, glued, surface, fittings, lining, lid, lip, taps, gas, electric,
    liquid, later,
)  # fmt: skip
"""The phases in the order in which they are told."""


def planned(
    project: Project, layout: Layout, hours: float = USUAL_HOURS, *, sawn: bool = True
) -> tuple[Step, ...]:
    """Return the steps in the order of their days: each behind all that have to be done before it.

    Of two that could be begun alike the first in the order of ``PHASES`` comes first; what can be
    done while glue or finish dries comes sooner than its phase. What the assembly finds to be
    turned sooner stands in the step before which it has to be.

    Args:
        project: the build file.
        layout: its collar.
        hours: at the bench on a day.
        sawn: whether there is a cut plan with its saw list.

    Raises:
        ValueError: no day has so many hours.
    """
    order = order_of(project, layout)
    job = Job(project, layout, sawn, upside_down=upside_down(order))
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
    days = schedule(pruned(tuple(ordered)), hours)
    return turned(job, order, tuple(turn.step for turn in days))


def pruned(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Leave out what a step need not be told: what another one that it waits for makes sure of.

    Args:
        steps: each behind all that have to be done before it.
    """
    longest: dict[str, dict[str, Hours]] = {}
    found: list[Step] = []
    for step in steps:
        ways: dict[str, Hours] = {}
        kept: list[After] = []
        for each in step.after:
            others = [_through(longest, other, each.step) for other in step.after if other != each]
            if not any(way and _covers(way, each.wait) for way in others):
                kept.append(each)
        for each in step.after:
            ways[each.step] = _longer(ways.get(each.step), each.wait)
            for earlier in longest[each.step]:
                way = _through(longest, each, earlier)
                assert way is not None
                ways[earlier] = _longer(ways.get(earlier), way)
        longest[step.id] = ways
        found.append(replace(step, after=tuple(kept)))
    return tuple(found)


def _through(longest: dict[str, dict[str, Hours]], last: After, first: str) -> Hours | None:
    """Return the wait from a step on through ``last``, hours; None where no way leads through."""
    way = longest[last.step].get(first)
    return None if way is None else (way[0] + last.wait[0], way[1] + last.wait[1])


def _longer(one: Hours | None, other: Hours) -> Hours:
    return other if one is None else max(one, other, key=lambda each: each[1])


def _covers(way: Hours, wait: Hours) -> bool:
    return way[0] >= wait[0] and way[1] >= wait[1]


def take_off(project: Project, layout: Layout) -> Step:
    """Return how the collar comes off again; it has no number and no day."""
    return taking_off(Job(project, layout))
