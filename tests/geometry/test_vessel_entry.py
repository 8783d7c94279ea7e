"""How vessels get in, and the largest circle that passes."""

from math import hypot, sqrt
from random import Random

import pytest
from collarwright.geometry.plan.packing import (
    Box,
    Disc,
    Opening,
    Place,
    Problem,
    Rect,
    Step,
    Vessel,
    Well,
    entry_order,
    largest_opening,
)

AREA = Rect(0.0, 0.0, 812.0, 406.0)


def radius(blocks: list[Rect], area: Rect = AREA) -> float:
    found = largest_opening([area], blocks)
    assert found is not None
    assert found.radius <= found.at_most <= found.radius + 0.0051
    return found.radius


def test_the_bare_opening_passes_its_depth() -> None:
    assert radius([]) == 203.0
    both = largest_opening([AREA, Rect(10.0, 20.0, 700.0, 380.0)])
    assert both is not None and both.diameter == 360.0
    assert largest_opening([AREA, Rect(900.0, 0.0, 950.0, 100.0)]) is None


def test_beside_a_nut_the_full_circle_still_passes() -> None:
    assert radius([Rect(500, 0, 530, 40)]) == 203.0


def test_between_a_long_box_and_the_far_wall() -> None:
    assert radius([Rect(0, 330, 812, 406)]) == pytest.approx(165, abs=0.005)
    assert radius([Rect(100, 330, 812, 406)]) == pytest.approx(165, abs=0.005)
    assert radius([Rect(300, 0, 406, 812)], Rect(0, 0, 406, 812)) == pytest.approx(150, abs=0.005)


def test_in_the_corner_left_of_a_nut() -> None:
    """Left and back wall, and a corner (a, b): (a - r)^2 + (406 - r - b)^2 = r^2."""
    a, b = 314.0, 45.0
    p, q = a, AREA.y1 - b
    expected = (p + q) - sqrt(2 * p * q)
    blocks = [Rect(a, 0.0, 812.0, b)]
    assert (406 - 45) / 2 < expected < 203
    assert radius(blocks) == pytest.approx(expected, abs=0.005)


def test_blocks_beyond_the_opening_or_within_another_change_nothing() -> None:
    some = [Rect(300, 0, 340, 60)]
    more = [*some, Rect(305, 0, 330, 50), Rect(900, 0, 950, 50)]
    assert radius(more) == radius(some)


@pytest.mark.parametrize("seed", range(4))
def test_no_point_thrown_at_random_holds_a_larger_circle(seed: int) -> None:
    chance = Random(seed)
    blocks = [
        Rect(x, y, x + chance.uniform(5, 60), y + chance.uniform(5, 60))
        for x, y in ((chance.uniform(0, 800), chance.uniform(0, 400)) for _ in range(10))
    ]
    best = 0.0
    for _ in range(20_000):
        x, y = chance.uniform(0, 812), chance.uniform(0, 406)
        walls = min(x, AREA.x1 - x, y, AREA.y1 - y)
        best = max(best, min(walls, *(hypot(*b.away(x, y)) for b in blocks)))
    assert best <= radius(blocks) + 0.005
    assert radius(blocks) - best < 6.0


# -- in which order


def can(name: str, diameter: float, height: float = 600.0) -> Vessel:
    return Vessel(name, (Disc(0.0, height, diameter / 2),))


WELL = Rect(0.0, 0.0, 700.0, 300.0)


def put(*spots: tuple[str, float, float]) -> tuple[Place, ...]:
    return tuple(Place(name, x, y, 0.0, False) for name, x, y in spots)


def test_straight_down_where_nothing_is_in_the_way() -> None:
    problem = Problem(Well(WELL, WELL, 0.0, 700.0), (can("a", 200), can("b", 250)))
    found = entry_order(problem, put(("a", 110, 150), ("b", 400, 150)))
    assert found.found
    assert [entry.vessel for entry in found.entries] == ["b", "a"]
    assert all(entry.straight_down for entry in found.entries)


def test_under_an_overhang_it_is_slid_and_the_one_in_the_way_comes_later() -> None:
    """The collar's opening ends at x = 450: what stands beyond goes down before it and slides."""
    opening = Opening(Rect(0.0, 0.0, 450.0, 300.0), 700.0, 840.0)
    problem = Problem(Well(WELL, WELL, 0.0, 700.0), (can("near", 280), can("far", 280)), (opening,))
    found = entry_order(problem, put(("near", 200, 150), ("far", 540, 150)))
    assert [entry.vessel for entry in found.entries] == ["far", "near"]
    far = found.entries[0]
    assert not far.straight_down
    assert far.lowered_at[0] <= 450 - 140 + 1e-6
    assert far.path[-1] == (540, 150)


def test_around_a_standing_one() -> None:
    """A thin one cannot come down behind the post; it goes around what stands."""
    opening = Opening(Rect(0.0, 0.0, 300.0, 300.0), 700.0, 840.0)
    problem = Problem(Well(WELL, WELL, 0.0, 700.0), (can("post", 120), can("thin", 80)), (opening,))
    places = put(("post", 350, 100), ("thin", 600, 60))
    found = entry_order(problem, places)
    assert found.found
    thin = next(entry for entry in found.entries if entry.vessel == "thin")
    steps = list(zip(thin.path, thin.path[1:], strict=False))
    for (x0, y0), (x1, y1) in steps:
        for k in range(101):
            x, y = x0 + k / 100 * (x1 - x0), y0 + k / 100 * (y1 - y0)
            if thin is found.entries[-1]:  # the post stands
                assert hypot(x - 350, y - 100) >= 60 + 40 - 1e-3


def test_who_is_stuck_and_who_stands_in_the_way() -> None:
    opening = Opening(Rect(0.0, 0.0, 300.0, 300.0), 700.0, 840.0)
    problem = Problem(
        Well(WELL, WELL, 0.0, 700.0), (can("wide", 320, 400), can("low", 200, 400)), (opening,)
    )
    found = entry_order(problem, put(("wide", 170, 150), ("low", 600, 150)))
    assert not found.found
    assert found.alone == ("wide",)
    assert "no order found by this search" in found.say()
    assert "no way in found for wide even into the empty well" in found.say()


def test_the_inner_one_goes_first_past_where_the_outer_one_stands() -> None:
    """A shelf over the right half; the outer one fills the depth beside it."""
    shelf = Box("shelf", Rect(320.0, 0.0, 700.0, 300.0), 500.0, 520.0)
    vessels = (can("outer", 290, 450), can("inner", 290, 450))
    problem = Problem(Well(WELL, WELL, 0.0, 700.0), vessels, obstacles=(shelf,))
    found = entry_order(problem, put(("outer", 150, 150), ("inner", 500, 150)))
    assert [entry.vessel for entry in found.entries] == ["inner", "outer"]


def test_who_stands_in_the_way() -> None:
    """A post as high as the shelf, to which no way leads, between a can and the way out."""
    shelf = Box("shelf", Rect(320.0, 0.0, 700.0, 300.0), 500.0, 520.0)
    vessels = (can("post", 200, 510), can("inner", 200, 450))
    problem = Problem(Well(WELL, WELL, 0.0, 700.0), vessels, obstacles=(shelf,))
    found = entry_order(problem, put(("post", 430, 150), ("inner", 590, 150)))
    assert found.stuck == ("inner", "post")
    assert found.alone == ("post",)
    assert found.blocked_by == (("inner", ("post",)),)
    assert "post stands in the way of inner" in found.say()


def test_onto_the_step() -> None:
    well = Well(WELL, WELL, 0.0, 700.0, step=Step("right", 200.0, 250.0))
    opening = Opening(Rect(0.0, 0.0, 500.0, 300.0), 700.0, 840.0)
    problem = Problem(well, (can("gas", 130, 300),), (opening,))
    found = entry_order(problem, (Place("gas", 600.0, 150.0, 250.0, True),))
    assert found.found
    assert found.entries[0].lowered_at[0] <= 500 - 65 + 1e-6
