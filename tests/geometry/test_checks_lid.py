"""gasket-seat, skirt, lid-wall, lid-ceiling: figures by hand, both sides of each edge."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding

Find = Callable[..., list[Finding]]

W, D = 37 * 25.4, 21 * 25.4
T, HEIGHT = 19.05, 139.7
SIDES = ("front", "right", "back", "left")


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def figures(found: Finding) -> tuple[float | None, float | None, float | None]:
    return found.measured, found.required, found.margin


def leaning(lean: float) -> dict[str, str]:
    """A parallelogram whose short sides lean: each side board is lean/2 out at one end."""
    return {"front_left_to_back_right": mm(math.hypot(W + lean, math.sqrt(D * D - lean * lean)))}


# --- gasket-seat ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("over", "overhang", "inset", "width", "measured", "required", "verdict"),
    [
        # wood from -o to 19.05 - o inside the lip's edge; gasket g +- gw/2, g = inset - overhang
        (0, 5, 20, 25, T - 2.5, 10, "pass"),
        (0, 5, 26.55, 25, T - 9.05, 10, "pass"),
        (0, 5, 26.56, 25, T - 9.06, 10, "fail"),
        (0, 5, 12, 14, 14, 7, "pass"),  # the whole gasket, from 0 to 14; half of it is wanted
        (0, 5, 24.05, 14, T - 12.05, 7, "pass"),
        (0, 5, 24.06, 14, T - 12.06, 7, "fail"),
        (4, 5, 20, 25, T - 4 - 2.5, 10, "pass"),
        (-4, 5, 20, 25, T, 10, "pass"),  # wood from 4 to 23.05, all of it under the gasket
        (0, 20, 5, 25, -2.5, 10, "fail"),  # the gasket lies outside, from -27.5 to -2.5
        (0, 0, 3, 20, 13, 10, "pass"),
        (0, 0, 0, 20, 10, 10, "pass"),
        (0, 0.01, 0, 20, 9.99, 10, "fail"),
        (0, -8, 4, 25, T, 10, "pass"),  # a lid 8 mm back: gasket from -0.5 to 24.5
    ],
)
def test_gasket_and_wood_overlap(
    findings: Find,
    over: float,
    overhang: float,
    inset: float,
    width: float,
    measured: float,
    required: float,
    verdict: str,
) -> None:
    lid = {"overhang": mm(overhang), "gasket_inset": mm(inset), "gasket_width": mm(width)}
    found = findings("gasket-seat", lid=lid, board={"overhang": mm(over)})
    assert [each.where.side for each in found] == list(SIDES)
    for each in found:
        assert figures(each) == pytest.approx((measured, required, measured - required), abs=1e-6)
        assert each.verdict == verdict
        assert (each.sense, each.unit, each.weight) == ("at least", "mm", "must")


def test_each_side_has_its_own_gasket_lid_and_wood(findings: Find) -> None:
    lid = {
        "overhang": {"front": "5 mm", "right": "9 mm", "back": "0 mm", "left": "5 mm"},
        "gasket_inset": {"front": "20 mm", "right": "20 mm", "back": "20 mm", "left": "30 mm"},
    }
    found = findings("gasket-seat", lid=lid, board={"overhang": {"back": "2 mm"}})
    # gasket from 2.5, -1.5, 7.5 and 12.5 inward; the back's wood ends at 17.05
    expected = [T - 2.5, T - 0, T - 2 - 7.5, T - 12.5]
    assert [each.measured for each in found] == pytest.approx(expected)
    assert [each.verdict for each in found] == ["pass", "pass", "fail", "fail"]


@pytest.mark.parametrize("lean", [6.0, -6.0])
def test_the_worse_end_of_a_leaning_side_counts(findings: Find, lean: float) -> None:
    """3 mm out at one end: 19.05 - 3 - 2.5; at the other end 3 mm in, 19.05 + 3 - 3."""
    _, right, _, left = findings("gasket-seat", lip=leaning(lean))
    assert (right.measured, left.measured) == pytest.approx((T - 5.5, T - 5.5), abs=1e-6)


@pytest.mark.parametrize(
    ("lid", "missing"),
    [
        (
            None,
            [("lid.gasket_inset", "lid.overhang", "lid.gasket_width")] * 4,
        ),
        ({"gasket_width": None}, [("lid.gasket_width",)] * 4),
        ({"gasket_inset": None}, [("lid.gasket_inset",)] * 4),
        (
            {"overhang": {"front": "5 mm", "left": "5 mm"}},
            [(), ("lid.overhang.right",), ("lid.overhang.back",), ()],
        ),
        (
            {"gasket_inset": {"back": "20 mm"}, "gasket_width": None},
            [
                ("lid.gasket_inset.front", "lid.gasket_width"),
                ("lid.gasket_inset.right", "lid.gasket_width"),
                ("lid.gasket_width",),
                ("lid.gasket_inset.left", "lid.gasket_width"),
            ],
        ),
    ],
)
def test_what_the_gasket_lacks_is_named_by_side(
    findings: Find, lid: dict[str, Any] | None, missing: list[tuple[str, ...]]
) -> None:
    found = findings("gasket-seat", lid=lid)
    assert [each.missing for each in found] == missing
    assert [each.verdict for each in found] == [
        "not-checked" if keys else "pass" for keys in missing
    ]


# --- skirt ----------------------------------------------------------------------------------------

SKIRTED = {"overhang": "12 mm", "skirt": "20 mm", "skirt_thickness": "3 mm"}
AXIS = {"axis_behind": "16.6 mm", "axis_above": "-50 mm"}  # F = 533.4 + 16.6 = 550, k = 50
SWING = math.hypot(550, 50) - 550  # 2.268 mm


@pytest.mark.parametrize(
    ("overhang", "verdict"), [(5.01, "pass"), (5.0, "pass"), (4.99, "fail"), (2.0, "fail")]
)
def test_the_skirts_inside_clears_the_wood(findings: Find, overhang: float, verdict: str) -> None:
    """5 - 3 - 0 leaves the 2 mm that are wanted; at the front the lid's swing takes 2.27 more."""
    lid = {**SKIRTED, "overhang": mm(overhang)}
    found = findings("skirt", lid=lid, hinge=AXIS)
    assert [each.where.side for each in found] == list(SIDES)
    front, *rest = found
    for each in rest:
        assert figures(each) == pytest.approx((overhang - 3, 2, overhang - 5), abs=1e-6)
        assert (each.verdict, each.sense, each.unit) == (verdict, "at least", "mm")
    assert front.measured == pytest.approx(overhang - 3 - SWING, abs=1e-6)
    assert front.verdict == "fail"


def test_the_front_passes_from_the_swing_on(findings: Find) -> None:
    for off, verdict in ((0.01, "pass"), (0.0, "pass"), (-0.01, "fail")):
        lid = {**SKIRTED, "overhang": mm(5 + SWING + off)}
        assert findings("skirt", lid=lid, hinge=AXIS)[0].verdict == verdict


@pytest.mark.parametrize("above", ["0 mm", "30 mm"])
def test_an_axis_level_with_the_sealing_plane_or_above_adds_nothing(
    findings: Find, above: str
) -> None:
    front = findings("skirt", lid=SKIRTED, hinge={**AXIS, "axis_above": above})[0]
    assert front.measured == pytest.approx(12 - 3)


def test_the_hinge_goes_with_the_collar_and_its_front_face_with_the_overhang(
    findings: Find,
) -> None:
    """F runs from the axis behind the collar's back face to its front face: D + 7 + 4 + 16.6."""
    board = {"overhang": {"front": "7 mm", "back": "4 mm"}}
    front = findings("skirt", lid=SKIRTED, hinge=AXIS, board=board)[0]
    ahead = D + 7 + 4 + 16.6
    assert front.measured == pytest.approx(12 - 3 - 7 - (math.hypot(ahead, 50) - ahead), abs=1e-6)


def test_by_side_skirt_overhang_and_thickness(findings: Find) -> None:
    lid = {
        "overhang": {"front": "30 mm", "right": "8 mm", "back": "4 mm", "left": "6 mm"},
        "skirt": {"front": "0 mm", "right": "20 mm", "back": "20 mm", "left": "1 mm"},
        "skirt_thickness": {"right": "3 mm", "back": "1 mm", "left": "5 mm"},
    }
    found = findings("skirt", lid=lid, board={"overhang": {"right": "1 mm", "back": "-2 mm"}})
    assert [each.measured for each in found] == [None, *map(pytest.approx, (4, 5, 1))]
    assert [each.verdict for each in found] == ["pass", "pass", "pass", "fail"]


@pytest.mark.parametrize("lean", [6.0, -6.0])
def test_the_end_that_stands_out_counts(findings: Find, lean: float) -> None:
    _, right, _, left = findings("skirt", lip=leaning(lean), lid=SKIRTED, hinge=AXIS)
    assert (right.measured, left.measured) == pytest.approx((12 - 3 - 3, 12 - 3 - 3), abs=1e-6)


@pytest.mark.parametrize(
    ("lid", "hinge", "missing"),
    [
        (None, AXIS, [("lid.skirt",)] * 4),
        ({"skirt": None}, AXIS, [("lid.skirt",)] * 4),
        (
            {"skirt": {"front": "0 mm", "back": "9 mm"}},
            AXIS,
            [(), ("lid.skirt.right",), ("lid.skirt_thickness",), ("lid.skirt.left",)],
        ),
        (
            {**SKIRTED, "skirt_thickness": {"front": "3 mm"}},
            AXIS,
            [(), *((f"lid.skirt_thickness.{side}",) for side in SIDES[1:])],
        ),
        ({**SKIRTED, "overhang": None}, AXIS, [("lid.overhang",)] * 4),
        (SKIRTED, None, [("hinge.axis_behind", "hinge.axis_above"), (), (), ()]),
        (SKIRTED, {"axis_behind": "16 mm"}, [("hinge.axis_above",), (), (), ()]),
        (SKIRTED, {"axis_above": "5 mm"}, [("hinge.axis_behind",), (), (), ()]),
    ],
)
def test_what_the_skirt_lacks_is_named_and_the_other_sides_are_judged(
    findings: Find,
    lid: dict[str, Any] | None,
    hinge: dict[str, str] | None,
    missing: list[tuple[str, ...]],
) -> None:
    found = findings("skirt", lid=lid, hinge=hinge)
    assert [each.missing for each in found] == missing
    for each in found:
        assert (each.verdict == "not-checked") == bool(each.missing)


# --- the lid's sweep ------------------------------------------------------------------------------

LID = {"overhang": "10 mm", "thickness": "60 mm", "skirt": "0 mm"}
HINGE = {"axis_behind": "20 mm", "axis_above": "0 mm", "open_to": "90 deg"}
ROOM = {"behind": "80 mm", "above": "800 mm"}
# The axis is 20 mm behind the lip's back edge at the sealing plane, 139.7 mm above the lip. The
# lid reaches from 10 mm ahead of the axis to 563.4 ahead, and 60 mm up.
AHEAD = D + 10 + 20


def test_a_lid_opened_to_upright_reaches_back_by_its_thickness(findings: Find) -> None:
    found = only(findings("lid-wall", lid=LID, hinge=HINGE, room=ROOM))
    # upright, the lid's upper face is 60 mm behind the axis
    assert figures(found) == pytest.approx((20 + 60, 80, 0), abs=1e-6)
    assert (found.sense, found.unit, found.weight) == ("at most", "mm", "must")
    assert (found.verdict, found.where.side) == ("pass", "back")


def test_and_up_by_its_depth_and_most_of_all_a_little_before(findings: Find) -> None:
    found = only(findings("lid-ceiling", lid=LID, hinge=HINGE, room=ROOM))
    # the front top corner, 563.4 ahead and 60 up, is highest when it stands above the axis
    highest = HEIGHT + math.hypot(AHEAD, 60)
    assert figures(found) == pytest.approx((highest, 800, 800 - highest), abs=1e-6)
    assert (found.sense, found.unit, found.weight) == ("at most", "mm", "must")
    angle = math.degrees(math.atan2(AHEAD, 60))
    assert f"{angle:.1f} deg" in found.why


@pytest.mark.parametrize(
    ("room", "wall", "ceiling"),
    [
        ({"behind": "80 mm"}, "pass", "pass"),
        ({"behind": "80.01 mm"}, "pass", "pass"),
        ({"behind": "79.99 mm"}, "fail", "pass"),
        ({"behind": "0 mm"}, "fail", "pass"),
        ({"above": mm(HEIGHT + math.hypot(AHEAD, 60))}, "pass", "pass"),
        ({"above": mm(HEIGHT + math.hypot(AHEAD, 60) - 0.01)}, "pass", "fail"),
    ],
)
def test_the_room_decides(findings: Find, room: dict[str, str], wall: str, ceiling: str) -> None:
    given = {"lid": LID, "hinge": HINGE, "room": ROOM | room}
    assert only(findings("lid-wall", **given)).verdict == wall
    assert only(findings("lid-ceiling", **given)).verdict == ceiling


@pytest.mark.parametrize("open_to", [30.0, 60.0])
def test_a_lid_that_stops_early_reaches_less_high(findings: Find, open_to: float) -> None:
    hinge = {**HINGE, "open_to": f"{open_to} deg"}
    found = only(findings("lid-ceiling", lid=LID, hinge=hinge, room=ROOM))
    turned = math.radians(open_to)
    by_hand = HEIGHT + AHEAD * math.sin(turned) + 60 * math.cos(turned)
    assert found.measured == pytest.approx(by_hand, abs=1e-6)


def test_the_collars_overhang_takes_the_axis_along(findings: Find) -> None:
    board = {"overhang": {"back": "6 mm"}}
    found = only(findings("lid-wall", lid=LID, hinge=HINGE, room=ROOM, board=board))
    assert found.measured == pytest.approx(6 + 20 + 60, abs=1e-6)


def test_an_axis_below_the_sealing_plane_swings_the_lid_farther(findings: Find) -> None:
    hinge = {**HINGE, "axis_above": "-15 mm"}
    found = only(findings("lid-wall", lid=LID, hinge=hinge, room=ROOM))
    assert found.measured == pytest.approx(20 + 60 + 15, abs=1e-6)


def test_a_lid_beyond_the_axis_reaches_its_rear_corners_circle(findings: Find) -> None:
    """Its back edge 15 mm behind the axis, 60 up: 61.8 mm when that corner lies level."""
    lid = {**LID, "overhang": {"front": "10 mm", "back": "35 mm"}}
    found = only(findings("lid-wall", lid=lid, hinge=HINGE, room=ROOM))
    assert found.measured == pytest.approx(20 + math.hypot(15, 60), abs=1e-6)


def test_a_lid_turned_right_over_reaches_back_by_its_front_corner(findings: Find) -> None:
    hinge = {**HINGE, "open_to": "180 deg"}
    found = only(findings("lid-wall", lid=LID, hinge=hinge, room=ROOM))
    assert found.measured == pytest.approx(20 + math.hypot(AHEAD, 60), abs=1e-6)


# A stub of a lid, from 53.4 to 10 mm ahead of the axis: then what hangs below it stands highest
# when it has nearly been turned over.
STUB = {**LID, "overhang": {"front": "-500 mm", "back": "10 mm"}}


@pytest.mark.parametrize(
    ("hangs", "ahead", "deep"),
    [
        ({"skirt": {"front": "0 mm", "right": "0 mm", "back": "100 mm", "left": "0 mm"}}, 10, 100),
        ({"skirt": {"front": "90 mm", "right": "0 mm", "back": "0 mm", "left": "0 mm"}}, 53.4, 90),
        ({"plug": "200 mm", "plug_inset": "5 mm"}, 53.4 - 5, 200),
        ({"plug": "200 mm", "plug_inset": {"front": "20 mm", "back": "0 mm"}}, 53.4 - 20, 200),
    ],
)
def test_skirts_and_plug_count_in_the_sweep(
    findings: Find, hangs: dict[str, Any], ahead: float, deep: float
) -> None:
    hinge = {**HINGE, "open_to": "175 deg"}
    found = only(findings("lid-ceiling", lid=STUB | hangs, hinge=hinge, room=ROOM))
    assert found.measured == pytest.approx(HEIGHT + math.hypot(ahead, deep), abs=1e-6)


def test_a_plug_whose_inset_was_not_measured_is_left_out(findings: Find) -> None:
    hinge = {**HINGE, "open_to": "175 deg"}
    found = only(findings("lid-ceiling", lid=STUB | {"plug": "200 mm"}, hinge=hinge, room=ROOM))
    assert found.measured == pytest.approx(HEIGHT + math.hypot(53.4, 60), abs=1e-6)


@pytest.mark.parametrize("side", ["right", "left"])
def test_a_side_skirt_deeper_than_front_and_back_counts(findings: Find, side: str) -> None:
    """It runs from front to back, so its rim ends under both edges."""
    skirt = {"front": "20 mm", "right": "0 mm", "back": "0 mm", "left": "0 mm", side: "120 mm"}
    hinge = {**HINGE, "open_to": "175 deg"}
    found = only(findings("lid-ceiling", lid=STUB | {"skirt": skirt}, hinge=hinge, room=ROOM))
    assert found.measured == pytest.approx(HEIGHT + math.hypot(53.4, 120), abs=1e-6)


def test_where_it_fails_the_angle_of_first_contact_is_told(findings: Find) -> None:
    """The top rear corner, 10 ahead of the axis and 60 above, is 40 behind it at asin(40/r) - p."""
    hit = only(findings("lid-wall", lid=LID, hinge=HINGE, room=ROOM | {"behind": "60 mm"}))
    first = math.degrees(math.asin(40 / math.hypot(10, 60)) - math.atan2(-10, 60))
    assert hit.why.endswith(f"it meets the wall first at {first:.1f} deg")
    assert first < 90
    # the front top corner is 400 above the axis where asin(400/r) is, counted from its own angle
    over = only(findings("lid-ceiling", lid=LID, hinge=HINGE, room=ROOM | {"above": "539.7 mm"}))
    first = math.degrees(math.asin(400 / math.hypot(AHEAD, 60)) - math.atan2(60, AHEAD))
    assert over.why.endswith(f"it meets the ceiling first at {first:.1f} deg")
    clear = only(findings("lid-wall", lid=LID, hinge=HINGE, room=ROOM))
    assert "first" not in clear.why


def test_a_lid_that_is_there_from_the_start_meets_it_at_0(findings: Find) -> None:
    lid = {**LID, "overhang": {"front": "10 mm", "back": "35 mm"}}
    wall = only(findings("lid-wall", lid=lid, hinge=HINGE, room=ROOM | {"behind": "30 mm"}))
    assert wall.why.endswith("it meets the wall first at 0.0 deg")
    low = only(findings("lid-ceiling", lid=LID, hinge=HINGE, room=ROOM | {"above": "150 mm"}))
    assert low.why.endswith("it meets the ceiling first at 0.0 deg")


FULL = {"lid": LID, "hinge": HINGE, "room": ROOM}


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ({"lid": None}, ("lid.overhang", "lid.thickness", "lid.skirt")),
        ({"lid": {**LID, "thickness": None}}, ("lid.thickness",)),
        ({"lid": {**LID, "overhang": {"back": "10 mm"}}}, ("lid.overhang.front",)),
        (
            {"lid": {**LID, "skirt": {"front": "0 mm"}}},
            ("lid.skirt.right", "lid.skirt.back", "lid.skirt.left"),
        ),
        ({"hinge": None}, ("hinge.axis_behind", "hinge.axis_above", "hinge.open_to")),
        ({"hinge": {**HINGE, "axis_behind": None}}, ("hinge.axis_behind",)),
        ({"hinge": {**HINGE, "axis_above": None}}, ("hinge.axis_above",)),
        ({"hinge": {**HINGE, "open_to": None}}, ("hinge.open_to",)),
        ({"room": None}, ("room.behind", "room.above")),
        ({"room": {"above": "800 mm"}}, ("room.behind",)),
        ({"room": {"behind": "80 mm"}}, ("room.above",)),
    ],
)
def test_what_the_sweep_lacks_is_named(
    findings: Find, change: dict[str, Any], missing: tuple[str, ...]
) -> None:
    for check, other in (("lid-wall", "room.above"), ("lid-ceiling", "room.behind")):
        found = only(findings(check, **FULL | change))
        lacks = tuple(key for key in missing if key != other)
        assert found.missing == lacks
        assert found.verdict == ("not-checked" if lacks else "pass")


def test_the_skirt_counts_a_cover_unless_it_stays_below(findings: Find) -> None:
    lid = {"overhang": "15 mm", "skirt": "12 mm", "skirt_thickness": "2 mm"}
    hinge = {"axis_behind": "20 mm", "axis_above": "10 mm"}

    def right(**tables: Any) -> float:
        found = findings("skirt", lid=lid, hinge=hinge, **tables)
        return next(each.measured for each in found if each.where.side == "right")

    # 15 - 2 = 13 mm of room; a cover of 10 mm leaves 3
    assert right() == pytest.approx(13)
    assert right(cover={"thickness": "10 mm"}) == pytest.approx(3)
    assert right(cover={"thickness": "10 mm", "sides": ("front",)}) == pytest.approx(13)
    # the skirt's rim is 139.7 - 12 = 127.7 mm above the lip
    low = {"thickness": "10 mm", "width": "167.7 mm", "below_lip": "40 mm"}
    assert right(cover=low) == pytest.approx(13)
    assert right(cover=low | {"width": "167.8 mm"}) == pytest.approx(3)
