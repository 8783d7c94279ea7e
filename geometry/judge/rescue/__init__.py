"""What to do about a collar that was cut, bored and dry-fitted and does not fit.

The drawing cannot be changed any more, the wood can: the frame is racked, boards are trimmed or
turned, a bore is plugged and made anew or covered by a plate. Each rescue is what ``[built]`` would
measure afterwards, found by the same evaluation that judges everything else, and offered only if
the finding then passes and no *must* that passed before fails.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from ...shape.layout import lay_out
from .. import levers
from ..evaluate import Evaluation
from ..finding import Remedy
from ..tolerance import Place, places
from ..trials import Trials
from . import bores, frame
from .shop import Rescue, Shop

MOST_OFFERED = 4
"""Rescues that are told for one finding: the first in the shop's order."""

WAYS = (frame.rack, bores.turn, frame.trim, bores.widen, bores.bore_anew, bores.cover)
"""In the order in which a shop would try them: what takes no wood away comes first."""


def with_rescues(trials: Trials, base: Evaluation) -> Evaluation:
    """Return the evaluation in which each *must* that fails on the real thing has its rescues.

    Args:
        trials: the collar as built, and what was tried on it.
        base: its evaluation, with the remedies that change what is still to be bought.
    """
    shop = Shop(trials, base.layout, lay_out(replace(trials.project, as_built=False)))
    findings = tuple(
        replace(finding, remedies=(*rescues(shop, place), *finding.remedies))
        if finding.weight == "must" and finding.verdict == "fail" and finding.check != "readings"
        else finding
        for place, finding in places(base.findings).items()
    )
    return replace(base, findings=findings)


def rescues(shop: Shop, place: Place) -> tuple[Remedy, ...]:
    """Return what mends one finding, in the shop's order."""
    found = (rescue for way in WAYS for rescue in way(shop, place))
    return tuple(islice(_told(shop, found), MOST_OFFERED))


def _told(shop: Shop, found: Iterator[Rescue]) -> Iterator[Remedy]:
    for rescue in found:
        written = {
            key: levers.written(shop.trials.project, key, value)
            for key, value in rescue.changes.items()
        }
        yield Remedy(changes=written, says=rescue.says + _costs(shop, rescue))


def _costs(shop: Shop, rescue: Rescue) -> str:
    costs: dict[str, None] = {}
    for _, then in shop.trials.worse(rescue.changes):
        where = then.where.corner or then.where.side or ""
        what = "fails" if then.verdict == "fail" else "gets tight"
        costs[f"{then.check} {what}" + (f" ({where})" if where else "")] = None
    return f"; costs: {', '.join(islice(costs, 3))}" if costs else ""
