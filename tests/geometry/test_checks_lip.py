"""readings, lip-square, stand, corner, saw: figures by hand, both sides of each edge."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]

W, D = 37 * 25.4, 21 * 25.4
T = 19.05
ROOT = math.sqrt(2)
DIAGONAL = math.hypot(W, D)
SIDES = ("front", "right", "back", "left")
KEYS = ("front_left_to_back_right", "front_right_to_back_left")


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def figures(found: Finding) -> tuple[float | None, float | None, float | None]:
    return found.measured, found.required, found.margin


# --- readings ---------------------------------------------------------------------------------


@pytest.mark.parametrize("tape", [1.0, 0.5, 2.0])
@pytest.mark.parametrize(
    ("over", "verdict"), [(2.99, "pass"), (3.0, "pass"), (3.01, "fail"), (9.0, "fail")]
)
def test_the_closure_is_judged_by_the_diagonal_that_needs_less(
    findings: Find, tape: float, over: float, verdict: str
) -> None:
    """One diagonal too long by x: it needs x less, the other sqrt(2 h2 - (h + x)2) - h, more.

    The sum of the squared diagonals of a parallelogram is that of its four squared sides.
    """
    off = over * tape
    for long, true in (KEYS, KEYS[::-1]):
        lip = {long: mm(DIAGONAL + off), true: mm(DIAGONAL), "tape": mm(tape)}
        found = only(findings("readings", lip=lip))
        other = DIAGONAL - math.sqrt(2 * DIAGONAL**2 - (DIAGONAL + off) ** 2)
        assert other > off
        assert figures(found) == pytest.approx((off, 3 * tape, 3 * tape - off), abs=1e-6)
        assert (found.sense, found.unit, found.weight) == ("at most", "mm", "must")
        assert (found.verdict, found.where.text) == (verdict, "closure")


def test_of_a_short_diagonal_the_other_one_needs_less(findings: Find) -> None:
    short = DIAGONAL - 4
    lip = {KEYS[0]: mm(short), KEYS[1]: mm(DIAGONAL)}
    needed = math.sqrt(2 * DIAGONAL**2 - short**2) - DIAGONAL  # 3.985
    assert needed < 4
    assert only(findings("readings", lip=lip)).measured == pytest.approx(needed, abs=1e-6)


def test_the_closure_names_the_change_of_each_of_the_six(findings: Find) -> None:
    lip = {KEYS[0]: mm(DIAGONAL + 5), KEYS[1]: mm(DIAGONAL)}
    why = only(findings("readings", lip=lip)).why
    for key in (*SIDES, *KEYS):
        assert f"{key} longer by" in why or f"{key} shorter by" in why
    assert f"{KEYS[0]} shorter by 5 mm" in why


@pytest.mark.parametrize(
    ("given", "missing"),
    [((), KEYS), ((KEYS[0],), (KEYS[1],)), ((KEYS[1],), (KEYS[0],))],
)
def test_without_two_diagonals_closure_is_not_checked(
    findings: Find, given: tuple[str, ...], missing: tuple[str, ...]
) -> None:
    found = only(findings("readings", lip=dict.fromkeys(given, mm(DIAGONAL))))
    assert found.verdict == "not-checked"
    assert found.missing == tuple(f"lip.{key}" for key in missing)


@pytest.mark.parametrize(("spread", "verdict"), [(2.99, "pass"), (3.0, "pass"), (3.01, "fail")])
def test_each_repeated_reading_is_judged_by_its_spread_even_without_diagonals(
    findings: Find, spread: float, verdict: str
) -> None:
    lip = {
        "front": (mm(W), mm(W + spread), mm(W + 1)),
        "left": (mm(D), mm(D - 0.5)),
    }
    closure, front, left = findings("readings", lip=lip)
    assert (closure.verdict, closure.where.text) == ("not-checked", "closure")
    assert figures(front) == pytest.approx((spread, 3, 3 - spread), abs=1e-6)
    assert (front.verdict, front.where.text, front.sense) == (verdict, "front", "at most")
    assert (left.verdict, left.where.text) == ("pass", "left")
    assert left.measured == pytest.approx(0.5, abs=1e-6)


def test_a_diagonal_that_no_figure_can_have_fails_by_what_it_would_have_to_change(
    findings: Find,
) -> None:
    lip = {KEYS[0]: mm(W + D + 6), KEYS[1]: mm(DIAGONAL)}
    found = only(findings("readings", lip=lip))
    assert (found.verdict, found.measured) == ("fail", pytest.approx(W + D + 6 - DIAGONAL))


# --- lip-square -------------------------------------------------------------------------------


def leaning(lean: float) -> dict[str, str]:
    """A parallelogram whose short sides lean by ``lean`` mm over their length."""
    up = math.sqrt(D * D - lean * lean)
    return {KEYS[0]: mm(math.hypot(W + lean, up))}


@pytest.mark.parametrize("lean", [14.0, 14.1, 14.2, -14.0, -14.2, 3.0, 25.0])
def test_out_of_square_over_the_short_side_is_judged_by_what_stand_can_bear(
    findings: Find, lean: float
) -> None:
    """Half of the lean goes to each end: 19.05 - lean/2 stands, 12 mm must, so 14.1 is borne."""
    found = only(findings("lip-square", lip=leaning(lean)))
    bear = 2 * (T - 12)
    assert figures(found) == pytest.approx((abs(lean), bear, bear - abs(lean)), abs=1e-6)
    assert (found.weight, found.unit, found.sense) == ("advice", "mm", "at most")
    degrees = math.degrees(math.asin(abs(lean) / D))
    assert f"{degrees:.2f} deg" in found.why
    stand = findings("stand", lip=leaning(lean))
    assert found.verdict == ("fail" if "fail" in {each.verdict for each in stand} else "pass")
    assert found.verdict == ("pass" if abs(lean) <= bear else "fail")


@pytest.mark.parametrize(
    ("board", "lip", "bear"),
    [
        ({"overhang": {"left": "3 mm"}}, {}, 2 * (T - 3 - 12)),
        ({"overhang": "-2 mm"}, {}, 2 * (T + 2 - 12)),
        # inside by 5: the land of 20 ends 3 mm behind the 12 that must stand
        ({"overhang": "-5 mm"}, {"land": "20 mm"}, 2 * (20 - 5 - 12)),
        ({}, {"land_starts": "4 mm"}, 2 * (T - 4 - 12)),
        # of 38.1 mm half must stand
        ({"thickness": "38.1 mm"}, {}, 2 * (38.1 - 19.05)),
        ({"overhang": "9 mm"}, {}, 0.0),
        ({}, {"land": "10 mm"}, 0.0),
        ({}, {"land": "10 mm", "land_starts": "5 mm"}, 0.0),
    ],
)
def test_what_stand_can_bear(
    findings: Find, board: dict[str, Any], lip: dict[str, str], bear: float
) -> None:
    found = only(findings("lip-square", lip=leaning(2) | lip, board=board))
    assert found.required == pytest.approx(bear, abs=1e-6)


def test_a_looser_stand_bears_more(findings: Find) -> None:
    limits = Limits(required={"stand": 10.0})
    found = only(findings("lip-square", lip=leaning(2), limits=limits))
    assert found.required == pytest.approx(2 * (T - 10))


def test_the_worst_corner_counts(findings: Find) -> None:
    # front-left 89.590, front-right 90.306, back-right 89.573, back-left 90.530 deg
    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        KEYS[0]: "1110.173 mm",
    }  # fmt: skip
    found = only(findings("lip-square", lip=lip))
    assert found.measured == pytest.approx(559.014 * math.sin(math.radians(0.530)), abs=0.01)


def test_a_collar_that_follows_the_lip_bears_any_corner(findings: Find) -> None:
    found = only(findings("lip-square", lip=leaning(30), board={"follow": "lip"}))
    assert (found.verdict, found.required, found.margin) == ("pass", None, None)


def test_squareness_needs_a_diagonal_and_the_land(findings: Find) -> None:
    assert only(findings("lip-square")).missing == ("lip.front_left_to_back_right",)
    found = only(findings("lip-square", lip=leaning(3) | {"land": None}))
    assert (found.verdict, found.missing) == ("not-checked", ("lip.land",))


# --- stand ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("over", "starts", "land", "measured", "verdict"),
    [
        # board from -o to t - o inside the lip's edge; land from its start to start + land
        (0, 0, 50.8, T, "pass"),
        (7, 0, 50.8, T - 7, "pass"),
        (T - 12, 0, 50.8, 12, "pass"),
        (T - 12 + 0.01, 0, 50.8, 11.99, "fail"),
        (0, 0, 12, 12, "pass"),
        (0, 0, 11.99, 11.99, "fail"),
        (-5, 0, 50.8, T, "pass"),
        (-5, 0, 20, 15, "pass"),
        (-8, 0, 20, 12, "pass"),
        (-8.01, 0, 20, 11.99, "fail"),
        (0, 5, 50.8, T - 5, "pass"),
        (0, 7.05, 50.8, T - 7.05, "pass"),
        (0, 7.06, 50.8, T - 7.06, "fail"),
        (-10, 5, 12, 7, "fail"),
        (-6, 6, 12, 12, "pass"),
        (30, 0, 50.8, T - 30, "fail"),
    ],
)
def test_board_and_land_overlap(
    findings: Find, over: float, starts: float, land: float, measured: float, verdict: str
) -> None:
    lip = {"land_starts": mm(starts), "land": mm(land)}
    found = findings("stand", lip=lip, board={"overhang": mm(over)})
    assert [each.where.side for each in found] == list(SIDES)
    for each in found:
        assert figures(each) == pytest.approx((measured, 12, measured - 12), abs=1e-6)
        assert (each.verdict, each.weight, each.unit) == (verdict, "must", "mm")


@pytest.mark.parametrize(("thickness", "required"), [(20.0, 12), (24.0, 12), (30.0, 15)])
def test_half_the_board_must_stand_but_at_least_12_mm(
    findings: Find, thickness: float, required: float
) -> None:
    for each in findings("stand", board={"thickness": mm(thickness)}):
        assert each.required == pytest.approx(required)


def test_each_side_has_its_own_overhang(findings: Find) -> None:
    over = {"front": "1 mm", "right": "2 mm", "back": "8 mm", "left": "4 mm"}
    found = findings("stand", board={"overhang": over})
    assert [each.measured for each in found] == pytest.approx([T - 1, T - 2, T - 8, T - 4])
    assert [each.verdict for each in found] == ["pass", "pass", "fail", "pass"]


@pytest.mark.parametrize("lean", [6.0, -6.0])
def test_the_worse_end_of_a_side_counts(findings: Find, lean: float) -> None:
    """On a leaning lip each side board is 3 mm out at one end and 3 mm in at the other."""
    _, right, _, left = findings("stand", lip=leaning(lean))
    assert (right.measured, left.measured) == pytest.approx((T - 3, T - 3), abs=1e-6)
    # narrow land makes the inner end the worse one: from 3 mm inside to the land's end at 14
    _, right, _, left = findings("stand", lip=leaning(lean) | {"land": "14 mm"})
    assert (right.measured, left.measured) == pytest.approx((11, 11), abs=1e-6)


def test_without_the_land_no_side_is_checked(findings: Find) -> None:
    found = findings("stand", lip={"land": None})
    assert [(each.verdict, each.missing) for each in found] == [("not-checked", ("lip.land",))] * 4


# --- corner -----------------------------------------------------------------------------------

AT_LIMIT = (T * ROOT - 12) / (ROOT - 1)  # of R, flush: t q - (q - 1) R = 12, so 36.07 mm


@pytest.mark.parametrize(
    ("radius", "over", "measured", "verdict"),
    [
        (0, 0, T * ROOT, "pass"),
        (20, 0, T * ROOT - (20 * ROOT - 20), "pass"),
        (AT_LIMIT, 0, 12, "pass"),
        (AT_LIMIT + 0.05, 0, 12 - 0.05 * (ROOT - 1), "fail"),
        (20, 4, T * ROOT - (24 * ROOT - 20), "pass"),
        (20, 10, T * ROOT - (30 * ROOT - 20), "fail"),
        (0, 6, T * ROOT - 6 * ROOT, "pass"),
        # well inside: the whole miter stands on the lip
        (20, -10, T * ROOT, "pass"),
    ],
)
def test_contact_along_the_corners_diagonal(
    findings: Find, radius: float, over: float, measured: float, verdict: str
) -> None:
    found = findings("corner", lip={"corner_radius": mm(radius)}, board={"overhang": mm(over)})
    assert [each.where.corner for each in found] == [
        "front-left", "front-right", "back-right", "back-left",
    ]  # fmt: skip
    for each in found:
        assert figures(each) == pytest.approx((measured, 12, measured - 12), abs=1e-6)
        assert (each.verdict, each.weight, each.unit) == (verdict, "must", "mm")


def test_the_larger_overhang_of_the_two_sides_counts(findings: Find) -> None:
    over = {"front": "4 mm", "right": "1 mm", "back": "-3 mm", "left": "2 mm"}
    found = findings("corner", board={"overhang": over})
    assert [each.measured for each in found] == pytest.approx(
        [(T - each) * ROOT for each in (4, 4, 1, 2)]
    )


@pytest.mark.parametrize("deg", [70, 100])
def test_a_corner_that_is_not_square_has_its_own_diagonal(findings: Find, deg: float) -> None:
    over, up = D * math.cos(math.radians(deg)), D * math.sin(math.radians(deg))
    lip = {KEYS[0]: mm(math.hypot(W + over, up)), "corner_radius": "15 mm"}
    found = findings("corner", lip=lip, board={"follow": "lip", "overhang": "2 mm"})
    for each, angle in zip(found, (deg, 180 - deg, deg, 180 - deg), strict=True):
        q = 1 / math.sin(math.radians(angle) / 2)
        assert each.measured == pytest.approx(T * q - (17 * q - 15), abs=1e-6)


def test_the_local_overhang_at_that_corner_counts(findings: Find) -> None:
    """The lip leans by 6 mm to the right at the back: its side boards are out by 3, or in by 3.

    Seen from above the left board stands out at the back left, the right one at the front right;
    by half of what the leaning sides fall short of 533.4 front and back are out everywhere.
    """
    up = math.sqrt(D * D - 36)
    short = (D - up) / 2
    found = findings("corner", lip=leaning(6))
    outs = [max(short, each) for each in (-3, 3, -3, 3)]
    assert [each.measured for each in found] == pytest.approx(
        [(T - out) * ROOT for out in outs], abs=1e-6
    )


# --- saw --------------------------------------------------------------------------------------

SHOP = {"tilt_max": "47 deg", "cross_cut": "140 mm", "cut_depth_tilted": "20 mm"}


def test_what_the_saw_has_left(findings: Find) -> None:
    tilt, across, depth = findings("saw", shop=SHOP)
    assert [each.where.text for each in (tilt, across, depth)] == list(SHOP)
    assert figures(tilt) == pytest.approx((47 - 45, 0, 2))
    assert figures(across) == pytest.approx((140 - 139.7, 0, 0.3))
    assert figures(depth) == pytest.approx((20 - 19.05, 0, 0.95))
    assert [each.unit for each in (tilt, across, depth)] == ["deg", "mm", "mm"]


@pytest.mark.parametrize(
    ("index", "key", "just"),
    [(0, "tilt_max", 45.0), (1, "cross_cut", 139.7), (2, "cut_depth_tilted", 19.05)],
)
def test_the_saw_may_be_used_to_its_limit(
    findings: Find, index: int, key: str, just: float
) -> None:
    unit = "deg" if key == "tilt_max" else "mm"
    for off, verdict in ((0.01, "pass"), (0.0, "pass"), (-0.01, "fail")):
        found = findings("saw", shop={**SHOP, key: f"{just + off:.6f} {unit}"})
        assert found[index].verdict == verdict
        assert {each.verdict for each in found if each is not found[index]} == {"pass"}


def test_a_followed_lip_out_of_square_asks_for_more_than_45_deg(findings: Find) -> None:
    # the sharpest corner of this lip has 89.573 deg, so its miter is 45.2135 deg
    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        KEYS[0]: "1110.173 mm",
    }  # fmt: skip
    shop = {**SHOP, "tilt_max": "45 deg"}
    follows = findings("saw", lip=lip, board={"follow": "lip"}, shop=shop)[0]
    assert figures(follows) == pytest.approx((-0.2135, 0, -0.2135), abs=0.001)
    assert follows.verdict == "fail"
    assert "back-right" in follows.why
    assert findings("saw", lip=lip, shop=shop)[0].verdict == "pass"


def test_each_of_the_saws_limits_is_asked_for_by_itself(findings: Find) -> None:
    for index, key in enumerate(SHOP):
        found = findings("saw", shop={**SHOP, key: None})
        assert found[index].missing == (f"shop.{key}",)
        assert [each.verdict for each in found].count("not-checked") == 1
