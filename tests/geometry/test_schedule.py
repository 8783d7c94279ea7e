"""The steps over days: schedules worked by hand, and a clock that ticks hour by hour."""

from random import Random

import pytest
from collarwright.geometry.plan.work.schedule import longest_chain, schedule
from collarwright.geometry.plan.work.step import After, Step


def step(name: str, low: float, high: float, *after: After | str) -> Step:
    waits = tuple(each if isinstance(each, After) else After(each) for each in after)
    return Step(id=name, phase="", title=name, do=(), hands=(low, high), after=waits)


GLUE = After("b", (1, 20), "for the glue")
FOUR = (
    step("a", 1, 2),
    step("b", 2, 3, "a"),
    step("c", 1, 1, GLUE),
    step("d", 1, 1.5, "a"),
)


def test_four_steps_by_hand() -> None:
    """Days from 9 to 15. a 9 to 11, b to 14; d has 1.5 h and no room before 15: day 2 at 9.

    The glue is dry at 14 + 20 = 34, day 2 at 10, but the bench is d's until 10.30.
    """
    turns = schedule(FOUR, 6)
    assert [(t.step.id, t.begin, t.end) for t in turns] == [
        ("a", 9, 11),
        ("b", 11, 14),
        ("d", 33, 34.5),
        ("c", 34.5, 35.5),
    ]
    assert [t.first_day for t in turns] == [1, 1, 2, 2]
    assert turns[3].wait == (GLUE, 34)
    assert turns[2].wait is None


def test_the_shortest_by_hand() -> None:
    """A 9 to 10, b to 12, then d to 13 as the glue takes until 13, then c."""
    turns = schedule(FOUR, 6, shortest=True)
    assert [(t.step.id, t.begin) for t in turns] == [("a", 9), ("b", 10), ("d", 12), ("c", 13)]


def test_a_step_longer_than_a_day_begins_in_the_morning() -> None:
    """14 h at 6 h a day: all of days 2 and 3, and 2 h of day 4, until 11."""
    turns = schedule((step("a", 1, 2), step("e", 14, 14, "a"), step("f", 1, 1, "e")), 6)
    assert [(t.begin, t.end) for t in turns] == [(9, 11), (33, 83), (83, 84)]
    assert (turns[1].first_day, turns[1].last_day) == (2, 4)


def test_a_step_that_ends_with_the_day_fits() -> None:
    turns = schedule((step("a", 6, 6), step("b", 6, 6, "a")), 6)
    assert [(t.begin, t.last_day) for t in turns] == [(9, 1), (33, 2)]


def test_a_wait_runs_through_the_night() -> None:
    """Done at 10, dry 12 h later at 22: the next morning, not the one after."""
    turns = schedule((step("a", 1, 1), step("b", 1, 1, After("a", (12, 12), "to dry"))), 6)
    assert turns[1].begin == 33


def test_the_longest_chain_by_hand() -> None:
    """a 2, b 3, 20 of waiting, c 1; d hangs on a alone."""
    chain = longest_chain(FOUR)
    assert (chain.steps, chain.bench, chain.waiting) == (("a", "b", "c"), 6, 20)


@pytest.mark.parametrize("hours", [0, 0.4, 12.5, float("nan"), -1])
def test_hours_that_no_day_has(hours: float) -> None:
    with pytest.raises(ValueError, match="hours at the bench"):
        schedule(FOUR, hours)


def test_a_step_that_is_not_there() -> None:
    with pytest.raises(ValueError, match="not there"):
        schedule((step("a", 1, 1, "z"),), 6)


def _ticking(steps: list[Step], hours: int) -> dict[str, tuple[int, int]]:
    """Let a clock tick: begin whatever may be begun, the first in order, and work hour by hour."""
    found: dict[str, tuple[int, int]] = {}
    doing: tuple[Step, int, int] | None = None  # the step, when it was begun, hours left
    for now in range(24 * 400):
        at_work = 9 <= now % 24 < 9 + hours
        if not at_work:
            continue
        if doing is None:
            room = 9 + hours - now % 24
            for each in steps:
                takes = int(each.hands[1])
                begins = takes <= room or (takes > hours and now % 24 == 9)
                waited = all(
                    a.step in found and now >= found[a.step][1] + a.wait[1] for a in each.after
                )
                if each.id not in found and begins and waited:
                    doing = (each, now, takes)
                    break
        if doing is not None:
            each, begun, left = doing
            doing = (each, begun, left - 1)
            if left == 1:
                found[each.id] = (begun, now + 1)
                doing = None
        if len(found) == len(steps):
            return found
    raise AssertionError("the clock ran out")


@pytest.mark.parametrize("seed", range(60))
def test_a_ticking_clock_finds_the_same_days(seed: int) -> None:
    chance = Random(seed)
    steps: list[Step] = []
    for number in range(12):
        before = chance.sample(range(number), min(number, chance.randint(0, 2)))
        waits = [After(f"s{k}", (0, chance.choice((0, 0, 5, 24, 60))), "so") for k in before]
        takes = chance.choice((1, 1, 2, 3, 5, 7, 16))
        steps.append(step(f"s{number}", 0, takes, *waits))
    hours = chance.randint(2, 8)
    turns = {t.step.id: (t.begin, t.end) for t in schedule(steps, hours)}
    assert turns == _ticking(steps, hours)
