"""How long the largest accepted design takes, and how much memory: ``pytest -m bench -s``.

Prints seconds of the processor and the most memory of a process of its own. ``check`` and
``build`` answer every question with its tolerance and its remedies, which is what takes the time.
"""

import importlib.util
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

pytestmark = [pytest.mark.bench, pytest.mark.kernel]

_file = Path(__file__).parents[1] / "params" / "worst.py"
_spec = importlib.util.spec_from_file_location("worst", _file)
assert _spec is not None
assert _spec.loader is not None
worst = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(worst)

PATIENCE = 200.0
ONE_EACH = dict.fromkeys(worst.MOST, 1)


@pytest.mark.parametrize(
    ("name", "rows"),
    [
        ("one of each, every reading taken 20 times", ONE_EACH),
        *(
            (f"all the {name} there may be", ONE_EACH | {name: worst.MOST[name]})
            for name in worst.MOST
        ),
        ("everything there may be", worst.MOST),
    ],
)
@pytest.mark.parametrize("command", ["check", "build"])
def test_the_largest_designs(command: str, name: str, rows: dict[str, int], tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    file.write_text(worst.worst(**rows))
    words = [sys.executable, "-m", "collarwright.outputs", command, str(file)]
    if command == "build":
        words += ["--out", str(tmp_path / "out"), "--despite-failures"]
    process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    timer = threading.Timer(PATIENCE, process.kill)
    timer.start()
    _, status, used = os.wait4(process.pid, 0)
    timer.cancel()
    process.returncode = os.waitstatus_to_exitcode(status)
    seconds = used.ru_utime + used.ru_stime
    over = "more than " if process.returncode < 0 else ""
    print(f"\n{command}, {name}: {over}{seconds:.1f} s, {used.ru_maxrss // 1024} MiB")
    assert process.returncode in (0, 1, -9)
