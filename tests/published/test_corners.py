"""Miters of corners that are not square, and what a tape can say about a corner.

The compound-miter formulas are those of carpentry handbooks and public calculators for moldings
that lean off the wall by a spring angle. A collar's boards stand upright: spring 0, and nothing
is left of them but the tilt of the blade.
"""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.saw_ring import ring_gap, ring_tilt_deg

Lay = Callable[..., Layout]
Find = Callable[..., list[Finding]]

COMPOUND = (
    "compound miter, cut flat: miter = atan(sin spring / tan(corner/2)), bevel = asin(cos spring"
    " cos(corner/2)); public page 'Crown Molding: Formulas and Example Calculations', opened, and"
    " any carpentry handbook, from memory"
)
TAPE = "derived: cosine rule; table verified by Monte Carlo and exact geometry"


def compound_miter(spring_deg: float, corner_deg: float) -> tuple[float, float]:
    """Return the turn of the fence and the tilt of the blade, degrees."""
    spring, half = math.radians(spring_deg), math.radians(corner_deg) / 2
    miter = math.atan(math.sin(spring) / math.tan(half))
    bevel = math.asin(math.cos(spring) * math.cos(half))
    return math.degrees(miter), math.degrees(bevel)


@pytest.mark.published(COMPOUND)
@pytest.mark.parametrize(
    ("spring", "corner", "miter", "bevel", "printed"),
    [
        (38, 135, 14.30638, 17.55124, 5e-6),
        (38, 90, 31.62, 33.86, 0.005),  # the detents of many miter saws
        (0, 90, 0, 45, 1e-9),
    ],
)
def test_the_formula_gives_what_was_printed(
    spring: float, corner: float, miter: float, bevel: float, printed: float
) -> None:
    assert compound_miter(spring, corner) == pytest.approx((miter, bevel), abs=printed)


@pytest.mark.published(COMPOUND)
@pytest.mark.parametrize("deg", [62.0, 75.0, 89.0, 90.0, 90.5, 101.0, 118.0])
def test_an_upright_boards_tilt_is_the_handbooks_bevel(lay: Lay, deg: float) -> None:
    front, side = 900.0, 600.0
    over, up = side * math.cos(math.radians(deg)), side * math.sin(math.radians(deg))
    lengths = {"front": front, "right": side, "back": front, "left": side}
    lengths["front_left_to_back_right"] = math.hypot(front + over, up)
    layout = lay(
        lip={key: f"{value:.9f} mm" for key, value in lengths.items()}, board={"follow": "lip"}
    )
    for corner, angle in zip(layout.frame.corners, (deg, 180 - deg) * 2, strict=True):
        turn, tilt = compound_miter(0, angle)
        assert turn == 0
        assert corner.miter_deg == pytest.approx(tilt, abs=1e-6)


def test_both_boards_of_a_corner_are_cut_in_one_plane(lay: Lay) -> None:
    """Tilted from a square cut by the miter, each board's end lies along the corner's diagonal."""
    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        "front_left_to_back_right": "1110.173 mm",
    }  # fmt: skip
    boards = lay(lip=lip, board={"follow": "lip"}).boards
    for i, board in enumerate(boards):
        before = boards[i - 1]
        for one, tilt, start, inner in (
            (board, board.miter_left_deg, board.outer[0], board.inner[0]),
            (before, before.miter_right_deg, before.outer[1], before.inner[1]),
        ):
            along = np.subtract(one.outer[1], one.outer[0])
            along /= np.linalg.norm(along)
            cut = np.subtract(inner, start)
            square = np.array([-along[1], along[0]])  # a square cut runs straight inward
            angle = math.degrees(math.acos(cut @ square / np.linalg.norm(cut)))
            assert angle == pytest.approx(tilt, abs=1e-6)
        assert board.inner[0] == pytest.approx(before.inner[1], abs=1e-9)


# --- what a tape can say (rim of 955 x 560 mm) --------------------------------------------------

P, Q = 955.0, 560.0
DIAGONAL = math.hypot(P, Q)


def front_right_deg(lay: Lay, **changes: float) -> float:
    """The corner that faces the diagonal from front-left to back-right."""
    lengths = {"front": P, "right": Q, "back": P, "left": Q}
    lengths |= {"front_left_to_back_right": DIAGONAL} | changes
    lip = {key: f"{value:.9f} mm" for key, value in lengths.items()}
    return lay(lip=lip).lip.angles_deg[1]


@pytest.mark.published(TAPE)
@pytest.mark.parametrize(
    ("key", "at", "printed"),
    [
        ("front_left_to_back_right", DIAGONAL, 0.11861),
        ("front", P, -0.10231),
        ("right", Q, -0.06000),
    ],
)
def test_a_millimeter_of_each_reading_turns_the_corner_as_tabulated(
    lay: Lay, key: str, at: float, printed: float
) -> None:
    """Degrees per mm, as a difference over 0.02 mm."""
    step = 0.01
    slope = front_right_deg(lay, **{key: at + step}) - front_right_deg(lay, **{key: at - step})
    assert slope / (2 * step) == pytest.approx(printed, abs=1e-4)


@pytest.mark.published(TAPE)
def test_readings_good_to_half_a_millimeter_tell_a_corner_to_008_deg(lay: Lay) -> None:
    """One diagonal: the three slopes as a root sum of squares, times 0.5 mm."""
    slopes = [
        front_right_deg(lay, **{key: at + 0.5}) - front_right_deg(lay, **{key: at - 0.5})
        for key, at in (("front_left_to_back_right", DIAGONAL), ("front", P), ("right", Q))
    ]
    assert 0.5 * math.hypot(*slopes) == pytest.approx(0.08387, rel=0.01)


@pytest.mark.published(TAPE)
def test_diagonals_that_differ_by_3_mm_are_018_deg_out_of_square(lay: Lay) -> None:
    """A parallelogram, so the squares of both diagonals add up to 2 (p2 + q2)."""
    # d1 - d2 = 3 and d1^2 + d2^2 = 2 D^2
    half_sum = math.sqrt(4 * DIAGONAL**2 - 9) / 2
    layout: Any = lay(
        lip={
            "front": "955 mm", "right": "560 mm", "back": "955 mm", "left": "560 mm",
            "front_left_to_back_right": f"{half_sum + 1.5:.9f} mm",
            "front_right_to_back_left": f"{half_sum - 1.5:.9f} mm",
        }
    )  # fmt: skip
    assert [abs(angle - 90) for angle in layout.lip.angles_deg] == pytest.approx(
        [0.17791] * 4, abs=1e-4
    )


@pytest.mark.published(TAPE)
@pytest.mark.parametrize(("diagonals", "printed"), [(1, 0.0836), (2, 0.0592)])
def test_a_second_diagonal_makes_the_corner_surer(lay: Lay, diagonals: int, printed: float) -> None:
    """Readings with a standard deviation of 0.5 mm, Monte Carlo.

    4000 rims tell a standard deviation to about 1.1 %, so 4 % is what may be asked for.
    """
    from collarwright.geometry.shape.lip import fit
    from collarwright.params.project import Lip

    keys = ("front", "right", "back", "left", "front_left_to_back_right")
    true = dict(zip(keys, (955.0, 561.008, 954.002, 559.014, 1110.173), strict=True))
    if diagonals == 2:
        true["front_right_to_back_left"] = 1103.124
    rng = np.random.default_rng(12)
    found = []
    for _ in range(4000):
        noisy = {key: (f"{v + rng.normal(0, 0.5):.6f} mm",) for key, v in true.items()}
        found.append(fit(Lip(**noisy)).angles_deg[0])
    assert np.std(found) == pytest.approx(printed, rel=0.04)


# --- the saw's test ring --------------------------------------------------------------------------


@pytest.mark.published("one joint held square opens by 2 t sqrt(2) sin(eps/2); derived, verified")
@pytest.mark.parametrize(("eps_deg", "gap"), [(0.1, 0.094), (0.5, 0.469)])
def test_a_joint_of_two_ls_opens_as_a_miter_that_is_off_by_four_times_the_blade(
    eps_deg: float, gap: float
) -> None:
    """The formula takes the face as long as at 45 deg, so it is the mean of both sides."""
    inside, outside = ring_gap(45 + eps_deg / 4, 38.0), ring_gap(45 - eps_deg / 4, 38.0)
    assert outside < 0 < inside
    assert (inside - outside) / 2 == pytest.approx(gap, abs=0.001)
    assert ring_tilt_deg(gap, 38.0) == pytest.approx(45 + eps_deg / 4, abs=3e-4)


@pytest.mark.published("heel gaps of a miter that moves by e radians: brute force on vectors")
@pytest.mark.parametrize(("e", "gap"), [(0.005, 0.2687), (0.01, 0.5374), (0.02, 1.0748)])
def test_the_ring_opens_as_a_miter_that_dries(e: float, gap: float) -> None:
    """A blade off by e/4 rad opens each joint of two L's by e; the face is longer by e/4."""
    assert ring_gap(45 + math.degrees(e / 4), 38.0) == pytest.approx(gap * (1 + e / 4), rel=2e-4)
