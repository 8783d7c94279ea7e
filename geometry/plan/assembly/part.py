"""What is put together, one operation at a time, as values: ``parts`` makes them."""

from dataclasses import dataclass

from ....params.problem import visible
from ....params.project import Side
from .bodies import Body
from .tools import Way

KEPT = "keep-out: "
"""How the owner of a keep-out's body begins: a name out of a build file is never an id."""


def shown(owner: str) -> str:
    """Return a keep-out's name for a sentence, fit to be printed."""
    return visible(owner.removeprefix(KEPT))


@dataclass(frozen=True, slots=True)
class Turn:
    """Fasteners of one kind on one side that one tool turns; one way has to be free."""

    side: Side
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A body on its side, and its owner: an operation's id, or ``KEPT`` and a keep-out's name."""

    owner: str
    side: Side
    body: Body


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One thing that is put on, and what is turned for it.

    Attributes:
        id: as ``tap-2-nut``; the order of ``parts`` is the natural order of work.
        thing: what it is, for sentences: "the shank nut of tap 2".
        does: what is done, for a list: "turn the shank nut of tap 2 on over its washer".
        face: from where it is worked on: inside, outside, above; empty where it does not matter.
        after: ids of what it sits on or holds, which has to be there.
        bodies: what stands there from then on.
        turns: what has to be turned; every one has to find a way.
        passes: ids whose bodies its tools go over or about: a nut's own shank.
        unknown: keys without which the tool's room cannot be looked at, or what no key tells.
        keys: what in the build file moves it.
        lid_closed: whether the closed lid stands in its way too.
    """

    id: str
    thing: str
    does: str
    face: str = ""
    after: tuple[str, ...] = ()
    bodies: tuple[Placed, ...] = ()
    turns: tuple[Turn, ...] = ()
    passes: frozenset[str] = frozenset()
    unknown: tuple[str, ...] = ()
    keys: tuple[str, ...] = ()
    lid_closed: bool = False


@dataclass(frozen=True, slots=True)
class Parts:
    """All operations in the natural order of work, and what is there before any of them."""

    operations: tuple[Operation, ...]
    fixed: tuple[Placed, ...]

    def always(self, one: Operation) -> frozenset[str]:
        """Return what is there whatever the order: all that is fixed, and all that it needs.

        What it needs is what it sits on, and what that sits on in turn.
        """
        ids = {each.id: each for each in self.operations}
        found = {each.owner for each in self.fixed}
        ahead = list(one.after)
        while ahead:
            name = ahead.pop()
            if name in ids and name not in found:
                found.add(name)
                ahead += ids[name].after
        return frozenset(found)
