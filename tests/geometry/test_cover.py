"""Covers: corner points, sizes and volumes worked out by hand, and what they do to the taps.

Design A: 939.8 x 533.4 mm outside, boards 19.05 x 139.7 mm, taps half way up at 69.85 mm, bores
25.4 mm, flanges 48 mm.
"""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.layout import Layout
from collarwright.params.problem import BuildFileError

Lay = Callable[..., Layout]
Find = Callable[..., list[Finding]]

W, D, WIDE = 939.8, 533.4, 139.7
TC = 16.0
TWO = {"thickness": "16 mm", "sides": ("front", "left")}
HANGS = TWO | {"below_lip": "40 mm"}


def cover(layout: Layout, side: Any) -> Board:
    found = layout.cover(side)
    assert found is not None
    return found


def test_covers_meet_in_a_miter_and_end_square_beside_a_bare_side(lay: Lay) -> None:
    layout = lay(cover=HANGS)
    assert [each.name for each in layout.covers] == ["cover-front", "cover-left"]
    front, left = cover(layout, "front"), cover(layout, "left")
    # At front-left both faces move out by 16: the corner is (-16, -16). At front-right the front
    # cover ends level with the collar's corner, and so does the left one at the back.
    assert front.plan == (
        pytest.approx((-TC, -TC)),
        pytest.approx((W, -TC)),
        pytest.approx((W, 0)),
        pytest.approx((0, 0)),
    )
    assert left.plan == (
        pytest.approx((-TC, D)),
        pytest.approx((-TC, -TC)),
        pytest.approx((0, 0)),
        pytest.approx((0, D)),
    )
    assert (front.miter_left_deg, front.miter_right_deg) == (pytest.approx(45), 0)
    assert (left.miter_left_deg, left.miter_right_deg) == (0, pytest.approx(45))
    assert (front.long_point, front.short_point) == (pytest.approx(W + TC), pytest.approx(W))
    assert (left.long_point, left.short_point) == (pytest.approx(D + TC), pytest.approx(D))


def test_covers_all_round_are_a_ring_without_gap_or_overlap(lay: Lay) -> None:
    from shapely import Polygon, union_all

    # a lip with four different corners, followed: its area grows by a ring 16 mm wide
    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        "front_left_to_back_right": "1110.173 mm",
    }  # fmt: skip
    layout = lay(lip=lip, board={"follow": "lip"}, cover={"thickness": "16 mm"})
    collar = Polygon([(corner.x, corner.y) for corner in layout.frame.corners])
    ring = collar.buffer(TC, join_style="mitre", mitre_limit=5).difference(collar)
    plans = [Polygon(each.plan) for each in layout.covers]
    assert union_all(plans).symmetric_difference(ring).area == pytest.approx(0, abs=1e-3)
    assert sum(plan.area for plan in plans) == pytest.approx(ring.area, rel=1e-9)
    for each, plan in zip(layout.covers, plans, strict=True):
        holes = math.pi / 4 * 25.4**2 * TC * (3 if each.side == "front" else 0)
        assert each.volume == pytest.approx(plan.area * each.width - holes, rel=1e-9)


def test_a_cover_hangs_below_the_lip_and_reaches_up_by_its_width(lay: Lay) -> None:
    assert (cover(lay(cover=TWO), "front").bottom, cover(lay(cover=TWO), "front").top) == (0, WIDE)
    hangs = cover(lay(cover=HANGS), "front")
    assert (hangs.bottom, hangs.top, hangs.width) == (-40, WIDE, pytest.approx(179.7))
    # a foam tape of 6.4 mm squeezed by 30 % puts the lip's plane 4.48 mm below the boards
    seat = {"seal": "foam-tape-closed-cell"}
    sealed = cover(lay(cover=HANGS | {"width": "100 mm"}, seat=seat, taps={"height": "95 mm"}),
                   "front")  # fmt: skip
    assert (sealed.bottom, sealed.top) == (pytest.approx(-44.48), pytest.approx(55.52))


def test_bores_and_passages_go_through_the_cover_at_its_own_places(lay: Lay) -> None:
    layout = lay(
        cover=HANGS,
        hole=[
            {"side": "left", "height": "30 mm", "diameter": "12 mm", "name": "cable"},
            {"side": "right", "height": "30 mm", "diameter": "12 mm", "name": "hose"},
        ],
    )
    front, left = cover(layout, "front"), cover(layout, "left")
    # The front cover's left end is 16 mm beyond the board's long point, its edge 40 below.
    middle = W / 2 + TC
    assert [(hole.u, hole.v) for hole in front.holes] == [
        pytest.approx((middle + off, 69.85 + 40)) for off in (-76.2, 0, 76.2)
    ]
    (cable,) = left.holes  # ends square at its left, so as on the board
    assert (cable.u, cable.v, cable.diameter) == pytest.approx((D / 2, 70, 12))
    for plate in (front, layout.board("front")):
        x, y, z = plate.place(plate.holes[0].u, plate.holes[0].v, plate.thickness)
        assert (x, z) == pytest.approx((W / 2 - 76.2, 69.85))
        assert y == pytest.approx(0 if plate is front else 19.05)


def test_a_cover_over_the_bore_is_wall_and_the_seat_of_the_flange(lay: Lay, findings: Find) -> None:
    (tap, *_) = lay(cover=HANGS).taps
    assert (tap.cover, tap.wall) == (TC, pytest.approx(19.05 + TC))
    # flange 48: from its edge to the cover's top edge 139.7 - 69.85 - 24
    (edge, *_) = findings("bore-edge", cover=HANGS)
    assert edge.measured == pytest.approx(45.85)
    # a cover whose edge is 15 above the bore's center goes through, and the flange hangs over it
    short = HANGS | {"width": "124.85 mm"}
    assert lay(cover=short).taps[0].cover == TC
    (edge, *_) = findings("bore-edge", cover=short)
    assert (edge.verdict, edge.measured) == ("fail", pytest.approx(15 - 24))
    assert "cover's top edge" in edge.why


@pytest.mark.parametrize(("top", "verdict"), [(42.86, "fail"), (42.84, "pass")])
def test_a_cover_that_ends_below_the_flange_leaves_it_on_the_board(
    lay: Lay, findings: Find, top: float, verdict: str
) -> None:
    # 69.85 - 24 - 3 = 42.85 is as high as its edge may come
    low = HANGS | {"width": f"{40 + top} mm"}
    (tap, *_) = lay(cover=low).taps
    assert (tap.cover, tap.wall) == (0, pytest.approx(19.05))
    assert cover(lay(cover=low), "front").holes == ()
    (edge, *_) = findings("bore-edge", cover=low)
    assert (edge.verdict, edge.measured) == (verdict, pytest.approx(69.85 - 24 - top))


def test_a_bore_low_in_the_board_behind_a_cover_leaves_it_wood(findings: Find) -> None:
    # the flange is well within the cover, but the board has 15 - 12.7 under the bore
    (edge, *_) = findings("bore-edge", cover=HANGS, taps={"height": "15 mm"})
    assert (edge.verdict, edge.measured) == ("fail", pytest.approx(2.3))
    assert "beside the bore" in edge.why


def test_a_cover_up_to_the_top_edge_carries_the_hinge(lay: Lay) -> None:
    hinge = {
        "axis_behind": "10 mm", "axis_above": "-5 mm", "positions": ("0 mm",),
        "leaf_width": "40 mm", "leaf_height": "60 mm", "leaf_thickness": "2 mm",
        "screw": "wood-screw-no-8", "screws": 2, "screw_length": "30 mm",
    }  # fmt: skip
    bare = lay(hinge=hinge)
    back = lay(hinge=hinge, cover={"thickness": "16 mm", "sides": ("back",)})
    assert bare.hinge is not None
    assert back.hinge is not None
    assert back.hinge.y - bare.hinge.y == TC
    assert (back.leaf_out, back.reference.leaves[0].out) == (TC, TC)
    # 30 mm of screw less 2 of leaf: 16 in the cover, right through, and 12 in the board
    pilots = cover(back, "back").holes
    assert [(hole.purpose, hole.depth) for hole in pilots] == [("pilot", None)] * 2
    behind = [hole for hole in back.board("back").holes if hole.name.startswith("hinge")]
    assert [hole.depth for hole in behind] == [pytest.approx(12)] * 2
    low = lay(hinge=hinge, cover={"thickness": "16 mm", "width": "70 mm", "sides": ("back",)})
    assert (low.leaf_out, cover(low, "back").holes) == (0, ())


@pytest.mark.parametrize(
    ("change", "key", "said"),
    [
        ({"cover": HANGS | {"width": "40 mm"}}, "cover.width", "reaches up to the boards"),
        ({"cover": HANGS | {"width": "180 mm"}}, "cover.width", "that the lid closes on"),
        ({"cover": HANGS, "board": {"overhang": {"left": "-2 mm"}}}, "board.overhang.left",
         "hangs over the body"),
        ({"cover": HANGS | {"width": "100 mm"}}, "cover.width", "cuts tap-1"),
        ({"cover": HANGS | {"width": "115 mm"}}, "cover.width", "cuts tap-1"),
        ({"cover": HANGS | {"width": "60 mm"},
          "hole": [{"side": "left", "height": "22 mm", "diameter": "10 mm", "name": "hose"}]},
         "cover.width", "cuts hose"),
    ],
)  # fmt: skip
def test_a_cover_that_cannot_be_put_on_is_refused(
    lay: Lay, change: dict[str, Any], key: str, said: str
) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay(**change)
    problem = next(each for each in refused.value.problems if each.key == key)
    assert said in f"{problem.read} {problem.wanted}"


def test_a_cover_that_does_not_hang_may_stand_inside_the_lip(lay: Lay) -> None:
    assert lay(cover=TWO, board={"overhang": {"left": "-2 mm"}}).covers
    # with a cap of 20 mm the lid closes higher, and the cover may reach up to it
    cap = {"material": "wood", "thickness": "20 mm", "width": "19 mm"}
    assert cover(lay(cover=HANGS | {"width": "199.7 mm"}, cap=cap), "front").top == pytest.approx(
        159.7
    )
