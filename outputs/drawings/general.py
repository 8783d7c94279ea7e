"""General arrangement: plan, front and a section from front to back, in third-angle projection."""

from collections.abc import Iterable, Sequence

from ...geometry.shape.envelope import OUTSIDE, Envelope
from ...geometry.shape.layout import Layout
from ...geometry.shape.plane import Point
from ...geometry.shape.section import box as rectangle
from ...geometry.shape.taps import Tap
from ...params.project import Side
from ..paper.dims import MIDDLE, MOVED, THIN, VISIBLE, arrow
from ..paper.marks import Pen, line
from .beside import Tag
from .cuts import Cut, cut_x, from_front_to_back, in_section, panel_plan, tail
from .draft import STEP, WHITE, Box, Draft, View

APART = 25.0
"""Between views, mm on the page: room for dimensions."""

BODY = 45.0
"""How much of the freezer's body is drawn, mm (for the eye only)."""

SKIRT = 2.0
"""Thickness that a skirt is drawn with where it was not measured, mm (for the eye only)."""

FACE = {"flange": 0, "ring": 1, "body": 2, "spout": 3, "lever": 4, "handle": 5}


def arrangement(layout: Layout, draft: Draft) -> None:
    """Draw the whole collar with its taps and the closed lid."""
    x_cut, tap = cut_x(layout)
    s = draft.scale
    outside = [each for each in layout.envelopes if each.reason in OUTSIDE]
    left, right, front, back = _extent(layout, outside)
    lid = layout.reference.lid
    boxes = lid.boxes if lid else ()
    top = max([layout.sealing_z, *(box.high[2] for box in boxes)])
    top = max([top, *(layout.board(each.side).bottom + each.up[1] for each in outside)])
    elevation = draft.view()
    plan = draft.view(0.0, (top - front) * s + APART)
    heights = len({round(each.v, 3) for each in layout.taps_on("front")})
    section = draft.view((right - front) * s + APART + 6.0 + STEP * max(0, heights - 1), 0.0)
    _plan(layout, plan, x_cut, (left, right, front, back))
    _front(layout, elevation)
    _section(layout, section, x_cut, tap)
    a_a = section.at(((front + back) / 2, top))
    draft.tag(Tag((a_a[0], a_a[1] + 3.0), 0.0, "section A-A", 3.0))


def _extent(layout: Layout, outside: list[Envelope]) -> Box:
    """Return left, right, front and back of all that is seen from above."""
    points = [(corner.x, corner.y) for corner in layout.frame.corners]
    points += [point for cover in layout.covers for point in cover.outer]
    for each in outside:
        points += _from_above(layout, each)
    lid = layout.reference.lid
    for box in lid.boxes if lid else ():
        points += [(box.low[0], box.low[1]), (box.high[0], box.high[1])]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), max(xs), min(ys), max(ys)


def _from_above(layout: Layout, envelope: Envelope) -> list[Point]:
    board, half = layout.board(envelope.side), envelope.width / 2
    near, far = envelope.out
    corners = ((-half, near), (half, near), (half, far), (-half, far))
    return [board.place(envelope.u + du, 0.0, -out)[:2] for du, out in corners]


def _plan(layout: Layout, view: View, x_cut: float, extent: Box) -> None:
    left, right, front, back = extent
    for panel in layout.panels:
        view.outline(panel_plan(layout.board(panel.side), panel), THIN)
    for part in (*layout.boards, *layout.covers):
        view.outline(part.plan, VISIBLE, WHITE)
    for strip in layout.strips:
        view.outline((strip.outer[0], strip.outer[1], strip.inner[1], strip.inner[0]), THIN)
    _inside(layout, view)
    for envelope in sorted(layout.envelopes, key=lambda each: -FACE.get(each.reason, -1)):
        if envelope.reason in FACE:
            view.outline(_from_above(layout, envelope), MIDDLE, WHITE)
    lid = layout.reference.lid
    if lid is not None:
        slab = lid.boxes[0]
        view.box(*slab.low[:2], *slab.high[:2], MOVED)
    boards = layout.boards
    c = [(corner.x, corner.y) for corner in layout.frame.corners]
    view.skip("above", back)
    view.stacked("above", back, c[3], c[2])
    view.stacked("left", left, c[0], c[3])
    if layout.frame.width is None:  # four sides of four lengths
        view.stacked("above", back, c[0], c[1])
        view.stacked("right", right, c[1], c[2])
    inner = [board.inner for board in boards]
    if not layout.panels:
        view.dim(inner[0][0], inner[0][1], view.at((0, inner[0][0][1]))[1] + 9, "level")
    _cutting_line(view, x_cut, front, back)


def _inside(layout: Layout, view: View) -> None:
    """Draw what hangs into the well: shanks with their tails, and the manifold."""
    for tap in layout.taps:
        board = layout.board(tap.side)
        pieces = [each for each in tail(tap) if each[2] > board.thickness]
        for _, near, far, low, high in pieces:
            half, start = (high - low) / 2, max(near, board.thickness)
            corners = ((-half, start), (half, start), (half, far), (-half, far))
            view.outline(
                [board.place(tap.u + du, 0.0, inward)[:2] for du, inward in corners], THIN, WHITE
            )
    manifold = layout.manifold
    if manifold is not None:
        board, half = layout.board(manifold.side), manifold.length / 2
        t = board.thickness
        corners = ((-half, t), (half, t), (half, t + manifold.depth), (-half, t + manifold.depth))
        view.outline(
            [board.place(manifold.u + du, 0.0, inward)[:2] for du, inward in corners],
            MIDDLE,
            WHITE,
        )
        view.leader(
            board.place(manifold.u, 0.0, t + manifold.depth)[:2],
            "manifold",
            (-90 - 25, -90 + 25, -135, -45, 90 + 25, 65),
        )


def _cutting_line(view: View, x: float, front: float, back: float) -> None:
    """Draw where the section is, seen from the right: its ends with arrows and letters."""
    for y, turn in ((front, -1.0), (back, 1.0)):
        px, py = view.at((x, y))
        py += turn * 3.0
        end = px, py + turn * 5.0
        view.draft.add(line(px, py, *end, VISIBLE), line(*end, end[0] + 5.0, end[1], THIN))
        view.draft.add(arrow((end[0] + 0.25, end[1]), 180.0))
        view.draft.tag(Tag((end[0] + 5.0, end[1]), 0.5, "A", 3.5))


def _front(layout: Layout, view: View) -> None:
    """Draw what is seen from the front: board, taps, lid, and the lip that all stands on."""
    lip_z, right = -layout.seal, layout.lip.width
    _body(view, 0.0, right, lip_z)
    board = layout.board("front")
    cover = layout.cover("front")
    for part in (board, cover):
        if part is not None:
            xs = [part.outer[0][0], part.outer[1][0]]
            view.box(min(xs), part.bottom, max(xs), part.top, VISIBLE, WHITE)
    for strip in layout.strips:
        if strip.side == "front":
            high = strip.bottom + strip.thickness
            view.box(strip.outer[0][0], strip.bottom, strip.outer[1][0], high, MIDDLE, WHITE)
    lid = layout.reference.lid
    for box in lid.boxes if lid else ():
        view.box(box.low[0], box.low[2], box.high[0], box.high[2], MOVED)
    for side in ("left", "right"):
        _beside(layout, view, side)
    start = board.outer[0][0]
    seen = [each for each in layout.envelopes if each.side == "front" and each.reason in FACE]
    for each in sorted(seen, key=lambda one: FACE[one.reason]):
        low, high = each.up
        u = start + each.u
        if each.faces_out:
            view.ring((u, (low + high) / 2), each.width, MIDDLE, WHITE)
        else:
            view.box(u - each.width / 2, low, u + each.width / 2, high, MIDDLE, WHITE)
    for tap in layout.taps_on("front"):
        if tap.shank is None:
            view.ring((start + tap.u, tap.v), tap.bore, VISIBLE)
    _numbers(layout, view)
    lows = [board.outer[0], board.outer[1]]
    edge = max(layout.lip.width, lows[1][0])
    for tap in {round(tap.v, 3): tap for tap in layout.taps_on("front")}.values():
        view.stacked("right", edge, (lows[1][0], 0.0), (start + tap.u, tap.v))
    view.stacked("left", min(0.0, lows[0][0]), (lows[0][0], 0.0), (lows[0][0], board.width))
    if layout.sealing_z > board.width:
        edge = min(0.0, lows[0][0])
        view.stacked("left", edge, (lows[0][0], 0.0), (lows[0][0], layout.sealing_z))


def _numbers(layout: Layout, view: View) -> None:
    """Number the taps that are seen from the front, each over what of it is highest."""
    for tap in layout.taps:
        if tap.side == "back":
            continue
        board = layout.board(tap.side)
        faces = [each for each in layout.envelopes_of(tap) if each.reason in FACE]
        if faces:
            top = max(faces, key=lambda each: each.up[1])
            at = board.place(top.u, top.up[1], -sum(top.out) / 2)
        else:
            at = board.place(tap.u, tap.v + tap.bore / 2, 0.0)
        view.tag((at[0], at[2]), 0.5 / view.draft.scale, str(tap.number))


def _body(view: View, left: float, right: float, lip_z: float) -> None:
    """Draw the freezer's body down from its lip, broken off below."""
    view.line((left, lip_z), (right, lip_z), MIDDLE)
    for x in (left, right):
        view.line((x, lip_z), (x, lip_z - BODY), MIDDLE)
    view.line((left, lip_z - BODY), (right, lip_z - BODY), Pen(0.18, (2.0, 1.0)))


def _beside(layout: Layout, view: View, side: Side) -> None:
    """Draw the taps of a side board as they stand out beside the front."""
    board = layout.board(side)
    seen = [each for each in layout.envelopes if each.side == side and each.reason in FACE]
    for each in sorted(seen, key=lambda one: FACE[one.reason]):
        corners = [board.place(each.u, up, -out) for out, up in each.section]
        view.outline([(x, z) for x, _, z in corners], MIDDLE, WHITE)


def _section(layout: Layout, view: View, x: float, tap: Tap | None) -> None:
    """Draw what the plane from front to back cuts, and the tap that it goes through."""
    lip_z = -layout.seal
    cuts = tuple(from_front_to_back(layout, x))
    _body(view, 0.0, layout.lip.depth, lip_z)
    _behind(layout, view, cuts, x)
    collar(view, cuts)
    lid = layout.lid
    if lid is not None and None not in (lid.front_y, lid.back_y, lid.top_z):
        lid_section(layout, view, MOVED)
    if layout.hinge is not None:
        view.cross(layout.hinge.point, 0.0, 2.0)
    if tap is not None:
        on_front = tap.side == "front"
        face = layout.front_y if on_front else layout.back_y
        sign = 1.0 if on_front else -1.0

        def placed(points: Iterable[Point]) -> list[Point]:
            return [(face + sign * inward, z) for inward, z in points]

        for envelope in layout.envelopes_of(tap):
            if envelope.reason in FACE:
                view.outline(placed(in_section(layout, tap, envelope)), MIDDLE, WHITE)
        for _, near, far, low, high in tail(tap):
            corners = ((near, low), (far, low), (far, high), (near, high))
            view.outline(placed(corners), MIDDLE, WHITE)
        _reaches(layout, view, tap, face, sign)
    found = inside_edges(cuts)
    if found is not None:
        view.stacked("below", lip_z - BODY, (found[0], 0.0), (found[1], 0.0))
    edge = max(layout.back_y, layout.lip.depth) + 20
    if lid is not None and None not in (lid.front_y, lid.back_y, lid.top_z):
        assert lid.back_y is not None and lid.top_z is not None
        edge = max(edge, lid.back_y)
        view.stacked("right", edge, (lid.back_y, lid.under_z), (lid.back_y, lid.top_z))
        tip = (lid.front_y or 0.0) * 0.2 + lid.back_y * 0.8, lid.top_z
        view.leader(tip, "lid", (60, 45, 120, 135))
    view.leader((layout.lip.depth, lip_z - BODY / 2), "freezer", (-15, -30, 15, -45, -60))


def _reaches(layout: Layout, view: View, tap: Tap, face: float, sign: float) -> None:
    """Note how far a tap reaches in from the board's inner face, and out from its outer one."""
    floor = -layout.seal - BODY
    board = layout.board(tap.side)
    outs = [each.out[1] for each in layout.envelopes_of(tap) if each.reason in FACE]
    if outs:
        a, b = (face, tap.v), (face - sign * max(outs), tap.v)
        view.stacked("below", floor, b, a)
    if tap.shank is not None:
        end = tap.shank.length - tap.cover + tap.shank.tailpiece_length
        start = face + sign * board.thickness, tap.v
        view.stacked("below", floor, start, (face + sign * end, tap.v))


def _behind(layout: Layout, view: View, cuts: Sequence[Cut], x: float) -> None:
    """Draw what is seen behind the cut: the left side's edges, and the manifold if it is cut."""
    wood = [cut for cut in cuts if cut.what in ("board", "foam")]
    found = inside_edges(wood)
    if found is None:
        return
    for high in sorted({layout.board("left").width, *(panel.width for panel in layout.panels[3:])}):
        view.line((found[0], high), (found[1], high), MIDDLE)
    body = layout.manifold
    if body is None or body.side not in ("front", "back"):
        return
    board = layout.board(body.side)
    ends = [board.place(body.u + du, 0.0, 0.0)[0] for du in (-body.length / 2, body.length / 2)]
    if min(ends) < x < max(ends):
        near = [board.place(body.u, 0.0, board.thickness + d)[1] for d in (0.0, body.depth)]
        low = body.v - body.height / 2
        view.box(min(near), low, max(near), low + body.height, MIDDLE, WHITE)


def collar(view: View, cuts: Sequence[Cut]) -> None:
    """Draw what is cut of the collar: wood, cover and foam each hatched in its own way."""
    s = view.draft.scale
    for cut in cuts:
        thin = (cut.far - cut.near) * s < 1.2 or (cut.high - cut.low) * s < 1.2
        fill = 0.0 if thin and cut.what == "cap" else WHITE
        if thin:
            view.box(cut.near, cut.low, cut.far, cut.high, MIDDLE, fill)
            continue
        angle, pitch = {"board": (45.0, 1.6), "cover": (135.0, 1.6), "cap": (135.0, 1.0),
                        "foam": (60.0, 3.2)}[cut.what]  # fmt: skip
        view.cut(cut.near, cut.low, cut.far, cut.high, angle, pitch)


def inside_edges(cuts: Iterable[Cut]) -> tuple[float, float] | None:
    """Return from where to where the way through the collar is free in section."""
    middle = [cut for cut in cuts if cut.what in ("board", "foam")]
    if not middle:
        return None
    center = (min(cut.near for cut in middle) + max(cut.far for cut in middle)) / 2
    front = [cut.far for cut in middle if cut.far < center]
    back = [cut.near for cut in middle if cut.near > center]
    return (max(front), min(back)) if front and back else None


def lid_section(layout: Layout, view: View, pen: Pen) -> None:
    """Draw the closed lid in section: slab, skirts, plug."""
    for piece in lid_pieces(layout):
        view.outline(piece, pen)


def lid_pieces(layout: Layout) -> tuple[tuple[Point, ...], ...]:
    """Return the closed lid's pieces in section, as far as they were measured."""
    lid = layout.lid
    if lid is None or lid.front_y is None or lid.back_y is None or lid.top_z is None:
        return ()
    found = [rectangle(lid.front_y, lid.back_y, lid.under_z, lid.top_z)]
    for y, drop, inward in (
        (lid.front_y, lid.skirt_front, 1.0), (lid.back_y, lid.skirt_back, -1.0)
    ):  # fmt: skip
        if drop:
            wall = lid.skirt_back_thickness or SKIRT
            y0, y1 = sorted((y, y + inward * wall))
            found.append(rectangle(y0, y1, lid.under_z - drop, lid.under_z))
    if lid.skirt_sides:  # seen behind the cut
        found.append(rectangle(lid.front_y, lid.back_y, lid.under_z - lid.skirt_sides, lid.under_z))
    if lid.plug and lid.plug_front_y is not None and lid.plug_back_y is not None:
        found.append(
            rectangle(lid.plug_front_y, lid.plug_back_y, lid.under_z - lid.plug, lid.under_z)
        )
    return tuple(found)
