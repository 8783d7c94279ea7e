"""For what is not measured yet: over which values of the missing reading would a check pass?

A builder who sees that everything from 7 to 31 mm would do need not take the lid off to know it
to the millimeter. Asked only where one length is missing.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from ...params.problem import BuildFileError
from ...params.project import Project, Show
from ...params.reading.keys import IDS, Key, find
from ...params.reading.paths import plain
from ...params.units import length_text
from .change import changed
from .design import Design
from .evaluate import EVERY, Evaluation, asked, laid_out, load
from .finding import Finding
from .tolerance import Place, places

_TRIED = (
    0.0, 1.0, 2.0, 3.0, 5.0, 8.0, 12.0, 18.0, 25.0, 35.0, 50.0, 70.0, 100.0, 140.0, 200.0, 280.0,
    400.0, 560.0, 800.0, 1100.0, 1600.0, 2300.0, 3200.0, 4500.0, 6400.0, 10_000.0,
)  # fmt: skip
"""Where verdicts are looked up first, mm, on both sides of zero; between two of them that differ
the change is sought. A window narrower than a step can be missed: then nothing is said of it."""

MANY_VALUES, MOST_WORK = 60, 250_000
"""Values that are tried for one key, and findings judged anew for all keys, two seconds or so."""

_CLOSE = 0.05
"""How closely the end of a range is found, mm; ranges are rounded inward."""


def with_passes_if(project: Project, base: Evaluation) -> Evaluation:
    """Return the evaluation in which what is not checked says over which values it would pass."""
    said: dict[Place, str] = {}
    by_key: dict[str, list[Place]] = {}
    for place, finding in places(base.findings).items():
        if finding.verdict == "not-checked" and len(finding.missing) == 1:
            by_key.setdefault(finding.missing[0], []).append(place)
    if MANY_VALUES * load(base) * len(by_key) > MOST_WORK:
        said_so = "over which values of what is missing a check would pass was not looked for"
        return replace(base, notes=(*base.notes, f"{said_so}: the file has too many findings"))
    for path, wanted in by_key.items():
        key = find(path)
        if key is not None and key.kind == "length" and plain(path) not in IDS:
            likely = _likely(base, path)
            for place, ranges in _ranges(project, base, path, key, wanted, likely).items():
                text = _text(path, ranges, key, project.show)
                if text:
                    said[place] = text
    findings = tuple(
        replace(each, passes_if=said.get(place)) for place, each in places(base.findings).items()
    )
    return replace(base, findings=findings)


Range = tuple[float, float]


def _ranges(
    project: Project,
    base: Evaluation,
    path: str,
    key: Key,
    wanted: list[Place],
    likely: tuple[float, ...],
) -> Mapping[Place, list[Range]]:
    """Return, for each finding, the ranges of the missing value over which it passes, mm.

    A value with which any *must* would fail that does not fail now is in no range: nobody is told
    to leave out the one reading that shows it.
    """
    checks = {check for check, _, _ in wanted}
    failing = {place for place, each in places(base.findings).items() if each.verdict == "fail"}
    designs: dict[float, Design | None] = {}
    seen: dict[float, Mapping[Place, Finding]] = {}
    harmless: dict[float, bool] = {}

    def design_with(value: float) -> Design | None:
        if value not in designs:
            try:
                designs[value] = laid_out(changed(project, {path: value}))
            except BuildFileError:
                designs[value] = None
        return designs[value]

    def passes(value: float, place: Place) -> bool:
        design = design_with(value)
        if design is None:
            return False
        if value not in seen:
            seen[value] = places(asked(design, checks))
        found = seen[value].get(place)
        if found is None or found.verdict != "pass":
            return False
        if value not in harmless:
            every = places(asked(design, EVERY)).items()
            harmless[value] = not any(
                each.verdict == "fail" and each.weight == "must" and place not in failing
                for place, each in every
            )
        return harmless[value]

    tried = list(_grid(key, likely))
    return {place: list(_spans(lambda value, at=place: passes(value, at), tried))
            for place in wanted}  # fmt: skip


def _likely(base: Evaluation, path: str) -> tuple[float, ...]:
    """Return where a window may lie that the tried values are too coarse for: a diagonal."""
    if path.startswith("lip.front_"):
        return base.layout.lip.diagonals
    dry = base.layout.frame.dry
    return dry.diagonals if dry is not None and path.startswith("built.front_") else ()


def _grid(key: Key, likely: tuple[float, ...]) -> Iterator[float]:
    low = -math.inf if key.low is None else key.low
    high = math.inf if key.high is None else key.high
    values = {*_TRIED, *(-each for each in _TRIED), low, high, *likely}
    yield from sorted(each for each in values if low <= each <= high and math.isfinite(each))


def _spans(passes: Callable[[float], bool], tried: list[float]) -> Iterator[Range]:
    """Yield where a verdict holds, each end sought between the two tried values about it."""
    start: float | None = None
    before = tried[0]
    for value in tried:
        if passes(value):
            if start is None:
                start = value if value == tried[0] else _edge(passes, before, value)
        elif start is not None:
            yield start, _edge(passes, value, before)
            start = None
        before = value
    if start is not None:
        yield start, tried[-1]


def _edge(passes: Callable[[float], bool], outside: float, inside: float) -> float:
    """Return a value that passes, within ``_CLOSE`` of one that does not."""
    while abs(inside - outside) > _CLOSE:
        middle = (inside + outside) / 2
        if passes(middle):
            inside = middle
        else:
            outside = middle
    return inside


def _text(path: str, ranges: list[Range], key: Key, show: Show) -> str:
    """Say the ranges in words; empty where there are none."""
    name = path.partition(".")[2]
    parts: list[str] = []
    for low, high in ranges:
        bottom = low == (key.low if key.low is not None else low - 1)
        top = high == (key.high if key.high is not None else high + 1)
        low_text, high_text = _inward(low, show, up=True), _inward(high, show, up=False)
        if bottom and top:
            parts.append("whatever it is")
        elif top:
            parts.append(f"from {low_text} up")
        elif bottom and high <= _CLOSE:
            parts.append("if there is none")
        elif bottom:
            parts.append(f"up to {high_text}")
        elif low <= high:
            parts.append(f"from {low_text} to {high_text}")
    if not parts:
        return ""
    if parts == ["whatever it is"]:
        return f"{name}: fine whatever it is"
    return f"{name}: fine {', and '.join(parts)}; measure only if it looks outside that"


def _inward(mm: float, show: Show, *, up: bool) -> str:
    """Write a length rounded so that it still passes: to 0.5 mm or 1/16 in."""
    step = 25.4 / 16 if show == "in" else 0.5
    rounded = (math.ceil if up else math.floor)(mm / step + (-1e-9 if up else 1e-9)) * step
    return length_text(rounded, show)
