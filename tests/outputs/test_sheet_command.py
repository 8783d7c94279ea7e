"""The measuring sheet: what it asks, where its arrows end, and how it comes to its place."""

import importlib
import math
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs import measuring
from collarwright.outputs.cli import app
from collarwright.outputs.measuring import about, inside, lid, readback, rim
from collarwright.outputs.measuring.callout import Picture
from collarwright.outputs.measuring.freezer import FREEZER
from collarwright.outputs.measuring.readings import numbers, parts, still_open
from collarwright.outputs.measuring.rows import broken
from collarwright.outputs.paper.marks import Page, Ring, Words
from collarwright.outputs.paper.marks import Path as Stroke
from collarwright.outputs.paper.overlap import meetings
from collarwright.outputs.paper.sizes import PAPERS
from collarwright.outputs.readback import pdf
from collarwright.params.reading.keys import every
from collarwright.params.starter import BY_KEY
from typer.testing import CliRunner, Result

pages_of = importlib.import_module("collarwright.outputs.measuring.pages")

SIZES = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""ASME Y14.1 and ISO 216, mm."""

BOTH = [("letter", "in"), ("a4", "mm")]


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, ["sheet", *(str(word) for word in words)])


@pytest.fixture(scope="module", params=BOTH, ids=lambda each: each[0])
def laid(request: pytest.FixtureRequest) -> list[Page]:
    paper, show = request.param
    return pages_of.pages(PAPERS[paper], show)


# --- the command ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "paper", "unit"),
    [
        ([], "letter", "in"),
        (["--paper", "a4"], "a4", "mm"),
        (["--show", "mm"], "a4", "mm"),
        (["--show", "in"], "letter", "in"),
        (["--paper", "letter", "--show", "mm"], "letter", "mm"),
        (["--paper", "a4", "--show", "in"], "a4", "in"),
    ],
)
def test_paper_and_unit_follow_each_other(
    tmp_path: Path, options: list[str], paper: str, unit: str
) -> None:
    file = tmp_path / "sheet.pdf"
    result = run(file, *options)
    assert result.exit_code == 0, result.output
    document = pdf.read(file)
    assert 2 <= len(document.pages) <= 4
    assert f"{len(document.pages)} pages, {paper}" in result.output
    for page in document.pages:
        assert (page.width, page.height) == pytest.approx(SIZES[paper], abs=0.01)
    assert document.missing_fonts == ()
    said = [text.text for page in document.pages for text in page.texts]
    assert said.count(unit) > 50
    assert said.count({"in": "mm", "mm": "in"}[unit]) == 0
    assert ("lb" in said, "kg" in said) == (unit == "in", unit == "mm")


def test_without_a_name_it_is_measuring_sheet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run().exit_code == 0
    assert [each.name for each in tmp_path.iterdir()] == ["measuring-sheet.pdf"]


def test_nothing_is_overwritten_unless_asked_for(tmp_path: Path) -> None:
    file = tmp_path / "sheet.pdf"
    file.write_text("mine")
    result = run(file)
    assert result.exit_code == 2
    assert "--overwrite" in result.output
    assert file.read_text() == "mine"
    assert run(file, "--overwrite").exit_code == 0
    assert file.read_bytes().startswith(b"%PDF")


def test_new_asks_for_all_that_the_sheet_asks_for_but_flange_and_nut() -> None:
    asked = {re.sub(r"\[\d\]", "", key) for key in BY_KEY}
    assert set(numbers()) - asked == {"flange", "nut"}


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("no/such/sheet.pdf", "a folder that is not there"),
        ("sheet.toml", "does not end in .pdf"),
        ("folder.pdf", "a folder, or no plain file"),
        ("dangling.pdf", "a link that leads to no file"),
    ],
)
def test_where_it_cannot_be_written(tmp_path: Path, name: str, said: str) -> None:
    (tmp_path / "folder.pdf").mkdir()
    (tmp_path / "dangling.pdf").symlink_to("nowhere.pdf")
    before = sorted(tmp_path.iterdir())
    result = run(tmp_path / name, "--overwrite")
    assert result.exit_code == 2
    assert said in " ".join(result.output.split())
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize("option", [("--paper", "a3"), ("--show", "cm")])
def test_other_choices_are_refused(tmp_path: Path, option: tuple[str, str]) -> None:
    result = run(tmp_path / "x.pdf", *option)
    assert result.exit_code == 2
    assert option[0] in result.output
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_that_does_not_read_back_right_is_not_handed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "sheet.pdf"
    file.write_text("mine")
    monkeypatch.setattr(measuring, "PAPERS", {**PAPERS, "letter": PAPERS["a4"]})
    monkeypatch.setattr(measuring, "pages", lambda paper, show: pages_of.pages(
        PAPERS["letter"], show))  # fmt: skip
    with pytest.raises(measuring.ReadBackError, match=r"sheet\.pdf: page 1: is 215.90 x 279.40"):
        measuring.write(file, "letter", "in")
    assert file.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [file]


def test_a_full_disk_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "sheet.pdf"
    file.write_text("mine")

    def full(pages: object, path: Path, *rest: str) -> None:
        path.write_bytes(b"%PDF half of it")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(measuring, "write_pdf", full)
    with pytest.raises(OSError, match="No space"):
        measuring.write(file, "letter", "in")
    assert file.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [file]


def test_the_same_bytes_every_time(tmp_path: Path) -> None:
    for name, epoch in (("a.pdf", "0"), ("b.pdf", "1700000000")):
        done = subprocess.run(
            [sys.executable, "-m", "collarwright.outputs", "sheet", str(tmp_path / name)],
            env={**os.environ, "SOURCE_DATE_EPOCH": epoch, "PYTHONHASHSEED": epoch[:5]},
            capture_output=True, check=False, timeout=120,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_no_cad_kernel_is_loaded(tmp_path: Path) -> None:
    code = (
        "import sys; from collarwright.outputs import measuring; from pathlib import Path;"
        f"measuring.write(Path({str(tmp_path / 'x.pdf')!r}), 'a4', 'mm');"
        "print([m for m in ('OCP', 'cadquery', 'vtk', 'ezdxf', 'trimesh') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=120
    )
    assert done.stdout == "[]\n"


# --- what it asks ---------------------------------------------------------------------------------

CHOSEN = re.compile(
    r"lip\.tape|board\.(moisture|overhang)|seat\.|cover\.|cap\.|stock\.|shop\.(router_bit|ring_\w+)"
    r"|taps\.(spacing|offset|positions|height)|foam\.(pocket|below_top|sheet)|manifold\."
    r"|hinge\.(backing|screw_length|bolt|bolt_washer)|well\.gap|pour\.|hole\.|tray\."
    r"|keep_out\.|built\."
)
"""Keys that a builder chooses, that a seller's figures give, or that are read when it is built."""


def test_every_reading_of_the_build_file_is_asked_for() -> None:
    asked = {each.key for part in parts("in") for each in part.readings}
    lengths = {key.path for key in every().values() if key.kind is not None}
    assert lengths
    assert {key for key in lengths - asked if not CHOSEN.match(key)} == set()
    assert {key for key in asked if CHOSEN.match(key)} == set()
    assert asked - {"flange", "nut"} <= {key.path for key in every().values()}


def test_what_is_needed_says_so_and_nothing_else() -> None:
    needed = {each.key for part in parts("mm") for each in part.readings if each.needed}
    assert needed == {"lip.front", "lip.right", "lip.back", "lip.left", "taps.bore"}


@pytest.mark.parametrize(
    ("check", "keys"),
    [
        ("gasket-seat", ["lid.overhang", "lid.gasket_inset", "lid.gasket_width"]),
        ("lip-flat", ["lip.gaps"]),
        ("saw", ["shop.tilt_max", "shop.cross_cut", "shop.cut_depth_tilted"]),
        ("screw-length", ["hinge.leaf_thickness"]),
        ("plug", ["lid.overhang", "lid.plug", "lid.plug_inset"]),
    ],
)
def test_it_tells_which_check_stays_open_without_which_readings(
    laid: list[Page], check: str, keys: list[str]
) -> None:
    known = numbers()
    figures = ", ".join(str(known[key]) for key in keys)
    said = " ".join(mark.text for mark in laid[-1].marks if isinstance(mark, Words))
    assert re.search(rf"(^| ){figures}: [^()]*\({check}\)", said), said


def test_every_check_that_waits_for_a_reading_is_told_once() -> None:
    checks = [check for each in still_open() for check in each.check.split(", ")]
    assert len(checks) == len(set(checks))
    assert {"lid-wall", "lid-ceiling", "skirt", "head-room", "shank-grip"} <= set(checks)
    assert all(each.asks.endswith("?") for each in still_open())


def test_cautions_come_first(laid: list[Page]) -> None:
    said = " ".join(mark.text for mark in laid[0].marks if isinstance(mark, Words))
    for word in ("Unplug", "Never drill", "Two people", "sprung", "children", "not complete"):
        assert word in said
    assert said.index("Unplug") < said.index("lip.front")
    assert "safe" not in said


def test_lines_are_short_and_letters_large_enough(laid: list[Page]) -> None:
    for page in laid:
        for mark in page.marks:
            if isinstance(mark, Words):
                assert len(mark.text) <= 80
                assert mark.size >= 8 * 25.4 / 72


def test_a_text_is_broken_at_blanks_and_loses_nothing() -> None:
    text = "From the lid's outer edge in to the middle of its gasket, square to the edge."
    lines = broken(text, [30.0, 60.0])
    assert " ".join(lines) == text
    assert len(lines) > 2
    assert len(lines[0]) < len(lines[1])


# --- how it looks ---------------------------------------------------------------------------------


def balloons(page: Page) -> list[tuple[Ring, str]]:
    """Return every ring of a number with the number in it."""
    rings = [mark for mark in page.marks if isinstance(mark, Ring) and mark.diameter == 5.4]
    texts = [mark for mark in page.marks if isinstance(mark, Words) and mark.text.isdigit()]
    return [
        (ring, next(t.text for t in texts if math.dist((t.x, t.y + 1), (ring.x, ring.y)) < 0.3))
        for ring in rings
    ]


def test_no_text_stands_over_a_line_or_a_text(laid: list[Page]) -> None:
    assert [(i, each) for i, page in enumerate(laid, 1) for each in meetings(page.marks)] == []


def test_a_number_stands_in_its_picture_and_at_its_box(laid: list[Page]) -> None:
    for page in laid:
        found = balloons(page)
        told = [number for _, number in found]
        assert all(told.count(number) == 2 for number in told)
        for i, (one, _) in enumerate(found):
            for other, _ in found[i + 1 :]:
                assert math.dist((one.x, one.y), (other.x, other.y)) > 5.4
    known = {str(number): key for key, number in numbers().items()}
    ringed = {known[number] for page in laid for _, number in balloons(page)}
    assert ringed == {r.key for part in parts("in") for r in part.readings if r.pictured}


def test_arrows_are_not_covered_by_numbers(laid: list[Page]) -> None:
    for page in laid:
        tips = [m.start for m in page.marks if isinstance(m, Stroke) and m.fill == 0.0
                and len(m.steps) == 2]  # fmt: skip
        assert all(math.dist(tip, (ring.x, ring.y)) > 2.7 for tip in tips
                   for ring, _ in balloons(page))  # fmt: skip


def test_everything_is_where_a_printer_reaches(laid: list[Page]) -> None:
    for page in laid:
        for mark in page.marks:
            if isinstance(mark, Stroke):
                ends = [mark.start, *(point for step in mark.steps for point in step)]
                assert all(10 <= x <= page.width - 10 for x, _ in ends)
                assert all(10 <= y <= page.height - 10 for _, y in ends)


F = FREEZER
HELD: dict[str, tuple[Callable[[Any], Picture], float, float]] = {
    # picture, its scale, and what the freezer measures there, mm
    "lip.front": (rim.lip_picture, rim.SCALE, F.lip_length),
    "lip.back": (rim.lip_picture, rim.SCALE, F.lip_length),
    "lip.left": (rim.lip_picture, rim.SCALE, F.lip_width),
    "lip.right": (rim.lip_picture, rim.SCALE, F.lip_width),
    "lip.front_left_to_back_right": (
        rim.lip_picture, rim.SCALE, math.hypot(F.lip_length, F.lip_width)),
    "lip.front_right_to_back_left": (
        rim.lip_picture, rim.SCALE, math.hypot(F.lip_length, F.lip_width)),
    "lid.overhang": (lid.lid_picture, lid.SCALE, F.lid_overhang),
    "lid.thickness": (lid.lid_picture, lid.SCALE, F.lid_thickness),
    "lid.skirt": (lid.lid_picture, lid.SCALE, F.skirt),
    "lid.skirt_thickness": (lid.lid_picture, lid.SCALE, F.skirt_thickness),
    "lid.gasket_inset": (lid.lid_picture, lid.SCALE, F.gasket_inset),
    "lid.gasket_width": (lid.lid_picture, lid.SCALE, F.gasket_width),
    "lid.plug": (lid.lid_picture, lid.SCALE, F.plug),
    "lid.plug_inset": (lid.lid_picture, lid.SCALE, F.plug_inset),
    "hinge.axis_behind": (lid.lid_picture, 0.42, F.axis_behind),
    "hinge.axis_above": (lid.lid_picture, 0.42, F.axis_below),
    "hinge.leaf_height": (lid.lid_picture, 0.42, F.leaf_height),
    "hinge.leaf_thickness": (lid.lid_picture, 0.42, F.leaf_thickness),
    "well.width": (inside.well_picture, inside.SCALE, F.floor_width),
    "well.mouth_width": (inside.well_picture, inside.SCALE, F.mouth_width),
    "well.front": (inside.well_picture, inside.SCALE, (F.lip_width - F.mouth_width) / 2),
    "well.left": (inside.well_picture, inside.SCALE, (F.lip_length - F.mouth_length) / 2),
    "well.mouth_length": (inside.well_picture, 0.066, F.mouth_length),
    "well.height": (inside.well_picture, 0.066, F.well_height),
    "well.step.height": (inside.well_picture, 0.066, F.step_height),
    "vessel.diameter": (inside.well_picture, 0.066, F.vessel_diameter),
    "vessel.height": (inside.well_picture, 0.066, F.vessel_height),
    "vessel.fitting": (inside.well_picture, 0.066, F.vessel_fitting),
    "room.lip_height": (about.room_picture, 0.032, F.lip_height),
}  # fmt: skip


@pytest.mark.parametrize("key", sorted(HELD))
def test_the_tape_is_held_over_what_it_is_to_measure(
    key: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The arrows' tips are as far apart as the freezer is large there, at the picture's scale."""
    draw, scale, true = HELD[key]
    tips: dict[str, list[tuple[float, float]]] = {}
    plain = Picture.hold

    def hold(self: Picture, key: str, *args: Any, **more: Any) -> None:
        before = len(self.drawn)
        plain(self, key, *args, **more)
        tips[key] = [m.start for m in self.drawn[before:] if isinstance(m, Stroke)
                     and m.fill == 0.0]  # fmt: skip

    monkeypatch.setattr(Picture, "hold", hold)
    draw(numbers())
    one, other = tips[key]
    assert math.dist(one, other) == pytest.approx(true * scale, abs=1e-6)


# --- read back ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("sheet") / "sheet.pdf"
    measuring.write(file, "a4", "mm")
    return file


def spoilt(file: Path, target: Path, change: Callable[[Any], None]) -> Path:
    pypdf = importlib.import_module("pypdf")
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(file))
    change(writer)
    writer.write(target)
    return target


def smaller(writer: Any) -> None:
    scale = importlib.import_module("pypdf").Transformation().scale(0.97)
    for page in writer.pages:
        page.add_transformation(scale)


def shifted(writer: Any) -> None:
    move = importlib.import_module("pypdf").Transformation().translate(-6, 0)
    writer.pages[1].add_transformation(move)


def without_font(writer: Any) -> None:
    for font in writer.pages[0]["/Resources"]["/Font"].values():
        del font.get_object()["/FontDescriptor"]["/FontFile2"]


def without_a_page(writer: Any) -> None:
    writer.remove_page(0)


def lower(writer: Any) -> None:
    writer.pages[2].mediabox.top = float(writer.pages[2].mediabox.top) - 10


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (smaller, "a text that is too small"),
        (shifted, "page 2: is drawn on beyond what a printer reaches"),
        (without_font, "DejaVuSans is not in the file"),
        (without_a_page, "does not ask for lip.front"),
        (without_a_page, "has 3 pages, not 4"),
        (lower, "page 3: is 210.00 x 293.47 mm, not a4"),
    ],
)
def test_a_spoilt_sheet_does_not_read_back_right(
    written: Path, tmp_path: Path, change: Callable[[Any], None], said: str
) -> None:
    assert readback.faults(written, PAPERS["a4"], "mm", 4) == []
    found = readback.faults(spoilt(written, tmp_path / "x.pdf", change), PAPERS["a4"], "mm", 4)
    assert said in "\n".join(found)


def test_half_a_file_does_not_read_back(written: Path, tmp_path: Path) -> None:
    half = tmp_path / "half.pdf"
    half.write_bytes(written.read_bytes()[:20000])
    assert readback.faults(half, PAPERS["a4"], "mm", 4)
