"""The order of work in words: step by step, then the plan of days and where numbers come from."""

import textwrap
from collections.abc import Iterator

from ...geometry.plan.work import FIRST, READY, After, Step
from ...geometry.plan.work.job import time_text
from ...params.problem import visible
from ...params.project import SIDES
from ..terminal import fitted
from .planned import Work

FAILS = (
    "As the build file stands a must fails: collarwright check FILE says which, and what changes"
    " it. Cut nothing, bore nothing and buy nothing for it before that is put right."
)


SIGNS = (
    "In each step: what it waits for; ! what can hurt somebody; * what to do, in order; = the"
    " numbers to hold the work against."
)


def begun_text(work: Work) -> str:
    """Say where to go on with a collar whose boards are cut already; empty before that."""
    built = work.project.built
    if built is None or not any(getattr(built, side) for side in SIDES):
        return ""
    return (
        f"The boards are cut, as [built] has it: go on at step {work.number('dry-fit')}, and of the"
        " steps before it do what is still open. Numbers here are the drawn ones; collarwright"
        " check FILE --built judges what was made."
    )


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
    yield (
        "Steps are numbered in the order of this plan: what can be done while something dries comes"
        " then. With other hours a day the order can change."
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


def work_text(work: Work) -> str:
    """Return the order of work step by step, then the time plan."""
    title = visible(work.project.title)
    lines = fitted(f"Order of work: {title}" if title else "Order of work")
    lines += ["", *fitted(FIRST)]
    if work.fails:
        lines += ["", *fitted(FAILS)]
    if begun := begun_text(work):
        lines += ["", *fitted(begun)]
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
    return ["    " + line for line in _wrapped(text, 76, later)]


def _wrapped(text: str, width: int, later: str) -> list[str]:
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
