"""How far margins move: inputs with their limits, root sum of squares by hand, Monte Carlo."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.judge.evaluate import Evaluation, evaluate
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.judge.inputs import Input, inputs
from collarwright.geometry.judge.tolerance import with_tolerance
from collarwright.params.project import Limits, Project

Make = Callable[..., Project]

SIZE = {"stock": None, "thickness": "19.05 mm", "width": "139.7 mm"}
"""The boards measured, so that no catalogue figure comes in."""
LID = {
    "thickness": "60 mm", "skirt": "12 mm", "skirt_thickness": "1 mm", "overhang": "10 mm",
    "gasket_inset": "26 mm", "gasket_width": "25 mm",
}  # fmt: skip
HINGE = {"axis_behind": "20 mm", "axis_above": "-5 mm", "open_to": "80 deg"}


def known(project: Project) -> dict[str, Input]:
    return {each.key: each for each in inputs(project)}


def judged(project: Project) -> Evaluation:
    return with_tolerance(project, evaluate(project))


def one(evaluation: Evaluation, check: str, **where: Any) -> Finding:
    found = [
        each
        for each in evaluation.findings
        if each.check == check and all(getattr(each.where, k) == v for k, v in where.items())
    ]
    assert found, check
    return found[0]


# --- inputs ---------------------------------------------------------------------------------------


def test_limits_of_error_where_the_file_gives_none(design_a: Make) -> None:
    project = design_a(
        board=SIZE,
        lip={"tape": "0.8 mm"},
        lid={**LID, "plug_inset": "40 mm"},
        hinge=HINGE,
        room={"behind": "100 mm", "temperature": "22 degC", "humidity": "50 %"},
    )
    error = {key: each.high - each.value for key, each in known(project).items()}
    assert error["lip.front"] == pytest.approx(0.8)
    assert error["lip.land"] == pytest.approx(0.8)
    assert error["lid.thickness"] == pytest.approx(0.8)
    assert error["lid.gasket_inset"] == error["lid.plug_inset"] == 2
    assert error["hinge.axis_behind"] == error["hinge.axis_above"] == 3
    assert error["board.thickness"] == error["taps.bore"] == error["foam.thickness"] == 0.5
    assert error["room.behind"] == 10
    assert error["hinge.open_to"] == 2
    assert error["room.temperature"] == 1
    assert error["room.humidity"] == 5
    assert "lip.tape" not in error


def test_what_was_left_out_is_no_reading(design_a: Make) -> None:
    keys = known(design_a())
    assert "lip.land_starts" not in keys
    assert "board.overhang" not in keys
    assert "taps.height" not in keys


def test_a_zero_that_says_there_is_none_is_no_reading(design_a: Make) -> None:
    lid = {"skirt": {"front": "12 mm", "back": "0 mm"}, "plug": "0 mm"}
    keys = known(design_a(lid=lid, hinge={"backing": "0 mm"}, foam={"below_top": "0 mm"}))
    assert "lid.skirt.front" in keys
    assert "foam.below_top" in keys  # flush, which is measured
    assert not {"lid.skirt.back", "lid.plug", "hinge.backing"} & set(keys)


def test_one_length_for_all_sides_is_one_reading(design_a: Make) -> None:
    both = known(design_a(lid={"overhang": {"front": "5 mm", "left": "4 mm"}}))
    assert {"lid.overhang.front", "lid.overhang.left"} <= set(both)
    assert "lid.overhang.right" not in both
    project = design_a()
    alone = known(project)
    assert "lid.overhang" in alone
    moved = alone["lid.overhang"].moved(project, 7.0)
    assert moved.lid is not None and moved.lid.overhang is not None
    assert [moved.lid.overhang.on(s) for s in ("front", "right", "back", "left")] == [7.0] * 4


def test_each_repeated_reading_moves_by_itself(design_a: Make) -> None:
    project = design_a(lip={"front": ("37 in", "37 1/16 in")})
    keys = known(project)
    assert {"lip.front[1]", "lip.front[2]"} <= set(keys)
    assert keys["lip.front[2]"].moved(project, 900.0).lip.front == (37 * 25.4, 900.0)


def test_the_builders_own_limit_goes_before(design_a: Make) -> None:
    project = design_a(limits=Limits(readings={"lid.gasket_inset": 0.5, "lip.front": 3.0}))
    error = {key: each.high - each.value for key, each in known(project).items()}
    assert error["lid.gasket_inset"] == 0.5
    assert error["lip.front"] == 3.0
    assert error["lip.back"] == 1.0


def test_figures_of_bought_parts_move_between_low_and_high(design_a: Make) -> None:
    found = known(design_a())["shanks: shank-4-1-8-in, flange_diameter"]
    assert (found.low, found.value, found.high) == (44, 48, 52)
    assert found.says == "measure the part you bought: shank-4-1-8-in, flange diameter"


def test_a_reading_replaces_the_figure_of_the_part(design_a: Make) -> None:
    """The thread was measured: 0.5 mm of it, not the catalogue's 22 to 23 mm, moves the play."""
    bought = one(judged(design_a(taps={"bore": "25 mm"})), "bore-entry")
    measured = one(judged(design_a(taps={"bore": "25 mm", "thread": "22.2 mm"})), "bore-entry")
    assert bought.tolerance == pytest.approx(math.hypot(23 - 22.225, 0.5))
    assert measured.tolerance == pytest.approx(math.hypot(0.5, 0.5))


# --- root sum of squares by hand ------------------------------------------------------------------


def test_gasket_seat_by_hand(design_a: Make) -> None:
    """Overlap = t - (inset - overhang - width/2): 0.5, 2, 1 and half of 1 mm."""
    found = one(judged(design_a(board=SIZE)), "gasket-seat", side="front")
    assert found.margin == pytest.approx(19.05 - 2.5 - 10)
    assert found.tolerance == pytest.approx(math.sqrt(0.5**2 + 2**2 + 1**2 + 0.5**2))
    assert found.decided_by == "measure this: lid.gasket_inset"
    assert found.verdict == "pass"


@pytest.mark.parametrize(("inset", "verdict"), [(24.0, "pass"), (25.0, "tight"), (27.0, "fail")])
def test_less_margin_than_tolerance_is_tight(design_a: Make, inset: float, verdict: str) -> None:
    found = one(judged(design_a(board=SIZE, lid={"gasket_inset": f"{inset} mm"})), "gasket-seat")
    assert found.margin == pytest.approx(19.05 - (inset - 17.5) - 10)
    assert found.verdict == verdict


def test_only_what_takes_away_counts(design_a: Make) -> None:
    """Gasket from 2.5 to 27.5 mm on a strip from 5 to 30: the inset down takes from one end only,
    and is the only way in which it takes anything."""
    cap = {"material": "steel", "thickness": "1 mm", "width": "25 mm", "inset": "5 mm"}
    found = one(judged(design_a(board=SIZE, cap=cap)), "gasket-seat", side="front")
    # overlap = inset - overhang + width/2 - 5: 2, 1, half of 1, and the strip's inset 0.5
    assert found.measured == pytest.approx(22.5)
    assert found.tolerance == pytest.approx(math.sqrt(2**2 + 1**2 + 0.5**2 + 0.5**2))


def test_a_reading_that_cannot_move_one_way_moves_the_other(design_a: Make) -> None:
    """Opposite sides 2 tapes apart determine the lip; 2.5 apart they do not."""
    lip = {"front": "940 mm", "back": "942 mm", "right": "533 mm", "left": "533 mm", "tape": "1 mm"}
    evaluation = judged(design_a(board=SIZE, lip=lip))
    found = one(evaluation, "stand", side="left")
    assert found.tolerance is not None and found.tolerance > 0


def test_what_has_no_margin_has_no_tolerance(design_a: Make) -> None:
    evaluation = judged(design_a(taps={"count": 1, "spacing": None}))
    assert one(evaluation, "bore-web").tolerance is None
    assert one(evaluation, "saw").tolerance is None


def test_the_design_names_what_is_worth_measuring_again(design_a: Make) -> None:
    calm = judged(design_a(board=SIZE, taps={"bore": "25 mm", "thread": "22.2 mm"}))
    tight = [each for each in calm.findings if each.verdict == "tight" and each.weight == "must"]
    assert (calm.measure_again is None) == (not tight)
    near = judged(design_a(board=SIZE, lid={"gasket_inset": "25 mm"}))
    assert near.verdict == "tight"
    assert near.measure_again == "measure this: lid.gasket_inset"


# --- Monte Carlo ----------------------------------------------------------------------------------

SAMPLES = 20_000


def spread(margins: "np.ndarray[Any, np.dtype[np.float64]]") -> float:
    """Twice the standard deviation: limits of error are taken as two of them."""
    return 2 * float(np.std(margins))


def test_against_monte_carlo_in_closed_form(design_a: Make) -> None:
    """20,000 samples of each reading, normal, two standard deviations to its limit; margins by
    formulas written out here."""
    draw = np.random.default_rng(20260502).normal
    room = {"behind": "150 mm"}
    evaluation = judged(
        design_a(board={**SIZE, "overhang": "1 mm"}, lid=LID, hinge=HINGE, room=room)
    )

    def about(value: float, limit: float) -> Any:
        return draw(value, limit / 2, SAMPLES)

    t, over, out = about(19.05, 0.5), about(1, 0.5), about(10, 1)
    inset, width, rim = about(26, 2), about(25, 1), about(1, 1)
    g = inset - out
    seat = np.minimum(t - over, g + width / 2) - np.maximum(-over, g - width / 2) - 10
    assert one(evaluation, "gasket-seat", side="left").tolerance == pytest.approx(
        spread(seat), rel=0.03
    )
    skirt = out - rim - over - 2
    assert one(evaluation, "skirt", side="left").tolerance == pytest.approx(spread(skirt), rel=0.03)

    # lid-wall: at the stop of 80 deg the back top corner (y, z from the axis) is still on its way
    behind, above, wall, high = about(20, 3), about(-5, 3), about(150, 10), about(60, 1)
    y, z, stop = out - over - behind, high - above, np.radians(about(80, 2))
    margin = wall - (y * np.cos(stop) + z * np.sin(stop) + over + behind)
    found, th = one(evaluation, "lid-wall"), math.radians(80)
    assert found.margin == pytest.approx(
        150 - ((10 - 1 - 20) * math.cos(th) + 65 * math.sin(th) + 21)
    )
    assert found.tolerance == pytest.approx(spread(margin), rel=0.03)


@pytest.mark.slow
def test_against_monte_carlo_of_the_whole_lip(design_a: Make) -> None:
    """Six readings of a lip: 20,000 collars laid out, against the root sum of squares."""
    lip = {
        "front": "955 mm", "right": "561 mm", "back": "954 mm", "left": "559 mm",
        "front_left_to_back_right": "1110.17 mm", "front_right_to_back_left": "1103.12 mm",
        "land": "60 mm",
    }  # fmt: skip
    project = design_a(board=SIZE, lip=lip)
    base = judged(project)
    readings = [each for each in inputs(project) if each.part is None]
    only = [each for each in readings if each.key.startswith(("lip.", "board."))]
    rng = np.random.default_rng(7)
    found: dict[str, list[float]] = {side: [] for side in ("front", "right", "back", "left")}
    from collarwright.geometry.judge.checks import stand
    from collarwright.geometry.judge.design import Design
    from collarwright.geometry.shape.layout import lay_out

    for _ in range(SAMPLES):
        moved = project
        for each in only:
            moved = each.moved(moved, rng.normal(each.value, (each.high - each.value) / 2))
        for finding in stand.find_stand(Design(moved, lay_out(moved))):
            assert finding.where.side is not None and finding.margin is not None
            found[finding.where.side].append(finding.margin)
    for side, margins in found.items():
        tolerance = one(base, "stand", side=side).tolerance
        assert tolerance == pytest.approx(spread(np.array(margins)), rel=0.05), side


def test_too_much_work_is_left_and_said(design_a: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    from collarwright.geometry.judge import tolerance

    project = design_a(board=SIZE)
    base = evaluate(project)
    monkeypatch.setattr(tolerance, "MOST_WORK", 2 * len(inputs(project)) * len(base.findings) - 1)
    left = with_tolerance(project, base)
    assert left.findings == base.findings
    assert "tolerances were not worked out" in left.notes[0]


def test_a_pocket_that_the_program_chose_is_cut_at_its_size_whatever_nut_arrives(
    design_a: Make,
) -> None:
    """Wrench circle 50 mm (45 to 55), pocket 51 by default: 1 mm of room that 5 mm can take."""
    found = one(judged(design_a(foam={"pocket": None})), "nut-room")
    assert found.margin == pytest.approx(1.0)
    assert found.tolerance == pytest.approx(5.0)
    assert found.verdict == "tight"
