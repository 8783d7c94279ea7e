"""Where a template that is larger than its paper is cut into sheets.

Two neighbouring sheets both show a band along their seam, with the same register marks in it; the
seam runs through the middle of the band. Seams are moved so that no hole lies in a band: then
each hole is whole on one sheet. Where that cannot be, the hole is cut as little as can be. No
sheet is left with a sliver of board where another cut avoids it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

BAND = 12.0
"""Width of the band that both neighbours show, mm (at least 10 was asked for; common practice)."""

LEAST = 25.0
"""What a sheet should carry of the board that no other does, mm: on less than that there is no
room for its texts and its marks beside each other (common practice, no source)."""

COARSE, FINE = 4.0, 1.0
"""How far apart the places for a seam are that are tried first, and after that, mm."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Cuts:
    """How one direction is cut: its two ends and the seams between, mm.

    ``split`` counts the spans that a seam goes through, each once for each seam; ``thin`` is what
    all sheets together lack of ``LEAST``, mm.
    """

    low: float
    high: float
    seams: tuple[float, ...]
    split: int
    thin: float = 0.0

    @property
    def count(self) -> int:
        """Number of sheets side by side."""
        return len(self.seams) + 1

    def own(self, index: int) -> Span:
        """What is seen of a sheet when all are put together."""
        ends = (self.low, *self.seams, self.high)
        return ends[index], ends[index + 1]

    def shown(self, index: int) -> Span:
        """What is printed on a sheet: its own part and half a band beyond each seam."""
        low, high = self.own(index)
        return low - BAND / 2 * (index > 0), high + BAND / 2 * (index < len(self.seams))


def cut(low: float, high: float, room: float, keep: Sequence[Span], edge: float = 0.0) -> Cuts:
    """Cut a length into sheets.

    In this order: as few spans cut as can be, no sheet with less than ``LEAST`` of its own, as few
    sheets as will do, a span that must be cut is cut far from its middle, and all about equally
    long.

    Args:
        low: one end, mm.
        high: the other end, mm.
        room: what one sheet can show, mm.
        keep: spans that should stay whole, mm; in any order, and they may overlap.
        edge: what of each end is not board, mm.

    Raises:
        ValueError: a sheet has no room for two bands.
    """
    if high - low <= room + 1e-6:
        return Cuts(low, high, (), 0)
    if room < 3 * BAND:
        raise ValueError(f"a sheet with room for {room:.0f} mm cannot be put together")
    found = _best(low, high, room, keep, edge, COARSE)
    return found if found.thin == 0 else _best(low, high, room, keep, edge, FINE)


Cost = tuple[int, float, int, float, float]
"""Spans cut; mm that sheets lack of ``LEAST``; sheets; nearness to spans' middles; unevenness."""


def _best(
    low: float, high: float, room: float, keep: Sequence[Span], edge: float, step: float
) -> Cuts:
    """Weigh all ways to cut with seams at some places against each other.

    The shortest path over the places from one end to the other: what a seam or a sheet costs does
    not depend on those before it.
    """
    places = [low, *_places(low, high, room, keep, step), high]
    last = len(places) - 1
    seams = [_at_seam(place, keep) for place in places]
    seams[0] = seams[last] = (0, 0.0)
    ways: list[tuple[Cost, int] | None] = [((0, 0.0, 0, 0.0, 0.0), 0)]
    for i in range(1, last + 1):
        split, near = seams[i]
        best: tuple[Cost, int] | None = None
        for j in range(i - 1, -1, -1):
            own = places[i] - places[j]
            ends = (j == 0) + (i == last)
            if own + BAND * (2 - ends) / 2 > room + 1e-6:
                if own > room:
                    break
                continue
            before = ways[j]
            if before is None or own < BAND:
                continue
            share, cost = own - edge * ends, before[0]
            if best is not None and cost[0] + split > best[0][0]:
                continue  # the usual case: most places cut something
            lacks = max(0.0, LEAST - share)
            trial = (
                cost[0] + split, cost[1] + lacks, cost[2] + 1, cost[3] + near,
                cost[4] + share * share,
            )  # fmt: skip
            if best is None or trial < best[0]:
                best = trial, j
        ways.append(best)
    return _walk_back(places, ways)


def _walk_back(places: Sequence[float], ways: Sequence[tuple[Cost, int] | None]) -> Cuts:
    seams: list[float] = []
    way = ways[-1]
    if way is None:  # three bands leave at least 12 mm to choose from, and places are nearer
        raise ValueError("a sheet cannot be put together")
    cost = way[0]
    while way is not None and way[1]:
        seams.append(places[way[1]])
        way = ways[way[1]]
    return Cuts(places[0], places[-1], tuple(reversed(seams)), cost[0], cost[1])


def _places(
    low: float, high: float, room: float, keep: Sequence[Span], step: float
) -> Iterable[float]:
    """Return where seams may be: at regular places, right beside spans, as far as paper goes."""
    count = ceil((high - low) / step)
    found = {low + (high - low) * i / count for i in range(1, count)}
    for start, end in keep:
        found |= {start - BAND / 2, end + BAND / 2}
    seam = low + BAND / 2  # a sheet at an end has one band only
    while high - seam > room - BAND / 2:  # each sheet as long as can be: the fewest sheets
        far = seam + room - BAND
        free = _free(seam + BAND, far, keep)
        seam = far if free is None else free
        found.add(seam)
    return sorted(each for each in found if low + BAND <= each <= high - BAND)


def _free(near: float, far: float, keep: Sequence[Span]) -> float | None:
    """Return the last place for a seam with no span in its band."""
    seam = far
    while seam >= near:
        meets = [span for span in keep if _in_band(seam, span)]
        if not meets:
            return seam
        seam = min(span[0] for span in meets) - BAND / 2
    return None


def _at_seam(seam: float, keep: Sequence[Span]) -> tuple[int, float]:
    """Return how many spans a seam goes through, and how far from the nearest middle, negative."""
    meets = [span for span in keep if _in_band(seam, span)]
    return len(meets), -min((abs(sum(span) / 2 - seam) for span in meets), default=0.0)


def _in_band(seam: float, span: Span) -> bool:
    return span[0] < seam + BAND / 2 - 1e-6 and span[1] > seam - BAND / 2 + 1e-6


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet: number from 1, row from 1 at the top, column from 1 at the left."""

    number: int
    row: int
    column: int
    own_x: Span
    own_y: Span
    shown_x: Span
    shown_y: Span

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies in what is seen of this sheet."""
        (x0, x1), (y0, y1) = self.own_x, self.own_y
        return x0 <= x < x1 and y0 <= y < y1


@dataclass(frozen=True, slots=True)
class Tiling:
    """The sheets that are put together to one: columns from the left, rows from the bottom.

    A file may hold several such: ``before`` and ``after`` are how many sheets of it come before
    these and after them, ``letters`` how many seams before them have a letter already.
    """

    columns: Cuts
    rows: Cuts
    before: int = 0
    after: int = 0
    letters: int = 0

    @property
    def count(self) -> int:
        """Number of sheets."""
        return self.columns.count * self.rows.count

    @property
    def total(self) -> int:
        """Number of sheets in the file."""
        return self.before + self.count + self.after

    @property
    def split(self) -> int:
        """How many times a hole is cut by a seam."""
        return self.columns.split + self.rows.split

    @property
    def thin(self) -> float:
        """What sheets lack of ``LEAST``, mm."""
        return self.columns.thin + self.rows.thin

    def tiles(self) -> Iterator[Tile]:
        """Yield the sheets row by row from the top, each row from the left."""
        number = self.before
        for row in range(self.rows.count):
            from_bottom = self.rows.count - 1 - row
            for column in range(self.columns.count):
                number += 1
                yield Tile(
                    number,
                    row + 1,
                    column + 1,
                    self.columns.own(column),
                    self.rows.own(from_bottom),
                    self.columns.shown(column),
                    self.rows.shown(from_bottom),
                )
