"""Where along a line the worst of some checks begins to fail, by its margins."""

import math
from collections.abc import Callable, Collection, Iterable, Iterator

from .finding import Finding

Key = tuple[str, object]
"""What is asked, and where."""


def key(finding: Finding) -> Key:
    """Return what tells a finding from all others of a design."""
    return finding.check, finding.where


def margins(
    findings: Iterable[Finding], besides: Collection[Key] = ()
) -> Iterator[tuple[float, str]]:
    """Yield the margins of the *musts* that were asked with their ids, but for some.

    A margin that fails is told below 0 by more than the verdict's slack, all others from 0 on; a
    fail without a margin is endlessly bad.
    """
    for each in findings:
        if each.weight == "must" and key(each) not in besides:
            if each.verdict == "fail":
                yield -math.inf if each.margin is None else each.margin, each.check
            elif each.margin is not None:
                yield max(0.0, each.margin), each.check


def narrowed(
    worst: Callable[[float], tuple[float, str]],
    passing: tuple[float, float],
    failing: tuple[float, float, str],
    close: float,
) -> tuple[float, str]:
    """Narrow down where a line begins to fail, by turns where margins point to and in the middle.

    Margins that are endless, or that jump, cost more steps and do no harm.

    Args:
        worst: the least margin at a place of the line, negative where it fails, and its check.
        passing: a place, and the margin there.
        failing: a place farther along, its margin, and the check.
        close: how far the two may be apart in the end.

    Returns:
        The last place that was found to pass, and the check that fails beyond.
    """
    (low, good), (high, bad, bound) = passing, failing
    pointed = False
    while high - low > close:
        at = (low + high) / 2
        if not pointed and math.isfinite(good) and math.isfinite(bad):
            zero = low + good / (good - bad) * (high - low)
            # a little to the side that is farther, so that both ends close in on it
            at = zero + (close / 2 if zero - low < high - zero else -close / 2)
            at = min(max(at, low + close / 4), high - close / 4)
        pointed = not pointed
        found, what = worst(at)
        if found < 0:
            high, bad, bound = at, found, what
        else:
            low, good = at, found
    return low, bound
