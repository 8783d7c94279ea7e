"""One tap close by: the section through its shank, and the arc that the faucet wrench can turn."""

import math
from itertools import pairwise

from ...geometry.judge.checks.wrench import free_arc
from ...geometry.judge.design import Design
from ...geometry.shape.layout import Layout
from ...geometry.shape.plane import Point
from ...geometry.shape.taps import Tap
from ...geometry.shape.turning import FreeArc
from ...params.project import Project
from ...params.units import length_text
from ..paper.dims import MIDDLE, MOVED, THIN, VISIBLE
from ..paper.marks import Path, arc
from .cuts import Cut, in_section, tail, through
from .draft import WHITE, Draft, View
from .general import FACE, collar

BEYOND = 40.0
"""So far above the board a handle is broken off, mm (for the eye only)."""

UP, DOWN = (115, 100, 130, 145, 80, 160), (-110, -125, -140, -100, -155)
"""Where leaders of what is outside go, degrees."""

NAMES = {
    "flange": "flange",
    "ring": "coupling ring",
    "body": "faucet",
    "spout": "spout",
    "lever": "lever",
    "handle": "handle",
}


def section(layout: Layout, tap: Tap, draft: Draft, room: float) -> None:
    """Draw a tap cut square to its board, seen from the board's right end: outside at the left."""
    view = draft.view()
    board, shank = layout.board(tap.side), tap.shank
    assert shank is not None
    cuts = tuple(through(layout, tap))
    collar(view, cuts)
    z = board.bottom
    whole = _handle(layout, view, tap)
    for envelope in layout.envelopes_of(tap):
        if envelope.reason in FACE and envelope.reason != "handle":
            view.outline(in_section(layout, tap, envelope), VISIBLE, WHITE)
    pieces = {what: each for what, *each in tail(tap)}
    for near, far, low, high in pieces.values():
        view.box(near, z + low, far, z + high, VISIBLE, WHITE)
    last = pieces["tailpiece"][1]
    outs = [out for each in layout.envelopes_of(tap) for out in each.out]
    front = max(outs, default=0.0)
    axis = z + tap.v
    view.axis((-front, axis), (last, axis))
    _names(layout, view, tap, cuts)
    low = min([cut.low for cut in cuts] + [_lowest(layout, tap)])
    seat, t = -tap.cover, board.thickness
    if tap.cover:
        view.stacked("below", low, (seat, 0.0), (0.0, 0.0))
    view.stacked("below", low, (0.0, 0.0), (t, 0.0))
    if layout.foam:
        view.stacked("below", low, (t, 0.0), (t + layout.foam, 0.0))
    view.stacked("below", low, (seat, axis), (shank.length - tap.cover, axis))
    view.stacked("below", low, (t, 0.0), (last, axis))
    if front > tap.cover:
        out = (-front, axis), (seat, axis)
        if view.fits((t, 0.0), (last, axis)) and view.fits(*out):
            view.skip("below", low, -1.0)
        view.stacked("below", low, *out)
    left, right = -front, max(last, t + layout.foam)
    view.stacked("right", right, (t, 0.0), (last, axis))
    view.stacked("right", right, (t, 0.0), (t, board.width))
    span = tap.handle_span
    if span is not None and whole:
        view.stacked("left", left, (seat, axis), (-front, axis + span[1] - tap.v))
    draft.notes([_says(layout, tap, draft)], room)


def _handle(layout: Layout, view: View, tap: Tap) -> bool:
    """Draw the handle, broken off where it is far taller than the board; tell if it is whole."""
    handle = next((e for e in layout.envelopes_of(tap) if e.reason == "handle"), None)
    if handle is None:
        return True
    a, b, c, d = in_section(layout, tap, handle)
    most = layout.board(tap.side).top + BEYOND
    high, foot = max(c[1], d[1]), min(a[1], b[1])
    if high <= most or most - foot < BEYOND:
        view.outline((a, b, c, d), VISIBLE, WHITE)
        return True
    share = (most - foot) / (high - foot)
    e = b[0] + (c[0] - b[0]) * share, b[1] + (c[1] - b[1]) * share
    f = a[0] + (d[0] - a[0]) * share, a[1] + (d[1] - a[1]) * share
    view.outline((a, b, e, f), None, WHITE)
    for p, q in ((f, a), (a, b), (b, e)):
        view.line(p, q)
    x, y = (e[0] + f[0]) / 2, (e[1] + f[1]) / 2
    s = 3.0 / view.draft.scale
    points = (e, (x + s / 2, y), (x + s / 4, y + s), (x - s / 4, y - s), (x - s / 2, y), f)
    for p, q in pairwise(points):
        view.line(p, q, THIN)
    return False


def _lowest(layout: Layout, tap: Tap) -> float:
    board = layout.board(tap.side)
    return min((board.bottom + each.up[0] for each in layout.envelopes_of(tap)), default=0.0)


def _says(layout: Layout, tap: Tap, draft: Draft) -> str:
    own = f", {tap.name}" if tap.name != f"tap {tap.number}" else ""
    span = tap.handle_span
    tall = ""
    if span is not None and span[1] > layout.board(tap.side).width + BEYOND:
        tall = f" The handle's top is {length_text(span[1], draft.show)} above the bottom edge."
    return (
        f"Tap {tap.number}{own}, on the {tap.side} board, cut through its shank and seen from the"
        " board's right end: outside at the left. Bought parts are drawn as the room they take."
        + tall
    )


def _names(layout: Layout, view: View, tap: Tap, cuts: tuple[Cut, ...]) -> None:
    """Note what everything is."""
    for envelope in layout.envelopes_of(tap):
        if envelope.reason in ("flange", "ring", "body", "handle"):
            corners = in_section(layout, tap, envelope)
            if envelope.reason == "handle":
                a, b = corners[1], corners[2]
                share = min(0.5, BEYOND / 2 / max(b[1] - a[1], 1.0))
                tip = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
                view.leader(tip, NAMES["handle"], (180, 165, 195, 150))
                continue
            left, right = min(y for y, _ in corners), max(y for y, _ in corners)
            under = envelope.reason == "ring"  # over it is the lever
            edge = (min if under else max)(z for _, z in corners)
            share = {"flange": 0.5, "ring": 0.7, "body": 0.15}[envelope.reason]
            tip = left + (right - left) * share, edge
            view.leader(tip, NAMES[envelope.reason], DOWN if under else UP)
    axis = layout.board(tap.side).bottom + tap.v
    for foam in [cut for cut in cuts if cut.what == "foam"] if tap.pocket else ():
        # only where the pocket's own edge is cut: an opening may have taken it away
        half = (tap.pocket or 0.0) / 2
        if abs(foam.low - axis - half) < 0.1:
            ways = (35, 20, 50, 10)
            view.leader((foam.far, foam.low), f"pocket \u2300 {_length(view, 2 * half)}", ways)
    for what, near, far, low, high in tail(tap):
        if what == "shank":
            continue
        foot = what in ("washer", "tail nut")
        tip = (near + far) / 2, layout.board(tap.side).bottom + (low if foot else high)
        ways = (-60, -45, -75, -30, -90) if foot else (60, 45, 75, 30, 90, 20)
        view.leader(tip, what, ways)
    done: set[str] = set()
    for cut in reversed(cuts):
        if cut.what in done or cut.what == "board":
            continue
        done.add(cut.what)
        tip = (cut.near + cut.far) / 2, cut.low + (cut.high - cut.low) * 0.75
        ways = (35, 20, 50, 10) if cut.what == "foam" else (145, 160, 130)
        view.leader(tip, cut.what, ways, "dot")
    half = tap.bore / 2
    board = layout.board(tap.side)
    tip = board.thickness / 2, board.bottom + tap.v - half
    view.leader(
        tip, f"bore \u2300 {_length(view, tap.bore)}", (-100, -120, -80, -140, -60), "arrow"
    )


def _length(view: View, mm: float) -> str:
    return length_text(mm, view.draft.show)


def tightest(project: Project, layout: Layout) -> tuple[Tap, FreeArc] | None:
    """Return the tap whose wrench has the smallest free arc; None where nobody can tell."""
    design = Design(project, layout)
    found = [(tap, arc_) for tap in layout.taps if (arc_ := free_arc(design, tap)) is not None]
    return min(found, key=lambda each: (round(each[1].size, 6), each[0].number), default=None)


def wrench(layout: Layout, tap: Tap, free: FreeArc, draft: Draft, room: float) -> None:
    """Draw the faucet wrench about a tap's ring, from outside, and the arc in which it is free."""
    view = draft.view()
    board, tool = layout.board(tap.side), tap.wrench
    assert tool is not None
    reach = tool.reach + tool.half_width
    left, right = max(0.0, tap.u - reach * 1.25), min(board.long_point, tap.u + reach * 1.25)
    for y in (0.0, board.width):
        view.line((left, y), (right, y), VISIBLE)
    for x, end in ((left, 0.0), (right, board.long_point)):
        view.line((x, 0.0), (x, board.width), VISIBLE if x == end else THIN)
    for other in layout.taps_on(tap.side):
        if not left <= other.u <= right or other.shank is None:
            continue
        own = other is tap
        view.ring((other.u, other.v), other.shank.flange_diameter, VISIBLE)
        body = other.faucet.body_width if other.faucet and not own else 0.0
        if body > other.shank.ring_diameter:
            view.ring((other.u, other.v), body, MIDDLE)
        view.ring((other.u, other.v), other.shank.ring_diameter, VISIBLE, 0.94 if own else WHITE)
        view.cross((other.u, other.v), 0.0, 2.0)
    center = tap.u, tap.v
    level = [e for e in layout.taps_on(tap.side) if abs(e.v - tap.v) < 1.0 and left <= e.u <= right]
    first = min(level, key=lambda each: each.u)
    edge = first.u - (first.shank.flange_diameter / 2 if first.shank else 0.0)
    view.stacked("left", min(left, tap.u - reach), (left, 0.0), (edge, tap.v))
    if free.size <= 0.0:
        draft.notes([_free_says(tap, free)], room)
        return
    ends = (free.start, free.start + free.size) if free.size < 360 else (90.0,)
    for angle in ends:
        view.draft.add(_capsule(view, center, angle, tool.reach, tool.half_width))
    _arc(view, center, tool.reach, free)
    middle = math.radians(free.start + free.size / 2)
    tip = center[0] + tool.reach * math.cos(middle), center[1] + tool.reach * math.sin(middle)
    ways = [math.degrees(middle) + each for each in (0, 20, -20, 40, -40, 60, -60)]
    view.leader(tip, f"free over {free.size:.0f} deg", ways)
    tip = (
        center[0] + tool.reach * 0.7 * math.cos(math.radians(ends[0])),
        center[1] + tool.reach * 0.7 * math.sin(math.radians(ends[0])),
    )
    view.leader(tip, "faucet wrench", (-45, -60, -30, -120, -135, 30, 150), "dot")
    others = [
        each for each in layout.taps_on(tap.side) if each is not tap and left <= each.u <= right
    ]
    if others:
        near = min(others, key=lambda each: math.dist((each.u, each.v), center))
        if abs(near.u - tap.u) > 1.0 and abs(near.v - tap.v) < 1.0:
            low = min(0.0, (draft.box()[1] - view.y) / draft.scale)
            view.stacked("below", low, (tap.u, tap.v), (near.u, near.v))
    draft.notes([_free_says(tap, free)], room)


def _free_says(tap: Tap, free: FreeArc) -> str:
    where = free.text if free.size > 0.0 else "nowhere"
    return (
        f"Tap {tap.number} on the {tap.side} board, of all taps the one with least room for the"
        f" faucet wrench, seen from outside. The wrench is free {where}."
    )


def _arc(view: View, center: Point, radius: float, free: FreeArc) -> None:
    """Draw the way of the wrench's tip, in pieces of at most a quarter turn."""
    count = max(1, math.ceil(free.size / 90.0))
    step = free.size / count
    points = [
        view.at(
            (
                center[0] + radius * math.cos(math.radians(free.start + i * step)),
                center[1] + radius * math.sin(math.radians(free.start + i * step)),
            )
        )
        for i in range(count + 1)
    ]
    bulge = math.tan(math.radians(step) / 4)
    steps: list[tuple[Point, ...]] = []
    for a, b in pairwise(points):
        steps += arc(*a, *b, bulge)
    view.draft.add(Path(points[0], tuple(steps), MOVED))


def _capsule(view: View, center: Point, angle: float, reach: float, half: float) -> Path:
    """Draw the wrench's arm: rounded at both ends."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))

    def at(along: float, across: float) -> Point:
        return view.at((center[0] + along * c - across * s, center[1] + along * s + across * c))

    a, b, d, e = at(0.0, half), at(0.0, -half), at(reach, -half), at(reach, half)
    steps = (*arc(*a, *b, 1.0), (d,), *arc(*d, *e, 1.0), (a,))
    return Path(a, steps, MIDDLE)
