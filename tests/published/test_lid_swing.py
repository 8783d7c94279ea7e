"""The opening lid against a table of worked values, and against turning it in small steps.

The table is derived (plane kinematics of a turning rigid body) and was compared with brute-force
sampling when it was made; the sampler below does that again, for random lids too.
"""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.section import box, seen
from collarwright.geometry.shape.swing import nearest

Find = Callable[..., list[Finding]]

SOURCE = "derived: plane kinematics of the lid; table verified by brute-force sampling"

DEPTH, HEIGHT = 500.0, 139.7
LIP = {"right": "500 mm", "left": "500 mm"}

# Lid seen from the axis, mm: front edge a ahead, rear edge b behind (negative: ahead of it),
# skirts hang to s below it, top T above it; opened to an angle. Printed to 0.001 mm.
TABLE = [
    ((580, 25, 40, 60, 90), 65.000, 583.095),
    ((580, 25, 40, 60, 100), 159.804, 583.095),
    ((600, -5, 0, 55, 110), 256.895, 602.516),
    ((560, 40, 60, 80, 75), 89.443, 561.624),
    ((700, 30, 50, 70, 95), 130.743, 703.491),
]
Lid = tuple[float, float, float, float, float]


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def measured(found: list[Finding]) -> float:
    (one,) = found
    assert one.measured is not None
    return one.measured


def tables(lid: Lid, behind: float, below: float) -> dict[str, Any]:
    """Write the lid as a build file says it, the axis ``behind`` and ``below`` the top edge."""
    a, b, s, top, open_to = lid
    return {
        "lip": LIP,
        "lid": {
            "overhang": {
                "front": mm(a - DEPTH - behind),
                "right": "0 mm",
                "back": mm(b + behind),
                "left": "0 mm",
            },
            "thickness": mm(top - below),
            "skirt": mm(s + below),
        },
        "hinge": {
            "axis_behind": mm(behind),
            "axis_above": mm(-below),
            "open_to": f"{open_to} deg",
        },
        "room": {"behind": "300 mm", "above": "900 mm"},
    }


def swept(corners: list[tuple[float, float]], open_to: float) -> tuple[float, float]:
    """Turn every corner (y back, z up, from the axis) in steps of 0.01 deg: farthest y and z."""
    turned = np.radians(np.append(np.arange(0, open_to, 0.01), open_to))
    y, z = np.array(corners).T[:, :, None]
    back = y * np.cos(turned) + z * np.sin(turned)
    up = z * np.cos(turned) - y * np.sin(turned)
    return float(back.max()), float(up.max())


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("behind", "below"), [(10, 0), (25, 0), (10, 15)])
@pytest.mark.parametrize(("lid", "rear", "height"), TABLE)
def test_rear_reach_and_height_match_the_table(
    findings: Find, lid: Lid, rear: float, height: float, behind: float, below: float
) -> None:
    given = tables(lid, behind, below)
    # the axis is ``behind`` the lip's back edge, and ``below`` the collar's top
    assert measured(findings("lid-wall", **given)) - behind == pytest.approx(rear, abs=0.001)
    up = measured(findings("lid-ceiling", **given)) - (HEIGHT - below)
    assert up == pytest.approx(height, abs=0.001)


@pytest.mark.parametrize(("lid", "rear", "height"), TABLE)
def test_the_table_itself_agrees_with_the_sampler(lid: Lid, rear: float, height: float) -> None:
    a, b, s, top, open_to = lid
    found = swept([(-a, -s), (-a, top), (b, -s), (b, top)], open_to)
    assert found == pytest.approx((rear, height), abs=0.001)


@pytest.mark.parametrize("seed", range(60))
def test_random_lids_agree_with_the_sampler(findings: Find, seed: int) -> None:
    rng = np.random.default_rng(seed)
    front, back = rng.uniform(-30, 60, 2)
    skirt_front, skirt_back = rng.uniform(0, 80, 2) * rng.integers(0, 2, 2)
    skirt_right, skirt_left = rng.uniform(0, 80, 2) * rng.integers(0, 2, 2)
    thickness, plug, inset = rng.uniform(15, 90), rng.uniform(5, 120), rng.uniform(10, 90)
    behind, above = rng.uniform(-15, 60), rng.uniform(-90, 40)
    over, open_to = rng.uniform(-10, 20), rng.uniform(1, 180)
    given: dict[str, Any] = {
        "lip": LIP,
        "board": {"overhang": {"back": mm(over)}},
        "lid": {
            "overhang": {"front": mm(front), "back": mm(back)},
            "thickness": mm(thickness),
            "skirt": {
                "front": mm(skirt_front),
                "back": mm(skirt_back),
                "right": mm(skirt_right),
                "left": mm(skirt_left),
            },
            "plug": mm(plug),
            "plug_inset": mm(inset),
        },
        "hinge": {
            "axis_behind": mm(behind),
            "axis_above": mm(above),
            "open_to": f"{open_to:.6f} deg",
        },
        "room": {"behind": "300 mm", "above": "900 mm"},
    }
    axis_y, axis_z = DEPTH + over + behind, HEIGHT + above
    corners = [
        (-front, HEIGHT - skirt_front),
        (-front, HEIGHT + thickness),
        (DEPTH + back, HEIGHT - skirt_back),
        (DEPTH + back, HEIGHT + thickness),
        *((y, HEIGHT - s) for y in (-front, DEPTH + back) for s in (skirt_right, skirt_left)),
        (-front + inset, HEIGHT - plug),
        (DEPTH + back - inset, HEIGHT - plug),
    ]
    rear, top = swept([(y - axis_y, z - axis_z) for y, z in corners], round(open_to, 6))
    wall = measured(findings("lid-wall", **given))
    ceiling = measured(findings("lid-ceiling", **given))
    assert wall == pytest.approx(rear + axis_y - DEPTH, abs=1e-4)
    assert ceiling == pytest.approx(top + axis_z, abs=1e-4)


# --- the front skirt over the collar's front edge -----------------------------------------------

# The collar's front top corner is f ahead of the axis and k above it: what the skirt's inside
# needs there, printed to 0.0001 mm.
CLEARANCE = [
    (550, -20, 0.0),
    (550, 0, 0.0),
    (550, 20, 0.3635),
    (550, 50, 2.2681),
    (550, 100, 9.0170),
    (500, 184, 32.781),
]


def needed(f: float, k: float) -> float:
    """Turn the corner about the axis, as the opening lid sees it: how far ahead it comes.

    A corner level with the axis or below it only moves away from the skirt.
    """
    turned = np.radians(np.arange(0, 90, 0.01))
    return float((f * np.cos(turned) + max(k, 0) * np.sin(turned)).max()) - f


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("f", "k", "clearance"), CLEARANCE)
def test_front_clearance_matches_the_table(
    findings: Find, f: float, k: float, clearance: float
) -> None:
    depth = f - 12
    found = findings(
        "skirt",
        lip={"right": mm(depth), "left": mm(depth)},
        lid={"overhang": "40 mm", "skirt": "30 mm", "skirt_thickness": "2 mm"},
        hinge={"axis_behind": "12 mm", "axis_above": mm(-k)},
    )
    front = found[0]
    assert front.where.side == "front"
    assert front.measured == pytest.approx(40 - 2 - clearance, abs=0.001)
    assert needed(f, k) == pytest.approx(clearance, abs=0.001)


def test_a_hinge_left_on_the_body_needs_33_mm_of_skirt_clearance() -> None:
    """The last line of the table: the axis a collar's height below its top edge."""
    assert math.hypot(500, 184) - 500 == pytest.approx(33, abs=0.5)


# --- the rear skirt, the front edge, and what stands ahead of it ----------------------------------

# Rear skirt's lower corner b behind the axis and s below it, the collar's back face h ahead of the
# axis: the angle of contact, None for never; 5th: how high the corner is there, from the axis.
REAR = [
    (25, 40, 10, 44.245, None),
    (25, 40, 20, 57.093, None),
    (25, 40, 45, 104.559, None),
    (25, 40, 50, None, None),
    (40, 60, 15, 45.696, -70.53),
]


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("b", "s", "h", "contact", "height"), REAR)
def test_the_rear_skirt_meets_the_collar_where_the_table_says(
    b: float, s: float, h: float, contact: float | None, height: float | None
) -> None:
    # a tip, so that no other corner of the skirt is there before
    skirt, collar = ((b, -s), (b + 1, -1), (b + 0.5, -0.5)), box(-h - 40, -h, -300, 0)
    found = nearest(seen(skirt, (0, 0)), seen(collar, (0, 0)), (0, 0), 170)
    turned = np.radians(np.arange(0, 170, 0.001))
    y = b * np.cos(turned) - s * np.sin(turned)
    touching = np.degrees(turned[y <= -h])
    if contact is None:
        assert found.gap == pytest.approx(h - math.hypot(b, s))
        assert len(touching) == 0
        return
    assert found.gap < 0
    assert found.angle_deg == pytest.approx(contact, abs=0.0005)
    assert touching[0] == pytest.approx(contact, abs=0.002)
    assert found.place[0] == pytest.approx(-h)
    if height is not None:
        assert found.place[1] == pytest.approx(height, abs=0.005)


# Front edge a ahead of the axis, its skirt to s below: how far out it swings, and at which angle.
OUTWARD = [
    (600, 40, 1.3319, 3.814),
    (600, 60, 2.9925, 5.711),
    (600, 100, 8.2763, 9.462),
    (560, 120, 12.7128, 12.095),
]


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("a", "s", "out", "angle"), OUTWARD)
def test_the_front_edge_swings_outward_as_the_table_says(
    a: float, s: float, out: float, angle: float
) -> None:
    edge, wall = box(-a, 0, -s, 60), box(-a - 90, -a - 20, -400, 400)
    found = nearest(seen(edge, (0, 0)), seen(wall, (0, 0)), (0, 0), 100)
    assert found.gap == pytest.approx(20 - out, abs=0.00006)
    assert found.angle_deg == pytest.approx(angle, abs=0.0006)
    assert found.place == pytest.approx((-a - 20, 0))


# Front edge 600 ahead, skirt to 60 below: what stands d ahead of it is met only between these
# heights about the axis; None for never.
AHEAD = [(1.0, 48.98), (2.5, 24.37), (3.5, None)]


@pytest.mark.published(SOURCE)
@pytest.mark.parametrize(("d", "height"), AHEAD)
def test_what_stands_ahead_is_met_between_two_heights(d: float, height: float | None) -> None:
    edge = seen(box(-600, 0, -60, 60), (0, 0))

    def gap(low: float, high: float) -> float:
        post = seen(box(-700, -600 - d, low, high), (0, 0))
        return nearest(edge, post, (0, 0), 100).gap

    if height is None:
        assert gap(-300, 300) == pytest.approx(3.5 - (math.hypot(600, 60) - 600))
        return
    post = seen(box(-700, -600 - d, -300, 300), (0, 0))
    first = nearest(edge, post, (0, 0), 100)
    assert first.place == pytest.approx((-600 - d, -height), abs=0.005)
    for low, high in ((height, 300), (-300, -height)):
        shift = 0.02 if low > 0 else -0.02
        assert gap(low + shift, high + shift) > 0
        assert gap(low - shift, high - shift) <= 0
