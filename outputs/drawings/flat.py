"""Boards and foam panels: flat views with their sizes, and where everything in them is cut."""

from collections.abc import Iterable, Mapping, Sequence

from ...geometry.shape.captions import board_captions
from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Panel
from ...geometry.shape.sheet import joint_marks, panel_sheet
from ...params.units import Show, bit_text, length_text
from ..paper.dims import HIDDEN, MIDDLE, THIN, VISIBLE
from ..paper.marks import Path, Point, arc
from .draft import Draft, View, stations

MOST = 8
"""So many different distances are shown as dimensions one beyond the other; more go to a table."""

SET_OUT = "set-out"
"""Heads the holes whose places the bought part decides; a note tells what to do about them."""

SAID = (
    "Left miter", "Right miter", "Saw's scale", "On the board's outer face", "Hinge holes",
    "Bracket holes",
)  # fmt: skip
"""How lines of the flat view's captions begin that are told here too."""

MOST_FOAM = 105.0
"""How much of a sheet's height the panels' dimensions may take together, mm."""

APART = 16.0
"""From the face to the view of the top edge, mm on the page."""


def board(layout: Layout, part: Board, names: Mapping[str, str], draft: Draft, room: float) -> None:
    """Draw a board or a cover: outer face, above it the top edge with the miters."""
    long, wide, thick = part.long_point, part.width, part.thickness
    view = draft.view()
    view.box(0.0, 0.0, long, wide)
    for far, x in ((part.inner_left, part.inner_left), (part.inner_right, long - part.inner_right)):
        if far > 0:
            view.line((x, 0.0), (x, wide), HIDDEN)
    for slot in part.slots:
        for mark in joint_marks(part, slot):
            view.line((mark.x1, mark.y1), (mark.x2, mark.y2), THIN)
    edge = draft.view(0.0, wide * draft.scale + APART)
    top = (
        (0.0, 0.0), (long, 0.0), (long - part.inner_right, thick), (part.inner_left, thick)
    )  # fmt: skip
    edge.outline(top)
    if part.short_point < long:
        edge.stacked("above", thick, top[3], top[2])
    edge.stacked("above", thick, top[0], top[1])
    edge.stacked("right", long, top[1], (long, thick))
    for tilt, far, x, ways in (
        (part.miter_left_deg, part.inner_left, 0.0, (-40, -20, -60, -8, 150)),
        (part.miter_right_deg, part.inner_right, long, (-140, -160, -120, -172, 30)),
    ):
        if tilt:
            tip = (x + far / 2 if x == 0.0 else x - far / 2), thick / 2
            edge.leader(tip, f"tilt the blade {tilt:.1f} deg", ways)
    view.stacked("left", 0.0, (0.0, 0.0), (0.0, wide))
    bored = [hole for hole in part.holes if hole.purpose != "pilot"]
    for hole in part.holes:
        _hole(view, hole)
    asked = [hole for hole in part.holes if hole.purpose == "pilot" and not hole.assumed]
    if _dimensioned(view, bored, long, wide):
        _diameters(view, bored)
        for hole in bored:
            name = names.get(hole.name, hole.name)
            view.tag((hole.u, hole.v), (hole.diameter or 0.0) / 2, name)
    else:
        asked = [*bored, *asked]
    _table(view, asked, 1, "hole", names, room, part)
    assumed = [hole for hole in part.holes if hole.assumed]
    _table(view, assumed, len(asked) + 1, SET_OUT, names, room, part)
    draft.notes(_texts(layout, part, draft.show), room)


def _texts(layout: Layout, part: Board, show: Show) -> list[str]:
    """Return how the part lies, and what is cut into its miters."""
    below = "lower edge down, over the body" if part.kind == "cover" else "lower edge on the lip"
    texts = [
        f"Outer face, seen from outside: {below}. Above it the top edge. Dashed: where the inner"
        " face ends. Sizes are nominal: no kerf or bit offset added."
    ]
    captions = board_captions(part, layout.taps_on(part.side), show, layout.over(part))
    said = [text for text in captions if text.startswith(SAID)]
    for left in [text for text in said if text.startswith("Left miter")]:
        right = left.replace("Left", "Right", 1)
        if right in said:  # both in one line where they are the same: a sheet has little room
            said[said.index(left)] = left.replace("Left miter", "Both miters", 1)
            said.remove(right)
    return texts + said


def _hole(view: View, hole: Hole) -> None:
    pen = VISIBLE if hole.face == "outer" else HIDDEN
    small = (hole.diameter or 0.0) * view.draft.scale < 1.2
    if hole.diameter is not None:
        view.ring((hole.u, hole.v), hole.diameter, MIDDLE if small else pen)
    view.cross((hole.u, hole.v), hole.diameter or 0.0, 1.5 if small else 2.5)


def _dimensioned(view: View, holes: Sequence[Hole], long: float, wide: float) -> bool:
    """Note the holes' places as dimensions; False where they are too many."""
    across = stations(hole.u for hole in holes)
    up = stations(hole.v for hole in holes)
    if len(across) > MOST or len(up) > MOST:
        return False
    for u in across:
        lowest = min((hole for hole in holes if abs(hole.u - u) < 0.1), key=lambda each: each.v)
        view.stacked("below", 0.0, (0.0, 0.0), (u, lowest.v))
    for v in up:
        last = max((hole for hole in holes if abs(hole.v - v) < 0.1), key=lambda each: each.u)
        view.stacked("right", long, (long, 0.0), (last.u, v))
    return True


def _diameters(view: View, holes: Iterable[Hole]) -> None:
    """Note each diameter once, with how many holes have it."""
    groups: dict[str, list[Hole]] = {}
    for hole in holes:
        if hole.diameter is not None:
            groups.setdefault(bit_text(hole.diameter, view.draft.show), []).append(hole)
    for text, group in groups.items():
        hole = group[-1]
        half = (hole.diameter or 0.0) / 2 * 0.7071
        lead = f"{len(group)} \u00d7 " if len(group) > 1 else ""
        ways = (45, 60, 30, 75, 15)
        view.leader((hole.u + half, hole.v + half), f"{lead}\u2300 {text}", ways)


def _table(
    view: View, holes: Sequence[Hole], first: int, what: str, names: Mapping[str, str],
    room: float, part: Board,
) -> None:  # fmt: skip
    """Number holes, from ``first`` on, and tell their places in a table; ``what`` heads it."""
    draft = view.draft

    def text(mm: float) -> str:
        return length_text(mm, draft.show)

    end = "long point" if part.inner_left else "end"
    places = [(hole.u, hole.v) for hole in part.holes]
    for number, hole in enumerate(holes, first):
        at = hole.u, hole.v
        view.tag(at, (hole.diameter or 0.0) / 2, str(number), 1.8, others=places)
    rows = [
        (
            str(number),
            names.get(hole.name, hole.name),
            bit_text(hole.diameter or 0.0, draft.show),
            text(hole.u),
            text(hole.v),
            deep_text(hole, draft.show),
            f"{hole.face} face",
        )
        for number, hole in enumerate(holes, first)
    ]
    head = (
        "no.", what, "\u2300", f"from the left {end}", "from the bottom edge", "deep",
        "drilled from",
    )  # fmt: skip
    if not any(hole.depth or hole.into_block or hole.face == "inner" for hole in holes):
        head, rows = head[:-2], [row[:-2] for row in rows]  # all through, from the face shown
    draft.table(head, rows, room)


def deep_text(hole: Hole, show: Show) -> str:
    """Say how deep a hole is in its part, and how far it goes on into a block behind that."""
    if hole.into_block:
        return f"through, {length_text(hole.into_block, show)} into the block"
    return "through" if hole.depth is None else length_text(hole.depth, show)


Rows = tuple[tuple[Panel, ...], ...]


def foam_sheets(layout: Layout) -> tuple[Rows, ...]:
    """Return which panels are drawn together, row by row from above, sheet by sheet."""
    front, right, back, left = layout.panels
    rows = (front, right), (back, left)
    tall = sum(max(_room_below(panel) for panel in row) + 14.0 for row in rows)
    return (rows,) if tall < MOST_FOAM else tuple((row,) for row in rows)


def foam(layout: Layout, rows: Rows, names: Mapping[str, str], draft: Draft, room: float) -> None:
    """Draw foam panels, seen from outside."""
    y = 0.0
    views: dict[str, View] = {}
    for row in reversed(rows):
        x = 0.0
        tallest = 0.0
        for panel in row:
            down = _room_below(panel)
            view = draft.view(x, y + down)
            views[panel.side] = view
            _panel(layout, panel, names, view)
            x += panel.length * draft.scale + _room_right(panel) + 20.0
            tallest = max(tallest, down + panel.width * draft.scale + 14.0)
        y += tallest
    _crowd([panel for row in rows for panel in row], names, views, room)
    draft.notes(
        [
            "Each panel as seen from outside: the face on the board is up, the lower edge down."
            f" All {length_text(layout.foam, draft.show)} thick. Round pockets and openings go"
            " right through. Sizes are nominal: no kerf added."
        ],
        room,
    )


def _crowd(
    panels: Sequence[Panel], names: Mapping[str, str], views: Mapping[str, View], room: float
) -> None:
    """Number the holes of panels that have many, and tell their places in a table."""
    rows: list[tuple[str, ...]] = []
    for panel in panels:
        round_ones = [hole for hole in panel.holes if hole.diameter is not None]
        places = [(hole.u, hole.v) for hole in round_ones]
        for hole in round_ones if _crowded(panel) else ():
            assert hole.diameter is not None
            view, number = views[panel.side], str(len(rows) + 1)
            show = view.draft.show
            view.tag((hole.u, hole.v), hole.diameter / 2, number, 1.8, others=places)
            size = bit_text(hole.diameter, show)
            place = (length_text(mm, show) for mm in (hole.u, hole.v))
            rows.append((number, panel.side, names.get(hole.name, hole.name), size, *place))
    head = ("no.", "panel", "hole", "\u2300", "from the left end", "from the bottom edge")
    if rows:
        next(iter(views.values())).draft.table(head, rows, room)


def _crowded(panel: Panel) -> bool:
    """Whether so many round holes are in a panel that a table tells their places."""
    return len(stations(hole.u for hole in panel.holes if hole.diameter is not None)) > MOST


def _across(panel: Panel) -> list[float]:
    """Return the distances from a panel's left end that are shown: centers, edges of openings."""
    found: list[float] = []
    crowded = _crowded(panel)
    for hole in panel.holes:
        if hole.diameter is not None:
            found += [] if crowded else [hole.u]
        else:
            found += [hole.u - hole.half_length, hole.u + hole.half_length]
    return [u for u in stations(found) if 0.05 < u < panel.length - 0.05]


def _up(panel: Panel) -> list[float]:
    found: list[float] = []
    crowded = _crowded(panel)
    for hole in panel.holes:
        if hole.diameter is not None:
            found += [] if crowded else [hole.v]
        else:
            found += [hole.v - hole.half_height, hole.v + hole.half_height]
    return [v for v in stations(found) if 0.05 < v < panel.width - 0.05]


def _room_below(panel: Panel) -> float:
    return 9.0 + 6.5 * len(_across(panel)) + 8.5


def _room_right(panel: Panel) -> float:
    return 9.0 + 6.5 * len(_up(panel)) + 16.0


def _panel(layout: Layout, panel: Panel, names: Mapping[str, str], view: View) -> None:
    flat = panel_sheet(layout, panel.side, view.draft.show)
    for contour in flat.contours:
        view.draft.add(_contour(view, [(v.x, v.y, v.bulge) for v in contour.vertices]))
    for circle in flat.circles:
        view.ring((circle.x, circle.y), circle.diameter)
    for hole in panel.holes:
        if hole.diameter is not None:
            view.cross((hole.u, hole.v), hole.diameter, 1.5)
    view.stacked("left", 0.0, (0.0, 0.0), (0.0, panel.width))
    for u in _across(panel):
        view.stacked("below", 0.0, (0.0, 0.0), (u, _foot(panel, u)))
    view.stacked("below", 0.0, (0.0, 0.0), (panel.length, 0.0))
    for v in _up(panel):
        view.stacked("right", panel.length, (panel.length, 0.0), (_end(panel, v), v))
    for hole in panel.holes:
        if hole.diameter is None and not hole.name.startswith("bracket"):
            name = names.get(hole.name, hole.name)
            view.leader((hole.u, hole.v), name, (60, 45, 120, 135), "dot")
    if not _crowded(panel):
        _diameters(view, [hole for hole in panel.holes if hole.diameter is not None])
    x, y = view.at((0.0, 0.0))
    view.draft.words(x, y - _room_below(panel) + 1.0, f"foam, {panel.side}", 3.0)


def _foot(panel: Panel, u: float) -> float:
    """Return where an extension line down from a place along the panel begins."""
    found = [
        hole.v if hole.diameter is not None else hole.v - hole.half_height
        for hole in panel.holes
        if abs(hole.u - u) < 0.1
        or (hole.diameter is None and abs(abs(hole.u - u) - hole.half_length) < 0.1)
    ]
    return max(min(found, default=0.0), 0.0)


def _end(panel: Panel, v: float) -> float:
    found = [
        hole.u if hole.diameter is not None else hole.u + hole.half_length
        for hole in panel.holes
        if abs(hole.v - v) < 0.1
        or (hole.diameter is None and abs(abs(hole.v - v) - hole.half_height) < 0.1)
    ]
    return min(max(found, default=panel.length), panel.length)


def _contour(view: View, vertices: Sequence[tuple[float, float, float]]) -> Path:
    steps: list[tuple[Point, ...]] = []
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, (*vertices[1:], vertices[0]), strict=True):
        a, b = view.at((x0, y0)), view.at((x1, y1))
        steps += arc(*a, *b, bulge) if bulge else ((b,),)
    return Path(view.at(vertices[0][:2]), tuple(steps), VISIBLE, closed=True)
