"""A printer that is not true: how long 100 mm come out, and pages drawn so that they are right.

A page is laid out in true mm on paper as large as the printer's own 100 % makes it, and the file
draws that larger or smaller by as much as the printer prints it smaller or larger. So the file's
page stays the sheet's size, and what is printed is true.

Which way: printers draw a sheet in by its short side, and turn a page that lies on its long side.
So the pair goes with the sheet, across it and up it as it stands upright, and on a page that lies
the two change places. Of a roll it is across and along: a page wider than the roll is turned, a
page that fits across it is not (common practice, no source). For a page as large as the template
no such rule is known: there it is level and upright on the page as it is seen.
"""

import re
from dataclasses import dataclass

from ...params.units import UnitError, parse
from .sizes import LARGEST, PAPERS, ROLLS, SHEET, Paper, ways_round

LEAST, MOST = 98.0, 102.0
"""What 100 mm may come out as, mm. A printer's own error is a few tenths; a page that was fitted to
the paper comes out some 97 % or 103 % large, and no scale in the file mends a setting that may be
another one the next time (common practice, no source)."""

CLEARLY = 5.0
"""So much longer than a roll is wide a page must be to count as one that is turned, mm: no roll is
off by as much (common practice, no source)."""

LONGEST = 80
"""No pair of lengths takes more characters than this."""

EXAMPLE = "99.2x99.6"


class PrintedError(ValueError):
    """A text is not what 100 mm come out as; the message completes "expected …"."""


@dataclass(frozen=True, slots=True)
class Printed:
    """What 100 mm come out as, across the sheet and up it, mm; and the name of the paper."""

    across: float
    up: float
    paper: str

    @property
    def says(self) -> str:
        """The sentence that stands on every page."""
        first, second = "across", "up an upright sheet"
        if self.paper in ROLLS:
            second = "along the roll"
        elif self.paper == SHEET:
            first, second = "level", "upright"
        return (
            f"scaled for a printer that prints {self.across:.6g} mm {first} and {self.up:.6g} mm"
            f" {second} for 100 mm"
        )


def parse_printed(text: str) -> tuple[float, float]:
    """Read ``99.2x99.6``, also with units: ``99.2 mm x 99.6 mm``; returns mm.

    Raises:
        PrintedError: it is no such pair, or none that a printer comes to.
    """
    pair = f"two lengths that 100 mm came out as, across the sheet and up it, as {EXAMPLE}"
    parts = re.split(r"[xX\u00d7*]", text) if len(text) <= LONGEST else []
    if len(parts) != 2:
        raise PrintedError(pair)
    found: list[float] = []
    for part in parts:
        plain = part.strip()
        bare = re.fullmatch(r"\d+(\.\d+)?", plain, re.ASCII)
        try:
            found.append(parse(f"{plain} mm" if bare else plain, "length"))
        except UnitError as error:
            raise PrintedError(f"{pair}; {error}") from None
    for mm in found:
        if not LEAST <= mm <= MOST:
            raise PrintedError(
                f"{LEAST:g} to {MOST:g} mm for 100 mm: more is fit to page or a wrong paper size;"
                " turn off fit to page, shrink and scale, print the test page again and measure"
                " the 100 mm bars"
            )
    return round(found[0], 2), round(found[1], 2)  # nobody reads finer, and all of it is printed


def ways(paper: str, width: float, height: float, printed: Printed | None) -> tuple[Paper, ...]:
    """Return the pages that may be printed on, in true mm: lying and upright, or as long as asked.

    On a roll a page lies only where it is clearly longer than the roll is wide: a shorter one would
    not be turned.

    Args:
        paper: one of ``PAPER_NAMES``.
        width: of what goes on a page of a roll, or on one that is as large as it must be, mm.
        height: the same upward.
        printed: what the printer makes of 100 mm; None for a true one.

    Raises:
        ValueError: no such paper.
    """
    across, up = (printed.across / 100, printed.up / 100) if printed else (1.0, 1.0)
    if paper not in ROLLS and paper != SHEET:
        lying, upright = ways_round(paper)
        return _drawn(lying, up, across), _drawn(upright, across, up)
    if paper == SHEET:
        sheet = Paper(SHEET, min(width / across, LARGEST), min(height / up, LARGEST), "")
        return (_drawn(sheet, across, up),)
    roll = ROLLS[paper].width
    standing = _drawn(Paper(paper, roll, min(height / up, LARGEST), ""), across, up)
    long = min(width / up, LARGEST)
    if long < roll + CLEARLY:
        return (standing,)
    return _drawn(Paper(paper, long, roll, ""), up, across), standing


def _drawn(paper: Paper, x: float, y: float) -> Paper:
    """Return paper of a size in the true mm of a printer that makes x and y of 1 mm."""
    return Paper(paper.id, paper.width * x, paper.height * y, paper.source, (1 / x, 1 / y))


def upright(paper: str, printed: Printed | None, least: tuple[float, float]) -> Paper:
    """Return the page of a kind of paper as it stands upright, in true mm.

    ``least`` is what a page of a roll, or one as large as it must be, is given, mm.
    """
    if paper in PAPERS or paper not in (*ROLLS, SHEET):
        return ways(paper, 0.0, 0.0, printed)[1]
    return ways(paper, *least, printed)[-1]
