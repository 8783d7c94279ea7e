"""Taps on their boards: places, numbers, default pockets, and bores that leave the wood."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.params.problem import BuildFileError

Lay = Callable[..., Layout]

W, D = 37 * 25.4, 21 * 25.4
T, HEIGHT = 19.05, 139.7


def places(layout: Layout) -> list[tuple[int, str, float, float]]:
    return [(tap.number, tap.side, tap.u, tap.v) for tap in layout.taps]


@pytest.mark.parametrize(
    ("row", "from_middle"),
    [
        ({"count": 3, "spacing": "76.2 mm"}, (-76.2, 0, 76.2)),
        ({"count": 2, "spacing": "90 mm"}, (-45, 45)),
        ({"count": 4, "spacing": "60 mm", "offset": "-20 mm"}, (-110, -50, 10, 70)),
        ({"count": 1, "spacing": None, "offset": "33 mm"}, (33,)),
        (
            {"count": None, "spacing": None, "positions": ("-100 mm", "0 mm", "85 mm")},
            (-100, 0, 85),
        ),
        ({"count": None, "positions": ("50 mm", "-60 mm")}, (-60, 50)),
        ({"count": None, "positions": ("0 mm", "80 mm"), "offset": "5 mm"}, (5, 85)),
    ],
)
def test_taps_stand_about_the_boards_middle(
    lay: Lay, row: dict[str, Any], from_middle: tuple[float, ...]
) -> None:
    """u = L/2 + offset + (i - (n - 1)/2) spacing, half way up; or each position from L/2."""
    found = places(lay(taps=row))
    assert found == [
        (number, "front", pytest.approx(W / 2 + each), HEIGHT / 2)
        for number, each in enumerate(from_middle, 1)
    ]


def test_offset_is_to_the_right_seen_from_outside_on_every_side(lay: Lay) -> None:
    one = {"count": 1, "spacing": None, "offset": "40 mm"}
    rows = [{**one, "side": side} for side in ("front", "right", "back", "left")]
    layout = lay(taps=rows)
    found = [layout.board(tap.side).place(tap.u, tap.v)[:2] for tap in layout.taps]
    expected = [(W / 2 + 40, 0), (W, D / 2 + 40), (W / 2 - 40, D), (0, D / 2 - 40)]
    for ours, theirs in zip(found, expected, strict=True):
        assert ours == pytest.approx(theirs)


def test_taps_are_numbered_by_side_then_row_from_below_then_left_to_right(lay: Lay) -> None:
    rows = [
        {"side": "left", "count": 1},
        {"side": "front", "count": 2, "spacing": "100 mm", "height": "100 mm"},
        {"side": "back", "count": 1},
        {"side": "front", "count": 2, "spacing": "200 mm", "height": "40 mm"},
        {"side": "right", "count": 2, "spacing": "80 mm"},
    ]
    assert places(lay(taps=rows)) == [
        (1, "front", pytest.approx(W / 2 - 100), 40),
        (2, "front", pytest.approx(W / 2 + 100), 40),
        (3, "front", pytest.approx(W / 2 - 50), 100),
        (4, "front", pytest.approx(W / 2 + 50), 100),
        (5, "right", pytest.approx(D / 2 - 40), HEIGHT / 2),
        (6, "right", pytest.approx(D / 2 + 40), HEIGHT / 2),
        (7, "back", pytest.approx(W / 2), HEIGHT / 2),
        (8, "left", pytest.approx(D / 2), HEIGHT / 2),
    ]


def test_rows_at_one_height_stay_together_in_the_order_of_the_file(lay: Lay) -> None:
    right = {"count": 2, "spacing": "60 mm", "offset": "200 mm"}
    left = {"count": 2, "spacing": "60 mm", "offset": "-200 mm"}
    assert [tap.u - W / 2 for tap in lay(taps=[right, left]).taps] == pytest.approx(
        [170, 230, -230, -170]
    )


def test_a_name_goes_with_the_place_it_was_written_for(lay: Lay) -> None:
    row = {"count": None, "positions": ("50 mm", "-60 mm", "0 mm"), "names": ("a", "b")}
    layout = lay(taps=row)
    assert [(tap.name, tap.u - W / 2) for tap in layout.taps] == [
        ("b", pytest.approx(-60)),
        ("tap 2", pytest.approx(0)),
        ("a", pytest.approx(50)),
    ]


def test_each_tap_has_its_bore_in_its_board_and_its_pocket_in_the_panel(lay: Lay) -> None:
    layout = lay(taps=[{"height": "60 mm"}, {"side": "right", "count": 1, "bore": "26 mm"}])
    front = layout.board("front").holes
    assert [(hole.name, hole.purpose, hole.diameter) for hole in front] == [
        (f"tap-{number}", "bore", 25.4) for number in (1, 2, 3)
    ]
    assert [(hole.u, hole.v) for hole in front] == [
        (pytest.approx(W / 2 + each), 60) for each in (-76.2, 0, 76.2)
    ]
    (bore,) = layout.board("right").holes
    assert (bore.name, bore.u, bore.diameter) == ("tap-4", pytest.approx(D / 2), 26)
    assert all(hole.depth is None and hole.face == "outer" for hole in (*front, bore))
    assert layout.board("back").holes == ()
    panel = layout.panel("front")
    assert panel is not None
    assert [(hole.purpose, hole.diameter, hole.v) for hole in panel.holes] == [
        ("pocket", 60, 60)
    ] * 3
    # The front panel runs the whole clear length, so its left end is t from the long point.
    assert [hole.u for hole in panel.holes] == pytest.approx(
        [W / 2 - T + each for each in (-76.2, 0, 76.2)]
    )


@pytest.mark.parametrize(
    ("circle", "pocket"),
    [
        (40, 51), (50, 51), (50.9, 51), (51, 57), (56, 57), (57, 60), (59.9, 60), (60, 64),
        (63, 64), (64, 70), (70, 76), (75.9, 76), (76, 80), (79.9, 80), (80, 85), (84, 85),
        (85, 90), (91, 95),
    ],
)  # fmt: skip
def test_the_default_pocket_is_the_next_cutter_above_the_wrench_circle(
    lay: Lay, circle: float, pocket: float
) -> None:
    layout = lay(figures={"shanks": {"nut_wrench_circle": circle}}, foam={"pocket": None})
    assert {tap.pocket for tap in layout.taps} == {pocket}


def test_pockets_as_asked_none_over_the_foam_and_none_without_foam(lay: Lay) -> None:
    assert {tap.pocket for tap in lay(foam={"pocket": "48 mm"}).taps} == {48}
    clamped = lay(foam={"pocket": "none"})
    assert {tap.pocket for tap in clamped.taps} == {0}
    panel = clamped.panel("front")
    assert panel is not None
    assert [(hole.purpose, hole.diameter) for hole in panel.holes] == [("bore", 25.4)] * 3
    assert [hole.u for hole in panel.holes] == pytest.approx(
        [W / 2 - T + each for each in (-76.2, 0, 76.2)]
    )
    assert {tap.pocket for tap in lay(foam=None).taps} == {None}
    assert lay(foam=None).panels == ()


# --- the wall -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "wall", "insulation"),
    [
        ({}, T, T + 25.4),
        ({"foam": None}, T, T),
        ({"foam": {"pocket": "none"}}, T + 25.4, T + 25.4),
        ({"cover": {"thickness": "12 mm"}}, T + 12, T + 12 + 25.4),
        ({"cover": {"thickness": "12 mm", "sides": ("right", "left")}}, T, T + 25.4),
        ({"cover": {"thickness": "12 mm"}, "foam": {"pocket": "none"}}, T + 37.4, T + 37.4),
    ],
)
def test_the_nut_clamps_the_wall_and_the_shank_passes_all_the_insulation(
    lay: Lay, changes: dict[str, Any], wall: float, insulation: float
) -> None:
    for tap in lay(**changes).taps:
        assert tap.wall == pytest.approx(wall)
        assert tap.insulation == pytest.approx(insulation)


def test_a_measured_shank_is_as_long_as_its_thread(lay: Lay) -> None:
    (tap,) = lay(taps={"count": 1, "shank": "98 mm", "thread": "22 mm"}).taps
    assert tap.shank is not None
    assert (tap.shank.length, tap.shank.thread_length) == (98, 98)
    assert (tap.thread, tap.shank.thread_diameter) == (22, 22)
    assert tap.shank.nut_wrench_circle == 50


# --- taps beyond the board ----------------------------------------------------------------------

CLEAR = W - 2 * T  # between the front board's short points


@pytest.mark.parametrize(
    ("row", "key"),
    [
        ({"height": f"{12.7 - 0.01} mm"}, "taps.height"),
        ({"height": f"{HEIGHT - 12.7 + 0.01} mm"}, "taps.height"),
        ({"count": 3, "spacing": f"{(CLEAR - 25.4) / 2 + 0.01} mm"}, "taps.spacing"),
        ({"count": 1, "offset": f"{(CLEAR - 25.4) / 2 + 0.01} mm"}, "taps.offset"),
        ({"count": 1, "offset": f"-{(CLEAR - 25.4) / 2 + 0.01} mm"}, "taps.offset"),
        (
            {"count": None, "positions": ("0 mm", f"{(CLEAR - 25.4) / 2 + 0.01} mm")},
            "taps.positions",
        ),
        ({"bore": f"{HEIGHT + 0.02} mm", "count": 1}, "taps.height"),
    ],
)
def test_a_bore_beyond_its_board_is_an_input_error(lay: Lay, row: dict[str, Any], key: str) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay(taps=row)
    assert [problem.key for problem in refused.value.problems] == [key]


@pytest.mark.parametrize(
    "row",
    [
        {"height": "12.7 mm"},
        {"height": f"{HEIGHT - 12.7} mm"},
        {"count": 3, "spacing": f"{(CLEAR - 25.4) / 2:.9f} mm"},
        {"count": 1, "offset": f"-{(CLEAR - 25.4) / 2:.9f} mm"},
        {"count": None, "positions": (f"{(CLEAR - 25.4) / 2:.9f} mm",)},
    ],
)
def test_a_bore_that_just_touches_the_edge_is_laid_out(lay: Lay, row: dict[str, Any]) -> None:
    assert lay(taps=row).taps


def test_the_greatest_spacing_that_fits_is_told(lay: Lay) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay(taps={"count": 5, "spacing": "300 mm"})
    (problem,) = refused.value.problems
    # (901.7 - 25.4) / 4 = 219.075
    assert "at most 219.1 mm apart" in problem.wanted
    assert set(problem.keys) == {"taps.count", "taps.offset", "taps.bore"}


@pytest.mark.parametrize("sign", ["-", ""])
def test_an_offset_takes_its_share_of_the_greatest_spacing(lay: Lay, sign: str) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay(taps={"count": 3, "spacing": "400 mm", "offset": f"{sign}100.02 mm"})
    (problem,) = refused.value.problems
    # from the middle tap to the nearer short point: 450.85 - 12.7 - 100.02
    assert "at most 338.1 mm apart" in problem.wanted
    # 100.02 + 400 + 12.7 is 61.87 beyond 450.85
    assert "is 61.9 mm beyond" in problem.wanted


@pytest.mark.parametrize("place", ["470 mm", "-470 mm"])
def test_how_far_from_the_middle_a_position_may_be_is_told(lay: Lay, place: str) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay(taps={"count": None, "positions": ("0 mm", place), "bore": "25.1 mm"})
    (problem,) = refused.value.problems
    assert "within 438.3 mm of its middle" in problem.wanted  # 450.85 - 12.55
    assert "31.7 mm beyond" in problem.read  # 470 + 12.55 - 450.85


def test_short_points_are_judged_at_each_end_of_a_skewed_board(lay: Lay) -> None:
    """Corners of 75 and 105 degrees: the front board's short points are not in its middle."""
    lean, rise = 600 * math.cos(math.radians(75)), 600 * math.sin(math.radians(75))
    lip = {
        "front": "900 mm", "right": "600 mm", "back": "900 mm", "left": "600 mm",
        "front_left_to_back_right": f"{math.hypot(900 + lean, rise):.9f} mm",
    }  # fmt: skip
    left = T / math.tan(math.radians(75 / 2)) + 12.7 - 450
    right = 450 - T / math.tan(math.radians(105 / 2)) - 12.7
    for least, sign in ((left, -1), (right, 1)):
        inside = {"count": 1, "offset": f"{least - sign * 0.001:.6f} mm"}
        assert lay(lip=lip, board={"follow": "lip"}, taps=inside).taps
        with pytest.raises(BuildFileError):
            lay(
                lip=lip,
                board={"follow": "lip"},
                taps={"count": 1, "offset": f"{least + sign * 0.001:.6f} mm"},
            )


def test_every_row_beyond_its_board_is_reported(lay: Lay) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay(taps=[{"height": "5 mm"}, {"side": "right", "spacing": "400 mm"}, {"side": "back"}])
    assert [problem.key for problem in refused.value.problems] == [
        "taps[1].height",
        "taps[2].spacing",
    ]
