"""What to change so that a *must* passes: found by trying, and offered only if it works.

For each key that a check names as its lever, the nearest value with which the finding passes
and no *must* that passed before fails; a catalogue size where the part is bought, a length that
a tape shows where it is free. Two levers together where none works alone. A remedy never
changes a reading.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import islice

from ...params.units import Show, both_text, mass_text
from . import block, levers
from .change import Value
from .evaluate import Evaluation
from .finding import SLACK, Finding, Remedy, Where
from .tolerance import Place, places
from .trials import Changes, Trials
from .wording import great, in_words

MOST_PARTS = 24
"""Rows of a catalogue that are tried for one lever; they come nearest first."""

COARSE = 6
"""Values of one lever that are tried together with another."""

STRIDE = 4
"""Of so many steps of a length one is tried first where the question is slow, or asked often."""

MOST_PAIRED = 48
"""Values of one lever, each with a search for another's, that are tried for one finding."""


def with_remedies(trials: Trials) -> Evaluation:
    """Return the evaluation in which each *must* that fails or is tight has its remedies."""
    findings: list[Finding] = []
    told: dict[tuple[object, ...], tuple[Changes, ...]] = {}
    for place, finding in places(trials.base.findings).items():
        if finding.weight != "must" or finding.verdict not in ("fail", "tight"):
            findings.append(finding)
            continue
        keys = tuple(levers.keys_of(trials.project, finding.levers, finding.where,
                                    trials.base.layout))  # fmt: skip
        # Taps of one row that fail alike are tried with the same changes, each by itself.
        alike = (finding.check, finding.verdict, keys, _near(finding.measured),
                 _near(finding.required), _near(finding.tolerance))  # fmt: skip
        known = told.get(alike)
        mine = tuple(each for each in known or () if trials.mends(place, each, firmly=False))
        if known is None or (known and not mine):
            mine = told[alike] = tuple(_changes(trials, place, keys))
        remedies = tuple(_remedy(trials, place, each) for each in mine)
        findings.append(replace(finding, remedies=remedies))
    return replace(trials.base, findings=tuple(findings))


def _near(value: float | None) -> float | None:
    return None if value is None else round(value, 6)


def _changes(trials: Trials, place: Place, keys: tuple[str, ...]) -> Iterator[Changes]:
    """Yield changes of one key, a block with its screws, other designs; two where none does."""
    found: set[str] = set()

    def held(tried: Iterable[Changes]) -> Iterator[Changes]:
        for changes in tried:
            if _well_holds(trials, place, changes):
                found.update(changes)
                yield changes

    yield from held(_singles(trials, place, [key for key in keys if not great([key])]))
    if not found.intersection(block.KEYS):
        yield from held(islice(block.each(trials, place, keys), 1))
    yield from held(_singles(trials, place, [key for key in keys if great([key])]))
    if not found and trials.before[place].verdict == "fail":
        yield from islice(held(pairs(trials, place, keys)), 1)


def _singles(trials: Trials, place: Place, keys: Iterable[str]) -> Iterator[Changes]:
    tried = (single(trials, place, key) for key in keys)
    return (changes for changes in tried if changes is not None)


def single(
    trials: Trials, place: Place, key: str, also: Changes | None = None, *, strict: bool = True
) -> Changes | None:
    """Return the nearest change of one key that mends a finding, firmly if that can be had.

    Args:
        trials: the design and what was tried on it.
        place: the finding.
        key: the key to change.
        also: changes that are made already.
        strict: no *must* that passed before may fail.
    """
    was = trials.before.get(place)
    also = {**(also or {}), **levers.with_it(trials.project, trials.base.layout, key)}
    for firmly in (True, False) if was is None or was.verdict == "fail" else (True,):
        value = _nearest(trials, place, key, also, firmly=firmly, strict=strict)
        if value is not None:
            return {**levers.with_it(trials.project, trials.base.layout, key), key: value}
    return None


def _nearest(
    trials: Trials,
    place: Place,
    key: str,
    also: Changes,
    *,
    firmly: bool,
    strict: bool = True,
    coarsely: bool = False,
) -> Value | None:
    """Return the nearest value of a key that mends a finding together with other changes.

    Coarsely, fewer values are tried first.
    """
    project, layout = trials.project, trials.base.layout

    def mends(value: Value) -> bool:
        return trials.mends(place, {**also, key: value}, firmly=firmly, strict=strict)

    moves = levers.steps(project, layout, key)
    coarsely = coarsely or trials.is_slow(place)
    if moves is None:
        most = COARSE if coarsely else MOST_PARTS
        tried = islice(levers.choices(project, layout, key, trials.rows), most)
        return next((value for value in tried if mends(value)), None)
    _, step, up, down = moves
    if coarsely:
        up, down = up[1::STRIDE], down[1::STRIDE]
    best: tuple[float, float] | None = None
    start = levers.now(project, layout, key)
    origin = start if isinstance(start, float) else (up or down or [0.0])[0]
    for way, sign in ((up, 1), (down, -1)):
        before = origin
        for value in way:
            # What is no nearer than what was found the other way is not wanted, but what lies
            # between two of the values may be.
            last = best is not None and abs(value - origin) >= best[0]
            if best is not None and last:
                value = round((origin + sign * (best[0] - step)) / step) * step
                if (value - before) * sign <= 0:
                    break
            if mends(value):
                value = _sooner(mends, before, value, step)
                if best is None or abs(value - origin) < best[0]:
                    best = abs(value - origin), value
                break
            if last:
                break
            before = value
    return None if best is None else best[1]


def _sooner(mends: Callable[[Value], bool], before: float, value: float, step: float) -> float:
    """Return the value nearest to ``before`` that mends, in whole steps up to ``value``."""
    count = round(abs(value - before) / step)
    sign = 1 if value > before else -1
    low, high = 0, count
    while high - low > 1:
        middle = (low + high) // 2
        if mends(value - sign * (count - middle) * step):
            high = middle
        else:
            low = middle
    return value - sign * (count - high) * step


def pairs(trials: Trials, place: Place, keys: tuple[str, ...]) -> Iterator[Changes]:
    """Yield changes of two keys that mend a finding together.

    The first key is one that moves the finding toward passing; the second goes on from there, or
    puts right what the first breaks elsewhere.
    """
    tried = 0
    for first in keys:
        for value in _toward(trials, place, first):
            for second in keys:
                if second == first:
                    continue
                tried += 1
                if tried > MOST_PAIRED:
                    return
                also = {first: value, **levers.with_it(trials.project, trials.base.layout, second)}
                found = _nearest(trials, place, second, also, firmly=False, coarsely=True)
                if found is not None:
                    yield {**also, second: found}
                    break


def _toward(trials: Trials, place: Place, key: str) -> list[Value]:
    """Return some values of a key with which a finding has more margin: what mends it first."""
    project, layout = trials.project, trials.base.layout
    if levers.with_it(project, layout, key):
        return []
    moves = levers.steps(project, layout, key)
    some: list[Value]
    if moves is None:
        some = list(islice(levers.choices(project, layout, key, trials.rows), COARSE))
    else:
        some = [*moves[2][3:16:2], *moves[3][3:16:2]]
    was = trials.before[place].margin
    mending: list[Value] = []
    better: list[Value] = []
    for value in some:
        after = trials.after(place, {key: value})
        if after is None or after.verdict == "not-checked":
            continue
        if after.verdict != "fail":
            mending.append(value)
        elif after.margin is not None and was is not None and after.margin > was + SLACK:
            better.append(value)
    return [*mending, *better]


def _well_holds(trials: Trials, place: Place, changes: Changes) -> bool:
    """Ask what is too slow for the loop once, for a change that is about to be offered.

    What fitted has to fit still, and what is to be mended has to be.
    """
    return not any(
        left == place or trials.before[left].verdict != "fail"
        for left in trials.slow_left(changes)
        if left in trials.before
    )


def _remedy(trials: Trials, place: Place, changes: Changes) -> Remedy:
    project = trials.project
    wanted: Mapping[str, str | int | bool] = {
        key: levers.written(project, key, value) for key, value in changes.items()
    }
    parts: list[str] = []
    for key, value in wanted.items():
        old = levers.now(project, trials.base.layout, key)
        was = "" if old is None else f" (now {levers.written(project, key, old)})"
        parts.append(f"{in_words(key, old, changes[key])}{key} = {value}{was}")
    says = " and ".join(parts)
    after = trials.after(place, changes)
    if after is not None and after.measured is not None and after.margin is not None:
        says += f": then {_figure(after.measured, after.unit, project.show)}"
        asked = trials.before[place].required
        if after.required is not None and asked is not None and abs(after.required - asked) > SLACK:
            says += f", {after.sense} {_figure(after.required, after.unit, project.show)} is asked"
        if after.margin < (trials.before[place].tolerance or 0.0):
            says += ", still tight"
    costs: dict[str, None] = {}
    for _, then in trials.worse(changes):
        what = "fails" if then.verdict == "fail" else "gets tight"
        costs[f"{then.check} {what}{_of(then.where)}"] = None
    if costs:
        says += f"; costs: {', '.join(islice(costs, 4))}"
    return Remedy(changes=wanted, says=says)


def _of(where: Where) -> str:
    named = where.vessel or where.corner or where.side or ""
    return f" ({named})" if named else ""


def _figure(value: float, unit: str, show: Show) -> str:
    if unit == "kg":
        return mass_text(value, show)
    if unit == "strip":
        return "a steel strip" if value > 0.5 else "no steel strip"
    return both_text(value, show) if unit == "mm" else f"{value:.1f} {unit}"
