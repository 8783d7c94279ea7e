"""From four boards to a frame: the lid off, dry fit, glue-up."""

from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import Figure, Row
from ....params.units import force_text
from ...shape.built import OFF_SQUARE
from ...shape.plane import distance
from ..materials.areas import miter
from ..shown import PRACTICE
from . import cautions
from .job import Job, hours, source, time_text, told
from .step import After, Hours, Step, after

PHASE = "Frame"

UNHURRIED = 15.0
"""An open time that lets one spread, close and clamp four corners, minutes (common practice)."""

PRESSED = {"softwood": (700.0, 1000.0), "hardwood": (1200.0, 1700.0)}
"""How hard a glue is to be pressed by the kind of wood, kPa: 100 to 150 psi, and 175 to 250 psi (a
glue's maker as two public pages quote it)."""

BAND = (1000.0, 2000.0)
"""What a band clamp gives on a corner, N (from memory)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield taking the lid off, dry fit, the lid back on, and glue-up, if need be in two turns."""
    yield _lid_off(job)
    yield _dry_fit(job)
    yield _lid_back(job)
    yield from _glue_up(job)


def diagonals(job: Job) -> tuple[tuple[str, str], ...]:
    """Return the frame's diagonals between its outer corners, with how far they may be off."""
    corners = [(each.x, each.y) for each in job.layout.frame.corners]
    names = ("front left to back right", "front right to back left")
    return tuple(
        (
            f"diagonal {name}",
            f"{job.length(distance(corners[i], corners[i + 2]))},"
            f" {job.both(OFF_SQUARE)} more or less at most",
        )
        for i, name in enumerate(names)
    )


def _lid_off(job: Job) -> Step:
    hinge, lid = job.project.hinge, job.project.lid
    said = [cautions.LID, *sprung(job), cautions.CHILDREN, cautions.WALLS]
    missing = [] if hinge is not None and hinge.spring is not None else ["hinge.spring"]
    if lid is None or lid.mass is None:
        missing.append("lid.mass")
    return Step(
        id="lid-off",
        phase=PHASE,
        title="Take the lid off the freezer",
        do=(
            "Support the lid, open, so that no hinge carries it.",
            UNSPRUNG[bool(sprung(job))] + "Mark each hinge and its place with tape.",
            "Undo the hinges at the freezer; keep their screws together. What is under them stays:"
            " drill nothing there.",
            "Weigh the lid, if its mass is missing here, and put it into the build file.",
            LAID,
            "Leave the hinges on the lid: it goes back on the freezer after the dry fit.",
            LOCKED,
        ),
        hands=(0.5, 1.0),
        figures=() if lid is None or lid.mass is None else (("mass of the lid", mass(job)),),
        cautions=tuple(said),
        after=after("unplug", "bore"),
        people=2,
        missing=tuple(missing),
    )


UNSPRUNG = ("", "Lock the springs, if there are any. ")
LAID = "Lay the lid flat where nobody steps on its gasket."
LOCKED = "Lock the room whenever you leave it, until the lid is on again."


def _lid_back(job: Job) -> Step:
    let_go = "; let go of locked springs once the last one is in" if sprung(job) else ""
    return Step(
        id="lid-back",
        phase=PHASE,
        title="Put the lid back on the freezer",
        do=(
            "Lift the frame off, and wipe well and lip dry.",
            "Two people hang the lid on the freezer's own hinges again, with their own screws in"
            f" their own holes{let_go}. The freezer stays shut and unplugged until the collar is"
            " set: glue and finish take their time.",
            "Shut and warm it molds: wipe it dry before you shut it, and once a week wipe and air"
            " it, the lid propped open and somebody in the room all the while.",
            "If it cannot go back on, lock the room whenever you leave it.",
        ),
        hands=(0.4, 0.75),
        cautions=(cautions.LID, *sprung(job), cautions.CHILDREN, cautions.PROP),
        after=after("dry-fit"),
        people=2,
    )


def sprung(job: Job) -> tuple[str, ...]:
    """Return the caution about a sprung hinge, also while nobody knows whether it is one."""
    hinge = job.project.hinge
    return () if hinge is not None and hinge.spring is False else (cautions.SPRING,)


def mass(job: Job) -> str:
    """Write the lid's mass, empty where nobody weighed it."""
    lid = job.project.lid
    return "" if lid is None or lid.mass is None else job.mass(lid.mass)


def _dry_fit(job: Job) -> Step:
    taps = job.layout.taps
    do = [
        "Put the frame together dry on the freezer's lip, a band clamp or four ratchet straps"
        " around it, just tight.",
        "Measure both diagonals between the outer corners. Push together the two corners of the one"
        " that is longer than its figure, until both read theirs.",
        "Look at each miter from inside and outside: no light through it.",
        "Look along the inside: every board stands on hard, flat rim all the way.",
        "Lay the lid on, two people, and see that its gasket lies on wood all round and its edges"
        " clear the boards.",
    ]
    if any(tap.shank for tap in taps):
        do.append(
            "Put a shank with its faucet through the outermost bores; swing the faucet wrench and"
            " pull the handle."
        )
    built = job.project.built is not None
    do += [
        "Put into [built] what has changed since it was measured."
        if built
        else "Write long points, diagonals, thickness and bores as they really are into [built].",
        "Run collarwright check FILE --built. Glue nothing while a must fails: it says what can be"
        " done in the shop.",
    ]
    return Step(
        id="dry-fit",
        phase=PHASE,
        title="Fit the frame dry, on the lip",
        do=tuple(do),
        hands=(1.0, 2.0),
        figures=diagonals(job),
        cautions=(cautions.LID, cautions.CHILDREN),
        after=after("cut", "bore", "corners", "lid-off"),
        people=2,
        papers=("drawings/general-arrangement.pdf",),
        sources=(f"limit of the diagonals, {job.both(OFF_SQUARE)}: {PRACTICE}",),
    )


def _glue_up(job: Job) -> Iterator[Step]:
    """Yield gluing all corners, or two by two with a glue that is open for too short a time."""
    first = after("lid-back")
    if job.glue.figures["open_time"].low >= UNHURRIED:
        yield _glue(job, "glue-up", "Glue the frame", (), first, (0.75, 1.5))
        return
    hands = (0.75, 1.25)
    yield _glue(job, "glue-two", "Glue two opposite corners of the frame", BY_TWOS, first, hands)
    wait = (After("glue-two", hours(job.glue, "clamp_time"), "in clamps"),)
    yield _glue(job, "glue-up", "Glue the other two corners", THE_OTHERS, wait, hands)


BY_TWOS = (
    "This glue is not open long enough for four corners at once. Take a slower one, or glue two"
    " opposite corners now, the other two closed without glue, so that the frame keeps its angles.",
)
THE_OTHERS = (
    "Pull the two L's apart, gently: their glue is not at its full strength yet. Take off what has"
    " run on the faces that are still bare.",
)


def _glue(
    job: Job, step: str, title: str, first: tuple[str, ...], before: tuple[After, ...], hands: Hours
) -> Step:
    glue, joints = job.glue, job.layout.joints
    cold = glue.figures["least_temperature"]
    face = miter(job.layout.boards[0])
    do = [
        "Have clamps, tape measure, a wet rag and all boards in order at hand; rehearse it dry.",
        *first,
        "Brush a thin coat of glue on the miters that are glued now: they are half end grain and"
        " drink. Wait as its label says; PVA is dull after 5 to 10 minutes."
        if glue.get("sizing_coat")
        else "No thin coat on the miters first with this glue: what its row says stands here.",
        f"Spread the glue on both faces of each miter{_into(job)}. From here its open time counts,"
        " for each corner from its own coat.",
        "Close the corners and pull the band clamp just tight.",
        "Measure both diagonals before the clamp bites; push together the one that is longer than"
        " its figure, until both read theirs. Then tighten, and measure again.",
        "See that all top edges are level, and the frame flat: lay it on two straight battens.",
        "Take off what is squeezed out, inside and outside, while it is wet or, if its label says"
        " so, once it is hard: finish does not take on glue.",
    ]
    figures = [
        *glue_figures(job),
        ("full strength after", time_text(hours(glue, "full_cure"))),
        ("wood, glue and room at least", job.warmth(cold.high)),
        *diagonals(job),
    ]
    pressure = glue.figures.get("clamp_pressure")
    sources = [source(glue, name) for name in ("open_time", "clamp_time", "full_cure")]
    if pressure is not None:
        low, high, which = pressing(job, pressure)
        wants, most = low / 1000 * face, high / 1000 * face  # kPa are mN/mm2
        wanted = f"{force_text(wants, job.show)} to {force_text(most, job.show)}, {which}"
        given = " to ".join(force_text(each, job.show) for each in BAND)
        figures.append(("the glue wants on each miter", f"{wanted}; a band clamp gives {given}"))
        if wants > BAND[0]:
            more = "the glue alone is" if not joints else f"{joints[0].kind}s help, and the glue is"
            do.append(
                f"A band clamp presses a miter less than the glue wants: {more} not at its full"
                " strength there. Blocks with a clamp across each corner press better."
            )
        sources.append(f"a band clamp's force: from memory; {source(glue, 'clamp_pressure')}")
    return Step(
        id=step,
        phase=PHASE,
        title=title,
        do=tuple(do),
        hands=hands,
        figures=tuple(figures),
        cautions=(
            "Read the glue's label: its times and warnings go before the ones here.",
            "No finish on a miter's faces before it is glued: glue does not hold on it.",
            *skin(glue),
        ),
        after=before,
        people=2,
        sources=tuple(sources),
        assumed=() if job.project.board.glue else ("board.glue",),
    )


def pressing(job: Job, glue: Figure) -> tuple[float, float, str]:
    """Return least and most pressure on a glue line, kPa, and what that hangs on.

    The glue's own range, as far as it suits the kind of wood; all of it while nobody named the
    species, or where none of it does: thick glues are hardly pressed in any wood.
    """
    species = job.project.part("species", job.project.board.species)
    kind = species.text("kind") if species else ""
    low, high = PRESSED.get(kind, (glue.low, glue.high))
    low, high = max(low, glue.low), min(high, glue.high)
    if not kind or low > high:
        return glue.low, glue.high, "the harder the wood the more"
    return low, high, f"as {kind} takes it"


def glue_figures(job: Job) -> tuple[tuple[str, str], ...]:
    """Return the glue, how long it stays open, and how long in clamps; what its row says too."""
    glue = job.glue
    return (
        ("glue", told(glue)),
        (
            "open, from the coat that closes a joint to its clamp, at most",
            f"{glue.figures['open_time'].low:g} min",
        ),
        ("in clamps", time_text(hours(glue, "clamp_time"))),
    )


def skin(row: Row) -> tuple[str, ...]:
    """Return the caution about bare hands, for what is not for them."""
    return (cautions.SKIN,) if supplies.gloves(row) else ()


def _into(job: Job) -> str:
    joints = job.layout.joints
    if not joints:
        return ""
    kind = joints[0].kind
    return f", and into the {'holes' if kind == 'dowel' else 'slots'}; set the {kind}s"


def clamped(job: Job) -> After:
    """Return the wait in clamps."""
    return After("glue-up", hours(job.glue, "clamp_time"), "in clamps")


def cured(job: Job) -> After:
    """Return the wait for the glue's full strength."""
    return After("glue-up", hours(job.glue, "full_cure"), "for the glue's full strength")
