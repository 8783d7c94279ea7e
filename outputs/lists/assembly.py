"""The order of assembly and how the collar comes off again, as lists in words."""

from collections.abc import Iterable, Iterator

from ...geometry.plan.assembly import Alone, Assembly, assembly
from ...geometry.plan.assembly.part import Operation, shown
from ...geometry.plan.assembly.search import Step
from ...geometry.shape.layout import Layout
from ...params.project import Project
from .table import Table

HEADER = ("no.", "put on, or turn", "tool", "from", "must be there", "not there yet", "free turn")

LOOKED = (
    "Each fastener was looked at with its tool, among all that is in place at its turn: sockets,"
    " wrenches and drivers of ordinary sizes (from memory); a wrench needs one bite, not a whole"
    " turn. The well is empty and one works from above with the lid open."
)
CAUTIONS = (
    "The cautions about mains, gas under pressure, glue and lifting stand with the order of work."
)


def tables(project: Project, layout: Layout) -> tuple[Table, Table]:
    """Return the lists ``assembly`` and ``taking-off`` of one collar."""
    found = assembly(project, layout)
    return _assembly(found), _taking_off(found)


def _assembly(found: Assembly) -> Table:
    steps = found.order.steps
    names = {step.operation.id: _short(step.operation) for step in steps}
    follow = _followers(steps)
    rows = tuple(
        (
            str(number),
            step.operation.does,
            _tool(step, names),
            step.operation.face,
            _listed(names[name] for name in step.operation.after if name != "ring"),
            _listed(
                names[other.id]
                for other in step.before
                if other.id not in follow[step.operation.id]
            ),
            _turn(step),
        )
        for number, step in enumerate(steps, 1)
    )
    unknown = dict.fromkeys(key for step in steps for key in step.operation.unknown)
    notes = [LOOKED, CAUTIONS]
    if unknown:
        notes.insert(0, f"Not looked at, for want of {_listed(unknown)}: see the tool's column.")
    if found.blocked:
        notes.insert(0, f"{found.blocked[0].upper()}{found.blocked[1:]}.")
    return Table(
        name="assembly",
        title="Order of assembly",
        header=HEADER,
        rows=rows,
        right=frozenset({0, 6}),
        notes=tuple(notes),
    )


def _followers(steps: Iterable[Step]) -> dict[str, set[str]]:
    """Return, for each operation, all that sits on it: that it comes later goes without saying."""
    found: dict[str, set[str]] = {}
    for step in reversed(tuple(steps)):
        own = step.operation
        found.setdefault(own.id, set())
        for under in own.after:
            found.setdefault(under, set()).update({own.id}, found[own.id])
    return found


def _turn(step: Step) -> str:
    if step.turn is None or step.blocked:
        return ""
    return "all round" if step.turn.size >= 360.0 else f"{step.turn.size:.0f} deg"


def _tool(step: Step, names: dict[str, str]) -> str:
    if step.blocked:
        return f"BLOCKED by {_listed(names.get(name, shown(name)) for name in step.blocked)}"
    if step.tools:
        return "; ".join(step.tools)
    if step.operation.unknown:
        return f"not looked at: {_listed(step.operation.unknown)}"
    return ""


def _short(operation: Operation) -> str:
    return operation.thing.removeprefix("the ")


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)


def _taking_off(found: Assembly) -> Table:
    rows = tuple(
        (str(number), each.does, each.tool, each.why) for number, each in enumerate(found.away, 1)
    )
    return Table(
        name="taking-off",
        title="Taking the collar off",
        header=("no.", "what", "tool", "why"),
        rows=rows,
        right=frozenset({0}),
        notes=(*_service(found.alone, found), CAUTIONS),
    )


def _service(taps: tuple[Alone, ...], found: Assembly) -> Iterator[str]:
    """Yield what comes off singly, taps of one answer together."""
    names = {step.operation.id: _short(step.operation) for step in found.order.steps}
    said: dict[str, list[int]] = {}
    for tap in taps:
        said.setdefault(_alone(tap, names), []).append(tap.tap)
    for sentence, numbers in said.items():
        word = "Tap" if len(numbers) == 1 else "Taps"
        yield f"{word} {_listed(map(str, numbers))}: {sentence}."


PARTS = {
    "tail": "its tail nut",
    "handle": "its handle",
    "faucet": "its faucet",
    "nut": "its shank nut",
    "shank": "its shank",
}
"""A tap's parts by the end of their operations' ids."""


def _alone(tap: Alone, names: dict[str, str]) -> str:
    if not tap.known:
        return "not all of its tools are known, so service was not looked at"
    held = tap.faucet or tap.whole
    if held is None:
        return "the faucet, or the whole tap, comes off with everything else fitted"
    part, first = held
    said = (
        f"{PARTS[part.id.rpartition('-')[2]]} comes off only after"
        f" {_listed(names.get(name, shown(name)) for name in first)}"
    )
    return said if tap.faucet else f"the faucet comes off with all else fitted; {said}"
