"""The foam on the frame's inside, once the finish is hard."""

from collections.abc import Iterator

from ....params import supplies
from ...shape.hole import HINGE_SET_OUT, Hole, about_assumed
from ...shape.lining import Panel, between
from ..sheets.panels import sheet_of
from ..shown import PRACTICE
from . import cautions
from .fittings import strips_hold
from .frame import clamped
from .glued import backed
from .job import Job, hours, listed, source, time_text, told, words
from .saw import foam_templates
from .step import After, Step, after
from .surface import finish_cured

PHASE = "Lining"


def steps(job: Job) -> Iterator[Step]:
    """Yield cutting and gluing in the foam, where there is any."""
    if job.layout.panels:
        yield _cut_foam(job)
        yield _foam(job)


def _panel(job: Job, panel: Panel) -> tuple[str, str]:
    later = sum(about_assumed(hole.name, hole.purpose) for hole in panel.holes)
    pockets = sum(hole.purpose == "pocket" for hole in panel.holes) - later
    openings = sum(hole.purpose == "opening" for hole in panel.holes)
    passages = sum(hole.purpose == "passage" for hole in panel.holes)
    cut = [
        words(count, one)
        for count, one in ((pockets, "pocket"), (openings, "opening"), (passages, "passage"))
        if count
    ]
    sizes = " x ".join(job.length(each) for each in (panel.length, panel.width, panel.thickness))
    said = [listed(cut)] if cut else []
    if later:
        said.append(f"{words(later, 'dashed pocket')} to cut later")
    return f"foam {panel.side}", "; ".join((sizes, *said))


def _cut_foam(job: Job) -> Step:
    panels = job.layout.panels
    templates = foam_templates(job)
    planned = sheet_of(job.project) is not None
    do = [
        "Measure the frame's inside between opposite boards before you cut: the real panels have to"
        " go in without force.",
        (
            "Cut the panels from the sheet in the order of the foam plan"
            if planned
            else "Cut the panels"
        )
        + ", in several passes of a sharp knife along a straightedge.",
    ]
    if templates:
        do.append(
            "Pin each template to its panel and cut pockets and openings along its thick lines;"
            " leave the dashed ones, they wait for what they lie about."
            if any(about_assumed(hole.name, hole.purpose) for each in panels for hole in each.holes)
            else "Pin each template to its panel and cut pockets and openings along its thick"
            " lines."
        )
    if backed(job):
        do.append(
            "Cut the back panel free round the blocks behind the hinge leaves: the papers do not"
            " show them."
        )
    return Step(
        id="foam-cut",
        phase=PHASE,
        title="Cut the foam panels",
        do=tuple(do),
        hands=(0.75, 0.5 * len(panels)),
        figures=tuple(_panel(job, each) for each in panels),
        cautions=(cautions.KNIFE, cautions.FOAM),
        after=(*after("buy", "backing"), clamped(job)),
        papers=(
            *(("lists/foam.csv", "lists/foam-cuts.csv") if planned else ()),
            "drawings/foam.pdf",
            *templates,
        ),
        missing=() if planned else ("foam.sheet",),
    )


def bolts_to_free(job: Job) -> list[Hole]:
    """Return the pockets about the hinge's bolts, which are cut once the bolts are in."""
    back = job.layout.panel("back")
    holes = back.holes if back else ()
    return [hole for hole in holes if hole.name.startswith(HINGE_SET_OUT)]


def _lay_down(job: Job) -> Iterator[str]:
    """Yield what frame and panels stand on while the foam is glued in."""
    below = -min((each.bottom for each in job.layout.covers), default=0.0)
    past: list[str] = []
    where: list[str] = []
    if below > 0:
        past.append(f"The covers hang {job.length(below)} below the boards")
        where.append("inside the covers")
    if job.cleated:
        past.append(f"{'the cleats' if past else 'The cleats'} reach below the boards")
        where.append("between the cleats")
    if job.upside_down:
        yield from _upside_down(job)
    elif past:
        yield (
            f"{listed(past)}: lay the boards' bottom edges on battens higher than"
            f" {'both' if len(past) > 1 else 'that'}, {listed(where)}; the panels stand on the same"
            " battens."
        )
    else:
        yield (
            "Lay the frame on a flat surface, bottom edge down; the panels stand on the same"
            " surface."
        )
    if job.cleated:
        yield "Cut the foam free round the cleats: the papers do not show them."


def _upside_down(job: Job) -> Iterator[str]:
    """Yield how the frame lies on its cap, and what the panels stand on then."""
    layout, foam = job.layout, job.project.foam
    strip = layout.strips[0]
    above = max((each.top for each in layout.covers), default=0.0) - strip.bottom - strip.thickness
    on = "a flat surface"
    if above > 0:
        on = f"battens inside the covers, which stand {job.length(above)} above the strips"
    yield (
        "The strips of the cap stand out over the foam's place, and panels cannot get past them"
        f" from above: turn the frame upside down, its strips on {on}, and let the panels in from"
        " the bottom edge, which is now on top. They end flush with it."
    )
    if foam is not None and foam.below_top:
        yield (
            f"Put packing of {job.length(foam.below_top)} between strips and panels, as these end"
            " below the top edge; take it out again."
        )


def _foam(job: Job) -> Step:
    project, layout = job.project, job.layout
    row = supplies.foam_adhesive(project)
    assert row is not None and project.foam is not None
    first: list[str] = [each.side for each in layout.panels if not between(project, each.side)]
    then: list[str] = [each.side for each in layout.panels if between(project, each.side)]
    do = [
        *_lay_down(job),
        f"Put the panels in dry: {listed(first)} run the whole clear length, {listed(then)} stand"
        " between them.",
        "Put beads of adhesive on the panels, not round the bores: none may come into a bore, a"
        " pocket or an opening.",
        f"Press in {listed(first)}, then {listed(then)}; brace them against each other"
        " with battens until the adhesive holds.",
        "Tape all edges, seams and the walls of the pockets with foil tape: damp air must not get"
        " behind the foam.",
    ]
    if layout.brackets:
        do.insert(1, "Cut the dashed pockets about the brackets, now that these are on.")
    if bolts_to_free(job):
        do.append(
            "Leave the dashed pockets about the hinge's bolts uncut until the bolts are in: they"
            " show where these are."
        )
    if project.foam.pocket == "none":
        do.append("There are no pockets: the shank nuts clamp over the foam, each on its washer.")
    if project.foam.face:
        do.append(f"Cover the foam toward the well with {project.foam.face}.")
    kind = project.part("foam", project.foam.kind)
    said = [cautions.FUMES, cautions.FOAM]
    if kind is None or "polystyrene" in kind.text("material"):
        said.insert(
            0,
            "Solvents melt polystyrene: the adhesive's label has to say that it is for foam board.",
        )
    cold = row.figures.get("least_temperature")
    figures = [
        ("adhesive", told(row)),
        ("braced", time_text(hours(row, "tack"))),
        ("cured after", time_text(hours(row, "cure"))),
    ]
    if project.foam.below_top:
        below = job.length(project.foam.below_top)
        figures.append(("panels below the collar's top edge", below))
    if cold is not None:
        figures.append(("wood and room at least", job.warmth(cold.high)))
    return Step(
        id="foam",
        phase=PHASE,
        title="Glue in the foam",
        do=tuple(do),
        hands=(1.0, 2.0),
        figures=tuple(figures),
        cautions=tuple(said),
        after=(
            *after("foam-cut", "brackets", "cleats"),
            finish_cured(job),
            *((strips_hold(job) or after("cap")) if job.upside_down else ()),
        ),
        papers=("drawings/foam.pdf",),
        assumed=() if project.foam.adhesive else ("foam.adhesive",),
        sources=(source(row, "tack"), source(row, "cure"), f"how foam is glued: {PRACTICE}"),
    )


def foam_holds(job: Job) -> tuple[After, ...]:
    """Return the wait until the foam's adhesive holds by itself."""
    row = supplies.foam_adhesive(job.project)
    return (After("foam", hours(row, "tack"), "for the foam to hold"),) if row else ()


def foam_cured(job: Job) -> tuple[After, ...]:
    """Return the wait until the foam's adhesive is cured."""
    row = supplies.foam_adhesive(job.project)
    why = "for the foam's adhesive to cure and to stop smelling"
    return (After("foam", hours(row, "cure"), why),) if row else ()
