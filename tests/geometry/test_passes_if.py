"""Over which values of what is not measured yet a check would pass: windows by hand."""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import Evaluation, evaluate
from collarwright.geometry.judge.passes_if import with_passes_if
from collarwright.params.project import Project

Make = Callable[..., Project]


def asked(project: Project) -> Evaluation:
    return with_passes_if(project, evaluate(project))


def said(project: Project, check: str, **where: Any) -> str | None:
    for each in asked(project).findings:
        if each.check == check and all(getattr(each.where, k) == v for k, v in where.items()):
            return each.passes_if
    raise AssertionError(check)


def test_a_window_with_two_ends(design_a: Make) -> None:
    """Overlap = min(19.05, g + 12.5) - max(0, g - 12.5), g = inset - 5; at least 10."""
    project = design_a(lid={"gasket_inset": None})
    # g from -2.5 to 21.55, so the inset from 2.5 to 26.55; rounded inward to 0.5 mm
    assert said(project, "gasket-seat", side="left") == (
        "gasket_inset: fine from 2.5 mm to 26.5 mm; measure only if it looks outside that"
    )


def test_the_window_is_told_in_the_units_of_the_file(design_a: Make) -> None:
    from dataclasses import replace

    project = replace(design_a(lid={"gasket_inset": None}), show="in")
    # 2.5 mm is 0.098 in, 26.55 mm 1.045 in: inward to sixteenths 1/8 and 1
    assert said(project, "gasket-seat", side="left") == (
        "gasket_inset: fine from 1/8 in to 1 in; measure only if it looks outside that"
    )


def test_an_open_end(design_a: Make) -> None:
    assert said(design_a(lip={"land": None}), "stand", side="front") == (
        "land: fine from 12 mm up; measure only if it looks outside that"
    )


def test_nothing_at_all(design_a: Make) -> None:
    assert said(design_a(lid={"skirt": None}), "skirt", side="left") == (
        "skirt: fine if there is none; measure only if it looks outside that"
    )


@pytest.mark.parametrize(
    ("board", "lid"),
    [({"overhang": "40 mm"}, {"gasket_inset": None, "gasket_width": "5 mm", "overhang": "90 mm"})],
)
def test_a_side_is_asked_for_by_itself(
    design_a: Make, board: dict[str, Any], lid: dict[str, Any]
) -> None:
    inset = {"front": "110 mm", "right": "110 mm", "back": "110 mm"}
    project = design_a(board=board, lid={**lid, "gasket_inset": inset})
    # g = inset - 90, wood from -40 to -20.95; half of the 5 mm gasket must lie on it:
    # g - 2.5 from -42.5 to -20.95 - 2.5, so the inset from 50 to 69.05
    assert said(project, "gasket-seat", side="left") == (
        "gasket_inset.left: fine from 50 mm to 69 mm; measure only if it looks outside that"
    )
    assert said(project, "gasket-seat", side="right") is None  # measured


def test_a_diagonal_is_asked_for_where_a_square_lip_would_have_it(design_a: Make) -> None:
    project = design_a(lip={"land": "2 in"})
    text = said(project, "lip-square")
    assert text is not None and text.startswith("front_left_to_back_right: fine from 1")


def test_nothing_is_said_where_two_keys_are_missing(design_a: Make) -> None:
    assert said(design_a(lid=None), "gasket-seat", side="left") is None


def test_nothing_is_said_where_the_key_is_no_length(design_a: Make) -> None:
    assert said(design_a(taps={"shank": None}), "shank-grip") is None


def test_what_it_says_is_true(design_a: Make) -> None:
    """Each end of each window, tried again: passes there, not a step beyond."""
    project = design_a(lid={"gasket_inset": None})
    for inset, verdict in ((2.5, "pass"), (26.5, "pass"), (2.4, "fail"), (26.6, "fail")):
        tried = evaluate(design_a(lid={"gasket_inset": f"{inset} mm"}))
        seats = [each.verdict for each in tried.findings if each.check == "gasket-seat"]
        assert seats == [verdict] * 4
    assert asked(project).verdict == evaluate(project).verdict


def test_no_window_holds_a_value_with_which_another_must_fails(design_a: Make) -> None:
    """A lip out of square passes lip-square as long as the boards can bear it; the skirt, 3 mm
    from the wood, cannot: the diagonal is not told to be fine where the skirt would catch."""
    lid = {"overhang": "6 mm", "skirt": "12 mm", "skirt_thickness": "2 mm"}
    hinge = {"axis_behind": "20 mm", "axis_above": "5 mm"}
    project = design_a(lid=lid, hinge=hinge)
    text = said(project, "lip-square")
    assert text is not None
    low, high = (float(each.split(" mm")[0]) for each in text.partition("from ")[2].split(" to "))
    for value, wanted in ((low, True), (high, True), (low - 2, False), (high + 2, False)):
        tried = evaluate(
            design_a(lid=lid, hinge=hinge, lip={"front_left_to_back_right": f"{value} mm"})
        )
        fails = [f.check for f in tried.findings if f.verdict == "fail" and f.weight == "must"]
        assert (fails == []) == wanted, (value, fails)
