"""``new`` in a real terminal: from the tape to templates, and broken off in every way."""

import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

Answers = dict[str, list[str]]
PROMPT = re.compile(r"^ *(\S+) .*[\])]: $")

WALK: Answers = {
    "title": ["Cold tea corner"],
    "show": ["in"],
    "lip.front": ["?", "37 1/8 in"],
    "lip.right": ["21", "y"],
    "lip.back": ["36 1/8 in", "y"],
    "lip.left": ["21 1/16 in"],
    "lip.front_left_to_back_right": ["24 5/8 in", "y"],
    "lip.front_right_to_back_left": ["back"],
    "lip.land": ["2 in"],
    "lip.corner_radius": ["3/4 in"],
    "board.stock": ["1x6 softwood"],
    "board.width": ["5 7/16 in"],
    "board.species": ["white pine"],
    "taps.count": ["12"],
    "taps.spacing": ["4 in", "taps.count"],
    "taps.bore": ["1 in"],
    "taps.shank": ["4-1/8"],
    "taps.washer_diameter": ["2 in"],
    "taps.washers": ["1/8 in"],
    "taps.faucet": ["forward"],
    "taps.handle": ["knob"],
    "foam.kind": ["1 in"],
    "y": ["y"],
    "lid.overhang": ["front 1/2 in, others 1/4 in"],
    "lid.gasket": ["bulb"],
    "lid.gasket_inset": ["7/8 in"],
    "lid.gasket_width": ["1 in"],
    "lid.thickness": ["2 1/4 in"],
    "lid.skirt": ["0 in"],
    "lid.plug": ["0 in"],
    "hinge.axis_behind": ["3/4 in"],
    "hinge.axis_above": ["-1/2 in"],
    "hinge.open_to": ["85 deg"],
}


class Terminal:
    """A pseudo-terminal of 80 columns with one command of the program in it."""

    def __init__(self, folder: Path, *words: str) -> None:
        self.leader, follower = pty.openpty()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "collarwright.outputs", *words],
            stdin=follower,
            stdout=follower,
            stderr=follower,
            cwd=folder,
            env={**os.environ, "TERM": "dumb", "COLUMNS": "80"},
            start_new_session=True,
        )
        os.close(follower)
        self.raw = b""
        self.answered = 0

    @property
    def screen(self) -> str:
        return self.raw.decode(errors="replace").replace("\r\n", "\n")

    def wait(self, seconds: float = 60.0) -> str:
        """Wait for a prompt and return its key; empty when the program has ended."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            ready, _, _ = select.select([self.leader], [], [], 0.05)
            if ready:
                try:
                    more = os.read(self.leader, 65536)
                except OSError:
                    more = b""
                if not more:
                    self.process.wait(timeout=10)
                    return ""
                self.raw += more
                continue
            prompt = PROMPT.match(self.screen.rsplit("\n", 1)[-1])
            if prompt and len(self.raw) > self.answered:
                self.answered = len(self.raw)
                return prompt[1]
        self.process.kill()
        raise AssertionError(f"nothing happened for {seconds} s:\n{self.screen[-2000:]}")

    def type(self, text: str) -> None:
        os.write(self.leader, text.encode())

    def play(self, answers: Answers) -> int:
        """Answer each question with the next of its lines, or with Enter, to the end."""
        left = {key: list(lines) for key, lines in answers.items()}
        for _ in range(150):
            key = self.wait()
            if not key:
                os.close(self.leader)
                return self.process.returncode
            lines = left.get(key)
            self.type(f"{lines.pop(0) if lines else ''}\n")
        self.process.kill()
        raise AssertionError(f"it does not end:\n{self.screen[-2000:]}")


def ran(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "collarwright.outputs", *words]
    return subprocess.run(
        command, capture_output=True, text=True, cwd=folder, timeout=120, check=False
    )


def test_from_the_tape_to_templates(tmp_path: Path) -> None:
    walk = {**WALK, "lip.front_right_to_back_left": ["back", "42 11/16 in"]}
    walk["taps.count"] = ["12", "3"]
    walk["taps.spacing"] = ["4 in", "taps.count", "4 in"]
    terminal = Terminal(tmp_path, "new", "my.toml")
    status = terminal.play(walk)
    screen = terminal.screen
    if os.environ.get("KEEP_SCREEN"):
        Path(os.environ["KEEP_SCREEN"]).write_text(screen)
    assert status == 0, screen
    words = " ".join(screen.split())
    for part in (
        "Where: Lid open. The lip is the freezer's top rim, under the lid.",
        "What for: The front board is cut to this.",
        "Usual: 600 to 1800 mm",
        "never drill its walls",
        "The unit is missing; did you mean 21 in? y takes that.",
        "looks like a slip of 1 in; did you mean 37 1/8 in?",
        "did you mean 42 5/8 in (two digits swapped)?",
        "lip.front_left_to_back_right [42 5/8 in; Enter keeps it]",
        "Taken: board-1x6: 1x6 softwood board, 3/4 in x 5 1/2 in.",
        "type the name of taps.count (12) to change that one",
        "Also measure lid and hinge?",
        "Stays open, not checked:",
        "- can the faucet wrench turn each coupling ring? (wrench-swing)",
        "Wrote my.toml. What the checks say:",
        "NOT CHECKED",
        "PASSES",
        "collarwright build my.toml --paper letter",
        "collarwright new my.toml --complete",
    ):
        assert part in words, part
    assert "Traceback" not in screen
    assert max(map(len, screen.split("\n"))) <= 80
    data = tomllib.loads((tmp_path / "my.toml").read_text())
    assert data["lip"]["back"] == "37 1/8 in"
    assert data["lip"]["front_left_to_back_right"] == "42 5/8 in"
    assert data["taps"]["count"] == 3
    # what the screen said to do next
    built = ran(tmp_path, "build", "my.toml", "--paper", "letter", "--only", "templates")
    assert built.returncode == 0, built.stderr
    assert len(list((tmp_path / "my" / "templates").glob("*.pdf"))) >= 1


def answer_some(terminal: Terminal, *lines: str) -> None:
    for line in lines:
        assert terminal.wait()
        terminal.type(f"{line}\n")
    assert terminal.wait() == "lip.back"


def interrupt(terminal: Terminal) -> None:
    terminal.process.send_signal(signal.SIGINT)


def end_of_input(terminal: Terminal) -> None:
    terminal.type("\x04")


def kill(terminal: Terminal) -> None:
    terminal.process.kill()


def close(terminal: Terminal) -> None:
    terminal.process.send_signal(signal.SIGHUP)
    os.close(terminal.leader)
    terminal.leader = -1


@pytest.mark.parametrize(
    ("how", "status"),
    [(interrupt, 0), (end_of_input, 0), (kill, -signal.SIGKILL), (close, 129)],
)
def test_broken_off_it_keeps_what_was_said_and_goes_on_from_there(
    tmp_path: Path, how: Callable[[Terminal], None], status: int
) -> None:
    terminal = Terminal(tmp_path, "new", "my.toml")
    answer_some(terminal, "Ginger corner", "in", "37 1/16 in", "21 in")
    how(terminal)
    if terminal.leader >= 0 and how is not kill:
        assert terminal.wait() == ""
    assert terminal.process.wait(timeout=10) == status
    assert [each.name for each in tmp_path.iterdir()] == ["my.toml"]
    assert "Traceback" not in terminal.screen
    if how in (interrupt, end_of_input):
        assert "Go on with: collarwright new my.toml --complete" in terminal.screen
    data = tomllib.loads((tmp_path / "my.toml").read_text())
    assert data["title"] == "Ginger corner"
    assert data["lip"] == {"front": "37 1/16 in", "right": "21 in"}
    if how is not kill:
        return
    with (tmp_path / "my.toml").open("a") as file:
        file.write("# the tape is the yellow one\n")
    again = Terminal(tmp_path, "new", "my.toml", "--complete")
    rest = {"lip.back": ["37 1/16 in"], "lip.left": ["back", "21 in"], "lip.right": ["21 1/32 in"]}
    more = {"board.stock": ["1x6", ""], "taps.count": ["1"], "taps.bore": ["1 in"]}
    status = again.play({**rest, **more, "board.stock": ["1x6", "1"]})
    assert status == 0, again.screen
    assert "title (" not in again.screen
    assert "Going on with my.toml" in again.screen
    text = (tmp_path / "my.toml").read_text()
    assert "# the tape is the yellow one\n" in text
    assert tomllib.loads(text)["lip"]["left"] == "21 in"
    assert tomllib.loads(text)["lip"]["back"] == "37 1/16 in"
    assert ran(tmp_path, "check", "my.toml").returncode == 0


def test_nothing_said_nothing_written(tmp_path: Path) -> None:
    terminal = Terminal(tmp_path, "new", "my.toml")
    terminal.wait()
    terminal.type("stop\n")
    assert terminal.wait() == ""
    assert terminal.process.returncode == 0
    assert "nothing was written" in terminal.screen
    assert list(tmp_path.iterdir()) == []
