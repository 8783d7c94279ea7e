"""What of wood is glued on the frame: covers, strips on the top edges, blocks behind the hinge."""

from collections.abc import Iterator

from ..shown import PRACTICE
from . import cautions
from .frame import PHASE, cured, glue_figures, skin
from .job import Job
from .step import Step, after


def steps(job: Job) -> Iterator[Step]:
    """Yield covers, a wooden cap and backing blocks, where they are asked for."""
    if job.layout.covers:
        yield _cover(job)
    if job.layout.cap and not job.layout.cap.steel:
        yield _wooden_cap(job)
    if backed(job):
        yield _backing(job)


def _cover(job: Job) -> Step:
    covers = job.layout.covers
    sides = ", ".join(each.side for each in covers)
    below = min(each.bottom for each in covers)
    figures = [("bottom edge below the collar's", job.both(-below))] if below < 0 else []
    do = [
        "Lay each cover on its board with a shank, or a rod of the bore's size, through both bores,"
        " so that they are in line.",
        "Spread glue over all of the board's face, keep it out of the bores, and clamp with battens"
        " over the whole width. Dry first, with a clock: the whole face has to be under the clamps"
        " while the glue is open.",
    ]
    if len(covers) > 1:
        do.append("Where two covers meet, close their miter before you clamp.")
    return Step(
        id="cover",
        phase=PHASE,
        title=f"Glue on the covers: {sides}",
        do=tuple(do),
        hands=(0.5 * len(covers), 1.0 * len(covers)),
        figures=(*figures, *glue_figures(job)),
        cautions=skin(job.glue),
        after=(*after("cut", "bore"), cured(job)),
        papers=tuple(f"drawings/{each.name}.pdf" for each in covers),
        sources=(f"how a cover is fixed is not in the build file; glued: {PRACTICE}",),
    )


def backed(job: Job) -> bool:
    """Whether blocks behind the back board take the hinge's screws or bolts."""
    hinge = job.project.hinge
    return hinge is not None and bool(hinge.backing)


def leaves(job: Job) -> tuple[tuple[str, str], ...]:
    """Return where the middles of the hinge leaves are, as a figure; none until they are known."""
    hinge = job.project.hinge
    if hinge is None or hinge.positions is None:
        return ()
    middle = job.layout.board("back").long_point / 2
    places = ", ".join(job.length(middle + each) for each in sorted(hinge.positions))
    name = "middles of the leaves, from the back board's left end seen from behind"
    return ((name, places),)


def _backing(job: Job) -> Step:
    hinge = job.project.hinge
    assert hinge is not None and hinge.backing is not None
    figures = [("thickness of a block", job.both(hinge.backing)), *leaves(job)]
    keys = ("positions", "leaf_width", "leaf_height")
    for key, name in (("leaf_width", "wide"), ("leaf_height", "high, from the top edge down")):
        size: float | None = getattr(hinge, key)
        if size is not None:
            figures.append((f"at least so {name}", job.both(size)))
    return Step(
        id="backing",
        phase=PHASE,
        title="Glue on the blocks behind the hinge leaves",
        do=(
            "Cut a block of hardwood or plywood for each leaf, its grain along the board.",
            "Glue it on the back board's inner face behind the leaf, level with the top edge, and"
            " clamp it until the glue holds.",
        ),
        hands=(0.5, 1.0),
        figures=(*figures, *glue_figures(job)),
        cautions=(cautions.TABLE_SAW, *skin(job.glue)),
        after=(cured(job),),
        missing=tuple(f"hinge.{key}" for key in keys if getattr(hinge, key) is None),
        sources=(f"how a block is fixed is not in the build file; glued: {PRACTICE}",),
    )


def _wooden_cap(job: Job) -> Step:
    cap = job.layout.cap
    assert cap is not None
    return Step(
        id="cap",
        phase=PHASE,
        title="Glue the strips on the top edges",
        do=(
            "Lay the strips on the top edges and close their miters dry.",
            "Glue and clamp them; keep their tops level: the lid's gasket closes on them.",
        ),
        hands=(0.5, 1.0),
        figures=(
            ("strip, thickness by width", f"{job.length(cap.thickness)} x {job.length(cap.width)}"),
            ("from the outer face in to the strip", job.length(cap.inset)),
            *glue_figures(job),
        ),
        cautions=skin(job.glue),
        after=(*after("cut"), cured(job)),
        sources=(f"how a strip is fixed is not in the build file; glued: {PRACTICE}",),
    )
