"""What lies on the inner face: foam panels, manifold, passages, brackets and their screws.

Lengths follow from the corner angles by hand; shapely judges that nothing overlaps and that no
panel could be longer, from polygons drawn in this file.
"""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.lining import Panel
from collarwright.params.problem import BuildFileError

Lay = Callable[..., Layout]

W, D = 37 * 25.4, 21 * 25.4
T, F, HEIGHT = 19.05, 25.4, 139.7
BETWEEN = {"front-back": ("right", "left"), "sides": ("front", "back")}
ORDERS = tuple(BETWEEN)


def leaning(deg: float, front: float = 900, side: float = 600) -> dict[str, str]:
    """A parallelogram with ``deg`` at the front left: sharp and blunt corners take turns."""
    over, up = side * math.cos(math.radians(deg)), side * math.sin(math.radians(deg))
    lengths = {"front": front, "right": side, "back": front, "left": side}
    lengths["front_left_to_back_right"] = math.hypot(front + over, up)
    return {key: f"{value:.9f} mm" for key, value in lengths.items()}


# --- lengths by the corner's angle ----------------------------------------------------------------


@pytest.mark.parametrize("order", ORDERS)
def test_at_square_corners_two_panels_run_through_and_two_stand_between(
    lay: Lay, order: str
) -> None:
    layout = lay(foam={"order": order})
    for panel, length in zip(layout.panels, (W, D, W, D), strict=True):
        between = panel.side in BETWEEN[order]
        assert panel.length == pytest.approx(length - 2 * T - (2 * F if between else 0))
        assert panel.start == pytest.approx(F if between else 0)
        assert (panel.thickness, panel.width) == (F, HEIGHT)


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("deg", [62, 80, 89, 91, 104, 118])
def test_at_other_corners_a_panel_ends_short_by_cot_and_by_the_others_thickness_over_sin(
    lay: Lay, deg: float, order: str
) -> None:
    layout = lay(lip=leaning(deg), board={"follow": "lip"}, foam={"order": order})
    for i, (panel, board) in enumerate(zip(layout.panels, layout.boards, strict=True)):
        ends: list[float] = []
        for corner in (deg if i % 2 == 0 else 180 - deg, 180 - deg if i % 2 == 0 else deg):
            theta = math.radians(corner)
            end = F * max(0.0, 1 / math.tan(theta))
            ends.append(end + (F / math.sin(theta) if panel.side in BETWEEN[order] else 0))
        clear = (900 if i % 2 == 0 else 600) - T * sum(
            1 / math.tan(math.radians(each) / 2) for each in (deg, 180 - deg)
        )
        assert board.short_point == pytest.approx(clear, abs=1e-6)
        assert panel.length == pytest.approx(clear - sum(ends), abs=1e-6)
        assert panel.start == pytest.approx(ends[0], abs=1e-6)


def test_foam_covers_the_boards_width_less_what_is_left_at_the_top(lay: Lay) -> None:
    assert {panel.width for panel in lay(foam={"below_top": "12 mm"}).panels} == {HEIGHT - 12}


def test_the_sheets_thickness_counts_unless_the_build_file_gives_its_own(lay: Lay) -> None:
    kind = {"kind": "xps-type-iv-1-in", "thickness": None}
    figures = {"foam": {"thickness": 25.0}}
    assert {panel.thickness for panel in lay(foam=kind, figures=figures).panels} == {25.0}
    own = {**kind, "thickness": "24 mm"}
    assert {panel.thickness for panel in lay(foam=own, figures=figures).panels} == {24.0}


# --- an independent judge of panels in plan -------------------------------------------------------


def polygon_of(panel: Panel, board: Board, longer: tuple[float, float] = (0, 0)) -> Any:
    """Draw a panel in plan from its board's inner face, longer at its left and right end."""
    from shapely import Polygon

    (x0, y0), (x1, y1) = board.inner
    clear = math.hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / clear, (y1 - y0) / clear
    start, end = panel.start - longer[0], panel.start + panel.length + longer[1]
    corners = ((start, 0), (end, 0), (end, panel.thickness), (start, panel.thickness))
    return Polygon([(x0 + ux * s - uy * n, y0 + uy * s + ux * n) for s, n in corners])


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("deg", [65, 86, 90, 94, 115])
@pytest.mark.parametrize("follow", ["lip", "square"])
def test_panels_touch_no_board_and_no_other_panel(
    lay: Lay, deg: float, order: str, follow: str
) -> None:
    from shapely import Polygon

    layout = lay(
        lip=leaning(deg), board={"follow": follow}, foam={"order": order, "thickness": "40 mm"}
    )
    boards = [Polygon(board.plan) for board in layout.boards]
    panels = [polygon_of(*pair) for pair in zip(layout.panels, layout.boards, strict=True)]
    for i, panel in enumerate(panels):
        others = boards + panels[:i] + panels[i + 1 :]
        assert max(panel.intersection(other).area for other in others) < 1e-6
        # It lies on its board: a hair further out it would be in the wood all along.
        assert panel.distance(boards[i]) < 1e-6


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("deg", [65, 86, 90])
def test_no_panel_could_be_longer_at_a_square_or_sharp_corner(
    lay: Lay, deg: float, order: str
) -> None:
    from shapely import Polygon

    layout = lay(lip=leaning(deg), board={"follow": "lip"}, foam={"order": order})
    boards = [Polygon(board.plan) for board in layout.boards]
    panels = [polygon_of(*pair) for pair in zip(layout.panels, layout.boards, strict=True)]
    for i, pair in enumerate(zip(layout.panels, layout.boards, strict=True)):
        sharp_at_left = i % 2 == 0  # the front and back panels have ``deg`` at their left end
        ends = [(0.1, 0), (0, 0.1)] if deg == 90 else [(0.1, 0) if sharp_at_left else (0, 0.1)]
        for longer in ends:
            others = boards[:i] + boards[i + 1 :] + panels[:i] + panels[i + 1 :]
            grown = polygon_of(*pair, longer)
            assert max(grown.intersection(other).area for other in others) > 1e-4


# --- passages and the manifold ------------------------------------------------------------


def test_a_passage_goes_through_board_and_foam_at_one_diameter(lay: Lay) -> None:
    asked = {
        "side": "right", "height": "40 mm", "diameter": "22 mm", "offset": "-60 mm",
        "name": "probe",
    }  # fmt: skip
    layout = lay(hole=[asked, {**asked, "name": None, "offset": "60 mm"}])
    first, second = layout.board("right").holes
    assert (first.name, first.purpose, first.diameter) == ("probe", "passage", 22)
    assert (first.u, first.v) == (pytest.approx(D / 2 - 60), 40)
    assert (second.name, second.u) == ("passage-2", pytest.approx(D / 2 + 60))
    panel = layout.panel("right")
    assert panel is not None
    # The right panel stands between the others: its left end is t + f from the long point.
    assert [(hole.purpose, hole.diameter, hole.v) for hole in panel.holes] == [
        ("passage", 22, 40)
    ] * 2
    assert [hole.u for hole in panel.holes] == pytest.approx(
        [D / 2 - 60 - T - F, D / 2 + 60 - T - F]
    )


@pytest.mark.parametrize("key", ["height", "offset"])
def test_a_passage_beyond_its_board_is_an_input_error(lay: Lay, key: str) -> None:
    """Its circle of 22 mm must stay 11 mm from the edges and the short points."""
    ends = {"height": (11.0, HEIGHT - 11), "offset": (-(D / 2 - T - 11), D / 2 - T - 11)}[key]
    for end, outward in zip(ends, (-1, 1), strict=True):
        asked = {"side": "right", "height": "40 mm", "diameter": "22 mm"}
        for inside in (end - outward * 0.01, end):
            assert lay(hole=asked | {key: f"{inside:.9f} mm"}).board("right").holes
        with pytest.raises(BuildFileError) as refused:
            lay(hole=asked | {key: f"{end + outward * 0.01:.6f} mm"})
        assert [problem.key for problem in refused.value.problems] == [f"hole[1].{key}"]


@pytest.mark.parametrize(("sign", "corner"), [(-1, 75), (1, 105)])
def test_a_passage_is_held_to_the_short_point_of_its_own_end(
    lay: Lay, sign: int, corner: float
) -> None:
    inner = T / math.tan(math.radians(corner) / 2)
    end = sign * (450 - inner - 11)
    asked = {"side": "front", "height": "40 mm", "diameter": "22 mm"}
    skewed: dict[str, Any] = {"lip": leaning(75), "board": {"follow": "lip"}}
    inside = asked | {"offset": f"{end - sign * 0.01:.6f} mm"}
    assert lay(hole=inside, **skewed).board("front").holes
    with pytest.raises(BuildFileError):
        lay(hole=asked | {"offset": f"{end + sign * 0.01:.6f} mm"}, **skewed)


@pytest.mark.parametrize("side", ["front", "right", "back", "left"])
def test_the_manifolds_opening_has_its_own_size_where_it_is_fixed(lay: Lay, side: str) -> None:
    asked = {
        "side": side, "offset": "30 mm", "centre": "55 mm",
        "length": "150 mm", "height": "80 mm", "depth": "42 mm",
    }  # fmt: skip
    layout = lay(manifold=asked)
    length, start = (W, T) if side in ("front", "back") else (D, T + F)
    assert layout.manifold is not None
    assert (layout.manifold.u, layout.manifold.v) == (pytest.approx(length / 2 + 30), 55)
    panel = layout.panel(side)
    assert panel is not None
    (opening,) = (hole for hole in panel.holes if hole.purpose == "opening")
    assert (opening.length, opening.height, opening.diameter) == (150, 80, None)
    assert (opening.u, opening.v) == (pytest.approx(length / 2 + 30 - start), 55)
    assert not any(hole.purpose == "opening" for hole in layout.board(side).holes)


def test_a_manifold_from_the_catalogue_stands_half_way_up_the_back(lay: Lay) -> None:
    figures = {"manifolds": {"length": 156.0, "height": 85.0, "depth": 40.0}}
    layout = lay(manifold={"kind": "manifold-3-outlet-compact"}, figures=figures)
    found = layout.manifold
    assert found is not None
    assert (found.side, found.v) == ("back", HEIGHT / 2)
    assert (found.length, found.height, found.depth) == (156, 85, 40)
    own = {"kind": "manifold-3-outlet-compact", "depth": "52 mm"}
    assert lay(manifold=own, figures=figures).manifold.depth == 52


# --- brackets and pilots ------------------------------------------------------------


def test_each_inner_corner_has_a_bracket_with_a_leg_on_both_boards(lay: Lay) -> None:
    layout = lay(board={"bracket": "bracket-2x2-in"})
    assert [(leg.side, leg.at) for leg in layout.brackets] == [
        (side, at) for side in ("front", "right", "back", "left") for at in ("left", "right")
    ]
    assert {(leg.leg, leg.width, leg.thickness, leg.v) for leg in layout.brackets} == {
        (50.8, 50.8, 3.2, HEIGHT / 2)
    }
    assert lay(board={"bracket": "none"}).brackets == ()
    assert lay().brackets == ()


def test_bracket_screws_are_piloted_from_the_inner_face(lay: Lay) -> None:
    """Holes 18 and 40 mm from the inner corner, half way up, two thirds of the board deep."""
    board = lay(board={"bracket": "bracket-2x2-in"}, foam=None).board("right")
    pilots = [hole for hole in board.holes if hole.purpose == "pilot"]
    assert [hole.u for hole in pilots] == pytest.approx([T + 18, T + 40, D - T - 18, D - T - 40])
    assert [hole.name for hole in pilots] == [
        "bracket-left-1", "bracket-left-2", "bracket-right-1", "bracket-right-2",
    ]  # fmt: skip
    for hole in pilots:
        assert (hole.v, hole.face, hole.diameter) == (HEIGHT / 2, "inner", 2.24)
        assert hole.depth == pytest.approx(T * 2 / 3)


@pytest.mark.parametrize(
    ("gravity", "pilot"), [(0.36, 2.24), (0.499, 2.24), (0.5, 2.88), (0.68, 2.88)]
)
def test_dense_wood_takes_the_larger_pilot(lay: Lay, gravity: float, pilot: float) -> None:
    board = {"bracket": "bracket-2x2-in", "species": "eastern-white-pine"}
    layout = lay(board=board, figures={"species": {"specific_gravity": gravity}})
    found = {h.diameter for b in layout.boards for h in b.holes if h.purpose == "pilot"}
    assert found == {pilot}


def test_foam_is_cut_away_where_a_bracket_lies_under_it(lay: Lay) -> None:
    layout = lay(board={"bracket": "bracket-2x2-in"})
    through, between = layout.panel("back"), layout.panel("right")
    assert through is not None and between is not None
    # The back panel begins at the inner corner: the whole leg of 50.8 mm.
    left, right = (hole for hole in through.holes if hole.name.startswith("bracket"))
    assert (left.u, left.length, left.height) == pytest.approx((25.4, 50.8, 50.8))
    assert right.u == pytest.approx(through.length - 25.4)
    # The right panel begins 25.4 mm from it: what is left of the leg.
    left, right = (hole for hole in between.holes if hole.name.startswith("bracket"))
    assert (left.u, left.length, left.height) == pytest.approx((12.7, 25.4, 50.8))
    assert right.u == pytest.approx(between.length - 12.7)
    # Under foam of 60 mm it does not lie at all.
    thick = lay(board={"bracket": "bracket-2x2-in"}, foam={"thickness": "60 mm"}).panel("right")
    assert thick is not None
    assert not [hole for hole in thick.holes if hole.name.startswith("bracket")]


# --- on a skewed collar, in plan ----------------------------------------------------------------


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("side", ["front", "right", "back", "left"])
@pytest.mark.parametrize("deg", [75, 105])
def test_what_is_cut_from_a_panel_lies_behind_what_is_cut_from_its_board(
    lay: Lay, side: str, order: str, deg: float
) -> None:
    """Worked out from the panel's left end and from the board's long point: the same place."""
    layout = lay(
        lip=leaning(deg),
        board={"follow": "lip", "bracket": "bracket-2x2-in"},
        foam={"order": order},
        taps={"side": side, "count": 2, "spacing": "90 mm", "offset": "25 mm"},
        hole={"side": side, "height": "30 mm", "diameter": "12 mm", "offset": "-110 mm"},
        manifold={
            "side": side, "offset": "-20 mm", "length": "50 mm", "height": "20 mm",
            "depth": "20 mm",
        },
    )  # fmt: skip
    board, panel = layout.board(side), layout.panel(side)
    assert panel is not None
    (x0, y0), (x1, y1) = board.inner
    clear = math.hypot(x1 - x0, y1 - y0)

    def in_plan(u: float) -> tuple[float, float]:
        s = panel.start + u
        return x0 + (x1 - x0) * s / clear, y0 + (y1 - y0) * s / clear

    middle = math.hypot(*(b - a for a, b in zip(*board.outer, strict=True))) / 2
    expected = {
        "tap-1": middle + 25 - 45,
        "tap-2": middle + 25 + 45,
        "passage-1": middle - 110,
        "manifold": middle - 20,
    }
    found = {hole.name: hole.u for hole in panel.holes if not hole.name.startswith("bracket")}
    assert set(found) == set(expected)
    for name, u in expected.items():
        assert in_plan(found[name]) == pytest.approx(board.place(u, 0, T)[:2], abs=1e-6)
    # A leg of 50.8 mm from each inner corner, as far as the panel lies on it.
    start, end = panel.start, panel.start + panel.length
    legs = {"bracket-left": (0.0, 50.8), "bracket-right": (clear - 50.8, clear)}
    cut = {hole.name: hole for hole in panel.holes if hole.name.startswith("bracket")}
    for name, (low, high) in legs.items():
        low, high = max(low, start), min(high, end)
        assert cut[name].length == pytest.approx(high - low, abs=1e-6)
        assert cut[name].u + start == pytest.approx((low + high) / 2, abs=1e-6)
    # Its screws stand 18 and 40 mm from the inner corners.
    screws = [board.place(hole.u, 0, T)[:2] for hole in board.holes if hole.purpose == "pilot"]
    for (x, y), s in zip(screws, (18, 40, clear - 18, clear - 40), strict=True):
        assert math.hypot(x - x0, y - y0) == pytest.approx(s, abs=1e-6)


# --- hinge screws ---------------------------------------------------------------------------------

HINGE = {
    "positions": ("-200 mm", "200 mm"),
    "leaf_height": "60 mm",
    "leaf_thickness": "2 mm",
    "screws": 3,
    "screw": "wood-screw-no-8",
}


def test_hinge_screws_stand_evenly_on_the_leaf_under_the_top_edge(lay: Lay) -> None:
    layout = lay(hinge={**HINGE, "screw_length": "16 mm"})
    back = layout.board("back").holes
    assert [hole.u for hole in back] == pytest.approx([W / 2 - 200] * 3 + [W / 2 + 200] * 3)
    # three on 60 mm: 10, 30 and 50 mm below the top edge
    assert [hole.v for hole in back] == pytest.approx([HEIGHT - d for d in (10, 30, 50)] * 2)
    assert [hole.name for hole in back] == [f"hinge-{n}-{i}" for n in (1, 2) for i in (1, 2, 3)]
    for hole in back:
        assert (hole.purpose, hole.face, hole.diameter) == ("pilot", "outer", 2.24)
        assert hole.depth == pytest.approx(16 - 2)
    for side in ("front", "right", "left"):
        assert not [hole for hole in layout.board(side).holes if hole.purpose == "pilot"]


@pytest.mark.parametrize(
    ("change", "depth"),
    [
        ({}, T * 2 / 3),
        ({"screw_length": "21 mm"}, 19.0),
        ({"screw_length": "25 mm"}, None),  # 23 mm would come out behind 19.05
    ],
)
def test_a_hinge_pilot_is_as_deep_as_its_screw_but_never_past_the_wood(
    lay: Lay, change: dict[str, str], depth: float | None
) -> None:
    depths = [hole.depth for hole in lay(hinge={**HINGE, **change}).board("back").holes]
    assert depths == [depth if depth is None else pytest.approx(depth)] * 6


@pytest.mark.parametrize("lacks", ["positions", "leaf_height", "screws", "screw"])
def test_without_the_leafs_figures_no_hinge_screw_is_invented(lay: Lay, lacks: str) -> None:
    assert lay(hinge={**HINGE, lacks: None}).board("back").holes == ()
    assert lay(hinge={**HINGE, "fix": "bolt"}).board("back").holes == ()


def test_bolts_go_right_through_in_holes_that_are_wider(lay: Lay) -> None:
    """As far up and along as the screws, 1/32 in wider than the bolt."""
    screws = lay(hinge=HINGE).board("back").holes
    holes = lay(hinge={**HINGE, "fix": "bolt", "bolt": "6 mm"}).board("back").holes
    assert [(hole.name, hole.u, hole.v) for hole in holes] == [
        (hole.name, hole.u, hole.v) for hole in screws
    ]
    assert {(hole.purpose, hole.depth) for hole in holes} == {("pilot", None)}
    assert {hole.diameter for hole in holes} == {6 + 25.4 / 32}


@pytest.mark.parametrize("sign", [-1, 1])
def test_a_pilot_that_would_leave_the_wood_is_left_out(lay: Lay, sign: int) -> None:
    """2.24 mm wide, it may come to 1.12 mm from a short point and from an edge."""
    end = W / 2 - T - 1.12
    for off, count in ((-0.01, 3), (0.01, 0)):
        hinge = {**HINGE, "positions": (f"{sign * (end + off):.6f} mm",)}
        assert len(lay(hinge=hinge).board("back").holes) == count
    # a leaf of 300 mm has its screws 50, 150 and 250 mm below the top edge of 139.7
    assert len(lay(hinge={**HINGE, "leaf_height": "300 mm"}).board("back").holes) == 2
    for height, count in ((2 * (HEIGHT - 1.12 - 0.01), 1), (2 * (HEIGHT - 1.12 + 0.01), 0)):
        hinge = {**HINGE, "screws": 1, "leaf_height": f"{height:.6f} mm", "positions": ("0 mm",)}
        assert len(lay(hinge=hinge).board("back").holes) == count


def test_foam_is_cut_about_each_bolt_and_its_washer(lay: Lay) -> None:
    """A washer of 20 mm has a pocket of 30, right through: pi 15^2 mm2 of the foam each."""
    bolted = {**HINGE, "fix": "bolt", "bolt": "6 mm", "bolt_washer": "20 mm", "screws": 1}
    # one bolt on a leaf of 60 mm: 30 mm under the top edge
    layout = lay(hinge=bolted, foam={"thickness": "25.4 mm"})
    panel, bare = layout.panel("back"), lay(foam={"thickness": "25.4 mm"}).panel("back")
    assert panel is not None and bare is not None
    board = layout.board("back")
    assert [(hole.name, hole.purpose, hole.diameter) for hole in panel.holes] == [
        ("hinge-1-1", "pocket", 30.0), ("hinge-2-1", "pocket", 30.0),
    ]  # fmt: skip
    for hole, u in zip(panel.holes, (W / 2 - 200, W / 2 + 200), strict=True):
        assert hole.u == pytest.approx(u - board.inner_left - panel.start)
        assert hole.v == pytest.approx(HEIGHT - 30)
    gone = 2 * math.pi * 15**2 * 25.4
    assert bare.volume - panel.volume == pytest.approx(gone, rel=1e-9)
    for side in ("front", "right", "left"):
        other = layout.panel(side)
        assert other is not None
        assert not [hole for hole in other.holes if hole.name.startswith("hinge")]


def test_foam_below_the_bolts_or_without_their_washers_is_whole(lay: Lay) -> None:
    """The pocket's edge is 30 + 15 = 45 mm under the top edge; foam that ends there is whole."""
    bolted = {**HINGE, "fix": "bolt", "bolt": "6 mm", "bolt_washer": "20 mm", "screws": 1}

    def holes(low: str, **hinge: Any) -> int:
        foam = {"thickness": "25.4 mm", "below_top": low}
        panel = lay(hinge={**bolted, **hinge}, foam=foam).panel("back")
        assert panel is not None
        return len(panel.holes)

    assert (holes("44.9 mm"), holes("45.1 mm")) == (2, 0)
    assert holes("0 mm", bolt_washer=None) == 0
    assert holes("0 mm", fix="screw") == 0
