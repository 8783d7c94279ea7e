"""Order of assembly: by hand, by a walker that samples points, and against all permutations.

The walker knows no arcs, no layers and no view of a side: it fills each tool with points in space
and asks of each point whether it lies in a part that is already there. A driver leans as the
slanted bar that it is; a wrench is turned in steps of 3 deg.
"""

import importlib.util
import math
from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache
from itertools import permutations
from pathlib import Path
from random import Random
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from collarwright.geometry.judge.evaluate import evaluate, remarks
from collarwright.geometry.plan.assembly import assembly
from collarwright.geometry.plan.assembly.blocks import Blocks
from collarwright.geometry.plan.assembly.bodies import Lining, Prism, Rod, Room
from collarwright.geometry.plan.assembly.driver import LEAN, Driver
from collarwright.geometry.plan.assembly.part import Operation, Parts, Placed
from collarwright.geometry.plan.assembly.parts import parts
from collarwright.geometry.plan.assembly.search import Order, find
from collarwright.geometry.plan.assembly.tools import Piece, Swing, Way
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.outputs.lists.assembly import tables
from collarwright.params.project import Limits, Project
from collarwright.params.reading import draft
from plain_collar import COLLAR

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
Points = np.ndarray
Make = Callable[..., Project]

_spec = importlib.util.spec_from_file_location(
    "designs", Path(__file__).with_name("test_random_designs.py")
)
assert _spec is not None and _spec.loader is not None
designs: Any = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(designs)


def looked_at(project: Project) -> tuple[Layout, Parts, Blocks, Order]:
    layout = lay_out(project)
    found = parts(project, layout)
    blocks = Blocks(layout, found)
    return layout, found, blocks, find(found, blocks)


def ids(order: Order) -> list[str]:
    return [step.operation.id for step in order.steps]


def step_of(order: Order, name: str) -> Any:
    return next(step for step in order.steps if step.operation.id == name)


def example(path: Path) -> Project:
    found = draft(path, path.read_bytes()).project
    assert found is not None
    return found


# --- the walker -----------------------------------------------------------------------------------


class Walker:
    """Puts parts in place one by one; asks points in space what they lie in."""

    def __init__(self, layout: Layout, found: Parts) -> None:
        self.layout = layout
        self.placed = [*found.fixed, *(body for each in found.operations for body in each.bodies)]
        spans = [self.space(each.side, corners(each.body)) for each in self.placed]
        self.low = np.array([span.min(axis=0) for span in spans])
        self.high = np.array([span.max(axis=0) for span in spans])
        self.heights = np.unique(((self.low + self.high)[:, 2] / 2).round(1))

    def axes(self, side: Any) -> tuple[Points, Points, Points]:
        """Where a board's outer face starts in space, and its directions along and inward."""
        (x0, y0), (x1, y1) = self.layout.board(side).outer
        long = math.hypot(x1 - x0, y1 - y0)
        along = np.array([(x1 - x0) / long, (y1 - y0) / long, 0.0])
        return np.array([x0, y0, 0.0]), along, np.array([-along[1], along[0], 0.0])

    def space(self, side: Any, view: Points) -> Points:
        start, along, inward = self.axes(side)
        u, v, d = view.T[:, :, None]
        return start + u * along + d * inward + v * np.array([0.0, 0.0, 1.0])

    def hit(self, points: Points, each: Placed) -> Points:
        """Which of the points lie in a part, by more than a hundredth of a millimeter."""
        start, along, inward = self.axes(each.side)
        u, d, v = (points - start) @ along, (points - start) @ inward, points[:, 2]
        return inside(each.body, u, v, d)

    def free(self, operation: Operation, there: Collection[str]) -> bool:
        own = {operation.id, *operation.passes}
        return all(
            any(self.way_free(way, turn.side, operation, there, own) for way in turn.ways)
            for turn in operation.turns
        )

    def way_free(
        self, way: Way, side: Any, operation: Operation, there: Collection[str], own: set[str]
    ) -> bool:
        around = [
            place
            for place, each in enumerate(self.placed)
            if each.owner in there
            and each.owner not in own
            and not (each.owner == "ring" and each.side == side)
            and not (each.owner == "lid" and not (operation.lid_closed and each.side == side))
        ]

        def hits(view: Points) -> Points:
            points = self.space(side, view)
            low, high = points.min(axis=0), points.max(axis=0)
            found = np.zeros(len(points), bool)
            for place in around:
                if np.all((self.low[place] < high) & (low < self.high[place])):
                    found |= self.hit(points, self.placed[place])
            return found

        return all(self.piece_free(piece, hits) for piece in way.pieces)

    def piece_free(self, piece: Piece, hits: Callable[[Points], Points]) -> bool:
        def clear(view: Points) -> bool:
            return not hits(view).any()

        if isinstance(piece, Rod):
            return clear(bar((piece.u, piece.v), piece.radius, piece.near, piece.far))
        if isinstance(piece, Room):
            return clear(box(piece, self.heights))
        if isinstance(piece, Driver):
            leans = [(0.0, 0.0), *((LEAN, 45.0 * way) for way in range(8))]
            return any(all(map(clear, slanted(piece, *lean))) for lean in leans)
        if not clear(bar((piece.u, piece.v), piece.hub, piece.near, piece.far)):
            return False
        met = hits(np.vstack([arm(piece, angle) for angle in range(0, 360, STEP)]))
        return largest_run([not each for each in met.reshape(360 // STEP, -1).any(axis=1)]) >= (
            piece.bite
        )


def corners(body: Rod | Prism | Lining) -> Points:
    """Corners (u, v, d) of a box that holds a part."""
    if isinstance(body, Rod):
        r = body.radius
        spans = ((body.u - r, body.u + r), (body.v - r, body.v + r), (body.near, body.far))
    elif isinstance(body, Lining):
        spans = ((body.left, body.right), (0.0, body.top), (body.near, body.far))
    else:
        deep, across = zip(*body.outline, strict=True)
        ends = [(min(across), max(across)), (body.low, body.high)]
        spans = (*(ends[::-1] if body.level else ends), (min(deep), max(deep)))
    grid = np.meshgrid(*spans)
    return np.column_stack([each.ravel() for each in grid])


def inside(body: Rod | Prism | Lining, u: Points, v: Points, d: Points) -> Points:
    slack = 0.01
    if isinstance(body, Rod):
        deep = (d > body.near + slack) & (d < body.far - slack)
        return deep & (np.hypot(u - body.u, v - body.v) < body.radius - slack)
    if isinstance(body, Lining):
        there = (d > body.near + slack) & (d < body.far - slack) & (v > slack)
        there &= (u > body.left + slack) & (u < body.right - slack) & (v < body.top - slack)
        for hole in body.holes:
            if hole.diameter is not None:
                there &= np.hypot(u - hole.u, v - hole.v) > hole.diameter / 2 + slack
            else:
                beside = np.abs(u - hole.u) > hole.half_length + slack
                there &= beside | (np.abs(v - hole.v) > hole.half_height + slack)
        return there
    x, across = (v, u) if body.level else (u, v)
    there = (across > body.low + slack) & (across < body.high - slack)
    sides = list(zip(body.outline, (*body.outline[1:], body.outline[0]), strict=True))
    turned = sum(a[0] * b[1] - b[0] * a[1] for a, b in sides) > 0
    for (d0, x0), (d1, x1) in sides:
        left = ((d1 - d0) * (x - x0) - (x1 - x0) * (d - d0)) / math.hypot(d1 - d0, x1 - x0)
        there &= (left if turned else -left) > slack
    return there


STEP = 3
"""How far a wrench is turned at once, deg."""


@cache
def disc(radius: float) -> Points:
    rings = [radius * share for share in (0.0, 0.6, 1.0)]
    angles = np.radians(np.arange(0, 360, 12))
    return np.array([(r * math.cos(a), r * math.sin(a)) for r in rings for a in angles])


@cache
def capsule(reach: float, half: float) -> Points:
    along = np.linspace(0.0, reach, max(2, math.ceil(reach / 8.0)))
    across = np.linspace(-half, half, 5)
    flat = np.array([(x, y) for x in along for y in across])
    return np.vstack([flat, disc(half) + np.array([reach, 0.0])])


def bar(at: tuple[float, float], radius: float, near: float, far: float) -> Points:
    flat = disc(radius) + np.array(at)
    depths = np.linspace(near, far, max(3, math.ceil((far - near) / 6.0)))
    return np.vstack([np.column_stack([flat, np.full(len(flat), d)]) for d in depths])


def box(room: Room, heights: Points) -> Points:
    """Points so close that no shank lies between them, and some at half the height of each part."""
    along = np.linspace(room.left, room.right, max(9, math.ceil((room.right - room.left) / 20.0)))
    within = heights[(heights > room.low) & (heights < room.high)]
    up = np.concatenate([np.linspace(room.low, room.high, 9), within])
    grid = np.meshgrid(along, up, np.linspace(room.near, room.far, 9))
    return np.column_stack([each.ravel() for each in grid])


def slanted(driver: Driver, lean: float, way: float) -> Iterator[Points]:
    """The driver as bars along one slanted axis, square to it."""
    tilt, turn, sign = math.radians(lean), math.radians(way), 1.0 if driver.inward else -1.0
    axis = np.array([math.sin(tilt) * math.cos(turn), math.sin(tilt) * math.sin(turn),
                     sign * math.cos(tilt)])  # fmt: skip
    side = np.cross(axis, [0.0, 1.0, 0.0] if abs(axis[1]) < 0.9 else [1.0, 0.0, 0.0])
    side /= np.linalg.norm(side)
    other = np.cross(axis, side)
    head = np.array([driver.u, driver.v, driver.head])
    for start, end, radius in driver.spans:
        flat = disc(radius)
        ring = flat[:, :1] * side + flat[:, 1:] * other
        # A slanted end's rim reaches behind the head's plane; no screw's head is there to be met.
        steps = np.linspace(start + radius * math.tan(tilt), end, max(3, math.ceil(end / 8.0)))
        yield np.vstack([head + axis * off + ring for off in steps])


def arm(swing: Swing, angle: float) -> Points:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    turned = capsule(swing.arm.reach, swing.arm.half_width) @ np.array([[c, s], [-s, c]])
    turned += np.array([swing.u, swing.v])
    depths = np.linspace(swing.near, swing.far, 3)
    return np.vstack([np.column_stack([turned, np.full(len(turned), d)]) for d in depths])


def largest_run(free: list[bool]) -> float:
    """The longest run of free steps round the circle, deg; it ends short of the next step."""
    if all(free):
        return 360.0
    best = run = 0
    for each in free + free:
        run = run + 1 if each else 0
        best = max(best, run)
    return float(STEP * (best + 1))


def walks(project: Project) -> int:
    """Walk an order and return how many things were turned; fail where one could not be.

    What is said to be too early for it would be: with that there, nothing turns it. Not asked of
    wrenches in foam: that a pocket is open at a panel's end is not counted on.
    """
    layout, found, _, order = looked_at(project)
    assert not order.loop
    walker, there, turned = Walker(layout, found), {each.owner for each in found.fixed}, 0
    assert sorted(ids(order)) == sorted(each.id for each in found.operations)
    for step in order.steps:
        assert set(step.operation.after) <= there, step.operation.id
        assert walker.free(step.operation, there), step.operation.id
        for later in step.before:
            in_foam = later.id.startswith("foam") and step.operation.id.endswith("tail")
            if step.operation.id not in found.always(later) and not in_foam:
                early = there | {later.id}
                assert not walker.free(step.operation, early), (step.operation.id, later.id)
        there.add(step.operation.id)
        turned += bool(step.operation.turns)
    return turned


# --- by hand --------------------------------------------------------------------------------------


def test_design_a_goes_together_in_the_natural_order(design_a: Make) -> None:
    *_, order = looked_at(design_a(taps={"wrench": "wrench-hook-pin"}))
    taps = (1, 2, 3)
    assert ids(order) == [
        "ring",
        *(f"foam-{side}" for side in ("front", "back", "right", "left")),
        "lip", "leaves", "lid",
        *(f"tap-{n}-{part}" for n in taps for part in ("shank", "nut")),
        *(f"tap-{n}-faucet" for n in taps),
        *(f"tap-{n}-handle" for n in taps),
        *(f"tap-{n}-tail" for n in taps),
    ]  # fmt: skip
    assert order.loop == ()
    # The last ring that is turned is the right one, with its neighbors at the left: what
    # wrench-swing says of it. The first one has none yet.
    turns = [step_of(order, f"tap-{n}-faucet").turn.size for n in taps]
    blocked = math.degrees(math.asin((38.5 / 2 + 8.0) / 76.2))
    assert turns[2] == pytest.approx(360.0 - 2 * blocked, abs=1e-9)
    assert turns[0] > turns[2]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_example_goes_together(path: Path) -> None:
    project = example(path)
    layout, found, _, order = looked_at(project)
    assert order.loop == ()
    if evaluate(project).verdict != "fail":
        assert ids(order) == [each.id for each in found.operations]
    assert assembly(project, layout).blocked is None


@pytest.mark.parametrize("name", ["cold-coffee", "terrace-bar"])
def test_the_walker_accepts_an_examples_order(name: str) -> None:
    (path,) = [path for path in EXAMPLES if path.stem == name]
    assert walks(example(path)) > 15


def test_a_pocket_that_is_too_small_puts_nuts_and_tails_before_the_foam() -> None:
    """Pockets of 40 mm hold no socket of 50: the panel comes last, and no tap comes off singly."""
    (path,) = [path for path in EXAMPLES if path.stem == "kombucha-too-tight"]
    project = example(path)
    *_, order = looked_at(project)
    places = ids(order)
    last = max(places.index(f"tap-{n}-{part}") for n in range(1, 6) for part in ("nut", "tail"))
    assert places.index("foam-front") > last
    (said,) = [each for each in tables(project, lay_out(project))[1].notes if "only after" in each]
    assert said.startswith("Taps 1, 2, 3, 4, 5: the faucet comes off")
    assert "its tail nut comes off only after foam on the front" in said


ONE = {"count": 1, "spacing": None, "handle": None, "wrench": "wrench-hook-pin"}


def beside(end: float) -> dict[str, Any]:
    """A bar of 100 mm whose left end is ``end`` mm right of the only tap's axis."""
    return {
        "side": "front", "length": "100 mm", "height": "60 mm", "depth": "40 mm",
        "offset": f"{end + 50.0} mm",
    }  # fmt: skip


@pytest.mark.parametrize(("end", "first"), [(24.9, True), (25.1, False)])
def test_a_manifold_over_the_nuts_circle_comes_after_the_nut(
    design_a: Make, end: float, first: bool
) -> None:
    """The socket's circle is 50 mm; the open-ended head, 37.1 mm to each side, is wider still."""
    taps = {**ONE, "washer_diameter": "40 mm"}
    project = design_a(taps=taps, manifold=beside(end), lid=None)
    _, found, blocks, _ = looked_at(project)
    bar = next(each for each in found.operations if each.id == "manifold")
    early = Parts((found.operations[0], bar, *(
        each for each in found.operations[1:] if each is not bar)), found.fixed)  # fmt: skip
    order = find(early, blocks)
    assert not order.loop
    places = ids(order)
    assert (places.index("tap-1-nut") < places.index("manifold")) is first
    assert ("manifold" in [each.id for each in step_of(order, "tap-1-nut").before]) is first
    if first:
        there = {each.id for each in found.operations} - {"tap-1-nut", "tap-1-tail"}
        assert blocks.hinders("tap-1-nut", there) == pytest.approx({"manifold": end - 25.0})


NARROW = {
    "flange_diameter": 36.0, "nut_across_flats": 28.0, "nut_wrench_circle": 36.0,
    "tail_nut_across_flats": 27.0,
}  # fmt: skip


@pytest.mark.parametrize(("spacing", "first"), [(40.0, True), (41.0, False)])
def test_a_ring_between_two_others_needs_one_bite(
    design_a: Make, spacing: float, first: bool
) -> None:
    """Four holes in the ring: 90 deg and 5 to seat the wrench.

    Two rings of 38.5 mm leave an arm 16 mm wide 180 less twice asin(27.25 / spacing): 94.1 deg at
    40 mm, and 96.7 at 41.
    """
    taps = {**ONE, "count": 3, "spacing": f"{spacing} mm", "washer_diameter": "30 mm"}
    project = design_a(taps=taps, lid=None, figures={"shanks": NARROW})
    *_, order = looked_at(project)
    assert not order.loop
    later = [each.id for each in step_of(order, "tap-2-faucet").before if "faucet" in each.id]
    assert later == (["tap-3-faucet"] if first else [])


def crossing(apart: float) -> dict[str, Any]:
    """A front and a left tap, each ``apart`` mm from the other's board, at the same height."""
    front, left = 37 * 25.4 / 2 - 19.05 - apart, 21 * 25.4 / 2 - 19.05 - apart
    return {
        "taps": [
            {**ONE, "side": "front", "offset": f"{-front} mm"},
            {**ONE, "side": "left", "offset": f"{left} mm"},
        ],
        "foam": None,
        "lid": None,
    }


def test_two_shanks_that_cross_are_named_with_how_far(design_a: Make) -> None:
    """Both axes run 64.05 mm behind the other's face; each thread of 22.225 meets the other.

    The one's axis lies in the other's middle, so they meet by a radius from each.
    """
    project = design_a(**crossing(45.0))
    layout, _, _, order = looked_at(project)
    pairs = {(link.first.id, cast(Operation, link.then).id) for link in order.loop}
    assert pairs == {("tap-1-shank", "tap-2-shank"), ("tap-2-shank", "tap-1-shank")}
    assert [link.gap for link in order.loop] == pytest.approx([-22.225, -22.225])
    (said,) = [each for each in remarks(project, layout) if "run into each other" in each]
    assert "the shank of tap 1 and the shank of tap 2 run into each other by 22.2 mm" in said
    assert "taps[1].offset" in said and "taps[2].offset" in said


def test_two_shanks_that_pass_each_other_are_not_named(design_a: Make) -> None:
    """At 120 mm each axis passes the other's tailpiece, which ends 136.8 mm inside."""
    *_, order = looked_at(design_a(**crossing(160.0)))
    assert order.loop == ()


@pytest.mark.parametrize("name", ["lock", "ring", "tap-1-shank"])
def test_what_is_always_there_is_named(design_a: Make, name: str) -> None:
    """A keep-out of any depth over the bore: no shank goes in, whatever the order."""
    place = {"side": "front", "height": "69.85 mm", "width": "20 mm", "tall": "20 mm",
             "offset": "0 mm", "name": name}  # fmt: skip
    project = design_a(taps=ONE, keep_out=[place], lid=None)
    layout, _, _, order = looked_at(project)
    (link,) = order.loop
    assert (link.first.id, link.then) == ("tap-1-shank", f"keep-out: {name}")
    (said,) = [each for each in remarks(project, layout) if "in the way" in each]
    assert said.startswith("the shank of tap 1 cannot be put on")
    # The keep-out reaches over the axis: 10 mm to its nearer edge and the flange's 24.
    assert f": {name} is in the way by 34 mm" in said


BRACKET = {"board": {"bracket": "bracket-2x2-in"}, "lid": None}


def test_brackets_come_before_the_foam_that_hides_their_screws(design_a: Make) -> None:
    """Holes 18 mm from the corner lie in the next panel of 25.4 mm: no driver gets at them."""
    _, found, blocks, _ = looked_at(design_a(**BRACKET))
    panels = [each for each in found.operations if each.id.startswith("foam")]
    others = [each for each in found.operations[1:] if each not in panels]
    order = find(Parts((found.operations[0], *panels, *others), found.fixed), blocks)
    assert not order.loop
    places = ids(order)
    for name in ("front-left", "front-right", "back-right", "back-left"):
        for side in name.split("-"):
            assert places.index(f"bracket-{name}") < places.index(f"foam-{side}")
        before = {each.id for each in step_of(order, f"bracket-{name}").before}
        assert any(f"foam-{side}" in before for side in name.split("-"))


@pytest.mark.parametrize(
    ("width", "inset", "turned"),
    [
        # boards of 20 mm: flush with their inner faces, and a tenth of a millimeter past them
        (20.0, 0.0, ()),
        (20.1, 0.0, ("front", "back")),
        (15.0, 5.1, ("front", "back")),
        # the sides stand between panels of 25 mm: past the strips of 45, but not of 45.1
        (45.0, 0.0, ("front", "back")),
        (45.1, 0.0, ("front", "back", "left", "right")),
    ],
)
def test_foam_goes_in_past_a_strip_that_stands_out_over_it(
    width: float, inset: float, turned: tuple[str, ...]
) -> None:
    """From above or, once the strips are on, from the bottom edge and before the lip."""
    cap = f"[cap]\nmaterial = 'steel'\nthickness = '1.5 mm'\nwidth = '{width} mm'\n"
    text = f"{COLLAR}[foam]\nthickness = '25 mm'\n{cap}inset = '{inset} mm'\n"
    found = draft(Path("a.toml"), text.encode()).project
    assert found is not None
    _, _, blocks, order = looked_at(found)
    assert not order.loop
    places = ids(order)
    for side in ("front", "right", "back", "left"):
        step = step_of(order, f"foam-{side}")
        assert ("upside down" in " ".join(step.tools)) == (side in turned), side
        assert ("lip" in {each.id for each in step.before}) == (side in turned), side
        assert places.index("cap") < places.index(f"foam-{side}") < places.index("lip")
        assert blocks.free(f"foam-{side}", {"ring", "cap", "lip"}) != (side in turned), side
        assert blocks.free(f"foam-{side}", {"ring", "lip"}), side


def test_a_closed_lid_comes_after_the_rings_that_it_stands_over(design_a: Make) -> None:
    """Its edge 80 mm out, 60 mm down: 9.85 mm above the axis at 69.85, the arm is 8 mm wide.

    The arm turns below the edge, from asin(1.85 / 190) under the level on both sides.
    """
    lid = {"overhang": "80 mm", "skirt": "60 mm"}
    closed = Limits(tighten_with_lid="closed")
    taps = {**ONE, "wrench": "wrench-hook-pin"}
    *_, order = looked_at(design_a(taps=taps, lid=lid, limits=closed))
    free = 180.0 + 2 * math.degrees(math.asin(1.85 / 190.0))
    assert step_of(order, "tap-1-faucet").turn.size == pytest.approx(free, abs=1e-6)
    # 8 mm lower the edge lies on the arm's root: only before the lid is there.
    lower = {**lid, "skirt": "68 mm"}
    *_, order = looked_at(design_a(taps=taps, lid=lower, limits=closed))
    assert not order.loop
    assert ids(order).index("tap-1-faucet") < ids(order).index("lid")


# --- the search against all permutations ----------------------------------------------------------


class Table:
    """A made-up answer to what blocks what: each thing has ways, each way what it meets."""

    def __init__(self, ways: dict[str, list[set[str]]]) -> None:
        self.table = ways
        self.fixed = frozenset[str]()

    def free(self, operation: str, there: Collection[str]) -> bool:
        return any(not way & set(there) for way in self.table[operation])

    def ways(self, operation: str, there: Collection[str]) -> tuple[Any, ...]:
        way = SimpleNamespace(way=Way("a tool"), turn=lambda _: None)
        return (way if self.free(operation, there) else None,)

    def hinders(self, operation: str, there: Collection[str]) -> dict[str, float]:
        met = [way & set(there) for way in self.table[operation]]
        return dict.fromkeys(sorted(min(met, key=len)), -1.0)

    def near(self, operation: str, _there: Collection[str]) -> frozenset[str]:
        return frozenset[str]().union(*self.table[operation])


def stands(order: Iterable[Operation], table: Table) -> bool:
    there: set[str] = set()
    for each in order:
        if not set(each.after) <= there or not table.free(each.id, there):
            return False
        there.add(each.id)
    return True


def told(order: Order, found: Parts, table: Table) -> None:
    """Each link of a loop is a reason, and the loop closes; alone, it is one that never goes."""
    thens = [cast(Operation, link.then) for link in order.loop]
    for link, then in zip(order.loop, thens, strict=True):
        met = set[str]().union(*table.table[link.first.id])
        needs = then.id in met if link.gap is not None else link.first.id in found.always(then)
        assert needs
    if len(thens) == 1:
        first = order.loop[0].first
        assert thens[0].id in found.always(first)
        assert not table.free(first.id, found.always(first))
    else:
        assert thens == [link.first for link in (*order.loop[1:], order.loop[0])]


def test_an_order_is_found_wherever_one_of_all_permutations_stands() -> None:
    chance, seen = Random(6), {True: 0, False: 0}
    for _ in range(400):
        names = "abcde"
        operations = [
            Operation(id=name, thing=name, does=name,
                      after=tuple(n for n in names[:i] if chance.random() < 0.35))
            for i, name in enumerate(names)
        ]  # fmt: skip
        table = Table({
            name: [{n for n in names if n != name and chance.random() < 0.22}
                   for _ in range(chance.choice((1, 1, 2)))]
            for name in names
        })  # fmt: skip
        order = find(Parts(tuple(operations), ()), cast(Blocks, table))
        exists = any(stands(each, table) for each in permutations(operations))
        assert exists is not bool(order.loop)
        seen[exists] += 1
        if exists:
            assert stands([step.operation for step in order.steps], table)
        else:
            told(order, Parts(tuple(operations), ()), table)
    assert min(seen.values()) > 50


# --- designs that nobody wrote --------------------------------------------------------------------


@pytest.mark.slow
def test_the_walker_accepts_the_orders_of_random_designs() -> None:
    walked = turned = 0
    for seed in range(40):
        tables_ = designs.Tables(Random(seed)).every()
        text = "".join(f"{name} = {designs.toml(value)}\n" for name, value in tables_.items())
        project = designs.project_of(text)
        if project is None:
            continue
        if looked_at(project)[3].loop:
            # What no check finds fault with goes together.
            assert evaluate(project).verdict == "fail"
            continue
        turned += walks(project)
        walked += 1
    assert walked >= 8 and turned >= 120


# --- the lists ------------------------------------------------------------------------------------


def test_the_lists_say_what_has_to_be_there_and_what_not_yet(design_a: Make) -> None:
    project = design_a(taps={**ONE, "washer_diameter": "40 mm"}, manifold=beside(22.0))
    order, away = tables(project, lay_out(project))
    rows = {row[1]: row for row in order.rows}
    nut = rows["washer and shank nut of tap 1"]
    assert nut[2:] == ("deep socket or tube wrench", "inside", "shank of tap 1", "manifold",
                       "all round")  # fmt: skip
    assert all(len(row) == len(order.header) for row in order.rows)
    assert all(len(row) == len(away.header) for row in away.rows)
    (said,) = [note for note in away.notes if note.startswith("Tap 1:")]
    assert "its shank nut comes off only after manifold" in said


def test_taking_off_follows_what_holds_the_collar(design_a: Make) -> None:
    for hold, word in (("adhesive", "wire"), ("cleats", "nothing to cut"), ("tape", "tape")):
        project = design_a(seat={"hold": hold})
        found = assembly(project, lay_out(project)).away
        assert any(word in step.does for step in found)
    project = design_a()
    found = assembly(project, lay_out(project)).away
    assert any("seat.hold" in step.why for step in found)


def test_what_was_not_looked_at_says_so() -> None:
    """No catalogue says where a manifold's outlets are: the screws of its clamps are not tried."""
    file = next(each for each in EXAMPLES if each.stem == "cold-coffee")
    found = draft(file, file.read_bytes()).project
    assert found is not None
    table, _ = tables(found, lay_out(found))
    (row,) = [row for row in table.rows if row[1].startswith("gas hoses on the manifold")]
    assert row[2] == "not looked at: the places of the manifold's outlets"
    assert any(note.startswith("Not looked at, for want of") for note in table.notes)
