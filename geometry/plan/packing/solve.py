"""Packs the vessels: cheap proofs, then places, then the bound."""

from dataclasses import replace
from random import Random

import numpy as np

from .answer import Packing, Place, Reason
from .find import FINE, Finder, Try
from .homes import PROOF
from .lp import Floats, Solver
from .mode import Mode, modes
from .places import Tightest, measure
from .problem import Problem, in_order
from .search import Proof, Search

NODES, NODES_TO_PROVE = 2_000, 20_000
"""Parts of the search looked at before it stops: counts, so that every machine stops alike."""
TOLERANCE = 0.5
"""How near the bound comes to the gap that was found, mm."""
STARTS, CHAINS, HOPS = 6, 3, 24
"""Random starts in each mode; chains of hops from the best of them, and hops in each."""
AT_A_GLANCE = 2, 1, 6
"""The same for a look at what is only tried: about a fifth of the work."""
MANY = 12
"""Vessels beyond which the search is cut short in proportion: each part of it takes longer, and no
freezer that is filled by hand holds more."""
MODES = 40
"""Modes that places are looked for in, the most promising ones first."""
SLACK = 1e-6
"""A gap that misses the required one by less is that gap: rounding, mm."""


class _Best:
    """The best placement so far, measured without the solver."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.places: tuple[Place, ...] = ()
        self.tightest = Tightest(-np.inf, ("", ""))

    def offer(self, mode: Mode, at: Floats) -> None:
        """Keep a placement if it is better."""
        places = _places(mode, at)
        tightest = measure(self.problem, places)
        if tightest.gap > self.tightest.gap:
            self.places, self.tightest = places, tightest


def _places(mode: Mode, at: Floats) -> tuple[Place, ...]:
    """Return places by name; of like vessels the first name stands farthest left."""
    found: list[Place] = []
    for run in mode.alike:
        spots = sorted((float(at[2 * i]), float(at[2 * i + 1])) for i in run)
        homes = sorted((mode.homes[i] for i in run), key=lambda home: home.vessel.name)
        found += [
            Place(home.vessel.name, x, y, home.z, home.on_step)
            for home, (x, y) in zip(homes, spots, strict=True)
        ]
    return tuple(sorted(found, key=lambda place: place.vessel))


def _tall_at_back(problem: Problem, best: _Best) -> None:
    """Turn the placement over, front to back, if it is as good with the tall ones behind."""
    floor = problem.well.floor
    heights = {vessel.name: vessel.height for vessel in problem.vessels}
    turned = tuple(
        Place(p.vessel, p.x, floor.y0 + floor.y1 - p.y, p.z, p.on_step) for p in best.places
    )
    middle = (floor.y0 + floor.y1) / 2
    bottom = problem.well.bottom
    lean = sum((p.z + heights[p.vessel] - bottom) * (p.y - middle) for p in best.places)
    if lean < -SLACK:
        tightest = measure(problem, turned)
        if tightest.gap >= best.tightest.gap - SLACK:
            best.places, best.tightest = turned, tightest


def _find(finders: list[Finder], best: _Best, effort: tuple[int, int, int]) -> None:
    """Look for places in every mode, then more closely in those that look best."""
    starts, chains, hops = effort
    tries: list[tuple[float, int, Finder, Try]] = []
    for number, finder in enumerate(finders[:MODES]):
        chance = Random(number)  # noqa: S311 - not a secret, only the same every time
        for _ in range(starts):
            found = finder.climb(finder.anywhere(chance))
            tries.append((-found.gap, len(tries), finder, found))
            if found.gap >= finder.most - PROOF:
                break
    tries.sort(key=lambda each: each[:2])
    enough = max((finder.most for finder in finders), default=0.0) - PROOF
    for number, (_, _, finder, start) in enumerate(tries[:chains]):
        chance = Random(1000 + number)  # noqa: S311
        found = finder.chain(start, hops, chance, enough)
        best.offer(finder.mode, finder.climb(found.at, FINE).at)
        if best.tightest.gap >= enough:
            return


def _from(near: tuple[Place, ...], finders: list[Finder], best: _Best) -> None:
    """Climb from a placement of a problem like this one, in the mode that it is of."""
    kinds = {vessel.name: vessel.kind for vessel in best.problem.vessels}
    if {place.vessel for place in near} != set(kinds):
        return
    spots: dict[tuple[object, bool], list[Place]] = {}
    for place in near:
        spots.setdefault((kinds[place.vessel], place.on_step), []).append(place)
    for finder in finders:
        runs: dict[tuple[object, bool], list[int]] = {}
        for i, home in enumerate(finder.mode.homes):
            runs.setdefault((home.vessel.kind, home.on_step), []).append(i)
        if {key: len(run) for key, run in runs.items()} == {k: len(s) for k, s in spots.items()}:
            at = np.zeros(2 * len(kinds))
            for key, run in runs.items():
                for i, place in zip(run, spots[key], strict=True):
                    at[2 * i : 2 * i + 2] = place.x, place.y
            best.offer(finder.mode, finder.climb(at, FINE).at)
            return


def _bound(finders: list[Finder], solver: Solver, best: _Best, nodes: int) -> Proof:
    """Search until the bound is near the best gap, or shows that the required one is too much."""
    required = best.problem.gap
    by_mode = {id(finder.mode): finder for finder in finders}

    def look(mode: Mode, at: Floats) -> float:
        best.offer(mode, by_mode[id(mode)].climb(at[:-1], FINE).at)
        return best.tightest.gap

    def threshold(gap: float) -> float:
        return gap + TOLERANCE if gap >= required - SLACK else required - PROOF

    search = Search([finder.mode for finder in finders], solver, look, threshold)
    return search.run(nodes, best.tightest.gap)


def _ruled_out(
    problem: Problem, ways: list[Mode], cheap: list[Reason], bound: float
) -> tuple[Reason, ...]:
    """Return the reasons that together leave no way, each told once."""
    reasons = list(dict.fromkeys(cheap))
    if ways:
        names = tuple(sorted(vessel.name for vessel in problem.vessels))
        reasons.append(Reason("every way tried", names, False, problem.gap, bound))
    return tuple(reasons)


def pack(
    problem: Problem, nodes: int = NODES, *, glance: bool = False, near: tuple[Place, ...] = ()
) -> Packing:
    """Find places for all vessels that keep the largest gap, and prove what cannot be kept.

    ``fits``: the places keep the gap that is asked for, measured again without the solver.
    ``does not fit (proved)``: a cheap reason, or the bound of the whole search, is below it.
    ``not found``: neither came out within ``nodes`` parts of the search. The answer depends on
    nothing but the problem: neither the vessels' order nor the machine's speed.

    Args:
        problem: What has to stand where, mm.
        nodes: How many parts of the search are looked at; ``NODES_TO_PROVE`` to go to the end.
        glance: Look for places less closely: for what is only tried.
        near: Places in a problem like this one, by the same names: where to look first.
    """
    problem = replace(
        problem,
        vessels=tuple(in_order(problem.vessels)),
        obstacles=tuple(sorted(problem.obstacles, key=lambda box: (box.name, box.rect))),
    )
    required = problem.gap
    if not problem.vessels:
        return Packing("fits", required, (), np.inf, np.inf)
    ways: list[Mode] = []
    cheap: list[Reason] = []
    for way in modes(problem):
        if isinstance(way, Mode):
            ways.append(way)
        else:
            cheap += way
    if not ways:
        return Packing(
            "does not fit (proved)", required, (), None, required, tuple(dict.fromkeys(cheap))
        )
    solver, best = Solver(), _Best(problem)
    finders = [Finder(mode, solver) for mode in ways]
    finders.sort(key=lambda finder: -finder.most)
    if near:
        _from(near, finders, best)
    many = len(problem.vessels)
    if not glance or best.tightest.gap < required - SLACK:
        short = glance or many > MANY
        _find(finders, best, AT_A_GLANCE if short else (STARTS, CHAINS, HOPS))
    proof = _bound(finders, solver, best, nodes if many <= MANY else nodes * MANY**2 // many**2)
    _tall_at_back(problem, best)
    gap = float(best.tightest.gap)
    bound = max(proof.bound, gap, required - PROOF if cheap else -np.inf)
    if gap >= required - SLACK:
        verdict, reasons = "fits", ()
    elif proof.closed and proof.bound < required - PROOF / 2:
        verdict = "does not fit (proved)"
        reasons = _ruled_out(problem, ways, cheap, proof.bound)
    else:
        verdict, reasons = "not found", ()
    return Packing(
        verdict,
        required,
        best.places,
        gap,
        bound,
        reasons,
        proof.nodes,
        not proof.closed,
        best.tightest.between,
    )
