"""Proofs that need no search, each with its own words: two homes too near, too many axes."""

from itertools import combinations
from math import hypot, sqrt

from .answer import Reason
from .homes import PROOF, Home, apart
from .problem import Problem, Rect


def _two_apart(problem: Problem, a: Home, b: Home) -> Reason | None:
    """Compare the distance that two need with the farthest points of their homes."""
    least = apart(problem, a, b)
    if least is None:
        return None
    p, q = a.box(problem.gap), b.box(problem.gap)
    there = hypot(max(p.x1 - q.x0, q.x1 - p.x0), max(p.y1 - q.y0, q.y1 - p.y0))
    needed = least + problem.gap
    if there >= needed - PROOF:
        return None
    return Reason("two apart", (a.vessel.name, b.vessel.name), a.on_step, needed, there)


def most_axes(width: float, depth: float, distance: float) -> float:
    """Return a number that no count of points so far apart in a rectangle exceeds.

    Oler's inequality (Canadian Mathematical Bulletin 1961, from memory): in a compact convex set
    of area A and perimeter P, n points at least d apart have
    ``n <= 2 A / (sqrt(3) d^2) + P / (2 d) + 1``.
    """
    area, around = width * depth, 2 * (width + depth)
    return 2 * area / (sqrt(3) * distance**2) + around / (2 * distance) + 1


def _too_many(problem: Problem, homes: list[Home]) -> Reason | None:
    """Count the widest k of those on one kind of place, for every k."""
    for k in range(3, len(homes) + 1):
        some = homes[:k]
        distances = [apart(problem, a, b) for a, b in combinations(some, 2)]
        if any(each is None for each in distances):
            return None
        distance = min(each for each in distances if each is not None) + problem.gap
        boxes = [home.box(problem.gap) for home in some]
        around = Rect(
            min(b.x0 for b in boxes),
            min(b.y0 for b in boxes),
            max(b.x1 for b in boxes),
            max(b.y1 for b in boxes),
        )
        width, depth = max(around.x1 - around.x0, 0.0), max(around.y1 - around.y0, 0.0)
        most = most_axes(width, depth, distance - PROOF)
        if k > most + 1e-9:
            names = tuple(home.vessel.name for home in some)
            return Reason("too many", names, some[0].on_step, k, int(most))
    return None


def cheap_reasons(problem: Problem, homes: tuple[Home, ...]) -> list[Reason]:
    """Return the first cheap reason why vessels so divided cannot keep the gap, if there is one."""
    for a, b in combinations(homes, 2):
        reason = _two_apart(problem, a, b)
        if reason:
            return [reason]
    for on_step in (False, True):
        some = [home for home in homes if home.on_step is on_step]
        if len(some) > 2:
            reason = _too_many(problem, some)
            if reason:
                return [reason]
    return []
