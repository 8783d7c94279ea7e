"""``check --built``: the same report and data, about what was really made."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from collarwright.outputs.cli import app
from collarwright.outputs.schema import SCHEMA
from typer.testing import CliRunner

EXAMPLES = Path(__file__).parents[2] / "examples"
DRY_FITTED, PLAIN = EXAMPLES / "soda-dry-fitted.toml", EXAMPLES / "cold-coffee.toml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def data(*words: str | Path) -> dict[str, Any]:
    from jsonschema import Draft202012Validator

    found: dict[str, Any] = json.loads(run(*words, "--json").stdout)
    assert [error.json_path for error in Draft202012Validator(SCHEMA).iter_errors(found)] == []
    return found


@pytest.mark.parametrize(
    "file",
    [path for path in EXAMPLES.glob("*.toml") if "\n[built]\n" in path.read_text()],
    ids=lambda path: path.stem,
)
def test_the_example_ends_with_the_statuses_written_in_it(file: Path) -> None:
    written = re.search(r"# Exit status of `collarwright check --built`: (\d)", file.read_text())
    assert written is not None
    assert run("check", file, "--built").exit_code == int(written[1])


def test_the_report_says_that_it_is_about_what_was_made() -> None:
    text = run("check", DRY_FITTED, "--built").stdout
    assert text.splitlines()[0] == f"{DRY_FITTED}, as built"
    assert "front board: 910 mm, drawn 911.9 mm: -1.9 mm" in text
    assert "tap 2's bore: 25 mm, drawn 25 mm: as drawn" in text
    assert "corners of the dry frame, from front-left counterclockwise: " in text
    assert re.search(r"\n    rack the frame: push the front-left and\s", text)
    assert re.search(r"\n    plug and re-bore tap 2: ", text)
    assert max(map(len, text.splitlines()[1:])) <= 80
    assert "as built" not in run("check", DRY_FITTED).stdout


def test_data_say_so_too() -> None:
    real, drawn = data("check", DRY_FITTED, "--built"), data("check", DRY_FITTED)
    assert (real["as_built"], drawn["as_built"]) == (True, False)
    assert "built" not in drawn
    front = next(each for each in real["built"] if each["what"] == "front board")
    assert front["built_mm"] == 910
    # the drawn board is the mean of the fitted lip's front and back, 911.9 mm
    assert front["difference_mm"] == pytest.approx(910 - front["drawn_mm"])
    assert real["frame"]["width_mm"] is None
    bore = real["boards"][0]["holes"][1]
    assert (bore["name"], bore["u_mm"], bore["v_mm"]) == ("tap-2", 458, 85)
    assert real["boards"][0]["thickness_mm"] == 28.5
    assert drawn["boards"][0]["thickness_mm"] == 28
    failing = [e for e in real["findings"] if e["verdict"] == "fail" and e["weight"] == "must"]
    assert {each["check"] for each in failing} == {"skirt", "handle-gap", "frame-square"}
    assert all(each["remedies"] for each in failing)


def test_done_as_it_says_it_fits(tmp_path: Path) -> None:
    """Each failing finding's first rescue, written into the file: then nothing fails."""
    real = data("check", DRY_FITTED, "--built")
    changes: dict[str, Any] = {}
    for finding in real["findings"]:
        if finding["verdict"] == "fail" and finding["weight"] == "must":
            changes |= finding["remedies"][0]["changes"]
    text = DRY_FITTED.read_text()
    assert changes
    for key, value in changes.items():
        name = key.rpartition(".")[2]
        head, table, rest = text.partition("[built]")
        text, count = re.subn(rf'^{name} = ".*"$', f'{name} = "{value}"', rest, flags=re.M)
        assert count == 1
        text = head + table + text
    file = tmp_path / "again.toml"
    file.write_text(text)
    assert run("check", file, "--built").exit_code == 0


def test_without_a_built_table_it_says_what_to_write() -> None:
    done = run("check", PLAIN, "--built")
    assert done.exit_code == 2
    assert "built: read nothing, expected what was really cut" in " ".join(done.stderr.split())
    assert '[built]\n    front = "' in done.stderr
    said = json.loads(run("check", PLAIN, "--built", "--json").stdout)["problems"]
    assert [(each["key"], each["file"]) for each in said] == [("built", str(PLAIN))]


def test_what_cannot_be_laid_out_is_told_by_its_line(tmp_path: Path) -> None:
    file = tmp_path / "miter.toml"
    text = DRY_FITTED.read_text().replace('from_left = "458 mm"', 'from_left = "20 mm"')
    file.write_text(text)
    line = text.splitlines().index('from_left = "20 mm"') + 1
    done = run("check", file, "--built")
    assert done.exit_code == 2
    assert f"{file}:{line}: built.bore[1].from_left: read 20 mm".replace(" ", "") in "".join(
        done.stderr.split()
    )
    assert run("check", file).exit_code == 0


def test_a_copy_does_not_change_what_is_cut(tmp_path: Path) -> None:
    new = tmp_path / "new.toml"
    done = run("check", DRY_FITTED, "--built", "--mend", new)
    assert done.exit_code == 2
    assert "--built or --mend" in done.stderr
    assert not new.exists()


def test_boards_that_are_too_short_cannot_be_mended(tmp_path: Path) -> None:
    """80 mm short: the side boards stand 40 mm inside the lip's edge, 28.5 mm of them on 52."""
    file = tmp_path / "short.toml"
    text = DRY_FITTED.read_text().replace('front = "910 mm"', 'front = "832 mm"')
    head, table, rest = text.partition("[built]")
    rest = rest.replace('back = "912 mm"', 'back = "832 mm"')
    rest = "\n".join(line for line in rest.splitlines() if not line.startswith("front_"))
    file.write_text(head + table + rest.replace('"458 mm"', '"416 mm"'))
    done = run("check", file, "--built")
    assert done.exit_code == 1
    said = " ".join(done.stdout.split())
    assert "nothing was found that mends it in the wood as it is" in said
    assert "as if it were pushed square: no diagonal was measured" in said
    assert "it hangs by board." not in said
