"""lid-back and lid-front: figures by hand, both sides of each limit, and smooth between.

Design A: the collar's back face is 533.4 mm behind the lip's front edge, its top edge and so the
sealing plane 139.7 mm up; boards 19.05 mm, foam 25.4 mm. Angles below are counted from closed.
"""

import math
import random
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.checks import lid_edges
from collarwright.geometry.judge.evaluate import Evaluation
from collarwright.geometry.judge.finding import Finding
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]

W, D, T, HEIGHT = 37 * 25.4, 21 * 25.4, 19.05, 139.7
LID = {
    "overhang": {"front": "10 mm", "right": "10 mm", "back": "10 mm", "left": "10 mm"},
    "thickness": "60 mm",
    "skirt": "0 mm",
    "plug": "0 mm",
}
HINGE = {"axis_behind": "20 mm", "axis_above": "0 mm", "open_to": "90 deg"}
TAP = {
    "count": 1,
    "spacing": None,
    "height": "60 mm",
    "faucet": "faucet-forward-sealing",
    "handle": "handle-short-knob",
}


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def over(**sides: str) -> dict[str, Any]:
    return {"overhang": {**LID["overhang"], **sides}}  # type: ignore[dict-item]


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def back(findings: Find, lid: dict[str, Any], hinge: dict[str, Any], **more: Any) -> Finding:
    return only(findings("lid-back", lid={**LID, **lid}, hinge={**HINGE, **hinge}, **more))


def front(findings: Find, lid: dict[str, Any], hinge: dict[str, Any], **more: Any) -> Finding:
    given = {"taps": TAP, **more}
    return only(findings("lid-front", lid={**LID, **lid}, hinge={**HINGE, **hinge}, **given))


def judged(found: Finding, measured: float, required: float) -> None:
    figures = (found.measured, found.required, found.margin)
    assert figures == pytest.approx((measured, required, measured - required), abs=1e-6)
    assert (found.sense, found.unit, found.weight) == ("at least", "mm", "must")
    assert found.verdict == ("pass" if measured >= required - 1e-6 else "fail")


# --- lid-back -------------------------------------------------------------------------------------


def test_nothing_behind_the_axis_and_nothing_hanging_passes_with_nothing(findings: Find) -> None:
    """The lid ends 10 mm behind the collar, the axis is 20 mm behind it."""
    found = back(findings, {}, {})
    assert (found.verdict, found.measured, found.where.side) == ("pass", None, "back")
    assert "nothing of the lid hangs" in found.why


@pytest.mark.parametrize(("behind", "required"), [(6.0, 2.0), (2.0, 2.0), (1.5, 1.5), (0.5, 0.5)])
def test_a_slab_behind_an_axis_level_with_the_top_keeps_the_axis_distance(
    findings: Find, behind: float, required: float
) -> None:
    """Every point behind the axis stays behind it: the axis itself is nearest to the edge."""
    found = back(findings, over(back="30 mm"), {"axis_behind": mm(behind)})
    judged(found, behind, required)
    assert found.verdict == "pass"


def test_an_axis_above_the_sealing_plane_turns_the_slab_into_the_edge(findings: Find) -> None:
    """Axis 3 mm behind and 6 above: the underside comes back at the edge at 2 atan(3/6)."""
    hinge = {"axis_behind": "3 mm", "axis_above": "6 mm"}
    found = back(findings, over(back="60 mm"), hinge)
    # at 90 deg the underside stands 6 mm ahead of the axis: 3 in the wood
    judged(found, -3, 2)
    first = math.degrees(2 * math.atan(3 / 6))
    assert f"first meets the back board at {first:.1f} deg" in found.why
    # until then nothing is nearer than the circle of the point under the axis is to the edge
    early = back(findings, over(back="60 mm"), {**hinge, "open_to": "50 deg"})
    assert early.measured is not None
    assert 0 < early.measured < math.hypot(3, 6) - 6 + 1e-9


def test_an_axis_ahead_of_the_face_turns_the_slab_into_the_wood(findings: Find) -> None:
    """5 mm ahead: at 90 deg what was behind the axis hangs 5 mm deep in the board; 0 is wanted."""
    found = back(findings, over(back="30 mm"), {"axis_behind": "-5 mm"})
    judged(found, -5, 0)
    assert "first meets the back board at 0.0 deg" in found.why
    assert "deepest at 90.0 deg" in found.why
    # a slab that ends 3 mm behind the axis goes in by 3
    judged(back(findings, over(back="-2 mm"), {"axis_behind": "-5 mm"}), -3, 0)


SKIRT = {"skirt": {"front": "0 mm", "right": "0 mm", "back": "40 mm", "left": "0 mm"}}
THICK = {"skirt_thickness": "3 mm"}


def test_a_back_skirt_under_an_axis_level_with_the_top_meets_the_board(findings: Find) -> None:
    """Its inside 25 mm behind the axis, 40 deep, the face 10 ahead: at 44.245 deg by the table."""
    lid = {**over(back=mm(10 + 25 + 3)), **SKIRT, **THICK}
    found = back(findings, lid, {"axis_behind": "10 mm"})
    assert found.verdict == "fail"
    assert found.measured is not None
    assert found.measured < -2
    assert "the back skirt first meets the back board at 44.2 deg" in found.why
    # where the inner corner is then: 40 cos + 25 sin below the axis
    low = HEIGHT - 40 * math.cos(math.radians(44.245)) - 25 * math.sin(math.radians(44.245))
    assert f"{low:.1f} mm" in found.why


def test_with_the_axis_below_it_the_skirt_swings_clear(findings: Find) -> None:
    """Axis 40 mm below the sealing plane, level with the skirt's rim: the rim only rises."""
    lid = {**over(back="12 mm"), **SKIRT, **THICK}
    hinge = {"axis_behind": "20 mm", "axis_above": "-40 mm"}
    # 12 - 3 = 9 mm from the skirt's inside to the face, and less nowhere on the way: the skirt is
    # ahead of the axis and above it
    judged(back(findings, lid, hinge), 9, 2)


@pytest.mark.parametrize(("gap", "verdict"), [(2.0, "pass"), (2.01, "pass"), (1.99, "fail")])
def test_2_mm_are_wanted(findings: Find, gap: float, verdict: str) -> None:
    lid = {**over(back=mm(3 + gap)), **SKIRT, **THICK}
    found = back(findings, lid, {"axis_behind": "20 mm", "axis_above": "-40 mm"})
    assert found.verdict == verdict
    assert found.measured == pytest.approx(gap, abs=1e-6)


def test_a_limit_of_the_builders_own_goes_before(findings: Find) -> None:
    lid = {**over(back="6 mm"), **SKIRT, **THICK}
    hinge = {"axis_behind": "20 mm", "axis_above": "-40 mm"}
    judged(back(findings, lid, hinge, limits=Limits(required={"lid-back": 4.0})), 3, 4)


@pytest.mark.parametrize(
    ("more", "nearer", "what"),
    [
        ({}, 0.0, "back board"),
        ({"hinge": {"leaf_height": "60 mm", "leaf_thickness": "2.5 mm"}}, 2.5, "hinge leaf"),
        ({"hinge": {"leaf_height": "60 mm"}}, 0.0, "back board"),  # no leaf without both
        ({"hinge": {"leaf_thickness": "2.5 mm"}}, 0.0, "back board"),
        ({"cover": {"thickness": "5 mm"}}, 5.0, "cover"),
        ({"cover": {"thickness": "5 mm", "sides": ("front",)}}, 0.0, "back board"),
        # a cover from 60 mm below the lip to 50 above it, the skirt's rim at 99.7
        (
            {"cover": {"thickness": "5 mm", "width": "110 mm", "below_lip": "60 mm"}},
            0.0,
            "back board",
        ),
        (
            {"cover": {"thickness": "5 mm", "width": "180 mm", "below_lip": "60 mm"}},
            5.0,
            "cover",
        ),
        # a flange of 6 mm and half a millimeter of ring on it
        ({"taps": {**TAP, "side": "back", "height": "90 mm"}}, 6.5, "ring of tap 1"),
    ],
)
def test_what_is_on_the_back_counts(
    findings: Find, more: dict[str, Any], nearer: float, what: str
) -> None:
    lid = {**over(back="13 mm"), **SKIRT, **THICK}
    hinge = {"axis_behind": "30 mm", "axis_above": "-40 mm", **more.pop("hinge", {})}
    if "taps" in more:  # the skirt passes outside the ring but for the handle: taken off here
        more["figures"] = {
            "shanks": {"ring_length": 0.5, "collar_projection": 0.5},
            "faucets": {"body_width": 1.0, "lever_top": 1.0, "body_forward": 1.0},
            "handles": {"length": 1.0, "width": 1.0, "depth": 1.0},
        }
    found = back(findings, lid, hinge, **more)
    assert found.measured == pytest.approx(10 - nearer, abs=1e-6)
    assert what in found.why


def test_a_tap_on_the_back_is_swung_at(findings: Find) -> None:
    """Its faucet's body, 116 mm out, stands right under the skirt."""
    lid = {**over(back="60 mm"), **SKIRT, **THICK}
    taps = {**TAP, "side": "back", "height": "70 mm"}
    found = back(findings, lid, {"axis_above": "-40 mm"}, taps=taps)
    assert found.verdict == "fail"
    assert "of tap 1" in found.why


def test_the_boards_overhang_takes_axis_and_face_along(findings: Find) -> None:
    lid = {**over(back="12 mm"), **SKIRT, **THICK}
    hinge = {"axis_behind": "20 mm", "axis_above": "-40 mm"}
    judged(back(findings, lid, hinge, board={"overhang": {"back": "4 mm"}}), 5, 2)


# --- the plug -------------------------------------------------------------------------------------

PLUG = {"plug": "30 mm", "plug_inset": "70 mm"}


def test_the_plug_closed_is_nearest_to_the_foam(findings: Find) -> None:
    """Its edge is 60 mm ahead of the lip's back edge, the foam 44.45: 15.55 mm between them.

    With the axis level with the sealing plane every point of the plug below it moves ahead first.
    """
    found = back(findings, {**over(back="10 mm"), **PLUG}, {})
    judged(found, 60 - T - 25.4, 2)
    assert "the plug comes nearest to the foam on the back board at 0.0 deg" in found.why


def test_an_axis_below_the_plugs_top_swings_it_back_a_little(findings: Find) -> None:
    """Axis 25 mm down and 20 behind, the plug's edge 80 ahead of it, from 5 below to 25 above.

    The foam's top inner corner is 64.45 ahead and 25 above; it is nearest to the plug's edge when
    it stands, as the lid sees it, level with the axis.
    """
    found = back(findings, {**over(back="10 mm"), **PLUG}, {"axis_above": "-25 mm"})
    ahead = 20 + T + 25.4
    assert found.measured == pytest.approx(80 - math.hypot(ahead, 25), abs=1e-6)
    assert f"at {math.degrees(math.atan2(25, ahead)):.1f} deg" in found.why
    assert 80 - math.hypot(ahead, 25) < 15.55


def test_foam_that_ends_below_the_plug_leaves_the_board(findings: Find) -> None:
    """40 mm below the top edge: the plug passes over it, 10 above, and clears the wood by 40.95."""
    lid = {**over(back="10 mm"), **PLUG}
    found = back(findings, lid, {}, foam={"below_top": "40 mm"})
    assert found.measured == pytest.approx(math.hypot(60 - T - 25.4, 10), abs=1e-6)
    low = back(findings, lid, {}, foam=None)
    assert low.measured == pytest.approx(60 - T, abs=1e-6)
    assert "back board" in low.why


def test_a_plug_that_is_too_wide_lies_in_the_foam(findings: Find) -> None:
    found = back(findings, {**over(back="10 mm"), "plug": "30 mm", "plug_inset": "50 mm"}, {})
    judged(found, 40 - T - 25.4, 2)
    assert "first meets the foam on the back board at 0.0 deg" in found.why


def test_the_manifold_and_the_nuts_on_the_back_are_in_the_plugs_way(findings: Find) -> None:
    lid = {**over(back="10 mm"), **PLUG}
    manifold = {"length": "200 mm", "height": "60 mm", "depth": "38 mm", "side": "back",
                "centre": "90 mm"}  # fmt: skip
    # the manifold's top at 120 mm is 10.3 above the plug's bottom at 109.7, 38 off the board
    found = back(findings, lid, {}, manifold=manifold)
    assert found.measured == pytest.approx(60 - T - 38, abs=1e-6)
    assert "manifold" in found.why
    taps = {**TAP, "side": "back", "height": "110 mm", "handle": "handle-short-knob"}
    nut = back(findings, lid, {}, taps=taps)
    assert "shank of tap 1" in nut.why
    assert nut.measured is not None
    assert nut.measured < 0


@pytest.mark.parametrize(
    ("lid", "hinge", "more", "missing"),
    [
        ({}, {"axis_behind": None}, {}, ("hinge.axis_behind",)),
        ({}, {"axis_above": None}, {}, ("hinge.axis_above",)),
        ({}, {"open_to": None}, {}, ("hinge.open_to",)),
        ({"thickness": None}, {}, {}, ("lid.thickness",)),
        ({"plug": None}, {}, {}, ("lid.plug",)),
        ({"skirt": None}, {}, {}, ("lid.skirt",)),
        ({"overhang": {"front": "1 mm"}}, {}, {}, ("lid.overhang.back",)),
        (SKIRT, {}, {}, ("lid.skirt_thickness",)),
        ({"plug": "9 mm"}, {}, {}, ("lid.plug_inset",)),
        (
            {},
            {},
            {"taps": {**TAP, "side": "back", "faucet": None, "handle": None}},
            ("taps.faucet", "taps.handle"),
        ),
    ],
)
def test_what_lid_back_lacks_is_named(
    findings: Find,
    lid: dict[str, Any],
    hinge: dict[str, Any],
    more: dict[str, Any],
    missing: tuple[str, ...],
) -> None:
    found = back(findings, lid, hinge, **more)
    assert (found.verdict, found.missing) == ("not-checked", missing)


# --- lid-front ------------------------------------------------------------------------------------

# Axis 20 mm behind the collar and level with its top: the lid's front edge is 563.4 mm ahead.
AHEAD = D + 10 + 20
SMALL = {  # nothing of the tap but its flange reaches the lid
    "shanks": {"ring_length": 0.5, "collar_projection": 0.5},
    "faucets": {"body_width": 1.0, "body_forward": 1.0, "lever_top": 1.0},
    "handles": {"length": 1.0, "width": 1.0, "depth": 1.0},
}


@pytest.mark.parametrize(
    ("height", "verdict"), [(110.0, "pass"), (112.7, "pass"), (112.69, "pass"), (112.71, "fail")]
)
def test_the_lid_without_a_skirt_stays_above_the_flange(
    findings: Find, height: float, verdict: str
) -> None:
    """Overhanging by 10 mm it lies over a flange 6 mm out; 3 mm are wanted under it."""
    tap = {**TAP, "height": mm(height)}
    found = front(findings, {}, {}, taps=tap, figures=SMALL)
    judged(found, HEIGHT - height - 24, 3)
    assert found.verdict == verdict
    assert (found.where.side, found.where.tap) == ("front", 1)
    assert "comes nearest to the flange at 0.0 deg" in found.why


def test_a_front_skirt_first_swings_outward(findings: Find) -> None:
    """60 mm deep, it swings out by hypot(a, 60) - a: 3.186 mm of the 14 to the body's end."""
    lid = {**LID["overhang"], "front": "10 mm"}  # type: ignore[dict-item]
    given = {"overhang": lid, "skirt": "60 mm", "skirt_thickness": "3 mm"}
    # a lever right before the skirt, upright: 6 + 45 - 8 = 43 mm ahead of the face, 33 of the lid
    figures = {"faucets": {"lever_top": 100.0, "body_width": 20.0, "body_forward": 30.0},
               "handles": {"length": 1.0, "width": 1.0, "depth": 1.0, "closed_angle": 0.0},
               "shanks": {"flange_diameter": 20.0, "ring_diameter": 20.0}}  # fmt: skip
    found = front(findings, given, {}, taps={**TAP, "height": "30 mm"}, figures=figures)
    out = math.hypot(AHEAD, 60) - AHEAD
    lever = 6 + 45 - 0.4 * 20 / 2 - 10
    # the corner is level with the axis at the peak, 139.7 up; the lever reaches 130 up, so it is
    # passed a little before
    below = HEIGHT - 130
    before = math.sqrt(AHEAD**2 + 60**2 - below**2) - AHEAD
    assert 0 < before < out
    passed = found.measured
    assert passed is not None
    assert lever - out < passed < lever - before + 0.02
    assert "lever" in found.why


def test_a_handle_leans_toward_the_lid(findings: Find) -> None:
    """Nearest where the slab's top edge passes it: the handle's back line, 8 deg from upright."""
    found = front(findings, {}, {}, taps={**TAP, "height": "70 mm"})
    lean = math.radians(8)
    foot_y, foot_z = -51 + 14.5 * math.cos(lean), 128 - 14.5 * math.sin(lean)
    # distance of the axis from the handle's back line less the radius of the top corner, where
    # that corner's nearest point of the line is on the handle; else its top edge
    best = math.inf
    for k in range(200_001):
        th = math.radians(90 * k / 200_000)
        y = 20 + D - AHEAD * math.cos(th) + 60 * math.sin(th)
        z = HEIGHT + AHEAD * math.sin(th) + 60 * math.cos(th)
        along = (y - foot_y) * math.sin(lean) + (z - foot_z) * math.cos(lean)
        along = min(max(along, 0.0), 76.0)
        gap = math.hypot(y - foot_y - along * math.sin(lean), z - foot_z - along * math.cos(lean))
        best = min(best, gap)
        if gap > best + 50:
            break
    assert found.measured == pytest.approx(best, abs=1e-3)
    assert "handle" in found.why
    upright = front(
        findings, {}, {}, taps={**TAP, "height": "70 mm"},
        figures={"handles": {"closed_angle": 0.0}},
    )  # fmt: skip
    assert upright.measured == pytest.approx(51 - 14.5 - 10, abs=1e-6)


def test_a_lid_that_overhangs_the_handle_meets_it(findings: Find) -> None:
    found = front(findings, over(front="45 mm"), {}, taps={**TAP, "height": "90 mm"})
    assert found.verdict == "fail"
    assert found.measured is not None
    assert found.measured < 0
    assert "first meets the" in found.why
    assert "at 0.0 deg" in found.why


def test_each_tap_has_a_finding_of_its_own(findings: Find) -> None:
    rows = [
        {**TAP, "count": 2, "spacing": "100 mm", "height": "100 mm"},
        {**TAP, "side": "right", "height": "60 mm"},
        {**TAP, "side": "back"},
        {**TAP, "side": "left", "height": "60 mm", "handle": None},
    ]
    found = findings("lid-front", lid=LID, hinge=HINGE, taps=rows)
    assert [(each.where.side, each.where.tap) for each in found] == [
        ("front", 1), ("front", 2), ("right", 3), ("back", 4), ("left", 5),
    ]  # fmt: skip
    assert found[0].measured == found[1].measured
    assert (found[3].verdict, found[3].measured) == ("pass", None)
    assert "lid-back" in found[3].why
    assert found[4].missing == ("taps[4].handle",)


# --- taps at the sides ----------------------------------------------------------------------------


@pytest.mark.parametrize("side", ["right", "left"])
@pytest.mark.parametrize(("height", "verdict"), [(112.7, "pass"), (112.71, "fail")])
def test_a_side_flange_stays_under_the_lids_side(
    findings: Find, side: str, height: float, verdict: str
) -> None:
    tap = {**TAP, "side": side, "height": mm(height)}
    found = front(findings, {}, {}, taps=tap, figures=SMALL)
    judged(found, HEIGHT - height - 24, 3)
    assert found.verdict == verdict
    skirted = front(
        findings, {"skirt": {"front": "0 mm", side: "12 mm"}}, {}, taps=tap, figures=SMALL
    )
    assert skirted.measured == pytest.approx(HEIGHT - 12 - height - 24, abs=1e-6)


def test_a_side_handle_is_passed_by_all_of_the_opening_lid(findings: Find) -> None:
    """The lid's side rises past a tall handle that leans in over it, far above the closed lid."""
    tap = {**TAP, "side": "right", "handle": "handle-tall-display", "height": "60 mm"}
    found = front(findings, {}, {}, taps=tap)
    lean = math.radians(8)
    # its back edge starts 51 - 20 cos 8 out, and is 300 sin 8 nearer at its top
    nearest = 51 - 20 * math.cos(lean) - 300 * math.sin(lean) - 10
    assert found.measured == pytest.approx(nearest, abs=1e-6)
    assert found.verdict == "fail"
    assert "right edge, closed or opening, meets the handle" in found.why
    # a lid that hardly opens is under the handle's top; just above its own top it still is 10 out
    shut = front(findings, {}, {"open_to": "1 deg"}, taps=tap)
    assert shut.measured is not None
    assert shut.measured > nearest + 15


def test_near_the_front_a_side_handle_stands_above_the_circle_of_the_lid(findings: Find) -> None:
    """The lid's top front corner reaches hypot(563.4, 60) from the axis, less far up near it."""
    tap = {**TAP, "side": "right", "handle": "handle-tall-display", "height": "60 mm"}
    figures = {"faucets": {"lever_top": 320.0}}
    offset = -(D / 2 - 45)  # 45 mm behind the front face: 508.4 ahead of the axis
    found = front(findings, {}, {}, taps={**tap, "offset": mm(offset)}, figures=figures)
    middle = front(findings, {}, {}, taps=tap, figures=figures)
    assert found.measured is not None
    assert middle.measured is not None
    assert found.measured > middle.measured


def test_the_boards_overhang_brings_side_taps_out(findings: Find) -> None:
    tap = {**TAP, "side": "right", "handle": "handle-tall-display"}
    plain = front(findings, {}, {}, taps=tap)
    moved = front(findings, {}, {}, taps=tap, board={"overhang": {"right": "6 mm"}})
    assert plain.measured is not None
    assert moved.measured == pytest.approx(plain.measured + 6, abs=1e-6)


def test_a_tap_of_a_leaning_side_has_its_own_place(findings: Find) -> None:
    """A parallelogram leaning by 6 mm: the right board is 3 mm out at one end, in at the other."""
    diagonal = math.hypot(W + 6, math.sqrt(D * D - 36))
    lip = {"front_left_to_back_right": mm(diagonal)}
    tap = {**TAP, "side": "right", "handle": "handle-tall-display"}
    rows = [{**tap, "offset": "-150 mm"}, {**tap, "offset": "150 mm"}]
    one, other = findings("lid-front", lip=lip, lid=LID, hinge=HINGE, taps=rows)
    assert one.measured is not None
    assert other.measured is not None
    assert abs(one.measured - other.measured) == pytest.approx(6 * 300 / D, abs=0.05)


@pytest.mark.parametrize(
    ("side", "lid", "hinge", "tap", "missing"),
    [
        ("front", {"thickness": None}, {}, {}, ("lid.thickness",)),
        ("front", {"skirt": {"back": "1 mm"}}, {}, {}, ("lid.skirt.front",)),
        ("front", {"overhang": {"back": "1 mm"}}, {}, {}, ("lid.overhang.front",)),
        ("front", {}, {"open_to": None}, {}, ("hinge.open_to",)),
        ("front", {}, {"axis_behind": None}, {}, ("hinge.axis_behind",)),
        ("front", {}, {}, {"shank": None}, ("taps.shank",)),
        ("front", {}, {}, {"faucet": None}, ("taps.faucet",)),
        ("left", {"skirt": {"front": "1 mm"}}, {}, {}, ("lid.skirt.left",)),
        ("left", {"overhang": {"front": "1 mm"}}, {}, {}, ("lid.overhang.left",)),
        ("left", {"overhang": {"left": "1 mm"}}, {}, {}, ("lid.overhang.front",)),
    ],
)
def test_what_lid_front_lacks_is_named(
    findings: Find,
    side: str,
    lid: dict[str, Any],
    hinge: dict[str, Any],
    tap: dict[str, Any],
    missing: tuple[str, ...],
) -> None:
    found = front(findings, lid, hinge, taps={**TAP, "side": side, **tap})
    assert (found.verdict, found.missing) == ("not-checked", missing)


# --- smooth between -------------------------------------------------------------------------------


def margins(judge: Callable[..., Evaluation], **given: Any) -> list[float]:
    return [
        each.margin
        for each in judge(**given).findings
        if each.check in ("lid-back", "lid-front") and each.margin is not None
    ]


SMOOTH: list[tuple[str, float, float, Callable[[str], dict[str, Any]]]] = [
    ("the axis from ahead of the face to behind it", -6, 12, lambda x: {"axis_behind": x}),
    ("the axis from below to above", -30, 10, lambda x: {"axis_above": x}),
]


@pytest.mark.parametrize(("name", "low", "high", "hinge"), SMOOTH, ids=[row[0] for row in SMOOTH])
def test_margins_move_continuously_with_the_axis(
    judged: Callable[..., Evaluation],
    name: str,
    low: float,
    high: float,
    hinge: Callable[[str], dict[str, Any]],
) -> None:
    """0.05 mm of the axis moves no margin by more than a few tenths, from failing to passing."""
    lid = {**LID, **over(back="40 mm"), **SKIRT, **THICK, **PLUG}
    before: list[float] | None = None
    seen: list[float] = []
    steps = 120
    for k in range(steps + 1):
        moved = hinge(mm(low + (high - low) * k / steps))
        base = {"axis_behind": "8 mm", "axis_above": "-15 mm", "open_to": "80 deg"}
        after = margins(judged, lid=lid, hinge={**base, **moved}, taps={**TAP, "height": "80 mm"})
        assert len(after) == 2
        if before is not None:
            step = (high - low) / steps
            assert all(abs(a - b) <= 3 * step for a, b in zip(after, before, strict=True)), name
        before = after
        seen += after
    assert min(seen) < 0 < max(seen)


# --- how high the opening lid comes beside a tap --------------------------------------------------


def swept(ahead: float, top: float, near: float, far: float, open_to: float) -> float:
    """Turn points of the upper face in small steps; take the highest between two places."""
    highest = -math.inf
    for step in range(1201):
        turn = open_to * step / 1200
        cos, sin = math.cos(turn), math.sin(turn)
        if abs(cos) < 1e-9:
            continue
        ends = ((near + top * sin) / cos, (far + top * sin) / cos, ahead)
        for along in (s for s in ends if s <= ahead):
            if near - 1e-9 <= along * cos - top * sin <= far + 1e-9:
                highest = max(highest, along * sin + top * cos)
    return highest - top


def test_beside_a_tap_the_lid_rises_as_high_as_its_turning_face_comes() -> None:
    chance = random.Random(7)
    for _ in range(60):
        ahead, top = chance.uniform(300, 700), chance.uniform(-60, 120)
        open_to = math.radians(chance.uniform(20, 110))
        near = chance.uniform(0, ahead - 120)
        far = near + chance.uniform(1, 120)
        expected = swept(ahead, top, near, far, open_to)
        assert lid_edges._highest(ahead, top, (near, far), open_to) == pytest.approx(
            expected, abs=2.0
        )


@pytest.mark.parametrize(
    ("open_to", "near", "far", "rise"),
    [
        (60, 50, 90, (70 + 90 * math.sqrt(3) / 2) / 0.5 - 70),  # 225.9, not 156.6
        (70, 80, 130, 480.17),
    ],
)
def test_where_the_stop_comes_first_the_end_farther_ahead_counts(
    open_to: float, near: float, far: float, rise: float
) -> None:
    """560 mm from the axis to the front, 70 mm above it."""
    found = lid_edges._highest(560, 70, (near, far), math.radians(open_to))
    assert found == pytest.approx(rise, abs=0.01)
