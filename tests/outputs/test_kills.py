"""Whole builds, killed at random moments: DIR holds the old design or the new one, never a mix.

Every run starts from a folder that an earlier build wrote and that holds somebody's own files as
well. A process that has loaded everything forks one child for each run, so that a run takes the
time of its work alone; it is also what kills the child, and when.
"""

import json
import os
import random
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import pytest

pytestmark = [pytest.mark.kernel, pytest.mark.slow]

CHUNKS, KILLS, WHOLE_AFTER = 8, 25, 10
SOME = ("--only", "cut", "--only", "model", "--only", "templates")
"""What is built but in one chunk of kills: drawings and lists are written in the same way, and take
longest."""
STOPS = 10

SERVER = Path(__file__).with_name("kill_server.py")

DESIGN = """\
[lip]
front = "37 in"
right = "21 in"
back = "37 in"
left = "21 in"
[board]
stock = "board-1x6"
"""
ONE = DESIGN + '[taps]\ncount = 2\nspacing = "5 in"\nbore = "1 in"\n'
TWO = (
    DESIGN
    + '[taps]\ncount = 3\nspacing = "6 in"\nbore = "1 in"\nside = "left"\n'
    + '[[hole]]\nside = "back"\nheight = "2 in"\ndiameter = "1/2 in"\nname = "hose"\n'
)
FOREIGN = ("photo.jpg", "cut/my notes.txt", "model/own/lock.step", "own/deep/list.csv")


@dataclass(frozen=True, slots=True)
class Ran:
    """A run that is over: exit status (-9: killed), seconds, and what it said on stderr."""

    status: int
    took: float
    said: str


Run = Callable[..., Ran]
Words = tuple[str, ...]
Tree = dict[str, bytes | None]


def look(folder: Path) -> Tree:
    """Return every file with its bytes, and every folder."""
    return {
        path.relative_to(folder).as_posix(): None if path.is_dir() else path.read_bytes()
        for path in folder.rglob("*")
    }


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Run]:
    folder = tmp_path_factory.mktemp("server")
    (folder / "one.toml").write_text(ONE)
    out, err = str(folder / "out"), str(folder / "err")
    environment = {**os.environ, "COVERAGE_PROCESS_START": "", "COVERAGE_PROCESS_CONFIG": ""}
    with subprocess.Popen(
        [sys.executable, SERVER, str(folder / "one.toml"), str(folder / "first")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=environment,
    ) as server:
        assert server.stdin is not None
        assert server.stdout is not None
        assert server.stdout.readline() == "ready\n"

        def build(
            file: Path, dir_: Path, after: float = 0.0, number: int = 0, only: Words = SOME
        ) -> Ran:
            assert server.stdin is not None
            assert server.stdout is not None
            Path(err).write_bytes(b"")  # a run that ends at once does not get to it
            words = ["build", str(file), "--out", str(dir_), *only]
            server.stdin.write(json.dumps([words, out, err, after, number]) + "\n")
            server.stdin.flush()
            status, took = json.loads(server.stdout.readline())
            return Ran(status, took, Path(err).read_text("utf-8", "replace"))

        yield build
        server.stdin.close()


@dataclass(frozen=True, slots=True)
class Scene:
    """Two build files, and what DIR holds after a whole build of each; seconds that one takes."""

    files: tuple[Path, Path]
    trees: tuple[Tree, Tree]
    seconds: float


@pytest.fixture(scope="module")
def scenes(run: Run, tmp_path_factory: pytest.TempPathFactory) -> Callable[[Words], Scene]:
    """What whole builds write, for the kinds that are asked for; worked out once."""
    known: dict[Words, Scene] = {}

    def scene(only: Words) -> Scene:
        if only not in known:
            known[only] = _scene(run, tmp_path_factory, only)
        return known[only]

    return scene


@pytest.fixture
def scene(scenes: Callable[[Words], Scene]) -> Scene:
    return scenes(SOME)


def _scene(run: Run, tmp_path_factory: pytest.TempPathFactory, only: Words) -> Scene:
    folder = tmp_path_factory.mktemp("scene")
    files = (folder / "one.toml", folder / "two.toml")
    for file, text in zip(files, (ONE, TWO), strict=True):
        file.write_text(text)
    out = folder / "out"
    assert run(files[0], out, only=only).status == 0
    furnish(out)
    first = look(out)
    trees: list[Tree] = []
    took: list[float] = []
    for file in (*files, *files):
        done = run(file, out, only=only)
        assert done.status == 0, done.said
        took.append(done.took)
        trees.append(look(out))
    # the same input gives the same bytes, so that a whole tree can be told from any mix
    assert first == trees[0] == trees[2] != trees[1] == trees[3]
    assert trees[0].keys() - trees[1].keys()
    assert trees[1].keys() - trees[0].keys()
    assert all(trees[each][name] == b"mine" for name in FOREIGN for each in (0, 1))
    return Scene(files, (trees[0], trees[1]), median(took))


def furnish(out: Path) -> None:
    """Lay somebody's own files into DIR, and an empty folder."""
    for name in FOREIGN:
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_bytes(b"mine")
    (out / "nothing yet").mkdir()


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_killed_at_a_random_moment_dir_is_the_old_design_or_the_new_one(
    chunk: int, run: Run, scenes: Callable[[Words], Scene], tmp_path: Path
) -> None:
    only = () if chunk == 0 else SOME
    rng, scene = random.Random(chunk), scenes(only)
    out = tmp_path / "out"
    assert run(scene.files[0], out, only=only).status == 0
    furnish(out)
    now = killed = left = 0
    took = [scene.seconds]  # of whole runs: other work on the machine makes them longer
    for number in range(KILLS):
        new = rng.randrange(2)
        after = rng.uniform(0, median(took[-3:]))
        ran = run(scene.files[new], out, after, signal.SIGKILL, only)
        assert ran.status in (0, -signal.SIGKILL), ran.said
        found = look(out)
        allowed = [new] if ran.status == 0 else [now, new]
        whole = [each for each in allowed if found == scene.trees[each]]
        assert whole, f"kill {number}, status {ran.status}: {sorted(found)}"
        now = whole[0]
        took += [ran.took] if ran.status == 0 else []
        killed += ran.status != 0
        left += len(list(tmp_path.iterdir())) > 1
        if number % WHOLE_AFTER == WHOLE_AFTER - 1:
            now = 1 - now
            ran = run(scene.files[now], out, only=only)
            assert ran.status == 0, ran.said
            took.append(ran.took)
            assert look(out) == scene.trees[now]
            assert [path.name for path in tmp_path.iterdir()] == ["out"]
    # the kills came while there was something to kill, and while it was being written
    assert killed > KILLS / 3
    assert left > KILLS / 6


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_stop_at_a_random_moment_is_answered_and_tidied_up(
    number: signal.Signals, run: Run, scene: Scene, tmp_path: Path
) -> None:
    rng = random.Random(int(number))
    out = tmp_path / "out"
    assert run(scene.files[0], out).status == 0
    furnish(out)
    now = stopped = 0
    took = [scene.seconds]
    for _ in range(STOPS):
        new = 1 - now
        after = rng.uniform(0, median(took[-3:]))
        ran = run(scene.files[new], out, after, number)
        found = look(out)
        if ran.status == 0:  # it was done before
            assert found == scene.trees[new]
            took.append(ran.took)
        elif ran.status == -number:  # it came before the program had begun, or after its end
            assert not ran.said
            assert found in (scene.trees[now], scene.trees[new])
        else:
            stopped += 1
            assert ran.status == 128 + number, ran.said
            assert ran.said.startswith("stopped"), ran.said
            assert len(ran.said.splitlines()) == 1, ran.said
            written = {f"nothing was changed in {out}": False, f"{out} is written": True}
            _, _, note = ran.said.strip().partition("; ")
            # with no word of DIR it came before any of the writing, or after all of it
            allowed = [(now, new)[written[note]]] if note else [now, new]
            assert any(found == scene.trees[each] for each in allowed), ran.said
        assert [path.name for path in tmp_path.iterdir()] == ["out"]
        now = 0 if found == scene.trees[0] else 1
    assert stopped > 1
