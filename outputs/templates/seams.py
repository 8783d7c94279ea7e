"""Register marks, cut lines and texts along the seams of a tiled template.

Every seam has a letter, every mark on it a number; both neighbours print the same mark at the
same place of the board, so each can lie on one other only. A sheet is laid over its left and its
lower neighbour: it is the one that is cut, along its left and its lower seam.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..paper.marks import Mark, Pen, Words, line
from ..paper.pdf import text_width
from .labels import Box, free
from .tiles import BAND, Span, Tile, Tiling

ARM = 5.0
"""Half of a register cross, mm; it stays inside the band."""

EDGE_GAP = 8.0
"""Marks keep this far from the board's edges, mm, so that no fold runs through one."""

MARK_PEN = Pen(0.15)
SEAM_PEN = Pen(0.2, (1.5, 1.0), 0.3)
MARK_SIZE = 2.6
TEXT_SIZE = 2.5


@dataclass(frozen=True, slots=True)
class Seam:
    """A seam along one sheet: where it is across, and from where to where it runs along."""

    letter: str
    at: float
    run: Span
    upright: bool
    covered: bool
    neighbour: int
    first: int

    def point(self, along: float, across: float = 0.0) -> tuple[float, float]:
        """Return the board's (x, y) of a place along the seam, ``across`` beside it."""
        return (self.at + across, along) if self.upright else (along, self.at + across)

    def box(self, low: float, high: float, below: float, above: float) -> Box:
        """Return the box from ``low`` to ``high`` along and ``below`` to ``above`` across."""
        if self.upright:
            return Box(self.at + below, low, self.at + above, high)
        return Box(low, self.at + below, high, self.at + above)


def letters(index: int) -> str:
    """Return A, B to Z, AA, AB and so on for 0, 1 and so on."""
    index += 1
    found = ""
    while index:
        index, rest = divmod(index - 1, 26)
        found = chr(ord("A") + rest) + found
    return found


def seam_marks(
    tiling: Tiling,
    tile: Tile,
    size: tuple[float, float],
    holes: Sequence[Box],
    lines: Sequence[Box] = (),
) -> tuple[list[Mark], list[Box]]:
    """Draw what stands along the seams of one sheet.

    Args:
        tiling: all the sheets.
        tile: this one.
        size: length and width of the board, mm.
        holes: what the holes take, for marks to keep clear of.
        lines: what other lines take, for texts to keep clear of where they can.

    Returns:
        The marks, and the boxes in which no other text may stand; in the board's mm.
    """
    marks: list[Mark] = []
    bands: list[Box] = []
    for seam in _seams(tiling, tile):
        ends = tile.shown_y if seam.upright else tile.shown_x
        bands.append(seam.box(*ends, -BAND / 2, BAND / 2))
        marks.append(line(*seam.point(ends[0]), *seam.point(ends[1]), SEAM_PEN))
        places = mark_places(seam, size[1] if seam.upright else size[0], holes)
        for i, along in enumerate(places):
            marks += _cross(seam, along, f"{seam.letter}{seam.first + i}")
        marks += _text(seam, places, size[1] if seam.upright else size[0], [*holes, *lines])
    return marks, bands


def _seams(tiling: Tiling, tile: Tile) -> Iterator[Seam]:
    """Yield the seams of a sheet: left, right, bottom, top."""
    columns, rows = tiling.columns, tiling.rows
    for side, number, neighbour in ((0, tile.column - 2, -1), (1, tile.column - 1, 1)):
        if 0 <= number < len(columns.seams):
            yield Seam(
                letters(tiling.letters + number), columns.seams[number], tile.own_y, True, not side,
                tile.number + neighbour, 3 * (tile.row - 1) + 1,
            )  # fmt: skip
    from_bottom = rows.count - tile.row
    for side, number, neighbour in ((0, from_bottom - 1, 1), (1, from_bottom, -1)):
        if 0 <= number < len(rows.seams):
            yield Seam(
                letters(tiling.letters + len(columns.seams) + number), rows.seams[number],
                tile.own_x, False, not side, tile.number + neighbour * columns.count,
                3 * (tile.column - 1) + 1,
            )  # fmt: skip


def mark_places(seam: Seam, length: float, holes: Sequence[Box]) -> list[float]:
    """Return up to three places along a seam for marks: near its ends and in the middle."""
    low = max(seam.run[0] + BAND, EDGE_GAP)
    high = min(seam.run[1] - BAND, length - EDGE_GAP)
    if high <= low:  # a narrow strip of board: its own middle will do
        return [(max(seam.run[0], -ARM) + min(seam.run[1], length + ARM)) / 2]
    wanted = [low, (low + high) / 2, high] if high - low > 60 else [low, high]
    if high - low < 3 * ARM:
        wanted = [(low + high) / 2]
    found: list[float] = []
    band = seam.box(low - ARM, high + ARM, -ARM, ARM)
    band = band.grown(1e-6)
    near = [hole for hole in holes if hole.meets(band)]
    choices = [
        place
        for place in (low + i * (high - low) / 100 for i in range(101))
        if free(seam.box(place - ARM, place + ARM, -ARM, ARM), band, near)
    ]
    for want in wanted:
        fits = [each for each in choices if all(abs(each - other) > 2.5 * ARM for other in found)]
        if fits:
            found.append(min(fits, key=lambda place: abs(place - want)))
    return sorted(found) or [(low + high) / 2]


def _cross(seam: Seam, along: float, name: str) -> Iterator[Mark]:
    """Draw a register cross with its name on both sides of the seam."""
    yield line(*seam.point(along - ARM), *seam.point(along + ARM), MARK_PEN)
    yield line(*seam.point(along, -ARM), *seam.point(along, ARM), MARK_PEN)
    x, y = seam.point(along)
    size = min(MARK_SIZE, 6.5 / len(name))
    yield Words(x - 0.8, y + 0.9, size, name, "end")
    yield Words(x + 0.8, y - 0.9 - size * 0.73, size, name, "start")


def _text(
    seam: Seam, places: Sequence[float], length: float, taken: Sequence[Box]
) -> Iterator[Mark]:
    """Say what to do at a seam, on the side of it that will not be seen, between two marks."""
    if seam.covered:
        words = f"✂ cut here, lay this sheet over sheet {seam.neighbour}"
        short = f"✂ over sheet {seam.neighbour}"
        below, above = -BAND / 2, 0.0
    else:
        words = f"sheet {seam.neighbour} lies over this from here on"
        short = f"under sheet {seam.neighbour}"
        below, above = 0.0, BAND / 2
    low, high = max(seam.run[0], 0.0), min(seam.run[1], length)
    ends = [low, *places, high]
    for a, b in sorted(pairwise(ends), key=lambda gap: gap[0] - gap[1]):
        room = b - a - 2 * ARM - 3
        for text in (words, short):
            half = text_width(text, TEXT_SIZE) / 2
            spare = room / 2 - half
            for along in ((a + b) / 2 + spare * part for part in (0.0, -0.5, 0.5, -1.0, 1.0)):
                box = seam.box(along - half - 1.0, along + half + 1.0, below, above)
                if spare >= 0 and not any(box.meets(each) for each in taken):
                    middle = (below + above) / 2
                    shift = TEXT_SIZE * 0.36 * (1 if seam.upright else -1)
                    x, y = seam.point(along, middle + shift)
                    yield Words(x, y, TEXT_SIZE, text, "middle", 90 if seam.upright else 0)
                    return
