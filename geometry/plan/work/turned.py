"""What has to be turned sooner than the order of work has it, or cannot be turned at all.

The order of work is told in phases; the assembly looks at each fastener with its tool. Where that
finds that a nut has no room once something of an earlier phase is on, the step at which that is put
on says so.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..assembly.let_in import UPSIDE_DOWN
from ..assembly.part import Operation
from ..assembly.said import blocked
from ..assembly.search import Order
from .job import Job, listed
from .step import Step

STEPS = {
    "ring": "glue-up", "cover": "cover", "cap": "cap", "bracket": "brackets", "foam": "foam",
    "lip": "set", "leaf": "hinges", "leaves": "hinges", "lid": "lid-on", "shank": "shanks",
    "nut": "shanks", "faucet": "faucets", "handle": "faucets", "manifold": "manifold",
    "hoses": "gas", "tail": "lines", "tray": "tray",
}  # fmt: skip
"""The step of the work at which an operation of the assembly is done."""


TAP = re.compile(r"tap (\d+)")


def step_of(operation: str) -> str:
    """Return the step at which an operation is done, by its id; empty for one of no step."""
    words = operation.split("-")
    return STEPS.get(words[-1] if words[0] == "tap" else words[0], "")


def upside_down(order: Order) -> bool:
    """Whether a foam panel gets in past the cap only from the bottom edge."""
    return any(UPSIDE_DOWN in step.tools for step in order.steps)


def turned(job: Job, order: Order, steps: Sequence[Step]) -> tuple[Step, ...]:
    """Return the steps with what the assembly's order asks of them."""
    said = {place: _sentence(each) for place, each in _sooner(order, steps).items()}
    found = [
        replace(step, do=(said[place], *step.do)) if place in said else step
        for place, step in enumerate(steps)
    ]
    never = blocked(job.project, order.loop)
    if never is not None:
        place = next(n for n, step in enumerate(found) if step.id == "measure")
        stop = f"{never[0].upper()}{never[1:]}. Change that before you cut."
        found[place] = replace(found[place], do=(*found[place].do, stop))
    return tuple(found)


def _sooner(order: Order, steps: Sequence[Step]) -> dict[int, list[Operation]]:
    """Return, by the place of a step, what has to be turned before it though it is told later."""
    places = {step.id: place for place, step in enumerate(steps)}
    by_id = {each.operation.id: each.operation for each in order.steps}
    found: dict[int, set[str]] = {}
    for each in order.steps:
        own = places.get(step_of(each.operation.id), -1)
        firsts = [places[at] for o in each.before if (at := step_of(o.id)) in places]
        if not firsts or min(firsts) >= own:
            continue
        needed = [each.operation.id]
        for name in needed:  # what it sits on goes with it
            needed += [o for o in by_id[name].after if o in by_id and o not in needed]
        late = {name for name in needed if places.get(step_of(name), -1) >= min(firsts)}
        found.setdefault(min(firsts), set()).update(late)
    return {
        place: [each.operation for each in order.steps if each.operation.id in names]
        for place, names in found.items()
    }


def _sentence(operations: Iterable[Operation]) -> str:
    alike: dict[str, list[str]] = {}
    for each in operations:
        tap = TAP.search(each.does)
        alike.setdefault(TAP.sub("{}", each.does, 1), []).append(tap[1] if tap else "")
    parts = [does.replace("{}", _taps(numbers)) for does, numbers in alike.items()]
    return (
        "Before this, as no tool has room for it afterward (the list of the assembly has the"
        f" order): {'; '.join(parts)}."
    )


def _taps(numbers: list[str]) -> str:
    return f"tap{'' if len(numbers) == 1 else 's'} {listed(numbers)}"
