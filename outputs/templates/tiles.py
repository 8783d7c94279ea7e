"""Where a template that is larger than its paper is cut into sheets.

Two neighbouring sheets both show a band along their seam, with the same register marks in it; the
seam runs through the middle of the band. Seams are moved so that no hole lies in a band: then
each hole is whole on one sheet. Where that cannot be, the hole is cut as little as can be.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

BAND = 12.0
"""Width of the band that both neighbours show, mm (at least 10 was asked for; common practice)."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Cuts:
    """How one direction is cut: its two ends and the seams between, mm.

    ``split`` counts the spans that a seam goes through, each once for each seam.
    """

    low: float
    high: float
    seams: tuple[float, ...]
    split: int

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


def cut(low: float, high: float, room: float, keep: Sequence[Span]) -> Cuts:
    """Cut a length into as few sheets as will do, about equally long.

    Args:
        low: one end, mm.
        high: the other end, mm.
        room: what one sheet can show, mm.
        keep: spans that should stay whole, mm; in any order, and they may overlap.

    Raises:
        ValueError: a sheet has no room for two bands.
    """
    if high - low > room and room < 3 * BAND:
        raise ValueError(f"a sheet with room for {room:.0f} mm cannot be put together")
    best = _greedy(low, high, room, keep)
    even = (high - low + BAND * (best.count - 1)) / best.count
    for step in range(20):
        shorter = max(even + (room - even) * step / 20, 3 * BAND)
        trial = _greedy(low, high, shorter, keep)
        if trial.count == best.count and trial.split <= best.split:
            return trial
    return best


def _greedy(low: float, high: float, room: float, keep: Sequence[Span]) -> Cuts:
    """Cut with each sheet as long as it can be: this needs the fewest sheets."""
    seams: list[float] = []
    split = 0
    start = low
    while high - start > room + 1e-6:
        near, far = start + BAND, start + room - BAND / 2
        seam = _free(near, far, keep)
        if seam is None:
            seam, cuts = _least_bad(near, far, keep)
            split += cuts
        seams.append(seam)
        start = seam - BAND / 2
    return Cuts(low, high, tuple(seams), split)


def _free(near: float, far: float, keep: Sequence[Span]) -> float | None:
    """Return the last place for a seam with no span in its band."""
    seam = far
    while seam >= near:
        meets = [span for span in keep if _in_band(seam, span)]
        if not meets:
            return seam
        seam = min(span[0] for span in meets) - BAND / 2
    return None


def _least_bad(near: float, far: float, keep: Sequence[Span]) -> tuple[float, int]:
    """Return the place that cuts fewest spans, then farthest from their middles; and how many."""

    def badness(seam: float) -> tuple[int, float, float]:
        meets = [span for span in keep if _in_band(seam, span)]
        nearest = min((abs(sum(span) / 2 - seam) for span in meets), default=0.0)
        return len(meets), -nearest, -seam

    steps = max(1, int(far - near))
    places = [far - (far - near) * i / steps for i in range(steps * 2 // 3 + 1)]
    seam = min(places, key=badness)
    return seam, badness(seam)[0]


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
    """All the sheets of one template: columns from the left, rows from the bottom."""

    columns: Cuts
    rows: Cuts

    @property
    def count(self) -> int:
        """Number of sheets."""
        return self.columns.count * self.rows.count

    @property
    def split(self) -> int:
        """How many times a hole is cut by a seam."""
        return self.columns.split + self.rows.split

    def tiles(self) -> Iterator[Tile]:
        """Yield the sheets row by row from the top, each row from the left."""
        number = 0
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
