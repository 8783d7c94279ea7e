"""One way to divide the vessels between floor and step, as rows of a linear program."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise, product

import numpy as np

from .answer import Reason
from .cheap import cheap_reasons
from .homes import Home, apart, home_of
from .lp import BIG, Floats, Row, Rows
from .problem import Problem, in_order

SAME = 1e-9
"""Two numbers that should be one, mm: rounding only."""


@dataclass(frozen=True, slots=True)
class Mode:
    """Vessels with their homes, widest first; vessel i has columns 2 i and 2 i + 1.

    ``apart`` holds each pair that has to keep a distance. ``rows`` hold the walls, ``order`` the
    rows that leave out mirror images and swaps of like vessels: sound for a bound, not needed to
    find a place. ``alike`` are runs of vessels that can stand in for each other.
    """

    homes: tuple[Home, ...]
    apart: dict[tuple[int, int], float]
    rows: Rows
    order: Rows
    lower: Floats
    upper: Floats
    alike: tuple[tuple[int, ...], ...]
    obstructed: bool

    @property
    def same(self) -> set[tuple[int, int]]:
        """Pairs of like vessels."""
        return {pair for run in self.alike for pair in combinations(run, 2)}


def _walls(homes: tuple[Home, ...]) -> list[Row]:
    gap, rows = 2 * len(homes), list[Row]()
    for i, home in enumerate(homes):
        x, y, box = 2 * i, 2 * i + 1, home.gapped
        rows += [
            ((x, gap), (1.0, -1.0), box.x0),
            ((x, gap), (-1.0, -1.0), -box.x1),
            ((y, gap), (1.0, -1.0), box.y0),
            ((y, gap), (-1.0, -1.0), -box.y1),
        ]
        rows += [((x, y, gap), (-u, -v, -1.0), -c) for u, v, c in home.tangents]
    return rows


def _middle(problem: Problem, homes: tuple[Home, ...], axis: int) -> float | None:
    """Return where the mirror stands if everything is symmetric across it, or None."""
    well, spans = problem.well, list[tuple[float, float]]()
    for rect in (well.floor, well.mouth):
        spans.append((rect.x0, rect.x1) if axis == 0 else (rect.y0, rect.y1))
    for home in homes:
        if home.blocks:
            return None
        for rect in (home.gapped, home.hard):
            low, high = (rect.x0, rect.x1) if axis == 0 else (rect.y0, rect.y1)
            if (low, high) != (-np.inf, np.inf):
                spans.append((low, high))
    middles = [(low + high) / 2 for low, high in spans]
    return middles[0] if max(middles) - min(middles) <= SAME else None


def _order(problem: Problem, homes: tuple[Home, ...], alike: tuple[tuple[int, ...], ...]) -> Rows:
    rows: list[Row] = [
        ((2 * i, 2 * j), (-1.0, 1.0), 0.0) for run in alike for i, j in pairwise(run)
    ]
    for axis in (0, 1):
        middle = _middle(problem, homes, axis)
        if middle is not None and alike:
            # the sum over like vessels turns over with the mirror, however they are numbered
            run = alike[0]
            rows.append((tuple(2 * i + axis for i in run), (-1.0,) * len(run), -middle * len(run)))
    return Rows.of(rows)


def make(problem: Problem, homes: tuple[Home, ...]) -> Mode:
    """Work a way of dividing them out."""
    n = len(homes)
    distances: dict[tuple[int, int], float] = {}
    for i, j in combinations(range(n), 2):
        distance = apart(problem, homes[i], homes[j])
        if distance is not None:
            distances[i, j] = distance
    runs: dict[object, list[int]] = {}
    for i, home in enumerate(homes):
        runs.setdefault((home.vessel.kind, home.on_step), []).append(i)
    alike = tuple(tuple(run) for run in runs.values())
    lower, upper = np.full(2 * n + 1, -BIG), np.full(2 * n + 1, BIG)
    for i, home in enumerate(homes):
        h = home.hard
        lower[2 * i : 2 * i + 2] = np.maximum((h.x0, h.y0), -BIG)
        upper[2 * i : 2 * i + 2] = np.minimum((h.x1, h.y1), BIG)
    return Mode(
        homes,
        distances,
        Rows.of(_walls(homes)),
        _order(problem, homes, alike),
        lower,
        upper,
        alike,
        any(home.blocks for home in homes),
    )


def modes(problem: Problem) -> Iterator[Mode | list[Reason]]:
    """Yield each way to divide the vessels between floor and step, like vessels counted once.

    A way that a cheap proof rules out comes as its reasons.
    """
    vessels = in_order(problem.vessels)
    places = (False, True) if problem.well.step else (False,)
    kinds: dict[object, list[int]] = {}
    for i, vessel in enumerate(vessels):
        kinds.setdefault(vessel.kind, []).append(i)
    ways: list[list[tuple[int, ...]]] = []
    refused: dict[tuple[int, bool], list[Reason]] = {}
    homes: dict[tuple[int, bool], Home] = {}
    for run in kinds.values():
        for on_step in places:
            for i in run:
                homes[i, on_step], refused[i, on_step] = home_of(problem, vessels[i], on_step)
        ok = [not refused[run[0], on_step] for on_step in places]
        most = len(run) if len(places) > 1 and ok[1] else 0
        least = 0 if ok[0] else len(run)
        if least > most:
            yield [r for on_step in places for r in refused[run[0], on_step]]
            return
        # the last ones of a run go up, none first: the floor takes what it can
        ways.append([tuple(run[len(run) - up :]) for up in range(least, most + 1)])
    for way in sorted(product(*ways), key=lambda each: sum(map(len, each))):
        up = {i for run in way for i in run}
        standing = tuple(homes[i, i in up] for i in range(len(vessels)))
        reasons = cheap_reasons(problem, standing)
        yield reasons or make(problem, standing)
