"""Keep-outs in tap-gap, handle-gap and wrench-swing: by hand, on both sides of each edge.

Design A with one tap in the middle of the front board, 60 mm up: flange 48 x 6 mm, ring 38.5 x 17,
body 40 wide, lever 16 wide up to 118, knob 29 wide from there to about 194.
"""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding

Find = Callable[..., list[Finding]]

TAP = {
    "count": 1,
    "spacing": None,
    "height": "60 mm",
    "faucet": "faucet-forward-sealing",
    "handle": "handle-short-knob",
    "wrench": "wrench-hook-pin",
}
LOCK = {"side": "front", "height": "60 mm", "tall": "20 mm", "width": "30 mm", "name": "lid lock"}


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def one(findings: Find, check: str, lock: dict[str, Any], **given: Any) -> Finding:
    (found,) = findings(check, **{"taps": TAP, "keep_out": {**LOCK, **lock}, **given})
    return found


# --- tap-gap --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("gap", "verdict"), [(2.0, "pass"), (2.01, "pass"), (1.99, "fail")])
def test_2_mm_to_a_keep_out_beside_the_flange(findings: Find, gap: float, verdict: str) -> None:
    found = one(findings, "tap-gap", {"offset": mm(24 + 15 + gap)})
    assert found.measured == pytest.approx(gap, abs=1e-6)
    assert (found.required, found.verdict, found.where.tap) == (2, verdict, 1)
    assert found.why == "from flange to lid lock"


def test_a_keep_out_over_the_flange_is_as_far_inside_as_it_is(findings: Find) -> None:
    found = one(findings, "tap-gap", {"offset": "0 mm"})
    assert found.measured == pytest.approx(-10 - 24)
    assert found.verdict == "fail"


def test_a_flat_plate_above_the_flange_does_not_meet_the_lever(findings: Find) -> None:
    """A plate from 100 to 120 mm up: 16 above the flange, right where the lever's top is."""
    plate = {"height": "110 mm", "offset": "0 mm"}
    found = one(findings, "tap-gap", plate)
    assert found.measured == pytest.approx(-18)  # the lever ends 18 mm inside it, its nearest way
    assert found.why == "from lever to lid lock"
    flat = one(findings, "tap-gap", {**plate, "depth": "20 mm"})
    assert flat.measured == pytest.approx(100 - 84)
    assert flat.why == "from flange to lid lock"


def test_the_nearer_of_tap_and_keep_out_counts(findings: Find) -> None:
    two = {**TAP, "count": 2, "spacing": "76.2 mm"}
    left, right = findings("tap-gap", taps=two, keep_out={**LOCK, "offset": mm(38.1 + 24 + 15 + 9)})
    assert left.measured == pytest.approx(76.2 - 48)
    assert left.why == "from body or flange to tap 2"
    assert right.measured == pytest.approx(9)
    assert right.why == "from flange to lid lock"


def test_keep_outs_elsewhere_and_behind_the_flange_are_nothing(findings: Find) -> None:
    elsewhere = one(findings, "tap-gap", {"side": "left"})
    assert (elsewhere.verdict, elsewhere.measured) == ("pass", None)
    cover = {"thickness": "20 mm", "sides": ("front",)}
    behind = one(findings, "tap-gap", {"depth": "20 mm"}, cover=cover)
    assert (behind.verdict, behind.measured) == ("pass", None)
    assert "end behind the flange" in behind.why
    assert one(findings, "tap-gap", {"depth": "20.1 mm"}, cover=cover).verdict == "fail"


def test_tap_gap_beside_a_keep_out_needs_the_shank(findings: Find) -> None:
    found = one(findings, "tap-gap", {}, taps={**TAP, "shank": None})
    assert (found.verdict, found.missing) == ("not-checked", ("taps.shank",))
    # without a faucet the flange alone is held against it
    bare = one(findings, "tap-gap", {"offset": "60 mm"}, taps={**TAP, "faucet": None})
    assert bare.measured == pytest.approx(60 - 15 - 24)


# --- handle-gap -----------------------------------------------------------------------------------

UP = {"height": "150 mm"}  # beside the knob


@pytest.mark.parametrize(("gap", "verdict"), [(20.0, "pass"), (20.01, "pass"), (19.99, "fail")])
def test_a_hand_has_room_beside_a_keep_out(findings: Find, gap: float, verdict: str) -> None:
    for sign in (1, -1):
        found = one(findings, "handle-gap", {**UP, "offset": mm(sign * (14.5 + 15 + gap))})
        assert found.measured == pytest.approx(gap, abs=1e-6)
        assert (found.required, found.verdict) == (20, verdict)
        assert found.why == "room for a hand to lid lock"


@pytest.mark.parametrize(
    ("lock", "near"),
    [
        ({"height": "150 mm"}, True),
        ({"height": "60 mm"}, False),  # up to 70, the knob starts at about 116
        ({"height": "105 mm"}, False),
        ({"height": "107 mm"}, True),
        ({"height": "300 mm"}, False),
        # leaning back by 8 deg its top is 26 mm out: 51 - 14.5 cos 8 - 76 sin 8
        ({"height": "150 mm", "depth": "26 mm"}, False),
        ({"height": "150 mm", "depth": "26.1 mm"}, True),
    ],
)
def test_only_what_stands_at_the_handles_height_and_as_far_out_counts(
    findings: Find, lock: dict[str, str], near: bool
) -> None:
    lean = math.radians(8)
    assert 51 - 14.5 * math.cos(lean) - 76 * math.sin(lean) == pytest.approx(26.06, abs=0.01)
    found = one(findings, "handle-gap", {"offset": "40 mm", **lock})
    assert (found.measured is not None) == near
    assert found.verdict == ("fail" if near else "pass")


def test_a_keep_out_on_the_handle_is_inside_it(findings: Find) -> None:
    assert one(findings, "handle-gap", UP).measured == pytest.approx(-15 - 14.5)


def test_beside_a_keep_out_the_handles_height_must_be_known(findings: Find) -> None:
    taps = {**TAP, "faucet": None, "handle": None}
    found = one(findings, "handle-gap", UP, taps=taps)
    assert set(found.missing) == {"taps.faucet", "taps.handle"}
    assert one(findings, "handle-gap", {"side": "left"}, taps=taps).verdict == "pass"


# --- wrench-swing ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "free"),
    [(None, 0.0), ("30 mm", 0.0), ("6.1 mm", 0.0), ("6 mm", 360.0), ("3 mm", 360.0)],
)
def test_only_what_stands_past_the_flange_is_in_the_arms_slab(
    findings: Find, depth: str | None, free: float
) -> None:
    assert one(findings, "wrench-swing", {"depth": depth}).measured == pytest.approx(free)


def test_the_slab_goes_out_with_the_cover(findings: Find) -> None:
    cover = {"thickness": "15 mm", "sides": ("front",)}
    assert one(findings, "wrench-swing", {"depth": "21 mm"}, cover=cover).measured == 360
    assert one(findings, "wrench-swing", {"depth": "21.1 mm"}, cover=cover).measured == 0


def test_the_free_arcs_limits_are_told(findings: Find) -> None:
    """A bar 50 mm above the axis, wider than the arm: free from its left end round to its right."""
    bar = {"height": mm(60 + 50 + 10), "width": "600 mm"}
    found = one(findings, "wrench-swing", bar)
    psi = math.degrees(math.asin((50 - 8) / 190))
    assert found.measured == pytest.approx(180 + 2 * psi)
    limits = f"from {180 - psi:.0f} to {psi:.0f} deg, counterclockwise from the board's right"
    assert limits in found.why
    assert "the same to fit the last faucet and to take this one off to clean" in found.why
    below = one(findings, "wrench-swing", {**bar, "height": mm(60 - 50 - 10)})
    assert f"from {360 - psi:.0f} to {180 + psi:.0f} deg" in below.why
    alone = one(findings, "wrench-swing", {"side": "left"})
    assert "free all round" in alone.why
    shut = one(findings, "wrench-swing", {})
    assert "largest free arc, none" in shut.why


def test_between_two_neighbours_the_upper_of_two_equal_arcs_is_told(findings: Find) -> None:
    three = {**TAP, "count": 3, "spacing": "76.2 mm"}
    found = findings("wrench-swing", taps=three)[1]
    half = math.degrees(math.asin((20 + 8) / 76.2))
    assert f"from {half:.0f} to {180 - half:.0f} deg" in found.why
