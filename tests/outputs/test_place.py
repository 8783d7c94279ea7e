"""DIR is replaced whole or left as it was, and what is not ours stays."""

import errno
import json
import os
import random
import shutil
import signal
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


def test_what_belongs_to_a_folder_with_a_longer_name_is_not_ours(tmp_path: Path) -> None:
    for name in (f".out-2-abcdefgh{place.OLD}", f".out-2-abcdefgh{place.NEW}"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "theirs").write_text("theirs")
    before = tree(tmp_path)
    write(tmp_path / "out", "a")
    assert before.items() <= tree(tmp_path).items()
    # and the folder with the longer name still finds its own
    write(tmp_path / "out-2", "b")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out", "out-2"]
    assert (tmp_path / "out-2" / "theirs").exists()


def test_a_name_as_long_as_the_file_system_allows(tmp_path: Path) -> None:
    out = tmp_path / ("ü" * 127 + "x")  # 255 bytes
    write(out, "a", text="old")
    left = Path(str(tmp_path / place._prefix(out)) + f"abcdefgh{place.NEW}")
    left.mkdir()
    write(out, "a")
    assert tree(out)["a"] == "new"
    assert [path.name for path in tmp_path.iterdir()] == [out.name]


def test_folders_of_foreign_files_keep_their_mode_and_the_empty_ones_stay(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, "cut/a", text="old")
    for name, mode in (("mine", 0o700), ("mine/deep", 0o755), ("empty", 0o711), ("shut", 0o555)):
        (out / name).mkdir()
        (out / name).chmod(mode)
    for name in ("mine/deep/note", "shut/note"):
        (out / name).parent.chmod(0o755)
        (out / name).write_text("mine")
    (out / "shut").chmod(0o555)
    (out / "mine" / "link").symlink_to("deep/note")
    write(out, "cut/a")
    assert {
        name: (out / name).stat().st_mode & 0o777 for name in ("mine", "mine/deep", "empty", "shut")
    } == {"mine": 0o700, "mine/deep": 0o755, "empty": 0o711, "shut": 0o555}
    assert (out / "mine" / "link").readlink() == Path("deep/note")
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_what_is_neither_file_nor_folder_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, "a", text="old")
    os.mkfifo(out / "pipe")
    with pytest.raises(PlaceError, match="out/pipe is neither a file nor a folder"):
        write(out, "a")
    assert (out / "a").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_a_folder_that_cannot_be_looked_into_is_named_and_not_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write(out, "a", text="old")
    (out / "shut").mkdir()
    (out / "shut" / "mine").write_text("mine")
    real = os.scandir

    def scan(path: str) -> object:
        if str(path).endswith("out/shut"):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))
        return real(path)

    with monkeypatch.context() as patch:
        patch.setattr(os, "scandir", scan)
        with pytest.raises(PlaceError, match=r"cannot be written: Permission denied \(.*out/shut"):
            write(out, "a")
    assert tree(out)["shut/mine"] == "mine"
    assert tree(out)["a"] == "old"


def test_folders_made_on_the_way_to_a_name_that_cannot_be_are_gone(tmp_path: Path) -> None:
    with pytest.raises(PlaceError, match="File name too long"):
        write(tmp_path / "deep" / ("x" * 256) / "out", "a")
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "file").write_text("mine")
    with pytest.raises(PlaceError, match="file is a file: no folder can be made in it"):
        write(tmp_path / "file" / "deep" / "out", "a")


def test_a_name_that_hides_something_is_written_out(tmp_path: Path) -> None:
    (tmp_path / "a\x1b[31m\n\u202eb").write_text("mine")
    with pytest.raises(PlaceError) as said:
        write(tmp_path / "a\x1b[31m\n\u202eb", "a")
    assert "a<U+001B>[31m<U+000A><U+202E>b is a file" in str(said.value)


def test_a_stop_while_files_are_written_leaves_dir_and_says_so(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write(out, "a", text="old")
    before = tree(tmp_path)
    with pytest.raises(KeyboardInterrupt) as stop, fresh_tree(out) as root:  # noqa: PT012
        (root / "a").write_text("half")
        signal.raise_signal(signal.SIGINT)
    assert stop.value.__notes__ == [f"nothing was changed in {out}"]
    assert tree(tmp_path) == before


def test_a_stop_during_the_exchange_waits_until_it_is_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write(out, "a", text="old")
    real = place._exchange

    def exchange(new: Path, out: Path) -> None:
        signal.raise_signal(signal.SIGINT)
        real(new, out)

    monkeypatch.setattr(place, "_exchange", exchange)
    with pytest.raises(KeyboardInterrupt) as stop:
        write(out, "a")
    assert stop.value.__notes__ == [f"{out} is written"]
    assert tree(out)["a"] == "new"
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


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
        assert found.pop("mine.txt", None) == "mine"
        assert found.pop("summary.json", None)
        assert len(found) == 40
        assert len(set(found.values())) == 1
    write(out, "last")
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_dir_is_there_after_every_step(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is removed or renamed on the way, DIR stands in its place afterwards."""
    out = tmp_path / "out"
    write(out, "part", text="first")
    real_remove, real_rename = shutil.rmtree, Path.rename
    steps: list[str] = []

    def remove(path: Path, *args: object, **more: object) -> None:
        real_remove(path, *args, **more)  # type: ignore[arg-type]
        steps.append("removed")
        assert out.exists(), f"DIR was gone when {path} was removed"

    def rename(self: Path, target: Path) -> Path:
        found = real_rename(self, target)
        steps.append("renamed")
        assert out.exists(), f"DIR was gone when {self} was renamed"
        return found

    monkeypatch.setattr(shutil, "rmtree", remove)
    monkeypatch.setattr(Path, "rename", rename)
    write(out, "part", text="second")
    assert steps
    assert (out / "part").read_text() == "second"
