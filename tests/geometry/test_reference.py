"""Lid, hinge leaves, lip and well in the model, against sums on paper."""

from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.params.project import Project, Well

pytestmark = pytest.mark.kernel

Make = Callable[..., Project]
W, D, HEIGHT = 939.8, 533.4, 139.7  # 37 x 21 in, 1x6
LID: dict[str, Any] = {
    "overhang": {"front": "12 mm", "right": "5 mm", "back": "8 mm", "left": "6 mm"},
    "thickness": "60 mm",
}
LEAVES = {
    "positions": ("-300 mm", "300 mm", "100 mm"),
    "leaf_width": "40 mm",
    "leaf_height": "90 mm",
    "leaf_thickness": "3 mm",
}


def near(*values: float) -> Any:
    return pytest.approx(values, abs=1e-6)


def bodies(layout: Layout) -> dict[str, Any]:
    parts = import_module("collarwright.geometry.solids.parts").parts(layout)
    names = [part.name for part in parts]
    assert len(names) == len(set(names))
    return {part.name: part for part in parts if part.reference}


def box(part: Any) -> tuple[float, ...]:
    found = part.shape.BoundingBox(1e-6)
    return found.xmin, found.xmax, found.ymin, found.ymax, found.zmin, found.zmax


def test_nothing_is_drawn_that_was_not_measured(design_a: Make) -> None:
    assert set(bodies(lay_out(design_a(lid=None, lip={"land": None})))) == set()
    few = {"positions": ("0 mm",), "leaf_width": "40 mm", "leaf_height": "90 mm"}
    lid = {"overhang": {"front": "5 mm"}, "thickness": "60 mm"}
    half = design_a(lip={"land": None}, lid=lid, hinge=few)
    assert set(bodies(lay_out(half))) == set()
    well = replace(design_a(lip={"land": None}), well=Well(length="800 mm", width="400 mm"))  # type: ignore[arg-type]
    assert set(bodies(lay_out(well))) == set()


def test_the_lid_lies_closed_on_the_collar_with_its_skirt_and_plug(design_a: Make) -> None:
    lid = {
        **LID,
        "skirt": {"front": "40 mm", "right": "30 mm", "back": "0 mm", "left": "30 mm"},
        "skirt_thickness": {"front": "4 mm", "right": "3 mm", "back": "3 mm", "left": "3 mm"},
        "plug": "25 mm",
        "plug_inset": "70 mm",
    }
    found = bodies(lay_out(design_a(lid=lid)))["lid"]
    long, deep = W + 5 + 6, D + 12 + 8
    assert box(found) == near(-6, W + 5, -12, D + 8, HEIGHT - 40, HEIGHT + 60)
    # Front skirt over the whole width, sides behind it, none at the back; plug 70 mm in all round.
    volume = long * deep * 60 + long * 4 * 40 + 2 * (deep - 4) * 3 * 30
    volume += (long - 140) * (deep - 140) * 25
    assert found.flat.Volume() == pytest.approx(volume, rel=1e-9)
    assert len(found.flat.Solids()) == 1
    assert found.group == "lid"


def test_a_lid_without_skirt_is_a_slab(design_a: Make) -> None:
    found = bodies(lay_out(design_a(lid={**LID, "skirt": None})))["lid"]
    assert box(found) == near(-6, W + 5, -12, D + 8, HEIGHT, HEIGHT + 60)
    assert found.flat.Volume() == pytest.approx((W + 11) * (D + 20) * 60, rel=1e-9)


def test_a_plug_that_reads_as_in_the_skirt_is_drawn_inside_it(design_a: Make) -> None:
    skirt = {"skirt": "30 mm", "skirt_thickness": "5 mm"}
    lid = {**LID, **skirt, "plug": "25 mm", "plug_inset": "2 mm"}
    found = bodies(lay_out(design_a(lid=lid)))["lid"]
    long, deep = W + 11, D + 20
    volume = long * deep * 60 + 2 * long * 5 * 30 + 2 * (deep - 10) * 5 * 30
    volume += (long - 10) * (deep - 10) * 25
    assert found.flat.Volume() == pytest.approx(volume, rel=1e-9)


def test_leaves_hang_from_the_back_boards_top_edge(design_a: Make) -> None:
    found = bodies(lay_out(design_a(hinge=LEAVES)))
    # Seen from behind, + is toward the freezer's left, that is toward smaller x.
    for n, x in ((1, W / 2 + 300), (2, W / 2 - 300), (3, W / 2 - 100)):
        leaf = found[f"hinge-{n}"]
        assert box(leaf) == near(x - 20, x + 20, D, D + 3, HEIGHT - 90, HEIGHT)
        assert leaf.flat.Volume() == pytest.approx(40 * 90 * 3, rel=1e-9)
        assert leaf.product == "hinge"


def test_the_lip_is_a_ring_as_wide_as_its_land(design_a: Make) -> None:
    found = bodies(lay_out(design_a(lip={"land": "50 mm", "land_starts": "3 mm"})))["lip"]
    assert box(found) == near(3, W - 3, 3, D - 3, -20, 0)
    area = (W - 6) * (D - 6) - (W - 106) * (D - 106)
    assert found.flat.Volume() == pytest.approx(20 * area, rel=1e-9)


def test_lands_that_would_meet_are_not_drawn(design_a: Make) -> None:
    # 2 x 270 mm is more than 533.4 mm.
    assert lay_out(design_a(lip={"land": "270 mm"})).reference.lip is None
    assert lay_out(design_a(lip={"land": "260 mm"})).reference.lip is not None


@pytest.mark.parametrize(
    ("places", "x", "y"),
    [({}, (W - 800) / 2, (D - 400) / 2), ({"front": "70 mm", "left": "60 mm"}, 60.0, 70.0)],
)
def test_the_well_is_a_thin_shell_open_at_the_top(
    design_a: Make, places: dict[str, Any], x: float, y: float
) -> None:
    well = Well(**{"length": "800 mm", "width": "400 mm", "height": "600 mm", **places})
    found = bodies(lay_out(replace(design_a(), well=well)))["well"]
    assert box(found) == near(x - 2, x + 802, y - 2, y + 402, -602, 0)
    assert found.flat.Volume() == pytest.approx(804 * 404 * 602 - 800 * 400 * 600, rel=1e-9)


def test_a_floor_smaller_than_the_mouth_is_centered_under_it(design_a: Make) -> None:
    sizes = {"length": "700 mm", "mouth_length": "800 mm", "width": "400 mm", "height": "600 mm"}
    layout = lay_out(replace(design_a(), well=Well(**sizes, left="60 mm")))  # type: ignore[arg-type]
    shell = layout.reference.well
    assert shell is not None
    assert (shell.inside.low[0], shell.inside.high[0]) == near(110, 810)
