"""Before the saw: plug out, readings, purchases, wood that gets used to the room."""

from collections.abc import Iterator

from ....params.project import SIDES
from ..shown import PRACTICE
from . import cautions
from .job import Job, listed
from .step import After, Step, after

PHASE = "Before the saw"

WARM = (12.0, 24.0)
"""How long an open freezer takes to be warm and dry, hours (common practice, no source)."""

REST = (72.0, 168.0)
"""How long wood lies in the room before it is cut, hours (common practice, no source)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield what comes before the saw."""
    yield _unplug()
    yield _measure(job)
    yield _buy(job)
    yield _rest(job)


def _unplug() -> Step:
    return Step(
        id="unplug",
        phase=PHASE,
        title="Unplug the freezer and let it get warm",
        do=(
            "Empty the freezer, switch it off and pull the plug. It stays out until step"
            ' "Plug in and cool down".',
            "Leave the lid propped open until all ice is gone; soak up the water.",
            "Wash lip, well and lid with a mild cleaner, rinse, and leave all open to dry.",
        ),
        hands=(0.5, 1.5),
        cautions=(
            cautions.UNPLUG, cautions.WALLS, cautions.LEAK, cautions.CHILDREN, cautions.PROP,
        ),
        sources=(f"12 to 24 h to get warm and dry: {PRACTICE}",),
    )  # fmt: skip


def _measure(job: Job) -> Step:
    lip = job.project.lip
    sides = [(f"lip, {side}", getattr(lip, side), "") for side in SIDES]
    diagonals = [
        ("lip, front left to back right", lip.front_left_to_back_right, "front_left_to_back_right"),
        ("lip, front right to back left", lip.front_right_to_back_left, "front_right_to_back_left"),
    ]
    figures = [
        (name, " and ".join(job.length(each) for each in found))
        for name, found, _ in (*sides, *diagonals)
        if found
    ]
    missing = [f"lip.{key}" for _, found, key in diagonals if not found]
    through = job.project.hole
    if not through:
        missing.append("hole")
    if lip.land is None:
        missing.append("lip.land")
    else:
        figures.append(("lip, land", job.length(lip.land)))
    return Step(
        id="measure",
        phase=PHASE,
        title="Read the freezer once more, and ask the program",
        do=(
            "Read the lip again, by the measuring sheet (collarwright sheet).",
            f"Where a reading is off by more than {job.both(lip.tape)}, read it a third time and"
            " put the new one into the build file.",
            "Read also what is missing here, and what the program says it did not check.",
            *(
                ()
                if through
                else (
                    "No passage for the probe's cable or for hoses is in the build file: decide it"
                    " before the boards are bored ([[hole]]).",
                )
            ),
            "Run collarwright check FILE. Cut nothing while a must fails.",
        ),
        hands=(0.5, 1.0),
        figures=tuple(figures),
        cautions=(cautions.PROP,),
        after=after("unplug"),
        papers=("measuring sheet",),
        missing=tuple(missing),
    )


def _buy(job: Job) -> Step:
    board = job.layout.boards[0]
    figures = [
        ("boards, thickness", job.both(board.thickness)),
        ("boards, width", job.both(board.width)),
    ]
    if job.layout.covers:
        figures.append(("covers, thickness", job.both(job.layout.covers[0].thickness)))
    if job.layout.foam:
        figures.append(("foam, thickness", job.both(job.layout.foam)))
    missing: list[str] = []
    for tap in job.layout.taps:
        if tap.shank is None:
            missing.append("taps.shank")
            continue
        row = ("shank, thread behind the flange", job.both(tap.shank.thread_length))
        flange = ("shank, flange's diameter", job.both(tap.shank.flange_diameter))
        thread = ("shank, thread's diameter", job.both(tap.shank.thread_diameter))
        figures += [each for each in (row, thread, flange) if each not in figures]
    real = listed(["boards", *(["foam"] if job.layout.foam else []), "shanks"])
    return Step(
        id="buy",
        phase=PHASE,
        title="Buy, and measure what you bought",
        do=(
            "Buy what the list of materials says (collarwright buy FILE). Choose boards that are"
            " straight, flat and dry.",
            f"Measure the real {real}. Where one is not as printed here, put the"
            " real size into the build file, run collarwright check FILE again, and build the"
            " papers anew.",
            "Try a shank in a scrap that is bored with your own hole saw: it has to go through.",
        ),
        hands=(1.0, 4.0),
        figures=tuple(figures),
        cautions=(cautions.ACID,),
        after=after("measure"),
        papers=("lists/materials.csv", "lists/tools.csv", "lists/boards.csv"),
        missing=tuple(dict.fromkeys(missing)),
        sources=("no time for delivery is counted",),
    )


def _rest(job: Job) -> Step:
    wet = f"{job.project.board.moisture:g} %"
    return Step(
        id="rest",
        phase=PHASE,
        title="Let the wood get used to the room",
        do=(
            "Lay the boards flat on sticks, air all round, in the room that you will glue them in.",
            "Sight along each board before you cut it; leave out what has twisted or bowed.",
        ),
        hands=(0.2, 0.3),
        figures=(("moisture content that the build file counts with", wet),),
        after=after("buy"),
        sources=(f"3 to 7 days: {PRACTICE}",),
    )


RESTED = After("rest", REST, "for the wood to get used to the room")
WARMED = After("unplug", WARM, "for the freezer to be warm and dry")
