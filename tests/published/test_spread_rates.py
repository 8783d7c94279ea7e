"""Glue, finish and beads against the figures of the trade that they are taken from."""

import math

import pytest
from collarwright.params.catalogue import load

SQUARE_FOOT, GALLON = 0.09290304, 3.785412
"""m2 and L (NIST SP 811, 2008, appendix B.8)."""


@pytest.mark.published("trade figure: 250 square feet of glue line from a US gallon of PVA glue")
def test_pva_glue_covers_250_square_feet_a_gallon() -> None:
    row = load("glues")["pva"]
    square_meters = 250 * SQUARE_FOOT / GALLON
    assert square_meters == pytest.approx(6.1, abs=0.05)
    assert row.value("density") / square_meters == pytest.approx(row.value("spread"), rel=0.01)


@pytest.mark.published("trade figure: 500 square feet a coat from a US gallon of varnish")
def test_varnish_covers_500_square_feet_a_gallon() -> None:
    covered = 500 * SQUARE_FOOT / GALLON
    assert load("finishes")["varnish-oil-based"].value("coverage") == pytest.approx(
        covered, abs=0.05
    )


@pytest.mark.published("trade figure: a 300 mL cartridge gives 10.6 m of a bead of 6 mm, or 8.5 m")
@pytest.mark.parametrize("row_id", ["adhesive-foam-safe", "adhesive-lip", "sealant-removable"])
def test_a_cartridge_gives_so_many_meters(row_id: str) -> None:
    row = load("adhesives")[row_id]
    milliliters = math.pi / 4 * row.value("bead") ** 2
    assert milliliters == pytest.approx(28.3, abs=0.05)
    assert row.value("cartridge") / milliliters == pytest.approx(10.6, abs=0.05)
    most = milliliters * (1 + row.figures["over"].high / 100)
    assert row.value("cartridge") / most == pytest.approx(8.5, abs=0.05)


@pytest.mark.published("sizes of vinyl line in the trade: 3/16 and 1/4 in inside, 7/16 in outside")
@pytest.mark.parametrize(("row_id", "inside"), [("vinyl-3-16-in", 3 / 16), ("vinyl-1-4-in", 1 / 4)])
def test_vinyl_line(row_id: str, inside: float) -> None:
    row = load("lines")[row_id]
    assert row.value("inside_diameter") == pytest.approx(25.4 * inside, abs=1e-4)
    assert row.value("outside_diameter") == pytest.approx(25.4 * 7 / 16, abs=1e-4)


def test_what_is_taken_of_it_follows_from_inside_and_outside() -> None:
    for row in load("lines").values():
        assert row.value("inside_diameter") < row.value("outside_diameter")
        assert row.value("bend_radius") > 2.5 * row.value("outside_diameter")


def test_a_finish_is_thicker_where_it_covers_less_and_glue_sets_before_it_is_cured() -> None:
    for row in load("finishes").values():
        assert row.value("recoat") < 24 * row.value("cure")
        assert 0.02 < 1 / row.value("coverage") < 0.3  # mm of wet film
    for row in load("glues").values():
        assert row.value("open_time") < row.value("clamp_time") < 60 * row.value("full_cure")
