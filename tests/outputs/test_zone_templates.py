"""Where centers and the hinge's pin may lie, on paper: read back, and every fault of it seen."""

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from re import fullmatch
from typing import Any

import pytest
from collarwright.geometry.judge.halo import RAYS, Halo
from collarwright.geometry.judge.hinge_map import HingeMap
from collarwright.geometry.judge.tracing import Area
from collarwright.geometry.judge.zones import Zones, zones
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.geometry.shape.rear import closed_back
from collarwright.outputs import templates
from collarwright.outputs.paper.marks import Mark, Page, Window, Words
from collarwright.outputs.paper.overlap import meetings
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.paper.sizes import PAPER_NAMES
from collarwright.outputs.readback import pdf
from collarwright.outputs.readback.zones import compare_map, compare_zones
from collarwright.outputs.templates import hinge
from collarwright.outputs.templates.furniture import Job
from collarwright.outputs.templates.zones import within
from collarwright.params.project import Project

SHA = "2468ace013579bdf" * 4
Make = Callable[..., Project]
LID = {"thickness": "60 mm", "skirt": "0 mm", "plug": "0 mm", "overhang": "5 mm"}
PIN = {"open_to": "90 deg", "axis_behind": "20 mm", "axis_above": "15 mm"}
ROOM = {"behind": "70 mm", "above": "2000 mm"}
LEAF = {
    "positions": ("-250 mm", "250 mm"), "leaf_height": "80 mm", "leaf_width": "40 mm",
    "leaf_thickness": "2 mm", "screw": "wood-screw-no-8", "screws": 3,
}  # fmt: skip


def printed(
    project: Project, name: str, folder: Path, paper: str = "letter", found: Zones | None = None,
    **job: Any,
) -> tuple[Path, list[Page], Layout, Zones]:  # fmt: skip
    layout = lay_out(project)
    found = found or zones(project, layout)
    more: dict[str, Any] = {"title": "Cider in the shed", "sha256": SHA, "show": project.show} | job
    said = Job(**more, zones=found)
    made = next(each for each in templates.templates(layout, paper, said) if each.name == name)
    pages, path = made.pages(), folder / f"{name}.pdf"
    write_pdf(pages, path, name)
    return path, pages, layout, found


def gray_faults(path: Path, board: Board, found: Zones) -> list[str]:
    """Return what is said of the gray itself, and not of words or of the pin's lines."""
    said = compare_zones(path, board, found)
    return [each for each in said if "the zone of " in each or ": a zone about " in each]


def words(pages: list[Page]) -> list[str]:
    def within_marks(marks: tuple[Mark, ...]) -> Iterator[str]:
        for mark in marks:
            if isinstance(mark, Words):
                yield mark.text
            elif isinstance(mark, Window):
                yield from within_marks(mark.marks)

    return [text for page in pages for text in within_marks(page.marks)]


@pytest.fixture
def pinned(design_a: Make) -> Project:
    """A lid at a wall with the pin's place and leaves known."""
    return design_a(lid=LID, hinge=PIN | LEAF, room=ROOM, taps={"spacing": "52.3 mm"})


# --- about each center ----------------------------------------------------------------------------


def test_zones_read_back_about_bores_and_hinge_holes(pinned: Project, tmp_path: Path) -> None:
    for side in ("front", "back"):
        path, _, layout, found = printed(pinned, f"board-{side}", tmp_path)
        board = layout.board(side)
        assert compare_zones(path, board, found) == []
        assert pdf.compare(path, board, show="mm", sha256=SHA) == []


def test_a_zone_is_where_the_arithmetic_puts_it(pinned: Project, tmp_path: Path) -> None:
    """Tap 1, 52.3 left of the middle one, may go 1.5 to the right."""
    path, *_ = printed(pinned, "board-front", tmp_path, paper="sheet")
    (page,) = pdf.read(path).pages
    gray = [each for each in page.filled if len(each) == RAYS]
    assert len(gray) == 3
    zero = next(text.text for text in page.texts if text.text.startswith("board zero at"))
    x0, y0 = (float(each) for each in zero.split()[3:5])
    right = max(gray[0], key=lambda place: place[0] if abs(place[1] - y0 - 69.85) < 0.1 else 0.0)
    assert right[0] - x0 == pytest.approx(939.8 / 2 - 52.3 + 1.5, abs=0.06)


@pytest.mark.parametrize("spoil", ["moved", "other", "more", "none"])
def test_zones_that_are_wrong_are_seen(pinned: Project, tmp_path: Path, spoil: str) -> None:
    layout = lay_out(pinned)
    found = zones(pinned, layout)
    first, *rest = found.halos
    wrong = {
        "moved": replace(first, radii=tuple(radius + 0.1 for radius in first.radii)),
        "other": replace(first, radii=(first.radii[0] + 0.2, *first.radii[1:])),
        "more": first,
        "none": replace(first, radii=()),
    }[spoil]
    path, *_ = printed(pinned, "board-front", tmp_path, found=Zones((wrong, *rest)))
    asked = Zones(found.halos[1:] if spoil == "more" else found.halos, found.pin)
    assert gray_faults(path, layout.board("front"), asked)


def test_what_is_near_is_said_and_the_gray_explained(pinned: Project, tmp_path: Path) -> None:
    _, pages, *_ = printed(pinned, "board-front", tmp_path, show="mm")
    said = words(pages)
    # 1.5 mm found to 0.05, and written no larger than it is
    assert any(text in ("center within 1.4 mm", "center within 1.5 mm") for text in said)
    assert any(
        text.startswith("gray about a center: where it may lie, up to 10 mm") for text in said
    )
    _, pages, *_ = printed(pinned, "board-back", tmp_path, show="mm")
    # 80 / 6 - 2.5 * 4.17 = 2.91, found to 0.02
    assert any(text in ("center within 2.8 mm", "center within 2.9 mm") for text in words(pages))


def test_the_gray_is_explained_on_the_sheets_that_have_some(
    pinned: Project, tmp_path: Path
) -> None:
    _, pages, *_ = printed(pinned, "board-front", tmp_path, show="mm")

    def has(page: Page, start: str) -> bool:
        return any(text.startswith(start) for text in words([page]))

    # on letter the bores stand more than 10 mm clear of the first and the last sheet
    told = [has(page, "gray about a center") for page in pages]
    bored = [has(page, "⌀") for page in pages]
    assert told == bored
    assert True in told
    assert False in told


def test_lengths_are_never_written_larger_than_they_are() -> None:
    for mm, show, said in (
        (1.59, "mm", "1.5 mm"), (1.6, "mm", "1.6 mm"), (3.17, "in", "3/32 in"),
        (3.175, "in", "1/8 in"), (0.79, "in", "0.031 in (0.7 mm)"),
        (0.6, "in", "0.023 in (0.6 mm)"), (0.1, "in", "0.003 in (0.1 mm)"),
    ):  # fmt: skip
        zone = Halo(name="x", side="front", radii=(mm,) * RAYS, bounds=("bore-web",) * RAYS)
        # all rays equal: the sides lie nearer by cos(180 / RAYS)
        zone = replace(zone, radii=tuple(mm / 0.9914448613738104 for _ in range(RAYS)))
        assert within(None, zone, show) == f"center within {said}"  # type: ignore[arg-type]


@pytest.mark.parametrize("show", ["in", "mm"])
def test_where_less_is_left_than_can_be_written_there_is_no_room(show: Any) -> None:
    zone = Halo(name="x", side="front", radii=(0.09,) * RAYS, bounds=("bore-web",) * RAYS)
    assert within(None, zone, show) == "no room to wander"  # type: ignore[arg-type]


def test_what_was_not_asked_is_named(pinned: Project, design_a: Make, tmp_path: Path) -> None:
    _, pages, *_ = printed(pinned, "board-front", tmp_path, paper="sheet", show="mm")
    said = " ".join(words(pages))
    assert "with every must that was asked still passing" in said
    assert "not asked: lid-front" in said  # the faucet is not named
    bare = design_a(taps={"shank": None})
    path, pages, layout, found = printed(bare, "board-front", tmp_path, paper="sheet")
    said = " ".join(words(pages))
    assert "no gray about tap 1, tap 2, tap 3: flange or nut not known." in said
    assert "gray about a center" not in said
    assert "center within" not in said
    assert compare_zones(path, layout.board("front"), found) == []


def test_a_bore_that_fails_where_it_is_says_so_instead(design_a: Make, tmp_path: Path) -> None:
    project = design_a(taps={"spacing": "49 mm", "handle": None})
    path, pages, layout, found = printed(
        project, "board-front", tmp_path, warnings=("FAILS bore-web",)
    )
    said = words(pages)
    assert any(text.startswith("fails here: bore-web") for text in said)
    assert not any("gray about a center" in text for text in said)
    assert compare_zones(path, layout.board("front"), found) == []


@pytest.mark.parametrize("paper", PAPER_NAMES)
def test_texts_stand_clear_on_every_paper(pinned: Project, tmp_path: Path, paper: str) -> None:
    for name in ("board-front", "board-back", "hinge-map"):
        _, pages, *_ = printed(pinned, name, tmp_path, paper)
        for page in pages:
            windows = [mark for mark in page.marks if isinstance(mark, Window)]
            around = [mark for mark in page.marks if not isinstance(mark, Window)]
            for marks in (around, *(window.marks for window in windows)):
                found = [
                    (each.words.text, each.other)
                    for each in meetings(marks)
                    if not fullmatch(r"[A-Z]*\d+", each.words.text)  # at a seam's cross
                ]
                assert found == [], (name, paper)


# --- the hinge map --------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", PAPER_NAMES)
def test_the_map_reads_back(pinned: Project, tmp_path: Path, paper: str) -> None:
    path, _, layout, found = printed(pinned, "hinge-map", tmp_path, paper)
    assert found.pin is not None
    assert compare_map(path, found.pin, layout, sha256=SHA) == []


def test_the_map_has_the_wall_where_the_arithmetic_puts_it(pinned: Project, tmp_path: Path) -> None:
    """Behind by b from 5 on, the pin may be no lower than b - 10: 20 behind, 10 above."""
    path, *_ = printed(pinned, "hinge-map", tmp_path)
    (page,) = pdf.read(path).pages
    zero = next(text.text for text in page.texts if text.text.startswith("board zero at"))
    x0, y0 = (float(each) for each in zero.split()[3:5])
    heights = [
        line.y1 + (x0 + 20 - line.x1) / (line.x2 - line.x1) * (line.y2 - line.y1) - y0
        for line in page.lines
        if min(line.x1, line.x2) <= x0 + 20 < max(line.x1, line.x2) and line.y1 != line.y2
    ]
    assert heights == [pytest.approx(10, abs=0.06)]
    (pin,) = [each for each in page.circles if abs(each.diameter - 2) < 0.01]
    assert (pin.x - x0, pin.y - y0) == (pytest.approx(20, abs=0.01), pytest.approx(15, abs=0.01))
    said = words([*printed(pinned, "hinge-map", tmp_path)[1]])
    assert "beyond: lid-wall" in said
    assert any("no lower than 10" in text for text in said)


def other(pin: HingeMap, **changes: Any) -> HingeMap:
    return replace(pin, **changes)


@pytest.mark.parametrize(
    "spoil", ["corner", "pin", "no pin", "unknown pin", "gone", "gap", "failing", "file"]
)
def test_a_map_that_is_wrong_is_seen(pinned: Project, tmp_path: Path, spoil: str) -> None:
    found = zones(pinned, lay_out(pinned))
    pin = found.pin
    assert pin is not None
    assert pin.drawn is not None
    (area,) = pin.areas
    (x, y), *rest = area.corners
    wrong = {
        "corner": other(pin, areas=(Area(corners=((x - 0.2, y), *rest), bounds=area.bounds),)),
        "pin": other(pin, drawn=(pin.drawn[0] + 0.1, pin.drawn[1])),
        "no pin": other(pin, drawn=None),
        "gone": other(pin, areas=()),
    }.get(spoil, pin)
    path, *_ = printed(pinned, "hinge-map", tmp_path, found=Zones((), wrong))
    gap = Area(corners=((50.0, 41.0), (50.0, 43.0), (52.0, 41.0)), bounds=("skirt",) * 3)
    asked = {
        "unknown pin": other(pin, drawn=None),
        "gap": other(pin, areas=(area, gap)),
    }.get(spoil, pin)
    failures = 1 if spoil == "failing" else 0
    sha256 = "0" * 64 if spoil == "file" else SHA
    assert compare_map(path, asked, lay_out(pinned), sha256=sha256, failures=failures)


@pytest.mark.parametrize("part", ["face", "plane", "board", "leaf", "lid"])
def test_a_section_that_is_off_on_the_map_is_seen(
    pinned: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, part: str
) -> None:
    """Lines of the map 7 mm off, one kind at a time, all else as it is."""
    right, off = hinge.closed_back, {"board": "back board", "leaf": "hinge leaf", "lid": "lid"}

    def wrong(layout: Layout) -> Any:
        return tuple(
            (name, tuple((x + 7, y + 7) for x, y in corners) if name == off.get(part) else corners)
            for name, corners in right(layout)
        )

    draw = hinge.line

    def shifted(x1: float, y1: float, x2: float, y2: float, *pen: Any) -> Any:
        upright, level = x1 == x2 == 0.0 and part == "face", y1 == y2 == 0.0 and part == "plane"
        dx, dy = (7.0 if upright else 0.0), (7.0 if level else 0.0)
        return draw(x1 + dx, y1 + dy, x2 + dx, y2 + dy, *pen)

    monkeypatch.setattr(hinge, "closed_back", wrong)
    monkeypatch.setattr(hinge, "line", shifted)
    path, _, layout, found = printed(pinned, "hinge-map", tmp_path)
    assert found.pin is not None
    named = {"face": "face that carries", "plane": "plane that the lid"} | off
    assert any(named[part] in each for each in compare_map(path, found.pin, layout, sha256=SHA))


def test_the_section_of_the_back_is_where_the_readings_put_it(pinned: Project) -> None:
    """19.05 of board, 139.7 tall; a leaf of 80 x 2; a lid of 60 that stands 5 over."""
    wanted = {
        "back board": (-19.05, 0, -139.7, 0),
        "hinge leaf": (0, 2, -80, 0),
        "lid": (-533.4 - 5, 5, 0, 60),
    }
    found = {name: (a[0], c[0], a[1], c[1]) for name, (a, _, c, _) in closed_back(lay_out(pinned))}
    assert found == {name: pytest.approx(sides) for name, sides in wanted.items()}


@pytest.mark.parametrize("spoil", ["center", "pin height", "pin word"])
def test_words_about_zones_that_are_wrong_are_seen(
    pinned: Project, tmp_path: Path, spoil: str
) -> None:
    """A figure above the least, a line of the pin off its height, and one for another side."""
    assert pinned.hinge is not None
    near = replace(pinned, hinge=pinned.hinge.model_copy(update={"axis_behind": 8.0}))
    near = replace(near, hinge=near.hinge.model_copy(update={"axis_above": 5.0}))  # type: ignore[union-attr]
    layout = lay_out(near)
    right = zones(near, layout)
    assert right.pin is not None
    side, wrong = "back", right
    if spoil == "center":
        side = "front"
        far = tuple(replace(each, radii=(9.0,) * RAYS) for each in right.halos)
        wrong = Zones(far, right.pin)
    elif spoil == "pin height":
        wrong = Zones(right.halos, replace(right.pin, plane=right.pin.plane - 1.0))
    path, *_ = printed(near, f"board-{side}", tmp_path, found=wrong)
    if spoil == "pin word":
        assert compare_zones(path, layout.board("back"), right) == []
        right = Zones(right.halos, replace(right.pin, drawn=None))
    board = layout.board(side)
    assert set(compare_zones(path, board, right)) - set(gray_faults(path, board, right))


def test_without_a_place_the_map_says_which_keys_give_it(design_a: Make, tmp_path: Path) -> None:
    project = design_a(lid=LID, hinge={"open_to": "90 deg"}, room=ROOM)
    path, pages, layout, found = printed(project, "hinge-map", tmp_path)
    assert found.pin is not None
    assert compare_map(path, found.pin, layout, sha256=SHA) == []
    said = " ".join(words(pages))
    assert "hinge.axis_behind and hinge.axis_above are not in the build file" in said
    assert "collar-hold" in said  # lacks the lid's mass


def test_a_pin_outside_of_the_window_is_told_and_not_drawn(pinned: Project, tmp_path: Path) -> None:
    assert pinned.hinge is not None
    slipped = replace(pinned, hinge=pinned.hinge.model_copy(update={"axis_behind": 2000.0}))
    path, pages, layout, found = printed(slipped, "hinge-map", tmp_path)
    assert found.pin is not None
    assert compare_map(path, found.pin, layout, sha256=SHA) == []
    assert "The pin as drawn is outside of what was looked at" in " ".join(words(pages))
    assert "pin as drawn" not in words(pages)
    assert len(pages) == 1


def test_where_no_place_passes_the_page_says_so(design_a: Make, tmp_path: Path) -> None:
    project = design_a(
        lid=LID, hinge={"open_to": "90 deg"}, room={"behind": "5 mm", "above": "100 mm"}
    )
    path, pages, layout, found = printed(project, "hinge-map", tmp_path)
    assert found.pin is not None
    assert compare_map(path, found.pin, layout, sha256=SHA) == []
    said = " ".join(words(pages))
    assert "No place in this window passes everything." in said
    assert "lid-ceiling, wherever the pin is: the lid meets what is above." in said


def test_the_back_board_shows_how_low_the_pin_may_be(pinned: Project, tmp_path: Path) -> None:
    """20 behind, it may be no lower than 10 above the sealing plane, 149.7 above the lip: off."""
    _, pages, *_ = printed(pinned, "board-back", tmp_path)
    assert not any("hinge pin no" in text for text in words(pages))
    # 8 behind it may be 2 below: 137.7 from the lip, on the board
    assert pinned.hinge is not None
    near = replace(pinned, hinge=pinned.hinge.model_copy(update={"axis_behind": 8.0}))
    path, pages, *_ = printed(near, "board-back", tmp_path, paper="sheet")
    assert "hinge pin no lower than this" in words(pages)
    (page,) = pdf.read(path).pages
    zero = next(text.text for text in page.texts if text.text.startswith("board zero at"))
    y0 = float(zero.split()[4])
    assert any(
        abs(line.y1 - y0 - 137.7) < 0.06 and abs(line.y2 - line.y1) < 1e-6 and line.length > 900
        for line in page.lines
    )


# --- the whole build ------------------------------------------------------------------------------


@pytest.mark.parametrize("example", ["cold-coffee", "kombucha-too-tight"])
def test_a_build_writes_and_tells_them(tmp_path: Path, example: str) -> None:
    file = Path(__file__).parents[2] / "examples" / f"{example}.toml"
    out = tmp_path / "made"
    code = "from collarwright.outputs.start import main; main()"
    subprocess.run(
        [sys.executable, "-c", code, "build", str(file), "--out", str(out), "--only", "templates",
         "--despite-failures"],
        capture_output=True, check=False,
    )  # fmt: skip
    data = json.loads((out / "summary.json").read_text("utf-8"))
    halos = {each["name"]: each for each in data["halos"]}
    assert (out / "templates" / "hinge-map.pdf").exists() == (example == "cold-coffee")
    if example == "cold-coffee":
        assert halos["tap-1"]["capped"]
        assert {"vessels", "tail-room"} <= set(halos["tap-1"]["unknown"])
        assert halos["hinge-1-1"]["bounded_by"] == ["hinge-fit"]
        # pitch 88.9 / 4, half of it to the edge, less 2.5 D of a no. 8 screw
        assert 0.5 < halos["hinge-1-1"]["least_mm"] < 0.8
    else:
        assert halos["tap-1"]["fails"] == ["handle-gap"]
        assert halos["tap-1"]["least_mm"] == 0
