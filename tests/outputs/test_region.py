"""What should be left of a panel, by hand: distances, and which lines belong there."""

import math

import pytest
from collarwright.outputs.readback.region import Cut, Edge, Region, box_edges

HALF = Edge((0.0, 0.0), (10.0, 0.0), 1.0)
"""The lower half of a circle of 5 mm about (5, 0): it turns left from (0, 0)."""

THIRD = Edge((10.0, 0.0), (0.0, 0.0), -math.tan(math.radians(30)))
"""A third of a circle that turns right; its middle is (5, -5 tan 30 deg)."""


def round_hole(x: float, y: float, diameter: float, name: str = "a") -> Cut:
    return Cut(name, "pocket", x, y, diameter)


def square(x: float, y: float, length: float, height: float) -> Cut:
    return Cut("s", "opening", x, y, None, length, height)


@pytest.mark.parametrize(
    ("edge", "at", "distance"),
    [
        (Edge((0, 0), (10, 0)), (5, 3), 3),
        (Edge((0, 0), (10, 0)), (13, 4), 5),
        (Edge((0, 0), (10, 0)), (-3, -4), 5),
        (HALF, (5, -7), 2),
        (HALF, (5, -1), 4),
        (HALF, (5, 0), 5),
        (HALF, (-3, 4), 5),
        (HALF, (5, 5), math.hypot(5, 5)),
        (THIRD, (5, -5 * math.tan(math.radians(30))), 0),
        (THIRD, (5, 4), math.hypot(5, 4)),
    ],
)
def test_distance_from_an_edge(edge: Edge, at: tuple[float, float], distance: float) -> None:
    assert edge.distance(*at) == pytest.approx(distance, abs=1e-12)


def test_points_along_an_edge() -> None:
    assert list(HALF.points(3)) == [pytest.approx(p, abs=1e-12) for p in ((0, 0), (5, -5), (10, 0))]
    assert list(THIRD.points(3))[1] == pytest.approx((5, -5 * math.tan(math.radians(30))))
    assert list(Edge((0, 0), (4, 2)).points(3)) == [(0, 0), (2, 1), (4, 2)]


def test_an_arc_of_no_length_is_a_point() -> None:
    nothing = Edge((3.0, 0.0), (3.0, 0.0), 1.0)
    assert nothing.distance(0.0, 4.0) == pytest.approx(5.0)
    assert list(nothing.points(2)) == [pytest.approx((3.0, 0.0))] * 2


def test_beyond_a_hole() -> None:
    assert round_hole(10, 0, 8).beyond(15, 0) == 1
    assert round_hole(10, 0, 8).beyond(10, 1) == -3
    assert square(10, 10, 8, 4).beyond(17, 16) == 5
    assert square(10, 10, 8, 4).beyond(10, 11) == -1


def test_gaps() -> None:
    assert round_hole(0, 0, 10).gap(round_hole(20, 0, 10)) == 10
    assert round_hole(0, 0, 10).gap(square(20, 0, 10, 4)) == 10
    assert square(20, 0, 10, 4).gap(round_hole(0, 0, 10)) == 10
    assert square(0, 0, 10, 10).gap(square(20, 3, 10, 10)) == 10


@pytest.mark.parametrize(
    ("cuts", "surely", "perhaps"),
    [
        ((round_hole(50, 25, 20),), "a", ""),
        ((round_hole(50, 25, 20), round_hole(80, 25, 20, "b")), "ab", ""),
        ((round_hole(50, 25, 20), round_hole(70, 25, 20, "b")), "", "ab"),
        ((round_hole(50, 25, 20), round_hole(69, 25, 20, "b")), "", ""),
        ((round_hole(50, 25, 20), round_hole(52, 25, 10, "b")), "a", ""),
        ((round_hole(50, 25, 20), round_hole(50, 25, 20, "b")), "a", "b"),
        ((round_hole(50, 25, 20), round_hole(50.0007, 25, 20, "b")), "", "ab"),
        ((round_hole(50, 25, 20), round_hole(54.9995, 25, 10, "b")), "", "a"),
        ((round_hole(50, 25, 20), square(50, 25, 12, 16)), "", "a"),
        ((round_hole(50, 25, 20), square(60, 25, 10, 10)), "", ""),
        ((round_hole(50, 25, 20), square(50, 25, 10, 10)), "a", ""),
        ((round_hole(50, 25, 8), square(50, 25, 10, 10)), "", ""),
        ((round_hole(50, 10, 20),), "", "a"),
        ((round_hole(50, 9, 20),), "", ""),
        ((round_hole(50, -30, 20),), "", ""),
    ],
)
def test_holes_that_stand_alone(cuts: tuple[Cut, ...], surely: str, perhaps: str) -> None:
    found = Region(100.0, 50.0, cuts).lone()
    assert tuple("".join(cut.name for cut in each) for each in found) == (surely, perhaps)


def test_a_whole_circle_over_the_edge_strays() -> None:
    hole = round_hole(50, 0, 20)
    strays = Region(100.0, 50.0, (hole,)).strays(hole.edges())
    assert strays
    assert all(y < 0 for _, y in strays)


def test_a_whole_circle_over_another_strays() -> None:
    one, two = round_hole(40, 25, 20), round_hole(50, 25, 20)
    strays = Region(100.0, 50.0, (one, two)).strays(one.edges())
    assert strays
    assert all(two.beyond(x, y) < 0 for x, y in strays)


def test_a_line_that_follows_nothing_strays() -> None:
    region = Region(100.0, 50.0, (round_hole(50, 25, 20),))
    assert region.strays([Edge((10.0, 10.0), (20.0, 10.0))])
    assert not region.strays([*box_edges(0, 0, 100, 50), *region.cuts[0].edges()])


def test_a_side_of_the_plate_that_is_not_drawn_is_missing() -> None:
    sides = box_edges(0.0, 0.0, 100.0, 50.0)
    region = Region(100.0, 50.0, (round_hole(50.0, 25.0, 20.0), square(100.0, 25.0, 20.0, 10.0)))
    drawn = [*sides[:1], *sides[2:], *round_hole(50.0, 25.0, 20.0).edges()]
    # the right side stands but for the notch of 10 mm in its middle
    missed = {(round(x, 3), y) for x, y in region.missing(drawn) if x == 100.0}
    assert len(missed) > 30
    assert all(y < 20.0 or y > 30.0 for _, y in missed)


def test_what_is_not_drawn_is_missing() -> None:
    region = Region(100.0, 50.0, (round_hole(50, 25, 20), square(5, 25, 10, 10)))
    outline = [Edge((0, 0), (100, 0)), Edge((100, 0), (100, 50)), Edge((100, 50), (0, 50))]
    outline += [Edge((0, 50), (0, 30)), Edge((0, 30), (10, 30)), Edge((10, 30), (10, 20))]
    outline += [Edge((10, 20), (0, 20)), Edge((0, 20), (0, 0))]
    circle = list(region.cuts[0].edges())
    assert not region.missing([*outline, *circle])
    without = region.missing([*outline[:5], *outline[7:], *circle])
    assert without
    assert all(x <= 10 and 20 <= y <= 30 for x, y in without)
    assert all(abs(math.hypot(x - 50, y - 25) - 10) < 1e-9 for x, y in region.missing(outline))
    assert len(region.missing([*outline, circle[0]])) > 10
