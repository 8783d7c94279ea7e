"""The order of work of one collar with its days, and what of the call is refused."""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from ...geometry.plan.work import READY, Step, planned, take_off
from ...geometry.plan.work.schedule import (
    LEAST_HOURS,
    MOST_HOURS,
    USUAL_HOURS,
    Chain,
    Turn,
    longest_chain,
    schedule,
)
from ...geometry.shape.layout import Layout
from ...params.problem import Problem, visible
from ...params.project import Project

YEARS = (1900, 2999)
"""A year outside these is a slip."""


@dataclass(frozen=True, slots=True)
class Work:
    """The steps in order with their days; ``start`` is the date of day 1, None without dates.

    ``shortest`` is the day of the first pour if every wait and step takes its least time;
    ``fails`` is whether a *must* fails as the design stands.
    """

    project: Project
    steps: tuple[Step, ...]
    turns: tuple[Turn, ...]
    off: Step
    chain: Chain
    shortest: int
    hours: float
    start: date | None
    fails: bool = False

    def number(self, step: str) -> int:
        """Return a step's number, from 1."""
        return next(n for n, each in enumerate(self.steps, 1) if each.id == step)

    def turn(self, step: str) -> Turn:
        """Return when a step is done."""
        return next(each for each in self.turns if each.step.id == step)

    def date(self, day: int) -> date | None:
        """Return the date of a day counted from 1; None without dates."""
        return None if self.start is None else self.start + timedelta(days=day - 1)

    def day_text(self, day: int) -> str:
        """Write a day: ``day 3``, or ``day 3, Mon 2026-05-04``."""
        found = self.date(day)
        return f"day {day}" if found is None else f"day {day}, {date_text(found)}"


def date_text(day: date) -> str:
    """Write a date with its weekday: ``Mon 2026-05-04``."""
    weekday = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")[day.weekday()]
    return f"{weekday} {day.isoformat()}"


def parse_start(text: str) -> date | Problem:
    """Read a date as year-month-day, or say what is wrong with it."""
    example = "--start 2026-05-02"
    read = repr(visible(text[:40]))
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII) is None:
        wanted = "a date as year-month-day, with four, two and two digits"
        return Problem(key="--start", read=read, wanted=wanted, example=example)
    try:
        found = date.fromisoformat(text)
    except ValueError:
        wanted = "a day that is in the calendar"
        return Problem(key="--start", read=read, wanted=wanted, example=example)
    if not YEARS[0] <= found.year <= YEARS[1]:
        wanted = f"a year from {YEARS[0]} to {YEARS[1]}: anything else is taken for a slip"
        return Problem(key="--start", read=read, wanted=wanted, example=example)
    return found


def wrong_hours(hours: float) -> Problem | None:
    """Return what is wrong with so many hours at the bench on a day, None if nothing is."""
    if LEAST_HOURS <= hours <= MOST_HOURS:
        return None
    wanted = f"hours at the bench on a day, from {LEAST_HOURS:g} to {MOST_HOURS:g}"
    return Problem(key="--hours", read=f"{hours:g}", wanted=wanted, example="--hours 4")


def plan_work(
    project: Project,
    layout: Layout,
    start: date | None = None,
    hours: float = USUAL_HOURS,
    *,
    fails: bool = False,
    sawn: bool = True,
) -> Work:
    """Plan the work of one collar. Pure: the clock is not read.

    Args:
        project: the build file.
        layout: its collar.
        start: the date of day 1; None for days without dates.
        hours: at the bench on a day.
        fails: whether a *must* fails; it is said before all else.
        sawn: whether there is a cut plan with its saw list.

    Raises:
        ValueError: no day has so many hours.
    """
    steps = planned(project, layout, hours, sawn=sawn)
    until = steps[: [step.id for step in steps].index(READY) + 1]
    soon = schedule(until, hours, shortest=True)
    return Work(
        project=project,
        steps=steps,
        turns=schedule(steps, hours),
        off=take_off(project, layout),
        chain=longest_chain(until),
        shortest=next(turn.last_day for turn in soon if turn.step.id == READY),
        hours=hours,
        start=start,
        fails=fails,
    )
