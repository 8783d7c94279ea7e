"""The drip tray's screws against places and depths that are worked out by hand."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import remarks
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.captions import board_captions
from collarwright.geometry.shape.cover import of_side
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout, as_built, lay_out
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Built

Lay = Callable[..., Layout]
Design = Callable[..., Any]
Find = Callable[..., list[Finding]]

FRONT, SIDE, T, HIGH = 939.8, 533.4, 19.05, 139.7
"""Design A: 37 x 21 in, boards of 3/4 x 5 1/2 in, three taps 76.2 mm apart, 69.85 mm up."""
TRAY = {"count": 2, "spacing": "200 mm", "height": "25 mm", "pilot": "3 mm"}
WALL = {"thickness": "16 mm", "sides": ("front", "left")}
"""A cover of 16 mm, from the boards' bottom edge to their top one."""


def hung(holes: tuple[Hole, ...]) -> list[Hole]:
    return [hole for hole in holes if hole.name.startswith("tray-")]


def places(layout: Layout, side: Any = "front") -> list[tuple[float, float]]:
    return [(hole.u, hole.v) for hole in hung(layout.board(side).holes)]


def test_two_screws_hang_below_the_middle_of_the_taps(lay: Lay) -> None:
    first, second = hung(lay(tray=TRAY).board("front").holes)
    assert (first.name, first.purpose, first.diameter, first.face) == (
        "tray-1", "pilot", 3, "outer",
    )  # fmt: skip
    assert (first.u, first.v) == pytest.approx((469.9 - 100, 25))
    assert (second.u, second.name) == (pytest.approx(469.9 + 100), "tray-2")
    assert [first.depth, second.depth] == pytest.approx([12.7] * 2)  # 2/3 of 19.05
    assert not first.assumed


@pytest.mark.parametrize(
    ("taps", "tray", "at"),
    [
        ({"offset": "-40 mm"}, {}, [329.9, 529.9]),
        ({"offset": "-40 mm"}, {"offset": "0 mm"}, [369.9, 569.9]),
        ({"offset": "-40 mm"}, {"offset": "15 mm"}, [384.9, 584.9]),
        # from 469.9 - 60 to 469.9 + 100: the middle is 20 to the right
        ({"count": None, "spacing": None, "positions": ("-60 mm", "10 mm", "100 mm")}, {},
         [389.9, 589.9]),
        ({}, {"count": 1, "spacing": None}, [469.9]),
        ({}, {"count": None, "spacing": None, "positions": ("70 mm", "-30 mm")}, [439.9, 539.9]),
        ({"offset": "10 mm"}, {"count": None, "spacing": None, "positions": ("70 mm", "-30 mm")},
         [449.9, 549.9]),
    ],
)  # fmt: skip
def test_where_along_the_board(
    lay: Lay, taps: dict[str, Any], tray: dict[str, Any], at: list[float]
) -> None:
    found = places(lay(taps=taps, tray=TRAY | tray))
    assert [u for u, _ in found] == pytest.approx(at)


def test_two_rows_of_taps_have_one_middle(lay: Lay) -> None:
    low = {"count": 1, "spacing": None, "offset": "-200 mm", "height": "60 mm"}
    high = {"count": 1, "spacing": None, "offset": "100 mm", "height": "80 mm"}
    left = {"count": 1, "spacing": None, "side": "left", "offset": "70 mm"}
    layout = lay(taps=[low, high, left], tray=TRAY)
    assert [u for u, _ in places(layout)] == pytest.approx([469.9 - 150, 469.9 + 50])
    # on another side its own taps count, and where there are none the board's middle
    on_left = lay(taps=[low, high, left], tray=TRAY | {"side": "left"})
    assert [u for u, _ in places(on_left, "left")] == pytest.approx([266.7 - 30, 266.7 + 170])
    on_right = lay(taps=[low, high, left], tray=TRAY | {"side": "right"})
    assert [u for u, _ in places(on_right, "right")] == pytest.approx([166.7, 366.7])
    assert places(on_right) == []


def test_without_a_side_it_hangs_where_the_first_row_of_taps_is(lay: Lay) -> None:
    assert places(lay(taps={"side": "left"}, tray=TRAY), "left") == [
        pytest.approx((266.7 - 100, 25)), pytest.approx((266.7 + 100, 25)),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("depth", "deep"), [("10 mm", 10), ("19 mm", 19), ("19.05 mm", None), ("60 mm", None)]
)
def test_how_deep_in_a_bare_board(lay: Lay, depth: str, deep: float | None) -> None:
    (hole, _) = hung(lay(tray=TRAY | {"depth": depth}).board("front").holes)
    assert hole.depth == (None if deep is None else pytest.approx(deep))


@pytest.mark.parametrize(
    ("depth", "in_cover", "in_board"),
    [
        (None, None, (16 + T) * 2 / 3 - 16),  # 23.37 of 35.05: 16 in the cover, 7.37 behind it
        ("10 mm", 10.0, "none"),
        ("16 mm", None, "none"),
        ("16.5 mm", None, 0.5),
        ("35 mm", None, 19.0),
        ("35.05 mm", None, None),
    ],
)
def test_through_a_cover_into_the_board(
    lay: Lay, depth: str | None, in_cover: float | None, in_board: float | str | None
) -> None:
    layout = lay(tray=TRAY | {"depth": depth}, cover=WALL)
    cover = of_side(layout.covers, "front")
    assert cover is not None
    outside, behind = hung(cover.holes), hung(layout.board("front").holes)
    # the cover's left end is mitered: 16 mm beyond the board's long point
    assert [(hole.u, hole.v) for hole in outside] == [
        pytest.approx((369.9 + 16, 25)), pytest.approx((569.9 + 16, 25)),
    ]  # fmt: skip
    assert [hole.depth for hole in outside] == [in_cover and pytest.approx(in_cover)] * 2
    if in_board == "none":
        assert behind == []
    else:
        wanted = None if in_board is None else pytest.approx(in_board)
        assert [hole.depth for hole in behind] == [wanted] * 2


def test_a_cover_that_hangs_has_the_screws_higher_above_its_own_edge(lay: Lay) -> None:
    cover = of_side(lay(tray=TRAY, cover=WALL | {"below_lip": "40 mm"}).covers, "front")
    assert cover is not None
    assert [hole.v for hole in hung(cover.holes)] == pytest.approx([25 + 40] * 2)


def test_a_cover_that_ends_below_the_screws_leaves_them_on_the_board(lay: Lay) -> None:
    high = TRAY | {"height": "45 mm"}
    low = WALL | {"width": "43.5 mm"}  # as high as the lower side of the pilots
    layout = lay(tray=high, cover=low)
    cover = of_side(layout.covers, "front")
    assert cover is not None
    assert hung(cover.holes) == []
    assert [hole.depth for hole in hung(layout.board("front").holes)] == [pytest.approx(12.7)] * 2
    with pytest.raises(BuildFileError) as refused:
        lay(tray=high, cover=WALL | {"width": "43.6 mm"})
    (problem, *_) = refused.value.problems
    assert problem.key == "cover.width"
    assert "the tray's screw" in problem.wanted


def test_the_captions_say_where_the_pilots_go_on(lay: Lay) -> None:
    def said(**change: Any) -> str:
        layout = lay(tray=TRAY, **change)
        board = layout.board("front")
        return "\n".join(board_captions(board, layout.taps, "mm", layout.over(board)))

    bare, covered = said(), said(cover=WALL)
    assert "tray-1: pilot 3 mm, center 369.9 mm from the left long point" in bare
    assert "25 mm from the bottom edge; 12.7 mm deep from the outer face." in bare
    assert "assumed" not in bare
    assert "The tray's pilots go on from the cover" not in bare
    assert "The tray's pilots go on from the cover" in covered


def test_screws_that_come_out_inside_are_told_where_there_is_foam(design_a: Design) -> None:
    def told(depth: str, **change: Any) -> bool:
        project = design_a(tray=TRAY | {"depth": depth}, **change)
        said = "tray's holes go right through the front board"
        return any(said in each for each in remarks(project, lay_out(project)))

    assert told("30 mm")
    assert not told("19 mm")
    assert not told("30 mm", foam=None)


# --- refused --------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["height", "offset"])
def test_what_may_touch_and_what_is_beyond_the_board(lay: Lay, key: str) -> None:
    """Its circle of 3 mm must stay 1.5 mm from the edges and the short points."""
    far = FRONT / 2 - T - 1.5
    ends = {"height": (1.5, HIGH - 1.5), "offset": (-far, far)}[key]
    one = {"count": 1, "spacing": None, "offset": "200 mm", "height": "25 mm", "pilot": "3 mm"}
    for end, outward in zip(ends, (-1, 1), strict=True):
        for inside in (end - outward * 0.01, end):
            assert places(lay(tray=one | {key: f"{inside:.9f} mm"}))
        with pytest.raises(BuildFileError) as refused:
            lay(tray=one | {key: f"{end + outward * 0.01:.6f} mm"})
        assert [problem.key for problem in refused.value.problems] == [f"tray.{key}"]


def test_the_wall_of_the_freezer_is_named_where_screws_are_too_low(lay: Lay) -> None:
    with pytest.raises(BuildFileError) as low:
        lay(tray=TRAY | {"height": "1 mm"})
    with pytest.raises(BuildFileError) as high:
        lay(tray=TRAY | {"height": "139 mm"})
    assert "wall is never drilled" in low.value.problems[0].wanted
    assert "wall" not in high.value.problems[0].wanted


@pytest.mark.parametrize(
    ("change", "key", "said"),
    [
        # taps at 469.9 - 76.2, 469.9, 469.9 + 76.2; the flange is wider than the bore of 25.4
        ({"tray": {"height": "60 mm", "offset": "100 mm"}}, "tray.height", "the flange of tap 2"),
        ({"tray": {"height": "60 mm", "offset": "100 mm"}, "taps": {"shank": None}},
         "tray.height", "tap 2's bore"),
        ({"tray": {"spacing": "2.9 mm"}}, "tray.spacing", "into tray-1"),
        ({"hole": [{"side": "front", "height": "25 mm", "diameter": "16 mm",
                    "offset": "108 mm", "name": "hose"}]}, "tray.height", "1.5 mm into hose"),
        # a dowel a quarter of the width up, and deeper into the board than its inner face begins:
        # screws 20.9 mm from the ends
        ({"tray": {"spacing": "898 mm", "height": "35 mm"}, "board": {"corner": "dowel"}},
         "tray.offset", "into dowel-front-left-1"),
        ({"tray": {"positions": ("-449 mm", "449 mm"), "count": None, "spacing": None,
                   "height": "35 mm"}, "board": {"corner": "dowel"}},
         "tray.positions", "into dowel-front-left-1"),
    ],
)  # fmt: skip
def test_screws_where_something_else_is_are_refused(
    lay: Lay, change: dict[str, Any], key: str, said: str
) -> None:
    change = {**change, "tray": TRAY | change.get("tray", {})}
    with pytest.raises(BuildFileError) as refused:
        lay(**change)
    problem = refused.value.problems[0]
    assert problem.key == key
    assert said in f"{problem.read} {problem.wanted}"


def test_beside_a_flange_there_is_room_up_to_its_edge(lay: Lay) -> None:
    layout = lay()
    assert layout.taps[1].shank is not None
    away = layout.taps[1].shank.flange_diameter / 2 + 1.5
    one = {"count": 1, "spacing": None, "pilot": "3 mm"}
    assert places(lay(tray=one | {"height": f"{69.85 - away:.9f} mm"}))
    with pytest.raises(BuildFileError):
        lay(tray=one | {"height": f"{69.86 - away:.9f} mm"})


# --- judged ---------------------------------------------------------------------------------------

LEAVES = {
    "axis_behind": "10 mm", "axis_above": "-5 mm", "positions": ("-300 mm", "300 mm"),
    "leaf_width": "40 mm", "leaf_height": "60 mm", "leaf_thickness": "2 mm", "fix": "screw",
    "screw": "wood-screw-no-8", "screws": 2, "screw_length": "30 mm",
}  # fmt: skip


def test_a_hinge_leaf_keeps_clear_of_the_trays_screws(findings: Find) -> None:
    back = TRAY | {"side": "back", "spacing": "520 mm", "height": "100 mm"}
    rooms = [each for each in findings("hinge-fit", hinge=LEAVES, tray=back)
             if "room from the leaf" in each.why]  # fmt: skip
    # screws 260 mm from the middle, leaves from 280 to 320
    assert [each.measured for each in rooms] == [pytest.approx(20 - 1.5)] * 2
    assert {each.why for each in rooms} == {
        "room from the leaf to tray-1", "room from the leaf to tray-2"
    }  # fmt: skip


@pytest.mark.parametrize(("depth", "what"), [("30 mm", "tray-2"), ("12 mm", "passage")])
def test_a_manifold_keeps_clear_of_screws_that_come_out_inside(
    findings: Find, depth: str, what: str
) -> None:
    manifold = {"length": "200 mm", "height": "60 mm", "depth": "40 mm", "side": "back"}
    far = {"side": "back", "height": "70 mm", "diameter": "10 mm", "offset": "-150 mm"}
    back = TRAY | {"side": "back", "height": "70 mm", "spacing": "230 mm", "depth": depth,
                   "offset": "1 mm"}  # fmt: skip
    (found,) = findings("manifold", manifold=manifold, tray=back, hole=[far])
    # the manifold ends at 100 mm left and right, screws are at -114 and 116, the passage at -150
    assert found.measured == pytest.approx(14 - 1.5 if depth == "30 mm" else 45)


def test_as_built_the_tray_stays_below_the_drawn_taps(design_a: Design) -> None:
    bore = {"tap": 1, "from_left": "400 mm"}
    made = Built.model_validate({"front": "941.8 mm", "bore": (bore,)})
    layout = lay_out(as_built(replace(design_a(tray=TRAY), built=made)))
    assert layout.taps[0].u == 400
    assert [u for u, _ in places(layout)] == pytest.approx([470.9 - 100, 470.9 + 100])
