"""What people who build collars say goes into a freezer, from the build file's keys on."""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.packed import Question
from collarwright.params.project import Project

Make = Callable[..., Project]

PRACTICE = "common practice, no source"

SEVEN_CUBIC_FEET: dict[str, Any] = {
    "length": "740 mm",
    "width": "430 mm",
    "height": "700 mm",
    "corner_radius": "40 mm",
    "step": {"side": "right", "length": "230 mm", "height": "240 mm"},
}
"""Middles of the usual ranges: 650 to 840 long, 390 to 470 wide, 660 to 740 deep; a step of 200 to
290 by 180 to 290 mm."""

FIVE = [
    {"kind": "keg-sixth-barrel", "tap": 1},
    {"kind": "soda-keg-ball-lock-2-5gal-tall", "count": 2},
    {"kind": "co2-5lb-aluminium"},
    {"kind": "nitrogen-20cuft-steel"},
]


def verdicts(project: Project) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for each in answer(project, slow=Question()).findings:
        found.setdefault(each.check, set()).add(each.verdict)
    return found


@pytest.mark.published(PRACTICE)
def test_a_7_cubic_foot_freezer_with_a_5_5_in_collar_takes_five_vessels(design_a: Make) -> None:
    project = design_a(well=SEVEN_CUBIC_FEET, lid={"plug": "15 mm"}, vessel=FIVE)
    found = verdicts(project)
    for check in ("head-room", "opening", "vessels", "tail-room", "foam-land"):
        assert found[check] == {"pass"}, check


@pytest.mark.published(PRACTICE)
def test_a_low_collar_does_not_go_over_the_keg_and_its_coupler(design_a: Make) -> None:
    """594 + 125 mm under a plug of 15 mm in a well of 690: 49 mm of collar with 5 mm to spare."""
    low = {"stock": None, "thickness": "19.05 mm", "width": "48.9 mm"}
    row = {"height": None, "bore": "20 mm", "shank": None, "thread": "19 mm"}
    project = design_a(
        well=SEVEN_CUBIC_FEET | {"height": "690 mm"},
        lid={"plug": "15 mm"},
        vessel=FIVE,
        board=low,
        taps=row,
        foam=None,
    )
    assert "fail" in verdicts(project)["head-room"]
    high = design_a(
        well=SEVEN_CUBIC_FEET | {"height": "690 mm"},
        lid={"plug": "15 mm"},
        vessel=FIVE,
        board={**low, "width": "49.1 mm"},
        taps=row,
        foam=None,
    )
    assert "fail" not in verdicts(high)["head-room"]
