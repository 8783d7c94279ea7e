"""The examples of the keys: one design that can be read, each of a size that the thing has."""

import tomllib
from pathlib import Path

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.reading import read
from collarwright.params.reading.examples import EXAMPLES, FILLED
from collarwright.params.reading.keys import REQUIRED, every, under

# Written in place of another key: the catalogue's row, or count and spacing.
INSTEAD = {
    "taps.positions", "board.thickness", "foam.thickness", "manifold.length", "manifold.height",
    "manifold.depth", "vessel.diameter", "vessel.height", "vessel.fitting", "tray.positions",
}  # fmt: skip

# What such a thing measures at a household's chest freezer: a tape held to a few, rounded
# outward, mm. Doors: 24 to 36 in wide by common practice; stock is sold in 6 to 16 ft.
SIZES = {
    "lip.front": (600, 1900),
    "lip.right": (450, 800),
    "lip.left": (450, 800),
    "lip.gaps": (0, 5),
    "cover.below_lip": (10, 100),
    "stock.trim": (3, 50),
    "stock.length.length": (1800, 4900),
    "stock.owned.length": (600, 4900),
    "shop.cross_cut": (140, 700),
    "shop.cut_depth_tilted": (30, 80),
    "shop.router_bit": (3, 13),
    "taps.height": (40, 100),
    "taps.thread": (21, 24),
    "taps.washer_diameter": (35, 65),
    "taps.glass": (100, 250),
    "foam.sheet.length": (600, 2500),
    "foam.sheet.width": (300, 1300),
    "lid.thickness": (30, 120),
    "lid.gasket_inset": (5, 50),
    "lid.gasket_width": (10, 40),
    "hinge.leaf_height": (30, 120),
    "hinge.leaf_thickness": (1, 4),
    "hinge.screw_length": (15, 60),
    "room.behind": (20, 500),
    "room.above": (700, 2000),
    "room.lip_height": (600, 1000),
    "room.door": (600, 1000),
    "room.ceiling": (2100, 3100),
    "well.length": (400, 1800),
    "well.width": (300, 700),
    "well.height": (500, 900),
    "well.step.length": (100, 400),
    "well.step.height": (100, 400),
    "vessel.diameter": (200, 450),
    "vessel.height": (300, 700),
    "hole.height": (10, 130),
    "tray.height": (10, 60),
    "tray.pilot": (2, 5),
    "keep_out.width": (20, 300),
}


def test_examples_are_of_keys_that_there_are() -> None:
    assert set(EXAMPLES) <= set(every())
    assert set(FILLED) == set(REQUIRED)


def whole(leave_out: set[str]) -> str:
    """A build file of every key's example."""
    lines: list[str] = []
    tables = [key for key in every().values() if key.table and key.path != "limits"]
    for table in [None, *tables]:
        if table is not None:
            lines.append(table.line)
        path = table.path if table else ""
        lines += [
            each.line for each in under(path) if not each.table and each.path not in leave_out
        ]
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    "leave_out",
    [INSTEAD, {f"{row}.{key}" for row in ("taps", "tray") for key in ("count", "spacing")}],
)
def test_together_they_are_a_build_file_that_is_read(leave_out: set[str], tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    file.write_text(whole(leave_out))
    project, _ = read(file, lay_out)
    assert project.title == "Cider on the porch"
    readings = [each for each in evaluate(project).findings if each.check == "readings"]
    assert readings
    assert {each.verdict for each in readings} == {"pass"}  # sides and diagonals close


@pytest.mark.parametrize("path", SIZES)
def test_an_example_is_of_the_size_of_the_thing(path: str, tmp_path: Path) -> None:
    from collarwright.params.units import parse

    value = tomllib.loads(every()[path].line)[every()[path].name]
    low, high = SIZES[path]
    assert low <= parse(value, "length") <= high


def test_no_two_lengths_of_a_table_share_the_example_of_their_type() -> None:
    """Where a key has only its type's example, no other key of that type is beside it."""
    for key in every().values():
        if key.kind == "length" and key.example == key.usual and key.path not in EXAMPLES:
            same = [each.path for each in under(key.path.rpartition(".")[0])
                    if each.usual == key.usual and each.path not in EXAMPLES]  # fmt: skip
            assert same == [key.path]


@pytest.mark.parametrize("table", REQUIRED)
def test_the_lines_of_a_table_make_it_complete(table: str) -> None:
    key = every()[table]
    values = tomllib.loads(key.filled)[table]
    assert set(values) == set(FILLED[table])
    needed = {each.name for each in under(table) if each.required}
    assert needed <= set(values)


def test_a_wrong_value_is_answered_with_the_example_of_its_own_key(tmp_path: Path) -> None:
    from collarwright.params.problem import BuildFileError

    file = tmp_path / "x.toml"
    file.write_text(whole(INSTEAD).replace('door = "30 in"', "door = 30"))
    with pytest.raises(BuildFileError) as caught:
        read(file, lay_out)
    (problem,) = caught.value.problems
    assert (problem.key, problem.example) == ("room.door", 'door = "30 in"')
