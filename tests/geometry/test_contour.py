"""What is left of a rectangle with holes: against formulas for circles, and against shapely."""

import math
import random
from collections.abc import Iterable

import pytest
import shapely  # noqa: TID253 - the judge of this file
from collarwright.geometry.shape.contour import (
    ContourError,
    Loop,
    Outlines,
    Vertex,
    area,
    outlines,
)
from collarwright.geometry.shape.hole import Hole

LENGTH, WIDTH = 200.0, 100.0


def circle(u: float, v: float, diameter: float, name: str = "c") -> Hole:
    return Hole(name=name, purpose="pocket", u=u, v=v, diameter=diameter)


def box(u: float, v: float, length: float, height: float, name: str = "b") -> Hole:
    return Hole(name=name, purpose="opening", u=u, v=v, length=length, height=height)


def disc(diameter: float) -> float:
    return math.pi * diameter**2 / 4


def segment(r: float, h: float) -> float:
    """Area of a circle's part beyond a line at a distance h from its center (textbook)."""
    return r**2 * math.acos(h / r) - h * math.sqrt(r**2 - h**2)


def lens(r: float, d: float) -> float:
    """Area common to two equal circles, their centers d apart (textbook: two segments)."""
    return 2 * r**2 * math.acos(d / (2 * r)) - d / 2 * math.sqrt(4 * r**2 - d**2)


def half_cut(r: float) -> float:
    """Area of a circle less a quarter turn's segment."""
    return math.pi * r**2 - r**2 * (math.pi / 2 - 1) / 2


# -- the area of a closed line, by hand


@pytest.mark.parametrize(
    ("loop", "expected"),
    [
        (((0, 0, 0), (4, 0, 0), (4, 3, 0), (0, 3, 0)), 12.0),
        (((0, 0, 0), (0, 3, 0), (4, 3, 0), (4, 0, 0)), -12.0),
        (((0, 0, 1), (10, 0, 1)), 25 * math.pi),
        (((0, 0, -1), (10, 0, -1)), -25 * math.pi),
        # a half disc below and above a straight line
        (((0, 0, 1), (10, 0, 0)), 12.5 * math.pi),
        # a 10 mm square with all corners rounded by 2 mm: bulge of a quarter is tan(22.5 deg)
        (
            tuple(
                (x, y, b * (math.sqrt(2) - 1))
                for x, y, b in (
                    (2, 0, 0), (8, 0, 1), (10, 2, 0), (10, 8, 1),
                    (8, 10, 0), (2, 10, 1), (0, 8, 0), (0, 2, 1),
                )
            ),
            100 - (4 - math.pi) * 4,
        ),
        # three quarters of a circle of 5 mm and its chord
        (((0, 0, math.tan(math.radians(67.5))), (5 * math.sqrt(2), 0, 0)), half_cut(5)),
    ],
)  # fmt: skip
def test_area_of_a_closed_line(loop: tuple[tuple[float, ...], ...], expected: float) -> None:
    assert area(tuple(Vertex(*each) for each in loop)) == pytest.approx(expected, rel=1e-12)


# -- single cases: (holes, pieces, inner lines, names of lone circles, area cut away)

TAU = 2 * math.pi
RING = [
    circle(100 + 30 * math.cos(i * TAU / 6), 50 + 30 * math.sin(i * TAU / 6), 30, f"r{i}")
    for i in range(6)
]
"""Six circles, each tangent to its neighbors; their centers are a hexagon with sides of 30."""

CLOSER = [
    circle(100 + 25 * math.cos(i * TAU / 6), 50 + 25 * math.sin(i * TAU / 6), 30, f"r{i}")
    for i in range(6)
]
"""The same, overlapping."""

HEXAGON = 3 * math.sqrt(3) / 2

CASES = {
    "no hole": ([], 1, 0, [], 0.0),
    "one circle": ([circle(50, 50, 40)], 1, 1, ["c"], disc(40)),
    "one rectangle": ([box(50, 50, 40, 20)], 1, 1, [], 800.0),
    "the same circle twice": ([circle(50, 50, 40, "a"), circle(50, 50, 40)], 1, 1, ["a"], disc(40)),
    "the same circle three times, one off by rounding": (
        [circle(50, 50, 40, "a"), circle(50 + 1e-13, 50, 40), circle(50, 50, 40 - 1e-12)],
        1, 1, ["a"], disc(40),
    ),
    "the same rectangle twice": ([box(50, 50, 40, 20), box(50, 50, 40, 20)], 1, 1, [], 800.0),
    "two apart": (
        [circle(50, 50, 40, "a"), circle(90.001, 50, 40, "b")], 1, 2, ["a", "b"], 2 * disc(40),
    ),
    "two that touch": ([circle(50, 50, 40), circle(90, 50, 40)], 1, 1, [], 2 * disc(40)),
    "two that touch aslant": ([circle(50, 30, 50), circle(80, 70, 50)], 1, 1, [], 2 * disc(50)),
    "two that overlap": (
        [circle(50, 50, 40), circle(75, 50, 40)], 1, 1, [], 2 * disc(40) - lens(20, 25),
    ),
    "two that all but touch": (
        [circle(50, 50, 40), circle(90 - 1e-5, 50, 40)], 1, 1, [], 2 * disc(40),
    ),
    "three in a chain": (
        [circle(u, 50, 40) for u in (50, 75, 100)], 1, 1, [], 3 * disc(40) - 2 * lens(20, 25),
    ),
    "three in a chain that touch": (
        [circle(u, 50, 40) for u in (50, 90, 130)], 1, 1, [], 3 * disc(40),
    ),
    "three through one point": (
        # centers 20 from (100, 50) at 0, 120 and 240 deg: each two are 20 sqrt(3) apart
        [circle(100 + 20 * math.cos(a), 50 + 20 * math.sin(a), 40) for a in (0, TAU / 3, -TAU / 3)],
        1, 1, [], 3 * disc(40) - 3 * lens(20, 20 * math.sqrt(3)),
    ),
    "inside another": ([circle(50, 50, 40, "a"), circle(55, 50, 20)], 1, 1, ["a"], disc(40)),
    "inside another, touching it": (
        [circle(60, 50, 20), circle(50, 50, 40, "a")], 1, 1, ["a"], disc(40),
    ),
    "circle in a rectangle, touching it": (
        [circle(50, 50, 40), box(50, 50, 40, 40)], 1, 1, [], 1600.0,
    ),
    "rectangle in a circle": (
        [box(50, 50, 24, 32), circle(50, 50, 40, "a")], 1, 1, ["a"], disc(40),
    ),
    "outside": ([circle(50, -30, 40), box(-30, 50, 20, 20)], 1, 0, [], 0.0),
    "outside, touching": ([circle(50, -20, 40), box(-10, 50, 20, 20)], 1, 0, [], 0.0),
    "touching the edge from inside": ([circle(50, 20, 40)], 1, 0, [], disc(40)),
    "over the edge": ([circle(50, 12, 40)], 1, 0, [], disc(40) - segment(20, 12)),
    "over the edge, center outside": ([circle(50, -12, 40)], 1, 0, [], segment(20, 12)),
    "half over the edge": ([circle(50, 0, 40)], 1, 0, [], disc(40) / 2),
    "over a corner": ([circle(0, 0, 40)], 1, 0, [], disc(40) / 4),
    "touching two edges": ([circle(20, 20, 40)], 2, 0, [], disc(40)),
    "level with the edge": ([box(50, 10, 40, 20)], 1, 0, [], 800.0),
    "in a corner": ([box(190, 90, 20, 20)], 1, 0, [], 400.0),
    "as high as the panel": ([box(100, 50, 40, 100)], 2, 0, [], 4000.0),
    "at the end, as high as the panel": ([box(10, 50, 20, 100)], 1, 0, [], 2000.0),
    "circle as high as the panel": ([circle(100, 50, 100)], 2, 0, [], disc(100)),
    "circle higher than the panel": (
        [circle(100, 50, 130)], 2, 0, [], disc(130) - 2 * segment(65, 50),
    ),
    "larger than the panel": ([box(100, 50, 400, 200)], 0, 0, [], 20000.0),
    "circle larger than the panel": ([circle(100, 50, 500)], 0, 0, [], 20000.0),
    "side by side": ([box(50, 50, 40, 20), box(90, 50, 40, 20)], 1, 1, [], 1600.0),
    "side by side, stepped": ([box(50, 50, 40, 20), box(90, 60, 40, 20)], 1, 1, [], 1600.0),
    "on one line, overlapping": ([box(50, 50, 40, 20), box(75, 50, 40, 20)], 1, 1, [], 1300.0),
    "a cross": ([box(50, 50, 60, 20), box(50, 50, 20, 60)], 1, 1, [], 2000.0),
    "corner to corner": ([box(50, 50, 20, 20), box(70, 70, 20, 20)], 1, 1, [], 800.0),
    "rectangle and circle that touch": (
        [box(50, 50, 20, 20), circle(75, 50, 30)], 1, 1, [], 400 + disc(30),
    ),
    "circle about a rectangle's corner": (
        [box(50, 50, 40, 40), circle(70, 70, 20)], 1, 1, [], 1600 + 0.75 * disc(20),
    ),
    "a ring of circles that touch": (
        RING, 2, 1, [], 6 * disc(30),
    ),
    "a ring of circles that overlap": (CLOSER, 2, 1, [], 6 * disc(30) - 6 * lens(15, 25)),
    "a frame of rectangles": (
        [box(100, 20, 80, 10), box(100, 80, 80, 10), box(65, 50, 10, 70), box(135, 50, 10, 70)],
        2, 1, [], 2 * 800 + 2 * 700 - 4 * 100,
    ),
    "a frame of rectangles about a hole": (
        [box(100, 20, 80, 10), box(100, 80, 80, 10), box(65, 50, 10, 70), box(135, 50, 10, 70),
         circle(100, 50, 20, "in")],
        2, 2, ["in"], 2 * 800 + 2 * 700 - 4 * 100 + disc(20),
    ),
    "no size": ([circle(50, 50, 0), box(50, 50, 0, 20)], 1, 0, [], 0.0),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_single_case(case: str) -> None:
    holes, pieces, inner, lone, cut_away = CASES[case]
    found = outlines(LENGTH, WIDTH, holes)
    assert len(found.outer) == pieces
    assert len(found.inner) == inner
    assert [ring.circle.name for ring in found.inner if ring.circle] == lone
    assert found.area == pytest.approx(LENGTH * WIDTH - cut_away, abs=1e-4)
    sound(found, holes, exact=1e-5 if "all but" in case else 1e-9)


def test_a_lone_hole_stays_what_it_is() -> None:
    (ring,) = outlines(LENGTH, WIDTH, [box(50, 50, 40, 20)]).inner
    assert {(v.x, v.y, v.bulge) for v in ring.vertices} == {
        (x, y, 0.0) for x in (30.0, 70.0) for y in (40.0, 60.0)
    }
    (ring,) = outlines(LENGTH, WIDTH, [circle(50, 50, 40)]).inner
    assert ring.circle == circle(50, 50, 40)
    assert sorted(v.x for v in ring.vertices) == [30.0, 70.0]


def test_the_outline_begins_at_the_corner_and_has_no_needless_corners() -> None:
    (ring,) = outlines(LENGTH, WIDTH, [circle(250, 50, 100), circle(50, 50, 20)]).outer
    assert ring.vertices == (
        Vertex(0.0, 0.0), Vertex(LENGTH, 0.0), Vertex(LENGTH, WIDTH), Vertex(0.0, WIDTH),
    )  # fmt: skip


def test_what_counts_as_touching_can_be_said() -> None:
    holes = [circle(50, 50, 40), circle(90.0004, 50, 40), box(130.0008, 50, 40, 40)]
    assert len(outlines(LENGTH, WIDTH, holes).inner) == 3
    (ring,) = outlines(LENGTH, WIDTH, holes, near=5e-4).inner
    assert ring.holes == tuple(holes)


def test_touching_by_rounding_is_touching_in_one_point() -> None:
    for gap in (-1e-9, -1e-13, 0.0, 1e-13, 1e-9):
        (ring,) = outlines(LENGTH, WIDTH, [circle(50, 50, 40), circle(90 + gap, 50, 40)]).inner
        assert len(ring.vertices) == 4
        there = [v for v in ring.vertices if math.hypot(v.x - 70 - gap / 2, v.y - 50) < 1e-8]
        assert len(there) == 2
        (ring,) = outlines(LENGTH, WIDTH, [circle(50, 20 + gap, 40)]).outer
        assert len(ring.vertices) == 7


def test_a_corner_that_only_touches_a_circle_from_inside_leaves_no_trace() -> None:
    # The rectangle lies in the two circles together, in none alone; its corner (65, 70) is on
    # the first one: 15 and 20 from the center, 25 away.
    two = [circle(50, 50, 50), circle(32, 60, 60)]
    assert outlines(LENGTH, 120, [*two, box(42.5, 65, 45, 10)]).inner[0].vertices == (
        outlines(LENGTH, 120, two).inner[0].vertices
    )


def test_a_line_knows_the_holes_that_it_follows() -> None:
    holes = [circle(50, 50, 40, "a"), circle(75, 50, 40, "b"), circle(60, 50, 10, "swallowed")]
    (ring,) = outlines(LENGTH, WIDTH, [*holes, circle(150, 50, 10, "far")]).inner[:1]
    assert [hole.name for hole in ring.holes] == ["a", "b"]
    (ring,) = outlines(LENGTH, WIDTH, [circle(50, 0, 40, "notch")]).outer
    assert [hole.name for hole in ring.holes] == ["notch"]


def test_pieces_that_touch_are_told_apart() -> None:
    left, right = outlines(LENGTH, WIDTH, [circle(100, 50, 100)]).outer
    assert max(v.x for v in left.vertices) == pytest.approx(100, abs=1e-6)
    assert min(v.x for v in right.vertices) == pytest.approx(100, abs=1e-6)


def test_an_island_is_a_piece_of_its_own() -> None:
    for holes, side in ((RING, 30.0), (CLOSER, 25.0)):
        island = outlines(LENGTH, WIDTH, holes).outer[1]
        assert len(island.vertices) == 6
        # the hexagon of the centers less a third of each circle, and a lens for each side
        cut_away = 2 * disc(30) - 6 * (lens(15, side) if side < 30 else 0) / 2
        assert area(island.vertices) == pytest.approx(HEXAGON * side**2 - cut_away, abs=1e-6)


def test_what_cannot_be_told_apart_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("collarwright.geometry.shape.contour.trace", lambda *_: None)
    with pytest.raises(ContourError, match="the edges of a, b almost coincide"):
        outlines(LENGTH, WIDTH, [circle(50, 50, 40, "a"), circle(75, 50, 40, "b")])


# -- many cases, with shapely as the judge


def drawn(loop: Loop, around: int = 1024) -> shapely.Polygon:
    """Return a closed line as a polygon of short straight steps."""
    points: list[tuple[float, float]] = []
    for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
        points.append((a.x, a.y))
        if a.bulge:
            turned = 4 * math.atan(a.bulge)
            way = (1 / a.bulge - a.bulge) / 4
            cx, cy = (a.x + b.x) / 2 - (b.y - a.y) * way, (a.y + b.y) / 2 + (b.x - a.x) * way
            count = int(abs(turned) / TAU * around) + 2
            for angle in (turned * i / count for i in range(1, count)):
                cos, sin = math.cos(angle), math.sin(angle)
                dx, dy = a.x - cx, a.y - cy
                points.append((cx + dx * cos - dy * sin, cy + dx * sin + dy * cos))
    return shapely.Polygon(points)


def judged(
    holes: Iterable[Hole], length: float, width: float, around: int = 1024
) -> shapely.Polygon:
    shapes = [shapely.Polygon()]
    # of the same area as the circle, so that errors cancel
    stretch = math.sqrt(TAU / (around * math.sin(TAU / around)))
    for hole in holes:
        if hole.diameter is None:
            u, v, a, b = hole.u, hole.v, hole.length / 2, hole.height / 2
            shapes.append(shapely.box(u - a, v - b, u + a, v + b))
        else:
            r = hole.diameter / 2 * stretch
            turns = (i * TAU / around for i in range(around))
            points = [(hole.u + r * math.cos(t), hole.v + r * math.sin(t)) for t in turns]
            shapes.append(shapely.Polygon(points))
    return shapely.box(0, 0, length, width).difference(shapely.union_all(shapes))


def sound(found: Outlines, holes: list[Hole], exact: float) -> None:
    """Assert that lines close, run the right way, lie on the holes' edges, and come once."""
    seen: set[tuple[float, ...]] = set()
    for ring in (*found.outer, *found.inner):
        assert (area(ring.vertices) > 0) == (ring in found.outer)
        assert len(ring.vertices) >= (2 if any(v.bulge for v in ring.vertices) else 3)
        for a, b in zip(ring.vertices, ring.vertices[1:] + ring.vertices[:1], strict=True):
            assert math.hypot(b.x - a.x, b.y - a.y) > 1e-9
            assert abs(a.bulge) <= 1 + 1e-9
            there = tuple(round(value, 8) + 0.0 for value in (a.x, a.y, b.x, b.y, a.bulge))
            back = tuple(round(value, 8) + 0.0 for value in (b.x, b.y, a.x, a.y, -a.bulge))
            assert not {there, back} & seen
            seen.add(there)
            if a.bulge:
                middle = (
                    (a.x + b.x) / 2 + (b.y - a.y) * a.bulge / 2,
                    (a.y + b.y) / 2 - (b.x - a.x) * a.bulge / 2,
                )
                assert any(
                    all(
                        abs(math.hypot(x - h.u, y - h.v) - h.diameter / 2) <= exact
                        for x, y in ((a.x, a.y), (b.x, b.y), middle)
                    )
                    for h in ring.holes
                    if h.diameter
                )
            else:
                assert a.x == b.x or a.y == b.y or math.hypot(b.x - a.x, b.y - a.y) < 1e-3
        no_needless_corner(ring.vertices)


def no_needless_corner(loop: Loop) -> None:
    """Assert that lines turn at every corner, and arcs wherever they could be one."""
    for i, b in enumerate(loop):
        a, c = loop[i - 1], loop[(i + 1) % len(loop)]
        if not a.bulge and not b.bulge:
            assert abs((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)) > 1e-9
        elif a.bulge * b.bulge > 0 and math.atan(abs(a.bulge)) + math.atan(abs(b.bulge)) < 0.78:
            # together less than half a circle: smooth only if it is one circle
            ends = ((a.x, a.y), (b.x, b.y)), ((b.x, b.y), (c.x, c.y))
            one, two = (
                math.atan2(q[1] - p[1], q[0] - p[0]) + way * 2 * math.atan(e.bulge)
                for (p, q), e, way in zip(ends, (a, b), (1, -1), strict=True)
            )
            assert abs((one - two + math.pi) % TAU - math.pi) > 1e-7


def some_holes(seed: int) -> tuple[float, float, list[Hole], bool]:
    """Return a panel and holes; on a grid they often touch or coincide."""
    pick = random.Random(seed)
    grid, noise = pick.choice((0, 5, 10, 10)), pick.choice((0.0, 0.0, 1e-13, 1e-12))
    length, width = pick.choice((200.0, 300.0)), pick.choice((100.0, 120.0))

    def number(low: float, high: float) -> float:
        value = pick.uniform(low, high)
        return (round(value / grid) * grid if grid else value) + pick.uniform(-noise, noise)

    holes: list[Hole] = []
    for i in range(pick.randint(1, 9)):
        u, v = number(-20, length + 20), number(-20, width + 20)
        if pick.random() < 0.6:
            holes.append(circle(u, v, max(5.0, number(5, 90)), f"h{i}"))
        else:
            holes.append(box(u, v, max(5.0, number(5, 90)), max(5.0, number(5, width)), f"h{i}"))
    return length, width, holes, not grid


@pytest.mark.parametrize("block", range(8))
def test_many_cases_against_shapely(block: int) -> None:
    for seed in range(block * 15, block * 15 + 15):
        length, width, holes, loose = some_holes(seed)
        found = outlines(length, width, holes)
        sound(found, holes, exact=1e-9)
        left = judged(holes, length, width)
        plate = length * width
        assert found.area == pytest.approx(left.area, abs=1e-6 * plate), seed
        # Lines that run inside others take away and give back in turn.
        mine = shapely.Polygon()
        for ring in (*found.outer, *found.inner):
            mine = mine.symmetric_difference(shapely.make_valid(drawn(ring.vertices)))
        assert mine.symmetric_difference(left).area < 1e-5 * plate, seed  # chords against arcs
        if loose:  # nothing merely touches, so pieces and lines can be counted
            parts = [part for part in getattr(left, "geoms", [left]) if not part.is_empty]
            assert len(found.outer) == len(parts), seed
            assert len(found.inner) == sum(len(part.interiors) for part in parts), seed


@pytest.mark.parametrize("seed", range(1000, 1040))
def test_a_mirrored_panel_has_mirrored_outlines(seed: int) -> None:
    length, width, holes, _ = some_holes(seed)
    one = outlines(length, width, holes)
    turned = [circle(length - h.u, h.v, h.diameter) if h.diameter else
              box(length - h.u, h.v, h.length, h.height) for h in reversed(holes)]  # fmt: skip
    two = outlines(length, width, turned)
    assert two.area == pytest.approx(one.area, abs=1e-6)
    assert (len(two.outer), len(two.inner)) == (len(one.outer), len(one.inner))
    assert sorted(len(r.vertices) for r in two.outer) == sorted(len(r.vertices) for r in one.outer)


@pytest.mark.parametrize("gap", [1e-12, 1e-9, 9e-8, 2e-7, 1e-6, 1e-5, 1e-4])
@pytest.mark.parametrize("sign", [-1, 1])
def test_almost_touching_holes_are_cut_all_the_same(gap: float, sign: int) -> None:
    g = sign * gap
    holes = [
        circle(40, 50, 40),
        circle(80 + g, 50, 40),
        box(110 + g, 50, 20 + g, 60),
        circle(20, 10 + g, 20),
        box(150, 90 + g, 30, 20),
        circle(100, 87 + g, 14),
    ]
    found = outlines(LENGTH, WIDTH, holes)
    sound(found, holes, exact=2e-7)
    assert found.area == pytest.approx(judged(holes, LENGTH, WIDTH).area, abs=1e-6 * LENGTH * WIDTH)
