"""The smallest set of changes after which no *must* fails, from remedies that were tried.

Every remedy of every failing finding is a candidate; sets of them are tried, the fewest changes
first and among those the ones that change least of what a bought hinge is, and cost least
elsewhere. Other boards all round, or other vessels, are tried only where no set of smaller
changes does. Where no small set does, the most useful one is taken again and again, and what
turned out not to be needed is left out at the end.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, islice

from . import block, levers, remedy
from .change import Value
from .tolerance import Place
from .trials import Changes, Trials
from .wording import bought, great

MOST_TOGETHER = 4
"""Remedies in one set; beyond that the search goes one change at a time."""

MOST_TRIED = 200
"""Sets that are tried before the search goes one change at a time."""

MOST_CHANGES = 12
"""Changes in one mended file; a design that needs more is another design."""


@dataclass(frozen=True, slots=True)
class Mended:
    """What was found: the changes as written in the file, and what still fails after them."""

    changes: dict[str, str | int | bool]
    left: tuple[Place, ...]


def mend(trials: Trials) -> Mended:
    """Return the smallest set of changes that was found."""
    failing = trials.failing({}) or ()
    if not failing:
        return Mended({}, ())
    candidates = list(_candidates(trials, failing))
    small = [each for each in candidates if not great(each[1])]
    best = _smallest(trials, small, failing) or _smallest(trials, candidates, failing)
    if best is None:
        best = _pruned(trials, _greedy(trials, also_great=False))
        if trials.failing(best) != ():
            best = _pruned(trials, _greedy(trials, also_great=True))
    left = trials.failing(best)
    written = {key: levers.written(trials.project, key, value) for key, value in best.items()}
    return Mended(written, failing if left is None else left)


Candidate = tuple[Place, Changes]
"""A finding, and a change that mends it."""


def _candidates(trials: Trials, failing: tuple[Place, ...]) -> Iterator[Candidate]:
    """Yield each change that mends one finding, once; nearest values of every lever."""
    seen: set[frozenset[tuple[str, Value]]] = set()
    for place in failing:
        finding = trials.before[place]
        keys = tuple(
            levers.keys_of(trials.project, finding.levers, finding.where, trials.base.layout)
        )
        found = [change for key in keys if (change := _alone(trials, place, key)) is not None]
        found += islice(block.each(trials, place, keys), 1)
        if not found:
            found = [*remedy.pairs(trials, place, keys)][:2]
        for change in found:
            key = frozenset(change.items())
            if key not in seen:
                seen.add(key)
                yield place, change


def _alone(trials: Trials, place: Place, key: str) -> Changes | None:
    """Return a change of one key that mends a finding, whatever else it may break."""
    change = remedy.single(trials, place, key)
    return change if change is not None else remedy.single(trials, place, key, strict=False)


def _smallest(
    trials: Trials, candidates: list[Candidate], failing: tuple[Place, ...]
) -> Changes | None:
    """Return the smallest union of candidates after which nothing fails, None if not found.

    Only unions whose parts mend every finding between them are tried.
    """
    mended: list[tuple[Candidate, frozenset[Place]]] = []
    for candidate in candidates:
        left = trials.failing(candidate[1])
        gone = frozenset(failing) - frozenset(failing if left is None else left)
        mended.append((candidate, gone))
    tried = 0
    for count in range(1, MOST_TOGETHER + 1):
        good: list[tuple[int, int, int, int, Changes]] = []
        for order, some in enumerate(combinations(mended, count)):
            if frozenset[Place]().union(*(each for _, each in some)) < frozenset(failing):
                continue
            union: dict[str, Value] = {}
            for (_, change), _ in some:
                union |= change
            if len(union) < sum(len(change) for (_, change), _ in some):
                continue  # two values for one key: a smaller set says the same
            tried += 1
            if tried > MOST_TRIED:
                break
            done = _fitted(trials, union, [candidate for candidate, _ in some])
            if done is not None:
                good.append((_count(done), bought(done), len(trials.worse(done)), order, done))
        if good:
            return min(good, key=lambda each: each[:4])[4]
    return None


def _fitted(trials: Trials, union: Changes, some: list[Candidate]) -> Changes | None:
    """Return a union after which nothing fails, with a thicker block if it takes one, or None.

    What a block and its screws have to be hangs on the other changes: smaller screws hold less.
    """
    if trials.failing(union) == ():
        return union
    places = [place for place, change in some if set(block.KEYS) <= set(change)]
    rest = {key: value for key, value in union.items() if key not in block.KEYS}
    for place in places:
        for change in block.each(trials, place, block.KEYS, also=rest, strict=False):
            if trials.failing({**rest, **change}) == ():
                return {**rest, **change}
    return None


def _count(changes: Changes) -> int:
    """Return how many changes a person would count: a block with its screws is one."""
    return len(changes) - (set(block.KEYS) <= set(changes))


def _greedy(trials: Trials, *, also_great: bool) -> Changes:
    """Return changes taken one after another, each the one that leaves least failing.

    ``also_great``: other boards and other vessels are among them.
    """
    taken: dict[str, Value] = {}
    for _ in range(MOST_CHANGES):
        left = trials.failing(taken)
        if not left:
            break
        options: list[tuple[int, int, int, Changes]] = []
        for place in left[:8]:
            finding = (trials.findings(taken) or {}).get(place) or trials.before[place]
            keys = [
                key
                for key in levers.keys_of(
                    trials.project, finding.levers, finding.where, trials.base.layout
                )
                if also_great or not great([key])
            ]
            found = [remedy.single(trials, place, key, also=taken, strict=False) for key in keys]
            found += islice(block.each(trials, place, tuple(keys), also=taken, strict=False), 1)
            for change in found:
                if change is not None:
                    after = trials.failing({**taken, **change})
                    if after is not None:
                        options.append((len(after), bought(change), len(options), change))
        if not options:
            break
        fewest, _, _, change = min(options, key=lambda each: each[:3])
        if fewest >= len(left):
            break
        taken |= change
    return taken


def _pruned(trials: Trials, changes: Changes) -> Changes:
    """Leave out each change without which no more fails than with it."""
    kept = dict(changes)
    for key in list(kept):
        without = {name: value for name, value in kept.items() if name != key}
        with_it, without_it = trials.failing(kept), trials.failing(without)
        if with_it is not None and without_it is not None and len(without_it) <= len(with_it):
            kept = without
    return kept
