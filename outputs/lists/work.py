"""The order of work as two lists: the steps with what they wait for, and the plan of days."""

from ..work import (
    Work,
    before_text,
    date_text,
    gap,
    hands_text,
    missing_text,
    rules,
)
from .table import Table


def work_lists(work: Work) -> list[Table]:
    """Return the tables ``work`` and ``time-plan``; the steps' own sentences are in the book."""
    return [_steps(work), _days(work)]


def _day(work: Work, first: int, last: int) -> tuple[str, ...]:
    """Return the cells of a span of days: its numbers, and its dates where there are any."""
    days = f"{first}" if first == last else f"{first} to {last}"
    if work.start is None:
        return (days,)
    dates = [work.date(day) for day in dict.fromkeys((first, last))]
    return days, " to ".join(date_text(each) for each in dates if each is not None)


def _header(work: Work) -> tuple[str, ...]:
    return ("Day",) if work.start is None else ("Day", "Date")


def _steps(work: Work) -> Table:
    rows: list[tuple[str, ...]] = []
    for number, step in enumerate(work.steps, 1):
        turn = work.turn(step.id)
        rows.append(
            (
                f"{number}",
                step.title,
                "; ".join(before_text(work, step)),
                hands_text(step),
                f"{step.people}",
                *_day(work, turn.first_day, turn.last_day),
                " ".join(missing_text(step)),
            )
        )
    header = ("Step", "What", "Before it", "At the bench", "People", *_header(work), "Not measured")
    return Table(
        name="work",
        title="Order of work",
        header=header,
        rows=tuple(rows),
        right=frozenset({0, 4, 5}),
        notes=(
            "Waits are the glue's, the finish's and the adhesive's of the catalogs, from least to"
            " most; the label goes first.",
        ),
    )


def _days(work: Work) -> Table:
    rows: list[tuple[str, ...]] = []
    for place, turn in enumerate(work.turns):
        free = gap(work, place)
        if free is not None:
            first, last, why = free
            rows.append((*_day(work, first, last), "", f"wait {why}".rstrip(), ""))
        number = work.number(turn.step.id)
        hours = f"{turn.step.hands[1]:.1f} h"
        days = _day(work, turn.first_day, turn.last_day)
        rows.append((*days, f"{number}", turn.step.title, hours))
    columns = len(_header(work))
    return Table(
        name="time-plan",
        title="Time plan",
        header=(*_header(work), "Step", "What", "At the bench"),
        rows=tuple(rows),
        right=frozenset({0, columns, columns + 2}),
        notes=tuple(rules(work)),
    )
