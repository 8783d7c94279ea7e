"""The liquid side: lines, a test with water, cleaning, cold, and the first pour."""

from collections.abc import Iterator

from ....params import supplies
from ....params.units import convert
from ...shape.tray import screws as tray_screws
from ...shape.tray import side_of, under
from ...shape.vessel import Vessel
from ..cylinders import cylinders, gas_of
from ..shown import PRACTICE
from . import cautions
from .frame import cured
from .gas import OVERNIGHT, in_the_air
from .job import Job, called
from .lid import ONE_PERSON, tips
from .lining import foam_cured
from .lip import held
from .regulators import pressure_figures, several
from .settings import WATER_PSI, lacking, setting_figures, water_tests
from .step import After, Step, after
from .surface import finish_cured

PHASE = "Drinks, and cold"

COOL = (12.0, 24.0)
"""How long full vessels take to get cold, hours (common practice; two full kegs take a day)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield everything that has liquid in it, and the tray under it."""
    yield _lines(job)
    yield _water(job)
    yield _clean(job)
    yield _cold(job)
    yield _pour(job)
    if job.project.tray is not None:
        yield _tray(job)


def _lines(job: Job) -> Step:
    taps = job.layout.taps
    found = [(tap, *supplies.drink_line(job.project, tap.number, tap.name)) for tap in taps]
    figures = [
        (called(tap), row.name if row else f"line, {said}") for tap, row, said in found if said
    ]
    do = [
        "Put a washer into each tail nut and screw the tailpiece with its line on its shank.",
        "Coil it above its keg, with no sharp bend and nothing where the lid shuts.",
        "A washer at the other end's joint, too, where coupler or disconnect takes one.",
        "Leave lines long for now: how long each has to be for its drink is not worked out here.",
    ]
    if any(row is not None and supplies.push_fit(row) for _, row, _ in found):
        do.insert(0, "Push-fit line: cut it square and push it home into its fitting, no clamp.")
    if any(row is None or not supplies.push_fit(row) for _, row, _ in found):
        do.insert(
            0,
            "At the bench: push each line on its tailpiece, softened in hot water, and clamp it.",
        )
    return Step(
        id="lines",
        phase=PHASE,
        title="Run the drink lines",
        do=tuple(do),
        hands=(0.25 + 0.2 * len(taps), 0.5 + 0.4 * len(taps)),
        figures=tuple(figures),
        cautions=(cautions.FOOD, cautions.PROP),
        after=(*after("faucets"), OVERNIGHT),
        papers=("lists/assembly.csv", "lists/materials.csv"),
        missing=() if len(figures) == len(taps) else ("pour.line",),
    )


def _water(job: Job) -> Step:
    return Step(
        id="water-test",
        phase=PHASE,
        title="Test the lines with water",
        do=(
            "Fill a clean keg with water, couple it to each line in turn, and set the regulator to"
            " the pressure of that line: the highest that is printed for its drink, or for any one"
            " where its own is not printed, and never more than the least rating that you read for"
            " the test of the gas.",
            "Open the faucet until water runs without air, shut it, and wait half an hour.",
            "Go along the line with dry paper: tailpiece, nut, faucet, coupler. Any wet joint: let"
            " the pressure off, then a new washer, not more force.",
            f"Look at the flange outside, and at the {job.lined} inside, for a drop.",
        ),
        hands=(0.5 + 0.25 * len(job.layout.taps), 0.75 + 0.6 * len(job.layout.taps)),
        figures=tuple(water_tests(job)),
        cautions=(cautions.RELIEF, *_spear(job), cautions.PROP),
        after=after("lines", "gas-test"),
        missing=lacking(job),
        sources=(
            f"{WATER_PSI:g} psi at least, half an hour, dry paper: {PRACTICE}; more where the drink"
            " is served at more",
        ),
    )


def _spear(job: Job) -> tuple[str, ...]:
    """Return the caution about kegs that have a spear; it stands while nobody names any keg."""
    rows = [job.project.part("vessels", each.kind) for each in job.project.vessel]
    kinds = {row.text("kind") if row else "" for row in rows if not gas_of(row)} or {""}
    return (cautions.SPEAR,) if kinds & {"keg", ""} else ()


def _clean(job: Job) -> Step:
    return Step(
        id="clean",
        phase=PHASE,
        title="Clean lines and faucets",
        do=(
            "Mix the caustic cleaner by its label, the powder or concentrate into the water.",
            "Push it through each line until it comes out at the faucet. Let it work, then rinse.",
            "Uncouple the vessel and open each faucet until nothing more comes, so that no pressure"
            " is left. Then take the faucets apart once and brush them.",
            "Rinse with clean water until paper for pH shows the same as the tap water.",
            "Taste nothing before that.",
        ),
        hands=(0.75, 1.0 + 0.25 * len(job.layout.taps)),
        figures=(
            ("strength", "2 %, old lines 3 %"),
            (
                "temperature",
                " to ".join(job.warmth(convert(each, "degF", "degC")) for each in (80, 125)),
            ),
            ("time", "15 min pumped round, or 20 min standing"),
            ("again", "every 14 days; acid cleaner every 3 months, never on the same day"),
        ),
        cautions=(cautions.CAUSTIC, cautions.RATED, *_spear(job), cautions.PROP),
        after=after("water-test"),
        sources=(
            "strength, temperature, time and every 14 days: a trade manual of draught systems, as"
            " public pages repeat it; the label goes first",
        ),
    )


def _cold(job: Job) -> Step:
    drawn = bool(job.layout.inside.well and job.project.vessel)
    order = " in the order of the drawing" if drawn else ""
    do = [
        "Push the freezer to its place, its vents free.",
        f"Lower the vessels into the well{order}, full ones with two people.",
        *_cylinders(job),
        "Press the outlet's test button: it has to trip; set it again.",
        "Fix the probe where it belongs, and close the lid. If the freezer was tilted or moved, let"
        " it stand level for some hours.",
        "Plug the controller into the outlet, set set-point and delay, and only then put the"
        " freezer's plug into it.",
        "Watch until the controller switches off once by itself.",
    ]
    return Step(
        id="cold",
        phase=PHASE,
        title="Plug in and cool down",
        do=tuple(do),
        hands=(0.5, 1.0),
        cautions=(
            *_heavy(job), *((cautions.CYLINDER,) if _cylinders(job) else ()), cautions.OUTLET,
            *in_the_air(job), cautions.PROP, *tips(job), cautions.FROM_INSIDE,
        ),
        after=(
            *after("clean", "controller", "passages", "lid-on"),
            held(job), cured(job), finish_cured(job), *foam_cured(job),
        ),
        people=2,
        papers=("drawings/well.pdf",) if drawn else (),
        missing=() if job.project.vessel else ("vessel",),
        sources=(
            "one person lifts 23 kg (51 lb) at best: load constant of the revised NIOSH lifting"
            " equation, from memory",
        ),
    )  # fmt: skip


def _cylinders(job: Job) -> tuple[str, ...]:
    """Return how a cylinder goes into the well; nothing where only others are to stand in it."""
    if job.project.vessel and not cylinders(job.project):
        return ()
    return (
        "A cylinder that goes into the well: shut its valve, let the pressure off, take the"
        " regulator off and put the cap on before it is moved. Nothing is fixed to the freezer for"
        " it, and no eye in the collar is planned: strap it upright to at least two full vessels"
        " beside it, so that it cannot tip. Vessels get light and are changed: it comes out before"
        " fewer than two heavy ones stand beside it. If that cannot be done it stays outside,"
        " chained, its hose through a passage.",
        "Put its regulator back, with a new washer if it takes one, open the cylinder slowly, and"
        " brush soapy water on every joint that was undone.",
    )


def _heavy(job: Job) -> Iterator[str]:
    """Yield which full vessels are more than one person lifts, and which more than two."""
    masses = {
        f"{_name(job, each)}, {job.mass(each.full_mass)}": each.full_mass
        for each in job.layout.inside.vessels
        if each.full_mass is not None
    }
    hoist = [name for name, kg in masses.items() if kg > 2 * ONE_PERSON]
    two = [name for name, kg in masses.items() if ONE_PERSON < kg <= 2 * ONE_PERSON]
    if hoist:
        yield f"More than two people lift at best, a hoist: {'; '.join(hoist)}."
    if two:
        yield f"More than one person lifts at best, two people or a hoist: {'; '.join(two)}."


def _name(job: Job, vessel: Vessel) -> str:
    """Return what a vessel is called in the shop."""
    row = job.project.part("vessels", job.project.vessel[vessel.row].kind)
    return row.name if row else vessel.name


def _pour(job: Job) -> Step:
    figures = tuple(setting_figures(job))
    which = "each regulator"
    if several(job):
        which += ", the first one of a gas before the secondary ones behind it,"
        figures += tuple(pressure_figures(job))
    return Step(
        id="pour",
        phase=PHASE,
        title="First pour",
        do=(
            f"Set {which} for its drinks, low to begin with, and never above what was tested: where"
            " you looked up more, first test gas and line again as high as that, within all"
            " ratings. The pressure for one carbonation at one temperature and height above the sea"
            " is not worked out here.",
            "Open the faucet all the way in one pull, glass at a slant; half open it foams.",
            "Pour the first glass of each line away: it holds the last of the rinse.",
            "Listen at every joint: no hiss anywhere. Whenever nobody is about for days, shut the"
            " cylinders.",
        ),
        hands=(0.25, 0.5),
        figures=figures,
        cautions=(cautions.RELIEF, cautions.ALIVE, *in_the_air(job)),
        after=(After("cold", COOL, "for the drinks to get cold"), *after("tray")),
        missing=lacking(job),
        sources=(
            f"settings by kind of drink, 1 psi for 2000 ft: {PRACTICE}; not worked out for yours",
            "a blend's pressure by its part of CO2: Dalton's law",
        ),
    )


def _tray(job: Job) -> Step:
    tray, side = job.project.tray, side_of(job.project)
    assert tray is not None and side is not None
    board = job.layout.board(side)
    holes = tray_screws(job.project, board, under(board, job.layout.covers, job.project))
    return Step(
        id="tray",
        phase=PHASE,
        title="Hang the drip tray",
        do=(
            "Drive its screws into the pilots that are bored, into the collar's wood alone.",
            "Hang the tray, a glass on it under each spout.",
        ),
        hands=(0.2, 0.5),
        figures=(
            ("screws", f"{len(holes)}, pilots of {job.bit(tray.pilot)}"),
            ("from the bottom edge up", job.length(tray.height)),
        ),
        cautions=(cautions.WALLS,),
        after=after("faucets"),
        papers=(f"drawings/{board.name}.pdf",),
    )
