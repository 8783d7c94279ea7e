"""What is offered where a bought hinge does not hold, or its lid does not swing free."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.change import changed
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.mend import mend
from collarwright.geometry.judge.trials import Trials
from collarwright.geometry.judge.wording import bought, in_words
from collarwright.params.project import Project
from collarwright.params.reading.keys import find
from collarwright.params.units import parse

Make = Callable[..., Project]
# a longer screw comes through the 3/4 in board, and a block is out of this one's reach
HINGE = {
    "axis_behind": "15 mm", "axis_above": "-10 mm", "open_to": "90 deg",
    "positions": ("-300 mm", "300 mm"), "leaf_height": "64 mm", "leaf_width": "60 mm",
    "leaf_thickness": "2 mm", "fix": "screw",
    "screw": "wood-screw-no-8", "screw_length": "3/4 in", "screws": 3, "spring": False,
}  # fmt: skip


def weak(design_a: Make, **hinge: Any) -> Project:
    return design_a(
        board={"species": "eastern-white-pine", "stock": "board-1x6"},
        lid={"thickness": "60 mm", "mass": "12 kg"},
        hinge=HINGE | hinge,
    )


def after(project: Project, changes: Mapping[str, Any]) -> Project:
    values: dict[str, Any] = {}
    for key, written in changes.items():
        kind = (known := find(key)) and known.kind
        named = not isinstance(written, str) or written[:1].isalpha()
        values[key] = written if kind is None or named else parse(str(written), kind)
    return changed(project, values)


def fails(project: Project) -> set[str]:
    found = evaluate(project).findings
    return {f.check for f in found if f.weight == "must" and f.verdict == "fail"}


def test_a_block_with_longer_screws_is_a_remedy(design_a: Make) -> None:
    project = weak(design_a)
    assert fails(project) == {"hinge-hold"}
    found = next(
        f for f in answer(project).findings if f.check == "hinge-hold" and f.verdict == "fail"
    )
    both = [r for r in found.remedies if set(r.changes) == {"hinge.backing", "hinge.screw_length"}]
    assert len(both) == 1, [r.says for r in found.remedies]
    assert "a block behind the board: hinge.backing = " in both[0].says
    assert "longer screws: hinge.screw_length = " in both[0].says
    assert "hinge-hold" not in fails(after(project, both[0].changes))


def test_the_leaf_stays_as_it_was_bought_where_other_changes_are_as_few(design_a: Make) -> None:
    """A block of 19 mm is there: longer screws or a taller leaf alone would do."""
    project = weak(design_a, backing="19 mm")
    assert fails(project) == {"hinge-hold"}
    found = mend(Trials(project, answer(project)))
    assert set(found.changes) == {"hinge.screw_length"}


def test_mend_finds_the_block_with_the_screws(design_a: Make) -> None:
    project = weak(design_a)
    found = mend(Trials(project, answer(project)))
    assert found.left == (), found
    assert set(found.changes) == {"hinge.backing", "hinge.screw_length"}
    assert fails(after(project, found.changes)) == set()


@pytest.mark.parametrize(
    ("key", "old", "new", "said"),
    [
        ("hinge.leaf_height", 60.0, 90.0, "another hinge: "),
        ("hinge.screws", 3, 4, "another hinge: "),
        ("hinge.axis_behind", 15.0, 20.0, "another hinge: "),
        ("hinge.axis_above", -10.0, -15.0, "mount the hinge lower: "),
        ("hinge.axis_above", -10.0, -5.0, "mount the hinge higher: "),
        ("hinge.screw", "wood-screw-no-8", "wood-screw-no-10", "other screws: "),
        ("hinge.screw_length", 19.0, 25.0, "longer screws: "),
        ("hinge.screw_length", 25.0, 19.0, "shorter screws: "),
        ("hinge.backing", None, 19.0, "a block behind the board: "),
        ("hinge.backing", 12.0, 19.0, "a thicker block behind the board: "),
        ("board.stock", "board-1x6", "board-5-4x6", "other boards: "),
        ("taps.bore", 25.0, 26.0, ""),
    ],
)
def test_what_a_person_would_call_a_change(key: str, old: Any, new: Any, said: str) -> None:
    assert in_words(key, old, new) == said


def test_facts_of_a_bought_hinge_are_counted() -> None:
    assert bought(["hinge.leaf_height", "hinge.screws", "hinge.screw_length", "taps.bore"]) == 2
