"""Rooms and what is cut from each, laid out along their sticks: the plan as it is told."""

from collections.abc import Iterable

from .flawed import lay
from .item import Filled, Item
from .job import Cut, Job, Placed, Plan, Room, runs_of


def _laid(job: Job, room: Room, items: tuple[Item, ...]) -> list[Placed]:
    """Lay items out in a room, longest first, the one with the widest cut last."""
    if room.flaws:
        among = lay(job, room, items)
        assert among is not None
        return among
    placed: list[Placed] = []
    last = max(items, key=lambda each: (each.kerf, -each.span))
    rest = sorted((each for each in items if each is not last), key=lambda each: -each.span)
    at = room.start
    for item in [*rest, last]:
        for number in item.pieces:
            placed.append(Placed(number, at))
            at += job.pieces[number].length + job.pieces[number].kerf
    return placed


def plan_of(
    job: Job, filled: Iterable[Filled], *, least: int, first_proved: bool, proved: bool
) -> Plan:
    """Lay items out along their sticks, and count what they come to."""
    cuts: list[Cut] = []
    of_owned: dict[int, list[Placed]] = {}
    runs = 0
    for room, items in filled:
        placed = _laid(job, room, items)
        runs += runs_of([(job.pieces[each.piece], each.turned) for each in placed])
        if room.owned is not None:
            of_owned.setdefault(room.owned, []).extend(placed)
            continue
        stick = next(
            each for each in job.on_sale if (each.length, each.price) == (room.bought, room.price)
        )
        cuts.append(Cut(stick, tuple(placed)))
    cuts.sort(key=lambda cut: (-cut.stick.length, [each.piece for each in cut.pieces]))
    used = [
        Cut(job.owned[number], tuple(sorted(placed, key=lambda each: each.start)), number)
        for number, placed in sorted(of_owned.items())
    ]
    bought = [cut.stick for cut in cuts]
    return Plan(
        cuts=(*used, *cuts),
        runs=runs if job.matched else 0,
        price=sum(getattr(stick, "price", 0) for stick in bought),
        bought=sum(stick.length for stick in bought),
        least=least,
        first_proved=first_proved,
        proved=proved,
    )
