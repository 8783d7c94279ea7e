"""Reads a drawing back from its PDF: what stands between the arrows has to be what is written.

A dimension is found as a draftsman finds it: two arrow heads on one line that point away from each
other or at each other, a text on the line, and at each arrow's tip a line that it ends at. Its text
must be the distance of the tips at the scale that the title block gives. Nothing comes from whoever
wrote the file.
"""

import math
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ...params.units import Show, UnitError, bit_text, length_text, parse
from .pdf import read
from .pdf_page import Line, Page, Point, Text

NEAR = 0.02
"""How far a place on the page may be from where it should be, mm."""

PARALLEL = 1e-3
"""What turns by less is parallel, radians."""

OVER = 3.0
"""The farthest that a text's baseline is over its dimension line, mm."""

Size = tuple[float, float]
FAILING = "THIS DESIGN FAILS"


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrow head: its tip, the middle of its back, and where it points, radians."""

    tip: Point
    back: Point
    toward: float


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension as it is seen: both tips, and the text on its line."""

    a: Point
    b: Point
    text: str

    @property
    def length(self) -> float:
        """From tip to tip, mm on the page."""
        return math.dist(self.a, self.b)


def arrows(page: Page) -> Iterator[Arrow]:
    """Yield the arrow heads of a page: narrow dark triangles with two equal sides."""
    for corners in page.filled:
        if len(corners) != 3:
            continue
        for i in range(3):
            tip, a, b = corners[i], corners[i - 1], corners[i - 2]
            long = math.dist(tip, a)
            if abs(long - math.dist(tip, b)) < NEAR and math.dist(a, b) < long / 2:
                back = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
                yield Arrow(tip, back, math.atan2(tip[1] - back[1], tip[0] - back[0]))


def dimensions(page: Page) -> tuple[list[Dimension], list[str]]:
    """Return the dimensions of a page, and a sentence for each that cannot be read."""
    heads = list(arrows(page))
    on = [(line, [head for head in heads if _on(line, head)]) for line in page.lines]
    pairs = [(line, found) for line, found in on if len(found) == 2 and _opposed(*found)]
    # a line that runs on to its text may pass the arrows of another: those are the other's
    owned = {id(head) for _, found in pairs for head in found}
    for line, found in on:
        if len(found) > 2:
            rest = [head for head in found if id(head) not in owned]
            if len(rest) == 2 and _opposed(*rest):
                pairs.append((line, rest))
                owned |= {id(head) for head in rest}
    done: list[Dimension] = []
    faults: list[str] = []
    read: set[tuple[int, int]] = set()
    # another line, an extension of some other dimension, may run along a dimension's own
    told = [(line, found, _text_on(line, page.texts)) for line, found in pairs]
    for _, (first, second), text in sorted(told, key=lambda each: each[2] is None):
        if (id(first), id(second)) in read:
            continue
        read.add((id(first), id(second)))
        here = f"at {first.tip[0]:.1f}, {first.tip[1]:.1f} mm"
        if text is None:
            faults.append(f"a dimension without a text {here}")
            continue
        faults += [
            f"{text!r} does not end at any line {here}"
            for head in (first, second)
            if not any(_ends_at(other, head) for other in page.lines)
        ]
        done.append(Dimension(first.tip, second.tip, text))
    return done, faults


def _on(line: Line, head: Arrow) -> bool:
    """Whether an arrow head lies on a line, all of it."""
    return _beside(line, head.tip) < NEAR and _beside(line, head.back) < NEAR


def _beside(line: Line, point: Point) -> float:
    """Return how far a point is from a line that ends where it ends."""
    if not line.length:
        return math.dist(point, (line.x1, line.y1))
    ux, uy = (line.x2 - line.x1) / line.length, (line.y2 - line.y1) / line.length
    dx, dy = point[0] - line.x1, point[1] - line.y1
    along = min(max(dx * ux + dy * uy, 0.0), line.length)
    return math.hypot(dx - along * ux, dy - along * uy)


def _opposed(first: Arrow, second: Arrow) -> bool:
    return abs(abs(math.remainder(first.toward - second.toward, math.tau)) - math.pi) < PARALLEL


def _ends_at(line: Line, head: Arrow) -> bool:
    """Whether a line that is not the arrow's own passes its tip."""
    turn = math.atan2(line.y2 - line.y1, line.x2 - line.x1) - head.toward
    return abs(math.sin(turn)) > PARALLEL and _beside(line, head.tip) < NEAR


def _text_on(line: Line, texts: Sequence[Text]) -> str | None:
    """Return the text that stands on a line: its middle over it, near it, turned with it."""
    best: tuple[float, str] | None = None
    for text in texts:
        turn = math.radians(text.turn_deg)
        way = turn - math.atan2(line.y2 - line.y1, line.x2 - line.x1)
        if abs(math.sin(way)) > PARALLEL or not text.text.strip():
            continue
        middle = (
            text.x + math.cos(turn) * text.width / 2,
            text.y + math.sin(turn) * text.width / 2,
        )
        away = _beside(line, middle)
        over = -math.sin(turn) * (middle[0] - line.x1) + math.cos(turn) * (middle[1] - line.y1)
        if over > 0 and abs(away - over) < NEAR and over < OVER and (not best or over < best[0]):
            best = over, text.text
    return best[1] if best else None


def scale_of(page: Page) -> float | None:
    """Return the scale that the title block gives, mm of the page for each mm."""
    found = [
        float(match[1])
        for text in page.texts
        if (match := re.fullmatch(r"1:(\d+(?:\.\d+)?)", text.text.strip()))
    ]
    return 1 / found[0] if len(found) == 1 and found[0] > 0 else None


def compare(
    path: Path,
    *,
    show: Show,
    sizes: Sequence[Size],
    title: str = "",
    sha256: str = "",
    count: int = 0,
    failures: int = 0,
    board: Any = None,
    panels: Sequence[Any] = (),
    sheet: int = 0,
    sheets: int = 1,
) -> list[str]:
    """Read a drawing and say what on it is not as it should be.

    Args:
        path: the PDF.
        show: the unit of its dimensions.
        sizes: width and height that its page may have, mm.
        title: the build file's.
        sha256: the build file's hash, of which the first 12 digits are printed.
        count: how many sheets there are; 0 for any number.
        failures: how many failures it has to speak of.
        board: the board that it shows, as in the summary; None where it shows another thing.
        panels: foam panels as in the summary, of which it shows those that it names.
        sheet: its page in the PDF, from 0.
        sheets: how many pages the PDF has to have.

    Returns:
        One sentence for each fault; none when all is well.
    """
    document = read(path)
    faults = [f"font {name} is not in the file" for name in document.missing_fonts]
    if len(document.pages) != sheets:
        return [f"{path.name}: has {len(document.pages)} pages, not {sheets}"]
    page = document.pages[sheet]
    faults += _page_faults(page, sizes, title, sha256, count, failures, show)
    scale = scale_of(page)
    if scale is None:
        return [f"{path.name}: {fault}" for fault in (*faults, "does not give one scale")]
    found, unread = dimensions(page)
    faults += unread
    if not found:
        faults.append("has no dimension")
    for each in found:
        faults += _length_faults(each, scale, show)
    if board is not None:
        faults += _board_faults(page, found, board, scale, show)
    faults += _panel_faults(page, found, panels, scale)
    return [f"{path.name}: {fault}" for fault in faults]


def _page_faults(
    page: Page, sizes: Sequence[Size], title: str, sha256: str, count: int, failures: int,
    show: Show,
) -> Iterator[str]:  # fmt: skip
    said = [text.text for text in page.texts]
    if not any(
        abs(page.width - wide) < 0.05 and abs(page.height - high) < 0.05 for wide, high in sizes
    ):
        yield f"its page is {page.width:.2f} x {page.height:.2f} mm"
    if page.rotate:
        yield f"its page is turned by {page.rotate} degrees"
    if page.unread:
        yield f"holds what cannot be read back: {', '.join(page.unread)}"
    if any(text.mirrored for text in page.texts):
        yield "is mirrored"
    wanted = _letters(title)
    if wanted and not any(_starts(wanted, text) for text in said):
        yield "does not say the design's title"
    unit = "inches" if show == "in" else "millimeters"
    for text in (unit, "checked", *([sha256[:12]] if sha256 else [])):
        if text not in said:
            yield f"does not say {text!r}"
    if count and not any(re.fullmatch(rf"\d+ of {count}", text) for text in said):
        yield f"does not say that it is one of {count} sheets"
    if failures and not any(text.startswith(FAILING) for text in said):
        yield f"does not say {FAILING!r}"
    for text in page.texts:
        turn = math.radians(text.turn_deg)
        x, y = text.x + math.cos(turn) * text.width, text.y + math.sin(turn) * text.width
        if not all(0 <= a <= page.width for a in (text.x, x)) or not all(
            0 <= a <= page.height for a in (text.y, y)
        ):
            yield f"{text.text!r} runs over the paper's edge"


def _letters(text: str) -> str:
    """Return the letters and digits that every font has; the rest may be drawn in other ways."""
    text = unicodedata.normalize("NFC", text)
    return "".join(char for char in text if char.isascii() and char.isalnum())


def _starts(wanted: str, text: str) -> bool:
    """Whether a text is the title, or as much of it as there was room for."""
    got = _letters(text)
    return got == wanted or (text.endswith("\u2026") and len(text) > 12 and wanted.startswith(got))


def _length_faults(each: Dimension, scale: float, show: Show) -> Iterator[str]:
    real = each.length / scale
    try:
        said = parse(each.text, "length")
    except UnitError:
        yield f"{each.text!r} on a dimension is no length"
        return
    rounding = 25.4 / 64 if show == "in" else 0.05
    if abs(said - real) > rounding + NEAR / 2 / scale:
        yield f"{each.text!r} stands at a dimension of {real:.2f} mm"
    if each.text.strip().split()[-1] != show:
        yield f"{each.text!r} is not in {show}"


def _board_faults(
    page: Page, found: Sequence[Dimension], board: Any, scale: float, show: Show
) -> Iterator[str]:
    """Check a board's outline, bores and their distances from its lower left corner."""
    long, wide = board["long_point_mm"] * scale, board["width_mm"] * scale
    corner = _corner(page, long, wide)
    if corner is None:
        yield "the board's outline is not there"
        return
    x0, y0 = corner
    wanted = [("the long point", 0, 0.0, long), ("the width", 1, 0.0, wide)]
    wanted += [("the thickness", 1, None, board["thickness_mm"] * scale)]
    texts = {text.text for text in page.texts}
    for hole in board["holes"]:
        u, v, across = hole["u_mm"], hole["v_mm"], hole["diameter_mm"]
        place = x0 + u * scale, y0 + v * scale
        if not any(
            math.dist((circle.x, circle.y), place) < NEAR
            and abs(circle.diameter - across * scale) < NEAR
            for circle in page.circles
        ):
            yield f"{hole['name']} is not where it should be, or not of its size"
        figures = [bit_text(across, show), length_text(u, show), length_text(v, show)]
        if hole["purpose"] == "pilot" or _in_table(page, figures):
            if not _in_table(page, figures):
                yield f"{hole['name']}: no row of the table says {', '.join(figures)}"
            continue
        if not any(text.endswith(f"\u2300 {figures[0]}") for text in texts):
            yield f"{hole['name']}: its diameter is not told"
        wanted += [
            (f"{hole['name']} from the left", 0, 0.0, u * scale),
            (f"{hole['name']} from below", 1, 0.0, v * scale),
        ]
    for what, axis, start, end in wanted:
        if not any(_measures(each, axis, start, end, (x0, y0)) for each in found):
            yield f"no dimension for {what}"


def _panel_faults(
    page: Page, found: Sequence[Dimension], panels: Sequence[Any], scale: float
) -> Iterator[str]:
    """Check that a foam panel of its sizes has its round holes where they should be."""
    shown = [each for each in panels if any(t.text == f"foam, {each['side']}" for t in page.texts)]
    if panels and not shown:
        yield "names no foam panel"
    for panel in shown:
        corners = [
            (min(across.a[0], across.b[0]), min(up.a[1], up.b[1]))
            for across in found
            for up in found
            if _measures(across, 0, None, panel["length_mm"] * scale, (0.0, 0.0))
            and _measures(up, 1, None, panel["width_mm"] * scale, (0.0, 0.0))
        ]
        holes = [
            (hole["u_mm"] * scale, hole["v_mm"] * scale, hole["diameter_mm"] * scale)
            for hole in panel["holes"]
            if "diameter_mm" in hole and _stands_alone(hole, panel)
        ]
        if not corners:
            yield f"no dimensions for the sizes of foam-{panel['side']}"
        elif not any(
            all(
                any(
                    math.dist((circle.x, circle.y), (x + u, y + v)) < NEAR
                    and abs(circle.diameter - across) < NEAR
                    for circle in page.circles
                )
                for u, v, across in holes
            )
            for x, y in corners
        ):
            yield f"the holes of foam-{panel['side']} are not where they should be"


def _stands_alone(hole: Any, panel: Any) -> bool:
    """Whether a round hole touches neither an edge nor another hole: then it is a whole circle."""
    u, v, r = hole["u_mm"], hole["v_mm"], hole["diameter_mm"] / 2
    room = min(u, v, panel["length_mm"] - u, panel["width_mm"] - v) - r
    for other in panel["holes"]:
        if other is hole:
            continue
        across, up = abs(other["u_mm"] - u), abs(other["v_mm"] - v)
        if "diameter_mm" in other:
            away = math.hypot(across, up) - other["diameter_mm"] / 2
        else:
            half, tall = other["length_mm"] / 2, other["height_mm"] / 2
            away = math.hypot(max(across - half, 0.0), max(up - tall, 0.0))
        room = min(room, away - r)
    return room > NEAR


def _in_table(page: Page, figures: Sequence[str]) -> bool:
    """Whether some line of text has these figures, one after the other and nothing between."""
    for first in page.texts:
        if first.text != figures[0] or first.turn_deg:
            continue
        row = [text for text in page.texts if abs(text.y - first.y) < NEAR and text.x >= first.x]
        row.sort(key=lambda text: text.x)
        if [text.text for text in row[: len(figures)]] == list(figures):
            return True
    return False


def _corner(page: Page, long: float, wide: float) -> Point | None:
    """Return the lower left corner of a rectangle of a size, drawn line by line."""
    for line in page.lines:
        if abs(line.y1 - line.y2) > NEAR or abs(line.length - long) > NEAR:
            continue
        x0, y0 = min(line.x1, line.x2), line.y1
        edges = (
            ((x0, y0 + wide), (x0 + long, y0 + wide)),
            ((x0, y0), (x0, y0 + wide)),
            ((x0 + long, y0), (x0 + long, y0 + wide)),
        )
        if all(any(_same(other, *edge) for other in page.lines) for edge in edges):
            return x0, y0
    return None


def _same(line: Line, a: Point, b: Point) -> bool:
    ends = (line.x1, line.y1), (line.x2, line.y2)
    return any(math.dist(p, a) < NEAR and math.dist(q, b) < NEAR for p, q in (ends, ends[::-1]))


def _measures(each: Dimension, axis: int, start: float | None, end: float, corner: Point) -> bool:
    """Whether a dimension goes from one place to another along x (0) or y (1) of the page."""
    if abs(each.a[1 - axis] - each.b[1 - axis]) > NEAR:
        return False
    low, high = sorted((each.a[axis], each.b[axis]))
    if start is None:
        return abs(high - low - end) < NEAR
    return abs(low - corner[axis] - start) < NEAR and abs(high - corner[axis] - end) < NEAR
