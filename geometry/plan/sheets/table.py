"""Exact plans for a dozen parts: what can be cut from one rectangle, and which parts share a sheet.

A state says how many parts of each size are taken. For each state the table holds rectangles that
contain just these parts and come apart from edge to edge: one part, lying either way, or two such
rectangles beside or above each other. Every plan of edge-to-edge cuts is such a tree (P. Gilmore
and R. Gomory, Multistage cutting stock problems of two and more dimensions, 1965, from memory), so
the least of the table is the least there is.

A rectangle that is larger than another of the same parts is not always worse: one that just fills
the sheet, or is just as long as what lies beside it, saves the cut that trims the other. How many
sheets are needed does not hang on that, how many cuts does: see ``_Matches``.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import prod

from .job import Across, Sheet
from .tree import Join, Leaf, Node, cuts_from, left_beside

MOST_STATES = 4_000
"""Beyond it the table is not begun."""

MOST_JOINS = 2_000_000
"""Beyond so many pairs of rectangles it is given up; a count, so that no machine decides."""

MOST_MATCHES = 60_000
"""Beyond so many lengths that may match, larger rectangles are dropped and no cuts are proved."""

Size = tuple[int, int]
Found = tuple[int, Across, Node, Node]


@dataclass(frozen=True, slots=True)
class Best:
    """The best for a state: sheets, cuts, the largest rest (less than 0), what is on the sheets."""

    sheets: int
    cuts: int
    rest: int
    nodes: tuple[Node, ...]

    @property
    def key(self) -> tuple[int, int, int]:
        """What is least."""
        return self.sheets, self.cuts, self.rest


@dataclass(frozen=True, slots=True)
class _Matches:
    """Which lengths and widths of a rectangle may yet match, by the parts that are not in it.

    Put a smaller rectangle in the place of a larger one: its rest has to be cut off, once, only if
    the larger one, with what comes to stand beside it, is just as long as the sheet, or as what it
    is laid upon. All these lengths are sums of sides of parts. So a length matters if it is the
    sheet's less such a sum, or the difference of two sums that share no part.
    """

    lengths: frozenset[int] = frozenset()
    widths: frozenset[int] = frozenset()


def _matches(sizes: Sequence[Size], counts: Sequence[int], sheet: Sheet) -> list[_Matches]:
    """Return what may match, by the state of the parts that are left; nothing beyond the limit."""
    sums: list[set[int]] = [{0}]
    differences: list[set[int]] = [{0}]
    for (long, wide), count in zip(sizes, counts, strict=True):
        more_sums, more_differences, room = [sums], [differences], -1
        for n in range(1, count + 1):
            plus = {a * long + b * wide for a in range(n + 1) for b in range(n + 1 - a)}
            both = {
                a * long + b * wide
                for a in range(-n, n + 1)
                for b in range(abs(a) - n, n - abs(a) + 1)
            }
            room -= len(both)
            if sum(map(len, differences)) * -room > 2 * MOST_MATCHES:
                return []
            more_sums.append([{x + y for x in old for y in plus} for old in sums])
            more_differences.append([{x + y for x in old for y in both} for old in differences])
        sums = [each for group in more_sums for each in group]
        differences = [each for group in more_differences for each in group]
        if sum(map(len, differences)) > MOST_MATCHES:
            return []
    return [
        _Matches(
            frozenset(each | {sheet.length - x for x in total}),
            frozenset(each | {sheet.width - x for x in total}),
        )
        for each, total in zip(differences, sums, strict=True)
    ]


@dataclass(frozen=True, slots=True)
class Solved:
    """What is cut from each sheet, and whether no plan with as few sheets has fewer cuts."""

    nodes: tuple[Node, ...]
    cuts_proved: bool


def solve(sizes: Sequence[Size], counts: Sequence[int], sheet: Sheet) -> Solved | None:
    """Return the plan with fewest sheets, then fewest cuts, then the largest rest beside all parts.

    None where there are more states or joins than the limits.
    """
    if prod(count + 1 for count in counts) > MOST_STATES:
        return None
    steps = [prod(count + 1 for count in counts[:k]) for k in range(len(counts))]
    matches = _matches(sizes, counts, sheet)
    held = _rectangles(sizes, counts, steps, sheet, matches)
    if held is None and matches:
        matches.clear()
        held = _rectangles(sizes, counts, steps, sheet, matches)
    if held is None:
        return None
    one = {state: _one(nodes, sheet) for state, nodes in held.items() if nodes}
    best: dict[int, Best] = {0: Best(0, 0, 0, ())}
    last = sum(count * step for count, step in zip(counts, steps, strict=True))
    for state in range(1, last + 1):
        lowest = next(k for k, n in enumerate(_counts(state, counts)) if n)
        once, more = steps[lowest], counts[lowest] + 1
        best[state] = min(
            (
                _with(one[part], best[state - part])
                for part in _parts(state, counts, steps)
                if part in one
                and part // once % more  # it takes one of the first size that is left
            ),
            key=lambda each: each.key,
        )
    return Solved(best[last].nodes, bool(matches))


def _one(nodes: Sequence[Node], sheet: Sheet) -> Best:
    return min(
        (Best(1, cuts_from(sheet, node), -left_beside(sheet, node), (node,)) for node in nodes),
        key=lambda each: each.key,
    )


def _with(one: Best, rest: Best) -> Best:
    return Best(
        one.sheets + rest.sheets,
        one.cuts + rest.cuts,
        min(one.rest, rest.rest),
        (*one.nodes, *rest.nodes),
    )


def _counts(state: int, most: Sequence[int]) -> tuple[int, ...]:
    """Return how many parts of each size a state takes."""
    found: list[int] = []
    for count in most:
        state, n = divmod(state, count + 1)
        found.append(n)
    return tuple(found)


def _parts(state: int, most: Sequence[int], steps: Sequence[int]) -> list[int]:
    """Return every state that takes no more of any size than this one, the empty one left out."""
    found = [0]
    for n, step in zip(_counts(state, most), steps, strict=True):
        found = [each + k * step for k in range(n + 1) for each in found]
    return found[1:]


def _rectangles(
    sizes: Sequence[Size],
    counts: Sequence[int],
    steps: Sequence[int],
    sheet: Sheet,
    matches: Sequence[_Matches],
) -> dict[int, Sequence[Node]] | None:
    """Return for each state the rectangles that no other makes needless; None beyond the limit."""
    last = sum(n * step for n, step in zip(counts, steps, strict=True))
    held: dict[int, Sequence[Node]] = {}
    singles = {step: list(_leaves(k, sizes[k], sheet)) for k, step in enumerate(steps)}
    joins = 0
    for state in range(1, last + 1):
        if state in singles:
            held[state] = singles[state]
            continue
        found: dict[Size, Found] = {}
        for part in _parts(state, counts, steps):
            rest = state - part
            if part <= rest and held[part] and held[rest]:
                joins += len(held[part]) * len(held[rest])
                _join(held[part], held[rest], sheet, found)
        if joins > MOST_JOINS:
            return None
        held[state] = _needed(found, matches[last - state] if matches else _Matches())
    return held


def _leaves(number: int, size: Size, sheet: Sheet) -> Iterator[Leaf]:
    for turned, (long, wide) in ((False, size), (True, size[::-1])):
        if long <= sheet.length and wide <= sheet.width and not (turned and long == wide):
            yield Leaf(long, wide, number)


def _join(
    firsts: Sequence[Node], seconds: Sequence[Node], sheet: Sheet, found: dict[Size, Found]
) -> None:
    """Note each pair beside and above each other, by the size it takes, if it takes fewest cuts."""
    most_long, most_wide = sheet.length, sheet.width
    others = [(b.length, b.width, b.cuts + 1, b) for b in seconds]
    known = found.get
    for a in firsts:
        a_long, a_wide, a_cuts = a.length, a.width, a.cuts
        for b_long, b_wide, cuts, b in others:
            cuts += a_cuts
            long, wide = a_long + b_long, a_wide + b_wide
            if long <= most_long:
                if a_wide == b_wide:
                    size, all_cuts = (long, a_wide), cuts
                else:
                    size, all_cuts = (long, a_wide if a_wide > b_wide else b_wide), cuts + 1
                old = known(size)
                if old is None or all_cuts < old[0]:
                    found[size] = all_cuts, "across", a, b
            if wide <= most_wide:
                if a_long == b_long:
                    size, all_cuts = (a_long, wide), cuts
                else:
                    size, all_cuts = (a_long if a_long > b_long else b_long, wide), cuts + 1
                old = known(size)
                if old is None or all_cuts < old[0]:
                    found[size] = all_cuts, "along", a, b


def _needed(found: Mapping[Size, Found], matches: _Matches) -> list[Node]:
    """Return the rectangles that no other one, trimmed where it matters, makes needless."""
    kept: list[Node] = []
    least: dict[int, int] = {}  # the least width so far, by the number of cuts
    for size in sorted(found):
        long, wide = size
        cuts = found[size][0]
        needed = True
        for few, width in least.items():
            if width <= wide and few <= cuts:
                needed = long in matches.lengths or wide in matches.widths
                break
        if needed and not _made_good(kept, long, wide, cuts, matches):
            kept.append(Join(long, wide, *found[size]))
            least[cuts] = min(wide, least.get(cuts, wide))
    return kept


def _made_good(kept: Sequence[Node], long: int, wide: int, cuts: int, matches: _Matches) -> bool:
    """Tell whether one that is kept, its rest cut off where that matters, is as good."""
    longer, wider = long in matches.lengths, wide in matches.widths
    return any(
        other.width <= wide
        and other.cuts + (longer and other.length < long) + (wider and other.width < wide) <= cuts
        for other in kept
    )
