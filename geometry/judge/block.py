"""A block behind the back board and screws that reach into it: two changes that go together.

Longer screws alone come through the board and a block alone is out of the screws' reach, so that
neither moves a finding by itself and no search finds the two one after the other.
"""

from collections.abc import Iterator

from ...params.units import INCH
from . import levers
from .tolerance import Place
from .trials import Changes, Trials

KEYS: tuple[str, str] = ("hinge.backing", "hinge.screw_length")

BLOCKS = {
    "mm": (12.0, 18.0, 24.0, 30.0),
    "in": (12.7, 19.05, 25.4, 38.1),
}
"""Thickness of blocks from common board and plywood, mm (common practice, no source)."""

SCREWS = {
    "mm": (16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0),
    "in": tuple(INCH * each for each in (0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0)),
}
"""Lengths that wood screws are commonly sold in, mm (common practice, no source)."""


def each(
    trials: Trials,
    place: Place,
    keys: tuple[str, ...],
    also: Changes | None = None,
    *,
    strict: bool = True,
) -> Iterator[Changes]:
    """Yield every block with screws that mends a finding, the thinnest and shortest first.

    Those that leave the finding its tolerance to spare come before those that do not.

    Args:
        trials: the design and what was tried on it.
        place: the finding.
        keys: what may be changed; nothing is tried where one of the two is not among them.
        also: changes that are made already.
        strict: no *must* that passed before may fail.
    """
    if not set(KEYS) <= set(keys):
        return
    project, layout = trials.project, trials.base.layout
    block, screw = (levers.now(project, layout, key) or 0.0 for key in KEYS)
    tried: list[Changes] = [
        {KEYS[0]: thick, KEYS[1]: long}
        for thick in BLOCKS[project.show]
        if thick > block
        for long in SCREWS[project.show]
        if long > screw
    ]
    told: list[Changes] = []
    for firmly in (True, False):
        for changes in tried:
            if changes in told:
                continue
            if trials.mends(place, {**(also or {}), **changes}, firmly=firmly, strict=strict):
                told.append(changes)
                yield dict(changes)
