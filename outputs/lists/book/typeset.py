"""Blocks -> pages, with reportlab's platypus: what breaks where, page numbers, the contents.

All is set twice: the first time tells on which page each chapter begins and how many pages there
are, which the second time prints. Nobody's text is read as markup. Inside, lengths are points, as
the library has them.
"""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from ...paper.pdf import FONT, POINTS, clean, draw, fitted, open_canvas
from ...stops import stop_if_asked
from ..table import Table
from . import grid
from .blocks import (
    Block,
    Caution,
    Contents,
    Facts,
    Figure,
    Heading,
    Job,
    Listing,
    Text,
    Tick,
    Title,
    chapters,
)
from .furniture import furniture, text_room
from .kit import BODY, SET_IN, load

SMALL, CELL = 8.0, 8.5
"""Font sizes, points, beside that of the body."""

PAD = 1.6
"""Clear at both sides of a cell, mm."""

SHORT = 8
"""Facts that are not parted by a new page."""

CHAPTER = 0.7
"""A chapter begins a new page where less than this of the old one is free."""

ABOVE = 6.0
"""Clear over a figure, points."""

FIGURE = "Figure {number}: {caption}"


class _Numbers:
    """What the first setting finds out for the second."""

    def __init__(self) -> None:
        self.pages: dict[str, int] = {}
        self.count = 0


def typeset(blocks: Sequence[Block], job: Job, path: Path) -> int:
    """Write the book and return how many pages it has; the same blocks give the same bytes."""
    numbers = _Numbers()
    for final in (False, True):
        stop_if_asked()
        numbers = _set(blocks, job, path, numbers, final=final)
    return numbers.count


def _set(
    blocks: Sequence[Block], job: Job, path: Path, known: _Numbers, *, final: bool
) -> _Numbers:
    kit = load()
    found = _Numbers()
    left, low, wide, high = (each * POINTS for each in text_room(job))

    def page_done(canvas: Any, _: Any) -> None:
        found.count += 1
        canvas.saveState()
        canvas.scale(POINTS, POINTS)
        draw(canvas, furniture(job, found.count, known.count or found.count))
        canvas.restoreState()

    def new_canvas(*_: Any, **__: Any) -> Any:
        return open_canvas(path, f"Workshop book: {job.title}", f"build file {job.sha256}")

    frame = kit.Frame(left, low, wide, high, 0, 0, 0, 0, id="text")
    document = kit.BaseDocTemplate(
        str(path),
        pagesize=(job.width * POINTS, job.height * POINTS),
        title=clean(f"Workshop book: {job.title}"),
        author="",
        subject=clean(f"build file {job.sha256}"),
        creator="collarwright",
        pageTemplates=[kit.PageTemplate("all", [frame], onPage=page_done)],
    )
    setter = _Setter(kit, wide, high, known, found, draws=final)
    document.build([each for block in blocks for each in setter.flowables(block, blocks)],
                   canvasmaker=new_canvas)  # fmt: skip
    return found


class _Setter:
    """Makes the library's flowables of blocks."""

    def __init__(
        self, kit: Any, wide: float, high: float, known: _Numbers, found: _Numbers, *, draws: bool
    ) -> None:
        self.kit, self.wide, self.high = kit, wide, high
        self.known, self.found, self.draws = known, found, draws
        self.heading = ""

    def flowables(self, block: Block, blocks: Sequence[Block]) -> Iterable[Any]:
        """Return what a block is set as."""
        kit = self.kit
        match block:
            case Title(kind, text):
                return [self._text(kind, BODY + 1.5), self._text(text, 20.0, after=14.0)]
            case Heading(text, level):
                return self._heading(text, level)
            case Text(text, small, stay):
                size, after = (SMALL, 4.0) if small else (BODY, 6.0)
                return [self._text(text, size, after=after, stay=stay)]
            case Tick(text):
                return [kit.Ticked(self._text(text, BODY, after=3.0, indent=SET_IN * POINTS))]
            case Caution(heading, texts):
                return [self._caution(heading, texts)]
            case Facts(pairs):
                return [self._facts(pairs)]
            case Listing(table):
                return self._listing(table.printed())
            case Figure():
                return self._figure(block)
            case Contents():
                return [self._contents(chapters(blocks))]

    def _text(
        self, text: str, size: float, *, before: float = 0.0, after: float = 0.0,
        indent: float = 0.0, stay: bool = False,
    ) -> Any:  # fmt: skip
        style = self.kit.ParagraphStyle(
            "text",
            fontName=FONT,
            fontSize=size,
            leading=1.32 * size,
            spaceBefore=before,
            spaceAfter=after,
            leftIndent=indent,
            keepWithNext=int(stay),
            allowWidows=0,
            allowOrphans=0,
            bulletFontName=FONT,
            spaceShrinkage=0,  # words are never set closer: a reader of the file would lose them
        )
        return self.kit.Paragraph(escape(clean(text)), style)

    def _heading(self, text: str, level: int) -> list[Any]:
        self.heading = text
        if level > 1:
            size, before = (13.0, 12.0) if level == 2 else (BODY + 1.5, 9.0)
            said = self._text(text, size, before=before, after=3.0, stay=True)
            return [self.kit.CondPageBreak(40 * POINTS), said] if level == 2 else [said]

        def tell(page: int) -> None:
            self.found.pages.setdefault(text, page)

        noted = self.kit.Noted(tell, text)
        return [
            self.kit.CondPageBreak(CHAPTER * self.high),
            noted,
            self._text(text, 16.0, before=18.0, after=3.0, stay=True),
            self.kit.HRFlowable(
                width="100%", thickness=1.0, color=self.kit.black, spaceBefore=0, spaceAfter=8
            ),
        ]

    def _caution(self, heading: str, texts: Sequence[str]) -> Any:
        said = [self._text(each, BODY, after=3.0) for each in (heading, *texts)]
        table = self.kit.Table(
            [[each] for each in said], colWidths=[self.wide], spaceBefore=3, spaceAfter=7
        )
        table.setStyle(
            [
                ("FONT", (0, 0), (-1, -1), FONT, BODY),
                ("BOX", (0, 0), (-1, -1), 1.6, self.kit.black),
                ("LEFTPADDING", (0, 0), (-1, -1), 3 * POINTS),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3 * POINTS),
                ("TOPPADDING", (0, 0), (-1, -1), 1),
                ("TOPPADDING", (0, 0), (-1, 0), 5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
                ("BOTTOMPADDING", (0, -1), (-1, -1), 5),
                ("NOSPLIT", (0, 0), (-1, -1)),
            ]
        )
        table.keepWithNext = 1  # with what it warns of
        return table

    def _facts(self, pairs: Sequence[tuple[str, str]]) -> Any:
        """Set names and values in two columns, as wide as they are."""
        indent, size = SET_IN * POINTS, CELL / POINTS
        table = Table(name="", title="", header=("", ""), rows=tuple(pairs))
        columns = grid.widths(table, size, 2 * PAD, self.wide / POINTS - SET_IN)
        cells = [
            [
                "\n".join(grid.lines(cell, size, wide - 2 * PAD))
                for cell, wide in zip(row, columns, strict=True)
            ]
            for row in pairs
        ]
        made = self.kit.Table(
            [["", *row] for row in cells],
            colWidths=[indent, *(each * POINTS for each in columns)],
            hAlign="LEFT",
            spaceBefore=2,
            spaceAfter=5,
        )
        made.setStyle(
            [
                ("FONT", (0, 0), (-1, -1), FONT, CELL, 1.22 * CELL),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), PAD * POINTS),
                ("RIGHTPADDING", (0, 0), (-1, -1), PAD * POINTS),
                ("TOPPADDING", (0, 0), (-1, -1), 1.0),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6),
                ("LINEBELOW", (1, 0), (-1, -1), 0.4, self.kit.Color(0.7, 0.7, 0.7)),
                *[("NOSPLIT", (0, 0), (-1, -1)) for _ in range(len(pairs) <= SHORT)],
            ]
        )
        return made

    def _listing(self, table: Table) -> list[Any]:
        kit, size, pad = self.kit, CELL / POINTS, 2 * PAD
        columns = grid.widths(table, size, pad, self.wide / POINTS)
        cells = [
            [
                "\n".join(grid.lines(cell, size, wide - pad))
                for cell, wide in zip(row, columns, strict=True)
            ]
            for row in (table.header, *table.rows)
        ]
        made = kit.Table(
            cells,
            colWidths=[each * POINTS for each in columns],
            repeatRows=1,
            hAlign="LEFT",
            spaceBefore=1,
            spaceAfter=4,
        )
        made.setStyle(self._rules(table))
        notes = [self._text(each, SMALL, after=3.0) for each in table.notes]
        head = [self._text(table.title, 11.0, before=8.0, after=3.0)]
        whole = [*(head if table.title != self.heading else ()), made, *notes]
        if sum(each.wrap(self.wide, self.high)[1] for each in whole) < 0.45 * self.high:
            return [kit.KeepTogether(whole)]
        return [kit.CondPageBreak(45 * POINTS), *whole]

    def _rules(self, table: Table) -> list[Any]:
        black, gray = self.kit.black, self.kit.Color(0.7, 0.7, 0.7)
        last = len(table.rows)
        return [
            ("FONT", (0, 0), (-1, -1), FONT, CELL, 1.22 * CELL),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), PAD * POINTS),
            ("RIGHTPADDING", (0, 0), (-1, -1), PAD * POINTS),
            ("TOPPADDING", (0, 0), (-1, -1), 1.7),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.2),
            ("LINEABOVE", (0, 0), (-1, 0), 1.0, black),
            ("LINEBELOW", (0, 0), (-1, 0), 1.0, black),
            *[("LINEBELOW", (0, 1), (-1, last - 1), 0.4, gray) for _ in range(last > 1)],
            ("LINEBELOW", (0, -1), (-1, -1), 1.0, black),
            *[("ALIGN", (each, 0), (each, -1), "RIGHT") for each in sorted(table.right)],
        ]

    def _figure(self, figure: Figure) -> list[Any]:
        said = FIGURE.format(number=figure.number, caption=figure.caption)
        said = fitted(said, SMALL / POINTS, self.wide / POINTS)  # one line: see CAPTION_ROOM
        caption = self._text(said, SMALL, before=4.0, after=10.0)
        picture = self.kit.Picture(figure.page, turned=figure.turned, draws=self.draws)
        return [self.kit.KeepTogether([self.kit.Spacer(1, ABOVE), picture, caption])]

    def _contents(self, names: Sequence[str]) -> Any:
        rows = [(clean(name), str(self.known.pages.get(name, 0))) for name in names]
        room = self.wide - 14 * POINTS
        table = self.kit.Table(rows, colWidths=[room, 14 * POINTS], spaceBefore=2, spaceAfter=10)
        table.setStyle(
            [
                ("FONT", (0, 0), (-1, -1), FONT, BODY + 0.5, 1.3 * BODY),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 0),
                ("ALIGN", (1, 0), (1, -1), "RIGHT"),
                ("LINEBELOW", (0, 0), (-1, -1), 0.4, self.kit.Color(0.7, 0.7, 0.7)),
            ]
        )
        return table
