"""Designs A and B worked out by hand: every finding of every check, with its figures.

A: lip 37 x 21 in, land 2 in, 1x6 (t 19.05, w 139.7 mm), flush, 1 in foam with 60 mm pockets, shank
of 4-1/8 in with a 50 x 3 mm washer, short knobs, three taps 3 in apart in 1 in bores; the lid
overhangs by 5 mm and has no skirt, its gasket is 25 mm wide and 20 mm inside its edge.
B: the same in 2x8 (t 38.1, w 184.15 mm).
"""

import math
from collections.abc import Callable

import pytest
from collarwright.geometry.judge.evaluate import Evaluation, evaluate
from collarwright.geometry.judge.finding import Finding
from collarwright.params.project import Project

Make = Callable[..., Project]
SIDES = ("front", "right", "back", "left")

# measured and required for each design; one pair for all things of a check, or one for each.
# margin = measured - required, all of these being "at least".
A: dict[str, tuple[tuple[float, float], ...]] = {
    "stand": ((19.05 - 0, 12),),  # land reaches to 50.8, half the board is 9.5
    "corner": ((19.05 * math.sqrt(2), 12),),
    "gasket-seat": ((19.05 - (15 - 12.5), 10),),  # g = 20 - 5, gasket from 2.5 to 27.5
    "bore-entry": ((25.4 - 22.225, 0.4),),
    "bore-cover": (((48 - 25.4) / 2 - (25.4 - 22.225) / 2, 2),),
    "nut-cover": (((50 - 25.4) / 2 - (25.4 - 22.225) / 2, 2),),
    "bore-web": ((76.2 - 25.4, 25.4),),
    "bore-edge": ((139.7 / 2 - 48 / 2, 3),),
    # u = 469.9 -+ 76.2; the next board's inner face is at 19.05, its foam begins at 25.4 behind
    # the face, beyond the nut's 9 mm
    "bore-end": (
        (393.7 - 19.05 - 25, 0),
        (469.9 - 19.05 - 25, 0),
        (393.7 - 19.05 - 25, 0),
    ),
    "shank-grip": ((101.8 - (19.05 + 3 + 9), 10),),
    "shank-run": ((19.05 + 3 - 6, 0),),
    "shank-past-foam": ((104.8 - (19.05 + 25.4) - 14, 0),),
    "nut-room": ((60 - 50, 0),),
    "tap-gap": ((76.2 - 48, 2),),
    "handle-gap": ((76.2 - 29, 20),),
}
B: dict[str, tuple[tuple[float, float], ...]] = A | {
    "stand": ((38.1 - 0, 38.1 / 2),),
    "corner": ((38.1 * math.sqrt(2), 12),),
    "gasket-seat": ((27.5 - 2.5, 10),),  # the whole gasket is on wood
    "bore-edge": ((184.15 / 2 - 48 / 2, 3),),
    "bore-end": (
        (393.7 - 38.1 - 25, 0),
        (469.9 - 38.1 - 25, 0),
        (393.7 - 38.1 - 25, 0),
    ),
    "shank-grip": ((101.8 - (38.1 + 3 + 9), 10),),
    "shank-run": ((38.1 + 3 - 6, 0),),
    "shank-past-foam": ((104.8 - (38.1 + 25.4) - 14, 0),),
}
LID = ("lid.thickness", "hinge.axis_behind", "hinge.axis_above", "hinge.open_to")
LEAF = (
    "hinge.positions", "hinge.leaf_height", "hinge.leaf_thickness", "hinge.screw",
    "hinge.screw_length", "hinge.screws", "hinge.spring", "board.species",
)  # fmt: skip
NOT_CHECKED: dict[str, list[tuple[str, ...]]] = {
    "readings": [("lip.front_left_to_back_right", "lip.front_right_to_back_left")],
    "lip-square": [("lip.front_left_to_back_right",)],
    "saw": [("shop.tilt_max",), ("shop.cross_cut",), ("shop.cut_depth_tilted",)],
    "wrench-swing": [("taps.wrench",)] * 3,
    "lid-wall": [(*LID, "room.behind")],
    "lid-ceiling": [(*LID, "room.above")],
    "lid-back": [("lid.thickness", "lid.plug", *LID[1:])],
    "lid-front": [(*LID, "taps.faucet")] * 3,
    "lip-flat": [("lip.gaps", "seat.seal")] * 4,
    "gasket-pull": [("lid.gasket",)],
    "plug": [("lid.plug",)] * 4,
    "collar-hold": [("seat.hold", "board.species", "lid.mass", *LID)],
    "pour-room": [("taps.glass", "taps.faucet")] * 3,
    "hinge-fit": [("hinge.positions",)],
    "hinge-hold": [("lid.mass", *LID, *LEAF)] * 2,
    "screw-length": [("hinge.screw_length", "hinge.leaf_thickness")],
    "head-room": [("vessel",)],
    "opening": [("vessel",)],
    "foam-land": [("well", "vessel")] * 4,
    "lift": [("vessel",)],
    "stock": [("stock.length",)],
}
ADVICE = {"lip-square", "gasket-pull", "pour-room", "foam-land", "lift"}
NOTHING_NEAR = {"skirt", "foam-crush", "manifold"}
BY_SIDE = ("stand", "gasket-seat", "skirt")
CORNERS = ["front-left", "front-right", "back-right", "back-left"]


@pytest.fixture(scope="module", params=["A", "B"])
def worked(
    request: pytest.FixtureRequest, design_a: Make, design_b: Make
) -> tuple[Evaluation, dict[str, tuple[tuple[float, float], ...]]]:
    make, expected = {"A": (design_a, A), "B": (design_b, B)}[request.param]
    return evaluate(make()), expected


def of(evaluation: Evaluation, check: str) -> list[Finding]:
    return [found for found in evaluation.findings if found.check == check]


@pytest.mark.parametrize("check", A)
def test_every_figure_is_as_worked_out_by_hand(
    worked: tuple[Evaluation, dict[str, tuple[tuple[float, float], ...]]], check: str
) -> None:
    evaluation, expected = worked
    found = of(evaluation, check)
    pairs = expected[check]
    things = 4 if check in (*BY_SIDE, "corner") else 3
    assert len(found) == things
    for finding, (measured, required) in zip(found, pairs * (things // len(pairs)), strict=True):
        assert finding.measured == pytest.approx(measured)
        assert finding.required == pytest.approx(required)
        assert finding.margin == pytest.approx(measured - required)
        assert (finding.sense, finding.unit) == ("at least", "mm")
        assert (finding.verdict, finding.missing) == ("pass", ())


@pytest.mark.parametrize("check", NOT_CHECKED)
def test_what_the_build_file_lacks_is_named(worked: tuple[Evaluation, object], check: str) -> None:
    found = of(worked[0], check)
    assert [finding.missing for finding in found] == NOT_CHECKED[check]
    for finding in found:
        assert finding.verdict == "not-checked"
        assert (finding.measured, finding.required, finding.margin) == (None, None, None)


def test_a_lid_without_a_skirt_has_nothing_to_catch_on(worked: tuple[Evaluation, object]) -> None:
    found = of(worked[0], "skirt")
    assert [finding.where.side for finding in found] == list(SIDES)
    assert {(finding.verdict, finding.measured) for finding in found} == {("pass", None)}


def test_there_is_one_finding_for_each_thing_and_no_other_check(
    worked: tuple[Evaluation, object],
) -> None:
    evaluation = worked[0]
    assert {finding.check for finding in evaluation.findings} == {*A, *NOT_CHECKED, *NOTHING_NEAR}
    for check in BY_SIDE:
        assert [finding.where.side for finding in of(evaluation, check)] == list(SIDES)
    assert [finding.where.corner for finding in of(evaluation, "corner")] == CORNERS
    for check in ("bore-entry", "bore-end", "shank-grip", "tap-gap", "wrench-swing"):
        assert [(f.where.side, f.where.tap) for f in of(evaluation, check)] == [
            ("front", 1),
            ("front", 2),
            ("front", 3),
        ]
    wheres = [(finding.check, finding.where) for finding in evaluation.findings]
    assert len(wheres) == len(set(wheres))


def test_both_are_good_builds(worked: tuple[Evaluation, object]) -> None:
    evaluation = worked[0]
    assert not [f for f in evaluation.findings if f.verdict in ("fail", "tight")]
    assert evaluation.verdict == "not-checked"
    assert {f.check for f in evaluation.findings if f.weight == "advice"} == ADVICE


def test_without_the_washer_the_nut_rightly_does_not_cover_the_bore(design_a: Make) -> None:
    found = of(evaluate(design_a(taps={"washer_diameter": None})), "nut-cover")
    for finding in found:
        assert finding.measured == pytest.approx((32 - 25.4) / 2 - (25.4 - 22.225) / 2)  # 1.7 mm
        assert finding.verdict == "fail"


def test_with_everything_measured_design_a_passes(design_a: Make) -> None:
    """Two diagonals, seat, saw, wrench, faucet, hinge, room and well: nothing is left open."""
    diagonal = f"{math.hypot(939.8, 533.4):.9f} mm"
    evaluation = evaluate(
        design_a(
            lip={
                "front_left_to_back_right": diagonal,
                "front_right_to_back_left": diagonal,
                "gaps": "1 mm",
            },
            board={"species": "eastern-white-pine"},
            seat={"hold": "tape", "hold_strength": "90 kPa", "seal": "foam-tape-narrow"},
            taps={
                "wrench": "wrench-hook-pin",
                "faucet": "faucet-forward-sealing",
                "glass": "180 mm",
            },
            lid={"thickness": "60 mm", "gasket": "bulb", "plug": "0 mm", "mass": "12 kg"},
            hinge={
                "axis_behind": "15 mm",
                "axis_above": "-10 mm",
                "open_to": "90 deg",
                "positions": ("-300 mm", "300 mm"),
                "leaf_height": "90 mm",
                "leaf_width": "60 mm",
                "leaf_thickness": "2 mm",
                "screw": "wood-screw-no-8",
                "screw_length": "19 mm",
                "screws": 3,
                "spring": False,
            },
            room={"behind": "100 mm", "above": "1200 mm", "lip_height": "850 mm"},
            shop={"tilt_max": "47 deg", "cross_cut": "300 mm", "cut_depth_tilted": "50 mm"},
            stock={"length": ({"length": "8 ft"},)},
            well={"length": "820 mm", "width": "420 mm", "height": "700 mm"},
            vessel=[{"kind": "soda-keg-ball-lock-2-5gal-tall", "count": 2}],
        )
    )
    assert evaluation.verdict == "pass"
    assert {finding.verdict for finding in evaluation.findings} == {"pass"}


def test_evaluating_twice_says_the_same(design_a: Make) -> None:
    assert evaluate(design_a()) == evaluate(design_a())
