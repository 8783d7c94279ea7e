"""Walks the content stream of a PDF page and notes what is seen.

The current matrix and the clip are kept as the operators ask for (ISO 32000-1, chapters 8 and
9). Only what templates are made of is understood; anything else that would leave a mark is
named in ``unread``.
"""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from .pdf_page import (
    IDENTITY,
    MM,
    ROUND,
    Circle,
    Curve,
    Line,
    Matrix,
    Page,
    Point,
    Rect,
    Sub,
    Text,
    apply,
    as_circle,
    clipped,
    times,
)
from .printer import Printer


@dataclass(frozen=True, slots=True)
class Font:
    """How the codes of a font are read: characters, and widths in em."""

    chars: dict[int, str]
    widths: dict[int, float]


@dataclass(slots=True)
class _State:
    matrix: Matrix
    clip: Rect
    stroke: float = 0.0
    fill: float = 0.0
    font: Font | None = None
    size: float = 0.0
    leading: float = 0.0
    pen: float = 1.0
    dashed: bool = False


def read_page(page: Any, number: int, printer: Printer | None = None) -> Page:
    """Walk the content of one of pypdf's pages; all of it is as the printer makes it, in mm."""
    from pypdf.generic import ContentStream

    unit = float(page.get("/UserUnit", 1)) * MM
    box = page.mediabox
    sheet = float(box.width) * unit, float(box.height) * unit
    x, y = printer.makes(*sheet) if printer else (1.0, 1.0)
    width, height = sheet[0] * x, sheet[1] * y
    left, bottom = -float(box.left) * unit * x, -float(box.bottom) * unit * y
    base: Matrix = (unit * x, 0, 0, unit * y, left, bottom)
    walker = _Walker(base, (0.0, 0.0, width, height), fonts_of(page))
    contents = page.get_contents()
    if contents is not None:
        for operands, operator in ContentStream(contents, page.pdf).operations:
            walker.do(operator.decode("latin1"), operands)
    return Page(
        number,
        width,
        height,
        int(page.get("/Rotate", 0)) % 360,
        tuple(walker.lines),
        tuple(walker.circles),
        tuple(walker.texts),
        tuple(dict.fromkeys(walker.unread)),
        tuple(walker.filled),
        tuple(walker.curves),
        tuple(dict.fromkeys(walker.windows)),
        sheet,
    )


def fonts_of(page: Any) -> dict[str, Font]:
    """Return a page's fonts by the name that the content uses."""
    listed = page.get("/Resources", {}).get("/Font", {})
    return {name: _font(entry.get_object()) for name, entry in listed.items()}


def _font(entry: Any) -> Font:
    first = int(entry.get("/FirstChar", 0))
    widths = {first + i: float(w) / 1000 for i, w in enumerate(entry.get("/Widths", []))}
    if "/ToUnicode" not in entry:
        return Font({code: chr(code) for code in range(256)}, widths)
    table = entry["/ToUnicode"].get_object().get_data().decode("latin1")
    chars: dict[int, str] = {}
    for block in re.findall(r"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        for code, text in re.findall(r"<(\w+)>\s*<(\w+)>", block):
            chars[int(code, 16)] = _utf16(text)
    for block in re.findall(r"beginbfrange(.*?)endbfrange", table, re.DOTALL):
        for low, _, listed in re.findall(r"<(\w+)>\s*<(\w+)>\s*\[(.*?)\]", block, re.DOTALL):
            for i, text in enumerate(re.findall(r"<(\w+)>", listed)):
                chars[int(low, 16) + i] = _utf16(text)
        for low, high, text in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            for code in range(int(low, 16), int(high, 16) + 1):
                chars[code] = chr(ord(_utf16(text)) + code - int(low, 16))
    return Font(chars, widths)


def _utf16(digits: str) -> str:
    return bytes.fromhex(digits).decode("utf-16-be", "replace")


class _Walker:
    """Follows the operators of one content stream."""

    def __init__(self, base: Matrix, clip: Rect, fonts: dict[str, Font]) -> None:
        self.state = _State(base, clip)
        self.saved: list[_State] = []
        self.fonts = fonts
        self.path: list[Sub] = []
        self.clipping = False
        self.text_matrix = self.line_matrix = IDENTITY
        self.lines: list[Line] = []
        self.circles: list[Circle] = []
        self.texts: list[Text] = []
        self.unread: list[str] = []
        self.filled: list[tuple[Point, ...]] = []
        self.curves: list[Curve] = []
        self.windows: list[Rect] = []

    def do(self, operator: str, operands: list[Any]) -> None:
        """Do one operator."""
        if operator in _PAINT:
            self._paint(*_PAINT[operator])
            return
        action = _ACTIONS.get(operator)
        if action is not None:
            action(self, operands)
        elif operator not in _IGNORED:
            self.unread.append(operator)

    def save(self, _: list[Any]) -> None:
        """Operator q."""
        self.saved.append(replace(self.state))

    def restore(self, _: list[Any]) -> None:
        """Operator Q."""
        self.state = self.saved.pop()

    def concat(self, values: list[Any]) -> None:
        """Operator cm."""
        a, b, c, d, e, f = (float(value) for value in values)
        self.state.matrix = times((a, b, c, d, e, f), self.state.matrix)

    def _at(self, values: list[Any]) -> list[Point]:
        plain = [float(value) for value in values]
        pairs = zip(plain[::2], plain[1::2], strict=True)
        return [apply(self.state.matrix, x, y) for x, y in pairs]

    def move(self, values: list[Any]) -> None:
        """Operator m."""
        self.path.append(Sub(self._at(values)[0]))

    def step(self, values: list[Any]) -> None:
        """Operators l and c."""
        self.path[-1].steps.append(tuple(self._at(values)))

    def close(self, _: list[Any]) -> None:
        """Operator h."""
        if self.path:
            self.path[-1].closed = True

    def rectangle(self, values: list[Any]) -> None:
        """Operator re."""
        x, y, w, h = (float(value) for value in values)
        corners = self._at([x, y, x + w, y, x + w, y + h, x, y + h])
        self.path.append(Sub(corners[0], [(each,) for each in corners[1:]], closed=True))

    def clip(self, _: list[Any]) -> None:
        """Operators W and W*: the path becomes the clip when it is painted."""
        self.clipping = True

    def _paint(self, stroke: bool, fill: bool, close: bool) -> None:
        if close:
            self.close([])
        if self.clipping:
            self._set_clip()
        pen, dashed = self._pen(), self.state.dashed
        inked = (stroke and self.state.stroke < 0.95) or (fill and self.state.fill < 0.95)
        for sub in self.path if inked else ():
            circle = as_circle(sub, fill and not stroke, self.state.clip, pen, dashed)
            if circle is not None:
                self.circles.append(circle)
            elif stroke:
                self._add_lines(sub, pen, dashed)
            elif all(len(step) == 1 for step in sub.steps):
                self.filled.append((sub.start, *(step[0] for step in sub.steps)))
        self.path = []

    def _set_clip(self) -> None:
        self.clipping = False
        points = [p for sub in self.path for p in (sub.start, *(s[-1] for s in sub.steps))]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        square = len(self.path) == 1 and all(
            min(abs(p[0] - min(xs)), abs(p[0] - max(xs))) < ROUND
            and min(abs(p[1] - min(ys)), abs(p[1] - max(ys))) < ROUND
            for p in points
        )
        if not square:
            self.unread.append("a clip that is no upright rectangle")
            return
        x0, y0, x1, y1 = self.state.clip
        new = max(x0, min(xs)), max(y0, min(ys)), min(x1, max(xs)), min(y1, max(ys))
        self.state.clip = new
        self.windows.append(new)

    def _pen(self) -> float:
        """Return how thick a line is on the page, mm."""
        m = self.state.matrix
        return self.state.pen * math.sqrt(abs(m[0] * m[3] - m[1] * m[2]))

    def _add_lines(self, sub: Sub, pen: float, dashed: bool) -> None:
        here = sub.start
        for step in [*sub.steps, *([(sub.start,)] if sub.closed else [])]:
            if len(step) == 1:
                seen = clipped(here, step[0], self.state.clip)
                if seen is not None and seen.length > 0:
                    self.lines.append(replace(seen, pen=pen, dashed=dashed))
            else:
                points = here, step[0], step[1], step[2]
                self.curves.append(Curve(points, self.state.clip, pen, dashed))
            here = step[-1]

    def begin_text(self, _: list[Any]) -> None:
        """Operator BT."""
        self.text_matrix = self.line_matrix = IDENTITY

    def set_matrix(self, values: list[Any]) -> None:
        """Operator Tm."""
        a, b, c, d, e, f = (float(value) for value in values)
        self.text_matrix = self.line_matrix = (a, b, c, d, e, f)

    def set_font(self, values: list[Any]) -> None:
        """Operator Tf."""
        self.state.font = self.fonts.get(str(values[0]))
        self.state.size = float(values[1])

    def set_leading(self, values: list[Any]) -> None:
        """Operator TL."""
        self.state.leading = float(values[0])

    def next_at(self, values: list[Any]) -> None:
        """Operator Td."""
        x, y = float(values[0]), float(values[1])
        self.text_matrix = self.line_matrix = times((1, 0, 0, 1, x, y), self.line_matrix)

    def next_line(self, _: list[Any]) -> None:
        """Operator T*."""
        self.next_at([0, -self.state.leading])

    def show(self, values: list[Any]) -> None:
        """Operator Tj."""
        font, raw = self.state.font, values[0]
        if font is None:
            self.unread.append("a text without a font")
            return
        codes = raw if isinstance(raw, bytes) else raw.original_bytes
        text = "".join(font.chars.get(code, "\ufffd") for code in codes)
        advance = sum(font.widths.get(code, 0.0) for code in codes) * self.state.size
        m = times(self.text_matrix, self.state.matrix)
        x, y = apply(m, 0, 0)
        up = math.hypot(m[2], m[3])
        self.texts.append(
            Text(
                text,
                x,
                y,
                math.degrees(math.atan2(m[1], m[0])),
                self.state.size * up,
                advance * math.hypot(m[0], m[1]),
                m[0] * m[3] - m[1] * m[2] < 0,
            )
        )
        self.text_matrix = times((1, 0, 0, 1, advance, 0), self.text_matrix)

    def set_pen(self, values: list[Any]) -> None:
        """Operator w."""
        self.state.pen = float(values[0])

    def set_dash(self, values: list[Any]) -> None:
        """Operator d."""
        self.state.dashed = bool(len(values[0]))

    def gray_stroke(self, values: list[Any]) -> None:
        """Operators G, RG, SC: how light a line is."""
        self.state.stroke = sum(float(value) for value in values) / len(values)

    def gray_fill(self, values: list[Any]) -> None:
        """Operators g, rg, sc: how light a surface is."""
        self.state.fill = sum(float(value) for value in values) / len(values)


# stroke, fill, close
_PAINT: dict[str, tuple[bool, bool, bool]] = {
    "S": (True, False, False), "s": (True, False, True),
    "f": (False, True, True), "F": (False, True, True), "f*": (False, True, True),
    "B": (True, True, False), "B*": (True, True, False),
    "b": (True, True, True), "b*": (True, True, True),
    "n": (False, False, False),
}  # fmt: skip

_ACTIONS: dict[str, Callable[[_Walker, list[Any]], None]] = {
    "q": _Walker.save, "Q": _Walker.restore, "cm": _Walker.concat,
    "m": _Walker.move, "l": _Walker.step, "c": _Walker.step, "h": _Walker.close,
    "re": _Walker.rectangle, "W": _Walker.clip, "W*": _Walker.clip,
    "BT": _Walker.begin_text, "Tm": _Walker.set_matrix, "Tf": _Walker.set_font,
    "TL": _Walker.set_leading, "Td": _Walker.next_at, "T*": _Walker.next_line,
    "Tj": _Walker.show,
    "w": _Walker.set_pen, "d": _Walker.set_dash,
    "G": _Walker.gray_stroke, "RG": _Walker.gray_stroke,
    "g": _Walker.gray_fill, "rg": _Walker.gray_fill,
}  # fmt: skip

_IGNORED = {"J", "j", "M", "i", "ri", "ET", "BMC", "BDC", "EMC", "MP", "DP"}
"""Operators that move nothing."""
