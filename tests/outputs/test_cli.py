"""The command line as a person meets it: what is printed where, and how it ends."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from collarwright.geometry.judge.checks import CHECKS, COMING, SLOW
from collarwright.outputs.cli import app
from typer.testing import CliRunner, Result

EXAMPLES = Path(__file__).parents[2] / "examples"
GOOD, METRIC, TIGHT = (
    EXAMPLES / f"{name}.toml" for name in ("cold-coffee", "cider-porch", "kombucha-too-tight")
)


def run(*words: str | Path) -> Result:
    """Run the program in this process."""
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_example_ends_with_the_status_written_in_it(file: Path) -> None:
    written = re.match(r"# Exit status of `collarwright check`: (\d)", file.read_text())
    assert written is not None
    assert run("check", file).exit_code == int(written[1])


def test_examples_are_the_ones_the_issue_of_the_readme_lists() -> None:
    readme = (EXAMPLES.parent / "README.md").read_text()
    assert all(f"`{file.name}`" in readme for file in EXAMPLES.glob("*.toml"))


def test_the_tight_example_fails_in_exactly_three_ways_and_names_what_changes_them() -> None:
    data = json.loads(run("check", TIGHT, "--json").stdout)
    failing = {each["check"] for each in data["findings"] if each["verdict"] == "fail"}
    assert failing == {"nut-cover", "shank-past-foam", "handle-gap"}
    text = run("check", TIGHT).stdout
    for lever in ("taps.washer_diameter", "taps.shank", "taps.spacing"):
        assert lever in text
    assert text.index("FAILS") < text.index("NOT CHECKED") < text.index("PASSES")


def test_json_and_text_tell_the_same(tmp_path: Path) -> None:
    data = json.loads(run("check", TIGHT, "--json").stdout)
    counts = [
        sum(each["verdict"] == verdict for each in data["findings"])
        for verdict in ("fail", "tight", "not-checked", "pass")
    ]
    last = " ".join(run("check", TIGHT).stdout.split())
    counted = re.sub(r" \((all|\d+) advice\)", "", last)
    assert "{} fail, {} tight, {} not checked, {} pass".format(*counts) in counted
    assert "15 findings of 3 checks must be put right" in last
    assert data["verdict"] == "fail"
    assert data["files"] == []
    assert list(tmp_path.iterdir()) == []


def test_verbose_lists_every_finding_with_its_figures() -> None:
    text = run("check", GOOD, "-v").stdout
    # 4 in apart and 1 in bores leave 3 in of wood; half of 42 mm body and 48 mm flange
    assert "bore-web: taps 1-3" in text
    assert "3 in (76.2 mm), must be at least 1 in (25.4 mm)" in text


def test_lines_of_the_report_fit_a_terminal() -> None:
    for file in EXAMPLES.glob("*.toml"):
        for line in run("check", file, "-v").stdout.splitlines()[1:]:  # first: the path
            assert len(line) <= 80, line


def test_every_check_and_every_command_is_in_the_readme() -> None:
    readme = (EXAMPLES.parent / "README.md").read_text()
    assert all(f"`{check.id}`" in readme for check, _ in CHECKS)
    for command in ("check", "build", "catalog"):
        assert f"collarwright {command}" in readme


@pytest.mark.parametrize("command", ["check", "build", "catalog"])
def test_every_command_has_help_with_an_example(command: str) -> None:
    done = run(command, "--help")
    assert done.exit_code == 0
    assert f"Example: collarwright {command} " in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_problems_go_to_stderr_with_file_line_key_and_example(tmp_path: Path) -> None:
    file = tmp_path / "kitchen.toml"
    file.write_text(
        '[lip]\nfront = 940\nright = "21 in"\nback = "37 in"\nleft = "21 in"\n'
        '[board]\nstock = "board-1x6"\n[taps]\ncount = 2\nspacing = "95,5 cm"\nbore = "1 in"\n'
    )
    done = run("check", file)
    assert (done.exit_code, done.stdout) == (2, "")
    said = " ".join(done.stderr.split())  # a long path comes to stand on a line of its own
    assert f"{file}:2: lip.front: read 940, expected a length with its unit" in said
    assert f"{file}:10: taps.spacing: " in said
    assert "95.5 cm" in done.stderr
    assert "for example: front = " in done.stderr
    assert "Traceback" not in done.stderr
    data = json.loads(run("check", file, "--json").stdout)
    assert [(each["line"], each["key"]) for each in data["problems"]] == [
        (2, "lip.front"),
        (10, "taps.spacing"),
    ]


@pytest.mark.parametrize(
    "words",
    [
        ("--only", "report"),
        ("--paper", "papyrus"),
        ("--dxf-units", "furlong"),
        ("--dxf-version", "R9"),
    ],
)
def test_a_wrong_option_is_refused_with_its_choices(words: tuple[str, str], tmp_path: Path) -> None:
    done = run("build", GOOD, "--out", tmp_path / "out", *words)
    assert done.exit_code == 2
    assert words[0] in done.stderr
    assert "one of" in done.stderr
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_replaced_is_refused_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    done = run("build", GOOD, "--out", tmp_path / "out", "--only", "cut")
    assert done.exit_code == 2
    assert "is a file" in " ".join(done.stderr.split())
    assert (tmp_path / "out").read_text() == "mine"


def test_failures_hold_back_what_would_be_cut_into_wood(tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = run("build", TIGHT, "--out", out, "--only", "cut", "--only", "templates")
    assert done.exit_code == 1
    assert "--despite-failures" in done.stdout  # how to have them all the same
    assert "Held back: cut/" in done.stdout
    assert "Held back: templates/" in done.stdout
    assert [path.name for path in out.iterdir()] == ["summary.json"]


def test_despite_failures_they_stand_in_print_on_every_sheet(tmp_path: Path) -> None:
    out = tmp_path / "out"
    words = ("--only", "cut", "--despite-failures")
    assert run("build", TIGHT, "--out", out, *words).exit_code == 1
    for file in (out / "cut").glob("*.dxf"):
        assert "FAILS nut-cover, taps 1-5: -1/16 in (-1.5 mm)" in file.read_text()
    assert len(list((out / "cut").glob("*.dxf"))) == 8


def test_catalogues_are_listed_and_shown_with_sources() -> None:
    assert "shanks" in run("catalog").stdout
    assert {"name", "rows"} == set(json.loads(run("catalog", "--json").stdout)[0])
    text = run("catalog", "shanks").stdout
    assert "shank-4-1-8-in" in text
    assert "Sources" in text
    rows = json.loads(run("catalog", "wrenches", "--json").stdout)
    assert {"value", "low", "high", "unit", "basis", "source"} == set(rows[0]["reach"])
    assert "half_width" in rows[0]
    wrong = run("catalog", "spanners")
    assert wrong.exit_code == 2
    assert "wrenches" in wrong.stderr


def test_ids_of_checks_are_known_once() -> None:
    ids = [check.id for check, _ in CHECKS] + [check.id for check in SLOW] + list(COMING)
    assert len(ids) == len(set(ids)) == 51


def test_the_version_and_a_broken_pipe_leave_no_traceback() -> None:
    command = [sys.executable, "-m", "collarwright.outputs"]
    version = subprocess.run([*command, "--version"], capture_output=True, text=True, check=True)
    assert re.fullmatch(r"collarwright \d+\.\d+\.\d+\n", version.stdout)
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "wb") as closed:
        done = subprocess.run(
            [*command, "catalog", "lumber"], stdout=closed, stderr=subprocess.PIPE, check=False
        )
    assert b"Traceback" not in done.stderr


def test_the_schema_of_the_data_is_printed() -> None:
    done = run("check", "--schema")
    assert done.exit_code == 0
    assert json.loads(done.stdout)["$schema"].startswith("https://json-schema.org/")
