"""Shell completion as a shell drives it: bash runs the function that the program prints."""

import os
import shlex
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest
from collarwright.outputs import build, cli, complete
from collarwright.outputs.paper.sizes import PAPER_NAMES
from collarwright.params.catalogue import NAMES

PROGRAM = Path(sys.executable).parent / "collarwright"

pytestmark = pytest.mark.skipif(not PROGRAM.exists(), reason="the command is not installed")


def environment(**more: str) -> dict[str, str]:
    path = f"{PROGRAM.parent}{os.pathsep}{os.environ.get('PATH', '')}"
    return {**os.environ, "PATH": path, **more}


def script(shell: str) -> str:
    """What ``--show-completion`` prints in a shell."""
    env = environment(_TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION="1")
    command = [str(PROGRAM), "--show-completion", shell]
    done = subprocess.run(command, capture_output=True, text=True, env=env, check=True)
    return done.stdout


@pytest.fixture(scope="module")
def bash_script() -> str:
    return script("bash")


@pytest.fixture
def offered(bash_script: str, tmp_path: Path):
    """Return what bash is offered for a line whose last word is being typed."""
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("there is no bash")

    def ask(line: str) -> list[str]:
        words = ["collarwright", *line.split(" ")]
        asked = (
            f"{bash_script}\nCOMP_WORDS=({' '.join(map(shlex.quote, words))})\n"
            f"COMP_CWORD={len(words) - 1}\n"
            'eval "$(complete -p collarwright | sed "s/.*-F \\([^ ]*\\) .*/\\1/") collarwright"\n'
            'printf "%s\\n" "${COMPREPLY[@]}"\n'
        )
        done = subprocess.run(
            [bash, "--norc", "-c", asked],
            capture_output=True,
            text=True,
            env=environment(),
            cwd=tmp_path,
            check=True,
            timeout=30,
        )
        assert done.stderr == ""
        return done.stdout.split("\n")[:-1] if done.stdout != "\n" else []

    return ask


def test_commands_and_options(offered) -> None:
    assert offered("") == [
        "new",
        "sheet",
        "check",
        "build",
        "stock",
        "work",
        "buy",
        "catalog",
        "keys",
    ]
    assert offered("ch") == ["check"]
    assert {"--out", "--only", "--paper", "--json"} <= set(offered("build --"))
    assert offered("build --dxf-") == ["--dxf-units", "--dxf-version"]


def test_the_values_of_options(offered) -> None:
    assert offered("build --paper ") == list(PAPER_NAMES)
    assert offered("build --paper a") == ["a4", "a3", "a1", "a0"]
    assert offered("build --only ") == ["model", "cut", "templates", "drawings", "lists"]
    assert offered("build --dxf-units ") == ["mm", "in"]
    assert offered("build --dxf-version R") == ["R2000", "R12"]
    assert offered("catalog shanks --show ") == ["in", "mm"]


def test_names_of_catalogues_and_tables(offered) -> None:
    assert offered("catalog ") == list(NAMES)
    assert offered("catalog sh") == ["shanks"]
    assert offered("keys l") == ["lip", "lid", "limits"]
    assert {"top", "well.step", "built.bore"} <= set(offered("keys "))
    assert offered("keys lip.land") == ["lip.land", "lip.land_starts"]


def test_build_files(offered, tmp_path: Path) -> None:
    for name in ("porch.toml", "garage.toml", "notes.txt", "old/shed.toml", "old/attic.toml"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).touch()
    (tmp_path / "my freezer.toml").touch()
    for command in ("check", "build", "stock", "new", "catalog --beside"):
        assert offered(f"{command} ") == [
            "garage.toml",
            "my\\ freezer.toml",
            "old/",
            "porch.toml",
        ]
    assert offered("check p") == ["porch.toml"]
    assert offered("check o") == ["old/attic.toml", "old/shed.toml"]
    assert offered("check old/s") == ["old/shed.toml"]
    assert offered("check nothing") == []  # bash goes on by itself: complete -o default
    assert offered("check notes") == []


def test_bash_completes_files_by_itself_where_nothing_is_offered(bash_script: str) -> None:
    assert "complete -o default" in bash_script


@pytest.mark.parametrize(("shell", "word"), [("zsh", "#compdef"), ("fish", "complete --command")])
def test_the_scripts_of_other_shells(shell: str, word: str) -> None:
    assert script(shell).strip().startswith(f"{word} collarwright")


@pytest.mark.parametrize(
    ("shell", "more", "said"),
    [
        ("zsh", {}, '"letter"'),
        ("fish", {"_TYPER_COMPLETE_FISH_ACTION": "get-args"}, "letter"),
    ],
)
def test_what_other_shells_are_told(shell: str, more: dict[str, str], said: str) -> None:
    env = environment(
        _COLLARWRIGHT_COMPLETE=f"complete_{shell}",
        _TYPER_COMPLETE_ARGS="collarwright build --paper l",
        **more,
    )
    done = subprocess.run([str(PROGRAM)], capture_output=True, text=True, env=env, check=False)
    assert said in done.stdout
    assert "a4" not in done.stdout


def test_what_is_offered_is_what_is_taken() -> None:
    assert build.KINDS == complete.KINDS
    assert complete.kinds("") == list(build.KINDS)
    for choices in (complete.DXF_UNITS, complete.DXF_VERSIONS, complete.SHOWS):
        assert len(set(choices)) == 2
    assert cli.offer is complete


def test_a_path_of_somebodys_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "porch.toml").touch()
    (tmp_path / "porch.txt").touch()
    monkeypatch.setenv("HOME", str(tmp_path))
    assert complete.build_files("~/p") == ["~/porch.toml"]
    assert complete.build_files("~nobody-of-that-name/p") == []


def test_the_shell_does_not_wait() -> None:
    """Choices load neither the tables of the build file nor anything that draws."""
    for line in ("build --paper ", "build --only ", "catalog ", "check "):
        words = ["collarwright", *line.split(" ")]
        env = environment(
            _COLLARWRIGHT_COMPLETE="complete_bash",
            COMP_WORDS=" ".join(words),
            COMP_CWORD=str(len(words) - 1),
        )
        start = time.perf_counter()
        command = [sys.executable, "-X", "importtime", str(PROGRAM)]
        done = subprocess.run(command, capture_output=True, text=True, env=env, check=False)
        assert time.perf_counter() - start < 5  # 0.2 s; a machine may be busy
        for heavy in ("pint", "numpy", "ezdxf", "cadquery", "collarwright.params.project"):
            assert f" {heavy}\n" not in done.stderr, (line, heavy)
