"""A whole build file: what becomes of a good one, and what is said about a bad one."""

import hashlib
import random
import re
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from collarwright.geometry.shape.layout import lay_out
from collarwright.params import supplies
from collarwright.params.problem import BuildFileError, Problem
from collarwright.params.project import Project, Taps
from collarwright.params.reading import Draft, Source, draft, read
from collarwright.params.reading.cross import numbered
from hypothesis import given, settings
from hypothesis import strategies as st

HERE = Path(__file__).resolve()
BAD = sorted((HERE.parents[1] / "bad").glob("*.toml"))
EXAMPLES = sorted((HERE.parents[2] / "examples").glob("*.toml"))

SMALL = """\
[lip]
front = "37 in"
right = "21 in"
back = "37 in"
left = "21 in"

[board]
stock = "board-1x6"

[taps]
count = 3
spacing = "4 in"
bore = "1 in"
"""


def drafted(folder: Path, text: str) -> Draft:
    path = folder / "x.toml"
    path.write_text(text)
    return draft(path)


def good(folder: Path, text: str) -> Project:
    path = folder / "x.toml"
    path.write_text(text)
    return read(path, lay_out)[0]


def refused(folder: Path, text: str) -> list[Problem]:
    path = folder / "x.toml"
    path.write_text(text)
    with pytest.raises(BuildFileError) as caught:
        read(path, lay_out)
    return list(caught.value.problems)


# --- the corpus ---------------------------------------------------------------------------


def test_the_corpus_is_there_and_complete() -> None:
    assert len(BAD) >= 60
    texts = {path.stem for path in (HERE.parents[1] / "bad").glob("*.txt")}
    assert texts == {path.stem for path in BAD}


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_bad_file_is_refused_with_its_message(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each line beside the file begins a line of the message, in that order.

    A line that begins with the file's name is one problem; there are no others.
    """
    monkeypatch.chdir(path.parent)
    with pytest.raises(BuildFileError) as caught:
        read(Path(path.name), lay_out)
    said = str(caught.value).split("\n")
    expected = path.with_suffix(".txt").read_text().rstrip("\n").split("\n")
    heads = [line for line in expected if line.startswith(path.name)]
    assert [line for line in said if line.startswith(path.name)] == [
        next((line for line in said if line.startswith(head)), head) for head in heads
    ]
    rest = iter(said)
    for line in expected:
        assert any(each.startswith(line) for each in rest), line


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_a_problem_names_file_read_and_expected_and_hides_nothing(path: Path) -> None:
    for problem in draft(path).problems:
        assert problem.file == str(path)
        assert problem.read
        assert problem.wanted
        assert len(problem.read) <= 70
        assert re.fullmatch(r"[^\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]*", problem.read)
        if problem.line is not None:
            assert 1 <= problem.line <= len(path.read_bytes().splitlines())


# --- good files ---------------------------------------------------------------------------


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_is_read_without_a_word(path: Path) -> None:
    project, source = read(path, lay_out)
    assert source.file == str(path)
    assert source.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert project.title
    assert draft(path).problems == ()


def test_the_smallest_file_has_the_stated_defaults(tmp_path: Path) -> None:
    project = good(tmp_path, SMALL)
    assert project.lip.front == (pytest.approx(939.8),)
    assert (project.lip.tape, project.lip.land_starts, project.lip.corner_radius) == (1, 0, 0)
    assert (project.title, project.show) == ("", "mm")
    assert (project.board.moisture, project.board.follow, project.board.corner) == (
        12, "square", "glue",
    )  # fmt: skip
    assert [project.board.overhang.on(side) for side in ("front", "back")] == [None, None]
    (row,) = project.taps
    assert (row.side, row.offset, row.height, row.washers) == ("front", 0, None, 0)
    assert project.lid is project.foam is project.well is None
    assert (project.vessel, project.hole) == ((), ())
    assert project.limits.required == {}
    assert dict(project.parts) == {("lumber", "board-1x6"): project.part("lumber", "board-1x6")}
    assert project.part("lumber", None) is None


EVERYTHING = """\
title = 'Everything: 3 taps of "cold" coffee'
show = "in"
[lip]
front = ["37 in", "37 1/16 in"]
right = "21 in"
back = "37 in"
left = "21 in"
front_left_to_back_right = "42 1/2 in"
front_right_to_back_left = ["42 9/16 in"]
land = "2 in"
land_starts = "0 mm"
corner_radius = "1/2 in"
gaps = { front = "1 mm", left = "0 mm" }
tape = "1/32 in"
[board]
stock = "hardwood-s2s-4-4"
thickness = "20 mm"
width = "5 1/2 in"
species = "red-oak"
grain = "quarter"
moisture = "9 %"
overhang = "-1/8 in"
follow = "lip"
corner = "spline"
bracket = "bracket-2x2-in"
glue = "epoxy"
[finish]
kind = "oil"
coats = 3
[seat]
hold = "sealant"
seal = "epdm-d-profile"
[cover]
thickness = "1/2 in"
width = "5 1/4 in"
below_lip = "0 in"
sides = ["front", "left"]
[stock]
kerf = "1/8 in"
trim = "1/2 in"
match_grain = true
[[stock.length]]
length = "6 ft"
price = 9.50
[[stock.length]]
length = "8 ft"
price = 12
[[stock.owned]]
length = "70 in"
defects = [["10 in", "11 1/2 in"], ["0 in", "1 in"]]
[shop]
tilt_max = "47 deg"
cross_cut = "12 in"
cut_depth_tilted = "2 in"
router_bit = "1/4 in"
[[taps]]
count = 2
spacing = "4 in"
offset = "-1 in"
height = "3 in"
names = ["coffee", "water"]
bore = "1 in"
shank = "98 mm"
thread = "7/8 in"
faucet = "faucet-stout-nitrogen"
handle = "handle-short-knob"
wrench = "wrench-hook-pin"
washers = "1/8 in"
washer_diameter = "2 in"
glass = "6 in"
[[taps]]
positions = ["0 in"]
side = "back"
bore = "25 mm"
shank = "shank-4-1-8-in"
[foam]
kind = "xps-type-iv"
thickness = "1 in"
order = "sides"
pocket = "none"
below_top = "1/4 in"
adhesive = "adhesive-lip"
face = "white board"
[foam.sheet]
length = "8 ft"
width = "2 ft"
[manifold]
kind = "manifold-3-outlet"
depth = "2 in"
side = "left"
offset = "1 in"
centre = "3 in"
[lid]
overhang = { front = "1/2 in" }
thickness = "2 in"
skirt = "0 in"
skirt_thickness = "1/4 in"
gasket = "bulb"
gasket_inset = "3/4 in"
gasket_width = "1 in"
plug = "1 in"
plug_inset = "2 in"
mass = "25 lb"
[hinge]
on = "board"
axis_behind = "1 in"
axis_above = "-1/2 in"
positions = ["-12 in", "12 in"]
leaf_height = "4 in"
leaf_width = "2 in"
leaf_thickness = "1/8 in"
fix = "bolt"
backing = "3/4 in"
screw = "wood-screw-no-10"
screw_length = "1 in"
screws = 4
bolt = "6 mm"
bolt_washer = "1 in"
spring = true
open_to = "85 deg"
[room]
behind = "6 in"
above = "5 ft"
lip_height = "34 in"
left = "0 in"
right = "12 in"
door = "30 in"
temperature = "70 degF"
humidity = "60 %"
floor_area = "120 ft2"
ceiling = "8 ft"
altitude = "-10 m"
[well]
front = "2 in"
left = "2 in"
length = "32 in"
width = "16 in"
mouth_length = "33 in"
mouth_width = "17 in"
height = "28 in"
corner_radius = "1 in"
gap = "1/4 in"
step = { side = "right", length = "9 in", height = "10 in" }
[[vessel]]
kind = "keg-sixth-barrel"
count = 2
tap = "coffee"
[[vessel]]
diameter = "6 in"
height = "18 in"
fitting = "0 in"
tap = 3
[[pour]]
tap = "coffee"
drink = "nitrogenated"
name = "cold coffee"
carbonation = "0 vol"
temperature = "38 degF"
gas = "nitrogen"
line = "3/16 in"
[[pour]]
tap = 3
[[hole]]
side = "right"
height = "2 in"
diameter = "1/2 in"
offset = "4 in"
name = "probe"
[[keep_out]]
side = "front"
height = "-2 in"
width = "3 in"
tall = "1 in"
offset = "8 in"
depth = "1 in"
name = "lock"
[limits]
handle-gap = "25 mm"
[built]
front = "37 1/16 in"
right = "21 in"
back = "37 in"
left = "21 in"
front_left_to_back_right = "42 1/2 in"
front_right_to_back_left = "42 1/2 in"
thickness = "19 mm"
width = "139 mm"
foam = "26 mm"
[[built.bore]]
tap = 1
from_left = "10 in"
from_bottom = "3 in"
diameter = "25.5 mm"
"""


def test_every_key_of_the_build_file_is_read(tmp_path: Path) -> None:
    project = good(tmp_path, EVERYTHING)
    assert project.title == 'Everything: 3 taps of "cold" coffee'
    assert project.lip.front == pytest.approx((939.8, 941.3875))
    assert project.lip.tape == pytest.approx(0.79375)
    assert project.lip.gaps is not None
    assert [project.lip.gaps.on(side) for side in ("front", "right", "left")] == [1, None, 0]
    assert project.board.overhang.one
    assert project.board.overhang.back == pytest.approx(-3.175)
    assert project.stock is not None
    assert [stick.price for stick in project.stock.length] == [9.5, 12]
    assert project.stock.owned[0].defects == (pytest.approx((254, 292.1)), (0, 25.4))
    assert [row.shank for row in project.taps] == [98.0, "shank-4-1-8-in"]
    assert project.foam is not None
    assert project.foam.sheet is not None
    assert project.finish is not None
    assert (project.board.glue, project.finish.kind, project.finish.coats) == ("epoxy", "oil", 3)
    assert project.foam.adhesive == "adhesive-lip"
    assert (project.foam.pocket, project.foam.sheet.width) == ("none", pytest.approx(609.6))
    assert project.lid is not None
    assert project.lid.mass == pytest.approx(25 * 0.45359237)
    assert project.hinge is not None
    assert (project.hinge.spring, project.hinge.screws, project.hinge.open_to) == (True, 4, 85)
    assert project.room is not None
    assert project.room.temperature == pytest.approx((70 - 32) / 1.8)
    assert project.room.floor_area == pytest.approx(120 * 0.09290304)
    assert project.room.altitude == -10_000
    assert project.well is not None
    assert project.well.step is not None
    assert project.well.step.side == "right"
    assert [vessel.tap for vessel in project.vessel] == ["coffee", 3]
    assert project.built is not None
    assert project.built.bore[0].diameter == 25.5
    assert sorted(project.parts) == [
        ("brackets", "bracket-2x2-in"),
        ("faucets", "faucet-stout-nitrogen"),
        ("foam", "xps-type-iv"),
        ("handles", "handle-short-knob"),
        ("lumber", "hardwood-s2s-4-4"),
        ("manifolds", "manifold-3-outlet"),
        ("screws", "wood-screw-no-10"),
        ("screws", "wood-screw-no-8"),  # the one that the bracket takes
        ("seals", "epdm-d-profile"),
        ("shanks", "shank-4-1-8-in"),
        ("shanks", "shank-measured"),
        ("species", "red-oak"),
        ("vessels", "keg-sixth-barrel"),
        ("wrenches", "wrench-hook-pin"),
    ]


def test_one_table_of_taps_is_one_row(tmp_path: Path) -> None:
    one = good(tmp_path, SMALL)
    assert good(tmp_path, SMALL.replace("[taps]", "[[taps]]")) == one


def test_a_project_cannot_be_changed(tmp_path: Path) -> None:
    project = good(tmp_path, SMALL)
    with pytest.raises(AttributeError):
        project.title = "other"  # type: ignore[misc]
    with pytest.raises(ValueError, match="frozen"):
        project.lip.tape = 2.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        project.parts["a", "b"] = None  # type: ignore[index]


# --- lines --------------------------------------------------------------------------------


def test_a_problem_is_placed_at_its_key_or_the_table_above() -> None:
    source = Source("x.toml", "", {"taps": 3, "taps[2]": 9, "taps[2].height": 11})
    for key, line in {
        "taps[2].height": 11,
        "taps[2].bore": 9,
        "taps[2].names[1]": 9,
        "taps.bore": 3,
        "lip.front": None,
        "": None,
    }.items():
        assert source.line(key) == line
    placed = source.place(Problem(key="taps.bore", read="x", wanted="y"))
    assert (placed.file, placed.line) == ("x.toml", 3)
    elsewhere = Problem(key="taps.bore", read="x", wanted="y", file="foam.csv", line=2)
    assert source.place(elsewhere) is elsewhere


def test_problems_come_in_the_order_of_the_lines(tmp_path: Path) -> None:
    text = "[foam]\nthickness = 1\n" + SMALL.replace('"1 in"', "1") + "[lid]\nmass = 3\n[hinge]\n"
    lines = [problem.line for problem in refused(tmp_path, text)]
    assert lines == [2, 15, 17]


# --- one round shows everything -----------------------------------------------------------


def test_a_fault_elsewhere_does_not_hide_what_cannot_be_laid_out(tmp_path: Path) -> None:
    text = SMALL.replace("count = 3", "count = 10") + "[foam]\nthickness = 25\n"
    assert [each.key for each in refused(tmp_path, text)] == ["taps.spacing", "foam.thickness"]


@pytest.mark.parametrize(
    ("old", "new", "keys"),
    [
        # the faulty key is told, and nothing that may only follow from it
        ('spacing = "4 in"', "spacing = 4", ["taps.spacing"]),
        ("count = 3", 'count = "10"', ["taps.count"]),
        ("count = 3", 'count = 10\noffset = "1"', ["taps.offset"]),
        ("count = 3", 'count = 10\nofset = "1 in"', ["taps.ofset"]),
        ("count = 3\n", "positions = [3]\n", ["taps.positions[1]"]),
        ("count = 3\n", 'positions = [3]\noffset = "30 in"\n', ["taps.positions[1]"]),
        ("[board]", "[board]\n[lip]\n[board]", ["lip", "board"]),
        ('right = "21 in"', '[seat]\n[lip]\nright = "21 in"', ["lip"]),
        ('stock = "board-1x6"', 'stock = "board-1x66"', ["board.stock"]),
        ('"board-1x6"', '"board-1x6"\noverhang = 9', ["board.overhang"]),
        ('back = "37 in"', 'back = "36 in"\ntape = 20', ["lip.tape"]),
        ('back = "37 in"', 'back = "36 in"\nfront_left_to_back_right = 42', None),
        ("[lip]", "[lipp]", ["lipp"]),
        ("[taps]", "[tap]", ["tap"]),
        ('bore = "1 in"', "bore = 1\nnames = ['a', 'a']", ["taps.bore"]),
    ],
)
def test_what_follows_from_a_fault_is_not_told_as_well(
    tmp_path: Path, old: str, new: str, keys: list[str] | None
) -> None:
    text = SMALL.replace(old, new)
    assert text != SMALL
    said = [each.key for each in refused(tmp_path, text)]
    assert said == (keys or ["lip.front_left_to_back_right"])


def test_half_a_manifold_does_not_hide_taps_beyond_the_board(tmp_path: Path) -> None:
    text = SMALL.replace("count = 3", "count = 10") + '[manifold]\nlength = "8 in"\n'
    said = [each.key for each in refused(tmp_path, text)]
    assert said == ["taps.spacing", "manifold.height", "manifold.depth"]
    found = drafted(tmp_path, text)
    assert found.project is not None
    assert found.project.manifold is None


def test_more_taps_than_four_sides_have_room_for(tmp_path: Path) -> None:
    taps = '[[taps]]\ncount = 15\nspacing = "1/2 in"\nbore = "1/4 in"\nside = "front"\n'
    text = SMALL.partition("[taps]")[0]
    assert len(good(tmp_path, text + 4 * taps).taps) == 4
    (problem,) = refused(tmp_path, text + 5 * taps)
    assert (problem.key, problem.read) == ("taps[1].count", "75 taps")


def test_a_draft_is_as_much_as_can_be_used(tmp_path: Path) -> None:
    text = SMALL + 'height = 3\n[lid]\nmass = 3\nthickness = "2 in"\n[foam]\nkind = "x"\n'
    found = drafted(tmp_path, text)
    assert found.project is not None
    assert found.project.lid is not None
    assert (found.project.lid.mass, found.project.lid.thickness) == (None, 50.8)
    assert (found.project.taps[0].height, found.project.taps[0].count) == (None, 3)
    assert found.project.foam is not None
    assert found.project.foam.kind is None
    assert {"taps.height", "lid.mass", "foam.kind"} <= found.dropped
    assert len(found.problems) == 3


def test_a_row_that_cannot_be_used_takes_its_table_out(tmp_path: Path) -> None:
    found = drafted(tmp_path, SMALL + "[[hole]]\nside = 'front'\n[[vessel]]\ntap = 'b'\n")
    assert found.project is not None
    assert found.project.hole == ()
    assert "hole" in found.dropped
    text = SMALL.replace("[taps]", "[[taps]]") + "[[taps]]\ncount = 1\n[[taps]]\nbore = 1\n"
    found = drafted(tmp_path, text)
    assert found.project is not None
    assert found.project.taps == ()
    assert [each.key for each in found.problems] == ["taps[2].bore", "taps[3].bore"]


@pytest.mark.parametrize("name", ["lip", "board"])
def test_there_is_no_project_without_lip_or_board(tmp_path: Path, name: str) -> None:
    found = drafted(tmp_path, re.sub(rf"\[{name}\]\n[^\[]*", "", SMALL))
    assert found.project is None
    assert [each.key for each in found.problems] == [name]


def test_another_judge_is_asked_about_what_can_be_used(tmp_path: Path) -> None:
    asked: list[Project] = []

    def object_to(*keys: str) -> Callable[[Project], None]:
        def judge(project: Project) -> None:
            asked.append(project)
            raise BuildFileError([Problem(key=key, read="x", wanted="y") for key in keys])

        return judge

    path = tmp_path / "x.toml"
    path.write_text(SMALL + "[lid]\nmass = 3\n")
    with pytest.raises(BuildFileError) as caught:
        read(path, object_to("lid.mass", "lid.thickness", "foam", "taps.bore"))
    assert len(asked) == 1
    said = [(each.key, each.line) for each in caught.value.problems]
    assert said == [("taps.bore", 13), ("lid.thickness", 14), ("lid.mass", 15), ("foam", None)]


def test_a_fault_of_the_judge_itself_does_not_hide_the_problems(tmp_path: Path) -> None:
    def broken(project: Project) -> None:
        raise ZeroDivisionError

    path = tmp_path / "x.toml"
    path.write_text(SMALL + "[lid]\nmass = 3\n")
    with pytest.raises(BuildFileError, match=r"lid\.mass"):
        read(path, broken)
    path.write_text(SMALL)
    with pytest.raises(ZeroDivisionError):
        read(path, broken)


# --- catalogues beside the file -----------------------------------------------------------


def test_a_catalogue_beside_the_file_adds_and_replaces(tmp_path: Path) -> None:
    (tmp_path / "lumber.csv").write_text(
        "id,thickness_mm,width_mm,system\nmy-board,21,150,metric\nboard-1x6,19.4,139,\n"
    )
    project = good(tmp_path, SMALL)
    assert project.part("lumber", "board-1x6").value("thickness") == 19.4  # type: ignore[union-attr]
    project = good(tmp_path, SMALL.replace("board-1x6", "my-board"))
    assert project.part("lumber", "my-board").value("width") == 150  # type: ignore[union-attr]


def test_supplies_come_with_the_project_whether_they_are_named_or_not(tmp_path: Path) -> None:
    (tmp_path / "glues.csv").write_text(
        "id,name,spread_g_m2,density_kg_m3,open_time_min,clamp_time_min,full_cure_h,"
        "least_temperature_degc,water\n"
        "my-glue,fish glue,160,1050,20,240,24,18,dry\npva-waterproof,,210,,,,,,\n"
    )
    project = good(tmp_path, SMALL)
    assert supplies.glue(project).value("spread") == 210
    assert supplies.glue(project).value("sizing_coat") == 150  # as built in
    assert (supplies.finish(project).id, supplies.coats(project)) == ("spar-varnish", 4)
    assert supplies.foam_adhesive(project) is supplies.lip_adhesive(project) is None
    more = '[board]\nglue = "my-glue"\n'
    text = SMALL.replace("[board]\n", more) + '[finish]\ncoats = 2\n[seat]\nhold = "adhesive"\n'
    project = good(tmp_path, text)
    assert supplies.glue(project).name == "fish glue"
    assert supplies.coats(project) == 2
    lip = supplies.lip_adhesive(project)
    assert lip is not None
    assert lip.id == "adhesive-lip"
    # what no check asks for is no part that may be off
    assert {name for name, _ in project.parts} == {"lumber"}


def test_problems_of_a_catalogue_beside_the_file_join_the_others(tmp_path: Path) -> None:
    (tmp_path / "shanks.csv").write_text("id,lenght_mm\nmine,98\n")
    (tmp_path / "foam.csv").write_text("id,thickness_mm\nxps-type-iv-1-in,1 in\n")
    text = SMALL + 'shank = "mine"\nheight = 3\n[foam]\nkind = "qqqq"\n'
    said = [(Path(each.file).name, each.line, each.key) for each in refused(tmp_path, text)]
    assert said == [
        ("x.toml", 15, "taps.height"),
        ("foam.csv", 2, "thickness_mm"),
        ("shanks.csv", 1, "lenght_mm"),
    ]


def test_a_catalogue_that_nothing_asks_for_is_read_too(tmp_path: Path) -> None:
    (tmp_path / "seals.csv").write_bytes(b"\xff")
    (problem,) = refused(tmp_path, SMALL)
    assert Path(problem.file).name == "seals.csv"


def test_a_shank_of_ones_own_needs_its_lengths(tmp_path: Path) -> None:
    from collarwright.params.catalogue import load

    row = load("shanks")["shank-measured"]
    names = [name for name in row.figures if name not in {"length", "thread_length"}]
    units = {"ring_holes": "count"}
    head = ",".join(["id", *(f"{name}_{units.get(name, 'mm')}" for name in names)])
    cells = ",".join(["mine", *(f"{row.value(name):g}" for name in names)])
    (tmp_path / "shanks.csv").write_text(f"{head},length_mm\n{cells},98\n")
    (problem,) = refused(tmp_path, SMALL + 'shank = "mine"\n')
    assert (problem.key, problem.example) == ("taps.shank", 'shank = "98 mm"')
    assert problem.wanted.endswith("that row has no thread_length")
    (tmp_path / "shanks.csv").write_text(f"{head},length_mm,thread_length_mm\n{cells},98,96\n")
    assert good(tmp_path, SMALL + 'shank = "mine"\n').part("shanks", "mine") is not None


def test_a_bracket_of_ones_own_names_a_screw_that_there_is(tmp_path: Path) -> None:
    (tmp_path / "brackets.csv").write_text("id,screw\nbracket-2x2-in,wood-screw-no-99\n")
    text = SMALL.replace("[taps]", 'bracket = "bracket-2x2-in"\n[taps]')
    (problem,) = refused(tmp_path, text)
    assert problem.key == "board.bracket"
    assert "wood-screw-no-99" in problem.wanted


def test_a_finish_of_ones_own_names_a_primer_that_there_is(tmp_path: Path) -> None:
    text = SMALL + '[finish]\nkind = "paint-exterior"\n'
    primer = supplies.primer(good(tmp_path, text))
    assert primer is not None and primer.id == "primer-exterior"
    assert supplies.primer(good(tmp_path, SMALL)) is None  # varnish wants none
    (tmp_path / "finishes.csv").write_text("id,primer\npaint-exterior,red-lead\n")
    (problem,) = refused(tmp_path, text)
    assert problem.key == "finish.kind"
    assert "names red-lead" in problem.wanted


def test_a_primer_is_no_finish_by_itself(tmp_path: Path) -> None:
    text = SMALL + '[finish]\nkind = "{}"\n'
    (problem,) = refused(tmp_path, text.format("primer-exterior"))
    assert (problem.key, problem.example) == ("finish.kind", 'kind = "paint-exterior"')
    # a sealer stands by itself, also where somebody puts it under a varnish
    (tmp_path / "finishes.csv").write_text("id,primer\nspar-varnish,epoxy-sealer\noil,oil\n")
    for kind in ("epoxy-sealer", "spar-varnish"):
        assert supplies.finish(good(tmp_path, text.format(kind))).id == kind
    (problem,) = refused(tmp_path, text.format("oil"))
    assert "another row than itself" in problem.wanted


# --- numbers of taps ----------------------------------------------------------------------


def row(side: str, height: float | None, *names: str, at: tuple[float, ...] = ()) -> Taps:
    values: dict[str, object] = {"side": side, "bore": "1 in", "names": names}
    if height is not None:
        values["height"] = f"{height} mm"
    if at:
        values["positions"] = tuple(f"{each} mm" for each in at)
    else:
        values |= {"count": len(names), "spacing": "100 mm"}
    return Taps.model_validate(values)


def test_taps_are_numbered_by_side_then_row_then_from_the_left() -> None:
    rows = (
        row("back", None, "i", "j"),
        row("front", None, "c", "d"),  # at half of 140 mm
        row("front", 40, "b", "a", at=(200, -200)),
        row("left", 30, "k"),
        row("right", 90, "g", "h"),
        row("right", 50, "e", "f"),
    )
    assert "".join(numbered(rows, 140).values()) == "abcdefghijk"
    assert list(numbered(rows, 140)) == list(range(1, 12))


def test_the_layout_numbers_taps_the_same_way(tmp_path: Path) -> None:
    project = good(tmp_path, EVERYTHING)
    by_layout = {tap.number: tap.name for tap in lay_out(project).taps}
    ours = numbered(project.taps, project.board.width)
    assert {number: name or f"tap {number}" for number, name in ours.items()} == by_layout


# --- nothing but problems, whatever is written --------------------------------------------


def only_problems(raw: bytes) -> None:
    """Whatever is in a file, it is read or refused; a refusal says where and what."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.toml"
        path.write_bytes(raw)
        with suppress(BuildFileError):
            read(path, lay_out)
        for problem in draft(path).problems:
            assert problem.read
            assert problem.wanted
            assert str(problem).startswith(str(path))


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_bring_anything_but_problems(raw: bytes) -> None:
    only_problems(raw)


@settings(max_examples=100, deadline=None)
@given(st.text(alphabet="[]{}=.,\"'#\n abc37/-_:\\\r\t½″éinm", max_size=120))
def test_no_text_brings_anything_but_problems(text: str) -> None:
    only_problems(text.encode())


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 2**32), st.integers(1, 4))
def test_no_slip_of_the_keyboard_brings_anything_but_problems(seed: int, slips: int) -> None:
    dice = random.Random(seed)
    text = list(EVERYTHING)
    for _ in range(slips):
        at = dice.randrange(len(text))
        length = dice.choice([0, 1, 1, 2, 9])
        text[at : at + length] = dice.choice(["", '"', "]", "[", "=", "\n", "{", ",", "7", " in"])
    only_problems("".join(text).encode())


VALUES = st.recursive(
    st.sampled_from(
        ['"1 in"', '"-3 mm"', '"x"', '""', "3", "-1", "4.5", "true", "inf", "2024-01-01", '"9 kg"',
         '"front"', '"none"', '"board-1x6"', "1e400", '"lid"', '"38 degF"', "0xffffffffffff"]
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4).map(lambda some: f"[{', '.join(some)}]"),
        st.dictionaries(
            st.sampled_from(["front", "back", "count", "one", "length", "tap", "x y"]), inner,
            max_size=3,
        ).map(lambda some: "{" + ", ".join(f'"{k}" = {v}' for k, v in some.items()) + "}"),
    ),
    max_leaves=6,
)  # fmt: skip
LINES = [line.partition(" = ")[0] for line in EVERYTHING.split("\n") if " = " in line]


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.integers(0, len(LINES) - 1), VALUES), min_size=1, max_size=4))
def test_no_value_of_a_key_brings_anything_but_problems(changes: list[tuple[int, str]]) -> None:
    lines = EVERYTHING.split("\n")
    places = [place for place, line in enumerate(lines) if " = " in line]
    for which, value in changes:
        lines[places[which]] = f"{LINES[which]} = {value}"
    only_problems("\n".join(lines).encode())


@pytest.mark.parametrize(
    ("text", "most"),
    [
        ("".join(f"k{i} = 1\n" for i in range(3000)), 70),
        ("[shop]\n" + "".join(f"k{i} = 1\n" for i in range(3000)), 70),
        ("[limits]\n" + "".join(f"k{i} = 1\n" for i in range(3000)), 70),
        ("".join(f"[k{i}]\n" for i in range(3000)), 70),
        ("a = 1\n" * 3000, 210),
        ("[[vessel]]\nkind = 'x'\n" * 3000, 5),
        ("[taps]\npositions = [" + "1,\n" * 3000 + "]\n", 70),
        ("".join(f"a{i} = 3 in\n" for i in range(3000)), 210),
        ("a = " + "{b=" * 400 + "1" + "}" * 400 + "\n", 5),
        ("a" + ".b" * 3000 + " = 1\n", 5),
    ],
)
def test_a_file_without_end_gives_a_message_that_has_one(
    tmp_path: Path, text: str, most: int
) -> None:
    assert 0 < len(refused(tmp_path, text)) <= most


def test_the_largest_file_is_a_quarter_of_a_mebibyte(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    path.write_text(f"{SMALL}#\n".ljust(1 << 18, "\n"))
    assert path.stat().st_size == 1 << 18
    assert read(path)[0].lip
    path.write_text(path.read_text() + "\n")
    with pytest.raises(BuildFileError, match="read more than 256 KiB"):
        read(path)
