"""On the freezer: the collar on its lip, and the hinges."""

from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import Row
from ...handbook.beads import bead_count
from ...shape.hole import HINGE_SET_OUT
from ...shape.screws import pilot_depth
from ..shown import PRACTICE
from . import cautions
from .fittings import PILOT_RULE
from .frame import cured, sprung
from .glued import leaves
from .job import Job, hours, source, time_text, told, words
from .lid import swing_papers
from .lining import bolts_to_free
from .step import After, Step, after

PHASE = "On the freezer"


def steps(job: Job) -> Iterator[Step]:
    """Yield what is done at the lip."""
    yield _set(job)
    yield _hinges(job)


def held(job: Job) -> After:
    """Return the wait until what holds the collar on the lip is cured."""
    row = _bead(job)
    if row is None:
        return After("set")
    return After("set", hours(row, "cure"), f"for the {row.text('kind')} at the lip to cure")


def _bead(job: Job) -> Row | None:
    """Return the adhesive or sealant under the boards; None where there is none, or no room."""
    return supplies.lip_adhesive(job.project) if job.layout.held_width else None


def collar_mass(job: Job) -> float | None:
    """Return the mass of the boards and covers, bored, kg; None where the wood is not known."""
    species = job.project.part("species", job.project.board.species)
    if species is None:
        return None
    return sum(part.volume for part in job.parts) * species.value("density") * 1e-9


def _set(job: Job) -> Step:
    project, layout = job.project, job.layout
    seat = project.seat
    seal = project.part("seals", seat.seal if seat else None)
    row = _bead(job)
    hold = seat.hold if seat else None
    do = [
        "Wipe the lip clean and dry, and degrease it; try on a hidden spot whether the cleaner"
        " attacks it.",
        "Set the collar on dry and mark with tape where each corner stands.",
    ]
    figures: list[tuple[str, str]] = []
    sources: list[str] = []
    missing: list[str] = []
    if seal is not None:
        do.append("Stick the seal all round under the boards, its ends butted, not stretched.")
        figures += [("seal", seal.name), ("seal under the collar's weight", job.both(layout.seal))]
    else:
        missing.append("seat.seal")
    width = layout.held_width
    if hold in ("adhesive", "sealant", "tape") and not width:
        mend = "take a narrower seal" if seal is not None else "see how the boards stand on it"
        beside = "beside the seal" if seal is not None else "on the lip"
        do.append(
            f"The {hold} that is to hold the collar finds no room {beside}:"
            f" {mend} before you go on."
        )
        missing.append("seat.seal" if seal is not None else "board.overhang")
    elif row is not None:
        count = bead_count(width, row.value("bead"))
        what = f"{words(count, 'bead')} all round{', side by side,' if count > 1 else ''}"
        beside = " beside the seal" if seal is not None else ""
        do.append(f"Run {what}{beside}, without a gap at the corners: {row.name}.")
        cold = row.figures.get("least_temperature")
        figures += [
            (row.text("kind"), told(row)),
            ("width of bead or beads once pressed", job.both(width)),
            ("skin on the bead after", time_text(hours(row, "tack"))),
            ("cured after", time_text(hours(row, "cure"))),
        ]
        if cold is not None:
            figures.append(("lip, wood and room at least", job.warmth(cold.high)))
        sources += [source(row, "tack"), source(row, "cure")]
    elif hold == "tape":
        do.append("Lay the tape all round; it grips at once, so lower the collar straight down.")
    elif hold == "cleats":
        do.append("See that every cleat goes down inside the lip and pushes at nothing there.")
    else:
        missing.append("seat.hold")
        do.append(
            "What holds the collar down is not in the build file: decide it now, and wait as long"
            " as its label says before the lid goes on. Nothing may be drilled or screwed into the"
            " freezer."
        )
    do += [
        "Two people lower the collar on the marks, straight down.",
        "Lay an even weight on it, a heavy book at each corner and between, until that is cured."
        if row is not None
        else "Press it down all round.",
        "Look all round, from inside with a lamp: no light between lip and collar.",
    ]
    for board in layout.boards:
        ends = board.over_left, board.over_right
        left, right = (job.length(each) for each in ends)
        off = left if left == right else f"{left} at the left end, {right} at the right"
        figures.append((f"{board.side}, outer face beyond the lip's edge", off))
    heavy = collar_mass(job)
    if heavy is None:
        missing.append("board.species")
    else:
        figures.append(("the boards alone weigh", job.mass(heavy)))
    return Step(
        id="set",
        phase=PHASE,
        title="Set the collar on the lip",
        do=tuple(do),
        hands=(0.75, 1.5),
        figures=tuple(figures),
        cautions=(
            cautions.WALLS,
            *((cautions.FUMES,) if row is not None else ()),
            cautions.CHILDREN,
        ),
        after=after("lid-away"),
        people=2,
        papers=("drawings/general-arrangement.pdf",),
        missing=tuple(missing),
        sources=tuple(sources),
    )


HINGE_KEYS = ("positions", "leaf_height", "fix", "screws", "axis_behind", "axis_above")


def _lacking(job: Job) -> list[str]:
    hinge = job.project.hinge
    bolts = hinge is not None and hinge.fix == "bolt"
    keys = (*HINGE_KEYS, *(("bolt", "bolt_washer") if bolts else ("screw", "screw_length")))
    return [f"hinge.{key}" for key in keys if hinge is None or getattr(hinge, key) is None]


def _hinge_figures(job: Job) -> Iterator[tuple[str, str]]:
    hinge = job.project.hinge
    if hinge is None:
        return
    yield from leaves(job)
    if hinge.axis_behind is not None:
        way = "behind" if hinge.axis_behind >= 0 else "ahead of"
        yield f"pin {way} the face that carries the leaf", job.both(abs(hinge.axis_behind))
    if hinge.axis_above is not None:
        way = "above" if hinge.axis_above >= 0 else "below"
        yield f"pin {way} the plane that the lid closes on", job.both(abs(hinge.axis_above))
    if hinge.backing:
        yield "backing block behind each leaf, thickness", job.both(hinge.backing)
    back = job.layout.board("back")
    parts = [part for part in (job.layout.cover("back"), back) if part is not None]
    holes = [hole for part in parts for hole in part.holes if hole.name.startswith(HINGE_SET_OUT)]
    if holes:
        hole = holes[0]
        if hinge.fix == "bolt":
            yield "holes for the bolts, right through", job.bit_both(hole.half_length * 2)
            free = bolts_to_free(job)
            if free:
                yield "pockets in the foam about them", job.bit(free[0].half_length * 2)
        else:
            deep = pilot_depth(job.project, _wood(job))
            said = f"{job.both(deep)} deep from the leaf" if _stays_in(job) else "right through"
            yield "pilots", f"{job.bit_both(hole.half_length * 2)} across, {said}, in {job.wood}"
    screw = job.project.part("screws", hinge.screw)
    if screw is not None and hinge.fix != "bolt":
        long = "" if hinge.screw_length is None else f", {job.both(hinge.screw_length)} long"
        each = "" if hinge.screws is None else f", {hinge.screws} in each leaf"
        yield "screws", f"{screw.name}{long}{each}"


def _wood(job: Job) -> float:
    """Return the wood behind a leaf: cover, board and block, mm."""
    back = (job.layout.cover("back"), job.layout.board("back"))
    hinge = job.project.hinge
    backing = (hinge.backing if hinge else None) or 0.0
    return sum(part.thickness for part in back if part) + backing


def _stays_in(job: Job) -> bool:
    """Whether the pilots for the hinge's screws end inside the wood."""
    return pilot_depth(job.project, _wood(job)) < _wood(job)


def _hinges(job: Job) -> Step:
    hinge = job.project.hinge
    bolts = hinge is not None and hinge.fix == "bolt"
    do = [
        *(
            (
                "Hold the hinge map (templates/hinge-map.pdf, where one was made) against the back"
                " board's end: the pin's middle has to lie where it says.",
            )
            if hinge is not None and job.project.lid is not None
            else ()
        ),
        "Hold each leaf on the back board and mark through its own holes: those on the papers are"
        " spread evenly over the leaf, the real ones decide; how deep stands here.",
    ]
    if bolts:
        do.append("Bore for the bolts right through, from outside, a scrap held behind.")
        if bolts_to_free(job):
            do.append("Cut the foam away about each hole, for washer and socket.")
        do.append("Put the bolts through, the large washers inside, and tighten the nuts.")
    else:
        do.append(
            "Drill the pilots with a stop on the bit: none may come out inside."
            if _stays_in(job)
            else "The screws are as long as leaf and wood are thick: take shorter ones."
        )
        odd = hinge is not None and (hinge.screws or 0) % 2 == 1
        first = "the middle one of each leaf" if odd else "one near the middle of each leaf"
        do.append(f"Drive the screws by hand, with some wax, {first} first.")
    do.append("Touch up bare wood with finish.")
    missing = _lacking(job)
    sources = (
        "a bolt's hole: 1/32 in over the bolt (NDS 12.1.3.2)" if bolts else PILOT_RULE,
        f"marked through the real leaf: {PRACTICE}",
    )
    return Step(
        id="hinges",
        phase=PHASE,
        title="Fix the hinges on the back board",
        do=tuple(do),
        hands=(0.75, 1.5),
        figures=tuple(_hinge_figures(job)),
        cautions=(*sprung(job), cautions.WALLS),
        after=(held(job), cured(job)),
        papers=(*_back_papers(job), *swing_papers(job)),
        missing=tuple(missing),
        assumed=job.no_species,
        sources=sources,
    )


def _back_papers(job: Job) -> tuple[str, ...]:
    """Return the templates of what the leaves lie on, where their holes are set out."""
    parts = (job.layout.cover("back"), job.layout.board("back"))
    return tuple(
        f"templates/{part.name}.pdf"
        for part in parts
        if part and any(hole.name.startswith(HINGE_SET_OUT) for hole in part.holes)
    )
