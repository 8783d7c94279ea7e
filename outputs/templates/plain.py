"""Pages that are no templates: their heading, and paragraphs of text."""

from collections.abc import Iterator, Sequence

from ..paper.marks import Words
from ..paper.pdf import fitted, wrapped
from .furniture import Job, design_text

MOST_ROWS = 9
"""No paragraph has more rows than this."""


def heading(x: float, y: float, room: float, title: str, job: Job) -> Iterator[Words]:
    """Set a page's title, and below it the design's name and the build file; 10 mm high below y."""
    yield Words(x, y, 6.0, title)
    yield Words(x, y - 5.5, 2.6, fitted(design_text(job), 2.6, room))
    yield Words(x, y - 9.5, 2.6, f"build file {job.sha256[:12]}")


def paragraphs(
    place: tuple[float, float], room: float, texts: Sequence[str], size: float, pitch: float
) -> tuple[list[Words], float]:
    """Set paragraphs one below the other, and return them with the height where more may follow.

    Args:
        place: left end and baseline of the first row, mm.
        room: width of the rows, mm.
        texts: one for each paragraph.
        size: of the letters, mm.
        pitch: from row to row, mm; a quarter of it lies between paragraphs.
    """
    x, y = place
    found: list[Words] = []
    for text in texts:
        for row in wrapped(text, size, room, MOST_ROWS):
            found.append(Words(x, y, size, row))
            y -= pitch
        y -= pitch / 4
    return found, y
