"""Dimensioned drawings: hand-worked sizes in their places, no text over a line, read back true."""

import io
import itertools
import json
import math
import re
import shutil
import subprocess
import sys
import unicodedata
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.packed import Question
from collarwright.outputs import drawings
from collarwright.outputs.cli import app
from collarwright.outputs.drawings.draft import Draft, box_of
from collarwright.outputs.drawings.frame import SCALES, papers_for
from collarwright.outputs.paper.dims import font_size
from collarwright.outputs.paper.marks import Mark, Page, Pen, Ring, Words, arc, moved
from collarwright.outputs.paper.marks import Path as Drawn
from collarwright.outputs.paper.overlap import meetings, runs_over
from collarwright.outputs.paper.pdf import clean, write_pdf
from collarwright.outputs.paper.svg import write_svg
from collarwright.outputs.readback import drawing as reader
from collarwright.outputs.readback import svg as svg_reader
from collarwright.outputs.summary import summary
from collarwright.params.project import Project
from collarwright.params.reading import read
from PIL import Image
from typer.testing import CliRunner

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
SHA = "0123456789abcdef" * 4
RSVG, POPPLER = shutil.which("rsvg-convert"), shutil.which("pdftoppm")

Make = Callable[..., Project]
Pages = dict[str, tuple[str, Page]]


def made(project: Project, paper: str | None = None, warnings: tuple[str, ...] = ()) -> Pages:
    """Return the drawings of a project."""
    question = Question()
    evaluation = evaluate(project)
    standing = question.standing(project, evaluation.layout) if project.vessel else None
    return drawings.pages(
        project, evaluation, paper=paper, sha256=SHA, warnings=warnings, standing=standing
    )


def read_back(page: Page, folder: Path) -> tuple[Any, list[reader.Dimension], float]:
    """Write a page as PDF and read it: the page, its dimensions, its scale."""
    path = folder / "page.pdf"
    write_pdf([page], path, "x")
    seen = reader.read(path).pages[0]
    found, faults = reader.dimensions(seen)
    assert faults == []
    scale = reader.scale_of(seen)
    assert scale is not None
    return seen, found, scale


@pytest.fixture(scope="module")
def examples() -> dict[str, tuple[Project, Pages]]:
    """Every example with its drawings."""
    found: dict[str, tuple[Project, Pages]] = {}
    for name in NAMES:
        project, _ = read(EXAMPLES / f"{name}.toml")
        found[name] = project, made(project)
    return found


# --- hand-worked sizes ----------------------------------------------------------------------------


def texts_from(found: list[reader.Dimension], axis: int, start: float) -> dict[str, float]:
    """Return text and length on the page of the dimensions that begin at a place of an axis."""
    return {
        each.text: each.length
        for each in found
        if abs(each.a[1 - axis] - each.b[1 - axis]) < 0.01
        and abs(min(each.a[axis], each.b[axis]) - start) < 0.01
    }


@pytest.mark.parametrize(
    ("show", "long", "bores", "up"),
    [
        # 37 in; the middle at 18 1/2 in, taps 3 in apart; half of 139.7 mm = 2 3/4 in up
        ("in", "37 in", ["15 1/2 in", "18 1/2 in", "21 1/2 in"], "2 3/4 in"),
        # 939.8 mm; 469.9 and 76.2 mm to each side; 69.85 mm up, printed to the even tenth
        ("mm", "939.8 mm", ["393.7 mm", "469.9 mm", "546.1 mm"], "69.9 mm"),
    ],
)
def test_a_boards_dimensions_stand_where_its_holes_are(
    design_a: Make, tmp_path: Path, show: str, long: str, bores: list[str], up: str
) -> None:
    page = made(replace(design_a(), show=show))["board-front"][1]
    seen, found, scale = read_back(page, tmp_path)
    assert scale == pytest.approx(1 / 5)  # 939.8 mm are 188 mm on an A4 or a letter of 250 mm
    circles = [each for each in seen.circles if abs(each.diameter - 25.4 / 5) < 0.01]
    left = min(circle.x for circle in circles) - 393.7 / 5
    low = circles[0].y - 69.85 / 5
    assert sorted(circle.x for circle in circles) == pytest.approx(
        [left + mm / 5 for mm in (393.7, 469.9, 546.1)], abs=0.01
    )
    across = texts_from(found, 0, left)
    assert across.get(long) == pytest.approx(939.8 / 5, abs=0.01)
    for text, mm in zip(bores, (393.7, 469.9, 546.1), strict=True):
        assert across.get(text) == pytest.approx(mm / 5, abs=0.01)
    assert texts_from(found, 1, low)[up] == pytest.approx(69.85 / 5, abs=0.01)
    said = {text.text for text in seen.texts}
    # the short point: 939.8 less 19.05 mm at each end; the miter of a square corner
    assert "tilt the blade 45.0 deg" in said
    assert ("35 1/2 in" if show == "in" else "901.7 mm") in {each.text for each in found}
    assert f"3 × ⌀ {'1 in' if show == 'in' else '25.4 mm'}" in said


def test_the_lids_reach_is_the_one_of_a_triangle(design_a: Make, tmp_path: Path) -> None:
    """The back top corner, 60 mm over and 16 - 10 mm ahead of the axis, wall 200 mm behind.

    r = hypot(6, 60) = 60.3 mm: at 90 deg the corner is 60 mm behind the axis, and farthest where
    it is level with it: 60.3 mm, at 90 + atan(6/60) = 95.7 deg. The axis is 16 mm behind the
    collar's back face, which is the lip's edge: 76.3 mm; 123.7 mm are left to the wall.
    """
    project = design_a(
        lid={"overhang": "10 mm", "thickness": "60 mm", "skirt": "0 mm"},
        hinge={"axis_behind": "16 mm", "axis_above": "0 mm", "open_to": "96 deg"},
        room={"behind": "200 mm", "above": "3 m"},
    )
    # the front corner is 549.4 mm ahead of the axis: at 96 deg it has come 549.4 sin(6 deg) behind
    page = made(replace(project, show="mm"))["lid-swing"][1]
    seen, found, scale = read_back(page, tmp_path)
    reach = math.hypot(16 + 533.4 + 10, 60)
    phase = math.atan2(-(16 + 533.4 + 10), 60)
    far = reach * math.sin(math.radians(96) + phase) + 16
    by_text = {each.text: each.length / scale for each in found}
    assert by_text[f"{far:.1f} mm"] == pytest.approx(far, abs=0.05)
    assert by_text[f"{200 - far:.1f} mm"] == pytest.approx(200 - far, abs=0.05)
    assert by_text["200 mm"] == pytest.approx(200, abs=0.05)
    assert any("at 96.0 deg" in text.text for text in seen.texts)


def test_a_foam_panels_pockets_are_told_from_its_left_end(design_a: Make, tmp_path: Path) -> None:
    """The front panel is as long as the clear length, 901.7 mm, so pockets lie 19.05 mm less."""
    project = replace(design_a(taps={"offset": "-50 mm"}), show="mm")
    seen, found, scale = read_back(made(project)["foam"][1], tmp_path)
    by_text = {each.text: each.length / scale for each in found}
    clear = next(each for each in found if each.text == "901.7 mm")
    left = min(clear.a[0], clear.b[0])
    pockets = [c.x for c in seen.circles if abs(c.diameter - 60 * scale) < 0.01]
    assert sorted(pockets) == pytest.approx(
        [left + (mm - 50 - 19.05) * scale for mm in (393.7, 469.9, 546.1)], abs=0.01
    )
    for mm in (901.7, *(mm - 50 - 19.05 for mm in (393.7, 469.9, 546.1))):
        assert any(
            abs(length - mm) < 0.05 and abs(float(text.removesuffix(" mm")) - mm) <= 0.051
            for text, length in by_text.items()
        )
    # the side panels stand between the others: 533.4 - 2 (19.05 + 25.4)
    assert by_text["444.5 mm"] == pytest.approx(444.5, abs=0.05)


# --- every drawing of every example ---------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", [None, "letter", "a3"])
def test_no_text_stands_over_a_line_or_another_text(name: str, paper: str | None) -> None:
    project, _ = read(EXAMPLES / f"{name}.toml")
    warnings = tuple(f"FAILS something, tap {i}: -1 mm" for i in range(6)) if paper else ()
    for title, (_, page) in made(project, paper, warnings).items():
        assert meetings(page.marks) == [], title
        for mark in page.marks:
            x0, y0, x1, y1 = box_of(mark)
            assert min(x0, y0) > 9, (title, mark)
            assert page.width - x1 > 9, (title, mark)
            assert page.height - y1 > 9, (title, mark)


@pytest.mark.parametrize("name", NAMES)
def test_every_dimension_says_what_it_measures(
    name: str, examples: dict[str, tuple[Project, Pages]], tmp_path: Path
) -> None:
    project, pages = examples[name]
    data = summary(project, evaluate(project), "x", SHA)
    boards = {f"board-{each['side']}": each for each in data["boards"]}
    boards |= {f"cover-{each['side']}": each for each in data["covers"]}
    assert boards.keys() <= pages.keys()
    sizes = [(paper.width, paper.height) for paper in papers_for(None, project.show)]
    for title, (_, page) in pages.items():
        path = tmp_path / f"{title}.pdf"
        write_pdf([page], path, title)
        write_svg(page, path.with_suffix(".svg"), title)
        faults = reader.compare(
            path,
            show=project.show,
            sizes=sizes,
            title=project.title,
            sha256=SHA,
            count=len(pages),
            board=boards.get(title),
            panels=data["foam"] if re.fullmatch(r"foam(-\d+)?", title) else (),
        )
        assert faults == []
        assert svg_reader.compare(path.with_suffix(".svg"), path) == []
        scale = reader.scale_of(reader.read(path).pages[0])
        assert scale is not None
        assert any(1 / scale == pytest.approx(each) for each in SCALES)


def test_what_can_be_drawn_is(examples: dict[str, tuple[Project, Pages]]) -> None:
    _, pages = examples["cold-coffee"]
    assert pages.keys() >= {
        "general-arrangement", "tap-section", "wrench", "lid-swing", "board-front",
        "board-right", "board-back", "board-left", "foam", "foam-plan", "manifold", "well",
    }  # fmt: skip
    _, pages = examples["kombucha-too-tight"]
    assert not {"lid-swing", "manifold", "well"} & pages.keys()
    _, pages = examples["terrace-bar"]
    assert pages.keys() >= {"cover-front", "cover-left"}


DESIGNS: dict[str, dict[str, Any]] = {
    "twenty-four taps": {
        "lip": {"front": "2400 mm", "back": "2400 mm", "right": "700 mm", "left": "700 mm"},
        "taps": {"count": 24, "spacing": "90 mm", "wrench": "wrench-hook-pin",
                 "faucet": "faucet-forward-sealing"},
    },
    "on the right": {"taps": {"side": "right", "faucet": "faucet-forward-sealing"}},
    "on the back": {"taps": {"side": "back", "wrench": "wrench-hook-pin"}},
    "no foam": {"foam": None},
    "nothing bought": {"lid": None, "foam": None, "taps": {"shank": None, "handle": None}},
    "hits wall and ceiling": {
        "lid": {"overhang": "10 mm", "thickness": "60 mm", "skirt": "20 mm", "plug": "30 mm",
                "skirt_thickness": "3 mm", "plug_inset": "60 mm"},
        "hinge": {"axis_behind": "16 mm", "axis_above": "-12 mm", "open_to": "100 deg"},
        "room": {"behind": "30 mm", "above": "500 mm"},
    },
    "many holes": {
        "board": {"bracket": "bracket-2x2-in"},
        "hole": [{"side": "front", "height": "20 mm", "diameter": "12 mm", "offset": "300 mm"},
                 {"side": "front", "height": "100 mm", "diameter": "8 mm", "offset": "-300 mm"}],
        "manifold": {"length": "200 mm", "height": "80 mm", "depth": "40 mm", "side": "left"},
    },
    "cap and cover": {
        "board": {"corner": "spline"},
        "cover": {"thickness": "15 mm", "below_lip": "30 mm"},
        "cap": {"material": "wood", "thickness": "20 mm", "width": "40 mm"},
    },
    "a small one": {
        "lip": {"front": "400 mm", "back": "400 mm", "right": "300 mm", "left": "300 mm",
                "land": "30 mm"},
        "taps": {"count": 1},
    },
}  # fmt: skip


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("show", ["mm", "in"])
def test_other_designs_are_drawn_as_well(
    design_a: Make, tmp_path: Path, name: str, show: str
) -> None:
    project = replace(design_a(**DESIGNS[name]), show=show, title=name)
    data = summary(project, evaluate(project), "x", SHA)
    boards = {f"board-{each['side']}": each for each in data["boards"]}
    pages = made(project, "a4" if show == "mm" else "letter")
    for title, (_, page) in pages.items():
        assert meetings(page.marks) == [], title
        path = tmp_path / f"{title}.pdf"
        write_pdf([page], path, title)
        sizes = [(page.width, page.height)]
        faults = reader.compare(
            path, show=project.show, sizes=sizes, title=name, board=boards.get(title)
        )
        assert faults == []


# --- numbers and leaders --------------------------------------------------------------------------


def test_a_number_stands_nearest_to_the_hole_of_its_row(design_a: Make) -> None:
    """Four screws of a leaf, 2.5 mm apart on the page: those in the middle go to either side."""
    lip = {"front": "1300 mm", "back": "1300 mm"}
    hinge = {
        "positions": ("-350 mm", "350 mm"), "leaf_height": "100 mm", "leaf_width": "60 mm",
        "leaf_thickness": "2 mm", "fix": "screw", "screw": "wood-screw-no-8", "screws": 4,
        "screw_length": "16 mm",
    }  # fmt: skip
    page = made(replace(design_a(lip=lip, hinge=hinge), show="mm"), "a4")["board-back"][1]
    assert any(isinstance(m, Words) and m.text == "1:10" for m in page.marks)
    rings = [m for m in page.marks if isinstance(m, Ring) and m.diameter < 1]
    texts = [m for m in page.marks if isinstance(m, Words)]
    outline = next(m for m in page.marks if isinstance(m, Drawn) and m.closed)
    tags = {m.text: m for m in texts if m.size == font_size(1.8) and m.text.isdigit()}
    assert set(tags) == {str(number) for number in range(1, 9)}
    for number, tag in tags.items():
        at = next(i for i, m in enumerate(texts) if m.text == number and m.size == font_size(2.0))
        u, v = (float(each.text.removesuffix(" mm")) / 10 for each in texts[at + 3 : at + 5])
        middle = tag.x, tag.y + 0.9
        near = min(rings, key=lambda ring: math.dist((ring.x, ring.y), middle))
        told = outline.start[0] + u, outline.start[1] + v
        assert math.dist((near.x, near.y), told) < 0.01, number


def test_a_leader_goes_round_what_is_in_its_way() -> None:
    """Two walls 3 mm to the right of the tip: one of 7 mm through them, or 7 mm the other way.

    The other way was not asked for. Where both ways have as many walls, it is the one asked for.
    """
    for walls, right in ((0, True), (1, True), (2, False)):
        draft = Draft(1.0, "mm")
        draft.leader((0.0, 0.0), "x", (20,))
        for wall in range(walls):
            x = 3.0 + 0.5 * wall
            draft.add(Drawn((x, -200.0), (((x, 200.0),),)))
        draft.finish()
        line = next(m for m in draft.marks if isinstance(m, Drawn) and len(m.steps) == 2)
        assert (line.steps[0][0][0] > 0) == right, walls


def test_the_freezers_leader_runs_over_nothing(
    examples: dict[str, tuple[Project, Pages]],
) -> None:
    for name, (_, pages) in examples.items():
        marks = pages["general-arrangement"][1].marks
        at = next(i for i, m in enumerate(marks) if isinstance(m, Words) and m.text == "freezer")
        line = marks[at - 2]
        assert isinstance(line, Drawn)
        others = [m for i, m in enumerate(marks) if i not in (at - 2, at - 1, at)]
        assert runs_over(line, others, 0.6) == 0, name
        assert abs(line.start[0] - line.steps[0][0][0]) < 15, name


def test_what_a_line_runs_over_is_counted() -> None:
    """A line of 10 mm over a box's two edges, one dashed line and hatching, which is none."""
    box = Drawn((2.0, -1.0), (((4.0, -1.0),), ((4.0, 1.0),), ((2.0, 1.0),)), closed=True)
    dashed = Drawn((6.0, -1.0), (((6.0, 1.0),),), Pen(0.35, (2.0, 1.0)))
    hatching = Drawn((8.0, -1.0), (((8.0, 1.0),),), Pen(0.18))
    line = Drawn((0.0, 0.0), (((10.0, 0.0),),))
    assert runs_over(line, [box, dashed, hatching], 0.6) == 3
    assert runs_over(line, [box], 3.0) == 1  # the near edge is too near the tip to count
    assert runs_over(line, [Words(5.0, 0.0, 3.0, "x")], 0.6) == 0


# --- what is wrong is seen ------------------------------------------------------------------------

Spoil = Callable[[list[Mark]], list[Mark]]


def words(old: str, new: str) -> Spoil:
    """Return a change of one text."""

    def change(marks: list[Mark]) -> list[Mark]:
        at = next(i for i, m in enumerate(marks) if isinstance(m, Words) and m.text == old)
        mark = marks[at]
        assert isinstance(mark, Words)
        return [*marks[:at], replace(mark, text=new), *marks[at + 1 :]]

    return change


def bore(**more: float) -> Spoil:
    """Return a change of the first bore: ``dx``, ``dy`` or its ``diameter``."""

    def change(marks: list[Mark]) -> list[Mark]:
        at = next(i for i, m in enumerate(marks) if isinstance(m, Ring))
        mark = moved(marks[at], more.get("dx", 0.0), more.get("dy", 0.0))
        assert isinstance(mark, Ring)
        mark = replace(mark, diameter=more.get("diameter", mark.diameter))
        return [*marks[:at], mark, *marks[at + 1 :]]

    return change


def without(what: Callable[[Mark], bool]) -> Spoil:
    """Return a change that leaves marks out."""
    return lambda marks: [mark for mark in marks if not what(mark)]


def text_is(text: str) -> Callable[[Mark], bool]:
    return lambda mark: isinstance(mark, Words) and mark.text == text


def is_arrow(mark: Mark) -> bool:
    return isinstance(mark, Drawn) and mark.fill == 0.0 and len(mark.steps) == 2


def first_arrow_moved(marks: list[Mark]) -> list[Mark]:
    at = next(i for i, mark in enumerate(marks) if is_arrow(mark))
    return [*marks[:at], moved(marks[at], 1.5, 0.0), *marks[at + 1 :]]


SPOILT: list[tuple[str, Spoil, str]] = [
    ("a figure", words("14 1/2 in", "14 5/8 in"), "'14 5/8 in' stands at a dimension of"),
    ("a unit", words("18 1/2 in", "469.9 mm"), "is not in in"),
    ("no figure", without(text_is("18 1/2 in")), "a dimension without a text"),
    ("no length", words("18 1/2 in", "middle"), "is no length"),
    ("a bore", bore(dx=0.1), "tap-1 is not where it should be"),
    ("a bore up", bore(dy=-0.1), "tap-1 is not where it should be"),
    ("a wide bore", bore(diameter=5.5), "or not of its size"),
    ("a diameter", words("3 × ⌀ 1 in", "3 × ⌀ 7/8 in"), "its diameter is not told"),
    ("the scale", words("1:5", "1:10"), "stands at a dimension"),
    ("no scale", without(text_is("1:5")), "does not give one scale"),
    ("an arrow", first_arrow_moved, ""),
    ("no arrows", without(is_arrow), "has no dimension"),
    ("the title", words("Bakery back room: three taps of cold drinks", "x"), "the design's title"),
    ("the hash", words(SHA[:12], "x"), "does not say '0123"),
    ("the units", words("inches", "cubits"), "does not say 'inches'"),
    ("the sheets", words("5 of 13", "5 of 7"), "one of 13 sheets"),
    ("the table", words("2 5/16 in", "2 3/16 in"), "no row of the table says"),
    (
        "scaled to 97 %",
        lambda marks: [scaled(mark, 0.97) for mark in marks],
        "stands at a dimension",
    ),
]


def scaled(mark: Mark, by: float) -> Mark:
    """Return a mark as a printer that fits the page to its margins would draw it."""
    if isinstance(mark, Words):
        return replace(mark, x=mark.x * by, y=mark.y * by, size=mark.size * by)
    if isinstance(mark, Ring):
        return replace(mark, x=mark.x * by, y=mark.y * by, diameter=mark.diameter * by)
    assert isinstance(mark, Drawn)
    steps = tuple(tuple((x * by, y * by) for x, y in step) for step in mark.steps)
    return replace(mark, start=(mark.start[0] * by, mark.start[1] * by), steps=steps)


@pytest.mark.parametrize(("what", "spoil", "said"), SPOILT, ids=[each[0] for each in SPOILT])
def test_what_is_wrong_on_a_board_is_seen(
    examples: dict[str, tuple[Project, Pages]], tmp_path: Path, what: str, spoil: Spoil, said: str
) -> None:
    project, pages = examples["cold-coffee"]
    page = pages["board-front"][1]
    data = summary(project, evaluate(project), "x", SHA)
    path = tmp_path / "board-front.pdf"

    def faults() -> list[str]:
        return reader.compare(
            path,
            show=project.show,
            sizes=[(279.4, 215.9)],
            title=project.title,
            sha256=SHA,
            count=len(pages),
            board=data["boards"][0],
        )

    write_pdf([page], path, "x")
    assert faults() == []
    write_pdf([replace(page, marks=tuple(spoil(list(page.marks))))], path, "x")
    found = faults()
    assert found
    assert any(said in fault for fault in found), found


def test_pilots_are_told_in_64ths_and_read_back_so(design_a: Make, tmp_path: Path) -> None:
    """70 % of the root of a no. 10 screw is 2.70 mm, 6.8 64ths of an inch; leaves 90 mm high."""
    hinge = {
        "positions": ("-250 mm", "250 mm"), "leaf_height": "90 mm", "leaf_width": "60 mm",
        "leaf_thickness": "2 mm", "fix": "screw", "screw": "wood-screw-no-10", "screws": 3,
        "screw_length": "16 mm",
    }  # fmt: skip
    project = replace(design_a(hinge=hinge), show="in")
    pages = made(project)
    page = pages["board-back"][1]
    assert sum(isinstance(m, Words) and m.text == "7/64 in" for m in page.marks) == 6
    path = tmp_path / "board-back.pdf"
    write_pdf([page], path, "x")
    data = summary(project, evaluate(project), "x", SHA)
    told = reader.compare(
        path, show="in", sizes=[(279.4, 215.9)], title=project.title, sha256=SHA,
        count=len(pages), board=data["boards"][2],
    )  # fmt: skip
    assert not [each for each in told if "hinge" in each]


def test_paper_failures_and_missing_boards_are_seen(
    examples: dict[str, tuple[Project, Pages]], tmp_path: Path
) -> None:
    project, pages = examples["cold-coffee"]
    path = tmp_path / "board-front.pdf"
    write_pdf([pages["board-front"][1]], path, "x")
    told = reader.compare(path, show=project.show, sizes=[(297.0, 210.0)], failures=1)
    assert any("its page is 279.40 x 215.90 mm" in each for each in told)
    assert any("THIS DESIGN FAILS" in each for each in told)
    other = summary(project, evaluate(project), "x", SHA)["boards"][1]
    told = reader.compare(path, show=project.show, sizes=[(279.4, 215.9)], board=other)
    assert any("outline is not there" in each for each in told)


def test_a_pocket_in_another_place_is_seen(
    examples: dict[str, tuple[Project, Pages]], tmp_path: Path
) -> None:
    project, pages = examples["cold-coffee"]
    page, path = pages["foam"][1], tmp_path / "foam.pdf"
    panels = summary(project, evaluate(project), "x", SHA)["foam"]
    for spoil, said in (
        (bore(dx=0.1), "holes of foam-front are not where"),
        (bore(diameter=4.0), "holes of foam-front are not where"),
        (without(lambda m: isinstance(m, Words) and m.text.startswith("foam, ")), "names no foam"),
    ):
        write_pdf([replace(page, marks=tuple(spoil(list(page.marks))))], path, "x")
        told = reader.compare(path, show=project.show, sizes=[(279.4, 215.9)], panels=panels)
        assert any(said in each for each in told), told
    write_pdf([page], path, "x")
    other = [{**panels[0], "length_mm": panels[0]["length_mm"] + 1}]
    told = reader.compare(path, show=project.show, sizes=[(279.4, 215.9)], panels=other)
    assert told == ["foam.pdf: no dimensions for the sizes of foam-front"]


def test_four_curves_with_a_line_between_are_no_circle(tmp_path: Path) -> None:
    (a, b), (c, d) = arc(20, 50, 40, 50, 1.0)[::2], arc(40, 55, 20, 50, 1.0)[::2]
    assert len(arc(20, 50, 40, 50, 1.0)) == 4  # eighths of a circle
    shape = Drawn((20.0, 50.0), (a, b, ((40.0, 55.0),), c, (*d[:2], (20.0, 50.0))))
    write_pdf([Page(100, 100, (shape,))], tmp_path / "x.pdf", "x")
    page = reader.read(tmp_path / "x.pdf").pages[0]
    assert page.circles == ()
    assert len(page.lines) == 1


def test_an_svg_that_differs_from_its_pdf_is_seen(
    examples: dict[str, tuple[Project, Pages]], tmp_path: Path
) -> None:
    page = examples["cold-coffee"][1]["board-front"][1]
    pdf, svg = tmp_path / "x.pdf", tmp_path / "x.svg"
    write_pdf([page], pdf, "x")
    for spoil, said in (
        (words("14 1/2 in", "14 5/8 in"), "is not in both"),
        (bore(dx=0.1), "no circle at"),
        (bore(diameter=6.0), "no circle at"),
    ):
        write_svg(replace(page, marks=tuple(spoil(list(page.marks)))), svg, "x")
        assert any(said in each for each in svg_reader.compare(svg, pdf))
    write_svg(page, svg, "x")
    good = svg.read_text("utf-8")
    for old, new, said in (
        ('width="279.4mm"', 'width="279.4px"', "its size in mm"),
        ('viewBox="0 0 279.4', 'viewBox="0 0 280.4', "where the PDF has"),
        ("</g>", "<script/></g>", "no part of a drawing"),
    ):
        assert old in good
        svg.write_text(good.replace(old, new), "utf-8")
        assert any(said in each for each in svg_reader.compare(svg, pdf))
    svg.write_text(good[:500], "utf-8")
    with pytest.raises(ValueError, match="cannot be read"):
        svg_reader.compare(svg, pdf)


# --- pictures -------------------------------------------------------------------------------------

ALIKE, LETTERS = 0.06, 0.16
"""Renderers smooth lines, and set letters, in their own ways: so far may the mean gray of 2 x 2 mm
be apart at 300 dpi, without and with texts (a line 2 mm long and 0.25 mm wide is 0.12; measured:
0.05 and 0.145, in long titles, where one renderer kerns)."""


def gray(command: list[str]) -> np.ndarray:
    """Return what a renderer draws, 0 black to 1 white."""
    done = subprocess.run(command, capture_output=True, check=True, timeout=60)
    return np.asarray(Image.open(io.BytesIO(done.stdout)).convert("L")) / 255.0


DRAWN = (
    "general-arrangement", "tap-section", "wrench", "lid-swing", "board-front", "board-right",
    "board-back", "board-left", "foam", "foam-2", "foam-plan", "manifold", "well",
)  # fmt: skip
"""All drawings of the example."""

LETTERED = ("general-arrangement", "lid-swing", "board-front", "well")
"""Those whose texts are compared as well, in whose titles the one renderer that kerns moves no
letter far, and that have a circle large enough for a wrong place to show."""


@pytest.mark.skipif(not (RSVG and POPPLER), reason="rsvg-convert or pdftoppm is not installed")
@pytest.mark.parametrize("title", DRAWN)
def test_pdf_and_svg_are_the_same_picture(
    examples: dict[str, tuple[Project, Pages]], tmp_path: Path, title: str
) -> None:
    assert RSVG is not None
    assert POPPLER is not None
    pages = examples["cold-coffee"][1]
    assert set(pages) == set(DRAWN)
    page = pages[title][1]
    bare = replace(page, marks=tuple(m for m in page.marks if not isinstance(m, Words)))
    assert pictures_apart(bare, tmp_path) < ALIKE
    if title in LETTERED:
        assert pictures_apart(page, tmp_path) < LETTERS
        at = next(i for i, mark in enumerate(bare.marks) if isinstance(mark, Ring))
        assert pictures_apart(bare, tmp_path, at) > ALIKE


def pictures_apart(page: Page, folder: Path, at: int | None = None) -> float:
    """Return how far PDF and SVG are apart; the mark ``at`` is moved by 1.5 mm in the SVG."""
    assert RSVG is not None
    assert POPPLER is not None
    write_pdf([page], folder / "x.pdf", "x")
    if at is not None:
        marks = (*page.marks[:at], moved(page.marks[at], 1.5, 0.0), *page.marks[at + 1 :])
        page = replace(page, marks=marks)
    write_svg(page, folder / "x.svg", "x")
    one = gray([POPPLER, "-r", "300", "-gray", str(folder / "x.pdf")])
    two = gray([RSVG, "-d", "300", "-p", "300", "-b", "white", str(folder / "x.svg")])
    cell = round(2 / 25.4 * 300)
    high, wide = (min(a, b) // cell * cell for a, b in zip(one.shape, two.shape, strict=True))

    def means(picture: np.ndarray) -> np.ndarray:
        cut = picture[:high, :wide].reshape(high // cell, cell, wide // cell, cell)
        return cut.mean(axis=(1, 3))

    assert float((one < 0.5).mean()) > 0.005  # something is drawn
    return float(np.abs(means(one) - means(two)).max())


# --- from the command line ------------------------------------------------------------------------


def test_a_design_that_fails_is_drawn_with_its_failures_in_print(tmp_path: Path) -> None:
    file = EXAMPLES / "kombucha-too-tight.toml"
    only = ["--only", "drawings", "--only", "templates"]
    done = CliRunner().invoke(app, ["build", str(file), "--out", str(tmp_path / "out"), *only])
    assert done.exit_code == 1, done.output
    assert "Held back: templates/" in " ".join(done.output.split())
    assert not (tmp_path / "out" / "templates").exists()
    data = json.loads((tmp_path / "out" / "summary.json").read_text())
    listed = {each["path"] for each in data["files"]}
    there = sorted((tmp_path / "out" / "drawings").iterdir())
    assert {f"drawings/{path.name}" for path in there} == listed
    assert {path.suffix for path in there} == {".pdf", ".svg"}
    for path in there:
        if path.suffix == ".pdf":
            said = [text.text for text in reader.read(path).pages[0].texts]
            assert "THIS DESIGN FAILS 3 CHECKS" in said
            assert any(text.startswith("FAILS handle-gap, taps 1-5") for text in said)
            assert "must be put right before" in " ".join(said)


HOSTILE = [
    "../../x", "(x) Tj ET Q endstream", "<script>alert(1)</script> &amp; ]]>", "%s {0} \\P",
    "\u202e\u2066backward\u2069\u202c", "e\u0301te\u0301 ½ ″", "🍺" * 80, "x" * 190,
    "קפה קר cold", "\x1b[31mred\x7f",
]  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_titles_and_names_stand_as_they_are(
    design_a: Make, tmp_path: Path, text: str
) -> None:
    name = "".join(char for char in text if unicodedata.category(char) not in ("Cc", "Cf")) or "x"
    project = design_a(taps={"names": (name, "water", name)}, hole={
        "side": "front", "height": "30 mm", "diameter": "12 mm", "offset": "300 mm", "name": name,
    })  # fmt: skip
    project = replace(project, title=text)
    evaluation = evaluate(project)
    files = drawings.write(project, evaluation, tmp_path, paper="a4", sha256=SHA)
    assert {Path(name).parent.as_posix() for name in files} == {"drawings"}
    assert {path.name for path in tmp_path.iterdir()} == {"drawings"}
    sizes = [(297.0, 210.0)]
    for name in files:
        path = tmp_path / name
        if path.suffix == ".svg":
            assert svg_reader.compare(path, path.with_suffix(".pdf")) == []
            root = ET.fromstring(path.read_bytes())
            shown = [each.text or "" for each in root.iter() if each.text]
            assert any(clean(text)[:20] in each for each in shown)
        else:
            assert reader.compare(path, show=project.show, sizes=sizes, title=text) == []
    for title, (_, page) in drawings.pages(project, evaluation, paper="a4", sha256=SHA).items():
        assert meetings(page.marks) == [], title


def test_the_same_design_gives_the_same_bytes_and_no_kernel_is_loaded(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path\n"
        "from collarwright.params.reading import read\n"
        "from collarwright.geometry.judge.evaluate import evaluate\n"
        "from collarwright.outputs import drawings\n"
        "project, source = read(Path(sys.argv[1]))\n"
        "root = Path(sys.argv[2]); root.mkdir()\n"
        "drawings.write(project, evaluate(project), root, paper=None, sha256=source.sha256)\n"
        "assert not {'OCP', 'cadquery'} & set(sys.modules)\n"
    )
    for name, seed in (("a", "1"), ("b", "2")):
        subprocess.run(
            [sys.executable, "-c", code, str(EXAMPLES / "cold-coffee.toml"), str(tmp_path / name)],
            env={"PYTHONHASHSEED": seed, "PATH": ""},
            check=True,
            timeout=60,
        )
    for path in sorted((tmp_path / "a").rglob("*.*")):
        assert path.read_bytes() == (tmp_path / "b" / path.relative_to(tmp_path / "a")).read_bytes()


def test_answers_with_remedies_are_drawn_the_same(design_a: Make) -> None:
    """The title block counts verdicts: those of ``answer``, which knows of tolerances too."""
    project = design_a()
    pages = drawings.pages(project, answer(project, None), paper=None, sha256=SHA)
    said = [mark.text for mark in pages["foam"][1].marks if isinstance(mark, Words)]
    start = said.index("checked")
    assert " tight, " in " ".join(itertools.islice(said, start, start + 3))
