"""The saw's test ring: scraps laid down one by one in plan, and what comes of their gaps."""

import cmath
import math
from collections.abc import Callable

import pytest
from collarwright.geometry.judge.evaluate import remarks
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.judge.inputs import inputs
from collarwright.geometry.shape.captions import board_captions
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.geometry.shape.saw_ring import (
    ring_gap,
    ring_spread_deg,
    ring_tilt_deg,
    two_ls,
)
from collarwright.params.project import Limits, Project

T = 19.05
ROOT = math.sqrt(2)

Scrap = tuple[complex, complex, complex, complex]
"""A scrap in plan: long points left and right, short points right and left."""


def scrap(long: float, thickness: float, tilt_deg: float) -> Scrap:
    back = thickness * math.tan(math.radians(tilt_deg))
    return 0j, complex(long), complex(long - back, thickness), complex(back, thickness)


def laid(a: complex, b: complex, on_a: complex, on_b: complex, part: list[Scrap]) -> list[Scrap]:
    """Turn and move scraps so that a lies on ``on_a`` and b in the direction of ``on_b``."""
    turn = cmath.exp(1j * (cmath.phase(on_b - on_a) - cmath.phase(b - a)))
    return [tuple(on_a + (p - a) * turn for p in each) for each in part]  # type: ignore[misc]


def chain(lengths: list[float], thickness: float, tilt_deg: float) -> list[Scrap]:
    """Lay scraps counterclockwise, each with its left face flat on the right face before it."""
    found: list[Scrap] = []
    for long in lengths:
        new = scrap(long, thickness, tilt_deg)
        if found:
            before = found[-1]
            (new,) = laid(new[0], new[3], before[1], before[2], [new])
        found.append(new)
    return found


def openings(a: list[float], b: list[float], thickness: float, tilt_deg: float) -> list[float]:
    """Push two L's together, and return how far apart their faces end at both joints, mm."""
    one, other = chain(a, thickness, tilt_deg), chain(b, thickness, tilt_deg)
    k = 0 if tilt_deg >= 45 else 3  # long points touch, or short ones
    far = 1 if k == 0 else 2
    first, last = one[0][k], one[1][far]
    other = laid(other[0][k], other[1][far], last, first, other)
    assert other[1][far] == pytest.approx(first, abs=1e-9)
    free = 3 - k
    free_far = 3 - far
    return [abs(one[0][free] - other[1][free_far]), abs(one[1][free_far] - other[0][free])]


@pytest.mark.parametrize("tilt", [41.0, 44.0, 44.9, 45.0, 45.05, 45.5, 48.0])
@pytest.mark.parametrize("thickness", [12.0, T, 38.0])
def test_two_ls_laid_down_open_as_the_formula_says(tilt: float, thickness: float) -> None:
    found = openings([300, 300], [300, 300], thickness, tilt)
    gap = ring_gap(tilt, thickness)
    assert found == pytest.approx([abs(gap)] * 2, abs=1e-9)
    assert (gap > 1e-9) == (tilt > 45)
    assert ring_tilt_deg(gap, thickness) == pytest.approx(tilt, abs=1e-9)
    # to first order, and with the face taken as long as at 45 deg
    off = math.radians(tilt - 45)
    assert gap == pytest.approx(4 * ROOT * thickness * off, rel=0.08)
    exact = 2 * ROOT * thickness * math.sin(2 * off)
    assert gap == pytest.approx(exact * math.cos(math.pi / 4) / math.cos(off + math.pi / 4))


@pytest.mark.parametrize("tilt", [43.8, 44.7, 45.4, 46.0])
def test_the_mean_of_both_gaps_does_not_hang_on_the_scraps_lengths(tilt: float) -> None:
    gap = abs(ring_gap(tilt, T))
    oblong = openings([340, 210], [340, 210], T, tilt)
    assert oblong == pytest.approx([gap, gap], abs=1e-9)
    kite = openings([300, 300.3], [300.3, 300], T, tilt)  # opposite scraps that are not alike
    assert abs(kite[0] - kite[1]) > 0.05
    assert sum(kite) / 2 == pytest.approx(gap, rel=1e-3)


@pytest.mark.parametrize("long", [150.0, 300.0])
@pytest.mark.parametrize("off", [-0.5, -0.1, 0.1, 0.5])
def test_with_three_joints_closed_the_fourth_says_more_of_the_length(
    long: float, off: float
) -> None:
    """Why three closed joints are not what is measured: the last faces do not touch at an end."""
    tilt = 45 + off
    first, *_, last = chain([long] * 4, T, tilt)
    d = math.radians(off)
    apart = last[1] - first[0]
    assert abs(apart) == pytest.approx(4 * ROOT * long * abs(d), rel=1e-2)
    inside = last[2] - first[3]
    assert abs(abs(apart) - abs(inside)) == pytest.approx(8 * ROOT * T * abs(d), rel=2e-2)
    lacking = cmath.phase((last[2] - last[1]) / (first[3] - first[0]))
    assert math.degrees(lacking) == pytest.approx(8 * off, abs=1e-9)
    if off > 0:  # the last scrap would have to stand in the first
        assert apart.imag < 0 < apart.real
    else:
        assert apart.real < 0 < apart.imag


def test_a_gap_by_hand() -> None:
    # 19.05 mm and 0.25 deg: 4 sqrt(2) 19.05 0.0043633 = 0.47020, times 1 + 0.0043633
    assert ring_gap(45.25, T) == pytest.approx(0.47226, abs=2e-5)
    assert ring_gap(44.75, T) == pytest.approx(-0.46815, abs=2e-5)
    assert ring_tilt_deg(0.0, T) == pytest.approx(45.0, abs=1e-12)
    # half a millimeter more or less at 19.05 mm: 0.25 / (4 sqrt(2) 19.05) = 0.13292 deg
    assert ring_spread_deg(0.0, 0.25, T) == pytest.approx(0.13292, abs=2e-5)


@pytest.mark.parametrize("tilt", [42.0, 45.0, 47.0])
def test_the_picture_is_two_ls_that_touch(tilt: float) -> None:
    """Every scrap has its own sizes, two joints are closed, the others touch at one end."""
    scraps = [[complex(*p) for p in each] for each in two_ls(tilt, T, 120.0)]
    for each, true in zip(scraps, [scrap(120.0, T, tilt)] * 4, strict=True):
        for i in range(4):
            for j in range(i):
                assert abs(each[i] - each[j]) == pytest.approx(abs(true[i] - true[j]))
    gap = abs(ring_gap(tilt, T))
    for i in range(4):
        one, following = scraps[i], scraps[(i + 1) % 4]
        ends = [abs(one[1] - following[0]), abs(one[2] - following[3])]
        wanted = [0.0, 0.0] if i % 2 == 0 else ([0.0, gap] if tilt >= 45 else [gap, 0.0])
        assert ends == pytest.approx(wanted, abs=1e-9)


# --- what comes of it -----------------------------------------------------------------------------

RING = {"ring_gap": "0.47226 mm", "ring_open": "inside"}
Lay = Callable[..., Layout]
Find = Callable[..., list[Finding]]


@pytest.mark.parametrize(
    ("ring", "scale"),
    [
        (RING, 44.75),  # the blade stands at 45.25 where the scale says 45
        ({"ring_gap": "0.46815 mm", "ring_open": "outside"}, 45.25),
        ({**RING, "ring_tilt": "44.5 deg"}, 44.25),
        ({"ring_gap": "0 mm"}, 45.0),
        ({"ring_gap": "0.94452 mm", "ring_open": "inside", "ring_thickness": "38.1 mm"}, 44.75),
    ],
)
def test_each_end_gets_its_setting(lay: Lay, ring: dict[str, str], scale: float) -> None:
    layout = lay(shop=ring)
    for board in layout.boards:
        assert board.scale_left_deg == pytest.approx(scale, abs=1e-3)
        assert board.scale_right_deg == pytest.approx(scale, abs=1e-3)
        assert board.miter_left_deg == pytest.approx(45)


def test_every_end_has_its_own_setting_and_a_square_one_has_none(lay: Lay) -> None:
    # the corners of this lip, by hand: 89.590, 90.306, 89.573, 90.530 deg
    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        "front_left_to_back_right": "1110.173 mm",
    }  # fmt: skip
    cover = {"thickness": "12 mm", "sides": ("front", "left")}
    layout = lay(lip=lip, board={"follow": "lip"}, shop=RING, cover=cover)
    front = layout.board("front")
    assert front.scale_left_deg == pytest.approx(90 - 89.590 / 2 - 0.25, abs=2e-3)
    assert front.scale_right_deg == pytest.approx(90 - 90.306 / 2 - 0.25, abs=2e-3)
    hung = layout.cover("front")
    assert hung is not None
    assert hung.miter_right_deg == 0
    assert hung.scale_right_deg is None
    assert hung.scale_left_deg == pytest.approx(hung.miter_left_deg - 0.25, abs=1e-3)


# A ring that was cut at a true 47.5 deg while the scale said 45 deg:
# cos(95 deg) = -0.0871557, cos(47.5 deg) = 0.6755902, 2 x 19.05 x 0.0871557 / 0.6755902 = 4.9152
WIDE = {"ring_gap": "4.9152 mm", "ring_open": "inside"}
# and at 46.9 deg, 1.9 deg away: 38.1 x 0.0662739 / 0.6832737 = 3.6955
CLOSE = {"ring_gap": "3.6955 mm", "ring_open": "inside"}


def test_a_miter_far_from_the_rings_tilt_gets_no_setting(
    lay: Lay, findings: Find, design_a: Callable[..., Project]
) -> None:
    layout = lay(shop=WIDE)
    assert layout.ring.off_deg == pytest.approx(2.5, abs=1e-3)
    for board in layout.boards:
        assert board.scale_left_deg is board.scale_right_deg is None
        assert board.prove_left
        assert board.prove_right
    said = board_captions(layout.board("front"), (), "mm")
    assert (
        "Saw's scale, left and right end: too far from the test ring, prove this tilt on scraps."
        in said
    )
    assert not any("set it to" in text for text in said)
    stop = findings("saw", shop={**STOP, **WIDE})[0]
    assert stop.measured == pytest.approx(0.0, abs=1e-9)  # 45 deg true, whatever the scale says
    assert stop.why.endswith("45.0 deg: too far from the test ring, prove this tilt on scraps")
    near = lay(shop=CLOSE).board("front")
    assert near.scale_left_deg == pytest.approx(45 - 1.9, abs=1e-3)
    assert not near.prove_left


def test_one_end_may_be_near_and_the_other_far(lay: Lay) -> None:
    """Corners by hand as below: 89.590 and 90.306 deg, so 45.205 and 44.847 deg of tilt."""
    lip = {
        "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
        "front_left_to_back_right": "1110.173 mm",
    }  # fmt: skip
    # a ring at 47 deg: cos(94 deg) = -0.0697565, cos(47 deg) = 0.6819984, 38.1 x 0.1022825 = 3.8970
    layout = lay(lip=lip, board={"follow": "lip"}, shop={**WIDE, "ring_gap": "3.8970 mm"})
    front = layout.board("front")
    assert front.scale_left_deg == pytest.approx(45.205 - 2.0, abs=2e-3)
    assert front.scale_right_deg is None
    assert (front.prove_left, front.prove_right) == (False, True)
    said = board_captions(front, (), "mm")
    assert "Saw's scale, by the test ring: set it to 43.2 deg at the left end." in said
    assert "Saw's scale, right end: too far from the test ring, prove this tilt on scraps." in said


def test_without_a_ring_nothing_is_said_of_the_scale(lay: Lay) -> None:
    layout = lay()
    assert layout.ring.off_deg is None
    assert {board.scale_left_deg for board in layout.boards} == {None}
    said = board_captions(layout.board("front"), layout.taps, "mm")
    assert not any("scale" in text for text in said)


def test_captions_say_the_true_tilt_first_and_then_the_scale(lay: Lay) -> None:
    said = board_captions(lay(shop={**RING, "ring_tilt": "44.6 deg"}).board("front"), (), "mm")
    at = next(i for i, text in enumerate(said) if text.startswith("Miters: tilt the blade 45.0"))
    scale = "set it to 44.4 deg at the left end, 44.4 deg at the right end."  # 45 - 0.65 = 44.35
    assert said[at + 1] == f"Saw's scale, by the test ring: {scale}"


def test_the_remark_says_how_far_the_scale_is_off_and_how_well_that_is_known(
    design_a: Callable[..., Project],
) -> None:
    def said(limits: Limits | None = None, **shop: str) -> str:
        project = design_a(shop=shop, limits=limits)
        (text,) = [each for each in remarks(project, lay_out(project)) if "test ring" in each]
        return text

    text = said(**RING)
    assert "with 45.0 deg on the saw's scale the blade stood at 45.25 deg" in text
    assert "0.25 deg less than a true tilt" in text
    assert "a gap read to 0.25 mm makes that good to 0.13 deg;" in text  # 0.25 / (4 sqrt(2) 19.05)
    assert text.endswith("set so within 2 deg of that tilt only")
    fine = Limits(readings={"shop.ring_gap": 0.05})
    assert "a gap read to 0.05 mm makes that good to 0.03 deg;" in said(fine, **RING)
    assert "0.25 deg more than" in said(ring_gap="0.46815 mm", ring_open="outside")
    assert "more than" not in said(ring_gap="0 mm")


def test_a_reading_of_the_ring_moves_the_design_and_its_setting_does_not(
    design_a: Callable[..., Project],
) -> None:
    project = design_a(shop={**RING, "ring_tilt": "45 deg"})
    keys = [each.key for each in inputs(project)]
    assert "shop.ring_gap" in keys
    assert "shop.ring_tilt" not in keys
    (gap,) = [each for each in inputs(project) if each.key == "shop.ring_gap"]
    off = [lay_out(gap.moved(project, at)).ring.off_deg for at in (gap.low, gap.high)]
    assert off == pytest.approx([0.25 - 0.1325, 0.25 + 0.1325], abs=2e-3)
    tight = design_a(shop={"ring_gap": "0 mm"})
    (gap,) = [each for each in inputs(tight) if each.key == "shop.ring_gap"]
    below = lay_out(gap.moved(tight, gap.low)).ring.off_deg  # then it is open outside
    assert below == pytest.approx(-0.1329, abs=1e-3)


STOP = {"tilt_max": "45 deg", "cross_cut": "140 mm", "cut_depth_tilted": "20 mm"}


def test_the_stop_is_held_against_the_setting_on_the_scale(findings: Find) -> None:
    """0.25 deg below 45 goes where the scale stops at 45; 0.25 above it does not."""
    far = findings("saw", shop={**STOP, **RING})[0]
    assert far.measured == pytest.approx(0.25, abs=1e-3)
    assert far.verdict == "pass"
    # a ring at 45.2 deg: 38.1 x sin(0.4 deg) / cos(45.2 deg) = 38.1 x 0.0069813 / 0.7046342
    fifth = {"ring_gap": "0.37748 mm", "ring_open": "inside"}
    why = findings("saw", shop={**STOP, **fifth})[0].why
    assert why.endswith(", 45.0 deg: 44.8 on the scale, by the test ring")
    outside = {"ring_gap": "0.46815 mm", "ring_open": "outside"}
    little = findings("saw", shop={**STOP, **outside})[0]
    assert little.measured == pytest.approx(-0.25, abs=1e-3)
    assert little.verdict == "fail"
