"""shank-grip to nut-room, tap-gap, handle-gap: by hand, on both sides of each edge."""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding

Find = Callable[..., list[Finding]]

T, F, HEIGHT = 19.05, 25.4, 139.7
WASHER, NUT, TAIL_NUT, TAIL_CIRCLE = 3.0, 9.0, 14.0, 80.0
ONE = {"count": 1, "spacing": None}
CLAMPED = {"pocket": "none"}
COVER = {"thickness": "12 mm"}


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def judged_as(found: Finding, measured: float, required: float, verdict: str) -> None:
    figures = (found.measured, found.required, found.margin)
    assert figures == pytest.approx((measured, required, measured - required), abs=1e-6)
    assert (found.verdict, found.sense, found.unit) == (verdict, "at least", "mm")
    assert found.weight == "must"


def shank(**figures: float) -> dict[str, dict[str, float]]:
    return {"shanks": figures}


@pytest.mark.parametrize("check", ["shank-grip", "shank-run", "shank-past-foam", "nut-room"])
def test_without_the_shank_nothing_is_known(findings: Find, check: str) -> None:
    for found in findings(check, taps={"shank": None}):
        assert (found.verdict, found.missing) == ("not-checked", ("taps.shank",))
    two = findings(check, taps=[ONE, {**ONE, "side": "back", "shank": None}])
    assert [found.missing for found in two] == [(), ("taps[2].shank",)]


# --- shank-grip -----------------------------------------------------------------------------------

WALLS: list[tuple[dict[str, Any], float]] = [
    # what the nut clamps, and how thick that is
    ({}, T),
    ({"foam": None}, T),
    ({"foam": CLAMPED}, T + F),
    ({"cover": COVER}, T + 12),
    ({"cover": {**COVER, "sides": ("right",)}}, T),
    ({"cover": COVER, "foam": CLAMPED}, T + 12 + F),
    ({"board": {"thickness": "25 mm"}}, 25),
]


@pytest.mark.parametrize(("changes", "wall"), WALLS)
def test_thread_is_left_for_the_tailpiece(
    findings: Find, changes: dict[str, Any], wall: float
) -> None:
    for off, verdict in ((0.01, "pass"), (0.0, "pass"), (-0.01, "fail")):
        thread = wall + WASHER + NUT + 10 + off
        found = findings("shank-grip", figures=shank(thread_length=thread), **changes)
        assert len(found) == 3
        for each in found:
            judged_as(each, 10 + off, 10, verdict)


def test_the_tailpiece_says_how_much_thread_it_wants(findings: Find) -> None:
    figures = shank(tail_engagement=12.5, thread_length=T + WASHER + NUT + 12.0)
    judged_as(findings("shank-grip", figures=figures)[0], 12, 12.5, "fail")


def test_a_measured_thread_counts(findings: Find) -> None:
    found = only(findings("shank-grip", taps={**ONE, "shank": "98 mm", "washers": "0 mm"}))
    judged_as(found, 98 - (T + NUT), 10, "pass")


# --- shank-run ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("changes", "wall"), WALLS)
def test_the_nut_runs_down_to_the_wall(
    findings: Find, changes: dict[str, Any], wall: float
) -> None:
    for off, verdict in ((0.01, "pass"), (0.0, "pass"), (-0.01, "fail")):
        figures = shank(unthreaded=wall + WASHER - off)
        for each in findings("shank-run", figures=figures, **changes):
            judged_as(each, off, 0, verdict)


def test_washers_help_the_nut_to_its_thread(findings: Find) -> None:
    figures = shank(unthreaded=24.0)
    for washers, verdict in (("0 mm", "fail"), ("4.9 mm", "fail"), ("4.95 mm", "pass")):
        found = only(findings("shank-run", figures=figures, taps={**ONE, "washers": washers}))
        assert found.verdict == verdict


# --- shank-past-foam --------------------------------------------------------------------------

INSULATION: list[tuple[dict[str, Any], float]] = [
    ({}, T + F),
    ({"foam": None}, T),
    ({"foam": CLAMPED}, T + F),
    ({"cover": COVER}, T + 12 + F),
    ({"foam": {"thickness": "50 mm"}}, T + 50),
]


@pytest.mark.parametrize(("changes", "insulation"), INSULATION)
def test_the_tail_nut_stands_clear_of_the_insulation(
    findings: Find, changes: dict[str, Any], insulation: float
) -> None:
    for off, verdict in ((0.01, "pass"), (0.0, "pass"), (-0.01, "fail")):
        figures = shank(length=insulation + TAIL_NUT + off)
        for each in findings("shank-past-foam", figures=figures, **changes):
            judged_as(each, off, 0, verdict)


@pytest.mark.parametrize(
    ("pocket", "length", "measured", "verdict"),
    [
        # 44.45 of board and foam and a tail nut of 14: a shank of 50 lacks 8.45
        (60, 50, 50 - 44.45 - 14, "fail"),  # better than (60 - 80)/2 = -10
        (70, 50, (70 - 80) / 2, "fail"),
        (79.98, 50, -0.01, "fail"),
        (80, 50, 0, "pass"),
        (90, 50, 5, "pass"),
        (90, 70, 70 - 44.45 - 14, "pass"),
    ],
)
def test_or_its_wrench_turns_in_the_pocket(
    findings: Find, pocket: float, length: float, measured: float, verdict: str
) -> None:
    figures = shank(length=length)
    for each in findings("shank-past-foam", figures=figures, foam={"pocket": mm(pocket)}):
        judged_as(each, measured, 0, verdict)


# --- nut-room -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pocket", "verdict"), [(50.01, "pass"), (50.0, "pass"), (49.99, "fail"), (34.0, "fail")]
)
def test_the_nuts_wrench_turns_in_the_pocket(findings: Find, pocket: float, verdict: str) -> None:
    for each in findings("nut-room", foam={"pocket": mm(pocket)}):
        judged_as(each, pocket - 50, 0, verdict)


def test_a_default_pocket_is_the_next_cutter(findings: Find) -> None:
    judged_as(findings("nut-room", foam={"pocket": None})[0], 51 - 50, 0, "pass")


@pytest.mark.parametrize("foam", [None, CLAMPED])
def test_in_the_open_the_nut_has_room(findings: Find, foam: dict[str, str] | None) -> None:
    for each in findings("nut-room", foam=foam):
        assert (each.verdict, each.measured, each.required) == ("pass", None, None)


# --- tap-gap --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spacing", "verdict"), [(50.01, "pass"), (50.0, "pass"), (49.99, "fail"), (40.0, "fail")]
)
def test_flanges_clear_each_other_by_2_mm(findings: Find, spacing: float, verdict: str) -> None:
    found = findings("tap-gap", taps={"spacing": mm(spacing), "bore": "23 mm"})
    assert [each.where.tap for each in found] == [1, 2, 3]
    for each in found:
        judged_as(each, spacing - 48, 2, verdict)


@pytest.mark.parametrize(("body", "wide"), [(40.0, 48.0), (56.0, 56.0)])
def test_the_wider_of_flange_and_body_counts(findings: Find, body: float, wide: float) -> None:
    taps = {"spacing": "58 mm", "bore": "23 mm", "faucet": "faucet-forward-sealing"}
    for each in findings("tap-gap", taps=taps, figures={"faucets": {"body_width": body}}):
        judged_as(each, 58 - wide, 2, "pass")


def test_each_tap_brings_half_of_its_own_width(findings: Find) -> None:
    plain = {**ONE, "bore": "23 mm", "offset": "0 mm"}
    wide = {**plain, "offset": "55 mm", "faucet": "faucet-forward-sealing"}
    rows = [{**plain, "offset": "-51 mm"}, plain, wide]
    left, middle, right = findings("tap-gap", taps=rows, figures={"faucets": {"body_width": 60.0}})
    judged_as(left, 51 - 48, 2, "pass")
    judged_as(middle, 55 - (48 + 60) / 2, 2, "fail")
    judged_as(right, 55 - (48 + 60) / 2, 2, "fail")


def test_rows_above_each_other_are_apart_in_the_faces_plane(findings: Find) -> None:
    rows = [{**ONE, "height": "40 mm"}, {**ONE, "height": "80 mm", "offset": "30 mm"}]
    for each in findings("tap-gap", taps=rows):
        judged_as(each, 50 - 48, 2, "pass")


def test_a_neighbour_without_a_shank_leaves_the_gap_unknown(findings: Find) -> None:
    rows = [{**ONE, "offset": "-60 mm"}, {**ONE, "offset": "60 mm", "shank": None}]
    for each in findings("tap-gap", taps=rows):
        assert (each.verdict, each.missing) == ("not-checked", ("taps[2].shank",))
    for each in findings("tap-gap", taps={"shank": None}):
        assert each.missing == ("taps.shank",)


# --- handle-gap -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spacing", "verdict"), [(49.01, "pass"), (49.0, "pass"), (48.99, "fail"), (30.0, "fail")]
)
def test_a_hand_pulls_one_knob_alone(findings: Find, spacing: float, verdict: str) -> None:
    found = findings("handle-gap", taps={"spacing": mm(spacing)})
    assert [each.where.tap for each in found] == [1, 2, 3]
    for each in found:
        judged_as(each, spacing - 29, 20, verdict)


def test_each_handle_brings_half_of_its_own_width(findings: Find) -> None:
    knob = {**ONE, "faucet": "faucet-forward-sealing", "offset": "-60 mm"}
    tall = {**knob, "handle": "handle-tall-display", "offset": "10 mm"}
    for each in findings("handle-gap", taps=[knob, tall]):
        judged_as(each, 70 - (29 + 75) / 2, 20, "fail")


@pytest.mark.parametrize(("higher", "meets"), [(75.99, True), (76.0, False), (90.0, False)])
def test_only_handles_that_share_some_height_count(
    findings: Find, higher: float, meets: bool
) -> None:
    """A knob 76 mm long stands on the lever, the same above each bore: 76 higher, it is clear."""
    low = {**ONE, "faucet": "faucet-forward-sealing", "height": "20 mm"}
    high = {**low, "height": mm(20 + higher), "offset": "35 mm"}
    for each in findings("handle-gap", taps=[low, high]):
        if meets:
            judged_as(each, 35 - 29, 20, "fail")
        else:
            assert (each.verdict, each.measured) == ("pass", None)


def test_along_the_board_is_what_counts_even_where_one_stands_higher(findings: Find) -> None:
    low = {**ONE, "faucet": "faucet-forward-sealing", "height": "20 mm"}
    high = {**low, "height": "60 mm", "offset": "49 mm"}
    for each in findings("handle-gap", taps=[low, high]):
        judged_as(each, 49 - 29, 20, "pass")


@pytest.mark.parametrize(("height", "meets"), [(91.99, True), (92.0, False)])
def test_the_faucet_decides_how_high_a_handle_stands(
    findings: Find, height: float, meets: bool
) -> None:
    """One knob from 20 + 58 to 154 mm; the other begins 62 mm above its bore."""
    low = {**ONE, "faucet": "faucet-forward-sealing", "height": "20 mm"}
    high = {**low, "faucet": "faucet-rear-sealing", "height": mm(height), "offset": "35 mm"}
    for each in findings("handle-gap", taps=[low, high]):
        assert each.measured == (pytest.approx(35 - 29) if meets else None)


def test_tall_handles_reach_from_one_row_into_the_next(findings: Find) -> None:
    low = {**ONE, "faucet": "faucet-forward-sealing", "handle": "handle-tall-display"}
    rows = [{**low, "height": "20 mm"}, {**low, "height": "110 mm", "offset": "35 mm"}]
    for each in findings("handle-gap", taps=rows):
        judged_as(each, 35 - 75, 20, "fail")


@pytest.mark.parametrize(
    ("rows", "missing"),
    [
        ([{"count": 2, "handle": None}], [("taps.handle",)] * 2),
        (
            [{**ONE}, {**ONE, "offset": "90 mm", "handle": None}],
            [
                ("taps[1].faucet", "taps[2].faucet", "taps[2].handle"),
                ("taps[2].handle", "taps[2].faucet", "taps[1].faucet"),
            ],
        ),
        (
            [{**ONE, "faucet": "faucet-forward-sealing"}, {**ONE, "offset": "90 mm"}],
            [("taps[2].faucet",)] * 2,
        ),
    ],
)
def test_what_the_handles_lack_is_named(
    findings: Find, rows: list[dict[str, Any]], missing: list[tuple[str, ...]]
) -> None:
    found = findings("handle-gap", taps=rows)
    assert [set(each.missing) for each in found] == [set(keys) for keys in missing]
    for each in found:
        assert len(each.missing) == len(set(each.missing))
        assert each.verdict == "not-checked"
