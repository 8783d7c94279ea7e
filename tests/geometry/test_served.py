"""How high a drink's pressure may be: what is printed, what is looked up, what is tested.

Expected values are by hand, or by the fit to the carbonation table that pages for brewers have.
"""

import re

import pytest
from collarwright.geometry.plan.work.step import Step
from plain_collar import COLLAR as BARE
from plain_collar import steps_of


def fit(volumes: float, warm: float = 38.0) -> float:
    """Gauge psi of V volumes at T degF near the sea, as pages for brewers have it."""
    return (
        -16.6999
        - 0.0101059 * warm
        + 0.00116512 * warm**2
        + 0.173354 * warm * volumes
        + 4.24267 * volumes
        - 0.0684226 * volumes**2
    )


def test_pressures_are_those_of_the_usual_fit() -> None:
    """38 degF, 2.4 and 2.7 volumes. Pages for brewers name 60 psi for kegs with a spear, too.

    No setting comes near that.
    """
    pour = '[[pour]]\ntap = 1\ndrink = "carbonated"\n'
    told = steps_of(BARE + pour)
    first = next(said for name, said in told["pour"].figures if name.startswith("carbonated"))
    low, high = re.findall(r"(\d+) to (\d+) psi", first)[0]
    assert float(low) == pytest.approx(fit(2.4), abs=1)
    assert float(high) == pytest.approx(fit(2.7), abs=1)
    said = " ".join((*told["water-test"].do, *(each for _, each in told["water-test"].figures)))
    found = [float(each) for each in re.findall(r"([\d.]+) psi", said)]
    assert found and max(found) < 60


FIZZY = '[[pour]]\ntap = {}\ncarbonation = "{} vol"\ntemperature = "{} degC"\n'.format
HIGH = '[room]\naltitude = "{} m"\n'.format
PSI = re.compile(r"([0-9.]+) psi")


def first_tap(step: Step, name: str = "tap 1") -> str:
    return dict(step.figures)[name]


@pytest.mark.parametrize(
    ("volumes", "warm", "high", "printed"),
    [
        (1.5, 3, 0, False), (2.4, 3, 0, True), (2.7, 4, 290, True), (2.7, 4.5, 0, False),
        (2.7, 8, 1800, False), (2.5, 3, 1800, False), (2.5, 1, 0, False), (3.5, 4, 290, True),
        (5, 4, 290, True), (5.2, 3, 0, False),
    ],
)  # fmt: skip
def test_a_range_is_printed_only_where_it_holds(
    volumes: float, warm: float, high: float, printed: bool
) -> None:
    """Tested at what the fit and 1 psi for 2000 ft (610 m) come to, or at soda's 40 and that."""
    told = steps_of(BARE + FIZZY(1, volumes, warm) + HIGH(high))
    said = dict(told["pour"].figures)
    assert any(name.startswith("carbonated") for name in said) == printed
    more = high / 609.6
    tested = float(PSI.findall(first_tap(told["water-test"]))[0])
    assert fit(volumes, 1.8 * warm + 32) + more <= tested
    if not printed:
        assert 40 + more <= tested < 41 + more
    if high:
        assert f"({more:.1f} psi) for the height" in said["look up for tap 1"]


def test_a_pressure_is_looked_up_for_the_one_temperature_of_the_well() -> None:
    two = BARE.replace("count = 1", 'count = 2\nspacing = "150 mm"')
    told = steps_of(two + FIZZY(1, 2.5, 10) + FIZZY(2, 2.4, 1))["pour"]
    for name, volumes in (("tap 1", 2.5), ("tap 2", 2.4)):
        wanted = f"the pressure for {volumes} volumes at 1 degC, "
        assert first_tap(told, f"look up for {name}").startswith(wanted)
    one = steps_of(two + FIZZY(1, 2.5, 3) + '[[pour]]\ntap = 2\ncarbonation = "2.5 vol"\n')
    assert one["pour"].missing == ()  # the other drink stands in the same well


def test_a_carbonated_drink_on_a_blend_wants_more_than_on_co2() -> None:
    """12.3 psi on CO2 alone are (12.3 + 14.7) / 0.6 - 14.7 = 30.3 psi on 60 % CO2."""
    blend = FIZZY(1, 2.6, 3) + 'gas = "60 % CO2, 40 % nitrogen"\n'
    told = steps_of(BARE + blend)
    ((name, said),) = told["pour"].figures
    assert name == "look up for tap 1"
    assert "add the air's 101 kPa (14.7 psi), divide by the blend's part of CO2" in said
    assert float(PSI.findall(first_tap(told["water-test"]))[0]) > 30.3
    assert any("first test gas and line again as high" in each for each in told["pour"].do)
    # 1600 m up the air has 83.5 kPa (ISO 2533, table): 12.1 psi
    high = dict(steps_of(BARE + blend + HIGH(1600))["pour"].figures)["look up for tap 1"]
    assert "the air's 84 kPa (12.1 psi)" in high


def test_a_drink_has_the_gas_that_the_build_file_says() -> None:
    pour = '[[pour]]\ntap = 1\ndrink = "{}"\ngas = "{}"\n'.format
    still = steps_of(BARE + pour("still", "CO2"))["pour"].figures
    assert [said.split(",")[0] for _, said in still] == ["CO2", "CO2"]
    for drink, gas in (("nitrogenated", "CO2"), ("carbonated", "nitrogen")):
        ((name, said),) = steps_of(BARE + pour(drink, gas))["pour"].figures
        assert name == "ask about tap 1" and said.startswith(f"{gas} is not usual")
