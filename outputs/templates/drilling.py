"""The drawing on a drilling template: the board's outline, its holes, and what they are called."""

from collections.abc import Iterator, Mapping
from re import fullmatch

from ...geometry.judge.zones import NO_ZONES, Zones
from ...geometry.shape.hole import BRACKET_SET_OUT, HINGE_SET_OUT, Hole, assumed
from ...geometry.shape.sheet import Circle, End, Line, Sheet
from ...params.units import Show, both_text, length_text
from ..paper.marks import Mark, Path, Pen, Ring, Words, arc, line
from ..paper.pdf import first_fitting, text_width
from .labels import Box, Form, Lines, cross_reach, figures, free, hole_box, hole_lines
from .miters import blank_marks, flap_marks, tilt_texts
from .seams import seam_marks
from .tiles import BAND, Tile, Tiling
from .zones import halo_marks, legend, legend_marks, pin_marks, shown, within

FLAP = 8.0
"""What is drawn of the paper beyond the board's edges, mm; its clear margin comes on top."""

OUTLINE_PEN = Pen(0.35, (7.0, 1.2, 1.2, 1.2))
CORNER_PEN = Pen(0.35)
CORNER = 5.0
HOLE_PEN = Pen(0.35)
ASSUMED_PEN = Pen(0.25, (1.2, 1.0))
CROSS_PEN = Pen(0.15)
JOINT_PEN = Pen(0.25, (1.5, 1.0))
HIDDEN_PEN = Pen(0.25, (2.5, 1.5))
BOARD_PEN = Pen(0.35, (6.0, 1.5, 0.8, 1.5))
POINT = 0.8
"""Diameter of the dot that the pilot drill or the punch is set on, mm."""

EDGE_TEXT = 2.8
REPEAT = 500.0
"""One text along an edge for each such length, mm."""


def draw(
    sheet: Sheet,
    tiling: Tiling,
    tile: Tile,
    show: Show,
    names: Mapping[str, str],
    zones: Zones = NO_ZONES,
) -> tuple[list[Mark], tuple[str, ...]]:
    """Draw the board as it is seen on one sheet.

    Args:
        sheet: the board's flat view.
        tiling: all the sheets.
        tile: this one.
        show: the unit that comes first.
        names: what holes are called in print, by their name in the flat view.
        zones: where the holes' centers and the hinge's pin may lie.

    Returns:
        The marks, in the board's mm; and sentences about what could not be done on this sheet.
    """
    marks: list[Mark] = [*halo_marks(sheet, zones)]
    holes = [hole_box(circle) for circle in sheet.circles]
    region = own_region(sheet, tiling, tile)
    marks += _outline(sheet)
    taken = _edges(sheet)
    over_edges, flaps = flap_marks(sheet, tiling, tile)
    marks += over_edges
    taken += flaps
    seams, bands = seam_marks(tiling, tile, (sheet.length, sheet.width), holes, taken)
    words = _edge_words(sheet, _whole(sheet, tiling, show))
    for text, box in edge_texts(sheet, tile, region, words):
        if free(box, box, [*bands, *flaps]):
            marks.append(text)
            taken.append(box)
    marks += seams
    taken += bands
    texts: list[Box] = []
    for mark, box in _hidden_edges(sheet, tile, [*holes, *taken]):
        marks.append(mark)
        taken.append(box)
        texts.append(box)
    marks += [line(e.x1, e.y1, e.x2, e.y2, HIDDEN_PEN) for e in _inner_edges(sheet)]
    for mark, box in _joints(sheet, tile, [*holes, *taken], show):
        marks.append(mark)
        taken.append(box)
        texts.append(box)
    tilts: list[str] = []
    if sheet.face == "outer":
        said_there, tilts = tilt_texts(sheet, tile, [*holes, *taken])
    else:
        said_there = blank_marks(sheet, tile, region, show)
    for mark, box in said_there:
        marks.append(mark)
        taken.append(box)
        texts.append(box)
    for mark, box in _board_edge(sheet, tile, [*holes, *taken]):
        marks.append(mark)
        taken.append(box)
        texts.append(box)
    for mark, box in pin_marks(sheet, zones.pin, tile, -tiling.rows.low, [*holes, *taken]):
        marks.append(mark)
        taken.append(box)
        texts.append(box)
    marks += [line(e.x1, e.y1, e.x2, e.y2, JOINT_PEN) for e in _joint_lines(sheet)]
    for circle in sheet.circles:
        marks += _hole(circle)
    here = [circle for circle in sheet.circles if tile.holds(circle.x, circle.y)]
    said = {circle.name: spoken(circle, names) + _how(circle) for circle in here}
    from_left = words[2][-1]
    also = {circle.name: within(circle, zone, show) for circle, zone in shown(sheet, zones)}

    def lines(circle: Circle, form: Form) -> Lines:
        name = circle.name
        return hole_lines(circle, said[name], show, form, from_left, also.get(name, ""))

    explained = legend(sheet, zones, tile, show)
    for mark, box in legend_marks(explained, region, taken, holes):
        explained = ()
        marks.append(mark)
        taken.append(box)
        texts.append(box)
    placed, left = figures(here, lines, region, taken, holes, texts)
    marks += placed
    unplaced = [said[circle.name] for circle in left]
    notes = _notes(sheet, tiling, tile, unplaced, names)
    return marks, (*tilts, *notes, *([" ".join(explained)] if explained else []))


def spoken(circle: Circle | Hole, names: Mapping[str, str]) -> str:
    """Return what a hole is called in print."""
    if circle.name in names:
        return names[circle.name]
    if assumed(circle.name, circle.purpose):
        if circle.name.startswith(BRACKET_SET_OUT):  # left and right change places from inside
            return f"bracket {circle.name.rpartition('-')[2]} assumed"
        return f"{circle.name} assumed"
    if fullmatch(r"[a-z]+-\d+", circle.name):
        return circle.name.replace("-", " ")
    return f"{circle.purpose}, {circle.name}"


def _how(circle: Circle) -> str:
    """Return how a hole's real place is found where the one that is drawn is a set-out."""
    set_out = assumed(circle.name, circle.purpose)
    return ": mark by leaf" if set_out and circle.name.startswith(HINGE_SET_OUT) else ""


def own_region(sheet: Sheet, tiling: Tiling, tile: Tile) -> Box:
    """Return where texts may stand: what is seen of the sheet, on the board, clear of seams."""
    (x0, x1), (y0, y1) = tile.own_x, tile.own_y
    columns, rows, half = tiling.columns, tiling.rows, BAND / 2
    return Box(
        x0 + half if x0 > columns.low else max(x0, 0.0),
        y0 + half if y0 > rows.low else 0.0,
        x1 - half if x1 < columns.high else min(x1, sheet.length),
        y1 - half if y1 < rows.high else sheet.width,
    )


def _outline(sheet: Sheet) -> Iterator[Mark]:
    """Draw the contours; a straight edge is a line of its own, with solid ends."""
    for contour in sheet.contours:
        pen = OUTLINE_PEN if contour.layer == "OUTLINE" else HOLE_PEN
        ends = contour.vertices[1:] + contour.vertices[:1]
        for a, b in zip(contour.vertices, ends, strict=True):
            if a.bulge:
                yield Path((a.x, a.y), arc(a.x, a.y, b.x, b.y, a.bulge), pen)
                continue
            yield line(a.x, a.y, b.x, b.y, pen)
            long = ((b.x - a.x) ** 2 + (b.y - a.y) ** 2) ** 0.5
            if contour.layer == "OUTLINE" and long > 2 * CORNER:
                dx, dy = (b.x - a.x) / long * CORNER, (b.y - a.y) / long * CORNER
                yield line(a.x, a.y, a.x + dx, a.y + dy, CORNER_PEN)
                yield line(b.x - dx, b.y - dy, b.x, b.y, CORNER_PEN)


def _edges(sheet: Sheet) -> list[Box]:
    """Return what the fold lines and the inner edges take, for texts to keep clear of."""
    long, wide = sheet.length, sheet.width
    lines = [(0.0, 0.0, long, 0.0), (0.0, wide, long, wide)]
    lines += [(0.0, 0.0, 0.0, wide), (long, 0.0, long, wide)]
    lines += [
        (each.x1, each.y1, each.x2, each.y2)
        for each in (*_inner_edges(sheet), *_joint_lines(sheet))
    ]
    return [
        Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)).grown(1.0)
        for x1, y1, x2, y2 in lines
    ]


Said = tuple[str, ...]
"""Ways to say the same, the longest first."""


def _edge_words(sheet: Sheet, length: str) -> tuple[Said, Said, Said, Said]:
    """Return what is said at a board's top and bottom edge, and at its left and right end.

    ``length`` is what is said of the whole, see ``_whole``.
    """
    fold = "fold here, wrap over the edge"
    inner = [each.x1 < sheet.length / 2 for each in _inner_edges(sheet)]
    mitered = True in inner, False in inner  # a cover may end square
    if sheet.face == "inner" and sheet.ends is not None:
        return _inner_words(sheet, sheet.ends, length)
    top, bottom, left, right = (
        "top edge: lid",
        f"bottom edge: {'body' if sheet.kind == 'cover' else 'lip'}",
        f"left {'long point' if mitered[0] else 'end'}",
        f"right {'long point' if mitered[1] else 'end'}",
    )
    ends = " to ".join("long point" if each else "end" for each in mitered)
    return (
        (f"{top}. {fold}", top),
        _low_edge(bottom, fold, ends, length),
        (f"{left}. {fold}", left),
        (f"{right}. {fold}", right),
    )


def _whole(sheet: Sheet, tiling: Tiling, show: Show) -> str:
    """Say how long a part is where it is taped together from several sheets; else nothing.

    Bars prove single sheets, and not how they were taped. Templates of ends show no whole part.
    """
    columns = tiling.columns
    if tiling.count == 1 or columns.low > 0.0 or columns.high < sheet.length:
        return ""
    return f"{both_text(sheet.length, show)}: measure the taped paper"


def _inner_words(sheet: Sheet, ends: tuple[End, End], length: str) -> tuple[Said, Said, Said, Said]:
    """Return what is said at the edges of an inner face, its ends with the corners they make."""
    fold = "fold here, wrap over the edge"
    top, bottom = "top edge: lid", f"bottom edge: {'body' if sheet.kind == 'cover' else 'lip'}"
    said: list[Said] = []
    for name, end in zip(("left", "right"), ends, strict=True):
        point = f"{name} {'short point' if end.tilt_deg else 'end'}"
        said.append(
            (
                f"{point}, {end.corner} corner. fold here once it is mitered",
                f"{point}, {end.corner} corner",
                point,
            )
        )
    points = " to ".join("short point" if end.tilt_deg else "end" for end in ends)
    low = _low_edge(bottom, fold, points, length)
    return (f"{top}. {fold}", top), low, said[0], said[1]


def _low_edge(bottom: str, fold: str, ends: str, length: str) -> Said:
    """Return what is said at the lower edge, the most first; the upper one tells of the fold."""
    told = (
        f"{bottom}. {fold}. {ends} {length}", f"{bottom}. {ends} {length}", f"{bottom}. {length}",
    )  # fmt: skip
    return (*(told if length else ()), f"{bottom}. {fold}", bottom)


def edge_texts(
    sheet: Sheet, tile: Tile, region: Box, words: tuple[Said, Said, Said, Said]
) -> Iterator[tuple[Mark, Box]]:
    """Say at each edge on this sheet what it is, beyond its line; and where that stands.

    Args:
        sheet: the part's flat view.
        tile: the sheet of paper.
        region: where texts may stand on it.
        words: what is said at the upper, the lower, the left and the right edge.
    """
    long, wide, size = sheet.length, sheet.width, EDGE_TEXT
    top, bottom, left, right = words
    (x0, x1), (y0, y1) = tile.own_x, tile.own_y
    below, above = -1.6 - size * 0.75, 1.6 + size * 0.1
    for there, y, said in ((y1 >= wide, wide + above, top), (y0 <= 0, below, bottom)):
        text = first_fitting(said, size, region.x1 - region.x0)
        for x in _spread(region.x0, region.x1) if there else ():
            half = text_width(text, size) / 2
            box = Box(x - half, y - size * 0.2, x + half, y + size * 0.75)
            yield Words(x, y, size, text, "middle"), box
    for there, x, said in (
        (x0 <= 0 <= x1, -above, left),
        (x0 <= long <= x1, long - below, right),
    ):
        text = first_fitting(said, size, region.y1 - region.y0)
        for y in _spread(region.y0, region.y1) if there else ():
            half = text_width(text, size) / 2
            box = Box(x - size * 0.75, y - half, x + size * 0.2, y + half)
            yield Words(x, y, size, text, "middle", 90), box


def _spread(low: float, high: float) -> list[float]:
    """Return places for a text that is repeated along a long edge."""
    count = max(1, int((high - low) // REPEAT))
    return [low + (high - low) * (i + 0.5) / count for i in range(count)]


def _inner_edges(sheet: Sheet) -> list[Line]:
    return [each for each in sheet.lines if each.layer == "INNER-EDGE"]


def _hidden_edges(sheet: Sheet, tile: Tile, taken: list[Box]) -> Iterator[tuple[Mark, Box]]:
    """Name the dashed lines, on the side of the nearer end, where there is room."""
    size, text = 2.6, "inner face ends here"
    half = text_width(text, size) / 2 + 1
    region = Box(tile.own_x[0], tile.own_y[0], tile.own_x[1], tile.own_y[1])
    for each in _inner_edges(sheet):
        if each.x1 != each.x2:
            continue
        left = each.x1 < sheet.length / 2
        x0 = each.x1 - size - 1.2 if left else each.x1 + 1.2
        steps = int(sheet.width / 4)
        for y in sorted(
            (4.0 * i for i in range(steps + 1)), key=lambda v: abs(v - sheet.width / 2)
        ):
            box = Box(x0, y - half, x0 + size, y + half)
            if free(box, region, taken):
                yield Words(x0 + size * 0.8, y, size, text, "middle", 90), box
                break


def _has_board_edge(sheet: Sheet) -> bool:
    """Tell whether the lower edge of a cover's own board runs over the cover, clear of its ends."""
    return 1.0 < sheet.low < sheet.width - 1.0


def _board_edge(sheet: Sheet, tile: Tile, taken: list[Box]) -> Iterator[tuple[Mark, Box]]:
    """Draw where the board's bottom edge lies behind a cover, and name it where there is room."""
    if not _has_board_edge(sheet):
        return
    y, size = sheet.low, 3.2
    yield (
        line(0.0, y, sheet.length, y, BOARD_PEN),
        Box(0.0, y, sheet.length, y).grown(0.5),
    )
    text = "board's bottom edge"
    half = text_width(text, size) / 2
    (x0, x1), (y0, y1) = tile.own_x, tile.own_y
    if not y0 <= y <= y1:
        return
    region = Box(max(x0, 0.0), max(y0, 0.0), min(x1, sheet.length), min(y1, sheet.width))
    middle, steps = (region.x0 + region.x1) / 2, int((region.x1 - region.x0) / 4)
    for x in sorted(
        (region.x0 + 4.0 * i for i in range(steps + 1)), key=lambda at: abs(at - middle)
    ):
        for foot in (y + 1.5, y - 1.5 - size * 0.75):
            box = Box(x - half, foot - size * 0.2, x + half, foot + size * 0.75)
            if free(box, region, taken):
                yield Words(x, foot, size, text, "middle"), box
                return


def _joint_lines(sheet: Sheet) -> list[Line]:
    """Return the marks of what is cut into the miters; they alone stand on the part itself."""
    marks = [each for each in sheet.lines if each.layer == "CHECK-MARK"]
    return [each for each in marks if max(each.y1, each.y2) <= sheet.width]


def _joints(sheet: Sheet, tile: Tile, taken: list[Box], show: Show) -> Iterator[tuple[Mark, Box]]:
    """Write at each level mark how high it is, on the side of the middle, where there is room."""
    size = 2.6
    region = Box(tile.own_x[0], tile.own_y[0], tile.own_x[1], tile.own_y[1])
    for each in _joint_lines(sheet):
        if each.y1 != each.y2:
            continue
        text = f"joint {length_text(each.y1, show)} up"
        wide, left = text_width(text, size) + 1, each.x1 < sheet.length / 2
        x = max(each.x1, each.x2) + 1.5 if left else min(each.x1, each.x2) - 1.5 - wide
        box = Box(x, each.y1 - size * 0.5, x + wide, each.y1 + size * 0.6)
        if free(box, region, taken):
            yield Words(x, each.y1 - size * 0.36, size, text), box


def _hole(circle: Circle) -> Iterator[Mark]:
    x, y, reach = circle.x, circle.y, cross_reach(circle)
    # A set-out has no point for a punch: its place is marked through the bought part.
    place = not assumed(circle.name, circle.purpose)
    yield Ring(x, y, circle.diameter, HOLE_PEN if place else ASSUMED_PEN)
    yield line(x - reach, y, x + reach, y, CROSS_PEN)
    yield line(x, y - reach, x, y + reach, CROSS_PEN)
    if place:
        yield Ring(x, y, POINT, None, 0.0)


def _notes(
    sheet: Sheet, tiling: Tiling, tile: Tile, unplaced: list[str], names: Mapping[str, str]
) -> tuple[str, ...]:
    notes: list[str] = []
    set_out: list[str] = []
    names_set_out = [each.name for each in sheet.circles if assumed(each.name, each.purpose)]
    hinged = any(name.startswith(HINGE_SET_OUT) for name in names_set_out)
    bracketed = any(name.startswith(BRACKET_SET_OUT) for name in names_set_out)
    if hinged and bracketed:
        set_out.append("Dashed: assumed, do not punch; mark through the real leaf and bracket.")
    elif hinged:
        set_out.append("Dashed: assumed hinge holes, mark through the leaf, do not punch.")
    elif bracketed:
        set_out.append(
            "Dashed: assumed bracket holes, mark through the real bracket, do not punch."
        )
    if sheet.bracketed:
        set_out.append("Bracket holes: on the inner face.")
    if set_out:
        notes.append(" ".join(set_out))
    (x0, x1), (y0, y1) = tile.shown_x, tile.shown_y
    shown = Box(x0, y0, x1, y1)
    low_x, high_x = tiling.columns.low, tiling.columns.high
    low_y, high_y = tiling.rows.low, tiling.rows.high
    split: list[str] = []
    for circle in sheet.circles:
        box = hole_box(circle)
        within = Box(
            max(box.x0, low_x), max(box.y0, low_y), min(box.x1, high_x), min(box.y1, high_y)
        )
        if box.meets(shown) and not within.inside(shown):
            split.append(spoken(circle, names))
    if split:
        notes.append(
            f"cut by a seam: {', '.join(split)}. Join the sheets cross on cross before drilling."
        )
    if unplaced:
        notes.append(f"no room for the figures of {', '.join(unplaced)}: see summary.json.")
    return tuple(notes)
