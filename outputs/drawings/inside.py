"""The manifold on its board, and the gas hoses: what hangs on it, and what does not."""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...geometry.judge.standing import Standing
from ...geometry.plan.cylinders import cylinders
from ...geometry.plan.hoses import Hoses, Keg, cylinder_gas, hoses
from ...geometry.shape.inner import inlet
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Manifold
from ...geometry.shape.plane import Point
from ...params.project import Project
from ...params.units import length_text
from ..paper.dims import MIDDLE, THIN, VISIBLE, dot, font_size
from ..paper.marks import Path, Pen
from ..paper.pdf import text_width
from .draft import WHITE, Draft, View
from .well import Stood, labels, stood

HOSE = Pen(0.7, gray=0.35)
ELSEWHERE = Pen(0.7, (2.0, 1.2), 0.35)
"""A hose that does not come from the manifold."""

SLACK = 1.2
"""How much longer than straight a hose is cut, so that it can hang (common practice, no source)."""

HEIGHTS = (2.5, 2.0, 1.6)
"""Of an outlet's number, mm: the first at which all of them stand beside each other."""


@dataclass(frozen=True, slots=True)
class Hose:
    """A gas hose: what it comes from, in words and in plan, and to which keg's fitting, mm.

    ``start`` is None where nobody knows its place, and then ``length`` is too. ``outlet`` counts
    from 1 where it is one of the manifold's that has a place.
    """

    source: str
    start: Point | None
    keg: Stood
    gas: str | None
    length: float | None
    outlet: int | None = None


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
    """Draw the manifold on its board, seen from inside the collar, and where the hoses go."""
    body = layout.manifold
    assert body is not None
    board, view = layout.board(body.side), draft.view()
    u = _board(layout, body, view)
    all_there = stood(project, layout, standing) if standing is not None else ()
    hung = hoses(project, layout)
    found = list(_hoses(project, layout, body, hung, all_there))
    used = {hose.outlet for hose in found} if found else None
    _outlets(project, view, body, u, used)
    px, py = view.at((board.short_point / 2, board.width))
    draft.words(px, py + 4.0, f"{body.side} board, seen from inside", 3.0, "middle")
    if found:
        _from_above(layout, body, draft, found, all_there, py + 13.0)
        head = ("from", "no.", "gas hose to", "for", "gas", "cut at least")
        draft.table(head, list(_rows(found, len(outlets(project, body)), draft)), room)
    draft.notes(_texts(project, body, hung, found, draft), room)


def _board(layout: Layout, body: Manifold, view: View) -> float:
    """Draw the board with its foam and passages; return where the manifold's middle is, mm."""
    board = layout.board(body.side)
    long = board.short_point
    u = board.long_point - board.inner_right - body.u  # from the left as seen from inside
    view.box(0.0, 0.0, long, board.width)
    panel = layout.panel(body.side)
    if panel is not None:
        start = long - panel.start - panel.length
        view.box(start, 0.0, start + panel.length, panel.width, THIN)
    half, tall = body.length / 2, body.height / 2
    view.skip("below", 0.0, 0.6)  # room for the outlets' numbers
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
    return u


def _hoses(
    project: Project,
    layout: Layout,
    body: Manifold,
    hung: Hoses,
    all_there: Sequence[Stood],
) -> Iterator[Hose]:
    """Yield the manifold's hoses in their order along the board, then those from elsewhere."""
    board = layout.board(body.side)
    (x0, y0), (x1, y1) = board.outer
    ux, uy = (x1 - x0) / board.long_point, (y1 - y0) / board.long_point
    by_name = {each.vessel.name: each for each in all_there}
    kegs = [(by_name[keg.vessel.name], keg) for keg in hung.kegs if keg.vessel.name in by_name]
    taking = [each for each in kegs if each[1].on_manifold]
    taking.sort(key=lambda each: each[0].center[0] * ux + each[0].center[1] * uy)
    places = outlets(project, body)
    for i, (each, keg) in enumerate(taking):
        if places and i >= len(places):
            yield Hose("no outlet left", None, each, keg.gas, None)
            continue
        u = body.u + (places[i] if places else 0.0)
        x, y, z = board.place(u, body.v, board.thickness + body.depth)
        source, number = (f"outlet {i + 1}", i + 1) if places else ("manifold", None)
        length = SLACK * math.dist((x, y, z), _top(each))
        yield Hose(source, (x, y), each, keg.gas, length, number)
    for each, keg in kegs:
        if not keg.on_manifold:
            yield _elsewhere(project, hung, each, keg, all_there)


def _elsewhere(
    project: Project, hung: Hoses, each: Stood, keg: Keg, all_there: Sequence[Stood]
) -> Hose:
    """Return the hose of a keg of another gas, from its cylinder, or of another pressure."""
    if keg.gas == hung.gas:
        source = "its secondary regulator" if keg.second else "the first regulator"
        return Hose(source, None, each, keg.gas, None)
    own = [other for other in all_there if cylinder_gas(project, other.vessel) == keg.gas]
    source = f"the {keg.gas} regulator"
    if not own:
        return Hose(source, None, each, keg.gas, None)
    length = SLACK * math.dist(_top(own[0]), _top(each))
    return Hose(f"{source}, no. {own[0].number}", own[0].center, each, keg.gas, length)


def _top(each: Stood) -> tuple[float, float, float]:
    return each.place.x, each.place.y, each.place.z + each.vessel.tall


def _rows(found: Sequence[Hose], count: int, draft: Draft) -> Iterator[tuple[str, ...]]:
    """Yield a row for each outlet, also for those without a hose, and for each other hose."""

    def row(hose: Hose) -> tuple[str, ...]:
        cut = "" if hose.length is None else length_text(hose.length, draft.show)
        keg = hose.keg
        return hose.source, str(keg.number), keg.vessel.name, keg.use, hose.gas or "", cut

    yield from (row(hose) for hose in found if hose.outlet is not None)
    for number in range(1, count + 1):
        if not any(hose.outlet == number for hose in found):
            yield f"outlet {number}", "", "none: its valve stays shut", "", "", ""
    yield from (row(hose) for hose in found if hose.outlet is None)


def _from_above(
    layout: Layout,
    body: Manifold,
    draft: Draft,
    found: Sequence[Hose],
    all_there: Sequence[Stood],
    low: float,
) -> None:
    """Draw the hoses in plan: collar, manifold, all vessels with their numbers in them."""
    board = layout.board(body.side)
    ys = [y for part in layout.boards for _, y in part.plan]
    start = min(x for x, _ in board.inner)
    view = draft.view(-start * draft.scale, low - min(ys) * draft.scale)
    for part in layout.boards:
        view.outline(part.plan, MIDDLE)
    for each in all_there:
        view.ring(each.center, each.vessel.diameter, THIN)
    half, t = body.length / 2, board.thickness
    corners = ((-half, t), (half, t), (half, t + body.depth), (-half, t + body.depth))
    view.outline([board.place(body.u + du, 0.0, d)[:2] for du, d in corners], VISIBLE, WHITE)
    for hose in found:
        if hose.start is not None:
            a, b = view.at(hose.start), view.at(hose.keg.center)
            pen = HOSE if _from_manifold(hose) else ELSEWHERE
            draft.add(Path(a, ((b,),), pen), dot(b, 1.6))
    labels(view, all_there)
    top = view.at((0.0, max(ys)))[1]
    middle = view.at(((board.outer[0][0] + board.outer[1][0]) / 2, 0.0))[0]
    draft.words(middle, top + 4.0, "hoses seen from above, front below", 3.0, "middle")


def _from_manifold(hose: Hose) -> bool:
    return hose.outlet is not None or hose.source == "manifold"


def _texts(
    project: Project, body: Manifold, hung: Hoses, found: Sequence[Hose], draft: Draft
) -> Iterator[str]:
    yield (
        f"The manifold on the inner face of the {body.side} board, between the board's inner"
        " corners: left and right are as seen from inside."
        f" It stands {length_text(body.depth, draft.show)} off the board."
    )
    if not found:
        yield "Hoses go down to the vessels; where these stand is not known."
        return
    said = list(_doubts(project, hung))
    if hung.gas:
        said.insert(0, f"It has one gas at one pressure: only kegs on {hung.gas} hang on it.")
        if hung.second and hung.pressure is not None:
            said.insert(1, f"It hangs behind a secondary regulator ({hung.pressure.kind}).")
    if any(hose.start is not None and not _from_manifold(hose) for hose in found):
        said.append("Dashed: from a regulator of their own.")
    if said:
        yield " ".join(said)
    yield (
        f"Hose lengths: straight to the vessel's fitting, and {SLACK - 1:.0%} more so that they"
        " hang (common practice, no source); add what a vessel needs to be lifted out with its"
        " hose on."
    )


def _doubts(project: Project, hung: Hoses) -> Iterator[str]:
    """Yield which kegs may not belong on the manifold, as nobody says what gas they take."""
    gases = {each.gas for each in cylinders(project)} | {each.gas for each in hung.kegs}
    untold = [each.vessel.name for each in hung.kegs if each.gas is None]
    if untold and len(gases - {None}) > 1:
        yield (
            f"The build file does not say which gas {', '.join(untold)} take ([[pour]], gas). They"
            " are drawn on the manifold; one of another gas has its hose from its own regulator."
        )


def _outlets(
    project: Project, view: View, body: Manifold, u: float, used: set[int | None] | None
) -> None:
    """Draw the manifold, the hoses going down from its outlets, and the inlet at its end.

    ``used`` are the outlets that have a hose; None where nobody knows them.
    """
    places = outlets(project, body)
    half, tall = body.length / 2, body.height / 2
    ends = [view.at((u - along, 0.0))[0] for along in places]
    y = view.at((0.0, 0.0))[1] - 3.0
    for i, (x, along) in enumerate(zip(ends, places, strict=True), 1):
        if used is None or i in used:
            view.draft.add(Path(view.at((u - along, body.v)), (((x, y),),), HOSE))
    height = next((each for each in HEIGHTS if _apart(ends, each)), HEIGHTS[-1])
    last = math.inf
    for i, x in enumerate(ends, 1):
        if _apart((last, x), height):  # where they stand too close only some are numbered
            view.draft.words(x, y - 1.1 - height, str(i), height, "middle")
            last = x
    view.box(u - half, body.v - tall, u + half, body.v + tall, VISIBLE, WHITE)
    for along in places:
        view.ring((u - along, body.v), min(body.height, body.length) / 6, MIDDLE)
    beyond = inlet(project)
    if beyond:
        view.box(u + half, body.v - 6.0, u + half + beyond, body.v + 6.0, MIDDLE, WHITE)
        view.leader((u + half + beyond, body.v), "gas in", (20, 40, 0, -20))


def _apart(places: Sequence[float], height: float) -> bool:
    """Whether numbers of so high capitals stand beside each other, 0.8 mm apart."""
    wide = text_width(str(max(len(places), 1)), font_size(height)) + 0.8
    return all(abs(a - b) >= wide for a, b in itertools.pairwise(places))
