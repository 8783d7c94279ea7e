"""``new``: the talk at the terminal, flags without one, and the file that comes of it."""

import os
import pty
import select
import signal
import subprocess
import sys
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from collarwright.outputs.cli import app
from collarwright.outputs.new.talk import DIAGONALS, doubt, fault, talk
from collarwright.params.starter import BY_KEY, QUESTIONS, answers_in, build_text
from typer.testing import CliRunner, Result

SIDES = {"lip.front": "37 in", "lip.right": "21 in", "lip.back": "37 in", "lip.left": "21 in"}
NEEDED = {
    **SIDES,
    "board.stock": "board-1x6",
    "taps.count": "3",
    "taps.spacing": "4 in",
    "taps.bore": "1 in",
}


def run(*words: str | Path) -> Result:
    """Run the program without a terminal."""
    return CliRunner().invoke(app, [str(word) for word in words])


def talked(path: Path, *lines: str, known: dict[str, str] | None = None) -> tuple[str, str, dict]:
    """Give these lines as answers; return how it ended, what was printed, and the answers."""
    answers = dict(known or {})
    printed: list[str] = []
    given: Iterator[str] = iter(lines)

    def hear(prompt: str) -> str:
        printed.append(prompt)
        line = next(given, None)
        if line is None:
            raise EOFError
        return line

    try:
        ending = talk(path, answers, hear, printed.append)
    except EOFError:
        ending = "broken off"
    return ending, "\n".join(printed), answers


def test_the_example_it_writes_builds_as_it_stands(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    assert run("new", file).exit_code == 0
    done = run("check", file)
    assert done.exit_code == 0
    assert "NOT CHECKED" not in done.stdout
    marked = [line for line in file.read_text().splitlines() if "not your reading" in line]
    assert len(marked) == len(QUESTIONS)


def test_it_writes_over_nothing_unless_told_to(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    file.write_text("mine")
    done = run("new", file)
    assert done.exit_code == 2
    assert "--overwrite" in done.stderr
    assert file.read_text() == "mine"
    assert run("new", file, "--overwrite").exit_code == 0
    assert run("check", file).exit_code == 0
    (tmp_path / "link.toml").symlink_to(file)
    assert run("new", tmp_path / "link.toml", "--overwrite").exit_code == 2
    assert run("new", tmp_path / "no" / "such.toml").exit_code == 2
    assert run("new", tmp_path, "--overwrite").exit_code == 2


def test_flags_answer_the_same_questions(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    flags = [word for key, value in SIDES.items() for word in ("--set", f"{key}={value}")]
    assert run("new", file, *flags, "--set", "taps.count=2").exit_code == 0
    data = tomllib.loads(file.read_text())
    assert data["lip"] == {"front": "37 in", "right": "21 in", "back": "37 in", "left": "21 in"}
    assert data["taps"]["count"] == 2
    assert "lid" not in data
    assert "# land" in file.read_text()
    assert run("check", file).exit_code == 0


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


def test_every_question_has_an_example_that_is_accepted(tmp_path: Path) -> None:
    for question in QUESTIONS:
        answers = {key: value for key, value in NEEDED.items() if key != question.key}
        answers[question.key] = question.example
        assert fault(answers, question.key, tmp_path / "x.toml") == "", question.key


def test_a_wrong_answer_is_told_at_once_and_asked_again(tmp_path: Path) -> None:
    lines = ("", "", "37", "37,5 in", "37 cats", "37 1/2 in")
    _, printed, answers = talked(tmp_path / "x.toml", *lines)
    assert answers["lip.front"] == "37 1/2 in"
    assert "unit is missing" in printed
    assert "37.5 in" in printed
    assert printed.count("3 of 34") == 1


def test_taps_that_do_not_fit_the_board_are_told_at_the_spacing(tmp_path: Path) -> None:
    # 12 taps 4 in apart span 44 in of a 37 in board
    answers = {**NEEDED, "taps.count": "12"}
    assert "short points" in fault(answers, "taps.spacing", tmp_path / "x.toml") + fault(
        answers, "taps.bore", tmp_path / "x.toml"
    )


def test_a_diagonal_that_cannot_belong_is_doubted_once(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    # hypot(37, 21) = 42.544 in: 42 17/32 in to the nearest 1/32
    wrong = {**SIDES, DIAGONALS[0]: "34 1/2 in"}
    assert "42 17/32 in?" in doubt(wrong, DIAGONALS[0], path)
    assert doubt({**SIDES, DIAGONALS[0]: "42 9/16 in"}, DIAGONALS[0], path) == ""
    # the sides and one diagonal say 42.53 in; 43 in is 12 mm off, three tape errors are 3 mm
    both = {**SIDES, DIAGONALS[0]: "42 9/16 in", DIAGONALS[1]: "43 in"}
    assert "42 17/32 in?" in doubt(both, DIAGONALS[1], path)
    known = {**SIDES, "title": "x", "show": "in"}
    lines = ("34 1/2 in", "34 1/2 in", "stop")
    _, printed, answers = talked(path, *lines, known=known)
    assert answers[DIAGONALS[0]] == "34 1/2 in"
    assert printed.count("did you mean") == 1


def test_back_goes_to_the_question_before_and_forgets_its_answer(tmp_path: Path) -> None:
    lines = ("a name", "back", "another name", "in", "stop")
    ending, _, answers = talked(tmp_path / "x.toml", *lines)
    assert ending == "stopped"
    assert answers == {"title": "another name", "show": "in"}


def test_what_can_wait_is_skipped_and_what_stays_open_is_said(tmp_path: Path) -> None:
    _, printed, answers = talked(tmp_path / "x.toml", *("",) * 8, known=dict(SIDES))
    assert "Skipped; not checked without it: stand." in printed
    assert "cannot wait" in printed  # board.stock
    assert "lip.land" not in answers


def test_a_file_it_wrote_can_be_gone_on_with_and_another_cannot(tmp_path: Path) -> None:
    text = build_text(NEEDED)
    assert answers_in(text) == NEEDED
    assert answers_in(build_text({}, frozenset(BY_KEY))) == {}  # examples are no answers
    assert answers_in(text + "# my own note\n") is None
    assert answers_in('[well]\nheight = "700 mm"\n') is None
    assert answers_in("[[taps]]\ncount = 3\n") is None
    file = tmp_path / "mine.toml"
    file.write_text('[lip]\nfront = "37 in"\n[well]\nheight = "700 mm"\n')
    before = file.read_bytes()
    assert run("new", file, "--complete").exit_code == 2
    assert file.read_bytes() == before


def at_a_terminal(folder: Path, *lines: str, stop: int = 0) -> tuple[int, str]:
    """Run ``new mine.toml`` in a pseudo-terminal, type, and return status and screen.

    ``stop`` is the signal sent when all lines are typed, as the interrupt key would.
    """
    leader, follower = pty.openpty()
    command = [sys.executable, "-m", "collarwright.outputs", "new", "mine.toml"]
    if (folder / "mine.toml").exists():
        command.append("--complete")
    process = subprocess.Popen(
        command, stdin=follower, stdout=follower, stderr=follower, cwd=folder
    )
    os.close(follower)
    screen = ""
    typed = [f"{line}\n".encode() for line in lines]
    deadline = time.monotonic() + 60
    waiting = False
    while process.poll() is None and time.monotonic() < deadline:
        ready, _, _ = select.select([leader], [], [], 0.15)
        if ready:
            try:
                screen += os.read(leader, 65536).decode()
            except OSError:
                break
            waiting = screen.endswith("]: ")
        elif waiting and typed:
            os.write(leader, typed.pop(0))
            waiting = False
        elif waiting and stop:
            process.send_signal(stop)
            waiting = False
    if time.monotonic() > deadline:
        process.kill()
    process.wait(timeout=10)
    os.close(leader)
    return process.returncode, screen


def test_at_a_terminal_broken_off_and_gone_on_with(tmp_path: Path) -> None:
    lines = ("Ginger corner", "in", "37 1/16 in", "21 in")
    status, screen = at_a_terminal(tmp_path, *lines, stop=signal.SIGINT)
    assert status == 0, screen
    assert "Traceback" not in screen
    data = tomllib.loads((tmp_path / "mine.toml").read_text())
    assert data["lip"] == {"front": "37 1/16 in", "right": "21 in"}
    rest = ("37 in", "20 15/16 in", "", "", "2 in", "", "board-1x6", "3", "4 in", "1 in")
    skipped = ("",) * (len(QUESTIONS) - 14)
    status, screen = at_a_terminal(tmp_path, *rest, *skipped)
    assert status == 0, screen
    assert "NOT CHECKED" in screen
    assert "PASSES" in screen
    assert run("check", tmp_path / "mine.toml").exit_code == 0
