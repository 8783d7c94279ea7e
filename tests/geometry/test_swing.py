"""How near a turning section comes to a fixed one: by hand, and against turning it in steps.

The sampler is the independent judge: it knows no arcs and no sinusoids, turns the section in small
steps and asks an independent library for distances. Between two samples no point moves farther than
its radius times the step, so the least gap that it finds is at most that much too large.
"""

import math
from collections.abc import Callable

import pytest
from collarwright.geometry.shape.section import Section, box, seen
from collarwright.geometry.shape.swing import Nearest, nearest, nearest_of
from hypothesis import given, settings
from hypothesis import strategies as st

STEPS = 240


def come(moving: Section, fixed: Section, axis: tuple[float, float], open_to: float) -> Nearest:
    return nearest(seen(moving, axis), seen(fixed, axis), axis, open_to)


# --- by hand --------------------------------------------------------------------------------------


def test_a_corner_passes_a_corner_in_line_with_the_axis() -> None:
    """A bar 100 mm ahead of the axis, a post whose corner is 130 mm away at 30 deg above level."""
    bar = box(-100, -80, -5, 0)
    y, z = -130 * math.cos(math.radians(30)), 130 * math.sin(math.radians(30))
    post = box(y - 20, y, z, z + 40)
    found = come(bar, post, (0, 0), 90)
    radius = math.hypot(100, 5)
    assert found.gap == pytest.approx(130 - radius)
    # the corner starts 5 mm below level and turns up from the front
    assert found.angle_deg == pytest.approx(30 + math.degrees(math.atan2(5, 100)))
    assert found.place == pytest.approx((y, z))
    assert found.deepest_deg == found.angle_deg


def test_a_corner_passes_the_middle_of_a_face_that_faces_the_axis() -> None:
    bar, wall = box(-100, -80, -20, -10), box(-140, -112, -60, 60)
    found = come(bar, wall, (0, 0), 90)
    assert found.gap == pytest.approx(112 - math.hypot(100, 20))
    assert found.angle_deg == pytest.approx(math.degrees(math.atan2(20, 100)))
    assert found.place == pytest.approx((-112, 0))
    # stopped before it is level it comes less near
    early = come(bar, wall, (0, 0), 5)
    y = -100 * math.cos(math.radians(5)) - 20 * math.sin(math.radians(5))
    assert (early.gap, early.angle_deg) == pytest.approx((112 + y, 5))


def test_a_fixed_corner_is_passed_by_a_turning_face() -> None:
    """Turned backward the post's farthest corner nears a face 60 mm ahead of the axis."""
    plate, post = box(-80, -60, -10, 300), box(20, 22, 45, 47)
    found = come(plate, post, (0, 0), 150)
    assert found.gap == pytest.approx(60 - math.hypot(22, 47))
    assert found.place == pytest.approx((22, 47))
    assert found.angle_deg == pytest.approx(90 + math.degrees(math.atan2(22, 47)))


def test_overlap_is_the_deepest_corner_from_its_nearest_face() -> None:
    """A blade 10 mm behind the axis turns down into a block whose top is level with the axis."""
    blade, block = box(0, 40, 0, 3), box(-50, 10, -60, 0)
    found = come(blade, block, (0, 0), 90)
    # hanging straight down the blade's corner at the axis' height below is 10 mm from the face
    assert found.gap == pytest.approx(-10)
    assert found.angle_deg == pytest.approx(0)
    assert found.deepest_deg == pytest.approx(90)


def test_a_corner_is_deepest_where_two_faces_are_equally_near() -> None:
    """A small post 5 mm behind the axis: its farthest corner comes onto the block's diagonal."""
    block, post = box(0, 40, 0, 40), box(4, 5, -1, 0)
    found = come(block, post, (0, 0), 90)
    assert found.gap == pytest.approx(-math.hypot(5, 1) / math.sqrt(2))
    assert found.deepest_deg == pytest.approx(45 + math.degrees(math.atan2(1, 5)))


def test_a_corner_first_meets_a_face_below_the_axis() -> None:
    """A rod of 50 mm turns over the back and from below comes at a wall 30 mm ahead."""
    rod, wall = box(-1, 1, 20, 50), box(-200, -30, -300, 300)
    found = come(rod, wall, (0, 0), 300)
    radius, angle = math.hypot(1, 50), math.atan2(50, 1)
    first = angle + math.pi - math.acos(30 / radius)
    assert found.angle_deg == pytest.approx(math.degrees(first))
    assert found.place[1] < 0


def test_sections_that_cross_with_no_corner_inside_count_as_0() -> None:
    cross, bar = box(-50, 50, -2, 2), box(-2, 2, -50, 50)
    assert come(cross, bar, (0, 0), 0).gap == 0
    assert come(cross, bar, (7, 0), 3).gap == 0


def test_without_a_turn_it_is_the_distance_as_they_stand() -> None:
    assert come(box(0, 1, 0, 1), box(4, 9, 5, 6), (0, 0), 0).gap == pytest.approx(5)
    assert come(box(0, 10, 0, 10), box(7, 20, 2, 3), (0, 0), 0).gap == pytest.approx(-3)


def test_the_nearest_of_many_pairs_is_named() -> None:
    moving = [("far", box(-10, -5, 0, 5)), ("near", box(-100, -90, 0, 5))]
    fixed = [("wall", box(-160, -130, -300, 300)), ("post", box(-130, -110, 60, 200))]
    found = nearest_of(moving, fixed, (0, 0), 90)
    assert found is not None
    assert (found.moving, found.fixed) == ("near", "post")
    assert found.nearest.gap == pytest.approx(math.hypot(110, 60) - math.hypot(100, 5))
    assert nearest_of([], fixed, (0, 0), 90) is None
    assert nearest_of(moving, [], (0, 0), 90) is None


def test_a_deeper_overlap_behind_a_shallow_one_is_found() -> None:
    blade = [("blade", box(-100, 0, 0, 10))]
    shallow, deep = ("a", box(-60, -40, 9, 40)), ("b", box(-60, -40, 4, 40))
    for fixed in ([shallow, deep], [deep, shallow]):
        found = nearest_of(blade, fixed, (0, 0), 0)
        assert found is not None
        assert found.fixed == "b"
        assert found.nearest.gap == pytest.approx(-4)


# --- against the sampler --------------------------------------------------------------------------

place = st.floats(-80, 80)


@st.composite
def sections(draw: Callable[..., float]) -> Section:
    """Draw a convex polygon of three to six corners, 2 to 80 mm across."""
    from shapely.geometry import MultiPoint, Polygon

    y, z, size = draw(place), draw(place), draw(st.floats(2, 40))
    inside = st.floats(-1, 1)
    points = [
        (y + size * draw(inside), z + size * draw(inside))
        for _ in range(int(draw(st.integers(3, 6))))
    ]
    hull = MultiPoint(points).convex_hull
    if hull.geom_type != "Polygon" or hull.area < 0.5:
        hull = Polygon(box(y - size, y + size, z - size, z + size))
    corners = list(hull.exterior.coords)[:-1]
    turn = sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
    )
    ordered = corners if turn > 0 else corners[::-1]
    return tuple((float(a), float(b)) for a, b in ordered)


def sampled(
    moving: Section, fixed: Section, axis: tuple[float, float], open_to: float
) -> tuple[float, float | None]:
    """Return the least gap at the samples, overlap negative, and the first angle of contact."""
    from shapely.affinity import rotate
    from shapely.geometry import Point, Polygon

    still, least, first = Polygon(fixed), math.inf, None
    for k in range(STEPS + 1):
        th = open_to * k / STEPS
        turned = rotate(Polygon(moving), -th, origin=axis)
        gap = turned.distance(still)
        if gap == 0:
            first = th if first is None else first
            deep = [still.exterior.distance(Point(p)) for p in turned.exterior.coords
                    if still.contains(Point(p))]  # fmt: skip
            deep += [turned.exterior.distance(Point(p)) for p in fixed
                     if turned.contains(Point(p))]  # fmt: skip
            gap = -max(deep, default=0.0)
        least = min(least, gap)
    return least, first


@settings(max_examples=120, deadline=None)
@given(sections(), sections(), st.tuples(place, place), st.floats(0.5, 180))
def test_turning_it_in_steps_agrees(
    moving: Section, fixed: Section, axis: tuple[float, float], open_to: float
) -> None:
    from shapely.affinity import rotate
    from shapely.geometry import Point, Polygon

    found = come(moving, fixed, axis, open_to)
    least, first = sampled(moving, fixed, axis, open_to)
    radius = max(math.hypot(y - axis[0], z - axis[1]) for y, z in moving + fixed)
    step = math.radians(open_to / STEPS) * radius
    assert least - step - 1e-6 <= found.gap <= least + 1e-6
    if first is not None:
        assert found.gap <= 0
        assert first - open_to / STEPS - 1e-6 <= found.angle_deg <= first + 1e-6
    # what is told is there: at the told angle the two are as far apart as told
    at = rotate(Polygon(moving), -found.angle_deg, origin=axis)
    assert at.distance(Polygon(fixed)) == pytest.approx(max(found.gap, 0.0), abs=1e-6)
    if found.gap > 0:
        assert at.distance(Point(found.place)) == pytest.approx(found.gap, abs=1e-6)
        assert Polygon(fixed).exterior.distance(Point(found.place)) < 1e-6


@settings(max_examples=60, deadline=None)
@given(
    st.lists(sections(), min_size=1, max_size=3),
    st.lists(sections(), min_size=1, max_size=4),
    st.tuples(place, place),
    st.floats(0.5, 180),
)
def test_leaving_out_far_pairs_leaves_out_no_near_one(
    moving: list[Section], fixed: list[Section], axis: tuple[float, float], open_to: float
) -> None:
    found = nearest_of(
        [(f"m{i}", each) for i, each in enumerate(moving)],
        [(f"f{i}", each) for i, each in enumerate(fixed)],
        axis,
        open_to,
    )
    assert found is not None
    each = [come(m, f, axis, open_to).gap for m in moving for f in fixed]
    assert found.nearest.gap == pytest.approx(min(each), abs=1e-12)


@settings(max_examples=60, deadline=None)
@given(sections(), sections(), st.tuples(place, place), st.floats(1, 179), st.floats(-0.01, 0.01))
def test_the_gap_moves_continuously(
    moving: Section, fixed: Section, axis: tuple[float, float], open_to: float, off: float
) -> None:
    """Moved by a little, the fixed section is nearer or farther by no more than that."""
    shifted = tuple((y + off, z) for y, z in fixed)
    before, after = (come(moving, each, axis, open_to).gap for each in (fixed, shifted))
    assert abs(after - before) <= abs(off) + 1e-6


def test_a_piece_without_thickness_is_a_line() -> None:
    """A leaf of no thickness: the edges that have no length are left out."""
    lid, plate = box(10.0, 40.0, 0.0, 30.0), box(-5.0, -5.0, -50.0, -10.0)
    found = come(lid, plate, (0.0, 0.0), 1e-9)
    # from (-5, -10) to the nearest corner (10, 0)
    assert found.gap == pytest.approx(math.hypot(15, 10))
