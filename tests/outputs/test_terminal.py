"""The program at a real terminal and into a pipe: progress, color, width, streams, statuses."""

import io
import json
import os
import pty
import re
import select
import shutil
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

import pytest
from collarwright.outputs import terminal
from collarwright.outputs.cli import app
from collarwright.outputs.terminal import Progress, slow
from collarwright.params.catalogue import NAMES
from typer.main import get_command
from typer.testing import CliRunner, Result

ROOT = Path(__file__).parents[2]
EXAMPLES, BAD = ROOT / "examples", ROOT / "tests" / "bad"
GOOD, TIGHT = EXAMPLES / "cold-coffee.toml", EXAMPLES / "kombucha-too-tight.toml"
COMMANDS = ("sheet", "new", "check", "build", "stock", "buy", "work", "catalog", "keys")
ESCAPE = "\x1b"
COLOR = re.compile(r"\x1b\[[0-9;]*m")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def at_terminal(
    *words: str | Path, env: Mapping[str, str] | None = None, piped: bool = False
) -> tuple[str, str, int]:
    """Run the program with a terminal each for stdout and stderr; a pipe for stdout on demand.

    Returns what came out of each, as sent, and the exit status.
    """
    out, err = pty.openpty(), pty.openpty()
    pipe = os.pipe() if piped else out
    clean = {key: value for key, value in os.environ.items() if key not in {"NO_COLOR", "TERM"}}
    child = subprocess.Popen(
        [sys.executable, "-m", "collarwright.outputs", *map(str, words)],
        stdin=subprocess.DEVNULL,
        stdout=pipe[1],
        stderr=err[1],
        env={**clean, "TERM": "xterm", **(env or {})},
    )
    os.close(pipe[1])
    os.close(err[1])
    said: dict[int, bytes] = {pipe[0]: b"", err[0]: b""}
    left = set(said)
    end = time.monotonic() + 60
    while left and time.monotonic() < end:
        for stream in select.select(list(left), [], [], 1)[0]:
            try:
                piece = os.read(stream, 4096)
            except OSError:  # the last writer is gone
                piece = b""
            if not piece:
                left.discard(stream)
            said[stream] += piece
    status = child.wait(timeout=60)
    for stream in said:
        os.close(stream)
    return said[pipe[0]].decode(), said[err[0]].decode(), status


def screen(sent: str) -> str:
    """What a terminal shows in the end: a return goes back, ``ESC [ K`` wipes the rest."""
    lines, column = [""], 0
    for piece in re.findall(r"\x1b\[K|[\r\n]|[^\x1b\r\n]+", sent):
        if piece == "\r":
            column = 0
        elif piece == "\n":
            lines.append("")
            column = 0
        elif piece == "\x1b[K":
            lines[-1] = lines[-1][:column]
        else:
            lines[-1] = lines[-1][:column] + piece + lines[-1][column + len(piece) :]
            column += len(piece)
    return "\n".join(lines)


# --- progress -----------------------------------------------------------------------------


def test_a_build_tells_a_terminal_what_it_does_and_takes_it_back(tmp_path: Path) -> None:
    words = ("build", GOOD, "--out", tmp_path / "out", "--only", "cut")
    out, err, status = at_terminal(*words)
    assert status == 0
    assert "… writing cut" in err
    assert "… reading it back" in err
    assert screen(err) == ""
    assert "Wrote 9 files" in " ".join(screen(out).split())
    assert "…" not in out


def test_with_the_results_in_a_pipe_the_terminal_still_shows_progress(tmp_path: Path) -> None:
    words = ("build", GOOD, "--out", tmp_path / "out", "--only", "cut", "--json")
    out, err, status = at_terminal(*words, piped=True)
    assert status == 0
    assert json.loads(out)["verdict"] != "fail"
    assert "… writing cut" in err


def test_a_dumb_terminal_gets_lines(tmp_path: Path) -> None:
    words = ("build", GOOD, "--out", tmp_path / "out", "--only", "cut")
    out, err, _ = at_terminal(*words, env={"TERM": "dumb"})
    assert ESCAPE not in out + err
    assert err.split("\r\n")[:2] == ["… writing cut", "… reading it back"]


def test_a_pipe_gets_no_progress(tmp_path: Path) -> None:
    words = ["build", str(GOOD), "--out", str(tmp_path / "out"), "--only", "cut"]
    command = [sys.executable, "-m", "collarwright.outputs", *words]
    done = subprocess.run(command, capture_output=True, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"\x1b" not in done.stdout
    assert b"\r" not in done.stdout


def test_quick_work_is_not_told() -> None:
    _, err, status = at_terminal("keys", "lip")
    assert (err, status) == ("", 0)


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_what_takes_long_is_told_after_a_while(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = _Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(terminal, "SLOW", 0.05)
    with slow("weighing the lid"):
        assert stream.getvalue() == ""
        time.sleep(0.5)
        assert screen(stream.getvalue()) == "… weighing the lid"
    assert screen(stream.getvalue()) == ""


def test_progress_is_taken_back_when_the_work_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = _Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setenv("TERM", "xterm")

    def saw() -> None:
        with Progress() as say:
            say("sawing")
            raise ValueError

    with pytest.raises(ValueError):  # noqa: PT011 - it is ours
        saw()
    assert "sawing" in stream.getvalue()
    assert screen(stream.getvalue()) == ""


def test_a_line_of_progress_is_never_longer_than_the_terminal(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    stream = _Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "20")
    with Progress() as say:
        say("writing " + 50 * "x")
        assert len(screen(stream.getvalue())) == 19


# --- color --------------------------------------------------------------------------------


@pytest.mark.parametrize("file", [GOOD, TIGHT], ids=lambda path: path.stem)
def test_color_says_nothing_that_no_word_says(file: Path) -> None:
    out, _, _ = at_terminal("check", file)
    assert COLOR.search(out)
    bare = re.sub(r"\x1b\[[\d;]*m", "", out).replace("\r\n", "\n")
    assert bare == run("check", file).stdout
    colored = re.findall(r"\x1b\[\d+m\x1b\[1m([A-Z ]+) \(\d+\)\x1b\[0m\r\n", out)
    assert colored == re.findall(r"^([A-Z ]+) \(\d+\)$", bare, re.MULTILINE)
    assert set(colored) <= {"FAILS", "TIGHT", "NOT CHECKED", "PASSES"}


@pytest.mark.parametrize("env", [{"NO_COLOR": "1"}, {"NO_COLOR": "0"}, {"TERM": "dumb"}])
def test_color_is_left_out_where_it_is_not_wanted(env: dict[str, str]) -> None:
    out, err, status = at_terminal("check", TIGHT, env=env)
    assert status == 1
    assert not COLOR.search(out + err)


def test_an_empty_no_color_is_none() -> None:
    assert COLOR.search(at_terminal("check", TIGHT, env={"NO_COLOR": ""})[0])


def test_pipes_and_data_have_no_color() -> None:
    assert ESCAPE not in at_terminal("check", TIGHT, piped=True)[0]
    out, _, _ = at_terminal("check", TIGHT, "--json")
    assert ESCAPE not in out
    assert json.loads(out)["verdict"] == "fail"


# --- width --------------------------------------------------------------------------------


def too_long(text: str) -> list[str]:
    """Lines of more than 80 characters that could have been broken."""
    return [line for line in text.splitlines() if len(line) > 80 and " " in line.strip()]


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_fits(command: str) -> None:
    done = run(*([command] if command else []), "--help")
    assert done.exit_code == 0
    assert too_long(done.stdout) == []
    assert "..." not in done.stdout.partition("Commands:")[2]  # whole sentences in the list


@pytest.mark.parametrize("show", ["mm", "in"])
def test_catalogues_fit(show: str) -> None:
    for name in (None, *NAMES):
        done = run("catalog", *([name] if name else []), "--show", show)
        assert done.exit_code == 0
        assert too_long(done.stdout) == []


def test_keys_fit() -> None:
    assert too_long(run("keys").stdout) == []


def test_a_report_and_what_was_written_fit(tmp_path: Path) -> None:
    for words in (("check", TIGHT, "-v"), ("build", TIGHT, "--out", tmp_path, "--only", "cut")):
        assert too_long(run(*words).stdout) == []


def test_problems_fit_and_examples_can_be_copied(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(BAD)
    files = sorted(BAD.glob("*.toml"))
    assert len(files) >= 60
    for file in files:
        done = run("check", file.name)
        assert done.exit_code == 2
        assert too_long(done.stderr) == [], file.name
        plain = " ".join(done.stderr.split())
        for line in file.with_suffix(".txt").read_text().splitlines():
            assert " ".join(line.split()) in plain
            if line.startswith("  for example: "):
                assert any(said.startswith(line) for said in done.stderr.splitlines()), line


def test_a_long_path_stays_whole(tmp_path: Path) -> None:
    file = tmp_path / ("a" * 90) / "missing.toml"
    first = run("check", file).stderr.splitlines()[0]
    assert first == f"{file}:"


def test_a_missing_table_is_shown_filled(tmp_path: Path) -> None:
    file = tmp_path / "empty.toml"
    file.write_text('title = "nothing yet"\n')
    said = run("check", file).stderr
    blocks = re.findall(r"for example:\n((?:    .*\n)+)", said)
    assert len(blocks) == 3
    file.write_text("\n".join(blocks))
    assert run("check", file).exit_code in {0, 1}


# --- help, streams, statuses --------------------------------------------------------------


def test_these_are_all_the_commands() -> None:
    assert set(COMMANDS) == set(get_command(app).commands)  # type: ignore[attr-defined]


@pytest.mark.parametrize("command", COMMANDS)
def test_everything_that_a_command_takes_is_described(command: str) -> None:
    taken = get_command(app).commands[command].params  # type: ignore[attr-defined]
    said = " ".join(run(command, "--help").stdout.split())
    for each in taken:
        assert each.help, each.name
        assert " ".join(each.help.split()) in said


@pytest.mark.parametrize("command", COMMANDS)
def test_the_example_of_a_command_runs(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = re.search(r"^ +Example: collarwright (.*)$", run(command, "--help").stdout, re.M)
    assert found is not None
    words = found[1].split()
    assert words[0] == command
    monkeypatch.chdir(tmp_path)
    shutil.copytree(EXAMPLES, "examples")
    more = ["--only", "cut"] if command == "build" else []  # the model takes long
    assert run(*words, *more).exit_code == 0


def test_the_help_at_the_top_tells_the_statuses() -> None:
    said = " ".join(run("--help").stdout.split())
    assert "Exit status: 0 no must fails, 1 one does, 2 the input or the call is wrong" in said
    assert "3 a written file did not come out right" in said


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (("--version",), 0),
        (("--help",), 0),
        (("new", "NEW.toml"), 0),
        (("check", GOOD), 0),
        (("check", TIGHT), 1),
        (("check", TIGHT, "--json"), 1),
        (("check", "--schema"), 0),
        (("build", GOOD, "--only", "cut"), 0),
        (("build", TIGHT, "--only", "cut"), 1),
        (("build", TIGHT, "--only", "cut", "--json"), 1),
        (("catalog",), 0),
        (("catalog", "shanks"), 0),
        (("catalog", "shanks", "--csv"), 0),
        (("catalog", "--json"), 0),
        (("keys",), 0),
        (("keys", "lip", "--json"), 0),
    ],
    ids=lambda each: " ".join(Path(word).name for word in each) if isinstance(each, tuple) else "",
)
def test_results_go_to_stdout(
    words: tuple[str, ...], status: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = run(*words)
    assert done.exit_code == status
    assert done.stdout
    assert done.stderr == ""


@pytest.mark.parametrize(
    "words",
    [
        ("frobnicate",),
        ("--frobnicate",),
        *((command, "--frobnicate") for command in COMMANDS),
        ("new",),
        ("new", "there.toml"),
        ("new", "x.toml", "--set", "lip.front=940"),
        ("check",),
        ("check", "missing.toml"),
        ("check", "there.toml"),
        ("build",),
        ("build", "missing.toml"),
        ("build", "there.toml"),
        ("build", GOOD, "--paper", "papyrus"),
        ("build", GOOD, "--out", "there.toml", "--only", "cut"),
        ("catalog", "spanners"),
        ("catalog", "shanks", "--show", "feet"),
        ("catalog", "shanks", "--beside", "nowhere/x.toml"),
        ("catalog", "--csv"),
        ("catalog", "shanks", "--csv", "--json"),
        ("keys", "lipp"),
    ],
    ids=lambda words: " ".join(Path(word).name for word in words),
)
def test_messages_go_to_stderr(
    words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("there.toml").write_text("[lip]\nfront = 940\n")
    done = run(*words)
    assert done.exit_code == 2
    if "--json" in words:
        assert json.loads(done.stdout)["problems"]
    else:
        assert done.stdout == ""
        assert done.stderr
        assert too_long(done.stderr) == []
    assert "Traceback" not in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["there.toml"]
