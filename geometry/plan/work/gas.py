"""The gas side: manifold, cylinders and regulators, and the test that it is tight."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from ....params.units import convert
from ...handbook.gases import (
    BLEND_CO2,
    CO2_DANGER,
    CO2_DENSITY,
    CO2_EIGHT_HOURS,
    CO2_SHORT,
    LEAST_OXYGEN,
    NITROGEN_DENSITY,
    density_at,
    gauge_after,
    oxygen_left,
    share_of_room,
)
from ..cylinders import Cylinder, cylinders
from ..shown import PRACTICE
from . import cautions
from .job import Job, listed
from .lid import tips
from .regulators import hoses, pressure_figures, said, several
from .settings import RATING, TEST_PSI, gas_tests, lacking, room_air
from .step import After, Step, after
from .surface import finish_cured

PHASE = "Gas"

TEST_MINUTES = 30.0
"""How long it is watched, minutes (common practice)."""

READING_PSI = 1.0
"""What a small gauge cannot tell, psi (common practice)."""

USUAL_ROOM = 20.0
"""Temperature of the room where nobody measured it, degC."""


def in_the_air(job: Job) -> tuple[str, ...]:
    """Return the cautions about the gases in the room; about each while nobody says which."""
    gases = {each.gas for each in cylinders(job.project)}
    found: list[str] = []
    if not gases or gases & {"CO2", "blended gas"}:
        found.append(cautions.ROOM)
    if not gases or gases & {"nitrogen", "blended gas"}:
        found.append(cautions.NITROGEN)
    return tuple(found)


def steps(job: Job) -> Iterator[Step]:
    """Yield the manifold if there is one, the gas and its test."""
    if job.layout.manifold:
        yield _manifold(job)
    yield _gas(job)
    yield _test(job)


def _manifold(job: Job) -> Step:
    manifold, asked = job.layout.manifold, job.project.manifold
    assert manifold is not None
    figures = [
        ("board", f"{manifold.side}, inner face"),
        ("middle, from the bottom edge up", job.length(manifold.v)),
        (
            "middle, from the board's left end seen from outside",
            job.length(manifold.u),
        ),
    ]
    figures.append(("board, thickness", job.both(job.layout.board(manifold.side).thickness)))
    where = "the foam's opening" if job.layout.panel(manifold.side) else "its place"
    return Step(
        id="manifold",
        phase=PHASE,
        title="Screw the manifold to its board",
        do=(
            f"Hold it in {where} and mark through its own holes.",
            "Drill the pilots with a stop on the bit: none may come out at the outer face.",
            "Take screws that end before the outer face: shorter than foot and board together.",
            "Screw it on with all its valves shut, handles free to turn.",
        ),
        hands=(0.3, 0.75),
        figures=tuple(figures),
        cautions=(cautions.PROP, *tips(job)),
        after=(*after("lid-on"), finish_cured(job)),
        papers=("drawings/manifold.pdf", "lists/materials.csv"),
        missing=() if asked is not None and asked.kind else ("manifold.kind",),
    )


def room_volume(job: Job) -> float | None:
    """Return the air of the room, m3; None until floor and ceiling were measured."""
    room = job.project.room
    if room is None or room.floor_area is None or room.ceiling is None:
        return None
    return room.floor_area * convert(room.ceiling, "mm", "m")


def in_the_room(job: Job, found: Sequence[Cylinder]) -> Iterator[tuple[str, str]]:
    """Yield what the room's air comes to if everything in the cylinders leaks into it."""
    volume = room_volume(job)
    if volume is None:
        return
    yield "air in the room", job.room(volume)
    warm, air = _room_air(job)
    carbon = sum(each.content or 0.0 for each in found if each.gas == "CO2")
    if carbon:
        share = share_of_room(carbon, density_at(CO2_DENSITY, warm, air), volume)
        yield (
            f"if all {job.mass(carbon)} of CO2 leak into it, closed",
            _ppm(share),
        )
    for gas in ("nitrogen", "blended gas"):
        mass = sum(each.content or 0.0 for each in found if each.gas == gas)
        if mass:
            share = share_of_room(mass, density_at(NITROGEN_DENSITY, warm, air), volume)
            said = _oxygen(oxygen_left(share))
            if gas == "blended gas":
                said += f"; up to {_ppm(share * BLEND_CO2)}"
            yield f"if all {job.mass(mass)} of {gas} leak into it, closed", said
    for name in dict.fromkeys(each.name for each in found if each.content is None):
        yield "not counted, as nobody knows how much is in it", name


def _room_air(job: Job) -> tuple[float, float]:
    """Return the room's temperature, degC, and its air's pressure, kPa; usual ones if not known."""
    room = job.project.room
    warm = room.temperature if room and room.temperature is not None else USUAL_ROOM
    return warm, room_air(job)


def _oxygen(left: float) -> str:
    """Write how much oxygen is left, rounded down, against what work asks for."""
    short = "below" if left < LEAST_OXYGEN else "above"
    percent = math.floor(left * 1000) / 10
    asked = f"{LEAST_OXYGEN * 100:.1f} % that work asks for"
    return f"{percent:.1f} % oxygen left, {short} the {asked}"


def _ppm(share: float) -> str:
    """Write a share of CO2 in the air to three digits, with the limit that it is beyond."""
    return f"{float(f'{share * 1e6:.3g}'):.0f} ppm of CO2, {_limit(share * 1e6)}"


def _limit(ppm: float) -> str:
    """Say which limit a concentration of CO2 is beyond."""
    if ppm >= CO2_DANGER:
        return f"above the {CO2_DANGER} ppm that NIOSH calls immediately dangerous"
    if ppm >= CO2_SHORT:
        return f"above NIOSH's short-term limit of {CO2_SHORT} ppm"
    if ppm >= CO2_EIGHT_HOURS:
        return f"above the limit of {CO2_EIGHT_HOURS} ppm over a shift (OSHA, NIOSH)"
    return f"below the limit of {CO2_EIGHT_HOURS} ppm over a shift (OSHA, NIOSH)"


def _gas(job: Job) -> Step:
    found = cylinders(job.project)
    unknown = not found
    figures = [
        (name, f"{count}, {gas} with a regulator for {gas}")
        for (name, gas), count in Counter((each.name, each.gas) for each in found).items()
    ]
    figures += [*pressure_figures(job), *in_the_room(job, found)]
    do = [
        "Stand each cylinder upright beside the freezer and chain it to something that does not"
        " move before its cap comes off, also one that is to go into the well: all is tested from"
        " there, the lid propped open, the hose over the edge. The hose of one that stays outside"
        " goes through its passage now.",
        "Look at valve and regulator: clean, dry, no oil, and made for this gas and each other.",
        "Put the washer that the regulator wants into its joint (CGA 320 has one, or a seal of its"
        " own; CGA 580 seals metal on metal and takes none) and tighten the nut with a wrench.",
        *said(job),
        f"Run the hoses: {hoses(job)}; a washer or a clamp at"
        " each joint, and a check valve for each keg, so that no drink runs back into the gas.",
        "Back the regulator's knob out until it is loose. Then open the cylinder slowly, standing"
        " aside.",
    ]
    room = job.project.room
    missing = ["vessel"] if unknown else []
    missing += [
        key
        for key, value in (
            ("room.floor_area", room and room.floor_area),
            ("room.ceiling", room and room.ceiling),
        )
        if value is None
    ]
    return Step(
        id="gas",
        phase=PHASE,
        title="Cylinder, regulator and hoses",
        do=tuple(do),
        hands=(0.75, 1.5),
        figures=tuple(figures),
        cautions=(
            cautions.CYLINDER, cautions.REGULATOR, cautions.RELIEF, cautions.HEAT,
            *in_the_air(job), cautions.PROP,
        ),
        after=after("faucets", "manifold"),
        papers=("drawings/manifold.pdf",) if job.layout.manifold else (),
        missing=tuple(missing),
        sources=(
            "limits of CO2: NIOSH IDLH documentation 124-38-9 (May 1994); oxygen: 29 CFR"
            " 1910.146(b); a leak mixed evenly into a closed room, the upper figure, at"
            " the room's temperature and height (20 degC, sea level where not known)",
            "upright and chained: 29 CFR 1926.350(a)(9)",
            "CGA numbers of the valves: public pages; pressures from memory",
        ),
    )  # fmt: skip


def _test(job: Job) -> Step:
    room = job.project.room
    warm = room.temperature if room and room.temperature is not None else None
    altitude = room.altitude if room and room.altitude is not None else None
    start, air = _room_air(job)
    height = "at sea level" if altitude is None else f"{job.height(altitude)} above the sea"
    tests = gas_tests(job)
    figures = [("counted with", f"{job.warmth(start)} at the start, {height}")]
    for psi, gases in tests.items():
        which = f"{listed(gases)}: " if len(tests) > 1 else ""
        figures += [(which + name, each) for name, each in _gauge(job, psi, start, air)]
    assumed = [] if warm is not None else ["room.temperature"]
    assumed += [] if altitude is not None else ["room.altitude"]
    return Step(
        id="gas-test",
        phase=PHASE,
        title="Test the gas side for leaks",
        do=(
            "Each gas by itself, no keg on it: a drink takes up gas and looks like a leak for days."
            " Leave disconnects and couplers shut.",
            RATING,
            "Set the regulator to the gauge at the start, the highest pressure that is printed for"
            " the drinks on its gas, or for any drink where theirs is not printed; wait until the"
            " gauge stands still, then shut the cylinder's valve.",
            *(
                (
                    "Set each secondary regulator as high, if it is made for that, so that what is"
                    " behind it is tested too; back its knob out afterward.",
                )
                if several(job)
                else ()
            ),
            "Write down gauge and temperature, and again after the wait. Compare with the figures"
            " here: gas that is colder shows less with no leak at all.",
            "If it is less: brush soapy water on every joint, look for bubbles, tighten or put in a"
            " new washer, rinse the soap off, and test again.",
            "Leave it overnight once more: small leaks need hours to show.",
            "Let the pressure off at the relief valve before you undo any joint.",
        ),
        hands=(0.5, 1.0),
        figures=tuple(figures),
        cautions=(cautions.RELIEF, cautions.CYLINDER, cautions.PROP),
        after=after("gas"),
        missing=lacking(job),
        assumed=tuple(assumed),
        sources=(
            "(P + p) T2 / T1 - p, ideal gas in a volume that stays;"
            f" {TEST_PSI:g} psi at least, {TEST_MINUTES:g} min and soapy water: {PRACTICE}",
            "air pressure by height: ISO 2533, constants from memory",
        ),
    )


def _gauge(job: Job, psi: float, start: float, air: float) -> Iterator[tuple[str, str]]:
    """Yield what the gauge shows without a leak, at first and later, by the room's warmth."""
    gauge, slack = convert(psi, "psi", "kPa"), convert(READING_PSI, "psi", "kPa")
    yield "gauge at the start", job.pressure(gauge, 1)
    for change in (0.0, -5.0, 5.0):
        then = gauge_after(gauge, start, start + change, air)
        way = "colder" if change < 0 else "warmer"
        said = f"{job.warmer(abs(change))} {way}" if change else "as warm as before"
        yield (
            f"after {TEST_MINUTES:g} min, {said}",
            f"{job.pressure(then, 1)}, no less than {job.pressure(then - slack, 1)}",
        )


OVERNIGHT = After("gas-test", (0.5, 12.0), "to see whether the gas side holds, overnight at best")
