"""What stands at a board's ends: the saw's lines over its edges, the blade's tilt, a blank's end.

On the outer face the cut starts at the fold, at the long point, and runs inward over the edges. On
the inner face it starts at the short point and runs outward: as long as the blank is not mitered
its end is out there, and the paper can be folded over that instead.
"""

from collections.abc import Iterable, Iterator

from ...geometry.shape.sheet import End, Sheet, miter_lines
from ...params.units import Show, both_text, length_text
from ..paper.marks import Mark, Pen, Words, line
from ..paper.pdf import first_fitting, text_width
from .labels import Box, free
from .tiles import Tile, Tiling

MITER_PEN = Pen(0.35)
BLANK_PEN = Pen(0.25, (4.0, 1.2))
SIZE = 2.6
STEPS = 12
"""In how many boxes a sloping line is taken for texts to keep clear of."""

Placed = tuple[Mark, Box]


def tilt(end: End) -> str:
    """Say how the saw stands for an end."""
    said = f"tilt the blade {end.tilt_deg:.1f} deg, board flat, outer face up"
    if end.prove:
        return f"{said}; prove this tilt on scraps"
    return said if end.scale_deg is None else f"{said}; set the scale to {end.scale_deg:.1f} deg"


def ends_of(sheet: Sheet) -> list[tuple[bool, float, End]]:
    """Return a board's mitered ends as seen: whether it is the left one, and where it is, mm."""
    if sheet.ends is None:
        return []
    left, right = sheet.ends
    found = [(True, 0.0, left), (False, sheet.length, right)]
    return [each for each in found if each[2].tilt_deg]


def flap_marks(sheet: Sheet, tiling: Tiling, tile: Tile) -> tuple[list[Mark], list[Box]]:
    """Draw the cuts over the board's edges; and say where they stand."""
    marks: list[Mark] = []
    boxes: list[Box] = []
    for x1, y1, x2, y2 in miter_lines(sheet, -tiling.rows.low):
        marks.append(line(x1, y1, x2, y2, MITER_PEN))
        dx, dy = (x2 - x1) / STEPS, (y2 - y1) / STEPS
        boxes += [
            Box(*_ordered(x1 + i * dx, x1 + (i + 1) * dx, y1 + i * dy, y1 + (i + 1) * dy)).grown(
                0.4
            )
            for i in range(STEPS)
        ]
    if -tiling.rows.low > sheet.thickness:
        texts = list(_far_edges(sheet, tiling))
        marks += [mark for mark, _ in texts]
        boxes += [box for _, box in texts]
    shown = _shown(tile)
    for text, box in _named(sheet, tiling, tile):
        if free(box, shown, boxes):
            marks.append(text)
            boxes.append(box)
    return marks, boxes


def _far_edges(sheet: Sheet, tiling: Tiling) -> Iterator[Placed]:
    """Draw where the board's edges end at the other face, where so much of them is seen."""
    low, high = tiling.columns.low, tiling.columns.high
    runs = {left: end.run * sheet.thickness for left, _, end in ends_of(sheet)}
    x0 = max(low, runs.get(True, 0.0))
    x1 = min(high, sheet.length - runs.get(False, 0.0))
    text, size = "inner face begins: fold again", 2.4
    half = text_width(text, size) / 2
    for y, foot in (
        (-sheet.thickness, -sheet.thickness - 1.2 - size * 0.75),
        (sheet.width + sheet.thickness, sheet.width + sheet.thickness + 1.2),
    ):
        middle = (x0 + x1) / 2
        yield line(x0, y, x1, y, BLANK_PEN), Box(x0, y, x1, y).grown(0.5)
        box = Box(middle - half, foot - 0.3, middle + half, foot + size * 0.75)
        yield Words(middle, foot, size, text, "middle"), box


def _ordered(x1: float, x2: float, y1: float, y2: float) -> tuple[float, float, float, float]:
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def _shown(tile: Tile) -> Box:
    return Box(tile.own_x[0], tile.own_y[0], tile.own_x[1], tile.own_y[1])


def _named(sheet: Sheet, tiling: Tiling, tile: Tile) -> Iterator[Placed]:
    """Name the lines over the edges, on the side of the board's middle."""
    size, text = 2.2, "miter"
    wide = text_width(text, size)
    flap = min(-tiling.rows.low, sheet.thickness)
    deep = min(flap - 0.6, 12.0)
    for left, at, end in ends_of(sheet):
        away = max(end.run, 0.0) * (deep + 0.6) + 1.6 + sheet.thickness / STEPS
        x = at + away if left else at - away - wide
        for y in (-deep, sheet.width + deep - size * 0.73):
            yield Words(x, y, size, text), Box(x, y - 0.3, x + wide, y + size * 0.75)


def tilt_texts(sheet: Sheet, tile: Tile, taken: Iterable[Box]) -> tuple[list[Placed], list[str]]:
    """Say near each mitered end on this sheet how the saw stands for it.

    Returns:
        The texts with where they stand, and what found no room beside its end.
    """
    placed: list[Placed] = []
    left_out: list[str] = []
    full = list(taken)
    for left, at, end in ends_of(sheet):
        if not tile.own_x[0] <= at <= tile.own_x[1]:
            continue
        region = _on_board(sheet, tile)
        found = _beside_end(tilt(end), at, left, max(end.run, 0.0) * sheet.thickness, region, full)
        if found is None:
            left_out.append(f"{'left' if left else 'right'} end: {tilt(end)}.")
            continue
        placed.append(found)
        full.append(found[1])
    return placed, left_out


def _on_board(sheet: Sheet, tile: Tile) -> Box:
    (x0, x1), (y0, y1) = tile.own_x, tile.own_y
    return Box(max(x0, 0.0), max(y0, 0.0), min(x1, sheet.length), min(y1, sheet.width))


def _beside_end(
    text: str, at: float, left: bool, inner: float, region: Box, taken: list[Box]
) -> Placed | None:
    """Find a place for a text that runs up the board near an end, or along it where it is low."""
    long, tall = text_width(text, SIZE) + 1.0, SIZE
    turn = 1 if left else -1
    middle = (region.y0 + region.y1) / 2
    aways = [1.4, inner + 1.4, *(inner + 4.0 * i for i in range(1, 16))]
    for away in aways:
        x0 = at + away if left else at - away - tall
        for y in _from_middle(region.y0 + long / 2, region.y1 - long / 2, middle):
            box = Box(x0, y - long / 2, x0 + tall, y + long / 2)
            if free(box, region, taken):
                return Words(x0 + tall * 0.8, y, SIZE, text, "middle", 90), box
    for away in aways:
        x0 = at + turn * away - (0.0 if left else long)
        for y in _from_middle(region.y0, region.y1 - tall, middle):
            box = Box(x0, y, x0 + long, y + tall)
            if free(box, region, taken):
                return Words(x0 + 0.5, y + tall * 0.2, SIZE, text), box
    return None


def _from_middle(low: float, high: float, middle: float) -> list[float]:
    """Return places from low to high, 4 mm apart, those near the middle first."""
    steps = int((high - low) // 4.0)
    return sorted(
        (low + (high - low) * i / max(steps, 1) for i in range(steps + 1)),
        key=lambda place: abs(place - middle),
    )


def blank_marks(sheet: Sheet, tile: Tile, region: Box, show: Show) -> list[Placed]:
    """Draw on an inner face the blank that is not mitered yet, and say where its ends are.

    ``region`` is where texts may stand on the face of the board.
    """
    found: list[Placed] = []
    size, wide, y0, y1 = 2.8, sheet.width, region.y0, region.y1
    for left, at, _ in ends_of(sheet):
        beyond = sheet.beyond[0 if left else 1]
        end = at - beyond if left else at + beyond
        edges = (at, 0.0, end, 0.0), (at, wide, end, wide), (end, 0.0, end, wide)
        found += [
            (line(*edge, BLANK_PEN), Box(*_ordered(edge[0], edge[2], edge[1], edge[3])).grown(0.5))
            for edge in edges
        ]
        if not tile.own_x[0] <= end <= tile.own_x[1]:
            continue
        out = both_text(beyond, show)
        text = first_fitting(
            (
                f"long point, {out} out. Not yet mitered: the blank ends here, fold here",
                f"long point, {out} out. Not yet mitered: fold here",
                f"long point, {length_text(beyond, show)} out. Not yet mitered: fold here",
                f"long point, {length_text(beyond, show)} out",
            ),
            size,
            y1 - y0,
        )
        x = end - 1.6 - size * 0.1 if left else end + 1.6 + size * 0.75
        half, y = text_width(text, size) / 2, (y0 + y1) / 2
        box = Box(x - size * 0.75, y - half, x + size * 0.2, y + half)
        found.append((Words(x, y, size, text, "middle", 90), box))
    return found
