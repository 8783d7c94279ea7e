"""Vessels from the build file to the terminal and to summary.json."""

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.schema import SCHEMA
from typer.testing import CliRunner

EXAMPLES = Path(__file__).parents[2] / "examples"
COFFEE, CIDER = EXAMPLES / "cold-coffee.toml", EXAMPLES / "cider-porch.toml"

BARE = """
show = "mm"
[lip]
front = "940 mm"
right = "534 mm"
back = "940 mm"
left = "534 mm"
[board]
thickness = "20 mm"
width = "140 mm"
[[taps]]
count = 1
bore = "25 mm"
shank = "shank-4-1-8-in"
[well]
length = "820 mm"
width = "420 mm"
height = "700 mm"
[[vessel]]
diameter = "216 mm"
height = "500 mm"
fitting = "40 mm"
"""


def faults(data: Any) -> list[Any]:
    from jsonschema import Draft202012Validator

    return list(Draft202012Validator(SCHEMA).iter_errors(data))


def check(*args: str) -> Any:
    return CliRunner().invoke(app, ["check", *args])


def changed(tmp_path: Path, *pairs: tuple[str, str]) -> str:
    text = BARE
    for old, new in pairs:
        assert text.count(old) == 1
        text = text.replace(old, new)
    file = tmp_path / "bare.toml"
    file.write_text(text, "utf-8")
    return str(file)


def test_the_well_is_in_the_summary_as_its_schema_says() -> None:
    done = check(str(COFFEE), "--json")
    assert done.exit_code == 0
    data = json.loads(done.stdout)
    assert faults(data) == []
    well = data["well"]
    assert well["verdict"] == "fits"
    assert well["at_most_mm"] >= well["gap_mm"] >= 5
    names = {vessel["name"] for vessel in well["vessels"]}
    assert len(names) == 5
    assert set(well["order"]) == names
    # on the step 9 3/4 in up in a well of 27 1/2 in, under a seal of 6.4 mm squeezed by 30 %
    floor = -27.5 * 25.4 - 6.4 * 0.7
    feet = {vessel["on"]: vessel["z_mm"] for vessel in well["vessels"]}
    assert feet == pytest.approx({"floor": floor, "step": floor + 9.75 * 25.4})
    # measured again from the places alone: no two bodies at one height come nearer than the gap
    for i, one in enumerate(well["vessels"]):
        for two in well["vessels"][i + 1 :]:
            apart = (one["x_mm"] - two["x_mm"]) ** 2 + (one["y_mm"] - two["y_mm"]) ** 2
            between = apart**0.5 - (one["diameter_mm"] + two["diameter_mm"]) / 2
            assert between >= well["gap_mm"] - 1e-6


def test_a_file_without_vessels_has_no_well_in_its_summary() -> None:
    data = json.loads(check(str(CIDER), "--json").stdout)
    assert data["well"] is None
    assert faults(data) == []
    found = [each for each in data["findings"] if each["check"] in ("vessels", "tail-room")]
    assert len(found) == 1 + 5
    assert {tuple(each["missing"]) for each in found} == {("vessel",)}


def test_places_and_order_are_printed_where_they_fit(tmp_path: Path) -> None:
    done = check(changed(tmp_path))
    assert re.search(r"vessel-1 at [\d.]+ mm and [\d.]+ mm on the floor", done.stdout)
    assert "an order was found: vessel-1" in done.stdout


def test_a_proof_is_printed_and_a_must_fails(tmp_path: Path) -> None:
    done = check(changed(tmp_path, ('diameter = "216 mm"', 'diameter = "411 mm"')))
    assert done.exit_code == 1
    said = " ".join(done.stdout.split())
    assert "proved: vessel-1 with its gaps is 1 mm too wide front to back on the floor" in said


THREE = (
    ('length = "820 mm"', 'length = "494 mm"'),
    ('width = "420 mm"', 'width = "380 mm"\ngap = "0 mm"'),
    ('fitting = "40 mm"', 'fitting = "40 mm"\ncount = 3'),
)


def test_prove_looks_longer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from collarwright.geometry.judge import packed

    monkeypatch.setattr(packed, "NODES", 1)
    file = changed(tmp_path, *THREE)
    said = " ".join(check(file).stdout.split())
    assert "vessels: no placement found; the best try is short by" in said
    proved = " ".join(check(file, "--prove").stdout.split())
    assert "proved: every way to set" in proved


def test_without_vessels_no_solver_is_loaded() -> None:
    program = (
        "import sys; from collarwright.outputs.cli import app\n"
        "try: app(['check', sys.argv[1]])\n"
        "except SystemExit: pass\n"
        "names = set(sys.modules)\n"
        "print('LOADED', 'highspy' in names, 'collarwright.geometry.plan.packing' in names)\n"
    )
    seen: dict[str, str] = {}
    for file in (COFFEE, CIDER):
        command = [sys.executable, "-c", program, str(file)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
        seen[file.stem] = done.stdout.splitlines()[-1]
    assert seen == {
        "cold-coffee": "LOADED True True",
        "cider-porch": "LOADED False False",
    }


def test_evaluate_loads_no_solver_even_with_vessels(tmp_path: Path) -> None:
    program = (
        "import sys; from pathlib import Path\n"
        "from collarwright.params.reading import read\n"
        "from collarwright.geometry.shape.layout import lay_out\n"
        "from collarwright.geometry.judge.evaluate import evaluate\n"
        "project, _ = read(Path(sys.argv[1]), lay_out)\n"
        "checks = {each.check for each in evaluate(project).findings}\n"
        "print('opening' in checks, 'vessels' in checks, 'highspy' in sys.modules)\n"
    )
    command = [sys.executable, "-c", program, changed(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=True)
    assert done.stdout.split() == ["True", "False", "False"]
