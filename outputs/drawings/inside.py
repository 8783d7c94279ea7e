"""What is inside: the manifold with its hoses, and the well seen from above."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...geometry.judge.standing import Standing
from ...geometry.shape.inner import Rect, inlet
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Manifold
from ...geometry.shape.plane import Point
from ...params.project import Project
from ...params.units import length_text
from ..paper.dims import HIDDEN, MIDDLE, MOVED, THIN, VISIBLE, dot
from ..paper.marks import Path, Pen, arc
from .draft import WHITE, Draft, View

COLLAR = Pen(0.25, HIDDEN.dash)
HOSE = Pen(0.7, gray=0.35)

SLACK = 1.2
"""How much longer than straight a hose is cut, so that it can hang (common practice, no source)."""


def outlets(project: Project, manifold: Manifold) -> tuple[float, ...]:
    """Return where the outlets are along the manifold, from its middle, mm; none where unknown."""
    asked = project.manifold
    row = project.part("manifolds", asked.kind) if asked else None
    if row is None:
        return ()
    count = int(row.value("outlets"))
    first, spacing = row.get("first_outlet_from_end"), row.get("outlet_spacing")
    if count == 1:
        return (0.0,)
    if spacing is None:
        spacing = manifold.length / count
    start = first - manifold.length / 2 if first is not None else -spacing * (count - 1) / 2
    return tuple(start + i * spacing for i in range(count))


def manifold(
    project: Project, layout: Layout, standing: Standing | None, draft: Draft, room: float
) -> None:
    """Draw the manifold on its board, seen from inside the collar, and where its hoses go."""
    body = layout.manifold
    assert body is not None
    board, view = layout.board(body.side), draft.view()
    long = board.short_point
    u = board.long_point - board.inner_right - body.u  # from the left as seen from inside
    view.box(0.0, 0.0, long, board.width)
    panel = layout.panel(body.side)
    if panel is not None:
        start = long - panel.start - panel.length
        view.box(start, 0.0, start + panel.length, panel.width, THIN)
    half, tall = body.length / 2, body.height / 2
    hoses = _hoses(project, layout, standing)
    _outlets(project, view, body, u)
    view.box(u - half, body.v - tall, u + half, body.v + tall, VISIBLE, WHITE)
    for along in outlets(project, body):
        view.ring((u - along, body.v), min(body.height, body.length) / 6, MIDDLE)
    view.skip("below", 0.0)
    view.stacked("below", 0.0, (0.0, 0.0), (u - half, body.v - tall))
    view.stacked("below", 0.0, (0.0, 0.0), (u + half, body.v - tall))
    view.stacked("right", long, (long, 0.0), (u + half, body.v - tall))
    view.stacked("right", long, (long, 0.0), (u + half, body.v + tall))
    view.stacked("left", 0.0, (0.0, 0.0), (0.0, board.width))
    for hole in board.holes:
        if hole.purpose == "passage" and hole.diameter is not None:
            at = board.long_point - board.inner_right - hole.u, hole.v
            view.ring(at, hole.diameter)
            view.cross(at, hole.diameter)
            view.tag(at, hole.diameter / 2, hole.name)
    px, py = view.at((long / 2, board.width))
    draft.words(px, py + 4.0, f"{body.side} board, seen from inside", 3.0, "middle")
    if hoses:
        assert standing is not None
        _from_above(layout, standing, draft, hoses, py + 16.0)
        rows = [
            (hose.outlet, str(hose.number), hose.vessel, length_text(hose.length, draft.show))
            for hose in hoses
        ]
        draft.table(("outlet", "vessel", "gas hose to", "cut at least"), rows, room)
    draft.notes(_texts(body, hoses, draft), room)


@dataclass(frozen=True, slots=True)
class Hose:
    """A gas hose: from an outlet (its number, its place in plan) to a vessel's fitting, mm."""

    outlet: str
    start: Point
    number: int
    vessel: str
    end: Point
    length: float


def _from_above(
    layout: Layout, standing: Standing, draft: Draft, hoses: Sequence[Hose], low: float
) -> None:
    """Draw the hoses in plan: collar, manifold, all vessels, the numbers of these in them."""
    body = layout.manifold
    assert body is not None
    board = layout.board(body.side)
    ys = [y for part in layout.boards for _, y in part.plan]
    start = min(x for x, _ in board.inner)
    view = draft.view(-start * draft.scale, low - min(ys) * draft.scale)
    for part in layout.boards:
        view.outline(part.plan, MIDDLE)
    vessels = {each.name: each for each in layout.inside.vessels}
    for place in standing.places:
        view.ring((place.x, place.y), vessels[place.vessel].diameter, THIN)
    half, t = body.length / 2, board.thickness
    corners = ((-half, t), (half, t), (half, t + body.depth), (-half, t + body.depth))
    view.outline([board.place(body.u + du, 0.0, d)[:2] for du, d in corners], VISIBLE, WHITE)
    for hose in hoses:
        a, b = view.at(hose.start), view.at(hose.end)
        draft.add(Path(a, ((b,),), HOSE), dot(b, 1.6))
    for number, place in enumerate(standing.places, 1):
        radius = vessels[place.vessel].diameter / 2
        view.tag((place.x, place.y), 1.0 / draft.scale, str(number), 3.0, radius)
    top = view.at((0.0, max(ys)))[1]
    middle = view.at(((board.outer[0][0] + board.outer[1][0]) / 2, 0.0))[0]
    draft.words(middle, top + 4.0, "hoses seen from above, front below", 3.0, "middle")


def _texts(body: Manifold, hoses: Sequence[Hose], draft: Draft) -> list[str]:
    texts = [
        f"The manifold on the inner face of the {body.side} board, between the board's inner"
        " corners: left and right are as seen from inside."
        f" It stands {length_text(body.depth, draft.show)} off the board."
    ]
    if hoses:
        texts.append(
            "Hose lengths: straight from the outlet to the vessel's fitting, and"
            f" {SLACK - 1:.0%} more so that they hang (common practice, no source); add what a"
            " vessel needs to be lifted out with its hose on."
        )
    else:
        texts.append("Hoses go down to the vessels; where these stand is not known.")
    return texts


def _hoses(project: Project, layout: Layout, standing: Standing | None) -> list[Hose]:
    """Return a hose for each vessel that takes gas; in their order along the board."""
    body = layout.manifold
    if body is None or standing is None:
        return []
    board = layout.board(body.side)
    (x0, y0), (x1, y1) = board.outer
    ux, uy = (x1 - x0) / board.long_point, (y1 - y0) / board.long_point
    vessels = {each.name: each for each in layout.inside.vessels}
    numbered = [(i, place) for i, place in enumerate(standing.places, 1)]
    taking = [each for each in numbered if vessels[each[1].vessel].side_reach is None]
    taking.sort(key=lambda each: each[1].x * ux + each[1].y * uy)
    places = outlets(project, body)
    found: list[Hose] = []
    for i, (number, place) in enumerate(taking):
        known = i < len(places)
        u = body.u + (places[i] if known else 0.0)
        x, y, z = board.place(u, body.v, board.thickness + body.depth)
        end = place.x, place.y, place.z + vessels[place.vessel].tall
        length = SLACK * math.dist((x, y, z), end)
        outlet = str(i + 1) if known else ""
        found.append(Hose(outlet, (x, y), number, place.vessel, end[:2], length))
    return found


def _outlets(project: Project, view: View, body: Manifold, u: float) -> None:
    """Draw the outlets' hoses going down, and the inlet at its end."""
    last = math.inf
    for i, along in enumerate(outlets(project, body)):
        a, b = view.at((u - along, body.v)), view.at((u - along, 0.0))
        end = b[0], b[1] - 3.0
        view.draft.add(Path(a, ((end,),), HOSE))
        if last - end[0] > 4.5:  # where they stand too close only some are numbered
            view.draft.words(end[0], end[1] - 3.6, str(i + 1), 2.5, "middle")
            last = end[0]
    beyond = inlet(project)
    if beyond:
        half = body.length / 2
        view.box(u + half, body.v - 6.0, u + half + beyond, body.v + 6.0, MIDDLE, WHITE)
        view.leader((u + half + beyond, body.v), "gas in", (20, 40, 0, -20))


def well(layout: Layout, standing: Standing, draft: Draft, room: float) -> None:
    """Draw the well from above with the vessels in their places."""
    inside, view = layout.inside, draft.view()
    there = inside.well
    assert there is not None
    _rounded(view, there.mouth, there.corner_radius, THIN)
    _rounded(view, there.floor, there.corner_radius, VISIBLE)
    floor = there.floor
    if there.step is not None:
        step = there.step
        x0, y0, x1, y1 = floor.x0, floor.y0, floor.x1, floor.y1
        edge = {
            "left": ((x0 + step.length, y0), (x0 + step.length, y1)),
            "right": ((x1 - step.length, y0), (x1 - step.length, y1)),
            "front": ((x0, y0 + step.length), (x1, y0 + step.length)),
            "back": ((x0, y1 - step.length), (x1, y1 - step.length)),
        }[step.side]
        view.line(*edge, VISIBLE)
        a, b = edge
        middle = (a[0] + b[0]) / 2, a[1] + (b[1] - a[1]) * 0.06
        view.leader(middle, f"step, {length_text(step.height, draft.show)} high", (45, 135), "dot")
    for opening in inside.openings:
        view.box(*_rect(opening.rect), COLLAR)
    for each in inside.inner:
        view.box(*_rect(each.rect), MOVED)
    vessels = {each.name: each for each in inside.vessels}
    for place in standing.places:
        center, vessel = (place.x, place.y), vessels[place.vessel]
        view.ring(center, vessel.diameter)
        view.cross(center, vessel.diameter, 1.5)
    numbers = {place.vessel: str(i) for i, place in enumerate(standing.places, 1)}
    for place in standing.places:
        view.tag((place.x, place.y), 1.0 / draft.scale, numbers[place.vessel], 3.5)
    around = [there.mouth, *(opening.rect for opening in inside.openings)]
    around += [each.rect for each in inside.inner]
    left, low = min(each.x0 for each in around), min(each.y0 for each in around)
    view.stacked("below", low, (floor.x0, floor.y0), (floor.x1, floor.y0))
    view.stacked("left", left, (floor.x0, floor.y0), (floor.x0, floor.y1))

    def text(mm: float) -> str:
        return length_text(mm, draft.show)

    order = {
        entry.vessel: str(i)
        for i, entry in enumerate(standing.order.entries if standing.order else (), 1)
    }
    rows = [
        (
            numbers[place.vessel],
            place.vessel,
            text(vessels[place.vessel].diameter),
            text(place.x - floor.x0),
            text(place.y - floor.y0),
            "step" if place.on_step else "floor",
            order.get(place.vessel, ""),
        )
        for place in standing.places
    ]
    head = (
        "no.", "vessel", "\u2300", "axis from left wall", "from front wall", "on", "goes in as"
    )  # fmt: skip
    draft.table(head, rows, room)
    draft.notes(
        [
            "Seen from above, the front below. Walls at the floor in heavy lines, the mouth thin,"
            " the way through the collar dashed, what hangs in from the collar dash-dotted."
        ],
        room,
    )


def _rect(rect: Rect) -> tuple[float, float, float, float]:
    return rect.x0, rect.y0, rect.x1, rect.y1


def _rounded(view: View, rect: Rect, radius: float, pen: Pen) -> None:
    """Draw an upright rectangle with rounded corners."""
    r = min(radius, (rect.x1 - rect.x0) / 2, (rect.y1 - rect.y0) / 2)
    if r <= 0:
        view.box(*_rect(rect), pen)
        return
    x0, y0, x1, y1 = _rect(rect)
    bulge = math.tan(math.pi / 8)
    corners = (
        ((x1 - r, y0), (x1, y0 + r)), ((x1, y1 - r), (x1 - r, y1)),
        ((x0 + r, y1), (x0, y1 - r)), ((x0, y0 + r), (x0 + r, y0)),
    )  # fmt: skip
    steps: list[tuple[Point, ...]] = []
    for a, b in corners:
        pa, pb = view.at(a), view.at(b)
        steps += [(pa,), *arc(*pa, *pb, bulge)]
    start = view.at((x0 + r, y0))
    view.draft.add(Path(start, tuple(steps), pen, closed=True))
