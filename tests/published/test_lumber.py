"""Dressed sizes of lumber and major diameters of threads as the standards print them, in inches."""

import re

import pytest
from collarwright.params import catalogue

PS_20 = (
    "US Department of Commerce PS 20, American Softwood Lumber Standard: nominal and least dressed"
    " dry sizes, as repeated by a grading agency"
)
UNIFIED = "ASME B1.1, unified inch threads: the basic major diameter is the nominal size"
WOOD_SCREWS = "ASME B18.6.1, wood screws: diameter 0.060 + 0.013 N in (from memory)"
INCH = 25.4

# nominal -> dressed, dry
BOARD_THICKNESS = {"1": 0.75, "5/4": 1.0, "6/4": 1.25}
DIMENSION_THICKNESS = {"2": 1.5}
BOARD_WIDTH = {"2": 1.5, "3": 2.5, "4": 3.5, "6": 5.5, "8": 7.25, "10": 9.25, "12": 11.25}

LUMBER = catalogue.load("lumber")
SOFTWOOD = [row for row in LUMBER.values() if row.id.startswith(("board-", "dimension-"))]


def test_there_is_softwood_to_compare() -> None:
    assert {"board-1x4", "board-1x6", "board-1x8", "dimension-2x6", "dimension-2x8"} <= set(LUMBER)
    assert len(SOFTWOOD) >= 20


@pytest.mark.published(PS_20)
@pytest.mark.parametrize("row", SOFTWOOD, ids=lambda row: row.id)
def test_softwood_is_as_large_as_the_standard_dresses_it(row: catalogue.Row) -> None:
    thick, wide = row.text("nominal").split("x")
    thickness = (BOARD_THICKNESS | DIMENSION_THICKNESS)[thick]
    assert row.value("thickness") == pytest.approx(thickness * INCH, abs=1e-9)
    assert row.value("width") == pytest.approx(BOARD_WIDTH[wide] * INCH, abs=1e-9)


@pytest.mark.published(UNIFIED)
def test_a_7_8_14_shank_has_a_major_diameter_of_0875_in() -> None:
    shanks = catalogue.load("shanks")
    assert shanks
    for row in shanks.values():
        assert row.value("thread_diameter") == pytest.approx(0.875 * INCH, abs=1e-9)


@pytest.mark.published(WOOD_SCREWS)
def test_a_wood_screws_number_is_its_diameter() -> None:
    rows = {
        int(found[1]): row
        for row in catalogue.load("screws").values()
        if (found := re.fullmatch(r"wood-screw-no-(\d+)", row.id))
    }
    assert {6, 8, 10} <= set(rows)
    for number, row in rows.items():
        diameter = (0.060 + 0.013 * number) * INCH
        # the table is rounded to 0.01 mm
        assert row.value("shank_diameter") == pytest.approx(diameter, abs=0.01)
