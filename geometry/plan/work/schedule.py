"""The steps laid over days: who waits for what, and what sets the end.

The rules, so that a plan can be followed on paper. One bench, one step at a time. A day at the
bench begins at nine and lasts so many hours on end; waits run on by the clock, through nights. The
step that can be begun soonest is next; of several alike, the first in the plan's order. A step that
does not fit into what is left of the day is begun on the next morning; one that is longer than a
whole day begins in the morning and goes on on the next days. No wait ends earlier than its own
longest figure, and every step takes its longest time, unless the shortest are asked for. The clock
is never read.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .step import After, Step

MORNING = 9.0
"""The hour at which a day at the bench begins."""

USUAL_HOURS = 6.0
"""Hours at the bench on a day (common practice, no source)."""

LEAST_HOURS, MOST_HOURS = 0.5, 12.0

SLACK = 1e-6
"""Hours that are none: below a hundredth of a second."""


@dataclass(frozen=True, slots=True)
class Turn:
    """When a step is done, hours from the midnight before day 1.

    ``wait`` is what it waited for last, with when that was over; None where it waited for nothing.
    """

    step: Step
    begin: float
    end: float
    wait: tuple[After, float] | None = None

    @property
    def first_day(self) -> int:
        """The day on which it is begun, counted from 1."""
        return int(self.begin // 24) + 1

    @property
    def last_day(self) -> int:
        """The day on which it is done, counted from 1."""
        return int((self.end - SLACK) // 24) + 1


@dataclass(frozen=True, slots=True)
class Chain:
    """The longest chain of steps, each with the wait before it; hours by the clock, in all.

    Its hours are those of somebody who never stops for the night: no plan ends sooner.
    """

    steps: tuple[str, ...]
    bench: float
    waiting: float


def schedule(
    steps: Sequence[Step], hours: float = USUAL_HOURS, *, shortest: bool = False
) -> tuple[Turn, ...]:
    """Lay steps over days, in the order in which they are begun.

    Args:
        steps: in an order in which each stands behind what it needs.
        hours: at the bench on a day, from half an hour to 12.
        shortest: take the least time of every step and wait, in place of the most.

    Raises:
        ValueError: no day has so many hours, or a step needs one that is not there.
    """
    if not LEAST_HOURS <= hours <= MOST_HOURS:
        raise ValueError(f"hours at the bench on a day: from {LEAST_HOURS:g} to {MOST_HOURS:g}")
    end = 0 if shortest else 1
    ends: dict[str, float] = {}
    found: list[Turn] = []
    left = list(steps)
    now = MORNING
    while left:
        ready = [
            (_ready(step, ends, end), place)
            for place, step in enumerate(left)
            if all(each.step in ends for each in step.after)
        ]
        if not ready:
            raise ValueError(f"{left[0].id} needs a step that is not there")
        begin, place = min(
            (_begin(max(now, at), left[place].hands[end], hours), place) for at, place in ready
        )
        step = left.pop(place)
        now = _finish(begin, step.hands[end], hours)
        ends[step.id] = now
        waits = [(ends[each.step] + each.wait[end], each) for each in step.after if each.wait[end]]
        last = max(waits, key=lambda each: each[0], default=None)
        found.append(Turn(step, begin, now, last and (last[1], last[0])))
    return tuple(found)


def _ready(step: Step, ends: dict[str, float], end: int) -> float:
    return max((ends[each.step] + each.wait[end] for each in step.after), default=MORNING)


def _begin(at: float, takes: float, hours: float) -> float:
    """Return when a step of so many hours is begun that may be begun from ``at`` on."""
    day = math.floor((at + SLACK) / 24)
    morning = day * 24 + MORNING
    if at < morning:
        return morning
    over = morning + hours
    fits = at + takes <= over + SLACK if takes <= hours else at <= morning + SLACK
    return at if fits else morning + 24


def _finish(begin: float, takes: float, hours: float) -> float:
    """Return when a step is done; one longer than a day goes on on the next mornings."""
    if takes <= hours + SLACK:
        return begin + takes
    days = math.ceil(takes / hours - SLACK) - 1
    return begin + 24 * days + takes - days * hours


def longest_chain(steps: Sequence[Step]) -> Chain:
    """Return the chain of steps and waits that sets the end, by the longest figures.

    Of two chains alike in length the one that stands first in the plan is told.
    """
    best: dict[str, tuple[float, After | None]] = {}
    by_id = {step.id: step for step in steps}
    for step in steps:
        before = max(
            step.after,
            key=lambda each: best[each.step][0] + each.wait[1],
            default=None,
        )
        start = 0.0 if before is None else best[before.step][0] + before.wait[1]
        best[step.id] = start + step.hands[1], before
    last = max(steps, key=lambda step: best[step.id][0])
    chain: list[str] = []
    bench = waiting = 0.0
    at: str | None = last.id
    while at is not None:
        chain.append(at)
        bench += by_id[at].hands[1]
        before = best[at][1]
        waiting += 0.0 if before is None else before.wait[1]
        at = None if before is None else before.step
    return Chain(tuple(reversed(chain)), bench, waiting)
