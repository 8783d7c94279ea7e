"""A design that has everything: every part is there under our words, once, and stands where it may.

Places are held against what they mean (outside, inside, above), by the GLB's triangles.
"""

import math
from pathlib import Path

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.readback import glb, step
from typer.testing import CliRunner

pytestmark = pytest.mark.kernel

SIDES = ("front", "right", "back", "left")
TEXT = """
title = "Kombucha, soda and still cider in a laundry room"
[lip]
front = "940 mm"
right = "530 mm"
back = "940 mm"
left = "530 mm"
land = "50 mm"
[board]
thickness = "20 mm"
width = "140 mm"
bracket = "bracket-2x2-in"
[taps]
count = 3
spacing = "100 mm"
height = "76 mm"
bore = "25 mm"
shank = "shank-4-1-8-in"
washers = "3 mm"
washer_diameter = "50 mm"
faucet = "faucet-stout-nitrogen"
handle = "handle-short-knob"
[foam]
thickness = "25 mm"
pocket = "70 mm"
[manifold]
length = "150 mm"
height = "60 mm"
depth = "40 mm"
side = "back"
[lid]
overhang = "20 mm"
thickness = "60 mm"
skirt = { front = "0 mm", right = "25 mm", back = "0 mm", left = "25 mm" }
skirt_thickness = "6 mm"
plug = "25 mm"
plug_inset = "90 mm"
[hinge]
axis_behind = "19 mm"
axis_above = "-12 mm"
positions = ["-250 mm", "250 mm"]
leaf_height = "76 mm"
leaf_width = "38 mm"
leaf_thickness = "3 mm"
[well]
length = "760 mm"
width = "360 mm"
height = "700 mm"
"""
TAP = (
    "shank", "ring", "washer", "nut", "tail-nut", "tailpiece", "faucet", "handle",
)  # fmt: skip
NAMES = {
    *(f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES),
    *(f"{word}-{n}" for word in TAP for n in (1, 2, 3)),
    *(f"bracket-{c}" for c in ("front-left", "front-right", "back-right", "back-left")),
    *("manifold", "hinge-1", "hinge-2", "lid", "lip", "well"),
}


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("whole")
    (folder / "all.toml").write_text(TEXT)
    words = ["build", str(folder / "all.toml"), "--out", str(folder / "out"), "--only", "model"]
    done = CliRunner().invoke(app, words)
    assert done.exit_code in (0, 1), done.output
    return folder / "out/model"


def test_every_part_is_there_once_and_equal_ones_are_one_product(built: Path) -> None:
    file = step.read(built / "collar.step")
    assert sorted(each.name for each in file.placed) == sorted(NAMES)
    products = [each.name for each in file.products]
    made = [f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES]
    alike = [*TAP, "bracket", "manifold", "hinge", "lid", "lip", "well"]
    assert sorted(products) == sorted([*made, *alike])
    for each in file.placed:
        word = each.name if each.name in products else each.product
        assert each.product == word
        assert each.name.startswith(word)
    # One solid a product, and no two products are the same solid.
    assert {each.solids for each in file.products} == {1}
    seen = {
        (each.volume and round(each.volume, 3), each.low, each.high, each.cylinders)
        for each in file.products
        if not each.name.startswith(("board", "foam"))
    }
    assert len(seen) == len(alike)
    assert file.assemblies == ("collar",)


def test_each_made_part_has_a_file_of_one_product(built: Path) -> None:
    files = sorted(path.stem for path in built.glob("*.step") if path.stem != "collar")
    assert files == sorted(f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES)
    for name in files:
        (product,) = step.read(built / f"{name}.step").products
        assert (product.name, product.solids) == (name, 1)


def test_parts_stand_where_they_may(built: Path) -> None:
    nodes = {n.name: n for n in glb.read(built / "collar.glb") if n.vertices is not None}
    assert set(nodes) == NAMES

    def reach(name: str) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
        (x0, y0, z0), (x1, y1, z1) = nodes[name].box
        return (1e3 * x0, 1e3 * x1), (-1e3 * z1, -1e3 * z0), (1e3 * y0, 1e3 * y1)

    close = 0.01
    for n in (1, 2, 3):
        (_, ring), (_, faucet), (_, handle) = (
            reach(f"{word}-{n}")[1] for word in ("ring", "faucet", "handle")
        )
        # In front of the front board, whose outer face is y = 0.
        assert max(ring, faucet, handle) < close
        # The nut clamps the board through the washer, in the foam's pocket: 20 + 3 mm in.
        assert reach(f"washer-{n}")[1] == pytest.approx((20, 23), abs=close)
        assert reach(f"nut-{n}")[1][0] == pytest.approx(23, abs=close)
        assert reach(f"tail-nut-{n}")[1][1] <= reach(f"tailpiece-{n}")[1][0] + close
        # The handle stands on the faucet, over the lid's underside and beside its edge. It leans
        # back by 8 deg, so that the back of its 29 mm thick foot dips by 14.5 sin 8 deg.
        dips = 14.5 * math.sin(math.radians(8))
        top = reach(f"faucet-{n}")[2][1]
        assert reach(f"handle-{n}")[2][0] == pytest.approx(top - dips, abs=close)
        assert reach(f"handle-{n}")[1][1] < reach("lid")[1][0]
    # On the back board's inner face (530 - 20), between bottom and top.
    assert reach("manifold")[1] == pytest.approx((470, 510), abs=close)
    for n in (1, 2):
        assert reach(f"hinge-{n}")[1] == pytest.approx((530, 533), abs=close)
        assert reach(f"hinge-{n}")[2] == pytest.approx((64, 140), abs=close)
    # The lid over the collar by 20 mm all round; skirt and plug hang 25 mm below its plane.
    assert reach("lid") == (
        pytest.approx((-20, 960), abs=close),
        pytest.approx((-20, 550), abs=close),
        pytest.approx((115, 200), abs=close),
    )
    assert reach("lip")[2][1] == pytest.approx(0, abs=close)
    assert reach("well")[2] == pytest.approx((-702, 0), abs=close)
    for side in SIDES:
        assert reach(f"board-{side}")[2] == pytest.approx((0, 140), abs=close)
        assert reach(f"foam-{side}")[2] == pytest.approx((0, 140), abs=close)
    for corner in ("front-left", "front-right", "back-right", "back-left"):
        (x0, x1), (y0, y1), _ = reach(f"bracket-{corner}")
        assert x0 == pytest.approx(20, abs=close) or x1 == pytest.approx(920, abs=close)
        assert y0 == pytest.approx(20, abs=close) or y1 == pytest.approx(510, abs=close)
