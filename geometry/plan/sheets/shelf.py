"""Plans for more parts than the table takes: parts in rows, longest first, each in the first row.

The usual first-fit shelves (E. Coffman, M. Garey, D. Johnson and R. Tarjan, 1980, from memory). It
proves nothing; the bound by area may.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import reduce

from .job import Sheet
from .table import Size
from .tree import Leaf, Node, above, beside, cuts_from, left_beside


@dataclass(slots=True)
class _Row:
    """Parts beside each other from the left edge on."""

    leaves: list[Leaf] = field(default_factory=list[Leaf])

    @property
    def length(self) -> int:
        return sum(leaf.length for leaf in self.leaves)

    @property
    def width(self) -> int:
        return self.leaves[0].width


def solve(sizes: Sequence[Size], counts: Sequence[int], sheet: Sheet) -> tuple[Node, ...]:
    """Return what is cut from each sheet; every size fits the sheet one way or the other."""
    plans = [_by_rows(sizes, counts, sheet, upright) for upright in (False, True)]
    return min(
        plans,
        key=lambda nodes: (
            len(nodes),
            sum(cuts_from(sheet, node) for node in nodes),
            -max(left_beside(sheet, node) for node in nodes),
        ),
    )


def least_by_area(sizes: Sequence[Size], counts: Sequence[int], sheet: Sheet) -> int:
    """Return how many sheets the parts' areas fill at least."""
    area = sum(long * wide * n for (long, wide), n in zip(sizes, counts, strict=True))
    return -(-area // (sheet.length * sheet.width))


def _by_rows(
    sizes: Sequence[Size], counts: Sequence[int], sheet: Sheet, upright: bool
) -> tuple[Node, ...]:
    """Fill rows with parts that lie along the sheet, or stand ``upright`` where they can."""
    leaves: list[Leaf] = []
    for number, ((long, wide), count) in enumerate(zip(sizes, counts, strict=True)):
        turned = (long < wide) != upright
        if not _fits(sheet, *((wide, long) if turned else (long, wide))):
            turned = not turned
        leaf = Leaf(wide, long, number) if turned else Leaf(long, wide, number)
        leaves += [leaf] * count
    leaves.sort(key=lambda leaf: (-leaf.width, -leaf.length, leaf.size))
    sheets: list[list[_Row]] = []
    for leaf in leaves:
        _place(leaf, sheets, sheet)
    return tuple(reduce(above, [reduce(beside, row.leaves) for row in rows]) for rows in sheets)


def _fits(sheet: Sheet, long: int, wide: int) -> bool:
    return long <= sheet.length and wide <= sheet.width


def _place(leaf: Leaf, sheets: list[list[_Row]], sheet: Sheet) -> None:
    """Put a part into the first row that has room for it, or begin a row, or a sheet."""
    for rows in sheets:
        for row in rows:
            if row.length + leaf.length <= sheet.length:
                row.leaves.append(leaf)
                return
        if sum(row.width for row in rows) + leaf.width <= sheet.width:
            rows.append(_Row([leaf]))
            return
    sheets.append([_Row([leaf])])
