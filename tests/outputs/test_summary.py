"""``summary.json`` as data: design A worked out by hand, under the keys that others rely on."""

import hashlib
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.outputs.summary import dumps, file_entry, summary
from collarwright.params.project import Project

Make = Callable[..., Project]
INCH = 25.4


@pytest.fixture
def said(design_a: Make) -> Callable[..., dict[str, Any]]:
    """Design A, changed, as ``--json`` would print it and another program would read it."""

    def of(**changes: Any) -> dict[str, Any]:
        project = design_a(**changes)
        data = summary(project, evaluate(project), "kitchen.toml", "ab" * 32)
        read: dict[str, Any] = json.loads(dumps(data))
        return read

    return of


def test_a_board_of_design_a(said: Callable[..., dict[str, Any]]) -> None:
    front = said()["boards"][0]
    # 37 in long, 3/4 in less at either end; three 1 in bores, 3 in apart, half way up 5 1/2 in
    wood = 5.5 * 0.75 * (37 + 35.5) / 2 - 3 * math.pi / 4 * 0.75
    assert [hole.pop("u_mm") for hole in front["holes"]] == pytest.approx(
        [15.5 * INCH, 18.5 * INCH, 21.5 * INCH]
    )
    assert front.pop("holes") == [
        {"name": f"tap-{n}", "purpose": "bore", "v_mm": 69.85, "diameter_mm": 25.4}
        for n in (1, 2, 3)
    ]
    assert front.pop("side") == "front"
    assert front == pytest.approx(
        {
            "long_point_mm": 37 * INCH,
            "short_point_mm": 35.5 * INCH,
            "width_mm": 5.5 * INCH,
            "thickness_mm": 0.75 * INCH,
            "miter_left_deg": 45,
            "miter_right_deg": 45,
            "volume_mm3": wood * INCH**3,
        }
    )


def test_a_panel_of_design_a(said: Callable[..., dict[str, Any]]) -> None:
    opening = {"side": "front", "length": "50 mm", "height": "40 mm", "depth": "20 mm"}
    manifold = {**opening, "offset": "-200 mm", "centre": "30 mm"}
    front = said(manifold=manifold)["foam"][0]
    # it runs from short point to short point, so 3/4 in come off the board's u
    pockets, cut = front["holes"][:3], front["holes"][3]
    assert [hole["u_mm"] for hole in pockets] == pytest.approx(
        [(inches - 0.75) * INCH for inches in (15.5, 18.5, 21.5)]
    )
    assert {(h["purpose"], h["v_mm"], h["diameter_mm"]) for h in pockets} == {("pocket", 69.85, 60)}
    where = {"u_mm": 17.75 * INCH - 200, "v_mm": 30, "length_mm": 50, "height_mm": 40}
    assert {key: cut[key] for key in where} == pytest.approx(where)
    assert cut.keys() == {*where, "name", "purpose"}
    left = 35.5 * 5.5 * INCH**2 - 3 * math.pi / 4 * 60**2 - 50 * 40
    assert front["volume_mm3"] == pytest.approx(left * INCH)
    assert front["length_mm"] == pytest.approx(35.5 * INCH)


def test_a_pilot_says_how_deep_and_from_where(said: Callable[..., dict[str, Any]]) -> None:
    holes = said(board={"bracket": "bracket-2x2-in"})["boards"][1]["holes"]
    assert holes
    # two thirds of 3/4 in
    assert {(hole["face"], round(hole["depth_mm"], 9)) for hole in holes} == {("inner", 12.7)}


def test_the_frame_stands_at_the_lips_corner(said: Callable[..., dict[str, Any]]) -> None:
    frame = said()["frame"]
    corners = frame.pop("corners")
    assert frame == pytest.approx(
        {"width_mm": 37 * INCH, "depth_mm": 21 * INCH, "height_mm": 5.5 * INCH}
    )
    places = {
        "front-left": (0, 0),
        "front-right": (37 * INCH, 0),
        "back-right": (37 * INCH, 21 * INCH),
        "back-left": (0, 21 * INCH),
    }
    assert [corner.pop("name") for corner in corners] == list(places)
    for corner, (x, y) in zip(corners, places.values(), strict=True):
        assert corner == pytest.approx(
            {"x_mm": x, "y_mm": y, "interior_deg": 90, "miter_deg": 45}, abs=1e-9
        )


def test_a_finding_has_its_figures_and_what_is_missing(
    said: Callable[..., dict[str, Any]],
) -> None:
    found = said()["findings"]
    entry = next(each for each in found if each["check"] == "bore-entry")
    # a 7/8 in thread in a 1 in bore
    figures = {"measured": 3.175, "required": 0.4, "margin": 2.775}
    assert {key: entry[key] for key in figures} == pytest.approx(figures)
    assert (entry["verdict"], entry["weight"], entry["unit"]) == ("pass", "must", "mm")
    assert entry["where"] == {
        "side": "front", "tap": 1, "vessel": None, "corner": None, "text": None,
    }  # fmt: skip
    assert set(entry) >= {
        "check", "weight", "where", "verdict", "measured", "required", "margin", "tolerance",
        "decided_by", "unit", "missing", "passes_if", "why", "remedies", "source",
    }  # fmt: skip
    wall = next(each for each in found if each["check"] == "lid-wall")
    assert wall["measured"] is None
    assert "room.behind" in wall["missing"]


def test_a_written_file_is_listed_with_its_size_and_hash(tmp_path: Path) -> None:
    (tmp_path / "cut").mkdir()
    (tmp_path / "cut" / "a.dxf").write_bytes(b"0\nEOF\n")
    assert file_entry(tmp_path, "cut/a.dxf") == {
        "path": "cut/a.dxf",
        "bytes": 6,
        "sha256": hashlib.sha256(b"0\nEOF\n").hexdigest(),
    }
