"""How much room a tap's parts take, by hand: design A's shank, faucet and knob."""

import math
from collections.abc import Callable

import pytest
from collarwright.geometry.shape.envelope import Envelope
from collarwright.geometry.shape.keep_out import places
from collarwright.geometry.shape.layout import Layout
from collarwright.params.project import Project

Lay = Callable[..., Layout]
Make = Callable[..., Project]
T, HEIGHT, FOAM = 19.05, 139.7, 25.4
ONE = {"count": 1, "spacing": None, "height": "60 mm", "faucet": "faucet-forward-sealing"}


def by_reason(layout: Layout) -> dict[str, Envelope]:
    return {each.reason: each for each in layout.envelopes}


def test_discs_about_the_shank_and_what_stands_on_the_faucet(lay: Lay) -> None:
    found = by_reason(lay(taps=ONE))
    assert list(found) == ["flange", "ring", "body", "nut", "shank", "spout", "lever", "handle"]
    assert {(each.tap, each.side) for each in found.values()} == {(1, "front")}
    assert {each.u for each in found.values()} == {37 * 25.4 / 2}
    # flange 48 x 6 mm, then the ring of 38.5 x 17, the body of 40 to 110 ahead of the flange
    expected = {
        "flange": ((0, 6), (60 - 24, 60 + 24), 48),
        "ring": ((6, 23), (60 - 19.25, 60 + 19.25), 38.5),
        "body": ((6, 116), (40, 80), 40),
        # two fifths of the body: 16 mm thick
        "spout": ((6 + 78 - 8, 6 + 78 + 8), (60 - 64, 60), 16),
        "lever": ((6 + 45 - 8, 6 + 45 + 8), (60, 60 + 58), 16),
        # inside: 3 mm of washers on 19.05 of wood, the nut 9 mm thick and 32 across its flats
        "nut": ((-T - 3 - 9, -T - 3), (60 - 32 / math.sqrt(3), 60 + 32 / math.sqrt(3)), None),
        "shank": ((-104.8, -T - 3), (60 - 22.225 / 2, 60 + 22.225 / 2), 22.225),
    }
    for reason, (out, up, width) in expected.items():
        assert found[reason].out == pytest.approx(out), reason
        assert found[reason].up == pytest.approx(up), reason
        assert found[reason].round
        if width is not None:
            assert found[reason].width == pytest.approx(width)


def test_a_handle_leans_back_at_rest(lay: Lay) -> None:
    """A knob of 29 x 76 mm on the lever's top, 8 deg behind upright."""
    handle = by_reason(lay(taps=ONE))["handle"]
    sin, cos = math.sin(math.radians(8)), math.cos(math.radians(8))
    foot, half = (6 + 45, 60 + 58), 14.5
    assert handle.out[0] == pytest.approx(foot[0] - half * cos - 76 * sin)
    assert handle.out[1] == pytest.approx(foot[0] + half * cos)
    assert handle.up[0] == pytest.approx(foot[1] - half * sin)
    assert handle.up[1] == pytest.approx(foot[1] + half * sin + 76 * cos)
    assert not handle.round
    upright = by_reason(lay(taps=ONE, figures={"handles": {"closed_angle": 0.0}}))["handle"]
    assert upright.out == pytest.approx((foot[0] - 14.5, foot[0] + 14.5))
    assert upright.up == pytest.approx((118, 118 + 76))
    flat = by_reason(lay(taps=ONE, figures={"handles": {"closed_angle": 0.0, "depth": 10.0}}))
    assert flat["handle"].out == pytest.approx((46, 56))
    assert flat["handle"].width == pytest.approx(29)


def test_a_cover_moves_all_of_it_out(lay: Lay) -> None:
    plain = by_reason(lay(taps=ONE))
    cover = {"thickness": "12 mm", "sides": ("front",)}
    found = by_reason(lay(taps=ONE, cover=cover))
    for reason in ("flange", "ring", "body", "spout", "lever", "handle"):
        moved = tuple(out + 12 for out in plain[reason].out)
        assert found[reason].out == pytest.approx(moved)
    # the shank's seat goes out by 12 and the nut stays on the wood
    assert found["nut"].out == pytest.approx(plain["nut"].out)
    assert found["shank"].out[0] == pytest.approx(12 - 104.8)


def test_parts_that_are_not_named_take_no_room(lay: Lay) -> None:
    assert lay(taps={**ONE, "shank": None}).envelopes == ()
    bare = lay(taps={**ONE, "faucet": None, "handle": None})
    assert [each.reason for each in bare.envelopes] == ["flange", "ring", "nut", "shank"]
    assert "handle" not in by_reason(lay(taps={**ONE, "faucet": None}))
    short = by_reason(lay(taps={**ONE, "shank": "20 mm"}))
    assert "shank" not in short  # it ends in the wall


def test_each_tap_has_its_own(lay: Lay) -> None:
    layout = lay(taps=[ONE, {**ONE, "side": "back", "handle": None}])
    front, back = layout.taps
    assert {each.side for each in layout.envelopes_of(front)} == {"front"}
    assert {each.side for each in layout.envelopes_of(back)} == {"back"}
    assert len(layout.envelopes_of(front)) == len(layout.envelopes_of(back)) + 1
    assert len(layout.envelopes) == 15


# --- keep-outs ------------------------------------------------------------------------------------

LOCK = {"side": "front", "height": "60 mm", "tall": "20 mm", "width": "30 mm"}


def test_a_keep_out_lies_about_its_offset_and_height(design_a: Make, lay: Lay) -> None:
    project = design_a(
        keep_out=[{**LOCK, "offset": "50 mm", "depth": "25 mm", "name": "lock"}, LOCK]
    )
    board = lay().board("front")
    lock, other = places(project, board)
    assert (lock.name, other.name) == ("lock", "keep-out 2")
    middle = 37 * 25.4 / 2 + 50
    assert (lock.left, lock.right) == pytest.approx((middle - 15, middle + 15))
    assert (lock.low, lock.high) == pytest.approx((50, 70))
    assert places(project, lay().board("left")) == ()
    assert lock.stands_before(24.9)
    assert not lock.stands_before(25.0)
    assert other.stands_before(1e6)


@pytest.mark.parametrize(
    ("offset", "height", "flange", "lever"),
    [
        # seen from outside: the flange is a disc of 48, the lever 16 wide and from 60 to 118 up
        ("60 mm", "60 mm", 60 - 15 - 24, 60 - 15 - 8),
        ("60 mm", "150 mm", math.hypot(45, 80) - 24, math.hypot(37, 22)),
        ("0 mm", "150 mm", 80 - 24, 22),
        ("0 mm", "60 mm", -10 - 24, -10),  # 10 mm inside the nearer edge
        ("20 mm", "60 mm", 5 - 24, -3),
        ("8 mm", "52 mm", -2 - 24, -2),
    ],
)
def test_gaps_from_discs_and_boxes_to_a_keep_out(
    design_a: Make, lay: Lay, offset: str, height: str, flange: float, lever: float
) -> None:
    project = design_a(keep_out={**LOCK, "offset": offset, "height": height})
    layout = lay(taps=ONE)
    (place,) = places(project, layout.board("front"))
    found = by_reason(layout)
    assert place.gap(found["flange"]) == pytest.approx(flange)
    assert place.gap(found["lever"]) == pytest.approx(lever)


def test_what_begins_farther_out_than_a_keep_out_reaches_has_no_gap(
    design_a: Make, lay: Lay
) -> None:
    found = by_reason(lay(taps=ONE))
    (flat,) = places(design_a(keep_out={**LOCK, "depth": "6 mm"}), lay().board("front"))
    assert flat.gap(found["flange"]) is not None
    assert flat.gap(found["ring"]) is None  # 6 mm out is where the ring begins
    (deeper,) = places(design_a(keep_out={**LOCK, "depth": "6.1 mm"}), lay().board("front"))
    assert deeper.gap(found["ring"]) is not None
    assert deeper.gap(found["lever"]) is None
