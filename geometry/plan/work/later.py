"""After the first pour: what to look at, when; and how the collar comes off again."""

from collections.abc import Iterator

from ..assembly import away
from ..assembly.off import Away
from ..cylinders import cylinders
from ..shown import PRACTICE
from . import cautions
from .frame import sprung
from .gas import in_the_air
from .job import Job
from .step import After, Step

PHASE = "Afterward"

DAY, WEEK, SEASON = 24.0, 168.0, 2160.0
"""A day, a week and a quarter of a year, hours."""


def steps(job: Job) -> Iterator[Step]:
    """Yield what is looked at after a day, a week and a season."""
    yield _look(
        "day",
        "Look at it after a day",
        DAY,
        (
            *_gauges(job),
            f"Floor, flanges, {job.lined} and seal: dry everywhere.",
            "Temperature in a drink, not in the air: at the set-point.",
            "Gasket: no frost and no drops along it, outside either.",
        ),
        in_the_air(job),
    )
    yield _look(
        "week",
        "Look at it after a week",
        WEEK,
        (
            "Miters: no light, no crack in the finish.",
            "Shank nuts and coupling rings: tighten what has settled, not more.",
            "Hinge screws: none turns under the driver; seal at the lip: no gap at the corners.",
            "Ice on the well's walls: it comes from a leak of air; find it at gasket and passages.",
            "Compressor: it rests between starts. If it never does, the set-point is too low or air"
            " gets in.",
        ),
        in_the_air(job),
    )
    yield _look(
        "season",
        "Look at it after a season",
        SEASON,
        (
            "Miters and boards: wood moves with the seasons; a crack in the finish lets water in,"
            " sand and coat it.",
            "Gasket and seal: the paper strip again, all round.",
            *(
                ("Foam's edges and tape: nothing loose, nothing wet behind it.",)
                if job.layout.panels
                else ()
            ),
            "Hoses and lines: hard, cracked or stained ones are changed; washers with them.",
            "Alarm and test button: press both. Chain and regulator: as on the first day.",
        ),
        in_the_air(job),
    )


def _gauges(job: Job) -> Iterator[str]:
    """Yield how a slow leak of gas shows: not on the gauge of a cylinder that holds liquid."""
    gases = {each.gas for each in cylinders(job.project)}
    yield (
        "Gas, with no glass drawn since the evening: soapy water on every joint once more. A colder"
        " cylinder shows less with no leak at all."
    )
    if not gases or "CO2" in gases:
        yield (
            "A CO2 cylinder's gauge stands still until its liquid is gone: weigh the cylinder in"
            " the evening and again in the morning."
        )
    if not gases or gases - {"CO2"}:
        yield (
            "A cylinder of nitrogen or of a blend that goes on falling once it is cold has a leak."
        )


def _look(name: str, title: str, wait: float, do: tuple[str, ...], said: tuple[str, ...]) -> Step:
    return Step(
        id=name,
        phase=PHASE,
        title=title,
        do=do,
        hands=(0.2, 0.5),
        cautions=(cautions.PROP, *said),
        after=(After("pour", (wait, wait), f"for a {name} of use"),),
        sources=(f"when to look: {PRACTICE}",),
    )


def taking_off(job: Job) -> Step:
    """Return how the collar comes off again; it belongs to no plan of days."""
    seat = job.project.seat
    return Step(
        id="off",
        phase=PHASE,
        title="Taking the collar off again",
        do=(
            *(_sentence(each) for each in away(job.project, job.layout)),
            "Put the lid back on the freezer's own hinges, with their own screws. If the freezer is"
            " thrown away, take lid and latch off it.",
        ),
        hands=(1.5, 3.0),
        cautions=(
            cautions.LID, *sprung(job), cautions.CYLINDER, *in_the_air(job), cautions.WALLS,
        ),
        people=2,
        papers=("lists/taking-off.csv",),
        missing=() if seat is not None and seat.hold else ("seat.hold",),
    )  # fmt: skip


def _sentence(each: Away) -> str:
    """Write a step of taking off as sentences: what is done, with what, and why."""
    tool = f" ({each.tool})" if each.tool else ""
    said = (f"{each.does}{tool}", each.why)
    return " ".join(f"{part[0].upper()}{part[1:]}." for part in said if part)
