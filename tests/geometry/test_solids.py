"""Solids against arithmetic on paper: volumes, places in the collar, and how parts lie flat.

The kernel is asked only for what it measures (volumes, boxes, distances, intersections); every
expected number is written out here. Shapely judges the plan of a skewed collar.
"""

import math
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from itertools import combinations
from typing import Any

import pytest
from collarwright.geometry import solids
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.lining import Panel
from collarwright.geometry.solids import SolidError

pytestmark = pytest.mark.kernel


class Later:
    """A module that is loaded when it is first used, so that collecting tests loads no kernel."""

    def __init__(self, name: str) -> None:
        self.name = name

    def __getattr__(self, attribute: str) -> Any:
        return getattr(import_module(self.name), attribute)


ROOM = "collarwright.geometry.solids"
cq, shapely = Later("cadquery"), Later("shapely")
boards, foam = Later(f"{ROOM}.boards"), Later(f"{ROOM}.foam")
kernel = Later(f"{ROOM}.kernel")
part_, parts_ = Later(f"{ROOM}.part"), Later(f"{ROOM}.parts")

Shape = Part = Any
Lay = Callable[..., Layout]

A = {"thickness": 19.05, "width": 139.7}
B = {"thickness": 38.1, "width": 184.15}
W, D = 939.8, 533.4  # 37 x 21 in
BORE, FOAM, POCKET = 25.4, 25.4, 60.0
SKEWED = {  # front-left corner 80 deg, no two sides parallel
    "front": "940 mm",
    "right": "610 mm",
    "back": "900 mm",
    "left": "560 mm",
    "front_left_to_back_right": "1040 mm",
}


def close(value: float, rel: float = 1e-9) -> Any:
    return pytest.approx(value, rel=rel)


def near(*values: float) -> Any:
    return pytest.approx(values, abs=1e-6)


def by_name(layout: Layout) -> dict[str, Part]:
    found = parts_.parts(layout)
    named = {part.name: part for part in found}
    assert len(named) == len(found)
    return named


def box(shape: Shape) -> tuple[float, ...]:
    """Return xmin, xmax, ymin, ymax, zmin, zmax, without the kernel's safety margin."""
    found = shape.BoundingBox(1e-6)
    return found.xmin, found.xmax, found.ymin, found.ymax, found.zmin, found.zmax


def shared(a: Shape, b: Shape) -> float:
    """Return the volume that two shapes have in common, mm3."""
    return a.intersect(b).Volume()


def inside(shape: Shape, *point: float) -> bool:
    return shape.Solids()[0].isInside(cq.Vector(*point), 1e-7)


def circle(diameter: float) -> float:
    return math.pi * diameter**2 / 4


def lens(diameter: float, apart: float) -> float:
    """Area that two equal circles have in common (circle-circle intersection)."""
    r = diameter / 2
    return 2 * r**2 * math.acos(apart / (2 * r)) - apart / 2 * math.sqrt(4 * r**2 - apart**2)


# --- boards: volumes ------------------------------------------------------------------------------


@pytest.mark.parametrize(("stock", "size"), [("board-1x6", A), ("dimension-2x8", B)])
def test_boards_of_the_two_designs_have_the_volume_worked_out_by_hand(
    lay: Lay, stock: str, size: dict[str, float]
) -> None:
    found = by_name(lay(board={"stock": stock}))
    t, w = size["thickness"], size["width"]
    # Square corners: a short point is two thicknesses shorter; three bores go through the front.
    plain = {"front": W, "back": W, "right": D, "left": D}
    for side, length in plain.items():
        expected = w * t * (length + length - 2 * t) / 2
        expected -= 3 * circle(BORE) * t if side == "front" else 0
        part = found[f"board-{side}"]
        assert part.flat.Volume() == close(expected)
        assert part.volume == close(expected)
        assert part.shape.Volume() == close(expected)


def test_a_skewed_collar_has_the_volume_of_its_ring(lay: Lay) -> None:
    layout = lay(lip=SKEWED, board={"follow": "lip"}, taps={"count": 1})
    outer = shapely.Polygon([(c.x, c.y) for c in layout.frame.corners])
    inner = outer.buffer(-A["thickness"], join_style="mitre", mitre_limit=10)
    ring = (outer.area - inner.area) * A["width"] - circle(BORE) * A["thickness"]
    made = [part.shape for part in parts_.parts(layout) if part.group == "board"]
    assert sum(shape.Volume() for shape in made) == close(ring)
    whole = made[0].fuse(*made[1:])
    assert whole.Volume() == close(ring)
    assert len(whole.Solids()) == 1


def test_a_skewed_collars_boards_are_the_quadrilaterals_between_its_corners(lay: Lay) -> None:
    layout = lay(lip=SKEWED, board={"follow": "lip"}, taps={"count": 1})
    corners = [(c.x, c.y) for c in layout.frame.corners]
    assert 60 < min(c.interior_deg for c in layout.frame.corners) < 85
    inner = shapely.Polygon(corners).buffer(-A["thickness"], join_style="mitre", mitre_limit=10)
    for i, side in enumerate(("front", "right", "back", "left")):
        shape = by_name(layout)[f"board-{side}"].shape
        there = {(round(v.X, 6), round(v.Y, 6)) for v in shape.Vertices()}
        ends = {(round(x, 6), round(y, 6)) for x, y in (corners[i], corners[(i + 1) % 4])}
        assert ends <= there
        for x, y in there - ends:
            if side != "front":
                assert inner.exterior.distance(shapely.Point(x, y)) < 2e-6


@pytest.mark.parametrize("change", [{}, {"lip": SKEWED, "board": {"follow": "lip"}}])
def test_neighbours_meet_in_their_miters_and_share_no_volume(
    lay: Lay, change: dict[str, Any]
) -> None:
    layout = lay(**{"taps": {"count": 1}, **change})
    made = [part.shape for part in parts_.parts(layout) if part.group == "board"]
    for i in range(4):
        a, b = made[i], made[(i + 1) % 4]
        assert shared(a, b) < 1e-3  # mm3, out of millions
        assert a.distance(b) == pytest.approx(0, abs=1e-9)
        assert made[i].distance(made[(i + 2) % 4]) > 100


def test_holes_of_any_depth_that_run_into_each_other_are_counted_once(lay: Lay) -> None:
    board = replace(
        lay().board("right"),
        holes=(
            Hole(name="a", purpose="bore", u=200, v=70, diameter=30),
            Hole(name="b", purpose="bore", u=220, v=70, diameter=30),
            Hole(name="c", purpose="pilot", u=300, v=70, diameter=8, face="outer", depth=12),
            Hole(name="d", purpose="pilot", u=304, v=70, diameter=8, face="inner", depth=12),
        ),
    )
    t = A["thickness"]
    cut = (2 * circle(30) - lens(30, 20)) * t
    # The two pilots are 24 mm deep together, so they meet over what the board lacks of that.
    cut += 2 * circle(8) * 12 - lens(8, 4) * (24 - t)
    expected = A["width"] * t * (D - t) - cut
    part = boards.part(board)
    assert part.flat.Volume() == close(expected)
    assert part.volume == close(expected)


def test_a_pilot_is_as_deep_as_it_says_from_the_face_it_says(lay: Lay) -> None:
    pilots = (
        Hole(name="a", purpose="pilot", u=100, v=30, diameter=4, face="outer", depth=12),
        Hole(name="b", purpose="pilot", u=100, v=90, diameter=4, face="inner", depth=12),
    )
    flat = boards.part(replace(lay().board("left"), holes=pilots)).flat
    t = A["thickness"]
    assert not inside(flat, 100, 30, t - 11.9)
    assert inside(flat, 100, 30, t - 12.1)
    assert not inside(flat, 100, 90, 11.9)
    assert inside(flat, 100, 90, 12.1)


# --- boards: how they lie and where they stand ----------------------------------------------------


def test_a_board_lies_with_its_inner_face_down_and_its_long_points_up(lay: Lay) -> None:
    layout = lay(taps={"positions": ("-12 in", "5 in"), "height": "3 in"})
    flat = by_name(layout)["board-front"].flat
    t, w = A["thickness"], A["width"]
    assert box(flat) == near(0, W, 0, w, 0, t)
    faces = {round(face.Center().z, 6): face for face in cq.Workplane(flat).faces("|Z").vals()}
    assert set(faces) == {0, round(t, 6)}
    bores = 2 * circle(BORE)
    assert faces[round(t, 6)].Area() == close(W * w - bores)
    assert faces[0].Area() == close((W - 2 * t) * w - bores)
    # From the left long point, which is the board's left seen from outside, and its bottom edge.
    for u in (W / 2 - 304.8, W / 2 + 127):
        for z in (0.1, t - 0.1):
            assert not inside(flat, u, 76.2, z)
            assert not inside(flat, u, 76.2 + BORE / 2 - 0.01, z)
            assert inside(flat, u, 76.2 + BORE / 2 + 0.01, z)
    assert inside(flat, W / 2 + 304.8, 76.2, t / 2)


@pytest.mark.parametrize(
    ("side", "outer", "inner"),
    [  # a tap 200 mm to the right of the middle, seen from outside, on each side in turn
        ("front", (W / 2 + 200, 0), (W / 2 + 200, 19.05)),
        ("right", (W, D / 2 + 200), (W - 19.05, D / 2 + 200)),
        ("back", (W / 2 - 200, D), (W / 2 - 200, D - 19.05)),
        ("left", (0, D / 2 - 200), (19.05, D / 2 - 200)),
    ],
)
def test_a_bore_goes_through_its_board_where_the_tap_is(
    lay: Lay, side: str, outer: tuple[float, float], inner: tuple[float, float]
) -> None:
    tap = {"count": 1, "spacing": None, "offset": "200 mm", "side": side, "height": "50 mm"}
    found = by_name(lay(taps=tap))
    board = found[f"board-{side}"].shape
    rod = cq.Solid.makeCylinder(
        BORE / 2 - 0.01,
        19.05,
        cq.Vector(*outer, 50),
        cq.Vector(*inner, 50) - cq.Vector(*outer, 50),
    )
    assert shared(board, rod) == 0
    wider = cq.Solid.makeCylinder(
        BORE / 2 + 1, 19.05, cq.Vector(*outer, 50), cq.Vector(*inner, 50) - cq.Vector(*outer, 50)
    )
    assert shared(board, wider) == close(circle(BORE + 2) * 19.05 - circle(BORE) * 19.05)
    others = {"front", "right", "back", "left"} - {side}
    assert all(len(found[f"board-{other}"].flat.Faces()) == 6 for other in others)


def test_the_collar_stands_on_the_plane_of_the_lip_at_the_lips_corner(lay: Lay) -> None:
    made = [part.shape for part in parts_.parts(lay()) if part.group == "board"]
    assert box(cq.Compound.makeCompound(made)) == near(0, W, 0, D, 0, A["width"])
    over = lay(board={"overhang": {"front": "10 mm", "left": "6 mm", "right": "6 mm"}})
    made = [part.shape for part in parts_.parts(over) if part.group == "board"]
    assert box(cq.Compound.makeCompound(made)) == near(-6, W + 6, -10, D, 0, A["width"])


# --- foam -----------------------------------------------------------------------------------------


def test_foam_of_design_a_has_the_volume_worked_out_by_hand(lay: Lay) -> None:
    found = by_name(lay())
    long, short = W - 2 * A["thickness"], D - 2 * A["thickness"] - 2 * FOAM
    for side, length in {"front": long, "back": long, "right": short, "left": short}.items():
        expected = length * A["width"] * FOAM
        expected -= 3 * circle(POCKET) * FOAM if side == "front" else 0
        part = found[f"foam-{side}"]
        assert part.flat.Volume() == close(expected)
        assert part.volume == close(expected)
        assert box(part.flat) == near(0, length, 0, A["width"], 0, FOAM)


def test_foam_lies_on_the_boards_inner_face_and_shares_nothing(lay: Lay) -> None:
    for change in ({}, {"lip": SKEWED, "board": {"follow": "lip"}}, {"foam": {"order": "sides"}}):
        layout = lay(**{"taps": {"count": 1}, **change})
        found = by_name(layout)
        panels = [part for part in found.values() if part.group == "foam"]
        assert len(panels) == 4
        for a, b in combinations(panels, 2):
            assert shared(a.shape, b.shape) < 1e-3
        for panel in panels:
            board = found[panel.name.replace("foam", "board")].shape
            assert panel.shape.distance(board) == pytest.approx(0, abs=1e-9)
            for other in found.values():
                if other.group == "board":
                    assert shared(panel.shape, other.shape) < 1e-3


def test_foam_lies_flat_with_the_boards_face_up_and_its_left_end_at_the_origin(lay: Lay) -> None:
    layout = lay(
        manifold={"length": "200 mm", "height": "60 mm", "depth": "40 mm", "side": "back",
                  "offset": "100 mm", "centre": "50 mm"},
        foam={"below_top": "20 mm"},
    )  # fmt: skip
    part = by_name(layout)["foam-back"]
    length, width = W - 2 * A["thickness"], A["width"] - 20
    assert part.flat.Volume() == close((length * width - 200 * 60) * FOAM)
    # 100 mm to the right of the middle, seen from outside: toward the collar's left.
    assert not inside(part.flat, length / 2 + 199, 50, 1)
    assert inside(part.flat, length / 2 - 1, 50, 1)
    assert not inside(part.flat, length / 2 + 100, 79, 1)
    assert inside(part.flat, length / 2 + 100, 81, 1)
    y = D - A["thickness"] - FOAM / 2
    assert not inside(part.shape, W / 2 - 199, y, 50)
    assert inside(part.shape, W / 2 + 1, y, 50)
    # Its upper face lies on the board, and its lower one looks into the well.
    up = part.location * cq.Location(cq.Vector(0, 0, FOAM))
    assert up.toTuple()[0] == near(W - A["thickness"], D - A["thickness"], 0)
    assert box(part.shape) == near(
        A["thickness"], W - A["thickness"], D - A["thickness"] - FOAM, D - A["thickness"], 0, width
    )


@pytest.mark.parametrize("spacing", [59.0, 45.0, 60.0, 60.000001, 30.5])
def test_pockets_that_overlap_or_touch_are_cut_once(lay: Lay, spacing: float) -> None:
    layout = lay(taps={"count": 5, "spacing": f"{spacing} mm"})
    part = by_name(layout)["foam-front"]
    # Circles further apart than a radius only meet their neighbours, so nothing is in three.
    cut = 5 * circle(POCKET) - (4 * lens(POCKET, spacing) if spacing < POCKET else 0)
    expected = ((W - 2 * A["thickness"]) * A["width"] - cut) * FOAM
    assert part.flat.Volume() == close(expected)
    assert part.pieces == 1


def test_a_pocket_over_the_panels_edge_takes_what_is_inside(lay: Lay) -> None:
    part = by_name(lay(taps={"count": 1, "height": "20 mm"}))["foam-front"]
    r, below = POCKET / 2, 20.0
    # Circular segment beyond a chord at distance h: r^2 acos(h/r) - h sqrt(r^2 - h^2).
    segment = r**2 * math.acos(below / r) - below * math.sqrt(r**2 - below**2)
    expected = ((W - 2 * A["thickness"]) * A["width"] - (circle(POCKET) - segment)) * FOAM
    assert part.flat.Volume() == close(expected)


def panel(*holes: Hole, length: float = 400, width: float = 100) -> Panel:
    return Panel(side="front", length=length, width=width, thickness=25, start=0, holes=holes)


def opening(u: float, v: float, length: float, height: float) -> Hole:
    return Hole(name="o", purpose="opening", u=u, v=v, length=length, height=height)


def test_a_panel_that_is_cut_through_is_one_part_of_two_pieces(lay: Lay) -> None:
    layout = lay()
    cut = panel(opening(100, 50, 60, 100))
    part = foam.part(cut, layout.board("front"))
    assert part is not None
    assert part.pieces == 2
    assert sorted(s.Volume() for s in part.flat.Solids()) == [close(70 * 2500), close(270 * 2500)]
    found = parts_.model(replace(layout, panels=(cut, *layout.panels[1:])))
    assert [part.name for part in found.made].count("foam-front") == 1


def test_a_panel_of_which_nothing_is_left_is_left_out_and_named(lay: Lay) -> None:
    layout = lay()
    gone = panel(opening(200, 50, 500, 200))
    assert foam.part(gone, layout.board("front")) is None
    found = parts_.model(replace(layout, panels=(gone, *layout.panels[1:])))
    assert "foam-front" not in {part.name for part in found.parts}


# --- many taps, names, colors ---------------------------------------------------------------------


def test_twenty_four_taps(lay: Lay) -> None:
    layout = lay(
        lip={"front": "100 in", "back": "100 in"},
        taps={"count": 24, "faucet": "faucet-rear-sealing"},
    )
    found = by_name(layout)
    t, w = A["thickness"], A["width"]
    assert found["board-front"].flat.Volume() == close(w * t * (2540 - t) - 24 * circle(BORE) * t)
    for word in ("shank", "nut", "washer", "ring", "tail-nut", "tailpiece", "faucet", "handle"):
        assert {f"{word}-{n}" for n in range(1, 25)} <= set(found)
        assert len({id(found[f"{word}-{n}"].flat) for n in range(1, 25)}) == 1
        assert {found[f"{word}-{n}"].product for n in range(1, 25)} == {word}


def test_names_are_the_words_of_the_trade_and_none_comes_twice(lay: Lay) -> None:
    layout = lay(
        board={"bracket": "bracket-2x2-in"},
        manifold={"kind": "manifold-3-outlet-compact", "side": "back"},
        taps=[{"count": 2}, {"count": 1, "side": "right", "shank": "100 mm", "washers": "0 mm"}],
    )
    found = by_name(layout)
    sides, taps = ("front", "right", "back", "left"), (1, 2, 3)
    each = ("shank", "ring", "nut", "tail-nut", "tailpiece", "handle")
    corners = ("front-left", "front-right", "back-right", "back-left")
    expected = {f"{group}-{side}" for group in ("board", "foam") for side in sides}
    expected |= {f"{word}-{n}" for word in each for n in taps} - {
        "handle-1",
        "handle-2",
        "handle-3",
    }
    expected |= {"washer-1", "washer-2", "manifold", "lip"} | {
        f"bracket-{corner}" for corner in corners
    }
    assert set(found) == expected
    assert {part.name for part in found.values() if part.made} == {
        name for name in expected if name.startswith(("board-", "foam-"))
    }
    assert found["shank-1"].product == found["shank-2"].product == "shank"
    assert found["shank-3"].product == "shank-kind-2"
    assert all(part.shape.isValid() and part.shape.Volume() > 0 for part in found.values())


def contrast(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """Return the contrast ratio of two colors, 1 to 21 (W3C, WCAG 2.1, "relative luminance").

    The threshold is sRGB's own, 0.04045 (IEC 61966-2-1); no channel lies between it and WCAG's.
    """

    def luminance(color: tuple[float, ...]) -> float:
        light = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in color]
        return 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]

    dark, bright = sorted(map(luminance, (one, other)))
    return (bright + 0.05) / (dark + 0.05)


def test_contrast_is_as_published() -> None:
    # Black and white are 21:1; #777777 on white is 4.48:1, just short of the 4.5 of level AA.
    assert contrast((0, 0, 0), (1, 1, 1)) == pytest.approx(21)
    assert contrast((119 / 255,) * 3, (1, 1, 1)) == pytest.approx(4.48, abs=5e-3)


def test_no_two_groups_have_the_same_color_or_the_same_grey() -> None:
    colors, palette = part_.PALETTE, import_module("collarwright.geometry.solids.palette")
    assert all(0 <= value <= 1 for color in colors.values() for value in color)
    assert len(set(colors.values())) == len(colors) == 21
    # Sixteen steps from black to white can be 21^(1/15) = 1.225 apart at most; more groups than
    # that share a grey with one that they never touch.
    assert min(contrast(a, b) for a, b in combinations(palette.GREYS.values(), 2)) > 1.19
    assert colors == palette.GREYS | palette.EXTRAS
    touching = (
        "board foam, board lid, board lip, board hinge, board bracket, board shank, board washer,"
        " board manifold, foam manifold, foam bracket, foam nut, foam lid, lip well, lid hinge,"
        " nut washer, nut shank, ring shank, ring faucet, shank faucet, shank washer,"
        " shank tail-nut, shank tailpiece, tail-nut tailpiece, faucet handle,"
        " cover board, cover shank, cover hinge, cover lip, cover lid, cover cap, cap board,"
        " cap lid, cap foam, spline board, biscuit board, dowel board, spline cap, dowel cap"
    )
    for a, b in (pair.split() for pair in touching.split(",")):
        assert contrast(colors[a], colors[b]) > 1.4, (a, b)


# --- bought parts ---------------------------------------------------------------------------------


@pytest.mark.parametrize("cover", [0.0, 12.0])
@pytest.mark.parametrize("pocket", ["60 mm", "none"])
def test_a_shank_sits_on_the_outer_face_and_its_nut_clamps_the_wall(
    lay: Lay, cover: float, pocket: str
) -> None:
    change: dict[str, Any] = {"foam": {"pocket": pocket}}
    if cover:
        change["cover"] = {
            "thickness": f"{cover} mm", "width": "170 mm", "below_lip": "40 mm", "sides": ("front",)
        }  # fmt: skip
    found = by_name(lay(taps={"count": 1, "faucet": "faucet-rear-sealing"}, **change))
    seat = -cover  # y of the face that the flange sits on; the front looks toward -y
    wall = A["thickness"] + (FOAM if pocket == "none" else 0)
    x, z = W / 2, A["width"] / 2

    def span(name: str) -> tuple[float, float]:
        return box(found[name].shape)[2:4]

    collar, ring = 16.0, 17.0  # the catalogue's collar projection and ring length
    assert span("shank-1") == near(seat - 6 - collar, seat + 104.8)
    assert span("washer-1") == near(wall, wall + 3)
    assert span("nut-1") == near(wall + 3, wall + 3 + 9)
    assert span("tail-nut-1") == near(seat + 104.8 - 14, seat + 104.8)
    assert span("ring-1") == near(seat - 6 - ring, seat - 6)
    assert span("tailpiece-1")[0] == pytest.approx(seat + 104.8)
    assert span("faucet-1")[1] == pytest.approx(seat - 6 - ring)
    washer = found["washer-1"].flat
    assert washer.Volume() == close((circle(50) - circle(22.225)) * 3)
    nut = found["nut-1"].flat
    assert nut.Volume() == close((2 * math.sqrt(3) * 16**2 - circle(22.225)) * 9)
    for name in ("shank-1", "washer-1", "nut-1", "ring-1", "tail-nut-1", "tailpiece-1"):
        center = found[name].shape.Center()
        assert (center.x, center.z) == near(x, z)
    flange = cq.Solid.makeCylinder(24, 6, cq.Vector(x, seat, z), cq.Vector(0, -1, 0))
    assert shared(found["shank-1"].shape, flange) == close((circle(48) - circle(6.5)) * 6)


def test_nothing_bought_shares_room_with_anything(lay: Lay) -> None:
    layout = lay(
        board={"bracket": "bracket-2x2-in"},
        manifold={"kind": "manifold-3-outlet-compact", "side": "back"},
        taps={"faucet": "faucet-forward-sealing"},
    )
    found = list(by_name(layout).values())
    boxes = {part.name: part.shape.BoundingBox() for part in found}
    for a, b in combinations(found, 2):
        p, q = boxes[a.name], boxes[b.name]
        apart = (
            p.xmin > q.xmax or q.xmin > p.xmax or p.ymin > q.ymax or q.ymin > p.ymax
            or p.zmin > q.zmax or q.zmin > p.zmax
        )  # fmt: skip
        assert apart or shared(a.shape, b.shape) < 1e-3, (a.name, b.name)


@pytest.mark.parametrize(
    ("side", "out"),
    [("front", (0, -1)), ("right", (1, 0)), ("back", (0, 1)), ("left", (-1, 0))],
)
def test_a_faucet_hangs_outside_and_its_handle_stands_up(
    lay: Lay, side: str, out: tuple[int, int]
) -> None:
    tap = {"count": 1, "side": side, "faucet": "faucet-forward-sealing"}
    found = by_name(lay(taps=tap))
    axis = A["width"] / 2
    faucet, handle = found["faucet-1"].shape, found["handle-1"].shape
    # The faucet's lever ends 58 mm above the axis, where the handle's 76 mm start; they lean back
    # by 8 deg, and the knob is 29 mm thick.
    assert box(faucet)[5] == pytest.approx(axis + 58)
    dip, rise = 14.5 * math.sin(math.radians(8)), 76 * math.cos(math.radians(8))
    assert box(handle)[4:] == near(axis + 58 - dip, axis + 58 + dip + rise)
    outermost = max(x * out[0] + y * out[1] for x in box(handle)[:2] for y in box(handle)[2:4])
    center = (W * out[0] + D * out[1]) / 2
    reach = abs(center) + 6 + 45 + 14.5 * math.cos(math.radians(8))
    assert outermost - center == pytest.approx(reach, abs=1e-6)
    assert box(faucet)[4] < axis - 40
    middle = cq.Vector(W / 2, D / 2, 0)
    for part in ("faucet-1", "handle-1", "ring-1"):
        away = found[part].shape.Center() - middle
        beyond = W / 2 if side in ("left", "right") else D / 2
        assert away.x * out[0] + away.y * out[1] > beyond + 6
    for part in ("nut-1", "washer-1", "tail-nut-1", "tailpiece-1"):
        away = found[part].shape.Center() - middle
        beyond = W / 2 if side in ("left", "right") else D / 2
        assert away.x * out[0] + away.y * out[1] < beyond - A["thickness"]


@pytest.mark.parametrize("change", [{}, {"lip": SKEWED, "board": {"follow": "lip"}}])
def test_a_bracket_lies_on_both_boards_of_its_corner(lay: Lay, change: dict[str, Any]) -> None:
    change = {**change, "board": {**change.get("board", {}), "bracket": "bracket-2x2-in"}}
    layout = lay(taps={"count": 1}, **change)
    found = by_name(layout)
    sides = ("front", "right", "back", "left")
    for i, corner in enumerate(layout.frame.corners):
        bracket = found[f"bracket-{corner.name}"].shape
        half = math.radians(corner.interior_deg) / 2
        # Two legs of 50.8 x 3.2; what both would take at the corner is counted once.
        plan = 2 * 50.8 * 3.2 - 3.2**2 / math.tan(half)
        assert bracket.Volume() == close(plan * 50.8)
        for side in (sides[i], sides[i - 1]):
            board = found[f"board-{side}"].shape
            assert bracket.distance(board) == pytest.approx(0, abs=1e-9)
            assert shared(bracket, board) < 1e-3
        assert box(bracket)[4:] == near(A["width"] / 2 - 25.4, A["width"] / 2 + 25.4)


def test_the_manifold_is_a_box_on_its_board(lay: Lay) -> None:
    layout = lay(manifold={"length": "200 mm", "height": "60 mm", "depth": "40 mm",
                           "side": "right", "offset": "30 mm", "centre": "50 mm"})  # fmt: skip
    x = W - A["thickness"]
    middle = D / 2 + 30
    shape = by_name(layout)["manifold"].shape
    assert box(shape) == near(x - 40, x, middle - 100, middle + 100, 20, 80)


def test_a_ring_without_a_wall_is_left_out_and_named(lay: Lay) -> None:
    layout = lay(figures={"shanks": {"nut_across_flats": 22.0}}, taps={"count": 1})
    found = parts_.model(layout)
    assert "nut-1" not in {part.name for part in found.parts}
    assert found.remarks == (
        "nut-1 is left out of the model: 22 mm outside, 22.225 mm inside, 9 mm long",
    )


def test_the_layout_says_the_same_volumes(lay: Lay) -> None:
    layout = lay(board={"bracket": "bracket-2x2-in"}, taps={"spacing": "50 mm"})
    found = by_name(layout)
    for board, panel_ in zip(layout.boards, layout.panels, strict=True):
        assert found[f"board-{board.side}"].flat.Volume() == close(board.volume)
        assert found[f"foam-{panel_.side}"].flat.Volume() == close(panel_.volume)


# --- what goes wrong ------------------------------------------------------------------------------


def test_a_volume_that_is_off_by_a_millionth_stops_the_build(
    lay: Lay, monkeypatch: pytest.MonkeyPatch
) -> None:
    exact: Any = Board.volume
    off = property(lambda board: exact.fget(board) * (1 + 1e-6))
    monkeypatch.setattr(Board, "volume", off)
    with pytest.raises(SolidError) as caught:
        parts_.parts(lay())
    assert caught.value.part == "board-front"
    assert caught.value.step == "cutting the holes"
    assert "939.80 x 139.70 x 19.05 mm" in str(caught.value)
    assert "closed form" in str(caught.value)


@pytest.mark.parametrize("wrong", ["over the edge", "wider", "missing", "mirrored board"])
def test_a_solid_made_wrong_is_not_let_through(
    lay: Lay, monkeypatch: pytest.MonkeyPatch, wrong: str
) -> None:
    right, blank = kernel.tool, boards.blank

    def tool(hole: Hole, thickness: float) -> Shape:
        change = {"over the edge": {"v": 12.5}, "wider": {"diameter": BORE + 1e-4}}.get(wrong, {})
        return right(replace(hole, **change), thickness)

    monkeypatch.setattr(f"{ROOM}.kernel.tool", tool)
    if wrong == "missing":
        monkeypatch.setattr(f"{ROOM}.kernel.cut", lambda solid, tools: (solid,))
    if wrong == "mirrored board":
        monkeypatch.setattr(
            f"{ROOM}.boards.blank",
            lambda board: blank(replace(board, inner_left=board.inner_left + 1)),
        )
    with pytest.raises(SolidError, match="board-front"):
        boards.part(lay().board("front"))


def test_what_the_kernel_raises_leaves_as_a_sentence(
    lay: Lay, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> Shape:
        raise Later("OCP.StdFail").StdFail_NotDone("BRep_API: command not done")

    monkeypatch.setattr("cadquery.Solid.extrudeLinear", fail)
    with pytest.raises(SolidError) as caught:
        parts_.parts(lay())
    assert str(caught.value) == (
        "board-front (939.80 x 139.70 x 19.05 mm, 901.70 mm between short points, 3 holes):"
        " extruding the mitered board: BRep_API: command not done"
    )


def test_an_unsound_solid_is_not_let_through(lay: Lay, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cadquery.Shape.isValid", lambda _: False)
    with pytest.raises(SolidError, match="unsound"):
        parts_.parts(lay())


BLOCK = """
import sys
class Gone:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] == "OCP":
            raise {error}
sys.meta_path.insert(0, Gone())
from collarwright.geometry import solids
try:
    solids.load()
except solids.KernelMissing as error:
    print(error)
"""
GL = "libGL.so.1: cannot open shared object file: No such file or directory"


@pytest.mark.parametrize(
    ("error", "says"),
    [
        (
            f"ImportError('{GL}')",
            "the CAD kernel needs the system library libgl1: apt-get install -y libgl1",
        ),
        (
            "ModuleNotFoundError('No module named OCP', name='OCP')",
            "the CAD kernel is not installed (OCP was not found): pip install cadquery",
        ),
        (
            "ImportError('libfoo.so: too old')",
            "the CAD kernel cannot be loaded: libfoo.so: too old",
        ),
    ],
)
def test_a_kernel_that_cannot_be_loaded_is_one_sentence(error: str, says: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", BLOCK.format(error=error)],
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert done.stdout == says + "\n", done.stderr


def test_naming_the_errors_loads_no_kernel() -> None:
    code = "import sys; import collarwright.geometry.solids; print('OCP' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"
    assert solids.load() is None
