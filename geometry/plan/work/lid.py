"""The lid off the freezer for the second time, before the collar is set."""

from collections.abc import Iterator

from . import cautions
from .before import WARMED
from .frame import LAID, LOCKED, UNSPRUNG, cured, mass, sprung
from .job import Job
from .lining import foam_holds
from .step import Step, after
from .surface import finish_cured

PHASE = "On the freezer"


def steps(job: Job) -> Iterator[Step]:
    """Yield taking the lid off again, as late as can be: once the collar is ready to be set."""
    yield _lid_away(job)


def _lid_away(job: Job) -> Step:
    return Step(
        id="lid-away",
        phase=PHASE,
        title="Take the lid off again",
        do=(
            "Support the lid, open, so that no hinge carries it.",
            UNSPRUNG[bool(sprung(job))] + "Undo the hinges at the freezer.",
            LAID,
            "Undo the hinges at the lid too: they go on the collar first.",
            LOCKED,
        ),
        hands=(0.5, 1.0),
        figures=(("mass of the lid", mass(job)),) if mass(job) else (),
        cautions=(cautions.LID, *sprung(job), cautions.CHILDREN, cautions.WALLS),
        after=(
            *after("lid-back", "cap"), cured(job), finish_cured(job), *foam_holds(job), WARMED,
        ),
        people=2,
        missing=() if mass(job) else ("lid.mass",),
    )  # fmt: skip
