"""bore-entry to bore-end: each bore in its board, by hand, on both sides of each edge."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.layout import Layout
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]
Lay = Callable[..., Layout]

W, D = 37 * 25.4, 21 * 25.4
T, F, HEIGHT = 19.05, 25.4, 139.7
THREAD, FLANGE, NUT, CIRCLE, NUT_THICK = 22.225, 48.0, 32.0, 50.0, 9.0
ONE = {"count": 1, "spacing": None}


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def judged_as(
    found: Finding, measured: float, required: float, verdict: str, unit: str = "mm"
) -> None:
    figures = (found.measured, found.required, found.margin)
    assert figures == pytest.approx((measured, required, measured - required), abs=1e-6)
    assert (found.verdict, found.sense, found.unit) == (verdict, "at least", unit)
    assert found.weight == "must"


# --- bore-entry, bore-cover, nut-cover --------------------------------------------------------


@pytest.mark.parametrize(
    ("play", "verdict"),
    [(0.41, "pass"), (0.4, "pass"), (0.39, "fail"), (3.175, "pass"), (-1.0, "fail")],
)
def test_the_shank_goes_through_with_04_mm_of_play(
    findings: Find, play: float, verdict: str
) -> None:
    for found in findings("bore-entry", taps={"bore": mm(THREAD + play)}):
        judged_as(found, play, 0.4, verdict)


def test_a_measured_thread_goes_before_the_catalogue(findings: Find) -> None:
    taps = {**ONE, "bore": "23.4 mm", "thread": "23 mm"}
    judged_as(only(findings("bore-entry", taps=taps)), 0.4, 0.4, "pass")
    judged_as(only(findings("bore-entry", taps={**taps, "shank": None})), 0.4, 0.4, "pass")


def test_a_thicker_thread_sits_closer_and_is_covered_better(findings: Find) -> None:
    taps = {**ONE, "bore": "25.4 mm", "thread": "23 mm"}
    for check, cover in (("bore-cover", FLANGE), ("nut-cover", 50)):
        found = only(findings(check, taps=taps))
        judged_as(found, (cover - 25.4) / 2 - (25.4 - 23) / 2, 2, "pass")


# The cover reaches (cover - d)/2 less (d - thread)/2 over the bore: 2 mm at this diameter.
LARGEST = (FLANGE + THREAD - 4) / 2
LARGEST_NUT = (NUT + THREAD - 4) / 2
LARGEST_WASHER = (50 + THREAD - 4) / 2


@pytest.mark.parametrize(("off", "verdict"), [(-0.01, "pass"), (0.0, "pass"), (0.01, "fail")])
def test_flange_nut_and_washer_cover_the_bore_by_2_mm(
    findings: Find, off: float, verdict: str
) -> None:
    flange = findings("bore-cover", taps={"bore": mm(LARGEST + off)})
    nut = findings("nut-cover", taps={"bore": mm(LARGEST_NUT + off), "washer_diameter": None})
    washer = findings("nut-cover", taps={"bore": mm(LARGEST_WASHER + off)})
    assert len(flange) == len(nut) == len(washer) == 3
    for found in (*flange, *nut, *washer):
        judged_as(found, 2 - off, 2, verdict)


def test_a_washer_narrower_than_the_nut_covers_nothing_more(findings: Find) -> None:
    for found in findings("nut-cover", taps={"bore": "24 mm", "washer_diameter": "31 mm"}):
        judged_as(found, (32 - 24) / 2 - (24 - THREAD) / 2, 2, "pass")


@pytest.mark.parametrize(
    "check", ["bore-entry", "bore-cover", "nut-cover", "bore-edge", "bore-end"]
)
def test_without_the_shank_nothing_is_known(findings: Find, check: str) -> None:
    for found in findings(check, taps={"shank": None}):
        assert (found.verdict, found.missing) == ("not-checked", ("taps.shank",))
    two = findings(check, taps=[ONE, {**ONE, "side": "right", "shank": None}])
    assert [found.missing for found in two] == [(), ("taps[2].shank",)]


# --- bore-web ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("spacing", "verdict"), [(50.81, "pass"), (50.8, "pass"), (50.79, "fail"), (30, "fail")]
)
def test_the_wood_between_is_at_least_a_bore(findings: Find, spacing: float, verdict: str) -> None:
    for found in findings("bore-web", taps={"spacing": mm(spacing)}):
        judged_as(found, spacing - 25.4, 25.4, verdict)


# Bores of 24, 24 and 40 mm; the middle one has 36 mm of wood to its left and 43 to its right.
UNEQUAL = [
    {**ONE, "bore": "24 mm", "offset": "-60 mm"},
    {**ONE, "bore": "24 mm", "offset": "0 mm"},
    {**ONE, "bore": "40 mm", "offset": "75 mm"},
]


def test_the_larger_of_two_bores_is_wanted_and_the_worst_neighbour_counts(
    findings: Find,
) -> None:
    left, middle, right = findings("bore-web", taps=UNEQUAL)
    judged_as(left, 60 - 24, 24, "pass")
    # 36 of 24 to the left, 43 of 40 to the right: there is less to spare
    judged_as(middle, 75 - (24 + 40) / 2, 40, "pass")
    judged_as(right, 75 - (24 + 40) / 2, 40, "pass")
    assert middle.why == "wood left to tap 3"


def test_with_a_limit_of_ones_own_the_nearest_neighbour_counts(findings: Find) -> None:
    limits = Limits(required={"bore-web": 40.0})
    left, middle, right = findings("bore-web", taps=UNEQUAL, limits=limits)
    judged_as(left, 60 - 24, 40, "fail")
    judged_as(middle, 60 - 24, 40, "fail")
    judged_as(right, 75 - 32, 40, "pass")


def test_rows_above_each_other_are_apart_in_the_faces_plane(findings: Find) -> None:
    rows = [{**ONE, "height": "50 mm"}, {**ONE, "height": "90 mm", "offset": "30 mm"}]
    for found in findings("bore-web", taps=rows):
        judged_as(found, 50 - 25.4, 25.4, "fail")  # 3-4-5: 30 across, 40 up


def test_a_bore_alone_on_its_side_has_no_neighbour(findings: Find) -> None:
    rows = [{**ONE, "side": side} for side in ("front", "right", "back", "left")]
    for check in ("bore-web", "tap-gap", "handle-gap"):
        found = findings(check, taps=rows)
        assert [each.where.side for each in found] == ["front", "right", "back", "left"]
        assert {(each.verdict, each.measured, each.required) for each in found} == {
            ("pass", None, None)
        }


# --- bore-edge --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("height", "left", "verdict"),
    [
        (27.01, 3.01, "pass"),
        (27.0, 3.0, "pass"),
        (26.99, 2.99, "fail"),
        (69.85, 45.85, "pass"),
        (HEIGHT - 27.0, 3.0, "pass"),
        (HEIGHT - 26.99, 2.99, "fail"),
        (15.0, -9.0, "fail"),
    ],
)
def test_the_flange_sits_wholly_on_the_face(
    findings: Find, height: float, left: float, verdict: str
) -> None:
    for found in findings("bore-edge", taps={"height": mm(height)}):
        judged_as(found, left, 3, verdict)
        assert ("bottom" if height <= HEIGHT / 2 else "top") in found.why


def test_a_bore_wider_than_the_flange_counts_itself(findings: Find) -> None:
    found = only(findings("bore-edge", taps={**ONE, "bore": "60 mm", "height": "33 mm"}))
    judged_as(found, 33 - 30, 3, "pass")


# --- bore-end ---------------------------------------------------------------------------------


def at_end(distance: float, side_length: float = W, end: str = "left") -> dict[str, Any]:
    """One tap whose bore is ``distance`` from the inner corner at that end of a board."""
    offset = side_length / 2 - T - distance
    return {**ONE, "offset": mm(-offset if end == "left" else offset)}


CASES: list[tuple[str, dict[str, Any], float]] = [
    # what is changed, and how far from the inner corner the nearest obstacle then is
    ("foam behind the nut's layer: the next board", {}, 0),
    ("no foam", {"foam": None}, 0),
    ("the front panel stands between", {"foam": {"order": "sides"}}, F),
    ("foam as thick as the nut", {"foam": {"thickness": "9 mm"}}, 0),
    ("foam thinner than the nut", {"foam": {"thickness": "8.9 mm"}}, 8.9),
    ("the nut clamps over the foam", {"foam": {"pocket": "none"}}, F),
    ("a bracket at this height", {"board": {"bracket": "bracket-2x2-in"}}, 50.8),
    (
        "a bracket under the foam that the nut clamps",
        {"board": {"bracket": "bracket-2x2-in"}, "foam": {"pocket": "none"}},
        F,
    ),
    (
        "foam that reaches farther than the bracket",
        {
            "board": {"bracket": "bracket-2x2-in"},
            "foam": {"order": "sides", "thickness": "60 mm"},
        },
        60,
    ),
]


@pytest.mark.parametrize("end", ["left", "right"])
@pytest.mark.parametrize(("changes", "obstacle"), [case[1:] for case in CASES])
def test_the_nut_clears_what_stands_at_the_corner(
    findings: Find, changes: dict[str, Any], obstacle: float, end: str
) -> None:
    for off, verdict in ((0.01, "pass"), (0.0, "pass"), (-0.01, "fail")):
        taps = at_end(obstacle + CIRCLE / 2 + off, end=end)
        found = only(findings("bore-end", taps=taps, **changes))
        judged_as(found, off, 0, verdict)
        assert f"{end} end" in found.why


@pytest.mark.parametrize("order", ["front-back", "sides"])
def test_on_a_side_board_the_order_of_the_panels_is_the_other_way_round(
    findings: Find, order: str
) -> None:
    obstacle = F if order == "front-back" else 0
    taps = {**at_end(obstacle + 30, D), "side": "right"}
    found = only(findings("bore-end", taps=taps, foam={"order": order}))
    judged_as(found, 30 - 25, 0, "pass")


@pytest.mark.parametrize(("apart", "obstacle"), [(50.39, 50.8), (50.41, 0.0)])
def test_a_bracket_counts_only_at_its_own_height(
    findings: Find, apart: float, obstacle: float
) -> None:
    """Half of 50.8 and half of the wrench circle of 50: they meet within 50.4 mm of height."""
    board = {"thickness": mm(T), "width": "200 mm", "bracket": "bracket-2x2-in"}
    taps = at_end(80) | {"height": mm(100 + apart)}
    found = only(findings("bore-end", taps=taps, board=board))
    assert found.measured == pytest.approx(80 - obstacle - 25, abs=1e-6)


def leaning(deg: float) -> dict[str, str]:
    over, up = D * math.cos(math.radians(deg)), D * math.sin(math.radians(deg))
    return {"front_left_to_back_right": mm(math.hypot(W + over, up))}


@pytest.mark.parametrize(
    ("deg", "foam", "obstacle"),
    [
        # the next board comes in by cot(theta) over the nut's 9 mm at a sharp corner
        (75, {}, 9 / math.tan(math.radians(75))),
        (105, {}, 0),
        # and its foam stands f / sin(theta) further along
        (75, {"order": "sides"}, 9 / math.tan(math.radians(75)) + F / math.sin(math.radians(75))),
        (105, {"order": "sides"}, F / math.sin(math.radians(105))),
        # over the foam the layer is 25.4 to 34.4 deep
        (
            75,
            {"pocket": "none"},
            34.4 / math.tan(math.radians(75)) + F / math.sin(math.radians(75)),
        ),
    ],
)
def test_at_a_corner_that_is_not_square(
    findings: Find, deg: float, foam: dict[str, str], obstacle: float
) -> None:
    inner_left = T / math.tan(math.radians(deg) / 2)
    taps = {**ONE, "offset": mm(inner_left + 90 - W / 2)}
    board = {"follow": "lip"}
    found = only(findings("bore-end", taps=taps, board=board, lip=leaning(deg), foam=foam))
    assert found.measured == pytest.approx(90 - obstacle - 25, abs=1e-6)


@pytest.mark.parametrize("deg", [70, 85, 90, 95, 110])
@pytest.mark.parametrize("order", ["front-back", "sides"])
@pytest.mark.parametrize("foam", [25.4, 6.0, 15.0])
@pytest.mark.parametrize("side", ["front", "right"])
@pytest.mark.parametrize("end", ["left", "right"])
def test_polygons_in_plan_agree(
    findings: Find, lay: Lay, deg: float, order: str, foam: float, side: str, end: str
) -> None:
    """The nut's layer cut with the other boards and panels as polygons drawn here.

    Equal at square and sharp corners. At a blunt one the check lets the next panel stand in by
    its whole f / sin(theta), where its square end leaves a wedge: a little on the safe side.
    """
    from shapely import Polygon

    changes: dict[str, Any] = {
        "lip": leaning(deg),
        "board": {"follow": "lip"},
        "foam": {"order": order, "thickness": mm(foam)},
        "taps": {**ONE, "side": side, "offset": "-120 mm" if end == "left" else "120 mm"},
    }
    layout = lay(**changes)
    index = ("front", "right").index(side)

    def strip(i: int, start: float, stop: float, depth: float) -> Any:
        (x0, y0), (x1, y1) = layout.boards[i].inner
        clear = math.hypot(x1 - x0, y1 - y0)
        ux, uy = (x1 - x0) / clear, (y1 - y0) / clear
        corners = ((start, 0), (stop, 0), (stop, depth), (start, depth))
        return Polygon([(x0 + ux * s - uy * n, y0 + uy * s + ux * n) for s, n in corners])

    board, tap = layout.boards[index], layout.taps[0]
    clear = board.short_point
    middle = tap.u - board.inner_left
    half = (0, middle) if end == "left" else (middle, clear)
    layer = strip(index, *half, NUT_THICK)
    (x0, y0), (x1, y1) = board.inner
    distance = middle if end == "left" else clear - middle
    for i, panel in enumerate(layout.panels):
        if i == index:
            continue
        foam_there = strip(i, panel.start, panel.start + panel.length, foam)
        for obstacle in (Polygon(layout.boards[i].plan), foam_there):
            met = layer.intersection(obstacle)
            for x, y in [] if met.area < 1e-9 else met.exterior.coords:
                s = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / clear
                distance = min(distance, abs(middle - s))
    exact = distance - CIRCLE / 2
    measured = only(findings("bore-end", **changes)).measured
    at_left = deg if side == "front" else 180 - deg
    theta = math.radians(at_left if end == "left" else 180 - at_left)
    wedge = (foam + NUT_THICK) * max(0.0, -1 / math.tan(theta))
    assert measured is not None
    assert exact - wedge - 1e-6 <= measured <= exact + 1e-6
