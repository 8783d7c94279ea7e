"""``collarwright catalog``: lengths in inches, and a CSV file to start one's own from."""

import csv
import io
import json
import re
from pathlib import Path

import pytest
from collarwright.outputs.catalog import inches
from collarwright.outputs.cli import app
from collarwright.params.catalogue import NAMES, SCHEMAS
from typer.testing import CliRunner

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
shank = "shank-4-1-8-in"
"""


def run(*words: str | Path) -> str:
    done = CliRunner().invoke(app, [str(word) for word in words])
    assert done.exit_code in ({0, 1} if words[0] == "check" else {0}), done.stderr
    assert done.stderr == ""
    return done.stdout


# --- lengths ------------------------------------------------------------------------------


# An inch is 25.4 mm: 19.05 / 25.4 = 0.75; 54 / 25.4 = 2.12598; 2.24 / 25.4 = 0.08819.
@pytest.mark.parametrize(
    ("mm", "said"),
    [
        (19.05, "3/4"),
        (22.225, "7/8"),
        (139.7, "5 1/2"),
        (25.4, "1"),
        (0.396875, "1/64"),
        (54, "2.126"),
        (2.24, "0.088"),
        (0, "0"),
    ],
)
def test_fractions_only_where_the_figure_is_one(mm: float, said: str) -> None:
    assert inches(mm) == said


def test_a_catalogue_in_inches() -> None:
    text = run("catalog", "lumber", "--show", "in")
    # American Softwood Lumber Standard: a nominal 1x6 is 3/4 x 5 1/2 in, dry and dressed
    found = re.search(r"^board-1x6 .*?\n\n", text, re.MULTILINE | re.DOTALL)
    assert found is not None
    assert re.search(r"thickness +3/4 in\b", found[0])
    assert re.search(r"width +5 1/2 in\b", found[0])
    figures = re.findall(r"^  \w+ .*\[\d+\]$", text, re.MULTILINE)
    assert len(figures) > 100
    assert not [line for line in figures if " mm" in line]


def test_what_is_no_length_stays() -> None:
    metric, inch = run("catalog", "species"), run("catalog", "species", "--show", "in")
    assert metric == inch  # gravities, densities, movement


def test_data_stays_in_mm() -> None:
    words = ("catalog", "shanks", "--json")
    assert run(*words) == run(*words, "--show", "in")
    assert json.loads(run(*words))[0]["thread_diameter"]["unit"] == "mm"


# --- a file of one's own ------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_the_printed_file_is_read_beside_a_build_file_and_changes_nothing(
    name: str, tmp_path: Path
) -> None:
    file = tmp_path / "porch.toml"
    file.write_text(SMALL)
    before = run("check", file, "--json")
    own = run("catalog", name, "--csv")
    head, row = csv.reader(io.StringIO(own))
    assert head == list(SCHEMAS[name].headings())
    assert len(row) == len(head)
    (tmp_path / f"{name}.csv").write_text(own)
    assert run("check", file, "--json") == before
    words = ("catalog", name, "--json")
    assert json.loads(run(*words, "--beside", file)) == json.loads(run(*words))


def test_a_row_of_ones_own_made_from_the_printed_one(tmp_path: Path) -> None:
    file = tmp_path / "porch.toml"
    file.write_text(SMALL.replace("shank-4-1-8-in", "shank-of-mine"))
    own = run("catalog", "shanks", "--csv")
    row = next(csv.DictReader(io.StringIO(own)))
    row |= {"id": "shank-of-mine", "name": "measured", "thread_length_mm": "97.5"}
    row |= {"thread_length_low": "", "thread_length_high": ""}
    row |= {"thread_length_basis": "", "thread_length_source": ""}
    text = io.StringIO()
    writer = csv.DictWriter(text, own.splitlines()[0].split(","))
    writer.writeheader()
    writer.writerow(row)
    (tmp_path / "shanks.csv").write_text(text.getvalue())
    assert CliRunner().invoke(app, ["check", str(file)]).exit_code in {0, 1}
    told = run("catalog", "shanks", "--beside", file)
    assert re.search(r"shank-of-mine  \(measured\)(?s:.*?)thread_length +97.5 mm", told)
