"""The collar as it was cut: dry frames worked out by plane geometry, bores and sizes in place."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.evaluate import evaluate, remarks
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.judge.inputs import inputs
from collarwright.geometry.shape.built import second_diagonal, squared
from collarwright.geometry.shape.compared import differences
from collarwright.geometry.shape.layout import Layout, as_built, lay_out
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Built, BuiltBore, Limits, Project

Make = Callable[..., Project]

W, D, T = 939.8, 533.4, 19.05
"""Design A: 37 x 21 in outside, of boards 3/4 in thick, mm."""


def made(project: Project, *bores: dict[str, Any], **built: Any) -> Project:
    """The project as it was cut."""
    rows = tuple(BuiltBore(**bore) for bore in bores)
    return as_built(replace(project, built=Built(**built, bore=rows)))


def leaning(theta_deg: float) -> dict[str, str]:
    """The diagonals of a W x D frame racked until its front-left corner is ``theta_deg``.

    Cosine rule: the diagonal from front-left lies opposite the corner 180 - theta.
    """
    twice = 2 * W * D * math.cos(math.radians(theta_deg))
    return {
        "front_left_to_back_right": f"{math.sqrt(W**2 + D**2 + twice)} mm",
        "front_right_to_back_left": f"{math.sqrt(W**2 + D**2 - twice)} mm",
    }


def of_check(project: Project, check: str) -> list[Finding]:
    return [each for each in evaluate(project).findings if each.check == check]


def dry_angles(layout: Layout) -> tuple[float, ...]:
    assert layout.frame.dry is not None
    return layout.frame.dry.angles_deg


# --- the frame ----------------------------------------------------------------------------


def test_a_racked_rectangle_is_a_parallelogram_over_the_middle_of_the_lip(design_a: Make) -> None:
    layout = lay_out(made(design_a(), **leaning(89)))
    assert dry_angles(layout) == pytest.approx((89, 91, 89, 91), abs=1e-6)
    # the left side leans by 1 deg about its middle (0, D/2); front and back stay along X
    lean, up = D / 2 * math.cos(math.radians(89)), D / 2 * math.sin(math.radians(89))
    corners = [(corner.x, corner.y) for corner in layout.frame.corners]
    assert corners[0] == pytest.approx((-lean, D / 2 - up), abs=1e-6)
    assert corners[1] == pytest.approx((W - lean, D / 2 - up), abs=1e-6)
    assert corners[2] == pytest.approx((W + lean, D / 2 + up), abs=1e-6)
    assert corners[3] == pytest.approx((lean, D / 2 + up), abs=1e-6)
    assert [board.long_point for board in layout.boards] == pytest.approx([W, D, W, D])
    assert layout.frame.width is None


def test_the_collar_that_leans_stands_on_less_of_the_lip(design_a: Make) -> None:
    """From the lip's corner to the left board's line: D/2 sin(1 deg), over at one end."""
    stands = {each.where.side: each for each in of_check(made(design_a(), **leaning(89)), "stand")}
    over = D / 2 * math.sin(math.radians(1))
    assert stands["left"].measured == pytest.approx(T - over, abs=1e-6)
    assert stands["right"].measured == pytest.approx(T - over, abs=1e-6)
    # front and back come inside by half of what the frame lost in depth: still all on the land
    assert stands["front"].measured == pytest.approx(T, abs=1e-6)


def test_it_is_laid_along_the_middle_of_a_skewed_lip(design_a: Make) -> None:
    """Lip (0, 0), (W, 0), (W, D + 10), (0, D): its mid line rises by 5 over W, its middle is
    at D/2 + 2.5. A true rectangle of W x D is laid along that line."""
    lip = {
        "right": f"{D + 10} mm", "back": f"{math.hypot(W, 10)} mm",
        "front_left_to_back_right": f"{math.hypot(W, D + 10)} mm",
    }  # fmt: skip
    sides = {"front": f"{W} mm", "right": f"{D} mm", "back": f"{W} mm", "left": f"{D} mm"}
    layout = lay_out(made(design_a(lip=lip), **sides, **leaning(90)))
    (left, right, far, back) = [(corner.x, corner.y) for corner in layout.frame.corners]
    slope = math.atan2(5, W)
    assert math.atan2(right[1] - left[1], right[0] - left[0]) == pytest.approx(slope, abs=1e-9)
    middle = (left[0] + far[0]) / 2, (left[1] + far[1]) / 2
    assert middle == pytest.approx((W / 2, D / 2 + 2.5), abs=1e-6)
    assert math.dist(left, back) == pytest.approx(D)


@pytest.mark.parametrize("key", ["front_left_to_back_right", "front_right_to_back_left"])
def test_one_diagonal_does(design_a: Make, key: str) -> None:
    layout = lay_out(made(design_a(), **{key: leaning(91.5)[key]}))
    assert dry_angles(layout) == pytest.approx((91.5, 88.5, 91.5, 88.5), abs=1e-6)


def test_without_a_diagonal_it_is_taken_as_pushed_square(design_a: Make) -> None:
    layout = lay_out(made(design_a(), front=f"{W - 2} mm"))
    # a trapezoid with equal diagonals: each side leans by 1 mm over its length
    lean = math.degrees(math.asin(1 / D))
    expected = (90 + lean, 90 + lean, 90 - lean, 90 - lean)
    assert dry_angles(layout) == pytest.approx(expected, abs=1e-6)
    dry = layout.frame.dry
    assert dry is not None and dry.known_by == "sides"
    assert dry.diagonals[0] == pytest.approx(dry.diagonals[1])


def test_boards_that_were_not_measured_stay_as_drawn(design_a: Make) -> None:
    layout = lay_out(made(design_a(), right="530 mm", left="530 mm"))
    assert [board.long_point for board in layout.boards] == pytest.approx([W, 530, W, 530])
    assert dry_angles(layout) == pytest.approx((90,) * 4)


def test_a_collar_that_follows_the_lip_is_racked_to_the_drawn_shape(design_a: Make) -> None:
    lip = {"back": "930 mm", "front_left_to_back_right": "1078 mm"}
    project = design_a(lip=lip, board={"follow": "lip"})
    drawn = lay_out(project)
    real = lay_out(made(project, thickness="19.05 mm"))
    assert dry_angles(real) == pytest.approx(
        [corner.interior_deg for corner in drawn.frame.corners], abs=1e-6
    )


def test_miters_keep_the_tilt_that_they_were_sawn_at(design_a: Make) -> None:
    layout = lay_out(made(design_a(), thickness="20 mm", **leaning(89)))
    for board in layout.boards:
        assert (board.miter_left_deg, board.miter_right_deg) == pytest.approx((45, 45))
        assert board.inner_left == pytest.approx(20)  # 45 deg through 20 mm
    assert layout.frame.corners[0].interior_deg == pytest.approx(89, abs=1e-6)


def test_an_open_miter_is_told(design_a: Make) -> None:
    project = made(design_a(), **leaning(89))
    said = [each for each in remarks(project, lay_out(project)) if "miter" in each]
    # sqrt(2) x 19.05 mm x 1 deg in radians = 0.470 mm
    assert len(said) == 4
    assert "front-left miter stands open by 0.5 mm at its outside" in said[0]
    assert "1.00 deg narrower" in said[0]
    assert "front-right miter stands open by 0.5 mm at its inside" in said[1]
    plain = design_a()
    assert not [each for each in remarks(plain, lay_out(plain)) if "miter" in each]


def test_how_far_from_square_is_how_far_each_diagonal_is_off(design_a: Make) -> None:
    """Of a parallelogram d1^2 + d2^2 = 2 (W^2 + D^2): one diagonal alone tells the other."""
    first = math.hypot(W, D) - 3.0
    one = made(design_a(), front_left_to_back_right=f"{first} mm")
    found = next(each for each in evaluate(one).findings if each.check == "frame-square")
    assert (found.measured, found.required) == (pytest.approx(3.0), 25.4 / 16)
    assert (found.verdict, found.sense) == ("fail", "at most")
    # the corner leans by eps: W D sin(eps) = d1^2/2 - (W^2 + D^2)/2; the gap is sqrt(2) t eps
    lean = math.asin((W**2 + D**2 - first**2) / (2 * W * D))
    assert f"open by {math.sqrt(2) * T * lean:.1f} mm" in found.why
    wide = replace(one, limits=Limits(required={"frame-square": 5.0}))
    found = next(each for each in evaluate(wide).findings if each.check == "frame-square")
    assert (found.verdict, found.required) == ("pass", 5.0)
    assert "frame-square" not in {each.check for each in evaluate(design_a()).findings}


def test_a_frame_that_is_right_is_not_told_of_a_long_diagonal(design_a: Make) -> None:
    """0.2 mm lean a corner by 0.03 deg, and a miter by 0.01 mm: that is none that stands open."""
    for off, said in (
        (0.0, "as square as it was drawn"),
        (0.2, "one diagonal is so much too long"),
    ):
        one = made(design_a(), front_left_to_back_right=f"{math.hypot(W, D) + off} mm")
        found = next(each for each in evaluate(one).findings if each.check == "frame-square")
        assert (found.verdict, found.why) == ("pass", said)


def test_faces_that_moved_move_the_hinge_with_them(design_a: Make) -> None:
    hinge = {"axis_behind": "20 mm", "axis_above": "-5 mm", "open_to": "90 deg"}
    drawn = lay_out(design_a(hinge=hinge))
    real = lay_out(made(design_a(hinge=hinge), right=f"{D - 4} mm", left=f"{D - 4} mm"))
    # 4 mm shorter over the same middle: each face 2 mm inside the drawn one
    assert (drawn.front_y, drawn.back_y) == pytest.approx((0, D))
    assert (real.front_y, real.back_y) == pytest.approx((2, D - 2))
    assert drawn.hinge is not None and real.hinge is not None
    assert real.hinge.y == pytest.approx(drawn.hinge.y - 2)


def test_squared_frames_have_equal_diagonals() -> None:
    first = squared((W, D, W, D))
    assert first == pytest.approx(math.hypot(W, D))
    assert second_diagonal((W, D, W, D), math.hypot(W, D)) == pytest.approx(math.hypot(W, D))
    # 2 mm of lean between them: d1^2 + d2^2 = 2 (W^2 + D^2), d1 - d2 = 2
    leaning_first = squared((W, D, W, D), 2.0)
    assert leaning_first == pytest.approx(1 + math.sqrt(W**2 + D**2 - 1))


# --- readings of it -----------------------------------------------------------------------


def six(**changes: str) -> dict[str, str]:
    return {
        "front": f"{W} mm", "right": f"{D} mm", "back": f"{W} mm", "left": f"{D} mm",
        **leaning(90), **changes,
    }  # fmt: skip


def closure(project: Project) -> Finding:
    (found,) = [e for e in of_check(project, "readings") if e.where.text == "built frame"]
    return found


def test_six_readings_of_the_dry_frame_close_or_do_not(design_a: Make) -> None:
    good = closure(made(design_a(), **six()))
    assert good.verdict == "pass"
    assert good.measured == pytest.approx(0, abs=1e-9)
    assert good.required == 1.5
    # a right-angled frame with one diagonal 4 mm long: that diagonal is 4 mm too long
    long = f"{math.hypot(W, D) + 4} mm"
    bad = closure(made(design_a(), **six(front_left_to_back_right=long)))
    assert bad.verdict == "fail"
    assert bad.measured == pytest.approx(4, abs=0.05)
    assert "front_left_to_back_right shorter by 4 mm" in bad.why


def test_the_closure_asks_for_what_was_not_measured(design_a: Make) -> None:
    found = closure(made(design_a(), front="937 mm", **leaning(90)))
    assert found.verdict == "not-checked"
    assert found.missing == ("built.right", "built.back", "built.left")


def test_the_drawn_collar_has_no_such_finding(design_a: Make) -> None:
    project = replace(design_a(), built=Built(**six()))
    assert not [e for e in of_check(project, "readings") if e.where.text == "built frame"]


def test_boards_and_diagonals_that_do_not_meet_are_named(design_a: Make) -> None:
    with pytest.raises(BuildFileError) as caught:
        lay_out(made(design_a(), front_left_to_back_right="1500 mm"))
    (problem,) = caught.value.problems
    assert problem.key == "built.front_left_to_back_right"
    with pytest.raises(BuildFileError) as caught:
        lay_out(made(design_a(), front_left_to_back_right="1300 mm"))
    assert caught.value.problems[0].key == "built.front_left_to_back_right"
    assert "corner" in caught.value.problems[0].read


# --- sizes and bores ----------------------------------------------------------------------


def test_sizes_are_the_measured_ones(design_a: Make) -> None:
    project = made(design_a(), thickness="18 mm", width="138 mm", foam="26 mm")
    layout = lay_out(project)
    assert {board.thickness for board in layout.boards} == {18}
    assert (layout.frame.height, layout.foam, layout.sealing_z) == (138, 26, 138)
    assert layout.taps[0].insulation == 18 + 26
    assert lay_out(replace(project, as_built=False)).frame.height == 139.7


def test_each_bore_is_where_it_was_drilled(design_a: Make) -> None:
    project = made(
        design_a(taps={"names": ("a", "b", "c")}),
        {"tap": "b", "from_left": "480 mm", "from_bottom": "71 mm", "diameter": "26 mm"},
        {"tap": 3, "from_left": "546 mm"},
        front=f"{W - 2} mm",
        back=f"{W - 2} mm",
    )
    first, second, third = lay_out(project).taps
    assert (second.u, second.v, second.bore) == (480, 71, 26)
    assert (third.u, third.v, third.bore) == pytest.approx((546, 139.7 / 2, 25.4))
    # not measured: 3 in left of the middle of a board that is 2 mm shorter
    assert first.u == pytest.approx((W - 2) / 2 - 76.2)
    holes = {hole.name: hole for hole in lay_out(project).board("front").holes}
    assert holes["tap-2"].u == 480 and holes["tap-2"].diameter == 26


def test_numbers_stay_the_drawn_ones_wherever_the_bores_are(design_a: Make) -> None:
    taps = lay_out(made(design_a(), {"tap": 1, "from_left": "700 mm"})).taps
    assert [tap.number for tap in taps] == [1, 2, 3]
    assert taps[0].u == 700


def test_a_bore_in_the_miter_is_refused_by_its_key(design_a: Make) -> None:
    project = made(design_a(), {"tap": 2}, {"tap": 1, "from_left": "25 mm"})
    with pytest.raises(BuildFileError) as caught:
        lay_out(project)
    (problem,) = caught.value.problems
    assert (problem.key, problem.read) == ("built.bore[2].from_left", "25 mm")
    lay_out(replace(project, as_built=False))  # the drawing does not mind
    edge = made(design_a(), {"tap": 1, "from_bottom": "10 mm"})
    with pytest.raises(BuildFileError) as caught:
        lay_out(edge)
    assert caught.value.problems[0].key == "built.bore[1].from_bottom"


def test_plates_cover_the_bore_on_both_faces(design_a: Make) -> None:
    bore = {"tap": 2, "diameter": "36 mm", "plate": "60 mm"}
    project = made(design_a(), bore)
    (cover,) = [e for e in of_check(project, "bore-cover") if e.where.tap == 2]
    # (60 - 36)/2 less the shank's play (36 - 22.225)/2
    assert cover.measured == pytest.approx(12 - 6.8875)
    (nut,) = [e for e in of_check(project, "nut-cover") if e.where.tap == 2]
    assert nut.measured == pytest.approx(12 - 6.8875)
    (grip,) = [e for e in of_check(project, "shank-grip") if e.where.tap == 2]
    # thread 101.8 - (19.05 + two plates of 2 + washer 3 + nut 9)
    assert grip.measured == pytest.approx(101.8 - 19.05 - 4 - 3 - 9)


# --- the loops ----------------------------------------------------------------------------


def test_what_was_measured_is_an_input_only_as_built(design_a: Make) -> None:
    project = made(design_a(), {"tap": 2, "diameter": "25 mm"}, front="939 mm")
    keys = {each.key: each for each in inputs(project)}
    assert keys["built.front"].high - keys["built.front"].value == 0.5
    assert keys["built.bore[1].diameter"].low == 24.5
    plain = replace(project, as_built=False)
    assert not [each.key for each in inputs(plain) if each.key.startswith("built")]


def test_tolerance_comes_from_what_was_measured(design_a: Make) -> None:
    """A bore of 25 mm for a thread of 22.225: off by 0.5, the thread by its range."""
    project = made(design_a(), {"tap": 2, "diameter": "25 mm"})
    (entry,) = [e for e in answer(project).findings if e.check == "bore-entry" and e.where.tap == 2]
    assert entry.measured == pytest.approx(2.775)
    assert entry.tolerance is not None and entry.tolerance >= 0.5


def test_a_drawn_design_is_judged_the_same_with_and_without_built(design_a: Make) -> None:
    plain = design_a()
    with_built = replace(made(plain, {"tap": 1, "from_left": "300 mm"}), as_built=False)
    assert answer(plain).findings == answer(with_built).findings


def test_differences_name_what_was_measured(design_a: Make) -> None:
    project = made(
        design_a(), {"tap": 2, "from_left": "472 mm"}, front=f"{W - 2} mm", thickness="18 mm"
    )
    found = {each.what: each.more for each in differences(project)}
    assert found == pytest.approx(
        {"front board": -2, "thickness": -1.05, "tap 2 from the left": 472 - W / 2}
    )
    assert differences(replace(project, as_built=False)) == ()
    diagonals = made(design_a(), **leaning(90))
    assert [each.what for each in differences(diagonals)] == [
        "front-left to back-right", "front-right to back-left",
    ]  # fmt: skip
    assert [each.more for each in differences(diagonals)] == pytest.approx([0, 0], abs=1e-6)


def test_the_missing_diagonal_has_a_window(design_a: Make) -> None:
    """Five readings of a true rectangle: the sixth may be off by about the 1.5 mm limit."""
    lengths = six()
    del lengths["front_right_to_back_left"]
    found = answer(made(design_a(), **lengths)).findings
    (closure,) = [e for e in found if e.check == "readings" and e.where.text == "built frame"]
    assert closure.missing == ("built.front_right_to_back_left",)
    right = math.hypot(W, D)
    low, high = math.ceil(2 * (right - 1.5)) / 2, math.floor(2 * (right + 1.5)) / 2
    assert closure.passes_if is not None
    assert f"fine from {low:g} mm to {high:g} mm" in closure.passes_if


# --- what follows of it ---------------------------------------------------------------------


def told(project: Project) -> str:
    return "\n".join(remarks(project, lay_out(project)))


def test_a_board_that_was_cut_short_is_told_with_its_foam(design_a: Make) -> None:
    drawn = design_a(foam={"thickness": "25 mm"})
    found = told(made(drawn, right=f"{D - 12.7} mm"))
    # the short side leans nobody can tell how; the foam's length is the panel of the real board
    panel = lay_out(made(drawn, right=f"{D - 12.7} mm")).panel("right")
    whole = lay_out(drawn).panel("right")
    assert panel is not None and whole is not None
    assert whole.length - panel.length == pytest.approx(12.7, abs=0.3)
    assert "right board is 12.7 mm shorter than drawn: the collar is out of square by" in found
    assert f"foam-right is to be cut to {panel.length:.1f} mm" in found
    assert "left board is" not in found
    assert "shorter" not in told(made(drawn, right=f"{D - 0.9} mm"))
    both = told(made(design_a(), left=f"{D - 5} mm", right=f"{D - 5} mm"))
    assert both.count("5 mm shorter than drawn: the collar is out of square by up to 0.00 deg") == 2


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ({"cover": {"thickness": "16 mm", "sides": ("front",)}, "foam": {"thickness": "25 mm"}},
         "the cover's hole and the foam's pocket go with it: cut them to the bore as made"),
        ({"cover": {"thickness": "16 mm", "sides": ("front",)}, "foam": None},
         "the cover's hole goes with it: cut it to the bore as made"),
        ({"foam": None}, ""),
    ],
)  # fmt: skip
def test_a_bore_elsewhere_takes_cover_and_foam_with_it(
    design_a: Make, table: dict[str, Any], said: str
) -> None:
    middle = W / 2
    found = told(made(design_a(**table), {"tap": 2, "from_left": f"{middle + 3} mm"}))
    assert ("tap 2's bore is 3 mm off its drawn place" in found) == bool(said)
    assert said in found
    assert ("measured on the board" in found) == ("cover" in table)
    near = told(made(design_a(**table), {"tap": 2, "from_left": f"{middle + 0.9} mm"}))
    assert "off its drawn place" not in near


@pytest.mark.parametrize("front", ["200 mm", "350 mm", "400 mm", "1500 mm", "1600 mm"])
def test_a_slip_in_one_board_alone_is_refused_by_its_key(design_a: Make, front: str) -> None:
    with pytest.raises(BuildFileError) as refused:
        lay_out(made(design_a(), front=front))
    (problem,) = refused.value.problems
    assert problem.key == "built.front"
    assert "front and back" in str(problem.read)
