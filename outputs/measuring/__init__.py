"""``sheet``: a PDF to take to the freezer, with pictures of where the tape is held and boxes.

The pictures are drawn from a plain freezer of nobody's in particular. What is asked, in which
words, and which check waits for it, comes from where ``new`` and the checks have it.
"""

import os
from pathlib import Path

from ...params.problem import Problem
from ...params.units import Show
from ..new.keeping import Keeper, unfit
from ..paper.pdf import write_pdf
from ..paper.sizes import PAPERS
from ..verify import ReadBackError
from .pages import pages
from .readback import faults

TITLE = "Measuring sheet"
USUAL = {"in": "letter", "mm": "a4"}
"""The paper that goes with a unit."""


def refused(file: Path, *, overwrite: bool) -> Problem | None:
    """Return why a sheet cannot be written to a path, or None."""
    said, plain = unfit(file), ""
    if said is None and file.suffix.lower() != ".pdf":
        said = "a name that does not end in .pdf", "the PDF to write, such as measuring-sheet.pdf"
    if said is None and os.path.lexists(file) and not overwrite:
        said = "a file that is there already", "a new name, or --overwrite"
        plain = "there is such a file already; give a new name, or --overwrite"
    if said is None:
        return None
    return Problem(key=str(file), read=said[0], wanted=said[1], plain=plain)


def write(file: Path, paper: str, show: Show) -> int:
    """Write the sheet, whole or not at all, and return the number of its pages.

    What was written is read back before it takes the file's place.

    Raises:
        ReadBackError: it does not read back right; nothing was handed over.
        OSError: it cannot be written.
    """
    keeper = Keeper(file, fresh=not os.path.lexists(file))
    keeper.sweep()
    made = pages(PAPERS[paper], show)

    def draw(part: Path) -> None:
        write_pdf(made, part, TITLE, "what to measure at the freezer")
        found = faults(part, PAPERS[paper], show, len(made))
        if found:
            raise ReadBackError([f"{file.name}: {each}" for each in found])

    keeper.make(draw)
    return len(made)
