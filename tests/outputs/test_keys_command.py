"""``collarwright keys``: every key is told with what it means, and with what its type says."""

import ast
import inspect
import json
import re
import tomllib
from pathlib import Path

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.keys import keys_data, keys_text
from collarwright.params import project
from collarwright.params.problem import BuildFileError
from collarwright.params.reading.keys import TABLES, every
from collarwright.params.reading.limits import CHECKS
from typer.testing import CliRunner, Result

TESTS = Path(__file__).parents[1]


def run(*words: str) -> Result:
    return CliRunner().invoke(app, ["keys", *words])


def sections(*words: str) -> dict[str, dict]:
    done = run(*words, "--json")
    assert done.exit_code == 0
    return {each["table"]: each for each in json.loads(done.stdout)}


def entries(*words: str) -> dict[str, dict]:
    return {key["key"]: key for each in sections(*words).values() for key in each["keys"]}


def contract() -> dict[str, str]:
    """The tables and keys of the specification, as the test of the keys has them."""
    for node in ast.parse((TESTS / "params" / "test_keys.py").read_text()).body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "CONTRACT":
            return ast.literal_eval(node.value)
    raise AssertionError


def fields() -> list[tuple[str, str, str]]:
    """Every field of every class that is a table: class, field, the text on the line below."""
    found = []
    for node in ast.parse(inspect.getsource(project)).body:
        if not isinstance(node, ast.ClassDef) or node.name in {"BySide", "Project"}:
            continue
        for each, after in zip(node.body, [*node.body[1:], None], strict=True):
            if isinstance(each, ast.AnnAssign):
                said = after.value if isinstance(after, ast.Expr) else None
                text = said.value if isinstance(said, ast.Constant) else ""
                found.append((node.name, ast.unparse(each.target), str(text)))
    return found


# --- the lines in params/project.py -------------------------------------------------------


@pytest.mark.parametrize(("table", "name", "text"), fields(), ids=lambda each: each[:30])
def test_every_field_has_a_line_of_its_own(table: str, name: str, text: str) -> None:
    assert len(text) > 20, f"{table}.{name}"
    assert text.endswith("."), text
    assert text.count("\n") <= 1, text
    assert not re.search(r"\b(centre|colour|neighbour|metre|mitred|aluminium)", text), text


def test_the_classes_that_are_tables_were_all_looked_at() -> None:
    looked_at = {table for table, _, _ in fields()}
    assert {model.__name__ for model in TABLES.values()} <= looked_at
    assert {"Top", "StickOnSale", "StickOwned", "FoamSheet", "WellStep", "BuiltBore", "Limits"} <= (
        looked_at
    )


def test_no_two_keys_of_a_table_say_the_same() -> None:
    for table in {each for each, _, _ in fields()}:
        said = [text for each, _, text in fields() if each == table]
        assert len(set(said)) == len(said), table


# --- what is printed ----------------------------------------------------------------------


def test_every_key_of_the_specification_is_printed() -> None:
    told = {name: {key["key"] for key in each["keys"]} for name, each in sections().items()}
    for table, names in contract().items():
        above = f"{table}." if table else ""
        assert told.pop(table or "top") == {above + name for name in names.split()}
    assert set(told) == {"limits"}


def test_the_text_has_every_key_once_and_fits_a_terminal() -> None:
    text = run().stdout
    assert max(map(len, text.splitlines())) <= 80
    lines = text.splitlines()
    for key in every().values():
        heading = [line for line in lines if line.split("  ")[0] == f"[{key.path}]"]
        if key.table == "one" and key.path != "taps":
            assert len(heading) == 1, key.path
    shown = re.findall(r"^ {4}(\w+) = ", text, re.MULTILINE)
    values = [key.name for key in every().values() if not key.table]
    assert sorted(shown) == sorted([*values, "tighten_with_lid", "heat"])  # others are in quotes


def test_a_meaning_is_the_line_that_stands_beside_the_code() -> None:
    written = {(table, name): " ".join(text.split()) for table, name, text in fields()}
    told = entries()
    for table, model in TABLES.items():
        for name in model.model_fields:
            assert told[f"{table}.{name}"]["meaning"] == written[model.__name__, name]
    assert told["well.step.side"]["meaning"] == written["WellStep", "side"]


def test_keys_lip_says_from_where_the_land_starts() -> None:
    text = run("lip").stdout
    found = re.search(r"land_starts = (.*?)\n\n", text, re.DOTALL)
    assert found is not None
    said = " ".join(found[1].split())
    assert "inside the lip's outer edge" in said
    assert 'default "0 mm"' in said
    assert "a length with its unit" in said
    assert text.startswith("[lip]  required\n")
    assert "[board]" not in text


# Required and default from the specification of the build file.
@pytest.mark.parametrize(
    ("key", "required", "default"),
    [
        ("lip.front", True, None),
        ("lip.tape", False, '"1 mm"'),
        ("lip.land", False, None),
        ("lip.corner_radius", False, '"0 mm"'),
        ("board.moisture", False, '"12 %"'),
        ("board.follow", False, '"square"'),
        ("board.corner", False, '"glue"'),
        ("board.stock", False, None),
        ("board.overhang", False, None),
        ("stock.kerf", False, '"3 mm"'),
        ("stock.match_grain", False, "false"),
        ("taps.side", False, '"front"'),
        ("taps.offset", False, '"0 mm"'),
        ("taps.bore", True, None),
        ("foam.order", False, '"front-back"'),
        ("well.gap", False, '"5 mm"'),
        ("well.step", False, None),
        ("vessel.count", False, "1"),
        ("cover.sides", False, '["front", "right", "back", "left"]'),
        ("hole.diameter", True, None),
        ("keep_out.tall", True, None),
        ("limits.tighten_with_lid", False, '"open"'),
    ],
)
def test_what_is_required_and_what_stands_for_a_key(
    key: str, required: bool, default: str | None
) -> None:
    told = entries()[key]
    assert (told["required"], told["default"]) == (required, default)


def test_which_tables_are_required() -> None:
    needed = {name for name, each in sections().items() if each["required"]}
    assert needed == {"lip", "board", "taps"}


def test_every_default_and_example_is_toml() -> None:
    for told in entries().values():
        assert tomllib.loads(told["line"])
        if told["default"] is not None:
            tomllib.loads(f"x = {told['default']}")


def test_limits_names_every_check_that_can_be_moved() -> None:
    kinds = entries("limits")["limits.CHECK"]["kind"]
    moved = {check for check, kind in CHECKS.items() if kind is not None}
    assert moved <= set(re.findall(r"[a-z]+(?:-[a-z]+)*", kinds))
    assert "saw" not in kinds
    assert "an angle with its unit for wrench-swing" in kinds


# --- what can be asked for ----------------------------------------------------------------


def test_a_table_brings_the_tables_in_it() -> None:
    assert list(sections("stock")) == ["stock", "stock.length", "stock.owned"]
    assert list(sections("[[built.bore]]")) == ["built.bore"]
    assert list(sections("top")) == ["top"]
    assert list(sections("TAPS")) == ["taps"]


def test_one_key_can_be_asked_for() -> None:
    assert list(entries("lid.gasket_inset")) == ["lid.gasket_inset"]
    assert list(entries("taps[2].height")) == ["taps.height"]
    assert list(entries("board.overhang.front")) == ["board.overhang"]
    assert list(entries("show")) == ["show"]


@pytest.mark.parametrize(
    ("asked", "near"),
    [
        ("lipp", "lip"),
        ("bord", "board"),
        ("well.stp", "well.step"),
        ("keepout", "keep_out"),
        ("land_starts", "lip.land_starts"),
        ("gasket_inst", "lid.gasket_inset"),
        ("tall", "keep_out.tall"),
    ],
)
def test_an_unknown_table_ends_with_2_and_the_nearest_names(asked: str, near: str) -> None:
    done = run(asked)
    assert done.exit_code == 2
    assert done.stdout == ""
    assert repr(asked) in done.stderr
    nearest = done.stderr.partition("nearest:")[2].partition("\n  for example")[0]
    assert near in " ".join(nearest.split()).split(", ")
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("asked", ["zzzzzz", "", "[]", "?", "fittings", "x" * 5000])
def test_what_is_near_to_nothing_is_told_with_all_the_tables(asked: str) -> None:
    with pytest.raises(BuildFileError, match="one of top, lip, board, seat"):
        keys_text(asked)
    with pytest.raises(BuildFileError):
        keys_data(asked)


def test_an_unknown_table_as_data() -> None:
    done = run("lipp", "--json")
    assert done.exit_code == 2
    (told,) = json.loads(done.stdout)["problems"]
    assert told["key"] == "TABLE"
    assert "nearest: lip" in told["expected"]
    assert told["example"] == "collarwright keys lip"
