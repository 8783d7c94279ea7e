"""In which order a collar is put together, proved fastener by fastener; and how it comes off."""

from dataclasses import dataclass

from ....params.project import Project
from ...shape.layout import Layout
from .blocks import Blocks
from .off import Alone, Away, alone, taking_off
from .parts import parts
from .said import blocked
from .search import Order, find, loop_of


@dataclass(frozen=True, slots=True)
class Assembly:
    """How a collar goes together and comes apart.

    ``order`` is the order of assembly, ``away`` the steps to take the collar off, ``alone`` what
    comes off singly for service; ``blocked`` says what keeps it from being put together at all.
    """

    order: Order
    away: tuple[Away, ...]
    alone: tuple[Alone, ...]
    blocked: str | None


def assembly(project: Project, layout: Layout) -> Assembly:
    """Return how a collar goes together, each fastener looked at with its tool. Pure."""
    found = parts(project, layout)
    blocks = Blocks(layout, found)
    order = find(found, blocks)
    return Assembly(
        order,
        tuple(taking_off(project, layout, found, blocks)),
        alone(layout, found, blocks),
        blocked(project, order.loop),
    )


def away(project: Project, layout: Layout) -> tuple[Away, ...]:
    """Return the steps to take a collar off, alone."""
    found = parts(project, layout)
    return tuple(taking_off(project, layout, found, Blocks(layout, found)))


def order_of(project: Project, layout: Layout) -> Order:
    """Return the order of assembly alone."""
    found = parts(project, layout)
    return find(found, Blocks(layout, found))


def remarks(project: Project, layout: Layout) -> tuple[str, ...]:
    """Say so where in no order can everything be turned."""
    found = parts(project, layout)
    said = blocked(project, loop_of(found, Blocks(layout, found)))
    return () if said is None else (said,)
