"""A plan with room for the saw: boards move apart where the stick has wood to spare.

A plan packs boards as if every cut could be laid against the next one. Where a stick is not full
that is a needless trouble: with some wood between two boards a square cut parts them first, and
each mitered cut then has wood on both sides of the blade.
"""

from collections.abc import Sequence
from dataclasses import replace

from .flawed import NEVER, starts
from .job import Cut, Flaw, Job, Placed, Plan, Room, owned_rooms, up

ROOM = 10.0
"""Wood left between two boards beside the cut, and between a board and a flaw, mm, where there is
enough (common practice: a rough blank is cut a little too long, and grain runs askew about a
knot)."""

MATCHED_ROOM = 3.0
"""The same where the grain is matched, mm: the pattern runs on better the less is lost."""

LEAST_ROOM = 1.0
"""With less to spare than this, mm, boards stay where they are."""


def spaced(job: Job, plan: Plan) -> Plan:
    """Return the plan with its boards moved apart; nothing that it is judged by changes.

    Where the trim at a stick's ends is less than the room, boards move away from the ends too. On
    a stick with flaws they keep as far from these, and move to the right alone.
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
    if room < up(LEAST_ROOM):
        return cut
    places = enumerate(cut.pieces, int(ends))
    moved = (replace(each, start=each.start + k * room) for k, each in places)
    return replace(cut, pieces=tuple(moved))


def _among_flaws(job: Job, cut: Cut, wanted: int) -> Cut:
    """Move boards apart in each stretch of clear wood, as far as all in it can, by whole mm.

    The stretches are gone through from the right, so that the cut behind the last board of each
    can be kept off the first one of the next. Where flaws leave no room beside them, room between
    boards is found alone.
    """
    steps = range(wanted, up(LEAST_ROOM) - 1, -up(1.0))
    ways = [*((each, each) for each in steps), *((each, 0) for each in steps)]
    found: list[Placed] = []
    for room in reversed([each for each in owned_rooms(job, 0) if each.owned == cut.owned]):
        pieces = [each for each in cut.pieces if room.start <= each.start < room.end]
        tried = (_moved(job, _kept_off(cut, room, off), pieces, apart) for apart, off in ways)
        clear = found[0].start if found else NEVER
        fits = (each for each in tried if each and _behind(job, each[-1]) <= clear)
        found = [*next(fits, pieces), *found]
    return replace(cut, pieces=tuple(found))


def _kept_off(cut: Cut, room: Room, off: int) -> Room:
    """Return what is left of clear wood so far from flaws and from the ends of its stick."""
    flaws: tuple[Flaw, ...] = getattr(cut.stick, "flaws", ())
    before = (flaw.end + off for flaw in flaws if flaw.end <= room.start)
    behind = (flaw.start - off for flaw in flaws if flaw.start >= room.end)
    return replace(
        room,
        start=max(room.start, off, *before),
        end=min(room.end, cut.stick.length - off, *behind),
        flaws=tuple(
            Flaw(flaw.start - off, flaw.end + off, (flaw.low or 0) - off, (flaw.high or 0) + off)
            for flaw in room.flaws
        ),
    )


def _behind(job: Job, placed: Placed) -> int:
    """Return where the cut behind a board ends."""
    piece = job.pieces[placed.piece]
    return placed.start + piece.length + piece.cut_behind(placed.turned)


def _moved(job: Job, room: Room, pieces: Sequence[Placed], apart: int) -> list[Placed]:
    """Return boards moved to the right until so much is between them; none where it cannot be."""
    found: list[Placed] = []
    for each in pieces:
        clear = max(each.start, _behind(job, found[-1]) + apart) if found else each.start
        stretches = starts(job, job.pieces[each.piece], room, turned=each.turned)
        at = next((max(first, clear) for first, last in stretches if clear <= last), None)
        if at is None:
            return []
        found.append(replace(each, start=at))
    return found
