"""What can be done about a collar that was cut: each rescue is done, and all is judged again."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.change import changed
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.finding import Finding, Remedy
from collarwright.geometry.shape.layout import as_built, lay_out
from collarwright.params.project import Built, BuiltBore, Limits, Project
from collarwright.params.reading.keys import find
from collarwright.params.units import parse

Make = Callable[..., Project]

W, D, T = 939.8, 533.4, 19.05
FIRST, SECOND = "built.front_left_to_back_right", "built.front_right_to_back_left"


def made(project: Project, *bores: dict[str, Any], **built: Any) -> Project:
    """The project as it was cut."""
    rows = tuple(BuiltBore(**bore) for bore in bores)
    return as_built(replace(project, built=Built(**built, bore=rows)))


def leaning(theta_deg: float, w: float = W, d: float = D) -> dict[str, str]:
    """The diagonals of a w x d frame racked until its front-left corner is ``theta_deg``."""
    twice = 2 * w * d * math.cos(math.radians(theta_deg))
    return {
        "front_left_to_back_right": f"{math.sqrt(w**2 + d**2 + twice)} mm",
        "front_right_to_back_left": f"{math.sqrt(w**2 + d**2 - twice)} mm",
    }


def failing(project: Project) -> dict[tuple[str, object], Finding]:
    found = answer(project).findings
    return {
        (each.check, each.where): each
        for each in found
        if each.verdict == "fail" and each.weight == "must"
    }


def done(project: Project, remedy: Remedy) -> Project:
    """The rescue as a person would write it into ``[built]`` after the work."""
    values: dict[str, Any] = {}
    for key, written in remedy.changes.items():
        kind = (known := find(key)) and known.kind
        values[key] = parse(written, kind) if kind and isinstance(written, str) else written
    return changed(project, values)


def check_all(project: Project) -> list[Remedy]:
    """Do each rescue of each failing finding; return those of [built] in the order told."""
    before = failing(project)
    assert before
    found: list[Remedy] = []
    for (check, where), finding in before.items():
        for remedy in finding.remedies:
            if not all(key.startswith("built.") for key in remedy.changes):
                continue
            found.append(remedy)
            after = {
                (each.check, each.where)
                for each in evaluate(done(project, remedy)).findings
                if each.verdict == "fail" and each.weight == "must"
            }
            assert (check, where) not in after, remedy.says
            assert after <= set(before), remedy.says
    return found


def mm(remedy: Remedy, key: str) -> float:
    return parse(str(remedy.changes[key]), "length")


# --- racking ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("theta", "corners"),
    [(88.0, "front-left and back-right"), (92.0, "front-right and back-left")],
)
def test_a_racked_frame_is_pushed_square(design_a: Make, theta: float, corners: str) -> None:
    """The longer diagonal is pushed; both then read hypot(W, D) = 1080.6 mm, to half a mm."""
    found = check_all(made(design_a(), **leaning(theta)))
    assert found
    for remedy in found:
        assert set(remedy.changes) == {FIRST, SECOND}
        assert mm(remedy, FIRST) == mm(remedy, SECOND) == 1080.5
        assert remedy.says.startswith(f"rack the frame: push the {corners} corners together by")


def test_by_how_much_the_push_may_be_off(design_a: Make) -> None:
    """The gasket decides: t - o - 2.5 mm of it must be 10, so o may be 6.55.

    A side that leans by a stands D/2 sin a outside at one end, so sin a = 6.55/266.7, and the
    first diagonal is root(W2 + D2 +- 2 W D sin a).
    """
    sine = 6.55 / (D / 2)
    ends = [math.sqrt(W**2 + D**2 + way * 2 * W * D * sine) for way in (-1, 1)]
    loose = design_a(limits=Limits(required={"frame-square": 40.0}))
    remedy = check_all(made(loose, **leaning(88)))[0]
    low, high = remedy.says.rpartition("anything from ")[2].removesuffix(" does").split(" to ")
    assert parse(low, "length") == pytest.approx(ends[0], abs=0.8)
    assert parse(high, "length") == pytest.approx(ends[1], abs=0.8)
    assert ends[0] - 0.3 < parse(low, "length") and parse(high, "length") < ends[1] + 0.3


def test_a_frame_is_racked_until_its_miters_close(design_a: Make) -> None:
    """hypot(W, D) and 1/16 in more or less, in halves of a millimeter: 1079.01 to 1082.18."""
    for remedy in check_all(made(design_a(), **leaning(89.5))):
        assert "anything from 1079.5 mm to 1082 mm does" in remedy.says


def test_inches_are_told_to_a_sixteenth(design_a: Make) -> None:
    project = replace(made(design_a(), **leaning(88)), show="in")
    remedy = check_all(project)[0]
    # 1080.6 mm = 42.545 in; 42 9/16 is 42.5625
    assert remedy.changes[FIRST] == remedy.changes[SECOND] == "42 9/16 in"


def test_a_frame_is_not_racked_for_a_bore(design_a: Make) -> None:
    project = made(design_a(), {"tap": 2, "diameter": "22 mm"}, **leaning(89.9))
    assert not [each for each in check_all(project) if FIRST in each.changes]


def test_a_frame_that_cannot_be_square_is_racked_to_fit_best(design_a: Make) -> None:
    """On a lip that leans by 2 deg a square collar would not stand; one that leans with it does.

    The lip's corner front-left is 88 deg, so over its sides of D its left edge comes over by
    D sin 2 deg; the collar that was drawn follows it and was put together square.
    """
    diagonals = leaning(88)
    project = design_a(lip=diagonals, board={"follow": "lip"})
    found = check_all(made(project, **leaning(90)))
    expected = parse(diagonals["front_left_to_back_right"], "length")
    assert found
    assert mm(found[0], FIRST) == pytest.approx(expected, abs=0.25)
    assert "front-right and back-left" in found[0].says


# --- trimming -----------------------------------------------------------------------------

TIGHT_SKIRT = {
    "overhang": "5 mm", "skirt_thickness": "2 mm",
    "skirt": {"front": "0 mm", "right": "10 mm", "back": "0 mm", "left": "10 mm"},
}  # fmt: skip


def test_boards_too_long_for_the_skirt_are_trimmed_alike(design_a: Make) -> None:
    """A side may stand out by 5 - 2 - 2 = 1 mm, so both boards may be 941.8: 941.5 by the tape."""
    project = made(design_a(lid=TIGHT_SKIRT), front="943.8 mm", back="942.8 mm")
    found = [each for each in check_all(project) if each.says.startswith("trim")]
    assert found
    for remedy in found:
        front, back = mm(remedy, "built.front"), mm(remedy, "built.back")
        assert front == back == 941.5
        assert "built.right" not in remedy.changes
        assert "front to 941.5 mm (2.3 mm off both ends alike)" in remedy.says
        assert "back to 941.5 mm (1.3 mm off its right end)" in remedy.says
        assert mm(remedy, FIRST) == mm(remedy, SECOND) == round(2 * math.hypot(941.5, D)) / 2


def test_bores_that_were_measured_shift_with_the_left_end(design_a: Make) -> None:
    """Bored as from a board of the drawn length at its right end: the left end is too long."""
    bores = [{"tap": n, "from_left": f"{W / 2 + 4.0 + (n - 2) * 76.2} mm"} for n in (1, 2, 3)]
    project = made(design_a(lid=TIGHT_SKIRT), *bores, front="943.8 mm", back="943.8 mm")
    remedy = next(each for each in check_all(project) if each.says.startswith("trim"))
    cut = 943.8 - mm(remedy, "built.front")
    assert cut > 0.25
    assert "off its left end" in remedy.says
    for n in (1, 2, 3):
        was = W / 2 + 4.0 + (n - 2) * 76.2
        now = mm(remedy, f"built.bore[{n}].from_left")
        assert now == pytest.approx(was - cut, abs=0.25)
    assert "let the blade stand" in remedy.says  # the caution


def test_bores_from_the_left_end_stay_when_the_right_is_cut(design_a: Make) -> None:
    bores = [{"tap": n, "from_left": f"{W / 2 + (n - 2) * 76.2} mm"} for n in (1, 2, 3)]
    project = made(design_a(lid=TIGHT_SKIRT), *bores, front="943.8 mm", back="943.8 mm")
    remedy = next(each for each in check_all(project) if each.says.startswith("trim"))
    assert not [key for key in remedy.changes if key.startswith("built.bore")]
    assert "off its right end" in remedy.says


def test_nothing_is_cut_where_racking_does(design_a: Make) -> None:
    assert not [e for e in check_all(made(design_a(), **leaning(88))) if e.says.startswith("trim")]


# --- turning ------------------------------------------------------------------------------

LOCK = {"side": "front", "width": "60 mm", "tall": "60 mm", "height": "70 mm", "offset": "200 mm"}
ONE = {"count": 1, "spacing": None, "offset": "-200 mm", "height": "60 mm"}


def marked_from_the_wrong_end(design: Project) -> Project:
    """The bore came to +200 mm, where the lock is, and its height from the top edge."""
    return made(
        design, {"tap": 1, "from_left": f"{W / 2 + 200} mm", "from_bottom": f"{139.7 - 60} mm"}
    )


def test_a_board_marked_from_the_wrong_end_is_turned(design_a: Make) -> None:
    found = check_all(marked_from_the_wrong_end(design_a(taps=ONE, keep_out=[LOCK])))
    turn = next(each for each in found if each.says.startswith("turn"))
    assert mm(turn, "built.bore[1].from_left") == pytest.approx(W / 2 - 200, abs=0.25)
    assert mm(turn, "built.bore[1].from_bottom") == pytest.approx(60, abs=0.25)
    assert "end for end, the same face out" in turn.says


def test_a_board_with_a_passage_is_not_turned(design_a: Make) -> None:
    hole = {"side": "front", "height": "20 mm", "diameter": "10 mm", "offset": "0 mm"}
    project = design_a(taps=ONE, keep_out=[LOCK], hole=[hole])
    found = check_all(marked_from_the_wrong_end(project))
    assert not [each for each in found if each.says.startswith("turn")]


def test_a_board_of_unlike_miters_is_not_turned(design_a: Make) -> None:
    lip = {"back": "930 mm", "front_left_to_back_right": "1078 mm"}
    project = design_a(taps=ONE, keep_out=[LOCK], lip=lip, board={"follow": "lip"})
    board = lay_out(project).board("front")
    assert abs(board.miter_left_deg - board.miter_right_deg) > 0.1
    found = check_all(marked_from_the_wrong_end(project))
    assert not [each for each in found if each.says.startswith("turn")]


# --- bores --------------------------------------------------------------------------------


def test_a_tight_bore_is_bored_wider(design_a: Make) -> None:
    (remedy,) = check_all(made(design_a(), {"tap": 2, "diameter": "22 mm"}))
    # at least the thread and 0.4 mm: 22.625; the drawn 1 in does
    assert mm(remedy, "built.bore[1].diameter") == pytest.approx(25.4)
    assert "clamp a block" in remedy.says


def test_a_bore_off_its_place_is_plugged_and_made_anew(design_a: Make) -> None:
    """15 mm toward tap 3, 60 mm away: 60 - 15 - 29 = 16 mm for a hand. The circles overlap."""
    project = made(design_a(taps={"spacing": "60 mm"}), {"tap": 2, "from_left": f"{W / 2 + 15} mm"})
    found = check_all(project)
    assert {each.says.partition(":")[0] for each in found} == {"plug and re-bore tap 2"}
    for remedy in found:
        assert mm(remedy, "built.bore[1].from_left") == pytest.approx(W / 2, abs=0.25)
        assert mm(remedy, "built.bore[1].from_bottom") == pytest.approx(139.7 / 2, abs=0.25)
        assert "plate" not in "".join(remedy.changes)
        # 25.4 - 15 of the new bore's width lies in the plug, to the rounding
        assert "(10.5 mm of it runs into the plug)" in remedy.says
        assert "glue a plug of 25.4 mm" in remedy.says


def test_two_bores_side_by_side_want_a_plate(design_a: Make) -> None:
    """30 mm off: 30 - 25.4 = 4.6 mm of wood between the two, so a plate over both."""
    project = made(design_a(), {"tap": 2, "from_left": f"{W / 2 + 30} mm"})
    plates = [each for each in check_all(project) if "built.bore[1].plate" in each.changes]
    assert plates
    remedy = plates[0]
    # from the new center over the old bore and 2 mm more: 2 (30 + 12.7 + 2)
    assert mm(remedy, "built.bore[1].plate") == pytest.approx(89.4, abs=0.8)
    assert "of wood is left between the two" in remedy.says


def test_the_one_that_is_off_is_bored_anew_not_its_neighbour(design_a: Make) -> None:
    project = made(design_a(taps={"spacing": "60 mm"}), {"tap": 2, "from_left": f"{W / 2 + 15} mm"})
    third = [each for each in failing(project).values() if each.where.tap == 3]
    assert third
    for finding in third:
        assert finding.remedies[0].says.startswith("plug and re-bore tap 2")


def test_several_that_are_off_go_back_together(design_a: Make) -> None:
    places = {1: -60 + 14, 2: 0, 3: 60 - 14}
    bores = [{"tap": n, "from_left": f"{W / 2 + u} mm"} for n, u in places.items()]
    found = check_all(made(design_a(taps={"spacing": "60 mm"}), *bores))
    both = [each for each in found if "tap 1" in each.says and "tap 3" in each.says]
    assert both  # for tap 2, which is crowded from both sides


def test_where_the_drawing_is_no_good_the_nearest_good_place_is_taken(design_a: Make) -> None:
    """Drawn 20 mm up: 20 - 24 = -4 of the 3 mm that the flange needs; 8 mm higher is the next."""
    project = made(design_a(taps={"count": 1, "spacing": None, "height": "20 mm"}), {"tap": 1})
    (remedy,) = check_all(project)
    assert mm(remedy, "built.bore[1].from_bottom") == 28
    assert mm(remedy, "built.bore[1].from_left") == pytest.approx(W / 2, abs=0.25)


def test_a_bore_too_wide_is_plugged_or_covered(design_a: Make) -> None:
    """(48 - 36)/2 - (36 - 22.225)/2 = -0.89 of the 2 mm; a plate of 36 + 13.775 + 4 does."""
    project = made(design_a(), {"tap": 2, "diameter": "36 mm"})
    found = check_all(project)
    plugs = [each for each in found if each.says.startswith("plug and re-bore")]
    plates = [each for each in found if each.says.startswith("cover")]
    assert plugs and plates
    for remedy in plugs:
        assert mm(remedy, "built.bore[1].diameter") == pytest.approx(25.4)
    # not tight either where that can be had: half of the plate counts against the tolerance
    tolerance = max(each.tolerance or 0.0 for each in failing(project).values())
    for remedy in plates:
        plate = mm(remedy, "built.bore[1].plate")
        assert 53.775 <= plate <= 53.775 + 2 * tolerance + 0.5


# --- what is never offered ----------------------------------------------------------------


def test_readings_that_do_not_close_are_measured_again(design_a: Make) -> None:
    lengths = {"front": f"{W} mm", "right": f"{D} mm", "back": f"{W} mm", "left": f"{D} mm"}
    diagonal = f"{math.hypot(W, D)} mm"
    project = made(
        design_a(), **lengths, front_left_to_back_right=f"{math.hypot(W, D) + 4} mm",
        front_right_to_back_left=diagonal,
    )  # fmt: skip
    closure = [each for each in failing(project).values() if each.check == "readings"]
    assert closure and all(each.remedies == () for each in closure)


def test_what_is_cut_is_not_changed_on_paper(design_a: Make) -> None:
    cases = [
        made(design_a(), {"tap": 2, "diameter": "36 mm"}),
        made(design_a(), **leaning(88)),
        made(design_a(taps={"spacing": "60 mm"}), {"tap": 2, "from_left": f"{W / 2 + 15} mm"}),
    ]
    drawn = ("board.", "lip.", "taps.spacing", "taps.offset", "taps.bore", "taps.height")
    for project in cases:
        for finding in answer(project).findings:
            for remedy in finding.remedies:
                assert not [key for key in remedy.changes if key.startswith(drawn)]


def test_the_drawing_has_no_rescues(design_a: Make) -> None:
    project = made(design_a(taps={"bore": "22 mm"}), {"tap": 1, "diameter": "22 mm"})
    for finding in answer(replace(project, as_built=False)).findings:
        for remedy in finding.remedies:
            assert not [key for key in remedy.changes if key.startswith("built.")]
