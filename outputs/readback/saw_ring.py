"""Reads the saw's test ring back: what it says, and every figure of its table by another route.

A gap is worked out here from two L's laid down: both closed corners of the rhombus, and how far
the faces then stand apart at the corners between; the setting that is printed has to open by the
gap that stands beside it.
"""

import cmath
import math
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from ...geometry.shape.layout import Layout
from ...params.units import parse
from .pdf import Size, paper_faults, read
from .pdf_page import Page, Text
from .printer import Printer

SAYS = (
    "saw's test ring",
    "do what your saw's manual says",
    "unplug the saw",
    "guard and riving knife on",
    "both are open on the same side: inside, the blade is tilted too far; outside, too little",
    "open inside: the blade is tilted too far",
    "open outside: the blade is tilted too little",
    '[shop] ring_gap = "',
    'ring_open = "inside" # or "outside" ring_thickness = "',
    "the blade's top leans over the waste",
)
LEAST_ROWS = 8
ROUNDED = 0.0101
"""Figures are printed with two digits: a setting may be off by half of the last, and the gap by
half of its own; degrees."""

SAME = 1e-6
"""Lengths are alike within this, mm."""


def compare(
    path: Path,
    layout: Layout,
    *,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    printer: Printer | None = None,
) -> list[str]:
    """Read the page and say what on it is not as it should be; see ``pdf.compare``."""
    document = read(path, printer)
    faults = [*paper_faults(document, (), (0.0, 0.0), paper, numbered=False, barred=False)]
    if len(document.pages) != 1:
        faults.append(f"has {len(document.pages)} pages, not one")
    for page in document.pages:
        said = " ".join(" ".join(text.text for text in page.texts).lower().split())
        wanted = [*SAYS, *([f"build file {sha256[:12]}"] if sha256 else [])]
        if layout.ring.off_deg is not None:
            wanted.append(f"the blade is tilted {_off(layout.ring.off_deg)} the scale says")
        faults += [f"does not say {text!r}" for text in wanted if text not in said]
        faults += _table_faults(page, layout.ring.thickness)
    return [f"{path.name}: {fault}" for fault in faults]


def opening(tilt_deg: float, thickness: float) -> float:
    """Return how far two L's stand open at the corners between them, mm; negative: outside.

    The wood of a scrap is ``90 - tilt`` wide at its long point. Both faces at a corner start where
    they touch and are as long as the cut; the corner is what two closed ones leave of 360 deg.
    """
    wood = math.radians(90.0 - tilt_deg)
    corner = math.pi - 2 * wood
    face = thickness / math.sin(wood)
    one, other = cmath.rect(face, wood), cmath.rect(face, corner - wood)
    return math.copysign(abs(one - other), corner / 2 - wood)


def _off(deg: float) -> str:
    """Say how the blade stands against its scale."""
    amount = f"{abs(deg):.2f} deg"
    if amount == "0.00 deg":
        return "as"
    return f"{amount} more than" if deg > 0 else f"{amount} less than"


def _table_faults(page: Page, thickness: float) -> Iterator[str]:
    heads = [each for text in page.texts if (each := re.match(r"Scraps (.+) thick,", text.text))]
    if len(heads) != 1:
        yield "does not say once how thick the table's scraps are"
    for head in heads:
        if abs(_length(head[1]) - thickness) > _rounding(head[1]) + SAME:
            yield f"its table is for scraps of {head[1]}"
    rows = [row for row in _rows(page) if len(row) == 4 and all("deg" in t.text for t in row[1:])]
    if len(rows) < LEAST_ROWS:
        yield f"its table has {len(rows)} rows"
    for row in rows:
        gap = _length(row[0].text)
        off, inside, outside = (float(text.text.removesuffix(" deg")) for text in row[1:])
        for word, setting, sign in (("inside", inside, 1.0), ("outside", outside, -1.0)):
            true = 90.0 - setting  # as far beyond 45 as the setting stays below it
            slope = (opening(true + 0.01, thickness) - opening(true - 0.01, thickness)) / 0.02
            rounded = ROUNDED + _rounding(row[0].text) / slope
            if abs(opening(true, thickness) - sign * gap) > rounded * slope:
                yield f"open {word} by {row[0].text}: {setting:.2f} deg would not mend that"
        if abs(off - (outside - inside) / 2) > 0.0151:
            yield f"{row[0].text}: the blade is said to be off by {off:.2f} deg"


def _rows(page: Page) -> list[list[Text]]:
    """Return texts that stand on one line, from left to right."""
    rows: dict[float, list[Text]] = {}
    for text in page.texts:
        rows.setdefault(round(text.y, 2), []).append(text)
    return [sorted(row, key=lambda text: text.x) for row in rows.values()]


def _length(text: str) -> float:
    return parse(text.partition(" (")[0], "length")


def _rounding(text: str) -> float:
    """Return half of the last digit of a length in print, mm; a fraction of an inch is exact."""
    first = text.partition(" (")[0]
    if "/" in first:
        return 0.0
    digits = re.search(r"\.(\d+)", first)
    step = 10.0 ** -len(digits[1]) if digits else 1.0
    return step / 2 * (25.4 if first.endswith("in") else 1.0)
