"""What wood screws hold and how far apart they stand, against worked values of handbooks.

Reference for all: Wood Handbook (FPL-GTR-190, 2010) and NDS for Wood Construction (2018). The
constants 2850, 15,700 and C were read in public texts that repeat them; the rest is from memory.
"""

import pytest
from collarwright.geometry.handbook.fasteners import (
    WITHDRAWAL_ALLOWABLE,
    WITHDRAWAL_ULTIMATE,
    combined,
    distances,
    lateral_allowable,
    lateral_limit,
    lateral_share,
    thread_in_wood,
    withdrawal_allowable,
    withdrawal_ultimate,
)

WOOD_HANDBOOK = "Wood Handbook (FPL-GTR-190, 2010) eq. 8-10; 15,700 as public texts repeat it"
NDS = "NDS for Wood Construction 2018, 12.2; 2850 as public texts repeat it"
OLDER_NDS = "a public formula book that repeats p = C D^2 of the NDS before 1991"
MEMORY = "from memory"
LBF, INCH = 4.4482216, 25.4
PSI = LBF / INCH**2


@pytest.mark.published(WOOD_HANDBOOK)
def test_ultimate_withdrawal() -> None:
    """No. 8, 25 mm of thread, G 0.36; no. 10, 32 mm, G 0.42. Printed to 1 N."""
    assert withdrawal_ultimate(0.36, 4.17, 25) == pytest.approx(1463, abs=1)
    assert withdrawal_ultimate(0.42, 4.83, 32) == pytest.approx(2951, abs=1)


@pytest.mark.published(NDS)
def test_allowable_withdrawal() -> None:
    """The same two; and G 0.63, which is (0.63 / 0.36)^2 = 3.06 of the first, 813 N."""
    assert withdrawal_allowable(0.36, 4.17, 25) == pytest.approx(265, abs=1)
    assert withdrawal_allowable(0.42, 4.83, 32) == pytest.approx(535.7, abs=1)
    assert withdrawal_allowable(0.63, 4.17, 25) == pytest.approx(813, abs=1)


@pytest.mark.published("an engineering reference page on NDS withdrawal: 109 lb an inch")
def test_a_printed_row_of_allowable_withdrawal() -> None:
    """G 0.45, D 0.190 in: 109 lb per inch of thread (109.65 by the formula)."""
    one_inch = withdrawal_allowable(0.45, 0.190 * INCH, INCH) / LBF
    assert one_inch == pytest.approx(109, abs=1)


@pytest.mark.published(f"{WOOD_HANDBOOK}; {NDS}")
def test_the_metric_constants_are_the_imperial_ones_converted() -> None:
    assert pytest.approx(15_700 * PSI, rel=5e-5) == WITHDRAWAL_ULTIMATE
    assert pytest.approx(2_850 * PSI, rel=5e-5) == WITHDRAWAL_ALLOWABLE
    # the mean at failure is 5.51 times what is allowed
    ratio = withdrawal_ultimate(0.4, 4, 20) / withdrawal_allowable(0.4, 4, 20)
    assert ratio == pytest.approx(5.51, abs=0.005)


@pytest.mark.published(OLDER_NDS)
def test_allowable_lateral_load() -> None:
    """No. 8 in group III: 3240 x 0.164^2 = 87 lb = 388 N."""
    assert lateral_allowable("III", 4.17) == pytest.approx(388, abs=1)
    assert lateral_allowable("III", 0.164 * INCH) / LBF == pytest.approx(87, abs=0.5)
    for group, c in (("I", 4800), ("II", 3960), ("III", 3240), ("IV", 2520)):
        # printed to 0.1 N/mm2
        assert lateral_allowable(group, 1) == pytest.approx(c * PSI, abs=0.05)  # type: ignore[arg-type]


@pytest.mark.published(f"{MEMORY}: Wood Handbook (FPL-GTR-190, 2010) chapter 8, coefficients K")
def test_lateral_load_at_the_proportional_limit() -> None:
    """No. 8 in softwood of G 0.29 to 0.42: 23.17 x 4.17^2 = 403 N; K is lb/in2 converted."""
    assert lateral_limit(0.36, False, 4.17) == pytest.approx(403, abs=0.5)
    table = [
        (False, (0.29, 0.42), 3360), (False, (0.43, 0.47), 4320), (False, (0.48, 0.52), 5280),
        (True, (0.33, 0.47), 3360), (True, (0.48, 0.56), 4640), (True, (0.57, 0.74), 6400),
    ]  # fmt: skip
    for hardwood, ends, k in table:
        for gravity in ends:
            assert lateral_limit(gravity, hardwood, 1) == pytest.approx(k * PSI, abs=0.01)


def test_beyond_the_table_of_lateral_loads() -> None:
    assert lateral_limit(0.28, False, 4) is None
    assert lateral_limit(0.32, True, 4) is None
    assert lateral_limit(0.425, False, 4) == lateral_limit(0.42, False, 4)
    assert lateral_limit(0.59, False, 4) == lateral_limit(0.52, False, 4)
    assert lateral_limit(0.9, True, 4) == lateral_limit(0.74, True, 4)


@pytest.mark.published(f"{MEMORY}: NDS before 1991, 7 D for the full value, never less than 4 D")
def test_a_shallow_screw_has_a_share_of_its_lateral_load() -> None:
    for deep, share in ((3.99, 0), (4, 4 / 7), (5.25, 0.75), (7, 1), (12, 1)):
        assert lateral_share(deep * 4.17, 4.17) == pytest.approx(share)


@pytest.mark.published(f"{MEMORY}: NDS 12.4.1")
def test_combined_pull_and_shear() -> None:
    """265 N in withdrawal, 388 N across, at 45 deg: 315 N."""
    assert combined(265, 388, 45) == pytest.approx(315, abs=0.5)
    assert combined(265, 388, 90) == pytest.approx(265)
    assert combined(265, 388, 0) == pytest.approx(388)
    assert combined(265, 0, 45) == combined(0, 388, 45) == combined(0, 0, 45) == 0


@pytest.mark.published(f"{MEMORY}: NDS commentary, table of end, edge and spacing distances")
def test_distances() -> None:
    """In diameters; no. 8 with a lead hole: 10.4 mm to the edge, 41.7 mm to a loaded end."""
    eight = distances(4.17, lead_hole=True)
    assert (round(eight.edge, 1), round(eight.end_toward, 1)) == (10.4, 41.7)
    for lead_hole, toward, away, along, across in ((False, 15, 10, 15, 5), (True, 10, 5, 10, 3)):
        one = distances(1, lead_hole)
        assert (one.end_toward, one.end_away, one.along, one.across) == (
            toward,
            away,
            along,
            across,
        )
        assert one.edge == one.staggered == 2.5
    # no. 6 (3.5 mm) goes into the edge of a 19 mm board with 9.5 mm to each face, no. 8 does not
    assert distances(3.5, True).edge <= 9.5 < eight.edge


@pytest.mark.parametrize(
    ("length", "through", "wood", "thread"),
    [
        # of 30 mm the last 20 are thread; 4 of those are tip
        (30, 0, 50, 16),
        (30, 2, 50, 16),  # the leaf takes plain shank only
        (30, 12, 50, 14),  # 12 mm of metal take the plain 10 and 2 of the thread
        (30, 2, 19, 11),  # thread from 8 mm in, wood to 19
        (30, 2, 24, 16),
        (30, 2, 8, 0),
        (30, 27, 50, 0),
        (9, 0, 50, 2),
    ],
)
def test_the_thread_that_holds(length: float, through: float, wood: float, thread: float) -> None:
    assert thread_in_wood(length, 2 / 3, through, wood, 4) == pytest.approx(thread)
