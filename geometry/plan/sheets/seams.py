"""Where a panel that is longer than a sheet is parted: in as few pieces as can be, away from holes.

A seam is a butt joint of two square ends on the board. Nothing can be found on how far it should
stay from a cut-out; ``CLEAR`` and ``SLIVER`` are common practice, no source. Where there is no such
room a seam lies as far off as it can, and how far that is is told.
"""

from collections.abc import Callable, Iterator, Sequence

CLEAR = 5_000
"""A seam stays so far from every pocket, opening and passage where there is room, steps: 50 mm."""

SLIVER = 10_000
"""No piece is shorter where it can be helped, steps: 100 mm is what can be held down and cut."""

Span = tuple[int, int]
Way = tuple[int, ...]
"""Places of a panel's seams from its left end (or lower edge) on, steps."""

_Cost = tuple[int, int, int]


def clearance(at: int, spans: Sequence[Span]) -> int | None:
    """Return how far a seam is from the nearest hole, steps; less than 0 where it cuts into one.

    None where there is no hole.
    """
    return min((max(low - at, at - high) for low, high in spans), default=None)


def ways(length: int, longest: int, spans: Sequence[Span]) -> tuple[Way, ...]:
    """Return the places that a panel's seams may have; one empty way where it needs none.

    All are as good for the holes: as few seams as can be are nearer than ``CLEAR``, by as little as
    can be. The first lies as far from holes as it can; with the others the first piece is as long,
    or as short, as it can be, so that a piece of a whole sheet is among them.

    Args:
        length: of the panel, steps.
        longest: the longest piece that comes out of a sheet, steps.
        spans: what each hole takes of the panel's length, steps.
    """
    count = -(-length // longest)
    if count == 1:
        return ((),)
    least = min(SLIVER, length // (3 * count))
    single = set(_places(length, longest, count, least, spans))
    # a seam may lie where it does only because another one is a whole sheet away
    chained = {at + k * longest for at in single for k in range(2 - count, count - 1)}
    places = sorted(at for at in single | chained if 0 < at < length)

    def far(at: int) -> int:
        clear = clearance(at, spans)
        return 0 if clear is None else -clear

    ties: tuple[Callable[[int], int], ...] = (far, lambda at: -at, lambda at: at)
    found: list[Way] = []
    for tie in ties:
        way = _best(length, longest, count, least, places, spans, tie)
        if way not in found:
            found.append(way)
    return tuple(found)


def _places(
    length: int, longest: int, count: int, least: int, spans: Sequence[Span]
) -> Iterator[int]:
    """Yield places worth a trial: between holes, clear of them, and where pieces end."""
    edges = sorted((max(0, low), min(length, high)) for low, high in spans)
    end = 0
    for low, high in (*edges, (length, length)):
        if low > end:
            yield (end + low) // 2
            yield from (at for at in (end + CLEAR, low - CLEAR) if end < at < low)
        end = max(end, high)
    for k in range(1, count):
        first, last = max(0, length - (count - k) * longest), min(length, k * longest)
        yield from (first, last, length * k // count)
        yield from (at for at in (least, length - least) if first <= at <= last)


def _best(
    length: int, longest: int, count: int, least: int, places: Sequence[int],
    spans: Sequence[Span], tie: Callable[[int], int],
) -> Way:  # fmt: skip
    """Return the best way, seam by seam from the left; pieces from ``least`` to ``longest``."""
    rows: dict[int, tuple[_Cost, Way]] = {0: ((0, 0, 0), ())}
    for _ in range(1, count):
        following: dict[int, tuple[_Cost, Way]] = {}
        for at in places:
            clear = clearance(at, spans)
            lacks = 0 if clear is None else max(0, CLEAR - clear)
            options = [
                ((near + (lacks > 0), lack + lacks, tied + tie(at)), (*way, at))
                for before, ((near, lack, tied), way) in rows.items()
                if least <= at - before <= longest
            ]
            if options:
                following[at] = min(options)
        rows = following
    return min(each for at, each in rows.items() if least <= length - at <= longest)[1]
