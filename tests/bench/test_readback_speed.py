"""How long reading everything back takes beside writing it. Prints numbers and judges none."""

import statistics
import time
from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs import build as building
from collarwright.params.reading import read

pytestmark = [pytest.mark.bench, pytest.mark.kernel]

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
REPEATS = 7


def test_reading_back_beside_writing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    project, source = read(EXAMPLE)
    real, spent = building.verify, defaultdict[str, list[float]](list)
    marks: list[float] = []

    def watched(root: Path, written: list[str], *rest: Any, **named: Any) -> None:
        for suffix in sorted({Path(name).suffix for name in written}):
            names = [name for name in written if Path(name).suffix == suffix]
            start = time.perf_counter()
            real(root, names, *rest, **named)
            spent[suffix].append(1e3 * (time.perf_counter() - start))

    monkeypatch.setattr(building, "verify", watched)
    for repeat in range(REPEATS):
        marks.clear()
        building.build(
            project, source, tmp_path / str(repeat), building.Options(),
            lambda _: marks.append(time.perf_counter()),
        )  # fmt: skip
        spent["writing"].append(1e3 * (marks[-1] - marks[0]))
    writing = spent.pop("writing")
    back = [sum(times) for times in zip(*spent.values(), strict=True)]
    with capsys.disabled():
        print("\nms: the first time, imports and all, and the median of the rest")
        for name, times in (*spent.items(), ("reading back", back), ("writing", writing)):
            print(f"{name:>13} {times[0]:8.0f} {statistics.median(times[1:]):8.0f}")
