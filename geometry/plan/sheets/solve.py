"""The plan of a job: by the table where it is small enough, else by rows and the bound by area."""

from . import shelf, table
from .job import Job, NoPlanError, Plan
from .tree import laid, left_beside


def sheet_plan(job: Job) -> Plan:
    """Return the best plan found, and what is proved of it.

    Raises:
        NoPlanError: A part is larger than the sheet.
    """
    for part in job.parts:
        if not job.sheet.takes(part):
            raise NoPlanError(part)
    if not job.parts:
        return Plan((), 0, True)
    numbers: dict[table.Size, list[int]] = {}
    for number, part in enumerate(job.parts):
        size = max(part.length, part.width), min(part.length, part.width)
        numbers.setdefault(size, []).append(number)
    sizes = sorted(numbers, reverse=True)
    counts = [len(numbers[size]) for size in sizes]
    solved = table.solve(sizes, counts, job.sheet)
    nodes = solved.nodes if solved else shelf.solve(sizes, counts, job.sheet)
    waiting = [list(reversed(numbers[size])) for size in sizes]
    fullest = sorted(nodes, key=lambda node: left_beside(job.sheet, node))
    sheets = tuple(laid(job, node, waiting) for node in fullest)
    least = len(sheets) if solved else shelf.least_by_area(sizes, counts, job.sheet)
    return Plan(sheets, least, solved is not None and solved.cuts_proved)
