"""How the collar comes off again, and which tap can be taken off with all the rest fitted.

What is in place is asked, one thing after another, whether its tool still has its room: the order
of assembly read backward, as far as it is needed. Pressure, mains and lifting have their cautions
in the order of work; nothing here says that a step is without danger.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from ....params.problem import visible
from ....params.project import Project
from ....params.units import both_text
from ...shape.layout import Layout
from .blocks import Blocks
from .part import Operation, Parts

CHAIN = ("tail", "handle", "faucet", "nut", "shank")
"""In which order a tap comes apart."""

HOLDS = {
    "adhesive": "cut the adhesive all round between collar and lip: a thin wire with a grip at each"
    " end, drawn through a little at a time, from a corner on",
    "sealant": "cut the sealant all round between collar and lip with a long thin blade or a wire",
    "tape": "warm the tape by hand and ease a wire through it all round between collar and lip",
    "cleats": "nothing to cut: the cleats only keep the collar from sliding",
}
"""How each kind of hold is parted (common practice)."""


@dataclass(frozen=True, slots=True)
class Away:
    """One step of taking the collar off: what is done, with what, and why there."""

    does: str
    tool: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Alone:
    """Whether a tap comes off with all the rest fitted: what its next part waits for.

    ``faucet`` is what keeps its faucet on, ``whole`` what keeps the rest of it; each is the part
    and what has to come off before. Both are None where nothing does. ``known`` is whether every
    tool could be looked at.
    """

    tap: int
    faucet: tuple[Operation, tuple[str, ...]] | None
    whole: tuple[Operation, tuple[str, ...]] | None
    known: bool


def alone(layout: Layout, parts: Parts, blocks: Blocks) -> tuple[Alone, ...]:
    """Return, for each tap, whether faucet and all of it come off with everything else fitted."""
    ids = {each.id: each for each in parts.operations}
    every = blocks.fixed.union(ids)
    found: list[Alone] = []
    for tap in layout.taps:
        mine = [ids[name] for end in CHAIN if (name := f"tap-{tap.number}-{end}") in ids]
        outer = [each for each in mine if each.id.endswith(("handle", "faucet"))]
        found.append(
            Alone(
                tap.number,
                _first_held(outer, every, blocks),
                _first_held(mine, every, blocks),
                known=tap.shank is not None and not any(each.unknown for each in mine),
            )
        )
    return tuple(found)


def _first_held(
    chain: list[Operation], every: frozenset[str], blocks: Blocks
) -> tuple[Operation, tuple[str, ...]] | None:
    """Take parts off one by one and return the first that is held, with what holds it."""
    there = every
    for each in chain:
        there -= {each.id}
        if not blocks.free(each.id, there):
            return each, tuple(blocks.hinders(each.id, there))
    return None


def taking_off(project: Project, layout: Layout, parts: Parts, blocks: Blocks) -> Iterator[Away]:
    """Yield the steps from a collar in use to a collar on the bench."""
    yield Away(
        "pull the plug; rinse the lines if they hold drink; close the gas at its cylinder and let"
        " the pressure out at regulators and vessels; take lines and hoses off their vessels, and"
        " the vessels out",
        why="what hangs on a vessel is torn when the collar is lifted",
    )
    if project.hole:
        names = ", ".join(
            visible(hole.name or f"passage {n}") for n, hole in enumerate(project.hole, 1)
        )
        yield Away(
            f"draw out of the collar what goes through its passages: {names}",
            why="it would hold the collar",
        )
    yield from _lid_off(project, parts, blocks)
    yield from _part_from_lip(project, layout)
    yield _lift(project, layout)


def _lid_off(project: Project, parts: Parts, blocks: Blocks) -> Iterator[Away]:
    """Yield the lid and its hinge; the freezer first forward where the wall is in the way."""
    ids = {each.id for each in parts.operations}
    leaves = [each for each in parts.operations if each.id.startswith("lea")]
    there = blocks.fixed.union(ids)
    met = {name for each in leaves for name in blocks.hinders(each.id, there - {each.id})}
    if "wall" in met:
        yield Away(
            "pull the freezer away from the wall",
            why="no driver gets at the hinge's leaves in front of the wall",
        )
        there -= {"wall"}
    tools: dict[str, None] = {}
    for each in leaves:
        for way in blocks.ways(each.id, there - {each.id}):
            if way is not None:
                tools[way.way.tool] = None
    sprung = project.hinge is None or project.hinge.spring is not False
    held = any(not blocks.free(each.id, there - {each.id}) for each in leaves)
    yield Away(
        "take the lid off, two people: off its hinge"
        + ("" if held else ", or the leaves off the back board and the lid with them"),
        tool=" or ".join(tools),
        why="one holds the lid while the other turns"
        + ("; lock its springs first" if sprung else ""),
    )


def _part_from_lip(project: Project, layout: Layout) -> Iterator[Away]:
    seat = project.seat
    hold = seat.hold if seat else None
    hanging = [cover.side for cover in layout.covers if cover.bottom < -layout.seal - 1e-6]
    inside = (
        f"; on the {' and the '.join(hanging)} from inside, behind the cover" if hanging else ""
    )
    if hold is None:
        yield Away(
            f"part the collar from the lip{inside}",
            why="what holds it there is not in the build file (seat.hold)",
        )
    elif hold == "cleats":
        yield Away(HOLDS[hold])
    else:
        torn = "; the collar may not come off whole, and the lip's skin may tear with it"
        yield Away(
            f"{HOLDS[hold]}{inside}",
            why="never pry: the lip is thin and its corners crack"
            + (torn if hold == "adhesive" else ""),
        )


def _lift(project: Project, layout: Layout) -> Away:
    """Return the lift, and how far what hangs below the collar's bottom edge does so."""
    below = [-cover.bottom for cover in layout.covers]
    below += [-each.up[0] for each in layout.envelopes if each.reason == "spout"]
    deepest = max(below, default=0.0)
    blocks = f"on blocks: {both_text(deepest, project.show)} hang below its bottom edge"
    return Away(
        "lift the collar straight up, two people; what is fixed to it may stay on",
        why=f"set it down {blocks}" if deepest > 0.0 else "",
    )
