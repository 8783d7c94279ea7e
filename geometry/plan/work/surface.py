"""Sanding, and the finish coat by coat: all faces and bores, before any foam."""

from collections.abc import Iterator

from ..shown import PRACTICE
from . import cautions
from .frame import cured, skin
from .job import Job, hours, source, time_text
from .step import After, Step, after

PHASE = "Surface"


def steps(job: Job) -> Iterator[Step]:
    """Yield sanding and each coat."""
    yield _sand(job)
    for number in range(1, job.coats + 1):
        yield _coat(job, number)


def glued_on(job: Job) -> tuple[After, ...]:
    """Return the waits for what was glued on the frame, as long as the frame's own."""
    wait = hours(job.glue, "full_cure")
    cap = job.layout.cap
    parts = ("cover", "backing", *(("cap",) if cap is not None and not cap.steel else ()))
    return tuple(After(each, wait, "for the glue's full strength") for each in parts)


def _sand(job: Job) -> Step:
    return Step(
        id="sand",
        phase=PHASE,
        title="Sand",
        do=(
            "Scrape off hard glue, then sand with the grain, 120 and then 180 grit.",
            "Break the outer edges and the bores' edges. Leave the bottom edge sharp and flat for"
            " the seal, and the top edge flat for the lid's gasket: try both with a straightedge.",
            "Brush and wipe off all dust, also out of the bores.",
        ),
        hands=(1.0, 3.0),
        cautions=(cautions.DUST,),
        after=(cured(job), *glued_on(job)),
        sources=(f"grits: {PRACTICE}",),
    )


def last(job: Job) -> str:
    """Return the id of the last coat."""
    return f"coat-{job.coats}"


def finish_cured(job: Job) -> After:
    """Return the wait for the last coat to be hard."""
    return After(last(job), hours(job.finish, "cure"), "for the finish to harden")


def _coat(job: Job, number: int) -> Step:
    finish, coats = job.finish, job.coats
    recoat = hours(finish, "recoat")
    if number == 1:
        do = [
            "Finish all six faces of every board: outside, inside, top edge, bottom edge, and the"
            " wood inside every bore, passage and pilot. Wood that dries on one side cups.",
            "Two thin passes into the bores' end grain; none of it may run.",
            "The miters are glued by now and get none.",
        ]
        if job.layout.strips and not job.layout.strips[0].steel:
            do.append("The strips on the top edges get the same.")
        before: tuple[After, ...] = after("sand")
    else:
        do = [
            "Sand lightly with 220 grit until it is dull, wipe off the dust, and give all faces and"
            " bores the next coat.",
        ]
        before = (After(f"coat-{number - 1}", recoat, "for the coat to dry"),)
    figures = [("finish", finish.name), ("coat", f"{number} of {coats}")]
    before_foam = ", before the foam" if job.layout.panels else ""
    if number < coats:
        figures.append(("before the next coat", time_text(recoat)))
    else:
        figures.append((f"until it is hard{before_foam}", time_text(hours(finish, "cure"))))
    said = [cautions.FUMES]
    if finish.text("base") == "oil":
        said.append(cautions.RAGS)
    said += skin(finish)
    if number == coats:
        said.append(cautions.FOOD)
    area = sum(2 * part.width * part.long_point for part in job.parts) / 1e6
    named = job.project.finish
    return Step(
        id=f"coat-{number}",
        phase=PHASE,
        title=f"Finish, coat {number} of {coats}",
        do=tuple(do),
        hands=(0.3 + 0.2 * area, 0.75 + 0.4 * area),
        figures=tuple(figures),
        cautions=tuple(said),
        after=before,
        assumed=() if named and named.kind else ("finish.kind",),
        sources=(source(finish, "recoat"), source(finish, "cure")),
    )
