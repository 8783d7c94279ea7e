"""The zones of a design that templates show: about each hole, and for the hinge's pin."""

from dataclasses import dataclass

from ...params.project import Project, Side
from ..shape.layout import Layout
from .halo import Halo, halos
from .hinge_map import HingeMap, hinge_map

MOST_HOLES = 80
"""Holes up to which their zones are worked out: each takes some hundred questions to a few checks,
so that a long row takes seconds."""


@dataclass(frozen=True, slots=True)
class Zones:
    """What was found; ``notes`` say what was too much work."""

    halos: tuple[Halo, ...] = ()
    pin: HingeMap | None = None
    notes: tuple[str, ...] = ()

    def of(self, side: Side, name: str) -> Halo | None:
        """Return the zone of a hole in a side's board and cover."""
        found = (each for each in self.halos if (each.side, each.name) == (side, name))
        return next(found, None)


NO_ZONES = Zones()
"""Where nobody asked for any."""


def zones(project: Project, layout: Layout) -> Zones:
    """Return the zones of every bore, of every hole of a hinge leaf, and of the hinge's pin."""
    pin = hinge_map(project, layout)
    pilots = sum(hole.assumed for hole in layout.board("back").holes)
    if len(layout.taps) + pilots > MOST_HOLES:
        return Zones((), pin, ("how far each hole may wander was not worked out: too many holes",))
    return Zones(halos(project, layout), pin)
