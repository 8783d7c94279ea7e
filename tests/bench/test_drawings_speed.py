"""How fast zones are found, and templates and drawings written, after imports."""

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.zones import zones
from collarwright.outputs import drawings, templates
from collarwright.params.project import Project
from collarwright.params.reading import read

pytestmark = pytest.mark.bench

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
LONG: dict[str, Any] = {
    "lip": {"front": "2400 mm", "back": "2400 mm", "right": "700 mm", "left": "700 mm"},
    "taps": {"count": 24, "spacing": "90 mm", "faucet": "faucet-forward-sealing"},
}


def test_paper_of_three_and_of_twenty_four_taps(
    design_a: Callable[..., Project], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project, source = read(EXAMPLE)
    said: list[str] = []
    for name, each in (("warm up", project), ("3 taps", project), ("24 taps", design_a(**LONG))):
        evaluation = evaluate(each)
        first = time.perf_counter()
        found = zones(each, evaluation.layout)
        start = time.perf_counter()
        templates.write(
            evaluation.layout, tmp_path / name, show=each.show, paper="letter", title=each.title,
            sha256=source.sha256, zones=found,
        )  # fmt: skip
        middle = time.perf_counter()
        drawings.write(each, evaluation, tmp_path / name, paper=None, sha256=source.sha256)
        end = time.perf_counter()
        took = (start - first, middle - start, end - middle)
        said.append(f"{name:>8} " + " ".join(f"{1e3 * each:8.0f}" for each in took))
    with capsys.disabled():
        print("\nms:         zones templates drawings", *said, sep="\n")
