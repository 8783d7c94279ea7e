"""Which part that is in place blocks which tool: worked out once a pair, then only looked up.

A straight piece is blocked by each body that it meets, a driver by what stands in all its ways to
lean, a wrench's swing where no free arc is left that is as wide as its bite.
"""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from ....params.project import Side
from ...shape.layout import Layout
from ...shape.turning import Arc, FreeArc, box_arc, disc_arc, largest_free
from .bodies import Body, Prism, Rod, Room, about, clear_of_foam, gap, seen_from, within
from .driver import Driver
from .part import Parts
from .tools import Piece, Swing, Way

SLACK = 1e-6
"""What may touch may touch: a gap less than this below 0 is none, mm and deg."""

T = TypeVar("T")
Met = dict[str, float]
"""What is in the way: owner -> gap, mm, negative; 0 where a swing has too little of its arc."""


class Remembered(Generic[T]):
    """What an iterator yields, worked out as far as somebody asks for it, and once."""

    def __init__(self, source: Iterable[T]) -> None:
        """Take the source; nothing is asked of it yet."""
        self._source = iter(source)
        self._known: list[T] = []

    def __iter__(self) -> Iterator[T]:
        """Yield what is known, then what more is asked for."""
        place = 0
        while True:
            if place == len(self._known):
                try:
                    self._known.append(next(self._source))
                except StopIteration:
                    return
            yield self._known[place]
            place += 1


Hold = Remembered[tuple[str, float]]
"""What one way to hold a piece meets, one body after another: owner and gap, mm, negative."""


@dataclass(frozen=True, slots=True)
class Contact:
    """What stands in the way of one piece of a way, whoever is there at the time.

    ``holds`` are the alternatives: for a driver each way to lean, else one. ``arcs`` are what a
    swing's arm meets, by owner; ``bite`` is None where nothing swings. ``near`` owns all that
    could be in the way.
    """

    near: frozenset[str]
    holds: Remembered[Hold]
    arcs: tuple[tuple[str, Arc], ...] = ()
    bite: float | None = None

    def turn(self, there: Collection[str]) -> FreeArc:
        """Return the largest free arc of a swing among what is there."""
        return largest_free([arc for owner, arc in self.arcs if owner in there])

    def free(self, there: Collection[str]) -> bool:
        """Tell whether the piece has its room among what is there."""
        if not any(clear(hold, there) for hold in self.holds):
            return False
        return self.bite is None or self.turn(there).size >= self.bite - SLACK

    def hinders(self, there: Collection[str], always: Collection[str]) -> Met:
        """Return what is in the way among what is there; empty where nothing is.

        A way to hold it that what is always there blocks is told only where all are.
        """
        if self.free(there):
            return {}
        holds = [hold for hold in self.holds if clear(hold, always)] or list(self.holds)
        least = min((_among(hold, there) for hold in holds), key=len)
        if least:
            return least
        # Of arcs that block together, only those without which there would be a bite.
        needed = {owner for owner, _ in self.arcs if owner in there}
        for owner in sorted(needed):
            if self.bite is not None and self.turn(needed - {owner}).size < self.bite - SLACK:
                needed.remove(owner)
        return dict.fromkeys(sorted(needed), 0.0)


def clear(hold: Hold, there: Collection[str]) -> bool:
    """Tell whether nothing of what is met is there."""
    return not any(owner in there for owner, _ in hold)


def _among(hold: Hold, there: Collection[str]) -> Met:
    found: Met = {}
    for owner, size in hold:
        if owner in there:
            found[owner] = min(size, found.get(owner, size))
    return found


@dataclass(frozen=True, slots=True)
class Looked:
    """A way with the contacts of its pieces."""

    way: Way
    contacts: Remembered[Contact]

    def free(self, there: Collection[str]) -> bool:
        """Tell whether every piece has its room."""
        return all(contact.free(there) for contact in self.contacts)

    def turn(self, there: Collection[str]) -> FreeArc | None:
        """Return the free arc of the swing that has least, None where nothing swings."""
        arcs = [contact.turn(there) for contact in self.contacts if contact.bite is not None]
        return min(arcs, key=lambda arc: arc.size) if arcs else None

    def hinders(self, there: Collection[str], always: Collection[str]) -> Met:
        """Return all that is in the way."""
        found: Met = {}
        for contact in self.contacts:
            for owner, size in contact.hinders(there, always).items():
                found[owner] = min(size, found.get(owner, size))
        return found


@dataclass(frozen=True, slots=True)
class Seen:
    """A body in one side's view, with the box about it and what it belongs to."""

    owner: str
    body: Body
    about: Room


class Blocks:
    """What is in the way of a collar's operations: the one thing that search and lists ask.

    Every way is looked at once among all bodies there will ever be, when it is first asked for.
    """

    def __init__(self, layout: Layout, parts: Parts) -> None:
        """Take the operations of a layout."""
        self.parts = parts
        self.fixed = frozenset(each.owner for each in parts.fixed)
        self._operations = {each.id: each for each in parts.operations}
        self._placed = [*parts.fixed, *(body for each in parts.operations for body in each.bodies)]
        self._layout = layout
        self._views: dict[Side, tuple[Seen, ...]] = {}
        self._looked: dict[tuple[str, int, int], Looked] = {}

    def ways(self, operation: str, there: Collection[str]) -> tuple[Looked | None, ...]:
        """Return, for each thing that an operation turns, the first free way; None without one."""
        return tuple(
            next((way for way in ways if way.free(there)), None) for ways in self._all(operation)
        )

    def free(self, operation: str, there: Collection[str]) -> bool:
        """Tell whether all that an operation turns can be turned among what is there."""
        return all(way is not None for way in self.ways(operation, there))

    def hinders(self, operation: str, there: Collection[str]) -> Met:
        """Return what keeps an operation's tools out: of each turn the way with least in it.

        A way that what is always there blocks is told only where that is so of every way.
        """
        always = self.parts.always(self._operations[operation])
        found: Met = {}
        for looked in self._all(operation):
            ways = tuple(looked)
            ways = tuple(way for way in ways if way.free(always)) or ways
            found |= min((way.hinders(there, always) for way in ways), key=len)
        return found

    def near(self, operation: str, there: Collection[str]) -> frozenset[str]:
        """Return what stands near the ways that are free among what is there.

        Nothing else, put on later, can block them.
        """
        return frozenset(
            owner
            for way in self.ways(operation, there)
            if way is not None
            for contact in way.contacts
            for owner in contact.near
        )

    def _all(self, operation: str) -> Iterator[Iterator[Looked]]:
        """Yield the ways of each turn of an operation, each looked at when it is asked for."""
        for turn, each in enumerate(self._operations[operation].turns):
            yield (self._way(operation, turn, way) for way in range(len(each.ways)))

    def _way(self, name: str, turn: int, way: int) -> Looked:
        key = name, turn, way
        if key not in self._looked:
            operation = self._operations[name]
            each = operation.turns[turn]
            own = {name, *operation.passes, *(() if operation.lid_closed else ("lid",))}
            view = [seen for seen in self._view(each.side) if seen.owner not in own]
            pieces = each.ways[way].pieces
            self._looked[key] = Looked(
                each.ways[way],
                Remembered(_contact(piece, _near(_around(piece), view)) for piece in pieces),
            )
        return self._looked[key]

    def _view(self, side: Side) -> tuple[Seen, ...]:
        """Return all bodies as one side sees them; its own board is behind all that is done."""
        if side not in self._views:
            own = self._layout.board(side)
            bodies = [
                (each.owner, seen_from(each.body, self._layout.board(each.side), own))
                for each in self._placed
                if each.owner not in ("ring", "lid")
                or (each.owner == "ring") != (each.side == side)
            ]
            self._views[side] = tuple(Seen(owner, body, about(body)) for owner, body in bodies)
        return self._views[side]


def _near(box: Room, view: Iterable[Seen]) -> list[Seen]:
    """Return the bodies whose box meets a box: only they can be in the way of what is in it."""
    return [
        seen
        for seen in view
        if (there := seen.about).left < box.right
        and box.left < there.right
        and there.near < box.far
        and box.near < there.far
        and there.low < box.high
        and box.low < there.high
    ]


def _around(piece: Piece) -> Room:
    if isinstance(piece, Rod):
        return about(piece)
    if isinstance(piece, Driver):
        return piece.around()
    if isinstance(piece, Room):
        return piece
    reach = max(piece.arm.reach + piece.arm.half_width, piece.hub)
    return about(Rod(piece.u, piece.v, reach, piece.near, piece.far))


def _contact(piece: Piece, view: list[Seen]) -> Contact:
    near = frozenset(seen.owner for seen in view)
    if isinstance(piece, Driver):
        return Contact(near, Remembered(_driven(piece, view)))
    if isinstance(piece, Swing):
        hub = Rod(piece.u, piece.v, piece.hub, piece.near, piece.far)
        arcs = ((seen.owner, swing_arc(piece, seen.body)) for seen in view)
        met = tuple((owner, arc) for owner, arc in arcs if arc is not None)
        return Contact(near, Remembered((Remembered(_met((hub,), view)),)), met, piece.bite)
    return Contact(near, Remembered((Remembered(_met((piece,), view)),)))


def _driven(driver: Driver, view: list[Seen]) -> Iterator[Hold]:
    """Yield what each way to hold a driver meets; one that meets nothing is enough."""
    straight = Remembered(_met(driver.straight(), view))
    yield straight
    if any(straight):
        yield from (Remembered(_met(rods, view)) for rods in driver.leaning())


def _met(rods: Iterable[Rod | Room], view: list[Seen]) -> Iterator[tuple[str, float]]:
    for rod in rods:
        for seen in _near(_around(rod), view):
            size = gap(rod, seen.body)
            if size is not None and size < -SLACK:
                yield seen.owner, size


def swing_arc(swing: Swing, body: Body) -> Arc | None:
    """Return the arc in which a swing's arm meets a body, deg; None where it never does.

    Foam is met all round unless one cut-out clears the whole of the arm's circle.
    """
    if isinstance(body, Prism):
        found = within(body, swing.near, swing.far)
        if found is None:
            return None
        left, right, low, high = found
        return box_arc(left - swing.u, right - swing.u, low - swing.v, high - swing.v, swing.arm)
    if swing.near >= body.far - 1e-9 or body.near >= swing.far - 1e-9:
        return None
    if isinstance(body, Rod):
        return disc_arc(body.u - swing.u, body.v - swing.v, body.radius, swing.arm)
    clear = clear_of_foam(swing.u, swing.v, body)
    return (0.0, 360.0) if clear < swing.arm.reach + swing.arm.half_width - SLACK else None
