"""A plan in hand made better: a few sticks are taken apart and their pieces planned anew.

The pieces of a few sticks are few enough for the table of subsets, so each part is as good as it
can be when it is put back. Which sticks are tried follows from numbers drawn with a fixed start,
never from the clock.
"""

from collections.abc import Sequence
from random import Random

from . import table
from .item import Filled, need
from .job import Job, NoPlanError, Room

PIECES = 10
"""Taken apart at a time."""
TRIES = 24
"""Parts tried in vain, one after the other, before it is left at that."""

Cost = tuple[int, int, int, int]


def cost(filled: Sequence[Filled]) -> Cost:
    """Return the aims of rooms: price, length bought, sticks bought, pieces of owned sticks."""
    shop = [room for room, _ in filled if room.owned is None]
    return (
        sum(room.price for room in shop),
        sum(room.bought for room in shop),
        len(shop),
        len(filled) - len(shop),
    )


def improve(
    job: Job,
    filled: list[Filled],
    shop: tuple[Room, ...],
    owned: tuple[Room, ...],
    enough: int,
    *,
    priced: bool,
) -> list[Filled]:
    """Return the plan after its parts were planned anew; it ends early at ``enough``.

    ``enough`` is what no plan can be below in price, or without prices in length bought.
    """
    chance = Random(1)  # noqa: S311 - no secret hangs on it
    failed = 0
    found = list(filled)
    while failed < TRIES and cost(found)[0 if priced else 1] > enough:
        waste = [room.length - need(items) for room, items in found]
        # What wastes much comes first, but not always the same.
        order = sorted(range(len(found)), key=lambda i: -waste[i] * chance.random())
        part: list[int] = []
        count = 0
        for place in order:
            if count + len(found[place][1]) <= PIECES:
                part.append(place)
                count += len(found[place][1])
        if len(part) < 2 and count == 0:
            return found
        before = [found[place] for place in part]
        used = {room for room, _ in found if room.owned is not None}
        free = tuple(room for room in owned if room not in used)[:2]
        rooms = tuple(room for room, _ in before if room.owned is not None) + free
        items = tuple(item for _, inside in before for item in inside)
        try:
            after = table.solve(job, items, shop, rooms)
        except NoPlanError:
            after = before
        if cost(after) < cost(before):
            rest = [each for place, each in enumerate(found) if place not in set(part)]
            found = [*rest, *after]
            failed = 0
        else:
            failed += 1
    return found
