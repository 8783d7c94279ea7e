"""Sanding, primer, and the finish coat by coat: all faces and bores, before any foam."""

from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import Row
from ..materials.areas import finished
from ..shown import PRACTICE
from . import cautions
from .frame import cured, skin
from .job import Job, hours, source, time_text, told
from .step import After, Step, after

PHASE = "Surface"


def steps(job: Job) -> Iterator[Step]:
    """Yield sanding, the primer where the finish wants one, and each coat."""
    yield _sand(job)
    primer = supplies.primer(job.project)
    if primer is not None:
        yield _prime(job, primer)
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
            *(
                ("Saw the cleats too, from hardwood as thick as the boards, and sand them.",)
                if job.cleated
                else ()
            ),
            "Brush and wipe off all dust, also out of the bores.",
        ),
        hands=(1.0, 3.0),
        cautions=(cautions.DUST, *((cautions.TABLE_SAW,) if job.cleated else ())),
        after=(cured(job), *glued_on(job)),
        sources=(f"grits: {PRACTICE}",),
    )


def last(job: Job) -> str:
    """Return the id of the last coat."""
    return f"coat-{job.coats}"


def finish_cured(job: Job) -> After:
    """Return the wait for the last coat to be hard."""
    return After(last(job), hours(job.finish, "cure"), "for the finish to harden")


def _sand_lightly(what: str) -> str:
    return f"Sand lightly with 220 grit until it is dull, wipe off the dust, and {what}."


def _on_bare_wood(job: Job) -> Iterator[str]:
    """Yield where the first layer goes, finish or primer."""
    yield (
        "Coat all six faces of every board: outside, inside, top edge, bottom edge, and the wood"
        " inside every bore, passage and pilot. Wood that dries on one side cups."
    )
    yield "Two thin passes into the bores' end grain; none of it may run."
    yield "The miters are glued by now and get none."
    if job.layout.strips and not job.layout.strips[0].steel:
        yield "The strips on the top edges get the same."
    if job.cleated:
        yield "The cleats get the same."


def _minded(row: Row) -> tuple[str, ...]:
    """Return the cautions about what is brushed on."""
    return (cautions.FUMES, *((cautions.RAGS,) if row.text("base") == "oil" else ()), *skin(row))


def _brushed(job: Job) -> tuple[float, float]:
    """Return the hours that one layer takes, by the area in m2."""
    area = finished(job.layout) * 1e-6
    return 0.3 + 0.2 * area, 0.75 + 0.4 * area


def _prime(job: Job, primer: Row) -> Step:
    recoat = hours(primer, "recoat")
    return Step(
        id="primer",
        phase=PHASE,
        title="Prime the bare wood",
        do=tuple(_on_bare_wood(job)),
        hands=_brushed(job),
        figures=(("primer", told(primer)), ("before the first coat", time_text(recoat))),
        cautions=_minded(primer),
        after=after("sand"),
        sources=(source(primer, "coats"), source(primer, "recoat")),
    )


def _before(job: Job, number: int) -> tuple[After, ...]:
    """Return what a coat waits for: sanding or primer, then the coat before it."""
    if number > 1:
        return (After(f"coat-{number - 1}", hours(job.finish, "recoat"), "for the coat to dry"),)
    primer = supplies.primer(job.project)
    if primer is None:
        return after("sand")
    return (After("primer", hours(primer, "recoat"), "for the primer to dry"),)


def _coat(job: Job, number: int) -> Step:
    finish, coats = job.finish, job.coats
    if number == 1 and supplies.primer(job.project) is None:
        do = tuple(_on_bare_wood(job))
    else:
        which = "first coat" if number == 1 else "next coat"
        do = (_sand_lightly(f"give all faces and bores the {which}"),)
    figures = [("finish", told(finish)), ("coat", f"{number} of {coats}")]
    before_foam = ", before the foam" if job.layout.panels else ""
    if number < coats:
        figures.append(("before the next coat", time_text(hours(finish, "recoat"))))
    else:
        figures.append((f"until it is hard{before_foam}", time_text(hours(finish, "cure"))))
    named = job.project.finish
    return Step(
        id=f"coat-{number}",
        phase=PHASE,
        title=f"Finish, coat {number} of {coats}",
        do=do,
        hands=_brushed(job),
        figures=tuple(figures),
        cautions=(*_minded(finish), *((cautions.FOOD,) if number == coats else ())),
        after=_before(job, number),
        assumed=() if named and named.kind else ("finish.kind",),
        sources=(source(finish, "recoat"), source(finish, "cure")),
    )
