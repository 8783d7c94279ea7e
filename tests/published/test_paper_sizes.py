"""Paper: the A series is halved from a square meter, the inch sizes are what they are called."""

import math

import pytest
from collarwright.outputs.paper.sizes import LARGEST, PAPERS, ROLLS

ISO_216 = "ISO 216: A0 has 1 m2, sides as 1 to sqrt 2, halved and rounded down (from memory)"
Y14_1 = "ASME Y14.1: size A 8.5 x 11 in, size B 11 x 17 in (from memory)"


def a_series(n: int) -> tuple[int, int]:
    """Halve A0 n times, each time rounding down to whole millimeters."""
    short, long = round(1000 / 2**0.25), round(1000 * 2**0.25)
    for _ in range(n):
        short, long = long // 2, short
    return short, long


@pytest.mark.published(ISO_216)
def test_a0_is_a_square_meter() -> None:
    short, long = a_series(0)
    assert (short, long) == (841, 1189)
    assert short * long == pytest.approx(1e6, rel=1e-3)


@pytest.mark.published(ISO_216)
@pytest.mark.parametrize(("name", "n"), [("a4", 4), ("a3", 3), ("a1", 1), ("a0", 0)])
def test_a_sizes(name: str, n: int) -> None:
    paper = PAPERS[name]
    assert (paper.width, paper.height) == a_series(n)
    assert paper.height / paper.width == pytest.approx(math.sqrt(2), rel=3e-3)


@pytest.mark.published(Y14_1)
@pytest.mark.parametrize(
    ("name", "width", "height"), [("letter", 8.5, 11), ("tabloid", 11, 17), ("legal", 8.5, 14)]
)
def test_inch_sizes(name: str, width: float, height: float) -> None:
    paper = PAPERS[name]
    assert (paper.width, paper.height) == pytest.approx((width * 25.4, height * 25.4), abs=1e-9)


@pytest.mark.published("36 and 24 in: widths that plotter rolls are sold in (from memory)")
@pytest.mark.parametrize(("name", "inches"), [("roll-24-in", 24), ("roll-36-in", 36)])
def test_rolls(name: str, inches: float) -> None:
    assert ROLLS[name].width == pytest.approx(inches * 25.4, abs=1e-9)


@pytest.mark.published("ISO 32000-1, annex C: a page is at most 14400 units long, of 1/72 in each")
def test_no_page_is_longer_than_a_file_can_say() -> None:
    assert all(roll.height == LARGEST for roll in ROLLS.values())
    assert 4950 < LARGEST <= 14400 / 72 * 25.4


def test_every_paper_stands_upright_and_turns() -> None:
    for paper in PAPERS.values():
        assert paper.height > paper.width
        assert (paper.turned.width, paper.turned.height) == (paper.height, paper.width)
