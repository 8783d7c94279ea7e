"""How fast ``evaluate`` and a cold ``check`` are. Run alone: ``pytest -m bench -s tests/bench``.

Figures are the best of several runs, since whatever else the machine does only makes them worse.
"""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.params.project import Project

pytestmark = pytest.mark.bench

ROOT = Path(__file__).resolve().parents[2]
A_SECOND = 500
"""Evaluations that a what-if loop needs at least."""
TIMES_THE_IMPORTS = 2.0
"""What a cold ``check`` may take, over importing the libraries that it cannot do without."""


def best(run: Callable[[], object], times: int) -> float:
    """Return the shortest of several runs, seconds."""
    found: list[float] = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        found.append(time.perf_counter() - start)
    return min(found)


def test_evaluate_in_a_loop(design_a: Callable[..., Project]) -> None:
    projects = {
        "design A": design_a(taps={"wrench": "wrench-hook-pin"}),
        "12 taps": design_a(
            taps={"count": 12, "spacing": "2.7 in", "wrench": "wrench-hook-pin"},
        ),
        "8 vessels": design_a(
            taps={"wrench": "wrench-hook-pin"},
            well={"length": "820 mm", "width": "420 mm", "height": "700 mm"},
            lid={"plug": "0 mm"},
            vessel={"kind": "soda-keg-ball-lock-2-5gal-tall", "count": 8},
            manifold={"kind": "manifold-2-outlet"},
        ),
    }
    rates: dict[str, float] = {}
    for name, project in projects.items():

        def loop(project: Project = project) -> None:
            for _ in range(200):
                evaluate(project)

        rates[name] = 200 / best(loop, 5)
        print(f"\nevaluate, {name}: {rates[name]:.0f} a second")
    assert min(rates["design A"], rates["8 vessels"]) >= A_SECOND


def test_evaluate_while_one_lip_reading_moves(design_a: Callable[..., Project]) -> None:
    """As a tolerance loop does it: every evaluation has a lip of its own to fit."""
    projects = [
        design_a(
            lip={
                "front_left_to_back_right": f"{1080.6 + i / 1000} mm",
                "front_right_to_back_left": "1080.6 mm",
            }
        )
        for i in range(200)
    ]
    rate = 200 / best(lambda: [evaluate(project) for project in projects], 5)
    print(f"\nevaluate, a new lip each time: {rate:.0f} a second")
    assert rate >= A_SECOND


def test_a_cold_check_of_an_example() -> None:
    examples = sorted((ROOT / "examples").glob("*.toml"))
    if not examples:
        pytest.skip("no example yet")
    file = str(examples[0])

    def run(*words: str) -> Callable[[], object]:
        return lambda: subprocess.run(
            [sys.executable, *words], cwd=ROOT, capture_output=True, check=False
        )

    check = run("-m", "collarwright.outputs", "check", file)
    assert check().returncode in (0, 1)  # type: ignore[attr-defined]
    imports = run("-c", "import pint, pydantic, typer")
    # taken in turns, so that a busy minute hurts both
    pairs = [(best(check, 1), best(imports, 1)) for _ in range(10)]
    ours, theirs = (min(column) for column in zip(*pairs, strict=True))
    print(f"\ncheck {ours * 1e3:.0f} ms, its libraries {theirs * 1e3:.0f} ms: {ours / theirs:.2f}")
    assert ours <= TIMES_THE_IMPORTS * theirs
