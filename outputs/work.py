"""``work``: the order of work and its time plan, as text or as data."""

import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from ..geometry.plan.work import FIRST, READY, After, Step, planned, take_off
from ..geometry.plan.work.job import time_text
from ..geometry.plan.work.schedule import (
    LEAST_HOURS,
    MOST_HOURS,
    USUAL_HOURS,
    Chain,
    Turn,
    longest_chain,
    schedule,
)
from ..geometry.shape.layout import Layout
from ..params.problem import Problem, visible
from ..params.project import Project
from .summary import FORMAT
from .terminal import fitted

YEARS = (1900, 2999)
"""A year outside these is a slip."""


FAILS = (
    "As the build file stands a must fails: collarwright check FILE says which, and what changes"
    " it. Cut nothing, bore nothing and buy nothing for it before that is put right."
)


SIGNS = (
    "In each step: what it waits for; ! what can hurt somebody; * what to do, in order; = the"
    " numbers to hold the work against."
)


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
) -> Work:
    """Plan the work of one collar. Pure: the clock is not read.

    Args:
        project: the build file.
        layout: its collar.
        start: the date of day 1; None for days without dates.
        hours: at the bench on a day.
        fails: whether a *must* fails; it is said before all else.

    Raises:
        ValueError: no day has so many hours.
    """
    steps = planned(project, layout)
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


# --- words ----------------------------------------------------------------------------------------


def hands_text(step: Step) -> str:
    """Write how long a step takes at the bench: ``1 to 2 h``, ``30 to 90 min``."""
    low, high = (round(each * 4) / 4 or 0.25 for each in step.hands)
    return time_text((low, high))


def wait_text(each: After) -> str:
    """Write a wait: ``3 to 7 days``; empty where nothing is waited for."""
    return time_text(each.wait) if each.wait[1] else ""


def before_text(work: Work, step: Step) -> Iterator[str]:
    """Yield what has to be done before a step, then each wait."""
    plain = sorted(work.number(each.step) for each in step.after if not each.wait[1])
    if plain:
        yield f"after step{'' if len(plain) == 1 else 's'} {', '.join(map(str, plain))}"
    for each in sorted(step.after, key=lambda each: work.number(each.step)):
        if each.wait[1]:
            yield f"wait {wait_text(each)} after step {work.number(each.step)}, {each.why}"


def rules(work: Work) -> Iterator[str]:
    """Yield how the time plan was made, and what sets its end."""
    yield (
        f"Counted with {work.hours:g} h at the bench on each day, from nine on, one step at a time,"
        " every step and every wait at its longest; waits run on overnight, and no time is counted"
        " for what has to be delivered. Hours at the bench are estimates (common practice, no"
        " source). Labels of glue, finish and adhesive go before the waits here."
    )
    ready = work.turn(READY).last_day
    yield (
        f"First pour on {work.day_text(ready)}; with every step and wait at its shortest it would"
        f" be on {work.day_text(work.shortest)}."
    )
    numbers = " > ".join(str(work.number(each)) for each in work.chain.steps)
    yield (
        f"The longest chain is {numbers}: {work.chain.bench:.1f} h at the bench and"
        f" {work.chain.waiting / 24:.1f} days of waiting. It is there that a shorter wait brings"
        " the first pour nearer."
    )


def gap(work: Work, place: int) -> tuple[int, int, str] | None:
    """Return the days on which nothing is done before a turn: first, last, and what is awaited."""
    before = work.turns[place - 1].last_day if place else 0
    turn = work.turns[place]
    if turn.first_day - before < 2:
        return None
    why = turn.wait[0].why if turn.wait else ""
    return before + 1, turn.first_day - 1, why


def missing_text(step: Step) -> Iterator[str]:
    """Yield which keys a step lacks, and for which of them something usual was taken."""
    if step.missing:
        yield f"Not known, not in the build file: {', '.join(step.missing)}."
    if step.assumed:
        yield f"Usual, as the build file does not say: {', '.join(step.assumed)}."


# --- text -----------------------------------------------------------------------------------------


def work_text(work: Work) -> str:
    """Return the order of work step by step, then the time plan."""
    title = visible(work.project.title)
    lines = fitted(f"Order of work: {title}" if title else "Order of work")
    lines += ["", *fitted(FIRST)]
    if work.fails:
        lines += ["", *fitted(FAILS)]
    ready = work.day_text(work.turn(READY).last_day)
    lines += ["", *fitted(f"{len(work.steps)} steps, first pour on {ready}. {SIGNS}")]
    phase = ""
    for number, step in enumerate(work.steps, 1):
        if step.phase != phase:
            phase = step.phase
            lines += ["", phase.upper()]
        lines += ["", *_step(work, step, f"{number}.")]
    lines += ["", *_step(work, work.off, "")]
    lines += ["", "TIME PLAN", ""]
    for said in rules(work):
        lines += fitted(said)
    lines += ["", *_days(work)]
    lines += ["", "WHERE THE NUMBERS COME FROM", ""]
    for said, numbers in _sources(work).items():
        lines += fitted(f"{', '.join(map(str, numbers))}: {said}")
    return "\n".join(lines) + "\n"


def _step(work: Work, step: Step, mark: str) -> Iterator[str]:
    yield from fitted(f"{mark:3} {step.title}".strip(), "    ")
    facts = [f"{hands_text(step)} at the bench"]
    if step.people > 1:
        facts.append(f"{step.people} people")
    if mark:
        turn = work.turn(step.id)
        facts.insert(0, work.day_text(turn.first_day))
    yield from _put("; ".join(facts))
    for each in before_text(work, step):
        yield from _put(each, "  ")
    for each in step.cautions:
        yield from _put(f"! {each}", "  ")
    for each in step.do:
        yield from _put(f"* {each}", "  ")
    for name, value in step.figures:
        yield from _put(f"= {name}: {value}", "  ")
    if step.papers:
        yield from _put(f"papers: {', '.join(step.papers)}", "  ")
    for each in missing_text(step):
        yield from _put(each, "  ")


def _put(text: str, later: str = "") -> list[str]:
    return ["    " + line for line in fitted_to(text, 76, later)]


def fitted_to(text: str, width: int, later: str) -> list[str]:
    """Break a text into lines of a width."""
    return textwrap.wrap(
        text, width, subsequent_indent=later, break_long_words=False, break_on_hyphens=False
    )


def _days(work: Work) -> Iterator[str]:
    for place, turn in enumerate(work.turns):
        free = gap(work, place)
        if free is not None:
            first, last, why = free
            days = f"day {first}" if first == last else f"days {first} to {last}"
            yield from fitted(f"{days}: wait {why}".rstrip(), "  ")
        number = work.number(turn.step.id)
        until = "" if turn.last_day == turn.first_day else f", to day {turn.last_day}"
        yield from fitted(
            f"{work.day_text(turn.first_day)}{until}: {number}. {turn.step.title}", "  "
        )


def _sources(work: Work) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for number, step in enumerate(work.steps, 1):
        for each in step.sources:
            found.setdefault(each, []).append(number)
    return found


# --- data -----------------------------------------------------------------------------------------


def work_data(work: Work) -> dict[str, Any]:
    """Return the order of work as JSON-ready data; times in hours from midnight before day 1."""
    return {
        "format": FORMAT,
        "title": work.project.title,
        "first": FIRST,
        "must_fails": work.fails,
        "hours_a_day": work.hours,
        "start": None if work.start is None else work.start.isoformat(),
        "ready": {
            "day": work.turn(READY).last_day,
            "date": _iso(work, work.turn(READY).last_day),
            "shortest_day": work.shortest,
        },
        "longest_chain": {
            "steps": list(work.chain.steps),
            "bench_h": round(work.chain.bench, 3),
            "waiting_h": round(work.chain.waiting, 3),
        },
        "steps": [_step_data(work, number, step) for number, step in enumerate(work.steps, 1)],
        "days": [
            {
                "step": turn.step.id,
                "day": turn.first_day,
                "last_day": turn.last_day,
                "date": _iso(work, turn.first_day),
                "begin_h": round(turn.begin, 3),
                "end_h": round(turn.end, 3),
            }
            for turn in work.turns
        ],
        "taking_off": _step_data(work, None, work.off),
    }


def _iso(work: Work, day: int) -> str | None:
    found = work.date(day)
    return None if found is None else found.isoformat()


def _step_data(work: Work, number: int | None, step: Step) -> dict[str, Any]:
    return {
        "number": number,
        "id": step.id,
        "phase": step.phase,
        "title": step.title,
        "do": list(step.do),
        "figures": [{"name": name, "value": value} for name, value in step.figures],
        "cautions": list(step.cautions),
        "after": [
            {
                "step": each.step,
                "wait_low_h": round(each.wait[0], 3),
                "wait_high_h": round(each.wait[1], 3),
                "why": each.why,
            }
            for each in step.after
        ],
        "hands_low_h": round(step.hands[0], 2),
        "hands_high_h": round(step.hands[1], 2),
        "people": step.people,
        "papers": list(step.papers),
        "missing": list(step.missing),
        "assumed": list(step.assumed),
        "sources": list(step.sources),
    }
