"""How fast foam is planned, processor time. Run alone: ``pytest -m bench -s tests/bench``."""

import time
from random import Random

import pytest
from collarwright.geometry.plan.sheets import Job, Part, Sheet, sheet_plan

pytestmark = pytest.mark.bench

COLLARS = ((86_000, 13_970), (48_000, 13_970), (110_000, 13_970), (61_000, 13_970))


def collars(count: int) -> list[tuple[int, int]]:
    return [size for size in COLLARS[: 2 * count] for _ in "ab"]


def different(count: int) -> list[tuple[int, int]]:
    chance = Random(5)
    return [(chance.randint(40_000, 110_000), 13_970) for _ in range(count)]


@pytest.mark.parametrize("sheet", [(243_840, 60_960), (121_900, 60_960)], ids=["2x8 ft", "2x4 ft"])
@pytest.mark.parametrize(
    ("name", "sizes", "most"),
    [
        ("a collar", collars(1), 0.005),
        ("two collars", collars(2), 0.05),
        ("8 lengths", different(8), 0.05),
        ("10 lengths", different(10), 0.5),
    ],
)
def test_a_foam_plan(
    name: str, sizes: list[tuple[int, int]], most: float, sheet: tuple[int, int]
) -> None:
    asked = Job(tuple(Part(f"{k}", *size) for k, size in enumerate(sizes)), Sheet(*sheet))
    took: list[float] = []
    for _ in range(3):
        start = time.process_time()
        plan = sheet_plan(asked)
        took.append(time.process_time() - start)
    print(
        f"\n{name}: {1000 * min(took):.1f} ms, {len(plan.sheets)} sheets, {plan.cuts} cuts,"
        f" proved {plan.sheets_proved} and {plan.proved}"
    )
    assert min(took) <= most
