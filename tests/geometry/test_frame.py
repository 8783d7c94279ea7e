"""The collar in plan: size, miters, long and short points, and how it stands over the lip.

Expected lengths are written out from the readings; areas are judged by the shoelace formula and
by shapely, which know nothing of miters.
"""

import math
from collections.abc import Callable

import numpy as np
import pytest
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.layout import Layout
from collarwright.params.problem import BuildFileError

Lay = Callable[..., Layout]
Point = tuple[float, float]

W, D = 37 * 25.4, 21 * 25.4  # 939.8 x 533.4, design A
T = 19.05
# A lip with four different corners, (0, 0) (955, 0) (958, 561) (4, 559), printed to 0.001 mm.
SKEWED = {
    "front": "955 mm",
    "right": "561.008 mm",
    "back": "954.002 mm",
    "left": "559.014 mm",
    "front_left_to_back_right": "1110.173 mm",
}
SKEWED_DEG = (89.590, 90.306, 89.573, 90.530)
SKEWED_CORNERS = ((0, 0), (955, 0), (958, 561), (4, 559))
# A parallelogram whose front-left corner has 75 degrees.
REACH, RISE = 600 * math.cos(math.radians(75)), 600 * math.sin(math.radians(75))
RHOMBOID = {
    "front": "900 mm",
    "right": "600 mm",
    "back": "900 mm",
    "left": "600 mm",
    "front_left_to_back_right": f"{math.hypot(900 + REACH, RISE):.9f} mm",
}


def shoelace(points: tuple[Point, ...]) -> float:
    xs, ys = np.array(points).T
    return float(np.sum(xs * np.roll(ys, -1) - np.roll(xs, -1) * ys)) / 2


def outer(layout: Layout) -> tuple[Point, ...]:
    return tuple((corner.x, corner.y) for corner in layout.frame.corners)


def cot_half(deg: float) -> float:
    return 1 / math.tan(math.radians(deg) / 2)


# --- a rectangle ------------------------------------------------------------------------------


def test_a_flush_collar_is_as_large_as_the_lip(lay: Lay) -> None:
    layout = lay()
    assert (layout.frame.width, layout.frame.depth) == pytest.approx((W, D))
    assert layout.frame.height == 139.7
    assert np.array(outer(layout)) == pytest.approx(np.array([(0, 0), (W, 0), (W, D), (0, D)]))
    names = [corner.name for corner in layout.frame.corners]
    assert names == ["front-left", "front-right", "back-right", "back-left"]
    assert [board.side for board in layout.boards] == ["front", "right", "back", "left"]


@pytest.mark.parametrize(
    ("overhang", "by"),
    [
        ("6 mm", (6, 6, 6, 6)),
        ("-4 mm", (-4, -4, -4, -4)),
        ({"front": "10 mm"}, (10, 0, 0, 0)),
        ({"right": "3 mm", "left": "-7 mm"}, (0, 3, 0, -7)),
        ({"front": "1 mm", "right": "2 mm", "back": "4 mm", "left": "8 mm"}, (1, 2, 4, 8)),
    ],
)
def test_overhangs_add_to_the_mean_sides(
    lay: Lay, overhang: object, by: tuple[float, float, float, float]
) -> None:
    front, right, back, left = by
    sides = {"front": "940 mm", "right": "534 mm", "back": "941 mm", "left": "535 mm"}
    layout = lay(lip=sides, board={"overhang": overhang})
    assert layout.frame.width == pytest.approx((940 + 941) / 2 + left + right)
    assert layout.frame.depth == pytest.approx((534 + 535) / 2 + front + back)
    assert outer(layout)[0] == pytest.approx((-left, -front))
    assert outer(layout)[2] == pytest.approx((940.5 + right, 534.5 + back))
    for board, over in zip(layout.boards, by, strict=True):
        assert (board.over_left, board.over_right) == pytest.approx((over, over))


def test_a_square_corner_is_mitered_at_45_and_loses_the_thickness_at_each_end(lay: Lay) -> None:
    front, right, back, left = lay().boards
    for board, length in ((front, W), (right, D), (back, W), (left, D)):
        assert board.long_point == pytest.approx(length)
        assert board.short_point == pytest.approx(length - 2 * T)
        assert (board.miter_left_deg, board.miter_right_deg) == pytest.approx((45, 45))
        assert (board.inner_left, board.inner_right) == pytest.approx((T, T))


def test_each_board_is_seen_from_outside_with_its_left_end_left(lay: Lay) -> None:
    front, right, back, left = lay().boards
    assert front.outer == (pytest.approx((0, 0)), pytest.approx((W, 0)))
    assert right.outer == (pytest.approx((W, 0)), pytest.approx((W, D)))
    assert back.outer == (pytest.approx((W, D)), pytest.approx((0, D)))
    assert left.outer == (pytest.approx((0, D)), pytest.approx((0, 0)))
    assert front.place(100, 50, 7) == pytest.approx((100, 7, 50))
    assert right.place(100, 50, 7) == pytest.approx((W - 7, 100, 50))
    assert back.place(100, 50, 7) == pytest.approx((W - 100, D - 7, 50))
    assert left.place(100, 50, 7) == pytest.approx((7, D - 100, 50))


def test_board_size_in_the_build_file_goes_before_the_catalogue(lay: Lay) -> None:
    layout = lay(board={"thickness": "20 mm", "width": "150 mm"})
    assert {(board.thickness, board.width) for board in layout.boards} == {(20, 150)}
    alone = lay(board={"stock": None, "thickness": "21 mm", "width": "145 mm"})
    assert {(board.thickness, board.width) for board in alone.boards} == {(21, 145)}
    half = lay(board={"thickness": "18 mm"})
    assert {(board.thickness, board.width) for board in half.boards} == {(18, 139.7)}


# --- following the lip ------------------------------------------------------------------------


def test_a_collar_that_follows_the_lip_has_the_lips_corners(lay: Lay) -> None:
    layout = lay(lip=SKEWED, board={"follow": "lip"})
    assert (layout.frame.width, layout.frame.depth) == (None, None)
    for corner, place, angle in zip(layout.frame.corners, SKEWED_CORNERS, SKEWED_DEG, strict=True):
        assert (corner.x, corner.y) == pytest.approx(place, abs=0.005)
        assert corner.interior_deg == pytest.approx(angle, abs=0.001)
        assert corner.miter_deg == pytest.approx(90 - angle / 2, abs=0.001)
    for i, board in enumerate(layout.boards):
        here, there = SKEWED_DEG[i], SKEWED_DEG[(i + 1) % 4]
        assert board.miter_left_deg == pytest.approx(90 - here / 2, abs=0.001)
        assert board.miter_right_deg == pytest.approx(90 - there / 2, abs=0.001)
        long_point = float(SKEWED[board.side].removesuffix(" mm"))
        assert board.long_point == pytest.approx(long_point, abs=0.005)
        short = long_point - T * (cot_half(here) + cot_half(there))
        assert board.short_point == pytest.approx(short, abs=0.005)
        assert (board.over_left, board.over_right) == pytest.approx((0, 0), abs=1e-9)


def test_overhangs_move_each_side_of_the_lip_outward_along_its_normal(lay: Lay) -> None:
    over = {"front": "5 mm", "right": "-3 mm", "back": "8 mm", "left": "2 mm"}
    layout = lay(lip=SKEWED, board={"follow": "lip", "overhang": over})
    lip = layout.lip.corners
    for i, (board, by) in enumerate(zip(layout.boards, (5, -3, 8, 2), strict=True)):
        (x0, y0), (x1, y1) = lip[i], lip[(i + 1) % 4]
        length = math.hypot(x1 - x0, y1 - y0)
        normal = ((y1 - y0) / length, -(x1 - x0) / length)  # outward of a counterclockwise side
        for x, y in board.outer:
            out = (x - x0) * normal[0] + (y - y0) * normal[1]
            assert out == pytest.approx(by, abs=1e-9)
        assert (board.over_left, board.over_right) == pytest.approx((by, by))
    for corner, angle in zip(layout.frame.corners, SKEWED_DEG, strict=True):
        assert corner.interior_deg == pytest.approx(angle, abs=0.001)


# --- a square collar on a lip out of square ------------------------------------------------------


def test_a_square_collar_is_centered_and_turned_as_the_middle_of_the_lip(lay: Lay) -> None:
    layout = lay(lip=SKEWED)
    front, right, back, left = (955.0, 561.008, 954.002, 559.014)
    assert layout.frame.width == pytest.approx((front + back) / 2, abs=1e-3)
    assert layout.frame.depth == pytest.approx((right + left) / 2, abs=1e-3)
    assert [corner.interior_deg for corner in layout.frame.corners] == pytest.approx([90] * 4)
    center = np.mean(outer(layout), axis=0)
    assert center == pytest.approx(np.mean(SKEWED_CORNERS, axis=0), abs=0.005)
    # from the middle of the left side (2, 279.5) to the middle of the right one (956.5, 280.5)
    turned = math.degrees(math.atan2(280.5 - 279.5, 956.5 - 2))
    (x0, y0), (x1, y1) = layout.boards[0].outer
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(turned, abs=1e-3)


def test_the_middles_of_left_and_right_give_the_direction(lay: Lay) -> None:
    """Corners (0, 0) (900, 0) (930, 640) (60, 560): from (30, 280) to (915, 320)."""
    places = np.array([(0, 0), (900, 0), (930, 640), (60, 560)])
    keys = ("front", "right", "back", "left")
    lip = {
        key: f"{np.hypot(*(places[(i + 1) % 4] - places[i])):.9f} mm" for i, key in enumerate(keys)
    }
    lip["front_left_to_back_right"] = f"{math.hypot(930, 640):.9f} mm"
    front = lay(lip=lip).boards[0]
    (x0, y0), (x1, y1) = front.outer
    assert math.atan2(y1 - y0, x1 - x0) == pytest.approx(math.atan2(40, 885), abs=1e-9)


def test_local_overhangs_are_square_to_the_face_at_both_lip_corners(lay: Lay) -> None:
    layout = lay(lip=SKEWED, board={"overhang": {"front": "3 mm", "left": "1 mm"}})
    for i, board in enumerate(layout.boards):
        a, b = (np.array(p) for p in board.outer)
        along = (b - a) / np.linalg.norm(b - a)
        outward = np.array([along[1], -along[0]])
        for corner, found in ((i, board.over_left), ((i + 1) % 4, board.over_right)):
            stands_out = float((a - np.array(SKEWED_CORNERS[corner])) @ outward)
            assert found == pytest.approx(stands_out, abs=0.005)


def test_a_leaning_side_is_split_evenly_between_its_two_ends(lay: Lay) -> None:
    """A parallelogram that leans by x over its depth: each end is out by x/2."""
    lean, depth = 10.0, 533.4
    up = math.sqrt(depth**2 - lean**2)
    diagonal = f"{math.hypot(W + lean, up):.9f} mm"
    layout = lay(lip={"front_left_to_back_right": diagonal})
    _, right, _, left = layout.boards
    assert (right.over_left, right.over_right) == pytest.approx((lean / 2, -lean / 2), abs=1e-6)
    assert (left.over_left, left.over_right) == pytest.approx((lean / 2, -lean / 2), abs=1e-6)


# --- boards tile the ring, and their volumes -----------------------------------------------------


@pytest.mark.parametrize("follow", ["square", "lip"])
@pytest.mark.parametrize("lip", [{}, SKEWED, RHOMBOID])
def test_the_boards_fill_the_ring_without_gap_or_overlap(
    lay: Lay, lip: dict[str, str], follow: str
) -> None:
    from shapely import Polygon
    from shapely.ops import unary_union

    layout = lay(lip=lip, board={"follow": follow, "overhang": "4 mm"})
    polygons = [Polygon(board.plan) for board in layout.boards]
    whole = Polygon(outer(layout))
    ring = whole - whole.buffer(-T, join_style="mitre", mitre_limit=10)
    assert sum(shoelace(board.plan) for board in layout.boards) == pytest.approx(ring.area)
    assert unary_union(polygons).symmetric_difference(ring).area == pytest.approx(0, abs=1e-6)
    for i, polygon in enumerate(polygons):
        assert polygon.intersection(polygons[i - 1]).area == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("lip", [{}, SKEWED, RHOMBOID])
def test_a_boards_volume_is_width_times_thickness_times_the_middle_length(
    lay: Lay, lip: dict[str, str]
) -> None:
    layout = lay(lip=lip, board={"follow": "lip"})
    for board in layout.boards:
        bores = 3 if board.side == "front" else 0
        middle = (board.long_point + board.short_point) / 2
        bored = bores * math.pi * 12.7**2 * T
        assert board.volume == pytest.approx(139.7 * T * middle - bored)
        # the same from the plan's area, which knows no long and short points
        assert board.volume == pytest.approx(shoelace(board.plan) * 139.7 - bored)


def test_every_kind_of_hole_is_taken_from_the_volume_to_its_own_depth(lay: Lay) -> None:
    passage = {"side": "right", "height": "50 mm", "diameter": "20 mm"}
    right = lay(board={"bracket": "bracket-2x2-in"}, hole=[passage]).boards[1]
    pilots = 4 * math.pi / 4 * 2.24**2 * (T * 2 / 3)  # two legs with two screws each
    solid = 139.7 * T * (D - T)
    assert right.volume == pytest.approx(solid - math.pi * 10**2 * T - pilots)


# --- what cannot be laid out ---------------------------------------------------------------------


def test_boards_too_thick_for_the_lip_are_refused_by_name(lay: Lay) -> None:
    lip = {"front": "300 mm", "back": "300 mm", "right": "210 mm", "left": "210 mm"}
    taps = {"count": 1, "bore": "25 mm"}
    # right: 210 - 2 t between its short points, of which something must be left: up to 105 mm
    lay(lip=lip, board={"thickness": "104.9 mm"}, taps=taps, foam=None)
    with pytest.raises(BuildFileError) as refused:
        lay(lip=lip, board={"thickness": "105.1 mm"}, taps=taps, foam=None)
    assert [problem.key for problem in refused.value.problems] == ["lip.right", "lip.left"]


def test_foam_that_leaves_no_opening_is_refused_by_name(lay: Lay) -> None:
    # 939.8 - 38.1 = 901.7 and 533.4 - 38.1 = 495.3 clear, the same on both sides: to 247.65 mm;
    # the door takes 200 mm at most, so a lip 360 mm deep: (360 - 38.1) / 2 = 160.95 mm
    lip = {"right": "360 mm", "left": "360 mm"}
    lay(lip=lip, foam={"thickness": "160 mm"})
    with pytest.raises(BuildFileError) as refused:
        lay(lip=lip, foam={"thickness": "161 mm"})
    assert {problem.key for problem in refused.value.problems} == {"foam.thickness"}


def test_foam_cannot_end_below_the_board(lay: Lay) -> None:
    lay(foam={"below_top": "139 mm"})
    with pytest.raises(BuildFileError) as refused:
        lay(foam={"below_top": "139.7 mm"})
    assert [problem.key for problem in refused.value.problems] == ["foam.below_top"]


def test_one_kind_of_board_is_one_object_per_side(lay: Lay) -> None:
    layout = lay()
    for side in ("front", "right", "back", "left"):
        board = layout.board(side)
        assert isinstance(board, Board)
        assert board.side == side
    assert layout.frame.left_of("left").name == "back-left"
    assert layout.frame.right_of("left").name == "front-left"
    assert layout.frame.left_of("back").name == "back-right"
