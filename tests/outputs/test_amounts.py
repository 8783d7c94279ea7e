"""How a finding's figure is written in the report."""

import pytest
from collarwright.geometry.judge.finding import Check, Finding, Weight, Where
from collarwright.outputs.text import alike, amount, conclusion, figures, places
from collarwright.params.units import Show, both_text, force_text, mass_text, moment_text


@pytest.mark.parametrize(
    ("value", "unit", "written"),
    [
        (1.46, "times", "1.46 times"),
        (1.499, "times", "1.50 times"),
        (6, "times", "6.00 times"),
        (-0.001, "times", "0.00 times"),
        (146.84, "deg", "146.8 deg"),
        (-0.04, "deg", "0.0 deg"),
        (1, "strip", "a steel strip"),
        (0, "strip", "no steel strip"),
        (23.16, "kg", "23.2 kg"),
    ],
)
def test_a_ratio_has_two_places_and_the_rest_one(value: float, unit: str, written: str) -> None:
    assert amount(value, unit, "mm") == written


def test_a_length_is_written_in_the_units_of_the_build_file() -> None:
    assert amount(25.4, "mm", "in") == "1 in (25.4 mm)"


def finding(
    measured: float,
    required: float,
    unit: str = "mm",
    check: str = "plug",
    weight: Weight = "must",
    text: str | None = None,
) -> Finding:
    asked = Check(id=check, weight=weight, unit=unit, question="?", source="")
    side = "back" if text else None
    return asked.at_least(Where(side=side, text=text), measured, required, "so")


@pytest.mark.parametrize(
    ("measured", "required", "show", "written"),
    [
        # 2.8 / 25.4 = 0.1102, 3 / 25.4 = 0.1181: both nearest to 4/32
        (2.8, 3, "in", "0.110 in (2.8 mm), must be at least 0.118 in (3 mm)"),
        (2.1, 2, "in", "0.083 in (2.1 mm), must be at least 0.079 in (2 mm)"),
        # less than a thirty-second apart, though the fractions differ
        (2.7, 3.2, "in", "0.106 in (2.7 mm), must be at least 0.126 in (3.2 mm)"),
        (1.9, 0.5, "in", "1/16 in (1.9 mm), must be at least 1/32 in (0.5 mm)"),
        (25.4, 25.4, "in", "1 in (25.4 mm), must be at least 1 in (25.4 mm)"),
        (0.3, 5, "in", "0.012 in (0.3 mm), must be at least 3/16 in (5 mm)"),
        (-0.03, 0, "in", "-0.001 in (-0.03 mm), must be at least 0.000 in (0 mm)"),
        (-0.0001, 0, "in", "0 in (0 mm), must be at least 0 in (0 mm)"),
        (2.8, 3, "mm", "2.8 mm, must be at least 3 mm"),
        (1.96, 2, "mm", "1.96 mm, must be at least 2 mm"),
    ],
)
def test_a_margin_is_not_hidden_by_its_fractions(
    measured: float, required: float, show: Show, written: str
) -> None:
    assert figures(finding(measured, required), show) == written


def test_a_strip_is_there_or_wanted() -> None:
    lacks = figures(finding(0, 1, "strip"), "in")
    assert lacks == "no steel strip; a magnetic gasket wants one"
    assert figures(finding(1, 1, "strip"), "in") == "a steel strip"


def test_nothing_that_is_something_is_written_as_zero_inches() -> None:
    assert both_text(0.3, "in") == "0.012 in (0.3 mm)"
    assert both_text(-0.3, "in") == "-0.012 in (-0.3 mm)"
    assert both_text(-0.01, "in") == "0 in (0 mm)"


def test_pounds_stand_before_the_metric_figure() -> None:
    """23.2 kg / 0.45359237; 100 N / 4.4482216; 72 N m / 1.3558179 (NIST SP 811)."""
    assert mass_text(23.2, "in") == "51.1 lb (23.2 kg)"
    assert amount(23.2, "kg", "in") == "51.1 lb (23.2 kg)"
    assert force_text(100, "in") == "22.5 lbf (100 N)"
    assert force_text(100, "mm") == "100 N"
    assert force_text(1000, "in") == "225 lbf (1000 N)"
    assert moment_text(72_000, "in") == "53.1 lbf ft (72 N m)"
    assert moment_text(72_000, "mm") == "72 N m"


def test_a_pull_is_told_from_none_though_the_figures_are_alike() -> None:
    two = [
        finding(0, 1.5, "times", "hinge-hold", text="with a pull"),
        finding(0, 1.5, "times", "hinge-hold", text="without a pull"),
    ]
    told = [places(same) for same in alike(two)]
    assert told == ["back, with a pull", "back, without a pull"]


def test_what_follows_counts_findings_and_checks() -> None:
    bad, good = finding(0, 1), finding(1, 0)
    skirt = finding(0, 1, check="skirt")
    last = " must be put right before the glue is on."
    assert conclusion([bad, good]) == "1 finding of 1 check" + last
    assert conclusion([bad, bad, skirt]) == "3 findings of 2 checks" + last
    assert conclusion([good]) == "No must fails."
    asked = Check(id="plug", weight="must", unit="mm", question="?", source="")
    open_ = asked.not_checked(Where(), ("lid.plug",), "so")
    assert conclusion([good, open_]) == "No must fails; what was not checked can."
