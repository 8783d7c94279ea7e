"""Cap strips: sizes, places and volumes by hand, and against shapely on a lip out of square."""

from collections.abc import Callable

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.params.problem import BuildFileError

Lay = Callable[..., Layout]

W, D = 939.8, 533.4
STEEL = {"material": "steel", "thickness": "1.5 mm", "width": "30 mm", "inset": "4 mm"}


def test_strips_of_design_a_by_hand(lay: Lay) -> None:
    layout = lay(cap=STEEL)
    assert [strip.name for strip in layout.strips] == [
        f"cap-{side}" for side in ("front", "right", "back", "left")
    ]
    front, right, *_ = layout.strips
    # 4 mm in from each end, 30 mm shorter again at each inner corner; on the boards, 139.7 up
    assert (front.long_point, front.short_point) == pytest.approx((W - 8, W - 68))
    assert (right.long_point, right.short_point) == pytest.approx((D - 8, D - 68))
    assert (front.miter_left_deg, front.bottom, front.steel) == (pytest.approx(45), 139.7, True)
    assert front.outer == (pytest.approx((4, 4)), pytest.approx((W - 4, 4)))
    assert front.inner == (pytest.approx((34, 34)), pytest.approx((W - 34, 34)))
    assert front.volume == pytest.approx((W - 38) * 30 * 1.5)
    assert [tuple(map(round, point)) for point in front.flat] == [
        (0, 0), (932, 0), (902, 30), (30, 30)
    ]  # fmt: skip


def test_strips_are_a_ring_on_a_lip_with_four_different_corners(lay: Lay) -> None:
    from shapely import Polygon, union_all

    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        "front_left_to_back_right": "1110.173 mm",
    }  # fmt: skip
    layout = lay(lip=lip, board={"follow": "lip"}, cap=STEEL)
    collar = Polygon([(corner.x, corner.y) for corner in layout.frame.corners])
    ring = collar.buffer(-4, join_style="mitre").difference(collar.buffer(-34, join_style="mitre"))
    plans = [Polygon((*strip.outer, *strip.inner[::-1])) for strip in layout.strips]
    assert union_all(plans).symmetric_difference(ring).area == pytest.approx(0, abs=1e-3)
    for strip, plan in zip(layout.strips, plans, strict=True):
        assert Polygon(strip.flat).area == pytest.approx(plan.area, rel=1e-9)
        assert strip.volume == pytest.approx(plan.area * 1.5, rel=1e-9)


def test_strips_that_leave_no_opening_are_refused(lay: Lay) -> None:
    with pytest.raises(BuildFileError, match=r"cap\.width"):
        lay(cap=STEEL | {"width": "262.8 mm"})
    assert lay(cap=STEEL | {"width": "262.6 mm"}).strips[1].short_point == pytest.approx(0.2)
