"""What the layout tells of the parts: worked by hand, and beside the kernel's own measures."""

import dataclasses
import math
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.contour import Vertex
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.lining import Panel
from collarwright.outputs import model
from collarwright.outputs.readback import step
from collarwright.outputs.verify import told
from collarwright.params.project import SIDES

Lay = Callable[..., Layout]
FULL: dict[str, Any] = {
    "lip": {"front": "37 in", "back": "940 mm"},
    "board": {"bracket": "bracket-2x2-in"},
    "taps": {
        "count": 3,
        "spacing": "90 mm",
        "faucet": "faucet-forward-sealing",
        "handle": "handle-short-knob",
    },
    "manifold": {"length": "250 mm", "height": "60 mm", "depth": "40 mm", "side": "back"},
    "lid": {
        "overhang": "10 mm", "thickness": "60 mm", "skirt": "25 mm", "skirt_thickness": "8 mm",
        "plug": "20 mm", "plug_inset": "60 mm",
    },
    "hinge": {
        "axis_behind": "20 mm", "axis_above": "-15 mm", "positions": ("-300 mm", "300 mm"),
        "leaf_height": "60 mm", "leaf_width": "40 mm", "leaf_thickness": "2 mm",
    },
    "well": {"length": "760 mm", "width": "360 mm", "height": "700 mm"},
}  # fmt: skip


def panel(*holes: Hole) -> Panel:
    return Panel(side="front", length=400.0, width=100.0, thickness=25.0, start=0.0, holes=holes)


def cut(u: float, v: float, **size: float) -> Hole:
    return Hole(name=f"at {u:g}", purpose="pocket", u=u, v=v, **size)


# --- boxes of lines with arcs ---------------------------------------------------------------------


def extremes(*loop: Vertex) -> tuple[float, float, float, float]:
    points = list(told.extremes(loop))
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_a_half_circle_reaches_its_radius_beyond_its_ends() -> None:
    # Bulge 1 is half a circle to the right of the way; counterclockwise from (0, 0) to (10, 0).
    assert extremes(Vertex(0, 0, 1.0), Vertex(10, 0)) == pytest.approx((0, -5, 10, 0))
    assert extremes(Vertex(0, 0, -1.0), Vertex(10, 0)) == pytest.approx((0, 0, 10, 5))
    assert extremes(Vertex(0, 0, 1.0), Vertex(10, 0, 1.0)) == pytest.approx((0, -5, 10, 5))


@pytest.mark.parametrize("turn", [0.0, 0.4, 1.3, 2.9, 4.4, 5.9])
@pytest.mark.parametrize("sweep", [0.5, 1.6, 3.0, -0.5, -1.6, -3.0])
def test_an_arc_reaches_as_far_as_the_densest_points_on_it(turn: float, sweep: float) -> None:
    def at(angle: float) -> tuple[float, float]:
        return 30 + 7 * math.cos(angle), -12 + 7 * math.sin(angle)

    dense = [at(turn + sweep * k / 20000) for k in range(20001)]
    xs, ys = zip(*dense, strict=True)
    # Bulge: the tangent of a quarter of the angle (DXF reference, LWPOLYLINE group 42).
    loop = Vertex(*at(turn), math.tan(sweep / 4)), Vertex(*at(turn + sweep))
    found = extremes(*loop)
    assert found == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-6)


def test_a_panel_whose_end_is_cut_away_by_a_round_pocket_ends_at_the_arc() -> None:
    # A pocket of 120 mm about the middle of the left end takes both left corners away: the panel
    # begins at x = sqrt(60^2 - 50^2) at its edges.
    box = told.flat_box(panel(cut(0.0, 50.0, diameter=120.0)))
    assert box is not None
    assert box[0] == pytest.approx((math.sqrt(60**2 - 50**2), 0.0, 0.0))
    assert box[1] == (400.0, 100.0, 25.0)


def test_a_panel_of_which_nothing_is_left_has_no_box() -> None:
    assert told.flat_box(panel(cut(200.0, 50.0, length=400.0, height=100.0))) is None


def test_how_far_a_taps_parts_reach_along_its_axis(lay: Lay) -> None:
    # A shank of 104.8 mm through 19.05 mm of board and 3 mm of washer, its flange 6 mm thick.
    tap = lay(taps={"count": 1}).taps[0]
    shank = tap.shank
    assert shank is not None
    found = {name: (span.low, span.high) for name, span in told.spans(tap).items()}
    assert found == {
        "shank-1": pytest.approx((-104.8, 6 + shank.collar_projection)),
        "ring-1": pytest.approx((6, 6 + shank.ring_length)),
        "washer-1": pytest.approx((-22.05, -19.05)),
        "nut-1": pytest.approx((-31.05, -22.05)),
        "tail-nut-1": pytest.approx((-104.8, -90.8)),
        "tailpiece-1": pytest.approx((-104.8 - shank.tailpiece_length, -104.8)),
    }
    thin = dataclasses.replace(tap, washer_diameter=10.0)
    assert "washer-1" not in told.spans(thin)
    assert told.spans(dataclasses.replace(tap, shank=None)) == {}


# --- names, boxes and volumes beside the kernel's own ---------------------------------------------


@pytest.fixture(scope="module")
def full(lay: Lay) -> Layout:
    return lay(**FULL)


@pytest.mark.kernel
def test_names_boxes_and_volumes_are_those_that_the_kernel_measures(full: Layout) -> None:
    parts = {p.name: p for p in import_module("collarwright.geometry.solids.parts").parts(full)}
    assert told.names(full) == set(parts)
    volumes, boxes = told.volumes(full), told.boxes(full)
    assert set(volumes) == set(boxes) == {
        *(f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES),
        "manifold", "lid", "lip", "well", "hinge-1", "hinge-2",
    }  # fmt: skip
    for name, volume in volumes.items():
        assert parts[name].flat.Volume() == pytest.approx(volume, rel=1e-9)
        corners = [v.toTuple() for v in parts[name].shape.Vertices()]
        axes = list(zip(*map(boxes[name].own, corners), strict=True))
        assert tuple(map(min, axes)) == pytest.approx(boxes[name].low, abs=1e-6)
        assert tuple(map(max, axes)) == pytest.approx(boxes[name].high, abs=1e-6)


@pytest.mark.kernel
def test_the_readers_volume_is_the_kernels_where_a_bore_goes_through_a_miter(
    lay: Lay, tmp_path: Path
) -> None:
    # On the miter the bore's edge is half an ellipse; the kernel integrates in its own way.
    kernel = import_module("collarwright.geometry.solids.kernel")
    boards = import_module("collarwright.geometry.solids.boards")
    part_ = import_module("collarwright.geometry.solids.part")
    writer = import_module("collarwright.geometry.solids.step")
    board = lay().board("front")
    holes = (
        Hole(name="through the miter", purpose="bore", u=12.0, v=70.0, diameter=30.0),
        Hole(name="through the end", purpose="bore", u=930.0, v=20.0, diameter=50.0),
        Hole(name="pilot", purpose="pilot", u=400.0, v=70.0, diameter=3.0, depth=9.0),
    )
    (solid,) = kernel.cut(boards.blank(board), [kernel.tool(h, board.thickness) for h in holes])
    part = part_.Part(
        name="board-odd", group="board", product="board-odd", made=True, flat=solid,
        location=kernel.frame(board, 0.0, 0.0, 0.0), sizes="",
    )  # fmt: skip
    writer.write_part(tmp_path / "board-odd.step", part, "x")
    (found,) = step.read(tmp_path / "board-odd.step").products
    assert "ELLIPSE" in (tmp_path / "board-odd.step").read_text()
    assert found.volume == pytest.approx(solid.Volume(), rel=1e-9)
    box = solid.BoundingBox()
    assert found.low == pytest.approx((box.xmin, box.ymin, box.zmin), abs=1e-5)
    assert found.high == pytest.approx((box.xmax, box.ymax, box.zmax), abs=1e-5)


@pytest.mark.kernel
def test_what_has_edges_of_another_kind_has_no_volume(full: Layout, tmp_path: Path) -> None:
    model.write(full, tmp_path, "x")
    file = step.read(tmp_path / "model/collar.step")
    # a faucet's spout and lever meet its body in curves that are no circles
    assert {p.name for p in file.products if p.volume is None} == {"faucet"}
    # A ring is a tube, a hexagon of the nut is 2 sqrt(3) r^2 about a hole (textbook formulas).
    shank = full.taps[0].shank
    assert shank is not None
    hole = math.pi * shank.thread_diameter**2 / 4
    ring = (math.pi * shank.ring_diameter**2 / 4 - hole) * shank.ring_length
    nut = (math.sqrt(3) / 2 * shank.nut_across_flats**2 - hole) * shank.nut_thickness
    assert file.product("ring").volume == pytest.approx(ring, rel=1e-9)
    assert file.product("nut").volume == pytest.approx(nut, rel=1e-9)
    assert file.product("ring").low[:2] == pytest.approx((-shank.ring_diameter / 2,) * 2)
