"""A plan with room for the saw: boards move apart where the stick has wood to spare.

A plan packs boards as if every cut could be laid against the next one. Where a stick is not full
that is a needless trouble: with some wood between two boards a square cut parts them first, and
each mitered cut then has wood on both sides of the blade.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from .flawed import starts
from .job import STEP, Cut, Job, Placed, Plan, Room, owned_rooms, up

ROOM = 10.0
"""Wood left between two boards beside the cut, mm, where there is enough (common practice: a
rough blank is cut a little too long)."""

MATCHED_ROOM = 3.0
"""The same where the grain is matched, mm: the pattern runs on better the less is lost."""

LEAST_ROOM = 1.0
"""With less to spare than this, mm, boards stay where they are."""


def spaced(job: Job, plan: Plan) -> Plan:
    """Return the plan with its boards moved apart; nothing that it is judged by changes.

    Where the trim at a stick's ends is less than the room, boards move away from the ends too. On
    a stick with flaws they move to the right alone, and only to where they stay clear of these.
    """
    return replace(plan, cuts=tuple(_apart(job, cut) for cut in plan.cuts))


def _apart(job: Job, cut: Cut) -> Cut:
    wanted = up(MATCHED_ROOM if job.matched else ROOM)
    if getattr(cut.stick, "flaws", ()):
        return _among_flaws(job, cut, wanted)
    ends = job.trim < wanted
    gaps = len(cut.pieces) - 1 + 2 * ends
    if not gaps:
        return cut
    last = cut.pieces[-1]
    spare = cut.stick.length - job.trim - last.start - job.pieces[last.piece].length
    room = min(wanted, spare // gaps)
    if room < LEAST_ROOM / STEP:
        return cut
    places = enumerate(cut.pieces, int(ends))
    moved = (replace(each, start=each.start + k * room) for k, each in places)
    return replace(cut, pieces=tuple(moved))


def _among_flaws(job: Job, cut: Cut, wanted: int) -> Cut:
    """Move boards apart in each stretch of clear wood, as far as all in it can, by whole mm."""
    rooms = [room for room in owned_rooms(job, 0) if room.owned == cut.owned]
    within = [
        [each for each in cut.pieces if room.start <= each.start < room.end] for room in rooms
    ]
    ends = [each[0].start for each in within if each] + [cut.stick.length]
    found: list[Placed] = []
    for room, pieces in zip(rooms, within, strict=True):
        behind = next(end for end in ends if not pieces or end > pieces[-1].start)
        for between in range(wanted, up(LEAST_ROOM) - 1, -up(1.0)):
            moved = _moved(job, room, pieces, between)
            if moved and (behind == cut.stick.length or _behind(job, moved[-1]) <= behind):
                pieces = moved
                break
        found += pieces
    return replace(cut, pieces=tuple(found))


def _behind(job: Job, placed: Placed) -> int:
    """Return where the cut behind a board ends."""
    piece = job.pieces[placed.piece]
    return placed.start + piece.length + piece.cut_behind(placed.turned)


def _moved(job: Job, room: Room, pieces: Sequence[Placed], between: int) -> list[Placed]:
    """Return boards moved to the right until so much is between them; none where it cannot be."""
    found = list(pieces[:1])
    for _, each in pairwise(pieces):
        clear = max(each.start, _behind(job, found[-1]) + between)
        stretches = starts(job, job.pieces[each.piece], room, turned=each.turned)
        at = next((max(first, clear) for first, last in stretches if clear <= last), None)
        if at is None:
            return []
        found.append(replace(each, start=at))
    return found
