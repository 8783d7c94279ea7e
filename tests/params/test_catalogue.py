"""The catalogues: what the built-in files must hold, and what a row can be asked."""

import math
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from collarwright.params import catalogue
from collarwright.params.catalogue import NAMES, SCHEMAS, CatalogueError, Figure, Row, load
from collarwright.params.catalogue.csv_file import read_rows

INCH = 25.4


def every_figure() -> Iterator[tuple[Row, str, Figure]]:
    for name in NAMES:
        for row in load(name).values():
            for figure_name, figure in row.figures.items():
                yield row, figure_name, figure


# --- the built-in files -------------------------------------------------------------------


def test_importing_the_catalogues_reads_no_table_and_loads_no_library() -> None:
    code = (
        "import sys; opened = []\n"
        "sys.addaudithook(lambda event, a: opened.append(str(a[0])) if event == 'open' else 0)\n"
        "from collarwright.params import catalogue\n"
        "read = sum(name.endswith('.csv') for name in opened)\n"
        "catalogue.load('seals'); catalogue.load('seals')\n"
        "print(read, sum(name.endswith('.csv') for name in opened))\n"
        "print([name for name in ('difflib', 'pint', 'numpy') if name in sys.modules])\n"
    )
    seen = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert seen.stdout.split("\n")[:2] == ["0 1", "[]"]


@pytest.mark.parametrize("name", NAMES)
def test_a_builtin_catalogue_loads_and_has_rows(name: str) -> None:
    rows = load(name)
    assert rows
    for row_id, row in rows.items():
        assert re.fullmatch(r"[a-z][a-z0-9]*(-[a-z0-9]+)*", row_id)
        assert row.id == row_id
        assert row.catalogue == name
        assert row.name
        assert row.origin.startswith(f"{name}.csv, line ")


@pytest.mark.parametrize("name", NAMES)
def test_a_builtin_row_has_every_required_figure_and_text(name: str) -> None:
    for row in load(name).values():
        for column in SCHEMAS[name].figures:
            assert not column.required or column.name in row.figures, (row.id, column.name)
        for column in SCHEMAS[name].texts:
            assert not column.required or row.text(column.name) in column.choices, row.id


@pytest.mark.parametrize("name", NAMES)
def test_ids_and_columns_of_a_builtin_file_stand_there_once(name: str) -> None:
    lines = (Path(catalogue.__file__).parent / "data" / f"{name}.csv").read_text().splitlines()
    assert tuple(lines[0].split(",")) == SCHEMAS[name].headings()
    ids = [line.split(",", 1)[0] for line in lines[1:]]
    assert sorted(ids) == sorted(load(name))


def test_every_figure_has_basis_source_and_a_range_about_its_value() -> None:
    for row, name, figure in every_figure():
        where = f"{row.catalogue} {row.id} {name}"
        assert figure.low <= figure.value <= figure.high, where
        assert figure.basis in {"published", "common practice", "from memory"}, where
        assert len(figure.source) > 15, where
        column = SCHEMAS[row.catalogue].figure(name)
        assert column is not None
        assert figure.unit == column.unit, where


def test_a_basis_agrees_with_how_its_source_begins() -> None:
    for row, name, figure in every_figure():
        kind = re.split("[,:]", figure.source)[0]
        if kind != "computed":
            assert figure.basis == kind, f"{row.catalogue} {row.id} {name}: {figure.source}"


def test_what_has_no_source_says_that_the_part_must_be_measured() -> None:
    for row, name, figure in every_figure():
        if "no source" in figure.source and not figure.source.startswith(("published", "from mem")):
            assert re.search("measure|count|the label goes first", figure.source), (
                f"{row.catalogue} {row.id} {name}"
            )


def test_ranges_catch_a_slip_of_a_factor_of_ten_one_way_or_the_other() -> None:
    for row, name, figure in every_figure():
        column = SCHEMAS[row.catalogue].figure(name)
        assert column is not None
        caught = [not column.low <= figure.value * slip <= column.high for slip in (0.1, 10.0)]
        assert any(caught), f"{row.catalogue} {row.id} {name} {figure.value}"


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("felt,a strip,8,8,8,,by hand,5,5,5,measured,x,30,30,30,measured,x,\n", "width_basis"),
        ("felt,a strip,8,8,8,measured,,5,5,5,measured,x,30,30,30,measured,x,\n", "width_source"),
        ("felt,,8,8,8,measured,x,5,5,5,measured,x,30,30,30,measured,x,\n", "name"),
    ],
)
def test_a_builtin_file_must_give_name_basis_and_source(text: str, key: str) -> None:
    head = ",".join(SCHEMAS["seals"].headings()) + "\n"
    rows, problems = read_rows(SCHEMAS["seals"], "seals.csv", head + text)
    assert not rows
    assert [problem.key for problem in problems] == [key]


def test_a_spoilt_builtin_file_stops_the_program(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(catalogue, "_DATA", tmp_path)
    catalogue._built_in.cache_clear()
    try:
        with pytest.raises(CatalogueError, match=r"seals\.csv is missing"):
            load("seals")
        (tmp_path / "seals.csv").write_text("id,width_mm\nfelt,8\n")
        with pytest.raises(CatalogueError, match=r"seals\.csv:2: width_basis: read nothing"):
            load("seals")
        (tmp_path / "seals.csv").write_bytes(b"\xff")
        with pytest.raises(CatalogueError, match="UTF-8"):
            load("seals")
    finally:
        catalogue._built_in.cache_clear()


# --- against the outside ------------------------------------------------------------------


@pytest.mark.published("PS 20, dressed dry sizes in inches, as repeated by grading agencies")
@pytest.mark.parametrize(
    ("row_id", "thickness_in", "width_in"),
    [
        ("board-1x4", 0.75, 3.5),
        ("board-1x6", 0.75, 5.5),
        ("board-1x8", 0.75, 7.25),
        ("board-5-4x6", 1.0, 5.5),
        ("dimension-2x6", 1.5, 5.5),
        ("dimension-2x8", 1.5, 7.25),
        ("dimension-2x10", 1.5, 9.25),
        ("dimension-2x12", 1.5, 11.25),
    ],
)
def test_dressed_lumber(row_id: str, thickness_in: float, width_in: float) -> None:
    row = load("lumber")[row_id]
    assert row.value("thickness") == pytest.approx(thickness_in * INCH, abs=1e-9)
    assert row.value("width") == pytest.approx(width_in * INCH, abs=1e-9)


@pytest.mark.published("unified thread 7/8-14: the basic diameter is 7/8 in (ASME B1.1)")
def test_shank_thread_is_seven_eighths_of_an_inch() -> None:
    for row in load("shanks").values():
        assert row.value("thread_diameter") == pytest.approx(7 / 8 * INCH, abs=1e-9)


@pytest.mark.published("ASME B18.6.1: wood screw gauge N has 0.060 + 0.013 N in; NDS pilot rule")
def test_wood_screws_follow_their_gauge() -> None:
    for row_id, row in load("screws").items():
        gauge = int(row_id.rsplit("-", 1)[1])
        assert row.value("shank_diameter") == pytest.approx(
            (0.060 + 0.013 * gauge) * INCH, abs=0.006
        )
        assert row.value("pilot_softwood") == pytest.approx(
            0.7 * row.value("root_diameter"), abs=0.02
        )
        assert row.value("pilot_hardwood") == pytest.approx(
            0.9 * row.value("root_diameter"), abs=0.02
        )
        assert row.value("root_diameter") < row.value("shank_diameter") < row.value("shank_hole")


@pytest.mark.published("Wood Handbook FPL-GTR-190 (2010), eq. 4-15 and 4-12")
def test_woods_conductivity_and_density_follow_from_their_specific_gravity() -> None:
    for row in load("species").values():
        gravity = row.value("specific_gravity")
        conductivity = gravity * (0.1941 + 0.004064 * 12) + 0.01864
        assert row.value("conductivity") == pytest.approx(conductivity, abs=0.002)
        assert row.value("density") == pytest.approx(1000 * gravity * 1.12, abs=1.5)
        assert row.value("movement_radial") < row.value("movement_tangential")
        # printed table 4-7 stands up to 0.01 above the equation: it must lie within the range
        assert row.figures["conductivity"].high >= conductivity + 0.01


@pytest.mark.published("Wood Handbook FPL-GTR-190 (2010), table 13-5, radial and tangential")
@pytest.mark.parametrize(
    ("row_id", "radial", "tangential"),
    [
        ("red-oak", 0.00158, 0.00369),
        ("white-oak", 0.00180, 0.00365),
        ("hard-maple", 0.00165, 0.00353),
        ("black-cherry", 0.00126, 0.00248),
        ("american-beech", 0.00190, 0.00431),
        ("eastern-white-pine", 0.00071, 0.00212),
        ("douglas-fir", 0.00165, 0.00267),
    ],
)
def test_woods_movement(row_id: str, radial: float, tangential: float) -> None:
    row = load("species")[row_id]
    assert (row.value("movement_radial"), row.value("movement_tangential")) == (radial, tangential)


@pytest.mark.published("NIST SP 811: 1 Btu in/(h ft2 F) = 0.144 227 9 W/mK; ASTM C578 R an inch")
@pytest.mark.parametrize(
    ("row_id", "r_an_inch"),
    [("xps-type-iv", 5.0), ("eps-type-i", 3.6), ("eps-type-viii", 3.8), ("eps-type-ix", 4.2)],
)
def test_foam_conductivity_follows_from_its_r_value(row_id: str, r_an_inch: float) -> None:
    row = load("foam")[row_id]
    assert row.value("conductivity") == pytest.approx(0.1442279 / r_an_inch, abs=1e-4)


@pytest.mark.published("a US beer barrel is 31 US gallons of 231 cubic inches")
def test_barrel_kegs_hold_their_share_of_a_barrel() -> None:
    barrel = 31 * 231 * INCH**3 / 1e6
    for row_id, part in (("half-barrel", 2), ("quarter-barrel-slim", 4), ("sixth-barrel", 6)):
        row = load("vessels")[f"keg-{row_id}"]
        assert row.value("volume") == pytest.approx(barrel / part, abs=0.006)


def test_a_vessel_is_larger_outside_than_inside_and_heavier_full_than_empty() -> None:
    for row in load("vessels").values():
        outside = math.pi / 4 * row.value("diameter") ** 2 * row.value("height") / 1e6
        assert outside >= 1.08 * row.value("volume"), row.id
        content = row.value("full_mass") - row.value("empty_mass")
        drink = row.text("kind") in {"keg", "soda keg"}
        heaviest = 1.0 if drink else 0.70  # kg a liter: water; CO2 at 68 % filling, rounded
        assert 0.1 * row.value("volume") < content <= heaviest * row.value("volume") + 0.06, row.id


def test_an_id_says_the_size_that_the_row_has() -> None:
    for row_id, row in load("shanks").items():
        if match := re.fullmatch(r"shank-(\d+)-(\d)-8-in", row_id):
            inches = int(match[1]) + int(match[2]) / 8
            assert row.value("length") == pytest.approx(inches * INCH, abs=0.06)
            assert row.value("thread_length") == pytest.approx(row.value("length") - 3, abs=1e-6)
    for row_id, row in load("lumber").items():
        if match := re.fullmatch(r"pse-(\d+)x(\d+)", row_id):
            assert (row.value("thickness"), row.value("width")) == (int(match[1]), int(match[2]))
    for row_id, row in load("lengths").items():
        if match := re.fullmatch(r"length-(\d+)ft", row_id):
            assert row.value("length") == pytest.approx(int(match[1]) * 304.8)
        elif match := re.fullmatch(r"length-(\d)-(\d)m", row_id):
            assert row.value("length") == pytest.approx(int(match[1]) * 1000 + int(match[2]) * 100)
    for row_id, row in load("foam").items():
        if match := re.search(r"-(\d+)mm$", row_id):
            assert row.value("thickness") == int(match[1])
        elif match := re.search(r"-(?:(\d)-)?(\d)-(\d)-in$|-(\d)-in$", row_id):
            whole, top, bottom, plain = (int(part or 0) for part in match.groups())
            inches = plain or whole + top / bottom
            assert row.value("thickness") == pytest.approx(inches * INCH, abs=1e-6), row_id
        else:
            assert row.get("thickness") is None, row_id


def test_two_inch_foam_may_be_half_an_eighth_an_inch_off_for_each_inch() -> None:
    figure = load("foam")["xps-type-iv-2-in"].figures["thickness"]
    assert (figure.low, figure.high) == pytest.approx((47.6, 54.0), abs=0.05)


def test_bracket_holes_lie_on_the_leg_and_take_the_screw_they_name() -> None:
    screws = load("screws")
    for row in load("brackets").values():
        further = (row.value("holes_per_leg") - 1) * (row.get("hole_pitch") or 0.0)
        edge = row.value("hole_from_corner") + further + row.value("hole_diameter") / 2
        assert edge < row.value("leg"), row.id
        assert (
            row.value("thickness") < row.value("hole_from_corner") - row.value("hole_diameter") / 2
        )
        screw = screws[row.text("screw")]
        assert (
            screw.figures["shank_diameter"].high
            < row.value("hole_diameter")
            < screw.value("head_diameter")
        )


# --- rows ---------------------------------------------------------------------------------


def test_a_row_gives_values_and_says_what_it_lacks() -> None:
    row = load("shanks")["shank-measured"]
    assert row.value("ring_holes") == 4
    assert row.get("thread_length") is None
    with pytest.raises(KeyError, match=r"^shanks: shank-measured .* has no thread_length$"):
        row.value("thread_length")
    with pytest.raises(
        CatalogueError, match="no figure is called thread_lenght; there are length,"
    ):
        row.value("thread_lenght")


def test_a_changed_copy_leaves_the_row_alone() -> None:
    row = load("shanks")["shank-4-1-8-in"]
    old = row.figures["thread_length"]
    changed = row.with_figure("thread_length", 96.8)
    new = changed.figures["thread_length"]
    assert (new.value, new.low, new.high, new.source) == (96.8, old.low, old.high, old.source)
    assert row.value("thread_length") == old.value
    assert load("shanks")["shank-4-1-8-in"] == row
    assert changed.value("nut_thickness") == row.value("nut_thickness")


def test_a_reading_has_no_range_left() -> None:
    for row_id in ("shank-measured", "shank-4-1-8-in"):
        row = load("shanks")[row_id].with_reading("thread_length", 97.0, "kitchen.toml, line 7")
        expected = Figure(97.0, 97.0, 97.0, "mm", "measured", "kitchen.toml, line 7")
        assert row.figures["thread_length"] == expected
    assert load("shanks")["shank-measured"].with_figure("length", 99.0).value("length") == 99.0
    with pytest.raises(CatalogueError, match="no figure is called bore"):
        row.with_figure("bore", 6.0)


def test_the_loaded_dict_is_the_callers_own() -> None:
    load("seals").clear()
    assert load("seals")


def test_json_has_the_shape_that_others_rely_on() -> None:
    seen = catalogue.as_json(load("wrenches")["wrench-hook-pin"])
    assert (seen["id"], seen["name"]) == ("wrench-hook-pin", "hook or pin wrench")
    reach = seen["reach"]
    assert isinstance(reach, dict)
    assert reach.pop("source")
    assert reach == {
        "value": 190.0,
        "low": 165.0,
        "high": 220.0,
        "unit": "mm",
        "basis": "common practice",
    }
    assert catalogue.as_json(load("species")["red-oak"])["kind"] == "hardwood"
    assert "thread_length" not in catalogue.as_json(load("shanks")["shank-measured"])


@pytest.mark.parametrize(
    ("name", "written", "first"),
    [
        ("shanks", "shank-4-1/8-in", "shank-4-1-8-in"),
        ("shanks", "4 1/8 in", "shank-4-1-8-in"),
        ("lumber", "1x6", "board-1x6"),
        ("lumber", "2x8", "dimension-2x8"),
        ("vessels", "keg-sixth-barel", "keg-sixth-barrel"),
        ("vessels", "Sixth Barrel", "keg-sixth-barrel"),
        ("species", "white_oak", "white-oak"),
    ],
)
def test_near_ids(name: str, written: str, first: str) -> None:
    assert catalogue.near(name, written)[0] == first


def test_nothing_is_near_to_nonsense() -> None:
    assert catalogue.near("foam", "qqqq") == []
    assert catalogue.near("foam", "") == []
    assert catalogue.near("foam", "my-bord", ["my-board"]) == ["my-board"]
    assert len(catalogue.near("shanks", "shank-in")) <= 3


def test_an_unknown_catalogue_is_refused_with_those_there_are() -> None:
    with pytest.raises(CatalogueError, match="no catalogue is called 'tubes'; there are lumber, "):
        load("tubes")
