"""Unit factors as NIST prints them.

NIST Special Publication 811 (2008), appendix B.8; bold factors there are exact, the others are
rounded to seven digits. From memory; the same figures stand in every edition since 1995.
"""

import pytest
from collarwright.params.units import Kind, parse

SOURCE = "NIST Special Publication 811 (2008), appendix B.8 (from memory)"
EXACT, PRINTED = 1e-12, 5e-8


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(
    ("text", "kind", "printed", "rel"),
    [
        ("1 in", "length", 25.4, EXACT),
        ("1 ft", "length", 304.8, EXACT),
        ("1 cm", "length", 10.0, EXACT),
        ("1 m", "length", 1000.0, EXACT),
        ("1 ft2", "area", 9.290304e-2, EXACT),
        ("1 lb", "mass", 0.45359237, EXACT),
        ("1 oz", "mass", 2.834952e-2, 2e-7),
        ("1 psi", "pressure", 6.894757, PRINTED),
        ("1 bar", "pressure", 100.0, EXACT),
        ("1 lbf", "force", 4.448222, 2e-7),
    ],
)
def test_a_factor_is_the_printed_one(text: str, kind: Kind, printed: float, rel: float) -> None:
    # what travels through the program is rounded to 1e-9 of its unit
    assert parse(text, kind) == pytest.approx(printed, rel=rel, abs=6e-10)


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize("fahrenheit", [-40.0, 0.0, 32.0, 38.0, 68.0, 100.0, 212.0])
def test_a_temperature_is_converted_with_its_zero(fahrenheit: float) -> None:
    """T/K = (t/degF + 459.67)/1.8 and t/degC = T/K - 273.15."""
    kelvin = (fahrenheit + 459.67) / 1.8
    sign = "-" if fahrenheit < 0 else ""
    found = parse(f"{sign}{abs(fahrenheit)} degF", "temperature")
    assert found == pytest.approx(kelvin - 273.15, abs=1e-8)


@pytest.mark.published(SOURCE)
def test_pounds_of_carbonation_pressure_are_pounds_force() -> None:
    # 1 lbf = 4.448222 N on 1 in2 = 6.4516e-4 m2
    assert parse("12 psi", "pressure") == pytest.approx(12 * 4.448222 / 6.4516e-4 / 1000, rel=2e-7)
