"""A plan measured again: knows the job and the plan, and nothing of how it was found."""

from collections.abc import Iterator

from .job import Flaw, Job, Owned, Placed, Plan, runs_of


def faults(job: Job, plan: Plan) -> Iterator[str]:
    """Yield a sentence for everything that is wrong with a plan; nothing for a good one."""
    seen = sorted(each.piece for cut in plan.cuts for each in cut.pieces)
    if seen != list(range(len(job.pieces))):
        yield "not every piece is cut once"
    owned = [cut.owned for cut in plan.cuts if cut.owned is not None]
    if len(owned) != len(set(owned)):
        yield "an owned stick is used twice"
    price = bought = runs = 0
    for place, cut in enumerate(plan.cuts, 1):
        stick = cut.stick
        if isinstance(stick, Owned):
            if cut.owned is None or job.owned[cut.owned] != stick:
                yield f"stick {place} is not there"
        elif cut.owned is not None or stick not in job.on_sale:
            yield f"stick {place} is not on sale"
        else:
            price, bought = price + stick.price, bought + stick.length
        flaws = stick.flaws if isinstance(stick, Owned) else ()
        clear = job.trim
        for placed in cut.pieces:
            piece, start = job.pieces[placed.piece], placed.start
            end = start + piece.length
            if start < clear:
                yield f"stick {place}: {piece.name} begins in the cut or the trim before it"
            if end > stick.length - job.trim:
                yield f"stick {place}: {piece.name} ends beyond the stick"
            for flaw in flaws:
                if start < flaw.end and flaw.start < end:
                    yield from _hurt(job, placed, flaw, f"stick {place}: {piece.name}")
            clear = end + piece.cut_behind(placed.turned)
        runs += _runs(job, cut.pieces, flaws)
    for what, told, found in (
        ("price", plan.price, price),
        ("length bought", plan.bought, bought),
        ("number of runs", plan.runs, runs if job.matched else 0),
    ):
        if told != found:
            yield f"the {what} is {found}, not {told}"


def _hurt(job: Job, placed: Placed, flaw: Flaw, who: str) -> Iterator[str]:
    """Yield what a flaw hurts in a piece that it lies in."""
    piece = job.pieces[placed.piece]
    if flaw.low is None or flaw.high is None or job.matched:
        yield f"{who} lies on a flaw"
        return
    if flaw.low <= 0 or flaw.high >= job.width:
        yield f"{who} has a flaw in its edge"
    # The flaw as the board's own drawing would show it, turned with the board.
    ends = sorted(
        piece.length - (at - placed.start) if placed.turned else at - placed.start
        for at in (flaw.start, flaw.end)
    )
    heights = sorted(job.width - at if placed.turned else at for at in (flaw.low, flaw.high))
    for need in piece.sound:
        beside = ends[1] <= need.left or need.right <= ends[0]
        above = heights[1] <= need.low or need.high <= heights[0]
        if not beside and not above:
            yield f"{who} has a flaw in its {need.what}"


def _runs(job: Job, placed: tuple[Placed, ...], flaws: tuple[Flaw, ...]) -> int:
    """Count the runs of grain on a stick; a flaw between two boards ends a run."""
    stretches: list[list[Placed]] = []
    for each in placed:
        before = stretches[-1][-1] if stretches else None
        if before is None or any(
            before.start + job.pieces[before.piece].length <= flaw.start < each.start
            for flaw in flaws
        ):
            stretches.append([])
        stretches[-1].append(each)
    return sum(
        runs_of([(job.pieces[each.piece], each.turned) for each in stretch])
        for stretch in stretches
    )
