"""Rescues of the frame: racking it, and trimming boards to length."""

from collections.abc import Callable, Iterator, Mapping

from ....params.project import SIDES, Side
from ...shape.built import DryFrame, second_diagonal, squared
from ...shape.six_lengths import CORNERS
from ..change import Value
from ..finding import Finding
from ..tolerance import Place
from ..trials import Changes
from .shop import WORTH, Rescue, Shop

DIAGONALS = ("built.front_left_to_back_right", "built.front_right_to_back_left")

RACKED = 40.0
"""How far from square a racked frame is sought, mm of its first diagonal; no dry frame holds
further (common practice, no source)."""

PROBE = 10.0
"""A push that shows which findings racking moves at all, mm of the first diagonal."""

EXTRA = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0)
"""What is taken off beyond what makes opposite boards alike, mm; the least comes first."""

SLIVER = "clamp board and stop; a thin offcut is thrown, so let the blade stand before lifting it"


def rack(shop: Shop, place: Place) -> Iterator[Rescue]:
    """Yield the push along a diagonal that makes the frame as drawn, or else fit best."""
    dry = shop.real.frame.dry
    if dry is None or not _responds(shop, place, dry):
        return
    square = squared(dry.lengths, dry.lean)
    if square is None:
        return

    def mends(first: float) -> bool:
        changes = _racked(shop, dry, first)
        return changes is not None and shop.mends(place, changes)

    for first in (square, None):
        target = first if first is not None else _best(shop, dry, square)
        if abs(target - dry.diagonals[0]) > shop.step / 2 and mends(target):
            still = _failing(shop, dry, target) or ()

            def as_good(each: float, still: tuple[Place, ...] = still) -> bool:
                failing = _failing(shop, dry, each)
                return failing is not None and set(failing) <= set(still)

            low, high = (_edge(as_good, target, way * 2 * RACKED) for way in (-1, 1))
            yield _push(shop, dry, target, low, high)
            return


def _racked(shop: Shop, dry: DryFrame, first: float) -> Changes | None:
    second = second_diagonal(dry.lengths, first)
    if second is None:
        return None
    return dict(zip(DIAGONALS, (shop.rounded(first), shop.rounded(second)), strict=True))


def _failing(shop: Shop, dry: DryFrame, first: float) -> tuple[Place, ...] | None:
    changes = _racked(shop, dry, first)
    return None if changes is None else shop.trials.failing(changes)


def _found(shop: Shop, dry: DryFrame, first: float) -> Mapping[Place, Finding]:
    """Return the findings of the frame racked to a first diagonal; none where it cannot be."""
    changes = _racked(shop, dry, first)
    return (shop.trials.findings(changes) if changes is not None else None) or {}


def _responds(shop: Shop, place: Place, dry: DryFrame) -> bool:
    """Tell whether racking moves a finding's margin."""
    margins: list[float] = []
    for way in (-PROBE, PROBE):
        each = _found(shop, dry, dry.diagonals[0] + way).get(place)
        if each is None or each.margin is None:
            return False
        margins.append(each.margin)
    now = shop.trials.before[place].margin or 0.0
    return max(abs(margin - now) for margin in margins) >= WORTH


def _best(shop: Shop, dry: DryFrame, square: float) -> float:
    """Return the first diagonal at which the least margin that racking moves is greatest.

    Margins of a frame's fit rise to one place and fall from it, so thirds do.
    """
    near = {
        place
        for place, each in shop.trials.before.items()
        if each.weight == "must" and each.unit == "mm" and _responds(shop, place, dry)
    }

    def least(first: float) -> float:
        found = _found(shop, dry, first)
        margins = [each.margin for place, each in found.items() if place in near]
        return min((margin for margin in margins if margin is not None), default=-1e9)

    low, high = square - RACKED, square + RACKED
    while high - low > shop.step:
        third = (high - low) / 3
        if least(low + third) < least(high - third):
            low += third
        else:
            high -= third
    return (low + high) / 2


def _edge(does: Callable[[float], bool], good: float, way: float) -> float:
    """Return how far a diagonal may be from a good reading and still do, within 0.25 mm."""
    bad = good + way
    if does(bad):
        return bad
    while abs(bad - good) > 0.25:
        middle = (good + bad) / 2
        if does(middle):
            good = middle
        else:
            bad = middle
    return good


def _push(shop: Shop, dry: DryFrame, first: float, low: float, high: float) -> Rescue:
    """Say which corners come together, what both diagonals then read, and how exactly."""
    changes = _racked(shop, dry, first)
    assert changes is not None
    pushed = 0 if first < dry.diagonals[0] else 1
    reads = [float(changes[key]) for key in DIAGONALS]
    ends = [low, high]
    if pushed == 1:
        found = [second_diagonal(dry.lengths, each) for each in (high, low)]
        ends = [each if each is not None else reads[1] for each in found]
    by = abs(dry.diagonals[pushed] - reads[pushed])
    says = (
        f"rack the frame: push the {CORNERS[pushed]} and {CORNERS[pushed + 2]} corners together by"
        f" {shop.said(by)}, until that diagonal reads {shop.said(reads[pushed])} and the other"
        f" {shop.said(reads[1 - pushed])}; anything from {shop.said(shop.rounded_up(ends[0]))}"
        f" to {shop.said(shop.rounded_down(ends[1]))} does"
    )
    return Rescue(changes, says)


def trim(shop: Shop, place: Place) -> Iterator[Rescue]:
    """Yield the least cut after which opposite boards are alike (as drawn) and the frame squared.

    Both boards of a pair come to the same length below the drawn one; where that is not enough,
    more is taken off one pair, or off both. Nothing is cut where racking does.
    """
    dry = shop.real.frame.dry
    if dry is None or next(rack(shop, place), None) is not None:
        return
    drawn = [board.long_point for board in shop.drawn.boards]
    short = [was - now for was, now in zip(drawn, dry.lengths, strict=True)]
    least = max(short[0], short[2]), max(short[1], short[3])
    for extra in EXTRA:
        pairs = ((extra, 0.0), (0.0, extra), (extra, extra)) if extra else ((0.0, 0.0),)
        for across, along in pairs:
            more = across, along
            lengths = tuple(
                _cut_to(shop, now, was - least[i % 2], more[i % 2])
                for i, (was, now) in enumerate(zip(drawn, dry.lengths, strict=True))
            )
            rescue = _trimmed(shop, dry, lengths)
            if rescue is not None and shop.mends(place, rescue.changes):
                yield rescue
                return


def _cut_to(shop: Shop, now: float, alike: float, more: float) -> float:
    """Return a board's new long point, mm: as the shorter of its pair asks, and ``more`` off."""
    if more:
        return min(now, shop.rounded_down(alike - more))
    return now if now - alike <= shop.step / 2 else shop.rounded(alike)


def _trimmed(shop: Shop, dry: DryFrame, lengths: tuple[float, ...]) -> Rescue | None:
    """Return the rescue that cuts the boards to new long points; None where nothing is cut."""
    front, right, back, left = lengths
    losses = [now - new for now, new in zip(dry.lengths, lengths, strict=True)]
    if max(losses) < 0.25:
        return None
    first = squared((front, right, back, left), dry.lean)
    second = first and second_diagonal((front, right, back, left), first)
    if first is None or second is None:
        return None
    changes: dict[str, Value] = {}
    wanted: dict[int, dict[str, float]] = {}
    cuts: list[str] = []
    for side, new, loss in zip(SIDES, lengths, losses, strict=True):
        if loss < 0.25:
            continue
        changes[f"built.{side}"] = new
        share = _left_share(shop, side, new, loss)
        end = {0.0: "its right end", 0.5: "both ends alike", 1.0: "its left end"}[share]
        cuts.append(f"{side} to {shop.said(new)} ({shop.said(loss)} off {end})")
        for tap in shop.real.taps_on(side):
            # A bore that nobody measured is taken to be where it was drawn from the middle.
            moved = share > 0 if shop.measured(tap) else share != 0.5
            if moved:
                wanted[tap.number] = {"from_left": shop.rounded(tap.u - share * loss)}
    changes |= shop.bored(wanted)
    reads = shop.rounded(first), shop.rounded(second)
    changes |= dict(zip(DIAGONALS, reads, strict=True))
    both = (
        f"both diagonals read {shop.said(reads[0])}"
        if reads[0] == reads[1]
        else f"the diagonals read {shop.said(reads[0])} and {shop.said(reads[1])}"
    )
    says = (
        f"trim {', '.join(cuts)}, at the same tilt; {SLIVER}. Then push the dry frame until {both}"
    )
    return Rescue(changes, says)


def _left_share(shop: Shop, side: Side, new: float, loss: float) -> float:
    """Return what share of a cut goes to the left end: it brings the bores nearest to the drawing.

    From the board's middle they are then least off; without bores all of it goes to the right.
    """
    drawn, taps = shop.drawn.board(side), shop.real.taps_on(side)

    def off(share: float) -> float:
        return max(
            (
                abs(
                    (tap.u - share * loss - new / 2)
                    - (shop.drawn.taps[tap.number - 1].u - drawn.long_point / 2)
                )
                for tap in taps
            ),
            default=share,
        )

    return min((0.0, 1.0, 0.5), key=off)
