"""A plan measured again: its cuts are made one by one, without knowing how they were found."""

from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from .job import Job, Plan, Rect, SheetPlan


def faults(job: Job, plan: Plan) -> Iterator[str]:
    """Yield a sentence for everything that is wrong with a plan; nothing for a good one."""
    seen = sorted(placed.part for sheet in plan.sheets for placed in sheet.parts)
    if seen != list(range(len(job.parts))):
        yield "not every part is cut once"
    if plan.least > len(plan.sheets):
        yield f"{len(plan.sheets)} sheets are fewer than the {plan.least} that are needed"
    for number, sheet in enumerate(plan.sheets, 1):
        for fault in (*_places(job, sheet), *_cuts(job, sheet)):
            yield f"sheet {number}: {fault}"


def _places(job: Job, sheet: SheetPlan) -> Iterator[str]:
    for placed in sheet.parts:
        if placed.part not in range(len(job.parts)):
            continue
        part, rect = job.parts[placed.part], placed.rect
        size = (part.width, part.length) if placed.turned else (part.length, part.width)
        if (rect.length, rect.width) != size:
            yield f"{part.name} is not of its size"
        if (
            min(rect.x, rect.y) < 0
            or rect.x + rect.length > job.sheet.length
            or rect.y + rect.width > job.sheet.width
        ):
            yield f"{part.name} lies beyond the sheet"
    for one, other in combinations(sheet.parts, 2):
        if _overlap(one.rect, other.rect):
            yield f"parts {one.part} and {other.part} overlap"


def _overlap(one: Rect, other: Rect) -> bool:
    return (
        one.x < other.x + other.length
        and other.x < one.x + one.length
        and one.y < other.y + other.width
        and other.y < one.y + one.width
    )


def _cuts(job: Job, sheet: SheetPlan) -> Iterator[str]:
    """Cut the sheet: each cut needs its piece, and what is there at the end has to be the plan."""
    there = Counter([Rect(0, 0, job.sheet.length, job.sheet.width)])
    for number, cut in enumerate(sheet.cuts, 1):
        if not there[cut.before]:
            yield f"cut {number}: the piece is not there"
            return
        if not 0 < cut.at < (cut.before.length if cut.way == "across" else cut.before.width):
            yield f"cut {number} misses its piece"
            return
        there[cut.before] -= 1
        there.update(cut.after)
    wanted = Counter([*(placed.rect for placed in sheet.parts), *sheet.left])
    if +there != wanted:
        yield "the cuts do not leave the parts and the rest"
