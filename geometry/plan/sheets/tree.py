"""How a rectangle falls apart into parts by cuts from edge to edge, and the order of these cuts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from .job import Across, Cut, Job, Placed, Rect, Sheet, SheetPlan

SLIVER = 500
"""A strip narrower than this, steps (5 mm), is not cut off where as many cuts do without it: a
knife does not hold such a cut (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """One part of a size, by the size's number, as it lies on the sheet."""

    length: int
    width: int
    size: int
    cuts: int = 0


@dataclass(frozen=True, slots=True)
class Join:
    """Two rectangles beside each other (``across`` parts them) or one above the other.

    The one that is less wide (or less long) than the other has its rest cut off.
    """

    length: int
    width: int
    cuts: int
    way: Across
    first: "Node"
    second: "Node"


Node = Leaf | Join


def beside(first: Node, second: Node) -> Join:
    """Put the second at the right of the first."""
    cuts = first.cuts + second.cuts + 1 + (first.width != second.width)
    wide = max(first.width, second.width)
    return Join(first.length + second.length, wide, cuts, "across", first, second)


def above(first: Node, second: Node) -> Join:
    """Put the second above the first."""
    cuts = first.cuts + second.cuts + 1 + (first.length != second.length)
    long = max(first.length, second.length)
    return Join(long, first.width + second.width, cuts, "along", first, second)


def cuts_from(sheet: Sheet, node: Node) -> int:
    """Return how many cuts it takes to cut all parts from a sheet."""
    return node.cuts + (node.length < sheet.length) + (node.width < sheet.width)


def left_beside(sheet: Sheet, node: Node) -> int:
    """Return the area of the largest piece that is left over beside all parts, square steps."""
    return max(
        (sheet.length - node.length) * sheet.width, (sheet.width - node.width) * sheet.length
    )


def laid(job: Job, node: Node, waiting: Sequence[list[int]]) -> SheetPlan:
    """Lay a sheet out and number its cuts: what is left over beside the parts comes off first.

    Then each piece is cut to its end before the next one is taken up, from the left and from below.
    ``waiting`` holds for each size the numbers of the parts that were not laid yet; they are taken
    from its ends.
    """
    cuts: list[Cut] = []
    parts: list[Placed] = []
    left: list[Rect] = []
    whole = Rect(0, 0, job.sheet.length, job.sheet.width)
    for each in _fall(whole, node):
        if isinstance(each, Cut):
            cuts.append(each)
        elif isinstance(each, Rect):
            left.append(each)
        else:
            rect, leaf = each
            number = waiting[leaf.size].pop()
            part = job.parts[number]
            lies = (rect.length, rect.width) == (part.length, part.width)
            parts.append(Placed(number, rect, turned=not lies))
    return SheetPlan(tuple(cuts), tuple(parts), tuple(sorted(left)))


def _fall(rect: Rect, node: Node) -> Iterator[Cut | Rect | tuple[Rect, Leaf]]:
    """Yield the cuts in their order, what is left over, and the leaves with their places."""
    spare_right, spare_above = rect.length - node.length, rect.width - node.width
    trims: list[tuple[Across, int]] = []
    if spare_right and not _each_by_itself(node, "along"):
        trims.append(("across", node.length))
    if spare_above and not _each_by_itself(node, "across"):
        trims.append(("along", node.width))
    if spare_above * rect.length > spare_right * rect.width:  # the larger one stays in one piece
        trims.reverse()
    for way, at in trims:
        cut = Cut(rect, way, at)
        rect, rest = cut.after
        yield cut
        yield rest
    if isinstance(node, Leaf):
        yield rect, node
        return
    cut = Cut(rect, node.way, node.first.length if node.way == "across" else node.first.width)
    yield cut
    first, second = cut.after
    yield from _fall(first, node.first)
    yield from _fall(second, node.second)


def _each_by_itself(node: Node, way: Across) -> bool:
    """Tell whether two pieces that a cut parts are cut to length each by itself, where they can be.

    They differ by a sliver: cut to the longer one's length together, the shorter one would lose
    it in a cut of its own. Each by itself takes as many cuts: one each.
    """
    if isinstance(node, Leaf) or node.way != way:
        return False
    if way == "along":
        return 0 < abs(node.first.length - node.second.length) < SLIVER
    return 0 < abs(node.first.width - node.second.width) < SLIVER
