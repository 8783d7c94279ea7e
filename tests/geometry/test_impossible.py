"""What stands outside its board or in another hole is refused by the key that asks for it.

Design A: boards 19.05 x 139.7 mm; the front is 939.8 mm long with 901.7 mm between its short
points, right and left are 533.4 and 495.3 mm; taps 76.2 mm apart with bores of 25.4 mm.
"""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.params.problem import BuildFileError

Lay = Callable[..., Layout]
FLANGE = 48.0  # pinned in conftest, mm
MANIFOLD = {"length": "200 mm", "height": "80 mm", "depth": "40 mm", "side": "back"}
HINGE = {"positions": ("-300 mm", "300 mm"), "leaf_width": "60 mm", "leaf_thickness": "2 mm"}


def keys(lay: Lay, **tables: Any) -> list[str]:
    """Return the keys that are complained about."""
    with pytest.raises(BuildFileError) as refused:
        lay(**tables)
    return [problem.key for problem in refused.value.problems]


def test_a_manifold_may_touch_the_inner_corners_and_no_more(lay: Lay) -> None:
    # (901.7 - 200) / 2 = 350.85 mm to either side, (139.7 - 80) / 2 = 29.85 up or down
    lay(manifold=MANIFOLD | {"offset": "350.8 mm"})
    lay(manifold=MANIFOLD | {"offset": "-350.8 mm", "centre": "40 mm"})
    assert keys(lay, manifold=MANIFOLD | {"offset": "350.9 mm"}) == ["manifold.offset"]
    assert keys(lay, manifold=MANIFOLD | {"centre": "39.9 mm"}) == ["manifold.centre"]
    assert keys(lay, manifold=MANIFOLD | {"height": "140 mm"}) == ["manifold.centre"]
    assert keys(lay, manifold=MANIFOLD | {"side": "left", "length": "496 mm"}) == [
        "manifold.offset"
    ]


def test_a_passage_has_wood_of_its_own(lay: Lay) -> None:
    # half of a bore and of a 10 mm passage: centers at least 17.7 mm apart; taps at half height
    near = {"side": "front", "height": "69.85 mm", "diameter": "10 mm"}
    bare = {"taps": {"shank": None}}
    lay(hole={**near, "offset": "17.8 mm"}, **bare)
    assert keys(lay, hole={**near, "offset": "17.6 mm"}, **bare) == ["hole[1].offset"]
    assert keys(lay, hole={**near, "offset": "0 mm"}, **bare) == ["hole[1].offset"]
    # under the flange, FLANGE across, there is no wood of its own either
    lay(hole={**near, "offset": f"{FLANGE / 2 + 5.1} mm"})
    assert keys(lay, hole={**near, "offset": f"{FLANGE / 2 + 4.9} mm"}) == ["hole[1].offset"]
    lay(hole={**near, "side": "back", "offset": "0 mm"})
    pair = [{**near, "side": "back", "offset": f"{x} mm"} for x in ("0", "9.9")]
    assert keys(lay, hole=pair) == ["hole[2].offset"]
    pair[1]["offset"] = "10.1 mm"
    lay(hole=pair)


def test_a_hinge_leaf_stands_between_the_short_points(lay: Lay) -> None:
    # 901.7 / 2 - 30 = 420.85 mm
    lay(hinge=HINGE | {"positions": ("-420.8 mm", "420.8 mm")})
    assert keys(lay, hinge=HINGE | {"positions": ("-300 mm", "420.9 mm", "2 m")}) == [
        "hinge.positions[2]",
        "hinge.positions[3]",
    ]


def test_a_hinge_screw_is_longer_than_its_leaf_is_thick(lay: Lay) -> None:
    lay(hinge=HINGE | {"screw_length": "2.1 mm"})
    assert keys(lay, hinge=HINGE | {"screw_length": "2 mm"}) == ["hinge.screw_length"]


def test_a_bracket_is_no_wider_than_the_board(lay: Lay) -> None:
    # pinned in conftest: 50.8 mm wide
    low = {"taps": {"bore": "20 mm"}, "lid": None}
    lay(board={"bracket": "bracket-2x2-in", "width": "50.9 mm"}, **low)
    assert keys(lay, board={"bracket": "bracket-2x2-in", "width": "50.7 mm"}, **low) == [
        "board.bracket"
    ]


def test_all_of_it_comes_at_once(lay: Lay) -> None:
    found = keys(
        lay,
        manifold=MANIFOLD | {"offset": "5 m"},
        hole={"side": "front", "height": "2 mm", "diameter": "10 mm"},
        hinge=HINGE | {"positions": ("2 m",)},
    )
    assert set(found) == {"manifold.offset", "hole[1].height", "hinge.positions[1]"}


def test_insets_that_leave_no_plug_are_refused(lay: Callable[..., Layout]) -> None:
    """The lid is 21 in and twice 5 mm deep, 543.4 mm: 272 mm from both sides leave nothing."""
    with pytest.raises(BuildFileError) as refused:
        lay(lid={"plug": "20 mm", "plug_inset": "272 mm"})
    (problem,) = refused.value.problems
    assert problem.key == "lid.plug_inset" and "543.4 mm" in problem.wanted
    lay(lid={"plug": "20 mm", "plug_inset": "271 mm"})
    lay(lid={"plug": "0 mm", "plug_inset": "272 mm"})
