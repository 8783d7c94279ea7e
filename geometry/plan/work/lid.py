"""The lid: off the freezer for the second time, and on the collar once that is set."""

from collections.abc import Iterator

from . import cautions
from .before import WARMED
from .fittings import strips_hold
from .frame import LAID, LOCKED, UNSPRUNG, cured, mass, sprung
from .job import Job, words
from .lining import foam_holds
from .step import Step, after
from .surface import finish_cured

PHASE = "On the freezer"

UPRIGHT = 80.0
"""An angle from which on the open lid may hang behind its hinges, degrees (a lid whose weight lies
above its hinge's pin passes its balance before 90 degrees: plane statics)."""

ONE_PERSON = 23.0
"""The most that one person lifts in the best case, kg (load constant of the revised NIOSH lifting
equation, from memory)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield taking the lid off again, once the collar is ready to be set, and putting it on."""
    yield _lid_away(job)
    yield _lid_on(job)


def tips(job: Job) -> tuple[str, ...]:
    """Return the caution about an empty freezer that the open lid tips back.

    Empty where the lid is known to stop short of upright.
    """
    open_to = job.project.hinge.open_to if job.project.hinge else None
    return () if open_to is not None and open_to <= UPRIGHT else (cautions.TIP,)


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
            *after("lid-back", "cap", "cleats"), cured(job), finish_cured(job), *foam_holds(job),
            WARMED,
        ),
        people=2,
        missing=() if mass(job) else ("lid.mass",),
    )  # fmt: skip


def _lid_on(job: Job) -> Step:
    lid, hinge = job.project.lid, job.project.hinge
    open_to = hinge.open_to if hinge else None
    figures: list[tuple[str, str]] = []
    missing: list[str] = []
    do = [
        "Two people lower the lid on the collar. One holds it while the other drives the screws,"
        " until the last one is in.",
        "Close a strip of paper under the gasket every hand's width all round: it has to pull hard"
        " everywhere. Where it slides out, shift the lid or shim a leaf.",
        "Open the lid slowly as far as it goes: nothing may touch wall, ceiling, taps or cables.",
        "Let it rest against its stop: the collar must not lift anywhere at the front.",
    ]
    if lid is not None and lid.mass is not None:
        heavy = lid.mass > ONE_PERSON
        best = job.mass(ONE_PERSON)
        more = f", more than the {best} that one person lifts at best" if heavy else ""
        figures.append(("mass of the lid", mass(job) + more))
    else:
        missing.append("lid.mass")
    if open_to is not None:
        figures.append(("opens to, from closed", f"{open_to:g} deg"))
    else:
        missing.append("hinge.open_to")
    count = len(hinge.positions) if hinge and hinge.positions else 0
    title = "Put the lid on" + (f": {words(count, 'hinge')}" if count else "")
    return Step(
        id="lid-on",
        phase=PHASE,
        title=title,
        do=tuple(do),
        hands=(0.5, 1.5),
        figures=tuple(figures),
        cautions=(
            cautions.LID,
            cautions.FROM_INSIDE,
            *tips(job),
            cautions.PROP,
        ),
        after=(*after("hinges"), *strips_hold(job)),
        people=2,
        papers=swing_papers(job),
        missing=tuple(missing),
        sources=(
            "one person lifts 23 kg (51 lb) at best: load constant of the revised NIOSH lifting"
            " equation, from memory",
        ),
    )


def swing_papers(job: Job) -> tuple[str, ...]:
    """Return the drawing of the lid's swing, where enough is known for it."""
    hinge, layout = job.project.hinge, job.layout
    known = layout.lid and layout.lid.corners() and layout.hinge and hinge and hinge.open_to
    return ("drawings/lid-swing.pdf",) if known else ()
