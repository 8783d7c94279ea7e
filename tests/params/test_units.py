"""Texts with a unit: what is accepted, what it is worth, and how lengths are printed."""

import math
from contextlib import suppress
from fractions import Fraction

import pint  # noqa: TID251 - by itself, for comparison
import pytest
from collarwright.params import units
from collarwright.params.units import (
    BASE,
    EXAMPLES,
    WORDS,
    Kind,
    UnitError,
    bit_text,
    convert,
    fraction_text,
    length_text,
    mm_text,
    parse,
)
from hypothesis import given
from hypothesis import strategies as st

NIST = "NIST Special Publication 811 (2008), appendix B.8; exact unless said"


def test_pint_alone_reads_a_mixed_fraction_wrong_and_this_does_not() -> None:
    alone = pint.UnitRegistry()("37 5/8 in")
    assert alone.to("inch").magnitude == pytest.approx(23.125)  # 37 times 5/8
    assert parse("37 5/8 in", "length") == pytest.approx(37.625 * 25.4)


@pytest.mark.published(NIST)
@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("1 in", "length", 25.4),
        ("1 ft", "length", 304.8),
        ("1 m", "length", 1000.0),
        ("1 cm", "length", 10.0),
        ("1 lb", "mass", 0.45359237),
        ("1 oz", "mass", 0.028349523),  # 0.45359237/16, printed to 9 decimals
        ("1 bar", "pressure", 100.0),
        ("1 psi", "pressure", 6.894757),  # printed digits
        ("1 lbf", "force", 4.448222),  # printed digits
        ("1 ft2", "area", 0.09290304),
        ("32 degF", "temperature", 0.0),
        ("212 degF", "temperature", 100.0),
        ("-40 degF", "temperature", -40.0),
        ("1.8 degF", "difference", 1.0),
        ("1 degC", "difference", 1.0),
    ],
)
def test_factors_are_those_of_the_standard(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, abs=5e-7)


def test_exact_factors_are_exact() -> None:
    assert parse("1 in", "length") == 25.4
    assert parse("1 ft", "length") == 304.8
    assert parse("1 lb", "mass") == 0.45359237
    assert convert(1, "psi", "kPa") == pytest.approx(0.45359237 * 9.80665 / 0.0254**2 / 1000)


@pytest.mark.parametrize(
    "text",
    [
        "37 5/8 in",
        "37 5/8in",
        "37-5/8 in",
        "37 - 5/8 inch",
        "37.625 in",
        "37.625 inches",
        '37 5/8"',
        "37 5/8″",
        "37⅝ in",
        "37 ⅝ in",
        "37 5\u20448 in",
        "3 ft 1 5/8 in",
        "3 ft. 1 5/8 in.",
        "3 feet, 1-5/8 inches",
        "3' 1-5/8\"",
        "3′ 1⅝″",
        "3’ 1 5/8”",
        "3'1.625''",
        "3ft1.625in",
        "955.675 mm",
        "955.675mm",
        "95.5675 cm",
        "0.955675 m",
        ".955675 m",
        "  37 5/8 in\t",
        "37\u00a05/8\u202fin",
        "37 5/8 IN",
        "+37 5/8 in",
        "301/8 in",
    ],
)
def test_one_length_in_many_writings(text: str) -> None:
    assert parse(text, "length") == pytest.approx(955.675, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("-1/16 in", -1.5875),
        ("−1/16 in", -1.5875),
        ("-10 mm", -10.0),
        ("-3 ft 2 in", -965.2),
        ("0 mm", 0.0),
        ("-0 in", 0.0),
        ("½ in", 12.7),
        ("3 ft", 914.4),
        ("2.5 ft", 762.0),
        ("7/8 in", 22.225),
        ("23/32 in", 18.25625),
    ],
)
def test_signs_zero_and_parts(text: str, mm: float) -> None:
    assert parse(text, "length") == pytest.approx(mm, abs=1e-9)
    assert math.copysign(1, parse(text, "length")) == (-1 if mm < 0 else 1)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("95 deg", "angle", 95.0),
        ("95°", "angle", 95.0),
        ("38 °F", "temperature", 10 / 3),
        ("3 degC", "temperature", 3.0),
        ("12 kg", "mass", 12.0),
        ("500 g", "mass", 0.5),
        ("12 psi", "pressure", 82.737087),
        ("60 %", "percent", 60.0),
        ("60%", "percent", 60.0),
        ("2.5 vol", "volumes", 2.5),
        ("12 m2", "area", 12.0),
        ("12 m²", "area", 12.0),
        ("15 W", "power", 15.0),
        ("100 N", "force", 100.0),
    ],
)
def test_other_kinds(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "kind", "wanted", "meant"),
    [
        ("95,5 cm", "length", "a decimal point, not a comma: 95.5 cm", "95.5 cm"),
        ("1,000 mm", "length", "a number without a comma: 1.000 mm or 1000 mm", ""),
        ("1,234.5 mm", "length", "a number without commas: 1234.5 mm", "1234.5 mm"),
        ("2,5 vol", "volumes", "a decimal point, not a comma: 2.5 vol", "2.5 vol"),
        ("4", "length", "the unit is missing", ""),
        ("4 1/2", "length", "the unit is missing", ""),
        ("4 fingers", "length", "the unit 'fingers' is not known here", ""),
        ("4 kg", "length", "a length with its unit, not a mass", ""),
        ("4 mm", "mass", "a mass with its unit, not a length", ""),
        ("4 deg", "temperature", "not an angle", ""),
        ("3 1/2 ft", "length", "fractions are for inches", ""),
        ("1/2 m", "length", "fractions are for inches", ""),
        ("41 1/4 inchs", "length", "the unit 'inchs' is not known here: in, ft, mm, cm", ""),
        ("1/4 inchs", "length", "the unit 'inchs' is not known here: in, ft, mm, cm", ""),
        ("41 1/4 kg", "length", "a length with its unit, not a mass", ""),
        ("41 1/4", "length", "the unit is missing", ""),
        ("1e3 mm", "length", "without a power of ten", ""),
        ("3 ft 13 in", "length", "less than 12 inches after the feet", ""),
        ("3 ft 12 in", "length", "less than 12 inches after the feet", ""),
        ("2.5 ft 3 in", "length", "whole feet before the inches", ""),
        ("37 5/0 in", "length", "not over zero", ""),
        ("37 8/8 in", "length", "a fraction smaller than one after the 37", ""),
        ("37.5 5/8 in", "length", "a whole number before the fraction", ""),
        ("inf mm", "length", "a length with its unit", ""),
        ("nan mm", "length", "a length with its unit", ""),
        ("", "length", "a length with its unit", ""),
        ("in", "length", "a length with its unit", ""),
        ("--3 mm", "length", "a length with its unit", ""),
        ("2 x 4 in", "length", "the unit 'x 4 in' is not known here", ""),
        ("٣ mm", "length", "a length with its unit", ""),  # only the digits 0 to 9
        ("9" * 79 + " mm", "length", "in at most 80 characters", ""),
    ],
)
def test_what_is_no_quantity_says_what_was_expected(
    text: str, kind: Kind, wanted: str, meant: str
) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, kind)
    assert wanted in str(caught.value)
    assert caught.value.meant == meant
    if meant:
        parse(meant, kind)


def test_a_long_text_costs_nothing() -> None:
    for text in (" " * 10**6 + "x", "1 " * 10**6, "9" * 10**6, "1/" * 10**6):
        with pytest.raises(UnitError, match="characters"):
            parse(text, "length")


def test_every_kind_has_its_words_an_example_and_a_unit() -> None:
    assert set(WORDS) == set(EXAMPLES) == set(BASE) == set(units.Kind.__args__)
    for kind, example in EXAMPLES.items():
        parse(example.strip('"'), kind)  # type: ignore[arg-type]


@given(st.text(max_size=30), st.sampled_from(sorted(WORDS)))
def test_any_text_is_a_number_or_a_unit_error(text: str, kind: Kind) -> None:
    with suppress(UnitError):
        assert math.isfinite(parse(text, kind))


@given(
    st.integers(0, 40),
    st.integers(0, 11),
    st.sampled_from([2, 4, 8, 16, 32, 64]).flatmap(
        lambda d: st.tuples(st.integers(1, d - 1), st.just(d))
    ),
)
def test_feet_inches_and_fractions_add_up(feet: int, inches: int, part: tuple[int, int]) -> None:
    over, under = part
    expected = float((feet * 12 + inches + Fraction(over, under)) * Fraction("25.4"))
    assert parse(f"{feet} ft {inches} {over}/{under} in", "length") == pytest.approx(expected)
    assert parse(f"{feet}' {inches}-{over}/{under}\"", "length") == pytest.approx(expected)


@given(st.floats(-5000, 5000))
def test_fractions_come_back_within_half_a_step(mm: float) -> None:
    assert parse(fraction_text(mm), "length") == pytest.approx(mm, abs=25.4 / 64 + 1e-9)
    assert parse(fraction_text(mm, 16), "length") == pytest.approx(mm, abs=25.4 / 32 + 1e-9)
    assert parse(mm_text(mm), "length") == pytest.approx(mm, abs=0.05 + 1e-8)


@pytest.mark.parametrize(
    ("mm", "inches", "metric"),
    [
        (955.675, "37 5/8 in", "955.7 mm"),
        (25.4, "1 in", "25.4 mm"),
        (0.0, "0 in", "0 mm"),
        (-0.001, "0 in", "0 mm"),
        (-1.5875, "-1/16 in", "-1.6 mm"),
        (25.39, "1 in", "25.4 mm"),
        (12.7, "1/2 in", "12.7 mm"),
        (1000.0, "39 3/8 in", "1000 mm"),
        (0.396875, "0 in", "0.4 mm"),  # half a step: to the even numerator
        (1.190625, "1/16 in", "1.2 mm"),
    ],
)
def test_lengths_are_printed_as_the_trade_does(mm: float, inches: str, metric: str) -> None:
    assert length_text(mm, "in") == inches
    assert length_text(mm, "mm") == metric


def test_bits_are_named_as_they_are_sold() -> None:
    """In 64ths up to 1/2 in, above that as other lengths."""
    # 2.7 mm is 6.80 64ths; 12.3 mm 30.99 of them; 60 mm is 75.59 32nds
    told = {2.7: "7/64 in", 12.3: "31/64 in", 12.7: "1/2 in", 25.4: "1 in", 60.0: "2 3/8 in"}
    assert {mm: bit_text(mm, "in") for mm in told} == told
    assert bit_text(3.474, "mm") == "3.5 mm"


@pytest.mark.parametrize(
    ("inches", "decimals", "said"),
    [  # each ends in a 5 after the last place; some floats fall short of it, some beyond
        (3.25, 1, "82.6 mm"), (5.75, 1, "146.1 mm"), (-3.25, 1, "-82.6 mm"),
        (7.125, 2, "180.98 mm"), (0.125, 2, "3.18 mm"), (0.0, 1, "0 mm"),
    ],
)  # fmt: skip
def test_a_half_goes_away_from_zero(inches: float, decimals: int, said: str) -> None:
    assert mm_text(inches * 25.4, decimals) == said
