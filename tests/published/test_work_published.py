"""Figures of the order of work against the outside: pilots, leak test, CO2 in a room, air pressure.

Tables were worked by arithmetic with figures of an equation of state (CO2 1.839 kg/m3 at 20 degC
and 1 atm); tolerances are what the printed digits support.
"""

import math

import pytest
from collarwright.geometry.handbook.boring import most_rpm
from collarwright.geometry.handbook.gases import (
    CO2_DENSITY,
    NITROGEN_DENSITY,
    air_pressure,
    gauge_after,
    oxygen_left,
    share_of_room,
)
from collarwright.params.catalogue import load

PSI = 6.894757
CYLINDER = {5: 2.268, 20: 9.072}
"""CO2 in cylinders of 5 and 20 lb, kg."""


@pytest.mark.published("NDS commentary 11.1.2.1: 70 % of the root in softwood, 90 % in hardwood")
def test_the_pilots_of_a_no_8_screw() -> None:
    """Root 0.131 in = 3.33 mm: 2.33 and 2.99 mm."""
    row = load("screws")["wood-screw-no-8"]
    assert row.value("root_diameter") == pytest.approx(0.131 * 25.4, abs=0.005)
    assert row.value("pilot_softwood") == pytest.approx(0.7 * 0.131 * 25.4, abs=0.005)
    assert row.value("pilot_softwood") == pytest.approx(2.33, abs=0.005)
    assert row.value("pilot_hardwood") == pytest.approx(2.99, abs=0.005)


@pytest.mark.published("NDS commentary 11.1.2.1: 70 % of the root in softwood, 90 % in hardwood")
def test_the_pilots_of_every_screw() -> None:
    for row in load("screws").values():
        root = row.value("root_diameter")
        assert row.value("pilot_softwood") == pytest.approx(0.7 * root, abs=0.02), row.id
        assert row.value("pilot_hardwood") == pytest.approx(0.9 * root, abs=0.02), row.id


@pytest.mark.published("derived: ideal gas in a volume that stays; (P + p) T2 / T1 - p")
def test_a_tight_gas_side_that_cools() -> None:
    """30 psig at 20 degC shows 27.41 psig at 3 degC, and 0.152 psi less for each K."""
    assert gauge_after(30 * PSI, 20, 3) / PSI == pytest.approx(27.41, abs=0.01)
    less = (30 * PSI - gauge_after(30 * PSI, 20, 19)) / PSI
    assert less == pytest.approx(0.152, abs=0.001)
    assert gauge_after(30 * PSI, 20, 20) == pytest.approx(30 * PSI)


@pytest.mark.published("ISO 2533 standard atmosphere: 12.100 psia at 5280 ft")
def test_the_air_above_the_sea() -> None:
    assert air_pressure(5280 * 0.3048) / PSI == pytest.approx(12.100, abs=0.005)
    assert air_pressure(0) == 101.325


@pytest.mark.published("arithmetic on an equation of state's density of CO2, 1.839 kg/m3")
@pytest.mark.parametrize(
    ("pounds", "room", "ppm"),
    [
        (5, 15, 82_200), (5, 28.8, 42_800), (5, 60, 20_550),
        (20, 28.8, 171_300), (20, 60, 82_200), (20, 100, 49_300),
    ],
)  # fmt: skip
def test_a_cylinder_that_leaks_into_a_room(pounds: int, room: float, ppm: float) -> None:
    """The upper figure: all of it stays, evenly mixed."""
    share = share_of_room(CYLINDER[pounds], CO2_DENSITY, room)
    assert share * 1e6 == pytest.approx(ppm, rel=0.005)


@pytest.mark.published("arithmetic on an equation of state's density of CO2, 1.839 kg/m3")
@pytest.mark.parametrize(
    ("pounds", "limit", "room"),
    [(5, 5_000, 247), (5, 30_000, 41), (5, 40_000, 31), (20, 5_000, 986), (20, 40_000, 123)],
)
def test_the_room_that_keeps_below_a_limit(pounds: int, limit: float, room: float) -> None:
    share = share_of_room(CYLINDER[pounds], CO2_DENSITY, room)
    assert share * 1e6 == pytest.approx(limit, rel=0.02)


@pytest.mark.published("ideal gas, 28.013 g/mol at 20 degC and 101.325 kPa")
def test_nitrogen_and_what_oxygen_it_leaves() -> None:
    """28.013 g/mol x 101325 / (8.314463 x 293.15) = 1164.6 g/m3; a tenth of it leaves 18.86 %."""
    density = 0.028013 * 101_325 / (8.314463 * 293.15)
    assert pytest.approx(density, abs=0.001) == NITROGEN_DENSITY
    assert oxygen_left(0.1) == pytest.approx(0.18855, abs=1e-5)
    assert oxygen_left(share_of_room(1e6, NITROGEN_DENSITY, 10)) == 0


@pytest.mark.published("a machine shop's teaching page: 250 ft/min, and 125 ft/min in hardwood")
@pytest.mark.parametrize("hardwood", [False, True])
def test_a_wide_hole_saw_turns_slower_than_the_chart_goes(hardwood: bool) -> None:
    """4 in: 239 and 119 rpm at the rim's speed."""
    feet = 125 if hardwood else 250
    assert 0 < most_rpm(101.6, hardwood) <= feet * 304.8 / (math.pi * 101.6)


@pytest.mark.published("a machine shop's teaching page: a 2 in bit, 500 rpm in pine, 250 in oak")
@pytest.mark.parametrize(("hardwood", "chart", "feet"), [(False, 500, 250), (True, 250, 125)])
def test_how_fast_a_bit_turns(hardwood: bool, chart: float, feet: float) -> None:
    """The page rounds 262 and 131 ft/min to 250 and 125: told speeds stay below the chart's."""
    told = most_rpm(50.8, hardwood)
    assert chart - 50 <= told <= chart or told == 250
    rim = told * math.pi * 50.8 / 304.8
    assert rim <= feet * 1.05
