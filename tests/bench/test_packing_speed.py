"""How fast vessels are packed, processor time. Run alone: ``pytest -m bench -s tests/bench``."""

import time
from collections.abc import Callable

import pytest
from collarwright.geometry.plan.packing import (
    Disc,
    Packing,
    Problem,
    Rect,
    Step,
    Vessel,
    Well,
    largest_opening,
    pack,
)
from collarwright.geometry.plan.packing.find import Finder
from collarwright.geometry.plan.packing.lp import Solver
from collarwright.geometry.plan.packing.mode import Mode, modes
from collarwright.geometry.plan.packing.opening import _largest

pytestmark = pytest.mark.bench


def problem(width: float, depth: float, *diameters: float, step: float = 0.0) -> Problem:
    rect = Rect(0.0, 0.0, width, depth)
    well = Well(rect, rect, 0.0, 700.0, 0.0, Step("right", step, 250.0) if step else None)
    vessels = tuple(
        Vessel(f"keg {k}", (Disc(0.0, 600.0 if d > 180 else 400.0, d / 2),))
        for k, d in enumerate(diameters)
    )
    return Problem(well, vessels)


EIGHT = problem(1000, 480, *[216] * 8)
FIVE = {
    "4 of 216, 1 on the step": problem(780, 430, 216, 216, 216, 216, 133, step=200),
    "2 of 235, 2 of 216, 1 on the step": problem(980, 480, 235, 235, 216, 216, 178, step=230),
    "5 different": problem(900, 520, 413, 279, 235, 216, 133),
}


def best(run: Callable[[], object], times: int = 3) -> float:
    """Return the shortest of several runs, seconds."""
    found: list[float] = []
    for _ in range(times):
        start = time.process_time()
        run()
        found.append(time.process_time() - start)
    return min(found)


def test_a_placement_for_eight() -> None:
    """A tenth of a second for a placement that keeps the gap, half of one with all hops."""
    pack(EIGHT, nodes=0)  # the library is loaded once

    def first() -> None:
        mode = next(iter(modes(EIGHT)))
        assert isinstance(mode, Mode)
        finder = Finder(mode, Solver())
        from random import Random

        chance = Random(0)
        while finder.climb(finder.anywhere(chance)).gap < EIGHT.gap:
            pass

    one, hops = best(first), best(lambda: pack(EIGHT, nodes=0))
    print(f"\n8 vessels: a placement {one:.3f} s, with all hops {hops:.3f} s")
    assert one <= 0.1
    assert hops <= 0.5


@pytest.mark.parametrize("name", FIVE)
def test_the_bound_for_five(name: str) -> None:
    found: list[Packing] = []
    took = best(lambda: found.append(pack(FIVE[name])))
    bound, gap = found[0].bound, found[0].gap
    print(f"\n{name}: {took:.2f} s, {found[0].nodes} nodes, gap {gap:.2f}, at most {bound:.2f}")
    assert took <= 1.0


def test_the_largest_opening() -> None:
    area = Rect(0.0, 0.0, 812.0, 406.0)
    nuts = [Rect(314.0 + 76 * k, 0.0, 346.0 + 76 * k, 45.0) for k in range(3)]
    nuts += [Rect(322.0 + 76 * k, 0.0, 338.0 + 76 * k, 95.0) for k in range(3)]

    def run() -> None:
        _largest.cache_clear()
        largest_opening([area], nuts)

    print(f"\nlargest opening, 3 taps: {best(run, 9) * 1000:.2f} ms")
