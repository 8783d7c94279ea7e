"""DIR is replaced whole or left as it was, and what is not ours stays."""

import errno
import json
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from collarwright.outputs import place
from collarwright.outputs.place import PlaceError, fresh_tree


def write(out: Path, *paths: str, text: str = "new") -> None:
    """Run one build that writes these paths."""
    with fresh_tree(out) as root:
        for path in paths:
            (root / path).parent.mkdir(parents=True, exist_ok=True)
            (root / path).write_text(text)
        entries = [{"path": path} for path in paths]
        summary = {"format": 1, "build_file": "x.toml", "files": entries}
        (root / "summary.json").write_text(json.dumps(summary))


def tree(folder: Path) -> dict[str, str]:
    """Return every file with its text."""
    return {
        path.relative_to(folder).as_posix(): path.read_text()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_a_new_folder_holds_exactly_what_was_written(tmp_path: Path) -> None:
    write(tmp_path / "deep" / "out", "cut/a.dxf")
    assert set(tree(tmp_path)) == {"deep/out/cut/a.dxf", "deep/out/summary.json"}


def test_what_an_earlier_run_wrote_goes_and_foreign_files_stay(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, "cut/old.dxf", "cut/both.dxf", text="old")
    (out / "cut" / "my notes.txt").write_text("mine")
    (out / "photo.txt").write_text("mine too")
    write(out, "cut/both.dxf", "model/a.step")
    assert {name: text for name, text in tree(out).items() if name != "summary.json"} == {
        "cut/both.dxf": "new",
        "cut/my notes.txt": "mine",
        "model/a.step": "new",
        "photo.txt": "mine too",
    }
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("foreign", ["cut/a.dxf", "cut", "summary.json"])
def test_a_foreign_file_where_ours_must_go_is_refused_and_untouched(
    tmp_path: Path, foreign: str
) -> None:
    out = tmp_path / "out"
    (out / foreign).parent.mkdir(parents=True)
    (out / foreign).write_text("mine")
    before = tree(out)
    with pytest.raises(PlaceError, match="not a file of this program"):
        write(out, "cut/a.dxf")
    assert tree(out) == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_run_that_goes_wrong_leaves_everything_as_it_was(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, "cut/a.dxf", text="old")
    before = tree(out)
    with pytest.raises(RuntimeError), fresh_tree(out) as root:  # noqa: PT012 - one block is the run
        (root / "cut").mkdir()
        (root / "cut" / "a.dxf").write_text("half")
        raise RuntimeError
    assert tree(out) == before
    with pytest.raises(RuntimeError), fresh_tree(tmp_path / "new" / "er"):
        raise RuntimeError
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_links_files_and_the_folder_one_stands_in_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = tmp_path / "real"
    real.mkdir()
    (tmp_path / "link").symlink_to(real)
    (tmp_path / "file").write_text("mine")
    monkeypatch.chdir(real)
    for name, said in (("link", "symbolic link"), ("file", "is a file"), ("real", "stand in")):
        with pytest.raises(PlaceError, match=said):
            write(tmp_path / name, "a")
    with pytest.raises(PlaceError, match="stand in"):
        write(tmp_path, "a")


def test_a_manifest_that_names_paths_outside_cannot_make_them_vanish(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, "a.txt")
    (tmp_path / "treasure.txt").write_text("mine")
    summary = {"format": 1, "build_file": "x", "files": [{"path": "../treasure.txt"}]}
    (out / "summary.json").write_text(json.dumps(summary))
    (out / "a.txt").unlink()
    write(out, "b.txt")
    assert (tmp_path / "treasure.txt").read_text() == "mine"


def test_without_an_exchange_in_one_step_two_steps_do_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cannot(one: Path, other: Path) -> None:
        raise OSError(errno.ENOSYS, "not here")

    monkeypatch.setattr(place, "_swap", cannot)
    write(tmp_path / "out", "a", text="old")
    write(tmp_path / "out", "b")
    assert set(tree(tmp_path)) == {"out/b", "out/summary.json"}
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_the_next_run_clears_what_a_killed_one_left_and_puts_back_what_it_moved(
    tmp_path: Path,
) -> None:
    out = tmp_path / "out"
    write(out, "a", text="old")
    (tmp_path / f".out-abcdefg1{place.NEW}").mkdir()
    (tmp_path / f".out-abcdefg1{place.NEW}" / "half").write_text("half")
    (out / "mine.txt").write_text("mine")
    out.rename(tmp_path / f".out-abcdefg2{place.OLD}")
    write(out, "b")
    assert set(tree(tmp_path)) == {"out/b", "out/mine.txt", "out/summary.json"}


def test_a_living_run_is_not_cleared(tmp_path: Path) -> None:
    out = tmp_path / "out"
    with fresh_tree(out) as first:
        (first / "first").write_text("1")
        write(out, "second")
        assert (first / "first").exists()
        (first / "summary.json").write_text(
            json.dumps({"format": 1, "build_file": "x", "files": [{"path": "first"}]})
        )
    assert set(tree(tmp_path)) == {"out/first", "out/summary.json"}


KILLED = """
import json, sys, time
from pathlib import Path
from collarwright.outputs.place import fresh_tree
out, mark = Path(sys.argv[1]), sys.argv[2]
print("ready", flush=True)
with fresh_tree(out) as root:
    names = [f"part-{i}" for i in range(40)]
    for name in names:
        (root / name).write_text(mark)
    entries = [{"path": name} for name in names]
    summary = {"format": 1, "build_file": "x", "mark": mark, "files": entries}
    (root / "summary.json").write_text(json.dumps(summary))
print("done", flush=True)
"""


@pytest.mark.parametrize("seed", range(4))
def test_killed_at_any_moment_the_old_tree_or_the_new_one_is_there(
    tmp_path: Path, seed: int
) -> None:
    out = tmp_path / "out"
    write(out, *(f"part-{i}" for i in range(40)), text="first")
    (out / "mine.txt").write_text("mine")
    chance = random.Random(seed)
    for number in range(12):
        run = subprocess.Popen(
            [sys.executable, "-c", KILLED, str(out), f"mark-{number}"], stdout=subprocess.PIPE
        )
        assert run.stdout is not None
        run.stdout.readline()
        time.sleep(chance.uniform(0, 0.012))
        run.kill()
        run.wait()
        run.stdout.close()
        found = tree(out)
        assert found.pop("mine.txt") == "mine"
        found.pop("summary.json")
        assert len(found) == 40
        assert len(set(found.values())) == 1
    write(out, "last")
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
