"""The measuring sheet as it reads back: size of its pages, fonts, margins, and what is asked."""

from collections.abc import Iterator
from pathlib import Path

from ...params.units import Show
from ..paper.sizes import Paper
from ..readback import pdf
from ..readback.pdf_page import Page
from .readings import parts

NEAR = 0.05
"""How far a page's size may be off, mm."""

EDGE = 10.0
"""What has to stay clear all round, mm: printers reach to 4.2 or 6.4 mm (common practice)."""

LEAST = 8.0 * 25.4 / 72
"""The smallest font size that is printed, mm: 8 points."""


def faults(path: Path, paper: Paper, show: Show, count: int) -> list[str]:
    """Read a sheet and say what is not as it should be; nothing when all is well."""
    try:
        document = pdf.read(path)
    except ValueError as error:
        return [str(error)]
    found = [f"font {name} is not in the file" for name in document.missing_fonts]
    if len(document.pages) != count:
        found.append(f"has {len(document.pages)} pages, not {count}")
    said = {text.text for page in document.pages for text in page.texts}
    for part in parts(show):
        found += [f"does not ask for {r.key}" for r in part.readings if r.key not in said]
    for page in document.pages:
        found += [f"page {page.number}: {fault}" for fault in _on_page(page, paper)]
    return found


def _on_page(page: Page, paper: Paper) -> Iterator[str]:
    if abs(page.width - paper.width) > NEAR or abs(page.height - paper.height) > NEAR:
        yield f"is {page.width:.2f} x {page.height:.2f} mm, not {paper.id}"
    if page.unread:
        yield f"holds what cannot be read back: {', '.join(page.unread)}"
    right, top = page.width - EDGE, page.height - EDGE
    ends = [(x, y) for each in page.lines for x, y in ((each.x1, each.y1), (each.x2, each.y2))]
    ends += [(t.x + k * t.width, t.y) for t in page.texts if not t.turn_deg for k in (0, 1)]
    if not all(EDGE <= x <= right and EDGE <= y <= top for x, y in ends):
        yield "is drawn on beyond what a printer reaches"
    small = [each.text for each in page.texts if each.size < LEAST - 1e-6]
    if small:
        yield f"has a text that is too small: {small[0]}"
