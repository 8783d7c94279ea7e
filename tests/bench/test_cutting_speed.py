"""How fast cut plans are made, processor time. Run alone: ``pytest -m bench -s tests/bench``."""

import time
from random import Random

import pytest
from collarwright.geometry.plan.cutting import (
    Flaw,
    Job,
    OnSale,
    Owned,
    Piece,
    Plan,
    Sound,
    cut_plan,
)

pytestmark = pytest.mark.bench

SALE = ((182_880, 899), (243_840, 1149), (304_800, 1549), (365_760, 1799), (487_680, 2499))
"""6 to 16 ft, with prices that have no common measure."""


def job(count: int, kinds: int, *, priced: bool = True) -> Job:
    chance = Random(count)
    lengths = [chance.randint(30_000, 110_000) for _ in range(kinds)]
    pieces = tuple(Piece(f"board {k}", lengths[k % kinds], 425) for k in range(count))
    sale = tuple(OnSale(length, price if priced else 0) for length, price in SALE)
    return Job(pieces, sale, trim=1_000)


@pytest.mark.parametrize("priced", [True, False], ids=["price", "length"])
@pytest.mark.parametrize(
    ("count", "kinds", "most"),
    [
        (4, 4, 0.005),
        (8, 8, 0.01),
        (12, 12, 0.05),
        (50, 25, 0.5),
        (100, 20, 0.5),
        (100, 50, 0.5),
        (200, 40, 1.0),
    ],
)
def test_a_cut_plan(count: int, kinds: int, most: float, priced: bool) -> None:
    asked = job(count, kinds, priced=priced)
    cut_plan(job(20, 4))  # the library is loaded once
    took: list[float] = []
    plan: Plan | None = None
    for _ in range(3):
        start = time.process_time()
        plan = cut_plan(asked)
        took.append(time.process_time() - start)
    assert plan is not None
    first = plan.price if priced else plan.bought
    print(
        f"\n{count} pieces of {kinds} lengths: {min(took):.3f} s, {first}, at least {plan.least},"
        f" proved {plan.first_proved} and {plan.proved}"
    )
    assert min(took) <= most


def test_a_dozen_boards_about_the_knots_of_owned_sticks() -> None:
    """Three sticks with 12 knots each; every board has two bores."""
    chance = Random(12)
    boards = tuple(
        Piece(f"board {k}", long, 425, sound=tuple(
            Sound("bore", at - 1_250, at + 1_250, 5_000, 7_500) for at in (long // 3, long // 2)
        ))
        for k, long in enumerate(chance.randint(30_000, 110_000) for _ in range(12))
    )  # fmt: skip
    knots = tuple(Flaw(at, at + 1_500, 5_500, 7_000) for at in range(10_000, 180_000, 15_000))
    owned = (Owned(182_880, knots),) * 3
    asked = Job(boards, tuple(OnSale(*each) for each in SALE), owned, trim=1_000, width=13_970)
    cut_plan(asked)
    start = time.process_time()
    plan = cut_plan(asked)
    took = time.process_time() - start
    print(f"\n12 pieces about knots: {took:.3f} s, {plan.price}, proved {plan.proved}")
    assert plan.proved
    assert took <= 0.1
