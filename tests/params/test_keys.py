"""The keys as messages and limits see them, against the types and catalogues themselves."""

import tomllib

import pytest
from collarwright.params import catalogue
from collarwright.params.project import Limits, Project, Top
from collarwright.params.reading.keys import IDS, REASONS, TABLES, Key, every, find, under
from collarwright.params.reading.limits import CHECKS, read_limits
from collarwright.params.reading.notes import Notes
from collarwright.params.reading.paths import ROWS
from collarwright.params.reading.tables import frozen, validated

# The tables and keys of the build file, written down from its specification.
CONTRACT = {
    "": "title show",
    "lip": "front right back left front_left_to_back_right front_right_to_back_left land"
    " land_starts corner_radius gaps tape",
    "board": "stock thickness width species grain moisture overhang follow corner bracket glue",
    "seat": "hold hold_strength hold_width seal",
    "cover": "thickness width below_lip sides",
    "cap": "material thickness width inset",
    "finish": "kind coats",
    "stock": "kerf trim match_grain length owned",
    "stock.length": "length price",
    "stock.owned": "length defects",
    "shop": "tilt_max cross_cut cut_depth_tilted router_bit ring_gap ring_open ring_thickness"
    " ring_tilt",
    "taps": "count spacing offset positions side height names bore shank thread faucet handle"
    " wrench washers washer_diameter glass",
    "foam": "kind thickness order pocket below_top face adhesive sheet",
    "foam.sheet": "length width",
    "manifold": "kind length height depth side offset centre",
    "lid": "overhang thickness skirt skirt_thickness gasket gasket_inset gasket_width plug"
    " plug_inset mass",
    "hinge": "on axis_behind axis_above positions leaf_height leaf_width leaf_thickness fix"
    " backing screw screw_length screws bolt bolt_washer spring open_to",
    "room": "behind above lip_height left right door temperature humidity floor_area ceiling"
    " altitude",
    "well": "front left length width mouth_length mouth_width height corner_radius gap step",
    "well.step": "side length height",
    "vessel": "kind diameter height fitting count tap",
    "pour": "tap drink name carbonation temperature gas line",
    "hole": "side height diameter offset name",
    "tray": "side count spacing offset positions height pilot depth",
    "keep_out": "side height width tall offset depth name",
    "built": "front right back left front_left_to_back_right front_right_to_back_left thickness"
    " width foam bore",
    "built.bore": "tap from_left from_bottom diameter plate",
}
BY_SIDE = {
    "lip.gaps", "board.overhang", "lid.overhang", "lid.skirt", "lid.skirt_thickness",
    "lid.gasket_inset", "lid.plug_inset",
}  # fmt: skip


@pytest.mark.parametrize("table", sorted(CONTRACT))
def test_a_table_has_the_keys_of_the_specification(table: str) -> None:
    names = {key.name for key in under(table)}
    if not table:
        names -= {*TABLES, "limits"}
    assert names == set(CONTRACT[table].split())


def test_there_are_no_other_tables() -> None:
    tables = {key.path for key in every().values() if key.table}
    assert tables == set(CONTRACT) - {""} | {"limits"}
    fields = set(Project.__dataclass_fields__)
    fields -= {"limits", "parts", "supplies", "title", "show", "as_built"}
    assert set(TABLES) == fields


def test_what_comes_by_side_and_what_is_required() -> None:
    assert {key.path for key in every().values() if key.by_side} == BY_SIDE
    required = {key.path for key in every().values() if key.required}
    assert {"lip", "board", "taps", "lip.front", "taps.bore", "hole.side"} <= required
    assert not {"board.stock", "taps.count", "lid"} & required


@pytest.mark.parametrize("key", [key for key in every().values() if not key.table], ids=str)
def test_the_example_of_a_key_is_accepted(key: Key) -> None:
    table, _, name = key.path.rpartition(".")
    values = frozen(tomllib.loads(key.line))
    assert isinstance(values, dict)
    assert list(values) == [name]
    if table in TABLES or not table:
        model = TABLES.get(table, Top)
        notes = Notes()
        validated(model, values, (table,), notes)
        faults = [each for each in notes.problems if each.key == key.path]
        assert not faults


@pytest.mark.parametrize("path", sorted(IDS))
def test_the_example_of_an_id_is_in_its_catalogue(path: str) -> None:
    name, example = IDS[path]
    assert example in catalogue.load(name)
    assert f'"{example}"' == every()[path].example


def test_reasons_are_given_for_keys_that_there_are() -> None:
    assert set(REASONS) <= set(every())


def test_a_key_is_found_with_indexes_and_sides() -> None:
    for path, name in {
        "taps[2].height": "taps.height",
        "lip.front[3]": "lip.front",
        "board.overhang.front": "board.overhang",
        "stock.owned[1].defects[2][1]": "stock.owned.defects",
    }.items():
        found = find(path)
        assert found is not None
        assert found.path == name
    for path in ("taps.hieght", "lip.front.left", "", "board.overhang.middle.left"):
        assert find(path) is None


# --- limits -------------------------------------------------------------------------------

# Every check of the program's specification, by the groups that it has there.
IDS_OF_CHECKS = (
    "readings lip-square frame-square stand corner lip-flat gasket-seat gasket-pull skirt plug"
    " collar-hold saw bore-entry bore-cover nut-cover bore-web bore-edge bore-end shank-grip"
    " shank-run shank-past-foam nut-room foam-crush tap-gap handle-gap wrench-swing pour-room"
    " tail-room lid-wall lid-ceiling lid-back lid-front hinge-fit hinge-hold screw-length"
    " head-room opening vessels manifold foam-land lift"
    " collar-heat board-dew tap-dew movement height-step"
    " carbonation line-balance gas gas-release stock"
)


def limits(text: str) -> tuple[Limits, list[tuple[str, str]]]:
    notes = Notes()
    found = read_limits(tomllib.loads(text), notes)
    return found, [(each.key, each.wanted) for each in notes.problems]


def test_every_check_can_be_named() -> None:
    assert set(CHECKS) == set(IDS_OF_CHECKS.split())


def test_limits_are_read_in_the_unit_of_their_kind() -> None:
    found, problems = limits(
        """
        handle-gap = "1 in"
        wrench-swing = "50 deg"
        hinge-hold = 2
        lift = "50 lb"
        board-dew = "1.8 degF"
        gas-release = "2 %"
        bore-edge = "-1 mm"
        "lid.gasket_inset" = "1 mm"
        taps.height = "0.5 mm"
        room.temperature = "2 K"
        foam.sheet.length = "1/16 in"
        tighten_with_lid = "closed"
        """
    )
    assert not problems
    assert dict(found.required) == pytest.approx(
        {
            "handle-gap": 25.4,
            "wrench-swing": 50.0,
            "hinge-hold": 2.0,
            "lift": 50 * 0.45359237,
            "board-dew": 1.0,
            "gas-release": 2.0,
            "bore-edge": -1.0,
        }
    )
    assert dict(found.readings) == {
        "lid.gasket_inset": 1.0,
        "taps.height": 0.5,
        "room.temperature": 2.0,
        "foam.sheet.length": 1.5875,
    }
    assert (found.tighten_with_lid, found.heat) == ("closed", None)


@pytest.mark.parametrize("name", ["heat", "collar-heat"])
def test_the_limit_of_heat_goes_by_both_names(name: str) -> None:
    found, problems = limits(f'{name} = "10 W"')
    assert not problems
    assert (found.heat, found.required["collar-heat"]) == (10.0, 10.0)


def test_names_that_are_a_check_and_a_table_are_told_apart() -> None:
    found, problems = limits('manifold = "6 mm"\nstock = "10 mm"\n[lid]\nplug = "1 mm"\n')
    assert not problems
    assert dict(found.required) == {"manifold": 6.0, "stock": 10.0}
    assert dict(found.readings) == {"lid.plug": 1.0}
    found, problems = limits('[manifold]\ncentre = "2 mm"\n')
    assert not problems
    assert (dict(found.required), dict(found.readings)) == ({}, {"manifold.centre": 2.0})


@pytest.mark.parametrize(
    ("text", "key", "wanted"),
    [
        ("handle-gap = 25", "limits.handle-gap", "a length with its unit, in quotes"),
        ('handle_gap = "25 mm"', "limits.handle_gap", "nearest is handle-gap"),
        ('"taps[1].height" = "1 mm"', 'limits."taps[1].height"', 'no index: "taps.height"'),
        ('"lid.skirt.front" = "1 mm"', 'limits."lid.skirt.front"', 'all sides: "lid.skirt"'),
        ('"lid.gasket" = "1 mm"', 'limits."lid.gasket"', "a key that holds a reading"),
        ('lid = "1 mm"', "limits.lid", "a key that holds a reading"),
        ('zzzz = "1 mm"', "limits.zzzz", "say handle-gap"),
        ("collar-hold = true", "limits.collar-hold", "a plain number from 0 to 100"),
        ("collar-hold = nan", "limits.collar-hold", "a plain number from 0 to 100"),
        ("lid.plug = -1", "limits.lid.plug", "in quotes"),
        ('lid.plug = "-1 mm"', "limits.lid.plug", "from 0 mm"),
        ('saw = "1 deg"', "limits.saw", "under [shop]"),
        ('heat = "10 W"\ncollar-heat = "9 W"', "limits.heat", "one of the two"),
    ],
)
def test_a_limit_that_cannot_be_read_is_told(text: str, key: str, wanted: str) -> None:
    _, problems = limits(text)
    assert len(problems) == 1
    assert problems[0][0] == key
    assert wanted in problems[0][1]


def test_rows_have_a_key_of_their_own() -> None:
    assert set(ROWS) - {"taps"} == {key.path for key in every().values() if key.table == "many"}
