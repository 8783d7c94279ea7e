"""The cut plan: which method is taken, and matched grain where there are many boards."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from . import columns, table
from .flawed import lay
from .improve import cost, improve
from .item import Filled, Item, chained, run_of, singles
from .job import CORNERS, Job, NoPlanError, Plan, Room, owned_rooms, shop_rooms
from .laid import plan_of
from .measure import faults


def cut_plan(job: Job) -> Plan:
    """Return the best plan found, and what is proved of it.

    Behind a flaw narrower than a cut, how soon a board may begin hangs on whether another one ends
    before the flaw. As if none did, no plan can be better; where that one is sound it is taken.

    Raises:
        NoPlanError: A piece fits no stick, or there are not enough sticks.
    """
    if not job.pieces:
        return Plan((), 0, 0, 0, 0, True, True)
    rooms, soonest = owned_rooms(job, job.widest_cut), owned_rooms(job, 0)
    best = _plan(job, soonest)
    if rooms == soonest or not any(faults(job, best)):
        return best
    plan = _plan(job, rooms)
    first = best.first_proved and _first(job, plan) <= best.least
    return replace(
        plan,
        least=best.least,
        first_proved=first,
        proved=best.proved and _aims(plan) == _aims(best),
        runs_proved=best.runs_proved and plan.runs == best.runs,
    )


def _aims(plan: Plan) -> tuple[int, int, int, int]:
    bought = sum(cut.owned is None for cut in plan.cuts)
    return plan.runs, plan.price, plan.bought, bought


def _plan(job: Job, owned: tuple[Room, ...]) -> Plan:
    shop = shop_rooms(job)
    longest = max((room.length for room in (*shop, *owned)), default=0)
    for piece in sorted(job.pieces, key=lambda each: -each.length):
        if piece.length > longest:
            raise NoPlanError(piece, longest)
    items = singles(job)
    if _small(items, shop, owned):
        return _by_table(job, items, shop, owned)
    if not job.matched:
        return _by_columns(job, items, shop, owned)
    return _matched(job, shop, owned)


def _small(items: tuple[Item, ...], shop: tuple[Room, ...], owned: tuple[Room, ...]) -> bool:
    trials = (bool(shop) + len(owned)) << len(items)
    return len(items) <= table.MOST and trials <= table.MOST_TRIALS


def _by_table(
    job: Job, items: tuple[Item, ...], shop: tuple[Room, ...], owned: tuple[Room, ...]
) -> Plan:
    filled = table.solve(job, items, shop, owned)
    plan = plan_of(job, filled, least=0, first_proved=True, proved=True)
    return replace(plan, least=_first(job, plan))


def _first(job: Job, plan: Plan) -> int:
    """Return what a plan comes to in the first aim after the grain: price, or length bought."""
    return plan.price if _priced(job) else plan.bought


def _priced(job: Job) -> bool:
    return any(stick.price for stick in job.on_sale)


def _by_columns(
    job: Job, items: tuple[Item, ...], shop: tuple[Room, ...], owned: tuple[Room, ...]
) -> Plan:
    found = columns.solve(job, items, shop, owned, priced=_priced(job))
    filled, first, proved = found.filled, found.first_proved, found.proved
    if any(_misfits(job, *each) for each in filled):
        filled = _refilled(job, filled, shop, owned)
        filled = improve(job, filled, shop, owned, found.least, priced=_priced(job))
        first, proved = cost(filled)[0 if _priced(job) else 1] <= found.least, False
    return plan_of(job, filled, least=found.least, first_proved=first, proved=proved)


def _misfits(job: Job, room: Room, items: Sequence[Item]) -> bool:
    """Tell whether flaws keep items out of a room that has the wood for them."""
    return bool(room.flaws) and lay(job, room, items) is None


def _refilled(
    job: Job, filled: Sequence[Filled], shop: tuple[Room, ...], owned: tuple[Room, ...]
) -> list[Filled]:
    """Take out what flaws keep out, the shortest pieces first, and plan that anew.

    Columns are counted as if flaws that a board may hold were sound wood: what they prove that no
    plan is below holds, and what they cut may not go in.
    """
    kept: list[Filled] = []
    out: list[Item] = []
    for room, items in filled:
        left = sorted(items, key=lambda each: -each.span)
        while left and _misfits(job, room, left):
            out.append(left.pop())
        if left:
            kept.append((room, tuple(left)))
    used = {room for room, _ in kept}
    clear = tuple(room for room in owned if room not in used and not room.flaws)
    items = tuple(out)
    if not shop and not clear:
        raise NoPlanError(None, max(room.length for room in owned))
    if _small(items, shop, clear):
        return [*kept, *table.solve(job, items, shop, clear)]
    return [*kept, *columns.solve(job, items, shop, clear, priced=_priced(job)).filled]


def _matched(job: Job, shop: tuple[Room, ...], owned: tuple[Room, ...]) -> Plan:
    """Cut each ring into the fewest runs that fit a stick, then plan with runs as pieces.

    Where sticks are on sale, any number of them can be had, so the fewest runs of each ring do
    not hang on the others. Where each is one run, every plan with the fewest runs packs just
    these, and what is proved for them is proved. Where a ring takes more runs, there are several
    ways to break it and one is taken: the price is then held against the plan without grain.
    """
    longest = max(room.length for room in shop or owned)
    runs: list[Item] = []
    whole = True
    rings: dict[int, list[int]] = {}
    for number, piece in enumerate(job.pieces):
        if piece.ring is None:
            runs.append(run_of(job, [number]))
        else:
            rings.setdefault(piece.ring, []).append(number)
    for numbers in rings.values():
        for run in chained(job, numbers):
            parts = _broken(job, run, longest)
            whole = whole and len(parts) == 1
            runs += parts
    try:
        plan = _of_runs(job, tuple(runs), shop, owned)
    except NoPlanError:  # what fits only one owned stick each, say: piece by piece then
        whole = False
        plan = _of_runs(job, singles(job), shop, owned)
    certain = bool(shop) and all(room.length <= longest for room in owned)
    if not whole:
        free = cut_plan(replace(job, matched=False))
        least = free.least
        met = free.first_proved and _first(job, plan) <= least
        plan = replace(plan, least=least, first_proved=met, proved=False)
    return replace(plan, runs_proved=certain, proved=plan.proved and certain)


def _of_runs(
    job: Job, runs: tuple[Item, ...], shop: tuple[Room, ...], owned: tuple[Room, ...]
) -> Plan:
    return (_by_table if _small(runs, shop, owned) else _by_columns)(job, runs, shop, owned)


def _broken(job: Job, run: Item, longest: int) -> list[Item]:
    """Return a run in the fewest parts that fit; of these the one whose longest part is least."""
    if run.span <= longest:
        return [run]
    numbers = run.pieces
    count = len(numbers)
    closed = count == CORNERS
    best: tuple[tuple[int, int], list[Item]] | None = None
    for first in range(count if closed else 1):
        turned = numbers[first:] + numbers[:first]
        for breaks in range(1 << (count - 1)):
            ends = [0, *(i + 1 for i in range(count - 1) if breaks >> i & 1), count]
            parts = [run_of(job, turned[a:b]) for a, b in pairwise(ends)]
            widest = max(part.span for part in parts)
            key = (len(parts), widest)
            if widest <= longest and (best is None or key < best[0]):
                best = key, parts
    if best is None:
        raise NoPlanError(job.pieces[max(numbers, key=lambda n: job.pieces[n].length)], longest)
    return best[1]
