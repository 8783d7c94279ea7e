"""Lid and hinge statics against worked values, and against the gradient of potential energy.

Derived: plane statics of a rigid lid. The table was worked by arithmetic with g = 9.80665 m/s2,
its moments compared with a numerical gradient of potential energy. Moments printed in N m.
"""

import math

import pytest
from collarwright.geometry.handbook.statics import (
    GRAVITY,
    balance_deg,
    bond_moment,
    lid_moment,
    pull_on_worst,
    spring_reaction,
    stop_moment,
)

SOURCE = "derived: plane statics; moments verified by the gradient of potential energy"
LID = (12.0, 290.0, 30.0)  # kg, mm ahead, mm above
SKIRT = (1.8, 550.0, -50.0)
PULL = 100.0 * 600  # N at 0.60 m

published = pytest.mark.published(SOURCE)


@published
@pytest.mark.parametrize(
    ("deg", "moment"), [(0, 34.127), (30, 27.790), (60, 14.006), (75, 5.423), (90, -3.530)]
)
def test_the_moment_of_a_lid(deg: float, moment: float) -> None:
    assert lid_moment(*LID, deg) / 1000 == pytest.approx(moment, abs=0.001)


@published
def test_balance_and_the_force_that_lifts() -> None:
    assert balance_deg(290, 30) == pytest.approx(84.094, abs=0.001)
    assert lid_moment(*LID, 0) / 600 == pytest.approx(56.88, abs=0.01)


@published
@pytest.mark.parametrize(
    ("deg", "moment", "force"),
    [(0, 9.71, 16.2), (30, 8.85, 14.8), (60, 5.62, 9.4), (85, 1.73, 2.9)],
)
def test_a_skirt_on_top_of_it(deg: float, moment: float, force: float) -> None:
    """Printed to 0.01 N m and 0.1 N; it hangs low, so it balances past upright.

    The forces were rounded from the rounded moments: 8.85 / 0.60 is 14.75, printed 14.8, where
    14.749 would be printed 14.7. So they are good to 0.05 N and half a digit of the moment.
    """
    assert lid_moment(*SKIRT, deg) / 1000 == pytest.approx(moment, abs=0.01)
    assert lid_moment(*SKIRT, deg) / 600 == pytest.approx(force, abs=0.05 + 0.005 / 0.6)
    assert balance_deg(550, -50) == pytest.approx(95.2, abs=0.05)


@published
def test_the_moment_at_the_stop() -> None:
    moment = stop_moment(*LID, 100)
    assert moment / 1000 == pytest.approx(9.403, abs=0.001)
    assert moment / 2 / 1000 == pytest.approx(4.701, abs=0.001)
    assert stop_moment(*LID, 84) == 0  # short of the balance it closes by itself


@published
@pytest.mark.parametrize(
    ("more", "screws", "lever", "pull"), [(0, 3, 35, 44.8), (0, 2, 20, 117.5), (PULL, 3, 35, 330.5)]
)
def test_the_pull_on_each_of_a_leafs_screws(
    more: float, screws: int, lever: float, pull: float
) -> None:
    """Two leaves, all screws of one at the same lever. Printed to 0.1 N."""
    moment = (stop_moment(*LID, 100) + more) / 2
    assert pull_on_worst(moment, (lever,) * screws) == pytest.approx(pull, abs=0.1)


def test_screws_at_several_levers_hold_the_moment_together() -> None:
    levers, moment = (15.0, 45.0, 75.0), 5000.0
    worst = pull_on_worst(moment, levers)
    pulls = [worst * lever / 75 for lever in levers]
    assert sum(p * e for p, e in zip(pulls, levers, strict=True)) == pytest.approx(moment)


@pytest.mark.parametrize(
    ("ahead", "above", "open_to"),
    [(290, 30, 100), (290, -80, 90), (290, -80, 10), (30, 290, 100), (-20, 40, 180), (20, 0, 180)],
)
def test_the_springs_greatest_reaction_is_that_of_a_fine_sweep(
    ahead: float, above: float, open_to: float
) -> None:
    """Against the slope of the potential energy m g h(th), sampled."""

    def energy(deg: float) -> float:
        th = math.radians(deg)
        return 7 * GRAVITY * (ahead * math.sin(th) + above * math.cos(th))

    step = 1e-3
    sampled = max(
        abs(energy(open_to * i / 2000 + step) - energy(open_to * i / 2000 - step))
        / math.radians(2 * step)
        for i in range(2001)
    )
    greatest, at = spring_reaction(7, ahead, above, open_to)
    assert greatest == pytest.approx(sampled, rel=1e-5)
    assert abs(lid_moment(7, ahead, above, at)) == pytest.approx(greatest)


def test_a_bond_round_a_rectangle_against_small_pieces() -> None:
    width, depth, strength = 940.0, 530.0, 0.3
    pieces = 4000
    side = sum(
        strength * (y / depth) * y * (depth / pieces)
        for y in ((i + 0.5) * depth / pieces for i in range(pieces))
    )
    front = strength * width * depth
    assert bond_moment(width, depth, strength) == pytest.approx(front + 2 * side, rel=1e-6)
