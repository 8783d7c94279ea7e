"""How far each bore and each hinge hole may wander: the zone about its mark where all still passes.

A drill wanders, and a mark is set a millimeter off. One hole is moved at a time, a bore with what
goes through it, all else where it is drawn; the checks are asked again along rays from its mark.
What a reading may be off is not counted, nor are the questions that ``packed`` answers.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from ...params.project import Project, Side
from ..shape.hole import HINGE_SET_OUT
from ..shape.layout import Layout
from ..shape.taps import Tap
from ..shape.wander import with_bore, with_pilot
from .border import key, margins, narrowed
from .checks.vessels import TAIL_ROOM, VESSELS
from .design import Design
from .evaluate import asked
from .finding import Finding

REACH = 10.0
"""How far a hole is followed, mm: nobody drills farther beside a punched mark (common practice)."""

RAYS = 24
"""Directions in which it is followed, the first to the right, counterclockwise."""

STEP = 2.0
"""How far apart verdicts are asked along a ray, mm; what fails over less is not seen."""

CLOSE = 0.02
"""How closely the end of a ray is found, mm; the end itself still passes."""

WOOD = "wood"
"""Stands for a check's id where a hole has no wood of its own: a miter, an edge, a joint, another
hole, or for a hinge's hole the rim of its leaf."""

OWN = frozenset({"bore-web", "bore-edge", "bore-end", "tap-gap", "handle-gap", "lid-front"})
"""What is asked of the tap that moves. Two taps are as near to each other as the other way round,
so its neighbors need not be asked."""

ALL = frozenset({"wrench-swing", "manifold", "opening"})
"""What is asked of its neighbors too: their wrenches turn into it; and what is asked of no tap."""

BACK = frozenset({"lid-back", "hinge-fit"})
"""What a tap on the back can change besides."""

NEEDED = frozenset({"bore-edge", "bore-end"})
"""What has to be known of a bore before it has a zone: without flange and nut, gray would reach
to where neither can sit."""

LEAF = frozenset({"hinge-fit"})
"""What a hole of a hinge leaf can change. How well the leaf holds goes by its own holes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Halo:
    """The zone of one hole, from its center.

    Attributes:
        name: the hole's, as in its board.
        side: its board's.
        radii: how far it may wander in each of ``RAYS`` directions, mm; empty without a zone.
        bounds: for each direction the id of the check that would fail beyond, ``WOOD``, or ""
            where nothing did within ``REACH``.
        fails: *musts* that fail where the hole is drawn, so that it has no zone.
        unknown: *musts* that ask about it and were not asked: readings are lacking, or they ask how
            vessels stand. Where one of ``NEEDED`` is among them there is no zone.
    """

    name: str
    side: Side
    radii: tuple[float, ...]
    bounds: tuple[str, ...]
    fails: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def least(self) -> float:
        """How far it may wander whichever way, mm: to the nearest side of the zone; 0 without."""
        if not self.radii:
            return 0.0
        points, found = self.outline(), [min(self.radii)]
        for i, (a, b) in enumerate(zip(points, (*points[1:], points[0]), strict=True)):
            if self.bounds[i] or self.bounds[(i + 1) % RAYS]:
                found.append(_to_line(a, b))
        return min(found)

    @property
    def capped(self) -> bool:
        """Whether nothing fails within ``REACH`` in any direction: it is at least so much."""
        return bool(self.radii) and not any(self.bounds)

    @property
    def bounded_by(self) -> tuple[str, ...]:
        """The checks that bound it, the nearest first."""
        near: dict[str, float] = {}
        for radius, bound in zip(self.radii, self.bounds, strict=True):
            if bound:
                near[bound] = min(radius, near.get(bound, math.inf))
        return tuple(sorted(near, key=lambda bound: (near[bound], bound)))

    def outline(self) -> tuple[tuple[float, float], ...]:
        """Return the zone's corners from the hole's center, counterclockwise, mm.

        The corners and the middles of the sides pass, up to ``CLOSE``. Between them a side may
        overstate beside what is round and in the way: by about 0.1 mm across the rays where its
        radius and the hole's are 2 mm together, by more where it runs steeply outward.
        """
        return tuple(
            (radius * x, radius * y)
            for radius, (x, y) in zip(self.radii, _directions(), strict=False)
        )


def _to_line(a: tuple[float, float], b: tuple[float, float]) -> float:
    """Return how far the origin is from the piece of line between two points."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    share = 0.0 if long == 0.0 else min(max(-(a[0] * dx + a[1] * dy) / long, 0.0), 1.0)
    return math.hypot(a[0] + share * dx, a[1] + share * dy)


def _directions() -> list[tuple[float, float]]:
    turns = [math.tau * i / RAYS for i in range(RAYS)]
    return [(math.cos(turn), math.sin(turn)) for turn in turns]


def halos(project: Project, layout: Layout) -> tuple[Halo, ...]:
    """Return the zones of all bores in the taps' order, then of the hinge's holes.

    A cover that carries the leaves has their holes too: one zone stands for both.
    """
    back = (layout.board("back"), layout.cover("back"))
    pilots = dict.fromkeys(
        hole.name
        for board in back
        if board is not None
        for hole in board.holes
        if hole.assumed and hole.name.startswith(HINGE_SET_OUT)
    )
    return (
        *(_bore(project, layout, tap) for tap in layout.taps),
        *(_pilot(project, layout, name) for name in pilots),
    )


Asked = Callable[[float, float], list[Finding] | None]
"""The findings with a hole so far right and up of its mark; None where it cannot be drilled."""


def _bore(project: Project, layout: Layout, tap: Tap) -> Halo:
    look = _look(Design(project, layout), tap)
    near, about = _within(layout, tap, look), _within(layout, tap, 2 * look)
    small = _only(layout, about)
    checks = ALL | BACK if tap.side == "back" else ALL
    mine, theirs = frozenset({tap.number}), frozenset(each.number for each in near)

    def ask(du: float, dv: float) -> list[Finding] | None:
        there = with_bore(project, small, tap.number, du, dv)
        if there is None:
            return None
        own, every = Design(project, there, mine), Design(project, there, theirs)
        return [*asked(own, OWN), *asked(every, checks)]

    return _halo(tap.hole.name, tap.side, ask, tap.number, _of_the_well(layout))


def _of_the_well(layout: Layout) -> tuple[str, ...]:
    """Return the ids of what a moved bore is not asked: its lines hang where vessels stand."""
    inside = layout.inside
    if not inside.vessels:
        return ()
    return (VESSELS.id, TAIL_ROOM.id)


def _pilot(project: Project, layout: Layout, name: str) -> Halo:
    leaf = f"leaf {name.removeprefix(HINGE_SET_OUT).partition('-')[0]}"

    def ask(du: float, dv: float) -> list[Finding] | None:
        there = with_pilot(project, layout, name, du, dv)
        if there is None:
            return None
        found = asked(Design(project, there), LEAF)
        return [each for each in found if (each.where.text or leaf).startswith(leaf)]

    return _halo(name, "back", ask, None, ())


def _look(design: Design, tap: Tap) -> float:
    """Return how far from a tap another one can stand and still matter to it, mm."""
    taps = design.layout.taps_on(tap.side)
    arm = max((t.wrench.reach + t.wrench.half_width for t in taps if t.wrench), default=0.0)
    wide = max(
        max(t.bore, t.outside or 0.0, t.handle.width if t.handle else 0.0,
            t.shank.ring_diameter if t.shank else 0.0)
        for t in taps
    )  # fmt: skip
    kept = max(
        design.required("bore-web", wide),
        design.required("tap-gap", 2.0),
        design.required("handle-gap", 20.0),
    )
    return max(arm, kept) + wide + 2 * REACH


def _within(layout: Layout, tap: Tap, look: float) -> tuple[Tap, ...]:
    """Return the taps on a tap's side that are no farther along it than ``look``, itself too.

    How high they are does not count: what hangs on a tap reaches far up and down.
    """
    return tuple(each for each in layout.taps_on(tap.side) if abs(each.u - tap.u) <= look)


def _only(layout: Layout, taps: tuple[Tap, ...]) -> Layout:
    """Return the layout with some of its taps; their bores and shanks all stay."""
    numbers = {tap.number for tap in taps}
    hung = tuple(each for each in layout.envelopes if each.tap in numbers)
    return replace(layout, taps=taps, envelopes=hung)


def _halo(name: str, side: Side, ask: Asked, tap: int | None, never_asked: tuple[str, ...]) -> Halo:
    here = [each for each in ask(0.0, 0.0) or [] if each.weight == "must"]
    standing = {key(each) for each in here if each.verdict == "fail"}
    about = [
        each for each in here if each.where.tap in (None, tap) and each.where.side in (None, side)
    ]
    fails = {each.check: None for each in about if each.verdict == "fail"}
    lacking = [each.check for each in about if each.verdict == "not-checked"]
    unknown = dict.fromkeys((*lacking, *never_asked))
    if fails or NEEDED & set(unknown):
        return Halo(
            name=name, side=side, radii=(), bounds=(), fails=tuple(fails), unknown=tuple(unknown)
        )

    def worst(du: float, dv: float) -> tuple[float, str]:
        found = ask(du, dv)
        if found is None:
            return -math.inf, WOOD
        return min(margins(found, standing), default=(math.inf, ""))

    rays = _held_in(worst, [_ray(worst, x, y) for x, y in _directions()])
    return Halo(
        name=name,
        side=side,
        radii=tuple(radius for radius, _ in rays),
        bounds=tuple(bound for _, bound in rays),
        unknown=tuple(unknown),
    )


def _ray(
    worst: Callable[[float, float], tuple[float, str]], x: float, y: float
) -> tuple[float, str]:
    """Return how far the hole may go in one direction, mm, and the check that fails beyond."""
    low, margin = 0.0, math.inf
    high = min(STEP, REACH)
    while True:
        found, bound = worst(high * x, high * y)
        if found < 0:
            break
        low, margin = high, found
        if high >= REACH:
            return REACH, ""
        high = min(high + STEP, REACH)
    return narrowed(lambda far: worst(far * x, far * y), (low, margin), (high, found, bound), CLOSE)


def _held_in(
    worst: Callable[[float, float], tuple[float, str]], rays: list[tuple[float, str]]
) -> list[tuple[float, str]]:
    """Return the rays so much shorter that the middle of each side between two of them passes.

    What is round and in the way bulges into the zone between the rays that end at it.
    """
    ends = [(far * x, far * y) for (far, _), (x, y) in zip(rays, _directions(), strict=True)]
    held = list(rays)
    for i, (a, b) in enumerate(zip(ends, (*ends[1:], ends[0]), strict=True)):
        x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        far = math.hypot(x, y)
        found, bound = worst(x, y)
        if far <= CLOSE or found >= 0:
            continue
        share, bound = narrowed(
            lambda part, x=x, y=y: worst(part * x, part * y),
            (0.0, math.inf),
            (1.0, found, bound),
            CLOSE / far,
        )
        for end in (i, (i + 1) % RAYS):
            short = rays[end][0] * share
            if short < held[end][0]:
                held[end] = short, bound
    return held
