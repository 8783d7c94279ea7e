"""A plan with room for the saw: boards move apart where the stick has wood to spare.

A plan packs boards as if every cut could be laid against the next one. Where a stick is not full
that is a needless trouble: with some wood between two boards a square cut parts them first, and
each mitered cut then has wood on both sides of the blade.
"""

from dataclasses import replace

from .job import STEP, Cut, Job, Plan, up

ROOM = 10.0
"""Wood left between two boards beside the cut, mm, where there is enough (common practice: a
rough blank is cut a little too long)."""

MATCHED_ROOM = 3.0
"""The same where the grain is matched, mm: the pattern runs on better the less is lost."""

LEAST_ROOM = 1.0
"""With less to spare than this, mm, boards stay where they are."""


def spaced(job: Job, plan: Plan) -> Plan:
    """Return the plan with its boards moved apart; nothing that it is judged by changes.

    Where the trim at a stick's ends is less than the room, boards move away from the ends too.
    Those on a stick with flaws stay: they were placed between these.
    """
    return replace(plan, cuts=tuple(_apart(job, cut) for cut in plan.cuts))


def _apart(job: Job, cut: Cut) -> Cut:
    wanted = up(MATCHED_ROOM if job.matched else ROOM)
    ends = job.trim < wanted
    gaps = len(cut.pieces) - 1 + 2 * ends
    if not gaps or getattr(cut.stick, "flaws", ()):
        return cut
    last = cut.pieces[-1]
    spare = cut.stick.length - job.trim - last.start - job.pieces[last.piece].length
    room = min(wanted, spare // gaps)
    if room < LEAST_ROOM / STEP:
        return cut
    places = enumerate(cut.pieces, int(ends))
    moved = (replace(each, start=each.start + k * room) for k, each in places)
    return replace(cut, pieces=tuple(moved))
