"""Cut plans against instances whose least number of sticks is known.

Sizes and counts are facts taken down here by hand; each instance is one length on sale, no kerf, no
trim. The plans themselves are measured again, and no bound may lie above the known figure.
"""

import math
from pathlib import Path

import pytest
from collarwright.geometry.plan.cutting import Job, OnSale, Piece, cut_plan, faults
from collarwright.geometry.plan.cutting.boards import asked as asked_of
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.reading import read

ROLLS = (
    "the worked example of paper rolls in the general encyclopedia article on the cutting-stock "
    "problem: least 73 rolls of 5600 mm"
)
FALKENAUER = (
    "E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2, "
    "1996: u120_00 (OR-Library, binpack1), least 48 bins of 150"
)
PRACTICE = "common practice: two 6 ft boards make the collar of a small freezer of 37 x 21 in"
WIDTHS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12,
    2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip
U120_00 = """98x3 96x2 94 93x2 92 91x2 90 87 86 85x2 84x5 83x2 82x2 81 80x3 79x2 78x4 76 74x2 73x4
72 71 70x3 69x3 67 66 64 62x2 60x2 59 58x3 57x4 55x3 50 49x3 47 46x2 45x2 44x2 43x4 42x5 41x3 39x2
38x3 37 36x3 35 33x3 32x2 30x3 29 28 27x2 26 25x2 24 23x2 20"""


def job(sizes: dict[int, int], length: int) -> Job:
    pieces = [Piece(f"{size}", size, 0) for size, count in sizes.items() for _ in range(count)]
    return Job(tuple(pieces), (OnSale(length),))


def bins() -> dict[int, int]:
    found: dict[int, int] = {}
    for word in U120_00.split():
        size, _, count = word.partition("x")
        found[int(size)] = int(count or 1)
    return found


@pytest.mark.published(ROLLS)
def test_paper_rolls() -> None:
    assert sum(WIDTHS.values()) == 219
    asked = job(WIDTHS, 5600)
    plan = cut_plan(asked)
    assert list(faults(asked, plan)) == []
    assert plan.least == 73 * 5600
    assert len(plan.cuts) == 73
    assert plan.first_proved
    # 0.401 % of the rolls is waste, as the article has it
    used = sum(size * count for size, count in WIDTHS.items())
    assert math.isclose(100 * (1 - used / plan.bought), 0.401, abs_tol=5e-4)


@pytest.mark.published(FALKENAUER)
def test_bins_of_120_pieces() -> None:
    sizes = bins()
    asked = job(sizes, 150)
    plan = cut_plan(asked)
    assert list(faults(asked, plan)) == []
    assert plan.least <= 48 * 150
    assert plan.least == math.ceil(47.266) * 150  # the program without whole numbers: 47.266
    assert plan.bought >= 48 * 150
    assert plan.bought <= 49 * 150  # what longest-first comes to


@pytest.mark.published(PRACTICE)
def test_two_boards_of_six_feet_suffice_for_the_small_freezer() -> None:
    """The example: 37 x 21 in, 1x6, cuts of 3 mm, 1/2 in off each end, 6 and 8 ft on sale."""
    project, _ = read(Path(__file__).parents[2] / "examples" / "cold-coffee.toml")
    what = asked_of(project, [lay_out(project)])
    plan = cut_plan(what.job)
    assert list(faults(what.job, plan)) == []
    assert [cut.stick.length for cut in plan.cuts] == [182_880, 182_880]  # 6 ft, in 0.01 mm
    assert plan.proved
