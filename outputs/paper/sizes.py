"""Paper that templates can be printed on: sizes of the sheets, and which way round they lie.

Sizes: ISO 216 (A series) and ASME Y14.1 (letter is its size A, tabloid its size B), exact in mm
and in inches; legal is in neither, 8 1/2 x 14 in by common practice; rolls for plotters are 24 and
36 in wide by common practice. All from memory.
"""

from dataclasses import dataclass

ISO = "ISO 216, A series (from memory)"
ASME = "ASME Y14.1, inch sizes (from memory)"
COMMON = "common practice, no source"

SHEET = "sheet"
"""Not a size of paper: one page as large as the template, for a plotter or a print shop."""

LARGEST = 5000.0
"""The largest side of a page, mm: PDF 1.6 allows 14400 points, which is 5080 mm (ISO 32000-1,
annex C)."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it comes out of the printer upright, mm.

    ``scale`` is how much larger than true a file draws what lies on it, across and up, for a
    printer that prints it smaller.
    """

    id: str
    width: float
    height: float
    source: str
    scale: tuple[float, float] = (1.0, 1.0)

    @property
    def turned(self) -> "Paper":
        """The same sheet lying on its long side."""
        return Paper(self.id, self.height, self.width, self.source)


PAPERS: dict[str, Paper] = {
    paper.id: paper
    for paper in (
        Paper("letter", 8.5 * 25.4, 11 * 25.4, ASME),
        Paper("a4", 210.0, 297.0, ISO),
        Paper("legal", 8.5 * 25.4, 14 * 25.4, COMMON),
        Paper("a3", 297.0, 420.0, ISO),
        Paper("tabloid", 11 * 25.4, 17 * 25.4, ASME),
        Paper("a1", 594.0, 841.0, ISO),
        Paper("a0", 841.0, 1189.0, ISO),
    )
}
"""Papers by their name in ``--paper``."""

ROLLS: dict[str, Paper] = {
    roll.id: roll
    for roll in (
        Paper("roll-24-in", 24 * 25.4, LARGEST, COMMON),
        Paper("roll-36-in", 36 * 25.4, LARGEST, COMMON),
    )
}
"""Rolls by their name in ``--paper``: width, and the greatest length that a page can have; the
plotter cuts each page off where it ends."""

PAPER_NAMES: tuple[str, ...] = (*PAPERS, *ROLLS, SHEET)
"""Everything that may be asked for."""


def ways_round(name: str) -> tuple[Paper, ...]:
    """Return a paper lying on its long side, and upright.

    Raises:
        ValueError: no such paper; the message lists them.
    """
    if name not in PAPERS:
        raise ValueError(f"no paper {name!r}; one of {', '.join(PAPER_NAMES)}")
    return PAPERS[name].turned, PAPERS[name]
