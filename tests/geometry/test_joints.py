"""What is glued into the corners: sizes, places and volumes by plane geometry on paper.

Boards of design A are 19.05 x 139.7 mm, of design B 38.1 x 184.15 mm; the corners are square, so
that a miter is t sqrt(2) wide and sin 45 = cos 45 = sqrt(1/2).
"""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.shape.joints import Joint
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.geometry.shape.slot import Slot
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Project

Lay = Callable[..., Layout]
Make = Callable[..., Project]

T, WIDE = 19.05, 139.7
S = math.sqrt(0.5)


def at(layout: Layout, corner: str) -> list[Joint]:
    return [joint for joint in layout.joints if joint.corner == corner]


def test_glue_alone_has_no_joints(lay: Lay) -> None:
    layout = lay()
    assert layout.joints == ()
    assert all(board.slots == () for board in layout.boards)


def test_a_spline_runs_up_the_whole_miter(lay: Lay) -> None:
    layout = lay(board={"corner": "spline"})
    assert [joint.name for joint in layout.joints] == [
        f"spline-{corner}" for corner in ("front-left", "front-right", "back-right", "back-left")
    ]
    spline = layout.joints[0]
    # 1/8 in, half of the board deep in each, 1 mm of room for glue at each edge
    assert (spline.thick, spline.long) == (3.175, WIDE)
    assert spline.wide == pytest.approx(T - 2)
    # wood over the tip: r S - d S - a/2 S; beside the mouth: t - r S - a/2 S; equal where r is
    # half of t / S + d
    r = (T / S + T / 2) / 2
    wood = r * S - T / 2 * S - 3.175 / 2 * S
    assert wood == pytest.approx(T - r * S - 3.175 / 2 * S)
    assert (spline.from_outer, spline.wood) == (pytest.approx(r), pytest.approx(wood))
    assert spline.middle == pytest.approx((r * S, r * S))
    assert spline.volume == pytest.approx(WIDE * (T - 2) * 3.175)


def test_slots_are_cut_square_to_the_miter_of_each_board(lay: Lay) -> None:
    front = lay(board={"corner": "spline"}).board("front")
    left, right = front.slots
    r = (T / S + T / 2) / 2
    assert (left.end, left.joint, right.joint) == (
        "left",
        "spline-front-left",
        "spline-front-right",
    )
    assert left.mouth == pytest.approx((r * S, r * S))
    assert left.way == pytest.approx((S, -S))
    assert right.mouth == pytest.approx((939.8 - r * S, r * S))
    assert right.way == pytest.approx((-S, -S))
    assert left.across == pytest.approx((S, S))
    # its inner corner: along the board r S + d S + a/2 S
    assert left.reach == pytest.approx((r + T / 2 + 3.175 / 2) * S)
    volume = WIDE * T * (939.8 - T) - 3 * math.pi / 4 * 25.4**2 * T
    assert front.volume == pytest.approx(volume - 2 * WIDE * T / 2 * 3.175)


def test_thick_boards_take_a_thicker_spline(design_b: Make) -> None:
    spline = lay_out(design_b(board={"corner": "spline"})).joints[0]
    assert (spline.thick, spline.wide) == (6.35, pytest.approx(36.1))


def test_dowels_are_a_third_of_the_board_and_at_most_75_mm_apart(lay: Lay, design_b: Make) -> None:
    here = at(lay(board={"corner": "dowel"}), "front-left")
    assert [joint.name for joint in here] == ["dowel-front-left-1", "dowel-front-left-2"]
    # 19.05 / 3 = 6.35: the next smaller of 6, 8, 10, 12; two, a quarter of the board from its edges
    assert [(joint.v, joint.thick) for joint in here] == [
        pytest.approx((WIDE / 4, 6)), pytest.approx((WIDE * 3 / 4, 6))
    ]  # fmt: skip
    assert here[0].volume == pytest.approx(math.pi * 9 * (T - 2))
    three = at(lay_out(design_b(board={"corner": "dowel"})), "back-right")
    assert [joint.v for joint in three] == pytest.approx([184.15 * k / 6 for k in (1, 3, 5)])
    assert three[0].thick == 12
    slot = lay(board={"corner": "dowel"}).board("left").slots[0]
    assert slot.volume == pytest.approx(math.pi * 9 * T / 2)


def test_biscuits_are_no_20_with_a_slot_of_a_100_mm_cutter(lay: Lay, design_b: Make) -> None:
    from shapely import Polygon

    (biscuit,) = at(lay(board={"corner": "biscuit"}), "front-left")
    assert (biscuit.long, biscuit.wide, biscuit.thick, biscuit.v) == (56, 23, 4, WIDE / 2)
    # d = 12.5, a = 4: wood (t - (d + a) S) / 2
    assert biscuit.wood == pytest.approx((T - 16.5 * S) / 2)
    slot = lay(board={"corner": "biscuit"}).board("front").slots[0]
    # The chord of a circle of 50 mm, 12.5 mm deep: 2 sqrt(50^2 - 37.5^2) = 66.14 mm
    assert (slot.depth, slot.tall) == (12.5, pytest.approx(66.1438, abs=1e-4))
    ring = [math.tau * k / 200_000 for k in range(200_000)]
    disc = Polygon([(50 * math.cos(a), 50 * math.sin(a)) for a in ring])
    segment = disc.intersection(Polygon([(37.5, -60), (60, -60), (60, 60), (37.5, 60)])).area
    assert slot.volume == pytest.approx(segment * 4, rel=1e-6)
    # two arcs over a chord of 56 mm, 11.5 mm high each: radius (28^2 + 11.5^2) / 23
    radius = (28**2 + 11.5**2) / 23
    assert biscuit.round == pytest.approx(radius)
    lens = disc.buffer(0)
    scaled = Polygon([(x * radius / 50, y * radius / 50) for x, y in lens.exterior.coords])
    low = radius - 11.5
    half = scaled.intersection(Polygon([(low, -60), (60, -60), (60, 60), (low, 60)])).area
    assert biscuit.volume == pytest.approx(2 * half * 4, rel=1e-6)
    assert len(at(lay_out(design_b(board={"corner": "biscuit"})), "front-left")) == 2


@pytest.mark.parametrize("kind", ["spline", "biscuit", "dowel"])
@pytest.mark.parametrize("angle", [75, 90, 105])
def test_wood_to_both_faces_is_told_at_any_corner(lay: Lay, kind: str, angle: float) -> None:
    """A rhomboid, as shapely sees it: slot in its board, distances to the faces' lines."""
    from shapely import Polygon

    reach, rise = 600 * math.cos(math.radians(angle)), 600 * math.sin(math.radians(angle))
    lip = {
        "front": "900 mm", "right": "600 mm", "back": "900 mm", "left": "600 mm",
        "front_left_to_back_right": f"{math.hypot(900 + reach, rise):.9f} mm",
    }  # fmt: skip
    layout = lay(lip=lip, board={"follow": "lip", "corner": kind, "thickness": "30 mm"})
    for board in layout.boards:
        plan = Polygon(
            [(0, 0), (board.long_point, 0), (board.long_point - board.inner_right, 30),
             (board.inner_left, 30)]
        )  # fmt: skip
        for slot in board.slots:
            corners = outline(slot)
            shape = Polygon(corners)
            assert shape.difference(plan.buffer(1e-6)).area == pytest.approx(0, abs=1e-6)
            joint = next(each for each in layout.joints if each.name == slot.joint)
            heights = [y for _, y in corners]
            assert min(heights) == pytest.approx(joint.wood, abs=1e-6)
            assert 30 - max(heights) == pytest.approx(joint.wood, abs=1e-6)
            far = max(heights_along(slot, corners, board.long_point))
            assert (slot.reach if slot.end == "left" else board.long_point - slot.reach) == (
                pytest.approx(far)
            )


def outline(slot: Slot) -> list[tuple[float, float]]:
    """The slot in plan, from its mouth's middle, mm."""
    (x, y), (wx, wy), (ax, ay) = slot.mouth, slot.way, slot.across
    half, deep = slot.thick / 2, slot.depth
    return [
        (x + side * half * ax + down * wx, y + side * half * ay + down * wy)
        for side, down in ((-1, 0), (1, 0), (1, deep), (-1, deep))
    ]


def heights_along(slot: Slot, corners: list[tuple[float, float]], length: float) -> list[float]:
    return [x if slot.end == "left" else length - x for x, _ in corners]


@pytest.mark.parametrize(
    ("board", "said"),
    [
        ({"corner": "biscuit", "thickness": "16 mm"}, "glue, a spline or dowels"),
        ({"corner": "dowel", "thickness": "10 mm"}, "glue or a spline"),
        ({"corner": "biscuit", "width": "78 mm"}, "for the slot of one no. 20 biscuit"),
    ],
)
def test_boards_too_small_for_a_joint_are_refused(lay: Lay, board: Any, said: str) -> None:
    with pytest.raises(BuildFileError, match=r"board\.corner") as refused:
        lay(board=board, taps={"height": "38 mm"})
    assert said in str(refused.value)


@pytest.mark.parametrize(("off", "refused"), [(0.05, False), (-0.05, True)])
def test_a_bore_must_not_meet_a_joint(lay: Lay, off: float, refused: bool) -> None:
    # A dowel of 6 mm at 34.925 mm up reaches (r + d + a/2) S along the board; a bore of 25.4 mm at
    # its height may begin there.
    reach = ((T / S + T / 2) / 2 + T / 2 + 3) * S
    assert reach > T  # farther than the inner face's end, so a bore can come there at all
    middle = 939.8 / 2 - reach - 12.7 - off
    taps = {"positions": (f"{-middle} mm",), "count": None, "spacing": None, "height": "34.925 mm"}
    change: dict[str, Any] = {"board": {"corner": "dowel"}, "taps": taps}
    if not refused:
        assert lay(**change).joints
        return
    with pytest.raises(BuildFileError, match="dowel-front-left-1"):
        lay(**change)
    # half way up there is none
    assert lay(board={"corner": "dowel"}, taps=taps | {"height": None}).joints


def test_pilots_that_would_meet_a_joint_are_not_drilled(lay: Lay) -> None:
    # a leaf's screws 20.5 mm from the back board's end, in a board with a spline: 1.2 mm of pilot
    # reach the spline's inner corner at 21.2
    hinge = {
        "positions": (f"{939.8 / 2 - 21.5} mm",), "leaf_width": "4 mm", "leaf_height": "60 mm",
        "screws": 2, "screw": "wood-screw-no-8",
    }  # fmt: skip
    assert not lay(hinge=hinge).undrilled
    layout = lay(hinge=hinge, board={"corner": "spline"})
    assert layout.undrilled == ("back board: hinge-1-1", "back board: hinge-1-2")
