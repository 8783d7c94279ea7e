"""How a finding's figure is written in the report."""

import pytest
from collarwright.outputs.text import amount


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (1.46, "times", "1.46 times"),
        (1.499, "times", "1.50 times"),
        (6, "times", "6.00 times"),
        (-0.001, "times", "0.00 times"),
        (146.84, "deg", "146.8 deg"),
        (-0.04, "deg", "0.0 deg"),
        (1, "strip", "1.0 strip"),
    ],
)
def test_a_ratio_has_two_places_and_the_rest_one(value: float, unit: str, written: str) -> None:
    assert amount(value, unit, "mm") == written


def test_a_length_is_written_in_the_units_of_the_build_file() -> None:
    assert amount(25.4, "mm", "in") == "1 in (25.4 mm)"
