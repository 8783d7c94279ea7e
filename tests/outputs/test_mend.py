"""``check --mend``: the copy, what stands in it, and what is refused."""

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.change import changed
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.mend import mend
from collarwright.geometry.judge.packed import Question
from collarwright.geometry.judge.trials import Trials
from collarwright.outputs.cli import app
from collarwright.params.project import Project
from collarwright.params.reading import read
from collarwright.params.reading.keys import find
from collarwright.params.units import parse
from typer.testing import CliRunner

Make = Callable[..., Project]

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TIGHT = EXAMPLES / "kombucha-too-tight.toml"


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(each) for each in words])


def failing(path: Path) -> list[str]:
    found = evaluate(read(path)[0]).findings
    return [each.check for each in found if each.verdict == "fail" and each.weight == "must"]


def test_the_copy_has_no_must_that_fails(tmp_path: Path) -> None:
    new = tmp_path / "new.toml"
    assert failing(TIGHT)
    done = run("check", TIGHT, "--mend", new)
    assert done.exit_code == 0, done.output
    assert failing(new) == []
    assert run("check", new).exit_code == 0
    assert "no must fails in it" in " ".join(done.stdout.split())


def test_only_the_changes_that_are_told_are_made(tmp_path: Path) -> None:
    new = tmp_path / "new.toml"
    data = json.loads(run("check", TIGHT, "--mend", new, "--json").stdout)
    old, now = TIGHT.read_text("utf-8").splitlines(), new.read_text("utf-8").splitlines()
    added = [line for line in now if line not in old]
    assert len(added) == len(data["mended"])
    for key, value in data["mended"].items():
        assert any(line.startswith(f'{key.rpartition(".")[2]} = "{value}"') for line in added)
    assert [line for line in old if line.startswith("#")] == [
        line for line in now if line.startswith("#")
    ]
    assert data["verdict"] != "fail"


def test_the_smallest_set_of_changes(design_a: Make) -> None:
    """Two ways to fail that one change of the shank mends: one change is what is found."""
    project = design_a(taps={"shank": "shank-2-1-8-in", "washers": "16 mm"})
    trials = Trials(project, answer(project))
    assert {place[0] for place in trials.failing({}) or ()} == {"shank-grip", "shank-past-foam"}
    found = mend(trials)
    assert list(found.changes) == ["taps.shank"]
    assert found.left == ()


@pytest.mark.parametrize(
    "changes",
    [
        {"taps": {"bore": "22 mm", "height": "20 mm", "spacing": "50 mm", "shank": "shank-2-1-8-in",
                  "washers": None, "washer_diameter": None}},
        {"board": {"overhang": "10 mm"}, "foam": {"pocket": "45 mm"}, "taps": {"bore": "34 mm"}},
    ],
)  # fmt: skip
def test_files_that_fail_in_many_ways(design_a: Make, changes: dict[str, Any]) -> None:
    project = design_a(**changes)
    trials = Trials(project, answer(project))
    before = {place[0] for place in trials.failing({}) or ()}
    assert len(before) >= 3
    found = mend(trials)
    assert found.left == (), found
    assert not fails(project, found.changes)
    for key in found.changes:
        rest = {name: value for name, value in found.changes.items() if name != key}
        assert fails(project, rest), f"{key} is not needed"


def fails(project: Project, changes: Mapping[str, str | int | bool]) -> bool:
    """Whether any *must* fails with these values as a person would write them."""
    values: dict[str, Any] = {}
    for key, written in changes.items():
        kind = (known := find(key)) and known.kind
        named = not isinstance(written, str) or written[:1].isalpha()
        values[key] = written if kind is None or named else parse(str(written), kind)
    return evaluate(changed(project, values)).verdict == "fail"


SPRUNG = {
    "axis_behind": "3/4 in", "axis_above": "-1/2 in", "open_to": "85 deg", "spring": True,
    "positions": ("-14 in", "14 in"), "leaf_height": "3 in", "leaf_width": "3 in",
    "leaf_thickness": "1/16 in", "screws": 4, "screw": "wood-screw-no-10",
    "screw_length": "3/4 in", "backing": "0 in",
}  # fmt: skip


def test_a_block_is_made_as_thick_as_the_other_screws_need_it(design_a: Make) -> None:
    """A sprung hinge with no. 10 screws in a bare 1x8 board; its leaf takes no. 8 at the most.

    A practitioner keeps board and hinge and takes thinner screws, longer ones, and a block thick
    enough for those; the thinnest block that will do for no. 10 is too thin for them.
    """
    design = design_a(
        board={"stock": "board-1x8", "species": "eastern-white-pine"},
        foam=None,
        taps={"count": 1, "spacing": None},
        lid={"thickness": "2 1/4 in", "mass": "9 kg"},
        hinge=SPRUNG,
    )
    project = replace(design, show="in")
    trials = Trials(project, answer(project))
    before = {place[0] for place in trials.failing({}) or ()}
    assert {"hinge-fit", "hinge-hold", "screw-length"} <= before
    found = mend(trials)
    assert found.left == () and not fails(project, found.changes)
    assert set(found.changes) == {"hinge.screw", "hinge.backing", "hinge.screw_length"}
    # a longer screw than the thinnest block's: no. 6 or 8 in 1 in hold too little
    assert parse(str(found.changes["hinge.screw_length"]), "length") > 25.4


def test_other_boards_are_the_last_thing_to_change(design_a: Make) -> None:
    """The gasket's middle lies 28 - 5 mm in on 19 mm boards, screws of 20 mm come through them.

    Boards of 5/4 mend both, and are four other boards: boards moved inward and shorter screws do.
    """
    project = design_a(
        foam=None,
        board={"overhang": "0 mm"},
        lid={"gasket_inset": "28 mm"},
        hinge={"screw": "wood-screw-no-8", "screw_length": "20 mm", "leaf_thickness": "1 mm"},
    )
    assert not fails(project, {"board.stock": "board-5-4x6"})
    before = answer(project)
    found = mend(Trials(project, before))
    assert found.left == () and not fails(project, found.changes)
    assert set(found.changes) == {"board.overhang", "hinge.screw_length"}
    for finding in before.findings:
        for remedy in finding.remedies[:-1]:
            assert "board.stock" not in remedy.changes


KEGS = {"kind": "soda-keg-ball-lock-2-5gal-tall", "count": 3}
NARROW = {"length": "660 mm", "width": "230 mm", "height": "700 mm"}


def test_a_well_that_does_not_hold_its_vessels_is_mended_too(design_a: Make) -> None:
    """Three kegs of 216 mm keep 3 mm of 5 in a row of 660 mm: one fewer; the bore is made anew."""
    project = design_a(vessel=[KEGS], well=NARROW, lid={"plug": "0 mm"}, foam={"pocket": "45 mm"})
    question = Question()
    before = answer(project, slow=question)
    assert {f.check for f in before.findings if f.verdict == "fail"} == {"vessels", "nut-room"}
    found = mend(Trials(project, before, slow=question))
    assert found.left == ()
    assert found.changes == {"foam.pocket": "56 mm", "vessel[1].count": 2}


def test_what_mends_one_thing_leaves_the_vessels_room(design_a: Make) -> None:
    """Two kegs keep 5.3 mm from the narrow well's walls: no thicker foam, no manifold moved."""
    project = design_a(
        vessel=[{**KEGS, "count": 2}],
        well={**NARROW, "width": "226.6 mm"},
        lid={"plug": "0 mm"},
        taps={"bore": "34 mm"},
    )
    question = Question()
    before = answer(project, slow=question)
    found = mend(Trials(project, before, slow=question))
    after = changed(project, {"taps.bore": parse(str(found.changes["taps.bore"]), "length")})
    assert found.left == () and list(found.changes) == ["taps.bore"]
    assert {f.verdict for f in question(after, evaluate(after))} <= {"pass", "tight"}


def test_nothing_to_mend_gives_the_same_file(tmp_path: Path) -> None:
    good, new = EXAMPLES / "cold-coffee.toml", tmp_path / "new.toml"
    done = run("check", good, "--mend", new)
    assert done.exit_code == 0
    assert new.read_bytes() == good.read_bytes()


def test_a_file_that_is_there_is_not_overwritten(tmp_path: Path) -> None:
    new = tmp_path / "new.toml"
    new.write_text("mine")
    done = run("check", TIGHT, "--mend", new)
    assert done.exit_code == 2
    assert "nothing is overwritten" in " ".join(done.stderr.split())
    assert new.read_text() == "mine"
    assert run("check", TIGHT, "--mend", TIGHT).exit_code == 2


def test_a_link_that_leads_nowhere_is_not_followed(tmp_path: Path) -> None:
    new = tmp_path / "new.toml"
    new.symlink_to(tmp_path / "elsewhere.toml")
    assert run("check", TIGHT, "--mend", new).exit_code == 2
    assert not (tmp_path / "elsewhere.toml").exists()


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    done = run("check", TIGHT, "--mend", tmp_path / "no" / "new.toml")
    assert done.exit_code == 2
    assert list(tmp_path.iterdir()) == []


def test_what_cannot_be_mended_is_said_and_nothing_is_written(tmp_path: Path) -> None:
    """A ceiling that no choice of the build file moves."""
    file, new = tmp_path / "low.toml", tmp_path / "new.toml"
    text = (EXAMPLES / "cold-coffee.toml").read_text("utf-8")
    lines = ['land = "5 mm"' if line.startswith("land =") else line for line in text.splitlines()]
    file.write_text("\n".join(lines) + "\n")
    assert "stand" in failing(file)
    done = run("check", file, "--mend", new)
    assert done.exit_code == 1
    assert "No copy was written" in " ".join(done.stdout.split())
    assert not new.exists()


def test_windows_line_ends_stay(tmp_path: Path) -> None:
    file, new = tmp_path / "crlf.toml", tmp_path / "new.toml"
    file.write_bytes(TIGHT.read_bytes().replace(b"\n", b"\r\n"))
    assert run("check", file, "--mend", new).exit_code == 0
    raw = new.read_bytes()
    assert raw.count(b"\r\n") >= file.read_bytes().count(b"\r\n")
    assert failing(new) == []
