"""How the vessels get in: straight down through the openings, then sideways at the bottom.

Each vessel comes down upright at one place in plan and is slid to its own along floor or step;
those already in stand at their places. The order is found backward: from the full well, take out
any vessel that can leave. Taking one out only makes room, so which goes first never matters, and
no order is missed for that reason. Ways along the floor are looked for on a grid and by straight
slides: a way that is found is one, but a way that needs less than a grid's step of room may be
missed. So the words are "an order was found" and "no order found by this search".
"""

from dataclasses import dataclass

from .answer import Place
from .problem import Problem, Vessel
from .way import Point, room_for, way


@dataclass(frozen=True, slots=True)
class Entry:
    """One vessel going in: down at the first point of ``path``, then along it to its place."""

    vessel: str
    path: tuple[Point, ...]

    @property
    def lowered_at(self) -> Point:
        """Where it goes straight down, mm in plan."""
        return self.path[0]

    @property
    def straight_down(self) -> bool:
        """Whether it comes down on its place and is not slid."""
        return len(self.path) == 1


@dataclass(frozen=True, slots=True)
class EntryOrder:
    """The order in which they go in, or who is stuck.

    ``entries`` are in order; complete if ``stuck`` is empty. ``stuck`` are vessels for none of
    which a way in was found with the others of them standing; ``blocked_by`` names for each
    those of whom a single one would have to be away, none if that would not be enough.
    """

    entries: tuple[Entry, ...]
    stuck: tuple[str, ...] = ()
    blocked_by: tuple[tuple[str, tuple[str, ...]], ...] = ()
    alone: tuple[str, ...] = ()
    """Those of the stuck for which no way in was found even into the empty well."""

    @property
    def found(self) -> bool:
        """Whether every vessel gets in."""
        return not self.stuck

    def say(self) -> str:
        """Return the answer in words."""
        if self.found:
            return "an order was found: " + ", ".join(entry.vessel for entry in self.entries)
        words = [f"no order found by this search; left over: {', '.join(self.stuck)}"]
        words += [f"no way in found for {name} even into the empty well" for name in self.alone]
        words += [
            f"{' or '.join(by)} stands in the way of {name}" for name, by in self.blocked_by if by
        ]
        return "; ".join(words)


def way_in(
    problem: Problem, vessel: Vessel, at: Place, others: list[tuple[Vessel, Place]]
) -> tuple[Point, ...] | None:
    """Return a way in for one vessel while others stand: lowering place first, its own last."""
    stand = room_for(problem, vessel, at, others, lowering=False)
    down = room_for(problem, vessel, at, others, lowering=True)
    return way(stand, down, (at.x, at.y))


def entry_order(problem: Problem, places: tuple[Place, ...]) -> EntryOrder:
    """Return an order in which the vessels get to their places, and each one's way.

    Small ones are taken out first where there is a choice, so that the large ones go in first.

    Args:
        problem: What the places were found for.
        places: Where they stand in the end, one for each vessel.

    Raises:
        KeyError: A vessel has no place.
    """
    at = {place.vessel: place for place in places}
    inside = sorted(problem.vessels, key=lambda v: (v.radius, v.height, v.name))
    leaving: list[Entry] = []
    while inside:
        for vessel in inside:
            others = [(v, at[v.name]) for v in inside if v is not vessel]
            path = way_in(problem, vessel, at[vessel.name], others)
            if path is not None:
                leaving.append(Entry(vessel.name, path))
                inside.remove(vessel)
                break
        else:
            break
    entries = tuple(reversed(leaving))
    if not inside:
        return EntryOrder(entries)
    alone: list[str] = []
    blocked: list[tuple[str, tuple[str, ...]]] = []
    for vessel in inside:
        place = at[vessel.name]
        if way_in(problem, vessel, place, []) is None:
            alone.append(vessel.name)
            continue
        others = [(v, at[v.name]) for v in inside if v is not vessel]
        by = [
            v.name
            for k, (v, _) in enumerate(others)
            if way_in(problem, vessel, place, others[:k] + others[k + 1 :]) is not None
        ]
        blocked.append((vessel.name, tuple(by)))
    stuck = tuple(sorted(v.name for v in inside))
    return EntryOrder(entries, stuck, tuple(sorted(blocked)), tuple(sorted(alone)))
