"""A page of marks -> an SVG of true size, in mm; the second back end beside ``pdf``.

A user unit is a mm, the origin is the page's upper left corner. Texts are texts, to be selected
and searched; each carries the width that it has in the font of the PDF, so that where another
font stands in for it nothing runs over a line. Nothing has a name of its own (no ids), so that
several pages can stand in one document, and nothing depends on the clock.
"""

from collections.abc import Iterator
from html import escape
from pathlib import Path as FilePath

from .marks import Mark, Page, Path, Pen, Ring, Window, Words
from .pdf import clean, drawable, text_width

FAMILY = "'DejaVu Sans','Bitstream Vera Sans',Verdana,Geneva,sans-serif"
"""The PDF's font, then those drawn to nearly the same widths, then any without serifs."""

MITER_LIMIT = 10
"""As a PDF has it by default (ISO 32000-1, table 52); an SVG has 4 (SVG 2, 13.5.5)."""

_ANCHORS = {"start": "", "middle": ' text-anchor="middle"', "end": ' text-anchor="end"'}


def svg_text(page: Page, title: str) -> str:
    """Return a page as an SVG document; the same page gives the same text."""
    size = f'width="{_n(page.width)}mm" height="{_n(page.height)}mm"'
    box = f'viewBox="0 0 {_n(page.width)} {_n(page.height)}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box} role="img">',
        f"<title>{escape(clean(title))}</title>",
        f'<g fill="none" stroke-miterlimit="{MITER_LIMIT}" font-family="{FAMILY}">',
        *(each for mark in page.marks for each in _drawn(mark, page.height)),
        "</g>",
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def write_svg(page: Page, path: FilePath, title: str) -> None:
    """Write a page as an SVG file."""
    head = '<?xml version="1.0" encoding="UTF-8"?>\n'
    path.write_text(head + svg_text(page, title), "utf-8", newline="\n")


def _drawn(mark: Mark, top: float) -> Iterator[str]:
    """Yield the elements of a mark; ``top`` is the height that is 0 in the picture."""
    if isinstance(mark, Words):
        yield _text(mark, top)
    elif isinstance(mark, Window):
        # a picture in the picture shows nothing beyond its own edges, and needs no name for that
        x, y = _n(mark.x), _n(top - mark.y - mark.height)
        size = f'width="{_n(mark.width)}" height="{_n(mark.height)}"'
        box = f"{x} {y} {_n(mark.width)} {_n(mark.height)}"
        if mark.width > 0 and mark.height > 0:
            yield f'<svg x="{x}" y="{y}" {size} viewBox="{box}" overflow="hidden">'
            for each in mark.marks:
                yield from _drawn(each, top)
            yield "</svg>"
    elif isinstance(mark, Ring):
        place = f'cx="{_n(mark.x)}" cy="{_n(top - mark.y)}" r="{_n(mark.diameter / 2)}"'
        yield f"<circle {place}{_look(mark.pen, mark.fill)}/>"
    else:
        yield f'<path d="{_steps(mark, top)}"{_look(mark.pen, mark.fill)}/>'


def _steps(mark: Path, top: float) -> str:
    said = [f"M{_n(mark.start[0])} {_n(top - mark.start[1])}"]
    for step in mark.steps:
        points = " ".join(f"{_n(x)} {_n(top - y)}" for x, y in step)
        said.append(f"{'L' if len(step) == 1 else 'C'}{points}")
    return "".join(said) + ("Z" if mark.closed else "")


def _look(pen: Pen | None, fill: float | None) -> str:
    said = "" if fill is None else f' fill="{_gray(fill)}"'
    if pen is not None:
        said += f' stroke="{_gray(pen.gray)}" stroke-width="{_n(pen.width)}"'
        if pen.dash:
            said += f' stroke-dasharray="{" ".join(map(_n, pen.dash))}"'
    return said


def _text(mark: Words, top: float) -> str:
    words = drawable(mark.text)
    x, y = _n(mark.x), _n(top - mark.y)
    said = f'x="{x}" y="{y}" font-size="{_n(mark.size)}" fill="{_gray(mark.gray)}"'
    said += _ANCHORS[mark.anchor]
    if mark.turn:
        said += f' transform="rotate({_n(-mark.turn)} {x} {y})"'
    width = text_width(words, mark.size)
    if len(words) > 1:
        said += f' textLength="{_n(width)}" lengthAdjust="spacingAndGlyphs"'
    if words != " ".join(words.split()):
        said += ' xml:space="preserve"'
    return f"<text {said}>{escape(words)}</text>"


def _gray(gray: float) -> str:
    return "#" + f"{round(min(max(gray, 0.0), 1.0) * 255):02x}" * 3


def _n(value: float) -> str:
    """Write a number of mm to a ten thousandth, without what it does not need."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
