"""Vessels one by one, the manifold and the foam's edge, worked by hand.

Design A in plan: boards 19.05 and foam 25.4 mm thick leave x 44.45 to 895.35 and y 44.45 to
488.95. The well of 820 x 420 mm is centered in the lip: x 59.9 to 879.9, y 56.7 to 476.7; its
floor is 700 mm below the lip, the collar 139.7 mm high.
"""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.layout import Layout
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]
Lay = Callable[..., Layout]

WELL = {"length": "820 mm", "width": "420 mm", "height": "700 mm"}
LID = {"plug": "25 mm"}


def can(diameter: float, height: float, fitting: float, **more: Any) -> dict[str, Any]:
    sizes = {"diameter": diameter, "height": height, "fitting": fitting}
    return {**{name: f"{value} mm" for name, value in sizes.items()}, **more}


def only(found: list[Finding]) -> Finding:
    assert len(found) == 1
    return found[0]


# --- head-room ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("fitting", "verdict"), [(9.7, "pass"), (9.8, "fail")])
def test_head_room_at_its_limit(findings: Find, fitting: float, verdict: str) -> None:
    # 700 + 139.7 - 25 - 800 leaves 14.7 mm for the fitting and 5 mm over it
    found = only(findings("head-room", well=WELL, lid=LID, vessel=can(235, 800, fitting)))
    assert found.measured == pytest.approx(14.7 - fitting)
    assert (found.required, found.verdict) == (5.0, verdict)
    assert found.where.vessel == "vessel-1"
    assert "on the floor, under the lid's plug" in found.why
    assert ("boards 139.8 mm wide would do" in found.why) == (verdict == "fail")


def test_a_seal_and_a_cap_strip_add_to_the_head_room(findings: Find) -> None:
    seat = {"seal": "foam-tape-closed-cell"}  # 6.4 mm, squeezed by 30 % to 4.48 mm
    cap = {"material": "wood", "thickness": "6 mm", "width": "19 mm", "inset": "0 mm"}
    found = only(
        findings("head-room", well=WELL, lid=LID, vessel=can(235, 800, 9.7), seat=seat, cap=cap)
    )
    assert found.measured == pytest.approx(5 + 4.48 + 6)


def test_a_vessel_that_has_room_on_the_step_alone_is_judged_there(findings: Find) -> None:
    well = {**WELL, "step": {"side": "right", "length": "450 mm", "height": "250 mm"}}
    found = only(findings("head-room", well=well, lid=LID, vessel=can(400, 500, 50)))
    assert found.measured == pytest.approx(839.7 - 25 - 250 - 550)
    assert found.why.startswith("on the step")
    slim = only(findings("head-room", well=well, lid=LID, vessel=can(216, 500, 50)))
    assert slim.measured == pytest.approx(839.7 - 25 - 550)
    assert slim.why.startswith("on the floor")


def test_the_plug_counts_only_under_the_plug(findings: Find) -> None:
    # with 5 mm of overhang the plug lies over x 100 to 539.8, y 95 to 438.4
    inset = {"front": "100 mm", "right": "405 mm", "back": "100 mm", "left": "105 mm"}
    lid = {**LID, "plug_inset": inset}
    # 216 mm across: its axis goes to x = 771.9, 232.1 mm from the plug
    slim = only(findings("head-room", well=WELL, lid=lid, vessel=can(216, 800, 9.7)))
    assert slim.measured == pytest.approx(30.0)
    assert "beside the lid's plug" in slim.why
    # 400 mm across: to x = 679.9, 140.1 mm from the plug and 200 wide
    wide = only(findings("head-room", well=WELL, lid=lid, vessel=can(400, 800, 9.7)))
    assert wide.measured == pytest.approx(5.0)
    assert "under the lid's plug" in wide.why


def test_vessels_have_names_and_one_finding_each(findings: Find) -> None:
    rows = [
        {"kind": "keg-sixth-barrel", "count": 2, "tap": 1},
        can(216, 600, 40),
        {"kind": "keg-sixth-barrel", "height": "590 mm"},
    ]
    found = findings("head-room", well=WELL, lid=LID, vessel=rows)
    assert [each.where.vessel for each in found] == [
        "keg-sixth-barrel 1 of 3",
        "keg-sixth-barrel 2 of 3",
        "vessel-2",
        "keg-sixth-barrel 3 of 3",
    ]
    # 594 mm high with a coupler of 125 mm (common practice); the reading goes before
    assert [each.measured for each in found] == pytest.approx([95.7, 95.7, 174.7, 99.7])


def test_head_room_says_what_it_lacks(findings: Find) -> None:
    assert only(findings("head-room", well=WELL, lid=LID)).missing == ("vessel",)
    vessel = {"diameter": "235 mm", "height": "600 mm"}
    found = only(findings("head-room", well={"length": "820 mm"}, vessel=vessel))
    assert found.missing == ("well.width", "well.height", "lid.plug", "vessel[1].fitting")
    assert found.verdict == "not-checked"


# --- opening ------------------------------------------------------------------------------------

AT_LEFT = {"count": 1, "spacing": None, "offset": "-350 mm"}


@pytest.mark.parametrize(("diameter", "verdict"), [(415, "pass"), (415.1, "fail")])
def test_where_no_shank_is_the_well_decides(findings: Find, diameter: float, verdict: str) -> None:
    found = only(
        findings("opening", well=WELL, lid=LID, vessel=can(diameter, 500, 0), taps=AT_LEFT)
    )
    assert found.measured == pytest.approx(420 - diameter, abs=0.011)
    assert found.verdict == verdict


def test_the_foam_decides_where_it_stands_over_the_mouth(findings: Find) -> None:
    foam = {"thickness": "60 mm"}  # 533.4 - 2 (19.05 + 60) = 375.3 mm from front to back
    found = only(findings("opening", well=WELL, vessel=can(300, 500, 0), taps=AT_LEFT, foam=foam))
    assert found.measured == pytest.approx(75.3, abs=0.011)


def test_shanks_and_tailpieces_are_in_the_way(findings: Find, lay: Lay) -> None:
    vessel = can(300, 500, 0)
    found = only(findings("opening", well=WELL, vessel=vessel))
    boxes = lay(well=WELL, vessel=vessel).inside.inner
    # nuts of 32 mm are 36.95 mm over their corners; shank 104.8 mm and tailpiece from the face
    tail = lay().taps[0].shank.tailpiece_length  # type: ignore[union-attr]
    half = 32 / math.sqrt(3)
    assert [box.rect.x0 for box in boxes] == pytest.approx(
        [u - half for u in (393.7, 469.9, 546.1)]
    )
    assert {round(box.rect.y1, 6) for box in boxes} == {round(104.8 + tail, 6)}
    # a search by hand over a grid of 2 mm never finds more, and comes within its own steps
    best = 0.0
    for i in range(411):
        for j in range(211):
            x, y = 59.9 + 2 * i, 56.7 + 2 * j
            r = min(x - 59.9, 879.9 - x, y - 56.7, 476.7 - y)
            for box in boxes:
                dx = max(box.rect.x0 - x, x - box.rect.x1, 0.0)
                dy = max(box.rect.y0 - y, y - box.rect.y1, 0.0)
                r = min(r, math.hypot(dx, dy))
            best = max(best, r)
    assert found.measured is not None
    assert 2 * best - 300 - 0.02 <= found.measured <= 2 * best - 300 + 2 * 2 * math.sqrt(2)


def test_opening_says_what_it_lacks(findings: Find) -> None:
    vessel = can(300, 500, 0)
    assert only(findings("opening", well=WELL)).missing == ("vessel",)
    assert only(findings("opening", well={"length": "1 m"}, vessel=vessel)).missing == (
        "well.width",
        "well.height",
    )
    none = only(findings("opening", well=WELL, vessel=vessel, taps={"shank": None}))
    assert none.missing == ("taps.shank",)


def test_a_collar_out_of_square_counts_by_the_rectangle_within_it(lay: Lay) -> None:
    lip = {
        "front": "1000 mm",
        "right": "600 mm",
        "back": "1000 mm",
        "left": "600 mm",
        "front_left_to_back_right": "1170 mm",
    }
    layout = lay(lip=lip, board={"follow": "lip"}, well=WELL, vessel=can(300, 500, 0))
    (foam, board) = layout.inside.openings[0], layout.inside.openings[-1]
    assert foam.between == "the foam panels"
    assert board.rect.x0 == pytest.approx(foam.rect.x0) or board.between == "the foam panels"
    # a parallelogram: the long diagonal gives the cosine of the angle that it comes from
    cos = (1170**2 - 1000**2 - 600**2) / (2 * 1000 * 600)
    lean, sin = 600 * cos, math.sqrt(1 - cos * cos)
    depth = 19.05 + 25.4
    # the left side leans to the right: its inner line is farthest right at the back
    back_y = 600 * sin - depth
    assert foam.rect.y0 == pytest.approx(depth)
    assert foam.rect.y1 == pytest.approx(back_y)
    assert lean > 0
    assert foam.rect.x0 == pytest.approx(depth / sin + back_y * cos / sin)
    assert foam.rect.x1 == pytest.approx(1000 - depth / sin + depth * cos / sin)


# --- manifold -----------------------------------------------------------------------------------

BAR = {"length": "150 mm", "height": "80 mm", "depth": "40 mm"}


@pytest.mark.parametrize(("offset", "verdict"), [(181.2, "pass"), (181.1, "fail")])
def test_the_manifold_clears_the_nut_beside_it(findings: Find, offset: float, verdict: str) -> None:
    # tap 3 at u = 546.1 with a washer 50 mm across: 546.1 + 25 + 5 + 75 = 469.9 + 181.2
    found = only(findings("manifold", manifold={**BAR, "side": "front", "offset": f"{offset} mm"}))
    assert found.measured == pytest.approx(offset - 176.2)
    assert found.verdict == verdict
    assert (found.where.side, found.required) == ("front", 5.0)
    assert "the nut of tap 3" in found.why


def test_a_manifold_over_a_nut_has_less_than_no_gap(findings: Find) -> None:
    bar = {**BAR, "length": "50 mm", "side": "front"}
    found = only(findings("manifold", manifold=bar))
    # tap 2 in its middle: 25 mm to its end and the washer's 25 mm
    assert (found.measured, found.verdict) == (pytest.approx(-50.0), "fail")


def test_the_manifold_between_the_corners(findings: Find) -> None:
    # from the middle 469.9 - 19.05 to the board, 25.4 of foam, 75 of its own
    found = only(findings("manifold", manifold=BAR))
    assert found.measured == pytest.approx(350.45)
    bare = only(findings("manifold", manifold=BAR, foam=None))
    assert bare.measured == pytest.approx(375.85)
    legs = only(findings("manifold", manifold=BAR, board={"bracket": "bracket-2x2-in"}))
    assert legs.measured == pytest.approx(450.85 - 75 - 50.8)
    hole = {"side": "back", "height": "69.85 mm", "diameter": "20 mm", "offset": "95 mm"}
    near = only(findings("manifold", manifold=BAR, hole=[hole]))
    assert near.measured == pytest.approx(95 - 75 - 10)


def test_handles_and_inlet_of_a_known_manifold_count(findings: Find) -> None:
    figures = {
        "manifolds": {
            "length": 150.0,
            "height": 80.0,
            "inlet_projection": 22.0,
            "first_outlet_from_end": 10.0,
            "handle_sweep_radius": 30.0,
        }
    }
    kind = {"kind": "manifold-2-outlet"}
    found = only(findings("manifold", manifold=kind, figures=figures))
    assert found.measured == pytest.approx(350.45 - 22)
    figures["manifolds"]["handle_sweep_radius"] = 45.0
    found = only(findings("manifold", manifold=kind, figures=figures))
    assert found.measured == pytest.approx(350.45 - 35)


def test_vessels_that_reach_the_manifold_are_named(findings: Find) -> None:
    # its lower edge is 69.85 - 40 above the collar's foot, 729.85 above the floor
    short, tall = can(216, 700, 29.8), can(216, 700, 30)
    assert "reach" not in only(findings("manifold", manifold=BAR, well=WELL, vessel=short)).why
    assert "vessel-1 reach" in only(findings("manifold", manifold=BAR, well=WELL, vessel=tall)).why


def test_no_manifold_passes_and_nuts_that_nobody_knows_do_not(findings: Find) -> None:
    none = only(findings("manifold"))
    assert (none.verdict, none.measured) == ("pass", None)
    front = {**BAR, "side": "front"}
    found = only(findings("manifold", manifold=front, taps={"shank": None}))
    assert (found.verdict, found.missing) == ("not-checked", ("taps.shank",))


# --- foam-land and lift ---------------------------------------------------------------------------


@pytest.mark.parametrize(("land", "verdict"), [(44.45, "pass"), (44.4, "fail")])
def test_foam_over_the_wells_edge(findings: Find, land: float, verdict: str) -> None:
    lip = {"land": f"{land} mm"}
    found = findings("foam-land", lip=lip, well=WELL, vessel=can(216, 500, 40))
    assert [each.where.side for each in found] == ["front", "right", "back", "left"]
    for each in found:
        assert each.measured == pytest.approx(19.05 + 25.4 - land)
        assert (each.required, each.verdict, each.weight) == (0.0, verdict, "advice")


def test_foam_further_out_is_further_from_the_edge(findings: Find) -> None:
    changes = {"well": WELL, "vessel": can(216, 500, 40), "board": {"overhang": "4 mm"}}
    assert {round(each.measured or 0, 6) for each in findings("foam-land", **changes)} == {-10.35}
    none = findings("foam-land", foam=None, **changes)
    assert [each.verdict for each in none] == ["pass"] * 4
    assert {each.missing for each in findings("foam-land", lip={"land": None})} == {
        ("lip.land", "well", "vessel")
    }


@pytest.mark.parametrize(("mass", "verdict"), [(23.0, "pass"), (23.1, "fail")])
def test_what_one_person_lifts(findings: Find, mass: float, verdict: str) -> None:
    keg = {"kind": "keg-sixth-barrel"}
    room = {"lip_height": "850 mm"}
    found = only(findings("lift", vessel=keg, room=room, figures={"vessels": {"full_mass": mass}}))
    assert (found.measured, found.required, found.unit) == (mass, 23.0, "kg")
    assert (found.verdict, found.weight) == (verdict, "advice")
    assert "989.7 mm" in found.why
    assert "139.7 mm" in only(findings("lift", vessel=keg)).why


def test_lift_says_what_it_lacks(findings: Find) -> None:
    assert only(findings("lift")).missing == ("vessel",)
    assert only(findings("lift", vessel=can(216, 500, 40))).missing == ("vessel[1].kind",)


def test_a_limit_goes_before_the_default(findings: Find) -> None:
    limits = Limits(required={"head-room": 100.0, "opening": 200.0})
    vessel = can(216, 600, 40)
    for check, required in limits.required.items():
        found = only(findings(check, well=WELL, lid=LID, vessel=vessel, limits=limits))
        assert (found.required, found.verdict) == (
            required,
            "pass" if check == "head-room" else "fail",
        )
