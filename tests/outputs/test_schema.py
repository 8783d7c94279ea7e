"""The schema of ``summary.json``, by somebody else's validator: what it lets in and what not."""

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.schema import SCHEMA, schema_text
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
VALIDATOR = Draft202012Validator(SCHEMA)

Data = dict[str, Any]
Change = Callable[[Data], object]


def run(*arguments: str) -> Data:
    """Return what a command prints with ``--json``."""
    done = CliRunner().invoke(app, [*arguments, "--json"])
    assert done.exit_code in (0, 1), done.output
    data: Data = json.loads(done.stdout)
    return data


def faults(data: object) -> list[str]:
    """Return where the validator finds fault."""
    return [error.json_path for error in VALIDATOR.iter_errors(data)]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Data:
    """The summary that a build of cut files left on the disk."""
    out = tmp_path_factory.mktemp("schema") / "out"
    printed = run("build", str(EXAMPLES[1]), "--out", str(out), "--only", "cut")
    data: Data = json.loads((out / "summary.json").read_text("utf-8"))
    assert data == printed
    return data


def test_the_schema_is_one_of_draft_2020_12_and_prints_as_it_is() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert json.loads(schema_text()) == SCHEMA
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_check_prints_of_an_example_fits(path: Path) -> None:
    assert faults(run("check", str(path))) == []


def test_what_build_writes_fits(built: Data) -> None:
    assert built["files"]
    assert faults(built) == []


def objects(schema: Any) -> list[Data]:
    """Return every schema of an object with keys, however deep."""
    if isinstance(schema, list):
        return [found for each in schema for found in objects(each)]
    if not isinstance(schema, dict):
        return []
    here = [schema] if isinstance(schema.get("properties"), dict) else []
    return here + [found for each in schema.values() for found in objects(each)]


def unknown(data: object, schema: Data, at: str = "$") -> list[str]:
    """Return the keys that are written and not told in the schema."""
    if isinstance(data, list):
        return [key for each in data for key in unknown(each, schema.get("items", {}), at)]
    if not isinstance(data, dict) or "properties" not in schema:
        return []
    known: Data = schema["properties"]
    return [f"{at}.{key}" for key in data if key not in known] + [
        deep
        for key, each in data.items()
        if key in known
        for deep in unknown(each, known[key], f"{at}.{key}")
    ]


def test_every_key_that_is_written_is_told(built: Data) -> None:
    assert unknown(built, SCHEMA) == []
    assert unknown({**built, "frame": {"colour": 1}, "x": 2}, SCHEMA) == ["$.x", "$.frame.colour"]


def test_keys_of_a_later_version_are_let_in(built: Data) -> None:
    data = copy.deepcopy(built)
    data["later"] = data["boards"][0]["later"] = data["findings"][0]["where"]["later"] = 1
    assert faults(data) == []


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (lambda d: d.pop("frame"), "$"),
        (lambda d: d.update(format=2), "$.format"),
        (lambda d: d.update(verdict="safe"), "$.verdict"),
        (lambda d: d.update(sha256="AB" * 32), "$.sha256"),
        (lambda d: d["advice"].pop("not-checked"), "$.advice"),
        (lambda d: d["advice"].update(fail=-1), "$.advice.fail"),
        (lambda d: d["frame"].update(width_mm="940 mm"), "$.frame.width_mm"),
        (lambda d: d["frame"].update(height_mm=None), "$.frame.height_mm"),
        (lambda d: d["frame"]["corners"].pop(), "$.frame.corners"),
        (lambda d: d["frame"]["corners"][0].update(name="left-front"), "$.frame.corners[0].name"),
        (lambda d: d["boards"].pop(), "$.boards"),
        (lambda d: d["boards"][1].update(long_point_mm=-1), "$.boards[1].long_point_mm"),
        (lambda d: d["boards"][1].update(miter_left_deg=90), "$.boards[1].miter_left_deg"),
        (lambda d: d["boards"][0]["holes"][0].pop("diameter_mm"), "$.boards[0].holes[0]"),
        (lambda d: d["boards"][0]["holes"][0].update(length_mm=9), "$.boards[0].holes[0]"),
        (lambda d: d["boards"][0]["holes"][0].update(depth_mm=9), "$.boards[0].holes[0]"),
        (lambda d: d["boards"][0]["holes"][0].update(purpose="?"), "$.boards[0].holes[0].purpose"),
        (lambda d: d["foam"][0].update(side="top"), "$.foam[0].side"),
        (lambda d: d["findings"][0].update(margin="3"), "$.findings[0].margin"),
        (lambda d: d["findings"][0].update(weight="maybe"), "$.findings[0].weight"),
        (lambda d: d["findings"][0]["where"].update(tap=0), "$.findings[0].where.tap"),
        (lambda d: d["findings"][0]["where"].pop("corner"), "$.findings[0].where"),
        (lambda d: d["findings"][0].update(missing="lid.skirt"), "$.findings[0].missing"),
        (lambda d: d["findings"][0].update(remedies=[{"says": "x"}]), "$.findings[0].remedies[0]"),
        (lambda d: d["files"][0].update(path="../x"), "$.files[0].path"),
        (lambda d: d["files"][0].update(path="/x"), "$.files[0].path"),
        (lambda d: d["files"][0].update(bytes=1.5), "$.files[0].bytes"),
    ],
)
def test_what_is_wrong_is_found_and_nothing_else(built: Data, change: Change, where: str) -> None:
    data = copy.deepcopy(built)
    change(data)
    assert set(faults(data)) == {where}
