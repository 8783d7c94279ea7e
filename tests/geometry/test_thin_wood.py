"""What is said of a passage with little wood beside it, by hand: boards of 139.7 mm."""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import remarks
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import Project

Make = Callable[..., Project]
HOLE = {"side": "front", "diameter": "12 mm", "name": "probe"}


@pytest.mark.parametrize(
    ("where", "said"),
    [
        # the bottom edge 6 mm below the passage: 30 - 6 = 24, 17.9 - 6 = 11.9, 18.1 - 6 = 12.1
        ({"height": "30 mm", "offset": "200 mm"}, None),
        ({"height": "18.1 mm", "offset": "200 mm"}, None),
        ({"height": "17.9 mm", "offset": "200 mm"}, "11.9 mm of wood to the bottom edge"),
        ({"height": "129.7 mm", "offset": "200 mm"}, "4 mm of wood to the top edge"),
        # tap 3 at 76.2 with half a bore of 12.7: 76.2 + 12.7 + 6 + 11.5
        ({"height": "69.85 mm", "offset": "106.4 mm"}, "11.5 mm of wood to tap-3"),
        ({"height": "69.85 mm", "offset": "107 mm"}, None),
    ],
)
def test_less_wood_than_the_passage_is_wide_is_told(
    design_a: Make, where: dict[str, Any], said: str | None
) -> None:
    project = design_a(hole={**HOLE, **where})
    found = [each for each in remarks(project, lay_out(project)) if "of wood to" in each]
    assert len(found) == (0 if said is None else 1)
    assert said is None or said in found[0]


def test_two_passages_are_told_of_each_other(design_a: Make) -> None:
    pair = [
        {"side": "back", "height": "60 mm", "diameter": "12 mm", "offset": f"{x} mm", "name": name}
        for x, name in ((0, "probe"), (15, "hose"))
    ]
    project = design_a(hole=pair)
    found = [each for each in remarks(project, lay_out(project)) if "of wood to" in each]
    assert ["probe" in found[0], "to hose" in found[0]] == [True, True]
    assert ["hose" in found[1], "to probe" in found[1]] == [True, True]
