"""Cut plans of foam against dissections whose nature is known."""

import pytest
from collarwright.geometry.plan.sheets import Job, Part, Sheet, faults, sheet_plan

MORON = (
    "Z. Moron, On the dissections of a rectangle into squares, 1925: 33 x 32 in nine squares, all"
    " different; no part of it is a rectangle in squares, so no cut runs from edge to edge"
)
FIBONACCI = "sums of squares of Fibonacci numbers: 1 + 1 + 4 + 9 + 25 + 64 = 8 x 13 (Lucas 1876)"


def squares(sheet: Sheet, *sides: int) -> Job:
    return Job(tuple(Part(f"{side}", side, side) for side in sides), sheet)


@pytest.mark.published(MORON)
def test_nine_squares_fill_a_sheet_that_no_knife_cuts_so() -> None:
    sides = (18, 15, 14, 10, 9, 8, 7, 4, 1)
    assert sum(side * side for side in sides) == 33 * 32
    asked = squares(Sheet(33, 32), *sides)
    plan = sheet_plan(asked)
    assert list(faults(asked, plan)) == []
    assert (len(plan.sheets), plan.least) == (2, 2)


@pytest.mark.published(FIBONACCI)
@pytest.mark.parametrize("count", [4, 5, 6, 7])
def test_squares_of_fibonacci_numbers_fill_a_rectangle(count: int) -> None:
    sides = [1, 1]
    while len(sides) <= count:
        sides.append(sides[-1] + sides[-2])
    asked = squares(Sheet(sides[count], sides[count - 1]), *sides[:count])
    plan = sheet_plan(asked)
    assert list(faults(asked, plan)) == []
    assert (len(plan.sheets), plan.cuts, plan.sheets[0].left) == (1, count - 1, ())
