"""What a build file asks for and does not get is said, and nothing else is.

Design A: boards 139.7 mm wide, foam 25.4 mm; the left panel stands between two others and is
533.4 - 2 x 19.05 - 2 x 25.4 = 444.5 mm long.
"""

from collections.abc import Callable
from typing import Any

from collarwright.geometry.judge.evaluate import remarks
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import Project

Make = Callable[..., Project]
HINGE = {"positions": ("0 mm",), "screws": 3, "screw": "wood-screw-no-8", "fix": "screw"}


def said(project: Project) -> str:
    """Return every remark on a design."""
    return "\n".join(remarks(project, lay_out(project)))


def test_of_design_a_there_is_nothing_to_remark(design_a: Make) -> None:
    assert said(design_a()) == ""


def test_a_panel_in_pieces_or_gone_is_told(design_a: Make) -> None:
    def manifold(length: str) -> dict[str, Any]:
        return {"length": length, "height": "139.7 mm", "depth": "40 mm", "side": "left"}

    assert "foam-left falls into 2 pieces" in said(design_a(manifold=manifold("300 mm")))
    assert "nothing is left of foam-left" in said(design_a(manifold=manifold("444.6 mm")))
    low = manifold("300 mm") | {"height": "100 mm"}
    assert said(design_a(manifold=low)) == ""


def test_pilots_beyond_the_wood_are_told(design_a: Make) -> None:
    # three screws over a leaf of 120 mm: the lowest 100 mm under the top edge, 39.7 above the lip;
    # over 180 mm: 150 mm under it, below the lip
    lost = "not drilled, beyond the wood"
    assert lost not in said(design_a(hinge=HINGE | {"leaf_height": "120 mm"}))
    found = said(design_a(hinge=HINGE | {"leaf_height": "180 mm"}))
    assert f"{lost}: back board: hinge-1-3" in found.splitlines()


def test_holes_that_are_only_set_out_are_told(design_a: Make) -> None:
    """Where a bought leaf or bracket has its holes no build file says."""
    hinge = said(design_a(hinge=HINGE | {"leaf_height": "120 mm"}))
    assert hinge == (
        "hinge holes are assumed, set out evenly along the leaf: mark through the real leaf before"
        " drilling"
    )
    assert said(design_a(hinge=HINGE)) == ""
    both = said(
        design_a(hinge=HINGE | {"leaf_height": "120 mm"}, board={"bracket": "bracket-2x2-in"})
    )
    assert "mark through the real leaf" in both and "mark through the real bracket" in both


def test_what_of_the_hinges_fastening_is_not_cut_out_of_the_foam_is_told(design_a: Make) -> None:
    bolts = HINGE | {"leaf_height": "120 mm", "fix": "bolt", "bolt": "6 mm", "screw": None}
    assert "hinge.bolt_washer is not given" in said(design_a(hinge=bolts))
    assert "hinge.bolt_washer" not in said(design_a(hinge=bolts | {"bolt_washer": "20 mm"}))
    block = said(design_a(hinge=HINGE | {"backing": "19 mm"}))
    assert "cut the back foam around it by your own marks" in block
    assert said(design_a(hinge=HINGE | {"backing": "0 mm"})) == ""
    assert said(design_a(hinge=HINGE | {"backing": "19 mm"}, foam=None)) == ""


def test_cover_cap_and_corners_are_drawn_and_need_no_remark(design_a: Make) -> None:
    assert said(design_a(cover={"thickness": "19 mm", "below_lip": "20 mm"})) == ""
    cap = {"material": "wood", "thickness": "19 mm", "width": "19 mm"}
    assert said(design_a(cap=cap)) == ""
    assert said(design_a(board={"corner": "spline"})) == ""


def test_a_cover_that_the_body_is_in_the_way_of_is_told(design_a: Make) -> None:
    # A lip 6 mm out of parallel under a square collar of the mean sides: 939.8 in front and 945.8
    # behind, so each side face stands 1.5 mm inside the lip's back corner.
    lip = {
        "front": "939.8 mm", "back": "945.8 mm", "left": "533.4 mm", "right": "533.4 mm",
        "front_left_to_back_right": "1083.226 mm",
    }  # fmt: skip
    cover = {"thickness": "19 mm", "below_lip": "20 mm", "sides": ("left",)}
    found = said(design_a(lip=lip, cover=cover))
    assert found.startswith("cover-left hangs over the body, but the collar's face lies 1.5 mm")
    assert "make board.overhang.left larger by 1.5 mm, or put a shim of 1.5 mm" in found
    assert said(design_a(lip=lip, cover=cover | {"below_lip": "0 mm"})) == ""
    # within the tape's error there may be nothing in the way
    assert said(design_a(lip=lip | {"tape": "1.6 mm"}, cover=cover)) == ""
    assert said(design_a(lip=lip | {"tape": "1.4 mm"}, cover=cover)) == found
