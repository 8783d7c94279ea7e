"""The check of sticks: longest board against clear wood, by hand; owned sticks alone."""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.layout import as_built
from collarwright.geometry.shape.stick import clear_wood
from collarwright.params.project import Project

FRONT, SIDE = 939.8, 533.4

Find = Callable[..., list[Finding]]


def owned(*sticks: tuple[str, tuple[Any, ...]]) -> dict[str, Any]:
    return {"owned": tuple({"length": length, "defects": flaws} for length, flaws in sticks)}


def test_the_longest_stick_counts_less_both_trims(findings: Find) -> None:
    (found,) = findings("stock", stock={"trim": "15 mm", "length": (
        {"length": "1000 mm"}, {"length": "800 mm"})})  # fmt: skip
    assert found.margin == pytest.approx(1000 - 2 * 15 - FRONT)
    assert found.verdict == "pass"
    assert "board-front" in found.why


def test_a_flaw_through_the_stick_parts_it_and_one_within_does_not(findings: Find) -> None:
    """2000 mm with a knot from 900 to 950: 900 and 1050; with the first within, 1 piece."""
    sale = {"length": ({"length": "500 mm"},)}
    through = sale | owned(("2000 mm", (("900 mm", "950 mm"),)))
    assert findings("stock", stock=through)[0].margin == pytest.approx(1050 - FRONT)
    within = sale | owned(("2000 mm", (("900 mm", "950 mm", "20 mm", "50 mm"),)))
    assert findings("stock", stock=within)[0].margin == pytest.approx(2000 - FRONT)
    edge = sale | owned(("2000 mm", (("900 mm", "950 mm", "100 mm", "139.7 mm"),)))
    assert findings("stock", stock=edge)[0].margin == pytest.approx(1050 - FRONT)


def test_owned_sticks_alone_must_have_the_wood_for_all_boards(findings: Find) -> None:
    """All boards are 2 (939.8 + 533.4) = 2946.4 mm."""
    three = owned(*[("1000 mm", (("0 mm", "20 mm"),))] * 3)
    longest, everything = findings("stock", stock=three)
    assert longest.margin == pytest.approx(980 - FRONT)
    assert everything.where.text == "all boards"
    assert everything.margin == pytest.approx(3 * 980 - 2 * (FRONT + SIDE))
    assert everything.verdict == "fail"
    four = owned(*[("1000 mm", ())] * 4)
    assert [each.verdict for each in findings("stock", stock=four)] == ["pass", "pass"]


def test_a_cover_of_the_boards_section_counts_and_another_does_not(findings: Find) -> None:
    """Both sections: the front's cover is 2 x 19.05 longer where covers run round the corner."""
    sale = {"length": ({"length": "960 mm"},)}
    for thickness, longer in (("19.05 mm", True), ("12 mm", False)):
        cover = {"thickness": thickness, "width": "139.7 mm", "sides": ("front", "right", "left")}
        (found,) = findings("stock", stock=sale, cover=cover)
        assert (found.verdict == "fail") is longer
        assert ("cover-front" in found.why) is longer


@pytest.mark.parametrize(
    ("flaws", "clear"),
    [
        ([], [980]),
        ([(0, 15)], [975]),
        ([(300, 340), (320, 400)], [290, 590]),
        ([(985, 1000)], [975]),
        ([(0, 1000)], []),
    ],
)
def test_clear_wood(flaws: list[tuple[float, float]], clear: list[float]) -> None:
    """A stick of 1000 mm with 10 mm of trim; by hand."""
    assert clear_wood(1000, 10, flaws, 140) == clear


def test_nothing_told_is_not_checked_and_cut_boards_need_no_stick(
    design_a: Callable[..., Project],
) -> None:
    def said(project: Project) -> list[tuple[str, tuple[str, ...]]]:
        found = [each for each in evaluate(project).findings if each.check == "stock"]
        return [(each.verdict, each.missing) for each in found]

    assert said(design_a()) == [("not-checked", ("stock.length",))]
    assert said(as_built(design_a())) == [("pass", ())]
