"""What stands on every page of the book, and the room that is left for the text."""

from collections.abc import Iterator

from ...drawings.frame import MOST_FAILURES
from ...paper.dims import HEAVY, THIN, font_size
from ...paper.marks import Mark, Words, line, rectangle
from ...paper.pdf import fitted, text_width
from .blocks import Job

LEFT, RIGHT, TOP, BOTTOM = 22.0, 14.0, 14.0, 21.0
"""From the paper's edges to the text, mm: holes are punched at the left (ISO 838 has them 12 mm
in, from memory), printers reach to 4.2 or 6.4 mm (common practice)."""

FOOT = 12.0
"""From the paper's lower edge to the foot's line of text, mm."""

SMALL = font_size(1.9)
PITCH = 4.0


def failures_height(job: Job) -> float:
    """Return what the failures' frame takes at the top of a page, mm."""
    return 10.0 + PITCH * min(len(job.warnings), MOST_FAILURES) if job.warnings else 0.0


def text_room(job: Job) -> tuple[float, float, float, float]:
    """Return where the text is: left, bottom, width, height, mm."""
    wide = job.width - LEFT - RIGHT
    high = job.height - TOP - BOTTOM - failures_height(job)
    return LEFT, BOTTOM, wide, high


def furniture(job: Job, number: int, count: int) -> Iterator[Mark]:
    """Yield a page's foot and, where a *must* fails, the failures."""
    right = job.width - RIGHT
    yield line(LEFT, FOOT + 5.0, right, FOOT + 5.0, THIN)
    said = f"page {number} of {count}"
    yield Words(right, FOOT, SMALL, said, "end")
    made = f"build file {job.sha256[:12]}, collarwright {job.version}"
    middle = right - text_width(said, SMALL) - 6.0
    yield Words(middle, FOOT, SMALL, made, "end", gray=0.35)
    room = middle - text_width(made, SMALL) - 6.0 - LEFT
    yield Words(LEFT, FOOT, SMALL, fitted(job.title or "without a title", SMALL, room))
    if job.warnings:
        yield from _failures(job)


def _failures(job: Job) -> Iterator[Mark]:
    wide, high = job.width - LEFT - RIGHT, failures_height(job) - 3.0
    low = job.height - TOP - high
    yield rectangle(LEFT, low, wide, high, HEAVY)
    count = len(job.warnings)
    heading = f"THIS DESIGN FAILS {count} {'CHECK' if count == 1 else 'CHECKS'}"
    yield Words(LEFT + 3, low + high - 5.0, font_size(2.6), heading)
    shown = list(job.warnings[:MOST_FAILURES])
    if count > MOST_FAILURES:
        rest = count - MOST_FAILURES + 1
        shown[-1] = f"and {rest} more: run the command check on the build file to see them"
    for i, text in enumerate(shown):
        y = low + high - 9.0 - PITCH * i
        yield Words(LEFT + 3, y, SMALL, fitted(text, SMALL, wide - 6))
