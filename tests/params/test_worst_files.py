"""The largest file that is accepted, and what is too large: answered in time and in little memory.

Seconds are the processor's, so that a busy machine fails nothing; memory is the most that the
process ever had. Both are of a process of its own, with all that it loads.
"""

import importlib.util
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

SECONDS, MEMORY_KIB = 5.0, 2**20

_spec = importlib.util.spec_from_file_location("worst", Path(__file__).with_name("worst.py"))
assert _spec is not None
assert _spec.loader is not None
worst = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(worst)

ONCE = """
import sys
from pathlib import Path
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs.summary import dumps, summary
from collarwright.outputs.text import report
from collarwright.params.reading import read

project, source = read(Path(sys.argv[1]), lay_out)
done = evaluate(project)
assert len(done.findings) > 1000
dumps(summary(project, done, source.file, source.sha256))
report(project, done, source.file, True, source.examples)
"""


@dataclass(frozen=True, slots=True)
class Ran:
    """A process that is over: status, seconds of the processor, KiB of memory, what it said."""

    status: int
    seconds: float
    memory: int
    said: str


def run(*words: str, folder: Path) -> Ran:
    """Run Python, and measure it."""
    said = folder / "said"
    with said.open("wb") as stream:
        process = subprocess.Popen([sys.executable, *words], stdout=stream, stderr=stream)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)  # it is reaped already
    return Ran(
        process.returncode, used.ru_utime + used.ru_stime, used.ru_maxrss, said.read_text("utf-8")
    )


def test_the_largest_design_is_read_judged_once_and_reported(tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    file.write_text(worst.worst())
    done = run("-c", ONCE, str(file), folder=tmp_path)
    assert done.status == 0, done.said
    assert done.seconds < SECONDS
    assert done.memory < MEMORY_KIB


PLACES = """
import sys
from pathlib import Path
from collarwright.geometry.judge import hinge_map
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.reading import read

project, _ = read(Path(sys.argv[1]), lay_out)
places, judge = [], hinge_map.asked

def asked(*given):
    places.append(given)
    return judge(*given)

hinge_map.asked = asked
assert hinge_map.hinge_map(project, lay_out(project)) is not None
print(len(places))
"""


@pytest.mark.parametrize("slip", ["9.9 m", "-9.9 m"])
def test_a_hinge_that_is_meters_away_is_no_more_work(slip: str, tmp_path: Path) -> None:
    """Counted: the places of the hinge's pin that are judged, of the largest file with one tap."""
    near = worst.worst(**dict.fromkeys(worst.MOST, 1))
    counted: list[int] = []
    for text in (near, near.replace('axis_behind = "20 mm"', f'axis_behind = "{slip}"')):
        file = tmp_path / "x.toml"
        file.write_text(text)
        done = run("-c", PLACES, str(file), folder=tmp_path)
        assert done.status == 0, done.said
        counted.append(int(done.said))
    assert 100 < counted[1] < 2 * counted[0]


@pytest.mark.parametrize("table", ["hole", "keep_out", "vessel", "length", "owned"])
def test_every_list_is_as_long_as_it_may_be(table: str, tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    rows = dict.fromkeys(worst.MOST, 1) | {table: worst.MOST[table] + 1}
    file.write_text(worst.worst(**rows))
    done = run("-m", "collarwright.outputs", "check", str(file), folder=tmp_path)
    assert done.status == 2
    assert f"at most {worst.MOST[table]}" in " ".join(done.said.split())
    assert done.seconds < SECONDS
    assert done.memory < MEMORY_KIB


SMALL = """\
title = "{title}"
[lip]
front = "{front}"
right = "21 in"
back = "37 in"
left = "21 in"
[board]
stock = "board-1x6"
[taps]
count = {count}
spacing = "4 in"
bore = "1 in"
{more}"""
FINE = {"title": "x", "front": "37 in", "count": "2", "more": ""}


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"title": "x" * 5_000}, "read 5000 characters, expected at most 200"),
        ({"front": "1e9 mm"}, "lip.front"),
        ({"front": "1000000000 mm"}, "expected a value from 200 mm to 4000 mm"),
        ({"count": "10000"}, "expected a whole number from 1 to 60"),
        (
            {"more": "[[vessel]]\nkind = 'keg-sixth-barrel'\ncount = 41\n"},
            "expected a whole number from 1 to 40",
        ),
        ({"more": "[[pour]]\n" * 61}, "read 61 tables [[pour]], expected at most 60"),
        ({"more": "[[hole]]\n" * 25_000}, "read 25000 tables [[hole]], expected at most 40"),
        ({"more": f"k = [{'[' * 3_000}"}, "expected"),
        ({"more": "#" * 2**18}, "more than 256 KiB"),
    ],
    ids=["title", "exponent", "lip", "taps", "kegs", "pours", "holes", "brackets", "bytes"],
)
def test_what_is_too_large_is_refused_at_once(
    change: dict[str, str], sentence: str, tmp_path: Path
) -> None:
    file = tmp_path / "x.toml"
    file.write_text(SMALL.format(**{**FINE, **change}))
    done = run("-m", "collarwright.outputs", "check", str(file), folder=tmp_path)
    assert done.status == 2, done.said
    assert sentence in " ".join(done.said.split())
    assert done.seconds < SECONDS
    assert done.memory < MEMORY_KIB


def test_kegs_are_counted_over_all_rows(tmp_path: Path) -> None:
    file = tmp_path / "x.toml"
    row = "[[vessel]]\nkind = 'keg-sixth-barrel'\n"
    file.write_text(SMALL.format(**{**FINE, "more": f"{row}count = 40\n{row}"}))
    done = run("-m", "collarwright.outputs", "check", str(file), folder=tmp_path)
    assert done.status == 2, done.said
    assert "read 41 vessels, expected at most 40 in all" in " ".join(done.said.split())
