"""How fast tolerances and remedies are. Run alone: ``pytest -m bench -s tests/bench``.

Printed and not asserted: the machine may be busy. Wanted are 0.4 s for the tolerance of 60 inputs
and 1 s for the remedies of a file that fails in five ways.
"""

import sys
import time
from collections.abc import Callable
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.inputs import inputs
from collarwright.geometry.judge.mend import mend
from collarwright.geometry.judge.remedy import with_remedies
from collarwright.geometry.judge.tolerance import with_tolerance
from collarwright.geometry.judge.trials import Trials
from collarwright.params.project import Project

pytestmark = pytest.mark.bench

Make = Callable[..., Project]

CASES = Path(__file__).parents[1] / "geometry" / "four_verdicts.py"

FIVE_WAYS: dict[str, dict[str, Any]] = {
    "taps too near, low, short and loose": {
        "taps": {
            "bore": "22 mm",
            "height": "20 mm",
            "spacing": "49 mm",
            "shank": "shank-2-1-8-in",
            "washers": "20 mm",
        },
    },
    "stand, pocket, bore, plug and hinge": {
        "board": {"overhang": {"left": "8 mm"}},
        "foam": {"pocket": "45 mm"},
        "taps": {"bore": "34 mm"},
        "lid": {"plug": "20 mm", "plug_inset": "50 mm"},
        "hinge": {"backing": "8 mm"},
    },
    "what nothing mends: a lid over its handles": {
        "board": {"overhang": {"left": "8 mm"}},
        "foam": {"pocket": "45 mm"},
        "taps": {"bore": "34 mm"},
        "lid": {"overhang": {"front": "40 mm", "right": "5 mm", "back": "5 mm", "left": "5 mm"}},
        "hinge": {"backing": "8 mm"},
    },
    "wall, ceiling, leaf, saw and hold": {
        "room": {"behind": "80 mm", "above": "690 mm"},
        "shop": {"cross_cut": "139 mm"},
        "hinge": {"positions": ("-30 mm", "29 mm")},
        "seat": {"hold_strength": "18 kPa"},
    },
}


def whole(design_a: Make, **changes: Any) -> Project:
    """The design in which everything is measured, changed."""
    spec = spec_from_file_location("four_verdicts_measured", CASES)
    assert spec is not None and spec.loader is not None
    book = module_from_spec(spec)
    sys.modules[spec.name] = book
    spec.loader.exec_module(book)
    tables: dict[str, Any] = dict(book.WHOLE)
    for table, change in changes.items():
        tables[table] = {**tables[table], **change}
    return design_a(**tables)


def seconds(run: Callable[[], object], times: int = 3) -> float:
    """The shortest of several runs: whatever else the machine does only makes them longer."""
    found: list[float] = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        found.append(time.perf_counter() - start)
    return min(found)


def test_tolerance_of_everything_measured(design_a: Make) -> None:
    project = whole(design_a)
    base = evaluate(project)
    once, took = (
        seconds(lambda: evaluate(project), 20),
        seconds(lambda: with_tolerance(project, base)),
    )
    count = len(inputs(project))
    print(
        f"\ntolerance of {count} inputs: {took:.2f} s, so of 60: {60 * took / count:.2f} s;"
        f" one evaluation {once * 1e3:.2f} ms"
    )


@pytest.mark.parametrize("name", FIVE_WAYS)
def test_remedies_of_a_file_that_fails_in_five_ways(design_a: Make, name: str) -> None:
    project = whole(design_a, **FIVE_WAYS[name])
    base = with_tolerance(project, evaluate(project))
    ways = {
        each.check for each in base.findings if each.verdict == "fail" and each.weight == "must"
    }
    assert len(ways) >= 5, ways
    told = with_remedies(Trials(project, base))
    without = {
        each.check
        for each in told.findings
        if each.verdict == "fail" and each.weight == "must" and not each.remedies
    }
    took = seconds(lambda: with_remedies(Trials(project, base)))
    mending = seconds(lambda: mend(Trials(project, base)), 2)
    print(
        f"\n{name}: {len(ways)} ways ({', '.join(sorted(ways))}); remedies {took:.2f} s,"
        f" mending {mending:.2f} s; without a remedy: {', '.join(sorted(without)) or 'none'}"
    )
