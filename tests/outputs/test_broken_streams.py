"""What becomes of a command whose output goes nowhere: a sentence and a status, no traceback."""

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
GOOD = ROOT / "examples" / "cold-coffee.toml"
TIGHT = ROOT / "examples" / "kombucha-too-tight.toml"
PROGRAM = (sys.executable, "-m", "collarwright.outputs")

needs_full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full")


def run(*words: str | Path, **streams: object) -> subprocess.CompletedProcess[str]:
    """Run the program; what is not said about a stream is caught."""
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **streams}
    command = [*PROGRAM, *map(str, words)]
    return subprocess.run(command, text=True, timeout=60, check=False, **streams)  # type: ignore[call-overload]


@needs_full
@pytest.mark.parametrize(
    "words",
    [
        ("check", GOOD),
        ("check", TIGHT, "--json"),
        ("catalog", "shanks"),
        ("keys",),
        ("--version",),
        ("--help",),
        ("check", "--help"),
        ("check", "--schema"),
    ],
    ids=lambda words: " ".join(Path(word).name for word in words),
)
def test_a_full_disk_behind_stdout(words: tuple[str | Path, ...]) -> None:
    with Path("/dev/full").open("w") as full:
        done = run(*words, stdout=full)
    assert done.returncode == 2
    said = "collarwright: the output could not be written: No space left on device\n"
    assert done.stderr == said


@needs_full
def test_a_full_disk_behind_stdout_takes_nothing_from_dir(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = run("build", GOOD, "--out", tmp_path / "out", "--only", "cut", stdout=full)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert (tmp_path / "out" / "summary.json").is_file()
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@needs_full
def test_a_full_disk_behind_stderr_does_not_turn_a_refusal_into_a_verdict() -> None:
    with Path("/dev/full").open("w") as full:
        assert run("check", "nowhere.toml", stderr=full).returncode == 2
        assert run("check", stderr=full).returncode == 2


@pytest.mark.parametrize("words", [("check", TIGHT), ("catalog", "shanks"), ("--help",)])
def test_nobody_reads_on(words: tuple[str | Path, ...]) -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "w") as closed:
        done = run(*words, stdout=closed)
    # as any program that "| head" ends; 1 would say that a must fails
    assert done.returncode == 128 + signal.SIGPIPE
    assert done.stderr == ""


def closing(*numbers: int) -> Callable[[], None]:
    """Return what closes some streams before the program starts."""

    def close() -> None:
        for number in numbers:
            os.close(number)

    return close


@pytest.mark.parametrize("numbers", [(0,), (1,), (2,), (0, 1, 2)])
def test_closed_streams_change_no_verdict(numbers: tuple[int, ...]) -> None:
    for file, status in ((GOOD, 0), (TIGHT, 1), (GOOD.with_name("gone.toml"), 2)):
        done = run("check", file, preexec_fn=closing(*numbers))
        assert done.returncode == status
        assert "Traceback" not in done.stderr
        assert bool(done.stdout) == (1 not in numbers and status != 2)


WRITES = """
import os, sys
from pathlib import Path
from collarwright.outputs import catalog, cli

def says():
    with Path(sys.argv[0]).open("w") as file:
        os.write(1, b"said by a library in C")
        os.write(2, b"said by a library in C")
        file.write("written")
    return ""

catalog.names_text = says
sys.argv[0] = os.environ["FILE"]
cli.main()
"""


@pytest.mark.parametrize("numbers", [(0,), (1,), (2,), (0, 1, 2)])
def test_what_goes_to_closed_streams_does_not_go_into_files(
    numbers: tuple[int, ...], tmp_path: Path
) -> None:
    done = subprocess.run(
        [sys.executable, "-c", WRITES, "catalog"],
        env={**os.environ, "FILE": str(tmp_path / "file")},
        capture_output=True,
        timeout=60,
        preexec_fn=closing(*numbers),
        check=False,
    )
    assert done.returncode == 0
    assert (tmp_path / "file").read_text() == "written"


STOPPED = """
import os, time
from collarwright.outputs import catalog, cli

def stopped():
    os.kill(os.getpid(), {})
    time.sleep(20)
    return 'went on'

catalog.names_text = stopped
cli.main()
"""


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_stop_is_answered(number: signal.Signals) -> None:
    done = subprocess.run(
        [sys.executable, "-c", STOPPED.format(int(number)), "catalog"],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (128 + number, "", "stopped\n")


def test_what_is_ignored_stays_ignored() -> None:
    """As under nohup, and in the background of a shell script."""
    text = STOPPED.format(int(signal.SIGHUP)).replace("20", "0")
    done = subprocess.run(
        ["sh", "-c", 'trap "" HUP INT; exec "$@"', "sh", sys.executable, "-c", text, "catalog"],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "went on", "")
