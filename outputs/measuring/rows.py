"""One reading as it stands on the sheet: number, name, where to measure, a box to fill in."""

from collections.abc import Sequence

from ..paper.dims import CAPITAL
from ..paper.marks import Mark, Pen, Words, moved, rectangle
from ..paper.pdf import clean, text_width
from .callout import BALLOON, SIZE, balloon
from .readings import Reading

NAME_SIZE = 3.2
PITCH = 3.45
"""From line to line of small text, mm."""

INDENT = BALLOON + 1.6
BOX, BOX_HIGH = 27.0, 6.7
BELOW = 4.4
"""What a box is moved down where a long name stands in its way, mm."""

BOX_SHARE = 0.34
"""The most that a box takes of a narrow column."""

SIDE_HIGH = 8.4
GAP = 1.9
"""Between two readings, mm."""

CATALOGUE = "The catalogue's figure stands."
"""What many readings may be left out for; it is said in fewer words."""

MOST = 80
"""Letters on a line, at most."""

FRAME = Pen(0.35)
TICK = 3.2
FAINT = 0.4
"""Gray of what stands in a box to say what belongs there."""


def row(
    reading: Reading, number: int, x: float, top: float, width: float
) -> tuple[list[Mark], float]:
    """Draw a reading; return the marks and the height that it takes, mm."""
    marks: list[Mark] = []
    base = top - 3.0
    if reading.pictured:
        marks += balloon((x + BALLOON / 2, base + NAME_SIZE * CAPITAL / 2), number)
    else:
        marks.append(Words(x + BALLOON / 2, base, SIZE, str(number), "middle"))
    boxes, taken = _boxes(reading, x, top, width)
    beside = width - INDENT - taken - 2 * (taken > 0)
    rooms = [beside, width - INDENT]
    low = BOX_HIGH + 0.4
    if text_width(reading.key, NAME_SIZE) > beside:  # then the boxes stand below the name
        boxes = [moved(mark, 0, -BELOW) for mark in boxes]
        rooms = [beside, beside, beside, width - INDENT]
        low += BELOW
    marks += boxes
    marks.append(Words(x + INDENT, base, NAME_SIZE, reading.key))
    lines = broken(_said(reading), rooms)
    for i, text in enumerate(lines, 1):
        marks.append(Words(x + INDENT, base - PITCH * i, SIZE, text))
    high = 3.0 + PITCH * len(lines) + 0.9
    if reading.boxes == "sides":
        marks += _sides(reading, x + INDENT, top - high - 0.3, width - INDENT)
        high += SIDE_HIGH + 0.6
    return marks, max(high, low) + GAP


def _said(reading: Reading) -> str:
    if reading.needed:
        return f"{reading.where} Needed."
    if reading.left_out == CATALOGUE:
        return f"{reading.where} Or by the catalogue."
    return (
        f"{reading.where} Left out: {_lower(reading.left_out)}"
        if reading.left_out
        else reading.where
    )


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def broken(text: str, rooms: Sequence[float], size: float = SIZE, most: int = MOST) -> list[str]:
    """Break a text into lines; the first has the first room, those after the last have the last.

    No line has more than ``most`` letters: longer ones are hard to follow to their end.
    """
    lines: list[str] = []
    line = ""
    for word in clean(text).split(" "):
        room = rooms[min(len(lines), len(rooms) - 1)]
        longer = f"{line} {word}" if line else word
        if line and (text_width(longer, size) > room or len(longer) > most):
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def _boxes(reading: Reading, x: float, top: float, width: float) -> tuple[list[Mark], float]:
    """Draw what stands at the right of a reading's name; return how wide it is."""
    right = x + width
    if reading.boxes == "sides":
        return [], 0.0
    if reading.boxes == "choice":
        marks: list[Mark] = []
        at = right
        for word in reversed(reading.choices):
            at -= text_width(word, SIZE)
            marks.append(Words(at, top - 3.0, SIZE, word))
            at -= TICK + 1
            marks.append(rectangle(at, top - 3.0 - 0.5, TICK, TICK, FRAME))
            at -= 3
        return marks, right - at - 3
    if reading.boxes == "twice":
        wide = 22.0
        left = right - 2 * wide
        return [
            *box(left, top - BOX_HIGH, wide, BOX_HIGH, reading.unit),
            *box(right - wide, top - BOX_HIGH, wide, BOX_HIGH, reading.unit),
        ], 2 * wide
    wide = min(BOX, width * BOX_SHARE)
    return box(right - wide, top - BOX_HIGH, wide, BOX_HIGH, reading.unit), wide


def _sides(reading: Reading, x: float, top: float, width: float) -> list[Mark]:
    wide = width / 4
    marks: list[Mark] = []
    for i, side in enumerate(("front", "right", "back", "left")):
        left = x + i * wide
        marks += box(left, top - SIDE_HIGH, wide, SIDE_HIGH, reading.unit)
        marks.append(Words(left + 0.8, top - SIZE * CAPITAL - 0.7, SIZE, side, gray=FAINT))
    return marks


def box(x: float, y: float, width: float, height: float, unit: str) -> list[Mark]:
    """Draw a box to write in, with the unit in its lower right corner."""
    frame: Mark = rectangle(x, y, width, height, FRAME)
    if not unit:
        return [frame]
    return [frame, Words(x + width - 1.0, y + 1.6, SIZE, unit, "end", gray=FAINT)]
