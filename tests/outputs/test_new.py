"""``new`` without a terminal: flags, what is written over and what not, and how it is kept."""

import os
import stat
import time
import tomllib
from pathlib import Path

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.new.keeping import Keeper
from collarwright.outputs.new.opens import opens
from collarwright.outputs.text import QUESTIONS as CHECKS
from collarwright.params.starter import BY_KEY, EXAMPLES
from typer.testing import CliRunner, Result

SIDES = {"lip.front": "37 in", "lip.right": "21 in", "lip.back": "37 in", "lip.left": "21 in"}


def run(*words: str | Path) -> Result:
    """Run the program without a terminal."""
    return CliRunner().invoke(app, [str(word) for word in words])


def flags(answers: dict[str, str]) -> list[str]:
    return [word for key, value in answers.items() for word in ("--set", f"{key}={value}")]


def names(folder: Path) -> list[str]:
    return sorted(each.name for each in folder.iterdir())


def test_the_example_it_writes_builds_as_it_stands_and_check_tells_it_is_one(
    tmp_path: Path,
) -> None:
    file = tmp_path / "mine.toml"
    done = run("new", file)
    assert done.exit_code == 0
    assert f"{len(EXAMPLES)} of its values are examples" in done.stdout.replace("\n", " ")
    checked = run("check", file)
    assert checked.exit_code == 0
    assert f"{len(EXAMPLES)} values are examples that nobody measured" in checked.stdout
    marked = [line for line in file.read_text().splitlines() if "not your reading" in line]
    assert len(marked) == len(EXAMPLES)
    assert max(map(len, file.read_text().splitlines())) <= 80
    built = run("build", file, "--out", tmp_path / "out", "--only", "templates")
    assert built.exit_code == 0, built.stderr
    assert list((tmp_path / "out" / "templates").glob("*.pdf"))


def test_it_writes_over_nothing_unless_told_to(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text("mine")
    done = run("new", file)
    assert done.exit_code == 2
    assert "--overwrite" in done.stderr
    assert "there is such a file already; give a new name" in " ".join(done.stderr.split())
    assert file.read_text() == "mine"
    assert run("new", file, "--overwrite").exit_code == 0
    assert run("check", file).exit_code == 0
    assert run("new", tmp_path / "no" / "such.toml").exit_code == 2
    assert run("new", tmp_path, "--overwrite").exit_code == 2
    assert run("new", tmp_path / "none.toml", "--complete").exit_code == 2
    assert not (tmp_path / "none.toml").exists()


def test_a_link_is_followed_and_stays_one(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    real, link = tmp_path / "real" / "mine.toml", tmp_path / "link.toml"
    real.write_text('[lip]\nfront = "37 in"\n')
    real.chmod(0o640)
    link.symlink_to(real)
    assert run("new", link).exit_code == 2
    assert run("new", link, "--complete", "--set", "lip.right=21 in").exit_code == 0
    assert link.is_symlink()
    assert tomllib.loads(real.read_text())["lip"] == {"front": "37 in", "right": "21 in"}
    assert stat.S_IMODE(real.stat().st_mode) == 0o640
    (tmp_path / "nowhere.toml").symlink_to(tmp_path / "gone.toml")
    for how in ((), ("--overwrite",), ("--complete",)):
        assert run("new", tmp_path / "nowhere.toml", *how).exit_code == 2
    assert not (tmp_path / "gone.toml").exists()


def test_flags_answer_the_same_questions(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    more = {"taps.count": "2", "lid.overhang": "front 1/2 in, others 1/4 in"}
    done = run("new", file, *flags(SIDES | more))
    assert done.exit_code == 0, done.stderr
    data = tomllib.loads(file.read_text())
    assert data["lip"] == {"front": "37 in", "right": "21 in", "back": "37 in", "left": "21 in"}
    assert data["taps"]["count"] == 2
    assert data["lid"] == {
        "overhang": {"front": "1/2 in", "right": "1/4 in", "back": "1/4 in", "left": "1/4 in"}
    }
    assert "# land" in file.read_text()
    # what no collar goes without stands there as an example: board, spacing, bore
    assert file.read_text().count("not your reading") == 3
    assert run("check", file).exit_code == 0


def test_sizes_by_flag_take_the_place_of_an_id(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    sizes = {"board.thickness": "19 mm", "board.width": "140 mm"}
    assert run("new", file, *flags(SIDES | sizes)).exit_code == 0
    assert tomllib.loads(file.read_text())["board"] == {"thickness": "19 mm", "width": "140 mm"}


@pytest.mark.parametrize(
    ("flag", "said"),
    [
        ("lip.front", "an equals sign"),
        ("lip.frnt=37 in", "lip.front"),
        ("lip.front=37", "unit is missing"),
        ("taps.count=many", "taps.count"),
        ("board.stock=board-1x66", "board-1x6"),
    ],
)
def test_a_wrong_flag_is_told_and_nothing_is_written(tmp_path: Path, flag: str, said: str) -> None:
    file = tmp_path / "mine.toml"
    done = run("new", file, "--set", flag)
    assert done.exit_code == 2
    assert said in done.stderr
    assert not file.exists()


def test_flags_are_held_against_one_another(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    # 12 taps 4 in apart span 44 in of a 37 in board
    rest = {"board.stock": "board-1x6", "taps.count": "12", "taps.spacing": "4 in"}
    done = run("new", file, *flags(SIDES | rest | {"taps.bore": "1 in"}))
    assert done.exit_code == 2
    assert "short points" in done.stderr
    assert not file.exists()


def test_complete_keeps_what_somebody_wrote_by_hand(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    mine = '# mine\n[lip]\nfront = "37 in"  # twice\n[well]\nheight = "700 mm"\nfoo = "bar"\n'
    file.write_text(mine)
    done = run("new", file, "--complete", "--set", "lip.right=21 in")
    assert done.exit_code == 0, done.stderr
    text = file.read_text()
    assert set(mine.splitlines()) < set(text.splitlines())
    assert 'right = "21 in"' in text
    assert "not your reading" not in text
    assert "Still open: title, show, lip.back" in done.stdout
    file.write_text("[lip\n")
    done = run("new", file, "--complete", "--set", "lip.right=21 in")
    assert done.exit_code == 2
    assert "collarwright check" in done.stderr
    assert file.read_text() == "[lip\n"


def test_what_a_key_opens_is_what_the_checks_say() -> None:
    found = opens()
    assert "stand" in found["lip.land"]
    assert set(found["lip.front_left_to_back_right"]) >= {"lip-square", "readings"}
    assert "lip-square" not in found["lip.front_right_to_back_left"]
    assert set(found["taps.shank"]) >= {"bore-entry", "shank-grip", "nut-cover"}
    assert "skirt" in found["lid.skirt_thickness"]
    assert "saw" in found["shop.tilt_max"]
    assert found["lip.corner_radius"] == ()
    assert {check for checks in found.values() for check in checks} <= set(CHECKS)
    assert set(found) == {key for key, each in BY_KEY.items() if not each.needed}


def test_a_file_is_whole_at_every_moment_and_has_ordinary_rights(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    before = os.umask(0o027)
    try:
        keeper = Keeper(file, fresh=True)
        keeper.write("one\n")
    finally:
        os.umask(before)
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert names(tmp_path) == ["mine.toml"]
    inode = file.stat().st_ino
    keeper.write("two\n")
    assert file.read_text() == "two\n"
    assert file.stat().st_ino != inode, "the file was written in place: half of it could be seen"
    assert names(tmp_path) == ["mine.toml"]


def test_a_file_that_was_made_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    keeper = Keeper(file, fresh=True)
    file.write_text("somebody else's")
    with pytest.raises(FileExistsError):
        keeper.write("mine")
    assert file.read_text() == "somebody else's"
    assert names(tmp_path) == ["mine.toml"]


def test_what_a_killed_run_left_is_swept(tmp_path: Path) -> None:
    old, new = tmp_path / ".mine.toml-abc.part", tmp_path / ".mine.toml-def.part"
    for each in (old, new, tmp_path / ".other.toml-abc.part"):
        each.write_text("half")
    os.utime(old, (time.time() - 120,) * 2)
    Keeper(tmp_path / "mine.toml", fresh=True).sweep()
    assert names(tmp_path) == [".mine.toml-def.part", ".other.toml-abc.part"]


def test_a_change_by_somebody_else_is_seen(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    keeper = Keeper(file, fresh=True)
    assert keeper.changed() is None
    keeper.write("one\n")
    assert keeper.changed() is None
    file.write_text("theirs\n")
    assert keeper.changed() == "theirs\n"
