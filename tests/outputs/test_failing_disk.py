"""Disks that are full, folders that cannot be written: a sentence, status 2, nothing changed.

What no test can count on (mounting, being another user) is skipped with its reason where it is
not allowed; a file size limit and a disk that is full at the nth file are tried everywhere.
"""

import builtins
import errno
import io
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs.cli import app
from typer.testing import CliRunner, Result

DESIGN = """\
[lip]
front = "37 in"
right = "21 in"
back = "37 in"
left = "21 in"
[board]
stock = "board-1x6"
[taps]
count = 2
spacing = "5 in"
bore = "1 in"
"""
PROGRAM = (sys.executable, "-m", "collarwright.outputs")
FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

Look = dict[str, bytes]


def look(folder: Path) -> Look:
    """Return every file below a folder with its bytes, and every folder and link."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() if path.is_file() else b""
        for path in folder.rglob("*")
    }


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A build file in a folder of its own, so that the rest of ``tmp_path`` can be compared."""
    path = tmp_path / "readings" / "design.toml"
    path.parent.mkdir()
    path.write_text(DESIGN)
    return path


@pytest.fixture
def out(tmp_path: Path, file: Path) -> Path:
    """DIR as an earlier build left it, with a file of somebody's own."""
    path = tmp_path / "work" / "out"
    assert build(file, path, "cut").exit_code == 0
    (path / "cut" / "mine.txt").write_text("mine")
    return path


def words(file: Path, out: Path | str, *kinds: str) -> list[str]:
    only = [word for kind in kinds for word in ("--only", kind)]
    return ["build", str(file), "--out", str(out), *only]


def build(file: Path, out: Path | str, *kinds: str) -> Result:
    """Build in this process."""
    return CliRunner().invoke(app, words(file, out, *kinds))


def refused(result: Result, sentence: str) -> None:
    """Check that a build was refused in one sentence."""
    said = " ".join(result.stderr.split())
    assert result.exit_code == 2, (said, result.exception)
    assert sentence in said
    assert "Traceback" not in said
    assert "fault" not in said
    assert result.stdout == ""


def unshared(script: str, *arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """Run a shell script where it may mount what it likes."""
    command = ["unshare", "--user", "--map-root-user", "--mount", "sh", "-c", script, "sh"]
    return subprocess.run(
        [*command, *map(str, arguments)], capture_output=True, text=True, timeout=120, check=False
    )


@cache
def why_no_mounts() -> str:
    """Return why nothing can be mounted here; nothing if it can."""
    if shutil.which("unshare") is None:
        return "there is no unshare"
    return unshared('mount -t tmpfs none "$1"', Path(__file__).parent).stderr.strip()


needs_mounts = pytest.mark.skipif(bool(why_no_mounts()), reason=why_no_mounts() or "-")


class FullDisk:
    """Opens files until ``files`` were opened for writing; the next one finds the disk full.

    The file that fails is opened and takes ``taken`` characters first, as a full disk does.
    """

    def __init__(self, files: int, taken: int) -> None:
        self.left, self.taken, self.failed = files, taken, False
        self.open = io.open

    def __call__(self, path: Any, mode: str = "r", *args: Any, **more: Any) -> Any:
        stream = self.open(path, mode, *args, **more)
        if "w" not in mode or "-collarwright-new" not in str(path):
            return stream
        self.left -= 1
        if self.left >= 0:
            return stream
        write, room = stream.write, self.taken

        def short(data: Any) -> int:
            nonlocal room
            if len(data) > room:
                write(data[:room])
                self.failed = True
                raise FULL
            room -= len(data)
            return write(data)

        stream.write = short
        return stream


@pytest.mark.kernel
@pytest.mark.parametrize("nth", [0, 1, 3, 4, 7, 8, 12, 15, 99])
def test_a_disk_that_is_full_at_the_nth_file(
    nth: int, file: Path, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = look(out.parent)
    disk = FullDisk(nth, taken=20)
    with monkeypatch.context() as patch:
        patch.setattr(io, "open", disk)
        patch.setattr(builtins, "open", disk)
        done = build(file, out)
    if nth == 99:  # and the disk itself does no harm
        assert done.exit_code == 0, done.stderr
        assert not disk.failed
        return
    assert disk.failed
    refused(done, f"{out} cannot be written: No space left on device")
    assert look(out.parent) == before


@pytest.mark.kernel
@pytest.mark.parametrize("size", [0, 100, 5_000, 20_000])
def test_files_that_may_not_grow(size: int, file: Path, out: Path) -> None:
    before = look(out.parent)

    def limited() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))

    done = subprocess.run(
        [*PROGRAM, *words(file, out)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        preexec_fn=limited,
        check=False,
    )
    said = " ".join(done.stderr.split())
    assert done.returncode == 2, said
    assert said == f"{out} cannot be written: File too large"
    assert look(out.parent) == before


@needs_mounts
@pytest.mark.kernel
@pytest.mark.parametrize("size", ["8k", "100k"])
def test_a_small_disk(size: str, file: Path, tmp_path: Path) -> None:
    script = """
        mount -t tmpfs -o size=$1 none "$2" && shift && cd "$1" && shift || exit 9
        "$@"
        echo "$?"
        ls -A
    """
    (tmp_path / "disk").mkdir()
    done = unshared(script, size, tmp_path / "disk", *PROGRAM, *words(file, "deep/out"))
    assert done.stdout.split() == ["2"]
    assert done.stderr == "deep/out cannot be written: No space left on device\n"


@needs_mounts
def test_dir_that_is_read_only_or_a_mount_or_has_one_in_it(file: Path, out: Path) -> None:
    before = look(out.parent)
    for script, sentence in (
        ('mount --bind -o ro "$1/.." "$1/.." && cd / &&', "cannot be written: Read-only file"),
        ('mount --bind "$1" "$1" &&', "is a mount point and cannot be replaced"),
        ('mount -t tmpfs none "$1" &&', "is a mount point and cannot be replaced"),
        ('mount --bind "$1" "$1/cut" &&', "out/cut is a mount point inside"),
        ('mount -t tmpfs none "$1/cut" &&', "out/cut is a mount point inside"),
        (
            'mount --bind /proc/self/status "$1/cut/mine.txt" &&',
            "out/cut/mine.txt is a mount point inside",
        ),
        ('mkdir "$1/a b" && mount --bind "$1/cut" "$1/a b" &&', "out/a b is a mount point inside"),
    ):
        done = unshared(f'{script} shift && "$@"', out, *PROGRAM, *words(file, out, "cut"))
        assert done.returncode == 2, done
        assert sentence in " ".join(done.stderr.split())
        assert "Traceback" not in done.stderr
        if (out / "a b").is_dir():
            (out / "a b").rmdir()
        assert look(out.parent) == before


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can be somebody else")
@pytest.mark.skipif(shutil.which("setpriv") is None, reason="there is no setpriv")
@pytest.mark.parametrize("shut", ["parent", "dir", "inside"])
def test_folders_that_are_somebody_elses(shut: str) -> None:
    with tempfile.TemporaryDirectory() as top:  # pytest's own folders are shut to others
        Path(top).chmod(0o755)
        out = Path(top) / "work" / "out"
        file = Path(top) / "design.toml"
        file.write_text(DESIGN)
        assert build(file, out, "cut").exit_code == 0
        (out / "own").mkdir(mode=0o700)
        for path in (out.parent, *out.parent.rglob("*")):
            os.chown(path, 65534, 65534)
        os.chown({"parent": out.parent, "dir": out, "inside": out / "own"}[shut], 0, 0)
        before = look(out.parent)
        other = ["setpriv", "--reuid", "65534", "--regid", "65534", "--clear-groups"]
        tried = subprocess.run([*other, *PROGRAM, "--version"], capture_output=True, check=False)
        if tried.returncode:
            pytest.skip("another user cannot run this Python")
        command = [*other, *PROGRAM, *words(file, out, "cut")]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        said = " ".join(done.stderr.split())
        assert look(out.parent) == before, said
        assert done.returncode == 2, said
        assert f"{out} cannot be written: Permission denied" in said


def test_dir_that_is_no_folder_of_its_own(file: Path, out: Path, tmp_path: Path) -> None:
    (out.parent / "file").write_text("mine")
    (out.parent / "link").symlink_to(out)
    (out.parent / "nowhere").symlink_to("gone")
    (out.parent / "ring").symlink_to("ring")
    (out.parent / "a\n\x1b[31m\u202eb").write_text("mine")
    before = look(out.parent)
    for name, sentence in (
        ("file", "file is a file: name a folder, or a new one"),
        ("file/deep/x", "file is a file: no folder can be made in it"),
        ("link", "link is a symbolic link: name the folder itself"),
        ("nowhere", "nowhere is a symbolic link"),
        ("ring", "ring is a symbolic link"),
        ("ring/x", "ring is a symbolic link that leads nowhere"),
        ("nowhere/x", "nowhere is a symbolic link that leads nowhere"),
        ("x" * 256, "cannot be written: File name too long"),
        ("deep/" + "x" * 256 + "/x", "cannot be written: File name too long"),
        ("/".join(["x" * 200] * 30), "cannot be written: File name too long"),
        ("", "cannot be replaced: name a new folder"),
        ("x/..", "cannot be replaced: name a new folder"),
        ("a\n\x1b[31m\u202eb", "a<U+000A><U+001B>[31m<U+202E>b is a file"),
        ("a\0b", "null byte"),
    ):
        refused(build(file, f"{out.parent}/{name}" if name else "", "cut"), sentence)
        assert look(out.parent) == before, name
    assert sorted(path.name for path in tmp_path.iterdir()) == ["readings", "work"]


@pytest.mark.parametrize(
    "name",
    ["x" * 255, "deep/er/x", "a\n\x1b[31m\u202eb", "a*b[c]?", "-x", " ", "\udcff\udcfe", "…", "é"],
)
def test_dir_of_an_odd_name_is_written_and_shown(name: str, file: Path, out: Path) -> None:
    for _ in range(2):
        done = build(file, out.parent / name, "cut")
        assert done.exit_code == 0, done.stderr
        assert (out.parent / name / "summary.json").is_file()
        top = sorted(path.name for path in out.parent.iterdir())
        assert top == sorted(["out", name.split("/")[0]])
        assert not {"\x1b", "\u202e"} & set(done.stdout)
        assert done.stderr == ""


@pytest.mark.skipif(not Path("/dev/shm").is_dir(), reason="there is no /dev/shm")
def test_dir_on_a_file_system_of_its_own(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "gone"))  # nobody may need it
    with tempfile.TemporaryDirectory(dir="/dev/shm") as shared:
        for _ in range(2):
            assert build(file, Path(shared) / "out", "cut").exit_code == 0
        assert [path.name for path in Path(shared).iterdir()] == ["out"]


def test_two_runs_at_once_into_one_dir(file: Path, out: Path) -> None:
    other = file.with_name("other.toml")
    other.write_text(DESIGN.replace("count = 2", "count = 3"))
    running = [
        subprocess.Popen(
            [*PROGRAM, *words(each, out, "cut")], stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        for each in (file, other, file, other)
    ]
    for run in running:
        _, said = run.communicate(timeout=120)
        assert (run.returncode, said) == (0, b"")
    assert [path.name for path in out.parent.iterdir()] == ["out"]
    assert (out / "cut" / "mine.txt").read_text() == "mine"
    (out / "cut" / "mine.txt").unlink()
    found = look(out)
    alone = {}
    for each in (file, other):
        assert build(each, out.parent / "alone", "cut").exit_code == 0
        alone[each] = look(out.parent / "alone")
    last = Path(json.loads(found["summary.json"])["build_file"])
    assert found == alone[last]
