"""Pages of marks -> a PDF at true size; and the one font that everything printed is set in.

The scale is set once a page, so every coordinate and line width in the file is mm, also where a
page is drawn larger or smaller for a printer that is not true. Nothing in
the file depends on the clock. The viewer is told not to scale; that is only a wish, which is why
the pages carry bars to measure.
"""

import os
import unicodedata
from collections.abc import Generator, Iterable, Sequence
from contextlib import contextmanager
from functools import cache, lru_cache
from importlib.resources import as_file, files
from pathlib import Path as FilePath
from typing import Any, Protocol, cast

from .marks import Mark, Page, Path, Pen, Ring, Window, Words

FONT = "DejaVuSans"
POINTS = 72 / 25.4
"""Points in a mm: a point is 1/72 in (ISO 32000-1, 8.3.2.3)."""

ELLIPSIS = "\u2026"
MISSING = "\u25a1"
"""Stands for a character that the font does not have."""


class _Canvas(Protocol):
    """What is used of reportlab's canvas, which has no types of its own."""

    def setTitle(self, title: str) -> None: ...  # noqa: N802
    def setAuthor(self, author: str) -> None: ...  # noqa: N802
    def setSubject(self, subject: str) -> None: ...  # noqa: N802
    def setCreator(self, creator: str) -> None: ...  # noqa: N802
    def setViewerPreference(self, pref: str, value: str) -> None: ...  # noqa: N802
    def setPageSize(self, size: tuple[float, float]) -> None: ...  # noqa: N802
    def scale(self, x: float, y: float) -> None: ...
    def rotate(self, theta: float) -> None: ...
    def translate(self, dx: float, dy: float) -> None: ...
    def saveState(self) -> None: ...  # noqa: N802
    def restoreState(self) -> None: ...  # noqa: N802
    def setLineWidth(self, width: float) -> None: ...  # noqa: N802
    def setDash(self, array: list[float]) -> None: ...  # noqa: N802
    def setStrokeGray(self, gray: float) -> None: ...  # noqa: N802
    def setFillGray(self, gray: float) -> None: ...  # noqa: N802
    def setFont(self, name: str, size: float) -> None: ...  # noqa: N802
    def beginPath(self) -> Any: ...  # noqa: N802
    def clipPath(self, path: Any, stroke: int, fill: int) -> None: ...  # noqa: N802
    def drawPath(self, path: Any, stroke: int, fill: int) -> None: ...  # noqa: N802
    def circle(self, x: float, y: float, r: float, stroke: int, fill: int) -> None: ...
    def drawString(self, x: float, y: float, text: str) -> None: ...  # noqa: N802
    def drawCentredString(self, x: float, y: float, text: str) -> None: ...  # noqa: N802
    def drawRightString(self, x: float, y: float, text: str) -> None: ...  # noqa: N802
    def showPage(self) -> None: ...  # noqa: N802
    def save(self) -> None: ...


@cache
def _glyph_widths() -> dict[int, float]:
    """Register the font and return the advance of each of its characters, in em."""
    from reportlab.pdfbase import pdfmetrics, ttfonts  # type: ignore[import-untyped]

    with as_file(files(__name__.rpartition(".")[0]) / "fonts" / f"{FONT}.ttf") as path:
        font = cast("Any", ttfonts).TTFont(FONT, str(path))
    cast("Any", pdfmetrics).registerFont(font)
    widths: dict[int, float] = font.face.charWidths
    return {code: width / 1000 for code, width in widths.items() if code in font.face.charToGlyph}


def clean(text: str) -> str:
    """Return a text that can be set on one line whatever it holds.

    Direction marks, other invisible characters and half characters are dropped, white space and
    control characters become one space, what the font does not have becomes an empty box.
    """
    return " ".join(drawable(text).split())


def drawable(text: str) -> str:
    """Return the same with its blanks as they are: one for each white space character."""
    if text.isascii() and text.isprintable():
        return text  # the font has all of it: nearly all that is ever printed
    known = _glyph_widths()
    kept: list[str] = []
    for char in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(char)
        if char.isspace() or kind == "Cc":
            kept.append(" ")
        elif kind not in ("Cf", "Cs", "Mn", "Me"):
            kept.append(char if ord(char) in known else MISSING)
    return "".join(kept)


def text_width(text: str, size: float) -> float:
    """Return how wide a clean text is at a font size, both mm."""
    return _ems(text) * size


@lru_cache(4096)  # the same few texts are measured over and over while a place is looked for
def _ems(text: str) -> float:
    known = _glyph_widths()
    return sum(known[ord(char)] for char in text)


def fitted(text: str, size: float, room: float) -> str:
    """Return a text cleaned, and shortened with an ellipsis where it is wider than ``room``."""
    text = clean(text)
    if text_width(text, size) <= room:
        return text
    known = _glyph_widths()
    left = room / size - known[ord(ELLIPSIS)]
    for count, char in enumerate(text):
        left -= known[ord(char)]
        if left < 0:
            return text[:count].rstrip() + ELLIPSIS if count else ""
    return text


def first_fitting(texts: Iterable[str], size: float, room: float) -> str:
    """Return the first text that fits, nothing where none does."""
    return next((text for text in texts if text_width(text, size) <= room), "")


def wrapped(text: str, size: float, room: float, most: int) -> list[str]:
    """Return a text cleaned and broken into at most ``most`` lines no wider than ``room``."""
    lines: list[str] = []
    rest = clean(text).split(" ")
    while rest and len(lines) < most - 1:
        count = 1
        while count < len(rest) and text_width(" ".join(rest[: count + 1]), size) <= room:
            count += 1
        lines.append(fitted(" ".join(rest[:count]), size, room))
        rest = rest[count:]
    return [*lines, fitted(" ".join(rest), size, room)] if rest else lines


def write_pdf(pages: Sequence[Page], path: FilePath, title: str, subject: str = "") -> None:
    """Write pages at true size; the same pages give the same bytes."""
    canvas = open_canvas(path, title, subject)
    for page in pages:
        across, up = page.scale
        canvas.setPageSize((page.width * across * POINTS, page.height * up * POINTS))
        canvas.scale(across * POINTS, up * POINTS)
        draw(canvas, page.marks)
        canvas.showPage()
    canvas.save()


def open_canvas(path: FilePath, title: str, subject: str = "") -> Any:
    """Return reportlab's canvas for a file that depends on nothing but what is drawn on it."""
    from reportlab import rl_config  # type: ignore[import-untyped]
    from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]

    rl_config.useA85 = 0  # packed as it is, not spelled out in letters: a tenth smaller
    _glyph_widths()
    make = cast("Any", Canvas)
    with _no_date_given():
        new = make(str(path), invariant=1, pdfVersion=(1, 6), initialFontName=FONT)
    canvas = cast("_Canvas", new)
    canvas.setTitle(clean(title))
    canvas.setAuthor("")
    canvas.setSubject(clean(subject))
    canvas.setCreator("collarwright")
    canvas.setViewerPreference("PrintScaling", "None")
    return new


def draw(canvas: Any, marks: Iterable[Mark]) -> None:
    """Draw marks, mm, on a canvas whose unit was made the mm."""
    for mark in marks:
        _draw(canvas, mark)


@contextmanager
def _no_date_given() -> Generator[None]:
    """Hide a date in the environment, which the library would take, or stumble over."""
    date = os.environ.pop("SOURCE_DATE_EPOCH", None)
    try:
        yield
    finally:
        if date is not None:
            os.environ["SOURCE_DATE_EPOCH"] = date


def _draw(canvas: _Canvas, mark: Mark) -> None:
    if isinstance(mark, Words):
        _draw_words(canvas, mark)
    elif isinstance(mark, Window):
        canvas.saveState()
        frame = canvas.beginPath()
        frame.rect(mark.x, mark.y, mark.width, mark.height)
        canvas.clipPath(frame, stroke=0, fill=0)
        for each in mark.marks:
            _draw(canvas, each)
        canvas.restoreState()
    else:
        _set_pen(canvas, mark.pen, mark.fill)
        stroke, fill = int(mark.pen is not None), int(mark.fill is not None)
        if isinstance(mark, Ring):
            canvas.circle(mark.x, mark.y, mark.diameter / 2, stroke=stroke, fill=fill)
        else:
            canvas.drawPath(_path(canvas, mark), stroke=stroke, fill=fill)


def _set_pen(canvas: _Canvas, pen: Pen | None, fill: float | None) -> None:
    if pen is not None:
        canvas.setLineWidth(pen.width)
        canvas.setDash(list(pen.dash))
        canvas.setStrokeGray(pen.gray)
    if fill is not None:
        canvas.setFillGray(fill)


def _path(canvas: _Canvas, mark: Path) -> object:
    path = canvas.beginPath()
    path.moveTo(*mark.start)
    for step in mark.steps:
        if len(step) == 1:
            path.lineTo(*step[0])
        else:
            path.curveTo(*step[0], *step[1], *step[2])
    if mark.closed:
        path.close()
    return path


def _draw_words(canvas: _Canvas, mark: Words) -> None:
    canvas.setFillGray(mark.gray)
    canvas.setFont(FONT, mark.size)
    set_at = {
        "start": canvas.drawString,
        "middle": canvas.drawCentredString,
        "end": canvas.drawRightString,
    }[mark.anchor]
    if not mark.turn:
        set_at(mark.x, mark.y, mark.text)
        return
    canvas.saveState()
    canvas.translate(mark.x, mark.y)
    canvas.rotate(mark.turn)
    set_at(0, 0, mark.text)
    canvas.restoreState()
