"""foam-crush and pour-room: figures by hand, both sides of each edge."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding

Find = Callable[..., list[Finding]]

HEIGHT, BORE, WASHER = 139.7, 25.4, 50.0


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def figures(found: Finding) -> tuple[float | None, float | None, float | None]:
    return found.measured, found.required, found.margin


# --- foam-crush -----------------------------------------------------------------------------------

CLAMPED = {"kind": "xps-type-iv", "pocket": "none"}


def ring(outer: float, bore: float = BORE) -> float:
    return math.pi * (outer**2 - bore**2) / 4


def test_foam_under_the_washer_bears_its_strength_times_the_ring(findings: Find) -> None:
    """173 kPa on a washer of 50 mm over a bore of 25.4: 252 N, half of the nut's 500."""
    found = findings("foam-crush", foam=CLAMPED)
    assert [(each.where.side, each.where.tap) for each in found] == [
        ("front", n) for n in (1, 2, 3)
    ]
    holds = 0.173 * ring(WASHER) / 500
    for each in found:
        assert figures(each) == pytest.approx((holds, 1, holds - 1))
        assert (each.verdict, each.weight, each.sense, each.unit) == (
            "fail",
            "must",
            "at least",
            "times",
        )
    assert holds == pytest.approx(0.504, abs=0.001)


@pytest.mark.parametrize(("off", "verdict"), [(0.001, "pass"), (-0.01, "fail")])
def test_both_sides_of_the_limit(findings: Find, off: float, verdict: str) -> None:
    enough = math.sqrt(500 / 0.173 * 4 / math.pi + BORE**2)
    taps = {"washer_diameter": mm(enough + off)}
    assert {each.verdict for each in findings("foam-crush", foam=CLAMPED, taps=taps)} == {verdict}


def test_without_a_washer_the_nut_itself_presses(findings: Find) -> None:
    taps = {"washer_diameter": None}
    found = findings("foam-crush", foam=CLAMPED, taps=taps)
    assert found[0].measured == pytest.approx(0.173 * ring(32) / 500)
    small = {"washer_diameter": "30 mm"}
    found = findings("foam-crush", foam=CLAMPED, taps=small)
    assert found[0].measured == pytest.approx(0.173 * ring(32) / 500)
    wide = {"washer_diameter": None, "bore": "33 mm"}
    found = findings("foam-crush", foam=CLAMPED, taps=wide)
    assert (found[0].measured, found[0].verdict) == (0, "fail")


def test_only_foam_that_is_clamped_is_asked_for(findings: Find) -> None:
    for foam in (None, {}, {"pocket": None}):
        found = findings("foam-crush", foam=foam)
        assert {(each.verdict, each.measured) for each in found} == {("pass", None)}


def test_the_foams_kind_and_the_washer_are_asked_for(findings: Find) -> None:
    found = findings("foam-crush", foam={"pocket": "none"})
    assert {each.missing for each in found} == {("foam.kind",)}
    taps = {"shank": None, "washer_diameter": None}
    found = findings("foam-crush", foam=CLAMPED, taps=taps)
    assert {each.missing for each in found} == {("taps.washer_diameter",)}
    found = findings("foam-crush", foam={"kind": "closed-cell-spray", "pocket": "none"})
    assert {each.missing for each in found} == {("foam.kind",)}
    assert "no strength" in found[0].why


# --- pour-room ------------------------------------------------------------------------------------

# the spout ends 64 mm below the axis and 78 ahead of the flange's face, which is 6 thick
TAP = {"faucet": "faucet-forward-sealing", "glass": "150 mm"}
SPOUT = HEIGHT / 2 - 64
TRAY = {"side": "front", "width": "300 mm", "tall": "30 mm"}


def pour(findings: Find, *keep_outs: dict[str, Any], **more: Any) -> list[Finding]:
    design: dict[str, Any] = {"taps": TAP, "keep_out": list(keep_outs), **more}
    return findings("pour-room", **design)


@pytest.mark.parametrize(
    ("top", "verdict"),
    [(SPOUT - 150, "pass"), (SPOUT - 149.9, "fail"), (SPOUT - 300, "pass"), (SPOUT + 5, "fail")],
)
def test_from_the_spout_to_the_tray(findings: Find, top: float, verdict: str) -> None:
    found = pour(findings, {**TRAY, "height": mm(top - 15), "name": "the tray"})
    assert [each.where.tap for each in found] == [1, 2, 3]
    for each in found:
        assert figures(each) == pytest.approx((SPOUT - top, 150, SPOUT - top - 150), abs=1e-6)
        assert (each.verdict, each.weight, each.unit) == (verdict, "advice", "mm")
        assert "the tray" in each.why


def test_without_a_tray_the_glass_stands_over_the_floor(findings: Find) -> None:
    room = {"lip_height": "850 mm"}
    assert pour(findings, room=room)[0].measured == pytest.approx(850 + SPOUT)
    seat = {"seal": "foam-tape-closed-cell"}
    raised = pour(findings, room=room, seat=seat)[0]
    assert raised.measured == pytest.approx(850 + 6.4 * 0.7 + SPOUT)
    assert "the floor" in raised.why
    # the higher of both counts
    tray = {**TRAY, "height": "-215 mm"}
    assert pour(findings, tray, room=room)[0].measured == pytest.approx(SPOUT + 200)


@pytest.mark.parametrize(
    ("change", "counts"),
    [
        ({}, True),
        ({"side": "left"}, False),
        ({"height": mm(SPOUT + 15)}, False),  # all of it above the spout
        ({"height": mm(SPOUT + 14)}, True),
        # 20 mm of the faucet's half and 150 of the tray's
        ({"offset": "169 mm"}, True),
        ({"offset": "171 mm"}, False),
        # the spout's axis is 84 mm ahead of the board, less half of the faucet's 40
        ({"depth": "65 mm"}, True),
        ({"depth": "63 mm"}, False),
    ],
)
def test_only_what_reaches_under_the_spout_counts(
    findings: Find, change: dict[str, str], counts: bool
) -> None:
    taps = {**TAP, "count": 1}
    keep_out = {**TRAY, "height": "-100 mm", **change}
    found = pour(findings, keep_out, taps=taps)[0]
    assert (found.verdict != "not-checked") is counts


def test_a_cover_moves_the_spout_out(findings: Find) -> None:
    cover = {"thickness": "19 mm"}
    near = {**TRAY, "height": "-100 mm", "depth": "65 mm"}
    assert pour(findings, near, cover=cover)[0].verdict == "not-checked"
    far = {**near, "depth": "84 mm"}
    assert pour(findings, far, cover=cover)[0].measured == pytest.approx(SPOUT + 85)


def test_a_tap_below_is_in_the_way_with_its_handle(findings: Find) -> None:
    """In 2x8: the lower row at 50 mm, its levers up to 108, its short knobs to 184."""
    rows = [
        {**TAP, "count": 1, "height": "150 mm"},
        {**TAP, "count": 1, "height": "50 mm", "offset": "39 mm"},
    ]
    board = {"stock": "dimension-2x8"}
    lower, upper = pour(findings, taps=rows, board=board)
    assert lower.verdict == "not-checked"
    assert upper.measured == pytest.approx(150 - 64 - (50 + 58 + 76))
    assert upper.why == "from the spout down to tap 1"
    bare = pour(findings, taps=[rows[0], {**rows[1], "handle": None}], board=board)[1]
    assert bare.measured == pytest.approx(150 - 64 - (50 + 58))
    aside = pour(findings, taps=[rows[0], {**rows[1], "offset": "41 mm"}], board=board)[1]
    assert aside.verdict == "not-checked"


def test_glass_faucet_and_what_is_below_are_asked_for(findings: Find) -> None:
    missing = {
        ("taps.glass", "taps.faucet"): {},
        ("taps.glass",): {"faucet": TAP["faucet"]},
        ("taps.faucet",): {"glass": "150 mm"},
    }
    for keys, taps in missing.items():
        assert {each.missing for each in pour(findings, taps=taps)} == {keys}
    assert {each.missing for each in pour(findings)} == {("room.lip_height",)}
