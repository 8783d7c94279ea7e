"""Where a line begins to fail, and the border of an area: against curves that are known."""

import math

import pytest
from collarwright.geometry.judge.border import key, margins, narrowed
from collarwright.geometry.judge.finding import Check, Where
from collarwright.geometry.judge.tracing import WINDOW, Grid

CLOSE = 0.01


@pytest.mark.parametrize("root", [0.004, 1.0, 3.3333, 9.999])
@pytest.mark.parametrize("bend", ["straight", "curved", "jump", "endless"])
def test_the_end_is_found_whatever_the_margins_do(root: float, bend: str) -> None:
    def worst(at: float) -> tuple[float, str]:
        margin = {
            "straight": root - at,
            "curved": root**3 - at**3,
            "jump": 5.0 if at <= root else -0.001,
            "endless": math.inf if at <= root else -math.inf,
        }[bend]
        asked.append(at)
        return margin, "skirt" if at < root + 1 else "lid-wall"

    asked: list[float] = []
    end, bound = narrowed(worst, (0.0, worst(0.0)[0]), (10.0, *worst(10.0)), CLOSE)
    assert root - CLOSE <= end <= root
    assert bound == "skirt"  # what fails just beyond, not what fails far off
    # by halves alone it takes log2(10 / 0.01) = 10 steps; every other one is a half
    assert len(asked) <= 2 + 2 * 10


def test_margins_are_those_of_the_musts_that_were_asked() -> None:
    must = Check(id="skirt", weight="must", unit="mm", question="?", source="x")
    less = Check(id="lid-wall", weight="advice", unit="mm", question="?", source="x")
    here, there = Where(text="here"), Where(text="there")
    found = [
        must.at_least(here, 5.0, 2.0, ""),
        must.at_least(there, 1.0, 2.0, ""),
        must.not_checked(here, ("lid.skirt",), ""),
        must.nothing_near(here, ""),
        less.at_least(here, 1.0, 2.0, ""),
        must.at_least(here, 2.0 - 1e-12, 2.0, ""),  # within the verdict's slack: passes
    ]
    assert list(margins(found)) == [(3.0, "skirt"), (-1.0, "skirt"), (0.0, "skirt")]
    assert list(margins(found, {key(found[1])})) == [(3.0, "skirt"), (0.0, "skirt")]


def test_a_narrow_area_is_found_where_one_place_of_the_grid_is_in_it() -> None:
    """A disk of radius 1 about 12.4, 3: no place of a grid of 5 mm is in it."""

    def worst(place: tuple[float, float]) -> tuple[float, str]:
        return 1.0 - math.dist(place, (12.4, 3.0)), "skirt"

    window = (-10.0, 60.0, -40.0, 30.0)
    assert list(Grid(window, worst, (0.0, 0.0)).areas()) == []
    areas = list(Grid(window, worst, (12.4, 3.0)).areas())
    assert len(areas) == 1
    area = areas[0]
    assert area.signed == pytest.approx(math.pi, abs=0.2)
    assert set(area.bounds) == {"skirt"}
    assert all(abs(math.dist(each, (12.4, 3.0)) - 1.0) < 0.05 for each in area.corners)


def test_an_area_ends_at_the_rim_of_the_window() -> None:
    (area,) = Grid(
        (0.0, 20.0, 0.0, 10.0), lambda place: (12.0 - place[0], "skirt"), (1.0, 1.0)
    ).areas()
    assert area.signed == pytest.approx(12 * 10, abs=0.2)
    assert set(area.bounds) == {"skirt", WINDOW}


def test_no_piece_of_the_border_is_farther_off_than_it_says() -> None:
    """A disk of radius 9: a chord as long as a side of the grid's cells is 0.35 mm off its arc."""

    def worst(place: tuple[float, float]) -> tuple[float, str]:
        return 9.0 - math.dist(place, (12.4, 3.0)), "skirt"

    (area,) = Grid((-10.0, 60.0, -40.0, 30.0), worst, (0.0, 0.0)).areas()
    ends = zip(area.corners, (*area.corners[1:], area.corners[0]), strict=True)
    places = [
        (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        for a, b in ends
        for share in (0.0, 0.25, 0.5, 0.75)
    ]
    assert len(places) > 40
    for place in places:
        assert math.dist(place, (12.4, 3.0)) == pytest.approx(9.0, abs=0.05 + 0.01)
