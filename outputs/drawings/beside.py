"""Where a text may stand that belongs to a thing: beside it, or at the end of a leader.

These are places to try, the best first. Which of them is free is known once all lines stand, to
``draft``. All in mm of the page.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, dist, radians, sin
from typing import Literal

from ..paper.dims import SMALL, font_size, leader
from ..paper.marks import Anchor, Mark, Point, Words
from ..paper.pdf import text_width

OUTS = (7, 10, 14, 18, 23, 28, 34, 40, 47, 55, 64)
"""How long a leader may be, mm (for the eye only, as are all figures here)."""

FAR_OUTS = (*OUTS, 75, 88, 102, 118)
"""The same where it has no room in the directions that were asked for."""

UNASKED = 12.0
"""A leader in another direction is taken where it is so much shorter, mm."""

OVER_A_LINE = 8.0
"""A leader that runs over a line less is taken where it is no more than so much longer, mm."""

ON_A_PART = 30.0
"""A text that stands on no part is taken where its leader is no more than so much longer, mm."""

AT_TIP = 0.6
"""So near the tip lines are the thing's own, mm."""

NEARER = 0.5
"""A number's middle is nearer to its own place than to any other by so much, mm."""


@dataclass(frozen=True, slots=True)
class Leader:
    """A text with a line to a point; ``toward`` are directions to try, degrees."""

    tip: Point
    text: str
    end: Literal["arrow", "dot", "none"]
    toward: tuple[float, ...]
    height: float = SMALL


@dataclass(frozen=True, slots=True)
class Tag:
    """A text at least ``away`` from a place, or ``within`` so far of it.

    ``others`` are places that it could be taken to belong to. One that is ``optional`` is left out
    where there is no room.
    """

    at: Point
    away: float
    text: str
    height: float
    within: float = 0.0
    others: tuple[Point, ...] = ()
    optional: bool = False


def tag_places(tag: Tag) -> Iterator[Words]:
    """Yield a tag's text in each of its places, but for those nearer to what it does not name."""
    size = font_size(tag.height)
    wide = text_width(tag.text, size)
    (x, y), half = tag.at, tag.height / 2
    anchors: tuple[tuple[Anchor, float], ...] = (
        ("start", wide / 2), ("middle", 0.0), ("end", -wide / 2)
    )  # fmt: skip
    for dx, dy, side in _about(tag, size):
        anchor, off = anchors[side]
        middle = x + dx + off, y + dy + half
        own = dist(middle, tag.at) + NEARER
        if all(dist(middle, other) > own for other in tag.others):
            yield Words(x + dx, y + dy, size, tag.text, anchor)


def _about(tag: Tag, high: float) -> Iterator[tuple[float, float, int]]:
    """Yield baselines about a tag's place: across, up, and which end of the text stands there."""
    half = tag.height / 2
    if tag.within:
        for out in (0.5 * tag.within, 0.35 * tag.within, 0.65 * tag.within):
            for turn in range(90, 450, 15):
                yield out * cos(radians(turn)), out * sin(radians(turn)) - half, 1
    if tag.optional:
        return
    for more in (1.0, 2.0, 3.0):
        yield 0.0, tag.away + more, 1
    for more in (0.0, 2.0, 4.0, 7.0, 10.0, 14.0):
        out = tag.away + more
        side, slant = out * 0.8 + 0.6, out * 0.8
        under = -slant - high * 0.8
        yield from ((0.0, out + 1.0, 1), (0.0, -out - high, 1))
        yield from ((side, slant, 0), (-side, slant, 2), (side, under, 0), (-side, under, 2))
        yield from ((out + 1.0, -half, 0), (-out - 1.0, -half, 2))


def leader_places(one: Leader) -> Iterator[tuple[float, tuple[Mark, ...]]]:
    """Yield a leader in each of its places, with what it costs before any line is run over.

    The cheapest come first, so that few of them have to be made.
    """
    asked = [(float(out), out, turn) for out in OUTS for turn in one.toward]
    others = [
        (out + UNASKED, out, turn) for out in FAR_OUTS for turn in range(15, 375, 15) if turn % 90
    ]
    x, y = one.tip
    for cost, out, turn in sorted((*asked, *others), key=lambda each: each[0]):
        knee = _polar(x, y, out, turn)
        yield cost, leader(one.tip, knee, one.text, height=one.height, end=one.end)


def _polar(x: float, y: float, out: float, turn: float) -> Point:
    return x + out * cos(radians(turn)), y + out * sin(radians(turn))
