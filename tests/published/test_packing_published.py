"""Packings against proved best packings and closed forms.

One gap G is kept between vessels and from every wall, so discs of diameter d with the gap G in a
rectangle W x D are discs of diameter d + G in a rectangle (W - G) x (D - G): each disc grows by
G / 2, and each wall comes in by what is left of G. All expected gaps follow from that by hand.
"""

import csv
from importlib.resources import files
from math import inf, sqrt

import pytest
from collarwright.geometry.plan.packing import (
    Box,
    Disc,
    HeadRoom,
    Opening,
    Packing,
    Problem,
    Rect,
    Step,
    Vessel,
    Well,
    entry_order,
    pack,
)
from collarwright.geometry.plan.packing.lp import Solver
from collarwright.geometry.plan.packing.mode import Mode, modes
from collarwright.geometry.plan.packing.search import Search

SQUARE = (
    "E. Specht's tables of circles in a square, as quoted in the general encyclopedia article on "
    "circle packing in a square; proved best for n up to 10 (n = 10: de Groot et al. 1990)"
)
CLOSED_FORM = "closed form, worked by hand"
PRACTICE = "common practice, no source"

SIDES = {
    2: 2 + sqrt(2),
    3: 2 + sqrt(2) / 2 + sqrt(6) / 2,
    4: 4.0,
    5: 2 + 2 * sqrt(2),
    6: 2 + 12 / sqrt(13),
    7: 4 + sqrt(3),
    8: 2 + sqrt(2) + sqrt(6),
    9: 6.0,
}
"""The side of the smallest square for n circles of radius 1."""


def can(name: str, diameter: float, height: float = 600.0) -> Vessel:
    """Return a vessel that is one cylinder."""
    return Vessel(name, (Disc(0.0, height, diameter / 2),))


def room(width: float, depth: float, **more: object) -> Well:
    """Return an upright well."""
    rect = Rect(0.0, 0.0, width, depth)
    return Well(rect, rect, 0.0, 700.0, **more)  # type: ignore[arg-type]


def in_square(n: int, diameter: float, nodes: int = 2_000) -> Packing:
    """Pack equal vessels into a square of 1000 mm."""
    cans = tuple(can(f"keg {k}", diameter) for k in range(n))
    return pack(Problem(room(1000.0, 1000.0), cans), nodes)


def gap_in_square(side: float, diameter: float) -> float:
    """Return the gap from ``d + G = 2 (1000 - G) / side``."""
    return (2_000 / side - diameter) / (1 + 2 / side)


@pytest.mark.published(SQUARE)
@pytest.mark.parametrize("n", range(2, 9))
def test_equal_circles_in_a_square_are_found(n: int) -> None:
    expected = gap_in_square(SIDES[n], 200.0)
    found = in_square(n, 200.0, nodes=0)
    assert found.verdict == "fits"
    assert found.gap == pytest.approx(expected, abs=1e-4)


@pytest.mark.published(SQUARE)
@pytest.mark.parametrize(("n", "nodes"), [(2, 100), (3, 100), (4, 200), (5, 1_000), (6, 6_000)])
def test_the_bound_in_a_square_comes_within_half_a_millimeter(n: int, nodes: int) -> None:
    expected = gap_in_square(SIDES[n], 200.0)
    found = in_square(n, 200.0, nodes)
    assert not found.given_up
    assert expected - 1e-4 <= found.bound <= expected + 0.5 + 1e-4


@pytest.mark.published(SQUARE)
@pytest.mark.parametrize("n", [2, 3, 4, 5])
def test_the_search_alone_never_rules_out_the_proved_best(n: int) -> None:
    """Without a placement to go by, and asked for 2 mm less than can be kept."""
    expected = gap_in_square(SIDES[n], 200.0)
    cans = tuple(can(f"keg {k}", 200.0) for k in range(n))
    ways = [m for m in modes(Problem(room(1000.0, 1000.0), cans)) if isinstance(m, Mode)]
    search = Search(ways, Solver(), lambda _mode, _at: -inf, lambda _gap: expected - 2)
    assert search.run(600, -inf).bound >= expected - 1e-4


@pytest.mark.published(SQUARE)
@pytest.mark.parametrize("n", [7, 8])
def test_a_bound_stopped_early_is_still_above_the_proved_best(n: int) -> None:
    found = in_square(n, 200.0, nodes=200)
    assert found.given_up
    assert found.bound >= gap_in_square(SIDES[n], 200.0) - 1e-4


@pytest.mark.published(SQUARE)
def test_ten_circles_in_a_square_are_found() -> None:
    """The greatest diameter in a unit square is 0.148204 twice, six digits, from memory."""
    found = in_square(10, 200.0, nodes=0)
    expected = gap_in_square(1 / 0.148204, 200.0)
    assert found.gap == pytest.approx(expected, abs=1_000 * 2 * 0.5e-6 + 1e-3)


def two_in(width: float, depth: float, gap: float) -> float:
    """Return the greatest r1 + r2 of two circles in opposite corners: W + D - sqrt(2 W D)."""
    width, depth = width - gap, depth - gap
    return width + depth - sqrt(2 * width * depth)


@pytest.mark.published(CLOSED_FORM)
@pytest.mark.parametrize(
    ("width", "depth", "first", "second"),
    [(500.0, 430.0, 290.0, 216.0), (560.0, 400.0, 250.0, 250.0), (470.0, 470.0, 300.0, 133.0)],
)
def test_two_in_a_rectangle(width: float, depth: float, first: float, second: float) -> None:
    found = pack(Problem(room(width, depth), (can("a", first), can("b", second)), gap=0.0))
    low, high = 0.0, min(width, depth)
    for _ in range(60):
        middle = (low + high) / 2
        fits = (first + second) / 2 + middle <= two_in(width, depth, middle)
        low, high = (middle, high) if fits else (low, middle)
    expected = min(low, (min(width, depth) - max(first, second)) / 2)
    assert found.gap == pytest.approx(expected, abs=1e-4)
    assert expected - 1e-4 <= found.bound <= expected + 0.5 + 1e-4


ZIGZAGS = [(3, 216.0, 380.0, 497.141), (4, 216.0, 380.0, 637.711)]
ZIGZAGS += [(6, 235.0, 420.0, 959.569), (8, 216.0, 390.0, 1111.891)]


@pytest.mark.published(CLOSED_FORM)
@pytest.mark.parametrize(("n", "d", "depth", "width"), ZIGZAGS)
def test_a_zigzag_half_a_millimeter_too_short_is_refused_with_proof(
    n: int, d: float, depth: float, width: float
) -> None:
    """Smallest W = d + (n - 1) sqrt(d^2 - (D - d)^2) for d <= D <= d (1 + sqrt(3) / 2)."""
    assert d + (n - 1) * sqrt(d**2 - (depth - d) ** 2) == pytest.approx(width, abs=5e-4)
    gap = 5.0
    cans = tuple(can(f"keg {k}", d - gap) for k in range(n))
    verdicts: list[str] = []
    for off in (0.5, -0.5):
        well = room(width + gap + off, depth + gap)
        # the search for a bound is not needed where they fit
        nodes = 0 if off > 0 else 20_000
        verdicts.append(pack(Problem(well, cans, gap=gap), nodes).verdict)
    assert verdicts == ["fits", "does not fit (proved)"]


def catalog_row(name: str) -> dict[str, str]:
    """Return a row of the catalogue of vessels."""
    text = (files("collarwright.params") / "catalogue" / "data" / "vessels.csv").read_text("utf-8")
    return next(row for row in csv.DictReader(text.splitlines()) if row["id"] == name)


def from_catalog(name: str, label: str) -> Vessel:
    """Return a vessel of usual size: its body, and its fitting as a circle of its side reach.

    No wider than the body: a regulator reaches out to one side, and is turned to where room is.
    """
    row = catalog_row(name)
    height, fitting = float(row["height_mm"]), float(row["fitting_height_mm"])
    body = Disc(0.0, height, float(row["diameter_mm"]) / 2)
    reach = min(float(row["side_reach_mm"]), body.radius)
    return Vessel(label, (body, Disc(height, height + fitting, reach)))


def seven_cubic_feet(collar: float, soda: str) -> Problem:
    """Return a usual well of 7 cubic feet: 740 x 430 at the mouth, 10 less at the floor."""
    mouth = Rect(0.0, 0.0, 740.0, 430.0)
    well = Well(Rect(5.0, 5.0, 735.0, 425.0), mouth, -700.0, 0.0, 40.0, Step("right", 210.0, 230.0))
    between_foam = Rect(0.0, 0.0, 740.0, 430.0)
    nuts = tuple(
        Box(f"shank nut {k}", Rect(278.0 + 76 * k, 0.0, 310.0 + 76 * k, 30.0), 54.0, 86.0)
        for k in range(3)
    )
    vessels = (
        from_catalog("keg-sixth-barrel", "cold coffee"),
        from_catalog(soda, "cider"),
        from_catalog(soda, "kombucha"),
        from_catalog("co2-5lb-aluminium", "carbon dioxide"),
        from_catalog("nitrogen-20cuft-steel", "nitrogen"),
    )
    opening = Opening(between_foam, 0.0, collar)
    return Problem(well, vessels, (opening,), nuts, HeadRoom(collar), gap=5.0)


@pytest.mark.published(PRACTICE)
def test_a_well_of_7_cubic_feet_with_a_5_5_in_collar_takes_five_vessels() -> None:
    """A sixth-barrel keg, two 2.5 gal ball-lock kegs, 5 lb of CO2, 20 cu ft of nitrogen."""
    problem = seven_cubic_feet(139.7, "soda-keg-ball-lock-2-5gal-tall")
    found = pack(problem)
    assert found.verdict == "fits"
    assert {place.vessel for place in found.places if place.on_step} == {
        "carbon dioxide",
        "nitrogen",
    }
    assert entry_order(problem, found.places).found


@pytest.mark.published(PRACTICE)
def test_without_its_collar_it_does_not_take_the_keg_with_its_coupler() -> None:
    found = pack(seven_cubic_feet(0.0, "soda-keg-ball-lock-2-5gal-tall"))
    assert found.verdict == "does not fit (proved)"
    assert {r.vessels for r in found.reasons} == {("cold coffee",)}
    # 594 + 125 + 5 = 724 over the floor of a well of 700, 230 less on the step
    tall = [(r.on_step, r.needed, r.there) for r in found.reasons if r.why == "too tall"]
    assert tall == [(False, 724.0, 700.0), (True, 724.0, 470.0)]
