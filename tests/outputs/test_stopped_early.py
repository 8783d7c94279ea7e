"""Whole processes, stopped in their first seconds, while libraries are loaded and solids made.

``test_kills.py`` forks from a process that has loaded everything; here everything is loaded anew.
"""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

pytestmark = [pytest.mark.kernel, pytest.mark.slow]

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
STOPS, SECONDS, SOON = 12, 3.0, 10.0


def tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def started(out: Path) -> "subprocess.Popen[str]":
    words = [sys.executable, "-m", "collarwright.outputs", "build", str(EXAMPLE), "--out", str(out)]
    return subprocess.Popen(
        words, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, env={**os.environ}
    )


def wait_until_it_listens(run: "subprocess.Popen[str]") -> None:
    """Wait until the process catches SIGTERM; what comes before is the interpreter's alone."""
    status = Path(f"/proc/{run.pid}/status")
    while run.poll() is None:
        caught = next(x for x in status.read_text().splitlines() if x.startswith("SigCgt"))
        if int(caught.split()[1], 16) >> (signal.SIGTERM - 1) & 1:
            return
        time.sleep(0.001)


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="asks Linux who listens")
def test_a_stop_in_the_first_seconds_is_one_sentence(tmp_path: Path) -> None:
    out, chance = tmp_path / "out", random.Random(11)
    with started(out) as run:
        assert run.wait(120) == 0
    new = tree(out)
    old = {"mine.txt": b"mine"}
    stopped = 0
    for number in range(STOPS):
        after = SECONDS * (number + chance.random()) / STOPS
        for path in sorted(out.rglob("*"), reverse=True):
            path.rmdir() if path.is_dir() else path.unlink()
        (out / "mine.txt").write_bytes(b"mine")
        with started(out) as run:
            wait_until_it_listens(run)
            time.sleep(after)
            run.send_signal(signal.SIGINT)
            sent = time.monotonic()
            _, said = run.communicate(timeout=120)
            took = time.monotonic() - sent
        at = f"after {after:.3f} s, {took:.3f} s later: {said}"
        assert run.returncode in (0, 128 + signal.SIGINT), at
        if run.returncode:
            stopped += 1
            assert said.startswith("stopped"), at
            assert said.count("\n") == 1, at
            assert took < SOON, at
        else:
            assert not said, at
        assert tree(out) in (old, {**new, **old}), at
        assert [path.name for path in tmp_path.iterdir()] == ["out"], at
        print(at.strip())  # noqa: T201 - seen where it fails
    assert stopped > STOPS / 2
