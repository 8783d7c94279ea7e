"""Manifold, hoses and well in print: what hangs where by hand, numbers as the vessels go in."""

import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import pytest
from collarwright.geometry.plan.packing import Place
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs.drawings import inside, well
from collarwright.outputs.drawings.draft import Draft
from collarwright.outputs.paper.dims import font_size
from collarwright.outputs.paper.marks import Path, Ring, Words
from collarwright.params.project import Project

Make = Callable[..., Project]
Cell = tuple[str, ...]

KEG = {"diameter": "200 mm", "height": "500 mm", "fitting": "100 mm"}
NITROGEN = "nitrogen-20cuft-steel"
NITROGEN_TALL = 500.0
"""Pinned, its regulator included, mm."""


@pytest.fixture
def project(design_a: Make) -> Project:
    """Kombucha on CO2, coffee on nitrogen, a manifold of two outlets; one cylinder stands inside.

    The manifold is 151 mm long on the middle of the back board, 45 mm deep, its first outlet 50 mm
    from its end: 25.5 mm from its middle.
    """
    figures = {
        "vessels": {"height": 400.0, "fitting_height": NITROGEN_TALL - 400.0},
        "manifolds": {
            "length": 151.0, "depth": 45.0, "outlet_spacing": 50.8, "first_outlet_from_end": 50.0,
        },
    }  # fmt: skip
    return design_a(
        figures=figures,
        taps={"count": 2, "names": ("kombucha", "nitro coffee")},
        vessel=[{**KEG, "tap": 2}, {**KEG, "tap": 1}, {"kind": NITROGEN}],
        pour=[
            {"tap": 1, "drink": "carbonated", "gas": "CO2"},
            {"tap": 2, "drink": "nitrogenated", "gas": "nitrogen"},
        ],
        manifold={"kind": "manifold-2-outlet"},
        well={"length": "800 mm", "width": "420 mm", "height": "650 mm"},
    )


def standing(order: tuple[str, ...] = ()) -> Any:
    """Return three vessels in their places, all tops level with the lip."""
    places = (
        Place("vessel-1", 700.0, 200.0, -600.0, False),
        Place("vessel-2", 300.0, 300.0, -600.0, False),
        Place(NITROGEN, 400.0, 600.0, -NITROGEN_TALL, False),
    )
    entries = tuple(SimpleNamespace(vessel=name) for name in order)
    return SimpleNamespace(places=places, order=SimpleNamespace(found=bool(order), entries=entries))


def rows(draft: Draft, width: int) -> list[Cell]:
    """Return a table's rows: cells of one height on one baseline, from the left."""
    lines: dict[float, list[Words]] = {}
    for mark in draft.marks:
        if isinstance(mark, Words) and mark.size == font_size(2.0):
            lines.setdefault(round(mark.y, 3), []).append(mark)
    return [tuple(m.text for m in line) for line in lines.values() if 2 <= len(line) <= width]


def test_a_keg_of_another_gas_does_not_hang_on_the_manifold(project: Project) -> None:
    """From outlet 1 at 495.4, 469.35, 69.85 mm to 300, 300, 0: 267.8 mm, and 20 % more.

    The inner face is at 533.4 - 19.05 mm, the manifold 45 mm in front of it, half of 139.7 mm up.
    Coffee hangs on its own cylinder, 300 mm and 400 mm away from it: 500 mm, and 20 % more.
    """
    draft = Draft(1 / 12.5, "mm")
    inside.manifold(project, lay_out(project), standing(), draft, 250.0)
    draft.finish()
    far = 1.2 * math.dist((495.4, 469.35, 69.85), (300.0, 300.0, 0.0))
    assert rows(draft, 6)[1:] == [
        ("outlet 1", "2", "vessel-2", "tap 1, kombucha", "CO2", f"{far:.1f} mm"),
        ("outlet 2", "none: its valve stays shut"),
        ("the nitrogen regulator, no. 3", "1", "vessel-1", "tap 2, nitro coffee", "nitrogen",
         "600 mm"),
    ]  # fmt: skip
    said = [mark.text for mark in draft.marks if isinstance(mark, Words)]
    assert any("only kegs on CO2 hang on it" in text for text in said)
    hoses = [m for m in draft.marks if isinstance(m, Path) and m.pen and m.pen.gray == 0.35]
    down, *plan = hoses  # a single outlet has a hose
    assert math.dist(down.start, down.steps[0][0]) == pytest.approx(69.85 / 12.5 + 3)
    long = [math.dist(hose.start, hose.steps[0][0]) * 12.5 for hose in plan]
    assert long == pytest.approx([math.hypot(195.4, 169.35), 500.0])
    assert [bool(hose.pen and hose.pen.dash) for hose in plan] == [False, True]


def three_kegs_drawn(project: Project) -> Draft:
    """The manifold's drawing with three vessels side by side."""
    places = [Place(f"vessel-{i}", 200.0 * i, 250.0, -600.0, False) for i in (1, 2, 3)]
    draft = Draft(1 / 10, "mm")
    made: Any = SimpleNamespace(places=tuple(places), order=None)
    inside.manifold(project, lay_out(project), made, draft, 250.0)
    draft.finish()
    return draft


def test_a_manifold_behind_a_secondary_regulator_says_so(design_a: Make) -> None:
    """Two kegs of beer hang on it, the soda's on the first regulator of the same gas."""
    beer, soda = ({"drink": "carbonated", "carbonation": f"{each} vol"} for each in (2.4, 3.8))
    three = design_a(
        taps={"count": 3, "spacing": "100 mm"},
        vessel=[{**KEG, "tap": tap} for tap in (1, 2, 3)],
        pour=[{"tap": 1, **beer}, {"tap": 2, **soda}, {"tap": 3, **beer}],
        manifold={"kind": "manifold-2-outlet"},
        well={"length": "800 mm", "width": "420 mm", "height": "650 mm"},
    )
    draft = three_kegs_drawn(three)
    assert [row[:3] for row in rows(draft, 6)[1:]] == [
        ("outlet 1", "3", "vessel-3"),
        ("outlet 2", "1", "vessel-1"),
        ("the first regulator", "2", "vessel-2"),
    ]
    said = " ".join(mark.text for mark in draft.marks if isinstance(mark, Words))
    assert "behind a secondary regulator (carbonated, 2.4 volumes)" in said


def test_both_outlets_are_numbered_though_they_stand_close(project: Project) -> None:
    """50.8 mm are 4.1 mm of a figure to 1 : 12.5, and 1.0 mm to 1 : 50: too close for two."""
    for scale, numbers in ((12.5, ["1", "2"]), (20.0, ["1", "2"]), (50.0, ["1"])):
        draft = Draft(1 / scale, "mm")
        inside.manifold(project, lay_out(project), None, draft, 250.0)
        said = [m.text for m in draft.marks if isinstance(m, Words) and m.text in ("1", "2")]
        assert said == numbers


def test_where_no_gas_is_told_nothing_is_said_of_it(design_a: Make) -> None:
    bare = design_a(
        vessel=[KEG, KEG, KEG],
        manifold={"kind": "manifold-2-outlet"},
        well={"length": "800 mm", "width": "420 mm", "height": "650 mm"},
    )
    draft = three_kegs_drawn(bare)
    texts = [mark.text for mark in draft.marks if isinstance(mark, Words)]
    assert all(text.strip() for text in texts)
    assert not any("gas at one pressure" in text or "Dashed" in text for text in texts)
    # seen from outside the back's left is the right end: vessel 3 has the first outlet
    assert [row[:3] for row in rows(draft, 6)[1:]] == [
        ("outlet 1", "3", "vessel-3"),
        ("outlet 2", "2", "vessel-2"),
        ("no outlet left", "1", "vessel-1"),
    ]


def test_vessels_are_numbered_as_they_go_in_and_named(project: Project) -> None:
    order = (NITROGEN, "vessel-2", "vessel-1")
    draft = Draft(1 / 10, "mm")
    well.well(project, lay_out(project), standing(order), draft, 250.0)
    draft.finish()
    assert [row[:3] for row in rows(draft, 7)[1:4]] == [
        ("1", NITROGEN, "nitrogen"),
        ("2", "vessel-2", "tap 1, kombucha"),
        ("3", "vessel-1", "tap 2, nitro coffee"),
    ]
    at = {"1": (400.0, 600.0), "2": (300.0, 300.0), "3": (700.0, 200.0)}
    texts = [m for m in draft.marks if isinstance(m, Words)]
    rings = [m for m in draft.marks if isinstance(m, Ring)]
    for text, number in (("kombucha", "2"), ("nitro coffee", "3")):
        ring = next(r for r in rings if math.dist((r.x, r.y), [mm / 10 for mm in at[number]]) < 0.1)
        for name in (text, number):
            inner = [m for m in texts if m.text == name and m.anchor == "middle"]
            assert any(math.dist((m.x, m.y), (ring.x, ring.y)) < ring.diameter / 2 for m in inner)
    assert any("Numbers: the order in which the vessels go in" in m.text for m in texts)
