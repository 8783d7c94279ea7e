"""Breaks the program on purpose, one line at a time, and shows that the tests catch each break.

    python tests/spoil.py                   # all of them, two at a time
    python tests/spoil.py --only unit-inch  # one; may be repeated
    python tests/spoil.py --list

A spoil (``spoil_list.py``) names a piece of text that stands in a file exactly once, and what is
put in its place. The rooms are copied into a temporary package that goes before the installed one,
the copy is spoilt, and the tests named beside the spoil must fail: fail, that is, and not merely be
unable to start. A spoil whose text is gone is an error too, so the list cannot go stale. Exit
status: 0 if every spoil was caught, else 1.
"""

import argparse
import ast
import compileall
import os
import py_compile
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue

from spoil_list import SPOILS, Spoil

ROOT = Path(__file__).resolve().parent.parent
ROOMS = ("params", "geometry", "outputs")
WORKERS = 2
PATIENCE = 180.0
"""Seconds that one run of tests may take; what takes longer hangs."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a spoil; ``said`` is the test that failed, or what else happened."""

    spoil: Spoil
    verdict: str
    said: str
    seconds: float


def place(spoil: Spoil, folder: Path) -> Path:
    """Return the file that a spoil changes, in a copy of the rooms."""
    return folder / "collarwright" / spoil.file


def stale(spoil: Spoil, folder: Path) -> str:
    """Say why a spoil cannot be applied; empty where it can."""
    path = place(spoil, folder)
    if not path.is_file():
        return f"there is no {spoil.file}"
    text = path.read_text("utf-8")
    found = text.count(spoil.old)
    if found != 1:
        return f"its text stands {found} times in {spoil.file}, not once: {spoil.old!r}"
    try:
        before, after = (
            ast.dump(ast.parse(each)) for each in (text, text.replace(spoil.old, spoil.new))
        )
    except SyntaxError as error:
        return f"it does not leave a Python file: {error}"
    return "" if before != after else "it changes nothing"


def copy_rooms(folder: Path) -> None:
    """Copy the rooms into a package of their own, which goes before any installed one."""
    package = folder / "collarwright"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("")
    for room in ROOMS:
        shutil.copytree(ROOT / room, package / room, ignore=shutil.ignore_patterns("__pycache__"))
    # By hash: a file that is changed and changed back within a second keeps its time and size.
    mode = py_compile.PycInvalidationMode.CHECKED_HASH
    compileall.compile_dir(folder, quiet=1, invalidation_mode=mode)


def environment(folder: Path) -> dict[str, str]:
    """Return the environment in which Python finds the copy first and runs are alike."""
    kept = {
        name: value
        for name, value in os.environ.items()
        if not name.startswith(("COV_", "COVERAGE_", "PYTEST_")) and name != "PYTHONPATH"
    }
    return kept | {
        "PYTHONPATH": str(folder),
        "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1",  # half of the time that it takes to start
        "CI": "1",  # hypothesis then draws the same examples every time and keeps none
        "HYPOTHESIS_STORAGE_DIRECTORY": str(folder / "hypothesis"),
    }


def imported_from(folder: Path) -> str:
    """Return which ``collarwright.params`` a run in this environment imports."""
    asked = [sys.executable, "-c", "import collarwright.params as p; print(p.__file__)"]
    said = subprocess.run(
        asked, cwd=ROOT, env=environment(folder), capture_output=True, text=True, check=True
    )
    return said.stdout.strip()


def run_tests(folder: Path, tests: Iterable[str], stop: float = PATIENCE) -> tuple[int, str]:
    """Run tests against a copy; return pytest's status (-1: hangs) and what it said."""
    options = ["-x", "-q", "-p", "no:cacheprovider", "--no-header", "-m", "not bench"]
    command = [sys.executable, "-m", "pytest", *options, *tests]
    try:
        done = subprocess.run(
            command,
            cwd=ROOT,
            env=environment(folder),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            timeout=stop,
        )
    except subprocess.TimeoutExpired:
        return -1, f"not done after {stop:.0f} s"
    return done.returncode, done.stdout


@contextmanager
def applied(spoil: Spoil, folder: Path) -> Iterator[None]:
    """Change the copy, and change it back."""
    path = place(spoil, folder)
    text = path.read_text("utf-8")
    path.write_text(text.replace(spoil.old, spoil.new), "utf-8")
    try:
        yield
    finally:
        path.write_text(text, "utf-8")


_FAILED = re.compile(r"^(?:FAILED|ERROR) (\S+?)(?:\[.*?\])?(?: - (.*))?$", re.MULTILINE)
_ASSERTED = ("assert", "AssertionError", "Failed: DID NOT RAISE")
"""How the error of a test begins that looked at a result. A spoil with a slip of its own raises
something else: no test had to be good to see that."""


def tried(spoil: Spoil, folder: Path) -> Outcome:
    """Spoil a copy, run the tests, and say whether they saw it."""
    started = time.monotonic()

    def outcome(verdict: str, said: str) -> Outcome:
        return Outcome(spoil, verdict, said, time.monotonic() - started)

    why = stale(spoil, folder)
    if why:
        return outcome("STALE", why)
    with applied(spoil, folder):
        status, said = run_tests(folder, [spoil.test])
    found = _FAILED.search(said)
    test, error = (found[1], found[2] or "") if found else ("", "")
    if status == 0:
        return outcome("MISSED", f"{spoil.test} passes all the same")
    fair = error.startswith(spoil.error or _ASSERTED)
    if status != 1 or not fair:
        last = "\n    ".join(said.strip().splitlines()[-12:])
        return outcome("UNFAIR", f"pytest's status is {status}, {error or 'no error'}:\n    {last}")
    return outcome("caught", test.partition("::")[2] or test)


def unspoilt(folders: list[Path], spoils: Iterable[Spoil]) -> str:
    """Run every named test once as the program is; return what failed, empty if nothing did."""
    tests = list(dict.fromkeys(spoil.test for spoil in spoils))
    whole = {test for test in tests if "::" not in test}
    tests = [test for test in tests if test in whole or test.partition("::")[0] not in whole]
    shares = [tests[i :: len(folders)] for i in range(len(folders))]
    with ThreadPoolExecutor(len(folders)) as pool:
        runs = pool.map(
            lambda pair: run_tests(*pair, 6 * PATIENCE) if pair[1] else (0, ""),
            zip(folders, shares, strict=True),
        )
        return "\n".join(said for status, said in runs if status)


def main() -> int:
    """Run the spoils that were asked for, print a line each, and return the exit status."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument(
        "--only", metavar="NAME", action="append", help="one spoil; may be repeated"
    )
    parser.add_argument("--list", action="store_true", help="name the spoils and their tests")
    asked = parser.parse_args()
    names = [spoil.name for spoil in SPOILS]
    if len(set(names)) < len(names):
        parser.error(
            "a name stands for two spoils: " + ", ".join(n for n in names if names.count(n) > 1)
        )
    unknown = set(asked.only or ()) - set(names)
    if unknown:
        parser.error(f"no spoil is called {', '.join(sorted(unknown))}; --list names them")
    spoils = [spoil for spoil in SPOILS if not asked.only or spoil.name in asked.only]
    if asked.list:
        for spoil in spoils:
            print(f"{spoil.name:24} {spoil.file}: {spoil.test}")
        return 0
    started = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="spoil-") as place_of_all:
        folders = [Path(place_of_all).resolve() / str(i) for i in range(WORKERS)]
        for folder in folders:
            copy_rooms(folder)
        source = imported_from(folders[0])
        print(f"collarwright.params is {source}")
        if not Path(source).resolve().is_relative_to(folders[0]):
            print("the copy does not go before the installed package: nothing would be spoilt")
            return 1
        failed = unspoilt(folders, spoils)
        if failed:
            print(f"{failed}\nthe tests fail before anything is spoilt")
            return 1
        print(f"the tests pass as the program is ({time.monotonic() - started:.0f} s)", flush=True)
        missed = report(spoils, folders)
    caught = len(spoils) - missed
    print(f"{time.monotonic() - started:.0f} s")
    lines = "1 line" if len(spoils) == 1 else f"{len(spoils)} lines"
    print(f"spoilt {lines}: {caught} caught, {missed} missed")
    return 1 if missed else 0


def report(spoils: list[Spoil], folders: list[Path]) -> int:
    """Try spoils, as many at once as there are copies; print each and return how many got by."""
    free: SimpleQueue[Path] = SimpleQueue()
    for folder in folders:
        free.put(folder)

    def one(spoil: Spoil) -> Outcome:
        folder = free.get()
        try:
            return tried(spoil, folder)
        finally:
            free.put(folder)

    missed = 0
    with ThreadPoolExecutor(len(folders)) as pool:
        for done in as_completed([pool.submit(one, spoil) for spoil in spoils]):
            found = done.result()
            missed += found.verdict != "caught"
            line = f"{found.verdict:6} {found.spoil.name:24} {found.seconds:4.1f} s  {found.said}"
            print(line, flush=True)
    return missed


if __name__ == "__main__":
    sys.exit(main())
