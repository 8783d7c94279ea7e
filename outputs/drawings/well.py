"""The well from above: where the vessels stand, in which order they go in, what each is for."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ...geometry.judge.standing import Standing
from ...geometry.plan.hoses import cylinder_gas
from ...geometry.shape.inner import Rect
from ...geometry.shape.layout import Layout
from ...geometry.shape.plane import Point
from ...geometry.shape.vessel import Vessel
from ...params.project import Project
from ...params.units import length_text
from ..paper.dims import HIDDEN, MOVED, THIN, VISIBLE
from ..paper.marks import Path, Pen, arc
from .draft import Draft, View

if TYPE_CHECKING:
    from ...geometry.plan.packing import Place

COLLAR = Pen(0.25, HIDDEN.dash)

NUMBER, NAME = 3.0, 1.8
"""Heights of a vessel's number and of its drink's capitals in its circle, mm."""


@dataclass(frozen=True, slots=True)
class Stood:
    """A vessel in its place, its number on the drawings and what it is for, in words."""

    number: int
    place: "Place"
    vessel: Vessel
    use: str
    short: str

    @property
    def center(self) -> Point:
        """Its axis in plan, mm."""
        return self.place.x, self.place.y


def in_order(standing: Standing) -> bool:
    """Whether the vessels are numbered as they go in."""
    return standing.order is not None and standing.order.found


def stood(project: Project, layout: Layout, standing: Standing) -> tuple[Stood, ...]:
    """Return all vessels by their numbers: in the order in which they go in, if there is one."""
    vessels = {each.name: each for each in layout.inside.vessels}
    places = {each.vessel: each for each in standing.places}
    names = list(places)
    if standing.order is not None and standing.order.found:
        names = [entry.vessel for entry in standing.order.entries]
    return tuple(
        Stood(number, places[name], vessels[name], *_use(project, layout, vessels[name]))
        for number, name in enumerate(names, 1)
    )


def _use(project: Project, layout: Layout, vessel: Vessel) -> tuple[str, str]:
    """Return what a vessel is for, with its tap's number, and the same in a word."""
    gas = cylinder_gas(project, vessel)
    tap = next((each for each in layout.taps if each.number == vessel.tap), None)
    if gas or tap is None:
        return gas, gas
    own = tap.name != f"tap {tap.number}"
    return f"tap {tap.number}" + (f", {tap.name}" if own else ""), tap.name


def labels(view: View, all_there: Sequence[Stood]) -> None:
    """Number all vessels in their circles, and name drink or gas there if there is room."""
    centers = [each.center for each in all_there]
    for each in all_there:
        half = each.vessel.diameter / 2
        view.tag(each.center, half, str(each.number), NUMBER, half, centers)
        if each.short:
            view.tag(each.center, 0.0, each.short, NAME, half, optional=True)


def well(project: Project, layout: Layout, standing: Standing, draft: Draft, room: float) -> None:
    """Draw the well from above with the vessels in their places."""
    inside, view = layout.inside, draft.view()
    there = inside.well
    assert there is not None
    _rounded(view, there.mouth, there.corner_radius, THIN)
    floor = there.floor
    _rounded(view, floor, there.corner_radius, VISIBLE)
    _step(layout, view)
    for opening in inside.openings:
        view.box(*_rect(opening.rect), COLLAR)
    for each in inside.inner:
        view.box(*_rect(each.rect), MOVED)
    found = stood(project, layout, standing)
    for each in found:
        view.ring(each.center, each.vessel.diameter)
        view.cross(each.center, 0.0, 1.0)  # short, so that number and name have room
    labels(view, found)
    around = [there.mouth, *(opening.rect for opening in inside.openings)]
    around += [each.rect for each in inside.inner]
    left, low = min(each.x0 for each in around), min(each.y0 for each in around)
    view.stacked("below", low, (floor.x0, floor.y0), (floor.x1, floor.y0))
    view.stacked("left", left, (floor.x0, floor.y0), (floor.x0, floor.y1))

    def text(mm: float) -> str:
        return length_text(mm, draft.show)

    rows = [
        (
            str(each.number),
            each.vessel.name,
            each.use,
            text(each.vessel.diameter),
            text(each.place.x - floor.x0),
            text(each.place.y - floor.y0),
            "step" if each.place.on_step else "floor",
        )
        for each in found
    ]
    head = ("no.", "vessel", "for", "\u2300", "axis from left wall", "from front wall", "on")
    draft.table(head, rows, room)
    draft.notes(_texts(standing), room)


def _texts(standing: Standing) -> Iterator[str]:
    yield (
        "Seen from above, the front below. Walls at the floor in heavy lines, the mouth thin,"
        " the way through the collar dashed, what hangs in from the collar dash-dotted."
    )
    if in_order(standing):
        yield "Numbers: the order in which the vessels go in."


def _step(layout: Layout, view: View) -> None:
    there = layout.inside.well
    if there is None or there.step is None:
        return
    step, floor = there.step, there.floor
    x0, y0, x1, y1 = _rect(floor)
    a, b = {
        "left": ((x0 + step.length, y0), (x0 + step.length, y1)),
        "right": ((x1 - step.length, y0), (x1 - step.length, y1)),
        "front": ((x0, y0 + step.length), (x1, y0 + step.length)),
        "back": ((x0, y1 - step.length), (x1, y1 - step.length)),
    }[step.side]
    view.line(a, b, VISIBLE)
    tip = (a[0] + b[0]) / 2, a[1] + (b[1] - a[1]) * 0.06
    says = f"step, {length_text(step.height, view.draft.show)} high"
    view.leader(tip, says, (45, 135), "dot")


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
