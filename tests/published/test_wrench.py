"""Room for the faucet wrench against a table of worked values.

The table is derived (plane geometry of a capsule, discs and a level edge) and every line of it
was verified by brute-force sampling when it was made; the sampler below does that again.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]

SOURCE = "derived: plane geometry of the wrench's arm; table verified by brute-force sampling"
PRINTED = 0.005  # half of the second digit behind the point, in the sampled table
HEIGHT = 139.7

# spacing s, ring radius r, arm's half width w and length l -> blocked half-angle, free sector
# between two neighbours (above, and again below), degrees
NEIGHBOURS = [
    (76, 16, 8, 120, 18.408, 143.18),
    (76, 16, 8, 65, 17.456, 145.09),
    (76, 16, 8, 50, 0.0, 180.0),
    (100, 16, 8, 120, 13.887, 152.23),
    (64, 16, 10, 110, 23.969, 132.06),
    (114, 20, 10, 100, 14.275, 151.45),
]
# lid's edge H above the axis, w, l -> blocked from, to, degrees
EDGES = [
    (60, 8, 120, 25.679, 154.321),
    (40, 8, 120, 15.466, 164.534),
    (90, 8, 120, 43.105, 136.895),
    (130, 8, 120, None, None),
]
CLOSED = Limits(tighten_with_lid="closed")


def tables(s: float, r: float, w: float, length: float, count: int) -> dict[str, Any]:
    return {
        "taps": {
            "count": count,
            "spacing": f"{s} mm",
            "bore": "23 mm",
            "wrench": "wrench-hook-pin",
        },
        "figures": {
            "shanks": {"ring_diameter": 2 * r},
            "wrenches": {"reach": length, "half_width": w},
        },
    }


def edge(height: float) -> dict[str, Any]:
    """A skirt that ends ``height`` above taps half way up, and stands out past the flange."""
    return {
        "board": {"thickness": "19.05 mm", "width": "300 mm"},
        "lid": {"overhang": "30 mm", "skirt": f"{150 - height} mm"},
        "limits": CLOSED,
    }


def measured(found: list[Finding]) -> list[float]:
    return [each.measured for each in found if each.measured is not None]


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("s", "r", "w", "length", "half", "free"), NEIGHBOURS)
def test_the_free_sector_matches_the_table(
    findings: Find, s: float, r: float, w: float, length: float, half: float, free: float
) -> None:
    left, middle, right = measured(findings("wrench-swing", **tables(s, r, w, length, 3)))
    # Where nothing is blocked, the sectors above and below are one.
    assert middle == pytest.approx(free if half else 360, abs=PRINTED)
    assert (left, right) == pytest.approx((360 - 2 * half,) * 2, abs=2 * 0.0005)


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("height", "w", "length", "start", "end"), EDGES)
def test_the_lids_edge_matches_the_table(
    findings: Find, height: float, w: float, length: float, start: float | None, end: float | None
) -> None:
    given = tables(80, 16, w, length, 1) | edge(height)
    (free,) = measured(findings("wrench-swing", **given))
    blocked = 0.0 if start is None or end is None else end - start
    assert free == pytest.approx(360 - blocked, abs=0.001)


@pytest.mark.published(SOURCE)
def test_under_the_lid_and_between_two_taps_the_wrench_works_from_below(findings: Find) -> None:
    """s 76, H 60: above, each piece is 25.679 - 18.408 = 7.27 deg; below there are 143 deg."""
    given = tables(76, 16, 8, 120, 3) | edge(60)
    assert measured(findings("wrench-swing", **given))[1] == pytest.approx(143.18, abs=PRINTED)
    # With a rail 45 mm below the axis, all that is left is the piece to one side of a neighbour.
    rail = {"side": "front", "height": "85 mm", "tall": "40 mm", "width": "600 mm"}
    given["keep_out"] = [rail]
    middle = findings("wrench-swing", **given)[1]
    assert middle.measured == pytest.approx(25.679 - 18.408, abs=0.001)
    assert middle.verdict == "fail"


# --- the table again, by turning the arm ----------------------------------------------------------

TURNS = np.arange(0, 360, 0.01)
ARMS = np.stack([np.cos(np.radians(TURNS)), np.sin(np.radians(TURNS))], axis=1)


def touches_disc(x: float, y: float, r: float, w: float, length: float) -> np.ndarray:
    along = np.clip(ARMS @ (x, y), 0, length)
    return np.hypot(x - ARMS[:, 0] * along, y - ARMS[:, 1] * along) <= r + w


@pytest.mark.parametrize(("s", "r", "w", "length", "half", "free"), NEIGHBOURS)
def test_the_table_of_neighbours_agrees_with_the_sampler(
    s: float, r: float, w: float, length: float, half: float, free: float
) -> None:
    blocked = touches_disc(s, 0, r, w, length)
    assert blocked.sum() * 0.01 / 2 == pytest.approx(half, abs=0.02)
    both = blocked | touches_disc(-s, 0, r, w, length)
    above = (~both & (TURNS >= 0) & (TURNS < 180)).sum() * 0.01
    assert above == pytest.approx(free, abs=0.02)


@pytest.mark.parametrize(("height", "w", "length", "start", "end"), EDGES)
def test_the_table_of_edges_agrees_with_the_sampler(
    height: float, w: float, length: float, start: float | None, end: float | None
) -> None:
    blocked = TURNS[length * ARMS[:, 1] + w >= height]
    if start is None or end is None:
        assert len(blocked) == 0
    else:
        assert (blocked[0], blocked[-1]) == pytest.approx((start, end), abs=0.02)
