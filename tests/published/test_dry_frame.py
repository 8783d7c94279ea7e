"""The dry frame's angles and open miters against worked values from plane geometry."""

import math

import pytest
from collarwright.geometry.shape.built import DryFrame, dry_frame
from collarwright.geometry.shape.six_lengths import KEYS, Figure
from collarwright.params.project import Built

COSINE_RULE = "cosine rule (Euclid, Elements II.12 and II.13); worked by hand for each figure"
RECTANGLE: Figure = ((0.0, 0.0), (955.0, 0.0), (955.0, 560.0), (0.0, 560.0))


def frame(**lengths: float) -> DryFrame:
    return dry_frame(Built(**{key: f"{value} mm" for key, value in lengths.items()}), RECTANGLE)


# Corners (0, 0), (955, 0), (958, 561), (4, 559): six lengths and the angles between them.
SKEWED = dict(zip(KEYS, (955.000, 561.008, 954.002, 559.014, 1110.173, 1103.124), strict=True))
ANGLES = (89.590, 90.306, 89.573, 90.530)


@pytest.mark.published(COSINE_RULE)
@pytest.mark.parametrize("leave_out", [None, *KEYS[4:]])
def test_a_skewed_frame_has_the_angles_of_its_triangles(leave_out: str | None) -> None:
    found = frame(**{key: value for key, value in SKEWED.items() if key != leave_out})
    assert found.angles_deg == pytest.approx(ANGLES, abs=0.001)


@pytest.mark.published(COSINE_RULE)
def test_diagonals_that_differ_by_3_mm_are_0_1779_deg() -> None:
    """955 x 560 racked: d1^2 + d2^2 = 2 (p^2 + q^2), A - 90 from (d1^2 - d2^2)/(4 p q)."""
    p, q = 955.0, 560.0
    mean = math.sqrt(p * p + q * q - 1.5**2)
    found = frame(
        front=p, right=q, back=p, left=q, front_left_to_back_right=mean + 1.5,
        front_right_to_back_left=mean - 1.5,
    )  # fmt: skip
    assert 90 - found.angles_deg[0] == pytest.approx(0.1779, abs=1e-4)


@pytest.mark.published("gap of a miter whose corner is off by eps: t sqrt(2) eps")
@pytest.mark.parametrize(("off_deg", "gap"), [(0.1, 0.094), (0.5, 0.469)])
def test_a_miter_opens_with_the_corner(off_deg: float, gap: float) -> None:
    """Boards 38 mm thick; the corner is wider than it was sawn for, so it opens inside."""
    p, q = 955.0, 560.0
    wide = math.radians(90 + off_deg)
    # the triangle front, left about the front-left corner
    second = math.sqrt(p * p + q * q - 2 * p * q * math.cos(wide))
    found = frame(front=p, right=q, back=p, left=q, front_right_to_back_left=second)
    assert found.opening(0, 38.0) == pytest.approx(gap, abs=0.001)
    assert found.opening(1, 38.0) == pytest.approx(-gap, abs=0.001)
