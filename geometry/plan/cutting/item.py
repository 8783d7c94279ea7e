"""What is packed: one piece, or a run of pieces that stay together."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .job import CORNERS, Job, Room


@dataclass(frozen=True, slots=True)
class Item:
    """Pieces in their order along the stick: their span, and what the cut behind it takes."""

    pieces: tuple[int, ...]
    span: int
    kerf: int


Filled = tuple[Room, tuple[Item, ...]]
"""A room and what is cut from it, from the left."""


def run_of(job: Job, numbers: Sequence[int]) -> Item:
    """Return pieces one behind the other as one item."""
    pieces = [job.pieces[number] for number in numbers]
    span = sum(piece.length for piece in pieces) + sum(piece.kerf for piece in pieces[:-1])
    return Item(tuple(numbers), span, pieces[-1].kerf)


def singles(job: Job) -> tuple[Item, ...]:
    """Return each piece as an item of its own."""
    return tuple(run_of(job, [number]) for number in range(len(job.pieces)))


def need(items: Iterable[Item]) -> int:
    """Return how much wood items need in one room: the widest cut lies behind the last one.

    The cut behind the last piece may run out of the room: it leaves nothing that is used.
    """
    found = list(items)
    return sum(each.span + each.kerf for each in found) - max(each.kerf for each in found)


def chained(job: Job, numbers: Iterable[int]) -> list[Item]:
    """Return the pieces of one room in as few runs of grain as can be."""
    left = set(numbers)
    at = {
        (job.pieces[n].ring, job.pieces[n].place): n for n in left if job.pieces[n].ring is not None
    }

    def beside(number: int, step: int) -> int | None:
        piece = job.pieces[number]
        return at.get((piece.ring, (piece.place + step) % CORNERS))

    found: list[Item] = []
    for first in sorted(left):
        if first not in left:
            continue
        whole = [first]
        while (before := beside(whole[0], -1)) is not None and before != first:
            whole.insert(0, before)
            if len(whole) == CORNERS:
                break
        while len(whole) < CORNERS and (after := beside(whole[-1], 1)) is not None:
            whole.append(after)
        if len(whole) == CORNERS:  # a ring may be broken at any corner: behind the widest cut
            last = max(range(CORNERS), key=lambda i: job.pieces[whole[i]].kerf)
            whole = whole[last + 1 :] + whole[: last + 1]
        left -= set(whole)
        found.append(run_of(job, whole))
    return found
